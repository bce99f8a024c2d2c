"""What the logbook says of a room, in every face alike."""

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import msgspec
import pytest

from tests.rooms import NOW, write_small_room
from tests.screens.driving import creeping
from walkabout.insight.series import Point, Series
from walkabout.insight.trend import trend
from walkabout.records.book import Records
from walkabout.records.model import Answer, Job
from walkabout.room.model import Term
from walkabout.round.logbook import (
    EVER,
    good_says,
    in_order,
    newest_first,
    pace_says,
    reading_back,
    recorded,
    shifts,
    spans,
    stations,
)
from walkabout.round.opened import OpenRoom

TODAY = NOW.date()


@pytest.fixture
def opened(tmp_path: Path) -> Iterator[OpenRoom]:
    """Return the small room with forty days of pH that creeps up in the tub."""
    room = OpenRoom(write_small_room(tmp_path / "room"), lambda: NOW)
    room.save(*creeping(NOW))
    yield room
    room.close()


def test_spans_go_from_two_weeks_to_all_there_is(opened: OpenRoom) -> None:
    """Each span is longer than the one before; without a term the second is twelve weeks, both ends counted in."""
    found = spans(opened.room, TODAY)

    assert [one.since for one in found] == sorted((one.since for one in found), reverse=True)
    assert (TODAY - found[0].since).days == 13
    assert (found[1].name, (TODAY - found[1].since).days) == ("the last 12 weeks", 83)


@pytest.mark.parametrize(("began", "name"), [(60, "this term, autumn"), (9, "the last 12 weeks")])
def test_the_term_is_a_span_once_it_is_longer_than_two_weeks(opened: OpenRoom, began: int, name: str) -> None:
    """A term that has only begun would show less than the span before it."""
    first = TODAY - timedelta(days=began)
    term = Term(first=first, last=TODAY + timedelta(days=30), name="autumn")
    found = spans(msgspec.structs.replace(opened.room, terms=(term,)), TODAY)[1]

    assert found.name == name
    assert found.since == (first if began == 60 else TODAY - timedelta(days=83))


def test_what_is_on_record_has_its_last_answer(opened: OpenRoom) -> None:
    """A reading stands with its last value and unit, its day and how many looks there were; notes do not."""
    (found,) = recorded(opened, "tub")

    assert (found.name, found.last, found.at.date(), found.looks) == ("pH", "pH 6.1", TODAY - timedelta(days=1), 40)
    assert recorded(opened, "case") == ()
    assert [one.id for one in in_order(opened, "tub")] == ["ph"]


def test_a_shift_is_told_once_and_with_its_station(opened: OpenRoom) -> None:
    """A creeping pH is told, once, with a sentence; a level one is not."""
    opened.save(*creeping(NOW, station="channels", question="ec", days=12))
    found = list(shifts(opened, TODAY - timedelta(days=83)))
    (moved,) = newest_first(found)

    assert (moved.station, moved.question) == ("tub", "ph")
    assert moved.says.startswith("pH has crept up since ")
    assert None in found


def test_a_step_that_was_made_is_not_told(opened: OpenRoom) -> None:
    """Where the solution was changed on the day of a step, nobody need wonder about it."""
    step = [
        Answer(key=f"a-s{back:02}", round="r", at=NOW - timedelta(days=back), walker="AR", station="channels",
               question="ph", value=(5.8 if back > 15 else 6.6) + (0.05, -0.05)[back % 2], unit="pH")
        for back in range(30, 0, -1)
    ]  # fmt: skip
    opened.save(*step)
    told = [one.station for one in newest_first(shifts(opened, EVER))]
    done = NOW - timedelta(days=15)
    opened.save(
        Job(key="j-1", what="Renew", station="channels", who="adult", due=done.date(), made=done, by="AR",
            standing="change/channels", closed=done, closed_by="AR", reason="done")
    )  # fmt: skip

    assert "channels" in told
    assert [one.station for one in newest_first(shifts(opened, EVER))] == ["tub"]


def test_every_station_is_named_in_walking_order(opened: OpenRoom) -> None:
    """The room as a whole comes first."""
    assert [key for key, _ in stations(opened)] == [
        "room", "shelf", "tub", "channels", "vine", "drum", "pots", "case", "greens",
    ]  # fmt: skip


def test_years_are_read_back_a_few_files_at_a_time(tmp_path: Path) -> None:
    """Every month's file back to the day is in memory at the end, and none before it."""
    folder = write_small_room(tmp_path / "room")
    records = Records.open(folder, TODAY)
    for month in range(1, 13):
        for one in creeping(NOW.replace(year=2024, month=month, day=20), days=2):
            records.save(msgspec.structs.replace(one, key=f"{one.key}-{month}"))
    records.close()
    (folder / "records" / "notamon.json").write_text("{}")
    opened = OpenRoom(folder, lambda: NOW)
    pauses = len(list(reading_back(opened, date(2024, 3, 1))))
    read = {name for name in opened.records._files if name.startswith("2024")}
    opened.close()

    assert pauses >= 3
    assert read == {f"2024-{month:02}" for month in range(3, 13)}


def line(*values: float, unit: str = "L") -> Series:
    """Return a reading a day."""
    points = tuple(Point(NOW + timedelta(days=at), value) for at, value in enumerate(values))
    return Series(points, unit, "topped up", (0.0, 12.0), step=0.1)


def test_a_pace_is_said_by_the_week_with_its_unit() -> None:
    """A steady rise of 0.5 L a day is 3.5 L a week; a good range is said with the same unit."""
    series = line(*(0.5 * at for at in range(20)))

    assert pace_says(series, trend(series)).startswith("It rises by 3.50 L a week")
    assert good_says(series) == "Good for what grows here now: 0.0 to 12.0 L."


def test_a_pace_smaller_than_the_last_digit_is_not_told() -> None:
    """Means of many readings can creep by less than the instrument shows: that is no pace."""
    small, large = (line(*(20 + each * at for at in range(28))) for each in (0.003, 0.005))

    assert pace_says(small, trend(small)) == (
        "Over these days it moves by less than 0.1 L, the last digit shown: no pace is told."
    )
    assert pace_says(large, trend(large)).startswith("It rises by ")


def test_no_pace_of_few_readings_or_of_a_step() -> None:
    """Too few readings have no pace worth a sentence, nor has what stepped: its days before and after are two rows."""
    few, level = line(1.0, 2.0, 3.0), line(*(5.0 + (at % 2) * 0.4 for at in range(20)))
    stepped = line(*(5.0 + (at % 2) * 0.2 + (at > 9) * 3 for at in range(20)))

    assert pace_says(few, trend(few)) == ""
    assert pace_says(level, trend(level)) == "It neither rises nor falls steadily over these days."
    assert trend(stepped).shifts
    assert pace_says(stepped, trend(stepped)) == ""
