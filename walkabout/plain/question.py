"""A question of the round in lines, and what a typed line means as an answer to it."""

import re
from datetime import date

from msgspec import Struct

from walkabout.checklist.model import Question
from walkabout.growing.units import Scales, shown, stored
from walkabout.round.course import Step
from walkabout.round.spoken import doubtful_words, range_words
from walkabout.round.trend import running_towards, strip
from walkabout.round.walk import Walk
from walkabout.round.words import answer_words, day_words

COUNTED = ("number", "count")
NOTHING = "-"
_NUMBER = re.compile(r"([+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+))\s*(.*)")


class NotAnAnswer(Exception):
    """What was typed is no answer to this question; the text says what would be one."""


class Typed(Struct, frozen=True):
    """An answer as typed: picked choices, a number in the stored unit, a note, or nobody looked."""

    choices: tuple[str, ...] = ()
    value: float | None = None
    note: str | None = None
    not_looked: bool = False


def station_line(walk: Walk, step: Step) -> str:
    """Return 'Station 3 of 8: Raft tub'."""
    keys = [key for key, _, _ in walk.stations()]
    return f"Station {keys.index(step.here.key) + 1} of {len(keys)}: {step.here.name}"


def question_lines(walk: Walk, step: Step) -> list[str]:
    """Return the question with all that helps to answer it, the label first."""
    opened, question, today = walk.opened, step.question, walk.opened.today()
    lines = [f"Question {step.number} of {step.of}: {question.ask}"]
    lines.append(f"Why: {step.why}" if step.why else "")
    lines += _before(walk, question, today)
    seen = strip(question, step.here.key, opened.history, today, scales=opened.scales)
    lines.append(f"Last 14 days: {seen.says}." if seen else "")
    lines.append(running_towards(question, step.here.key, opened.history, today))
    if question.reading is not None:
        lines.append(range_words(question.reading, walk.wanted(), scales=opened.scales))
    lines += [f"{place}. {choice.says}" for place, choice in enumerate(question.choices, 1)]
    if (given := walk.given()) is not None:
        answer = answer_words(question, given, scales=opened.scales)
        lines.append(f"Answered in this round already: {answer}. g keeps that and goes on.")
    lines.append(_what_to_type(question, scales=opened.scales))
    return lines


def help_lines(step: Step, *, late: bool) -> list[str]:
    """Return how to look, and everything that can be typed."""
    skipped = "n" if step.question.kind in (*COUNTED, "note") else "0"
    return [
        f"How to look: {step.question.how}" if step.question.how else "",
        f"{skipped} = nobody looked; it is written down as not looked at, and comes first next time.",
        "x = the question does not apply here." if step.question.may_not_apply else "",
        "b = back to the question before.",
        "s = skip this station: the rest of it is written down as not looked at.",
        "f = write down a finding: something wrong that was not asked for.",
        "l = look up what may be behind something that looks wrong.",
        "w = leave what can wait, since the round is late." if late else "",
        "p = pause; the same command goes on at the same question.",
        "r, or Enter alone, = the question once more. Enter alone is never an answer.",
    ]


def understood(typed: str, question: Question, *, scales: Scales) -> Typed:
    """Return the answer that a typed line is; NotAnAnswer when it is none."""
    if question.kind == "note":
        return _note(typed)
    if question.kind in COUNTED:
        return _number(typed, question, scales=scales)
    count = len(question.choices)
    parts = re.split(r"[,;\s]+", typed.strip(" ,;"))
    if not all(re.fullmatch(r"[0-9]+", part) and int(part) <= count for part in parts):
        raise NotAnAnswer(f'"{typed}" is not an answer here.')
    places = sorted({int(part) for part in parts})
    if len(places) > 1 and question.kind != "signs":
        raise NotAnAnswer("One number only: the answer that fits best.")
    if len(places) > 1 and places[0] <= 1:
        alone = "nobody looked" if places[0] == 0 else f'"{question.choices[0].says}"'
        raise NotAnAnswer(f"{places[0]} means {alone}, so it cannot stand beside others.")
    if places == [0]:
        return Typed(not_looked=True)
    return Typed(choices=tuple(question.choices[place - 1].id for place in places))


def _note(typed: str) -> Typed:
    if typed.lower() == "n":
        return Typed(not_looked=True)
    return Typed(note="" if typed == NOTHING else typed)


def _number(typed: str, question: Question, *, scales: Scales) -> Typed:
    if typed.lower() == "n":
        return Typed(not_looked=True)
    reading = question.reading
    unit = _unit(question, scales=scales)
    right = f"Type a number{f' in {unit}' if unit else ''}, such as {_example(question)}, or n if nobody looked."
    text = typed
    if unit and text.lower().startswith(unit.lower()):
        text = text[len(unit) :].strip()
    found = _NUMBER.fullmatch(text)
    if found is None or reading is None:
        raise NotAnAnswer(f'"{typed}" is not a number. {right}')
    if found[2] and _plain(found[2]) != _plain(unit):
        raise NotAnAnswer(f'"{found[2]}" is not the unit here. {right}')
    number = float(found[1].replace(",", "."))
    if question.kind == "count" and not number.is_integer():
        raise NotAnAnswer(f"A count is a whole number. {right}")
    return Typed(value=stored(number, reading.unit, scales))


def _plain(unit: str) -> str:
    """Return a unit the way it is typed in a hurry: 'C' for °C."""
    return unit.lower().replace("°", "").replace(" ", "")


def _unit(question: Question, *, scales: Scales) -> str:
    return shown(0, question.reading.unit, scales)[1] if question.reading else ""


def _example(question: Question) -> str:
    decimals = question.reading.decimals if question.reading else 0
    return "3" if decimals == 0 else f"{6.1:.{decimals}f}"


def _before(walk: Walk, question: Question, today: date) -> list[str]:
    before = walk.before()
    if before is None:
        return []
    day = day_words(before.at.date(), today)
    answer = answer_words(question, before, scales=walk.opened.scales)
    return [f"{day[:1].upper()}{day[1:]}: {answer}.", doubtful_words(walk.opened.doubt_of(before))]


def _what_to_type(question: Question, *, scales: Scales) -> str:
    count = len(question.choices)
    if question.kind == "note":
        says = f"Type the note, {NOTHING} when there is nothing to note, or n if nobody looked"
    elif question.kind in COUNTED:
        unit = _unit(question, scales=scales)
        says = f"Type the number{f' in {unit}' if unit else ''}, or n if nobody looked"
    elif question.kind == "signs":
        says = f"Type 1 to {count}, several with commas between them, or 0 if nobody looked"
    else:
        says = f"Type 1 to {count}, or 0 if nobody looked"
    return f"{says}. ? tells what else can be typed."
