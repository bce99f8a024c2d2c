"""Picking: what the gate says of a planting here and now, and what is written down once it was answered."""

from collections.abc import Collection, Iterable
from datetime import datetime

from walkabout.almanac.gate import Gate, gate, refused
from walkabout.almanac.model import Basis
from walkabout.jobs.newcomers import reminders_after, reminds_of_newcomers
from walkabout.jobs.plantings import in_words
from walkabout.jobs.promises import still_open
from walkabout.jobs.stages import pick, picked_words
from walkabout.records.model import Finding, Planting, Promise
from walkabout.round.endings import Ending
from walkabout.round.opened import OpenRoom


def basis_for_gate(opened: OpenRoom) -> Basis:
    """Gather what the gate looks at, and nothing else: no readings, no dates."""
    return Basis(
        room=opened.room,
        crops=opened.crops,
        checklists=opened.checklists,
        today=opened.today(),
        plantings=tuple(opened.plantings.values()),
        treatments=tuple(opened.treatments.values()),
        findings=tuple(opened.findings.values()),
    )


def gate_now(opened: OpenRoom, plantings: Iterable[Planting], *, eating: bool) -> Gate:
    """Return what the gate says of these plantings now."""
    now = opened.clock()
    return gate(plantings, basis_for_gate(opened), now.date(), eating, now=now)


def waiting_words(opened: OpenRoom, planting: Planting) -> list[str]:
    """Say what was put on these plants and is not over yet, a sentence each."""
    blocks = gate_now(opened, [planting], eating=True).blocks
    return [one.says for one in blocks if one.kind in ("waiting", "waiting not known", "touching")]


def promises_for(opened: OpenRoom, planting: Planting) -> list[Promise]:
    """Return the open promises that a picking of this planting may go to, the nearest first."""
    crop = opened.crops.find(planting.crop)
    meant = [one for one in still_open(opened.promises.values()) if _same_crop(opened, one, planting, crop)]
    return [one for one in meant if not one.plantings or planting.key in one.plantings]


def _same_crop(opened: OpenRoom, one: Promise, planting: Planting, crop: object) -> bool:
    return one.crop == planting.crop or (crop is not None and opened.crops.find(one.crop) == crop)


def picked(
    opened: OpenRoom,
    planting: Planting,
    *,
    count: int,
    grams: float | None,
    by: str,
    now: datetime,
    portions: float | None = None,
    promise: str = "",
    becomes: str = "",
    signed: str = "",
    yes: Collection[str] = (),
) -> Ending:
    """Return the planting after a picking, and what to say; ValueError where it may not be written down so.

    `becomes` says what becomes of what nobody eats. Else `signed` is the code of who answered the checks, and
    `yes` are the ids of those answered with yes.
    """
    found = gate_now(opened, [planting], eating=not becomes)
    if becomes and not found.open:
        raise ValueError(found.blocks[0].says)
    if not becomes and (why := refused(found, yes, opened.room.role(signed))):
        raise ValueError(why)
    (after,) = pick(planting, count, grams, portions, promise, by, now, becomes=becomes, signed=signed)
    used = becomes or "to be eaten"
    over = " None are left: it has ended." if after.ended else ""
    what = picked_words(after.pickings[-1], opened.crops.find(planting.crop))
    says = f"{in_words(planting, opened.crops, now.date())}: {what}, {used}.{over}"
    return Ending((after, *reminders_of(opened, planting.key, (after,), by, now)), says)


def reminders_of(
    opened: OpenRoom, key: str, changed: Iterable[Planting], by: str, now: datetime
) -> tuple[Finding, ...]:
    """Return what becomes of the weekly look at newcomers once their planting has changed."""
    kept = tuple(changed)
    ours = [one for one in opened.findings.values() if one.closed is None and reminds_of_newcomers(one)]
    return tuple(after for one in ours if one.planting == key for after in reminders_after(one, kept, by, now))
