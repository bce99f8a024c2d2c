"""A room of three stations with checklists of its own, and somebody who types."""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from io import StringIO
from pathlib import Path

import pytest

from walkabout.plain.dialogue import Dialogue
from walkabout.plain.round import run
from walkabout.round.opened import OpenRoom

MORNING = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)

ROOM = """
name = "Small [b]room[/b]"
kit = ["pH meter"]
[people.AR]
role = "adult"
[people.K7]
role = "pupil"
[people.Z9]
role = "pupil"
until = 2026-07-16
[tanks.tub]
litres = 60
[[station]]
key = "tub"
name = "Raft tub"
kind = "raft"
tank = "tub"
[[station]]
key = "pots"
name = "Window pots"
kind = "pots"
"""

WHOLE = """
kind = "room"
title = "The whole room"
[fault.wet]
says = "water is near the mains"
per_week = 0.01
hours = 2
people = true
source = "assumed"
[[question]]
id = "door"
ask = "What do you notice from the doorway?"
how = "Stand still and look before going in."
seconds = 4
should = 1
must = 1
reveals = { wet = 0.9 }
choices = [
  { id = "dry", says = "nothing odd" },
  { id = "wet", says = "water on the floor", verdict = "stop", why = "Water may reach the mains.", do = "Stay out.", \
    who = "adult", caution = "Mains and water kill.", job = "Find the leak", shows = ["wet"] },
]
"""

RAFT = """
kind = "raft"
title = "Raft tub"
[fault.off]
says = "the pH has slid"
per_week = 0.1
hours = 12
source = "assumed"
[fault.spots]
says = "leaves have spots"
per_week = 0.1
hours = 12
source = "assumed"
[[question]]
id = "ph"
ask = "What is the pH?"
kind = "number"
seconds = 5
should = 1
must = 1
reveals = { off = 0.9 }
[question.reading]
quantity = "pH"
unit = "pH"
possible = [0, 14]
likely = [4, 8]
good = [5.5, 6.5]
margin = 0.3
alarm = [4.5, 7.5]
low = { do = "Tell an adult to put it right.", who = "adult", job = "Raise the pH" }
[[question]]
id = "leaves"
ask = "What do the leaves show?"
kind = "signs"
seconds = 5
should = 1
must = 1
may_not_apply = false
reveals = { spots = 0.9 }
choices = [
  { id = "well", says = "all well" },
  { id = "spots", says = "brown spots", verdict = "watch", why = "It may spread." },
  { id = "dust", says = "white dust", verdict = "today", why = "It spreads.", do = "Set it apart.", \
    job = "Decide on it" },
]
"""

POTS = """
kind = "pots"
title = "Pots in soil"
[fault.dry]
says = "the soil is dry"
per_week = 0.2
hours = 12
source = "assumed"
[[question]]
id = "dry"
ask = "Is the soil moist?"
kind = "yes/no"
seconds = 3
should = 1
must = 1
reveals = { dry = 0.9 }
choices = [ { id = "yes", says = "moist" }, { id = "no", says = "dry", verdict = "watch", why = "It dries out." } ]
[[question]]
id = "flies"
ask = "How many flies?"
kind = "count"
seconds = 3
should = 1
must = 1
[question.reading]
quantity = "count"
possible = [0, 2000]
likely = [0, 100]
decimals = 0
[[question]]
id = "note"
ask = "What else is worth a line?"
kind = "note"
seconds = 3
should = 1
must = 1
"""


class Clock:
    """Tells a time that goes on by a step whenever somebody looks."""

    def __init__(self) -> None:
        self.now = MORNING
        self.step = timedelta(seconds=2)

    def __call__(self) -> datetime:
        self.now += self.step
        return self.now


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return the folder of a small room."""
    room = tmp_path / "room"
    (room / "checklists").mkdir(parents=True)
    (room / "room.toml").write_text(ROOM, encoding="utf-8")
    for name, text in {"room": WHOLE, "raft": RAFT, "pots": POTS}.items():
        (room / "checklists" / f"{name}.toml").write_text(text, encoding="utf-8")
    return room


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def walk(folder: Path, clock: Clock) -> Callable[..., tuple[int, str]]:
    """Return a function that types lines into the round and returns its status and what was said."""

    def typed(*lines: str, walker: str = "K7") -> tuple[int, str]:
        said = StringIO()
        status = run(
            folder, walker, clock=clock, dialogue=Dialogue(said, StringIO("".join(f"{one}\n" for one in lines)))
        )
        return status, said.getvalue()

    return typed


@pytest.fixture
def reopened(folder: Path, clock: Clock) -> Iterator[Callable[[], OpenRoom]]:
    """Return a function that reads the room's records anew from disk."""
    rooms: list[OpenRoom] = []

    def read() -> OpenRoom:
        rooms.append(OpenRoom(folder, clock))
        return rooms[-1]

    yield read
    for room in rooms:
        room.close()
