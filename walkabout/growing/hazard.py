"""How dangerous a solution of acid or base is to skin and eyes, and who may handle it.

The classes are those of the CLP Regulation (EC) No 1272/2008, which goes by percent by mass. Schools in
other places have their own labels; the employer's risk assessment and local codes always come first.
"""

from collections.abc import Mapping
from typing import Final, Literal

from msgspec import Struct

from walkabout.growing.acid import Substance, percent, strength
from walkabout.growing.limits import within

Danger = Literal["no hazard label", "irritant", "corrosive"]
Handler = Literal["pupil", "adult"]

CLP = "CLP Regulation (EC) No 1272/2008, Annex VI"


class Limits(Struct, frozen=True):
    """From how many percent by mass on a solution belongs to a class."""

    irritant: float | None
    corrosive: float | None
    source: str
    irritant_mol: float | None = None
    corrosive_mol: float | None = None
    """mol/L as lists for schools round the same two limits; None where the list has none."""


LIMITS: Final[Mapping[Substance, Limits]] = {
    "nitric": Limits(1, 5, f"{CLP} for corrosive; its generic rule for irritant, from memory", 0.16, 0.81),
    "phosphoric": Limits(10, 25, CLP, 1.07, 2.9),
    "sulfuric": Limits(5, 15, CLP, 0.53, 1.7),
    "hydrochloric": Limits(10, 25, CLP, 2.9, 7.7),
    "citric": Limits(10, None, f"{CLP} (eyes) with the generic limit for mixtures, from memory"),
    "potassium hydroxide": Limits(0.5, 2, CLP, 0.09, 0.36),
    "sodium hydroxide": Limits(0.5, 2, CLP, 0.125, 0.5),
    "potassium bicarbonate": Limits(None, None, "not listed in CLP Annex VI, from memory"),
    "potassium carbonate": Limits(
        10, None, "suppliers' own CLP class with the generic limit for mixtures, from memory"
    ),
}
OXIDISER_FROM = 65.0
"""Nitric acid from so many percent feeds a fire (CLP Annex VI)."""
TOXIC_FROM = 26.0
"""Nitric acid above so many percent is classed as toxic to breathe (calculated from CLP's mixture rule; seen)."""
FUMES_FROM: Final[Mapping[Substance, float]] = {"nitric": 20, "hydrochloric": 10}
"""Percent from which a fume cupboard is asked for. Nitric: assumed, a margin below TOXIC_FROM. Hydrochloric:
where CLP Annex VI has it irritate the airways, from memory."""
HOT_FROM: Final[Mapping[Substance, float]] = {"sulfuric": 30, "potassium hydroxide": 20, "sodium hydroxide": 20}
"""Percent from which thinning it with water makes it dangerously hot (assumed)."""

PUPIL_CEILING: Final[Mapping[Substance, float]] = {
    "nitric": 0.1,
    "phosphoric": 0.5,
    "sulfuric": 0.5,
    "hydrochloric": 0.5,
    "potassium hydroxide": 0.1,
    "sodium hydroxide": 0.1,
    "potassium bicarbonate": 0.5,
    "potassium carbonate": 0.5,
}
"""mol/L up to which pupils may handle a solution, with eye protection. Common practice; assumed for
hydrochloric acid, sodium hydroxide and the two carbonates."""
PUPIL_CITRIC = 10.0
"""Likewise for citric acid, in percent (common practice)."""


def danger(substance: Substance, by_mass: float, mol_per_litre: float | None = None) -> Danger:
    """Return the class of a solution of so many percent by mass, 0 to 100; the limit itself is in the class.

    With its mol/L too, the graver of the two counts: the lists in mol/L are rounded, and 0.5 mol/L of sodium
    hydroxide, 1.96 %, stands there as corrosive. Raises OutOfRange.
    """
    within("the percentage", by_mass, 0, 100, "%")
    limits = LIMITS[substance]
    if _reaches(by_mass, limits.corrosive) or _reaches(mol_per_litre, limits.corrosive_mol):
        return "corrosive"
    if _reaches(by_mass, limits.irritant) or _reaches(mol_per_litre, limits.irritant_mol):
        return "irritant"
    return "no hazard label"


def _reaches(value: float | None, limit: float | None) -> bool:
    # A strength that was converted may miss a round limit in the ninth digit.
    return value is not None and limit is not None and value + 1e-6 >= limit


def danger_of(substance: Substance, mol_per_litre: float) -> Danger:
    """Return the class of a solution of so many mol/L, the graver by percent and by mol/L. Raises OutOfRange."""
    return danger(substance, percent(substance, mol_per_litre), mol_per_litre)


def oxidiser(substance: Substance, by_mass: float) -> bool:
    """Say whether a solution of so many percent feeds a fire."""
    return substance == "nitric" and by_mass >= OXIDISER_FROM


def fumes(substance: Substance, by_mass: float) -> bool:
    """Say whether a solution of so many percent is to be handled in a fume cupboard."""
    return by_mass >= FUMES_FROM.get(substance, 101)


def heats(substance: Substance, by_mass: float) -> bool:
    """Say whether a solution of so many percent gets dangerously hot in water."""
    return by_mass >= HOT_FROM.get(substance, 101)


def handled_by(substance: Substance, by_mass: float, mol_per_litre: float) -> Handler:
    """Return who may handle such a solution at least: a pupil with eye protection, or an adult.

    Handling in a lesson only: correcting a tank stays with an adult, whatever the strength.
    """
    if substance == "citric":
        return "pupil" if by_mass <= PUPIL_CITRIC + 1e-6 else "adult"
    return "pupil" if mol_per_litre <= PUPIL_CEILING[substance] + 1e-9 else "adult"


def limits_in_mol(substance: Substance) -> tuple[float | None, float | None]:
    """Return the two limits in mol/L: irritant from, corrosive from."""
    limits = LIMITS[substance]
    return (
        None if limits.irritant is None else strength(substance, limits.irritant),
        None if limits.corrosive is None else strength(substance, limits.corrosive),
    )
