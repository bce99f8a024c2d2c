"""The course of a planting: when it reached each stage, else when that is expected, and until when it keeps its place.

A stage that nobody wrote down never stands in the past: what is reckoned is when it comes, given that it has not
come by today.
"""

from collections.abc import Mapping
from datetime import date, timedelta

from walkabout.almanac.learned import learned
from walkabout.almanac.model import Basis, Course, Expected, Span, StageName
from walkabout.almanac.pace import Learned, emerges, own_says
from walkabout.almanac.reached import ORDER, first_harvest, reached, stages_of
from walkabout.almanac.way import Paces, overdue, span, stays, toward
from walkabout.growing.crops import Crop
from walkabout.growing.picking import lasts
from walkabout.records.model import Planting


def courses(basis: Basis, known: Mapping[str, Learned] | None = None) -> dict[str, Course]:
    """Return the course of every planting, ended ones too, by the planting's key.

    `known`: what the room has learned, where the caller has it already.
    """
    paces = Paces(basis.conditions, learned(basis) if known is None else known)
    said: dict[tuple[str, tuple[str | None, ...]], tuple[str, ...]] = {}
    return {one.key: _course(one, basis, paces, said) for one in basis.plantings}


def course(planting: Planting, basis: Basis, learned: Mapping[str, Learned]) -> Course:
    """Return the course of one planting, which need not be one of the basis."""
    return _course(planting, basis, Paces(basis.conditions, learned), {})


def ready_by(planting: Planting, day: date, basis: Basis, learned: Mapping[str, Learned]) -> float:
    """Return the chance that a planting can be harvested on a day: 1 once it was picked, 0 where it never is.

    That nobody has picked yet does not say that it is not ready: heads wait for the day they were promised for. So
    this chance, other than the spans of a course, is not taken down for what still stands.
    """
    crop = basis.crop(planting)
    if crop is None or not crop.eaten:
        return 0.0
    first = first_harvest(planting)
    if first is not None:
        return 1.0 if first[0] <= day else 0.0
    way = toward(planting, crop, "harvest", Paces(basis.conditions, learned))
    return way.by(float((day - planting.sown).days)) if way else 0.0


def _course(
    planting: Planting, basis: Basis, paces: Paces, said: dict[tuple[str, tuple[str | None, ...]], tuple[str, ...]]
) -> Course:
    crop = basis.crop(planting)
    if crop is None:
        return Course(planting=planting, name=planting.crop, stages=(), until=planting.ended)
    on_record = reached(planting, crop)
    passed = max((ORDER.index(name) for name in on_record), default=-1)
    names = stages_of(crop)
    found = []
    for place, name in enumerate(ORDER):
        if (day := on_record.get(name)) is not None:
            found.append(Expected(stage=name, span=Span(day, day, day), reached=day))
        elif name in names and place > passed and planting.ended is None:
            found += _expected(planting, crop, name, basis.today, paces)
    key = (crop.key, tuple(stay.station for stay in stays(planting)))
    if key not in said:
        said[key] = _working(planting, crop, names, paces)
    stages = tuple(found)
    return Course(
        planting=planting, name=crop.name, stages=stages, until=_until(planting, crop, stages, basis.today),
        working=said[key],
    )  # fmt: skip


def _expected(planting: Planting, crop: Crop, name: StageName, today: date, paces: Paces) -> list[Expected]:
    """Return the stage with its days, or nothing where it is not to be waited for."""
    early_on = name in ("emergence", "move_on")
    if early_on and planting.brought_in:
        return []
    way = toward(planting, crop, name, paces)
    if way is None or (name not in ("harvest", "seed") and overdue(planting, way, today)):
        return []
    return [Expected(stage=name, span=span(planting, way, today))]


def _until(planting: Planting, crop: Crop, stages: tuple[Expected, ...], today: date) -> date | None:
    """Return the end of picking: never before today while it stands."""
    if planting.ended is not None:
        return planting.ended
    long = lasts(crop)
    last = next((one for one in stages if one.stage == ("harvest" if crop.eaten else "seed")), None)
    if long is None or last is None:
        return None
    return max(last.span.likely + timedelta(days=round(long.days)), today)


def _working(planting: Planting, crop: Crop, names: tuple[StageName, ...], paces: Paces) -> tuple[str, ...]:
    """Say how the days came about, for the last stage and station by station."""
    if not names or names[-1] == "emergence":
        up = emerges(crop, paces.conditions(planting.moves[0].station))
        return up.working if up else ()
    stage = names[-1]
    table = paces.table(crop, stage)
    lines = list(table.working) if table else []
    spent = stays(planting)
    for stay in spent:
        where = "" if len(spent) == 1 else f"at {stay.station}: " if stay.station else "before it came here: "
        lines += [f"{where}{says}" for says in paces.speed(crop, stay.station, stage).says]
    lines += own_says(paces.own(crop))
    if long := lasts(crop):
        lines.append(f"picked or held for {long.days:g} days ({long.known}: {long.source})")
    return tuple(lines)
