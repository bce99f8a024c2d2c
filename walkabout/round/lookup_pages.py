"""The page of a cause and the lists of causes and signs, as headed lines that every face can show."""

from collections.abc import Iterable, Iterator
from difflib import get_close_matches

from msgspec import Struct

from walkabout.diagnosis.knowledge import Knowledge, facts
from walkabout.diagnosis.model import Cause, Kind, Sign, Who
from walkabout.diagnosis.plan import ToDo
from walkabout.jobs.make import caution_of
from walkabout.reckon.write import quoted
from walkabout.round.lookup import ready
from walkabout.round.lookup_near import organs

KINDS: dict[Kind, str] = {
    "fungi": "Fungi and their like",
    "bacteria": "Bacteria",
    "viruses": "Viruses",
    "insects": "Insects and mites",
    "visitors": "Visitors that do little harm",
    "nutrition": "Feeding",
    "water": "Water and roots",
    "light": "Light",
    "climate": "Warmth, cold and air",
    "chemical": "Sprays, gases and other chemicals",
    "normal": "Nothing wrong",
    "reasons": "Reasons behind causes",
}
"""Classes of causes, as headings."""

ALIKE = "What looks like it"
"""The heading under which the look-alikes stand, one a line in the order of the entry."""

EAT = {
    "yes": "What is eaten of it may be eaten, washed, where the school's own rules allow it.",
    "clean parts": "Only unmarked parts are eaten, washed; an adult decides.",
    "no": "Nothing is eaten from a plant that has this.",
}

WHO: dict[Who, str] = {"pupil": "a pupil may do it", "adult": "an adult", "licensed": "a licensed person"}


class Section(Struct, frozen=True):
    """A heading with its lines."""

    title: str
    lines: tuple[str, ...]


def find_cause(text: str) -> Cause:
    """Return the cause or reason with this key, name or other name; ValueError names the nearest ones."""
    known = ready().known
    every = (*known.reasons.values(), *known.causes.values())
    names = {_folded(other): one for one in every for other in one.others}
    names |= {_folded(one.name): one for one in every}
    names |= {_folded(one.key): one for one in every}
    found = names.get(_folded(text))
    if found is not None:
        return found
    wanted = _folded(text)
    part = [name for name in names if len(wanted) > 2 and wanted in name]
    close = part or get_close_matches(wanted, names, n=6, cutoff=0.65) or _partly(wanted, names)
    near = list(dict.fromkeys(names[one].name for one in close))[:3]
    hint = f"Did you mean {' or '.join(near)}?" if near else "They are listed by: walkabout causes"
    raise ValueError(f"No cause is called {quoted(text)}. {hint}")


def _partly(wanted: str, names: Iterable[str]) -> list[str]:
    """Return the names that hold something much like what is wanted: 'mildw' is in 'powdery mildew'."""
    from rapidfuzz import fuzz, process  # noqa: PLC0415 - only needed when nothing else fits

    return [
        name for name, _, _ in process.extract(wanted, list(names), scorer=fuzz.partial_ratio, score_cutoff=75, limit=6)
    ]


def by_kind() -> dict[Kind, tuple[Cause, ...]]:
    """Return every cause and reason under its class, in the order of the classes."""
    known = ready().known
    everything = (*known.causes.values(), *known.reasons.values())
    found = {kind: tuple(one for one in everything if one.kind == kind) for kind in KINDS}
    return {kind: causes for kind, causes in found.items() if causes}


def by_organ() -> dict[str, tuple[Sign, ...]]:
    """Return every sign under the organ on which it is seen."""
    known = ready().known
    return {organ: tuple(one for one in known.signs.values() if one.organ == organ) for organ in organs(known)}


def page(cause: Cause) -> tuple[Section, ...]:
    """Return all that is known of a cause, section by section; one that has nothing to say is left out."""
    known = ready().known
    sections = (
        Section("What it is", (cause.what, *_called(cause))),
        Section("What to look for", (cause.look, *_signs(known, cause))),
        Section("How it comes about", cause.story),
        Section("Usual reasons", tuple(f"{one.how}: {_name(known, one.cause)}" for one in cause.behind)),
        Section("How to confirm it", tuple(f"{one.look}{_by(one.who)}" for one in cause.confirm)),
        Section(ALIKE, tuple(f"{_name(known, one.cause)}: {one.tell}" for one in cause.alike)),
        Section("What to do", tuple(_steps(known, cause))),
        Section("Food", (EAT[cause.eat],) if cause.kind not in ("normal", "reasons") else ()),
        Section("Look again", (f"After {cause.recheck} day{'s' if cause.recheck != 1 else ''}.",)),
        Section("Sources", tuple(_sources(known, cause))),
    )
    return tuple(one for one in sections if one.lines)


def step_words(step: str, who: Who, caution: str) -> str:
    """Return a step in one line, with who may do it and its caution."""
    said = f"{closed(step)} Who: {WHO[who]}."
    return f"{said} Caution: {closed(caution)}" if caution else said


def todo_words(step: ToDo) -> str:
    """Return a step of an answer in one line."""
    return step_words(step.step, step.who, caution_of(step))


def _called(cause: Cause) -> Iterator[str]:
    if cause.others:
        yield f"Also called: {', '.join(cause.others)}."
    if "all" not in cause.crops:
        more = "" if cause.only else ", more than on others"
        yield f"Found on: {', '.join(map(_crop, cause.crops))}{more}."
    if cause.spreads:
        yield "It goes from plant to plant."


def _crop(key: str) -> str:
    crop = ready().known.crops.get(key)
    return crop.name if crop is not None else key.replace("-", " ")


def _signs(known: Knowledge, cause: Cause) -> Iterator[str]:
    for one in cause.signs:
        yield f"{one.how}: {known.signs[one.sign].name}"
    for other in cause.against:
        yield f"speaks against it: {known.signs[other.sign].name}"


def _steps(known: Knowledge, cause: Cause) -> Iterator[str]:
    for when in ("now", "next", "if it stays"):
        for step in map(known.step, cause.do):
            if step.when == when:
                todo = ToDo(
                    step=step.step, who=step.who, caution=step.caution, when=step.when, useful=1.0, causes=(cause.key,),
                    recheck=cause.recheck, wait_days=step.wait_days, pesticide=step.pesticide, use=step.use,
                )  # fmt: skip
                yield f"{when}: {todo_words(todo)}"


def _sources(known: Knowledge, cause: Cause) -> Iterator[str]:
    texts = dict.fromkeys(known.source(cause.kind, name) for name in facts(cause))
    shared = dict.fromkeys(known.source("steps", known.steps[step.use].source) for step in cause.do if step.use)
    for one in (*texts, *(source for source in shared if source not in texts)):
        yield f"{one.text} ({one.known})"


def _name(known: Knowledge, key: str) -> str:
    cause = known.cause(key)
    return cause.name if cause is not None else key


def _by(who: Who) -> str:
    return "" if who == "pupil" else f" Who: {WHO[who]}."


def closed(text: str) -> str:
    """Return a step or caution as a sentence, with its full stop: the one place where every face takes it from."""
    text = text.strip()
    return text if text.endswith((".", "?", "!")) else f"{text}."


def _folded(text: str) -> str:
    return " ".join(text.casefold().replace("-", " ").replace("_", " ").split())
