"""This much every week: a sowing plan that fits the places free at each station.

    wanted = read_wanted("lettuce", "12 heads", "week", "2027-01-11", "2027-03-26", (), basis)
    plan(wanted, basis, courses(basis), learned(basis)).sowings

Nothing is written: the plan is an offer.
"""

from collections.abc import Callable, Mapping
from datetime import date
from time import monotonic

from msgspec import Struct

from walkabout.almanac import sowing_plan as words
from walkabout.almanac.model import Basis, Course
from walkabout.almanac.pace import Learned
from walkabout.almanac.places import free as free_places
from walkabout.almanac.sowing_batches import Batch, batches
from walkabout.almanac.sowing_conflicts import View, conflicts, nearest
from walkabout.almanac.sowing_fit import Fit, Fitting
from walkabout.almanac.sowing_grounds import grounds
from walkabout.almanac.wanted import Counted, Wanted, Week, check, counted, weeks_of

Progress = Callable[[str], None]
"""Is told in a sentence what is being done."""


class Sowing(Struct, frozen=True, kw_only=True):
    """So many to sow on a day."""

    day: date
    count: int
    shelf: str
    """The station where they are sown; the same as `station` when they are sown in place."""
    station: str
    """Where they grow on."""
    moves_on: date | None
    """The open day on which they are moved there; None when they are sown in place."""
    likely: date
    """As often as not they are ready by then."""
    ready: date
    """Nine times in ten they are ready by then."""
    until: date
    """Their last day at the station in this plan: that of the last picking."""
    weeks: tuple[date, ...]
    """The first days of the weeks that they are for."""


class WeekPlan(Struct, frozen=True, kw_only=True):
    """What a week wants and gets, in the unit of what is wanted."""

    day: date
    """Its first day."""
    wanted: float
    """0 in a week without an open day."""
    expected: float
    """What can be counted on with nine chances in ten, once it is ready."""
    short: float


class SuccessionPlan(Struct, frozen=True, kw_only=True):
    """The plan that fits best."""

    wanted: Wanted
    sowings: tuple[Sowing, ...]
    """By day."""
    weeks: tuple[WeekPlan, ...]
    conflicts: tuple[str, ...]
    """Why something is missing: sentences that name the stations and the weeks."""
    nearest: str
    """What would fit every week instead; empty when nothing is missing."""
    nearest_amount: float
    """That amount; 0 where there is none."""
    notes: tuple[str, ...]
    """What else is to be known: where it grows, closed weeks, how good the plan is."""
    working: tuple[str, ...]
    seconds: float
    """How long it took."""

    @property
    def short(self) -> bool:
        """Say whether any week gets less than it wants."""
        return any(one.short > 0 for one in self.weeks)


def plan(
    wanted: Wanted,
    basis: Basis,
    courses: Mapping[str, Course],
    learned: Mapping[str, Learned],
    progress: Progress | None = None,
) -> SuccessionPlan:
    """Return the plan that misses the fewest plants, then wastes the fewest, then takes the fewest sowing days.

    Nothing is sown, moved or picked on a closed day, and no station ever holds more than it has places free.
    Raises ValueError, with one sentence, for what cannot be planned.
    """
    begun = monotonic()
    tell = progress or (lambda _: None)
    crop = check(wanted, basis)
    count = counted(wanted, crop, learned)
    weeks = weeks_of(wanted, basis)
    where = grounds(crop, wanted, basis)
    tell(f"Laying out {len(weeks)} weeks")
    offered, every_day = batches(crop, wanted, weeks, where, basis, learned)
    needed = [count.sow if week.open else 0 for week in weeks]
    free = free_places(basis, dict(courses), basis.today, wanted.last)
    laid = f"{len(weeks)} weeks laid out"
    tell(f"{laid}, {len(offered)} batches to choose from")

    def looking(what: str) -> None:
        tell(f"{laid}; {what}")

    fitting = Fitting(offered, needed, free, basis.today)
    fit = fitting.fit(looking)
    rows = tuple(_week(*one, wanted, count) for one in zip(weeks, needed, fit.missing, _got(offered, fit), strict=True))
    sown = [batch for batch, number in zip(offered, fit.counts, strict=True) if number]
    why: tuple[str, ...] = ()
    offer, amount = "", 0.0
    if any(fit.missing):
        view = View(wanted, crop, basis, weeks, offered, fit, needed, free, where, learned)
        why = conflicts(view)
        reach = fitting.within_reach
        amount = wanted.amount
        if any(fit.missing[at] for at in reach):
            best = fitting.most_each_week(reach, looking)
            amount = count.surely(min(needed[at] - best.missing[at] for at in reach))
        amount = amount if reach else 0.0
        offer = nearest(view, amount, reach)
    return SuccessionPlan(
        wanted=wanted,
        sowings=_sowings(offered, fit, weeks),
        weeks=rows,
        conflicts=why,
        nearest=offer,
        nearest_amount=amount,
        notes=words.notes(
            wanted, crop, basis, weeks, where, sown, fit, every_day=every_day, learned=learned, count=count
        ),
        working=words.working(crop, wanted, count, where, basis, learned, len(offered)),
        seconds=monotonic() - begun,
    )


def _week(week: Week, needed: int, missing: int, got: int, wanted: Wanted, count: Counted) -> WeekPlan:
    if not needed:
        return WeekPlan(day=week.first, wanted=0, expected=0, short=0)
    expected = count.surely(got)
    short = max(wanted.amount - expected, 0.0) if missing else 0.0
    return WeekPlan(day=week.first, wanted=wanted.amount, expected=expected, short=short)


def _got(offered: list[Batch], fit: Fit) -> list[int]:
    got = [0] * len(fit.missing)
    for batch, count in zip(offered, fit.counts, strict=True):
        for week in batch.weeks:
            got[week] += count
    return got


def _sowings(offered: list[Batch], fit: Fit, weeks: tuple[Week, ...]) -> tuple[Sowing, ...]:
    found = [
        Sowing(
            day=batch.sown,
            count=count,
            shelf=batch.shelf or batch.station,
            station=batch.station,
            moves_on=batch.moves_on,
            likely=batch.likely,
            ready=batch.ready,
            until=batch.stays[-1].last,
            weeks=tuple(weeks[at].first for at in batch.weeks),
        )
        for batch, count in zip(offered, fit.counts, strict=True)
        if count
    ]
    return tuple(sorted(found, key=lambda one: (one.day, one.station, one.ready, one.weeks)))
