"""A number typed wrong, and put right with a reason; the old value stays on record."""

from walkabout.jobs.life import NotAllowed
from walkabout.records.keys import new_key
from walkabout.records.model import Answer
from walkabout.room.model import may
from walkabout.round.follow import withdrawn
from walkabout.round.judge import judge_number
from walkabout.round.opened import OpenRoom
from walkabout.round.wants import wanted_at


def slipped(value: float) -> float:
    """Return an EC whose first figure was hit one key too far to the right: 1.2 becomes 2.2."""
    return round(value + 1, 2)


def put_right(opened: OpenRoom, wrong: Answer, value: float, by: str, reason: str) -> Answer:
    """Write down what the reading should have been, and close what the wrong one had opened.

    `value` is in the stored unit. NotAllowed when somebody corrects another's answer without being an
    adult; ValueError when the answer is no reading of a question that still exists.
    """
    if by != wrong.walker and not may(opened.room.role(by), "adult"):
        raise NotAllowed("Only an adult may correct what somebody else has written.")
    places = {here.key: (here, checklist) for here, checklist in opened.places()}
    question = opened.question(wrong.station, wrong.question)
    if question is None or question.reading is None or wrong.station not in places:
        raise ValueError(f"{wrong.question} is no reading that can be corrected")
    here, checklist = places[wrong.station]
    neighbours = [one for one, _ in places.values() if one.station is not None]
    wanted = wanted_at(here, neighbours, question.reading, us=opened.us)
    earlier = [one for one in opened.history.all(wrong.station, wrong.question) if one.at < wrong.at]
    judged = judge_number(question, value, checklist, wanted, earlier[-1] if earlier else None, us=opened.us)
    now = opened.clock()
    right = Answer(
        key=new_key("a", now),
        round=wrong.round,
        at=now,
        walker=by,
        station=wrong.station,
        question=wrong.question,
        value=value,
        unit=wrong.unit,
        verdict=judged.verdict,
        why=judged.why,
        shows=judged.shows,
        replaces=wrong.key,
        reason=reason,
    )
    undone = withdrawn(wrong, by, opened.findings, opened.jobs, now, f"put right: {reason}")
    opened.save(right, *undone.findings, *undone.jobs)
    return right
