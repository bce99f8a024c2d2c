"""What the report shows besides the term in numbers: what was grown, crop by crop, and the rounds week by week.

Nothing of it says who did anything: codes in texts that people typed are replaced.
"""

from collections import Counter
from collections.abc import Iterable
from datetime import date, timedelta

from msgspec import Struct

from walkabout.insight.term_harvest import COMPOSTED, DIED, picked
from walkabout.insight.term_kept import Kept
from walkabout.insight.term_model import LampUse, Term
from walkabout.insight.term_time import rounds, without_codes
from walkabout.records.model import Planting
from walkabout.records.sums import THINNED, started
from walkabout.room.calendar import closure_on
from walkabout.room.model import Room
from walkabout.round.opened import OpenRoom
from walkabout.round.term import kept_of, term_of


class Grown(Struct, frozen=True):
    """One crop: how many stood at first or came since, and where they went within the span; what it gave.

    Up to today `began` is the sum of `stands`, `lost`, `taken` and `plants`.
    """

    key: str
    name: str
    began: int
    stands: int
    lost: int
    taken: int
    """Thinned out, or composted."""
    plants: int
    grams: float
    noted: float
    """Grams that only stand in the words of an ending."""


class Week(Struct, frozen=True):
    """A week from its Monday: days on which somebody should have walked, and those on which somebody did.

    `closed` names the closure for which nobody had to, '' in any other week.
    """

    monday: date
    expected: int
    walked: int
    closed: str = ""


class Summed(Struct, frozen=True):
    """A span of days for everybody to read."""

    term: Term
    grown: tuple[Grown, ...]
    weeks: tuple[Week, ...]
    losses: tuple[tuple[str, int], ...]
    """Why, and how many plants; the most first."""
    causes: tuple[tuple[str, int], ...]
    """Causes that were confirmed, and how many findings."""
    lamps: tuple[tuple[str, float, float | None], ...]
    """What a lamp lights, its kWh, and their price in money."""
    left_out: tuple[str, ...]
    """What is in no number, each sentence once."""


def summed(opened: OpenRoom, first: date | None = None, last: date | None = None) -> Summed:
    """Return the span; ValueError, one sentence, where it is none."""
    term, room = term_of(opened, first, last), opened.room
    left = (*term.harvest.left_out, *term.energy.left_out, *term.water.left_out, *term.cost.left_out)
    return Summed(
        term=term,
        grown=tuple(_grown(opened, term)),
        weeks=tuple(_weeks(kept_of(opened, term.first), term)),
        losses=tuple((without_codes(one.why, opened.room), one.plants) for one in term.losses.whys),
        causes=tuple((without_codes(one.why, opened.room), one.plants) for one in term.losses.causes),
        lamps=tuple((without_codes(name, room), one.kwh, one.money) for name, one in _lamps(term)),
        left_out=tuple(dict.fromkeys(without_codes(says, room) for says in left)),
    )


def _lamps(term: Term) -> Iterable[tuple[str, LampUse]]:
    """Yield each lamp under the stations that it lights, and under its key too where that would not tell it apart."""
    lights = Counter(one.where for one in term.energy.lamps)
    for one in term.energy.lamps:
        where = one.where.replace(", ", " and ")
        yield (where if where and lights[one.where] == 1 else f"{where} ({one.key})" if where else one.key), one


def _grown(opened: OpenRoom, term: Term) -> Iterable[Grown]:
    gave = {one.crop: one for one in term.harvest.crops}
    of: dict[str, list[Planting]] = {}
    for one in opened.plantings.values():
        if one.sown <= term.until and (one.ended is None or one.ended >= term.first):
            of.setdefault(one.crop, []).append(one)
    for key in sorted({*of, *gave}, key=lambda one: _named(opened, one).casefold()):
        rows, harvest = of.get(key, []), gave.get(key)
        yield Grown(
            key=key,
            name=_named(opened, key),
            began=sum(_began(one, term.first) for one in rows),
            stands=sum(one.count for one in rows if one.ended is None),
            lost=sum(_lost(one, term) for one in rows),
            taken=sum(_taken(one, term) for one in rows),
            plants=harvest.plants if harvest else 0,
            grams=harvest.grams if harvest else 0.0,
            noted=harvest.noted_grams if harvest else 0.0,
        )


def _named(opened: OpenRoom, key: str) -> str:
    crop = opened.crops.find(key)
    return without_codes(crop.name if crop else key, opened.room)


def _began(one: Planting, first: date) -> int:
    """Return how many stood when the span began, or were sown since."""
    gone = sum(each.count for each in one.losses if each.day < first)
    gone += sum(each.count for each in one.pickings if each.day < first)
    return max(started(one) - gone, 0)


def _lost(one: Planting, term: Term) -> int:
    died = one.count if _ended(one, term, DIED) else 0
    return died + sum(each.count for each in one.losses if each.why != THINNED and _within(each.day, term))


def _taken(one: Planting, term: Term) -> int:
    """Return how many were thinned out or composted: no loss, and not eaten."""
    whole = one.count if _ended(one, term, COMPOSTED) else 0
    thinned = sum(each.count for each in one.losses if each.why == THINNED and _within(each.day, term))
    return whole + thinned + sum(each.count for each, eaten in picked(one) if not eaten and _within(each.day, term))


def _ended(one: Planting, term: Term, how: str) -> bool:
    return one.ended is not None and _within(one.ended, term) and one.reason.partition(": ")[0] == how


def _within(day: date, term: Term) -> bool:
    return term.first <= day <= term.until


def _weeks(kept: Kept, term: Term) -> Iterable[Week]:
    """Yield the weeks from the first with a round, counted as the term counts them."""
    begun = False
    monday = term.first - timedelta(days=term.first.weekday())
    while monday <= term.until:
        first, last = max(monday, term.first), min(monday + timedelta(days=6), term.until)
        counted = rounds(kept, first, last)
        begun = begun or counted.expected + counted.besides > 0
        if begun:
            walked = counted.walked + counted.besides
            closed = "" if counted.expected or walked else _closed(kept.room, first, last)
            yield Week(monday, counted.expected, walked, closed)
        monday += timedelta(days=7)


def _closed(room: Room, first: date, last: date) -> str:
    days = (first + timedelta(days=ahead) for ahead in range((last - first).days + 1))
    closures = [one for one in (closure_on(room, day) for day in days) if one is not None]
    return without_codes(closures[0].name or "the room was closed", room) if closures else ""
