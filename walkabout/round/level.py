"""Levelling: where a coming day would be too long, some of what it must ask is asked a little earlier.

Each question has a longest interval. Left to the last moment, most of a week's questions would meet on
its last day, when more is vital as well because the room is then alone for longer.
"""

from collections.abc import Iterable, Sequence

import msgspec
from msgspec import Struct

from walkabout.checklist.model import Checklist, Question
from walkabout.room.model import may
from walkabout.round.days import Ahead, coming, open_days
from walkabout.round.due import Due, Today, age_of, vital_at
from walkabout.round.here import Here, applies, measured_elsewhere
from walkabout.round.pace import OPENING, WALKING

DAYS = 6
"""How many rounds ahead are looked at: a school week and a day."""
PRESSES = 60
"""Keys that a healthy round may take, one for a choice, one for each digit of a number and one to hand
it in: more makes people answer without looking. Assumed."""
FILLED = 0.8
"""The share of a coming round that may be filled beforehand: rechecks and follow-ups come on top. Assumed."""


class Load(Struct, frozen=True):
    """What questions take together."""

    seconds: float = 0
    presses: int = 0

    def plus(self, other: "Load") -> "Load":
        """Return both together."""
        return Load(self.seconds + other.seconds, self.presses + other.presses)

    def beyond(self, most: "Load") -> "Load":
        """Return what is above the most, at least nothing."""
        return Load(max(self.seconds - most.seconds, 0), max(self.presses - most.presses, 0))


class Waiting(Struct, frozen=True):
    """A question that is not asked today, and when it will have to be."""

    where: tuple[str, str]
    load: Load
    must_on: tuple[int, ...]
    """The rounds ahead, from 0, that must ask it when nobody asks before."""
    eased: bool
    """Asked today, it need not be asked on the first of them."""


def presses(question: Question) -> int:
    """Return the keys of a healthy answer: a digit or the space bar, or a number and enter."""
    reading = question.reading
    if reading is None:
        return 1
    low, high = reading.good or reading.likely
    middle = (max(low, reading.likely[0]) + min(high, reading.likely[1])) / 2
    return sum(character.isdigit() for character in f"{middle:.{reading.decimals}f}") + 1


def load_of(one: Due) -> Load:
    """Return what one question takes today."""
    return Load(one.seconds, presses(one.question))


def pulled_forward(
    places: Sequence[tuple[Here, Checklist]], today: Today, asked: Iterable[Due], possible: Iterable[Due]
) -> list[Due]:
    """Return those of the possible questions that are best asked today so that no coming round is too long."""
    days = coming(today.room, today.day, DAYS)
    waiting = _waiting(places, today, {(one.here.key, one.question.id) for one in asked}, days)
    seconds = today.room.minutes * 60 - OPENING - WALKING * len(places)
    most = Load(seconds * FILLED, round(PRESSES * FILLED))
    over = Load()
    for index in reversed(range(len(days))):
        on_day = Load()
        for one in waiting:
            if index in one.must_on:
                on_day = on_day.plus(one.load)
        over = over.plus(on_day).beyond(most)
    first = {one.where: one.must_on[0] for one in waiting if one.must_on and one.eased}
    helping = [one for one in possible if (one.here.key, one.question.id) in first]
    # the nearest day first; then what loses least of its interval by being asked today
    helping.sort(
        key=lambda one: (
            first[one.here.key, one.question.id],
            -age_of(one.here, one.question, today) / one.question.must,
            -one.worth,
        )
    )
    chosen: list[Due] = []
    for due in helping:
        if over == Load():
            break
        chosen.append(due)
        over = over.beyond(load_of(due))
    return chosen


def _waiting(
    places: Sequence[tuple[Here, Checklist]], today: Today, asked: set[tuple[str, str]], days: Sequence[Ahead]
) -> list[Waiting]:
    """Follow every quick question through the coming rounds, each put off for as long as it may be."""
    found = []
    elsewhere = measured_elsewhere(places, today.day)
    befores = (today.day, *(day.day for day in days))
    ages = [open_days(today.room, before, day.day) for before, day in zip(befores, days, strict=False)]
    for here, checklist in places:
        fitting = [one for one in checklist.question if applies(one, here, today.day)]
        vital = {
            alone: vital_at(here, checklist, fitting, msgspec.structs.replace(today, alone=alone))
            for alone in {day.alone for day in days}
        }
        for question in fitting:
            where = (here.key, question.id)
            if question.slow or where in elsewhere or not may(today.role, question.who):
                continue
            sure = [question.id in vital[day.alone] or (day.returning and question.after_closure) for day in days]
            since = 0 if where in asked or where in today.answered else age_of(here, question, today)
            must_on = _must_on(question, since, days, ages, sure)
            eased = bool(must_on) and must_on[0] not in _must_on(question, 0, days, ages, sure)
            load = Load(today.pace.seconds(here.key, question, today.walker), presses(question))
            found.append(Waiting(where, load, tuple(must_on), eased))
    return found


def _must_on(
    question: Question, age: int, days: Sequence[Ahead], ages: Sequence[int], sure: Sequence[bool]
) -> list[int]:
    """Return the rounds ahead that must ask a question whose last look is `age` days old today.

    `ages` are the open days from the round before to each of them; `sure` says of each whether it asks in any
    case, be the look ever so young.
    """
    found = []
    for index, (day, older, asked_anyway) in enumerate(zip(days, ages, sure, strict=True)):
        age += older
        if asked_anyway or age + day.gap > question.must:
            found.append(index)
            age = 0
    return found
