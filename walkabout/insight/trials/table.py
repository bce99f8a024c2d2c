"""A table as people save it: semicolons or commas, decimal commas or points, gaps, and a line number for each row."""

import csv
import io
import re
from collections.abc import Iterator, Sequence

from msgspec import Struct

from walkabout.room.mistakes import nearest, one_line, shortened

SEPARATORS = (";", "\t", "|", ",")
"""What may stand between cells; where two are as frequent, the earlier one."""
LARGEST, SMALLEST = 1e70, 1e-70
"""A number beyond these is a slip, or wants another unit: the square of its square would not fit."""
NO_NUMBER = frozenset(("", "na", "n/a", "nan", "null", "none", "missing", "-", "–", "—", "?", "."))
"""How people write that a number was not taken."""
NO_WORD = frozenset(("", "na", "n/a", "nan"))
"""The same where words stand: "none" may be the name of a treatment."""

_POINT = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?")
_COMMA = re.compile(r"[+-]?(\d+,\d*|,\d+)([eE][+-]?\d+)?")

_AMOUNT = re.compile(
    r"[<>~]?\s*[+-]?\d+([.,]\d+)?\s*(mm|cm|m|in|mg|g|kg|ml|l|%|°c|°|ms(/cm)?|µs(/cm)?|ppm|lux|h|d|days?|weeks?)"
    r"|[+-]?\d{1,3}([.,' ]\d{3})+([.,]\d+)?",
    re.IGNORECASE,
)


class BadTrial(ValueError):
    """A table or a question that cannot be used as it is: one line that says what is wrong and what would be right."""

    def __init__(self, says: str) -> None:
        super().__init__(one_line(says))


class Row(Struct, frozen=True):
    """The cells of one row and the line of the file on which it ends, counted from 1."""

    line: int
    cells: tuple[str, ...]


class Table(Struct, frozen=True):
    """A table of text: column names, rows, and the name of the file for messages."""

    file: str
    names: tuple[str, ...]
    rows: tuple[Row, ...]

    def column(self, name: str) -> int:
        """Return the place of a column; upper and lower case are alike. BadTrial names the nearest."""
        wanted = name.strip()
        exact = [place for place, one in enumerate(self.names) if one == wanted]
        same = exact or [place for place, one in enumerate(self.names) if one.casefold() == wanted.casefold()]
        if len(same) == 1:
            return same[0]
        if same:
            raise BadTrial(
                f'{self.file}:1: {len(same)} columns are called "{_cut(wanted)}". Give each a name of its own'
            )
        known = [_cut(one) for one in self.names if one]
        right = nearest(wanted, known) or f"It has: {', '.join(known[:14])}, …"
        raise BadTrial(f'{self.file}:1: there is no column "{_cut(wanted)}". {right}')

    def words(self, name: str) -> list[str | None]:
        """Return a column as words, one a row; None where nothing was written."""
        place = self.column(name)
        cells = (row.cells[place] for row in self.rows)
        return [None if cell.casefold() in NO_WORD else cell for cell in cells]

    def numbers(self, name: str) -> list[float | None]:
        """Return a column as numbers, one a row; None where none was taken. BadTrial names the first bad cell."""
        place = self.column(name)
        commas = self.decimal_commas(name)
        return [self._number(row, place, commas=commas) for row in self.rows]

    def decimal_commas(self, name: str) -> bool:
        """Say whether the numbers of a column are written with decimal commas."""
        place = self.column(name)
        seen = False
        for row in self.rows:
            cell = _plain(row.cells[place])
            if "." in cell and cell.casefold() not in NO_NUMBER:
                return False
            seen = seen or _COMMA.fullmatch(cell) is not None
        return seen

    def is_numbers(self, name: str) -> bool:
        """Say whether a column holds more numbers than words: the words are slips then."""
        place = self.column(name)
        cells = [cell for row in self.rows if (cell := _plain(row.cells[place])).casefold() not in NO_NUMBER]
        found = sum(1 for cell in cells if _POINT.fullmatch(cell) or _COMMA.fullmatch(cell))
        return 2 * found > len(cells)

    def _number(self, row: Row, place: int, *, commas: bool) -> float | None:
        cell = _plain(row.cells[place])
        if cell.casefold() in NO_NUMBER:
            return None
        if commas and _COMMA.fullmatch(cell):
            cell = cell.replace(",", ".")
        at = f'{self.file}:{row.line}: column "{_cut(self.names[place])}"'
        if not _POINT.fullmatch(cell):
            right = "write the result of the formula" if cell.startswith("=") else "write the number alone, such as 4.2"
            raise BadTrial(f'{at} holds "{_cut(row.cells[place])}", which is no number. In its place {right}')
        value = float(cell)
        if abs(value) > LARGEST:
            raise BadTrial(f'{at} holds "{_cut(row.cells[place])}", which is too large to reckon with')
        if 0 < abs(value) < SMALLEST:
            held = f'{at} holds "{_cut(row.cells[place])}"'
            raise BadTrial(f"{held}, which is too small to reckon with: write 0, or take another unit")
        return value


def read_table(content: bytes, file: str) -> Table:
    """Return a table from the bytes of a file; `file` is its name for messages. BadTrial where there is none."""
    text = _decoded(content, file)
    if not text.strip():
        raise BadTrial(f"{file} is empty. The first line holds the names of the columns, each further line one plant")
    first = next(line for line in text.splitlines() if line.strip())
    separator = max(SEPARATORS, key=first.count)
    rows = list(_rows(text, separator, file))
    names = tuple(one.strip() for one in rows[0].cells)
    if not rows[1:]:
        raise BadTrial(f"{file} has no rows below its first line, which holds the names of the columns")
    return Table(file, names, tuple(_fitted(row, len(names), separator, file) for row in rows[1:]))


def _decoded(content: bytes, file: str) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", errors="replace")
    if b"\0" in content:
        raise BadTrial(f"{file} is no table of text. Save it as CSV first")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", errors="replace")


def _rows(text: str, separator: str, file: str) -> Iterator[Row]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, skipinitialspace=True, strict=True)
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                yield Row(reader.line_num, tuple(cell.strip() for cell in cells))
    except csv.Error as error:
        says = "a quotation mark is opened and not closed" if "end of data" in str(error) else str(error)
        raise BadTrial(f"{file}:{reader.line_num}: this is no row of a table: {says}") from error


def _fitted(row: Row, wide: int, separator: str, file: str) -> Row:
    cells = row.cells
    if len(cells) > wide and any(cells[wide:]):
        hint = "" if separator != "," else ". A decimal comma? Then put semicolons between the columns"
        raise BadTrial(f"{file}:{row.line}: {len(cells)} cells, but {wide} columns have a name{hint}")
    return Row(row.line, (*cells[:wide], *[""] * (wide - len(cells))))


def _plain(cell: str) -> str:
    return cell.replace("−", "-").strip()


def with_unit(cell: str) -> bool:
    """Say whether a cell is an amount with its unit (4 cm), or one with two kinds of marks (1.234,5)."""
    return _AMOUNT.fullmatch(_plain(cell)) is not None


def as_number(cell: str) -> float | None:
    """Return a single word as a number, with a decimal point or comma; None where it is none."""
    word = _plain(cell)
    if not _POINT.fullmatch(word) and not _COMMA.fullmatch(word):
        return None
    return float(word.replace(",", "."))


def _cut(text: str) -> str:
    return shortened(one_line(text), 40)


def line_list(lines: Sequence[int]) -> str:
    """Return 'line 4' or 'lines 4, 9 and 12'; of many, the first few."""
    if len(lines) == 1:
        return f"line {lines[0]}"
    if len(lines) > 6:
        return f"lines {', '.join(map(str, lines[:5]))} and {len(lines) - 5} more"
    return f"lines {', '.join(map(str, lines[:-1]))} and {lines[-1]}"
