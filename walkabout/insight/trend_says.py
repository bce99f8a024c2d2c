"""A trend in plain sentences.

Whether something has *shifted* is for the test to say (see `shift`). What single readings the charts flag is named
beside it, with how often chance alone does the like.
"""

from datetime import datetime, timedelta

from walkabout.insight.series import EXPLAINS, Point, Series
from walkabout.insight.shift import FEWEST
from walkabout.insight.trend_flagged import decided, flagged_says
from walkabout.insight.trend_model import Trend
from walkabout.insight.trend_words import (
    day_words,
    moment,
    number,
    place_words,
    range_words,
    shift_says,
    unseen,
    when,
)

SURE = 0.05
"""Kendall's p below which a few readings may be said to go one way (common practice)."""
LONE = 3
"""So many readings far from their neighbours are named, the last ones."""


def says(series: Series, trend: Trend) -> tuple[str, ...]:
    """Return what a trend says: what charts signal that somebody has set up, the shifts, what else stands out."""
    own = [one.says for one in decided(series, trend)]
    found = [shift_says(series, one) for one in trend.shifts]
    if found and trend.leaves is not None:
        found[-1] = f"{found[-1]} {_leaves(series, trend)}"
    elif found and series.good is not None and (where := _where(series, trend.lone)):
        found[-1] = f"{found[-1]} {where}"
    many = f"{trend.count} {series.each}{'s' if trend.count != 1 else ''}"
    if trend.count < FEWEST:
        found.append(f"Only {many}: it takes {FEWEST} to tell a shift from chance.{_so_far(series, trend)}")
    elif not found and own:
        found.append("The test for a shift, which allows for readings that hang on the one before, shows none.")
    elif not found:
        found.append(f"No shift shown in these {many}.")
    named = trend.lone[-LONE:]
    found += flagged_says(series, trend, named)
    found += [_lone(series, point) for point in named]
    return (*own, *found, *series.notes)


def _lone(series: Series, point: Point) -> str:
    """Say what a reading far from its neighbours may be: what was done to the tank before it comes first."""
    far = f"{number(series, point.value)} {moment(series, point.at)} is far from the readings beside it"
    place = series.looked.index(point)
    before = series.looked[place - 1].at if place else None
    for mark in series.marks:
        if mark.kind not in EXPLAINS or not isinstance(before, datetime) or not isinstance(point.at, datetime):
            continue
        if before.date() <= mark.at.date() <= point.at.date():
            return f"{far}: {mark.says} {when(mark, point.at)}."
    return f"{far}: a slip, or read it again. The test for a shift leaves it out; the limits and the charts count it."


def _so_far(series: Series, trend: Trend) -> str:
    """Say the pace of a few readings for what it is worth."""
    pace = trend.slope
    if pace is None or not pace.value or trend.count < 3 or series.scored or unseen(series, pace):
        return ""
    way, per = ("up", "down")[pace.value < 0], "a day" if series.per == "day" else f"for each {series.per}"
    sure = "which may be chance" if pace.p >= SURE else "and nearly all go the same way"
    return f" So far they go {way} by {abs(pace.value):.2g} {series.unit if series.unit != 'pH' else ''}".rstrip() + (
        f" {per}, {sure}."
    )


def _leaves(series: Series, trend: Trend) -> str:
    """Say when the range is left, and between which days that lies."""
    assert trend.leaves is not None
    assert series.good is not None
    one, last = trend.leaves, series.looked[-1].at
    at = [_later(series, last, days) for days in (one.after, one.earliest, one.latest)]
    goes = f"leaves {range_words(series.good, series.decimals)}"
    if any(series.open_ends):
        goes = f"{'rises above' if one.end == 'high' else 'falls below'} {number(series, one.limit)}"
    return f"At this rate it {goes} about {at[0]} (between {at[1]} and {at[2]})."


def _where(series: Series, lone: tuple[Point, ...]) -> str:
    """Say where the last readings lie when that is outside the good range."""
    assert series.good is not None
    last = sorted(point.value for point in series.looked[-3:] if point not in lone)
    if not last or series.looked[-1] in lone:
        return ""
    now = last[len(last) // 2]
    low, high = series.bounds or series.good
    tiny = series.step / 2
    if low - tiny <= now <= high + tiny:
        return ""
    way, end = ("above", high) if now > high else ("below", low)
    passed = number(series, end) if any(series.open_ends) else range_words(series.good, series.decimals)
    return f"It is {way} {passed} now."


def _later(series: Series, last: datetime | float, days: float) -> str:
    if isinstance(last, datetime):
        return day_words(series, last + timedelta(days=days))
    return place_words(series, round(last + days))
