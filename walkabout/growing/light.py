"""Light on the leaves: from lux to photons, and from photons to the light of a day.

PPFD is the light of 400 to 700 nm that falls on a place, in µmol/m²/s; DLI is what has come together in a
day, in mol/m²/d.
"""

from collections.abc import Sequence
from math import fsum

from walkabout.growing.limits import OutOfRange, above, within

MOLES_PER_HOUR = 0.0036
"""mol/m² that 1 µmol/m²/s brings in an hour: 3600 s ÷ 1 000 000."""
DAY = 24.0
"""Hours."""
MOST_LUX, MOST_PPFD, MOST_DLI = 1e6, 10_000.0, 100.0
"""More than these are slips of the pen. Full sun is about 108 000 lx and 2000 µmol/m²/s (the table of a maker of
quantum sensors), a long clear summer day 60 mol/m²/d; lamps close up reach a few times as much. Assumed."""


def ppfd_from_lux(lux: float, factor: float) -> float:
    """Return the PPFD, µmol/m²/s, of light with an illuminance of `lux` lx (0 to 1 000 000).

    E ÷ k, with `factor` k lx for each µmol/m²/s (`light_kinds`); Thimijan and Heins 1983. Raises OutOfRange.
    """
    within("the illuminance", lux, 0, MOST_LUX, "lx")
    above("the factor", factor, 0, "lx for each µmol/m²/s")
    return lux / factor


def lux_from_ppfd(ppfd: float, factor: float) -> float:
    """Return the illuminance, lx, of light of `ppfd` µmol/m²/s: PPFD × k, `ppfd_from_lux` turned round.

    Raises OutOfRange.
    """
    _ppfd(ppfd)
    above("the factor", factor, 0, "lx for each µmol/m²/s")
    return ppfd * factor


def dli(ppfd: float, hours: float) -> float:
    """Return the light of a day, mol/m²/d, of a steady `ppfd` µmol/m²/s for `hours` h (0 to 24).

    0.0036 × PPFD × hours, by definition. Raises OutOfRange.
    """
    _ppfd(ppfd)
    within("the hours of light", hours, 0, DAY, "h")
    return MOLES_PER_HOUR * ppfd * hours


def ppfd_for(wanted: float, hours: float) -> float:
    """Return the PPFD, µmol/m²/s, that brings `wanted` mol/m²/d (0 to 100) in `hours` h (above 0, to 24).

    DLI ÷ (0.0036 × hours). Raises OutOfRange.
    """
    _dli(wanted)
    above("the hours of light", hours, 0, "h")
    within("the hours of light", hours, 0, DAY, "h")
    return wanted / (MOLES_PER_HOUR * hours)


def hours_for(wanted: float, ppfd: float) -> float:
    """Return the hours that `ppfd` µmol/m²/s (above 0) takes to bring `wanted` mol/m² (0 to 100).

    DLI ÷ (0.0036 × PPFD). More than 24 means that a day is too short. Raises OutOfRange.
    """
    _dli(wanted)
    _ppfd(ppfd)
    above("the PPFD", ppfd, 0, "µmol/m²/s")
    return wanted / (MOLES_PER_HOUR * ppfd)


def dli_of_readings(readings: Sequence[float], every: float) -> float:
    """Return the light of a day, mol/m²/d, from PPFD `readings`, µmol/m²/s, one each `every` h (above 0).

    Each reading stands for its own stretch of time: 0.0036 × sum × every. Together they last at most a day.
    Raises OutOfRange.
    """
    above("the time between readings", every, 0, "h")
    within("the time that the readings stand for", len(readings) * every, every, DAY + 1e-9, "h")
    for one in readings:
        _ppfd(one)
    return MOLES_PER_HOUR * fsum(readings) * every


def mean(days: Sequence[float]) -> float:
    """Return the mean light of several days, all mol/m²/d (0 to 100), at least one. Raises OutOfRange."""
    if not days:
        raise OutOfRange("a mean needs at least one day")
    for one in days:
        _dli(one)
    return fsum(days) / len(days)


def tomorrow(days: Sequence[float], wanted: float) -> float:
    """Return the light that the next day needs for the mean of all to be `wanted`, all mol/m²/d.

    wanted × (n + 1) - sum; zero where enough has come already. Raises OutOfRange.
    """
    mean(days)
    _dli(wanted)
    return max(wanted * (len(days) + 1) - fsum(days), 0.0)


def missing(wanted: float, daylight: float) -> float:
    """Return what lamps must add to `daylight` to reach `wanted`, all mol/m²/d; zero where it is enough.

    Raises OutOfRange.
    """
    _dli(wanted)
    _dli(daylight)
    return max(wanted - daylight, 0.0)


def _ppfd(value: float) -> None:
    within("the PPFD", value, 0, MOST_PPFD, "µmol/m²/s")


def _dli(value: float) -> None:
    within("the daily light", value, 0, MOST_DLI, "mol/m²/d")
