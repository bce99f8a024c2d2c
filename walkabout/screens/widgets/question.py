"""One question as a whole: where, what is asked, the answers, why it is asked, what came before.

It is drawn as one widget with no layout of its own, so that the next question is painted at once.
"""

from collections.abc import Sequence
from itertools import zip_longest

from msgspec import Struct
from textual import events
from textual.content import Content
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import reactive

from walkabout.screens.text import plain
from walkabout.screens.widgets.choices import NOBODY, Row, draw_rows
from walkabout.screens.widgets.drawn import Drawn
from walkabout.screens.widgets.number import Number, draw_number, pad_key

WIDEST = 76


class Shown(Struct, frozen=True, kw_only=True):
    """What a question shows, from top to bottom."""

    where: Content
    ask: str
    how: str = ""
    rows: tuple[Row, ...] = ()
    number: Number | None = None
    unit: str = ""
    remark: str = ""
    doubt: str = ""
    why: str = ""
    strip: Content | None = None
    said: tuple[Content, ...] = ()


class QuestionView(Drawn):
    """Draws a question; what is least needed goes first when the screen is low."""

    DEFAULT_CSS = """
    QuestionView { width: 1fr; height: 1fr; padding: 0 1; }
    """

    class Picked(Message):
        """An answer was clicked, by its place from 0."""

        def __init__(self, index: int) -> None:
            super().__init__()
            self.index = index

    class Pressed(Message):
        """A key of the digits' line was clicked."""

        def __init__(self, key: str) -> None:
            super().__init__()
            self.key = key

    pointed: reactive[int] = reactive(NOBODY, layout=False, repaint=False)
    """The row under the pointer or the arrows; NOBODY at first."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._shown: Shown | None = None
        self._lines: list[Content] = []
        self._laid_for = Size(0, 0)
        self._first_row = 0
        self._pad_line = NOBODY

    def show(self, shown: Shown, pointed: int = NOBODY) -> None:
        """Show another question, or the same one further on."""
        self._shown = shown
        self.set_reactive(QuestionView.pointed, pointed)
        self._repaint()

    def point(self, step: int) -> None:
        """Move the pointer by so many rows."""
        rows = self._shown.rows if self._shown else ()
        if rows:
            start = self.pointed if self.pointed != NOBODY else (-1 if step > 0 else 0)
            self.pointed = (start + step) % len(rows)

    def watch_pointed(self) -> None:
        """Move the raised ground."""
        self._repaint()

    def on_resize(self) -> None:
        """Lay the parts out afresh."""
        self._repaint()

    def render(self) -> Content:
        """Draw the lines as they were laid out last; the first paint comes before the word of the size does."""
        if self._laid_for != self.size:
            self._lines = self._laid_out()
        return Content("\n").join(self._lines)

    def _repaint(self) -> None:
        """Lay the parts out, and paint only the lines that have changed."""
        before, self._lines = self._lines, self._laid_out()
        pairs = zip_longest(before, self._lines)
        changed = [y for y, (old, new) in enumerate(pairs) if not _alike(old, new)]
        if changed:
            first, last = changed[0], changed[-1]
            self.refresh(Region(0, first, self.outer_size.width, last - first + 1))

    def _laid_out(self) -> list[Content]:
        """Lay the parts under each other and leave out what does not fit."""
        self._laid_for = self.size
        shown, width, height = self._shown, min(self.size.width, WIDEST), self.size.height
        if shown is None or not height:
            return []
        answers = self._answers(shown, width)
        above = [shown.where.truncate(width, ellipsis=True), plain(""), *plain(shown.ask, "bold").wrap(width)]
        how = plain(shown.how, "$muted").wrap(width) if shown.how else []
        doubt = _block(plain(shown.doubt, "$watch").wrap(width) if shown.doubt else [])
        why = _block(plain(shown.why, "$muted").wrap(width) if shown.why else [])
        strip = _block([shown.strip] if shown.strip else [])
        said = _block([line for one in shown.said for line in one.wrap(width)])
        needed = len(above) + len(answers) + len(doubt) + len(said)
        if needed > height:  # the question, its answers and what is doubted are what must be seen
            above, said = above[2:], []
            needed = len(above) + len(answers) + len(doubt)
        if needed > height and shown.number is not None:
            answers, doubt = answers[:1], doubt[1:]
            needed = len(above) + len(answers) + len(doubt)
        room = height - needed - 1
        kept_why = why if len(why) <= room else []
        room -= len(kept_why)
        kept_how = how if len(how) <= room else []
        room -= len(kept_how)
        kept_strip = strip if len(strip) <= room else []
        gap = [plain("")] if needed < height else []
        self._first_row = len(above) + len(kept_how) + len(gap)
        self._pad_line = self._first_row + 2 if shown.number is not None and len(answers) == 3 else NOBODY
        rows = [*above, *kept_how, *gap, *answers, *doubt, *kept_why, *kept_strip, *said]
        return rows[:height]

    def _answers(self, shown: Shown, width: int) -> list[Content]:
        if shown.number is not None:
            return draw_number(shown.number, shown.unit, shown.remark, width)
        return draw_rows(shown.rows, width, self.pointed)

    def _row_at(self, event: events.MouseEvent) -> int:
        at = event.get_content_offset(self)
        rows = self._shown.rows if self._shown else ()
        row = at.y - self._first_row if at is not None else NOBODY
        return row if 0 <= row < len(rows) else NOBODY

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Follow the mouse."""
        self.pointed = self._row_at(event)

    def on_leave(self) -> None:
        """Forget the mouse."""
        self.pointed = NOBODY

    def on_click(self, event: events.Click) -> None:
        """Pick the row, or press the digit, that was clicked."""
        at = event.get_content_offset(self)
        if (index := self._row_at(event)) != NOBODY:
            event.stop()
            self.post_message(self.Picked(index))
        elif at is not None and at.y == self._pad_line and (key := pad_key(at.x)):
            event.stop()
            self.post_message(self.Pressed(key))


def _alike(one: Content | None, other: Content | None) -> bool:
    return one is not None and other is not None and one.plain == other.plain and one.spans == other.spans


def _block(rows: Sequence[Content]) -> list[Content]:
    """Set rows apart from what stands above them."""
    return [plain(""), *rows] if rows else []
