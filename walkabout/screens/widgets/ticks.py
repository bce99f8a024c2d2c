"""Where the scales of a picture are written on: round numbers, and days as people name them."""

import math
from datetime import date, timedelta

DAY_STEPS = (1, 2, 7, 14)
MONTH_STEPS = (1, 2, 3, 6)
YEAR_STEPS = (1, 2, 5, 10, 20, 50)
DAY_CELLS, MONTH_CELLS, YEAR_CELLS = 9, 7, 7
"""Cells that a label takes, with the room beside it."""
CLOSEST, FURTHEST = 2, 6
"""Rows from one number to the next."""
FEW, WIDE = 0.5, 0.06
"""What fewer than three numbers cost, and each row more between two of them, as a share of the scale's height."""
LEAST_APART = 6
"""With fewer rows than this, numbers may stand in every one."""
TINY = 1e-9

Tick = tuple[float, str]
"""Where it stands in the units of the picture, and what is written there."""


def numbers(low: float, high: float, most: int) -> tuple[Tick, ...]:
    """Return round numbers (1, 2 or 5 times a power of ten apart) from `low` to `high`, at most `most` of them."""
    if not high > low or most < 1:
        return ()
    rough = (high - low) / most
    power = 10.0 ** math.floor(math.log10(rough))
    for step in (power, 2 * power, 5 * power, 10 * power, 20 * power):
        first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
        if last - first + 1 <= most:
            return tuple((at * step, f"{at * step + 0.0:.{_decimals(step)}f}") for at in range(first, last + 1))
    return ()


def even(low: float, high: float, rows: int) -> tuple[float, float, tuple[Tick, ...]]:
    """Return (low, high, ticks) of a scale on so many rows: round numbers, each as many rows from the next.

    The ends are moved out as far as that takes, but not below 0 where `low` is not. With fewer than three rows, or
    where nothing fits, the ends stay and `numbers` says what is written.
    """
    best: tuple[float, float, int] | None = None
    if rows >= 3 and high > low:
        power = 10.0 ** math.floor(math.log10((high - low) / rows))
        for step in (many * power * more for more in (1, 10, 100) for many in (1, 2, 5)):
            for apart in range(CLOSEST if rows >= LEAST_APART else 1, FURTHEST + 1):
                cell = step / apart
                first = math.floor(low / cell + TINY)
                shown = math.floor((rows - 1 - -first % apart) / apart) + 1
                if (first + rows - 1) * cell < high - cell * TINY or shown < 2:
                    continue
                waste = cell * (1 + FEW * (shown < 3) + WIDE * abs(apart - CLOSEST))
                if best is None or waste < best[0] - cell * TINY:
                    best = waste, step, apart
    if best is None:
        return low, high, numbers(low, high, max(rows // 2, 3))
    _, step, apart = best
    cell = step / apart
    first = math.floor(low / cell + TINY)
    spare = math.floor(first + rows - 1 - high / cell + TINY)
    first -= min(spare // 2, first) if low >= 0 else spare // 2
    places = range(first + -first % apart, first + rows, apart)
    decimals = _decimals(step)
    ticks = tuple((at * cell, f"{at * cell + 0.0:.{decimals}f}") for at in places)
    return first * cell, (first + rows - 1) * cell, ticks


def _decimals(step: float) -> int:
    return max(0, -math.floor(math.log10(step) + TINY))


def days(first: date, last: date, width: int) -> tuple[tuple[date, str], ...]:
    """Return the days that are named on a scale of `width` cells: days, firsts of a month, or firsts of a year."""
    long = max((last - first).days, 1)
    for step in DAY_STEPS:
        if long / step * DAY_CELLS <= width:
            begin = first if step < 7 else first + timedelta(days=-first.weekday() % 7)
            found = (begin + timedelta(days=at) for at in range(0, (last - begin).days + 1, step))
            return tuple((day, f"{day.day} {day:%b}") for day in found)
    for months in MONTH_STEPS:
        if long / 30.4 / months * MONTH_CELLS <= width:
            return tuple((day, f"{day:%b}" if day.month > 1 else f"{day.year}") for day in _months(first, last, months))
    for years in YEAR_STEPS:
        if long / 365.25 / years * YEAR_CELLS <= width:
            break
    return tuple((day, str(day.year)) for day in _months(first, last, 12 * years))


def _months(first: date, last: date, step: int) -> list[date]:
    at = first.year * 12 + first.month - 1 + (first.day > 1)
    at += -at % step
    end = last.year * 12 + last.month - 1
    return [date(month // 12, month % 12 + 1, 1) for month in range(at, end + 1, step)]
