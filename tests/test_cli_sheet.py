"""The command that prints, and the dialogue that types a filled-in sheet in."""

import json
import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.paper.made import a_trial
from tests.paper.printed import codes, reader, sizes, text
from tests.rooms import write_small_room
from walkabout.cli import cli
from walkabout.commands.options import today
from walkabout.round.opened import OpenRoom

WHAT = ("round", "cards", "labels", "handover", "plots", "report")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    room = write_small_room(tmp_path / "a room")
    opened = OpenRoom(room)
    opened.save(a_trial(opened, "warm"))
    opened.close()
    return room


def ran(folder: Path, *args: str | Path) -> Result:
    return CliRunner().invoke(cli, ["--room", str(folder), "sheet", *(str(arg) for arg in args)])


@pytest.mark.parametrize("what", WHAT)
def test_prints(folder: Path, tmp_path: Path, what: str) -> None:
    """Each kind is written as a PDF that a second library reads, and the command says where."""
    file = tmp_path / "out.pdf"
    result = ran(folder, what, "--to", file)

    assert result.exit_code == 0, result.output
    assert result.output.startswith(f"Written: {file}")
    assert "Small room" in text(file.read_bytes())
    assert sizes(file.read_bytes()) == {(210.0, 297.0)}


def test_the_round_is_usual_and_letter_can_be_asked_for(folder: Path, tmp_path: Path) -> None:
    """Without a word the round is printed; a room with US units has Letter paper, and --paper says another."""
    file = tmp_path / "out.pdf"
    ran(folder, "--to", file)
    assert "the round, on paper" in text(file.read_bytes())
    ran(folder, "labels", "--to", file, "--paper", "letter")
    assert sizes(file.read_bytes()) == {(215.9, 279.4)}
    toml = folder / "room.toml"
    toml.write_text(f'units = "US"\n{toml.read_text(encoding="utf-8")}', encoding="utf-8")
    ran(folder, "labels", "--to", file)
    assert sizes(file.read_bytes()) == {(215.9, 279.4)}


def test_standard_output(folder: Path) -> None:
    """With - the PDF alone goes to standard output."""
    command = [sys.executable, "-m", "walkabout", "--room", str(folder), "sheet", "cards", "--to", "-"]
    data = subprocess.run(command, capture_output=True, check=True).stdout
    assert data.startswith(b"%PDF-")
    assert len(codes(data)) == 8


@pytest.mark.parametrize("what", WHAT)
def test_for_other_programs(folder: Path, tmp_path: Path, what: str) -> None:
    """With --json it says what was written where, on which paper, of how many pages and bytes."""
    file = tmp_path / "out.pdf"
    result = ran(folder, what, "--to", file, "--paper", "Letter", "--json")

    assert result.exit_code == 0, result.output
    data = file.read_bytes()
    assert json.loads(result.stdout) == {
        "what": what, "file": str(file), "paper": "Letter", "pages": len(reader(data).pages), "bytes": len(data),
    }  # fmt: skip


def test_why_typing_in_has_no_json(folder: Path) -> None:
    """It says why, and which command shows what is on record."""
    result = ran(folder, "--type-in", "--json")
    assert result.exit_code == 2
    assert "asks line by line" in result.stderr
    assert "walkabout logbook --json" in result.stderr


@pytest.mark.parametrize("typed", ["", "1", "tr-1"])
def test_the_plots_of_a_trial(folder: Path, tmp_path: Path, typed: str) -> None:
    """A trial is meant by its number or its key, and needs neither where it is the only one."""
    file = tmp_path / "out.pdf"
    result = ran(folder, "plots", "--to", file, *(("--trial", typed) if typed else ()))
    assert result.exit_code == 0, result.output
    assert "Does warm help?" in text(file.read_bytes())


def test_a_room_without_a_trial_has_no_plots(tmp_path: Path) -> None:
    """It says so in one line."""
    result = ran(write_small_room(tmp_path / "bare"), "plots", "--to", tmp_path / "x.pdf")
    assert result.exit_code == 2
    assert "There is no trial in this room yet." in result.stderr
    assert not (tmp_path / "x.pdf").exists()


def test_what_cannot_be_written(folder: Path, tmp_path: Path) -> None:
    """A folder that is not there ends with status 1 and one line."""
    result = ran(folder, "cards", "--to", tmp_path / "gone" / "x.pdf")
    assert result.exit_code == 1
    assert "there is no folder" in result.stderr
    assert len(result.stderr.strip().splitlines()) == 1


def test_what_is_not_ours_is_left_alone(folder: Path, tmp_path: Path) -> None:
    """A file that is no PDF, a PDF of somebody else and a folder are left as they are; our own PDF is written anew."""
    from fpdf import FPDF

    other = FPDF()
    other.add_page()
    for name, data in (("notes.txt", b"marks of a class"), ("other.pdf", bytes(other.output()))):
        file = tmp_path / name
        file.write_bytes(data)
        result = ran(folder, "cards", "--to", file)
        assert result.exit_code == 2
        assert "left as it is" in result.stderr
        assert file.read_bytes() == data
    assert ran(folder, "cards", "--to", tmp_path).exit_code == 2
    ours = tmp_path / "ours.pdf"
    assert ran(folder, "cards", "--to", ours).exit_code == 0
    assert ran(folder, "labels", "--to", ours).exit_code == 0
    assert "planting labels" in text(ours.read_bytes())


@pytest.mark.parametrize(
    "args",
    [
        (),
        ("cards",),
        ("postcards", "--to", "x.pdf"),
        ("--to", "x.pdf", "--paper", "A3"),
        ("--to", "x.pdf", "--day", "soon"),
        ("--to", "x.pdf", "--day", "2026-01-05"),
        ("--to", "x.pdf", "--at", "08:00"),
        ("--to", "x.pdf", "--as", "QQ"),
        ("cards", "--to", "x.pdf", "--as", "AR"),
        ("cards", "--to", "x.pdf", "--from", "2026-01-05"),
        ("report", "--to", "x.pdf", "--for", "8b"),
        ("report", "--to", "x.pdf", "--from", "2026-05-05", "--to-day", "2026-05-01"),
        ("certificate", "--to", "x.pdf"),
        ("cards", "--to", "x.pdf", "--trial", "1"),
        ("plots", "--to", "x.pdf", "--trial", "9"),
        ("plots", "--to", "x.pdf", "--for", "8b"),
        ("--to", "-", "--json"),
        ("--type-in", "--json"),
        ("--type-in", "--trial", "1"),
        ("--type-in", "--to", "x.pdf"),
        ("--type-in", "--day", "2999-01-01"),
        ("--type-in", "--day", "2001-01-01"),
        ("--type-in", "--as", "QQ", "--at", "08:00"),
        ("--type-in", "--as", "AR", "--at", "late"),
    ],
)
def test_wrong_use_is_one_line(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, args: tuple[str, ...]
) -> None:
    """Wrong use ends with status 2 and one line, and writes no file."""
    monkeypatch.chdir(tmp_path)
    result = ran(folder, *args)
    assert result.exit_code == 2, result.output
    assert len(result.stderr.strip().splitlines()) == 1
    assert not (tmp_path / "x.pdf").exists()


def test_a_sheet_for_a_day_to_come(folder: Path, tmp_path: Path) -> None:
    """The sheet of tomorrow is of tomorrow."""
    on = today() + timedelta(days=1)
    file = tmp_path / "out.pdf"
    assert ran(folder, "--to", file, "--day", on.isoformat()).exit_code == 0
    assert f"{on:%A} {on.day} {on:%B %Y}" in text(file.read_bytes())


def test_help_is_quick() -> None:
    """What prints is loaded only to print."""
    says = (
        "import sys; from walkabout.cli import cli;"
        "print([one for one in ('fpdf', 'segno', 'uharfbuzz', 'fontTools') if one in sys.modules])"
    )
    found = subprocess.run([sys.executable, "-c", says], capture_output=True, check=True, text=True).stdout
    assert found.strip() == "[]"
