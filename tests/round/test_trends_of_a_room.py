"""Trends of a room's stations: what is on the line, what stands beside it, and the look that a shift asks for."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import msgspec
import pytest

from tests.round.school import MONDAY, School
from walkabout.insight.trend import trend
from walkabout.insight.trend_words import good_words
from walkabout.records.model import Finding, Job, Picking, Treatment
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.heat import heat, heat_says
from walkabout.round.logbook import good_says
from walkabout.round.trends import series_of, trends_at

DAYS = 30
STILL: Callable[[int], float] = lambda day: (5.7, 5.8)[day % 2]  # noqa: E731 - a reading of each day


@pytest.fixture
def school(tmp_path: Path) -> School:
    return School(tmp_path / "room", ("tub", "film", "vine"))


def read(school: School, value: Callable[[int], float], station: str = "tub", question: str = "ph") -> None:
    """Write a reading for each of the last days; day 0 is the oldest, the last one was yesterday."""
    for day in range(DAYS):
        school.written(station, question, DAYS - day, value=round(value(day), 2), unit="pH")


def since(school: School, days: int = 60) -> date:
    return school.room.today() - timedelta(days=days)


def just_seen(school: School) -> int:
    """Return after how many days at the new level the step is seen, by reading on day after day."""
    for day in range(DAYS):
        school.written("tub", "ph", DAYS - day, value=STILL(day), unit="pH")
    for more in range(1, 12):
        school.tomorrow()
        school.written("tub", "ph", 0, value=STILL(more) + 0.5, unit="pH")
        school.tick(60)
        if school.room.shifted("tub", "ph"):
            return more
    return 0


# the series


def test_readings_come_with_their_range_and_unit(school: School) -> None:
    """A series has each look once, by time, with what plants here want of it."""
    read(school, STILL)
    series = series_of(school.room, "tub", "ph", since(school))

    assert len(series.points) == DAYS
    assert list(series.values[:2]) == [5.7, 5.8]
    assert (series.name, series.unit, series.decimals) == ("pH", "pH", 1)
    assert series.good is not None
    assert series.good[0] < 5.8 < series.good[1]


def test_a_room_that_reads_fahrenheit_has_its_line_in_fahrenheit(tmp_path: Path) -> None:
    """Values, range and unit are those that the room reads and writes."""
    school = School(tmp_path / "room", ("tub",), head='units = "US"')
    school.written("tub", "solution-temperature", 2, value=20.0, unit="°C")
    school.written("tub", "solution-temperature", 1, value=21.0, unit="°C")
    series = series_of(school.room, "tub", "solution-temperature", since(school))

    assert series.unit == "°F"
    assert series.values == pytest.approx((68.0, 69.8))
    assert series.good is not None
    assert series.good[1] > 60


def test_a_correction_stands_in_the_place_of_what_was_wrong(school: School) -> None:
    """The wrong number is not on the line, near or long ago."""
    for days in (3, 400):
        wrong = school.written("tub", "ph", days, value=8.5, unit="pH")
        right = msgspec.structs.replace(wrong, key=f"b-{days}", value=5.8, replaces=wrong.key, reason="typed wrong")
        school.room.save(right)

    assert series_of(school.room, "tub", "ph", since(school)).values == (5.8,)
    assert series_of(school.again(), "tub", "ph", since(school, 500)).values == (5.8, 5.8)


def test_what_was_not_looked_at_is_a_gap(school: School) -> None:
    """Only looks are on the line: neither 'not looked' nor 'does not apply' is a value."""
    school.written("tub", "ph", 3, value=5.8, unit="pH")
    school.written("tub", "ph", 2, state="not looked", verdict="")
    school.written("tub", "ph", 1, state="does not apply", verdict="")

    assert len(series_of(school.room, "tub", "ph", since(school)).points) == 1


def test_doubtful_readings_are_left_out_and_said_to_be(school: School) -> None:
    """Readings since the last good check of a meter that failed are not on the line, and it is said how many."""
    checks = [one for one in school.room.checklists[WHOLE_ROOM].question if any(c.doubts for c in one.choices)]
    check = next(one for one in checks if any("pH" in choice.doubts for choice in one.choices))
    failing = next(choice.id for choice in check.choices if "pH" in choice.doubts)
    read(school, STILL)
    school.written(WHOLE_ROOM, check.id, 20, choices=(check.choices[0].id,))
    school.tick(5)
    school.written(WHOLE_ROOM, check.id, 1, choices=(failing,), verdict="today")
    series = series_of(school.room, "tub", "ph", since(school))

    assert 0 < len(series.points) < DAYS
    assert len(series.notes) == 1
    assert series.notes[0].startswith(f"{DAYS - len(series.points)} readings were left out as doubtful: The meter")
    assert series.notes[0] in trend(series).says


def test_stations_on_one_tank_share_what_is_read_of_it(school: School) -> None:
    """The vine drinks from the channels' tank: its pH is the one that was read at the channels, its level its own."""
    school.written("film", "ph", 2, value=5.8, unit="pH")
    school.written("film", "ph", 1, value=5.9, unit="pH")

    assert series_of(school.room, "vine", "ph", since(school)).values == (5.8, 5.9)
    assert "ph" in [one.id for one in trends_at(school.room, "vine")]


def test_scored_answers_count_down_from_the_healthy_one(school: School) -> None:
    """The first answer is 0, the third is 2 below it, and each is named by what it says."""
    question = school.room.question("tub", "level")
    assert question is not None
    for days, choice in ((3, question.choices[0]), (2, question.choices[2]), (1, question.choices[1])):
        school.written("tub", "level", days, choices=(choice.id,), verdict=choice.verdict)
    series = series_of(school.room, "tub", "level", since(school))

    assert series.values == (0.0, -2.0, -1.0)
    assert series.labels == tuple(one.says for one in question.choices)


def test_answers_that_are_no_scale_count_by_their_verdict(school: School) -> None:
    """Kinds of insects are not graver one after the other: the verdict is what is on the line."""
    question = school.room.question("tub", "insects")
    assert question is not None
    rank = ("good", "watch", "today", "now", "stop").index
    bad = max(question.choices, key=lambda choice: rank(choice.verdict))
    school.written("tub", "insects", 1, choices=(bad.id,), verdict=bad.verdict)
    series = series_of(school.room, "tub", "insects", since(school))

    assert series.values == (-float(rank(bad.verdict)),)
    assert series.labels[rank(bad.verdict)] == f"{bad.verdict} it was"


def test_a_note_has_no_trend(school: School) -> None:
    """What cannot be put on a line, and what is no longer asked, is one sentence."""
    with pytest.raises(ValueError, match="no longer asked"):
        series_of(school.room, "tub", "gone", since(school))
    notes = [
        (here.key, one.id)
        for here, checklist in school.room.places()
        for one in checklist.question
        if one.kind == "note"
    ]
    assert notes, "the shipped checklists have a note"
    with pytest.raises(ValueError, match="no trend"):
        series_of(school.room, *notes[0], since(school))


# marks


def test_what_was_done_stands_beside_the_line(school: School) -> None:
    """A change of solution told by an answer, a move, a picking, a finding, a treatment: each on its day, once."""
    room = school.room
    school.written("tub", "change-due", 1, value=9.0, unit="days")
    school.written("tub", "change-due", 3, value=7.0, unit="days")
    planting = next(one for one in room.plantings.values() if one.station == "tub")
    picked = Picking(day=room.today() - timedelta(days=4), grams=220.0)
    room.save(msgspec.structs.replace(planting, pickings=(picked,)))
    at = school.now - timedelta(days=5)
    room.save(Finding(key="f-1", station="tub", seen="a brown tip", verdict="watch", by="AR", at=at))
    room.save(
        Treatment(key="t-1", day=room.today() - timedelta(days=6), station="tub", what="soap", by="AR", at=school.now)
    )
    room.save(Finding(key="f-2", station="film", seen="elsewhere", verdict="watch", by="AR", at=at))
    marks = series_of(room, "tub", "ph", since(school)).marks

    told = [(mark.kind, (room.today() - mark.at.date()).days) for mark in marks]
    assert told == [("move", 14), ("solution", 10), ("treatment", 6), ("finding", 5), ("picking", 4)]
    assert marks[-1].says == "220 g of lettuce on rafts was picked"


def dosed(school: School, days_ago: float, *, reason: str = "done") -> None:
    """Let an adult have corrected the tub's pH so many days ago."""
    at = school.now - timedelta(days=days_ago)
    found = Finding(key="f-ph", station="tub", seen="pH 5.2", verdict="today", by="K7", at=at, question="ph")
    job = Job(
        key="j-ph",
        what="Add 6 mL of base",
        station="tub",
        who="adult",
        due=at.date(),
        made=at,
        by="K7",
        finding="f-ph",
        closed=at,
        closed_by="AR",
        reason=reason,
    )
    school.room.save(found, job)


def test_a_dose_that_was_given_is_a_mark_and_one_that_was_not_is_none(school: School) -> None:
    """A job that a reading of the tank asked for marks the line once it is done, not when it was closed undone."""
    dosed(school, 4, reason="no longer needed: clear at the next look")
    assert [mark.kind for mark in series_of(school.room, "tub", "ph", since(school)).marks if mark.kind == "dose"] == []

    dosed(school, 4)
    (mark,) = [mark for mark in series_of(school.room, "tub", "ph", since(school)).marks if mark.kind == "dose"]
    assert mark.says == 'a job was done: "Add 6 mL of base"'


# the watch


def test_a_shift_that_the_last_reading_shows_is_asked_about_in_the_next_round(school: School) -> None:
    """The reading is asked for, whatever its interval, and the trend says why; the next reading ends the watch."""
    assert 3 <= just_seen(school) <= 6
    school.tomorrow()
    plan = school.plan()
    one = next(due for due in (*plan.asked, *plan.jobs) if (due.here.key, due.question.id) == ("tub", "ph"))

    assert one.bound
    assert one.why.startswith("pH has been 0.5 higher since ")
    assert one.why.endswith("more than chance.")
    school.written("tub", "ph", 0, value=6.3, unit="pH")
    assert school.room.shifted("tub", "ph") == ""


def test_where_nothing_has_shifted_no_look_is_added(school: School) -> None:
    """A steady pen, and a line that has been higher for weeks, ask for nothing."""
    read(school, STILL)
    assert school.room.shifted("tub", "ph") == ""


def test_an_old_shift_is_no_news(school: School) -> None:
    """What went up two weeks ago was news then."""
    read(school, lambda day: STILL(day) + (0.5 if day >= 15 else 0))

    assert trend(series_of(school.room, "tub", "ph", since(school))).shifts != ()
    assert school.room.shifted("tub", "ph") == ""


@pytest.mark.parametrize("days", [0, 1])
def test_a_dose_or_a_change_of_solution_explains_a_step(school: School, days: int) -> None:
    """Where the tank was corrected on that day or the day before, the step is named as such and opens no watch."""
    seen = just_seen(school)
    assert school.room.shifted("tub", "ph")
    dosed(school, seen - 1 + days)
    room = school.again()
    (shift,) = trend(series_of(room, "tub", "ph", since(school))).shifts

    assert shift.explained
    assert room.shifted("tub", "ph") == ""


def test_what_grows_by_itself_opens_no_watch(school: School) -> None:
    """The days since the solution was changed rise by one each day: that is no shift to wonder about."""
    for day in range(DAYS):
        school.written("tub", "change-due", DAYS - day, value=float(day), unit="days")

    assert school.room.shifted("tub", "change-due") == ""


def test_a_shift_within_a_wide_range_opens_no_watch(school: School) -> None:
    """Air that is half a degree warmer than last week is more than chance and no matter."""
    for day in range(DAYS):
        value = 20.0 + (0.1 if day % 2 else 0.0) + (0.5 if day >= DAYS - 4 else 0.0)
        school.written("tub", "solution-temperature", DAYS - day, value=value, unit="°C")
    series = series_of(school.room, "tub", "solution-temperature", since(school))

    assert series.good is not None
    assert series.good[1] - series.good[0] > 2
    assert trend(series).shifts != ()
    assert school.room.shifted("tub", "solution-temperature") == ""


# all years, and all stations


def test_older_months_are_read_only_when_they_are_asked_for(school: School) -> None:
    """A look at the last weeks opens no file of a year ago; a look at the years finds what is there."""
    school.written("tub", "ph", 700, value=5.5, unit="pH")
    school.written("tub", "ph", 2, value=5.8, unit="pH")
    room = school.again()
    asked: list[date] = []
    look_into = room.records.answers_by_month
    room.records.answers_by_month = lambda where, since: asked.append(since) or look_into(where, since)  # type: ignore[method-assign,func-returns-value]

    assert series_of(room, "tub", "ph", since(school)).values == (5.8,)
    assert asked == []
    assert series_of(room, "tub", "ph", since(school, 800)).values == (5.5, 5.8)
    assert asked == [since(school, 800)]


# a range with one end


def test_an_end_that_no_instrument_could_pass_is_none(school: School) -> None:
    """The lowest air temperature is good from the limit of the most tender plant on, and nobody names an upper end."""
    for day in range(DAYS):
        school.written("room", "lowest-air-temperature", DAYS - day, value=18.0 + day % 2 / 10, unit="°C")
    series = series_of(school.room, WHOLE_ROOM, "lowest-air-temperature", since(school))

    assert series.open_ends == (False, True)
    assert good_words(series).endswith(" °C or more")
    assert good_says(series) == f"Good for what grows here now: {good_words(series)}."


def test_a_shift_towards_the_only_end_opens_a_watch(school: School) -> None:
    """Nights that lose half of their distance to the limit matter; nights that are warmer by as much do not."""
    for by, watched in ((-2.5, True), (2.5, False)):
        room = School(school.folder / f"by{by}", ("tub", "film", "vine"))
        for day in range(DAYS):
            value = 18.0 + day % 2 / 10 + (by if day >= DAYS - 3 else 0)
            room.written("room", "lowest-air-temperature", DAYS - day, value=round(value, 1), unit="°C")
        series = series_of(room.room, WHOLE_ROOM, "lowest-air-temperature", since(room))

        assert trend(series).shifts != ()
        assert bool(room.room.shifted(WHOLE_ROOM, "lowest-air-temperature")) is watched


def test_the_heat_strip_has_the_worst_of_each_day(school: School) -> None:
    """Each station has for each day its worst verdict, 'not looked' where nobody did, nothing without a round."""
    school.written("tub", "ph", 2, value=5.8, unit="pH", verdict="good")
    school.written("tub", "level", 2, choices=("hand",), verdict="today")
    school.written("tub", "ph", 1, state="not looked", verdict="")
    school.written("film", "ph", 1, value=5.8, unit="pH", verdict="good")
    today = school.room.today()
    strip = heat(school.room, today - timedelta(days=3), today)
    rows = {row.key: row for row in strip.rows}

    assert strip.dates[-1] == today
    assert [row.key for row in strip.rows] == [WHOLE_ROOM, "tub", "film", "vine"]
    assert rows["tub"].verdicts == ("", "today", "not looked", "")
    assert rows["film"].verdicts == ("", "", "good", "")
    assert heat_says(rows["tub"]) == "The tub: 2 days on record; today on 1, not looked on 1."
    assert heat_says(rows["film"]) == "The film: 1 day on record; good on every one."
    assert heat_says(rows["vine"]) == "The vine: no day on record."


def test_a_year_of_heat_counts_what_was_put_right(school: School) -> None:
    """Beyond what the round keeps, a corrected answer is not the one that was wrong, the last correction counts."""
    wrong = school.written("tub", "ph", 300, value=9.9, unit="pH", verdict="now")
    for key, verdict in (("b-1", "today"), ("b-2", "good")):
        school.room.save(
            msgspec.structs.replace(wrong, key=key, value=5.8, verdict=verdict, replaces=wrong.key, reason="slip")
        )
    today = school.room.today()
    strip = heat(school.again(), today - timedelta(days=365), today)

    assert [one for one in strip.rows[1].verdicts if one] == ["good"]


@pytest.mark.parametrize(("first", "last"), [(MONDAY, MONDAY - timedelta(days=1)), (date(2020, 1, 1), MONDAY)])
def test_a_strip_has_a_first_and_a_last_day(school: School, first: date, last: date) -> None:
    """A span that is none, or of years, is refused in one sentence."""
    with pytest.raises(ValueError, match="1 to 366 days"):
        heat(school.room, first, last)


def test_times_are_those_of_the_looks(school: School) -> None:
    """Every point carries the moment and the key of its answer, so that a face can go to it."""
    answer = school.written("tub", "ph", 1, value=5.8, unit="pH")
    (point,) = series_of(school.room, "tub", "ph", since(school)).points

    assert (point.at, point.key) == (answer.at, answer.key)
    assert isinstance(point.at, datetime)
    assert point.at.tzinfo == UTC
