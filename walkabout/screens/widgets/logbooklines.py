"""The words and keys of the logbook: what has shifted, what a part is about, what can be done in it."""

from collections.abc import Sequence
from typing import Literal

from textual.content import Content

from walkabout.round.logbook import Moved, Recorded, asked_of
from walkabout.round.opened import OpenRoom
from walkabout.screens.text import plain
from walkabout.screens.widgets.keyline import Key
from walkabout.screens.widgets.reading import wrapped
from walkabout.screens.widgets.recordedlines import WIDE

CHANCE = ": more than chance."
Part = Literal["moved", "stations", "readings"]
"""The three parts of the logbook: what has shifted, the days of every station, what is on record at one."""


def moved_title(moved: Sequence[Moved] | None) -> Content:
    """Return the heading above what has shifted; None as long as it is being looked for."""
    says = "looking" if moved is None else "" if moved else "no shift shown"
    return plain("What has shifted by more than chance", "$accent-text").append(plain(f"   {says}", "$muted"))


def moved_line(opened: OpenRoom, one: Moved, width: int = 0) -> Content:
    """Return the line of a shift: where, and what of it has shifted since when.

    Where it is too long for `width` cells it leaves out what the heading says of all of them.
    """
    whole = _moved(opened, one, one.says)
    return whole if not width or whole.cell_length <= width else _moved(opened, one, one.says.replace(CHANCE, ".", 1))


def _moved(opened: OpenRoom, one: Moved, says: str) -> Content:
    return plain("▴ ", "$watch").append(plain(f"{opened.name_of(one.station)}: ", "bold")).append(plain(says))


def on_record(opened: OpenRoom, station: str, count: int, width: int) -> Content:
    """Return the heading of a station's readings: its name, and how many are on record."""
    many = f"{count} on record" if count else "nothing is on record yet"
    many += "   last fourteen days at the right" if count and width >= WIDE else ""
    name = plain(opened.name_of(station), "$accent-text") if station else plain("")
    return name.append(plain(f"   {many}", "$muted"))


def asked_lines(opened: OpenRoom, rows: Sequence[Recorded], at: int, width: int) -> list[Content]:
    """Return the whole of what was asked for one of `rows`, in as many lines as the longest takes: nothing jumps."""
    asked = [wrapped(asked_of(opened, one.station, one.question), width, "$accent-text") for one in rows]
    high = max(map(len, asked))
    return (asked[at] + [plain("")] * high)[:high]


def keys_in(part: Part) -> tuple[Key, ...]:
    """Return the keys of a part, the most needed first: those that take something in or out come before the moves."""
    return (
        Key("enter", "readings" if part == "stations" else "trend", "screen.closer"),
        Key("←→", "span", "screen.next_span"), Key("t", "trials", "app.go('trials')"),
        Key("n", "term", "app.go('term')"), Key("p", "paper", "app.go('paper')"),
        Key("x", "tables", "app.go('export')"),
        Key("esc", "back", "screen.back"),
        Key("i", "take in", "app.go('take-in')"),
        Key("tab", "next part", "screen.turn(1)"), Key("f", "finding", "app.flag"),
        Key("l", "lookup", "app.lookup"), Key("h", "handing over", "app.go('handover')"),
        Key("?", "help", "app.help"),
    )  # fmt: skip
