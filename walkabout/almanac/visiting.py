"""On which days of a closure somebody must come: as few as keep alive what cannot last."""

from collections.abc import Sequence
from datetime import date, timedelta
from math import inf

from walkabout.almanac.lasting_words import listed
from walkabout.almanac.supply import Held, Help, lives

LEAST_BETWEEN = 3.0
"""Days: what lasts less, helped, is not saved by visits on weekdays, since a weekend lies between. Assumed."""
_SATURDAY = 5


def visits(needing: Sequence[tuple[Held, Help]], leaving: date, away: float, today: date) -> tuple[date, ...]:
    """Return the days on which somebody must come to fill and water them all, the fewest that do.

    Each is the last weekday on which what fails first is surely still alive since it was seen to last; where a
    weekend leaves no weekday in time, that day of the weekend.
    """
    found: list[date] = []
    last = 0
    while needing:
        lasts = min(lives(one, helped, last)[0] for one, helped in needing)
        if lasts == inf or last + lasts >= away:
            break
        latest = last + max(int(lasts), 1)
        if latest >= away:
            break
        days = (leaving + timedelta(days=day) for day in range(latest, last, -1))
        day = next((one for one in days if one.weekday() < _SATURDAY), leaving + timedelta(days=latest))
        found.append(day)
        last = (day - leaving).days
    return tuple(one for one in found if one >= today)


def its_own(one: Held, helped: Help, all_visits: Sequence[date], leaving: date, away: float) -> tuple[date, ...]:
    """Return those of the visits that one station needs, as late as it can wait."""
    found: list[date] = []
    last = 0
    while last + (lasts := lives(one, helped, last)[0]) < away:
        in_time = [day for day in all_visits if last < (day - leaving).days <= last + max(int(lasts), 1)]
        if not in_time:
            break
        found.append(in_time[-1])
        last = (in_time[-1] - leaving).days
    return tuple(found)


def does(one: Held) -> str:
    """Say in a few words what a visit does at a station; its name comes after: 'fill the tank of'."""
    if one.tank:
        return "fill the tank of"
    store = one.store
    if store is not None and store.water == "nothing":
        return "only look at"
    return "mist and cover" if store is not None and store.water == "air" else "water"


def doing(some: Sequence[tuple[str, str]]) -> str:
    """Say what visits do from (what, station's name): 'water A and B; fill the tank of C; only look at D'."""
    by_what: dict[str, list[str]] = {}
    for what, name in some:
        by_what.setdefault(what, []).append(name)
    return "; ".join(
        f"{what.replace('tank of', 'tanks of') if len(names) > 1 else what} {listed(names)}"
        for what, names in by_what.items()
    )
