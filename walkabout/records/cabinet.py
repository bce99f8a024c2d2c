"""The files of a room's records: which there are, what is in them, and what waits to be written.

A file is read when it is first asked for, and kept in memory from then on.
"""

import re
from collections.abc import Callable, Iterator
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import TypeVar, cast

import msgspec

from walkabout.records.disk import plainly, sync_folder
from walkabout.records.files import Files
from walkabout.records.glance import glance, whole
from walkabout.records.homes import HOURS, HOURS_FILE, MONTH_FILE, TABLES, Record, is_month, kinds_in, month
from walkabout.records.lock import RoomLock
from walkabout.records.model import Answer, Finding, Job, Planting, Promise, Round, Treatment
from walkabout.records.model_measured import Hour, Measurement, Trial
from walkabout.records.model_supplies import Supply
from walkabout.records.storage import JournalStorage
from walkabout.records.table import JournalDB

_R = TypeVar("_R", Answer, Round, Planting, Finding, Job, Promise, Treatment, Supply, Hour, Trial, Measurement)
_P = TypeVar("_P", bound=msgspec.Struct)


class Cabinet:
    """The files in the folders records/ and backups/ of one room. `told`: sentences for the person, the oldest first.

    `waiting`: records that are in memory only, the oldest first.
    """

    def __init__(self, room_folder: Path) -> None:
        self.told: list[str] = []
        self.folder = room_folder / "records"
        self.backups = room_folder / "backups"
        self.lock = RoomLock(self.folder / "records.lock")
        self.files: dict[str, JournalDB] = {}
        self.waiting: list[Record] = []
        self._room = room_folder
        self._made = False
        self._said: set[str] = set()

    def make_folders(self) -> None:
        """Make the two folders where they are missing; OSError."""
        # Once only: a folder that is gone later was on a drive that somebody took out.
        if not self._made:
            if not (self.folder.is_dir() and self.backups.is_dir()):
                self.folder.mkdir(exist_ok=True)
                self.backups.mkdir(exist_ok=True)
                sync_folder(self._room)
            self._made = True

    def file(self, name: str) -> JournalDB:
        """Return the TinyDB of one file, by its name without suffix ('2026-05', 'jobs')."""
        if name not in self.files:
            self.files[name] = JournalDB(
                self.folder / f"{name}.json",
                backups=self.backups,
                lock=self.lock,
                kinds=kinds_in(name),
                tell=self.tell,
            )
        return self.files[name]

    def storage(self, name: str) -> JournalStorage:
        """Return what lies under the TinyDB of one file."""
        return cast("JournalStorage", self.file(name).storage)

    def read(self, name: str) -> JournalStorage | None:
        """Return one file in memory, read when it is first asked for; None, and `told`, where it cannot be."""
        storage = self.storage(name)
        try:
            _ = storage.memory
        except OSError as error:
            self.tell(f"{storage.path.name} cannot be read: {error.strerror or error}. Its records are not shown.")
            return None
        return storage

    def months(self, first: str) -> list[str]:
        """Return the names of the months' files from `first` on, in order; of all of them for ''."""
        return self._names(MONTH_FILE, first, {name for name in self.files if is_month(name)})

    def hour_files(self, since: date) -> list[str]:
        """Return the names of the files of what loggers read, from the month of `since` on."""
        return self._names(HOURS_FILE, month(since) + HOURS, {name for name in self.files if name.endswith(HOURS)})

    def _names(self, shape: re.Pattern[str], first: str, names: set[str]) -> list[str]:
        for folder in (self.folder, self.backups):
            try:
                names |= {found[1] for path in folder.iterdir() if (found := shape.fullmatch(path.name))}
            except OSError as error:
                if folder == self.folder and self._made:
                    self.tell(f"Only what is in memory is shown: {plainly(error, folder)}")
        return sorted(name for name in names if name >= first)

    def tell(self, sentence: str) -> None:
        """Keep a sentence for the person, once."""
        if sentence not in self._said:
            self._said.add(sentence)
            self.told.append(sentence)

    def all(self, kind: type[_R], names: list[str]) -> list[_R]:
        """Return the records of a kind in some files as they were first saved, with what waits to be written."""
        found: dict[str, _R] = {}
        for name in names:
            storage = self.read(name)
            if storage:
                found |= cast("dict[str, _R]", storage.memory.records[TABLES[kind]])
        found |= {record.key: record for record in self.waiting if isinstance(record, kind)}
        return list(found.values())

    def monthly(self, kind: type[_R], since: date) -> list[_R]:
        """Return the records of a kind in the months' files from that of `since` on."""
        return self.all(kind, self.months(month(since)))

    def some(
        self, kind: type[_R], names: list[str], place: type[_P], wanted: Callable[[_P | _R], bool]
    ) -> Iterator[list[_R]]:
        """Yield the records of each file that are wanted: out of memory where it has been read, else by a glance."""
        for name in names:
            unread = name not in self.files
            data = whole(Files.at(self.folder / f"{name}.json", self.backups)) if unread else None
            some = glance(data, kinds_in(name), TABLES[kind], kind, place, wanted) if data is not None else None
            many = self.all(kind, [name]) if some is None else some
            yield [one for one in many if wanted(one)]
        yield [one for one in self.waiting if isinstance(one, kind) and wanted(one)]

    def refresh(self) -> bool:
        """Take in what other programs wrote; True when there is anything new to show."""
        news = False
        with suppress(OSError):
            loaded = [name for name in self.files if is_month(name)]
            later = [name for name in self.months(min(loaded, default="9999")) if name not in loaded]
            for name in later:
                storage = self.read(name)
                news |= bool(storage and any(storage.memory.docs.values()))
        for name in self.files:
            storage = self.storage(name)
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
        for name in self.files:
            try:
                self.storage(name).fold()
            except OSError:
                done = False
        return done
