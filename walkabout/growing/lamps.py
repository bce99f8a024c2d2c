"""What a lamp makes of electricity: photons, light on the crop, a bill.

Watts are those drawn from the mains, with the ballast or driver. Efficacy is the photons of 400 to 700 nm
that come out for each joule that goes in, µmol/J.
"""

from collections.abc import Mapping

from msgspec import Struct

from walkabout.growing.eye import photon_energy
from walkabout.growing.limits import OutOfRange, above, within

MOLES_PER_KWH = 3.6
"""mol of photons for each kWh and µmol/J: 3 600 000 J in a kWh, 1 000 000 µmol in a mol."""
REACHING = 0.8
"""The share of a lamp's photons that falls on the crop: 0.7 to 0.9 in a small lined room, common practice."""
MOST_EFFICACY = 6.0
"""µmol/J; more than the 5.85 of faultless light of 700 nm is a slip."""
TERM_DAYS = 91
"""A term of 13 weeks. Assumed."""

NELSON = "Nelson and Bugbee 2014, PLoS ONE 9(6):e99010, abstract"
KUSUMA = "Kusuma, Pattison and Bugbee 2020, Horticulture Research (s41438-020-0283-7)"


class Efficacy(Struct, frozen=True):
    """Photons for a joule, µmol/J, of a kind of lamp."""

    value: float
    says: str
    source: str


EFFICACIES: Mapping[str, Efficacy] = {
    "high-pressure-sodium": Efficacy(1.02, "single-ended sodium lamp in common use", NELSON),
    "double-ended": Efficacy(1.70, "best double-ended sodium lamp of 2014", NELSON),
    "ceramic-4200": Efficacy(1.46, "best ceramic metal halide lamp of 2014", NELSON),
    "ceramic-3100": Efficacy(1.46, "best ceramic metal halide lamp of 2014", NELSON),
    "cool-white": Efficacy(0.95, "best fluorescent lamp of 2014", NELSON),
    "white-led": Efficacy(1.70, "best LED lamp of 2014; newer ones give more", NELSON),
    "violet-led": Efficacy(1.70, "best LED lamp of 2014; newer ones give more", NELSON),
    "red-blue": Efficacy(1.70, "best LED lamp of 2014; newer ones give more", NELSON),
    "white-red-limit": Efficacy(3.4, "most that LEDs of 2020 allow, white and red", KUSUMA),
    "red-blue-limit": Efficacy(4.1, "most that LEDs of 2020 allow, blue and red", KUSUMA),
}
"""By kind of lamp. No figure was found for metal halide without ceramic, incandescent and low-pressure sodium."""


def kwh(watts: float, hours: float, days: float = 1.0) -> float:
    """Return the electricity, kWh, of `watts` W (0 to 1 000 000) for `hours` h a day (0 to 24) over `days`.

    W × h × days ÷ 1000, by definition. Raises OutOfRange.
    """
    within("the power", watts, 0, 1e6, "W")
    within("the hours of light", hours, 0, 24, "h")
    within("the days", days, 0, 36_525)
    return watts * hours * days / 1000


def output(watts: float, efficacy: float) -> float:
    """Return the photons that a lamp gives, µmol/s: efficacy × W, `efficacy` above 0 to 6 µmol/J.

    By definition of the photosynthetic photon efficacy. Raises OutOfRange.
    """
    within("the power", watts, 0, 1e6, "W")
    _efficacy(efficacy)
    return watts * efficacy


def mean_ppfd(photons: float, area: float, reaching: float = REACHING) -> float:
    """Return the mean PPFD, µmol/m²/s, of `photons` µmol/s over `area` m² (above 0).

    photons × reaching ÷ area, `reaching` the share that falls on it, 0 to 1. Raises OutOfRange.
    """
    if photons < 0:
        raise OutOfRange(f"the photons are {photons:g} µmol/s: they must be at least 0 µmol/s")
    above("the area", area, 0, "m²")
    within("the share that reaches the crop", reaching, 0, 1)
    return photons * reaching / area


def moles_per_kwh(efficacy: float) -> float:
    """Return the mol of photons that a kWh buys: 3.6 × `efficacy` µmol/J. Raises OutOfRange."""
    _efficacy(efficacy)
    return MOLES_PER_KWH * efficacy


def kwh_for_dli(dli: float, efficacy: float, reaching: float = REACHING) -> float:
    """Return the electricity for a day's light of `dli` mol/m²/d (0 or more), kWh for each m² and day.

    DLI ÷ (3.6 × efficacy × reaching). Raises OutOfRange.
    """
    within("the daily light", dli, 0, 100, "mol/m²/d")
    _efficacy(efficacy)
    _reaching(reaching)
    return dli / (MOLES_PER_KWH * efficacy * reaching)


def watts_per_m2(ppfd: float, efficacy: float, reaching: float = REACHING) -> float:
    """Return the power for `ppfd` µmol/m²/s, W for each m²: PPFD ÷ (efficacy × reaching). Raises OutOfRange."""
    within("the PPFD", ppfd, 0, 10_000, "µmol/m²/s")
    _efficacy(efficacy)
    _reaching(reaching)
    return ppfd / (efficacy * reaching)


def saving(efficacy: float, other: float) -> float:
    """Return what the other lamp saves of the electricity, %, for the same photons; negative where it takes more.

    100 × (1 - efficacy ÷ other), both µmol/J. Raises OutOfRange.
    """
    _efficacy(efficacy)
    _efficacy(other)
    return 100 * (1 - efficacy / other)


def after_loss(efficacy: float, loss: float) -> float:
    """Return the efficacy, µmol/J, after a `loss` of 0 to 100 %, such as that of a cover against water.

    Such a cover takes about 10 % (Kusuma, Pattison and Bugbee 2020). Raises OutOfRange.
    """
    _efficacy(efficacy)
    within("the loss", loss, 0, 100, "%")
    return efficacy * (1 - loss / 100)


def photon_limit(wavelength: float, efficiency: float = 100.0) -> float:
    """Return the most photons that a joule can make of one colour, µmol/J.

    λ ÷ 119.627 (Planck and Einstein: each photon costs h c ÷ λ), `wavelength` in nm; `efficiency` 0 to 100 % is the
    share of the electricity that becomes light. Raises OutOfRange.
    """
    within("the share that becomes light", efficiency, 0, 100, "%")
    return efficiency / 100 / photon_energy(wavelength)


def _efficacy(value: float) -> None:
    above("the efficacy", value, 0, "µmol/J")
    within("the efficacy", value, 0, MOST_EFFICACY, "µmol/J")


def _reaching(value: float) -> None:
    above("the share that reaches the crop", value, 0)
    within("the share that reaches the crop", value, 0, 1)
