"""Humidity from two thermometers, one of them in a wet wick, and back.

Temperatures in °C, pressures in kPa, relative humidity in %. The wick must not freeze: 0 to 50 °C.
"""

from collections.abc import Mapping

from walkabout.growing.air import COLDEST, svp, vapour_pressure
from walkabout.growing.limits import OutOfRange, within
from walkabout.growing.pressure import SEA_LEVEL

MOVING: Mapping[str, float] = {"fan": 0.000662, "natural": 0.000800, "still": 0.001200}
"""How the air moves over the wick -> the psychrometer's coefficient, 1/°C. FAO Irrigation and Drainage
Paper 56, beside equation 16: a fan that blows about 5 m/s; the other two from memory."""

_LOWEST_PRESSURE, _HIGHEST_PRESSURE = 50.0, 110.0
_HALVINGS = 50


def vapour_pressure_from_wet(
    dry: float, wet: float, pressure: float = SEA_LEVEL, coefficient: float = MOVING["fan"]
) -> float:
    """Return the vapour pressure, kPa, from the dry bulb `dry` °C and the wet bulb `wet` °C.

    e = e°(T wet) - a P (T dry - T wet); FAO 56 equations 15 and 16. `pressure` of the air 50 to 110 kPa,
    `coefficient` a 0.0005 to 0.002 1/°C. Raises OutOfRange, also where no air can give such a pair.
    """
    within("the air pressure", pressure, _LOWEST_PRESSURE, _HIGHEST_PRESSURE, "kPa")
    within("the coefficient of the psychrometer", coefficient, 0.0005, 0.002, "1/°C")
    if wet > dry:
        raise OutOfRange(f"the wet bulb, {wet:g} °C, is warmer than the dry one, {dry:g} °C: it can only be as warm")
    svp(dry)
    found = svp(wet) - coefficient * pressure * (dry - wet)
    if found < 0:
        raise OutOfRange(
            f"a wet bulb of {wet:g} °C beside a dry one of {dry:g} °C is drier than the driest air: "
            "read both again, and see that the wick is wet"
        )
    return found


def wet_bulb(air: float, rh: float, pressure: float = SEA_LEVEL, coefficient: float = MOVING["fan"]) -> float:
    """Return what a wet bulb shows, °C, in air at `air` °C and `rh` %.

    FAO 56 equation 15 solved for the wet bulb by halving, to better than 0.0001 °C; with a fan within
    0.1 °C of ASHRAE's thermodynamic wet bulb at sea level. `pressure` 50 to 110 kPa. Raises OutOfRange,
    also where the wick would freeze.
    """
    within("the air pressure", pressure, _LOWEST_PRESSURE, _HIGHEST_PRESSURE, "kPa")
    within("the coefficient of the psychrometer", coefficient, 0.0005, 0.002, "1/°C")
    inside = vapour_pressure(air, rh)

    def too_warm(guess: float) -> bool:
        return svp(guess) - coefficient * pressure * (air - guess) > inside

    if too_warm(COLDEST):
        raise OutOfRange(f"in air of {air:g} °C and {rh:g} % the wick would freeze: that is below 0 °C")
    low, high = COLDEST, air
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if too_warm(middle) else (middle, high)
    return high
