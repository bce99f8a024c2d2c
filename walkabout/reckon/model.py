"""What a reckoning is: what it takes, and what it gives.

A reckoning is a pure function with a face: it names its fields with their units and ranges, and returns
its results with the working that a class can follow. Nothing here reads a room, a clock or a setting.
"""

import math
from collections.abc import Callable, Mapping
from datetime import date
from typing import Literal

from msgspec import Struct, field

from walkabout.room.model import Who

Subject = Literal["light", "air", "solution", "water", "growth"]
SUBJECTS: tuple[Subject, ...] = ("light", "air", "solution", "water", "growth")

Kind = Literal["number", "numbers", "word", "words", "text", "day"]
"""A number with a unit, several of them, a word out of a list, several, free text, a day (datetime.date)."""


class Field(Struct, frozen=True, kw_only=True):
    """One thing that a reckoning takes."""

    key: str
    """As it is typed: 'water_ec'."""
    says: str
    """As it is asked, in a few words: 'EC of the water'."""
    unit: str = ""
    """The unit in which the function takes it, and which a bare number has."""
    kind: Kind = "number"
    low: float = -math.inf
    high: float = math.inf
    """Both ends are allowed."""
    needed: bool = True
    default: float | str | None = None
    """What is taken when nothing is given; the working says so. A field with a default is not needed."""
    words: tuple[str, ...] = ()
    """The words that a 'word' or 'words' field knows. Spaces and hyphens in them are the same thing."""
    others: tuple[str, ...] = ()
    """Other keys for the same thing."""
    starts: str = ""
    """Which of a station's own values it starts from, as `round/known.py` names them: 'EC', 'litres'."""
    note: str = ""
    """What else one should know to fill it in, in a few words."""

    @property
    def must(self) -> bool:
        """Whether the reckoning cannot do without it."""
        return self.needed and self.default is None


class Open(Struct, frozen=True, kw_only=True):
    """Fields that are not fixed: salts with their grams, elements with their mg/L."""

    says: str
    """What such a key is: 'a salt'."""
    unit: str
    find: Callable[[str], str]
    """From what was typed to the name that the function takes; raises ValueError, naming the nearest, for others."""
    needed: bool = False
    low: float = 0
    high: float = math.inf
    example: str = ""
    unit_of: Callable[[str], str] | None = None
    """The unit of a name that `find` returned, where not all of them have the same one."""

    def unit_for(self, name: str) -> str:
        """Return the unit in which the function takes the amount of this name."""
        return self.unit_of(name) if self.unit_of is not None else self.unit


class Result(Struct, frozen=True):
    """One number, or one word, that came out."""

    value: float | str
    unit: str = ""
    decimals: int = 2
    says: str = ""
    """What it is, in a few words for the screen; its name when empty."""


class ToDo(Struct, frozen=True, kw_only=True):
    """What a reckoning asks somebody to do, ready to become a job."""

    what: str
    """Starts with a verb: 'Add 12 L of water'."""
    who: Who = "pupil"
    caution: str = ""
    why: str = ""
    """What one should have at hand to do it: the list of what to weigh."""
    due: date | None = None
    """The day it is for, when that is not today."""


class Reckoned(Struct, frozen=True, kw_only=True):
    """What came out of a reckoning."""

    results: Mapping[str, Result]
    """By name, the chief one first."""
    working: tuple[str, ...]
    """Line by line: the formula, the values put in, the result with its unit."""
    source: str
    """The published source, or 'common practice', 'from memory' or 'assumed' with what it is."""
    says: tuple[str, ...] = ()
    """What it means and what to do, in plain sentences, the chief one first."""
    cautions: tuple[str, ...] = ()
    """Dangers to people, one line each, with who may do it and who decides."""
    do: ToDo | None = None


class Reckoning(Struct, frozen=True, kw_only=True):
    """Something that can be worked out.

    `work` is called with one keyword for each field (a Python keyword with an underscore behind it:
    `from_`), None where an optional one is not given, and with `amounts` (name -> number) where there is
    an `open`. It returns Reckoned, or raises ValueError with one clear sentence.
    """

    name: str
    """In the trade's words, with hyphens: 'dew-point'."""
    subject: Subject
    title: str
    """In plain words, short: 'Dryness of the air'."""
    about: str
    """What it is good for, for somebody who has never heard of it, in one or two sentences."""
    fields: tuple[Field, ...]
    work: Callable[..., Reckoned]
    example: str
    """A call that works, as typed behind the name: 'air=24 rh=60'; empty when it works with nothing at all."""
    open: Open | None = None
    own_recipes: bool = False
    """Its `work` also takes `own`, the recipes of the room (a sequence of growing/recipes.Recipe)."""
    others: tuple[str, ...] = field(default=())
    """Other names under which it is found."""

    def find(self, key: str) -> Field | None:
        """Return the field with this key or other key, or None."""
        for one in self.fields:
            if key == one.key or key in one.others:
                return one
        return None
