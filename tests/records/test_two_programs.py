"""Two programs on one room."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.records.sample_records import LONG_AGO, MORNING, answer, keys, one_of_each, opened
from walkabout.records.book import NotSaved, Records

SAVER = Path(__file__).with_name("saver.py")


def test_two_programs_saving_at_once_lose_nothing(room: Path) -> None:
    """Two programs save 200 answers and 200 jobs each, folding now and then: all are there, once each."""
    programs = [
        subprocess.Popen(
            [sys.executable, SAVER, "saves", room, name, "200"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
        )
        for name in ("one", "two")
    ]
    for program in programs:
        out, err = program.communicate(timeout=120)
        assert (program.returncode, err) == (0, b"")
        assert len(out.split()) == 200
    records = opened(room)
    wanted = sorted(f"{name}-{number}" for name in ("one", "two") for number in range(200))

    assert sorted(keys(records)) == wanted
    assert sorted(job.key for job in records.jobs()) == wanted
    assert sorted(records.file("2026-11").storage.memory.docs["answers"]) == list(range(1, 401))
    assert records.told == []


def test_refresh_says_whether_anything_is_new(room: Path, records: Records) -> None:
    """What another program saved is seen after `refresh`, which is True once and then False."""
    other = opened(room)
    assert not records.refresh()

    other.save(answer(1))
    assert keys(records) == []
    assert records.refresh()
    assert keys(records) == ["a0001"]
    assert not records.refresh()
    assert not other.refresh()


def test_a_fold_is_not_news(room: Path, records: Records) -> None:
    """When the other program only folded, nothing is new; what it saved and folded is."""
    other = opened(room)
    other.save(answer(1))
    records.refresh()
    other.fold()
    assert not records.refresh()

    other.save(answer(2))
    other.fold()
    assert records.refresh()
    assert keys(records) == ["a0001", "a0002"]


def test_a_save_takes_in_what_came_before(room: Path, records: Records) -> None:
    """Saving shows what the other saved meanwhile, gives its records no second number, and is still news."""
    other = opened(room)
    other.save(answer(1))
    other.fold()
    records.save(answer(2))
    other.save(answer(3))
    records.save(answer(3, note="second thoughts"))

    assert keys(records) == ["a0001", "a0002", "a0003"]
    assert records.refresh()
    assert [one.note for one in opened(room).answers(LONG_AGO)][2] == "second thoughts"
    assert sorted(records.file("2026-11").storage.memory.docs["answers"]) == [1, 2, 3]


def test_a_month_begun_by_the_other_is_noticed(room: Path, records: Records) -> None:
    """A new month's file made by another program is news too."""
    other = opened(room)
    other.save(answer(1, at=MORNING.replace(month=12)))

    assert records.refresh()
    assert keys(records) == ["a0001"]
    assert not records.refresh()


def test_the_other_holds_the_lock(room: Path, records: Records, monkeypatch: pytest.MonkeyPatch) -> None:
    """When the other program does not let go, a save says so in time and keeps the record."""
    other = opened(room)
    monkeypatch.setattr(records._lock, "_seconds", 0.02)
    with other._lock.held():
        with pytest.raises(NotSaved, match="another program is busy") as caught:
            records.save(answer(1))
        assert "\n" not in str(caught.value)
        assert not records.fold()

    assert (records.waiting, keys(records)) == (1, ["a0001"])
    records.retry()
    other.refresh()
    assert (records.waiting, keys(other)) == (0, ["a0001"])


def test_opening_while_the_other_folds(room: Path, records: Records, monkeypatch: pytest.MonkeyPatch) -> None:
    """A fold that falls between reading the file and reading its journal hides nothing."""
    records.save(answer(1))
    records.fold()
    records.save(answer(2))
    folds = iter([records.fold])

    def reading(path: Path) -> bytes | None:
        data = path.read_bytes() if path.exists() else None
        if path.name == "2026-11.json":
            next(folds, bool)()
        return data

    monkeypatch.setattr("walkabout.records.files.read_or_none", reading)

    assert keys(opened(room)) == ["a0001", "a0002"]


def test_a_line_the_other_is_still_writing(room: Path, records: Records) -> None:
    """A line seen half-written is taken in when it is whole."""
    journal = room / "records" / "2026-11.journal"
    other = opened(room)
    other.save(answer(1))
    other.save(answer(2))
    data = journal.read_bytes()
    journal.write_bytes(data[:-30])
    assert records.refresh()
    assert keys(records) == ["a0001"]

    with journal.open("ab") as file:
        file.write(data[-30:-1])
    assert records.refresh()
    assert keys(records) == ["a0001", "a0002"]
    with journal.open("ab") as file:
        file.write(b"\n")
    assert not records.refresh()
    records.save(one_of_each()[0])
    assert (keys(opened(room)), records.told) == (["a0001", "a0002"], [])
