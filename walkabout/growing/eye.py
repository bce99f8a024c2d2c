"""What an eye, and so a lux meter, makes of light of one colour, and what it costs in energy.

Wavelengths in nm. V(λ) is the curve of the light-adapted eye on which the lux is built: CIE 1924, now
ISO/CIE 23539, here in steps of 5 nm.
"""

from collections.abc import Sequence
from math import exp, fsum, log

from walkabout.growing.limits import OutOfRange, above, within

SHORTEST, LONGEST = 380.0, 780.0
"""Where V(λ) is tabled, nm."""
PAR = (400.0, 700.0)
"""Light that counts for photosynthesis, nm: photons inside make up the PPFD (McCree 1972; common practice)."""
LUMENS = 683.0
"""Lumens in a watt of green light of 555 nm: the definition of the candela."""
JOULE_NANOMETRES = 119.62656
"""h c N: the joules in a µmol of photons, times their wavelength in nm. From the SI's defining constants."""
_STEP = 5

_V = (
    3.9e-05, 6.4e-05, 1.2e-04, 2.17e-04, 3.96e-04, 6.4e-04, 1.21e-03, 2.18e-03, 4e-03, 7.3e-03, 0.0116, 0.01684,
    0.023, 0.0298, 0.038, 0.048, 0.06, 0.0739, 0.09098, 0.1126, 0.13902, 0.1693, 0.20802, 0.2586, 0.323, 0.4073, 0.503,
    0.6082, 0.71, 0.7932, 0.862, 0.91485, 0.954, 0.9803, 0.99495, 1.0, 0.995, 0.9786, 0.952, 0.9154, 0.87, 0.8163,
    0.757, 0.6949, 0.631, 0.5668, 0.503, 0.4412, 0.381, 0.321, 0.265, 0.217, 0.175, 0.1382, 0.107, 0.0816, 0.061,
    0.04458, 0.032, 0.0232, 0.017, 0.01192, 0.00821, 0.005723, 0.004102, 0.002929, 0.002091, 0.001484, 0.001047,
    7.4e-04, 5.2e-04, 3.611e-04, 2.492e-04, 1.719e-04, 1.2e-04, 8.48e-05, 6e-05, 4.24e-05, 3e-05, 2.12e-05, 1.499e-05,
)  # fmt: skip


def sensitivity(wavelength: float) -> float:
    """Return V(λ), 0 to 1, at `wavelength` nm (380 to 780); between the table's steps its logarithm is a line.

    Raises OutOfRange.
    """
    within("the wavelength", wavelength, SHORTEST, LONGEST, "nm")
    at, past = divmod(wavelength - SHORTEST, _STEP)
    below = int(at)
    if past == 0:
        return _V[below]
    return exp(log(_V[below]) + (log(_V[below + 1]) - log(_V[below])) * past / _STEP)


def photon_energy(wavelength: float) -> float:
    """Return the energy of a µmol of photons, J, at `wavelength` nm (more than 0). h c N ÷ λ. Raises OutOfRange."""
    above("the wavelength", wavelength, 0, "nm")
    return JOULE_NANOMETRES / wavelength


def lux_per_micromole(wavelength: float) -> float:
    """Return the lux of 1 µmol/m²/s of light of one colour, `wavelength` nm (380 to 780).

    683 × V(λ) × 119.627 ÷ λ. Raises OutOfRange.
    """
    return LUMENS * sensitivity(wavelength) * photon_energy(wavelength)


def lux_of_mix(wavelengths: Sequence[float], shares: Sequence[float]) -> float:
    """Return the lux of 1 µmol/m²/s of several colours together.

    `wavelengths` in nm, 400 to 700, for only those count in a PPFD; `shares` of the photons, in any measure,
    none below zero, one for each. Raises OutOfRange.
    """
    if not wavelengths or len(wavelengths) != len(shares):
        raise OutOfRange(f"{len(wavelengths)} wavelengths and {len(shares)} shares: there must be one share for each")
    for one in wavelengths:
        within("the wavelength", one, *PAR, "nm")
    for share in shares:
        within("the share of a colour", share, 0, float("1e9"))
    whole = fsum(shares)
    above("the sum of the shares", whole, 0)
    return fsum(lux_per_micromole(one) * share / whole for one, share in zip(wavelengths, shares, strict=True))
