"""Today's questions: in walking order, what must be asked, and then what avoids the most loss per second."""

from collections.abc import Iterable, Sequence

from msgspec import Struct

from walkabout.checklist.model import Checklist
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.due import Due, Today, due_at
from walkabout.round.here import Here, measured_elsewhere
from walkabout.round.level import PRESSES, presses, pulled_forward
from walkabout.round.pace import OPENING, WALKING

PUT_BY = "It does not fit into the round: do it in the course of the day."
ANOTHER = "It asks for an adult: it is a job of the day."

DRIVEN = ("drum",)
"""Kinds of station that live by a motor which room.toml does not list among the pumps."""


class Plan(Struct, frozen=True):
    """The round of a day. The same room, records and time of day give the same plan."""

    asked: tuple[Due, ...]
    """In walking order."""
    jobs: tuple[Due, ...]
    """Slow looks, or those that ask for another role, which become jobs of the day."""
    left: tuple[Due, ...]
    """What is due but can wait."""
    budget: float
    """Seconds that the round may take."""

    @property
    def seconds(self) -> float:
        """Return the seconds the round is expected to take, walking included."""
        return _seconds(self.asked)

    @property
    def stations(self) -> int:
        """Return at how many stations the round stops."""
        return len({one.here.key for one in self.asked} - {WHOLE_ROOM})


def plan(places: Sequence[tuple[Here, Checklist]], today: Today) -> Plan:
    """Choose today's questions. `places` are the room as a whole and then its stations, in walking order."""
    order = {here.key: index for index, (here, _) in enumerate(places)}
    checklists = {here.key: checklist for here, checklist in places}
    elsewhere = measured_elsewhere(places, today.day)
    due = [
        one
        for here, checklist in places
        for one in due_at(here, checklist, today)
        if (here.key, one.question.id) not in elsewhere
    ]
    possible = [one for one in due if one.for_walker]
    asked = [one for one in possible if one.bound and not one.question.slow]
    left: list[Due] = []
    jobs = [one for one in due if not one.for_walker and one.bound]
    budget = today.room.minutes * 60
    for one in _by_need(places, today, asked, possible):
        if _seconds([*asked, one]) <= budget and _presses([*asked, one]) <= PRESSES:
            asked.append(one)
        elif one.question.slow:
            jobs.append(one)
        elif not one.early:
            left.append(one)
    if today.returning:
        order = _by_hours(places, asked, list(today.dry))
    asked.sort(key=lambda one: (order[one.here.key], _turn(one, checklists[one.here.key], today)))
    jobs.sort(key=lambda one: (order[one.here.key], _turn(one, checklists[one.here.key], today)))
    return Plan(tuple(asked), tuple(jobs), tuple(left), budget)


def _by_need(
    places: Sequence[tuple[Here, Checklist]], today: Today, asked: Sequence[Due], possible: Sequence[Due]
) -> list[Due]:
    """Order what is not settled: slow looks that are vital, what eases a coming day, and the rest by its worth."""
    taken = {(one.here.key, one.question.id) for one in asked}
    open_ones = [one for one in possible if (one.here.key, one.question.id) not in taken]
    vital = sorted((one for one in open_ones if one.vital), key=lambda one: (one.hours or 0.0, -one.worth))
    quick = [one for one in open_ones if not one.question.slow]
    early = pulled_forward(places, today, asked, quick)
    rest = sorted(
        (one for one in open_ones if not (one.vital or one.early or one in early)), key=lambda one: -one.worth
    )
    return [*vital, *early, *rest]


def _presses(asked: Iterable[Due]) -> int:
    return sum(presses(one.question) for one in asked)


def _seconds(asked: Iterable[Due]) -> float:
    chosen = list(asked)
    stops = len({one.here.key for one in chosen})
    return OPENING + WALKING * stops + sum(one.seconds for one in chosen)


def _turn(one: Due, checklist: Checklist, today: Today) -> tuple[int, int]:
    """Return the place of a question within its station; what was flagged is looked at after the rest."""
    ids = [question.id for question in checklist.question]
    if today.returning and one.question.id == checklist.first:
        return (0, 0)
    return (1, ids.index(one.question.id)) if one.question.id in ids else (2, 0)


def _by_hours(
    places: Sequence[tuple[Here, Checklist]], asked: Sequence[Due], dry: Sequence[str] = ()
) -> dict[str, int]:
    """Order the first round back: the room, what has run dry, powered stations by hours to loss, then the others."""

    def hours(here: Here, checklist: Checklist, index: int) -> tuple[int, float, int]:
        if here.key == WHOLE_ROOM:
            return (0, 0.0, index)
        if here.key in dry:
            return (1, float(dry.index(here.key)), index)
        names = {name for one in asked if one.here.key == here.key for name in one.question.reveals}
        faults = [checklist.fault[name] for name in names]
        # what endangers people is alike at every station with water: the plants decide the order
        quickest = min((fault.hours for fault in faults if not fault.people), default=1e6)
        powered = here.pumps or here.kind in DRIVEN
        return (2 if powered else 3, quickest, index)

    ranked = sorted((hours(here, checklist, index), here.key) for index, (here, checklist) in enumerate(places))
    return {key: index for index, (_, key) in enumerate(ranked)}
