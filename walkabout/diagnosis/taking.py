"""In which order the network takes its causes, so that few signs stand half explained at any time.

Time and memory of the sum grow with 2 to the number of signs that stand open together.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray


class Opens(NamedTuple):
    """A present sign begins: explained by its leak or one of its own causes, or not yet."""

    axis: int
    sign: int


class Takes(NamedTuple):
    """A cause is taken; it may explain each open sign in `gives`, named by its axis."""

    cause: int
    gives: tuple[tuple[int, float], ...]


class Closes(NamedTuple):
    """A sign's last cause has been taken: it must be explained, unless the row leaves it out."""

    axis: int
    sign: int


Act = Opens | Takes | Closes


def in_order(gives: NDArray[np.float64], of_cause: dict[int, list[int]]) -> list[Act]:
    """Order the causes so that few signs stand open at once: always finish the sign that opens the fewest others."""
    waiting: dict[int, set[int]] = {sign: set() for sign in range(len(gives))}
    for cause, signs in of_cause.items():
        for sign in signs:
            waiting[sign].add(cause)
    acts: list[Act] = []
    standing: list[int] = []  # which sign stands on which axis
    while waiting:
        sign = min(waiting, key=lambda one: (_opened_by(one, waiting, of_cause, standing), len(waiting[one]), one))
        for cause in sorted(waiting[sign]):
            for new in of_cause[cause]:
                if new not in standing:
                    acts.append(Opens(len(standing), new))
                    standing.append(new)
            links = tuple((standing.index(one), float(gives[one, cause])) for one in of_cause[cause])
            acts.append(Takes(cause, links))
            for one in of_cause[cause]:
                waiting[one].discard(cause)
        if sign not in standing:  # nothing gives it together with another sign
            acts.append(Opens(len(standing), sign))
            standing.append(sign)
        for done in [one for one in standing if not waiting[one]]:
            acts.append(Closes(standing.index(done), done))
            standing.remove(done)
            del waiting[done]
    return acts


def _opened_by(sign: int, waiting: dict[int, set[int]], of_cause: dict[int, list[int]], standing: list[int]) -> int:
    return len({new for cause in waiting[sign] for new in of_cause[cause]}.difference(standing))
