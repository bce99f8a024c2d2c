"""The first round after a closure begins with what is likeliest to have gone wrong."""

from datetime import timedelta
from pathlib import Path

import msgspec
import pytest

from tests.round.school import MONDAY, School, asked, choice, due, fault, healthy
from walkabout.checklist.model import Store
from walkabout.round.due import worth
from walkabout.round.returning import forecast_of

LEFT, BACK = MONDAY + timedelta(days=4), MONDAY + timedelta(days=14)
"""A Friday and, after a closed week, the Monday: ten days, five of them closed."""
CLOSURE = '[[closure]]\nfrom = 2026-09-21\nto = 2026-09-25\nname = "a closed week"\n'


def left_alone(folder: Path, more: str = CLOSURE, day: int = 14) -> School:
    """Walk the last round before the closure and come back."""
    school = School(folder / "back", more=more)
    school.go_to(LEFT)
    walk = school.begin()
    while walk.step is not None:
        healthy(walk)
    walk.finish()
    school.go_to(MONDAY + timedelta(days=day))
    return school


def test_what_has_run_dry_is_asked_first(tmp_path: Path) -> None:
    """Behind the doorway come the stations that have come to the end of what they hold, the first to fail first."""
    school = left_alone(tmp_path)
    plan, dry = school.plan(), school.room.today_for("AR").dry
    order = list(dict.fromkeys(station for station, _ in asked(plan)))
    assert list(dry) == ["greens", "shelf", "drum", "pots"]
    assert school.room.today_for("AR").closed == 9
    assert asked(plan)[0] == ("room", "doorway")
    assert order[1:5] == list(dry)


def test_it_is_bound_and_says_why(tmp_path: Path) -> None:
    """The question that opens such a station is asked whatever it is worth, with the forecast as its reason."""
    school = left_alone(tmp_path)
    plan = school.plan()
    for station, why in school.room.today_for("AR").dry.items():
        kind = next(one.kind for one in school.room.room.stations if one.key == station)
        one = due(plan, station, school.room.checklists[kind].first)
        assert (one.bound, one.why) == (True, why)
        assert next(question for key, question in asked(plan) if key == station) == one.question.id
    assert due(plan, "shelf", "moisture").why == (
        "First today: by the forecast it has come to the end of what it holds, about Friday 18 September."
    )
    assert max(len(one.why) for one in plan.asked) <= 120


def test_what_lasts_is_not_said_to_be_dry(tmp_path: Path) -> None:
    """A full raft tub and a closed case live through ten days: they are asked in their usual turn."""
    dry = left_alone(tmp_path).room.today_for("AR").dry
    assert not {"tub", "case", "film", "vine"} & set(dry)


def test_an_ordinary_round_reckons_nothing(tmp_path: Path) -> None:
    """After a weekend nothing has run dry by forecast, and no closed day is counted."""
    school = left_alone(tmp_path, more="", day=7)
    today = school.room.today_for("AR")
    assert not today.returning
    assert (today.dry, today.closed) == ({}, 0)


def test_a_kind_that_says_nothing_of_what_it_holds_gives_no_reason(tmp_path: Path) -> None:
    """Without a store in its checklist a station is asked on the first day back, but not as run dry."""
    school = left_alone(tmp_path)
    for kind, one in list(school.room.checklists.items()):
        school.room.checklists[kind] = msgspec.structs.replace(one, store=None)
    assert school.room.today_for("AR").dry == {}


def test_a_rooms_own_store_counts(tmp_path: Path) -> None:
    """Pots that hold ten litres each have not run dry; a case that lives for three days has."""
    school = left_alone(tmp_path)
    lists = school.room.checklists
    big = Store(ml=(10_000, 12_000), fails="the pots dry out", source="assumed")
    short = Store(water="nothing", days=(3, 4), fails="the air dries", source="assumed")
    lists["pots"] = msgspec.structs.replace(lists["pots"], store=big)
    lists["case"] = msgspec.structs.replace(lists["case"], store=short)
    dry = school.room.today_for("AR").dry
    assert "pots" not in dry
    assert dry["case"].endswith("about Monday 21 September.")


@pytest.mark.parametrize("returning", [True, False])
def test_closed_days_count_on_the_first_morning_alone(tmp_path: Path, *, returning: bool) -> None:
    """One day seen to and nine closed ones are ten days of chance on the first morning, and one on any other."""
    school = School(tmp_path / "back", stations=["pots"])
    school.only("pots", choice("look", reveals={"gone": 1.0}), faults={"gone": fault(10, per_week=0.07, lost=1.0)})
    here, checklist = next(place for place in school.room.places() if place[0].key == "pots")
    today = msgspec.structs.replace(school.room.today_for("AR"), returning=returning, closed=9, alone=10)
    upkeep = worth(here, checklist, msgspec.structs.replace(checklist.question[0], reveals={}), 1, today)
    assert worth(here, checklist, checklist.question[0], 1, today) - upkeep == pytest.approx(0.1 if returning else 0.01)


def test_how_often_somebody_has_to_look_still_leaves_closed_days_out(tmp_path: Path) -> None:
    """A weekly question that was answered on the last day is not due by the closed week alone."""
    school = School(tmp_path / "back", more=CLOSURE)
    school.only("pots", choice("label", should=7, must=10))
    school.go_to(LEFT)
    school.begin().write_plan()
    school.written("pots", "label")
    school.go_to(BACK)
    assert school.room.today_for("AR").returning
    assert asked(school.plan()) == []


def test_it_is_reckoned_once_a_day(tmp_path: Path) -> None:
    """What has run dry stays the same through the round, whatever is answered, and is reckoned once."""
    school = left_alone(tmp_path)
    first = school.room.today_for("AR").dry
    walk = school.begin()
    for _ in range(5):
        healthy(walk)
    assert school.room.today_for("AR").dry is first


def test_two_programs_begin_alike(tmp_path: Path) -> None:
    """A second program that opens the same folder asks the same first, for the same reasons."""
    school = left_alone(tmp_path)
    here, there = school.plan(), school.beside().plan("AR")
    assert [(one.here.key, one.question.id, one.why) for one in here.asked] == [
        (one.here.key, one.question.id, one.why) for one in there.asked
    ]


def test_the_forecast_of_an_open_room(tmp_path: Path) -> None:
    """Asked before leaving, it names the closure of room.toml, its days and every station."""
    school = School(tmp_path / "ahead", more=CLOSURE)
    school.go_to(LEFT)
    found = forecast_of(school.room, LEFT + timedelta(days=3), LEFT + timedelta(days=7))
    assert (found.name, found.leaving, found.back, found.away) == ("a closed week", LEFT, BACK, 10)
    assert {one.station for one in found.stations} == {one.key for one in school.room.room.stations}
    with pytest.raises(ValueError, match="cannot end"):
        forecast_of(school.room, BACK, LEFT)
