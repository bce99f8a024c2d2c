"""What control charts flag, in words: single readings outside what is usual, and the signals of EWMA and CUSUM.

On their own these are no shift: chance alone puts about 3 readings in 1000 outside three-sigma limits (0.27 % of a
normal row), and EWMA and CUSUM signal without one in a long row, or where readings hang on the one before. But where
somebody has set a chart up, with a target, a sigma or limits of their own, its signal is what they asked for, and it
decides.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import Literal

from msgspec import Struct

from walkabout.insight.series import Point, Series
from walkabout.insight.shift import FEWEST
from walkabout.insight.trend_model import Trend
from walkabout.insight.trend_words import moment, number, range_words

OUTSIDE = 0.0027
"""The share of normal readings outside three-sigma limits (NIST/SEMATECH e-Handbook, 6.3.1)."""
LONG = 100
"""A row of so many readings often has such a signal by chance alone, about once in 465 readings.

That is the mean run without a shift of a CUSUM with k 0.5 and h 5 (NIST/SEMATECH e-Handbook, 6.3.2.3.1: 930 for each
side), and of an EWMA with λ 0.3 and limits of three sigmas too (worked out as Lucas and Saccucci 1990 do,
Technometrics 32:1-12, by the chances of going from one value to the next).
"""
NAMED = 3
"""So many single readings are named in a sentence; all of them stand in the working and the JSON."""


class Decided(Struct, frozen=True):
    """The first signal of a chart that somebody has set up. `reading` is its place, counted from 1."""

    chart: Literal["EWMA", "CUSUM"]
    reading: int
    at: datetime | float
    direction: Literal["up", "down"]
    target: float
    says: str


def decided(series: Series, trend: Trend) -> tuple[Decided, ...]:
    """Return what the charts signal that somebody has set up; () where nobody has, or where they are quiet."""
    found = []
    smooth, sums = trend.ewma, trend.cusum
    if smooth is not None and smooth.signals and trend.chosen.own_ewma:
        first = smooth.signals[0]
        up = smooth.values[first - 1] > smooth.high[first - 1]
        found.append(_decided(series, trend, "EWMA", first, smooth.target, up=up))
    if sums is not None and sums.signals and trend.chosen.own_cusum:
        first = sums.signals[0]
        found.append(_decided(series, trend, "CUSUM", first, sums.target, up=sums.upper[first - 1] > sums.h))
    return tuple(found)


def flagged_says(series: Series, trend: Trend, named: Sequence[Point]) -> list[str]:
    """Return what else the charts flag where nothing has shifted, a sentence or two each; `named` are told already.

    Where something has, the charts flag what it brought with it: that stands in the working.
    """
    if trend.shifts or series.scored:
        return []
    return [*_singles(series, trend, named), *_signals(series, trend)]


def chance_of_one(count: int, what: str = "readings") -> str:
    """Say how often chance alone puts a reading outside three-sigma limits, in a row of so many of them."""
    share = 1 - (1 - OUTSIDE) ** count
    if share >= 0.6:
        rows = "most rows of this length have one"
    elif share >= 0.4:
        rows = "nearly every second row of this length has one"
    else:
        rows = f"about one row of this length in {round(1 / share)} has one"
    return f"Chance alone puts about 3 {what} in 1000 outside, so {rows}."


def _decided(
    series: Series, trend: Trend, chart: Literal["EWMA", "CUSUM"], first: int, target: float, *, up: bool
) -> Decided:
    at = series.looked[first - 1].at
    usual = "" if trend.chosen.target is not None else "the usual "
    goes = f"the level has moved {'up' if up else 'down'} from {usual}{target:.6g}"
    says = f"The {chart} signals {moment(series, at)}: {goes}."
    return Decided(chart, first, at, "up" if up else "down", target, says)


def _singles(series: Series, trend: Trend, named: Sequence[Point]) -> list[str]:
    limits = trend.limits
    if limits is None or trend.chosen.shares:
        return []
    told = {id(one) for one in named}
    out = [place for place in limits.out if id(series.looked[place - 1]) not in told]
    if not out:
        return []
    # a digit more than the readings have: a limit of 54.6 beside a reading of 55
    usual = range_words((limits.low, limits.high), series.decimals + 1)
    says = f"{_named(series, out)} outside the limits of single readings, {usual}."
    return [f"{says} {_how_often(out, trend.count)}"]


def _named(series: Series, places: Sequence[int]) -> str:
    points = [series.looked[place - 1] for place in places]
    names = [f"{number(series, one.value)} {moment(series, one.at)}" for one in points[:NAMED]]
    if len(points) == 1:
        return f"{names[0]} is"
    if len(points) > NAMED:
        return f"{', '.join(names)} and {len(points) - NAMED} more are"
    return f"{', '.join(names[:-1])} and {names[-1]} are"


def _how_often(out: Sequence[int], count: int) -> str:
    if len(out) > max(NAMED, 3 * OUTSIDE * count):
        often = "Chance alone puts about 3 readings in 1000 outside; so many more often mean that each hangs on the one"
        return f"{often} before it."
    wait = " If the next readings are like it, it may be a shift." if list(out) == [count] else ""
    return f"{chance_of_one(count)}{wait}"


def _signals(series: Series, trend: Trend) -> list[str]:
    """Say what charts signal that nobody has set up: they were set up on the readings themselves."""
    charts = (("EWMA", trend.ewma, trend.chosen.own_ewma), ("CUSUM", trend.cusum, trend.chosen.own_cusum))
    firsts = [(name, one.signals[0]) for name, one, own in charts if one is not None and one.signals and not own]
    if not firsts or trend.count < FEWEST:
        return []
    points = [series.looked[first - 1] for _, first in firsts]
    at = [moment(series, one.at) for one in points]
    says = f"The {firsts[0][0]} signals {at[0]}"
    if len(firsts) > 1:
        says += f", the {firsts[1][0]} {at[1]}" if at[0] != at[1] else f", and so does the {firsts[1][0]}"
    if all(one in trend.lone for one in points):
        return [f"{says}: a single reading so far off is enough for it."]
    why = "Readings that hang on the one before bring that without a shift; the test for a shift allows for it."
    if trend.count >= LONG:
        why = (
            "A long row has such signals by chance alone, about one in 500 readings; readings that hang on the one "
            "before bring more. The test for a shift allows for both."
        )
    return [f"{says}. {why}"]
