"""Reckonings of sowing: when and how much, so that a class eats on the day it was promised."""

from datetime import date
from math import ceil

from walkabout.growing import harvest as of
from walkabout.growing import stages as growing
from walkabout.growing.crops import Crop
from walkabout.reckon.amounts import plants_for, promised, rounded_up
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.stage_words import AIR_WARNING, corrected_stages, written_day
from walkabout.reckon.which_crop import CROP, food_cautions, sources, stands_for, which_crop
from walkabout.reckon.write import number, plainly

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
    one = which_crop(crop)
    if days is not None and air is not None:
        raise ValueError("days= is already the time it takes: leave air= out, or days=")
    stage, move_on, lines, says, found_in = _time(one, days, air, UNTIL[until])
    lines[:0] = stands_for(crop, one)
    fast, slow = growing.whole(stage)
    sow, latest = growing.moved(day, -slow), growing.moved(day, -fast)
    lines.append(f"sow = {day.isoformat()} − {slow} days = {sow.isoformat()}")
    results = {"sow": Result(sow.isoformat(), says="sow on")}
    if fast != slow:
        lines.append(f"at the latest = {day.isoformat()} − {fast} days = {latest.isoformat()}")
        says.append(f"Sown by {written_day(latest)} it is ready only if all goes fast.")
    results["sow_earliest"] = Result(sow.isoformat(), says="sow from")
    results["sow_latest"] = Result(latest.isoformat(), says="sow at the latest")
    results["days"] = Result(float(slow), "days", 0, "days from sowing")
    what = f"Sow {one.name}"
    if amount is not None:
        count = _count(one, amount, (losses, germination, seeds, grams, portion), results, lines, found_in)
        if one.group == "microgreen":
            says.append("Weigh 100 seeds to turn the number into grams.")
        what = f"Sow {count} {one.name} seed{'s' if count != 1 else ''}"
    elif not all(value is None for value in (losses, germination, grams, portion)):
        raise ValueError("give amount= too: plants (30), portions (30 portions) or a mass (2 kg)")
    _add_move_on(move_on, sow, slow, results, lines)
    says.insert(0, f"{what} on {written_day(sow)} for {written_day(day)}.")
    if sow.weekday() >= 5:
        says.append("The sowing day is at a weekend: sow on the Friday before.")
    return Reckoned(
        results=results,
        working=tuple(lines),
        says=tuple(says),
        source=sources(CALENDAR, *found_in),
        cautions=food_cautions(one),
        do=ToDo(what=f"{what} on {sow.isoformat()}, for {day.isoformat()}", caution="Wash hands after soil and seed."),
    )


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
    found_in = [stage.source, *([] if air is None else [AIR_WARNING])]
    return stage, found.get("move_on") if until in ("harvest", "seed") else None, lines, says, found_in


def _count(
    crop: Crop,
    text: str,
    choices: tuple[float | None, float | None, float, float | None, float | None],
    results: dict[str, Result],
    lines: list[str],
    found_in: list[str],
) -> int:
    """Add what to sow for an amount; return the number of seeds."""
    losses, germination, seeds, grams, portion = choices
    needed = plants_for(promised(text, crop), crop, grams, portion)
    lines += needed.lines
    found_in += needed.sources
    if losses is None:
        losses = of.LOSSES * 100
        first = "seedling" if germination else "seed"
        lines.append(f"taken: losses = {plainly(losses)} % from {first} to harvest (assumed)")
    each = int(seeds)
    if each != seeds:
        raise ValueError("seeds= is the whole number of seeds in each place: 1, 2, 3")
    kept = plainly(1 - losses / 100)
    share, formula, numbers = 1.0, "(1 − losses)", kept
    if germination is not None:
        share = of.filled(germination / 100, each)
        fails = f"(1 − {plainly(germination / 100)})" + (f"^{each}" if each > 1 else "")
        lines.append(f"share of places with a seedling = 1 − {fails} = {plainly(share)}")
        formula, numbers = "(share × (1 − losses))", f"({plainly(share)} × {kept})"
    places = of.places(needed.plants, losses / 100, share)
    exact = needed.plants / (share * (1 - losses / 100))
    lines.append(f"places = plants ÷ {formula}")
    lines.append(f"= {needed.plants} ÷ {numbers} = {rounded_up(exact, places)}")
    count = places * each
    if each > 1:
        lines.append(f"seeds = {places} places × {each}, thinned to one plant = {count}")
    room = needed.plants * crop.spacing.value**2 / 10_000
    lines.append(f"room = {needed.plants} plants × ({plainly(crop.spacing.value)} cm)² = {number(room, 2)} m²")
    results |= {
        "count": Result(float(count), "", 0, "seeds to sow"),
        "places": Result(float(places), "", 0, "places (pots, plugs) to sow"),
        "plants": Result(float(needed.plants), "", 0, "plants needed at harvest"),
        "area": Result(room, "m²", 2, "room for them at the end"),
    }
    if needed.grams is not None:
        results["mass"] = Result(needed.grams, "g", 0, "what they may weigh")
    return count


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
                others=("plants", "heads", "how_much"),
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
