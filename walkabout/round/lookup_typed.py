"""What people type into a lookup besides signs: the crop, and readings with their units. Every face reads them here.

Every mistake is a ValueError with one clear sentence that says what would be right.
"""

from calendar import month_name
from collections.abc import Mapping
from difflib import get_close_matches

from walkabout.diagnosis.model import Measure
from walkabout.growing.units import METRIC, UNITS, Scales, shown, stored
from walkabout.growing.units import words as with_unit
from walkabout.reckon.units import named, number
from walkabout.reckon.write import plainly, quoted
from walkabout.round.lookup import Lookup, ready

ALSO: Mapping[str, str] = {
    "rh": "humidity",
    "relative humidity": "humidity",
    "temperature": "air",
    "temp": "air",
    "air temperature": "air",
    "lowest": "night",
    "water": "solution",
    "water temperature": "solution",
    "do": "oxygen",
    "o2": "oxygen",
    "dli": "light",
    "age": "sown",
}
"""What a measure is called besides its key and its name."""


def crop_of(lookup: Lookup, text: str) -> str:
    """Return the knowledge's crop for any name that people use; ValueError names the nearest ones."""
    known = lookup.ready.known.crops
    if not text.strip():
        raise ValueError("A crop has a name, such as lettuce.")
    folded = _folded(text)
    exact = next((key for key, one in known.items() if folded in map(_folded, (key, one.name, *one.words))), "")
    if found := exact or lookup.find_crop(text):
        return found
    names = {_folded(name): one.name for one in known.values() for name in (one.key, one.name, *one.words)}
    near = list(dict.fromkeys(names[one] for one in get_close_matches(folded, names, n=6, cutoff=0.5)))[:3]
    hint = f"Did you mean {_or(near)}?" if near else "Leave it out where it is not known."
    raise ValueError(f"No crop is called {quoted(text)}. {hint}")


def reading_of(text: str, scales: Scales = METRIC) -> tuple[str, float]:
    """Read 'ph=6.9', 'EC=1.8mS/cm' or 'air=75F': the measure, and the value in its unit.

    A bare number is in the unit that `scales` shows. ValueError for an unknown measure, for what is no number of
    its unit, and for what no instrument can show.
    """
    name, equals, typed = text.partition("=")
    if not equals or not name.strip() or not typed.strip():
        raise ValueError(f"A reading is written as NAME=NUMBER, such as ph=6.9, not {quoted(text)}.")
    measure = measure_of(name)
    return measure.key, read_value(measure, typed, scales)


def measure_of(name: str) -> Measure:
    """Return the measure of this name; ValueError names the nearest one."""
    measures = ready().known.measures
    names = {**{_folded(one): key for one, key in ALSO.items() if key in measures}}
    names |= {_folded(text): key for key, one in measures.items() for text in (one.name, key)}
    folded = _folded(name)
    if folded not in names:
        near = get_close_matches(folded, names, n=1, cutoff=0.6)
        hint = f"Did you mean {near[0]}?" if near else f"There are: {', '.join(measures)}."
        raise ValueError(f"No reading is called {quoted(name.strip())}. {hint}")
    return measures[names[folded]]


def read_value(measure: Measure, typed: str, scales: Scales = METRIC) -> float:
    """Read a number with or without its unit, as the measure has it; ValueError where it cannot be."""
    unit = "pH" if measure.key == "ph" else measure.unit
    try:
        value = number(typed, unit)
    except ValueError as error:
        raise ValueError(f"{measure.name}: {error}.") from None
    if unit in UNITS and not named(typed):
        value = stored(value, unit, scales)
    value = round(value, 2)  # no instrument of such a room shows more
    low, high = measure.possible
    if not low <= value <= high:
        ends = " and ".join(reading_words(measure, end, scales).removeprefix("pH ") for end in (low, high))
        raise ValueError(f"{measure.name} is between {ends}; {quoted(typed.strip())} cannot be.")
    return value


def reading_words(measure: Measure, value: float, scales: Scales = METRIC) -> str:
    """Write a value of a measure with its unit, as the room shows it: 'pH 6.9', '75.2 °F', '12 days'."""
    if measure.key == "ph":
        return f"pH {plainly(round(value, 2))}"
    if measure.unit in UNITS and shown(value, measure.unit, scales)[1] != measure.unit:
        return with_unit(value, measure.unit, scales, 1)
    unit = "day" if measure.unit == "days" and value == 1 else measure.unit
    return f"{plainly(round(value, 1 if unit == '°C' else 2))} {unit}".strip()


def reading_said(measure: Measure, value: float, scales: Scales = METRIC) -> str:
    """Say a reading with its name: 'pH 6.9', 'air by day 24 °C', 'November'."""
    if measure.key == "month":
        return month_name[round(value)]
    said = reading_words(measure, value, scales)
    return said if measure.key == "ph" else f"{measure.name} {said}"


def unit_of(measure: Measure, scales: Scales = METRIC) -> str:
    """Return the unit in which a bare number is taken; '' where there is none."""
    return shown(0, measure.unit, scales)[1] if measure.unit in UNITS else measure.unit


def _or(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


def _folded(text: str) -> str:
    return " ".join(text.casefold().replace("-", " ").replace("_", " ").split())
