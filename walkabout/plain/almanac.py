"""The almanac in lines that stand alone, and as plain values for other programs."""

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

import msgspec

from walkabout.almanac.lasting_words import one_words, span_words
from walkabout.almanac.model import Almanac, Entry, EntryKind, Forecast, Foreseen, Lasting
from walkabout.growing.counting import amount_of, counted, in_trays
from walkabout.growing.crops import load
from walkabout.room.model import WHOLE_ROOM, Room

_DOES: frozenset[EntryKind] = frozenset(("move", "sow", "thin", "job", "visit"))
_LASTS = {
    "lasts": "lasts by itself",
    "lasts if": "lasts if it is made ready",
    "visit": "needs a visit",
    "harvest first": "is harvested first",
    "lost": "would be lost",
}


def almanac_lines(almanac: Almanac, room: Room, today: date) -> list[str]:
    """Return what the dates say: the days by week, then the promises, then the closures ahead."""
    lines = [f"{room.name}. Almanac from {long_day(almanac.first, today)} to {long_day(almanac.last, today)}."]
    if not almanac.entries:
        lines.append("Nothing stands in it.")
    week = None
    cautions = {f"job/{one.key}/{one.due}": one.caution for one in almanac.standing if one.caution}
    warned: set[tuple[str, str]] = set()
    # what began before is said first, with its own day
    for entry in sorted(almanac.entries, key=lambda one: one.day):
        monday = max(entry.day, almanac.first) - timedelta(days=max(entry.day, almanac.first).weekday())
        if monday != week:
            week = monday
            lines.append(f"Week of {long_day(monday, today)}.")
        # the caution of a job that comes every week is said with its first time
        caution = "" if (entry.says, entry.station) in warned else cautions.get(entry.uid, "")
        warned.add((entry.says, entry.station))
        lines.append(entry_line(entry, room, today, caution))
    lines += (line for one in almanac.promises for line in _promise_lines(one, today))
    lines += (line for one in almanac.closures for line in _closure_lines(one, room, today))
    return lines


def almanac_facts(almanac: Almanac, room: Room) -> dict[str, Any]:
    """Return the same as plain values, for JSON; each entry with the name of its station, no planting's history."""
    entries: list[dict[str, Any]] = [
        msgspec.to_builtins(one) | {"name": _place(one.station, room)} for one in almanac.entries
    ]
    rows = [
        {
            "station": row.station,
            "name": row.name,
            "plantings": [
                {
                    "planting": one.planting.key,
                    "crop": one.planting.crop,
                    "name": one.name,
                    "count": one.planting.count,
                    "sown": one.planting.sown.isoformat(),
                    "until": one.until.isoformat() if one.until else None,
                    "stages": msgspec.to_builtins(one.stages),
                    "working": list(one.working),
                }
                for one in row.courses
            ],
        }
        for row in almanac.rows
    ]
    return {
        "room": room.name,
        "made": almanac.made.isoformat(),
        "first": almanac.first.isoformat(),
        "last": almanac.last.isoformat(),
        "entries": entries,
        "rows": rows,
        "promises": [_promise_facts(one) for one in almanac.promises],
        "standing": msgspec.to_builtins(almanac.standing),
        "closures": [msgspec.to_builtins(one) | {"minutes": one.minutes} for one in almanac.closures],
    }


def entry_line(entry: Entry, room: Room, today: date, caution: str = "") -> str:
    """Say one entry so that it stands alone: the day, what, where, who, how long."""
    when = long_day(entry.day, today)
    if entry.last is not None and entry.last > entry.day:
        when = f"{when} to {long_day(entry.last, today)}"
    place = _place(entry.station, room)
    where = f", {place}" if place else ""
    parts = [f"{when}{where}: {_sentence(entry.says)}"]
    if entry.kind in _DOES:
        long = f", {minutes(entry.minutes)}" if entry.minutes > 0 else ""
        parts.append(f"{_WHO[entry.who]}{long}.")
    if entry.detail:
        parts.append(_sentence(entry.detail))
    if caution:
        parts.append(f"Caution: {_sentence(caution)}")
    if entry.warns:
        parts.append("Something must be done before it.")
    return " ".join(parts)


_WHO = {"pupil": "Pupil", "adult": "Adult", "licensed": "Licensed"}


def _promise_lines(one: Foreseen, today: date) -> Iterator[str]:
    """Yield how an open promise stands, and what would help it; closed ones are over."""
    if one.promise.closed is not None:
        return
    crop = load().find(one.promise.crop)
    amount = amount_of(one.promise.amount, one.promise.unit, crop, one.name)
    yield (
        f"Promise, {long_day(one.promise.day, today)}: {amount} for {one.promise.people}. "
        f"{one.outlook.capitalize()}, {chance(one.chance)}. {_sentence(one.says)}"
    )
    if one.sow_by is not None and one.sow_count:
        many, day = counted(one.sow_count, crop) if in_trays(crop) else one.sow_count, long_day(one.sow_by, today)
        yield f"Promise of {one.name}: sow {many} by {day} at the latest. {one.sow_says}".rstrip()
    for way in one.ways:
        who = "" if way.who == "pupil" else f" {_WHO[way.who]}."
        yield f"What would help {one.name}: {_sentence(way.says)}{who} Then {chance(way.chance)}."
    for why in one.blocked:
        yield f"Not to be eaten as things stand, {one.name}: {_sentence(why)}"


def _closure_lines(one: Forecast, room: Room, today: date) -> Iterator[str]:
    """Yield a closure: how long it is, what lives through it, what to do before, who must come."""
    name = one.name or "closure"
    yield (
        f"Closure {name}, {long_day(one.first, today)} to {long_day(one.last, today)}: "
        f"last round {long_day(one.leaving, today)}, first round back {long_day(one.back, today)}, "
        f"{one_words(one.away)} alone."
    )
    for station in one.stations:
        yield f"{name}, {station.name}: {_fate(station)}"
    cautioned: set[str] = set()
    for number, thing in enumerate(one.before, 1):
        when = long_day(thing.day, today) if thing.day is not None else ""
        where = ", ".join(filter(None, (when, _place(thing.station, room))))
        caution = f" Caution: {_sentence(thing.caution)}" if thing.caution not in ("", *cautioned) else ""
        cautioned.add(thing.caution)
        whose = f"{_WHO[thing.who]}, {minutes(thing.minutes)}."
        yield f"Before {name}, {number}. {f'{where}: ' if where else ''}{_sentence(thing.says)} {whose}{caution}"
    if one.before:
        yield f"Before {name}: {minutes(one.minutes)} in all."
    for day in one.visits:
        yield f"During {name} an adult must come on {long_day(day, today)}."
    yield from (f"{name}: {_sentence(says)}" for says in one.promises)


def _fate(station: Lasting) -> str:
    days = "" if station.days is None else f", {span_words(station.days, station.likely)} without help"
    return f"{_LASTS[station.fate]}{days}. {_sentence(station.fails) if station.fails else ''}".strip()


def _promise_facts(one: Foreseen) -> dict[str, Any]:
    """Return how a promise stands, without who made it."""
    facts: dict[str, Any] = msgspec.to_builtins(one)
    promise = one.promise
    return facts | {
        "promise": {
            "key": promise.key,
            "crop": promise.crop,
            "amount": promise.amount,
            "unit": promise.unit,
            "day": promise.day.isoformat(),
            "people": promise.people,
            "closed": promise.closed.isoformat() if promise.closed else None,
        }
    }


def chance(value: float) -> str:
    """Say a chance as times in ten; nothing that grows is certain."""
    tenths = min(max(round(value * 10), 0), 10)
    return {0: "hardly any chance", 10: "nearly certain"}.get(tenths, f"about {tenths} times in 10")


def minutes(value: float) -> str:
    """Say how long something takes."""
    return f"{max(round(value), 1)} min"


def long_day(day: date, today: date) -> str:
    """Say a day with its weekday, and with its year where that is another than today's: 'Friday 18 December'."""
    return f"{day:%A} {day.day} {day:%B}" + (f" {day.year}" if day.year != today.year else "")


def _place(station: str, room: Room) -> str:
    if not station or station == WHOLE_ROOM:
        return ""
    found = room.station(station)
    return found.name if found is not None else station


def _sentence(text: str) -> str:
    text = text.strip()
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith(('.', '?')) else '.'}" if text else ""
