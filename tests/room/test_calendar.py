"""Which days are walked, and how long the room is alone."""

from datetime import date, datetime, timedelta, timezone, tzinfo

import pytest

from tests.room.rooms import closed
from walkabout.room.calendar import closure_on, day_before, hours_alone, is_return, is_walked, local_now, next_day
from walkabout.room.model import Closure, Room

ROOM = Room(name="Fernhollow")
# A Saturday in December to a Sunday in January: weekends on both sides.
MIDWINTER = closed(date(2026, 12, 19), date(2027, 1, 3))
FRIDAY, MONDAY = date(2026, 11, 20), date(2026, 11, 23)


def at(day: date, hour: int, minute: int = 0) -> datetime:
    return datetime(day.year, day.month, day.day, hour, minute, tzinfo=timezone(timedelta(hours=1)))


def test_the_days_that_are_walked() -> None:
    """From Monday to Friday, except in a closure, its first and its last day included."""
    assert [is_walked(ROOM, FRIDAY + timedelta(days=days)) for days in range(4)] == [True, False, False, True]
    room = closed(date(2026, 11, 24), date(2026, 11, 25))
    assert [is_walked(room, date(2026, 11, day)) for day in range(23, 28)] == [True, False, False, True, True]
    assert closure_on(room, date(2026, 11, 25)) == room.closures[0]
    assert closure_on(room, date(2026, 11, 26)) is None


def test_days_of_its_own() -> None:
    """A room may be walked on any days of the week."""
    room = Room(days=("tue", "sat"))
    assert next_day(room, FRIDAY) == date(2026, 11, 21)
    assert next_day(room, date(2026, 11, 21)) == date(2026, 11, 24)
    assert day_before(room, FRIDAY) == date(2026, 11, 17)


@pytest.mark.parametrize(
    ("room", "day", "ahead", "before"),
    [
        (ROOM, date(2026, 11, 18), date(2026, 11, 19), date(2026, 11, 17)),
        (ROOM, FRIDAY, MONDAY, date(2026, 11, 19)),
        (ROOM, date(2026, 11, 21), MONDAY, FRIDAY),
        (ROOM, MONDAY, date(2026, 11, 24), FRIDAY),
        (MIDWINTER, date(2026, 12, 18), date(2027, 1, 4), date(2026, 12, 17)),
        (MIDWINTER, date(2026, 12, 25), date(2027, 1, 4), date(2026, 12, 18)),
        (MIDWINTER, date(2027, 1, 4), date(2027, 1, 5), date(2026, 12, 18)),
        # A Friday and a Monday closed apart make one long weekend.
        (
            Room(
                closures=(
                    Closure(first=FRIDAY, last=FRIDAY),
                    Closure(first=MONDAY, last=MONDAY),
                )
            ),
            date(2026, 11, 19),
            date(2026, 11, 24),
            date(2026, 11, 18),
        ),
    ],
)
def test_the_next_day_and_the_day_before(room: Room, day: date, ahead: date, before: date) -> None:
    """Weekends and closures are passed over in both directions, also from a day inside them."""
    assert (next_day(room, day), day_before(room, day)) == (ahead, before)


def test_a_closure_without_end() -> None:
    """The search ends after a year."""
    room = closed(date(2020, 1, 1), date(2090, 1, 1))
    assert next_day(room, FRIDAY) == FRIDAY + timedelta(days=366)
    assert day_before(room, FRIDAY) == FRIDAY - timedelta(days=366)


@pytest.mark.parametrize(
    ("now", "hours"),
    [
        (at(date(2026, 11, 18), 8), 24),
        (at(FRIDAY, 8), 72),
        (at(FRIDAY, 8, 30), 71.5),
        (at(FRIDAY, 16), 64),
        (at(date(2026, 11, 22), 20), 12),
        (at(MONDAY, 7), 25),
        (at(MONDAY, 0), 32),
    ],
)
def test_hours_alone(now: datetime, hours: float) -> None:
    """They are counted to the time of the next round: from Friday at eight to Monday at eight it is 72."""
    assert hours_alone(ROOM, now) == hours


def test_hours_alone_over_a_closure() -> None:
    """From the last round before midwinter to the first one after it: 17 days."""
    assert hours_alone(MIDWINTER, at(date(2026, 12, 18), 8)) == 17 * 24


def test_hours_to_a_late_round() -> None:
    """The room's own time of the round counts."""
    assert hours_alone(Room(starts="13:45"), at(FRIDAY, 8)) == 72 + 5.75


class WithSummer(tzinfo):
    """A zone whose clocks go back in the night to 25 October 2026 and forward in that to 28 March 2027."""

    def utcoffset(self, when: datetime | None) -> timedelta:
        winter = when is not None and date(2026, 10, 25) <= when.date() < date(2027, 3, 28)
        return timedelta(hours=1 if winter else 2)

    def dst(self, when: datetime | None) -> timedelta:
        return self.utcoffset(when) - timedelta(hours=1)

    def tzname(self, _when: datetime | None) -> str:
        return "with summer"


@pytest.mark.parametrize("friday", [date(2026, 10, 23), date(2027, 3, 26)])
@pytest.mark.parametrize("zone", [timezone(timedelta(hours=2)), WithSummer()], ids=["fixed", "with summer"])
def test_clocks_change_over_the_weekend(friday: date, zone: tzinfo) -> None:
    """The clock on the wall counts, whether or not the time knows of its zone's summer."""
    now = at(friday, 8).replace(tzinfo=zone)
    assert hours_alone(ROOM, now) == 72


def test_the_time_of_this_machine() -> None:
    """It is to the second and knows its offset."""
    now = local_now()
    assert now.microsecond == 0
    assert now.utcoffset() is not None


@pytest.mark.parametrize(
    ("room", "day", "last", "returns"),
    [
        (ROOM, MONDAY, None, False),
        (ROOM, MONDAY, FRIDAY, False),
        (ROOM, MONDAY, MONDAY, False),
        (ROOM, MONDAY, date(2026, 11, 19), False),
        (ROOM, MONDAY, date(2026, 11, 18), True),
        (ROOM, MONDAY, date(2026, 10, 1), True),
        (MIDWINTER, date(2027, 1, 4), date(2026, 12, 18), True),
        (MIDWINTER, date(2027, 1, 5), date(2026, 12, 18), True),
        (MIDWINTER, date(2027, 1, 5), date(2027, 1, 4), False),
        (MIDWINTER, date(2026, 12, 18), date(2026, 12, 17), False),
        # A second round on a day inside the closure.
        (MIDWINTER, date(2026, 12, 30), date(2026, 12, 30), False),
        # Somebody came in the middle of the closure: what comes after it is still a return.
        (MIDWINTER, date(2027, 1, 4), date(2026, 12, 30), True),
        # A closure of one day, a Monday: Tuesday is the first day back.
        (closed(MONDAY, MONDAY), date(2026, 11, 24), FRIDAY, True),
        (closed(MONDAY, MONDAY), date(2026, 11, 25), date(2026, 11, 24), False),
        # A closure of a weekend on which nobody walks anyway; and where Saturdays are walked.
        (closed(date(2026, 11, 21), date(2026, 11, 22)), MONDAY, FRIDAY, False),
        (
            Room(days=("fri", "sat", "mon"), closures=(Closure(first=date(2026, 11, 21), last=date(2026, 11, 22)),)),
            MONDAY,
            FRIDAY,
            True,
        ),
        # A closure that was over before the last round.
        (closed(date(2026, 11, 18), date(2026, 11, 19)), MONDAY, FRIDAY, False),
    ],
)
def test_the_first_round_back(room: Room, day: date, last: date | None, *, returns: bool) -> None:
    """After a closure, or from five days of absence on; not after a weekend, nor the day after the return."""
    assert is_return(room, day, last) is returns
