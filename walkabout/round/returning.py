"""The first round after a closure: what the days away have done, by the almanac's forecast."""

from datetime import date, timedelta
from typing import TYPE_CHECKING

import msgspec

from walkabout.almanac.model import Forecast
from walkabout.round.held import Held

if TYPE_CHECKING:
    from walkabout.almanac.model import Basis


def forecast_of(opened: Held, first: date, last: date, name: str = "") -> Forecast:
    """Return how the room goes through a closure; ValueError when it ends before it begins."""
    from walkabout.almanac.closure import forecast, named_closure  # noqa: PLC0415 - a usual round asks for none
    from walkabout.almanac.course import courses  # noqa: PLC0415
    from walkabout.almanac.learned import learned  # noqa: PLC0415
    from walkabout.almanac.promises import foresee  # noqa: PLC0415
    from walkabout.almanac.standing import standing  # noqa: PLC0415
    from walkabout.round.almanac import basis_of  # noqa: PLC0415

    basis = basis_of(opened)
    known = learned(basis)
    all_courses = courses(basis, known)
    promises = [foresee(one, basis, all_courses, known) for one in basis.promises if one.closed is None]
    jobs = standing(basis, last, all_courses)
    return forecast(first, last, name or named_closure(basis, first, last), basis, all_courses, promises, jobs)


def run_dry(opened: Held, last_walked: date) -> dict[str, str]:
    """Return station -> why it is asked first today: by the forecast it has come to the end of what it holds.

    The stations that failed first stand first. What was filled on the day of leaving counts as filled.
    """
    from walkabout.almanac.course import courses  # noqa: PLC0415 - a usual round asks for none
    from walkabout.almanac.endurance import lasting  # noqa: PLC0415
    from walkabout.round.almanac import basis_of  # noqa: PLC0415

    basis = _as_left(basis_of(opened), last_walked)
    all_courses = courses(basis)
    away = (opened.today() - last_walked).days
    found: list[tuple[float, str, str]] = []
    for station in basis.room.stations:
        one = lasting(station, basis, all_courses, last_walked, away)
        checklist = basis.checklists.get(station.kind)
        told = station.tank in basis.room.tanks or (checklist is not None and checklist.store is not None)
        if one.days is None or one.days >= away or not told:
            continue
        has = "has" if one.likely is not None and one.likely < away else "may have"
        day = last_walked + timedelta(days=int(one.days))
        when = f"{day:%A} {day.day} {day:%B}"
        why = f"First today: by the forecast it {has} come to the end of what it holds, about {when}."
        found.append((one.days, station.key, why))
    return {key: why for _, key, why in sorted(found)}


def _as_left(basis: "Basis", last_walked: date) -> "Basis":
    """Return the basis as it was on the day of leaving: nobody has watered or filled anything since."""
    tanks = {
        key: msgspec.structs.replace(seen, topped=min(seen.topped, last_walked) if seen.topped else None)
        for key, seen in basis.tanks.items()
    }
    return msgspec.structs.replace(basis, today=last_walked, tanks=tanks)
