"""What loggers read, as series: hours over some weeks, full days over longer spans.

A mean of a few hours says little about a day: half of it may be the night. So shifts, the pace and the days of longer
spans are those of days with (nearly) all their hours on record, and the series says so. Hours without a reading are
left as gaps.
"""

import math
from collections.abc import Sequence
from datetime import date, datetime, time

from msgspec import Struct

from walkabout.checklist.model import Question
from walkabout.growing.units import UNITS, Scales, decimals_shown, shown
from walkabout.insight.series import Mark, Point, Series
from walkabout.records.model_measured import Hour

LOGGED = "logged:"
"""How the id of what a logger reads begins; the quantity follows."""
BY_LOGGER = ", by logger"
HOURS_FOR = 21
"""Days that are shown by the hour; of a longer span a day is one point. Assumed."""
FULL = 22
"""A full day has so many hours on record: a clock that is put on leaves 23, and one may be missing. Assumed."""
HOUR_GAP = 2.0 / 24
"""More than so many days between two hours is a hole in the line."""
DAY_GAP = 1.5
MEANS = "Shifts are looked for in the means of full days only: within a day and a night the hours rise and fall."
_DECIMALS = {"lx": 0, "%": 0, "ppm": 0, "W": 0, "pH": 2, "mS/cm": 2, "kPa": 2, "kWh": 2}
"""Decimals of means where no question of the station says how many it has; 1 for all other units. Assumed."""


class Logged(Struct, frozen=True):
    """A quantity that loggers have read at a station."""

    id: str
    quantity: str

    @property
    def name(self) -> str:
        """What it is called: 'air temperature, by logger'."""
        return f"{self.quantity}{BY_LOGGER}"


def logged_as(question: str) -> Logged | None:
    """Return what an id means where it is that of a logger's quantity; None elsewhere."""
    return Logged(question, question.removeprefix(LOGGED)) if question.startswith(LOGGED) else None


def logged_id(quantity: str) -> str:
    """Return the id of a logger's quantity."""
    return f"{LOGGED}{quantity}"


def logged_series(
    hours: Sequence[Hour],
    asked: Question | None,
    good: tuple[tuple[float, float], tuple[bool, bool]] | None,
    marks: tuple[Mark, ...],
    scales: Scales,
) -> Series:
    """Return the hours of one quantity, by time, as a series; `asked` is the question that a person answers about it.

    Raises ValueError where there are none.
    """
    if not hours:
        raise ValueError("No logger has read this here in these days.")
    quantity, unit = hours[0].quantity, hours[0].unit
    known = unit in UNITS
    digits = asked.reading.decimals if asked is not None and asked.reading is not None else _DECIMALS.get(unit, 1)
    decimals = decimals_shown(unit, scales, digits) if known else digits
    points = tuple(_point(one, unit, scales, known=known) for one in hours)
    days, parts = _days(points)
    by_hour = (hours[-1].start.date() - hours[0].start.date()).days <= HOURS_FOR
    notes = [MEANS]
    if not by_hour and parts:
        notes.append(
            f"{parts} day{'s' if parts != 1 else ''} with fewer than {FULL} hours on record"
            f" {'were' if parts != 1 else 'was'} left out."
        )
    return Series(
        points=points if by_hour else days,
        unit=shown(0.0, unit, scales)[1] if known else unit,
        name=f"the logger's {quantity}",
        good=good[0] if good is not None else None,
        marks=marks,
        decimals=decimals,
        step=10.0**-decimals,
        notes=tuple(notes),
        open_ends=good[1] if good is not None else (False, False),
        days=days if by_hour else None,
        each="full day",
        gap=HOUR_GAP if by_hour else DAY_GAP,
    )


def _point(hour: Hour, unit: str, scales: Scales, *, known: bool) -> Point:
    low, mean, high = (shown(value, unit, scales)[0] if known else value for value in (hour.low, hour.mean, hour.high))
    return Point(hour.start, mean, low=low, high=high)


def _days(points: Sequence[Point]) -> tuple[tuple[Point, ...], int]:
    """Return the mean, the lowest and the highest of every full day, at its noon, and how many days are not full."""
    by_day: dict[date, list[Point]] = {}
    for one in points:
        assert isinstance(one.at, datetime)
        by_day.setdefault(one.at.date(), []).append(one)
    full = {day: many for day, many in by_day.items() if len(many) >= FULL}
    return tuple(_day(day, many) for day, many in full.items()), len(by_day) - len(full)


def _day(day: date, many: Sequence[Point]) -> Point:
    assert isinstance(many[0].at, datetime)
    return Point(
        datetime.combine(day, time(12), tzinfo=many[0].at.tzinfo),
        math.fsum(one.value for one in many) / len(many),
        low=min(one.low for one in many if one.low is not None),
        high=max(one.high for one in many if one.high is not None),
    )
