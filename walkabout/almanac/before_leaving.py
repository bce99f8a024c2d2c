"""What is to be done before a closure: station by station, in the order of doing, with minutes and who.

Minutes are assumed throughout. Nothing is put on a day on which nobody comes.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta

from msgspec import Struct

from walkabout.almanac.model import Basis, Before, Course, Fate, Standing
from walkabout.almanac.supply import Held, Help
from walkabout.records.model import Planting
from walkabout.room.calendar import day_before, is_walked
from walkabout.room.model import Room, Station, Who

SEEN_RUNNING = timedelta(days=2)
"""The solution is changed so long before leaving, so that somebody sees the system run. Common practice."""
LONG = 5.0
"""Days away from which on a solution whose age nobody knows is changed, and glass and frost are thought of. Assumed."""
COLD_MONTHS = (10, 11, 12, 1, 2, 3, 4)
"""Months in which frost can come through a pane: the northern half of the world's. Assumed."""
ADULTS_THINGS = ("an adult", "lamp", "timer", "unplug", "pump", "mains", "supply", "switch")
"""Words by which a step of a checklist's `saves` is an adult's: pupils touch neither wiring nor lamps."""
OWN_STEPS = ("fill the tank", "have somebody", "cut ", "pick ")
"""How those of a checklist's `saves` begin that are said here by reckoning: filling, visits, harvests."""
ANOTHER_PLACE = ("move", "pot on", "sow no")
"""How those begin that still help where nothing makes a place last."""
EARLY: Mapping[str, int] = {"a week before": 7, "some days before": 2, "a day before": 1}
"""Words by which a step of a checklist's `saves` is done so many days before leaving."""
MOST_NAMED = 6
"""So many days of visits are named one by one."""
WET = "Supply off before hands go into the water; an adult sees to plugs and cables."
READY = "A pupil pours water or solution that is ready; concentrates are an adult's."
PERMISSION = (
    "An adult's work: agree it with the site manager, and who is told of coming and going, since nobody is near."
)


class Step(Struct, frozen=True, order=True):
    """A thing to do with its turn: by day, then what must come first."""

    day: date
    turn: int
    before: Before


def steps(
    one: Held,
    helped: Help,
    fate: Fate,
    basis: Basis,
    courses: Mapping[str, Course],
    leaving: date,
    away: float,
    standing: Iterable[Standing] = (),
) -> list[Step]:
    """Return what a station needs before leaving, in the order of doing; nothing once that day is over."""
    if leaving < basis.today:
        return []
    found = [
        *_change(one, fate, basis, leaving, away, standing),
        *_harvest(one, helped, fate, basis, courses, leaving, away),
        *_fill(one, helped, fate),
        *_save(one, helped, fate, basis, leaving, away),
        *_dim(one, helped),
        *_from_the_glass(one, leaving, away),
        *_hand_on(one, fate),
    ]
    return sorted(
        (Step(before.day or leaving, turn, before if before.day else _on(before, leaving)) for turn, before in found),
        key=lambda step: (step.day, step.turn),
    )


Turned = tuple[int, Before]


def _change(
    one: Held, fate: Fate, basis: Basis, leaving: date, away: float, standing: Iterable[Standing]
) -> Iterator[Turned]:
    """Yield the change of solution that falls due meanwhile, two days early: not on the last day, to see it run."""
    if not one.tank or not one.plantings or fate in ("harvest first", "lost"):
        return
    tank, seen = basis.room.tanks[one.tank], basis.tanks.get(one.tank)
    changed = seen.changed if seen is not None else None
    due = changed + timedelta(days=tank.change_days) if changed is not None else None
    if away < LONG:
        return  # over a weekend it keeps to its own day
    if due is not None and due >= leaving + timedelta(days=away):
        return
    day = latest_open(basis.room, leaving - SEEN_RUNNING, basis.today) or leaving
    if changed is not None and 2 * (day - changed).days < tank.change_days:
        return  # it is young yet: a few days more at the end harm less than a tank poured away
    planned = [
        job for job in standing if job.key == f"change/{one.tank}" and day - timedelta(days=7) <= job.day <= leaving
    ]
    job = planned[-1] if planned else None
    yield (
        10,
        Before(
            says="Change the solution, and see it run for two days",
            station=one.station.key,
            minutes=job.minutes if job else round(10 + tank.litres / 4),
            who=job.who if job else "adult",
            day=min(job.day, day) if job else day,
            caution=(job.caution if job else "") or WET,
        ),
    )


def _harvest(
    one: Held,
    helped: Help,
    fate: Fate,
    basis: Basis,
    courses: Mapping[str, Course],
    leaving: date,
    away: float,
) -> Iterator[Turned]:
    back = leaving + timedelta(days=away)
    past = [
        planting
        for planting in one.plantings
        if (until := _until(planting, courses)) is not None and until < back and _can_pick(planting, courses, leaving)
    ]
    picked = one.ready if helped.picked or fate == "harvest first" else ()
    due = [planting for planting in one.plantings if planting in picked or planting in past]
    if due:
        why = "" if picked else ", since it would be past its best"
        yield _step(20, one.station, f"Harvest {named(due, basis)}{why}", 2 + _count(due) / 2)
    if one.gone and one.plantings:
        yield _step(20, one.station, f"Clear {named(one.gone, basis)}: its time is over by then", 5)
    emptied = fate == "harvest first" or (one.gone and not one.plantings)
    if one.gone and not one.plantings:
        yield _step(20, one.station, f"Harvest or clear {named(one.gone, basis)}: its time is over by then", 10)
    if emptied and (one.tank or one.station.pumps):
        yield _step(30, one.station, "Drain it, clean it and leave it dry, pump off", 25, "adult", WET)
    elif emptied:
        yield _step(30, one.station, "Wash it and leave it dry", 10)


def _fill(one: Held, helped: Help, fate: Fate) -> Iterator[Turned]:
    if not helped.filled or not one.plantings or fate == "lost":
        return
    if one.tank:
        says = "Fill the tank to its mark, a little weaker than usual: water leaves faster than salts"
        yield _step(40, one.station, says, 5 + one.usable / 10, caution=READY)
    elif one.store is not None and one.store.water == "root zone" and not any(map(_waters, one.store.saves)):
        yield _step(45, one.station, "Water it through until it drains", 3 + _count(one.plantings) / 8)


def _save(one: Held, helped: Help, fate: Fate, basis: Basis, leaving: date, away: float) -> Iterator[Turned]:
    """Yield what the checklist names to save water, but for what has a step of its own here or is a visit.

    Where air and sun are the danger, it is all said before a long closure; a tank's only where filling alone does
    not do, but for cleaning, which is said before every long closure.
    """
    if one.store is None or not one.plantings:
        return
    for turn, says in enumerate(one.store.saves):
        plainly = says.casefold()
        if not _saves(one, helped, fate, away, plainly):
            continue
        adult = any(word in plainly for word in ADULTS_THINGS)
        early = next((days for words, days in EARLY.items() if words in plainly), 0)
        day = latest_open(basis.room, leaving - timedelta(days=early), basis.today) if early else None
        who: Who = "adult" if adult else "pupil"
        takes = 5.0 if adult else 3 + _count(one.plantings) / 8
        turned, before = _step(50 + turn, one.station, says.rstrip("."), takes, who)
        yield turned, _on(before, day or leaving)


def _saves(one: Held, helped: Help, fate: Fate, away: float, plainly: str) -> bool:
    """Say whether one of the checklist's `saves` is to be done."""
    airy = one.store is not None and one.store.water in ("air", "nothing")
    if plainly.startswith(OWN_STEPS) or ("lamp" in plainly and not airy):
        return False
    if fate == "lost" and not plainly.startswith(ANOTHER_PLACE):
        return False
    if airy:
        return away >= LONG
    if one.tank:
        return away >= LONG and helped.filled and (fate in ("visit", "lost") or "clean" in plainly)
    return helped.saved or (helped.filled and _waters(plainly))


def _waters(says: str) -> bool:
    return says.casefold().startswith("water ")


def _dim(one: Held, helped: Help) -> Iterator[Turned]:
    if not helped.dimmed:
        return
    hours = one.lit / 2
    says = f"Set the lamp's timer to {hours:g} hours a day: the plants drink about a third less"
    yield _step(70, one.station, says, 3.0 * len(one.lamps), "adult", "Timers and plugs: an adult, with dry hands.")


def _from_the_glass(one: Held, leaving: date, away: float) -> Iterator[Turned]:
    on_a_sill = not one.lamps and one.station.kind in ("pots", "cacti")
    if one.plantings and on_a_sill and away >= LONG and leaving.month in COLD_MONTHS:
        says = "Take the pots a hand's width from the glass, in case of frost"
        yield _step(75, one.station, says, 2 + _count(one.plantings) / 8)


def _hand_on(one: Held, fate: Fate) -> Iterator[Turned]:
    if fate == "lost":
        says = "Give the plants to somebody who waters them daily, or empty it: they cannot last here"
        yield _step(80, one.station, says, 10, "adult")


def arranged(stations: Sequence[Station], visits: Sequence[date], basis: Basis, leaving: date) -> Step | None:
    """Return the arranging of visits, a week before leaving where there is time; None where nobody has to come."""
    if not visits or not stations or leaving < basis.today:
        return None
    days = _listed(list(map(_said, visits)))
    names = _listed([one.name for one in stations])
    visit = f"a visit on {days}" if len(visits) == 1 else f"visits on {days}"
    if len(visits) > MOST_NAMED:
        visit = f"{len(visits)} visits between {_said(visits[0])} and {_said(visits[-1])}"
    says = f"Arrange {visit}, with whoever has the keys: fill and water {names}"
    day = latest_open(basis.room, leaving - timedelta(days=7), basis.today) or leaving
    before = Before(says=says, station=stations[0].key, minutes=5, who="adult", day=day, caution=PERMISSION)
    return Step(day, 5, before)


def _said(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b}"


def latest_open(room: Room, day: date, today: date) -> date | None:
    """Return this day or the last before it on which somebody walks; None when that is over."""
    found = day if is_walked(room, day) else day_before(room, day)
    return found if found >= today else None


def named(plantings: Sequence[Planting], basis: Basis) -> str:
    """Say what stands there: 'basil and lettuce'."""
    names = dict.fromkeys(crop.name if (crop := basis.crop(one)) else one.crop for one in plantings)
    return _listed(list(names))


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _until(planting: Planting, courses: Mapping[str, Course]) -> date | None:
    course = courses.get(planting.key)
    return course.until if course is not None else None


def _can_pick(planting: Planting, courses: Mapping[str, Course], leaving: date) -> bool:
    course = courses.get(planting.key)
    stage = course.stage("harvest") if course is not None else None
    return stage is not None and (stage.reached or stage.span.early) <= leaving


def _count(plantings: Iterable[Planting]) -> int:
    return sum(one.count for one in plantings)


def _step(turn: int, station: Station, says: str, minutes: float, who: Who = "pupil", caution: str = "") -> Turned:
    return turn, Before(says=says, station=station.key, minutes=float(round(minutes)), who=who, caution=caution)


def _on(before: Before, day: date) -> Before:
    return Before(
        says=before.says,
        station=before.station,
        minutes=before.minutes,
        who=before.who,
        day=day,
        caution=before.caution,
    )
