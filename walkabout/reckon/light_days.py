"""Reckonings of light over a day that changes, and over several days; and of a lamp beside a window."""

from msgspec.structs import replace

from walkabout.growing import light as of
from walkabout.growing.units import LUX_PER_FOOTCANDLE
from walkabout.reckon.daily_light import DEFINITION, DLI, HOURS, MAYBE_PPFD, TIMER, timer_job
from walkabout.reckon.in_full import in_full
from walkabout.reckon.light import FC, SUN, glass_of
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.which_light import FACTOR, FOLLOW, LAMP, read_factor
from walkabout.reckon.write import amount, number, plainly

CARRIED = "light carried over between days: Frontiers in Plant Science 2024, article 1467443"
FEWEST = 3
"""Readings that a day's sum needs, one each for morning, noon and evening. Assumed."""
BRIGHTEST = 60.0
"""mol/m²/d of the longest clear day: the table of a maker of quantum sensors."""


def work_supplement(dli: float, daylight: float, hours: float | None, ppfd: float | None) -> Reckoned:
    """Work out what a lamp has to add to daylight."""
    if hours is None and ppfd is None:
        raise ValueError("give hours= the lamp shines, to find how bright; or ppfd= of the lamp, to find how long")
    missing = of.missing(dli, daylight)
    results = {"missing": Result(missing, "mol/m²/d", 2, "for the lamp to add")}
    line = f"missing = {in_full(dli)} − {in_full(daylight)} = {in_full(dli - daylight, 'mol/m²/d')}"
    if missing == 0:
        zero = {"ppfd": Result(0.0, "µmol/m²/s", 1, "light of the lamp")} if hours is not None else {
            "hours": Result(0.0, "h", 2, "hours of lamp light")}  # fmt: skip
        return Reckoned(
            results=zero | results | {"verdict": Result("enough daylight", says="without a lamp")},
            working=(line, "nothing is missing"),
            source=DEFINITION,
            says=("The daylight is enough: leave the lamp off.",),
        )
    if hours is not None and ppfd is not None:
        return _both(daylight, missing, hours, ppfd, dli, line)
    return (
        _lamp_level(missing, hours, results, line) if hours is not None else _lamp_hours(missing, ppfd, results, line)
    )


def _lamp_level(missing: float, hours: float, results: dict[str, Result], line: str) -> Reckoned:
    if hours == 0:
        raise ValueError("hours is 0: a lamp that is never on adds nothing")
    needed = of.ppfd_for(missing, hours)
    step = f"PPFD = {in_full(missing)} ÷ (0.0036 × {in_full(hours)}) = {amount(needed, 'µmol/m²/s', 1)}"
    return Reckoned(
        results={"ppfd": Result(needed, "µmol/m²/s", 1, "light of the lamp")} | results,
        working=(line, step),
        source=DEFINITION,
        says=(
            f"The lamp has to bring {amount(needed, 'µmol/m²/s', 0)} to the leaves for {amount(hours, 'h')}.",
            "Read it with the blinds down, so that no daylight is in the reading.",
        ),
        cautions=(TIMER,),
    )


def _lamp_hours(missing: float, ppfd: float | None, results: dict[str, Result], line: str) -> Reckoned:
    if not ppfd:
        raise ValueError("ppfd is 0: a lamp that gives no light adds nothing")
    hours = of.hours_for(missing, ppfd)
    reached = hours <= of.DAY
    verdict = "can be reached" if reached else "cannot be reached"
    results = {"hours": Result(hours, "h", 2, "hours of lamp light")} | results
    results["verdict"] = Result(verdict, says="in a day of 24 h")
    step = f"hours = {in_full(missing)} ÷ (0.0036 × {in_full(ppfd)}) = {amount(hours, 'h', 2)}"
    working = (line, step, f"{number(hours, 2)} h {'≤' if reached else '>'} 24 h: {verdict}")
    if not reached:
        says = (f"It cannot be reached: {amount(hours, 'h', 1)} would be needed, and a day has 24. Use more light.",)
        return Reckoned(results=results, working=working, source=DEFINITION, says=says)
    return Reckoned(
        results=results,
        working=working,
        source=DEFINITION,
        says=(f"Let the lamp shine for {amount(hours, 'h', 1)} a day.",),
        cautions=(TIMER,),
        do=timer_job(hours),
    )


def _both(daylight: float, missing: float, hours: float, ppfd: float, dli: float, line: str) -> Reckoned:
    """Say whether a lamp and its hours, both given, are enough."""
    added = of.dli(ppfd, hours)
    enough = added >= missing - 1e-9
    verdict = "enough" if enough else "not enough"
    needed = of.ppfd_for(missing, hours) if hours > 0 else None
    results = {"dli": Result(daylight + added, "mol/m²/d", 2, "light in a day")}
    if needed is not None:
        results["ppfd"] = Result(needed, "µmol/m²/s", 1, "light of the lamp that is needed")
    results |= {
        "missing": Result(missing, "mol/m²/d", 2, "for the lamp to add"),
        "verdict": Result(verdict, says="this lamp, these hours"),
    }
    working = (
        line,
        f"the lamp adds 0.0036 × {in_full(ppfd)} × {in_full(hours)} = {amount(added, 'mol/m²/d', 2)}: {verdict}",
    )
    says = f"Together that makes {amount(daylight + added, 'mol/m²/d', 1)} of {amount(dli, 'mol/m²/d')}: {verdict}."
    return Reckoned(results=results, working=working, source=DEFINITION, says=(says,), cautions=(TIMER,))


def work_daylight_sum(
    readings: tuple[float, ...] | None,
    every: float,
    lux: tuple[float, ...] | None,
    lamp: str | None,
    factor: float | None,
    follow: str | None,
    fc: tuple[float, ...] | None,
) -> Reckoned:
    """Sum up readings that were taken through a day."""
    if sum(one is not None for one in (readings, lux, fc)) != 1:
        raise ValueError("give readings= of a quantum sensor, or lux= (or fc=) readings of a lux meter")
    if fc is not None:
        lux = tuple(one * LUX_PER_FOOTCANDLE for one in fc)
    given = readings or lux or ()
    if len(given) * every > of.DAY + 1e-9:
        raise ValueError(f"{len(given)} readings, one each {amount(every, 'h')}, are more than a day of 24 h")
    working: list[str] = []
    sources = [DEFINITION, "each reading stands for its own stretch of time: common practice"]
    if fc is not None:
        working.append(f"each: lux = foot-candles × {in_full(LUX_PER_FOOTCANDLE)}")
    light = given
    if readings is None:
        kind, k, source = read_factor(lamp or ("sun" if factor is None else None), factor, follow)
        if lamp is None and factor is None:
            working.append("taken: light = sun and sky")
        light = tuple(of.ppfd_from_lux(one, k) for one in given)
        working.append(f"{kind.says}: PPFD = lux ÷ {in_full(k)}")
        sources.append(f"factor: {source}")
    if len(given) < FEWEST:
        raise ValueError(
            f"give at least {FEWEST} readings through the day, such as readings=0,150,400,150,0: daylight changes, and "
            "one or two say nothing about the day"
        )
    dli, whole = of.dli_of_readings(light, every), sum(light)
    working.append(f"sum of {len(light)} readings = {in_full(whole, 'µmol/m²/s')}")
    working.append("DLI = 0.0036 × sum × every")
    working.append(f"DLI = 0.0036 × {in_full(whole)} × {in_full(every)} = {amount(dli, 'mol/m²/d', 2)}")
    return Reckoned(
        results={
            "dli": Result(dli, "mol/m²/d", 2, "light in a day"),
            "mean": Result(whole / len(light), "µmol/m²/s", 1, "mean of the readings"),
            "highest": Result(max(light), "µmol/m²/s", 0, "highest reading"),
        },
        working=tuple(working),
        source="; ".join(sources),
        says=(
            f"{amount(dli, 'mol/m²/d', 1)} came together in {amount(len(light) * every, 'h')}.",
            "The more readings the better: clouds pass between two of them.",
        ),
        cautions=glass_of(lamp) if lamp is not None else (SUN,),
    )


def work_mean_light(dli: tuple[float, ...], wanted: float | None) -> Reckoned:
    """Average the light of several days."""
    if not dli:
        raise ValueError("give the light of each day, such as dli=22.5,12.5,12.5")
    mean = of.mean(dli)
    shown = " + ".join(in_full(one) for one in dli) if len(dli) <= 7 else f"sum of {len(dli)} days"
    results = {
        "dli": Result(mean, "mol/m²/d", 2, "mean of the days"),
        "sum": Result(sum(dli), "mol/m²", 2, "in all"),
        "lowest": Result(min(dli), "mol/m²/d", 2, "darkest day"),
        "highest": Result(max(dli), "mol/m²/d", 2, "brightest day"),
    }
    working = [
        f"sum = {shown} = {in_full(sum(dli), 'mol/m²')}",
        f"mean = {in_full(sum(dli))} ÷ {len(dli)} = {amount(mean, 'mol/m²/d', 2)}",
    ]
    says = [f"The days average {amount(mean, 'mol/m²/d', 1)}: a bright day makes up for a dull one."]
    if wanted is not None:
        next_day = of.tomorrow(dli, wanted)
        results["tomorrow"] = Result(next_day, "mol/m²/d", 2, "needed on the next day")
        left = f"{in_full(wanted)} × {len(dli) + 1} − {in_full(sum(dli))}"
        working.append(f"next day = {left} = {amount(wanted * (len(dli) + 1) - sum(dli), 'mol/m²/d', 2)}")
        needs = f"To average {amount(wanted, 'mol/m²/d')}, the next day needs {amount(next_day, 'mol/m²/d', 1)}."
        if next_day > BRIGHTEST:
            needs = (
                f"One day cannot bring the average to {amount(wanted, 'mol/m²/d')}: it would need "
                f"{amount(next_day, 'mol/m²/d', 1)}, and the brightest has about {plainly(BRIGHTEST)}. Spread it over "
                "more days."
            )
        says.append(needs)
    return Reckoned(
        results=results,
        working=tuple(working),
        source=f"plain mean; {CARRIED}",
        says=tuple(says),
    )


RECKONINGS = (
    Reckoning(
        name="supplement",
        subject="light",
        title="A lamp beside a window",
        about="What a lamp has to add where daylight alone does not bring a crop the light it wants.",
        fields=(
            DLI,
            Field(
                key="daylight", says="light of a day from the window", unit="mol/m²/d", low=0, high=of.MOST_DLI,
                others=("sun", "daylight_dli", "natural", "window"),
            ),
            replace(HOURS, says="hours the lamp shines", needed=False),
            replace(MAYBE_PPFD, says="light of the lamp on the leaves"),
        ),
        work=work_supplement,
        example="dli=15 daylight=7.5 hours=16",
        others=("top-up-light", "supplemental-light", "supplementary-light", "lamp-for-daylight", "supplemental"),
    ),
    Reckoning(
        name="daylight-sum",
        subject="light",
        title="Light of a changing day",
        about="Sums up readings taken through a day. By a window one reading says nothing about the day.",
        fields=(
            Field(
                key="readings", says="readings, one after the other", unit="µmol/m²/s", kind="numbers", low=0,
                high=of.MOST_PPFD, needed=False, others=("ppfd", "values"),
            ),
            Field(
                key="every", says="time from one to the next", unit="h", low=0.001, high=of.DAY, default=1.0,
                others=("interval", "step", "each"),
            ),
            Field(
                key="lux", says="readings of a lux meter", unit="lx", kind="numbers", low=0, high=of.MOST_LUX,
                needed=False, others=("illuminance",),
            ),
            replace(LAMP, starts=""),
            FACTOR,
            FOLLOW,
            replace(FC, says="or readings in foot-candles", kind="numbers"),
        ),
        work=work_daylight_sum,
        example="readings=0,120,380,520,300,90,0 every=2",
        others=("dli-from-readings", "daylight-dli", "readings-to-dli", "dli-sum", "sum-of-readings"),
    ),
    Reckoning(
        name="mean-light",
        subject="light",
        title="Mean light of some days",
        about="A bright day makes up for dull ones: what counts is the mean of a few days.",
        fields=(
            Field(
                key="dli", says="light of each day", unit="mol/m²/d", kind="numbers", low=0, high=of.MOST_DLI,
                others=("days", "daily", "dlis", "daily_dli", "light"),
            ),
            Field(
                key="wanted", says="mean that is wanted", unit="mol/m²/d", low=0, high=of.MOST_DLI, needed=False,
                starts="wanted DLI", others=("target", "aim"), note="says what the next day needs",
            ),
        ),
        work=work_mean_light,
        example="dli=22.5,12.5,12.5,12.5",
        others=("average-light", "mean-dli", "average-dli", "dli-mean"),
    ),
)  # fmt: skip
