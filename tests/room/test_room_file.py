"""What can be used of a room.toml, and every mistake in it."""

from datetime import date
from pathlib import Path

import pytest

from tests.room.rooms import GOOD, KINDS, read_text, said
from walkabout.room.model import Closure, Lamp, Person, Prices, Pump, Room, Station, Tank, Term
from walkabout.room.read import read_room
from walkabout.room.solution import Acid, Aim, Base, Feed, Meters, OwnRecipe, Water
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


def test_what_the_almanac_needs(tmp_path: Path) -> None:
    """Minutes for a day's work, the day and the hours of a lamp, and terms arrive; so they do after writing."""
    text = changed("minutes = 6", "minutes = 6\nwork_minutes = 45").replace(
        "watts = 58", "watts = 58\nsince = 2025-09-01\nrated_hours = 20000"
    )
    text += '\n[[term]]\nfrom = 2026-09-01\nto = 2026-12-18\nname = "autumn"\n'
    text += "\n[[term]]\nfrom = 2027-01-04\nto = 2027-04-01\n"
    found = read_text(text, tmp_path)
    assert said(found, tmp_path) == []
    assert found.room is not None
    assert found.room.work_minutes == 45
    assert (found.room.lamps["long"].since, found.room.lamps["long"].rated_hours) == (date(2025, 9, 1), 20_000)
    assert found.room.terms == (
        Term(first=date(2026, 9, 1), last=date(2026, 12, 18), name="autumn"),
        Term(first=date(2027, 1, 4), last=date(2027, 4, 1)),
    )
    assert read_text(room_text(found.room), tmp_path).room == found.room


# What is added to the good file, the line it stands on, and what is said.
ALMANAC_MISTAKES = {
    "a term that ends before it begins": (
        "[[term]]\nfrom = 2027-04-01\nto = 2027-01-04\n",
        "to = 2027-01-04",
        "this term ends on 2027-01-04 before it begins. Swap from and to",
    ),
    "a term without an end": (
        "[[term]]\nfrom = 2027-04-01\n",
        "[[term]]",
        '"to" is missing',
    ),
    "a lamp of a day that is none": (
        '[lamps.new]\nsince = "2026-13-01"\n',
        "since =",
        'since must be a day such as 2027-02-15, not the text "2026-13-01"',
    ),
    "a lamp that lasts for no time": (
        "[lamps.new]\nrated_hours = 20\n",
        "rated_hours",
        "rated_hours cannot be 20. It can be 100 to 200000",
    ),
    "a lamp for ever": (
        "[lamps.new]\nrated_hours = 1000000\n",
        "rated_hours",
        "rated_hours cannot be 1000000. It can be 100 to 200000",
    ),
}


@pytest.mark.parametrize("name", ALMANAC_MISTAKES)
def test_one_mistake_in_what_the_almanac_needs(name: str, tmp_path: Path) -> None:
    """It is said with its line, and the rest of the room is used."""
    added, piece, says = ALMANAC_MISTAKES[name]
    text = f"{GOOD}\n{added}"
    found = read_text(text, tmp_path)
    assert said(found, tmp_path) == [f"room.toml:{line_of(text, piece)}: {says}"]
    assert found.room is not None
    assert found.room.terms == ()
    assert len(found.room.stations) == 2


@pytest.mark.parametrize(("minutes", "right"), [(0, False), (1, True), (600, True), (601, False), ('"30"', False)])
def test_minutes_for_a_days_work(minutes: object, *, right: bool, tmp_path: Path) -> None:
    """From one minute to ten hours; else the usual half hour counts, and it is said."""
    found = read_text(changed("minutes = 6", f"minutes = 6\nwork_minutes = {minutes}"), tmp_path)
    assert (found.mistakes == ()) is right
    assert found.room is not None
    assert found.room.work_minutes == (minutes if right else 30)


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


SOLUTION = """
[water]
ec = 0.42
ph = 7.4
alkalinity = 180
sodium = 12

[meters]
ec = "ppm 640"
compensates = false

[feed]
rise = 0.18
parts = 3
recipe = "ours"

[acid]
kind = "phosphoric"
strength = 0.5

[base]
strength = 1

[lamps.panel]
width_cm = 60
length_cm = 120
efficacy = 2.4
red_blue = true

[aims.lettuce]
ph = [5.6, 6]
ec = [1.2, 1.6]
source = "last year's trial"

[aims."sweet basil"]
ec = [1.6, 1.6]

[[recipe]]
name = "Ours"
mg = { N = 150, K = 210.5 }
"""


def test_what_the_solution_is_made_of(tmp_path: Path) -> None:
    """Water, meters, feed, bottles, aims and recipes arrive in the model; none of them has to be there."""
    found = read_text("altitude_m = 430\n" + GOOD + SOLUTION, tmp_path)
    assert said(found, tmp_path) == []
    room = found.room
    assert room is not None
    assert room.altitude_m == 430
    assert room.water == Water(ec=0.42, ph=7.4, alkalinity=180, sodium=12)
    assert room.meters == Meters(ec="ppm 640", compensates=False)
    assert room.feed == Feed(rise=0.18, parts=3, recipe="ours")
    assert (room.acid, room.base) == (Acid(kind="phosphoric", strength=0.5), Base(strength=1))
    assert room.lamps["panel"] == Lamp(width_cm=60, length_cm=120, efficacy=2.4, red_blue=True)
    assert room.aims == {
        "lettuce": Aim(ph=(5.6, 6), ec=(1.2, 1.6), source="last year's trial"),
        "sweet basil": Aim(ec=(1.6, 1.6)),
    }
    assert room.recipes == (OwnRecipe(name="Ours", mg={"N": 150, "K": 210.5}),)
    bare = read_text(GOOD, tmp_path).room
    assert bare is not None
    assert (bare.water, bare.meters, bare.feed, bare.acid, bare.aims) == (Water(), Meters(), Feed(), None, {})


# The change to the solution, and what is said of the changed line.
SOLUTION_MISTAKE = {
    "strong water": ("ec = 0.42", "ec = 9", "ec cannot be 9. It can be 0 to 5"),
    "water no pen reads": ("ph = 7.4", "ph = 3", "ph cannot be 3. It can be 4 to 10"),
    "less than no lime": ("alkalinity = 180", "alkalinity = -1", "alkalinity cannot be -1. It can be 0 to 1000"),
    "a word in the water": ("sodium = 12", "sodum = 12", 'there is no "sodum" here. Did you mean "sodium"?'),
    "another scale": ('ec = "ppm 640"', 'ec = "ppm 650"', 'ec cannot be "ppm 650". Did you mean "ppm 640"?'),
    "a word for no": (
        "compensates = false", 'compensates = "no"', 'compensates must be true or false, not the text "no"',
    ),
    "a feed that does nothing": ("rise = 0.18", "rise = 0", "rise cannot be 0. It can be 0.01 to 10"),
    "four parts": ("parts = 3", "parts = 4", "parts cannot be 4. It can be 1 to 3"),
    "half a part": ("parts = 3", "parts = 1.5", "parts must be a whole number, not the number 1.5"),
    "no such acid": (
        'kind = "phosphoric"', 'kind = "phosforic"', 'kind cannot be "phosforic". Did you mean "phosphoric"?',
    ),
    "an acid of nothing": ("strength = 0.5", "strength = 0", "strength cannot be 0. It can be 0.001 to 20"),
    "a base stronger than any": ("strength = 1\n", "strength = 21\n", "strength cannot be 21. It can be 0.001 to 20"),
    "a lamp without width": ("width_cm = 60", "width_cm = 0", "width_cm cannot be 0. It can be 0.1 to 1000"),
    "a lamp as long as a street": (
        "length_cm = 120", "length_cm = 12000", "length_cm cannot be 12000. It can be 0.1 to 1000",
    ),
    "a lamp beyond physics": ("efficacy = 2.4", "efficacy = 7", "efficacy cannot be 7. It can be 0.01 to 6"),
    "a colour for yes": ("red_blue = true", 'red_blue = "red"', 'red_blue must be true or false, not the text "red"'),
    "an aim backwards": ("ph = [5.6, 6]", "ph = [6, 5.6]", "ph cannot go from 6 to 5.6. The lower end comes first"),
    "an aim with one end": ("ec = [1.2, 1.6]", "ec = [1.2]", "ec must have 2 values, not 1"),
    "an aim that is a number": (
        "ec = [1.2, 1.6]", "ec = 1.4", "ec must be a list between [ and ], not the number 1.4",
    ),
    "an aim below nothing": (
        "ec = [1.6, 1.6]", "ec = [-1, 1.6]", "ec cannot go from -1 to 1.6. It can be 0 to 20",
    ),
    "an element as text": ("N = 150", 'N = "x"', 'N must be a number, not the text "x"'),
}  # fmt: skip


@pytest.mark.parametrize("name", SOLUTION_MISTAKE)
def test_one_mistake_in_the_solution(name: str, tmp_path: Path) -> None:
    """It is said in one line with its number; everything else of the room and of the solution can be used."""
    old, new, says = SOLUTION_MISTAKE[name]
    assert SOLUTION.count(old) == 1, old
    text = GOOD + SOLUTION.replace(old, new)
    found = read_text(text, tmp_path)
    assert said(found, tmp_path) == [f"room.toml:{line_of(text, new.strip())}: {says}"]
    room = found.room
    assert room is not None
    assert len(room.stations) == 2
    assert room.water.note == ""
    assert set(room.aims) == {"lettuce", "sweet basil"}
    assert "K" in room.recipes[0].mg


def test_of_an_aim_backwards_the_other_half_counts(tmp_path: Path) -> None:
    """The pH that cannot be is left out, the EC beside it stays; an acid without a strength is no acid."""
    text = GOOD + SOLUTION.replace("ph = [5.6, 6]", "ph = [6, 5.6]").replace("strength = 0.5\n", "")
    found = read_text(text, tmp_path)
    assert [one.line for one in found.mistakes] == [line_of(text, "[acid]"), line_of(text, "ph = [6")]
    assert found.room is not None
    assert found.room.aims["lettuce"] == Aim(ec=(1.2, 1.6), source="last year's trial")
    assert found.room.acid is None
    assert found.room.base == Base(strength=1)


@pytest.mark.parametrize(("height", "right"), [(-431, False), (-430, True), (5000, True), (5001, False)])
def test_how_high_a_room_can_stand(height: int, right: bool, tmp_path: Path) -> None:
    """From the shore of the Dead Sea to the highest towns."""
    found = read_text(f"altitude_m = {height}\n{GOOD}", tmp_path)
    assert [one.line for one in found.mistakes] == ([] if right else [1])
    assert found.room is not None
    assert found.room.altitude_m == (height if right else 0)


@pytest.mark.parametrize("wrong", ["N = -150", "Zz = 150"])
def test_a_recipe_that_cannot_be(wrong: str, tmp_path: Path) -> None:
    """It is a mistake with its line."""
    text = GOOD + SOLUTION.replace("N = 150", wrong)
    assert [one.line for one in read_text(text, tmp_path).mistakes] == [line_of(text, wrong)]


def test_an_aim_beyond_any_solution_says_so(tmp_path: Path) -> None:
    """1 to 25 mS/cm has its lower end first: the hint names the most there can be."""
    found = read_text(GOOD + SOLUTION.replace("ec = [1.2, 1.6]", "ec = [1, 25]"), tmp_path)
    assert [one for one in said(found, tmp_path) if "lower end" not in one] != []


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
