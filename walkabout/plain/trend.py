"""A trend in lines, and as plain values."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from walkabout.insight.control import CChart, PChart
from walkabout.insight.series import Series
from walkabout.insight.shift import FEWEST
from walkabout.insight.slope import Slope
from walkabout.insight.trend import Trend
from walkabout.insight.trend_flagged import chance_of_one, decided
from walkabout.insight.trend_says import SURE
from walkabout.insight.trend_words import listed, shift_says, span_words, unseen

SPARSE = 5.0
"""Where fewer than so many are to be expected in a count, the limits of a p chart are rough (common practice)."""
COUNTS_LIKE = 10
"""Whole numbers of which more than one in so many are outside a c chart are not the counts that it is for. Assumed."""


def trend_lines(series: Series, trend: Trend, shares: PChart | None = None, counted: CChart | None = None) -> list[str]:
    """Return a trend as lines: what it is, what it says, the working."""
    return [
        f"{series.name}: {span_words(series)}.",
        "",
        *(f"  {one}" for one in words(series, trend, shares, counted)),
        "",
        "Working",
        *(f"  {one}" for one in working(series, trend, shares)),
    ]


def trend_facts(
    series: Series, trend: Trend, shares: PChart | None = None, counted: CChart | None = None
) -> dict[str, Any]:
    """Return the same as plain values, for JSON.

    Readings are numbered from 1, in order of time, in `out`, `signals` and `reading`; `at` and `since` are times, or
    the numbers of rows, empty ones counted. `decided` has the first signal of each chart that somebody has set up.
    """
    limits, smooth, sums, ahead = trend.limits, trend.ewma, trend.cusum, trend.leaves
    return {
        "value": series.name,
        "n": trend.count,
        "individuals": None
        if limits is None
        else {
            "mean": limits.mean,
            "moving_range": limits.moving_range,
            "low": limits.low,
            "high": limits.high,
            "range_limit": limits.range_limit,
            "out": list(limits.out),
            "ranges_out": list(limits.ranges_out),
        },
        "ewma": None
        if smooth is None
        else {
            "lambda": smooth.lam,
            "target": smooth.target,
            "sigma": smooth.sigma,
            "low": smooth.low[-1],
            "high": smooth.high[-1],
            "limits": "exact" if smooth.exact else "asymptotic",
            "lows": list(smooth.low),
            "highs": list(smooth.high),
            "values": list(smooth.values),
            "signals": list(smooth.signals),
        },
        "cusum": None
        if sums is None
        else {
            "target": sums.target,
            "k": sums.k,
            "h": sums.h,
            "upper": list(sums.upper),
            "lower": list(sums.lower),
            "signals": list(sums.signals),
        },
        "p_chart": None
        if shares is None
        else {
            "mean": shares.mean,
            "values": list(shares.values),
            "low": list(shares.low),
            "high": list(shares.high),
            "out": list(shares.out),
        },
        "c_chart": None
        if counted is None
        else {"mean": counted.mean, "low": counted.low, "high": counted.high, "out": list(counted.out)},
        "slope": None
        if trend.slope is None
        else {
            "value": trend.slope.value,
            "low": trend.slope.low,
            "high": trend.slope.high,
            "per": series.per,
            "kendall": trend.slope.kendall,
            "p": trend.slope.p,
            "n": trend.slope.count,
        },
        "leaves": None
        if ahead is None
        else {
            "end": ahead.end,
            "limit": ahead.limit,
            "after": ahead.after,
            "earliest": ahead.earliest,
            "latest": ahead.latest,
            "per": series.per,
        },
        "shifts": [
            {
                "since": _at(one.since),
                "direction": one.direction,
                "rule": one.rule,
                "kind": one.change.kind,
                "size": one.change.size,
                "words": shift_says(series, one),
            }
            for one in trend.shifts
        ],
        "decided": [
            {
                "chart": one.chart,
                "reading": one.reading,
                "at": _at(one.at),
                "direction": one.direction,
                "target": one.target,
                "words": one.says,
            }
            for one in decided(series, trend)
        ],
        "flagged": flagged(series, trend, shares, counted),
        "lone": [{"at": _at(one.at), "value": one.value} for one in trend.lone],
        "words": words(series, trend, shares, counted),
        "working": working(series, trend, shares),
    }


def flagged(
    series: Series, trend: Trend, shares: PChart | None = None, counted: CChart | None = None
) -> dict[str, list[dict[str, Any]]]:
    """Return what each chart has flagged, as numbers: the reading's number, when, its value, and what passed which end.

    A CUSUM's `sum` is the larger of its two sums, `limit` is h.
    """
    points = series.looked
    limits, smooth, sums = trend.limits, trend.ewma, trend.cusum

    def one(place: int, **more: float) -> dict[str, Any]:
        return {"reading": place, "at": _at(points[place - 1].at), "value": points[place - 1].value} | more

    found: dict[str, list[dict[str, Any]]] = {"individuals": [], "ewma": [], "cusum": []}
    if limits is not None:
        found["individuals"] = [one(place, low=limits.low, high=limits.high) for place in limits.out]
    if smooth is not None:
        found["ewma"] = [
            one(place, smoothed=smooth.values[place - 1], low=smooth.low[place - 1], high=smooth.high[place - 1])
            for place in smooth.signals
        ]
    if sums is not None:
        found["cusum"] = [
            one(place, sum=max(sums.upper[place - 1], sums.lower[place - 1]), limit=sums.h) for place in sums.signals
        ]
    if shares is not None:
        found["p_chart"] = [one(place, low=shares.low[place - 1], high=shares.high[place - 1]) for place in shares.out]
    if counted is not None:
        found["c_chart"] = [one(place, low=counted.low, high=counted.high) for place in counted.out]
    return found


def words(series: Series, trend: Trend, shares: PChart | None = None, counted: CChart | None = None) -> list[str]:
    """Return what a trend says; of counts out of counts, which shares stand out first; then the pace, and counts."""
    outside = []
    if shares is not None and shares.out:
        count = len(shares.out)
        which = f"{count} share{'s are' if count != 1 else ' is'} outside the limits about"
        usual = f"the usual {100 * shares.mean:.1f} %: {listed(series, shares.out)}"
        outside = [f"{which} {usual}. {chance_of_one(len(shares.values), 'shares')}"]
    return [*outside, *trend.says, *_pace_says(series, trend), *_counts_say(series, counted)]


def _pace_says(series: Series, trend: Trend) -> list[str]:
    """Say of a table whether it goes one way on the whole, where no step and no drift is told from chance."""
    pace = trend.slope
    if pace is None or trend.shifts or trend.count < FEWEST or pace.p >= SURE or not pace.value or series.scored:
        return []
    if unseen(series, pace):
        return []
    often = f"about 1 of {round(1 / pace.p)}" if pace.p >= 0.001 else "fewer than 1 of 1000"
    leaning = "more often where readings hang on the one before"
    return [f"On the whole {_going(series, pace)}. Chance alone does as much in {often} such rows, {leaning}."]


def _going(series: Series, pace: Slope) -> str:
    low, high = sorted((abs(pace.low), abs(pace.high)))
    unit = "" if series.unit in ("", "pH") else f" {series.unit}"
    per = "a day" if series.per == "day" else f"for each {series.per}"
    many = "they" if pace.count == len(series.looked) else f"the last {pace.count}"
    way = "up" if pace.value > 0 else "down"
    return f"{many} go {way} by {abs(pace.value):.3g}{unit} {per} (between {low:.3g} and {high:.3g})"


def _counts_say(series: Series, counted: CChart | None) -> list[str]:
    """Name what would stand out if whole numbers were counts; nothing where they plainly are none."""
    if counted is None or not 0 < COUNTS_LIKE * len(counted.out) <= len(series.looked):
        return []
    limits = f"{counted.low:.1f} to {counted.high:.1f}"
    return [f"If these are counts of something rare, {listed(series, counted.out)} is outside their limits, {limits}."]


def working(series: Series, trend: Trend, shares: PChart | None = None) -> list[str]:
    """Return the working, with that of the p chart where there is one."""
    lines = list(trend.working)
    if shares is not None:
        lines.append("everything but the p chart is reckoned from the shares, count ÷ size")
        lines.append(
            f"p chart: mean share {shares.mean:.5g}; limits p ± 3 × √(p (1 − p) ÷ size), from {min(shares.low):.5g} to "
            f"{max(shares.high):.5g} (NIST/SEMATECH e-Handbook 6.3.3.2); "
            f"outside: {listed(series, shares.out) if shares.out else 'none'}"
        )
    return lines


def rough(sizes: Sequence[float], shares: PChart) -> str:
    """Say where counts are too small for the limits of a p chart; '' where they are not."""
    least = min(shares.mean, 1 - shares.mean) * min(sizes)
    return (
        "" if least >= SPARSE else f"The counts are small, so the limits of the shares are rough: {least:.1f} expected."
    )


def _at(at: datetime | float) -> str | float:
    return at.isoformat() if isinstance(at, datetime) else at
