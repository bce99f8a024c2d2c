"""When a solution is changed, and how strong a cleaning bath is."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing.limits import OutOfRange
from walkabout.growing.upkeep import bleach, change_due, chlorine

litres = st.floats(min_value=0, max_value=200)


@settings(max_examples=80)
@given(
    volume=st.floats(min_value=1, max_value=500),
    topped=st.lists(litres, max_size=6),
    days=st.floats(min_value=0, max_value=40),
    more=litres,
)
def test_it_never_becomes_less_due(volume, topped, days, more):
    """More days or more top-up never make a change less due, and what is left is never below nothing."""
    first = change_due(volume, topped, days)
    later = change_due(volume, [*topped, more], days + 1)
    assert set(first.reasons) <= set(later.reasons)
    assert first.due == bool(first.reasons)
    assert first.litres_left >= 0
    assert first.days_left >= 0
    assert ("top-ups" in first.reasons) == (first.litres_left == 0)


@settings(max_examples=60)
@given(
    percent=st.floats(min_value=0.5, max_value=15),
    to=st.floats(min_value=10, max_value=1000),
    volume=st.floats(min_value=0.5, max_value=500),
)
def test_bleach_turns_round(percent, to, volume):
    """The bleach for so many mg/L gives just those."""
    assert chlorine(percent, bleach(percent, to, volume), volume) == pytest.approx(to)


@pytest.mark.parametrize(
    ("named", "due"),
    [
        ({"sodium": 60.0}, ("sodium",)),
        ({"sodium": 59.0}, ()),
        ({"share": 0.5}, ("top-ups",)),
        ({"limit": 7}, ("days",)),
        ({"limit": 7, "share": 0.5, "sodium": 80.0}, ("top-ups", "days", "sodium")),
    ],
)
def test_each_limit_counts(named, due):
    """Half a tank, a week, or sodium make it due as the caller wishes; at a limit it is due."""
    assert change_due(60, [30], 9, **named).reasons == due


def test_tenths_add_up():
    """0.1 and 0.2 litres of top-up reach a tank of 0.3 L."""
    assert change_due(0.3, [0.1, 0.2], 1).due


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: change_due(0, [1], 1), "the volume is 0 L"),
        (lambda: change_due(60, [-1], 1), "a top-up is -1 L"),
        (lambda: change_due(60, [1], -1), "the days since the last change"),
        (lambda: change_due(60, [1], 1, 0), "the days allowed"),
        (lambda: change_due(60, [1], 1, sodium=-2), "the sodium is -2"),
        (lambda: chlorine(0, 1, 1), "the strength of the bleach is 0 %"),
        (lambda: chlorine(25, 1, 1), "at most 20 %"),
        (lambda: bleach(5, 200, 0), "the water is 0 L"),
    ],
)
def test_what_cannot_be_is_refused(call, says):
    """Values that cannot be are refused with the limit."""
    with pytest.raises(OutOfRange, match=says):
        call()
