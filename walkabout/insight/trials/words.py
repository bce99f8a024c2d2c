"""What may be said: the interval first, then the chance, then what was not shown; never more than the values hold."""

import math

from walkabout.insight.trials.counts import Counted
from walkabout.insight.trials.design import Trial, unit_of
from walkabout.insight.trials.fits import Fit
from walkabout.insight.trials.outcome import ALPHA, LEVEL, Difference, Outcome
from walkabout.insight.trials.power import POWER, smallest_difference, smallest_f, smallest_paired
from walkabout.insight.trials.say import chance, count, in_hundred, listed, share, short
from walkabout.insight.trials.table import as_number
from walkabout.insight.trials.two_groups import differences

FEW = 6
"""Values in a group below which the result says that they are few. Assumed."""
IN_SPREADS, SMALL = ("Hedges g", "dz"), 0.2
"""Effects in standard deviations, and below what they are called small: Cohen 1988, Statistical Power Analysis."""
NARROW = 0.01
"""So near to ALPHA a p settles nothing either way. Assumed."""
ONE_ROOM = "This was one room and one time: it counts as a rule only when it comes out again."
NOT_NONE = "That is not the same as no difference"
RANKS = ("mann-whitney", "wilcoxon", "kruskal", "friedman")


def two_words(trial: Trial, outcome: Outcome, response: str, doubt: str = "") -> str:
    """Return the conclusion for two groups, paired or not; `doubt` is what a second test has against it."""
    difference = outcome.difference
    parts = []
    if difference is not None:
        parts.append(_gap(difference, response, unit_of(response)))
    parts.append(_shown(outcome, outcome.test.p < ALPHA, "a difference at least as large"))
    if outcome.test.p >= ALPHA:
        parts.append(_could_show(trial, response))
    if outcome.test.p < ALPHA and difference and _over_nothing(difference):
        parts.append("The interval reaches 0 all the same: take the result as a narrow one.")
    effect = outcome.effect
    if outcome.test.p < ALPHA and effect and effect.name in IN_SPREADS and abs(effect.value or 1.0) < SMALL:
        parts.append("It is small beside the spread of the values: whether so little matters, no test can say.")
    return " ".join([*parts, *_near(outcome.test.p, doubt), *_few([one.n for one in trial.groups]), ONE_ROOM])


def several_words(trial: Trial, outcome: Outcome, response: str, doubt: str = "") -> str:
    """Return the conclusion for several groups, in blocks or not; `doubt` is what a second test has against it."""
    if len(trial.groups) == 2 and outcome.difference is not None:
        return two_words(trial, outcome, response, doubt)
    unit = unit_of(response)
    p = outcome.test.p
    apart = [one for one in outcome.pairs if one.p < ALPHA]
    alike = [one for one in outcome.pairs if one.p >= ALPHA]
    parts = []
    if apart:
        said = listed([f"{_of(one.of)} by {short(one.low)} to {short(one.high)}{unit}" for one in apart[:4]])
        more = f" and {len(apart) - 4} more" if len(apart) > 4 else ""
        verb = "This pair differs" if len(apart) == 1 else "These pairs differ"
        parts.append(f"{verb} by more than chance in {response}, with {LEVEL * 100:.0f} % intervals: {said}{more}.")
    elif outcome.pairs:
        widest = max(outcome.pairs, key=lambda one: abs(one.value))
        parts.append(
            f"The widest difference in {response}, {_of(widest.of)}, may be anything from {short(widest.low)} to "
            f"{short(widest.high)}{unit} ({LEVEL * 100:.0f} % interval)."
        )
    parts.append(_shown(outcome, p < ALPHA, "differences among the groups at least as large", "Over all groups "))
    if p < ALPHA and not apart:
        parts.append(
            "Some of the groups differ, but the values do not settle which."
            if outcome.pairs
            else "At least one group differs from another; this test does not say which."
        )
    if p < ALPHA and apart and alike:
        few = listed([_of(one.of) for one in alike[:3]]) + (" and others" if len(alike) > 3 else "")
        parts.append(f"Not shown to differ, which is not the same as alike: {few}.")
    if p >= ALPHA:
        if apart:
            parts.append("The test of all groups at once does not bear the pairs out: take them as a hint only.")
        parts.append(_could_show(trial, response))
    return " ".join([*parts, *_near(p, doubt), *_few([one.n for one in trial.groups]), ONE_ROOM])


def count_words(counted: Counted, outcome: Outcome, response: str) -> str:
    """Return the conclusion for shares."""
    parts = []
    good = counted.outcomes[counted.told]
    good = good if as_number(good) is None else f"{response} = {good}"
    sizes = [sum(row) for row in counted.table]
    if outcome.difference is not None:
        gap = outcome.difference
        parts.append(
            f"The share of {good}, {_of(gap.of)}, may differ by anything from {short(100 * (gap.low or 0))} to "
            f"{short(100 * (gap.high or 0))} percentage points ({LEVEL * 100:.0f} % interval); as counted, by "
            f"{short(100 * gap.value)}."
        )
    elif 2 < len(counted.outcomes) <= 5:
        good = ", ".join(counted.outcomes)
        said = [f"{name} {', '.join(share(one / sum(row)) for one in row)};" for name, row in _rows(counted)[:6]]
        parts.append(f"Shares of {good}: {' '.join(said).rstrip(';')}{'; …' if len(sizes) > 6 else ''}.")
    else:
        said = [f"{name} {share(row[counted.told] / sum(row))}" for name, row in _rows(counted)[:6]]
        parts.append(f"Share of {good}: {', '.join(said)}{', …' if len(sizes) > 6 else ''}.")
    parts.append(_shown(outcome, outcome.test.p < ALPHA, "shares at least as far apart"))
    if outcome.test.p >= ALPHA and len(sizes) == 2:
        parts.append(_share_could_show(counted))
    if outcome.test.p < ALPHA and outcome.difference and _over_nothing(outcome.difference):
        parts.append("The interval reaches 0 all the same: take the result as a narrow one.")
    parts += _near(outcome.test.p)
    if min(sizes) < 10:
        parts.append(f"Only {min(sizes)} counted in a group: one or two more could turn the result.")
    return " ".join([*parts, ONE_ROOM])


def ratio_words(outcome: Outcome) -> str:
    """Return the conclusion for a ratio."""
    parts = ":".join(short(one) for one in outcome.more["ratio"])
    n = sum(outcome.more["counts"])
    seen = f"{n} counted. If {parts} were right, chance alone would bring counts at least as far from it "
    seen += f"{in_hundred(outcome.test.p)} ({chance(outcome.test.p)})."
    if outcome.test.p < ALPHA:
        return f"{seen} The counts do not go well with {parts}. {ONE_ROOM}"
    return (
        f"{seen} The counts go with {parts}; that proves nothing, for other ratios near it go with them too. {ONE_ROOM}"
    )


def fit_words(fits: list[tuple[str, Fit]], response: str, over: str) -> str:
    """Return what fitted lines or curves say; each with the name of its group, '' for all values."""
    unit = unit_of(response)
    parts = []
    for name, found in fits:
        head = f"{name}: " if name else ""
        first, last = found.points[0][0], found.points[-1][0]
        span = f"Nothing is known outside {over} {short(first)} to {short(last)}."
        if found.curve == "line":
            slope = found.terms[1]
            parts.append(
                f"{head}for each 1 of {over}, {response} changes by {short(slope.low)} to {short(slope.high)}{unit} "
                f"({LEVEL * 100:.0f} % interval); best guess {short(slope.value)}."
            )
            if found.p is not None and found.p >= ALPHA:
                parts.append("No slope is shown; that is not the same as no slope.")
        else:
            top = found.terms[0]
            parts.append(
                f"{head}the curve ({found.curve}) heads for {short(top.low)} to {short(top.high)}{unit} of {response} "
                f"({LEVEL * 100:.0f} % interval); best guess {short(top.value)}."
            )
        parts.append(f"Values lie about {short(found.sd)}{unit} from the line. {span}")
    parts[0] = _capital(parts[0])
    return " ".join([*parts, "A line that fits shows how, not why.", ONE_ROOM])


def _gap(difference: Difference, response: str, unit: str) -> str:
    of = _of(difference.of)
    what = {"means": "mean", "mean of the differences": "mean"}.get(difference.kind, "typical")
    if difference.low is None or difference.high is None:
        return (
            f"{_capital(response)}: the {what} difference, {of}, is {short(difference.value)}{unit}; this test has no "
            "interval for so few or so many values."
        )
    return (
        f"{_capital(response)}: the {what} difference, {of}, may be anything from {short(difference.low)} to "
        f"{short(difference.high)}{unit} ({LEVEL * 100:.0f} % interval); best guess {short(difference.value)}{unit}."
    )


def _shown(outcome: Outcome, shown: bool, what: str, head: str = "") -> str:  # noqa: FBT001 - a sentence either way
    by = f"{outcome.test.name}, {chance(outcome.test.p)}"
    often = f"chance alone would make {what} {in_hundred(outcome.test.p)} ({by})"
    if shown:
        return f"{head + 'this' if head else 'This'} is more than chance: if the treatment did nothing, {often}."
    said = f"{head}no difference is shown" if head else "No difference shown"
    return f"{said}: if the treatment did nothing, {often}. {NOT_NONE}."


def _could_show(trial: Trial, response: str) -> str:
    """Say how large a difference the trial would have found four times in five."""
    unit = unit_of(response)
    groups = trial.groups
    often = f"found {round(POWER * 5)} times in 5"
    if trial.design == "paired":
        gaps = differences(*groups)
        least, n = smallest_paired(gaps.n), count(gaps.n, "pair")
        return (
            f"With {n} only a mean difference of about {short(least * (gaps.sd or 0))}{unit} or more would be {often}."
        )
    freedom = sum(one.n for one in groups) - len(groups)
    sd = math.sqrt(math.fsum(one.squares for one in groups) / freedom) if freedom else 0.0
    if trial.design == "blocked" or not sd:
        return "More plots would show smaller differences."
    if len(groups) == 2:
        least = smallest_difference(groups[0].n, groups[1].n)
        n = f"{groups[0].n} and {groups[1].n} values"
        return f"With {n} only a difference of about {short(least * sd)}{unit} or more would be {often}."
    even = len(groups) / math.fsum(1 / one.n for one in groups)
    if even < 2:
        return "More plots would show smaller differences."
    # The widest pair of means apart, the others between them: the least f for its distance (Cohen 1988, section 8.2).
    least = smallest_f(len(groups), even) * math.sqrt(2 * len(groups))
    n = f"about {even:.0f} values in each"
    return f"With {n}, groups would have to lie about {short(least * sd)}{unit} apart to be {often}."


def _share_could_show(counted: Counted) -> str:
    """Say what share the first group would have needed, by Cohen's h, to be told from the second."""
    (_, first), (name, second) = _rows(counted)
    n1, n2 = sum(first), sum(second)
    base = second[counted.told] / n2
    # 1.96 and 0.84: the normal points for a two-sided 5 % and a power of 80 %.
    step = (1.96 + 0.8416) * math.sqrt(1 / n1 + 1 / n2)
    angle = 2 * math.asin(math.sqrt(base))
    ends = [share(math.sin(end / 2) ** 2) for end in (angle - step, angle + step) if 0 <= end <= math.pi]
    if not ends:
        return f"With {n1} and {n2} counted, hardly any difference could have been shown."
    if len(ends) == 2:
        far = f"below about {ends[0]} or above about {ends[1]}"
    else:
        far = f"{'below' if angle - step >= 0 else 'above'} about {ends[0]}"
    return f"Against {share(base)} in {_named(name)}, only a share {far} would be found 4 times in 5."


def _rows(counted: Counted) -> list[tuple[str, tuple[int, ...]]]:
    return list(zip(counted.groups, counted.table, strict=True))


def _near(p: float, doubt: str = "") -> list[str]:
    """Return what a second test has against a result, or that a p near the line of 5 in 100 settles little."""
    if doubt:
        return [doubt]
    close = "That is close to 5 in 100, a line drawn by custom: the next run may well fall on the other side."
    return [close] if abs(p - ALPHA) <= NARROW else []


def _over_nothing(difference: Difference) -> bool:
    return difference.low is not None and difference.high is not None and difference.low <= 0 <= difference.high


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _few(sizes: list[int]) -> list[str]:
    if min(sizes) >= FEW:
        return []
    return [f"Only {count(min(sizes), 'value')} in a group: one odd plant can turn the result; {FEW} or more say more."]


def _of(of: str) -> str:
    names = of.split(" - ")
    return " − ".join(map(_named, names) if len(names) == 2 else names)


def _named(name: str) -> str:
    """Put marks about a name that is a number: two with a minus between them would read as a sum."""
    return name if as_number(name) is None else f'"{name}"'
