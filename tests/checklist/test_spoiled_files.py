"""Two thousand spoiled files: every one is read as far as it can be, and every mistake has its line."""

import math
from datetime import UTC, date, datetime
from pathlib import Path

import msgspec
import pytest

from tests.checklist.lists import SHORT, put, shipped_text
from tests.checklist.spoiling import BY_ACCIDENT, BY_HAND, Spoil, judge, spoiled_files, try_all
from tests.room.rooms import GOOD, KINDS
from walkabout.checklist.model import VERDICTS, Checklist
from walkabout.checklist.read import read_checklists
from walkabout.room.calendar import day_before, hours_alone, is_return, next_day
from walkabout.room.model import Room
from walkabout.room.read import read_room
from walkabout.room.write import room_text

NOW = datetime(2026, 11, 25, 8, tzinfo=UTC)


def numbers(struct: object) -> list[float]:
    """Return every number in a struct and in what it holds."""
    found: list[float] = []
    ahead = [msgspec.to_builtins(struct)]
    while ahead:
        one = ahead.pop()
        if isinstance(one, dict):
            ahead += one.values()
        elif isinstance(one, list | tuple):
            ahead += one
        elif isinstance(one, int | float):
            found.append(one)
    return found


def use_room(room: Room) -> None:
    """Do with a room what the program does with every one."""
    assert all(math.isfinite(number) for number in numbers(room))
    assert hours_alone(room, NOW) > 0
    assert next_day(room, NOW.date()) > NOW.date() > day_before(room, NOW.date())
    assert is_return(room, NOW.date(), date(2026, 11, 24)) in (True, False)
    assert 1 <= room.minutes <= 60
    keys = [station.key for station in room.stations]
    assert len(set(keys)) == len(keys)
    for station in room.stations:
        assert set(station.lamps) <= set(room.lamps)
        assert set(station.pumps) <= set(room.pumps)
        assert station.tank in {"", *room.tanks}
    assert all(2 <= len(code) <= 3 for code in room.people)
    assert all(closure.first <= closure.last for closure in room.closures)
    room_text(room)


def use_checklist(checklist: Checklist) -> None:
    """Do with a checklist what the program relies on."""
    assert all(math.isfinite(number) for number in numbers(checklist))
    ids = [question.id for question in checklist.question]
    assert ids
    assert len(set(ids)) == len(ids)
    for question in checklist.question:
        assert 0 < question.seconds <= 3600
        assert 1 <= question.should <= question.must
        assert set(question.reveals) <= set(checklist.fault)
        assert (question.reading is not None) == (question.kind in ("number", "count"))
        assert not question.choices or question.choices[0].verdict == "good"
        for choice in question.choices:
            for meaning in (choice, *choice.cases):
                assert meaning.do.strip() or VERDICTS.index(meaning.verdict) < VERDICTS.index("today")


@pytest.mark.parametrize(
    ("ways", "most", "examples"), [(BY_HAND, 3, 600), (BY_ACCIDENT, 2, 400)], ids=["by hand", "by accident"]
)
def test_a_thousand_rooms(ways: tuple[Spoil, ...], most: int, examples: int, tmp_path: Path) -> None:
    """Never an exception: a room that can be used, or none; mistakes with their lines, or none."""
    file = tmp_path / "room.toml"

    def use(data: bytes) -> str:
        file.write_bytes(data)
        found = read_room(tmp_path, KINDS)
        judge(found.mistakes, file)
        assert file.read_bytes() == data
        if found.room is None:
            assert len(found.mistakes) >= 1
            return "none"
        use_room(found.room)
        return "with mistakes" if found.mistakes else "right"

    seen = try_all(spoiled_files(GOOD, ways, most), examples, use)
    assert seen.total() >= examples
    assert min(seen["with mistakes"], seen["none"]) > examples / 20, seen
    assert seen["right"] < examples / 3, seen


@pytest.mark.parametrize(
    ("name", "text", "ways", "most", "examples"),
    [
        ("trough", SHORT, BY_HAND, 3, 500),
        ("trough", SHORT, BY_ACCIDENT, 2, 250),
        ("raft", SHORT.replace('kind = "trough"', 'kind = "raft"\nextends = true'), BY_HAND, 2, 150),
        ("cacti", shipped_text("cacti"), (*BY_HAND, *BY_ACCIDENT), 2, 100),
    ],
    ids=["by hand", "by accident", "extending", "shipped"],
)
def test_a_thousand_checklists(
    name: str, text: str, ways: tuple[Spoil, ...], most: int, examples: int, tmp_path: Path
) -> None:
    """Never an exception: what is left can be asked; the shipped one stays where nothing is left."""
    only = frozenset({name})
    shipped = read_checklists(only=only).of
    file = put(tmp_path, name, text)
    assert read_checklists(tmp_path, only).mistakes == ()

    def use(data: bytes) -> str:
        file.write_bytes(data)
        found = read_checklists(tmp_path, only)
        judge(found.mistakes, file)
        assert name in found.of or name not in shipped
        if name not in found.of:
            assert len(found.mistakes) >= 1
            return "none"
        use_checklist(found.of[name])
        return "with mistakes" if found.mistakes else "right"

    seen = try_all(spoiled_files(text, ways, most), examples, use)
    assert seen.total() >= examples
    assert seen["with mistakes"] > examples / 40, seen
    assert seen["right"] < examples / 3, seen


@pytest.mark.parametrize("step", [0, 1])
def test_files_that_end_anywhere(step: int, tmp_path: Path) -> None:
    """A room and a checklist cut off at every seventh byte."""
    room, file = tmp_path / "room.toml", put(tmp_path, "trough", SHORT)
    only = frozenset({"trough"})
    for end in range(step * 3, max(len(GOOD.encode()), len(SHORT.encode())), 14):
        room.write_bytes(GOOD.encode()[:end])
        found = read_room(tmp_path, KINDS)
        judge(found.mistakes, room)
        if found.room is not None:
            use_room(found.room)
        file.write_bytes(SHORT.encode()[:end])
        lists = read_checklists(tmp_path, only)
        judge(lists.mistakes, file)
        assert lists.mistakes
        for checklist in lists.of.values():
            use_checklist(checklist)


@pytest.mark.parametrize("depth", range(140, 500, 40))
def test_nesting_where_a_value_is_wanted(depth: int, tmp_path: Path) -> None:
    """A list of lists of lists in the place of a name is one mistake, from a shallow call and from a deep one."""
    (tmp_path / "room.toml").write_text("name = " + "[" * depth + "]" * depth + "\n", "utf-8")

    def deeper(calls: int) -> None:
        if calls:
            deeper(calls - 1)
        else:
            found = read_room(tmp_path, KINDS)
            judge(found.mistakes, tmp_path / "room.toml")
            assert [mistake.says for mistake in found.mistakes] == ["lists or tables are nested too deeply"]

    for calls in (0, 50, 200):
        deeper(calls)
