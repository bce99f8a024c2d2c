"""Days as people write them in a table: by the standard (ISO 8601), in words, or with the day or month in front.

Of 12/11/2026 nobody can say which is the day. One cell of the column that has a number above 12 settles it for all;
points between the numbers mean that the day comes first (common practice). Where nothing settles it, one has to ask.
"""

import re
from collections.abc import Iterable
from datetime import datetime
from typing import Literal

Order = Literal["dmy", "mdy"]
ORDERS: dict[Order, str] = {"dmy": "day, month, year", "mdy": "month, day, year"}

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
"""How the English names of the months begin."""

_CLOCK = r"(?:[ T,]+(?P<hour>\d{1,2})[:.h](?P<minute>\d{2})(?::(?P<second>\d{2}))?\s*(?:(?P<half>[AaPp])\.?[Mm]\.?)?)?"
_WRITTEN = re.compile(r"(?P<one>\d{1,2})(?P<mark>[./-])(?P<two>\d{1,2})(?P=mark)(?P<year>\d{4}|\d{2})" + _CLOCK)
_PLAIN = tuple(
    re.compile(shape + _CLOCK)
    for shape in (
        r"(?P<year>\d{4})(?P<mark>[./-])(?P<month>\d{1,2})(?P=mark)(?P<day>\d{1,2})",
        r"(?P<year>\d{4})[/-](?P<month>\d{1,2})",
        r"(?:[A-Za-z]+[.,]*\s+)?(?P<day>\d{1,2})\.?[\s-]+(?P<name>[A-Za-z]{3,9})\.?,?[\s-]+(?P<year>\d{4})",
        r"(?P<name>[A-Za-z]{3,9})\.?\s+(?P<day>\d{1,2}),?\s+(?P<year>\d{4})",
    )
)
"""Shapes that leave nothing open: the year first, or the month in letters; a month alone is its first day."""


def is_written(cell: str) -> bool:
    """Say whether a cell has a day with the year at its end."""
    return _WRITTEN.fullmatch(cell) is not None


def order_in(cells: Iterable[str]) -> Order | None:
    """Return the order that a column settles by itself; None where each of its days could be a month.

    Where some cells speak for one order and some for the other, the first one counts, and the others are no days.
    """
    points = False
    for cell in cells:
        found = _WRITTEN.fullmatch(cell)
        if found is None:
            continue
        one, two = int(found["one"]), int(found["two"])
        if one > 12 >= two:
            return "dmy"
        if two > 12 >= one:
            return "mdy"
        points = points or found["mark"] == "."
    return "dmy" if points else None


def moment_of(cell: str, order: Order | None) -> datetime | None:
    """Return the moment that a cell means, a day as its midnight; None for what is none in this order.

    A year of two digits is of this century.
    """
    try:
        return datetime.fromisoformat(cell)
    except ValueError:
        found = next((one for shape in _PLAIN if (one := shape.fullmatch(cell))), None)
    if found is not None:
        parts = found.groupdict()
        of_year = int(parts["month"]) if parts.get("month") else _month(parts.get("name") or "")
        return _moment(found, int(parts["year"]), of_year, int(parts.get("day") or 1))
    found = _WRITTEN.fullmatch(cell)
    if found is None or order is None:
        return None
    day, month = (found["one"], found["two"]) if order == "dmy" else (found["two"], found["one"])
    return _moment(found, int(found["year"]) + (2000 if len(found["year"]) == 2 else 0), int(month), int(day))


def _month(name: str) -> int:
    """Return the number of a month, 0 for what is none."""
    start = name[:3].casefold()
    return MONTHS.index(start) + 1 if start in MONTHS else 0


def _moment(found: re.Match[str], year: int, month: int, day: int) -> datetime | None:
    hour = int(found["hour"] or 0)
    if found["half"]:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if found["half"] in "Pp" else 0)
    try:
        return datetime(year, month, day, hour, int(found["minute"] or 0), int(found["second"] or 0))  # noqa: DTZ001
    except ValueError:
        return None
