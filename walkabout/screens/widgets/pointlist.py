"""A list that may be longer than the screen, with a pointer that moves through it."""

from collections.abc import Sequence

from textual import events
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive

from walkabout.screens.text import plain
from walkabout.screens.widgets.pointing import Pointing

NOBODY = -1


class PointList(Pointing):
    """One line a row. A click points, a click where it points already picks; so do arrows and enter."""

    DEFAULT_CSS = """
    PointList { height: 1fr; width: 1fr; }
    """

    pointed: reactive[int] = reactive(NOBODY, layout=False)
    """The row pointed at; NOBODY when there is none."""

    class Pointed(Message):
        """The pointer has moved."""

        def __init__(self, rows: "PointList", index: int) -> None:
            super().__init__()
            self.rows = rows
            self.index = index

        @property
        def control(self) -> "PointList":
            """The list in which it moved."""
            return self.rows

    class Picked(Message):
        """A row was picked, by its place from 0."""

        def __init__(self, rows: "PointList", index: int) -> None:
            super().__init__()
            self.rows = rows
            self.index = index

        @property
        def control(self) -> "PointList":
            """The list from which it was picked."""
            return self.rows

    def __init__(self, *, id: str | None = None, at_once: bool = False) -> None:  # noqa: A002
        """`at_once`: the first click picks."""
        super().__init__(id=id)
        self._rows: tuple[Content, ...] = ()
        self._first = 0
        self._at_once = at_once

    def __len__(self) -> int:
        return len(self._rows)

    def show(self, rows: Sequence[Content], pointed: int) -> None:
        """Show other rows; nobody is told that the pointer has moved."""
        self._rows = tuple(rows)
        self.set_reactive(PointList.pointed, min(pointed, len(self._rows) - 1))
        self.refresh()

    def point(self, step: int) -> bool:
        """Move the pointer by so many rows, no further than the ends; say whether it has moved."""
        before = self.pointed
        if self._rows:
            self.pointed = min(max(self.pointed + step, 0), len(self._rows) - 1)
        return self.pointed != before

    def pick(self) -> None:
        """Pick the row pointed at."""
        if 0 <= self.pointed < len(self._rows):
            self.post_message(self.Picked(self, self.pointed))

    def watch_pointed(self, pointed: int) -> None:
        """Tell the screen, so that it can show the rest."""
        if pointed != NOBODY:
            self.post_message(self.Pointed(self, pointed))

    def render(self) -> Content:
        """Draw the part of the list around the pointer, and say which part it is."""
        height, width = max(self.size.height, 1), self.size.width
        room = height if len(self._rows) <= height else max(height - 1, 1)
        at = max(self.pointed, 0)
        first = min(max(self._first, at - room + 1), at)
        self._first = first = max(min(first, len(self._rows) - room), 0)
        drawn = []
        for index, row in enumerate(self._rows[first : first + room], first):
            here = index == self.pointed
            body = Content("").join([plain("▸ " if here else "  ", "$accent-text bold"), row])
            body = body.truncate(max(width, 1), ellipsis=True)
            if here:
                body = body.pad_right(max(width - body.cell_length, 0)).stylize("on $raised")
            drawn.append(body)
        if room < len(self._rows) and height > 1:
            shown = f"{first + 1}" if room == 1 else f"{first + 1} to {first + room}"
            drawn.append(plain(f"  {shown} of {len(self._rows)}", "$muted"))
        return Content("\n").join(drawn)

    def _row_at(self, event: events.MouseEvent) -> int:
        at = event.get_content_offset(self)
        if at is None:
            return NOBODY
        room = self.size.height if len(self._rows) <= self.size.height else self.size.height - 1
        return self._first + at.y if at.y < room and self._first + at.y < len(self._rows) else NOBODY

    def on_click(self, event: events.Click) -> None:
        """Point, or pick where it points already."""
        index = self._row_at(event)
        if index == NOBODY:
            return
        event.stop()
        picks = self._at_once or index == self.pointed
        self.pointed = index
        if picks:
            self.pick()
