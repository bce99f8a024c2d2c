"""From what was typed to what a reckoning takes: 'air=75F' becomes 23.9 °C.

Every mistake is a ValueError with one clear sentence that says what would be right.
"""

import keyword
import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from difflib import get_close_matches
from typing import Any

from msgspec import Struct

from walkabout.reckon import units
from walkabout.reckon.in_range import check
from walkabout.reckon.model import Field, Reckoned, Reckoning
from walkabout.reckon.typed_day import day
from walkabout.reckon.write import quoted

_ELSEWHERE = {"%": "percent", "percent": "percent", "n": "normality"}
"""The strength of an acid has three units; the two that are no mol/L have fields of their own."""
_LONGEST = 120
"""Signs in one name or one text; nobody types more."""


class Taken(Struct, frozen=True):
    """What a reckoning was given, parsed: values by field key, and open ones by name."""

    values: Mapping[str, Any]
    amounts: Mapping[str, float]


def split(words: Iterable[str]) -> dict[str, str]:
    """Split 'key=value' words; raises ValueError for a word without '=', and for a key given twice."""
    typed: dict[str, str] = {}
    for word in words:
        key, equals, value = word.partition("=")
        if not equals or not key.strip():
            raise ValueError(f"{quoted(word)} is not written as key=value")
        if key.strip() in typed:
            raise ValueError(f"{quoted(key.strip())} is given twice")
        typed[key.strip()] = value.strip()
    return typed


def take(reckoning: Reckoning, typed: Mapping[str, str]) -> Taken:
    """Read typed values into what the reckoning takes; raises ValueError."""
    values: dict[str, Any] = {}
    amounts: dict[str, float] = {}
    for key, text in _on_the_meters_scale(reckoning, typed).items():
        field = reckoning.find(key) or reckoning.find(key.replace("-", "_").casefold())
        if field is not None:
            field = _meant(reckoning, field, text)
            if field.key in values:
                raise ValueError(f"'{field.key}' is given twice")
            values[field.key] = value_of(field, text)
        elif reckoning.open is not None and len(key) <= _LONGEST and key.isprintable():
            name = reckoning.open.find(key)
            if name in amounts:
                raise ValueError(f"'{name}' is given twice")
            amounts[name] = value_of(_as_field(reckoning, name), text)
        else:
            raise ValueError(_no_key(reckoning, key))
    _must_be_one_unit(reckoning, values, typed)
    missing = [field for field in reckoning.fields if field.must and field.key not in values]
    if missing:
        raise ValueError(f"{reckoning.name} needs {_listed(missing)}. Example: {reckoning.name} {reckoning.example}")
    if reckoning.open is not None and reckoning.open.needed and not amounts:
        raise ValueError(f"{reckoning.name} needs {reckoning.open.says}. Example: {reckoning.name} {reckoning.example}")
    return Taken(values, amounts)


def reckon(reckoning: Reckoning, taken: Taken, own: Sequence[object] = ()) -> Reckoned:
    """Work it out; raises ValueError, with one clear sentence, for values that cannot be.

    `own` are the room's own recipes (growing/recipes.Recipe), for what takes them.
    """
    named: dict[str, Any] = {_parameter(one.key): taken.values.get(one.key, one.default) for one in reckoning.fields}
    if reckoning.open is not None:
        named["amounts"] = dict(taken.amounts)
    if reckoning.own_recipes:
        named["own"] = own
    return reckoning.work(**named)


def value_of(field: Field, text: str) -> Any:
    """Read one typed value as its field takes it; raises ValueError."""
    text = " ".join(text.split())
    if not text:
        raise ValueError(f"{field.key} has no value: write it behind the equals sign, without a space")
    try:
        return _READERS[field.kind](field, text)
    except ValueError as error:
        raise ValueError(f"{field.key}: {error}") from None


def _number(field: Field, text: str) -> float:
    value = units.number(text, field.unit)
    check(field, value, text)
    return value


def _numbers(field: Field, text: str) -> tuple[float, ...]:
    """Split at semicolons where there are any, so that decimal commas may stand between them; else at commas."""
    parts = re.split(r"[;\s]+" if ";" in text else r"[,\s]+", text.strip())
    return tuple(_number(field, part) for part in parts if part)


def _word(field: Field, text: str) -> str:
    plain = {_plain(word): word for word in field.words}
    word = plain.get(_plain(text))
    if word is None:
        near = get_close_matches(_plain(text), plain, n=1, cutoff=0.6)
        hint = f"did you mean {plain[near[0]]}?" if near else f"it is one of {', '.join(field.words)}"
        raise ValueError(f"there is no {quoted(text)} here: {hint}")
    return word


def _words(field: Field, text: str) -> tuple[str, ...]:
    parts = [_text(field, part.strip()) for part in re.split(r"[,;]", text) if part.strip()]
    return tuple(_word(field, part) for part in parts) if field.words else tuple(parts)


def _text(_: Field, text: str) -> str:
    if len(text) > _LONGEST or not text.isprintable():
        raise ValueError(f"{quoted(text)} cannot be read")
    return text


def _day(_: Field, text: str) -> date:
    return day(text)


_SCALE = Field(key="scale", says="scale of a ppm meter", unit="ppm per mS/cm", low=0.4, high=1000)
_READERS = {"number": _number, "numbers": _numbers, "word": _word, "words": _words, "text": _text, "day": _day}


def _on_the_meters_scale(reckoning: Reckoning, typed: Mapping[str, str]) -> Mapping[str, str]:
    """Put the scale given as `scale` behind each EC in ppm: '700ppm' with scale=500 becomes '700ppm500'.

    A reckoning that asks for no scale takes one all the same, as long as something is in ppm.
    """
    if "scale" not in typed or not any(field.unit == "mS/cm" for field in reckoning.fields):
        return typed
    own = reckoning.find("scale")
    if own is not None and own.key != "scale":
        return typed
    factor = value_of(own or _SCALE, typed["scale"])
    found = {
        key: units.on_scale(text, factor) if (one := reckoning.find(key)) and one.unit == "mS/cm" else text
        for key, text in typed.items()
        if key != "scale" or own is not None
    }
    if own is None and all(found[key] == typed[key] for key in found):
        raise ValueError("scale goes with an EC in ppm: write the EC as 700ppm, or leave scale out")
    return found


def _must_be_one_unit(reckoning: Reckoning, values: Mapping[str, Any], typed: Mapping[str, str]) -> None:
    """A number with its unit behind it must not be read a second time in the unit that `from` names."""
    start = reckoning.find("from")
    if start is None or start.kind != "word" or "from" not in values:
        return
    for key, text in typed.items():
        field = reckoning.find(key)
        if field is not None and field.kind == "number" and field.unit and units.named(text):
            raise ValueError(f"{key}: {quoted(text)} has its unit already: leave from= out, or the unit")


def _meant(reckoning: Reckoning, field: Field, text: str) -> Field:
    """An acid's strength given in % or in eq/L is meant for the field that has that unit.

    The first of the strengths is the acid's own; for another one ('to') the other unit has its name behind it.
    """
    other = _ELSEWHERE.get(units.named(text), "") if field.unit == "mol/L" else ""
    if not other:
        return field
    first = next(one for one in reckoning.fields if one.unit == "mol/L")
    return reckoning.find(f"{field.key}_{other}") or (reckoning.find(other) if field is first else None) or field


def _as_field(reckoning: Reckoning, name: str) -> Field:
    wanted = reckoning.open
    assert wanted is not None
    return Field(key=name, says=name, unit=wanted.unit_for(name), low=wanted.low, high=wanted.high)


def _no_key(reckoning: Reckoning, key: str) -> str:
    keys = [name for field in reckoning.fields for name in (field.key, *field.others)]
    near = get_close_matches(key.casefold(), keys, n=1, cutoff=0.6)
    takes = ", ".join(field.key for field in reckoning.fields)
    hint = f"did you mean {near[0]}?" if near else f"it takes {takes}"
    return f"{reckoning.name} takes no {quoted(key)}: {hint}"


def _listed(fields: Iterable[Field]) -> str:
    names = [f"{field.key} ({field.says})" for field in fields]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _parameter(key: str) -> str:
    return f"{key}_" if keyword.iskeyword(key) else key


def _plain(word: str) -> str:
    return " ".join(word.casefold().replace("-", " ").replace("_", " ").replace("μ", "u").split())
