"""Intervals: for a share, for the difference of two shares, and for the size of an effect."""

import math

from msgspec import Struct

from walkabout.insight.trials.chances import stats, z_point
from walkabout.insight.trials.outcome import LEVEL


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

    Borenstein, Hedges, Higgins and Rothstein 2009, Introduction to Meta-Analysis, chapter 4. Both sd must not be 0.
    """
    sd = pooled_sd(sd1, n1, sd2, n2)
    d = (mean1 - mean2) / sd
    variance = (n1 + n2) / (n1 * n2) + d * d / (2 * (n1 + n2))
    j = small_sample(n1 + n2 - 2)
    g, g_variance = j * d, j * j * variance
    half = z_point(level) * math.sqrt(g_variance)
    return Hedges(sd, d, variance, j, g, g_variance, g - half, g + half)
