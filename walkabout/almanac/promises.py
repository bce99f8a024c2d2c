"""How a promise stands: what is in hand for it, how sure it is, what to sow by when, and what would help."""

from collections.abc import Mapping
from datetime import date

from walkabout.almanac.gate import gate
from walkabout.almanac.hand import AS_IT_IS, When, delivered
from walkabout.almanac.model import Basis, Course, Foreseen, Outlook, WayOut
from walkabout.almanac.pace import Learned
from walkabout.almanac.promise_case import Case, case
from walkabout.almanac.promise_words import amount_in, says_of
from walkabout.almanac.sow_more import Sowing, sowing_for
from walkabout.almanac.ways_out import ways_out
from walkabout.almanac.work_back import said
from walkabout.growing.counting import noun
from walkabout.records.model import Promise
from walkabout.records.sums import was_kept
from walkabout.room.calendar import closure_on, day_before, is_walked, next_day

ON_COURSE, TIGHT = 0.8, 0.5
"""From which chance on a promise is on course, and from which it is tight; below it is at risk. Assumed."""

SOON_DAYS = 7
"""While nothing more than a sowing is needed, and that not within so many days, a promise is on course. Assumed."""

HOPELESS = 0.02
"""A chance below this is none."""


def foresee(promise: Promise, basis: Basis, courses: Mapping[str, Course], learned: Mapping[str, Learned]) -> Foreseen:
    """Return how a promise stands today. `courses` are those of all plantings, by key, `learned` as of this room."""
    crop = basis.crops.find(promise.crop)
    name = crop.name if crop else promise.crop
    if (kept := was_kept(promise)) is not None:
        outlook: Outlook = "kept" if kept else "called off"
        return Foreseen(
            promise=promise, name=name, outlook=outlook, chance=float(kept), says=f"{promise.reason or outlook}."
        )
    if crop is None:
        return _cannot(promise, name, f"{name} is in no crop table: nothing can be reckoned for it.")
    if not crop.eaten:
        return _cannot(promise, name, f"{name} is not food.")
    try:
        own_case = case(promise, crop, basis, learned)
    except ValueError as error:
        return _cannot(promise, name, f"{str(error)[:1].upper()}{str(error)[1:]}.")
    return _of(own_case, basis, courses, learned)


def _of(one: Case, basis: Basis, courses: Mapping[str, Course], learned: Mapping[str, Learned]) -> Foreseen:
    promise, name, day = one.promise, one.crop.name, one.promise.day
    picked = delivered(promise, one.need.portion, basis.plantings)
    if one.need.plants == 0:
        of = amount_in(promise.amount, promise.unit, one.crop)
        says = f"All of it is picked: {amount_in(picked, promise.unit, one.crop)} of {of}."
        return Foreseen(promise=promise, name=name, outlook="on course", chance=1.0, says=says, expected=picked)
    if day < basis.today:
        return _cannot(promise, name, f"{said(day)} is over: write down whether it was kept.", expected=picked)
    if not is_walked(basis.room, day):
        return _closed(one, basis)
    tally = one.tally(day)
    in_hand = one.met(tally)
    sowing = None if in_hand >= ON_COURSE else sowing_for(one, tally, basis, learned)
    ahead = sowing if sowing is not None and sowing.plan.sow_by >= basis.today else None
    chance = max(one.chance(day, When(extra=(ahead.part,))), in_hand) if ahead else in_hand
    plants = one.expected(day)
    expected = picked + one.in_unit(plants)
    outlook = outlook_of(chance, ahead, basis.today)
    ways = ways_out(one, in_hand, sowing, basis) if outlook != "on course" else ()
    sowable = any(way.says.startswith("Sow") for way in ways)
    if chance < HOPELESS and plants < 0.5 and not sowable:
        outlook = "cannot"
    says = says_of(
        one, expected, outlook,
        nothing=not one.plots and not picked, sow=(ahead.count, ahead.plan.sow_by) if ahead else None,
        late=_only_late(one, expected), sowable=sowable,
    )  # fmt: skip
    standing = [plot.planting for plot in one.plots]
    blocks = gate(standing, basis, day, eating=True).blocks if standing else ()
    return Foreseen(
        promise=promise,
        name=name,
        outlook=outlook,
        chance=chance,
        says=says,
        sow_by=ahead.plan.sow_by if ahead else None,
        sow_count=ahead.count if ahead else 0,
        sow_says=ahead.says if ahead else "",
        expected=expected,
        ways=ways,
        blocked=tuple(dict.fromkeys(block.says for block in blocks)),
        working=_working(one, in_hand, ahead, courses, basis),
    )


def outlook_of(chance: float, sowing: Sowing | None, today: date) -> Outlook:
    """Return the word for a chance; what has to be sown within SOON_DAYS is tight at best."""
    if chance >= ON_COURSE:
        soon = sowing is not None and (sowing.plan.sow_by - today).days <= SOON_DAYS
        return "tight" if soon else "on course"
    return "tight" if chance >= TIGHT else "at risk"


def _only_late(one: Case, expected: float) -> bool:
    """Say whether enough plants stand for it, but may not be ready in time."""
    day = one.promise.day
    parts = [plot.part(day, AS_IT_IS) for plot in one.plots]
    if expected >= one.promise.amount or any(claim.first for claim in one.claims):
        return False
    return sum(part.plants * part.survival for part in parts) >= one.need.plants


def _closed(one: Case, basis: Basis) -> Foreseen:
    """Return what is said of a promise on a day on which nobody comes: the open days before and after it."""
    day = one.promise.day
    closure = closure_on(basis.room, day)
    why = f"falls into {closure.name or 'a closure'}" if closure else "is no day on which anybody comes"
    before, after = day_before(basis.room, day), next_day(basis.room, day)
    days = [before, after] if before >= basis.today else [after]
    ways = [
        WayOut(says=f"Promise it for {said(other)}", chance=one.chance(other), who="adult", day=other) for other in days
    ]
    return Foreseen(
        promise=one.promise,
        name=one.crop.name,
        outlook="cannot",
        chance=0.0,
        says=f"{said(day)} {why}: choose {' or '.join(said(other) for other in days)}.",
        ways=tuple(sorted(ways, key=lambda way: -way.chance)),
    )


def _cannot(promise: Promise, name: str, says: str, expected: float = 0.0) -> Foreseen:
    return Foreseen(promise=promise, name=name, outlook="cannot", chance=0.0, says=says, expected=expected)


def _working(
    one: Case, in_hand: float, sowing: Sowing | None, courses: Mapping[str, Course], basis: Basis
) -> tuple[str, ...]:
    day = one.promise.day
    lines = list(one.need.working)
    for plot in one.plots:
        part, planting = plot.part(day, AS_IT_IS), plot.planting
        where = basis.name_of(planting.station)
        if not part.plants:
            why = "past its best by then" if plot.over(day) else "stands apart still"
            lines.append(f"{planting.count} sown on {said(planting.sown)}, {where}: none, {why}")
            continue
        lines.append(
            f"{planting.count} sown on {said(planting.sown)}, {where}: ready by the day {part.ready:.0%}, "
            f"{part.survival:.0%} of them left then (losses even over the days: assumed)"
        )
    firsts = (claim for claim in one.claims if claim.first)
    lines += [
        f"first come {claim.plants:g} {noun(one.crop, claim.plants)} promised for {said(claim.day)}" for claim in firsts
    ]
    lines.append(f"chance of enough from what grows: {in_hand:.0%}, added up over every number of plants left")
    if sowing is not None:
        lines += [f"sown by {said(sowing.plan.sow_by)}: {sowing.count}", *sowing.plan.working]
    elif one.plots:
        course = courses.get(one.plots[0].planting.key)
        lines += course.working if course else ()
    return tuple(dict.fromkeys(lines))
