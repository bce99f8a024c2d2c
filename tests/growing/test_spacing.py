"""Room for plants: geometry that has to close."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from walkabout.growing import spacing as of
from walkabout.growing.limits import OutOfRange

APART = st.floats(0.5, 100)
PATTERN = st.sampled_from(["square", "triangle"])


@given(APART, PATTERN)
@settings(max_examples=60)
def test_spacing_and_density_go_round(apart: float, pattern: of.Pattern) -> None:
    """The spacing for a density gives that density again, and each plant's share of a m² adds up to it."""
    dense = of.density(apart, of.row_distance(apart, pattern))
    assert of.spacing_for(dense, pattern) == pytest.approx(apart)
    assert dense * apart * of.row_distance(apart, pattern) == pytest.approx(of.CM2)


@given(APART)
@settings(max_examples=30)
def test_a_triangle_holds_a_seventh_more(apart: float) -> None:
    """At the same distance to the nearest neighbour a triangular pattern holds 2 ÷ √3 = 1.155 times as many."""
    square, triangle = (of.density(apart, of.row_distance(apart, p)) for p in ("square", "triangle"))  # type: ignore[arg-type]
    assert triangle / square == pytest.approx(1.1547, abs=1e-4)


@given(st.floats(5, 300), st.floats(5, 300), st.floats(2, 40), PATTERN)
@settings(max_examples=100)
def test_tray_agrees_with_placing_one_by_one(length: float, width: float, apart: float, pattern: of.Pattern) -> None:
    """Counting by formula gives what placing each plant by hand gives, half a space from every edge."""
    rows = of.row_distance(apart, pattern)
    assume(not _on_the_edge(length, width, apart, rows))
    placed, down, number = 0, (apart if pattern == "triangle" else rows) / 2, 0
    while down <= width - apart / 2 + 1e-6:
        along = apart / 2 + (apart / 2 if pattern == "triangle" and number % 2 else 0)
        while along <= length - apart / 2 + 1e-6:
            placed += 1
            along += apart
        down += rows
        number += 1
    assert of.fit_tray(length, width, apart, rows, pattern) == placed


def _on_the_edge(length: float, width: float, apart: float, rows: float) -> bool:
    """Say whether a plant stands exactly on the edge of its room, where rounding decides."""
    steps = (length / apart * 2, width / rows, (width - apart) / rows)
    return any(abs(step - round(step)) < 1e-4 for step in steps)


@pytest.mark.parametrize(
    ("tray", "apart", "pattern", "count"),
    [
        ((120, 60), 20, "square", 18),
        ((120, 60), 20, "triangle", 17),
        ((60, 30), 15, "square", 8),
        ((10, 10), 20, "square", 0),
        ((10, 10), 20, "triangle", 0),
        ((100, 20), 20, "triangle", 5),
    ],
)
def test_trays_counted_on_squared_paper(
    tray: tuple[float, float], apart: float, pattern: of.Pattern, count: int
) -> None:
    """Trays that were drawn and counted by hand."""
    assert of.fit_tray(*tray, apart, of.row_distance(apart, pattern), pattern) == count


def test_whole_plants_only() -> None:
    """An area holds whole plants; an exact fit is not lost to rounding."""
    assert of.fit_area(1.2, 25) == 30
    assert of.fit_area(0.3, 1 / 0.1) == 3
    assert of.fit_area(0.39, 10) == 3


def test_no_spacing_of_nothing() -> None:
    """A spacing or a number of plants of nothing is refused."""
    with pytest.raises(OutOfRange, match="more than 0 cm"):
        of.density(0, 10)
    with pytest.raises(OutOfRange, match="plants/m²"):
        of.spacing_for(0)
    with pytest.raises(OutOfRange, match="the width"):
        of.fit_tray(10, 0, 2, 2)
