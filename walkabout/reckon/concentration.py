"""Reckoning of an amount in water: every unit, and all that it may be counted as."""

import re
from contextlib import suppress

from walkabout.growing import concentration as counting
from walkabout.growing.concentration import Species
from walkabout.reckon import units
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.write import digits, number, plainly

WEIGHED = "standard atomic weights of IUPAC (abridged, from memory)"
_SPELLED: dict[str, str] = {
    "ppm": "mg/L",
    "mg/l": "mg/L",
    "g/m3": "mg/L",
    "g/l": "g/L",
    "ug/l": "µg/L",
    "ppb": "µg/L",
    "mm": "mmol/L",
    "mmol/l": "mmol/L",
    "mol/l": "mol/L",
    "m": "mol/L",
    "umol/l": "µmol/L",
    "meq/l": "meq/L",
    "me/l": "meq/L",
    "mmol(+)/l": "meq/L",
    "mmolc/l": "meq/L",
    "mg/lcaco3": "mg/L CaCO3",
    "mg/lascaco3": "mg/L CaCO3",
    "ppmcaco3": "mg/L CaCO3",
    "°dh": "°dH",
    "dh": "°dH",
    "dgh": "°dH",
    "dkh": "°dH",
    "°dkh": "°dH",
    "°fh": "°fH",
    "fh": "°fH",
    "gpg": "gpg",
    "grain/gal": "gpg",
}
"""Ways of writing a unit, folded, and the unit."""
_UNIT_WORDS = tuple(counting.UNITS)
_RARE = ("C", "H", "FeO", "CO3", "NO2")
_NO_LIME = ("Mg", "OH", "CaO")
"""What a class would not count alkalinity or hardness as."""


_SAID = {
    "mg/L": "by mass",
    "mmol/L": "by particles",
    "meq/L": "by charge",
    "°dH": "in German degrees",
    "°fH": "in French degrees",
    "gpg": "in grains per US gallon",
}
_ALKALINE = (
    "Here mmol/L counts CaCO3, which stands for two charges; the reckoning 'alkalinity' counts mmol/L of hydrogen "
    "carbonate, with one charge, so its figure is twice this one."
)


def work_concentration(of: str, amount: str, from_: str | None, to: str | None, as_: str | None) -> Reckoned:
    """Turn an amount in water into every unit, and into what else it may be counted as."""
    this = counting.species(of)
    if to and not as_ and not _is_unit(to):
        to, as_ = None, to
    other = counting.species(as_) if as_ else this
    value, given = _amount(amount)
    unit = given or _unit(from_) or "mg/L"
    if given and from_ and given != _unit(from_):
        raise ValueError(f"the amount is in {given}, and from={from_} says otherwise: leave one out")
    asked = _unit(to) or ("mg/L" if as_ else "")
    wanted = asked or ("mmol/L" if unit == "mg/L" else "mg/L")
    mmol = counting.millimoles(value, this, unit)
    there = counting.counted_as(mmol, this, other)
    turned = counting.amount(there, other, wanted)
    results = {"value": Result(turned, wanted, _decimals(turned), f"{other.name} in {wanted}, as asked")}
    for one, many in ((this, mmol), (other, there)):
        results |= _all_units(one, many, plain=one is this)
    for one, many in _family(this, mmol):
        results.setdefault(f"{_key(one)}_mg_l", Result(counting.amount(many, one, "mg/L"), "mg/L", 3, f"as {one.name}"))
    alkaline = this.name == "CaCO3" and "hard" not in of.casefold()
    if alkaline:
        of_ions = counting.counted_as(mmol, this, counting.species("HCO3"))
        results["hco3_mmol_l"] = Result(of_ions, "mmol/L", 3, "HCO3, as 'alkalinity' counts mmol/L")
    lines = [] if given or from_ else ["taken: unit of the amount = mg/L"]
    lines += [] if unit == "mmol/L" else [_to_mmol(value, this, unit, mmol)]
    lines += [] if other == this else [_counted(mmol, this, other, there)]
    lines += [] if wanted == "mmol/L" else [_from_mmol(there, other, wanted, turned)]
    says = [f"{plainly(value)} {unit} of {this.name} is {digits(turned, 4)} {wanted} of {other.name}."]
    if alkaline:
        says.append(_ALKALINE)
    if this.element == "P" and this.charge:
        says.append(f"meq/L of {this.name} are counted with {this.charge} for each mol: near pH 6 phosphate has one.")
    return Reckoned(
        results=results,
        says=(*says, "In thin solutions like these ppm and mg/L are the same."),
        working=tuple(lines or [f"{plainly(value)} mmol/L {this.name}, as it was given"]),
        source=WEIGHED + ("; hardness and alkalinity counted as CaCO3, 50.04 mg for each meq" if _hard(this) else ""),
    )


def _amount(text: str | float) -> tuple[float, str]:
    """Read '200', '200 mg/L' or '10 °dH' into the number and its unit, empty when there is none."""
    written = str(text).strip()
    found = re.match(r"[+-]?[\d.,]+(?:e[+-]?\d+)?", written, re.IGNORECASE)
    if not found:
        raise ValueError(f"'{written}' is no amount: write a number, with or without its unit")
    return units.number(found.group(), ""), _unit(written[found.end() :].strip())


def _unit(text: str | None) -> str:
    if not text:
        return ""
    folded = text.replace("μ", "u").replace("µ", "u").replace("³", "3").replace(" ", "").replace("_", "/").casefold()
    if folded not in _SPELLED:
        raise ValueError(f"'{text}' is no unit of an amount in water: {', '.join(_UNIT_WORDS)}")
    return _SPELLED[folded]


def _is_unit(text: str) -> bool:
    try:
        return bool(_unit(text))
    except ValueError:
        return False


def _to_mmol(value: float, one: Species, unit: str, mmol: float) -> str:
    counted, size = counting.UNITS[unit]
    per = {"mass": number(one.mass, 3), "charge": str(one.charge), "mol": "1"}[counted]
    factor = f" × {digits(size, 4)}" if size != 1 else ""
    return f"{plainly(value)} {unit}{factor} ÷ {per} = {digits(mmol, 4)} mmol/L {one.name}"


def _from_mmol(mmol: float, one: Species, unit: str, value: float) -> str:
    counted, size = counting.UNITS[unit]
    per = {"mass": number(one.mass, 3), "charge": str(one.charge), "mol": "1"}[counted]
    factor = f" ÷ {digits(size, 4)}" if size != 1 else ""
    return f"{digits(mmol, 4)} mmol/L × {per}{factor} = {digits(value, 4)} {unit} {one.name}"


def _counted(mmol: float, this: Species, other: Species, there: float) -> str:
    return f"{digits(mmol, 4)} mmol/L {this.name} hold as much as {digits(there, 4)} mmol/L {other.name}"


def _all_units(one: Species, mmol: float, *, plain: bool) -> dict[str, Result]:
    """Return an amount in mg/L, mmol/L, meq/L, and in degrees of hardness where they are used."""
    names = {"mg/L": "mg_l", "mmol/L": "mmol_l"}
    names |= {"meq/L": "meq_l"} if one.charge else {}
    names |= {"°dH": "dh", "°fH": "fh", "gpg": "gpg"} if _hard(one) else {}
    before = "" if plain else f"{_key(one)}_"
    return {
        before + key: Result(counting.amount(mmol, one, unit), unit, 3, f"{one.name} {_SAID[unit]}")
        for unit, key in names.items()
    }


def _family(one: Species, mmol: float) -> list[tuple[Species, float]]:
    """Return what else the same amount is commonly counted as."""
    found: list[tuple[Species, float]] = []
    for other in counting.every().values():
        if other == one or other.name in _RARE or "-" in other.name or (one.name == "CaCO3" and other.name in _NO_LIME):
            continue
        with suppress(ValueError):
            found.append((other, counting.counted_as(mmol, one, other)))
    return found


def _key(one: Species) -> str:
    return one.name.casefold().replace("-", "_")


def _hard(one: Species) -> bool:
    return one.name in ("CaCO3", "HCO3")


def _decimals(value: float) -> int:
    return 1 if abs(value) >= 100 else 3


RECKONINGS = (
    Reckoning(
        name="concentration",
        subject="solution",
        title="Amounts in every unit",
        about="Turns mg/L, mmol/L, meq/L and degrees of hardness into each other, and nitrate into nitrogen.",
        fields=(
            Field(
                key="of",
                says="what is counted",
                kind="text",
                others=("species", "element", "ion"),
                note="K, NO3, NO3-N, HCO3, alkalinity, hardness",
            ),
            Field(
                key="amount",
                says="how much",
                kind="text",
                others=("value", "concentration"),
                note="a number, with its unit or without: 50, 5 mmol/L, 10 °dH",
            ),
            Field(
                key="from",
                says="unit of the amount",
                kind="text",
                needed=False,
                others=("unit", "in"),
                note="mg/L when nothing is said",
            ),
            Field(key="to", says="unit wanted", kind="text", needed=False, others=("want", "into")),
            Field(
                key="as",
                says="counted as",
                kind="text",
                needed=False,
                others=("counted_as", "to_species"),
                note="N, P, NO3, CaCO3",
            ),
        ),
        work=work_concentration,
        example="of=NO3 amount=50 as=N",
        others=("mg-l", "mmol-l", "meq-l", "concentration-units"),
    ),
)
