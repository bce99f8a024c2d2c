"""Jobs of the day: slow looks that did not fit the round, and those that ask for another role."""

from datetime import datetime

from walkabout.checklist.model import Question
from walkabout.jobs.make import already_asked, to_measure
from walkabout.records.model import Job
from walkabout.round.due import Due
from walkabout.round.opened import OpenRoom
from walkabout.round.plan import ANOTHER, PUT_BY, Plan


def jobs_of_the_day(opened: OpenRoom, plan: Plan, walker: str, now: datetime) -> list[Job]:
    """Make one job for each station and role out of the slow looks that did not fit."""
    groups: dict[tuple[str, str], list[Due]] = {}
    for one in plan.jobs:
        groups.setdefault((one.here.key, one.question.who), []).append(one)
    made: list[Job] = []
    for (station, _), dues in groups.items():
        questions = _not_in_a_job(opened, station, [one.question for one in dues])
        if not questions:
            continue
        fits = all(one.for_walker for one in dues)
        # what is not vital has time: only a fault that comes before the next round makes measuring urgent
        hours = min((one.hours for one in dues if one.vital and one.hours is not None), default=None)
        job = to_measure(
            questions,
            station=station,
            who=dues[0].question.who,
            by=walker,
            now=now,
            hours=hours,
            why=PUT_BY if fits else ANOTHER,
        )
        if already_asked(opened.jobs.values(), job) is None:
            made.append(job)
    return made


def job_for_others(
    opened: OpenRoom, station: str, questions: list[Question], walker: str, now: datetime, hours: float | None
) -> list[Job]:
    """Return the jobs for what follows from an answer but asks for another role than the walker's."""
    made: list[Job] = []
    for who in dict.fromkeys(question.who for question in questions):
        mine = [one for one in _not_in_a_job(opened, station, questions) if one.who == who]
        if mine:
            made.append(to_measure(mine, station=station, who=who, by=walker, now=now, hours=hours, why=ANOTHER))
    return made


def _not_in_a_job(opened: OpenRoom, station: str, questions: list[Question]) -> list[Question]:
    """Leave out the questions that an open job of the station asks for already."""
    still = [job for job in opened.jobs.values() if job.closed is None and job.station == station]
    asked = {name for job in still for name in job.questions}
    return [one for one in questions if one.id not in asked]
