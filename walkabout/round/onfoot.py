"""The time that a walk takes: what its looks took so far, and what those ahead are expected to take. Seconds."""

from walkabout.records.model import Asked
from walkabout.round.course import Course
from walkabout.round.pace import OPENING, WALKING

LONGEST_LOOK = 300.0
"""Seconds after which a question was left alone rather than looked at."""


class OnFoot:
    """The clock of a walk; it counts the question that is open from when it was shown."""

    def __init__(self, course: Course) -> None:
        self.course = course
        self._clock = course.opened.clock
        self._shown = self._clock()

    def resume(self) -> None:
        """Start counting afresh for the open question."""
        self._shown = self._clock()

    def looking(self) -> float:
        """Return how long the open question has been looked at."""
        # a clock that was set back meanwhile counts as no time at all
        return max(min((self._clock() - self._shown).total_seconds(), LONGEST_LOOK), 0.0)

    def walked(self) -> float:
        """Return what the answers took."""
        return sum(min(answer.seconds, LONGEST_LOOK) for answer in self.course.given.values())

    def remaining(self) -> float:
        """Return what the open questions are expected to take."""
        return _seconds(self._ahead())

    def can_wait(self) -> list[Asked]:
        """Return what may be left for tomorrow; what is vital is never among it."""
        return [one for one in self._ahead() if not one.vital]

    def late(self) -> bool:
        """Say whether the round will run over, and something in it can wait."""
        ahead = self._ahead()
        if all(one.vital for one in ahead):
            return False
        budget = self.course.opened.room.minutes * 60
        return self.walked() + self.looking() + _seconds(ahead) > budget + OPENING

    def _ahead(self) -> list[Asked]:
        return [self.course.asked[place] for place in self.course.ahead()]


def _seconds(ahead: list[Asked]) -> float:
    """Return what questions are expected to take, the way from station to station with them."""
    stops = len({one.station for one in ahead})
    return sum(one.seconds for one in ahead) + WALKING * max(stops - 1, 0)
