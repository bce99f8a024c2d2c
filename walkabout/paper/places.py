"""The room's stations and lamps as rows of a table."""

from collections.abc import Iterable
from datetime import date

import msgspec
from msgspec import Struct

from walkabout.room.model import WHOLE_ROOM, Room, Tank


class StationRow(Struct, frozen=True, kw_only=True):
    """A station, with what room.toml says of its tank."""

    key: str
    number: int | None = None
    name: str = ""
    kind: str = ""
    lamps: tuple[str, ...] = ()
    tank: str = ""
    tank_litres: float | None = None
    change_days: int | None = None
    pumps: tuple[str, ...] = ()
    kit: tuple[str, ...] = ()
    places: int | None = None
    note: str = ""
    in_room: bool = True


class LampRow(Struct, frozen=True, kw_only=True):
    """A lamp and its key."""

    key: str
    kind: str
    watts: float
    hours: float
    on: str
    gap_cm: float | None = None
    width_cm: float | None = None
    length_cm: float | None = None
    efficacy: float | None = None
    since: date | None = None
    rated_hours: float | None = None
    red_blue: bool = False
    enclosed: bool | None = None
    mark: str = ""
    note: str = ""


def station_rows(room: Room, named: Iterable[str]) -> list[StationRow]:
    """Return the stations in walking order, then the room as a whole, then what else records have `named`."""
    rows = []
    for number, station in enumerate(room.stations, 1):
        tank: Tank | None = room.tanks.get(station.tank)
        rows.append(
            StationRow(
                **msgspec.structs.asdict(station),
                number=number,
                tank_litres=tank.litres if tank else None,
                change_days=tank.change_days if tank else None,
            )
        )
    rows.append(StationRow(key=WHOLE_ROOM, kind=WHOLE_ROOM, name=room.name))
    known = {row.key for row in rows}
    return rows + [StationRow(key=key, in_room=False) for key in sorted({*named} - known) if key]


def lamp_rows(room: Room) -> list[LampRow]:
    """Return the lamps, in the order of room.toml."""
    return [msgspec.convert({"key": key, **msgspec.structs.asdict(lamp)}, LampRow) for key, lamp in room.lamps.items()]
