"""The tests run by name, and a second look by one that leans less on the shape of the values."""

import math
from collections.abc import Callable, Sequence

from msgspec import Struct

from walkabout.insight.trials import permute, ranks, several, two_groups
from walkabout.insight.trials.blocks import blocked
from walkabout.insight.trials.design import Trial
from walkabout.insight.trials.least import BY_CURVE, least_p
from walkabout.insight.trials.names import FITS
from walkabout.insight.trials.outcome import ALPHA, Group, Outcome, Outlier
from walkabout.insight.trials.say import chance, listed, number, with_article
from walkabout.insight.trials.table import BadTrial

EVEN = (
    "Without any spread neither the usual test nor an interval can be reckoned: in its place the permutation test "
    "dealt the values out again and counted. Values as even as this are rare: look whether they were measured finely "
    "enough, and each by itself."
)
PLENTY = 2000
"""Values beyond which means settle whatever the shape, and no second look is taken. Assumed."""


class Second(Struct, frozen=True):
    """Another test that may be the safer reading, and why."""

    because: str
    outcome: Outcome
    least: float = 0.0
    """The smallest p that it could give with so many values."""


def run(trial: Trial, key: str) -> Outcome:
    """Run a test that fits the design of a trial with numbers."""
    groups = trial.groups
    if key == "permutation":
        if trial.design == "two groups":
            return permute.two_groups(*groups)
        return permute.pairs(*groups) if trial.design == "paired" else permute.several(groups, trial.blocks)
    if key == "welch":
        return two_groups.welch(*groups) if len(groups) == 2 else several.welch_anova(groups)
    if key == "blocked":
        return blocked(groups, trial.blocks)
    if key == "friedman":
        return ranks.friedman(whole_blocks(trial))
    two: dict[str, Callable[[Group, Group], Outcome]] = {
        "pooled": two_groups.pooled,
        "paired": two_groups.paired,
        "wilcoxon": ranks.wilcoxon,
        "mann-whitney": ranks.mann_whitney,
    }
    if key in two:
        return two[key](*groups)
    return {"anova": several.anova, "kruskal": ranks.kruskal}[key](groups)


def run_or_count(trial: Trial, key: str, *, usual: bool) -> tuple[Outcome, str]:
    """Run a test that fits the design, or the permutation test where the usual one finds no spread to judge by.

    With it comes a sentence that says how even the values are; '' where the test `key` was run. A test that was asked
    for by name is never put aside: it raises NoSpread.
    """
    try:
        return run(trial, key), ""
    except two_groups.NoSpread as error:
        if not usual:
            raise
        return run(trial, "permutation"), error.even


def whole_blocks(trial: Trial) -> list[Group]:
    """Return the groups with one value a block, in one order of blocks; BadTrial where a block is not whole."""
    tables = []
    for group, blocks in zip(trial.groups, trial.blocks, strict=True):
        table = dict(zip(blocks, group.values, strict=True))
        if len(table) < len(blocks):
            raise BadTrial(
                f'Friedman\'s test takes one value for each treatment in each block; "{group.name}" has more'
            )
        tables.append(table)
    order = list(tables[0])
    for group, table in zip(trial.groups, tables, strict=True):
        if set(table) != set(order):
            raise BadTrial(f'Friedman\'s test takes whole blocks; "{group.name}" stands in other blocks than the rest')
    return [
        Group(one.name, tuple(table[block] for block in order)) for one, table in zip(trial.groups, tables, strict=True)
    ]


def second_look(trial: Trial, key: str, outliers: Sequence[Outlier]) -> Second | None:
    """Return what a test that leans less on the shape of the values gives, where that shape is in doubt."""
    groups = trial.groups
    if sum(one.n for one in groups) > PLENTY or key not in BY_CURVE:
        return None
    looked = (two_groups.differences(*groups),) if trial.design == "paired" else groups
    reasons = []
    if outliers:
        reasons.append("some values lie far from the others")
    if lopsided := [one.name for one in looked if _lopsided(one)]:
        reasons.append(f"the values are lopsided ({listed(lopsided)})")
    if min(one.n for one in looked) < 5 and trial.design != "blocked":
        reasons.append("there are few values")
    safer = {one: "wilcoxon" if one == "paired" else "permutation" for one in FITS}
    if key == "pooled" or (key == "anova" and len(groups) == 2):
        if uneven(groups):
            reasons, safer = [uneven(groups)], safer | {"two groups": "welch"}
    elif key == "anova" and uneven(groups):
        reasons, safer = [uneven(groups)], safer | {"several groups": "welch"}
    if not reasons:
        return None
    try:
        look = safer[trial.design]
        return Second(listed(reasons), run(trial, look), least_p(trial, look))
    except BadTrial:
        return None


def second_line(second: Second, first: Outcome) -> str:
    """Say what the second look gives, and whether it is the same reading."""
    p = second.outcome.test.judged
    say = second.because[:1].upper() + second.because[1:]
    head = f"{say}: {with_article(second.outcome.test.name)} leans less on that. It gives {chance(p)}"
    if (p < ALPHA) == (first.test.judged < ALPHA):
        return f"{head}: the same reading."
    if second.least >= ALPHA:
        return f"{head}; with so few values it cannot give less than {number(second.least, 2)}, whatever they are."
    return f"{head}: another reading, and the safer one."


def second_words(second: Second | None, first: Outcome) -> str:
    """Return what a conclusion must add where the second look reads otherwise; '' where it does not."""
    if second is None or (second.outcome.test.judged < ALPHA) == (first.test.judged < ALPHA):
        return ""
    name, p = with_article(second.outcome.test.name), chance(second.outcome.test.judged)
    if first.test.judged >= ALPHA:
        return f"But {second.because}, and {name}, which leans less on that, does find a difference ({p})."
    if second.least >= ALPHA:
        return "So few values can show this only if their spread is taken on trust: it is a hint to be borne out."
    return f"But {second.because}, and {name}, which leans less on that, does not bear it out ({p}): it is a hint only."


def uneven(groups: Sequence[Group]) -> str:
    """Say that the groups spread very differently; '' where they do not."""
    spreads = [one.sd for one in groups if one.sd is not None and one.n >= 5]
    if len(spreads) < 2 or max(spreads) <= 2.5 * min(spreads):
        return ""
    return "the groups spread very differently"


def _lopsided(group: Group) -> bool:
    """Say whether the skewness lies beyond twice its standard error, √(6/n); below 8 values nobody can tell."""
    if group.n < 8 or group.squares == 0:
        return False
    middle, spread = group.mean, math.sqrt(group.squares / group.n)
    skew = math.fsum(((one - middle) / spread) ** 3 for one in group.values) / group.n
    return abs(skew) > 2 * math.sqrt(6 / group.n)
