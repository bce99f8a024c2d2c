"""The schema of a checklist: what a kind of station can be asked and what each answer means.

A checklist is one TOML file. The order of its questions is the order of looking. Durations are in
seconds (looking), hours (to loss) and days (between askings); quantities in the unit that the
reading names.
"""

from collections.abc import Iterable
from typing import Literal

from msgspec import Struct, field

from walkabout.room.model import LampKind, Who

Verdict = Literal["good", "watch", "today", "now", "stop"]
VERDICTS: tuple[Verdict, ...] = ("good", "watch", "today", "now", "stop")
"""From nothing to do to people first; `max(..., key=VERDICTS.index)` is the gravest."""

PICKED = ("choice", "signs", "yes/no")
"""Kinds of question that are answered by picking."""
COUNTED = ("number", "count")
"""Kinds of question that are answered with a number."""

Kind = Literal["choice", "signs", "number", "count", "yes/no", "note"]
Quantity = Literal[
    "pH",
    "EC",
    "air temperature",
    "lowest air temperature",
    "highest air temperature",
    "solution temperature",
    "medium temperature",
    "humidity",
    "oxygen",
    "level",
    "volume",
    "flow",
    "illuminance",
    "gap",
    "height",
    "mass",
    "time",
    "count",
]
Unit = Literal["pH", "mS/cm", "°C", "%", "mg/L", "cm", "L", "L/min", "lx", "g", "min", "days", ""]


class Fault(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What can go wrong at a station of this kind."""

    says: str
    """What has happened, as one says it: 'the pump has stopped'."""
    per_week: float
    """The chance per station and week before the room's own answers are counted."""
    hours: float
    """Hours to loss: how long the station lives once the first sign could be seen."""
    lost: float = 1.0
    """The share of the station's plants that is lost when nobody sees it."""
    people: bool = False
    """It can hurt somebody: it outranks every plant."""
    source: str
    """A published source, or 'common practice', 'from memory', 'assumed'."""


class Limits(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A range, open at an end that is not given; both ends are inside."""

    at_least: float | None = None
    at_most: float | None = None

    def hold(self, value: float) -> bool:
        """Say whether the value is inside."""
        return (self.at_least is None or value >= self.at_least) and (self.at_most is None or value <= self.at_most)


class When(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What must be true of the same station, all of it together, for a case to count.

    Answers and readings are this round's, or the last ones if they are no older than `days`.
    """

    answers: dict[str, tuple[str, ...]] = field(default_factory=dict)
    """Question id -> ids of choices, any of which must have been given."""
    readings: dict[str, Limits] = field(default_factory=dict)
    """Question id -> the range in which its value must lie (in the question's own unit)."""
    groups: tuple[str, ...] = ()
    """Groups of crops, any of which must stand here."""
    crops: tuple[str, ...] = ()
    """Crops, any of which must stand here."""
    plants: Limits | None = None
    """How many plants stand here."""
    lamps: tuple[LampKind, ...] = ()
    """Kinds of lamp, any of which must hang here."""
    days: int = 3


class Meaning(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What an answer means and what follows from it."""

    verdict: Verdict = "good"
    why: str = ""
    """The reason, one sentence."""
    do: str = ""
    """The first act, in the order of doing, said to the walker. Needed from `today` upwards."""
    who: Who = "pupil"
    """Who may do it, at least."""
    job: str = ""
    """What the job is called when the first act does not end the matter: starts with a verb."""
    days: int = 0
    """In how many days the job is due; 0 is today."""
    caution: str = ""
    """The danger to people, one line, with who decides (local codes, the employer, a licensed person)."""
    recheck: int | None = None
    """Look again after so many days, until good."""
    ask: tuple[str, ...] = ()
    """Questions of the same station to ask at once, since this answer was given."""
    shows: tuple[str, ...] = ()
    """Faults that this answer shows: they count towards the room's own rates."""
    doubts: tuple[Quantity, ...] = ()
    """Quantities whose readings are doubtful back to the last good answer to this question."""
    hold_days: int = 0
    """Plants are kept apart for so many days."""


class Case(Meaning, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What the same answer means when something else is true too. The first case that holds counts."""

    when: When


class Choice(Meaning, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One answer that can be picked; its place in the list is its key, the healthy one first."""

    id: str
    says: str
    cases: tuple[Case, ...] = ()


class Reading(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How a number is asked for and judged.

    Good is what the crops here want when `of_crops`, else `good`. Outside it, up to `margin` (or
    `margin_percent` of the nearer end) is `watch`, beyond it `today`; outside `alarm` is `now`.
    `low` and `high` say what to do; the gravest of their verdict and the computed one counts.
    """

    quantity: Quantity
    unit: Unit = ""
    possible: tuple[float, float]
    """Outside this no instrument can be right: it is not saved."""
    likely: tuple[float, float]
    """Outside this it is asked once more before it is saved."""
    of_crops: bool = False
    good: tuple[float, float] | None = None
    margin: float = 0
    margin_percent: float = 0
    alarm: tuple[float | None, float | None] | None = None
    jump: float | None = None
    """A change by more than this since the last reading, within three days, is questioned."""
    doubling: bool = False
    """More than twice the last count, and more than two, is an alarm for today."""
    decimals: int = 1
    low: Meaning = Meaning()
    high: Meaning = Meaning()
    source: str = ""


class Needs(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A question is only asked where this is there; each list that is given must be met by any one."""

    kit: tuple[str, ...] = ()
    """Kit of the station or of the room."""
    groups: tuple[str, ...] = ()
    crops: tuple[str, ...] = ()
    lamps: tuple[LampKind, ...] = ()
    pump: Literal["water", "air"] | None = None
    tank: bool = False
    lamp: bool = False
    plants: bool = False
    """Something grows here."""
    younger_than: int | None = None
    """A planting here was sown fewer than so many days ago."""
    older_than: int | None = None


class Question(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One look."""

    id: str
    ask: str
    """The question, short enough for one or two lines of 48 characters."""
    how: str = ""
    """How to look, one sentence for somebody who has never done it."""
    kind: Kind = "choice"
    seconds: float
    should: int
    """Days between two askings, as a careful grower would have it."""
    must: int
    """Never more days than this."""
    slow: bool = False
    """It takes an instrument or a count: it may become a job of the day instead."""
    who: Who = "pupil"
    """Who may look, at least; it is not asked of others."""
    may_not_apply: bool = True
    after_closure: bool = False
    """It belongs to the first round after a closure."""
    needs: Needs = Needs()
    reveals: dict[str, float] = field(default_factory=dict)
    """Fault -> the chance that an honest look finds it."""
    choices: tuple[Choice, ...] = ()
    reading: Reading | None = None
    meter: str = ""
    """The question id (of the room) that checks the instrument used here."""
    source: str = "common practice"


Holds = Literal["tank", "root zone", "air", "nothing"]


class Duty(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A standing job at stations of this kind: what, how often, how long, by whom at least."""

    says: str
    """What the job is called: starts with a verb."""
    days: int
    """Days between two times; 0 for a job that comes with a planting's stage (`at`) or with a lamp's hours."""
    minutes: float
    who: Who = "pupil"
    at: Literal["", "thin", "move on", "train", "lamp hours", "end of crop"] = ""
    """It belongs to a stage of each planting (from its dates) or to the hours of each lamp, not to the calendar."""
    needs: Needs = Needs()
    settled_by: str = ""
    """The question id whose answer counts as having done it: the round asks then, and no job is made of it."""
    caution: str = ""
    why: str = ""
    source: str


class Store(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What a place of this kind holds for its plants once nobody waters it, or once what feeds it has stopped.

    `ml` is what the roots of one plant can still drink, from and to; None where it hangs on a tank alone or
    where water is not what fails first (a closed case, cacti).
    """

    water: Holds = "root zone"
    """What is drunk from while all goes well: the station's tank, or the root zone itself."""
    ml: tuple[float, float] | None = None
    days: tuple[float, float] | None = None
    """Days that it lives by itself where that is not a matter of what plants drink, from and to."""
    fails: str
    """What happens first, as one says it: 'the pots dry out'."""
    saves: tuple[str, ...] = ()
    """What makes it last longer, in the order of preference: each one sentence that begins with a verb."""
    dark: bool = True
    """It may be left with less light or none for a week."""
    source: str


class Checklist(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """All that a kind of station can be asked."""

    kind: str
    title: str
    about: str = ""
    extends: bool = False
    """In a room's own file: add to or change the shipped one question by question, rather than replace it."""
    first: str = ""
    """The id of the question that opens the first round after a closure at such a station."""
    fault: dict[str, Fault] = field(default_factory=dict)
    duty: dict[str, Duty] = field(default_factory=dict)
    store: Store | None = None
    question: tuple[Question, ...] = ()

    def find(self, question: str) -> Question | None:
        """Return the question with this id, or None."""
        for one in self.question:  # a loop, not a generator: this is called for every key that is pressed
            if one.id == question:
                return one
        return None


NOT_LOOKED: Literal["not looked"] = "not looked"
DOES_NOT_APPLY: Literal["does not apply"] = "does not apply"


def gravest(verdicts: Iterable[Verdict]) -> Verdict:
    """Return the gravest of these verdicts; good when there is none."""
    return max(verdicts, key=VERDICTS.index, default="good")
