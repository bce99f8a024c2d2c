"""The words of which the sentences of a trend are made: a shift, a value, a moment, a good range."""

from collections.abc import Sequence
from datetime import datetime

from walkabout.insight.series import EXPLAINS, Mark, MarkKind, Series, times
from walkabout.insight.slope import Slope
from walkabout.insight.trend_model import Shift

TOLD: tuple[MarkKind, ...] = (*EXPLAINS, "move", "treatment")
"""What is named beside a shift; the rest stands on the line alone."""
GAP = 3
"""Days between two readings from which a shift is said to have come somewhere between them."""


def shift_says(series: Series, one: Shift) -> str:
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


def unseen(series: Series, pace: Slope) -> bool:
    """Say whether a pace comes to less, over the readings that it is of, than the last digit that was read."""
    at = times(series.looked)[-max(pace.count, 2) :]
    return bool(at) and abs(pace.value) * (at[-1] - at[0]) < series.step * (1 - 1e-9)


def moment(series: Series, at: datetime | float) -> str:
    """Return when a reading was, as it stands after a verb: 'on Thu 12 Nov', 'at reading 13'."""
    return f"on {day_words(series, at)}" if isinstance(at, datetime) else f"at {place_words(series, at)}"


def _since(series: Series, one: Shift) -> str:
    if not isinstance(one.since, datetime):
        return f"since {place_words(series, one.since)}"
    apart = (one.since.date() - one.before.date()).days if isinstance(one.before, datetime) else 0
    if isinstance(one.before, datetime) and apart > GAP and one.change.kind == "step":
        return f"since some day between {day_words(series, one.before)} and {day_words(series, one.since)}"
    return f"since {day_words(series, one.since)}"


def _beside(one: Shift) -> list[str]:
    """Say what was done about the day of a shift; plants that come and go start no drift."""
    if not isinstance(one.since, datetime):
        return []
    kinds = [kind for kind in TOLD if kind != "move" or one.change.kind == "step"]
    told = [f"{upper(mark.says)} {when(mark, one.since)}." for mark in one.marks if mark.kind in kinds]
    return list(dict.fromkeys(told))


def when(mark: Mark, at: datetime) -> str:
    """Return when something was done, seen from a moment: 'that day', 'the day before', 'on Thu 12 Nov'."""
    apart = (mark.at.date() - at.date()).days
    near = {0: "that day", -1: "the day before", 1: "the day after"}
    return near.get(apart) or f"on {mark.at:%a} {mark.at.day} {mark.at:%b}"


def good_words(series: Series) -> str:
    """Return the good range in words: '5.5 to 6.5', '13.0 °C or more', 'at most 35.0 °C'; '' where there is none."""
    if series.good is None or all(series.open_ends):
        return ""
    low, high = series.good
    if series.open_ends[1]:
        return f"{number(series, low)} or more"
    if series.open_ends[0]:
        return f"at most {number(series, high)}"
    unit = "" if series.unit == "pH" else f" {series.unit}"
    return f"{range_words(series.good, series.decimals)}{unit}".rstrip()


def range_words(good: tuple[float, float], decimals: int) -> str:
    """Return '5.5 to 6.5'."""
    return " to ".join(f"{end:.{decimals}f}" for end in good)


def day_words(series: Series, at: datetime) -> str:
    """Return 'Thu 12 Nov', with the year where the readings are of more than one."""
    first, last = series.points[0].at, series.points[-1].at
    years = {one.year for one in (first, last, at) if isinstance(one, datetime)}
    return f"{at:%a} {at.day} {at:%b}" + (f" {at.year}" if len(years) > 1 else "")


def place_words(series: Series, at: float) -> str:
    """Return 'reading 13', 'week 5'."""
    return f"{series.per} {at:.10g}"


def listed(series: Series, places: Sequence[int], most: int = 0) -> str:
    """Return which readings those at some places are, counted from 1: 'readings 3, 4 and 9', of many the first `most`.

    Where rows are empty, readings are called by the numbers of their rows.
    """
    each = "row" if series.per == "row" else "reading"
    names = [f"{series.looked[one - 1].at:g}" if each == "row" else str(one) for one in places]
    shown = names[: most or len(names)]
    if len(names) == 1:
        return f"{each} {names[0]}"
    if len(shown) < len(names):
        return f"{each}s {', '.join(shown)} and {len(names) - len(shown)} more"
    return f"{each}s {', '.join(shown[:-1])} and {shown[-1]}"


def _named(series: Series) -> str:
    return upper(series.name)


def upper(text: str) -> str:
    """Return a name as it stands at the beginning of a sentence; 'pH' keeps its own spelling."""
    if text[:3].rstrip().casefold() == "ph":
        return f"pH{text[2:]}"
    return text if text[1:2].isupper() else text[:1].upper() + text[1:]


def mark_line(series: Series, mark: Mark) -> str:
    """Return a mark as a line beside the picture, for those who cannot see it."""
    return f"{day_words(series, mark.at)}: {mark.says}"


def span_words(series: Series) -> str:
    """Say what the readings span: '24 readings from Mon 2 Nov to Wed 25 Nov'."""
    count = len(series.points)
    each = series.each if series.days is None else "hour"
    if not count:
        return f"no {each}s"
    first, last = series.points[0].at, series.points[-1].at
    many = f"{count} {each}{'s' if count != 1 else ''}"
    if isinstance(first, datetime) and isinstance(last, datetime):
        if times(series.points)[-1] < 1:
            return f"{many} {moment(series, first)}"
        return f"{many} from {day_words(series, first)} to {day_words(series, last)}"
    return many
