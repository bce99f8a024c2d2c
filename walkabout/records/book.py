"""The records of a room: the one place that writes them.

    records = Records.open(Path("my-room"), date.today())
    records.save(answer)        # on disk when this returns
    records.answers(since=date(2026, 4, 1))

One file a month for answers and rounds, one each for the other kinds; what loggers read by the hour has files by
month of its own, which are read only when they are asked for. A `Records` belongs
to one thread at a time; any number of programs may have the same room open.
"""

import re
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import date
from pathlib import Path
from typing import TypeVar, cast

import msgspec

from walkabout.records import pseudonyms
from walkabout.records.disk import NotSaved, plainly, sync_folder
from walkabout.records.homes import (
    ASKED,
    HOURS,
    HOURS_FILE,
    MONTH_FILE,
    SINGLE,
    TABLES,
    Record,
    home,
    is_month,
    kinds_in,
    month,
    table_of,
    what,
)
from walkabout.records.lock import RoomLock
from walkabout.records.memory import refuse_what_is_no_number
from walkabout.records.model import (
    Answer,
    Finding,
    Hour,
    Job,
    Measurement,
    Planting,
    Promise,
    Round,
    Supply,
    Treatment,
    Trial,
)
from walkabout.records.purge import purge_set_aside, without
from walkabout.records.storage import JournalStorage
from walkabout.records.table import JournalDB

__all__ = ["NotSaved", "Record", "Records"]

_R = TypeVar("_R", Answer, Round, Planting, Finding, Job, Promise, Treatment, Supply, Hour, Trial, Measurement)


class Records:
    """What has been written down in one room. `told`: sentences for the person, the oldest first."""

    def __init__(self, room_folder: Path) -> None:
        """Use `Records.open`."""
        self.told: list[str] = []
        self._room = room_folder
        self._folder = room_folder / "records"
        self._backups = room_folder / "backups"
        self._lock = RoomLock(self._folder / "records.lock")
        self._files: dict[str, JournalDB] = {}
        self._queue: list[Record] = []
        self._together = 0
        self._made = False
        self._said: set[str] = set()

    @classmethod
    def open(cls, room_folder: Path, today: date) -> "Records":
        """Open a room's records and read this month's. Never fails: what cannot be read is `told`."""
        records = cls(room_folder)
        try:
            records._make_folders()
        except OSError as error:
            records._tell(f"Nothing can be saved now: {plainly(error, room_folder)}")
        for name in (month(today), *SINGLE):
            storage = records._read(name)
            if storage and storage.long:
                with suppress(OSError):
                    storage.fold()
        return records

    # Reading: always from memory, with what waits to be written

    def answers(self, since: date) -> list[Answer]:
        """Return the answers given on `since` or later, in the order in which they were given."""
        answers = [answer for answer in self._monthly(Answer, since) if answer.at.date() >= since]
        return sorted(answers, key=lambda answer: answer.at.timestamp())

    def rounds(self, since: date) -> list[Round]:
        """Return the rounds walked on `since` or later, in the order in which they were started."""
        rounds = [round_ for round_ in self._monthly(Round, since) if round_.day >= since]
        return sorted(rounds, key=lambda round_: (round_.day, round_.started.timestamp()))

    def plantings(self) -> list[Planting]:
        """Return every planting, in the order in which they were first saved."""
        return self._all(Planting, ["plantings"])

    def findings(self) -> list[Finding]:
        """Return every finding, in the order in which they were first saved."""
        return self._all(Finding, ["findings"])

    def jobs(self) -> list[Job]:
        """Return every job, in the order in which they were first saved."""
        return self._all(Job, ["jobs"])

    def promises(self) -> list[Promise]:
        """Return every promise, in the order in which they were first saved."""
        return self._all(Promise, ["promises"])

    def treatments(self) -> list[Treatment]:
        """Return every treatment, in the order in which they were first saved."""
        return self._all(Treatment, ["treatments"])

    def supplies(self) -> list[Supply]:
        """Return every supply, in the order in which they were first saved; their file is read when first asked for."""
        return self._all(Supply, ["supplies"])

    def trials(self) -> list[Trial]:
        """Return every trial, in the order in which they were first saved; their file is read when first asked for."""
        return self._all(Trial, ["trials"])

    def measurements(self, trial: str) -> list[Measurement]:
        """Return what was measured in a trial, corrections beside what they replace, in the order of its saving."""
        return [one for one in self._all(Measurement, ["measurements"]) if one.trial == trial]

    def hours(self, since: date) -> list[Hour]:
        """Return what loggers read on `since` or later, by the hour, in the order of time."""
        names = self._names(HOURS_FILE, month(since) + HOURS, {name for name in self._files if name.endswith(HOURS)})
        hours = [hour for hour in self._all(Hour, names) if hour.start.date() >= since]
        return sorted(hours, key=lambda hour: (hour.start.timestamp(), hour.key))

    def every(self, kind: type[_R]) -> list[_R]:
        """Return every record of a kind, those of months in the order of time, others as they were first saved."""
        if kind is Answer:
            return self.answers(date.min)
        if kind is Round:
            return self.rounds(date.min)
        return self.hours(date.min) if kind is Hour else self._all(kind, [TABLES[kind]])

    def file(self, name: str) -> JournalDB:
        """Return the TinyDB of one file, by its name without suffix ('2026-05', 'jobs')."""
        if name not in self._files:
            self._files[name] = JournalDB(
                self._folder / f"{name}.json",
                backups=self._backups,
                lock=self._lock,
                kinds=kinds_in(name),
                tell=self._tell,
            )
        return self._files[name]

    # Writing

    def save(self, record: Record) -> None:
        """Write a record over the one with its key; it is on disk when this returns.

        Raises NotSaved when it could not be written: it is kept, shown by every reading method, and
        tried again, in order, by the next save and by `retry`. Raises ValueError for a record that
        could not be read back (a NaN, a text where a number belongs): that is kept nowhere.
        """
        self._check(record)
        self._queue.append(record)
        if not self._together:
            self._write_out(must=[record])

    @contextmanager
    def together(self) -> Iterator[None]:
        """Write everything saved within in one go for each file: on disk when the block is left."""
        before = len(self._queue)
        self._together += 1
        try:
            yield
        finally:
            self._together -= 1
            if not self._together and self._queue:
                self._write_out(must=self._queue[before:])

    @property
    def waiting(self) -> int:
        """How many records are in memory only."""
        return len(self._queue)

    def retry(self) -> None:
        """Try again to write what waits; raises NotSaved when some of it still does."""
        if self._queue:
            self._write_out(must=list(self._queue))

    def refresh(self) -> bool:
        """Take in what other programs wrote; True when there is anything new to show."""
        news = False
        with suppress(OSError):
            loaded = [name for name in self._files if is_month(name)]
            later = [name for name in self._months(min(loaded, default="9999")) if name not in loaded]
            for name in later:
                storage = self._read(name)
                news |= bool(storage and any(storage.memory.docs.values()))
        for db in self._files.values():
            storage = _storage(db)
            # A folder that is gone for now takes nothing out of memory.
            with suppress(OSError):
                storage.refresh()
            news |= storage.news
            storage.news = False
        return news

    def fold(self) -> bool:
        """Bring the journals into their files, the last good ones kept in backups/.

        False when that was not possible for some file: nothing is lost, its journal holds it all.
        """
        done = True
        for db in self._files.values():
            try:
                _storage(db).fold()
            except OSError:
                done = False
        return done

    def close(self) -> None:
        """Write what waits, fold and close; raises NotSaved when something could not be written."""
        try:
            self.retry()
        finally:
            self.fold()
            for db in self._files.values():
                db.close()

    def purge(self, code: str) -> int:
        """Replace a person's code by '--' in all records and backups; return how many records had it.

        Raises NotSaved when it could not be done everywhere: then it has to be done again. Notes and
        reasons that people typed are not searched: two letters may be a word there.
        """
        if not code.strip():
            raise ValueError("A code has at least one letter.")
        self.retry()
        changed = 0
        try:
            with self._lock.held():
                for name in [*self._months(""), *SINGLE, *ASKED]:
                    changed += _storage(self.file(name)).rewrite(without(code))
                for folder in (self._folder, self._backups):
                    purge_set_aside(folder, code)
                pseudonyms.forget(self._folder, code)
        except OSError as error:
            raise NotSaved(f"{code} is not out of every file: {plainly(error, self._folder)}") from error
        return changed

    # Within

    def _check(self, record: Record) -> None:
        refuse_what_is_no_number(record)
        try:
            msgspec.json.decode(msgspec.json.encode(record), type=type(record))
        except (msgspec.MsgspecError, UnicodeError, TypeError) as error:
            raise ValueError(f"This {what(record)} cannot be written down: {error}") from error

    def _write_out(self, must: list[Record]) -> None:
        by_file: dict[str, list[Record]] = {}
        for record in self._queue:
            by_file.setdefault(home(record), []).append(record)
        failed: dict[str, OSError] = {}
        try:
            self._make_folders()
            with self._lock.held():
                for name, records in by_file.items():
                    try:
                        _storage(self.file(name)).put(
                            (table_of(record), record.key, msgspec.json.encode(record)) for record in records
                        )
                    except OSError as error:
                        failed[name] = error
        except OSError as error:
            failed = dict.fromkeys(by_file, error)
        self._queue = [record for record in self._queue if home(record) in failed]
        lost = [record for record in must if home(record) in failed]
        if lost:
            those = f"This {what(lost[0])} is" if len(lost) == 1 else f"{len(lost)} records are"
            cause = failed[home(lost[0])]
            raise NotSaved(f"{those} in memory only: {plainly(cause, self._folder)}") from cause

    def _make_folders(self) -> None:
        # Once only: a folder that is gone later was on a drive that somebody took out.
        if not self._made:
            if not (self._folder.is_dir() and self._backups.is_dir()):
                self._folder.mkdir(exist_ok=True)
                self._backups.mkdir(exist_ok=True)
                sync_folder(self._room)
            self._made = True

    def _monthly(self, kind: type[_R], since: date) -> list[_R]:
        return self._all(kind, self._months(month(since)))

    def _all(self, kind: type[_R], names: list[str]) -> list[_R]:
        found: dict[str, _R] = {}
        for name in names:
            storage = self._read(name)
            if storage:
                found |= cast("dict[str, _R]", storage.memory.records[TABLES[kind]])
        found |= {record.key: record for record in self._queue if isinstance(record, kind)}
        return list(found.values())

    def _read(self, name: str) -> JournalStorage | None:
        storage = _storage(self.file(name))
        try:
            _ = storage.memory
        except OSError as error:
            self._tell(f"{storage.path.name} cannot be read: {error.strerror or error}. Its records are not shown.")
            return None
        return storage

    def _months(self, first: str) -> list[str]:
        return self._names(MONTH_FILE, first, {name for name in self._files if is_month(name)})

    def _names(self, shape: re.Pattern[str], first: str, names: set[str]) -> list[str]:
        for folder in (self._folder, self._backups):
            try:
                names |= {found[1] for path in folder.iterdir() if (found := shape.fullmatch(path.name))}
            except OSError as error:
                if folder == self._folder and self._made:
                    self._tell(f"Only what is in memory is shown: {plainly(error, folder)}")
        return sorted(name for name in names if name >= first)

    def _tell(self, sentence: str) -> None:
        if sentence not in self._said:
            self._said.add(sentence)
            self.told.append(sentence)


def _storage(db: JournalDB) -> JournalStorage:
    return cast("JournalStorage", db.storage)
