"""Reckonings of the oxygen in water, and of the pressure of the air above it."""

from walkabout.growing import oxygen as of_oxygen
from walkabout.growing import pressure as of_air
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.write import amount, number, plainly

BENSON = "Benson and Krause 1980 and 1984, Limnology and Oceanography 29:620-632"
ISA = "International Standard Atmosphere, ISO 2533:1975"
FAO = "FAO Irrigation and Drainage Paper 56, equation 7"
HEIGHTS = (0, 500, 1000, 1500, 2000)
MAINS = (
    "Mains beside water: an adult sets up the air pump, with a drip loop, above the water and behind an RCD; "
    "local electrical rules decide."
)

TEMPERATURE = Field(
    key="temperature",
    says="temperature of the water",
    unit="°C",
    low=of_oxygen.COLDEST,
    high=of_oxygen.HOTTEST,
    others=("t", "water", "water_temperature", "temp", "t_c", "celsius"),
    starts="solution temperature",
)
ALTITUDE = Field(
    key="altitude",
    says="height above the sea",
    unit="m",
    low=of_air.LOWEST,
    high=of_air.HIGHEST,
    needed=False,
    others=("height", "elevation", "h", "altitude_m"),
    starts="altitude",
)
PRESSURE = Field(
    key="pressure",
    says="pressure of the air",
    unit="kPa",
    low=of_oxygen.THINNEST,
    high=of_oxygen.DENSEST,
    needed=False,
    others=("p", "air_pressure", "barometer"),
    note="as a barometer shows it at the place itself; a weather report turns it to sea level",
)
READING = Field(
    key="reading",
    says="oxygen that the meter shows",
    unit="mg/L",
    low=0,
    high=of_oxygen.MOST,
    needed=False,
    others=("do", "oxygen", "measured", "do_mg_l"),
    starts="oxygen",
)
PERCENT = Field(
    key="percent",
    says="oxygen that the meter shows, as % of saturation",
    unit="%",
    low=0,
    high=400,
    needed=False,
    others=("percent_saturation", "saturation"),
)
FOLLOW = Field(
    key="follow",
    says="whose word on what is low",
    kind="word",
    words=of_oxygen.WHOSE,
    default="common practice",
    others=("whose", "source"),
)


def work_oxygen(
    temperature: float,
    altitude: float | None,
    pressure: float | None,
    reading: float | None,
    percent: float | None,
    follow: of_oxygen.Whose,
) -> Reckoned:
    """Work out how much oxygen water can hold, and how much of that a reading is."""
    if altitude is not None and pressure is not None:
        raise ValueError("give the altitude or the pressure, not both: the one is worked out from the other")
    if reading is not None and percent is not None:
        raise ValueError("give the reading in mg/L or in percent, not both")
    air, lines = _air(altitude, pressure)
    full, sea = of_oxygen.saturation(temperature, air), of_oxygen.at_one_atmosphere(temperature)
    lines += [
        "ln C = −139.34411 + 1.575701e5/T − 6.642308e7/T² + 1.2438e10/T³",
        "       − 8.621949e11/T⁴, with T in K and C in mg/L at 1 atm",
        f"T = {plainly(temperature)} + 273.15 = {number(temperature + 273.15)} K: C = {number(sea, 3)} mg/L",
    ]
    if air != of_air.SEA_LEVEL:
        lines += [
            "C at P atm = C × P × (1 − u/P)(1 − θP) ÷ ((1 − u)(1 − θ)), u: water vapour",
            f"P = {number(air)} ÷ 101.325 = {number(air / of_air.SEA_LEVEL, 4)} atm: C = {number(full, 3)} mg/L",
        ]
    lines.append(_at_heights(temperature))
    results: dict[str, Result] = {"saturation": Result(full, "mg/L", 2, "most that the water holds")}
    says = [
        f"At {amount(temperature, '°C')} this water holds {number(full, 1)} mg/L of oxygen, however much air goes in."
    ]
    if percent is not None:
        reading = percent * full / 100
        lines.append(f"reading = {plainly(percent)} % × {number(full, 3)} ÷ 100 = {number(reading)} mg/L")
    if reading is None:
        return Reckoned(
            results={**results, "pressure": Result(air, "kPa", 2, "pressure of the air")},
            working=tuple(lines),
            source=f"{BENSON}; {ISA}",
            says=(*says, *_warm(temperature)),
        )
    share, word = of_oxygen.percent(reading, temperature, air), of_oxygen.verdict(reading, follow)
    if percent is None:
        lines.append(f"% of saturation = {plainly(reading)} ÷ {number(full, 3)} × 100 = {number(share, 1)} %")
    lines += [
        f"{whose}: {of_oxygen.verdict(reading, whose)}{' (followed)' if whose == follow else ''}"
        for whose in of_oxygen.WHOSE
    ]
    source = "; ".join([BENSON, ISA, *(steps.source for steps in of_oxygen.STEPS.values())])
    lead = Result(share, "%", 1, "of the most it holds")
    given = Result(reading, "mg/L", 2, "oxygen in the water")
    chief = {"percent_saturation": lead, "reading": given}
    if percent is not None:
        chief = {"reading": given, "percent_saturation": lead}
    short = word in ("low", "very low")
    return Reckoned(
        results={
            **chief,
            **results,
            "verdict": Result(word, says="oxygen for roots"),
            "pressure": Result(air, "kPa", 2, "pressure of the air"),
        },
        working=tuple(lines),
        source=source,
        says=(_meaning(word, follow), *_too_much(share), *says, *_ceiling(full, follow), *_warm(temperature)),
        cautions=(MAINS,) if short or word == "watch" else (),
        do=ToDo(what="Look whether the air stone bubbles and the water moves, then measure again") if short else None,
    )


def _air(altitude: float | None, pressure: float | None) -> tuple[float, list[str]]:
    if pressure is not None:
        return pressure, []
    if altitude is None:
        return of_air.SEA_LEVEL, ["taken: pressure of the air at sea level = 101.325 kPa"]
    air = of_air.at_altitude(altitude)
    return air, [_isa_line(altitude, air)]


def _isa_line(altitude: float, air: float) -> str:
    return f"P = 101.325 × (1 − 2.25577e−5 × {plainly(altitude)})^5.25588 = {number(air)} kPa"


def _at_heights(temperature: float) -> str:
    held = (number(of_oxygen.saturation(temperature, of_air.at_altitude(height))) for height in HEIGHTS)
    rows = ", ".join(f"{height} m {one}" for height, one in zip(HEIGHTS, held, strict=True))
    return f"by height: {rows} mg/L"


def _meaning(word: of_oxygen.Word, follow: of_oxygen.Whose) -> str:
    steps = of_oxygen.STEPS[follow]
    if word == "enough":
        if follow == "Goto":
            return f"Enough for lettuce: Goto saw no harm down to {steps.enough:g} mg/L. Others ask for far more."
        return f"Enough oxygen for roots: {follow} asks for {steps.enough:g} mg/L. Other sources see it differently."
    if word == "not known":
        return f"Less than the {steps.enough:g} mg/L that {follow} tried: what lettuce bears below that is not known."
    if word == "watch":
        return f"A little short of the {steps.enough:g} mg/L of {follow}: look at the bubbles, measure again tomorrow."
    degree = "Very low" if word == "very low" else "Low"
    line = steps.very_low if word == "very low" else steps.low
    return (
        f"{degree}: under the {line:g} mg/L of {follow}. Get air into the water and move it; warm, still water "
        "loses its oxygen first. Low oxygen is a sign of risk, not yet of damage."
    )


def _too_much(share: float) -> tuple[str, ...]:
    if share <= 105:
        return ()
    return ("That is more than air alone can give: check the meter's calibration, or algae in bright light made it.",)


def _ceiling(full: float, follow: of_oxygen.Whose) -> tuple[str, ...]:
    wanted = of_oxygen.STEPS[follow].enough
    if full >= wanted:
        return ()
    return (f"Even full of air it cannot hold the {wanted:g} mg/L of {follow}: only cooling helps.",)


def _warm(temperature: float) -> tuple[str, ...]:
    if temperature <= 23:
        return ()
    return ("Warm water holds less, and roots in it need more: cooling it helps as much as more bubbles.",)


def work_pressure(altitude: float, formula: str) -> Reckoned:
    """Work out the mean pressure of the air at a height."""
    isa, fao = of_air.at_altitude(altitude), of_air.at_altitude_fao(altitude)
    value = isa if formula == "ISA" else fao
    return Reckoned(
        results={
            "pressure": Result(value, "kPa", 2, "mean pressure of the air"),
            "pressure_isa": Result(isa, "kPa", 2, "by the standard atmosphere"),
            "pressure_fao": Result(fao, "kPa", 2, "by FAO 56"),
            "of_sea_level": Result(100 * value / of_air.SEA_LEVEL, "%", 1, "of that at sea level"),
            "followed": Result(formula, says="formula followed"),
        },
        working=(
            f"ISA: {_isa_line(altitude, isa)}",
            f"FAO 56: P = 101.3 × ((293 − 0.0065 × {plainly(altitude)}) ÷ 293)^5.26 = {number(fao)} kPa",
            f"followed: {formula}",
        ),
        source=f"{ISA}; {FAO} (at 20 °C)",
        says=("The mean for this height; weather moves it by about 3 kPa. Thinner air puts less oxygen in water.",),
    )


RECKONINGS = (
    Reckoning(
        name="oxygen",
        subject="water",
        title="Oxygen in the water",
        about="How much oxygen water can hold: less when it is warm, less high up. With a reading, how full it is.",
        fields=(TEMPERATURE, ALTITUDE, PRESSURE, READING, PERCENT, FOLLOW),
        work=work_oxygen,
        example="temperature=22 reading=7.2",
        others=("dissolved-oxygen", "oxygen-saturation", "oxygen-altitude", "do", "o2"),
    ),
    Reckoning(
        name="pressure",
        subject="air",
        title="Pressure of the air",
        about="The mean pressure of the air at a height above the sea. Oxygen in water goes with it.",
        fields=(
            Field(
                key="altitude",
                says="height above the sea",
                unit="m",
                low=of_air.LOWEST,
                high=of_air.HIGHEST,
                others=("height", "elevation", "h", "altitude_m"),
                starts="altitude",
            ),
            Field(
                key="formula",
                says="formula to follow",
                kind="word",
                words=("ISA", "FAO"),
                default="ISA",
                others=("follow",),
            ),
        ),
        work=work_pressure,
        example="altitude=500",
        others=("air-pressure", "altitude", "pressure-at-altitude"),
    ),
)
