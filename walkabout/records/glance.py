"""A look into a month's file for some of its records, without keeping what else is in it.

A trend over years is about one question. To take every record of ten years into memory takes ten times as long as to
find the ones that are asked for, and nobody needs the others.
"""

from collections.abc import Callable
from typing import TypeVar

import msgspec
from msgspec import Struct

from walkabout.records.files import Files
from walkabout.records.memory import Kinds

_R = TypeVar("_R", bound=Struct)
_P = TypeVar("_P", bound=Struct)

_decode_tables = msgspec.json.Decoder(dict[str, msgspec.Raw]).decode
_decode_docs = msgspec.json.Decoder(dict[int, msgspec.Raw]).decode


class AnswerPlace(Struct, frozen=True, gc=False):
    """What tells whether an answer is asked for."""

    station: str
    question: str
    replaces: str = ""


class HourPlace(Struct, frozen=True, gc=False):
    """What tells whether an hour is asked for."""

    station: str
    quantity: str


def whole(files: Files) -> bytes | None:
    """Return a month's file where it alone says all that is on record; None where its journal or a copy counts too."""
    try:
        there = files.look(None)
        if there.file is None or there.size:
            return None
        data = files.file.read_bytes()
        # another program may have folded its journal into the file meanwhile
        return data if files.look(None) == there else None
    except OSError:
        return None


def glance(
    data: bytes, kinds: Kinds, table: str, kind: type[_R], place: type[_P], wanted: Callable[[_P], bool]
) -> list[_R] | None:
    """Return the records of a table whose place is wanted; None where the file has to be read in full.

    That is so for a file that is damaged, has a record that fits no place, or the same key twice.
    """
    try:
        data.decode()
        tables = _decode_tables(data)
        if any(name not in tables for name in kinds):
            return None
        places = msgspec.json.decode(tables[table], type=dict[int, place])  # type: ignore[valid-type]
        numbers = [number for number, one in places.items() if wanted(one)]
        if not numbers:
            return []
        docs = _decode_docs(tables[table])
        decode = msgspec.json.Decoder(kind).decode
        found = [decode(docs[number]) for number in numbers]
    except (msgspec.DecodeError, UnicodeDecodeError):
        return None
    keys = {one.key for one in found}  # type: ignore[attr-defined]
    return found if len(keys) == len(found) else None
