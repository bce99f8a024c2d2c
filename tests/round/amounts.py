"""Reading the amounts out of what an answer means, for the tests of what is worked out for a station."""

import re

import msgspec

from tests.round.school import School
from walkabout.round.advice import with_amounts
from walkabout.round.judge import Judgement, judge_number
from walkabout.round.wants import wanted_at

WATER = "[aims.raft-lettuce]\nec = [1.15, 1.25]\n[water]\nec = 0.4\nalkalinity = 100\n"
"""Known water, and an aim that does not hang on it: 1.2 mS/cm."""
FEED = "[feed]\nrise = 0.1\n"
ACID = '[acid]\nkind = "nitric"\nstrength = 0.5\n'
BASE = "[base]\nstrength = 0.1\n"


def judged(school: School, station: str, question: str, value: float) -> tuple[Judgement, Judgement]:
    """Judge a reading in its stored unit: (by the checklist alone, with amounts)."""
    room = school.room
    here, checklist = next((here, one) for here, one in room.places() if here.key == station)
    asked = checklist.find(question)
    assert asked is not None
    assert asked.reading is not None
    neighbours = [one for one, _ in room.places() if one.station is not None]
    wanted = wanted_at(here, neighbours, asked.reading, scales=room.scales)
    plain = judge_number(asked, value, checklist, wanted, None, scales=room.scales)
    return plain, with_amounts(room, station, plain, asked.reading, value, wanted)


def with_room(school: School, **changes: object) -> None:
    """Change the open room."""
    school.room.room = msgspec.structs.replace(school.room.room, **changes)


def with_tank(school: School, litres: float, tank: str = "tub") -> None:
    """Give a tank another size."""
    tanks = school.room.room.tanks
    with_room(school, tanks=tanks | {tank: msgspec.structs.replace(tanks[tank], litres=litres)})


def found(pattern: str, text: str) -> float:
    """Return the one number that a pattern finds in a text."""
    numbers = re.findall(pattern, text)
    assert len(numbers) == 1, (pattern, text)
    return float(numbers[0])
