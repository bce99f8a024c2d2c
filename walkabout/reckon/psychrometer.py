"""Reckonings of the humidity that need the pressure of the air: the wet bulb, grams of water."""

from walkabout.growing import air as of
from walkabout.growing.pressure import HIGHEST, LOWEST, SEA_LEVEL, at_altitude_fao
from walkabout.growing.psychrometer import MOVING, vapour_pressure_from_wet, wet_bulb
from walkabout.reckon.air import AIR, CURVE, FAO, RH, dew_line, full_line, in_fahrenheit, inside_line
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.write import amount, number, plainly

WET = Field(
    key="wet",
    says="temperature of the wet bulb",
    unit="°C",
    low=0,
    high=50,
    others=("wet_bulb", "twet", "t_wet", "wetbulb"),
)
PRESSURE = Field(
    key="pressure",
    says="pressure of the air",
    unit="kPa",
    low=50,
    high=110,
    needed=False,
    others=("p", "air_pressure"),
    note="that of the sea level, 101.325 kPa, unless given",
)
ALTITUDE = Field(
    key="altitude",
    says="height above the sea",
    unit="m",
    low=LOWEST,
    high=HIGHEST,
    needed=False,
    others=("height", "elevation", "z"),
    note="instead of the pressure",
)
STREAM = Field(
    key="moving",
    says="how the air moves over the wick",
    kind="word",
    words=tuple(MOVING),
    needed=False,
    others=("air_movement", "ventilation"),
    note="fan, about 5 m/s, blown or whirled, unless given",
)
COEFFICIENT = Field(
    key="coefficient",
    says="coefficient of the psychrometer",
    unit="1/°C",
    low=0.0005,
    high=0.002,
    needed=False,
    others=("a", "a_psy", "apsy"),
    note="instead of how the air moves",
)


def _pressure(pressure: float | None, altitude: float | None) -> tuple[float, str]:
    """Return the pressure of the air, kPa, and the line that says where it comes from."""
    if pressure is not None and altitude is not None:
        raise ValueError("give the pressure of the air or the height above the sea, not both")
    if pressure is not None:
        return pressure, f"P = {amount(pressure, 'kPa')}"
    if altitude is None:
        return SEA_LEVEL, f"taken: P = {SEA_LEVEL} kPa, the sea level's"
    high = at_altitude_fao(altitude)
    z = plainly(altitude)
    return high, f"P = 101.3 × ((293 − 0.0065 × {z}) ÷ 293)^5.26 = {amount(high, 'kPa', 1)}"


def _stream(moving: str | None, coefficient: float | None) -> tuple[float, str]:
    """Return the coefficient of the psychrometer, 1/°C, and the line that says where it comes from."""
    if coefficient is not None and moving is not None:
        raise ValueError("give how the air moves or the coefficient of the psychrometer, not both")
    if coefficient is not None:
        return coefficient, f"a = {coefficient:.6f} per °C, as given"
    kind = moving or "fan"
    known = "" if kind == "fan" else ", from memory"
    says = {"fan": "a fan blows on the wick", "natural": "the air moves by itself", "still": "the air is still"}
    taken = "" if moving else "taken: "
    return MOVING[kind], f"{taken}a = {MOVING[kind]:.6f} per °C ({says[kind]}{known})"


def _seven(altitude: float | None) -> str:
    """Name the equation that turns a height into a pressure, where it was used."""
    return "" if altitude is None else "7, "


def work_wet_bulb(
    air: float, rh: float, pressure: float | None, altitude: float | None, moving: str | None, coefficient: float | None
) -> Reckoned:
    """Work out what a thermometer in a wet wick shows."""
    p, p_line = _pressure(pressure, altitude)
    a, a_line = _stream(moving, coefficient)
    wet, shown_p = wet_bulb(air, rh, p, a), plainly(round(p, 2))
    inside = of.vapour_pressure(air, rh)
    fall = air - wet
    results = {
        "wet_bulb": Result(wet, "°C", 1, "wet bulb"),
        "depression": Result(fall, "°C", 1, "colder than the air by"),
    }
    says = [
        f"A thermometer in a wet wick shows {amount(wet, '°C', 1)}, {amount(fall, '°C', 1)} less than a dry one.",
        "Misting or wet pads cannot cool the air below that.",
    ]
    if rh > 0:
        dew = of.dew_point(inside)
        results["dew_point"] = Result(dew, "°C", 1, "dew point")
        says.append(f"It is not the dew point: that is {amount(dew, '°C', 1)}.")
    results |= in_fahrenheit("wet_bulb", wet)
    return Reckoned(
        results=results,
        working=(
            CURVE,
            full_line(air),
            inside_line(air, rh),
            p_line,
            a_line,
            "sought: the Tw at which e°(Tw) − a × P × (T − Tw) = e, by halving",
            f"Tw = {amount(wet, '°C', 2)}, for {number(of.svp(wet), 3)} − {a:.6f} × {shown_p} × {number(fall, 2)}",
            f"   = {amount(of.svp(wet) - a * p * fall, 'kPa', 3)}",
        ),
        source=f"{FAO}, equations {_seven(altitude)}11, 15 and 16, solved for the wet bulb",
        says=tuple(says),
    )


def work_humidity(
    air: float,
    wet: float,
    pressure: float | None,
    altitude: float | None,
    moving: str | None,
    coefficient: float | None,
) -> Reckoned:
    """Work out the humidity from a dry and a wet thermometer."""
    p, p_line = _pressure(pressure, altitude)
    a, a_line = _stream(moving, coefficient)
    inside, shown_p = vapour_pressure_from_wet(air, wet, p, a), plainly(round(p, 2))
    full = of.svp(air)
    rh, deficit = of.rh_from(inside, full), full - inside
    results = {
        "rh": Result(rh, "%", 1, "relative humidity"),
        "vapour_pressure": Result(inside, "kPa", 3, "vapour pressure of the air"),
        "vpd": Result(deficit, "kPa", 2, "vapour pressure deficit"),
    }
    drop = air - wet
    lines = [
        CURVE,
        full_line(wet),
        full_line(air),
        p_line,
        a_line,
        f"e = e°(Tw) − a × P × (T − Tw) = {number(of.svp(wet), 3)} − {a:.6f} × {shown_p} × {plainly(drop)}",
        f"  = {amount(inside, 'kPa', 3)}",
        f"RH = 100 × e ÷ e°(T) = 100 × {number(inside, 3)} ÷ {number(full, 3)} = {amount(rh, '%', 1)}",
    ]
    says = [f"The air is at {amount(rh, '%', 0)} relative humidity."]
    if inside > 0:
        dew = of.dew_point(inside)
        results["dew_point"] = Result(dew, "°C", 1, "dew point")
        results |= in_fahrenheit("dew_point", dew)
        lines += dew_line(inside)
        says.append(
            f"Water condenses at {amount(dew, '°C', 1)}, which is colder than the wet bulb unless the air is full."
        )
    if coefficient is None and moving in (None, "fan"):
        says.append(
            "This holds with a fan or whirling: in still air the wick stays too warm, and the air seems damper."
        )
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=f"{FAO}, equations {_seven(altitude)}10, 11, 14, 15 and 16",
        says=tuple(says),
    )


def work_absolute(air: float, rh: float, pressure: float | None, altitude: float | None) -> Reckoned:
    """Work out how many grams of water the air carries."""
    p, p_line = _pressure(pressure, altitude)
    inside, shown_p = of.vapour_pressure(air, rh), plainly(round(p, 2))
    grams, full, ratio = of.absolute_humidity(air, rh), of.absolute_humidity(air, 100), of.mixing_ratio(air, rh, p)
    t = plainly(air)
    return Reckoned(
        results={
            "absolute_humidity": Result(grams, "g/m³", 1, "water in the air"),
            "full": Result(full, "g/m³", 1, "water in full air"),
            "mixing_ratio": Result(ratio, "g/kg", 1, "water to a kilogram of dry air"),
        },
        working=(
            CURVE,
            full_line(air),
            inside_line(air, rh),
            f"water = 2166.7 × e ÷ (T + 273.15) = 2166.7 × {number(inside, 3)} ÷ ({t} + 273.15)",
            f"      = {amount(grams, 'g/m³', 1)}",
            p_line,
            f"mixing ratio = 622 × e ÷ (P − e) = 622 × {number(inside, 3)} ÷ ({shown_p} − {number(inside, 3)})",
            f"             = {amount(ratio, 'g/kg', 1)}",
        ),
        source=f"law of ideal gases (gas constant: CODATA 2018); {FAO}, equations {_seven(altitude)}8, 10 and 11",
        says=(
            f"Each cubic metre of air carries {amount(grams, 'g', 1)} of water.",
            f"Full air of {amount(air, '°C')} carries {amount(full, 'g', 1)}.",
        ),
    )


RECKONINGS = (
    Reckoning(
        name="humidity",
        subject="air",
        title="Humidity by two bulbs",
        about="A thermometer in a wet wick is cooled by evaporation: the drier the air, the colder it gets.",
        fields=(AIR, WET, PRESSURE, ALTITUDE, STREAM, COEFFICIENT),
        work=work_humidity,
        example="air=22 wet=18",
        others=("psychrometer", "wet-and-dry", "wet-and-dry-bulb", "rh-from-wet-bulb"),
    ),
    Reckoning(
        name="wet-bulb",
        subject="air",
        title="Wet bulb",
        about="What a thermometer in a wet wick shows: as cold as evaporation alone can make it.",
        fields=(AIR, RH, PRESSURE, ALTITUDE, STREAM, COEFFICIENT),
        work=work_wet_bulb,
        example="air=24 rh=60",
        others=("wetbulb", "wet-bulb-temperature"),
    ),
    Reckoning(
        name="absolute-humidity",
        subject="air",
        title="Grams of water in the air",
        about="How much water a cubic metre of air carries: what a room's air gains when plants drink.",
        fields=(AIR, RH, PRESSURE, ALTITUDE),
        work=work_absolute,
        example="air=24 rh=60",
        others=("water-in-air", "mixing-ratio", "vapour-density", "humidity-ratio"),
    ),
)
