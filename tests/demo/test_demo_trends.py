"""What the demo's logbook has to show: a true drift, a step with its cause on record, and a logger's file."""

import csv
from datetime import date, timedelta

import pytest

from walkabout.demo.logger import DAYS, EVERY, FILE, MUTE, MUTE_DAY
from walkabout.demo.make import make
from walkabout.insight.trend import shifts_of
from walkabout.paper.logger import take_in_file
from walkabout.paper.logger_back import take_back, taken_before
from walkabout.paper.logger_file import read_logger_file
from walkabout.paper.logger_kept import FOLDER, copies, remembered
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.logbook import newest_first, recorded, shifts, spans
from walkabout.round.trends import series_of

MONDAY = date(2027, 2, 1)


@pytest.mark.parametrize("later", range(7))
def test_the_logbook_has_something_to_tell_on_any_day(tmp_path, open_on, later):
    """Over the term the nights are colder since the window was noticed, and the heat mat creeps up, within its range.

    Neither is explained away by something that was done, and each is dated near the day on which it began.
    """
    today = MONDAY + timedelta(days=later)
    make(tmp_path / "room", today)
    room = open_on(tmp_path / "room", today)
    term = spans(room.room, today)[1]
    assert term.name.startswith("this term")
    told = {(one.station, one.question): one for one in newest_first(shifts(room, term.since))}

    nights = told[WHOLE_ROOM, "lowest-air-temperature"]
    assert " °C lower since " in nights.says
    (noticed,) = (one for one in room.findings.values() if "window no longer shuts" in one.seen)
    assert abs((nights.since.date() - noticed.at.date()).days) <= 4

    mat = series_of(room, "shelf", "medium-temperature", term.since)
    assert told["shelf", "medium-temperature"].says.startswith("Medium temperature has crept up since ")
    assert [one.change.kind for one in shifts_of(mat)][-1] == "drift"
    assert mat.good is not None
    assert mat.good[0] < min(mat.values)
    assert max(mat.values) < mat.good[1]


def test_what_was_noticed_stands_on_the_line_of_the_nights(opened, made):
    """The window is a mark beside the readings, on the day before they are lower."""
    series = series_of(opened, WHOLE_ROOM, "lowest-air-temperature", made.today - timedelta(days=56))
    marks = [one for one in series.marks if "window no longer shuts" in one.says]

    assert [one.kind for one in marks] == ["finding"]
    assert series.open_ends == (False, True)


def test_a_logger_was_taken_in_at_the_glass_bell(opened, made):
    """Ten days by the hour, up to yesterday's midnight, with a hole where the battery was flat; the file lies there."""
    found = next(one for one in recorded(opened, "bell") if one.question == "logged:air temperature")
    series = series_of(opened, "bell", found.question, made.today - timedelta(days=14))
    missing = len(MUTE)

    assert found.looks == len(series.points) == 24 * DAYS - missing
    assert series.points[-1].at.hour == 23
    assert series.points[-1].at.date() == made.today - timedelta(days=1)
    assert {one.at.hour for one in series.points if (made.today - one.at.date()).days == MUTE_DAY}.isdisjoint(MUTE)
    assert len(series.days or ()) == DAYS - 1
    assert all(15 < one.low <= one.value <= one.high < 28 for one in series.points)
    (copy,) = copies(made.folder).values()
    with (made.folder / FOLDER / copy.copy).open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == (24 * DAYS - missing) * (timedelta(hours=1) // EVERY)
    assert set(rows[0]) == {"time", "air temperature [°C]"}


def test_the_loggers_file_is_known_and_brings_nothing_new(copied, made, open_on):
    """Its readings count once: the same file again finds every hour on record, and nothing is asked about its columns.

    It is listed under the name that the logger gave it.
    """
    room = open_on(copied, made.today)
    (copy,) = copies(copied).values()
    content = (copied / FOLDER / copy.copy).read_bytes()
    file = read_logger_file(copied / FOLDER / copy.copy, content)
    taking = remembered(copied, file.names)
    assert taking == copy.takings[0]
    again = take_in_file(file, content, taking, room.records, copied, room.clock())
    (before,) = taken_before(room.records, copied)

    hours = 24 * DAYS - len(MUTE)
    assert (again.fresh, again.changed, again.same, again.wrong) == (0, 0, hours, ())
    assert (before.name, before.whole, before.total) == (FILE, True, hours)
    room.close()


def test_the_loggers_file_can_be_taken_back(copied, made, open_on):
    """Afterwards no hour of it counts, its copy lies among the backups, and nothing of the rest has gone."""
    room = open_on(copied, made.today)
    answers = len(room.records.answers(date.min))
    (before,) = taken_before(room.records, copied)
    back = take_back(before, room.records, copied)

    assert (back.emptied, back.stay) == (24 * DAYS - len(MUTE), 0)
    assert room.records.hours(date.min) == []
    assert back.kept is not None
    assert back.kept.is_file()
    assert taken_before(room.records, copied) == []
    assert len(room.records.answers(date.min)) == answers
    room.close()
