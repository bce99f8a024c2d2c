"""The exact chance that enough plants are left, or weigh enough, on a day: sums over what may happen, no dice.

A planting is ready by the day or it is not, as a whole. Of its plants so many are left: a binomial count whose
share may itself be better or worse than usual (beta-binomial). Numbers of plants are added up one by one, so
nothing is approximated but numbers above FINEST, which are counted in bundles. Chances and shares are from 0 to 1.
"""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from math import ceil, sqrt
from operator import mul

from msgspec import Struct

from walkabout.almanac import normal

FINEST = 120
"""Up to so many plants are counted one by one; beyond, in bundles, at most so many of them."""

SURELY = 3.3
"""So many standard deviations: less than one time in 2000 is beyond them on one side."""

NOTHING = 1e-9
"""Chances smaller than this are dropped."""


class Part(Struct, frozen=True):
    """What one planting may bring: `plants` that stand now, of which the share `survival` is expected to be left.

    `ready`: the chance that it is ready on the day. `doubt`: how alike the fates of its plants are, from 0 (each
    for itself) to below 1 (all or none): the variance of the share is survival × (1 - survival) × doubt.
    """

    plants: int
    ready: float
    survival: float
    doubt: float = 0.0


class Tally(Struct, frozen=True):
    """The chances of each number of plants in hand: `below[j]` that of `j` bundles of `step` plants.

    What is missing to 1 is the chance of `len(below)` bundles or more.
    """

    below: tuple[float, ...]
    step: int = 1


class Mass(Struct, frozen=True):
    """What a plant weighs, g, and how far off that may be, as shares: all of them together, and each by itself."""

    grams: float
    doubt: float = 0.0
    scatter: float = 0.0


def nothing(most: int) -> Tally:
    """Return the tally of an empty hand that can tell apart the numbers below `most` plants."""
    step = ceil(max(most, 1) / FINEST)
    return Tally((1.0,) + (0.0,) * (ceil(max(most, 1) / step) - 1), step)


def with_parts(tally: Tally, parts: Iterable[Part]) -> Tally:
    """Return the tally after the plants of more plantings, each independent of the others."""
    below = tally.below
    for part in sorted(parts, key=lambda one: one.ready * one.plants, reverse=True):
        if sum(below) < NOTHING:
            break
        if part.plants > 0 and part.ready > NOTHING:
            below = _added(below, part, tally.step)
    return Tally(below, tally.step)


def without(tally: Tally, plants: float) -> Tally:
    """Return the tally after somebody took `plants` (rounded up), or all there were; fewer numbers are told apart."""
    gone = min(ceil(plants / tally.step - 1e-9), len(tally.below) - 1)
    if gone <= 0:
        return tally
    return Tally((sum(tally.below[: gone + 1]), *tally.below[gone + 1 :]), tally.step)


def mean(tally: Tally) -> float:
    """Return the plants in hand on average; what the tally does not tell apart counts as its upper end."""
    beyond = max(1 - sum(tally.below), 0.0)
    return tally.step * (sum(j * chance for j, chance in enumerate(tally.below)) + len(tally.below) * beyond)


def enough(tally: Tally, plants: int) -> float:
    """Return the chance of at least `plants` in hand; the tally must tell apart the numbers below that."""
    least, width = plants / tally.step, 0.5 / tally.step
    short = sum(chance * (1 - _clamped(j - least + 0.5 + width)) for j, chance in enumerate(tally.below))
    return _clamped(1 - short)


def heavy_enough(tally: Tally, grams: float, mass: Mass) -> float:
    """Return the chance that what is in hand weighs at least `grams` g.

    The mass of a number of plants is taken as normal, with the variance number × scatter² + number² × doubt².
    The tally must reach to `plants_told` of the same mass; more than it tells apart counts as enough.
    """
    short = sum(
        chance * (1 - heavy(j * tally.step, grams, mass)) for j, chance in enumerate(tally.below) if chance > NOTHING
    )
    return _clamped(1 - short)


def heavy(plants: float, grams: float, mass: Mass) -> float:
    """Return the chance that exactly so many plants weigh at least `grams` g."""
    spread = mass.grams * sqrt(plants * mass.scatter**2 + (plants * mass.doubt) ** 2)
    over = plants * mass.grams - grams
    if spread <= 0:
        return 1.0 if over >= -1e-9 else 0.0
    return normal.below(over / spread)


def plants_told(grams: float, mass: Mass) -> int:
    """Return the number of plants from which on `grams` g are as good as sure."""
    usual = grams / mass.grams
    few = usual + 1 + 1.5 * SURELY * mass.scatter * sqrt(usual)
    return ceil(few / (1 - SURELY * min(mass.doubt, 0.25)))


@lru_cache(maxsize=4096)
def left(plants: int, survival: float, doubt: float) -> tuple[int, tuple[float, ...]]:
    """Return the chances of each number of plants left: the first number that can be, and the chances from it on.

    Binomial where `doubt` is 0, else beta-binomial with that correlation: from the likeliest number outwards by
    the ratio of neighbours, so that nothing under- or overflows.
    """
    if plants <= 0 or survival <= 0:
        return 0, (1.0,)
    if survival >= 1:
        return plants, (1.0,)
    weight = 1 / doubt - 1 if doubt > 1e-9 else 0.0
    alive, dead = survival * weight, (1 - survival) * weight

    def ratio(k: int) -> float:
        """Chance of k + 1 over that of k."""
        if not weight:
            return (plants - k) * survival / ((k + 1) * (1 - survival))
        return (plants - k) * (alive + k) / ((k + 1) * (dead + plants - k - 1))

    middle = min(round(plants * survival), plants)
    up, down = [1.0], []
    for k in range(middle, plants):
        up.append(up[-1] * ratio(k))
        if up[-1] < NOTHING * NOTHING:
            break
    chance = 1.0
    for k in range(middle - 1, -1, -1):
        chance /= ratio(k)
        down.append(chance)
        if chance < NOTHING * NOTHING:
            break
    every = down[::-1] + up
    total = sum(every)
    return middle - len(down), tuple(one / total for one in every)


def _added(below: Sequence[float], part: Part, step: int) -> tuple[float, ...]:
    size = len(below)
    first, chances = _bundles(part, step)
    backwards = tuple(reversed(below))
    reached = [0.0] * min(first, size)
    reached += [sum(map(mul, chances, backwards[size - 1 - free :])) for free in range(size - first)]
    late = 1 - part.ready
    return tuple(late * before + part.ready * after for before, after in zip(below, reached, strict=True))


def _bundles(part: Part, step: int) -> tuple[int, Sequence[float]]:
    """Return what may be left of a planting in bundles, with the mean of the plants and, nearly, their variance."""
    if step == 1:
        return left(part.plants, part.survival, part.doubt)
    whole, share = divmod(part.plants / step, 1)
    varies = part.doubt + (1 - part.doubt) / part.plants
    mixed: dict[int, float] = {}
    for count, weight in ((int(whole), 1 - share), (int(whole) + 1, share)):
        if weight > 0:
            doubt = max((varies - 1 / count) / (1 - 1 / count), 0.0) if count > 1 else 0.0
            first, chances = left(count, part.survival, doubt)
            for j, chance in enumerate(chances, first):
                mixed[j] = mixed.get(j, 0.0) + weight * chance
    lowest = min(mixed)
    return lowest, tuple(mixed.get(j, 0.0) for j in range(lowest, max(mixed) + 1))


def _clamped(value: float) -> float:
    return min(max(value, 0.0), 1.0)
