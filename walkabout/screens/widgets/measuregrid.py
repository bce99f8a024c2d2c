"""A grid to type measurements into: a row for each plot, a column for each day or kind, and the digits to click."""

from collections.abc import Sequence

from msgspec import Struct
from textual import events
from textual.content import Content
from textual.message import Message
from textual.widget import Widget

from walkabout.screens.text import plain
from walkabout.screens.widgets.pointed import cells

CELL = 10
NAMES, TREATMENT = (10, 26), 16
PAD = ("1", "2", "3", "4", "5", "6", "7", "8", "9", "0", ".", "-", "/", "⌫", "enter")


class GridRow(Struct, frozen=True):
    """A plot: its name, its treatment where that may be seen, and a text for each column ('' for nothing)."""

    name: str
    treatment: str
    values: tuple[str, ...]
    out: tuple[bool, ...]
    """Which of them are left out of the reckoning."""


class MeasureGrid(Widget):
    """Shows the part of the grid around the cell pointed at; a click points."""

    DEFAULT_CSS = """
    MeasureGrid { height: 1fr; width: 1fr; }
    """

    class Clicked(Message):
        """A cell was clicked."""

        def __init__(self, grid: "MeasureGrid", row: int, column: int) -> None:
            super().__init__()
            self.grid = grid
            self.row = row
            self.column = column

        @property
        def control(self) -> "MeasureGrid":
            """The grid it happened in."""
            return self.grid

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._heads: tuple[str, ...] = ()
        self._over: tuple[str, ...] = ()
        self._rows: tuple[GridRow, ...] = ()
        self._at = (0, 0)
        self._typed = ""
        self._first = (0, 0)

    def show(
        self,
        heads: Sequence[str],
        rows: Sequence[GridRow],
        at: tuple[int, int],
        typed: str,
        over: Sequence[str] = (),
    ) -> None:
        """Show these cells, the pointer at (row, column) with what is being typed there; `over` stands above heads."""
        self._heads, self._rows, self._at, self._typed = tuple(heads), tuple(rows), at, typed
        self._over = tuple(over)
        self.refresh()

    @property
    def _above(self) -> int:
        """How many lines stand above the rows."""
        return 2 if self._over else 1

    def _columns(self) -> tuple[int, int, int]:
        """Return the cells of the names and of the treatments, and how many days fit."""
        width = self.size.width - 2
        longest = max((Content(one.name).cell_length for one in self._rows), default=NAMES[0])
        names = min(max(longest, NAMES[0]), NAMES[1], max(width // 3, NAMES[0])) + 1
        treatment = (
            TREATMENT if width - names - TREATMENT >= 2 * CELL and any(one.treatment for one in self._rows) else 0
        )
        return names, treatment, max((width - names - treatment) // CELL, 1)

    def render(self) -> Content:
        """Draw the heads of the days and the rows around the pointer."""
        names, treatment, days = self._columns()
        row, column = self._at
        room = max(self.size.height - self._above, 1)
        many = room if len(self._rows) <= room else max(room - 1, 1)
        top = min(max(self._first[0], row - many + 1), row)
        left = min(max(self._first[1], column - days + 1), column)
        top, left = max(min(top, len(self._rows) - many), 0), max(min(left, len(self._heads) - days), 0)
        self._first = top, left
        shown = range(left, min(left + days, len(self._heads)))
        drawn = [self._head(texts, names + treatment, shown) for texts in (self._over, self._heads) if texts]
        for index in range(top, min(top + many, len(self._rows))):
            one, here = self._rows[index], index == row
            parts = [
                plain("▸ " if here else "  ", "$accent-text bold"),
                plain(cells(one.name, names - 1) + " ", "bold" if here else ""),
                plain(cells(one.treatment, treatment), "$muted"),
            ]
            parts += [self._cell(one, at, here=here and at == column) for at in shown]
            drawn.append(Content("").join(parts))
        if many < len(self._rows):
            drawn.append(
                plain(f"  {top + 1} to {min(top + many, len(self._rows))} of {len(self._rows)} plots", "$muted")
            )
        return Content("\n").join(drawn)

    def _head(self, texts: Sequence[str], left: int, shown: range) -> Content:
        parts = [plain(" " * (2 + left))]
        for at in shown:
            text = cells(texts[at], CELL - 2) if len(texts[at]) > CELL - 2 else texts[at].rjust(CELL - 2)
            parts.append(plain(f"{text}  ", "$accent-text" if at == self._at[1] else "$muted"))
        return Content("").join(parts)

    def _cell(self, row: GridRow, at: int, *, here: bool) -> Content:
        value = f"({row.values[at]})" if row.out[at] else row.values[at]
        if not here:
            return plain(
                f"{cells(value, CELL - 2) if len(value) > CELL - 2 else value.rjust(CELL - 2)}  ",
                "$muted" if row.out[at] else "",
            )
        text = f"{self._typed}▏" if self._typed else value or "▏"
        text = text[-(CELL - 2) :].rjust(CELL - 2)
        return Content("").join([plain(f"{text} ", "bold on $raised"), plain(" ")])

    def on_click(self, event: events.Click) -> None:
        """Point at the cell that was clicked."""
        at = event.get_content_offset(self)
        if at is None or at.y < self._above:
            return
        names, treatment, days = self._columns()
        row = self._first[0] + at.y - self._above
        past = at.x - 2 - names - treatment
        column = self._first[1] + past // CELL if past >= 0 else self._at[1]
        column = min(column, self._first[1] + days - 1, len(self._heads) - 1)
        if row < len(self._rows):
            event.stop()
            self.post_message(self.Clicked(self, row, column))


class PadLine(Widget):
    """The digits, to click; each is posted as the key it stands for."""

    DEFAULT_CSS = """
    PadLine { height: 1; width: 1fr; }
    """

    class Pressed(Message):
        """A key of the line was clicked: one of PAD."""

        def __init__(self, line: "PadLine", key: str) -> None:
            super().__init__()
            self.line = line
            self.key = key

        @property
        def control(self) -> "PadLine":
            """The line it happened in."""
            return self.line

    def render(self) -> Content:
        """Draw the keys beside each other."""
        return Content("").join([part for key in PAD for part in (plain(key, "$accent-text"), plain("  "))])

    def on_click(self, event: events.Click) -> None:
        """Press the key under the mouse."""
        at = event.get_content_offset(self)
        start = 0
        for key in PAD:
            if at is not None and start <= at.x <= start + len(key):
                event.stop()
                self.post_message(self.Pressed(self, key))
                return
            start += len(key) + 2
