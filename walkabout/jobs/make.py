"""From what an answer means to the job that it asks for."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from walkabout.checklist.model import Meaning, Question
from walkabout.jobs.life import least_role
from walkabout.records.keys import new_key
from walkabout.records.model import Finding, Happening, Job, Verdict
from walkabout.room.model import Who

if TYPE_CHECKING:
    from walkabout.diagnosis.plan import ToDo  # its arithmetic is loaded only for a lookup

HOURS: dict[str, float] = {"stop": 0, "now": 4, "today": 24}
"""Hours to loss behind a verdict when no fault names them. Assumed, so that graver goes first."""

STEP_HOURS: Mapping[str, float] = {"now": 24, "next": 72}
"""Hours to loss behind a step of a lookup; what is done only if it stays has none. Assumed."""


def from_meaning(
    meaning: Meaning,
    *,
    station: str,
    by: str,
    now: datetime,
    hours: float | None,
    finding: str = "",
) -> Job | None:
    """Return the job behind an answer, or None when the first act ends the matter.

    `hours` are the hours to loss of the fault shown, None when the answer names no fault.
    """
    if not meaning.job:
        return None
    return Job(
        key=new_key("j", now),
        what=meaning.job,
        station=station,
        who=meaning.who,
        due=now.date() + timedelta(days=meaning.days),
        made=now,
        by=by,
        verdict=meaning.verdict,
        hours=hours if hours is not None else HOURS.get(meaning.verdict),
        why=meaning.why,
        caution=meaning.caution,
        finding=finding,
        recheck=meaning.recheck,
        history=(Happening(at=now, by=by, says="made"),),
    )


def from_finding(finding: Finding) -> Job | None:
    """Return the job behind a flagged finding: what is grave asks an adult to decide."""
    if finding.verdict not in HOURS:
        return None
    return Job(
        key=new_key("j", finding.at),
        what=f"Decide what to do: {finding.seen}",
        station=finding.station,
        who="adult",
        due=finding.at.date(),
        made=finding.at,
        by=finding.by,
        verdict=finding.verdict,
        hours=HOURS[finding.verdict],
        why="It was flagged as wrong.",
        finding=finding.key,
        recheck=finding.recheck_days,
        history=(Happening(at=finding.at, by=finding.by, says="made"),),
    )


def from_step(step: "ToDo", *, station: str, by: str, now: datetime, why: str, finding: str = "") -> Job:
    """Return the job behind a step of a lookup: due today, tomorrow, or after the days in which it may go by itself.

    What is put on plants is never for a pupil, whatever the step says.
    """
    days = {"now": 0, "next": 1}.get(step.when, step.recheck)
    verdict: Verdict = "today" if step.when == "now" else "watch"
    return Job(
        key=new_key("j", now),
        what=step.step,
        station=station,
        who=least_role(step.who, "adult") if puts_on(step) else step.who,
        due=now.date() + timedelta(days=days),
        made=now,
        by=by,
        verdict=verdict,
        hours=STEP_HOURS.get(step.when),
        why=why,
        caution=caution_of(step),
        finding=finding,
        recheck=step.recheck,
        treats=puts_on(step),
        history=(Happening(at=now, by=by, says="made after a lookup"),),
    )


def puts_on(step: "ToDo") -> bool:
    """Say whether a step puts something on plants, so that a waiting time belongs to it."""
    return step.pesticide or step.wait_days is not None


def caution_of(step: "ToDo") -> str:
    """Return the danger of a step in one line, with the days on which nothing is eaten afterwards."""
    waits = f"Nothing from the plant is eaten for {_days(step.wait_days)} after this." if step.wait_days else ""
    return " ".join(part for part in (step.caution, waits) if part)


def _days(count: int) -> str:
    return f"{count} day{'s' if count != 1 else ''}"


def to_measure(
    questions: Sequence[Question],
    *,
    station: str,
    who: Who,
    by: str,
    now: datetime,
    hours: float | None,
    why: str,
) -> Job:
    """Return the job of answering slow questions of one station that do not fit the round."""
    verb = "Measure" if any(question.reading for question in questions) else "Look"
    return Job(
        key=new_key("j", now),
        what=f"{verb} and write down: {', '.join(_subject(question) for question in questions)}",
        station=station,
        who=who,
        due=now.date(),
        made=now,
        by=by,
        verdict="watch",
        hours=hours,
        why=why,
        questions=tuple(question.id for question in questions),
        history=(Happening(at=now, by=by, says="made: it did not fit the round"),),
    )


def _subject(question: Question) -> str:
    """Name in a word or two what a question looks at."""
    named = question.reading.quantity if question.reading else "count"
    return question.id.replace("-", " ") if named in ("count", "time", "level", "volume", "mass") else named


def already_asked(jobs: Iterable[Job], new: Job) -> Job | None:
    """Return the open job that already asks for the same at the same station."""
    return next(
        (job for job in jobs if job.closed is None and (job.station, job.what) == (new.station, new.what)),
        None,
    )
