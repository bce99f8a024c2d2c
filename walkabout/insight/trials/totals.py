"""How many of a total: columns added up, and plates or rows of a treatment counted together."""

from collections.abc import Sequence

from walkabout.insight.trials.columns import called_count, called_opposite, called_total, is_column, others, whole
from walkabout.insight.trials.counted import Counted
from walkabout.insight.trials.design import MOST_GROUPS, left_out_note, whole_numbers
from walkabout.insight.trials.table import BadTrial, Row, Table
from walkabout.insight.trials.tally import no_sums

PLUS = "+"
"""Between the names of columns that are added up to a total."""


def added_up(table: Table, of: str | None) -> Table:
    """Return a table in which `of` ('alive+dead') is a column: the sum of those named. BadTrial for an unknown one."""
    names = _summed(table, of)
    if of is None or not names:
        return table
    columns = [whole_numbers(table, one) for one in names]
    rows = tuple(
        Row(row.line, (*row.cells, "" if None in cells else str(sum(one or 0 for one in cells))))
        for row, cells in zip(table.rows, zip(*columns, strict=True), strict=True)
    )
    return Table(table.file, (*table.names, of.strip()), rows)


def each_on_one_row(table: Table, by: str) -> bool:
    """Say whether every treatment stands on one row: there are no plates to compare, only counts."""
    words = [one for one in table.words(by) if one is not None]
    return len(set(words)) == len(words)


def only_total(table: Table, response: str, by: str) -> str | None:
    """Return the only column called a total where each treatment stands on one row with a count no larger."""
    found = [one for one in others(table, [response, by]) if called_total(one) and not called_count(one)]
    if len(found) != 1 or not (each_on_one_row(table, by) and whole(table, response) and whole(table, found[0])):
        return None
    rows = list(zip(table.numbers(response), table.numbers(found[0]), strict=True))
    fits = all(one is not None and total is not None and one <= total > 0 for one, total in rows)
    return found[0] if fits else None


def read_parts(table: Table, response: str, by: str | None, of: str) -> tuple[Counted, tuple[str, ...]]:
    """Return how many of each group had the outcome and how many had not; without `by` all rows are one group.

    BadTrial where a count is larger than its total, or where the totals are called by the name of the others.
    """
    if called_opposite(of):
        raise BadTrial(
            f'"{of}" seems to count those without the outcome. If so, the total is both: --of {response}+{of}; if it '
            "is the total, give it another name, such as total"
        )
    many, totals = whole_numbers(table, response), whole_numbers(table, of)
    groups = table.words(by) if by is not None else [""] * len(table.rows)
    sums: dict[str, tuple[int, int]] = {}
    left_out = []
    for row, group, one, total in zip(table.rows, groups, many, totals, strict=True):
        if group is None or one is None or not total:
            left_out.append(row.line)
        elif one > total:
            raise BadTrial(f"{table.file}:{row.line}: {one} of {total} cannot be: the total must be the larger")
        else:
            had, had_not = sums.get(group, (0, 0))
            sums[group] = had + one, had_not + total - one
    if not sums:
        raise BadTrial(f'{table.file}: no row has both a count in "{response}" and a total in "{of}"')
    if len(sums) > MOST_GROUPS:
        raise BadTrial(f'{table.file}: "{by}" holds {len(sums)} different words: is it the treatment?')
    no_sums(table, sums)
    return Counted(tuple(sums), (response, _rest(table, response, of)), tuple(sums.values())), left_out_note(left_out)


def _summed(table: Table, of: str | None) -> Sequence[str]:
    if of is None or is_column(table, of) or PLUS not in of:
        return []
    return [one.strip() for one in of.split(PLUS) if one.strip()]


def _rest(table: Table, response: str, of: str) -> str:
    """Return what the others are called: the other of two columns that were added up, else 'not …'."""
    names = [one.strip() for one in of.split(PLUS)]
    rest = [one for one in names if one.casefold() != response.strip().casefold()]
    return rest[0] if len(names) == 2 and len(rest) == 1 and is_column(table, rest[0]) else f"not {response}"
