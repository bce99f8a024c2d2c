"""Reckonings of the light of a day: how much comes together, for how long the lamps must shine, and how brightly."""

from msgspec.structs import replace

from walkabout.growing import light as of
from walkabout.growing.light_kinds import Kind
from walkabout.reckon.daily_light_wanted import LONG, hold_against
from walkabout.reckon.in_full import in_full
from walkabout.reckon.light import FC, LUX, PPFD, glass_of, lux_read, photon_lines
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.which_crop import MAYBE_CROP
from walkabout.reckon.which_light import (
    FACTOR,
    FOLLOW,
    LAMP,
    RED_BLUE,
    RED_BLUE_REFUSED,
    read_factor,
    which_key,
    which_light,
)
from walkabout.reckon.write import amount, number, plainly

MAYBE_PPFD = replace(PPFD, needed=False, starts="")
DLI = Field(
    key="dli",
    says="light wanted in a day (DLI)",
    unit="mol/m²/d",
    low=0,
    high=of.MOST_DLI,
    starts="wanted DLI",
    others=("wanted", "target", "daily_light", "light_integral", "wanted_dli", "target_dli"),
)
HOURS = Field(
    key="hours",
    says="hours of light a day",
    unit="h",
    low=0,
    high=of.DAY,
    starts="hours",
    others=("photoperiod", "day_length", "h", "lamp_hours", "light_hours", "time"),
)

DEFINITION = "definition: 3600 s in an hour, 1 000 000 µmol in a mol"
USUAL = (
    "usual wants: Plants 2024, 13(5):652; University of Florida advice as reported; Craver, Boldt and Lopez 2019, "
    "HortScience 54(1):52"
)
TIMER = (
    "A timer is mains beside water: an adult plugs it in and sets it, high and dry, behind a residual-current device; "
    "local rules and the employer's risk assessment decide."
)
_DARK = (
    "More than 18 h of light suits lettuce, but not every crop: many want some hours of dark (common practice), and "
    "tomato, pepper and aubergine get sick leaves (from memory)."
)
ONE_READING = (
    "One reading of daylight gives no light of a day: this is what it would be if it stayed like this all day. Read "
    "through the day and sum up (daylight-sum)."
)


def light_of(
    ppfd: float | None, lux: float | None, fc: float | None, lamp: str | None, factor: float | None, follow: str | None
) -> tuple[float, tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    """Return the PPFD, its working, its sources and what to mind, from a quantum sensor or from a lux meter.

    A PPFD that was given stands before a reading in lux. Raises ValueError.
    """
    if ppfd is not None:
        left = lux is not None or fc is not None
        return ppfd, ("a PPFD was given: the reading in lux is left out",) if left else (), (), ()
    if lux is None and fc is None:
        raise ValueError("give ppfd=, or lux= and lamp= (the kind of light)")
    lux, turned = lux_read(lux, fc)
    kind, k, source = read_factor(lamp, factor, follow)
    minded = (f"From lux it is good to {plainly(kind.error)} % at best.",)
    return (
        of.ppfd_from_lux(lux, k),
        (*turned, *photon_lines(lux, kind, k, given=factor is not None)),
        (f"factor: {source}",),
        minded,
    )


def daylight(lamp: str | None) -> bool:
    """Say whether this kind of light is daylight, which changes through a day. Raises ValueError."""
    kind: Kind | None = None if lamp is None or which_key(lamp) == RED_BLUE else which_light(lamp)
    return kind is not None and not kind.lamp


def work_dli(
    ppfd: float | None,
    hours: float,
    lux: float | None,
    lamp: str | None,
    factor: float | None,
    follow: str | None,
    crop: str | None,
    fc: float | None,
) -> Reckoned:
    """Work out the light of a day."""
    light, lines, sources, minded = light_of(ppfd, lux, fc, lamp, factor, follow)
    changes = daylight(lamp)
    dli = of.dli(light, hours)
    product = f"0.0036 × {in_full(light)} × {in_full(hours)}"
    results = {"dli": Result(dli, "mol/m²/d", 2, "if it stayed like this all day" if changes else "light in a day")}
    if ppfd is None:
        results["ppfd"] = Result(light, "µmol/m²/s", 1, "light on the leaves")
    working = [*lines, f"DLI = 0.0036 × PPFD × hours = {product} = {amount(dli, 'mol/m²/d', 2)}"]
    says = [ONE_READING] if changes else []
    source = [DEFINITION, *sources]
    if crop is not None:
        source.append(hold_against(crop, dli, None if changes else light, hours, results, working, says))
    else:
        says.append(
            f"{amount(dli, 'mol/m²/d', 1)} comes together. Leafy crops and herbs want 12 or more, fruiting crops 20 to "
            "25, seedlings 10 to 12."
        )
        source.append(USUAL)
    if not changes:
        says.append("It holds for a lamp that shines steadily. Daylight changes: sum up many readings (daylight-sum).")
    return Reckoned(
        results=results,
        working=tuple(working),
        source="; ".join(source),
        says=(*says, *minded),
        cautions=glass_of(lamp),
    )


def work_light_hours(
    dli: float,
    ppfd: float | None,
    lux: float | None,
    lamp: str | None,
    factor: float | None,
    follow: str | None,
    fc: float | None,
) -> Reckoned:
    """Work out for how long the lamps must shine."""
    ppfd, lines, sources, _ = light_of(ppfd, lux, fc, lamp, factor, follow)
    changes = daylight(lamp)
    source = "; ".join((DEFINITION, *sources))
    hours = of.hours_for(dli, ppfd)
    reached = hours <= of.DAY
    verdict = "can be reached" if reached else "cannot be reached"
    results = {
        "hours": Result(hours, "h", 2, "hours of light"),
        "verdict": Result(verdict, says="in a day of 24 h"),
    }
    working = [
        *lines,
        "hours = DLI ÷ (0.0036 × PPFD)",
        f"hours = {in_full(dli)} ÷ (0.0036 × {in_full(ppfd)}) = {amount(hours, 'h', 2)}",
        f"{number(hours, 2)} h {'≤' if reached else '>'} 24 h: {verdict}",
    ]
    if not reached:
        most, needed = of.dli(ppfd, of.DAY), of.ppfd_for(dli, LONG)
        results["most"] = Result(most, "mol/m²/d", 2, "most in 24 h")
        results["ppfd_needed"] = Result(needed, "µmol/m²/s", 1, "needed for 18 h")
        working.append(f"in 24 h: 0.0036 × {in_full(ppfd)} × 24 = {amount(most, 'mol/m²/d', 2)}")
        working.append(f"in 18 h: PPFD = {in_full(dli)} ÷ (0.0036 × 18) = {amount(needed, 'µmol/m²/s', 1)}")
        return Reckoned(
            results=results,
            working=tuple(working),
            source=source,
            says=(
                f"It cannot be reached: {amount(hours, 'h', 1)} would be needed, and a day has 24.",
                f"The light has to be stronger: {amount(needed, 'µmol/m²/s', 0)} for 18 h would do.",
            ),
            cautions=glass_of(lamp),
        )
    if changes:
        return Reckoned(
            results=results,
            working=tuple(working),
            source=source,
            says=(
                f"If daylight stayed like this, it would take {amount(hours, 'h', 1)}.",
                "It does not: sum up readings of a day (daylight-sum), then see what a lamp must add (supplement).",
            ),
            cautions=glass_of(lamp),
        )
    says = [f"Let the lamps shine for {amount(hours, 'h', 1)} a day."]
    if hours > LONG:
        says.append(_DARK)
    return Reckoned(
        results=results,
        working=tuple(working),
        source=source,
        says=tuple(says),
        cautions=(*((TIMER,) if hours > 0 else ()), *glass_of(lamp)),
        do=timer_job(hours) if hours > 0 else None,
    )


def timer_job(hours: float) -> ToDo:
    """Ask an adult to set a lamp's timer."""
    return ToDo(what=f"Set the timer to {amount(hours, 'h', 1)} of light a day", who="adult", caution=TIMER)


def work_ppfd_for(dli: float, hours: float, lamp: str | None, factor: float | None, follow: str | None) -> Reckoned:
    """Work out how bright it has to be."""
    if hours == 0:
        raise ValueError("hours is 0: without any hours of light there is no such PPFD")
    ppfd = of.ppfd_for(dli, hours)
    results = {"ppfd": Result(ppfd, "µmol/m²/s", 1, "light on the leaves")}
    product = f"{in_full(dli)} ÷ (0.0036 × {in_full(hours)})"
    shown = f"{in_full(ppfd)} µmol/m²/s" if lamp is not None or factor is not None else amount(ppfd, "µmol/m²/s", 1)
    working = ["PPFD = DLI ÷ (0.0036 × hours)", f"PPFD = {product} = {shown}"]
    says = [f"Bring the leaves to {amount(ppfd, 'µmol/m²/s', 0)} for {amount(hours, 'h')} a day."]
    sources = [DEFINITION]
    if lamp is not None or factor is not None:
        kind, k, source = _maybe_factor(lamp, factor, follow)
        if k is None:
            says.append(f"{source[0].upper()}{source[1:]}.")
        else:
            lux = of.lux_from_ppfd(ppfd, k)
            results["lux"] = Result(lux, "lx", 0, "on a lux meter")
            working.append(f"{kind}: {in_full(ppfd)} × {in_full(k)} = {amount(lux, 'lx', 0)}")
            sources.append(f"factor: {source}")
            says.append(f"On a lux meter under this light that is about {amount(lux, 'lx', 0)}.")
    if hours > LONG:
        says.append(_DARK)
    return Reckoned(
        results=results,
        working=tuple(working),
        source="; ".join(sources),
        says=tuple(says),
        cautions=glass_of(lamp),
    )


def _maybe_factor(lamp: str | None, factor: float | None, follow: str | None) -> tuple[str, float | None, str]:
    """Return what the light is, its factor and whose; without a factor the reason why there is none.

    A red-blue lamp has no lux, but its PPFD can be worked out all the same. Raises ValueError.
    """
    if lamp is not None and which_key(lamp) == RED_BLUE:
        return RED_BLUE, None, RED_BLUE_REFUSED
    kind, k, source = read_factor(lamp, factor, follow)
    return kind.says, k, source


RECKONINGS = (
    Reckoning(
        name="dli",
        subject="light",
        title="Light of a day",
        about="How much light comes together in a day: what a crop lives on. From a quantum sensor or a lux meter.",
        fields=(MAYBE_PPFD, HOURS, LUX, LAMP, FACTOR, FOLLOW, MAYBE_CROP, FC),
        work=work_dli,
        example="ppfd=200 hours=16",
        others=("daily-light", "daily-light-integral", "light-integral", "light-sum", "day-light"),
    ),
    Reckoning(
        name="light-hours",
        subject="light",
        title="Hours of light",
        about="For how long the lamps must shine, so that a crop gets its light of a day.",
        fields=(DLI, MAYBE_PPFD, LUX, LAMP, FACTOR, FOLLOW, FC),
        work=work_light_hours,
        example="dli=17 ppfd=250",
        others=("photoperiod", "hours-for", "hours-for-dli", "photoperiod-for", "lamp-hours", "hours-of-light"),
    ),
    Reckoning(
        name="ppfd-for",
        subject="light",
        title="How bright it must be",
        about="How bright it must be on the leaves, so that the hours of light bring a crop what it wants.",
        fields=(DLI, HOURS, LAMP, FACTOR, FOLLOW),
        work=work_ppfd_for,
        example="dli=16 hours=16",
        others=("ppfd-for-dli", "ppfd-needed", "light-level", "light-level-for", "intensity-for"),
    ),
)
