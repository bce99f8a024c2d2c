"""What stands in a place, as far as standing jobs ask: its things, its lamps, its plantings."""

from collections.abc import Iterator

from msgspec import Struct

from walkabout.almanac.model import Basis
from walkabout.checklist.model import Checklist, Needs
from walkabout.growing.crops import Crop
from walkabout.records.model import Planting
from walkabout.room.model import WHOLE_ROOM, Lamp


class Place(Struct, frozen=True, kw_only=True):
    """A station, or the room as a whole, as far as needs ask."""

    key: str
    kit: frozenset[str]
    pumps: frozenset[str]
    lamps: dict[str, Lamp]
    tank: str
    plantings: tuple[Planting, ...]
    ended: tuple[Planting, ...] = ()


def places(basis: Basis) -> Iterator[tuple[Place, Checklist]]:
    """Yield every station that has a checklist, and then the room as a whole, each with it."""
    room = basis.room
    standing: dict[str, list[Planting]] = {}
    ended: dict[str, list[Planting]] = {}
    for planting in basis.plantings:
        (standing if planting.ended is None else ended).setdefault(planting.station, []).append(planting)
    for station in room.stations:
        checklist = basis.checklists.get(station.kind)
        if checklist is not None:
            yield (
                Place(
                    key=station.key,
                    kit=frozenset((*station.kit, *room.kit)),
                    pumps=frozenset(room.pumps[key].moves for key in station.pumps if key in room.pumps),
                    lamps={key: room.lamps[key] for key in station.lamps if key in room.lamps},
                    tank=station.tank if station.tank in room.tanks else "",
                    plantings=tuple(standing.get(station.key, ())),
                    ended=tuple(ended.get(station.key, ())),
                ),
                checklist,
            )
    whole = basis.checklists.get(WHOLE_ROOM)
    if whole is not None:
        kit = frozenset((*room.kit, *(item for station in room.stations for item in station.kit)))
        pumps = frozenset(pump.moves for pump in room.pumps.values())
        yield (
            Place(key=WHOLE_ROOM, kit=kit, pumps=pumps, lamps=room.lamps, tank="", plantings=basis.standing),
            whole,
        )


def has(needs: Needs, place: Place) -> bool:
    """Say whether the things that a job needs are there; its plants are another matter."""
    return (
        (not needs.kit or any(item in place.kit for item in needs.kit))
        and (not needs.lamps or any(lamp.kind in needs.lamps for lamp in place.lamps.values()))
        and (not needs.lamp or bool(place.lamps))
        and (needs.pump is None or needs.pump in place.pumps)
        and (not needs.tank or bool(place.tank))
    )


def asks_for_plants(needs: Needs) -> bool:
    """Say whether a job is about plants."""
    ages = needs.younger_than is not None or needs.older_than is not None
    return bool(needs.plants or needs.groups or needs.crops or ages)


def fits(planting: Planting, needs: Needs, basis: Basis) -> bool:
    """Say whether this planting is one of those that a job is about."""
    crop: Crop | None = basis.crop(planting) if needs.groups or needs.crops else None
    age = (basis.today - planting.sown).days
    return (
        (not needs.groups or (crop is not None and crop.group in needs.groups))
        and (not needs.crops or (crop is not None and crop.key in needs.crops))
        and (needs.younger_than is None or age < needs.younger_than)
        and (needs.older_than is None or age >= needs.older_than)
    )
