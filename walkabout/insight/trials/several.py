"""Several groups: one-way analysis of variance, all pairs after Tukey, Welch's form, and groups in blocks."""

import itertools
import math
from collections.abc import Callable, Sequence
from typing import Any

from walkabout.insight.trials.chances import f_above, range_above, range_point, t_point
from walkabout.insight.trials.outcome import LEVEL, Difference, Effect, Group, Outcome, Pair, Tested
from walkabout.insight.trials.say import number
from walkabout.insight.trials.table import BadTrial
from walkabout.insight.trials.two_groups import must_spread

MOST_GROUPS = 12
"""Groups of which all pairs are compared; 12 make 66 pairs, more is no reading matter. Assumed."""


def anova(groups: Sequence[Group]) -> Outcome:
    """Compare several means: Fisher's one-way analysis of variance, with all pairs after Tukey and Kramer."""
    must_spread(groups)
    n, k = sum(one.n for one in groups), len(groups)
    within = math.fsum(one.squares for one in groups)
    middle = math.fsum(value for one in groups for value in one.values) / n
    between = math.fsum(one.n * (one.mean - middle) ** 2 for one in groups)
    df1, df2 = k - 1, n - k
    if df2 < 1:
        raise BadTrial("Each group has 1 value. At least one group needs 2, and all should have several")
    mean_within = within / df2
    f = between / df1 / mean_within
    p = f_above(f, df1, df2)
    eta = between / (between + within)
    omega = (between - df1 * mean_within) / (between + within + mean_within)

    def error(one: int, other: int) -> float:
        return math.sqrt(mean_within * (1 / groups[one].n + 1 / groups[other].n))

    pairs = tukey([one.name for one in groups], [one.mean for one in groups], error, df2)
    return Outcome(
        test=Tested(key="anova", name="one-way ANOVA", statistic=f, df=(df1, df2), p=p),
        difference=_two_groups(pairs, groups, error, df2),
        effect=Effect("eta squared", eta),
        pairs=pairs,
        working=(
            f"mean of all = {number(middle)}, n = {n}",
            f"between the groups: Σ nᵢ·(meanᵢ − mean)² = {number(between)} on k − 1 = {df1}",
            f"within the groups: Σ (value − meanᵢ)² = {number(within)} on n − k = {df2}",
            f"F = ({number(between)}/{df1})/({number(within)}/{df2}) = {number(f)}",
            f"p = chance of a larger F on {df1} and {df2} degrees of freedom = {number(p)}",
            f"eta squared = between/(between + within) = {number(eta)}; omega squared, less hopeful, = {number(omega)}",
            *pair_lines(pairs, df2, k),
        ),
        more={"omega_squared": omega, "sum_of_squares": {"between": between, "within": within}},
    )


def welch_anova(groups: Sequence[Group]) -> Outcome:
    """Compare several means that spread differently: Welch 1951, Biometrika 38:330-336."""
    for one in groups:
        if one.n < 2 or not one.sd:
            raise BadTrial(f'Welch\'s test needs values that differ in each group; "{one.name}" has none')
    k = len(groups)
    weights = [one.n / (one.sd or 1.0) ** 2 for one in groups]
    total = math.fsum(weights)
    middle = math.fsum(weight * one.mean for weight, one in zip(weights, groups, strict=True)) / total
    top = math.fsum(weight * (one.mean - middle) ** 2 for weight, one in zip(weights, groups, strict=True)) / (k - 1)
    lack = math.fsum((1 - weight / total) ** 2 / (one.n - 1) for weight, one in zip(weights, groups, strict=True))
    f = top / (1 + 2 * (k - 2) / (k * k - 1) * lack)
    df2 = (k * k - 1) / (3 * lack)
    p = f_above(f, k - 1, df2)
    return Outcome(
        test=Tested(key="welch", name="Welch's one-way ANOVA", statistic=f, df=(k - 1, df2), p=p),
        effect=anova(groups).effect,
        working=(
            f"weights nᵢ/sᵢ²: {', '.join(map(number, weights))}; weighted mean {number(middle)}",
            f"F = (Σ wᵢ(meanᵢ − mean)²/(k−1)) / (1 + 2(k−2)/(k²−1)·Σ (1 − wᵢ/w)²/(nᵢ−1)) = {number(f)}",
            f"p = chance of a larger F on {k - 1} and {number(df2)} degrees of freedom = {number(p)}",
        ),
    )


def blocked(groups: Sequence[Group], blocks: Sequence[Sequence[str]]) -> Outcome:
    """Compare treatments within blocks (tray, shelf, day): a two-way analysis of variance without interaction.

    `blocks` names the block of each value of each group. Each treatment is set against the residual after both;
    gaps are borne (the treatments are then adjusted for the blocks). Fisher 1935, The Design of Experiments.
    BadTrial where treatments and blocks cannot be told apart, or nothing is left over.
    """
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    k = len(groups)
    y = np.array([value for one in groups for value in one.values])
    which = np.array([place for place, one in enumerate(groups) for _ in one.values])
    index = {name: place for place, name in enumerate(dict.fromkeys(block for one in blocks for block in one))}
    b = len(index)
    where = np.array([index[block] for one in blocks for block in one])
    sizes = np.bincount(where)
    # With the mean of its block taken from every column, what is left is the regression on treatments alone.
    apart = np.array([_less_block(one, where, sizes, np) for one in np.eye(k)[which].T[1:]]).T
    rest_of_y = _less_block(y, where, sizes, np)
    df1, df2 = k - 1, len(y) - (b + k - 1)
    if np.linalg.matrix_rank(apart, tol=1e-9 * math.sqrt(len(y))) < k - 1:
        raise BadTrial("Treatments and blocks cannot be told apart: some blocks must hold more than one treatment")
    if df2 < 1:
        raise BadTrial("There are no values left over to judge by: more blocks, or more values in each, are needed")
    fitted = np.linalg.lstsq(apart, rest_of_y, rcond=None)[0]
    rest = float(np.sum(rest_of_y**2))
    within = float(np.sum((rest_of_y - apart @ fitted) ** 2))
    if within <= 1e-20 * float(np.sum(y * y)):
        raise BadTrial("Treatments and blocks account for every value exactly: there is no spread to judge by")
    treated = max(0.0, rest - within)
    all_blocks = max(0.0, float(np.sum((y - y.mean()) ** 2)) - rest)
    mean_within = within / df2
    f = treated / df1 / mean_within
    p = f_above(f, df1, df2)
    eta = treated / (treated + within)
    cover = np.linalg.inv(apart.T @ apart)
    levels = [0.0, *map(float, fitted)]

    def error(one: int, other: int) -> float:
        line = np.zeros(k - 1)
        for place, sign in ((one, -1), (other, 1)):
            if place:
                line[place - 1] = sign
        return float(np.sqrt(mean_within * (line @ cover @ line)))

    pairs = tukey([one.name for one in groups], levels, error, df2)
    return Outcome(
        test=Tested(key="blocked", name="blocked two-way ANOVA", statistic=f, df=(df1, df2), p=p),
        difference=_two_groups(pairs, groups, error, df2),
        effect=Effect("partial eta squared", eta),
        pairs=pairs,
        working=(
            f"left over after the blocks alone: {number(rest)}; after blocks and treatments: {number(within)}",
            f"treatments: {number(treated)} on k − 1 = {df1}; blocks before them: {number(all_blocks)} on {b - 1}",
            f"residual: {number(within)} on n − b − k + 1 = {df2}",
            f"F = ({number(treated)}/{df1})/({number(within)}/{df2}) = {number(f)}",
            f"p = chance of a larger F on {df1} and {df2} degrees of freedom = {number(p)}",
            f"partial eta squared = treatments/(treatments + residual) = {number(eta)}",
            *pair_lines(pairs, df2, k),
        ),
        more={"blocks": b, "sum_of_squares": {"treatments": treated, "blocks": all_blocks, "residual": within}},
    )


def tukey(
    names: Sequence[str], means: Sequence[float], error: Callable[[int, int], float], df: float
) -> tuple[Pair, ...]:
    """Return all pairs, later minus earlier, so that the chance of one false alarm among them all is 5 %.

    `error` gives the standard error of a difference by the places of its groups. Tukey 1953; Kramer 1956,
    Biometrics 12:307-310, for unequal groups. No pairs of more than 12 groups.
    """
    k = len(names)
    if k > MOST_GROUPS:
        return ()
    point = range_point(LEVEL, k, df)
    found = []
    for one, other in itertools.combinations(range(k), 2):
        gap, unit = means[other] - means[one], error(one, other) / math.sqrt(2)
        p = range_above(abs(gap) / unit, k, df)
        found.append(Pair(f"{names[other]} - {names[one]}", gap, gap - point * unit, gap + point * unit, p))
    return tuple(found)


def pair_lines(pairs: Sequence[Pair], df: float, k: int) -> list[str]:
    """Return the working of the pairs, one line each."""
    if not pairs or k < 3:
        return []
    point = range_point(LEVEL, k, df)
    head = f"Tukey: interval = difference ± q·standard error/√2, q({k} groups, {number(df)}) = {number(point)}"
    return [head, *(f"{one.of} = {number(one.value)}: {_span(one)}, p = {number(one.p)}" for one in pairs)]


def _span(pair: Pair) -> str:
    return f"{number(pair.low)} to {number(pair.high)}"


def _two_groups(
    pairs: Sequence[Pair], groups: Sequence[Group], error: Callable[[int, int], float], df: float
) -> Difference | None:
    """Return the difference where there are just two groups: first minus second, as in every other test of two."""
    if len(groups) != 2:
        return None
    gap, half = -pairs[0].value, t_point(LEVEL, df) * error(0, 1)
    return Difference(gap, gap - half, gap + half, f"{groups[0].name} - {groups[1].name}")


def _less_block(column: Any, where: Any, sizes: Any, np: Any) -> Any:
    """Return a column with the mean of its block taken from each value."""
    return column - (np.bincount(where, weights=column) / sizes)[where]
