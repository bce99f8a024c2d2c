"""How far two groups are shifted apart, after Hodges and Lehmann, with the interval that goes with the ranks."""

import itertools
import math
from collections.abc import Callable, Sequence
from typing import Any

from walkabout.insight.trials.chances import z_point
from walkabout.insight.trials.outcome import LEVEL, Difference, Group

EXACT = 49
"""Up to this many values a group the chances of the ranks are counted. Common practice."""
MOST_PAIRS = 4_000_000
"""Of values set against each other one by one; beyond, the middle and the ends alone are closed in upon."""
KIND = "shift (Hodges-Lehmann)"


def shift(first: Group, second: Group) -> Difference:
    """Return the median of all differences between two groups, with the interval that goes with U."""
    n1, n2 = first.n, second.n
    many = n1 * n2
    sd = math.sqrt(n1 * n2 * (n1 + n2 + 1) / 12)
    ways = _u_ways(n1, n2) if max(n1, n2) <= EXACT else None
    if many <= MOST_PAIRS:
        gaps = sorted(one - other for one, other in itertools.product(first.values, second.values))
        return _around(gaps.__getitem__, many, ways, sd, first, second)
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    x, y = np.sort(np.array(first.values)), np.sort(np.array(second.values))

    def at_most(gap: float) -> int:
        return int((n2 - np.searchsorted(y, x - gap, side="left")).sum())

    ends = float(x[0] - y[-1]), float(x[-1] - y[0])
    return _around(_nth(at_most, *ends), many, ways, sd, first, second)


def paired_shift(first: Group, second: Group, gaps: Sequence[float]) -> Difference:
    """Return the median of the means of all pairs of `gaps`, with the interval that goes with the rank sum.

    `gaps` are the differences of the pairs without those of 0, which the ranks leave out too.
    """
    n = len(gaps)
    many = n * (n + 1) // 2
    sd = math.sqrt(n * (n + 1) * (2 * n + 1) / 24)
    ways = _w_ways(n) if n <= EXACT else None
    if many <= MOST_PAIRS:
        means = sorted((one + other) / 2 for one, other in itertools.combinations_with_replacement(gaps, 2))
        return _around(means.__getitem__, many, ways, sd, first, second)
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    ordered: Any = np.sort(np.array(gaps))

    def at_most(mean: float) -> int:
        both = int(np.searchsorted(ordered, 2 * mean - ordered, side="right").sum())
        return (both + int(np.searchsorted(ordered, mean, side="right"))) // 2

    return _around(_nth(at_most, float(ordered[0]), float(ordered[-1])), many, ways, sd, first, second)


def _nth(at_most: Callable[[float], int], low: float, high: float) -> Callable[[int], float]:
    """Return the function that closes in upon the value at a place, from 0, by halving: to the last digit or nearly."""

    def found(place: int) -> float:
        under, over = low, high
        if at_most(under) > place:
            return under
        while over - under > 1e-14 * max(abs(low), abs(high)):
            middle = (under + over) / 2
            if at_most(middle) > place:
                over = middle
            else:
                under = middle
        return over

    return found


def _around(
    at: Callable[[int], float], many: int, ways: Sequence[int] | None, sd: float, first: Group, second: Group
) -> Difference:
    """Cut as many gaps from each end as the chances of the rank sum allow; no interval where there are too few.

    `at` gives the gap at a place, in the order of their size.
    """
    middle = (at((many - 1) // 2) + at(many // 2)) / 2
    if ways is None:
        cut = math.floor(many / 2 - z_point(LEVEL) * sd)
    else:
        limit, total, cut = sum(ways) * (1 - LEVEL) / 2, 0, 0
        while total + ways[cut] <= limit:
            total += ways[cut]
            cut += 1
    low, high = (None, None) if cut < 1 else (at(cut - 1), at(many - cut))
    of = f"{first.name} - {second.name}"
    return Difference(middle, low, high, of, KIND, first=first.name, second=second.name)


def _u_ways(n1: int, n2: int) -> list[int]:
    """Return in how many orders each U comes out: the coefficients of a Gaussian binomial."""
    ways = [1] + [0] * (n1 * n2)
    for step in range(1, n1 + 1):
        over = n2 + step
        for place in range(len(ways) - 1, over - 1, -1):
            ways[place] -= ways[place - over]
        for place in range(step, len(ways)):
            ways[place] += ways[place - step]
    return ways


def _w_ways(n: int) -> list[int]:
    """Return in how many patterns of signs each sum of ranks comes out."""
    ways = [1] + [0] * (n * (n + 1) // 2)
    for rank in range(1, n + 1):
        for place in range(len(ways) - 1, rank - 1, -1):
            ways[place] += ways[place - rank]
    return ways
