"""Why a sowing plan brings less than is wanted, in sentences that name stations and weeks, and what would fit."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from itertools import pairwise

from msgspec import Struct

from walkabout.almanac.model import Basis
from walkabout.almanac.pace import Learned
from walkabout.almanac.sowing_batches import Batch, Stay, earliest
from walkabout.almanac.sowing_fit import Fit, Free
from walkabout.almanac.sowing_grounds import Grounds
from walkabout.almanac.wanted import Wanted, Week, said
from walkabout.growing.crops import Crop


class View(Struct, frozen=True):
    """All that the conflicts of a plan are told from."""

    wanted: Wanted
    crop: Crop
    basis: Basis
    weeks: Sequence[Week]
    batches: Sequence[Batch]
    fit: Fit
    needed: Sequence[int]
    free: Free
    """From today on."""
    where: Grounds
    learned: Mapping[str, Learned]

    def amount(self, value: float) -> str:
        """Write an amount of what is wanted."""
        return said(value, self.wanted.unit, self.crop)


class _Full(Struct, frozen=True):
    """A station without a place left, from the first to the last day on which that stood in the way."""

    station: str
    first: date
    last: date
    others: bool
    """It would be full without this plan."""


def conflicts(view: View) -> tuple[str, ...]:
    """Return one sentence for each reason why weeks get less than they want, naming stations and weeks."""
    if not view.fit.found:
        return ("The search was stopped before it found any plan: ask for fewer weeks, or name fewer stations.",)
    left = _left(view)
    soon: list[Week] = []
    never: list[Week] = []
    full: dict[tuple[str, ...], list[tuple[Week, list[_Full]]]] = {}
    start = earliest(view.crop, view.where, view.basis, view.learned, view.wanted.last)
    for at, missing in enumerate(view.fit.missing):
        if not missing:
            continue
        week = view.weeks[at]
        serving = [one for one in view.batches if at in one.weeks]
        if not serving:
            (soon if start is None or week.open[-1] < start[1] else never).append(week)
            continue
        blocks = _merged(block for one in serving for block in _blocks(one, left, view))
        full.setdefault(tuple(one.station for one in blocks), []).append((week, blocks))
    return (*_too_soon(soon, start, view), *_never(never, view), *(_is_full(found, view) for found in full.values()))


def nearest(view: View, amount: float, reach: Sequence[int]) -> str:
    """Return the nearest offer that fits, in one or two sentences. `amount` fits in every week of `reach`."""
    wants = [at for at, needed in enumerate(view.needed) if needed]
    if amount > 0:
        begins = f"from {day_said(view.weeks[reach[0]].first)} to {day_said(view.weeks[reach[-1]].last)}"
        where = "every week" if view.wanted.every == 1 else f"every {view.wanted.every} weeks"
        some = "" if len(reach) == len(wants) else f", in the {len(reach)} of {len(wants)} weeks that can be reached"
        if amount >= view.wanted.amount:
            return f"All of it fits {where} {begins}{some}; a smaller amount does not help the others."
        return f"What fits instead: {view.amount(amount)} {where} {begins}{some}."
    met = [at for at, missing in enumerate(view.fit.missing) if not missing and view.needed[at]]
    if met:
        return (
            f"No smaller amount fits every week. {view.amount(view.wanted.amount)} fit in {len(met)} of {len(wants)}: "
            f"{weeks_said(view.weeks[at] for at in met)}."
        )
    return "Nothing fits: begin later, name more stations, or free places first."


# what is full, and when


def _left(view: View) -> dict[str, list[int | None]]:
    """Return what the plan leaves free."""
    left = {station: list(days) for station, days in view.free.items()}
    for batch, count in zip(view.batches, view.fit.counts, strict=True):
        for stay in batch.stays if count else ():
            row, begins = left[stay.station], (stay.first - view.basis.today).days
            for at in range(begins, begins + (stay.last - stay.first).days + 1):
                one = row[at]
                row[at] = None if one is None else one - count
    return left


def _blocks(batch: Batch, left: Mapping[str, list[int | None]], view: View) -> Iterable[_Full]:
    """Yield the stays of a batch in which not one more plant has a place."""
    for stay in batch.stays:
        days = [one for one in _days(stay) if left[stay.station][(one - view.basis.today).days] == 0]
        if days:
            others = any(view.free[stay.station][(one - view.basis.today).days] == 0 for one in days)
            yield _Full(stay.station, days[0], days[-1], others)


def _merged(found: Iterable[_Full]) -> list[_Full]:
    """Return one entry for each station, from the first day to the last."""
    by_station: dict[str, _Full] = {}
    for one in found:
        old = by_station.get(one.station, one)
        by_station[one.station] = _Full(
            one.station, min(one.first, old.first), max(one.last, old.last), old.others or one.others
        )
    return sorted(by_station.values(), key=lambda one: one.station)


def _is_full(found: Sequence[tuple[Week, list[_Full]]], view: View) -> str:
    weeks = weeks_said(week for week, _ in found)
    blocks = _merged(block for _, each in found for block in each)
    if not blocks:
        return f"There is less than is wanted in {weeks}: the places free do not add up to it."
    parts = []
    for one in blocks:
        station = view.basis.room.station(one.station)
        places = station.places if station is not None else None
        of = f" ({places} places)" if places is not None else ""
        by = "" if one.others else " with this plan"
        parts.append(
            f"{view.basis.name_of(one.station)}{of} is full{by} between {day_said(one.first)} and {day_said(one.last)}"
        )
    return f"{'; '.join(parts)}: there is less than is wanted in {weeks}."


def _too_soon(weeks: Sequence[Week], start: tuple[date, date] | None, view: View) -> Iterable[str]:
    if not weeks:
        return
    if start is None:
        yield f"Nothing sown from now on is ready by {day_said(view.wanted.last)}: {weeks_said(weeks)} cannot be met."
    else:
        yield (
            f"Too soon for {weeks_said(weeks)}: what is sown on {day_said(start[0])} is ready by "
            f"{day_said(start[1])}, with nine chances in ten."
        )


def _never(weeks: Sequence[Week], view: View) -> Iterable[str]:
    if weeks:
        yield (
            f"No open days for sowing, moving on and picking lead to {weeks_said(weeks)}: {view.crop.name} would be "
            "sown or moved on while nobody is there."
        )


def _days(stay: Stay) -> list[date]:
    return [stay.first + timedelta(days=ahead) for ahead in range((stay.last - stay.first).days + 1)]


def weeks_said(weeks: Iterable[Week]) -> str:
    """Name weeks by their first days; a run of them by its first and last: 'the weeks of 4 Jan and 1 to 22 Feb'."""
    firsts = sorted(week.first for week in weeks)
    if not firsts:
        return "no week"
    runs = [[firsts[0]]]
    for before, after in pairwise(firsts):
        if (after - before).days <= 7:
            runs[-1].append(after)
        else:
            runs.append([after])
    said_runs = [day_said(run[0]) if len(run) == 1 else f"{day_said(run[0])} to {day_said(run[-1])}" for run in runs]
    many = "s" if len(firsts) > 1 else ""
    if len(said_runs) == 1:
        return f"the week{many} of {said_runs[0]}"
    return f"the week{many} of {', '.join(said_runs[:-1])} and {said_runs[-1]}"


def day_said(day: date) -> str:
    """Write a day: '4 Jan 2027'."""
    return f"{day.day} {day:%b %Y}"
