"""A line of text made cell by cell, so that what is put into it stands exactly where it should."""

from collections.abc import Sequence

from rich.cells import cell_len
from textual.content import Content

from walkabout.screens.text import plain

Cell = tuple[str, str]
"""What stands in a cell, and its style; nothing in the second cell of a wide character."""
RAISED = "on $raised"


def blank(width: int) -> list[Cell]:
    """Return an empty line."""
    return [(" ", "")] * width


def over(under: str, style: str) -> str:
    """Return a style that keeps the ground it is written on."""
    return f"{style} {RAISED}".strip() if under.endswith(RAISED) and not style.endswith(RAISED) else style


def put(line: list[Cell], at: int, text: str, style: str = "") -> None:
    """Write text into the cells from `at` on; what lies outside is left out, a wide character takes two cells."""
    for letter in text.replace("\n", " "):
        size = cell_len(letter)
        if size == 0:
            if 0 < at <= len(line) and line[at - 1][0]:
                line[at - 1] = (line[at - 1][0] + letter, line[at - 1][1])
            continue
        if at >= 0 and at + size <= len(line):
            _free(line, at, size)
            line[at] = (letter, over(line[at][1], style))
            if size == 2:
                line[at + 1] = ("", line[at][1])
        at += size


def _free(line: list[Cell], at: int, size: int) -> None:
    """Leave no half of a wide character beside what is written."""
    if line[at][0] == "" and at:
        line[at - 1] = (" ", line[at - 1][1])
    if at + size < len(line) and line[at + size][0] == "":
        line[at + size] = (" ", line[at + size][1])


def joined(line: Sequence[Cell]) -> Content:
    """Return the cells as one line, neighbours of one style together."""
    parts: list[Content] = []
    text, style = "", ""
    for letter, wanted in line:
        if wanted != style and text:
            parts.append(plain(text, style))
            text = ""
        style = wanted
        text += letter
    return Content("").join([*parts, plain(text, style)])
