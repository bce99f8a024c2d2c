"""Stocks: concentrates in one to three tanks, what may stand in which, and what still dissolves.

At the strength of a solution all salts get on with each other; a hundred times stronger, calcium meets
sulfate as gypsum and phosphate as calcium phosphate. So calcium, and the iron chelate with it, goes into
tank A, phosphates, sulfates and micronutrients go into tank B (common practice; e-GRO Edible Alert 3:5).
"""

from collections.abc import Collection, Mapping
from itertools import combinations
from math import sqrt
from typing import Literal

from msgspec import Struct

from walkabout.growing.limits import above, within
from walkabout.growing.mixing import of
from walkabout.growing.salts import Salt

Tank = Literal["A", "B", "C"]
Fit = Literal["dissolves", "close", "too strong", "not known"]

MARGIN = 0.75
"""Share of the solubility at 20 °C up to which a salt also stays dissolved in a store of 10 °C: potassium
sulfate, potassium nitrate and monopotassium phosphate dissolve 78 to 81 % as well there."""

CAUTIOUS = {"potassium-nitrate": 200.0}
"""Salt -> g/L not to pass: published figures for potassium nitrate at 20 °C run from 209 to 316 g/L."""

GYPSUM_SAFE, GYPSUM_DROPS = 400.0, 900.0
"""Ca × SO4, (mmol/L)²: below the first no recipe tried was saturated with gypsum, above the second all were
(PHREEQC, four recipes from 1 to 100 times their strength, 20 °C)."""

GYPSUM = "calcium and sulfate drop out as gypsum"

_PHOSPHATES = ("H2PO4-", "HPO4-2", "PO4-3")
_CARBONATES = ("HCO3-", "CO3-2", "OH-")
_IRON = ("Fe+2", "Fe+3")


class Clash(Struct, frozen=True, kw_only=True):
    """Two salts that should not meet undiluted."""

    one: str
    other: str
    why: str
    surely: bool
    """Whether it is certain at stock strength; the other ones depend on pH and strength."""


class Part(Struct, frozen=True, kw_only=True):
    """One salt in one tank."""

    salt: str
    tank: Tank
    grams: float
    """For the tank's volume."""
    per_litre: float
    """g per litre of stock."""
    fit: Fit
    limit: float | None
    """Up to how many g/L it should go; None where it is not known."""


class Stock(Struct, frozen=True, kw_only=True):
    """What goes into the tanks."""

    parts: tuple[Part, ...]
    clashes: tuple[Clash, ...]
    """Between salts of the same tank."""
    gypsum: Mapping[str, float]
    """Tank -> Ca × SO4, (mmol/L)², where it holds both."""
    factor: float
    highest: float
    """The highest factor at which every salt with a known limit dissolves, and nothing in a tank makes gypsum."""

    @property
    def tanks(self) -> tuple[Tank, ...]:
        """The tanks that hold something."""
        return tuple(tank for tank in ("A", "B", "C") if any(part.tank == tank for part in self.parts))


def tank_of(salt: Salt, parts: int) -> Tank:
    """Return the tank for a salt, of one, two or three; raises ValueError for another number, or no stock salt.

    Two: calcium, chelates and what is neither sulfate, phosphate nor micronutrient go into A, those three
    into B. Three: potassium, ammonium and magnesium that are only nitrate or chloride have C to themselves.
    """
    if parts not in (1, 2, 3):
        raise ValueError(f"a stock has 1, 2 or 3 tanks, not {parts}")
    if salt.with_ == "alone":
        raise ValueError(f"{salt.name} goes into no stock: it is given by itself, well diluted")
    if parts == 1 or salt.with_ in ("calcium", "chelate"):
        return "A"
    minor = any(salt.elements.get(name, 0) > 0 for name in ("Mn", "Zn", "B", "Cu", "Mo"))
    if salt.with_ in ("sulfate", "phosphate") or minor:
        return "B"
    return "C" if parts == 3 else "A"


def clash(one: Salt, other: Salt) -> Clash | None:
    """Return why two salts must not meet undiluted, or None when they may."""
    for first, second in ((one, other), (other, one)):
        for holds, meets, why, surely in _RULES:
            if any(ion in first.ions for ion in holds) and any(ion in second.ions for ion in meets):
                return Clash(one=first.key, other=second.key, why=why, surely=surely)
    return None


_RULES: tuple[tuple[Collection[str], Collection[str], str, bool], ...] = (
    (("Ca+2",), ("SO4-2",), GYPSUM, True),
    (("Ca+2",), _PHOSPHATES, "calcium and phosphate drop out as calcium phosphate", True),
    (("Ca+2",), _CARBONATES, "calcium and carbonate drop out as lime", True),
    (_IRON, _PHOSPHATES, "iron that is not a chelate drops out with phosphate", True),
    (("Mg+2",), _PHOSPHATES, "magnesium and phosphate may drop out when the stock is not acid", False),
    (("Mg+2",), _CARBONATES, "magnesium and carbonate drop out", True),
)
"""What holds which ions, what it meets, why that is bad, whether it is certain (e-GRO Edible Alert 3:5)."""


def limit(salt: Salt) -> float | None:
    """Return up to how many g of the salt a litre of stock should hold, None when that is not known."""
    if salt.key in CAUTIOUS:
        return CAUTIOUS[salt.key]
    return salt.solubility


def fit(salt: Salt, per_litre: float) -> Fit:
    """Say whether `per_litre` g/L of a salt dissolves: 'close' from 75 % of its limit at 20 °C upwards."""
    within("the amount in a litre of stock", per_litre, 0, 1e5, "g/L")
    most = limit(salt)
    if most is None:
        return "not known"
    return "dissolves" if per_litre <= MARGIN * most else "close" if per_litre <= most else "too strong"


def stock(per_litre: Mapping[str, float], factor: float, volume: float, parts: int = 2) -> Stock:
    """Return what goes into the tanks of a stock.

    `per_litre`: salt key -> g in a litre of the finished solution; `factor`: how many times stronger the
    stock is (1 to 1000; a 1:100 injector needs 100); `volume`: L of each tank. g = g/L × factor × L.
    Raises OutOfRange, and ValueError for an unknown salt or number of tanks.
    """
    within("the factor", factor, 1, 1000)
    above("the volume", volume, 0, "L")
    made = []
    for key, mass in per_litre.items():
        salt = of(key)
        strong = mass * factor
        made.append(
            Part(
                salt=salt.key,
                tank=tank_of(salt, parts),
                grams=strong * volume,
                per_litre=strong,
                fit=fit(salt, strong),
                limit=limit(salt),
            )
        )
    made.sort(key=lambda part: part.tank)
    meet = [
        found
        for one, other in combinations(made, 2)
        if one.tank == other.tank and factor > 1 and (found := clash(of(one.salt), of(other.salt)))
    ]
    gypsum = {tank: product for tank in ("A", "B", "C") if (product := gypsum_product(made, tank)) > 0}
    ends = [factor * part.limit / part.per_litre for part in made if part.limit and part.per_litre > 0]
    ends += [factor * sqrt(GYPSUM_SAFE / product) for product in gypsum.values()]
    return Stock(
        parts=tuple(made),
        clashes=tuple(meet),
        gypsum=gypsum,
        factor=factor,
        highest=min(ends, default=float("inf")),
    )


def gypsum_product(parts: Collection[Part], tank: str) -> float:
    """Return calcium times sulfate in a tank, (mmol/L)²; see GYPSUM_SAFE and GYPSUM_DROPS."""
    calcium, sulfate = (
        sum(
            part.per_litre / of(part.salt).molar_mass * 1000 * of(part.salt).ions.get(ion, 0.0)
            for part in parts
            if part.tank == tank
        )
        for ion in ("Ca+2", "SO4-2")
    )
    return calcium * sulfate
