"""Typing a number: with the digit keys, or by clicking the digits below it."""

from textual import events
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from walkabout.screens.text import plain

PAD = ("1", "2", "3", "4", "5", "6", "7", "8", "9", "0", ".", "-", "⌫", "enter")
LONGEST = 9


class Number:
    """A number while it is typed; letters are never part of it, so they stay free as keys."""

    def __init__(self) -> None:
        self.text = ""

    def type(self, character: str) -> bool:
        """Take a character in, and say whether it belongs to a number."""
        character = "." if character == "," else character
        if len(character) != 1 or character not in "0123456789.-":
            return False
        fits = len(self.text) < LONGEST and (character != "." or "." not in self.text)
        if fits and (character != "-" or not self.text):
            self.text += character
        return True

    def rub_out(self) -> None:
        """Take the last character back."""
        self.text = self.text[:-1]

    @property
    def value(self) -> float | None:
        """The number that was typed, or None when it is none yet."""
        try:
            return float(self.text)
        except ValueError:
            return None


def draw_number(number: Number, unit: str, remark: str, width: int) -> list[Content]:
    """Return the line with the number and its cursor, a blank line, and the digits to click."""
    box = f" {number.text}▏".ljust(LONGEST + 1)
    row = Content("").join([plain(box, "bold on $raised"), plain(f" {unit}"), plain(f"   {remark}", "$muted")])
    pad = [plain(" ")]
    for key in PAD:
        pad += [plain(key, "$accent-text"), plain("  ")]
    return [row.truncate(max(width, 1), ellipsis=True), plain(""), Content("").join(pad)]


def pad_key(column: int) -> str:
    """Return the key of the digits' line that lies under a column, or ''."""
    at = 1
    for key in PAD:
        if at <= column <= at + len(key):
            return key
        at += len(key) + 2
    return ""


class NumberLine(Widget):
    """A number to type among other widgets."""

    DEFAULT_CSS = """
    NumberLine { height: 3; width: 1fr; }
    """

    class Entered(Message):
        """The number was handed in, as typed."""

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

    def _typed(self) -> Number:
        number = Number()
        number.text = self.text
        return number

    def render(self) -> Content:
        """Draw the number, and the digits to click."""
        return Content("\n").join(draw_number(self._typed(), self.unit, self.remark, self.size.width))

    def type(self, character: str) -> bool:
        """Take a character in, and say whether it belongs to a number."""
        number = self._typed()
        taken = number.type(character)
        self.text = number.text
        return taken

    def rub_out(self) -> None:
        """Take the last character back."""
        self.text = self.text[:-1]

    def enter(self) -> None:
        """Hand the number in."""
        self.post_message(self.Entered(self, self.text))

    def on_click(self, event: events.Click) -> None:
        """Press the digit under the mouse."""
        at = event.get_content_offset(self)
        key = pad_key(at.x) if at is not None and at.y == 2 else ""
        if not key:
            return
        event.stop()
        if key == "⌫":
            self.rub_out()
        elif key == "enter":
            self.enter()
        else:
            self.type(key)


def number_in(text: str) -> float | None:
    """Return the number that was typed, or None when it is none."""
    number = Number()
    number.text = text
    return number.value
