"""The chances behind the tests, from scipy, which is loaded only when a trial is reckoned."""

import math
from typing import Any


def stats() -> Any:
    """Return scipy.stats."""
    from scipy import stats as loaded  # type: ignore[import-untyped]  # noqa: PLC0415 - slow to load, only trials need it

    return loaded


def t_both(t: float, df: float) -> float:
    """Return the chance of a t at least as far from 0, both sides together."""
    return float(2 * stats().t.sf(abs(t), df))


def t_above(t: float, df: float) -> float:
    """Return the chance of a larger t."""
    return float(stats().t.sf(t, df))


def t_point(level: float, df: float) -> float:
    """Return the t that holds `level` of the chance between itself and its negative."""
    return float(stats().t.ppf((1 + level) / 2, df))


def z_point(level: float) -> float:
    """Return the same of the normal distribution."""
    return float(stats().norm.ppf((1 + level) / 2))


def f_above(f: float, df1: float, df2: float) -> float:
    """Return the chance of a larger F."""
    return float(stats().f.sf(f, df1, df2))


def chi_above(chi: float, df: float) -> float:
    """Return the chance of a larger chi-squared."""
    return float(stats().chi2.sf(chi, df))


def range_above(q: float, groups: int, df: float) -> float:
    """Return the chance of a larger studentised range of `groups` means."""
    return min(1.0, max(0.0, float(stats().studentized_range.sf(q, groups, _held(df)))))


def range_point(level: float, groups: int, df: float) -> float:
    """Return the studentised range below which `level` of the chance lies."""
    return float(stats().studentized_range.ppf(level, groups, _held(df)))


def _held(df: float) -> float:
    """Return the degrees of freedom as scipy's integral bears them: from 100 000 on it takes the limit itself."""
    return df if df < 100_000 else math.inf
