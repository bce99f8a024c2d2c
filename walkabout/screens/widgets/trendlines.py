"""A series and its trend as a picture with a legend in words: pure functions, no screen."""

import itertools
from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta
from statistics import median

from msgspec import Struct
from rich.cells import cell_len
from textual.content import Content

from walkabout.insight.series import MarkKind, Point, Series
from walkabout.insight.trend import Trend
from walkabout.insight.trend_words import good_words, mark_line
from walkabout.round.logbook import good_says, pace_says
from walkabout.screens.text import fitted, plain
from walkabout.screens.widgets.plot import Band, Mark, Picture, Row, Rule, Span
from walkabout.screens.widgets.reading import head, wrapped
from walkabout.screens.widgets.ticks import Tick, days, even

MARKS: dict[MarkKind, tuple[str, str, str]] = {
    "move": ("»", "muted", "came or went"),
    "picking": ("∪", "muted", "picked"),
    "loss": ("×", "watch", "lost"),
    "dose": ("◇", "words", "solution corrected"),
    "finding": ("!", "watch", "finding"),
    "treatment": ("+", "watch", "treated"),
    "solution": ("◆", "words", "solution changed"),
}
"""Glyph, colour and words of what was done; what stands later is written over what stands before."""
LINE = "⠤"
WELL, ILL, LONE = ("•", "accent-text"), ("▴", "watch"), ("○", "muted")
MOVED = {"up": "↗", "down": "↘"}
LEAST_GAP = 4.0
"""Days without a reading that break the line, where readings are made more often."""
DENSE = 0.6
"""With more readings than this in a column, where they are made, they are a line without points."""
MOST_MARKS = 60
"""Lines of what was done that are listed."""
WORKING = "Working"
LABEL = 18
"""Cells for the words of an answer beside the scale."""


class Shown(Struct, frozen=True):
    """A picture, and what its glyphs mean: (glyph, colour, words)."""

    picture: Picture
    legend: tuple[tuple[str, str, str], ...]


def at_day(at: datetime) -> float:
    """Return a time as days since the first day of the calendar, on the wall's clock."""
    return at.toordinal() + (at.hour * 60 + at.minute) / 1440


def shown(series: Series, trend: Trend | None, first: date, last: date, width: int, height: int) -> Shown:
    """Return the picture of a series over a span of days, for so many cells; without a trend, the readings alone."""
    points = [(at_day(one.at), one) for one in series.points if isinstance(one.at, datetime)]
    marks = tuple(_marks(series, trend))
    *y, y_ticks = _scale(series, trend, height - 1 - bool(marks))
    between = points[-1][0] - points[0][0] if points else 0.0
    rows = tuple(_rows(series, trend, points, width * between / ((last - first).days + 1)))
    limits = None if trend is None or series.scored else trend.limits
    rules = () if limits is None else tuple(Rule(end) for end in (limits.low, limits.high) if y[0] <= end <= y[1])
    room = width - max((cell_len(says) for _, says in y_ticks), default=0) - 2
    picture = Picture(
        rows=rows,
        bands=(Band(*series.bounds),) if series.bounds is not None else (),
        rules=rules,
        marks=marks,
        spans=tuple(_between(series, points)),
        x=(float(first.toordinal()), last.toordinal() + 1.0),
        y=(y[0], y[1]),
        x_ticks=tuple((day.toordinal() + 0.5, says) for day, says in days(first, last, room)),
        y_ticks=y_ticks,
        text=" ".join(trend.says) if trend is not None else "",
    )
    return Shown(picture, tuple(_legend(series, picture, trend)))


def legend_lines(legend: Sequence[tuple[str, str, str]], width: int) -> list[Content]:
    """Return the legend in lines of so many cells; a glyph keeps its words."""
    rows: list[list[Content]] = [[]]
    used = 0
    for glyph, style, words in legend:
        part = plain(f"{glyph} ", f"${style}").append(plain(words, "$muted"))
        if used and used + part.cell_length > width:
            rows.append([])
            used = 0
        rows[-1].append(part.append(plain("   ")))
        used += part.cell_length + 3
    return [Content("").join(row) for row in rows if row]


def meaning_lines(series: Series, trend: Trend, width: int, *, working: bool) -> list[Content]:
    """Return in lines of so many cells what a trend says, its working if wanted, and what was done meanwhile."""
    rows = [row for says in trend.says for row in wrapped(says, width)]
    for says in (pace_says(series, trend), good_says(series)):
        rows += wrapped(says, width, "$muted") if says else []
    if working:
        rows += head(WORKING)
        rows += [row for says in trend.working for row in wrapped(says, width, "$muted", hang=2)]
    if series.marks and series.points:
        rows += head("What was done, the newest first")
        done = [mark_line(series, one) for one in series.marks[::-1]]
        rows += [row for says in done[:MOST_MARKS] for row in wrapped(says, width, hang=2)]
        if len(done) > MOST_MARKS:
            rows.append(plain(f"and {len(done) - MOST_MARKS} before that", "$muted"))
    return rows


def _ends(series: Series, trend: Trend | None) -> tuple[float, float]:
    """Return the ends of the y scale: all readings, the limits, and the ends of the good range that are near."""
    if series.scored:
        return (-(len(series.labels) - 1.0), 0.0)
    values = [*series.values, *(end for _, low, high in _lows(series) for end in (low, high))]
    values = values or list(series.good or (0.0, 1.0))
    low, high = min(values), max(values)
    if trend is not None and trend.limits is not None:
        low, high = min(low, trend.limits.low), max(high, trend.limits.high)
    spread = max(high - low, 4 * series.step)
    if series.good is not None:
        far = 3 * spread if any(series.open_ends) else max(3 * spread, (series.good[1] - series.good[0]) / 2)
        low = min(low, series.good[0]) if low - series.good[0] <= far and not series.open_ends[0] else low
        high = max(high, series.good[1]) if series.good[1] - high <= far and not series.open_ends[1] else high
    more = max(0.05 * (high - low), series.step)
    return (low - more if min(values) < 0 or low - more >= 0 else 0.0, high + more)


def _scale(series: Series, trend: Trend | None, rows: int) -> tuple[float, float, tuple[Tick, ...]]:
    """Return (low, high, labels) of the y scale on so many rows, from label to label as many rows each."""
    low, high = _ends(series, trend)
    if not series.scored:
        return even(low, high, rows)
    apart = (rows - 1) // max(len(series.labels) - 1, 1)
    return (high - (rows - 1) / apart if apart else low), high, _labels(series)


def _labels(series: Series) -> tuple[Tick, ...]:
    return tuple((-float(at), fitted(says, LABEL).rstrip()) for at, says in enumerate(series.labels))


def _rows(series: Series, trend: Trend | None, points: Sequence[tuple[float, Point]], width: float) -> Iterator[Row]:
    lone = {id(one) for one in trend.lone} if trend is not None else set()
    kept = [(x, one) for x, one in points if id(one) not in lone]
    apart = [later[0] - one[0] for one, later in itertools.pairwise(kept)]
    gap = series.gap or (max(LEAST_GAP, 3 * median(apart)) if apart else None)
    yield Row(tuple((x, one.value) for x, one in kept), gap=gap, style="accent-text")
    dense = len(points) - 1 > DENSE * width
    yield Row(_of(kept, series, good=True), WELL[1], line=False, glyph="" if dense else WELL[0])
    yield Row(_of(kept, series, good=False), ILL[1], line=False, glyph=ILL[0])
    left_out = tuple((x, one.value) for x, one in points if id(one) in lone)
    yield Row(left_out, LONE[1], line=False, glyph=LONE[0])


def _of(points: Sequence[tuple[float, Point]], series: Series, *, good: bool) -> tuple[tuple[float, float], ...]:
    return tuple((x, one.value) for x, one in points if _is_good(series, one.value) is good)


def _is_good(series: Series, value: float) -> bool:
    if series.bounds is None:
        return True
    tiny = series.step / 2 + 1e-9
    return series.bounds[0] - tiny <= value <= series.bounds[1] + tiny


def _lows(series: Series) -> Iterator[tuple[Point, float, float]]:
    """Yield (day, its lowest, its highest) where a point is a day; an hour is too short for its own to be seen."""
    if series.days is None:
        yield from ((one, one.low, one.high) for one in series.points if one.low is not None and one.high is not None)


def _between(series: Series, points: Sequence[tuple[float, Point]]) -> Iterator[Span]:
    at = {id(one): x for x, one in points}
    return (Span(at[id(one)], low, high, "muted") for one, low, high in _lows(series) if id(one) in at)


def _marks(series: Series, trend: Trend | None) -> Iterator[Mark]:
    order = list(MARKS)
    for one in sorted(series.marks, key=lambda mark: order.index(mark.kind)):
        glyph, style, _ = MARKS[one.kind]
        yield Mark(at_day(one.at), glyph, style, through=one.kind == "solution")
    for shift in trend.shifts if trend is not None else ():
        if isinstance(shift.since, datetime):
            yield Mark(at_day(shift.since), MOVED[shift.direction], "accent-text")


def _legend(series: Series, picture: Picture, trend: Trend | None) -> Iterator[tuple[str, str, str]]:
    for row, words in zip(picture.rows[1:], ("reading", "outside the good", "far from those beside it"), strict=True):
        if row.points:
            yield row.glyph or LINE, row.style, _called(series) if words == "reading" else words
    if picture.spans:
        yield "│", "muted", "lowest to highest of a day"
    if series.good is not None:
        yield "▒", "good", f"good {good_words(series)}"
    if picture.rules and trend is not None and trend.limits is not None:
        low, high = (f"{end:.{series.decimals}f}" for end in (trend.limits.low, trend.limits.high))
        never = trend.limits.low < 0 <= min(series.values)  # what is counted or poured is not below nothing
        yield "╌", "muted", f"usual up to {high}" if never else f"usual {low} to {high}"
    there = {one.glyph for one in picture.marks if picture.x[0] <= one.at <= picture.x[1]}
    for glyph, style, words in reversed(MARKS.values()):
        if glyph in there:
            yield glyph, style, words
    for direction, glyph in MOVED.items():
        if glyph in there:
            way = {"up": "better", "down": "worse"}[direction] if series.scored else direction
            yield glyph, "accent-text", f"shifts {way}" if not series.scored else f"grows {way}"


def _called(series: Series) -> str:
    """Return what a point is called."""
    if series.days is not None:
        return "mean of an hour"
    logged = any(one.low is not None for one in series.points)
    return "answer" if series.scored else "mean of a day" if logged else "reading"


def first_day(series: Series, since: date, last: date) -> date:
    """Return the first day to draw: that of the span, or of the first reading where the span has no beginning.

    Hours are drawn from the first of them on: in a longer span their days and nights would be a blur.
    """
    first = next((one.at.date() for one in series.points if isinstance(one.at, datetime)), last)
    endless = (last - since).days > 3660 or series.days is not None
    return min(max(since, first), last - timedelta(days=1)) if endless else since
