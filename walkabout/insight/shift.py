"""Whether a row of readings has shifted, and since when: by a step, or by a slow drift, told from chance.

Every place in the row is tried for a step and for a drift that begins there; the one that explains most of the
scatter is tested by its F, the largest over all places (Quandt 1960, JASA 55:324-330; Andrews 1993, Econometrica
61:821-856). Readings of a tank lean on the reading before, so their number counts for less: F is taken times
(1 - r)/(1 + r), r the correlation of neighbouring remainders (the effective number of readings of an AR(1) row,
common practice). What F must reach was found here by simulation, see LIMIT.

A stair of two steps the same way leaves a whole step over where only one is fitted, and that step looks like readings
that lean on each other. So where nothing but the leaning speaks against a shift, two steps are fitted together.
"""

import itertools
import math
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
MANY = 120
"""In rows longer than this, chance alone brings readings that far off: there it takes more to be one."""
MEDIAN_RANGE = 0.954
"""The median moving range of two normal readings, in standard deviations (NIST/SEMATECH e-Handbook, from memory)."""
MOST_SURE = 1e6
"""The F of readings without any scatter about their step."""
STAIRS = (28.0, 160.0)
"""F of two steps together, for each of them, must reach a + b ÷ (n - 5). Found as LIMIT was."""
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
    together: int = 1
    """How many steps were tested as one stair."""


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
    # of normal readings, the share that is so far off falls with exp(-far² ÷ 3)
    far = math.sqrt(SLIP**2 + 3 * math.log(max(len(values) / MANY, 1))) * max(
        ranges[len(ranges) // 2] / MEDIAN_RANGE, least
    )
    found = []
    for place, value in enumerate(values):
        before = values[place - 1] if place else values[2]
        after = values[place + 1] if place + 1 < len(values) else values[-3]
        lone = value - before, value - after
        if min(lone) > far or max(lone) < -far:
            found.append(place)
    return tuple(found)


def change(times: Sequence[float], values: Sequence[float], least: float = 0.0, harder: float = 1.0) -> Change | None:
    """Return the one shift that readings show, or None when chance explains them.

    `times` rise (days, or the number of the reading); `least` is the instrument's last digit. Slips must have been
    left out. It takes 8 readings. `harder` multiplies what F must reach, where part of a row is looked at once more.
    """
    one = _plainest(times, values, least, limit_of(len(values)) * harder) if len(values) >= FEWEST else None
    return one if one is not None and one.f >= one.limit else None


def changes(
    times: Sequence[float], values: Sequence[float], least: float = 0.0, harder: float = 1.0
) -> tuple[Change, ...]:
    """Return what `change` does, or the two steps of a stair, the earlier one first; () when chance explains all."""
    one = _plainest(times, values, least, limit_of(len(values)) * harder) if len(values) >= FEWEST else None
    if one is None:
        return ()
    return (one,) if one.f >= one.limit else _stair(values, least, harder)


def _plainest(times: Sequence[float], values: Sequence[float], least: float, limit: float) -> Change | None:
    """Return the shift that explains most, None where it is too little even if no reading leant on another."""
    count = len(values)
    middle = sum(values) / count
    rows = [value - middle for value in values]
    total = sum(row * row for row in rows)
    best, gain, kind = _best(times, rows)
    spread = _spread(total - gain, count - 3, least)
    if gain <= 0 or gain < limit * spread:
        return None
    fitted, size = _fitted(times, rows, best, kind)
    if abs(size) < LEAST_STEPS * least:
        return None
    leaning = _leaning([row - fit for row, fit in zip(rows, fitted, strict=True)], spread * (count - 3))
    f = gain / spread * (1 - leaning) / (1 + leaning) if spread else MOST_SURE
    return Change(best, kind, size, middle + fitted[0], middle + fitted[-1], f, limit, leaning)


def _stair(values: Sequence[float], least: float, harder: float) -> tuple[Change, ...]:
    """Return two steps the same way that explain a row together; () where they do not."""
    count = len(values)
    sums = list(itertools.accumulate(values, initial=0.0))
    found, low, high = max(
        (
            (sums[low] ** 2 / low + (sums[high] - sums[low]) ** 2 / (high - low)
             + (sums[count] - sums[high]) ** 2 / (count - high), low, high)
            for low in range(SIDE, count - 2 * SIDE + 1)
            for high in range(low + SIDE, count - SIDE + 1)
        ),
        default=(0.0, 0, 0),
    )  # fmt: skip
    if not low:
        return ()
    ends = (0, low, high, count)
    levels = [(sums[end] - sums[begin]) / (end - begin) for begin, end in itertools.pairwise(ends)]
    sizes = [after - before for before, after in itertools.pairwise(levels)]
    if sizes[0] * sizes[1] <= 0 or min(map(abs, sizes)) < LEAST_STEPS * least:
        return ()
    rows = [values[place] - levels[(place >= low) + (place >= high)] for place in range(count)]
    spread = _spread(sum(row * row for row in rows), count - 5, least)
    leaning = _leaning(rows, spread * (count - 5))
    gain = found - sums[count] ** 2 / count
    f = gain / 2 / spread * (1 - leaning) / (1 + leaning) if spread else MOST_SURE
    limit = (STAIRS[0] + STAIRS[1] / (count - 5)) * harder
    if f < limit:
        return ()
    return tuple(
        Change(place, "step", size, before, after, f, limit, leaning, together=2)
        for place, size, (before, after) in zip((low, high), sizes, itertools.pairwise(levels), strict=True)
    )


def _spread(left: float, free: int, least: float) -> float:
    """Return the variance about what was fitted: the rounding scatters too, where readings happen to agree."""
    return max(left / free, (0.5 * least) ** 2, 0.0)


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

    The fit takes some of it away, about 2 ÷ n, which is given back where there is any scatter to lean.
    """
    if not square:
        return 0.0
    found = sum(one * other for one, other in itertools.pairwise(rows))
    own = sum(row * row for row in rows)
    return min(max((found + 2 / len(rows) * min(own, square)) / square, 0.0), 0.9)
