"""How often a fault comes: the checklist's figure, moved by what this room has seen.

The faults of a station come as a Poisson process. The checklist's rate counts as much as
PRIOR_WEEKS weeks of looking (a gamma prior), so that one bad week does not upset a room and a year
of looking outweighs the checklist.
"""

from datetime import date

from walkabout.round.history import History

PRIOR_WEEKS = 26.0
"""Half a year of looking. Assumed."""


def weekly_rate(prior: float, seen: int, weeks: float) -> float:
    """Return the expected faults a week: (prior × 26 + seen) ÷ (26 + weeks).

    The mean of a gamma posterior with a Poisson likelihood (any textbook of Bayesian statistics).
    """
    return (prior * PRIOR_WEEKS + seen) / (PRIOR_WEEKS + max(weeks, 0.0))


class Rates:
    """The rates of a room's faults, station by station."""

    def __init__(self, history: History, today: date) -> None:
        first = history.first_day or today
        self._weeks = (today - first).days / 7
        self._seen: dict[tuple[str, str], int] = {}
        before: dict[tuple[str, str], tuple[str, ...]] = {}
        showing: dict[tuple[str, str], set[str]] = {}
        for answer in history.everything():
            if answer.state != "answered":
                continue
            where = (answer.station, answer.question)
            for fault in before.get(where, ()):
                if fault not in answer.shows:
                    showing[answer.station, fault].discard(answer.question)
            before[where] = answer.shows
            for fault in answer.shows:
                # a fault that is still there, on this look or on another one, has not come a second time
                questions = showing.setdefault((answer.station, fault), set())
                if not questions:
                    self._seen[answer.station, fault] = self._seen.get((answer.station, fault), 0) + 1
                questions.add(answer.question)

    def of(self, station: str, fault: str, prior: float) -> float:
        """Return the weekly rate of one fault at one station."""
        return weekly_rate(prior, self._seen.get((station, fault), 0), self._weeks)
