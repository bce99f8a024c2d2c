"""The people of the demo: how quickly each looks, how carefully, and who is on when."""

from random import Random

from msgspec import Struct

from walkabout.demo.room import ADULTS, PUPILS


class Helper(Struct, frozen=True):
    """One person: seconds taken per second planned, and the share of what is there that is seen."""

    code: str
    pace: float
    care: float


HELPERS: dict[str, Helper] = {
    "HM": Helper("HM", 1.4, 0.98),
    "OC": Helper("OC", 1.45, 0.95),
    "E4": Helper("E4", 1.45, 0.9),
    "J9": Helper("J9", 1.4, 0.75),
    "T2": Helper("T2", 1.6, 0.92),
    "W7": Helper("W7", 1.5, 0.85),
}
"""Assumed: a checklist's seconds are those of somebody who knows the station, and these people are learning it;
care as for careful adults and ordinary helpers. The paces were chosen together with the room: the quicker they are, the
more questions the plan puts into its five minutes."""

_TURNS = ("HM", "E4", "T2", "OC", "J9", "W7", "E4")
"""Seven turns over a week of five: nobody has the same day every week."""


def walker_on(day: int) -> Helper:
    """Return who walks on the season's school day with this number."""
    return HELPERS[_TURNS[day % len(_TURNS)]]


def somebody(role: str, rng: Random) -> Helper:
    """Return a helper who may do a pupil's or an adult's work."""
    return HELPERS[rng.choice(PUPILS if role == "pupil" else ADULTS)]


def seconds(helper: Helper, planned: float, rng: Random) -> float:
    """Return how long one look takes: around the helper's own pace, now and then twice as long."""
    slow = 2.0 if rng.random() < 0.03 else 1.0
    return max(planned * helper.pace * rng.lognormvariate(0, 0.25) * slow, 0.8)
