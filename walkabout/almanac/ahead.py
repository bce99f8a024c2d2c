"""What the dates say about the days to come: closures, moves, harvests, the end of a quarantine."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from msgspec import Struct

from walkabout.growing.crops import Crop, Crops
from walkabout.records.model import Planting
from walkabout.room.calendar import day_before, next_day
from walkabout.room.model import Room


class Ahead(Struct, frozen=True, order=True):
    """One thing that comes, on which day; `warns` when something must be done before."""

    day: date
    says: str
    warns: bool = False


def ahead(room: Room, plantings: Iterable[Planting], crops: Crops, today: date, days: int = 21) -> list[Ahead]:
    """Return what comes within so many days, the nearest first."""
    found: list[Ahead] = []
    for closure in room.closures:
        name = closure.name or "closure"
        back = next_day(room, closure.last)
        if closure.first <= today <= closure.last and back <= today + timedelta(days=days):
            found.append(Ahead(back, f"{name} is over; first round on {back:%A} {back.day} {back:%b}"))
        if today < closure.first <= today + timedelta(days=days):
            last = day_before(room, closure.first)
            found.append(
                Ahead(closure.first, f"{name} begins; last round on {last:%A} {last.day} {last:%b}", warns=True)
            )
    for planting in plantings:
        crop = crops.find(planting.crop)
        if planting.ended is None:
            found += [one for one in _of(planting, crop, today) if one.day <= today + timedelta(days=days)]
    return sorted(found)


def _of(planting: Planting, crop: Crop | None, today: date) -> Iterator[Ahead]:
    name = crop.name if crop else planting.crop
    if planting.apart_until is not None and planting.apart_until >= today:
        yield Ahead(planting.apart_until, f"{name}: may join the others, if clean")
    if crop is None:
        return
    age = (today - planting.sown).days
    still_young = len(planting.moves) == 1 and crop.harvest is not None
    if crop.move_on is not None and still_young and age <= crop.move_on.high + 7 and not planting.brought_in:
        day = planting.sown + timedelta(days=round(crop.move_on.low))
        if day >= today - timedelta(days=round(crop.move_on.high - crop.move_on.low) + 7):
            yield Ahead(max(day, today), f"Move on {planting.count} {name}")
    if crop.harvest is not None and crop.eaten:
        day = planting.sown + timedelta(days=round(crop.harvest.low))
        if day >= today:
            plants = f"{planting.count} plant{'s' if planting.count != 1 else ''}"
            yield Ahead(day, f"{name}: first harvest from about now ({plants})")
