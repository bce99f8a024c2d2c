"""Sowing back from a day, and light turned into lettuce, against published figures."""

from datetime import date, timedelta

import pytest

from walkabout.growing import crops, spacing
from walkabout.growing import harvest as of
from walkabout.growing import stages as growing


def day_number(day: date) -> int:
    """Return the Julian day number of a day.

    Fliegel and Van Flandern 1968, Communications of the ACM 11:657 (from memory): whole numbers alone, so it
    is independent of any library. The divisions cut towards zero.
    """
    year, month, of_month = day.year, day.month, day.day
    early = -1 if month < 3 else 0
    return (
        1461 * (year + 4800 + early) // 4
        + 367 * (month - 2 - 12 * early) // 12
        - 3 * ((year + 4900 + early) // 100) // 4
        + of_month
        - 32075
    )


@pytest.mark.parametrize(
    ("harvest", "days", "sow"),
    [
        pytest.param("2025-06-20", 35, "2025-05-16", id="lettuce, 35 days from the Cornell lettuce handbook"),
        pytest.param("2024-03-10", 40, "2024-01-30", id="rapid-cycling Brassica to seed, across 29 February"),
        pytest.param("2023-03-10", 40, "2023-01-29", id="the same in a common year"),
        pytest.param("2026-01-05", 60, "2025-11-06", id="across the new year"),
        pytest.param("2100-03-01", 1, "2100-02-28", id="a century without a leap day"),
    ],
)
def test_sowing_days(harvest: str, days: int, sow: str) -> None:
    """Plain calendar arithmetic, checked with Julian day numbers as well."""
    found = growing.moved(date.fromisoformat(harvest), -days)
    assert found.isoformat() == sow
    assert day_number(date.fromisoformat(harvest)) - day_number(found) == days


def test_julian_day_numbers_run_on() -> None:
    """The check's own formula: 1 January 2000 is 2 451 545, and each day is one more."""
    day = date(2000, 1, 1)
    assert day_number(day) == 2_451_545
    for _ in range(800):
        following = day + timedelta(days=1)
        assert day_number(following) == day_number(day) + 1
        day = following


def test_light_given_to_a_lettuce() -> None:
    """17 mol/m²/d for 35 days are 595 mol/m² (Cornell handbook's settings; the product worked out here)."""
    assert of.photons(17, 35) == pytest.approx(595, abs=0.5)


@pytest.mark.parametrize(("ppfd", "grams", "mass"), [(200, 29, 9.69), (400, 27, 18.04), (750, 21, 26.31)])
def test_lettuce_from_light(ppfd: float, grams: float, mass: float) -> None:
    """Carotti and colleagues 2021, Frontiers in Plant Science 11:592171: 16 h a day for 29 days; products here."""
    light = of.photons(of.daily_light(ppfd, 16), 29)
    assert of.efficiency(ppfd) == grams
    assert of.fresh_mass(light, grams) == pytest.approx(mass, abs=0.05)


@pytest.mark.parametrize(("crop", "gain"), [("lettuce", 16.0), ("mizuna", 18.7)])
def test_a_longer_day(crop: str, gain: float) -> None:
    """Palmer and van Iersel 2020, Agronomy 10(11):1659: heavier at 20 h than at 10 h, 16 mol/m²/d both times."""
    assert of.longer_day_gain(crop, 10, 20) * 100 == pytest.approx(gain)


def test_closed_canopy_figures_overrate_a_whole_crop() -> None:
    """From sowing, a raft crop gives 150 g × 38 plants/m² (Cornell; the 38 from memory): a third of the formula.

    So the figure for a closed canopy must not be used for seedlings.
    """
    raft = 150 * 38 / 1000
    formula = of.fresh_mass(of.photons(17, 35), of.efficiency(17 / (16 * 0.0036)))
    assert raft < 0.4 * formula


def test_raft_spacing() -> None:
    """38 plants a square metre (Cornell handbook, from memory) stand 16 cm apart, 97 stand 10 cm apart."""
    assert spacing.spacing_for(38) == pytest.approx(16.2, abs=0.1)
    assert spacing.spacing_for(97) == pytest.approx(10.2, abs=0.1)
    assert crops.load().of["raft-lettuce"].spacing.value == pytest.approx(spacing.spacing_for(38), abs=0.5)


@pytest.mark.parametrize(
    ("crop", "stage", "low", "high"),
    [
        pytest.param("raft-lettuce", "harvest", 35, 35, id="Cornell lettuce handbook: 35 days from seed"),
        pytest.param("raft-lettuce", "move_on", 11, 11, id="Cornell lettuce handbook: moved to the raft on day 11"),
        pytest.param("lettuce", "harvest", 41, 60, id="Palmer and van Iersel 2020, 41; a dim cool cellar, nearly 60"),
        pytest.param("rapid-brassica", "harvest", 14, 14, id="classroom literature: flowers on day 14"),
        pytest.param("rapid-brassica", "seed", 35, 45, id="classroom literature: seed on day 35 to 45"),
        pytest.param("basil", "move_on", 14, 21, id="Walters and Currey 2015: 2 to 3 weeks"),
        pytest.param("basil", "harvest", 35, 42, id="Walters and Currey 2015: and 3 weeks more"),
        pytest.param("tomato", "move_on", 35, 42, id="Mid-Atlantic table A-4: 5 to 6 weeks"),
        pytest.param("pepper", "move_on", 49, 63, id="Mid-Atlantic table A-4: 7 to 9 weeks"),
        pytest.param("aubergine", "move_on", 42, 63, id="Mid-Atlantic table A-4: 6 to 9 weeks"),
        pytest.param("cucumber", "move_on", 14, 28, id="Mid-Atlantic table A-4: 2 to 4 weeks"),
        pytest.param("broccoli", "move_on", 28, 49, id="Mid-Atlantic table A-4: 4 to 7 weeks"),
    ],
)
def test_stages_of_crops(crop: str, stage: str, low: float, high: float) -> None:
    """The stages that the arithmetic starts from are the published ones, to the day."""
    found = {one.name: one for one in growing.of(crops.load().of[crop])}[stage]
    assert (found.low, found.high) == (low, high)
