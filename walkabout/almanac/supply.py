"""What a station holds for its plants once nobody comes, and how long it lives on that."""

from collections.abc import Mapping
from datetime import date, time, timedelta
from math import ceil, inf

from msgspec import Struct

from walkabout.almanac.drinking import Drinking, by_the_lamp, days_until, dimmed, drinking, in_litres
from walkabout.almanac.model import Basis, Course
from walkabout.checklist.model import Store
from walkabout.growing.water_use import RESERVE
from walkabout.records.model import Planting
from walkabout.room.model import Lamp, Station

HORIZON = 120
"""Days: what lasts so long lasts for as long as anybody plans. The longest closures are ten weeks. Assumed."""
WINDOW_HOURS, SUNRISE = 12.0, 6.0
"""Hours of light a day where no lamp hangs, and the hour at which they begin. Assumed."""
SAVED, SAVED_PLUG = 2.0, 8.0
"""How many times as long a root zone lasts once what its checklist names to save water is done; plugs on a wet mat
and under a lid come over a weekend so. Assumed."""
SAVED_MAT = 6.0
"""The same for a thin mat with trays, set on a second wet mat with the lids ajar: 3 L/m² below, and half the drinking
under a lid. Assumed."""
ROUND = 1.0
"""Days: what is watered at every round lives to the next one, as the room shows every day; likely it lasts so long."""
POT_PLANT, PLUG_PLANT = 0.10, 0.010
"""Litres a day of a plant in a pot of 15 cm, and of one in a plug: the middle of 0.05 to 0.15 and of 0.005 to 0.015.
The crop table's litres are those of plants with all the room their roots want. Assumed."""
PLUG = 50.0
"""Millilitres that a root zone can give, below which it is a plug. Assumed."""
UNKNOWN_DAYS = 2.0
"""Days that a station surely lasts where its checklist does not say what it holds: a weekend. Assumed."""
EATEN_WHOLE = ("leafy", "root", "microgreen")
"""Groups of crops that are gone from their places once they are harvested."""


class Help(Struct, frozen=True):
    """What is done for a station before leaving."""

    filled: bool = False
    """The tank is filled up to its mark."""
    saved: bool = False
    """What its checklist names to save water is done."""
    cleared: bool = False
    """What would be past its best on the first day back is harvested whole, and drinks no longer."""
    picked: bool = False
    """All that is ready is harvested whole besides."""
    dimmed: bool = False
    """The lamps burn half their hours."""


class Held(Struct, frozen=True, kw_only=True):
    """All that decides how long one station lives by itself from the round of `leaving` on."""

    station: Station
    store: Store | None
    plantings: tuple[Planting, ...]
    """What stands there over the closure."""
    gone: tuple[Planting, ...]
    """What stands there today, and is over by then."""
    ready: tuple[Planting, ...]
    """What can be harvested whole before leaving."""
    past: tuple[Planting, ...]
    """What is harvested whole before leaving at any rate: it would be past its best on the first day back."""
    tank: str
    """The tank that feeds it; empty without one."""
    usable: float
    """Litres of the full tank above the reserve."""
    level: float | None
    """Litres above the reserve as the tank stands if nobody fills it; None where no top-up is on record."""
    every: Drinking
    """All that drink from the same tank, else all that stand here."""
    kept: Drinking
    """The same without what would be past its best."""
    fewer: Drinking
    """The same without what is ready, too."""
    lamps: tuple[Lamp, ...]
    """Those with a timer: daylight has none."""
    lit: float
    """Hours of light a day."""
    lamp_on: float
    """The hour, counted from the start of the round, at which the lamp comes on: -2 is two hours before."""


def held(
    station: Station, basis: Basis, courses: Mapping[str, Course], leaving: date, days: int, away: float = 0.0
) -> Held:
    """Gather what a station holds on the last day before a closure, and what drinks from it on so many days.

    Nobody comes for `away` days.
    """
    room = basis.room
    store = checklist.store if (checklist := basis.checklists.get(station.kind)) is not None else None
    standing = [one for one in basis.standing if one.station == station.key]
    gone = tuple(one for one in standing if _over(courses.get(one.key), leaving))
    plantings = tuple(one for one in standing if one not in gone)
    tank = station.tank if station.tank in room.tanks and (store is None or store.water == "tank") else ""
    sharing = [one.key for one in room.stations if one.tank == tank] if tank else [station.key]
    drinks = [one for one in basis.standing if one.station in sharing and not _over(courses.get(one.key), leaving)]
    back = leaving + timedelta(days=ceil(away))
    past = tuple(one for one in drinks if is_past(one, courses, leaving, back) and is_whole(one, basis))
    pickable = tuple(one for one in drinks if one in past or is_ready(one, basis, courses, leaving))
    every = drinking(drinks, basis, courses, leaving, days, tank)
    kept = [one for one in drinks if one not in past]
    left = [one for one in drinks if one not in pickable]
    lamps = tuple(lamp for key in station.lamps if (lamp := room.lamps.get(key)) and lamp.kind != "window")
    usable = room.tanks[tank].litres * (1 - RESERVE) if tank else 0.0
    # what the tank lost lately was drunk by all of them: those that stay take their share of it
    table = every if not pickable else drinking(drinks, basis, courses, leaving, days)
    without_past = every if not past else _without(every, table, kept, basis, courses, leaving, days)
    return Held(
        station=station,
        store=store,
        plantings=plantings,
        gone=gone,
        ready=tuple(one for one in pickable if one.station == station.key),
        past=tuple(one for one in past if one.station == station.key),
        tank=tank,
        usable=usable,
        level=_level(basis, tank, usable, every, leaving) if tank else None,
        every=every,
        kept=without_past,
        fewer=every if not pickable else _without(every, table, left, basis, courses, leaving, days),
        lamps=lamps,
        lit=max((lamp.hours for lamp in lamps), default=WINDOW_HOURS),
        lamp_on=min((_hour(lamp.on) for lamp in lamps), default=SUNRISE) - _hour(room.starts),
    )


def lives(one: Held, helped: Help, offset: int = 0) -> tuple[float, float]:
    """Return the days that a station surely and likely lives, from `offset` days after leaving on; inf for ever.

    It is counted as filled or watered then. Surely: the margin of what is drunk is taken off, and a root zone holds
    the least that its checklist gives; likely: without the margin, and the middle of what it gives, and never less
    than from one round to the next where somebody waters at every round. What its checklist gives in days is told by
    the lamp, too, where the plants drink it: in the dark a fifth.
    """
    if not one.plantings or emptied(one, helped):
        return inf, inf
    drunk = drinks(one, helped)
    times = dimmed(one.lit) if helped.dimmed else 1.0
    more = times * (1 + drunk.margin)
    if one.tank:
        litres = one.usable if helped.filled or offset or one.level is None else one.level
        daily = drunk.daily[offset:]
        return _or_ever(days_until(daily, litres, more)), _or_ever(days_until(daily, litres, times))
    store = one.store
    if store is not None and store.ml is not None and store.water in ("root zone", "tank"):
        small = sum(store.ml) / 2 < PLUG
        holds = (SAVED_PLUG if small else SAVED) if helped.saved else 1.0
        each = _in_its_pot(drunk.thirstiest[offset:], store)
        least, middle = store.ml[0] / 1000 * holds, sum(store.ml) / 2000 * holds
        lit = one.lit / 2 if helped.dimmed else one.lit
        sure, likely = days_until(each, least, more), days_until(each, middle, times)
        seen = ROUND if store.water == "root zone" else 0.0
        return _lit(sure, lit, one.lamp_on), max(_lit(likely, lit, one.lamp_on), seen)
    if store is not None and store.days is not None:
        least, middle = store.days[0], sum(store.days) / 2
        if store.water != "root zone":
            times = SAVED if helped.saved else 1.0
            return least * times, middle * times
        times = 1.0 if not helped.saved else SAVED_MAT if middle < ROUND else SAVED
        return _lit(least * times, one.lit, one.lamp_on), max(_lit(middle * times, one.lit, one.lamp_on), ROUND)
    return (UNKNOWN_DAYS, UNKNOWN_DAYS) if store is None or store.water != "nothing" else (inf, inf)


def emptied(one: Held, helped: Help) -> bool:
    """Say whether all that stands there is harvested before leaving."""
    gone = one.ready if helped.picked else one.past if helped.cleared else ()
    return bool(one.plantings) and len(gone) == len(one.plantings)


def drinks(one: Held, helped: Help) -> Drinking:
    """Return what is drunk meanwhile once that is done."""
    return one.fewer if helped.picked else one.kept if helped.cleared else one.every


def felt_hours(one: Held, otherwise: float) -> float:
    """Return after how many lit hours a stop of what feeds it is felt: what its roots hold over what they drink."""
    most = one.every.thirstiest[0] if one.every.thirstiest else 0.0
    if one.store is None or one.store.ml is None or most <= 0:
        return otherwise
    lit_hour = most / (one.lit + 0.2 * (24 - one.lit))
    return sum(one.store.ml) / 2000 / lit_hour


def is_whole(planting: Planting, basis: Basis) -> bool:
    """Say whether a planting is gone from its place once it is harvested."""
    crop = basis.crop(planting)
    return crop is not None and bool(crop.eaten) and crop.group in EATEN_WHOLE


def can_pick(planting: Planting, courses: Mapping[str, Course], day: date) -> bool:
    """Say whether a planting may be ready by a day, if early."""
    course = courses.get(planting.key)
    stage = course.stage("harvest") if course is not None else None
    return stage is not None and (stage.reached or stage.span.early) <= day


def is_past(planting: Planting, courses: Mapping[str, Course], leaving: date, back: date) -> bool:
    """Say whether a planting can be picked before leaving, and would be past its best on the first day back."""
    course = courses.get(planting.key)
    until = course.until if course is not None else None
    return until is not None and until < back and can_pick(planting, courses, leaving)


def is_ready(planting: Planting, basis: Basis, courses: Mapping[str, Course], day: date) -> bool:
    """Say whether a planting can as likely as not be harvested whole by a day."""
    if not is_whole(planting, basis):
        return False
    course = courses.get(planting.key)
    stage = course.stage("harvest") if course is not None else None
    return stage is not None and (stage.reached or stage.span.likely) <= day


def working(one: Held) -> tuple[str, ...]:
    """Return how the days came about."""
    if not one.plantings:
        return ()
    store = one.store
    if one.tank:
        stands = "not written down" if one.level is None else f"{in_litres(one.level)} L if nobody fills it"
        holds = f"tank: {in_litres(one.usable)} L above a reserve of a quarter (common practice), {stands}"
        return (*one.every.working, holds)
    if store is None:
        return (f"its checklist does not say what it holds: {UNKNOWN_DAYS:g} days are counted (assumed)",)
    unnamed = ("no tank is named in room.toml: its litres are not counted",) if store.water == "tank" else ()
    if store.ml is not None and store.water in ("root zone", "tank"):
        low, high = store.ml
        most = _in_its_pot(one.every.thirstiest[:1], store)
        drinks = f"{1000 * most[0]:.0f} mL a day the thirstiest" if most else "nothing drunk"
        holds = (
            f"roots: {low:g} to {high:g} mL a plant, {drinks}; {one.lit:g} hours of light, a dark hour a fifth of a lit"
        )
        return (*one.every.working[-1:], *unnamed, holds, *_seen_to(store), store.source)
    return (*unnamed, *_seen_to(store), store.source)


def _seen_to(store: Store) -> tuple[str, ...]:
    """Say why a thin root zone is likely to last a day; empty where it is not thin."""
    plugs = store.ml is not None and sum(store.ml) / 2 < PLUG
    mats = store.days is not None and sum(store.days) / 2 < ROUND
    if store.water != "root zone" or not (plugs or mats):
        return ()
    return ("watered at every round it lives to the next, as every day shows: likely a day at least",)


def _without(
    every: Drinking,
    table: Drinking,
    left: list[Planting],
    basis: Basis,
    courses: Mapping[str, Course],
    first: date,
    days: int,
) -> Drinking:
    if sum(one.count for one in left) == 0:
        return Drinking((0.0,) * days, every.margin, (0.0,) * days, every.working)
    stays = drinking(left, basis, courses, first, days)
    level = every.daily[0] / table.daily[0] if days and table.daily[0] > 0 else 1.0
    daily, most = (tuple(one * level for one in row) for row in (stays.daily, stays.thirstiest))
    return Drinking(daily, every.margin, most, every.working)


def _level(basis: Basis, tank: str, usable: float, drunk: Drinking, leaving: date) -> float | None:
    """Return the litres above the reserve on the day of leaving if it is as long after its last top-up as today."""
    seen = basis.tanks.get(tank)
    if seen is None or seen.topped is None:
        return None
    since = max((min(basis.today, leaving) - seen.topped).days, 0)
    daily = seen.used if seen.used is not None else drunk.daily[0] if drunk.daily else 0.0
    return max(usable - since * daily, 0.0)


def _over(course: Course | None, leaving: date) -> bool:
    return course is not None and course.until is not None and course.until <= leaving


def _hour(text: str) -> float:
    at = time.fromisoformat(text)
    return at.hour + at.minute / 60


def _in_its_pot(each: tuple[float, ...], store: Store) -> tuple[float, ...]:
    """Return what one plant drinks, no more than a plant with so little room for its roots."""
    if store.water != "root zone" or store.ml is None:
        return each
    most = PLUG_PLANT if sum(store.ml) / 2 < PLUG else POT_PLANT
    return tuple(min(one, most) for one in each)


def _or_ever(days: float | None) -> float:
    return inf if days is None else days


def _lit(days: float | None, lit: float, lamp_on: float) -> float:
    return inf if days is None else by_the_lamp(days, lit, lamp_on)
