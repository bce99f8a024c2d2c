"""Values far from the others: looked for, named, and never dropped."""

import math
from collections.abc import Sequence

from msgspec import Struct

from walkabout.insight.trials.chances import stats
from walkabout.insight.trials.outcome import ALPHA, Group, Outlier

FEWEST = 6
"""Values below which no outlier is looked for: any two of few lie far apart. Assumed."""
MANY = 15
"""From this many values on several outliers are looked for at once: the limits are good from there, as NIST has it."""
MOST = 10
"""Outliers looked for in one group."""


class Farthest(Struct, frozen=True):
    """The value farthest from the mean, how many sd it lies away, and the limits at the level asked for."""

    value: float
    place: int
    statistic: float
    limit: float
    """Two-sided."""
    limit_one_sided: float

    @property
    def out(self) -> bool:
        """Say whether it lies beyond the two-sided limit."""
        return self.statistic > self.limit


class Step(Struct, frozen=True):
    """One step of the several-outliers search: the value farthest out of those left, and its limit."""

    value: float
    place: int
    statistic: float
    limit: float


def grubbs(values: Sequence[float], alpha: float = ALPHA) -> Farthest | None:
    """Return the value farthest out; None below 3 values or where nothing spreads.

    Grubbs 1969, Technometrics 11:1-21, as in NIST/SEMATECH e-Handbook 1.3.5.17.1.
    """
    group = Group("", tuple(values))
    if group.n < 3 or not group.sd:
        return None
    middle, sd, n = group.mean, group.sd, group.n
    place = max(range(n), key=lambda at: abs(values[at] - middle))
    two, one = _limit(n, alpha / (2 * n)), _limit(n, alpha / n)
    return Farthest(values[place], place, abs(values[place] - middle) / sd, two, one)


def esd(values: Sequence[float], most: int, alpha: float = ALPHA) -> tuple[int, tuple[Step, ...]]:
    """Return how many of the farthest values are outliers, and every step.

    The generalised extreme studentised deviate: Rosner 1983, Technometrics 25:165-172, as in NIST/SEMATECH
    e-Handbook 1.3.5.17.3. The number is the last step whose statistic is beyond its limit.
    """
    left = list(enumerate(values))
    n, steps, found = len(values), [], 0
    for step in range(1, most + 1):
        group = Group("", tuple(value for _, value in left))
        if group.n < 3 or not group.sd:
            break
        middle, sd = group.mean, group.sd
        place, value = max(left, key=lambda one: abs(one[1] - middle))
        statistic = abs(value - middle) / sd
        steps.append(Step(value, place, statistic, _limit(n - step + 1, alpha / (2 * (n - step + 1)))))
        found = step if statistic > steps[-1].limit else found
        left.remove((place, value))
    return found, tuple(steps)


def outliers(groups: Sequence[Group]) -> tuple[Outlier, ...]:
    """Return the outliers of each group by itself: Grubbs' one from 6 values on, several from 15 on."""
    found: list[Outlier] = []
    for group in groups:
        if group.n < FEWEST:
            continue
        if group.n < MANY:
            one = grubbs(group.values)
            steps: tuple[Step, ...] = ()
            if one is not None and one.out:
                steps = (Step(one.value, one.place, one.statistic, one.limit),)
        else:
            many, every = esd(group.values, min(MOST, group.n // 5))
            steps = every[:many]
        for step in steps:
            line = group.lines[step.place] if group.lines else 0
            found.append(Outlier(group.name, step.value, line, step.statistic, step.limit))
    return tuple(found)


def _limit(n: int, tail: float) -> float:
    t = float(stats().t.isf(tail, n - 2))
    return (n - 1) / math.sqrt(n) * math.sqrt(t * t / (n - 2 + t * t))
