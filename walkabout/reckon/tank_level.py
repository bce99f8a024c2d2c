"""Reckonings of what a tank lost: its level from day to day, and the mean of a long time."""

from walkabout.growing import water_use as of
from walkabout.reckon import drinking as drink
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.which_crop import MAYBE_CROP
from walkabout.reckon.write import number, plainly


def work_mean_use(litres: float, days: float, plants: float | None) -> Reckoned:
    """Work out the mean water use a day from a total."""
    mean = litres / days
    results = {"mean": Result(mean, "L/day", 4, "mean a day")}
    lines = [f"{plainly(litres)} L ÷ {plainly(days)} days = {number(mean, 4)} L/day"]
    if plants is not None:
        results["each"] = Result(mean / drink.whole(plants), "L/day", 4, "mean for one plant")
        lines.append(
            f"{number(mean, 4)} L/day ÷ {plainly(plants)} plants = {number(mean / plants, 4)} L a plant and day"
        )
    return Reckoned(
        results=results,
        working=tuple(lines),
        source="arithmetic: a mean",
        says=(
            "The mean over the whole time, for whatever the litres are: of a plant, a square metre or a tank.",
            "Young plants drink far less than this, full-grown ones in bright light two or three times as much.",
        ),
    )


def work_tank_fall(
    levels: tuple[float, ...], days: tuple[float, ...] | None, crop: str | None, plants: float | None, stage: str | None
) -> Reckoned:
    """Work out what a tank's plants drink a day from its level on several days."""
    when = tuple(float(day) for day in range(len(levels))) if days is None else days
    if len(when) != len(levels):
        raise ValueError(f"there are {len(levels)} levels and {len(when)} days: each level needs its day")
    seen = of.learned(tuple(zip(when, levels, strict=True)))
    if seen is None or seen.per_day <= 0:
        raise ValueError("the level does not fall: give at least two levels with no refill between them")
    lines = ["taken: one level a day"] if days is None else []
    lines += [
        "a rise is a refill: falls are taken between refills only",
        f"median of all falls a day: {number(seen.per_day)} L/day, from {seen.falls} day-to-day falls",
        f"the days part from it by about ± {number(seen.spread)} L/day",
    ]
    results = {
        "per_day": Result(seen.per_day, "L/day", 2, "drunk a day"),
        "spread": Result(seen.spread, "L/day", 2, "from day to day ±"),
        "falls": Result(float(seen.falls), "", 0, "falls seen"),
    }
    sources = ["median of slopes: Theil 1950, Sen 1968"]
    if (crop is None) != (plants is None):
        raise ValueError("crop= and plants= go together: the one is nothing without the other")
    if crop is None and stage is not None:
        raise ValueError("stage goes with crop= and plants=")
    if crop is not None and plants is not None:
        drunk = drink.drunk_by(crop, stage, None, None)
        both, margin = of.blend(drink.whole(plants) * drunk.each, seen)
        weight = seen.falls / (seen.falls + of.TRUST_AFTER)
        results["blended"] = Result(both, "L/day", 2, "with the table's estimate")
        results["margin"] = Result(margin * 100, "%", 0, "may be off by ±")
        lines += [
            *drunk.working,
            f"estimate: {plainly(plants)} plants × {plainly(drunk.each)} L = {plainly(plants * drunk.each)} L/day",
            f"weight of what was seen: {seen.falls} ÷ ({seen.falls} + {of.TRUST_AFTER}) = {number(weight)} (assumed)",
            f"{_parts(weight, seen.per_day, plants * drunk.each)} = {number(both)} L/day",
        ]
        sources += drunk.sources
    few = seen.falls < of.TRUST_AFTER
    return Reckoned(
        results=results,
        working=tuple(lines),
        source="; ".join(sources),
        says=(
            f"The tank loses about {number(seen.per_day, 1)} L a day.",
            "That rests on few days: go on writing the level down."
            if few
            else "Use this instead of a table's figure, and go on writing the level down: growing plants drink more.",
        ),
    )


def _parts(weight: float, seen: float, estimate: float) -> str:
    return f"{number(weight)} × {number(seen)} + {number(1 - weight)} × {number(estimate)}"


RECKONINGS = (
    Reckoning(
        name="tank-fall",
        subject="water",
        title="What the level tells",
        about="From the level of a tank on several days to what its plants drink. Refills do not disturb it.",
        fields=(
            Field(
                key="levels",
                says="litres in the tank, one after the other",
                unit="L",
                kind="numbers",
                low=0,
                high=1e6,
                others=("litres", "volumes"),
                note="with spaces or semicolons between",
            ),
            Field(
                key="days",
                says="the day of each level, as a number",
                kind="numbers",
                low=0,
                high=100000,
                needed=False,
                others=("when",),
                note="one a day unless given",
            ),
            MAYBE_CROP,
            drink.PLANTS,
            drink.STAGE,
        ),
        work=work_tank_fall,
        example='levels="60 56 51 60 55" crop=lettuce plants=36',
        others=("learned-use", "tank-level"),
    ),
    Reckoning(
        name="mean-use",
        subject="water",
        title="Mean use of a day",
        about="From the litres of a whole season, crop or year to the mean of a day.",
        fields=(
            Field(key="litres", says="litres in all", unit="L", low=0, high=1e9, others=("total", "water", "volume")),
            Field(key="days", says="days", unit="days", low=0.01, high=36600, others=("time", "crop_days")),
            Field(key="plants", says="number of plants", low=1, high=1e6, needed=False, others=("n", "heads")),
        ),
        work=work_mean_use,
        example="litres=3 days=35",
        others=("daily-use", "mean-water"),
    ),
)
