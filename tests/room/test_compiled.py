"""Kept copies of files that were read before: used as long as neither the file nor its schema has changed."""

import importlib.util
import os
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

from walkabout.checklist.model import Checklist
from walkabout.checklist.read import read_checklists
from walkabout.room.compiled import compiled
from walkabout.room.places import cache_folder

SCHEMA = """\
from msgspec import Struct

class Shape(Struct, frozen=True, forbid_unknown_fields=True):
    size: int
    {more}
"""


def imported(file: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location("kept_shape", file)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["kept_shape"] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def schema(tmp_path: Path) -> Iterator[Path]:
    file = tmp_path / "kept_shape.py"
    file.write_text(SCHEMA.format(more=""), "utf-8")
    sys.dont_write_bytecode, before = True, sys.dont_write_bytecode
    yield file
    sys.dont_write_bytecode = before
    sys.modules.pop("kept_shape", None)


def test_a_copy_is_used_until_the_file_changes(tmp_path: Path, schema: Path) -> None:
    """The second reading makes nothing anew; a file that was touched is read again."""
    file = tmp_path / "one.toml"
    file.write_text("size = 1", "utf-8")
    shape = imported(schema).Shape
    made = []

    def make() -> object:
        made.append(1)
        return shape(size=len(made))

    assert compiled(file, shape, make) == compiled(file, shape, make) == shape(size=1)
    os.utime(file, ns=(1, 1))
    assert compiled(file, shape, make) == shape(size=2)


def test_a_copy_is_made_anew_when_its_schema_changes(tmp_path: Path, schema: Path) -> None:
    """A struct with one more field does not meet what was kept of the old one, even where that would still fit."""
    file = tmp_path / "one.toml"
    file.write_text("size = 1", "utf-8")
    old = imported(schema).Shape
    assert compiled(file, old, lambda: old(size=1)) == old(size=1)
    schema.write_text(SCHEMA.format(more='colour: str = ""'), "utf-8")
    os.utime(schema, ns=(2, 2))
    new = imported(schema).Shape
    assert compiled(file, new, lambda: new(size=1, colour="red")) == new(size=1, colour="red")
    assert compiled(file, new, lambda: pytest.fail("it was kept")) == new(size=1, colour="red")


def test_a_checklist_keeps_its_standing_jobs(tmp_path: Path) -> None:
    """The kept copy of a shipped checklist has its jobs and its store as the text has."""
    read = read_checklists(None, frozenset({"raft"})).of["raft"]
    (copy,) = cache_folder().glob("raft-*.bin")
    state = copy.stat().st_mtime_ns
    again = read_checklists(None, frozenset({"raft"})).of["raft"]
    assert copy.stat().st_mtime_ns == state
    assert isinstance(again, Checklist)
    assert again == read
    assert again.store is not None
    assert "change" in again.duty
