"""The knowledge as a whole, read from its files and checked: nothing unknown, nothing without a source or a doer."""

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from difflib import get_close_matches
from pathlib import Path
from typing import Any, TypeVar, get_args

import msgspec
from msgspec import Struct

from walkabout.diagnosis.model import Cause, Crop, General, Kind, Measure, Shared, Sign, Source, Step

T = TypeVar("T", bound=Struct)

FOLDER = Path(__file__).with_name("knowledge")
KINDS: tuple[Kind, ...] = get_args(Kind)
LONGEST_STORY = 4


class Knowledge(Struct, frozen=True, kw_only=True):
    """All that is known, each by its key, in the order of the files."""

    signs: dict[str, Sign]
    generals: dict[str, General]
    causes: dict[str, Cause]
    """The ones that are ranked."""
    reasons: dict[str, Cause]
    """The ones that stand behind them."""
    measures: dict[str, Measure]
    crops: dict[str, Crop]
    steps: dict[str, Shared]
    sources: dict[str, dict[str, Source]]
    """By file (without its ending), then by short name."""

    def source(self, kind: str, name: str) -> Source:
        """Return what stands behind a short name in the file of a kind."""
        return self.sources[kind][name]

    def cause(self, key: str) -> Cause | None:
        """Return the cause or reason with this key."""
        return self.causes.get(key) or self.reasons.get(key)

    def step(self, step: Step) -> Step:
        """Return a step with its words: a shared one filled in from where it stands."""
        if not step.use:
            return step
        shared = self.steps[step.use]
        return Step(
            use=step.use,
            step=shared.step,
            who=shared.who,
            when=step.when,
            caution=step.caution or shared.caution,
            harmless=shared.harmless,
            people=step.people,
            pesticide=shared.pesticide,
            wait_days=shared.wait_days,
            source=shared.source,
        )

    def families(self, crop: str) -> frozenset[str]:
        """Return every family that a crop belongs to, its own key and 'all' with them."""
        entry = self.crops.get(crop)
        return frozenset({"all", crop, *(entry.families if entry else ())}) if crop else frozenset()


class NotUsable(ValueError):
    """The knowledge cannot be used; each line of the message names a file, a line and what is wrong."""


def read_knowledge(folder: Path = FOLDER) -> Knowledge:
    """Read and check every file of the knowledge; raises NotUsable with all that is wrong in it."""
    reading = _Reading(folder)
    signs = reading.entries("signs", "sign", Sign)
    generals = reading.entries("signs", "general", General)
    measures = reading.entries("readings", "measure", Measure)
    crops = reading.entries("crops", "crop", Crop)
    steps = reading.entries("steps", "step", Shared)
    ranked: dict[str, Cause] = {}
    for kind in KINDS[:-1]:
        ranked |= reading.entries(kind, "cause", Cause, kind=kind)
    reasons = reading.entries("reasons", "cause", Cause, kind="reasons")
    known = Knowledge(
        signs=signs,
        generals=generals,
        causes=ranked,
        reasons=reasons,
        measures=measures,
        crops=crops,
        steps=steps,
        sources=reading.sources,
    )
    reading.check(known)
    if reading.wrong:
        raise NotUsable("\n".join(sorted(set(reading.wrong))))
    return known


class _Reading:
    """The files while they are read, and what is wrong in them."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._texts: dict[str, str] = {}
        self._tables: dict[str, dict[str, Any]] = {}
        self.sources: dict[str, dict[str, Source]] = {}
        self.wrong: list[str] = []

    def entries(self, file: str, table: str, shape: type[T], **given: str) -> dict[str, T]:
        """Return the entries of one kind in a file, by key."""
        found: dict[str, T] = {}
        for entry in self._table(file).get(table, []):
            key = str(entry.get("key", "")) if isinstance(entry, dict) else ""
            try:
                one = msgspec.convert({**entry, **given}, shape, strict=False)
            except (msgspec.ValidationError, TypeError) as error:
                self.says(file, key, str(error))
                continue
            if key in found:
                self.says(file, key, "it stands there twice")
            found[key] = one
        return found

    def _table(self, file: str) -> dict[str, Any]:
        if file not in self._tables:
            self._tables[file] = {}
            try:
                self._texts[file] = (self._folder / f"{file}.toml").read_text(encoding="utf-8")
                self._tables[file] = tomllib.loads(self._texts[file])
            except (OSError, ValueError) as error:
                self.wrong.append(f"{file}.toml: it cannot be read: {error}")
            named = self._tables[file].get("sources", {})
            try:
                self.sources[file] = msgspec.convert(named, dict[str, Source])
            except msgspec.ValidationError as error:
                self.sources[file] = {}
                self.wrong.append(f"{file}.toml: [sources]: {error}")
        return self._tables[file]

    def says(self, file: str, key: str, what: str) -> None:
        """Write down what is wrong with an entry, with the line on which its key stands."""
        lines = self._texts.get(file, "").splitlines()
        at = next((no for no, line in enumerate(lines, 1) if line.startswith("key") and f"{key}" in line[3:]), 0)
        self.wrong.append(f"{file}.toml:{at}: {key or 'an entry without a key'}: {what}")

    # what one entry says about another

    def check(self, known: Knowledge) -> None:
        """Look for keys that nothing answers to, and for facts without a source."""
        for general in known.generals.values():
            self._known("signs", general.key, "sign", general.any, known.signs)
        for step in known.steps.values():
            self._sourced("steps", step.key, step.source)
        for measure in known.measures.values():
            self._sourced("readings", measure.key, measure.source)
        for cause in (*known.causes.values(), *known.reasons.values()):
            self._cause(cause, known)
        families = {"all", *known.crops, *(one for crop in known.crops.values() for one in crop.families)}
        for cause in known.causes.values():
            self._known(cause.kind, cause.key, "crop or family", cause.crops, families)

    def _cause(self, cause: Cause, known: Knowledge) -> None:
        file, key = cause.kind, cause.key
        if key in known.causes and key in known.reasons:
            self.says(file, key, "it is both a cause and a reason")
        if file != "reasons" and not cause.signs:
            self.says(file, key, "it gives no sign")
        if len(cause.story) > LONGEST_STORY:
            self.says(file, key, f"its story has more than {LONGEST_STORY} lines")
        if not cause.do:
            self.says(file, key, "it does not say what to do")
        named = [one.sign for one in cause.signs]
        for sign in {one for one in named if named.count(one) > 1}:
            self.says(file, key, f"the sign '{sign}' stands there twice")
        self._known(file, key, "sign", (*named, *(one.sign for one in cause.against)), known.signs)
        self._known(file, key, "reading", (one.of for one in cause.readings), known.measures)
        everything = {**known.causes, **known.reasons}
        self._known(
            file, key, "cause", (*(one.cause for one in cause.alike), *(one.cause for one in cause.behind)), everything
        )
        for shift in cause.readings:
            low, high = shift.at_least, shift.at_most
            if low is None and high is None and not (shift.below_crop or shift.above_crop):
                self.says(file, key, f"the reading '{shift.of}' has no range")
            if low is not None and high is not None and low > high:
                self.says(file, key, f"the range of '{shift.of}' is upside down")
        for name in _named(cause):
            self._sourced(file, key, name)
        for step in cause.do:
            self._step(cause, step, known)

    def _step(self, cause: Cause, step: Step, known: Knowledge) -> None:
        file, key = cause.kind, cause.key
        if step.use:
            self._known(file, key, "step", (step.use,), known.steps)
            return
        if not step.step:
            self.says(file, key, "a step has no words")
        self._sourced(file, key, step.source)
        if step.pesticide and (step.who == "pupil" or not step.caution):
            self.says(file, key, f"a pesticide step needs an adult or a licensed person, and a caution: '{step.step}'")

    def _known(
        self, file: str, key: str, what: str, named: Iterable[str], among: Mapping[str, object] | set[str]
    ) -> None:
        for one in named:
            if one not in among:
                near = get_close_matches(one, list(among), n=1)
                self.says(file, key, f"no {what} is called '{one}'" + (f"; did you mean '{near[0]}'?" if near else ""))

    def _sourced(self, file: str, key: str, name: str) -> None:
        if name not in self.sources.get(file, {}):
            self.says(file, key, f"no source is called '{name}'" if name else "a fact has no source")


def facts(cause: Cause) -> Iterator[str]:
    """Yield the short name of every source that a cause leans on, in its order."""
    yield from dict.fromkeys((*_named(cause), *(step.source for step in cause.do if not step.use)))


def _named(cause: Cause) -> tuple[str, ...]:
    """Return the source that each fact names, in the order of the entry; an empty one where a fact names none."""
    return (
        cause.source,
        *(one.source for one in cause.signs),
        *(one.source for one in cause.against),
        *(one.source for one in cause.readings),
        *(one.source for one in cause.confirm),
        *(one.source for one in cause.behind),
    )
