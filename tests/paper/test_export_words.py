"""What is said of tables that leave a room."""

from datetime import date
from pathlib import Path

import pytest

from tests.paper.exports import exported, write_room
from walkabout.paper.export import export
from walkabout.paper.export_words import lines_of_export, lines_of_files, standing_of, usual_name


def test_what_lies_where(tmp_path: Path) -> None:
    """Each file that was written is named once, and each that is named is there."""
    room = write_room(tmp_path / "room")
    (room / "logger").mkdir()
    (room / "logger" / "a.csv").write_text("x")
    made = exported(room, tmp_path / "out", raw=True)
    names = [name for name, _ in lines_of_files(made)]
    assert {name.rstrip("/") for name in names} == {path.name for path in (tmp_path / "out").iterdir()}
    assert len(names) == len({*names})
    rows = next(one.rows for one in made.tables if one.name == "answers")
    assert ("answers.csv", f"{rows} rows") in lines_of_files(made)
    book = exported(room, tmp_path / "book", "xlsx")
    assert lines_of_files(book)[0][1] == f"{len(book.tables)} tables, each a sheet"


def test_the_caution_stands_under_every_export(tmp_path: Path) -> None:
    """Notes may hold names whether or not codes were replaced."""
    room = write_room(tmp_path / "room")
    for codes, says in ((False, "replaced by pseudonyms"), (True, "stand as they are")):
        first, look, *_ = lines_of_export(exported(room, tmp_path / f"{codes}", codes=codes), [])
        assert says in first
        assert str(tmp_path / f"{codes}") in first
        assert "a name may stand there" in look


def test_how_a_folder_stands(tmp_path: Path) -> None:
    """New, empty, an earlier export, something else, a file."""
    room = write_room(tmp_path / "room")
    exported(room, tmp_path / "out")
    (tmp_path / "empty").mkdir()
    (tmp_path / "file").touch()
    for name, standing in (("none", "new"), ("empty", "new"), ("out", "ours"), ("room", "other"), ("file", "other")):
        assert standing_of(tmp_path / name) == standing


def test_the_usual_name() -> None:
    """The room's own folder and the day."""
    assert usual_name(Path("/x/my-room"), date(2026, 11, 25)) == "my-room-tables-2026-11-25"


def test_a_stopped_export_leaves_nothing(tmp_path: Path) -> None:
    """A folder that it made is gone again; an earlier export is as it was."""
    room = write_room(tmp_path / "room")

    class Enough(Exception):
        pass

    def enough(_: int) -> None:
        raise Enough

    from tests.paper.exports import read
    from walkabout.paper.export import read_all

    records, known = read(room)
    for form in ("csv", "xlsx", "parquet"):
        with pytest.raises(Enough):
            export(read_all(records, known), room, tmp_path / "new", form, ticks=enough)
        assert not (tmp_path / "new").exists()
    exported(room, tmp_path / "old")
    was = {path: path.read_bytes() for path in (tmp_path / "old").iterdir()}
    with pytest.raises(Enough):
        export(read_all(records, known), room, tmp_path / "old", "csv", ticks=enough)
    assert {path: path.read_bytes() for path in (tmp_path / "old").iterdir()} == was
    records.close()
