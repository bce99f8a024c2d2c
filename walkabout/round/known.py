"""What is known of a station when something is worked out for it: its last readings, its tank, what drinks there."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from itertools import pairwise

from msgspec import Struct

from walkabout.checklist.model import Quantity
from walkabout.growing.crops import Crop
from walkabout.records.model import Answer
from walkabout.room.model import WHOLE_ROOM, Lamp, Room, Tank
from walkabout.round.here import Here
from walkabout.round.history import CHANGED
from walkabout.round.opened import OpenRoom

FRESH_DAYS = 7
"""A reading older than this is not what is there now. Assumed."""
LATELY_DAYS = 28
"""Plants grow: what a tank lost longer ago says nothing about today. Assumed."""
IN_TANK: tuple[Quantity, ...] = ("pH", "EC", "solution temperature", "oxygen", "volume")
"""What is the same for every station on a tank."""
IN_AIR: tuple[Quantity, ...] = ("air temperature", "humidity")
"""What the room as a whole is asked for."""


class Last(Struct, frozen=True):
    """A reading in its stored unit, and its day."""

    value: float
    day: date


class Known(Struct, frozen=True):
    """What is known of one station. Everything may be missing."""

    here: Here
    room: Room
    readings: dict[Quantity, Last]
    """The last of each quantity, no older than a week."""
    topped: tuple[Last, ...] = ()
    """Litres that went into the tank, the oldest first."""
    drinking: tuple[tuple[str, int], ...] = ()
    """(crop, plants) of everything that drinks from the tank."""
    crops: tuple[Crop, ...] = ()
    """The crops among them that the crop table knows."""
    changed: date | None = None
    """The day on which the solution was last renewed."""
    today: date | None = None

    def value(self, quantity: Quantity) -> float | None:
        """Return the last reading of a quantity, or None."""
        found = self.readings.get(quantity)
        return found.value if found else None

    @property
    def tank(self) -> Tank | None:
        """The station's tank."""
        station = self.here.station
        return self.room.tanks.get(station.tank) if station else None

    @property
    def lamps(self) -> tuple[Lamp, ...]:
        """The lamps that hang here."""
        station = self.here.station
        return tuple(self.room.lamps[key] for key in station.lamps) if station else ()

    @property
    def used(self) -> float | None:
        """Litres a day that the tank loses, from what was topped up lately: the middle of what the days say."""
        lately = [one for one in self.topped if (self.topped[-1].day - one.day).days <= LATELY_DAYS]
        daily = sorted(
            later.value / (later.day - earlier.day).days
            for earlier, later in pairwise(lately)
            if later.day > earlier.day
        )
        if not daily:
            return None
        middle = len(daily) // 2
        return daily[middle] if len(daily) % 2 else (daily[middle - 1] + daily[middle]) / 2


def known_at(opened: OpenRoom, key: str) -> Known | None:
    """Gather what is known of a station; None where there is no such station."""
    places = {here.key: here for here, _ in opened.places()}
    here = places.get(key)
    if here is None:
        return None
    sharing = [places[one] for one in here.sharing if one in places]
    since = opened.today() - timedelta(days=FRESH_DAYS)
    newest: dict[Quantity, Answer] = {}
    for quantity, answer in _looks(opened, [here, *sharing, *_room(places)]):
        if not _belongs(quantity, answer.station, here, sharing) or answer.at.date() < since:
            continue
        if quantity not in newest or newest[quantity].at <= answer.at:
            newest[quantity] = answer
    readings = {name: Last(one.value, one.at.date()) for name, one in newest.items() if one.value is not None}
    topped = sorted(
        (
            Last(answer.value, answer.at.date())
            for _, answer in _all(opened, sharing, "volume")
            if answer.value is not None
        ),
        key=lambda one: one.day,
    )
    drinkers = sharing if here.station is not None and here.station.tank else [here]
    drinking: dict[str, int] = {}
    for planting in (one for place in drinkers for one in place.plantings):
        drinking[planting.crop] = drinking.get(planting.crop, 0) + planting.count
    crops = {crop.key: crop for place in drinkers for crop in place.crops}
    return Known(
        here=here,
        room=opened.room,
        readings=readings,
        topped=tuple(topped),
        drinking=tuple(drinking.items()),
        crops=tuple(crops.values()),
        changed=_changed(opened, sharing),
        today=opened.today(),
    )


def _changed(opened: OpenRoom, sharing: Iterable[Here]) -> date | None:
    """Return the day of the last change of solution, from the last time somebody said how long ago it was."""
    looks = [one for place in sharing if (one := opened.history.last_look(place.key, CHANGED)) is not None]
    last = max(looks, key=lambda one: one.at, default=None)
    return last.at.date() - timedelta(days=round(last.value)) if last is not None and last.value is not None else None


def _belongs(quantity: Quantity, station: str, here: Here, sharing: Iterable[Here]) -> bool:
    if station == here.key:
        return True
    if station == WHOLE_ROOM:
        return quantity in IN_AIR
    return quantity in IN_TANK and station in {one.key for one in sharing}


def _room(places: dict[str, Here]) -> list[Here]:
    return [places[WHOLE_ROOM]] if WHOLE_ROOM in places else []


def _looks(opened: OpenRoom, places: Iterable[Here]) -> Iterator[tuple[Quantity, Answer]]:
    """Yield the last look at every number that can be asked at these places, where it is to be trusted."""
    for here in {place.key: place for place in places}.values():
        for question in opened.checklists[here.kind].question:
            answer = opened.history.last_look(here.key, question.id) if question.reading else None
            if question.reading is not None and answer is not None and not opened.doubt_of(answer):
                yield question.reading.quantity, answer


def _all(opened: OpenRoom, places: Iterable[Here], quantity: Quantity) -> Iterator[tuple[Quantity, Answer]]:
    for here in places:
        for question in opened.checklists[here.kind].question:
            if question.reading is not None and question.reading.quantity == quantity:
                for answer in opened.history.all(here.key, question.id):
                    if answer.state == "answered" and not opened.doubt_of(answer):
                        yield quantity, answer
