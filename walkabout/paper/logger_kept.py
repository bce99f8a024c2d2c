"""What a room remembers of loggers: which column is what, and which files were taken in, beside copies of them."""

import hashlib
import os
from collections.abc import Collection
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import Literal

import msgspec
from msgspec import Struct

from walkabout.paper.logger_columns import Mapped
from walkabout.paper.logger_times import SWAPPED, Order
from walkabout.records import disk

COLUMNS = "logger-columns.json"
FOLDER = "logger"
INDEX = "files.json"
ASIDE = "backups/logger"
"""Where, in the room's folder, the copy of a file goes whose readings were taken back."""


class Taking(Struct, frozen=True, omit_defaults=True):
    """How a logger's file is to be read."""

    time: tuple[str, ...]
    """The column, or the columns for day and time, that say when."""
    order: Order
    columns: tuple[Mapped, ...]
    zone: str = ""
    """Empty for the one of this machine."""


class Known(Struct, frozen=True):
    """Files with these columns are read like this."""

    names: tuple[str, ...]
    taking: Taking


class Copied(Struct, frozen=True, omit_defaults=True):
    """A file that was taken in: the name of its copy, its own name, and how it was read (more than once perhaps)."""

    copy: str
    name: str
    takings: tuple[Taking, ...]
    at: datetime | None = None
    """When it was taken in, or last read otherwise; empty where that was not written down."""
    under_way: Literal["", "in", "back"] = ""
    """What is being done with its readings; where it stays so, that was cut short."""
    also: tuple[str, ...] = ()
    """Other names under which the very same content was taken in."""


def remembered(room_folder: Path, names: tuple[str, ...]) -> Taking | None:
    """Return how a file with these columns was read last; None where none was."""
    return next((one.taking for one in _known(room_folder) if one.names == names), None)


def remember(room_folder: Path, names: tuple[str, ...], taking: Taking) -> None:
    """Remember how a file with these columns is read; OSError."""
    known = _known(room_folder)
    others = [one for one in known if one.names != names]
    before = next((one.taking.order for one in known if one.names == names), None)
    if taking.order == "ymd" and before in SWAPPED:
        # the year in front is read in any order; which of day and month comes first would be asked again
        taking = msgspec.structs.replace(taking, order=before)
    _write(room_folder / "records" / COLUMNS, [*others, Known(names, taking)], Known)


def forget(room_folder: Path, takings: Collection[Taking]) -> bool:
    """Forget these ways of reading a file, so that they are asked anew; say whether any was remembered; OSError."""
    known = _known(room_folder)
    left = [one for one in known if one.taking not in takings]
    if len(left) < len(known):
        _write(room_folder / "records" / COLUMNS, left, Known)
    return len(left) < len(known)


def copies(room_folder: Path) -> dict[str, Copied]:
    """Return the files that were taken in, by the name of their copy."""
    try:
        found = msgspec.json.decode((room_folder / FOLDER / INDEX).read_bytes(), type=list[Copied])
    except (OSError, msgspec.MsgspecError, UnicodeDecodeError):
        return {}
    return {one.copy: one for one in found}


def copy_name(content: bytes) -> str:
    """Return the name of a file's copy: it is made of what is in it, so that the same content has one copy."""
    return f"{hashlib.sha256(content).hexdigest()[:20]}.csv"


def earlier(room_folder: Path, content: bytes, taking: Taking) -> Copied | None:
    """Return the file with this content when it was read before, and never like this; None else."""
    old = copies(room_folder).get(copy_name(content))
    return old if old is not None and old.takings and taking not in old.takings else None


def keep_copy(
    room_folder: Path, file: Path, content: bytes, taking: Taking, now: datetime, *, instead: bool = False
) -> None:
    """Copy a file beside the records and note how it was read; OSError. Nothing is done where that is so already.

    What it is now read to say of a quantity at a station takes the place of what it was read to say of it before;
    with `instead`, of everything that it was read to say before.
    """
    folder = room_folder / FOLDER
    folder.mkdir(exist_ok=True)
    name = copy_name(content)
    there = copies(room_folder)
    if not (folder / name).exists():
        disk.write_whole(folder / name, content)
    old = there.get(name)
    if old is None:
        there[name] = Copied(name, file.name, (taking,), now, "in")
    elif taking not in old.takings or old.under_way == "back" or (instead and old.takings != (taking,)):
        others = () if instead else tuple(filter(None, (_besides(one, taking) for one in old.takings)))
        there[name] = msgspec.structs.replace(old, takings=(*others, taking), at=now, under_way="in")
    elif file.name not in (old.name, *old.also):
        there[name] = old
    else:
        return
    one = there[name]
    if file.name not in (one.name, *one.also):
        there[name] = msgspec.structs.replace(one, also=(*one.also, file.name))
    _write(folder / INDEX, list(there.values()), Copied)


def note(room_folder: Path, copy: str, under_way: Literal["", "back"]) -> None:
    """Write down that a file's readings are being taken back, or that nothing is under way any more; OSError."""
    there = copies(room_folder)
    if copy in there and there[copy].under_way != under_way:
        there[copy] = msgspec.structs.replace(there[copy], under_way=under_way)
        _write(room_folder / FOLDER / INDEX, list(there.values()), Copied)


def let_go(room_folder: Path, copy: str) -> Path | None:
    """Forget a file to which no record refers any more; return where its copy lies now, None where there is none."""
    there = copies(room_folder)
    path, aside = room_folder / FOLDER / copy, room_folder / ASIDE / copy
    if path.exists():
        aside.parent.mkdir(parents=True, exist_ok=True)
        os.replace(path, aside)  # noqa: PTH105 - one step: it lies here or there
    if there.pop(copy, None) is not None:
        _write(room_folder / FOLDER / INDEX, list(there.values()), Copied)
    return aside if aside.exists() else None


def _besides(one: Taking, new: Taking) -> Taking | None:
    """Return what an earlier reading says of other quantities or stations than the new one; None for nothing."""
    series = {(column.station, column.quantity) for column in new.columns}
    columns = tuple(column for column in one.columns if (column.station, column.quantity) not in series)
    return msgspec.structs.replace(one, columns=columns) if columns and one != new else None


def _known(room_folder: Path) -> list[Known]:
    try:
        return msgspec.json.decode((room_folder / "records" / COLUMNS).read_bytes(), type=list[Known])
    except (OSError, msgspec.MsgspecError, UnicodeDecodeError):
        return []


def _write(path: Path, many: list[Known] | list[Copied], kind: type[Struct]) -> None:
    _put_aside_what_cannot_be_read(path, kind)
    disk.write_whole(path, msgspec.json.format(msgspec.json.encode(many)))


def _put_aside_what_cannot_be_read(path: Path, kind: type[Struct]) -> None:
    """Keep a file that somebody broke by hand under another name: it is never written over."""
    with suppress(FileNotFoundError):
        content = path.read_bytes()
        try:
            msgspec.json.decode(content, type=list[kind])  # type: ignore[valid-type]
        except (msgspec.MsgspecError, UnicodeDecodeError):
            number = 1
            while (aside := path.with_name(f"{path.stem}.damaged-{number}{path.suffix}")).exists():
                number += 1
            path.rename(aside)
