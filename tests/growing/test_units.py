"""Units: what is stored, what is shown, and the way back."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from walkabout.growing.units import (
    UNITS,
    shown,
    shown_difference,
    stored,
    stored_difference,
    words,
    words_difference,
)

numbers = st.floats(min_value=-1e6, max_value=1e6, allow_nan=False)


@given(value=numbers, unit=st.sampled_from(UNITS), us=st.booleans())
def test_what_is_shown_and_typed_back_is_what_was_stored(value, unit, us):
    """A value survives being shown and stored again, in every unit and both systems."""
    number, _ = shown(value, unit, us)
    assert math.isclose(stored(number, unit, us), value, rel_tol=1e-9, abs_tol=1e-9)


@given(value=numbers, unit=st.sampled_from(UNITS), us=st.booleans())
def test_a_difference_survives_too(value, unit, us):
    """A difference survives being shown and stored again."""
    number, _ = shown_difference(value, unit, us)
    assert math.isclose(stored_difference(number, unit, us), value, rel_tol=1e-9, abs_tol=1e-9)


@given(first=numbers, second=numbers, unit=st.sampled_from(UNITS), us=st.booleans())
def test_the_difference_shown_is_the_difference_of_what_is_shown(first, second, unit, us):
    """Two values shown differ by their difference shown: the offset of °F never slips in."""
    gap = shown(first, unit, us)[0] - shown(second, unit, us)[0]
    assert math.isclose(shown_difference(first - second, unit, us)[0], gap, rel_tol=1e-9, abs_tol=1e-6)


@given(value=numbers, unit=st.sampled_from(UNITS))
def test_a_metric_room_sees_what_is_stored(value, unit):
    """Nothing changes in a metric room."""
    assert shown(value, unit, us=False) == (value, unit)
    assert stored(value, unit, us=False) == value


@pytest.mark.parametrize(
    ("value", "unit", "expected", "name"),
    [
        (0, "°C", 32, "°F"),
        (100, "°C", 212, "°F"),
        (-40, "°C", -40, "°F"),
        (2.54, "cm", 1, "in"),
        (3.785411784, "L", 1, "US gal"),
        (3785.411784, "mL", 128, "US fl oz"),
        (7.570823568, "L/min", 2, "US gal/min"),
        (28.349523125, "g", 1, "oz"),
        (1.4, "mS/cm", 1.4, "mS/cm"),
        (6.1, "pH", 6.1, "pH"),
        (14, "days", 14, "days"),
    ],
)
def test_known_points(value, unit, expected, name):
    """The exact factors and the fixed points of both temperature scales."""
    number, shown_name = shown(value, unit, us=True)
    assert number == pytest.approx(expected, rel=1e-12)
    assert shown_name == name


@pytest.mark.parametrize(
    ("value", "unit", "us", "decimals", "expected"),
    [
        (21.5, "°C", False, 1, "21.5 °C"),
        (21.5, "°C", True, 1, "70.7 °F"),
        (1.4, "mS/cm", False, 1, "1.4 mS/cm"),
        (6.1, "pH", False, 1, "pH 6.1"),
        (55, "%", True, 0, "55 %"),
        (1, "days", False, 0, "1 day"),
        (2, "days", False, 0, "2 days"),
        (3, "", False, 0, "3"),
        (-0.04, "°C", False, 1, "0.0 °C"),
        (60, "L", True, 1, "15.9 US gal"),
    ],
)
def test_words(value, unit, us, decimals, expected):
    """A value reads as one says it, never without its unit."""
    assert words(value, unit, us, decimals) == expected


@pytest.mark.parametrize(
    ("value", "unit", "us", "expected"),
    [(1, "°C", True, "1.8 °F"), (1, "°C", False, "1.0 °C"), (0.3, "pH", False, "0.3 pH")],
)
def test_words_of_a_difference(value, unit, us, expected):
    """A margin of 1 °C is 1.8 °F, and a change of pH is not itself a pH."""
    assert words_difference(value, unit, us, 1) == expected


@pytest.mark.parametrize("work", [shown, stored, shown_difference, stored_difference])
@pytest.mark.parametrize("us", [True, False])
def test_bad_input_is_refused_in_one_line(work, us):
    """An unknown unit or something that is no number raises one clear line."""
    with pytest.raises(ValueError, match="'furlong' is no unit"):
        work(1, "furlong", us)
    with pytest.raises(ValueError, match="not a number"):
        work(math.nan, "°C", us)


def test_every_unit_of_the_checklists_is_known():
    """What a checklist may ask in can be shown."""
    from typing import get_args

    from walkabout.checklist.model import Unit

    assert set(get_args(Unit)) <= set(UNITS)
