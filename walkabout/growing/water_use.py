"""How much plants drink, how long a tank lasts, and what its falling level teaches.

Litres and days throughout. A figure for one plant and day comes out of a table and is an estimate; what the
room's own tank shows is better, and takes its place little by little.
"""

from collections.abc import Mapping, Sequence
from itertools import pairwise
from statistics import median
from typing import Literal, get_args

from msgspec import Struct

from walkabout.growing.limits import above, within

Stage = Literal["seedling", "young", "mature"]
STAGES: tuple[Stage, ...] = get_args(Stage)

SEEDLING = 0.02
"""Litres a day for a seedling: 0.01 to 0.03, estimate."""
FLOWERING: Mapping[str, float] = {"tomato": 1.0, "cucumber": 1.0}
"""Crop -> litres a day for a vine at flowering: estimate, between one just planted and one in full leaf."""
PART_GROWN: Mapping[str, float] = {"vegetative": 0.25, "flowering": 0.5}
"""Stage -> how much of the way from just moved on to full grown (assumed)."""
VPD_REFERENCE = 0.8
"""The dryness of the air, kPa, for which the table's figures are taken to hold (assumed)."""
LEAST_FACTOR, MOST_FACTOR = 0.5, 2.0
"""How far light and dry air may move an estimate (assumed): beyond it a plant closes its pores or is another plant."""
ESTIMATE_MARGIN = 0.30
"""How far from an estimate the truth may well lie (assumed)."""
MEASURED_MARGIN = 0.15
"""How far from a measured mean the next days may well lie (assumed)."""
RESERVE = 0.25
"""The part of a tank that stays, so that the pump never runs dry (common practice)."""
TRUST_AFTER = 3
"""After so many falls of the level, measured and estimated count the same (assumed)."""
SAME_LEVEL = 0.02
"""A rise of up to this part of the fullest level is the eye's, not a refill (assumed)."""

CANOPY: Mapping[str, float] = {
    **dict.fromkeys(("lettuce", "raft-lettuce", "spinach", "radish", "cabbage", "carrot"), 1.77),
    "strawberry": 2.22,
    **dict.fromkeys(("tomato", "pepper"), 2.77),
    **dict.fromkeys(("pea", "bean"), 2.46),
    "spring-onion": 1.74,
}
"""Crop -> litres a day from a square metre of closed leaf cover in a growth chamber: NASA, Baseline Values and
Assumptions Document, from memory."""


def each_plant(young: float | None, mature: float, share: float) -> float:
    """Return the litres a plant drinks a day, `share` (0 to 1) of the way from just moved on to full grown.

    A straight line from `young` to `mature` litres a day; a crop with no figure for `young` starts from a
    seedling's 0.02 L, or from its mature figure where that is less. Raises OutOfRange.
    """
    within("the share of full growth", share, 0, 1)
    within("the litres a mature plant drinks", mature, 0, 100, "L/day")
    start = min(SEEDLING, mature) if young is None else young
    return start + share * (mature - start)


def seedling(young: float | None, mature: float) -> float:
    """Return the litres a seedling drinks a day: 0.02, or less where the young plant drinks less (estimate)."""
    return min(SEEDLING, mature if young is None else young)


def factor(dli: tuple[float, float] | None, vpd: tuple[float, float] | None) -> float:
    """Return by how much light and dryness move an estimate; each is (what there is, what the estimate is for).

    DLI ÷ DLI ref or VPD ÷ VPD ref (mol/m²/d, kPa); the mean of both where both are given, as in the
    simplified Penman-Monteith form of Baille and others 1994 (from memory), which adds a part that goes with light
    and one that goes with VPD. Kept between 0.5 and 2 (assumed). An estimate. Raises OutOfRange.
    """
    ratios = []
    for name, unit, pair in (("daily light", "mol/m²/d", dli), ("VPD", "kPa", vpd)):
        if pair is not None:
            within(f"the {name}", pair[0], 0, 100, unit)
            above(f"the {name} of the estimate", pair[1], 0, unit)
            ratios.append(pair[0] / pair[1])
    if not ratios:
        return 1.0
    return min(max(sum(ratios) / len(ratios), LEAST_FACTOR), MOST_FACTOR)


def by_canopy(canopy: float, plants: float) -> float:
    """Return the litres a plant drinks a day where `canopy` L/m²/day is shared by `plants` a square metre."""
    within("the water of a square metre", canopy, 0, 30, "L/m²/day")
    above("the number of plants on a square metre", plants, 0)
    return canopy / plants


def by_light(radiation: float, per_100j: float) -> float:
    """Return L/m²/day from `radiation` J/cm² a day and `per_100j` mL/m² drunk for each 100 J/cm².

    150 to 200 mL/m² for cucumber, tomato and pepper under glass: Alberta Agriculture, opp4580. Raises OutOfRange.
    """
    within("the radiation", radiation, 0, 5000, "J/cm²")
    within("the water for 100 J/cm²", per_100j, 0, 1000, "mL/m²")
    return radiation / 100 * per_100j / 1000


def for_growth(fresh: float, dry: float, efficiency: float) -> float:
    """Return the litres drunk to grow `fresh` g of plant of which `dry` (0 to 1) is dry matter.

    W = fresh × dry ÷ efficiency, with `efficiency` in g of dry matter for each litre: 3 in ordinary air, to 6 in
    damp air rich in CO2 (Langenfeld and others 2022, Sustainability 14(16):10204). Raises OutOfRange.
    """
    within("the fresh mass", fresh, 0, 1e6, "g")
    within("the share of dry matter", dry, 0, 1)
    above("the growth for each litre", efficiency, 0, "g/L")
    return fresh * dry / efficiency


def days_left(volume: float, keep: float, per_day: float) -> float:
    """Return the days until `volume` L has fallen to `keep` L at `per_day` L/day; 0 when it has already.

    t = (V - V keep) ÷ (L/day). Raises OutOfRange for a use of 0.
    """
    within("the volume", volume, 0, 1e6, "L")
    within("the volume that stays", keep, 0, 1e6, "L")
    above("the water used", per_day, 0, "L/day")
    return max(0.0, volume - keep) / per_day


def tank_size(per_day: float, days: float, usable: float) -> float:
    """Return the litres a tank has to hold for `days` at `per_day` L/day when only `usable` (0 to 1) may be drunk.

    V = L/day × days ÷ usable. Raises OutOfRange.
    """
    within("the water used", per_day, 0, 1e5, "L/day")
    within("the days", days, 0, 366)
    above("the usable share", usable, 0)
    within("the usable share", usable, 0, 1)
    return per_day * days / usable


class Learned(Struct, frozen=True):
    """What a tank's levels show: L/day, how far single days part from it (L/day), and from how many falls."""

    per_day: float
    spread: float
    falls: int


def learned(levels: Sequence[tuple[float, float]], same: float = SAME_LEVEL) -> Learned | None:
    """Return the daily use that a series of (day, litres) shows, or None while no fall has been seen.

    `levels` in the order of their days, which may be fractions, written down before topping up: a tank filled up
    to the same mark each day shows no fall. A rise is a refill and starts anew; a rise of up to `same` of the
    fullest level counts as none. Use is the median of all slopes between two levels with no refill between them
    (Theil 1950, Sen 1968): one wrong level in a row does not move it. The spread is 1.4826 times the median
    distance of the day-to-day falls from it. Raises ValueError for days that go back.
    """
    if any(later <= earlier for (earlier, _), (later, _) in pairwise(levels)):
        raise ValueError("the days of the levels have to go up, each later than the one before")
    runs = _between_refills(levels, same)
    slopes = [
        (high - low) / (end - start)
        for run in runs
        for at, (start, high) in enumerate(run)
        for end, low in run[at + 1 :]
    ]
    if not slopes:
        return None
    use = max(0.0, median(slopes))
    falls = [(high - low) / (end - start) for run in runs for (start, high), (end, low) in pairwise(run)]
    return Learned(use, 1.4826 * median(abs(fall - use) for fall in falls), len(falls))


def blend(estimate: float, seen: Learned | None) -> tuple[float, float]:
    """Return the L/day to reckon with and its margin (0.15 is ±15 %), from a table's estimate and what was seen.

    After n falls the measured use counts n ÷ (n + 3), the estimate the rest (assumed). The margin runs from the
    estimate's 30 % to the greater of 15 % and the spread of the days. Raises OutOfRange for an estimate below 0.
    """
    within("the estimate", estimate, 0, 1e5, "L/day")
    if seen is None:
        return estimate, ESTIMATE_MARGIN
    weight = seen.falls / (seen.falls + TRUST_AFTER)
    spread = min(1.0, seen.spread / seen.per_day) if seen.per_day > 0 else 1.0
    margin = (1 - weight) * ESTIMATE_MARGIN + weight * max(MEASURED_MARGIN, spread)
    return (1 - weight) * estimate + weight * seen.per_day, margin


def _between_refills(levels: Sequence[tuple[float, float]], same: float) -> list[list[tuple[float, float]]]:
    slack = same * max((litres for _, litres in levels), default=0.0)
    runs: list[list[tuple[float, float]]] = []
    for day, litres in levels:
        within("a level", litres, 0, 1e6, "L")
        if runs and litres <= runs[-1][-1][1] + slack:
            runs[-1].append((day, litres))
        else:
            runs.append([(day, litres)])
    return runs
