"""The data dictionary: what each column holds, in which unit, and the tables' schemas (Frictionless Table Schema).

Words stand in `columns` and `columns_growing`; types, choices and what may be empty are read off the records' own
structs, so that the dictionary cannot say one thing and the records another.
"""

from collections.abc import Iterator
from functools import cache
from typing import Any, Literal, cast

import msgspec
from msgspec import Struct, inspect

from walkabout.paper.column import Column
from walkabout.paper.tables import BY_NAME, TABLES, Foreign, Table
from walkabout.records.homes import TABLES as RECORD_TABLES

Type = Literal["string", "integer", "number", "boolean", "date", "datetime", "list"]
"""What a column holds; how a list is written stands in `LISTS`."""

LISTS = (
    "Parquet files hold a list; elsewhere several are separated by ; and a ; or \\ within one has a \\ before it; an"
    " empty one is \\e."
)
GUARD = (
    "In CSV files a text that begins with = + - @ or ' (blanks, tabs and line ends before it not counted), or with"
    " a tab or line end, has one ' in front, so that no spreadsheet takes it for a formula. It is no part of the"
    " text: walkabout take-in removes it."
)


class Shape(Struct, frozen=True):
    """What a column may hold."""

    type: Type
    empty: bool = True
    """Whether a cell may be empty."""
    choices: tuple[str, ...] = ()
    """All that it can be; empty where that is open."""


@cache
def shapes(table: str) -> tuple[Shape, ...]:
    """Return the shape of each column of a table, in their order."""
    found = BY_NAME[table]
    fields = {one.name: one for one in cast("inspect.StructType", inspect.type_info(found.kind)).fields}
    lead = tuple(_lead(found, column) for column in found.lead)
    return lead + tuple(_shape(fields[column.source].type) for column in found.columns)


def _lead(table: Table, column: Column) -> Shape:
    if column.name == "number":
        return Shape("integer", empty=False)
    called = tuple(part.called for part in table.parts) if column.name in ("part", "about") else ()
    return Shape("string", empty=False, choices=called)


_TYPES: dict[type[inspect.Type], Type] = {
    inspect.StrType: "string",
    inspect.IntType: "integer",
    inspect.FloatType: "number",
    inspect.BoolType: "boolean",
    inspect.DateType: "date",
    inspect.DateTimeType: "datetime",
    inspect.VarTupleType: "list",
}


def _shape(kind: inspect.Type) -> Shape:
    if isinstance(kind, inspect.UnionType):
        (inner,) = (one for one in kind.types if not isinstance(one, inspect.NoneType))
        return Shape(_shape(inner).type)
    if isinstance(kind, inspect.LiteralType):
        values = cast("tuple[str, ...]", kind.values)
        return Shape("string", empty="" in values, choices=tuple(value for value in values if value))
    found = _TYPES[type(kind)]
    return Shape(found, empty=found in ("string", "list"))


def schema(table: Table, foreign: tuple[Foreign, ...], form: str) -> dict[str, Any]:
    """Return a table's Table Schema in a file of this form; `foreign` are those of its foreign keys that hold."""
    fields = []
    for column, shape in zip(table.all, shapes(table.name), strict=True):
        constraints: dict[str, Any] = {}
        if not shape.empty or column.name in table.primary:
            constraints["required"] = True
        if shape.choices:
            constraints["enum"] = list(shape.choices)
        if (column.name,) == table.primary:
            constraints["unique"] = True
        one: dict[str, Any] = {
            "name": column.name,
            "title": column.name.replace("_", " "),
            "type": _declared(shape, form),
            "format": "default",
            "description": told(column, shape),
        }
        if column.unit:
            one["unit"] = column.unit
        if constraints:
            one["constraints"] = constraints
        fields.append(one)
    made: dict[str, Any] = {"fields": fields, "missingValues": [""], "primaryKey": list(table.primary)}
    if foreign:
        made["foreignKeys"] = [
            {
                "fields": [one.column],
                "reference": {"resource": "" if one.table == table.name else one.table, "fields": ["key"]},
            }
            for one in foreign
        ]
    return made


def _declared(shape: Shape, form: str) -> str:
    """Return the type of a Table Schema that a column has in a file of this form.

    The Frictionless validator opens Parquet files with pandas, which makes a number with a point (nan) of a whole
    number that is empty, and an array of its own of a list: neither would be an integer or an array to it.
    """
    if form == "parquet":
        if shape.type == "integer" and shape.empty:
            return "number"
        return "any" if shape.type == "list" else shape.type
    return "string" if shape.type == "list" else shape.type


def told(column: Column, shape: Shape) -> str:
    """Return what a column holds, its unit and how a list is written, as sentences."""
    unit = f" In {column.unit}." if column.unit else ""
    return f"{column.says}{unit}{' ' + LISTS if shape.type == 'list' else ''}"


DICTIONARY_COLUMNS = (
    Column("table", "The table."),
    Column("column", "The column, as it is called in the table's first row."),
    Column("type", "What it holds; a list is text that is put together, except in Parquet files."),
    Column("unit", "The unit of its numbers."),
    Column("says", "What it means."),
)


def dictionary_rows() -> Iterator[tuple[str, ...]]:
    """Yield the dictionary as rows: table, column, type, unit, what it means."""
    for table in TABLES:
        for column, shape in zip(table.all, shapes(table.name), strict=True):
            yield table.name, column.name, shape.type, column.unit, told(column, shape)


def dictionary_schema() -> dict[str, Any]:
    """Return the Table Schema of the dictionary itself."""
    fields = [
        {"name": column.name, "type": "string", "format": "default", "description": column.says}
        for column in DICTIONARY_COLUMNS
    ]
    return {"fields": fields, "missingValues": [""], "primaryKey": ["table", "column"]}


def unnamed() -> list[str]:
    """Return what a record holds and no column does, as 'answers.note': such an export would lose it."""
    lost = [f"{name} (table)" for name in {*RECORD_TABLES.values()} - {*BY_NAME}]
    parts = {(part.table, part.field) for table in TABLES for part in table.parts}
    for table in TABLES:
        named = {column.source for column in table.columns} | {field for name, field in parts if name == table.name}
        fields = (field.name for field in msgspec.structs.fields(table.kind))
        lost += [f"{table.name}.{name}" for name in fields if name not in named]
    return lost
