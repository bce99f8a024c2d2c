"""What a formula alone tells of a substance: the ions it sets free, and whether it may be weighed into a feed.

For salts that stand in no table. Acids, bases, bleach and poisons have formulas too: they are known by the
groups of atoms in them, and refused where a salt is asked for.
"""

import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from walkabout.growing.elements import charge, counts

_PLUS: Mapping[str, str] = MappingProxyType(
    {
        "NH4": "NH4+",
        **{name: f"{name}+" for name in ("K", "Na")},
        **{name: f"{name}+2" for name in ("Ca", "Mg", "Mn", "Zn", "Cu", "Fe")},
    }
)
_MINUS: Mapping[str, tuple[str, int]] = MappingProxyType(
    {
        # group -> the ion it becomes in water near pH 6, and how many of it
        "NO3": ("NO3-", 1),
        "SO4": ("SO4-2", 1),
        "Cl": ("Cl-", 1),
        "H2PO4": ("H2PO4-", 1),
        "HPO4": ("HPO4-2", 1),
        "HCO3": ("HCO3-", 1),
        "CO3": ("CO3-2", 1),
        "MoO4": ("MoO4-2", 1),
        "B4O7": ("B(OH)4-", 2),
    }
)
_ANION = "|".join(sorted(_MINUS, key=len, reverse=True))
_SALT = re.compile(
    rf"(?P<times>\d*)(?P<plus>(?:\(NH4\)\d*|NH4|(?:Na|Ca|Mg|Mn|Zn|Cu|Fe|K)\d*)+)"
    rf"(?P<minus>(?:\((?:{_ANION})\)\d*|(?:{_ANION})(?!\d)|Cl\d*)+)"
)
_GROUP = re.compile(rf"\(?(NH4|{_ANION}|Na|Ca|Mg|Mn|Zn|Cu|Fe|K)\)?(\d*)")
_WATER = re.compile(r"·(?:\d+(?:\.\d+)?)?H2O")

_PLAIN = str.maketrans("₀₁₂₃₄₅₆₇₈₉•∙⋅*", "0123456789····")

_NO_METAL = frozenset(("H", "B", "C", "N", "O", "F", "Si", "P", "S", "Cl", "Se", "Br", "I"))

_ACID = "an acid, no salt to feed with: an adult measures it out, and 'acid' works out its dose"
_BASE = "a strong base, no salt to feed with: an adult measures it out, and 'base' works out its dose"
_BLEACH = "bleach, no salt to feed with: an adult uses it for cleaning, and 'bleach' works out how much"
_POISON = "dangerous and no plant food: leave it out"
_OXIDE = "an oxide, no salt to feed with: it does not simply dissolve, and some burn the skin"

_NAMES: Mapping[str, str] = MappingProxyType(
    {
        **dict.fromkeys(
            (
                *("nitric acid", "sulfuric acid", "sulphuric acid", "phosphoric acid", "orthophosphoric acid"),
                *("hydrochloric acid", "muriatic acid", "citric acid", "acetic acid", "vinegar", "battery acid"),
                *("ph down", "C6H8O7", "C6H8O7·H2O", "CH3COOH", "C2H4O2", "HNO3", "H2SO4", "H3PO4", "HCl"),
            ),
            _ACID,
        ),
        **dict.fromkeys(
            ("sodium hydroxide", "caustic soda", "lye", "ammonia", "NH3", "NaOH", "ammonium hydroxide"), _BASE
        ),
        **dict.fromkeys(("quicklime", "burnt lime", "calcium oxide"), _OXIDE),
        **dict.fromkeys(
            ("bleach", "household bleach", "sodium hypochlorite", "calcium hypochlorite", "pool chlorine"), _BLEACH
        ),
    }
)
_RULES: tuple[tuple[re.Pattern[str], str], ...] = (
    (re.compile(r"ClO(?!\d)|OCl"), _BLEACH),
    (re.compile(r"ClO\d|BrO|IO\d|MnO4|CN(?![a-z])|NO2(?!\d)|F(?!e)|Se"), _POISON),
    (re.compile(r"HSO4"), _ACID),
    (re.compile(r"(?<!CO)OH(?![a-z])|SiO[34]"), _BASE),
)
"""Groups of atoms, and what has them; the first that fits counts."""


def written(formula: str) -> str:
    """Return a formula with raised dots between its parts: 'MgSO4.7H2O' as 'MgSO4·7H2O', 'CaSO4.0.5H2O' too."""
    plain = "".join(formula.split()).translate(_PLAIN)
    return re.sub(r"\.(?=\d+\.\d+[A-Z(])|(?<![·.]\d)\.", "·", plain)


def ions(formula: str) -> dict[str, float]:
    """Return mol of each ion that a mol of a neutral salt sets free in water near pH 6.

    Empty where a part of it is none of the groups known here, or where the charges would not cancel.
    """
    found: dict[str, float] = {}
    for part in _parts(formula):
        whole = _SALT.fullmatch(part)
        if whole is None:
            return {}
        times = int(whole["times"] or 1)
        for group, many in _GROUP.findall(whole["plus"] + whole["minus"]):
            ion, each = _MINUS[group] if group in _MINUS else (_PLUS[group], 1)
            found[ion] = found.get(ion, 0.0) + times * each * int(many or 1)
    if _sum(found) and "Fe+2" in found:
        found = {("Fe+3" if ion == "Fe+2" else ion): amount for ion, amount in found.items()}
    return found if _sum(found) == 0 else {}


def no_feed(text: str) -> str:
    """Return why a substance, written as a name or as a formula, is nothing to weigh into a feed; empty if it may be.

    The reason follows on 'it is'. A name that is no formula, and not known as one of the dangerous ones, may be.
    """
    name = " ".join(text.casefold().replace("-", " ").replace("_", " ").split())
    for known, why in _NAMES.items():
        if name == known.casefold() or written(text) == known:
            return why
    try:
        reasons = [_reason(part) for part in _parts(written(text))]
    except ValueError:
        return ""
    return next((why for why in reasons if why), "")


def _reason(part: str) -> str:
    atoms = counts(part)
    metals = set(atoms) - _NO_METAL
    for pattern, why in _RULES:
        if pattern.search(part) and (metals or "NH4" in part or why is not _BASE):
            return why
    if metals and set(atoms) <= metals | {"O"}:
        return _OXIDE
    if metals and len(set(atoms) - metals) == 1 and set(atoms) & {"N", "S", "H", "C", "P"}:
        return _POISON
    if metals or "NH4" in part or part == "CO(NH2)2":
        return ""
    acid = part.startswith("H") and len(atoms) > 1 and part not in ("H2O", "H2O2")
    return _ACID if acid or "COOH" in part else "no salt: it has neither a metal nor ammonium in it"


def _parts(formula: str) -> Iterator[str]:
    """Return the parts between the dots without the water of crystallisation; plain water itself is a part."""
    yield from (part for part in _WATER.sub("", formula).split("·") if part)


def _sum(found: Mapping[str, float]) -> float:
    return sum(charge(ion) * amount for ion, amount in found.items())
