"""What Today says: the round, what is due and what is open, gathered for every face."""

from datetime import date, datetime

from msgspec import Struct

from walkabout.jobs.findings import still_open
from walkabout.records.model import Finding, Job
from walkabout.room.calendar import closure_on
from walkabout.round.due import Due
from walkabout.round.opened import OpenRoom


class Walked(Struct, frozen=True):
    """A round of today; `ended` is None while it is under way or was left."""

    walker: str
    started: datetime
    ended: datetime | None
    questions: int


class Closest(Struct, frozen=True):
    """The question whose answer can save most today."""

    station: str
    name: str
    question: str
    ask: str
    why: str


class Front(Struct, frozen=True):
    """The state of the room on one day. Jobs stand by hours to loss, findings with the oldest first."""

    room: str
    day: date
    expected: bool
    """Somebody walks on such a day."""
    closure: str
    """Why nobody is expected, where a closure says so."""
    rounds: tuple[Walked, ...]
    questions: int
    """What is still to be asked today, by what a walker in this role may look at."""
    stations: int
    seconds: float
    closest: Closest | None
    jobs: tuple[Job, ...]
    findings: tuple[Finding, ...]
    names: dict[str, str]
    """Station key -> name, for the jobs and findings."""
    told: tuple[str, ...]
    """What was found damaged when the room was opened."""
    mistakes: int
    """How many mistakes the files that people edit have."""

    @property
    def walked(self) -> bool:
        """Whether a round of today has been walked to its end."""
        return any(one.ended is not None for one in self.rounds)


def front(opened: OpenRoom, walker: str = "") -> Front:
    """Gather what Today says to this walker; nobody in particular may look at what a pupil may."""
    today = opened.today()
    plan = opened.plan(walker)
    closure = closure_on(opened.room, today)
    jobs = tuple(opened.jobs_due())
    findings = tuple(still_open(opened.findings.values()))
    places = [*(job.station for job in jobs), *(finding.station for finding in findings)]
    return Front(
        room=opened.room.name,
        day=today,
        expected=opened.is_school_day(),
        closure=(closure.name or "a closure") if closure else "",
        rounds=tuple(Walked(one.walker, one.started, one.ended, len(one.asked)) for one in opened.rounds_today()),
        questions=len(plan.asked),
        stations=plan.stations,
        seconds=round(plan.seconds, 1) if plan.asked else 0,
        closest=_closest(plan.asked),
        jobs=jobs,
        findings=findings,
        names={key: opened.name_of(key) for key in places},
        told=tuple(opened.told),
        mistakes=len(opened.mistakes),
    )


def _closest(asked: tuple[Due, ...]) -> Closest | None:
    best = max(asked, key=lambda one: one.worth, default=None)
    if best is None:
        return None
    return Closest(best.here.key, best.here.name, best.question.id, best.question.ask, best.why)
