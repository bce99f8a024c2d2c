"""A sowing plan in lines, and as plain values."""

from collections.abc import Iterator
from datetime import date
from typing import Any

import msgspec

from walkabout.almanac.model import Basis
from walkabout.almanac.succession import Sowing, SuccessionPlan, WeekPlan
from walkabout.almanac.wanted import said
from walkabout.growing.crops import Crop
from walkabout.reckon.which_crop import food_cautions


def succession_lines(plan: SuccessionPlan, basis: Basis) -> list[str]:
    """Return the plan: what to sow when, what each week gets, what stands in the way, and how it came about."""
    crop = basis.crops.of[plan.wanted.crop]
    return [line for part in _parts(plan, basis, crop) for line in part]


def succession_facts(plan: SuccessionPlan, basis: Basis) -> dict[str, Any]:
    """Return the same for other programs; each sowing with the names of its stations."""
    facts: dict[str, Any] = msgspec.to_builtins(plan)
    for one in facts["sowings"]:
        one["station_name"], one["shelf_name"] = basis.name_of(one["station"]), basis.name_of(one["shelf"])
    return facts | {"short": plan.short}


def _parts(plan: SuccessionPlan, basis: Basis, crop: Crop) -> Iterator[list[str]]:
    wanted = plan.wanted
    every = "every week" if wanted.every == 1 else f"every {wanted.every} weeks"
    amount = said(wanted.amount, wanted.unit, crop)
    yield [f"{crop.name[:1].upper()}{crop.name[1:]}: {amount} {every}, {_full(wanted.first)} to {_full(wanted.last)}."]
    rows = [_sowing_line(one, basis) for one in plan.sowings]
    yield ["", "To sow", *_inside(rows or ["Nothing: see below."])]
    yield ["", "Each week, with nine chances in ten once it is ready", *_inside(_week_lines(plan.weeks, plan, crop))]
    if plan.conflicts:
        yield ["", "What stands in the way", *_inside(list(plan.conflicts))]
    if plan.nearest:
        again = f"That plan: {command(plan, crop)}" if 0 < plan.nearest_amount < wanted.amount else ""
        yield ["", *(line for line in (plan.nearest, again) if line)]
    yield ["", "To know", *_inside([*plan.notes, *food_cautions(crop)])]
    yield ["", "Working", *_inside([*plan.working, f"reckoned in {plan.seconds:.1f} seconds"])]


def command(plan: SuccessionPlan, crop: Crop) -> str:
    """Return the command that lays out the nearest offer."""
    wanted = plan.wanted
    parts = [f'walkabout succession {wanted.crop} "{said(plan.nearest_amount, wanted.unit, crop)}"']
    parts += [f"--every '{wanted.every} weeks'"] if wanted.every > 1 else []
    parts += [f"--from {wanted.first} --to {wanted.last}", *(f"--station {one}" for one in wanted.stations)]
    return " ".join(parts)


def _sowing_line(one: Sowing, basis: Basis) -> str:
    many = len(one.weeks)
    weeks = f"for the week of {_short(one.weeks[0])}" if many == 1 else f"for {many} weeks from {_short(one.weeks[0])}"
    if one.moves_on is None:
        return (
            f"{_full(one.day)}: sow {one.count} at {basis.name_of(one.station)}; ready by {_short(one.ready)}; {weeks}"
        )
    return (
        f"{_full(one.day)}: sow {one.count} at {basis.name_of(one.shelf)}; move on {_short(one.moves_on)} to "
        f"{basis.name_of(one.station)}; ready by {_short(one.ready)}; {weeks}"
    )


def _week_lines(weeks: tuple[WeekPlan, ...], plan: SuccessionPlan, crop: Crop) -> list[str]:
    unit = plan.wanted.unit
    lines = []
    for one in weeks:
        if not one.wanted:
            lines.append(f"{_short(one.day)}: closed")
        elif one.short:
            lines.append(f"{_short(one.day)}: {said(one.expected, unit, crop)}; {said(one.short, unit, crop)} short")
        else:
            lines.append(f"{_short(one.day)}: {said(one.expected, unit, crop)}")
    return lines


def _inside(lines: list[str]) -> list[str]:
    return [f"  {line}" for line in lines]


def _full(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"


def _short(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b}"
