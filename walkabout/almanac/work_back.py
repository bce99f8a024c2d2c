"""From a promised day back to the sowing: how many, by when, and when they move on."""

from collections.abc import Mapping
from datetime import date, timedelta
from functools import lru_cache
from math import ceil, exp, floor

from msgspec import Struct

from walkabout.almanac.chances import Mass, Part, enough, heavy_enough, left, nothing, plants_told, with_parts
from walkabout.almanac.loss_words import known_by
from walkabout.almanac.model import Basis, Conditions, Span
from walkabout.almanac.pace import Learned, Wait, own_factor, wait
from walkabout.growing import harvest
from walkabout.growing.counting import counted
from walkabout.growing.crops import Crop
from walkabout.growing.limits import OutOfRange
from walkabout.reckon.amounts import Promised, plants_for
from walkabout.reckon.write import amount as written
from walkabout.reckon.write import plainly
from walkabout.records.model import Amount
from walkabout.room.calendar import day_before, is_walked

SURE = 0.9
"""Nine chances in ten: that enough survive, and that they are ready. Assumed."""

MOST = 1_000_000
"""More plants than this are not reckoned with; assumed."""

SCATTER = 0.25
"""How much plants of one planting differ in mass, as a share (standard deviation). Assumed."""

PUBLISHED_DOUBT, GUESSED_DOUBT = 0.15, 0.2
"""How far off a table's mass of a plant may be for this room: where it was published, and where it is a round
guess, as shares (standard deviations). Assumed."""

Kind = {"heads": "plants", "portions": "portions", "g": "grams"}
"""The units of a promise, as the reckoner names them."""


class Need(Struct, frozen=True):
    """What a promise takes."""

    plants: int
    """By plain arithmetic, without losses."""
    grams: float | None
    """The mass that must come together; None for heads, which are counted."""
    mass: Mass | None
    """What one plant weighs; None where nobody knows it and nobody needs it."""
    portion: float | None
    """g for one person, where portions were promised."""
    working: tuple[str, ...] = ()

    @property
    def told(self) -> int:
        """The number of plants from which on there is enough for certain."""
        return self.plants if self.grams is None or self.mass is None else plants_told(self.grams, self.mass)


class SowPlan(Struct, frozen=True, kw_only=True):
    """What to sow for a day."""

    sow_by: date
    """The last open day on which it is ready by the day with nine chances in ten; it may lie in the past."""
    exact: date
    """That day before it was moved to an open one."""
    count: int
    """How many to sow, losses and margin counted in."""
    plants: int
    """How many are needed."""
    moves_on: Span | None
    """When they move on; None where the crop table does not know."""
    ready: Span
    """When the first can be cut, sown on `sow_by`."""
    law: Wait
    """The days from sowing to the first cut."""
    survives: float
    """The share of what is sown that reaches the harvest, on average."""
    chance: float
    """That enough of them are left and ready on the day, both together."""
    working: tuple[str, ...] = ()


def need(crop: Crop, amount: float, unit: Amount, learned: Mapping[str, Learned]) -> Need:
    """Return what an amount of a crop takes; the room's own grams from a plant where it has weighed them.

    Raises ValueError where no mass of a plant, or no portion, is known and one is needed.
    """
    own = own_factor(crop, learned)
    return _need(crop, amount, unit, own.grams, own.grams_seen)


@lru_cache(maxsize=512)
def _need(crop: Crop, amount: float, unit: Amount, own_grams: float | None, seen: int) -> Need:
    table = harvest.load()
    if unit == "heads":
        amount = ceil(amount - 1e-9)
    elif crop.group == "microgreen" and own_grams is None:
        # the table has the grams of a seedling, and what is counted here is a tray of them
        raise ValueError(
            f"{crop.name} is counted in trays, and no tray of it has been weighed here yet: "
            "promise a number of trays, or weigh one first"
        )
    found = plants_for(Promised(amount, Kind[unit]), crop, own_grams, None)  # type: ignore[arg-type]
    lines = found.lines
    if own_grams is not None and seen:
        lines = (f"taken: {written(own_grams, 'g', 0)} from one plant, as weighed in this room", *lines)
    grams = own_grams if own_grams is not None else found.grams / found.plants if found.grams else None
    mass = None
    if grams is not None:
        figure = table.plant.get(crop.key)
        published = figure is not None and table.sources[figure.source].known == "published"
        doubt = PUBLISHED_DOUBT if published else GUESSED_DOUBT
        mass = Mass(grams, doubt * (2 / (seen + 2)) ** 0.5, SCATTER)
    portion = table.portion[crop.group].value if unit == "portions" else None
    whole = amount if unit == "g" else amount * portion if portion is not None else None
    return Need(found.plants, whole, mass, portion, (*lines, *found.sources))


def doubt(own: Learned) -> float:
    """Return how alike the fates of a planting's plants are (see chances.Part), from what the room has seen."""
    varies = own.survival * (1 - own.survival)
    return min(own.lost_spread**2 / varies, 0.5) if varies > 0 else 0.0


def has_enough(one: Need, part: Part) -> float:
    """Return the chance that a single planting, surely ready, has enough for all of a need."""
    if one.grams is None or one.mass is None:
        if one.plants <= FEW:
            first, chances = left(part.plants, part.survival, part.doubt)
            return min(sum(chances[max(one.plants - first, 0) :]), 1.0)
        return enough(with_parts(nothing(one.plants), (part,)), one.plants)
    return heavy_enough(with_parts(nothing(one.told), (part,)), one.grams, one.mass)


FEW = 120
"""Up to so many plants one planting is summed up plant by plant."""


@lru_cache(maxsize=1024)
def to_sow(one: Need, survival: float, alike: float) -> int:
    """Return the fewest to sow so that enough are left with nine chances in ten; raises ValueError beyond MOST."""
    low, high = one.plants - 1, one.plants
    while has_enough(one, Part(high, 1.0, survival, alike)) < SURE:
        low, high = high, max(high + 1, ceil(high * 1.3))
        if high > MOST:
            raise ValueError(f"more than {MOST} plants would have to be sown")
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if has_enough(one, Part(middle, 1.0, survival, alike)) >= SURE else (middle, high)
    return high


def needed_days(ready: Wait) -> int:
    """Return the whole days after which it is ready with nine chances in ten; 28.99 days are 29, as in `course`."""
    return ceil(round(ready.within(SURE), 1))


def span_from(sown: date, law: Wait) -> Span:
    """Return the days of a stage for something sown on a day: one time in ten earlier, as often as not, nine in ten."""
    days = (floor(round(law.within(1 - SURE), 1)), round(law.within(0.5)), needed_days(law))
    return Span(*(sown + timedelta(days=one) for one in days))


def work_back(
    crop: Crop,
    amount: float,
    unit: Amount,
    day: date,
    station: str | None,
    basis: Basis,
    learned: Mapping[str, Learned],
) -> SowPlan:
    """Return what to sow, and by when, so that `amount` of a crop is ready on `day`.

    `station` is where it will grow; None for the usual figures of the crop. The crop is ready by the day with
    nine chances in ten, and enough of it survives with nine in ten. Raises ValueError, with one sentence, where
    the crop has no days to harvest, no mass is known, or the day is not an open one.
    """
    if not is_walked(basis.room, day):
        raise ValueError(f"{said(day)} is no open day: nobody is there to cut")
    return plan_for(crop, need(crop, amount, unit, learned), day, conditions_at(station, basis), basis, learned)


def conditions_at(station: str | None, basis: Basis) -> Conditions | None:
    """Return what is known of a station's air and light."""
    return None if station is None else basis.conditions.get(station)


def plan_for(
    crop: Crop, wanted: Need, day: date, conditions: Conditions | None, basis: Basis, learned: Mapping[str, Learned]
) -> SowPlan:
    """Return what to sow for a need; as `work_back`, for any day."""
    if not crop.eaten:
        raise ValueError(f"{crop.name} is not food")
    ready = wait(crop, conditions, "harvest", learned)
    if ready is None:
        raise ValueError(f"how long {crop.name} takes to harvest is not known")
    own = own_factor(crop, learned)
    alike, survival = doubt(own), own.survival
    days = needed_days(ready)
    try:
        exact = day - timedelta(days=days)
    except OverflowError:
        raise ValueError(f"{days} days before {day.isoformat()} is outside the calendar") from None
    sow_by = exact if is_walked(basis.room, exact) else day_before(basis.room, exact)
    count = to_sow(wanted, survival, alike)
    moving = wait(crop, conditions, "move_on", learned)
    both = ready.by((day - sow_by).days) * has_enough(wanted, Part(count, 1.0, survival, alike))
    share = plainly(round(survival, 2))
    what = counted(wanted.plants, crop) if wanted.grams is None else written(wanted.grams, "g", 0)
    return SowPlan(
        sow_by=sow_by,
        exact=exact,
        count=count,
        plants=wanted.plants,
        moves_on=None if moving is None else span_from(sow_by, moving),
        ready=span_from(sow_by, ready),
        law=ready,
        survives=survival,
        chance=both,
        working=(
            *wanted.working,
            *ready.working,
            f"ready after {days} days with 9 chances in 10: {day.isoformat()} − {days} days = {exact.isoformat()}",
            *((f"{said(exact)} is no open day: {said(sow_by)} is the one before",) if sow_by != exact else ()),
            f"{share} of those sown survive, ± {plainly(round(own.lost_spread, 2))} ({known_by(own)})",
            f"{count} sown are enough for {what} with 9 chances in 10 (beta-binomial law)",
        ),
    )


def smaller(crop: Crop, days: float, early: float) -> float:
    """Return what a plant weighs when it is cut `early` days before its `days`, as a share of its full mass.

    In the last third of its days a plant is taken to grow threefold, at an even rate in the exponential sense;
    both assumed. Raises OutOfRange for a cut before that third.
    """
    third = days / 3
    if not 0 <= early <= third:
        raise OutOfRange(f"{crop.name} cut {early:g} days early: it must be at most {third:.0f} days")
    return exp(-GROWS * early / third) if third else 1.0


GROWS = 1.0986
"""The logarithm of 3: a plant grows threefold in the last third of its days. Assumed."""


def said(day: date) -> str:
    """Write a day for people: 'Friday 27 Nov'."""
    return f"{day:%A} {day.day} {day:%b}"
