"""A lookup, the page of a cause and the lists of causes and signs: as lines to read and as JSON."""

from collections.abc import Iterable, Iterator
from typing import Any

from walkabout.diagnosis.consult import Consulted, Ranked
from walkabout.diagnosis.model import Cause
from walkabout.diagnosis.next_check import NextCheck
from walkabout.growing.units import METRIC, Scales
from walkabout.jobs.make import caution_of
from walkabout.reckon.write import plainly
from walkabout.round.lookup import Lookup
from walkabout.round.lookup_pages import KINDS, WHO, by_kind, by_organ, closed, page, todo_words
from walkabout.round.lookup_shown import STOP, causes_to_show, danger, has_evidence
from walkabout.round.lookup_typed import reading_said, unit_of

WORTH_SAYING = 0.02
"""Causes below this are left to the JSON."""
TOGETHER = 0.15
"""From here on it is said that two causes may be there at once."""
WHEN = {"now": "What to do now", "next": "What to do next", "if it stays": "What to do if it stays"}
NEVER_SURE = "A lookup weighs what was seen; it is no proof. What an adult confirms counts."


def answer_lines(lookup: Lookup, scales: Scales = METRIC) -> list[str]:
    """Return the whole answer: the verdict, what is known, the causes, the next look, what to do, the sources."""
    answer = lookup.answer()
    check = answer.next_check
    parts = [
        stop_lines(lookup) or [answer.says],
        ["What is known", *_inside(known_lines(lookup, scales))],
        not_understood_lines(lookup.not_understood),
        ["Causes", *_inside(cause_lines(answer) if causes_to_show(lookup) else ())],
        ["The look that tells most", *_inside(check_lines(lookup, check, scales))] if check is not None else [],
        *([title, *_inside(_steps(answer, when))] for when, title in WHEN.items()),
        ["Sources", *_inside(f"{one.text} ({one.known})" for one in answer.sources if has_evidence(lookup))],
        [NEVER_SURE],
    ]
    kept = [part for part in parts if len(part) > 1 or (part and part[0] not in (*_TITLES, ""))]
    return [line for part in kept for line in (*part, "")][:-1]


_TITLES = ("What is known", "Causes", "Sources", *WHEN.values())


def stop_lines(lookup: Lookup) -> list[str]:
    """Say that people come first, and what to do at once, where words of danger were typed."""
    step = danger(lookup)
    return [STOP, todo_words(step)] if step is not None else []


def known_lines(lookup: Lookup, scales: Scales = METRIC) -> list[str]:
    """Return the signs, the crop and the readings that the answer rests on."""
    known = lookup.ready.known
    lines = [f"{'there' if one.present else 'not there'}: {one.name}{_typed(one.text)}" for one in lookup.seen()]
    lines.append(f"crop: {known.crops[lookup.crop].name}" if lookup.crop in known.crops else "")
    for measure, value in lookup.readings.items():
        lines.append(f"reading: {reading_said(known.measures[measure], value, scales)}")
    return [line for line in lines if line]


def not_understood_lines(texts: Iterable[str]) -> list[str]:
    """Say what of the typed text was not understood."""
    said = [f'"{one}"' for one in texts]
    return [f"Not understood: {', '.join(said)}. Other words may help; walkabout signs lists all."] if said else []


def cause_lines(answer: Consulted, most: int = 5) -> list[str]:
    """Return a line for each cause that is worth a word, with its reason, and for two that may be there together."""
    lines = [ranked_words(one) for one in answer.causes[:most] if one.probability >= WORTH_SAYING]
    names = {one.key: one.name for one in answer.causes}
    for pair in answer.together[:1]:
        if pair.probability >= TOGETHER:
            both = f"{names[pair.one]} and {names[pair.other]}"
            lines.append(f"both together, {_percent(pair.probability)}: {both}")
    return lines


def ranked_words(one: Ranked) -> str:
    """Say a cause with its word, its probability and what speaks for and against it."""
    said = f"{one.word}, {_percent(one.probability)}: {one.name}"
    reasons = [
        f"{word} {', '.join(weighed.name for weighed in found[:2])}"
        for word, found in (("for it:", one.speaks_for), ("against it:", one.speaks_against))
        if found
    ]
    return f"{said}; {'; '.join(reasons)}" if reasons else said


def check_lines(lookup: Lookup, check: NextCheck, scales: Scales = METRIC) -> list[str]:
    """Return the look that is worth most: the question, how to look, who looks, what it tells apart."""
    asks = f"{check.ask} (about {check.seconds} second{'s' if check.seconds != 1 else ''})"
    names = [cause_name(lookup, key) for key in check.separates]
    tells = [f"It tells most about: {', '.join(names)}."] if names else []
    return [asks, f"How: {check.look}", *_with_what(lookup, check, scales), *tells]


def _with_what(lookup: Lookup, check: NextCheck, scales: Scales) -> Iterator[str]:
    """Yield the unit of a reading, who looks, and the caution, where there is something to say."""
    if check.reading and check.unit:
        yield f"In {unit_of(lookup.ready.known.measures[check.key], scales)}."
    if check.who != "pupil":
        yield f"Who looks: {WHO[check.who]}."
    if check.caution:
        yield f"Caution: {check.caution}"


def cause_name(lookup: Lookup, key: str) -> str:
    """Return what a cause of the answer is called."""
    cause = lookup.ready.known.causes.get(key)
    return cause.name if cause is not None else "something that is not on the list"


def _steps(answer: Consulted, when: str) -> Iterator[str]:
    yield from (todo_words(one) for one in answer.do if one.when == when)


def _typed(text: str) -> str:
    return f' ("{text}")' if text else ""


def _percent(share: float) -> str:
    return f"{plainly(round(100 * share))} %"


def _inside(lines: Iterable[str]) -> Iterator[str]:
    yield from (f"  {line}" for line in lines)


# for other programs


def answer_facts(lookup: Lookup) -> dict[str, Any]:
    """Return the answer as JSON has it."""
    answer, causes, step = lookup.answer(), causes_to_show(lookup), danger(lookup)
    stop = {"stop": {"because": list(lookup.hazards), "step": closed(step.step), "who": step.who}} if step else {}
    return {
        **stop,
        "crop": lookup.crop,
        "signs": [
            {"key": one.key, "name": one.name, "present": one.present, "from": one.text} for one in lookup.seen()
        ],
        "not_understood": list(lookup.not_understood),
        "verdict": answer.verdict,
        "causes": [
            {
                "key": one.key,
                "name": one.name,
                "class": one.kind,
                "probability": one.probability,
                "for": [weighed.name for weighed in one.speaks_for],
                "against": [weighed.name for weighed in one.speaks_against],
            }
            for one in causes
        ],
        "together": [[pair.one, pair.other, pair.probability] for pair in answer.together] if causes else [],
        "next_check": _check_facts(lookup, answer.next_check),
        "do": [
            {"step": closed(one.step), "who": one.who, "caution": caution_of(one), "when": one.when}
            for one in answer.do
        ],
        "sources": [{"text": one.text, "known": one.known} for one in answer.sources] if causes else [],
    }


def _check_facts(lookup: Lookup, check: NextCheck | None) -> dict[str, Any] | None:
    if check is None:
        return None
    how = " ".join((check.look, *_with_what(lookup, check, METRIC)))
    return {"ask": check.ask, "how": how, "seconds": check.seconds, "separates": list(check.separates)}


# lists and pages


def page_lines(cause: Cause, learned: str = "") -> list[str]:
    """Return the page of a cause; `learned` says what the room has confirmed of it."""
    title = f"{cause.name[:1].upper()}{cause.name[1:]}"
    lines = [title, *([learned] if learned else [])]
    for section in page(cause):
        lines += ["", section.title, *_inside(section.lines)]
    return lines


def page_facts(cause: Cause) -> dict[str, Any]:
    """Return the page of a cause as JSON has it: its sections by title."""
    return {
        "key": cause.key,
        "name": cause.name,
        "others": list(cause.others),
        "class": cause.kind,
        "sections": {section.title: list(section.lines) for section in page(cause)},
    }


def cause_list_lines() -> list[str]:
    """List every cause and reason by class."""
    lines = ["What may be behind signs. All about one: walkabout causes NAME"]
    for kind, causes in by_kind().items():
        lines += ["", KINDS[kind], *(f"  {one.name}" for one in causes)]
    return lines


def cause_list_facts() -> dict[str, Any]:
    """List every cause and reason as JSON has it."""
    rows = [
        {"key": one.key, "name": one.name, "others": list(one.others), "class": kind, "what": one.what}
        for kind, causes in by_kind().items()
        for one in causes
    ]
    return {"causes": rows}


def sign_list_lines() -> list[str]:
    """List every sign under what it is seen on, with the question that asks for it."""
    lines = ["Signs that can be told. Any words for them will do: walkabout lookup --see TEXT"]
    for organ, signs in by_organ().items():
        lines += ["", f"On or in: {organ}", *(f"  {one.name}{_place(one.place)}" for one in signs)]
    return lines


def _place(place: str) -> str:
    return f" ({place})" if place else ""


def sign_list_facts() -> dict[str, Any]:
    """List every sign as JSON has it."""
    rows = [
        {
            "key": one.key,
            "name": one.name,
            "organ": organ,
            "place": one.place,
            "seen": one.seen,
            "ask": one.ask,
            "how": one.look,
            "seconds": one.seconds,
            "who": one.who,
        }
        for organ, signs in by_organ().items()
        for one in signs
    ]
    return {"signs": rows}
