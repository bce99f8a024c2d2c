"""A room written by an earlier version, without promises, treatments and what plantings reach, opens unchanged."""

from pathlib import Path

import msgspec
import pytest

from tests.records.sample_records import answer, one_of_each, opened
from walkabout.records.model import Planting, Promise, Treatment

OLD = (
    '{"plantings":{\n'
    '"1":{"key":"p1","crop":"lettuce","sown":"2026-11-01","count":12,'
    '"moves":[{"day":"2026-11-01","station":"raft","by":"AR"}],"history":[]}\n'
    "}}"
)


def bytes_of(room: Path) -> dict[str, bytes]:
    """Return every file of the room but the lock, which holds nothing."""
    return {str(path): path.read_bytes() for path in sorted(room.rglob("*")) if path.is_file() and path.stat().st_size}


def test_opening_changes_and_tells_nothing(room: Path) -> None:
    """No file is made, none is written anew, and what is read has nothing in the new fields."""
    (room / "records").mkdir()
    (room / "backups").mkdir()
    (room / "records" / "plantings.json").write_text(OLD, encoding="utf-8")
    before = bytes_of(room)
    records = opened(room)
    (planting,) = records.plantings()
    assert (records.promises(), records.treatments(), records.told) == ([], [], [])
    assert (planting.started, planting.reached, planting.losses, planting.pickings) == (None, (), (), ())
    records.close()
    assert bytes_of(room) == before


def test_what_is_saved_then_comes_back(room: Path) -> None:
    """The first promise and treatment make their files; a planting gets its new fields and keeps the old."""
    (room / "records").mkdir()
    (room / "records" / "plantings.json").write_text(OLD, encoding="utf-8")
    records = opened(room)
    (old,) = records.plantings()
    records.save(msgspec.structs.replace(old, started=12))
    for record in one_of_each():
        if isinstance(record, Promise | Treatment):
            records.save(record)
    records.close()
    again = opened(room)
    assert ([one.key for one in again.promises()], [one.key for one in again.treatments()]) == (["pr1"], ["t1"])
    assert again.plantings() == [msgspec.structs.replace(old, started=12)]
    assert again.told == []


@pytest.mark.parametrize(("kind", "name"), [(Promise, "promises"), (Treatment, "treatments")])
def test_a_damaged_file_of_the_new_kinds_is_mended(room: Path, kind: type, name: str) -> None:
    """Cut in the middle, it is kept aside, and the record comes back from the journal or the copy."""
    record = next(one for one in one_of_each() if isinstance(one, kind))
    records = opened(room)
    records.save(answer(1))
    records.save(record)
    records.fold()
    records.save(msgspec.structs.replace(record, key="second"))
    path = room / "records" / f"{name}.json"
    path.write_bytes(path.read_bytes()[:-30])
    again = opened(room)
    assert [one.key for one in getattr(again, name)()] == [record.key, "second"]
    assert again.told[0].startswith(f"{name}.json is damaged")
    assert list((room / "records").glob(f"{name}.damaged-*"))


def test_a_planting_with_a_stage_of_a_later_version_is_told_and_kept(room: Path) -> None:
    """A stage that this version does not know leaves the record out with a word, and the file as it is."""
    odd = OLD.replace('"history":[]', '"reached":[{"day":"2026-11-09","stage":"fruit set"}],"history":[]')
    (room / "records").mkdir()
    (room / "records" / "plantings.json").write_text(odd, encoding="utf-8")
    records = opened(room)
    assert records.plantings() == []
    assert "plantings.json is left out" in records.told[0]
    records.save(Planting(key="p2", crop="basil", sown=answer().at.date(), count=1, moves=()))
    records.close()
    assert "fruit set" in (room / "records" / "plantings.json").read_text(encoding="utf-8")
