"""What every reckoning of acids and bases shares: the fields for a bottle, and the cautions."""

from collections.abc import Collection, Mapping

from msgspec import Struct

from walkabout.growing import acid as of
from walkabout.growing import hazard
from walkabout.growing.acid import Substance
from walkabout.growing.elements import NAMES, molar_mass
from walkabout.reckon.model import Field, Result
from walkabout.reckon.write import number, plainly

ACIDS: tuple[Substance, ...] = ("nitric", "phosphoric", "sulfuric", "citric")
BASES: tuple[Substance, ...] = ("potassium hydroxide", "potassium bicarbonate", "potassium carbonate")

EVERY: tuple[Substance, ...] = tuple(of.FORMULAS)

HANDBOOK = "densities from handbook tables (CRC, Perry), from memory"

ACID = Field(
    key="acid",
    says="which acid",
    kind="text",
    words=ACIDS,
    starts="acid",
    others=("kind", "which", "substance"),
)
STRENGTH = Field(
    key="strength",
    says="strength",
    unit="mol/L",
    low=0.0001,
    high=40,
    needed=False,
    starts="acid strength",
    others=("molarity", "concentration", "c", "mol"),
    note="or with % or N behind it",
)
PERCENT = Field(
    key="percent",
    says="strength in percent by mass",
    unit="%",
    low=0.001,
    high=100,
    needed=False,
    others=("w", "mass_percent", "percentage"),
    note="as on the bottle, in the place of the strength",
)
DENSITY = Field(
    key="density",
    says="density on the bottle",
    unit="g/mL",
    low=0.9,
    high=2,
    needed=False,
    others=("d", "rho", "specific_gravity", "sg"),
    note="only with percent; from the table when it is not known",
)
NORMALITY = Field(
    key="normality",
    says="strength in equivalents",
    unit="N",
    low=0.0001,
    high=40,
    needed=False,
    others=("n", "eq", "eq_per_litre", "acid_n"),
    note="eq/L, in the place of the strength",
)
BOTTLE = (STRENGTH, PERCENT, DENSITY, NORMALITY)

INTO_WATER = (
    "An adult does this, in goggles and gloves and in a well-aired room: acid into water, never water into acid."
)
NO_BLEACH = (
    "Never near bleach: with acid it gives off poisonous chlorine. Rinse a splash at once and report it; the "
    "employer's risk assessment and local codes come first."
)
CORROSIVE = "This strength burns skin and eyes: a teacher or technician only, as local codes say; dilute it before use."
FUMES = "At this strength it gives off fumes that harm the lungs: a teacher or technician only, in a fume cupboard."
FEEDS_FIRE = "Strong nitric acid feeds fire: keep it away from wood, paper, cloth and anything else that burns."
HEATS = (
    "It gets very hot in water and can spit: a little at a time, stirring, in heatproof glass that stands in cold "
    "water; wait whenever it feels hot."
)
ALKALI = (
    "An adult does this, in goggles and gloves: alkali is worse for eyes than acid. Base into water, a little at a "
    "time: it gets hot."
)
RINSE = (
    "Never mix it with acid or bleach. Rinse a splash at once and report it; the employer's risk assessment and local "
    "codes come first."
)
UNNAMED = (
    "Which acid it is decides what else is needed: strong sulfuric acid gets very hot in water, strong nitric and "
    "hydrochloric acid give off fumes that ask for a fume cupboard. A teacher or technician finds out first."
)
UNNAMED_FROM = 2.9
"""mol/L or eq/L from which that is said of an acid without a name: where the first of them gives off fumes."""
SOLID: Mapping[Substance, str] = {
    "potassium hydroxide": "Solid potassium hydroxide burns skin and eyes: a teacher or technician only, who never "
    "touches it with bare hands and wears tight goggles and gloves.",
    "potassium carbonate": "Dry potassium carbonate irritates skin, eyes and lungs: raise no dust.",
    "citric": "Dry citric acid irritates the eyes: goggles on, raise no dust.",
}
"""What a dry one asks for before it is dissolved; common practice."""
IN_LESSON = (
    "Eye protection on, a teacher beside it, never with bleach; the employer's risk assessment and local codes come "
    "first."
)
ONE_LINE = "Adult only: goggles, gloves, fresh air; acid into water; never near bleach; local codes come first."
ONE_LINE_BASE = "Adult only: goggles and gloves; base into water, little by little; local codes come first."


class Bottle(Struct, frozen=True):
    """How strong what is poured is."""

    mol: float
    """mol/L"""
    by_mass: float | None
    """Percent by mass, where the density table reaches."""
    said: str
    """As one says it: '0.5 mol/L', '67 %'."""
    lines: tuple[str, ...]
    """How the mol/L were found."""
    asks: tuple[str, ...] = ()
    """Whether so weak a percentage was meant; to be said first."""

    def dangerous(self, substance: Substance) -> bool:
        """Say whether it is corrosive; true when its percentage is not known."""
        return self.by_mass is None or hazard.danger(substance, self.by_mass, self.mol) == "corrosive"

    def hot(self, substance: Substance) -> bool:
        """Say whether it gets dangerously hot in water."""
        return self.by_mass is not None and hazard.heats(substance, self.by_mass)

    def cautions(self, substance: Substance) -> tuple[str, ...]:
        """Return the cautions that its strength asks for."""
        by_mass = self.by_mass if self.by_mass is not None else 100.0
        lines = ((CORROSIVE, self.dangerous(substance)), (FUMES, hazard.fumes(substance, by_mass)),
                 (FEEDS_FIRE, hazard.oxidiser(substance, by_mass)), (HEATS, self.hot(substance)))  # fmt: skip
        return tuple(line for line, holds in lines if holds)


def bottle(
    substance: Substance | None,
    strength: float | None,
    percent: float | None,
    density: float | None,
    normality: float | None = None,
    eq_per_mol: float = 1,
) -> Bottle | None:
    """Return what the strength fields say together, None when none is given.

    `substance` may be None with strength or normality only. Raises ValueError for a contradiction, and for a
    solution stronger than there is.
    """
    given = [name for name, value in (("strength", strength), ("percent", percent), ("normality", normality)) if value]
    if len(given) > 1:
        raise ValueError(f"give the strength once, not both {given[0]} and {given[1]}")
    if density is not None and percent is None:
        raise ValueError("a density goes with percent: give the percentage on the bottle too")
    if percent is not None:
        assert substance is not None
        return _from_percent(substance, percent, density)
    if normality is not None:
        mol = normality / eq_per_mol
        line = f"{plainly(normality)} N ÷ {plainly(eq_per_mol)} eq/mol = {plainly(mol)} mol/L"
        return Bottle(mol, _by_mass(substance, mol), f"{plainly(normality)} N", (line,))
    if strength is not None:
        return Bottle(strength, _by_mass(substance, strength), f"{plainly(strength)} mol/L", ())
    return None


def _from_percent(substance: Substance, percent: float, density: float | None) -> Bottle:
    lines = []
    if density is None:
        density = of.density(substance, percent)
        lines.append(f"taken: density = {number(density, 3)} g/mL, from the table for 20 °C")
    mol, mass = of.strength(substance, percent, density), molar_mass(of.FORMULAS[substance])
    lines.append(
        f"{plainly(percent)} % × {number(density, 3)} g/mL × 10 ÷ {number(mass, 2)} g/mol = {plainly(mol)} mol/L"
    )
    return Bottle(mol, percent, f"{plainly(percent)} %", tuple(lines), is_it_meant(percent))


def is_it_meant(percent: float | None) -> tuple[str, ...]:
    """Ask back about a percentage between 0 and 1, which may be a share of 1; nothing for any other."""
    if percent is None or not 0 < percent < 1:
        return ()
    typed, hundred = plainly(percent), plainly(100 * percent)
    return (f"Taken as {typed} of 100: is {typed} % meant? If the bottle says {hundred} %, write percent={hundred}.",)


def _by_mass(substance: Substance | None, mol: float) -> float | None:
    return None if substance is None else of.percent(substance, mol)


def known(text: str, among: Collection[Substance] = ACIDS) -> Substance:
    """Return the acid or base that was typed; raises ValueError."""
    return of.find(text, among)


def ml(value: float, says: str = "") -> Result:
    """Return a volume to pour, with as many decimals as a syringe or a cylinder has."""
    return Result(value, "mL", 0 if value >= 1000 else 1 if value >= 10 else 2 if value >= 0.1 else 3, says)


def poured(value: float) -> str:
    """Write a volume to pour: '0.35 mL', '12.4 mL', '400 mL'."""
    written = number(value, ml(value).decimals)
    return f"{written.removesuffix('.0')} mL"


def brought(substance: Substance, millimoles: float) -> dict[str, Result]:
    """Return the nutrient that so many mmol/L bring, by its name; empty for citric acid."""
    if substance not in of.FEEDS:
        return {}
    name = NAMES[of.FEEDS[substance]]
    return {name: Result(of.feeds(substance, millimoles), "mg/L", 1, f"{name} it brings")}


def care(kind: Substance) -> tuple[str, ...]:
    """Return the cautions for any strength of it."""
    return (INTO_WATER, NO_BLEACH) if kind.endswith("ic") else (ALKALI, RINSE)
