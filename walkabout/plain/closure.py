"""What a closure would do to the room, in lines and for other programs."""

from collections.abc import Iterator
from datetime import date
from math import floor
from typing import Any

import msgspec

from walkabout.almanac.model import Before, Fate, Forecast, Lasting
from walkabout.room.model import WHOLE_ROOM, Who

FATES: dict[Fate, str] = {
    "lasts": "lasts as it is",
    "lasts if": "lasts, if what stands below is done",
    "visit": "needs a visit",
    "harvest first": "harvest it first",
    "lost": "would be lost",
}
WHO: dict[Who, str] = {"pupil": "anybody", "adult": "an adult", "licensed": "a licensed person"}


def closure_lines(one: Forecast, today: date) -> list[str]:
    """Return the forecast: how long, what lasts, what to do before, who must come, what to look at first."""
    return [*_lines(one, today)]


def _lines(one: Forecast, today: date) -> Iterator[str]:
    name = one.name or "Closure"
    until = f" to {day_words(one.last, today)}" if one.last > one.first else ""
    yield f"{name[:1].upper()}{name[1:]}, {day_words(one.first, today)}{until}."
    yield (
        f"Nobody comes from {day_words(one.leaving, today)}, after the last round, to {day_words(one.back, today)}: "
        f"{_days(one.away)}."
    )
    yield " "
    yield "How long each station surely lasts by itself, what fails first on top:"
    for station in one.stations:
        yield from _station(station, today)
    if one.before:
        yield " "
        yield f"Before leaving, {one.minutes:.0f} minutes in all:"
    names = {each.station: each.name for each in one.stations}
    for place, thing in enumerate(one.before, 1):
        yield from _before(place, thing, names, today)
    if one.visits:
        yield " "
        days = _listed([day_words(day, today) for day in one.visits])
        yield f"Somebody must come on {days}:"
        yield "  an adult, with permission to enter, by arrangement with whoever has the keys."
    if one.promises:
        yield " "
        yield "Falls into it:"
        yield from (f"  {says[:1].upper()}{says[1:]}" for says in one.promises)
    if one.first_morning:
        yield " "
        yield f"On {day_words(one.back, today)}, look here first:"
    for place, (key, says) in enumerate(one.first_morning, 1):
        where = "The room" if key == WHOLE_ROOM else names.get(key, key)
        yield f"  {place}. {where}: {says}."


def _station(one: Lasting, today: date) -> Iterator[str]:
    lasts = "long enough" if one.days is None else _days(one.days)
    helped = ""
    if one.days_helped != one.days and one.fate != "harvest first":
        helped = f"; {'long enough' if one.days_helped is None else _days(one.days_helped)} with what stands below"
    yield f"  {one.name}: {FATES[one.fate]} ({lasts}{helped})."
    told = [one.fails, one.risk, one.dim, one.instead]
    yield from (f"      {_sentence(says)}" for says in told if says)
    if one.visits:
        yield f"      A visit on {_listed([day_words(day, today) for day in one.visits])}."


def _before(place: int, one: Before, names: dict[str, str], today: date) -> Iterator[str]:
    when = f"{day_words(one.day, today)}, " if one.day is not None else ""
    where = names.get(one.station, one.station)
    yield f"  {place}. {when}{where}: {_sentence(one.says)} {WHO[one.who].capitalize()}, {max(one.minutes, 1):.0f} min."
    if one.caution:
        yield f"      Caution: {_sentence(one.caution)}"


def closure_facts(one: Forecast) -> dict[str, Any]:
    """Return the same as plain values, for JSON."""
    facts: dict[str, Any] = msgspec.to_builtins(one)
    first = [{"station": station, "says": says} for station, says in one.first_morning]
    return facts | {"minutes": one.minutes, "first_morning": first}


def day_words(day: date, today: date) -> str:
    """Say a day in short: 'Fri 18 Dec', with its year where that is another than today's."""
    return f"{day:%a} {day.day} {day:%b}" + (f" {day.year}" if day.year != today.year else "")


def _days(days: float) -> str:
    """Say days rounded down; below one in hours."""
    if days < 1:
        hours = floor(24 * days)
        return f"{hours} hours" if hours > 1 else "an hour or less"
    return f"{floor(days)} day{'s' if floor(days) > 1 else ''}"


def _listed(items: list[str]) -> str:
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} and {items[-1]}"


def _sentence(text: str) -> str:
    text = text.strip()
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith(('.', '?')) else '.'}"
