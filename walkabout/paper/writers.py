"""Tables as files: CSV (RFC 4180), one spreadsheet with a sheet for each table, or Parquet."""

import csv
from collections.abc import Callable, Iterable
from importlib import import_module
from itertools import islice
from pathlib import Path
from typing import Literal, Protocol

from walkabout.paper.cells import TO_CSV
from walkabout.paper.dictionary import Shape
from walkabout.paper.rows import Row
from walkabout.paper.workbook import CannotWrite, Workbook

Form = Literal["csv", "parquet", "xlsx"]
BATCH = 10_000
"""Rows of a Parquet file that are put together at a time."""


class Writer(Protocol):
    """Writes tables into a folder."""

    def add(self, table: str, names: tuple[str, ...], shapes: tuple[Shape, ...], rows: Iterable[Row]) -> str:
        """Write one table; return the name of its file."""

    def close(self) -> None:
        """Finish what is shared by all tables."""

    def give_up(self) -> None:
        """Let go of what is open, unfinished."""


def writer(form: Form, folder: Path) -> Writer:
    """Return what writes this form into `folder`; CannotWrite where the library for it is missing."""
    forms: dict[Form, Callable[[Path], Writer]] = {"csv": CsvFiles, "xlsx": Workbook, "parquet": ParquetFiles}
    return forms[form](folder)


class CsvFiles:
    """One CSV file for each table: UTF-8, commas, a point for decimals, texts guarded against formulas."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def add(self, table: str, names: tuple[str, ...], shapes: tuple[Shape, ...], rows: Iterable[Row]) -> str:
        """Write one table."""
        ways = [TO_CSV[shape.type] for shape in shapes]
        with (self._folder / f"{table}.csv").open("w", encoding="utf-8", newline="") as file:
            into = csv.writer(file, lineterminator="\r\n")
            into.writerow(names)
            into.writerows([way(value) for way, value in zip(ways, row, strict=True)] for row in rows)
        return f"{table}.csv"

    def close(self) -> None:
        """Nothing is shared."""

    def give_up(self) -> None:
        """Nothing is open."""


class ParquetFiles:
    """One Parquet file for each table: days are days, lists lists, and moments text, which keeps their offset."""

    def __init__(self, folder: Path) -> None:
        try:
            # by name, since it may be missing
            pa, pq = import_module("pyarrow"), import_module("pyarrow.parquet")
        except ImportError as error:
            raise CannotWrite(
                "Parquet files need a library that is not installed. To install it: pip install 'walkabout[parquet]'."
                " CSV and spreadsheets need nothing more"
            ) from error
        self._folder, self._pa, self._pq = folder, pa, pq

    def add(self, table: str, names: tuple[str, ...], shapes: tuple[Shape, ...], rows: Iterable[Row]) -> str:
        """Write one table."""
        pa = self._pa
        types = {
            "integer": pa.int64(),
            "number": pa.float64(),
            "boolean": pa.bool_(),
            "date": pa.date32(),
            "list": pa.list_(pa.string()),
        }
        schema = pa.schema(
            [(name, types.get(shape.type, pa.string())) for name, shape in zip(names, shapes, strict=True)]
        )
        moments = [place for place, shape in enumerate(shapes) if shape.type == "datetime"]
        left = iter(rows)
        with self._pq.ParquetWriter(self._folder / f"{table}.parquet", schema) as into:
            while batch := [list(row) for row in islice(left, BATCH)]:
                for row in batch:
                    for place in moments:
                        row[place] = row[place] and row[place].isoformat()
                columns = [
                    pa.array(column, kind) for column, kind in zip(zip(*batch, strict=True), schema.types, strict=True)
                ]
                into.write_table(pa.table(columns, schema=schema))
        return f"{table}.parquet"

    def close(self) -> None:
        """Nothing is shared."""

    def give_up(self) -> None:
        """Nothing is open."""
