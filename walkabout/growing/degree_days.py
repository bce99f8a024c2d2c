"""Heat that counts: degree days above the temperature at which a crop begins to develop.

Temperatures in °C, degree days in °C d (one °C d is 1.8 °F d). A day is known by its highest and its
lowest temperature. Where the lowest is below the base, the methods part: always say which one was used.
"""

from walkabout.growing.limits import OutOfRange, within

COLDEST, HOTTEST = -50.0, 60.0
"""The temperatures of a day that are taken, °C."""

CORN_BASE, CORN_UPPER = 10.0, 30.0
"""50 and 86 °F, the two limits of the '86/50' degree days of sweet corn."""

CUCUMBER_BASE, CUCUMBER_CEILING = 15.5, 32.0
"""Of the method that takes the day's highest temperature alone; Perry and Wehner 1996, HortTechnology 6(1):27."""


def mean_method(high: float, low: float, base: float, upper: float | None = None) -> float:
    """Return one day's degree days by method 1, °C d: a mean below the base is set to the base.

    (high + low) ÷ 2 - base, never below 0; McMaster and Wilhelm 1997, Agricultural and Forest Meteorology
    87:291-300. With `upper` the mean is held to it from above too (from memory of the same paper).
    All in °C, -50 to 60. Raises OutOfRange, and ValueError when the limits or the day stand upside down.
    """
    _check(high, low, base, upper)
    mean = (high + low) / 2
    if upper is not None:
        mean = min(mean, upper)
    return max(mean, base) - base


def raised_method(high: float, low: float, base: float, upper: float | None = None) -> float:
    """Return one day's degree days by method 2, °C d: each temperature is first raised to the base.

    With `upper` each is cut down to it as well: 10 and 30 °C make the '86/50' of sweet corn. Never less
    than method 1 without an upper limit. Units, errors and source as for `mean_method`; the 86/50 rule as
    Iowa State University teaches it (Agronomy 541, lesson 2b).
    """
    _check(high, low, base, upper)
    return (held(high, base, upper) + held(low, base, upper)) / 2 - base


def held(temperature: float, base: float, upper: float | None = None) -> float:
    """Return a temperature raised to the base, and cut down to the upper limit where there is one, °C."""
    raised = max(temperature, base)
    return raised if upper is None else min(raised, upper)


def four_case(high: float, low: float, base: float) -> float:
    """Return one day's degree days above the base, °C d, after where the base cuts the day.

    low ≥ base: (high + low) ÷ 2 - base; high ≤ base: 0; base cuts the day and the mean is on or above it:
    (high - base) ÷ 2 - (base - low) ÷ 4; the mean is below it: (high - base) ÷ 4. Always between methods 1
    and 2. Published by the Irish meteorological service. Units and errors as for `mean_method`.
    """
    _check(high, low, base, None)
    if high <= base:
        return 0.0
    mean = (high + low) / 2
    if low >= base:
        return mean - base
    return (high - base) / 2 - (base - low) / 4 if mean >= base else (high - base) / 4


def maximum_method(high: float, base: float = CUCUMBER_BASE, ceiling: float = CUCUMBER_CEILING) -> float:
    """Return one day's heat units of cucumber, °C d, from its highest temperature alone.

    highest - base; a highest above the ceiling is turned down to ceiling - (highest - ceiling).
    Perry and Wehner 1996, HortTechnology 6(1):27, with 15.5 and 32 °C; that it never falls below 0 is
    common practice. °C, -50 to 60. Raises OutOfRange, and ValueError for a ceiling at or below the base.
    """
    _check(high, high, base, ceiling)
    return max(turned_down(high, ceiling) - base, 0.0)


def turned_down(high: float, ceiling: float) -> float:
    """Return what a highest temperature counts under a ceiling, °C: as far below it as it was above."""
    return high if high <= ceiling else 2 * ceiling - high


def days_to_sum(need: float, air: float, base: float, upper: float | None = None) -> float:
    """Return the days until a heat sum is reached in steady air: need ÷ (air - base).

    `need` in °C d (0 or more), `air`, `base` and `upper` in °C; warmer than `upper` counts as `upper`. The sum
    and the base must come from the same source: a sum fitted with another base gives another day.
    Raises OutOfRange when the air is not warmer than the base.
    """
    within("the heat sum", need, 0, 1e6, "°C d")
    _check(air, air, base, upper)
    if air <= base:
        raise OutOfRange(f"the air ({air:g} °C) must be warmer than the base ({base:g} °C): below it nothing develops")
    return need / (held(air, base, upper) - base)


def _check(high: float, low: float, base: float, upper: float | None) -> None:
    within("the highest temperature", high, COLDEST, HOTTEST, "°C")
    within("the lowest temperature", low, COLDEST, HOTTEST, "°C")
    within("the base", base, COLDEST, HOTTEST, "°C")
    if low > high:
        raise ValueError(f"the lowest temperature ({low:g} °C) is above the highest ({high:g} °C): swap them")
    if upper is not None and upper <= base:
        raise ValueError(f"the upper limit ({upper:g} °C) must be above the base ({base:g} °C)")
