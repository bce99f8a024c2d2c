"""What follows from a judged answer: findings opened or cleared, jobs made or closed."""

from datetime import date, datetime, timedelta

import msgspec
from msgspec import Struct

from walkabout.checklist.model import VERDICTS, Question
from walkabout.jobs.findings import LOOK_AGAIN, RECHECK_DAYS, clear, open_at, seen_again
from walkabout.jobs.life import least_role
from walkabout.jobs.make import already_asked, from_meaning
from walkabout.records.keys import new_key
from walkabout.records.model import Answer, Finding, Happening, Job
from walkabout.room.model import Who, may
from walkabout.round.judge import Judgement

ACT = VERDICTS.index("today")


class Follows(Struct, frozen=True):
    """What is to be written down because of an answer."""

    findings: tuple[Finding, ...] = ()
    jobs: tuple[Job, ...] = ()


def follows(
    answer: Answer,
    question: Question,
    judgement: Judgement,
    role: Who,
    findings: dict[str, Finding],
    jobs: dict[str, Job],
    now: datetime,
) -> Follows:
    """Return the findings and jobs that an answer opens, moves on or clears."""
    before = _finding_behind(answer, question, findings)
    asked_for = [job for job in jobs.values() if job.closed is None and question.id in job.questions]
    measured = tuple(
        _measured(job, answer, now) for job in asked_for if job.station == answer.station and len(job.questions) == 1
    )
    shorter = tuple(
        msgspec.structs.replace(job, questions=tuple(one for one in job.questions if one != question.id))
        for job in asked_for
        if job.station == answer.station and len(job.questions) > 1
    )
    done = (*measured, *shorter)
    says = judgement.why or "as it should be"
    if VERDICTS.index(judgement.verdict) < ACT:
        if before is None:
            return Follows((), (*done, *_made(answer, judgement, "", jobs, now)))
        if judgement.verdict == "watch":
            made = _made(answer, judgement, before.key, jobs, now)
            return Follows((seen_again(before, answer.walker, now, says),), (*done, *made))
        cleared = clear(before, answer.walker, role, now, "looked at again: as it should be")
        # a pupil's look does not end what an adult was asked to do
        over = tuple(
            _over(job, answer, now) for job in jobs.values() if _ends_with(job, cleared) and may(role, job.who)
        )
        stale = tuple(
            _in_doubt(job, answer, now)
            for job in jobs.values()
            if answer.value is not None and job.closed is None and job.finding == before.key and not may(role, job.who)
        )
        return Follows((cleared,), (*done, *over, *stale))
    if before is not None:
        finding = _graver(seen_again(before, answer.walker, now, says), answer, question, judgement)
    else:
        finding = _opened(answer, question, judgement, now)
    return Follows((finding,), (*done, *_made(answer, judgement, finding.key, jobs, now)))


def _made(answer: Answer, judgement: Judgement, finding: str, jobs: dict[str, Job], now: datetime) -> list[Job]:
    """Return the jobs that the answer asks for and that nobody has been asked to do yet."""
    made: list[Job] = []
    for meaning in judgement.meanings:
        job = from_meaning(
            meaning, station=answer.station, by=answer.walker, now=now, hours=judgement.hours, finding=finding
        )
        if job is None or already_asked([*jobs.values(), *made], job) is not None:
            continue
        before = next((one for one in jobs.values() if _reckoned_before(one, job, answer)), None)
        made.append(_reckoned_anew(before, job) if before is not None else job)
    return made


def _reckoned_before(job: Job, new: Job, answer: Answer) -> bool:
    """A second reading of the same fault asks for another amount, perhaps of somebody else, not for a second job."""
    same = (job.station, job.finding) == (new.station, new.finding)
    return same and answer.value is not None and job.closed is None and bool(job.finding) and not job.questions


def _reckoned_anew(job: Job, new: Job) -> Job:
    """Return the open job with what the new reading asks for."""
    says = Happening(at=new.made, by=new.by, says=f"reckoned anew: {new.what}")
    return msgspec.structs.replace(
        job,
        what=new.what,
        who=new.who,
        due=min(job.due, new.due),
        verdict=new.verdict,
        hours=min((one.hours for one in (job, new) if one.hours is not None), default=None),
        why=new.why,
        caution=new.caution,
        history=(*job.history, says),
    )


def withdrawn(
    answer: Answer, by: str, findings: dict[str, Finding], jobs: dict[str, Job], now: datetime, reason: str
) -> Follows:
    """Return what an answer had opened, closed because the answer was put right."""
    opened = tuple(one for one in findings.values() if one.closed is None and one.key == f"f-{answer.key}")
    keys = {one.key for one in opened}
    gone = Happening(at=now, by=by, says=f"closed: {reason}")
    return Follows(
        tuple(
            msgspec.structs.replace(one, closed=now, recheck=None, reason=reason, history=(*one.history, gone))
            for one in opened
        ),
        tuple(
            msgspec.structs.replace(one, closed=now, closed_by=by, reason=reason, history=(*one.history, gone))
            for one in jobs.values()
            if one.closed is None and one.finding in keys
        ),
    )


def reopened(
    answer: Answer, by: str, findings: dict[str, Finding], jobs: dict[str, Job], now: datetime, reason: str
) -> Follows:
    """Return what a wrong 'all is well' had closed, open again because the answer was put right."""
    closed = [
        one
        for one in findings.values()
        if one.closed == answer.at
        and one.station == answer.station
        and answer.question in (one.question, LOOK_AGAIN + one.key)
    ]
    keys = {one.key for one in closed}
    again = Happening(at=now, by=by, says=f"open again: {reason}")
    return Follows(
        tuple(
            msgspec.structs.replace(one, closed=None, recheck=now.date(), reason="", history=(*one.history, again))
            for one in closed
        ),
        tuple(
            msgspec.structs.replace(one, closed=None, closed_by="", reason="", history=(*one.history, again))
            for one in jobs.values()
            if one.closed == answer.at
            and (one.finding in keys or (one.station == answer.station and one.questions == (answer.question,)))
        ),
    )


def _finding_behind(answer: Answer, question: Question, findings: dict[str, Finding]) -> Finding | None:
    if question.id.startswith(LOOK_AGAIN):
        found = findings.get(question.id.removeprefix(LOOK_AGAIN))
        return found if found is not None and found.closed is None else None
    return open_at(findings.values(), answer.station, question.id)


def _opened(answer: Answer, question: Question, judgement: Judgement, now: datetime) -> Finding:
    """Open a finding under a key that leads back to the answer."""
    worst = judgement.meanings[0]
    days = worst.recheck or RECHECK_DAYS[judgement.verdict]
    picked = [choice.says for choice in question.choices if choice.id in answer.choices]
    seen = f"{question.ask.rstrip('?')}: {', '.join(picked)}" if picked else judgement.why
    # a second look at what was closed meanwhile opens a finding of its own
    flagged = answer.question.startswith(LOOK_AGAIN)
    until = answer.at.date() + timedelta(days=max((one.hold_days for one in judgement.meanings), default=0))
    return Finding(
        key=f"f-{answer.key}",
        station=answer.station,
        seen=seen,
        verdict=judgement.verdict,
        by=answer.walker,
        at=answer.at,
        signs=() if flagged else answer.choices,
        question="" if flagged else answer.question,
        who=_who_closes(judgement),
        recheck=answer.at.date() + timedelta(days=days),
        recheck_days=days,
        history=(Happening(at=now, by=answer.walker, says=_first_line(seen, until, answer.at.date())),),
    )


def _graver(finding: Finding, answer: Answer, question: Question, judgement: Judgement) -> Finding:
    """Return a finding that was seen again: where it has grown worse, it is looked at as what it is now."""
    if VERDICTS.index(judgement.verdict) <= VERDICTS.index(finding.verdict or "good"):
        return finding
    now = _opened(answer, question, judgement, answer.at)
    days = min(now.recheck_days, finding.recheck_days)
    return msgspec.structs.replace(
        finding,
        seen=now.seen if now.question else finding.seen,
        verdict=now.verdict,
        signs=tuple(dict.fromkeys((*finding.signs, *now.signs))),
        who=least_role(finding.who, now.who),
        recheck=answer.at.date() + timedelta(days=days),
        recheck_days=days,
    )


def _who_closes(judgement: Judgement) -> Who:
    return judgement.meanings[0].who if judgement.verdict == "today" else "adult"


def _first_line(seen: str, until: date, today: date) -> str:
    return f"seen: {seen}" + (f"; kept apart until {until.isoformat()}" if until > today else "")


def _measured(job: Job, answer: Answer, now: datetime) -> Job:
    done = Happening(at=now, by=answer.walker, says="measured and written down")
    return msgspec.structs.replace(
        job, closed=now, closed_by=answer.walker, reason="measured", history=(*job.history, done)
    )


def _ends_with(job: Job, finding: Finding) -> bool:
    return job.closed is None and job.finding == finding.key and finding.closed is not None


READ_AGAIN = "Read again first, it was read as good since. "


def _in_doubt(job: Job, answer: Answer, now: datetime) -> Job:
    """An amount that was worked out must not be poured into a tank that somebody has read as good since."""
    if job.what.startswith(READ_AGAIN):
        return job
    says = Happening(at=now, by=answer.walker, says="read as it should be: read again before anything is added")
    return msgspec.structs.replace(job, what=f"{READ_AGAIN}{job.what}", history=(*job.history, says))


def _over(job: Job, answer: Answer, now: datetime) -> Job:
    reason = "no longer needed: clear at the next look"
    return msgspec.structs.replace(
        job,
        closed=now,
        closed_by=answer.walker,
        reason=reason,
        history=(*job.history, Happening(at=now, by=answer.walker, says=reason)),
    )


def fresh_key(now: datetime) -> str:
    """Return a key for a new answer."""
    return new_key("a", now)
