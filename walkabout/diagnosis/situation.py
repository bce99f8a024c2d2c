"""What somebody knows when they look something up: answers, readings, the crop; and what the room has confirmed."""

from collections.abc import Mapping

from msgspec import Struct, field

from walkabout.diagnosis.model import Who


class Answer(Struct, frozen=True, kw_only=True):
    """One look: a sign (or a general one) that is there or is not. What was not looked at has no answer."""

    sign: str
    present: bool = True
    by: Who = "pupil"
    """Who looked: an answer is evidence of known reliability, not a fact."""
    text: str = ""
    """The words it was taken from."""
    also: tuple[str, ...] = ()
    """Signs that the words may mean instead: one of all these is there."""


class Reading(Struct, frozen=True, kw_only=True):
    """One number, in the unit of its measure, with the range that the crop wants where that is known."""

    of: str
    value: float
    low: float | None = None
    high: float | None = None
    text: str = ""


class Situation(Struct, frozen=True, kw_only=True):
    """Everything that is known of one plant."""

    answers: tuple[Answer, ...] = ()
    readings: tuple[Reading, ...] = ()
    crop: str = ""
    """A key of the knowledge's crops; empty when it is not known."""
    also: tuple[str, ...] = ()
    """More families it belongs to just now: 'seedling'."""
    confirmed: Mapping[str, int] = field(default_factory=dict)
    """How often each cause was confirmed in this room."""
    passed: tuple[str, ...] = ()
    """Signs and readings that could not be told: they are not asked for again."""
    without: tuple[str, ...] = ()
    """Organs of signs that are not there to be looked at: 'mix' at a raft."""
    hazards: tuple[str, ...] = ()
    """Words of danger to people, as they were typed."""

    def answer(self, sign: str) -> Answer | None:
        """Return the last answer about a sign."""
        return next((one for one in reversed(self.answers) if one.sign == sign), None)
