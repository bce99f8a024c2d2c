"""One writer at a time: two programs on one room take turns."""

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from filelock import BaseFileLock

SECONDS = 3.0
"""How long to wait for the other program. A save takes well under a hundredth of this (assumed)."""


class RoomLock:
    """The lock file of a room's records. It may be taken again by whoever holds it."""

    def __init__(self, path: Path, seconds: float = SECONDS) -> None:
        self._path = path
        self._seconds = seconds
        self._lock: BaseFileLock | None = None
        self._holds = 0

    @contextmanager
    def held(self) -> Iterator[None]:
        """Hold the lock; OSError (EBUSY when the other program keeps it) when it cannot be had."""
        if not self._holds:
            self._take()
        self._holds += 1
        try:
            yield
        finally:
            self._holds -= 1
            if not self._holds and self._lock is not None:
                self._lock.release()

    def _take(self) -> None:
        # Imported here because reading never needs it and it costs as much as everything else together.
        from filelock import FileLock, Timeout  # noqa: PLC0415

        # The lock would make the folders above it: on the place of a drive that was pulled out, say.
        if not self._path.parent.is_dir():
            raise FileNotFoundError(errno.ENOENT, "the folder is gone", str(self._path.parent))
        if self._lock is None:
            self._lock = FileLock(self._path)
        try:
            self._lock.acquire(timeout=self._seconds, poll_interval=0.004)
        except Timeout as error:
            raise OSError(errno.EBUSY, "another program is writing", str(self._path)) from error
        except NotImplementedError as error:
            raise OSError(errno.ENOLCK, "this disk cannot lock files", str(self._path)) from error
