"""Which standing jobs a room has: what its checklists ask for, where, and since when each is due.

A job without days of its own comes once for a planting or a lamp. One that nobody ever wrote down has its turn on
fixed days of the calendar, so that a room does not begin with everything overdue.
"""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta
from math import ceil

import msgspec
from msgspec import Struct

from walkabout.almanac.duty_days import cleared, led, stage_day, turn
from walkabout.almanac.duty_places import Place, asks_for_plants, fits, has, places
from walkabout.almanac.model import Basis, Course
from walkabout.almanac.touching import touching
from walkabout.checklist.model import Checklist, Duty, Needs, Question
from walkabout.growing.lamp_life import days_of, rated
from walkabout.records.model import Job, Planting
from walkabout.room.model import WHOLE_ROOM, Lamp, Who

CHANGE = "change"
"""The duty that renews a tank's solution: its days are the tank's own, and it is done when the solution was renewed."""


NOT_RENEWED = 7
"""A solution is not renewed within so many days before it is poured away, nor within half its own days. Assumed."""
AT_A_STAGE = ("thin", "move on", "train")
"""What plants wait for."""
EARLIER = timedelta(days=4)
"""Seedlings are thinned or moved on so long before their day at most. Assumed."""
CLEAR_WITHIN = timedelta(days=7)
"""A place is cleared within so long after it is empty. Assumed."""


class Task(Struct, frozen=True, kw_only=True):
    """A standing job with the day on which it is next due; `days` between two times, 0 where it comes once."""

    key: str
    says: str
    station: str
    who: Who
    minutes: float
    days: int
    due: date
    asked: bool
    why: str
    caution: str
    seen: bool = False
    """Somebody must see it run before a closure begins."""
    not_before: date | None = None
    """The first day on which it makes sense."""
    until: date | None = None
    """The last day on which it can be due."""
    ends: date | None = None
    """The last day on which it can be done: from then on nothing grows there, and it is dry."""
    rank: int = 1
    """Which find their days first: 0 what plants wait for, 1 what may slip, 2 what the round asks for by itself."""


def tasks(basis: Basis, courses: Mapping[str, Course], emptied: Mapping[str, date] | None = None) -> list[Task]:
    """Return every standing job of the room; where two stations share a tank or a lamp, its job comes once.

    `emptied` is station -> the last open day before a closure that leaves it harvested, clean and dry.
    """
    done = _Done(basis)
    found: dict[str, Task] = {}
    for place, checklist in places(basis):
        for name, duty in checklist.duty.items():
            for task in _of_duty(name, duty, place, checklist, basis, courses, done):
                found.setdefault(task.key, task)
    for job in done.open:
        if job.standing in found and job.due > basis.today:  # it was put off until then
            due = max(job.due, found[job.standing].due)
            found[job.standing] = msgspec.structs.replace(found[job.standing], due=due, not_before=job.due)
    dry = emptied or {}
    return [_ending(one, basis, dry) for one in found.values()] if dry else list(found.values())


def _ending(task: Task, basis: Basis, emptied: Mapping[str, date]) -> Task:
    """Return a job with the day on which it ends, where its station, or all on its tank, are emptied."""
    stations = [task.station]
    name, _, at = task.key.partition("/")
    change = name == CHANGE and at in basis.room.tanks
    if change:
        stations = [one.key for one in basis.room.stations if one.tank == at]
    if task.station == WHOLE_ROOM or not all(key in emptied for key in stations):
        return task
    leaving = max(emptied[key] for key in stations)
    # a solution that is poured away soon is not renewed first, and what is drained is scrubbed then
    last = leaving - timedelta(days=min(ceil(task.days / 2), NOT_RENEWED) if change else 1)
    return msgspec.structs.replace(task, ends=min(last, task.ends) if task.ends else last)


def _of_duty(
    name: str,
    duty: Duty,
    place: Place,
    checklist: Checklist,
    basis: Basis,
    courses: Mapping[str, Course],
    done: "_Done",
) -> Iterator[Task]:
    if not has(duty.needs, place):
        return
    drained = bool(place.tank and place.ended) and not place.plantings
    if drained and duty.at != "end of crop" and (name != CHANGE or _stands_dry(place.tank, basis)):
        return  # the next planting brings its jobs
    if duty.at == "lamp hours":
        yield from _lamps(name, duty, place, basis, done)
        return
    here = [one for one in place.plantings if fits(one, duty.needs, basis)]
    asked = bool(duty.settled_by) and checklist.find(duty.settled_by) is not None
    if duty.at in ("thin", "move on"):
        for planting in here:
            due = stage_day(duty, planting, checklist, basis, courses)
            key = f"{name}/{planting.key}"
            if due is not None and key not in done.days:
                crop = basis.crop(planting)
                says = f"{duty.says}: {crop.name if crop else planting.crop}"
                task = _task(key, duty, place.key, due, asked=asked, says=says, not_before=due - EARLIER)
                yield msgspec.structs.replace(task, caution=touching(duty.caution, [crop] if crop else []))
        return
    key = f"{name}/{place.tank if duty.needs.tank and place.tank else place.key}"
    if duty.at == "end of crop":
        if (due := cleared(place.plantings, place.ended, courses, done.days.get(key))) is not None:
            # what still grows is never cleared early; what is late only keeps the next crop waiting
            yield _task(key, duty, place.key, due + CLEAR_WITHIN, asked=asked, not_before=due)
    elif here or not asks_for_plants(duty.needs):
        yield from _again(key, name, duty, place, here, checklist, basis, courses, done)


def _again(
    key: str,
    name: str,
    duty: Duty,
    place: Place,
    here: list[Planting],
    checklist: Checklist,
    basis: Basis,
    courses: Mapping[str, Course],
    done: "_Done",
) -> Iterator[Task]:
    """Yield a job that comes every so many days."""
    last, days, why, earliest = done.days.get(key), duty.days, duty.why, None
    question = checklist.find(duty.settled_by) if duty.settled_by else None
    asked = question is not None
    if name == CHANGE and place.tank:
        days = basis.room.tanks[place.tank].change_days
        changed = basis.tanks.get(place.tank)
        last = _later(last, changed.changed if changed else None)
        # to know how old the solution is does not renew it: a job is made unless the round has made its own
        sharing = [one for one in basis.room.stations if one.tank == place.tank]
        asked = question is not None and done.ordered(question, [one.key for one in sharing])
        if len(sharing) > 1:
            why = f"{why} It is shared by {' and '.join(one.name for one in sharing)}.".strip()
    elif question is not None:
        last = _later(last, basis.looked.get((place.key, question.id)))
    due, until = turn(key, days, basis.today) if last is None else last + timedelta(days=days), None
    if duty.at == "train":
        begins, until = led(here, basis, courses)
        due = max(due, begins)
        if until is not None and due > until:
            return
    if name == CHANGE and place.tank:
        until = _drunk_until(place.tank, basis, courses)
        if until is not None and due > until:
            return
        # neither a closure nor a full week brings forward what was renewed a short while ago
        earliest = last + timedelta(days=ceil(days / 2)) if last is not None else None
    if until is None and here and place.key != WHOLE_ROOM and asks_for_plants(duty.needs):
        until = _stand_until(here, courses)
        if until is not None and due > until:
            return
    task = _task(key, duty, place.key, due, days=days, asked=asked, why=why, not_before=earliest)
    caution = touching(duty.caution, filter(None, map(basis.crop, here))) if duty.at == "train" else duty.caution
    yield msgspec.structs.replace(
        task, seen=name == CHANGE, until=until, rank=0 if name == CHANGE else task.rank, caution=caution
    )


def _stand_until(here: Iterable[Planting], courses: Mapping[str, Course]) -> date | None:
    """Return until when these plantings keep their places; None where one stays or it is not known."""
    ends = [course.until if (course := courses.get(one.key)) else None for one in here]
    return None if None in ends or not ends else max(day for day in ends if day is not None)


def _stands_dry(tank: str, basis: Basis) -> bool:
    """Say whether nothing drinks from a tank."""
    stations = {one.key for one in basis.room.stations if one.tank == tank}
    return not any(one.station in stations for one in basis.standing)


def _drunk_until(tank: str, basis: Basis, courses: Mapping[str, Course]) -> date | None:
    """Return the last day on which something is expected to drink from a tank; None where it stays or is not known."""
    stations = {one.key for one in basis.room.stations if one.tank == tank}
    return _stand_until((one for one in basis.standing if one.station in stations), courses)


def _task(
    key: str, duty: Duty, station: str, due: date, *, asked: bool, days: int = 0, says: str = "",
    why: str = "", not_before: date | None = None,
) -> Task:  # fmt: skip
    return Task(
        key=key,
        says=says or duty.says,
        station=station,
        who=duty.who,
        minutes=duty.minutes,
        days=days,
        due=due,
        asked=asked,
        why=why or duty.why,
        caution=duty.caution,
        not_before=not_before,
        rank=2 if asked else 0 if duty.at in AT_A_STAGE else 1,
    )


def _lamps(name: str, duty: Duty, place: Place, basis: Basis, done: "_Done") -> Iterator[Task]:
    """Yield a job for each lamp of which it is known since when it hangs."""
    for key, lamp in place.lamps.items():
        hangs = next((one for one in basis.room.stations if key in one.lamps), None)
        since = _later(lamp.since, done.days.get(f"{name}/{key}"))
        life = rated(lamp.kind, lamp.rated_hours)
        days = days_of(life.hours, lamp.hours) if life else None
        if since is None or life is None or days is None or not _is_one(lamp, duty.needs):
            continue
        try:
            due = since + timedelta(days=days)
        except OverflowError:
            continue
        why = f"{duty.why} {life.hours:,.0f} lit hours, {life.source}.".replace(",", " ", 1).strip()
        where = hangs.key if hangs else WHOLE_ROOM
        yield _task(f"{name}/{key}", duty, where, due, asked=False, says=f"{duty.says}: {key}", why=why)


def _is_one(lamp: Lamp, needs: Needs) -> bool:
    return not needs.lamps or lamp.kind in needs.lamps


class _Done:
    """What the records say of standing jobs."""

    def __init__(self, basis: Basis) -> None:
        self.days: dict[str, date] = {}
        """Key -> the last day on which the job was closed, done or given up for this time."""
        self.open: list[Job] = []
        for job in basis.jobs:
            if job.closed is None:
                self.open.append(job)
            elif job.standing:
                self.days[job.standing] = max(job.closed.date(), self.days.get(job.standing, date.min))

    def ordered(self, question: Question, stations: Iterable[str]) -> bool:
        """Say whether an answer to this question has made a job that is still open at one of these stations."""
        meanings = (question.reading.low, question.reading.high) if question.reading else question.choices
        wanted, places = {one.job for one in meanings if one.job}, set(stations)
        return any(job.what in wanted and job.station in places and not job.standing for job in self.open)


def _later(one: date | None, other: date | None) -> date | None:
    return max((day for day in (one, other) if day is not None), default=None)
