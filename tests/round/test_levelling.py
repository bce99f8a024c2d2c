"""Asking some of a full day's questions a little earlier."""

from datetime import timedelta
from pathlib import Path

import msgspec
import pytest

from tests.round.school import MONDAY, School, asked, choice, fault
from walkabout.round.level import FILLED, PRESSES, Load, load_of, pulled_forward


@pytest.fixture
def school(tmp_path: Path) -> School:
    """Ten looks of 20 s that all must be taken by Friday, in a room of three minutes; it is Wednesday."""
    school = School(tmp_path / "room", ["pots"])
    school.only("pots", *[choice(f"q{n}", should=3, must=7, seconds=20) for n in range(10)])
    school.room.room = msgspec.structs.replace(school.room.room, minutes=3)
    for n in range(10):
        school.written("pots", f"q{n}", days_ago=3)
    school.go_to(MONDAY + timedelta(days=2))
    return school


def test_a_full_day_ahead_is_eased(school: School) -> None:
    """Two hundred seconds do not fit Friday: what is over goes to today, even beyond what is due by itself."""
    plan = school.plan()
    early = [one for one in plan.asked if not one.bound]
    assert early
    assert plan.seconds <= 180


def test_by_friday_all_have_been_asked_and_no_day_was_too_long(school: School) -> None:
    """From Wednesday to Friday each look is taken once at least, and no round is longer than three minutes."""
    seen: set[str] = set()
    for _ in range(3):
        plan = school.plan()
        assert plan.seconds <= 180
        for station, question in asked(plan):
            school.written(station, question)
            seen.add(question)
        school.tomorrow()
    assert seen == {f"q{n}" for n in range(10)}


def test_nothing_is_eased_where_nothing_is_full(school: School) -> None:
    """In an hour's room no question comes before its time for the sake of another day."""
    school.room.room = msgspec.structs.replace(school.room.room, minutes=60)
    today = school.room.today_for("AR")
    assert pulled_forward(school.room.places(), today, [], school.plan().asked) == []


def test_what_comes_early_says_so(tmp_path: Path) -> None:
    """A look that is not due by itself says that it comes early and for what."""
    school = School(tmp_path / "room", ["pots"])
    faults = {"gone": fault(500)}
    looks = [choice(f"q{n}", should=8, must=10, seconds=40, reveals={"gone": 0.9}) for n in range(10)]
    school.only("pots", *looks, faults=faults)
    school.room.room = msgspec.structs.replace(school.room.room, minutes=3)
    for n in range(10):
        school.written("pots", f"q{n}", days_ago=5)
    school.go_to(MONDAY + timedelta(days=1))
    early = [one for one in school.plan().asked if one.early]
    assert early
    assert early[0].why.startswith("A little early, since a coming round would be too long. Last looked at 6 days ago")


def test_early_looks_are_never_left_over(school: School) -> None:
    """What would only come early and does not fit is neither named as left nor made a job."""
    plan = school.plan()
    assert [one for one in (*plan.left, *plan.jobs) if one.early] == []


def test_loads_add_up() -> None:
    """Seconds and keys are counted side by side; below the most nothing is left over."""
    both = Load(10, 3).plus(Load(5, 1))
    assert both == Load(15, 4)
    assert both.beyond(Load(20, 3)) == Load(0, 1)
    assert 0 < FILLED < 1
    assert PRESSES == 60


def test_the_load_of_a_look(school: School) -> None:
    """A choice takes its seconds and one key."""
    assert load_of(school.plan().asked[0]) == Load(20, 1)
