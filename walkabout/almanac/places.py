"""How many places are free at each station, day by day, as the plantings stand and are expected to go."""

from collections.abc import Iterator, Mapping
from datetime import date

from walkabout.almanac.model import Basis, Course
from walkabout.almanac.reached import thins
from walkabout.growing.crops import Crop
from walkabout.records.sums import stood

RAISES = "shelf"
"""The kind of station that seedlings leave: they are expected to be gone from it by the late day of moving on."""


def free(basis: Basis, courses: Mapping[str, Course], first: date, last: date) -> dict[str, list[int | None]]:
    """Return the free places of each station on each day from `first` to `last`, both included.

    None on every day where room.toml does not say how many places there are. Never below 0. Where a seedling goes
    from a shelf is not known before it goes: it takes a place at no other station until then.
    """
    days = max((last - first).days + 1, 0)
    steps = {one.key: [0] * (days + 1) for one in basis.room.stations if one.places is not None}
    for course in courses.values():
        for station, begin, end, count in _takes(course, basis):
            if station in steps:
                steps[station][min(max((begin - first).days, 0), days)] += count
                until = days if end is None else min(max((end - first).days, 0), days)
                steps[station][until] -= count
    found: dict[str, list[int | None]] = {}
    for one in basis.room.stations:
        if one.places is None:
            found[one.key] = [None] * days
            continue
        taken, row = 0, []
        for step in steps[one.key][:days]:
            taken += step
            row.append(max(one.places - taken, 0))
        found[one.key] = list(row)
    return found


def leaves(course: Course, basis: Basis) -> date | None:
    """Return the first day on which its place is free again, or None where it stays.

    Microgreens and crops that are thinned stay where they are; others leave a shelf when they are moved on.
    """
    planting = course.planting
    if planting.ended is not None:
        return planting.ended
    station, crop = basis.room.station(planting.station), basis.crop(planting)
    on = course.stage("move_on")
    if station is not None and station.kind == RAISES and on is not None and on.reached is None and _goes(crop):
        return _after(on.span.late)
    return _after(course.until) if course.until is not None else None


def _goes(crop: Crop | None) -> bool:
    return crop is not None and crop.group != "microgreen" and not thins(crop)


def _takes(course: Course, basis: Basis) -> Iterator[tuple[str, date, date | None, int]]:
    """Yield (station, first day, first day free again, plants) for each of its stays.

    What was lost or picked meanwhile has left at the end of the stay, not before: a place is not sown again in
    between (assumed). Where it stands now, what stands now counts.
    """
    planting = course.planting
    for place, move in enumerate(planting.moves):
        if place + 1 < len(planting.moves):
            yield move.station, move.day, planting.moves[place + 1].day, stood(planting, move.day)
        else:
            yield move.station, move.day, leaves(course, basis), planting.count


def _after(day: date) -> date:
    return date.fromordinal(day.toordinal() + 1)
