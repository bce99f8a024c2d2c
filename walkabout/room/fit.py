"""Fitting what a person wrote to a struct, mistake by mistake, so that the rest can still be used."""

import math
from collections.abc import Mapping
from datetime import date
from typing import Any, Generic, Literal, TypeVar, get_args, get_origin

import msgspec
from msgspec import Struct

from walkabout.room.mistakes import Mistake, nearest, shortened
from walkabout.room.toml import Document
from walkabout.room.toml_lines import Place

Shape = TypeVar("Shape", bound=Struct)
Ranges = Mapping[type[Struct], Mapping[str, tuple[float, float]]]
"""Struct -> key -> from where to where its number can lie, both ends included."""

USUAL_NUMBER = (-1e9, 1e9)
USUAL_WHOLE = (-1e6, 1e6)
"""Where a number can lie that has no range of its own: a million days still fit a calendar."""
USUAL_YEARS = (1970, 2199)

_GONE: Any = object()
"""Stands for a value that was left out."""

_PLAIN = {
    str: "text between quotation marks",
    int: "a whole number",
    float: "a number",
    bool: "true or false",
    date: "a day such as 2027-02-15",
}


class Fitted(Struct, Generic[Shape], frozen=True):
    """What fits, and what is wrong. `what` is None when a key is not right that must be there."""

    what: Shape | None
    mistakes: tuple[Mistake, ...]
    left_out: dict[Place, list[int]]
    """Place of a list in the file -> its items that were left out."""

    def written(self, place: Place) -> Place:
        """Return where a place of `what` stands in the file, where the items that were left out still count."""
        found: Place = ()
        for step in place:
            in_file = step
            for gone in self.left_out.get(found, ()):
                if isinstance(in_file, int) and gone <= in_file:
                    in_file += 1
            found = (*found, in_file)
        return found


class _Task:
    """What all the parts of one fitting share."""

    def __init__(self, whole: tuple[type[Struct], ...], ranges: Ranges) -> None:
        self.whole = whole
        self.ranges = ranges
        self.wrong: list[tuple[Place, str, str]] = []
        self.left_out: dict[Place, list[int]] = {}

    def leave_out(self, place: Place, says: str, right: str = "") -> Any:
        self.wrong.append((place, says, right))
        return _GONE


def fit(
    raw: Mapping[str, Any],
    shape: type[Shape],
    document: Document,
    whole: tuple[type[Struct], ...] = (),
    ranges: Ranges | None = None,
) -> Fitted[Shape]:
    """Return what of `raw`, all that stands in the document, fits `shape`, with every mistake.

    A value that does not fit is left out and said. So is the entry around it when it cannot do
    without, or when it is one of those that are good for nothing unless they are `whole`.
    """
    task = _Task(whole, ranges or {})
    kept = _struct(raw, shape, (), task)
    mistakes = tuple(document.mistake(place, says, right) for place, says, right in task.wrong)
    return Fitted(None if kept is _GONE else msgspec.convert(kept, shape), mistakes, task.left_out)


def _value(value: object, shape: Any, place: Place, task: _Task, between: tuple[float, float] | None = None) -> Any:
    inner = [one for one in get_args(shape) if one is not type(None)]
    if type(None) in get_args(shape):
        shape = inner[0]  # TOML cannot write None
    if isinstance(shape, type) and issubclass(shape, Struct):
        return _struct(value, shape, place, task)
    if get_origin(shape) is dict:
        return _table(value, get_args(shape)[1], place, task)
    if get_origin(shape) is tuple:
        return _list(value, get_args(shape), place, task)
    if get_origin(shape) is Literal:
        return _word(value, get_args(shape), place, task)
    if shape in (int, float):
        return _number(value, shape, place, task, between)
    if shape is date:
        return _day(value, place, task)
    return value if type(value) is shape else task.leave_out(place, _must_be(place, _PLAIN[shape], value))


def _struct(value: object, shape: type[Struct], place: Place, task: _Task) -> Any:
    if not isinstance(value, Mapping):
        return task.leave_out(place, _must_be(place, "a table", value))
    before = len(task.wrong)
    fields = {field.encode_name: field for field in msgspec.structs.fields(shape)}
    for key in value:
        if key not in fields:
            task.leave_out((*place, key), f'there is no "{_cut(key)}" here', nearest(key, fields))
    kept, enough = {}, True
    for key, field in fields.items():
        if key in value:
            one = _value(value[key], field.type, (*place, key), task, _range(shape, key, task.ranges))
            if one is not _GONE:
                kept[key] = one
                continue
        elif field.required:
            task.leave_out(place, f'"{key}" is missing{_named(value)}')
        enough = enough and not field.required
    broken = shape in task.whole and len(task.wrong) > before
    return kept if enough and not broken else _GONE


def _range(shape: type[Struct], key: str, ranges: Ranges) -> tuple[float, float] | None:
    return next((ranges[one][key] for one in shape.__mro__ if key in ranges.get(one, ())), None)


def _table(value: object, shape: Any, place: Place, task: _Task) -> Any:
    if not isinstance(value, Mapping):
        return task.leave_out(place, _must_be(place, "a table", value))
    fitted = {key: _value(one, shape, (*place, key), task) for key, one in value.items()}
    return {key: one for key, one in fitted.items() if one is not _GONE}


def _list(value: object, shapes: tuple[Any, ...], place: Place, task: _Task) -> Any:
    if not isinstance(value, list):
        says = _must_be(place, "a list between [ and ]", value)
        return task.leave_out(place, says, _as_list(value, place))
    if shapes[-1] is not Ellipsis and len(value) != len(shapes):
        return task.leave_out(place, f"{_key(place)} must have {len(shapes)} values, not {len(value)}")
    each = [shapes[0]] * len(value) if shapes[-1] is Ellipsis else shapes
    fitted = [
        _value(one, shape, (*place, index), task) for index, (one, shape) in enumerate(zip(value, each, strict=True))
    ]
    gone = [index for index, one in enumerate(fitted) if one is _GONE]
    if gone and shapes[-1] is not Ellipsis:
        return _GONE
    if gone:
        task.left_out[place] = gone
    return [one for one in fitted if one is not _GONE]


def _as_list(value: object, place: Place) -> str:
    if isinstance(value, str):
        return f'Write {_key(place)} = ["{_cut(value)}"]'
    return f"Write [[{_key(place)}]] with two brackets" if isinstance(value, Mapping) else ""


def _word(value: object, words: tuple[str, ...], place: Place, task: _Task) -> Any:
    if isinstance(value, str):
        known = value in words
        return (
            value if known else task.leave_out(place, f'{_key(place)} cannot be "{_cut(value)}"', nearest(value, words))
        )
    return task.leave_out(place, _must_be(place, _PLAIN[str], value), nearest("", words))


def _number(value: object, shape: type, place: Place, task: _Task, between: tuple[float, float] | None) -> Any:
    if (
        isinstance(value, bool)
        or not isinstance(value, int | float)
        or (isinstance(value, float) and math.isnan(value))
    ):
        return task.leave_out(place, _must_be(place, _PLAIN[shape], value))
    low, high = between or (USUAL_WHOLE if shape is int else USUAL_NUMBER)
    if not low <= value <= high:
        return task.leave_out(
            place, f"{_key(place)} cannot be {_figure(value)}", f"It can be {low:.10g} to {high:.10g}"
        )
    if shape is int and value != int(value):
        return task.leave_out(place, _must_be(place, _PLAIN[int], value))
    return shape(value)


def _day(value: object, place: Place, task: _Task) -> Any:
    day = value
    if isinstance(value, str):
        try:
            day = date.fromisoformat(value)
        except ValueError:
            day = value
    if type(day) is not date:
        return task.leave_out(place, _must_be(place, _PLAIN[date], value))
    if not USUAL_YEARS[0] <= day.year <= USUAL_YEARS[1]:
        says = f"{_key(place)} cannot be in the year {day.year}"
        return task.leave_out(place, says, f"It can be {USUAL_YEARS[0]} to {USUAL_YEARS[1]}")
    return day


def _key(place: Place) -> str:
    return next((_cut(step) for step in reversed(place) if isinstance(step, str)), "this")


def _named(entry: Mapping[str, Any]) -> str:
    """Say which entry it is by the name it carries, if it does."""
    names = (entry.get(key) for key in ("id", "key", "name", "says"))
    return next((f' in "{_cut(name)}"' for name in names if isinstance(name, str)), "")


def _must_be(place: Place, wanted: str, value: object) -> str:
    return f"{_key(place)} must be {wanted}, not {_what(value)}"


def _what(value: object) -> str:
    if isinstance(value, str):
        return f'the text "{_cut(value)}"'
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | float):
        return f"the number {_figure(value)}"
    if isinstance(value, Mapping):
        return "a table"
    return "a list" if isinstance(value, list) else str(value)


def _figure(value: float) -> str:
    """Return the number as it was written; one with very many digits cannot even be printed."""
    if isinstance(value, int):
        return str(value) if abs(value) < 10**15 else "so large"
    return f"{value:.10g}"


def _cut(text: str) -> str:
    return shortened(text, 40)
