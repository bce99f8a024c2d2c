"""The days of every station beside each other: each cell is a day, or some days by the worst of them."""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from msgspec import Struct
from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive

from walkabout.checklist.model import NOT_LOOKED, VERDICTS
from walkabout.screens.text import STRIP_GLYPHS, STYLES, plain
from walkabout.screens.widgets.linecells import blank, joined, put
from walkabout.screens.widgets.pointed import cells
from walkabout.screens.widgets.pointing import Pointing
from walkabout.screens.widgets.ticks import days

if TYPE_CHECKING:
    from walkabout.round.heat import Heat

POINTER, NAME, NARROW_NAME = 2, 20, 14
NARROW = 72
"""Under so many columns names are cut shorter."""
WIDEST = 3
"""A day takes no more cells than this."""
_ORDER = ("", NOT_LOOKED, *VERDICTS)


class Strips(Struct, frozen=True):
    """What is drawn: the first day, how many days stand in a cell, how many cells a day takes, and the rows."""

    first: date
    last: date
    per: int
    wide: int
    rows: tuple[tuple[str, str, tuple[str, ...]], ...]
    """(key, name, verdict of each cell)."""

    @property
    def cells(self) -> int:
        """How many verdicts stand beside each other."""
        return -(-((self.last - self.first).days + 1) // self.per)

    @property
    def width(self) -> int:
        """How many columns they take."""
        return self.cells * self.wide


def strips(heat: "Heat", room: int) -> Strips:
    """Return the days of a heat strip, so that they fit into `room` columns; the last cell ends with the last day."""
    count = len(heat.dates)
    per = -(-count // max(room, 1))
    per = per if per < 4 or per > 7 else 7  # a week reads better than five days
    wide = min(max(room // count, 1), WIDEST) if per == 1 else 1
    lead = -count % per  # the oldest cell may have fewer days
    rows = tuple((row.key, row.name, _worst(("",) * lead + row.verdicts, per)) for row in heat.rows)
    return Strips(heat.dates[0] - timedelta(days=lead), heat.dates[-1], per, wide, rows)


def _worst(verdicts: Sequence[str], per: int) -> tuple[str, ...]:
    if per == 1:
        return tuple(verdicts)
    return tuple(max(verdicts[at : at + per], key=_ORDER.index) for at in range(0, len(verdicts), per))


def scale(on: Strips) -> Content:
    """Return the line of days above the strips."""
    line = blank(on.width)
    free = 0
    for day, says in days(on.first, on.last, on.width):
        at = (day - on.first).days // on.per * on.wide
        if free <= at <= on.width - len(says):
            put(line, at, says, "$muted")
            free = at + len(says) + 1
    return joined(line)


def legend(heat: "Heat", per: int) -> Content:
    """Say what the glyphs that are shown mean, and how many days stand in a cell."""
    shown = {verdict for row in heat.rows for verdict in row.verdicts}
    words = {"good": "good", "watch": "watch", "today": "act", NOT_LOOKED: "not looked"}
    if shown & {"now", "stop"}:
        shown.add("today")
    parts = [
        part
        for verdict, says in words.items()
        if verdict in shown
        for part in (plain(f"{STRIP_GLYPHS[verdict]} ", STYLES[verdict]), plain(f"{says}   ", "$muted"))
    ]
    much = {1: "", 7: "a cell is a week, its worst day"}.get(
        per, f"a cell is {per} days, the worse" if per == 2 else f"a cell is {per} days, the worst"
    )
    return Content("").join([*parts, plain(much, "$muted")])


class HeatStrips(Pointing):
    """Draws the strips with a pointer on one station; a click points, a click where it points already picks."""

    DEFAULT_CSS = """
    HeatStrips { height: auto; width: 1fr; }
    """

    class Pointed(Message):
        """The pointer has moved to another station, or has been clicked once more."""

        def __init__(self, strips: "HeatStrips", key: str, *, again: bool) -> None:
            super().__init__()
            self.strips = strips
            self.key = key
            self.again = again

        @property
        def control(self) -> "HeatStrips":
            """The strips on which it moved."""
            return self.strips

    pointed: reactive[int] = reactive(0, layout=False)
    """The row of the chosen station, from 0."""
    active: reactive[bool] = reactive(default=True, layout=False)
    """Whether the arrows move in here: the chosen station stands out then."""

    marked: reactive[str] = reactive("", layout=False)
    """The key of a station that stands out in the place of the chosen one; '' for none."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._heat: Heat | None = None
        self._first = 0

    def show(self, heat: "Heat") -> None:
        """Show the days of other dates; the pointer stays on its station."""
        key = self.key
        self._heat = heat
        keys = [row.key for row in heat.rows]
        self.set_reactive(HeatStrips.pointed, keys.index(key) if key in keys else 0)
        self.refresh(layout=True)

    @property
    def heat(self) -> "Heat | None":
        """What is shown."""
        return self._heat

    @property
    def key(self) -> str:
        """The key of the chosen station; '' as long as there is none."""
        rows = self._heat.rows if self._heat else ()
        return rows[self.pointed].key if self.pointed < len(rows) else ""

    def point(self, step: int) -> bool:
        """Move the pointer by so many stations; False where it stands at the end already."""
        count = len(self._heat.rows) if self._heat else 0
        to = min(max(self.pointed + step, 0), max(count - 1, 0))
        moved, self.pointed = to != self.pointed, to
        return moved

    def watch_pointed(self) -> None:
        """Tell the screen."""
        self.post_message(self.Pointed(self, self.key, again=False))

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """A line for the days, one for each station, one for the legend."""
        return (len(self._heat.rows) if self._heat else 0) + 2

    def render(self) -> Content:
        """Draw what fits around the pointer."""
        if self._heat is None:
            return plain("")
        width, height = self.size.width, max(self.size.height, 1)
        name = NARROW_NAME if width < NARROW else NAME
        on = strips(self._heat, width - POINTER - name)
        room = max(height - 1, 1) if height < len(on.rows) + 2 else len(on.rows)
        self._first = min(max(self.pointed - room // 2, 0), max(len(on.rows) - room, 0))
        drawn = [plain(" " * (POINTER + name)).append(scale(on))] if height > 1 else []
        shown = on.rows[self._first : self._first + room]
        drawn += [self._row(row, at, on, name, width) for at, row in enumerate(shown, self._first)]
        if height >= len(on.rows) + 2:
            words = legend(self._heat, on.per)
            lead = POINTER + name if POINTER + name + words.cell_length <= width else POINTER
            drawn.append(plain(" " * lead).append(words).truncate(width))
        return Content("\n").join(drawn)

    def _row(self, row: tuple[str, str, tuple[str, ...]], at: int, on: Strips, name: int, width: int) -> Content:
        here = at == self.pointed
        pointer = "▸ " if here and self.active else "  "
        parts = [
            plain(pointer, "$accent-text bold"),
            plain(cells(row[1], name - 1), "bold" if (row[0] == self.marked if self.marked else here) else ""),
            plain(" "),
        ]
        parts += [plain(cells(STRIP_GLYPHS[one], on.wide), STYLES[one]) for one in row[2]]
        line = Content("").join(parts)
        if here and self.active:
            return line.pad_right(max(width - line.cell_length, 0)).stylize("on $raised")
        return line

    def on_click(self, event: events.Click) -> None:
        """Point, or pick where it points already."""
        at = event.get_content_offset(self)
        count = len(self._heat.rows) if self._heat else 0
        row = self._first + at.y - (self.size.height > 1) if at is not None else -1
        if not self._first <= row < count:
            return
        event.stop()
        again = row == self.pointed
        self.pointed = row
        if again:
            self.post_message(self.Pointed(self, self.key, again=True))
