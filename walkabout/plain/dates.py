"""Terms and closures that were found elsewhere, in lines and as plain values."""

from collections.abc import Collection, Sequence
from datetime import date
from typing import Any

import msgspec

from walkabout.plain.almanac import long_day
from walkabout.room.dates_file import not_in
from walkabout.room.model import Closure, Room, Term

MOST_SAID = 20
"""So many of the events that were left out are named in lines; all of them stand in the JSON."""


def dates_lines(
    closures: Sequence[Closure], terms: Sequence[Term], skipped: Sequence[str], notes: Sequence[str], room: Room
) -> list[str]:
    """Return what was found, what of it the room has already, and what was left out and why."""
    lines = [_line("Term", one, room.terms) for one in terms]
    lines += [_line("Closure", one, room.closures) for one in closures]
    lines += [f"Note: {one}" for one in notes]
    lines += [f"Left out: {one}" for one in skipped[:MOST_SAID]]
    if len(skipped) > MOST_SAID:
        lines.append(f"Left out: {len(skipped) - MOST_SAID} more. With --json all of them are named.")
    return lines or ["Nothing was found."]


def dates_facts(
    closures: Sequence[Closure], terms: Sequence[Term], skipped: Sequence[str], notes: Sequence[str], room: Room
) -> dict[str, Any]:
    """Return the same as plain values, for JSON."""
    return {
        "terms": [_facts(one, room.terms) for one in terms],
        "closures": [_facts(one, room.closures) for one in closures],
        "skipped": list(skipped),
        "notes": list(notes),
    }


def _line(what: str, one: Closure | Term, there: Collection[Closure | Term]) -> str:
    days = (one.last - one.first).days + 1
    long = "1 day" if days == 1 else f"{days} days"
    when = _day(one.first) if days == 1 else f"{_day(one.first)} to {_day(one.last)}"
    known = "" if not_in((one,), there) else " It is in room.toml already."
    return f"{what} {one.name or 'without a name'}: {when}, {long}.{known}"


def _facts(one: Closure | Term, there: Collection[Closure | Term]) -> dict[str, Any]:
    facts: dict[str, Any] = msgspec.to_builtins(one)
    return facts | {"there": not not_in((one,), there)}


def _day(day: date) -> str:
    return long_day(day, date.min)
