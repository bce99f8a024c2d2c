"""Reading tables back as they were exported: rows of values, each with the place where it stands in its file."""
# ruff: noqa: PLC0415 - what only one form needs takes long to load

import csv
from collections.abc import Iterator, Sequence
from functools import lru_cache
from importlib import import_module
from io import BytesIO
from pathlib import Path
from typing import Any

from walkabout.paper.cells import BadCell, from_sheet, value_of
from walkabout.paper.dictionary import Shape, shapes
from walkabout.paper.tables import BY_NAME
from walkabout.paper.writers import Form
from walkabout.room.mistakes import nearest, one_line, shortened


class BadExport(ValueError):
    """Something in an export cannot be taken in; one line with file and line."""

    def __init__(self, says: str) -> None:
        super().__init__(one_line(says))


Numbered = Iterator[tuple[int, Sequence[object]]]
"""Rows with the line on which each begins, counted from 1."""


def read_rows(path: Path, table: str, form: Form) -> Iterator[tuple[int, dict[str, Any]]]:
    """Yield a table's rows as column -> value, each with its line; BadExport for what does not fit, OSError."""
    found = {"csv": _csv, "xlsx": _sheet, "parquet": _parquet}[form](path, table)
    try:
        _, head = next(found)
    except StopIteration:
        raise BadExport(f"{path}:1: the names of the columns are missing") from None
    ways = _ways(path, table, [str(name) for name in head])
    for line, cells in found:
        if len(cells) != len(ways):
            raise BadExport(f"{path}:{line}: {len(cells)} cells, but {len(ways)} columns have a name")
        row: dict[str, Any] = {}
        for (name, shape), cell in zip(ways, cells, strict=True):
            try:
                value = value_of(cell, shape.type, guard=form == "csv")
            except BadCell as error:
                raise BadExport(f'{path}:{line}: column "{name}": {error}') from error
            if value is None and not shape.empty:
                raise BadExport(f'{path}:{line}: column "{name}" is empty')
            if value and shape.choices and value not in shape.choices:
                right = nearest(value, shape.choices)
                raise BadExport(f'{path}:{line}: column "{name}" cannot be "{shortened(value, 40)}". {right}')
            row[name] = value
        yield line, row


def _ways(path: Path, table: str, head: list[str]) -> list[tuple[str, Shape]]:
    known = {column.name: shape for column, shape in zip(BY_NAME[table].all, shapes(table), strict=True)}
    for name in head:
        if name not in known:
            right = nearest(name, known) or "A later version may know it"
            raise BadExport(f'{path}:1: the column "{shortened(name, 40)}" is not known, and would be lost. {right}')
    if len({*head}) < len(head):
        raise BadExport(f"{path}:1: two columns have the same name")
    return [(name, known[name]) for name in head]


def _csv(path: Path, _: str) -> Numbered:
    csv.field_size_limit(2**31 - 1)
    with path.open(encoding="utf-8-sig", newline="") as file:
        reader = csv.reader(file, strict=True)
        line = 1
        try:
            for cells in reader:
                if cells:
                    yield line, cells
                line = reader.line_num + 1
        except csv.Error as error:
            raise BadExport(f"{path}:{line}: this is no row of a table ({error})") from error
        except UnicodeDecodeError as error:
            raise BadExport(f"{path}:{line}: this is not UTF-8 text") from error


def _sheet(path: Path, table: str) -> Numbered:
    at = path.stat()
    book = _book(path, at.st_mtime_ns, at.st_size)
    if table not in book.sheetnames:
        raise BadExport(f'{path}: there is no sheet "{table}"')
    width = 0
    for line, cells in enumerate(book[table].iter_rows(values_only=True), 1):
        row = [from_sheet(cell) for cell in cells]
        width = width or len(row)
        yield line, [*row, *[""] * (width - len(row))]


@lru_cache(maxsize=1)
def _book(path: Path, _changed: int, _size: int) -> Any:
    """Open a spreadsheet once for all its tables, and hold it in memory, not the file."""
    from openpyxl import load_workbook  # type: ignore[import-untyped]

    try:
        return load_workbook(BytesIO(path.read_bytes()), read_only=True, data_only=True)
    except Exception as error:  # a broken file fails in as many ways as it has parts
        raise BadExport(f"{path}: this is no spreadsheet that can be read") from error


def _parquet(path: Path, _: str) -> Numbered:
    try:
        pa, pq = import_module("pyarrow"), import_module("pyarrow.parquet")
    except ImportError as error:
        raise BadExport(
            "To read Parquet files a library is needed: pip install 'walkabout[parquet]'. Or export as CSV"
        ) from error
    try:
        found = pq.ParquetFile(path)
        yield 1, found.schema_arrow.names
        line = 1
        for batch in found.iter_batches():
            for cells in zip(*(column.to_pylist() for column in batch.columns), strict=True):
                line += 1
                yield line, cells
    except pa.ArrowException as error:
        raise BadExport(f"{path}: this is no Parquet file that can be read") from error
