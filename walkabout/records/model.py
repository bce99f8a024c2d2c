"""What is written down: one struct for each kind of record.

Every record has a key that never changes. Times carry their offset; numbers are in the unit that
the question names.
"""

from datetime import date, datetime
from typing import Literal, get_args

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


Stage = Literal["germinated", "thinned", "flowering"]
"""What a planting reaches between sowing and harvest, as somebody saw it."""
STAGES: tuple[Stage, ...] = get_args(Stage)


class Reached(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """A planting was seen to have reached a stage, with `count` plants standing then (where they were counted)."""

    day: date
    stage: Stage
    count: int | None = None
    by: str = ""


class Loss(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """Plants that were lost on a day, and why."""

    day: date
    count: int
    why: str = ""
    by: str = ""


class Picking(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """A part of the harvest: whole plants taken (0 where they stay and are cut again), grams, portions."""

    day: date
    count: int = 0
    grams: float | None = None
    portions: float | None = None
    promise: str = ""
    """The key of the promise it went to."""
    by: str = ""


class Planting(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """Plants of one crop, sown on one day, with the stations they have stood in.

    `count` is what stands now: what was lost or picked whole has left it.
    """

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
    started: int | None = None
    """How many were sown or brought in; None where that was not written down apart (it is `count` then)."""
    parted_from: str = ""
    """The key of the planting that this was a part of."""
    reached: tuple[Reached, ...] = ()
    losses: tuple[Loss, ...] = ()
    pickings: tuple[Picking, ...] = ()
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
    standing: str = ""
    """Which standing job of the almanac this is ("change/raft"), empty for a job that comes once."""
    minutes: float | None = None
    """How long it takes."""
    treats: bool = False
    """It puts something on plants: when it is done, the days until anybody eats from them are asked for."""
    history: tuple[Happening, ...] = ()
    closed: datetime | None = None
    closed_by: str = ""
    reason: str = ""


Amount = Literal["portions", "heads", "g"]
AMOUNTS: tuple[Amount, ...] = get_args(Amount)


class Promise(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """A harvest promised to people: crop, amount, day."""

    key: str
    crop: str
    amount: float
    unit: Amount
    day: date
    people: str
    """For whom: a class or an event, never a person's name."""
    made: datetime
    by: str
    eaters: int | None = None
    """How many people."""
    plantings: tuple[str, ...] = ()
    """The plantings it is to come from; empty for every one of this crop."""
    history: tuple[Happening, ...] = ()
    closed: datetime | None = None
    """Kept, or called off."""
    reason: str = ""


class Treatment(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """Something was put on plants of a station, with the waiting time that its label gives."""

    key: str
    day: date
    station: str
    what: str
    by: str
    at: datetime
    planting: str = ""
    """The one planting that was treated; empty for all at the station."""
    wait_days: int | None = None
    """Days until anything from it may be eaten; None: not known, so nothing may be eaten until somebody says."""
    entry_hours: float | None = None
    """Hours until people may touch the plants again."""
    history: tuple[Happening, ...] = ()
