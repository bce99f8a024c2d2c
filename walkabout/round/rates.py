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
        for station, question in history.places():
            before: tuple[str, ...] = ()
            for answer in history.all(station, question):
                if answer.state != "answered":
                    continue
                # a fault that is still there on the next look has not come a second time
                for fault in answer.shows:
                    if fault not in before:
                        self._seen[station, fault] = self._seen.get((station, fault), 0) + 1
                before = answer.shows

    def of(self, station: str, fault: str, prior: float) -> float:
        """Return the weekly rate of one fault at one station."""
        return weekly_rate(prior, self._seen.get((station, fault), 0), self._weeks)
