"""How words of a table are written: amounts that are no numbers, and one group written in two ways."""

from collections.abc import Sequence

from walkabout.insight.trials.table import BadTrial, Table, as_number, with_unit


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
