"""Permutation tests: how often chance alone, dealing the same values out again, makes as large a difference."""

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from msgspec import Struct

from walkabout.insight.trials.outcome import Difference, Effect, Group, Outcome, Tested
from walkabout.insight.trials.say import number
from walkabout.insight.trials.several import anova
from walkabout.insight.trials.two_groups import differences, must_spread, paired, welch

EVERY = 200_000
"""Up to this many ways of dealing out, each is tried."""
SEED = 1
"""Of the dealings where not all are tried: the same table gives the same p."""
DEALINGS, FEWEST, WORK = 19_999, 999, 50_000_000
"""How often values are dealt out at random: less often where there are very many values."""
NEAR = 1e-9
"""Two statistics closer than this, by their size, are the same: the order of adding is not the same."""


class Dealt(Struct, frozen=True):
    """Of how many ways of dealing out how many came out as far, above and below; `exact`: all ways were tried."""

    ways: int
    as_far: int
    above: int
    below: int
    exact: bool

    @property
    def p(self) -> float:
        """Return the two-sided chance; where not all were tried, the table itself counts as one of them."""
        return self._chance(self.as_far)

    @property
    def p_greater(self) -> float:
        """Return the chance of as large a difference upwards."""
        return self._chance(self.above)

    @property
    def p_less(self) -> float:
        """Return the chance of as large a difference downwards."""
        return self._chance(self.below)

    def _chance(self, many: int) -> float:
        return many / self.ways if self.exact else (many + 1) / (self.ways + 1)


def two_groups(first: Group, second: Group) -> Outcome:
    """Compare two means by regrouping: Fisher 1935; Pitman 1937, J. R. Stat. Soc. Suppl. 4:119-130."""
    must_spread((first, second, Group("all", first.values + second.values)))
    dealt = regrouped(first.values, second.values)
    gap = first.mean - second.mean
    return _said(dealt, gap, _interval(lambda: welch(first, second), gap, first, second), "regroupings")


def pairs(first: Group, second: Group) -> Outcome:
    """Compare pairs by turning the sign of each difference: Fisher 1935, The Design of Experiments, section 21."""
    gaps = differences(first, second)
    must_spread((gaps, Group("nothing and all", (0.0, *gaps.values))))
    dealt = flipped(gaps.values)
    return _said(
        dealt, gaps.mean, _interval(lambda: paired(first, second), gaps.mean, first, second), "patterns of signs"
    )


def several(groups: Sequence[Group], blocks: Sequence[Sequence[str]] = ()) -> Outcome:
    """Compare several means by regrouping, within each block where there are blocks.

    The statistic is the F of the one-way analysis; only the sum of squares between treatments varies among
    regroupings, so that is what is compared.
    """
    must_spread((*groups, Group("all", tuple(value for one in groups for value in one.values))))
    named = blocks or [[""] * one.n for one in groups]
    cells: dict[str, list[tuple[int, float]]] = {}
    for place, (one, where) in enumerate(zip(groups, named, strict=True)):
        for value, block in zip(one.values, where, strict=True):
            cells.setdefault(block, []).append((place, value))
    dealt = _dealt_blocks(list(cells.values()), [one.n for one in groups])
    plain = anova(groups) if any(one.squares for one in groups) else None
    statistic = plain.test.statistic if plain else None
    return Outcome(
        test=_tested(dealt, statistic, two_sided=False),
        effect=plain.effect if plain else None,
        working=(*_lines(dealt, "regroupings"), *(plain.working[:4] if plain else ())),
    )


def regrouped(x: Sequence[float], y: Sequence[float]) -> Dealt:
    """Try every way of choosing the first group from all values; at random where there are more than 200 000."""
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    # The smaller group is dealt out: which one is the same to the chances, but not to the work.
    turned = len(x) > len(y)
    small = np.array(y if turned else x)
    every = np.array([*x, *y])
    middle = float(every.mean())
    every, small = every - middle, small - middle
    limit = NEAR * max(float(np.abs(every).sum()), 1e-300)
    seen = float(small.sum())
    k, n = len(small), len(every)
    exact = math.comb(n, k) <= EVERY
    if exact:
        places = itertools.combinations(range(n), k)
        chunks = iter(lambda: list(itertools.islice(places, 20_000)), [])
        sums = np.concatenate([every[np.array(chunk)].sum(axis=1) for chunk in chunks])
    else:
        dice = np.random.default_rng(SEED)
        sums = np.array([dice.permutation(every)[:k].sum() for _ in range(_dealings(n))])
    return _counted(sums, seen, limit, exact=exact, turned=turned, np=np)


def flipped(gaps: Sequence[float]) -> Dealt:
    """Try every pattern of signs of the differences; at random where there are more than 200 000."""
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    values = np.array(gaps)
    exact = 2 ** len(gaps) <= EVERY
    if exact:
        sums = np.zeros(1)
        for value in values:
            sums = np.concatenate([sums + value, sums - value])
    else:
        dice = np.random.default_rng(SEED)
        many = _dealings(len(gaps))
        sums = np.array([(values * dice.choice((-1.0, 1.0), len(values))).sum() for _ in range(many)])
    limit = NEAR * max(float(np.abs(values).sum()), 1e-300)
    return _counted(sums, float(values.sum()), limit, exact=exact, turned=False, np=np)


def _counted(sums: Any, seen: float, limit: float, *, exact: bool, turned: bool, np: Any) -> Dealt:
    far = int(np.count_nonzero(np.abs(sums) >= abs(seen) - limit))
    above = int(np.count_nonzero(sums >= seen - limit))
    below = int(np.count_nonzero(sums <= seen + limit))
    return Dealt(len(sums), far, below if turned else above, above if turned else below, exact)


def _dealt_blocks(cells: Sequence[Sequence[tuple[int, float]]], sizes: Sequence[int]) -> Dealt:
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    middle = math.fsum(value for cell in cells for _, value in cell) / sum(sizes)
    values = [np.array([value - middle for _, value in cell]) for cell in cells]
    places = [np.array([place for place, _ in cell]) for cell in cells]
    k = len(sizes)

    def between(dealt: Sequence[Any]) -> float:
        sums = sum(np.bincount(one, weights=cell, minlength=k) for one, cell in zip(dealt, values, strict=True))
        return float((sums**2 / np.array(sizes)).sum())

    seen = between(places)
    limit = NEAR * max(seen, 1e-300)
    ways = math.prod(_ways([int(many) for many in np.bincount(one, minlength=k)]) for one in places)
    exact = ways <= EVERY // 4
    if exact:
        dealings: Iterator[Sequence[Any]] = itertools.product(*(list(_orders(one, np)) for one in places))
    else:
        dice = np.random.default_rng(SEED)
        many = max(FEWEST, _dealings(sum(sizes)) // 4)
        dealings = ([dice.permutation(one) for one in places] for _ in range(many))
    found = [between(one) >= seen - limit for one in dealings]
    return Dealt(len(found), sum(found), sum(found), len(found), exact)


def _ways(counts: Sequence[int]) -> int:
    left, ways = int(sum(counts)), 1
    for one in counts:
        ways *= math.comb(left, int(one))
        left -= int(one)
    return ways


def _orders(places: Any, np: Any) -> Iterator[Any]:
    """Yield every different order of the treatments of one block."""
    counts = [int(one) for one in np.bincount(places)]
    order = [0] * len(places)

    def fill(treatment: int, free: tuple[int, ...]) -> Iterator[Any]:
        if treatment == len(counts):
            yield np.array(order)
            return
        for chosen in itertools.combinations(free, counts[treatment]):
            for place in chosen:
                order[place] = treatment
            yield from fill(treatment + 1, tuple(one for one in free if one not in chosen))

    yield from fill(0, tuple(range(len(places))))


def _dealings(n: int) -> int:
    return max(FEWEST, min(DEALINGS, WORK // max(1, n)))


def _interval(
    usual: Callable[[], Outcome], gap: float, first: Group, second: Group
) -> tuple[Difference, Effect | None]:
    """Return the interval and effect of the t test; none where a t test has nothing to go by."""
    try:
        found = usual()
    except ValueError:
        return Difference(gap, None, None, f"{first.name} - {second.name}"), None
    return found.difference or Difference(gap, None, None, f"{first.name} - {second.name}"), found.effect


def _said(dealt: Dealt, gap: float, usual: tuple[Difference, Effect | None], what: str) -> Outcome:
    difference, effect = usual
    line = f"difference ({difference.of}) = {number(gap)}"
    again = () if difference.low is None else ("The interval is that of the t test: regrouping gives none by itself.",)
    return Outcome(
        test=_tested(dealt, gap, two_sided=True),
        difference=difference,
        effect=effect,
        working=(line, *_lines(dealt, what)),
        notes=again,
    )


def _tested(dealt: Dealt, statistic: float | None, *, two_sided: bool) -> Tested:
    return Tested(
        key="permutation",
        name="permutation test",
        statistic=statistic,
        p=dealt.p,
        p_greater=dealt.p_greater if two_sided else None,
        p_less=dealt.p_less if two_sided else None,
        more={"exact": dealt.exact, "arrangements": dealt.ways, "as_far": dealt.as_far}
        | ({} if dealt.exact else {"seed": SEED}),
    )


def _lines(dealt: Dealt, what: str) -> list[str]:
    how = "all" if dealt.exact else "random"
    out = [f"of {dealt.ways} {what} ({how}), {dealt.as_far} come out at least as far as the table"]
    if dealt.exact:
        return [*out, f"p = {dealt.as_far}/{dealt.ways} = {number(dealt.p)}"]
    return [*out, f"p = ({dealt.as_far} + 1)/({dealt.ways} + 1) = {number(dealt.p)}; drawn with the number {SEED}"]
