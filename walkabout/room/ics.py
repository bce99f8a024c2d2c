"""Terms and closures from a calendar file (.ics, RFC 5545).

What an event is, its words decide: SUMMARY or CATEGORIES with a word for days off make a closure, else with a word
for a term a term; every other event that lasts whole days is taken as a closure too. So what was found is to be shown
before anything is written.
"""

import re
import unicodedata
from datetime import date, time, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from msgspec import Struct

from walkabout.room.fit import USUAL_YEARS
from walkabout.room.ics_days import Event, Skip, Stretch, again, days_named, days_of, goes_on, has_broken_lines, rule_of
from walkabout.room.mistakes import one_line, shortened
from walkabout.room.model import Closure, Term

if TYPE_CHECKING:
    from icalendar import Calendar

MOST_BYTES = 4_000_000
"""No school's calendar is larger; assumed."""
LONGEST_CLOSURE = 120
"""Days: no school holiday is longer; assumed."""
LONGEST_TERM = 366
SHORTEST_TERM = 14
"""Days: what is shorter only marks a day of the term, such as its first. Assumed."""
LONGEST_NAME = 80

_OFF = re.compile(
    r"\b(half[- ]?terms?|mid[- ]?terms?|holidays?|breaks?|vacations?|recess|closures?|closed|no school|days? off|"
    r"vacances|vacaciones|vacanze)\b|ferien\b"
)
_TERM = re.compile(
    r"\b(terms?|semesters?|trimesters?|quarters?|half[- ]?years?|school[- ]?years?|semestres?|trimestres?|"
    r"quadrimestr[ei])\b|halbjahr\b|schuljahr\b"
)


class Dates(Struct, frozen=True):
    """What a calendar says: closures and terms by day, and in a sentence each what was left out, and why."""

    closures: tuple[Closure, ...] = ()
    terms: tuple[Term, ...] = ()
    skipped: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    """What was read in a way that somebody should know about; nothing is missing because of it."""


def read_dates(path: Path, *, today: date | None = None, starts: time = time(8), zone: tzinfo | None = None) -> Dates:
    """Return the terms and closures of a calendar file.

    Yearly events are carried on from `today` (else from their first time) for two more years. `starts` is the hour
    of the round: a day belongs to an event with times when it covers that hour. Times in UTC are read in the
    calendar's own zone, else in `zone`, else in this machine's. Raises ValueError, with one sentence, for a file
    that is no calendar or cannot be read.
    """
    text, notes = _text(path)
    calendars = _calendars(path, text)
    events: list[tuple[Event, tzinfo | None]] = [
        (event, _zone(one) or zone) for one in calendars for event in one.walk("VEVENT")
    ]
    if not events:
        return Dates(skipped=(f"There is no event in {path.name}.",), notes=notes)
    replaced = {
        (str(event.get("UID", "")), day)
        for event, place in events
        if "RECURRENCE-ID" in event
        for day in days_named(event, "RECURRENCE-ID", place)
    }
    closures: set[tuple[date, date, str]] = set()
    terms: set[tuple[date, date, str]] = set()
    skipped: list[str] = []
    more: list[str] = []
    for event, place in events:
        name = _name(event)
        is_term = _is_term(event, name)
        try:
            found, note = _stretches(event, place, today, starts, replaced, is_term=is_term)
            for one in found:
                (terms if is_term else closures).add((one.first, one.last, name))
        except Skip as why:
            skipped.append(f"{name or 'An event without a name'}{_when(event)}: {why}.")
            continue
        if has_broken_lines(event):
            more.append(f"{name or 'An event without a name'}: a line of it cannot be read, so look at its days.")
        if note:
            more.append(f"{name or 'An event without a name'}: {note}.")
        if "RDATE" in event:
            skipped.append(f"{name or 'An event without a name'}: the further days in its RDATE are left out.")
    return Dates(
        tuple(Closure(first=first, last=last, name=name) for first, last, name in sorted(closures)),
        tuple(Term(first=first, last=last, name=name) for first, last, name in sorted(terms)),
        tuple(skipped),
        (*notes, *more),
    )


def _stretches(
    event: Event,
    zone: tzinfo | None,
    today: date | None,
    starts: time,
    replaced: set[tuple[str, date]],
    *,
    is_term: bool,
) -> tuple[list[Stretch], str]:
    """Return the usable days of an event and a note on them; Skip where there are none."""
    if str(event.get("STATUS", "")).upper() == "CANCELLED":
        raise Skip("it is called off")
    one = days_of(event, zone, starts, touched=is_term)
    rule = rule_of(event, one.begins, zone) if "RECURRENCE-ID" not in event else None
    _must_be_usual((one.last - one.first).days + 1, is_term=is_term)
    if rule is None:
        found = [one]
    else:
        uid = str(event.get("UID", ""))
        left_out = days_named(event, "EXDATE", zone) | {day for other, day in replaced if uid and other == uid}
        found = list(again(one, rule, today, left_out))
        if not found:
            raise Skip("all its yearly times are over or left out")
    wrong = next((one for one in found if not _in_years(one)), None)
    if wrong is not None:
        year = wrong.first.year if not USUAL_YEARS[0] <= wrong.first.year <= USUAL_YEARS[1] else wrong.last.year
        raise Skip(f"it is in the year {year}, and a room has {USUAL_YEARS[0]} to {USUAL_YEARS[1]}")
    if rule is not None and goes_on(one, rule, today):
        return found, f"it comes again every year, and is taken up to {found[-1].last.year}"
    return found, ""


def _must_be_usual(days: int, *, is_term: bool) -> None:
    longest, what = (LONGEST_TERM, "term") if is_term else (LONGEST_CLOSURE, "closure")
    if days > longest:
        raise Skip(f"it lasts {days} days, and a {what} lasts {longest} at most")
    if is_term and days < SHORTEST_TERM:
        raise Skip(f"it names a term but lasts {days} day{'s' if days > 1 else ''}, so it is neither term nor closure")


def _in_years(one: Stretch) -> bool:
    return USUAL_YEARS[0] <= one.first.year and one.last.year <= USUAL_YEARS[1]


def _is_term(event: Event, name: str) -> bool:
    words = f"{name} {' '.join(_categories(event))}".casefold()
    return not _OFF.search(words) and _TERM.search(words) is not None


def _categories(event: Event) -> list[str]:
    found = event.get("CATEGORIES")
    each = found if isinstance(found, list) else [found]
    return [str(one) for group in each for one in getattr(group, "cats", ())]


def _name(event: Event) -> str:
    found = event.get("SUMMARY", "")
    text = str(found[0] if isinstance(found, list) else found)
    kept = "".join(one for one in " ".join(text.split()) if unicodedata.category(one) not in ("Cc", "Cs"))
    return shortened(kept.strip(), LONGEST_NAME)


def _when(event: Event) -> str:
    try:
        found = event["DTSTART"]
        day: date = (found[0] if isinstance(found, list) else found).dt
    except Exception:  # a beginning that cannot be read is the reason that is given
        return ""
    return f", {day.day} {day:%b} {day.year}"


def _zone(calendar: "Calendar") -> tzinfo | None:
    """Return the zone that a calendar names for itself, if it does."""
    named = str(calendar.get("X-WR-TIMEZONE", "")).strip()
    try:
        return ZoneInfo(named) if named else None
    except (ValueError, OSError):  # no such zone; an odd name is looked for as a file
        return None


def _text(path: Path) -> tuple[str, tuple[str, ...]]:
    """Return the file's text, and a note where its letters had to be guessed."""
    try:
        with path.open("rb") as opened:
            data = opened.read(MOST_BYTES + 1)
    except FileNotFoundError as error:
        raise ValueError(f"{path} is not there.") from error
    except (OSError, ValueError) as error:
        raise ValueError(f"{path} cannot be read ({getattr(error, 'strerror', None) or error}).") from error
    if len(data) > MOST_BYTES:
        raise ValueError(f"{path.name} is larger than {MOST_BYTES // 1_000_000} MB: no school's calendar is.")
    utf_16 = data.startswith((b"\xff\xfe", b"\xfe\xff"))
    try:
        text = data.decode("utf-16" if utf_16 else "utf-8-sig")
        notes: tuple[str, ...] = ()
    except UnicodeDecodeError:
        text = data.decode("cp1252", errors="replace")
        notes = (f"{path.name} is not UTF-8: letters with accents may be wrong.",)
    if not text.lstrip().upper().startswith("BEGIN:VCALENDAR"):
        raise ValueError(f"{path.name} is not a calendar: it does not begin with BEGIN:VCALENDAR.")
    return text, notes


def _calendars(path: Path, text: str) -> "list[Calendar]":
    from icalendar import Calendar  # noqa: PLC0415 - only those who read a calendar wait for it

    try:
        # what stands before the first calendar, and empty lines, are no reason to refuse it
        found = Calendar.from_ical(text.strip() + "\r\n", multiple=True)
    except Exception as error:  # a damaged file fails in as many ways as there are versions of the library
        says = shortened(one_line(str(error)), 120)
        raise ValueError(f"{path.name} cannot be read as a calendar: {says}.") from error
    calendars = [one for one in found if isinstance(one, Calendar)]
    if not calendars:
        raise ValueError(f"{path.name} is cut off: END:VCALENDAR is missing. Export it again.")
    return calendars
