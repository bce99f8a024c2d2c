"""Adding closures and terms to a room.toml that somebody keeps by hand."""

import tomllib
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.room.rooms import GOOD, KINDS
from walkabout.room import dates_file
from walkabout.room.dates_file import BEFORE, MOST, ByHand, add_dates, with_dates
from walkabout.room.ics import read_dates
from walkabout.room.model import Closure, Term
from walkabout.room.read import read_room

EASTER = Closure(first=date(2027, 3, 25), last=date(2027, 4, 5), name='Easter "break"')
SPRING = Term(first=date(2027, 1, 4), last=date(2027, 3, 24), name="spring term")
KNOWN = Closure(first=date(2026, 12, 19), last=date(2027, 1, 3), name="another name for midwinter")


def room(folder: Path, text: str | bytes = GOOD) -> Path:
    file = folder / "room.toml"
    file.write_bytes(text if isinstance(text, bytes) else text.encode())
    return file


def test_the_dates_are_read_back(tmp_path: Path) -> None:
    """Closures and terms stand in the room, and everything else of it is the same."""
    room(tmp_path)
    before = read_room(tmp_path, KINDS)
    add_dates(tmp_path, [EASTER], [SPRING], KINDS)
    after = read_room(tmp_path, KINDS)

    assert before.room is not None
    assert after.room is not None
    assert after.mistakes == ()
    assert after.room.closures == (*before.room.closures, EASTER)
    assert after.room.terms == (SPRING,)
    assert [one.name for one in after.room.stations] == [one.name for one in before.room.stations]
    assert after.room.prices == before.room.prices


@pytest.mark.parametrize(
    "text",
    [
        GOOD,
        GOOD.replace("\n", "\r\n"),
        GOOD.rstrip("\n"),
        GOOD + "# the end",
        GOOD + "\n\n\n",
        "\ufeff" + GOOD,
        GOOD.replace("[[closure]]", "[[ closure ]]  # when nobody comes"),
        'name = "a"\n[[station]]\nkey = "pots"\nname = "Pots"\nkind = "pots"\n[people]\nAR = { role = "adult" }',
    ],
    ids=["as usual", "crlf", "no last line end", "remark last", "blank lines", "mark", "spaced", "table last"],
)
def test_the_text_before_is_untouched(text: str, tmp_path: Path) -> None:
    """Byte for byte the old text stands first, with line ends of its own kind after it, and a copy is kept."""
    file = room(tmp_path, text)
    was = file.read_bytes()
    add_dates(tmp_path, [EASTER], [SPRING], KINDS)
    now = file.read_bytes()

    assert now.startswith(was)
    assert (b"\r\n" in was) == (b"\r\n" in now)
    assert b"\n" not in now.replace(b"\r\n", b"") if b"\r\n" in was else b"\r" not in now
    assert now.endswith(b"\n")
    assert (tmp_path / "backups" / BEFORE).read_bytes() == was
    assert [one.name for one in tmp_path.iterdir() if one.is_file()] == ["room.toml"]
    assert tomllib.loads(now.decode("utf-8-sig").replace("\r\n", "\n"))["term"][0]["name"] == "spring term"


def test_what_is_there_is_not_added_again(tmp_path: Path) -> None:
    """Days that are there, whatever they are called, and days that come twice are added once at most."""
    file = room(tmp_path)
    was = file.read_bytes()
    add_dates(tmp_path, [KNOWN], [], KINDS)
    assert file.read_bytes() == was
    assert not (tmp_path / "backups").exists()

    add_dates(tmp_path, [EASTER, KNOWN, EASTER], [SPRING], KINDS)
    once = file.read_bytes()
    add_dates(tmp_path, [EASTER, KNOWN], [SPRING], KINDS)
    assert file.read_bytes() == once
    assert once.count(b"[[closure]]") == was.count(b"[[closure]]") + 1


@pytest.mark.parametrize(
    ("list_", "line"),
    [
        ('closure = [{ from = 2026-12-19, to = 2027-01-03 }]\nname = "a"\n', 1),
        ('name = "a"\nclosure = [\n  { from = 2026-12-19, to = 2027-01-03 },\n]\n', 2),
        ('name = "a"\nclosure = []\n', 2),
    ],
)
def test_a_list_in_one_piece_is_for_a_person(list_: str, line: int, tmp_path: Path) -> None:
    """It is refused in one sentence with the line, and the lines to add are right as they are."""
    text = list_ + '[[station]]\nkey = "pots"\nname = "Pots"\nkind = "pots"\n'
    file = room(tmp_path, text)
    with pytest.raises(ByHand) as error:
        add_dates(tmp_path, [EASTER, KNOWN], [], KINDS)

    assert str(error.value).startswith(f"room.toml:{line}: closure = [ ... ] is a list in one piece")
    assert file.read_text("utf-8") == text
    read = tomllib.loads(f"closure = [{''.join(error.value.lines)}]")["closure"]
    assert {"from": EASTER.first, "to": EASTER.last, "name": EASTER.name} in read
    add_dates(tmp_path, [], [SPRING], KINDS)  # the terms are another matter
    assert read_room(tmp_path, KINDS).mistakes == ()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("name = \n", "has a mistake that must be put right first: line 1"),
        (b"name = '\xff'\n", "not UTF-8"),
        ("[closure]\nfrom = 2027-01-01\n", "closure is not a list of tables"),
        ("closure = 3\n", "closure is not a list of tables"),
    ],
)
def test_a_broken_file_is_never_touched(text: str | bytes, says: str, tmp_path: Path) -> None:
    """It stays as it is, and one line says what is wrong."""
    file = room(tmp_path, text)
    was = file.read_bytes()
    with pytest.raises(ValueError, match=r"room\.toml") as error:
        add_dates(tmp_path, [EASTER], [], KINDS)

    assert says in str(error.value)
    assert "\n" not in str(error.value)
    assert file.read_bytes() == was


def test_without_a_file(tmp_path: Path) -> None:
    """Where there is no room.toml none is made."""
    with pytest.raises(ValueError, match="cannot be read"):
        add_dates(tmp_path, [EASTER], [], KINDS)
    assert list(tmp_path.iterdir()) == []


def test_mistakes_of_before_stand_in_no_way(tmp_path: Path) -> None:
    """A file with a slip that leaves the rest usable takes dates; its mistakes stay the same ones."""
    room(tmp_path, GOOD.replace("litres = 60", "litres = 60\nliters = 60"))
    before = read_room(tmp_path, KINDS).mistakes
    add_dates(tmp_path, [EASTER], [], KINDS)

    assert before
    assert read_room(tmp_path, KINDS).mistakes == before


def test_dates_that_would_be_a_mistake_are_refused(tmp_path: Path) -> None:
    """A closure that ends before it begins would be a new mistake: nothing is written."""
    file = room(tmp_path)
    was = file.read_bytes()
    with pytest.raises(ValueError, match="would change something else"):
        add_dates(tmp_path, [Closure(first=EASTER.last, last=EASTER.first)], [], KINDS)

    assert file.read_bytes() == was
    assert [one.name for one in tmp_path.iterdir() if one.is_file()] == ["room.toml"]


def test_more_dates_than_a_room_can_have(tmp_path: Path) -> None:
    """A calendar of thousands is refused in one line."""
    file = room(tmp_path)
    was = file.read_bytes()
    many = [Closure(first=day, last=day) for day in (date(2027, 1, 1) + timedelta(days=one) for one in range(MOST))]
    with pytest.raises(ValueError, match=f"it may have {MOST}"):
        add_dates(tmp_path, many, [], KINDS)

    assert file.read_bytes() == was


def test_somebody_who_writes_meanwhile_loses_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What was saved in an editor between reading and replacing stays."""
    file = room(tmp_path)
    real = dates_file._must_be_right

    def saves(*args: object) -> None:
        real(*args)  # type: ignore[arg-type]
        file.write_text(GOOD + "# mine\n", "utf-8")

    monkeypatch.setattr(dates_file, "_must_be_right", saves)
    with pytest.raises(ValueError, match="meanwhile"):
        add_dates(tmp_path, [EASTER], [], KINDS)
    assert file.read_text("utf-8") == GOOD + "# mine\n"


def test_where_nothing_can_be_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk leaves the file as it was and no rest of anything behind."""
    file = room(tmp_path)
    was = file.read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(dates_file.os, "fsync", full)
    with pytest.raises(ValueError, match="No space left on device"):
        add_dates(tmp_path, [EASTER], [], KINDS)

    assert file.read_bytes() == was
    assert [one.name for one in tmp_path.iterdir() if one.is_file()] == ["room.toml"]


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    """A room.toml that is kept elsewhere is changed there, with its rights."""
    elsewhere, folder = tmp_path / "elsewhere", tmp_path / "room"
    elsewhere.mkdir()
    folder.mkdir()
    real = room(elsewhere)
    real.chmod(0o640)
    (folder / "room.toml").symlink_to(real)
    add_dates(folder, [EASTER], [], KINDS)

    assert (folder / "room.toml").is_symlink()
    assert b"Easter" in real.read_bytes()
    assert real.stat().st_mode & 0o777 == 0o640


def test_from_a_calendar_into_the_room(tmp_path: Path) -> None:
    """What a calendar says is what the room then reads."""
    room(tmp_path)
    (tmp_path / "school.ics").write_bytes(
        b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\n"
        b"BEGIN:VEVENT\r\nDTSTART;VALUE=DATE:20270325\r\nDTEND;VALUE=DATE:20270406\r\n"
        b"SUMMARY:Easter \"break\"\\, \xf0\x9f\x90\xa3\r\nEND:VEVENT\r\n"
        b"BEGIN:VEVENT\r\nDTSTART;VALUE=DATE:20270104\r\nDTEND;VALUE=DATE:20270325\r\nSUMMARY:spring term\r\n"
        b"END:VEVENT\r\nEND:VCALENDAR\r\n"
    )  # fmt: skip
    found = read_dates(tmp_path / "school.ics")
    add_dates(tmp_path, found.closures, found.terms, KINDS)
    after = read_room(tmp_path, KINDS)

    assert after.room is not None
    assert after.mistakes == ()
    assert (
        after.room.closures[2:]
        == found.closures
        == (Closure(first=EASTER.first, last=EASTER.last, name='Easter "break", \U0001f423'),)
    )
    assert after.room.terms == found.terms == (SPRING,)


@settings(max_examples=50)
@given(st.text(max_size=60), st.dates(date(1970, 1, 1), date(2190, 1, 1)), st.integers(0, 200))
def test_any_name_comes_back(name: str, first: date, days: int) -> None:
    """Whatever a closure is called, the text is TOML and says the same."""
    closure = Closure(first=first, last=first + timedelta(days=days), name=name)
    read = tomllib.loads(with_dates(GOOD, [closure], []))

    there = tomllib.loads(GOOD)["closure"]
    known = any((one["from"], one["to"]) == (closure.first, closure.last) for one in there)
    added = {"from": closure.first, "to": closure.last} | ({"name": name} if name else {})
    assert read["closure"] == there + ([] if known else [added])
