"""A short list of answers, each with its key; picked with the key, the arrows or the mouse."""

from collections.abc import Sequence

from msgspec import Struct
from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from walkabout.screens.text import fitted, plain

NOBODY = -1


class Row(Struct, frozen=True):
    """One answer: what it says, and a quiet remark on its right ('yesterday')."""

    says: str
    remark: str = ""
    mark: str = ""
    """A sign in front of it: whether it is ticked."""


def draw_rows(rows: Sequence[Row], width: int, pointed: int = NOBODY, *, keys: bool = True) -> list[Content]:
    """Return one line a row; the one pointed at stands on a raised ground."""
    room = max(width - 5, 10)
    drawn = []
    for index, row in enumerate(rows):
        remark = f"  ‹ {row.remark}" if row.remark else ""
        left = room - len(row.mark) - Content(remark).cell_length
        says = row.says if not remark else fitted(row.says, min(max(Content(row.says).cell_length, 26), left))
        body = Content("").join(
            [
                plain(f" {index + 1 if keys else ' '}  ", "$accent-text bold"),
                plain(row.mark, "$accent-text"),
                plain(fitted(says, min(Content(says).cell_length, room))),
                plain(remark, "$muted"),
            ]
        )
        if index == pointed:
            body = body.pad_right(max(width - body.cell_length, 0)).stylize("on $raised")
        drawn.append(body)
    return drawn


class Choices(Widget):
    """Rows of answers. Nothing is marked until somebody points at it."""

    DEFAULT_CSS = """
    Choices { height: auto; width: 1fr; }
    """

    class Picked(Message):
        """An answer was picked, by its place from 0."""

        def __init__(self, choices: "Choices", index: int) -> None:
            super().__init__()
            self.choices = choices
            self.index = index

        @property
        def control(self) -> "Choices":
            """The list it was picked from."""
            return self.choices

    pointed: reactive[int] = reactive(NOBODY, layout=False)
    """The row under the pointer or the arrows; NOBODY at first."""

    def __init__(self, rows: Sequence[Row] = (), *, id: str | None = None, keys: bool = True) -> None:  # noqa: A002
        super().__init__(id=id)
        self._rows = tuple(rows)
        self._keys = keys

    def show(self, rows: Sequence[Row], pointed: int = NOBODY) -> None:
        """Put other answers in their place."""
        grown = len(rows) != len(self._rows)
        self._rows = tuple(rows)
        self.set_reactive(Choices.pointed, pointed)
        self.refresh(layout=grown)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """One line a row."""
        return len(self._rows)

    def render(self) -> Content:
        """Draw the rows."""
        return Content("\n").join(draw_rows(self._rows, self.size.width, self.pointed, keys=self._keys))

    def point(self, step: int) -> None:
        """Move the pointer by so many rows."""
        if self._rows:
            start = self.pointed if self.pointed != NOBODY else (-1 if step > 0 else 0)
            self.pointed = (start + step) % len(self._rows)

    def _row_at(self, event: events.MouseEvent) -> int:
        at = event.get_content_offset(self)
        return at.y if at is not None and at.y < len(self._rows) else NOBODY

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Follow the mouse."""
        self.pointed = self._row_at(event)

    def on_leave(self) -> None:
        """Forget the mouse."""
        self.pointed = NOBODY

    def on_click(self, event: events.Click) -> None:
        """Pick the row that was clicked."""
        if (index := self._row_at(event)) != NOBODY:
            event.stop()
            self.post_message(self.Picked(self, index))
