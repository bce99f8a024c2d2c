"""How the demo's walkers answer: what is true at the station, as far as they see it."""

from collections.abc import Callable
from datetime import date
from math import exp
from random import Random

from msgspec import Struct

from walkabout.checklist.model import Question
from walkabout.demo.state import LEVELS, State
from walkabout.demo.troubles import Trouble
from walkabout.round.here import Here
from walkabout.round.light import light_wanted


class Look(Struct, frozen=True):
    """One question before one pair of eyes."""

    here: Here
    question: Question
    day: date
    state: State
    troubles: tuple[Trouble, ...]
    """What is wrong at this station."""
    care: float
    """The share of what could be seen that this walker sees."""
    rng: Random

    def ages(self) -> list[int]:
        """Return the days since sowing of what stands here."""
        return [(self.day - planting.sown).days for planting in self.here.plantings]


def pick(look: Look) -> str:
    """Return the choice that is picked; the troubles behind it are marked as seen."""
    known = {choice.id for choice in look.question.choices}
    true = look.state.says.get((look.here.key, look.question.id)) or _trouble(look) or _usual(look)
    return true if true in known else look.question.choices[0].id


def _trouble(look: Look) -> str:
    """Return the choice that shows a trouble that is here, or '' when none is seen."""
    for one in look.troubles:
        chance = look.question.reveals.get(one.fault, 0.0)
        if one.sure:
            shows = one.says.get(look.question.id, "")
        else:
            shows = _showing(look.question, one) if look.rng.random() < chance * look.care else ""
        if shows:
            if one.seen_on != look.day:
                one.looks += 1
            one.seen_on = look.day
            one.shown_by.add(look.question.id)
            return shows
    return ""


def _showing(question: Question, trouble: Trouble) -> str:
    """Return the choice for a trouble of this age: the mild one first, where there are two."""
    showing = [choice.id for choice in question.choices if trouble.fault in choice.shows and choice.verdict != "stop"]
    return showing[min(trouble.looks, len(showing) - 1)] if showing else ""


def _usual(look: Look) -> str:
    solution = look.state.solutions.get(look.here.key)
    if look.question.id == "level" and solution is not None:
        missing = solution.share_missing()
        reached = [choice for share, choice in LEVELS.get(look.here.kind, ()) if missing >= share]
        return reached[-1] if reached else ""
    own = _OWN.get((look.here.kind, look.question.id))
    return own(look) if own else ""


_OWN: dict[tuple[str, str], Callable[[Look], str]] = {
    ("shelf", "emerged"): lambda look: "early" if min(look.ages(), default=9) < 5 else "most",
    ("shelf", "stage"): lambda look: _by_age(look, (("seed-leaves", 8), ("first-pair", 17), ("second-pair", 99))),
    ("shelf", "roots"): lambda look: "tips" if max(look.ages(), default=0) > 11 else "inside",
    ("raft", "roots"): lambda look: "stained" if look.rng.random() < 0.2 else "white",
    ("vine", "fruit"): lambda look: "ripe" if look.rng.random() < 0.3 else "clean",
    ("pots", "moisture"): lambda look: "dry" if look.state.dry_days > 2.5 else "moist",
    ("pots", "ripe"): lambda look: "coming" if look.rng.random() < 0.6 else "nothing",
    ("case", "condensation"): lambda look: "none" if look.rng.random() < 0.08 else "light",
    ("greens", "mould"): lambda look: "root-hairs" if 2 <= min(look.ages(), default=0) <= 5 else "none",
    ("greens", "stage"): lambda look: "ready" if min(look.ages(), default=0) >= 8 else "growing",
    ("room", "meters"): lambda look: "adjusted" if look.rng.random() < 0.25 else "right",
    ("room", "standing-water"): lambda look: "emptied" if look.rng.random() < 0.12 else "none",
}
"""(kind, question) -> what is usual there, where it is not always the first choice."""


def _by_age(look: Look, stages: tuple[tuple[str, int], ...]) -> str:
    oldest = max(look.ages(), default=0)
    return next(choice for choice, below in stages if oldest < below or below == stages[-1][1])


def number(look: Look) -> float:
    """Return the number that is read, in the stored unit and with the decimals the question asks for."""
    reading = look.question.reading
    if reading is None:
        raise ValueError(f"{look.question.id} asks for no number")
    low, high = reading.possible
    return round(min(max(_read(look), low), high), reading.decimals)


def _read(look: Look) -> float:
    reading, state, rng = look.question.reading, look.state, look.rng
    solution = state.solutions.get(look.here.key)
    if reading is None:
        return 0.0
    if solution is not None:
        match reading.quantity:
            case "pH":
                return solution.ph + rng.gauss(0, 0.04)
            case "EC":
                return solution.ec + rng.gauss(0, 0.02)
            case "solution temperature":
                return solution.warm + rng.gauss(0, 0.2)
            case "volume":
                return round(2 * solution.added) / 2
            case "time":
                return float((look.day - solution.renewed).days)
            case _:
                pass
    own = _NUMBERS.get(look.question.id) or _QUANTITIES.get(reading.quantity)
    if own is not None:
        return own(look)
    return sum(reading.good or reading.likely) / 2


def _lux(look: Look) -> float:
    """What suits the crops here, a little more or less."""
    light = light_wanted(look.here.crops)
    if look.here.lit is None or light is None:
        return 15000.0
    return round(look.here.lit.lux_for((light.least.value + light.most.value) / 2) * look.rng.gauss(1, 0.02), -1)


def _grown(look: Look, full: float, days: float) -> float:
    """Return how far something has grown: slowly, then quickly, then hardly at all."""
    age = max(look.ages(), default=0)
    return full / (1 + exp(-(age - days * 0.6) / (days * 0.12)))


_NUMBERS: dict[str, Callable[[Look], float]] = {
    "card-gnats": lambda look: round(look.state.gnats),
    "card-aphids": lambda _look: 0,
    "card-thrips": lambda _look: 0,
    "card-whitefly": lambda _look: 0,
    "side-shoots": lambda look: look.state.side_shoots,
    "seedlings-up": lambda look: round(0.92 * look.here.plants),
    "heads": lambda look: round(0.9 * look.here.plants),
    "timed-flow": lambda look: look.rng.gauss(1.45, 0.06),
    "watered": lambda look: 20 + look.day.toordinal() % 40,
}
_QUANTITIES: dict[str, Callable[[Look], float]] = {
    "lowest air temperature": lambda look: look.state.lowest,
    "highest air temperature": lambda look: look.state.highest + (1.0 if look.here.station else 0.0),
    "air temperature": lambda look: look.rng.gauss(20.5, 0.7),
    "medium temperature": lambda look: look.state.mat() + look.rng.gauss(0, 0.2),
    "humidity": lambda look: look.state.humidity,
    "illuminance": _lux,
    "oxygen": lambda look: look.rng.gauss(7.5, 0.3),
    "height": lambda look: max(_grown(look, 42 if look.here.kind == "pots" else 8, 45), 1.2),
    "mass": lambda look: _grown(look, 160, 35),
    "count": lambda _look: 0,
}
