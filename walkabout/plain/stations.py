"""Asking for one station of a new room, with its lamp, tank, pump and kit."""

from functools import cache
from typing import Literal, get_args

from msgspec import Struct, field

from walkabout.checklist.model import Checklist
from walkabout.checklist.read import read_checklists
from walkabout.growing.units import Scales, shown, stored
from walkabout.plain.asking import pick, read_number, read_text, read_time, several, until
from walkabout.plain.dialogue import Dialogue
from walkabout.room.model import WHOLE_ROOM, Lamp, LampKind, Pump, Station, Tank
from walkabout.room.write import key_for

LAMP_KINDS: tuple[LampKind, ...] = get_args(LampKind)
LARGEST_TANK = 5000.0
COMMON = 3
"""Kit that so many kinds of station ask for belongs to the room rather than to one station."""


class Parts(Struct):
    """What has been described so far."""

    stations: list[Station] = field(default_factory=list)
    lamps: dict[str, Lamp] = field(default_factory=dict)
    tanks: dict[str, Tank] = field(default_factory=dict)
    pumps: dict[str, Pump] = field(default_factory=dict)

    def name(self, key: str) -> str:
        """Return the name of the station that this lamp or tank was described with."""
        return next((one.name for one in self.stations if one.key == key), key)


def room_kit() -> tuple[str, ...]:
    """Return the kit that the room as a whole may have, as the checklists name it."""
    kinds = _checklists()
    needed = {
        item: sum(item in _kit_of(one) for one in kinds.values()) for one in kinds.values() for item in _kit_of(one)
    }
    own = _kit_of(kinds[WHOLE_ROOM]) if WHOLE_ROOM in kinds else frozenset()
    return tuple(sorted((item for item in needed if item in own or needed[item] >= COMMON), key=str.lower))


def ask_station(dialogue: Dialogue, parts: Parts, kit: tuple[str, ...], *, scales: Scales) -> bool:
    """Ask for the next station and add it to `parts`; False when there are no more. `kit` is the room's."""
    kinds = [one for kind, one in _checklists().items() if kind != WHOLE_ROOM]
    number = len(parts.stations) + 1
    done = "no more stations" if parts.stations else ""
    question = f"Station {number}, in walking order: what kind is it?"
    place = pick(dialogue, question, [one.title for one in kinds], done, "Enter alone for no more" if done else "")
    if place is None:
        return False
    checklist = kinds[place]
    name = until(dialogue, "What is it called?", read_text, checklist.title)
    key = key_for(name, [one.key for one in parts.stations])
    lamp = _ask_lamp(dialogue, parts, key, name)
    tank = _ask_tank(dialogue, parts, key, scales=scales) if _has_tank(checklist) else ""
    pumps = _ask_pumps(dialogue, parts, key) if _has_tank(checklist) or _pumps_of(checklist) else ()
    more = tuple(sorted(_kit_of(checklist) - set(kit)))
    here = several(dialogue, f"What else stands at {name}?", more) if more else ()
    parts.stations.append(
        Station(
            key=key, name=name, kind=checklist.kind, lamps=(lamp,) if lamp else (), tank=tank, pumps=pumps, kit=here
        )
    )
    return True


def _ask_lamp(dialogue: Dialogue, parts: Parts, key: str, name: str) -> str:
    """Return the key of the station's lamp, '' for none."""
    before = list(parts.lamps)
    rows = [*LAMP_KINDS, *(f"the lamp of {parts.name(one)}" for one in before)]
    place = pick(dialogue, f"Which lamp hangs over {name}?", rows, "none")
    if place is None:
        return ""
    if place >= len(LAMP_KINDS):
        return before[place - len(LAMP_KINDS)]
    kind, usual = LAMP_KINDS[place], Lamp()
    if kind == "window":
        parts.lamps[key] = Lamp(kind=kind)
        return key
    watts = until(dialogue, "How many watts does it draw? 0 when nobody knows.", read_number(0, 5000, "watts"), "0")
    hours = until(dialogue, "How many hours a day is it on?", read_number(0, 24, "hours"), f"{usual.hours:g}")
    on = until(dialogue, "When does it go on?", read_time, usual.on)
    parts.lamps[key] = Lamp(kind=kind, watts=watts, hours=hours, on=on)
    return key


def _ask_tank(dialogue: Dialogue, parts: Parts, key: str, *, scales: Scales) -> str:
    """Return the key of the tank that feeds the station, '' for none."""
    before = list(parts.tanks)
    rows = ["a tank of its own", *(f"the tank of {parts.name(one)}" for one in before)]
    place = pick(dialogue, "Where does its solution come from?", rows, "no tank")
    if place is None:
        return ""
    if place:
        return before[place - 1]
    largest, unit = shown(LARGEST_TANK, "L", scales)
    smallest = round(shown(0.5, "L", scales)[0], 2)
    holds = until(dialogue, f"How much does it hold when full, in {unit}?", read_number(smallest, round(largest), unit))
    days = until(
        dialogue,
        "How many days between two changes of solution?",
        read_number(1, 90, "days"),
        f"{Tank(litres=1).change_days}",
    )
    parts.tanks[key] = Tank(litres=round(stored(holds, "L", scales), 1), change_days=round(days))
    return key


def _ask_pumps(dialogue: Dialogue, parts: Parts, key: str) -> tuple[str, ...]:
    """Return the keys of the station's pumps."""
    sets: list[tuple[Literal["water", "air"], ...]] = [("water",), ("air",), ("water", "air")]
    place = pick(dialogue, "Which pump does it have?", ["one that moves water", "one that moves air", "both"], "none")
    made = []
    for moves in sets[place] if place is not None else ():
        spare = dialogue.yes(f"Does a spare pump for {moves} stand ready?", usual=False)
        made.append(f"{key}-{moves}")
        parts.pumps[made[-1]] = Pump(moves=moves, spare=spare)
    return tuple(made)


@cache
def _checklists() -> dict[str, Checklist]:
    return read_checklists().of


def _kit_of(checklist: Checklist) -> frozenset[str]:
    return frozenset(item for question in checklist.question for item in question.needs.kit)


def _has_tank(checklist: Checklist) -> bool:
    return any(question.needs.tank for question in checklist.question)


def _pumps_of(checklist: Checklist) -> bool:
    return any(question.needs.pump for question in checklist.question)
