"""The commands of the almanac: what they say, what they write, and what they leave alone."""

import json
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import msgspec
import pytest
import vobject
from click.testing import CliRunner, Result
from icalendar import Calendar

from tests.almanacs import CHANGE, CODE, ENTRIES, FIRST, LAST, made_up
from tests.rooms import write_small_room
from walkabout.almanac.model import Almanac, Entry
from walkabout.cli import cli
from walkabout.plain.almanac import almanac_lines, chance
from walkabout.room.model import Room, Station

ICS = (
    b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//a school//EN\r\n"
    b"BEGIN:VEVENT\r\nDTSTART;VALUE=DATE:20261219\r\nDTEND;VALUE=DATE:20270104\r\nSUMMARY:Midwinter\r\nEND:VEVENT\r\n"
    b"BEGIN:VEVENT\r\nDTSTART;VALUE=DATE:20270104\r\nDTEND;VALUE=DATE:20270325\r\nSUMMARY:Spring term\r\nEND:VEVENT\r\n"
)
LESSON = b"BEGIN:VEVENT\r\nDTSTART:20261203T090000\r\nSUMMARY:Lesson \x1b[31m\r\nEND:VEVENT\r\n"
END = b"END:VCALENDAR\r\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_small_room(tmp_path / "a room")


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[tuple[date, date]]:
    """Put a made-up almanac in the place of the real one; note for which days it was asked."""
    seen: list[tuple[date, date]] = []

    def almanac_of(_: object, first: date, last: date) -> Almanac:
        seen.append((first, last))
        return made_up()

    monkeypatch.setattr("walkabout.round.almanac.almanac_of", almanac_of)
    return seen


def ran(folder: Path, *args: str | Path) -> Result:
    return CliRunner().invoke(cli, ["--room", str(folder), *(str(arg) for arg in args)])


ROOM = Room(
    name="Fernhollow",
    stations=(
        Station(key="tub", name="Raft tub", kind="raft"),
        Station(key="pots", name="Window pots", kind="pots"),
    ),
)


def test_the_almanac_in_lines() -> None:
    """Days stand by week; each line has its day, its place, and who may do it, and stands alone."""
    assert almanac_lines(made_up(), ROOM, FIRST) == [
        "Fernhollow. Almanac from Wednesday 25 November to Wednesday 20 January 2027.",
        "Week of Monday 23 November.",
        "Monday 7 September to Friday 18 December: Autumn term.",
        (
            "Friday 27 November, Raft tub: Change the solution of the raft tub. Adult, 20 min. Sunday is closed. "
            "Caution: Fertiliser salts: gloves, and wash hands after."
        ),
        "Week of Monday 7 December.",
        (
            "Friday 11 December: 28 heads of lettuce for the lunch club: tight. 24 of 28 are in hand. "
            "Something must be done before it."
        ),
        "Saturday 12 December, Raft tub: Lettuce ready from about this day (12 plants).",
        "Week of Monday 14 December.",
        "Saturday 19 December to Sunday 3 January 2027: Midwinter. Something must be done before it.",
        (
            "Promise, Friday 11 December: 28 heads of lettuce for the lunch club. Tight, about 6 times in 10. "
            "24 of 28 are in hand."
        ),
        "Promise of lettuce: sow 4 by Friday 27 November at the latest.",
        "What would help lettuce: Cut on Monday 14 December. Adult. Then about 9 times in 10.",
        "Not to be eaten as things stand, lettuce: The spray on the raft tub has five days to wait.",
        (
            "Closure midwinter, Saturday 19 December to Sunday 3 January 2027: last round Friday 18 December, "
            "first round back Monday 4 January 2027, 17 days alone."
        ),
        (
            "midwinter, Window pots: lasts if it is made ready, 6 to 8 days without help. "
            "The pots are dry about Fri 25 Dec."
        ),
        "Before midwinter, 1. Friday 18 December, Window pots: Water the pots. Pupil, 10 min. Caution: Wet floor.",
        "Before midwinter: 10 min in all.",
        "During midwinter an adult must come on Thursday 24 December.",
        "midwinter: The harvest of basil falls into it.",
    ]


def test_a_caution_is_said_once() -> None:
    """Of a job that comes again and again only the first line has the caution."""
    weekly = [
        msgspec.structs.replace(CHANGE, due=CHANGE.due + timedelta(weeks=one), day=CHANGE.day + timedelta(weeks=one))
        for one in range(3)
    ]
    entries = tuple(
        Entry(day=one.day, kind="job", says=one.says, uid=f"job/{one.key}/{one.due}", station="tub") for one in weekly
    )
    found = msgspec.structs.replace(made_up(entries), standing=tuple(weekly))
    said = [one for one in almanac_lines(found, ROOM, FIRST) if CHANGE.says in one]

    assert ["Caution: " in one for one in said] == [True, False, False]


def test_an_almanac_of_nothing_says_so() -> None:
    """Without entries a line says that there are none."""
    empty = Almanac(made=FIRST, first=FIRST, last=LAST, entries=(), rows=(), promises=(), standing=(), closures=())

    assert almanac_lines(empty, ROOM, FIRST)[1:] == ["Nothing stands in it."]


@pytest.mark.parametrize(
    ("value", "says"),
    [(0.0, "hardly any chance"), (0.04, "hardly any chance"), (0.5, "about 5 times in 10"), (0.99, "nearly certain")],
)
def test_chances_in_words(value: float, says: str) -> None:
    """A chance is said as times in ten, and never as certain."""
    assert chance(value) == says


def test_the_command_says_the_lines(folder: Path, asked: list[tuple[date, date]]) -> None:
    """It ends with 0; without days it looks from today for eight weeks."""
    said = ran(folder, "almanac")

    assert said.exit_code == 0
    assert "Friday 27 November" in said.output
    ((first, last),) = asked
    assert last - first == timedelta(weeks=8)


def test_days_as_people_write_them(folder: Path, asked: list[tuple[date, date]]) -> None:
    """The days may be written in any clear way; eight weeks are counted from the first."""
    assert ran(folder, "almanac", "--from", "1 Dec 2026", "--to", "2026-12-24").exit_code == 0
    assert ran(folder, "almanac", "--from", "2026-12-01").exit_code == 0
    assert asked == [(date(2026, 12, 1), date(2026, 12, 24)), (date(2026, 12, 1), date(2027, 1, 26))]


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (("--from", "someday"), "--from: "),
        (("--from", "03/04/2027"), "can be read in two ways"),
        (("--from", "0001-01-01"), "The year 1 cannot be meant"),
        (("--from", "2027-02-01", "--to", "2027-01-01"), "before 2027-02-01"),
        (("--from", "2027-01-01", "--to", "2037-01-01"), "two years ahead at most"),
        (("--ics", "-", "--json"), "Only one of"),
    ],
)
@pytest.mark.usefixtures("asked")
def test_wrong_use_is_one_line(args: tuple[str, ...], says: str, folder: Path) -> None:
    """It ends with 2 and says what would be right."""
    said = ran(folder, "almanac", *args)

    assert said.exit_code == 2
    assert says in said.output
    assert said.output.count("\n") == 1


@pytest.mark.usefixtures("asked")
def test_the_almanac_for_other_programs(folder: Path) -> None:
    """JSON has the entries with their stations' names, the promises and the closures, and nobody's code."""
    said = ran(folder, "almanac", "--json")
    facts = json.loads(said.output)

    assert [one["uid"] for one in facts["entries"]] == [one.uid for one in ENTRIES]
    assert facts["entries"][1]["name"] == "Raft tub"
    assert facts["promises"][0]["promise"]["day"] == "2026-12-11"
    assert facts["closures"][0]["minutes"] == 10
    assert facts["rows"][0]["plantings"][0]["stages"][0]["span"]["likely"] == "2026-12-12"
    assert CODE not in said.output


@pytest.mark.usefixtures("asked")
def test_a_calendar_file_is_written_and_written_again(folder: Path, tmp_path: Path) -> None:
    """The file says how many dates it has; its own file may be written over, and has the same UIDs."""
    file = tmp_path / "room calendar.ics"
    said = ran(folder, "almanac", "--ics", file)
    before = file.read_bytes()

    assert said.output == f"Written: {file}, 5 dates.\n"
    assert ran(folder, "almanac", "--ics", file).exit_code == 0
    uids = [
        [str(one["UID"]) for one in Calendar.from_ical(data).walk("VEVENT")] for data in (before, file.read_bytes())
    ]
    assert uids[0] == uids[1]
    assert len(uids[0]) == 5


@pytest.mark.usefixtures("asked")
def test_a_calendar_to_standard_output(folder: Path) -> None:
    """A hyphen writes the calendar and nothing else."""
    said = ran(folder, "almanac", "--ics", "-")

    assert said.stdout_bytes.startswith(b"BEGIN:VCALENDAR\r\n")
    assert said.stdout_bytes.endswith(b"END:VCALENDAR\r\n")


@pytest.mark.parametrize("data", [b"name = 'a'\n", b"", b"\x00\xff", ICS + END])
@pytest.mark.usefixtures("asked")
def test_a_file_of_somebody_elses_is_left_alone(data: bytes, folder: Path, tmp_path: Path) -> None:
    """What is no calendar, or one that this program did not write, stays as it is, and it ends with 2."""
    file = tmp_path / "mine.ics"
    file.write_bytes(data)
    said = ran(folder, "almanac", "--ics", file)

    assert said.exit_code == 2
    assert "left as it is" in said.output
    assert file.read_bytes() == data


@pytest.mark.usefixtures("asked")
def test_where_no_file_can_be(folder: Path, tmp_path: Path) -> None:
    """A folder, or a folder that is not there, is said in one line."""
    for place, status in ((tmp_path, 2), (tmp_path / "none" / "a.ics", 1)):
        said = ran(folder, "almanac", "--ics", place)
        assert (said.exit_code, said.output.count("\n")) == (status, 1)


def test_the_real_almanac_of_a_room(folder: Path) -> None:
    """It is a calendar with events, the same ones when it is made again, and nobody's code is in it."""
    first, again = (ran(folder, "almanac", "--ics", "-").stdout_bytes for _ in range(2))
    events = Calendar.from_ical(first).walk("VEVENT")
    uids = [str(one["UID"]) for one in events]

    assert len(uids) == len(set(uids)) > 10
    assert uids == [str(one["UID"]) for one in Calendar.from_ical(again).walk("VEVENT")]
    assert {one.dtstart.value for one in vobject.readOne(first.decode()).contents["vevent"]} == {
        one["DTSTART"].dt for one in events
    }
    words = first.decode().replace("\r\n ", "").replace("\\n", " ").replace(";", " ").replace(":", " ").split()
    assert {"AR", "K7"}.isdisjoint(words)


def calendar(folder: Path, *, lesson: bool = False) -> Path:
    file = folder / "school.ics"
    file.write_bytes(ICS + (LESSON if lesson else b"") + END)
    return file


def test_dates_are_shown_and_not_written(folder: Path, tmp_path: Path) -> None:
    """Without --write the file stays as it is."""
    was = (folder / "room.toml").read_bytes()
    said = ran(folder, "dates", calendar(tmp_path))

    assert said.output.splitlines() == [
        "Term Spring term: Monday 4 January 2027 to Wednesday 24 March 2027, 80 days.",
        "Closure Midwinter: Saturday 19 December 2026 to Sunday 3 January 2027, 16 days.",
        "Nothing was written. To add these 2 to room.toml: the same with --write.",
    ]
    assert said.exit_code == 0
    assert (folder / "room.toml").read_bytes() == was


def test_dates_are_written_once(folder: Path, tmp_path: Path) -> None:
    """With --write they stand in the room; a second time nothing is left to write."""
    said = ran(folder, "dates", calendar(tmp_path), "--write")
    once = (folder / "room.toml").read_bytes()

    assert "Added to room.toml: 2." in said.output
    assert b"[[closure]]" in once
    assert b"[[term]]" in once
    assert ran(folder, "check").output == "no mistakes\n"
    again = ran(folder, "dates", calendar(tmp_path), "--write")
    assert again.output.count("It is in room.toml already.") == 2
    assert again.output.endswith("All of it is in room.toml already.\n")
    assert (folder / "room.toml").read_bytes() == once


def test_what_was_left_out_ends_with_1(folder: Path, tmp_path: Path) -> None:
    """A lesson is named with the reason, its steering characters gone; the rest is written."""
    said = ran(folder, "dates", calendar(tmp_path, lesson=True), "--write")

    assert said.exit_code == 1
    assert "Left out: Lesson [31m, 3 Dec 2026: it has a time of day and lasts less than a day.\n" in said.output
    assert "\x1b" not in said.output
    assert b"Midwinter" in (folder / "room.toml").read_bytes()


def test_only_some_of_them(folder: Path, tmp_path: Path) -> None:
    """--only keeps what has the text in its name."""
    said = ran(folder, "dates", calendar(tmp_path), "--only", "SPRING").output

    assert "Midwinter" not in said
    assert "Spring term" in said


def test_dates_for_other_programs(folder: Path, tmp_path: Path) -> None:
    """JSON has what was found, whether it is there already, and all that was left out."""
    facts = json.loads(ran(folder, "dates", calendar(tmp_path, lesson=True), "--json").output)

    assert facts["closures"] == [{"from": "2026-12-19", "to": "2027-01-03", "name": "Midwinter", "there": False}]
    assert [one["name"] for one in facts["terms"]] == ["Spring term"]
    assert len(facts["skipped"]) == 1


def test_public_holidays(folder: Path) -> None:
    """Holidays of several places and years come in one go."""
    said = ran(folder, "dates", "--holidays", "DE-BY", "--year", "2027", "--year", "2028", "--write")

    assert said.exit_code == 0
    assert "Closure Epiphany: Wednesday 6 January 2027, 1 day." in said.output
    assert b"2028-01-06" in (folder / "room.toml").read_bytes()
    assert ran(folder, "dates", "--holidays", "DE-BY", "--year", "2027").output == "Nothing was found.\n"


@pytest.mark.parametrize(
    ("args", "says"),
    [
        ((), "Name a calendar file, or a country"),
        (("--holidays", "DE"), "--holidays and --year go together"),
        (("--year", "2027", "none.ics"), "--holidays and --year go together"),
        (("none.ics",), "none.ics is not there."),
        (("--holidays", "XX", "--year", "2027"), "No country is known"),
        (("--holidays", "DE", "--year", "20277"), "cannot be meant"),
    ],
)
def test_wrong_use_of_dates(args: tuple[str, ...], says: str, folder: Path) -> None:
    """It ends with 2 and says in one line what would be right."""
    said = ran(folder, "dates", *args)

    assert said.exit_code == 2
    assert says in said.output
    assert said.output.count("\n") == 1


def test_a_list_in_one_piece_is_said_with_the_lines(folder: Path, tmp_path: Path) -> None:
    """The lines to add by hand are shown, nothing is written, and it ends with 1."""
    file = folder / "room.toml"
    file.write_text("closure = []\n" + file.read_text("utf-8"), "utf-8")
    was = file.read_bytes()
    said = ran(folder, "dates", calendar(tmp_path), "--write")

    assert said.exit_code == 1
    assert '{ from = 2026-12-19, to = 2027-01-03, name = "Midwinter" },' in said.output
    assert file.read_bytes() == was


def test_the_libraries_are_loaded_only_where_they_are_used(folder: Path) -> None:
    """Today loads neither the calendar library nor the one of holidays; nor does a calendar that is not there."""
    code = (
        "import sys\nfrom walkabout.cli import main\nsys.argv = ['walkabout', *sys.argv[1:]]\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "print('LOADED', sorted({'icalendar', 'holidays'} & set(sys.modules)))\n"
    )

    def loaded(*args: Any) -> str:
        done = subprocess.run(
            [sys.executable, "-c", code, "--room", str(folder), *args],
            capture_output=True, text=True, timeout=60, check=False,
        )  # fmt: skip
        return done.stdout.splitlines()[-1]

    assert loaded("jobs") == "LOADED []"
    assert loaded("dates", "none.ics") == "LOADED []"
    assert loaded("dates", "--holidays", "NZ", "--year", "2027") == "LOADED ['holidays']"
