"""Atomic weights, and what a chemical formula counts up to.

Masses in g/mol. The weights are the abridged standard atomic weights of IUPAC (Prohaska et al. 2022,
Pure and Applied Chemistry 94(5):573-600, figures from memory); where IUPAC gives an interval, the
conventional value. A formula may have brackets, water of crystallisation behind a dot and a charge:
'Ca(NO3)2·4H2O', '5Ca(NO3)2.NH4NO3.10H2O', 'SO4-2'.
"""

import re
from collections.abc import Iterator, Mapping
from functools import cache
from types import MappingProxyType

WEIGHTS: Mapping[str, float] = MappingProxyType(
    {
        "H": 1.008,
        "Li": 6.94,
        "B": 10.81,
        "C": 12.011,
        "N": 14.007,
        "O": 15.999,
        "F": 18.998403,
        "Na": 22.989769,
        "Mg": 24.305,
        "Al": 26.981538,
        "Si": 28.085,
        "P": 30.973762,
        "S": 32.06,
        "Cl": 35.45,
        "K": 39.0983,
        "Ca": 40.078,
        "Mn": 54.938043,
        "Fe": 55.845,
        "Co": 58.933194,
        "Ni": 58.6934,
        "Cu": 63.546,
        "Zn": 65.38,
        "Se": 78.971,
        "Br": 79.904,
        "Mo": 95.95,
        "I": 126.90447,
    }
)
"""g/mol of the elements that occur in salts, water and plants."""

NAMES: Mapping[str, str] = MappingProxyType(
    {
        "H": "hydrogen",
        "Li": "lithium",
        "B": "boron",
        "C": "carbon",
        "N": "nitrogen",
        "O": "oxygen",
        "F": "fluorine",
        "Na": "sodium",
        "Mg": "magnesium",
        "Al": "aluminium",
        "Si": "silicon",
        "P": "phosphorus",
        "S": "sulfur",
        "Cl": "chlorine",
        "K": "potassium",
        "Ca": "calcium",
        "Mn": "manganese",
        "Fe": "iron",
        "Co": "cobalt",
        "Ni": "nickel",
        "Cu": "copper",
        "Zn": "zinc",
        "Se": "selenium",
        "Br": "bromine",
        "Mo": "molybdenum",
        "I": "iodine",
    }
)

_PLAIN = str.maketrans({**dict(zip("₀₁₂₃₄₅₆₇₈₉", "0123456789", strict=True)), **dict.fromkeys("•∙⋅*", "·")})
_RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻−–", "0123456789+---")
_TOKEN = re.compile(r"([A-Z][a-z]?)|([(\[])|([)\]])|(\d+)|([·.])")
_CHARGE = re.compile(r"(?P<signs>\++|-+)(?P<size>\d*)$")


def counts(formula: str) -> Mapping[str, float]:
    """Return how many atoms of each element one formula unit has, in the order in which they stand.

    A number in front of a part counts for the whole part ('10H2O', '0.5H2O'). Raises ValueError that
    names what cannot be read, or an element that is not in `WEIGHTS`.
    """
    return _read(formula)[0]


def charge(formula: str) -> int:
    """Return the charge of an ion: 2 for 'Ca+2', 'Ca2+' or 'Ca++', -2 for 'SO4-2', 'SO4--' or 'SO4^2-'.

    A digit right before a single sign belongs to the charge of a lone atom ('Ca2+') and to the atoms of a
    group ('NH4+'); of two such digits the second one is the charge ('SO42-'). Raises ValueError.
    """
    return _read(formula)[1]


def molar_mass(formula: str) -> float:
    """Return the molar mass of a formula unit, g/mol; the electrons of an ion are not weighed. Raises ValueError."""
    return sum(WEIGHTS[element] * count for element, count in counts(formula).items())


def fractions(formula: str) -> dict[str, float]:
    """Return the mass fraction of each element, 0 to 1; together they are 1. Raises ValueError."""
    whole = molar_mass(formula)
    return {element: WEIGHTS[element] * count / whole for element, count in counts(formula).items()}


@cache
def _read(formula: str) -> tuple[Mapping[str, float], int]:
    text, size = _uncharged("".join(formula.translate(_PLAIN).split()))
    if not text:
        raise ValueError(f"'{formula}' is no chemical formula")
    found: dict[str, float] = {}
    for part in _parts(text, formula):
        for element, count in _part(part, formula).items():
            found[element] = found.get(element, 0) + count
    return MappingProxyType(found), size


def _uncharged(text: str) -> tuple[str, int]:
    """Take the charge off the end of a formula."""
    text = text.translate(_RAISED)
    sign = -1 if text.endswith("-") else 1
    raised = re.search(r"\^(\d*)([+-])$|\^([+-])(\d*)$", text)
    if raised:
        sign = -1 if "-" in raised.group() else 1
        return text[: raised.start()], sign * int(raised.group(1) or raised.group(4) or 1)
    found = _CHARGE.search(text)
    if not found:
        return text, 0
    signs, rest = found["signs"], text[: found.start()]
    sign = -1 if signs[0] == "-" else 1
    if found["size"] or len(signs) > 1:
        return rest, sign * (int(found["size"]) if found["size"] else len(signs))
    lone = re.fullmatch(r"([A-Z][a-z]?)(\d)", rest) or re.fullmatch(r"(.*\d)(\d)", rest)
    return (lone[1], sign * int(lone[2])) if lone else (rest, sign)


def _parts(text: str, formula: str) -> Iterator[list[str | int | float]]:
    """Split at the dots; each part is its multiple and then its tokens."""
    position = 0
    while position <= len(text):
        ahead = re.compile(r"\d+(?:\.\d+(?=[A-Z(\[]))?").match(text, position)
        tokens: list[str | int | float] = [float(ahead.group()) if ahead else 1.0]
        position = ahead.end() if ahead else position
        while position < len(text):
            token = _TOKEN.match(text, position)
            if token is None:
                raise ValueError(f"'{formula}' is no chemical formula: '{text[position]}' has no place in it")
            position = token.end()
            if token[5]:
                break
            tokens.append(int(token[4]) if token[4] else "(" if token[2] else ")" if token[3] else token[1])
        else:
            position += 1
        if len(tokens) == 1:
            raise ValueError(f"'{formula}' is no chemical formula: a part of it is empty")
        yield tokens


def _part(tokens: list[str | int | float], formula: str) -> dict[str, float]:
    """Count the atoms of one part: a stack of open brackets, and what the next number multiplies."""
    stack: list[dict[str, float]] = [{}]
    last: dict[str, float] = {}
    for token in [*tokens[1:], ""]:
        if isinstance(token, int):
            if not last or token == 0:
                raise ValueError(f"'{formula}' is no chemical formula: {token} counts nothing")
            last = {element: count * token for element, count in last.items()}
            _add(stack[-1], last)
            last = {}
            continue
        _add(stack[-1], last)
        last = {}
        if token == "(":
            stack.append({})
        elif token == ")":
            if len(stack) == 1:
                raise ValueError(f"'{formula}' is no chemical formula: a bracket is closed that was never opened")
            last = stack.pop()
        elif token:
            if token not in WEIGHTS:
                raise ValueError(f"'{formula}' has '{token}' in it, which is no element known here")
            last = {str(token): 1.0}
    if len(stack) > 1:
        raise ValueError(f"'{formula}' is no chemical formula: a bracket is not closed")
    return {element: count * float(tokens[0]) for element, count in stack[0].items()}


def _add(total: dict[str, float], more: Mapping[str, float]) -> None:
    for element, count in more.items():
        total[element] = total.get(element, 0) + count
