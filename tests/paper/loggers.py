"""Files of loggers and what is done with them, for tests."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from walkabout.paper.logger import Taken, take_in_file
from walkabout.paper.logger_back import Back, Before, meant, take_back, taken_before
from walkabout.paper.logger_columns import Mapped
from walkabout.paper.logger_file import read_logger_file
from walkabout.paper.logger_kept import Taking
from walkabout.records.book import Records
from walkabout.records.model_measured import Hour

TODAY = date(2026, 11, 25)
NOW = datetime(2027, 1, 10, 8, tzinfo=UTC)
START = datetime(2026, 11, 25, 8)  # noqa: DTZ001 - a logger's wall clock


def reading_of(station: str = "raft", zone: str = "UTC", quantity: str = "air temperature") -> Taking:
    """Return how a file with the columns Time and Temp is read."""
    return Taking(("Time",), "ymd", (Mapped("Temp", quantity, "", station),), zone)


def lines(first: int, last: int, start: datetime = START) -> list[str]:
    """Return rows from one number to another, one each ten minutes; a number's value is always the same."""
    return [
        f"{start + timedelta(minutes=10 * number):%Y-%m-%d %H:%M},{20 + number / 10:.1f}"
        for number in range(first, last)
    ]


@contextmanager
def records_of(room: Path) -> Iterator[Records]:
    """Open a room's records, and close them."""
    records = Records.open(room, TODAY)
    try:
        yield records
    finally:
        records.close()


def take(room: Path, name: str, rows: Sequence[str], taking: Taking | None = None, **more: Any) -> Taken:
    """Take a file in."""
    path = room.parent / name
    content = "\n".join(["Time,Temp", *rows, ""]).encode()
    path.write_bytes(content)
    with records_of(room) as records:
        return take_in_file(
            read_logger_file(path, content), content, taking or reading_of(), records, room, NOW, **more
        )


def back(room: Path, name: str) -> Back:
    """Take a file back."""
    with records_of(room) as records:
        return take_back(meant(name, taken_before(records, room)), records, room)


def before(room: Path) -> list[Before]:
    """Return what was taken in."""
    with records_of(room) as records:
        return taken_before(records, room)


def hours(room: Path) -> list[Hour]:
    """Return the hours on record."""
    with records_of(room) as records:
        return records.hours(date.min)


def summed(room: Path) -> list[tuple[Any, ...]]:
    """Return what the hours on record say."""
    return [(one.station, one.start, one.n, one.mean, one.low, one.high) for one in hours(room)]
