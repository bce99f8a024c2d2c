"""What one file holds, in memory: each record as it is written and as a struct."""

import re
from collections.abc import Iterable, Mapping
from typing import Any

import msgspec

from walkabout.records.lines import Entry

Kinds = Mapping[str, type[msgspec.Struct]]
"""The tables of a file and what their records are; a table that is not named holds any JSON object."""

_decode_tables = msgspec.json.Decoder(dict[str, msgspec.Raw]).decode
_decode_docs = msgspec.json.Decoder(dict[int, msgspec.Raw]).decode
_BYTE = re.compile(r" \(byte (\d+)\)$")


class Damaged(Exception):
    """A file's text is not what the program writes; says where it stops making sense."""


class Memory:
    """The tables of one file. `docs` keeps every record's own JSON, also of those that fit no struct."""

    def __init__(self, kinds: Kinds) -> None:
        self.docs: dict[str, dict[int, bytes]] = {table: {} for table in kinds}
        self.records: dict[str, dict[str, msgspec.Struct]] = {table: {} for table in kinds}
        """By table and key."""
        self.misfits: dict[tuple[str, int], str] = {}
        """What does not fit its struct, and why."""
        self._decoders = {table: msgspec.json.Decoder(kind).decode for table, kind in kinds.items()}
        self._ids: dict[str, dict[str, int]] = {table: {} for table in kinds}
        self._keys: dict[str, dict[int, str]] = {table: {} for table in kinds}
        self._highest: dict[str, int] = {}
        self._view: dict[str, dict[str, dict[str, Any]]] | None = None

    @classmethod
    def parse(cls, data: bytes, kinds: Kinds) -> "Memory":
        """Read a file's bytes; raise Damaged when they are no JSON or a table is missing."""
        memory = cls(kinds)
        try:
            data.decode()
            tables = _decode_tables(data)
            for table, raw in tables.items():
                memory.docs.setdefault(table, {})
                docs = {number: bytes(doc) for number, doc in _decode_docs(raw).items()}
                if not (table in kinds and memory._take_whole(table, kinds[table], raw, docs)):
                    for number, doc in docs.items():
                        memory.set(table, number, doc)
        except UnicodeDecodeError as error:
            raise Damaged(f"line {_line(data, error.start)}: {error.reason}") from error
        except msgspec.DecodeError as error:
            found = _BYTE.search(str(error))
            where = f"line {_line(data, int(found[1]))}: " if found else ""
            raise Damaged(where + _BYTE.sub("", str(error))) from error
        missing = [table for table in kinds if table not in tables]
        if missing:
            raise Damaged(f"its table '{missing[0]}' is missing")
        return memory

    def encode(self) -> bytes:
        """Return the file's bytes: what TinyDB reads, with one record on a line, in the order of their numbers."""
        tables = (
            b"%s:{\n%s\n}"
            % (
                msgspec.json.encode(table),
                b",\n".join(b'"%d":%s' % numbered for numbered in sorted(docs.items())),
            )
            for table, docs in self.docs.items()
        )
        return b"{" + b",\n".join(tables) + b"}\n"

    def apply(self, entries: Iterable[Entry]) -> bool:
        """Take in journal entries; True when they say anything new."""
        news = False
        for entry in entries:
            news |= self.set(entry.table, entry.id, entry.text)
        return news

    def fill(self, other: "Memory", *, over: bool) -> bool:
        """Take over what `other` has and this lacks (or, with `over`, has differently)."""
        news = False
        for table, docs in other.docs.items():
            for number, doc in docs.items():
                if over or number not in self.docs.get(table, {}):
                    news |= self.set(table, number, doc)
        return news

    def set(self, table: str, number: int, doc: bytes | None) -> bool:
        """Let `doc` stand under `number`, or nothing when it is None; True when that is a change.

        Raises msgspec.DecodeError or UnicodeDecodeError when `doc` is no JSON at all.
        """
        docs = self.docs.setdefault(table, {})
        if docs.get(number) == doc:
            return False
        if doc is None:
            self._forget(table, number)
            del docs[number]
        else:
            if table in self._decoders:
                self._understand(table, number, doc)
            docs[number] = doc
            self._highest[table] = max(number, self._highest.get(table, 0))
        self._show(table, number, doc)
        return True

    def number(self, table: str, key: str) -> int:
        """Return the number under which the record with this key stands; a free one when there is none."""
        return self._ids[table].get(key) or self.next_number(table)

    def next_number(self, table: str) -> int:
        """Return a number that no record of the table has had, and never the same twice."""
        self._highest[table] = self._highest.get(table, 0) + 1
        return self._highest[table]

    def fits(self, table: str, doc: bytes) -> msgspec.Struct | None:
        """Return a record as it would be read back; raise ValueError when it would not be."""
        return self._decoders[table](doc) if table in self._decoders else None

    def view(self) -> dict[str, dict[str, dict[str, Any]]]:
        """Return the tables as TinyDB wants them: dicts of dicts, the numbers as text."""
        if self._view is None:
            self._view = {table: {} for table in self.docs}
            for table, docs in self.docs.items():
                for number, doc in docs.items():
                    self._show(table, number, doc)
        return self._view

    def _take_whole(self, table: str, kind: type[msgspec.Struct], raw: msgspec.Raw, docs: dict[int, bytes]) -> bool:
        """Take a table in at one go, which is many times quicker; False when not all of it fits."""
        try:
            records = msgspec.json.decode(raw, type=dict[int, kind])  # type: ignore[valid-type]
        except msgspec.ValidationError:
            return False
        keys: dict[int, str] = {number: record.key for number, record in records.items()}  # type: ignore[attr-defined]
        ids = {key: number for number, key in keys.items()}
        if len(ids) != len(keys):
            return False
        self.docs[table] = docs
        self.records[table] = {keys[number]: record for number, record in records.items()}
        self._ids[table], self._keys[table] = ids, keys
        self._highest[table] = max(keys, default=0)
        return True

    def _understand(self, table: str, number: int, doc: bytes) -> None:
        try:
            record = self._decoders[table](doc)
        except msgspec.ValidationError as error:
            # A struct that does not fit may still be broken further on.
            msgspec.json.decode(doc)
            self._forget(table, number)
            self.misfits[table, number] = str(error)
            return
        key: str = record.key  # type: ignore[attr-defined]
        first = self._ids[table].get(key, number)
        if first != number:
            self._forget(table, number)
            self.misfits[table, number] = f"it has the same key as record {first}"
            return
        self.misfits.pop((table, number), None)
        if self._keys[table].get(number) != key:
            self._forget(table, number)
        self.records[table][key] = record
        self._ids[table][key] = number
        self._keys[table][number] = key

    def _forget(self, table: str, number: int) -> None:
        self.misfits.pop((table, number), None)
        key = self._keys.get(table, {}).pop(number, None)
        if key is not None and self._ids[table].get(key) == number:
            del self._ids[table][key], self.records[table][key]

    def _show(self, table: str, number: int, doc: bytes | None) -> None:
        if self._view is None:
            return
        shown = self._view.setdefault(table, {})
        content = None if doc is None else msgspec.json.decode(doc)
        if isinstance(content, dict):
            shown[str(number)] = content
        else:
            shown.pop(str(number), None)


def refuse_what_is_no_number(value: object, name: str = "record") -> None:
    """Raise ValueError for a NaN or an infinity anywhere in a record: JSON has no word for them."""
    if isinstance(value, float):
        if value - value != 0:
            raise ValueError(f"{name} is {value}: not a number that can be written down.")
    elif isinstance(value, msgspec.Struct):
        for field in value.__struct_fields__:
            refuse_what_is_no_number(getattr(value, field), field)
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            refuse_what_is_no_number(inner, str(key))
    elif isinstance(value, (list, tuple)):
        for inner in value:
            refuse_what_is_no_number(inner, name)


def _line(data: bytes, at: int) -> int:
    return data.count(b"\n", 0, at) + 1
