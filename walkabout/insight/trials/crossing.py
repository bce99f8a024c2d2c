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


def may_be_counted(table: Table, response: str, by: str) -> str | None:
    """Return the column of the outcomes where the response counts plants, by the names and the way it is crossed."""
    found = outcomes(table, response, by) if whole(table, response) else []
    if len(found) != 1:
        return None
    known = {word.casefold() for word in table.words(found[0]) if word is not None} <= GOOD | BAD
    return found[0] if known or may_be_called_count(response) else None


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


def weight(table: Table, outcome: str, by: str | None) -> tuple[str | None, tuple[str, ...]]:
    """Return the column that says for how many plants a row stands, where the table shows that there is one."""
    found = [one for one in counting(table, [outcome, by]) if any(n != 1 for n in numbers(table, one))]
    named = [one for one in found if called_count(one)]
    if not found:
        beside = [one for one in others(table, [outcome, by]) if no_counts(table, one) and not called_expected(one)]
        if beside and len(table.rows) > 1 and once(table, outcome, *([by] if by is not None else [])):
            raise BadTrial(f"{SHARES.format(beside[0], quoted(beside[0]))}; if each row is one plant: --count 1")
        return None, ()
    if not crossed(table, outcome, found, by):
        if named:
            raise BadTrial(
                f'Does "{named[0]}" say for how many plants each row stands? Then --count {quoted(named[0])}; where '
                "each row is one plant, --count 1"
            )
        return None, ()
    chosen = named if len(named) == 1 else found
    if len(chosen) > 1 or (not named and (coded(table, chosen[0]) and once(table, chosen[0]))):
        said = listed([f'"{one}"' for one in found])
        raise BadTrial(
            f"Say which column tells for how many plants each row stands: --count COL ({said}); where each row is one "
            "plant, --count 1"
        )
    name = chosen[0]
    note = f'Each row was taken for as many plants as "{name}" says. Where each row is one plant: --count 1.'
    return name, (note,)


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
    """Return the columns that, with the treatments, name each row once, where the treatments alone do not."""
    return [
        one
        for one in others(table, [response, by])
        if not (called_label(one) or called_expected(one))
        and (not numbers(table, one) or coded(table, one))
        and crossed(table, one, [response], by)
    ]


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
