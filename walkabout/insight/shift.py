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
SIDE = 3
"""A step has at least so many readings on either side."""
RAMP = 5
"""A drift has at least so many readings from its first on."""
LIMIT = (18.0, 120.0)
"""F must reach a + b ÷ (n - 3). Found here by simulation; tests/insight/test_trend.py says how often it cries wolf."""
SLIP = 4.0
"""A lone reading so many standard deviations from both neighbours, to the same side, is a slip or a passing thing."""
MEDIAN_RANGE = 0.954
"""The median moving range of two normal readings, in standard deviations (NIST/SEMATECH e-Handbook, from memory)."""
MOST_SURE = 1e6
"""The F of readings without any scatter about their step."""
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


def change(times: Sequence[float], values: Sequence[float], least: float = 0.0, harder: float = 1.0) -> Change | None:
    """Return the shift that readings show, or None when chance explains them.

    `times` rise (days, or the number of the reading); `least` is the instrument's last digit. Slips must have been
    left out. It takes 8 readings. `harder` multiplies what F must reach, where part of a row is looked at once more.
    """
    count = len(values)
    limit = limit_of(count) * harder
    if count < FEWEST:
        return None
    middle = sum(values) / count
    rows = [value - middle for value in values]
    total = sum(row * row for row in rows)
    best, gain, kind = _best(times, rows)
    left = max(total - gain, 0.0)
    # the instrument's own rounding scatters too, where readings happen to agree
    spread = max(left / (count - 3), (0.5 * least) ** 2)
    if gain <= 0 or gain < limit * spread:
        return None
    fitted, size = _fitted(times, rows, best, kind)
    leaning = _leaning([row - fit for row, fit in zip(rows, fitted, strict=True)], spread * (count - 3))
    f = gain / spread * (1 - leaning) / (1 + leaning) if spread else MOST_SURE
    if f < limit or abs(size) < LEAST_STEPS * least:
        return None
    return Change(best, kind, size, middle + fitted[0], middle + fitted[-1], f, limit, leaning)


def _best(times: Sequence[float], rows: Sequence[float]) -> tuple[int, float, Kind]:
    """Return the place, the squares explained and the kind that explain most; `rows` are about their mean."""
    count, last = len(rows), len(rows) - 1
    step, drift, early = (0.0, 0), (0.0, 0), 0.0
    first = times[0]
    n = sx = sxx = sy = sxy = unread = 0.0
    for place in range(last, -1, -1):
        x, y = times[place] - first, rows[place]
        if place < last:
            unread = max(unread, times[place + 1] - times[place])
        n, sx, sxx, sy, sxy = n + 1, sx + x, sxx + x * x, sy + y, sxy + x * y
        if place:
            found = sy * sy * count / (n * (count - n))
            if SIDE <= place <= count - SIDE:
                step = max(step, (found, place))
            else:
                early = max(early, found)
        # where nobody read for half of the way, a drift cannot be told from a step
        if n >= RAMP and unread <= (times[last] - times[place]) / 2:
            rise = sx - n * x
            square = sxx - 2 * x * sx + n * x * x - rise * rise / count
            if square > 0:
                drift = max(drift, ((sxy - x * sy) ** 2 / square, place))
    if drift[0] > max(step[0], early):
        return drift[1], drift[0], "drift"
    # a step too young to be told looks like a short drift, or like one that came a reading sooner: it is waited for
    young = early > step[0] and step[1] in (SIDE, count - SIDE)
    return step[1], 0.0 if young else step[0], "step"


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


def _leaning(rows: Sequence[float], square: float) -> float:
    """Return how much neighbours agree, 0 to 0.9, where `square` is the sum of squares, the rounding's at the least.

    The fit takes some of it away, about 2 ÷ n, which is given back.
    """
    if not square:
        return 0.0
    found = sum(one * other for one, other in itertools.pairwise(rows)) / square
    return min(max(found + 2 / len(rows), 0.0), 0.9)
