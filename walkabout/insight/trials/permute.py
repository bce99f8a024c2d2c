"""Permutation tests: how often chance alone, dealing the same values out again, makes as large a difference."""

from collections import Counter
from collections.abc import Callable, Sequence

from walkabout.insight.trials.blocks import blocked
from walkabout.insight.trials.dealing import SEED, Dealt, flipped, regrouped, regrouped_in_blocks
from walkabout.insight.trials.outcome import Difference, Effect, Group, Outcome, Tested
from walkabout.insight.trials.say import number
from walkabout.insight.trials.several import anova
from walkabout.insight.trials.table import BadTrial
from walkabout.insight.trials.two_groups import differences, must_be_several, paired, welch

NO_INTERVAL = "The interval is that of {}: regrouping gives none by itself."


def two_groups(first: Group, second: Group) -> Outcome:
    """Compare two means by regrouping: Fisher 1935; Pitman 1937, J. R. Stat. Soc. Suppl. 4:119-130."""
    must_be_several((first, second))
    dealt = regrouped(first.values, second.values)
    gap = _gap(first, second)
    return _said(dealt, gap, _interval(lambda: welch(first, second), gap, first, second), "regroupings")


def pairs(first: Group, second: Group) -> Outcome:
    """Compare pairs by turning the sign of each difference: Fisher 1935, The Design of Experiments, section 21."""
    gaps = differences(first, second)
    dealt = flipped(gaps.values)
    return _said(
        dealt, gaps.mean, _interval(lambda: paired(first, second), gaps.mean, first, second), "patterns of signs"
    )


def several(groups: Sequence[Group], blocks: Sequence[Sequence[str]] = ()) -> Outcome:
    """Compare several means by regrouping, within each block where there are blocks.

    The statistic is the F of the usual analysis: one-way, or that of the treatments adjusted for the blocks. Regrouping
    within blocks changes only the sum of squares of the treatments, so that is what is compared. Where no spread is
    left over for an F, it is the difference of two groups, or None.
    """
    must_be_several(groups)
    named = blocks or [[""] * one.n for one in groups]
    cells: dict[str, list[tuple[int, float]]] = {}
    for place, (one, where) in enumerate(zip(groups, named, strict=True)):
        for value, block in zip(one.values, where, strict=True):
            cells.setdefault(block, []).append((place, value))
    dealt = regrouped_in_blocks(list(cells.values()), len(groups))
    plain = _usual(groups, blocks)
    difference = plain.difference if plain else _bare_of(groups, named)
    statistic = plain.test.statistic if plain else difference.value if difference else None
    notes = plain.notes if plain and blocks else ()
    return Outcome(
        test=_tested(dealt, statistic, two_sided=False),
        difference=difference,
        effect=plain.effect if plain else None,
        working=(*_lines(dealt, "regroupings within blocks" if blocks else "regroupings"), *_shown(plain)),
        notes=(*notes, NO_INTERVAL.format("the F test")) if difference and plain else notes,
    )


def _usual(groups: Sequence[Group], blocks: Sequence[Sequence[str]]) -> Outcome | None:
    """Return the usual analysis by F; None where nothing is left over for it to judge by."""
    try:
        return blocked(groups, blocks) if blocks else anova(groups)
    except BadTrial:
        return None


def _shown(plain: Outcome | None) -> Sequence[str]:
    """Return the working of the usual F, up to the F itself."""
    lines = plain.working if plain else ()
    return lines[: 1 + next((at for at, one in enumerate(lines) if one.startswith("F = ")), -1)]


def _interval(
    usual: Callable[[], Outcome], gap: float, first: Group, second: Group
) -> tuple[Difference, Effect | None]:
    """Return the interval and effect of the t test; none where a t test has nothing to go by."""
    bare = _bare(gap, first, second)
    try:
        found = usual()
    except ValueError:
        return bare, None
    return found.difference or bare, found.effect


def _bare(gap: float, first: Group, second: Group) -> Difference:
    return Difference(gap, None, None, f"{first.name} - {second.name}", first=first.name, second=second.name)


def _bare_of(groups: Sequence[Group], blocks: Sequence[Sequence[str]]) -> Difference | None:
    """Return the difference of two groups that stand alike in every block; None of others, which want adjusting."""
    if len(groups) != 2 or Counter(blocks[0]) != Counter(blocks[1]):
        return None
    return _bare(_gap(*groups), *groups)


def _gap(first: Group, second: Group) -> float:
    """Return the difference of two means; 0 where all values are the same but for rounding."""
    if Group("all", first.values + second.values).flat:
        return 0.0
    base = second.values[0]
    return first.mean_above(base) - second.mean_above(base)


def _said(dealt: Dealt, gap: float, usual: tuple[Difference, Effect | None], what: str) -> Outcome:
    difference, effect = usual
    line = f"difference ({difference.of}) = {number(gap)}"
    return Outcome(
        test=_tested(dealt, gap, two_sided=True),
        difference=difference,
        effect=effect,
        working=(line, *_lines(dealt, what)),
        notes=() if difference.low is None else (NO_INTERVAL.format("the t test"),),
    )


def _tested(dealt: Dealt, statistic: float | None, *, two_sided: bool) -> Tested:
    return Tested(
        key="permutation",
        name="permutation test",
        statistic=statistic,
        p=dealt.p,
        p_greater=dealt.p_greater if two_sided else None,
        p_less=dealt.p_less if two_sided else None,
        more={"exact": dealt.exact, "arrangements": dealt.ways, "as_far": dealt.as_far}
        | ({} if dealt.exact else {"seed": SEED}),
    )


def _lines(dealt: Dealt, what: str) -> list[str]:
    how = "all" if dealt.exact else "random"
    out = [f"of {dealt.ways} {what} ({how}), {dealt.as_far} come out at least as far as the table"]
    if dealt.exact:
        return [*out, f"p = {dealt.as_far}/{dealt.ways} = {number(dealt.p)}"]
    return [*out, f"p = ({dealt.as_far} + 1)/({dealt.ways} + 1) = {number(dealt.p)}; drawn with the number {SEED}"]
