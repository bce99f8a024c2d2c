"""The robust slope: the same figures as scipy's, not turned by a slip, and when a range is left at that pace."""

import math
import warnings

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import kendalltau, theilslopes

from walkabout.insight.slope import MOST, Slope, leaves, slope

VALUES = st.lists(st.integers(0, 40).map(lambda one: one / 10), min_size=3, max_size=45)


@settings(max_examples=80, deadline=None)
@given(VALUES, st.data())
def test_slope_interval_and_chance_are_those_of_scipy(values: list[float], data: st.DataObject) -> None:
    """With ties in the values and in the times, short and long: the slope, its interval and Kendall's p are alike."""
    steps = data.draw(st.lists(st.integers(0, 3), min_size=len(values), max_size=len(values)))
    times = [float(sum(steps[: place + 1])) for place in range(len(values))]
    found = slope(times, values)
    if times[0] == times[-1]:
        assert found is None
        return
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RuntimeWarning)  # nearly all tied: scipy gives no interval then
        known = theilslopes(values, times, 0.95)

    assert found is not None
    assert found.value == pytest.approx(known.slope, abs=1e-12)
    if not math.isnan(known.low_slope):
        assert (found.low, found.high) == pytest.approx((known.low_slope, known.high_slope), abs=1e-12)
    assert found.low <= found.value <= found.high
    if len(set(values)) > 1:
        assert found.p == pytest.approx(kendalltau(times, values).pvalue, abs=1e-9)


def test_one_slip_does_not_turn_it() -> None:
    """A decimal point that was left out among twenty readings changes the pace by less than a tenth."""
    values = [6.0 + 0.02 * day for day in range(20)]
    good = slope(range(20), values)
    values[11] = 62.0
    bad = slope(range(20), values)

    assert good is not None
    assert bad is not None
    assert bad.value == pytest.approx(good.value, rel=0.1)


def test_gaps_count_as_the_days_that_they_are() -> None:
    """Readings on school days alone have the pace of every day."""
    days = [day for day in range(30) if day % 7 < 5]
    found = slope(days, [0.1 * day for day in days])

    assert found is not None
    assert found.value == pytest.approx(0.1)


def test_the_pace_of_very_many_readings_is_that_of_the_last() -> None:
    """What crept long ago and stands still now has no pace."""
    still = [5.0] * MOST
    found = slope(range(2 * MOST), [day / 100 for day in range(MOST)] + still)

    assert found is not None
    assert found.value == 0


def test_when_a_range_is_left() -> None:
    """At 0.02 a day from 6.1 the upper end 6.5 is 20 days away, sooner and later at the ends of the interval."""
    found = leaves((5.5, 6.5), Slope(0.02, 0.016, 0.025, 40, 0.001, 6.1), 6.1)

    assert found is not None
    assert (found.end, found.limit) == ("high", 6.5)
    assert (found.after, found.earliest, found.latest) == pytest.approx((20, 16, 25))


def test_a_level_that_is_not_sure_widens_the_days() -> None:
    """What the level may be off by counts both ways, and never to before today."""
    found = leaves((5.5, 6.5), Slope(0.02, 0.016, 0.025, 40, 0.001, 6.1, 0.1), 6.1)
    near = leaves((5.5, 6.5), Slope(0.02, 0.016, 0.025, 40, 0.001, 6.45, 0.1), 6.45)

    assert found is not None
    assert (found.after, found.earliest, found.latest) == pytest.approx((20, 12, 31.25))
    assert near is not None
    assert near.earliest == 0


def test_a_falling_pace_leaves_at_the_low_end() -> None:
    """Days are counted forwards, the earliest before the latest."""
    found = leaves((5.5, 6.5), Slope(-0.05, -0.1, -0.025, -40, 0.001, 6.0), 6.0)

    assert found is not None
    assert found.end == "low"
    assert (found.earliest, found.after, found.latest) == pytest.approx((5, 10, 20))


@pytest.mark.parametrize(
    ("pace", "last"),
    [(Slope(0.02, -0.01, 0.05, 3, 0.4, 6.0), 6.0), (Slope(0.02, 0.01, 0.03, 30, 0.001, 6.8), 6.8)],
)
def test_no_day_is_given_where_none_can_be(pace: Slope, last: float) -> None:
    """A pace whose interval holds 0 leads nowhere sure, and what is outside has left already."""
    assert leaves((5.5, 6.5), pace, last) is None


def test_fewer_than_two_times_have_no_pace() -> None:
    """One reading, or two of the same moment."""
    assert slope([1.0], [2.0]) is None
    assert slope([1.0, 1.0], [2.0, 3.0]) is None
