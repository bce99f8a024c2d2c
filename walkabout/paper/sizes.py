"""Sizes of paper and of type, margins, and how dark things are. Lengths in mm, type in points."""

from datetime import date

from msgspec import Struct

MM_PER_POINT = 25.4 / 72
LINE = 1.28
"""From one line to the next, in heights of the type."""

SMALL, TEXT, HEAD, TITLE = 8.0, 10.0, 13.0, 20.0
BLACK, GREY, RULE = 0, 70, 150
"""Of 255: grey type still reads when it has been copied; a rule may be paler."""
SIDE, TOP, BOTTOM = 17.0, 22.0, 18.0
"""Margins, mm: no printer of a school leaves less than 6."""


class Paper(Struct, frozen=True):
    """A size of paper, upright."""

    name: str
    width: float
    height: float


A4 = Paper("A4", 210.0, 297.0)
"""ISO 216."""
LETTER = Paper("Letter", 215.9, 279.4)
"""8.5 by 11 in; ANSI/ASME Y14.1."""
PAPERS = {one.name: one for one in (A4, LETTER)}


def line_height(size: float) -> float:
    """Return the step from one line to the next, mm, for type of `size` points."""
    return size * MM_PER_POINT * LINE


def day_words(day: date) -> str:
    """Say a day in full: 'Wednesday 25 November 2026'."""
    return f"{day:%A} {day.day} {day:%B %Y}"
