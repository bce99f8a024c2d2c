"""Taking in what a logger read: rows to summaries by the hour, in the records; nothing is ever counted twice.

An hour that several files have readings of is put together again from all of them: their copies stay in the room's
folder logger/. A moment that two files have counts once, and the file that was taken in first is believed.
"""

from collections import Counter
from collections.abc import Callable, Sequence
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import msgspec
from msgspec import Struct

from walkabout.paper.logger_columns import BadLogger
from walkabout.paper.logger_file import LoggerFile
from walkabout.paper.logger_hours import Others, by_hour, hour_of, key_of, without
from walkabout.paper.logger_kept import FOLDER, Taking, copies, copy_name, keep_copy, note
from walkabout.paper.logger_read import Readings, read_readings, said
from walkabout.records.book import Records
from walkabout.records.model_measured import Hour
from walkabout.room.mistakes import one_line, shortened


class Taken(Struct, frozen=True):
    """What came of it: hours that are new, hours that changed, hours that had it all already."""

    file: Path
    rows: int
    readings: int
    fresh: int
    changed: int
    same: int
    back: int = 0
    """Hours that the file gave when it was read otherwise, and that were taken back."""
    left: int = 0
    """Such hours that stay on record."""
    differ: int = 0
    """Readings that differ from those of a file that was taken in before, which count."""
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
    *,
    instead: bool = False,
) -> Taken:
    """Write a file's readings into the records, by the hour, and keep a copy of the file.

    With `instead`, what the same file gave when it was read otherwise is taken back in the same go. BadLogger when
    nothing in it can be used, NotSaved and OSError when it could not be written: taking it in again goes on from
    there. What `ticks` raises stops it before anything is written.
    """
    read = read_readings(file, taking, ticks)
    found = sum(len(many) for many in read.readings.values())
    if not found:
        first = read.wrong[0] if read.wrong else f"{file.path}:{file.rows[0][0]}: no cell holds a reading"
        raise BadLogger(first)
    latest = max(at for many in read.readings.values() for at in many)
    if latest > now.timestamp() + 86_400:
        read.told.append(f"The last reading is of {said(latest)}, which is still to come: is the logger's clock right?")
    known = copies(room_folder).get(copy_name(content))
    if known is not None and known.name != file.path.name:
        this, that = (shortened(one_line(name), 60) for name in (file.path.name, known.name))
        read.told.append(f"{this} is the same file as {that}, taken in before.")
    # the copy comes first: an hour on record never names a file that is not there
    keep_copy(room_folder, file.path, content, taking, now, instead=instead)
    merged = _merged(read.readings, copy_name(content), file.path.name, records, room_folder, instead=instead)
    with records.together():
        for hour in merged.save:
            records.save(hour)
    note(room_folder, copy_name(content), "")
    return Taken(
        file=file.path,
        rows=read.rows,
        readings=found,
        fresh=merged.fresh,
        changed=merged.changed,
        same=merged.same,
        back=merged.back,
        left=len(merged.left),
        differ=sum(merged.differ.values()),
        wrong=tuple(read.wrong),
        told=(*read.told, *_differing(merged.differ), *_left_over(merged.left), *_gone(merged.gone)),
    )


class _Merged(Struct):
    """The hours to be saved, and how many of them are what."""

    save: list[Hour] = []
    fresh: int = 0
    changed: int = 0
    same: int = 0
    back: int = 0
    left: list[Hour] = []
    gone: set[str] = set()
    differ: Counter[str] = msgspec.field(default_factory=Counter)
    """By the name of a file that was taken in before: how many of its readings this file has otherwise."""


def _merged(
    readings: Readings, copy: str, source: str, records: Records, room_folder: Path, *, instead: bool
) -> _Merged:
    first = min(at for many in readings.values() for at in many)
    since = date.min if instead else (datetime.fromtimestamp(first, UTC) - timedelta(days=2)).date()
    there = {hour.key: hour for hour in records.hours(since)}
    others = Others(room_folder, copies(room_folder))
    made = _Merged(gone=others.gone)
    seen: set[str] = set()
    for series, many in readings.items():
        for (start, offset), own in by_hour(many).items():
            key = key_of(series, start)
            seen.add(key)
            old = there.get(key)
            if old is None:
                made.save.append(hour_of(series, start, offset, own, source, (copy,)))
                made.fresh += 1
                continue
            missing, first = False, True
            values: dict[float, float] = {}
            for name in old.files:
                theirs = own if name == copy else others.hour(name, series, start)
                missing |= theirs is None
                fresh = {at: value for at, value in (theirs or {}).items() if at not in values}
                values |= fresh
                first = first and name != copy
                if first and (differ := sum(own.get(at, value) != value for at, value in fresh.items())):
                    made.differ[others.name_of(name)] += differ
            values = {**own, **values}
            if missing and len(values) <= old.n:
                made.same += 1
                continue
            files = old.files if copy in old.files else (*old.files, copy)
            hour = hour_of(series, start, offset, values, source, files)
            if (old.n, old.mean, old.low, old.high) == (hour.n, hour.mean, hour.low, hour.high):
                made.same += 1
                if copy in old.files:
                    continue
                # it says nothing new, but it is enough for the hour when the other file is taken back
            else:
                made.changed += 1
            made.save.append(hour)
    for hour in there.values():
        if copy in hour.files and hour.key not in seen:
            anew = without(hour, copy, others) if instead else None
            if anew is not None:
                made.save.append(anew)
                made.back += 1
            else:
                made.left.append(hour)
    return made


def _differing(differ: Counter[str]) -> list[str]:
    """Say which file counts where two have another value for the same moment."""
    told = []
    for name, number in differ.items():
        first = shortened(one_line(name), 60)
        many = "1 reading differs from the one" if number == 1 else f"{number} readings differ from those"
        moment = "moment" if number == 1 else "moments"
        told.append(
            f"{many} that {first} has of the same {moment}. {first} counts, since it was taken in first."
            f" If this one is right: take {first} back."
        )
    return told


def _left_over(hours: Sequence[Hour]) -> list[str]:
    """Say which hours this very file gave when it was read otherwise: nothing is taken away unasked."""
    starts = sorted(hour.start for hour in hours)
    if not starts:
        return []
    many = "1 hour stays" if len(starts) == 1 else f"{len(starts)} hours stay"
    return [f"{many} on record from when this file was read otherwise, the first {starts[0]:%Y-%m-%d %H:%M}."]


def _gone(names: set[str]) -> list[str]:
    if not names:
        return []
    which = ", ".join(sorted(names))
    says = "cannot be read any more: of an hour that it shares, the summary with more readings is kept."
    return [f"{which} in {FOLDER}/ {says}"]
