"""Numbers as people type them, with or without a unit, turned into the unit that a field has.

A bare number is in the field's own unit. The units a room stores and shows are turned here at once;
for all others pint does it, loaded only then.
"""

import re
from collections.abc import Mapping
from functools import cache
from typing import TYPE_CHECKING

from walkabout.growing.ec import scale as ppm_scale
from walkabout.growing.units import US, stored
from walkabout.reckon.write import quoted

if TYPE_CHECKING:
    from pint import UnitRegistry

_NUMBER = re.compile(r"[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?", re.IGNORECASE)
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2}(,\d{3})+")
_ON_A_SCALE = re.compile(r"ppm[(@]?(\d+(?:\.\d+)?|\.\d+)\)?")
"""ppm with the meter's scale behind it, folded: ppm500, ppm(700), ppm0.64."""
_FOLDED = str.maketrans(
    {"µ": "u", "μ": "u", "²": "2", "³": "3", "·": "*", "−": "-", "₃": "3", " ": None, "\u00a0": None}
)

_SAME: Mapping[str, tuple[str, ...]] = {
    "°C": ("c", "degc", "celsius"),
    "%": ("percent", "pc"),
    "pH": ("ph",),
    "L": ("litre", "litres", "liter", "liters"),
    "h": ("hr", "hrs", "hour", "hours", "h/d", "h/day", "hours/day"),
    "days": ("d", "day"),
    "g": ("gram", "grams"),
    "lx": ("lux",),
    "W": ("watt", "watts"),
    "mg/L": ("ppm", "mg/l", "mg/litre", "mg/liter", "g/m3"),
    "µmol/m²/s": ("umol/m2s", "umol/(m2*s)", "umol/(m2s)", "umolm-2s-1", "umol"),
    "mol/m²/d": ("mol/m2d", "mol/(m2*d)", "mol/m2/day", "molm-2d-1", "mol"),
    "µmol/J": ("umol/j",),
    "g/mol": ("g/mole",),
    "mS/cm": ("ds/m", "mmho/cm", "ms"),
    "mS/cm per mL/L": ("ms/cm", "ms", "ds/m", "mmho/cm"),
    "ppm per mS/cm": ("ppm",),
    "mg/L CaCO3": ("mg/l", "ppm", "mg/lascaco3", "ppmcaco3", "caco3"),
    "°C d": ("cd", "degcd", "c*d", "°cd", "degc*d", "°c*d", "°cday", "°cdays"),
    "L/day": ("l/d", "l"),
    "mol/L": ("m", "mol/dm3", "molar"),
    "plants/m²": ("/m2", "1/m2", "plants/m2"),
    "": ("x",),
}
"""Other ways of writing a field's own unit, folded: no spaces, no capitals, u for µ, m2 for m²."""

_FACTORS: Mapping[str, Mapping[str, float]] = {
    # a unit of the trade that pint does not know -> how many of the field's own unit it is
    "mS/cm": {"cf": 0.1, "us/cm": 1e-3, "us": 1e-3, "umho/cm": 1e-3, "ms/m": 0.01},
    "mS/cm per mL/L": {"us/cm": 1e-3, "us": 1e-3, "us/cmperml/l": 1e-3, "cf": 0.1, "ms/m": 0.01},
    "": {"%": 0.01, "percent": 0.01},
    "kPa": {"hpa": 0.1, "mbar": 0.1},
    # 1 meq of alkalinity is 50.04 mg of calcium carbonate and 61.017 mg of hydrogen carbonate; German and
    # French degrees and grains per US gallon as in ISO 6107 and common tables, from memory
    "mg/L CaCO3": {"meq/l": 50.04, "mg/lhco3": 50.04 / 61.017, "ppmhco3": 50.04 / 61.017, "°dh": 17.848,
                   "dh": 17.848, "dkh": 17.848, "°dkh": 17.848, "°fh": 10.0, "fh": 10.0, "gpg": 17.118,
                   "grain/gal": 17.118},
    "°C d": {"°fd": 5 / 9, "fd": 5 / 9, "degfd": 5 / 9, "f*d": 5 / 9, "°fday": 5 / 9, "°fdays": 5 / 9},
    "lx": {"fc": 10.763910417, "footcandle": 10.763910417, "footcandles": 10.763910417, "klx": 1000.0},
    "m²": {"sqft": 0.09290304, "ft2": 0.09290304, "cm2": 1e-4},
    "L/day": {"ml": 1e-3, "ml/d": 1e-3, "ml/day": 1e-3, "gal/d": 3.785411784, "gal/day": 3.785411784},
    "mL": {"fl_oz": 29.5735295625},
}  # fmt: skip

_US: Mapping[str, Mapping[str, str]] = {
    # what a US room shows -> the stored unit that growing/units.py turns it into
    "°C": {"f": "°C", "°f": "°C", "degf": "°C", "fahrenheit": "°C"},
    "L": {"gal": "L", "usgal": "L", "gallon": "L", "gallons": "L"},
    "cm": {"in": "cm", "inch": "cm", "inches": "cm", '"': "cm"},
    "g": {"oz": "g"},
    "mL": {"floz": "mL", "usfloz": "mL"},
}

_PPM = ("ppm", "tds", "ppmtds", "mg/l")
"""What a meter shows that has a scale of its own, folded."""
_BARE_PPM = (
    "a meter that shows ppm has its own scale: write ppm500, ppm640 or ppm700, or scale=500 as well (1000 ppm is "
    "2.00, 1.56 or 1.43 mS/cm)"
)
_IN_FRONT: Mapping[str, str] = {"pH": "ph", "ppm per mS/cm": "ppm"}
"""Field's unit -> what people put in front of the number: pH 6.1, ppm 500."""
_PERHAPS: Mapping[str, tuple[str, ...]] = {
    # the field's unit -> what a bare number far out of range may have been meant in
    "kPa": ("hPa", "mmHg"),
    "mS/cm": ("uS/cm",),
    "°C": ("F",),
    "L/day": ("mL/day",),
}


def number(typed: str, unit: str) -> float:
    """Return what was typed ('75F', '1400 µS/cm', '0,5') as a number in `unit`.

    Raises ValueError, with one clear sentence, for what is no number, a unit of another kind, or a comma
    that could be read in two ways.
    """
    text = typed.strip().replace("−", "-")
    front = _IN_FRONT.get(unit, "")
    if front and text.casefold().startswith(front):
        text = text[len(front) :].strip()
    found = _NUMBER.match(text)
    if not found:
        raise ValueError(f"{quoted(typed)} is no number: {_right(unit)}")
    digits, rest = found.group(), text[found.end() :].strip()
    thousands = _THOUSANDS.match(text)
    if thousands:
        whole, point = thousands.group().replace(",", ""), thousands.group().replace(",", ".", 1)
        raise ValueError(f"{quoted(typed)} can be read in two ways: write {whole} or {point}, without a comma")
    value = float(digits.replace(",", "."))
    if abs(value) > 1e15:
        raise ValueError(f"{quoted(typed)} is too large a number")
    return value if not rest else _in(value, rest, unit, typed)


def named(typed: str) -> str:
    """Return the unit that stands behind the number in `typed`, folded; empty when there is none."""
    found = _NUMBER.match(typed.strip().replace("−", "-"))
    return _folded(typed.strip()[found.end() :]) if found else ""


def on_scale(typed: str, scale: float) -> str:
    """Return an EC in bare ppm with the scale of its meter: '700ppm500' for '700 ppm'; any other as it is."""
    found = _NUMBER.match(typed.strip())
    return f"{found.group()}ppm{scale:g}" if found and named(typed) in _PPM else typed


def perhaps(value: float, unit: str, low: float, high: float) -> tuple[str, ...]:
    """Return how a bare number out of the range `low` to `high` would be written in units in which it lies in it."""
    written = [f"{value:g}{other}" for other in _PERHAPS.get(unit, ())]
    return tuple(one for one in written if low <= number(one, unit) <= high)


def _in(value: float, name: str, unit: str, typed: str) -> float:
    folded = _folded(name)
    if folded == _folded(unit) or folded in _SAME.get(unit, ()):
        return value
    if unit == "mS/cm" and folded in _PPM:
        raise ValueError(f"{quoted(typed)} is not clear: {_BARE_PPM}")
    on_a_scale = _ON_A_SCALE.fullmatch(folded) if unit == "mS/cm" else None
    if on_a_scale:
        return value / ppm_scale(float(on_a_scale.group(1)))
    if folded in _FACTORS.get(unit, {}):
        return value * _FACTORS[unit][folded]
    if folded in _US.get(unit, {}):
        return stored(value, _US[unit][folded], US)
    return _by_pint(value, name.translate(_FOLDED), unit, typed)


def _by_pint(value: float, name: str, unit: str, typed: str) -> float:
    what = f"is not in {unit}" if unit else "has a unit"
    wrong = ValueError(f"{quoted(typed)} {what}: {_right(unit)}")
    if not unit or not re.fullmatch(r"[A-Za-z%°][\w%°/*()^-]{0,40}", name):
        raise wrong
    units = _registry()
    try:
        return float(units.Quantity(value, _spelled(name)).to(_spelled(unit.translate(_FOLDED))).magnitude)
    except Exception:  # pint raises many kinds; none of them is for a user's eyes
        raise wrong from None


@cache
def _registry() -> "UnitRegistry[float]":
    from pint import UnitRegistry  # noqa: PLC0415 - heavy, and most calls do without

    units: UnitRegistry[float] = UnitRegistry()
    units.define("foot_candle = lumen / foot ** 2 = footcandle")
    return units


def _spelled(name: str) -> str:
    """Write a unit as pint reads it: 'umol/m2/s' as 'umol/m**2/s'."""
    spelled = re.sub(r"(?<=m|t|n)([23])(?![0-9])", r"**\1", name)
    return {"°C": "degC", "F": "degF", "°F": "degF", "C": "degC", "days": "day"}.get(
        spelled, spelled.replace("days", "day")
    )


def _folded(name: str) -> str:
    return name.strip().translate(_FOLDED).casefold()


def _right(unit: str) -> str:
    known = [name for name in _US.get(unit, {}) if name.isalpha()][:1]
    if not unit:
        return "write a number alone"
    return f"write a number alone, or with {unit}" + (
        f" or {known[0].upper() if unit == '°C' else known[0]} behind it" if known else " behind it"
    )
