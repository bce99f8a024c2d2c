"""What the dates say about the days to come: closures, moves, harvests, the end of a quarantine."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta
from math import floor

from msgspec import Struct

from walkabout.almanac.model import Conditions
from walkabout.almanac.pace import Learned
from walkabout.almanac.reached import reached, stages_of, thins
from walkabout.almanac.way import Paces, overdue, toward
from walkabout.growing.counting import counted, sown_words
from walkabout.growing.crops import Crop, Crops
from walkabout.records.model import Planting
from walkabout.room.calendar import day_before, next_day
from walkabout.room.model import Room


class Ahead(Struct, frozen=True, order=True):
    """One thing that comes, on which day; `warns` when something must be done before."""

    day: date
    says: str
    warns: bool = False


def ahead(
    room: Room,
    plantings: Iterable[Planting],
    crops: Crops,
    today: date,
    days: int = 21,
    *,
    conditions: Mapping[str, Conditions] | None = None,
    learned: Mapping[str, Learned] | None = None,
) -> list[Ahead]:
    """Return what comes within so many days, the nearest first.

    `conditions` by station and `learned` by crop, as far as known: the same days as the almanac's come of the same.
    """
    found: list[Ahead] = []
    until = today + timedelta(days=days)
    for closure in room.closures:
        name = closure.name or "closure"
        if closure.first <= today <= closure.last:
            back = next_day(room, closure.last)
            if back <= until:
                found.append(Ahead(back, f"{name} is over; first round on {back:%A} {back.day} {back:%b}"))
        if today < closure.first <= until:
            last = day_before(room, closure.first)
            found.append(
                Ahead(closure.first, f"{name} begins; last round on {last:%A} {last.day} {last:%b}", warns=True)
            )
    paces = Paces(conditions or {}, learned or {})
    for planting in plantings:
        if planting.ended is None:
            crop = crops.find(planting.crop)
            found += [one for one in _of(planting, crop, today, until, paces) if one.day <= until]
    return sorted(found)


def _of(planting: Planting, crop: Crop | None, today: date, until: date, paces: Paces) -> Iterator[Ahead]:
    name = crop.name if crop else planting.crop
    if planting.apart_until is not None and planting.apart_until >= today:
        yield Ahead(planting.apart_until, f"{name}: may join the others, if clean")
    if crop is None or crop.harvest is None:
        return
    done, has = reached(planting, crop), stages_of(crop)
    if "move_on" in has and not {"move_on", "harvest"} & done.keys() and not planting.brought_in:
        day = _from(planting, crop, today, until, paces, moving=True)
        if day is not None:
            yield Ahead(day, f"{'Thin' if thins(crop) else 'Move on'} {sown_words(planting.count, crop, name)}")
    if "harvest" in has and "harvest" not in done:
        day = _from(planting, crop, today, until, paces, moving=False)
        if day is not None:
            when = "now" if day <= today else "this day"
            yield Ahead(day, f"{name}: first harvest from about {when} ({counted(planting.count, crop)})")


def _from(planting: Planting, crop: Crop, today: date, until: date, paces: Paces, *, moving: bool) -> date | None:
    """Return the early day of a stage, today once that has passed.

    The early day as reckoned at sowing: given that it has not come yet it would move on with every day. None where
    it lies far off, or is so long past that it must have come.
    """
    table = crop.move_on if moving else crop.harvest
    if table is not None and planting.sown + timedelta(days=round(table.low * _SOONEST)) > until:
        return None
    way = toward(planting, crop, "move_on" if moving else "harvest", paces)
    if way is None or overdue(planting, way, today):
        return None
    return max(planting.sown + timedelta(days=floor(round(way.within(0.1), 1))), today)


_SOONEST = 0.2
"""No stage comes within this share of its first day in the table: it is not even reckoned."""
