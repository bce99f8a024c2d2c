"""One cell of a table: what is written for a value, and the value that is read back from it."""

import re
from collections.abc import Callable
from datetime import date, datetime
from typing import Any

from walkabout.paper.dictionary import Type
from walkabout.room.mistakes import one_line, shortened

FORMULA = re.compile(r"[\t\r\n]|\s*[=+\-@'\uff1d\uff0b\uff0d\uff20]")
"""How a text begins that a spreadsheet could take for a formula; the wide forms of = + - @ among them."""
_ITEM = re.compile(r"(?:\\.|[^;\\])*", re.DOTALL)
_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?")
_XML = re.compile(r"[\x00-\x08\x0b-\x1f\ufffe\uffff]|_(?=x[0-9A-Fa-f]{4}_)")
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")


class BadCell(ValueError):
    """What a cell holds is not what its column can hold; says so without naming the place."""


def guarded(text: str) -> str:
    """Return a text as it is written to a CSV file: with a ' in front where it could pass for a formula."""
    return f"'{text}" if text and FORMULA.match(text) else text


def unguarded(text: str) -> str:
    """Return the text without the ' that `guarded` put in front of it."""
    return text[1:] if text[:1] == "'" and FORMULA.match(text[1:]) else text


def listed(items: tuple[str, ...]) -> str:
    """Return several texts as one: separated by ;."""
    return ";".join(one.replace("\\", "\\\\").replace(";", "\\;") if one else "\\e" for one in items)


def unlisted(text: str) -> tuple[str, ...]:
    """Return the texts that `listed` put together."""
    if not text:
        return ()
    items, at = [], 0
    while True:
        found = _ITEM.match(text, at)
        item = found[0] if found else ""
        items.append("" if item == "\\e" else re.sub(r"\\(.)", r"\1", item, flags=re.DOTALL))
        at += len(item)
        if at >= len(text):
            return tuple(items)
        if text[at] != ";":
            raise BadCell("a \\ at the end of a list")
        at += 1


def number_text(value: float | None) -> str:
    """Return a number with as many digits as bring the very same one back."""
    return "" if value is None else repr(value).removesuffix(".0")


def _iso(value: date | None) -> str:
    return "" if value is None else value.isoformat()


def _yes(value: bool | None) -> str:  # noqa: FBT001
    return "" if value is None else "true" if value else "false"


TO_CSV: dict[Type, Callable[[Any], str]] = {
    "string": guarded,
    "integer": number_text,
    "number": number_text,
    "boolean": _yes,
    "date": _iso,
    "datetime": _iso,
    "list": lambda items: guarded(listed(items)),
}
"""For each type of column, how a value is written to a CSV file."""


def for_sheet(value: Any) -> Any:
    """Return a value as a spreadsheet's cell: text with what XML cannot hold as _x0000_, moments as text."""
    if isinstance(value, tuple):
        value = listed(value)
    if isinstance(value, str):
        return _XML.sub(lambda found: f"_x{ord(found[0]):04X}_", value) if value else None
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, date) and value.year < FIRST_YEAR:
        return value.isoformat()
    return value


FIRST_YEAR = 1901
"""Spreadsheets count days from 1900, and count a day too many in it."""


def from_sheet(value: object) -> object:
    """Return a spreadsheet's value with its text as it was before `for_sheet`."""
    if not isinstance(value, str):
        return "" if value is None else value
    return _ESCAPED.sub(lambda found: chr(int(found[1], 16)), value)


def value_of(cell: object, kind: Type, *, guard: bool) -> Any:
    """Return the value of a cell, None where it is empty and its type has an emptiness of its own; BadCell.

    `cell` is the text of a CSV file (`guard`: unguard it), or what a spreadsheet or Parquet file holds.
    """
    if cell is None:
        cell = ""
    if isinstance(cell, str):
        if kind in ("string", "list"):
            text = unguarded(cell) if guard else cell
            return text if kind == "string" else unlisted(text)
        return None if cell == "" else _read(cell, kind)
    return _taken(cell, kind)


def _read(text: str, kind: Type) -> Any:
    text = unguarded(text).strip()
    try:
        if kind == "integer":
            return int(text)
        if kind == "number" and _NUMBER.fullmatch(text):
            return float(text)
        if kind == "boolean" and text in ("true", "false"):
            return text == "true"
        if kind == "date":
            return date.fromisoformat(text)
        if kind == "datetime":
            return datetime.fromisoformat(text)
    except ValueError:
        pass
    raise BadCell(f'"{shortened(one_line(text), 40)}" is no {WORDS[kind]}')


def _taken(cell: object, kind: Type) -> Any:
    """Return the value of a cell that has a type of its own."""
    if kind == "string" and isinstance(cell, int | float) and not isinstance(cell, bool):
        return number_text(cell)
    if kind == "list" and isinstance(cell, list | tuple):
        return tuple(cell)
    if kind == "boolean" and isinstance(cell, bool):
        return cell
    if kind in ("integer", "number") and isinstance(cell, int | float) and not isinstance(cell, bool):
        if kind == "number":
            return float(cell)
        if float(cell).is_integer():
            return int(cell)
    if kind == "date" and isinstance(cell, datetime):
        return cell.date()
    if kind == "date" and isinstance(cell, date):
        return cell
    raise BadCell(f'"{shortened(one_line(str(cell)), 40)}" is no {WORDS[kind]}')


WORDS: dict[Type, str] = {
    "string": "text",
    "integer": "whole number",
    "number": "number, written with a point: 4.2",
    "boolean": "true or false",
    "date": "day, written as 2027-02-15",
    "datetime": "moment, written as 2027-02-15T08:00:00+01:00",
    "list": "list",
}
"""What each type of column holds, as people say it, with how it is written."""
