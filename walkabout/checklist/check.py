"""What the schema of a checklist cannot say by itself: names that must exist, figures that must agree."""

import re
from collections.abc import Collection, Iterator

from walkabout.checklist.check_duties import wrong_duty, wrong_store
from walkabout.checklist.model import (
    COUNTED,
    PICKED,
    VERDICTS,
    Case,
    Checklist,
    Duty,
    Fault,
    Meaning,
    Needs,
    Question,
    Reading,
    When,
)
from walkabout.room.fit import Ranges
from walkabout.room.mistakes import nearest
from walkabout.room.toml_lines import Place

Wrong = tuple[str, Place, str, str]
"""What cannot be used so ('' when it can), the place, what is wrong, what would be right.

Unusable is a question, by its id; a standing job, as in "duty.clean"; or what the place holds: "store".
"""

RANGES: Ranges = {
    Fault: {"per_week": (0, 100), "hours": (0.01, 1e5), "lost": (0, 1)},
    Question: {"seconds": (0.1, 3600), "should": (1, 1000), "must": (1, 1000)},
    Meaning: {"days": (0, 366), "recheck": (1, 366), "hold_days": (0, 366)},
    When: {"days": (0, 366)},
    Reading: {"margin": (0, 1e6), "margin_percent": (0, 1000), "jump": (0, 1e6), "decimals": (0, 6)},
    Needs: {"younger_than": (1, 10000), "older_than": (0, 10000)},
    Duty: {"days": (0, 730), "minutes": (0.5, 480)},
}
"""Figures that no checklist goes beyond; assumed."""

DUTY, STORE = "duty.", "store"
"""How a standing job, and what a place holds, are told apart from a question that cannot be used."""

_ID = re.compile(r"[a-z0-9][a-z0-9-]*")


def wrong(checklist: Checklist, written: Collection[str] = ()) -> Iterator[Wrong]:
    """Find every mistake in a checklist that fits the schema.

    `written` are the questions and faults that are in the file, whether or not they fit: what did
    not fit is said already, so that a mention of it is not one more mistake.
    """
    ids = {question.id for question in checklist.question}
    seen: set[str] = set()
    for index, question in enumerate(checklist.question):
        place: Place = ("question", index)
        if question.id in seen:
            yield "", (*place, "id"), f'the id "{question.id}" is taken already', "Give each question its own"
        seen.add(question.id)
        for where, says, right in _wrong_question(question, checklist, {*written, *ids, *checklist.fault}):
            # a wrong name of a question or a fault leads nowhere, and the look is still worth while
            harmless = where[:1] == ("reveals",) or (len(where) > 2 and where[-1] in ("ask", "shows"))
            yield "" if harmless else question.id, place + where, says, right
    complete = all(name in ids or name in checklist.fault for name in written)
    for name in checklist.fault if complete else ():
        if not any(name in question.reveals for question in checklist.question):
            yield "", ("fault", name), f"no question reveals {name}", "Name it in the reveals of a question"
    if checklist.first and checklist.first not in {*ids, *written}:
        yield "", ("first",), f'there is no question "{checklist.first}"', nearest(checklist.first, ids)
    for name, duty in checklist.duty.items():
        for where, says, right in wrong_duty(name, duty, ids, {*written} - {*checklist.fault}):
            yield DUTY + name, ("duty", name, *where), says, right
    for where, says, right in wrong_store(checklist.store):
        yield STORE, ("store", *where), says, right


def _wrong_question(
    question: Question, checklist: Checklist, known: Collection[str]
) -> Iterator[tuple[Place, str, str]]:
    if not _ID.fullmatch(question.id):
        yield ("id",), f'"{question.id}" is not an id', "Use small letters, digits and hyphens"
    if not question.ask.strip():
        yield ("ask",), "the question is empty", "Write what is asked"
    if question.should > question.must:
        yield (
            ("must",),
            f"must ({question.must}) comes before should ({question.should})",
            "must is the longer one",
        )
    for name, chance in question.reveals.items():
        if name not in known:
            yield ("reveals", name), f"no [fault.{name}] is written down", nearest(name, checklist.fault)
        if not 0 < chance <= 1:
            yield ("reveals", name), f"{chance:g} is not a chance", "It is above 0 and at most 1"
    if question.kind in PICKED:
        yield from _wrong_choices(question, checklist, known)
    elif question.choices:
        yield (
            ("choices",),
            f"a {question.kind} has no choices",
            f"Take them out, or make it one of {', '.join(PICKED)}",
        )
    if question.kind in COUNTED:
        yield from _wrong_reading(question, checklist, known)
    elif question.reading is not None:
        yield (
            ("reading",),
            f"a {question.kind} has no reading",
            "Take it out, or make the question a number or a count",
        )


def _wrong_choices(
    question: Question, checklist: Checklist, known: Collection[str]
) -> Iterator[tuple[Place, str, str]]:
    if not 2 <= len(question.choices) <= 9:
        yield (
            ("choices",),
            f"{len(question.choices)} choices cannot be picked from",
            "Give 2 to 9, the healthy one first",
        )
        return
    if question.kind == "yes/no" and len(question.choices) != 2:
        yield ("choices",), "yes or no are two choices", "Give two, the healthy one first"
    if question.choices[0].verdict != "good":
        yield ("choices", 0, "verdict"), "the first choice is the healthy one", 'Write verdict = "good"'
    seen: set[str] = set()
    for index, choice in enumerate(question.choices):
        if choice.id in seen:
            yield (
                ("choices", index, "id"),
                f'the id "{choice.id}" is taken already',
                "Give each choice its own",
            )
        seen.add(choice.id)
        if not choice.says.strip():
            yield ("choices", index, "says"), "the choice is empty", "Write what is picked"
        yield from _wrong_meaning(choice, ("choices", index), checklist, known)
        for number, case in enumerate(choice.cases):
            place: Place = ("choices", index, "cases", number)
            yield from _wrong_meaning(case, place, checklist, known)
            yield from _wrong_when(case, place, checklist, known)


def _wrong_reading(
    question: Question, checklist: Checklist, known: Collection[str]
) -> Iterator[tuple[Place, str, str]]:
    reading = question.reading
    if reading is None:
        yield (
            (),
            f"a {question.kind} needs a reading",
            "Add [question.reading] with quantity, unit, possible and likely",
        )
        return
    ranges = {"possible": reading.possible, "likely": reading.likely, "good": reading.good}
    for name, pair in ranges.items():
        if pair is not None and pair[0] > pair[1]:
            yield (
                ("reading", name),
                f"{name} begins at {pair[0]:g} and ends at {pair[1]:g}",
                "The lower end comes first",
            )
    for name in ("likely", "good"):
        pair = ranges[name]
        if pair is not None and pair[0] <= pair[1] and not _within(pair, reading.possible):
            yield (
                ("reading", name),
                f"{name} reaches beyond what is possible",
                "Make possible wider or this narrower",
            )
    lowest, highest = reading.alarm or (None, None)
    if lowest is not None and highest is not None and lowest > highest:
        says = f"alarm begins at {lowest:g} and ends at {highest:g}"
        yield ("reading", "alarm"), says, "The lower end comes first"
    yield from _wrong_meaning(reading.low, ("reading", "low"), checklist, known)
    yield from _wrong_meaning(reading.high, ("reading", "high"), checklist, known)


def _within(pair: tuple[float, float], around: tuple[float, float]) -> bool:
    return around[0] <= pair[0] and pair[1] <= around[1]


def _wrong_meaning(
    meaning: Meaning, place: Place, checklist: Checklist, known: Collection[str]
) -> Iterator[tuple[Place, str, str]]:
    if VERDICTS.index(meaning.verdict) >= VERDICTS.index("today") and not meaning.do.strip():
        yield (
            (*place, "verdict"),
            f'the verdict "{meaning.verdict}" says nothing to do',
            "Write do, and who may do it",
        )
    for name in meaning.ask:
        if name not in known:
            ids = [question.id for question in checklist.question]
            yield (*place, "ask"), f'there is no question "{name}"', nearest(name, ids)
    for name in meaning.shows:
        if name not in known:
            yield (*place, "shows"), f"no [fault.{name}] is written down", nearest(name, checklist.fault)


def _wrong_when(
    case: Case, place: Place, checklist: Checklist, known: Collection[str]
) -> Iterator[tuple[Place, str, str]]:
    ids = [question.id for question in checklist.question]
    for name, picked in case.when.answers.items():
        question = checklist.find(name)
        if question is None:
            if name not in known:
                yield (*place, "when", "answers", name), f'there is no question "{name}"', nearest(name, ids)
            continue
        choices = [choice.id for choice in question.choices]
        for one in picked:
            if one not in choices:
                says = f'the question "{name}" has no choice "{one}"'
                yield (*place, "when", "answers", name), says, nearest(one, choices)
    for name in case.when.readings:
        question = checklist.find(name)
        if question.reading is None if question else name not in known:
            numbers = [one.id for one in checklist.question if one.reading]
            yield (*place, "when", "readings", name), f'there is no number "{name}"', nearest(name, numbers)
