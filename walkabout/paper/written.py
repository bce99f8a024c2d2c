"""Writing the tables one by one, and finding out on the way which keys hold."""

from collections.abc import Callable, Iterable, Iterator

from msgspec import Struct

from walkabout.paper.codes import Cleaner
from walkabout.paper.dictionary import DICTIONARY_COLUMNS, Shape, dictionary_rows, shapes
from walkabout.paper.rows import Content, Row, rows
from walkabout.paper.tables import BY_NAME, FROM_ROOM, TABLES, Foreign, Table
from walkabout.paper.writers import Writer

DICTIONARY = "dictionary"
"""The table that describes all others."""
_STEP = 500
"""Rows between two words about the progress."""


class Written(Struct, frozen=True):
    """One table as it was written."""

    name: str
    file: str
    rows: int


class Tables:
    """Writes the tables, and finds out on the way which foreign keys hold."""

    def __init__(
        self, into: Writer, everything: Content, cleaner: Cleaner | None, ticks: Callable[[int], None]
    ) -> None:
        self._into = into
        self._everything = everything
        self._cleaner = cleaner
        self._ticks = ticks
        self._keys: dict[str, set[str]] = {}
        self._named: dict[Foreign, dict[str, set[str]]] = {}
        self.written: list[Written] = []
        self.told: list[str] = []

    def write(self) -> None:
        """Write every table; the room's places last, since they hold whatever station the others name."""
        try:
            self._write()
        except BaseException:
            self._into.give_up()
            raise
        self._into.close()
        order = {name: place for place, name in enumerate([*BY_NAME, DICTIONARY])}
        self.written.sort(key=lambda one: order[one.name])

    def _write(self) -> None:
        for table in sorted(TABLES, key=lambda one: one.name in FROM_ROOM):
            stations = {key for foreign, by in self._named.items() if foreign.table == "stations" for key in by[""]}
            found = rows(table, self._everything, self._cleaner, stations)
            names = tuple(column.name for column in table.all)
            self._add(table.name, names, shapes(table.name), self._watched(table, found))
        names = tuple(column.name for column in DICTIONARY_COLUMNS)
        self._add(DICTIONARY, names, (Shape("string"),) * len(names), dictionary_rows())

    def holding(self, table: Table) -> tuple[Foreign, ...]:
        """Return those foreign keys of a table whose every value is found; the others are told of."""
        held = []
        for foreign in table.foreign:
            missing = self._named[foreign][table.name] - self._keys[foreign.table] - {""}
            if not missing:
                held.append(foreign)
                continue
            one = sorted(missing)[0]
            more = "" if len(missing) == 1 else f" and {len(missing) - 1} more"
            self.told.append(f"{table.name} name {foreign.column} {one}{more}, which no row of {foreign.table} has.")
        return tuple(held)

    def _add(self, name: str, names: tuple[str, ...], kinds: tuple[Shape, ...], found: Iterable[Row]) -> None:
        counted = _Counted(found)
        file = self._into.add(name, names, kinds, counted)
        self.written.append(Written(name, file, counted.number))

    def _watched(self, table: Table, found: Iterable[Row]) -> Iterator[Row]:
        names = [column.name for column in table.all]
        keys = self._keys.setdefault(table.name, set())
        places = [] if table.parts else [(names.index("key"), keys)]
        for foreign in table.foreign:
            by = self._named.setdefault(foreign, {"": set()})
            by[table.name] = set()
            places.append((names.index(foreign.column), by[table.name]))
        since = 0
        for row in found:
            for place, seen in places:
                seen.add(row[place])
            since += 1
            if since == _STEP:
                self._ticks(since)
                since = 0
            yield row
        self._ticks(since)
        for foreign in table.foreign:
            self._named[foreign][""] |= self._named[foreign][table.name]


class _Counted:
    """Rows that are counted as they go by."""

    def __init__(self, found: Iterable[Row]) -> None:
        self._found = found
        self.number = 0

    def __iter__(self) -> Iterator[Row]:
        for row in self._found:
            self.number += 1
            yield row
