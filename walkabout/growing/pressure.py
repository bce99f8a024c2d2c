"""The pressure of the air at a height above the sea.

Two published formulas; they part by less than 0.4 % below 2000 m.
"""

from walkabout.growing.limits import within

SEA_LEVEL = 101.325
"""The standard atmosphere, kPa."""
LOWEST, HIGHEST = -430.0, 5000.0
"""The heights for which these functions hold, m."""


def at_altitude(altitude: float) -> float:
    """Return the mean air pressure, kPa, at `altitude` m in the International Standard Atmosphere.

    P = 101.325 (1 - 2.25577e-5 h)^5.25588 (ISO 2533:1975), here from -430 to 5000 m. Raises OutOfRange.
    """
    within("the altitude", altitude, LOWEST, HIGHEST, "m")
    return float(SEA_LEVEL * (1 - 2.25577e-5 * altitude) ** 5.25588)


def at_altitude_fao(altitude: float) -> float:
    """Return the mean air pressure, kPa, at `altitude` m as FAO 56 has it, for air of 20 °C.

    P = 101.3 [(293 - 0.0065 z) ÷ 293]^5.26; FAO Irrigation and Drainage Paper 56, equation 7, here from
    -430 to 5000 m. Raises OutOfRange.
    """
    within("the altitude", altitude, LOWEST, HIGHEST, "m")
    return float(101.3 * ((293 - 0.0065 * altitude) / 293) ** 5.26)
