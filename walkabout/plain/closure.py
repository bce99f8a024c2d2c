"""What a closure would do to the room, in lines and for other programs."""

from collections.abc import Iterator
from datetime import date
from typing import Any

import msgspec

from walkabout.almanac.lasting_words import days_words, one_words, span_words, visit_words
from walkabout.almanac.model import Before, Fate, Forecast, Lasting
from walkabout.almanac.visiting import doing
from walkabout.room.model import WHOLE_ROOM, Who

FATES: dict[Fate, str] = {
    "lasts": "lasts as it is",
    "lasts if": "lasts, if what stands below is done",
    "visit": "needs a visit",
    "harvest first": "harvest it first",
    "lost": "would be lost",
}
MOST_NAMED = 6
"""So many visits are told day by day."""
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
        f"{one_words(one.away)}."
    )
    yield " "
    yield "How long each station lasts by itself, from surely to likely, what fails first on top:"
    for station in one.stations:
        yield from _station(station, today)
    if one.before:
        yield " "
        yield f"Before leaving, {one.minutes:.0f} minutes in all, {one.adult_minutes:.0f} of them an adult's:"
    names = {each.station: each.name for each in one.stations}
    for place, thing in enumerate(one.before, 1):
        yield from _before(place, thing, names, today)
    if one.visits:
        yield " "
        yield f"Somebody must come on {days_words(one.visits, today)}:"
        yield "  an adult, with permission to enter, by arrangement with whoever has the keys."
        yield from (f"  {_sentence(says)}" for says in _visits(one, today))
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
    if one.fate == "lasts" and one.days is None and one.fails.startswith("nothing"):
        yield f"  {one.name}: {one.fails}."
        return
    lasts = f" ({span_words(one.days, one.likely)}{_helped(one)})"
    if one.days is None and one.fate in ("harvest first", "lasts"):
        lasts = ""
    yield f"  {one.name}: {FATES[one.fate]}{lasts}."
    told = [one.fails, one.risk, one.dim, one.instead]
    yield from (f"      {_sentence(says)}" for says in told if says)
    if one.visits:
        yield f"      {_sentence(visit_words(one.visits, today))}"


def _helped(one: Lasting) -> str:
    same = (one.days_helped, one.likely_helped) == (one.days, one.likely)
    if same or one.fate == "harvest first":
        return ""
    return f"; {span_words(one.days_helped, one.likely_helped)} with what stands below"


def _visits(one: Forecast, today: date) -> Iterator[str]:
    """Yield what a visit does: day by day where they are few, else station by station."""
    serving = [each for each in one.stations if each.visits]
    if len(one.visits) <= MOST_NAMED:
        for day in one.visits:
            what = doing([(each.visit_does, each.name) for each in serving if day in each.visits])
            if what:
                yield f"{day_words(day, today)}: {what}"
        return
    for each in serving:
        times = {1: "once", 2: "twice"}.get(len(each.visits), f"{len(each.visits)} times")
        yield f"{each.visit_does} {each.name} {times}"


def _before(place: int, one: Before, names: dict[str, str], today: date) -> Iterator[str]:
    place_name = names.get(one.station, one.station)
    where = ", ".join(filter(None, (day_words(one.day, today) if one.day is not None else "", place_name)))
    whose = f"{WHO[one.who].capitalize()}, {max(one.minutes, 1):.0f} min."
    yield f"  {place}. {where}{': ' if where else ''}{_sentence(one.says)} {whose}"
    if one.caution:
        yield f"      Caution: {_sentence(one.caution)}"


def closure_facts(one: Forecast) -> dict[str, Any]:
    """Return the same as plain values, for JSON; whole days stand as whole numbers."""
    facts: dict[str, Any] = msgspec.to_builtins(one)
    first = [{"station": station, "says": says} for station, says in one.first_morning]
    for station in facts["stations"]:
        station |= {key: _whole(station[key]) for key in ("days", "days_helped")}
    more = {"away": _whole(one.away), "minutes": one.minutes, "adult_minutes": one.adult_minutes}
    return facts | more | {"first_morning": first}


def _whole(days: float | None) -> float | None:
    """Return whole days as a whole number."""
    return int(days) if days is not None and days == int(days) else days


def day_words(day: date, today: date) -> str:
    """Say a day in short: 'Fri 18 Dec', with its year where that is another than today's."""
    return f"{day:%a} {day.day} {day:%b}" + (f" {day.year}" if day.year != today.year else "")


def _sentence(text: str) -> str:
    text = text.strip()
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith(('.', '?')) else '.'}"
