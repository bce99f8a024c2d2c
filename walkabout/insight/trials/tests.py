"""The tests by name: which fits which design, which stands in where nothing is asked for, and a second look."""

import math
import re
from collections.abc import Callable, Sequence

from msgspec import Struct

from walkabout.insight.trials import permute, ranks, several, two_groups
from walkabout.insight.trials.design import Trial
from walkabout.insight.trials.outcome import ALPHA, Group, Outcome, Outlier
from walkabout.insight.trials.say import chance, listed
from walkabout.insight.trials.table import BadTrial
from walkabout.room.mistakes import nearest

ALIASES = {
    "t": "t",
    "t-test": "t",
    "ttest": "t",
    "welch-t": "welch",
    "welchs": "welch",
    "welchs-t": "welch",
    "welch-anova": "welch",
    "welchs-anova": "welch",
    "unequal": "welch",
    "unequal-variance": "welch",
    "unequal-variances": "welch",
    "independent": "welch",
    "independent-t": "welch",
    "two-sample": "welch",
    "two-sample-t": "welch",
    "unpaired": "welch",
    "unpaired-t": "welch",
    "student": "student",
    "students": "student",
    "student-t": "student",
    "students-t": "student",
    "pooled-t": "pooled",
    "equal": "pooled",
    "equal-variance": "pooled",
    "equal-variances": "pooled",
    "paired-t": "paired",
    "pairs": "paired",
    "matched": "paired",
    "matched-pairs": "paired",
    "dependent": "paired",
    "dependent-t": "paired",
    "wilcox": "wilcoxon",
    "signed-rank": "wilcoxon",
    "wilcoxon-signed-rank": "wilcoxon",
    "mannwhitney": "mann-whitney",
    "mann-whitney-u": "mann-whitney",
    "mannwhitneyu": "mann-whitney",
    "mwu": "mann-whitney",
    "wilcoxon-mann-whitney": "mann-whitney",
    "mann-whitney-wilcoxon": "mann-whitney",
    "u": "mann-whitney",
    "rank-sum": "mann-whitney",
    "wilcoxon-rank-sum": "mann-whitney",
    "perm": "permutation",
    "randomisation": "permutation",
    "randomization": "permutation",
    "sign-flip": "permutation",
    "f": "anova",
    "oneway": "anova",
    "one-way": "anova",
    "one-way-anova": "anova",
    "anova-one-way": "anova",
    "tukey": "anova",
    "tukeys": "anova",
    "tukey-hsd": "anova",
    "hsd": "anova",
    "kruskalwallis": "kruskal",
    "kruskal-wallis": "kruskal",
    "block": "blocked",
    "blocks": "blocked",
    "blocked-anova": "blocked",
    "blocked-two-way": "blocked",
    "blocked-two-way-anova": "blocked",
    "two-way": "blocked",
    "two-way-anova": "blocked",
    "anova-two-way": "blocked",
    "randomised-block": "blocked",
    "randomized-block": "blocked",
    "randomised-blocks": "blocked",
    "randomized-blocks": "blocked",
    "rcbd": "blocked",
    "fisher-exact": "fisher",
    "fishers-exact": "fisher",
    "exact": "fisher",
    "chi2": "chi-squared",
    "chi": "chi-squared",
    "chisq": "chi-squared",
    "chi-sq": "chi-squared",
    "pearson": "chi-squared",
    "chisquared": "chi-squared",
    "chi-square": "chi-squared",
    "x2": "chi-squared",
    "χ2": "chi-squared",
    "χ²": "chi-squared",
    "goodness-of-fit": "ratio",
}
"""Other words for a test; "t", "student" and, in blocks, "anova" mean what fits the design."""

FITS = {
    "two groups": ("welch", "pooled", "mann-whitney", "permutation", "anova", "kruskal"),
    "paired": ("paired", "wilcoxon", "permutation"),
    "several groups": ("anova", "welch", "kruskal", "permutation"),
    "blocked": ("blocked", "friedman", "permutation"),
    "counts": ("fisher", "chi-squared"),
    "ratio": ("ratio",),
}
"""The tests of each design, the usual one first."""

KNOWN = tuple(dict.fromkeys(name for names in FITS.values() for name in names))
COUNTED = ("fisher", "chi-squared", "ratio")
PLENTY = 2000
"""Values beyond which means settle whatever the shape, and no second look is taken. Assumed."""


class Second(Struct, frozen=True):
    """Another test that may be the safer reading, and why."""

    because: str
    outcome: Outcome


def test_key(name: str) -> str:
    """Return the key of a test by any of its names; BadTrial names the nearest."""
    typed = "-".join(re.findall(r"[\w²]+", re.sub(r"['’]", "", name.casefold()).replace("_", " ")))
    for typed_as in (typed, typed.removesuffix("-test")):
        key = ALIASES.get(typed_as, typed_as)
        if key in KNOWN or key in ("t", "student"):
            return key
    raise BadTrial(f'There is no test "{name[:40]}". {nearest(typed, KNOWN) or "It can be: " + ", ".join(KNOWN)}')


def fitting(design: str, key: str | None) -> str:
    """Return the test for a design: the usual one where none is asked for. BadTrial where it does not fit."""
    tests = FITS[design]
    if key is None:
        return tests[0]
    usual = tests[0] if design in ("two groups", "paired") else key
    meant = {"t": usual, "student": "paired" if design == "paired" else "pooled"}.get(key, key)
    meant = "blocked" if (design, meant) == ("blocked", "anova") else meant
    if meant in tests:
        return meant
    hint = {
        "paired": " Say which column pairs the values: --pair COL.",
        "wilcoxon": " Say which column pairs the values: --pair COL; unpaired groups by ranks: mann-whitney.",
        "blocked": " Say which column holds the blocks: --block COL.",
        "friedman": " Say which column holds the blocks: --block COL.",
        "ratio": " Give the ratio itself, such as --ratio 3:1.",
        "t": " It compares two groups.",
        "pooled": " It compares two groups.",
        "mann-whitney": " It compares two groups.",
        "fisher": " It takes words or 0 and 1 in the response.",
        "chi-squared": " It takes words or 0 and 1 in the response.",
    }.get(meant, "")
    if design == "paired" and meant in ("welch", "pooled", "mann-whitney"):
        hint = " It looks past the pairs: leave --pair out if that is meant."
    raise BadTrial(f'The test "{meant}" does not go with this design ({design}).{hint} What goes: {", ".join(tests)}')


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
        return several.blocked(groups, trial.blocks)
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
    if sum(one.n for one in groups) > PLENTY or key in (
        "permutation",
        "mann-whitney",
        "wilcoxon",
        "kruskal",
        "friedman",
    ):
        return None
    looked = (two_groups.differences(*groups),) if trial.design == "paired" else groups
    reasons = []
    if outliers:
        reasons.append("some values lie far from the others")
    if lopsided := [one.name for one in looked if _lopsided(one)]:
        reasons.append(f"the values are lopsided ({listed(lopsided)})")
    if min(one.n for one in looked) < 5 and trial.design != "blocked":
        reasons.append("there are few values")
    safer = {"two groups": "permutation", "paired": "wilcoxon", "several groups": "kruskal", "blocked": "permutation"}
    if key == "pooled" or (key == "anova" and len(groups) == 2):
        if uneven(groups):
            reasons, safer = [uneven(groups)], safer | {"two groups": "welch"}
    elif key == "anova" and uneven(groups):
        reasons, safer = [uneven(groups)], safer | {"several groups": "welch"}
    if not reasons:
        return None
    try:
        return Second(listed(reasons), run(trial, safer[trial.design]))
    except BadTrial:
        return None


def second_line(second: Second, first: Outcome) -> str:
    """Say what the second look gives, and whether it is the same reading."""
    p = second.outcome.test.p
    same = (p < ALPHA) == (first.test.p < ALPHA)
    reading = "the same reading" if same else "another reading, and the safer one"
    say = second.because[:1].upper() + second.because[1:]
    return f"{say}: the {second.outcome.test.name} leans less on that. It gives {chance(p)}: {reading}."


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
