"""Working something out for a station: a form whose fields start from what is known there.

Both faces fill it in the same way: a field holds what was typed, a bare number is in the unit that the
room shows, and after each change there is either a result or one sentence on what is missing.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime

import msgspec
from msgspec import Struct

from walkabout.growing.recipes import Recipe
from walkabout.growing.units import UNITS, Scales, decimals_shown, shown, words
from walkabout.reckon import units
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.read import reckon, take
from walkabout.reckon.write import result
from walkabout.records.keys import new_key
from walkabout.records.model import Happening, Job
from walkabout.round.known import Known
from walkabout.round.starts import age, follow_ph

_AMOUNT = re.compile(r"(?<![\w.−±])(\d+(?:\.\d+)?)(?:( to |-)(\d+(?:\.\d+)?))? (L|cm|lx|mS/cm)(?![\w/²³])")
"""An amount, or a range of it, in a sentence that can be said in other units: never a temperature, which might be a
difference."""
_KEY = re.compile(r"(?<![\w=])([a-z][a-z0-9_]*)=(?=[\s,.;)]|$)")
"""A field named as one types it on a command line: 'lux='."""
_OF_THE_BENCH = ("mL", "g")
"""What is weighed and poured from a bottle is metric everywhere: a fluid ounce is no unit for a dose."""


Starts = Callable[[Scales], Mapping[str, str]]


class Row(Struct, frozen=True):
    """One line of the form."""

    key: str
    says: str
    text: str
    unit: str
    """The unit that a bare number has."""
    must: bool
    words: tuple[str, ...] = ()
    note: str = ""
    wrong: bool = False
    """What was typed cannot be read, or cannot be."""


class Form:
    """One reckoning while it is filled in."""

    def __init__(
        self,
        reckoning: Reckoning,
        starts: Starts,
        scales: Scales,
        own: Sequence[Recipe] = (),
        known: Known | None = None,
    ) -> None:
        """Begin with what is known: `starts` gives, by the names that fields start from, text in shown units.

        `own` are the room's own recipes; `known` is the station that `starts` tells of.
        """
        self.own = own
        self.reckoning = reckoning
        self.scales = scales
        self._starts = starts
        self._known = known
        self.wrong = ""
        """The key of the field that cannot be as it is; '' when all can."""
        self.typed: dict[str, str] = {}
        self.taken_over: frozenset[str] = frozenset()
        """Fields that still hold what the station's own readings say."""
        self.more: dict[str, str] = {}
        """Open fields (salts, elements) by what was typed for their names."""
        self._fill()

    def _fill(self) -> None:
        """Fill what nobody has typed into from what is known."""
        found = self._starts(self.scales)
        for field in self.reckoning.fields:
            if self.typed.get(field.key, "").strip() and field.key not in self.taken_over:
                continue
            self.typed[field.key] = found.get(field.starts, "") if field.starts else ""
            self.taken_over -= {field.key}
            if self.typed[field.key]:
                self.taken_over |= {field.key}

    def move(self, starts: Starts, known: Known | None) -> None:
        """Start from another station's values; what was typed stays."""
        self._starts, self._known = starts, known
        self._fill()

    def rows(self) -> list[Row]:
        """Return the lines of the form in order, the open ones last."""
        found = [self._row(field) for field in self.reckoning.fields]
        wanted = self.reckoning.open
        if wanted is not None:
            found += [
                Row(key, key, text, self._unit(wanted.unit_for(key)), must=False) for key, text in self.more.items()
            ]
        return found

    def set(self, key: str, text: str) -> None:
        """Take what was typed for a field, or for an open one that is there."""
        if self.reckoning.find(key) is not None:
            self.typed[key] = text
            self.taken_over -= {key}
            if key == "ph":
                self._follow_ph(text)
        else:
            self.more[key] = text

    def _follow_ph(self, text: str) -> None:
        """What a tank still holds hangs on its pH: it follows the pH that was typed."""
        try:
            estimate = follow_ph(self._known, units.number(text, "pH")) if self._known is not None else {}
        except ValueError:
            return
        for field in self.reckoning.fields:
            if field.starts in estimate and (field.key in self.taken_over or not self.typed.get(field.key)):
                self.typed[field.key] = estimate[field.starts]
                self.taken_over |= {field.key}

    def add(self, typed: str) -> str:
        """Add an open field by its name ('KNO3'); return the name it has, or raise ValueError."""
        wanted = self.reckoning.open
        if wanted is None:
            raise ValueError(f"{self.reckoning.title} takes nothing more")
        name = wanted.find(typed.strip())
        self.more.setdefault(name, "")
        return name

    def drop(self, key: str) -> None:
        """Take an open field out again."""
        self.more.pop(key, None)

    def change_scales(self, scales: Scales) -> None:
        """Show other units. What was typed keeps its meaning: a bare number gets the unit it was typed in."""
        known = self._starts(scales)
        for field in self.reckoning.fields:
            text = self.typed.get(field.key, "").strip()
            if field.key in self.taken_over:
                self.typed[field.key] = known.get(field.starts, "")
            elif text and field.kind in ("number", "numbers"):
                self.typed[field.key] = self._with_unit(text, field)
        self.scales = scales

    def _with_unit(self, text: str, field: Field) -> str:
        """Put behind each bare number the unit that the room shows now, as long as it is not the field's own."""
        unit = self._unit(field.unit)
        if field.kind == "number":
            return text if units.named(text) or not unit else f"{text} {_TYPED.get(unit, unit)}"
        parts = [part for part in re.split(r"[;\s]+" if ";" in text else r"[,\s]+", text) if part]
        return ";".join(part if units.named(part) else f"{part}{_TYPED.get(unit, unit)}" for part in parts)

    def work(self) -> Reckoned:
        """Work it out; raises ValueError with one sentence on what is missing or wrong."""
        self.wrong = ""
        try:
            return self._work()
        except ValueError as error:
            text = str(error)
            named = [one.key for one in self.reckoning.fields if text.startswith(f"{one.key}: ")]
            if not named:
                raise
            self.wrong = named[0]
            raise ValueError(text.removeprefix(f"{self.wrong}: ")) from None

    def _work(self) -> Reckoned:
        typed: dict[str, str] = {}
        for field in self.reckoning.fields:
            if text := self.typed.get(field.key, "").strip():
                typed[field.key] = self._in_unit(text, field)
        wanted = self.reckoning.open
        for name, text in self.more.items():
            if text.strip() and wanted is not None:
                typed[name] = self._in_unit(text.strip(), Field(key=name, says=name, unit=wanted.unit_for(name)))
        return reckon(self.reckoning, take(self.reckoning, typed), self.own)

    def result_words(self, one: Result) -> str:
        """Write a result in the units that the room shows."""
        if isinstance(one.value, str) or one.unit not in UNITS or one.unit in ("", "days", *_OF_THE_BENCH):
            return result(one)
        if one.unit == "mS/cm":
            return words(one.value, one.unit, self.scales, one.decimals)
        value, unit = shown(one.value, one.unit, self.scales)
        decimals = decimals_shown(one.unit, self.scales, one.decimals)
        return result(Result(value, unit, decimals))

    def sentence(self, text: str) -> str:
        """Write a sentence as a form says it: amounts in the room's units, fields by their labels ('lux=' as typed)."""
        return _KEY.sub(self._label, _AMOUNT.sub(self._amount, text))

    def _label(self, found: re.Match[str]) -> str:
        field = self.reckoning.find(found.group(1))
        return f"'{field.says}'" if field is not None else found.group()

    @property
    def why(self) -> str:
        """The reason of a job that comes from this form: by it an earlier one is known."""
        return f"Worked out: {self.reckoning.title[:1].lower()}{self.reckoning.title[1:]}."

    def job(self, do: ToDo, station: str, by: str, now: datetime) -> Job:
        """Return what is to be done as a job: for today, or for the day that it names."""
        return Job(
            key=new_key("j", now),
            what=self.sentence(do.what),
            station=station,
            who=do.who,
            due=max(do.due or now.date(), now.date()),
            made=now,
            by=by,
            verdict="today",
            why=" ".join(filter(None, (self.why, self.sentence(do.why)))),
            caution=do.caution,
            recheck=1,
            history=(Happening(at=now, by=by, says="made: worked out"),),
        )

    def _row(self, field: Field) -> Row:
        note = field.note
        if field.key in self.taken_over:
            since = age(self._known, field.starts) if self._known is not None else ""
            note = "; ".join(filter(None, (since or "from this station", note)))
        elif field.default is not None and not self.typed.get(field.key, "").strip():
            usual = field.default if isinstance(field.default, str) else self._usual(field, field.default)
            note = f"{usual} unless given" + (f"; {note}" if note else "")
        return Row(
            field.key,
            field.says,
            self.typed.get(field.key, ""),
            self._unit(field.unit),
            must=field.must,
            words=field.words,
            note=note,
            wrong=field.key == self.wrong,
        )

    def _usual(self, field: Field, value: float) -> str:
        return self.result_words(Result(value, field.unit, 0 if value == round(value) else 2))

    def _unit(self, unit: str) -> str:
        return shown(0, unit, self.scales)[1] if unit in UNITS and unit not in _OF_THE_BENCH else unit

    def _in_unit(self, text: str, field: Field) -> str:
        """Put the room's own unit behind a bare number."""
        unit = self._unit(field.unit)
        if field.kind not in ("number", "numbers") or unit == field.unit:
            return text
        start = self.reckoning.find("from")
        if start is not None and start.kind == "word" and self.typed.get("from", "").strip():
            return text  # the unit was picked from the list
        return self._with_unit(text, field)

    def _amount(self, found: re.Match[str]) -> str:
        first, between, last, unit = found.groups()
        if shown(0, unit, self.scales)[1] == unit:
            return found.group()
        written = [self._said(digits, unit) for digits in (first, last) if digits]
        return written[0] if len(written) == 1 else f"{written[0].partition(' ')[0]}{between}{written[1]}"

    def _said(self, digits: str, unit: str) -> str:
        places = len(digits.partition(".")[2])
        return words(float(digits), unit, self.scales, places if unit == "mS/cm" else max(places, 1))


def worked_out_before(job: Job, why: str) -> bool:
    """Say whether an open job came from the same form: its amount is out of date once there is a new one."""
    return job.closed is None and job.why.startswith(why)


def superseded(job: Job, new: Job, by: str, now: datetime) -> Job:
    """Return the earlier job, closed because the same was worked out anew."""
    reason = f"worked out anew: {new.what}"
    return msgspec.structs.replace(
        job,
        closed=now,
        closed_by=by,
        reason=reason,
        history=(*job.history, Happening(at=now, by=by, says=f"closed: {reason}")),
    )


_TYPED = {"US gal": "gal", "US fl oz": "floz", "ppm 500": "ppm500", "ppm 640": "ppm640", "ppm 700": "ppm700"}
"""Units as shown -> as they are typed."""
