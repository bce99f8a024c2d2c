"""One spreadsheet with a sheet for each table (ECMA-376), in which text is typed as text and nothing is reckoned out.

A library makes the spreadsheet with its sheets, their first rows, widths and styles; the rows below are written into it
here, which takes a quarter of the time, keeps every digit of a number, and gives the same bytes for the same records.
"""
# ruff: noqa: PLC0415 - the library takes long to load

import re
import zipfile
from collections.abc import Callable, Iterable
from datetime import date
from io import BytesIO
from pathlib import Path
from typing import Any

from msgspec import Struct

from walkabout.paper.cells import FORMULA, for_sheet, number_text
from walkabout.paper.dictionary import Shape
from walkabout.paper.rows import Row

WORKBOOK = "tables.xlsx"
MOST_ROWS = 1_048_575
"""Below the first row; every spreadsheet stops there (common practice)."""
LONGEST = 32_767
"""Characters in a spreadsheet's cell (common practice)."""
WIDTHS = {"string": 22, "datetime": 27, "list": 22, "integer": 9, "number": 11, "boolean": 9}
"""Characters that a column of each type is wide."""

_DAY_ZERO = date(1899, 12, 30).toordinal()
_EPOCH = (1980, 1, 1, 0, 0, 0)
"""The date of every part: the first that an archive can hold."""
_END = b"</sheetData>"
_SIZE = re.compile(rb'<dimension ref="A1:([A-Z]+)1" ?/>')
_SAVED = re.compile(rb"<dcterms:(created|modified)[^>]*>[^<]*</dcterms:\1>")


class CannotWrite(ValueError):
    """The tables cannot be written in this form; one line that says why and what would do."""


class _Sheet(Struct, frozen=True):
    """A table whose rows wait in a file."""

    table: str
    names: tuple[str, ...]
    shapes: tuple[Shape, ...]
    file: Path
    rows: int


class Workbook:
    """Gathers tables, and writes them as one spreadsheet when it is closed."""

    def __init__(self, folder: Path) -> None:
        from openpyxl import Workbook as Made  # type: ignore[import-untyped]
        from openpyxl.cell import Cell  # type: ignore[import-untyped]

        self._folder = folder
        self._book = Made()
        self._book.remove(self._book.active)
        cell = Cell(self._book.create_sheet("first"), row=1, column=1)
        cell.quotePrefix = True
        self._guarded = int(cell.style_id)
        cell = Cell(self._book["first"], row=1, column=1)
        cell.number_format = "yyyy-mm-dd"
        self._day = int(cell.style_id)
        self._book.remove(self._book["first"])
        self._sheets: list[_Sheet] = []

    def add(self, table: str, names: tuple[str, ...], shapes: tuple[Shape, ...], rows: Iterable[Row]) -> str:
        """Write one table's rows, for the time being into a file of their own."""
        letters = _letters(len(names))
        cell = self._cells(table)
        path = self._folder / f"{table}.rows"
        number = 1
        with path.open("w", encoding="utf-8", newline="") as file:
            for number, row in enumerate(rows, 2):
                if number > MOST_ROWS + 1:
                    raise CannotWrite(
                        f"{table} has more than {MOST_ROWS:,} rows, and a sheet holds no more. Export it with --as csv"
                    )
                cells = [
                    cell(f"{letter}{number}", value)
                    for letter, value in zip(letters, row, strict=True)
                    if value is not None and value not in ("", ())
                ]
                file.write(f'<row r="{number}">{"".join(cells)}</row>')
        self._sheets.append(_Sheet(table, names, shapes, path, number - 1))
        return WORKBOOK

    def close(self) -> None:
        """Write the spreadsheet."""
        from openpyxl.styles import Font  # type: ignore[import-untyped]

        for sheet in self._sheets:
            made = self._book.create_sheet(sheet.table)
            made.freeze_panes = "A2"
            made.append(list(sheet.names))
            for letter, shape in zip(_letters(len(sheet.names)), sheet.shapes, strict=True):
                made[f"{letter}1"].font = Font(bold=True)
                made.column_dimensions[letter].width = WIDTHS.get(shape.type, 14)
        bare = BytesIO()
        self._book.save(bare)
        parts = {f"xl/worksheets/sheet{number}.xml": sheet for number, sheet in enumerate(self._sheets, 1)}
        with (
            zipfile.ZipFile(bare) as source,
            zipfile.ZipFile(self._folder / WORKBOOK, "w", zipfile.ZIP_DEFLATED, compresslevel=4) as into,
        ):
            for name in source.namelist():
                info = zipfile.ZipInfo(name, _EPOCH)
                info.compress_type = zipfile.ZIP_DEFLATED
                with into.open(info, "w", force_zip64=True) as part:
                    for piece in _pieces(source.read(name), parts.get(name)):
                        part.write(piece)
        self.give_up()

    def give_up(self) -> None:
        """Remove the files in which rows wait."""
        for sheet in self._sheets:
            sheet.file.unlink(missing_ok=True)

    def _cells(self, table: str) -> Callable[[str, Any], str]:
        guarded, day = self._guarded, self._day

        def cell(at: str, value: Any) -> str:
            made = for_sheet(value)
            if isinstance(made, bool):
                return f'<c r="{at}" t="b"><v>{made:d}</v></c>'
            if isinstance(made, int | float):
                return f'<c r="{at}"><v>{number_text(made)}</v></c>'
            if isinstance(made, date):
                return f'<c r="{at}" s="{day}"><v>{made.toordinal() - _DAY_ZERO}</v></c>'
            if len(made) > LONGEST:
                raise CannotWrite(
                    f"A text in {table} has {len(made):,} characters, and a spreadsheet's cell holds {LONGEST:,}."
                    " Export it with --as csv"
                )
            # marked, so that it stays text when somebody changes it in a spreadsheet
            style = f' s="{guarded}"' if FORMULA.match(made) else ""
            text = made.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
            return f'<c r="{at}"{style} t="inlineStr"><is><t xml:space="preserve">{text}</t></is></c>'

        return cell


def _letters(many: int) -> list[str]:
    from openpyxl.utils import get_column_letter  # type: ignore[import-untyped]

    return [get_column_letter(number) for number in range(1, many + 1)]


def _pieces(part: bytes, sheet: _Sheet | None) -> Iterable[bytes]:
    """Yield a part of the spreadsheet in pieces: a sheet with its rows, any other without the time of its making."""
    if sheet is None:
        yield _SAVED.sub(b"", part)
        return
    size = rb'<dimension ref="A1:\g<1>%d"/>' % (sheet.rows + 1)
    part, found = _SIZE.subn(size, part)
    assert found == 1, "a sheet says how large it is"
    head, end, tail = part.partition(_END)
    yield head
    with sheet.file.open("rb") as file:
        while piece := file.read(1 << 20):
            yield piece
    yield end + tail
