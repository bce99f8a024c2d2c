"""The files in which one file's records stand, and what they say when they are read together.

What is on record is always this, from the oldest to the newest:
    backups/NAME.json, backups/NAME.journal, then records/NAME.json, then records/NAME.journal
and any one of the first three may be lost without losing a record. Reading a journal over a file that
already holds its lines changes nothing, so that a program may be stopped between any two steps.
"""

import errno
import os
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from walkabout.records import lines
from walkabout.records.disk import read_or_none
from walkabout.records.memory import Damaged, Kinds, Memory


class Seen(NamedTuple):
    """Which files there were when we last looked: enough to notice what another program did."""

    file: tuple[int, int, int] | None
    """The JSON file's inode, size and time of change."""
    journal: tuple[int, int] | None
    """The journal's device and inode."""
    size: int
    """The journal's bytes."""


class Found(NamedTuple):
    """What the files say, and what is wrong with them."""

    memory: Memory
    seen: Seen
    journal: lines.Journal
    damage: str = ""
    """Why the JSON file cannot be used."""
    missing: bool = False
    """The JSON file is not there although it once was."""
    lost_lines: bool = False
    """The journal is shorter than we knew it."""

    @property
    def wrong(self) -> bool:
        """Whether anything has to be put right on disk."""
        return bool(self.damage or self.missing or self.lost_lines or self.journal.damaged)


class Files(NamedTuple):
    """The four paths."""

    file: Path
    journal: Path
    old: Path
    old_journal: Path

    @classmethod
    def at(cls, path: Path, backups: Path) -> "Files":
        """Return the files that belong to a JSON file."""
        journal = path.with_suffix(".journal")
        return cls(path, journal, backups / path.name, backups / journal.name)

    def look(self, known: Seen | None) -> Seen:
        """Return which files there are now; FileNotFoundError when what was known is gone, folder and all."""
        file, journal = _stat(self.file), _stat(self.journal)
        if not (file or journal or known is None or self.file.parent.is_dir()):
            raise FileNotFoundError(errno.ENOENT, "the folder is gone", str(self.file.parent))
        return Seen(
            file and (file.st_ino, file.st_size, file.st_mtime_ns),
            identity(journal) if journal else None,
            journal.st_size if journal else 0,
        )

    def find(self, kinds: Kinds, known: Seen | None, held: Memory, tell: Callable[[str], None]) -> Found:
        """Read the files together. What we `held` of the `known` ones fills in for what was destroyed."""
        for _ in range(5):
            there = self.look(known)
            text = read_or_none(self.file)
            journal = read_or_none(self.journal) or b""
            if self.look(known)[:2] == there[:2]:
                break
        lost_lines = known is not None and known.file == there.file and len(journal) < known.size
        missing = text is None and (self._was_there(journal) or bool(known and known.file))
        damage = ""
        memory = Memory(kinds)
        if text is not None:
            try:
                memory = Memory.parse(text, kinds)
            except Damaged as error:
                damage = str(error)
        if damage or missing:
            memory = self._last_good(kinds, tell)
        read = lines.read(journal)
        memory.apply(read.with_unended())
        if known is not None and (damage or missing or lost_lines):
            memory.fill(held, over=lost_lines)
        return Found(memory, there._replace(size=len(journal)), read, damage, missing, lost_lines)

    def aside(self, suffix: str) -> Path:
        """Return a free path beside the file under which damaged content can be kept."""
        stem = f"{self.file.stem}.damaged-{datetime.now():%Y%m%d-%H%M%S}"  # noqa: DTZ005 - a wall clock's name
        path = self.file.with_name(stem + suffix)
        again = 1
        while path.exists():
            again += 1
            path = self.file.with_name(f"{stem}-{again}{suffix}")
        return path

    def _was_there(self, journal: bytes) -> bool:
        # A first fold that was stopped leaves a copy of the journal that still stands.
        if self.old.exists():
            return True
        copied = read_or_none(self.old_journal)
        return bool(copied) and not journal.startswith(copied or b"")

    def _last_good(self, kinds: Kinds, tell: Callable[[str], None]) -> Memory:
        memory = Memory(kinds)
        text = read_or_none(self.old)
        if text is not None:
            try:
                memory = Memory.parse(text, kinds)
            except Damaged as error:
                tell(f"The copy of {self.file.name} in {self.old.parent.name} is damaged too: {error}.")
        memory.apply(lines.read(read_or_none(self.old_journal) or b"").with_unended())
        return memory


def identity(found: os.stat_result) -> tuple[int, int]:
    """Return what tells a file from another that took its name."""
    return found.st_dev, found.st_ino


def _stat(path: Path) -> os.stat_result | None:
    with suppress(FileNotFoundError):
        return os.stat(path)  # noqa: PTH116 - half the time of Path.stat, four times in every save
    return None
