"""What is stored and what is shown: metric inside, and on the screen what the room reads and writes.

Every factor is exact: 1 in = 2.54 cm, 1 US gal = 3.785411784 L, 1 US fl oz = 1/128 US gal,
1 oz = 28.349523125 g (NIST Handbook 44, appendix C, from memory), 1 foot-candle = 1 lm/ft² = 10.7639 lx,
°F = 1.8 × °C + 32. A temperature and a difference of temperatures change differently: 1 °C is 33.8 °F, a
margin of 1 °C is 1.8 °F.

An EC meter that shows ppm turns mS/cm into them with a factor of its own, 500, 640 or 700: which one
always stands beside the number.
"""

import math

from msgspec import Struct

LITRES_PER_GALLON = 3.785411784
ML_PER_FLUID_OUNCE = LITRES_PER_GALLON * 1000 / 128
CM_PER_INCH = 2.54
G_PER_OUNCE = 28.349523125
LUX_PER_FOOTCANDLE = 1 / 0.3048**2
FAHRENHEIT_PER_CELSIUS = 1.8
FAHRENHEIT_AT_ZERO_CELSIUS = 32.0

UNITS = ("pH", "mS/cm", "°C", "%", "mg/L", "cm", "L", "mL", "L/min", "lx", "g", "min", "days", "")
"""The units in which values are stored."""

EC_SCALES: dict[str, float] = {"mS/cm": 1, "µS/cm": 1000, "CF": 10, "ppm 500": 500, "ppm 640": 640, "ppm 700": 700}
"""What an EC meter may show -> how many of it are 1 mS/cm."""

_US: dict[str, tuple[str, float]] = {
    "°C": ("°F", 1 / FAHRENHEIT_PER_CELSIUS),
    "cm": ("in", CM_PER_INCH),
    "L": ("US gal", LITRES_PER_GALLON),
    "mL": ("US fl oz", ML_PER_FLUID_OUNCE),
    "L/min": ("US gal/min", LITRES_PER_GALLON),
    "g": ("oz", G_PER_OUNCE),
    "lx": ("fc", LUX_PER_FOOTCANDLE),
}
"""Stored unit -> the US unit, and how many stored units make one of it."""


class Scales(Struct, frozen=True):
    """In what a room reads and writes: US customary units or metric ones, and what its EC meter shows."""

    us: bool = False
    ec: str = "mS/cm"

    @property
    def other(self) -> "Scales":
        """The other system of units: in it a number may have been read by mistake."""
        return Scales(not self.us, self.ec)


METRIC = Scales()
US = Scales(us=True)


def shown(value: float, unit: str, scales: Scales) -> tuple[float, str]:
    """Turn a stored value into the value and unit to show; raises ValueError for an unknown unit."""
    _must_be_sound(value, unit)
    if scales.us and unit == "°C":
        return value * FAHRENHEIT_PER_CELSIUS + FAHRENHEIT_AT_ZERO_CELSIUS, "°F"
    return shown_difference(value, unit, scales)


def stored(value: float, unit: str, scales: Scales) -> float:
    """Turn a value typed in the shown unit into the stored `unit`: `shown` the other way round."""
    _must_be_sound(value, unit)
    if scales.us and unit == "°C":
        return (value - FAHRENHEIT_AT_ZERO_CELSIUS) / FAHRENHEIT_PER_CELSIUS
    return stored_difference(value, unit, scales)


def shown_difference(value: float, unit: str, scales: Scales) -> tuple[float, str]:
    """Turn a stored difference (a margin, a change) into the one to show: 1 °C is 1.8 °F."""
    _must_be_sound(value, unit)
    if scales.us and unit == "°C":
        return value * FAHRENHEIT_PER_CELSIUS, "°F"
    if unit == "mS/cm" and scales.ec != unit:
        return value * EC_SCALES[scales.ec], scales.ec
    if scales.us and unit in _US:
        name, size = _US[unit]
        return value / size, name
    return value, unit


def stored_difference(value: float, unit: str, scales: Scales) -> float:
    """Turn a difference typed in the shown unit into the stored `unit`."""
    _must_be_sound(value, unit)
    if scales.us and unit == "°C":
        return value / FAHRENHEIT_PER_CELSIUS
    if unit == "mS/cm":
        return value / EC_SCALES[scales.ec]
    return value * _US[unit][1] if scales.us and unit in _US else value


def decimals_shown(unit: str, scales: Scales, decimals: int) -> int:
    """Return with how many decimals a value is shown that is stored with so many: 1.25 mS/cm are 625 ppm."""
    if unit != "mS/cm":
        return decimals
    return max(0, decimals - round(math.log10(EC_SCALES[scales.ec]) + 0.3))


def words(value: float, unit: str, scales: Scales, decimals: int) -> str:
    """Write a stored value for people: '21.5 °C', '1.4 mS/cm', '620 ppm (500)', 'pH 6.1', '1 day'."""
    return _written(*shown(value, unit, scales), decimals_shown(unit, scales, decimals))


def words_difference(value: float, unit: str, scales: Scales, decimals: int) -> str:
    """Write a stored difference for people: a margin of 1 °C reads '1.8 °F' in a US room."""
    number, name = shown_difference(value, unit, scales)
    written = _written(number, "" if name == "pH" else name, decimals_shown(unit, scales, decimals))
    return f"{written} pH" if name == "pH" else written


def _written(number: float, unit: str, decimals: int) -> str:
    # A small negative number rounds to '-0.0', which nobody would say.
    digits = f"{round(number, decimals) + 0.0:.{decimals}f}"
    if unit == "pH":
        return f"pH {digits}"
    if unit.startswith("ppm "):
        return f"{digits} ppm ({unit.removeprefix('ppm ')})"
    if unit == "days" and float(digits) == 1:
        unit = "day"
    return f"{digits} {unit}".rstrip()


def _must_be_sound(value: float, unit: str) -> None:
    if unit not in UNITS:
        raise ValueError(f"'{unit}' is no unit that values are stored in: {', '.join(filter(None, UNITS))}")
    if not math.isfinite(value):
        raise ValueError(f"{value} is not a number that can be shown or stored")
