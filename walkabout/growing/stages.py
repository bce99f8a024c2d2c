"""From sowing to harvest: the days of the crop table, and what another temperature makes of them.

Spans in days from sowing, temperatures in °C. A crop grown warmer than usual is ready sooner, in proportion
to the degrees above its base; the correction is a rule of thumb and gives ranges, not days.
"""

from collections.abc import Mapping
from datetime import date, timedelta
from math import ceil, floor

from msgspec import Struct

from walkabout.growing.crops import Crop, Range
from walkabout.growing.limits import OutOfRange

COOL_BASE, WARM_BASE = 4.4, 10.0
"""Bases of cool and of warm crops, 40 and 50 °F: Peet, Sustainable Practices for Vegetable Production in the
South, North Carolina State University, gives them for peas and cabbage, and for beans and corn."""

NARROW = 8.0
"""A base closer than this to the usual temperature makes the correction wild; assumed."""

EMERGES_AT = 22.5
"""The crop table gives days to emergence at 20 to 25 °C: the middle of that."""

SLOWEST = 2.5
"""Cold that makes a crop take more times its usual days than this is too cold to promise a day; assumed."""

MARGIN = 0.1
"""The share of its days that a stage known by one figure alone may be late or early; assumed."""

ONLY_IF: Mapping[str, str] = {
    "raft-lettuce": "17 mol/m²/d of light, 24 °C by day and 19 °C by night",
    "rapid-brassica": "24 to 26 °C, and light day and night",
}
"""What the days of a crop were counted under, where they hold for nothing less: the lettuce handbook of Cornell
University (Brechner and Both), and classroom literature on rapid-cycling Brassica."""

STAGES = ("emergence", "move_on", "harvest", "seed")


class Stage(Struct, frozen=True):
    """One stage: from `low` to `high` days after sowing."""

    name: str
    low: float
    high: float
    source: str
    note: str = ""


class Base(Struct, frozen=True):
    """The base that a correction uses, °C, and how it is known."""

    value: float
    source: str


class Pace(Struct, frozen=True):
    """How a crop's pace was corrected: days are multiplied by `factor`."""

    factor: float
    base: Base
    usual: float
    """The temperature that the table's days are taken to hold for, °C."""
    counted: float
    """The temperature that counts: no more than the top of the crop's day range, °C."""


def of(crop: Crop) -> tuple[Stage, ...]:
    """Return the stages that the crop table knows of a crop, in their order."""
    spans = (crop.emerge, crop.move_on, crop.harvest, crop.seed)
    return tuple(_stage(name, span) for name, span in zip(STAGES, spans, strict=True) if span is not None)


def usual(crop: Crop) -> float:
    """Return the temperature that the table's days are taken to hold for, °C.

    The mean of the middles of its day and night ranges; that the days were counted there is assumed.
    """
    day = (crop.day.low + crop.day.high) / 2
    return day if crop.night is None else (day + (crop.night.low + crop.night.high) / 2) / 2


def base(crop: Crop) -> Base:
    """Return the base for corrections, °C: the crop's own where it has one far enough below its usual temperature.

    Else 4.4 °C for crops that bear 4.4 °C or less, and 10 °C for the others (Peet's figures for cool and for
    warm crops; that they hold for this crop is assumed).
    """
    if crop.base is not None and usual(crop) - crop.base.value >= NARROW:
        return Base(crop.base.value, crop.base.source)
    cool = crop.chill is not None and crop.chill.value <= COOL_BASE
    return Base(COOL_BASE if cool else WARM_BASE, "assumed")


def pace(crop: Crop, air: float, at: float | None = None) -> Pace:
    """Return how steady air of `air` °C changes a crop's days: × (usual - base) ÷ (air - base).

    `at` is the temperature that the days were counted at, the crop's usual one unless given. Warmer than the
    top of the crop's day range counts as that top. Degree days as in McMaster and Wilhelm 1997; the rest is
    assumed. Raises OutOfRange when the air is not at least 1 °C above the base, where the formula runs wild.
    """
    own, usually = base(crop), usual(crop) if at is None else at
    counted = min(air, max(crop.day.high, usually))
    if counted - own.value < 1:
        raise OutOfRange(
            f"at {air:g} °C {crop.name} hardly develops: it needs at least {own.value + 1:g} °C to reckon with"
        )
    return Pace((usually - own.value) / (counted - own.value), own, usually, counted)


def promised(crop: Crop, air: float) -> Pace:
    """Return the pace in steady air of `air` °C, where a day can be promised in it; as `pace`.

    Raises OutOfRange below the temperature at which harm begins, and where the days would become more than
    SLOWEST times the usual ones: the formula says nothing there.
    """
    own = base(crop)
    slow = own.value + (usual(crop) - own.value) / SLOWEST
    chill = slow if crop.chill is None else crop.chill.value
    if air < max(slow, chill):
        why = "is harmed by the cold" if air < chill else "hardly develops"
        least = ceil(max(slow, chill) * 10 - 1e-9) / 10
        raise OutOfRange(f"at {air:g} °C {crop.name} {why}: for a day to promise it needs at least {least:g} °C")
    return pace(crop, air)


def corrected(stage: Stage, factor: float) -> Stage:
    """Return a stage whose days are multiplied by a factor.

    A factor below 1 shortens the early end alone: warmth does not help where light holds the crop back.
    """
    return Stage(stage.name, stage.low * factor, stage.high * max(factor, 1.0), stage.source, stage.note)


def margin(stage: Stage) -> int:
    """Return the whole days by which a stage known by one figure may miss it; 0 where the table has a span."""
    return ceil(round(stage.high * MARGIN, 6)) if stage.low == stage.high else 0


def whole(stage: Stage) -> tuple[int, int]:
    """Return the whole days from and to that a stage takes: the early end rounded down, the late one up.

    Tenths of a day alone count: 28.99 days are 29.
    """
    return floor(round(stage.low, 1)), ceil(round(stage.high, 1))


def dates(stage: Stage, sown: date) -> tuple[date, date]:
    """Return the days from and to of a stage after sowing; raises ValueError outside the calendar."""
    low, high = whole(stage)
    return moved(sown, low), moved(sown, high)


def moved(day: date, days: int) -> date:
    """Return a day moved by whole days, forwards or (negative) back; raises ValueError outside the calendar."""
    try:
        return day + timedelta(days=days)
    except OverflowError:
        raise ValueError(f"{abs(days)} days from {day.isoformat()} is outside the calendar") from None


def _stage(name: str, span: Range) -> Stage:
    return Stage(name, span.low, span.high, span.source, span.note)
