"""What the demo's room has promised: one promise on course, one at risk with a way out, one that was kept."""

from datetime import date, datetime, time, timedelta

import msgspec
from msgspec import Struct

from walkabout.demo.clock import moment
from walkabout.jobs.promises import keep, promise
from walkabout.records.model import Amount, Promise
from walkabout.room.calendar import day_before, next_day
from walkabout.room.model import Room


class Promised(Struct, frozen=True, kw_only=True):
    """A promise, told in days from the day on which the demo is made."""

    crop: str
    amount: float
    unit: Amount
    people: str
    made: int
    """Days ago."""
    ahead: int
    """Days ahead, moved to the nearest day on which somebody comes; below 0 for one that is over."""
    eaters: int


PROMISES: tuple[Promised, ...] = (
    Promised(crop="raft-lettuce", amount=12, unit="heads", people="the salad lunch", made=60, ahead=-26, eaters=26),
    Promised(crop="basil", amount=120, unit="g", people="the pizza morning of class 9A", made=30, ahead=8, eaters=24),
    Promised(crop="lettuce", amount=28, unit="heads", people="the open evening", made=11, ahead=34, eaters=80),
)


def made_on(room: Room, day: date, today: date, by: str) -> list[Promise]:
    """Return the promises that are made on a day of the season, and those that are kept on it."""
    found = []
    for one in PROMISES:
        made = today - timedelta(days=one.made)
        if _season_day(room, made) == day:
            found.append(_promise(one, room, moment(day, time(15)), today, by))
        due = today + timedelta(days=one.ahead)
        if one.ahead < 0 and _season_day(room, due) == day:
            before = _promise(one, room, moment(_season_day(room, made), time(15)), today, by)
            found.append(keep(before, by, moment(day, time(15, 10))))
    return found


def _promise(one: Promised, room: Room, now: datetime, today: date, by: str) -> Promise:
    due = today + timedelta(days=one.ahead)
    day = _nearest(room, due, today) if one.ahead > 0 else due
    made = promise(
        crop=one.crop, amount=one.amount, unit=one.unit, day=day, people=one.people, by=by, now=now, eaters=one.eaters
    )
    return msgspec.structs.replace(made, key=f"pr-{one.crop}-{one.ahead}")


def _nearest(room: Room, due: date, today: date) -> date:
    """Return the open day after today that lies nearest to a day, the earlier one of two that are as near."""
    after, before = next_day(room, due - timedelta(days=1)), day_before(room, due + timedelta(days=1))
    return after if before <= today or after - due < due - before else before


def _season_day(room: Room, day: date) -> date:
    """Return the day itself, or the next one on which somebody walks."""
    return next_day(room, day - timedelta(days=1))
