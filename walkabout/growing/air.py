"""Water in the air: how much it can hold, how dry it is, where it condenses.

Temperatures in °C, pressures in kPa, relative humidity in %. Everything over liquid water, 0 to 50 °C,
where the formula followed here (FAO Irrigation and Drainage Paper 56, Allen, Pereira, Raes and Smith
1998) and that of ASHRAE agree within 0.11 %.
"""

from collections.abc import Mapping
from math import exp, log

from walkabout.growing.limits import OutOfRange, above, within

COLDEST, HOTTEST = 0.0, 50.0
"""The air temperatures for which these functions hold, °C."""
COLDEST_DEW = -40.0
"""The lowest dew point that is given, °C; below 0 °C over water that has not frozen (from memory)."""

DAMP, DRY = 0.2, 1.0
"""Between these vapour pressure deficits, kPa, crops in general are hardly touched. Below come mould and
disorders, above it lack of water: Grange and Hand 1987, Journal of Horticultural Science 62(2):125-134."""
MOULDS = 0.43
"""Below this deficit, kPa, infection gets likely: Prenger and Ling 2001, Ohio State University AEX-804; from memory."""
STAGES: Mapping[str, tuple[float, float]] = {"rooting": (0.3, 0.6), "leafy": (0.5, 0.9), "fruiting": (0.7, 1.2)}
"""Vapour pressure deficit for a stage, kPa, lowest and highest. Common practice, no source found."""
SENSOR_ERROR = 3.0
"""How far an ordinary humidity sensor may be out, % relative humidity. Common practice."""

_STANDS_FOR_GRAMS = 18.01528 / 8.314462618 * 1000
"""g/mol of water over the gas constant, for kPa in and g/m³ out."""


def svp(air: float) -> float:
    """Return the saturation vapour pressure, kPa, at `air` °C.

    e° = 0.6108 × exp(17.27 T ÷ (T + 237.3)); FAO 56 equation 11, valid 0 to 50 °C.
    Raises OutOfRange outside.
    """
    within("the temperature", air, COLDEST, HOTTEST, "°C")
    return 0.6108 * exp(17.27 * air / (air + 237.3))


def slope(air: float) -> float:
    """Return how fast the saturation vapour pressure rises at `air` °C (0 to 50), kPa/°C.

    Δ = 4098 e° ÷ (T + 237.3)²; FAO 56 equation 13. Raises OutOfRange.
    """
    return 4098 * svp(air) / (air + 237.3) ** 2


def vapour_pressure(air: float, rh: float) -> float:
    """Return the vapour pressure, kPa, of air at `air` °C and `rh` % (0 to 100).

    e = e°(T) × RH ÷ 100; FAO 56 equation 10 turned round. Raises OutOfRange.
    """
    within("the relative humidity", rh, 0, 100, "%")
    return svp(air) * rh / 100


def vpd(air: float, rh: float, leaf: float | None = None) -> float:
    """Return the vapour pressure deficit, kPa, between a leaf (as warm as the air unless given) and the air.

    VPD = e°(T leaf) - e°(T air) × RH ÷ 100. Negative means that water condenses on the leaf.
    `air` and `leaf` in °C, `rh` in %. Raises OutOfRange.
    """
    return svp(air if leaf is None else leaf) - vapour_pressure(air, rh)


def vpd_error(air: float) -> float:
    """Return by how much, kPa, the deficit is out when the humidity sensor is out by SENSOR_ERROR.

    e°(T) × 3 ÷ 100, `air` in °C. Raises OutOfRange.
    """
    return svp(air) * SENSOR_ERROR / 100


def verdict(deficit: float, low: float = DAMP, high: float = DRY) -> str:
    """Say how a vapour pressure deficit stands to a band, all kPa: 'wet', 'too damp', 'in the band', 'too dry'.

    Both ends are in the band; below zero, water condenses.
    """
    if deficit < 0:
        return "wet"
    return "too damp" if deficit < low else "in the band" if deficit <= high else "too dry"


def rh_from(pressure: float, full: float) -> float:
    """Return the relative humidity, %, of air with a vapour pressure `pressure` that could hold `full`, both kPa.

    RH = 100 e ÷ e°; FAO 56 equation 10. Raises OutOfRange where there is more vapour than the air can hold.
    """
    above("the saturation vapour pressure", full, 0, "kPa")
    within("the vapour pressure", pressure, 0, full, "kPa")
    return 100 * pressure / full


def rh_at_vpd(air: float, deficit: float, leaf: float | None = None) -> float:
    """Return the relative humidity, %, at which the deficit between leaf and air is `deficit` kPa (0 or more).

    RH = 100 (e°(T leaf) - VPD) ÷ e°(T air); `vpd` turned round. `air` and `leaf` in °C.
    Raises OutOfRange where no humidity from 0 to 100 % gives that deficit.
    """
    within("the vapour pressure deficit", deficit, 0, svp(HOTTEST), "kPa")
    full = svp(air if leaf is None else leaf)
    wanted = 100 * (full - deficit) / svp(air)
    if wanted < 0:
        raise OutOfRange(f"the driest air pulls with only {full:.2f} kPa here, not with {deficit:g} kPa")
    if wanted > 100:
        raise OutOfRange(f"even full air leaves a deficit of {full - svp(air):.2f} kPa here, more than {deficit:g} kPa")
    return wanted


def dew_point(pressure: float) -> float:
    """Return the dew point, °C, of air with a vapour pressure of `pressure` kPa.

    T = 237.3 x ÷ (17.27 - x) with x = ln(e ÷ 0.6108); FAO 56 equation 14 turned round, down to -40 °C
    (below 0 °C over water that has not frozen) and up to 50 °C. Raises OutOfRange.
    """
    if pressure == 0:
        raise OutOfRange("the vapour pressure is 0 kPa: air with no water in it has no dew point")
    above("the vapour pressure", pressure, 0, "kPa")
    x = log(pressure / 0.6108)
    found = 237.3 * x / (17.27 - x)
    if HOTTEST < found < HOTTEST + 1e-6:  # full air of 50 °C, after rounding
        return HOTTEST
    within("the dew point", found, COLDEST_DEW, HOTTEST, "°C")
    return found


def condenses(leaf: float, dew: float) -> bool:
    """Say whether water condenses on a leaf (`leaf` °C) in air with this dew point (`dew` °C): at it or below."""
    return leaf <= dew + 1e-9


def absolute_humidity(air: float, rh: float) -> float:
    """Return the water in a cubic metre of air at `air` °C and `rh` %, g/m³.

    e M ÷ (R T): 2166.7 × e ÷ (T + 273.15), e in kPa; the law of ideal gases with the CODATA 2018 gas
    constant, within 0.5 % of moist air as ASHRAE has it. Raises OutOfRange.
    """
    return _STANDS_FOR_GRAMS * vapour_pressure(air, rh) / (air + 273.15)


def mixing_ratio(air: float, rh: float, pressure: float) -> float:
    """Return the water to each kilogram of dry air, g/kg, at `air` °C, `rh` % and `pressure` kPa (50 to 110).

    622 e ÷ (P - e): the ratio of the molar masses of water and dry air, as in FAO 56 equation 8.
    Raises OutOfRange.
    """
    within("the air pressure", pressure, 50, 110, "kPa")
    inside = vapour_pressure(air, rh)
    return 622 * inside / (pressure - inside)
