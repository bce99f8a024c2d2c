"""Setting up a room by answering questions."""

from datetime import date
from io import StringIO
from pathlib import Path

import pytest

from walkabout.checklist.read import kinds
from walkabout.plain.dialogue import Dialogue
from walkabout.plain.setup import Given, set_up
from walkabout.plain.stations import room_kit
from walkabout.room.model import Closure, Lamp, Person, Room, Tank
from walkabout.room.read import read_room
from walkabout.round.opened import check

BASICS = ("", "", "", "", "", "")
"""Name, units, minutes, days, start and kit, each as usual."""


def kind(title: str) -> str:
    """Return what picks a kind of station by its title."""
    from walkabout.plain.stations import _checklists

    titles = [one.title for name, one in _checklists().items() if name != "room"]
    return str(titles.index(title) + 1)


def typed(folder: Path, *lines: str, given: Given | None = None) -> tuple[int, str]:
    """Answer the questions with these lines; return the status and what was said."""
    said = StringIO()
    status = set_up(folder, given or Given(), Dialogue(said, StringIO("".join(f"{one}\n" for one in lines))))
    return status, said.getvalue()


def read(folder: Path) -> Room:
    """Return the room that was written; there is no mistake in its files."""
    assert check(folder) == ()
    found = read_room(folder, kinds())
    assert found.room is not None
    return found.room


def test_a_room_with_everything(tmp_path: Path) -> None:
    """Two stations that share a tank and a lamp, people and closures: all of it is in the file."""
    kit = str(room_kit().index("pH meter") + 1)
    status, said = typed(
        tmp_path / "new",
        *("Our [b]room[/b]", "metric", "7", "monday, wed fri", "7:45", kit),
        *(kind("Raft tub"), "", "1", "60", "14", "05:30", "1", "80", "10", "2", "y", ""),
        *(kind("Film channels"), "Channels", "7", "2", "0", ""),
        "",
        *("AR adult", "K7 pupil 2027-07-16", ""),
        *("2026-12-19 2027-01-03 winter break", "2026-10-26", ""),
    )
    room = read(tmp_path / "new")

    assert status == 0
    assert (room.name, room.units, room.minutes, room.starts) == ("Our [b]room[/b]", "metric", 7, "07:45")
    assert room.days == ("mon", "wed", "fri")
    assert room.kit == ("pH meter",)
    assert [(one.key, one.name, one.kind) for one in room.stations] == [
        ("raft-tub", "Raft tub", "raft"),
        ("channels", "Channels", "film"),
    ]
    assert [one.lamps for one in room.stations] == [("raft-tub",), ("raft-tub",)]
    assert [one.tank for one in room.stations] == ["raft-tub", "raft-tub"]
    assert [one.pumps for one in room.stations] == [("raft-tub-air",), ()]
    assert room.pumps["raft-tub-air"].spare is True
    assert room.lamps == {"raft-tub": Lamp(kind="led", watts=60, hours=14, on="05:30")}
    assert room.tanks == {"raft-tub": Tank(litres=80, change_days=10)}
    assert room.people == {"AR": Person(role="adult"), "K7": Person(role="pupil", until=date(2027, 7, 16))}
    assert room.closures == (
        Closure(first=date(2026, 10, 26), last=date(2026, 10, 26)),
        Closure(first=date(2026, 12, 19), last=date(2027, 1, 3), name="winter break"),
    )
    assert f"Next, look for mistakes: walkabout check {tmp_path / 'new'}" in said


def test_enter_takes_what_is_usual(tmp_path: Path) -> None:
    """Enter alone takes each shown default; the smallest room needs a kind and a few Enters."""
    status, _ = typed(tmp_path / "small", *BASICS, kind("Pots in soil"), "", "0", "", "", "", "")
    room = read(tmp_path / "small")

    assert status == 0
    assert room.name == "small"
    assert (room.units, room.minutes, room.days, room.starts) == ("metric", 5, Room().days, "08:00")
    assert [one.name for one in room.stations] == ["Pots in soil"]


def test_wrong_answers_are_asked_again(tmp_path: Path) -> None:
    """Each wrong answer is followed by what would be right, and the same question."""
    status, said = typed(
        tmp_path / "new",
        *("", "imperial", "metrc", "metric", "90", "nan", "5", "someday", "", "25:00", "8", "8:00", "99", ""),
        *("", "77", kind("Pots in soil"), "Pots", "9", "1", "-4", "60", "30", "14", "noon", "06:00", ""),
        "",
        *("Anna pupil", "K7", "K7 boss", "K7 pupil soon", "K7 pupil", "k7 adult", ""),
        *("next week", "2027-01-03 2026-12-19", ""),
    )

    assert status == 0
    for right in (
        'Did you mean "metric"?',
        "Type a number from 1 to 60.",
        '"someday" is not a day. It can be: mon tue wed thu fri sat sun',
        "Type the time as hours and minutes, such as 08:00.",
        '"Anna" is not a code.',
        '"boss" is not one of them. It can be: adult, licensed, pupil',
        '"soon" is not a day. Type it as 2027-02-15.',
        "k7 is taken already.",
        "This closure ends before it begins.",
    ):
        assert right in said
    assert list(read(tmp_path / "new").people) == ["K7"]


def test_flags_are_not_asked_for(tmp_path: Path) -> None:
    """What the command line said is taken over without a question."""
    given = Given(name="Given", units="US", minutes=4, days=("tue",), starts="09:00")
    status, said = typed(
        tmp_path / "new", "", kind("Raft tub"), "", "0", "1", "20", "", "0", "", "", "", "", given=given
    )
    room = read(tmp_path / "new")

    assert status == 0
    assert (room.name, room.units, room.minutes, room.days, room.starts) == ("Given", "US", 4, ("tue",), "09:00")
    assert "called?" not in said.split("Station 1")[0]
    assert room.tanks["raft-tub"].litres == pytest.approx(75.7)


@pytest.mark.parametrize("count", range(8))
def test_stopping_early_writes_nothing(tmp_path: Path, count: int) -> None:
    """The end of the input before the last answer leaves no file and no folder, and says so."""
    lines = (*BASICS, kind("Pots in soil"), "Pots")[:count]
    status, said = typed(tmp_path / "new", *lines)

    assert status == 1
    assert said.endswith("Stopped before the end: nothing was written.\n")
    assert not (tmp_path / "new").exists()


def test_a_room_that_is_there_stays(tmp_path: Path) -> None:
    """An existing room.toml is named and left as it is, before anything is asked."""
    (tmp_path / "room.toml").write_text("mine", encoding="utf-8")
    status, said = typed(tmp_path, *BASICS)

    assert status == 2
    assert "there is a room already. It was left as it is." in said
    assert "?" not in said
    assert (tmp_path / "room.toml").read_text(encoding="utf-8") == "mine"


def test_a_folder_that_cannot_be_made(tmp_path: Path) -> None:
    """A file where the folder should be is said in one line."""
    (tmp_path / "file").write_text("", encoding="utf-8")

    assert typed(tmp_path / "file")[0] == 2
    status, said = typed(tmp_path / "file" / "new", *BASICS, kind("Pots in soil"), "", "0", "", "", "", "")
    assert status == 1
    assert "nothing could be written" in said
