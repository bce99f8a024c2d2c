"""A trend in lines, and as plain values."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from walkabout.insight.control import CChart, PChart
from walkabout.insight.series import Series
from walkabout.insight.trend import Trend
from walkabout.insight.trend_words import shift_says, span_words

SPARSE = 5.0
"""Where fewer than so many are to be expected in a count, the limits of a p chart are rough (common practice)."""


def trend_lines(series: Series, trend: Trend, shares: PChart | None = None) -> list[str]:
    """Return a trend as lines: what it is, what it says, the working."""
    return [
        f"{series.name}: {span_words(series)}.",
        "",
        *(f"  {one}" for one in words(trend, shares)),
        "",
        "Working",
        *(f"  {one}" for one in working(trend, shares)),
    ]


def trend_facts(
    series: Series, trend: Trend, shares: PChart | None = None, counted: CChart | None = None
) -> dict[str, Any]:
    """Return the same as plain values, for JSON. Readings are numbered from 1, in order of time."""
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
        "lone": [{"at": _at(one.at), "value": one.value} for one in trend.lone],
        "words": words(trend, shares),
        "working": working(trend, shares),
    }


def words(trend: Trend, shares: PChart | None = None) -> list[str]:
    """Return what a trend says; of counts out of counts, which shares do not belong to the rest first."""
    if shares is None or not shares.out:
        return list(trend.says)
    count = len(shares.out)
    which = f"reading{'s' if count != 1 else ''} {_listed(shares.out)}"
    usual = f"the usual {100 * shares.mean:.1f} %"
    says = f"{count} share{'s are' if count != 1 else ' is'} further from {usual} than chance brings about: {which}."
    quiet = [one for one in trend.says if not one.startswith("Nothing in these")]
    return [says, *quiet]


def working(trend: Trend, shares: PChart | None = None) -> list[str]:
    """Return the working, with that of the p chart where there is one."""
    lines = list(trend.working)
    if shares is not None:
        lines.append("everything but the p chart is reckoned from the shares, count ÷ size")
        lines.append(
            f"p chart: mean share {shares.mean:.5g}; limits p ± 3 × √(p (1 − p) ÷ size), from {min(shares.low):.5g} to "
            f"{max(shares.high):.5g} (NIST/SEMATECH e-Handbook 6.3.3.2); outside: {_listed(shares.out) or 'none'}"
        )
    return lines


def rough(sizes: Sequence[float], shares: PChart) -> str:
    """Say where counts are too small for the limits of a p chart; '' where they are not."""
    least = min(shares.mean, 1 - shares.mean) * min(sizes)
    return (
        "" if least >= SPARSE else f"The counts are small, so the limits of the shares are rough: {least:.1f} expected."
    )


def _listed(places: Sequence[int]) -> str:
    return ", ".join(str(one) for one in places)


def _at(at: datetime | float) -> str | float:
    return at.isoformat() if isinstance(at, datetime) else at
