"""Fisher's exact test of any table of counts: every table with the same totals, or many of them dealt by chance.

Freeman and Halton 1951, Biometrika 38:141-149: p is the chance, with all totals held, of a table that is no likelier
than the one that was counted.
"""

import math
from collections.abc import Sequence
from typing import Any

from msgspec import Struct

from walkabout.insight.trials.chances import stats

MOST_STEPS = 4_000_000
"""Partial tables of one half that are looked at; with more the tables are dealt by chance instead. Assumed."""
DEALINGS, FEWEST, SEED = 99_999, 1_999, 1
"""How many tables are dealt by chance, how many of very large ones at least, and the number that they come from."""
MOST_CELLS, AT_ONCE = 20_000_000, 1_000_000
"""Cells of all the tables that are dealt, and of those that are dealt together. Assumed."""
SAME = 1e-7
"""Chances that differ by less, as a share of themselves, are the same: they differ by rounding only."""


class Exact(Struct, frozen=True):
    """The p of a table, and of how many tables with the same totals; dealt by chance or every one of them."""

    p: float
    tables: int
    dealt: bool

    @property
    def error(self) -> float:
        """Return the standard error of p that dealing by chance leaves; 0 where every table was looked at."""
        return math.sqrt(self.p * (1 - self.p) / self.tables) if self.dealt else 0.0


def freeman_halton(table: Sequence[Sequence[int]]) -> Exact:
    """Return Fisher's exact p of a table of whole counts, at least 2 rows and 2 columns, none of them empty."""
    rows = table if len(table) <= len(table[0]) else list(zip(*table, strict=True))
    return _every(rows) or _dealt(rows)


def _every(table: Sequence[Sequence[int]]) -> Exact | None:
    """Look at every table with the same totals; None where there are too many.

    Each is made of a left and a right half: a column more at a time, with what of each row is used up. Then each left
    half is set beside the right halves that fill the rows.
    """
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    rows = np.array([sum(row) for row in table])
    columns = sorted((sum(column) for column in zip(*table, strict=True)), reverse=True)
    left, right = _half(columns[::2], rows, np), _half(columns[1::2], rows, np)
    if left is None or right is None:
        return None
    shares = np.log(rows / rows.sum())
    seen = math.fsum(_ln_column(column, shares) for column in zip(*table, strict=True))
    whole = _ln_column(rows.tolist(), shares)
    places = np.cumprod([1, *(rows[:-1] + 1)])
    wanted = (rows - right[0]) @ places
    order = np.lexsort((right[1], wanted))
    wanted, ends, many = wanted[order], right[1][order], right[2][order]
    chance_so_far = np.concatenate([[0.0], np.cumsum(many * np.exp(ends))])
    many_so_far = np.concatenate([[0.0], np.cumsum(many)])
    nodes, starts = np.unique(left[0] @ places, return_index=True)
    p, tables = 0.0, 0.0
    for node, start, end in zip(nodes, starts, [*starts[1:], len(left[0])], strict=True):
        first, last = np.searchsorted(wanted, [node, node + 1])
        upto = first + np.searchsorted(ends[first:last], seen + SAME - left[1][start:end], side="right")
        each = left[2][start:end] * np.exp(left[1][start:end] - whole)
        p += float(each @ (chance_so_far[upto] - chance_so_far[first]))
        tables += float(left[2][start:end].sum() * (many_so_far[last] - many_so_far[first]))
    return Exact(min(p, 1.0), round(tables), dealt=False)


def _half(columns: Sequence[int], rows: Any, np: Any) -> tuple[Any, Any, Any] | None:
    """Return every way to fill these columns: what is used of each row, ln chance, and in how many ways.

    The chances are those of columns dealt freely, by the rows' shares of all: with the rows' totals held only their
    common factor changes, and they stay between 0 and 1 however many plants there are.

    None where that would take more than MOST_STEPS.
    """
    used, logs, many = np.zeros((1, len(rows)), dtype=np.int64), np.zeros(1), np.ones(1)
    factorials = np.array([_ln_factorial(one) for one in range(int(rows.max()) + 1)])
    shares = np.log(rows / rows.sum())
    places = np.cumprod([1, *(rows[:-1] + 1)])
    for total in columns:
        if math.comb(total + len(rows) - 1, len(rows) - 1) > MOST_STEPS:
            return None
        ways = _ways(total, rows.tolist(), np)
        if len(used) * len(ways) > MOST_STEPS:
            return None
        gain = _ln_factorial(total) + ways @ shares - factorials[ways].sum(axis=1)
        on = (used[:, None, :] + ways[None, :, :]).reshape(-1, len(rows))
        fits = (on <= rows).all(axis=1)
        ends = (logs[:, None] + gain[None, :]).reshape(-1)[fits]
        weights = np.repeat(many, len(ways))[fits]
        on = on[fits]
        # Ways that use up the same and are as likely are one from here on.
        order = np.lexsort((ends, on @ places))
        on, ends, weights = on[order], ends[order], weights[order]
        new = np.concatenate([[True], (np.diff(on @ places) != 0) | (np.diff(ends) > SAME / 1000)])
        first = np.flatnonzero(new)
        used, logs, many = on[first], ends[first], np.add.reduceat(weights, first)
    return used, logs, many


def _ways(total: int, most: Sequence[int], np: Any) -> Any:
    """Return every way to deal `total` plants to rows that take at most so many each, one way a line."""
    lines: list[tuple[int, ...]] = [()]
    for place, limit in enumerate(most):
        rest = sum(most[place + 1 :])
        lines = [
            (*line, count)
            for line in lines
            for count in range(max(0, total - sum(line) - rest), min(limit, total - sum(line)) + 1)
        ]
    return np.array(lines, dtype=np.int64).reshape(-1, len(most))


def _dealt(table: Sequence[Sequence[int]]) -> Exact:
    """Deal tables with the same totals by chance; the counted one is one of them, so p is never 0."""
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    rows, columns = [sum(row) for row in table], [sum(column) for column in zip(*table, strict=True)]
    cells = len(rows) * len(columns)
    dealings = max(FEWEST, min(DEALINGS, MOST_CELLS // cells))
    factorials = np.array([_ln_factorial(one) for one in range(max(*rows, *columns) + 1)])
    seen = factorials[np.array(table)].sum()
    dice, urn, far, left = np.random.default_rng(SEED), stats().random_table(rows, columns), 0, dealings
    while left:
        now = min(left, max(1, AT_ONCE // cells))
        tables = urn.rvs(now, random_state=dice).astype(np.int64).reshape(now, -1)
        far += int((factorials[tables].sum(axis=1) >= seen - SAME).sum())
        left -= now
    return Exact((far + 1) / (dealings + 1), dealings, dealt=True)


def _ln_column(counts: Sequence[int], ln_shares: Any) -> float:
    """Return ln chance of a column dealt freely to rows with these shares."""
    gains = (count * float(share) - _ln_factorial(count) for count, share in zip(counts, ln_shares, strict=True))
    return _ln_factorial(sum(counts)) + math.fsum(gains)


def _ln_factorial(one: int) -> float:
    return math.lgamma(one + 1)
