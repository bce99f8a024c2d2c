"""Terms and closures from a calendar file."""

from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.room.ics import LONGEST_CLOSURE, MOST_BYTES, Dates, read_dates
from walkabout.room.model import Closure, Term

TODAY = date(2026, 11, 25)
WINTER = Closure(first=date(2026, 12, 19), last=date(2027, 1, 3), name="Midwinter")


def event(*lines: str, name: str = "Midwinter") -> str:
    return "\r\n".join(("BEGIN:VEVENT", f"SUMMARY:{name}", *lines, "END:VEVENT", ""))


def calendar(*events: str, lines: str = "") -> bytes:
    return f"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//x//EN\r\n{lines}{''.join(events)}END:VCALENDAR\r\n".encode()


def dates(folder: Path, data: bytes, **more: object) -> Dates:
    file = folder / "school.ics"
    file.write_bytes(data)
    return read_dates(file, **({"today": TODAY} | more))  # type: ignore[arg-type]


def days(found: Dates) -> list[tuple[date, date]]:
    return [(one.first, one.last) for one in found.closures]


DAY = "DTSTART;VALUE=DATE:20261219"


@pytest.mark.parametrize(
    ("lines", "last"),
    [
        ((DAY, "DTEND;VALUE=DATE:20270104"), date(2027, 1, 3)),
        ((DAY, "DURATION:P16D"), date(2027, 1, 3)),
        ((DAY, "DURATION:P1W"), date(2026, 12, 25)),
        ((DAY,), date(2026, 12, 19)),
        ((DAY, "DTEND;VALUE=DATE:20261219"), date(2026, 12, 19)),
        ((DAY, "DTEND;VALUE=DATE:20261220"), date(2026, 12, 19)),
        (("DTSTART:20261219T000000", "DTEND:20270104T000000"), date(2027, 1, 3)),
        (("DTSTART:20261219T000000", "DTEND:20270103T235900"), date(2027, 1, 3)),
        (("DTSTART:20261219T080000", "DTEND:20261223T160000"), date(2026, 12, 23)),
        (("DTSTART:20261218T153000", "DTEND:20270104T073000"), date(2027, 1, 3)),
        (("DTSTART:20261219T000000", "DURATION:P2D"), date(2026, 12, 20)),
        (("DTSTART;TZID=Pacific/Auckland:20261219T000000", "DTEND;TZID=Pacific/Auckland:20261221T000000"),
         date(2026, 12, 20)),
        (("DTSTART;TZID=Nowhere/At-all:20261219T000000", "DTEND;TZID=Nowhere/At-all:20261221T000000"),
         date(2026, 12, 20)),
        ((DAY, "DTEND:20261221T000000"), date(2026, 12, 20)),
    ],
)  # fmt: skip
def test_the_days_of_an_event(lines: tuple[str, ...], last: date, tmp_path: Path) -> None:
    """The end is the first moment after it; a time counts as it is written in its own place."""
    found = dates(tmp_path, calendar(event(*lines)))

    assert found == Dates(closures=(Closure(first=date(2026, 12, 19), last=last, name="Midwinter"),))


@pytest.mark.parametrize(
    ("zone", "lines", "wanted"),
    [
        (ZoneInfo("Europe/Berlin"), "", (date(2026, 12, 19), date(2027, 1, 3))),
        (UTC, "X-WR-TIMEZONE:Europe/Berlin\r\n", (date(2026, 12, 19), date(2027, 1, 3))),
        (ZoneInfo("Pacific/Auckland"), "", (date(2026, 12, 20), date(2027, 1, 4))),
        (ZoneInfo("Europe/Berlin"), "X-WR-TIMEZONE:../../etc/passwd\r\n", (date(2026, 12, 19), date(2027, 1, 3))),
        (None, "", (date(2026, 12, 19), date(2027, 1, 3))),
    ],
)
def test_times_in_utc(zone: ZoneInfo, lines: str, wanted: tuple[date, date], tmp_path: Path) -> None:
    """What stands in UTC is turned to the calendar's zone, else to the one given, else to the machine's."""
    data = calendar(event("DTSTART:20261218T230000Z", "DTEND:20270103T230000Z"), lines=lines)

    assert days(dates(tmp_path, data, zone=zone)) == [wanted]


def test_the_hour_of_the_round_decides(tmp_path: Path) -> None:
    """A day of an event with times counts when the round would fall into it."""
    data = calendar(event("DTSTART:20261218T120000", "DTEND:20261221T120000"))

    assert days(dates(tmp_path, data)) == [(date(2026, 12, 19), date(2026, 12, 21))]
    assert days(dates(tmp_path, data, starts=time(13))) == [(date(2026, 12, 18), date(2026, 12, 20))]


@pytest.mark.parametrize(
    ("name", "lines", "is_term"),
    [
        ("Autumn term", "", True),
        ("2. Schulhalbjahr", "", True),
        ("SEMESTER ONE", "", True),
        ("Half-year 1", "", True),
        ("Michaelmas", "CATEGORIES:School,Trimester", True),
        ("Half-term holiday", "", False),
        ("Term break", "", False),
        ("School closed", "CATEGORIES:Term", False),
        ("Herbstferien", "", False),
        ("Determined", "", False),
        ("Sports week", "", False),
    ],
)
def test_term_or_closure(name: str, lines: str, is_term: bool, tmp_path: Path) -> None:
    """A word for days off makes a closure, else a word for a term a term; the rest are closures."""
    data = calendar(event(DAY, "DTEND;VALUE=DATE:20270104", *filter(None, [lines]), name=name))
    found = dates(tmp_path, data)
    one = {"first": WINTER.first, "last": WINTER.last, "name": name}

    assert found == (Dates(terms=(Term(**one),)) if is_term else Dates(closures=(Closure(**one),)))


def test_a_term_with_times_is_every_day_it_touches(tmp_path: Path) -> None:
    """A term from a morning to an afternoon has both of those days."""
    data = calendar(event("DTSTART:20260907T090000", "DTEND:20261218T153000", name="Autumn term"))

    assert dates(tmp_path, data).terms == (Term(first=date(2026, 9, 7), last=date(2026, 12, 18), name="Autumn term"),)


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        (("DTSTART:20261203T090000", "DTEND:20261203T100000"), ", 3 Dec 2026: it has a time of day and lasts less"),
        (("DTSTART:20261203T090000",), ", 3 Dec 2026: it has a time of day and lasts less than a day."),
        ((DAY, "DTEND;VALUE=DATE:20261201"), ", 19 Dec 2026: it ends before it begins."),
        (("DTSTART:20261219T000000", "DTEND:20261201T000000"), ", 19 Dec 2026: it ends before it begins."),
        ((DAY, "DURATION:-P3D"), ", 19 Dec 2026: it ends before it begins."),
        ((DAY, "STATUS:CANCELLED"), ", 19 Dec 2026: it is called off."),
        ((DAY, "DTEND;VALUE=DATE:20280101"), f": it lasts 378 days, and a closure lasts {LONGEST_CLOSURE}"),
        (("DTSTART;VALUE=DATE:00010101",), ", 1 Jan 1: it is in the year 1, and a room has 1970 to 2199."),
        (("DTSTART;VALUE=DATE:99991231",), ", 31 Dec 9999: it is in the year 9999, and a room has 1970 to 2199."),
        (("DTSTART;VALUE=DATE:99991231", "DURATION:P9W"), ", 31 Dec 9999: its days are outside any calendar."),
        (("DTSTART:00010101T000000Z", "DTEND:00010103T000000Z"), ", 1 Jan 1: it"),
        (("DTSTART:99991230T000000Z", "DTEND:99991231T235959Z"), ", 30 Dec 9999: it"),
        (("DTSTART:tomorrow",), ": its beginning cannot be read."),
        ((DAY, "DTEND:never"), ", 19 Dec 2026: its end cannot be read."),
        ((DAY, "DURATION:long"), ", 19 Dec 2026: its length cannot be read."),
        ((), ": it has no day on which it begins."),
        ((DAY, "RRULE:FREQ=WEEKLY"), ": it comes again every week, and only yearly events are carried on."),
        ((DAY, "RRULE:FREQ=YEARLY;BYDAY=3SA;BYMONTH=12"), ": it comes again yearly, but not on the same day"),
        ((DAY, "RRULE:FREQ=NEVER"), ": the rule by which it comes again cannot be read."),
        ((DAY, "RRULE:FREQ=YEARLY;UNTIL=20261218"), ": all its yearly times are over or left out."),
    ],
)  # fmt: skip
def test_what_is_left_out_says_why(lines: tuple[str, ...], says: str, tmp_path: Path) -> None:
    """An event that cannot be used is named in one sentence with the reason, and the others are read all the same."""
    good = event(DAY, "DTEND;VALUE=DATE:20270104")
    found = dates(tmp_path, calendar(event(*lines, name="Odd one"), good))

    assert found.closures == (WINTER,)
    (skipped,) = found.skipped
    assert skipped.startswith("Odd one")
    assert says in skipped
    assert "\n" not in skipped


def test_a_day_that_names_a_term_is_neither(tmp_path: Path) -> None:
    """The first day of term closes nothing."""
    found = dates(tmp_path, calendar(event(DAY, name="Term begins")))

    assert found.skipped == (
        "Term begins, 19 Dec 2026: it names a term but lasts 1 day, so it is neither term nor closure.",
    )


def test_yearly_events_are_carried_on(tmp_path: Path) -> None:
    """A yearly day stands in this year, where it is still ahead, and in the next two; exceptions are kept."""
    yearly = event("DTSTART;VALUE=DATE:19980501", "RRULE:FREQ=YEARLY", name="May day")
    counted = event("DTSTART;VALUE=DATE:20261224", "RRULE:FREQ=YEARLY;COUNT=2", name="Eve")
    ended = event("DTSTART;VALUE=DATE:20241230", "DURATION:P4D", "RRULE:FREQ=YEARLY;UNTIL=20271231", name="Turn")
    found = dates(tmp_path, calendar(yearly, counted, ended))

    assert [str(one.first) for one in found.closures if one.name == "May day"] == ["2027-05-01", "2028-05-01"]
    assert [str(one.first) for one in found.closures if one.name == "Eve"] == ["2026-12-24", "2027-12-24"]
    assert [(str(one.first), str(one.last)) for one in found.closures if one.name == "Turn"] == [
        ("2026-12-30", "2027-01-02"),
        ("2027-12-30", "2028-01-02"),
    ]
    assert found.notes == ("May day: it comes again every year, and is taken up to 2028.",)
    assert found.skipped == ()


def test_exceptions_of_a_yearly_event(tmp_path: Path) -> None:
    """A time that is left out does not come, and one that was moved comes on its new day."""
    yearly = event("UID:a", DAY, "RRULE:FREQ=YEARLY;INTERVAL=1", "EXDATE;VALUE=DATE:20271219")
    moved = event("UID:a", "RECURRENCE-ID;VALUE=DATE:20281219", "DTSTART;VALUE=DATE:20281222")

    assert days(dates(tmp_path, calendar(yearly, moved))) == [
        (date(2026, 12, 19), date(2026, 12, 19)),
        (date(2028, 12, 22), date(2028, 12, 22)),
    ]


def test_the_leap_day_comes_in_leap_years(tmp_path: Path) -> None:
    """RFC 5545 leaves out a day that a year does not have."""
    data = calendar(event("DTSTART;VALUE=DATE:20240229", "RRULE:FREQ=YEARLY;COUNT=2"))

    assert days(dates(tmp_path, data)) == [(date(2028, 2, 29), date(2028, 2, 29))]


def test_further_days_are_said(tmp_path: Path) -> None:
    """The first day is taken, and the days of its RDATE are named as left out."""
    found = dates(tmp_path, calendar(event(DAY, "RDATE;VALUE=DATE:20270301")))

    assert days(found) == [(date(2026, 12, 19), date(2026, 12, 19))]
    assert found.skipped == ("Midwinter: the further days in its RDATE are left out.",)


def test_a_damaged_line_is_said(tmp_path: Path) -> None:
    """The event is taken as far as it can be read, with a note that its days may be others."""
    found = dates(tmp_path, calendar(event(DAY, "DTEND VALUE=DATE 20270104")))

    assert days(found) == [(date(2026, 12, 19), date(2026, 12, 19))]
    assert found.notes == ("Midwinter: a line of it cannot be read, so look at its days.",)


def test_names_as_people_write_them(tmp_path: Path) -> None:
    """Folded lines, commas, line breaks and pictures come back as a name on one line, cut where it is very long."""
    folded = event(DAY, name="Winter\\, or\\nsnow \U0001f333\r\n  week\\; all")
    long = event("DTSTART;VALUE=DATE:20270201", name="x" * 300)
    found = dates(tmp_path, calendar(folded, long))

    assert found.closures[0].name == "Winter, or snow \U0001f333 week; all"
    assert found.closures[1].name == "x" * 79 + "…"


def test_the_same_event_twice_is_one(tmp_path: Path) -> None:
    """Two calendars in one file, with the same days in both, give each once and in the order of days."""
    later = event("DTSTART;VALUE=DATE:20270301", name="Later")
    data = calendar(later, event(DAY, "DTEND;VALUE=DATE:20270104")) + calendar(event(DAY, "DTEND;VALUE=DATE:20270104"))

    assert [one.name for one in dates(tmp_path, data).closures] == ["Midwinter", "Later"]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_how_it_is_written_down(encoding: str, tmp_path: Path) -> None:
    """Unicode with or without its mark is read as it is, with either line end."""
    text = calendar(event(DAY, name="Fête")).decode().replace("\r\n", "\n" if encoding == "utf-8" else "\r\n")

    assert [one.name for one in dates(tmp_path, text.encode(encoding)).closures] == ["Fête"]


def test_letters_that_are_not_utf_8_are_said(tmp_path: Path) -> None:
    """An old encoding is guessed, and that is said."""
    found = dates(tmp_path, calendar(event(DAY, name="Fête")).decode().encode("latin-1"))

    assert found.closures[0].name == "Fête"
    assert found.notes == ("school.ics is not UTF-8: letters with accents may be wrong.",)


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "is not a calendar"),
        (bytes(range(256)) * 40, "is not a calendar"),
        (b"name = \"a room\"\n", "is not a calendar"),
        (b"BEGIN:VCALENDAR\r\n" + b"x" * MOST_BYTES, "is larger than 4 MB"),
        (b"BEGIN:VCALENDAR\r\n" + event(DAY).encode(), "is cut off"),
        (b"BEGIN:VCALENDAR\r\nnonsense\r\nEND:VCALENDAR\r\n", "cannot be read as a calendar"),
        (b"BEGIN:VCALENDAR\r\n" + bytes(range(256)) + b"\r\nEND:VCALENDAR\r\n", "cannot be read as a calendar"),
        (b"BEGIN:VCALENDAR\r\n" + b"BEGIN:VEVENT\r\n" * 5000, "is cut off"),
    ],
)  # fmt: skip
def test_what_is_no_calendar(data: bytes, says: str, tmp_path: Path) -> None:
    """A file that is something else, damaged or far too large is refused in one line."""
    with pytest.raises(ValueError, match=r"school\.ics") as error:
        dates(tmp_path, data)
    assert says in str(error.value)
    assert "\n" not in str(error.value)


def test_no_file_and_a_folder(tmp_path: Path) -> None:
    """What is not there and what is no file are said in one line."""
    with pytest.raises(ValueError, match="is not there"):
        read_dates(tmp_path / "none.ics")
    with pytest.raises(ValueError, match="cannot be read"):
        read_dates(tmp_path)


def test_a_calendar_without_events(tmp_path: Path) -> None:
    """That nothing was found is said."""
    assert dates(tmp_path, calendar()) == Dates(skipped=("There is no event in school.ics.",))


def test_ten_thousand_events(tmp_path: Path) -> None:
    """Each of very many events is found or named."""
    first = date(2020, 1, 1)
    whole = (f"DTSTART;VALUE=DATE:{first + timedelta(days=one):%Y%m%d}" for one in range(5000))
    lessons = (
        f"DTSTART:{datetime(2026, 1, 1, 9, tzinfo=UTC) + timedelta(hours=one):%Y%m%dT%H%M%S}" for one in range(5000)
    )
    found = dates(tmp_path, calendar(*(event(one) for one in (*whole, *lessons))))

    assert (len(found.closures), len(found.skipped)) == (5000, 5000)


@settings(max_examples=60)
@given(st.text(max_size=60), st.text(max_size=60), st.dates(), st.integers(-400, 400))
def test_nothing_typed_breaks_the_reading(
    tmp_path_factory: pytest.TempPathFactory, name: str, more: str, day: date, length: int
) -> None:
    """Any event is found or left out with a reason, or the file is refused in one line; never a traceback."""
    begin = f"DTSTART;VALUE=DATE:{day.isoformat().replace('-', '')}"
    lasts = f"DURATION:{'-' if length < 0 else ''}P{abs(length)}D"
    try:
        found = dates(tmp_path_factory.mktemp("ics"), calendar(event(begin, lasts, more, name=name)))
        said = list(found.skipped)
        assert len(found.closures) + len(found.terms) + len(found.skipped) >= 1
    except ValueError as error:
        said = [str(error)]
    assert all(len(one.splitlines()) == 1 for one in said)
