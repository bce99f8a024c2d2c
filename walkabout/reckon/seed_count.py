"""How many seeds to sow for an amount: from plants to places to seeds, with what does not come up."""

from msgspec import Struct

from walkabout.growing import emergence as sprouting
from walkabout.growing import harvest as of
from walkabout.growing.crops import Crop
from walkabout.reckon.amounts import plants_for, promised, rounded_up
from walkabout.reckon.model import Result
from walkabout.reckon.write import amount, number, plainly

YOUNG = ("emergence", "move_on")
"""The stages that are reached long before anybody weighs or eats anything."""

FEW = 60.0
"""Fewer sound seedlings than this in 100 are pointed out; assumed."""

MOST = 80.0
"""From this many sound seedlings in 100 on a temperature is called good for sowing; assumed."""

SMALL_ROOM = 0.1
"""m² under which the room is told in cm²."""

_GROWN_TO = {"emergence": "seedling", "move_on": "moving on", "harvest": "harvest", "seed": "ripe seed"}


class Choices(Struct, frozen=True, kw_only=True):
    """What was given beside the amount: losses and germination in %, seeds in a place, g of a plant and a portion."""

    losses: float | None = None
    germination: float | None = None
    seeds: float = 1
    grams: float | None = None
    portion: float | None = None


class Counted(Struct, frozen=True, kw_only=True):
    """The number of seeds, with its results, the lines of its working and its sources."""

    count: int
    results: dict[str, Result]
    lines: list[str]
    sources: list[str]


def sound_share(crop: Crop, air: float) -> float | None:
    """Return how many seeds in 100 surely give a sound seedling at `air` °C; None where that was not counted."""
    row = sprouting.load().find(crop.key)
    found = None if row is None else sprouting.normal(row, air)
    return None if found is None else found[0]


def share_says(crop: Crop, air: float) -> list[str]:
    """Return the sentence on seeds that hardly come up at `air` °C; none where most do, or nobody counted."""
    share = sound_share(crop, air)
    if share is None or share >= FEW:
        return []
    best, most = _better(crop, air)
    few = f"only {plainly(share)} in 100 seeds come up right" if share else "no seed comes up right"
    return [
        f"At {amount(air, '°C')} {few}: start the seed at about {amount(best, '°C')}, where {plainly(most)} in 100 do."
    ]


def _better(crop: Crop, air: float) -> tuple[float, float]:
    """Return the temperature nearest to `air` at which most of the seeds come up right, °C, and how many in 100."""
    row = sprouting.load().find(crop.key)
    assert row is not None
    enough = min(MOST, max(share for _, share in row.normal))
    return min((one for one in row.normal if one[1] >= enough), key=lambda one: abs(one[0] - air))


def seeds_for(crop: Crop, text: str, chosen: Choices, air: float | None, until: str) -> Counted:
    """Return what to sow for an amount as typed; `until` is the name of the stage, `air` in °C.

    Raises ValueError for an amount that is not clear or not known, and where no seed comes up.
    """
    promise = promised(text, crop)
    young = until in YOUNG
    if young and promise.kind != "plants":
        raise ValueError(f"seedlings are counted, not weighed: write the amount as a number, not '{text}'")
    needed = plants_for(promise, crop, chosen.grams, chosen.portion)
    lines = [] if young else list(needed.lines)
    sources = [] if young else list(needed.sources)
    germination = chosen.germination
    if germination is None and air is not None:
        germination = _from_table(crop, air, lines, sources)
    losses = _losses(chosen.losses, germination, until, lines)
    each = int(chosen.seeds)
    if each != chosen.seeds:
        raise ValueError("seeds= is the whole number of seeds in each place: 1, 2, 3")
    kept = plainly(1 - losses / 100)
    share, formula, numbers = 1.0, "(1 − losses)", kept
    if germination is not None:
        share = of.filled(germination / 100, each)
        fails = f"(1 − {plainly(germination / 100)})" + (f"^{each}" if each > 1 else "")
        lines.append(f"share of places with a seedling = 1 − {fails} = {plainly(share)}")
        formula, numbers = "(share × (1 − losses))", f"({plainly(share)} × {kept})"
    places = of.places(needed.plants, losses / 100, share)
    lines.append(f"places = plants ÷ {formula}")
    lines.append(f"= {needed.plants} ÷ {numbers} = {rounded_up(needed.plants / (share * (1 - losses / 100)), places)}")
    count = places * each
    if each > 1:
        lines.append(f"seeds = {places} places × {each}, thinned to one plant = {count}")
    results = {
        "count": Result(float(count), "", 0, "seeds to sow"),
        "places": Result(float(places), "", 0, "places (pots, plugs) to sow"),
        "plants": Result(float(needed.plants), "", 0, f"{'seedlings' if young else 'plants'} needed then"),
    }
    if not young:
        results["area"] = _room(crop, needed.plants, lines)
        if needed.grams is not None:
            results["mass"] = Result(needed.grams, "g", 0 if needed.grams >= 10 else 1, "what they may weigh")
    return Counted(count=count, results=results, lines=lines, sources=sources)


def _from_table(crop: Crop, air: float, lines: list[str], sources: list[str]) -> float | None:
    """Return the % of seeds that come up right at `air` °C after the emergence table, or None."""
    share = sound_share(crop, air)
    if share is None:
        return None
    if not share:
        refused = share_says(crop, air)[0].rstrip(".")
        raise ValueError(f"{refused[0].lower()}{refused[1:]}; then give germination=")
    lines.append(f"taken: {plainly(share)} in 100 seeds come up right at {amount(air, '°C')} (emergence table)")
    table = sprouting.load()
    sources += [table.days_source, table.normal_source]
    return share


def _losses(given: float | None, germination: float | None, until: str, lines: list[str]) -> float:
    if given is not None:
        return given
    if until == "emergence" and germination:
        lines.append("taken: losses = 0 %, as a seedling counts when it shows")
        return 0.0
    first = "seedling" if germination else "seed"
    lines.append(f"taken: losses = {plainly(of.LOSSES * 100)} % from {first} to {_GROWN_TO[until]} (assumed)")
    return of.LOSSES * 100


def _room(crop: Crop, plants: int, lines: list[str]) -> Result:
    """Return the room for so many plants at their last spacing."""
    square = plants * crop.spacing.value**2
    room, each = square / 10_000, f"{plants} plants × ({plainly(crop.spacing.value)} cm)²"
    if room < SMALL_ROOM:
        lines.append(f"room = {each} = {plainly(square)} cm² = {plainly(room)} m²")
        return Result(room, "m²", 4, "room for them at the end")
    lines.append(f"room = {each} ÷ 10000 = {number(room, 2)} m²")
    return Result(room, "m²", 2, "room for them at the end")
