"""Room for each plant: how many fit, in rows, in a square or in a triangular pattern.

Distances in cm, areas in m², densities in plants/m². Plain geometry: in a square pattern each plant has
spacing × spacing, in a triangular one (each row moved by half a space, the rows closer) spacing² × √3 ÷ 2.
"""

from math import floor, sqrt
from typing import Literal

from walkabout.growing.limits import above

Pattern = Literal["square", "triangle"]

CM2 = 10_000
"""cm² in one m²."""

CLOSER = sqrt(3) / 2
"""In a triangular pattern, the distance between rows for each cm of spacing."""


def row_distance(spacing: float, pattern: Pattern = "square") -> float:
    """Return the distance between rows, cm, at so many cm between plants."""
    above("the spacing", spacing, 0, "cm")
    return spacing * (CLOSER if pattern == "triangle" else 1)


def density(spacing: float, rows: float) -> float:
    """Return plants/m² for cm between plants in the row and cm between rows: 10 000 ÷ (spacing × rows)."""
    above("the spacing", spacing, 0, "cm")
    above("the distance between rows", rows, 0, "cm")
    return CM2 / (spacing * rows)


def spacing_for(plants_per_m2: float, pattern: Pattern = "square") -> float:
    """Return the spacing, cm, at which so many plants stand on a m²: the other way round."""
    above("the number of plants", plants_per_m2, 0, "plants/m²")
    return sqrt(CM2 / (plants_per_m2 * (CLOSER if pattern == "triangle" else 1)))


def fit_area(area: float, plants_per_m2: float) -> int:
    """Return how many whole plants an area in m² has room for; edges are not counted."""
    return floor(area * plants_per_m2 + 1e-9)


def fit_tray(length: float, width: float, spacing: float, rows: float, pattern: Pattern = "square") -> int:
    """Return how many plants fit a tray of length × width cm, each half a space from the edges.

    Rows run along the length. In a triangular pattern every second row is moved by half a space, so that it
    may hold one plant less. 0 when not even one fits.
    """
    for what, value in (("the length", length), ("the width", width), ("the spacing", spacing)):
        above(what, value, 0, "cm")
    if width + 1e-9 < min(spacing, rows) or length + 1e-9 < spacing:
        return 0
    if pattern == "square":
        return floor(length / spacing + 1e-9) * floor(width / rows + 1e-9)
    count = floor((width - spacing) / rows + 1e-9) + 1 if width + 1e-9 >= spacing else 0
    even, odd = floor(length / spacing + 1e-9), floor(length / spacing - 0.5 + 1e-9)
    return even * ((count + 1) // 2) + odd * (count // 2)
