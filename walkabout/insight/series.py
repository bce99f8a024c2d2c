"""A row of readings over time, as it is looked at: gaps stay gaps, and what was done stands beside it."""

import math
from collections.abc import Sequence
from datetime import date, datetime
from typing import Literal

import msgspec
from msgspec import Struct

MarkKind = Literal["solution", "dose", "move", "finding", "treatment", "picking", "loss"]
EXPLAINS: tuple[MarkKind, ...] = ("solution", "dose")
"""What makes a step in a reading that nobody need wonder about."""


class Point(Struct, frozen=True):
    """One reading: when (or the number of its row, where there are no times), what was read, the answer's key."""

    at: datetime | float
    value: float
    key: str = ""
    low: float | None = None
    """The lowest and the highest of what is summed up in it, None where it is one reading."""
    high: float | None = None


class Mark(Struct, frozen=True):
    """Something that was done or happened. `says` is a clause: 'the solution was changed'."""

    at: datetime
    kind: MarkKind
    says: str


class Series(Struct, frozen=True):
    """Readings by time. A scored answer counts down from 0, the healthy one.

    `step` is the last digit that the instrument shows, in `unit`; `labels` say what the scores 0, -1, -2 … are.
    """

    points: tuple[Point, ...]
    unit: str
    name: str
    good: tuple[float, float] | None = None
    """Both ends inside; an end that is none, because no instrument shows what lies beyond it, stands in `open_ends`."""
    marks: tuple[Mark, ...] = ()
    decimals: int = 1
    step: float = 0.0
    labels: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    """What was left out and why, one sentence each."""
    per: str = "day"
    """What a unit of time is called: "day", "reading", or the name of the column it stands in."""
    open_ends: tuple[bool, bool] = (False, False)
    """Whether the low and the high end of `good` are no ends."""
    days: tuple[Point, ...] | None = None
    """Of what was read by the hour: the means of full days, in which shifts are looked for. None elsewhere."""
    each: str = "reading"
    """What one of `looked` is called."""
    gap: float | None = None
    """Days without a reading after which there is a hole in the line; None where people read, as they come to it."""

    @property
    def scored(self) -> bool:
        """Whether the values are places on a scale of answers rather than numbers read."""
        return bool(self.labels)

    @property
    def values(self) -> tuple[float, ...]:
        """The readings, the oldest first."""
        return tuple(point.value for point in self.points)

    @property
    def looked(self) -> tuple[Point, ...]:
        """In what shifts are looked for: the readings, or the means of full days."""
        return self.points if self.days is None else self.days

    @property
    def bounds(self) -> tuple[float, float] | None:
        """The good range with an end that is none infinitely far away."""
        if self.good is None:
            return None
        return (
            -math.inf if self.open_ends[0] else self.good[0],
            math.inf if self.open_ends[1] else self.good[1],
        )

    def since(self, day: date | None) -> "Series":
        """Return the series from a day on; all of it for None, or where there are no times."""
        if day is None:
            return self
        days = _since(self.days, day) if self.days is not None else None
        marks = tuple(one for one in self.marks if one.at.date() >= day)
        return msgspec.structs.replace(self, points=_since(self.points, day), marks=marks, days=days)

    def first(self, count: int) -> "Series":
        """Return the series as it was when it had so many readings."""
        return msgspec.structs.replace(self, points=self.points[: max(count, 0)])


def _since(points: Sequence[Point], day: date) -> tuple[Point, ...]:
    return tuple(one for one in points if not isinstance(one.at, datetime) or one.at.date() >= day)


def times(points: Sequence[Point]) -> list[float]:
    """Return the times of points in days since the first one (or as they are, where they are numbers)."""
    if not points:
        return []
    first = points[0].at
    return [
        (one.at - first).total_seconds() / 86400
        if isinstance(one.at, datetime) and isinstance(first, datetime)
        else float(one.at)  # type: ignore[arg-type]
        for one in points
    ]
