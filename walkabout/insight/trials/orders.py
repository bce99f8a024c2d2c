"""Ranks counted out: how many of all orders of the same ranks come out as far as the one in the table, ties and all."""

import itertools
import math
from collections import Counter
from collections.abc import Mapping, Sequence

MOST = 40_000
"""Different sums of ranks kept at once; where there would be more, nothing is counted and the usual curve must do."""
MOST_ORDERS = 5_000
"""Orders of one block that are gone through: 7 treatments have 5040, 6 have 720."""

Tails = tuple[float, float, float]
"""Chances of a sum as high, of one as low, and of one as far out: twice the smaller, at most 1."""


def of_signs(ranks: Sequence[float], above: float) -> Tails:
    """Return the chances of a sum of the ranks above 0, over every pattern of signs."""
    ways: Counter[int] = Counter({0: 1})
    for step in _whole(ranks):
        ways = Counter(ways) + Counter({total + step: many for total, many in ways.items()})
    return _tails(ways, round(2 * above), 2 ** len(ranks))


def of_two(ranks: Sequence[float], n: int, total: float) -> Tails:
    """Return the chances of the sum of the ranks of a group of `n`, over every way of choosing it from all ranks."""
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    steps = _whole(ranks)
    ways = np.zeros((n + 1, sum(steps) + 1))
    ways[0, 0] = 1.0
    for step in steps:
        ways[1:, step:] += ways[:-1, :-step].copy()
    found = {place: float(many) for place, many in enumerate(ways[n]) if many}
    return _tails(found, round(2 * total), math.comb(len(ranks), n))


def of_several(ranks: Sequence[float], sizes: Sequence[int], sums: Sequence[float]) -> float | None:
    """Return the chance that the rank sums of groups lie at least as far apart, by Σ R²/n; None where too many differ.

    `ranks` are all ranks, `sums` those of the groups in the table, in the order of `sizes`.
    """
    wide = math.lcm(*sizes)
    ways: dict[tuple[tuple[int, ...], tuple[int, ...]], int] = {((0,) * len(sizes), (0,) * len(sizes)): 1}
    for step in sorted(_whole(ranks)):
        fuller: dict[tuple[tuple[int, ...], tuple[int, ...]], int] = {}
        for (taken, totals), many in ways.items():
            for place, size in enumerate(sizes):
                if taken[place] < size:
                    key = _with(taken, place, 1), _with(totals, place, step)
                    fuller[key] = fuller.get(key, 0) + many
        if len(fuller) > MOST:
            return None
        ways = fuller

    def apart(totals: Sequence[int]) -> int:
        return sum(one * one * (wide // size) for one, size in zip(totals, sizes, strict=True))

    seen = apart(_whole(sums))
    return sum(many for (_, totals), many in ways.items() if apart(totals) >= seen) / sum(ways.values())


def in_blocks(rows: Sequence[Sequence[float]], sums: Sequence[float]) -> float | None:
    """Return the chance that the rank sums of treatments lie at least as far apart, over all orders in each block.

    `rows` holds the ranks of each block. None where there are too many to go through.
    """
    if math.factorial(len(sums)) > MOST_ORDERS:
        return None
    ways: dict[tuple[int, ...], int] = {(0,) * len(sums): 1}
    for row in rows:
        orders = Counter(itertools.permutations(_whole(row)))
        if len(ways) * len(orders) > 20 * MOST:
            return None
        fuller: dict[tuple[int, ...], int] = {}
        for totals, many in ways.items():
            for order, alike in orders.items():
                key = tuple(one + other for one, other in zip(totals, order, strict=True))
                fuller[key] = fuller.get(key, 0) + many * alike
        # The statistic does not ask which treatment had which sum, nor do the chances: the sorted sums are enough.
        ways = {}
        for key, many in fuller.items():
            ways[tuple(sorted(key))] = ways.get(tuple(sorted(key)), 0) + many
    seen = sum(one * one for one in _whole(sums))
    far = sum(many for totals, many in ways.items() if sum(one * one for one in totals) >= seen)
    return far / sum(ways.values())


def _whole(ranks: Sequence[float]) -> list[int]:
    """Return ranks doubled: ties share halves."""
    return [round(2 * one) for one in ranks]


def _with(places: tuple[int, ...], at: int, more: int) -> tuple[int, ...]:
    return (*places[:at], places[at] + more, *places[at + 1 :])


def _tails(ways: Mapping[int, float], seen: int, every: int) -> Tails:
    greater = sum(many for total, many in ways.items() if total >= seen) / every
    less = sum(many for total, many in ways.items() if total <= seen) / every
    return greater, less, min(1.0, 2 * min(greater, less))
