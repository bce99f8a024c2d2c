"""What lies ahead of the demo: its term, its closures, its promises, whatever the day on which it is made."""

from datetime import date, timedelta
from itertools import pairwise

import pytest

from walkabout.demo.make import make
from walkabout.demo.room import closures, room_text, term
from walkabout.room.calendar import is_walked
from walkabout.room.read import FILE, read_room
from walkabout.round.almanac import almanac_of

EVERY_DAY = [date(2026, 1, 1) + timedelta(days=ahead) for ahead in range(0, 4 * 365, 5)]
DECEMBER = [date(year, 12, 1) + timedelta(days=ahead) for year in (2026, 2027, 2028) for ahead in range(40)]


@pytest.mark.parametrize("days", [EVERY_DAY, DECEMBER], ids=["all year", "around the holiday"])
def test_closures_never_overlap_and_leave_today_open(days):
    """Half-term is over, the others are ahead, the reading week has nine days, and no day is closed twice."""
    for today in days:
        past, ahead, *holiday = closures(today)
        assert past.last < today < ahead.first
        assert (ahead.last - ahead.first).days == 8
        in_order = sorted((past, ahead, *holiday), key=lambda one: one.first)
        for before, after in pairwise(in_order):
            assert before.first <= before.last < after.first <= after.last
        assert all(one.first > today for one in holiday)


@pytest.mark.parametrize("days", [EVERY_DAY, DECEMBER], ids=["all year", "around the holiday"])
def test_nobody_comes_at_christmas_and_at_new_year(days):
    """When they lie within twelve weeks, 25 December and 1 January are closed; in summer there is no such holiday."""
    for today in days:
        shut = [one for one in closures(today) if one.last > today]
        for feast in (date(today.year, 12, 25), date(today.year + 1, 1, 1)):
            near = 0 < (feast - today).days <= 84
            closed = any(one.first <= feast <= one.last for one in shut)
            assert closed or not near, f"{today}: {feast}"
        if 2 <= today.month <= 9:
            assert len(closures(today)) == 2


def test_a_term_lies_around_today(tmp_path):
    """It has a name, holds the whole season and today, ends before the holiday, and room.toml says the same."""
    for today in (*EVERY_DAY, *DECEMBER):
        now = term(today)
        assert now.first <= today - timedelta(days=56)
        assert today <= now.last <= today + timedelta(days=40)
        assert now.name.endswith(" term")
        assert all(one.first > now.last for one in closures(today)[2:])
    for today in EVERY_DAY[::60]:
        (tmp_path / FILE).write_text(room_text(today), encoding="utf-8")
        found = read_room(tmp_path, set())
        assert found.room is not None
        assert found.room.terms == (term(today),)
        assert set(found.room.closures) == set(closures(today))


# Wednesday in the fixture; two closures that touch; a holiday that begins tomorrow; a Sunday in summer; a leap day
MADE_ON = [date(2026, 12, 10), date(2026, 12, 23), date(2027, 7, 18), date(2028, 2, 29)]


def ahead_of(folder, today, open_on):
    room = open_on(folder, today)
    return room, almanac_of(room, today, today + timedelta(weeks=12))


def holds(room, found, today):
    """Check what a demo promises of itself."""
    assert room.mistakes == ()
    still = [one for one in found.promises if one.promise.closed is None]
    assert all(is_walked(room.room, one.promise.day) and one.promise.day > today for one in still)
    sure, slips = still
    assert sure.outlook == "on course"
    assert slips.outlook in ("at risk", "tight")
    assert slips.ways
    week = next(one for one in found.closures if one.name == "reading week")
    assert any(one.fate != "lasts" for one in week.stations)
    assert any(one.days is not None and one.days < week.away for one in week.stations)
    feasts = {(12, 25), (1, 1)}
    assert not [one.key for one in found.standing if (one.day.month, one.day.day) in feasts and one.day > today]


def test_what_the_demo_shows_of_the_days_ahead(made, open_on):
    """One promise is on course, one slips with a way out, and the reading week costs something as things stand."""
    holds(*ahead_of(made.folder, made.today, open_on), made.today)


@pytest.mark.parametrize("today", MADE_ON, ids=str)
def test_it_shows_the_same_whatever_the_day(tmp_path, open_on, today):
    """As above, on days on which closures, weekends and the holiday lie awkwardly."""
    make(tmp_path / "room", today)
    holds(*ahead_of(tmp_path / "room", today, open_on), today)


def test_a_teacher_can_read_all_the_jobs(made, open_on):
    """Eight weeks hold well under a hundred standing jobs, and one lamp is due among them."""
    _, found = ahead_of(made.folder, made.today, open_on)
    jobs = [one for one in found.standing if one.day <= made.today + timedelta(weeks=8)]
    assert 40 < len(jobs) < 90
    assert [one.key for one in jobs if one.key.startswith("lamp/")] == ["lamp/arch"]
