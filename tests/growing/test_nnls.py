"""Least squares with nothing negative: what must hold of every answer."""

from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import nnls

NUMBER = st.one_of(st.just(0.0), st.floats(0.01, 10))


@st.composite
def tables(draw: st.DrawFn) -> tuple[list[list[float]], list[float]]:
    rows, columns = draw(st.integers(1, 8)), draw(st.integers(1, 8))
    table = [[draw(NUMBER) for _ in range(rows)] for _ in range(columns)]
    return table, [draw(st.floats(0, 10)) for _ in range(rows)]


def rest(table: list[list[float]], target: list[float], answer: tuple[float, ...]) -> list[float]:
    given_back = [sum(column[row] * x for column, x in zip(table, answer, strict=True)) for row in range(len(target))]
    return [wanted - got for wanted, got in zip(target, given_back, strict=True)]


@settings(max_examples=100, deadline=None)
@given(tables())
def test_answer_is_nonnegative_and_cannot_be_bettered(drawn: tuple[list[list[float]], list[float]]) -> None:
    """Nothing is negative; no more of any column would help, and less of none that is used would."""
    table, target = drawn
    answer = nnls.solve(table, target)
    left = rest(table, target, answer)
    size = sqrt(sum(wanted * wanted for wanted in target)) or 1.0
    for column, x in zip(table, answer, strict=True):
        length = sqrt(sum(value * value for value in column))
        gain = sum(value * part for value, part in zip(column, left, strict=True))
        assert x >= 0
        assert gain <= 1e-4 * size * length + 1e-12
        assert x == 0 or abs(gain) <= 1e-4 * size * length + 1e-12


@settings(max_examples=100, deadline=None)
@given(tables(), st.data())
def test_what_was_mixed_from_the_columns_is_met(
    drawn: tuple[list[list[float]], list[float]], data: st.DataObject
) -> None:
    """A target made of non-negative amounts of the columns is met."""
    table, target = drawn
    amounts = [data.draw(st.one_of(st.just(0.0), st.floats(0.001, 5))) for _ in table]
    made = [-value for value in rest(table, [0.0] * len(target), tuple(amounts))]
    left = rest(table, made, nnls.solve(table, made))
    assert max(map(abs, left)) <= 1e-4 * (max(made) or 1.0)


def test_columns_that_are_alike_are_not_used_both() -> None:
    """Of two columns that say the same thing one is used, and the target is met."""
    answer = nnls.solve([[1.0, 2.0], [2.0, 4.0], [0.0, 1.0]], [3.0, 7.0])
    assert rest([[1.0, 2.0], [2.0, 4.0], [0.0, 1.0]], [3.0, 7.0], answer) == pytest.approx([0, 0], abs=1e-9)
    assert sum(x > 0 for x in answer[:2]) == 1


@pytest.mark.parametrize(
    ("table", "target", "expected"),
    [
        ([[1.0]], [-3.0], (0.0,)),
        ([[0.0, 0.0], [0.0, 2.0]], [1.0, 4.0], (0.0, 2.0)),
        ([[1.0, 1.0]], [0.0, 0.0], (0.0,)),
        ([], [1.0], ()),
        ([[1.0, 0.0], [1.0, 1.0]], [1.0, -1.0], (1.0, 0.0)),
    ],
    ids=["negative target", "empty column", "nothing wanted", "no columns", "a column that only hurts"],
)
def test_edges(table: list[list[float]], target: list[float], expected: tuple[float, ...]) -> None:
    """What cannot help gets nought."""
    assert nnls.solve(table, target) == pytest.approx(expected)


def test_columns_of_another_length_are_refused() -> None:
    """A column that does not fit the target is refused with the number that fits."""
    with pytest.raises(ValueError, match="every column needs 2 numbers"):
        nnls.solve([[1.0]], [1.0, 2.0])
