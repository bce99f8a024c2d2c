"""Files that were read before, kept in a form that is read again at once.

The shipped checklists and the crop table are written for people, and reading them as TOML takes most
of a start. What came of a file without mistakes is kept among the user's cached data, under the
file's size and time of change and those of its schema; a copy that does not fit in any way is simply made anew.
"""

import os
import sys
import zlib
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TypeVar

import msgspec

from walkabout import __version__
from walkabout.room.places import cache_folder

Shape = TypeVar("Shape", bound=msgspec.Struct)


def compiled(
    file: Path, shape: type[Shape], make: Callable[[], Shape | None], besides: Iterable[Path] = ()
) -> Shape | None:
    """Return what `make` makes of `file`, from the kept copy where there is one of this very file.

    `file` may be a folder: then all the TOML files in it count. A change in one of the files `besides` makes the
    copy out of date too.
    """
    try:
        files = [*(sorted(file.glob("*.toml")) if file.is_dir() else [file]), *besides]
        states = " ".join(f"{state.st_size} {state.st_mtime_ns}" for state in (one.stat() for one in files))
        schema = Path(sys.modules[shape.__module__].__file__ or "").stat()
        mark = f"{__version__} {schema.st_mtime_ns} {file} {states}".encode()
        copy = cache_folder() / f"{file.stem}-{zlib.crc32(str(file).encode()):08x}.bin"
    except OSError:
        return make()
    try:
        kept = copy.read_bytes()
        if kept.startswith(mark + b"\n"):
            return msgspec.msgpack.decode(kept[len(mark) + 1 :], type=shape)
    except (OSError, msgspec.MsgspecError, ValueError):
        pass
    made = make()
    if made is not None:
        _keep(copy, mark + b"\n" + msgspec.msgpack.encode(made))
    return made


def _keep(copy: Path, content: bytes) -> None:
    """Write a copy whole or not at all; where that cannot be, the next start only takes longer."""
    part = copy.with_suffix(f".{os.getpid()}.part")
    try:
        copy.parent.mkdir(parents=True, exist_ok=True)
        part.write_bytes(content)
        part.replace(copy)
    except OSError:
        return
