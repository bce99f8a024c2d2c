"""The reckoning of a day's air: which hours favoured which disease."""

from walkabout.growing import disease_weather as of
from walkabout.growing.disease import WET_AT
from walkabout.reckon.day_air import AIRS, LEAVES, RHS, readings
from walkabout.reckon.disease import AIR_THE_LEAVES, MOULD_CAUTION
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.write import amount, number

STEP = Field(
    key="step",
    says="time between two readings",
    unit="h",
    low=0.02,
    high=24,
    needed=False,
    others=("every", "interval"),
    note="24 h shared out among the readings unless given",
)
START = Field(
    key="start",
    says="hour of the first reading",
    unit="h",
    low=0,
    high=24,
    needed=False,
    others=("first", "begin"),
    note="midnight unless given; noon keeps a night in one piece",
)

_ALARMING = ("high", "conditions met", "favourable")


def work_disease_weather(
    air: tuple[float, ...],
    rh: tuple[float, ...],
    leaf: tuple[float, ...] | None,
    step: float | None,
    start: float | None,
) -> Reckoned:
    """Judge a day's readings for powdery mildew, grey mould and downy mildew."""
    airs, humidity, leaves = readings(air, rh, leaf)
    count = len(airs)
    apart = step if step is not None else 24 / count
    if apart * count > 24 + 1e-9:
        raise ValueError(
            f"{count} readings {amount(apart, 'h')} apart are more than a day: "
            f"give at most {int(24 / apart + 1e-9)}, or a shorter step"
        )
    begins = start or 0.0
    day = of.judge(airs, humidity, leaves, apart)
    wet = sum(one.hours(apart) for one in day.wet)
    results = {
        "wet_hours": Result(wet, "h", 1, "leaf wet"),
        "longest_wet": Result(of.longest(day.wet, apart), "h", 1, "longest wet spell"),
        "wet_when": Result(clock(day.wet, apart, begins), says="wet from and to"),
    }
    lines = [_taken(count, apart, given=step is not None)]
    lines += ["taken: first reading at midnight"] if start is None else []
    lines += [f"wet: leaf at the dew point or below, or RH ≥ {WET_AT:g} %"]
    lines.append(f"wet {results['wet_when'].value}: {amount(wet, 'h', 1)}")
    says, sources = [], []
    for name, one in (
        ("powdery mildew", day.powdery_mildew),
        ("grey mould", day.grey_mould),
        ("downy mildew", day.downy_mildew),
    ):
        key, hours = name.replace(" ", "_"), sum(spell.hours(apart) for spell in one.spells)
        when = clock(one.spells, apart, begins)
        results[key] = Result(one.verdict, says=name)
        results[f"{key}_hours"] = Result(hours, "h", 1, f"hours that favour {name}")
        results[f"{key}_when"] = Result(when, says=f"favours {name}")
        lines += [f"{name}: {one.why}", f"  {when}: {amount(hours, 'h', 1)}, so: {one.verdict}"]
        says.append(f"{name.capitalize()}: {one.verdict}; hours that favour it: {when}.")
        sources.append(f"{name}: {one.source}")
    if day.wet and len(day.wet) > 1 and day.wet[0].first == 0 and day.wet[-1].end == count:
        says.append("The leaf was wet at both ends of the readings: begin them at noon to see a night in one piece.")
    alarm = any(results[key].value in _ALARMING for key in ("powdery_mildew", "grey_mould", "downy_mildew"))
    return Reckoned(
        results=results,
        working=tuple(lines),
        source="; ".join((*sources, f"wetness from the air ({WET_AT:g} %, dew point): common practice")),
        says=(
            "Some of this day favoured disease: give the leaves moving air before the evening."
            if alarm
            else "Little of this day favoured the three diseases that are looked for.",
            *says,
            "Favoured hours say that a disease could come, not that it is there.",
        ),
        cautions=(MOULD_CAUTION,) if alarm else (),
        do=AIR_THE_LEAVES if alarm else None,
    )


def clock(spells: tuple[of.Spell, ...], step: float, start: float) -> str:
    """Write spells as hours of the day: '0:00 to 6:00, 22:00 to 24:00', 'none', 'all day'."""
    if not spells:
        return "none"
    if spells[0].hours(step) >= 24 - 1e-9:
        return "all day"
    return ", ".join(
        f"{_hour(start + one.first * step)} to {_hour(start + one.end * step, end=True)}" for one in spells
    )


def _hour(hours: float, *, end: bool = False) -> str:
    minutes = round(hours * 60)
    minutes = (minutes - 1) % 1440 + 1 if end else minutes % 1440
    return f"{minutes // 60}:{minutes % 60:02}"


def _taken(count: int, step: float, *, given: bool) -> str:
    if given:
        return f"{count} readings, each for {amount(step, 'h')}"
    return f"taken: step = 24 h ÷ {count} = {number(step, 2)} h"


RECKONINGS = (
    Reckoning(
        name="disease-weather",
        subject="air",
        title="Hours that suit disease",
        about="From a day's readings of temperature and humidity: when leaves were wet, and what could get in.",
        fields=(AIRS, RHS, LEAVES, STEP, START),
        work=work_disease_weather,
        example="air=17,16,20,24,22,18 rh=96,97,80,60,70,92",
        others=("disease-hours", "mildew-weather", "wetness-hours", "disease-day"),
    ),
)
