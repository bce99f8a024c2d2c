"""Files that were damaged, cut, removed or edited by hand."""

import random
import re
from pathlib import Path

import msgspec
import pytest
from tinydb import TinyDB

from tests.records.sample_records import answer, keys, one_of_each, opened
from walkabout.records.book import Records

WANTED = [f"a{number:04}" for number in range(36)]


@pytest.fixture
def full(room: Path) -> Path:
    """A month after two folds, with a few lines in its journal: 36 answers and a round."""
    records = opened(room)
    records.save(one_of_each()[1])
    for number in range(36):
        records.save(answer(number))
        if number in {15, 30}:
            records.fold()
    records.save(answer(3, note="corrected"))
    return room


def month(room: Path, suffix: str = ".json") -> Path:
    return room / "records" / f"2026-11{suffix}"


def set_aside(room: Path, suffix: str = ".json") -> list[Path]:
    return sorted((room / "records").glob(f"2026-11.damaged-*{suffix}"))


def broken_ways(data: bytes) -> dict[str, bytes]:
    """Return the file cut and garbled at places spread over the whole of it."""
    chance = random.Random(7)
    places = range(0, len(data) - 2, 211)
    ways = {f"cut at {place}": data[:place] for place in places}
    for place in places:
        for name, noise in {
            "nul": bytes(8),
            "ones": b"\xff" * 8,
            "noise": bytes(chance.choice([*range(9), *range(128, 256)]) for _ in range(8)),
            "one byte": b"\x00",
        }.items():
            ways[f"{name} at {place}"] = data[:place] + noise + data[place + len(noise) :]
    return ways


def test_damage_anywhere_is_mended_and_told(full: Path) -> None:
    """A file cut or garbled anywhere is kept aside as it is; every record comes back; later openings are calm."""
    good = month(full).read_bytes()
    ways = broken_ways(good)
    for way, data in ways.items():
        month(full).write_bytes(data)
        records = opened(full)

        assert keys(records) == WANTED, way
        assert len(records.rounds(answer().at.date())) == 1, way
        assert next(one for one in records.answers(answer().at.date()) if one.key == "a0003").note == "corrected"
        assert len(records.told) == 2, way
        assert records.told[0].startswith("2026-11.json is damaged: "), way
        assert records.told[1] == "The records of 2026-11.json now come from the last good copy and the journal."
        (aside,) = set_aside(full)
        assert aside.read_bytes() == data, way
        assert re.fullmatch(r"2026-11\.damaged-\d{8}-\d{6}\.json", aside.name)
        again = opened(full)
        assert (keys(again), again.told) == (WANTED, []), way
        with TinyDB(month(full), access_mode="r", encoding="utf-8") as db:
            assert len(db.table("answers")) == len(WANTED), way
        aside.unlink()
        month(full).write_bytes(good)
    assert len(ways) > 130


def test_the_line_of_the_mistake_is_named(full: Path) -> None:
    """What is told names the line on which the file stops making sense."""
    rows = month(full).read_bytes().split(b"\n")
    rows[4] = rows[4].replace(b",", b";", 1)
    month(full).write_bytes(b"\n".join(rows))

    assert "is damaged: line 5: JSON is malformed" in opened(full).told[0]


def test_a_lost_table_is_damage(full: Path) -> None:
    """A file that is JSON but lacks a table, or is no set of tables, is not taken for an empty one."""
    for text in (b"{}", b"[]", b"null", month(full).read_bytes().replace(b'"answers"', b'"answerz"')):
        month(full).write_bytes(text)
        records = opened(full)
        assert keys(records) == WANTED
        assert "2026-11.json is damaged" in records.told[0]


def test_two_damaged_files_in_one_second(full: Path) -> None:
    """A second damaged file does not take the place of the first."""
    for text in (b"one", b"two", b"three"):
        month(full).write_bytes(text)
        opened(full)

    assert sorted(path.read_bytes() for path in set_aside(full)) == [b"one", b"three", b"two"]


def test_a_removed_file_comes_back(full: Path) -> None:
    """When the month's file is gone but its copy is there, it is restored and told."""
    month(full).unlink()
    records = opened(full)

    assert keys(records) == WANTED
    assert records.told == ["2026-11.json was gone. It is there again, from the last good copy."]
    assert opened(full).told == []


def test_damage_after_mending(full: Path) -> None:
    """A file damaged again after it was mended, used and folded loses nothing either."""
    for number in range(100, 104):
        month(full).write_bytes(month(full).read_bytes()[:-40])
        records = opened(full)
        records.save(answer(number))
        if number % 2:
            records.fold()

    assert keys(opened(full)) == [*WANTED, "a0100", "a0101", "a0102", "a0103"]


def test_no_good_copy_at_all(full: Path) -> None:
    """With both the file and its copy damaged, the journals are read, all of it is told, nothing is overwritten."""
    bad = month(full).read_bytes()[:-40]
    month(full).write_bytes(bad)
    copy = full / "backups" / "2026-11.json"
    copy.write_bytes(b"{")
    records = opened(full)

    assert sorted(keys(records)) == ["a0003", *WANTED[16:]]
    assert any("2026-11.json in backups is damaged too" in said for said in records.told)
    assert set_aside(full)[0].read_bytes() == bad


def test_a_damaged_journal_line_is_kept_aside(full: Path) -> None:
    """A damaged line in the middle goes to a file of its own; the lines around it are read; told once."""
    journal = month(full, ".journal")
    rows = journal.read_bytes().split(b"\n")
    rows[1] = rows[1][:40] + b"#" + rows[1][41:]
    journal.write_bytes(b"\n".join(rows))
    records = opened(full)

    assert keys(records) == [key for key in WANTED if key != "a0032"]
    (aside,) = set_aside(full, ".journal")
    assert aside.read_bytes() == rows[1] + b"\n"
    assert records.told == [f"1 damaged line of 2026-11.journal went to {aside.name}. The rest is read."]
    again = opened(full)
    assert (again.told, len(keys(again))) == ([], 35)


@pytest.mark.parametrize("suffix", [".json", ".journal"])
def test_damage_while_the_program_runs(full: Path, suffix: str) -> None:
    """A file cut, garbled or removed under a running program is mended from what it holds in memory."""
    for change in ("cut", "remove", "empty", "garble"):
        records = opened(full)
        records.save(answer(35, note=change))
        path = month(full, suffix)
        data = path.read_bytes()
        if change == "remove":
            path.unlink()
        else:
            path.write_bytes({"cut": data[:-30], "empty": b"", "garble": data + b"?????\n"}[change])
        if suffix == ".json" and change != "garble":
            (full / "backups" / "2026-11.json").unlink(missing_ok=True)
        records.refresh()
        records.save(answer(34, note=change))

        for seen in (records, opened(full)):
            notes = {one.key: one.note for one in seen.answers(answer().at.date())}
            assert sorted(notes) == WANTED, change
            assert (notes["a0034"], notes["a0035"]) == (change, change)
        assert records.told, change


def test_damage_in_a_room_that_may_only_be_read(full: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where nothing can be put right, the records are still shown, it is told, and nothing is overwritten."""
    bad = month(full).read_bytes()[:-40]
    month(full).write_bytes(bad)

    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patch:
        patch.setattr("walkabout.records.storage.JournalStorage._set_aside", refuse)
        records = opened(full)
        assert keys(records) == WANTED
        assert "2026-11.json could not be put right: writing is not allowed" in records.told[0]
        records.save(answer(77))
        assert not records.fold()
        assert month(full).read_bytes() == bad
    assert records.fold()

    assert set_aside(full)[0].read_bytes() == bad
    assert keys(opened(full)) == [*WANTED, "a0077"]


def test_a_record_edited_so_that_it_does_not_fit(full: Path) -> None:
    """It is told and left out; it stays in the file, letter by letter, through later folds."""
    text = month(full).read_text(encoding="utf-8")
    edited = text.replace('"value":1.5', '"value": "one and a half"', 1)
    month(full).write_text(edited, encoding="utf-8")
    records = opened(full)

    assert keys(records) == WANTED[1:]
    assert records.told[0].startswith("Record 1 of the answers in 2026-11.json is left out")
    assert "$.value" in records.told[0]
    records.save(answer(50))
    records.fold()
    assert '"value": "one and a half"' in month(full).read_text(encoding="utf-8")
    assert not set_aside(full)


def test_a_good_edit_by_hand_is_read(full: Path) -> None:
    """A note changed by hand in another layout is read, kept, and known after a fold."""
    text = month(full).read_text(encoding="utf-8")
    month(full).write_text(text.replace("note 5 ", "my own words ", 1).replace(",", ",\n    "), encoding="utf-8")
    records = opened(full)
    records.save(answer(50))
    records.fold()

    again = opened(full)
    assert again.told == []
    assert next(one.note for one in again.answers(answer().at.date()) if one.key == "a0005").startswith("my own")


def test_two_records_with_one_key(full: Path) -> None:
    """A record copied by hand with its key: the first stands, the second is told and stays in the file."""
    rows = month(full).read_text(encoding="utf-8").split("\n")
    copied = rows[1].replace('"1":', '"900":', 1).replace("note 0", "a copy")
    month(full).write_text("\n".join([rows[0], rows[1], copied, *rows[2:]]), encoding="utf-8")
    records = opened(full)
    records.save(answer(0, note="new"))
    records.fold()

    (said,) = records.told
    assert "Record 900 of the answers" in said
    assert "it has the same key as record 1." in said
    assert next(one.note for one in opened(full).answers(answer().at.date()) if one.key == "a0000") == "new"
    assert "a copy" in month(full).read_text(encoding="utf-8")


def test_a_record_in_a_later_versions_words_is_kept(room: Path, records: Records) -> None:
    """Fields and tables that this version does not know stay in the file."""
    records.save(answer(1))
    records.fold()
    text = month(room).read_text(encoding="utf-8")
    text = text.replace('"key":"a0001"', '"key":"a0001","colour":"green"')
    month(room).write_text(text.replace("{", '{"weather":{},', 1), encoding="utf-8")
    again = opened(room)
    again.save(answer(2))
    again.fold()

    content = msgspec.json.decode(month(room).read_bytes())
    assert content["answers"]["1"]["colour"] == "green"
    assert content["weather"] == {}
    assert again.told == []
