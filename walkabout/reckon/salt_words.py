"""What the reckonings with salts share: the names people type, and the words about weighing."""

from collections.abc import Callable, Mapping
from difflib import get_close_matches
from math import floor, log10

from walkabout.growing import mixing
from walkabout.growing.elements import NAMES, fractions
from walkabout.growing.limits import OutOfRange
from walkabout.reckon.model import Result
from walkabout.reckon.write import digits, number

BY_WEIGHTS = "atomic weights of IUPAC (abridged standard values)"
EDIBLE = "Mattson 2018, e-GRO Edible Alert 3(5)"

OXIDES = {"P2O5": "P", "K2O": "K", "CaO": "Ca", "MgO": "Mg", "SO3": "S"}
"""What a label counts in -> the element that is meant."""

_CONTENTS = {
    **{name.casefold(): name for name in mixing.CONTENTS},
    **{NAMES[name]: name for name in mixing.ELEMENTS},
    **dict.fromkeys(("sulphur",), "S"),
    **dict.fromkeys(("chloride",), "Cl"),
    **dict.fromkeys(("nitraten", "no3n", "nno3", "nitratenitrogen"), "nitrate_n"),
    **dict.fromkeys(("ammoniumn", "nh4n", "nnh4", "ammoniumnitrogen"), "ammonium_n"),
    **dict.fromkeys(("urean", "ureanitrogen"), "urea_n"),
}

_IN_WATER = {
    "no3": ("nitrate_n", "NO3"),
    "nitrate": ("nitrate_n", "NO3"),
    "nh4": ("ammonium_n", "NH4"),
    "ammonium": ("ammonium_n", "NH4"),
    "so4": ("S", "SO4"),
    "sulfate": ("S", "SO4"),
    "po4": ("P", "PO4"),
    "phosphate": ("P", "PO4"),
}
"""What a water report counts in -> the content that is meant, and the formula it is a part of."""

_BICARBONATE = ("hco3", "bicarbonate", "hydrogencarbonate")
_ALKALINITY = ("alkalinity", "alk", "caco3")


def salt(typed: str) -> str:
    """Return the key of the salt that was typed; raises ValueError that names the nearest."""
    return mixing.of(typed).key


def content(typed: str) -> str:
    """Return the symbol or form of nitrogen ('N', 'nitrate_n') that was typed.

    Raises ValueError for an oxide, saying which element and factor are meant, and for what is unknown.
    """
    plain = _plain(typed)
    for oxide, element in OXIDES.items():
        if plain == oxide.casefold():
            raise ValueError(
                f"{oxide} is how a label counts: give the element, {element} = {oxide} × {oxide_factor(oxide):.4f}"
            )
    names = {_plain(name): kept for name, kept in _CONTENTS.items()}
    if plain in names:
        return names[plain]
    near = get_close_matches(plain, names, n=1, cutoff=0.6)
    hint = f"did you mean {names[near[0]]}?" if near else f"known are {', '.join(mixing.CONTENTS)}"
    raise ValueError(f"'{typed}' is no element that is counted here: {hint}")


def percent(typed: str) -> str:
    """Return the content or oxide of a label that was typed: 'Ca', 'P2O5'. Raises ValueError."""
    for oxide in OXIDES:
        if _plain(typed) == oxide.casefold():
            return oxide
    return content(typed)


def oxide_factor(oxide: str) -> float:
    """Return g of the element in a g of the oxide: P2O5 0.4364, K2O 0.8301."""
    return fractions(oxide)[OXIDES[oxide]]


def as_element(name: str, value: float) -> tuple[str, float]:
    """Turn a label's percentage of an oxide into that of the element; others stay as they are."""
    return (OXIDES[name], value * oxide_factor(name)) if name in OXIDES else (name, value)


def unit_in_mix(name: str) -> str:
    """Return the unit of what a mix takes: g of a salt, % of a label, mg/L (alkalinity: of CaCO3) in the water."""
    return unit_in_recipe(name) if name.startswith("water_") else "%" if ":" in name else "g"


def unit_in_recipe(name: str) -> str:
    """Return the unit of a target or of what the water holds: mg/L, of CaCO3 for its alkalinity."""
    return "mg/L CaCO3" if name == "water_alkalinity" else "mg/L"


def is_water(typed: str) -> bool:
    """Say whether a key is about the water: 'water_Ca'."""
    return typed.casefold().replace("-", "_").startswith("water_")


def in_water(typed: str) -> str:
    """Return 'water_Ca' as the reckonings know it, whichever way it was typed; raises ValueError."""
    name = typed.replace("-", "_").split("_", 1)[1]
    plain = _plain(name)
    if plain in _IN_WATER:
        return f"water_{_IN_WATER[plain][1]}"
    if plain in _BICARBONATE:
        return "water_HCO3"
    if plain in _ALKALINITY:
        return "water_alkalinity"
    return f"water_{content(name)}"


def water_of(amounts: Mapping[str, float]) -> dict[str, float]:
    """Return what the water holds, mg/L by content (and HCO3), from amounts keyed 'water_…'.

    Nitrate, ammonium, sulfate and phosphate are turned into their element, alkalinity (mg/L CaCO3) into HCO3.
    """
    found: dict[str, float] = {}
    for key, value in amounts.items():
        if not key.startswith("water_"):
            continue
        name, share = key.removeprefix("water_"), 1.0
        for kept, formula in _IN_WATER.values():
            if name == formula:
                name, share = kept, fractions(formula)["N" if kept.endswith("_n") else kept]
        if name == "alkalinity":
            # 1 meq of alkalinity is 50.04 mg of calcium carbonate and 61.017 mg of hydrogen carbonate.
            name, share = "HCO3", 61.017 / 50.04
        found[name] = found.get(name, 0.0) + value * share
    return found


def given(mixed: mixing.Mixed, prefix: str = "") -> dict[str, Result]:
    """Return the contents as results: the six main ones always, the others where there are any."""
    shown = [
        name
        for name in mixing.CONTENTS
        if mixed.contents[name] > 0 or name in mixing.MAJOR or name in ("nitrate_n", "ammonium_n")
    ]
    return {
        f"{prefix}{name.casefold()}": Result(mixed.contents[name], "mg/L", decimals(mixed.contents[name]), said(name))
        for name in shown
    }


def ec_of(mixed: mixing.Mixed) -> dict[str, Result]:
    """Return the estimated EC as a result; none without ions, or where it is too strong for the estimate."""
    if not mixed.ions:
        return {}
    try:
        return {"ec": Result(mixed.ec, "mS/cm", 2, "EC, estimated")}
    except OutOfRange:
        return {}


def said(name: str) -> str:
    """Return a content as one says it: 'calcium', 'nitrogen as nitrate'."""
    forms = {form: f"nitrogen as {form.removesuffix('_n')}" for form in mixing.FORMS}
    return forms.get(name) or NAMES[name]


def grams(value: float) -> str:
    """Write a mass as one weighs it: 29.2 g, 1181 g, 0.035 g."""
    return f"{digits(value) if value < 100 else number(value, 1 if value < 1000 else 0)} g"


def decimals(value: float, significant: int = 3) -> int:
    """Return how many decimals show a value with so many significant digits, 8 at most."""
    return 0 if value <= 0 else min(8, max(0, significant - 1 - floor(log10(value))))


def short(key: str) -> str:
    """Write a salt's key as one says it: 'potassium nitrate', 'iron DTPA'."""
    words = key.replace("-", " ").split()
    return " ".join(word.upper() if word in ("dtpa", "edta", "eddha") else word for word in words)


def listed(masses: Mapping[str, float]) -> str:
    """Write salts with their grams in one line: 'potassium nitrate 26.5 g, boric acid 0.0548 g'."""
    return ", ".join(f"{short(key)} {grams(mass)}" for key, mass in masses.items())


def contributions(masses: Mapping[str, float], volume: float, labels: mixing.Labels | None = None) -> list[str]:
    """Return, element by element, how much each salt gives, and their sum where there are several."""
    lines = []
    for name in mixing.ELEMENTS:
        parts = {key: mixing.held(key, labels).get(name, 0.0) for key, mass in masses.items() if mass > 0}
        parts = {key: share for key, share in parts.items() if share > 0}
        each = {key: masses[key] * 1000 * share / volume for key, share in parts.items()}
        for key, share in parts.items():
            mass, percent = shown(lambda m, p: m * p * 10 / volume, masses[key], share * 100)
            lines.append(
                f"{name} from {short(key)}: {mass} g × {percent} % × 1000 ÷ {volume:g} L = {digits(each[key], 4)} mg/L"
            )
        if len(each) > 1:
            whole = digits(sum(each.values()), 4)
            lines.append(f"{name} = {' + '.join(shown(lambda *parts: sum(parts), *each.values()))} = {whole} mg/L")
    return lines


def shown(work: Callable[..., float], *values: float, fewest: int = 4, result: int = 4) -> tuple[str, ...]:
    """Write the values that go into a line of the working with as many digits as bring out its result.

    `work` is what the line does with them; `result` is how many significant digits the line shows of what
    comes out, `fewest` how many each value gets at least.
    """
    wanted = digits(work(*values), result)
    texts: tuple[str, ...] = ()
    for significant in range(fewest, 10):
        texts = tuple(_bare(digits(value, significant)) for value in values)
        if digits(work(*(float(text.replace("−", "-")) for text in texts)), result) == wanted:
            break
    return texts


def _bare(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text


def _plain(name: str) -> str:
    return "".join(one for one in name.casefold() if one.isalnum())
