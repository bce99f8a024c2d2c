"""Dealing the same values out again: every way where there are few, else many ways drawn from a number."""

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import Any

from msgspec import Struct

from walkabout.insight.trials.blocks import APART
from walkabout.insight.trials.least import ways
from walkabout.insight.trials.outcome import Group
from walkabout.insight.trials.table import BadTrial

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


def regrouped(x: Sequence[float], y: Sequence[float]) -> Dealt:
    """Try every way of choosing the first group from all values; at random where there are more than 200 000."""
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    # The smaller group is dealt out: which one is the same to the chances, but not to the work.
    turned = len(x) > len(y)
    small = np.array(y if turned else x)
    every = np.array([*x, *y])
    middle = float(every.mean())
    if Group("all", (*x, *y)).flat:
        every, small, middle = 0 * every, 0 * small, 0.0
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


def regrouped_in_blocks(cells: Sequence[Sequence[tuple[int, float]]], k: int) -> Dealt:
    """Deal out `k` treatments in each block; each value with the place of its treatment.

    What is compared is the sum of squares of the treatments, adjusted for the blocks. BadTrial where treatments and
    blocks cannot be told apart.
    """
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    base = cells[0][0][1]
    values = [_centred([value for _, value in cell], base, np) for cell in cells]
    places = [np.array([place for place, _ in cell]) for cell in cells]
    many = np.array([np.bincount(one, minlength=k) for one in places]).T
    # How much the treatments are told of each other, blocks taken off: the same for every regrouping within blocks.
    told = np.diag(many.sum(axis=1)) - (many / many.sum(axis=0)) @ many.T
    if np.linalg.matrix_rank(told, tol=1e-9 * many.sum()) < k - 1:
        raise BadTrial(APART)
    weights = np.linalg.pinv(told, hermitian=True)

    def between(dealt: Sequence[Any]) -> float:
        sums = sum(np.bincount(one, weights=cell, minlength=k) for one, cell in zip(dealt, values, strict=True))
        return float(sums @ weights @ sums)

    seen = between(places)
    limit = NEAR * max(seen, 1e-300)
    ways_of = math.prod(ways([int(one) for one in np.bincount(place, minlength=k)]) for place in places)
    exact = ways_of <= EVERY // 4
    if exact:
        dealings: Iterator[Sequence[Any]] = itertools.product(*(list(_orders(one, np)) for one in places))
    else:
        dice = np.random.default_rng(SEED)
        dealings = (
            [dice.permutation(one) for one in places] for _ in range(max(FEWEST, _dealings(sum(map(len, cells))) // 4))
        )
    found = [between(one) >= seen - limit for one in dealings]
    return Dealt(len(found), sum(found), sum(found), len(found), exact)


def _centred(values: Sequence[float], base: float, np: Any) -> Any:
    """Return values less their mean; 0 where they are the same but for rounding."""
    if Group("a block", tuple(values)).flat:
        return np.zeros(len(values))
    near = np.array([one - base for one in values])
    return near - near.mean()


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
