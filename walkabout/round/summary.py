"""A finished walk in figures."""

from msgspec import Struct

from walkabout.checklist.model import NOT_LOOKED
from walkabout.records.model import Job
from walkabout.round.course import Course

WORTH_SAYING = 3
"""Days on end from which a station is one to be glad of."""


class Summary(Struct, frozen=True):
    """What was looked at, how long it took, and what is to be done."""

    answered: int
    not_looked: int
    seconds: float
    jobs: tuple[Job, ...]
    """Open jobs of the day, by hours to loss."""
    glad: str
    """One thing to be glad of, or ''."""


def summed_up(course: Course, seconds: float) -> Summary:
    """Return the figures of a course on which nothing is asked any more; `seconds` is the time on foot."""
    given = course.given.values()
    return Summary(
        answered=sum(answer.state == "answered" for answer in given),
        not_looked=sum(answer.state == NOT_LOOKED for answer in given),
        seconds=seconds,
        jobs=tuple(course.opened.jobs_due()),
        glad=_glad(course),
    )


def _glad(course: Course) -> str:
    """Name the station that has been good for the most days on end."""
    best, name = 0, ""
    for key, station, state in course.stations():
        if state == "done" and (days := course.opened.good_days(key)) > best:
            best, name = days, station
    return f"{name}: {best} days running with nothing wrong." if best >= WORTH_SAYING else ""
