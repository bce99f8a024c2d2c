"""Units: what is stored, what is shown, and the way back."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from walkabout.growing.units import (
    EC_SCALES,
    METRIC,
    UNITS,
    US,
    Scales,
    shown,
    shown_difference,
    stored,
    stored_difference,
    words,
    words_difference,
)

ALL = (METRIC, US, *(Scales(ec=scale) for scale in EC_SCALES))
numbers = st.floats(min_value=-1e6, max_value=1e6, allow_nan=False)


@given(value=numbers, unit=st.sampled_from(UNITS), scales=st.sampled_from(ALL))
def test_what_is_shown_and_typed_back_is_what_was_stored(value, unit, scales):
    """A value survives being shown and stored again, in every unit and both systems."""
    number, _ = shown(value, unit, scales)
    assert math.isclose(stored(number, unit, scales), value, rel_tol=1e-9, abs_tol=1e-9)


@given(value=numbers, unit=st.sampled_from(UNITS), scales=st.sampled_from(ALL))
def test_a_difference_survives_too(value, unit, scales):
    """A difference survives being shown and stored again."""
    number, _ = shown_difference(value, unit, scales)
    assert math.isclose(stored_difference(number, unit, scales), value, rel_tol=1e-9, abs_tol=1e-9)


@given(first=numbers, second=numbers, unit=st.sampled_from(UNITS), scales=st.sampled_from(ALL))
def test_the_difference_shown_is_the_difference_of_what_is_shown(first, second, unit, scales):
    """Two values shown differ by their difference shown: the offset of °F never slips in."""
    gap = shown(first, unit, scales)[0] - shown(second, unit, scales)[0]
    assert math.isclose(shown_difference(first - second, unit, scales)[0], gap, rel_tol=1e-9, abs_tol=1e-6)


@given(value=numbers, unit=st.sampled_from(UNITS))
def test_a_metric_room_sees_what_is_stored(value, unit):
    """Nothing changes in a metric room."""
    assert shown(value, unit, scales=METRIC) == (value, unit)
    assert stored(value, unit, scales=METRIC) == value


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
        (1 / 0.3048**2, "lx", 1, "fc"),
    ],
)
def test_known_points(value, unit, expected, name):
    """The exact factors and the fixed points of both temperature scales."""
    number, shown_name = shown(value, unit, scales=US)
    assert number == pytest.approx(expected, rel=1e-12)
    assert shown_name == name


@pytest.mark.parametrize(
    ("value", "unit", "scales", "decimals", "expected"),
    [
        (21.5, "°C", METRIC, 1, "21.5 °C"),
        (21.5, "°C", US, 1, "70.7 °F"),
        (1.4, "mS/cm", METRIC, 1, "1.4 mS/cm"),
        (6.1, "pH", METRIC, 1, "pH 6.1"),
        (55, "%", US, 0, "55 %"),
        (1, "days", METRIC, 0, "1 day"),
        (2, "days", METRIC, 0, "2 days"),
        (3, "", METRIC, 0, "3"),
        (-0.04, "°C", METRIC, 1, "0.0 °C"),
        (60, "L", US, 1, "15.9 US gal"),
        (10763.91, "lx", US, 0, "1000 fc"),
        (1.24, "mS/cm", Scales(ec="ppm 500"), 2, "620 ppm (500)"),
        (1.24, "mS/cm", Scales(ec="ppm 700"), 2, "868 ppm (700)"),
        (1.24, "mS/cm", Scales(us=True, ec="µS/cm"), 2, "1240 µS/cm"),
        (1.24, "mS/cm", Scales(ec="CF"), 2, "12.4 CF"),
    ],
)
def test_words(value, unit, scales, decimals, expected):
    """A value reads as one says it, never without its unit."""
    assert words(value, unit, scales, decimals) == expected


@pytest.mark.parametrize(
    ("value", "unit", "scales", "expected"),
    [(1, "°C", US, "1.8 °F"), (1, "°C", METRIC, "1.0 °C"), (0.3, "pH", METRIC, "0.3 pH")],
)
def test_words_of_a_difference(value, unit, scales, expected):
    """A margin of 1 °C is 1.8 °F, and a change of pH is not itself a pH."""
    assert words_difference(value, unit, scales, 1) == expected


@pytest.mark.parametrize("work", [shown, stored, shown_difference, stored_difference])
@pytest.mark.parametrize("scales", ALL)
def test_bad_input_is_refused_in_one_line(work, scales):
    """An unknown unit or something that is no number raises one clear line."""
    with pytest.raises(ValueError, match="'furlong' is no unit"):
        work(1, "furlong", scales)
    with pytest.raises(ValueError, match="not a number"):
        work(math.nan, "°C", scales)


def test_every_unit_of_the_checklists_is_known():
    """What a checklist may ask in can be shown."""
    from typing import get_args

    from walkabout.checklist.model import Unit

    assert set(get_args(Unit)) <= set(UNITS)
