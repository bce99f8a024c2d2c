"""What Today says about the round and the days before."""

from datetime import timedelta
from pathlib import Path

import pytest

from tests.round.school import MONDAY, School, choice, healthy
from walkabout.checklist.model import Choice
from walkabout.jobs.findings import flag
from walkabout.round.today import today_page

CLOSURE = '[[closure]]\nfrom = 2026-09-21\nto = 2026-09-25\nname = "a closed week"\n'


@pytest.fixture
def school(tmp_path: Path) -> School:
    school = School(tmp_path / "room", ["pots", "greens"], more=CLOSURE)
    school.only("pots", choice("a"), choice("b"))
    return school


def walk_all(school: School) -> None:
    walk = school.begin()
    while walk.step is not None:
        school.tick(65)
        healthy(walk)
    walk.finish()


def test_before_the_round(school: School) -> None:
    """Nobody has walked: how many stations and questions, and how long."""
    page = today_page(school.room, "AR")
    assert page.headline == "The round has not been walked today."
    assert page.detail.startswith("1 station, 2 questions, about 0:35.")
    assert not page.walked


def test_half_way(school: School) -> None:
    """A round under way says whose it is and how much is open."""
    school.begin().pick(["good"])
    page = today_page(school.room)
    assert (page.headline, page.detail) == ("The round of AR is not finished.", "1 question is open.")


def test_after_the_round(school: School) -> None:
    """A walked round says by whom and in what time; measuring jobs are no round."""
    walk_all(school)
    page = today_page(school.room)
    assert page.headline == "The round was walked today by AR, in 2:10."
    assert page.detail == "Nothing is due."
    assert page.walked


def test_on_a_saturday_and_in_a_closure(school: School) -> None:
    """Nobody is expected, and the round can be walked all the same."""
    for days in (5, 8):
        school.go_to(MONDAY + timedelta(days=days))
        assert today_page(school.room).headline == "No round is expected today."


def test_after_a_closure(school: School) -> None:
    """The first round back says that it is one."""
    school.go_to(MONDAY + timedelta(days=4))
    walk_all(school)
    school.go_to(MONDAY + timedelta(days=14))
    assert today_page(school.room).headline == "The first round after some days away has not been walked."


def test_where_to_look_closest(school: School) -> None:
    """A worsening answer is named with where it leads; else a finding that is looked at again."""
    level = choice(
        "level",
        choices=(
            Choice(id="full", says="full"),
            Choice(id="finger", says="a finger below"),
            Choice(id="hand", says="a hand below", verdict="watch", why="It falls."),
            Choice(id="dry", says="roots hang dry", verdict="now", why="Dry.", do="Fill up."),
        ),
    )
    school.only("pots", level)
    for days, picked in ((3, "full"), (2, "finger"), (1, "hand")):
        school.written("pots", "level", days_ago=days, choices=[picked])
    assert today_page(school.room, "AR").detail.endswith(
        'Closest look at The pots: it fell two looks running; at this rate it is "roots hang dry" today.'
    )


def test_fourteen_days_of_each_station(school: School) -> None:
    """The gravest verdict of each day, 'not looked' where nobody looked at anything, '' without a round."""
    school.written("pots", "a", days_ago=2, verdict="good")
    school.written("pots", "b", days_ago=2, verdict="today")
    school.written("pots", "a", days_ago=1, state="not looked", verdict="")
    school.written("greens", "a", days_ago=20)
    school.written("greens", "a", days_ago=13)
    page = today_page(school.room)
    rows = {row.key: row.verdicts for row in page.days}
    assert page.dates[0] == MONDAY - timedelta(days=13)
    assert page.dates[-1] == MONDAY
    assert rows["pots"][-3:] == ("today", "not looked", "")
    assert rows["greens"] == ("good", *[""] * 13)
    assert set(rows) == {"room", "pots", "greens"}


def test_what_is_open_and_what_comes(school: School) -> None:
    """Findings that are open and the closure ahead stand on the page."""
    finding = flag(station="pots", seen="a hole", verdict="today", by="K7", now=school.now)
    school.room.save(finding)
    page = today_page(school.room)
    assert page.findings == (finding,)
    assert any("a closed week begins; last round on Friday 18 Sep" in one.says for one in page.ahead)
