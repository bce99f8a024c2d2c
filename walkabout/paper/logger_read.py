"""Reading what a logger read: cells to numbers in the kept unit, each with its moment; and what is odd about them."""

import re
from collections.abc import Callable, Sequence
from datetime import UTC, datetime

from msgspec import Struct

from walkabout.paper.logger_columns import QUANTITIES, BadLogger, Mapped, unit_in
from walkabout.paper.logger_file import LoggerFile, sampled
from walkabout.paper.logger_kept import Taking
from walkabout.paper.logger_times import (
    ORDERS,
    SWAPPED,
    Clock,
    Gap,
    can_be_swapped,
    gaps,
    long,
    orders_of,
    reading,
    zone_of,
)
from walkabout.room.mistakes import one_line, shortened

MISSING = frozenset(
    ("", "-", "--", "---", "na", "n/a", "nan", "null", "none", "ofl", "err", "error", "#n/a", "lo", "hi")
)
"""How loggers write that nothing was read (common practice)."""
_STANDS_FOR_NOTHING = (-9999.0, -999.0, -99.0, 9999.0, 99999.0)
"""Numbers by which loggers say the same, where the quantity cannot have them (common practice)."""
_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?")
_THOUSANDS = re.compile(r"[+-]?\d{1,3}(,\d{3})+(\.\d*)?")
_STEP = 1000
SIGNIFICANT = 6
"""Decimals that are kept of a mean; no sensor of a growing room tells more (assumed)."""

Series = tuple[str, str]
"""Station and quantity."""
Readings = dict[Series, dict[float, tuple[float, int]]]
"""For each series, moment (seconds since 1970) -> value in the kept unit and offset of the clock in seconds."""


class Read(Struct):
    """What a file says, and what is odd about it. Lines are counted from 1."""

    readings: Readings
    rows: int = 0
    empty: int = 0
    """Cells in which the logger itself says that nothing was read."""
    wrong: list[str] = []
    """One line for each cell or row that cannot be used."""
    told: list[str] = []


def read_readings(file: LoggerFile, taking: Taking, ticks: Callable[[int], None] = lambda _: None) -> Read:
    """Return the readings of a file. What cannot be used is left out, with a line for each."""
    read = Read({(one.station, one.quantity): {} for one in taking.columns})
    if len(read.readings) < len(taking.columns):
        raise BadLogger(f"{file.path}:1: two columns cannot be the same quantity at the same station")
    for name in (*taking.time, *(one.column for one in taking.columns)):
        if name not in file.names:
            raise BadLogger(f'{file.path}:1: there is no column "{shortened(name, 40)}"')
    places = [file.names.index(name) for name in taking.time]
    ways = [_Way(file, one, read) for one in taking.columns]
    moment = reading(taking.order)
    clock = Clock(zone_of(taking.zone))
    widest = max(places + [way.place for way in ways])
    nearest_place = max([*places, min(way.place for way in ways)])
    doubled = differing = 0
    heads: list[int] = []
    for number, (line, cells) in enumerate(file.rows, 1):
        if number % _STEP == 0:
            ticks(_STEP)
        if len(cells) <= nearest_place:
            read.wrong.append(f"{file.path}:{line}: {_many(len(cells), 'cell', 'cells')}, but {widest + 1} are needed")
            continue
        text = " ".join(cells[place] for place in places)
        when = moment(text)
        if when is None and tuple(cells) == file.names:
            heads.append(line)
            continue
        if when is None:
            says = f'column "{shortened(taking.time[0], 30)}": "{shortened(one_line(text), 30)}" is no moment'
            read.wrong.append(f"{file.path}:{line}: {says}")
            continue
        read.rows += 1
        at, offset = clock.at(when, line)
        twice = other = False
        for way in ways:
            value = way.value(cells, line)
            if value is None:
                continue
            if at in way.into:
                twice = True
                other = other or way.into[at][0] != value
                continue
            way.into[at] = (value, offset)
        doubled += twice
        differing += other
    ticks(len(file.rows) % _STEP)
    if heads:
        where = _many(len(heads), "more time", "more times")
        read.told.append(f"The names of the columns stand there {where}, first on line {heads[0]}: no reading is lost.")
    read.told += _order_told(file, taking, read)
    read.told += _odd(clock, doubled, differing, read, known=bool(taking.zone))
    return read


class _Way:
    """How one column's cells become readings."""

    def __init__(self, file: LoggerFile, mapped: Mapped, read: Read) -> None:
        self.place = file.names.index(mapped.column)
        self.into = read.readings[mapped.station, mapped.quantity]
        self._file, self._mapped, self._read = file, mapped, read
        self._factor, self._offset = unit_in(mapped.quantity, mapped.unit)
        self._kind = QUANTITIES[mapped.quantity]
        cells = file.column(mapped.column)
        self._commas = any("," in cell for cell in cells) and not any("." in cell for cell in cells)
        odd = [cell for cell in cells if "," in cell] if self._commas and file.separator == "," else []
        if odd and all(_THOUSANDS.fullmatch(cell) for cell in odd):
            read.told.append(
                f'Column "{shortened(one_line(mapped.column), 30)}": {odd[0]} was read as {odd[0].replace(",", ".")}.'
                " If its commas stand between thousands, have the logger's program write it without."
            )
        self._units = tuple({one.lower() for one in (mapped.unit, self._kind.unit, "%") if one})

    def value(self, cells: Sequence[str], line: int) -> float | None:
        """Return the reading in the kept unit; None, and a line where that needs one, when it cannot be used."""
        cell = cells[self.place] if self.place < len(cells) else ""
        if cell.lower() in MISSING:
            self._read.empty += 1
            return None
        plain = cell.replace("−", "-")
        if not plain[-1:].isdigit():
            unit = next((one for one in self._units if plain.lower().endswith(one)), "")
            plain = plain[: len(plain) - len(unit)].strip()
        if self._commas:
            plain = plain.replace(",", ".")
        elif "," in plain and _THOUSANDS.fullmatch(plain):
            plain = plain.replace(",", "")
        if not _NUMBER.fullmatch(plain):
            self._refuse(line, f'"{shortened(one_line(cell), 30)}" is no number')
            return None
        written = float(plain)
        value = round(written * self._factor + self._offset, SIGNIFICANT)
        if not self._kind.lowest <= value <= self._kind.highest:
            if written in _STANDS_FOR_NOTHING:
                self._read.empty += 1
                return None
            ends = f"{self._kind.lowest:g} to {self._kind.highest:g} {self._kind.unit}"
            self._refuse(line, f"{value:g} {self._kind.unit} cannot be: {self._mapped.quantity} is {ends}")
            return None
        return value

    def _refuse(self, line: int, says: str) -> None:
        name = shortened(one_line(self._mapped.column), 30)
        self._read.wrong.append(f'{self._file.path}:{line}: column "{name}": {says}')


def _order_told(file: LoggerFile, taking: Taking, read: Read) -> list[str]:
    """Say in which order days were read, where the file would allow another one too."""
    if taking.order not in SWAPPED:
        return []
    texts = sampled(file, taking.time)
    moments = [at + offset for many in read.readings.values() for at, (_, offset) in many.items()]
    if not moments or not can_be_swapped(texts, orders_of(texts)):
        return []
    first, last = (datetime.fromtimestamp(at, UTC).date() for at in (min(moments), max(moments)))
    says = f"Days here can be read two ways. They were read as {ORDERS[taking.order]}: {first} to {last}."
    return [f"{says} If that is wrong, take it in once more: --again asks anew, e on the screen."]


def _odd(clock: Clock, doubled: int, differing: int, read: Read, *, known: bool) -> list[str]:
    """Return what is odd about the moments; `known` is whether somebody said in which zone they are meant."""
    told = []
    if clock.back:
        told.append(f"{_many(len(clock.back), 'row goes', 'rows go')} back in time, the first on line {clock.back[0]}.")
    if doubled:
        counts = "counts" if doubled == 1 else "count"
        told.append(f"{_many(doubled, 'moment stands', 'moments stand')} there twice and {counts} once.")
        if differing:
            told.append(f"{_many(differing, 'of them has', 'of them have')} another value there: the first one counts.")
    if clock.back and differing and not known:
        told.append("If the clock was put back there, name the logger's zone: --zone Europe/Vienna")
    if clock.unreal:
        told.append(
            f"{_many(len(clock.unreal), 'moment', 'moments')} cannot be, since the clock was put forward (line"
            f" {clock.unreal[0]}). If the logger keeps winter time, name its zone: --zone +01:00"
        )
    told += [
        f"The clock was changed before {at:%Y-%m-%d %H:%M}; the hours are kept apart by their offset."
        for at in clock.changes[:4]
    ]
    moments = {at for many in read.readings.values() for at in many}
    usual, found = gaps(sorted(moments))
    if found:
        longest = max(found, key=lambda gap: gap.last - gap.first)
        told.append(
            f"{_many(len(found), 'gap', 'gaps')} where readings usually come every {long(usual)}; the longest,"
            f" {long(longest.last - longest.first)}, {_between(longest)}."
        )
    if read.empty:
        told.append(f"{_many(read.empty, 'cell', 'cells')} held no reading.")
    return told


def _many(number: int, one: str, more: str) -> str:
    return f"{number} {one if number == 1 else more}"


def _between(gap: Gap) -> str:
    return f"from {said(gap.first)} to {said(gap.last)}"


def said(at: float) -> str:
    """Return a moment for people, in UTC."""
    return f"{datetime.fromtimestamp(at, UTC):%Y-%m-%d %H:%M} UTC"
