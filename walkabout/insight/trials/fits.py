"""Lines and growth curves by least squares, with the standard error of every term."""

import math
from collections.abc import Sequence
from typing import Any

from msgspec import Struct

from walkabout.insight.trials.chances import t_both, t_point
from walkabout.insight.trials.curves import CURVES, SCALES, Curve
from walkabout.insight.trials.outcome import LEVEL
from walkabout.insight.trials.say import count, number
from walkabout.insight.trials.table import BadTrial

MOST = 1000
"""Points on which the search for a curve begins; of more, every so many-th is taken, and all of them at the end."""


class Term(Struct, frozen=True):
    """One number of a curve: its value, standard error and interval, and what it means."""

    name: str
    value: float
    se: float
    low: float
    high: float
    says: str


class Fit(Struct, frozen=True, kw_only=True):
    """A fitted curve: terms, what is left over, and the line itself as points to draw."""

    curve: str
    formula: str
    terms: tuple[Term, ...]
    n: int
    rss: float
    """Sum of squares left over."""
    sd: float
    """Of what is left over."""
    df: int
    r_squared: float
    t: float | None = None
    p: float | None = None
    """Of the slope of a straight line."""
    points: tuple[tuple[float, float], ...] = ()
    notes: tuple[str, ...] = ()


def fit(curve: str, x: Sequence[float], y: Sequence[float]) -> Fit:
    """Return the curve of this name ('line', 'logistic', 'richards', 'saturation') nearest to the points.

    BadTrial where there are too few different points, or where no such curve can be found.
    """
    if curve not in CURVES:
        raise BadTrial(f'There is no curve "{curve}". It can be: {", ".join(CURVES)}')
    known = CURVES[curve]
    if len(set(x)) < len(known.says) or len(x) <= len(known.says):
        need = len(known.says) + 1
        raise BadTrial(
            f"The curve {curve} has {len(known.says)} terms: it needs at least {need} values at different points"
        )
    if len(set(y)) == 1:
        raise BadTrial("Every value is the same: there is no curve to draw")
    return _line(known, x, y) if curve == "line" else _bent(known, x, y)


def _line(curve: Curve, x: Sequence[float], y: Sequence[float]) -> Fit:
    n = len(x)
    middle_x, middle_y = math.fsum(x) / n, math.fsum(y) / n
    across = math.fsum((one - middle_x) ** 2 for one in x)
    slope = math.fsum((one - middle_x) * (other - middle_y) for one, other in zip(x, y, strict=True)) / across
    start = middle_y - slope * middle_x
    rss = math.fsum((other - start - slope * one) ** 2 for one, other in zip(x, y, strict=True))
    df = n - 2
    sd = math.sqrt(rss / df)
    errors = (sd * math.sqrt(1 / n + middle_x**2 / across), sd / math.sqrt(across))
    found = _fit(curve, (start, slope), errors, x, y, rss)
    if errors[1] <= 1e-12 * abs(slope):
        return found
    t = slope / errors[1]
    return _with(found, t=t, p=t_both(t, df))


def _bent(curve: Curve, x: Sequence[float], y: Sequence[float]) -> Fit:
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    # Terms near 1 are found more surely, so both axes are brought to the size of 1 for the search.
    wide, high = max(map(abs, x)) or 1.0, max(map(abs, y))
    along, up = np.array(x) / wide, np.array(y) / high
    best = _search(curve, along, up)
    if best is None:
        raise BadTrial(f"No curve of the kind {curve.name} comes near these values. A straight line may: --fit line")
    terms, cover = best
    scale = np.array(SCALES[curve.name](wide, high))
    terms = terms * scale
    errors = np.sqrt(np.diag(cover)) * scale
    rss = float(((np.array(y) - curve.at(np.array(x), *terms)) ** 2).sum())
    found = _fit(curve, tuple(map(float, terms)), tuple(map(float, errors)), x, y, rss * 1.0)
    return _with(found, notes=tuple(_doubts(curve, found, x)))


def _search(curve: Curve, x: Any, y: Any) -> tuple[Any, Any] | None:
    """Return the best terms over all starts and their covariance; None where no start leads anywhere."""
    import warnings  # noqa: PLC0415 - as below

    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it
    from scipy import optimize  # type: ignore[import-untyped]  # noqa: PLC0415 - as above

    def slopes(x: Any, *terms: float) -> Any:
        tiny = 1e-30
        at = [np.array(terms, dtype=complex) for _ in terms]
        for place, one in enumerate(at):
            one[place] += 1j * tiny
        return np.array([curve.at(x, *one).imag / tiny for one in at]).T

    def near(x: Any, y: Any, start: Sequence[float], tries: int) -> tuple[float, Any, Any] | None:
        try:
            with warnings.catch_warnings(), np.errstate(all="ignore"):
                warnings.simplefilter("ignore")
                terms, cover = optimize.curve_fit(
                    curve.at, x, y, start, jac=slopes, method="lm", ftol=1e-14, xtol=1e-14, gtol=1e-14, maxfev=tries
                )
                rss = float(((y - curve.at(x, *terms)) ** 2).sum())
        except (RuntimeError, ValueError, np.linalg.LinAlgError):
            return None
        return (rss, terms, cover) if np.isfinite(cover).all() and math.isfinite(rss) else None

    every = max(1, len(x) // MOST)
    some_x, some_y = x[::every], y[::every]
    best: tuple[float, Any, Any] | None = None
    for start in curve.starts(some_x, some_y):
        found = near(some_x, some_y, start, 2000)
        if found is not None and (best is None or found[0] < best[0] * (1 - 1e-9)):
            best = found
    if best is not None and every > 1:
        best = near(x, y, best[1], 200)
    return None if best is None else best[1:]


def _fit(
    curve: Curve, values: Sequence[float], errors: Sequence[float], x: Sequence[float], y: Sequence[float], rss: float
) -> Fit:
    n, df = len(x), len(x) - len(values)
    middle = math.fsum(y) / n
    whole = math.fsum((one - middle) ** 2 for one in y)
    point = t_point(LEVEL, df)
    terms = tuple(
        Term(f"b{place}", value, error, value - point * error, value + point * error, says)
        for place, (value, error, says) in enumerate(
            zip(values, errors, curve.says, strict=True), start=0 if curve.name == "line" else 1
        )
    )
    first, last = min(x), max(x)
    drawn = [first + (last - first) * step / 60 for step in range(61)]
    points = tuple((one, _real(curve, one, values)) for one in drawn)
    return Fit(
        curve=curve.name,
        formula=curve.formula,
        terms=terms,
        n=n,
        rss=rss,
        sd=math.sqrt(rss / df),
        df=df,
        r_squared=1 - rss / whole,
        points=points,
    )


def _real(curve: Curve, x: float, values: Sequence[float]) -> float:
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    with np.errstate(all="ignore"):
        return float(curve.at(np.float64(x), *values))


def _with(found: Fit, **more: Any) -> Fit:
    return Fit(**{name: getattr(found, name) for name in found.__struct_fields__} | more)


def _doubts(curve: Curve, found: Fit, x: Sequence[float]) -> list[str]:
    doubts = []
    ceiling = found.terms[0]
    if ceiling.low <= 0 <= ceiling.high:
        doubts.append("The ceiling of the curve is not settled by these values: measure for longer.")
    elif curve.name == "saturation" and found.terms[1].value * max(x) < 1:
        doubts.append("The values end well below the ceiling, so the ceiling is a guess beyond what was measured.")
    elif curve.name != "saturation" and found.terms[1].value > found.terms[2].value * max(x):
        doubts.append("The values end before half of the ceiling, so the ceiling is a guess beyond what was measured.")
    if any(abs(one.se) > abs(one.value) for one in found.terms):
        doubts.append("Some terms are less sure than they are large: a curve with fewer terms may say as much.")
    return doubts


def fit_lines(found: Fit, x: str, y: str) -> list[str]:
    """Return the working of a fit; x and y are the names of the columns."""
    lines = [f"{found.formula}, y = {y}, x = {x}, {found.n} points"]
    lines += [
        f"{one.name} = {number(one.value, 8)} ± {number(one.se)} ({LEVEL * 100:.0f} % interval {number(one.low)} to "
        f"{number(one.high)}): {one.says}"
        for one in found.terms
    ]
    lines += [
        f"left over: Σ (y − curve)² = {number(found.rss, 8)} on n − terms = {found.df}; sd = {number(found.sd)}",
        f"r² = 1 − left over/Σ (y − mean)² = {number(found.r_squared)}",
    ]
    if found.t is not None and found.p is not None:
        lines.append(f"t of the slope = {number(found.terms[1].value)}/{number(found.terms[1].se)} = {number(found.t)}")
        lines.append(
            f"p = chance of a t at least as far from 0 on {count(found.df, 'degree')} of freedom = {number(found.p)}"
        )
    return lines
