"""Tests on ranks: Mann-Whitney, Wilcoxon's signed ranks, Kruskal-Wallis, Friedman.

Where values tie or are few, the usual p is that of a curve, as most programs print it; the orders of the ranks are then
counted too (`p_counted`), and the words go by that count.
"""

import math
from collections import Counter
from collections.abc import Sequence

from walkabout.insight.trials import orders
from walkabout.insight.trials.chances import stats
from walkabout.insight.trials.outcome import Effect, Group, Outcome, Tested
from walkabout.insight.trials.say import chance, count, number
from walkabout.insight.trials.shifts import EXACT, paired_shift, shift
from walkabout.insight.trials.table import BadTrial
from walkabout.insight.trials.two_groups import differences

MOST_LISTED = 12
"""Groups whose rank sums are listed; of more the line would not be read. Assumed."""
NORMAL = "the normal approximation, with ties and continuity"


def mann_whitney(first: Group, second: Group) -> Outcome:
    """Compare two groups by ranks: Mann and Whitney 1947, Annals of Mathematical Statistics 18:50-60.

    U counts for how many pairs the first is larger. Exact without ties up to 49 a group, else the normal
    approximation with ties and continuity, and up to 49 a group the counted chance beside it. The difference is Hodges
    and Lehmann's shift.
    """
    x, y = first.values, second.values
    if len(set(x + y)) == 1:
        raise BadTrial("Every value is the same: there is nothing to rank")
    few = max(len(x), len(y)) <= EXACT
    exact = few and len(set(x + y)) == len(x) + len(y)
    method = "exact" if exact else "asymptotic"
    u, p, greater, less = 0.0, 1.0, 1.0, 1.0
    for side in ("two-sided", "greater", "less"):
        found = stats().mannwhitneyu(x, y, alternative=side, method=method)
        u, chance_of = float(found.statistic), min(1.0, float(found.pvalue))
        p, greater, less = (
            chance_of if side == "two-sided" else p,
            chance_of if side == "greater" else greater,
            chance_of if side == "less" else less,
        )
    sums, ranks = rank_sums((first, second))
    counted = p if exact else orders.of_two(ranks, first.n, sums[0])[2] if few else None
    size = 2 * u / (len(x) * len(y)) - 1
    how = "counting every order of the ranks" if exact else NORMAL
    return Outcome(
        test=Tested(
            key="mann-whitney",
            name="Mann-Whitney U test",
            statistic=u,
            p=p,
            p_greater=greater,
            p_less=less,
            more={"exact": exact, "u_other": len(x) * len(y) - u, "p_counted": counted},
        ),
        difference=shift(first, second),
        effect=Effect("rank-biserial", size),
        working=(
            f"U = pairs in which {first.name} is above {second.name}, ties as a half: {number(u)} of {len(x) * len(y)}",
            _sums_line((first, second), sums),
            f"U = R₁ − n₁(n₁+1)/2 = {number(sums[0])} − {number(len(x) * (len(x) + 1) / 2)} = {number(u)}",
            f"p, both sides, by {how} = {number(p)}",
            *_counted_line(p, counted),
            f"rank-biserial = 2·U/(n₁·n₂) − 1 = 2·{number(u)}/{len(x) * len(y)} − 1 = {number(size)}",
        ),
        notes=() if exact or counted is None else (_counted_note(NORMAL, p, counted),),
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
    counted = orders.of_signs(ranks, above) if len(gaps) <= EXACT else None
    greater, less, p = counted if exact and counted else _signed_normal(ranks, above)
    how = "counting every pattern of signs" if exact else NORMAL
    notes = [f"{count(dropped, 'pair')} without a difference left out of the ranks."] if dropped else []
    if counted and not exact:
        notes.append(_counted_note(NORMAL, p, counted[2], "pattern of signs"))
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
        difference=paired_shift(first, second, gaps),
        effect=Effect("matched rank-biserial", size),
        working=(
            f"{len(gaps)} differences are not 0; each is ranked by its size",
            f"V = sum of the ranks of those above 0 = {number(above)}; those below sum to {number(below)}",
            f"p, both sides, by {how} = {number(p)}",
            *_counted_line(p, counted[2] if counted else None, "pattern of signs"),
            f"matched rank-biserial = (above − below)/(above + below) = {number(size)}",
        ),
        notes=tuple(notes),
    )


def kruskal(groups: Sequence[Group]) -> Outcome:
    """Compare several groups by ranks: Kruskal and Wallis 1952, J. Am. Stat. Assoc. 47:583-621, with ties.

    The usual p is that of chi-squared; of few values the orders of the ranks are counted too, as in their table 6.1.
    """
    if len({value for one in groups for value in one.values}) == 1:
        raise BadTrial("Every value is the same: there is nothing to rank")
    found = stats().kruskal(*(one.values for one in groups))
    h, p, df = float(found.statistic), float(found.pvalue), len(groups) - 1
    n = sum(one.n for one in groups)
    sums, ranks = rank_sums(groups)
    counted = orders.of_several(ranks, [one.n for one in groups], sums)
    plain = 12 / (n * (n + 1)) * math.fsum(r * r / one.n for r, one in zip(sums, groups, strict=True)) - 3 * (n + 1)
    ties = 1 - sum(many**3 - many for many in Counter(ranks).values()) / (n**3 - n)
    return Outcome(
        test=Tested(key="kruskal", name="Kruskal-Wallis test", statistic=h, df=df, p=p, more={"p_counted": counted}),
        effect=Effect("epsilon squared", h / (n - 1)),
        working=(
            _sums_line(groups, sums),
            f"12/(n(n+1))·Σ Rᵢ²/nᵢ − 3(n+1), n = {n}: {number(plain)}",
            (
                f"H = that/(1 − Σ (t³ − t)/(n³ − n)), t values tied with each other: {number(plain)}/{number(ties)} = "
                f"{number(h)}"
            ),
            f"p = chance of a larger chi-squared on {count(df, 'degree')} of freedom = {number(p)}",
            *_counted_line(p, counted),
            f"epsilon squared = H/(n−1) = {number(h)}/{n - 1} = {number(h / (n - 1))}",
        ),
        notes=() if counted is None else (_counted_note("chi-squared", p, counted),),
    )


def friedman(groups: Sequence[Group]) -> Outcome:
    """Compare several groups in whole blocks by ranks; each group holds one value a block, in the same order.

    Friedman 1937, J. Am. Stat. Assoc. 32:675-701, with ties. The usual p is that of chi-squared; of few blocks the
    orders of the ranks are counted too.
    """
    if len(groups) < 3:
        raise BadTrial("Friedman's test needs at least 3 groups. For 2 in blocks use --pair and the test wilcoxon")
    rows = list(zip(*(one.values for one in groups), strict=True))
    if all(len(set(row)) == 1 for row in rows):
        raise BadTrial("Within each block every value is the same: there is nothing to rank")
    found = stats().friedmanchisquare(*(one.values for one in groups))
    q, p, k, n = float(found.statistic), float(found.pvalue), len(groups), groups[0].n
    ranked = [[float(one) for one in stats().rankdata(row)] for row in rows]
    sums = [math.fsum(column) for column in zip(*ranked, strict=True)]
    counted = orders.in_blocks(ranked, sums)
    plain = 12 / (n * k * (k + 1)) * math.fsum(one * one for one in sums) - 3 * n * (k + 1)
    ties = 1 - sum(many**3 - many for row in ranked for many in Counter(row).values()) / (n * (k**3 - k))
    return Outcome(
        test=Tested(key="friedman", name="Friedman test", statistic=q, df=k - 1, p=p, more={"p_counted": counted}),
        effect=Effect("Kendall's W", q / (n * (k - 1))),
        working=(
            f"ranked within each of {n} blocks; {_sums_line(groups, sums)}",
            f"12/(b·k(k+1))·Σ Rᵢ² − 3b(k+1), b = {n}, k = {k}: {number(plain)}",
            (
                f"Q = that/(1 − Σ (t³ − t)/(b(k³ − k))), t values tied in a block: {number(plain)}/{number(ties)} = "
                f"{number(q)}"
            ),
            f"p = chance of a larger chi-squared on {count(k - 1, 'degree')} of freedom = {number(p)}",
            *_counted_line(p, counted),
            f"Kendall's W = Q/(b(k−1)) = {number(q)}/({n}·{k - 1}) = {number(q / (n * (k - 1)))}",
        ),
        notes=() if counted is None else (_counted_note("chi-squared", p, counted),),
    )


def rank_sums(groups: Sequence[Group]) -> tuple[list[float], list[float]]:
    """Return the rank sum of each group, and all ranks; ties share the mean of their ranks."""
    ranks = [float(one) for one in stats().rankdata([value for one in groups for value in one.values])]
    sums, start = [], 0
    for one in groups:
        sums.append(math.fsum(ranks[start : start + one.n]))
        start += one.n
    return sums, ranks


def _sums_line(groups: Sequence[Group], sums: Sequence[float]) -> str:
    if len(groups) > MOST_LISTED:
        return f"rank sums R of {len(groups)} groups: {number(min(sums))} to {number(max(sums))}"
    listed = ", ".join(f"{one.name} {number(total)} (n = {one.n})" for one, total in zip(groups, sums, strict=True))
    return f"rank sums R, ties sharing their ranks: {listed}"


def _counted_note(curve: str, p: float, counted: float, orders_of: str = "order") -> str:
    """Say which p is the curve's and which is counted, and by which the words go."""
    return (
        f"{chance(p)} by {curve}; counting every {orders_of} of these ranks gives p = {number(counted, 3)}, "
        "and the words go by the count."
    )


def _counted_line(p: float, counted: float | None, orders_of: str = "order") -> tuple[str, ...]:
    """Return the line of the working for a counted chance; none where there is none, or where p is that chance."""
    if counted is None or counted == p:
        return ()
    return (f"p, counting every {orders_of} of these ranks = {number(counted)}; the words go by this one",)


def _signed_normal(ranks: Sequence[float], above: float) -> tuple[float, float, float]:
    sd = math.sqrt(math.fsum(rank * rank for rank in ranks) / 4)
    far = above - math.fsum(ranks) / 2
    greater, less = (float(stats().norm.sf((side * far - 0.5) / sd)) for side in (1, -1))
    return greater, less, min(1.0, 2 * min(greater, less))
