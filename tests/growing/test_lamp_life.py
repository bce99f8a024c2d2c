"""Lit hours of a lamp, and when they are used up."""

from datetime import date
from math import inf

import pytest

from walkabout.growing.lamp_life import HOLD_MERCURY, RATED, days_of, lit_hours, rated
from walkabout.growing.limits import OutOfRange
from walkabout.room.model import Lamp


def test_a_year_of_lit_hours() -> None:
    """16 hours a day are 5840 in a year, by definition."""
    assert lit_hours(16, (date(2026, 11, 25) - date(2025, 11, 25)).days) == 5840
    assert lit_hours(0, 400) == 0


@pytest.mark.parametrize(
    ("life", "hours", "days"), [(50_000, 16, 3125), (20_000, 16, 1250), (1000, 24, 41), (100, 0, None)]
)
def test_days_until_they_are_used_up(life: float, hours: float, days: int | None) -> None:
    """Whole days; a lamp that is never lit has none."""
    assert days_of(life, hours) == days
    if days is not None:
        assert lit_hours(hours, days) <= life < lit_hours(hours, days + 1)


def test_the_makers_hours_come_first() -> None:
    """Where room.toml says them; else those of the kind, which say that they are from memory."""
    own = rated("led", 36_000)
    assert own is not None
    assert (own.hours, own.source) == (36_000, "the maker's hours in room.toml")
    for kind in RATED:
        found = rated(kind)
        assert found is not None
        assert found.source.startswith("from memory")
        assert 100 <= found.hours <= 200_000


def test_every_kind_of_lamp_in_a_room_is_known() -> None:
    """All but a window, which does not wear out, whatever is written beside it."""
    kinds = set(Lamp.__annotations__["kind"].__args__)
    assert kinds == {*RATED, "window"}
    assert rated("window") is rated("window", 5000) is None
    assert set(HOLD_MERCURY) < set(RATED)


def test_a_led_outlasts_a_tube_and_a_tube_a_filament() -> None:
    """The order of the kinds is common knowledge."""
    hours = [RATED[kind].hours for kind in ("led", "tube", "high-pressure sodium", "metal halide", "incandescent")]
    assert hours == sorted(hours, reverse=True)


@pytest.mark.parametrize(("hours", "days"), [(-1, 1), (25, 1), (16, -1), (inf, 1), (16, inf)])
def test_what_cannot_be(hours: float, days: float) -> None:
    """It is refused, with the limit."""
    with pytest.raises(OutOfRange, match=r"it must be|no number"):
        lit_hours(hours, days)


def test_rated_hours_that_cannot_be() -> None:
    """Less than a week's and more than a life's are refused."""
    for maker in (99, 200_001):
        with pytest.raises(OutOfRange):
            rated("led", maker)
    with pytest.raises(OutOfRange):
        days_of(1000, 25)
