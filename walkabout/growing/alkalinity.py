"""Alkalinity and hardness, in the units that water reports use.

Alkalinity is what acid has to work against; hardness is calcium and magnesium. Both are written as the
calcium carbonate that would give as much, which is why they share their units and are often mixed up.
Everything here goes through mg/L of CaCO3.
"""

from collections.abc import Mapping

from walkabout.growing.limits import within

CACO3_PER_MEQ = 50.04
"""mg of CaCO3 for one milliequivalent: half its molar mass, 100.09 g/mol (IUPAC atomic weights)."""
HCO3_PER_MEQ = 61.017
"""mg of hydrogen carbonate for one milliequivalent (IUPAC atomic weights)."""

SHARED: Mapping[str, float] = {
    "mg/L CaCO3": 1.0,
    "meq/L": CACO3_PER_MEQ,
    "mg/L HCO3": CACO3_PER_MEQ / HCO3_PER_MEQ,
    "°dH": 17.848,
    "°fH": 10.0,
    "°e": 14.254,
    "grain/US gal": 17.118,
}
"""Unit -> mg/L of CaCO3. German degree: 10 mg CaO in a litre; French: 10 mg CaCO3 in a litre; English: a grain
in an imperial gallon; the figures of the degrees and grains from memory."""

ALKALINITY: Mapping[str, float] = {**SHARED, "mmol/L": CACO3_PER_MEQ}
"""For alkalinity mmol/L means acid taken up to pH 4.3, as laboratories report it: the same as meq/L."""
HARDNESS: Mapping[str, float] = {**{one: size for one, size in SHARED.items() if "HCO3" not in one}, "mmol/L": 100.09}
"""For hardness mmol/L means calcium and magnesium together: 100.09 mg of CaCO3 each."""

MOST = 5000.0
"""More than this, in mg/L of CaCO3, no water for plants has (assumed)."""
IDEAL = (40.0, 65.0)
"""Alkalinity that suits most crops, mg/L CaCO3: Dole, Water quality and treatments (trade press), 0.8 to 1.3 meq/L."""
HOLDS_NO_PH = 30.0
"""Below this, mg/L CaCO3, water hardly holds its pH (extension page, seen)."""

CA_TO_CACO3 = 100.09 / 40.078
MG_TO_CACO3 = 100.09 / 24.305
"""mg of CaCO3 for each mg of calcium and of magnesium (IUPAC atomic weights)."""
CLASSES: tuple[tuple[float, str], ...] = ((60, "soft"), (120, "moderately hard"), (180, "hard"))
"""Up to so many mg/L CaCO3 -> what the water is called; above it is 'very hard'. US Geological Survey, from memory."""


def as_caco3(amount: float, unit: str, units: Mapping[str, float] = ALKALINITY) -> float:
    """Return `amount` of `unit`, one of `units`, in mg/L of CaCO3. Raises OutOfRange, and KeyError for other units."""
    value = amount * units[unit]
    within("the amount", value, 0, MOST, "mg/L CaCO3")
    return value


def in_units(caco3: float, units: Mapping[str, float] = ALKALINITY) -> dict[str, float]:
    """Return `caco3` mg/L in each of `units`, 0 to 5000. Raises OutOfRange."""
    within("the amount", caco3, 0, MOST, "mg/L CaCO3")
    return {unit: caco3 / size for unit, size in units.items()}


def alkalinity_verdict(caco3: float) -> str:
    """Say where an alkalinity in mg/L CaCO3 stands against 40 to 65, ends inside: 'low', 'in range' or 'high'."""
    low, high = IDEAL
    # 1 meq/L and its like are rounded by whoever wrote them down; a thousandth is nothing.
    return "low" if caco3 < low - 1e-3 else "high" if caco3 > high + 1e-3 else "in range"


def hardness(calcium: float, magnesium: float) -> float:
    """Return the hardness, mg/L CaCO3, of water with so many mg/L of calcium and magnesium, 0 to 1000 each.

    H = 2.497 Ca + 4.118 Mg (ratio of the molar masses). Raises OutOfRange.
    """
    within("the calcium", calcium, 0, 1000, "mg/L")
    within("the magnesium", magnesium, 0, 1000, "mg/L")
    return CA_TO_CACO3 * calcium + MG_TO_CACO3 * magnesium


def hardness_class(caco3: float) -> str:
    """Return what water of this hardness, mg/L CaCO3, is called: 'soft' to 'very hard'. Raises OutOfRange."""
    within("the hardness", caco3, 0, MOST, "mg/L CaCO3")
    return next((name for most, name in CLASSES if caco3 <= most), "very hard")
