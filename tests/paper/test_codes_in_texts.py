"""Codes in what people typed: replaced where they can be told from words and numbers, and left alone elsewhere."""

from pathlib import Path

import msgspec
import pytest

from tests.paper.exports import exported, read, rows, write_room
from tests.records.sample_records import MORNING
from walkabout.paper.codes import Cleaner
from walkabout.paper.export import PACKAGE, export, read_all
from walkabout.paper.export_words import lines_of_export
from walkabout.paper.take_in import take_in
from walkabout.records.model_measured import Plot, Trial

CODES = {"E4": "P31", "W7": "P32", "OC": "P33", "US": "P34", "12": "P35", "AR": "P36"}


@pytest.mark.parametrize(
    ("typed", "clean"),
    [
        ("seen by e4", "seen by P31"),
        ("told w7, E4 too", "told P32, P31 too"),
        ("e4's pot", "P31's pot"),
        ("E40 and be4 and re-4", "E40 and be4 and re-4"),
        ("OC", "P33"),
        ("oc", "P33"),
        ("ask oc, told Oc, with oc.", "ask P33, told P33, with P33."),
        ("oc said so", "P33 said so"),
        ("the oc of it", "the oc of it"),
        ("soc, ocean, by ocean", "soc, ocean, by ocean"),
        ("with us, by us, told us", "with us, by us, told us"),
        ("told US", "told P34"),
        ("12 cm by 12", "12 cm by 12"),
        ("", ""),
    ],
)
def test_which_words_are_codes(typed: str, clean: str) -> None:
    """With a digit in it, in any letters; of letters alone, as it is written, or where a person must be meant."""
    assert Cleaner(CODES).typed(typed) == clean


def test_what_may_be_a_word_is_counted() -> None:
    """A code in small letters that stands alone somewhere else is left, and the person is told to look."""
    cleaner = Cleaner(CODES)
    for text in ("the oc of it", "with us", "nothing", "by oc"):
        cleaner.typed(text)
    cleaner.typed("12 cm")
    assert (cleaner.small, cleaner.left) == (2, 1)


def test_what_the_program_said(tmp_path: Path) -> None:
    """In its own sentences codes of digits are codes too; what somebody typed stands in them as well."""
    assert Cleaner(CODES).said("handed to 12 by AR: seen by e4") == "handed to P35 by P36: seen by P31"


def test_a_pseudonym_stays_as_somebody_typed_it() -> None:
    """Where a code stands for itself, as in a room made of an export, not even its small letters change."""
    assert Cleaner({"P31": "P31", "PAB": "PAB"}).typed("by p31, told pab") == "by p31, told pab"


def trial_with(room: Path, names: tuple[str, ...], treatments: tuple[str, str]) -> None:
    records, _ = read(room)
    plots = tuple(
        Plot(name=name, kind="plant", treatment=treatments[number % 2], station="raft")
        for number, name in enumerate(names)
    )
    first = records.measurements("t1")[0]
    records.save(
        Trial(
            key="t2", question="Whose light is better?", treatments=treatments, control=treatments[0], plots=plots,
            response="height", seed=3, made=MORNING, by="AR",
        )
    )  # fmt: skip
    records.save(msgspec.structs.replace(first, key="m2", trial="t2", plot=names[0]))
    records.close()


def with_people(tmp_path: Path, *codes: str) -> Path:
    room = write_room(tmp_path / "room", ("seen by e4", "told oc"))
    path = room / "room.toml"
    people = "".join(f"[people.{code}]\n" for code in codes)
    path.write_text(path.read_text().replace("[people.BK]\n", f"[people.BK]\n{people}", 1))
    return room


def test_treatments_and_plots_that_are_called_by_a_code(tmp_path: Path) -> None:
    """They are replaced alike in every table, so that plots, treatments and measurements still fit together."""
    room = with_people(tmp_path, "E4", "OC")
    trial_with(room, ("E4", "pot of e4", "c"), ("lamp of E4", "by oc"))
    exported(room, tmp_path / "out")
    trial = next(row for row in rows(tmp_path / "out", "trials") if row["key"] == "t2")
    plots = [row for row in rows(tmp_path / "out", "plots") if row["trial"] == "t2"]
    measured = next(row for row in rows(tmp_path / "out", "measurements") if row["key"] == "m2")
    stands = plots[0]["name"]
    assert stands != "E4"
    assert [row["name"] for row in plots] == [stands, f"pot of {stands}", "c"]
    assert measured["plot"] == stands
    assert trial["control"] == f"lamp of {stands}" == plots[0]["treatment"]
    assert trial["treatments"].split(";")[1] == plots[1]["treatment"] != "by oc"
    texts = " ".join(path.read_text(encoding="utf-8") for path in (tmp_path / "out").iterdir())
    assert "e4" not in texts.replace('"', " ").split()
    assert "E4" not in texts.replace('"', " ").split()
    take_in(tmp_path / "out" / PACKAGE, tmp_path / "new")
    exported(tmp_path / "new", tmp_path / "again")
    for path in (tmp_path / "out").iterdir():
        assert path.read_bytes() == (tmp_path / "again" / path.name).read_bytes()


def test_two_plots_never_become_one(tmp_path: Path) -> None:
    """E4 and e4 are two plots: where a pseudonym would make one of them, both stay, and that is told."""
    room = with_people(tmp_path, "E4")
    trial_with(room, ("E4", "e4", "f"), ("one", "two"))
    made = exported(room, tmp_path / "out")
    plots = [row["name"] for row in rows(tmp_path / "out", "plots") if row["trial"] == "t2"]
    assert plots == ["E4", "e4", "f"]
    assert any("2 names of plots or treatments" in one for one in made.told)


def test_kit_and_closures_are_clean_too(tmp_path: Path) -> None:
    """What stands in room.toml beside notes: kit, the names of closures and terms."""
    room = with_people(tmp_path, "E4")
    path = room / "room.toml"
    closure = '[[closure]]\nfrom = 2027-01-01\nto = 2027-01-03\nname = "trip of e4"\n'
    path.write_text(path.read_text().replace("heat; mat", "mat of e4") + closure)
    exported(room, tmp_path / "out")
    text = (tmp_path / "out" / "room.toml").read_text(encoding="utf-8")
    assert "mat of P" in text
    assert "trip of P" in text
    assert "e4" not in text
    assert "mat of P" in next(row["kit"] for row in rows(tmp_path / "out", "stations") if row["key"] == "raft")


def test_the_caution_names_what_is_left(tmp_path: Path) -> None:
    """Codes in notes are a best effort; with raw files, that those are as they were; with own checklists, those too."""
    room = with_people(tmp_path, "OC")
    (room / "logger").mkdir()
    (room / "logger" / "a.csv").write_text("x")
    (room / "checklists").mkdir()
    (room / "checklists" / "raft.toml").write_text("x")
    records, known = read(room)
    plain = "\n".join(lines_of_export(export(read_all(records, known), room, tmp_path / "a"), []))
    assert "cannot find every code" in plain
    assert "logger" not in plain
    assert "checklists/ is copied as it is" in plain
    raw = "\n".join(lines_of_export(export(read_all(records, known), room, tmp_path / "b", raw=True), []))
    assert "logger/ is copied as it is, with the files' own names: look through that too." in raw
    kept = "\n".join(lines_of_export(export(read_all(records, known), room, tmp_path / "c", codes=True), []))
    assert "cannot find every code" not in kept
