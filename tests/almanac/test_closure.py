"""A closure as the room would go through it."""

import time
from datetime import UTC, date, datetime, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.almanac.closed_rooms import (
    CASE,
    FRIDAY,
    MONDAY_AFTER,
    PLUGS,
    POTS,
    TANK,
    basis,
    checklist,
    course,
    film_room,
    planting,
    station,
)
from walkabout.almanac.closure import forecast, named_closure
from walkabout.almanac.first_morning import PEOPLE, TOP
from walkabout.almanac.model import Basis, Forecast, Foreseen, Standing, TankSeen
from walkabout.checklist.model import Checklist, Fault
from walkabout.checklist.read import read_checklists
from walkabout.records.model import Promise
from walkabout.room.calendar import is_walked
from walkabout.room.model import Closure, Pump

LAST = date(2026, 12, 20)
"""A Sunday: the first round back is on Monday the 21st, 17 days after the last."""
SHIPPED = read_checklists().of


def school(today: date = FRIDAY, **more: object) -> Basis:
    """Return a room of ten stations with the shipped checklists, everything filled and changed on the last day."""
    seen = {key: TankSeen(topped=today, changed=today - timedelta(days=3)) for key in ("tub", "channels", "arch")}
    return basis(
        [
            station("shelf", "shelf", lamps=("bar",)),
            station("raft", "raft", tank="tub", pumps=("air",), lamps=("bar",)),
            station("film", "film", tank="channels", pumps=("one",), lamps=("bar",)),
            station("drip", "drip", tank="channels", pumps=("one",), lamps=("bar",)),
            station("vine", "vine", tank="arch", pumps=("one",), lamps=("bar",)),
            station("sill", "pots"),
            station("desk", "pots", lamps=("bar",)),
            station("glass", "case"),
            station("cacti", "cacti"),
            station("trays", "greens", lamps=("bar",)),
        ],
        [
            planting("lettuce", "shelf", 40, days=10),
            planting("raft-lettuce", "raft", 12, days=30),
            planting("basil", "film", 10),
            planting("rocket", "drip", 10),
            planting("tomato", "vine", 2),
            planting("geranium", "sill", 6),
            planting("basil", "desk", 4),
            planting("maidenhair fern", "glass", 3),
            planting("aloe", "cacti", 5),
            planting("cress", "trays", 4, days=4),
        ],
        SHIPPED,
        tanks={"tub": 90, "channels": 40, "arch": 45},
        seen=seen,
        today=today,
        **more,
    )


def ahead(room: Basis, last: date = LAST, first: date = MONDAY_AFTER, **more: object) -> Forecast:
    return forecast(first, last, "winter break", room, {}, **more)  # type: ignore[arg-type]


def test_nobody_comes_from_the_last_round_to_the_first() -> None:
    """Leaving and back are open days by the room's calendar, weekends and other closures counted in."""
    found = ahead(school())
    assert (found.leaving, found.back, found.away) == (FRIDAY, date(2026, 12, 21), 17)
    longer = ahead(school(closures=(Closure(first=date(2026, 12, 21), last=date(2026, 12, 22)),)))
    assert (longer.back, longer.away) == (date(2026, 12, 23), 19)


def test_a_closure_of_weekend_days_alone_changes_nothing() -> None:
    """From Saturday to Sunday nobody would have come anyway: three days, as on any weekend."""
    found = ahead(school(), first=FRIDAY + timedelta(days=1), last=FRIDAY + timedelta(days=2))
    assert (found.leaving, found.back, found.away) == (FRIDAY, MONDAY_AFTER, 3)


def test_what_fails_first_stands_first() -> None:
    """Stations stand by the days that they surely last; what lasts for ever stands last."""
    found = ahead(school())
    days = [one.days if one.days is not None else 1e9 for one in found.stations]
    assert days == sorted(days)
    assert len(found.stations) == 10
    fates = {one.station: one.fate for one in found.stations}
    assert fates["glass"] == fates["cacti"] == fates["raft"] == "lasts"
    assert fates["sill"] == fates["vine"] == "visit"
    assert fates["trays"] == "lost"


def test_what_is_done_before_stands_in_its_order_on_open_days() -> None:
    """Filling before lamps; the earliest day first; minutes add up; nothing on a day on which nobody comes."""
    room = school(today=FRIDAY - timedelta(days=14))
    found = ahead(room)
    days = [one.day for one in found.before]
    assert all(day is not None and is_walked(room.room, day) and room.today <= day <= FRIDAY for day in days)
    assert days == sorted(days)
    says = [one.says for one in found.before if one.day == FRIDAY]
    fill = next(place for place, one in enumerate(says) if one.startswith("Fill the tank"))
    lamp = next(place for place, one in enumerate(says) if "timer" in one)
    assert fill < lamp
    assert found.minutes == sum(one.minutes for one in found.before)
    assert all(one.minutes >= 1 for one in found.before)


def test_the_solution_is_changed_two_days_before() -> None:
    """A solution that would fall due meanwhile is changed on an open day two days early, by an adult."""
    seen = {"tub": TankSeen(topped=FRIDAY, changed=FRIDAY - timedelta(days=13))}
    room = film_room(10, 90, seen=seen, today=FRIDAY - timedelta(days=4))
    (change,) = [one for one in ahead(room).before if one.says.startswith("Change the solution")]
    assert (change.day, change.who) == (FRIDAY - timedelta(days=2), "adult")
    fresh = msgspec.structs.replace(room, tanks={"tub": TankSeen(topped=FRIDAY, changed=FRIDAY - timedelta(days=3))})
    one_week = ahead(fresh, last=FRIDAY + timedelta(days=7))
    assert not any(one.says.startswith("Change the solution") for one in one_week.before)


def test_a_change_that_is_planned_anyway_keeps_its_day_and_minutes() -> None:
    """A standing change in the week before is the same work: it is not asked twice, nor on another day."""
    room = film_room(10, 90, seen={"tub": TankSeen(topped=FRIDAY)}, today=FRIDAY - timedelta(days=4))
    day = FRIDAY - timedelta(days=3)
    planned = Standing(
        key="change/tub", says="Change it", station="channels", who="adult", minutes=17, due=day, day=day
    )
    changes = [one for one in ahead(room, standing=[planned]).before if "solution" in one.says and "run" in one.says]
    assert [(one.day, one.minutes) for one in changes] == [(day, 17)]


def test_a_shared_tank_is_filled_once() -> None:
    """Two stations on one tank are one filling and one change of solution."""
    room = basis(
        [station("one", tank="tub"), station("two", tank="tub")],
        [planting("lettuce", "one", 20), planting("basil", "two", 16)],
        {"film": checklist("film", TANK)},
        tanks={"tub": 60},
        seen={},
    )
    says = [one.says[:15] for one in ahead(room).before]
    assert says.count("Fill the tank t") == says.count("Change the solu") == 1


def test_visits_serve_every_station_that_needs_them() -> None:
    """The room's visits keep each station alive; a station's own are among them; they are arranged with the keys."""
    found = ahead(school())
    assert found.visits
    assert all(found.leaving < day < found.back and day.weekday() < 5 for day in found.visits)
    for one in found.stations:
        assert set(one.visits) <= set(found.visits)
        assert bool(one.visits) is (one.fate == "visit")
    (arrange,) = [one for one in found.before if one.says.startswith("Arrange")]
    assert arrange.who == "adult"
    assert "whoever has the keys" in arrange.says
    assert arrange.caution


def test_visits_are_as_few_as_the_thirstiest_needs() -> None:
    """Whoever comes sees to everything: as many visits as the station that lasts shortest needs, and no more."""
    found = ahead(school())
    needs = max(len(one.visits) for one in found.stations)
    assert len(found.visits) == needs


@given(st.integers(0, 70), st.integers(0, 70))
@settings(max_examples=25, deadline=None)
def test_a_longer_closure_never_has_fewer_visits(one: int, other: int) -> None:
    """The same first day and a later last one: at least as many visits."""
    room = school()
    short, long = (ahead(room, last=MONDAY_AFTER + timedelta(days=days)) for days in sorted((one, other)))
    assert len(long.visits) >= len(short.visits)
    fates = {each.station: each.fate for each in long.stations}
    assert all(fates[each.station] != "lasts" for each in short.stations if each.fate in ("visit", "lost"))


@given(st.dates(date(2026, 9, 1), date(2027, 6, 30)), st.integers(0, 40), st.integers(0, 30))
@settings(max_examples=25, deadline=None)
def test_nothing_is_asked_on_a_closed_day(first: date, days: int, lead: int) -> None:
    """Whatever the closure and today: each step lies on an open day, from today to the day of leaving."""
    other = Closure(first=date(2026, 10, 19), last=date(2026, 10, 30))
    room = school(today=first - timedelta(days=lead), closures=(other,))
    found = ahead(room, first=first, last=first + timedelta(days=days))
    for one in found.before:
        assert one.day is not None
        assert is_walked(room.room, one.day)
        assert room.today <= one.day <= found.leaving


def test_an_adults_work_is_never_given_to_a_pupil() -> None:
    """Lamps, timers, plugs, draining and visits are an adult's in every step."""
    for one in ahead(school(today=FRIDAY - timedelta(days=14))).before:
        if any(word in one.says.casefold() for word in ("timer", "lamp", "unplug", "pump", "drain it", "visit")):
            assert one.who == "adult", one.says


def test_promises_and_harvests_that_fall_into_it_are_said() -> None:
    """A promise for a closed day, and what gets ripe meanwhile, one sentence each; what is closed is not."""
    room = school()
    tomato = next(one for one in room.plantings if one.crop == "tomato")
    made = datetime(2026, 11, 1, tzinfo=UTC)
    promise = Promise(
        key="pr-1",
        crop="lettuce",
        amount=28,
        unit="portions",
        day=date(2026, 12, 18),
        people="class 9",
        made=made,
        by="AR",
    )
    kept = msgspec.structs.replace(promise, key="pr-2", closed=made)
    rows = [Foreseen(promise=one, name="lettuce", outlook="tight", chance=0.6, says="") for one in (promise, kept)]
    courses = {tomato.key: course(tomato, date(2026, 12, 10), FRIDAY + timedelta(days=90))}
    found = forecast(MONDAY_AFTER, LAST, "", room, courses, rows)
    assert found.promises == (
        "28 portions lettuce for class 9 is promised for Fri 18 Dec, when nobody is there.",
        "tomato, The vine: ready about Thu 10 Dec, and can wait for the first day back.",
    )


def test_a_harvest_that_would_be_past_its_best_is_picked_before() -> None:
    """What could be cut already and would not wait until the return is harvested before leaving."""
    room = film_room(5, 90)
    one = room.plantings[0]
    courses = {one.key: course(one, FRIDAY + timedelta(days=3), FRIDAY + timedelta(days=13))}
    found = forecast(MONDAY_AFTER, LAST, "", room, courses)
    assert any(step.says == "Harvest lettuce, since it would be past its best" for step in found.before)
    assert "past its best on the first day back" in found.promises[0]


def test_what_is_over_by_then_does_not_drink() -> None:
    """A planting whose time ends before leaving is cleared, and the station is washed and left dry."""
    room = basis(
        [station("trays", "greens")], [planting("cress", "trays", 4)], {"greens": checklist("greens", PLUGS)},
        today=FRIDAY - timedelta(days=7),
    )  # fmt: skip
    one = room.plantings[0]
    found = forecast(MONDAY_AFTER, LAST, "", room, {one.key: course(one, FRIDAY - timedelta(days=6), FRIDAY)})
    (trays,) = found.stations
    assert (trays.fate, trays.fails) == ("lasts", "nothing stands there by then")
    assert [step.says.split(":")[0] for step in found.before] == ["Harvest or clear cress", "Wash it and leave it dry"]


def test_the_first_morning_begins_with_people_and_what_ran_dry() -> None:
    """Dangers to people, then what has failed by the forecast, then by the chance in the days away times the loss."""
    faults = {
        "rare": Fault(says="the rare thing", per_week=0.001, hours=10, lost=1.0, source="assumed"),
        "often": Fault(says="the frequent thing", per_week=0.1, hours=10, lost=0.5, source="assumed"),
        "slow": Fault(says="the slow thing", per_week=1.0, hours=999, lost=1.0, source="assumed"),
        "shock": Fault(says="the dangerous thing", per_week=0.001, hours=2, lost=0, people=True, source="assumed"),
    }
    room = basis(
        [station("wet", "film", tank="tub"), station("dry", "pots"), station("glass", "case")],
        [planting("lettuce", "wet", 2), planting("geranium", "dry", 6), planting("maidenhair fern", "glass", 1)],
        {
            "film": checklist("film", TANK, faults),
            "pots": checklist("pots", POTS),
            "case": checklist("case", CASE),
        },
        tanks={"tub": 90},
    )
    assert ahead(room).first_morning == (
        ("wet", "the dangerous thing"),
        ("dry", "the pots dry out about Sun 6 Dec"),
        ("wet", "the frequent thing"),
        ("wet", "the rare thing"),
    )


def test_the_first_morning_is_short_and_says_nothing_twice() -> None:
    """At most eight lines, at most three of them dangers to people, each once, of stations that there are."""
    found = ahead(school())
    rows = found.first_morning
    assert len(rows) == len(set(rows)) <= TOP
    people = {
        (one.key, fault.says)
        for one in school().room.stations
        for fault in SHIPPED[one.kind].fault.values()
        if fault.people
    }
    assert sum(row in people for row in rows) <= PEOPLE
    assert {key for key, _ in rows} <= {one.station for one in found.stations} | {"room"}


def test_faults_that_need_somebody_or_another_lamp_are_left_out() -> None:
    """Nobody overwaters while nobody comes, and an LED has no arc tube to break."""
    says = [what for _, what in ahead(school()).first_morning]
    assert not any("too strong" in one or "discharge" in one or "watered too often" in one for one in says)


def test_a_closure_that_ends_before_it_begins_is_refused() -> None:
    """The two days are said in one sentence."""
    with pytest.raises(ValueError, match="cannot end on 2026-12-01 before it begins on 2026-12-07"):
        ahead(school(), last=date(2026, 12, 1))


def test_its_name_is_that_of_the_closure_in_the_room() -> None:
    """Days that touch a closure of room.toml take its name; others have none."""
    room = school(closures=(Closure(first=MONDAY_AFTER, last=LAST, name="winter break"),))
    assert named_closure(room, FRIDAY, LAST) == "winter break"
    assert named_closure(room, date(2027, 3, 1), date(2027, 3, 5)) == ""


def test_without_a_spare_pump_the_fate_stays_and_the_risk_is_said() -> None:
    """What may stop is a risk, not a certainty: the same fate with a spare and without."""
    without, with_spare = school(), school(pumps={"one": Pump(spare=True), "air": Pump(moves="air", spare=True)})
    fates = [[(one.station, one.fate) for one in ahead(room).stations] for room in (without, with_spare)]
    assert fates[0] == fates[1]
    risky = [{one.station for one in ahead(room).stations if one.risk} for room in (without, with_spare)]
    assert risky == [{"film", "drip", "vine", "raft"}, {"film"}]


def test_a_kind_without_a_checklist_stops_nothing() -> None:
    """A station whose kind nobody describes is still listed."""
    room = basis([station("odd", "odd")], [planting("lettuce", "odd", 1)], dict[str, Checklist]())
    assert [one.fails for one in ahead(room).stations] == ["how long it lasts is not known"]


def test_it_is_quick() -> None:
    """Ten stations are reckoned in less than 20 ms."""
    room, took = school(), []
    for _ in range(5):
        begun = time.perf_counter()
        ahead(room)
        took.append(time.perf_counter() - begun)
    assert min(took) < 0.02
