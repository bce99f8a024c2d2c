"""Reckonings of light and harvest: what a crop makes of its light, and what a longer, dimmer day does."""

from walkabout.growing import harvest as of
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.which_crop import food_cautions, which_crop
from walkabout.reckon.write import amount, number, plainly

CAROTTI = "Carotti and colleagues 2021, Frontiers in Plant Science 11:592171 (29 days after transplanting, 16 h a day)"
PALMER = "Palmer and van Iersel 2020, Agronomy 10(11):1659 (16 mol/m²/d, from 10 to 20 h)"
LETTUCES = ("lettuce", "raft-lettuce")
HOURS = 16.0
TRIAL_DAYS = 29
"""Days after planting out that the trial counted: longer times are most likely counted from sowing."""
HEAVY = 300.0
"""g: a head of a school room hardly gets heavier, twice what the lettuce handbook of Cornell gives; assumed."""

FULL = "Only for leaves that cover the whole area all the time: seedlings catch little of the light. The scales decide."

CROP = Field(key="crop", says="the crop", kind="text", default="lettuce", others=("plant", "of"), starts="crop")
DLI = Field(
    key="dli", says="daily light", unit="mol/m²/d", low=0, high=100, needed=False, others=("daily_light",), starts="DLI"
)


def work_yield(
    crop: str,
    dli: float | None,
    ppfd: float | None,
    hours: float | None,
    days: float,
    efficiency: float | None,
    area: float | None,
    plants: float | None,
    density: float | None,
) -> Reckoned:
    """Work out the light that a crop gets, and the fresh mass that a closed canopy makes of it."""
    one = which_crop(crop)
    if plants is not None and plants != int(plants):
        raise ValueError(f"plants are counted in whole ones: write {int(plants) + 1}, not {plainly(plants)}")
    lines: list[str] = []
    dli, ppfd = _light(dli, ppfd, hours, lines, wants_ppfd=efficiency is None and one.key in LETTUCES)
    light = of.photons(dli, days)
    lines.append(f"light in all = daily light × days = {plainly(dli)} × {plainly(days)} = {amount(light, 'mol/m²')}")
    photons = {"photons": Result(light, "mol/m²", 1, "light in all")}
    if efficiency is None and one.key not in LETTUCES:
        return Reckoned(
            results=photons,
            working=tuple(lines),
            says=(f"No published yield for each mole of light is known here for {one.name}: give efficiency=.",),
            source="light in all: plain product",
            cautions=food_cautions(one),
        )
    says = [FULL]
    source = "fresh mass = light × yield for each mole, with the figure given"
    if efficiency is None and ppfd is not None:
        efficiency = of.efficiency(ppfd)
        lines.append("lettuce: 29, 27 and 21 g/mol at 200, 400 and 750 µmol/m²/s")
        lines.append(f"taken, read between them at {amount(ppfd, 'µmol/m²/s')}: {amount(efficiency, 'g/mol')}")
        source = CAROTTI
        if not of.EFFICIENCY[0][0] <= ppfd <= of.EFFICIENCY[-1][0]:
            says.append("The light is outside the trial (200 to 750 µmol/m²/s): the nearest figure is taken, a guess.")
    assert efficiency is not None
    mass = of.fresh_mass(light, efficiency)
    lines.append(f"fresh mass = {plainly(light)} × {plainly(efficiency)} ÷ 1000 = {amount(mass, 'kg/m²', 2)}")
    results = {
        "mass": Result(mass, "kg/m²", 2, "at best, on a square metre"),
        **photons,
        "efficiency": Result(efficiency, "g/mol", 1, "fresh mass for each mole of light"),
    }
    says[:0] = _shares(mass, area, plants, density, results, lines)
    if one.key in LETTUCES:
        first = 0 if days > TRIAL_DAYS else len(says)
        says.insert(
            first, "From sowing on it is far less: a raft crop gave about 150 g a head in 35 days (Cornell handbook)."
        )
    return Reckoned(results=results, working=tuple(lines), says=tuple(says), source=source, cautions=food_cautions(one))


def _light(
    dli: float | None, ppfd: float | None, hours: float | None, lines: list[str], *, wants_ppfd: bool
) -> tuple[float, float | None]:
    """Return the daily light and, where it is wanted or given, the PPFD."""
    if dli is None and ppfd is None:
        raise ValueError("give dli= (mol/m²/d), or ppfd= (µmol/m²/s) with hours=")
    if dli is not None and ppfd is not None:
        if hours is not None and abs(of.daily_light(ppfd, hours) - dli) > 0.02 * max(dli, 0.1):
            made = amount(of.daily_light(ppfd, hours), "mol/m²/d")
            raise ValueError(f"dli= does not fit: {plainly(ppfd)} µmol/m²/s for {plainly(hours)} h make {made}")
        if hours is None:
            _add_hours(dli, ppfd, lines)
        return dli, ppfd
    if hours is None and (dli is None or wants_ppfd):
        hours = HOURS
        lines.append(f"taken: {amount(hours, 'h')} of light a day, as in the trial")
    if dli is None:
        assert ppfd is not None
        assert hours is not None
        dli = of.daily_light(ppfd, hours)
        lines.append(
            f"daily light = {plainly(ppfd)} × {plainly(hours)} h × 3600 ÷ 1 000 000 = {amount(dli, 'mol/m²/d')}"
        )
    elif wants_ppfd and hours:
        ppfd = dli / (hours * 0.0036)
        lines.append(f"light = {plainly(dli)} × 1 000 000 ÷ ({plainly(hours)} h × 3600) = {amount(ppfd, 'µmol/m²/s')}")
    if wants_ppfd and ppfd is None:
        raise ValueError("with hours=0 there is no light: give the hours a day")
    return dli, ppfd


def _add_hours(dli: float, ppfd: float, lines: list[str]) -> None:
    """Add the hours a day that join the daily light and the light on the leaves; raises ValueError above 24."""
    if dli > of.daily_light(ppfd, 24) * 1.02:
        most = amount(of.daily_light(ppfd, 24), "mol/m²/d")
        raise ValueError(f"dli= does not fit: {plainly(ppfd)} µmol/m²/s make at most {most}, in 24 h")
    if ppfd:
        lines.append(f"hours = {plainly(dli)} ÷ ({plainly(ppfd)} × 0.0036) = {amount(dli / (ppfd * 0.0036), 'h', 1)}")


def _shares(
    mass: float,
    area: float | None,
    plants: float | None,
    density: float | None,
    results: dict[str, Result],
    lines: list[str],
) -> list[str]:
    """Add what an area gives and what one plant gives; return the sentences that say it."""
    says = [f"At best about {amount(mass, 'kg', 1)} of fresh leaves from a square metre."]
    if plants is not None and area is None:
        raise ValueError("with plants= give area= too, or density= (plants on a square metre)")
    if area is not None:
        total = mass * area
        results["total"] = Result(total, "kg", 2, "at best, in all")
        lines.append(f"in all = {number(mass, 3)} kg/m² × {plainly(area)} m² = {amount(total, 'kg', 2)}")
        says = [f"At best about {amount(total, 'kg', 1)} of fresh leaves in all."]
        if plants is not None:
            density = plants / area
    if density is not None:
        each = mass * 1000 / density
        if each <= HEAVY:
            results["per_plant"] = Result(each, "g", 0, "from one plant, at best")
        lines.append(f"one plant = {plainly(mass * 1000)} g/m² ÷ {plainly(density)} plants/m² = {amount(each, 'g', 0)}")
        if each > HEAVY:
            lines.append(f"more than {amount(HEAVY, 'g')} a plant (assumed): no real head, so it is not given")
            says.insert(
                0, "Too much to be true: these plants do not cover the area all that time, and no head gets that heavy."
            )
    return says


def work_longer_day(crop: str, hours: float, to: float, dli: float) -> Reckoned:
    """Work out what the same daily light does when it is spread over more hours."""
    one = which_crop(crop)
    key = "lettuce" if one.key in LETTUCES else one.key
    if key not in of.LONGER_DAY:
        raise ValueError(f"this was measured on lettuce and mizuna only, not on {one.name}")
    gain = of.longer_day_gain(key, hours, to)
    ends = of.LONGER_DAY[key]
    before, after = dli / (hours * 0.0036), dli / (to * 0.0036)
    now, then = number(_mass(key, hours), 5), number(_mass(key, to), 5)
    lines = [
        f"light now = {plainly(dli)} ÷ ({plainly(hours)} h × 0.0036) = {amount(before, 'µmol/m²/s', 0)}",
        f"light then = {plainly(dli)} ÷ ({plainly(to)} h × 0.0036) = {amount(after, 'µmol/m²/s', 0)}",
        f"measured, from 10 to 20 h: {number(ends * 100, 1)} % more; between, a straight line (assumed)",
        f"mass, with 10 h = 1: at {plainly(hours)} h {now}, at {plainly(to)} h {then}",
        f"change = ({then} ÷ {now} − 1) × 100 = {number(gain * 100, 1)} %",
    ]
    much = f"About {number(abs(gain) * 100, 0)} % {'heavier' if gain >= 0 else 'lighter'}"
    says = (
        ["The hours are the same: nothing changes."]
        if hours == to
        else [f"{much}, if the daily light stays the same: set the lamp to {amount(after, 'µmol/m²/s', 0)}."]
    )
    if dli != 16:
        says.append("It was measured at 16 mol/m²/d; with other daily light it is a guess.")
    return Reckoned(
        results={
            "gain": Result(gain * 100, "%", 1, "change of shoot mass"),
            "ppfd_before": Result(before, "µmol/m²/s", 0, "light now"),
            "ppfd_after": Result(after, "µmol/m²/s", 0, "light with the new hours"),
        },
        working=tuple(lines),
        says=tuple(says),
        source=PALMER,
    )


def _mass(key: str, hours: float) -> float:
    return 1 + of.longer_day_gain(key, of.SHORTEST, hours)


def _hours(key: str, says: str, default: float, *others: str) -> Field:
    return Field(key=key, says=says, unit="h", low=of.SHORTEST, high=of.LONGEST, default=default, others=others)


RECKONINGS = (
    Reckoning(
        name="yield",
        subject="growth",
        title="Harvest from light",
        about="The light that a crop gets from planting to harvest, and how many kilograms of lettuce that can make.",
        fields=(
            CROP,
            DLI,
            Field(
                key="ppfd", says="light on the leaves", unit="µmol/m²/s", low=0, high=3000, needed=False,
                others=("light",), starts="PPFD",
            ),
            Field(
                key="hours", says="hours of light a day", unit="h", low=0, high=24, needed=False,
                others=("photoperiod", "h", "day_length"), starts="hours",
            ),
            Field(key="days", says="days in the light", unit="days", low=0, high=1000, others=("d", "time")),
            Field(
                key="efficiency", says="fresh mass for each mole of light", unit="g/mol", low=0, high=60, needed=False,
                others=("yield_per_light", "g_per_mol", "yield_per_mol", "lue"),
            ),
            Field(key="area", says="area under the lamp", unit="m²", low=0.001, high=1e5, needed=False, others=("a",)),
            Field(key="plants", says="number of plants on it", low=1, high=1e6, needed=False, others=("n", "count")),
            Field(
                key="density", says="plants on a square metre", unit="plants/m²", low=0.01, high=100_000, needed=False,
                others=("per_m2", "plants_per_m2", "plants_m2"),
            ),
        ),
        work=work_yield,
        example="ppfd=200 hours=16 days=29",
        others=("harvest-from-light", "fresh-mass", "yield-from-light"),
    ),
    Reckoning(
        name="longer-day",
        subject="growth",
        title="A longer, dimmer day",
        about="How much more lettuce or mizuna the same daily light makes when it is spread over more hours.",
        fields=(
            CROP,
            _hours("hours", "hours of light now", 10, "from_hours", "now"),
            _hours("to", "hours of light then", 20, "to_hours", "then"),
            Field(key="dli", says="daily light", unit="mol/m²/d", low=0.1, high=60, default=16, others=DLI.others),
        ),
        work=work_longer_day,
        example="crop=lettuce hours=12 to=18",
        others=("longer-photoperiod", "photoperiod-gain"),
    ),
)  # fmt: skip
