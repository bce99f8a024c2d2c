"""Writing room.toml: what is read back is what was written, whatever people call things."""

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.room.model import (
    WEEKDAYS,
    WHO,
    WHOLE_ROOM,
    Closure,
    Lamp,
    Person,
    Prices,
    Pump,
    Room,
    Station,
    Tank,
    Term,
)
from walkabout.room.read import RANGES, read_room
from walkabout.room.solution import CONTENTS, Acid, Aim, Base, Feed, Meters, OwnRecipe, Water
from walkabout.room.write import is_code, key_for, room_text, write_new_room

KINDS = ("raft", "pots")

HOSTILE = st.sampled_from(
    [
        'a "quoted" name',
        "back\\slash \\",
        "two\nlines\r\nand\ttab",
        "]\n[people.XX]",
        "'''",
        '"""',
        "# no remark",
        "\x00\x1b[31m\x7f\x85\u2028\ufeff",
        "naïve 🌱 漢字 \U0010ffff",
        "",
    ]
)
TEXT = HOSTILE | st.text(max_size=20)
KEY = st.text("abcdefghijklmnopqrstuvwxyz0123456789-", min_size=1, max_size=12).filter(
    lambda key: key[0] != "-" and key != WHOLE_ROOM
)
NAME = TEXT.filter(bool)
POSITIVE = st.floats(0.01, 1e6)
DAY = st.dates(date(1970, 1, 1), date(2199, 12, 31))
TIME = st.times().map(lambda time: f"{time:%H:%M}")

LAMP = st.builds(
    Lamp,
    kind=st.sampled_from(["led", "tube", "high-pressure sodium", "window"]),
    watts=st.floats(0, 1e5),
    hours=st.floats(0, 24),
    on=TIME,
    gap_cm=st.none() | st.floats(0, 1000),
    width_cm=st.none() | st.floats(0.1, 1000),
    length_cm=st.none() | st.floats(0.1, 1000),
    efficacy=st.none() | st.floats(0.01, 6),
    since=st.none() | DAY,
    rated_hours=st.none() | st.floats(100, 200_000),
    red_blue=st.booleans(),
    enclosed=st.none() | st.booleans(),
    mark=TEXT,
    note=TEXT,
)
TANK = st.builds(Tank, litres=POSITIVE, change_days=st.integers(1, 366), note=TEXT)
PUMP = st.builds(
    Pump, moves=st.sampled_from(["water", "air"]), litres_per_hour=st.none() | POSITIVE, spare=st.booleans(), note=TEXT
)
PERSON = st.builds(Person, role=st.sampled_from(WHO), until=st.none() | DAY)
PRICES = st.builds(Prices, currency=TEXT, per_kwh=st.none() | POSITIVE, per_cubic_metre=st.none() | POSITIVE)
CLOSURE = st.tuples(DAY, DAY, TEXT).map(lambda parts: Closure(first=min(parts[:2]), last=max(parts[:2]), name=parts[2]))
TERM = CLOSURE.map(lambda one: Term(first=one.first, last=one.last, name=one.name))
WATER = st.builds(Water, note=TEXT, **{name: st.none() | st.floats(*ends) for name, ends in RANGES[Water].items()})
METERS = st.builds(
    Meters,
    ec=st.sampled_from(["mS/cm", "µS/cm", "CF", "ppm 500", "ppm 640", "ppm 700"]),
    compensates=st.booleans(),
)
FEED = st.builds(Feed, rise=st.none() | st.floats(0.01, 10), parts=st.integers(1, 3), recipe=TEXT, note=TEXT)
ACID = st.builds(
    Acid, kind=st.sampled_from(["nitric", "phosphoric", "sulfuric", "citric"]), strength=st.floats(0.001, 20)
)
BASE = st.builds(
    Base, kind=st.sampled_from(["potassium hydroxide", "potassium carbonate"]), strength=st.floats(0.001, 20)
)


def ends(most: float) -> st.SearchStrategy[tuple[float, float] | None]:
    """Draw a range, its lower end first, or none."""
    end = st.floats(0, most)
    return st.none() | st.tuples(end, end).map(lambda pair: (min(pair), max(pair)))


AIM = st.builds(Aim, ph=ends(14), ec=ends(20), source=TEXT)
RECIPE = st.builds(
    OwnRecipe,
    name=TEXT,
    mg=st.dictionaries(st.sampled_from(CONTENTS), st.floats(0, 1000), max_size=3),
    source=TEXT,
)


@st.composite
def rooms(draw: st.DrawFn) -> Room:
    """Draw a room without mistakes, with names as odd as people make them."""
    lamps = draw(st.dictionaries(NAME, LAMP, max_size=3))
    tanks = draw(st.dictionaries(NAME, TANK, max_size=2))
    pumps = draw(st.dictionaries(KEY, PUMP, max_size=2))
    station = st.builds(
        Station,
        key=KEY,
        name=TEXT,
        kind=st.sampled_from(KINDS),
        lamps=st.lists(st.sampled_from(sorted(lamps)), max_size=2).map(tuple) if lamps else st.just(()),
        tank=st.sampled_from(["", *sorted(tanks)]),
        pumps=st.lists(st.sampled_from(sorted(pumps)), max_size=2).map(tuple) if pumps else st.just(()),
        kit=st.lists(TEXT, max_size=2).map(tuple),
        places=st.none() | st.integers(0, 1000),
        note=TEXT,
    )
    codes = st.text("ABCxyz019", min_size=2, max_size=3)
    return Room(
        name=draw(NAME),
        units=draw(st.sampled_from(["metric", "US"])),
        minutes=draw(st.floats(1, 60)),
        work_minutes=draw(st.floats(1, 600)),
        days=tuple(draw(st.lists(st.sampled_from(WEEKDAYS), min_size=1, max_size=7))),
        starts=draw(TIME),
        kit=tuple(draw(st.lists(TEXT, max_size=2))),
        people=draw(st.dictionaries(codes, PERSON, max_size=3)),
        lamps=lamps,
        tanks=tanks,
        pumps=pumps,
        stations=tuple(draw(st.lists(station, min_size=1, max_size=3, unique_by=lambda one: one.key))),
        closures=tuple(draw(st.lists(CLOSURE, max_size=2))),
        terms=tuple(draw(st.lists(TERM, max_size=2))),
        prices=draw(PRICES),
        altitude_m=draw(st.floats(-430, 5000)),
        water=draw(WATER),
        meters=draw(METERS),
        feed=draw(FEED),
        acid=draw(st.none() | ACID),
        base=draw(st.none() | BASE),
        aims=draw(st.dictionaries(NAME, AIM, max_size=2)),
        recipes=tuple(draw(st.lists(RECIPE, max_size=2))),
    )


@settings(max_examples=60, deadline=None)
@given(room=rooms())
def test_what_is_written_is_read_back(room: Room, tmp_path_factory: pytest.TempPathFactory) -> None:
    """Any room without mistakes comes back as it was, and no mistake is found in the file."""
    folder = tmp_path_factory.mktemp("room") / "new"
    write_new_room(folder, room)

    found = read_room(folder, KINDS)

    assert found.mistakes == ()
    assert found.room == room


def test_a_person_can_read_it() -> None:
    """Entries stand apart by one blank line, each part under a remark, and what is as usual is left out."""
    room = Room(
        name="Room",
        people={"K7": Person()},
        tanks={"tub": Tank(litres=60)},
        stations=(Station(key="tub", name="Raft tub", kind="raft", tank="tub"),),
        closures=(Closure(first=date(2026, 12, 19), last=date(2027, 1, 3), name="winter"),),
        terms=(Term(first=date(2026, 9, 1), last=date(2026, 12, 18)),),
        lamps={"bar": Lamp(since=date(2025, 9, 1), rated_hours=50_000)},
    )

    text = room_text(room)

    assert '[people.K7]\nrole = "pupil"\n\n# Lamps' in text
    assert "since = 2025-09-01\nrated_hours = 50000\n\n# Tanks" in text
    assert "minutes = 5\nwork_minutes = 30\n" in text
    assert "[[term]]\nfrom = 2026-09-01\nto = 2026-12-18\n" in text
    assert "[tanks.tub]\nlitres = 60\nchange_days = 14\n\n# The stations" in text
    assert '[[station]]\nkey = "tub"\nname = "Raft tub"\nkind = "raft"\ntank = "tub"\n\n# Days' in text
    assert '[[closure]]\nfrom = 2026-12-19\nto = 2027-01-03\nname = "winter"\n' in text
    assert "\n\n\n" not in text
    assert "prices" not in text


def test_a_person_can_read_what_the_solution_is_made_of() -> None:
    """Each part stands under a remark that says its units; what was not written down is left out."""
    room = Room(
        name="Room",
        altitude_m=320,
        water=Water(ec=0.4, alkalinity=120),
        meters=Meters(ec="ppm 500"),
        acid=Acid(kind="nitric", strength=1),
        base=Base(strength=0.5),
        aims={"leaf lettuce": Aim(ph=(5.6, 6.2), source="last year's trial")},
        recipes=(OwnRecipe(name="Ours", mg={"N": 150, "K": 200}),),
    )

    text = room_text(room)

    assert "altitude_m = 320\n" in text
    assert "mg/L of CaCO3" in text
    assert "[water]\nec = 0.4\nalkalinity = 120\n\n# What the EC meter shows" in text
    assert '[meters]\nec = "ppm 500"\n\n# What an adult lowers the pH with; strength in mol/L.' in text
    assert '[acid]\nkind = "nitric"\nstrength = 1\n' in text
    assert "[base]\nstrength = 0.5\n" in text
    assert '[aims."leaf lettuce"]\nph = [5.6, 6.2]\nsource = "last year\'s trial"\n' in text
    assert '[[recipe]]\nname = "Ours"\nmg = { N = 150, K = 200 }\n' in text
    assert "[feed]" not in text


def test_a_room_that_is_there_is_never_overwritten(tmp_path: Path) -> None:
    """A second writing fails and leaves the file as it was."""
    (tmp_path / "room.toml").write_text("broken [", encoding="utf-8")

    with pytest.raises(FileExistsError):
        write_new_room(tmp_path, Room(name="Room"))

    assert (tmp_path / "room.toml").read_text(encoding="utf-8") == "broken ["


def test_half_a_character_is_refused_and_leaves_no_file(tmp_path: Path) -> None:
    """Text that no UTF-8 file can hold is a ValueError, not half a file."""
    with pytest.raises(ValueError, match="cannot be written"):
        write_new_room(tmp_path, Room(name="half \ud800"))

    assert list(tmp_path.iterdir()) == []


@given(names=st.lists(TEXT, max_size=6))
def test_keys_are_made_from_names(names: list[str]) -> None:
    """Every name gives a key that room.toml takes, unlike those before it."""
    keys: list[str] = []
    for name in names:
        keys.append(key_for(name, keys))
    stations = tuple(Station(key=key, name="x", kind="raft") for key in keys)

    assert len(set(keys)) == len(names)
    assert all(len(key) <= 31 and not key.startswith("-") for key in keys)
    assert [one.key for one in stations] == keys
    assert WHOLE_ROOM not in keys


def test_keys_read_like_the_names() -> None:
    """A key is the name in small letters and hyphens; the next of the same name is numbered."""
    assert key_for("Raft tub", []) == "raft-tub"
    assert key_for("Raft tub", ["raft-tub"]) == "raft-tub-2"
    assert key_for("Room", []) == "room-2"
    assert key_for("漢字", []) == "station"


@pytest.mark.parametrize(
    ("text", "code"), [("K7", True), ("abc", True), ("a", False), ("Anna", False), ("ä1", False), ("K7\n", False)]
)
def test_codes(text: str, code: bool) -> None:
    """A code has two or three letters or digits and is never long enough for a name."""
    assert is_code(text) is code
