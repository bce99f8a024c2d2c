"""How long something lasts, from surely to likely, and lists of days, in words."""

from collections.abc import Sequence
from datetime import date
from math import floor

HAIR = 1e-6
"""Hours that adding up may be off by."""


def span_words(sure: float | None, likely: float | None) -> str:
    """Say the days from surely to likely, rounded down, below one in hours: '7 to 22 hours', '9 to 12 days'."""
    if sure is None:
        return "long enough"
    if likely is None:
        return f"{one_words(sure)} and more"
    low, high = one_words(sure), one_words(max(likely, sure))
    if low == high:
        return low
    same = (sure < 1) is (likely < 1) and "less" not in low
    return f"{low.split(' ')[0]} to {high}" if same else f"{low} to {high}"


def one_words(days: float) -> str:
    """Say days rounded down; below one in hours: '2 days', '7 hours', 'an hour or less'."""
    if days < 1:
        hours = floor(24 * days + HAIR)
        return f"{hours} hours" if hours > 1 else "an hour or less"
    return f"{floor(days + HAIR)} day{'s' if floor(days + HAIR) > 1 else ''}"


def days_words(days: Sequence[date], today: date) -> str:
    """Say days in a row, a year only where it is another than that of the day before: 'Thu 31 Dec, Fri 1 Jan 2027'."""
    said, year = [], today.year
    for day in days:
        said.append(f"{day:%a} {day.day} {day:%b}" + (f" {day.year}" if day.year != year else ""))
        year = day.year
    return listed(said)


def visit_words(days: Sequence[date], today: date, most: int = 6) -> str:
    """Say visits: 'a visit on Mon 14 Dec', 'visits on …'; more than `most` of them by their number and their ends."""
    if len(days) == 1:
        return f"a visit on {days_words(days, today)}"
    if len(days) <= most:
        return f"visits on {days_words(days, today)}"
    first, last = days_words(days[:1], today), days_words(days[-1:], days[0] if days[0].year > today.year else today)
    return f"{len(days)} visits between {first} and {last}"


def listed(items: Sequence[str]) -> str:
    """Say a list: 'one, two and three'."""
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} and {items[-1]}"
