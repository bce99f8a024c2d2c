"""Making the demo room, and keeping it fresh. A folder that is not a demo is never touched."""

import hashlib
import os
import shutil
import tomllib
from datetime import date, timedelta
from pathlib import Path
from random import Random

import msgspec
from msgspec import Struct

from walkabout.checklist.read import kinds
from walkabout.demo import logger
from walkabout.demo.room import room_text
from walkabout.demo.season import live_through
from walkabout.records.book import Records
from walkabout.room.calendar import day_before
from walkabout.room.read import FILE, read_room

MARK = "demo"
"""The file that says that a folder is a demo, and that the program may replace it."""

SEED = 7


class Mark(Struct, frozen=True):
    """What the file says: when and how the demo was made, and the digest of what was in it then."""

    made: date
    seed: int
    contents: str = ""


def make(folder: Path, today: date, seed: int = SEED) -> None:
    """Write the demo room and its last eight weeks into `folder`.

    The folder may be missing, empty or a demo, which is replaced; FileExistsError, with nothing
    touched, when it holds anything else. OSError when it cannot be written.
    """
    _must_be_ours(folder)
    folder.parent.mkdir(parents=True, exist_ok=True)
    # made beside its place, so that a demo is whole or not there
    part = folder.with_name(f".{folder.name}.{os.getpid()}.part")
    try:
        part.mkdir()
        (part / FILE).write_text(room_text(today), encoding="utf-8")
        live_through(part, today, seed)
        logger.take_in(part, today, Random(seed))
        _write_mark(part, Mark(made=today, seed=seed, contents=_digest(part)))
        _make_way(folder)
        part.rename(folder)
    finally:
        shutil.rmtree(part, ignore_errors=True)


def fresh(folder: Path, today: date) -> Path:
    """Return the folder of a demo whose history ends yesterday or today, made anew where there is none.

    What somebody did in it today is kept. An older demo in which somebody worked is set aside beside
    it under its date; one that nobody touched is replaced. FileExistsError as with `make`.
    """
    _must_be_ours(folder)
    if not _is_current(folder, today):
        make(folder, today)
    return folder


def read_mark(folder: Path) -> Mark | None:
    """Return what the mark in a folder says, or None when it is no demo."""
    try:
        return msgspec.convert(tomllib.loads((folder / MARK).read_text(encoding="utf-8")), Mark)
    except (OSError, ValueError):
        return None


def _must_be_ours(folder: Path) -> None:
    if not folder.exists() or read_mark(folder) is not None:
        return
    if not folder.is_dir() or any(folder.iterdir()):
        raise FileExistsError(f"{folder} is not a demo and was left as it is. Choose a new or an empty folder.")


def _is_current(folder: Path, today: date) -> bool:
    mark = read_mark(folder)
    if mark is None:
        return False
    if mark.made == today:
        return True
    room = read_room(folder, kinds(folder)).room
    last = _last_day(folder, today)
    return room is not None and last is not None and day_before(room, today) <= last <= today


def _last_day(folder: Path, today: date) -> date | None:
    """Return the last day on which somebody walked."""
    records = Records.open(folder, today)
    try:
        return max((one.day for one in records.rounds(today - timedelta(days=60))), default=None)
    finally:
        records.close()


def _make_way(folder: Path) -> None:
    """Clear the place: an untouched demo goes, one in which somebody worked is set aside."""
    if not folder.exists():
        return
    mark = read_mark(folder)
    if mark is None:
        folder.rmdir()  # it was empty
    elif mark.contents == _digest(folder):
        shutil.rmtree(folder)
    else:
        folder.rename(_free(folder, mark.made))


def _free(folder: Path, made: date) -> Path:
    """Return a name beside the folder that is not taken: 'demo-2026-05-04', 'demo-2026-05-04-2'."""
    name = f"{folder.name}-{made.isoformat()}"
    path, number = folder.with_name(name), 2
    while path.exists():
        path, number = folder.with_name(f"{name}-{number}"), number + 1
    return path


def _digest(folder: Path) -> str:
    """Return a digest of all that somebody can change: the room, its records and whatever was added.

    Left out are the mark, the lock, the copies in backups/ and journals with nothing in them, which
    come and go by themselves.
    """
    digest = hashlib.sha256()
    for file in sorted(path for path in folder.rglob("*") if path.is_file()):
        name = file.relative_to(folder)
        data = file.read_bytes()
        if name.parts[0] in (MARK, "backups") or file.suffix == ".lock" or not data:
            continue
        digest.update(f"{name.as_posix()}\n{len(data)}\n".encode())
        digest.update(data)
    return digest.hexdigest()


def _write_mark(folder: Path, mark: Mark) -> None:
    lines = (
        "# This folder is a demo: everything in it is invented, and the program replaces it when it is old.",
        "# Delete this file to keep the folder as a room of your own.",
        f"made = {mark.made.isoformat()}",
        f"seed = {mark.seed}",
        f'contents = "{mark.contents}"',
    )
    (folder / MARK).write_text("\n".join(lines) + "\n", encoding="utf-8")
