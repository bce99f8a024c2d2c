"""The command that says the term in numbers: lines, JSON, and wrong use in one line."""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.rooms import write_small_room
from walkabout.cli import cli
from walkabout.insight.shelf import add
from walkabout.records.book import Records
from walkabout.records.model import Answer, Finding, Round

NOW = datetime.now(UTC).replace(hour=8, minute=0, second=0, microsecond=0)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A room with a round by K7, a finding by AR, litres poured in, and a supply that AR counted."""
    room = write_small_room(tmp_path / "a room")
    toml = (room / "room.toml").read_text(encoding="utf-8")
    (room / "room.toml").write_text(toml.replace("watts = 60", "watts = 60\nsince = 2020-01-06"), encoding="utf-8")
    with (room / "room.toml").open("a", encoding="utf-8") as file:
        file.write('\n[prices]\ncurrency = "EUR"\nper_kwh = 0.5\nper_cubic_metre = 4\n')
    records = Records.open(room, NOW.date())
    day = NOW - timedelta(days=2)
    for record in (
        Round(key="r", day=day.date(), started=day, walker="K7", ended=day, walked_seconds=180),
        Finding(key="f", station="tub", seen="AR saw slime", verdict="today", by="AR", at=day, closed=NOW),
        Answer(key="a", round="r", at=day, walker="K7", station="tub", question="topped-up", value=5.0, unit="L"),
        Answer(key="b", round="r", at=day, walker="K7", station="tub", question="topped-up", value=7.0, unit="L",
               replaces="a"),
        add(name="Grow mix", unit="mL", amount=50.0, by="AR", now=day, used=70.0, pack=100.0, price=8.0, lead_days=5),
    ):  # fmt: skip
        records.save(record)
    records.close()
    return room


def ran(folder: Path, *args: str) -> Result:
    return CliRunner().invoke(cli, ["--room", str(folder), "term", *args])


def test_the_lines(folder: Path) -> None:
    """Every part has a heading, what it means, numbers with units and the working; codes only where asked for."""
    assert "K7" not in ran(folder).output
    said = ran(folder, "--codes")

    assert said.exit_code == 0
    for line in (
        "COST", "ELECTRICITY BY LAMP", "  bar: 80.6 kWh (EUR 40.32, Sprout rack, Raft tub)",
        "      working: bar: 60 W × 16 h × 84 days ÷ 1000 = 80.64 kWh", "WATER AND SALTS",
        "  Raft tub: 7 L (7 L on top, 0 L renewed)", "HARVEST", "LOSSES BY CAUSE", "  all losses: 0 plants", "FINDINGS",
        "ON THE SHELF, AND WHAT TO BUY", "ROUNDS BY CODE", "  K7: 1 round (3 min)",
    ):  # fmt: skip
        assert line in said.output.splitlines()
    assert "For the teacher alone" in said.output
    assert "order now" in said.output


def test_for_other_programs_nobody_is_named(folder: Path) -> None:
    """JSON has every number with its working, and codes only where they are asked for."""
    said = ran(folder, "--json")
    facts = json.loads(said.output)

    assert facts["energy"]["lamps"][0]["key"] == "bar"
    assert facts["energy"]["kwh"] == pytest.approx(80.64)
    assert facts["energy"]["money"] == pytest.approx(40.32)
    assert facts["water"]["tanks"][0]["litres"] == 7.0
    assert facts["buy"][0]["supply"]["name"] == "Grow mix"
    assert facts["buy"][0]["order_by"] < NOW.date().isoformat()
    assert facts["supplies"][0]["money"] == pytest.approx(20 * 8 / 100)
    assert facts["minutes"]["total"] == 3.0
    assert facts["findings"]["quickest"]["seen"] == "somebody saw slime"
    assert "codes" not in facts
    assert '"K7"' not in said.output
    assert '"AR"' not in said.output

    assert facts["units"]["litres"] == "L"
    assert facts["units"]["money, portion, price, cost"] == "EUR"
    with_codes = json.loads(ran(folder, "--json", "--codes").output)
    assert with_codes["codes"] == [{"code": "K7", "rounds": 1, "minutes": 3.0}]


def test_a_us_room_reads_its_own_units_and_json_stays_metric(folder: Path) -> None:
    """Lines have gallons; the values for other programs are litres, and say so."""
    toml = folder / "room.toml"
    toml.write_text(f'units = "US"\n{toml.read_text(encoding="utf-8")}', encoding="utf-8")
    assert "  Raft tub: 1.8 US gal (1.8 US gal on top, 0.0 US gal renewed)" in ran(folder).output.splitlines()
    facts = json.loads(ran(folder, "--json").output)
    assert facts["water"]["litres"] == 7.0
    assert "scales" not in facts


def test_no_code_in_the_name_of_a_supply(folder: Path) -> None:
    """A supply called after somebody is called after somebody else for other programs."""
    records = Records.open(folder, NOW.date())
    records.save(add(name="Seed from AR, k7", unit="seeds", amount=5.0, by="AR", now=NOW))
    records.close()
    said = ran(folder, "--json").output
    assert "Seed from somebody, somebody" in said
    assert "Seed from AR" not in said


def test_days_as_people_write_them(folder: Path) -> None:
    """--from and --to are taken in any clear way; with one of them the other is today."""
    since = (NOW - timedelta(days=9)).date()
    facts = json.loads(ran(folder, "--json", "--from", f"{since.day} {since:%B} {since.year}").output)

    assert (facts["first"], facts["last"]) == (since.isoformat(), NOW.date().isoformat())
    assert facts["energy"]["kwh"] == pytest.approx(9.6)


def test_closed_light(folder: Path) -> None:
    """--closed-light counts the lamps of closed days for a share of their hours."""
    first, last = (NOW - timedelta(days=9)).date(), NOW.date()
    with (folder / "room.toml").open("a", encoding="utf-8") as file:
        file.write(f"\n[[closure]]\nfrom = {first}\nto = {last}\n")
    facts = json.loads(ran(folder, "--json", "--from", str(first), "--closed-light", "25").output)

    assert facts["energy"]["kwh"] == pytest.approx(2.4)


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (("--from", "2150-01-01"), "still to come"),
        (("--from", "2026-02-01", "--to", "2026-01-01"), "before it begins"),
        (("--from", "2001-01-01"), "ten years at most"),
        (("--from", "someday"), "--from: "),
        (("--to", "03/04/2026"), "can be read in two ways"),
        (("--closed-light", "101"), "101"),
        (("--closed-light", "nan"), "from 0 to 100"),
    ],
)
def test_wrong_use_is_one_line(args: tuple[str, ...], says: str, folder: Path) -> None:
    """It ends with 2 and says what is wrong."""
    said = ran(folder, *args)

    assert said.exit_code == 2
    assert says in said.output
    assert said.output.count("\n") == 1


def test_a_room_without_records(tmp_path: Path) -> None:
    """A room in which nothing happened yet has all its parts, and no number is made up."""
    said = ran(write_small_room(tmp_path / "new"))

    assert said.exit_code == 0
    assert "  a portion: not known" in said.output
    assert "nan" not in said.output
