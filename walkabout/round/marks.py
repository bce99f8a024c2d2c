"""What was done at a station, as marks beside its readings: solution changes, doses, moves, findings, treatments."""

from collections.abc import Iterable, Iterator
from datetime import date, datetime, time, timedelta

from walkabout.checklist.model import Checklist
from walkabout.growing.counting import counted
from walkabout.insight.series import Mark
from walkabout.records.model import Answer, Job, Planting
from walkabout.room.mistakes import shortened
from walkabout.round.held import Held

CHANGE = "change"
"""The standing job of a checklist that renews the solution; the question that settles it tells the day."""
CHANGED = "the solution was changed"
LONGEST = 300
"""Characters of what was written down that are quoted beside a mark."""


def marks_of(opened: Held, station: str, since: date, changes: Iterable[Answer]) -> tuple[Mark, ...]:
    """Return the marks of a station from a day on, the oldest first.

    `changes` are the answers to the questions that `change_questions` names: how many days ago the solution was
    renewed. Stations on the same tank share its solution, so what was done to it at one counts for all.
    """
    sharing = opened.sharing(station) or (station,)
    found = [
        *_tank(opened, sharing, changes),
        *(mark for one in opened.plantings.values() for mark in _of_planting(opened, one, station)),
        *(
            Mark(one.at, "finding", f'somebody noticed: "{shortened(one.seen, LONGEST)}"')
            for one in opened.findings.values()
            if one.station == station
        ),
        *(
            Mark(_noon(opened, one.day), "treatment", f"plants were treated: {shortened(one.what, LONGEST)}")
            for one in opened.treatments.values()
            if one.station == station
        ),
    ]
    return tuple(sorted((mark for mark in found if mark.at.date() >= since), key=lambda mark: mark.at.timestamp()))


def change_questions(opened: Held, station: str) -> list[tuple[str, str]]:
    """Return (station, question) of every question that tells when the solution here was renewed."""
    found = []
    for key in opened.sharing(station) or (station,):
        checklist = _checklist(opened, key)
        duty = checklist.duty.get(CHANGE) if checklist is not None else None
        if duty is not None and duty.settled_by:
            found.append((key, duty.settled_by))
    return found


def _tank(opened: Held, sharing: tuple[str, ...], answers: Iterable[Answer]) -> Iterator[Mark]:
    """Yield what was done to the solution; changes within a day of each other are one, however many records tell it."""
    told = [one.at - timedelta(days=one.value) for one in answers if one.value is not None and one.value >= 0]
    jobs = list(_jobs(opened, sharing))
    yield from (mark for mark in jobs if mark.kind != "solution")
    last: date | None = None
    for moment in sorted([*told, *(mark.at for mark in jobs if mark.kind == "solution")], key=datetime.timestamp):
        if last is None or (moment.date() - last).days > 1:
            yield Mark(moment, "solution", CHANGED)
        last = moment.date()


def _jobs(opened: Held, sharing: tuple[str, ...]) -> Iterator[Mark]:
    """Yield what was done to the solution: standing changes, and the jobs that readings of the tank asked for."""
    for job in opened.jobs.values():
        if job.station not in sharing or job.closed is None or job.reason != "done":
            continue
        if job.standing.partition("/")[0] == CHANGE or _is_change(opened, job):
            yield Mark(job.closed, "solution", CHANGED)
        elif _of_the_tank(opened, job):
            yield Mark(job.closed, "dose", f'a job was done: "{shortened(job.what, LONGEST)}"')


def _is_change(opened: Held, job: Job) -> bool:
    finding = opened.findings.get(job.finding)
    return finding is not None and (finding.station, finding.question) in change_questions(opened, job.station)


def _of_the_tank(opened: Held, job: Job) -> bool:
    finding = opened.findings.get(job.finding)
    question = opened.question(finding.station, finding.question) if finding is not None else None
    return question is not None and question.reading is not None and question.needs.tank


def _of_planting(opened: Held, planting: Planting, station: str) -> Iterator[Mark]:
    """Yield the comings and goings of a planting, and what was picked or lost of it while it stood here."""
    crop = opened.crops.find(planting.crop)
    name = crop.name if crop is not None else planting.crop
    before = ""
    for number, move in enumerate(planting.moves):
        sown = number == 0 and not planting.brought_in
        if move.station == station and before != station:
            yield Mark(_noon(opened, move.day), "move", f"{name} was sown here" if sown else f"{name} came here")
        elif before == station and move.station != station:
            yield Mark(_noon(opened, move.day), "move", f"{name} went to {opened.name_of(move.station)}")
        before = move.station
    for picking in planting.pickings:
        if _stood(planting, picking.day) == station:
            much = f"{picking.grams:g} g of {name}" if picking.grams else name
            yield Mark(_noon(opened, picking.day), "picking", f"{much} was picked")
    for loss in planting.losses:
        if _stood(planting, loss.day) == station:
            plants = f"{counted(loss.count, crop)} of {name}"
            yield Mark(_noon(opened, loss.day), "loss", f"{plants} {'were' if loss.count != 1 else 'was'} lost")


def _stood(planting: Planting, day: date) -> str:
    return next((move.station for move in reversed(planting.moves) if move.day <= day), "")


def _checklist(opened: Held, key: str) -> Checklist | None:
    station = opened.room.station(key)
    return opened.checklists.get(station.kind) if station is not None else None


def _noon(opened: Held, day: date) -> datetime:
    return datetime.combine(day, time(12), tzinfo=opened.clock().tzinfo)
