"""The schema of the knowledge: signs, readings, causes, and what to do about them.

It is kept in TOML, a file for each class of cause, so that a biology teacher can read, check and extend it.
Seconds are seconds of looking, days are days; readings are in the unit that their entry names.
"""

from typing import Literal

from msgspec import Struct

Who = Literal["pupil", "adult", "licensed"]

Kind = Literal[
    "fungi",
    "bacteria",
    "viruses",
    "insects",
    "visitors",
    "nutrition",
    "water",
    "light",
    "climate",
    "chemical",
    "normal",
    "reasons",
]
"""The class of a cause; its file is called the same. `reasons` stand behind causes and never rank beside them."""

HARMLESS: frozenset[Kind] = frozenset({"normal", "visitors"})
"""Kinds that ask for nothing to be done about the plant."""

Base = Literal["common", "occasional", "rare"]
"""How often a cause is the answer when somebody in such a room looks something up."""

Strength = Literal["always", "usually", "sometimes", "rarely", "never"]
"""How often a sign is seen when the cause is there."""

Effect = Literal["raises strongly", "raises", "lowers", "lowers strongly"]
"""What a reading in a range does to the odds of a cause."""

How = Literal["eye", "touch", "lens", "paper", "card", "smell", "unpot", "cut", "ask"]
"""How a sign is looked for; `ask` is answered from memory or by somebody who knows ('was it moved?')."""

Clear = Literal["plain", "takes care", "hard"]
"""How hard a sign is to see or to get right; the network trusts an answer accordingly."""

Leak = Literal["seldom", "now and then", "often", "mostly"]
"""How often a sign is seen with no cause from the list behind it."""

Known = Literal["published", "from memory", "common practice", "assumed"]

Moment = Literal["now", "next", "if it stays"]


class Source(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What stands behind a source's short name."""

    text: str
    known: Known


class Sign(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One observable thing, never a cause."""

    key: str
    name: str
    """As it stands in a list: 'white powder that rubs off'."""
    organ: str
    """leaf, stem, flower, fruit, root, mix, water, seedling, whole plant, insect, place."""
    place: str = ""
    """Where on the organ: 'old leaves, rim'."""
    seen: str
    """What is seen, one plain sentence."""
    words: tuple[str, ...]
    """What people type for it, in everyday and in trade words: short phrases, not sentences."""
    absent: tuple[str, ...] = ()
    """What people type when it is not there: 'roots white and firm'."""
    ask: str
    """The question, answered by yes or no."""
    look: str
    """How to look, one sentence for somebody who has never done it."""
    how: How
    seconds: int
    clear: Clear = "plain"
    leak: Leak = "seldom"
    who: Who = "pupil"
    """Who may look, at least."""
    caution: str = ""


class General(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What people say when they do not say which: at least one of its signs is there ('the leaves are yellow')."""

    key: str
    name: str
    any: tuple[str, ...]
    """Keys of signs."""
    words: tuple[str, ...]
    absent: tuple[str, ...] = ()


class Value(Struct, frozen=True, forbid_unknown_fields=True):
    """A typical value of a reading and how often it is met in a room like this, among the others."""

    value: float
    weight: float


class Measure(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A reading that can raise or lower causes."""

    key: str
    name: str
    unit: str = ""
    says: str = ""
    """How a value of it is said, '{}' in the place of the number; else name, number and unit."""
    ask: str
    look: str
    seconds: int
    possible: tuple[float, float]
    """Outside this no instrument can be right."""
    usual: tuple[Value, ...]
    """What it is met at, for weighing whether it is worth taking."""
    askable: bool = True
    """Whether it may be asked for as a next check."""
    source: str


class Crop(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A crop as the knowledge sees it: its own key is its narrowest family."""

    key: str
    name: str
    words: tuple[str, ...] = ()
    families: tuple[str, ...] = ()


class Gives(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How often the cause gives a sign."""

    sign: str
    how: Strength
    source: str


class Against(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A sign whose presence speaks against the cause."""

    sign: str
    source: str


class Shift(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A reading within a range, both ends inside, that moves the odds of the cause.

    `below_crop` and `above_crop` compare with what the crop wants where that is known; otherwise the numbers count.
    """

    of: str
    at_least: float | None = None
    at_most: float | None = None
    below_crop: bool = False
    above_crop: bool = False
    does: Effect
    source: str


class Check(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A look that confirms the cause."""

    look: str
    who: Who = "pupil"
    source: str


class Alike(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Another cause that looks the same, and what tells them apart."""

    cause: str
    tell: str


class Behind(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A usual reason why the cause comes about."""

    cause: str
    how: Literal["usually", "sometimes", "rarely"]
    source: str


class Step(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Something to do. A step that several causes share stands once in steps.toml and is named with `use`."""

    use: str = ""
    """The key of a shared step; then nothing else but `when` need be given."""
    step: str = ""
    who: Who = "pupil"
    when: Moment = "next"
    caution: str = ""
    harmless: bool = False
    """It does no harm when the cause is another one, so it need not wait for certainty."""
    people: bool = False
    """It keeps people from harm: it comes before everything else."""
    pesticide: bool = False
    """It is put on plants to kill something: never for a pupil, never before the cause is sure enough."""
    wait_days: int | None = None
    """Days before anything from the plant is eaten; None when the step asks for no wait."""
    source: str = ""


class Shared(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A step that several causes share."""

    key: str
    step: str
    who: Who
    caution: str = ""
    harmless: bool = True
    pesticide: bool = False
    wait_days: int | None = None
    rank: int = 50
    """Order among the safe steps, the lowest first."""
    source: str


class Cause(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What may be behind signs."""

    key: str
    name: str
    others: tuple[str, ...] = ()
    """What else it is called."""
    kind: Kind
    """Given by the file's name, not by the entry."""
    base: Base = "occasional"
    crops: tuple[str, ...] = ("all",)
    """Crops or families that it is found on."""
    only: bool = False
    """It is found on no others; otherwise it is less likely there."""
    what: str
    """What it is, one or two sentences."""
    look: str
    """What to look for, one or two sentences."""
    story: tuple[str, ...]
    """Life cycle or chemistry, at most four lines that a pupil of thirteen can read."""
    signs: tuple[Gives, ...] = ()
    against: tuple[Against, ...] = ()
    readings: tuple[Shift, ...] = ()
    confirm: tuple[Check, ...] = ()
    alike: tuple[Alike, ...] = ()
    behind: tuple[Behind, ...] = ()
    do: tuple[Step, ...]
    spreads: bool = False
    """It goes from plant to plant."""
    stays_put: bool = False
    """The plant is dealt with where it stands: carrying it about would spread it, or hurt somebody."""
    eat: Literal["yes", "clean parts", "no"] = "yes"
    """Whether people may eat from the plant while it has this; 'clean parts': only unmarked parts, washed."""
    recheck: int = 7
    """Look again after so many days."""
    source: str = ""
    """Source of what is said in `what`, `look` and `story`, and of `base` where it has one."""
