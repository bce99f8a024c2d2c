"""Control charts: what they are made of, what is on the line, and what cannot be charted."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.insight.control import c_chart, cusum, ewma, individuals, p_chart

READINGS = st.lists(st.floats(-1e6, 1e6), min_size=2, max_size=40)


@settings(max_examples=60, deadline=None)
@given(READINGS, st.floats(-1e6, 1e6))
def test_a_chart_moves_with_its_readings(values: list[float], by: float) -> None:
    """Adding a number to every reading moves the limits by it and leaves the ranges as they are."""
    one, other = individuals(values), individuals([value + by for value in values])

    assert other.mean == pytest.approx(one.mean + by, abs=1e-5)
    assert other.moving_range == pytest.approx(one.moving_range, abs=1e-5)
    assert other.high - other.low == pytest.approx(one.high - one.low, abs=1e-4)


def test_a_reading_outside_is_named_by_its_number() -> None:
    """One wild reading among steady ones is outside, and so are the two ranges beside it."""
    found = individuals([5.0, 5.1, 5.0, 5.1] * 5 + [9.0] + [5.0, 5.1] * 5)

    assert found.out == (21,)
    assert found.ranges_out == (21, 22)


def test_exact_limits_widen_to_the_others() -> None:
    """The exact limits of the first value are those of λ × one reading; far on they are the asymptotic ones."""
    exact = ewma([0.0] * 60, 0.0, 1.0, 0.3, exact=True)
    ends = ewma([0.0] * 60, 0.0, 1.0, 0.3)

    assert exact.high[0] == pytest.approx(3 * 0.3)
    assert exact.high[-1] == pytest.approx(ends.high[-1])
    assert list(exact.high) == sorted(exact.high)
    assert (exact.exact, ends.exact) == (True, False)


def test_readings_that_never_change_give_no_signal() -> None:
    """Limits without any width hold readings without any scatter, whatever the last binary digit says."""
    values = [0.1] * 30

    assert individuals(values).out == ()
    assert ewma(values, 0.1, 0.0).signals == ()
    assert cusum(values, 0.1, 0.0, 0.0).signals == ()


def test_a_cusum_sees_a_small_lasting_shift_that_no_single_reading_shows() -> None:
    """Readings a sigma above the target are inside three sigmas each, and together above five after ten."""
    values = [0.0] * 10 + [1.0] * 15

    assert max(values) < 3
    assert cusum(values, 0.0, 0.5, 5.0).signals == tuple(range(21, 26))


def test_limits_of_shares_are_narrower_where_more_was_looked_at() -> None:
    """A share of three in ten is no surprise; the same share of a hundred is outside."""
    found = p_chart([1, 1, 1, 3, 10, 10, 10, 30], [10, 10, 10, 10, 100, 100, 100, 100])

    assert found.mean == pytest.approx(66 / 440)
    assert found.high[3] > 0.3 > found.high[7]
    assert found.out == (8,)
    assert min(found.low) == 0.0


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: individuals([1.0]), "at least two"),
        (lambda: ewma([1.0], 0, 1, 0), "λ"),
        (lambda: ewma([1.0], 0, -1), "standard deviation"),
        (lambda: cusum([1.0], 0, -1, 1), "not below 0"),
        (lambda: p_chart([3], [2]), "Reading 1: 3 out of 2"),
        (lambda: p_chart([1, 2], [2]), "Every count"),
        (lambda: c_chart([-1]), "not below 0"),
        (lambda: c_chart([]), "there must be one"),
    ],
)
def test_what_cannot_be_charted_is_one_sentence(call: object, says: str) -> None:
    """Each refusal names what is wrong."""
    with pytest.raises(ValueError, match=says):
        call()  # type: ignore[operator]
