"""Reckonings of the air: how much water it holds, how dry it is, where it condenses."""

from walkabout.growing import air as of
from walkabout.growing.units import US, shown
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.write import amount, number, plainly

FAO = "FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes and Smith 1998)"
BANDS = "band: Grange and Hand 1987, Journal of Horticultural Science 62(2):125-134"
CURVE = "e°(T) = 0.6108 × exp(17.27 × T ÷ (T + 237.3)), in kPa, T in °C"

AIR = Field(
    key="air",
    says="temperature of the air",
    unit="°C",
    low=0,
    high=50,
    starts="air temperature",
    others=("temperature", "air_temperature", "temp", "t", "t_air", "tair", "dry", "dry_bulb"),
)
RH = Field(
    key="rh",
    says="relative humidity",
    unit="%",
    low=0,
    high=100,
    starts="humidity",
    others=("humidity", "relative_humidity"),
)
LEAF = Field(
    key="leaf",
    says="temperature of the leaf",
    unit="°C",
    low=0,
    high=50,
    needed=False,
    others=("leaf_temperature", "t_leaf", "tleaf"),
    note="as warm as the air when it is not known",
)
STAGE = Field(
    key="stage",
    says="stage of the crop",
    kind="word",
    words=(*of.STAGES, "seedlings", "cuttings"),
    needed=False,
    others=("crop_stage",),
    note="adds what is usual for it",
)
DEFICIT = Field(
    key="vpd",
    says="vapour pressure deficit wanted",
    unit="kPa",
    low=0,
    high=12.4,
    others=("deficit", "vapour_pressure_deficit"),
)
VAPOUR = Field(
    key="vapour_pressure",
    says="vapour pressure of the air",
    unit="kPa",
    low=0,
    high=12.4,
    others=("ea", "e", "actual", "vapor_pressure", "actual_vapour_pressure"),
)
FULL = Field(
    key="svp",
    says="saturation vapour pressure",
    unit="kPa",
    low=0.1,
    high=12.4,
    others=("es", "saturation", "saturation_vapour_pressure"),
)

_MEANS = {
    "wet": "Water condenses on the leaf, and moulds like that. Move air over the leaves, or warm them.",
    "too damp": "Damp: plants hardly drink, and moulds get their chance. Move the air, or let drier air in.",
    "in the band": "Right for most crops: they drink, and they do not wilt.",
    "too dry": "Dry: plants lose water faster than some can drink. Seedlings and cuttings feel it first.",
}


def in_fahrenheit(name: str, celsius: float) -> dict[str, Result]:
    """Return a temperature once more in °F, for who reads a thermometer in it."""
    value, unit = shown(celsius, "°C", US)
    return {f"{name}_f": Result(value, unit, 1, f"{name.replace('_', ' ')}, in °F")}


def full_line(temperature: float, name: str = "e°") -> str:
    """Write how full air of `temperature` °C comes out of CURVE."""
    t = plainly(temperature)
    return f"{name}({t}) = 0.6108 × exp(17.27 × {t} ÷ ({t} + 237.3)) = {amount(of.svp(temperature), 'kPa', 3)}"


def inside_line(air: float, rh: float) -> str:
    """Write the vapour pressure of air at `air` °C and `rh` %."""
    product = f"{number(of.svp(air), 3)} × {plainly(rh)} ÷ 100"
    return f"e = e° × RH ÷ 100 = {product} = {amount(of.vapour_pressure(air, rh), 'kPa', 3)}"


def dew_line(pressure: float) -> tuple[str, str]:
    """Write the dew point of air with a vapour pressure of `pressure` kPa, in two lines."""
    dew = of.dew_point(pressure)
    x = 17.27 * dew / (dew + 237.3)
    return (
        f"x = ln(e ÷ 0.6108) = ln({number(pressure, 3)} ÷ 0.6108) = {number(x, 3)}",
        f"dew point = 237.3 × x ÷ (17.27 − x) = {amount(dew, '°C', 1)}",
    )


def work_svp(air: float) -> Reckoned:
    """Work out how much vapour air can hold."""
    full, slope = of.svp(air), of.slope(air)
    t = plainly(air)
    return Reckoned(
        results={
            "svp": Result(full, "kPa", 3, "saturation vapour pressure"),
            "slope": Result(slope, "kPa/°C", 3, "slope of the curve"),
        },
        working=(
            CURVE,
            full_line(air),
            f"slope = 4098 × e° ÷ (T + 237.3)² = 4098 × {number(full, 3)} ÷ ({t} + 237.3)²",
            f"      = {amount(slope, 'kPa/°C', 3)}",
        ),
        source=f"{FAO}, equations 11 and 13",
        says=(
            f"Full air of {amount(air, '°C')} has a vapour pressure of {amount(full, 'kPa', 2)}.",
            f"One degree warmer it can hold about {100 * slope / full:.0f} % more.",
        ),
    )


def work_vpd(air: float, rh: float, leaf: float | None, stage: str | None = None) -> Reckoned:
    """Work out how strongly the air pulls water from a leaf."""
    value, error = of.vpd(air, rh, leaf), of.vpd_error(air)
    full, inside = of.svp(air if leaf is None else leaf), of.vapour_pressure(air, rh)
    verdict = of.verdict(value)
    lines = [CURVE, full_line(air), inside_line(air, rh)]
    if leaf is None:
        lines.append("taken: leaf as warm as the air")
    else:
        lines.append(full_line(leaf, "at the leaf, e°"))
    lines.append(f"VPD = {number(full, 3)} − {number(inside, 3)} = {amount(value, 'kPa', 2)}")
    lines.append(f"band: {of.DAMP} to {amount(of.DRY, 'kPa', 1)} (Grange and Hand 1987): {verdict}")
    says = [_MEANS[verdict]]
    results = {
        "vpd": Result(value, "kPa", 2, "vapour pressure deficit"),
        "svp": Result(full, "kPa", 3, "saturation vapour pressure"),
        "vapour_pressure": Result(inside, "kPa", 3, "vapour pressure of the air"),
        "verdict": Result(verdict, says="this air"),
    }
    if verdict == "in the band" and value < of.MOULDS:
        says.append(f"Some see moulds gain already below {of.MOULDS} kPa (Prenger and Ling 2001; from memory).")
    if stage is not None:
        low, high = of.STAGES.get(stage, of.STAGES["rooting"])
        results["stage_verdict"] = Result(of.verdict(value, low, high), says=f"for {stage}")
        says.append(f"For {stage}, {low} to {high} kPa is usual (common practice): {results['stage_verdict'].value}.")
    says.append(_sensor(value, error, verdict))
    lines.append(f"sensor out by ±3 % RH: ±3 ÷ 100 × {number(of.svp(air), 3)} = ±{amount(error, 'kPa', 2)}")
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=f"{FAO}, equations 10 and 11; {BANDS}; bands for a stage and error of a sensor: common practice",
        says=tuple(says),
    )


def _sensor(value: float, error: float, verdict: str) -> str:
    """Say what a humidity sensor that is 3 % out does to the deficit, and whether that changes the verdict."""
    text = f"A humidity sensor is easily 3 % out, which moves this by {amount(error, 'kPa', 2)} either way"
    others = {of.verdict(value - error), of.verdict(value + error)} - {verdict}
    return f"{text}: it may as well be {' or '.join(sorted(others))}." if others else f"{text}."


def work_dew_point(air: float, rh: float, leaf: float | None) -> Reckoned:
    """Work out at which temperature water condenses."""
    inside = of.vapour_pressure(air, rh)
    dew = of.dew_point(inside)
    results = {
        "dew_point": Result(dew, "°C", 1, "dew point"),
        "vapour_pressure": Result(inside, "kPa", 3, "vapour pressure of the air"),
    }
    lines = [CURVE, full_line(air), inside_line(air, rh), *dew_line(inside)]
    says = [f"Whatever is at {amount(dew, '°C', 1)} or colder gets wet: leaves, glass, pipes."]
    if leaf is not None:
        wet = of.condenses(leaf, dew)
        results["verdict"] = Result("wet" if wet else "dry", says="leaf")
        results["margin"] = Result(leaf - dew, "°C", 1, "leaf warmer than the dew point by")
        lines.append(f"leaf {plainly(leaf)} − dew point {number(dew, 1)} = {amount(leaf - dew, '°C', 1)}")
        says.insert(0, _leaf_says(wet=wet, leaf=leaf, dew=dew))
    results |= in_fahrenheit("dew_point", dew)
    if dew < 0:
        says.append("Below 0 °C it is frost that forms, and a little sooner: at −10 °C some 1 °C warmer (from memory).")
    says.append("It is not what a wet bulb shows: in the same air a wet bulb stays warmer, unless the air is full.")
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=f"{FAO}, equations 10, 11 and 14",
        says=tuple(says),
    )


def _leaf_says(*, wet: bool, leaf: float, dew: float) -> str:
    if wet:
        return (
            f"The leaf is wet: at {amount(leaf, '°C')} it is no warmer than the dew point of {amount(dew, '°C', 1)}. "
            "Move air over it, or warm it."
        )
    return f"The leaf stays dry: at {amount(leaf, '°C')} it is warmer than the dew point of {amount(dew, '°C', 1)}."


def work_humidity_for(air: float, vpd: float, leaf: float | None) -> Reckoned:
    """Work out at which humidity the air pulls just so strongly."""
    rh = of.rh_at_vpd(air, vpd, leaf)
    full = of.svp(air if leaf is None else leaf)
    lines = [CURVE, full_line(air)]
    lines.append("taken: leaf as warm as the air" if leaf is None else full_line(leaf, "at the leaf, e°"))
    lines.append(f"e = {number(full, 3)} − {plainly(vpd)} = {amount(full - vpd, 'kPa', 3)}")
    lines.append(f"RH = 100 × {number(full - vpd, 3)} ÷ {number(of.svp(air), 3)} = {amount(rh, '%', 1)}")
    verdict = of.verdict(vpd)
    return Reckoned(
        results={"rh": Result(rh, "%", 1, "relative humidity"), "verdict": Result(verdict, says="that deficit")},
        working=tuple(lines),
        source=f"{FAO}, equations 10 and 11; {BANDS}",
        says=(f"Aim for {amount(rh, '%', 0)} relative humidity at {amount(air, '°C')}.", _MEANS[verdict]),
    )


def work_rh(vapour_pressure: float, svp: float) -> Reckoned:
    """Work out the relative humidity from two vapour pressures."""
    rh = of.rh_from(vapour_pressure, svp)
    return Reckoned(
        results={
            "rh": Result(rh, "%", 1, "relative humidity"),
            "deficit": Result(svp - vapour_pressure, "kPa", 2, "vapour pressure deficit"),
        },
        working=(f"RH = 100 × e ÷ e° = 100 × {plainly(vapour_pressure)} ÷ {plainly(svp)} = {amount(rh, '%', 1)}",),
        source=f"{FAO}, equation 10",
        says=(f"The air holds {amount(rh, '%', 0)} of the vapour that it could hold.",),
    )


RECKONINGS = (
    Reckoning(
        name="vpd",
        subject="air",
        title="Dryness of the air",
        about="How strongly the air pulls water from the leaves: too little and moulds grow, too much and plants wilt.",
        fields=(AIR, RH, LEAF, STAGE),
        work=work_vpd,
        example="air=24 rh=60",
        others=("vapour-pressure-deficit", "vapor-pressure-deficit", "leaf-vpd", "air-vpd", "deficit"),
    ),
    Reckoning(
        name="dew-point",
        subject="air",
        title="Dew point",
        about="How cold a leaf, a pane or a pipe must be for water to condense on it. With a leaf: whether it is wet.",
        fields=(AIR, RH, LEAF),
        work=work_dew_point,
        example="air=22 rh=85 leaf=18",
        others=("dewpoint", "dew", "condensing", "condensation"),
    ),
    Reckoning(
        name="humidity-for",
        subject="air",
        title="Humidity to aim for",
        about="Which relative humidity to aim for, so that the air pulls as strongly as you want at this temperature.",
        fields=(AIR, DEFICIT, LEAF),
        work=work_humidity_for,
        example="air=20 vpd=0.8",
        others=("rh-for", "rh-at-vpd", "humidity-at", "rh-for-vpd", "humidity-for-vpd"),
    ),
    Reckoning(
        name="svp",
        subject="air",
        title="What the air can hold",
        about="The pressure of water vapour in full air: it nearly doubles with every 10 °C.",
        fields=(AIR,),
        work=work_svp,
        example="air=25",
        others=("saturation-vapour-pressure", "saturation-vapor-pressure", "slope", "svp-slope", "es"),
    ),
    Reckoning(
        name="rh",
        subject="air",
        title="Humidity from pressures",
        about="Relative humidity is what the air holds, as a share of what it could hold.",
        fields=(VAPOUR, FULL),
        work=work_rh,
        example="vapour_pressure=1.91 svp=2.39",
        others=("relative-humidity", "rh-from", "rh-from-pressures", "humidity-from-pressures"),
    ),
)
