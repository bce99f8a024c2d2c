"""TinyDB's own tables on a JournalStorage: what changes is what gets written."""

from collections.abc import Callable, Iterable, Iterator, Mapping, MutableMapping
from typing import Any, TypeVar

import msgspec
from tinydb import TinyDB
from tinydb.storages import Storage
from tinydb.table import Table

from walkabout.records.disk import NotSaved, plainly
from walkabout.records.storage import JournalStorage

Result = TypeVar("Result")


class JournalTable(Table):
    """A table whose writes cost as much as the documents they change; NotSaved when they fail."""

    def __init__(self, storage: Storage, name: str, cache_size: int = 0, *, persist_empty: bool = False) -> None:
        # Another program may change the table: an answer kept from an earlier search would be stale.
        del cache_size, persist_empty
        super().__init__(storage, name, cache_size=0)

    @property
    def storage(self) -> JournalStorage:
        """The storage below."""
        assert isinstance(self._storage, JournalStorage)
        return self._storage

    def insert(self, document: Mapping[str, Any]) -> int:
        """Insert a document and return its number."""
        return self._safely(lambda: super(JournalTable, self).insert(document))

    def insert_multiple(self, documents: Iterable[Mapping[str, Any]]) -> list[int]:
        """Insert documents in one piece and return their numbers."""
        return self._safely(lambda: super(JournalTable, self).insert_multiple(documents))

    def _safely(self, write: Callable[[], Result]) -> Result:
        # The number of a new document is drawn and written in one turn of ours.
        try:
            with self.storage.writing():
                return write()
        except OSError as error:
            raise NotSaved(f"Not saved: {plainly(error, self.storage.path.parent)}") from error

    def _get_next_id(self) -> int:
        return self.storage.memory.next_number(self.name)

    def _update_table(self, updater: Callable[[Any], None]) -> None:
        def write() -> None:
            changes = Changes(self.storage.memory.docs.get(self.name, {}))
            updater(changes)
            self.storage.change(self.name, changes.made)

        self._safely(write)


class Changes(MutableMapping[int, dict[str, Any]]):
    """A table as TinyDB's updaters see it; `made` holds what they touched (None: removed)."""

    def __init__(self, docs: Mapping[int, bytes]) -> None:
        self._docs = docs
        self.made: dict[int, dict[str, Any] | None] = {}

    def __getitem__(self, number: int) -> dict[str, Any]:
        if number not in self.made:
            self.made[number] = msgspec.json.decode(self._docs[number], type=dict[str, Any])
        doc = self.made[number]
        if doc is None:
            raise KeyError(number)
        return doc

    def __setitem__(self, number: int, doc: dict[str, Any]) -> None:
        self.made[number] = doc

    def __delitem__(self, number: int) -> None:
        if number not in self:
            raise KeyError(number)
        self.made[number] = None

    def __contains__(self, number: object) -> bool:
        return self.made[number] is not None if number in self.made else number in self._docs

    def __iter__(self) -> Iterator[int]:
        added = (number for number in self.made if number not in self._docs)
        return (number for number in [*self._docs, *added] if number in self)

    def __len__(self) -> int:
        return sum(1 for _ in self)


class JournalDB(TinyDB):
    """TinyDB on a JournalStorage, with its tables."""

    table_class = JournalTable  # type: ignore[assignment]
    default_storage_class = JournalStorage  # type: ignore[assignment]
