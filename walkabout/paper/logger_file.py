"""A logger's file as a table: bytes to rows of text, each with its line, however the logger writes them."""

import csv
import io
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from msgspec import Struct

from walkabout.paper.logger_columns import BadLogger
from walkabout.paper.logger_times import Order, orders_of

SEPARATORS = (";", "\t", "|", ",")
_LOOKED_AT = 60
"""Lines by which the file's way of writing is found out."""


class LoggerFile(Struct, frozen=True):
    """The columns' names and the rows, each with the line on which it stands."""

    path: Path
    names: tuple[str, ...]
    rows: tuple[tuple[int, list[str]], ...]
    separator: str

    def column(self, name: str) -> list[str]:
        """Return the cells of a column."""
        place = self.names.index(name)
        return [cells[place] for _, cells in self.rows if place < len(cells)]


def read_logger_file(path: Path, content: bytes) -> LoggerFile:
    """Return the table in a file's bytes; BadLogger where there is none."""
    text = _decoded(path, content)
    lines = text.splitlines()
    if not any(line.strip() for line in lines):
        raise BadLogger(f"{path}:1: the file is empty")
    separator, width = _separator(path, lines[:_LOOKED_AT])
    rows = _rows(path, text, separator, csv.QUOTE_MINIMAL)
    if '"' in text and any("\n" in cell or "\r" in cell for _, cells in rows for cell in cells):
        # a quotation mark that nobody closed would swallow every row below it
        rows = [
            (line, [cell.strip('"') for cell in cells]) for line, cells in _rows(path, text, separator, csv.QUOTE_NONE)
        ]
    head = next(place for place, (_, cells) in enumerate(rows) if len(cells) >= width)
    if any(orders_of([cell]) for cell in rows[head][1]):
        names = [f"column {number}" for number in range(1, len(rows[head][1]) + 1)]
    else:
        names = _told_apart(rows[head][1])
        head += 1
    if not rows[head:]:
        raise BadLogger(f"{path}:{rows[-1][0]}: there are no readings below the names of the columns")
    return LoggerFile(path, tuple(names), tuple(rows[head:]), separator)


def _rows(path: Path, text: str, separator: str, quoting: Literal[0, 3]) -> list[tuple[int, list[str]]]:
    rows: list[tuple[int, list[str]]] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, skipinitialspace=True, quoting=quoting)
    line = 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                rows.append((line, [cell.strip() for cell in cells]))
            line = reader.line_num + 1
    except csv.Error as error:
        raise BadLogger(f"{path}:{line}: this line is no row of a table ({error})") from error
    return rows


def time_columns(file: LoggerFile) -> tuple[tuple[str, ...], list[Order]]:
    """Return the column, or the two columns, that say when, and the orders in which they can be read."""
    sample = file.rows[:_LOOKED_AT] + file.rows[_LOOKED_AT :: max(len(file.rows) // 400, 1)]
    sample = tuple(row for row in sample if tuple(row[1]) != file.names)
    texts = {name: [cells[place] for _, cells in sample if place < len(cells)] for place, name in enumerate(file.names)}
    dated = [(name, orders) for name in file.names if (orders := orders_of(texts[name]))]
    if not dated:
        raise BadLogger(f"{file.path}:{file.rows[0][0]}: no column holds days and times. Name it with --time COLUMN")
    name, orders = dated[0]
    if _mostly_clocks(texts[name]) or orders[0] in ("seconds", "milliseconds"):
        return (name,), orders
    for other in file.names:
        joined = [f"{one} {two}" for one, two in zip(texts[name], texts[other], strict=False)]
        if other != name and _mostly_clocks(texts[other]) and (found := orders_of(joined)):
            return (name, other), found
    return (name,), orders


def _mostly_clocks(texts: Sequence[str]) -> bool:
    return 2 * sum(":" in text for text in texts) > len(texts)


def sampled(file: LoggerFile, columns: Sequence[str]) -> list[str]:
    """Return moments from all over the file, for finding out their order."""
    places = [file.names.index(name) for name in columns]
    step = max(len(file.rows) // 400, 1)
    return [" ".join(cells[place] for place in places) for _, cells in file.rows[::step] if len(cells) > max(places)]


_OTHERS = {
    b"%PDF": "a PDF, made for printing. Have the logger's program write CSV",
    b"PK\x03\x04": "a spreadsheet or a packed folder. Open it and save it as CSV",
    b"\xd0\xcf\x11\xe0": "an old spreadsheet. Open it and save it as CSV",
    b"\x1f\x8b": "packed. Unpack it first",
}
"""How files begin that are no text, and what they are."""
_CONTROLS = {*range(32)} - {*b"\t\n\f\r\x1a"}


def _decoded(path: Path, content: bytes) -> str:
    for begins, says in _OTHERS.items():
        if content.startswith(begins):
            raise BadLogger(f"{path}:1: this is {says}")
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", errors="replace")
    if b"\0" in content and (wide := _wide(content)):
        return content.decode(wide, errors="replace")
    if b"\0" in content:
        # a logger that lost its power leaves a stretch of zeros; what else is no text stays none without them
        content = content.replace(b"\0", b"")
        if not content.strip() or _CONTROLS & {*content}:
            raise BadLogger(f"{path}:1: this is no table of text. Save it as CSV first")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", errors="replace")


def _wide(content: bytes) -> str:
    """Return which UTF-16 a text without a mark is in: its ASCII has a zero in every other byte; nothing for none."""
    start = content[:400]
    for first, name in ((1, "utf-16-le"), (0, "utf-16-be")):
        if start[first::2].count(0) > 0.8 * len(start[first::2]) and not start[1 - first :: 2].count(0):
            return name
    return ""


def _separator(path: Path, lines: Sequence[str]) -> tuple[str, int]:
    """Return what stands between cells, and how many cells a row has."""
    best: tuple[int, int, str] = (0, 0, "")
    filled = [line for line in lines if line.strip()]
    for separator in SEPARATORS:
        counts = Counter(len(next(csv.reader([line], delimiter=separator), [])) for line in filled)
        width, times = max(counts.items(), key=lambda item: (item[1], item[0]))
        if width > 1 and times > best[0]:
            best = (times, width, separator)
    if not best[2]:
        raise BadLogger(f"{path}:1: no semicolons, tabs or commas stand between columns")
    return best[2], best[1]


def _told_apart(names: Sequence[str]) -> list[str]:
    """Return names that are all there and all different."""
    found: list[str] = []
    for number, name in enumerate(names, 1):
        one = name or f"column {number}"
        while one in found:
            one += " again"
        found.append(one)
    return found
