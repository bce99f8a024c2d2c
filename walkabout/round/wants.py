"""What everything that grows at a place wants of a quantity, together."""

from collections.abc import Iterable, Sequence

from msgspec import Struct

from walkabout.checklist.model import Reading
from walkabout.growing.bands import Shared, wanted
from walkabout.growing.crops import Figure
from walkabout.growing.units import Scales, words
from walkabout.round.here import Here

IN_SOLUTION = ("pH", "EC", "solution temperature", "oxygen")
"""What a shared tank makes the same for every station on it."""


class Wanted(Struct, frozen=True):
    """The good range in the stored unit, both ends inside, and whose it is."""

    low: float
    high: float
    says: str
    """'what basil and lettuce want (Cornell lettuce)', or the conflict in plain words."""


def wanted_at(here: Here, neighbours: Sequence[Here], reading: Reading, *, scales: Scales) -> Wanted | None:
    """Return what the crops here want of this reading; None when no crop says, or the room has them all.

    `neighbours` are the stations on the same tank: they count for what the solution carries.
    """
    if not reading.of_crops:
        return None
    crops = list(here.crops)
    if reading.quantity in IN_SOLUTION:
        crops += [crop for other in neighbours if other.key in here.sharing for crop in other.crops]
    if reading.quantity == "lowest air temperature":
        return _from_limits([(crop.name, crop.chill) for crop in crops], reading, scales=scales, coldest=True)
    if reading.quantity == "highest air temperature":
        return _from_limits([(crop.name, crop.heat) for crop in crops], reading, scales=scales, coldest=False)
    if reading.quantity == "illuminance":
        return _light(here)
    if here.station is None:
        return None  # a room of cacti and ferns has no one air that suits all: the usual range counts
    found = wanted({crop.key: crop for crop in crops}.values(), reading.quantity)
    return _from_shared(found, reading, scales=scales) if found is not None else None


def _from_shared(found: Shared, reading: Reading, *, scales: Scales) -> Wanted:
    if found.range is not None:
        names = tuple(dict.fromkeys((*found.least.names, *found.most.names)))
        sources = tuple(dict.fromkeys((*found.least.sources, *found.most.sources)))
        low, high = _breadth(*found.range) if reading.quantity == "pH" else found.range
        says = f"what {_listed(names)} want{'s' if len(names) == 1 else ''} ({'; '.join(sources)})"
        return Wanted(low, high, says)
    # nothing suits all: between the two is the least harm, and the verdict says so
    low, high = found.most.value, found.least.value
    low, high = _breadth(low, high) if reading.quantity == "pH" else (low, high)
    return Wanted(low, high, f"but {found.says(reading.unit, scales=scales).rstrip('.')}")


def _light(here: Here) -> Wanted | None:
    """Daily light that suits the crops here, as lux under the one kind of lamp that lights them."""
    from walkabout.round.light import light_wanted  # noqa: PLC0415 - few rounds ask for lux

    found = light_wanted(here.crops)
    if here.lit is None or found is None:
        return None
    low, high = sorted((found.least.value, found.most.value))
    names = tuple(dict.fromkeys((*found.least.names, *found.most.names)))
    sources = tuple(dict.fromkeys((*found.least.sources, *found.most.sources)))
    span = f"{low:g} to {high:g} mol/m²/d in {here.lit.hours:g} h under {here.lit.kind.says}"
    whose = f"what {_listed(names)} want{'s' if len(names) == 1 else ''} ({'; '.join(sources)})"
    unsure = "; nothing suits all, this is between" if found.conflict else ""
    says = f"{span}, {whose}, by {here.lit.kind.lux:.0f} lx for each µmol/m²/s ({here.lit.kind.source}){unsure}"
    return Wanted(_round(here.lit.lux_for(low)), _round(here.lit.lux_for(high)), says)


def _round(lux: float) -> float:
    """No lux meter in a school is right to more than two figures and a half."""
    return round(lux, -2) if lux >= 2000 else round(lux, -1)


def _breadth(low: float, high: float) -> tuple[float, float]:
    """Some tables give pH as one number; no meter in a school can hold anybody to that.

    Such a band is widened to 0.2 on either side (a checked pen is right to about 0.1; common practice).
    """
    return (low - 0.2, high + 0.2) if high - low < 0.2 else (low, high)


def _from_limits(
    limits: Iterable[tuple[str, Figure | None]], reading: Reading, *, scales: Scales, coldest: bool
) -> Wanted | None:
    """The most tender crop sets the limit of the whole room."""
    known = [(figure.value, name, figure.source) for name, figure in limits if figure is not None]
    if not known:
        return None
    value, name, source = max(known) if coldest else min(known)
    limit = words(value, reading.unit, scales, 0)
    low, high = (value, reading.possible[1]) if coldest else (reading.possible[0], value)
    return Wanted(low, high, f"the limit of the most tender plant here, {name} at {limit} ({source})")


def _listed(names: Sequence[str]) -> str:
    *others, last = names
    return f"{', '.join(others)} and {last}" if others else last
