"""Reckonings of sowing: when and how much, so that a class eats on the day it was promised."""

import re
from datetime import date
from math import ceil

from msgspec import Struct

from walkabout.growing import stages as growing
from walkabout.growing.crops import Crop
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.seed_count import YOUNG, Choices, seeds_for, share_says
from walkabout.reckon.stage_words import AIR_WARNING, corrected_stages, only_if, written_day
from walkabout.reckon.which_crop import CROP, food_cautions, sources, stands_for, which_crop
from walkabout.reckon.write import plainly

DAY = Field(
    key="day", says="the day it must be ready", kind="day", others=("harvest", "by", "date", "harvest_day", "ready")
)
CALENDAR = "calendar arithmetic"


def work_sow_for(
    crop: str,
    day: date,
    amount: str | None,
    days: float | None,
    air: float | None,
    until: str,
    losses: float | None,
    germination: float | None,
    seeds: float,
    grams: float | None,
    portion: float | None,
) -> Reckoned:
    """Work out when to sow, and how much, for a promised harvest."""
    plain, until = _crop_and_aim(crop, until)
    one, aim = which_crop(plain), UNTIL[until]
    if days is not None and air is not None:
        raise ValueError("days= is already the time it takes: leave air= out, or days=")
    if days is None and until in ("flowers", "flower") and one.group != "flower":
        raise ValueError(f"the crop table has no days until flowers for {one.name}: leave until= out, or give days=")
    stage, move_on, lines, says, found_in = _time(one, days, air, aim)
    lines[:0] = stands_for(plain, one)
    plan = _planned(one, day, stage, lines, counted=days is not None)
    results = {
        "sow": Result(plan.sow.isoformat(), says="sow on"),
        "sow_earliest": Result(plan.earliest.isoformat(), says="sow from"),
        "sow_latest": Result(plan.latest.isoformat(), says="sow at the latest"),
        "days": Result(float((day - plan.sow).days), "days", 0, "days from sowing"),
    }
    if air is not None:
        says[:0] = share_says(one, air)
    what = f"Sow {one.name}"
    if amount is not None:
        chosen = Choices(losses=losses, germination=germination, seeds=seeds, grams=grams, portion=portion)
        counted = seeds_for(one, amount, chosen, air, aim)
        results |= counted.results
        lines += counted.lines
        found_in += counted.sources
        if one.group == "microgreen":
            says.append("Weigh 100 seeds to turn the number into grams.")
        what = f"Sow {counted.count} seed{'s' if counted.count != 1 else ''} of {one.name}"
    elif not all(value is None for value in (losses, germination, grams, portion)):
        raise ValueError("give amount= too: plants (30), portions (30 portions) or a mass (2 kg)")
    _add_move_on(move_on, plan.sow, (day - plan.sow).days, results, lines)
    by = f"The latest day that still works is {written_day(plan.by)}"
    by += ", and only if all goes fast." if plan.hurried else "."
    weekend = [] if plan.due == plan.sow else [f"That is at a weekend: sow on {written_day(plan.due)} instead."]
    spare = [] if days is not None else only_if(one, stage, "up to {} sooner")
    says[:0] = [f"{what} on {written_day(plan.sow)} for {written_day(day)}.", *weekend, by, *spare]
    young = aim in YOUNG
    return Reckoned(
        results=results,
        working=tuple(lines),
        says=tuple(says),
        source=sources(CALENDAR, *found_in),
        cautions=((one.caution,) if one.caution else ()) if young else food_cautions(one),
        do=ToDo(what=f"{what} for {written_day(day)}", caution="Wash hands after soil and seed.", why=by, due=plan.due),
    )


class _Plan(Struct, frozen=True, kw_only=True):
    sow: date
    earliest: date
    latest: date
    by: date
    """The latest school day."""
    due: date
    """The school day on which it is to be done."""
    hurried: bool
    """Whether sowing on the latest day leaves less time than was planned."""


def _planned(crop: Crop, day: date, stage: growing.Stage, lines: list[str], *, counted: bool) -> _Plan:
    """Return the days of sowing; days that somebody counted are kept, others are moved off the weekend."""
    fast, slow = growing.whole(stage)
    if stage.low == stage.high:
        fast = slow
    spare = 0 if counted else growing.margin(stage)
    sow, latest = growing.moved(day, -slow), growing.moved(day, -fast)
    lines.append(f"sow = {day.isoformat()} − {slow} days = {sow.isoformat()}")
    if fast != slow:
        lines.append(f"at the latest = {day.isoformat()} − {fast} days = {latest.isoformat()}")
    if spare:
        lines.append(f"margin = {plainly(growing.MARGIN * 100)} % of {slow} days, rounded up: {spare} (assumed)")
    due = _school_day(sow, latest if crop.group == "microgreen" else sow)
    if counted:
        return _Plan(sow=sow, earliest=sow, latest=latest, by=_school_day(latest, latest), due=due, hurried=False)
    if due != sow:
        lines.append(f"{written_day(sow)} is at a weekend: moved to {written_day(due)}, {(day - due).days} days before")
    latest = max(_school_day(latest, latest), due)
    earliest = min(growing.moved(day, -slow - spare), due) if spare else due
    return _Plan(sow=due, earliest=earliest, latest=latest, by=latest, due=due, hurried=(day - latest).days < slow)


def _school_day(day: date, latest: date) -> date:
    """Return the day itself; at a weekend the Monday after where `latest` allows it, else the Friday before."""
    if day.weekday() <= _FRIDAY:
        return day
    monday = growing.moved(day, 7 - day.weekday())
    return monday if monday <= latest else growing.moved(day, _FRIDAY - day.weekday())


_FRIDAY = 4
_IN_BRACKETS = re.compile(r"(.+?)\s*\((seed|flower)s?(?: harvest)?\)", re.IGNORECASE)


def _crop_and_aim(crop: str, until: str) -> tuple[str, str]:
    """Part 'rapid-brassica (seed harvest)' into the crop and what must be reached."""
    found = _IN_BRACKETS.fullmatch(crop.strip())
    if found is None:
        return crop, until
    return found[1], f"{found[2].lower()}s" if until == "harvest" else until


UNTIL = {
    "harvest": "harvest", "flowers": "harvest", "flower": "harvest", "seed": "seed", "seeds": "seed",
    "move-on": "move_on", "moving": "move_on", "seedlings": "emergence", "emergence": "emergence",
}  # fmt: skip


def _time(
    crop: Crop, days: float | None, air: float | None, until: str
) -> tuple[growing.Stage, growing.Stage | None, list[str], list[str], list[str]]:
    """Return the stage to be reached, the moving on, and lines, sentences and sources."""
    if days is not None:
        known = {stage.name: stage for stage in growing.of(crop)}
        return growing.Stage(until, ceil(days), ceil(days), "given"), known.get("move_on"), [], [], []
    stages, lines, says = corrected_stages(crop, air, (until,))
    found = {stage.name: stage for stage in stages}
    if until not in found:
        what = "to harvest" if until == "harvest" else f"until {until.replace('_', ' ')}"
        raise ValueError(f"the crop table has no days {what} for {crop.name}: give days=")
    stage = found[until]
    if stage.low != stage.high:
        low, high = growing.whole(stage)
        lines.append(f"taken: {high} days, the slow end of {low} to {high}, so that it is ready on the day")
    if until == "emergence":
        says = says[-1:]
    found_in = [stage.source, *([] if air is None else [AIR_WARNING])]
    return stage, found.get("move_on") if until in ("harvest", "seed") else None, lines, says, found_in


def _add_move_on(
    stage: growing.Stage | None, sow: date, days: int, results: dict[str, Result], lines: list[str]
) -> None:
    if stage is None or stage.low >= days:
        return
    low, high = growing.whole(stage)
    start, end = growing.moved(sow, low), growing.moved(sow, high)
    results["move_on_from"] = Result(start.isoformat(), says="move on or thin, from")
    results["move_on_to"] = Result(end.isoformat(), says="move on or thin, to")
    span, to = (str(low), "") if low == high else (f"{low} to {high}", f" to {end.isoformat()}")
    lines.append(f"move on = {sow.isoformat()} + {span} days = {start.isoformat()}{to}")


def work_sowing_day(day: date, days: float) -> Reckoned:
    """Count back from a day."""
    whole = ceil(days - 1e-9)
    sow = growing.moved(day, -whole)
    return Reckoned(
        results={
            "sow": Result(sow.isoformat(), says="sow on"),
            "weekday": Result(written_day(sow).split()[0], says="day of the week"),
        },
        working=(f"{day.isoformat()} − {whole} days = {sow.isoformat()}",),
        says=(f"Sow on {written_day(sow)} for {written_day(day)}.",),
        source=CALENDAR,
    )


def _percent(key: str, says: str, high: float, *others: str, note: str = "", low: float = 0) -> Field:
    return Field(key=key, says=says, unit="%", low=low, high=high, needed=False, others=others, note=note)


def _grams(key: str, says: str, *others: str) -> Field:
    return Field(key=key, says=says, unit="g", low=0.001, high=100_000, needed=False, others=others)


def _days(*, needed: bool) -> Field:
    return Field(
        key="days", says="days from sowing to harvest", unit="days", low=0, high=1000, needed=needed,
        others=("days_to_harvest", "sow_to_harvest", "duration"),
        note="" if needed else "from the crop table when not given",
    )  # fmt: skip


RECKONINGS = (
    Reckoning(
        name="sow-for",
        subject="growth",
        title="Sow for a promised day",
        about="When to sow and how many seeds, so that enough is ready on the day a class was promised.",
        fields=(
            CROP,
            DAY,
            Field(
                key="amount",
                says="how much: 30, 30 heads, 2 kg, 30 portions",
                kind="text",
                needed=False,
                others=("plants", "heads", "how_much", "quantity"),
            ),
            _days(needed=False),
            Field(
                key="air", says="mean temperature of the air, day and night", unit="°C", low=-10, high=50, needed=False,
                others=("temperature", "temp"),
            ),
            Field(
                key="until", says="what must be reached", kind="word", words=tuple(UNTIL), default="harvest",
                others=("stage", "to"),
            ),
            _percent("losses", "lost on the way", 99, "loss", note="all losses; after coming up, with germination="),
            _percent("germination", "seeds that come up", 100, "germinates", note="from the packet or a test", low=1),
            Field(
                key="seeds", says="seeds in each place", low=1, high=50, default=1,
                others=("seeds_per_place", "per_place"), note="thinned to one plant",
            ),
            _grams("grams", "harvest from one plant", "g_per_plant", "each"),
            _grams("portion", "one person eats", "g_per_portion"),
        ),
        work=work_sow_for,
        example="crop=raft-lettuce day=2026-06-19 amount=30",
        others=("sow", "sow-by", "sowing", "promise", "sowing-plan"),
    ),
    Reckoning(
        name="sowing-day",
        subject="growth",
        title="Count back to sowing",
        about="The day to sow on, so many days before the day it must be ready.",
        fields=(DAY, _days(needed=True)),
        work=work_sowing_day,
        example="day=2026-06-19 days=35",
        others=("sowing-date", "sow-date", "sow-day"),
    ),
)  # fmt: skip
