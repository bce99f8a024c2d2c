"""What would help a promise that slips, each way reckoned anew by the same chance; the surest first."""

from collections.abc import Callable, Iterator
from datetime import timedelta
from math import floor

from walkabout.almanac.chances import Part
from walkabout.almanac.hand import When
from walkabout.almanac.model import Basis, WayOut
from walkabout.almanac.promise_case import Case
from walkabout.almanac.promise_words import amount_in
from walkabout.almanac.sow_more import Sowing
from walkabout.almanac.work_back import SURE, said, smaller
from walkabout.growing.counting import in_trays, noun
from walkabout.growing.stages import SLOWEST
from walkabout.reckon.write import plainly
from walkabout.room.calendar import is_walked, next_day
from walkabout.room.model import Lamp

MOST_WAYS = 4

HELPS = 0.02
"""A way that raises the chance by less is none. Assumed."""

ENOUGH = 0.8
"""What a way aims at: on course."""

SOONER_DAYS = 14
"""A promise is brought forward by at most so many days. Assumed."""

LATER_DAYS = 28
"""A promise is put off by at most so many days. Assumed."""

SMALLEST = 0.6
"""Neither plants nor portions are made smaller than this share of the usual ones. Assumed."""

LONGEST_HOURS = 18.0
"""Hours of light a day that are never exceeded where the crop table names no limit. Assumed."""

CUT_EARLY = ("leafy", "herb", "root")
"""Groups that can be eaten before they are full-grown."""


def ways_out(one: Case, base: float, sowing: Sowing | None, basis: Basis) -> tuple[WayOut, ...]:
    """Return up to four ways that raise the chance above `base`, that of what grows as things stand."""
    found = [
        *_sow(one, sowing, basis),
        *_sooner(one, basis),
        *_later(one, basis),
        *_cut_early(one),
        *_light(one, basis),
        *_less(one),
    ]
    helping = [way for way in found if way.chance >= base + HELPS]
    return tuple(sorted(helping, key=lambda way: -way.chance)[:MOST_WAYS])


def _sow(one: Case, sowing: Sowing | None, basis: Basis) -> Iterator[WayOut]:
    """Sow what is missing: by the last day for it, or today where that is over and it may still be ready."""
    if sowing is None:
        return
    today, day, plan = basis.today, one.promise.day, sowing.plan
    more = "more " if one.plots else ""
    kind = f"{noun(one.crop, sowing.count)} of {one.crop.name}" if in_trays(one.crop) else one.crop.name
    if plan.sow_by >= today:
        chance = one.chance(day, When(extra=(sowing.part,)))
        yield WayOut(says=f"Sow {sowing.count:,} {more}{kind} by {said(plan.sow_by)}", chance=chance)
        return
    on = today if is_walked(basis.room, today) else next_day(basis.room, today)
    if on < day:
        part = sowing.part
        part = Part(part.plants, plan.law.by((day - on).days), part.survival, part.doubt)
        when = "today" if on == today else f"on {said(on)}"
        chance = one.chance(day, When(extra=(part,)))
        yield WayOut(says=f"Sow {sowing.count:,} {more}{kind} {when}; it is late for them", chance=chance)


def _sooner(one: Case, basis: Basis) -> Iterator[WayOut]:
    """Bring it forward where something would be past its best: to the last open day on which it is on course."""
    day = one.promise.day
    if not any(plot.best(day) < 1 for plot in one.plots):
        return
    earlier = (day - timedelta(days=less) for less in range(1, min((day - basis.today).days, SOONER_DAYS) + 1))
    good = next((on for on in earlier if is_walked(basis.room, on) and one.chance(on) >= ENOUGH), None)
    if good is not None:
        yield WayOut(says=f"Bring it forward to {said(good)}", chance=one.chance(good), who="adult", day=good)


def _later(one: Case, basis: Basis) -> Iterator[WayOut]:
    """Put it off to the first open day on which it is on course, else to the best of those within four weeks."""
    first = one.promise.day
    ahead = (first + timedelta(days=more) for more in range(1, LATER_DAYS + 1))
    days = [day for day in ahead if is_walked(basis.room, day)]
    if not one.plots or not days:
        return
    tried: dict[int, float] = {}

    def chance(place: int) -> float:
        if place not in tried:
            tried[place] = one.chance(days[place])
        return tried[place]

    steps = [place for place in (0, 1, 3, 6, 10, 15) if place < len(days)]
    good = next((place for place in steps if chance(place) >= ENOUGH), None)
    best = good if good is not None else max(steps, key=chance)
    if good is not None:
        below = max((place for place in steps if place < good), default=-1)
        while best - below > 1:
            middle = (best + below) // 2
            best, below = (middle, below) if chance(middle) >= ENOUGH else (best, middle)
    day = days[best]
    yield WayOut(says=f"Put it off to {said(day)}", chance=chance(best), who="adult", day=day)


def _cut_early(one: Case) -> Iterator[WayOut]:
    """Cut before they are full-grown: smaller plants, by how much is estimated."""
    mass = one.need.mass
    waits = [plot.way.law.median for plot in one.plots if plot.way is not None and plot.ready(one.promise.day) < SURE]
    if one.crop.group not in CUT_EARLY or not waits:
        return
    usual = max(waits)
    day = one.promise.day

    def chance(days: int) -> float:
        return one.chance(day, When(early=days), grams=smaller(one.crop, usual, days))

    early = range(1, floor(usual / 3))
    most = max((days for days in early if smaller(one.crop, usual, days) >= SMALLEST), default=0)
    if not most:
        return
    days = max(_fewest(most, lambda days: chance(days) >= ENOUGH), 1)
    share = smaller(one.crop, usual, days)
    size = f"about {share:.0%} of their full mass"
    if mass is not None and mass.grams >= 5:
        size = f"about {share * mass.grams:.0f} g each in place of {mass.grams:.0f} g"
    says = f"Cut them {days} day{'s' if days != 1 else ''} before they are full-grown: {size} (an estimate)"
    yield WayOut(says=says, chance=chance(days), who="adult")


def _light(one: Case, basis: Basis) -> Iterator[WayOut]:
    """Bring the light at one station up to the low end of the crop's own range: more than that is no gain here."""
    low, day = one.crop.light.low, one.promise.day
    dim: dict[str, int] = {}
    for plot in one.plots:
        light = basis.conditions[plot.planting.station].light if plot.planting.station in basis.conditions else None
        if light is not None and 0 < light < low and plot.ready(day) < SURE:
            dim[plot.planting.station] = dim.get(plot.planting.station, 0) + plot.planting.count
    for key in sorted(dim, key=lambda one: -dim[one])[:1]:
        light = basis.conditions[key].light
        lamp = _lamp(key, basis)
        if light is None or lamp is None:
            continue
        more = low / light
        chance = one.chance(day, When(quicker={key: min(more, SLOWEST)}))
        where, change = basis.name_of(key), f"{plainly(round(light, 1))} to {plainly(low)} mol/m²/d"
        hours, limit = lamp.hours * more, one.crop.hours.high if one.crop.hours else LONGEST_HOURS
        how = (
            f"Light {where} for {hours:.0f} h a day in place of {lamp.hours:g}"
            if hours <= min(limit, 24.0)
            else f"Hang the lamp lower at {where}, or add one"
        )
        yield WayOut(says=f"{how}: from {change}", chance=chance, who="adult")


def _less(one: Case) -> Iterator[WayOut]:
    """Promise less: smaller portions where that is enough, else fewer."""
    promise, portion = one.promise, one.need.portion
    tally = one.tally(promise.day)
    if portion is not None and one.need.grams is not None:
        step = 5 if portion >= 20 else 1
        sizes = [size for size in range(step, int(portion), step) if size >= SMALLEST * portion]
        good = [size for size in sizes if one.met(tally, share=size / portion) >= ENOUGH]
        if good:
            says = f"Serve portions of {max(good)} g in place of {portion:g} g"
            yield WayOut(says=says, chance=one.met(tally, share=max(good) / portion), who="adult")
    rest = one.in_unit(one.need.plants) if one.need.grams is None else one.need.grams / (portion or 1.0)
    given = promise.amount - rest
    step = 1 if promise.unit != "g" else 10 if promise.amount > 100 else 5
    most = int((rest - 1e-9) // step)
    fewer = (
        most - _fewest(most, lambda less: one.met(tally, share=(most - less) * step / rest) >= ENOUGH) if most else 0
    )
    if fewer:
        amount = amount_in(given + fewer * step, promise.unit, one.crop)
        chance = one.met(tally, share=fewer * step / rest)
        yield WayOut(says=f"Promise {amount} in place of {promise.amount:g}", chance=chance, who="adult")


def _fewest(most: int, good: Callable[[int], bool]) -> int:
    """Return the smallest number from 0 to `most` that is good, where more is always better; `most` if none is."""
    low, high = -1, most
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if good(middle) else (middle, high)
    return high


def _lamp(station: str, basis: Basis) -> Lamp | None:
    """Return the first lamp over a station that can be changed: no window."""
    found = basis.room.station(station)
    lamps = [basis.room.lamps[key] for key in found.lamps if key in basis.room.lamps] if found else []
    return next((lamp for lamp in lamps if lamp.kind != "window"), None)
