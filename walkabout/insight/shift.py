"""Whether a row of readings has shifted, and since when: by a step, or by a slow drift, told from chance.

Every place in the row is tried for a step and for a drift that begins there; the one that explains most of the
scatter is tested by its F, the largest over all places (Quandt 1960, JASA 55:324-330; Andrews 1993, Econometrica
61:821-856). Readings of a tank lean on the reading before, so their number counts for less: F is taken times
(1 - r)/(1 + r), r the correlation of neighbouring remainders (the effective number of readings of an AR(1) row,
common practice). What F must reach was found here by simulation, see LIMIT.
"""

import itertools
from collections.abc import Sequence
from typing import Literal

from msgspec import Struct

FEWEST = 8
"""Fewer readings than this say nothing about a shift."""
SIDE = 4
"""A step has at least so many readings on either side."""
RAMP = 5
"""A drift has at least so many readings from its first on."""
LIMIT = (18.0, 120.0)
"""F must reach a + b ÷ (n - 3). Found here by simulation; tests/insight/test_trend.py says how often it cries wolf."""
SLIP = 4.0
"""A lone reading so many standard deviations from both neighbours, to the same side, is a slip or a passing thing."""
MEDIAN_RANGE = 0.954
"""The median moving range of two normal readings, in standard deviations (NIST/SEMATECH e-Handbook, from memory)."""
LEAST_STEPS = 1.5
"""A shift of less than so many of the instrument's last digits is not spoken of. Assumed."""

Kind = Literal["step", "drift"]


class Change(Struct, frozen=True):
    """One shift. `at` is the place of the first reading at the new level, or of the last one before a drift sets in."""

    at: int
    kind: Kind
    size: float
    """By how much: the new level less the old; of a drift, from where it begins to the last reading."""
    before: float
    after: float
    f: float
    """The tested F, already lowered for readings that lean on each other."""
    limit: float
    """What F must reach."""
    leaning: float
    """The correlation of neighbouring remainders, from 0."""


def limit_of(count: int) -> float:
    """Return what F must reach for so many readings."""
    return LIMIT[0] + LIMIT[1] / (count - 3)


def slips(values: Sequence[float], least: float) -> tuple[int, ...]:
    """Return the places of lone readings far from both neighbours; of the last one, far from those before it.

    `least` is the instrument's last digit, in the unit of the values. A lone last reading may be the first of a
    step: it is left out until the next one says so.
    """
    if len(values) < FEWEST:
        return ()
    ranges = sorted(abs(one - other) for one, other in itertools.pairwise(values))
    far = SLIP * max(ranges[len(ranges) // 2] / MEDIAN_RANGE, least)
    found = []
    for place, value in enumerate(values):
        before = values[place - 1] if place else values[2]
        after = values[place + 1] if place + 1 < len(values) else values[-3]
        lone = value - before, value - after
        if min(lone) > far or max(lone) < -far:
            found.append(place)
    return tuple(found)


def change(times: Sequence[float], values: Sequence[float], least: float = 0.0) -> Change | None:
    """Return the shift that readings show, or None when chance explains them.

    `times` rise (days, or the number of the reading); `least` is the instrument's last digit. Slips must have been
    left out. It takes 8 readings.
    """
    count = len(values)
    if count < FEWEST:
        return None
    middle = sum(values) / count
    rows = [value - middle for value in values]
    total = sum(row * row for row in rows)
    best, gain, kind = _best(times, rows)
    left = max(total - gain, 0.0)
    # the instrument's own rounding scatters too, where readings happen to agree
    spread = max(left / (count - 3), (0.5 * least) ** 2)
    if gain <= 0 or gain < limit_of(count) * spread:
        return None
    fitted, size = _fitted(times, rows, best, kind)
    remainders = [row - fit for row, fit in zip(rows, fitted, strict=True)]
    leaning = _leaning(remainders)
    f = gain / spread * (1 - leaning) / (1 + leaning) if spread else float("inf")
    if f < limit_of(count) or abs(size) < LEAST_STEPS * least:
        return None
    return Change(best, kind, size, middle + fitted[0], middle + fitted[-1], f, limit_of(count), leaning)


def _best(times: Sequence[float], rows: Sequence[float]) -> tuple[int, float, Kind]:
    """Return the place, the squares explained and the kind that explain most; `rows` are about their mean."""
    count, last = len(rows), len(rows) - 1
    best, gain, kind = 0, 0.0, "step"
    first = times[0]
    n = sx = sxx = sy = sxy = 0.0
    for place in range(last, -1, -1):
        x, y = times[place] - first, rows[place]
        n, sx, sxx, sy, sxy = n + 1, sx + x, sxx + x * x, sy + y, sxy + x * y
        if SIDE <= place <= count - SIDE:
            found = sy * sy * count / (n * (count - n))
            if found > gain:
                best, gain, kind = place, found, "step"
        if n >= RAMP:
            rise = sx - n * x
            square = sxx - 2 * x * sx + n * x * x - rise * rise / count
            if square > 0:
                found = (sxy - x * sy) ** 2 / square
                if found > gain:
                    best, gain, kind = place, found, "drift"
    return best, gain, kind  # type: ignore[return-value]


def _fitted(times: Sequence[float], rows: Sequence[float], place: int, kind: Kind) -> tuple[list[float], float]:
    """Return the step or drift at every reading, and its size."""
    count = len(rows)
    if kind == "step":
        after = sum(rows[place:]) / (count - place)
        before = sum(rows[:place]) / place
        return [before] * place + [after] * (count - place), after - before
    rises = [max(time - times[place], 0.0) for time in times]
    mean = sum(rises) / count
    square = sum((rise - mean) ** 2 for rise in rises)
    slope = sum(rise * row for rise, row in zip(rises, rows, strict=True)) / square
    return [slope * (rise - mean) for rise in rises], slope * rises[-1]


def _leaning(rows: Sequence[float]) -> float:
    """Return how much neighbours agree, 0 to 0.9. A fit takes some of it away, about 2 ÷ n, which is given back."""
    square = sum(row * row for row in rows)
    if not square:
        return 0.0
    found = sum(one * other for one, other in itertools.pairwise(rows)) / square
    return min(max(found + 2 / len(rows), 0.0), 0.9)
