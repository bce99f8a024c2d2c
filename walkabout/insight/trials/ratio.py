"""Counts against a ratio such as 3:1: all plants together, and whether the trays they stand in agree."""

import math
import re
from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct

from walkabout.insight.trials.chances import chi_above, stats
from walkabout.insight.trials.counts import SMALL
from walkabout.insight.trials.intervals import wilson
from walkabout.insight.trials.outcome import ALPHA, Effect, Outcome, Tested
from walkabout.insight.trials.say import chance, number
from walkabout.insight.trials.table import BadTrial, Table

BETTER = 2
"""So many times smaller chi-squared is where another order of the parts fits far better. Assumed."""


class Agreement(Struct, frozen=True):
    """Whether trays agree about a ratio: chi-squared of each added up, of all plants together, and what is left.

    What is left when the second is taken from the first is how far the trays disagree among themselves. Standard in
    genetics: Sokal and Rohlf, Biometry, on replicated tests of goodness of fit; Strickberger, Genetics (both from
    memory).
    """

    each: dict[str, float]
    """Chi-squared of each tray."""
    total: float
    total_df: int
    pooled: float
    pooled_df: int
    between: float
    """Chi-squared of heterogeneity."""
    between_df: int
    p: float
    """Of the heterogeneity."""
    least: float
    """The smallest expected count in a tray."""


def ratio(names: Sequence[str], seen: Sequence[int], parts: Sequence[float]) -> Outcome:
    """Set counts against a ratio, parts in the order of the names: Pearson 1900, Philosophical Magazine 50:157-175."""
    if len(seen) != len(parts):
        raise BadTrial(f"The ratio has {len(parts)} parts, but there are {len(seen)} outcomes: {', '.join(names[:12])}")
    if len(seen) < 2:
        raise BadTrial("There is one outcome only: a ratio is of two at least")
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


def read_expected(table: Table, outcome: str, column: str) -> tuple[tuple[str, ...], tuple[float, ...]]:
    """Return the parts that stand in a column of the table, with their names. BadTrial where they are not one each."""
    parts: dict[str, float] = {}
    for row, name, part in zip(table.rows, table.words(outcome), table.numbers(column), strict=True):
        if name is None:
            continue
        if part is None or part <= 0:
            raise BadTrial(f'{table.file}:{row.line}: each part of a ratio in "{column}" is a number above 0')
        if parts.setdefault(name, part) != part:
            raise BadTrial(f'"{name}" has several parts in "{column}": write the ratio out, such as --ratio 3:1')
    return tuple(parts), tuple(parts.values())


def far_better(order: Sequence[str], best: Sequence[str], sums: Mapping[str, int], parts: Sequence[float]) -> str:
    """Say that the parts would fit far better with the outcomes in another order; '' where they would not."""
    n, df = sum(sums.values()), len(parts) - 1
    if n == 0:
        return ""
    taken, other = (
        _distance([sums[one] for one in names], [n * part / sum(parts) for part in parts]) for names in (order, best)
    )
    if chi_above(taken, df) >= ALPHA or other > taken / BETTER:
        return ""
    first, second = (
        ", ".join(f"{name} {number(part)}" for name, part in zip(names, parts, strict=True)) for names in (order, best)
    )
    named = ", ".join(f"{name}={number(part)}" for name, part in zip(best, parts, strict=True))
    return (
        f"The parts were taken in the order of the table: {first}. By size, {second}, they fit far better: "
        f"chi-squared {number(other, 3)}, {chance(chi_above(other, df))}. If that is meant: --ratio '{named}'."
    )


def agreement(trays: Mapping[str, Sequence[int]], parts: Sequence[float]) -> Agreement | None:
    """Return whether trays agree about a ratio; None for fewer than two trays with plants. Counts go by the parts."""
    counted = {name: seen for name, seen in trays.items() if sum(seen)}
    if len(counted) < 2:
        return None
    whole, df = sum(parts), len(parts) - 1
    each = {name: _distance(seen, [sum(seen) * one / whole for one in parts]) for name, seen in counted.items()}
    sums = [sum(column) for column in zip(*counted.values(), strict=True)]
    pooled = _distance(sums, [sum(sums) * one / whole for one in parts])
    total = math.fsum(each.values())
    between, between_df = max(0.0, total - pooled), df * (len(counted) - 1)
    least = min(sum(seen) for seen in counted.values()) * min(parts) / whole
    p = chi_above(between, between_df)
    return Agreement(each, total, df * len(counted), pooled, df, between, between_df, p, least)


def agreement_lines(found: Agreement, tray: str = "tray") -> list[str]:
    """Return the working."""
    each = ", ".join(f"{name} {number(one)}" for name, one in found.each.items())
    added = f"added up = {number(found.total)} on {found.total_df}"
    left = f"{number(found.total)} − {number(found.pooled)} = {number(found.between)} on {found.between_df}"
    return [
        f"chi-squared of each {tray}: {each}",
        f"{added}; all together = {number(found.pooled)} on {found.pooled_df}",
        f"between the {tray}s (heterogeneity) = {left}, p = {number(found.p)}",
    ]


def agreement_note(found: Agreement, tray: str = "tray") -> str:
    """Say whether the trays agree, and what follows from it; `tray` is what they are called."""
    said = f"chi-squared of heterogeneity {number(found.between)} on {found.between_df}, {chance(found.p)}"
    rough = f" So few in a {tray} make this p rough." if found.least < SMALL else ""
    if found.p < ALPHA:
        return (
            f"The {tray}s disagree by more than chance ({said}): all of them together may hide that. Look at each "
            f"{tray}: other seed, kinds told apart differently, or plants that died.{rough}"
        )
    return f"The {tray}s do not disagree by more than chance ({said}).{rough}"


def agreement_facts(found: Agreement) -> dict[str, Any]:
    """Return it as plain values."""
    return {
        "heterogeneity": {"statistic": found.between, "df": found.between_df, "p": found.p},
        "total": {"statistic": found.total, "df": found.total_df},
        "trays": found.each,
    }


def kind_facts(names: Sequence[str], seen: Sequence[int]) -> tuple[dict[str, Any], ...]:
    """Return each kind with its count, and its share of all with the Wilson interval."""
    n = sum(seen)
    facts = []
    for name, one in zip(names, seen, strict=True):
        low, high = wilson(one, n)
        facts.append(
            {"name": name, "n": one, "mean": None, "sd": None, "share": one / n, "share_low": low, "share_high": high}
        )
    return tuple(facts)


def _distance(seen: Sequence[int], expected: Sequence[float]) -> float:
    return math.fsum((one - want) ** 2 / want for one, want in zip(seen, expected, strict=True))
