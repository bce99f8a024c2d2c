"""How the columns of a table are crossed: which of them says for how many plants a row stands, or of how many."""

from collections.abc import Sequence

from walkabout.insight.trials.columns import (
    called_count,
    called_expected,
    called_label,
    called_opposite,
    called_share,
    called_total,
    coded,
    may_be_called_count,
    numbering,
    numbers,
    once,
    others,
    quoted,
    whole,
)
from walkabout.insight.trials.counted import BAD, GOOD
from walkabout.insight.trials.say import listed
from walkabout.insight.trials.table import BadTrial, Table

SHARES = (
    '"{0}" holds amounts or shares, no whole numbers of plants: shares of few and of many say different things. Write '
    "how many there were; if these are counts: --count {1}"
)


def no_counts(table: Table, name: str) -> bool:
    """Say whether a column holds numbers that count no plants: shares, amounts, what is below 0."""
    return bool(numbers(table, name)) and (called_share(name) or not whole(table, name))


def totals_hint(table: Table, response: str, by: str) -> str:
    """Say which option tells of how many the response is a part; '' where no other column counts."""
    found = counting(table, [response, by])
    cells = {one: table.numbers(one) for one in (response, *found)}
    sums = [one for one in found if any(_adds_up(cells[response], cells[two], cells[one]) for two in found)]
    larger = [one for one in found if not called_opposite(one) and _no_less(cells[one], cells[response])]
    totals = sums or larger
    rest = [] if totals and called_total(totals[0]) else [one for one in found if one not in sums]
    said = [f'where "{totals[0]}" holds the totals: --of {quoted(totals[0])}'] if totals else []
    every = quoted("+".join((response, *rest)))
    others_named = " and ".join(f'"{one}"' for one in rest)
    said += [f"where {others_named} holds the others: --of {every}"] if rest else []
    return "; ".join(said)


def _adds_up(*columns: Sequence[float | None]) -> bool:
    whole_rows = [row for row in zip(*columns, strict=True) if None not in row]
    return bool(whole_rows) and all((one or 0) + (two or 0) == total for one, two, total in whole_rows)


def _no_less(one: Sequence[float | None], other: Sequence[float | None]) -> bool:
    return all(a >= b for a, b in zip(one, other, strict=True) if a is not None and b is not None)


def weight(table: Table, outcome: str, by: str | None) -> tuple[str | None, tuple[str, ...], str]:
    """Return the column that says for how many plants a row stands, by its name and the way the table is crossed.

    Beside it what was read unasked, and what the conclusion should begin with where each row was taken for a plant
    though a column is called a count. BadTrial where the table does not settle it.
    """
    keys = [by] if by is not None else []
    found = [one for one in counting(table, [outcome, by]) if any(n != 1 for n in numbers(table, one))]
    named = [one for one in found if called_count(one)]
    if not found:
        shares = [one for one in others(table, [outcome, by]) if no_counts(table, one) and not called_expected(one)]
        if shares and len(table.rows) > 1 and once(table, outcome, *keys):
            raise BadTrial(f"{SHARES.format(shares[0], quoted(shares[0]))}; if each row is one plant: --count 1")
        return None, (), ""
    if not crossed(table, outcome, found, by):
        named = [one for one in named if not numbering(table, one, by)]
        labels = [one for one in others(table, [outcome, by]) if called_label(one) or not numbers(table, one)]
        if not named:
            return None, (), ""
        asked = f'If "{named[0]}" says for how many plants each row stands: --count {quoted(named[0])}'
        if labels and once(table, *labels, *keys):
            return None, (), f"Each row was taken for one plant. {asked}."
        raise BadTrial(f"{asked}; where each row is one plant: --count 1")
    single = found[0] if len(found) == 1 and (may_be_called_count(found[0]) or called_total(found[0])) else None
    name = named[0] if len(named) == 1 else single
    if name is None:
        said = listed([f'"{one}"' for one in named or found])
        raise BadTrial(
            f"Say which column tells for how many plants each row stands: --count COL ({said}); where each row is one "
            "plant: --count 1"
        )
    return (
        name,
        (f'Each row was taken for as many plants as "{name}" says. Where each row is one plant: --count 1.',),
        "",
    )


def crossed(table: Table, outcome: str, counts: Sequence[str], by: str | None) -> bool:
    """Say whether every combination stands on one line, and the outcomes make the difference.

    Rows with one plant each have a number of their own without the outcome, or come again with it.
    """
    beside = [one for one in others(table, [outcome, *counts, by]) if not numbers(table, one) or called_label(one)]
    keys = [*beside, *([by] if by is not None and by not in counts else [])]
    return once(table, outcome, *keys) and not once(table, *keys)


def counting(table: Table, used: Sequence[str | None]) -> list[str]:
    """Return the columns beside those used that may count: whole numbers, no labels, shares or amounts with a unit."""
    return [
        one
        for one in others(table, used)
        if whole(table, one)
        and not (
            called_label(one) or called_expected(one) or called_share(one) or ("(" in one and not called_count(one))
        )
    ]


def outcomes(table: Table, response: str, by: str) -> list[str]:
    """Return the columns of words that may be the outcomes where the response is called a count; else none.

    With the other words each names every row once, and without it they do not.
    """
    if not (may_be_called_count(response) and whole(table, response)):
        return []
    found = [one for one in others(table, [response, by]) if not (called_label(one) or numbers(table, one))]
    found = [one for one in found if None not in table.words(one) and crossed(table, one, [response], by)]
    return found if called_count(response) else [one for one in found if _known(table, one)]


def _known(table: Table, name: str) -> bool:
    return {word.casefold() for word in table.words(name) if word is not None} <= GOOD | BAD


def which_counts(table: Table, one: str, other: str) -> str:
    """Return which of two columns of whole numbers counts."""
    for says in (called_count, may_be_called_count, lambda name: not (called_label(name) or coded(table, name))):
        found = [name for name in (one, other) if says(name)]
        if len(found) == 1:
            return found[0]
    raise BadTrial(
        f'Both "{one}" and "{other}" hold whole numbers: say which counts, --response OUTCOME --count COL; where both '
        f"do: --response {quoted(one)} --of {quoted(one + '+' + other)}"
    )
