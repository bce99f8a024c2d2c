"""The pace of a row of readings that one wild reading does not turn: the median of the slopes between all pairs.

Theil 1950; the interval is that of Sen 1968 (JASA 63:1379-1389), the chance is Kendall's. Both are also in scipy,
which takes half a second to load: a trend has to open in 0.3 s, so they stand here, and the tests hold them to
scipy's figures.
"""

import math
from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Literal

from msgspec import Struct

Z95 = 1.959963984540054
"""The normal deviate of a 95 % interval."""
EXACT = 33
"""Up to so many readings without ties the chance is counted out, not approximated."""
MOST = 500
"""The pace of more readings than this is that of the last ones, unless somebody waits: 125,000 pairs take 40 ms."""


class Slope(Struct, frozen=True):
    """A pace, in units of the value for each unit of time, with its 95 % interval.

    `kendall` is the number of pairs that rise less that of pairs that fall, `p` the chance of so uneven a number where
    nothing moves, `level` where the line stands at the last reading. `unsure` is how far that level may be off, either
    way (95 %: twice 1.25 standard errors, the price of medians; the scatter: median distance to the line × 1.4826).
    """

    value: float
    low: float
    high: float
    kendall: int
    p: float
    level: float
    unsure: float = 0.0
    count: int = 0
    """How many readings it is the pace of: the last ones, where there are more than were asked for."""


class Leaves(Struct, frozen=True):
    """When a range is left at this pace: days (or readings) from the last one; neither is ever sure."""

    end: Literal["low", "high"]
    limit: float
    after: float
    earliest: float
    latest: float


def slope(times: Sequence[float], values: Sequence[float], most: int = MOST) -> Slope | None:
    """Return the pace of the last `most` readings, whose times rise or stay; None with fewer than two times."""
    times, values = times[-most:], values[-most:]
    slopes: list[float] = []
    for place, (x, y) in enumerate(zip(times, values, strict=True), 1):
        later = zip(times[place:], values[place:], strict=True)
        slopes += [(other - y) / (at - x) for at, other in later if at > x]
    if not slopes:
        return None
    slopes.sort()
    score = len(slopes) - bisect_right(slopes, 0.0) - bisect_left(slopes, 0.0)
    middle = _median(slopes)
    low, high = _interval(slopes, times, values)
    rests = sorted(y - middle * x for x, y in zip(times, values, strict=True))
    rest = _median(rests)
    scatter = 1.4826 * _median(sorted(abs(one - rest) for one in rests))
    unsure = 2 * 1.25 * scatter / math.sqrt(len(rests))
    return Slope(
        middle, low, high, score, _chance(score, times, values), rest + middle * times[-1], unsure, len(values)
    )


def leaves(good: tuple[float, float], pace: Slope, last: float) -> Leaves | None:
    """Return when a range is left that `last` is still in; None when it is outside or the pace has no sure sign.

    The earliest day is that of the steepest pace and a level nearer to the end, the latest that of the flattest.
    """
    if not good[0] <= last <= good[1] or pace.low <= 0 <= pace.high or not pace.value:
        return None
    end: Literal["low", "high"] = "high" if pace.value > 0 else "low"
    limit = good[1] if end == "high" else good[0]
    fast, slow = sorted((pace.low, pace.high), key=abs, reverse=True)
    way = abs(limit - last)
    earliest = max(way - pace.unsure, 0.0) / abs(fast)
    return Leaves(end, limit, way / abs(pace.value), earliest, (way + pace.unsure) / abs(slow))


def _interval(slopes: Sequence[float], times: Sequence[float], values: Sequence[float]) -> tuple[float, float]:
    """Return the 95 % interval of Sen; where there are too few pairs for one, the least and the steepest slope."""
    count = len(values)
    ties = sum(k * (k - 1) * (2 * k + 5) for row in (times, values) for k in _ties(row))
    spread = math.sqrt(max(count * (count - 1) * (2 * count + 5) - ties, 0) / 18)
    last = len(slopes) - 1
    high = min(round((len(slopes) + Z95 * spread) / 2), last)
    low = max(round((len(slopes) - Z95 * spread) / 2) - 1, 0)
    return slopes[low], slopes[high]


def _chance(score: int, times: Sequence[float], values: Sequence[float]) -> float:
    """Return Kendall's two-sided p: counted out for few readings without ties, else from the normal curve."""
    count = len(values)
    ties_x, ties_y = _ties(times), _ties(values)
    if not ties_x and not ties_y and count <= EXACT:
        return _counted(count, score)
    m = count * (count - 1)
    both = math.prod(sum(k * (k - 1) // 2 for k in ties) for ties in (ties_x, ties_y))
    thirds = math.prod(sum(k * (k - 1) * (k - 2) for k in ties) for ties in (ties_x, ties_y))
    fives = sum(k * (k - 1) * (2 * k + 5) for ties in (ties_x, ties_y) for k in ties)
    square = (m * (2 * count + 5) - fives) / 18 + 2 * both / m
    square += thirds / (9 * m * (count - 2)) if count > 2 else 0
    return math.erfc(abs(score) / math.sqrt(2 * square)) if square > 0 else 1.0


def _counted(count: int, score: int) -> float:
    """Return the share of all orders of `count` readings that are at least so uneven."""
    pairs = count * (count - 1) // 2
    fewest = (pairs - abs(score)) // 2
    ways = [1]
    for size in range(2, count + 1):  # the number of orders with so many pairs the wrong way round
        wide = [0] * (len(ways) + size - 1)
        for place, number in enumerate(ways):
            for more in range(size):
                wide[place + more] += number
        ways = wide
    return min(1.0, 2 * sum(ways[: fewest + 1]) / math.factorial(count))


def _ties(row: Iterable[float]) -> list[int]:
    return [count for count in Counter(row).values() if count > 1]


def _median(ordered: Sequence[float]) -> float:
    middle = len(ordered) // 2
    return ordered[middle] if len(ordered) % 2 else (ordered[middle - 1] + ordered[middle]) / 2
