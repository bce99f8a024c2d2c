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
from walkabout.almanac.emptied import emptied
from walkabout.almanac.first_morning import PEOPLE, TOP
from walkabout.almanac.model import Basis, Course, Forecast, Foreseen, Standing, TankSeen
from walkabout.almanac.standing import standing
from walkabout.almanac.whole import almanac
from walkabout.checklist.model import Checklist, Fault, Store
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
        "28 portions of lettuce for class 9 is promised for Fri 18 Dec, when nobody is there.",
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
        ("dry", "the pots have probably dried out since about Sun 6 Dec, if a visit was missed"),
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


def mats(early: int) -> tuple[Basis, dict[str, Course]]:
    """Return a room of trays on thin mats under a lamp, ready so many days after the last round, five at the least."""
    store = Store(
        days=(0.4, 1), fails="the mats dry out", saves=("Set the trays on a wet mat",), dark=False, source="a"
    )
    room = basis(
        [station("trays", "greens", lamps=("bar",))], [planting("cress", "trays", 4, days=8)],
        {"greens": checklist("greens", store)},
    )  # fmt: skip
    one = room.plantings[0]
    ready = FRIDAY + timedelta(days=early)
    return room, {one.key: course(one, ready, ready + timedelta(days=4))}


def test_a_weekend_on_a_wet_mat_is_usually_lived_through() -> None:
    """Trays watered well, on a wet mat, live to Monday as a rule: not emptied, but looked at first."""
    room, courses = mats(3)
    found = forecast(FRIDAY + timedelta(days=1), FRIDAY + timedelta(days=2), "", room, courses)
    (trays,) = found.stations
    assert trays.fate == "lasts if"
    assert (trays.days_helped or 0) < found.away <= (trays.likely_helped or 0)
    assert "harvest cress before, if a little early" in trays.instead
    says = [one.says for one in found.before]
    assert says == ["Water it well, from below", "Set the trays on a wet mat"]
    assert found.first_morning == (("trays", "the mats may have dried out"),)


def test_what_is_nearly_ready_is_harvested_early_before_a_long_closure() -> None:
    """What no mat saves, but may be cut, is harvested; what may not be cut yet is handed on. Nothing is thrown away."""
    room, courses = mats(3)
    found = forecast(MONDAY_AFTER, LAST, "", room, courses)
    assert found.stations[0].fate == "harvest first"
    assert found.before[0].says.startswith("Harvest cress")
    room, courses = mats(9)
    found = forecast(MONDAY_AFTER, LAST, "", room, courses)
    assert found.stations[0].fate == "lost"
    assert [one.says.split(":")[0] for one in found.before] == ["Give the plants to somebody who waters them daily"]


def test_herbs_are_cut_back_and_go_on_drinking() -> None:
    """Past their best, herbs are cut and grow again: their tank is filled; lettuce is harvested, its tank drained."""
    for crop, begins in (("basil", "Cut basil back hard"), ("lettuce", "Harvest lettuce")):
        room = film_room(12, 30, crop=crop, seen={"tub": TankSeen(topped=FRIDAY - timedelta(days=9), changed=FRIDAY)})
        one = room.plantings[0]
        courses = {one.key: course(one, FRIDAY - timedelta(days=3), FRIDAY + timedelta(days=9))}
        found = forecast(MONDAY_AFTER, LAST, "", room, courses)
        says = [step.says for step in found.before]
        assert any(each.startswith(begins) for each in says), says
        filled = any(each.startswith("Fill the tank") for each in says)
        assert (filled, found.stations[0].fate) == ((True, "lasts if") if crop == "basil" else (False, "harvest first"))
        assert any(each.startswith("Drain it") for each in says) is not filled


def test_what_is_tried_out_a_week_before_says_so_only_with_a_week_left() -> None:
    """On the leaving day itself it is not tried out, and is to be looked at again."""
    tried = Store(
        ml=(300, 375), fails="the pots dry out", saves=("Use a wet mat, tried out a week before",), source="a"
    )
    for before, says in (
        (0, "Use a wet mat; not tried out: look at it again before leaving"),
        (3, "Use a wet mat, tried out until you leave"),
        (7, "Use a wet mat, tried out a week before"),
    ):
        room = basis(
            [station("sill", "pots")], [planting("geranium", "sill", 6)], {"pots": checklist("pots", tried)},
            today=FRIDAY - timedelta(days=before),
        )  # fmt: skip
        assert says in [one.says for one in ahead(room, last=FRIDAY + timedelta(days=9)).before]


def test_work_is_spread_over_the_days_before() -> None:
    """With a week left no day carries most of it; the last one keeps filling, watering, lamps and last looks."""
    room = school(today=FRIDAY - timedelta(days=14))
    found = ahead(room)
    last = [one for one in found.before if one.day == FRIDAY]
    assert 2 * sum(one.minutes for one in last) < found.minutes
    assert not any(one.says.startswith(("Harvest", "Wash", "Move the case", "Take the pots")) for one in last)
    assert 0 < found.adult_minutes < found.minutes
    days = {(each.station, step.says): step.day for each in found.stations for step in each.before}
    assert all(days[one.station, one.says] == one.day for one in found.before if (one.station, one.says) in days)


def test_a_station_is_washed_after_its_harvest() -> None:
    """However full the days are, nothing is drained before what grows in it is harvested."""
    for minutes in (5, 30, 90):
        room = film_room(36, 30, today=FRIDAY - timedelta(days=9), work_minutes=minutes)
        one = room.plantings[0]
        courses = {one.key: course(one, FRIDAY - timedelta(days=20), FRIDAY + timedelta(days=3))}
        said = {step.says.split(",")[0]: step.day for step in forecast(MONDAY_AFTER, LAST, "", room, courses).before}
        harvested, drained = said["Harvest lettuce"], said["Drain it"]
        assert harvested is not None
        assert drained is not None
        assert harvested <= drained <= FRIDAY


def test_a_visit_says_what_is_done_where() -> None:
    """Pots are watered, tanks filled, and a closed case is only looked at."""
    found = ahead(school(), last=FRIDAY + timedelta(days=50))
    does = {one.station: one.visit_does for one in found.stations if one.visits}
    assert (does["sill"], does["vine"], does["glass"]) == ("water", "fill the tank of", "only look at")
    (arrange,) = [one for one in found.before if one.says.startswith("Arrange")]
    assert "only look at The glass" in arrange.says
    assert arrange.station == ""
    (glass,) = [one for one in found.stations if one.station == "glass"]
    assert not any("ater" in one.says for one in glass.before)


def test_what_ran_dry_lies_behind() -> None:
    """Of what has failed by the first morning it is said what has happened, once for each fault and station."""
    found = ahead(school(), last=FRIDAY + timedelta(days=50))
    dry = [says for _, says in found.first_morning if "if a visit was missed" in says]
    assert dry
    assert all("have" in says or "has" in says for says in dry)
    assert not any("after leaving" in says or "is down" in says for _, says in found.first_morning)


def test_what_a_closure_empties_has_no_jobs_until_it_is_planted_again() -> None:
    """A tank that is drained is not renewed shortly before, and nothing is due there after the return."""
    closure = Closure(first=MONDAY_AFTER, last=LAST)
    today = FRIDAY - timedelta(days=9)
    seen = {"tub": TankSeen(topped=today, changed=FRIDAY - timedelta(days=15))}
    room = basis(
        [station("wheel", "drum", tank="tub", lamps=("bar",))], [planting("mizuna", "wheel", 30, days=60)], SHIPPED,
        tanks={"tub": 36}, seen=seen, today=today, closures=(closure,),
    )  # fmt: skip
    one = room.plantings[0]
    ending = {one.key: course(one, FRIDAY - timedelta(days=10), FRIDAY + timedelta(days=9))}
    assert emptied(room, ending, LAST) == {"wheel": FRIDAY}
    until = LAST + timedelta(days=30)
    jobs = [each for each in standing(room, until, ending) if each.station == "wheel"]
    assert jobs
    assert max(each.day for each in jobs) < FRIDAY
    assert all(each.day <= FRIDAY - timedelta(days=7) for each in jobs if each.key.startswith("change/"))
    staying = {one.key: course(one, FRIDAY + timedelta(days=40), FRIDAY + timedelta(days=60))}
    assert emptied(room, staying, LAST) == {}
    assert any(each.day > LAST for each in standing(room, until, staying) if each.station == "wheel")


def test_the_line_of_the_whole_says_what_is_an_adults() -> None:
    """One line of the almanac for all that is to be done before: how many minutes, how many of them an adult's."""
    room = school(today=FRIDAY - timedelta(days=14), closures=(Closure(first=MONDAY_AFTER, last=LAST, name="a break"),))
    found = almanac(room, room.today, LAST)
    (closure,) = found.closures
    (line,) = [one for one in found.entries if one.uid.startswith("leaving/")]
    adults = sum(one.minutes for one in closure.before if one.who == "adult")
    things = f"{len(closure.before)} things to do"
    assert line.says == f"Before a break: {things}, {closure.minutes:.0f} min, {adults:.0f} of them an adult's"
    assert (line.who, line.minutes) == ("pupil", closure.minutes)
    visits = [one for one in found.entries if one.kind == "visit"]
    assert [one.day for one in visits] == list(closure.visits)
    assert all(one.detail.startswith(("water The ", "fill the tank")) for one in visits)
