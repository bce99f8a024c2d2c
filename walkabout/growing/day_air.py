"""The air of a whole day, from its extremes or from readings through it.

Temperatures in °C, pressures in kPa, relative humidity in %, after FAO Irrigation and Drainage Paper 56
(Allen, Pereira, Raes and Smith 1998). The saturation curve bends: the mean of what it gives is not what
it gives for the mean, so means are taken last.
"""

from collections.abc import Sequence
from statistics import fmean

from walkabout.growing.air import svp, vpd
from walkabout.growing.limits import OutOfRange, within


def mean_svp(high: float, low: float) -> float:
    """Return the mean saturation vapour pressure, kPa, of a day with these extremes, °C (0 to 50).

    es = (e°(T max) + e°(T min)) ÷ 2; FAO 56 equation 12. Raises OutOfRange, also when high is below low.
    """
    _ordered(high, low)
    return (svp(high) + svp(low)) / 2


def from_both(high: float, low: float, rh_high: float, rh_low: float) -> float:
    """Return the vapour pressure, kPa, of a day from its extremes of temperature, °C, and humidity, %.

    ea = (e°(T min) RH max + e°(T max) RH min) ÷ 200; FAO 56 equation 17. Raises OutOfRange.
    """
    _ordered(high, low)
    within("the highest relative humidity", rh_high, 0, 100, "%")
    within("the lowest relative humidity", rh_low, 0, 100, "%")
    if rh_high < rh_low:
        raise OutOfRange(f"the highest relative humidity, {rh_high:g} %, is below the lowest, {rh_low:g} %")
    return (svp(low) * rh_high + svp(high) * rh_low) / 200


def from_highest(low: float, rh_high: float) -> float:
    """Return the vapour pressure, kPa, of a day from its lowest temperature, °C, and highest humidity, %.

    ea = e°(T min) RH max ÷ 100; FAO 56 equation 18, where the low end of the humidity is not to be
    trusted. Raises OutOfRange.
    """
    within("the highest relative humidity", rh_high, 0, 100, "%")
    return svp(low) * rh_high / 100


def from_mean(high: float, low: float, rh: float) -> float:
    """Return the vapour pressure, kPa, of a day from its extremes of temperature, °C, and mean humidity, %.

    ea = RH mean ÷ 100 × es; FAO 56 equation 19, the least sure of the three. Raises OutOfRange.
    """
    within("the mean relative humidity", rh, 0, 100, "%")
    return mean_svp(high, low) * rh / 100


def mean_vpd(air: Sequence[float], rh: Sequence[float], leaf: Sequence[float] | None = None) -> tuple[float, float]:
    """Return the mean of the deficits of many readings, and the deficit of their means, both kPa.

    The first is the right one. `air` and `leaf` in °C, `rh` in %, as many of each. Raises OutOfRange, and
    ValueError for lists of different lengths or for none.
    """
    if not air:
        raise ValueError("there is no reading")
    leaves = air if leaf is None else leaf
    each = [vpd(*one) for one in zip(air, rh, leaves, strict=True)]
    return fmean(each), vpd(fmean(air), fmean(rh), fmean(leaves))


def _ordered(high: float, low: float) -> None:
    if high < low:
        raise OutOfRange(f"the highest temperature, {high:g} °C, is below the lowest, {low:g} °C")
