"""What is to be done before a closure: station by station, in the order of doing, with minutes and who.

Minutes are assumed throughout. Nothing is put on a day on which nobody comes.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta

from msgspec import Struct

from walkabout.almanac.lasting_words import listed, visit_words
from walkabout.almanac.model import Basis, Before, Course, Fate, Standing
from walkabout.almanac.supply import Held, Help, can_pick, is_past
from walkabout.records.model import Planting
from walkabout.room.calendar import day_before, is_walked, next_day
from walkabout.room.model import Room, Station, Who

SEEN_RUNNING = timedelta(days=2)
"""The solution is changed so long before leaving, so that somebody sees the system run. Common practice."""
GROWS_AGAIN = ("herb",)
"""Groups of crops that are cut back, and grow again."""
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
TRIED = ", tried out a week before"
"""How a step of a checklist's `saves` ends that is tried out before it is relied on."""
HARVEST_EARLY, OTHERWISE_EARLY = 2, 4
"""Open days before the last one on which what is harvested, and what may be done at any time, is still in time; what
is washed and left dry comes with its harvest. Assumed."""
LAST_LOOKS = ("water", "wet", "last day", "unplug", "lamp", "lid", "close", "cover", "flood", "just before")
"""Words by which a step of a checklist's `saves` belongs to the last day."""
WET = "Supply off before hands go into the water; an adult sees to plugs and cables."
READY = "A pupil pours water or solution that is ready; concentrates are an adult's."
PERMISSION = (
    "An adult's work: agree it with the site manager, and who is told of coming and going, since nobody is near."
)


class Step(Struct, frozen=True, order=True):
    """A thing to do with its turn: by day, then what must come first; `early` open days sooner will do, too."""

    day: date
    turn: int
    before: Before
    early: int = 0


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
    picked = helped.picked or fate == "harvest first"
    soon = all(can_pick(each, courses, leaving - 2 * SEEN_RUNNING) for each in (one.ready if picked else one.past))
    return sorted(
        (
            Step(before.day, turn, before)
            if before.day
            else Step(leaving, turn, _on(before, leaving), _early(turn, before.says, harvest=soon))
            for turn, before in found
        ),
        key=lambda step: (step.day, step.turn),
    )


def _early(turn: int, says: str, *, harvest: bool) -> int:
    """Return how many open days before the last one a step is still in time."""
    if turn in (HARVEST, WASH):
        return HARVEST_EARLY if harvest else 0
    if turn in (FILL, WATER, DIM, HAND_ON) or (turn < FROST and any(word in says.casefold() for word in LAST_LOOKS)):
        return 0
    return OTHERWISE_EARLY


ARRANGE, CHANGE, HARVEST, WASH, FILL, WATER, SAVE, DIM, FROST, HAND_ON = 5, 10, 20, 30, 40, 45, 50, 70, 75, 80
"""The turns of what is done on one day."""
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
        CHANGE,
        Before(
            says="Change the solution, and see it run" + ("" if job and job.day > day else " for two days"),
            station=one.station.key,
            minutes=job.minutes if job else round(10 + tank.litres / 4),
            who=job.who if job else "adult",
            day=job.day if job else day,
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
    station, back = one.station, leaving + timedelta(days=away)
    gone_whole = one.plantings if fate == "harvest first" else one.ready if helped.picked else one.past
    due = [planting for planting in one.plantings if planting in gone_whole]
    if due:
        why = ", since it would be past its best" if all(planting in one.past for planting in due) else ""
        early = ", if a little early" if not why and any(planting not in one.ready for planting in due) else ""
        why = why.replace("it would be past its", "they would be past their") if len(due) > 1 else why
        yield _step(HARVEST, station, f"Harvest {named(due, basis)}{why}{early}", 2 + _count(due) / 2)
    rest = [each for each in one.plantings if each not in due and is_past(each, courses, leaving, back)]
    again = [each for each in rest if (crop := basis.crop(each)) is not None and crop.group in GROWS_AGAIN]
    if again:
        says = f"Cut {named(again, basis)} back hard: what is cut grows again"
        yield _step(HARVEST, station, says, 2 + _count(again) / 2)
    if ripe := [each for each in rest if each not in again]:
        says = f"Pick all that is ripe: {named(ripe, basis)}"
        yield _step(HARVEST, station, says, 2 + _count(ripe) / 2)
    if one.gone:
        clear = "Clear" if one.plantings else "Harvest or clear"
        says = f"{clear} {named(one.gone, basis)}: past their time by then"
        yield _step(HARVEST, station, says, 5 if one.plantings else 10)
    if fate != "harvest first" and (one.plantings or not one.gone):
        return
    if one.tank or station.pumps:
        yield _step(WASH, station, "Drain it, clean it and leave it dry, pump off", 25, "adult", WET)
    else:
        yield _step(WASH, station, "Wash it and leave it dry", 10)


def _fill(one: Held, helped: Help, fate: Fate) -> Iterator[Turned]:
    if not helped.filled or not one.plantings or fate in ("lost", "harvest first"):
        return
    if one.tank:
        says = "Fill the tank to its mark, a little weaker than usual: water leaves faster than salts"
        yield _step(FILL, one.station, says, 5 + one.usable / 10, caution=READY)
    elif one.store is not None and one.store.water == "root zone" and not any(map(_waters, one.store.saves)):
        says = "Water it through until it drains" if one.store.ml is not None else "Water it well, from below"
        yield _step(WATER, one.station, says, 3 + _count(one.plantings) / 8)


def _save(one: Held, helped: Help, fate: Fate, basis: Basis, leaving: date, away: float) -> Iterator[Turned]:
    """Yield what the checklist names to save water, but for what has a step of its own here or is a visit.

    Where air and sun are the danger, it is all said before a long closure; a tank's only where filling alone does
    not do, but for cleaning, which is said before every long closure.
    """
    if one.store is None or not one.plantings:
        return
    for turn, named_so in enumerate(one.store.saves):
        says, plainly = named_so.rstrip("."), named_so.casefold()
        if not _saves(one, helped, fate, away, plainly) or _is_not_there(one.station, basis.room, plainly):
            continue
        adult = any(word in plainly for word in ADULTS_THINGS)
        words, early = next(((words, days) for words, days in EARLY.items() if words in plainly), ("", 0))
        day = latest_open(basis.room, leaving - timedelta(days=early), basis.today) if early else None
        if early and day is None:
            day = basis.today if is_walked(basis.room, basis.today) else next_day(basis.room, basis.today)
            says = _in_short_time(says, words, last=day >= leaving)
        who: Who = "adult" if adult else "pupil"
        takes = 5.0 if adult else 3 + _count(one.plantings) / 8
        turned, before = _step(SAVE + turn, one.station, says.rstrip("."), takes, who)
        yield turned, _on(before, min(day, leaving)) if day is not None else before


def _in_short_time(says: str, words: str, *, last: bool) -> str:
    """Say a step that should have come days before where those days are over."""
    if says.endswith(TRIED):
        tried = "; not tried out: look at it again before leaving" if last else ", tried out until you leave"
        return f"{says.removesuffix(TRIED)}{tried}"
    return says.replace(words, "now")


def _saves(one: Held, helped: Help, fate: Fate, away: float, plainly: str) -> bool:
    """Say whether one of the checklist's `saves` is to be done."""
    airy = one.store is not None and one.store.water in ("air", "nothing")
    if plainly.startswith(OWN_STEPS) or ("lamp" in plainly and not (airy and one.lamps)):
        return False
    if fate == "harvest first":
        return False
    if fate == "lost" and not plainly.startswith(ANOTHER_PLACE):
        return False
    if airy:
        return away >= LONG
    if one.tank:
        return away >= LONG and helped.filled and (fate in ("visit", "lost") or "clean" in plainly)
    return helped.saved or (helped.filled and _waters(plainly))


def _is_not_there(station: Station, room: Room, plainly: str) -> bool:
    """Say whether a step is about a heat mat that nobody has."""
    return "unplug the heat mat" in plainly and "heat mat" not in (*station.kit, *room.kit)


def _waters(says: str) -> bool:
    return says.casefold().startswith("water ")


def _dim(one: Held, helped: Help) -> Iterator[Turned]:
    if not helped.dimmed:
        return
    hours = one.lit / 2
    says = f"Set the lamp's timer to {hours:g} hours a day: the plants drink about a third less"
    yield _step(DIM, one.station, says, 3.0 * len(one.lamps), "adult", "Timers and plugs: an adult, with dry hands.")


def _from_the_glass(one: Held, leaving: date, away: float) -> Iterator[Turned]:
    on_a_sill = not one.lamps and one.station.kind in ("pots", "cacti")
    if one.plantings and on_a_sill and away >= LONG and leaving.month in COLD_MONTHS:
        says = "Take the pots a hand's width from the glass, in case of frost"
        yield _step(FROST, one.station, says, 2 + _count(one.plantings) / 8)


def _hand_on(one: Held, fate: Fate) -> Iterator[Turned]:
    if fate == "lost":
        says = "Give the plants to somebody who waters them daily: they do not last here until somebody comes"
        yield _step(HAND_ON, one.station, says, 10, "adult")


def arranged(doing: str, visits: Sequence[date], basis: Basis, leaving: date) -> Step | None:
    """Return the arranging of visits, a week before leaving where there is time; None where nobody has to come.

    `doing` says what the visits do, and where.
    """
    if not visits or not doing or leaving < basis.today:
        return None
    says = f"Arrange {visit_words(visits, basis.today)}, with whoever has the keys: {doing}"
    day = latest_open(basis.room, leaving - timedelta(days=7), basis.today) or leaving
    before = Before(says=says, station="", minutes=5, who="adult", day=day, caution=PERMISSION)
    return Step(day, ARRANGE, before)


def latest_open(room: Room, day: date, today: date) -> date | None:
    """Return this day or the last before it on which somebody walks; None when that is over."""
    found = day if is_walked(room, day) else day_before(room, day)
    return found if found >= today else None


def named(plantings: Sequence[Planting], basis: Basis) -> str:
    """Say what stands there: 'basil and lettuce'."""
    names = dict.fromkeys(crop.name if (crop := basis.crop(one)) else one.crop for one in plantings)
    return listed(list(names))


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
