"""The almanac as a calendar file: read back by two readers that know nothing of the program."""

from datetime import UTC, date, datetime, timedelta, timezone
from typing import Any

import pytest
import vobject
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from tests.almanacs import CODE, ENTRIES, NOW, made_up
from walkabout.almanac.model import Entry
from walkabout.paper.feed import feed
from walkabout.room.model import Person, Room, Station

ROOM = Room(
    name="Fernhollow",
    people={CODE: Person(role="adult"), "K7": Person()},
    stations=(Station(key="tub", name="Raft tub; left, by the \U0001f33f window", kind="raft"),),
)


def first_reader(data: bytes) -> list[dict[str, Any]]:
    found = []
    for event in Calendar.from_ical(data).walk("VEVENT"):
        assert not event.errors
        end = event.get("DTEND")
        found.append({
            "uid": str(event["UID"]), "begin": event["DTSTART"].dt, "end": end.dt if end is not None else None,
            "summary": str(event["SUMMARY"]), "description": str(event.get("DESCRIPTION", "")),
            "location": str(event.get("LOCATION", "")),
        })  # fmt: skip
    return found


def second_reader(data: bytes) -> list[dict[str, Any]]:
    def of(event: Any, name: str, usual: Any = "") -> Any:
        return getattr(event, name).value if hasattr(event, name) else usual

    calendar = vobject.readOne(data.decode("utf-8"))
    return [
        {
            "uid": one.uid.value, "begin": one.dtstart.value, "end": of(one, "dtend", None),
            "summary": of(one, "summary"), "description": of(one, "description"), "location": of(one, "location"),
        }
        for one in calendar.contents.get("vevent", [])
    ]  # fmt: skip


def test_two_readers_find_the_same_events() -> None:
    """Both find every entry on its days, the end being the day after, and what is said of it."""
    data = feed(made_up(), ROOM, NOW)
    rows = first_reader(data)

    assert rows == second_reader(data)
    assert [(one["begin"], one["end"], one["summary"]) for one in rows] == [
        (entry.day, (entry.last or entry.day) + timedelta(days=1), entry.says) for entry in ENTRIES
    ]
    assert rows[1]["location"] == ROOM.stations[0].name
    assert rows[1]["description"].splitlines() == [
        "Sunday is closed",
        "For an adult.",
        "About 20 min.",
        "Caution: Fertiliser salts: gloves, and wash hands after.",
    ]
    assert rows[0]["location"] == ""


def test_what_the_standard_asks_for() -> None:
    """PRODID, VERSION, UID and DTSTAMP are there, lines end as they must and are at most 75 octets long."""
    long = Entry(
        day=date(2026, 12, 1), kind="job", says="\U0001f331 umgetopft, gegossen, gedüngt; " * 20, uid="job/long"
    )
    data = feed(made_up((long,)), ROOM, NOW)

    assert data.startswith(b"BEGIN:VCALENDAR\r\n")
    assert data.endswith(b"END:VCALENDAR\r\n")
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert max(map(len, data.split(b"\r\n"))) <= 75
    for line in data.split(b"\r\n"):
        line.decode("utf-8")  # no character is cut in two
    assert data.count(b"\r\nVERSION:2.0\r\n") == 1
    assert data.count(b"\r\nPRODID:") == 1
    assert data.count(b"\r\nDTSTAMP:20261125T073000Z\r\n") == 1
    assert data.count(b"\r\nTRANSP:TRANSPARENT\r\n") == 1
    assert first_reader(data)[0]["summary"] == " ".join(long.says.split())


def test_made_anew_it_updates_what_was_taken_in() -> None:
    """Made again with other days and words the UIDs are the same and the SEQUENCE is higher; another room's differ."""
    moved = tuple(Entry(day=one.day + timedelta(days=1), kind=one.kind, says="new", uid=one.uid) for one in ENTRIES)
    before = feed(made_up(), ROOM, NOW)
    after = feed(made_up(moved[::-1]), ROOM, NOW + timedelta(hours=1))
    other = feed(made_up(), Room(name="Millbrook"), NOW)

    def uids(data: bytes) -> set[str]:
        return {one["uid"] for one in first_reader(data)}

    assert uids(before) == uids(after)
    assert len(uids(before)) == len(ENTRIES)
    assert uids(before).isdisjoint(uids(other))
    sequence = [{int(one["SEQUENCE"]) for one in Calendar.from_ical(data).walk("VEVENT")} for data in (before, after)]
    assert max(sequence[0]) + 60 == min(sequence[1])
    assert feed(made_up(), ROOM, NOW) == before


def test_two_entries_of_one_uid_stay_two() -> None:
    """No event swallows another: entries that share a uid get one each, the same every time."""
    twice = tuple(Entry(day=date(2026, 12, day), kind="job", says=f"job {day}", uid="job/x") for day in (1, 2, 2))
    data = feed(made_up(twice), ROOM, NOW)

    assert len({one["uid"] for one in first_reader(data)}) == 3
    assert feed(made_up(twice), ROOM, NOW) == data


def test_only_what_warns_rings() -> None:
    """An entry that warns has an alarm at 07:00 the day before, and no other has one."""
    for event in Calendar.from_ical(feed(made_up(), ROOM, NOW)).walk("VEVENT"):
        alarms = event.walk("VALARM")
        entry = next(one for one in ENTRIES if one.says == str(event["SUMMARY"]))
        assert len(alarms) == int(entry.warns)
        for alarm in alarms:
            rings = datetime.combine(event["DTSTART"].dt, datetime.min.time()) + alarm["TRIGGER"].dt
            assert rings == datetime.combine(entry.day - timedelta(days=1), datetime.min.time().replace(hour=7))
            assert str(alarm["ACTION"]) == "DISPLAY"


def test_nothing_about_people() -> None:
    """No code of anybody is in it, nor who promised or sowed."""
    data = feed(made_up(), ROOM, NOW)

    assert CODE.encode() not in data
    assert b"K7" not in data
    assert b"ATTENDEE" not in data
    assert b"ORGANIZER" not in data


@pytest.mark.parametrize("hours", [-11, 0, 5.75, 14])
def test_whatever_the_zone_the_days_stay(hours: float) -> None:
    """Days are days: the clock's zone changes neither them nor the moment of the stamp."""
    here = NOW.astimezone(timezone(timedelta(hours=hours)))

    assert feed(made_up(), ROOM, here) == feed(made_up(), ROOM, NOW)


def test_the_ends_of_the_calendar() -> None:
    """The last day there is has no day after it; one that ends before it begins is one day."""
    odd = (
        Entry(day=date.max, kind="job", says="end", uid="a"),
        Entry(day=date.min, kind="job", says="begin", uid="b"),
        Entry(day=date(2026, 12, 5), last=date(2026, 12, 1), kind="closure", says="backwards", uid="c"),
    )
    rows = first_reader(feed(made_up(odd), ROOM, NOW))

    assert [(one["begin"], one["end"]) for one in rows] == [
        (date.max, None),
        (date.min, date.min + timedelta(days=1)),
        (date(2026, 12, 5), date(2026, 12, 6)),
    ]


def test_an_empty_almanac_is_a_calendar() -> None:
    """Without entries it is a calendar without events, and before 2020 the SEQUENCE is not below nought."""
    assert first_reader(feed(made_up(()), ROOM, NOW)) == []
    early = feed(made_up(), ROOM, datetime(2001, 1, 1, tzinfo=UTC))
    assert {int(one["SEQUENCE"]) for one in Calendar.from_ical(early).walk("VEVENT")} == {0}


@settings(max_examples=60)
@given(
    st.text(st.characters(), max_size=120),
    st.text(st.characters(), max_size=60),
    st.text(st.characters(), max_size=120),
)
def test_any_text_comes_back(says: str, name: str, detail: str) -> None:
    """Whatever people type, both readers get one event back with the same words, and no line of its own making."""
    room = Room(name=name, stations=(Station(key="tub", name=name, kind="raft"),))
    entry = Entry(day=date(2026, 12, 1), kind="job", says=says, uid="job/x", station="tub", detail=detail)
    data = feed(made_up((entry,)), room, NOW)
    (row,) = first_reader(data)

    assert data.count(b"BEGIN:VEVENT") == 1
    assert max(map(len, data.split(b"\r\n"))) <= 75
    for got, typed in ((row["summary"], says), (row["location"], name)):
        assert "".join(got.split()) == "".join(
            "".join(typed.encode("utf-8", "replace").decode().split()).split()
        ) or any(ord(one) < 32 or 127 <= ord(one) < 160 for one in typed)
    assert (row["begin"], row["end"]) == (date(2026, 12, 1), date(2026, 12, 2))
    (other,) = second_reader(data)
    assert {key: other[key] for key in ("uid", "begin", "end", "location")} == {
        key: row[key] for key in ("uid", "begin", "end", "location")
    }
