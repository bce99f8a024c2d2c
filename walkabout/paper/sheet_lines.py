"""What stands on a round sheet: today's plan as stations and lines, each line with its code, boxes and good range."""

import re
from collections.abc import Iterable
from datetime import date

from msgspec import Struct

from walkabout.checklist.model import Question
from walkabout.room.calendar import is_walked
from walkabout.round.due import Due
from walkabout.round.here import Here
from walkabout.round.on_paper import code_of
from walkabout.round.opened import OpenRoom
from walkabout.round.wants import wanted_at
from walkabout.round.words import good_words, minutes_words, unit_words


class Line(Struct, frozen=True):
    """One question of the sheet. `good` and `unit` in the room's own units, '' where there is none."""

    code: str
    ask: str
    kind: str
    why: str = ""
    choices: tuple[str, ...] = ()
    """In the order of their keys: the first is typed as 1."""
    unit: str = ""
    good: str = ""
    who: str = ""


class Stop(Struct, frozen=True):
    """A station of the sheet."""

    name: str
    grows: str
    lines: tuple[Line, ...]


class Sheet(Struct, frozen=True):
    """All that stands on it. `later`: slow looks that are done in the course of the day."""

    room: str
    day: date
    walker: str
    about: str
    stops: tuple[Stop, ...]
    later: tuple[Stop, ...] = ()


def sheet_of(opened: OpenRoom, walker: str = "") -> Sheet:
    """Return the sheet of the day on the room's clock, as `walker` would walk it; an adult where nobody is named."""
    planned = opened.plan(walker or _any_adult(opened))
    about = f"{len(planned.asked)} questions, {minutes_words(planned.seconds)}."
    if not is_walked(opened.room, opened.today()):
        about = f"No round is expected on this day. {about}"
    return Sheet(
        room=opened.room.name,
        day=opened.today(),
        walker=walker,
        about=about if planned.asked else "Nothing is left to look at on this day.",
        stops=_stops(opened, planned.asked),
        later=_stops(opened, planned.jobs),
    )


def _any_adult(opened: OpenRoom) -> str:
    return next((code for code, person in opened.room.people.items() if person.role != "pupil"), "")


def _stops(opened: OpenRoom, asked: Iterable[Due]) -> tuple[Stop, ...]:
    stops: dict[str, tuple[Here, list[Line]]] = {}
    neighbours = [here for here, _ in opened.places() if here.station is not None]
    for one in asked:
        lines = stops.setdefault(one.here.key, (one.here, []))[1]
        lines.append(_line(opened, one.here, one.question, one.why, neighbours))
    return tuple(Stop(here.name, _grows(here), tuple(lines)) for here, lines in stops.values())


def _grows(here: Here) -> str:
    return ", ".join(crop.name for crop in here.crops) if here.station is not None else ""


def _line(opened: OpenRoom, here: Here, question: Question, why: str, neighbours: list[Here]) -> Line:
    reading, scales = question.reading, opened.scales
    good = unit = ""
    if reading is not None:
        good = good_words(reading, wanted_at(here, neighbours, reading, scales=scales), scales=scales)
        unit = unit_words(reading.unit, scales=scales)
    if good == "good up to 0":
        good = "good 0"
    return Line(
        code=code_of(here.key, question.id),
        ask=question.ask,
        kind=question.kind,
        why=_again(why, measured=reading is not None),
        choices=tuple(choice.says for choice in question.choices),
        unit=unit,
        good=good,
        who={"pupil": "", "adult": "an adult looks", "licensed": "a licensed person looks"}[question.who],
    )


def _again(why: str, *, measured: bool) -> str:
    """Return why something is looked at again, '' for any other reason; of a reading without its sources at the end."""
    if not why.startswith("Look again"):
        return ""
    return re.sub(r" \([^()]*\)?$", "", why) if measured else why
