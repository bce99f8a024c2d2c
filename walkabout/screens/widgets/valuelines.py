"""The answers behind a trend as lines: day, value, verdict, what is to be known of it."""

import itertools
from collections.abc import Sequence
from datetime import datetime

from rich.cells import cell_len
from textual.content import Content

from walkabout.round.values import Valued
from walkabout.screens.text import GLYPHS, STYLES, plain
from walkabout.screens.widgets.pointed import cells

MOST = 400
"""So many of the newest are listed: more than a term of rounds."""
GAP = 2
NOTE = 24
"""With fewer cells than this beside it, a note stands below its value."""


def value_lines(values: Sequence[Valued], width: int) -> list[Content]:
    """Return the answers in lines of `width` cells, the first of `values` on top; nothing is cut, all is wrapped.

    Each begins with its number in the line over time, as the working names it.
    """
    shown = values[:MOST]
    if not shown:
        return [plain("Nothing was answered in these days.", "$muted")]
    years = len({one.at.year for one in shown}) > 1
    often = any(one.at.date() == later.at.date() for one, later in itertools.pairwise(shown))
    number = max((len(str(one.place)) for one in shown if one.place), default=0)
    day = max(len(_when(one.at, years=years, often=often)) for one in shown)
    verdict = max((cell_len(_judged(one)) for one in shown), default=0)
    value = min(max(cell_len(one.says) for one in shown), max((width - number - day - verdict) // 2, 12))
    note = width - (number + GAP if number else 0) - day - value - verdict - 3 * GAP
    rows = []
    for one in shown:
        left = [
            (str(one.place or "").rjust(number), number, "$muted"),
            (_when(one.at, years=years, often=often), day, "$muted"),
            (one.says, value, ""),
            (_judged(one), verdict, STYLES[one.verdict]),
        ]
        says = " ".join(one.notes)
        if note >= NOTE or not says:
            rows += beside([*left, (says, max(note, 1), "$muted")])
        else:
            rows += [
                *beside(left),
                *beside(
                    [
                        ("", number, ""),
                        ("", day, ""),
                        (says, max(width - (number + GAP if number else 0) - day - GAP, 8), "$muted"),
                    ]
                ),
            ]
    if len(values) > len(shown):
        rows.append(plain(f"and {len(values) - len(shown)} before that: the tables have them all", "$muted"))
    return rows


def beside(columns: Sequence[tuple[str, int, str]]) -> list[Content]:
    """Return (text, cells, style) beside each other, each wrapped in its cells; one of no cells is left out."""
    columns = [one for one in columns if one[1] > 0]
    wrapped = [plain(text.replace("\n", " ")).wrap(wide) or [plain("")] for text, wide, _ in columns]
    rows = []
    for parts in itertools.zip_longest(*wrapped, fillvalue=plain("")):
        line = [
            plain(cells(part.plain.rstrip(), wide) + " " * GAP, style)
            for part, (_, wide, style) in zip(parts, columns, strict=True)
        ]
        rows.append(Content("").join(line))
    return rows


def _judged(one: Valued) -> str:
    return f"{GLYPHS[one.verdict]} {one.verdict}" if one.verdict else ""


def _when(at: datetime, *, years: bool, often: bool) -> str:
    return f"{at:%a} {at.day:>2} {at:%b}{f' {at.year}' if years else ''}{f' {at:%H:%M}' if often else ''}"
