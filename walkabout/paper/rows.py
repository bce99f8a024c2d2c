"""Records as rows of typed values, with people's codes replaced."""

import re
from collections.abc import Callable, Iterable, Iterator
from operator import attrgetter
from typing import Any

import msgspec
from msgspec import Struct

from walkabout.almanac.standing import BY_ITSELF
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


class Cleaner:
    """Replaces codes: whole cells, words in what the program said, words in what people typed."""

    def __init__(self, replaced: dict[str, str]) -> None:
        self.replaced = replaced
        self.left = 0
        """Texts that people typed in which a code of digits alone stands as a word: it may be a number."""
        self._said = _words(replaced)
        self._typed = _words(code for code in replaced if not code.isdecimal())
        self._digits = _words(code for code in replaced if code.isdecimal())

    def code(self, text: str) -> str:
        """Return what stands for a code."""
        return self.replaced.get(text, text)

    def said(self, text: str) -> str:
        """Return a sentence of the program's with every code replaced."""
        return self._said.sub(self._for, text) if self._said and text else text

    def typed(self, text: str) -> str:
        """Return what somebody typed with every code replaced that is no plain number."""
        if not text:
            return text
        if self._digits and self._digits.search(text):
            self.left += 1
        return self._typed.sub(self._for, text) if self._typed else text

    def room(self, room: Room) -> Room:
        """Return the room with its people under their pseudonyms, in an order that says nothing, and clean notes."""

        def noted(one: Any) -> Any:
            return msgspec.structs.replace(one, note=self.typed(one.note))

        def all_noted(many: dict[str, Any]) -> dict[str, Any]:
            return {key: noted(one) for key, one in many.items()}

        return msgspec.structs.replace(
            room,
            name=self.typed(room.name),
            people=dict(sorted((self.code(code), person) for code, person in room.people.items())),
            lamps=all_noted(room.lamps),
            tanks=all_noted(room.tanks),
            pumps=all_noted(room.pumps),
            stations=tuple(msgspec.structs.replace(noted(one), name=self.typed(one.name)) for one in room.stations),
        )

    def _for(self, found: re.Match[str]) -> str:
        return self.replaced[found[0]]


def _words(codes: Iterable[str]) -> re.Pattern[str] | None:
    # The longest first: of two codes that begin alike the whole word is meant.
    known = sorted(codes, key=lambda code: (-len(code), code))
    return re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, known))})(?!\w)") if known else None


def codes_in(everything: Content) -> set[str]:
    """Return every code that stands in a column of codes, or in room.toml; the program itself is nobody."""
    found = {*everything.room.people}
    for table in TABLES:
        columns = [column.source for column in table.columns if column.code]
        for _, one in _structs(table, everything) if columns else ():
            found.update(getattr(one, name) for name in columns)
    return found - {BY_ITSELF}


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
        elif column.typed:
            yield place, cleaner.typed


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
