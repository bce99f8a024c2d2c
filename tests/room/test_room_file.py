"""What can be used of a room.toml, and every mistake in it."""

from datetime import date
from pathlib import Path

import pytest

from tests.room.rooms import GOOD, KINDS, read_text, said
from walkabout.room.model import Closure, Lamp, Person, Prices, Pump, Room, Station, Tank
from walkabout.room.read import read_room
from walkabout.room.write import room_text


def line_of(text: str, piece: str, nth: int = 1) -> int:
    """Return the line of the nth line that holds the piece."""
    return [number for number, line in enumerate(text.split("\n"), 1) if piece in line][nth - 1]


def changed(old: str, new: str) -> str:
    assert GOOD.count(old) == 1, old
    return GOOD.replace(old, new)


def test_a_room_without_mistakes(tmp_path: Path) -> None:
    """Everything that is written arrives in the model."""
    found = read_text(GOOD, tmp_path)
    assert said(found, tmp_path) == []
    assert found.room == Room(
        name="Fernhollow",
        minutes=6,
        starts="08:10",
        kit=("pH meter",),
        people={"AR": Person(role="adult"), "k7": Person(role="pupil", until=date(2027, 7, 31))},
        lamps={
            "long": Lamp(kind="tube", watts=58, hours=14, on="06:30", gap_cm=20),
            "sun": Lamp(kind="high-pressure sodium", watts=400, enclosed=True, mark="T"),
        },
        tanks={"tub": Tank(litres=60, change_days=10)},
        pumps={"air": Pump(moves="air", litres_per_hour=120.5, spare=True)},
        stations=(
            Station(
                key="raft-1",
                name="Raft tub",
                kind="raft",
                lamps=("long", "sun"),
                tank="tub",
                pumps=("air",),
                kit=("air stone",),
                places=24,
            ),
            Station(key="pots", name="Window pots", kind="pots"),
        ),
        closures=(
            Closure(first=date(2026, 12, 19), last=date(2027, 1, 3), name="midwinter"),
            Closure(first=date(2027, 2, 15), last=date(2027, 2, 19)),
        ),
        prices=Prices(currency="EUR", per_kwh=0.31),
    )


def test_what_was_read_and_written_again_is_the_same(tmp_path: Path) -> None:
    """The ranges of the reader refuse nothing that the writer writes of a usable room."""
    room = read_text(GOOD, tmp_path).room
    assert room is not None
    assert read_text(room_text(room), tmp_path).room == room


# The change to the good file, the line it stands on (a piece of it), and what is said.
ONE_MISTAKE = {
    "unknown kind": ('kind = "raft"', 'kind = "rft"', 'no checklist is called "rft". Did you mean "raft"?'),
    "far from any kind": (
        'kind = "pots"',
        'kind = "zzzzzzzz"',
        'no checklist is called "zzzzzzzz". It can be: drip, drum, pots, raft, room, vine',
    ),
    "unknown lamp": (
        'lamps = ["long", "sun"]',
        'lamps = ["long", "snu"]',
        'no [lamps.snu] is written down. Did you mean "sun"?',
    ),
    "unknown pump": ('pumps = ["air"]', 'pumps = ["water"]', "no [pumps.water] is written down. It can be: air"),
    "unknown tank": ('tank = "tub"', 'tank = "tup"', 'no [tanks.tup] is written down. Did you mean "tub"?'),
    "unknown kind of lamp": ('kind = "tube"', 'kind = "tubes"', 'kind cannot be "tubes". Did you mean "tube"?'),
    "unknown key": ("gap_cm = 20", "gap = 20", 'there is no "gap" here. Did you mean "gap_cm"?'),
    "a code that is a name": (
        'AR = { role = "adult" }',
        'Anna = { role = "adult" }',
        '"Anna" is not a code. A code is two or three letters or digits, never a name',
    ),
    "a code with dots": (
        'AR = { role = "adult" }',
        '"A.R." = { role = "adult" }',
        '"A.R." is not a code. A code is two or three letters or digits, never a name',
    ),
    "an unknown role": (
        'k7 = { role = "pupil", until = 2027-07-31 }',
        'k7 = { role = "teacher", until = 2027-07-31 }',
        'role cannot be "teacher". It can be: adult, licensed, pupil',
    ),
    "a closure backwards": (
        "to = 2027-02-19",
        "to = 2027-02-14",
        "this closure ends on 2027-02-14 before it begins. Swap from and to",
    ),
    "a round that takes all day": ("minutes = 6", "minutes = 600", "minutes cannot be 600. It can be 1 to 60"),
    "no such time": ('starts = "08:10"', 'starts = "25:10"', '"25:10" is not a time of day. Write it as "08:00"'),
    "a time as it is said": ('starts = "08:10"', 'starts = "8:10"', '"8:10" is not a time of day. Write it as "08:00"'),
    "a time without quotation marks": (
        'starts = "08:10"',
        "starts = 08:10:00",
        "starts must be text between quotation marks, not 08:10:00",
    ),
    "no such time at a lamp": ('on = "06:30"', 'on = "dawn"', '"dawn" is not a time of day. Write it as "06:00"'),
    "more hours than a day has": ("hours = 14", "hours = 25", "hours cannot be 25. It can be 0 to 24"),
    "a tank that holds nothing": ("litres = 60", "litres = -60", "litres cannot be -60. It can be 0.01 to 1000000"),
    "a solution for ever": ("change_days = 10", "change_days = 0", "change_days cannot be 0. It can be 1 to 366"),
    "nobody walks": (
        'days = ["mon", "tue", "wed", "thu", "fri"]',
        "days = []",
        'nobody walks on any day. Write for example ["mon", "tue", "wed", "thu", "fri"]',
    ),
    "no such day": (
        'days = ["mon", "tue", "wed", "thu", "fri"]',
        'days = ["mon", "tues", "wed", "thu", "fri"]',
        'days cannot be "tues". Did you mean "tue"?',
    ),
    "no name": ('name = "Raft tub"', "name = 5", "name must be text between quotation marks, not the number 5"),
    "not a key": (
        'key = "pots"',
        'key = "Window pots"',
        '"Window pots" is not a key. Use small letters, digits and hyphens',
    ),
    "the key of the room": (
        'key = "pots"',
        'key = "room"',
        '"room" stands for the room as a whole. Choose another key',
    ),
    "a key twice": (
        'key = "pots"',
        'key = "raft-1"',
        'the key "raft-1" is taken already. Give each station a key of its own',
    ),
    "money back": ("per_kwh = 0.31", "per_kwh = -0.31", "per_kwh cannot be -0.31. It can be 0 to 1000000"),
}


@pytest.mark.parametrize("name", ONE_MISTAKE)
def test_one_mistake(name: str, tmp_path: Path) -> None:
    """It is said in one line, with its file, its line and what would be right; the room can still be walked."""
    old, new, says = ONE_MISTAKE[name]
    text = changed(old, new)
    found = read_text(text, tmp_path)
    assert said(found, tmp_path) == [f"room.toml:{line_of(text, new, text.count(new))}: {says}"]
    assert found.room is not None
    assert [station.key for station in found.room.stations][:1] == (["pots"] if name == "no name" else ["raft-1"])
    assert found.room.people["k7"].until == date(2027, 7, 31)


def test_what_cannot_be_used_is_left_out(tmp_path: Path) -> None:
    """A lamp, a tank or a pump that is not there is taken from its station; a wrong figure goes back to the usual."""
    text = changed('lamps = ["long", "sun"]', 'lamps = ["lnog", "sun"]')
    for old, new in (
        ('tank = "tub"', 'tank = "tup"'),
        ('pumps = ["air"]', 'pumps = ["airy", "air"]'),
        ("hours = 14", "hours = 99"),
        ('on = "06:30"', 'on = "dawn"'),
        ('starts = "08:10"', 'starts = "soon"'),
        ("minutes = 6", "minutes = 0"),
        ("AR = {", "Anna = {"),
        ("to = 2027-01-03", "to = 2026-01-03"),
    ):
        text = text.replace(old, new)
    found = read_text(text, tmp_path)
    assert len(found.mistakes) == 9
    room = found.room
    assert room is not None
    assert (room.stations[0].lamps, room.stations[0].tank, room.stations[0].pumps) == (("sun",), "", ("air",))
    assert room.lamps["long"] == Lamp(kind="tube", watts=58, gap_cm=20)
    assert (room.starts, room.minutes) == ("08:00", 5)
    assert list(room.people) == ["k7"]
    assert [closure.first for closure in room.closures] == [date(2027, 2, 15)]


def test_every_mistake_at_once_in_the_order_of_the_file(tmp_path: Path) -> None:
    """Mistakes of the shape and of the sense come together, by line."""
    text = GOOD
    for old, new, _ in ONE_MISTAKE.values():
        text = text.replace(old, new)
    found = read_text(text, tmp_path)
    lines = [mistake.line for mistake in found.mistakes]
    assert len(lines) > 15
    assert lines == sorted(lines)


def test_lines_behind_an_entry_that_was_left_out(tmp_path: Path) -> None:
    """A closure and a station behind a broken one are named with their own lines."""
    text = """\
[[station]]
key = "a"
[[station]]
key = "b"
name = "B"
kind = "rft"
[[station]]
key = "b"
name = "C"
kind = "raft"
lamps = [5, "x"]
[[closure]]
from = 2027-01-01
[[closure]]
from = 2027-02-02
to = 2027-02-01
"""
    assert said(read_text(text, tmp_path), tmp_path) == [
        'room.toml:1: "kind" is missing in "a"',
        'room.toml:1: "name" is missing in "a"',
        'room.toml:6: no checklist is called "rft". Did you mean "raft"?',
        'room.toml:8: the key "b" is taken already. Give each station a key of its own',
        "room.toml:11: lamps must be text between quotation marks, not the number 5",
        "room.toml:11: no [lamps.x] is written down",
        'room.toml:12: "to" is missing',
        "room.toml:16: this closure ends on 2027-02-01 before it begins. Swap from and to",
    ]


def test_of_two_stations_with_one_key_the_first_counts(tmp_path: Path) -> None:
    """Answers are kept under the key: it can stand for one station only."""
    text = changed('key = "pots"', 'key = "raft-1"')
    room = read_text(text, tmp_path).room
    assert room is not None
    assert [(station.key, station.name) for station in room.stations] == [("raft-1", "Raft tub")]


def test_a_tank_that_does_not_fit_is_one_mistake(tmp_path: Path) -> None:
    """The stations that name it are not accused as well: it is written down."""
    text = changed("litres = 60", 'litres = "60"')
    found = read_text(text, tmp_path)
    assert [mistake.line for mistake in found.mistakes] == [line_of(text, "litres")]
    assert found.room is not None
    assert found.room.stations[0].tank == ""


def test_a_key_twice_in_toml(tmp_path: Path) -> None:
    """A code or a key that is written twice cannot be read at all: the line is that of the second."""
    text = changed("[lamps.long]\n", 'AR = { role = "pupil" }\n[lamps.long]\n')
    found = read_text(text, tmp_path)
    assert found.room is None
    assert said(found, tmp_path) == [
        f"room.toml:{line_of(text, 'AR =', 2)}: this is not TOML: this key is written down twice"
    ]


def test_an_empty_file(tmp_path: Path) -> None:
    """It is a room without a station: one mistake, and the name of the folder."""
    folder = tmp_path / "fernhollow"
    folder.mkdir()
    for text in ("", "\n\n# nothing yet\n"):
        found = read_text(text, folder)
        assert said(found, folder) == [
            "room.toml:1: the room has no station. Add a [[station]] with key, name and kind"
        ]
        assert found.room == Room(name="fernhollow")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("station = 5\n", "station must be a list between [ and ], not the number 5"),
        (
            '[station]\nkey = "a"\n',
            "station must be a list between [ and ], not a table. Write [[station]] with two brackets",
        ),
    ],
)
def test_stations_that_are_none(text: str, says: str, tmp_path: Path) -> None:
    """One mistake, not a second one that there is no station."""
    assert said(read_text(text, tmp_path), tmp_path) == [f"room.toml:1: {says}"]


def test_no_file_and_a_folder_of_that_name(tmp_path: Path) -> None:
    """Each is one mistake and no room."""
    found = read_room(tmp_path, KINDS)
    assert (found.room, said(found, tmp_path)) == (None, ["room.toml:1: the file is not there"])
    (tmp_path / "room.toml").mkdir()
    found = read_room(tmp_path, KINDS)
    assert found.room is None
    assert [mistake.says[:23] for mistake in found.mistakes] == ["the file cannot be read"]


def test_reading_changes_nothing(tmp_path: Path) -> None:
    """However broken the file, every byte of it stays."""
    for data in (b"\xff\xfe broken", b"[[station]\n", b"minutes = 600\n"):
        (tmp_path / "room.toml").write_bytes(data)
        read_room(tmp_path, KINDS)
        assert (tmp_path / "room.toml").read_bytes() == data
        assert [file.name for file in tmp_path.iterdir()] == ["room.toml"]
