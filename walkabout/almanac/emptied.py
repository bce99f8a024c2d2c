"""Which stations the closures ahead leave harvested, clean and dry: nothing is to be done there from then on."""

from collections.abc import Mapping
from datetime import date

from walkabout.almanac.endurance import is_emptied
from walkabout.almanac.model import Basis, Course
from walkabout.room.calendar import day_before, next_day


def emptied(basis: Basis, courses: Mapping[str, Course], until: date) -> dict[str, date]:
    """Return station -> the last open day before the closure that ends what grows there, of those up to `until`.

    It holds until something is planted there again.
    """
    room = basis.room
    found: dict[str, date] = {}
    for one in sorted(room.closures, key=lambda one: one.first):
        if one.first <= basis.today or one.first > until:
            continue
        leaving, back = day_before(room, one.first), next_day(room, one.last)
        if leaving < basis.today:
            continue
        away = float((back - leaving).days)
        for station in room.stations:
            if station.key not in found and is_emptied(station, basis, courses, leaving, away):
                found[station.key] = leaving
    return found
