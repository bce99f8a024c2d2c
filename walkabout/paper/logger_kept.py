"""What a room remembers of loggers: which column is what, and which files were taken in, beside copies of them."""

import hashlib
from pathlib import Path

import msgspec
from msgspec import Struct

from walkabout.paper.logger_columns import Mapped
from walkabout.paper.logger_times import Order
from walkabout.records import disk

COLUMNS = "logger-columns.json"
FOLDER = "logger"
INDEX = "files.json"


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


class Copied(Struct, frozen=True):
    """A file that was taken in: the name of its copy, its own name, and how it was read (more than once perhaps)."""

    copy: str
    name: str
    takings: tuple[Taking, ...]


def remembered(room_folder: Path, names: tuple[str, ...]) -> Taking | None:
    """Return how a file with these columns was read last; None where none was."""
    return next((one.taking for one in _known(room_folder) if one.names == names), None)


def remember(room_folder: Path, names: tuple[str, ...], taking: Taking) -> None:
    """Remember how a file with these columns is read; OSError."""
    others = [one for one in _known(room_folder) if one.names != names]
    _write(room_folder / "records" / COLUMNS, [*others, Known(names, taking)])


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


def keep_copy(room_folder: Path, file: Path, content: bytes, taking: Taking) -> None:
    """Copy a file beside the records and note how it was read; OSError. Nothing is done where that is so already.

    The same columns at the same stations, read otherwise (in another zone, say), put right how they were read before.
    """
    folder = room_folder / FOLDER
    folder.mkdir(exist_ok=True)
    name = copy_name(content)
    there = copies(room_folder)
    if not (folder / name).exists():
        disk.write_whole(folder / name, content)
    old = there.get(name)
    if old is None:
        there[name] = Copied(name, file.name, (taking,))
    elif taking not in old.takings:
        others = [one for one in old.takings if _what(one) != _what(taking)]
        there[name] = msgspec.structs.replace(old, takings=(*others, taking))
    else:
        return
    _write(folder / INDEX, list(there.values()))


def _what(taking: Taking) -> set[tuple[str, str, str]]:
    return {(one.column, one.quantity, one.station) for one in taking.columns}


def _known(room_folder: Path) -> list[Known]:
    try:
        return msgspec.json.decode((room_folder / "records" / COLUMNS).read_bytes(), type=list[Known])
    except (OSError, msgspec.MsgspecError, UnicodeDecodeError):
        return []


def _write(path: Path, many: list[Known] | list[Copied]) -> None:
    disk.write_whole(path, msgspec.json.format(msgspec.json.encode(many)))
