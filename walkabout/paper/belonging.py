"""A table of an export that somebody takes for a logger's file: told by what lies beside it, or by its columns."""

import csv
import json
import shlex
from pathlib import Path

from walkabout.paper.dictionary import DICTIONARY_COLUMNS
from walkabout.paper.export import MARK, PACKAGE
from walkabout.paper.tables import TABLES
from walkabout.room.mistakes import one_line, shortened

_HEAD = 4000
"""Bytes in which the first row of every table ends."""


def belongs(path: Path) -> str:
    """Return a sentence when a file is a table of an export, with what takes the whole in; nothing when it is none."""
    folder = path.parent if _listed(path) else None
    if folder is None and not _has_a_tables_columns(path):
        return ""
    name = shortened(one_line(path.name), 60)
    where = shlex.quote(str(folder)) if folder is not None else "FOLDER"
    return (
        f"{name} belongs to an export of a whole room and is no logger's file. To make a new room of the export:"
        f" walkabout take-in {where} --room NEW"
    )


def _listed(path: Path) -> bool:
    try:
        package = json.loads((path.parent / PACKAGE).read_bytes())
        return MARK in package and path.name in {one["path"] for one in package["resources"]}
    except (OSError, ValueError, KeyError, TypeError):
        return False


def _has_a_tables_columns(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            head = file.read(_HEAD)
    except OSError:
        return False
    first = next(iter(head.decode("utf-8-sig", errors="replace").splitlines()), "")
    names = next(csv.reader([first]), [])
    columns = [table.all for table in TABLES] + [DICTIONARY_COLUMNS]
    return any(names == [column.name for column in many] for many in columns)
