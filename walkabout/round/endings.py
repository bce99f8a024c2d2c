"""What ends a job or a finding, or moves it on: the records to write and the sentence that says so.

NotAllowed is passed on when the code's role is not enough; nothing is to be written then.
"""

from datetime import date, datetime, timedelta

from msgspec import Struct

from walkabout.jobs import findings, life
from walkabout.jobs.treatments import treated
from walkabout.records.model import Finding, Job, Treatment
from walkabout.records.sums import edible_from
from walkabout.room.model import Who, may
from walkabout.round.opened import OpenRoom, Record

FOR: dict[Who, str] = {"pupil": "anybody", "adult": "an adult", "licensed": "a licensed person"}
"""Who may do it, as it is said in a sentence."""


class Ending(Struct, frozen=True):
    """What is to be written down together, and what to say once it is."""

    records: tuple[Record, ...]
    says: str


def finish(
    opened: OpenRoom,
    job: Job,
    code: str,
    now: datetime,
    *,
    wait_days: int | None = None,
    entry_hours: float | None = None,
) -> Ending:
    """Return the job as done, and the finding behind it with the day on which to look again.

    A job that puts something on plants leaves a treatment behind; while its waiting time is not known (None),
    nothing that was treated may be eaten.
    """
    role = opened.room.role(code)
    done = life.done(job, code, role, now)
    put_on = (treated(job, wait_days, entry_hours, code, role, now),) if job.treats else ()
    waits = f". {eaten_again_words(put_on[0])}" if put_on else ""
    behind = opened.findings.get(job.finding)
    if behind is None or behind.closed is not None:
        return Ending((done, *put_on), f"Done: {job.what}{waits}")
    again = life.after(done, behind, now.date())
    return Ending((done, *put_on, again), f"Done: {job.what}{waits}. {look_again_words(again, now.date())}")


def give_up(opened: OpenRoom, job: Job, code: str, now: datetime, reason: str) -> Ending:
    """Return the job as closed undone."""
    closed = life.give_up(job, code, opened.room.role(code), now, reason)
    return Ending((closed,), f"Closed without being done: {job.what}")


def put_off(opened: OpenRoom, job: Job, code: str, now: datetime, until: date) -> Ending:
    """Return the job as due later, with a warning when what it is for does not last so long."""
    later = life.put_off(job, until, code, opened.room.role(code), now)
    lost = job.made + timedelta(hours=job.hours) if job.hours is not None else None
    warns = ". Plants may be lost before that day." if lost is not None and lost.date() < until else ""
    return Ending((later,), f"Put off to {long_day(until)}: {job.what}{warns}")


def gone(opened: OpenRoom, finding: Finding, code: str, now: datetime) -> Ending:
    """Return the finding after a look that no longer shows it: closed, or waiting for somebody who may close it."""
    cleared = findings.clear(finding, code, opened.room.role(code), now, "looked at again: gone")
    if cleared.closed is None:
        return Ending((cleared,), f"Written down. It waits for {FOR[finding.who]} to confirm.")
    jobs, left = _jobs_behind(opened, finding, code, now, "no longer needed: gone at the next look")
    return Ending((cleared, *jobs), f"Gone, and closed: {finding.seen}{left}")


def still_there(_opened: OpenRoom, finding: Finding, code: str, now: datetime) -> Ending:
    """Return the finding after a look that still shows it."""
    again = findings.seen_again(finding, code, now, "looked at again: still there")
    return Ending((again,), f"Still there, written down. {look_again_words(again, now.date())}")


def close(opened: OpenRoom, finding: Finding, code: str, now: datetime, reason: str) -> Ending:
    """Return the finding as closed, with the jobs that end with it."""
    closed = findings.close(finding, code, opened.room.role(code), now, reason)
    jobs, left = _jobs_behind(opened, finding, code, now, f"the finding was closed: {reason}")
    return Ending((closed, *jobs), f"Closed: {finding.seen}{left}")


def _jobs_behind(
    opened: OpenRoom, finding: Finding, code: str, now: datetime, reason: str
) -> tuple[tuple[Job, ...], str]:
    """Return the jobs that end with a finding, closed, and a word on one that this code may not close."""
    role = opened.room.role(code)
    behind = [job for job in life.ordered(opened.jobs.values()) if job.finding == finding.key]
    closed = tuple(life.give_up(job, code, role, now, reason) for job in behind if may(role, job.who))
    kept = [job for job in behind if not may(role, job.who)]
    return closed, f". Its job stays open for {FOR[kept[0].who]}." if kept else ""


def eaten_again_words(one: Treatment) -> str:
    """Say from when on what was treated may be eaten, without a full stop."""
    until = edible_from(one)
    if until is None:
        return "Nothing from there is eaten until the waiting time is filled in"
    return f"Nothing from there is eaten before {long_day(until)}" if one.wait_days else "The label asks for no wait"


def long_day(day: date) -> str:
    """Say a day in full: 'Thursday 26 Nov'."""
    return f"{day:%A} {day.day} {day:%b}"


def look_again_words(finding: Finding, today: date) -> str:
    """Say when a finding is looked at again; '' when it is not."""
    if finding.recheck is None:
        return ""
    days = (finding.recheck - today).days
    near = "today, " if days == 0 else "tomorrow, " if days == 1 else "on "
    return f"Look again {near}{long_day(finding.recheck)}."
