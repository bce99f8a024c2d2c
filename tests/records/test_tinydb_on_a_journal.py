"""TinyDB's own interface on the storage, held against TinyDB in memory."""

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tinydb import Query, TinyDB, where
from tinydb.storages import MemoryStorage
from tinydb.table import Document

from tests.records.sample_records import answer, opened
from walkabout.records.book import NotSaved, Records
from walkabout.records.lock import RoomLock
from walkabout.records.storage import JournalStorage
from walkabout.records.table import JournalDB


def room_db(folder: Path) -> JournalDB:
    """Return a TinyDB with tables of any shape."""
    return JournalDB(
        folder / "things.json", backups=folder / "backups", lock=RoomLock(folder / "lock"), tell=pytest.fail
    )


def content(db: TinyDB) -> dict[str, Any]:
    tables = {name: {doc.doc_id: dict(doc) for doc in db.table(name)} for name in db.tables()}
    return {name: docs for name, docs in tables.items() if docs}


DOCUMENTS = st.dictionaries(
    st.sampled_from(["a", "b", "ü"]),
    st.one_of(st.integers(-3, 3), st.text(max_size=4), st.lists(st.booleans(), max_size=2)),
)
STEP_NAMES = ("insert", "many", "update", "each", "upsert", "remove", "drop", "empty", "fold", "reopen")
STEPS = st.lists(
    st.tuples(
        st.sampled_from(STEP_NAMES),
        st.sampled_from(["one", "two"]),
        DOCUMENTS,
        st.integers(-3, 3),
    ),
    max_size=25,
)


def do(db: TinyDB, step: str, table: str, doc: dict[str, Any], number: int, place: int) -> None:
    target = db.table(table)
    match step:
        case "insert":
            target.insert(Document(doc, place))
        case "many":
            target.insert_multiple([Document(doc, place + 100), Document({"a": number}, place + 200)])
        case "update":
            target.update(doc, where("a") == number)
        case "each":
            target.update(lambda found: found.update(seen=True), where("a").exists())
        case "upsert":
            target.upsert(Document(doc, place - abs(number)))
        case "remove":
            target.remove(where("a") == number)
        case "drop":
            db.drop_table(table)
        case "empty":
            target.truncate()


@settings(max_examples=60, deadline=None)
@given(steps=STEPS)
def test_it_does_what_tinydb_does(tmp_path_factory: pytest.TempPathFactory, steps: list[Any]) -> None:
    """Whatever is done with TinyDB's methods leaves the same documents as TinyDB's memory storage."""
    folder = tmp_path_factory.mktemp("db")
    ours, plain = room_db(folder), TinyDB(storage=MemoryStorage)
    for place, (step, *rest) in enumerate(steps, start=10):
        do(ours, step, *rest, place)
        do(plain, step, *rest, place)
        if step == "fold":
            ours.storage.fold()
        elif step == "reopen":
            ours.close()
            ours = room_db(folder)

        assert content(ours) == content(plain)
    ours.storage.fold()
    ours.close()
    if any(step[0] not in {"fold", "reopen"} for step in steps) and (folder / "things.json").exists():
        with TinyDB(folder / "things.json", encoding="utf-8") as after:
            assert content(after) == content(plain)


def test_a_search_sees_what_was_saved(records: Records) -> None:
    """TinyDB's search, get and count work on the records, without reading a file again."""
    for number, station in enumerate(["raft", "raft", "vine"]):
        records.save(answer(number, station=station))
    table = records.file("2026-11").table("answers")

    assert [found["key"] for found in table.search(Query().station == "raft")] == ["a0000", "a0001"]
    assert table.get(where("station") == "vine")["key"] == "a0002"
    assert table.count(where("value") > 1) == 3
    records.save(answer(7, station="raft"))
    assert table.count(Query().station == "raft") == 3


def test_a_document_put_in_with_tinydb_is_a_record(room: Path, records: Records) -> None:
    """What is inserted or updated through TinyDB is read back as structs, here and after opening again."""
    table = records.file("2026-11").table("answers")
    records.save(answer(1))
    table.insert({"key": "a2", "round": "r1", "at": answer().at, "walker": "BK", "station": "s", "question": "q"})
    table.update({"note": "corrected"}, where("key") == "a0001")

    for seen in (records, opened(room)):
        assert [(given.key, given.note) for given in seen.answers(answer().at.date())] == [
            ("a0001", "corrected"),
            ("a2", ""),
        ]


@pytest.mark.parametrize("document", [{"key": 3}, {"a": float("nan")}, {"a": [{"b": float("inf")}]}, {"a": object()}])
def test_a_document_that_could_not_be_read_back_is_refused(records: Records, document: dict[str, Any]) -> None:
    """TinyDB's insert refuses what does not fit and what JSON has no word for."""
    table = records.file("2026-11").table("answers")
    with pytest.raises((ValueError, TypeError)):
        table.insert(document)

    assert table.all() == []


def test_numbers_are_never_used_again(tmp_path: Path) -> None:
    """The number of a document is one more than any before, also after removal and for two programs."""
    one, two = room_db(tmp_path), room_db(tmp_path)
    drawn = [one.table("t").insert({}), two.table("t").insert({}), one.table("t").insert({})]
    one.table("t").remove(doc_ids=[3])
    drawn += [one.table("t").insert({}), *two.table("t").insert_multiple([{}, {}])]

    assert drawn == [1, 2, 3, 4, 5, 6]
    one.close()
    two.close()


def test_an_insert_writes_one_line(records: Records, room: Path) -> None:
    """The journal grows by one line for each insert, however many documents there are."""
    table = records.file("2026-11").table("answers")
    journal = room / "records" / "2026-11.journal"
    table.insert_multiple({"key": f"k{n}", **_rest()} for n in range(500))
    before = journal.stat().st_size
    table.insert({"key": "last", **_rest()})

    assert journal.read_bytes()[before:].count(b"\n") == 1
    assert not (room / "records" / "2026-11.json").exists()


def test_a_failed_insert_says_so(records: Records, room: Path) -> None:
    """Through TinyDB too, a write that fails raises NotSaved and changes nothing."""
    table = records.file("2026-11").table("answers")
    (room / "records").rename(room / "elsewhere")
    with pytest.raises(NotSaved, match="not there any more"):
        table.insert({"key": "a", **_rest()})

    assert table.all() == []
    (room / "elsewhere").rename(room / "records")


def test_the_storage_is_tinydbs(records: Records) -> None:
    """A file of records is a TinyDB on a TinyDB storage."""
    file = records.file("jobs")

    assert isinstance(file, TinyDB)
    assert isinstance(file.storage, JournalStorage)
    assert file.tables() == set()


def _rest() -> dict[str, Any]:
    return {"round": "r1", "at": answer().at, "walker": "BK", "station": "s", "question": "q"}
