"""Which days somebody walks, and how long the room is alone."""

from collections.abc import Callable
from datetime import date, datetime, time, timedelta

from walkabout.room.model import WEEKDAYS, Closure, Room

Clock = Callable[[], datetime]
"""Tells the time, with its offset."""

LONG_ABSENCE = timedelta(days=5)
"""From so long on, the first round is another one: a long weekend is still within what an ordinary
Monday asks. Common practice."""


def local_now() -> datetime:
    """Return the time of this machine, with its offset, to the second."""
    return datetime.now().astimezone().replace(microsecond=0)


def closure_on(room: Room, day: date) -> Closure | None:
    """Return the closure that covers this day, if one does."""
    return next((closure for closure in room.closures if closure.first <= day <= closure.last), None)


def is_walked(room: Room, day: date) -> bool:
    """Say whether somebody walks on this day."""
    return WEEKDAYS[day.weekday()] in room.days and closure_on(room, day) is None


def next_day(room: Room, day: date) -> date:
    """Return the next day after `day` on which somebody walks; a year ahead at most."""
    for ahead in range(1, 367):
        if is_walked(room, later := day + timedelta(days=ahead)):
            return later
    return day + timedelta(days=366)


def day_before(room: Room, day: date) -> date:
    """Return the last day before `day` on which somebody walked by the calendar; a year back at most."""
    for back in range(1, 367):
        if is_walked(room, earlier := day - timedelta(days=back)):
            return earlier
    return day - timedelta(days=366)


def hours_alone(room: Room, now: datetime) -> float:
    """Return the hours from `now` to the next round, by the clock on the wall.

    The hour by which clocks change twice a year is not counted: hours to loss are not known that well.
    """
    start = time.fromisoformat(room.starts)
    ahead = next_day(room, now.date())
    until = datetime.combine(ahead, start, tzinfo=now.tzinfo)
    return max((until - now).total_seconds() / 3600, 0.0)


def is_return(room: Room, day: date, last_walked: date | None) -> bool:
    """Say whether a round on `day` is the first after a closure or an absence as long as one.

    A closure on days on which nobody walks anyway, such as a weekend, changes nothing.
    """
    if last_walked is None or last_walked >= day:
        return False
    missed = any(
        last_walked < closure.last and closure.first < day and _takes_a_round(room, closure)
        for closure in room.closures
    )
    return missed or day - last_walked >= LONG_ABSENCE


def _takes_a_round(room: Room, closure: Closure) -> bool:
    days = min((closure.last - closure.first).days + 1, 7)
    return any(WEEKDAYS[(closure.first + timedelta(days=ahead)).weekday()] in room.days for ahead in range(days))
