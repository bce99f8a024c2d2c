"""How much to sow for how much to eat, and how much light makes how much lettuce.

Masses in g or kg, as fresh mass; light in mol/m²; shares from 0 to 1.
"""

import tomllib
from collections.abc import Mapping
from functools import cache
from itertools import pairwise
from math import ceil
from pathlib import Path

import msgspec
from msgspec import Struct

from walkabout.growing.crops import Figure, Source
from walkabout.growing.limits import above, within

LOSSES = 0.2
"""Of what is sown, what never reaches the plate, unless told otherwise; assumed."""

EFFICIENCY = ((200.0, 29.0), (400.0, 27.0), (750.0, 21.0))
"""Light, µmol/m²/s, and fresh lettuce, g for each mol of light that falls on a closed canopy; 16 h a day, mean
of all temperatures. Carotti and colleagues 2021, Frontiers in Plant Science 11:592171."""

LONGER_DAY: Mapping[str, float] = {"lettuce": 0.160, "mizuna": 0.187}
"""How much heavier at 20 h of light than at 10 h, with 16 mol/m²/d both times; Palmer and van Iersel 2020,
Agronomy 10(11):1659."""

SHORTEST, LONGEST = 10.0, 20.0
"""The days of light, h, that were compared there."""


class Amounts(Struct, frozen=True, forbid_unknown_fields=True):
    """Grams from one plant by crop key, grams for one person by crop group, and their sources."""

    sources: Mapping[str, Source]
    plant: Mapping[str, Figure]
    portion: Mapping[str, Figure]


@cache
def load() -> Amounts:
    """Read the shipped table of harvest masses and portions."""
    text = Path(__file__).with_name("harvest.toml").read_text(encoding="utf-8")
    return msgspec.convert(tomllib.loads(text), Amounts)


def filled(germination: float, seeds: int = 1) -> float:
    """Return the share of places in which at least one seed comes up: 1 - (1 - germination) ^ seeds.

    `germination` from 0 to 1, `seeds` in each place, thinned to one plant. The law of independent chances.
    """
    within("the share that germinates", germination, 0, 1)
    within("the seeds in a place", seeds, 1, 1000)
    return 1 - (1 - germination) ** int(seeds)


def places(plants: float, losses: float, share_filled: float = 1.0) -> int:
    """Return how many places to sow so that `plants` are left: plants ÷ (share filled × (1 - losses)), rounded up.

    `losses` is the share lost after the seedlings showed (or of all that was sown, with every place filled).
    Raises OutOfRange when nothing would be left.
    """
    within("the number of plants", plants, 0, 1e9)
    within("the losses", losses, 0, 0.99)
    above("the share that comes up", share_filled, 0)
    return ceil(plants / (share_filled * (1 - losses)) - 1e-9)


def plants_for(mass: float, each: float) -> int:
    """Return the plants that give `mass` g when one gives `each` g, rounded up."""
    within("the mass", mass, 0, 1e9, "g")
    above("the mass of one plant", each, 0, "g")
    return ceil(mass / each - 1e-9)


def daily_light(ppfd: float, hours: float) -> float:
    """Return the daily light, mol/m²/d, of `ppfd` µmol/m²/s for `hours` h: ppfd × hours × 3600 ÷ 1 000 000."""
    within("the light", ppfd, 0, 3000, "µmol/m²/s")
    within("the hours of light", hours, 0, 24, "h")
    return ppfd * hours * 0.0036


def photons(daily: float, days: float) -> float:
    """Return the light that a crop was given in all, mol/m²: daily light (mol/m²/d) × days."""
    within("the daily light", daily, 0, 100, "mol/m²/d")
    within("the days", days, 0, 1000, "days")
    return daily * days


def efficiency(ppfd: float) -> float:
    """Return the fresh lettuce, g for each mol, under so much light: straight lines between EFFICIENCY.

    `ppfd` in µmol/m²/s. Below 200 and above 750, where nothing was measured, the nearest figure.
    """
    within("the light", ppfd, 0, 3000, "µmol/m²/s")
    first, last = EFFICIENCY[0], EFFICIENCY[-1]
    if ppfd <= first[0]:
        return first[1]
    for (dim, more), (bright, less) in pairwise(EFFICIENCY):
        if ppfd <= bright:
            return more + (less - more) * (ppfd - dim) / (bright - dim)
    return last[1]


def fresh_mass(light: float, grams_per_mol: float) -> float:
    """Return the fresh mass, kg/m², that `light` mol/m² makes at so many g for each mol.

    Holds from the day the leaves have closed over the area: seedlings catch little of the light.
    """
    within("the efficiency", grams_per_mol, 0, 60, "g/mol")
    return light * grams_per_mol / 1000


def longer_day_gain(crop: str, hours: float, to: float) -> float:
    """Return how much heavier a crop gets, as a share, when the same daily light is spread over more hours.

    `crop` is a key of LONGER_DAY, `hours` and `to` 10 to 20 h. The two ends are published; between them a
    straight line is assumed. Negative for a shorter day. Raises OutOfRange, and KeyError for another crop.
    """
    for value in (hours, to):
        within("the hours of light", value, SHORTEST, LONGEST, "h")
    gain = LONGER_DAY[crop] / (LONGEST - SHORTEST)
    return (1 + gain * (to - SHORTEST)) / (1 + gain * (hours - SHORTEST)) - 1
