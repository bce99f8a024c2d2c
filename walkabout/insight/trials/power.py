"""How many plants: for a difference worth finding, and how small a difference a number of plants could find."""

import math
from collections.abc import Callable, Sequence
from typing import Any

from walkabout.insight.trials.chances import stats, z_point
from walkabout.insight.trials.outcome import ALPHA

POWER = 0.8
"""Chance of finding a difference that is there. Common practice; Cohen 1992, Psychological Bulletin 112:155-159."""
MOST = 1e9
"""Plants beyond which nobody counts."""


def n_for_difference(d: float, alpha: float = ALPHA, power: float = POWER) -> float:
    """Return how many plants each of two groups needs, not yet rounded up, for a difference of `d` sd, two-sided.

    By the noncentral t; at least 2. ValueError for d = 0 or chances outside 0 to 1.
    """
    _asked(d, alpha, power)
    return _root(lambda n: power_of_difference(abs(d), n, n, alpha) - power, 2.0)


def power_of_difference(d: float, n1: float, n2: float, alpha: float = ALPHA) -> float:
    """Return the chance that two groups of n1 and n2 show a difference of `d` sd, two-sided, pooled t test."""
    df = n1 + n2 - 2
    shift = abs(d) * math.sqrt(n1 * n2 / (n1 + n2))
    return _both_ends(df, shift, alpha)


def power_of_pairs(d: float, pairs: float, alpha: float = ALPHA) -> float:
    """Return the chance that pairs show a mean difference of `d` sd of the differences, two-sided."""
    df, shift = pairs - 1, abs(d) * math.sqrt(pairs)
    return _both_ends(df, shift, alpha)


def n_for_groups(f: float, groups: int, alpha: float = ALPHA, power: float = POWER) -> float:
    """Return how many plants each of several groups needs, not yet rounded up, for Cohen's f, by the noncentral F."""
    _asked(f, alpha, power)
    if groups < 2:
        raise ValueError("A comparison takes at least 2 groups")
    return _root(lambda n: power_of_groups(abs(f), groups, n, alpha) - power, 2.0)


def power_of_groups(f: float, groups: int, n: float, alpha: float = ALPHA) -> float:
    """Return the chance that groups of n plants each show Cohen's f: the sd of their means over the sd within."""
    df1, df2 = groups - 1, groups * (n - 1)
    point = float(stats().f.isf(alpha, df1, df2))
    shift = f * f * groups * n
    found = float(stats().ncf.sf(point, df1, df2, shift))
    return found if math.isfinite(found) else float(shift > df1 * point)


def n_for_shares(p1: float, p2: float, alpha: float = ALPHA, power: float = POWER) -> float:
    """Return how many plants each of two groups needs, not yet rounded up, to tell two shares apart.

    By Cohen's h, the difference of 2·arcsin√share: Cohen 1992, table 2, row 5.
    """
    if not (0 <= p1 <= 1 and 0 <= p2 <= 1):
        raise ValueError("A share lies from 0 to 1")
    return n_for_h(2 * math.asin(math.sqrt(p1)) - 2 * math.asin(math.sqrt(p2)), alpha, power)


def n_for_h(h: float, alpha: float = ALPHA, power: float = POWER) -> float:
    """Return the same for Cohen's h."""
    _asked(h, alpha, power)
    return 2 * ((z_point(1 - alpha) + float(stats().norm.ppf(power))) / h) ** 2


def n_for_ratio(parts: Sequence[float], other: Sequence[float], alpha: float = ALPHA, power: float = POWER) -> float:
    """Return how many plants must be counted in all, not yet rounded up, to tell a ratio from another one.

    By the noncentral chi-squared of the test of `parts` where `other` is the truth: Cohen 1992, table 2, row 7.
    ValueError where the ratios are the same, or not as long.
    """
    return n_for_w(ratio_apart(parts, other), len(parts) - 1, alpha, power)


def ratio_apart(parts: Sequence[float], other: Sequence[float]) -> float:
    """Return how far a ratio is from another one: Cohen's w = √(Σ (p − p₀)²/p₀), p₀ the shares of `parts`."""
    if len(parts) != len(other) or min(*parts, *other) <= 0:
        raise ValueError("Both ratios have a part above 0 for each kind")
    shares = [one / sum(parts) for one in parts]
    apart = [(one / sum(other) - share) ** 2 / share for one, share in zip(other, shares, strict=True)]
    return math.sqrt(math.fsum(apart))


def n_for_w(w: float, df: int, alpha: float = ALPHA, power: float = POWER) -> float:
    """Return the same for Cohen's w."""
    _asked(w, alpha, power)
    return _root(lambda n: power_of_w(w, df, n, alpha) - power, 2.0)


def power_of_w(w: float, df: int, n: float, alpha: float = ALPHA) -> float:
    """Return the chance that chi-squared of n plants in all shows Cohen's w."""
    point = float(stats().chi2.isf(alpha, df))
    shift = n * w * w
    found = float(stats().ncx2.sf(point, df, shift))
    return found if math.isfinite(found) else float(shift > point)


def plants(n: float) -> int:
    """Round up to whole plants; at least 2, since one shows no spread. ValueError for more than anybody counts."""
    if n > MOST:
        raise ValueError("That takes more than a thousand million: more than anybody counts")
    return max(2, math.ceil(n - 1e-9))


def smallest_difference(n1: int, n2: int, alpha: float = ALPHA, power: float = POWER) -> float:
    """Return the smallest difference, in sd, that groups of n1 and n2 show with this power."""
    return _root(lambda d: power_of_difference(d, n1, n2, alpha) - power, 1e-6)


def smallest_paired(pairs: int, alpha: float = ALPHA, power: float = POWER) -> float:
    """Return the smallest mean difference, in sd of the differences, that pairs show with this power."""
    return _root(lambda d: power_of_pairs(d, pairs, alpha) - power, 1e-6)


def smallest_f(groups: int, n: float, alpha: float = ALPHA, power: float = POWER) -> float:
    """Return the smallest Cohen's f that groups of n plants each show with this power."""
    return _root(lambda f: power_of_groups(f, groups, n, alpha) - power, 1e-6)


def _asked(size: float, alpha: float, power: float) -> None:
    if not (math.isfinite(size) and abs(size) >= 1e-3):
        raise ValueError("The difference worth finding must be larger than nothing: at least 0.001")
    if not (0 < alpha < 1 and alpha < power < 1):
        raise ValueError("A chance lies between 0 and 1, and the power above the p that is called more than chance")


def _both_ends(df: float, shift: float, alpha: float) -> float:
    """Return the chance that a t shifted by `shift` lies beyond the two-sided limits."""
    point = float(stats().t.isf(alpha / 2, df))
    above, below = float(stats().nct.sf(point, df, shift)), float(stats().nct.cdf(-point, df, shift))
    # Far out scipy says 'not a number': there the shift carries t past the limit, or leaves it short, for certain.
    if not math.isfinite(above):
        above = 1.0 if shift > point else 0.0
    return min(1.0, above + (below if math.isfinite(below) else 0.0))


def _root(short: Callable[[float], float], low: float) -> float:
    """Return where a rising function passes 0."""
    from scipy import optimize  # type: ignore[import-untyped]  # noqa: PLC0415 - slow to load, only planning needs it

    if short(low) >= 0:
        return low
    high = max(2.0, 2 * low)
    while short(high) < 0 and high < MOST:
        high *= 2
    if high >= MOST:
        return math.inf
    found: Any = optimize.brentq(short, max(low, high / 2) if short(max(low, high / 2)) < 0 else low, high, xtol=1e-10)
    return float(found)
