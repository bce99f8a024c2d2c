"""The smallest p that counting can give with so many values: below it no table, however clear, can come."""

import math
from collections import Counter
from collections.abc import Sequence

from walkabout.insight.trials.design import Trial
from walkabout.insight.trials.two_groups import differences

BY_CURVE = ("welch", "pooled", "paired", "anova", "blocked")
"""Tests that go by a curve of chances: their p has no least value, only their trust in the curve has."""


def ways(counts: Sequence[int]) -> int:
    """Return in how many ways values can be dealt out to groups of these sizes."""
    left, found = int(sum(counts)), 1
    for one in counts:
        found *= math.comb(left, int(one))
        left -= int(one)
    return found


def least_p(trial: Trial, key: str) -> float:
    """Return the smallest two-sided p that the test `key` can give for a trial of this size; 0 where none is set.

    It is that of values without ties; with ties it may be larger.
    """
    sizes = [one.n for one in trial.groups]
    if key in BY_CURVE:
        return 0.0
    if trial.design == "paired":
        turned = sum(1 for one in differences(*trial.groups).values if one)
        return 2.0 ** (1 - turned) if 0 < turned < 1000 else 0.0
    if trial.design == "blocked":
        return _in_blocks(trial)
    alike = math.prod(math.factorial(many) for many in Counter(sizes).values())
    # Ranks turned about lie as far apart as before; values need not.
    alike = alike if key == "permutation" else max(2, alike)
    return _over(alike, ways(sizes))


def _in_blocks(trial: Trial) -> float:
    cells: dict[str, Counter[int]] = {}
    for place, blocks in enumerate(trial.blocks):
        for block in blocks:
            cells.setdefault(block, Counter())[place] += 1
    k = len(trial.groups)
    whole = all(len(one) == k and set(one.values()) == {1} for one in cells.values())
    return _over(math.factorial(k) if whole else 1, math.prod(ways(list(one.values())) for one in cells.values()))


def _over(few: int, many: int) -> float:
    return few / many if many < 10**300 else 0.0
