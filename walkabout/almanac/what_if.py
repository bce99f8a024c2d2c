"""What a sowing would come to, shown while somebody still chooses the crop, the number and the day."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta

import msgspec
from msgspec import Struct

from walkabout.almanac.course import course as course_of
from walkabout.almanac.hand import is_of
from walkabout.almanac.model import Basis, Course, Expected, StageName
from walkabout.almanac.pace import Learned
from walkabout.almanac.places import RAISES, free
from walkabout.almanac.promise_case import case
from walkabout.almanac.reached import thins
from walkabout.almanac.work_back import said
from walkabout.growing.counting import in_trays, noun, sown_words
from walkabout.growing.crops import Crop
from walkabout.records.model import Move, Planting, Promise
from walkabout.room.calendar import is_walked
from walkabout.room.model import Closure

HELPS = 0.01
"""A promise is helped when its chance rises by so much. Assumed."""

TERM_DAYS = 90
"""What has no end keeps its place for longer than this; so far is looked. Assumed."""

MOST_PLANTS = 100_000
"""More in one sowing is a slip of the hand. Assumed."""


class Needed(Struct, frozen=True, kw_only=True):
    """The places a sowing needs at one station, and how many are free at the fullest moment."""

    station: str
    name: str
    first: date
    last: date
    needed: int
    free: int | None
    """None where room.toml does not say how many places there are."""


class Helped(Struct, frozen=True, kw_only=True):
    """A promise that the sowing would help."""

    promise: Promise
    before: float
    after: float


class WhatIf(Struct, frozen=True, kw_only=True):
    """What a sowing would come to."""

    crop: Crop
    count: int
    stages: tuple[Expected, ...]
    """The crop table's stages with their days, if it is grown on at the station."""
    places: tuple[Needed, ...]
    """On the shelf while it is young, then at the station."""
    clashes: tuple[str, ...]
    """What falls into a closure, one sentence each."""
    helps: tuple[Helped, ...]
    says: tuple[str, ...]
    """All of it in short sentences, the weightiest first."""
    working: tuple[str, ...] = ()


def what_if(
    crop: str,
    station: str,
    count: int,
    sow_day: date,
    basis: Basis,
    courses: Mapping[str, Course],
    learned: Mapping[str, Learned],
) -> WhatIf:
    """Return what `count` plants of a crop, sown on a day and grown on at a station, would come to.

    Raises ValueError, with one sentence, for a crop or station that is not known and a number that cannot be.
    """
    found = basis.crops.find(crop)
    if found is None:
        raise ValueError(f"no crop is called '{crop}'")
    if basis.room.station(station) is None:
        raise ValueError(f"no station is called '{station}'")
    if not 1 <= count <= MOST_PLANTS:
        raise ValueError(f"sow 1 to {MOST_PLANTS:,} {noun(found)}, not {count:,}")
    sown = Planting(key=_KEY, crop=found.key, sown=sow_day, count=count, moves=(Move(day=sow_day, station=station),))
    way = course_of(sown, basis, learned)
    places = tuple(_places(found, count, way, station, basis, courses))
    clashes = tuple(_clashes(way, basis))
    helps = tuple(_helped(found, sown, basis, learned))
    return WhatIf(
        crop=found,
        count=count,
        stages=way.stages,
        places=places,
        clashes=clashes,
        helps=helps,
        says=(*_says(found, way), *clashes, *map(_room_says, places), *map(_help_says, helps)),
        working=way.working,
    )


_KEY = "p-what-if"


def _says(crop: Crop, way: Course) -> Iterator[str]:
    last = next((one for one in reversed(way.stages) if one.stage in ("harvest", "flowering")), None)
    if last is None:
        yield f"How long {crop.name} takes is not known."
        return
    span = last.span
    what = "ready" if last.stage == "harvest" else "in flower"
    sown = sown_words(way.planting.count, crop, crop.name) if in_trays(crop) else crop.name
    yield f"{sown[:1].upper()}{sown[1:]}: {what} about {said(span.likely)} ({_short(span.early, span.late)})."
    moving = way.stage("move_on")
    if moving is not None:
        yield f"{_moves(crop)} about {said(moving.span.likely)}."
    if last.stage == "harvest" and way.until is not None:
        yield f"Picked until about {said(way.until)}."


def _moves(crop: Crop) -> str:
    if crop.group == "microgreen":
        return "Out of the dark"
    return "Thinned" if thins(crop) else "Moves on"


# closures

_FALLS: Mapping[StageName, str] = {
    "emergence": "The first seedlings fall", "move_on": "Moving on falls", "flowering": "The flowers fall",
    "harvest": "The harvest falls", "seed": "The ripe seed falls",
}  # fmt: skip


def _clashes(way: Course, basis: Basis) -> Iterator[str]:
    sown = way.planting.sown
    if not is_walked(basis.room, sown):
        yield f"Nobody is there to sow on {said(sown)}."
    for stage in way.stages:
        closure = _meets(stage, basis.room.closures)
        if closure is not None:
            days = _short(closure.first, closure.last)
            yield f"{_FALLS[stage.stage]} into {_named(closure)} ({days}), when nobody comes."
    harvest = way.stage("harvest")
    if harvest is None or way.until is None or _meets(harvest, basis.room.closures) is not None:
        return
    for closure in basis.room.closures:
        if harvest.span.likely < closure.first <= way.until:
            yield f"Pick it before {closure.name or 'the closure'} begins on {said(closure.first)}."


def _meets(stage: Expected, closures: tuple[Closure, ...]) -> Closure | None:
    return next((one for one in closures if one.first <= stage.span.likely <= one.last), None)


def _named(closure: Closure) -> str:
    return closure.name or "a closure"


# places


def _places(
    crop: Crop, count: int, way: Course, station: str, basis: Basis, courses: Mapping[str, Course]
) -> Iterator[Needed]:
    """Yield the places needed: on the shelf until it moves on, then at the station until the end of picking.

    All that is sown counts all the time, so that no place is missing.
    """
    sown, moving = way.planting.sown, way.stage("move_on")
    here = basis.room.station(station)
    grown = moving.span.late if moving is not None else sown
    end = max(way.until or grown + timedelta(days=TERM_DAYS), grown)
    shelf = next((one for one in basis.room.stations if one.kind == RAISES), None)
    raised = moving is not None and crop.group != "microgreen" and not thins(crop)
    if raised and shelf is not None and here is not None and here.kind != RAISES and moving is not None:
        stays = [(shelf.key, sown, moving.span.late, count), (station, moving.span.likely, end, count)]
    else:
        stays = [(station, sown, end, count)]
    for key, first, last, needed in stays:
        found = basis.room.station(key)
        if found is None:
            continue
        row = [one for one in free(basis, courses, first, last)[key] if one is not None]
        least = min(row) if row else None
        yield Needed(station=key, name=found.name, first=first, last=last, needed=needed, free=least)


def _room_says(one: Needed) -> str:
    if one.free is None:
        return f"{one.name}: how many places it has is not written down."
    if one.free >= one.needed:
        return f"{one.name}: {one.free} places free, {one.needed} needed."
    short = one.needed - one.free
    return f"{one.name}: {short} place{'s' if short != 1 else ''} too few ({one.free} free, {one.needed} needed)."


# promises


def _helped(crop: Crop, sown: Planting, basis: Basis, learned: Mapping[str, Learned]) -> Iterator[Helped]:
    """Yield the open promises of the crop whose chance rises, those before which it cannot be ready left out."""
    with_it = msgspec.structs.replace(basis, plantings=(*basis.plantings, sown))
    for promise in sorted(basis.promises, key=lambda one: (one.day, one.key)):
        if promise.closed is not None or promise.day < max(basis.today, sown.sown) or not crop.eaten:
            continue
        if not is_of(promise.crop, crop, basis) or not is_walked(basis.room, promise.day):
            continue
        try:
            before = case(promise, crop, basis, learned).chance(promise.day)
            if before >= 1 - HELPS:
                continue
            named = promise.plantings and msgspec.structs.replace(promise, plantings=(*promise.plantings, sown.key))
            after = case(named or promise, crop, with_it, learned).chance(promise.day)
        except ValueError:
            continue
        if after >= before + HELPS:
            yield Helped(promise=promise, before=before, after=after)


def _help_says(one: Helped) -> str:
    to = f"{said(one.promise.day)}: from {_tenths(one.before)} to {_tenths(one.after)} chances in 10"
    return f"Helps {one.promise.people}, {to}."


def _tenths(chance: float) -> str:
    tenths = round(chance * 10)
    return "under 1" if tenths == 0 else "over 9" if tenths == 10 else str(tenths)


def _short(first: date, last: date) -> str:
    same = first.month == last.month
    return f"{first.day}{'' if same else f' {first:%b}'} to {last.day} {last:%b}"
