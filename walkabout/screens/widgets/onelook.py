"""The one look that would tell: what is asked, how to look, and the keys or the number that answer it."""

from typing import TYPE_CHECKING

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget

from walkabout.screens.text import plain
from walkabout.screens.widgets.number import Number, draw_number, pad_key

if TYPE_CHECKING:  # loaded only when a lookup opens
    from walkabout.diagnosis.next_check import NextCheck

ANSWERS = (("1", "yes"), ("2", "no"), ("3", "cannot tell"))
UNKNOWN = "?"
"""The key for a reading that cannot be told: there every digit is part of the number."""


class OneLook(Widget):
    """Draws the look; its keys can be clicked, and a number has its digits below it."""

    DEFAULT_CSS = """
    OneLook { height: auto; width: 1fr; }
    """

    class Pressed(Message):
        """A key on it was clicked: of an answer, a digit of the number, enter or ⌫."""

        def __init__(self, key: str) -> None:
            super().__init__()
            self.key = key

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._check: NextCheck | None = None
        self._tells = self._unit = ""
        self._typing = self._text = False
        self._wrong = ""
        self.number = Number()
        self._spans: list[tuple[int, int, str]] = []
        self._keys_row = self._pad_row = -1

    def show(self, check: "NextCheck | None", tells: str, *, unit: str, typing: bool, text: bool) -> None:
        """Show a look.

        `tells`: what it tells apart; `unit`: of its number; `typing`: keys go into the
        line of what is seen; `text`: that line holds some, so that digits are text.
        """
        if check is None or self._check is None or check.key != self._check.key:
            self.number, self._wrong = Number(), ""
        self._check, self._tells, self._unit = check, tells, unit
        self._typing, self._text = typing, typing and text
        self.refresh(layout=True)

    def type(self, text: str) -> bool:
        """Take characters of the number in; say whether they belong to one."""
        taken = bool(text) and [one for one in text if not self.number.type(one)] == []
        if taken:
            self.wrong("")
        return taken

    def rub_out(self) -> bool:
        """Take the last digit back; say whether there was one."""
        if not self.number.text:
            return False
        self.number.rub_out()
        self.wrong("")
        return True

    def wrong(self, says: str) -> None:
        """Say in one line why a number is not taken."""
        self._wrong = says
        self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many lines as it takes."""
        return len(self._rows(width))

    def render(self) -> Content:
        """Draw it."""
        return Content("\n").join(self._rows(self.size.width))

    def _rows(self, width: int) -> list[Content]:
        check, width = self._check, max(width, 20)
        self._spans, self._keys_row, self._pad_row = [], -1, -1
        head = plain("One look would tell", "$accent-text")
        if check is None:
            return [head.append(plain("   No further look would change what to do.", "$muted"))]
        takes = f"{check.seconds} s" + ("" if check.who == "pupil" else f", for an {check.who}")
        room = width - head.cell_length - len(takes) - 4
        tells = plain(f" {self._tells}" if len(self._tells) < room else "", "$muted")
        head = head.append(tells)
        rows = [head.pad_right(max(width - head.cell_length - len(takes), 1)).append(plain(takes, "$muted"))]
        rows += plain(check.ask, "bold").wrap(width)
        rows += plain(check.look, "$muted").wrap(width)
        if check.caution:
            rows += plain(f"Caution: {check.caution}", "$watch").wrap(width)
        self._keys_row = len(rows)
        rows.append(self._reading(width) if check.reading else self._answers())
        if check.reading:
            self._pad_row = len(rows)
            rows.append(draw_number(self.number, "", "", width)[2])
        if self._wrong:
            rows += plain(self._wrong, "$watch").wrap(width)
        return rows

    def _answers(self) -> Content:
        parts, at, key_style = [], 0, "$muted" if self._text else "$accent-text bold"
        for key, says in ANSWERS:
            self._spans.append((at, at + len(key) + 1 + len(says), key))
            parts += [plain(key, key_style), plain(f" {says}   ", "$muted" if self._text else "")]
            at += len(key) + 1 + len(says) + 3
        return Content("").join(parts)

    def _reading(self, width: int) -> Content:
        unit = f" in {self._unit}" if self._unit else ""
        if self._typing and not self.number.text:
            row = plain(f"type the number{unit}, then enter   ", "$muted")
        else:
            box = draw_number(self.number, self._unit, "", width)[0].rstrip()
            row = Content("").join([box, plain("   type the number   ", "$muted")])
        self._spans = [(row.cell_length, row.cell_length + len("? cannot tell"), UNKNOWN)]
        return Content("").join([row, plain(UNKNOWN, "$accent-text bold"), plain(" cannot tell")])

    def on_click(self, event: events.Click) -> None:
        """Take a click on a key as that key."""
        at = event.get_content_offset(self)
        if at is None:
            return
        key = ""
        if at.y == self._keys_row:
            key = next((key for start, end, key in self._spans if start <= at.x < end), "")
        elif at.y == self._pad_row:
            key = pad_key(at.x)
        if key:
            event.stop()
            self.post_message(self.Pressed(key))
