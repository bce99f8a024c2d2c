"""A TinyDB storage that is quick and safe: one JSON file, a journal beside it, the last good copies.

A save adds a line to the journal; a fold brings the journal into the file. How the files stand to each
other is told in `files`.
"""

import errno
import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import msgspec
from tinydb.storages import Storage

from walkabout.records import disk, lines
from walkabout.records.files import Files, Found, Seen, identity
from walkabout.records.lock import RoomLock
from walkabout.records.memory import Damaged, Kinds, Memory, refuse_what_is_no_number

LONG = 128 * 1024
"""Bytes from which a journal is folded when it is opened: some 500 answers (assumed: reads in 2 ms)."""

_NO_KINDS: Kinds = {}


class JournalStorage(Storage):
    """One file of records. Every method that touches the disk may raise OSError."""

    def __init__(
        self,
        path: Path,
        *,
        backups: Path,
        lock: RoomLock,
        kinds: Kinds = _NO_KINDS,
        tell: Callable[[str], None],
    ) -> None:
        self.path = path
        self.news = False
        """Whether anything came from another program since somebody last cleared this."""
        self._files = Files.at(path, backups)
        self._lock = lock
        self._kinds = kinds
        self._tell = tell
        self._memory = Memory(kinds)
        self._seen: Seen | None = None
        self._read_to = 0
        self._torn = b""
        self._unmended = False
        self._handle: int | None = None

    # What TinyDB asks for

    def read(self) -> dict[str, dict[str, Any]] | None:
        """Return every table as dicts, from memory; None when nothing has ever been written."""
        view = self.memory.view()
        return view if any(view.values()) else None

    def write(self, data: Mapping[str, Mapping[str, Any]]) -> None:
        """Make the tables equal to `data`, writing only what differs."""
        with self.writing():
            for table, docs in self._memory.docs.items():
                wanted = {int(number): dict(doc) for number, doc in data.get(table, {}).items()}
                self.change(table, {number: wanted.get(number) for number in {*docs, *wanted}})
            for table in set(data) - set(self._memory.docs):
                self.change(table, {int(number): dict(doc) for number, doc in data[table].items()})

    def close(self) -> None:
        """Close the journal. Nothing needs to be written: it already is."""
        if self._handle is not None:
            os.close(self._handle)
            self._handle = None

    # Reading

    @property
    def memory(self) -> Memory:
        """What is on record, as far as this program has seen."""
        if self._seen is None:
            self._load()
        return self._memory

    def refresh(self) -> bool:
        """Take in what another program wrote; True when there was anything."""
        if self._seen is None:
            self._load()
            return False
        there = self._files.look(self._seen)
        if there == self._seen:
            return False
        if (there.file, there.journal) == (self._seen.file, self._seen.journal) and there.size > self._seen.size:
            news = self._read_on()
        else:
            before = self._memory.docs
            self._load()
            news = before != self._memory.docs
        self.news |= news
        return news

    @property
    def long(self) -> bool:
        """Whether the journal should be folded before it slows opening down."""
        return self._seen is not None and self._seen.size > LONG

    # Writing

    @contextmanager
    def writing(self) -> Iterator[None]:
        """Hold the room's lock, with everything taken in that was written before."""
        with self._lock.held():
            self.refresh()
            yield

    def put(self, records: Iterable[tuple[str, str, bytes]]) -> None:
        """Write records, given as table, key and JSON, each over the one with its key; on disk on return."""
        with self.writing():
            numbers: dict[tuple[str, str], int] = {}
            entries: list[tuple[str, int, bytes | None]] = []
            for table, key, doc in records:
                if (table, key) not in numbers:
                    numbers[table, key] = self._memory.number(table, key)
                entries.append((table, numbers[table, key], doc))
            self._append(entries)

    def change(self, table: str, docs: Mapping[int, Mapping[str, Any] | None]) -> None:
        """Write documents under their numbers (None removes); ValueError for what could not be read back."""
        with self.writing():
            there = self._memory.docs.get(table, {})
            entries: list[tuple[str, int, bytes | None]] = []
            for number, doc in docs.items():
                if doc is None:
                    if number in there:
                        entries.append((table, number, None))
                elif number not in there or msgspec.json.decode(there[number]) != doc:
                    refuse_what_is_no_number(doc)
                    text = msgspec.json.encode(doc)
                    self._memory.fits(table, text)
                    entries.append((table, number, text))
            if entries:
                self._append(entries)

    def fold(self) -> None:
        """Bring the journal into the JSON file, after the last good state went to the backups."""
        with self.writing():
            if self._unmended:
                self._load()
            if self._unmended:
                raise OSError(errno.EPERM, "a damaged file could not be set aside", str(self.path))
            if self._seen is not None and self._seen.journal is not None:
                self._fold()

    def rewrite(self, change: Callable[[bytes], bytes]) -> int:
        """Put every record's JSON through `change`, in the backups too; return how many it changed."""
        self.fold()
        with self.writing():
            changed = 0
            for table, docs in self._memory.docs.items():
                for number, doc in list(docs.items()):
                    changed += self._memory.set(table, number, change(doc))
            if self._seen is not None and self._seen.file is not None:
                data = self._memory.encode()
                disk.write_whole(self._files.old, data)
                self._files.old_journal.unlink(missing_ok=True)
                disk.sync_folder(self._files.old.parent)
                disk.write_whole(self.path, data)
                self._seen = self._files.look(self._seen)
        return changed

    def _append(self, entries: list[tuple[str, int, bytes | None]]) -> None:
        data = b"".join(lines.line(*entry) for entry in entries)
        if self._torn:
            data = (b"\n" if lines.whole(self._torn) else lines.CANCEL) + data
        try:
            handle, just_opened = self._open()
            disk.write_all(handle, data)
            os.fsync(handle)
            if just_opened:
                disk.sync_folder(self.path.parent)
        except OSError:
            # What came of it is read again before the next attempt.
            self.close()
            raise
        for table, number, doc in entries:
            self._memory.set(table, number, doc)
        seen = self._files.look(self._seen)
        self._seen, self._read_to, self._torn = seen, seen.size, b""

    def _open(self) -> tuple[int, bool]:
        there = self._seen.journal if self._seen else None
        if self._handle is not None and identity(os.fstat(self._handle)) == there:
            return self._handle, False
        self.close()
        self._handle = disk.open_to_append(self._files.journal)
        return self._handle, True

    def _fold(self) -> None:
        backups = self._files.old.parent
        if not backups.exists():
            backups.mkdir()
            disk.sync_folder(backups.parent)
        data = disk.read_or_none(self.path)
        if data is not None:
            try:
                Memory.parse(data, self._kinds)
            except Damaged as damage:
                # It was good when we read it: what is in memory is the good copy now.
                self._set_aside(f"{damage}")
                data = self._memory.encode()
            disk.write_whole(self._files.old, data)
        disk.write_whole(self._files.old_journal, disk.read_or_none(self._files.journal) or b"")
        disk.write_whole(self.path, self._memory.encode())
        self.close()
        self._files.journal.unlink(missing_ok=True)
        disk.sync_folder(self.path.parent)
        self._seen, self._read_to, self._torn = self._files.look(self._seen), 0, b""

    # Taking in

    def _read_on(self) -> bool:
        assert self._seen is not None
        with self._files.journal.open("rb") as file:
            file.seek(self._read_to)
            data = file.read()
        journal = lines.read(data)
        if journal.damaged:
            before = self._memory.docs
            self._load()
            return before != self._memory.docs
        news = self._memory.apply(journal.with_unended())
        self._tell_misfits()
        self._seen = self._seen._replace(size=self._read_to + len(data))
        self._read_to += journal.end
        self._torn = journal.torn
        return news

    def _load(self) -> None:
        found = self._files.find(self._kinds, self._seen, self._memory, self._tell)
        self._unmended = False
        if found.wrong:
            try:
                with self._lock.held():
                    found = self._files.find(self._kinds, self._seen, self._memory, self._tell)
                    self._mend(found)
            except OSError as error:
                self._unmended = True
                self._tell(
                    f"{self.path.name} could not be put right: {disk.plainly(error, self.path.parent)}"
                    " Its records are shown as far as they can be read."
                )
        self._memory = found.memory
        self._tell_misfits()
        if not found.wrong or self._unmended:
            self._seen, self._read_to, self._torn = found.seen, found.journal.end, found.journal.torn

    def _mend(self, found: Found) -> None:
        if found.damage:
            self._set_aside(found.damage)
        elif found.missing:
            self._tell(f"{self.path.name} was gone. It is there again, from the last good copy.")
        if found.lost_lines:
            self._tell(f"A part of {self._files.journal.name} was gone. It is saved again from memory.")
        if found.damage or found.missing or found.lost_lines:
            disk.write_whole(self.path, found.memory.encode())
        if found.journal.damaged:
            aside = self._files.aside(".journal")
            disk.write_whole(aside, b"\n".join([*found.journal.damaged, b""]))
            count = len(found.journal.damaged)
            what = "1 damaged line" if count == 1 else f"{count} damaged lines"
            self._tell(f"{what} of {self._files.journal.name} went to {aside.name}. The rest is read.")
        self._memory, self._seen = found.memory, self._files.look(self._seen)
        self._read_to, self._torn = found.journal.end, found.journal.torn
        if found.journal.damaged or found.lost_lines:
            self._fold()

    def _set_aside(self, damage: str) -> None:
        aside = self._files.aside(".json")
        self.path.rename(aside)
        disk.sync_folder(self.path.parent)
        copies = self._files.old.exists() or self._files.old_journal.exists() or self._seen is not None
        source = "the last good copy and the journal" if copies else "the journal alone: there was no copy"
        self._tell(f"{self.path.name} is damaged: {damage}. It is kept as {aside.name}.")
        self._tell(f"The records of {self.path.name} now come from {source}.")

    def _tell_misfits(self) -> None:
        for (table, number), why in self._memory.misfits.items():
            self._tell(
                f"Record {number} of the {table} in {self.path.name} is left out because it does not fit:"
                f" {why}. It stays in the file as it is."
            )
