"""Intervals: for a share, for the difference of two shares, and for the size of an effect."""

import math
import warnings
from collections.abc import Callable

from msgspec import Struct

from walkabout.insight.trials.chances import stats, z_point
from walkabout.insight.trials.outcome import LEVEL

FAR = 200.0
"""A t beyond which the noncentral t is not summed: its series fails far out, and two simple parts are enough there."""
NIL = 1e-9
"""A t below which it is 0: there the series fails too."""


class Hedges(Struct, frozen=True):
    """Cohen's d and Hedges' g with their standard errors, and the interval of g."""

    sd: float
    d: float
    d_variance: float
    j: float
    g: float
    g_variance: float
    low: float
    high: float


def wilson(count: int, of: int, level: float = LEVEL) -> tuple[float, float]:
    """Return the interval of a share by Wilson's score: Wilson 1927, J. Am. Stat. Assoc. 22:209-212."""
    z = z_point(level)
    middle = count + z * z / 2
    half = z * math.sqrt(count * (of - count) / of + z * z / 4)
    low, high = (middle - half) / (of + z * z), (middle + half) / (of + z * z)
    return 0.0 if count == 0 else low, 1.0 if count == of else high


def clopper_pearson(count: int, of: int, level: float = LEVEL) -> tuple[float, float]:
    """Return the exact interval of a share, wider than it need be: Clopper and Pearson 1934, Biometrika 26:404-413."""
    tail = (1 - level) / 2
    low = float(stats().beta.ppf(tail, count, of - count + 1)) if count else 0.0
    high = float(stats().beta.isf(tail, count + 1, of - count)) if count < of else 1.0
    return low, high


def newcombe(count1: int, of1: int, count2: int, of2: int, level: float = LEVEL) -> tuple[float, float, float]:
    """Return the difference of two shares, first minus second, with its low and high end.

    Newcombe 1998, Statistics in Medicine 17:873-890, method 10: the ends of two Wilson intervals joined.
    """
    p1, p2 = count1 / of1, count2 / of2
    (low1, high1), (low2, high2) = wilson(count1, of1, level), wilson(count2, of2, level)
    low = p1 - p2 - math.hypot(p1 - low1, high2 - p2)
    high = p1 - p2 + math.hypot(high1 - p1, p2 - low2)
    return p1 - p2, low, high


def pooled_sd(sd1: float, n1: int, sd2: float, n2: int) -> float:
    """Return the standard deviation within two groups, taken together."""
    return math.sqrt(((n1 - 1) * sd1**2 + (n2 - 1) * sd2**2) / (n1 + n2 - 2))


def small_sample(df: float) -> float:
    """Return J, by which d is made smaller for small groups: Hedges 1981, as Borenstein et al. 2009 write it."""
    return 1 - 3 / (4 * df - 1)


def hedges(mean1: float, sd1: float, n1: int, mean2: float, sd2: float, n2: int, level: float = LEVEL) -> Hedges:
    """Return d and g of two groups, first minus second, in standard deviations.

    Borenstein, Hedges, Higgins and Rothstein 2009, Introduction to Meta-Analysis, chapter 4; the interval is that of
    the noncentral t, since theirs, of the normal curve, is off for few values. Both sd must not be 0.
    """
    sd = pooled_sd(sd1, n1, sd2, n2)
    d = (mean1 - mean2) / sd
    variance = (n1 + n2) / (n1 * n2) + d * d / (2 * (n1 + n2))
    j = small_sample(n1 + n2 - 2)
    g, g_variance = j * d, j * j * variance
    wide = math.sqrt(1 / n1 + 1 / n2)
    low, high = (j * wide * end for end in shifts_of_t(d / wide, n1 + n2 - 2, level))
    return Hedges(sd, d, variance, j, g, g_variance, low, high)


def shifts_of_t(t: float, df: float, level: float = LEVEL) -> tuple[float, float]:
    """Return the shifts of a noncentral t under which a t as high, and one as low, is a chance of (1 − level)/2.

    Steiger and Fouladi 1997, in What If There Were No Significance Tests, pp. 221-257; true of however few values.
    """
    if t < 0:
        low, high = shifts_of_t(-t, df, level)
        return -high, -low
    tail = (1 - level) / 2
    t = t if t > NIL else 0.0
    if t > FAR:
        # So far out the spread of the sd, as t carries it, and that of the mean are two sides of a right angle.
        ends = (t * math.sqrt(float(stats().chi2.ppf(one, df)) / df) for one in (tail, 1 - tail))
        below, above = (math.hypot(end - t, z_point(level)) for end in ends)
        return t - below, t + above
    return (
        _falling(lambda shift: tail - _as_high(t, df, shift), t, -1.0),
        _falling(lambda shift: 1 - _as_high(t, df, shift) - tail, t, 1.0),
    )


def _as_high(t: float, df: float, shift: float) -> float:
    """Return the chance of a shifted t as high or higher; where scipy's series gives no number, the normal curve's."""
    found = float(stats().nct.sf(t, df, shift))
    if math.isfinite(found):
        return found
    return float(stats().norm.cdf((shift - t * (1 - 1 / (4 * df))) / math.sqrt(1 + t * t / (2 * df))))


def _falling(over: Callable[[float], float], start: float, step: float) -> float:
    """Return where a falling function passes 0, looked for from `start` in one direction."""
    from scipy import optimize  # type: ignore[import-untyped]  # noqa: PLC0415 - slow to load, only trials need it

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        end = start + step
        while over(end) * step > 0:
            step *= 2
            end = start + step
        return float(optimize.brentq(over, min(start, end), max(start, end), xtol=1e-10))
