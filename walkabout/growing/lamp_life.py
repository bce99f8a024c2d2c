"""How long a lamp lasts: its lit hours, and the hours after which it gives too little light to go on with.

A lamp grows dim long before it goes out. What its maker says comes first; the figures here stand in for it.
"""

from collections.abc import Mapping
from math import floor

from msgspec import Struct

from walkabout.growing.limits import within

MEMORY = "from memory"


class Life(Struct, frozen=True):
    """Lit hours until a lamp should be replaced, and how they are known."""

    hours: float
    source: str


RATED: Mapping[str, Life] = {
    "led": Life(50_000, f"{MEMORY}: the hours until 70 % of the light is left, as makers often print them"),
    "tube": Life(20_000, f"{MEMORY}: the usual rated life of a straight tube"),
    "high-pressure sodium": Life(12_000, f"{MEMORY}: half its rated 24 000 hours, as growers replace it when it dims"),
    "metal halide": Life(8_000, f"{MEMORY}: less than its rated 10 000 to 20 000 hours, since it dims soonest"),
    "incandescent": Life(1_000, f"{MEMORY}: the usual rated life of a filament"),
}
"""By kind of lamp, as room.toml names them. A window has none."""

HOLD_MERCURY = ("tube", "high-pressure sodium", "metal halide")
"""Kinds that are hazardous waste by local rules. US EPA on broken and old lamps, as relayed."""


def rated(kind: str, maker: float | None = None) -> Life | None:
    """Return the lit hours of a kind of lamp, or those that its maker gives (100 to 200 000); None for a window.

    Raises OutOfRange.
    """
    if kind == "window":
        return None
    if maker is not None:
        within("the rated hours", maker, 100, 200_000, "h")
        return Life(maker, "the maker's hours in room.toml")
    return RATED.get(kind)


def lit_hours(hours: float, days: float) -> float:
    """Return the lit hours of `days` days (0 or more) at `hours` h of light a day (0 to 24). Raises OutOfRange."""
    within("the hours of light", hours, 0, 24, "h")
    within("the days", days, 0, 73_050)
    return hours * days


def days_of(life: float, hours: float) -> int | None:
    """Return the whole days until `life` lit hours are used up at `hours` h a day; None for a lamp that is never lit.

    Raises OutOfRange.
    """
    within("the hours of light", hours, 0, 24, "h")
    within("the lit hours", life, 0, 1e6, "h")
    return floor(life / hours) if hours > 0 else None
