"""When a logger read: moments as loggers write them, the zone they are meant in, and what is odd about their order."""

import re
from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from itertools import pairwise
from statistics import median
from typing import Literal

from msgspec import Struct

from walkabout.paper.logger_columns import BadLogger
from walkabout.room.mistakes import shortened

Order = Literal["ymd", "dmy", "mdy", "seconds", "milliseconds"]
ORDERS: dict[Order, str] = {
    "ymd": "year, month, day",
    "dmy": "day, month, year",
    "mdy": "month, day, year",
    "seconds": "seconds since 1970 (UTC)",
    "milliseconds": "milliseconds since 1970 (UTC)",
}

_MOMENT = re.compile(
    r"(\d{1,4})[./\-](\d{1,2})[./\-](\d{1,4})(?:[ T,]+(\d{1,2})[:.h](\d{2})(?:[:.](\d{2})(?:[.,](\d{1,9}))?)?)?"
    r"\s*([AaPp])?\.?(?:[Mm]\.?)?\s*(Z|UTC|GMT|[+-]\d{2}:?\d{2})?"
)
SWAPPED: tuple[Order, ...] = ("dmy", "mdy")
"""The orders that can be taken for one another."""
_YEAR_FIRST = re.compile(r"\d{3}")
_SECONDS = re.compile(r"\d{9,10}(?:[.,]\d+)?")
_MILLISECONDS = re.compile(r"\d{12,13}")
_OFFSET = re.compile(r"(?:UTC|GMT)?\s*([+-])(\d{1,2}):?(\d{2})?")
_ENOUGH = 0.6
"""The share of a column's cells that must be moments; assumed."""
_EPOCH = datetime(1970, 1, 1)  # noqa: DTZ001 - by the wall clock


class Moment(Struct, frozen=True):
    """A moment as written: by the wall clock, and its offset in seconds where the file says it."""

    wall: datetime
    offset: int | None = None


def reading(order: Order) -> Callable[[str], Moment | None]:
    """Return what reads a moment in this order, or with the year in front; it gives None for a text that is none."""
    if order not in SWAPPED:
        return _strictly(order)
    ordered, year_first = _strictly(order), _strictly("ymd")
    return lambda text: year_first(text) if _YEAR_FIRST.match(text) else ordered(text)


def _strictly(order: Order) -> Callable[[str], Moment | None]:
    """Return what reads a moment in this order and no other."""
    if order in ("seconds", "milliseconds"):
        shape, many = (_SECONDS, 1) if order == "seconds" else (_MILLISECONDS, 1000)

        def from_number(text: str) -> Moment | None:
            if not shape.fullmatch(text):
                return None
            return Moment(_EPOCH + timedelta(microseconds=round(float(text.replace(",", ".")) * 1e6 / many)), 0)

        return from_number
    year, month, day = order.index("y"), order.index("m"), order.index("d")

    def from_text(text: str) -> Moment | None:
        found = _MOMENT.fullmatch(text)
        if not found:
            return None
        groups = found.groups()
        if (len(groups[0]) > 2) != (year == 0) or (year == 2 and len(groups[2]) not in (2, 4)):
            return None
        hour = int(groups[3] or 0)
        if groups[7]:
            if not 1 <= hour <= 12:
                return None
            hour = hour % 12 + (12 if groups[7] in "Pp" else 0)
        number = int(groups[year])
        try:
            wall = datetime(  # noqa: DTZ001 - the offset stands beside it
                number + 2000 if number < 100 else number,
                int(groups[month]),
                int(groups[day]),
                hour,
                int(groups[4] or 0),
                int(groups[5] or 0),
                int(groups[6][:6].ljust(6, "0")) if groups[6] else 0,
            )
        except ValueError:
            return None
        return Moment(wall, _seconds(groups[8]) if groups[8] else None)

    return from_text


def _seconds(text: str) -> int:
    if text in ("Z", "UTC", "GMT"):
        return 0
    digits = text[1:].replace(":", "")
    return (1 if text[0] == "+" else -1) * (int(digits[:2]) * 3600 + int(digits[2:] or 0) * 60)


def orders_of(texts: Sequence[str]) -> list[Order]:
    """Return the orders in which most texts are moments, the likeliest first.

    Where days and months may be swapped, the order in which more can be read is likelier, then the one without leaps.
    """
    likely: list[tuple[int, float, int, Order]] = []
    for place, order in enumerate(ORDERS):
        if order == "mdy" and all("." in text[:6] for text in texts):
            continue  # with points between them the day comes first (common practice)
        read = _strictly(order)
        walls = [one.wall for text in texts if (one := read(text))]
        if len(walls) > _ENOUGH * len(texts):
            steps = [abs((later - one).total_seconds()) for one, later in pairwise(walls)]
            likely.append((-len(walls), max(steps, default=0), place, order))
    return [order for *_, order in sorted(likely)]


def can_be_swapped(texts: Sequence[str], orders: Sequence[Order]) -> bool:
    """Say whether days and months may be swapped: both orders read as much, and not the same days."""
    if not {*SWAPPED} <= {*orders}:
        return False
    one, two = (_walls(texts, order) for order in SWAPPED)
    return len(one) == len(two) and one != two


def reads_most(texts: Sequence[str], order: Order, orders: Sequence[Order]) -> bool:
    """Say whether an order reads as much as the likeliest of `orders`."""
    return len(_walls(texts, order)) >= len(_walls(texts, orders[0]))


def is_open(texts: Sequence[str], orders: Sequence[Order]) -> bool:
    """Say whether days and months may be swapped, and nothing in the file tells which is which."""
    if not can_be_swapped(texts, orders):
        return False
    one, two = (
        max((abs(later - one) for one, later in pairwise(_walls(texts, order))), default=timedelta(0))
        for order in SWAPPED
    )
    return one == two


def _walls(texts: Sequence[str], order: Order) -> list[datetime]:
    read = _strictly(order)
    return [one.wall for text in texts if (one := read(text))]


def zone_of(text: str) -> tzinfo | None:
    """Return the zone that is meant: 'UTC', '+01:00', 'Europe/Vienna'; None (this machine's own) for nothing."""
    plain = text.strip()
    if not plain:
        return None
    if plain.upper() in ("UTC", "GMT", "Z"):
        return UTC
    if found := _OFFSET.fullmatch(plain):
        hours, minutes = int(found[2]), int(found[3] or 0)
        if hours <= 14 and minutes < 60:
            ahead = timedelta(hours=hours, minutes=minutes)
            return timezone(ahead if found[1] == "+" else -ahead)
    from zoneinfo import ZoneInfo  # noqa: PLC0415 - most files need none

    try:
        return ZoneInfo(plain)
    except (OSError, ValueError, KeyError) as error:
        raise BadLogger(f'"{shortened(plain, 40)}" is no time zone. Write UTC, +01:00 or Europe/Vienna') from error


def zone_in(head: str) -> str:
    """Return the zone that a column's name speaks of ('Date Time, GMT+01:00'); nothing when it does not."""
    found = re.search(r"\b(?:GMT|UTC)(?:\s*[+-]\d{1,2}(?::?\d{2})?)?", head)
    return found[0] if found else ""


class Clock:
    """Turns wall-clock moments into seconds since 1970, in the order in which a file has them."""

    def __init__(self, zone: tzinfo | None) -> None:
        self._zone = zone
        self._offsets: dict[tuple[datetime, int], int] = {}
        self._last: float | None = None
        self._offset: int | None = None
        self.back: list[int] = []
        """Lines whose moment lies before that of the row above."""
        self.unreal: list[int] = []
        """Lines whose moment the clock left out when it was put forward."""
        self.changes: list[datetime] = []
        """When the clock was changed between two rows."""

    def at(self, moment: Moment, line: int) -> tuple[float, int]:
        """Return seconds since 1970 and the offset of the wall clock in seconds."""
        wall = (moment.wall - _EPOCH).total_seconds()
        offset = moment.offset
        if offset is None:
            first, second = self._offset_at(moment.wall, 0), self._offset_at(moment.wall, 1)
            offset = first
            if first > second and self._last is not None and wall - first <= self._last < wall - second:
                # the hour that comes twice in autumn: where time would go back, it is the second one
                offset = second
            elif first < second:
                self.unreal.append(line)
        # to the thousandth of a second: what two files write differently beyond that is the same moment
        since = round(wall - offset, 3)
        if self._last is not None and since < self._last:
            self.back.append(line)
        if self._offset is not None and offset != self._offset:
            self.changes.append(moment.wall)
        self._last, self._offset = since, offset
        return since, offset

    def _offset_at(self, wall: datetime, fold: int) -> int:
        half = wall.replace(minute=wall.minute // 30 * 30, second=0, microsecond=0, fold=fold)
        known = self._offsets.get((half, fold))
        if known is None:
            at = half.astimezone() if self._zone is None else half.replace(tzinfo=self._zone)
            ahead = at.utcoffset()
            known = self._offsets[half, fold] = int(ahead.total_seconds()) if ahead is not None else 0
        return known


class Gap(Struct, frozen=True):
    """A stretch without readings, in seconds since 1970."""

    first: float
    last: float


def gaps(moments: Sequence[float]) -> tuple[float, list[Gap]]:
    """Return the usual step in seconds, and where it was more than two and a half times as long (assumed)."""
    ordered = sorted(moments)
    steps = [later - one for one, later in pairwise(ordered)]
    if not steps:
        return 0, []
    usual = median(steps)
    found = [Gap(one, later) for one, later in pairwise(ordered) if later - one > 2.5 * usual]
    return usual, found


def long(seconds: float) -> str:
    """Return how long a stretch of so many seconds is, in the two largest units that it fills: '6 h 10 min'."""
    if seconds < 60:
        return f"{seconds:.3g} s"
    whole = round(seconds)
    if whole >= 3600:
        whole = round(whole / 60) * 60
    days, hours, minutes = whole // 86_400, whole % 86_400 // 3600, whole % 3600 // 60
    if days >= 2:
        parts = [(days, "days"), (hours, "h")]
    elif whole >= 3600:
        parts = [(24 * days + hours, "h"), (minutes, "min")]
    else:
        parts = [(minutes, "min"), (whole % 60, "s")]
    return " ".join(f"{number} {unit}" for number, unit in parts if number)
