"""A closure as the room would go through it: what lasts, what to do before, who must come, what to look at first."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta

import msgspec

from walkabout.almanac.before_leaving import Step, arranged
from walkabout.almanac.drinking import later
from walkabout.almanac.endurance import Outlook, outlook
from walkabout.almanac.first_morning import day_words, dried, first_morning
from walkabout.almanac.model import Basis, Before, Course, Forecast, Foreseen, Lasting, Standing
from walkabout.almanac.spreading import spread
from walkabout.almanac.supply import Held, is_past
from walkabout.almanac.visiting import doing, its_own, visits
from walkabout.growing.counting import amount_of
from walkabout.room.calendar import closure_on, day_before, next_day

_DAY = timedelta(days=1)


def forecast(
    first: date,
    last: date,
    name: str,
    basis: Basis,
    courses: Mapping[str, Course],
    promises: Sequence[Foreseen] = (),
    standing: Sequence[Standing] = (),
) -> Forecast:
    """Return how the room goes through a closure from `first` to `last`, both included; room.toml need not have it.

    Nobody comes from the last open day before it to the first one after it; what is to be done before stands on open
    days from today on. Raises ValueError when it ends before it begins.
    """
    if last < first:
        raise ValueError(f"a closure cannot end on {last} before it begins on {first}")
    room = basis.room
    leaving, back = day_before(room, first), next_day(room, last)
    away = float((back - leaving).days)
    looked = [outlook(station, basis, courses, leaving, away, standing) for station in room.stations]
    needing = [one for one in looked if one.lasting.fate == "visit"]
    coming = visits([(one.held, one.helped) for one in needing], leaving, away, basis.today)
    steps = spread(((place, step) for place, one in enumerate(looked) for step in one.steps), basis, leaving, standing)
    stations = [
        _planned(one, [step.before for at, step in steps if at == place], coming, leaving, away)
        for place, one in enumerate(looked)
    ]
    what = doing([(one.lasting.visit_does, one.lasting.name) for one in needing])
    arranging = arranged(what, coming, basis, leaving)
    held = {one.held.station.key: one.held for one in looked}
    dry = {
        one.station: dried(held[one.station], one, leaving, away)
        for one in sorted(stations, key=_by_days)
        if one.fate in ("visit", "lost")
        or (one.fate == "lasts if" and one.days_helped is not None and one.days_helped < away)
    }
    return Forecast(
        first=first,
        last=last,
        name=name,
        leaving=leaving,
        back=back,
        away=away,
        stations=tuple(sorted(stations, key=_by_days)),
        before=tuple(_in_order(steps, looked, arranging)),
        visits=coming,
        promises=tuple(_falling_into(basis, courses, promises, leaving, back)),
        first_morning=first_morning(basis, _planted(looked), away, dry),
    )


def _planned(one: Outlook, before: Sequence[Before], coming: Sequence[date], leaving: date, away: float) -> Lasting:
    """Return what a closure does to a station, with its steps on their days, and its own of the room's visits."""
    its = its_own(one.held, one.helped, coming, leaving, away) if one.lasting.fate == "visit" else ()
    return msgspec.structs.replace(one.lasting, before=tuple(before), visits=its)


def _planted(looked: Iterable[Outlook]) -> Iterator[Held]:
    """Yield the stations in which something is left to go wrong: what is harvested, drained and dry has no faults."""
    return (one.held for one in looked if one.lasting.fate != "harvest first")


def _by_days(one: Lasting) -> tuple[bool, float]:
    return one.days is None, one.days or 0.0


def _in_order(
    spread_out: Iterable[tuple[int, Step]], looked: Sequence[Outlook], arranging: Step | None
) -> Iterator[Before]:
    """Yield everything to do before leaving in its order; what two stations on one tank share is done once."""
    steps = [(step.day, step.turn, place, step.before) for place, step in spread_out]
    if arranging is not None:
        steps.append((arranging.day, arranging.turn, -1, arranging.before))
    done: set[tuple[str, str]] = set()
    for _, _, place, before in sorted(steps, key=lambda step: step[:3]):
        tank = looked[place].held.tank if place >= 0 else ""
        if tank and ("tank" in before.says or "solution" in before.says):
            if (tank, before.says) in done:
                continue
            done.add((tank, before.says))
        yield before


def _falling_into(
    basis: Basis, courses: Mapping[str, Course], promises: Iterable[Foreseen], leaving: date, back: date
) -> Iterator[str]:
    """Yield a sentence for each promise and each harvest that falls between the last round and the first."""
    for one in promises:
        promise = one.promise
        if promise.closed is None and leaving < promise.day < back:
            amount = amount_of(promise.amount, promise.unit, basis.crops.find(promise.crop), one.name)
            yield f"{amount} for {promise.people} is promised for {day_words(promise.day)}, when nobody is there."
    for course in courses.values():
        stage = course.stage("harvest")
        if course.planting.ended is not None or stage is None or stage.reached is not None:
            continue
        if leaving < stage.span.likely < back:
            where = basis.name_of(course.planting.station)
            past = course.until is not None and course.until < back
            then = "and past its best on the first day back" if past else "and can wait for the first day back"
            if is_past(course.planting, courses, leaving, back):
                then = f"{then}: see what is to be done before leaving"
            yield f"{course.name}, {where}: ready about {day_words(stage.span.likely)}, {then}."


def run_dry(found: Forecast) -> dict[str, str]:
    """Return station -> by when it has come to the end of what it holds, as it stood; the first to fail first."""
    said = {}
    for one in found.stations:
        if one.days is not None and one.days < found.away:
            said[one.station] = day_words(later(found.leaving, one.days))
    return said


def named_closure(basis: Basis, first: date, last: date) -> str:
    """Return the name of the closure in room.toml that these days lie in or cover, or ''."""
    found = closure_on(basis.room, first) or closure_on(basis.room, last)
    return found.name if found is not None else ""
