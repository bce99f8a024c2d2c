"""Saving and reading back, in one program."""

import os
import subprocess
import sys
from contextlib import suppress
from datetime import date, datetime, timedelta, timezone
from pathlib import Path

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tinydb import TinyDB

from tests.records.sample_records import LONG_AGO, MORNING, TODAY, answer, keys, one_of_each, opened
from walkabout.records.book import Records
from walkabout.records.model import Answer, Job, Round


def everything(records: Records) -> list[object]:
    return [
        *records.answers(LONG_AGO),
        *records.rounds(LONG_AGO),
        *records.plantings(),
        *records.findings(),
        *records.promises(),
        *records.treatments(),
        *records.jobs(),
    ]


def test_every_kind_of_record_comes_back(room: Path, records: Records) -> None:
    """Each kind is read back equal: at once, by another program, and after folding."""
    for record in one_of_each():
        records.save(record)

    assert everything(records) == one_of_each()
    assert everything(opened(room)) == one_of_each()
    records.close()
    assert everything(opened(room)) == one_of_each()
    assert not list((room / "records").glob("*.journal"))


def test_saving_again_replaces(room: Path, records: Records) -> None:
    """A record with a known key takes the place of the one before, and keeps its place in the order."""
    first, second = (answer(number) for number in (1, 2))
    for one in (first, second, msgspec.structs.replace(first, note="later")):
        records.save(one)
    job = one_of_each()[-1]
    assert isinstance(job, Job)
    for made in (job, msgspec.structs.replace(job, key="j2"), msgspec.structs.replace(job, what="other")):
        records.save(made)

    for seen in (records, opened(room)):
        assert [(one.key, one.note) for one in seen.answers(TODAY)] == [
            ("a0001", "later"),
            ("a0002", second.note),
        ]
        assert [(one.key, one.what) for one in seen.jobs()] == [("j1", "other"), ("j2", "top up")]


def test_answers_stand_in_order_of_time(records: Records) -> None:
    """Answers come in the order of their moments, whatever their offsets and the order of saving."""
    times = {
        "third": datetime(2026, 11, 25, 9, 0, tzinfo=timezone(timedelta(hours=1))),
        "first": datetime(2026, 11, 25, 9, 30, tzinfo=timezone(timedelta(hours=2))),
        "fourth": datetime(2026, 11, 25, 8, 30, tzinfo=timezone(timedelta())),
        "second": datetime(2026, 11, 25, 2, 45, tzinfo=timezone(timedelta(hours=-5))),
    }
    for key, at in times.items():
        records.save(answer(key=key, at=at))

    assert keys(records) == ["first", "second", "third", "fourth"]


def test_only_the_months_asked_for_are_read(room: Path, records: Records) -> None:
    """`since` is a day: earlier answers are left out, and files of earlier months are not opened."""
    days = [date(2026, 8, 31), date(2026, 9, 1), date(2026, 10, 15), date(2026, 10, 16), TODAY]
    for number, day in enumerate(days):
        at = MORNING.replace(year=day.year, month=day.month, day=day.day)
        records.save(answer(number, at=at))
        records.save(Round(key=f"r{number}", day=day, started=at, walker="AR"))
    again = opened(room)

    assert [one.at.date() for one in again.answers(date(2026, 10, 16))] == days[3:]
    assert "2026-09" not in again._files
    assert [one.day for one in again.rounds(date(2026, 9, 1))] == days[1:]
    assert "2026-08" not in again._files
    assert keys(again) == [f"a{number:04}" for number in range(5)]


def test_a_group_is_on_disk_when_the_block_ends(room: Path, records: Records) -> None:
    """Within `together` records can be read here; afterwards they are on disk, in one line each."""
    with records.together():
        for number in range(50):
            records.save(answer(number))
        with records.together():
            records.save(one_of_each()[-1])
        assert len(keys(records)) == 50
        assert records.waiting == 51
        assert keys(opened(room)) == []

    assert records.waiting == 0
    assert len(keys(opened(room))) == 50
    assert len(opened(room).jobs()) == 1


def test_a_group_survives_an_error_in_its_block(room: Path, records: Records) -> None:
    """What was saved before something else went wrong in the block is written."""
    with suppress(ZeroDivisionError), records.together():
        records.save(answer(1))
        _ = 1 / 0

    assert keys(opened(room)) == ["a0001"]


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_what_is_no_number_is_refused(room: Path, records: Records, value: float) -> None:
    """NaN and infinities raise ValueError, naming the field; nothing is written or kept."""
    with pytest.raises(ValueError, match="value is"):
        records.save(answer(value=value))

    assert (keys(records), records.waiting) == ([], 0)
    assert keys(opened(room)) == []


def test_what_could_not_be_read_back_is_refused(records: Records) -> None:
    """A record whose fields have the wrong type is refused before anything is written."""
    with pytest.raises(ValueError, match="answer cannot be written down"):
        records.save(answer(value="much"))
    with pytest.raises(ValueError, match="cannot be written down"):
        records.save(answer(note="\ud800"))

    assert (keys(records), records.waiting) == ([], 0)


def test_plain_tinydb_reads_a_folded_file(room: Path, records: Records) -> None:
    """After a fold, TinyDB without anything of ours reads the file; each record is on one line."""
    for record in one_of_each():
        records.save(record)
    assert records.fold()

    path = room / "records" / "2026-11.json"
    with TinyDB(path, access_mode="r", encoding="utf-8") as db:
        assert db.tables() == {"answers", "rounds"}
        assert msgspec.convert(dict(db.table("answers").get(doc_id=1)), Answer) == answer(1)
    assert sum("a0001" in line for line in path.read_text(encoding="utf-8").splitlines()) == 1


def test_a_long_journal_is_folded_when_opened(room: Path, records: Records) -> None:
    """Opening a room whose last program was killed folds a long journal, and leaves a short one."""
    records.save(one_of_each()[-1])
    with records.together():
        for number in range(700):
            records.save(answer(number))
    again = opened(room)

    assert {path.name for path in (room / "records").glob("*.journal")} == {"jobs.journal"}
    assert len(keys(again)) == 700


def test_folding_keeps_the_last_good_state(room: Path, records: Records) -> None:
    """A fold puts the file that was good before, and the journal that was added to it, in backups/."""
    records.save(answer(1))
    records.fold()
    first = (room / "records" / "2026-11.json").read_bytes()
    records.save(answer(2))
    journal = (room / "records" / "2026-11.journal").read_bytes()
    records.fold()

    assert (room / "backups" / "2026-11.json").read_bytes() == first
    assert (room / "backups" / "2026-11.journal").read_bytes() == journal
    before = (room / "records" / "2026-11.json").stat()
    records.fold()
    assert (room / "records" / "2026-11.json").stat() == before


def test_a_file_keeps_its_permissions(room: Path, records: Records) -> None:
    """Replacing a file does not open it to others."""
    records.save(answer(1))
    records.fold()
    path = room / "records" / "2026-11.json"
    path.chmod(0o600)
    records.save(answer(2))
    records.fold()

    assert path.stat().st_mode & 0o777 == 0o600


def test_nothing_returns_before_the_disk_has_it(records: Records, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every byte written is forced to the disk: lines before a save returns, files before they replace."""
    dirty: set[int] = set()
    folders = 0
    replaced = False
    write, fsync, replace = os.write, os.fsync, os.replace

    def writing(handle: int, data: bytes) -> int:
        dirty.add(handle)
        return write(handle, data)

    def syncing(handle: int) -> None:
        nonlocal folders, replaced
        folders += handle not in dirty
        replaced &= handle in dirty
        dirty.discard(handle)
        fsync(handle)

    def replacing(*paths: object) -> None:
        nonlocal replaced
        assert not dirty
        assert not replaced, "the folder of the file before was not forced to the disk"
        replaced = True
        replace(*paths)

    for name, move in {"write": writing, "fsync": syncing, "replace": replacing}.items():
        monkeypatch.setattr(os, name, move)
    records.save(answer(1))
    assert (dirty, folders) == (set(), 1)
    records.save(answer(2))
    assert (dirty, folders) == (set(), 1)
    with records.together():
        records.save(answer(3))
    assert (dirty, folders) == (set(), 1)
    records.fold()
    assert (dirty, folders, replaced) == (set(), 4, False)


def test_importing_is_light() -> None:
    """Opening a room loads neither the lock library nor a screen."""
    program = (
        "import sys, datetime, pathlib, tempfile\n"
        "from walkabout.records.book import Records\n"
        "with tempfile.TemporaryDirectory() as place:\n"
        "    Records.open(pathlib.Path(place), datetime.date(2026, 11, 25)).answers(datetime.date(2026, 1, 1))\n"
        "print(*(name for name in ('filelock', 'textual', 'rich', 'asyncio') if name in sys.modules))"
    )
    run = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)

    assert run.stdout.strip() == ""


NUMBERS = st.integers(0, 6)
ACTIONS = st.lists(
    st.one_of(
        st.tuples(st.just("save"), NUMBERS, st.text(max_size=5), st.sampled_from([9, 10, 11])),
        st.tuples(st.sampled_from(["fold", "reopen", "kill", "together", "other"]), NUMBERS),
    ),
    max_size=30,
)


@settings(max_examples=60, deadline=None)
@given(actions=ACTIONS)
def test_records_are_a_dict_on_disk(tmp_path_factory: pytest.TempPathFactory, actions: list[tuple]) -> None:
    """Whatever is done in whatever order, what is read is what a plain dict by key would hold."""
    room = tmp_path_factory.mktemp("room")
    records, model = opened(room), {}
    for what, number, *rest in actions:
        match what:
            case "save":
                note, month = rest
                one = answer(number, note=note, key=f"{month}-{number}", at=MORNING.replace(month=month))
                records.save(one)
                model[one.key] = one
            case "fold":
                assert records.fold()
            case "reopen":
                records.close()
                records = opened(room)
            case "kill":
                records = opened(room)
            case "together":
                with records.together():
                    for step in range(number):
                        one = answer(step, note="group", key=f"11-{step}")
                        records.save(one)
                        model[one.key] = one
            case "other":
                other = opened(room)
                one = answer(number, note="other", key=f"11-{number}")
                other.save(one)
                other.close()
                model[one.key] = one
                records.refresh()

        assert {one.key: one for one in records.answers(LONG_AGO)} == model
    assert {one.key: one for one in opened(room).answers(LONG_AGO)} == model
    assert records.told == []
