"""The salts a nutrient solution is made of: what is in each, how well it dissolves, how it hurts.

Fractions are g of the element per g of salt and follow from the formula, unless the table beside this
file gives a label's `percent`: a label always wins. Solubility in g per litre of water at 20 °C.
"""

import difflib
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any, Literal

from msgspec import Struct

from walkabout.growing import formulas
from walkabout.growing.elements import WEIGHTS, charge, counts, fractions, molar_mass

Class = Literal["calcium", "sulfate", "phosphate", "chelate", "either", "alone"]
"""What decides in which stock tank a salt may go; 'alone': in no stock, by itself into the solution."""

SHIPPED = Path(__file__).with_name("salts.toml")

_SOLUBLE = {
    "reprint": "table reprinted on a growers' page, primary source not named",
    "memory": "handbook tables of inorganic salts, from memory",
}
_FROM_FORMULA = "formula, with the standard atomic weights of IUPAC"
_NOT_SHOWN = ("H", "C", "O")
_STRANGER = "Not in the table here: an adult reads its safety data sheet; the school's risk assessment decides."


class Salt(Struct, frozen=True, kw_only=True):
    """One salt, or one labelled product."""

    key: str
    """'calcium-nitrate'."""
    name: str
    formula: str
    """As written in a book: 'Ca(NO3)2·4H2O'. Of a labelled product: of the pure salt that is in it."""
    molar_mass: float
    """g/mol, of the formula."""
    elements: Mapping[str, float]
    """Mass fraction by symbol, without hydrogen, carbon and oxygen."""
    nitrate_n: float = 0.0
    """Mass fraction of nitrogen as nitrate; likewise the next two. Nitrogen inside a chelate is none of them."""
    ammonium_n: float = 0.0
    urea_n: float = 0.0
    ions: Mapping[str, float] = {}
    """mol of each ion that `molar_mass` g of it sets free; of chelates none, for their share in the EC is small."""
    solubility: float | None = None
    """g/L at 20 °C; None when no figure was found."""
    solubility_source: str = ""
    with_: Class = "either"
    caution: str = ""
    danger: str = ""
    """Which of the table's cautions that is: 'oxidiser', 'boron'; 'stranger' for a salt that is in no table."""
    others: tuple[str, ...] = ()
    note: str = ""
    source: str = _FROM_FORMULA
    """How the fractions are known."""
    label: bool = False
    """Whether the fractions are those of a label."""


class Salts:
    """The table: found by key, name, formula or another name."""

    def __init__(self, salts: tuple[Salt, ...]) -> None:
        """Index the salts by every way of writing them; a labelled product is not found by its formula."""
        self._salts = salts
        self._by_name: dict[str, Salt] = {}
        for salt in salts:
            for name in names_of(salt):
                self._by_name.setdefault(_plain(name), salt)

    def __iter__(self) -> Iterator[Salt]:
        """Go through the salts in the order of the table."""
        return iter(self._salts)

    def __len__(self) -> int:
        """Return how many there are."""
        return len(self._salts)

    def find(self, text: str) -> Salt | None:
        """Return the salt written so (key, name, formula, other name; capitals, dots and dashes do not count)."""
        return self._by_name.get(_plain(text))

    def nearest(self, text: str) -> tuple[Salt, ...]:
        """Return up to three salts whose names look like the text, the most alike first."""
        wanted = _plain(text)
        close = difflib.get_close_matches(wanted, self._by_name, n=6, cutoff=0.6)
        inside = [name for name in self._by_name if len(wanted) > 2 and wanted in name]
        found = {self._by_name[name].key: self._by_name[name] for name in (*close, *inside)}
        return tuple(found.values())[:3]

    def known(self, text: str) -> Salt:
        """Return the salt written so, or one that the text itself is the formula of.

        Raises ValueError, naming the nearest, for what is neither.
        """
        found = self.find(text)
        if found is not None:
            return found
        try:
            return from_formula(text)
        except ValueError:
            pass
        near = self.nearest(text)
        hint = f"did you mean {' or '.join(salt.key for salt in near)}?" if near else "write its name or its formula"
        raise ValueError(f"no salt is called '{text.strip()}': {hint}")

    def feed(self, text: str) -> Salt:
        """Return the salt written so, as `known` does, if it may be weighed into a nutrient solution.

        Raises ValueError for acids, bases that stand in no table, bleach and poisons too.
        """
        found = self.find(text)
        if found is not None:
            return found
        why = formulas.no_feed(text)
        if why:
            raise ValueError(f"{text.strip()} is {why}")
        return self.known(text)


@cache
def load() -> Salts:
    """Return the shipped table, read once."""
    table = tomllib.loads(SHIPPED.read_text(encoding="utf-8"))
    return Salts(tuple(_salt(key, entry, table["caution"]) for key, entry in table["salt"].items()))


@cache
def from_formula(formula: str) -> Salt:
    """Return a salt that is in no table, from its formula alone; nitrogen as nitrate or ammonium where it says so.

    Its ions are known where it is made of the usual groups (nitrate, sulfate, chloride, phosphate …), and so
    is what it may share a stock tank with. Raises ValueError for what is no formula of a neutral compound of
    known elements.
    """
    plain = formulas.written(formula)
    if charge(formula):
        raise ValueError(f"'{formula}' is an ion, no salt")
    if len(counts(formula)) < 2:
        raise ValueError(f"'{formula}' is an element, no salt")
    ions = formulas.ions(plain)
    return Salt(
        key=plain,
        name=plain,
        formula=plain,
        molar_mass=molar_mass(formula),
        ions=ions,
        with_=_class_of(ions),
        caution=_STRANGER,
        danger="stranger",
        **_held(formula),
    )


def names_of(salt: Salt) -> tuple[str, ...]:
    """Return every way of writing a salt under which it is found."""
    return (salt.key, salt.name, *(() if salt.label else (salt.formula,)), *salt.others)


def _salt(key: str, entry: Mapping[str, Any], cautions: Mapping[str, str]) -> Salt:
    formula, label = entry["formula"], "percent" in entry
    held = _of_label(entry) if label else {**_held(formula), "ions": entry["ions"]}
    return Salt(
        key=key,
        name=entry["name"],
        formula=formula,
        molar_mass=molar_mass(formula),
        solubility=entry.get("solubility"),
        solubility_source=_SOLUBLE.get(entry.get("solubility_source", ""), ""),
        with_=entry["with"],
        caution=cautions[entry["caution"]],
        danger=entry["caution"],
        others=tuple(entry["others"]),
        note=entry.get("note", ""),
        source=entry.get("percent_source", _FROM_FORMULA),
        label=label,
        **held,
    )


def _held(formula: str) -> dict[str, Any]:
    """Return the fractions that follow from a formula, and the forms of its nitrogen."""
    whole = molar_mass(formula)
    nitrogen = WEIGHTS["N"] / whole
    return {
        "elements": {element: part for element, part in fractions(formula).items() if element not in _NOT_SHOWN},
        "nitrate_n": nitrogen * _groups(formula, "NO3"),
        "ammonium_n": nitrogen * _groups(formula, "NH4"),
        "urea_n": 2 * nitrogen * _groups(formula, "CO(NH2)2"),
    }


def _class_of(ions: Mapping[str, float]) -> Class:
    """Return what decides the tank of a salt with these ions; two that part from each other go into none."""
    kinds: dict[str, Class] = {"Ca+2": "calcium", "SO4-2": "sulfate", "H2PO4-": "phosphate", "HPO4-2": "phosphate"}
    if any(ion in ions for ion in ("CO3-2", "HCO3-", "OH-")):
        return "alone"
    found = {kinds[ion] for ion in ions if ion in kinds}
    if "calcium" in found and len(found) > 1:
        return "alone"
    return min(found, default="either")


def _of_label(entry: Mapping[str, Any]) -> dict[str, Any]:
    """Return the fractions that a label gives, and the ions that go with them."""
    percent = entry["percent"]
    nitrate, ammonium = entry.get("nitrate_n", 0.0) / 100, entry.get("ammonium_n", 0.0) / 100
    whole = molar_mass(entry["formula"])
    amounts = {"Ca+2": percent.get("Ca", 0.0) / 100 / WEIGHTS["Ca"]}
    amounts |= {"NH4+": ammonium / WEIGHTS["N"], "NO3-": nitrate / WEIGHTS["N"]}
    return {
        "elements": {element: value / 100 for element, value in percent.items()},
        "nitrate_n": nitrate,
        "ammonium_n": ammonium,
        "ions": {ion: whole * amount for ion, amount in amounts.items() if amount},
    }


def _groups(formula: str, group: str) -> float:
    """Count a group in a formula: it is swapped for an element that no salt of ours has."""
    return counts(formula.replace(group, "Li")).get("Li", 0.0) if group in formula else 0.0


def _plain(text: str) -> str:
    plain = "".join(one for one in text.translate(_SUBSCRIPTS).casefold() if one.isalnum())
    return plain.replace("sulph", "sulf")


_SUBSCRIPTS = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")
