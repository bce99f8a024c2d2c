"""The working of a trend: the numbers behind its sentences, one line each."""

from collections.abc import Iterator

from walkabout.insight.series import Series
from walkabout.insight.slope import Slope
from walkabout.insight.trend_model import Trend
from walkabout.insight.trend_words import listed, moment

MOST = 12
"""So many readings are named in a line; all of them stand in the JSON."""


def working(series: Series, trend: Trend) -> tuple[str, ...]:
    """Return the formulas with what was put in, and where they come from."""
    return (
        f"{trend.count} {series.each}{'s' if trend.count != 1 else ''}",
        *_charts(series, trend),
        *_shifts(series, trend),
    )


def _charts(series: Series, trend: Trend) -> Iterator[str]:
    unit = _unit(series)
    if trend.limits is not None:
        one = trend.limits
        yield (
            f"individuals chart: mean {one.mean:.6g}{unit}, mean moving range {one.moving_range:.5g}; limits mean ± 3 "
            f"× mean range ÷ 1.128 = {one.low:.6g} to {one.high:.6g}; range limit 3.267 × mean range = "
            f"{one.range_limit:.5g} (NIST/SEMATECH e-Handbook 6.3.2.2); outside: {_listed(series, one.out)}; "
            f"too far from the one before: {_listed(series, one.ranges_out)}"
        )
    if trend.ewma is not None and trend.ewma.values:
        smooth = trend.ewma
        yield (
            f"EWMA: λ {smooth.lam:g}, target {smooth.target:.6g}, sigma {smooth.sigma:.5g}; limits "
            f"{smooth.low[-1]:.6g} to {smooth.high[-1]:.6g} (6.3.2.4, "
            f"{'exact, at the last reading' if smooth.exact else 'asymptotic'}); "
            f"signals: {_listed(series, smooth.signals)}"
        )
    if trend.cusum is not None:
        sums = trend.cusum
        yield (
            f"CUSUM: target {sums.target:.6g}, k {sums.k:.5g}, h {sums.h:.5g} (6.3.2.3); "
            f"signals: {_listed(series, sums.signals)}"
        )


def _shifts(series: Series, trend: Trend) -> Iterator[str]:
    for shift in trend.shifts:
        one = shift.change
        both = " for each of two steps" if one.together > 1 else ""
        yield (
            f"{one.kind} {moment(series, shift.since)}: F {one.f:.1f}{both}, lowered for readings that lean on each "
            f"other (r {one.leaning:.2f}); chance stays below {one.limit:.1f}; found by: {shift.rule}"
        )
    if trend.slope is not None:
        which = "all" if trend.slope.count == trend.count else f"the last {trend.slope.count} readings"
        paced = f"pace of {which}: {_paced(series, trend.slope)}, the median over all pairs (Theil 1950, Sen 1968)"
        yield f"{paced}; Kendall S {trend.slope.kendall:+d}, p {trend.slope.p:.3g}"
    if trend.pace is not None:
        yield f"pace since it began to move: {_paced(series, trend.pace)}; it stands at {trend.pace.level:.4g} now"


def _paced(series: Series, one: Slope) -> str:
    per = series.per if series.per in ("day", "reading", "row") else f"1 of {series.per}"
    return f"{one.value:.4g}{_unit(series)} a {per} (95 % between {one.low:.4g} and {one.high:.4g})"


def _unit(series: Series) -> str:
    return "" if series.unit in ("", "pH") else f" {series.unit}"


def _listed(series: Series, places: tuple[int, ...]) -> str:
    return listed(series, places, MOST) if places else "none"
