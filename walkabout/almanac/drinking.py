"""What the plants of a station drink on each day of a closure: litres, day by day, as they grow.

The crop table's litres are an estimate; what the tank has shown lately takes its place little by little.
"""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from msgspec import Struct

from walkabout.almanac.model import Basis, Conditions, Course
from walkabout.growing import water_use as of
from walkabout.growing.crops import Crop
from walkabout.records.model import Planting

OTHERWISE: Mapping[str, float] = {"microgreen": 0.2, "succulent": 0.002}
"""Group -> litres a day where the crop table has no figure: a tray of 25 by 50 cm at 1.8 L/m², a pot of a plant that
stores water (both assumed)."""
UNKNOWN = 0.1
"""Litres a day for a plant of which nothing is known: a full-grown lettuce's (assumed)."""
CLOSED_BY: Mapping[str, float] = {"leafy": 2 / 3, "herb": 2 / 3}
"""Group -> after which part of the way to its harvest a plant drinks like a full-grown one: leaves spaced for eating
meet well before they are cut, and water goes with the leaf cover (assumed). The others: at the harvest."""


class Drinking(Struct, frozen=True):
    """What is drunk on each day, the first day first."""

    daily: tuple[float, ...]
    """Litres."""
    margin: float
    """How far off it may well be: 0.3 is ±30 %."""
    thirstiest: tuple[float, ...]
    """Litres of the one plant that drinks most, day by day."""
    working: tuple[str, ...]


class _Way(Struct, frozen=True):
    """How one plant of a planting drinks: a seedling, then from `begins` a straight line to `full`."""

    count: int
    seedling: float
    young: float
    mature: float
    begins: int
    full: int
    times: float
    """What light and dry air make of it."""

    def over(self, first: int, days: int) -> list[float]:
        """Return the litres of one plant on each of so many days from `first` (an ordinal) on."""
        small = min(max(self.begins - first, 0), days)
        grown = min(max(first + days - max(self.full, first), 0), days - small)
        young, mature = self.young * self.times, self.mature * self.times
        step = (mature - young) / max(self.full - self.begins, 1)
        rising = range(first + small - self.begins, first + days - grown - self.begins)
        return [*[self.seedling * self.times] * small, *(young + step * day for day in rising), *[mature] * grown]


def drinking(
    plantings: Iterable[Planting], basis: Basis, courses: Mapping[str, Course], first: date, days: int, tank: str = ""
) -> Drinking:
    """Return what these plantings drink on `days` days from `first` on.

    With a `tank` they are all that drink from it: what it lost lately is blended with the crop table's estimate as
    growing.water_use.blend has it, and both grow as the plants do.
    """
    ways = [_way(one, basis, courses.get(one.key)) for one in plantings if one.count > 0]
    rows = [(way.count, way.over(first.toordinal(), days)) for way in ways]
    daily = [sum(count * row[day] for count, row in rows) for day in range(days)]
    thirstiest = [max((row[day] for _, row in rows), default=0.0) for day in range(days)]
    plants, litres = sum(way.count for way in ways), in_litres(daily[0]) if daily else "0"
    working = [f"{plants} plant{'s' if plants != 1 else ''}: {litres} L on the first day, by the crop table"]
    seen, margin, level = basis.tanks.get(tank) if tank else None, of.ESTIMATE_MARGIN, 1.0
    if seen is not None and seen.used is not None:
        estimate = sum(way.count * way.over(basis.today.toordinal(), 1)[0] for way in ways)
        learned = of.Learned(per_day=seen.used, spread=0.0, falls=seen.falls)
        now, margin = of.blend(estimate, learned)
        if estimate > 0:
            level = now / estimate
            daily = [one * level for one in daily]
            thirstiest = [one * level for one in thirstiest]
        lately = f"{in_litres(seen.used)} L a day lately, from {seen.falls} top-up{'s' if seen.falls != 1 else ''}"
        working.append(f"the tank lost {lately}: counted as {in_litres(now)} L today")
    working.append(f"margin ±{100 * margin:.0f} %")
    return Drinking(tuple(daily), margin, tuple(thirstiest), tuple(working))


def _way(planting: Planting, basis: Basis, course: Course | None) -> _Way:
    crop, sown = basis.crop(planting), planting.sown.toordinal()
    if crop is None or crop.water_mature is None:
        each = OTHERWISE.get(crop.group, UNKNOWN) if crop is not None else UNKNOWN
        return _Way(planting.count, each, each, each, sown, sown, 1.0)
    young, mature = crop.water_young.value if crop.water_young else None, crop.water_mature.value
    begins, full = _growing(crop, planting, course)
    return _Way(
        count=planting.count,
        seedling=of.seedling(young, mature),
        young=of.each_plant(young, mature, 0),
        mature=mature,
        begins=begins,
        full=full,
        times=_moved(crop, basis.conditions.get(planting.station)),
    )


def _growing(crop: Crop, planting: Planting, course: Course | None) -> tuple[int, int]:
    """Return from which day it drinks as a young plant, and from which as a full-grown one (ordinals)."""
    sown = planting.sown.toordinal()
    begins = _reached(course, "move_on")
    if begins is None:
        begins = sown + (round((crop.move_on.low + crop.move_on.high) / 2) if crop.move_on else 0)
    ready = _reached(course, "harvest")
    if ready is None:
        ready = sown + round((crop.harvest.low + crop.harvest.high) / 2) if crop.harvest else begins
    ready = max(ready, begins)
    return begins, begins + round((ready - begins) * CLOSED_BY.get(crop.group, 1.0))


def _reached(course: Course | None, stage: str) -> int | None:
    found = course.stage(stage) if course is not None else None  # type: ignore[arg-type]
    return (found.reached or found.span.likely).toordinal() if found is not None else None


def _moved(crop: Crop, conditions: Conditions | None) -> float:
    """Return what the station's light and dry air make of the table's figure."""
    if conditions is None:
        return 1.0
    usual = (crop.light.low + crop.light.high) / 2
    light = (min(max(conditions.light, 0.0), 100.0), usual) if conditions.light is not None else None
    dry = (min(max(conditions.vpd, 0.0), 100.0), of.VPD_REFERENCE) if conditions.vpd is not None else None
    return of.factor(light, dry)


def days_until(daily: tuple[float, ...], litres: float, times: float = 1.0) -> float | None:
    """Return after how many days `litres` are drunk at `times` the daily amounts; None when they outlast the days."""
    left = litres
    for day, amount in enumerate(daily):
        drunk = amount * times
        if drunk > 0 and drunk >= left:
            return day + max(left, 0.0) / drunk
        left -= drunk
    return None


def by_the_lamp(days: float, lit: float, begins: float) -> float:
    """Return the same days with the part of the last one told by light and dark: in the dark a plant drinks a fifth.

    `lit` hours of light a day, `begins` the hour of a day's count at which the lamp comes on (negative: it is on).
    """
    whole, share = int(days), days - int(days)
    if share <= 0 or lit <= 0 or lit >= 24:
        return days
    hours = [1.0 if (hour - begins) % 24 < lit else DARK for hour in range(24)]
    left = share * sum(hours)
    for hour, weight in enumerate(hours):
        if weight >= left:
            return whole + (hour + left / weight) / 24
        left -= weight
    return whole + 1.0


DARK = 0.2
"""What a plant drinks in an hour of darkness, against one in the light (assumed)."""


def dimmed(lit: float) -> float:
    """Return what half the hours of light leave of a day's drinking, with the dark hours at a fifth."""
    return (lit / 2 + DARK * (24 - lit / 2)) / (lit + DARK * (24 - lit))


def later(first: date, days: float) -> date:
    """Return the day that lies whole `days` after `first`, rounded down."""
    return first + timedelta(days=int(days))


def in_litres(litres: float) -> str:
    """Say litres with no more figures than they deserve: '0.36', '3.6', '36'."""
    return f"{litres:.2g}" if litres < 10 else f"{litres:.0f}"
