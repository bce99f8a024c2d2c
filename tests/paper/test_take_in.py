"""An export becomes a room again, and nothing is lost."""

import json
import os
import subprocess
import sys
from datetime import date, datetime, timedelta, timezone
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.paper.exports import everything, exported, write_room
from walkabout.paper.cells import (
    BadCell,
    for_sheet,
    from_sheet,
    guarded,
    listed,
    number_text,
    unguarded,
    unlisted,
    value_of,
)
from walkabout.paper.export import PACKAGE
from walkabout.paper.take_in import BadExport, package_of, take_in
from walkabout.paper.writers import Form
from walkabout.records.disk import write_whole

FORMS: tuple[Form, ...] = ("csv", "parquet", "xlsx")
TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=12) | st.sampled_from(
    ["=1", "'", "''=", " \t=", "\r", "_x0041_", "_x005F_x0041_", "\\", "\\e", ";", "a;b\\", "\ufeff", "\x00", "\uffff"]
)


@pytest.fixture
def room(tmp_path: Path) -> Path:
    return write_room(tmp_path / "room")


def sums(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("codes", [True, False])
def test_nothing_is_lost(room: Path, tmp_path: Path, form: Form, codes: bool) -> None:
    """Exported, taken in and exported again, every table has the same bytes."""
    one, two, new = tmp_path / "one", tmp_path / "two", tmp_path / "new"
    exported(room, one, form, codes=codes)
    taken = take_in(one / PACKAGE, new)
    assert taken.told == ()
    exported(new, two, form, codes=codes)
    assert sums(one) == sums(two)
    if codes:
        assert everything(new) == everything(room)
    take_in(two / PACKAGE, tmp_path / "newer")
    assert everything(tmp_path / "newer") == everything(new)
    assert not (new / ".part").exists()


@given(st.lists(TEXT, min_size=1, max_size=4))
@settings(max_examples=25, deadline=None)
def test_whatever_people_type_comes_back(notes: list[str]) -> None:
    """Hostile texts in notes, choices and reasons go out to CSV and come back the same."""
    with TemporaryDirectory() as folder:
        room = write_room(Path(folder) / "room", tuple(notes))
        exported(room, Path(folder) / "out", codes=True)
        take_in(Path(folder) / "out" / PACKAGE, Path(folder) / "new")
        assert everything(Path(folder) / "new") == everything(room)


@given(TEXT)
def test_guarding_is_undone(text: str) -> None:
    """The ' in front of a text can be told from one that was typed; a spreadsheet's escapes too."""
    assert unguarded(guarded(text)) == text
    assert from_sheet(for_sheet(text)) == text
    assert guarded(text).lstrip()[:1] not in set("=+-@")


@given(st.lists(TEXT, max_size=4))
def test_lists_are_undone(items: list[str]) -> None:
    """Texts that were put together come apart the same, empty ones too."""
    assert unlisted(listed(tuple(items))) == tuple(items)


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_numbers_keep_every_digit(number: float) -> None:
    """A number is written with as many digits as bring it back."""
    back = value_of(number_text(number), "number", guard=True)
    assert (back, str(back)) == (number, str(number))


@given(st.datetimes(timezones=st.integers(-14 * 4, 14 * 4).map(lambda q: timezone(timedelta(minutes=15 * q)))))
def test_moments_keep_their_offset(at: datetime) -> None:
    """A moment comes back with its offset, a day as a day, from text and from a spreadsheet."""
    assert value_of(at.isoformat(), "datetime", guard=True) == at
    assert value_of(at.isoformat(), "datetime", guard=True).utcoffset() == at.utcoffset()
    assert value_of(for_sheet(at.date()), "date", guard=False) == at.date()


@pytest.mark.parametrize(
    ("cell", "kind"),
    [
        ("4,2", "number"),
        ("nan", "number"),
        ("4.5", "integer"),
        ("yes", "boolean"),
        ("1.2.2026", "date"),
        (4.5, "integer"),
    ],
)
def test_cells_that_do_not_fit(cell: object, kind: str) -> None:
    """What is no number, day or yes is refused in words, not guessed at."""
    with pytest.raises(BadCell, match=" is no "):
        value_of(cell, kind, guard=True)  # type: ignore[arg-type]


def test_a_room_with_records_is_never_written_over(room: Path, tmp_path: Path) -> None:
    """Records that are there stay; a room.toml without records stays too, and that is said."""
    exported(room, tmp_path / "out")
    before = everything(room)
    with pytest.raises(FileExistsError, match="has records already"):
        take_in(tmp_path / "out" / PACKAGE, room)
    assert everything(room) == before
    (tmp_path / "bare").mkdir()
    (tmp_path / "bare" / "room.toml").write_text('name = "mine"\n')
    taken = take_in(tmp_path / "out" / PACKAGE, tmp_path / "bare")
    assert taken.told == ("room.toml was there already and stays as it is.",)
    assert (tmp_path / "bare" / "room.toml").read_text() == 'name = "mine"\n'


def test_a_changed_table_is_taken_in_only_when_asked(room: Path, tmp_path: Path) -> None:
    """What somebody changed by hand is noticed; with `changed` it counts."""
    out = tmp_path / "out"
    exported(room, out)
    (out / "plantings.csv").write_bytes((out / "plantings.csv").read_bytes().replace(b"lettuce", b"basil"))
    with pytest.raises(BadExport, match=r"plantings\.csv: this file was changed .* --changed"):
        take_in(out / PACKAGE, tmp_path / "new")
    assert not (tmp_path / "new").exists()
    take_in(out / PACKAGE, tmp_path / "new", changed=True)
    assert everything(tmp_path / "new")["plantings"][0].crop == "basil"


@pytest.mark.parametrize(
    ("table", "old", "new", "says"),
    [
        ("answers", b"1.5,cm", b"one,cm", r'answers\.csv:2: column "value": "one" is no number'),
        (
            "answers",
            b"answered",
            b"answred",
            r'answers\.csv:\d+: column "state" cannot be "answred"\. Did you mean "answered"',
        ),
        ("answers", b"verdict", b"verdit", r'answers\.csv:1: the column "verdit" is not known.*Did you mean "verdict"'),
        ("moves", b"p1,1", b"p9,1", r"moves\.csv:2: plantings have no row with the key p9"),
        ("plantings", b"p1,lettuce,2026-11-25", b"p1,lettuce,", r'plantings\.csv:2: column "sown" is empty'),
        ("plantings", b"p1,", b"p1,x,", r"plantings\.csv:2: 13 cells, but 12 columns"),
        ("plantings", b"lettuce", b'let"tuce', r""),
        ("plantings", b"lettuce", b'"let"tuce', r"plantings\.csv:2: this is no row of a table"),
        ("plantings", b"lettuce", b"\xff", r"plantings\.csv:\d: this is not UTF-8 text"),
        ("plantings", b"key,crop", b"crop,crop", r"plantings\.csv:1: two columns have the same name"),
    ],
)
def test_a_bad_table_is_one_line(room: Path, tmp_path: Path, table: str, old: bytes, new: bytes, says: str) -> None:
    """File, line and column are named, and nothing is taken in; a quote within a text is none of it."""
    out = tmp_path / "out"
    exported(room, out)
    path = out / f"{table}.csv"
    assert old in path.read_bytes()
    path.write_bytes(path.read_bytes().replace(old, new))
    if not says:
        take_in(out / PACKAGE, tmp_path / "new", changed=True)
        assert everything(tmp_path / "new")["plantings"][0].crop == 'let"tuce'
        return
    with pytest.raises(BadExport, match=says) as caught:
        take_in(out / PACKAGE, tmp_path / "new", changed=True)
    assert "\n" not in str(caught.value)
    assert not (tmp_path / "new").exists()


def test_a_row_that_is_there_twice(room: Path, tmp_path: Path) -> None:
    """The same key twice is refused: one of the two would be lost."""
    out = tmp_path / "out"
    exported(room, out)
    path = out / "jobs.csv"
    lines = path.read_bytes().split(b"\r\n")
    path.write_bytes(b"\r\n".join([*lines[:-1], lines[1], b""]))
    with pytest.raises(BadExport, match=r"jobs\.csv:3: this row is there twice: j1"):
        take_in(out / PACKAGE, tmp_path / "new", changed=True)


@pytest.mark.parametrize("path", ["../room/room.toml", "/etc/hosts", "a/../../b", "c:\\x"])
def test_a_package_that_points_elsewhere(room: Path, tmp_path: Path, path: str) -> None:
    """A description that names a file outside its folder is refused."""
    out = tmp_path / "out"
    exported(room, out)
    package = json.loads((out / PACKAGE).read_text())
    package["resources"][0]["path"] = path
    (out / PACKAGE).write_text(json.dumps(package))
    with pytest.raises(BadExport, match="no file within the export"):
        take_in(out / PACKAGE, tmp_path / "new", changed=True)


@pytest.mark.parametrize("content", [b"", b"[]", b"{}", b'{"resources": [], "walkabout": {"edition": 99}}', b"\xff"])
def test_what_is_no_export(tmp_path: Path, content: bytes) -> None:
    """A description that is none is one line."""
    (tmp_path / PACKAGE).write_bytes(content)
    with pytest.raises(BadExport, match="no export of a room"):
        take_in(tmp_path / PACKAGE, tmp_path / "new")
    assert package_of(tmp_path) == package_of(tmp_path / PACKAGE) == tmp_path / PACKAGE
    assert package_of(tmp_path / "nothing") is None


def test_a_missing_table(room: Path, tmp_path: Path) -> None:
    """A table that is gone is named."""
    exported(room, tmp_path / "out")
    (tmp_path / "out" / "jobs.csv").unlink()
    with pytest.raises(BadExport, match=r"jobs\.csv: this file of the export is missing"):
        take_in(tmp_path / "out" / PACKAGE, tmp_path / "new", changed=True)


def test_a_broken_spreadsheet(room: Path, tmp_path: Path) -> None:
    """A spreadsheet that is none is one line."""
    exported(room, tmp_path / "out", "xlsx")
    write_whole(tmp_path / "out" / "tables.xlsx", b"PK no more")
    with pytest.raises(BadExport, match="no spreadsheet that can be read"):
        take_in(tmp_path / "out" / PACKAGE, tmp_path / "new", changed=True)


STOPPED = """
import os, sys
from pathlib import Path
from walkabout.paper import take_in as module
def stopped(*_):
    os._exit(9)
setattr(module, sys.argv[3], stopped)
module.take_in(Path(sys.argv[1]), Path(sys.argv[2]))
"""


@pytest.mark.parametrize("where", ["_put_in_place", "sync_folder"])
def test_stopped_in_the_middle(room: Path, tmp_path: Path, where: str) -> None:
    """Either all records are there or none; where none are, it can be done again."""
    exported(room, tmp_path / "out", codes=True)
    new = tmp_path / "new"
    run = subprocess.run(
        [sys.executable, "-c", STOPPED, str(tmp_path / "out" / PACKAGE), str(new), where],
        check=False,
        cwd=Path(__file__).parents[2],
        env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])},
    )
    assert run.returncode == 9
    if where == "_put_in_place":
        assert not (new / "records").exists()
        take_in(tmp_path / "out" / PACKAGE, new)
    assert everything(new) == everything(room)


def test_a_day_long_ago_in_a_spreadsheet() -> None:
    """Days before spreadsheets begin to count are written as text and come back."""
    day = date(1899, 12, 31)
    assert for_sheet(day) == "1899-12-31"
    assert value_of(for_sheet(day), "date", guard=False) == day
