"""Reckoning of the conductivity that known ions add up to."""

from collections.abc import Mapping

from walkabout.growing import concentration, elements
from walkabout.growing import conductivity as of
from walkabout.reckon.model import Field, Open, Reckoned, Reckoning, Result
from walkabout.reckon.write import amount, digits, number, plainly

_CLOSE = 5.0
"""% by which cations and anions may part before a sum is doubted; common practice in water analysis."""


def work_conductivity(unit: str, cations: float | None, anions: float | None, amounts: Mapping[str, float]) -> Reckoned:
    """Estimate the EC of a solution from the ions in it."""
    if not amounts and cations is None and anions is None:
        raise ValueError("write the ions, K=6 Ca=5 Mg=2 NO3=15 …, or the sum alone: cations=20")
    if amounts and (cations is not None or anions is not None):
        raise ValueError("write the ions or their sums, not both")
    ions, lines = _ions(amounts, unit) if amounts else ({}, [])
    plus = cations if not amounts else of.cations(ions) or None
    minus = anions if not amounts else of.anions(ions) or None
    results: dict[str, Result] = {}
    says: list[str] = []
    if plus and minus and amounts:
        estimate = of.estimate(ions)
        results["ec"] = Result(estimate, "mS/cm", 2, "estimated EC at 25 °C")
        lines.append(f"ion by ion: EC = Σ c × z × λ × γ^α = {number(estimate, 2)} mS/cm at 25 °C")
        says.append(f"About {amount(estimate, 'mS/cm', 1)} at 25 °C, give or take 15 %: the meter has the last word.")
    lead = plus if plus is not None else minus
    which = "cations" if plus is not None else "anions"
    assert lead is not None
    tenth, sonneveld = of.rule_tenth(lead), of.rule_sonneveld(lead)
    if not results:
        results["rule_tenth"] = Result(tenth, "mS/cm", 3, f"a tenth of the {which}")
        told = sonneveld if _fits(sonneveld) else tenth
        says.append(f"About {amount(told, 'mS/cm', 1)} at 25 °C, give or take 15 %: the meter has the last word.")
        says.append("With all cations and anions there is a better estimate, ion by ion.")
    if plus is not None:
        results["cations"] = Result(plus, "meq/L", 2, "sum of the cations")
    if minus is not None:
        results["anions"] = Result(minus, "meq/L", 2, "sum of the anions")
    if plus and minus:
        apart = 100 * (plus - minus) / (plus + minus)
        closed = abs(apart) <= _CLOSE
        results["balance"] = Result(apart, "%", 1, "by how much cations outweigh anions")
        results["verdict"] = Result("balanced" if closed else "not balanced")
        lines.append(f"balance = 100 × (C − A) ÷ (C + A) = {number(apart, 1)} %; up to {_CLOSE:g} % counts as closed")
        if not closed:
            says.append("Cations and anions do not match: an ion is missing, or one is counted wrongly.")
    results["rule_tenth"] = Result(tenth, "mS/cm", 3, f"a tenth of the {which}")
    results["rule_sonneveld"] = Result(sonneveld, "mS/cm", 3, "rule of Sonneveld")
    lines.append(f"a tenth of the {which}: {plainly(lead)} ÷ 10 = {number(tenth, 3)} mS/cm")
    lines.append(f"Sonneveld: 0.095 × {plainly(lead)} + 0.19 = {number(sonneveld, 3)} mS/cm")
    if not _fits(sonneveld):
        says.append("The rule of Sonneveld is for feeds of 1 to 5 mS/cm: here it misleads.")
    return Reckoned(
        results=results,
        says=tuple(says),
        working=tuple(lines),
        source="ion by ion: conductivities of the CRC Handbook, correction after Appelo 2010 (both from memory), "
        "checked against PHREEQC; rules: common teaching; Sonneveld, Voogt and Spaans 1999 (from memory)",
    )


def _ions(amounts: Mapping[str, float], unit: str) -> tuple[dict[str, float], list[str]]:
    """Turn what was typed into mmol/L of ions, and write the two sums."""
    ions: dict[str, float] = {}
    steps: list[str] = []
    parts: dict[bool, list[str]] = {True: [], False: []}
    for name, value in amounts.items():
        one = concentration.species(name)
        ion = "H2PO4-" if name == "PO4" and unit != "meq/L" else one.ion
        if not ion:
            raise ValueError(_no_ion(name))
        if ion not in of.LIMITING:
            raise ValueError(f"{name} is not counted here: near pH 6 phosphate is H2PO4, with one charge")
        if ion in ions:
            raise ValueError(f"{name} is the same ion as one that was given already: leave one out")
        ions[ion] = concentration.millimoles(value, one, unit)
        if unit == "mg/L":
            steps.append(f"{name}: {plainly(value)} mg/L ÷ {number(one.mass, 2)} = {digits(ions[ion], 3)} mmol/L")
        size = elements.charge(ion)
        parts[size > 0].append(f"{abs(size)} × {digits(ions[ion], 3)}" if abs(size) > 1 else digits(ions[ion], 3))
    for side, called, total in ((True, "cations", of.cations(ions)), (False, "anions", of.anions(ions))):
        if len(parts[side]) > 1:
            steps.append(f"{called}: {' + '.join(parts[side])} = {number(total, 2)} meq/L")
        elif parts[side]:
            steps.append(f"{called}: {number(total, 2)} meq/L")
    return ions, steps


def _fits(sonneveld: float) -> bool:
    """Whether the rule of Sonneveld is made for such a feed, mS/cm."""
    return 1 <= sonneveld <= 5


def _no_ion(name: str) -> str:
    if name == "N":
        return "nitrogen is nitrate or ammonium: write NO3 and NH4 (or NO3-N and NH4-N)"
    if name == "CaCO3":
        return "write alkalinity as HCO3 (mg/L CaCO3 × 1.22), and hardness as Ca and Mg"
    return f"{name} carries no charge worth counting here: leave it out"


def _find(text: str) -> str:
    return concentration.species(text).name


RECKONINGS = (
    Reckoning(
        name="conductivity",
        subject="solution",
        title="EC from the ions",
        about="What EC a mixture of known ions will have, and whether its charges balance.",
        fields=(
            Field(
                key="unit",
                says="unit of the amounts",
                kind="word",
                words=("mmol/L", "meq/L", "mg/L"),
                default="mmol/L",
                others=("in", "from"),
            ),
            Field(
                key="cations",
                says="sum of the cations",
                unit="meq/L",
                low=0,
                high=500,
                needed=False,
                others=("sum_cations", "cation_sum"),
            ),
            Field(
                key="anions",
                says="sum of the anions",
                unit="meq/L",
                low=0,
                high=500,
                needed=False,
                others=("sum_anions", "anion_sum"),
            ),
        ),
        open=Open(says="an ion", unit="", find=_find, high=100_000, example="K=6"),
        work=work_conductivity,
        example="K=6 Ca=5 Mg=2 NO3=15 H2PO4=1 SO4=2",
        others=("ec-from-ions", "estimate-ec", "ion-balance", "charge-balance"),
    ),
)
