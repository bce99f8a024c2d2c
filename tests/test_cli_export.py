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
    first = ran(folder, "take-in", file, typed="\ntub\nhue\nhumidity\n\n")
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
    assert found["hours"] == {"fresh": 2, "changed": 0, "same": 0}
    assert [one["station"] for one in found["taking"]["columns"]] == ["tub", "room"]
    moved = facts(ran(folder, "take-in", file, "--station", "vine", "--json"))
    assert {one["station"] for one in moved["taking"]["columns"]} == {"vine"}


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
