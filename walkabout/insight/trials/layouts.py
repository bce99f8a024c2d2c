"""Which column of a table holds the outcomes, which the treatments, and which says for how many plants a row stands.

People lay counts out in many ways. What a table settles by itself is read so and said; what it does not is one line
that names the option which would.
"""

from msgspec import Struct

from walkabout.insight.trials.columns import (
    called_count,
    called_expected,
    called_label,
    called_share,
    coded,
    is_column,
    may_be_called_count,
    numbers,
    once,
    others,
    quoted,
    whole,
    yes_no,
)
from walkabout.insight.trials.crossing import (
    SHARES,
    no_counts,
    outcomes,
    totals_hint,
    weight,
    which_counts,
)
from walkabout.insight.trials.say import listed
from walkabout.insight.trials.table import BadTrial, Table

SINGLY = "1"
"""In the place of a column: each row is one plant."""
AMOUNTS = (
    'This test counts words, or 0 and 1; "{0}" holds amounts. Where it holds how many of a total had the outcome, name '
    "the column of the totals: --of COL. Where it says how many plants each row counts: --response OUTCOME --count {1}"
)

SINGLE_AMOUNTS = '"{0}" holds amounts, and --count 1 counts words, or 0 and 1: leave it out to compare the amounts'


class Layout(Struct, frozen=True):
    """The columns of a count: outcomes, treatments or trays, how many, parts of a ratio; and what was read unasked."""

    outcome: str
    by: str | None
    count: str | None
    expected: str | None = None
    notes: tuple[str, ...] = ()
    first: str = ""
    """What the conclusion begins with."""


def for_counts(table: Table, response: str, by: str, count: str | None) -> Layout:
    """Return how outcomes by treatment are laid out. BadTrial where the table does not settle it."""
    if table.column(response) == table.column(by):
        raise BadTrial(
            f'--response and --by name the same column "{by}": each takes a column of its own. Outcomes without '
            "treatments go against a ratio: --ratio 3:1"
        )
    amounts = bool(numbers(table, response)) and not yes_no(table, response)
    if singly(table, count):
        if amounts and not coded(table, response):
            raise BadTrial(SINGLE_AMOUNTS.format(response))
        return Layout(response, by, None)
    if count is not None and _same(table, count, by):
        raise BadTrial(f'--by and --count name the same column "{by}": --by takes the treatment')
    if count is None or _same(table, count, response):
        if count is None and called_share(response) and numbers(table, response):
            raise BadTrial(SHARES.format(response, quoted(response)))
        if amounts:
            return _turned(table, response, by)
    if count is not None:
        if amounts and once(table, by):
            raise BadTrial(
                f'Each "{by}" stands on one line, with a number in "{response}": where that is how many of "{count}" '
                f"had the outcome, say --of {quoted(count)} in the place of --count"
            )
        return Layout(response, by, count)
    if whole(table, by) and not yes_no(table, by) and (once(table, response) or _counts_by(table, response, by)):
        beside = [one for one in others(table, [response, by]) if not numbers(table, one)]
        right = (
            f"--by {quoted(beside[0])} --count {quoted(by)}"
            if len(beside) == 1 and not once(table, response)
            else f"--count {quoted(by)}, and set the outcomes against a ratio: --ratio 3:1"
        )
        raise BadTrial(f'"{by}" holds how many, not which treatment: {right}')
    many, notes, first = weight(table, response, by)
    return Layout(response, by, many, notes=notes, first=first)


def for_ratio(table: Table, response: str, by: str | None, count: str | None, *, named: bool, parts: bool) -> Layout:
    """Return how outcomes against a ratio are laid out; `parts`: a ratio was given, `named`: with its names.

    `expected` is the column of the parts where none was given. BadTrial where the table does not settle it.
    """
    if by is not None and (_same(table, by, response) or called_expected(by)):
        by = None
    if singly(table, count):
        return Layout(response, by, None)
    if count is None:
        found = _for_ratio(table, response, by)
    elif not _same(table, count, response):
        found = Layout(response, None if by is not None and _same(table, by, count) else by, count)
    elif by is not None:
        found = Layout(by, None, response)
    else:
        raise BadTrial(f'--response and --count name the same column "{count}": --response takes the outcomes')
    if found.count is None:
        return found
    return _beside(table, found, settled=count is not None or named, parts=parts)


def stands_alone(table: Table, response: str, by: str | None, count: str | None) -> bool:
    """Say whether there are outcomes and how many of each, without treatments."""
    if by is None or _same(table, by, response):
        return count is not None or not table.is_numbers(response) or whole(table, response)
    if count is not None:
        return count != SINGLY and (_same(table, count, by) or (_same(table, count, response) and once(table, by)))
    if whole(table, response) and not (yes_no(table, response) and not once(table, response)):
        return once(table, by)
    return whole(table, by) and (once(table, response) or (called_label(by) and once(table, by)))


def singly(table: Table, count: str | None) -> bool:
    """Say whether the writer says that each row is one plant."""
    return count is not None and count.strip() == SINGLY and not is_column(table, count)


def _counts_by(table: Table, response: str, by: str) -> bool:
    """Say whether the column that was named as the treatments counts: it is called so, and no row comes twice."""
    words = [one for one in others(table, [response, by]) if not numbers(table, one)]
    return called_count(by) and once(table, response, by, *words)


def _for_ratio(table: Table, response: str, by: str | None) -> Layout:
    for name in (response, by):
        if name is not None and no_counts(table, name) and (name == response or once(table, response)):
            raise BadTrial(SHARES.format(name, quoted(name)))
    if by is None:
        return _without_by(table, response)
    if whole(table, response) and whole(table, by) and (once(table, by) or once(table, response)):
        counts = which_counts(table, response, by)
        return Layout(by if counts == response else response, None, counts)
    if whole(table, response) and not (yes_no(table, response) and not once(table, by)):
        if once(table, by) or may_be_called_count(response):
            return Layout(by, None, response)
        if not coded(table, response):
            raise BadTrial(
                f'If "{response}" says how many plants each row counts: --response {quoted(by)} --count '
                f"{quoted(response)}; if each row is one plant: --count 1"
            )
    elif whole(table, by) and (once(table, response) or may_be_called_count(by)):
        if coded(table, by) and not may_be_called_count(by) and once(table, by):
            raise BadTrial(
                f'"{by}" may number the rows, or say how many plants each counts: --count {quoted(by)}, or --count 1'
            )
        return Layout(response, None, by)
    many, notes, first = weight(table, response, by)
    return Layout(response, by, many, notes=notes, first=first)


def _without_by(table: Table, response: str) -> Layout:
    if whole(table, response) and not (yes_no(table, response) and not once(table, response)):
        kinds = [one for one in others(table, [response]) if once(table, one) and not called_expected(one)]
        words = [one for one in kinds if not numbers(table, one)]
        if len(words) == 1 and (once(table, response) or called_count(response)):
            return Layout(words[0], None, response)
        codes = [one for one in kinds if whole(table, one)]
        if not words and len(codes) == 1:
            counts = which_counts(table, response, codes[0])
            return Layout(codes[0] if counts == response else response, None, counts)
        if called_count(response) or once(table, response):
            raise BadTrial(
                f'"{response}" seems to hold how many. Name the column of the outcomes: --response OUTCOME --count '
                f"{quoted(response)}; or say that each row is one plant: --count 1"
            )
    elif numbers(table, response) and not whole(table, response):
        raise BadTrial(AMOUNTS.format(response, quoted(response)))
    many, notes, first = weight(table, response, None)
    return Layout(response, None, many, notes=notes, first=first)


def _turned(table: Table, response: str, by: str) -> Layout:
    """Return a table whose response is called a count: the outcome is the column of words."""
    found = outcomes(table, response, by)
    if len(found) == 1:
        note = f'"{response}" was taken for how many plants had each "{found[0]}" (--response {quoted(found[0])} '
        return Layout(found[0], by, response, notes=(f"{note}--count {quoted(response)}).",))
    if found:
        said = listed([f'"{one}"' for one in found])
        raise BadTrial(f"Name the outcome, one of {said}: --response OUTCOME --count {quoted(response)}")
    if once(table, by) and whole(table, response):
        if hint := totals_hint(table, response, by):
            raise BadTrial(f'"{response}" holds how many; say of how many: {hint}')
        raise BadTrial(
            f'"{response}" holds one count for each "{by}", of no known total. Against a ratio: --ratio 3:1; of a '
            "total that stands in a column: --of COL"
        )
    raise BadTrial(AMOUNTS.format(response, quoted(response)))


def _beside(table: Table, found: Layout, *, settled: bool, parts: bool) -> Layout:
    """Return the layout with the column of the parts; BadTrial where other numbers leave it open what is counted."""
    beside = [one for one in others(table, [found.outcome, found.by, found.count]) if numbers(table, one)]
    wanted = [one for one in beside if called_expected(one)]
    open_ones = [one for one in beside if not (called_expected(one) or called_label(one) or called_share(one))]
    count = found.count or ""
    if open_ones and not settled and not found.notes:
        first = open_ones[0]
        if whole(table, first):
            hint = f"{totals_hint(table, count, found.outcome)}; where it has nothing to do with it: "
        else:
            hint = f"where it holds what is expected: --ratio {quoted(first)}; else: "
        if whole(table, first) or not parts:
            raise BadTrial(
                f'Beside "{count}" stands "{first}": {hint}--response {quoted(found.outcome)} --count {quoted(count)}'
            )
    if parts or not wanted:
        return found
    if len(wanted) > 1:
        raise BadTrial(f"Say which column holds the ratio: --ratio {quoted(wanted[0])}, or write it out: --ratio 3:1")
    return Layout(found.outcome, found.by, found.count, wanted[0], found.notes)


def _same(table: Table, one: str, other: str) -> bool:
    return table.column(one) == table.column(other)
