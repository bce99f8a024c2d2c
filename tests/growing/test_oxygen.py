"""Oxygen in water: physics that holds everywhere, and the steps of each source."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import oxygen
from walkabout.growing.limits import OutOfRange
from walkabout.growing.pressure import SEA_LEVEL, at_altitude, at_altitude_fao

WATER = st.floats(0, 40)
AIR = st.floats(50, 110)


@given(WATER, AIR)
@settings(max_examples=100)
def test_warmer_water_holds_less(temperature, air):
    """A degree more always means less oxygen."""
    cooler = max(0.0, temperature - 1)
    assert oxygen.saturation(temperature, air) <= oxygen.saturation(cooler, air) + 1e-9


@given(WATER, st.floats(50, 109))
@settings(max_examples=100)
def test_thicker_air_puts_more_in(temperature, air):
    """More pressure means more oxygen, and more than in proportion: the water's own vapour takes its part."""
    least, more = oxygen.saturation(temperature, air), oxygen.saturation(temperature, air + 1)
    assert more > least
    assert more / least > (air + 1) / air


@given(WATER)
@settings(max_examples=50)
def test_one_atmosphere_needs_no_correction(temperature):
    """At 101.325 kPa the correction for pressure is none."""
    assert oxygen.saturation(temperature, SEA_LEVEL) == pytest.approx(oxygen.at_one_atmosphere(temperature))


@given(WATER, AIR, st.floats(0, 15))
@settings(max_examples=100)
def test_percent_turns_back(temperature, air, reading):
    """A percentage of the saturation is the reading again."""
    share = oxygen.percent(reading, temperature, air)
    assert share * oxygen.saturation(temperature, air) / 100 == pytest.approx(reading, abs=1e-9)


@pytest.mark.parametrize(
    ("whose", "reading", "word"),
    [
        ("common practice", 6, "enough"),
        ("common practice", 5.9, "watch"),
        ("common practice", 5, "watch"),
        ("common practice", 4.9, "low"),
        ("common practice", 4, "low"),
        ("common practice", 3.9, "very low"),
        ("Cornell", 7, "enough"),
        ("Cornell", 6.9, "watch"),
        ("Cornell", 3.5, "low"),
        ("Cornell", 2.9, "very low"),
        ("Goto", 2.1, "enough"),
        ("Goto", 2.0, "not known"),
    ],
)
def test_the_sources_disagree(whose, reading, word):
    """The same reading is judged by the source that is asked; a step's end counts as the better word."""
    assert oxygen.verdict(reading, whose) == word


@pytest.mark.parametrize(
    ("call", "limit"),
    [
        (lambda: oxygen.saturation(41), "at most 40 °C"),
        (lambda: oxygen.saturation(-1), "at least 0 °C"),
        (lambda: oxygen.saturation(20, 20), "at least 50 kPa"),
        (lambda: oxygen.saturation(20, 1013), "at most 110 kPa"),
        (lambda: oxygen.percent(-1, 20), "at least 0 mg/L"),
        (lambda: oxygen.verdict(100), "at most 60 mg/L"),
        (lambda: oxygen.saturation(float("nan")), "no number"),
        (lambda: at_altitude(9000), "at most 5000 m"),
    ],
)
def test_out_of_range_names_the_limit(call, limit):
    """Outside its range a formula is refused, and the text names the limit."""
    with pytest.raises(OutOfRange, match=limit):
        call()


@given(st.floats(-430, 2000))
@settings(max_examples=50)
def test_the_two_pressures_stay_close(altitude):
    """The two published formulas part by less than 0.4 % up to 2000 m."""
    assert at_altitude_fao(altitude) == pytest.approx(at_altitude(altitude), rel=0.004)
