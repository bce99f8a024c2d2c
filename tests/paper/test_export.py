"""The export: what its tables hold, what its description says, and what it never does."""

import json
import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import msgspec
import openpyxl
import pytest
from frictionless import Package

from tests.paper.exports import FORMULAS, HOSTILE, exported, read, rows, write_room
from walkabout.almanac.standing import BY_ITSELF
from walkabout.paper.dictionary import dictionary_rows, shapes, unnamed
from walkabout.paper.export import MARK, PACKAGE, CannotWrite, export, read_all
from walkabout.paper.rows import codes_in
from walkabout.paper.tables import BY_NAME, TABLES
from walkabout.paper.writers import Form
from walkabout.records import pseudonyms

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning", "ignore::ResourceWarning")


@pytest.fixture
def room(tmp_path: Path) -> Path:
    return write_room(tmp_path / "room")


def described(folder: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((folder / PACKAGE).read_text(encoding="utf-8"))
    return found


def test_nothing_on_record_is_without_a_column() -> None:
    """Every field of every kind of record has a column or a table: whoever adds one adds it here too."""
    assert unnamed() == []


def test_every_column_is_described_once() -> None:
    """The dictionary has each column of each table, with words that end like a sentence and no word twice."""
    told = list(dictionary_rows())
    assert len({row[:2] for row in told}) == len(told) == sum(len(table.all) for table in TABLES)
    assert all(row[4].endswith(".") and row[2] for row in told)
    for table in TABLES:
        assert len({column.name for column in table.all}) == len(table.all)
        assert all(foreign.table in BY_NAME for foreign in table.foreign)
        assert len(shapes(table.name)) == len(table.all)


@pytest.mark.parametrize("form", ["csv", "xlsx"])
def test_the_standards_own_validator_accepts_it(room: Path, tmp_path: Path, form: Form) -> None:
    """Frictionless finds no fault in any table, its keys and its sums, whatever people typed."""
    made = exported(room, tmp_path / "out", form)
    report = Package(str(tmp_path / "out" / PACKAGE)).validate()
    assert report.valid, report.flatten(["title", "rowNumber", "fieldName", "note"])
    assert len(report.tasks) == len(made.tables) == len(TABLES) + 1


def packed(folder: Path) -> Package:
    """Return an export in Parquet as a package whose rows stand in it, as the library reads them from the files."""
    pq = pytest.importorskip("pyarrow.parquet", reason="pyarrow is not installed")
    found = described(folder)
    for one in found["resources"]:
        table = pq.read_table(folder / one["path"])
        one["data"] = [table.column_names, *([*row.values()] for row in table.to_pylist())]
        for name in ("path", "format", "mediatype", "encoding", "hash"):
            del one[name]
    return Package.from_descriptor(found)


def test_the_standards_own_validator_accepts_what_stands_in_parquet(room: Path, tmp_path: Path) -> None:
    """Types, choices and keys hold for every row.

    The validator opens such files with pandas, which is large and which no test needs otherwise: the rows are read with
    pyarrow here and handed to it.
    """
    made = exported(room, tmp_path / "out", "parquet")
    report = packed(tmp_path / "out").validate()
    assert report.valid, report.flatten(["title", "rowNumber", "fieldName", "note"])
    assert len(report.tasks) == len(made.tables) == len(TABLES) + 1


def test_the_validator_would_find_a_fault_in_parquet(room: Path, tmp_path: Path) -> None:
    """A text where a number is declared makes the very same package invalid."""
    exported(room, tmp_path / "out", "parquet")
    package = packed(tmp_path / "out")
    hours = package.get_resource("hours")
    hours.data[1][hours.data[0].index("n")] = "three"
    assert "type-error" in {error[0] for error in package.validate().flatten(["type"])}


def test_the_validator_reads_parquet_files_itself(room: Path, tmp_path: Path) -> None:
    """Where pandas is there, the files as they lie are accepted too: what they declare is what it makes of them."""
    pytest.importorskip("pandas", reason="pandas, through which the validator opens Parquet files, is not installed")
    exported(room, tmp_path / "out", "parquet")
    report = Package(str(tmp_path / "out" / PACKAGE)).validate()
    assert report.valid, report.flatten(["title", "rowNumber", "fieldName", "note"])


FITS = {
    "string": {"string"}, "integer": {"int64"}, "number": {"double", "int64"}, "boolean": {"bool"},
    "date": {"date32[day]"}, "datetime": {"string"}, "any": {"list<element: string>"},
}  # fmt: skip
"""Which types of a Parquet file each declared type may have. A column of whole numbers in which cells are empty is
declared as number, and one of lists as any: the validator reads both through pandas, which has no empty whole number
and no list."""


def test_parquet_holds_what_is_declared(room: Path, tmp_path: Path) -> None:
    """Field by field, and no count of bytes: whoever reads a table with pandas does not count any."""
    pq = pytest.importorskip("pyarrow.parquet", reason="pyarrow is not installed")
    exported(room, tmp_path / "out", "parquet")
    seen = set()
    for one in described(tmp_path / "out")["resources"]:
        assert "bytes" not in one
        schema = pq.read_schema(tmp_path / "out" / one["path"])
        assert schema.names == [field["name"] for field in one["schema"]["fields"]]
        for field in one["schema"]["fields"]:
            kind = str(schema.field(field["name"]).type)
            assert kind in FITS[field["type"]], (one["name"], field["name"])
            seen.add((field["type"], kind))
    assert {("any", "list<element: string>"), ("number", "int64"), ("integer", "int64")} <= seen


def test_the_validator_would_find_a_fault(room: Path, tmp_path: Path) -> None:
    """A station that no row has makes the very same package invalid: the check above can fail."""
    exported(room, tmp_path / "out")
    path = tmp_path / "out" / "moves.csv"
    path.write_bytes(path.read_bytes().replace(b"raft", b"loft"))
    report = Package(str(tmp_path / "out" / PACKAGE)).validate()
    assert "foreign-key" in {error[0] for error in report.flatten(["type"])}


def test_units_keys_and_missing_values_are_said(room: Path, tmp_path: Path) -> None:
    """Each column has type, words and unit; each table its primary key and the foreign ones that hold."""
    exported(room, tmp_path / "out")
    schemas = {one["name"]: one["schema"] for one in described(tmp_path / "out")["resources"]}
    pickings = {field["name"]: field for field in schemas["pickings"]["fields"]}
    assert (pickings["mass_g"]["unit"], pickings["mass_g"]["type"]) == ("g", "number")
    assert schemas["pickings"]["primaryKey"] == ["planting", "number"]
    assert {"fields": ["planting"], "reference": {"resource": "plantings", "fields": ["key"]}} in schemas["pickings"][
        "foreignKeys"
    ]
    assert schemas["answers"]["missingValues"] == [""]
    assert all(field["description"] for schema in schemas.values() for field in schema["fields"])


def test_a_foreign_key_that_does_not_hold_is_left_out_and_told(room: Path, tmp_path: Path) -> None:
    """An answer of a round that is gone takes the promise out of the schema, and the person is told."""
    records, of = read(room)
    from tests.records.sample_records import answer

    records.save(answer(900, round="lost"))
    made = export(read_all(records, of), room, tmp_path / "out")
    schema = next(one for one in described(tmp_path / "out")["resources"] if one["name"] == "answers")["schema"]
    assert [one["fields"] for one in schema["foreignKeys"]] == [["station"], ["replaces"]]
    assert made.told == ("answers name round lost, which no row of rounds has.",)
    assert Package(str(tmp_path / "out" / PACKAGE)).validate().valid


def test_stations_that_are_gone_are_listed_too(room: Path, tmp_path: Path) -> None:
    """Every station that a table names has a row; those that room.toml has no more say so."""
    exported(room, tmp_path / "out")
    found = {row["key"]: row["in_room"] for row in rows(tmp_path / "out", "stations")}
    assert found == {"raft": "true", "room": "true", "gone": "false"}


def test_moments_keep_their_offset(room: Path, tmp_path: Path) -> None:
    """Days and moments are ISO 8601, moments with the offset of the clock they were read from."""
    exported(room, tmp_path / "out")
    first = rows(tmp_path / "out", "answers")[0]
    assert first["at"] == "2026-11-25T08:00:00+01:00"
    assert rows(tmp_path / "out", "rounds")[0]["day"] == "2026-11-25"


def test_people_go_by_pseudonyms(room: Path, tmp_path: Path) -> None:
    """No code is left in any file, in cells, histories, notes or the room; the same person is the same everywhere."""
    exported(room, tmp_path / "out")
    texts = {path.name: path.read_text(encoding="utf-8") for path in (tmp_path / "out").iterdir()}
    words = {word for text in texts.values() for word in text.replace(",", " ").replace('"', " ").split()}
    assert not {"AR", "BK", "people.AR", "[people.AR]"} & words
    walker = rows(tmp_path / "out", "rounds")[0]["walker"]
    other = rows(tmp_path / "out", "measurements")[0]["by"]
    assert walker != other
    says = {row["says"] for row in rows(tmp_path / "out", "history")}
    assert says == {f"handed to {other} by {walker}", f"handed to {other} by {walker}, not ARX"}
    assert rows(tmp_path / "out", "findings")[0]["seen"] == f"{walker} roots brown"
    assert f"[people.{walker}]" in texts["room.toml"]
    assert f"hung by {walker}" in texts["room.toml"]
    exported(room, tmp_path / "again")
    assert rows(tmp_path / "again", "rounds")[0]["walker"] == walker
    exported(room, tmp_path / "codes", codes=True)
    assert rows(tmp_path / "codes", "rounds")[0]["walker"] == "AR"
    assert (tmp_path / "codes" / "room.toml").read_bytes() == (room / "room.toml").read_bytes()


def test_a_code_of_digits_is_no_number(tmp_path: Path) -> None:
    """Where a code is digits alone, a note with that number stays, and the person is told to look."""
    room = write_room(tmp_path / "room", ("12 cm",))
    (room / "room.toml").write_text((room / "room.toml").read_text() + "\n[people.12]\n")
    made = exported(room, tmp_path / "out")
    assert "12 cm" in {row["note"] for row in rows(tmp_path / "out", "answers")}
    assert made.told[0].startswith("A code of digits alone stands in 1 text")


def test_no_cell_of_a_csv_file_begins_a_formula(room: Path, tmp_path: Path) -> None:
    """Every text that a spreadsheet could reckon out has ' in front; numbers have not."""
    exported(room, tmp_path / "out")
    for table in BY_NAME:
        kinds = {column.name: shape.type for column, shape in zip(BY_NAME[table].all, shapes(table), strict=True)}
        for row in rows(tmp_path / "out", table):
            for name, cell in row.items():
                if kinds[name] in ("string", "list"):
                    assert not cell.lstrip().startswith(("=", "+", "-", "@", "\uff1d")), (table, name, cell)
                    assert not cell.startswith(("\t", "\r", "\n"))
    notes = {row["note"] for row in rows(tmp_path / "out", "answers")}
    assert {f"'{one}" for one in FORMULAS if one != "#N/A"} <= notes


def test_text_in_a_spreadsheet_is_text(room: Path, tmp_path: Path) -> None:
    """Read back by openpyxl, every note is typed as text and is what was typed; numbers and days are themselves."""
    exported(room, tmp_path / "out", "xlsx")
    book = openpyxl.load_workbook(tmp_path / "out" / "tables.xlsx")
    sheet = book["answers"]
    names = [cell.value for cell in sheet[1]]
    cells = [row[names.index("note")] for row in sheet.iter_rows(min_row=2)]
    assert {cell.data_type for cell in cells} == {"s"}
    assert [cell.quotePrefix for cell in cells if cell.value == "+1"] == [True]
    assert {*FORMULAS} - {"\r=1"} <= {cell.value for cell in cells}
    assert "_x000D_=1" in {cell.value for cell in cells}
    assert {cell.data_type for row in book["plantings"].iter_rows(min_row=2, max_col=4) for cell in row} == {
        "s",
        "d",
        "n",
    }
    assert not any(cell.data_type == "f" for one in book for row in one.iter_rows() for cell in row)


def test_parquet_has_types(room: Path, tmp_path: Path) -> None:
    """Numbers are numbers, days days, lists lists, and texts what was typed."""
    pq = pytest.importorskip("pyarrow.parquet", reason="pyarrow is not installed")
    exported(room, tmp_path / "out", "parquet")
    table = pq.read_table(tmp_path / "out" / "answers.parquet")
    types = {field.name: str(field.type) for field in table.schema}
    assert (types["value"], types["choices"], types["at"]) == ("double", "list<element: string>", "string")
    assert {*HOSTILE} <= {*table.column("note").to_pylist()}


def test_a_missing_library_is_one_sentence(room: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without pyarrow the person is told what to install, and no folder is left behind."""
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    with pytest.raises(CannotWrite, match=r"pip install 'walkabout\[parquet\]'"):
        exported(room, tmp_path / "out", "parquet")
    assert not (tmp_path / "out").exists()


def test_a_text_too_long_for_a_sheet_is_told(tmp_path: Path) -> None:
    """No text is cut off: the spreadsheet is refused and CSV offered."""
    room = write_room(tmp_path / "room", ("x" * 40_000,))
    with pytest.raises(CannotWrite, match="--as csv"):
        exported(room, tmp_path / "out", "xlsx")
    exported(room, tmp_path / "out")


def test_what_is_no_export_is_left_alone(room: Path, tmp_path: Path) -> None:
    """A folder with anything else in it, or a file, is never written to; an earlier export is replaced."""
    other = tmp_path / "other"
    other.mkdir()
    (other / "letter.txt").write_text("dear")
    for place in (other, room, other / "letter.txt"):
        with pytest.raises(FileExistsError, match="left as it is"):
            exported(room, place)
    assert [path.name for path in other.iterdir()] == ["letter.txt"]
    exported(room, tmp_path / "out", "xlsx")
    exported(room, tmp_path / "out", "csv")
    assert not (tmp_path / "out" / "tables.xlsx").exists()


@pytest.mark.parametrize("form", ["csv", "xlsx", "parquet"])
def test_the_same_records_give_the_same_bytes(room: Path, tmp_path: Path, form: Form) -> None:
    """Two exports differ in no byte of a table or its description."""
    for name in ("one", "two"):
        exported(room, tmp_path / name, form)
    for path in (tmp_path / "one").iterdir():
        assert path.read_bytes() == (tmp_path / "two" / path.name).read_bytes()


def test_checklists_and_raw_files_come_along(room: Path, tmp_path: Path) -> None:
    """The room's own checklists always, the loggers' own files when they are asked for."""
    for name in ("checklists/raft.toml", "logger/ab.csv"):
        (room / name).parent.mkdir()
        (room / name).write_text("x")
    exported(room, tmp_path / "out")
    assert (tmp_path / "out" / "checklists" / "raft.toml").exists()
    assert not (tmp_path / "out" / "logger").exists()
    exported(room, tmp_path / "raw", raw=True)
    assert (tmp_path / "raw" / "logger" / "ab.csv").exists()
    assert "logger/ab.csv" in described(tmp_path / "raw")[MARK]["beside"]


KILLED = """
import sys, time
from pathlib import Path
from tests.paper.exports import exported
seen = 0
def ticks(number):
    global seen
    seen += 1
    if seen == int(sys.argv[3]):
        print("there", flush=True)
        time.sleep(60)
exported(Path(sys.argv[1]), Path(sys.argv[2]), ticks=ticks)
"""


@pytest.mark.parametrize("when", [1, 9])
@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system cannot kill a program at once")
def test_killed_in_the_middle(room: Path, tmp_path: Path, when: int) -> None:
    """There is no half table: what is in the folder is the earlier export, whole; the next one tidies up."""
    out = tmp_path / "out"
    exported(room, out)
    before = {path.name: path.read_bytes() for path in out.iterdir()}
    records, _ = read(room)
    from tests.records.sample_records import answer

    records.save(answer(901))
    with subprocess.Popen(
        [sys.executable, "-c", KILLED, str(room), str(out), str(when)],
        stdout=subprocess.PIPE,
        cwd=Path(__file__).parents[2],
        env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])},
    ) as run:
        assert run.stdout is not None
        assert run.stdout.readline() == b"there\n"
        run.kill()
        run.wait(10)
    assert {path.name: path.read_bytes() for path in out.iterdir() if path.is_file()} == before
    exported(room, out)
    assert "a0901" in {row["key"] for row in rows(out, "answers")}
    assert not (out / ".part").exists()


def test_the_program_itself_is_nobody(room: Path, tmp_path: Path) -> None:
    """The jobs that the almanac makes keep their maker, even where an earlier export gave it a pseudonym."""
    records, _ = read(room)
    job = records.jobs()[0]
    records.save(msgspec.structs.replace(job, by=BY_ITSELF, why="as the almanac says"))
    records.close()
    pseudonyms.keep(room / "records", {BY_ITSELF: "P21"})
    exported(room, tmp_path / "out")

    row = next(one for one in rows(tmp_path / "out", "jobs") if one["key"] == job.key)
    assert (row["by"], row["why"]) == (BY_ITSELF, "as the almanac says")
    assert BY_ITSELF not in codes_in(read_all(*read(room)))
