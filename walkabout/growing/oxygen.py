"""Oxygen in water: how much it can hold, and what is little for roots.

Water holds less oxygen when it is warmer and when the air above it is thinner. Oxygen in mg/L,
temperatures in °C, pressures in kPa. Fresh water: a nutrient solution of 2 mS/cm holds about 0.6 % less
(from the same formula at 1 g of salt in a kg), which no meter of a school shows.
"""

from math import exp
from typing import Literal, get_args

from msgspec import Struct

from walkabout.growing.limits import within
from walkabout.growing.pressure import SEA_LEVEL

COLDEST, HOTTEST = 0.0, 40.0
"""The water temperatures for which the formula holds, °C."""
THINNEST, DENSEST = 50.0, 110.0
"""The air pressures taken here, kPa: from above 5000 m high to below the sea's level."""
MOST = 60.0
"""A reading above this is none: pure oxygen above cold water gives about 70 mg/L."""

Word = Literal["enough", "watch", "low", "very low", "not known"]
Whose = Literal["common practice", "Cornell", "Goto"]
WHOSE: tuple[Whose, ...] = get_args(Whose)


class Steps(Struct, frozen=True, kw_only=True):
    """What one source holds to be enough. All in mg/L; None where it says nothing."""

    enough: float
    low: float | None
    """Below this it is low."""
    very_low: float | None
    """Below this it is very low."""
    source: str


STEPS: dict[Whose, Steps] = {
    "common practice": Steps(enough=6, low=5, very_low=4, source="common practice: 6 or more, act below 5"),
    "Cornell": Steps(
        enough=7,
        low=4,
        very_low=3,
        source="Brechner and Both, Cornell lettuce handbook, from memory: set at 7, crop fails below 3",
    ),
    "Goto": Steps(
        enough=2.1,
        low=None,
        very_low=None,
        source="Goto and others 1996, Acta Horticulturae 440:205-210: lettuce no worse at 2.1 than at 16.8, at 24 °C",
    ),
}
"""Whose word -> the steps. They disagree, so a verdict always says whose it is."""


def saturation(temperature: float, pressure: float = SEA_LEVEL) -> float:
    """Return the oxygen that fresh water at `temperature` °C holds in balance with air of `pressure` kPa, mg/L.

    At one atmosphere ln C = -139.34411 + 1.575701e5/T - 6.642308e7/T² + 1.243800e10/T³ - 8.621949e11/T⁴,
    T in K; at P atmospheres C × P (1 - u/P)(1 - θP) ÷ ((1 - u)(1 - θ)), with ln u = 11.8571 - 3840.70/T -
    216961/T² and θ = 0.000975 - 1.426e-5 t + 6.436e-8 t², t in °C. Benson and Krause 1980 and 1984 (Limnology
    and Oceanography 29:620-632), valid 0 to 40 °C; here for 50 to 110 kPa. Raises OutOfRange.
    """
    within("the air pressure", pressure, THINNEST, DENSEST, "kPa")
    full, atm = at_one_atmosphere(temperature), pressure / SEA_LEVEL
    kelvin = temperature + 273.15
    vapour = exp(11.8571 - 3840.70 / kelvin - 216961 / kelvin**2)
    theta = 0.000975 - 1.426e-5 * temperature + 6.436e-8 * temperature**2
    return full * atm * (1 - vapour / atm) * (1 - theta * atm) / ((1 - vapour) * (1 - theta))


def at_one_atmosphere(temperature: float) -> float:
    """Return the saturation at `temperature` °C, 0 to 40, and 101.325 kPa, mg/L. Raises OutOfRange."""
    within("the water temperature", temperature, COLDEST, HOTTEST, "°C")
    kelvin = temperature + 273.15
    return exp(
        -139.34411 + 1.575701e5 / kelvin - 6.642308e7 / kelvin**2 + 1.243800e10 / kelvin**3 - 8.621949e11 / kelvin**4
    )


def percent(reading: float, temperature: float, pressure: float = SEA_LEVEL) -> float:
    """Return a `reading` of mg/L as % of what the water could hold. Raises OutOfRange as `saturation` does."""
    within("the oxygen", reading, 0, MOST, "mg/L")
    return 100 * reading / saturation(temperature, pressure)


def verdict(reading: float, whose: Whose = "common practice") -> Word:
    """Say what a `reading` of mg/L means for roots, by the source asked for. Ends count as the better word.

    'not known' is said below what the source tried. Raises OutOfRange for a reading below 0.
    """
    within("the oxygen", reading, 0, MOST, "mg/L")
    steps = STEPS[whose]
    if reading >= steps.enough:
        return "enough"
    if steps.low is None or steps.very_low is None:
        return "not known"
    return "watch" if reading >= steps.low else "low" if reading >= steps.very_low else "very low"
