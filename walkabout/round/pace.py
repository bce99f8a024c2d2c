"""How many seconds a look takes, learned from the walkers' own pace."""

from collections.abc import Iterable

from walkabout.checklist.model import Question
from walkabout.records.model import Answer
from walkabout.round.history import History

WALKING = 5.0
"""Seconds from one station to the next. Assumed; no published timing was found."""

OPENING = 20.0
"""Seconds to open the round and to hand out the jobs at its end. Assumed."""

_WEIGHT = 6
"""The checklist's figure counts as much as so many looks."""
_LONGEST = 4.0
"""A look that took more than so many times its seconds was an interruption."""
_LAST = 30


class Pace:
    """Seconds by question, and the walker's own pace."""

    def __init__(self, history: History, planned: dict[tuple[str, str], float]) -> None:
        """`planned` holds the checklist's seconds for each station and question."""
        self._ratio: dict[tuple[str, str], float] = {}
        walkers: dict[str, list[float]] = {}
        looked = {where: [one for one in history.all(*where)[-_LAST:] if _counts(one)] for where in planned}
        first = _arrivals(one for looks in looked.values() for one in looks)
        for where, seconds in planned.items():
            looks = looked[where]
            ratios = [min(_looking(one, first) / seconds, _LONGEST) for one in looks]
            self._ratio[where] = (_WEIGHT + sum(ratios)) / (_WEIGHT + len(ratios))
            for look, ratio in zip(looks, ratios, strict=True):
                walkers.setdefault(look.walker, []).append(ratio)
        everybody = [ratio for ratios in walkers.values() for ratio in ratios]
        usual = sum(everybody) / len(everybody) if everybody else 1.0
        self._walker = {
            walker: (_LAST + sum(ratios) / usual) / (_LAST + len(ratios)) for walker, ratios in walkers.items()
        }

    def seconds(self, station: str, question: Question, walker: str) -> float:
        """Return the seconds that this look is expected to take this walker."""
        ratio = self._ratio.get((station, question.id), 1.0)
        return question.seconds * ratio * self._walker.get(walker, 1.0)


def _arrivals(answers: Iterable[Answer]) -> dict[tuple[str, str], str]:
    """Return (round, station) -> the key of its first answer, which holds the way there as well."""
    first: dict[tuple[str, str], Answer] = {}
    for one in answers:
        place = (one.round, one.station)
        if place not in first or one.at < first[place].at:
            first[place] = one
    return {place: one.key for place, one in first.items()}


def _looking(answer: Answer, first: dict[tuple[str, str], str]) -> float:
    """Return the seconds of an answer without the way to its station."""
    arrived = first.get((answer.round, answer.station)) == answer.key
    return max(answer.seconds - WALKING, answer.seconds / 2) if arrived else answer.seconds


def _counts(answer: Answer) -> bool:
    return answer.state == "answered" and answer.seconds > 0 and not answer.replaces
