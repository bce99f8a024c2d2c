"""How words of a table are written: amounts that are no numbers, and one group written in two ways."""

import re
from collections.abc import Sequence

from walkabout.insight.trials.columns import once, others, quoted
from walkabout.insight.trials.table import BadTrial, Row, Table, as_number, with_unit

_UNIT = re.compile(r"([+−-]?\s*[\d.,]+(?:[eE][+-]?\d+)?)\s*([^\d\s.,+−-][^\d\s]{0,11})")
"""A number and the unit behind it."""
MEANS = ("mean", "average", "avg", "median")
SPREADS = ("sd", "se", "sem", "stdev", "std", "variance", "var", "standard deviation", "standard error")
"""Names of columns in a table of means, where the single values are gone."""


def bare(table: Table, *names: str) -> tuple[Table, tuple[str, ...]]:
    """Return a table in which columns with one unit behind every number hold the numbers, and what was so read."""
    notes = []
    for name in names:
        at, words = table.column(name), [one for one in table.words(name) if one is not None]
        if table.is_numbers(name) or not words:
            continue
        found = [_UNIT.fullmatch(one) for one in words]
        units = {one[2] for one in found if one is not None}
        if len(units) != 1 or not all(one is not None and as_number(one[1]) is not None for one in found):
            continue
        unit = units.pop()
        rows = tuple(
            Row(row.line, (*row.cells[:at], row.cells[at].removesuffix(unit).strip(), *row.cells[at + 1 :]))
            for row in table.rows
        )
        table = Table(table.file, table.names, rows)
        notes.append(f'"{name}" was read in {unit}, which stands behind each of its numbers.')
    return table, tuple(notes)


def no_summary(table: Table, response: str, by: str) -> None:
    """BadTrial where a table holds the means of groups in place of their values."""
    beside = [one.casefold().replace("_", " ") for one in others(table, [response, by])]
    called = response.casefold().split("_")[0].split(" ")[0]
    if once(table, by) and (called in MEANS or any(one in SPREADS for one in beside)):
        raise BadTrial(
            f'Each "{by}" stands on one line, and {quoted(response)} seems to hold means: a trial needs the single '
            "values, one a row, with a column that names the group"
        )


def must_be_words(table: Table, response: str, outcomes: Sequence[str | None]) -> None:
    """BadTrial where a column that was taken for words holds amounts, written so that they are no numbers."""
    found = [
        (row.line, one)
        for row, one in zip(table.rows, outcomes, strict=True)
        if one is not None and as_number(one) is None and with_unit(one)
    ]
    if 2 * len(found) > sum(1 for one in outcomes if one is not None):
        raise BadTrial(
            f'{table.file}:{found[0][0]}: column "{response}" holds "{found[0][1][:40]}". Write the number alone, such '
            "as 4.2, without marks between thousands; the unit goes with the column's name"
        )


def spelt_alike(names: Sequence[str]) -> list[str]:
    """Return a note where two groups differ only in capitals or blanks: a slip, most likely."""
    seen: dict[str, str] = {}
    for name in names:
        other = seen.setdefault("".join(name.casefold().split()), name)
        if other != name:
            return [f'"{other}" and "{name}" were taken for two groups: write them alike if they are one.']
    return []
