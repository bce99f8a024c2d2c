"""How long a station lives by itself, what fails first, and what would help."""

from datetime import date, timedelta
from itertools import pairwise
from math import inf

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.almanac.closed_rooms import (
    CASE,
    FRIDAY,
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
from walkabout.almanac.drinking import by_the_lamp, days_until, dimmed, drinking
from walkabout.almanac.endurance import lasting
from walkabout.almanac.model import Basis, Conditions, Lasting, TankSeen
from walkabout.almanac.visiting import LEAST_BETWEEN
from walkabout.checklist.model import Fault, Store
from walkabout.room.model import Lamp, Pump

PLANTS = st.integers(1, 60)
LITRES = st.floats(5, 300)


def first(room: Basis, days: float = 17, **courses: object) -> Lasting:
    return lasting(room.room.stations[0], room, courses, FRIDAY, days)  # type: ignore[arg-type]


def pots(count: int = 6, *, crop: str = "geranium", **more: object) -> Basis:
    return basis(
        [station("sill", "pots")],
        [planting(crop, "sill", count)],
        {"pots": checklist("pots", POTS)},
        **more,  # type: ignore[arg-type]
    )


def test_a_full_tank_lasts_until_its_reserve() -> None:
    """Litres above a quarter over litres a day; surely is with 30 % more drunk, rounded down."""
    found = first(film_room(36, 60))
    assert found.likely == pytest.approx(45 / 3.6)
    assert found.days == int(45 / (3.6 * 1.3)) == 9
    assert found.fails == "the tank is down to its reserve about Sun 13 Dec"


def test_a_tank_is_counted_as_it_stands() -> None:
    """Five days after its last top-up it lasts less; filled, as if topped up today."""
    seen = {"tub": TankSeen(topped=FRIDAY - timedelta(days=5), changed=FRIDAY)}
    found = first(film_room(36, 60, seen=seen), days=6)
    assert found.fate == "lasts if"
    assert found.likely == pytest.approx((45 - 5 * 3.6) / 3.6)
    assert found.days_helped == 9
    assert first(film_room(36, 60, seen=seen), days=5).fate == "lasts"


def test_a_tank_that_nobody_is_known_to_have_filled_has_to_be_filled() -> None:
    """Without a top-up on record a tank lasts if it is filled up on the last day."""
    found = first(film_room(36, 60, seen={}), days=3)
    assert found.fate == "lasts if"
    assert any(one.says.startswith("Fill the tank to its mark") for one in found.before)


def test_what_the_tank_lost_takes_the_place_of_the_table() -> None:
    """After many top-ups the room's own litres count; each top-up moves it further from the estimate."""
    days = []
    for falls in (0, 1, 3, 30):
        seen = {"tub": TankSeen(used=1.8 if falls else None, falls=falls, topped=FRIDAY, changed=FRIDAY)}
        days.append(first(film_room(36, 60, seen=seen)).likely or 0)
    assert days == sorted(days)
    assert days[0] == pytest.approx(12.5)
    assert days[2] == pytest.approx(45 / (0.5 * 3.6 + 0.5 * 1.8))
    assert days[3] == pytest.approx(45 / 1.8, rel=0.1)


def test_plants_that_grow_drink_more_each_day() -> None:
    """Young lettuce drinks a seedling's litres at first, and a full-grown one's at last; a tank sees the difference."""
    room = film_room(10, 60, days=18)
    daily = drinking(room.plantings, room, {}, FRIDAY, 60).daily
    assert list(daily) == sorted(daily)
    assert daily[0] == pytest.approx(10 * 0.03, rel=0.1)
    assert daily[-1] == pytest.approx(10 * 0.10)
    assert (first(room, 60).likely or inf) < 45 / daily[0]


def test_light_and_dry_air_move_the_estimate() -> None:
    """Half the crop's usual light and its usual air make three quarters of the litres."""
    room = film_room(36, 60)
    lettuce = room.crops.of["lettuce"].light
    light = (lettuce.low + lettuce.high) / 4
    dim = msgspec.structs.replace(room, conditions={"channels": Conditions(light=light, vpd=0.8)})
    assert first(dim).likely == pytest.approx(12.5 / 0.75)


def test_two_stations_on_one_tank_share_it() -> None:
    """Both last as long as the tank that they drink from together."""
    two = basis(
        [station("one", tank="tub"), station("two", tank="tub")],
        [planting("lettuce", "one", 20), planting("basil", "two", 16)],
        {"film": checklist("film", TANK)},
        tanks={"tub": 60},
    )
    found = [lasting(one, two, {}, FRIDAY, 17) for one in two.room.stations]
    assert [one.likely for one in found] == [pytest.approx(12.5)] * 2


def test_a_pot_lasts_by_what_its_roots_hold() -> None:
    """300 to 375 mL over 100 mL a day: likely 3.4 days, surely 2, in whole days of 24 hours."""
    found = first(pots())
    assert found.likely == pytest.approx(337.5 / 100, abs=0.3)
    assert found.days == 2
    assert found.fails == "the pots dry out about Sun 6 Dec"


def test_how_many_pots_there_are_does_not_matter() -> None:
    """Each pot has its own water: twice as many last as long."""
    assert first(pots(6)).days == first(pots(12)).days


def test_in_the_dark_a_plant_drinks_a_fifth() -> None:
    """A lit hour counts five dark ones; half the light hours leave 64 % of a day's water at 16 hours."""
    assert by_the_lamp(0.5, 12, 0) == pytest.approx(0.5 * 14.4 / 24)
    assert by_the_lamp(0.5, 12, 12) == pytest.approx((12 + 4.8) / 24)
    assert by_the_lamp(3, 12, 0) == 3
    assert dimmed(16) == pytest.approx((8 + 16 / 5) / (16 + 8 / 5))


@given(st.floats(0, 30), st.floats(1, 23), st.floats(-12, 12))
@settings(max_examples=60)
def test_light_and_dark_move_hours_not_days(days: float, lit: float, on: float) -> None:
    """Told by the lamp, an end stays on its own day, and a later one never comes before an earlier one."""
    assert int(days) <= by_the_lamp(days, lit, on) <= int(days) + 1
    assert by_the_lamp(days, lit, on) <= by_the_lamp(days + 0.01, lit, on) + 1e-9


def test_days_until_litres_are_drunk() -> None:
    """Within a day in proportion; never, where they outlast the days."""
    assert days_until((1.0, 2.0, 4.0), 5.0) == pytest.approx(2.5)
    assert days_until((1.0, 1.0), 5.0) is None
    assert days_until((1.0, 1.0), 0.0) == 0
    assert days_until((1.0, 1.0, 1.0, 1.0), 2.0, times=2.0) == pytest.approx(1.0)


def test_a_closed_case_lasts_for_its_weeks() -> None:
    """What is no matter of drinking lasts the least days of its checklist, and is not promised a day of failing."""
    room = basis(
        [station("glass", "case")], [planting("maidenhair fern", "glass", 3)], {"case": checklist("case", CASE)}
    )
    found = first(room)
    assert (found.fate, found.days, found.likely) == ("lasts", 21, 40.5)
    assert found.fails == "the air inside dries but not before Fri 25 Dec; sun cooks it"
    assert first(room, 30).fate == "visit"


def test_what_nobody_wrote_down_is_not_guessed() -> None:
    """Without a store and without a tank a station is counted for a weekend, and it says why."""
    room = basis([station("odd", "odd")], [planting("lettuce", "odd", 3)], {"odd": checklist("odd", None)})
    found = first(room)
    assert (found.days, found.fails) == (2, "how long it lasts is not known")
    assert "does not say" in found.working[0]


def test_an_empty_station_lasts() -> None:
    """Nothing grows, nothing fails."""
    room = basis([station("bare", "film")], [], {"film": checklist("film", TANK)})
    found = first(room)
    assert (found.fate, found.days, found.before, found.fails) == ("lasts", None, (), "nothing grows there")


def test_a_crop_that_no_table_knows_still_drinks() -> None:
    """An unknown plant counts as a full-grown lettuce."""
    assert first(film_room(36, 60, crop="moon grass")).likely == pytest.approx(12.5)


def test_half_the_lamp_hours_are_tried_where_the_dark_does_no_harm() -> None:
    """Where filling does not do, the lamp's timer is an adult's step; where plants stretch it is never said."""
    found = first(film_room(36, 60), days=12)
    (lamp,) = [one for one in found.before if "timer" in one.says]
    assert (found.fate, lamp.who) == ("lasts if", "adult")
    assert lamp.says.startswith("Set the lamp's timer to 8 hours a day")
    assert lamp.caution
    bright = msgspec.structs.replace(TANK, dark=False)
    stays = msgspec.structs.replace(film_room(36, 60), checklists={"film": checklist("film", bright)})
    again = first(stays, days=12)
    assert again.fate == "visit"
    assert not any("timer" in one.says for one in again.before)
    assert "Leave its lamp" in again.dim


def test_saving_water_doubles_what_pots_last() -> None:
    """What a checklist names to save water is said, and the days are counted with it."""
    found = first(pots(), days=4)
    assert (found.fate, found.days, found.days_helped) == ("lasts if", 2, 4)
    assert [one.says for one in found.before] == ["Water it through until it drains", "Set thirsty pots on a wet mat"]


def test_pots_by_a_window_are_taken_from_the_glass_in_winter() -> None:
    """In the cold months, before a long closure, and never where a lamp hangs or in summer."""
    glass = "Take the pots a hand's width from the glass, in case of frost"
    assert glass in [one.says for one in first(pots()).before]
    assert glass not in [one.says for one in first(pots(), days=3).before]
    june = date(2027, 6, 4)
    summer = pots(today=june)
    assert glass not in [one.says for one in lasting(summer.room.stations[0], summer, {}, june, 17).before]


def test_daylight_has_no_timer() -> None:
    """A window that is written down as a lamp is not set to half its hours."""
    from walkabout.room.model import Lamp

    found = first(film_room(36, 60, lamps={"bar": Lamp(kind="window")}), days=12)
    assert found.fate == "visit"
    assert not any("timer" in one.says for one in found.before)
    assert found.dim == ""


def test_what_is_ready_is_harvested_first() -> None:
    """A tank that cannot last, with nothing on it that is not ready: harvest, drain and clean; no visit."""
    room = film_room(36, 30)
    one = room.plantings[0]
    found = first(room, 17, **{one.key: course(one, FRIDAY - timedelta(days=1), FRIDAY + timedelta(days=30))})
    assert (found.fate, found.days_helped, found.visits) == ("harvest first", None, ())
    assert [(step.says.split(",")[0], step.who) for step in found.before] == [
        ("Harvest lettuce", "pupil"),
        ("Drain it", "adult"),
    ]


def test_what_is_ready_leaves_more_for_the_rest() -> None:
    """Harvesting half of the plants before leaving is tried before the lamps are lowered."""
    room = film_room(18, 60)
    ready = planting("pak-choi", "channels", 14, key="p-ready")
    room = msgspec.structs.replace(room, plantings=(*room.plantings, ready))
    courses = {"p-ready": course(ready, FRIDAY, FRIDAY + timedelta(days=60))}
    found = first(room, 17, **courses)
    assert found.fate == "lasts if"
    assert any(step.says == "Harvest pak choi" for step in found.before)
    assert not any("timer" in step.says for step in found.before)


def test_visits_are_on_weekdays_and_in_time() -> None:
    """Each visit comes before what was surely lasting since the last one is over."""
    found = first(film_room(60, 60, lamps={"bar": _lamp(24)}), 17)
    assert found.fate == "visit"
    assert found.visits
    stops = (FRIDAY, *found.visits, FRIDAY + timedelta(days=17))
    assert max((later - sooner).days for sooner, later in pairwise(stops)) <= (found.days_helped or 0) + 1
    assert all(day.weekday() < 5 for day in found.visits)


def _lamp(hours: float) -> object:
    from walkabout.room.model import Lamp

    return Lamp(hours=hours)


def test_what_dries_within_hours_is_not_saved_by_visits() -> None:
    """Mats that dry in a day are lost, with no visit and no work wasted, unless they are handed on."""
    mats = msgspec.structs.replace(PLUGS, ml=None, days=(0.4, 1), saves=("Set the trays on a wet mat",))
    room = basis([station("trays", "greens")], [planting("cress", "trays", 4)], {"greens": checklist("greens", mats)})
    found = first(room)
    assert (found.fate, found.visits, found.fails) == (
        "lost",
        (),
        "the plugs dry out 5 hours to 1 day after leaving",
    )
    assert [one.says[:15] for one in found.before] == ["Give the plants"]
    assert found.days_helped is not None
    assert found.days_helped < LEAST_BETWEEN


@pytest.mark.parametrize(
    ("kind", "pump", "told"),
    [
        ("film", Pump(spare=True), True),
        ("drip", Pump(spare=True), False),
        ("drip", Pump(spare=False), True),
        ("raft", Pump(moves="air", spare=False), True),
    ],
)
def test_a_stop_with_nobody_there_is_said_as_a_risk(kind: str, pump: Pump, told: bool) -> None:
    """One pump without a spare, film and drum: how soon it is felt and one chance in so many; it changes no fate."""
    stops = {"pump-stopped": Fault(says="the pump has stopped", per_week=0.015, hours=12, source="assumed")}
    room = basis(
        [station("place", kind, tank="tub", pumps=("one",), lamps=("bar",))],
        [planting("lettuce", "place", 5)],
        {kind: checklist(kind, TANK, stops)},
        tanks={"tub": 90},
        pumps={"one": pump},
    )
    found = first(room, 14)
    assert found.fate == "lasts"
    assert bool(found.risk) is told
    if told:
        assert found.risk.endswith("about 1 chance in 34 meanwhile.")
        hours = "about 12 hours" if pump.moves == "air" else "about 4 hours of light"
        assert hours in found.risk


def test_a_second_tank_does_in_place_of_visits() -> None:
    """The litres that it names, added to the first, are enough to last; five fewer are not."""
    room = film_room(60, 60)
    found = first(room, 17)
    assert found.fate == "visit"
    more = float(found.instead.removeprefix("A second tank of ").split(" ")[0])
    # a second tank has no reserve of its own: what the first keeps back serves the pump
    assert first(film_room(60, 60 + more / 0.75), 17).fate == "lasts if"
    assert first(film_room(60, 60 + (more - 5) / 0.75), 17).fate == "visit"


@given(PLANTS, LITRES, st.integers(1, 40))
@settings(max_examples=40)
def test_more_plants_never_last_longer(count: int, litres: float, age: int) -> None:
    """Twice the plants empty the same tank sooner, strictly where it is the tank that fails."""
    few, many = (first(film_room(n, litres, days=age)) for n in (count, 2 * count))
    assert (many.days if many.days is not None else inf) <= (few.days if few.days is not None else inf)
    if few.likely is not None:
        assert many.likely is not None
        assert many.likely < few.likely


@given(PLANTS, LITRES, st.floats(1, 3))
@settings(max_examples=40)
def test_more_litres_never_last_shorter(count: int, litres: float, times: float) -> None:
    """A larger tank lasts at least as long."""
    small, large = (first(film_room(count, size)) for size in (litres, litres * times))
    assert (large.days if large.days is not None else inf) >= (small.days if small.days is not None else inf)


@given(PLANTS, LITRES, st.integers(1, 60), st.integers(1, 60))
@settings(max_examples=40)
def test_a_longer_absence_never_has_fewer_visits(count: int, litres: float, one: int, other: int) -> None:
    """Visits of a short absence are the first of those of a long one."""
    short, long = (first(film_room(count, litres, days=25), days).visits for days in sorted((one, other)))
    assert long[: len(short)] == short


def test_help_is_past_once_the_day_of_leaving_is() -> None:
    """In the midst of a closure nothing is asked to be done before it, and visits lie ahead."""
    room = film_room(60, 60, today=FRIDAY + timedelta(days=6))
    found = first(room, 17)
    assert found.before == ()
    assert all(day >= date(2026, 12, 10) for day in found.visits)


@pytest.mark.parametrize(("lit", "hours"), [(24, 9.6), (14, 6.4), (8, 4.48)])
def test_a_thin_mat_is_told_in_lit_hours(lit: float, hours: float) -> None:
    """0.4 of a day's drinking is reached in the light: the fewer hours of it, the sooner after the lamp came on."""
    store = Store(days=(0.4, 1), fails="the mats dry out", dark=False, source="assumed")
    room = basis(
        [station("trays", "greens", lamps=("bar",))], [planting("cress", "trays", 4)],
        {"greens": checklist("greens", store)}, lamps={"bar": Lamp(hours=lit, on="08:10")}, starts="08:10",
    )  # fmt: skip
    found = first(room, 17)
    assert found.days == int(hours) / 24
    assert found.likely is not None
    assert found.likely >= 1
