"""Some records of many months, found without taking in the rest: always what reading everything would give."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import msgspec
import pytest

from walkabout.records.book import Records
from walkabout.records.model import Answer
from walkabout.records.model_measured import Hour

TODAY = date(2026, 11, 25)
FIRST = datetime(2026, 6, 1, 8, tzinfo=UTC)
WHERE = {("tub", "ph")}
EVER = date(2000, 1, 1)


def answer(day: int, station: str = "tub", question: str = "ph", **more: object) -> Answer:
    fields = {"key": f"a-{station}-{question}-{day}", "round": "r", "at": FIRST + timedelta(days=day), "walker": "AR"}
    return msgspec.convert(fields | {"station": station, "question": question, "value": 6.0} | more, Answer)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a room with four months of answers in files, one of them put right two months later."""
    records = Records.open(tmp_path, TODAY)
    with records.together():
        for day in range(120):
            for station, question in (("tub", "ph"), ("tub", "ec"), ("vine", "ph")):
                records.save(answer(day, station, question))
        records.save(answer(90, key="a-right", value=5.7, replaces="a-tub-ph-20", reason="slip"))
        records.save(answer(91, "vine", "ec", key="a-other", replaces="a-vine-ec-1", reason="slip"))
    records.close()
    return tmp_path


def in_full(folder: Path, since: date = EVER) -> list[Answer]:
    """Return the same by reading everything."""
    records = Records.open(folder, TODAY)
    return [one for one in records.answers(since) if (one.station, one.question) in WHERE or one.replaces]


@pytest.mark.parametrize("since", [EVER, date(2026, 7, 15)])
def test_what_is_asked_for_and_every_correction_is_found(folder: Path, since: date) -> None:
    """The answers are those that reading everything gives, in the same order, and nothing else is kept."""
    records = Records.open(folder, TODAY)
    found = records.answers_to(WHERE, since)

    assert found == in_full(folder, since)
    assert len(found) > 60
    assert "a-right" in {one.key for one in found}
    assert "2026-07" not in records._files


def test_what_waits_and_what_is_in_memory_counts(folder: Path) -> None:
    """A month that was read, a journal that is not folded and what is only in memory are looked into as well."""
    other = Records.open(folder, TODAY)
    other.save(answer(35, key="a-journal", value=6.4))
    records = Records.open(folder, TODAY)
    records.answers(date(2026, 9, 1))
    with records.together():
        records.save(answer(118, key="a-waits", value=6.6))
        keys = [one.key for one in records.answers_to(WHERE, EVER)]

    assert {"a-journal", "a-waits"} <= set(keys)
    assert sorted(keys) == sorted({one.key for one in in_full(folder)})


def torn(text: str) -> str:
    return text[:-40]


def with_a_misfit(text: str) -> str:
    return text.replace('"value":6.0', '"value":"six"', 1)


def with_a_key_twice(text: str) -> str:
    return text.replace('"a-tub-ph-1"', '"a-tub-ph-0"', 1)


def without_a_table(text: str) -> str:
    return text.replace('"rounds"', '"rings"')


@pytest.mark.parametrize("spoil", [torn, with_a_misfit, with_a_key_twice, without_a_table])
def test_a_spoiled_file_is_read_in_full_and_told(folder: Path, spoil: Callable[[str], str]) -> None:
    """What a glance cannot read is left to the whole reading, which says so and gives what there is."""
    file = folder / "records" / "2026-06.json"
    before = file.read_text("utf-8")
    file.write_text(spoil(before), "utf-8")
    assert file.read_text("utf-8") != before
    records = Records.open(folder, TODAY)
    found = records.answers_to(WHERE, EVER)

    assert any("2026-06.json" in one for one in records.told)
    assert found == in_full(folder)


def test_a_file_that_is_gone_comes_from_its_copy(folder: Path) -> None:
    """The last good copy speaks for a month's file that somebody has thrown away."""
    later = Records.open(folder, TODAY)
    later.save(answer(3, key="a-more"))
    later.close()
    (folder / "records" / "2026-06.json").unlink()
    found = {one.key for one in Records.open(folder, TODAY).answers_to(WHERE, EVER)}

    assert "a-tub-ph-2" in found


def hour(day: int, clock: int, quantity: str = "humidity", n: int = 4) -> Hour:
    start = FIRST.replace(hour=clock) + timedelta(days=day)
    return Hour(
        key=f"h{start:%Y%m%d%H}-{quantity}", station="case", quantity=quantity, start=start, n=n, mean=60 + clock,
        low=50, high=90, unit="%",
    )  # fmt: skip


def test_hours_of_one_quantity_come_in_their_order(tmp_path: Path) -> None:
    """Only that quantity, from that day on, without hours that were taken back; and the newest is known."""
    records = Records.open(tmp_path, TODAY)
    with records.together():
        for day in (40, 2, 3):
            for clock in (9, 8):
                records.save(hour(day, clock))
                records.save(hour(day, clock, "pH"))
        records.save(hour(41, 8, n=0))
    records.close()
    anew = Records.open(tmp_path, TODAY)
    found = anew.hours_of("case", "humidity", date(2026, 6, 4))

    assert [(one.start.day, one.start.hour) for one in found] == [(4, 8), (4, 9), (11, 8), (11, 9)]
    assert anew._files.keys().isdisjoint({"2026-06-hours", "2026-07-hours"})
    assert anew.loggers(date(2026, 6, 4)) == {("case", one): (hour(40, 9, one), 4) for one in ("humidity", "pH")}
