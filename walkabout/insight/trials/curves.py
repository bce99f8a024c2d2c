"""The curves that can be fitted: their formulas, what their terms mean, and where a search for them may start."""

from collections.abc import Callable
from typing import Any

from msgspec import Struct


class Curve(Struct, frozen=True):
    """A curve that can be fitted: its formula, what its terms mean, and how to get near enough to start."""

    name: str
    formula: str
    says: tuple[str, ...]
    at: Callable[..., Any]
    """y from x and the terms; works on complex numbers too, from which slopes are taken exactly."""
    starts: Callable[[Any, Any], list[tuple[float, ...]]]


def _logistic(x: Any, b1: Any, b2: Any, b3: Any) -> Any:
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    return b1 / (1 + np.exp(b2 - b3 * x))


def _richards(x: Any, b1: Any, b2: Any, b3: Any, b4: Any) -> Any:
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    return b1 / (1 + np.exp(b2 - b3 * x)) ** (1 / b4)


def _saturation(x: Any, b1: Any, b2: Any) -> Any:
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    return b1 * (1 - np.exp(-b2 * x))


def _no_starts(x: Any, y: Any) -> list[tuple[float, ...]]:
    return []


def _logistic_starts(x: Any, y: Any) -> list[tuple[float, ...]]:
    """Try middles and steepnesses on a grid; for each the best ceiling is a plain division."""
    first, wide = float(x.min()), float(x.max() - x.min())
    tried = []
    for steep in (2.0, 4.0, 7.0, 12.0, 25.0, -4.0, -12.0):
        for middle in (0.1, 0.3, 0.5, 0.7, 0.9, 1.3):
            b3 = steep / wide
            b2 = b3 * (first + middle * wide)
            tried.append(_nearest_ceiling(_logistic(x, 1.0, b2, b3), y, (b2, b3)))
    return [start for _, start in sorted(tried)[:4]]


def _richards_starts(x: Any, y: Any) -> list[tuple[float, ...]]:
    return [(*start, b4) for start in _logistic_starts(x, y)[:3] for b4 in (1.0, 0.4, 2.5)]


def _saturation_starts(x: Any, y: Any) -> list[tuple[float, ...]]:
    wide = float(abs(x).max())
    tried = [
        _nearest_ceiling(_saturation(x, 1.0, b2 / wide), y, (b2 / wide,)) for b2 in (0.1, 0.3, 1.0, 3.0, 10.0, 30.0)
    ]
    return [start for _, start in sorted(tried)[:3]]


def _nearest_ceiling(shape: Any, y: Any, rest: tuple[float, ...]) -> tuple[float, tuple[float, ...]]:
    over = float((shape * shape).sum())
    b1 = float((shape * y).sum()) / over if over > 0 else 1.0
    return float(((y - b1 * shape) ** 2).sum()), (b1, *rest)


CURVES: dict[str, Curve] = {
    one.name: one
    for one in (
        Curve(
            "line",
            "y = b0 + b1·x",
            ("value where x is 0", "change for each 1 of x"),
            lambda x, a, b: a + b * x,
            _no_starts,
        ),
        Curve(
            "logistic",
            "y = b1/(1 + exp(b2 − b3·x))",
            ("ceiling", "sets where the middle lies: at x = b2/b3", "steepness"),
            _logistic,
            _logistic_starts,
        ),
        Curve(
            "richards",
            "y = b1/(1 + exp(b2 − b3·x))^(1/b4)",
            ("ceiling", "sets where the bend lies", "steepness", "lopsidedness: 1 is the plain logistic"),
            _richards,
            _richards_starts,
        ),
        Curve("saturation", "y = b1·(1 − exp(−b2·x))", ("ceiling", "rate"), _saturation, _saturation_starts),
    )
}
"""Verhulst 1838 for the logistic; Richards 1959, Journal of Experimental Botany 10:290-300."""

SCALES: dict[str, Callable[[float, float], tuple[float, ...]]] = {
    "logistic": lambda wide, high: (high, 1.0, 1 / wide),
    "richards": lambda wide, high: (high, 1.0, 1 / wide, 1.0),
    "saturation": lambda wide, high: (high, 1 / wide),
}
"""How the terms grow when the axes are stretched back."""
