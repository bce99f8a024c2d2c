"""What a row of readings does: its usual limits, its shifts, its pace, and the sentences that say so.

The charts of the handbook (`control`) are drawn for every row. What is *said* to have shifted must pass the test in
`shift`, which allows for readings that lean on each other: the charts alone, on the readings of a tank, would cry
wolf every few weeks. Which of the charts see a shift too is told with it. Where somebody has set the charts up, with a
target of their own, their signals decide.
"""

import itertools
from collections.abc import Sequence
from datetime import date, datetime, timedelta

import msgspec

from walkabout.insight.control import Cusum, Ewma, cusum, ewma, individuals
from walkabout.insight.series import EXPLAINS, Mark, Point, Series, times
from walkabout.insight.shift import FEWEST, Change, changes, slips
from walkabout.insight.slope import Leaves, Slope, leaves, slope
from walkabout.insight.trend_model import Chosen, Shift, Trend
from walkabout.insight.trend_says import says
from walkabout.insight.trend_working import working

__all__ = ["Chosen", "Shift", "Trend", "pace_of", "shifts_of", "trend", "without"]

LAST = 120
"""Shifts are looked for among so many last readings: what was before is history. Assumed."""
HARDER = 1.4
"""What F must reach where only a part of the readings shows a shift, by so much more. Found here by simulation."""
AHEAD = 60.0
"""No forecast goes further than so many days (or readings), nor further than the readings go back. Assumed."""
K, H = 0.5, 5.0
"""The k and h of a CUSUM in standard deviations, where nobody gives them (6.3.2.3 names 0.5 and 4 or 5)."""


def trend(series: Series, since: date | None = None, chosen: Chosen = Chosen()) -> Trend:  # noqa: B008 - immutable
    """Return what the readings do from a day on, with the sentences and the working. Never fails on odd readings."""
    series = series.since(since)
    looked = series.looked
    values = [one.value for one in looked]
    lone = _lone(looked, series.step)
    kept = without(looked, lone)
    shifts = shifts_of(series)
    # a chart of days says nothing about the hours that are drawn
    charted = values if series.days is None else []
    smooth, sums = _set_up(charted, _usual(kept, shifts), chosen)
    pace, ahead = pace_of(series, shifts)
    found = Trend(
        len(values),
        individuals(charted) if len(charted) > 1 else None,
        smooth,
        sums,
        shifts,
        lone,
        slope(times(looked), values, chosen.most),
        pace,
        ahead,
        chosen,
    )
    return msgspec.structs.replace(found, says=says(series, found), working=working(series, found))


def _set_up(values: Sequence[float], usual: Sequence[float], chosen: Chosen) -> tuple[Ewma | None, Cusum | None]:
    """Return the two charts, with a target and a sigma from what is usual where nobody gives them."""
    if len(values) < 2 or len(usual) < 2:
        return None, None
    limits = individuals(usual)
    target = limits.mean if chosen.target is None else chosen.target
    sigma = limits.sigma if chosen.sigma is None else chosen.sigma
    k = K * sigma if chosen.k is None else chosen.k
    h = H * sigma if chosen.h is None else chosen.h
    return ewma(values, target, sigma, chosen.lam, exact=chosen.exact), cusum(values, target, k, h)


def _usual(kept: Sequence[Point], shifts: Sequence[Shift]) -> list[float]:
    """Return what was read before the first shift, where that is enough to know what is usual; else everything."""
    before = [one.value for one in kept if not shifts or one.at < shifts[0].since]  # type: ignore[operator]
    return before if len(before) >= FEWEST else [one.value for one in kept]


def shifts_of(series: Series) -> tuple[Shift, ...]:
    """Return the shifts among the last readings, the oldest first."""
    last = series.looked[-LAST:]
    points = without(last, _lone(last, series.step))
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
    if not moved:
        return []
    ends = [low, *(one.at for one in moved), *([high] if moved[-1].kind == "step" else [])]
    between = [_search(at, values, step, begin, end) for begin, end in itertools.pairwise(ends)]
    return [*moved, *itertools.chain.from_iterable(between)]


def _windows(low: int, high: int) -> list[tuple[int, int]]:
    """Return what is tried, one after the other: all of it, then each two thirds.

    Readings that went up and came back are hard to see as one step, and plain where one end is left out.
    """
    third = (high - low) // 3
    return [(low, high), *([(low, high - third), (low + third, high)] if third >= FEWEST else [])]


def _first_found(
    at: Sequence[float], values: Sequence[float], step: float, windows: Sequence[tuple[int, int]]
) -> tuple[Change, ...]:
    for low, high in windows:
        found = changes(at[low:high], values[low:high], step, 1.0 if (low, high) == windows[0] else HARDER)
        # a drift that ends within the readings is no drift any more
        if found and (found[0].kind == "step" or high == windows[0][1]):
            return tuple(msgspec.structs.replace(one, at=low + one.at) for one in found)
    return ()


def _shift(series: Series, points: Sequence[Point], one: Change, *, last: bool) -> Shift:
    first = points[one.at]
    before = points[one.at - 1] if one.at else None
    return Shift(
        since=first.at,
        before=before.at if before is not None else None,
        direction="up" if one.size > 0 else "down",
        rule=", ".join((f"{'stair' if one.together > 1 else one.kind} test", *_charts(points, one, series.step))),
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
    kept = without(series.looked, _lone(series.looked, series.step))
    points = [one for one in kept if not one.at < shifts[-1].since]  # type: ignore[operator]
    pace = slope(times(points), [one.value for one in points])
    since_read = [one for one in series.marks if one.kind in EXPLAINS and not one.at < points[-1].at]  # type: ignore[operator]
    if pace is None or series.bounds is None or series.scored or since_read:
        return pace, None
    return pace, _soon(leaves(series.bounds, pace, pace.level), times(kept))


def _soon(ahead: Leaves | None, at: Sequence[float]) -> Leaves | None:
    return ahead if ahead is not None and ahead.after <= min(AHEAD, at[-1] - at[0]) else None
