"""A trend in plain sentences."""

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from walkabout.insight.series import EXPLAINS, Mark, MarkKind, Point, Series, times
from walkabout.insight.shift import FEWEST

if TYPE_CHECKING:
    from walkabout.insight.trend import Shift, Trend

SURE = 0.05
"""Kendall's p below which a few readings may be said to go one way (common practice)."""
TOLD: tuple[MarkKind, ...] = (*EXPLAINS, "move", "treatment")
"""What is named beside a shift; the rest stands on the line alone."""
GAP = 3
"""Days between two readings from which a shift is said to have come somewhere between them."""


def says(series: Series, trend: "Trend") -> tuple[str, ...]:
    """Return what a trend says, the shifts first."""
    found = [shift_says(series, one) for one in trend.shifts]
    if found and trend.leaves is not None:
        found[-1] = f"{found[-1]} {_leaves(series, trend)}"
    elif found and series.good is not None and (where := _where(series, trend.lone)):
        found[-1] = f"{found[-1]} {where}"
    if trend.count < FEWEST:
        few = f"{trend.count} reading{'s' if trend.count != 1 else ''}"
        found.append(f"Only {few}: it takes {FEWEST} to tell a shift from chance.{_so_far(series, trend)}")
    elif not found:
        found.append(f"Nothing in these {trend.count} readings is more than chance.")
    found += [_lone(series, point) for point in trend.lone[-3:]]
    return (*found, *series.notes)


def _lone(series: Series, point: Point) -> str:
    """Say what a reading far from its neighbours may be: what was done to the tank before it comes first."""
    far = f"{number(series, point.value)} {moment(series, point.at)} is far from the readings beside it"
    place = series.points.index(point)
    before = series.points[place - 1].at if place else None
    for mark in series.marks:
        if mark.kind not in EXPLAINS or not isinstance(before, datetime) or not isinstance(point.at, datetime):
            continue
        if before.date() <= mark.at.date() <= point.at.date():
            return f"{far}: {mark.says} {_when(mark, point.at)}."
    return f"{far} and was left out: a slip, or read it again."


def _so_far(series: Series, trend: "Trend") -> str:
    """Say the pace of a few readings for what it is worth."""
    pace = trend.slope
    if pace is None or not pace.value or trend.count < 3 or series.scored:
        return ""
    way, per = ("up", "down")[pace.value < 0], "a day" if series.per == "day" else f"for each {series.per}"
    sure = "which may be chance" if pace.p >= SURE else "and nearly all go the same way"
    return f" So far they go {way} by {abs(pace.value):.2g} {series.unit if series.unit != 'pH' else ''}".rstrip() + (
        f" {per}, {sure}."
    )


def shift_says(series: Series, one: "Shift") -> str:
    """Return one shift as a sentence: what has moved, by how much, since when, and what was done then."""
    change = one.change
    name = _named(series)
    since = _since(series, one)
    if series.scored:
        way = "better" if one.direction == "up" else "worse"
        moved = f"has been {way}" if change.kind == "step" else f"has slowly grown {way}"
        moved = moved if one.last else f"grew {way}"
    elif change.kind == "drift":
        way = "crept up" if one.direction == "up" else "crept down"
        moved = f"has {way}" if one.last else way
    else:
        way = "higher" if one.direction == "up" else "lower"
        size = difference(series, abs(change.size))
        moved = f"has been {size} {way}" if one.last else f"went {size} {way}"
    if not one.last:
        since = since.replace("since ", "from ", 1) if change.kind == "drift" else since.replace("since ", "", 1)
        since = f"{since} on" if change.kind == "drift" else since
    sentence = f"{name} {moved} {since}: more than chance."
    return " ".join((sentence, *_beside(one)))


def number(series: Series, value: float) -> str:
    """Return a value with its unit; a score as the answer that it stands for."""
    if series.scored:
        return f'"{series.labels[min(max(round(-value), 0), len(series.labels) - 1)]}"'
    digits = f"{round(value, series.decimals) + 0.0:.{series.decimals}f}"
    return f"pH {digits}" if series.unit == "pH" else f"{digits} {series.unit}".rstrip()


def difference(series: Series, value: float) -> str:
    """Return a difference with its unit, with a digit more where it would vanish otherwise."""
    decimals = series.decimals if round(value, series.decimals) else series.decimals + 1
    unit = "" if series.unit == "pH" else series.unit
    return f"{value:.{decimals}f} {unit}".rstrip()


def moment(series: Series, at: datetime | float) -> str:
    """Return when a reading was, as it stands after a verb: 'on Thu 12 Nov', 'at reading 13'."""
    return f"on {_day(series, at)}" if isinstance(at, datetime) else f"at {_place(series, at)}"


def _since(series: Series, one: "Shift") -> str:
    if not isinstance(one.since, datetime):
        return f"since {_place(series, one.since)}"
    apart = (one.since.date() - one.before.date()).days if isinstance(one.before, datetime) else 0
    if isinstance(one.before, datetime) and apart > GAP and one.change.kind == "step":
        return f"since some day between {_day(series, one.before)} and {_day(series, one.since)}"
    return f"since {_day(series, one.since)}"


def _beside(one: "Shift") -> list[str]:
    """Say what was done about the day of a shift."""
    if not isinstance(one.since, datetime):
        return []
    told = [f"{_upper(mark.says)} {_when(mark, one.since)}." for mark in one.marks if mark.kind in TOLD]
    return list(dict.fromkeys(told))


def _when(mark: Mark, at: datetime) -> str:
    apart = (mark.at.date() - at.date()).days
    near = {0: "that day", -1: "the day before", 1: "the day after"}
    return near.get(apart) or f"on {mark.at:%a} {mark.at.day} {mark.at:%b}"


def _leaves(series: Series, trend: "Trend") -> str:
    """Say when the range is left, and between which days that lies."""
    assert trend.leaves is not None
    assert series.good is not None
    one, last = trend.leaves, series.points[-1].at
    low, high = (f"{end:.{series.decimals}f}" for end in series.good)
    at = [_later(series, last, days) for days in (one.after, one.earliest, one.latest)]
    return f"At this rate it leaves {low} to {high} about {at[0]} (between {at[1]} and {at[2]})."


def _where(series: Series, lone: tuple[Point, ...]) -> str:
    """Say where the last readings lie when that is outside the good range."""
    assert series.good is not None
    last = sorted(point.value for point in series.points[-3:] if point not in lone)
    if not last or series.points[-1] in lone:
        return ""
    now = last[len(last) // 2]
    low, high = (f"{end:.{series.decimals}f}" for end in series.good)
    tiny = series.step / 2
    if series.good[0] - tiny <= now <= series.good[1] + tiny:
        return ""
    return f"It is {'above' if now > series.good[1] else 'below'} {low} to {high} now."


def _later(series: Series, last: datetime | float, days: float) -> str:
    if isinstance(last, datetime):
        return _day(series, last + timedelta(days=days))
    return _place(series, round(last + days))


def _day(series: Series, at: datetime) -> str:
    first, last = series.points[0].at, series.points[-1].at
    years = {one.year for one in (first, last, at) if isinstance(one, datetime)}
    return f"{at:%a} {at.day} {at:%b}" + (f" {at.year}" if len(years) > 1 else "")


def _place(series: Series, at: float) -> str:
    return f"{series.per} {at:g}"


def _named(series: Series) -> str:
    return _upper(series.name)


def _upper(text: str) -> str:
    # 'pH' keeps its own spelling
    return text if text[1:2].isupper() else text[:1].upper() + text[1:]


def mark_line(series: Series, mark: Mark) -> str:
    """Return a mark as a line beside the picture, for those who cannot see it."""
    return f"{_day(series, mark.at)}: {mark.says}"


def span_words(series: Series) -> str:
    """Say what the readings span: '24 readings from Mon 2 Nov to Wed 25 Nov'."""
    count = len(series.points)
    if not count:
        return "no readings"
    first, last = series.points[0].at, series.points[-1].at
    many = f"{count} reading{'s' if count != 1 else ''}"
    if isinstance(first, datetime) and isinstance(last, datetime):
        if times(series.points)[-1] < 1:
            return f"{many} {moment(series, first)}"
        return f"{many} from {_day(series, first)} to {_day(series, last)}"
    return many
