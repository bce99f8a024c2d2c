"""Reckonings about bottles of acid and base: how strong they are, and what they feed."""

from walkabout.growing import acid as of
from walkabout.growing import hazard
from walkabout.growing.acid import Substance
from walkabout.growing.elements import WEIGHTS, molar_mass
from walkabout.reckon import acid_bottle as held
from walkabout.reckon.acid_bottle import ml
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.ph_board import figure
from walkabout.reckon.write import digits, number, plainly

OUNCES_PER_GALLON = 128
"""US fl oz in a US gallon."""


def work_strength(acid: str, percent: float | None, strength: float | None, density: float | None) -> Reckoned:
    """Work out mol/L and eq/L from the label, or the percent from mol/L."""
    kind = held.known(acid, held.EVERY)
    if percent is None and strength is None:
        raise ValueError("give the percentage on the bottle, or the strength in mol/L")
    bottle = held.bottle(kind, strength, percent, density)
    assert bottle is not None
    assert bottle.by_mass is not None
    weight = density if density is not None else of.density(kind, bottle.by_mass)
    each, mass = _each(kind), molar_mass(of.FORMULAS[kind])
    eq = bottle.mol * each
    lines = list(bottle.lines)
    if percent is None:
        lines.append(
            f"{plainly(bottle.mol)} mol/L is {number(bottle.by_mass, 2)} % of {number(weight, 3)} g/mL (density table)"
        )
    lines.append(f"{plainly(bottle.mol)} mol/L × {each:g} eq/mol = {plainly(eq)} eq/L")
    if kind in ("phosphoric", "citric"):
        lines.append(f"taken: one mol of {of.said(kind)} = {each:g} eq, as near pH 6")
    lines.append(f"128 ÷ {plainly(eq)} = {number(OUNCES_PER_GALLON / eq, 2)} US fl oz in 1000 US gal for 1 meq/L")
    return Reckoned(
        results={
            "strength": Result(bottle.mol, "mol/L", 2),
            "normality": Result(eq, "eq/L", 2, "what it counts for, N"),
            "percent": Result(bottle.by_mass, "%", 2, "by mass"),
            "density": Result(weight, "g/mL", 3, "at 20 °C"),
            "grams": Result(bottle.mol * mass, "g/L", 1, "in a litre of it"),
            "per_100_litres": ml(100 / eq, "for 1 meq/L in 100 L"),
            "fluid_ounces": Result(OUNCES_PER_GALLON / eq, "US fl oz", 2, "for 1 meq/L in 1000 US gal"),
            "label": Result(hazard.danger(kind, bottle.by_mass, bottle.mol)),
        },
        working=tuple(lines),
        source=f"{held.HANDBOOK}; molar masses from IUPAC atomic weights",
        says=(
            *bottle.asks,
            f"One litre holds {digits(bottle.mol)} mol, which counts for {digits(eq)} equivalents.",
        ),
        cautions=(*bottle.cautions(kind), *held.care(kind)),
    )


def _each(kind: Substance) -> float:
    return 2.0 if kind == "potassium carbonate" else of.NEAR_SIX.get(kind, 1.0)


def work_feeds(acid: str, equivalents: float | None, millimoles: float | None) -> Reckoned:
    """Work out the nutrient that an acid brings."""
    kind = held.known(acid)
    if (equivalents is None) == (millimoles is None):
        raise ValueError("give the acid either in meq/L, as 'equivalents', or in mmol/L, as 'millimoles'")
    each, lines = of.NEAR_SIX[kind], []
    if millimoles is None:
        assert equivalents is not None
        millimoles = equivalents / each
        lines.append(f"{figure(equivalents)} meq/L ÷ {each:g} eq/mol = {figure(millimoles)} mmol/L")
        if kind in ("phosphoric", "citric"):
            lines.append(f"taken: one mol of {of.said(kind)} = {each:g} eq, as near pH 6")
    brings = held.brought(kind, millimoles)
    says = ["Citric acid brings no nutrient; microbes eat it, and the pH comes back within days."]
    for name, one in brings.items():
        symbol = of.FEEDS[kind]
        much = number(float(one.value), 1)
        lines.append(f"{figure(millimoles)} mmol/L × {WEIGHTS[symbol]:.3f} g/mol = {much} mg/L {symbol}")
        says = [f"It brings {much} mg/L of {name}: count it in the feed."]
        if symbol == "P" and float(one.value) > WEIGHTS["P"] + 0.1:
            says.append("That alone is more than most recipes hold (about 31 mg/L): take nitric or sulfuric acid.")
    return Reckoned(
        results=brings or {"nutrient": Result("none")},
        working=tuple(lines),
        source="atomic weights of IUPAC",
        says=tuple(says),
    )


RECKONINGS = (
    Reckoning(
        name="acid-strength",
        subject="solution",
        title="Strength of an acid",
        about="From the percentage on a bottle of acid or base to mol/L and eq/L, and back.",
        fields=(
            Field(
                key="acid",
                says="which acid or base",
                kind="text",
                words=held.EVERY,
                starts="acid",
                others=("substance", "base", "kind"),
            ),
            held.PERCENT,
            held.STRENGTH,
            held.DENSITY,
        ),
        work=work_strength,
        example="acid=phosphoric percent=85",
        others=("molarity", "normality", "base-strength"),
    ),
    Reckoning(
        name="acid-feeds",
        subject="solution",
        title="What an acid feeds",
        about="How much nitrogen, phosphorus or sulfur an acid brings into the solution.",
        fields=(
            held.ACID,
            Field(
                key="equivalents",
                says="acid in each litre",
                unit="meq/L",
                low=0,
                high=1000,
                needed=False,
                others=("meq", "eq"),
            ),
            Field(
                key="millimoles",
                says="acid in each litre, by molecules",
                unit="mmol/L",
                low=0,
                high=1000,
                needed=False,
                others=("mmol", "amount"),
            ),
        ),
        work=work_feeds,
        example="acid=nitric equivalents=2.3",
        others=("acid-nutrients", "nutrients-from-acid"),
    ),
)
