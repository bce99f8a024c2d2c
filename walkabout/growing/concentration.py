"""How much of something is in water, in every unit a recipe, a label or a water report has it.

A species is an element, an ion, an oxide of a label or calcium carbonate, in which alkalinity and hardness
are counted. mg/L = mmol/L × molar mass, meq/L = mmol/L × charge; in thin solutions ppm means mg/L.
"""

import difflib
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from msgspec import Struct

from walkabout.growing.elements import NAMES, WEIGHTS, charge, counts, molar_mass
from walkabout.growing.limits import within


class Species(Struct, frozen=True):
    """Something that is counted in water or on a label."""

    name: str
    """'NO3', 'NO3-N', 'K2O', 'CaCO3'."""
    mass: float
    """g for each mol of it."""
    charge: int | None
    """How many charges each mol has, without the sign; None when it has none of its own."""
    element: str
    """The element that it is counted for: N of NO3."""
    atoms: float
    """How many atoms of that element each mol has."""
    ion: str = ""
    """As what it swims in a nutrient solution near pH 6: 'NO3-' for NO3 and for NO3-N."""


_IONS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        # name -> the ion that it is, and the element that it is counted for
        "NO3": ("NO3-", "N"),
        "NO2": ("NO2-", "N"),
        "NH4": ("NH4+", "N"),
        "H2PO4": ("H2PO4-", "P"),
        "HPO4": ("HPO4-2", "P"),
        "PO4": ("PO4-3", "P"),
        "SO4": ("SO4-2", "S"),
        "HCO3": ("HCO3-", "C"),
        "CO3": ("CO3-2", "C"),
        "OH": ("OH-", "H"),
        "MoO4": ("MoO4-2", "Mo"),
    }
)
_LONE: Mapping[str, str] = MappingProxyType(
    {
        # element -> as what it swims
        "K": "K+",
        "Na": "Na+",
        "Ca": "Ca+2",
        "Mg": "Mg+2",
        "Mn": "Mn+2",
        "Zn": "Zn+2",
        "Cu": "Cu+2",
        "Cl": "Cl-",
        "F": "F-",
        "H": "H+",
        "P": "H2PO4-",
        "S": "SO4-2",
        "Mo": "MoO4-2",
    }
)
_OXIDES: Mapping[str, str] = MappingProxyType(
    {
        "P": "P2O5",
        "K": "K2O",
        "Ca": "CaO",
        "Mg": "MgO",
        "S": "SO3",
        "Na": "Na2O",
        "Si": "SiO2",
        "B": "B2O3",
        "Fe": "Fe2O3",
        "Mn": "MnO",
        "Zn": "ZnO",
        "Cu": "CuO",
        "Mo": "MoO3",
    }
)
"""Element -> the oxide in which labels count it."""

_PARTS = ("NO3-N", "NO2-N", "NH4-N", "PO4-P", "SO4-S")
_OTHERS: Mapping[str, str] = MappingProxyType(
    {
        "nitrate": "NO3",
        "nitrite": "NO2",
        "ammonium": "NH4",
        "phosphate": "PO4",
        "sulfate": "SO4",
        "sulphate": "SO4",
        "chloride": "Cl",
        "bicarbonate": "HCO3",
        "hydrogen carbonate": "HCO3",
        "carbonate": "CO3",
        "alkalinity": "CaCO3",
        "hardness": "CaCO3",
        "calcium carbonate": "CaCO3",
        "nitrate-n": "NO3-N",
        "n-no3": "NO3-N",
        "ammonium-n": "NH4-N",
        "n-nh4": "NH4-N",
        "nitrite-n": "NO2-N",
        "phosphate-p": "PO4-P",
        "sulfate-s": "SO4-S",
        "sulphur": "S",
        "phosphoric oxide": "P2O5",
        "potash": "K2O",
        "lime": "CaO",
        "magnesia": "MgO",
        "silica": "SiO2",
        "dihydrogen phosphate": "H2PO4",
    }
)

UNITS: Mapping[str, tuple[str, float]] = MappingProxyType(
    {
        # unit -> what it counts (mass, mol or charges), and how many mg, mmol or meq per litre it is
        "mg/L": ("mass", 1.0),
        "g/L": ("mass", 1000.0),
        "µg/L": ("mass", 1e-3),
        "mmol/L": ("mol", 1.0),
        "mol/L": ("mol", 1000.0),
        "µmol/L": ("mol", 1e-3),
        "meq/L": ("charge", 1.0),
        "mg/L CaCO3": ("charge", 2 / 100.086),
        "°dH": ("charge", 2 * 10 / 56.077),
        "°fH": ("charge", 2 * 10 / 100.086),
        "gpg": ("charge", 2 * 17.118 / 100.086),
    }
)
"""A German degree is 10 mg/L of CaO, a French one 10 mg/L of CaCO3, a grain per US gallon 17.118 mg/L of it."""


@cache
def every() -> Mapping[str, Species]:
    """Return all species by name."""
    found: dict[str, Species] = {}
    for symbol, weight in WEIGHTS.items():
        ion = _LONE.get(symbol, "")
        found[symbol] = Species(symbol, weight, abs(charge(ion)) if ion else None, symbol, 1, ion)
    for name, (ion, element) in _IONS.items():
        found[name] = Species(name, molar_mass(name), abs(charge(ion)), element, 1, ion)
    for name in _PARTS:
        whole, _, element = name.partition("-")
        ion = "H2PO4-" if element == "P" else _IONS[whole][0]
        found[name] = Species(name, WEIGHTS[element], abs(charge(ion)), element, 1, ion)
    for element, oxide in _OXIDES.items():
        found[oxide] = Species(oxide, molar_mass(oxide), None, element, counts(oxide)[element])
    found["FeO"] = Species("FeO", molar_mass("FeO"), None, "Fe", 1)
    found["CaCO3"] = Species("CaCO3", molar_mass("CaCO3"), 2, "Ca", 1)
    return MappingProxyType(found)


def species(text: str) -> Species:
    """Return the species written so: 'K', 'potassium', 'NO3-', 'nitrate', 'NO3-N', 'P2O5', 'alkalinity'.

    Raises ValueError that names the nearest.
    """
    known, wanted = every(), " ".join(text.strip().replace("_", " ").split())
    plain = {_plain(name): name for name in known}
    plain |= {_plain(name): symbol for symbol, name in NAMES.items()}
    plain |= {_plain(name): meant for name, meant in _OTHERS.items()}
    found = plain.get(_plain(wanted)) if not wanted.endswith(("+", "-")) else None
    found = found or _by_ion().get(_read(wanted)) or plain.get(_plain(wanted))
    if found:
        return known[found]
    near = difflib.get_close_matches(_plain(wanted), plain, n=1, cutoff=0.6)
    hint = f"did you mean {plain[near[0]]}?" if near else "write an element, an ion or an oxide: K, NO3, P2O5"
    raise ValueError(f"'{text.strip()}' is not known here: {hint}")


def oxide_of(element: str) -> str:
    """Return the oxide in which labels count an element; raises KeyError for one that they count as itself."""
    return _OXIDES[element]


def millimoles(value: float, of: Species, unit: str) -> float:
    """Return how many mmol/L of a species a value in one of `UNITS` is.

    Raises OutOfRange below 0, ValueError for charges of something that has none.
    """
    within(f"the amount of {of.name}", value, 0, 1e9, unit)
    counted, size = UNITS[unit]
    return value * size / _per_mmol(of, counted)


def amount(mmol: float, of: Species, unit: str) -> float:
    """Return mmol/L of a species in one of `UNITS`; raises ValueError for charges of something that has none."""
    counted, size = UNITS[unit]
    return mmol * _per_mmol(of, counted) / size


def counted_as(mmol: float, of: Species, other: Species) -> float:
    """Return the mmol/L of another species that hold as much: NO3 as N, P as P2O5, HCO3 as CaCO3.

    Alkalinity and hardness go by their charges, everything else by the atoms of the element that both
    hold. Raises ValueError for two that are not the same thing.
    """
    if of == other:
        return mmol
    if _by_charge(of, other):
        return mmol * (of.charge or 0) / (other.charge or 1)
    both_ions = _whole(of) in _IONS and _whole(other) in _IONS and of.element in ("N", "C")
    if of.element != other.element or (both_ions and _whole(of) != _whole(other)):
        raise ValueError(f"{of.name} cannot be counted as {other.name}: they are not the same thing")
    return mmol * of.atoms / other.atoms


def mass_ratio(of: Species, other: Species) -> float:
    """Return how many g of the other species hold as much as 1 g of this one: P2O5 to P is 0.4364.

    Raises ValueError for two that are not the same thing.
    """
    return counted_as(1.0, of, other) * other.mass / of.mass


def _per_mmol(of: Species, counted: str) -> float:
    """Return how many mg, mmol or meq one mmol of it is."""
    if counted == "charge" and of.charge is None:
        which = "write NO3 or NH4" if of.element == "N" else "use mg/L or mmol/L"
        raise ValueError(f"{of.name} has no charge of its own, so there are no meq/L of it: {which}")
    return {"mass": of.mass, "mol": 1.0, "charge": float(of.charge or 0)}[counted]


def _by_charge(of: Species, other: Species) -> bool:
    pair = {of.name, other.name}
    return ("CaCO3" in pair and bool(pair & {"HCO3", "CO3", "OH", "Mg", "Ca"})) or pair == {"HCO3", "CO3"}


def _whole(one: Species) -> str:
    """Return the ion's name behind 'NO3-N', and the name itself of all else."""
    return one.name.partition("-")[0]


@cache
def _by_ion() -> Mapping[tuple[frozenset[tuple[str, float]], int], str]:
    """Return the name of each ion by its atoms and its charge, however it is written."""
    ions = {ion: name for name, ion in _LONE.items() if name == ion.rstrip("+-0123456789")}
    ions |= {ion: name for name, (ion, _) in _IONS.items()}
    return {_read(ion): name for ion, name in ions.items()}


def _read(ion: str) -> tuple[frozenset[tuple[str, float]], int]:
    try:
        return frozenset(counts(ion).items()), charge(ion)
    except ValueError:
        return frozenset(), 0


def _plain(text: str) -> str:
    return "".join(one for one in text.casefold() if one.isalnum())
