"""Electrical conductivity: the units meters show it in, and how warm water changes it.

EC in mS/cm at 25 °C inside; 1 mS/cm = 1 dS/m = 1000 µS/cm = 100 mS/m = 10 CF. A meter that shows ppm
multiplies with a scale of its own, ppm for each mS/cm.
"""

from collections.abc import Mapping
from types import MappingProxyType

from walkabout.growing.limits import OutOfRange, within

PER_MS_CM: Mapping[str, float] = MappingProxyType({"mS/cm": 1, "dS/m": 1, "µS/cm": 1000, "mS/m": 100, "CF": 10})
"""How many of each unit are 1 mS/cm."""

PPM_SCALES: Mapping[int, str] = MappingProxyType(
    {
        500: "the sodium chloride scale",
        640: "the irrigation water rule, USDA Handbook 60 (1954, from memory)",
        700: "the 'natural water' scale of sulfate, bicarbonate and chloride in 40 : 40 : 20",
    }
)
"""The scales that meters have, ppm for each mS/cm, and what they come from."""

STRONGEST = 200.0
"""mS/cm; beyond any solution that a growing room meets (sea water has about 50)."""
ISO_COEFFICIENT = 0.0191
"""Change of EC for each °C, as a part of that at 25 °C: ISO 7888:1985, linear form."""
APPROXIMATE_BELOW = 10.0
"""°C; below it the linear form leaves a KCl standard by more than 1.2 %."""


def from_unit(value: float, unit: str) -> float:
    """Return the EC, mS/cm, of a value in one of the units of `PER_MS_CM`; raises OutOfRange, KeyError."""
    ec = value / PER_MS_CM[unit]
    within("the EC", ec, 0, STRONGEST, "mS/cm")
    return ec


def in_unit(ec: float, unit: str) -> float:
    """Return an EC (mS/cm, 0 to 200) in one of the units of `PER_MS_CM`; raises OutOfRange, KeyError."""
    within("the EC", ec, 0, STRONGEST, "mS/cm")
    return ec * PER_MS_CM[unit]


def scale(given: float) -> float:
    """Return a ppm scale in ppm for each mS/cm, from 640 or from 0.64; raises OutOfRange.

    Scales in use reach from 0.5 to 0.8 mg/L for each µS/cm; 0.4 to 1.0 and 400 to 1000 are taken.
    """
    if 0.4 <= given <= 1:
        return given * 1000
    if 400 <= given <= 1000:
        return given
    raise OutOfRange(f"the ppm scale is {given:g}: it is 500, 640 or 700 on most meters (0.5, 0.64 or 0.7)")


def ppm(ec: float, of: float) -> float:
    """Return what a ppm meter with the scale `of` (500, 640, 700 …) shows for an EC in mS/cm; raises OutOfRange."""
    within("the EC", ec, 0, STRONGEST, "mS/cm")
    return ec * scale(of)


def from_ppm(shown: float, of: float) -> float:
    """Return the EC, mS/cm, behind the `shown` ppm of a meter with the scale `of`; raises OutOfRange."""
    factor = scale(of)
    within("the reading", shown, 0, STRONGEST * factor, "ppm")
    return shown / factor


def at_25(ec: float, temperature: float, coefficient: float = ISO_COEFFICIENT) -> float:
    """Return the EC at 25 °C, mS/cm, from one that was measured at `temperature` °C without compensation.

    EC25 = EC ÷ (1 + a (T - 25)); ISO 7888:1985, linear form, 0 to 50 °C (approximate below 10 °C); `a` is
    the `coefficient`, 0.01 to 0.03 for each °C. Raises OutOfRange.
    """
    within("the EC", ec, 0, STRONGEST, "mS/cm")
    within("the temperature of the solution", temperature, 0, 50, "°C")
    within("the coefficient", coefficient, 0.01, 0.03, "for each °C")
    return ec / (1 + coefficient * (temperature - 25))


def at_temperature(ec: float, temperature: float, coefficient: float = ISO_COEFFICIENT) -> float:
    """Return what a meter without compensation shows, mS/cm, for an EC at 25 °C: `at_25` the other way round."""
    within("the EC", ec, 0, STRONGEST, "mS/cm")
    return ec / at_25(1.0, temperature, coefficient)
