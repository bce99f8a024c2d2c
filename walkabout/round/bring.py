"""What an answer on a walk brings about: findings, jobs, the questions behind it, and other answers judged anew."""

from datetime import datetime

from walkabout.records.model import Answer, Finding, Job, State
from walkabout.round.anew import hangs_on, judged_anew
from walkabout.round.course import Course, Step
from walkabout.round.follow import Follows, follows, reopened, withdrawn
from walkabout.round.judge import Judgement
from walkabout.round.measuring import job_for_others

Meant = tuple[int, Answer, Judgement]
"""The place of an answer on the course, the answer, and what it means."""


def anew_here(course: Course, step: Step, now: datetime) -> list[Meant]:
    """Judge once more what was answered at this station before and hangs on the answer just given."""
    found: list[Meant] = []
    for place, given in course.given.items():
        asked = course.asked[place]
        question = step.checklist.find(asked.question)
        if place == course.at or asked.station != step.here.key or question is None:
            continue
        if hangs_on(question, given.choices, step.question.id):
            anew = judged_anew(given, question, step.checklist, step.here, course.opened.history, now)
            if anew is not None:
                found.append((place, *anew))
    return found


def brought_about(course: Course, meant: list[Meant], answer: Answer, now: datetime) -> list[Answer | Finding | Job]:
    """Return all that is to be written down, `answer` first; what is to be asked next is put into the course."""
    opened = course.opened
    role = opened.room.role(answer.walker)
    findings, jobs = dict(opened.findings), dict(opened.jobs)
    changed: dict[str, Finding | Job] = {}
    late: list[Answer] = []
    asking: list[tuple[Step, Judgement]] = []
    for place, one, judged in meant:
        step = course.step_at(place)
        if step is None:
            continue
        asking.append((step, judged))
        then = follows(one, step.question, judged, role, findings, jobs, now)
        findings |= {finding.key: finding for finding in then.findings}
        jobs |= {job.key: job for job in then.jobs}
        changed.update({finding.key: finding for finding in then.findings})
        changed.update({job.key: job for job in then.jobs})
        if one is not answer:
            course.given[place] = one
            late.append(one)
    # what follows from the answer just given comes before what follows from earlier ones
    for step, judged in reversed(asking):
        others = course.ask_next(step, judged, role)
        for_others = job_for_others(opened, step.here.key, others, answer.walker, now, judged.hours)
        changed.update({job.key: job for job in for_others})
    return [answer, *late, *changed.values()]


def taken_back(
    course: Course, before: Answer, walker: str, judged: Judgement, now: datetime, state: State
) -> list[Finding | Job]:
    """Return what the answer before had opened, closed, and what it had closed, open if the right one finds fault."""
    opened, why = course.opened, "the answer was put right"
    findings, jobs = dict(opened.findings), dict(opened.jobs)
    undone = withdrawn(before, walker, findings, jobs, now, why)
    findings |= {one.key: one for one in undone.findings}
    jobs |= {one.key: one for one in undone.jobs}
    again = Follows()
    if state != "answered" or judged.verdict != "good":
        again = reopened(before, walker, findings, jobs, now, why)
    return [*undone.findings, *undone.jobs, *again.findings, *again.jobs]
