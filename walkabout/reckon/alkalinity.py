"""Reckonings of alkalinity and hardness: from any unit of a water report to all the others."""

import re
from collections.abc import Mapping

from walkabout.growing import alkalinity as of_lime
from walkabout.reckon import units
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.write import amount as written_amount
from walkabout.reckon.write import number, plainly, quoted

AMOUNT_NOTE = "with its unit behind it, or alone and the unit in 'from'"
UNIT_NAMES: Mapping[str, tuple[str, ...]] = {
    "mg/L CaCO3": ("mg/l", "ppm", "caco3", "ppmcaco3", "mg/lascaco3", "mgcaco3/l", "g/m3", "°us"),
    "meq/L": ("meq", "meq/litre", "mval/l", "meq/lhco3", "meqhco3/l"),
    "mg/L HCO3": ("hco3", "ppmhco3", "mg/lashco3", "mg/lhco3-", "hco3-", "bicarbonate", "mghco3/l"),
    "°dH": ("dh", "dkh", "°dkh", "kh", "dgh", "gh", "degdh", "°d", "°kh", "°gh"),
    "°fH": ("fh", "°f", "degfh", "tac", "°th"),
    "°e": ("e", "°clark", "clark", "grain/impgal", "grain/ukgal", "°en"),
    "grain/US gal": ("grain/gal", "gpg", "grains/gal", "grains/usgal", "grains", "gr/gal"),
    "mmol/L": ("mmol", "mm", "mol/m3"),
}
"""Unit -> other ways of writing it, folded: no spaces, no capitals."""
_QUANTITY = re.compile(r"\s*([+\-−]?(?:\d[\d.,]*|[.,]\d+)(?:e[+-]?\d+)?)\s*(.*)", re.IGNORECASE)


def _amount(typed: str, from_: str | None, known: Mapping[str, float]) -> tuple[float, str, bool]:
    """Return the number, its unit, and whether that was said."""
    parts = _QUANTITY.fullmatch(typed)
    if parts is None:
        raise ValueError(f"{quoted(typed)} is no amount: write it like 150 or 3 meq/L")
    written, behind = parts.groups()
    value = units.number(written, "")
    if value < 0:
        raise ValueError(f"the amount is {plainly(value)}: it must be at least 0")
    behind_unit, from_unit = (_unit(name, known) if name else None for name in (behind, from_))
    if behind_unit and from_unit and behind_unit != from_unit:
        raise ValueError(f"{quoted(typed)} is in {behind_unit} and 'from' says {from_unit}: give one of them")
    unit = behind_unit or from_unit
    return value, unit or "mg/L CaCO3", unit is not None


def _unit(name: str, known: Mapping[str, float]) -> str:
    folded = "".join(name.casefold().replace("³", "3").replace("₃", "3").replace("_", "").split())
    for unit in known:
        if folded == "".join(unit.casefold().split()) or folded in UNIT_NAMES[unit]:
            return unit
    raise ValueError(f"{quoted(name)} is no unit for this: it is one of {', '.join(known)}")


def _in_all(
    value: float, unit: str, known: Mapping[str, float], *, said: bool
) -> tuple[float, dict[str, Result], list[str]]:
    caco3 = of_lime.as_caco3(value, unit, known)
    lines = [] if said else ["taken: the unit = mg/L CaCO3"]
    if unit != "mg/L CaCO3":
        lines.append(f"{plainly(value)} {unit} × {plainly(known[unit])} = {written_amount(caco3, 'mg/L CaCO3')}")
    results = {}
    for other, converted in of_lime.in_units(caco3, known).items():
        says = _mmol_says(known) if other == "mmol/L" else _SAYS[other]
        results[_RESULT_NAMES[other]] = Result(converted, other, 3 if other in ("meq/L", "mmol/L") else 2, says)
        if other == "mmol/L" and known[other] == known["meq/L"]:
            lines.append("mmol/L of HCO3 (charge 1): the same number; of CaCO3 it is half as many")
        elif other not in (unit, "mg/L CaCO3"):
            lines.append(f"{plainly(caco3)} ÷ {plainly(known[other])} = {written_amount(converted, other)}")
    chief = "meq" if unit == "mg/L CaCO3" and "meq" in results else "caco3"
    return caco3, {chief: results[chief], **results}, lines


_RESULT_NAMES = {
    "mg/L CaCO3": "caco3",
    "meq/L": "meq",
    "mmol/L": "mmol",
    "mg/L HCO3": "hco3",
    "°dH": "dh",
    "°fH": "fh",
    "°e": "english",
    "grain/US gal": "grains",
}
_SAYS = {
    "mg/L CaCO3": "as calcium carbonate",
    "meq/L": "as milliequivalents",
    "mg/L HCO3": "as hydrogen carbonate",
    "°dH": "German degrees",
    "°fH": "French degrees",
    "°e": "English degrees",
    "grain/US gal": "grains in a US gallon",
}


def _mmol_says(known: Mapping[str, float]) -> str:
    """Say of what the millimoles are: one of calcium carbonate takes up two of acid."""
    return "as millimoles of HCO3" if known["mmol/L"] == known["meq/L"] else "as millimoles of CaCO3"


def work_alkalinity(amount: str, from_: str | None) -> Reckoned:
    """Turn an alkalinity into every unit, and hold it against what suits crops."""
    value, unit, said = _amount(amount, from_, of_lime.ALKALINITY)
    caco3, results, lines = _in_all(value, unit, of_lime.ALKALINITY, said=said)
    word = of_lime.alkalinity_verdict(caco3)
    low, high = of_lime.IDEAL
    lines.append(f"{plainly(caco3)} mg/L CaCO3 held against {low:g} to {high:g}: {word}")
    return Reckoned(
        results={**results, "verdict": Result(word, says="for most crops")},
        working=tuple(lines),
        source="molar masses (IUPAC); degrees and grains from memory; band: Dole, Water quality and treatments",
        says=(_lime_meaning(word, caco3),),
    )


def _lime_meaning(word: str, caco3: float) -> str:
    if word == "in range":
        return "Suits most crops: it holds the pH steady and needs little acid."
    if caco3 < of_lime.HOLDS_NO_PH:
        return "So little that the water hardly holds its pH: measure the pH often, it can jump."
    if word == "low":
        return "A little under the ideal: the pH moves more easily, so look at it often."
    return "Above the ideal: the pH keeps climbing. An adult can take part of it away with acid, or mix in rain water."


def work_hardness(amount: str | None, from_: str | None, ca: float | None, mg: float | None) -> Reckoned:
    """Turn a hardness into every unit, or work it out from calcium and magnesium."""
    if (amount is None) == (ca is None and mg is None):
        raise ValueError("give the hardness as amount=, or ca= and mg= in mg/L, and not both")
    if amount is not None:
        value, unit, said = _amount(amount, from_, of_lime.HARDNESS)
        caco3, results, lines = _in_all(value, unit, of_lime.HARDNESS, said=said)
    elif from_ is not None:
        raise ValueError("'from' goes with amount=; ca= and mg= are in mg/L")
    else:
        value = of_lime.hardness(ca or 0, mg or 0)
        caco3, results, lines = _in_all(value, "mg/L CaCO3", of_lime.HARDNESS, said=True)
        results = {"caco3": results["caco3"], **results}
        taken = [f"taken: {name} = 0 mg/L" for name, one in (("calcium", ca), ("magnesium", mg)) if one is None]
        put_in = f"2.497 × {plainly(ca or 0)} + 4.118 × {plainly(mg or 0)}"
        lines = [*taken, f"2.497 × Ca + 4.118 × Mg = {put_in} = {number(value, 1)} mg/L CaCO3", *lines]
    name = of_lime.hardness_class(caco3)
    lines.append("up to 60 soft, 120 moderately hard, 180 hard, above very hard: " + name)
    return Reckoned(
        results={**results, "verdict": Result(name, says="this water")},
        working=tuple(lines),
        source="molar masses (IUPAC); degrees and grains from memory; classes: US Geological Survey, from memory",
        says=(
            f"This water is {name}: it brings calcium and magnesium, which count as food in the recipe.",
            "Hardness is not alkalinity: acid works against alkalinity alone.",
        ),
    )


FROM = Field(
    key="from",
    says="unit of the amount",
    kind="text",
    needed=False,
    others=("unit", "in"),
    note="mg/L CaCO3 unless given; or meq/L, mmol/L, mg/L HCO3, °dH, °fH, °e, grain/US gal",
)


def _mineral(key: str, says: str, *others: str) -> Field:
    return Field(key=key, says=says, unit="mg/L", low=0, high=1000, needed=False, others=others)


RECKONINGS = (
    Reckoning(
        name="alkalinity",
        subject="water",
        title="Alkalinity in other units",
        about="Alkalinity is what acid has to work against. Reports write it in many units; here they all are.",
        fields=(
            Field(
                key="amount",
                says="alkalinity",
                kind="text",
                others=("alkalinity", "value", "alk"),
                starts="water alkalinity",
                note=AMOUNT_NOTE,
            ),
            FROM,
        ),
        work=work_alkalinity,
        example="amount=3 from=meq/L",
        others=("carbonate-hardness", "kh", "bicarbonate"),
    ),
    Reckoning(
        name="hardness",
        subject="water",
        title="Hardness in other units",
        about="How much calcium and magnesium water brings, in every unit that reports use.",
        fields=(
            Field(
                key="amount",
                says="hardness",
                kind="text",
                needed=False,
                others=("hardness", "value"),
                note=AMOUNT_NOTE,
            ),
            FROM,
            _mineral("ca", "calcium", "calcium"),
            _mineral("mg", "magnesium", "magnesium"),
        ),
        work=work_hardness,
        example="amount=10 from=dH",
        others=("general-hardness", "gh", "water-hardness"),
    ),
)
