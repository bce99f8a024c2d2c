"""The commands lookup, signs and causes: for people, for programs, and with which status they end."""

import json
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from tests.round.school import School
from walkabout.cli import cli
from walkabout.jobs.findings import confirm_cause, flag
from walkabout.round.lookup import ready

WHITE = "white dust on old leaves"


def ran(*args: str | Path, typed: str = "") -> Result:
    return CliRunner().invoke(cli, [str(arg) for arg in args], input=typed)


def looked_up(*args: str | Path) -> dict[str, Any]:
    result = ran("lookup", *args, "--json")
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    return found


@pytest.fixture
def school(tmp_path: Path) -> School:
    return School(tmp_path / "a room", ["tub", "pots"])


def confirmed(school: School, times: int, cause: str = "powdery-mildew") -> None:
    for _ in range(times):
        finding = flag(station="pots", seen="white dust", verdict="watch", by="K7", now=school.now)
        school.room.save(confirm_cause(finding, cause, cause.replace("-", " "), "AR", "adult", school.now))
    school.room.close()


def test_the_answer_for_programs() -> None:
    """Every key that is promised, with probabilities in order and between 0 and 1."""
    found = looked_up("--crop", "cucumber", "--see", f"{WHITE}, blorp fizzle", "--not", "webs", "--reading", "ph=6.9")
    assert list(found) == [
        "crop", "signs", "not_understood", "verdict", "causes", "together", "next_check", "do", "sources",
    ]  # fmt: skip
    assert found["crop"] == "cucumber"
    sign = found["signs"][0]
    assert (sign["key"], sign["present"], sign["from"]) == ("white-powder", True, "white dust")
    assert [one["present"] for one in found["signs"]] == [True, False]
    assert found["not_understood"] == ["blorp fizzle"]
    assert found["verdict"] in ("likely", "unsure", "not enough", "healthy")
    first = found["causes"][0]
    assert list(first) == ["key", "name", "class", "probability", "for", "against"]
    assert (first["key"], first["class"]) == ("powdery-mildew", "fungi")
    chances = [one["probability"] for one in found["causes"] if one["key"] != "not-listed"]
    assert chances == sorted(chances, reverse=True)
    assert all(0 <= one <= 1 for one in chances)
    keys = {one["key"] for one in found["causes"]}
    assert all({one, other} <= keys and 0 <= both <= 1 for one, other, both in found["together"])
    check = found["next_check"]
    assert check is None or list(check) == ["ask", "how", "seconds", "separates"]
    assert all(list(one) == ["step", "who", "caution", "when"] for one in found["do"])
    assert {one["when"] for one in found["do"]} <= {"now", "next", "if it stays"}
    assert all(one["text"] and one["known"] for one in found["sources"])


def test_the_answer_for_people() -> None:
    """The verdict first, then what is known, causes with word and reason, the next look, what to do, sources."""
    result = ran("lookup", "--crop", "arugula", "--see", WHITE, "--reading", "air=75F", "--reading", "EC=1800uS/cm")
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    assert max(map(len, lines)) < 80
    heads = ["What is known", "Causes", "What to do now", "Sources"]
    places = [lines.index(head) for head in heads]
    assert places == sorted(places)
    assert '  there: white powder that rubs off ("white dust")' in lines
    assert "  crop: rocket" in lines
    assert "  reading: air by day 23.9 °C" in lines
    assert "  reading: EC 1.8 mS/cm" in lines
    assert lines[-1].startswith("A lookup weighs what was seen; it is no proof.")


def test_nothing_is_said_as_certain_and_no_pupil_sprays() -> None:
    """Each cause stands with a word and a share; each step with who may do it."""
    said = ran("lookup", "--see", WHITE).stdout
    assert "100 %" not in said
    steps = looked_up("--see", WHITE)["do"]
    assert all(one["who"] in ("pupil", "adult", "licensed") for one in steps)
    killing = {
        known.step(step).step
        for known in (ready().known,)
        for cause in known.causes.values()
        for step in cause.do
        if known.step(step).pesticide
    }
    assert not [one for one in steps if one["step"] in killing and one["who"] == "pupil"]


def test_not_enough_is_said_when_it_is_the_truth() -> None:
    """A reading alone, or words that nobody understands, name no cause."""
    for args in (("--reading", "ph=7.9"), ("--see", "blorp fizzle")):
        assert looked_up(*args)["verdict"] == "not enough"
        assert ran("lookup", *args).stdout.startswith("Not enough to tell.")


def test_without_evidence_no_cause_is_listed() -> None:
    """Words that nobody understands name no cause and no source; a reading is evidence."""
    nothing = looked_up("--see", "blorp fizzle")
    assert (nothing["causes"], nothing["together"], nothing["sources"]) == ([], [], [])
    assert "\nCauses\n" not in ran("lookup", "--see", "blorp fizzle").stdout
    assert looked_up("--reading", "ph=7.9")["causes"]


def test_danger_to_people_comes_first() -> None:
    """Words of danger stop everything else: the first lines say so and what to do, for programs under a first key."""
    lines = ran("lookup", "--see", "burnt smell at the lamp, leaves yellow").stdout.splitlines()
    assert lines[0] == "Stop: people first."
    found = looked_up("--see", "burnt smell at the lamp, leaves yellow")
    assert next(iter(found)) == "stop"
    assert found["stop"]["because"] == ["burnt smell"]
    assert found["stop"]["step"] == found["do"][0]["step"]
    assert " ".join(lines[1:4]).startswith(found["stop"]["step"][:40])
    assert "stop" not in looked_up("--see", WHITE)


def test_every_step_is_a_sentence() -> None:
    """It ends with a full stop, for people and for programs."""
    assert all(one["step"].endswith(".") for one in looked_up("--see", WHITE)["do"])


def test_looking_for_something_in_vain_counts() -> None:
    """--not takes all of a text as not there; given twice, both count."""
    signs = looked_up("--see", WHITE, "--not", "webs", "--not", "sticky leaves")["signs"]
    assert [one["present"] for one in signs] == [True, False, False]


def test_several_texts_are_one_plant() -> None:
    """--see can be repeated, and a whole sentence holds several signs."""
    apart = looked_up("--see", "white dust on old leaves", "--see", "fine webs")
    together = looked_up("--see", "white dust on old leaves. There are fine webs too.")
    assert {one["key"] for one in apart["signs"]} == {one["key"] for one in together["signs"]}
    assert apart["causes"][0]["key"] == together["causes"][0]["key"]


@pytest.mark.parametrize(
    ("args", "says"),
    [
        ((), "Say what is seen: walkabout lookup --see"),
        (("--see", "x", "--reading", "phh=6"), "Did you mean ph?"),
        (("--reading", "ph=15"), "cannot be."),
        (("--reading", "ph=sour"), "is no number"),
        (("--reading", "ph"), "NAME=NUMBER"),
        (("--reading", "ph=6", "--reading", "pH=7"), "given twice"),
        (("--see",), "requires an argument"),
        (("--see", ""), "Say what is seen: walkabout lookup --see"),
        (("--see", "x", "--not", "  "), "Say what is seen: walkabout lookup --see"),
        (("--json",), "Say what is seen: walkabout lookup --see"),
        (("--see", "x" * 2001), "2000 characters long; this one has 2001"),
        (("--not", "x" * 2001), "2000 characters long; this one has 2001"),
        (("--see", "white dust", "--not", "white dust"), "there and not there: white powder"),
        (("--see", "x", "--station", "tub"), "There is no room in "),
    ],
)
def test_wrong_use_is_one_line_and_2(args: Sequence[str], says: str) -> None:
    """One clear line on stderr, nothing on stdout."""
    result = ran("lookup", *args)
    assert result.exit_code == 2
    assert says in result.stderr
    assert result.stderr.count("\n") == 1
    assert result.stdout == ""


def test_hostile_text_steers_no_terminal() -> None:
    """Escapes and markup come back as typed, spelled out."""
    for args in (("--see", "\x1b[2J[red]white dust[/]\x07"), ("--see", "x", "--crop", "\x1b[2J")):
        result = ran("lookup", *args)
        assert "\x1b" not in result.output
        assert "\x07" not in result.output


# in a room


def test_what_a_room_confirmed_counts_only_where_it_is_named(school: School, monkeypatch: pytest.MonkeyPatch) -> None:
    """With --room or --station it moves the chances; WALKABOUT_ROOM alone does not, so that answers can be repeated."""
    before = looked_up("--see", WHITE)
    confirmed(school, 6)
    named = looked_up("--see", WHITE, "--room", school.folder)
    monkeypatch.setenv("WALKABOUT_ROOM", str(school.folder))
    assert looked_up("--see", WHITE) == before
    assert named["causes"][0]["probability"] > before["causes"][0]["probability"]
    assert looked_up("--see", WHITE, "--station", "pots")["causes"][0]["key"] == "powdery-mildew"


def test_an_unknown_crop_is_said_and_the_rest_looked_up() -> None:
    """What is seen counts all the same; the crop is named as not understood, with the nearest ones in one line."""
    result = ran("lookup", "--see", WHITE, "--crop", "xqqqqz", "--json")
    assert result.exit_code == 0
    assert "No crop is called 'xqqqqz'." in result.stderr
    assert "goes on without the crop" in result.stderr
    found = json.loads(result.stdout)
    assert found["crop"] == ""
    assert found["not_understood"] == ["xqqqqz"]
    assert found["causes"][0]["key"] == "powdery-mildew"


def test_a_station_brings_its_crop(school: School) -> None:
    """By key or name; another crop can be given; one that is not there is named with the nearest."""
    school.room.close()
    assert looked_up("--see", WHITE, "--room", school.folder, "--station", "The tub")["crop"] == "raft-lettuce"
    other = looked_up("--see", WHITE, "--room", school.folder, "--station", "pots", "--crop", "mint")
    assert other["crop"] == "mint"
    result = ran("lookup", "--see", WHITE, "--room", school.folder, "--station", "tubb")
    assert (result.exit_code, result.stderr.count("\n")) == (2, 1)
    assert 'Did you mean "tub"?' in result.stderr
    for station, says in (("tubb", "No station is called"), ("tub", "Say what is seen at tub: add --see TEXT")):
        alone = ran("lookup", "--room", school.folder, "--station", station)
        assert (alone.exit_code, alone.stderr.count("\n"), alone.stdout) == (2, 1, "")
        assert says in alone.stderr


def test_a_page_says_what_the_room_confirmed(school: School) -> None:
    """With --room only."""
    confirmed(school, 3)
    said = ran("causes", "powdery mildew", "--room", school.folder).stdout
    assert "powdery mildew: confirmed 3 times in this room, so it is thought of sooner here" in " ".join(said.split())
    assert "confirmed 3 times" not in ran("causes", "powdery mildew").stdout


# line by line


def test_line_by_line_without_a_room() -> None:
    """--plain and nothing to see asks."""
    result = ran("lookup", "--plain", typed=f"{WHITE}\nd\nq\n")
    assert result.exit_code == 0
    assert result.stdout.startswith("Lookup.")
    assert "What to do now:" in result.stdout
    assert ran("lookup", "--plain", typed="").exit_code == 0


def test_line_by_line_at_a_station(school: School) -> None:
    """What is on record stands there already, and a finding is written into that room."""
    school.room.close()
    args = ("lookup", "--plain", "--room", school.folder, "--station", "pots")
    result = ran(*args, typed=f"{WHITE}\nf\n1\nq\n")
    assert result.exit_code == 0, result.output
    assert "crop: basil" in result.stdout
    assert [one.station for one in school.again().findings.values()] == ["pots"]


# lists and pages


def test_signs_for_people_and_programs() -> None:
    """Every sign is listed once, under what it is seen on."""
    rows = json.loads(ran("signs", "--json").stdout)["signs"]
    assert [one["key"] for one in rows] != []
    assert sorted(one["key"] for one in rows) == sorted(ready().known.signs)
    lines = ran("signs").stdout.splitlines()
    assert max(map(len, lines)) < 80
    assert "On or in: leaf" in lines


def test_causes_for_people_and_programs() -> None:
    """Every cause and reason is listed; a page has the same sections for both."""
    rows = json.loads(ran("causes", "--json").stdout)["causes"]
    assert {one["key"] for one in rows} == {*ready().known.causes, *ready().known.reasons}
    assert "\nFungi and their like\n" in ran("causes").stdout
    page = json.loads(ran("causes", "powdery", "mildew", "--json").stdout)
    said = ran("causes", "Oidium").stdout
    assert (page["key"], page["class"]) == ("powdery-mildew", "fungi")
    assert said.startswith("Powdery mildew\n")
    assert max(map(len, said.splitlines())) < 80
    for title in page["sections"]:
        assert f"\n{title}\n" in said


def test_an_unknown_cause() -> None:
    """One line with the nearest."""
    result = ran("causes", "powdry", "mildew")
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith("walkabout: No cause is called 'powdry mildew'. Did you mean powdery mildew")
    assert result.stderr.count("\n") == 1


def test_from_the_console() -> None:
    """The same from a pipe, without a screen being loaded."""
    code = (
        "import sys\nfrom walkabout.cli import main\n"
        f"sys.argv = ['walkabout', 'lookup', '--see', '{WHITE}', '--json']\n"
        "try:\n    main()\nexcept SystemExit as end:\n    status = end.code\n"
        "print('STATUS', status, 'SCREEN', {'textual', 'rich'} & set(sys.modules))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=False)
    assert "STATUS 0 SCREEN set()" in done.stdout, done.stderr
