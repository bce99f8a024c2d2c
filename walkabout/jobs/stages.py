"""What a planting reaches, loses and gives: it comes up, is thinned, flowers, loses plants, is picked.

Every function returns the planting anew, as `move` and `end` do what they change, and saves nothing. What cannot be
is a ValueError with one sentence.
Plants are never lost from the count: started = standing + lost + thinned out + picked whole (`records.sums`).
"""

import math
from datetime import date, datetime

import msgspec

from walkabout.growing.counting import counted
from walkabout.growing.crops import Crop, load
from walkabout.jobs.plantings import must_be_past, must_stand
from walkabout.records.model import Happening, Loss, Picking, Planting, Reached, Stage
from walkabout.records.sums import HARVESTED, NOT_UP, THINNED, started

MOST_GRAMS = 100_000.0
"""More than this in one picking is a slip of the hand. Assumed."""
MOST_PORTIONS = 2_000.0
"""More than this from one picking is a slip of the hand. Assumed."""
WHYS = ("dried out", "rotted", "eaten by pests", "disease", "broken", "not known")
"""Why plants are lost most often, to choose from; anything else is typed. Common practice."""
NOT_EATEN = ("composted", "kept as a specimen")
"""What becomes of a picking that nobody eats."""


def germinated(planting: Planting, count: int, by: str, now: datetime, day: date | None = None) -> tuple[Planting, ...]:
    """Return the planting with so many of its plants or sowings come up; the others are lost as not come up.

    Counted once more later, those that came after all are taken back out of the lost ones.
    """
    seen = _must_be_then(planting, day, now)
    hidden = sum(one.count for one in planting.losses if one.why == NOT_UP)
    most = planting.count + hidden
    before = _reached(planting, "germinated")
    least = planting.count if before else 0
    if not least <= count <= most:
        lost = " Write down as lost what has died since." if before and count < least else ""
        raise ValueError(
            f"It can be from {least} to {most}.{lost}" if least != most else f"It can only be {most}.{lost}"
        )
    losses = tuple(one for one in planting.losses if one.why != NOT_UP)
    if most > count:
        losses = (*losses, Loss(day=seen, count=most - count, why=NOT_UP, by=by))
    first = Reached(day=before.day if before else seen, stage="germinated", count=count, by=by)
    reached = (*(one for one in planting.reached if one.stage != "germinated"), first)
    return _as_it_is(
        planting, count, by, now, f"came up: {count} of {most}", "died", NOT_UP, losses=losses, reached=reached
    )


def thinned(planting: Planting, to: int, by: str, now: datetime, day: date | None = None) -> tuple[Planting, ...]:
    """Return the planting thinned to so many plants. What was taken out counts as no loss of the crop."""
    seen = _must_be_then(planting, day, now)
    must_stand(planting, to)
    out = planting.count - to
    losses = (*planting.losses, *((Loss(day=seen, count=out, why=THINNED, by=by),) if out else ()))
    reached = (*planting.reached, Reached(day=seen, stage="thinned", count=to, by=by))
    return _as_it_is(planting, to, by, now, f"thinned: {out} taken out, {to} stay", losses=losses, reached=reached)


def flowering(planting: Planting, by: str, now: datetime, day: date | None = None) -> tuple[Planting, ...]:
    """Return the planting as flowering; the first day on which that was seen counts."""
    seen = _must_be_then(planting, day, now)
    if before := _reached(planting, "flowering"):
        raise ValueError(f"That it flowers is written down already, from {before.day.isoformat()} on.")
    reached = (*planting.reached, Reached(day=seen, stage="flowering", count=planting.count, by=by))
    return _as_it_is(planting, planting.count, by, now, "flowers", reached=reached)


def lose(
    planting: Planting, count: int, why: str, by: str, now: datetime, day: date | None = None
) -> tuple[Planting, ...]:
    """Return the planting without the plants that were lost; when none are left it has died."""
    seen = _must_be_then(planting, day, now)
    must_stand(planting, count)
    why = why.strip()
    if not why:
        raise ValueError("Say in a word or two why they were lost: it helps the next sowing.")
    if why in (THINNED, NOT_UP):
        raise ValueError("That is written down on its own: as thinned, or as come up.")
    losses = (*planting.losses, Loss(day=seen, count=count, why=why, by=by))
    left = planting.count - count
    return _as_it_is(planting, left, by, now, f"lost: {count}, {why}", "died", why, losses=losses)


def pick(
    planting: Planting,
    count: int,
    grams: float | None,
    portions: float | None,
    promise: str,
    by: str,
    now: datetime,
    *,
    becomes: str = "",
    signed: str = "",
) -> tuple[Planting, ...]:
    """Return the planting after a picking today of `count` whole plants, 0 where it is cut and grows on.

    `becomes` says what became of it where nobody eats it (one of NOT_EATEN): then it has no portions and keeps no
    promise. `signed` is the code of the adult who answered before it is eaten. When no plant is left, it ends as
    harvested. Whether it may be eaten is not judged here: the gate of the almanac does that.
    """
    day = _must_be_then(planting, None, now)
    if count:
        must_stand(planting, count)
    if becomes and becomes not in NOT_EATEN:
        raise ValueError(f"What is not eaten is {' or '.join(NOT_EATEN)}.")
    if becomes and (portions is not None or promise):
        raise ValueError("What is not eaten makes no portions and keeps no promise.")
    if not becomes and not signed:
        raise ValueError("Before anything is eaten an adult answers for it.")
    _must_be_amount("grams", grams, MOST_GRAMS)
    _must_be_amount("portions", portions, MOST_PORTIONS)
    if not count and grams is None and portions is None:
        raise ValueError("Say how many plants were picked, how many grams or how many portions.")
    picking = Picking(day=day, count=count, grams=grams, portions=portions, promise=promise, by=by)
    what = f"picked{f', {becomes}' if becomes else ''}: {picked_words(picking, load().find(planting.crop))}"
    says = f"{what}; an adult answered before it is eaten: {signed}" if signed else what
    how = "composted" if becomes == "composted" else "other" if becomes else HARVESTED
    return _as_it_is(
        planting, planting.count - count, by, now, says, becomes if how == "other" else how,
        pickings=(*planting.pickings, picking),
    )  # fmt: skip


def picked_words(picking: Picking, crop: Crop | None = None) -> str:
    """Say a picking in short: '4 plants, 620 g, 8 portions'; what was cut and grows on has no plants."""
    parts = [counted(picking.count, crop)] if picking.count else ["cut, grows on"]
    if picking.grams is not None:
        parts.append(f"{picking.grams:,.0f} g")
    if picking.portions is not None:
        parts.append(f"{picking.portions:g} portion{'s' if picking.portions != 1 else ''}")
    return ", ".join(parts)


def _must_be_then(planting: Planting, day: date | None, now: datetime) -> date:
    """Return the day on which it was seen, today unless said; ValueError where the planting was not there."""
    if planting.ended is not None:
        raise ValueError("This planting has ended.")
    seen = day or now.date()
    must_be_past(seen, now.date())
    if seen < planting.sown:
        raise ValueError(f"It was sown only on {planting.sown.isoformat()}.")
    return seen


def _must_be_amount(what: str, value: float | None, most: float) -> None:
    if value is not None and not (math.isfinite(value) and 0 < value <= most):
        raise ValueError(f"The {what} can be more than 0 and up to {most:,.0f}.")


def _reached(planting: Planting, stage: Stage) -> Reached | None:
    return next((one for one in planting.reached if one.stage == stage), None)


def _as_it_is(
    planting: Planting,
    left: int,
    by: str,
    now: datetime,
    says: str,
    how: str = "",
    why: str = "",
    *,
    reached: tuple[Reached, ...] | None = None,
    losses: tuple[Loss, ...] | None = None,
    pickings: tuple[Picking, ...] | None = None,
) -> tuple[Planting, ...]:
    """Return the planting with `left` plants; with none it has ended, in the way `how`."""
    reason = f"{how}: {why}" if why else how
    changed = msgspec.structs.replace(
        planting,
        count=left,
        started=started(planting),
        reached=planting.reached if reached is None else reached,
        losses=planting.losses if losses is None else losses,
        pickings=planting.pickings if pickings is None else pickings,
        ended=None if left else now.date(),
        reason=planting.reason if left else reason,
        history=(*planting.history, Happening(at=now, by=by, says=says)),
    )
    return (changed,)
