"""The carbonate in water: what holds its pH, and how much strong acid or base moves it.

pH is taken as -log10 of the activity of hydrogen ions, as a meter shows it. Temperatures in °C,
alkalinity in meq/L, carbon in mmol/L. "Closed" means that no carbon dioxide leaves or enters while the
acid is stirred in; afterwards it leaves slowly, and the pH climbs again.

Here every ion counts fully, which is the form for the board; `titration.py` reckons with the salts too.
"""

from math import log10
from typing import Final

from msgspec import Struct

from walkabout.growing.limits import within

COLDEST, HOTTEST = 0.0, 50.0
"""The temperatures for which the constants are used, °C."""
LOWEST, HIGHEST = 4.0, 10.0
"""The pH for which these functions are used."""
MOST_ALKALINITY = 20.0
"""meq/L, 1000 mg/L CaCO3."""
PHOSPHATE_PK: Final = (2.15, 7.2, 12.35)
"""pK of phosphoric acid, 25 °C, the second rounded; CRC Handbook of Chemistry and Physics, from memory."""
CITRIC_PK: Final = (3.13, 4.76, 6.40)
"""pK of citric acid, 25 °C; Bates and Pinching 1949, J. Am. Chem. Soc. 71:1274-1283, figures from memory."""


class Shares(Struct, frozen=True):
    """How the dissolved carbon is divided; the three make 1."""

    dioxide: float
    """CO2, with what little of it is H2CO3."""
    bicarbonate: float
    """HCO3-"""
    carbonate: float
    """CO3-2"""


def pk1(temperature: float) -> float:
    """Return pK1 of carbonic acid, CO2 + H2O = H+ + HCO3-, at `temperature` °C, 0 to 50.

    356.3094 + 0.06091964 T - 21834.37 ÷ T - 126.8339 log T + 1684915 ÷ T², T in K; Plummer and Busenberg
    1982, Geochim. Cosmochim. Acta 46:1011-1040. Raises OutOfRange.
    """
    kelvin = _kelvin(temperature)
    return 356.3094 + 0.06091964 * kelvin - 21834.37 / kelvin - 126.8339 * log10(kelvin) + 1684915 / kelvin**2


def pk2(temperature: float) -> float:
    """Return pK2 of carbonic acid, HCO3- = H+ + CO3-2, at `temperature` °C, 0 to 50.

    107.8871 + 0.03252849 T - 5151.79 ÷ T - 38.92561 log T + 563713.9 ÷ T², T in K; Plummer and Busenberg
    1982. Raises OutOfRange.
    """
    kelvin = _kelvin(temperature)
    return 107.8871 + 0.03252849 * kelvin - 5151.79 / kelvin - 38.92561 * log10(kelvin) + 563713.9 / kelvin**2


def pkw(temperature: float) -> float:
    """Return pKw of water, H2O = H+ + OH-, at `temperature` °C, 0 to 50.

    -(293.29227 + 0.1360833 T - 10576.913 ÷ T - 123.73158 log T - 6.996455e-5 T²), T in K; the expression
    of the file phreeqc.dat of PHREEQC (US Geological Survey). Raises OutOfRange.
    """
    kelvin = _kelvin(temperature)
    return -(293.29227 + 0.1360833 * kelvin - 10576.913 / kelvin - 123.73158 * log10(kelvin) - 6.996455e-5 * kelvin**2)


def shares(ph: float, temperature: float) -> Shares:
    """Return how the dissolved carbon is divided at `ph`, 4 to 10, and `temperature` °C, 0 to 50.

    With h = 10^-pH: HCO3- is h K1 ÷ (h² + h K1 + K1 K2), the others likewise. Raises OutOfRange.
    """
    _ph("the pH", ph)
    h, k1, k2 = 10**-ph, 10 ** -pk1(temperature), 10 ** -pk2(temperature)
    whole = h * h + h * k1 + k1 * k2
    return Shares(h * h / whole, h * k1 / whole, k1 * k2 / whole)


def water_itself(ph: float, temperature: float) -> float:
    """Return [OH-] - [H+], meq/L, which counts as alkalinity too; `ph` 4 to 10. Raises OutOfRange."""
    _ph("the pH", ph)
    return 1000 * (10 ** (ph - pkw(temperature)) - 10**-ph)


def carbon(alkalinity: float, ph: float, temperature: float) -> float:
    """Return all the dissolved carbon, mmol/L, of water with so much alkalinity, meq/L, at `ph`.

    C = (Alk - [OH-] + [H+]) ÷ (α1 + 2 α2), never below 0: at pH 7 or more, water without alkalinity has
    none. Alkalinity 0 to 20, pH 4 to 10, 0 to 50 °C. Raises OutOfRange.
    """
    within("the alkalinity", alkalinity, 0, MOST_ALKALINITY, "meq/L")
    one = shares(ph, temperature)
    return max(0.0, (alkalinity - water_itself(ph, temperature)) / (one.bicarbonate + 2 * one.carbonate))


def alkalinity(carbon: float, ph: float, temperature: float) -> float:
    """Return the alkalinity, meq/L, of water with so much dissolved carbon, mmol/L, at `ph`.

    Alk = C (α1 + 2 α2) + [OH-] - [H+]. Raises OutOfRange.
    """
    one = shares(ph, temperature)
    return carbon * (one.bicarbonate + 2 * one.carbonate) + water_itself(ph, temperature)


def strong_acid(alk: float, ph: float, to: float, temperature: float) -> float:
    """Return the strong acid, meq/L, that brings closed water from `ph` to `to`; negative: a strong base.

    Alk - Alk at the target, with the carbon unchanged. `alk` in meq/L, 0 to 20; both pH 4 to 10; 0 to 50 °C.
    No allowance for the salts in the water: from pH 7.5 downwards up to 8 % from what PHREEQC gives in hard
    water, between 8.5 and 8 up to half.
    Raises OutOfRange.
    """
    closed = carbon(alk, ph, temperature)
    return alkalinity(closed, ph, temperature) - alkalinity(closed, to, temperature)


def mean_charge(ph: float, pks: tuple[float, ...]) -> float:
    """Return how many hydrogen ions one molecule of a weak acid has given off at `ph`: its equivalents per mol.

    The mean over all its forms, from its pK values (25 °C). Phosphoric acid 1.04 at pH 5.8; citric 2.1.
    Raises OutOfRange for a pH outside 0 to 14.
    """
    within("the pH", ph, 0, 14)
    form, whole, given = 1.0, 1.0, 0.0
    for count, pk in enumerate(pks, start=1):
        form *= 10 ** (ph - pk)
        whole += form
        given += count * form
    return given / whole


def dihydrogen_share(ph: float) -> float:
    """Return the share of the phosphate that is H2PO4-, 0 to 1, at `ph`, 4 to 10.

    1 ÷ (1 + 10^(pH - 7.2)). Raises OutOfRange.
    """
    _ph("the pH", ph)
    return float(1 / (1 + 10 ** (ph - PHOSPHATE_PK[1])))


def hydrogen_factor(before: float, after: float) -> float:
    """Return by what factor the hydrogen ions change from one pH to another: 10^(before - after).

    Both 0 to 14. Raises OutOfRange.
    """
    within("the first pH", before, 0, 14)
    within("the second pH", after, 0, 14)
    return float(10 ** (before - after))


def mean_ph(readings: tuple[float, ...]) -> float:
    """Return -log10 of the mean of the hydrogen ions of several pH readings, each 0 to 14.

    What equal parts without any buffer would give when mixed. Raises OutOfRange, ValueError when empty.
    """
    if not readings:
        raise ValueError("a mean needs at least one reading")
    for reading in readings:
        within("the pH", reading, 0, 14)
    return -log10(sum(10**-reading for reading in readings) / len(readings))


def _kelvin(temperature: float) -> float:
    within("the temperature", temperature, COLDEST, HOTTEST, "°C")
    return temperature + 273.15


def _ph(what: str, value: float) -> None:
    within(what, value, LOWEST, HIGHEST)
