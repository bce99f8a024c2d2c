"""Pictures of numbers, drawn as lines and areas: they stay sharp at any size and read when copied. Lengths in mm."""

from collections.abc import Sequence

from walkabout.paper.pages import Pages
from walkabout.paper.sizes import GREY, RULE, SMALL, TEXT, TITLE, line_height

FILLED = 90
NAMES, LONGEST_NAMES, VALUES = 46.0, 88.0, 22.0
"""The columns of names, where they are short and where they are long, and of values beside the bars."""
BAR, STEP = 4.4, 6.8
HIGH = 30.0
"""How high the columns are."""
MOST_COLUMNS = 30
"""More columns than this would be too thin to tell apart: only the last are drawn."""


def figures(pages: Pages, rows: Sequence[tuple[str, str]]) -> None:
    """Draw a few numbers, big, each with what it counts below it."""
    each = pages.width / max(len(rows), 1)
    pages.need(22)
    deepest = 0.0
    for place, (value, says) in enumerate(rows):
        x = pages.left + place * each
        down = pages.put(value, x, pages.y, each - 5, TITLE, bold=True, most=1)
        down += pages.put(says, x, pages.y + down, each - 5, SMALL, grey=GREY, most=2)
        deepest = max(deepest, down)
    pages.gap(deepest)


def bars(pages: Pages, rows: Sequence[tuple[str, float, float, str]]) -> None:
    """Draw a lying bar for each (name, value, hollow part of it, value in words)."""
    longest = max((value for _, value, _, _ in rows), default=0.0)
    widest = max((pages.measure(pages.clean(name)) for name, *_ in rows), default=0.0)
    names = min(max(widest + 4, NAMES), LONGEST_NAMES)
    room = pages.width - names - VALUES
    for name, value, hollow, says in rows:
        pages.need(STEP)
        pages.put(name, pages.left, pages.y, names - 3, most=1)
        long = room * value / longest if longest else 0.0
        full = long * (value - hollow) / value if value else 0.0
        pages.bar(pages.left + names, pages.y, full, BAR, FILLED)
        if hollow:
            pages.outline(pages.left + names + full, pages.y, long - full, BAR)
        pages.put(says, pages.left + names + long + 2, pages.y, VALUES - 2, most=1)
        pages.gap(STEP)


def columns(pages: Pages, rows: Sequence[tuple[str, int, int]]) -> None:
    """Draw a standing column for each (name, how many, out of how many), with the numbers above."""
    rows = rows[-MOST_COLUMNS:]
    most = max((of for _, _, of in rows), default=0) or 1
    each = min(pages.width / max(len(rows), 1), 18.0)
    name = line_height(SMALL)
    pages.need(HIGH + 2 * name + 6)
    foot = pages.y + name + HIGH
    every = max(1, round(12.0 / each + 0.49))  # a name needs 12 mm
    for place, (says, count, of) in enumerate(rows):
        x, wide = pages.left + place * each, each * 0.62
        pages.bar(x, foot - HIGH * count / most, wide, HIGH * count / most, FILLED)
        if of:
            pages.outline(x, foot - HIGH * of / most, wide, HIGH * of / most)
            above = f"{count}/{of}" if pages.measure(f"{count}/{of}", SMALL - 1) <= each else str(count)
            pages.put(above, x, foot - HIGH * of / most - name, each, SMALL - 1, grey=GREY, most=1)
        if place % every == 0:
            pages.put(says, x, foot + 1, min(each * every, pages.right - x), SMALL - 1, most=1)
    pages.y = foot
    pages.rule(0.2, RULE)
    pages.gap(name + 2.5)


def table(pages: Pages, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    """Draw a table: names at the left, numbers at the right of their columns; its head stands on every page."""
    each = (pages.width - NAMES) / max(len(heads) - 1, 1)
    step = line_height(TEXT) + 1.2

    def row(cells: Sequence[str], *, head: bool) -> None:
        size = SMALL if head else TEXT
        pages.put(cells[0], pages.left, pages.y, NAMES, size, grey=GREY if head else 0, most=1)
        for place, cell in enumerate(cells[1:]):
            x = pages.left + NAMES + place * each
            pages.put(cell, x, pages.y, each, size, grey=GREY if head else 0, align="R", most=1)
        pages.gap(step)

    row(heads, head=True)
    for one in rows:
        if pages.need(step):
            row(heads, head=True)
        row(one, head=False)
