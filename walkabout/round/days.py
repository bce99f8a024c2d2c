"""Days between rounds: the closed ones do not count."""

from datetime import UTC, date, datetime, time, timedelta

from msgspec import Struct

from walkabout.room.calendar import hours_alone, is_return, is_walked, next_day
from walkabout.room.model import Room

_DAY = timedelta(days=1)
_WEEK = timedelta(days=7)


class Ahead(Struct, frozen=True):
    """A day to come on which somebody walks, and the time until the walk after it."""

    day: date
    gap: int
    """Days to the round after it, closed days left out."""
    alone: float
    """Hours to the round after it."""
    returning: bool
    """It is the first round after a closure."""


def open_days(room: Room, since: date, until: date) -> int:
    """Return the days after `since` up to `until`, closed days left out; a day in two closures counts once.

    The weekends at both ends of a closure belong to it: nobody comes from the last round to the first.
    """
    days = (until - since).days
    if days <= 0:
        return 0
    closed: set[int] = set()
    for closure in room.closures:
        first, last = closure.first, closure.last
        if last <= since - _WEEK or first > until + _WEEK:
            continue
        while not is_walked(room, first - _DAY) and first > since:
            first -= _DAY
        while not is_walked(room, last + _DAY) and last < until:
            last += _DAY
        closed.update(range(max(first, since + _DAY).toordinal(), min(last, until).toordinal() + 1))
    return days - len(closed)


def coming(room: Room, day: date, count: int) -> list[Ahead]:
    """Return the next `count` days after `day` on which somebody walks."""
    found: list[Ahead] = []
    for _ in range(count):
        before, day = day, next_day(room, day)
        after = next_day(room, day)
        begun = datetime.combine(day, time.fromisoformat(room.starts), tzinfo=UTC)
        found.append(Ahead(day, open_days(room, day, after), hours_alone(room, begun), is_return(room, day, before)))
    return found
