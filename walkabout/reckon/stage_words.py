"""The stages of a crop, corrected for the air it grows in, with the lines that show how; days as people write them."""

from datetime import date

from walkabout.growing import emergence as sprouting
from walkabout.growing import stages as of
from walkabout.growing.crops import Crop
from walkabout.growing.limits import OutOfRange
from walkabout.reckon.write import amount, number, plainly

AIR_WARNING = (
    "correction by degree days (McMaster and Wilhelm 1997); that the table's days hold at the middles is assumed"
)

_STAGES = {"emergence": "seedlings show", "move_on": "move on or thin", "harvest": "first harvest", "seed": "ripe seed"}

_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def written_day(day: date) -> str:
    """Write a day as people say it: 'Fri 16 May 2025'."""
    return f"{_WEEKDAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]} {day.year}"


def stage_word(crop: Crop, stage: str) -> str:
    """Name a stage for people; a crop that is not eaten flowers instead of being harvested."""
    return "flowers" if stage == "harvest" and not crop.eaten else _STAGES[stage]


def corrected_stages(
    crop: Crop, air: float | None, shown: tuple[str, ...] = of.STAGES
) -> tuple[list[of.Stage], list[str], list[str]]:
    """Return a crop's stages, in steady air of `air` °C where it is given, working lines, and sentences.

    The lines show the stages named in `shown` alone.

    Raises ValueError for a crop whose stages are not in the table, or that does not develop there.
    """
    stages = list(of.of(crop))
    if not stages:
        raise ValueError(f"the crop table has no days from sowing for {crop.name}")
    lines = [
        f"crop table, {stage.name.replace('_', ' ')}: {_days(stage)} days ({stage.source})"
        for stage in stages
        if stage.name in shown
    ]
    if air is None:
        return stages, lines, []
    pace = of.promised(crop, air)
    own, usual, counted = plainly(pace.base.value), plainly(pace.usual), plainly(pace.counted)
    lines += [
        f"taken: usual temperature = {usual} °C, middles of its day and night ranges",
        f"taken: base = {own} °C ({pace.base.source})",
    ]
    if counted != plainly(air):
        lines.append(f"{amount(air, '°C')} counts as {counted} °C, the top of its day range")
    lines.append(f"factor = ({usual} − {own}) ÷ ({counted} − {own}) = {number(pace.factor, 3)}")
    changed = []
    for stage in stages:
        if stage.name == "emergence":
            new, line = _emergence(crop, stage, air)
        else:
            new = of.corrected(stage, pace.factor)
            line = _corrected_line(stage.name.replace("_", " "), stage, pace.factor, new)
        changed.append(new)
        lines += [line] if stage.name in shown else []
    return changed, lines, _air_says(crop, air, pace.factor)


def only_if(crop: Crop, stage: of.Stage, otherwise: str) -> list[str]:
    """Say under what the days of a stage hold, and what to allow for where they are one figure; none for a span.

    `otherwise` is what the margin does: 'up to {} later'.
    """
    days = of.margin(stage)
    spare = otherwise.format(amount(days, "days")) if days else ""
    if crop.key in of.ONLY_IF and stage.name in ("harvest", "seed"):
        return [f"Only if it gets {of.ONLY_IF[crop.key]}{f'; else {spare} (margin assumed)' if spare else ''}."]
    return [f"The table has one figure alone: allow for {spare} (margin assumed)."] if spare else []


def _emergence(crop: Crop, stage: of.Stage, air: float) -> tuple[of.Stage, str]:
    row = sprouting.load().find(crop.key)
    try:
        days = sprouting.emergence(row, air).days if row is not None else None
    except OutOfRange:
        days = None
    if row is not None and days is None:
        return stage, f"emergence at {amount(air, '°C')}: not known; sown at 20 to 25 °C: {_days(stage)} days"
    if days is not None:
        new = of.Stage(stage.name, days, days, sprouting.load().days_source)
        return new, f"emergence at {amount(air, '°C')}, emergence table: {amount(days, 'days', 1)}"
    pace = of.pace(crop, air, at=of.EMERGES_AT)
    new = of.corrected(stage, pace.factor)
    return new, _corrected_line(f"emergence, counted at {of.EMERGES_AT} °C", stage, pace.factor, new)


def _corrected_line(name: str, stage: of.Stage, factor: float, new: of.Stage) -> str:
    if factor < 1:
        early = f"{plainly(stage.low)} × {number(factor, 3)} = {plainly(round(new.low, 1))}"
        return f"{name}: early end {early}; late end kept, {plainly(round(new.high, 1))} days"
    return f"{name}: {_days(stage)} days × {number(factor, 3)} = {_days(new)} days"


def _air_says(crop: Crop, air: float, factor: float) -> list[str]:
    says = ["The correction is a rule of thumb: look at the plants from the first of these days."]
    if factor < 1:
        says.insert(0, "Warmth brings the earliest day alone nearer: with little light it takes as long as ever.")
    if crop.heat is not None and air > crop.heat.value:
        says.insert(
            0, f"Too warm: above {amount(crop.heat.value, '°C')} {crop.name} is harmed, and warmth no longer helps."
        )
    elif not 0.99 < factor < 1.01:
        says.insert(0, f"{'Slower' if factor > 1 else 'Perhaps faster'} than usual at {amount(air, '°C')}.")
    return says


def _days(stage: of.Stage) -> str:
    low, high = plainly(round(stage.low, 1)), plainly(round(stage.high, 1))
    return low if low == high else f"{low} to {high}"
