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
from walkabout.reckon.model import Field, Reckoned, Reckoning
from walkabout.reckon.write import amount

_ELSEWHERE = {"%": "percent", "percent": "percent", "n": "normality"}
"""The strength of an acid has three units; the two that are no mol/L have fields of their own."""


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
            raise ValueError(f"'{word}' is not written as key=value")
        if key.strip() in typed:
            raise ValueError(f"'{key.strip()}' is given twice")
        typed[key.strip()] = value.strip()
    return typed


def take(reckoning: Reckoning, typed: Mapping[str, str]) -> Taken:
    """Read typed values into what the reckoning takes; raises ValueError."""
    values: dict[str, Any] = {}
    amounts: dict[str, float] = {}
    for key, text in typed.items():
        field = reckoning.find(key) or reckoning.find(key.replace("-", "_").casefold())
        if field is not None:
            field = _meant(reckoning, field, text)
            if field.key in values:
                raise ValueError(f"'{field.key}' is given twice")
            values[field.key] = value_of(field, text)
        elif reckoning.open is not None:
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
    if not text.strip():
        raise ValueError(f"{field.key} has no value: {field.says}")
    try:
        return _READERS[field.kind](field, text)
    except ValueError as error:
        raise ValueError(f"{field.key}: {error}") from None


def _number(field: Field, text: str) -> float:
    value = units.number(text, field.unit)
    if not field.low <= value <= field.high:
        end = field.low if value < field.low else field.high
        side = "at least" if value < field.low else "at most"
        given = amount(value, field.unit) if not units.named(text) else text.strip()
        raise ValueError(f"the {field.says} is {given}; it must be {side} {amount(end, field.unit)}")
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
        raise ValueError(f"there is no '{text.strip()}' here: {hint}")
    return word


def _words(field: Field, text: str) -> tuple[str, ...]:
    parts = [part.strip() for part in re.split(r"[,;]", text) if part.strip()]
    return tuple(_word(field, part) for part in parts) if field.words else tuple(parts)


def _text(_: Field, text: str) -> str:
    return text.strip()


def _day(_: Field, text: str) -> date:
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise ValueError(f"'{text.strip()}' is no day: write it as 2026-12-18") from None


_READERS = {"number": _number, "numbers": _numbers, "word": _word, "words": _words, "text": _text, "day": _day}


def _must_be_one_unit(reckoning: Reckoning, values: Mapping[str, Any], typed: Mapping[str, str]) -> None:
    """A number with its unit behind it must not be read a second time in the unit that `from` names."""
    start = reckoning.find("from")
    if start is None or start.kind != "word" or "from" not in values:
        return
    for key, text in typed.items():
        field = reckoning.find(key)
        if field is not None and field.kind == "number" and field.unit and units.named(text):
            raise ValueError(f"{key}={text} has its unit already: leave from= out, or the unit")


def _meant(reckoning: Reckoning, field: Field, text: str) -> Field:
    """An acid's strength given in % or in eq/L is meant for the field that has that unit."""
    if field.unit != "mol/L":
        return field
    return reckoning.find(_ELSEWHERE.get(units.named(text), "")) or field


def _as_field(reckoning: Reckoning, name: str) -> Field:
    wanted = reckoning.open
    assert wanted is not None
    return Field(key=name, says=name, unit=wanted.unit, low=wanted.low, high=wanted.high)


def _no_key(reckoning: Reckoning, key: str) -> str:
    keys = [name for field in reckoning.fields for name in (field.key, *field.others)]
    near = get_close_matches(key.casefold(), keys, n=1, cutoff=0.6)
    takes = ", ".join(field.key for field in reckoning.fields)
    hint = f"did you mean {near[0]}?" if near else f"it takes {takes}"
    return f"{reckoning.name} takes no '{key}': {hint}"


def _listed(fields: Iterable[Field]) -> str:
    names = [f"{field.key} ({field.says})" for field in fields]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _parameter(key: str) -> str:
    return f"{key}_" if keyword.iskeyword(key) else key


def _plain(word: str) -> str:
    return " ".join(word.casefold().replace("-", " ").replace("_", " ").split())
