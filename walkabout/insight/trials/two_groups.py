"""Two groups: Welch's t test, the pooled t test on request, and the paired t test."""

import math
from collections.abc import Sequence

from walkabout.insight.trials.chances import t_above, t_both, t_point
from walkabout.insight.trials.intervals import hedges, pooled_sd, shifts_of_t, small_sample
from walkabout.insight.trials.outcome import LAST_DIGITS, LEVEL, Difference, Effect, Group, Outcome, Tested
from walkabout.insight.trials.say import number
from walkabout.insight.trials.table import BadTrial


class NoSpread(BadTrial):
    """Values so even that a test by their spread has nothing to go by; `even` says it in a sentence."""

    def __init__(self, even: str) -> None:
        super().__init__(f"{even}: there is no spread to judge by. The permutation test needs none")
        self.even = f"{even}."


def welch(first: Group, second: Group) -> Outcome:
    """Compare two means without taking for granted that both groups spread alike.

    Welch 1947, Biometrika 34:28-35; degrees of freedom after Satterthwaite 1946. NoSpread where nothing spreads.
    """
    sd1, sd2 = _spread(first), _spread(second)
    must_spread((first, second))
    part1, part2 = sd1**2 / first.n, sd2**2 / second.n
    error = math.sqrt(part1 + part2)
    df = (part1 + part2) ** 2 / (part1**2 / (first.n - 1) + part2**2 / (second.n - 1))
    working = [
        f"e₁ = s₁²/n₁ = {number(sd1)}²/{first.n} = {number(part1)}",
        f"e₂ = s₂²/n₂ = {number(sd2)}²/{second.n} = {number(part2)}",
        f"standard error = √(e₁ + e₂) = √({number(part1)} + {number(part2)}) = {number(error)}",
        f"degrees of freedom = (e₁ + e₂)²/(e₁²/(n₁−1) + e₂²/(n₂−1)) = {number(df)}",
    ]
    return _two("welch", "Welch's t test", first, second, error, df, working)


def pooled(first: Group, second: Group) -> Outcome:
    """Compare two means, taking for granted that both groups spread alike: Student 1908, Biometrika 6:1-25."""
    sd1, sd2 = _spread(first), _spread(second)
    must_spread((first, second))
    sd = pooled_sd(sd1, first.n, sd2, second.n)
    error = sd * math.sqrt(1 / first.n + 1 / second.n)
    df = first.n + second.n - 2
    working = [
        f"pooled sd = √(((n₁−1)·s₁² + (n₂−1)·s₂²)/{df}), with s₁ {number(sd1)} and s₂ {number(sd2)} = {number(sd)}",
        f"standard error = sd·√(1/n₁ + 1/n₂) = {number(sd)}·√(1/{first.n} + 1/{second.n}) = {number(error)}",
        f"degrees of freedom = n₁ + n₂ − 2 = {df}",
    ]
    return _two("pooled", "pooled t test (equal variances)", first, second, error, df, working)


def paired(first: Group, second: Group) -> Outcome:
    """Compare two means pair by pair; the groups hold the values in the order of the pairs. Student 1908.

    NoSpread where every pair differs by the same amount.
    """
    gaps = differences(first, second)
    if gaps.n < 2:
        raise BadTrial("There is 1 whole pair. A paired test needs at least 2, and says little below 6")
    sd = gaps.sd
    if not sd:
        raise NoSpread("Every pair differs by the same amount" if gaps.mean else "No pair differs")
    error, df = sd / math.sqrt(gaps.n), gaps.n - 1
    t = gaps.mean / error
    of = f"{first.name} - {second.name}"
    half = t_point(LEVEL, df) * error
    kind = "mean of the differences"
    p = t_both(t, df)
    dz = gaps.mean / sd
    sds = [one.sd or 0.0 for one in (first, second)]
    average = math.sqrt((sds[0] ** 2 + sds[1] ** 2) / 2)
    more = {"sd_of_differences": sd, "pairs_n": gaps.n}
    if average:
        more["g_average_sd"] = small_sample(df) * gaps.mean / average
    return Outcome(
        test=Tested(
            key="paired",
            name="paired t test",
            statistic=t,
            df=df,
            p=p,
            p_greater=t_above(t, df),
            p_less=t_above(-t, df),
        ),
        difference=Difference(
            gaps.mean, gaps.mean - half, gaps.mean + half, of, kind, first=first.name, second=second.name
        ),
        effect=Effect("dz", dz),
        working=(
            f"mean of the differences ({of}) = {number(gaps.mean * gaps.n)}/{gaps.n} = {number(gaps.mean)}",
            f"sd of the differences = √(sum of squares/(n−1)) = √({number(gaps.squares)}/{df}) = {number(sd)}",
            f"standard error = sd/√n = {number(sd)}/√{gaps.n} = {number(error)}",
            f"t = difference/standard error = {number(gaps.mean)}/{number(error)} = {number(t)}",
            f"p = chance of a t at least as far from 0 on n − 1 = {df} degrees of freedom, both sides = {number(p)}",
            _interval_line(gaps.mean, error, df),
            f"dz = mean of the differences/their sd = {number(gaps.mean)}/{number(sd)} = {number(dz)}",
        ),
        more=more,
    )


def differences(first: Group, second: Group) -> Group:
    """Return the differences of the pairs, first minus second; what only rounding makes differ is the same."""
    gaps = []
    for one, other in zip(first.values, second.values, strict=True):
        # 0.3 − 0.1 and 0.4 − 0.2 are the same step: the digits beyond what numbers of that size hold are dropped.
        digits = -math.floor(math.log10(2 * LAST_DIGITS * math.ulp(max(abs(one), abs(other)))))
        gaps.append(round(one - other, digits - 1) + 0.0)
    return Group("the differences", tuple(gaps), first.lines)


def must_spread(groups: Sequence[Group]) -> None:
    """NoSpread where no group has two values that differ; BadTrial where each has one value only."""
    must_be_several(groups)
    if Group("all", tuple(value for one in groups for value in one.values)).flat:
        raise NoSpread("Every value is the same")
    if all(one.flat for one in groups):
        raise NoSpread("Within each group every value is the same")


def must_be_several(groups: Sequence[Group]) -> None:
    """BadTrial where each group has one value only."""
    if all(one.n == 1 for one in groups):
        raise BadTrial("Each group has 1 value. At least one group needs 2, and all should have several")


def _spread(group: Group) -> float:
    if group.sd is None:
        raise BadTrial(f'"{group.name}" has 1 value. Each group needs at least 2, and says little below 6')
    return group.sd


def _two(key: str, name: str, first: Group, second: Group, error: float, df: float, working: list[str]) -> Outcome:
    base = second.values[0]
    gap = first.mean_above(base) - second.mean_above(base)
    t, half = gap / error, t_point(LEVEL, df) * error
    p = t_both(t, df)
    of = f"{first.name} - {second.name}"
    size = hedges(gap, _spread(first), first.n, 0.0, _spread(second), second.n)
    # By the t and the degrees of freedom of the test itself, so that the two cannot contradict each other.
    low, high = (size.j * error / size.sd * end for end in shifts_of_t(t, df))
    return Outcome(
        test=Tested(key=key, name=name, statistic=t, df=df, p=p, p_greater=t_above(t, df), p_less=t_above(-t, df)),
        difference=Difference(gap, gap - half, gap + half, of, first=first.name, second=second.name),
        effect=Effect("Hedges g", size.g, low, high),
        working=(
            f"difference ({of}) = {number(first.mean)} − {number(second.mean)} = {number(gap)}",
            *working,
            f"t = difference/standard error = {number(gap)}/{number(error)} = {number(t)}",
            f"p = chance of a t at least as far from 0 on {number(df)} degrees of freedom, both sides = {number(p)}",
            _interval_line(gap, error, df),
            f"d = difference/pooled sd = {number(gap)}/{number(size.sd)} = {number(size.d)}",
            f"g = d·(1 − 3/(4·df − 1)), df = n₁ + n₂ − 2: {number(size.d)}·{number(size.j)} = {number(size.g)}",
            (
                f"interval of g: the shifts under which t = {number(t)} is a {(1 - LEVEL) / 2:.3g} chance on either "
                f"side (noncentral t), times standard error/sd and that factor = {number(low)} to {number(high)}"
            ),
        ),
    )


def _interval_line(gap: float, error: float, df: float) -> str:
    point = t_point(LEVEL, df)
    return (
        f"{LEVEL:.0%} interval = difference ± t({number(df)})·standard error = {number(gap)} ± {number(point)}·"
        f"{number(error)} = {number(gap - point * error)} to {number(gap + point * error)}".replace("%", " %")
    )
