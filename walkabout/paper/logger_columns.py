"""What a logger's column holds: which quantity, in which unit, at which station."""

import re
from collections.abc import Collection, Sequence

from msgspec import Struct

from walkabout.growing.units import EC_SCALES, LITRES_PER_GALLON, LUX_PER_FOOTCANDLE
from walkabout.room.mistakes import nearest, shortened


class BadLogger(ValueError):
    """A logger's file, or what was said about it, that cannot be used; one line."""


class Kind(Struct, frozen=True):
    """A quantity: the unit it is kept in, outside which no sensor can be right, and units of files with factors."""

    unit: str
    lowest: float
    highest: float
    units: dict[str, float] = {}


_LENGTHS = {"cm": 1.0, "mm": 0.1, "m": 100.0, "in": 2.54}
_DEGREES = {"°c": 1.0, "c": 1.0, "degc": 1.0, "deg c": 1.0, "celsius": 1.0}
_FAHRENHEIT = ("°f", "f", "degf", "deg f", "fahrenheit")
_KILOPASCALS = {"kpa": 1.0, "hpa": 0.1, "mbar": 0.1, "pa": 0.001}
_EC = {"ds/m": 1.0, "us/cm": 0.001} | {name.lower(): 1 / many for name, many in EC_SCALES.items()}

_WRITTEN = {
    "us/cm": "µS/cm", "µs/cm": "µS/cm", "ds/m": "dS/m", "ms/cm": "mS/cm", "cf": "CF", "mg/l": "mg/L",
    "umol/m2/s": "µmol/m²/s", "µmol/m2/s": "µmol/m²/s", "umol": "µmol", "ml": "mL", "l": "L", "l/min": "L/min",
    "l/h": "L/h", "ml/min": "mL/min", "w": "W", "kw": "kW", "kwh": "kWh", "wh": "Wh", "°f": "°F", "°c": "°C",
    "kpa": "kPa", "hpa": "hPa", "pa": "Pa",
}  # fmt: skip
"""How units are written for people."""

QUANTITIES: dict[str, Kind] = {
    "air temperature": Kind("°C", -40, 80, _DEGREES),
    "solution temperature": Kind("°C", -5, 60, _DEGREES),
    "medium temperature": Kind("°C", -20, 70, _DEGREES),
    "humidity": Kind("%", 0, 100, {"%": 1, "%rh": 1, "rh": 1, "percent": 1}),
    "pH": Kind("pH", 0, 14, {"ph": 1}),
    "EC": Kind("mS/cm", 0, 50, _EC),
    "oxygen": Kind("mg/L", 0, 40, {"mg/l": 1, "ppm": 1}),
    "illuminance": Kind("lx", 0, 250_000, {"lx": 1, "lux": 1, "klx": 1000, "fc": LUX_PER_FOOTCANDLE}),
    "light": Kind("µmol/m²/s", 0, 4000, {"µmol/m²/s": 1, "umol/m2/s": 1, "µmol/m2/s": 1, "umol": 1, "µmol": 1}),
    "vapour pressure deficit": Kind("kPa", 0, 20, _KILOPASCALS),
    "air pressure": Kind("kPa", 40, 120, _KILOPASCALS),
    "carbon dioxide": Kind("ppm", 0, 50_000, {"ppm": 1}),
    "level": Kind("cm", -100, 1000, _LENGTHS),
    "volume": Kind("L", 0, 1e6, {"l": 1, "ml": 0.001, "gal": LITRES_PER_GALLON}),
    "flow": Kind("L/min", 0, 1e5, {"l/min": 1, "l/h": 1 / 60, "ml/min": 0.001, "gal/min": LITRES_PER_GALLON}),
    "mass": Kind("g", -1000, 1e6, {"g": 1, "kg": 1000}),
    "power": Kind("W", 0, 1e6, {"w": 1, "kw": 1000}),
    "energy": Kind("kWh", 0, 1e9, {"kwh": 1, "wh": 0.001}),
}
"""Quantities of loggers. The ends are assumed: wide enough for every sensor that works. 1 ppm of oxygen in water is
taken as 1 mg/L; a foot-candle and a US gallon are those of `growing.units`."""

_HINTS = (
    (r"co2|co₂|carbon", "carbon dioxide"),
    (r"vpd|deficit", "vapour pressure deficit"),
    (r"pressure|\b[hk]pa\b|mbar", "air pressure"),
    (r"hum|\brh\b|%", "humidity"),
    (r"(water|solution|tank|nutrient).*temp|temp.*(water|solution|tank|nutrient)", "solution temperature"),
    (r"(soil|medium|root|substrate).*temp|temp.*(soil|medium|root|substrate)", "medium temperature"),
    (r"temp|°c|°f", "air temperature"),
    (r"\bph\b", "pH"),
    (r"\bec\b|conduct|[mµu]s/cm", "EC"),
    (r"\bdo\b|oxygen", "oxygen"),
    (r"lux|\blx\b|illumin", "illuminance"),
    (r"\bpar\b|ppfd|mol/", "light"),
    (r"level", "level"),
    (r"volume", "volume"),
    (r"flow", "flow"),
    (r"mass|weight", "mass"),
    (r"kwh|energy", "energy"),
    (r"power|watt", "power"),
)


class Mapped(Struct, frozen=True):
    """A column and what it is: `unit` is the unit of the file, empty for the one in which the quantity is kept."""

    column: str
    quantity: str
    unit: str
    station: str


def unit_in(quantity: str, unit: str) -> tuple[float, float]:
    """Return factor and offset that turn a file's unit into the kept one; BadLogger for a unit it cannot have."""
    kind = QUANTITIES[quantity]
    plain = unit.strip().lower().replace("μ", "µ").replace("ℓ", "l")
    if not plain or plain == kind.unit.lower():
        return 1.0, 0.0
    if kind.unit == "°C" and plain in _FAHRENHEIT:
        return 1 / 1.8, -32 / 1.8
    if plain not in kind.units:
        units = [*kind.units, *(("°f",) if kind.unit == "°C" else ())]
        known = list(dict.fromkeys(_WRITTEN.get(one, one) for one in units))
        right = nearest(plain, known) or f"It can be: {', '.join(known)}"
        raise BadLogger(f'{quantity} cannot be in "{shortened(unit, 20)}". {right}')
    return kind.units[plain], 0.0


def guessed(name: str) -> tuple[str, str] | None:
    """Return quantity and unit that a column's name speaks of; None where it says nothing."""
    plain = name.lower().replace("_", " ").replace("μ", "µ")
    for hint, quantity in _HINTS:
        if re.search(hint, plain):
            tokens = [plain.strip(), *re.findall(r"[\[(]([^\])]+)[\])]", plain), *re.split(r"[\s,;]+", plain)]
            for token in tokens:
                known = (*QUANTITIES[quantity].units, *(_FAHRENHEIT if "temperature" in quantity else ()))
                if token in known:
                    return quantity, _usual(quantity, token)
            return quantity, QUANTITIES[quantity].unit
    return None


def _usual(quantity: str, unit: str) -> str:
    """Return a unit as it is usually written."""
    if unit in _FAHRENHEIT and "temperature" in quantity:
        return "°F"
    return QUANTITIES[quantity].unit if unit_in(quantity, unit) == (1.0, 0.0) else _WRITTEN.get(unit, unit)


def read_what(text: str) -> tuple[str, str]:
    """Return quantity and unit of 'QUANTITY:UNIT' or 'QUANTITY'; BadLogger with the nearest right word."""
    name, _, unit = text.strip().partition(":")
    name = " ".join(name.split())
    found = next((one for one in QUANTITIES if one.lower() == name.lower()), None)
    if found is None:
        right = nearest(name, QUANTITIES) or f"It can be: {', '.join(QUANTITIES)}"
        raise BadLogger(f'"{shortened(name, 30)}" is no quantity. {right}')
    unit_in(found, unit)
    return found, unit.strip() or QUANTITIES[found].unit


def read_column(text: str, names: Sequence[str], station: str, stations: Collection[str]) -> Mapped:
    """Return what 'NAME=QUANTITY:UNIT@STATION' says of a file with these columns; `station` where none is given."""
    name = next((one for one in sorted(names, key=len, reverse=True) if text.startswith(f"{one}=")), None)
    if name is None:
        wanted = text.partition("=")[0]
        right = nearest(wanted, names) or f"It has: {', '.join(names)}"
        raise BadLogger(f'there is no column "{shortened(wanted, 40)}". {right}')
    what, at, where = text[len(name) + 1 :].rpartition("@")
    quantity, unit = read_what(what if at else where)
    return Mapped(name, quantity, unit, station_in(where.strip() if at else station, stations))


def station_in(key: str, stations: Collection[str]) -> str:
    """Return the key when it is one of the room's; BadLogger else."""
    if not key:
        raise BadLogger("say at which station it was read: --station KEY")
    if key not in stations:
        right = nearest(key, stations) or f"There are: {', '.join(stations)}"
        raise BadLogger(f'there is no station "{shortened(key, 40)}". {right}')
    return key
