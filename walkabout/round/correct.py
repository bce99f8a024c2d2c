"""Putting an answer right: the new one stands in its place, the old one stays to be seen.

A correction keeps the moment of the look, so that trends and intervals stay true; its key says when
it was made, its walker who made it.
"""

from datetime import datetime

import msgspec
from msgspec import Struct

from walkabout.checklist.model import VERDICTS, Checklist, Question
from walkabout.jobs.plantings import as_of
from walkabout.records.model import Answer, Finding, Happening, Job, Planting, State
from walkabout.room.model import WHOLE_ROOM, may
from walkabout.round.advice import with_amounts
from walkabout.round.follow import ACT, Follows, follows, fresh_key, reopened, withdrawn
from walkabout.round.here import Here, stand_at, stand_in
from walkabout.round.history import History
from walkabout.round.judge import Judgement, judge_choices, judge_number
from walkabout.round.known import known_at
from walkabout.round.meter import Meant, meant, meant_at
from walkabout.round.opened import OpenRoom
from walkabout.round.slips import Doubt, doubt
from walkabout.round.wants import wanted_at


class Right(Struct, frozen=True, kw_only=True):
    """What should have been written down: choices, a value in the stored unit, a note, or a state."""

    state: State = "answered"
    choices: tuple[str, ...] = ()
    value: float | None = None
    note: str = ""


class Correction(Struct, frozen=True):
    """The new answer, what it means, and what changes with it."""

    answer: Answer
    judgement: Judgement
    findings: tuple[Finding, ...] = ()
    jobs: tuple[Job, ...] = ()
    newest: bool = True
    """Nobody has looked again since, so what it says still stands."""

    @property
    def records(self) -> tuple[Answer | Finding | Job, ...]:
        """All that is to be saved, together."""
        return (self.answer, *self.findings, *self.jobs)


def correction(opened: OpenRoom, old: Answer, right: Right, walker: str, reason: str) -> Correction:
    """Return what is to be saved when `old` is put right; nothing is saved here.

    Raises ValueError, in one sentence, without a reason, for what cannot be an answer, for what was
    put right already, and for a question that is no longer there.
    """
    question, checklist = asked(opened, old)
    if not reason.strip():
        raise ValueError("Say in a few words why it is put right.")
    row = opened.history.all(old.station, old.question)
    if not any(one.key == old.key for one in row):
        raise ValueError("It has been put right already: the newest answer counts.")
    now = opened.clock()
    read = _as_meant(opened, old, right, question)
    if right.value is not None:
        right = msgspec.structs.replace(right, value=read.value)
    judged = _judge(opened, old, right, question, checklist, trusted=not read.doubtful)
    answer = Answer(
        key=fresh_key(now),
        round=old.round,
        at=old.at,
        walker=walker,
        station=old.station,
        question=old.question,
        state=right.state,
        choices=right.choices,
        value=right.value,
        unit=question.reading.unit if question.reading is not None and right.value is not None else "",
        note=right.note.strip() or read.note,
        doubtful=read.doubtful,
        seconds=old.seconds,
        verdict=judged.verdict if right.state == "answered" else "",
        why=judged.why,
        shows=judged.shows,
        replaces=old.key,
        reason=reason.strip(),
    )
    later = [one for one in row if one.at > old.at and one.state == "answered"]
    then = _then(opened, old, answer, question, judged, later, now)
    return Correction(answer, judged, then.findings, then.jobs, newest=not later)


def asked(opened: OpenRoom, old: Answer) -> tuple[Question, Checklist]:
    """Return the question behind an answer and its checklist; ValueError when it is no longer asked."""
    question = opened.question(old.station, old.question)
    station = opened.room.station(old.station)
    checklist = opened.checklists.get(station.kind if station else WHOLE_ROOM)
    if question is None or checklist is None:
        raise ValueError("This question is no longer asked, so its answer stays as it is.")
    return question, checklist


def question_number(opened: OpenRoom, old: Answer, typed: float) -> Doubt | None:
    """Return why a number typed in place of another is questioned: the same doubts as on the round."""
    question, _ = asked(opened, old)
    if question.reading is None:
        return None
    last = _before(opened, old)
    days = (old.at - last.at).total_seconds() / 86400 if last else None
    return doubt(typed, question.reading, last, days, scales=opened.scales)


def before_it_was_right(history: History, answer: Answer) -> list[Answer]:
    """Return what this answer put right, the newest first; empty when it is no correction."""
    found: list[Answer] = []
    while (old := history.corrected(found[-1] if found else answer)) is not None:
        found.append(old)
    return found


def _before(opened: OpenRoom, old: Answer) -> Answer | None:
    rows = opened.history.all(old.station, old.question)
    return next((one for one in reversed(rows) if one.at < old.at and one.state == "answered"), None)


def _as_meant(opened: OpenRoom, old: Answer, right: Right, question: Question) -> Meant:
    """Return the right number as it is to be kept: it was read off the same meter."""
    if right.value is None or question.reading is None:
        return Meant(right.value or 0.0)
    if old.at.date() == opened.today():
        return meant_at(opened, old.station, right.value, question.reading)
    return meant(right.value, question.reading, known_at(opened, old.station), old.at.date(), opened.scales)


def _judge(
    opened: OpenRoom, old: Answer, right: Right, question: Question, checklist: Checklist, *, trusted: bool = True
) -> Judgement:
    """Judge the right answer by what stood there, and what was known, when somebody looked."""
    if right.state == "does not apply" and not question.may_not_apply:
        raise ValueError("This question always applies.")
    if right.state != "answered" or (not question.choices and question.reading is None):
        return Judgement("good")
    plantings = as_of(opened.plantings.values(), old.at.date())
    here = _stand(opened, old.station, plantings)
    if question.reading is None:
        known = [choice.id for choice in question.choices]
        if not right.choices or any(one not in known for one in right.choices):
            raise ValueError("That is not among the answers.")
        rows = opened.history.at_station(old.station)
        then = History(one for one in rows if one.at <= old.at and one.key != old.key)
        return judge_choices(question, right.choices, checklist, here, then, old.at)
    low, high = question.reading.possible
    if right.value is None or not low <= right.value <= high:
        raise ValueError("That number cannot be.")
    neighbours = [stand_at(opened.room, one, plantings, opened.crops) for one in opened.room.stations]
    wanted = wanted_at(here, neighbours, question.reading, scales=opened.scales)
    judged = judge_number(question, right.value, checklist, wanted, _before(opened, old), scales=opened.scales)
    if old.at.date() < opened.today() or not trusted:
        return judged  # how much was to be added then is of no use now
    return with_amounts(opened, old.station, judged, question.reading, right.value, wanted)


def _stand(opened: OpenRoom, key: str, plantings: list[Planting]) -> Here:
    station = opened.room.station(key)
    if station is None:
        return stand_in(opened.room, plantings, opened.crops)
    return stand_at(opened.room, station, plantings, opened.crops)


def _then(
    opened: OpenRoom,
    old: Answer,
    answer: Answer,
    question: Question,
    judged: Judgement,
    later: list[Answer],
    now: datetime,
) -> Follows:
    """Take back what the wrong answer did, and do what the right one asks for if nobody has looked since."""
    role = opened.room.role(answer.walker)
    findings, jobs = dict(opened.findings), dict(opened.jobs)
    reason = f"the answer was put right: {answer.reason}"
    still_shown = bool(later) and VERDICTS.index(later[-1].verdict or "good") >= ACT
    undone = withdrawn(old, answer.walker, findings, jobs, now, reason)
    if undone.findings and (still_shown or any(not may(role, one.who) for one in undone.findings)):
        says = "a later look shows it too" if still_shown else "waits for an adult to confirm"
        undone = _noted(old, answer.walker, findings, f"{reason}; {says}", now)
    findings |= {one.key: one for one in undone.findings}
    jobs |= {one.key: one for one in undone.jobs}
    if later or answer.state != "answered":
        return undone
    opened_again = Follows()
    if judged.verdict != "good":
        # the right answer measures too, so a measuring job that the wrong one ended stays closed
        others = {key: job for key, job in jobs.items() if not job.questions}
        why = "the answer that closed it was put right"
        opened_again = reopened(old, answer.walker, findings, others, now, why)
        findings |= {one.key: one for one in opened_again.findings}
        jobs |= {one.key: one for one in opened_again.jobs}
    # a measuring job made since the look asks for another look, which this is not
    asking = {key: job for key, job in jobs.items() if not job.questions or job.made <= old.at}
    then = follows(answer, question, judged, role, findings, asking, now)
    return Follows(
        tuple({one.key: one for part in (undone, opened_again, then) for one in part.findings}.values()),
        tuple({one.key: one for part in (undone, opened_again, then) for one in part.jobs}.values()),
    )


def _noted(old: Answer, by: str, findings: dict[str, Finding], says: str, now: datetime) -> Follows:
    """Leave the finding open, with a line in its history."""
    finding = findings[f"f-{old.key}"]
    line = Happening(at=now, by=by, says=says)
    return Follows((msgspec.structs.replace(finding, history=(*finding.history, line)),))
