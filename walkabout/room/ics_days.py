"""Which days one event of a calendar covers, and on which it comes again.

The terms are those of RFC 5545: DTEND is the first moment after the event, so an all-day event ends the day before.
"""

from calendar import isleap
from collections.abc import Collection, Iterator, Mapping
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from typing import Any

from msgspec import Struct

from walkabout.room.fit import USUAL_YEARS

Event = Mapping[str, Any]
"""An event's properties, as the library reads them: some versions fail only when a broken one is looked at."""

YEARS_AHEAD = 2
"""A yearly event without an end is taken for this year and so many more. Assumed: nobody plans a room further."""
ALMOST_A_DAY = timedelta(hours=23, minutes=59)
"""Some calendars write a whole day as 00:00 to 23:59."""
_SIMPLE = {"FREQ", "INTERVAL", "COUNT", "UNTIL", "WKST", "BYMONTH", "BYMONTHDAY"}
_HOW_OFTEN = {"DAILY": "day", "WEEKLY": "week", "MONTHLY": "month", "HOURLY": "hour"}


class Skip(Exception):
    """An event that cannot be used; its text is the reason, as the end of a sentence."""


class Stretch(Struct, frozen=True):
    """Days in a row, first and last included. `begins` is the day on which the event itself begins."""

    begins: date
    first: date
    last: date


class Again(Struct, frozen=True):
    """A simple yearly rule: `count` and `until` are None where it has no such end."""

    every: int
    count: int | None
    until: date | None


def days_of(event: Event, zone: tzinfo | None, starts: time, *, touched: bool) -> Stretch:
    """Return the days that an event covers; raise Skip with the reason where it covers none.

    Of an event with times, lasting a day or more, every day counts on which it covers `starts`, the hour of the
    round; with `touched` every day on which it is. Times in UTC are turned to `zone` (None: this machine's); others
    count as they are written, because a calendar's days are those of its own place.
    """
    begin = _moment(event, "DTSTART")
    if begin is None:
        raise Skip("it has no day on which it begins")
    try:
        end = _end(event, begin)
        if isinstance(begin, datetime) or isinstance(end, datetime):
            return _timed(wall(begin, zone), wall(end, zone), starts, touched=touched)
    except OverflowError as error:
        raise Skip("its days are outside any calendar") from error
    if end < begin:
        raise Skip("it ends before it begins")
    # an end on the day of the beginning is a slip that many calendars make: it means that one day
    return Stretch(begin, begin, max(end - timedelta(days=1), begin) if end > begin else begin)


def _end(event: Event, begin: date) -> date:
    """Return the first moment after the event: a date, or a datetime where it has times."""
    end = _moment(event, "DTEND")
    if end is not None:
        return end
    length = _value(event, "DURATION")
    if isinstance(length, timedelta):
        if length < timedelta():
            raise Skip("it ends before it begins")
        return begin + length
    # RFC 5545, 3.6.1: without an end a day lasts that day, a time no time at all
    if isinstance(begin, datetime) or begin == date.max:
        return begin
    return begin + timedelta(days=1)


def _timed(begin: datetime, end: datetime, starts: time, *, touched: bool) -> Stretch:
    if end < begin:
        raise Skip("it ends before it begins")
    if end - begin < ALMOST_A_DAY:
        raise Skip("it has a time of day and lasts less than a day")
    if touched:
        return Stretch(begin.date(), begin.date(), (end - timedelta(seconds=1)).date())
    first = begin.date() if begin.time() <= starts else begin.date() + timedelta(days=1)
    last = end.date() if end.time() > starts else end.date() - timedelta(days=1)
    if last < first:
        raise Skip("it does not cover the hour of the round on any day")
    return Stretch(begin.date(), first, last)


def wall(moment: date, zone: tzinfo | None) -> datetime:
    """Return what a clock on the wall shows then, without an offset."""
    if not isinstance(moment, datetime):
        return datetime.combine(moment, time())
    if moment.tzinfo is not None and str(moment.tzinfo) in ("UTC", "Etc/UTC"):
        try:
            moment = moment.astimezone(UTC).astimezone(zone)
        except (ValueError, OSError) as error:  # what some systems say of years they do not know
            raise OverflowError from error
    return moment.replace(tzinfo=None)


def rule_of(event: Event, begins: date, zone: tzinfo | None) -> Again | None:
    """Return the yearly rule of an event, None where it comes once; raise Skip for any other rule."""
    if "RRULE" not in event:
        if _is_broken(event, "RRULE"):
            raise Skip("the rule by which it comes again cannot be read")
        return None
    rule = event["RRULE"]
    try:
        parts: dict[str, list[Any]] = {str(key).upper(): _listed(rule[key]) for key in list(rule)}
    except Exception as error:  # a broken rule fails in as many ways as there are versions of the library
        raise Skip("the rule by which it comes again cannot be read") from error
    often = str((parts.get("FREQ") or [""])[0]).upper()
    if often != "YEARLY":
        raise Skip(f"it comes again every {_HOW_OFTEN.get(often, 'so often')}, and only yearly events are carried on")
    same_day = all(
        [int(one) for one in parts[name]] == [wanted]
        for name, wanted in (("BYMONTH", begins.month), ("BYMONTHDAY", begins.day))
        if name in parts
    )
    if not same_day or not parts.keys() <= _SIMPLE:
        raise Skip("it comes again yearly, but not on the same day of the year")
    until = parts.get("UNTIL", [None])[0]
    try:
        last = wall(until, zone).date() if until is not None else None
    except OverflowError:
        last = None
    count = int(parts["COUNT"][0]) if "COUNT" in parts else None
    return Again(max(int(parts.get("INTERVAL", [1])[0]), 1), count, last)


def again(one: Stretch, rule: Again, today: date | None, left_out: Collection[date]) -> Iterator[Stretch]:
    """Yield the times of a yearly event that matter: what is not over `today`, to two years ahead.

    Without `today` they are counted from the year of the first. The days in `left_out` are those on which it begins
    and yet does not take place. On 29 February it comes in leap years only, as RFC 5545 has it.
    """
    from_year = today.year - 1 if today is not None else one.begins.year
    to_year = min((today or one.begins).year + YEARS_AHEAD, USUAL_YEARS[1])
    leap_day = (one.begins.month, one.begins.day) == (2, 29)
    come = 0
    for number, year in enumerate(range(one.begins.year, to_year + 1, rule.every)):
        if leap_day and not isleap(year):
            continue
        come = come + 1 if leap_day else number + 1
        if rule.count is not None and come > rule.count:
            return
        if year < from_year:
            continue
        begins = one.begins.replace(year=year)
        if rule.until is not None and begins > rule.until:
            return
        try:
            found = Stretch(begins, one.first + (begins - one.begins), one.last + (begins - one.begins))
        except OverflowError:
            return
        if begins not in left_out and (today is None or found.last >= today):
            yield found


def goes_on(one: Stretch, rule: Again, today: date | None) -> bool:
    """Say whether a yearly event comes again after the years that are taken."""
    to_year = (today or one.begins).year + YEARS_AHEAD
    if rule.until is not None and rule.until.year <= to_year:
        return False
    return rule.count is None or one.begins.year + rule.every * (rule.count - 1) > to_year


def days_named(event: Event, name: str, zone: tzinfo | None) -> set[date]:
    """Return the days that EXDATE or RECURRENCE-ID names; what cannot be read is left out."""
    found: set[date] = set()
    for one in _listed(event.get(name)):
        try:
            found.update(wall(day.dt, zone).date() for day in getattr(one, "dts", [one]))
        except Exception:
            continue  # a broken day names none
    return found


def _moment(event: Event, name: str) -> date | None:
    found = _value(event, name)
    return found if isinstance(found, date) else None


def _value(event: Event, name: str) -> object:
    """Return a property's day, moment or length; Skip where it is there and cannot be read."""
    if name not in event:
        if _is_broken(event, name):
            raise Skip(f"its {_PLAIN[name]} cannot be read")
        return None
    try:
        return _listed(event[name])[0].dt
    except Exception as error:
        raise Skip(f"its {_PLAIN[name]} cannot be read") from error


def has_broken_lines(event: Event) -> bool:
    """Say whether a line of an event is so damaged that nobody knows what it was."""
    return _is_broken(event, None)


def _is_broken(event: Event, name: str | None) -> bool:
    """Say whether a property was there and is left out: older versions of the library do so with broken ones."""
    return any(wrong[0] == name for wrong in getattr(event, "errors", ()))


_PLAIN = {"DTSTART": "beginning", "DTEND": "end", "DURATION": "length"}


def _listed(value: Any) -> list[Any]:
    return [] if value is None else list(value) if isinstance(value, list | tuple) else [value]
