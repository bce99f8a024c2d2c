"""Reckonings of growing up: when seedlings show, and when a crop moves on and is ready."""

from datetime import date
from math import ceil, floor

from walkabout.growing import emergence as sprouting
from walkabout.growing import stages as of
from walkabout.growing.crops import Crop
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.stage_words import AIR_WARNING, corrected_stages, only_if, stage_word, written_day
from walkabout.reckon.which_crop import CROP, food_cautions, sources, stands_for, which_crop
from walkabout.reckon.write import amount, number, plainly, quoted

TEMPERATURE = Field(
    key="temperature",
    says="temperature of the soil or plugs",
    unit="°C",
    low=-10,
    high=60,
    others=("temp", "t", "air", "soil"),
)
PRINTING = Field(
    key="printing",
    says="whose figure, where printings disagree",
    kind="word",
    words=("days", "none"),
    default="days",
    others=("copy",),
    note="snap bean at 35 °C: 6 days in one, none in another",
)


def work_emergence(crop: str, temperature: float, printing: str) -> Reckoned:
    """Work out when seedlings show."""
    row = _row(crop)
    if row is None:
        return _from_crop_table(which_crop(crop), temperature)
    table = sprouting.load()
    found = sprouting.emergence(row, temperature, disputed_comes=printing == "days")
    best, soonest = sprouting.fastest(row)
    share = sprouting.normal(row, temperature)
    if printing == "none" and temperature in row.disputed:
        share = None
    results = _emergence_results(found)
    lines = _emergence_working(row, found, temperature)
    says = [_emergence_says(row, found, temperature)]
    if share is not None:
        results["sound_low"] = Result(share[0], "%", 0, "sound seedlings, at least")
        results["sound_high"] = Result(share[1], "%", 0, "sound seedlings, at most")
        lines.append(f"sound seedlings: {_span(*share)} in 100 seeds")
        if share[0] < 60 and found.how != "none":
            says.append(f"Few come up right there ({_span(*share)} in 100): sow more, or elsewhere.")
    if (found.days or 999) > soonest + 0.5:
        says.append(f"Soonest in the table: {amount(soonest, 'days')} at {amount(best, '°C')}.")
    results["best"] = Result(best, "°C", 0, "coolest temperature with the fewest days")
    if row.note and (temperature in row.disputed or not row.disputed):
        says.append(row.note)
    return Reckoned(
        results=results,
        working=tuple(lines),
        says=tuple(says),
        source=f"{table.days_source}; {table.normal_source}" if share else table.days_source,
    )


def _row(text: str) -> sprouting.Row | None:
    """Return the row for a crop as typed, by the row's own names first, then by the crop table's."""
    table = sprouting.load()
    row = table.find(text)
    if row is not None:
        return row
    try:
        return table.find(which_crop(text).key)
    except ValueError:
        near = table.nearest(text)
        if near is None:
            raise
        raise ValueError(f"there is no crop {quoted(text)} here: did you mean {near.name}?") from None


def _from_crop_table(crop: Crop, temperature: float) -> Reckoned:
    if crop.emerge is None:
        raise ValueError(f"no days to emergence are known for {crop.name}: it is mostly raised from cuttings or bought")
    if not 20 <= temperature <= 25:
        raise ValueError(f"for {crop.name} the days are known at 20 to 25 °C only, not at {amount(temperature, '°C')}")
    low, high = crop.emerge.low, crop.emerge.high
    return Reckoned(
        results={
            "days": Result((low + high) / 2, "days", 1, "days until seedlings show"),
            "days_low": Result(low, "days", 0, "at the earliest"),
            "days_high": Result(high, "days", 0, "at the latest"),
        },
        working=(
            f"crop table, {crop.name}, 20 to 25 °C: {_span(low, high)} days",
            f"middle = ({plainly(low)} + {plainly(high)}) ÷ 2 = {amount((low + high) / 2, 'days')}",
        ),
        says=(f"Look for seedlings from day {ceil(low)}; when none show by day {ceil(high) + 3}, sow again.",),
        source=sources(crop.emerge.source),
    )


_IN_THE_TABLE = "where it stands in the table"


def _emergence_results(found: sprouting.Emergence) -> dict[str, Result]:
    if found.days is not None:
        return {
            "days": Result(found.days, "days", 1, "days until seedlings show"),
            "verdict": Result("printed" if found.how == "printed" else "between", says=_IN_THE_TABLE),
        }
    word = "none" if found.how == "none" else "not known"
    results = {"days": Result(word, says="days until seedlings show"), "verdict": Result(found.how, says=_IN_THE_TABLE)}
    if found.slower_than is not None:
        results["at_least"] = Result(found.slower_than, "days", 0, "if any show, not before")
    return results


def _emergence_working(row: sprouting.Row, found: sprouting.Emergence, temperature: float) -> list[str]:
    if found.how == "printed":
        return [f"table, {row.name} at {amount(temperature, '°C')}: {amount(found.days or 0, 'days')}"]
    if found.colder is None or found.warmer is None:
        return [f"table, {row.name} at {amount(temperature, '°C')}: none came up"]
    (cold, slow), (warm, fast) = found.colder, found.warmer
    lines = [_neighbour(cold, slow), _neighbour(warm, fast)]
    if found.days is None:
        return [*lines, "between 'none' and a number nothing can be read"]
    part = f"({plainly(temperature)} − {plainly(cold)}) ÷ ({plainly(warm)} − {plainly(cold)})"
    step = f"{number(slow, 6)} + {number(fast - slow, 6)} × {part}".replace("+ −", "− ")
    rate = number(1 / found.days, 6)
    return [*lines, f"rate = {step} = {rate}", f"days = 1 ÷ {rate} = {amount(found.days, 'days', 1)}"]


def _neighbour(temperature: float, rate: float) -> str:
    at = f"at {amount(temperature, '°C')}: "
    if not rate:
        return f"{at}none came up"
    return f"{at}{amount(1 / rate, 'days')}, rate = 1 ÷ {plainly(1 / rate)} = {number(rate, 6)} a day"


def _emergence_says(row: sprouting.Row, found: sprouting.Emergence, temperature: float) -> str:
    if found.how == "none":
        return f"At {amount(temperature, '°C')} no {row.name} came up: sow it at another temperature."
    if found.days is None:
        warm = found.warmer is not None and not found.warmer[1]
        return f"Nobody can say: a little {'warmer' if warm else 'colder'} than this none came up. Do not count on it."
    day = max(1, floor(found.days))
    return (
        f"Look for seedlings from day {day}; when none show by day {ceil(found.days) + 3}, look at a seed or sow again."
    )


def work_stages(crop: str, sown: date | None, air: float | None) -> Reckoned:
    """Work out from when to when each stage comes."""
    one = which_crop(crop)
    stages, lines, says = corrected_stages(one, air)
    lines[:0] = stands_for(crop, one)
    results: dict[str, Result] = {}
    for stage in sorted(stages, key=lambda stage: stage.name != "harvest"):
        what = stage_word(one, stage.name)
        if sown is not None:
            start, end = of.dates(stage, sown)
            results[f"{stage.name}_from"] = Result(start.isoformat(), says=f"{what}, from")
            results[f"{stage.name}_to"] = Result(end.isoformat(), says=f"{what}, to")
        results[f"{stage.name}_low"] = Result(stage.low, "days", 0, f"{what}, after at least")
        results[f"{stage.name}_high"] = Result(stage.high, "days", 0, f"{what}, after at most")
    if sown is not None:
        lines += [_dates_line(stage_word(one, stage.name), stage, sown) for stage in stages]
    last = next((stage for stage in stages if stage.name == "harvest"), stages[-1])
    name = stage_word(one, last.name).capitalize()
    if sown is None:
        says.insert(0, f"{name}: {_span(*of.whole(last))} days after sowing.")
    else:
        start, end = of.dates(last, sown)
        says.insert(0, f"{name}: {written_day(start)}{'' if start == end else f' to {written_day(end)}'}.")
    says[1:1] = only_if(one, last, "up to {} later")
    if of.margin(last):
        share = plainly(of.MARGIN * 100)
        lines.append(f"margin = {share} % of {plainly(last.high)} days = {of.margin(last)}, rounded up (assumed)")
    return Reckoned(
        results=results,
        working=tuple(lines),
        says=tuple(says),
        source=sources(*(stage.source for stage in stages), *([] if air is None else [AIR_WARNING])),
        cautions=food_cautions(one),
    )


def _dates_line(what: str, stage: of.Stage, sown: date) -> str:
    start, end = of.dates(stage, sown)
    days = _span((start - sown).days, (end - sown).days)
    until = "" if start == end else f" to {end.isoformat()}"
    return f"{what}: {sown.isoformat()} + {days} days = {start.isoformat()}{until}"


def _span(low: float, high: float) -> str:
    return plainly(low) if low == high else f"{plainly(low)} to {plainly(high)}"


RECKONINGS = (
    Reckoning(
        name="emergence",
        subject="growth",
        title="Until seedlings show",
        about="How long after sowing seedlings show at one temperature, and how many seeds come up right.",
        fields=(CROP, TEMPERATURE, PRINTING),
        work=work_emergence,
        example="crop=lettuce temperature=18",
        others=("days-to-emergence", "germination", "sprouting", "days-to-emerge"),
    ),
    Reckoning(
        name="stages",
        subject="growth",
        title="From sowing to harvest",
        about="When seedlings show, when to move them on and when the first harvest comes, sooner or later by warmth.",
        fields=(
            CROP,
            Field(key="sown", says="the day of sowing", kind="day", needed=False, others=("sow", "day", "sowing")),
            Field(
                key="air",
                says="mean temperature of the air, day and night",
                unit="°C",
                low=-10,
                high=50,
                needed=False,
                others=("temperature", "temp"),
            ),
        ),
        work=work_stages,
        example="crop=lettuce sown=2026-01-12",
        others=("harvest-day", "harvest-date", "growth-stages", "days-to-harvest"),
    ),
)
