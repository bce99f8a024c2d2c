"""Counts: two shares by Fisher's exact test, larger tables by chi-squared, and a ratio such as 3:1."""

import math
import re
from collections.abc import Sequence

from msgspec import Struct

from walkabout.insight.trials.chances import chi_above, stats
from walkabout.insight.trials.intervals import newcombe, wilson
from walkabout.insight.trials.outcome import Difference, Effect, Outcome, Tested
from walkabout.insight.trials.say import chance, number, share
from walkabout.insight.trials.table import BadTrial, as_number

GOOD = frozenset(
    (
        *("yes", "y", "true", "right", "correct", "success", "pass"),
        *("alive", "survived", "healthy", "germinated", "sprouted", "emerged", "up"),
        *("grown", "rooted", "flowered", "ripe"),
    )
)
"""Words for the outcome whose share is told, where one of two is such."""
SMALL = 5
"""Expected counts below this make chi-squared rough: Cochran 1954, Biometrics 10:417-451."""
DEALINGS, SEED, MOST = 4_999, 1, 5_000
"""How often, from which number, and of at most how many plants outcomes are dealt out where counts are small."""


class Counted(Struct, frozen=True):
    """How many of each group had each outcome: one row a group, one column an outcome."""

    groups: tuple[str, ...]
    outcomes: tuple[str, ...]
    table: tuple[tuple[int, ...], ...]

    @property
    def told(self) -> int:
        """Return the place of the outcome whose share is told: a word for going well, else the first."""
        words = [one.casefold() for one in self.outcomes]
        good = GOOD | {"t"} if set(words) == {"t", "f"} else GOOD
        return next((at for at, one in enumerate(words) if one in good or as_number(one) == 1), 0)


def fisher(counted: Counted) -> Outcome:
    """Compare two shares exactly: Fisher 1935, The Design of Experiments, chapter 2.

    The difference is of shares, first group minus second, with Newcombe's interval; the effect the odds ratio of
    the sample, ad/(bc), with the interval of its logarithm. Some programs print another odds ratio, the likeliest
    one with all totals held: it is told beside it, as `odds_ratio_conditional`, with its exact interval.
    """
    if len(counted.groups) != 2 or len(counted.outcomes) != 2:
        raise BadTrial("Fisher's exact test here takes 2 groups and 2 outcomes; for more, use the test chi-squared")
    told = counted.told
    (a, b), (c, d) = [(row[told], row[1 - told]) for row in counted.table]
    rows = [[a, b], [c, d]]
    p, greater, less = (
        min(1.0, float(stats().fisher_exact(rows, alternative=side).pvalue))
        for side in ("two-sided", "greater", "less")
    )
    value, low, high = newcombe(a, a + b, c, c + d)
    odds = a * d / (b * c) if b * c else (math.inf if a * d else math.nan)
    of = f"{counted.groups[0]} - {counted.groups[1]}"
    effect = Effect("odds ratio", odds)
    if a * b * c * d:
        found = stats().contingency.odds_ratio(rows, kind="sample").confidence_interval()
        effect = Effect("odds ratio", odds, float(found.low), float(found.high))
    good = counted.outcomes[told]
    first, second = counted.groups
    return Outcome(
        test=Tested(
            key="fisher",
            name="Fisher's exact test",
            statistic=odds,
            p=p,
            p_greater=greater,
            p_less=less,
        ),
        difference=Difference(value, low, high, of, f"share of {good}"),
        effect=effect,
        working=(
            f"{good}: {first} {a} of {a + b} = {share(a / (a + b))}, {second} {c} of {c + d} = {share(c / (c + d))}",
            f"p = sum of the chances of all tables with the same totals that are no likelier = {number(p)}",
            f"difference of the shares ({of}) = {a}/{a + b} − {c}/{c + d} = {number(value)}",
            f"Wilson intervals: {first} {_span(a, a + b)}, {second} {_span(c, c + d)}",
            f"joined after Newcombe: {number(low)} to {number(high)}",
            f"odds ratio = ({a}·{d})/({b}·{c}) = {number(odds)}",
        ),
        more=_table(counted) | {"odds_ratio_conditional": _conditional(rows)},
    )


def chi_squared(counted: Counted) -> Outcome:
    """Compare the shares of any number of groups and outcomes: Pearson 1900, without Yates' correction.

    Of two groups and two outcomes that with the correction is told beside it, as `yates`.
    """
    rows = [sum(row) for row in counted.table]
    columns = [sum(column) for column in zip(*counted.table, strict=True)]
    n = sum(rows)
    if min(len(rows), len(columns)) < 2:
        raise BadTrial("Every plant had the same outcome: there is nothing to compare")
    expected = [[row * column / n for column in columns] for row in rows]
    chi = _distance([count for row in counted.table for count in row], [count for line in expected for count in line])
    df = (len(rows) - 1) * (len(columns) - 1)
    p = chi_above(chi, df)
    v = math.sqrt(chi / (n * (min(len(rows), len(columns)) - 1)))
    difference = None
    notes, more = [], _table(counted)
    if len(rows) == len(columns) == 2:
        exact = fisher(counted)
        difference = exact.difference
        yates = stats().chi2_contingency(counted.table, correction=True)
        more["yates"] = {"statistic": float(yates.statistic), "p": float(yates.pvalue)}
        notes.append(
            f"With Yates' correction chi-squared = {number(float(yates.statistic))}, {chance(float(yates.pvalue))}; "
            f"Fisher's exact test gives {chance(exact.test.p)}."
        )
    elif min(min(line) for line in expected) < SMALL:
        notes.append(_rough(counted, chi, n))
    return Outcome(
        test=Tested(key="chi-squared", name="chi-squared test", statistic=chi, df=df, p=p),
        difference=difference,
        effect=Effect("Cramer's V", v),
        working=(
            "expected = row total·column total/all: "
            + "; ".join(
                f"{name} {', '.join(map(number, line))}" for name, line in zip(counted.groups, expected, strict=True)
            ),
            f"chi-squared = Σ (seen − expected)²/expected = {number(chi)} on (rows − 1)(columns − 1) = {df}",
            f"p = chance of a larger chi-squared = {number(p)}",
            f"Cramér's V = √(chi-squared/(n·(smaller side − 1))) = {number(v)}",
        ),
        notes=tuple(notes),
        more=more,
    )


def ratio(names: Sequence[str], seen: Sequence[int], parts: Sequence[float]) -> Outcome:
    """Set counts against a ratio, parts in the order of the names: Pearson 1900, Philosophical Magazine 50:157-175."""
    if len(seen) != len(parts):
        raise BadTrial(f"The ratio has {len(parts)} parts, but there are {len(seen)} outcomes: {', '.join(names[:12])}")
    n = sum(seen)
    if n == 0:
        raise BadTrial("All the counts are 0: there is nothing to set against a ratio")
    expected = [n * part / sum(parts) for part in parts]
    chi, df = _distance(seen, expected), len(parts) - 1
    p = chi_above(chi, df)
    notes = []
    if min(expected) < SMALL:
        notes.append(
            f"The ratio leads one to expect only {number(min(expected), 3)} of the rarest outcome: below {SMALL} the p "
            "is rough. Count more plants."
        )
    if df == 1:
        exact = float(stats().binomtest(int(seen[0]), int(n), parts[0] / sum(parts)).pvalue)
        notes.append(f"Counted exactly (binomial test) p = {number(exact, 3)}.")
    said = ":".join(number(one) for one in parts)
    return Outcome(
        test=Tested(key="ratio", name=f"chi-squared test of {said}", statistic=chi, df=df, p=p),
        effect=Effect("Cohen's w", math.sqrt(chi / n)),
        working=(
            f"expected of {n} by {said}: "
            + ", ".join(f"{name} {number(one)}" for name, one in zip(names, expected, strict=True)),
            "chi-squared = Σ (seen − expected)²/expected = "
            + " + ".join(f"({one} − {number(want)})²/{number(want)}" for one, want in zip(seen, expected, strict=True))
            + f" = {number(chi)} on parts − 1 = {df}",
            f"p = chance of a larger chi-squared = {number(p)}",
        ),
        notes=tuple(notes),
        more={"ratio": list(parts), "expected": expected, "outcomes": list(names), "counts": list(seen)},
    )


def read_ratio(text: str) -> tuple[tuple[str, ...], tuple[float, ...]] | None:
    """Read '9:3:3:1', or 'purple=3, white=1' with names; None where the text is neither.

    The name of the test may stand before it: 'chi-squared 9:3:3:1'.
    """
    text = re.sub(r"^\s*(ratio|chi-?squared?|chi-?sq|chi-?2|[χx]2|χ²)[\s:(]+(?=[^=]*:|[^:]*=)", "", text, flags=re.I)
    text = text.strip().removesuffix(")")
    if re.fullmatch(r"\s*\d+(\.\d+)?(\s*:\s*\d+(\.\d+)?)+\s*", text):
        parts = tuple(float(one) for one in text.split(":"))
        names: tuple[str, ...] = ()
    elif re.fullmatch(r"\s*[^=,]+=\s*\d+(\.\d+)?(\s*,\s*[^=,]+=\s*\d+(\.\d+)?)+\s*", text):
        pairs = [one.rsplit("=", 1) for one in text.split(",")]
        names, parts = tuple(name.strip() for name, _ in pairs), tuple(float(part) for _, part in pairs)
    else:
        return None
    if min(parts) <= 0 or max(parts) > 1e9 or len(set(names)) < len(names):
        raise BadTrial("Each part of a ratio is a number above 0, such as 3:1 or purple=3, white=1")
    return names, parts


def share_facts(counted: Counted) -> tuple[dict[str, object], ...]:
    """Return each group with its counts, and the share that is told with its Wilson interval.

    Of 0 and 1 the share is the mean too; words have none.
    """
    told = counted.told
    yes_no = len(counted.outcomes) == 2 and {as_number(one) for one in counted.outcomes} == {0.0, 1.0}
    facts = []
    for name, row in zip(counted.groups, counted.table, strict=True):
        n = sum(row)
        low, high = wilson(row[told], n)
        facts.append(
            {"name": name, "n": n, "mean": None, "sd": None}
            | (_yes_no(row[told], n) if yes_no else {})
            | {"counts": dict(zip(counted.outcomes, row, strict=True))}
            | {"share_of": counted.outcomes[told], "share": row[told] / n, "share_low": low, "share_high": high}
        )
    return tuple(facts)


def _yes_no(many: int, n: int) -> dict[str, float | None]:
    mean = many / n
    return {"mean": mean, "sd": math.sqrt(n * mean * (1 - mean) / (n - 1)) if n > 1 else None}


def _rough(counted: Counted, chi: float, n: int) -> str:
    """Say that chi-squared is rough, and what dealing the outcomes out again gives."""
    head = f"Some expected counts are below {SMALL}, where this p is rough"
    if n > MOST:
        return f"{head}."
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    who = np.repeat(np.arange(len(counted.groups)), [sum(row) for row in counted.table])
    what = np.concatenate([np.repeat(np.arange(len(row)), row) for row in counted.table])
    wide = len(counted.outcomes)
    size = len(counted.groups) * wide
    full = np.bincount(who * wide + what, minlength=size).reshape(-1, wide)
    expected = (full.sum(axis=1, keepdims=True) * full.sum(axis=0, keepdims=True) / n).ravel()
    dice = np.random.default_rng(SEED)
    far = 0
    for _ in range(DEALINGS):
        dealt = np.bincount(who * wide + dice.permutation(what), minlength=size)
        far += float(((dealt - expected) ** 2 / expected).sum()) >= chi * (1 - 1e-9)
    p = (far + 1) / (DEALINGS + 1)
    return f"{head}; dealing the outcomes out {DEALINGS} times by chance gives p = {number(p, 3)}."


def _distance(seen: Sequence[int], expected: Sequence[float]) -> float:
    return math.fsum((one - want) ** 2 / want for one, want in zip(seen, expected, strict=True))


def _conditional(rows: list[list[int]]) -> dict[str, float] | None:
    if sum(map(sum, rows)) > MOST:
        return None
    found = stats().contingency.odds_ratio(rows, kind="conditional")
    ends = found.confidence_interval()
    return {"value": float(found.statistic), "low": float(ends.low), "high": float(ends.high)}


def _span(count: int, of: int) -> str:
    low, high = wilson(count, of)
    return f"{number(low)} to {number(high)}"


def _table(counted: Counted) -> dict[str, object]:
    return {"outcomes": list(counted.outcomes), "counts": [list(row) for row in counted.table]}
