"""What is still to be sown for a promise, with what others take of its plants counted in."""

from collections.abc import Mapping
from math import ceil

from msgspec import Struct

from walkabout.almanac.chances import Part, Tally, mean
from walkabout.almanac.hand import When, is_of
from walkabout.almanac.loss_words import sown_for
from walkabout.almanac.model import Basis
from walkabout.almanac.pace import Learned, own_factor
from walkabout.almanac.promise_case import Case
from walkabout.almanac.work_back import SURE, Need, SowPlan, conditions_at, doubt, plan_for, to_sow
from walkabout.growing.counting import counted
from walkabout.growing.crops import Crop


class Sowing(Struct, frozen=True):
    """What is still to be sown for a promise."""

    count: int
    plan: SowPlan
    part: Part
    """What it brings by the day when it is sown by `plan.sow_by`."""
    says: str
    """On what the count rests."""


def sowing_for(one: Case, tally: Tally, basis: Basis, learned: Mapping[str, Learned]) -> Sowing | None:
    """Return what to sow for what is missing; None where the crop's days are not known.

    As many as replace what is missing on average with nine chances in ten, and more of them until all of the
    promise has as good a chance as a sowing for the whole of it would have.
    """
    conditions = conditions_at(grows_at(one.crop, basis), basis)
    try:
        plan = plan_for(one.crop, one.need, one.promise.day, conditions, basis, learned)
    except ValueError:
        return None
    own = own_factor(one.crop, learned)
    alike, day = doubt(own), one.promise.day
    ready = plan.law.by((day - plan.sow_by).days)
    count, needed = plan.count, counted(one.need.plants, one.crop)
    if one.plots:
        missing = max(one.need.plants - int(mean(tally)), 1)
        needed = f"{counted(missing, one.crop)} that may be missing"
        grams = None if one.need.grams is None else one.need.grams * missing / one.need.plants
        count = min(to_sow(Need(missing, grams, one.need.mass, None), own.survival, alike), plan.count)
        while count < plan.count:
            if one.chance(day, When(extra=(Part(count, 1.0, own.survival, alike),))) >= SURE:
                break
            count = min(ceil(count * 1.25), plan.count)
    part = Part(count, ready, own.survival, alike)
    return Sowing(count, plan, part, sown_for(count, needed, one.crop, learned))


def grows_at(crop: Crop, basis: Basis) -> str | None:
    """Return the station where the crop was last grown on, whose air and light a new sowing is reckoned with."""
    grown = [one for one in basis.plantings if is_of(one.crop, crop, basis)]
    return max(grown, key=lambda one: (len(one.moves) > 1, one.sown, one.key)).station if grown else None
