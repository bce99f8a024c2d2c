"""The life of a job: made, ordered, done or closed with a reason. Nothing is deleted."""

from collections.abc import Iterable
from datetime import date, datetime

import msgspec

from walkabout.checklist.model import VERDICTS
from walkabout.records.model import Finding, Happening, Job
from walkabout.room.model import WHO, Who, may

NO_HURRY = 24.0 * 365
"""Hours to loss of a job that no fault stands behind: such a job comes after all others."""


class NotAllowed(Exception):
    """Somebody in this role may not do that; the text says who may."""


def ordered(jobs: Iterable[Job]) -> list[Job]:
    """Return the open jobs by hours to loss, then by day, then by verdict."""
    still_open = (job for job in jobs if job.closed is None)
    return sorted(still_open, key=lambda job: (_hours(job), job.due, -_gravity(job), job.made, job.station, job.what))


def due(jobs: Iterable[Job], day: date) -> list[Job]:
    """Return what is open and due by `day`, in order."""
    return [job for job in ordered(jobs) if job.due <= day]


def done(job: Job, by: str, role: Who, now: datetime, says: str = "done") -> Job:
    """Return the job as done by somebody; NotAllowed when it asks for another role."""
    return _close(job, by, role, now, says, "done")


def give_up(job: Job, by: str, role: Who, now: datetime, reason: str) -> Job:
    """Return the job as closed undone, for a reason that must be given."""
    if not reason.strip():
        raise ValueError("A job is closed with a reason.")
    return _close(job, by, role, now, reason.strip(), reason.strip())


def put_off(job: Job, until: date, by: str, role: Who, now: datetime) -> Job:
    """Return the job as due later; who may not do it may not put it off either."""
    _must_be_allowed(job.who, role, "put off")
    says = f"put off from {job.due} to {until}"
    return msgspec.structs.replace(job, due=until, history=(*job.history, Happening(at=now, by=by, says=says)))


def after(job: Job, finding: Finding, today: date) -> Finding:
    """Return the finding behind a job that was done, with the day on which to look again."""
    days = job.recheck or finding.recheck_days
    return msgspec.structs.replace(finding, recheck=date.fromordinal(today.toordinal() + days))


def words_for(who: Who) -> str:
    """Say who may do it, as it stands beside a job."""
    return {"pupil": "pupil", "adult": "adult", "licensed": "licensed person"}[who]


def _close(job: Job, by: str, role: Who, now: datetime, says: str, reason: str) -> Job:
    _must_be_allowed(job.who, role, "close")
    history = (*job.history, Happening(at=now, by=by, says=says))
    return msgspec.structs.replace(job, closed=now, closed_by=by, reason=reason, history=history)


def _must_be_allowed(least: Who, role: Who, what: str) -> None:
    if not may(role, least):
        raise NotAllowed(f"Only {'an adult' if least == 'adult' else 'a licensed person'} may {what} this.")


def _hours(job: Job) -> float:
    return NO_HURRY if job.hours is None else job.hours


def _gravity(job: Job) -> int:
    return VERDICTS.index(job.verdict) if job.verdict else 0


def least_role(*roles: Who) -> Who:
    """Return the highest of the roles: what all the parts together ask for."""
    return max(roles, key=WHO.index, default="pupil")
