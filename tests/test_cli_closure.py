"""`walkabout closure FROM TO`: what it says, and with which status it ends."""

import json
from datetime import date, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from walkabout.cli import cli
from walkabout.records.book import Records
from walkabout.records.model import Move, Planting

ROOM = """
name = "Small room"
days = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
[people.AR]
role = "adult"
[lamps.bar]
watts = 60
[tanks.tub]
litres = 200
[pumps.one]
[[station]]
key = "tub"
name = "Film channels"
kind = "film"
tank = "tub"
pumps = ["one"]
lamps = ["bar"]
[[station]]
key = "sill"
name = "South sill"
kind = "pots"
"""
TODAY = date.today()  # noqa: DTZ011 - the command reads this machine's day


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    room = tmp_path / "a room"
    room.mkdir()
    (room / "room.toml").write_text(ROOM, encoding="utf-8")
    return room


def plant(folder: Path, crop: str, station: str, count: int) -> None:
    sown = TODAY - timedelta(days=60)
    records = Records.open(folder, TODAY)
    moves = (Move(day=sown, station=station),)
    records.save(Planting(key=f"p-{station}", crop=crop, sown=sown, count=count, moves=moves))
    records.close()


def ran(folder: Path, *args: str) -> Result:
    return CliRunner().invoke(cli, ["closure", "--room", str(folder), *args])


def days(first: int = 3, last: int = 12) -> tuple[str, str]:
    return (TODAY + timedelta(days=first)).isoformat(), (TODAY + timedelta(days=last)).isoformat()


def test_a_room_in_which_everything_lasts_ends_with_0(folder: Path) -> None:
    """Ten basil plants on 200 L last ten days once the tank is full: nobody has to come, status 0."""
    plant(folder, "basil", "tub", 10)
    found = ran(folder, *days())
    assert found.exit_code == 0
    assert "Film channels: lasts, if what stands below is done" in found.output
    assert "Fill the tank to its mark" in found.output
    assert "In case the pump has stopped: plants feel it in about" in found.output
    assert "Somebody must come" not in found.output


def test_what_needs_a_visit_ends_with_1(folder: Path) -> None:
    """Pots do not last: a visit by an adult, with permission to enter, by whoever has the keys; status 1."""
    plant(folder, "geranium", "sill", 6)
    found = ran(folder, *days())
    assert found.exit_code == 1
    assert "South sill: needs a visit" in found.output
    assert "an adult, with permission to enter, by arrangement with whoever has the keys." in found.output
    assert "look here first" in found.output


def test_what_is_said_for_other_programs(folder: Path) -> None:
    """--json gives the same days, fates, steps and visits as plain values, with the same status."""
    plant(folder, "geranium", "sill", 6)
    first, last = days()
    found = ran(folder, first, last, "--json")
    assert found.exit_code == 1
    facts = json.loads(found.output)
    assert (facts["first"], facts["last"]) == (first, last)
    assert facts["away"] == 11
    assert {one["station"]: one["fate"] for one in facts["stations"]} == {"tub": "lasts", "sill": "visit"}
    assert facts["minutes"] == sum(one["minutes"] for one in facts["before"])
    assert facts["visits"]
    assert {"station", "says"} == facts["first_morning"][0].keys()
    days_said = [one["days"] for one in facts["stations"] if one["days"] is not None]
    assert days_said
    assert all(isinstance(one, int) or one < 1 for one in days_said)
    assert isinstance(facts["away"], int)
    assert 0 < facts["adult_minutes"] <= facts["minutes"]


def test_days_without_a_year_are_the_next_ones(folder: Path) -> None:
    """'3 January' is the next one from today on, and the last day the next one from the first on."""
    found = ran(folder, "28 December", "3 January", "--json")
    facts = json.loads(found.output)
    first, last = date.fromisoformat(facts["first"]), date.fromisoformat(facts["last"])
    assert (first.month, first.day, last.month, last.day) == (12, 28, 1, 3)
    assert TODAY <= first < last
    assert last.year == first.year + 1


@pytest.mark.parametrize(
    ("first", "last", "says"),
    [
        ("yesterweek", "2026-12-20", "'yesterweek' is no day: write it as 2026-12-18"),
        (*days(9, 4), "before it begins"),
        ("2001-01-01", "2001-01-05", "The closure ended on 2001-01-05"),
        (*days(1, 800), "more than a year"),
        ("31 February", "2 March", "is no day: write it as"),
    ],
)
def test_wrong_days_are_one_clear_line(folder: Path, first: str, last: str, says: str) -> None:
    """What is no day, goes backwards, is over or is too long: one line, nothing reckoned, status 2."""
    found = ran(folder, first, last)
    assert found.exit_code == 2
    assert says in found.output
    assert len(found.output.strip().splitlines()) == 1
    assert "Traceback" not in found.output


def test_both_days_have_to_be_given(folder: Path) -> None:
    """One day alone is wrong use."""
    assert ran(folder, days()[0]).exit_code == 2


def test_without_a_room_there_is_nothing_to_reckon(tmp_path: Path) -> None:
    """A folder without a room is wrong use, in one line."""
    found = ran(tmp_path / "nowhere", *days())
    assert found.exit_code == 2
    assert "There is no room in" in found.output


def test_it_writes_nothing(folder: Path) -> None:
    """A forecast is only read: room.toml and the records stay as they are."""
    plant(folder, "basil", "tub", 10)
    before = {
        one: one.read_bytes() for one in sorted(folder.rglob("*")) if one.is_file() and "backups" not in one.parts
    }
    ran(folder, *days())
    assert {one: one.read_bytes() for one in before} == before
    names = {one.name for one in folder.rglob("*") if one.is_file() and "backups" not in one.parts}
    assert names == {one.name for one in before}


def test_help_says_what_it_takes(folder: Path) -> None:
    """--help names both days and what the statuses mean."""
    found = ran(folder, "--help")
    assert found.exit_code == 0
    assert "FROM TO" in found.output
    assert "Exit status 1" in found.output
