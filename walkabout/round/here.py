"""What stands at a station, and whether a question or a case applies to it."""

from collections.abc import Iterable
from datetime import date, datetime
from typing import TYPE_CHECKING

from msgspec import Struct

from walkabout.checklist.model import Checklist, Needs, Question, When
from walkabout.growing.crops import Crop, Crops
from walkabout.records.model import Answer, Planting
from walkabout.room.model import WHOLE_ROOM, Lamp, LampKind, Room, Station
from walkabout.round.history import History

if TYPE_CHECKING:
    from walkabout.round.light import Lit


class Here(Struct, frozen=True):
    """A station with all that grows there. For the room as a whole `station` is None."""

    key: str
    name: str
    kind: str
    station: Station | None
    plantings: tuple[Planting, ...]
    crops: tuple[Crop, ...]
    kit: frozenset[str]
    lamps: frozenset[LampKind]
    pumps: frozenset[str]
    hanging: tuple[Lamp, ...] = ()
    """The lamps that hang here."""
    sharing: tuple[str, ...] = ()
    """Keys of the stations on the same tank, itself included."""

    @property
    def lit(self) -> "Lit | None":
        """What the one kind of lamp here makes of a lux reading; None where lux says nothing about light for plants."""
        from walkabout.round.light import lit_by  # noqa: PLC0415 - few rounds ask for lux

        return lit_by(self.hanging)

    @property
    def plants(self) -> int:
        """Return how many plants stand here."""
        return sum(planting.count for planting in self.plantings)


def stand_at(room: Room, station: Station, plantings: list[Planting], crops: Crops) -> Here:
    """Gather what stands at a station."""
    standing = tuple(one for one in plantings if one.ended is None and one.station == station.key)
    sharing = [one.key for one in room.stations if station.tank and one.tank == station.tank]
    return Here(
        key=station.key,
        name=station.name,
        kind=station.kind,
        station=station,
        plantings=standing,
        crops=_crops_of(standing, crops),
        kit=frozenset(station.kit) | frozenset(room.kit),
        lamps=frozenset(room.lamps[key].kind for key in station.lamps),
        pumps=frozenset(room.pumps[key].moves for key in station.pumps),
        hanging=tuple(room.lamps[key] for key in station.lamps),
        sharing=tuple(sharing) or (station.key,),
    )


def stand_in(room: Room, plantings: list[Planting], crops: Crops) -> Here:
    """Gather what stands in the room as a whole."""
    standing = tuple(one for one in plantings if one.ended is None)
    return Here(
        key=WHOLE_ROOM,
        name="The room",
        kind=WHOLE_ROOM,
        station=None,
        plantings=standing,
        crops=_crops_of(standing, crops),
        kit=frozenset(room.kit) | frozenset(item for station in room.stations for item in station.kit),
        lamps=frozenset(lamp.kind for lamp in room.lamps.values()),
        pumps=frozenset(pump.moves for pump in room.pumps.values()),
        sharing=(WHOLE_ROOM,),
    )


def applies(question: Question, here: Here, today: date) -> bool:
    """Say whether the question can be asked here at all."""
    needs = question.needs
    return (
        _grows(needs, here, today)
        and (not needs.kit or any(item in here.kit for item in needs.kit))
        and (not needs.lamps or any(kind in here.lamps for kind in needs.lamps))
        and (not needs.lamp or bool(here.lamps))
        and (needs.pump is None or needs.pump in here.pumps)
        and (not needs.tank or here.station is None or bool(here.station.tank))
        and (question.reading is None or question.reading.quantity != "illuminance" or here.lit is not None)
    )


def measured_elsewhere(places: Iterable[tuple[Here, Checklist]], today: date) -> set[tuple[str, str]]:
    """Return the readings that need not be taken, as (station, question): an earlier station has the same tank.

    One tank has one pH, one EC and one day of change, however many stations drink from it.
    """
    taken: set[tuple[str, str]] = set()
    elsewhere: set[tuple[str, str]] = set()
    for here, checklist in places:
        tank = here.station.tank if here.station else ""
        for question in checklist.question if tank else ():
            if question.reading is None or not question.needs.tank or not applies(question, here, today):
                continue
            if (tank, question.id) in taken:
                elsewhere.add((here.key, question.id))
            taken.add((tank, question.id))
    return elsewhere


def _grows(needs: Needs, here: Here, today: date) -> bool:
    ages = [(today - planting.sown).days for planting in here.plantings]
    return (
        (not needs.plants or bool(here.plantings))
        and (not needs.groups or any(crop.group in needs.groups for crop in here.crops))
        and (not needs.crops or any(crop.key in needs.crops for crop in here.crops))
        and (needs.younger_than is None or any(age < needs.younger_than for age in ages))
        and (needs.older_than is None or any(age >= needs.older_than for age in ages))
    )


def holds(when: When, here: Here, history: History, now: datetime) -> bool:
    """Say whether a case is true here and now."""
    return (
        all(_picked(history.fresh(here.key, one, now, when.days), ids) for one, ids in when.answers.items())
        and all(
            (value := _read(one, here, history, now, when.days)) is not None and limits.hold(value)
            for one, limits in when.readings.items()
        )
        and (not when.groups or any(crop.group in when.groups for crop in here.crops))
        and (not when.crops or any(crop.key in when.crops for crop in here.crops))
        and (when.plants is None or when.plants.hold(here.plants))
        and (not when.lamps or any(kind in here.lamps for kind in when.lamps))
    )


def _read(question: str, here: Here, history: History, now: datetime, days: int) -> float | None:
    """Return the newest reading of so many days, taken here or at another station on the same tank."""
    found = [history.fresh(key, question, now, days) for key in dict.fromkeys((here.key, *here.sharing))]
    newest = max((one for one in found if one is not None), key=lambda one: one.at, default=None)
    return newest.value if newest else None


def _picked(answer: Answer | None, ids: tuple[str, ...]) -> bool:
    return answer is not None and any(one in ids for one in answer.choices)


def _crops_of(plantings: tuple[Planting, ...], crops: Crops) -> tuple[Crop, ...]:
    found = {planting.crop: crops.find(planting.crop) for planting in plantings}
    return tuple(crop for crop in found.values() if crop is not None)
