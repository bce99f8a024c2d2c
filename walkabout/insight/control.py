"""Control charts: what a row of readings usually does, and which readings do not belong to it.

The formulas and constants are those of the NIST/SEMATECH e-Handbook of Statistical Methods, sections 6.3.2.2
(individuals), 6.3.2.3 (CUSUM), 6.3.2.4 (EWMA), 6.3.3.1 (counts) and 6.3.3.2 (proportions). Values are in whatever
unit they come in, and so are the limits; readings are numbered from 1. Every function raises ValueError, in one
sentence, for what it cannot reckon with.
"""

import itertools
import math
from collections.abc import Sequence

from msgspec import Struct

D2 = 1.128
"""The mean range of two normal readings, in standard deviations (6.3.2.2)."""
D4 = 3.267
"""The upper limit of a range of two, in mean ranges (6.3.2.2)."""


class Limits(Struct, frozen=True):
    """An individuals and moving-range chart."""

    mean: float
    moving_range: float
    low: float
    high: float
    range_limit: float
    out: tuple[int, ...]
    """The readings strictly outside the limits."""
    ranges_out: tuple[int, ...]
    """The readings that are further from the one before than the range limit."""

    @property
    def sigma(self) -> float:
        """The standard deviation of one reading, from the mean moving range."""
        return self.moving_range / D2


class Ewma(Struct, frozen=True):
    """A chart of smoothed readings. `exact` limits are wider with every reading; the others are what they end at."""

    lam: float
    target: float
    sigma: float
    width: float
    exact: bool
    low: tuple[float, ...]
    high: tuple[float, ...]
    values: tuple[float, ...]
    signals: tuple[int, ...]


class Cusum(Struct, frozen=True):
    """Sums of what readings lie above and below their target by more than `k`; a sum above `h` is a signal."""

    target: float
    k: float
    h: float
    upper: tuple[float, ...]
    lower: tuple[float, ...]
    signals: tuple[int, ...]


class PChart(Struct, frozen=True):
    """Proportions, with limits that are narrower where more were looked at."""

    mean: float
    values: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    out: tuple[int, ...]


class CChart(Struct, frozen=True):
    """Counts of what is rare, out of no particular number."""

    mean: float
    low: float
    high: float
    out: tuple[int, ...]


def individuals(values: Sequence[float]) -> Limits:
    """Return mean ± 3 mean moving ranges ÷ 1.128 (which is ± 2.66 of them). It takes two readings (6.3.2.2)."""
    if len(values) < 2:
        raise ValueError("Control limits take at least two readings.")
    mean = math.fsum(values) / len(values)
    ranges = [abs(one - other) for one, other in itertools.pairwise(values)]
    usual = math.fsum(ranges) / len(ranges)
    low, high, most = mean - 3 * usual / D2, mean + 3 * usual / D2, D4 * usual
    out = tuple(place for place, value in enumerate(values, 1) if not low <= value <= high)
    return Limits(mean, usual, low, high, most, out, tuple(place for place, one in enumerate(ranges, 2) if one > most))


def ewma(
    values: Sequence[float],
    target: float,
    sigma: float,
    lam: float = 0.3,
    width: float = 3,
    *,
    exact: bool = False,
) -> Ewma:
    """Return the readings smoothed: each time `lam` of the new reading and the rest of what was before (6.3.2.4).

    It starts from the target, which is not among the values returned. The limits are `width` standard deviations of
    the smoothed line: target ± width × sigma × √(lam ÷ (2 − lam)), times √(1 − (1 − lam)^(2i)) where `exact`.
    """
    if not 0 < lam <= 1:
        raise ValueError("λ is above 0 and at most 1.")
    if sigma < 0 or width <= 0:
        raise ValueError("A standard deviation is not below 0, and limits have a width.")
    smooth, line = target, []
    for value in values:
        smooth = lam * value + (1 - lam) * smooth
        line.append(smooth)
    end = width * sigma * math.sqrt(lam / (2 - lam))
    far = [end * math.sqrt(1 - (1 - lam) ** (2 * place)) if exact else end for place in range(1, len(line) + 1)]
    low, high = tuple(target - one for one in far), tuple(target + one for one in far)
    tiny = 1e-9 * max(abs(target), 1.0)
    out = tuple(
        place
        for place, (least, one, most) in enumerate(zip(low, line, high, strict=True), 1)
        if not least - tiny <= one <= most + tiny
    )
    return Ewma(lam, target, sigma, width, exact, low, high, tuple(line), out)


def cusum(values: Sequence[float], target: float, k: float, h: float) -> Cusum:
    """Return the two sums of a tabular CUSUM; `k` and `h` are in the unit of the values (6.3.2.3)."""
    if k < 0 or h < 0:
        raise ValueError("k and h are not below 0.")
    above = below = 0.0
    upper, lower = [], []
    for value in values:
        above = max(0.0, above + value - target - k)
        below = max(0.0, below + target - k - value)
        upper.append(above)
        lower.append(below)
    tiny = 1e-9 * max(abs(target), 1.0)
    signals = tuple(place for place, sums in enumerate(zip(upper, lower, strict=True), 1) if max(sums) > h + tiny)
    return Cusum(target, k, h, tuple(upper), tuple(lower), signals)


def p_chart(counts: Sequence[float], sizes: Sequence[float]) -> PChart:
    """Return a chart of counts out of sizes: p ± 3 √(p (1 − p) ÷ size), within 0 and 1 (6.3.3.2)."""
    if len(counts) != len(sizes) or not counts:
        raise ValueError("Every count needs the number that it is out of.")
    for place, (count, size) in enumerate(zip(counts, sizes, strict=True), 1):
        if size <= 0 or not 0 <= count <= size:
            raise ValueError(f"Reading {place}: {count:g} out of {size:g} cannot be.")
    mean = math.fsum(counts) / math.fsum(sizes)
    shares = tuple(count / size for count, size in zip(counts, sizes, strict=True))
    far = [3 * math.sqrt(mean * (1 - mean) / size) for size in sizes]
    low = tuple(max(0.0, mean - one) for one in far)
    high = tuple(min(1.0, mean + one) for one in far)
    return PChart(mean, shares, low, high, _outside(shares, low, high))


def c_chart(counts: Sequence[float]) -> CChart:
    """Return a chart of counts: c ± 3 √c, not below 0; a count on the line is inside (6.3.3.1)."""
    if not counts or any(count < 0 for count in counts):
        raise ValueError("Counts are not below 0, and there must be one.")
    mean = math.fsum(counts) / len(counts)
    low, high = max(0.0, mean - 3 * math.sqrt(mean)), mean + 3 * math.sqrt(mean)
    every = [low] * len(counts), [high] * len(counts)
    return CChart(mean, low, high, _outside(counts, *every))


def _outside(values: Sequence[float], low: Sequence[float], high: Sequence[float]) -> tuple[int, ...]:
    # what lies on the line is inside, whatever the last binary digit says
    rows = zip(low, values, high, strict=True)
    return tuple(place for place, (least, one, most) in enumerate(rows, 1) if one < least - 1e-9 or one > most + 1e-9)
