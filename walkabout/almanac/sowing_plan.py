"""What is to be known of a sowing plan, and how it was reckoned, in words."""

from collections.abc import Mapping, Sequence
from datetime import timedelta

from walkabout.almanac.loss_words import sown_for
from walkabout.almanac.model import Basis
from walkabout.almanac.pace import Learned, Wait
from walkabout.almanac.sowing_batches import Batch, waits
from walkabout.almanac.sowing_conflicts import weeks_said
from walkabout.almanac.sowing_fit import Fit
from walkabout.almanac.sowing_grounds import Grounds
from walkabout.almanac.wanted import Counted, Wanted, Week, keeps, picked_again, said
from walkabout.almanac.work_back import SURE
from walkabout.growing.crops import Crop
from walkabout.reckon.write import plainly
from walkabout.room.calendar import closure_on

EARLY = 3
"""Days by which a batch may be ready sooner before that is pointed out. Assumed."""
COLD = 5
"""°C at or below which cut produce is kept: USDA Food and Nutrition Service, Produce safety (41 °F)."""


def notes(
    wanted: Wanted,
    crop: Crop,
    basis: Basis,
    weeks: Sequence[Week],
    where: Grounds,
    sown: Sequence[Batch],
    fit: Fit,
    *,
    every_day: bool,
    learned: Mapping[str, Learned],
    count: Counted,
) -> tuple[str, ...]:
    """Return what else is to be known: where it grows, closed weeks, what stands already, how good the plan is.

    `sown` are the batches that the plan sows; `every_day`: every open day of sowing was tried.
    """
    each = sown_for(count.sow, said(wanted.amount, wanted.unit, crop), crop, learned)
    found = [each, *where.says]
    closed = [week for week in weeks if not week.open]
    if closed:
        closures = [closure_on(basis.room, week.first + timedelta(days=ahead)) for week in closed for ahead in range(7)]
        names = dict.fromkeys(one.name for one in closures if one is not None and one.name)
        why = f" ({', '.join(names)})" if names else ""
        found.append(f"Nobody is there in {weeks_said(closed)}{why}: nothing is wanted then.")
    standing = sum(one.count for one in basis.standing if one.crop == crop.key)
    if standing:
        found.append(
            f"{standing} {crop.name} stand already: they keep their places, and are not counted as part of this plan."
        )
    on_shelf = sum(one.count for one in basis.standing if _on_shelf(basis, one.station))
    if on_shelf and where.shelves:
        found.append(
            f"{on_shelf} seedlings on the shelf have not been given a station yet: keep places for them, or name other "
            "stations."
        )
    sooner = max(((one.ready - one.likely).days for one in sown), default=0)
    if sooner > EARLY and not picked_again(crop, wanted):
        found.append(
            f"As often as not a batch is ready up to {sooner} days before the day given: pick it when it is, and keep "
            f"it at {COLD} °C or below."
        )
    if fit.found and sown:
        found.append(_how_good(fit, every_day=every_day))
    return tuple(found)


def working(
    crop: Crop,
    wanted: Wanted,
    count: Counted,
    where: Grounds,
    basis: Basis,
    learned: Mapping[str, Learned],
    offered: int,
) -> tuple[str, ...]:
    """Return how the numbers came about, line by line, with sources."""
    lines = list(count.working)
    alike: dict[Wait, list[str]] = {}
    for station, law in waits(crop, where, basis, learned):
        names = alike.setdefault(law, [])
        names += [station.name] if station.name not in names else []
    for law, names in alike.items():
        lines.append(
            f"{', '.join(names)}: {law.within(1 - SURE):.0f} to {law.within(SURE):.0f} days from sowing, "
            f"{law.median:.0f} as often as not; {'; '.join(law.working)}"
        )
    lasts = keeps(crop)
    lines.append(f"picked or held for {plainly(lasts.days)} days once ready ({lasts.known}: {lasts.source})")
    if picked_again(crop, wanted):
        lines.append("the same plants give as much again in every week of that time (assumed)")
    else:
        lines.append("each plant is taken once; its place is free from the day after")
    lines.append("a batch counts as ready on the day on which it is ready with 9 chances in 10; all sown keep a place")
    lines.append(
        f"{offered} batches to choose from; whole numbers by the HiGHS solver (Huangfu and Hall 2018, Mathematical "
        "Programming Computation 10:119): fewest missing, then fewest too many, then fewest sowing days"
    )
    return tuple(lines)


def _how_good(fit: Fit, *, every_day: bool) -> str:
    if not fit.fewest_missing:
        return "This is a good plan, perhaps not the best: the search was stopped when its time was over."
    tried = "No plan" if every_day else "Of the sowing days that were tried, one or a few a week, no plan"
    if not fit.fewest_days:
        return (
            f"{tried} brings more. This is a good plan, perhaps not the best: there may be one with fewer sowing days, "
            "but the search was stopped when its time was over."
        )
    return f"{tried} brings more, and none that brings as much needs clearly fewer sowing days."


def _on_shelf(basis: Basis, station: str) -> bool:
    found = basis.room.station(station)
    return found is not None and found.kind == "shelf"
