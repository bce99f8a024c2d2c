"""What a row of readings does: its usual limits, its shifts, its pace, and the sentences that say so.

The charts of the handbook (`control`) are drawn for every row. What is *said* to have shifted must pass the test in
`shift`, which allows for readings that lean on each other: the charts alone, on the readings of a tank, would cry
wolf every few weeks. Which of the charts see a shift too is told with it.
"""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import Literal

import msgspec
from msgspec import Struct

from walkabout.insight.control import Cusum, Ewma, Limits, cusum, ewma, individuals
from walkabout.insight.series import EXPLAINS, Mark, Point, Series, times
from walkabout.insight.shift import FEWEST, Change, change, slips
from walkabout.insight.slope import MOST, Leaves, Slope, leaves, slope

LAST = 120
"""Shifts are looked for among so many last readings: what was before is history. Assumed."""
HARDER = 1.4
"""What F must reach where only a part of the readings shows a shift, by so much more. Found here by simulation."""
AHEAD = 60.0
"""No forecast goes further than so many days (or readings), nor further than the readings go back. Assumed."""
K, H = 0.5, 5.0
"""The k and h of a CUSUM in standard deviations, where nobody gives them (6.3.2.3 names 0.5 and 4 or 5)."""


class Chosen(Struct, frozen=True, kw_only=True):
    """What somebody sets about the charts; None for what the readings say themselves."""

    lam: float = 0.3
    k: float | None = None
    h: float | None = None
    target: float | None = None
    sigma: float | None = None
    most: int = MOST
    """The pace is that of so many last readings."""


class Shift(Struct, frozen=True):
    """Something has moved, and it is more than chance. `marks` are what was done within a day of a step."""

    since: datetime | float
    before: datetime | float | None
    """The last reading before it, None where the readings begin with it."""
    direction: Literal["up", "down"]
    rule: str
    """What found it: the test, and the charts that see it too."""
    change: Change
    marks: tuple[Mark, ...] = ()
    last: bool = True
    """Nothing has moved after it."""

    @property
    def explained(self) -> bool:
        """Whether something that was done explains it."""
        return self.change.kind == "step" and any(mark.kind in EXPLAINS for mark in self.marks)


class Trend(Struct, frozen=True):
    """All that is known of a row of readings; a part is None where there are too few for it."""

    count: int
    limits: Limits | None
    ewma: Ewma | None
    cusum: Cusum | None
    shifts: tuple[Shift, ...]
    """The oldest first."""
    lone: tuple[Point, ...]
    """Readings far from both their neighbours: no part in the shifts and the pace."""
    slope: Slope | None
    """The pace of all readings."""
    pace: Slope | None
    """The pace since a drift set in that goes on; None without one."""
    leaves: Leaves | None
    says: tuple[str, ...] = ()
    working: tuple[str, ...] = ()

    def with_says(self, sentence: str) -> "Trend":
        """Return the trend with one more sentence at its end."""
        return msgspec.structs.replace(self, says=(*self.says, sentence))


def trend(series: Series, since: date | None = None, chosen: Chosen = Chosen()) -> Trend:  # noqa: B008 - immutable
    """Return what the readings do from a day on, with the sentences and the working. Never fails on odd readings."""
    from walkabout.insight.trend_words import says  # noqa: PLC0415 - a round asks for shifts alone
    from walkabout.insight.trend_working import working  # noqa: PLC0415 - likewise

    series = series.since(since)
    values = series.values
    lone = _lone(series.points, series.step)
    kept = without(series.points, lone)
    shifts = shifts_of(series)
    smooth, sums = _set_up(values, _usual(kept, shifts), chosen)
    pace, ahead = pace_of(series, shifts)
    found = Trend(
        len(values),
        individuals(values) if len(values) > 1 else None,
        smooth,
        sums,
        shifts,
        lone,
        slope(times(series.points), values, chosen.most),
        pace,
        ahead,
    )
    return msgspec.structs.replace(found, says=says(series, found), working=working(series, found, chosen.most))


def _set_up(values: Sequence[float], usual: Sequence[float], chosen: Chosen) -> tuple[Ewma | None, Cusum | None]:
    """Return the two charts, with a target and a sigma from what is usual where nobody gives them."""
    if len(values) < 2 or len(usual) < 2:
        return None, None
    limits = individuals(usual)
    target = limits.mean if chosen.target is None else chosen.target
    sigma = limits.sigma if chosen.sigma is None else chosen.sigma
    k = K * sigma if chosen.k is None else chosen.k
    h = H * sigma if chosen.h is None else chosen.h
    return ewma(values, target, sigma, chosen.lam), cusum(values, target, k, h)


def _usual(kept: Sequence[Point], shifts: Sequence[Shift]) -> list[float]:
    """Return what was read before the first shift, where that is enough to know what is usual; else everything."""
    before = [one.value for one in kept if not shifts or one.at < shifts[0].since]  # type: ignore[operator]
    return before if len(before) >= FEWEST else [one.value for one in kept]


def shifts_of(series: Series) -> tuple[Shift, ...]:
    """Return the shifts among the last readings, the oldest first."""
    points = without(series.points[-LAST:], _lone(series.points[-LAST:], series.step))
    at, values = times(points), [point.value for point in points]
    found = sorted(_search(at, values, series.step, 0, len(points)), key=lambda one: one.at)
    return tuple(_shift(series, points, one, last=one is found[-1]) for one in found)


def lone_places(points: Sequence[Point], step: float) -> tuple[int, ...]:
    """Return the places of readings far from both their neighbours."""
    return slips([point.value for point in points], step)


def without(points: Sequence[Point], lone: Sequence[Point]) -> tuple[Point, ...]:
    """Return the points but for the lone ones."""
    gone = {id(one) for one in lone}
    return tuple(one for one in points if id(one) not in gone)


def _lone(points: Sequence[Point], step: float) -> tuple[Point, ...]:
    return tuple(points[place] for place in lone_places(points, step))


def _search(at: Sequence[float], values: Sequence[float], step: float, low: int, high: int) -> list[Change]:
    """Return every shift between two places: the plainest first, then what lies before it and, of a step, after it."""
    if high - low < FEWEST:
        return []
    moved = _first_found(at, values, step, _windows(low, high))
    if moved is None:
        return []
    place = moved.at
    before = _search(at, values, step, low, place)
    return [*before, moved, *(_search(at, values, step, place, high) if moved.kind == "step" else [])]


def _windows(low: int, high: int) -> list[tuple[int, int]]:
    """Return what is tried, one after the other: all of it, then each two thirds.

    Readings that went up and came back are hard to see as one step, and plain where one end is left out.
    """
    third = (high - low) // 3
    return [(low, high), *([(low, high - third), (low + third, high)] if third >= FEWEST else [])]


def _first_found(
    at: Sequence[float], values: Sequence[float], step: float, windows: Sequence[tuple[int, int]]
) -> Change | None:
    for low, high in windows:
        found = change(at[low:high], values[low:high], step, 1.0 if (low, high) == windows[0] else HARDER)
        # a drift that ends within the readings is no drift any more
        if found is not None and (found.kind == "step" or high == windows[0][1]):
            return msgspec.structs.replace(found, at=low + found.at)
    return None


def _shift(series: Series, points: Sequence[Point], one: Change, *, last: bool) -> Shift:
    first = points[one.at]
    before = points[one.at - 1] if one.at else None
    return Shift(
        since=first.at,
        before=before.at if before is not None else None,
        direction="up" if one.size > 0 else "down",
        rule=", ".join((f"{one.kind} test", *_charts(points, one, series.step))),
        change=one,
        marks=_near(series.marks, before.at if before is not None else None, first.at),
        last=last,
    )


def _charts(points: Sequence[Point], one: Change, step: float) -> list[str]:
    """Return the charts, set up on the readings before a shift, on which those after it give a signal."""
    values = [point.value for point in points]
    sigma = max(individuals(values).sigma, step / 2)
    after = values[one.at :]
    smooth = ewma(after, one.before, sigma)
    sums = cusum(after, one.before, K * sigma, H * sigma)
    return [name for name, seen in (("EWMA", smooth.signals), ("CUSUM", sums.signals)) if seen]


def _near(marks: Sequence[Mark], before: datetime | float | None, first: datetime | float) -> tuple[Mark, ...]:
    """Return what was done between the two readings around a shift, or within a day of the first one after it."""
    if not isinstance(first, datetime):
        return ()
    day = first.date()
    earliest = min(before.date(), day - timedelta(days=1)) if isinstance(before, datetime) else day - timedelta(days=1)
    return tuple(mark for mark in marks if earliest <= mark.at.date() <= day + timedelta(days=1))


def pace_of(series: Series, shifts: Sequence[Shift]) -> tuple[Slope | None, Leaves | None]:
    """Return the pace since the last shift where that is a drift, and when the good range is left at it."""
    if not shifts or shifts[-1].change.kind != "drift":
        return None, None
    kept = without(series.points, _lone(series.points, series.step))
    points = [one for one in kept if not one.at < shifts[-1].since]  # type: ignore[operator]
    pace = slope(times(points), [one.value for one in points])
    since_read = [one for one in series.marks if one.kind in EXPLAINS and not one.at < points[-1].at]  # type: ignore[operator]
    if pace is None or series.good is None or series.scored or since_read:
        return pace, None
    return pace, _soon(leaves(series.good, pace, pace.level), times(kept))


def _soon(ahead: Leaves | None, at: Sequence[float]) -> Leaves | None:
    return ahead if ahead is not None and ahead.after <= min(AHEAD, at[-1] - at[0]) else None
