"""A lookup while it goes on: what has been said and seen so far, and the answer to it. No face is known here.

It begins empty, or at a station with the crop, the readings and the age that are on record there.
"""

from collections.abc import Mapping
from functools import cache
from typing import Literal

from msgspec import Struct

from walkabout.diagnosis.consult import Consulted, consult
from walkabout.diagnosis.evidence import Table, tabulate
from walkabout.diagnosis.knowledge import FOLDER, Knowledge, read_knowledge
from walkabout.diagnosis.situation import Answer, Reading, Situation
from walkabout.diagnosis.wording import Read, Wording, make_wording, read_text
from walkabout.growing.crops import Crop, Crops
from walkabout.room.compiled import compiled
from walkabout.room.model import Who

CROP_RANGES: Mapping[str, str] = {
    "ph": "pH",
    "ec": "EC",
    "air": "air temperature",
    "night": "lowest air temperature",
    "humidity": "humidity",
    "solution": "solution temperature",
}
"""Measures of the knowledge, and what the crop table calls them."""


class _Kept(Struct, frozen=True, kw_only=True):
    """What is kept ready between two starts."""

    known: Knowledge
    wording: Wording


class Ready(Struct, frozen=True, kw_only=True):
    """The knowledge in every form that a lookup needs."""

    known: Knowledge
    wording: Wording
    table: Table


@cache
def ready() -> Ready:
    """Return the shipped knowledge; raises NotUsable with all that is wrong in it."""
    kept = compiled(FOLDER, _Kept, _read, sorted(FOLDER.parent.glob("*.py"))) or _read()
    return Ready(known=kept.known, wording=kept.wording, table=tabulate(kept.known))


def _read() -> _Kept:
    known = read_knowledge()
    return _Kept(known=known, wording=make_wording(known))


class Seen(Struct, frozen=True, kw_only=True):
    """One line of what is known: a sign or general sign, whether it is there, and where that comes from."""

    key: str
    name: str
    present: bool
    text: str
    """The words typed for it; empty when it was picked or asked for."""


class Lookup:
    """What is known of one plant, and the answer. Each change makes the answer anew when it is asked for."""

    def __init__(
        self,
        crops: Crops,
        *,
        crop: str = "",
        by: Who = "pupil",
        also: tuple[str, ...] = (),
        readings: Mapping[str, float] | None = None,
        confirmed: Mapping[str, int] | None = None,
        without: tuple[str, ...] = (),
    ) -> None:
        """Begin with what is known: `crop` a key of the knowledge's crops, `readings` by measure.

        `without`: organs of signs that are not there to be looked at ('mix' at a raft).
        """
        self.ready = ready()
        self._crops = crops
        self.by: Who = by
        self.crop = crop
        self.also = also
        self.readings: dict[str, float] = dict(readings or {})
        self._confirmed = dict(confirmed or {})
        self._answers: dict[str, Answer] = {}
        self._passed: dict[str, None] = {}
        self._without = without
        self.hazards: tuple[str, ...] = ()
        """Words of danger to people that were typed: they come before everything."""
        self.not_understood: list[str] = []
        self._consulted: Consulted | None = None

    # what is said

    def say(self, text: str, *, deny: bool = False) -> Read:
        """Take in what somebody typed; `deny` takes all of it as not there. Returns what was understood."""
        read = read_text(self.ready.wording, text)
        for found in read.signs:
            present = found.present and not deny
            self._answers[found.sign] = Answer(
                sign=found.sign, present=present, by=self.by, text=found.text, also=found.also if present else ()
            )
        if read.crop and not self.crop:
            self.crop = read.crop
        self.also = tuple(dict.fromkeys((*self.also, *read.also)))
        for measure, value, _ in read.readings:
            self.readings[measure] = value
        self.hazards = tuple(dict.fromkeys((*self.hazards, *read.hazards)))
        self.not_understood += [one for one in read.not_understood if one not in self.not_understood]
        self._consulted = None
        return read

    def set_sign(self, key: str, present: bool | None) -> None:  # noqa: FBT001 - yes, no, or take it back
        """Take a sign as there or not there; None takes the answer back."""
        if present is None:
            self._answers.pop(key, None)
        else:
            self._answers[key] = Answer(sign=key, present=present, by=self.by)
        self._passed.pop(key, None)
        self._consulted = None

    def cannot_tell(self, key: str) -> None:
        """A sign or reading could not be told: it is not asked for again."""
        self._passed[key] = None
        self._consulted = None

    def set_reading(self, measure: str, value: float | None) -> None:
        """Take a reading in its measure's unit; None takes it back. ValueError where no instrument can be right."""
        if value is None:
            self.readings.pop(measure, None)
        else:
            entry = self.ready.known.measures[measure]
            low, high = entry.possible
            if not low <= value <= high:
                unit = f" {entry.unit}" if entry.unit else ""
                raise ValueError(f"{entry.name} is between {low:g} and {high:g}{unit}; {value:g} cannot be.")
            self.readings[measure] = value
        self._passed.pop(measure, None)
        self._consulted = None

    def set_crop(self, crop: str) -> None:
        """Take the crop, a key of the knowledge's crops; '' when it is not known."""
        self.crop = crop
        self._consulted = None

    # what is known

    def seen(self) -> tuple[Seen, ...]:
        """Return the signs in the order in which they were said."""
        known = self.ready.known
        return tuple(
            Seen(
                key=one.sign,
                name=(known.signs.get(one.sign) or known.generals[one.sign]).name,
                present=one.present,
                text=one.text,
            )
            for one in self._answers.values()
        )

    def situation(self) -> Situation:
        """Return all of it as the diagnosis takes it."""
        return Situation(
            answers=tuple(self._answers.values()),
            readings=tuple(self._reading(measure, value) for measure, value in self.readings.items()),
            crop=self.crop,
            also=self.also,
            confirmed=self._confirmed,
            passed=tuple(self._passed),
            without=self._without,
            hazards=self.hazards,
        )

    def _reading(self, measure: str, value: float) -> Reading:
        crop: Crop | None = self._crops.of.get(self.crop)
        wants = crop.wants(CROP_RANGES[measure]) if crop is not None and measure in CROP_RANGES else None
        if measure == "light" and crop is not None:
            wants = crop.light
        return Reading(of=measure, value=value, low=wants.low if wants else None, high=wants.high if wants else None)

    def answer(self) -> Consulted:
        """Return the answer to what is known now."""
        if self._consulted is None:
            self._consulted = consult(self.ready.table, self.situation())
        return self._consulted

    # words that faces share

    def find_crop(self, text: str) -> str:
        """Return the knowledge's crop for what somebody typed, or '' when none is meant."""
        read = read_text(self.ready.wording, text)
        return read.crop


Answered = Literal["yes", "no", "cannot tell"]


def answer_check(lookup: Lookup, said: Answered) -> None:
    """Take the answer to the look that is asked for now; nothing happens when none is."""
    check = lookup.answer().next_check
    if check is None or check.reading:
        return
    if said == "cannot tell":
        lookup.cannot_tell(check.key)
    else:
        lookup.set_sign(check.key, said == "yes")
