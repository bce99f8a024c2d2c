"""What is written down: one struct for each kind of record.

Every record has a key that never changes. Times carry their offset; numbers are in the unit that
the question names.
"""

from datetime import date, datetime
from typing import Literal

from msgspec import Struct

from walkabout.room.model import Who

State = Literal["answered", "not looked", "does not apply"]
Verdict = Literal["", "good", "watch", "today", "now", "stop"]


class Answer(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """One answer in a round. A correction is a new answer that names the one it `replaces`."""

    key: str
    round: str
    at: datetime
    walker: str
    station: str
    question: str
    state: State = "answered"
    choices: tuple[str, ...] = ()
    value: float | None = None
    unit: str = ""
    note: str = ""
    seconds: float = 0
    verdict: Verdict = ""
    why: str = ""
    shows: tuple[str, ...] = ()
    """Faults that the answer shows."""
    doubtful: str = ""
    """Why the value is not to be trusted."""
    replaces: str = ""
    reason: str = ""
    """Why it was corrected."""


class Asked(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """A question in a round's plan, and why it is asked today."""

    station: str
    question: str
    why: str = ""
    vital: bool = False
    seconds: float = 0


class Round(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """One walk. `asked` is its plan, so that it can be taken up at the same question."""

    key: str
    day: date
    started: datetime
    walker: str
    returning: bool = False
    """The first round after a closure."""
    asked: tuple[Asked, ...] = ()
    left: tuple[Asked, ...] = ()
    """What did not fit, and why."""
    ended: datetime | None = None
    walked_seconds: float = 0
    """Time on foot, pauses taken out, as far as known."""


class Move(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """A planting came to a station."""

    day: date
    station: str
    by: str = ""


class Happening(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """A line in the history of a finding, job or planting."""

    at: datetime
    by: str
    says: str


class Planting(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """Plants of one crop, sown on one day, with the stations they have stood in."""

    key: str
    crop: str
    sown: date
    count: int
    moves: tuple[Move, ...]
    variety: str = ""
    label: str = ""
    brought_in: bool = False
    apart_until: date | None = None
    """The end of its quarantine."""
    ended: date | None = None
    reason: str = ""
    history: tuple[Happening, ...] = ()

    @property
    def station(self) -> str:
        """The station where it stands now, or stood last."""
        return self.moves[-1].station


class Finding(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """Something wrong that was noticed; it is closed with a reason, never deleted."""

    key: str
    station: str
    seen: str
    verdict: Verdict
    by: str
    at: datetime
    signs: tuple[str, ...] = ()
    question: str = ""
    """The question whose answer raised it; empty when somebody flagged it."""
    planting: str = ""
    who: Who = "pupil"
    """Who may close it, at least."""
    recheck: date | None = None
    recheck_days: int = 3
    history: tuple[Happening, ...] = ()
    closed: datetime | None = None
    reason: str = ""
    cause: str = ""
    """The key of the cause that an adult has confirmed, in the knowledge of the diagnosis; empty as long as none is."""
    cause_by: str = ""
    """Who confirmed it."""


class Job(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """Something to do."""

    key: str
    what: str
    station: str
    who: Who
    due: date
    made: datetime
    by: str
    verdict: Verdict = "today"
    hours: float | None = None
    """Hours to loss when it is not done: jobs stand in this order."""
    why: str = ""
    caution: str = ""
    finding: str = ""
    questions: tuple[str, ...] = ()
    """The questions to answer when it is done (slow looks that did not fit the round)."""
    recheck: int | None = None
    """Look again so many days after it is done."""
    history: tuple[Happening, ...] = ()
    closed: datetime | None = None
    closed_by: str = ""
    reason: str = ""
