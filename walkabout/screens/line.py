"""One line of text, typed: a note, a reason."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, Static

from walkabout.screens.base import Ask
from walkabout.screens.text import plain
from walkabout.screens.widgets.keyline import Key, KeyLine


class LineScreen(Ask[str | None]):
    """Asks for one line; None when it was left. A line that is `needed` cannot be handed in empty."""

    CSS_PATH = "ask.tcss"
    HELP = "Type one line and press enter. Escape leaves it. No names and nothing about health or behaviour, please."
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", "leave", tooltip="Leave without it")]

    def __init__(self, asked: str, hint: str = "", *, needed: bool = False, most: int = 160) -> None:
        super().__init__()
        self._asked = asked
        self._needed = needed
        self._line = Input(max_length=most, id="line")
        self._note = Static(plain(hint, "$muted"), id="hint")

    def compose(self) -> ComposeResult:
        """The question, how to answer, the line."""
        yield Static(plain(self._asked, "bold"), id="asked")
        yield self._line
        yield self._note
        yield KeyLine((Key("enter", "keep", "screen.keep"), Key("esc", "leave", "screen.leave")))

    def on_mount(self) -> None:
        """Type at once."""
        self._line.focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Hand the line in."""
        event.stop()
        self.action_keep()

    def action_keep(self) -> None:
        """Hand the line in, if there is one or none is needed."""
        text = self._line.value.strip()
        if self._needed and not text:
            self._note.update(plain("It cannot be empty. Escape leaves it.", "$watch"))
            return
        self.dismiss(text)

    def action_leave(self) -> None:
        """Go back without it."""
        self.dismiss(None)
