"""The working of a trend: the numbers behind its sentences, one line each."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from walkabout.insight.series import Series
from walkabout.insight.trend_words import moment

if TYPE_CHECKING:
    from walkabout.insight.slope import Slope
    from walkabout.insight.trend import Trend

MOST = 12
"""So many readings are named in a line; all of them stand in the JSON."""


def working(series: Series, trend: "Trend", most: int) -> tuple[str, ...]:
    """Return the formulas with what was put in, and where they come from."""
    return (
        f"{trend.count} reading{'s' if trend.count != 1 else ''}",
        *_charts(series, trend),
        *_shifts(series, trend, most),
    )


def _charts(series: Series, trend: "Trend") -> Iterator[str]:
    unit = _unit(series)
    if trend.limits is not None:
        one = trend.limits
        yield (
            f"individuals chart: mean {one.mean:.6g}{unit}, mean moving range {one.moving_range:.5g}; limits mean ± 3 "
            f"× mean range ÷ 1.128 = {one.low:.6g} to {one.high:.6g}; range limit 3.267 × mean range = "
            f"{one.range_limit:.5g} (NIST/SEMATECH e-Handbook 6.3.2.2); outside: {_listed(one.out)}"
        )
    if trend.ewma is not None and trend.ewma.values:
        smooth = trend.ewma
        yield (
            f"EWMA: λ {smooth.lam:g}, target {smooth.target:.6g}, sigma {smooth.sigma:.5g}; limits "
            f"{smooth.low[-1]:.6g} to {smooth.high[-1]:.6g} (6.3.2.4, asymptotic); signals: {_listed(smooth.signals)}"
        )
    if trend.cusum is not None:
        sums = trend.cusum
        yield (
            f"CUSUM: target {sums.target:.6g}, k {sums.k:.5g}, h {sums.h:.5g} (6.3.2.3); "
            f"signals: {_listed(sums.signals)}"
        )


def _shifts(series: Series, trend: "Trend", most: int) -> Iterator[str]:
    for shift in trend.shifts:
        one = shift.change
        yield (
            f"{one.kind} {moment(series, shift.since)}: F {one.f:.1f}, lowered for readings that lean on each other "
            f"(r {one.leaning:.2f}); chance stays below {one.limit:.1f}; found by: {shift.rule}"
        )
    if trend.slope is not None:
        which = "all" if trend.count <= most else f"the last {most} readings"
        paced = f"pace of {which}: {_paced(series, trend.slope)}, the median over all pairs (Theil 1950, Sen 1968)"
        yield f"{paced}; Kendall S {trend.slope.kendall:+d}, p {trend.slope.p:.3g}"
    if trend.pace is not None:
        yield f"pace since it began to move: {_paced(series, trend.pace)}; it stands at {trend.pace.level:.4g} now"


def _paced(series: Series, one: "Slope") -> str:
    per = series.per if series.per in ("day", "reading") else f"1 of {series.per}"
    return f"{one.value:.4g}{_unit(series)} a {per} (95 % between {one.low:.4g} and {one.high:.4g})"


def _unit(series: Series) -> str:
    return "" if series.unit in ("", "pH") else f" {series.unit}"


def _listed(places: tuple[int, ...]) -> str:
    if not places:
        return "none"
    shown = ", ".join(str(one) for one in places[:MOST])
    return f"reading {shown}" if len(places) == 1 else f"readings {shown}{' …' if len(places) > MOST else ''}"
