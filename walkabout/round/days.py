"""Days between rounds: the closed ones do not count."""

from datetime import UTC, date, datetime, time

from msgspec import Struct

from walkabout.room.calendar import hours_alone, next_day
from walkabout.room.model import Room


class Ahead(Struct, frozen=True):
    """A day to come on which somebody walks, and the time until the walk after it."""

    day: date
    gap: int
    """Days to the round after it, closed days left out."""
    alone: float
    """Hours to the round after it."""


def open_days(room: Room, since: date, until: date) -> int:
    """Return the days after `since` up to `until`, closed days left out; a day in two closures counts once."""
    days = (until - since).days
    if days <= 0:
        return 0
    closed: set[int] = set()
    for closure in room.closures:
        first = max(closure.first.toordinal(), since.toordinal() + 1)
        closed.update(range(first, min(closure.last.toordinal(), until.toordinal()) + 1))
    return days - len(closed)


def coming(room: Room, day: date, count: int) -> list[Ahead]:
    """Return the next `count` days after `day` on which somebody walks."""
    found: list[Ahead] = []
    for _ in range(count):
        day = next_day(room, day)
        after = next_day(room, day)
        begun = datetime.combine(day, time.fromisoformat(room.starts), tzinfo=UTC)
        found.append(Ahead(day, open_days(room, day, after), hours_alone(room, begun)))
    return found
