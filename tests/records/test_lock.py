"""The lock of a room's records."""

from pathlib import Path

import pytest

from walkabout.records.lock import RoomLock


def test_it_is_let_go_by_the_outermost(tmp_path: Path) -> None:
    """Held twice by the same program it stays held until both have let go; then another may have it."""
    one, other = RoomLock(tmp_path / "lock"), RoomLock(tmp_path / "lock", seconds=0.01)
    with one.held():
        with one.held():
            pass
        with pytest.raises(OSError, match="another program is writing"), other.held():
            pass
    with other.held():
        pass


def test_a_failure_within_lets_go(tmp_path: Path) -> None:
    """What fails while the lock is held leaves it free, and the next hold takes it anew."""
    one, other = RoomLock(tmp_path / "lock", seconds=0.01), RoomLock(tmp_path / "lock", seconds=0.01)
    with pytest.raises(ZeroDivisionError), one.held(), one.held():
        _ = 1 / 0
    with other.held(), pytest.raises(OSError, match="another program is writing"), one.held():
        pass


def test_a_folder_that_is_gone(tmp_path: Path) -> None:
    """No folder is made for a lock: a drive that was pulled out stays gone, and the next try is as good as new."""
    lock = RoomLock(tmp_path / "gone" / "lock")
    with pytest.raises(FileNotFoundError), lock.held():
        pass
    assert not (tmp_path / "gone").exists()
    (tmp_path / "gone").mkdir()
    with lock.held():
        pass
