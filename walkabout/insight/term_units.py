"""How the term writes amounts: in the room's units, days with their year where it is another, sums that are checked.

Everything is kept in litres, grams and kWh. In a room with US units people read gallons, ounces and pounds; what is
measured out with a syringe or a jug stays in mL, as in the rest of the program.
"""

from collections.abc import Iterable
from datetime import date

from walkabout.growing.units import G_PER_OUNCE, LITRES_PER_GALLON, Scales
from walkabout.reckon.write import number
from walkabout.room.model import Room

OUNCES = 16
"""In a pound: NIST Handbook 44, appendix C, from memory."""
SINGLE = {
    "pieces": "piece", "seeds": "seed", "sheets": "sheet", "bottles": "bottle", "tubes": "tube", "bags": "bag",
    "pots": "pot", "plugs": "plug",
}  # fmt: skip
"""What one of a unit is called; any other unit stays as it was typed."""


def scales_of(room: Room) -> Scales:
    """Return in what a room reads and writes."""
    return Scales(room.units == "US", room.meters.ec)


def weight(grams: float, scales: Scales) -> str:
    """Write a weight: '640 g', '3.12 kg'; in a US room '7.5 oz', '6.88 lb'."""
    if scales.us:
        ounces = grams / G_PER_OUNCE
        return f"{number(ounces / OUNCES, 2)} lb" if ounces >= OUNCES else f"{number(ounces, 1)} oz"
    return f"{number(grams / 1000, 2)} kg" if grams >= 1000 else f"{number(grams, 0)} g"


def volume(litres: float, scales: Scales) -> str:
    """Write water: '315 L', in a US room '83.2 US gal'."""
    return f"{number(litres / LITRES_PER_GALLON, 1)} US gal" if scales.us else f"{number(litres, 0)} L"


def in_gallons(litres: float, scales: Scales) -> str:
    """Return what a line of working in litres ends with in a US room: ' = 83.2 US gal', else ''."""
    return f" = {volume(litres, scales)}" if scales.us else ""


def in_ounces(grams: float, scales: Scales) -> str:
    """Return what a line of working in grams ends with in a US room: ' = 6.88 lb', else ''."""
    return f" = {weight(grams, scales)}" if scales.us else ""


def short_day(day: date | None, beside: date) -> str:
    """Write a day: '8 Dec', and '8 Dec 2027' where its year is not that of the day beside it; '' for none."""
    if day is None:
        return ""
    return f"{day.day} {day:%b}" + (f" {day.year}" if day.year != beside.year else "")


def unit_of(written: str, unit: str) -> str:
    """Return the unit that belongs to an amount as it is written: '1 piece', '2 pieces'."""
    return SINGLE.get(unit, unit) if written == "1" else unit


def rounded(parts: Iterable[float], total: float, decimals: int) -> str:
    """Return 'rounded' where parts as they are shown do not add up to the total as it is shown, else ''."""
    shown = sum(round(one, decimals) for one in parts)
    return "" if abs(shown - round(total, decimals)) < 0.5 * 10**-decimals else "rounded"
