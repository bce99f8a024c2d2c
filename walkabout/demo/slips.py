"""A number typed wrong, and put right with a reason; the old value stays on record."""

from walkabout.jobs.life import NotAllowed
from walkabout.records.model import Answer
from walkabout.room.model import may
from walkabout.round.correct import Right, correction
from walkabout.round.opened import OpenRoom


def slipped(value: float) -> float:
    """Return an EC whose first figure was hit one key too far to the right: 1.2 becomes 2.2."""
    return round(value + 1, 2)


def put_right(opened: OpenRoom, wrong: Answer, value: float, by: str, reason: str) -> Answer:
    """Write down what the reading should have been, with all that changes with it.

    `value` is in the stored unit. NotAllowed when somebody corrects another's answer without being an
    adult; ValueError for what cannot be corrected so.
    """
    if by != wrong.walker and not may(opened.room.role(by), "adult"):
        raise NotAllowed("Only an adult may correct what somebody else has written.")
    right = correction(opened, wrong, Right(value=value), by, reason)
    opened.save(*right.records)
    return right.answer
