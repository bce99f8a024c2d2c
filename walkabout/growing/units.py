"""What is stored and what is shown: metric inside, US customary on the screen where a room asks for it.

Every factor is exact: 1 in = 2.54 cm, 1 US gal = 3.785411784 L, 1 US fl oz = 1/128 US gal,
1 oz = 28.349523125 g (NIST Handbook 44, appendix C, from memory), °F = 1.8 × °C + 32.
A temperature and a difference of temperatures change differently: 1 °C is 33.8 °F, a margin of
1 °C is 1.8 °F.
"""

import math

LITRES_PER_GALLON = 3.785411784
ML_PER_FLUID_OUNCE = LITRES_PER_GALLON * 1000 / 128
CM_PER_INCH = 2.54
G_PER_OUNCE = 28.349523125
FAHRENHEIT_PER_CELSIUS = 1.8
FAHRENHEIT_AT_ZERO_CELSIUS = 32.0

UNITS = ("pH", "mS/cm", "°C", "%", "mg/L", "cm", "L", "mL", "L/min", "g", "min", "days", "")
"""The units in which values are stored."""

_US: dict[str, tuple[str, float]] = {
    "°C": ("°F", 1 / FAHRENHEIT_PER_CELSIUS),
    "cm": ("in", CM_PER_INCH),
    "L": ("US gal", LITRES_PER_GALLON),
    "mL": ("US fl oz", ML_PER_FLUID_OUNCE),
    "L/min": ("US gal/min", LITRES_PER_GALLON),
    "g": ("oz", G_PER_OUNCE),
}
"""Stored unit -> the US unit, and how many stored units make one of it."""


def shown(value: float, unit: str, us: bool) -> tuple[float, str]:  # noqa: FBT001
    """Turn a stored value into the value and unit to show; raises ValueError for an unknown unit."""
    _must_be_sound(value, unit)
    if us and unit == "°C":
        return value * FAHRENHEIT_PER_CELSIUS + FAHRENHEIT_AT_ZERO_CELSIUS, "°F"
    return shown_difference(value, unit, us)


def stored(value: float, unit: str, us: bool) -> float:  # noqa: FBT001
    """Turn a value typed in the shown unit into the stored `unit`: `shown` the other way round."""
    _must_be_sound(value, unit)
    if us and unit == "°C":
        return (value - FAHRENHEIT_AT_ZERO_CELSIUS) / FAHRENHEIT_PER_CELSIUS
    return stored_difference(value, unit, us)


def shown_difference(value: float, unit: str, us: bool) -> tuple[float, str]:  # noqa: FBT001
    """Turn a stored difference (a margin, a change) into the one to show: 1 °C is 1.8 °F."""
    _must_be_sound(value, unit)
    if us and unit == "°C":
        return value * FAHRENHEIT_PER_CELSIUS, "°F"
    if us and unit in _US:
        name, size = _US[unit]
        return value / size, name
    return value, unit


def stored_difference(value: float, unit: str, us: bool) -> float:  # noqa: FBT001
    """Turn a difference typed in the shown unit into the stored `unit`."""
    _must_be_sound(value, unit)
    if us and unit == "°C":
        return value / FAHRENHEIT_PER_CELSIUS
    return value * _US[unit][1] if us and unit in _US else value


def words(value: float, unit: str, us: bool, decimals: int) -> str:  # noqa: FBT001
    """Write a stored value for people: '21.5 °C', '1.4 mS/cm', 'pH 6.1', '1 day'."""
    return _written(*shown(value, unit, us), decimals)


def words_difference(value: float, unit: str, us: bool, decimals: int) -> str:  # noqa: FBT001
    """Write a stored difference for people: a margin of 1 °C reads '1.8 °F' in a US room."""
    number, name = shown_difference(value, unit, us)
    written = _written(number, "" if name == "pH" else name, decimals)
    return f"{written} pH" if name == "pH" else written


def _written(number: float, unit: str, decimals: int) -> str:
    # A small negative number rounds to '-0.0', which nobody would say.
    digits = f"{round(number, decimals) + 0.0:.{decimals}f}"
    if unit == "pH":
        return f"pH {digits}"
    if unit == "days" and float(digits) == 1:
        unit = "day"
    return f"{digits} {unit}".rstrip()


def _must_be_sound(value: float, unit: str) -> None:
    if unit not in UNITS:
        raise ValueError(f"'{unit}' is no unit that values are stored in: {', '.join(filter(None, UNITS))}")
    if not math.isfinite(value):
        raise ValueError(f"{value} is not a number that can be shown or stored")
