"""The commands: what they say, what they leave on disk, and with which status they end."""

import json
import os
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from walkabout import __version__
from walkabout.cli import cli
from walkabout.records.model import Job
from walkabout.room.read import RoomFile

ROOM = """
name = "Small room"
[people.AR]
role = "adult"
[people.K7]
[tanks.tub]
litres = 60
[[station]]
key = "tub"
name = "Raft tub"
kind = "raft"
tank = "tub"
"""
BROKEN = ROOM.replace("litres = 60", "litres = 60\nliters = 60").replace('kind = "raft"', 'kind = "rafft"')


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    room = tmp_path / "a room"
    room.mkdir()
    (room / "room.toml").write_text(ROOM, encoding="utf-8")
    return room


def ran(*args: str | Path, typed: str = "") -> Result:
    return CliRunner().invoke(cli, [str(arg) for arg in args], input=typed)


def shell(*args: str, **variables: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, *args],
        env={**os.environ, **variables},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def test_help_names_every_command_and_loads_nothing_heavy() -> None:
    """--help ends with 0, names all commands, and imports neither the screen nor the records."""
    code = (
        "import sys\nfrom walkabout.cli import main\nsys.argv = ['walkabout', '--help']\n"
        "try:\n    main()\nexcept SystemExit as end:\n    status = end.code\n"
        "heavy = {'textual', 'rich', 'tinydb', 'msgspec', 'filelock', 'platformdirs', 'asyncio'} & set(sys.modules)\n"
        "print('STATUS', status, 'HEAVY', sorted(heavy))\n"
    )
    said = shell("-c", code).stdout

    assert "STATUS 0 HEAVY []" in said
    for name in ("check", "demo", "jobs", "new", "purge", "round", "today"):
        assert f"\n  {name} " in said


def test_version() -> None:
    """--version names the program and its version."""
    assert ran("--version").output == f"walkabout {__version__}\n"


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (("rond",), 'There is no command "rond". Did you mean "round"?'),
        (("zzzzzz",), "There are: "),
        (("round", "--plan"), "--plain"),
        (("new",), "Missing argument 'DIR'."),
        (("jobs", "twice"), "unexpected extra argument"),
    ],
)
def test_wrong_use_is_one_line_with_the_nearest_right_word(args: tuple[str, ...], says: str) -> None:
    """A usage error is one line on stderr and status 2."""
    result = ran(*args)

    assert result.exit_code == 2
    assert says in result.stderr
    assert result.stderr.count("\n") == 1
    assert result.stdout == ""


@pytest.mark.parametrize("command", [(), ("round",), ("today",), ("jobs",), ("purge", "K7"), ("--plain", "round")])
def test_no_room(command: tuple[str, ...], tmp_path: Path) -> None:
    """Without a room every command says so in one line with what to do, and makes no folder."""
    result = ran("--room", tmp_path / "none", *command)

    assert result.exit_code == 2
    assert result.stderr == (
        f"walkabout: There is no room in {tmp_path / 'none'}. To set one up: walkabout new {tmp_path / 'none'}\n"
    )
    assert not (tmp_path / "none").exists()


def test_no_room_anywhere() -> None:
    """Without a room and without a terminal nothing is asked: one line and status 2."""
    result = ran()

    assert result.exit_code == 2
    assert "There is no room in " in result.stderr
    assert result.stdout == ""


@pytest.mark.parametrize("command", [(), ("round",), ("demo",)])
def test_no_full_screen_without_a_terminal(command: tuple[str, ...], folder: Path) -> None:
    """The full screen refuses at once where it cannot be drawn, and names --plain."""
    result = ran("--room", folder, *command)

    assert result.exit_code == 2
    assert result.stderr == ("walkabout: The full screen needs a terminal. Add --plain to walk the round in lines.\n")


def test_no_full_screen_in_a_real_pipe(folder: Path) -> None:
    """The same from the console, with the input at its end: it neither hangs nor loads the screen."""
    result = shell("-m", "walkabout", "--room", str(folder))

    assert (result.returncode, result.stdout) == (2, "")
    assert "Add --plain" in result.stderr


@pytest.mark.parametrize("args", [("--plain", "round"), ("round", "--plain")])
def test_plain_stands_anywhere(args: tuple[str, ...], folder: Path) -> None:
    """--plain and --room are taken before and after the command."""
    result = ran(*args, "--room", folder, "--as", "k7", typed="p\n")

    assert result.exit_code == 0
    assert result.stdout.startswith("Plain mode")
    assert f"To go on: walkabout --room '{folder}' round --plain --as K7" in result.stdout


def test_plain_from_the_environment(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """WALKABOUT_PLAIN and WALKABOUT_ROOM do what the options do; 0 means no."""
    monkeypatch.setenv("WALKABOUT_ROOM", str(folder))
    monkeypatch.setenv("WALKABOUT_PLAIN", "1")
    plain = ran("round", typed="1\n")
    monkeypatch.setenv("WALKABOUT_PLAIN", "0")

    assert plain.exit_code == 0
    assert "Who walks?" in plain.stdout
    assert ran("round").exit_code == 2


def test_the_room_in_lines(folder: Path) -> None:
    """Without a command, plain mode says what Today says and asks whether to walk."""
    result = ran("--room", folder, "--plain", typed="y\nK7\np\n")

    assert result.exit_code == 0
    assert result.stdout.index("Jobs due: none.") < result.stdout.index("Plain mode")


def test_nobody_has_this_code(folder: Path) -> None:
    """An unknown code is wrong use, with the codes there are."""
    result = ran("--room", folder, "round", "--plain", "--as", "K77")

    assert result.exit_code == 2
    assert 'Nobody here has the code "K77". Did you mean "K7"?' in result.stderr
    assert not (folder / "records").exists()


def test_new_then_check_then_today(tmp_path: Path) -> None:
    """A room set up from typed lines has no mistakes and can be opened."""
    room = tmp_path / "new room"
    made = ran("new", room, "--name", "Ours", "--days", "mon tue", typed="\n\n\n\n1\n\n0\n\n\n\n\n\n")
    checked = ran("check", room)
    seen = ran("today", "--room", room)

    assert made.exit_code == 0, made.output
    assert f"walkabout check '{room}'" in made.stdout
    assert (checked.exit_code, checked.stdout) == (0, "no mistakes\n")
    assert seen.stdout.startswith("Ours, ")


def test_new_refuses_a_wrong_flag(tmp_path: Path) -> None:
    """A flag that cannot be is wrong use; nothing is asked or written."""
    for flag in (("--days", "someday"), ("--starts", "noon"), ("--minutes", "0"), ("--units", "cubits")):
        result = ran("new", tmp_path / "new", *flag)
        assert (result.exit_code, result.stdout) == (2, "")
        assert result.stderr.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_check_names_every_mistake(folder: Path) -> None:
    """All mistakes at once, each with file and line, and status 2; --json holds the same."""
    file = folder / "room.toml"
    file.write_text(BROKEN, encoding="utf-8")
    (folder / "checklists").mkdir()
    (folder / "checklists" / "raft.toml").write_text('kind = "raft"\ntitle = 3\n', encoding="utf-8")
    result = ran("check", folder)
    same = ran("check", "--room", folder, "--json")

    assert result.exit_code == same.exit_code == 2
    assert result.stdout.splitlines() == [
        f'{file}:8: there is no "liters" here. Did you mean "litres"?',
        f'{file}:12: no checklist is called "rafft". Did you mean "raft"?',
        f"{folder / 'checklists' / 'raft.toml'}:2: title must be text between quotation marks, not the number 3",
    ]
    rows = json.loads(same.stdout)["mistakes"]
    assert [f"{one['file']}:{one['line']}: {one['says']}" for one in rows] == [
        line.partition(". Did")[0] for line in result.stdout.splitlines()
    ]


def test_check_of_no_folder(tmp_path: Path) -> None:
    """A folder that is not there, and one without a room, are both said."""
    (tmp_path / "empty").mkdir()

    assert ran("check", tmp_path / "none").exit_code == 2
    assert ran("check", tmp_path / "empty").stdout == f"{tmp_path / 'empty' / 'room.toml'}:1: the file is not there\n"


def test_a_room_beyond_use(folder: Path) -> None:
    """A room of which nothing can be read is named with file and line, and not touched."""
    (folder / "room.toml").write_text("name = Small\x1b[2J\n", encoding="utf-8")
    result = ran("today", "--room", folder)

    assert result.exit_code == 2
    assert f"{folder / 'room.toml'}:1: this is not TOML" in result.stderr
    assert "\x1b" not in result.stderr


def test_today_in_json_says_the_same(folder: Path) -> None:
    """Today --json holds what the lines say."""
    lines = ran("today", "--room", folder).stdout
    state = json.loads(ran("today", "--room", folder, "--json").stdout)

    assert state["walked"] is False
    assert state["headline"] in lines.splitlines()
    assert state["detail"] in lines.splitlines()
    assert lines.startswith(f"{state['room']}, ")
    assert (state["jobs"], state["findings"], state["mistakes"]) == ([], [], 0)
    assert "Jobs due: none.\nFindings open: none.\n" in lines


def test_jobs_by_hours_to_loss(folder: Path) -> None:
    """Jobs lists what is open, what is lost first at the top, in lines and in JSON alike."""
    _write_jobs(folder)
    lines = ran("jobs", "--room", folder).stdout.splitlines()
    rows = json.loads(ran("jobs", "--room", folder, "--json").stdout)["jobs"]

    assert lines[0] == "Open jobs: 2, by hours to loss."
    assert lines[1].startswith("1. Raft tub: Start the \\x1b[31mpump. For: an adult. Loss in 6 hours.")
    assert lines[2].startswith("2. Raft tub: Wipe the rim. For: a pupil may do it. No hurry.")
    assert [one["key"] for one in rows] == ["j2", "j1"]
    assert [one["name"] for one in rows] == ["Raft tub", "Raft tub"]


def _write_jobs(folder: Path) -> None:
    from walkabout.round.opened import OpenRoom

    opened = OpenRoom(folder)
    now = opened.clock()
    for key, what, who, hours in (
        ("j1", "Wipe the rim", "pupil", None),
        ("j2", "Start the \x1b[31mpump", "adult", 6.0),
    ):
        job = Job(key=key, what=what, station="tub", who=who, due=now.date(), made=now, by="AR", hours=hours)
        assert opened.save(job) == ""
    opened.close()


def test_purge_asks_for_the_code_again(folder: Path) -> None:
    """Purge needs the code typed twice, or --yes."""
    _write_jobs(folder)

    assert ran("purge", "AR", "--room", folder, typed="AX\n").exit_code == 1
    result = ran("purge", "AR", "--room", folder, "--yes")
    assert result.exit_code == 0
    assert "AR was taken out of 2 records." in result.stdout


def test_the_demo_in_lines(monkeypatch: pytest.MonkeyPatch, folder: Path, alone: Path) -> None:
    """Demo makes the invented room in the program's own data and opens it; a paused round names its folder."""
    asked = []

    def fresh(place: Path, today: object) -> Path:
        asked.append((place, type(today).__name__))
        return folder

    monkeypatch.setattr("walkabout.demo.make.fresh", fresh)
    result = ran("demo", "--plain", typed="n\n")

    assert result.exit_code == 0
    assert result.stdout.startswith("Small room, ")
    assert asked == [(alone / "data" / "demo", "date")]


def test_the_full_screen_is_handed_what_was_asked_for(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a terminal the screen opens where it should, and an empty NO_COLOR counts as not set.

    Where room.toml was read to know the walker, what was read is handed on, not read a second time.
    """
    opened = []

    def run(place: Path, start: str = "today", walker: str = "", found: RoomFile | None = None) -> int:
        opened.append((place, start, walker, "NO_COLOR" in os.environ, found and found.room and found.room.name))
        return 0

    monkeypatch.setattr("walkabout.commands.opening.must_have_terminal", lambda options: None)
    monkeypatch.setattr("walkabout.screens.app.run", run)
    monkeypatch.setenv("NO_COLOR", "")
    ran("--room", folder)
    ran("--room", folder, "round", "--as", "ar")

    assert opened == [(folder, "today", "", False, None), (folder, "round", "AR", False, "Small room")]


def test_an_error_nobody_thought_of(folder: Path, alone: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is one line on the screen with the file in which the traceback was written, and status 1."""
    import_module("walkabout.plain.today")  # loaded now, it does not keep the broken one beyond this test

    def broken(*_: object) -> None:
        raise RuntimeError("secret detail")

    monkeypatch.setattr("walkabout.round.today.today_page", broken)
    result = ran("today", "--room", folder)
    log = alone / "data" / "errors.log"

    assert result.exit_code == 1
    assert result.stderr.count("\n") == 1
    assert str(log) in result.stderr
    assert "Traceback" not in result.output
    assert "RuntimeError: secret detail" in log.read_text(encoding="utf-8")


def test_a_terminal_that_cannot_write_every_letter(folder: Path) -> None:
    """In a terminal without Unicode, and with input that is no text, lines are still written and read."""
    done = subprocess.run(
        [sys.executable, "-m", "walkabout", "--room", str(folder), "round", "--plain", "--as", "K7"],
        env={**os.environ, "PYTHONIOENCODING": "ascii", "TERM": "dumb"},
        input=b"\xff\xfe\n\xc3\xa4\np\n",
        capture_output=True,
        timeout=60,
        check=False,
    )

    assert done.returncode == 0, done.stderr
    assert b"The round is paused." in done.stdout
    assert done.stdout.isascii()


# reckonings


def test_what_can_be_worked_out_is_listed_by_subject() -> None:
    """Alone it lists all by subject; with a name, what that one takes."""
    listed = ran("reckon").output
    places = [listed.index(f"\n{subject}\n") for subject in ("Light", "Air", "Solution", "Water", "Growth")]
    assert places == sorted(places)
    takes = ran("reckon", "vpd").output
    assert "relative humidity, %" in takes
    assert "Example: walkabout reckon vpd air=24 rh=60" in takes


def test_a_reckoning_says_results_working_and_source() -> None:
    """For people: the numbers, what they mean, each step, where it comes from."""
    said = ran("reckon", "vpd", "air=75F", "rh=60").output
    assert "1.19 kPa" in said
    assert "The working" in said
    assert "Source: FAO Irrigation and Drainage Paper 56" in said


def test_a_reckoning_for_programs() -> None:
    """name, inputs, results with value and unit, working, source, cautions."""
    found = json.loads(ran("reckon", "dilute", "volume=60", "ec=2.4", "to=1.8", "water_ec=0.3", "--json").output)
    assert list(found) == ["name", "inputs", "results", "working", "source", "cautions"]
    assert found["name"] == "dilute"
    assert found["inputs"]["volume"] == {"value": 60.0, "unit": "L"}
    chief = next(iter(found["results"].values()))
    assert chief["unit"] == "L"
    # V (E - E*) ÷ (E* - Ew) = 60 × 0.6 ÷ 1.5, a mass balance
    assert chief["value"] == pytest.approx(24.0)
    assert all(isinstance(line, str) for key in ("working", "cautions") for line in found[key])
    assert found["source"]


@pytest.mark.parametrize(
    "words",
    [
        ["vpd", "air=24", "rh=140"],
        ["vpd", "air=24"],
        ["vpd", "air=20L", "rh=60"],
        ["mix", "volume=60", "unobtainium=3"],
        ["mix", "volume=-60", "KNO3=3"],
        ["acid", "volume=60", "ph=15", "to=6", "alkalinity=100", "acid=nitric", "strength=1"],
        ["ppfd", "lux=1000", "lamp=red-blue"],
        ["no-such-thing", "a=1"],
        ["vpd", "air", "rh=60"],
        ["dilute", "volume=60", "ec=1.2", "to=0.3", "water_ec=0.4"],
    ],
)
def test_bad_input_ends_with_one_line_and_2(words: list[str]) -> None:
    """An unknown salt, 140 % humidity, pH 15, a unit of another kind: one clear line, exit status 2."""
    ended = ran("reckon", *words)
    assert ended.exit_code == 2
    assert "Traceback" not in ended.output
    assert len([line for line in ended.output.splitlines() if line.strip()]) == 1


def test_the_rooms_own_recipes_are_known(folder: Path) -> None:
    """A recipe of room.toml is worked out by its name; without the room nobody knows it."""
    file = folder / "room.toml"
    own = '\n[[recipe]]\nname = "our greens"\nmg = { N = 120, P = 25, K = 170, Ca = 80, Mg = 20 }\n'
    file.write_text(file.read_text(encoding="utf-8") + own, encoding="utf-8")
    words = ("reckon", "recipe", "volume=60", "name=our greens", "--json")
    found = json.loads(ran(*words, "--room", folder).output)
    assert found["results"]["gives_n"]["value"] == pytest.approx(120, rel=0.01)
    assert ran(*words).exit_code == 2
