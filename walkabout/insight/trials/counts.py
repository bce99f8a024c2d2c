"""Counts of outcomes by treatment: Fisher's exact test, and chi-squared where the counts are large enough for it."""

import math
from collections.abc import Sequence

from walkabout.insight.trials.chances import chi_above, stats
from walkabout.insight.trials.counted import Counted, table_facts
from walkabout.insight.trials.exact import SEED, Exact, freeman_halton
from walkabout.insight.trials.intervals import newcombe, wilson
from walkabout.insight.trials.outcome import Difference, Effect, Outcome, Tested
from walkabout.insight.trials.say import chance, number, share
from walkabout.insight.trials.table import BadTrial

SMALL, SPARSE, LEAST = 5, 0.2, 1
"""Chi-squared bears expected counts below 5 in a fifth of the cells, none below 1: Cochran 1954, Biometrics 10:417."""
MOST = 5_000
"""Of at most how many plants the other odds ratio is worked out: beyond, the two are the same. Assumed."""


def fisher(counted: Counted) -> Outcome:
    """Compare shares exactly: Fisher 1935, The Design of Experiments, chapter 2.

    The difference is of shares, first group minus second, with Newcombe's interval; the effect the odds ratio of
    the sample, ad/(bc), with the interval of its logarithm. Some programs print another odds ratio, the likeliest
    one with all totals held: it is told beside it, as `odds_ratio_conditional`, with its exact interval. Of larger
    tables there is neither, but Cramer's V. BadTrial for fewer than two groups or outcomes.
    """
    if len(counted.groups) != 2 or len(counted.outcomes) != 2:
        return _fisher_of_many(counted)
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
        difference=Difference(value, low, high, of, f"share of {good}", first=first, second=second),
        effect=effect,
        working=(
            f"{good}: {first} {a} of {a + b} = {share(a / (a + b))}, {second} {c} of {c + d} = {share(c / (c + d))}",
            f"p = sum of the chances of all tables with the same totals that are no likelier = {number(p)}",
            f"difference of the shares ({of}) = {a}/{a + b} − {c}/{c + d} = {number(value)}",
            f"Wilson intervals: {first} {_span(a, a + b)}, {second} {_span(c, c + d)}",
            f"joined after Newcombe: {number(low)} to {number(high)}",
            f"odds ratio = ({a}·{d})/({b}·{c}) = {number(odds)}",
        ),
        notes=() if a * b * c * d else (_no_odds(counted, ((a, b), (c, d))),),
        more=table_facts(counted) | {"odds_ratio_conditional": _conditional(rows)},
    )


def _fisher_of_many(counted: Counted) -> Outcome:
    expected = _expected(counted)
    found = freeman_halton(counted.table)
    chi, df = _distance(counted, expected), _freedom(counted)
    name = "Fisher's exact test after Freeman and Halton"
    return Outcome(
        test=Tested(
            key="fisher",
            name=f"{name}, by dealing" if found.dealt else name,
            statistic=None,
            p=found.p,
            more={"tables": found.tables, "dealt": found.dealt},
        ),
        effect=Effect("Cramer's V", _cramer(counted, chi)),
        working=(_exact_line(found), _expected_line(counted, expected), _cramer_line(counted, chi)),
        notes=(f"Chi-squared = {number(chi)} on {df} gives {chance(chi_above(chi, df))}{_doubt(expected)}.",),
        more=table_facts(counted) | {"chi_squared": {"statistic": chi, "df": df, "p": chi_above(chi, df)}},
    )


def chi_squared(counted: Counted) -> Outcome:
    """Compare the shares of any number of groups and outcomes: Pearson 1900, without Yates' correction.

    Of two groups and two outcomes that with the correction is told beside it, as `yates`. BadTrial for fewer.
    """
    expected = _expected(counted)
    chi, df = _distance(counted, expected), _freedom(counted)
    p = chi_above(chi, df)
    difference = None
    notes, more = [], table_facts(counted)
    if len(counted.groups) == len(counted.outcomes) == 2:
        exact = fisher(counted)
        difference = exact.difference
        yates = stats().chi2_contingency(counted.table, correction=True)
        more["yates"] = {"statistic": float(yates.statistic), "p": float(yates.pvalue)}
        notes.append(
            f"With Yates' correction chi-squared = {number(float(yates.statistic))}, {chance(float(yates.pvalue))}; "
            f"Fisher's exact test gives {chance(exact.test.p)}."
        )
    elif doubt := _doubt(expected):
        found = freeman_halton(counted.table)
        how = f"dealing out {found.tables} tables by chance" if found.dealt else "Fisher's exact test"
        notes.append(f"{chance(p)}{doubt}; {how} gives {chance(found.p)}.")
    return Outcome(
        test=Tested(key="chi-squared", name="chi-squared test", statistic=chi, df=df, p=p),
        difference=difference,
        effect=Effect("Cramer's V", _cramer(counted, chi)),
        working=(
            _expected_line(counted, expected),
            f"chi-squared = Σ (seen − expected)²/expected = {number(chi)} on (rows − 1)(columns − 1) = {df}",
            f"p = chance of a larger chi-squared = {number(p)}",
            _cramer_line(counted, chi),
        ),
        notes=tuple(notes),
        more=more,
    )


def sparse(counted: Counted) -> bool:
    """Say whether expected counts are too small for chi-squared, by Cochran's rule: Fisher's exact test then."""
    every = [one for line in _expected(counted) for one in line]
    return min(every) < LEAST or sum(one < SMALL for one in every) > SPARSE * len(every)


def _expected(counted: Counted) -> list[list[float]]:
    """Return row total·column total/all; BadTrial where there are not two groups and two outcomes."""
    rows = [sum(row) for row in counted.table]
    columns = [sum(column) for column in zip(*counted.table, strict=True)]
    if min(len(rows), len(columns)) < 2 or not all((*rows, *columns)):
        raise BadTrial("Every plant had the same outcome: there is nothing to compare")
    return [[row * column / sum(rows) for column in columns] for row in rows]


def _distance(counted: Counted, expected: Sequence[Sequence[float]]) -> float:
    return math.fsum(
        (one - want) ** 2 / want
        for row, line in zip(counted.table, expected, strict=True)
        for one, want in zip(row, line, strict=True)
    )


def _freedom(counted: Counted) -> int:
    return (len(counted.groups) - 1) * (len(counted.outcomes) - 1)


def _cramer(counted: Counted, chi: float) -> float:
    n = sum(map(sum, counted.table))
    return math.sqrt(chi / (n * (min(len(counted.groups), len(counted.outcomes)) - 1)))


def _cramer_line(counted: Counted, chi: float) -> str:
    return f"Cramér's V = √(chi-squared/(n·(smaller side − 1))) = {number(_cramer(counted, chi))}"


def _expected_line(counted: Counted, expected: Sequence[Sequence[float]]) -> str:
    said = (f"{name} {', '.join(map(number, line))}" for name, line in zip(counted.groups, expected, strict=True))
    return f"expected = row total·column total/all: {'; '.join(said)}"


def _exact_line(found: Exact) -> str:
    if found.dealt:
        return (
            f"{found.tables} tables with the same totals were dealt by chance from the number {SEED}: "
            f"p = (those no likelier than the counted one + 1)/(all + 1) = {number(found.p)}; "
            f"dealing leaves ± {number(found.error, 2)}"
        )
    return (
        f"p = sum of the chances of all tables with the same totals that are no likelier ({found.tables} tables were "
        f"looked at) = {number(found.p)}"
    )


def _doubt(expected: Sequence[Sequence[float]]) -> str:
    """Say how rough chi-squared is; '' where no expected count is small."""
    every = [one for line in expected for one in line]
    few = sum(one < SMALL for one in every)
    verb = "is" if few == 1 else "are"
    return f", rough because {few} of {len(every)} expected counts {verb} below {SMALL}" if few else ""


def _conditional(rows: list[list[int]]) -> dict[str, float] | None:
    if sum(map(sum, rows)) > MOST:
        return None
    found = stats().contingency.odds_ratio(rows, kind="conditional")
    ends = found.confidence_interval()
    return {"value": float(found.statistic), "low": float(ends.low), "high": float(ends.high)}


def _no_odds(counted: Counted, rows: tuple[tuple[int, int], tuple[int, int]]) -> str:
    """Say why the odds ratio or its interval is no number, and what it is with a half added to each count."""
    (a, b), (c, d) = rows
    told = counted.told
    empty = next(
        f"0 {counted.outcomes[column]} in {name}"
        for name, row in zip(counted.groups, counted.table, strict=True)
        for column in (told, 1 - told)
        if row[column] == 0
    )
    odds = (a + 0.5) * (d + 0.5) / ((b + 0.5) * (c + 0.5))
    lacks = "has no interval" if b * c else "is beyond any number" if a * d else "cannot be reckoned"
    return (
        f"With {empty} the odds ratio {lacks}. With a half added to each count (Haldane 1956, from memory) it "
        f"is {number(odds, 3)}."
    )


def _span(count: int, of: int) -> str:
    low, high = wilson(count, of)
    return f"{number(low)} to {number(high)}"
