"""The weaker solution that is made first: nobody pours a corrosive acid, or a dry powder, into a tank."""

import math
from collections.abc import Mapping
from typing import Final

from msgspec import Struct

from walkabout.growing import acid as of
from walkabout.growing.acid import Substance
from walkabout.growing.elements import molar_mass
from walkabout.reckon.acid_bottle import Bottle, ml, poured
from walkabout.reckon.model import Result
from walkabout.reckon.write import digits, number, plainly

MILD: Final[Mapping[Substance | None, float]] = {
    None: 0.5,
    "nitric": 0.5,
    "phosphoric": 1,
    "sulfuric": 0.5,
    "citric": 0.5,
    "hydrochloric": 1,
    "potassium hydroxide": 0.1,
    "sodium hydroxide": 0.1,
    "potassium bicarbonate": 0.5,
    "potassium carbonate": 0.5,
}
"""mol/L (eq/L for an acid of unknown name) to which one is made: not corrosive by CLP, and easy to measure out
(assumed)."""
SIZES = (100.0, 250.0, 500.0, 1000.0, 2000.0, 5000.0, 10000.0)
"""mL: the flasks, bottles and buckets of a school."""
FIRST_WATER = 0.8
"""The share of the water that is in the vessel before anything else (common practice)."""


class Made(Struct, frozen=True):
    """What is made, and what of."""

    name: str
    """'nitric acid'"""
    strength: float
    """mol/L, or eq/L."""
    unit: str
    """'mol/L' or 'N'."""
    size: float
    """mL"""
    take: float
    """mL of the bottle, or g of the powder, for all of it."""
    stronger: str
    """What is taken: 'nitric acid (60 %)'; empty for a powder."""
    hot: bool
    lines: tuple[str, ...]

    @property
    def said(self) -> str:
        """Return its strength as one says it: '0.5 mol/L'."""
        return f"{digits(self.strength)} {self.unit}" if not self.stronger else f"{plainly(self.strength)} {self.unit}"

    def much(self, millimoles: float) -> float:
        """Return the mL of it that hold so many mmol."""
        return millimoles / self.strength

    def order(self) -> str:
        """Say how it is made, in one sentence or two."""
        water = poured(FIRST_WATER * self.size)
        vessel = " in heatproof glass that stands in cold water" if self.hot else ""
        slowly = "slowly, a little at a time," if self.hot else "slowly"
        batches = f" Make it in batches of {poured(SIZES[-1])} at most." if self.size > SIZES[-1] else ""
        if self.stronger:
            return (
                f"First make {poured(self.size)} of {self.name} of {self.said}: stir {poured(self.take)} of "
                f"{self.stronger} {slowly} into about {water} of cold water{vessel}, let it cool, fill up to "
                f"{poured(self.size)}.{batches}"
            )
        how = ", a little at a time: it gets hot. Let it cool, then" if self.hot else ", then"
        return (
            f"First dissolve {digits(self.take)} g of {self.name} in about {water} of cold water{vessel}{how} fill up "
            f"to {poured(self.size)}.{batches}"
        )

    def job(self) -> str:
        """Say it in as few words as a job has."""
        if self.stronger:
            return f"Make {poured(self.size)} of {self.said} from {poured(self.take)} of {self.stronger}"
        return f"Dissolve {digits(self.take)} g of {self.name} in water, {poured(self.size)} in all"

    def results(self) -> dict[str, Result]:
        """Return what is made and what it takes."""
        if not self.stronger:
            return {"made": ml(self.size, "to dissolve it in and fill up to")}
        return {
            "made": ml(self.size, f"to make of {self.said} first"),
            "concentrate": ml(self.take, "of the strong one into water"),
            "water": ml(self.size - self.take, "about; fill up to the mark"),
        }


def from_bottle(kind: Substance | None, bottle: Bottle, millimoles: float, *, strong: bool) -> Made | None:
    """Return what is made of a corrosive bottle for a dose of so many mmol; None for a mild one, or for no dose."""
    if not strong or millimoles <= 0:
        return None
    wanted, unit, name = MILD[kind], "mol/L" if kind else "N", of.said(kind) if kind else "acid"
    size = _size(millimoles / wanted)
    take = of.concentrate(bottle.mol, wanted, size)
    lines = (
        f"to make {plainly(size)} mL of {plainly(wanted)} {unit} first:",
        f"{plainly(wanted)} {unit} × {plainly(size)} mL ÷ {plainly(bottle.mol)} {unit} = {poured(take)}",
        f"{plainly(millimoles)} mmol ÷ {plainly(wanted)} {unit} = {poured(millimoles / wanted)} of that in all",
    )
    hot = kind is not None and bottle.hot(kind)
    return Made(name, wanted, unit, size, take, f"{name} ({bottle.said})", hot, lines)


def from_powder(kind: Substance, millimoles: float) -> Made | None:
    """Return the solution of a dose of so many mmol of something dry; None for no dose."""
    if millimoles <= 0:
        return None
    size, mass = _size(millimoles / MILD[kind]), molar_mass(of.FORMULAS[kind])
    strength, grams = millimoles / size, millimoles * mass / 1000
    line = f"{digits(grams)} g in {plainly(size)} mL: {plainly(millimoles)} mmol ÷ {plainly(size)} mL"
    lines = (f"{line} = {number(strength, 4)} mol/L",)
    return Made(of.said(kind), strength, "mol/L", size, grams, "", kind.endswith("hydroxide"), lines)


def _size(least: float) -> float:
    for size in SIZES:
        # What comes out to the mark must not ask for the next size by its last digit.
        if least <= size * (1 + 1e-9):
            return size
    return math.ceil(least / SIZES[-1] - 1e-9) * SIZES[-1]
