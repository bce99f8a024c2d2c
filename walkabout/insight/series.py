"""A row of readings over time, as it is looked at: gaps stay gaps, and what was done stands beside it."""

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
    marks: tuple[Mark, ...] = ()
    decimals: int = 1
    step: float = 0.0
    labels: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    """What was left out and why, one sentence each."""
    per: str = "day"
    """What a unit of time is called: "day", "reading", or the name of the column it stands in."""

    @property
    def scored(self) -> bool:
        """Whether the values are places on a scale of answers rather than numbers read."""
        return bool(self.labels)

    @property
    def values(self) -> tuple[float, ...]:
        """The readings, the oldest first."""
        return tuple(point.value for point in self.points)

    def since(self, day: date | None) -> "Series":
        """Return the series from a day on; all of it for None, or where there are no times."""
        if day is None:
            return self
        kept = tuple(one for one in self.points if not isinstance(one.at, datetime) or one.at.date() >= day)
        marks = tuple(one for one in self.marks if one.at.date() >= day)
        return msgspec.structs.replace(self, points=kept, marks=marks)

    def first(self, count: int) -> "Series":
        """Return the series as it was when it had so many readings."""
        return msgspec.structs.replace(self, points=self.points[: max(count, 0)])


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
