"""The commands export and take-in: what they say, ask and write, and with which status they end."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from tests.rooms import write_small_room
from walkabout.cli import cli

READINGS = "Time;Temp (°C);RH %\n25.11.2026 08:00;20,5;55\n25.11.2026 08:10;21,5;57\n"
SAID = ("--column", "Temp (°C)=air temperature:°C@tub", "--column", "RH %=humidity@room", "--zone", "+01:00")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_small_room(tmp_path / "a room")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "shelf.csv"
    path.write_text(READINGS, encoding="utf-8")
    return path


def ran(folder: Path, *args: str | Path, typed: str | None = None) -> Result:
    return CliRunner().invoke(cli, ["--room", str(folder), *(str(arg) for arg in args)], input=typed)


def facts(result: Result) -> Any:
    assert result.exit_code in (0, 1), result.output
    return json.loads(result.stdout)


def test_export_and_take_in(folder: Path, tmp_path: Path) -> None:
    """What was exported becomes a room that opens, and exports the same bytes again."""
    made = ran(folder, "export", "--to", tmp_path / "out")
    assert made.exit_code == 0
    assert "People's codes are replaced by pseudonyms." in made.stdout
    taken = ran(tmp_path / "new", "take-in", tmp_path / "out")
    assert taken.exit_code == 0
    assert taken.stdout == f"Taken in to {tmp_path / 'new'}: 8 plantings.\n"
    assert ran(tmp_path / "new", "export", "--to", tmp_path / "again").exit_code == 0
    for path in (tmp_path / "out").iterdir():
        assert path.read_bytes() == (tmp_path / "again" / path.name).read_bytes()
    assert ran(tmp_path / "new", "today").exit_code == 0


def test_export_for_other_programs(folder: Path, tmp_path: Path) -> None:
    """--json says which tables are where, with how many rows."""
    found = facts(ran(folder, "export", "--to", tmp_path / "out", "--codes", "--as", "xlsx", "--json"))
    assert found["codes"] == "as they are"
    assert {"name": "plantings", "file": "tables.xlsx", "rows": 8} in found["tables"]
    taken = facts(ran(tmp_path / "new", "take-in", tmp_path / "out" / "datapackage.json", "--json"))
    assert (taken["records"]["plantings"], taken["told"]) == (8, [])


def test_what_export_refuses(folder: Path, tmp_path: Path) -> None:
    """A folder with something else in it, no folder, no room: one line each, and wrong use."""
    for args, says in (
        (("--to", folder), "holds something else and was left as it is"),
        ((), "Missing option '--to'"),
        (("--to", tmp_path / "out", "--as", "pdf"), "is not one of"),
    ):
        result = ran(folder, "export", *args)
        assert result.exit_code == 2
        assert says in result.stderr
        assert result.stderr.count("\n") == 1
    assert ran(tmp_path / "none", "export", "--to", tmp_path / "out").exit_code == 2


def test_a_record_that_was_left_out_is_told(folder: Path, tmp_path: Path) -> None:
    """A record that does not fit is not exported: that is said, and the status asks for attention."""
    path = folder / "records" / "plantings.json"
    path.write_bytes(path.read_bytes().replace(b'"count":40', b'"count":"x"'))
    result = ran(folder, "export", "--to", tmp_path / "out")
    assert result.exit_code == 1
    assert "plantings.json is left out" in result.stdout


def test_take_in_asks_once(folder: Path, file: Path) -> None:
    """What columns are is asked, remembered, and not asked again; nothing is counted twice."""
    first = ran(folder, "take-in", file, typed="\ntub\nhue\nhumidity\n\n\n")
    assert first.exit_code == 0, first.output
    assert (
        "Column Temp (°C), for example 20,5: which quantity and unit? Enter for air temperature in °C." in first.stdout
    )
    assert '"hue" is no quantity' in first.stdout
    assert first.stdout.endswith("4 readings of shelf.csv: 2 hours new, 0 changed, 0 as they were.\n")
    again = ran(folder, "take-in", file)
    assert again.stdout == "4 readings of shelf.csv: 0 hours new, 0 changed, 2 as they were.\n"
    anew = ran(folder, "take-in", file, "--again", typed="-\n-\n")
    assert anew.exit_code == 2
    assert "no column was named" in anew.stderr


def test_take_in_from_a_script(folder: Path, file: Path) -> None:
    """With options nothing is asked; --json says what came of it."""
    found = facts(ran(folder, "take-in", file, *SAID, "--json"))
    assert found["hours"] == {"fresh": 2, "changed": 0, "same": 0, "back": 0, "left": 0}
    assert [one["station"] for one in found["taking"]["columns"]] == ["tub", "room"]
    moved = facts(ran(folder, "take-in", file, "--station", "vine", "--json"))
    assert {one["station"] for one in moved["taking"]["columns"]} == {"vine"}


def test_what_was_taken_in_is_listed_and_taken_back(folder: Path, file: Path) -> None:
    """The list names file, day, stations, quantities and hours; --back empties them; then it can come in again."""
    assert ran(folder, "take-in", "--list").stdout == "No logger's file was taken in yet.\n"
    assert facts(ran(folder, "take-in", "--list", "--json")) == {"files": []}
    assert ran(folder, "take-in", file, *SAID).exit_code == 0
    (one,) = facts(ran(folder, "take-in", "--list", "--json"))["files"]
    assert (one["file"], one["hours"], one["whole"]) == ("shelf.csv", 2, True)
    assert one["series"] == [
        {"station": "room", "quantity": "humidity", "hours": 1},
        {"station": "tub", "quantity": "air temperature", "hours": 1},
    ]
    said = ran(folder, "take-in", "--list").stdout
    assert "shelf.csv: 2 hours of 2026-11-25 to 2026-11-25, humidity at The room; air temperature at" in said
    back = ran(folder, "take-in", "--back", "shelf.csv")
    assert back.exit_code == 0
    first, kept, *rest = back.stdout.splitlines()
    assert first == "shelf.csv is taken back: 2 hours emptied, 0 reckoned anew from other files."
    assert kept == f"The file itself is kept as backups/logger/{one['copy']}, in case it is wanted again."
    assert rest == [
        "What its columns are is asked anew when such a file is taken in.",
        "An adult should have decided this: everybody's trends change.",
    ]
    assert facts(ran(folder, "take-in", "--list", "--json")) == {"files": []}
    assert facts(ran(folder, "take-in", file, *SAID, "--json"))["hours"]["fresh"] == 2
    assert facts(ran(folder, "take-in", "--back", "shelf", "--json"))["hours"] == {"emptied": 2, "anew": 0, "stay": 0}


def test_a_doubled_file_is_named_both_times(folder: Path, file: Path) -> None:
    """Taken in and taken back under another name, it is said whose file it is."""
    assert ran(folder, "take-in", file, *SAID).exit_code == 0
    other = file.with_name("b.csv")
    other.write_bytes(file.read_bytes())
    again = ran(folder, "take-in", other)
    assert "b.csv is the same file as shelf.csv, taken in before.\n" in again.stdout
    back = ran(folder, "take-in", "--back", "b.csv")
    assert back.exit_code == 0
    assert back.stdout.startswith("b.csv is the same file as shelf.csv.\nshelf.csv is taken back: 2 hours emptied")


def test_the_remembered_order_of_days(folder: Path, file: Path) -> None:
    """A year in front is read although months came first the last time; where days leap a script is told so."""
    said = ("--column", "Temp=air temperature:°C@tub", "--zone", "UTC")
    file.write_text("Time,Temp\n11/10/2026 1:00 PM,20\n11/10/2026 2:00 PM,21\n", encoding="utf-8")
    first = ran(folder, "take-in", file, *said, "--order", "mdy")
    assert "They were read as month, day, year: 2026-11-10 to 2026-11-10. If that is wrong" in first.stdout
    file.write_text("Time,Temp\n2026-11-13 00:30,20\n2026-11-14 00:30,21\n", encoding="utf-8")
    iso = ran(folder, "take-in", file)
    assert iso.exit_code == 0, iso.output
    assert "otherwise here than is remembered of such files: year, month, day." in iso.stdout
    file.write_text("Time,Temp\n05/11/2026 08:00,20\n06/11/2026 08:00,21\n07/11/2026 08:00,2\n", encoding="utf-8")
    script = ran(folder, "take-in", file, "--json")
    assert script.exit_code == 2
    assert "05/11/2026 08:00 can be read two ways. Say which: --order dmy or --order mdy" in script.stderr
    asked = ran(folder, "take-in", file, typed="1\n")
    assert asked.exit_code == 0, asked.output
    assert "is new here" not in asked.stdout
    assert "They were read as day, month, year: 2026-11-05 to 2026-11-07." in asked.stdout


def test_a_table_of_an_export_is_no_loggers_file(folder: Path, file: Path, tmp_path: Path) -> None:
    """It is said what it belongs to, and how the whole is taken in; a copy of it elsewhere is known by its columns."""
    assert ran(folder, "take-in", file, *SAID).exit_code == 0
    assert ran(folder, "export", "--to", tmp_path / "out", "--raw").exit_code == 0
    for name in ("hours.csv", "plantings.csv", "dictionary.csv"):
        result = ran(folder, "take-in", tmp_path / "out" / name)
        assert result.exit_code == 2
        assert f"{name} belongs to an export of a whole room" in result.stderr
        assert f"walkabout take-in {tmp_path / 'out'} --room NEW" in result.stderr
        assert result.stderr.count("\n") == 1
    other = tmp_path / "answers copied.csv"
    other.write_bytes((tmp_path / "out" / "hours.csv").read_bytes())
    assert "belongs to an export of a whole room" in ran(folder, "take-in", other).stderr
    (raw,) = (tmp_path / "out" / "logger").glob("*.csv")
    assert ran(folder, "take-in", raw, *SAID).exit_code == 0


def test_raw_files_are_warned_of(folder: Path, file: Path, tmp_path: Path) -> None:
    """They are copied as they are: names of files and what is in them."""
    assert ran(folder, "take-in", file, *SAID).exit_code == 0
    made = ran(folder, "export", "--to", tmp_path / "out", "--raw")
    assert "logger/ is copied as it is, with the files' own names: look through that too." in made.stdout


def test_what_taking_back_refuses(folder: Path, file: Path) -> None:
    """A file that was not taken in, two things at once, nothing at all: one line, and wrong use."""
    for args, says in (
        (("--back", "none.csv"), 'no file "none.csv" was taken in'),
        (("--back", "none.csv", "--list"), "three different things"),
        ((file, "--list"), "three different things"),
        ((), "Name a file"),
    ):
        result = ran(folder, "take-in", *args)
        assert result.exit_code == 2
        assert says in result.stderr
        assert result.stderr.count("\n") == 1


def test_a_wrong_station_is_put_right(folder: Path, file: Path) -> None:
    """Asked anew, it is offered to take the earlier readings back; no keeps both, a script says --instead."""
    assert ran(folder, "take-in", file, *SAID).exit_code == 0
    anew = ran(folder, "take-in", file, "--again", "--zone", "+01:00", typed="\nvine\n-\ny\n")
    assert anew.exit_code == 0, anew.output
    assert "as air temperature at " in anew.stdout
    assert "Take those readings back? y or n." in anew.stdout
    assert "2 hours that this file gave when it was read otherwise: taken back." in anew.stdout
    (one,) = facts(ran(folder, "take-in", "--list", "--json"))["files"]
    assert one["series"] == [{"station": "vine", "quantity": "air temperature", "hours": 1}]
    kept = ran(folder, "take-in", file, "--again", "--zone", "+01:00", typed="\ntub\n-\nn\n")
    assert "1 hour stays on record" in kept.stdout
    assert kept.stdout.endswith("To take back what it gave then: the same command with --instead.\n")
    script = facts(ran(folder, "take-in", file, "--station", "tub", "--instead", "--json"))
    assert script["hours"] == {"fresh": 0, "changed": 0, "same": 1, "back": 1, "left": 0}


def test_exports_are_the_same_bytes_after_taking_back(folder: Path, file: Path, tmp_path: Path) -> None:
    """Hours that were emptied are in no table: export, take in, export gives the same bytes, and those of before."""
    assert ran(folder, "export", "--to", tmp_path / "before").exit_code == 0
    assert ran(folder, "take-in", file, *SAID).exit_code == 0
    assert ran(folder, "take-in", "--back", "shelf.csv").exit_code == 0
    assert ran(folder, "export", "--to", tmp_path / "out", "--raw").exit_code == 0
    assert ran(tmp_path / "new", "take-in", tmp_path / "out").exit_code == 0
    assert ran(tmp_path / "new", "export", "--to", tmp_path / "again", "--raw").exit_code == 0
    for path in (one for one in (tmp_path / "out").rglob("*") if one.is_file()):
        assert path.read_bytes() == (tmp_path / "again" / path.relative_to(tmp_path / "out")).read_bytes()
    for name in ("hours.csv", "plantings.csv"):
        assert (tmp_path / "before" / name).read_bytes() == (tmp_path / "out" / name).read_bytes()


def test_nobody_to_ask(folder: Path, file: Path) -> None:
    """Where nobody answers, the options that would do are given, and nothing is written."""
    for args in (("--json",), ()):
        result = ran(folder, "take-in", file, *args, typed="")
        assert result.exit_code == 2
        assert '--column "Temp (°C)=air temperature:°C@shelf"' in result.stderr
    assert not (folder / "logger").exists()


def test_bad_cells_ask_for_attention(folder: Path, file: Path) -> None:
    """Each is one line with file and line; the rest is taken in, and the status is 1."""
    file.write_text(READINGS + "25.11.2026 08:20;warm;58\n", encoding="utf-8")
    result = ran(folder, "take-in", file, *SAID)
    assert result.exit_code == 1
    assert f'{file}:4: column "Temp (°C)": "warm" is no number\n' in result.stdout
    assert "5 readings" in result.stdout


def test_many_bad_cells_are_counted(folder: Path, file: Path) -> None:
    """The first twenty are shown."""
    file.write_text(READINGS + "25.11.2026 08:20;warm;58\n" * 30, encoding="utf-8")
    result = ran(folder, "take-in", file, *SAID)
    assert result.stdout.count("is no number") == 20
    assert "And 10 more that cannot be used." in result.stdout


def test_two_ways_to_read_a_day(folder: Path, file: Path) -> None:
    """It is asked; a script is told which option answers."""
    file.write_text("Time,pH\n05/06/2026 08:00,6.1\n05/06/2026 08:10,6.2\n", encoding="utf-8")
    script = ran(folder, "take-in", file, "--column", "pH=pH@tub")
    assert script.exit_code == 2
    assert "--order dmy or --order mdy" in script.stderr
    asked = ran(folder, "take-in", file, "--zone", "UTC", "--station", "tub", typed="2\n\n")
    assert asked.exit_code == 0, asked.output
    text = (folder / "records" / "2026-05-hours.json").read_text(encoding="utf-8")
    assert '"start":"2026-05-06T08:00:00Z"' in text


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (("--column", "Temp=pH@tub"), 'Did you mean "Temp (°C)"'),
        (("--column", "RH %=humidity@tubb"), 'Did you mean "tub"'),
        (("--time", "Tim", *SAID), 'there is no column "Tim"'),
        (("--zone", "Mars", *SAID[:4]), '"Mars" is no time zone'),
        (("--station", "loft"), 'no station "loft"'),
    ],
)
def test_what_take_in_refuses(folder: Path, file: Path, args: tuple[str, ...], says: str) -> None:
    """One line that says what would be right, and wrong use."""
    result = ran(folder, "take-in", file, *args)
    assert result.exit_code == 2
    assert says in result.stderr
    assert result.stderr.count("\n") == 1


def test_paths_that_are_nothing(folder: Path, tmp_path: Path) -> None:
    """A missing file, and a folder that is no export."""
    assert "There is no file" in ran(folder, "take-in", tmp_path / "none.csv").stderr
    assert "has no datapackage.json" in ran(folder, "take-in", folder).stderr


def test_logger_readings_are_exported(folder: Path, file: Path, tmp_path: Path) -> None:
    """Taken in, exported, taken in and exported again, hours are the same bytes; the same file changes nothing then."""
    assert ran(folder, "take-in", file, *SAID).exit_code == 0
    assert ran(folder, "export", "--to", tmp_path / "out", "--raw").exit_code == 0
    assert ran(tmp_path / "new", "take-in", tmp_path / "out").exit_code == 0
    assert ran(tmp_path / "new", "export", "--to", tmp_path / "again").exit_code == 0
    one, two = ((tmp_path / name / "hours.csv").read_bytes() for name in ("out", "again"))
    assert one == two
    assert one.count(b"\r\n") == 3
    assert facts(ran(tmp_path / "new", "take-in", file, *SAID, "--json"))["hours"]["same"] == 2


def test_a_name_of_a_file_is_not_markup(folder: Path, tmp_path: Path) -> None:
    """What could steer a terminal is written out."""
    path = tmp_path / "a\x1b[31m.csv"
    path.write_text(READINGS, encoding="utf-8")
    result = ran(folder, "take-in", path, *SAID)
    assert "\x1b" not in result.output
    assert result.exit_code == 0
