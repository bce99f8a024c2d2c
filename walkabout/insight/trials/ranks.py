"""Tests on ranks: Mann-Whitney, Wilcoxon's signed ranks, Kruskal-Wallis, Friedman."""

import itertools
import math
from collections import Counter
from collections.abc import Sequence

from walkabout.insight.trials.chances import stats, z_point
from walkabout.insight.trials.outcome import LEVEL, Difference, Effect, Group, Outcome, Tested
from walkabout.insight.trials.say import count, number
from walkabout.insight.trials.table import BadTrial
from walkabout.insight.trials.two_groups import differences

EXACT = 49
"""Up to this many values a group the chances of the ranks are counted, where no two values tie. Common practice."""
MOST_PAIRS = 4_000_000
"""Of values set against each other for the interval of a shift; beyond, none is given."""


def mann_whitney(first: Group, second: Group) -> Outcome:
    """Compare two groups by ranks: Mann and Whitney 1947, Annals of Mathematical Statistics 18:50-60.

    U counts for how many pairs the first is larger. Exact without ties up to 49 a group, else the normal
    approximation with ties and continuity. The difference is Hodges and Lehmann's shift.
    """
    x, y = first.values, second.values
    if len(set(x + y)) == 1:
        raise BadTrial("Every value is the same: there is nothing to rank")
    exact = len(set(x + y)) == len(x) + len(y) and max(len(x), len(y)) <= EXACT
    method = "exact" if exact else "asymptotic"
    u, p, greater, less = 0.0, 1.0, 1.0, 1.0
    for side in ("two-sided", "greater", "less"):
        found = stats().mannwhitneyu(x, y, alternative=side, method=method)
        u, chance = float(found.statistic), min(1.0, float(found.pvalue))
        p, greater, less = (
            chance if side == "two-sided" else p,
            chance if side == "greater" else greater,
            chance if side == "less" else less,
        )
    size = 2 * u / (len(x) * len(y)) - 1
    how = "counting every order of the ranks" if exact else "the normal approximation, with ties and continuity"
    return Outcome(
        test=Tested(
            key="mann-whitney",
            name="Mann-Whitney U test",
            statistic=u,
            p=p,
            p_greater=greater,
            p_less=less,
            more={"exact": exact, "u_other": len(x) * len(y) - u},
        ),
        difference=_shift(first, second),
        effect=Effect("rank-biserial", size),
        working=(
            f"U = pairs in which {first.name} is above {second.name}, ties as a half: {number(u)} of {len(x) * len(y)}",
            f"p, both sides, by {how} = {number(p)}",
            f"rank-biserial = 2·U/(n₁·n₂) − 1 = 2·{number(u)}/{len(x) * len(y)} − 1 = {number(size)}",
        ),
    )


def wilcoxon(first: Group, second: Group) -> Outcome:
    """Compare pairs by the ranks of their differences: Wilcoxon 1945, Biometrics Bulletin 1:80-83.

    Pairs without a difference are left out. The statistic V is the sum of the ranks of pairs in which the first is
    larger, as U counts those of the first; older tables go by the smaller of the two sums. Exact up to 49 pairs where
    no two differences tie and none is 0; else the normal approximation with ties and continuity, and the exact chance
    is told beside it.
    """
    gaps = [one for one in differences(first, second).values if one]
    if not gaps:
        raise BadTrial("No pair differs: there is nothing to rank")
    ranks = [float(one) for one in stats().rankdata([abs(one) for one in gaps])]
    above = math.fsum(rank for rank, gap in zip(ranks, gaps, strict=True) if gap > 0)
    below = math.fsum(ranks) - above
    tied = len(set(ranks)) < len(ranks)
    size = (above - below) / (above + below)
    dropped = first.n - len(gaps)
    exact = len(gaps) <= EXACT and not tied and not dropped
    counted = _signed_exact(ranks, above) if len(gaps) <= EXACT else None
    greater, less, p = counted if exact and counted else _signed_normal(ranks, above)
    how = "counting every pattern of signs" if exact else "the normal approximation, with ties and continuity"
    notes = [f"{count(dropped, 'pair')} without a difference left out of the ranks."] if dropped else []
    if counted and not exact:
        notes.append(f"Counting every pattern of signs of these ranks gives p = {number(counted[2], 3)}.")
    return Outcome(
        test=Tested(
            key="wilcoxon",
            name="Wilcoxon signed-rank test",
            statistic=above,
            p=p,
            p_greater=greater,
            p_less=less,
            more={
                "exact": exact,
                "rank_sum_above": above,
                "rank_sum_below": below,
                "smaller_sum": min(above, below),
                "p_counted": counted[2] if counted else None,
            },
        ),
        difference=_median_shift(first, second),
        effect=Effect("matched rank-biserial", size),
        working=(
            f"{len(gaps)} differences are not 0; each is ranked by its size",
            f"V = sum of the ranks of those above 0 = {number(above)}; those below sum to {number(below)}",
            f"p, both sides, by {how} = {number(p)}",
            f"matched rank-biserial = (above − below)/(above + below) = {number(size)}",
        ),
        notes=tuple(notes),
    )


def kruskal(groups: Sequence[Group]) -> Outcome:
    """Compare several groups by ranks: Kruskal and Wallis 1952, J. Am. Stat. Assoc. 47:583-621, with ties."""
    if len({value for one in groups for value in one.values}) == 1:
        raise BadTrial("Every value is the same: there is nothing to rank")
    found = stats().kruskal(*(one.values for one in groups))
    h, p, df = float(found.statistic), float(found.pvalue), len(groups) - 1
    n = sum(one.n for one in groups)
    return Outcome(
        test=Tested(key="kruskal", name="Kruskal-Wallis test", statistic=h, df=df, p=p),
        effect=Effect("epsilon squared", h / (n - 1)),
        working=(
            f"H = 12/(n(n+1))·Σ Rᵢ²/nᵢ − 3(n+1), divided by the correction for ties, n = {n}: {number(h)}",
            f"p = chance of a larger chi-squared on {df} degrees of freedom = {number(p)}",
            f"epsilon squared = H/(n−1) = {number(h)}/{n - 1} = {number(h / (n - 1))}",
        ),
    )


def friedman(groups: Sequence[Group]) -> Outcome:
    """Compare several groups in whole blocks by ranks; each group holds one value a block, in the same order.

    Friedman 1937, J. Am. Stat. Assoc. 32:675-701, with ties.
    """
    if len(groups) < 3:
        raise BadTrial("Friedman's test needs at least 3 groups. For 2 in blocks use --pair and the test wilcoxon")
    if all(len(set(row)) == 1 for row in zip(*(one.values for one in groups), strict=True)):
        raise BadTrial("Within each block every value is the same: there is nothing to rank")
    found = stats().friedmanchisquare(*(one.values for one in groups))
    q, p, df, n = float(found.statistic), float(found.pvalue), len(groups) - 1, groups[0].n
    return Outcome(
        test=Tested(key="friedman", name="Friedman test", statistic=q, df=df, p=p),
        effect=Effect("Kendall's W", q / (n * df)),
        working=(
            f"ranked within each of {n} blocks, Q = 12/(b·k(k+1))·Σ Rᵢ² − 3b(k+1), corrected for ties: {number(q)}",
            f"p = chance of a larger chi-squared on {df} degrees of freedom = {number(p)}",
            f"Kendall's W = Q/(b(k−1)) = {number(q)}/({n}·{df}) = {number(q / (n * df))}",
        ),
    )


def _signed_exact(ranks: Sequence[float], above: float) -> tuple[float, float, float]:
    """Return the chances of a sum as high, as low, and as far out, over every pattern of signs. Halves are doubled."""
    ways: Counter[int] = Counter({0: 1})
    for rank in ranks:
        step = round(2 * rank)
        ways = Counter(ways) + Counter({total + step: many for total, many in ways.items()})
    seen, every = round(2 * above), 2 ** len(ranks)
    greater = sum(many for total, many in ways.items() if total >= seen) / every
    less = sum(many for total, many in ways.items() if total <= seen) / every
    return greater, less, min(1.0, 2 * min(greater, less))


def _signed_normal(ranks: Sequence[float], above: float) -> tuple[float, float, float]:
    sd = math.sqrt(math.fsum(rank * rank for rank in ranks) / 4)
    far = above - math.fsum(ranks) / 2
    greater, less = (float(stats().norm.sf((side * far - 0.5) / sd)) for side in (1, -1))
    return greater, less, min(1.0, 2 * min(greater, less))


def _shift(first: Group, second: Group) -> Difference | None:
    """Return the median of all differences between the groups, with the interval that goes with U."""
    n1, n2 = first.n, second.n
    if n1 * n2 > MOST_PAIRS:
        return None
    gaps = sorted(one - other for one, other in itertools.product(first.values, second.values))
    sd = math.sqrt(n1 * n2 * (n1 + n2 + 1) / 12)
    ways = _u_ways(n1, n2) if max(n1, n2) <= EXACT else None
    return _around(gaps, ways, sd, f"{first.name} - {second.name}", "shift (Hodges-Lehmann)")


def _median_shift(first: Group, second: Group) -> Difference | None:
    """Return the median of the means of all pairs of differences, with the interval that goes with the rank sum.

    Differences of 0 are left out, as they are from the ranks.
    """
    gaps = [one for one in differences(first, second).values if one]
    n = len(gaps)
    if n * (n + 1) / 2 > MOST_PAIRS:
        return None
    means = sorted((one + other) / 2 for one, other in itertools.combinations_with_replacement(gaps, 2))
    ways = _w_ways(n) if n <= EXACT else None
    sd = math.sqrt(n * (n + 1) * (2 * n + 1) / 24)
    return _around(means, ways, sd, f"{first.name} - {second.name}", "shift (Hodges-Lehmann)")


def _around(gaps: Sequence[float], ways: Sequence[int] | None, sd: float, of: str, kind: str) -> Difference:
    """Cut as many gaps from each end as the chances of the rank sum allow; no interval where there are too few."""
    many = len(gaps)
    middle = (gaps[(many - 1) // 2] + gaps[many // 2]) / 2
    if ways is None:
        cut = math.floor(many / 2 - z_point(LEVEL) * sd)
    else:
        limit, total, cut = sum(ways) * (1 - LEVEL) / 2, 0, 0
        while total + ways[cut] <= limit:
            total += ways[cut]
            cut += 1
    if cut < 1:
        return Difference(middle, None, None, of, kind)
    return Difference(middle, gaps[cut - 1], gaps[many - cut], of, kind)


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
