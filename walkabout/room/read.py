"""Reading room.toml: what can be used of it, and every mistake in it."""

import re
from collections.abc import Collection, Iterator, Mapping
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct

from walkabout.room.fit import Ranges, fit
from walkabout.room.mistakes import Mistake, nearest, shortened
from walkabout.room.model import WHOLE_ROOM, Lamp, Prices, Pump, Room, Station, Tank
from walkabout.room.solution import CONTENTS, Acid, Aim, Base, Feed, OwnRecipe, Water
from walkabout.room.toml import read
from walkabout.room.toml_lines import Place

FILE = "room.toml"

_KEY = re.compile(r"[a-z0-9][a-z0-9-]{0,30}")
_CODE = re.compile(r"[A-Za-z0-9]{2,3}")
_TIME = re.compile(r"([01][0-9]|2[0-3]):[0-5][0-9]")

RANGES: Ranges = {
    Room: {"minutes": (1, 60), "work_minutes": (1, 600), "altitude_m": (-430, 5000)},
    Lamp: {
        "watts": (0, 1e5),
        "hours": (0, 24),
        "gap_cm": (0, 1000),
        "width_cm": (0.1, 1000),
        "length_cm": (0.1, 1000),
        "efficacy": (0.01, 6),
        "rated_hours": (100, 200_000),
    },
    Tank: {"litres": (0.01, 1e6), "change_days": (1, 366)},
    Pump: {"litres_per_hour": (0, 1e6)},
    Station: {"places": (0, 1e5)},
    Water: {
        "ec": (0, 5),
        "ph": (4, 10),
        "alkalinity": (0, 1000),
        "calcium": (0, 1000),
        "magnesium": (0, 1000),
        "sodium": (0, 2000),
        "chloride": (0, 2000),
    },
    Feed: {"rise": (0.01, 10), "parts": (1, 3)},
    Acid: {"strength": (0.001, 20)},
    Base: {"strength": (0.001, 20)},
    Prices: {"per_kwh": (0, 1e6), "per_cubic_metre": (0, 1e6)},
}
"""Figures that no growing room goes beyond; assumed."""


class RoomFile(Struct, frozen=True):
    """What was read: `room` is None when nothing of the file could be used."""

    room: Room | None
    mistakes: tuple[Mistake, ...]


def read_room(folder: Path, kinds: Collection[str]) -> RoomFile:
    """Read `folder`/room.toml. `kinds` are the kinds of station that have a checklist."""
    return read_room_file(folder / FILE, folder.resolve().name, kinds)


def read_room_file(file: Path, name: str, kinds: Collection[str]) -> RoomFile:
    """Read a room from this file; it is called `name` where the file does not say how."""
    document = read(file)
    if isinstance(document, Mistake):
        return RoomFile(None, (document,))
    fitted = fit(document.data, Room, document, ranges=RANGES)
    room, mistakes = fitted.what, list(fitted.mistakes)
    if room is None:
        return RoomFile(None, fitted.mistakes)
    for place, says, right in _wrong(room, kinds, document.data):
        mistakes.append(document.mistake(fitted.written(place), says, right))
    if not room.name:
        room = msgspec.structs.replace(room, name=name)
    return RoomFile(_usable(room), tuple(sorted(mistakes)))


def _wrong(room: Room, kinds: Collection[str], written: Mapping[str, Any]) -> Iterator[tuple[Place, str, str]]:
    """Find what each part on its own cannot know to be wrong; what was left out of `written` is said already."""
    if not _is_time(room.starts):
        yield ("starts",), f'"{room.starts}" is not a time of day', 'Write it as "08:00"'
    if not room.days and "days" in written:
        yield ("days",), "nobody walks on any day", 'Write for example ["mon", "tue", "wed", "thu", "fri"]'
    for code in room.people:
        if not _CODE.fullmatch(code):
            says = f'"{shortened(code, 40)}" is not a code'
            yield ("people", code), says, "A code is two or three letters or digits, never a name"
    for key, lamp in room.lamps.items():
        if not _is_time(lamp.on):
            yield ("lamps", key, "on"), f'"{lamp.on}" is not a time of day', 'Write it as "06:00"'
    for index, closure in enumerate(room.closures):
        if closure.first > closure.last:
            says = f"this closure ends on {closure.last} before it begins"
            yield ("closure", index, "to"), says, "Swap from and to"
    for index, term in enumerate(room.terms):
        if term.first > term.last:
            yield ("term", index, "to"), f"this term ends on {term.last} before it begins", "Swap from and to"
    yield from _wrong_aims(room)
    yield from _wrong_recipes(room)
    if not room.stations and "station" not in written:
        yield (), "the room has no station", "Add a [[station]] with key, name and kind"
    yield from _wrong_stations(room, kinds, written)


def _wrong_stations(room: Room, kinds: Collection[str], written: Mapping[str, Any]) -> Iterator[tuple[Place, str, str]]:
    seen: set[str] = set()
    lamps, pumps, tanks = (_keys(written.get(name)) for name in ("lamps", "pumps", "tanks"))
    for number, station in enumerate(room.stations):
        place: Place = ("station", number)
        if station.key in seen:
            yield (*place, "key"), f'the key "{station.key}" is taken already', "Give each station a key of its own"
        seen.add(station.key)
        if not _KEY.fullmatch(station.key):
            yield (*place, "key"), f'"{station.key}" is not a key', "Use small letters, digits and hyphens"
        if station.key == WHOLE_ROOM:
            yield (*place, "key"), f'"{WHOLE_ROOM}" stands for the room as a whole', "Choose another key"
        if station.kind not in kinds:
            yield (*place, "kind"), f'no checklist is called "{station.kind}"', nearest(station.kind, kinds)
        for name, known in (("lamps", lamps), ("pumps", pumps)):
            for index, key in enumerate(getattr(station, name)):
                if key not in known:
                    says = f"no [{name}.{key}] is written down"
                    yield (*place, name, index), says, nearest(key, known)
        if station.tank and station.tank not in tanks:
            says = f"no [tanks.{station.tank}] is written down"
            yield (*place, "tank"), says, nearest(station.tank, tanks)


def _wrong_aims(room: Room) -> Iterator[tuple[Place, str, str]]:
    """Find ranges that run backwards, or lie where no solution can be."""
    for crop, aim in room.aims.items():
        for name, ends, most in (("ph", aim.ph, 14), ("ec", aim.ec, 20)):
            if ends is not None and not 0 <= ends[0] <= ends[1] <= most:
                right = "The lower end comes first" if ends[0] > ends[1] else f"It can be 0 to {most}"
                yield ("aims", crop, name), f"{name} cannot go from {ends[0]:g} to {ends[1]:g}", right


def _wrong_recipes(room: Room) -> Iterator[tuple[Place, str, str]]:
    """Find what no recipe can have."""
    for index, recipe in enumerate(room.recipes):
        for name, milligrams in recipe.mg.items():
            if name not in CONTENTS:
                yield ("recipe", index, "mg", name), f'"{shortened(name, 20)}" is no element', nearest(name, CONTENTS)
            elif not 0 <= milligrams <= MOST_MG:
                says = f"{name} cannot be {milligrams:g} mg in a litre"
                yield ("recipe", index, "mg", name), says, f"It can be 0 to {MOST_MG:g}"


MOST_MG = 5000.0
"""mg/L: more of one element no plant bears. Assumed."""


def _usable_recipes(room: Room) -> tuple[OwnRecipe, ...]:
    return tuple(
        msgspec.structs.replace(
            one, mg={name: value for name, value in one.mg.items() if name in CONTENTS and 0 <= value <= MOST_MG}
        )
        for one in room.recipes
    )


def _usable_aims(room: Room) -> dict[str, Aim]:
    wrong = {(place[1], place[2]) for place, _, _ in _wrong_aims(room)}
    return {
        crop: msgspec.structs.replace(
            aim, ph=None if (crop, "ph") in wrong else aim.ph, ec=None if (crop, "ec") in wrong else aim.ec
        )
        for crop, aim in room.aims.items()
    }


def _keys(table: object) -> tuple[str, ...]:
    return tuple(table) if isinstance(table, Mapping) else ()


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
        starts=room.starts if _is_time(room.starts) else Room().starts,
        days=room.days or Room().days,
        people={code: person for code, person in room.people.items() if _CODE.fullmatch(code)},
        lamps={
            key: lamp if _is_time(lamp.on) else msgspec.structs.replace(lamp, on=Lamp().on)
            for key, lamp in room.lamps.items()
        },
        closures=tuple(closure for closure in room.closures if closure.first <= closure.last),
        terms=tuple(term for term in room.terms if term.first <= term.last),
        stations=tuple(seen.values()),
        aims=_usable_aims(room),
        recipes=_usable_recipes(room),
    )


def _is_time(text: str) -> bool:
    return _TIME.fullmatch(text) is not None
