"""A column of a table as a series: times as people write them (see `written_days`), or rows counted 1, 2, 3.

Rows without a value keep their number: where some are empty, the fourth row is row 4, whatever stands above it.

Every mistake is one line with the file and the line in it.
"""

import itertools
from collections import Counter
from collections.abc import Sequence
from datetime import UTC, date, datetime

from msgspec import Struct

from walkabout.insight.series import Point, Series
from walkabout.insight.trials.table import BadTrial, Table, line_list
from walkabout.insight.written_days import ORDERS, Order, is_written, moment_of, order_in
from walkabout.room.mistakes import one_line, shortened

SECONDS = (946_684_800.0, 4_102_444_800.0)
"""Seconds since 1970 from the year 2000 to 2100: a column of such numbers is read as moments, or in milliseconds."""
DIGITS = 4
"""More decimals than this are not shown, and no instrument's last digit is taken to be smaller."""


class Column(Struct, frozen=True):
    """A column of a table over time; `counts` and `sizes` only where it was counted out of something."""

    series: Series
    counts: tuple[float, ...] = ()
    sizes: tuple[float, ...] = ()


def column_of(
    table: Table,
    value: str,
    time: str = "",
    sizes: str = "",
    good: tuple[float, float] | None = None,
    order: Order | None = None,
) -> Column:
    """Return a column as a series, by time; BadTrial says in one line what cannot be used.

    With `sizes` the value is a count out of the number in that column, and the series is their proportion. `order`
    says which of day and month comes first, for a column that does not settle it.
    """
    numbers = table.numbers(value)
    wholes = table.numbers(sizes) if sizes else [None] * len(numbers)
    kept = [place for place, one in enumerate(numbers) if one is not None and not (sizes and wholes[place] is None)]
    name = table.names[table.column(value)]
    if not kept:
        raise BadTrial(f'{table.file}: column "{_cut(name)}" holds no number')
    notes = [f"{_without(table, len(numbers), kept)}"] if len(kept) < len(numbers) else []
    at, per = _times(table, time, kept, order, notes)
    notes += _together(table, at, kept, {table.column(one) for one in (value, time, sizes) if one}) if time else []
    by_time = sorted(range(len(kept)), key=lambda place: at[place])
    if by_time != list(range(len(kept))):
        back = next(place for place in range(1, len(kept)) if at[place] < at[place - 1])  # type: ignore[operator]
        first = table.rows[kept[back]].line
        notes.append(f"The times go back (line {first} first): the rows were put in order of time.")
    rows = [kept[place] for place in by_time]
    counts = tuple(number for place in rows if (number := numbers[place]) is not None)
    out_of = tuple(number for place in rows if (number := wholes[place]) is not None)
    if sizes:
        _must_be_parts(table, name, rows, counts, out_of)
    values = tuple(count / size for count, size in zip(counts, out_of, strict=True)) if sizes else counts
    decimals = 3 if sizes else max(_decimals(one) for one in values)
    series = Series(
        points=tuple(Point(at[place], one) for place, one in zip(by_time, values, strict=True)),
        unit="",
        name=f"{_cut(name)} out of {_cut(table.names[table.column(sizes)])}" if sizes else _cut(name),
        good=good,
        decimals=decimals,
        step=0.0 if sizes else 10.0**-decimals,
        notes=tuple(notes),
        per=per,
    )
    return Column(series, counts if sizes else (), out_of)


def _times(
    table: Table, time: str, kept: Sequence[int], order: Order | None, notes: list[str]
) -> tuple[list[datetime | float], str]:
    """Return the time of each row that is kept, and what a unit of it is called; how days were read is noted."""
    if not time:
        numbered = _row_numbers(table)
        counted = [numbered[row] for row in kept]
        return [float(one) for one in counted], "reading" if counted == [*range(1, len(kept) + 1)] else "row"
    place = table.column(time)
    name = _cut(table.names[place])
    cells = [table.rows[row].cells[place] for row in kept]
    for row, cell in zip(kept, cells, strict=True):
        if not cell:
            raise BadTrial(f'{table.file}:{table.rows[row].line}: column "{name}" holds no time beside the value')
    if table.is_numbers(time) and not all(_dated(cell) for cell in cells):
        numbers = table.numbers(time)
        found = [number for row in kept if (number := numbers[row]) is not None]
        for what, each in (("seconds", 1.0), ("milliseconds", 1000.0)):
            if all(SECONDS[0] <= one / each <= SECONDS[1] for one in found):
                notes.append(f'The times of column "{name}" were read as {what} since 1970.')
                return [datetime.fromtimestamp(one / each, UTC) for one in found], "day"
        return list(found), name
    written = next((cell for cell in cells if is_written(cell)), "")
    if written:
        order = order or order_in(cells)
        if order is None:
            raise BadTrial(
                f'{table.file}: column "{name}" has days such as "{_cut(written)}", and nothing in it tells the day'
                " from the month. Add --order dmy or --order mdy"
            )
        notes.append(f'The days of column "{name}" were read as {ORDERS[order]}.')
    moments = [_moment(table, row, name, cell, order) for row, cell in zip(kept, cells, strict=True)]
    offset = [one.tzinfo is not None for one in moments]
    if any(offset) and not all(offset):
        line = table.rows[kept[offset.index(False)]].line
        raise BadTrial(f'{table.file}:{line}: column "{name}" has a time without an offset, others have one')
    return [one if one.tzinfo is not None else one.replace(tzinfo=UTC) for one in moments], "day"


def _together(table: Table, at: Sequence[datetime | float], kept: Sequence[int], used: set[int]) -> list[str]:
    """Say that times stand more than once, and which column tells what stands there apart; [] where none does."""
    often = Counter(at)
    twice = sum(1 for many in often.values() if many > 1)
    if not twice:
        return []
    every = "Every time stands" if twice == len(often) else f"{twice} of {len(often)} times stand{'s' * (twice == 1)}"
    says = f"{every} beside more than one reading"
    apart = _telling_apart(table, at, kept, used)
    if apart is None:
        return [f"{says} (line {_first_again(table, at, kept)} first): each of them counts by itself."]
    name, word = _cut(table.names[apart]), _cut(table.rows[kept[0]].cells[apart])
    several = f'so this may be several rows in one. Column "{name}" tells them apart'
    return [f"{says}, {several}: look at each by itself, such as with --only '{name}={word}'."]


def _first_again(table: Table, at: Sequence[datetime | float], kept: Sequence[int]) -> int:
    """Return the line with the first time that stood already."""
    seen: set[datetime | float] = set()
    for row, one in zip(kept, at, strict=True):
        if one in seen:
            return table.rows[row].line
        seen.add(one)
    return 0


def _telling_apart(table: Table, at: Sequence[datetime | float], kept: Sequence[int], used: set[int]) -> int | None:
    """Return the column with the fewest words of which each has every time once at most; None where there is none."""
    found = []
    for place in range(len(table.names)):
        words = [table.rows[row].cells[place] for row in kept]
        kinds = len(set(words))
        # a number for each row tells everything apart, and says nothing
        if place in used or "" in words or not table.names[place] or not 2 <= kinds <= len(kept) // 2:
            continue
        if len(set(zip(words, at, strict=True))) == len(kept):
            found.append((kinds, place))
    return min(found)[1] if found else None


def only(table: Table, wanted: str) -> Table:
    """Return the rows of a table in which a column holds a word: 'tank=A'; lines keep their numbers.

    BadTrial where that is no such thing, or leaves no row.
    """
    cut = max((len(one) for one in table.names if wanted.casefold().startswith(f"{one.casefold()}=")), default=-1)
    name, equals, word = (wanted[:cut], "=", wanted[cut + 1 :]) if cut > 0 else wanted.partition("=")
    if not equals:
        raise BadTrial(f'--only "{_cut(wanted)}" wants a column and what stands in it, such as tank=A')
    place = table.column(name)
    word = word.strip()
    rows = tuple(row for row in table.rows if row.cells[place].casefold() == word.casefold())
    if not rows:
        there = list(dict.fromkeys(_cut(row.cells[place]) for row in table.rows if row.cells[place]))
        some = f"{', '.join(there[:8])}{', …' if len(there) > 8 else ''}" or "nothing"
        raise BadTrial(f'{table.file}: column "{_cut(name)}" holds no "{_cut(word)}". It holds {some}')
    return Table(table.file, table.names, rows)


def _row_numbers(table: Table) -> list[int]:
    """Return the number of each row, those counted that are empty and so no rows of the table any more.

    Where each row is followed by an empty line, or cells go over several, lines are no rows.
    """
    lines = [row.line for row in table.rows]
    apart = {later - line for line, later in itertools.pairwise(lines)}
    if min(apart, default=1) > 1 or any("\n" in cell for row in table.rows for cell in row.cells):
        return [*range(1, len(lines) + 1)]
    return [line - lines[0] + 1 for line in lines]


def _moment(table: Table, row: int, name: str, cell: str, order: Order | None) -> datetime:
    found = moment_of(cell, order)
    if found is None:
        where = f"where others are {ORDERS[order]}" if order is not None and is_written(cell) else ""
        right = "Write it as 2026-11-12 or 2026-11-12T08:15"
        raise BadTrial(
            f'{table.file}:{table.rows[row].line}: column "{name}" holds "{_cut(cell)}", which is no date'
            f"{f' {where}' if where else ''}. {right}"
        )
    return found


def _dated(cell: str) -> bool:
    """Say whether a number is a date without its strokes: 20261112."""
    try:
        return len(cell) == 8 and date.fromisoformat(cell).year >= 1000
    except ValueError:
        return False


def _must_be_parts(
    table: Table, name: str, rows: Sequence[int], counts: Sequence[float], sizes: Sequence[float]
) -> None:
    for row, count, size in zip(rows, counts, sizes, strict=True):
        if size <= 0 or not 0 <= count <= size:
            line = table.rows[row].line
            raise BadTrial(
                f'{table.file}:{line}: column "{_cut(name)}" counts {count:g} out of {size:g}, which cannot be'
            )


def _without(table: Table, count: int, kept: Sequence[int]) -> str:
    gone = [table.rows[place].line for place in sorted(set(range(count)) - set(kept))]
    return (
        f"{len(gone)} row{'s have' if len(gone) != 1 else ' has'} no value and counted for nothing: {line_list(gone)}."
    )


def _decimals(value: float) -> int:
    for decimals in range(DIGITS):
        if abs(round(value, decimals) - value) <= 1e-9 * max(abs(value), 1.0):
            return decimals
    return DIGITS


def _cut(text: str) -> str:
    return shortened(one_line(text), 40)
