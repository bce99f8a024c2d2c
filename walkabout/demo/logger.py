"""What the logger in the demo's glass bell read: ten days of air temperature, every quarter of an hour.

Every figure is assumed: warm under the lamps by day, cool at night, and a battery that had to be changed.
"""

import math
from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from random import Random

from walkabout.demo.clock import moment
from walkabout.paper.logger import take_in_file
from walkabout.paper.logger_columns import Mapped
from walkabout.paper.logger_file import read_logger_file
from walkabout.paper.logger_kept import Taking, remember
from walkabout.records.book import Records

FILE = "glass-bell.csv"
"""What the logger's own file is called."""
STATION, QUANTITY, UNIT = "bell", "air temperature", "°C"
DAYS = 10
"""Full days on record, up to yesterday."""
EVERY = timedelta(minutes=15)
MUTE_DAY = 4
"""So many days ago the battery was flat for some hours."""
MUTE = range(9, 15)
"""The hours of that day without a reading."""
MIDDLE, SWING = 21.4, 2.6
"""°C: half-way between night and afternoon, and how far it goes from there."""
WARMEST = 15
"""The hour at which the bell is warmest."""

Reading = tuple[datetime, float]


def readings(today: date, rng: Random) -> Iterator[Reading]:
    """Yield (moment, °C) of ten days up to yesterday's midnight, with a gap where the battery was flat."""
    for ago in range(DAYS, 0, -1):
        day = today - timedelta(days=ago)
        cloud = rng.gauss(0, 0.35)
        at, end = (moment(one, time()).astimezone(UTC) for one in (day, day + timedelta(days=1)))
        while at < end:
            here = at.astimezone()
            if ago != MUTE_DAY or here.hour not in MUTE:
                turn = 2 * math.pi * (here.hour + here.minute / 60 - WARMEST) / 24
                yield here, round(MIDDLE + cloud + SWING * math.cos(turn) + rng.gauss(0, 0.15), 1)
            at += EVERY


def take_in(folder: Path, today: date, rng: Random) -> None:
    """Take the logger's file into the room in `folder`, as a person would, on the morning of `today`; OSError."""
    content = file_of(readings(today, rng))
    file = read_logger_file(Path(FILE), content)
    when, what = file.names
    taking = Taking((when,), "ymd", (Mapped(what, QUANTITY, "", STATION),))
    records = Records.open(folder, today)
    take_in_file(file, content, taking, records, folder, moment(today, time()))
    remember(folder, file.names, taking)
    records.close()


def file_of(read: Iterable[Reading]) -> bytes:
    """Return the file as the logger writes it: each moment by its clock, with the clock's offset."""
    rows = (f"{at.isoformat(sep=' ', timespec='minutes')},{value:.1f}" for at, value in read)
    return "\n".join([f"time,{QUANTITY} [{UNIT}]", *rows, ""]).encode()
