"""Beginning a walk: today's round, one that was left unfinished, or the questions of a measuring job."""

from collections.abc import Iterable

from walkabout.records.keys import new_key
from walkabout.records.model import Asked, Job, Round
from walkabout.round.due import Due
from walkabout.round.measuring import jobs_of_the_day
from walkabout.round.opened import OpenRoom, measures
from walkabout.round.plan import plan
from walkabout.round.walk import Walk


def begin(opened: OpenRoom, walker: str) -> Walk:
    """Begin today's round, or take up the one that was left unfinished today.

    The plan of a new round is not on disk yet: `write_plan` puts it there.
    """
    opened.refresh()
    unfinished = [
        one for one in opened.rounds_today() if one.ended is None and one.walker == walker and not measures(one)
    ]
    if unfinished:
        return Walk(opened, unfinished[-1], walker)
    now = opened.clock()
    today = opened.today_for(walker)
    chosen = plan(opened.places(), today)
    record = Round(
        key=new_key("r", now),
        day=now.date(),
        started=now,
        walker=walker,
        returning=today.returning,
        asked=as_asked(chosen.asked),
        left=as_asked(chosen.left),
    )
    return Walk(opened, record, walker, unwritten=(record, *jobs_of_the_day(opened, chosen, walker, now)))


def take_up(opened: OpenRoom, record: Round, walker: str) -> Walk:
    """Go on with a round that somebody else left unfinished."""
    return Walk(opened, record, walker)


def measure(opened: OpenRoom, job: Job, walker: str) -> Walk:
    """Return a walk of the questions that a measuring job asks for."""
    now = opened.clock()
    asked = []
    for name in job.questions:
        question = opened.question(job.station, name)
        if question is not None:
            asked.append(Asked(station=job.station, question=name, why=job.why, seconds=question.seconds, vital=True))
    record = Round(key=new_key("r", now), day=now.date(), started=now, walker=walker, asked=tuple(asked))
    walk = Walk(opened, record, walker, unwritten=(record,))
    walk.write_plan()
    return walk


def as_asked(dues: Iterable[Due]) -> tuple[Asked, ...]:
    """Return planned questions as they stand in the record of a round."""
    return tuple(
        Asked(
            station=one.here.key, question=one.question.id, why=one.why, vital=one.vital, seconds=round(one.seconds, 1)
        )
        for one in dues
    )
