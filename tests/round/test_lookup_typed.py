"""Crops and readings as people type them into a lookup."""

import re

import pytest

from walkabout.growing.crops import load
from walkabout.growing.units import Scales
from walkabout.round.lookup import Lookup, ready
from walkabout.round.lookup_typed import crop_of, measure_of, read_value, reading_of, reading_said, unit_of


@pytest.mark.parametrize(
    ("typed", "crop"),
    [
        ("cucumber", "cucumber"),
        ("Arugula", "rocket"),
        ("raft lettuce", "raft-lettuce"),
        ("spider-plant", "spider-plant"),
        ("leafy", "leafy"),
        ("cucmber", "cucumber"),
    ],
)
def test_a_crop_by_any_name(typed: str, crop: str) -> None:
    """Key, name, everyday names and small slips."""
    assert crop_of(Lookup(load()), typed) == crop


@pytest.mark.parametrize(
    ("typed", "says"), [("xqqqqz", "Leave it out"), ("tomatillowood", "Did you mean"), (" ", "A crop")]
)
def test_an_unknown_crop_names_what_would_be_right(typed: str, says: str) -> None:
    """One sentence, with the nearest names."""
    with pytest.raises(ValueError, match=says) as error:
        crop_of(Lookup(load()), typed)
    assert "\n" not in str(error.value)


@pytest.mark.parametrize(
    ("typed", "measure", "value"),
    [
        ("ph=6.9", "ph", 6.9),
        ("pH = pH 6,9", "ph", 6.9),
        ("EC=1.8mS/cm", "ec", 1.8),
        ("ec=1800 µS/cm", "ec", 1.8),
        ("ec=900ppm500", "ec", 1.8),
        ("air=75F", "air", 23.89),
        ("rh=60%", "humidity", 60),
        ("solution temperature=22", "solution", 22),
        ("days since sowing=3 weeks", "sown", 21),
        ("month=11", "month", 11),
    ],
)
def test_readings_with_their_units(typed: str, measure: str, value: float) -> None:
    """Each ends up in the unit of its measure."""
    key, read = reading_of(typed)
    assert key == measure
    assert read == pytest.approx(value, abs=0.005)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("ph", "is written as NAME=NUMBER"),
        ("=6", "is written as NAME=NUMBER"),
        ("ph=", "is written as NAME=NUMBER"),
        ("phh=6", "Did you mean ph?"),
        ("luck=6", "There are: ph, ec"),
        ("ph=sour", "is no number"),
        ("ph=15", "pH is between 0 and 14; '15' cannot be."),
        ("air=300F", "air by day is between −15 °C and 55 °C"),
        ("air=5kg", "is not in °C"),
        ("ec=700ppm", "has its own scale"),
        ("ph=nan", "is no number"),
    ],
)
def test_what_is_no_reading_is_said_in_one_line(typed: str, says: str) -> None:
    """The nearest name, the unit, or the range that can be."""
    with pytest.raises(ValueError, match=re.escape(says)) as error:
        reading_of(typed)
    assert "\n" not in str(error.value)


def test_a_bare_number_is_in_the_rooms_unit() -> None:
    """In a US room 75 is °F and a meter that shows ppm is believed; a unit that is typed counts more."""
    us = Scales(us=True, ec="ppm 500")
    air, ec = measure_of("air"), measure_of("EC")
    assert read_value(air, "75", us) == pytest.approx(23.89)
    assert read_value(air, "24C", us) == 24
    assert read_value(ec, "900", us) == pytest.approx(1.8)
    assert (unit_of(air, us), unit_of(air), unit_of(measure_of("light"), us)) == ("°F", "°C", "mol/m²/d")
    assert reading_said(air, 25, us) == "air by day 77.0 °F"


def test_every_measure_is_said_with_its_unit() -> None:
    """No number stands alone but the month, which has none."""
    for measure in ready().known.measures.values():
        said = reading_said(measure, measure.usual[0].value)
        assert said.startswith("pH ") or not measure.unit or said.endswith((measure.unit, "day"))
