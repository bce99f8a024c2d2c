"""What loggers read, as trends like any other: hours, full days, gaps, and the words beside them."""

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.rooms import NOW, write_small_room
from walkabout.insight.trend import trend
from walkabout.insight.trend_words import span_words
from walkabout.plain.logbook import logbook_facts, station_facts, station_lines
from walkabout.records.model_measured import Hour
from walkabout.round.logbook import (
    BY_THE_HOUR,
    asked_of,
    in_order,
    newest_first,
    recorded,
    shifts,
    spans,
    title_of,
)
from walkabout.round.opened import OpenRoom
from walkabout.round.trends import series_of

TODAY = NOW.date()
AIR = "logged:air temperature"
MIDNIGHT = NOW.replace(hour=0, minute=0, second=0, microsecond=0)


@pytest.fixture
def opened(tmp_path: Path) -> Iterator[OpenRoom]:
    room = OpenRoom(write_small_room(tmp_path / "room"), lambda: NOW)
    yield room
    room.close()


def by_turns(at: datetime) -> float:
    """Return a warm day and a cool night, the same every day but for a tenth."""
    return 20 + (3 if 8 <= at.hour < 20 else -3) + at.day % 2 / 10


def log(
    opened: OpenRoom,
    days: int,
    value: Callable[[datetime], float] = by_turns,
    *,
    station: str = "case",
    quantity: str = "air temperature",
    unit: str = "°C",
    mute: Callable[[datetime], bool] = lambda _: False,
) -> None:
    """Write an hour's summary for every hour of the last days, up to yesterday's midnight."""
    with opened.records.together():
        for back in range(days * 24, 0, -1):
            start = MIDNIGHT - timedelta(hours=back)
            if mute(start):
                continue
            mean = round(value(start), 3)
            key = f"h{start:%Y%m%d%H}-{station}-{quantity}"
            opened.records.save(
                Hour(key=key, station=station, quantity=quantity, start=start, n=4, mean=mean, low=mean - 0.5,
                     high=mean + 0.5, unit=unit, source="bell.csv")
            )  # fmt: skip


def ago(days: int) -> datetime:
    return MIDNIGHT - timedelta(days=days)


def test_weeks_come_by_the_hour(opened: OpenRoom) -> None:
    """Each hour is a point with its lowest and highest; shifts are looked for in full days, and the words say so."""
    log(opened, 12)
    series = series_of(opened, "case", AIR, ago(14).date())
    found = trend(series)

    assert len(series.points) == 12 * 24
    assert series.days is not None
    assert len(series.days) == 12
    one = series.points[0]
    assert one.low == pytest.approx(one.value - 0.5)
    assert one.high == pytest.approx(one.value + 0.5)
    assert (series.unit, series.decimals, series.name) == ("°C", 1, "the logger's air temperature")
    assert span_words(series).startswith("288 hours from ")
    assert found.says[0] == "No shift shown in these 12 full days."
    assert "means of full days only" in found.says[-1]
    assert (found.limits, found.ewma, found.cusum) == (None, None, None)


def test_longer_spans_come_by_the_day(opened: OpenRoom) -> None:
    """A full day is a point at noon with the day's mean, lowest and highest; days in part are left out and counted."""
    log(opened, 40, mute=lambda at: at.date() in (ago(9).date(), ago(3).date()) and at.hour > 12)
    series = series_of(opened, "case", AIR, ago(60).date())

    assert len(series.points) == 38
    assert series.days is None
    assert {one.at.hour for one in series.points if isinstance(one.at, datetime)} == {12}
    assert series.points[0].value == pytest.approx(20.05, abs=0.06)
    assert series.points[0].low == pytest.approx(16.5, abs=0.11)
    assert series.points[0].high == pytest.approx(23.5, abs=0.11)
    assert "2 days with fewer than 22 hours on record were left out." in series.notes


def test_hours_of_a_mute_span_stay_gaps(opened: OpenRoom) -> None:
    """Nothing is put where nothing was read, the line has a hole there, and the day counts for no shift."""
    log(opened, 10, mute=lambda at: at.date() == ago(4).date() and 9 <= at.hour < 15)
    series = series_of(opened, "case", AIR, ago(14).date())

    assert len(series.points) == 10 * 24 - 6
    assert series.days is not None
    assert len(series.days) == 9
    assert series.gap is not None
    assert 1 / 24 < series.gap < 6 / 24


def test_a_warm_week_is_a_shift_and_the_nights_are_none(opened: OpenRoom) -> None:
    """A room that is a degree and a half warmer since a day says so; day and night alone do not."""
    log(opened, 30, lambda at: by_turns(at) + (1.5 if at >= ago(10) else 0))
    found = trend(series_of(opened, "case", AIR, ago(29).date()))
    (moved,) = newest_first(shifts(opened, ago(80).date()))

    assert found.says[0].startswith("The logger's air temperature has been 1.5 °C higher since ")
    assert found.shifts[0].since == ago(10).replace(hour=12)
    assert (moved.station, moved.question, moved.says) == ("case", AIR, found.says[0])


def test_what_a_logger_read_is_on_record(opened: OpenRoom) -> None:
    """It stands between readings and answers with its newest hour, under a name and a question of its own."""
    log(opened, 3)
    (found,) = recorded(opened, "case")

    assert (found.question, found.name, found.last, found.looks) == (AIR, "air temperature, by logger", "17.0 °C", 72)
    assert found.at == MIDNIGHT - timedelta(hours=1)
    assert recorded(opened, "tub") == ()
    assert [one.id for one in in_order(opened, "case")] == [AIR]
    assert title_of(opened, "case", AIR) == "Air temperature, by logger"
    assert title_of(opened, "tub", "ph") == "pH"
    assert asked_of(opened, "case", AIR) == BY_THE_HOUR
    assert asked_of(opened, "tub", "ph").endswith("?")


def test_the_range_is_that_of_the_same_question(opened: OpenRoom) -> None:
    """Where people read the same quantity at the station, what grows there says what is good; elsewhere nobody does."""
    log(opened, 3, lambda _: 1.4, station="tub", quantity="EC", unit="mS/cm")
    log(opened, 3, lambda _: 450, station="tub", quantity="carbon dioxide", unit="ppm")
    conductivity = series_of(opened, "tub", "logged:EC", ago(9).date())
    asked = series_of(opened, "tub", "ec", ago(9).date())

    assert conductivity.good is not None
    assert (conductivity.good, conductivity.decimals) == (asked.good, asked.decimals)
    assert series_of(opened, "tub", "logged:carbon dioxide", ago(9).date()).good is None


def test_fahrenheit_is_kept_to(tmp_path: Path) -> None:
    """A room that reads US units has its hours in them."""
    folder = write_small_room(tmp_path / "room")
    text = (folder / "room.toml").read_text("utf-8")
    (folder / "room.toml").write_text(f'units = "US"\n{text}', "utf-8")
    room = OpenRoom(folder, lambda: NOW)
    log(room, 2, lambda _: 20.0)
    series = series_of(room, "case", AIR, ago(9).date())

    assert (series.unit, series.values[0]) == ("°F", 68.0)
    assert series.points[0].low == pytest.approx(67.1)
    room.close()


def test_nothing_logged_is_one_sentence(opened: OpenRoom) -> None:
    """A span without an hour cannot be drawn, and says why."""
    with pytest.raises(ValueError, match="No logger has read this here"):
        series_of(opened, "case", AIR, ago(9).date())


def test_the_lines_and_facts_have_it(opened: OpenRoom) -> None:
    """The plain logbook names it like any other trend; its JSON has the hours with their ends."""
    log(opened, 10)
    span = spans(opened.room, TODAY)[0]
    lines = station_lines(opened, "case", span)
    (fact,) = station_facts(opened, "case", span)["trends"]
    facts = logbook_facts(opened, span)["stations"]
    (on_record,) = next(one for one in facts if one["station"] == "case")["recorded"]

    assert any(one.startswith("Air temperature, by logger: 240 hours from ") for one in lines)
    assert (fact["question"], fact["title"], len(fact["points"])) == (AIR, "Air temperature, by logger", 240)
    assert set(fact["points"][0]) == {"at", "value", "answer", "low", "high"}
    assert on_record["question"] == AIR


def test_a_logger_that_fell_silent_before_the_span_is_left_out(opened: OpenRoom) -> None:
    """It is on record, and the lines of a span without an hour of it do not stumble over it."""
    log(opened, 60, mute=lambda at: at > ago(30))
    span = spans(opened.room, TODAY)[0]

    assert station_facts(opened, "case", span)["trends"] == []
    assert station_lines(opened, "case", span)[-1] == "Nothing is on record there yet."
