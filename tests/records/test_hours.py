"""What loggers read, by the hour: files of their own, read only when they are asked for."""

from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path

import pytest

from tests.records.sample_records import LONG_AGO, MORNING, TODAY, answer, opened
from walkabout.records import pseudonyms
from walkabout.records.book import Records
from walkabout.records.model import Answer
from walkabout.records.model_measured import Hour


def hour(start: datetime = MORNING, quantity: str = "humidity", mean: float = 55.0) -> Hour:
    """Return what a logger read in an hour."""
    key = f"h{start.astimezone(UTC):%Y%m%d%H%M}-raft-{quantity}"
    return Hour(key=key, station="raft", quantity=quantity, start=start, n=6, mean=mean, low=50, high=60, unit="%")


def test_hours_come_back_in_the_order_of_time(room: Path, records: Records) -> None:
    """Each month has a file of its own beside that of the answers; all are read when hours are asked for."""
    later, earlier = hour(), hour(MORNING - timedelta(days=40))
    for one in (later, earlier, answer(1)):
        records.save(one)  # type: ignore[arg-type]
    records.close()
    names = {path.name for path in (room / "records").glob("*.json")}
    assert {"2026-11-hours.json", "2026-10-hours.json", "2026-11.json"} <= names
    again = opened(room)
    assert again.hours(LONG_AGO) == [earlier, later]
    assert again.hours(TODAY) == [later]
    assert [one.key for one in again.answers(LONG_AGO)] == ["a0001"]
    assert again.told == []


def test_opening_reads_no_hours(room: Path, records: Records) -> None:
    """A damaged file of hours is noticed by whoever asks for hours, and slows nobody else down."""
    records.save(hour())
    records.close()
    for folder in ("records", "backups"):
        for path in (room / folder).glob("*-hours.*"):
            path.write_bytes(b"no JSON at all")
    again = opened(room)
    again.answers(LONG_AGO)
    again.rounds(LONG_AGO)
    assert again.told == []
    assert again.hours(LONG_AGO) == []
    assert any("2026-11-hours.json is damaged" in line for line in again.told)


def test_the_same_hour_is_there_once(records: Records) -> None:
    """Saved again, it takes the place of the one before."""
    records.save(hour())
    records.save(hour(mean=56.5))
    assert [one.mean for one in records.hours(LONG_AGO)] == [56.5]


def test_another_program_sees_new_hours(room: Path, records: Records) -> None:
    """A refresh takes in hours where hours were asked for before, and does not take their files for months."""
    other = opened(room)
    records.save(hour())
    assert len(other.hours(LONG_AGO)) == 1
    records.save(hour(MORNING + timedelta(hours=1)))
    assert other.refresh()
    assert len(other.hours(LONG_AGO)) == 2
    assert other.answers(LONG_AGO) == []


def test_the_hour_of_the_autumn_change_is_two(records: Records) -> None:
    """Two o'clock summer time and two o'clock winter time are two hours."""
    summer, winter = (datetime(2026, 10, 25, 2, tzinfo=timezone(timedelta(hours=ahead))) for ahead in (2, 1))
    records.save(hour(winter))
    records.save(hour(summer))
    assert [one.start for one in records.hours(LONG_AGO)] == [summer, winter]


def test_every_record_of_a_kind(records: Records) -> None:
    """`every` gives all of a kind, whatever file they are in, in the order of time."""
    for month in (11, 3):
        records.save(answer(month, at=MORNING.replace(month=month)))
    records.save(hour())
    assert [one.key for one in records.every(Answer)] == ["a0003", "a0011"]
    assert [one.quantity for one in records.every(Hour)] == ["humidity"]


def test_a_purge_forgets_the_pseudonym(room: Path, records: Records) -> None:
    """Once a code is purged, nothing says any more which pseudonym it had."""
    records.save(answer(1))
    pseudonyms.keep(room / "records", {"AR": "P31", "BK": "P07"})
    records.purge("AR")
    assert pseudonyms.read(room / "records") == {"BK": "P07"}


@pytest.mark.parametrize("count", [1, 99, 150, 1400])
def test_pseudonyms_are_all_different(count: int) -> None:
    """However many there are, no two are alike, none is a code of somebody, and those that were drawn stay."""
    codes = {f"{number:03X}" for number in range(count)} | {"P01"}
    known = pseudonyms.drawn({"AR"}, {"ZZ": "P50"})
    drawn = pseudonyms.drawn(codes, known)
    assert {**drawn, **known} == drawn
    assert len({*drawn.values()}) == len(drawn) == count + 3
    assert not codes & {drawn[code] for code in codes}
    assert "" not in pseudonyms.drawn({"", "--"}, {})


def test_the_order_of_codes_says_nothing_about_pseudonyms() -> None:
    """Drawn many times, the first code in the alphabet has many pseudonyms."""
    codes = [f"A{number}" for number in range(10)]
    assert len({pseudonyms.drawn(codes, {})["A0"] for _ in range(60)}) > 10


def test_a_day_before_everything(records: Records) -> None:
    """The first day that there is asks for everything."""
    records.save(hour())
    assert len(records.hours(date.min)) == 1
