"""What is in a bottle of acid or base, and how much of it to pour.

Strengths in mol/L and eq/L (N), percent always by mass, densities in g/mL at 20 °C, acid needed in meq/L,
volumes to pour in mL, tanks in litres.
"""

import math
from collections.abc import Collection, Mapping
from difflib import get_close_matches
from itertools import pairwise
from typing import Final, Literal

from msgspec import Struct

from walkabout.growing.alkalinity import CACO3_PER_MEQ
from walkabout.growing.elements import WEIGHTS, molar_mass
from walkabout.growing.limits import OutOfRange, above, within
from walkabout.growing.titration import Reagent, Water, dose

Substance = Literal[
    "nitric",
    "phosphoric",
    "sulfuric",
    "citric",
    "hydrochloric",
    "potassium hydroxide",
    "sodium hydroxide",
    "potassium bicarbonate",
    "potassium carbonate",
]

FORMULAS: Final[Mapping[Substance, str]] = {
    "nitric": "HNO3",
    "phosphoric": "H3PO4",
    "sulfuric": "H2SO4",
    "citric": "C6H8O7",
    "hydrochloric": "HCl",
    "potassium hydroxide": "KOH",
    "sodium hydroxide": "NaOH",
    "potassium bicarbonate": "KHCO3",
    "potassium carbonate": "K2CO3",
}
CITRIC_MONOHYDRATE = molar_mass("C6H8O7·H2O")
"""g/mol of the common crystals."""

DENSITIES: Final[Mapping[Substance, tuple[tuple[float, float], ...]]] = {
    "nitric": (
        *((0, 0.998), (5, 1.026), (10, 1.054), (20, 1.115), (30, 1.180), (40, 1.246), (50, 1.310), (60, 1.367)),
        *((65, 1.391), (67, 1.400), (70, 1.413), (80, 1.452), (90, 1.483), (100, 1.513)),
    ),
    "phosphoric": (
        *((0, 0.998), (5, 1.025), (10, 1.053), (20, 1.113), (30, 1.180), (40, 1.254), (50, 1.335), (60, 1.426)),
        *((70, 1.526), (75, 1.579), (80, 1.633), (85, 1.685), (90, 1.746), (100, 1.870)),
    ),
    "sulfuric": (
        *((0, 0.998), (5, 1.032), (10, 1.066), (15, 1.102), (20, 1.139), (25, 1.178), (30, 1.219), (35, 1.260)),
        *((40, 1.303), (50, 1.395), (60, 1.498), (70, 1.611), (80, 1.727), (90, 1.814), (93, 1.828), (96, 1.836)),
        *((98, 1.836), (100, 1.831)),
    ),
    "citric": ((0, 0.998), (10, 1.039), (20, 1.081), (30, 1.125), (40, 1.171), (50, 1.220)),
    "hydrochloric": ((0, 0.998), (10, 1.047), (20, 1.098), (25, 1.124), (30, 1.149), (37, 1.184)),
    "potassium hydroxide": (
        (0, 0.998),
        (2, 1.016),
        (5, 1.044),
        (10, 1.090),
        (20, 1.187),
        (30, 1.289),
        (45, 1.456),
        (50, 1.514),
    ),
    "sodium hydroxide": ((0, 0.998), (2, 1.021), (5, 1.054), (10, 1.109), (20, 1.219), (30, 1.328), (50, 1.525)),
    "potassium bicarbonate": ((0, 0.998), (5, 1.031), (10, 1.065), (20, 1.137)),
    "potassium carbonate": ((0, 0.998), (5, 1.044), (10, 1.090), (20, 1.190), (30, 1.298), (40, 1.414), (50, 1.540)),
}
"""Percent by mass and g/mL at 20 °C: handbook tables (CRC, Perry), from memory. For phosphoric acid the ranges
that the registration dossier at the European Chemicals Agency gathers from ten handbooks hold them."""

NEAR_SIX: Final[Mapping[Substance, float]] = {"nitric": 1, "phosphoric": 1, "sulfuric": 2, "citric": 2}
"""Equivalents of one mol near pH 6, in whole numbers, for arithmetic that knows of no pH."""
FEEDS: Final[Mapping[Substance, str]] = {"nitric": "N", "phosphoric": "P", "sulfuric": "S"}
"""What plants find in an acid; one atom in each molecule."""

STEP = 0.5
"""The most that the pH is changed in one go (common practice)."""
FIRST_SHARE = 0.8
"""How much of the figure goes in before measuring again (common practice): feed in the tank and the rounding
of a meter are not in the figure."""


def density(substance: Substance, percent: float) -> float:
    """Return g/mL at 20 °C of a solution of so many percent by mass, straight between the table's rows.

    From 0 % to the table's last row (nitric, phosphoric and sulfuric acid 100, citric 50). Raises OutOfRange.
    """
    rows = DENSITIES[substance]
    within(f"the strength of {said(substance)}", percent, 0, rows[-1][0], "%")
    for (low, lighter), (high, heavier) in pairwise(rows):
        if percent <= high:
            return lighter + (heavier - lighter) * (percent - low) / (high - low)
    return rows[-1][1]


def strength(substance: Substance, percent: float, grams_per_ml: float | None = None) -> float:
    """Return mol/L of a solution of so many percent by mass.

    percent ÷ 100 × density × 1000 ÷ molar mass. The density is the table's unless given (0.9 to 2 g/mL, and
    then any percent up to 100). Raises OutOfRange.
    """
    if grams_per_ml is None:
        grams_per_ml = density(substance, percent)
    within("the percentage", percent, 0, 100, "%")
    within("the density", grams_per_ml, 0.9, 2, "g/mL")
    return percent / 100 * grams_per_ml * 1000 / molar_mass(FORMULAS[substance])


def percent(substance: Substance, mol_per_litre: float) -> float:
    """Return the percent by mass of a solution of so many mol/L: `strength` the other way round.

    Raises OutOfRange beyond the last row of the density table.
    """
    high = DENSITIES[substance][-1][0]
    top = strength(substance, high)
    if mol_per_litre > top:
        most = f"at most {top:.3g} mol/L, {'pure' if high == 100 else f'{high:g} %, where the density table ends'}"
        raise OutOfRange(f"no {said(substance)} is as strong as {mol_per_litre:g} mol/L: it is {most}")
    within(f"the strength of {said(substance)}", mol_per_litre, 0, top, "mol/L")
    low = 0.0
    while high - low > 1e-9:
        middle = (low + high) / 2
        low, high = (middle, high) if strength(substance, middle) < mol_per_litre else (low, middle)
    return (low + high) / 2


def to_pour(equivalents: float, litres: float, eq_per_litre: float) -> float:
    """Return the mL that bring so many meq to each litre: meq/L × L ÷ (eq/L).

    `equivalents` from 0, the other two above 0. Raises OutOfRange.
    """
    within("the acid needed", equivalents, 0, 1000, "meq/L")
    above("the volume", litres, 0, "L")
    above("the strength", eq_per_litre, 0, "eq/L")
    return equivalents * litres / eq_per_litre


def to_neutralise(now: float, then: float) -> float:
    """Return the meq/L of acid that take the alkalinity from `now` to `then`, both mg/L CaCO3, 0 to 1000.

    (now - then) ÷ 50.04. Raises OutOfRange, also when `then` is more than `now`.
    """
    within("the alkalinity", now, 0, 1000, "mg/L CaCO3")
    within("the alkalinity to leave", then, 0, now, "mg/L CaCO3")
    return (now - then) / CACO3_PER_MEQ


def neutralised(millilitres: float, eq_per_litre: float, litres: float) -> float:
    """Return the alkalinity, mg/L CaCO3, that so many mL of acid take out of so many litres: `to_pour` backwards.

    Raises OutOfRange.
    """
    within("the acid", millilitres, 0, 1e6, "mL")
    above("the volume", litres, 0, "L")
    above("the strength", eq_per_litre, 0, "eq/L")
    return millilitres * eq_per_litre / litres * CACO3_PER_MEQ


def concentrate(strong: float, wanted: float, volume: float) -> float:
    """Return how much of a solution of strength `strong` makes `volume` of strength `wanted`, in the unit of `volume`.

    c1 V1 = c2 V2, so wanted × volume ÷ strong. Raises OutOfRange unless 0 < wanted <= strong and volume > 0.
    """
    above("the strength to start from", strong, 0)
    above("the strength wanted", wanted, 0)
    above("the volume", volume, 0)
    if wanted > strong:
        raise OutOfRange(f"water cannot make {strong:g} into {wanted:g}: the strength wanted must be the weaker one")
    return wanted * volume / strong


def feeds(substance: Substance, millimoles: float) -> float:
    """Return the nutrient, mg/L, that so many mmol/L of acid bring: N of nitric, P of phosphoric, S of sulfuric.

    0 for citric acid. Raises OutOfRange below 0.
    """
    within("the acid", millimoles, 0, 1000, "mmol/L")
    return millimoles * WEIGHTS[FEEDS[substance]] if substance in FEEDS else 0.0


class Portion(Struct, frozen=True):
    """What is poured in one go."""

    amount: float
    """mmol of the reagent for each litre."""
    reached: float | None
    """The pH that it should come to; None for the one up to four fifths of the whole."""


def portions(start: Water, ph: float, to: float, reagent: Reagent) -> tuple[Portion, ...]:
    """Part a dose so that no portion moves the pH by more than 0.5, and the last fifth is a portion of its own.

    Between them one stirs, waits and measures, so that the last ones are only poured if they are still
    needed. Together they are the dose. Raises OutOfRange as `dose` does.
    """
    whole = dose(start, to, reagent).amount
    if whole <= 0:
        return ()
    count = math.ceil(abs(to - ph) / STEP - 1e-9)
    sign = math.copysign(STEP, to - ph)
    marks: list[tuple[float, float | None]] = [
        (dose(start, ph + sign * number, reagent).amount, ph + sign * number) for number in range(1, count)
    ]
    cuts = sorted([*marks, (FIRST_SHARE * whole, None), (whole, to)], key=lambda cut: cut[0])
    poured, parts = 0.0, []
    for amount, reached in cuts:
        parts.append(Portion(amount - poured, reached))
        poured = amount
    return tuple(parts)


def find(text: str, among: Collection[Substance]) -> Substance:
    """Return the substance that was typed: 'nitric', 'Nitric acid', 'HNO3', 'sulphuric', 'KOH'.

    Raises ValueError, naming the nearest or all that are meant, when it is none of `among`.
    """
    plain = " ".join(text.casefold().replace("-", " ").replace("_", " ").split()).removesuffix(" acid")
    plain = plain.replace("sulph", "sulf").replace("hydrogen carbonate", "bicarbonate").translate(_LOWERED)
    for one in FORMULAS:
        if plain in (one, FORMULAS[one].casefold(), *_OTHERS.get(one, ())):
            if one in among:
                return one
            raise ValueError(f"{said(one)} is not meant here: it is one of {', '.join(among)}")
    near = get_close_matches(plain, among, n=1, cutoff=0.6)
    hint = f"did you mean {near[0]}?" if near else f"it is one of {', '.join(among)}"
    raise ValueError(f"'{text}' is not known here: {hint}")


_LOWERED = str.maketrans("₀₁₂₃₄₅₆₇₈", "012345678")
_OTHERS: Mapping[Substance, tuple[str, ...]] = {
    "phosphoric": ("orthophosphoric", "ortho phosphoric"),
    "sulfuric": ("battery", "oil of vitriol"),
    "hydrochloric": ("muriatic",),
    "potassium hydroxide": ("caustic potash", "potash lye"),
    "sodium hydroxide": ("caustic soda", "soda lye"),
    "potassium bicarbonate": ("potassium hydrogencarbonate",),
    "potassium carbonate": ("potash",),
    "citric": tuple(f"citric{acid} {form}" for acid in ("", " acid") for form in ("anhydrous", "monohydrate")),
}


def said(substance: Substance) -> str:
    """Return the name as one says it: 'nitric acid', 'potassium hydroxide'."""
    return f"{substance} acid" if substance.endswith("ic") else substance
