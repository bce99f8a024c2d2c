"""A full disk, a folder that may not be written to, a drive that was pulled out."""

import errno
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from tests.records.sample_records import MORNING, TODAY, answer, keys, one_of_each, opened
from walkabout.records.book import NotSaved, Records


@contextmanager
def failing(name: str, number: int, *, after: int = 0, part: int = 0) -> Iterator[None]:
    """Let os.NAME fail with an error number, after some calls; a write gets `part` of its bytes out first."""
    real: Callable[..., Any] = getattr(os, name)
    calls = 0

    def failing_move(*args: Any, **options: Any) -> Any:
        nonlocal calls
        reading = name == "open" and not args[1] & os.O_WRONLY
        locking = isinstance(args[0], (str, os.PathLike)) and "lock" in str(args[0])
        if reading or locking:
            return real(*args, **options)
        calls += 1
        if calls <= after:
            return real(*args, **options)
        if name == "write" and part and calls == after + 1:
            return real(args[0], bytes(args[1])[:part])
        raise OSError(number, os.strerror(number))

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, name, failing_move)
        yield


@pytest.mark.parametrize("part", [0, 1, 8, 9, 40, 210, -1])
def test_full_disk(room: Path, records: Records, part: int) -> None:
    """Wherever the disk fills up within a line, the record is kept in memory and nothing else suffers."""
    records.save(answer(1))
    with failing("write", errno.ENOSPC, part=part):
        with pytest.raises(NotSaved, match=r"^This answer is in memory only: the disk .* is full\. Free"):
            records.save(answer(2))
        with pytest.raises(NotSaved):
            records.save(one_of_each()[-1])
        assert (records.waiting, keys(records), len(records.jobs())) == (2, ["a0001", "a0002"], 1)
        with pytest.raises(NotSaved, match=r"^2 records are in memory only"):
            records.retry()
        records.refresh()
        assert (records.waiting, keys(records), len(records.jobs())) == (2, ["a0001", "a0002"], 1)
    records.save(answer(3))

    assert records.waiting == 0
    for seen in (records, opened(room)):
        assert keys(seen) == ["a0001", "a0002", "a0003"]
        assert len(seen.jobs()) == 1
        assert seen.told == []


def test_a_limit_of_the_system(room: Path, records: Records) -> None:
    """The same with a limit that the system itself keeps: the line is cut where the limit is reached."""
    resource = pytest.importorskip("resource", reason="this system sets no limits to a file's size")
    records.save(answer(1))
    size = (room / "records" / "2026-11.journal").stat().st_size
    limits = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size + 50, limits[1]))
    try:
        with pytest.raises(NotSaved, match="full"):
            records.save(answer(2))
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, limits)

    assert (room / "records" / "2026-11.journal").stat().st_size == size + 50
    other = opened(room)
    assert keys(other) == ["a0001"]
    other.save(answer(3))
    records.retry()
    again = opened(room)
    assert sorted(keys(again)) == sorted(keys(records)) == ["a0001", "a0002", "a0003"]
    assert again.told == []


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.EROFS, "not allowed"),
        (errno.EACCES, "not allowed"),
        (errno.ENOENT, "not there any more"),
        (errno.EIO, "reports: Input/output error"),
    ],
)
@pytest.mark.parametrize("move", ["open", "fsync"])
def test_one_plain_line_for_each_trouble(records: Records, move: str, number: int, words: str) -> None:
    """The text of NotSaved is one line that says what, where and what to do."""
    with failing(move, number), pytest.raises(NotSaved, match=words) as caught:
        records.save(answer(1))

    text = str(caught.value)
    assert text.startswith("This answer is in memory only: ")
    assert "records" in text
    assert "\n" not in text
    assert text.endswith(".")
    assert (records.waiting, keys(records)) == (1, ["a0001"])


def test_a_room_that_may_only_be_read(room: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A room on a read-only disk opens and shows its records; saving says what is wrong."""
    opened(room).save(answer(1))
    monkeypatch.setattr("walkabout.records.lock.RoomLock.held", _refused)
    with failing("open", errno.EROFS):
        records = opened(room)
        assert keys(records) == ["a0001"]
        with pytest.raises(NotSaved, match="not allowed"):
            records.save(answer(2))
        assert not records.fold()

    assert records.told == []
    assert keys(records) == ["a0001", "a0002"]
    with pytest.raises(NotSaved, match="not allowed"):
        records.close()


@contextmanager
def _refused(_lock: object) -> Iterator[None]:
    raise OSError(errno.EROFS, "read-only")
    yield


def test_a_drive_pulled_out_and_put_back(room: Path, records: Records) -> None:
    """While the folder is gone nothing is forgotten; when it is back, what waited is written."""
    records.save(answer(1))
    records.fold()
    records.save(answer(2))
    room.rename(room.with_name("pulled"))
    with pytest.raises(NotSaved, match="not there any more"):
        records.save(answer(3))
    assert not records.refresh()
    assert keys(records) == ["a0001", "a0002", "a0003"]
    assert not room.exists()

    room.with_name("pulled").rename(room)
    records.save(answer(4))
    assert records.waiting == 0
    assert keys(opened(room)) == keys(records) == ["a0001", "a0002", "a0003", "a0004"]


def test_a_room_that_is_not_there(tmp_path: Path) -> None:
    """Opening tells that nothing can be saved; a save raises; no folder is made up."""
    records = Records.open(tmp_path / "nowhere", TODAY)

    assert "Nothing can be saved" in records.told[0]
    with pytest.raises(NotSaved, match="not there any more"):
        records.save(answer(1))
    assert keys(records) == ["a0001"]
    assert not (tmp_path / "nowhere").exists()
    (tmp_path / "nowhere").mkdir()
    records.retry()
    assert keys(Records.open(tmp_path / "nowhere", TODAY)) == ["a0001"]


def test_what_waits_is_written_in_order(room: Path, records: Records) -> None:
    """Two versions of one record that both had to wait: the later one stands."""
    with failing("write", errno.ENOSPC):
        for note in ("first", "second"):
            with pytest.raises(NotSaved):
                records.save(answer(1, note=note))
    records.retry()
    records.retry()

    assert [one.note for one in opened(room).answers(TODAY)] == ["second"]


def test_one_unreadable_file_does_not_stop_the_others(room: Path, records: Records) -> None:
    """When one month cannot be read, it is told, its records wait, and other files go on."""
    records.save(answer(1))
    records.close()
    path = room / "records" / "2026-11.json"
    path.rename(room / "kept")
    path.mkdir()
    again = opened(room)

    assert again.told == ["2026-11.json cannot be read: Is a directory. Its records are not shown."]
    with pytest.raises(NotSaved):
        again.save(answer(2))
    again.save(one_of_each()[-1])
    again.save(answer(3, at=MORNING.replace(month=12)))
    assert (again.waiting, keys(again)) == (1, ["a0002", "a0003"])
    path.rmdir()
    (room / "kept").rename(path)
    again.retry()
    assert keys(opened(room)) == ["a0001", "a0002", "a0003"]


@pytest.mark.parametrize("move", ["write", "fsync", "replace"])
@pytest.mark.parametrize("after", range(5))
def test_a_fold_that_fails_loses_nothing(room: Path, records: Records, move: str, after: int) -> None:
    """A fold stopped by a full disk at any point returns False; the next one does it."""
    records.save(answer(1))
    records.fold()
    records.save(answer(2))
    records.save(one_of_each()[-1])
    with failing(move, errno.ENOSPC, after=after):
        assert not records.fold()
        assert keys(opened(room)) == ["a0001", "a0002"]
    records.save(answer(3))

    assert records.fold()
    again = opened(room)
    assert keys(again) == ["a0001", "a0002", "a0003"]
    assert len(again.jobs()) == 1
    assert again.told == records.told == []
    assert not list(room.glob("*/*.new"))


def test_a_group_that_fails_waits_as_a_whole(room: Path, records: Records) -> None:
    """When the disk fills up while a group is written, NotSaved counts it, and a retry writes it."""

    def save_ten() -> None:
        with records.together():
            for number in range(10):
                records.save(answer(number))

    with failing("write", errno.ENOSPC, part=300), pytest.raises(NotSaved, match=r"^10 records are in memory"):
        save_ten()
    assert (records.waiting, len(keys(records))) == (10, 10)
    records.retry()

    assert len(keys(opened(room))) == 10
    assert sorted(records.file("2026-11").storage.memory.docs["answers"]) == list(range(1, 11))
