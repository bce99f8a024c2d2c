"""What may be said: the interval first, then the chance, then what was not shown; never more than the values hold."""

import math

from walkabout.insight.trials.could import could_show, named, share_could_show
from walkabout.insight.trials.counted import Counted
from walkabout.insight.trials.design import Trial, unit_of
from walkabout.insight.trials.intervals import wilson
from walkabout.insight.trials.outcome import ALPHA, LEVEL, Difference, Outcome, Pair
from walkabout.insight.trials.say import chance, count, in_hundred, listed, share, short
from walkabout.insight.trials.table import as_number

FEW = 6
"""Values in a group below which the result says that they are few. Assumed."""
IN_SPREADS, SMALL = ("Hedges g", "dz"), 0.2
"""Effects in standard deviations, and below what they are called small: Cohen 1988, Statistical Power Analysis."""
NARROW = 0.01
"""So near to ALPHA a p settles nothing either way. Assumed."""
ONE_ROOM = "This was one room and one time: it counts as a rule only when it comes out again."
SHARED_OUT = "Whether the treatment did it depends on how the plants were shared out."
ELSE = "Whether {0} itself did it depends on what else differed between the groups."
BY_LOT = "The treatments were drawn by lot, which speaks for the treatment, if nothing else differed."
NOT_NONE = "That is not the same as no difference"


def two_words(
    trial: Trial, outcome: Outcome, response: str, doubt: str = "", *, by: str = "treatment", lot: bool | None = None
) -> str:
    """Return the conclusion for two groups, paired or not; `doubt` is what a second test has against it.

    `lot`: the treatments were drawn by lot, so that what differs by more than chance is theirs; None for a table of
    no room.
    """
    difference = outcome.difference
    parts = []
    if difference is not None:
        parts.append(_gap(difference, response, unit_of(response)))
    p = outcome.test.judged
    parts.append(_shown(outcome, p < ALPHA, "a difference at least as large", by=by, doubt=doubt, lot=lot))
    if p >= ALPHA:
        parts.append(could_show(trial, outcome, response))
    if p < ALPHA and difference and _over_nothing(difference):
        parts.append("The interval reaches 0 all the same: take the result as a narrow one.")
    effect = outcome.effect
    if p < ALPHA and effect and effect.name in IN_SPREADS and abs(effect.value or 1.0) < SMALL:
        parts.append("It is small beside the spread of the values: whether so little matters, no test can say.")
    parts += _acts(outcome)
    return " ".join([*parts, *_near(p, doubt), *_few([one.n for one in trial.groups]), *_room(lot is not None)])


def several_words(
    trial: Trial, outcome: Outcome, response: str, doubt: str = "", *, by: str = "treatment", lot: bool | None = None
) -> str:
    """Return the conclusion for several groups, in blocks or not; `doubt` and `lot` as for two groups."""
    if len(trial.groups) == 2 and outcome.difference is not None:
        return two_words(trial, outcome, response, doubt, by=by, lot=lot)
    unit = unit_of(response)
    p = outcome.test.judged
    apart = [one for one in outcome.pairs if one.p < ALPHA]
    alike = [one for one in outcome.pairs if one.p >= ALPHA]
    parts = []
    if apart:
        said = listed([f"{_versus(one)} by {short(one.low)} to {short(one.high)}{unit}" for one in apart[:4]])
        more = f" and {len(apart) - 4} more" if len(apart) > 4 else ""
        verb = "This pair differs" if len(apart) == 1 else "These pairs differ"
        verb = f"By the usual test {verb[:1].lower()}{verb[1:]}" if doubt else verb
        parts.append(f"{verb} by more than chance in {response}, with {LEVEL * 100:.0f} % intervals: {said}{more}.")
    elif outcome.pairs:
        widest = max(outcome.pairs, key=lambda one: abs(one.value))
        parts.append(
            f"The widest difference in {response}, {_versus(widest)}, may be anything from {short(widest.low)} to "
            f"{short(widest.high)}{unit} ({LEVEL * 100:.0f} % interval)."
        )
    among = "differences among the groups at least as large"
    parts.append(_shown(outcome, p < ALPHA, among, "Over all groups ", by=by, doubt=doubt, lot=lot))
    if p < ALPHA and not apart:
        parts.append(
            "Some of the groups differ, but the values do not settle which."
            if outcome.pairs
            else "At least one group differs from another; this test does not say which."
        )
    if p < ALPHA and apart and alike:
        few = listed([_versus(one) for one in alike[:3]]) + (" and others" if len(alike) > 3 else "")
        parts.append(f"Not shown to differ, which is not the same as alike: {few}.")
    if p >= ALPHA:
        if apart:
            parts.append("The test of all groups at once does not bear the pairs out: take them as a hint only.")
        parts.append(could_show(trial, outcome, response))
    parts += _acts(outcome)
    return " ".join([*parts, *_near(p, doubt), *_few([one.n for one in trial.groups]), *_room(lot is not None)])


def count_words(counted: Counted, outcome: Outcome, response: str, by: str = "treatment", *, room: bool = False) -> str:
    """Return the conclusion for shares; `room`: they were counted in a trial of a room."""
    parts = []
    good = counted.outcomes[counted.told]
    good = good if as_number(good) is None else f"{response} = {good}"
    sizes = [sum(row) for row in counted.table]
    if outcome.difference is not None:
        gap = outcome.difference
        seen = " and ".join(share(row[counted.told] / sum(row)) for row in counted.table)
        parts.append(
            f"The share of {good}, {_versus(gap)}, may differ by anything from {short(100 * (gap.low or 0))} to "
            f"{short(100 * (gap.high or 0))} percentage points ({LEVEL * 100:.0f} % interval); as counted "
            f"{seen}, {short(abs(100 * gap.value))} points apart."
        )
    elif 2 < len(counted.outcomes) <= 5:
        good = ", ".join(counted.outcomes)
        said = [f"{name} {', '.join(share(one / sum(row)) for one in row)};" for name, row in _rows(counted)[:6]]
        parts.append(f"Shares of {good}: {' '.join(said).rstrip(';')}{'; …' if len(sizes) > 6 else ''}.")
    else:
        said = [f"{name} {share(row[counted.told] / sum(row))}" for name, row in _rows(counted)[:6]]
        parts.append(f"Share of {good}: {', '.join(said)}{', …' if len(sizes) > 6 else ''}.")
    lot = False if room else None
    parts.append(_shown(outcome, outcome.test.p < ALPHA, "shares at least as far apart", by=by, lot=lot))
    if outcome.test.p >= ALPHA and len(sizes) == 2:
        parts.append(share_could_show(counted))
    if outcome.test.p < ALPHA and outcome.difference and _over_nothing(outcome.difference):
        parts.append("The interval reaches 0 all the same: take the result as a narrow one.")
    parts += _near(outcome.test.p)
    if min(sizes) < 10:
        parts.append(f"Only {min(sizes)} counted in a group: one or two more could turn the result.")
    return " ".join([*parts, *_room(room)])


def ratio_words(outcome: Outcome, between: float | None = None, tray: str = "tray", *, room: bool = True) -> str:
    """Return the conclusion for a ratio; `between` is the p of trays that disagree, None where there is none."""
    parts = ":".join(short(one) for one in outcome.more["ratio"])
    counts = outcome.more["counts"]
    n = sum(counts)
    often = f"{in_hundred(outcome.test.p)} ({chance(outcome.test.p)})"
    said = [f"{n} counted. If {parts} were right, chance alone would bring counts at least as far from it {often}."]
    if outcome.test.p < ALPHA:
        said.append(f"The counts do not go well with {parts}.")
    else:
        said.append(f"The counts go with {parts}; that proves nothing, for other ratios near it go with them too.")
    if len(counts) == 2:
        name, wanted = outcome.more["outcomes"][0], outcome.more["ratio"][0] / sum(outcome.more["ratio"])
        low, high = wilson(counts[0], n)
        said.append(
            f"{capital(name)}: {share(counts[0] / n)} as counted, {share(wanted)} by {parts}; any share from "
            f"{share(low)} to {share(high)} goes with the counts ({LEVEL * 100:.0f} % interval)."
        )
    said += _near(outcome.test.p)
    if between is not None and between < ALPHA:
        said.append(f"But the {tray}s disagree by more than chance: do not trust them all together.")
    return " ".join([*said, *_room(room)])


def _gap(difference: Difference, response: str, unit: str) -> str:
    of = _versus(difference)
    if difference.kind.startswith("mean share") and difference.low is not None and difference.high is not None:
        ends = f"{short(100 * difference.low)} to {short(100 * difference.high)} percentage points"
        return (
            f"{capital(response)}: the mean difference, {of}, may be anything from {ends} ({LEVEL * 100:.0f} % "
            f"interval); best guess {short(100 * difference.value)}."
        )
    what = f"{'typical' if difference.kind.startswith('shift') else 'mean'} difference"
    what += ", adjusted for blocks" if "adjusted" in difference.kind else ""
    if difference.low is None or difference.high is None:
        return (
            f"{capital(response)}: the {what}, {of}, is {short(difference.value)}{unit}; this test has no interval "
            "here."
        )
    if difference.low == difference.high:
        return (
            f"{capital(response)}: the {what}, {of}, is {short(difference.value)}{unit}; the values that settle it "
            "agree so closely that its interval is that one number."
        )
    low, high, value = (_even_with(one, difference) for one in (difference.low, difference.high, difference.value))
    return (
        f"{capital(response)}: the {what}, {of}, may be anything from {short(low)} to {short(high)}{unit} "
        f"({LEVEL * 100:.0f} % interval); best guess {short(value)}{unit}."
    )


def _even_with(value: float, difference: Difference) -> float:
    """Round to the third digit of the interval's width: beyond it a number near 0 has digits that mean nothing."""
    width = (difference.high or 0.0) - (difference.low or 0.0)
    digits = 2 - math.floor(math.log10(width)) if width > 0 else 0
    return round(value, digits) if 0 <= digits <= 300 else value


def _shown(
    outcome: Outcome,
    shown: bool,  # noqa: FBT001 - a sentence either way
    what: str,
    head: str = "",
    *,
    by: str = "treatment",
    doubt: str = "",
    lot: bool | None = None,
) -> str:
    test = outcome.test
    name = f"{test.name}{'' if test.judged == test.p else ' by counting'}, {chance(test.judged)}"
    often = f"chance alone would make {what} {in_hundred(test.judged)} ({name})"
    if_not = f"if {_called(by)} made no difference, {often}."
    if doubt:
        return f"{head + 'two' if head else 'Two'} tests read this differently, so it is in doubt: {if_not}"
    if shown:
        said = f"{head + 'this' if head else 'This'} is more than chance: {if_not}"
        return f"{said} {BY_LOT if lot else SHARED_OUT if lot is not None else ELSE.format(_called(by))}"
    said = f"{head}no difference is shown" if head else "No difference shown"
    return f"{said}: {if_not} {NOT_NONE}."


def _called(by: str) -> str:
    return f"the {by}" if by.casefold() in ("treatment", "group") else by


def _room(room: bool) -> list[str]:  # noqa: FBT001 - a sentence or none
    return [ONE_ROOM] if room else []


def _rows(counted: Counted) -> list[tuple[str, tuple[int, ...]]]:
    return list(zip(counted.groups, counted.table, strict=True))


def _near(p: float, doubt: str = "") -> list[str]:
    """Return what a second test has against a result, or that a p near the line of 5 in 100 settles little."""
    if doubt:
        return [doubt]
    close = (
        "A chance so near 5 in 100, a line drawn by custom, settles little: the next run may fall on the other side."
    )
    return [close] if abs(p - ALPHA) <= NARROW else []


def _over_nothing(difference: Difference) -> bool:
    return difference.low is not None and difference.high is not None and difference.low <= 0 <= difference.high


def capital(text: str) -> str:
    """Return a text with its first letter a capital."""
    return text[:1].upper() + text[1:]


def _few(sizes: list[int]) -> list[str]:
    if min(sizes) >= FEW:
        return []
    return [f"Only {count(min(sizes), 'value')} in a group: one odd plant can turn the result; {FEW} or more say more."]


def _acts(outcome: Outcome) -> list[str]:
    """Return what must be added where the treatments act differently from block to block."""
    seen = outcome.more.get("interaction")
    if seen is None or seen["p"] >= ALPHA:
        return []
    return [f"But the treatments do not act alike in every block ({chance(seen['p'])}): look at each block by itself."]


def _versus(difference: Difference | Pair) -> str:
    return f"{named(difference.first)} − {named(difference.second)}"
