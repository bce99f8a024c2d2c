"""Acid and base into water, reckoned with the salts that are in it.

Ions in salty water count for less than their number (Davies equation), and calcium holds on to part of
the carbonate, the phosphate and the citrate. Above pH 7.5 that changes a dose by up to a half. The water
is taken as closed and, where its calcium is not known, as a calcium bicarbonate water: half a mmol of calcium
for each meq of alkalinity.
"""

from collections.abc import Mapping
from math import log10, sqrt
from typing import Final

from msgspec import Struct, field

from walkabout.growing.carbonate import CITRIC_PK, HIGHEST, LOWEST, MOST_ALKALINITY, PHOSPHATE_PK, pk1, pk2, pkw
from walkabout.growing.limits import OutOfRange, within

MOST_CALCIUM = 25.0
"""mmol/L, 1000 mg/L: more is no nutrient solution (assumed)."""
MOST_ADDED = 50.0
"""mmol/L: a dose beyond it is no correction any more (assumed)."""
_ROUNDS = 200


class Reagent(Struct, frozen=True, kw_only=True):
    """What is put in. All figures for one mol."""

    strong: float = 0.0
    """Equivalents of acid that count at every pH; negative for a base."""
    carbon: float = 0.0
    """mol of carbonate that it brings."""
    ions: float = 0.0
    """Half the sum of amount times charge squared of its ions that take no part."""
    pks: tuple[float, ...] = ()
    """pK values of a weak acid."""
    pairs: Mapping[int, float] = field(default_factory=dict)
    """Charge of one of its forms -> log K with calcium."""


PHOSPHATE_PAIRS: Final = {1: 1.408, 2: 2.739, 3: 6.459}
"""Ca+2 with H2PO4-, HPO4-2 and PO4-3, 25 °C, as in PHREEQC's phreeqc.dat."""
CITRATE_PAIRS: Final = {3: 4.85}
"""Ca+2 with citrate; Singh, Yeboah, Pambid and Debayle 1991, J. Chem. Eng. Data 36:52-54: the same from 18 to 45 °C."""

ACIDS: Final[Mapping[str, Reagent]] = {
    "nitric": Reagent(strong=1, ions=0.5),
    "phosphoric": Reagent(pks=PHOSPHATE_PK, pairs=PHOSPHATE_PAIRS),
    # The second hydrogen (pK 1.99) is gone at any pH a plant bears.
    "sulfuric": Reagent(strong=2, ions=2),
    "citric": Reagent(pks=CITRIC_PK, pairs=CITRATE_PAIRS),
}
BASES: Final[Mapping[str, Reagent]] = {
    "potassium hydroxide": Reagent(strong=-1, ions=0.5),
    "potassium bicarbonate": Reagent(strong=-1, carbon=1, ions=0.5),
    "potassium carbonate": Reagent(strong=-2, carbon=1, ions=1),
}


class Water(Struct, frozen=True):
    """Closed water: it keeps its carbon and its calcium while something is stirred in."""

    alkalinity: float
    """meq/L, phosphate included."""
    carbon: float
    """mmol/L"""
    phosphorus: float
    """mmol/L"""
    temperature: float
    """°C"""
    measured: float | None = None
    """mmol/L of calcium where it is known. Sodium or chloride then make up the charge."""

    @property
    def calcium(self) -> float:
        """mmol/L; as in a calcium bicarbonate water where it is not known."""
        return max(self.alkalinity, 0) / 2 if self.measured is None else self.measured

    @property
    def made_up(self) -> float:
        """What sodium or chloride beside that calcium adds to the ionic strength, mmol/L."""
        return abs(max(self.alkalinity, 0) - 2 * self.calcium) / 2


class Dose(Struct, frozen=True):
    """What brings the water to a pH."""

    amount: float
    """mmol of the reagent for each litre."""
    counts: float
    """meq of acid (of base) that one mmol counts for there."""

    @property
    def equivalents(self) -> float:
        """What that comes to, meq/L."""
        return self.amount * self.counts


def water(
    alkalinity: float, ph: float, temperature: float, phosphorus: float = 0, calcium: float | None = None
) -> Water:
    """Return the closed water with this alkalinity (0 to 20 meq/L), pH (4 to 10) and temperature (0 to 50 °C).

    `phosphorus`, 0 to 20 mmol/L, is what the solution already holds; it counts as part of the alkalinity.
    `calcium`, 0 to 25 mmol/L, is half the alkalinity where it is not given. Water too poor in
    alkalinity for its pH is taken to have no carbon. Raises OutOfRange.
    """
    within("the alkalinity", alkalinity, 0, MOST_ALKALINITY, "meq/L")
    within("the pH", ph, LOWEST, HIGHEST)
    within("the phosphorus", phosphorus, 0, 20, "mmol/L")
    within("the calcium", calcium or 0.0, 0, MOST_CALCIUM, "mmol/L")
    found = _settle(Water(alkalinity, 0, phosphorus, temperature, calcium), ph, None)
    if found.free <= 0:
        # What makes up for the missing alkalinity is an ion too: once more with it.
        bare = Water(alkalinity - found.free, 0, phosphorus, temperature, calcium)
        return Water(bare.alkalinity - _settle(bare, ph, None).free, 0, phosphorus, temperature, calcium)
    return Water(alkalinity, found.free / found.carbonate, phosphorus, temperature, calcium)


def dose(start: Water, to: float, reagent: Reagent) -> Dose:
    """Return how much of the reagent brings the water to pH `to`, 4 to 10.

    From the balance of charges: alkalinity - carbonate - phosphate - [OH-] + [H+] at the target is what
    the acid has to bring. Raises OutOfRange when the reagent is too weak for that pH, or moves it the other way.
    """
    within("the target pH", to, LOWEST, HIGHEST)
    found = _settle(start, to, reagent)
    counts = found.counts if reagent.strong >= 0 else -found.counts
    amount = found.free / found.counts if counts > 1e-6 else float("inf")
    if not amount <= MOST_ADDED:
        raise OutOfRange(f"this is too weak to bring the water to pH {to:g}: take something stronger")
    if amount < -1e-6:
        raise OutOfRange(f"this moves the pH away from {to:g}: an acid lowers it, a base raises it")
    return Dose(amount if amount > 1e-6 else 0.0, counts)


class _Part(Struct, frozen=True):
    """Carbonic, phosphoric or citric acid in all its forms, for one mol of it."""

    charge: float
    ions: float
    bound: float
    """mol of calcium held, for each mol/L of free calcium."""


class _Found(Struct, frozen=True):
    free: float
    """meq/L of alkalinity that the carbon and the phosphate in the water do not account for."""
    carbonate: float
    """meq of alkalinity for each mmol of carbon."""
    counts: float


def _settle(start: Water, ph: float, reagent: Reagent | None) -> _Found:
    """Find ion activities, calcium pairs and the dose (or, with no reagent, the carbon) that fit together."""
    at = start.temperature
    carbonic, pairs, acid = (pk1(at), pk2(at)), carbonate_pairs(at), 10**-ph
    hydroxide = 10 ** (ph - pkw(at))
    ionic, calcium = start.alkalinity * 1.5e-3, start.calcium * 1e-3
    for _ in range(_ROUNDS):
        activity = activities(ionic, at)
        one = activity[1]
        carbonate = _part(acid, activity, calcium, carbonic, pairs)
        phosphate = _part(acid, activity, calcium, PHOSPHATE_PK, PHOSPHATE_PAIRS)
        itself = 1000 * (hydroxide - acid) / one
        free = start.alkalinity - itself - start.phosphorus * (phosphate.charge - 1)
        if reagent is None:
            counts, added, brought = 0.0, 0.0, _NOTHING
            carbon = max(0.0, free / carbonate.charge)
        else:
            brought = _part(acid, activity, calcium, reagent.pks, reagent.pairs) if reagent.pks else _NOTHING
            free -= start.carbon * carbonate.charge
            counts = reagent.strong + brought.charge + reagent.carbon * carbonate.charge
            added = min(max(free / counts, 0.0), MOST_ADDED) if counts else 0.0
            carbon = start.carbon + reagent.carbon * added
        held = carbon * carbonate.bound + start.phosphorus * phosphate.bound + added * brought.bound
        calcium_next = start.calcium * 1e-3 / (1 + held * 1e-3)
        ionic_next = 1e-3 * (
            2e3 * calcium_next
            + start.made_up
            + carbon * carbonate.ions
            + start.phosphorus * (phosphate.ions + 0.5)
            + added * (brought.ions + (reagent.ions if reagent else 0))
        ) + (hydroxide + acid) / (2 * one)
        if abs(ionic_next - ionic) < 1e-9 and abs(calcium_next - calcium) < 1e-9:
            break
        ionic, calcium = ionic_next, (calcium_next + calcium) / 2 if brought is not _NOTHING else calcium_next
    return _Found(free, carbonate.charge, counts)


_NOTHING = _Part(0, 0, 0)


def _part(
    acid: float, activity: tuple[float, ...], calcium: float, pks: tuple[float, ...], pairs: Mapping[int, float]
) -> _Part:
    form = whole = 1.0
    charge = ions = bound = 0.0
    for count, pk in enumerate(pks, start=1):
        form *= 10**-pk / acid * activity[count - 1] / activity[count]
        pair = 0.0
        if count in pairs:
            pair = 10 ** pairs[count] * form * activity[2] * activity[count] / activity[abs(2 - count)]
        here = form + pair * calcium
        whole += here
        charge += count * here
        ions += (count**2 * form + (2 - count) ** 2 * pair * calcium) / 2
        bound += pair
    return _Part(charge / whole, ions / whole, bound / whole)


def activities(ionic: float, temperature: float) -> tuple[float, float, float, float]:
    """Return the activity coefficients of ions of charge 0, 1, 2 and 3.

    log γ = -A z² (√I ÷ (1 + √I) - 0.3 I), Davies 1962; A = 1.82e6 (ε T)^-1.5, ε of water after Malmberg
    and Maryott 1956 (both from memory). `ionic` strength in mol/L, up to about 0.5; `temperature` in °C.
    """
    permittivity = 87.740 - 0.40008 * temperature + 9.398e-4 * temperature**2 - 1.410e-6 * temperature**3
    root = sqrt(max(ionic, 0.0))
    one = 10 ** (-1.82e6 * (permittivity * (temperature + 273.15)) ** -1.5 * (root / (1 + root) - 0.3 * ionic))
    return 1.0, one, one**4, one**9


def carbonate_pairs(temperature: float) -> dict[int, float]:
    """Return log K of Ca+2 with HCO3- (under 1) and with CO3-2 (under 2) at `temperature` °C.

    1209.120 + 0.31294 T - 34765.05 ÷ T - 478.782 log T and -1228.732 - 0.299440 T + 35512.75 ÷ T +
    485.818 log T, T in K; Plummer and Busenberg 1982, Geochim. Cosmochim. Acta 46:1011-1040.
    """
    kelvin = temperature + 273.15
    return {
        1: 1209.120 + 0.31294 * kelvin - 34765.05 / kelvin - 478.782 * log10(kelvin),
        2: -1228.732 - 0.299440 * kelvin + 35512.75 / kelvin + 485.818 * log10(kelvin),
    }
