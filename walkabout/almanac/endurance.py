"""How long a station lives by itself, what fails first there, and what would help."""

from collections.abc import Iterable, Mapping
from datetime import date
from math import ceil, exp, floor, inf

import msgspec
from msgspec import Struct

from walkabout.almanac.before_leaving import Step, named, steps
from walkabout.almanac.drinking import dimmed, in_litres, later
from walkabout.almanac.first_morning import RESERVE_LEFT
from walkabout.almanac.lasting_words import HAIR, span_words
from walkabout.almanac.model import Basis, Course, Fate, Lasting, Standing
from walkabout.almanac.supply import (
    HORIZON,
    Held,
    Help,
    can_pick,
    drinks,
    emptied,
    felt_hours,
    held,
    is_whole,
    lives,
    working,
)
from walkabout.almanac.visiting import LEAST_BETWEEN, does, visits
from walkabout.room.model import Station

STOPS = ("pump-stopped", "flow-stopped", "drive-stopped", "no-flood", "air-stopped")
"""Faults of a checklist by which what feeds the roots stops."""
NEEDS_SOMEBODY = ("film", "drum")
"""Kinds whose roots feel a stop within hours: a spare helps only whoever is there. Reckoned from what roots hold."""
WEEKEND = 4.0
"""Days away up to which what likely lasts, watered well and with all that saves water, is left alone: over a weekend,
and a day more, nobody gives plants away that usually live through it. Beyond that only what surely lasts. Assumed."""
TANK_STEP = 5
"""Litres: a second tank is said in steps of so many."""


class Outlook(Struct, frozen=True, kw_only=True):
    """What `lasting` says, with what a forecast of the whole room needs besides."""

    lasting: Lasting
    held: Held
    helped: Help
    """What is done for it before leaving."""
    steps: tuple[Step, ...]


def lasting(station: Station, basis: Basis, courses: Mapping[str, Course], first: date, days: float) -> Lasting:
    """Return how long a station lives from the round of `first`, the last one, when nobody comes for `days`."""
    return outlook(station, basis, courses, first, days).lasting


def outlook(
    station: Station,
    basis: Basis,
    courses: Mapping[str, Course],
    leaving: date,
    away: float,
    standing: Iterable[Standing] = (),
) -> Outlook:
    """Return what a closure does to one station: see Lasting; `standing` are the room's standing jobs."""
    one = held(station, basis, courses, leaving, max(HORIZON, ceil(away) + 1), away)
    sure, likely = lives(one, Help())
    early = _all_early(one, basis, courses, leaving)
    fate, helped = _fate(one, away, can_help=leaving >= basis.today, early=early)
    helped_sure, helped_likely = lives(one, helped)
    todo = steps(one, helped, fate, basis, courses, leaving, away, standing)
    coming = visits([(one, helped)], leaving, away, basis.today) if fate == "visit" else ()
    stays = fate != "harvest first"
    found = Lasting(
        station=station.key,
        name=station.name,
        fate=fate,
        days=_down(sure),
        likely=None if likely == inf else likely,
        days_helped=_down(helped_sure) if stays else None,
        likely_helped=None if not stays or helped_likely == inf else helped_likely,
        fails=_past(one, basis) if emptied(one, helped) and one.past else _fails(one, sure, likely, leaving),
        before=tuple(step.before for step in todo),
        visits=coming,
        visit_does=does(one) if fate == "visit" else "",
        dim=_dim(one) if stays else "",
        risk=_risk(one, basis, away) if stays else "",
        instead=_instead(one, helped, fate, basis, away, early=early),
        working=working(one),
    )
    return Outlook(lasting=found, held=one, helped=helped, steps=tuple(todo))


def is_emptied(station: Station, basis: Basis, courses: Mapping[str, Course], leaving: date, away: float) -> bool:
    """Say whether a closure ends what grows at a station: it is harvested or cleared before, and left clean and dry."""
    one = held(station, basis, courses, leaving, max(HORIZON, ceil(away) + 1), away)
    if not one.plantings:
        return bool(one.gone)
    early = _all_early(one, basis, courses, leaving)
    return _fate(one, away, can_help=leaving >= basis.today, early=early)[0] == "harvest first"


def _all_early(one: Held, basis: Basis, courses: Mapping[str, Course], leaving: date) -> bool:
    """Say whether all that stands there could be harvested whole before leaving, if a little early."""
    return bool(one.plantings) and all(
        is_whole(each, basis) and can_pick(each, courses, leaving) for each in one.plantings
    )


def _fate(one: Held, away: float, *, can_help: bool, early: bool) -> tuple[Fate, Help]:
    """Return what becomes of a station, and the least that is to be done for it: each help is tried after the other."""
    nothing = Help(cleared=can_help and bool(one.past))
    if emptied(one, nothing):
        return "harvest first", nothing
    known = not one.tank or one.level is not None or not one.plantings
    if lives(one, nothing)[0] >= away and known:
        return "lasts" if lives(one, Help())[0] >= away else "lasts if", nothing
    helped = nothing
    if can_help:
        for helped in _helps(one, nothing):
            if lives(one, helped)[1 if away <= WEEKEND else 0] >= away:
                return "lasts if", helped
        if one.ready and len(one.ready) == len(one.plantings):
            return "harvest first", msgspec.structs.replace(nothing, picked=True)
    if lives(one, helped)[0] >= LEAST_BETWEEN:
        return "visit", helped
    return ("harvest first", nothing) if can_help and early else ("lost", helped)


def _helps(one: Held, nothing: Help) -> Iterable[Help]:
    """Yield what can be done, one thing after the other, what costs the plants least first."""
    some_ready = 0 < len(one.ready) < len(one.plantings)
    saves = not one.tank and one.store is not None and bool(one.store.saves) and one.store.water == "root zone"
    dims = bool(one.lamps) and one.store is not None and one.store.dark and (one.tank or one.store.ml)
    yield (helped := msgspec.structs.replace(nothing, filled=True))
    if saves:
        yield (helped := msgspec.structs.replace(helped, saved=True))
    if some_ready:
        yield (helped := msgspec.structs.replace(helped, picked=True))
    if dims:
        yield msgspec.structs.replace(helped, dimmed=True)


def _past(one: Held, basis: Basis) -> str:
    """Say that what stands there would be past its best by the return."""
    return f"past its best by the first day back: {named(one.past, basis)}"


def _fails(one: Held, sure: float, likely: float, leaving: date) -> str:
    """Say what fails first and about when; empty where nothing does, for as long as anybody plans."""
    if not one.plantings:
        return "nothing stands there by then" if one.gone else "nothing grows there"
    if sure == inf:
        return ""
    if not one.tank and one.store is None:
        return "how long it lasts is not known"
    says = one.store.fails.rstrip(".") if one.store is not None and not one.tank else RESERVE_LEFT
    what, cut, more = says.partition(";")
    day = later(leaving, sure)
    soon = f"{span_words(sure, None if likely == inf else likely)} after leaving"
    when = f"about {day:%a} {day.day} {day:%b}" if sure >= 1 else soon
    if one.store is not None and one.store.water == "nothing":
        when = f"but not before {day:%a} {day.day} {day:%b}"
    return f"{what} {when}{cut}{more}"


def _dim(one: Held) -> str:
    if not one.lamps or not one.plantings or one.store is None:
        return ""
    if one.store.dark:
        return "It may stand at half its lamp hours, or dark for up to a week."
    return "Leave its lamp as it is: in the dark these plants stretch or die."


def _risk(one: Held, basis: Basis, away: float) -> str:
    """Say how soon a stop of what feeds it is felt, and its chance by the checklist's rates; empty without a risk."""
    checklist = basis.checklists.get(one.station.kind)
    if checklist is None or not one.plantings:
        return ""
    pumps = [basis.room.pumps[key] for key in one.station.pumps if key in basis.room.pumps]
    alone = one.station.kind in NEEDS_SOMEBODY or (pumps and not all(pump.spare for pump in pumps))
    stops = [fault for name, fault in checklist.fault.items() if name in STOPS]
    if not alone or not stops:
        return ""
    fault = min(stops, key=lambda stop: stop.hours)
    chance = 1 - exp(-sum(stop.per_week for stop in stops) * away / 7)
    if chance <= 0:
        return ""
    water = any(pump.moves == "water" for pump in pumps) or one.station.kind in NEEDS_SOMEBODY
    hours = _lit_hours(felt_hours(one, fault.hours)) if water else hours_words(fault.hours)
    says = f"In case {fault.says}: plants feel it in {hours}, and nobody is there"
    return f"{says}; about 1 chance in {max(round(1 / chance), 2)} meanwhile."


def _lit_hours(hours: float) -> str:
    return (
        "less than an hour of light"
        if hours < 1
        else f"about {int(hours)} hour{'s' if int(hours) > 1 else ''} of light"
    )


def hours_words(hours: float) -> str:
    """Say hours, rounded down: 'about 18 hours', 'about 3 days'."""
    return f"about {int(hours)} hours" if hours < 72 else f"about {int(hours / 24)} days"


def _instead(one: Held, helped: Help, fate: Fate, basis: Basis, away: float, *, early: bool) -> str:
    """Say what would do in place of visits, a second tank say, or of saving water; empty where nothing would."""
    if fate == "lasts if" and lives(one, helped)[0] < away:
        harvest = f", or harvest {named(one.plantings, basis)} before, if a little early" if early else ""
        return f"It usually lives so long, but not surely: look here first on the first day back{harvest}."
    if not one.tank or fate != "visit":
        return ""
    drunk = drinks(one, helped)
    times = dimmed(one.lit) if helped.dimmed else 1.0
    need = sum(drunk.daily[: ceil(away)]) * times * (1 + drunk.margin) - one.usable
    more = max(ceil(need / TANK_STEP) * TANK_STEP, TANK_STEP)
    return f"A second tank of {in_litres(more)} L, joined to the first, would do in place of visits."


def _down(days: float) -> float | None:
    """Return days rounded down: to whole ones, below one to whole hours; None for ever."""
    if days == inf:
        return None
    return float(floor(days)) if days >= 1 else floor(24 * days + HAIR) / 24
