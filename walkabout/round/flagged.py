"""Flagging a finding, with the job that follows from it: the same for every face."""

from msgspec import Struct

from walkabout.jobs.findings import flag
from walkabout.jobs.make import from_finding
from walkabout.records.model import Finding, Job, Verdict
from walkabout.round.opened import OpenRoom


class Flagged(Struct, frozen=True):
    """What was written down: the finding, the job if it is grave, and why it is only in memory ('' on disk)."""

    finding: Finding
    job: Job | None
    unsaved: str = ""


def flag_finding(
    opened: OpenRoom, station: str, seen: str, verdict: Verdict, by: str, signs: tuple[str, ...] = ()
) -> Flagged:
    """Write a finding down; ValueError when nothing was said about what is seen."""
    finding = flag(station=station, seen=seen, verdict=verdict, by=by, now=opened.clock(), signs=signs)
    job = from_finding(finding)
    unsaved = opened.save(finding, job) if job else opened.save(finding)
    return Flagged(finding, job, unsaved)
