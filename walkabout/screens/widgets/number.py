"""Typing a number: with the digit keys, or by clicking the digits below it."""

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from walkabout.screens.text import plain

PAD = ("1", "2", "3", "4", "5", "6", "7", "8", "9", "0", ".", "-", "⌫", "enter")
LONGEST = 9


class NumberLine(Widget):
    """Holds what was typed so far, with its unit; letters stay free for the screen's own keys."""

    DEFAULT_CSS = """
    NumberLine { height: 3; width: 1fr; }
    """

    class Entered(Message):
        """The number was given."""

        def __init__(self, line: "NumberLine", text: str) -> None:
            super().__init__()
            self.line = line
            self.text = text

        @property
        def control(self) -> "NumberLine":
            """The line it was typed in."""
            return self.line

    text: reactive[str] = reactive("", layout=False)
    """What was typed so far."""
    unit: reactive[str] = reactive("", layout=False)
    """The unit it is read in."""
    remark: reactive[str] = reactive("", layout=False)
    """A quiet remark beside it: the last reading, the good range."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._spans: list[tuple[int, int, str]] = []

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """The number, a blank line, the digits to click."""
        return 3

    def render(self) -> Content:
        """Draw the number with a cursor, and the digits to click."""
        typed = plain(f" {self.text}", "bold on $raised").append(plain("▏", "on $raised"))
        blank = plain(" " * max(7 - len(self.text), 1), "on $raised")
        row = Content("").join([typed, blank, plain(f" {self.unit}"), plain(f"   {self.remark}", "$muted")])
        self._spans, at, pad = [], 1, [plain(" ")]
        for key in PAD:
            self._spans.append((at, at + len(key), key))
            pad += [plain(key, "$accent-text"), plain("  ")]
            at += len(key) + 2
        return Content("\n").join([row.truncate(max(self.size.width, 1)), plain(""), Content("").join(pad)])

    def type(self, character: str) -> bool:
        """Take a character if it belongs to a number; say whether it did."""
        character = "." if character == "," else character
        if (
            (character in "0123456789" and len(self.text) < LONGEST)
            or (character == "." and "." not in self.text)
            or (character == "-" and not self.text)
        ):
            self.text += character
        else:
            return character in ".-0123456789"
        return True

    def rub_out(self) -> None:
        """Take the last character back."""
        self.text = self.text[:-1]

    def enter(self) -> None:
        """Hand the number in."""
        self.post_message(self.Entered(self, self.text))

    def on_click(self, event: events.Click) -> None:
        """Press the digit under the mouse."""
        at = event.get_content_offset(self)
        if at is None or at.y != 2:
            return
        for start, end, key in self._spans:
            if start <= at.x <= end:
                event.stop()
                self._press(key)

    def _press(self, key: str) -> None:
        if key == "⌫":
            self.rub_out()
        elif key == "enter":
            self.enter()
        else:
            self.type(key)


def number_in(text: str) -> float | None:
    """Return the number that was typed, or None when it is none."""
    try:
        return float(text)
    except ValueError:
        return None
