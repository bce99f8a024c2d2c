"""What is on record at a station, a line for each question."""

from textual.content import Content

from walkabout.round.logbook import Recorded
from walkabout.round.opened import OpenRoom
from walkabout.round.trend import NOTHING, strip
from walkabout.round.values import logged_strip
from walkabout.round.words import day_words
from walkabout.screens.text import GLYPHS, STYLES, plain
from walkabout.screens.widgets.pointed import cells

WIDE = 70
"""From so many columns on, a reading has its day."""
WHEN, BARS, LAST = 11, 15, 24
"""Cells of the columns of a reading."""


def recorded_line(opened: OpenRoom, one: Recorded, width: int) -> Content:
    """Return what is on record of one question in `width` cells: verdict, name, last answer, its day, bars."""
    today = opened.today()
    question = opened.question(one.station, one.question)
    if question is not None:
        found = strip(question, one.station, opened.history, today, scales=opened.scales)
    else:
        found = logged_strip(opened, one.station, one.question)
    bars = found.bars() if found is not None else NOTHING * (BARS - 1)
    wide = width >= WIDE
    last = LAST if wide else 12
    room = max(width - 2 - last - (WHEN if wide else 0) - BARS, 8)
    name = f"{one.name[:1].upper() if one.name[1:2].islower() else one.name[:1]}{one.name[1:]}"
    parts = [
        plain(cells(GLYPHS.get(one.verdict, " "), 2), STYLES.get(one.verdict, "")),
        plain(cells(name, room - 1)), plain(" "),
        plain(cells(one.last, last - 1)), plain(" "),
        plain(cells(day_words(one.at.date(), today), WHEN) if wide else "", "$muted"),
        plain(cells(bars, BARS - 1), "$muted"),
    ]  # fmt: skip
    return Content("").join(parts)
