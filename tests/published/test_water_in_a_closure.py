"""The litres of a closure held against published figures of what crops drink.

How each figure is known stands beside its check: `published` (seen at the source or in a page that quotes it),
`from memory` (the source is named, the figure was not read again), `common practice`, `assumed`. The forecast gives
its own margin with its litres; a check passes where the two ranges meet, or within the tolerance that is said.
"""

import msgspec
import pytest

from tests.almanac.closed_rooms import CROPS, FRIDAY, basis, checklist, film_room, planting, station
from walkabout.almanac.drinking import Drinking, drinking
from walkabout.almanac.endurance import lasting
from walkabout.almanac.model import Basis, Conditions, TankSeen
from walkabout.checklist.model import Store
from walkabout.growing.water_use import CANOPY, ESTIMATE_MARGIN, RESERVE, by_light

DAYS = 17
"""A closure of two weeks with its weekends."""
POND = Store(water="tank", fails="the tank falls", source="assumed")


def drunk(crop: str, plants: int, days: int, *, age: int = 300, light: float | None = None) -> Drinking:
    """Return what so many plants of an age drink in a closure of so many days."""
    room = film_room(plants, 500, crop=crop, days=age)
    if light is not None:
        room = msgspec.structs.replace(room, conditions={"channels": Conditions(light=light)})
    return drinking(room.plantings, room, {}, FRIDAY, days)


def meets(found: Drinking, low: float, high: float) -> bool:
    """Say whether the forecast with its margin meets a published range, litres."""
    litres = sum(found.daily)
    return litres * (1 - found.margin) <= high and low <= litres * (1 + found.margin)


def days_of(crop: str, plants: int, litres: float) -> float | None:
    room = film_room(plants, litres, crop=crop)
    return lasting(room.room.stations[0], room, {}, FRIDAY, DAYS).likely


def test_a_square_metre_of_full_grown_lettuce() -> None:
    """18 heads on a square metre: 1.77 L/m² a day, NASA Baseline Values and Assumptions Document, from memory; ±3 %."""
    assert sum(drunk("lettuce", 18, DAYS).daily) == pytest.approx(CANOPY["lettuce"] * DAYS, rel=0.03)


def test_a_square_metre_of_strawberries() -> None:
    """10 plants on a square metre: 2.22 L/m² a day, NASA Baseline Values, from memory; ±10 %."""
    assert sum(drunk("strawberry", 10, DAYS).daily) == pytest.approx(CANOPY["strawberry"] * DAYS, rel=0.10)


@pytest.mark.parametrize(("crop", "each"), [("pepper", 3), ("pea", 16), ("bean", 9), ("spring-onion", 60)])
def test_closed_canopies_of_other_crops(crop: str, each: int) -> None:
    """Pepper 2.77, pea and bean 2.46, onion 1.74 L/m² a day (NASA, from memory) at plants/m² as grown (assumed)."""
    litres = CANOPY[crop] * DAYS
    assert meets(drunk(crop, each, DAYS), litres, litres)


def test_cucumbers_by_the_light_of_a_day() -> None:
    """1500 J/cm² at 150 to 200 mL/m² for each 100 J/cm², 1.25 plants/m²: Alberta Agriculture opp4580, published."""
    low, high = (by_light(1500, each) / 1.25 for each in (150, 200))
    assert low <= drunk("cucumber", 1, 1).daily[0] <= high


def test_a_tomato_just_planted_and_full_grown() -> None:
    """0.05 L a day when planted, 1.9 on average full grown, up to 2.7: Snyder, Mississippi P1828, from memory."""
    tomato = CROPS.of["tomato"]
    assert tomato.move_on is not None
    moved = round((tomato.move_on.low + tomato.move_on.high) / 2)
    assert drunk("tomato", 1, 1, age=moved).daily[0] == pytest.approx(0.05)
    assert drunk("tomato", 1, 1).daily[0] == pytest.approx(1.9)
    assert sum(drunk("tomato", 1, DAYS).daily) * (1 + ESTIMATE_MARGIN) <= 2.7 * DAYS


def test_a_head_of_lettuce_from_seed_to_plate() -> None:
    """150 g at 20 ± 3.8 L/kg, in 35 days: 2.4 to 3.6 L. Barbosa and others 2015, IJERPH 12:6879-6891, published."""
    found = drunk("raft-lettuce", 1, 35, age=0)
    assert meets(found, 0.150 * (20 - 3.8), 0.150 * (20 + 3.8))


def test_a_head_of_lettuce_by_its_growth() -> None:
    """150 g with 5 % dry matter at 3 to 6 g/L: 1.25 to 2.5 L. Langenfeld and others 2022, published; 5 % assumed."""
    assert 1.25 <= sum(drunk("raft-lettuce", 1, 35, age=0).daily) <= 2.5


def test_a_tomato_season_in_deep_water() -> None:
    """41.7 ± 8.1 and 48.1 ± 8.3 L a plant and season (PMC7885021, table 2, published; 110 days assumed).

    The crop table's litres are those of a greenhouse in full sun: a school's lamps give half of that light.
    """
    tomato = CROPS.of["tomato"]
    assert tomato.move_on is not None
    found = drunk("tomato", 1, 110, age=round(tomato.move_on.high), light=tomato.light.low / 2)
    assert meets(found, 41.7 - 8.1, 48.1 + 8.3)


def test_a_tomato_season_on_drip() -> None:
    """70.3 and 92.5 L a plant and season on substrate (the same table), in half of full sun: the forecast meets it."""
    tomato = CROPS.of["tomato"]
    assert tomato.move_on is not None
    found = drunk("tomato", 1, 110, age=round(tomato.move_on.high), light=tomato.light.low / 2)
    assert meets(found, 70.3, 92.5)


@pytest.mark.parametrize("season", [41.7, 48.07, 70.3, 92.5])
def test_what_a_tank_has_shown_overrules_the_table(season: float) -> None:
    """A tank that lost a season's mean a day (110 days assumed), 15 top-ups: the litres are within 30 % of it."""
    tomato, a_day = CROPS.of["tomato"], 2 * season / 110
    seen = {"tub": TankSeen(used=a_day, falls=15, topped=FRIDAY)}
    room = film_room(2, 90, crop="tomato", seen=seen)
    room = msgspec.structs.replace(room, conditions={"channels": Conditions(light=tomato.light.low / 2)})
    found = drinking(room.plantings, room, {}, FRIDAY, DAYS, "tub")
    table = drinking(room.plantings, room, {}, FRIDAY, DAYS)
    assert sum(found.daily) == pytest.approx(a_day * DAYS, rel=0.30)
    assert abs(sum(found.daily) - a_day * DAYS) < abs(sum(table.daily) - a_day * DAYS)
    assert found.margin < 0.2


def test_how_long_36_lettuces_live_on_60_litres() -> None:
    """36 × 0.1 L/day on 60 L with 15 L kept: 12.5 days, exact arithmetic; the reserve is common practice."""
    assert RESERVE * 60 == 15
    assert days_of("lettuce", 36, 60) == pytest.approx(12.5)


def test_how_long_4_cucumbers_live_on_80_litres() -> None:
    """4 × 2.0 L/day on 80 L with 20 L kept: 7.5 days, exact arithmetic."""
    assert days_of("cucumber", 4, 80) == pytest.approx(7.5)


def test_the_tank_that_seven_days_take() -> None:
    """24 plants at 0.08 L/day for 7 days, three quarters usable: 17.92 L, exact arithmetic."""
    assert days_of("coriander", 24, 17.92) == pytest.approx(7.0)


def held(kind: str, store: Store, crop: str, age: int) -> tuple[float, float]:
    """Return the hours that the roots of one plant surely and likely last."""
    room: Basis = basis(
        [station("place", kind, lamps=("bar",))],
        [planting(crop, "place", 4, days=age)],
        {kind: checklist(kind, store)},
    )
    found = lasting(room.room.stations[0], room, {}, FRIDAY, DAYS)
    assert found.likely is not None
    assert found.days is not None
    return 24 * found.days, 24 * found.likely


def test_a_pot_of_15_cm_lasts_two_to_seven_days(shipped: dict[str, Store]) -> None:
    """300 to 375 mL usable, 50 to 150 mL a day: 2 to 7 days; reckoned, sizes assumed."""
    for crop in ("basil", "geranium", "bean"):
        _, likely = held("pots", shipped["pots"], crop, 300)
        assert 2 * 24 <= likely <= 7 * 24


def test_a_plug_lasts_a_day_at_most(shipped: dict[str, Store]) -> None:
    """6 to 12 mL, 5 to 15 mL a day: 7 to 40 hours of light; reckoned, sizes assumed."""
    _, likely = held("shelf", shipped["shelf"], "lettuce", 10)
    assert 7 <= likely <= 40


@pytest.mark.parametrize(("kind", "least", "most"), [("film", 0.5, 7), ("drum", 2, 13), ("drip", 2, 20)])
def test_roots_whose_feed_has_stopped(kind: str, least: float, most: float, shipped: dict[str, Store]) -> None:
    """Film 0.5 to 7 hours of light until it wilts, drum 2 to 13, drip 2 to 20, full-grown; reckoned, assumed."""
    _, likely = held(kind, shipped[kind], "lettuce", 300)
    assert least <= likely <= most


@pytest.fixture(scope="module")
def shipped() -> dict[str, Store]:
    from walkabout.checklist.read import read_checklists

    return {kind: one.store for kind, one in read_checklists().of.items() if one.store is not None}
