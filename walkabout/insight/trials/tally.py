"""Counts as rows of a table: how many of each group had each outcome, or how many had it of all."""

from collections.abc import Mapping, Sequence

from walkabout.insight.trials.counted import Counted
from walkabout.insight.trials.design import MOST_GROUPS, group_names, left_out_note, whole_numbers
from walkabout.insight.trials.spelling import must_be_words, spelt_alike
from walkabout.insight.trials.table import BadTrial, Table

SUMS = ("total", "totals", "sum", "all", "overall", "together")
"""What people call the sum of the rows above."""


def read_counts(table: Table, response: str, by: str, weight: str | None = None) -> tuple[Counted, tuple[str, ...]]:
    """Return how many of each group had each outcome; `weight` names a column that says how many a row stands for."""
    outcomes, groups = table.words(response), table.words(by)
    must_be_words(table, response, outcomes)
    many = whole_numbers(table, weight) if weight else [1] * len(table.rows)
    sums: dict[tuple[str, str], int] = {}
    left_out = []
    for row, outcome, group, n in zip(table.rows, outcomes, groups, many, strict=True):
        if outcome is None or group is None or n is None:
            left_out.append(row.line)
        else:
            sums[group, outcome] = sums.get((group, outcome), 0) + n
    names = group_names(table, [group for group, _ in sums], by)
    found = tuple(dict.fromkeys(outcome for (_, outcome), n in sums.items() if n))
    if len(found) < 2:
        raise BadTrial(f'{table.file}: every plant has the same word in "{response}": there is nothing to compare')
    if len(found) > MOST_GROUPS:
        raise BadTrial(f'{table.file}: "{response}" holds {len(found)} different words: is it the response?')
    rows = tuple(tuple(sums.get((name, outcome), 0) for outcome in found) for name in names)
    if empty := [name for name, row in zip(names, rows, strict=True) if not sum(row)]:
        raise BadTrial(f'{table.file}: "{empty[0]}" counts no plant at all: leave it out')
    no_sums(table, dict(zip(names, rows, strict=True)))
    no_sums(table, dict(zip(found, zip(*rows, strict=True), strict=True)))
    notes = left_out_note(left_out)
    return Counted(names, found, rows), (*notes, *spelt_alike(names), *spelt_alike(found))


def read_tally(table: Table, response: str, weight: str | None = None) -> tuple[dict[str, int], tuple[str, ...]]:
    """Return how many plants had each outcome, in the order of the table."""
    outcomes = table.words(response)
    many = whole_numbers(table, weight) if weight else [1] * len(table.rows)
    sums: dict[str, int] = {}
    left_out = []
    for row, outcome, n in zip(table.rows, outcomes, many, strict=True):
        if outcome is None or n is None:
            left_out.append(row.line)
        else:
            sums[outcome] = sums.get(outcome, 0) + n
    if len(sums) > MOST_GROUPS:
        raise BadTrial(f'{table.file}: "{response}" holds {len(sums)} different words: is it the response?')
    if not sums:
        raise BadTrial(f'{table.file}: no row holds a word in "{response}"')
    no_sums(table, {name: (n,) for name, n in sums.items()})
    return sums, left_out_note(left_out)


def no_sums(table: Table, rows: Mapping[str, Sequence[int]]) -> None:
    """BadTrial where one row is the sum of the others, and called so: it would be counted twice."""
    for name, row in rows.items():
        beside = [one for key, one in rows.items() if key != name]
        if (
            name.casefold() in SUMS
            and len(beside) > 1
            and list(row) == [sum(column) for column in zip(*beside, strict=True)]
        ):
            raise BadTrial(f'{table.file}: "{name}" is the sum of the others: leave it out of the table')
