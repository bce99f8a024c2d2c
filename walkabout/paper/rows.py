"""Records as rows of typed values, with people's codes replaced."""

from collections.abc import Callable, Iterable, Iterator
from functools import partial
from operator import attrgetter
from typing import Any

from msgspec import Struct

from walkabout.almanac.standing import BY_ITSELF
from walkabout.paper.codes import Cleaner, each
from walkabout.paper.column import Column
from walkabout.paper.places import lamp_rows, station_rows
from walkabout.paper.tables import TABLES, Table
from walkabout.records.book import Records
from walkabout.records.homes import TABLES as RECORD_TABLES
from walkabout.room.model import Room

Row = tuple[Any, ...]


class Content(Struct, frozen=True):
    """All that is on record, by table (those with a row for each record), and the room."""

    of: dict[str, list[Any]]
    room: Room


def content(records: Records, room: Room) -> Content:
    """Read everything that is on record."""
    return Content({name: records.every(kind) for kind, name in RECORD_TABLES.items()}, room)


def codes_in(everything: Content) -> set[str]:
    """Return every code that stands in a column of codes, or in room.toml; the program itself is nobody."""
    found = {*everything.room.people}
    for table in TABLES:
        columns = [column.source for column in table.columns if column.code]
        for _, one in _structs(table, everything) if columns else ():
            found.update(getattr(one, name) for name in columns)
    return found - {BY_ITSELF}


def names_in(everything: Content) -> set[str]:
    """Return every name of a plot, a treatment or a kind: what measurements and plots are put together by."""
    found: set[str] = set()
    for table in TABLES:
        columns = [column.source for column in table.columns if column.named]
        for _, one in _structs(table, everything) if columns else ():
            for name in columns:
                value = getattr(one, name)
                found.update(value if isinstance(value, tuple) else (value,))
    return found


def row_count(table: Table, everything: Content) -> int:
    """Return how many rows a table will have; one of the room's places may have more."""
    if not table.parts:
        return len(everything.of.get(table.name, ()))
    return sum(len(getattr(one, part.field)) for part in table.parts for one in everything.of[part.table])


def rows(table: Table, everything: Content, cleaner: Cleaner | None, named: Iterable[str] = ()) -> Iterator[Row]:
    """Yield a table's rows, values in the order of its columns; `named` are the stations that other tables name."""
    get = _getter(table)
    at = [(len(table.lead) + place, change) for place, change in _changes(table.columns, cleaner)]
    structs = _structs(table, everything)
    if table.name == "stations":
        structs = (((), one) for one in station_rows(everything.room, named))
    elif table.name == "lamps":
        structs = (((), one) for one in lamp_rows(everything.room))
    for lead, one in structs:
        row = lead + get(one)
        if at:
            cells = list(row)
            for place, change in at:
                cells[place] = change(cells[place])
            row = tuple(cells)
        yield row


def _getter(table: Table) -> Callable[[Any], Row]:
    names = [column.source for column in table.columns]
    return attrgetter(*names) if len(names) > 1 else lambda one: (getattr(one, names[0]),)


def _changes(columns: tuple[Column, ...], cleaner: Cleaner | None) -> Iterator[tuple[int, Callable[[Any], Any]]]:
    if cleaner is None:
        return
    for place, column in enumerate(columns):
        if column.code:
            yield place, cleaner.code
        elif column.said:
            yield place, cleaner.said
        elif column.named:
            yield place, partial(each, cleaner.named)
        elif column.typed:
            yield place, partial(each, cleaner.typed)


def _structs(table: Table, everything: Content) -> Iterator[tuple[Row, Any]]:
    """Yield what a table's rows are made of: the leading cells, and the struct."""
    if not table.parts:
        yield from (((), one) for one in everything.of.get(table.name, ()))
        return
    names = [column.name for column in table.lead]
    if "part" in names:  # what was asked and what was left of one round stand together
        (owner,) = {part.table for part in table.parts}
        for record in everything.of[owner]:
            for part in table.parts:
                for number, one in enumerate(getattr(record, part.field), 1):
                    yield (record.key, part.called, number), one
        return
    for part in table.parts:
        for record in everything.of[part.table]:
            for number, one in enumerate(getattr(record, part.field), 1):
                yield ((part.called, record.key, number) if "about" in names else (record.key, number)), one
