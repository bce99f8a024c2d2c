"""What the demo's people do after the round: jobs, measuring, correcting and renewing solutions."""

from collections.abc import Callable
from datetime import date
from random import Random

from walkabout.demo.clock import DemoClock
from walkabout.demo.helpers import Helper, somebody
from walkabout.demo.state import State
from walkabout.jobs.findings import close, flag, still_open
from walkabout.jobs.life import after, done, ordered
from walkabout.jobs.make import from_finding, to_measure
from walkabout.records.model import Finding, Job, Verdict
from walkabout.room.model import Room, may
from walkabout.round.opened import OpenRoom

SAME_DAY = 0.8
"""The chance that a job is done on the day on which it is due; what is grave is always done. Assumed."""

CONFIRMED = 0.6
"""The chance that an adult looks on the same day at what a pupil found clear. Assumed."""

WAITS = "waits for an adult to confirm"
"""How the last line of a finding ends that a pupil found clear and may not close."""

_SAID = ("done", "done", "done, looks better", "done, told the others", "done together")

Measuring = Callable[[Job, Helper], None]
"""Answers the questions of a measuring job."""


def do_jobs(
    opened: OpenRoom, clock: DemoClock, state: State, rng: Random, measuring: Measuring, left: Callable[[Job], bool]
) -> None:
    """Do today's jobs, the most urgent first; `left` says which are left for another day."""
    day = opened.today()
    for key in [job.key for job in ordered(opened.jobs.values()) if job.due <= day]:
        job = opened.jobs[key]
        grave = job.verdict in ("now", "stop")
        helper = somebody(job.who, rng)
        lucky = rng.random() < SAME_DAY
        if job.closed is not None or left(job) or not (grave or lucky):
            continue
        if not may(opened.room.role(helper.code), job.who):
            continue  # it waits for a licensed person
        clock.wait(rng.randint(60, 600))
        if job.questions:
            measuring(job, helper)
        else:
            _do(opened, job, helper, state, rng)


def _do(opened: OpenRoom, job: Job, helper: Helper, state: State, rng: Random) -> None:
    now = opened.clock()
    closed = done(job, helper.code, opened.room.role(helper.code), now, rng.choice(_SAID))
    finding = opened.findings.get(job.finding)
    if finding is not None:
        _mend(state, job.station, finding.question)
    if job.standing.startswith("change/"):
        _mend(state, job.station, "change-due")
    if finding is not None and finding.closed is None:
        opened.save(closed, after(closed, finding, now.date()))
    else:
        opened.save(closed)


def _mend(state: State, station: str, question: str) -> None:
    """Let a job that was done change the solution."""
    solution = state.solutions.get(station)
    if solution is None:
        return
    if question == "ph":
        solution.ph = solution.ph_wanted
    elif question == "ec":
        solution.ec = solution.ec_wanted
    elif question == "change-due":
        solution.renew(state.day)
    elif question == "level":
        solution.top_up()


def renew_solutions(room: Room, state: State, day: date, rng: Random, as_they_are: frozenset[str]) -> None:
    """Renew what is due by its tank's own days; now and then somebody forgets, and some are left as they are."""
    for station in room.stations:
        solution = state.solutions.get(station.key)
        tank = room.tanks.get(station.tank)
        if solution is None or tank is None or station.key in as_they_are:
            continue
        if (day - solution.renewed).days >= tank.change_days and rng.random() < 0.75:
            solution.renew(day)


def confirm(opened: OpenRoom, clock: DemoClock, rng: Random) -> None:
    """Let an adult close most of what a pupil has found clear and may not close."""
    for finding in still_open(opened.findings.values()):
        waits = finding.history[-1].says.endswith(WAITS)
        if waits and rng.random() < CONFIRMED:
            clock.wait(rng.randint(30, 90))
            adult = somebody("adult", rng).code
            role = opened.room.role(adult)
            opened.save(close(finding, adult, role, opened.clock(), "looked at it too: as it should be"))


def flag_by_hand(opened: OpenRoom, station: str, seen: str, verdict: Verdict, by: str) -> Finding:
    """Write down a finding that somebody flagged, and the job that it asks for."""
    finding = flag(station=station, seen=seen, verdict=verdict, by=by, now=opened.clock())
    job = from_finding(finding)
    opened.save(finding, *([job] if job else []))
    return finding


def job_to_look(opened: OpenRoom, station: str, question: str, by: str, why: str) -> Job | None:
    """Write down the job of looking at one thing more often than the round does; None where it is not asked."""
    asked = opened.question(station, question)
    if asked is None:
        return None
    now = opened.clock()
    job = to_measure([asked], station=station, who="pupil", by=by, now=now, hours=None, why=why)
    opened.save(job)
    return job
