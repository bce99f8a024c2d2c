"""The first rows of a file as a small table."""

from collections.abc import Sequence

from textual.content import Content

from walkabout.screens.text import fitted, plain

WIDEST, NARROWEST, GAP = 22, 6, 2
"""Cells of a column, and between two."""


def row_table(
    names: Sequence[str], rows: Sequence[Sequence[str]], width: int, *, pointed: str = "", most: int = 4
) -> list[Content]:
    """Return names and the first rows in lines of `width` cells; the column `pointed` is always among those shown."""
    cells = [[row[place] if place < len(row) else "" for row in rows[:most]] for place in range(len(names))]
    widths = [
        min(max(Content(one).cell_length for one in (name, *column, " " * NARROWEST)), WIDEST)
        for name, column in zip(names, cells, strict=True)
    ]
    at = names.index(pointed) if pointed in names else 0
    first = last = at
    room = width - widths[at] - len("and 100 more")
    while True:  # as many beside it as there is room for, those before it first
        if first and widths[first - 1] + GAP <= room:
            first -= 1
            room -= widths[first] + GAP
        elif last + 1 < len(names) and widths[last + 1] + GAP <= room:
            last += 1
            room -= widths[last] + GAP
        else:
            break
    shown = range(first, last + 1)
    left_out = len(names) - len(shown)
    more = f"and {left_out} more" if left_out else ""
    styles = ["bold $accent-text" if names[place] == pointed else "$muted" for place in shown]
    lines = [_line([fitted(names[place], widths[place]) for place in shown], styles, more)]
    for number in range(min(len(rows), most)):
        texts = [fitted(cells[place][number], widths[place]) for place in shown]
        lines.append(_line(texts, ["" if names[place] == pointed or not pointed else "$muted" for place in shown], ""))
    return lines


def _line(texts: Sequence[str], styles: Sequence[str], more: str) -> Content:
    parts = [plain(f"{text}{' ' * GAP}", style) for text, style in zip(texts, styles, strict=True)]
    return Content("").join([*parts, plain(more, "$muted")])
