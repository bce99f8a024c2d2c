"""What this room has seen of its crops: how fast they are ready here, how many survive, what a plant gives.

Few plantings say little: what was seen is drawn towards the tables with weight n ÷ (n + 2) (assumed).
"""

from collections.abc import Iterable
from math import exp, log, sqrt

from walkabout.almanac.model import Basis, StageName
from walkabout.almanac.pace import LOST_SPREAD, Learned
from walkabout.almanac.reached import first_harvest
from walkabout.almanac.way import Paces, stays
from walkabout.growing import harvest
from walkabout.growing.crops import Crop
from walkabout.records.model import Planting
from walkabout.records.sums import HARVESTED, picked_whole, started, stood, thinned_out

DRAWN = 2.0
"""The tables weigh as much as so many plantings. Assumed."""

FARTHEST = 3.0
"""A planting that took more than so many times the days reckoned, or fewer than one in so many, is a slip of the
pen. Assumed."""


def learned(basis: Basis) -> dict[str, Learned]:
    """Return what this room has seen of each crop, by the crop's key; a crop of which nothing was seen is missing."""
    by_crop: dict[str, list[list[Planting]]] = {}
    for family in _families(basis.plantings):
        crop = basis.crop(family[0])
        if crop is not None and not any(one.brought_in for one in family):
            by_crop.setdefault(crop.key, []).append(family)
    paces = Paces(basis.conditions, {})
    found = {key: _of_crop(basis.crops.of[key], families, paces) for key, families in by_crop.items()}
    return {key: one for key, one in found.items() if one is not None}


def _families(plantings: Iterable[Planting]) -> list[list[Planting]]:
    """Return the plantings with their parts: what was sown together is seen once."""
    by_key = {one.key: one for one in plantings}
    found: dict[str, list[Planting]] = {}
    for one in by_key.values():
        root, passed = one.key, {one.key}
        while (above := by_key[root].parted_from) in by_key and above not in passed:
            root = above
            passed.add(above)
        found.setdefault(root, []).append(one)
    return list(found.values())


def _of_crop(crop: Crop, families: list[list[Planting]], paces: Paces) -> Learned | None:
    ratios = [one for one in (_ratio(crop, family, paces) for family in families) if one is not None]
    kept = [one for one in map(_kept, families) if one is not None]
    grams = [one for one in map(_grams, families) if one is not None]
    if not ratios and not kept and not grams:
        return None
    factor, spread = _drawn_factor(ratios)
    survival, lost_spread = _drawn_survival(kept)
    weighed = _drawn_grams(crop, grams)
    return Learned(factor, spread, len(ratios), survival, lost_spread, weighed, len(grams), len(kept))


def _ratio(crop: Crop, family: list[Planting], paces: Paces) -> tuple[float, float] | None:
    """Return the logarithm of the usual days taken over the table's, and how much it says."""
    stage: StageName = "harvest" if crop.eaten else "seed"
    table = paces.table(crop, stage)
    seen = [(one, *first) for one in family if (first := first_harvest(one)) is not None]
    if table is None or not seen:
        return None
    planting, day, weight = min(seen, key=lambda one: (one[1], -one[2]))
    age = float((day - planting.sown).days)
    spent = [stay for stay in stays(planting) if stay.since < age]
    ends = [*(stay.since for stay in spent[1:]), age]
    taken = sum(
        (end - stay.since) / paces.speed(crop, stay.station, stage).factor
        for stay, end in zip(spent, ends, strict=True)
    )
    if not 1 / FARTHEST < taken / table.median < FARTHEST:
        return None
    return log(taken / table.median), weight


def _drawn_factor(ratios: list[tuple[float, float]]) -> tuple[float, float]:
    """Return the room's factor drawn towards 1, and how unsure it is.

    Unsure by the scatter of what was seen, and by whether to believe it or the table: the spread of a mixture of
    the two, with the same weights.
    """
    n = sum(weight for _, weight in ratios)
    if not n:
        return 1.0, 0.0
    mean = sum(one * weight for one, weight in ratios) / n
    share = n / (n + DRAWN)
    scatter = sum(weight * (one - mean) ** 2 for one, weight in ratios) / n
    return exp(share * mean), sqrt(share**2 * scatter / n + share * (1 - share) * mean**2)


def _kept(family: list[Planting]) -> float | None:
    """Return plants picked for each one started, once all of what was sown together has come to its end.

    Plants thinned out on purpose count on neither side, and what was given away says nothing.
    """
    begun, got = 0, 0
    for one in family:
        ready = first_harvest(one) is not None
        if one.started is None or not (ready or one.ended is not None) or one.reason.startswith("given away"):
            return None
        begun += started(one) - thinned_out(one)
        got += picked_whole(one) + (one.count if ready and _gave(one) else 0)
    return min(max(got / begun, 0.0), 1.0) if begun > 0 else None


def _gave(planting: Planting) -> bool:
    """Say whether what stands of it, or stood at its end, came to the table too."""
    cut_again = any(one.count == 0 for one in planting.pickings)
    return planting.ended is None or planting.reason.startswith(HARVESTED) or cut_again


def _drawn_survival(kept: list[float]) -> tuple[float, float]:
    usual, n = 1 - harvest.LOSSES, len(kept)
    if not n:
        return usual, LOST_SPREAD
    mean = sum(kept) / n
    scatter = sum((one - mean) ** 2 for one in kept)
    drawn = (mean * n + usual * DRAWN) / (n + DRAWN)
    return drawn, sqrt((scatter + DRAWN * LOST_SPREAD**2) / (n + DRAWN))


def _grams(family: list[Planting]) -> float | None:
    """Return the grams that one plant gave at one picking, the mean over the pickings that were weighed."""
    each = []
    for one in family:
        for picking in one.pickings:
            plants = picking.count or stood(one, picking.day)
            if picking.grams is not None and plants > 0:
                each.append(picking.grams / plants)
    return sum(each) / len(each) if each else None


def _drawn_grams(crop: Crop, grams: list[float]) -> float | None:
    """Return the grams drawn towards the harvest table.

    Not so for microgreens: they are counted by the sowing here and by the seedling there.
    """
    if not grams:
        return None
    mean, n = sum(grams) / len(grams), len(grams)
    known = harvest.load().plant.get(crop.key)
    if known is None or crop.group == "microgreen":
        return mean
    return (mean * n + known.value * DRAWN) / (n + DRAWN)
