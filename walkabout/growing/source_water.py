"""Whether water is good enough to make a solution of, and what its chlorine does.

Limits in mg/L, EC in mS/cm at 25 °C, alkalinity in mg/L CaCO3. They are guides for planning, each with its
source; where two sources part, what the water is used for decides, and the text names both.
"""

from collections.abc import Mapping
from itertools import pairwise
from typing import Literal, get_args

from msgspec import Struct

from walkabout.growing.alkalinity import HOLDS_NO_PH, IDEAL
from walkabout.growing.limits import within

Use = Literal["closed", "open", "plugs", "small", "pot", "large"]
USES: tuple[Use, ...] = get_args(Use)
"""closed: the solution goes round; open: it runs away; plugs, small pots, pots of 10 to 12 cm, large pots."""
Word = Literal["in range", "usable", "low", "high"]
Whose = Literal["Dole", "Purdue"]

SOURCES: Mapping[str, str] = {
    "Oklahoma": "Singh and Dunn, Oklahoma State University Extension HLA-6722, table 1",
    "Mattson and Peters": "Mattson and Peters 2014, A Recipe for Hydroponic Success, trade press",
    "Dole": "Dole, Water quality and treatments, trade press",
    "Purdue": "Purdue University Extension HO-242-W",
    "Massachusetts": "University of Massachusetts Extension, table 2, from memory",
    "boron teaching": "boron below 0.5 mg/L: extension teaching, from memory; FAO Paper 29 has 0.7, from memory",
    "raft trial": "McGehee and Raudales 2023, HortTechnology 33(1):125-130, one lettuce cultivar in deep water",
    "petunia article": "petunias in potting mix: trade article by the group of the raft trial",
}
"""Short name -> the source."""

PH: dict[Whose, tuple[float, float]] = {"Dole": (5.5, 6.8), "Purdue": (5.0, 7.0)}
"""Whose word -> the pH that water for plants should have. Purdue is HO-242-W."""
BEST_EC = 0.5
EC_LIMIT: dict[Use, float] = {use: 0.75 if use == "plugs" else 1.5 for use in USES}
"""From this EC on the water is too salty; up to 0.5 is best (Dole)."""
ALKALINITY_LIMIT: dict[Use, float] = {"closed": 65, "open": 65, "plugs": 75, "small": 90, "pot": 120, "large": 140}
"""The most alkalinity, mg/L CaCO3; small pots change their pH soonest. Plugs stand at 75 to 80, large pots at 140
to 180 in what was seen: the careful end is taken. For solution culture it is the top of the ideal band."""
CHLORIDE_LIMIT: dict[Use, float] = {use: 70 if use == "closed" else 140 for use in USES}
"""140 by Oklahoma; 70 by Mattson and Peters where the solution goes round and chloride gathers in it."""
LIMITS: dict[str, tuple[float, str, tuple[str, ...]]] = {
    "na": (50, "sodium", ("Oklahoma", "Mattson and Peters")),
    "ca": (150, "calcium", ("Oklahoma",)),
    "mg": (50, "magnesium", ("Oklahoma",)),
    "so4": (100, "sulfate", ("Oklahoma",)),
    "b": (0.5, "boron", ("boron teaching",)),
}
"""Item -> the limit in mg/L which the water has to stay below, whatever its use; its name; its sources.

Oklahoma prints 'magnesium bicarbonate' at its magnesium limit; it is read as magnesium."""

RAFT_LOSS: tuple[tuple[float, float], ...] = ((0, 0), (0.5, 30), (1, 55), (1.5, 66), (2, 83), (4, 92))
"""Free chlorine in mg/L of the water a raft's solution is made from -> how much lighter lettuce shoots were, in %."""
SUBSTRATE_HARM = 4.0
"""Petunias in potting mix turned yellow from this on, mg/L (trade article of the same group, seen)."""

CHLORINE_MASS, THIOSULFATE_MASS, PENTAHYDRATE_MASS = 70.906, 158.10, 248.18
"""Molar masses of Cl2, Na2S2O3 and Na2S2O3·5H2O, g/mol."""


class Judged(Struct, frozen=True, kw_only=True):
    """What one figure of a water report means."""

    key: str
    name: str
    unit: str
    value: float
    word: Word
    band: str
    """What it was held against: 'has to stay below 50 mg/L'."""
    sources: tuple[str, ...]
    """Short names, keys of SOURCES; those followed stand in `band`."""
    other: str = ""
    """What else is to be known, such as what a source that is not followed holds: 'Oklahoma has 140 mg/L'."""


def judge(key: str, value: float, use: Use = "closed", whose: Whose = "Dole") -> Judged:
    """Judge one figure of a water report. Raises OutOfRange for a value below 0, KeyError for an unknown item.

    `key` is one of ec (mS/cm), ph, alkalinity (mg/L CaCO3), cl, na, ca, mg, so4, b, chlorine (all mg/L). A
    figure that stands at a limit is 'high': the sources write 'below'. `whose` counts for the pH alone.
    """
    within(f"the {key}", value, 0, 14 if key == "ph" else 1e5)
    if key == "ec":
        word: Word = "high" if value >= EC_LIMIT[use] else "usable" if value > BEST_EC else "in range"
        band = f"best up to {BEST_EC:g}, has to stay below {EC_LIMIT[use]:g} mS/cm"
        band += " for plugs and seedlings" if use == "plugs" else ""
        return _judged(key, "EC", "mS/cm", value, word, band, "Dole")
    if key == "ph":
        low, high = PH[whose]
        word = "low" if value < low else "high" if value > high else "in range"
        other: Whose = "Purdue" if whose == "Dole" else "Dole"
        less, more = PH[other]
        band, else_ = f"pH {low:.1f} to {high:.1f}", f"{other} has pH {less:.1f} to {more:.1f}"
        return _judged(key, "pH", "", value, word, band, whose, other=else_)
    if key == "alkalinity":
        return _alkalinity(value, use)
    if key == "cl":
        limit = CHLORIDE_LIMIT[use]
        band, word = f"has to stay below {limit:g} mg/L", _below(value, limit)
        if use == "closed":
            band += " where the solution goes round"
            else_ = f"Oklahoma has {CHLORIDE_LIMIT['open']:g} mg/L for all water"
            return _judged(key, "chloride", "mg/L", value, word, band, "Mattson and Peters", other=else_)
        else_ = f"Mattson and Peters have {CHLORIDE_LIMIT['closed']:g} mg/L where the solution goes round"
        return _judged(key, "chloride", "mg/L", value, word, band, "Oklahoma", other=else_)
    if key == "chlorine":
        return _chlorine(value, use)
    limit, name, sources = LIMITS[key]
    return _judged(key, name, "mg/L", value, _below(value, limit), f"has to stay below {limit:g} mg/L", *sources)


def raft_loss(chlorine: float) -> float:
    """Return by how many % raft lettuce stays lighter with `chlorine` mg/L, 0 to 4, in its water.

    Straight lines between the doses tried (0.5, 1, 1.5, 2 and 4 mg/L); below 0.5 nothing was tried. McGehee
    and Raudales 2023, HortTechnology 33(1):125-130, one cultivar in deep water. Raises OutOfRange.
    """
    within("the chlorine", chlorine, 0, RAFT_LOSS[-1][0], "mg/L")
    for (low, less), (high, more) in pairwise(RAFT_LOSS):
        if chlorine <= high:
            return less + (more - less) * (chlorine - low) / (high - low)
    raise AssertionError("within() has let a dose through")


def thiosulfate(chlorine: float) -> float:
    """Return the anhydrous sodium thiosulfate, mg/L, that takes up `chlorine` mg/L of free chlorine, 0 to 100.

    S2O3 + 4 Cl2 + 5 H2O: one mole for four, 0.557 mg for each mg (molar masses). Raises OutOfRange.
    """
    within("the chlorine", chlorine, 0, 100, "mg/L")
    return chlorine * THIOSULFATE_MASS / (4 * CHLORINE_MASS)


def pentahydrate(chlorine: float) -> float:
    """Return the same as `thiosulfate`, weighed as crystals with five waters: 0.875 mg/L for each mg/L."""
    return thiosulfate(chlorine) * PENTAHYDRATE_MASS / THIOSULFATE_MASS


def thiosulfate_in_acid_water(chlorine: float) -> float:
    """Return the most thiosulfate, mg/L anhydrous: in acid water two moles go for one of chlorine, 8 times as much."""
    return 8 * thiosulfate(chlorine)


def _alkalinity(value: float, use: Use) -> Judged:
    ideal, limit = IDEAL[0], ALKALINITY_LIMIT[use]
    word: Word = "in range"
    if value < ideal - 1e-3:
        word = "low"
    elif value > limit + 1e-3:
        word = "high"
    elif value > IDEAL[1] + 1e-3:
        word = "usable"
    band = f"ideal {ideal:g} to {IDEAL[1]:g} mg/L CaCO3"
    band += f", up to {limit:g} for this use" if limit > IDEAL[1] else ""
    weak = f"below {HOLDS_NO_PH:g} water hardly holds its pH" if value < HOLDS_NO_PH else ""
    sources = ("Dole", "Massachusetts") if limit > IDEAL[1] else ("Dole",)
    return _judged("alkalinity", "alkalinity", "mg/L CaCO3", value, word, band, *sources, other=weak)


def _chlorine(value: float, use: Use) -> Judged:
    if use in ("closed", "open"):
        word: Word = "in range" if value == 0 else "usable" if value < RAFT_LOSS[1][0] else "high"
        band = "lettuce on rafts suffers from 0.5 mg/L; less was not tried"
        return _judged("chlorine", "free chlorine", "mg/L", value, word, band, "raft trial")
    word = "in range" if value < 0.5 else "usable" if value < SUBSTRATE_HARM else "high"
    band = "petunias in potting mix suffer from 4 mg/L"
    return _judged("chlorine", "free chlorine", "mg/L", value, word, band, "petunia article")


def _below(value: float, limit: float) -> Word:
    return "in range" if value < limit else "high"


def _judged(
    key: str, name: str, unit: str, value: float, word: Word, band: str, *sources: str, other: str = ""
) -> Judged:
    return Judged(key=key, name=name, unit=unit, value=value, word=word, band=band, sources=sources, other=other)
