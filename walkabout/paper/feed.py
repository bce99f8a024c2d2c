"""The almanac as a calendar file (RFC 5545) that any calendar program can take in.

Nothing about a person is in it: no code, nor who did what.
"""

import unicodedata
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from uuid import UUID, uuid5

from icalendar import Alarm, Calendar, Event

from walkabout import __version__
from walkabout.almanac.model import Almanac, Entry, EntryKind, Standing
from walkabout.room.model import WHOLE_ROOM, Room

MADE_BY = "-//walkabout//almanac"
"""How PRODID begins: by it a file that this program wrote is known again."""
CATEGORIES: dict[EntryKind, str] = {
    "closure": "closure",
    "promise": "promise",
    "harvest": "harvest",
    "move": "moving on",
    "sow": "sowing",
    "thin": "thinning",
    "stage": "growth",
    "job": "job",
    "visit": "visit",
    "apart": "standing apart",
    "term": "term",
}
WHO = {
    "pupil": "A pupil may do this.",
    "adult": "For an adult.",
    "licensed": "For somebody licensed to do it.",
}
_DOES: frozenset[EntryKind] = frozenset(("move", "sow", "thin", "job", "visit"))
"""Kinds that somebody has to do something for."""
WARN_BEFORE = timedelta(hours=-17)
"""From the midnight on which the day begins: 07:00 on the day before, by the reader's own clock."""

_SPACE = UUID("1d0c8a52-3a63-5c8b-9d8e-6f1f3f8b7a10")
_COUNTED_FROM = datetime(2020, 1, 1, tzinfo=UTC)


def feed(almanac: Almanac, room: Room, now: datetime) -> bytes:
    """Return the almanac's entries as an iCalendar object, one all-day event each.

    An event keeps its UID for as long as the entry and the room keep their names, and its SEQUENCE grows by the
    minute, so that a calendar that takes the file in again changes its events rather than doubling them. Dates are
    all-day, so no time zone is needed; an alarm rings the day before at 07:00 where something must be done before.
    """
    calendar = Calendar()
    calendar.add("prodid", f"{MADE_BY} {__version__}//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    name = _line(room.name) or "Growing room"
    calendar.add("name", name)  # RFC 7986
    calendar.add("x-wr-calname", name)  # for readers that came before it
    cautions = {f"job/{one.key}/{one.due}": one for one in almanac.standing}
    for entry, uid in _known_apart(almanac.entries):
        calendar.add_component(_event(entry, uid, room, now.astimezone(UTC).replace(microsecond=0), cautions))
    return bytes(calendar.to_ical())


def _known_apart(entries: tuple[Entry, ...]) -> Iterator[tuple[Entry, str]]:
    """Yield each entry with what makes it known; two that share that are told apart by their days."""
    seen: set[str] = set()
    for entry in entries:
        known, again = entry.uid, 1
        while known in seen:
            known = f"{entry.uid}/{entry.day}" if again == 1 else f"{entry.uid}/{entry.day}/{again}"
            again += 1
        seen.add(known)
        yield entry, known


def _event(entry: Entry, uid: str, room: Room, now: datetime, standing: dict[str, Standing]) -> Event:
    event = Event()
    known = uuid5(_SPACE, _sound(f"{room.name}\n{uid}"))
    event.add("uid", f"{known}@walkabout.invalid")
    event.add("dtstamp", now)
    event.add("last-modified", now)
    event.add("sequence", max(int((now - _COUNTED_FROM).total_seconds() // 60), 0))
    event.add("dtstart", entry.day)
    last = max(entry.last or entry.day, entry.day)
    if last < date.max:
        event.add("dtend", last + timedelta(days=1))
    event.add("summary", _line(entry.says))
    if details := "\n".join(_details(entry, standing.get(entry.uid))):
        event.add("description", details)
    if place := _place(entry, room):
        event.add("location", place)
    event.add("categories", [CATEGORIES[entry.kind]])
    event.add("transp", "TRANSPARENT")
    event.add("class", "PUBLIC")
    if entry.warns:
        event.add_component(_alarm(entry))
    return event


def _alarm(entry: Entry) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", _line(entry.says))
    alarm.add("trigger", WARN_BEFORE)
    return alarm


def _details(entry: Entry, standing: Standing | None) -> Iterator[str]:
    """Yield the lines of the description: why, who, how long, and the caution."""
    if entry.detail:
        said = "\n".join(filter(None, map(_line, entry.detail.splitlines())))
        yield f"{said[:1].upper()}{said[1:]}"
    if entry.kind in _DOES:
        yield WHO[entry.who]
    if entry.minutes > 0:
        yield f"About {max(round(entry.minutes), 1)} min."
    if standing is not None and standing.caution and standing.caution not in entry.detail:
        yield f"Caution: {_line(standing.caution)}"


def _place(entry: Entry, room: Room) -> str:
    if not entry.station or entry.station == WHOLE_ROOM:
        return ""
    found = room.station(entry.station)
    return _line(found.name if found is not None else entry.station)


def _line(text: str) -> str:
    """Return the text on one line, without the control characters that RFC 5545 does not allow in one."""
    return " ".join("".join(" " if unicodedata.category(one) == "Cc" else one for one in _sound(text)).split())


def _sound(text: str) -> str:
    """Return the text without halves of surrogate pairs, which no file can hold."""
    return text.encode("utf-8", "replace").decode("utf-8")
