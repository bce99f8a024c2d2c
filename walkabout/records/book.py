"""The records of a room: the one place that writes them.

    records = Records.open(Path("my-room"), date.today())
    records.save(answer)        # on disk when this returns
    records.answers(since=date(2026, 4, 1))

One file a month for answers and rounds, one each for the other kinds; what loggers read by the hour has files by
month of its own, which are read only when they are asked for. A `Records` belongs
to one thread at a time; any number of programs may have the same room open.
"""

from collections.abc import Collection, Iterable, Iterator
from contextlib import contextmanager, suppress
from datetime import date
from pathlib import Path
from typing import TypeVar

import msgspec

from walkabout.records import pseudonyms
from walkabout.records.cabinet import Cabinet
from walkabout.records.disk import NotSaved, plainly
from walkabout.records.glance import AnswerPlace, HourPlace
from walkabout.records.homes import (
    ASKED,
    SINGLE,
    TABLES,
    Record,
    home,
    month,
    table_of,
    what,
)
from walkabout.records.memory import refuse_what_is_no_number
from walkabout.records.model import Answer, Finding, Job, Planting, Promise, Round, Treatment
from walkabout.records.model_measured import Hour, Measurement, Trial
from walkabout.records.model_supplies import Supply
from walkabout.records.purge import purge_set_aside, without
from walkabout.records.table import JournalDB

__all__ = ["NotSaved", "Record", "Records"]

_R = TypeVar("_R", Answer, Round, Planting, Finding, Job, Promise, Treatment, Supply, Hour, Trial, Measurement)


class Records:
    """What has been written down in one room. `told`: sentences for the person, the oldest first."""

    def __init__(self, room_folder: Path) -> None:
        """Use `Records.open`."""
        self._cabinet = Cabinet(room_folder)
        self.told = self._cabinet.told
        self._files = self._cabinet.files
        self._lock = self._cabinet.lock
        self._together = 0

    @classmethod
    def open(cls, room_folder: Path, today: date) -> "Records":
        """Open a room's records and read this month's. Never fails: what cannot be read is `told`."""
        records = cls(room_folder)
        try:
            records._cabinet.make_folders()
        except OSError as error:
            records._cabinet.tell(f"Nothing can be saved now: {plainly(error, room_folder)}")
        for name in (month(today), *SINGLE):
            storage = records._cabinet.read(name)
            if storage and storage.long:
                with suppress(OSError):
                    storage.fold()
        return records

    # Reading: always from memory, with what waits to be written

    def answers(self, since: date) -> list[Answer]:
        """Return the answers given on `since` or later, in the order in which they were given."""
        answers = [answer for answer in self._cabinet.monthly(Answer, since) if answer.at.date() >= since]
        return sorted(answers, key=lambda answer: answer.at.timestamp())

    def answers_to(self, where: Collection[tuple[str, str]], since: date) -> list[Answer]:
        """Return the answers to some questions, given as (station, question), and every correction, in their order.

        Of months that nobody has read yet it takes in what is asked for and keeps nothing.
        """
        found = {one.key: one for many in self.answers_by_month(where, since) for one in many}
        return sorted(found.values(), key=lambda one: one.at.timestamp())

    def answers_by_month(self, where: Collection[tuple[str, str]], since: date) -> Iterator[list[Answer]]:
        """Yield the same for one month's file after the other, half a millisecond apart, the last ones from memory."""

        def wanted(one: AnswerPlace | Answer) -> bool:
            return bool(one.replaces) or (one.station, one.question) in where

        for many in self._cabinet.some(Answer, self._cabinet.months(month(since)), AnswerPlace, wanted):
            yield [one for one in many if one.at.date() >= since]

    def rounds(self, since: date) -> list[Round]:
        """Return the rounds walked on `since` or later, in the order in which they were started."""
        rounds = [round_ for round_ in self._cabinet.monthly(Round, since) if round_.day >= since]
        return sorted(rounds, key=lambda round_: (round_.day, round_.started.timestamp()))

    def plantings(self) -> list[Planting]:
        """Return every planting, in the order in which they were first saved."""
        return self._cabinet.all(Planting, ["plantings"])

    def findings(self) -> list[Finding]:
        """Return every finding, in the order in which they were first saved."""
        return self._cabinet.all(Finding, ["findings"])

    def jobs(self) -> list[Job]:
        """Return every job, in the order in which they were first saved."""
        return self._cabinet.all(Job, ["jobs"])

    def promises(self) -> list[Promise]:
        """Return every promise, in the order in which they were first saved."""
        return self._cabinet.all(Promise, ["promises"])

    def treatments(self) -> list[Treatment]:
        """Return every treatment, in the order in which they were first saved."""
        return self._cabinet.all(Treatment, ["treatments"])

    def supplies(self) -> list[Supply]:
        """Return every supply, in the order in which they were first saved; their file is read when first asked for."""
        return self._cabinet.all(Supply, ["supplies"])

    def trials(self) -> list[Trial]:
        """Return every trial, in the order in which they were first saved; their file is read when first asked for."""
        return self._cabinet.all(Trial, ["trials"])

    def measurements(self, trial: str) -> list[Measurement]:
        """Return what was measured in a trial, corrections beside what they replace, in the order of its saving."""
        return [one for one in self._cabinet.all(Measurement, ["measurements"]) if one.trial == trial]

    def hours(self, since: date) -> list[Hour]:
        """Return what loggers read on `since` or later, by the hour, in the order of time.

        Hours whose readings were all taken back are left out.
        """
        return _counting(self._cabinet.all(Hour, self._cabinet.hour_files(since)), since)

    def hours_of(self, station: str, quantity: str, since: date) -> list[Hour]:
        """Return what loggers read of one quantity at one station, as `hours` does, keeping nothing of the rest."""

        def wanted(one: HourPlace | Hour) -> bool:
            return one.station == station and one.quantity == quantity

        found = self._cabinet.some(Hour, self._cabinet.hour_files(since), HourPlace, wanted)
        return _counting({one.key: one for many in found for one in many}.values(), since)

    def loggers(self, since: date) -> dict[tuple[str, str], tuple[Hour, int]]:
        """Return (station, quantity) -> the newest hour of it from `since` on, and how many hours there are."""
        found: dict[tuple[str, str], tuple[Hour, int]] = {}
        for hour in self._cabinet.all(Hour, self._cabinet.hour_files(since)):
            if hour.n and hour.start.date() >= since:
                newest, count = found.get((hour.station, hour.quantity), (hour, 0))
                found[hour.station, hour.quantity] = (max(newest, hour, key=lambda one: one.start), count + 1)
        return found

    def every(self, kind: type[_R]) -> list[_R]:
        """Return every record of a kind, those of months in the order of time, others as they were first saved."""
        if kind is Answer:
            return self.answers(date.min)
        if kind is Round:
            return self.rounds(date.min)
        return self.hours(date.min) if kind is Hour else self._cabinet.all(kind, [TABLES[kind]])

    def file(self, name: str) -> JournalDB:
        """Return the TinyDB of one file, by its name without suffix ('2026-05', 'jobs')."""
        return self._cabinet.file(name)

    # Writing

    def save(self, record: Record) -> None:
        """Write a record over the one with its key; it is on disk when this returns.

        Raises NotSaved when it could not be written: it is kept, shown by every reading method, and
        tried again, in order, by the next save and by `retry`. Raises ValueError for a record that
        could not be read back (a NaN, a text where a number belongs): that is kept nowhere.
        """
        self._check(record)
        self._cabinet.waiting.append(record)
        if not self._together:
            self._write_out(must=[record])

    @contextmanager
    def together(self) -> Iterator[None]:
        """Write everything saved within in one go for each file: on disk when the block is left."""
        before = len(self._cabinet.waiting)
        self._together += 1
        try:
            yield
        finally:
            self._together -= 1
            if not self._together and self._cabinet.waiting:
                self._write_out(must=self._cabinet.waiting[before:])

    @property
    def waiting(self) -> int:
        """How many records are in memory only."""
        return len(self._cabinet.waiting)

    def retry(self) -> None:
        """Try again to write what waits; raises NotSaved when some of it still does."""
        if self._cabinet.waiting:
            self._write_out(must=list(self._cabinet.waiting))

    def refresh(self) -> bool:
        """Take in what other programs wrote; True when there is anything new to show."""
        return self._cabinet.refresh()

    def fold(self) -> bool:
        """Bring the journals into their files, the last good ones kept in backups/.

        False when that was not possible for some file: nothing is lost, its journal holds it all.
        """
        return self._cabinet.fold()

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
                for name in [*self._cabinet.months(""), *SINGLE, *ASKED]:
                    changed += self._cabinet.storage(name).rewrite(without(code))
                for folder in (self._cabinet.folder, self._cabinet.backups):
                    purge_set_aside(folder, code)
                pseudonyms.forget(self._cabinet.folder, code)
        except OSError as error:
            raise NotSaved(f"{code} is not out of every file: {plainly(error, self._cabinet.folder)}") from error
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
        for record in self._cabinet.waiting:
            by_file.setdefault(home(record), []).append(record)
        failed: dict[str, OSError] = {}
        try:
            self._cabinet.make_folders()
            with self._lock.held():
                for name, records in by_file.items():
                    try:
                        self._cabinet.storage(name).put(
                            (table_of(record), record.key, msgspec.json.encode(record)) for record in records
                        )
                    except OSError as error:
                        failed[name] = error
        except OSError as error:
            failed = dict.fromkeys(by_file, error)
        self._cabinet.waiting = [record for record in self._cabinet.waiting if home(record) in failed]
        lost = [record for record in must if home(record) in failed]
        if lost:
            those = f"This {what(lost[0])} is" if len(lost) == 1 else f"{len(lost)} records are"
            cause = failed[home(lost[0])]
            raise NotSaved(f"{those} in memory only: {plainly(cause, self._cabinet.folder)}") from cause


def _counting(hours: Iterable[Hour], since: date) -> list[Hour]:
    counting = [hour for hour in hours if hour.n and hour.start.date() >= since]
    return sorted(counting, key=lambda hour: (hour.start.timestamp(), hour.key))
