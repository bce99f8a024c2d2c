"""Degree days: how the methods stand to each other, and where they refuse."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import degree_days as of
from walkabout.growing.limits import OutOfRange

WARM = st.floats(-30, 50)
BASE = st.floats(0, 20)


@st.composite
def days(draw: st.DrawFn) -> tuple[float, float]:
    """Draw a day: its highest and its lowest temperature."""
    low = draw(WARM)
    return min(low + draw(st.floats(0, 10)), 50.0), low


@given(days(), BASE)
@settings(max_examples=100)
def test_four_cases_lie_between_the_two_methods(day: tuple[float, float], base: float) -> None:
    """Method 1 never gives more than the four-case formula, and that never more than method 2; none is negative."""
    one, four, two = of.mean_method(*day, base), of.four_case(*day, base), of.raised_method(*day, base)
    assert 0 <= one <= four + 1e-9
    assert four <= two + 1e-9


@given(days(), st.floats(0, 20))
@settings(max_examples=60)
def test_methods_agree_unless_the_base_cuts_the_day(day: tuple[float, float], base: float) -> None:
    """With the whole day on one side of the base all three give the same."""
    high, low = day
    if low < base < high:
        base = low - 1
    one, four, two = of.mean_method(high, low, base), of.four_case(high, low, base), of.raised_method(high, low, base)
    assert one == pytest.approx(two, abs=1e-9)
    assert one == pytest.approx(four, abs=1e-9)


@given(days(), BASE, st.floats(0, 5))
@settings(max_examples=60)
def test_a_warmer_day_never_counts_less(day: tuple[float, float], base: float, more: float) -> None:
    """Without a ceiling that turns down, warmth never takes away."""
    high, low = day
    for way in (of.mean_method, of.raised_method, of.four_case):
        assert way(high + more, low, base) >= way(high, low, base) - 1e-9
    assert of.raised_method(high + more, low, base, base + 15) >= of.raised_method(high, low, base, base + 15) - 1e-9


@given(st.floats(-20, 60))
@settings(max_examples=60)
def test_turned_down_heat_falls_as_it_rose(high: float) -> None:
    """A highest temperature as far above the ceiling as another is below it counts the same, and never below 0."""
    mirrored = 2 * of.CUCUMBER_CEILING - high
    assert of.maximum_method(high) >= 0
    if of.COLDEST <= mirrored <= of.HOTTEST:
        assert of.maximum_method(high) == pytest.approx(of.maximum_method(mirrored), abs=1e-9)


@given(st.floats(1, 3000), st.floats(0, 15), st.floats(0.5, 20))
@settings(max_examples=60)
def test_days_and_heat_sum_go_round(need: float, base: float, above: float) -> None:
    """So many days at steady warmth add up to the sum they were worked out from."""
    air = base + above
    found = of.days_to_sum(need, air, base)
    assert found * of.mean_method(air, air, base) == pytest.approx(need)


def test_an_upper_limit_holds_the_mean_and_each_end() -> None:
    """Method 1 holds the mean to the limit, method 2 each temperature: 40 and 20 °C between 10 and 28 °C."""
    assert of.mean_method(40, 20, 10, 28) == 18
    assert of.raised_method(40, 20, 10, 28) == 14
    assert of.days_to_sum(180, 40, 10, 28) == 10


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: of.mean_method(10, 12, 5), "above the highest"),
        (lambda: of.raised_method(70, 12, 5), "at most 60 °C"),
        (lambda: of.four_case(10, -60, 5), "at least -50 °C"),
        (lambda: of.raised_method(20, 10, 15, 12), "must be above the base"),
        (lambda: of.maximum_method(float("nan")), "no number"),
        (lambda: of.days_to_sum(100, 4, 4), "warmer than the base"),
        (lambda: of.days_to_sum(-1, 20, 4), "at least 0"),
    ],
    ids=["upside-down", "hot", "cold", "limit-below-base", "nan", "not-warmer", "negative"],
)
def test_refusals_name_the_limit(call: object, says: str) -> None:
    """What cannot be counted is refused with a sentence that names what would be right."""
    with pytest.raises(ValueError, match=says):
        call()  # type: ignore[operator]


def test_out_of_range_is_a_value_error_of_its_own() -> None:
    """A temperature outside the range raises OutOfRange, which a face can tell from a mistake in the call."""
    with pytest.raises(OutOfRange):
        of.mean_method(100, 10, 5)
