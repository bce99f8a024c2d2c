"""The way of one planting towards one stage, through the stations it has stood in.

A day at a station counts 1 ÷ factor there, so what has been done is counted in usual days: days under the
conditions that the crop table holds for. The law of how many are needed is the same wherever it stands; the cost is
that of the moves, not of the days.
"""

from collections.abc import Mapping
from datetime import date, timedelta
from math import ceil, floor, sqrt

from msgspec import Struct

from walkabout.almanac.model import Conditions, Span, StageName
from walkabout.almanac.pace import Learned, Speed, Wait, emerges, of_table, own_factor, sigma_of, speed
from walkabout.almanac.reached import seen
from walkabout.growing.crops import Crop
from walkabout.records.model import Planting

LEAST_REST = 0.1
"""When less of the way than this is left, seeing an earlier stage says nothing more about the later one. Assumed."""

WIDEST = 1.0
"""No spread of what is left is wider than this. Assumed."""


GIVEN_UP = 7
"""A stage before harvest that is so many days past its late day has come, and nobody wrote it down. Assumed."""


class Stay(Struct, frozen=True):
    """A time at one station."""

    since: float
    """Days after sowing."""
    station: str | None
    """None where it stood before it came into the room."""


class Way(Struct, frozen=True):
    """Towards one stage. Days are counted from sowing."""

    law: Wait
    """The usual days needed from `start` on."""
    legs: tuple[tuple[float, float], ...]
    """(days after sowing, factor) for each stay, the first at 0; the last has no end."""
    start: float = 0.0
    """The day from which on `law` counts: 0, or that of an earlier stage that somebody saw."""

    def usual(self, days: float) -> float:
        """Return how many usual days have gone by from `start` until so many days after sowing."""
        done = 0.0
        for place, (since, factor) in enumerate(self.legs):
            until = self.legs[place + 1][0] if place + 1 < len(self.legs) else days
            begin, end = max(since, self.start), min(until, days)
            if end > begin:
                done += (end - begin) / factor
        return done

    def days(self, usual: float) -> float:
        """Return how many days after sowing so many usual days have gone by since `start`."""
        left = usual
        for place, (since, factor) in enumerate(self.legs):
            begin = max(since, self.start)
            until = self.legs[place + 1][0] if place + 1 < len(self.legs) else None
            if until is None or begin + left * factor <= until:
                return begin + left * factor
            left -= max(until - begin, 0.0) / factor
        return self.start + left

    def by(self, days: float, passed: float | None = None) -> float:
        """Return the chance that the stage comes within so many days.

        `passed`: it is known that it has not come after so many.
        """
        if passed is None:
            return self.law.by(self.usual(days))
        return self.law.after(self.usual(passed)).by(self.usual(days))

    def within(self, p: float, passed: float | None = None) -> float:
        """Return the days within which the stage comes with chance `p`; `passed` as in `by`."""
        if passed is None:
            return self.days(self.law.within(p))
        return max(self.days(self.law.after(self.usual(passed)).within(p)), passed)


class Paces:
    """What each station makes of each crop, reckoned once and kept."""

    def __init__(self, conditions: Mapping[str, Conditions], learned: Mapping[str, Learned]) -> None:
        """`conditions` by station, `learned` by the crop's key."""
        self._conditions = conditions
        self._learned = learned
        self._speeds: dict[tuple[str, str | None, bool], Speed] = {}
        self._tables: dict[tuple[str, StageName], Wait | None] = {}

    def conditions(self, station: str | None) -> Conditions | None:
        """Return what a station offers, or None where nothing is known of it."""
        return self._conditions.get(station) if station is not None else None

    def own(self, crop: Crop) -> Learned:
        """Return what the room has learned of a crop."""
        return own_factor(crop, self._learned)

    def speed(self, crop: Crop, station: str | None, stage: StageName) -> Speed:
        """Return what a station makes of a crop's days to a stage."""
        key = (crop.key, station, stage == "move_on")
        if key not in self._speeds:
            self._speeds[key] = speed(crop, self.conditions(station), stage)
        return self._speeds[key]

    def table(self, crop: Crop, stage: StageName) -> Wait | None:
        """Return the days of the crop table as a law."""
        key = (crop.key, stage)
        if key not in self._tables:
            self._tables[key] = of_table(crop, stage)
        return self._tables[key]


def stays(planting: Planting) -> tuple[Stay, ...]:
    """Return where a planting stood from when on, the first from sowing on.

    What was brought in stood somewhere else before, in conditions nobody knows.
    """
    since = [max((move.day - planting.sown).days, 0) for move in planting.moves]
    found = [Stay(float(days), move.station) for days, move in zip(since, planting.moves, strict=True)]
    if found[0].since > 0:
        found.insert(0, Stay(0.0, None if planting.brought_in else found[0].station))
    return tuple(found)


def toward(planting: Planting, crop: Crop, stage: StageName, paces: Paces) -> Way | None:
    """Return the way of a planting towards a stage, or None where the table does not know it.

    Seedlings that somebody saw come up sooner or later than expected move the later stages by as much; flowers
    seen move the seed.
    """
    spent = stays(planting)
    if stage == "emergence":
        up = emerges(crop, paces.conditions(spent[0].station))
        return Way(Wait(up.median, up.sigma), ((0.0, 1.0),)) if up else None
    table = paces.table(crop, stage)
    if table is None:
        return None
    plain = _plain(spent, crop, stage, paces, table)
    if stage == "seed" and (flowers := seen(planting, "flowering")) is not None:
        return _from(plain, (flowers - planting.sown).days, toward(planting, crop, "flowering", paces))
    if (up_on := seen(planting, "germinated")) is not None and not planting.brought_in:
        return _from(plain, (up_on - planting.sown).days, toward(planting, crop, "emergence", paces))
    return plain


def _plain(spent: tuple[Stay, ...], crop: Crop, stage: StageName, paces: Paces, table: Wait) -> Way:
    """Return the way from sowing on: its spread is that of its stations, each by its share of the way."""
    own = paces.own(crop)
    here = [paces.speed(crop, stay.station, stage) for stay in spent]
    need = table.median * own.factor
    legs = tuple((stay.since, one.factor) for stay, one in zip(spent, here, strict=True))
    left, variance = need, 0.0
    for place, one in enumerate(here):
        long = (legs[place + 1][0] - legs[place][0]) / one.factor if place + 1 < len(legs) else left
        part = min(long, left)
        variance += part / need * sigma_of(table.sigma, one, own) ** 2
        left -= part
    return Way(Wait(need, sqrt(variance)), legs)


def _from(way: Way, day: int, before: Way | None) -> Way:
    """Return the way from a day on which an earlier stage was seen.

    What is left is what would have been left at its expected day. The spread of what is left, in days, shrinks with
    the root of its share, as that of independent steps does (assumed).
    """
    if before is None or day < 0:
        return way
    need = way.law.median
    rest = need - way.usual(before.within(0.5))
    if rest < LEAST_REST * need:
        return way
    return Way(Wait(rest, min(way.law.sigma * sqrt(need / rest), WIDEST)), way.legs, float(day))


def span(planting: Planting, way: Way, today: date) -> Span:
    """Return within which days a stage comes that has not come by today, in whole days: 28.99 days are 29."""
    age = (today - planting.sown).days
    early, likely, late = (way.within(p, float(age) if age > 0 else None) for p in (0.1, 0.5, 0.9))
    whole = (floor(round(early, 1)), round(likely), ceil(round(late, 1)))
    return Span(*(planting.sown + timedelta(days=max(days, age)) for days in whole))


def overdue(planting: Planting, way: Way, today: date) -> bool:
    """Say whether a stage's late day, as reckoned at sowing, is so long past that it must have come."""
    return (today - planting.sown).days > way.within(0.9) + GIVEN_UP
