"""The lines of a journal: a checksum, a space, one record as JSON, and the end of the line.

A line that could not be finished is ended with the control character CAN (cancel, ECMA-48), which
can stand in no JSON: whoever reads the journal later knows that nobody was promised that line.
"""

import re
from typing import NamedTuple
from zlib import crc32

import msgspec

CANCEL = b"\x18\n"

_START = re.compile(rb'[0-9a-f]{8} \{"table":')
_REMOVED = b"null"


class Entry(msgspec.Struct, frozen=True):
    """One change: the record `doc` (its JSON) now stands in `table` under `id`; null: it was removed."""

    table: str
    id: int
    doc: msgspec.Raw

    @property
    def text(self) -> bytes | None:
        """The record's JSON, or None when it was removed."""
        text = bytes(self.doc)
        return None if text == _REMOVED else text


class Journal(NamedTuple):
    """What stands in (a part of) a journal."""

    entries: list[Entry]
    damaged: list[bytes]
    """Finished lines whose checksum or content is wrong."""
    end: int
    """Bytes up to the end of the last finished line."""
    torn: bytes
    """What follows: a line cut short, or one still being written."""

    def with_unended(self) -> list[Entry]:
        """Return the entries, and the last line's too when it is whole but for its end."""
        last = whole(self.torn)
        return [*self.entries, last] if last else self.entries


_decode = msgspec.json.Decoder(Entry).decode


def line(table: str, number: int, doc: bytes | None) -> bytes:
    """Return the journal line for a record given as compact JSON (None: removed)."""
    text = b'{"table":"%s","id":%d,"doc":%s}' % (table.encode(), number, _REMOVED if doc is None else doc)
    return b"%08x %s\n" % (crc32(text), text)


def read(data: bytes) -> Journal:
    """Read a journal's bytes; nothing in them raises."""
    *finished, torn = data.split(b"\n")
    entries: list[Entry] = []
    damaged: list[bytes] = []
    for text in finished:
        if not text or text.endswith(CANCEL[:1]):
            continue
        entry = whole(text)
        if entry is None:
            entries += filter(None, map(whole, _pieces(text)))
            damaged.append(text)
        else:
            entries.append(entry)
    return Journal(entries, damaged, len(data) - len(torn), torn)


def whole(text: bytes) -> Entry | None:
    """Return the entry of one line without its end; None when the line is not as it was written."""
    if text[:9] != b"%08x " % crc32(text[9:]):
        return None
    try:
        return _decode(text[9:])
    except ValueError:
        return None


def _pieces(text: bytes) -> list[bytes]:
    # Where the end of a line was lost, two good lines look like one bad one.
    starts = [found.start() for found in _START.finditer(text)]
    ends = [*starts[1:], len(text) + 1]
    return [text[start : end - 1] for start, end in zip(starts, ends, strict=False)]
