"""The tests by name: what else they are called, which fits which design, and which is the usual one."""

import re

from walkabout.insight.trials.table import BadTrial
from walkabout.room.mistakes import nearest

ALIASES = {
    "t": "t",
    "t-test": "t",
    "ttest": "t",
    "welch-t": "two-sample",
    "welchs": "welch",
    "welchs-t": "two-sample",
    "welch-anova": "welch",
    "welchs-anova": "welch",
    "unequal": "welch",
    "unequal-variance": "welch",
    "unequal-variances": "welch",
    "independent": "two-sample",
    "independent-t": "two-sample",
    "two-sample": "two-sample",
    "two-sample-t": "two-sample",
    "unpaired": "two-sample",
    "unpaired-t": "two-sample",
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
    "gof": "ratio",
    "ttest-ind": "two-sample",
    "ttest-rel": "paired",
    "equal-var": "pooled",
    "signedrank": "wilcoxon",
    "ranksum": "mann-whitney",
    "ranksums": "mann-whitney",
    "f-oneway": "anova",
    "aov": "anova",
    "tukey-kramer": "anova",
    "anova-tukey": "anova",
    "friedmanchisquare": "friedman",
    "friedman-chisquare": "friedman",
    "twoway": "blocked",
    "twoway-anova": "blocked",
    "2-way": "blocked",
    "2way": "blocked",
    "2-way-anova": "blocked",
    "exact-permutation": "permutation",
    "permutation-exact": "permutation",
    "fishers": "fisher",
    "chi2-contingency": "chi-squared",
    "chisquare": "chi-squared",
}
"""Other words for a test; "t", "student", "two-sample" and, in blocks, "anova" mean what fits the design."""

MEANT = ("t", "student", "two-sample", "exact")
"""Words that mean one test or another: "exact" Fisher's of counts, and the permutation test of amounts."""
NOT_HERE = dict.fromkeys(("median", "mood", "moods"), "By ranks: mann-whitney for two groups, kruskal for several")

USUAL = ("auto", "automatic", "default", "usual")
"""Words for no test in particular: the usual one of the design."""

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


def test_key(name: str) -> str | None:
    """Return the key of a test by any of its names, None for the usual one; BadTrial names the nearest."""
    typed = "-".join(re.findall(r"[\w²]+", re.sub(r"['’]", "", name.casefold()).replace("_", " ")))
    if typed.removesuffix("-test") in USUAL:
        return None
    for typed_as in (typed, typed.removesuffix("-test")):
        key = ALIASES.get(typed_as, typed_as)
        if key in KNOWN or key in MEANT:
            return key
    known = NOT_HERE.get(typed.removesuffix("-test"))
    raise BadTrial(
        f'There is no test "{name[:40]}". {known or nearest(typed, KNOWN) or "It can be: " + ", ".join(KNOWN)}'
    )


def fitting(design: str, key: str | None) -> str:
    """Return the test for a design: the usual one where none is asked for. BadTrial where it does not fit."""
    tests = FITS[design]
    if key is None:
        return tests[0]
    usual = tests[0] if design in ("two groups", "paired") else key
    two = "welch" if design in ("two groups", "paired") else "two-sample"
    meant = {"t": usual, "two-sample": two, "student": "paired" if design == "paired" else "pooled"}.get(key, key)
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
        "two-sample": " It compares two groups.",
        "pooled": " It compares two groups.",
        "mann-whitney": " It compares two groups.",
        "fisher": " It takes words or 0 and 1 in the response.",
        "chi-squared": " It takes words or 0 and 1 in the response.",
    }.get(meant, "")
    if design == "paired" and meant in ("welch", "pooled", "mann-whitney"):
        hint = " It looks past the pairs: leave --pair out if that is meant."
    raise BadTrial(f'The test "{meant}" does not go with this design ({design}).{hint} What goes: {", ".join(tests)}')
