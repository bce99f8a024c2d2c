"""Taking in what a logger read: rows to summaries by the hour, in the records; nothing is ever counted twice.

An hour that several files have readings of is put together again from all of them: their copies stay in the room's
folder logger/. A moment that two files have counts once, and the file that was taken in first is believed.
"""

import math
from collections.abc import Callable, Iterable
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

from msgspec import Struct

from walkabout.paper.logger_columns import QUANTITIES, BadLogger
from walkabout.paper.logger_file import LoggerFile, read_logger_file
from walkabout.paper.logger_kept import FOLDER, Copied, Taking, copies, copy_name, keep_copy
from walkabout.paper.logger_read import SIGNIFICANT, Readings, Series, read_readings, said
from walkabout.records.book import Records
from walkabout.records.model import Hour


class Taken(Struct, frozen=True):
    """What came of it: hours that are new, hours that changed, hours that had it all already."""

    file: Path
    rows: int
    readings: int
    fresh: int
    changed: int
    same: int
    wrong: tuple[str, ...] = ()
    told: tuple[str, ...] = ()


def take_in_file(
    file: LoggerFile,
    content: bytes,
    taking: Taking,
    records: Records,
    room_folder: Path,
    now: datetime,
    ticks: Callable[[int], None] = lambda _: None,
) -> Taken:
    """Write a file's readings into the records, by the hour, and keep a copy of the file.

    BadLogger when nothing in it can be used, NotSaved and OSError when it could not be written: taking it in again
    goes on from there.
    """
    read = read_readings(file, taking, ticks)
    found = sum(len(many) for many in read.readings.values())
    if not found:
        first = read.wrong[0] if read.wrong else f"{file.path}:{file.rows[0][0]}: no cell holds a reading"
        raise BadLogger(first)
    latest = max(at for many in read.readings.values() for at in many)
    if latest > now.timestamp() + 86_400:
        read.told.append(f"The last reading is of {said(latest)}, which is still to come: is the logger's clock right?")
    keep_copy(room_folder, file.path, content, taking)
    hours, same, changed = _merged(read.readings, copy_name(content), file.path.name, records, room_folder, read.told)
    with records.together():
        for hour in hours:
            records.save(hour)
    fresh = len(hours) - changed
    return Taken(file.path, read.rows, found, fresh, changed, same, tuple(read.wrong), tuple(read.told))


def _merged(
    readings: Readings, copy: str, source: str, records: Records, room_folder: Path, told: list[str]
) -> tuple[list[Hour], int, int]:
    """Return the hours to be saved, how many stay as they are, and how many of the first are changed ones."""
    first = min(at for many in readings.values() for at in many)
    since = (datetime.fromtimestamp(first, UTC) - timedelta(days=2)).date()
    there = {hour.key: hour for hour in records.hours(since)}
    others = _Others(room_folder, copies(room_folder))
    made: list[Hour] = []
    seen: set[str] = set()
    same = changed = 0
    for (station, quantity), many in readings.items():
        for (start, offset), own in _by_hour(many).items():
            values = own
            begins = datetime.fromtimestamp(start, timezone(timedelta(seconds=offset)))
            key = f"h{datetime.fromtimestamp(start, UTC):%Y%m%d%H%M}-{station}-{quantity.replace(' ', '-')}"
            seen.add(key)
            old = there.get(key)
            files: tuple[str, ...] = (copy,)
            if old is not None:
                missing = False
                merged: dict[float, float] = {}
                for name in old.files:
                    theirs = own if name == copy else others.hour(name, (station, quantity), start)
                    missing |= theirs is None
                    merged = {**(theirs or {}), **merged}
                values = {**own, **merged}
                if missing and len(values) <= old.n:
                    same += 1
                    continue
                files = old.files if copy in old.files else (*old.files, copy)
            hour = _hour(key, station, quantity, begins, values, source, files)
            if old is not None and (old.n, old.mean, old.low, old.high) == (hour.n, hour.mean, hour.low, hour.high):
                same += 1
                continue
            changed += old is not None
            made.append(hour)
    told += _left_over(hour for hour in there.values() if hour.files == (copy,) and hour.key not in seen)
    if others.gone:
        told.append(
            f"{', '.join(sorted(others.gone))} in {FOLDER}/ cannot be read any more: of an hour that it shares, the"
            " summary with more readings is kept."
        )
    return made, same, changed


def _left_over(hours: Iterable[Hour]) -> list[str]:
    """Say which hours this very file gave when it was read otherwise: nothing on record is ever taken away."""
    starts = sorted({hour.start for hour in hours})
    if not starts:
        return []
    many = "1 hour stays" if len(starts) == 1 else f"{len(starts)} hours stay"
    return [f"{many} on record from when this file was read otherwise, the first {starts[0]:%Y-%m-%d %H:%M}."]


def _by_hour(many: dict[float, tuple[float, int]]) -> dict[tuple[int, int], dict[float, float]]:
    """Return the readings of each hour of the wall clock: (its start in seconds since 1970, offset) -> readings."""
    hours: dict[tuple[int, int], dict[float, float]] = {}
    for at, (value, offset) in many.items():
        start = int((at + offset) // 3600 * 3600) - offset
        hours.setdefault((start, offset), {})[at] = value
    return hours


def _hour(
    key: str,
    station: str,
    quantity: str,
    start: datetime,
    values: dict[float, float],
    source: str,
    files: tuple[str, ...],
) -> Hour:
    numbers = values.values()
    return Hour(
        key=key,
        station=station,
        quantity=quantity,
        start=start,
        n=len(values),
        mean=round(math.fsum(numbers) / len(values), SIGNIFICANT),
        low=min(numbers),
        high=max(numbers),
        unit=QUANTITIES[quantity].unit,
        source=source,
        files=files,
    )


class _Others:
    """The readings of files that were taken in before, each read again at most once."""

    def __init__(self, room_folder: Path, known: dict[str, Copied]) -> None:
        self._folder = room_folder / FOLDER
        self._known = known
        self._read: dict[str, dict[Series, dict[int, dict[float, float]]] | None] = {}
        self.gone: set[str] = set()

    def hour(self, name: str, series: Series, start: int) -> dict[float, float] | None:
        """Return what a file has of one hour; None when it cannot be read any more."""
        if name not in self._read:
            self._read[name] = self._again(name)
        found = self._read[name]
        return None if found is None else found.get(series, {}).get(start, {})

    def _again(self, name: str) -> dict[Series, dict[int, dict[float, float]]] | None:
        try:
            path = self._folder / name
            file = read_logger_file(path, path.read_bytes())
            merged: Readings = {}
            for taking in self._known[name].takings:
                for series, many in read_readings(file, taking).readings.items():
                    merged[series] = {**many, **merged.get(series, {})}
        except (OSError, KeyError, BadLogger):
            self.gone.add(name)
            return None
        return {
            series: {start: values for (start, _), values in _by_hour(many).items()} for series, many in merged.items()
        }
