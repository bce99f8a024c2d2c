"""Which batches could be sown: on which open day, where they stand and until when, and which weeks they serve.

A batch is sown on a shelf, moved on to its station on an open day, and is picked on an open day on which it is
ready with nine chances in ten and still good. How many plants it has is left open here.
"""

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from math import ceil, floor

from msgspec import Struct

from walkabout.almanac.model import Basis
from walkabout.almanac.pace import Learned, Wait, wait
from walkabout.almanac.sowing_grounds import Grounds
from walkabout.almanac.wanted import Wanted, Week, keeps, picked_again
from walkabout.almanac.work_back import SURE
from walkabout.growing.crops import Crop
from walkabout.room.calendar import is_walked
from walkabout.room.model import Station

LATE = 7
"""Days that seedlings may wait on the shelf beyond their usual day because nobody comes. Assumed."""
ALL_DAYS = 300
"""Up to so many batches every open day of sowing is tried; beyond, for each week the last day that still does and
a few first days of a week: so that a year is planned in seconds."""
FEW = 3
"""How many first days of a week are tried then."""


class Stay(Struct, frozen=True):
    """A batch stands at a station, from the first to the last day, both included."""

    station: str
    first: date
    last: date


class Batch(Struct, frozen=True, kw_only=True):
    """One way to sow."""

    sown: date
    shelf: str
    """Where it is sown; empty when it is sown at its station."""
    moves_on: date | None
    station: str
    likely: date
    """As often as not it is ready by then."""
    ready: date
    stays: tuple[Stay, ...]
    weeks: tuple[int, ...]
    """The numbers of the weeks that it serves: one where plants are picked whole."""

    @property
    def place_days(self) -> int:
        """For how many days one plant of it takes a place."""
        return sum((one.last - one.first).days + 1 for one in self.stays)


class _Line(Struct, frozen=True):
    """A way through the room: shelf (None: in place), station, and the days that it takes there."""

    shelf: Station | None
    station: Station
    moves: Wait | None
    on_shelf: Wait
    harvest: Wait


def batches(
    crop: Crop,
    wanted: Wanted,
    weeks: Sequence[Week],
    where: Grounds,
    basis: Basis,
    learned: Mapping[str, Learned],
) -> tuple[list[Batch], bool]:
    """Return the batches that could serve at least one week, and whether these are all that there are.

    Where there would be too many they are thinned out.
    """
    days = _open_days(basis, wanted.last)
    found = [one for line in _lines(crop, where, basis, learned) for one in _on_line(line, crop, wanted, weeks, days)]
    every = len(found) <= ALL_DAYS
    return (found if every else _thinned(found, days)), every


def earliest(
    crop: Crop, where: Grounds, basis: Basis, learned: Mapping[str, Learned], until: date
) -> tuple[date, date] | None:
    """Return the first open day, and the day by which what is sown then is ready; None without any until then."""
    days = _open_days(basis, until)
    ready = [
        found[2] for line in _lines(crop, where, basis, learned) for found in (_way(line, days[0], days),) if found
    ]
    return (days[0], min(ready)) if days and ready else None


def waits(crop: Crop, where: Grounds, basis: Basis, learned: Mapping[str, Learned]) -> list[tuple[Station, Wait]]:
    """Return how long the crop takes from sowing to harvest at each station."""
    return [(one.station, one.harvest) for one in _lines(crop, where, basis, learned)]


def _lines(crop: Crop, where: Grounds, basis: Basis, learned: Mapping[str, Learned]) -> Iterator[_Line]:
    for station in where.stations:
        harvest = wait(crop, basis.conditions.get(station.key), "harvest", learned)
        if harvest is None:
            continue
        shelves = [one for one in where.shelves if one.key != station.key]
        for shelf in shelves if station.kind != "shelf" else ():
            there = basis.conditions.get(shelf.key)
            moves, on_shelf = wait(crop, there, "move_on", learned), wait(crop, there, "harvest", learned)
            if moves is not None and on_shelf is not None:
                yield _Line(shelf, station, moves, on_shelf, harvest)
        if not shelves or station.kind == "shelf":
            yield _Line(None, station, None, harvest, harvest)


def _on_line(line: _Line, crop: Crop, wanted: Wanted, weeks: Sequence[Week], days: Sequence[date]) -> Iterator[Batch]:
    again, held = picked_again(crop, wanted), timedelta(days=floor(keeps(crop).days))
    for sown in days:
        way = _way(line, sown, days)
        if way is None:
            continue
        moves_on, likely, ready = way
        good = min(ready + held, wanted.last)
        picked = [(at, when) for at, week in enumerate(weeks) if (when := _picking(week, ready, good)) is not None]
        if not picked:
            continue
        if again:
            served = tuple(at for at, _ in picked)
            yield _batch(line, sown, moves_on, likely, ready, good, served)
        else:
            for at, when in picked:
                yield _batch(line, sown, moves_on, likely, ready, when, (at,))


def _batch(
    line: _Line, sown: date, moves_on: date | None, likely: date, ready: date, last: date, weeks: tuple[int, ...]
) -> Batch:
    before = () if line.shelf is None or moves_on is None else (
        Stay(line.shelf.key, sown, moves_on - timedelta(days=1)),
    )  # fmt: skip
    return Batch(
        sown=sown,
        shelf=line.shelf.key if line.shelf else "",
        moves_on=moves_on,
        station=line.station.key,
        likely=likely,
        ready=ready,
        stays=(*before, Stay(line.station.key, moves_on or sown, last)),
        weeks=weeks,
    )


def _picking(week: Week, ready: date, good: date) -> date | None:
    """Return the first open day of a week on which a batch can be picked."""
    if week.last < ready or week.first > good:
        return None
    return next((one for one in week.open if ready <= one <= good), None)


def _way(line: _Line, sown: date, days: Sequence[date]) -> tuple[date | None, date, date] | None:
    """Return when a batch moves on, and by when it is ready: as often as not, and nine times in ten."""
    if line.moves is None:
        return None, _after(sown, line.harvest.median), _after(sown, line.harvest.within(SURE))
    moves_on = _moving(sown, line.moves, days)
    if moves_on is None:
        return None
    passed = (moves_on - sown).days
    likely = _grown(passed, line.on_shelf.median, line.harvest.median)
    sure = _grown(passed, line.on_shelf.within(SURE), line.harvest.within(SURE))
    return moves_on, _after(sown, likely), _after(sown, sure)


def _grown(passed: int, on_shelf: float, there: float) -> float:
    """Return the days from sowing to harvest when the first ones pass on the shelf: each counts its share there."""
    return passed + max(1 - passed / on_shelf, 0.0) * there


def _moving(sown: date, moves: Wait, days: Sequence[date]) -> date | None:
    """Return the open day on which seedlings are moved on: the next one, or an earlier one when that is too late."""
    usual = _after(sown, moves.median)
    at = bisect_left(days, usual)
    if at < len(days) and (days[at] - usual).days <= LATE:
        return days[at]
    soonest = sown + timedelta(days=max(ceil(moves.within(1 - SURE)), 1))
    return days[at - 1] if at and days[at - 1] >= soonest else None


def _after(day: date, passed: float) -> date:
    return day + timedelta(days=max(ceil(passed - 1e-9), 1))


def _open_days(basis: Basis, last: date) -> list[date]:
    ahead = range((last - basis.today).days + 1)
    return [day for day in (basis.today + timedelta(days=one) for one in ahead) if is_walked(basis.room, day)]


def _thinned(found: Sequence[Batch], days: Sequence[date]) -> list[Batch]:
    """Return for each week and way the last day of sowing and the FEW last days that are the first of a week.

    Plants that serve many weeks are sown on first days of a week alone.
    """
    first_of_week: dict[tuple[int, int], date] = {}
    for day in days:
        first_of_week.setdefault(day.isocalendar()[:2], day)
    firsts = set(first_of_week.values())
    groups: dict[tuple[str, str, tuple[int, ...]], list[Batch]] = {}
    for one in found:
        groups.setdefault((one.shelf, one.station, one.weeks), []).append(one)
    kept: list[Batch] = []
    for group in groups.values():
        *earlier, last = sorted(group, key=lambda one: one.sown)
        kept += [*[one for one in earlier if one.sown in firsts][-FEW:], last]
    return kept
