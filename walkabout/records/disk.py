"""Writing so that what was written stays: the few moves that everything else is made of.

A whole file is only ever replaced by another whole file; a journal is only ever added to.
"""

import errno
import os
from contextlib import suppress
from pathlib import Path

_BINARY: int = getattr(os, "O_BINARY", 0)

_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_CLOSED = {errno.EACCES, errno.EPERM, errno.EROFS}
_GONE = {errno.ENOENT, errno.ENOTDIR, errno.ESTALE, errno.ENODEV, errno.ENXIO}
_BUSY = {errno.EBUSY, errno.EAGAIN, errno.EDEADLK}


class NotSaved(Exception):
    """Something could not be written; it is kept in memory. Its text is one plain line."""


def plainly(error: OSError, folder: Path) -> str:
    """Say in one line what stopped the writing into `folder`, and what to do about it."""
    if error.errno in _FULL:
        return f"the disk that holds {folder} is full. Free some space there, then try again."
    if error.errno in _CLOSED:
        return f"writing is not allowed in {folder}. Ask whoever looks after this computer to allow it."
    if error.errno in _GONE:
        return f"{folder} is not there any more. Plug the drive back in, or put the folder back."
    if error.errno in _BUSY:
        return f"another program is busy writing in {folder}. Wait a moment, or close it, then try again."
    return f"the disk that holds {folder} reports: {error.strerror or error}. Try again, or use another disk."


def read_or_none(path: Path) -> bytes | None:
    """Return a file's bytes, or None where there is no such file; raise OSError when it is unreadable."""
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return None


def write_whole(path: Path, data: bytes) -> None:
    """Replace the file at `path`: whatever happens, either the old or the new content is there."""
    fresh = path.with_name(path.name + ".new")
    try:
        handle = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | _BINARY, 0o666)
        try:
            with suppress(FileNotFoundError):
                fresh.chmod(path.stat().st_mode & 0o777)
            write_all(handle, data)
            os.fsync(handle)
        finally:
            os.close(handle)
        os.replace(fresh, path)  # noqa: PTH105 - named beside fsync, as the rule is known
    except OSError:
        with suppress(OSError):
            fresh.unlink()
        raise
    sync_folder(path.parent)


def open_to_append(path: Path) -> int:
    """Open a file for adding to its end, made if need be; return the file descriptor."""
    return os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND | _BINARY, 0o666)


def write_all(handle: int, data: bytes) -> None:
    """Write every byte, in as many pieces as the system wants; what precedes an error stays written."""
    rest = memoryview(data)
    while rest:
        rest = rest[os.write(handle, rest) :]


def sync_folder(folder: Path) -> None:
    """Make new, replaced and removed names in `folder` last, where the system can do that."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno not in {errno.EINVAL, errno.ENOTSUP}:
            raise
    finally:
        os.close(handle)
