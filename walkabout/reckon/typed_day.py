"""Days as people write them: 2026-06-19, 19/06/2026, 19 June 2026; what has two readings is refused."""

import re
from datetime import date

from walkabout.reckon.write import quoted

_MONTHS = (
    "january", "february", "march", "april", "may", "june",
    "july", "august", "september", "october", "november", "december",
)  # fmt: skip
_YEAR_FIRST = re.compile(r"(\d{4})[-./ ](\d{1,2})[-./ ](\d{1,2})")
_YEAR_LAST = re.compile(r"(\d{1,2})[-./ ](\d{1,2})[-./ ](\d{4})")
_PIECES = re.compile(r"[a-z]+|\d+")
_AROUND_A_DAY = ("st", "nd", "rd", "th", "of", "the")


def day(typed: str) -> date:
    """Return the day that was typed.

    Raises ValueError, with one clear sentence, for what is no day, has no year, or may be one of two days.
    """
    text = " ".join(typed.casefold().split())
    try:
        return date.fromisoformat(text.upper())
    except ValueError:
        pass
    if found := _YEAR_FIRST.fullmatch(text):
        year, month, number = map(int, found.groups())
        return _known(_real(year, month, number), typed)
    if found := _YEAR_LAST.fullmatch(text):
        one, other, year = map(int, found.groups())
        return _of_two(typed, one, other, year)
    return _spelled(typed, text)


def _of_two(typed: str, one: int, other: int, year: int) -> date:
    readings = {_real(year, other, one), _real(year, one, other)} - {None}
    if len(readings) == 2:
        first, second = sorted(str(each) for each in readings)
        raise ValueError(f"{quoted(typed)} can be read in two ways: write {first} or {second}")
    return _known(readings.pop() if readings else None, typed)


def _spelled(typed: str, text: str) -> date:
    """Read a day with the name of its month: '19 June 2026', 'Jun 19th, 2026'."""
    pieces = [one for one in _PIECES.findall(text) if one not in _AROUND_A_DAY]
    months = [_month(one) for one in pieces if one.isalpha()]
    numbers = [one for one in pieces if one.isdigit()]
    years = [int(one) for one in numbers if len(one) == 4]
    days = [int(one) for one in numbers if len(one) <= 2]
    if len(months) != 1 or not months[0] or len(days) != 1 or len(numbers) > 2:
        raise _wrong(typed)
    if not years:
        raise ValueError(f"{quoted(typed)} has no year: write it as 2026-12-18")
    return _known(_real(years[0], months[0], days[0]), typed)


def _month(name: str) -> int:
    """Return the number of a month from its name or the first letters of it; 0 for no month."""
    found = [number for number, month in enumerate(_MONTHS, 1) if len(name) >= 3 and month.startswith(name)]
    return found[0] if len(found) == 1 else 0


def _real(year: int, month: int, number: int) -> date | None:
    try:
        return date(year, month, number)
    except ValueError:
        return None


def _known(found: date | None, typed: str) -> date:
    if found is None:
        raise _wrong(typed)
    return found


def _wrong(typed: str) -> ValueError:
    return ValueError(f"{quoted(typed)} is no day: write it as 2026-12-18")
