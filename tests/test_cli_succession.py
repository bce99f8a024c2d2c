"""The command that plans sowings: what it says, with which status it ends, and that it only reads."""

import io
import json
import subprocess
import sys
from datetime import date, timedelta
from hashlib import sha256
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from walkabout.cli import cli
from walkabout.commands.succession import Shown

ROOM = """
name = "Small room"
[lamps.bar]
[[station]]
key = "shelf"
name = "Sprout rack"
kind = "shelf"
places = 120
[[station]]
key = "tub"
name = "Raft tub"
kind = "raft"
lamps = ["bar"]
places = 40
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    room = tmp_path / "room"
    room.mkdir()
    (room / "room.toml").write_text(ROOM, encoding="utf-8")
    return room


def ran(folder: Path, *more: str, crop: str = "lettuce", amount: str = "3 heads") -> Result:
    begins = date.today() + timedelta(days=90)  # noqa: DTZ011 - the room goes by the day on the wall
    days = ["--from", begins.isoformat(), "--to", (begins + timedelta(days=20)).isoformat()]
    return CliRunner().invoke(cli, ["--room", str(folder), "succession", crop, amount, *days, *more])


def test_a_plan_that_fits_ends_with_0(folder: Path) -> None:
    """The plan says what to sow, where it moves, what each week gets, and how it came about."""
    result = ran(folder)

    assert result.exit_code == 0
    for says in ("Lettuce: 3 heads every week", "To sow", "at Sprout rack; move on", "to Raft tub", "Working", "HiGHS"):
        assert says in result.stdout
    assert "What stands in the way" not in result.stdout
    assert max(map(len, result.stdout.splitlines())) <= 100


def test_a_plan_that_does_not_fit_ends_with_1_and_offers_another(folder: Path) -> None:
    """What is full is named, and the command for the nearest plan that fits is written out and works."""
    result = ran(folder, amount="20 heads")

    assert result.exit_code == 1
    assert "Raft tub (40 places) is full" in result.stdout
    offer = " ".join(result.stdout.split()).split("That plan: ")[1].split('"')[1]
    assert ran(folder, amount=offer).exit_code == 0


def test_json_says_the_same(folder: Path) -> None:
    """For other programs: sowings with the names of their stations, weeks, conflicts, the offer."""
    facts = json.loads(ran(folder, "--json").stdout)

    assert facts["short"] is False
    assert facts["sowings"][0]["station_name"] == "Raft tub"
    assert [week["wanted"] for week in facts["weeks"]] == [3.0] * len(facts["weeks"])
    assert {"conflicts", "nearest", "notes", "working", "seconds"} <= facts.keys()


@pytest.mark.parametrize(
    ("more", "crop", "says"),
    [
        ((), "letuce", "did you mean lettuce?"),
        (("--station", "tubb"), "lettuce", "there is no station 'tubb'"),
        (("--every", "now"), "lettuce", "--every takes"),
        (("--to", "nonsense"), "lettuce", "'nonsense' is no day"),
    ],
)
def test_wrong_use_is_one_line(folder: Path, more: tuple[str, ...], crop: str, says: str) -> None:
    """What cannot be planned ends with 2 and one line on stderr."""
    result = ran(folder, *more, crop=crop)

    assert result.exit_code == 2
    assert says in result.stderr
    assert result.stderr.count("\n") == 1
    assert result.stdout == ""


def test_nothing_is_written(folder: Path) -> None:
    """No record comes into being, and room.toml stays as it is."""
    ran(folder)

    records = folder / "records"
    assert [one for one in records.rglob("*") if one.is_file() and one.suffix == ".json"] == []
    assert sha256((folder / "room.toml").read_bytes()).digest() == sha256(ROOM.encode()).digest()


def test_the_solver_is_loaded_for_a_plan_alone() -> None:
    """Neither the command line nor what the first page needs of the almanac loads it."""
    code = (
        "import sys, walkabout.cli, walkabout.round.today, walkabout.almanac.succession\n"
        "print(sorted({'scipy', 'numpy'} & set(sys.modules)))"
    )
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)

    assert said.stdout.strip() == "[]"


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_whoever_watches_sees_what_is_done_and_since_when(monkeypatch: pytest.MonkeyPatch) -> None:
    """On a terminal one line tells what is being done and the seconds, and is gone at the end."""
    monkeypatch.setattr(sys, "stderr", shown := Terminal())
    with Shown() as line:
        line.tell("11 weeks laid out, 40 batches to choose from")
    said = shown.getvalue()

    assert "11 weeks laid out, 40 batches to choose from … 0 s" in said
    assert said.endswith("\r\x1b[K")


def test_where_nobody_watches_nothing_is_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    """In a pipe or a file stderr stays empty."""
    monkeypatch.setattr(sys, "stderr", shown := io.StringIO())
    with Shown() as line:
        line.tell("Laying out 11 weeks")

    assert shown.getvalue() == ""
