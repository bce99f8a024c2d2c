"""Reading room.toml: what can be used of it, and every mistake in it."""

import re
from collections.abc import Collection, Iterator
from datetime import time
from pathlib import Path

import msgspec
from msgspec import Struct

from walkabout.room.fit import fit
from walkabout.room.mistakes import Mistake, nearest
from walkabout.room.model import WHOLE_ROOM, Room, Station
from walkabout.room.toml import Document, Place, read

FILE = "room.toml"

_KEY = re.compile(r"[a-z0-9][a-z0-9-]{0,30}")
_CODE = re.compile(r"[A-Za-z0-9]{2,3}")


class RoomFile(Struct, frozen=True):
    """What was read: `room` is None when nothing of the file could be used."""

    room: Room | None
    mistakes: tuple[Mistake, ...]


def read_room(folder: Path, kinds: Collection[str]) -> RoomFile:
    """Read `folder`/room.toml. `kinds` are the kinds of station that have a checklist."""
    document = read(folder / FILE)
    if isinstance(document, Mistake):
        return RoomFile(None, (document,))
    room, mistakes = fit(document.data, Room, document, ())
    if room is None:
        return RoomFile(None, tuple(mistakes))
    mistakes += [document.mistake(place, says, right) for place, says, right in _wrong(room, document, kinds)]
    if not room.name:
        room = msgspec.structs.replace(room, name=folder.resolve().name)
    return RoomFile(_usable(room), tuple(sorted(mistakes)))


def _wrong(room: Room, document: Document, kinds: Collection[str]) -> Iterator[tuple[Place, str, str]]:
    """Find what each part on its own cannot know to be wrong."""
    if not 1 <= room.minutes <= 60:
        yield ("minutes",), f"a round of {room.minutes:g} minutes cannot be planned", "It can be 1 to 60"
    if not _is_time(room.starts):
        yield ("starts",), f'"{room.starts}" is not a time of day', 'Write it as "08:00"'
    if not room.days:
        yield ("days",), "nobody walks on any day", 'Write for example ["mon", "tue", "wed", "thu", "fri"]'
    for code in room.people:
        if not _CODE.fullmatch(code):
            yield (
                ("people", code),
                f'"{code}" is not a code',
                "A code is two or three letters or digits, never a name",
            )
    for key, lamp in room.lamps.items():
        if not 0 <= lamp.hours <= 24:
            yield ("lamps", key, "hours"), f"a day has no {lamp.hours:g} hours", "It can be 0 to 24"
        if not _is_time(lamp.on):
            yield ("lamps", key, "on"), f'"{lamp.on}" is not a time of day', 'Write it as "06:00"'
    for key, tank in room.tanks.items():
        if tank.litres <= 0:
            yield (
                ("tanks", key, "litres"),
                f"a tank cannot hold {tank.litres:g} L",
                "Write the litres it holds when full",
            )
        if tank.change_days < 1:
            yield (
                ("tanks", key, "change_days"),
                "the solution lasts at least a day",
                "Write the days between changes",
            )
    for index, closure in enumerate(room.closures):
        if closure.first > closure.last:
            yield (
                ("closure", index, "to"),
                f"this closure ends on {closure.last} before it begins",
                "Swap from and to",
            )
    yield from _wrong_stations(room, _written(document), kinds)


def _wrong_stations(
    room: Room, written: dict[str, list[int]], kinds: Collection[str]
) -> Iterator[tuple[Place, str, str]]:
    for key, places in written.items():
        for again in places[1:]:
            yield (
                ("station", again, "key"),
                f'the key "{key}" is taken already',
                "Give each station a key of its own",
            )
    if not room.stations:
        yield (), "the room has no station", "Add a [[station]] with key, name and kind"
    for station in room.stations:
        place: Place = ("station", written.get(station.key, [0])[0])
        if not _KEY.fullmatch(station.key):
            yield (*place, "key"), f'"{station.key}" is not a key', "Use small letters, digits and hyphens"
        if station.key == WHOLE_ROOM:
            yield (*place, "key"), f'"{WHOLE_ROOM}" stands for the room as a whole', "Choose another key"
        if station.kind not in kinds:
            yield (*place, "kind"), f'no checklist is called "{station.kind}"', nearest(station.kind, kinds)
        for name, known in (("lamps", room.lamps), ("pumps", room.pumps)):
            for index, key in enumerate(getattr(station, name)):
                if key not in known:
                    says = f"no [{name}.{key}] is written down"
                    yield (*place, name, index), says, nearest(key, known)
        if station.tank and station.tank not in room.tanks:
            yield (
                (*place, "tank"),
                f"no [tanks.{station.tank}] is written down",
                nearest(station.tank, room.tanks),
            )


def _written(document: Document) -> dict[str, list[int]]:
    """Return station key -> where it stands in the file."""
    found: dict[str, list[int]] = {}
    for index, raw in enumerate(document.data.get("station", ())):
        if isinstance(raw, dict) and isinstance(raw.get("key"), str):
            found.setdefault(raw["key"], []).append(index)
    return found


def _usable(room: Room) -> Room:
    """Leave out what cannot be used, so that the rest can be walked."""
    seen: dict[str, Station] = {}
    for station in room.stations:
        if station.key == WHOLE_ROOM:
            continue
        kept = msgspec.structs.replace(
            station,
            lamps=tuple(key for key in station.lamps if key in room.lamps),
            pumps=tuple(key for key in station.pumps if key in room.pumps),
            tank=station.tank if station.tank in room.tanks else "",
        )
        seen.setdefault(station.key, kept)
    return msgspec.structs.replace(
        room,
        minutes=room.minutes if 1 <= room.minutes <= 60 else Room().minutes,
        starts=room.starts if _is_time(room.starts) else Room().starts,
        days=room.days or Room().days,
        people={code: person for code, person in room.people.items() if _CODE.fullmatch(code)},
        closures=tuple(closure for closure in room.closures if closure.first <= closure.last),
        stations=tuple(seen.values()),
    )


def _is_time(text: str) -> bool:
    try:
        time.fromisoformat(text)
    except ValueError:
        return False
    return ":" in text
