"""Hours of readings: what files say of an hour put together to its summary, and reckoned anew without one of them."""

import math
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import msgspec

from walkabout.paper.logger_columns import QUANTITIES, BadLogger
from walkabout.paper.logger_file import read_logger_file
from walkabout.paper.logger_kept import FOLDER, Copied
from walkabout.paper.logger_read import SIGNIFICANT, Readings, Series, read_readings
from walkabout.records.model_measured import Hour


def by_hour(many: dict[float, tuple[float, int]]) -> dict[tuple[int, int], dict[float, float]]:
    """Return the readings of each hour of the wall clock: (its start in seconds since 1970, offset) -> readings."""
    hours: dict[tuple[int, int], dict[float, float]] = {}
    for at, (value, offset) in many.items():
        start = int((at + offset) // 3600 * 3600) - offset
        hours.setdefault((start, offset), {})[at] = value
    return hours


def hour_of(
    series: Series, start: int, offset: int, values: dict[float, float], source: str, files: tuple[str, ...]
) -> Hour:
    """Return the summary of an hour that begins `start` seconds after 1970, where the clock is `offset` s ahead."""
    station, quantity = series
    numbers = values.values()
    return Hour(
        key=key_of(series, start),
        station=station,
        quantity=quantity,
        start=datetime.fromtimestamp(start, timezone(timedelta(seconds=offset))),
        n=len(values),
        mean=round(math.fsum(numbers) / len(values), SIGNIFICANT),
        low=min(numbers),
        high=max(numbers),
        unit=QUANTITIES[quantity].unit,
        source=source,
        files=files,
    )


def key_of(series: Series, start: int) -> str:
    """Return the key under which an hour of a quantity at a station is on record."""
    station, quantity = series
    return f"h{datetime.fromtimestamp(start, UTC):%Y%m%d%H%M}-{station}-{quantity.replace(' ', '-')}"


def emptied(hour: Hour) -> Hour:
    """Return an hour without readings: records know no delete, so it stays and counts for nothing."""
    return msgspec.structs.replace(hour, n=0, mean=0, low=0, high=0, source="", files=())


def without(hour: Hour, copy: str, others: "Others") -> Hour | None:
    """Return an hour reckoned anew from its other files; None when one of them cannot be read any more."""
    values: dict[float, float] = {}
    left: list[str] = []
    start = int(hour.start.timestamp())
    series = (hour.station, hour.quantity)
    for name in hour.files:
        if name != copy:
            theirs = others.hour(name, series, start)
            if theirs is None:
                return None
            left += [name] if theirs else []
            values = {**theirs, **values}
    if not values:
        return emptied(hour)
    ahead = hour.start.utcoffset() or timedelta(0)
    return hour_of(series, start, int(ahead.total_seconds()), values, others.name_of(left[-1]), tuple(left))


class Others:
    """The readings of files that were taken in before, each read again at most once."""

    def __init__(self, room_folder: Path, known: dict[str, Copied]) -> None:
        self._folder = room_folder / FOLDER
        self._known = known
        self._read: dict[str, dict[Series, dict[int, dict[float, float]]] | None] = {}
        self.gone: set[str] = set()

    def hour(self, name: str, series: Series, start: int) -> dict[float, float] | None:
        """Return what a file has of one hour; None when it cannot be read any more."""
        if name not in self._read:
            self._read[name] = self._again(name)
        found = self._read[name]
        return None if found is None else found.get(series, {}).get(start, {})

    def name_of(self, copy: str) -> str:
        """Return the own name of a file, by that of its copy."""
        return self._known[copy].name if copy in self._known else copy

    def _again(self, name: str) -> dict[Series, dict[int, dict[float, float]]] | None:
        try:
            path = self._folder / name
            file = read_logger_file(path, path.read_bytes())
            merged: Readings = {}
            for taking in self._known[name].takings:
                for series, many in read_readings(file, taking).readings.items():
                    merged[series] = {**many, **merged.get(series, {})}
        except (OSError, KeyError, BadLogger):
            self.gone.add(name)
            return None
        return {
            series: {start: values for (start, _), values in by_hour(many).items()} for series, many in merged.items()
        }
