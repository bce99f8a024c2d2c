"""Several groups: one-way analysis of variance, all pairs after Tukey, and Welch's form."""

import itertools
import math
from collections.abc import Callable, Sequence

from walkabout.insight.trials.chances import f_above, range_above, range_point, t_point
from walkabout.insight.trials.outcome import (
    LEVEL,
    Difference,
    Effect,
    Group,
    Outcome,
    Pair,
    Tested,
)
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
    base = groups[0].values[0]
    means = [one.mean_above(base) for one in groups]
    middle = math.fsum(one.n * mean for one, mean in zip(groups, means, strict=True)) / n
    between = math.fsum(one.n * (mean - middle) ** 2 for one, mean in zip(groups, means, strict=True))
    df1, df2 = k - 1, n - k
    mean_within = within / df2
    f = between / df1 / mean_within
    p = f_above(f, df1, df2)
    eta = between / (between + within)
    omega = (between - df1 * mean_within) / (between + within + mean_within)

    def error(one: int, other: int) -> float:
        return math.sqrt(mean_within * (1 / groups[one].n + 1 / groups[other].n))

    pairs = tukey([one.name for one in groups], means, error, df2)
    return Outcome(
        test=Tested(key="anova", name="one-way ANOVA", statistic=f, df=(df1, df2), p=p),
        difference=just_two(pairs, groups, error, df2),
        effect=Effect("eta squared", eta),
        pairs=pairs,
        working=(
            f"mean of all = {number(base + middle)}, n = {n}",
            f"between the groups: Σ nᵢ·(meanᵢ − mean)² = {number(between)} on k − 1 = {df1}",
            f"within the groups: Σ (value − meanᵢ)² = {number(within)} on n − k = {df2}",
            f"F = ({number(between)}/{df1})/({number(within)}/{df2}) = {number(f)}",
            f"p = chance of a larger F on {df1} and {df2} degrees of freedom = {number(p)}",
            f"eta squared = between/(between + within) = {number(eta)}; omega squared, less hopeful, = {number(omega)}",
            *pair_lines(pairs, df2, k),
        ),
        notes=too_many(k),
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
        later, sooner = names[other], names[one]
        span = gap - point * unit, gap + point * unit
        found.append(Pair(f"{later} - {sooner}", gap, *span, p, first=later, second=sooner))
    return tuple(found)


def pair_lines(pairs: Sequence[Pair], df: float, k: int) -> list[str]:
    """Return the working of the pairs, one line each."""
    if not pairs or k < 3:
        return []
    point = range_point(LEVEL, k, df)
    head = (
        "Tukey, later group minus earlier: q = difference/(standard error/√2), standard error = √(mean square left·"
        f"(1/n₁ + 1/n₂)) of a plain table; interval = difference ± q({k} groups, {number(df)})·standard error/√2, "
        f"that q = {number(point)}"
    )
    return [head, *(_pair_line(one, point) for one in pairs)]


def _pair_line(pair: Pair, point: float) -> str:
    unit = (pair.high - pair.low) / (2 * point)
    q = abs(pair.value) / unit
    return (
        f"{pair.of} = {number(pair.value)}: standard error/√2 = {number(unit)}, q = {number(q)}, "
        f"{number(pair.low)} to {number(pair.high)}, p = {number(pair.p)}"
    )


def too_many(k: int) -> tuple[str, ...]:
    """Return a note where there are more groups than are compared in pairs."""
    return (f"Of more than {MOST_GROUPS} groups no pairs are compared; here are {k}.",) if k > MOST_GROUPS else ()


def just_two(
    pairs: Sequence[Pair], groups: Sequence[Group], error: Callable[[int, int], float], df: float, kind: str = "means"
) -> Difference | None:
    """Return the difference where there are just two groups: first minus second, as in every other test of two."""
    if len(groups) != 2:
        return None
    gap, half = -pairs[0].value, t_point(LEVEL, df) * error(0, 1)
    first, second = (one.name for one in groups)
    return Difference(gap, gap - half, gap + half, f"{first} - {second}", kind, first=first, second=second)
