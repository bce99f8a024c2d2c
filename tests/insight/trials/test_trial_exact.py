"""Fisher's exact test of larger tables: every table, or many dealt by chance."""

import itertools
import math
from collections.abc import Iterator, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from walkabout.insight.trials import exact
from walkabout.insight.trials.exact import freeman_halton


def fillings(rows: Sequence[int], columns: Sequence[int]) -> Iterator[tuple[tuple[int, ...], ...]]:
    """Yield every table with these totals, row by row."""
    if len(rows) == 1:
        yield (tuple(columns),)
        return
    for row in itertools.product(*(range(most + 1) for most in columns)):
        if sum(row) == rows[0]:
            rest = [most - one for most, one in zip(columns, row, strict=True)]
            for more in fillings(rows[1:], rest):
                yield (row, *more)


def by_hand(table: Sequence[Sequence[int]]) -> tuple[float, int]:
    """Return p and the number of tables, in whole numbers: the chance of a table goes with 1/product of count!."""
    rows, columns = [sum(row) for row in table], [sum(column) for column in zip(*table, strict=True)]
    ways = math.prod(map(math.factorial, rows)) * math.prod(map(math.factorial, columns))

    def bottom(one: Sequence[Sequence[int]]) -> int:
        return math.prod(math.factorial(count) for row in one for count in row)

    every = [bottom(one) for one in fillings(rows, columns)]
    far = math.fsum(ways / (one * math.factorial(sum(rows))) for one in every if one >= bottom(table))
    return far, len(every)


@settings(max_examples=40, deadline=None)
@given(st.integers(2, 3), st.integers(2, 4), st.data())
def test_every_table_is_looked_at(high: int, wide: int, data: st.DataObject) -> None:
    """The same p, from as many tables, as counting them one by one in whole numbers."""
    table = [[data.draw(st.integers(0, 3)) for _ in range(wide)] for _ in range(high)]
    if not all(map(sum, table)) or not all(map(sum, zip(*table, strict=True))):
        return
    found = freeman_halton(table)
    p, many = by_hand(table)
    assert (found.p, found.tables, found.dealt) == (pytest.approx(p), many, False)
    assert freeman_halton(list(zip(*table, strict=True))).p == pytest.approx(p)


@given(*[st.integers(1, 25)] * 4)
def test_two_by_two_as_scipy_has_it(a: int, b: int, c: int, d: int) -> None:
    """A table of two and two is no other case."""
    assert freeman_halton([[a, b], [c, d]]).p == pytest.approx(stats.fisher_exact([[a, b], [c, d]]).pvalue)


def test_very_many_plants() -> None:
    """Half a million plants: p stays a chance, and goes with that of chi-squared."""
    table = [[300_000, 1_000, 3], [200_000, 690, 4]]
    found = freeman_halton(table)
    assert found.p == pytest.approx(stats.chi2_contingency(table).pvalue, abs=0.02)


def test_too_many_tables_are_dealt_by_chance(monkeypatch: pytest.MonkeyPatch) -> None:
    """Seeded, so the same every time; near the exact p within its own error; never 0."""
    table = [[5, 4, 3, 5], [4, 4, 3, 9], [1, 0, 2, 2]]
    every = freeman_halton(table)
    monkeypatch.setattr(exact, "MOST_STEPS", 10)
    dealt = freeman_halton(table)
    assert (dealt.dealt, dealt.tables) == (True, exact.DEALINGS)
    assert dealt == freeman_halton(table)
    assert dealt.p == pytest.approx(every.p, abs=4 * dealt.error)
    assert every.error == 0
    apart = freeman_halton([[60, 0, 0], [0, 60, 0], [0, 0, 60]])
    assert (apart.p, apart.dealt) == (1 / (exact.DEALINGS + 1), True)


def test_very_wide_tables_are_dealt_less_often() -> None:
    """60 groups of 60 outcomes: fewer tables, so that it does not take minutes."""
    found = freeman_halton([[(row + column) % 3 for column in range(60)] for row in range(60)])
    assert found.dealt
    assert exact.FEWEST <= found.tables <= exact.MOST_CELLS // 3600
