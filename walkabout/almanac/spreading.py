"""What is to be done before a closure, spread over the last open days, so that not all of it falls on the last one."""

from collections.abc import Iterable, Sequence
from datetime import date

import msgspec

from walkabout.almanac.before_leaving import CHANGE, HARVEST, WASH, Step
from walkabout.almanac.model import Basis, Standing
from walkabout.room.calendar import day_before


def spread(
    some: Iterable[tuple[int, Step]], basis: Basis, leaving: date, standing: Sequence[Standing]
) -> list[tuple[int, Step]]:
    """Return the steps on their days; with each stands the place of its station among the stations.

    What may be done earlier goes on the last day that has room for it beside what stands there, standing jobs
    counted in; where all are full, on the one with the least work. A station is washed on the day of its harvest,
    or after.
    """
    load = _load(standing, leaving)
    waiting: list[tuple[int, Step]] = []
    found: list[tuple[int, Step]] = []
    for place, step in some:
        (waiting if step.early else found).append((place, step))
    for _, step in found:
        if step.turn != CHANGE:  # it stands among the standing jobs already
            load[step.day] = load.get(step.day, 0.0) + step.before.minutes
    harvested: dict[int, date] = {}
    for place, step in sorted(waiting, key=lambda one: (one[1].turn not in (HARVEST, WASH), one[1].turn, one[0])):
        days = _days(basis, leaving, step.early)
        if step.turn == WASH:
            days = [day for day in days if day >= harvested.get(place, days[-1])]
        minutes = step.before.minutes
        fits = (day for day in days if load.get(day, 0.0) + minutes <= basis.room.work_minutes)
        day = next(fits, None) or min(days, key=lambda one: load.get(one, 0.0))
        load[day] = load.get(day, 0.0) + minutes
        if step.turn == HARVEST:
            harvested[place] = max(day, harvested.get(place, day))
        before = msgspec.structs.replace(step.before, day=day)
        found.append((place, msgspec.structs.replace(step, day=day, before=before)))
    return sorted(found, key=lambda one: (one[1].day, one[1].turn, one[0]))


def _load(standing: Sequence[Standing], leaving: date) -> dict[date, float]:
    found: dict[date, float] = {}
    for one in standing:
        if one.day <= leaving and not one.asked:
            found[one.day] = found.get(one.day, 0.0) + one.minutes
    return found


def _days(basis: Basis, leaving: date, early: int) -> list[date]:
    """Return the last open days, the last one first: it, and so many before it that are not over."""
    days = [leaving]
    while len(days) <= early and (day := day_before(basis.room, days[-1])) >= basis.today:
        days.append(day)
    return days
