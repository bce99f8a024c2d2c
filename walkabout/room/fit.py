"""Fitting what a person wrote to a struct, mistake by mistake, so that the rest can still be used."""

import copy
import re
import typing
from collections.abc import Mapping
from typing import Any, TypeVar, get_args, get_origin

import msgspec
from msgspec import Struct

from walkabout.room.mistakes import Mistake, nearest
from walkabout.room.toml import Document, Place

Shape = TypeVar("Shape", bound=Struct)

_PATH = re.compile(r" - at `(key in )?\$(.*?)`$")
_STEP = re.compile(r"\.([^.\[]+)|\[(\d+)\]|\[\.\.\.\]")
_PLAIN = {
    "str": "text between quotation marks",
    "int": "a whole number",
    "float": "a number",
    "bool": "true or false",
    "array": "a list between [ and ]",
    "object": "a table",
    "date": "a day such as 2027-02-15",
    "null": "nothing",
}


def fit(raw: object, shape: type[Shape], document: Document, place: Place) -> tuple[Shape | None, list[Mistake]]:
    """Return `raw` as a `shape`, and what is wrong in it.

    A key that does not fit is left out and said; without a key that must be there the answer is
    None. `place` is where `raw` stands in the document.
    """
    mistakes: list[Mistake] = []
    gone: dict[Place, list[int]] = {}
    if not isinstance(raw, Mapping):
        return None, [document.mistake(place, f"this must be a table, not {_what(raw)}")]
    rest: Any = copy.deepcopy(dict(raw))
    for _ in range(200):  # each turn removes one value: a file with more mistakes has said enough
        try:
            return msgspec.convert(rest, shape, strict=True), mistakes
        except msgspec.ValidationError as error:
            says, right, steps = _explain(str(error), rest, shape)
            written = _as_written(steps, gone)
            mistakes.append(document.mistake(place + written, says, right))
            if not _remove(rest, steps):
                return None, mistakes
            if isinstance(written[-1], int):
                gone.setdefault(written[:-1], []).append(written[-1])
    return None, mistakes


def _explain(message: str, rest: object, shape: type[Struct]) -> tuple[str, str, Place]:
    """Put msgspec's message into plain words: what is wrong, what would be right, what must go."""
    found = _PATH.search(message)
    says = _PATH.sub("", message)
    steps = _steps(found[2]) if found else ()
    if unknown := re.match(r"Object contains unknown field `(.*)`", says):
        around = _struct_at(shape, steps)
        names = around.__struct_encode_fields__ if around else ()
        return f'there is no "{unknown[1]}" here', nearest(unknown[1], names), (*steps, unknown[1])
    if missing := re.match(r"Object missing required field `(.*)`", says):
        return f'"{missing[1]}" is missing{_named(rest, steps)}', "", steps
    key = next((str(step) for step in reversed(steps) if isinstance(step, str)), "this")
    if wrong := re.match(r"Invalid enum value (.*)", says):
        word = wrong[1].strip("'\"")
        return f'{key} cannot be "{word}"', nearest(word, _words(shape, steps)), steps
    if kinds := re.match(r"Expected `(.*?)`, got `(.*)`", says):
        kind_names = [kind.strip() for kind in kinds[1].split("|")]
        wanted = " or ".join(_PLAIN.get(kind, kind) for kind in kind_names if kind != "null")
        return f"{key} must be {wanted}, not {_what(_at(rest, steps))}", "", steps
    return f"{key}: {says[:1].lower()}{says[1:]}", "", steps


def _as_written(steps: Place, gone: dict[Place, list[int]]) -> Place:
    """Return the steps in the file, where list items that were taken out still stand."""
    written: Place = ()
    for step in steps:
        index = step
        for earlier in sorted(gone.get(written, ())) if isinstance(index, int) else ():
            index = index + 1 if isinstance(index, int) and earlier <= index else index
        written = (*written, index)
    return written


def _steps(path: str) -> Place:
    """Turn msgspec's path into steps; it does not say which key of a table it means by [...]."""
    steps: list[str | int] = []
    for name, index, *_ in _STEP.findall(path):
        if name:
            steps.append(name)
        elif index:
            steps.append(int(index))
        else:
            break
    return tuple(steps)


def _at(rest: object, steps: Place) -> object:
    for step in steps:
        try:
            rest = rest[step]  # type: ignore[index]
        except (KeyError, IndexError, TypeError):
            return None
    return rest


def _remove(rest: object, steps: Place) -> bool:
    """Take the value out of its table, or out of its list; say whether anything went."""
    if not steps:
        return False
    around = _at(rest, steps[:-1])
    try:
        del around[steps[-1]]  # type: ignore[attr-defined]
    except (KeyError, IndexError, TypeError):
        return False
    return True


def _struct_at(shape: Any, steps: Place) -> type[Struct] | None:
    """Return the struct in which the last step is looked up."""
    for step in steps:
        shape = _inner(shape, step)
    shape = _bare(shape)
    return shape if isinstance(shape, type) and issubclass(shape, Struct) else None


def _words(shape: Any, steps: Place) -> tuple[str, ...]:
    for step in steps:
        shape = _inner(shape, step)
    words = []
    for one in (shape, *get_args(shape)):
        words += [str(word) for word in get_args(one)] if get_origin(one) is typing.Literal else []
    return tuple(words)


def _inner(shape: Any, step: str | int) -> Any:
    shape = _bare(shape)
    if isinstance(shape, type) and issubclass(shape, Struct):
        return typing.get_type_hints(shape).get(str(step))
    args = get_args(shape)
    return args[0 if isinstance(step, int) else -1] if args else None


def _bare(shape: Any) -> Any:
    """Take `X | None` to X."""
    inner = [one for one in get_args(shape) if one is not type(None)]
    return inner[0] if type(None) in get_args(shape) and len(inner) == 1 else shape


def _named(rest: object, steps: Place) -> str:
    """Say which entry it is by the name it carries, if it does."""
    entry = _at(rest, steps)
    if isinstance(entry, Mapping):
        for key in ("id", "key", "name", "says"):
            if isinstance(entry.get(key), str):
                return f' in "{entry[key]}"'
    return ""


def _what(value: object) -> str:
    if isinstance(value, str):
        return f'the text "{value if len(value) <= 30 else value[:29] + "…"}"'
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | float):
        return f"the number {value}"
    if isinstance(value, Mapping):
        return "a table"
    return "a list" if isinstance(value, list) else "nothing" if value is None else f"{value}"
