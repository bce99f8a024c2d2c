"""Least squares with nothing negative: how much of each of several things comes nearest to a target.

The active-set method of Lawson and Hanson (Solving Least Squares Problems, 1974, chapter 23), by normal
equations with a Cholesky factor that grows by one row for each thing taken in. Made for a table of some
twenty by twenty: fourteen elements and sixteen salts take less than a thousandth of a second.
"""

from collections.abc import Sequence
from math import hypot, sqrt
from operator import mul

Row = list[float]

_DEPENDENT = 1e-10
"""A column that leaves less than this share of itself, squared, beside those taken in is a mixture of them."""

_STILL = 1e-11
"""A gain below this, with all columns and the target at length 1, is rounding."""


def solve(columns: Sequence[Sequence[float]], target: Sequence[float]) -> tuple[float, ...]:
    """Return one non-negative number for each column, so that the columns times them come nearest to `target`.

    `columns`: n columns of m numbers each; `target`: m numbers. Minimises the sum of the squares of what is
    missing, so rows that shall count alike are scaled alike beforehand. Where several answers are equally
    near, the one found uses no column that is a mixture of others already used. Raises ValueError when the
    lengths differ.
    """
    if any(len(column) != len(target) for column in columns):
        raise ValueError(f"every column needs {len(target)} numbers, as the target has")
    lengths = [hypot(*column) for column in columns]
    size = hypot(*target)
    used = [index for index, length in enumerate(lengths) if length > 0]
    if size == 0 or not used:
        return (0.0,) * len(columns)
    unit = [[value / lengths[index] for value in columns[index]] for index in used]
    wanted = [value / size for value in target]
    gram = [[_dot(one, other) for other in unit] for one in unit]
    shares = _active_set(gram, [_dot(one, wanted) for one in unit])
    answer = [0.0] * len(columns)
    for index, share in zip(used, shares, strict=True):
        answer[index] = share * size / lengths[index]
    return tuple(answer)


def _active_set(gram: list[Row], along: Row) -> Row:
    """Solve for columns of length 1: `gram` their products with each other, `along` those with the target."""
    count = len(along)
    x = [0.0] * count
    taken: list[int] = []
    factor: list[Row] = []
    barred: set[int] = set()
    # Each round takes one column in and ends with a smaller remainder, so it ends; the bound is for rounding.
    for _ in range(10 * count):
        gains = {j: along[j] - _dot(gram[j], x) for j in range(count) if j not in barred and j not in taken}
        best = max(gains, key=gains.__getitem__, default=None)
        if best is None or gains[best] <= _STILL:
            return x
        row = _next_row(gram, taken, factor, best)
        if row is None:
            barred.add(best)
            continue
        before = list(x)
        taken, factor = [*taken, best], [*factor, row]
        if _solved(factor, [along[j] for j in taken])[-1] <= 0:
            # Rounding alone promised a gain.
            taken, factor = taken[:-1], factor[:-1]
            barred.add(best)
            continue
        x, taken, factor = _step_down(gram, along, x, taken, factor)
        if x != before:
            barred.clear()
    return x


def _step_down(
    gram: list[Row], along: Row, x: Row, taken: list[int], factor: list[Row]
) -> tuple[Row, list[int], list[Row]]:
    """Move to the best of the columns taken in, giving up each that would turn negative on the way."""
    while True:
        best = _solved(factor, [along[j] for j in taken])
        if min(best, default=0.0) >= 0:
            x = [0.0] * len(along)
            for j, value in zip(taken, best, strict=True):
                x[j] = value
            return x, taken, factor
        far, first = min((x[j] / (x[j] - value), j) for j, value in zip(taken, best, strict=True) if value < 0)
        for j, value in zip(taken, best, strict=True):
            x[j] += far * (value - x[j])
        x[first] = 0.0
        taken = [j for j in taken if x[j] > 0]
        x = [value if j in taken else 0.0 for j, value in enumerate(x)]
        factor = []
        for place, j in enumerate(taken):
            row = _next_row(gram, taken[:place], factor, j)
            # Fewer columns of a set that could be told apart can be told apart.
            factor.append(row if row is not None else [*[0.0] * place, sqrt(_DEPENDENT)])


def _next_row(gram: list[Row], taken: list[int], factor: list[Row], j: int) -> Row | None:
    """Return the row that column `j` adds to the Cholesky factor, or None when it is a mixture of those taken."""
    row: Row = []
    for i, other in zip(taken, factor, strict=True):
        row.append((gram[j][i] - _dot(row, other)) / other[-1])
    rest = gram[j][j] - _dot(row, row)
    return [*row, sqrt(rest)] if rest > _DEPENDENT else None


def _solved(factor: list[Row], right: Row) -> Row:
    """Solve L Lᵀ z = right, `factor` being the rows of L up to the diagonal."""
    forward: Row = []
    for row, value in zip(factor, right, strict=True):
        forward.append((value - _dot(forward, row)) / row[-1])
    z = [0.0] * len(factor)
    for i in range(len(factor) - 1, -1, -1):
        z[i] = (forward[i] - sum(factor[k][i] * z[k] for k in range(i + 1, len(factor)))) / factor[i][i]
    return z


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return float(sum(map(mul, one, other)))
