"""Who is it? One key for one code."""

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, Static

from walkabout.jobs.life import words_for
from walkabout.screens.base import Ask
from walkabout.screens.text import plain
from walkabout.screens.widgets.choices import Choices, Row
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.missedkeys import goes_into


class WhoScreen(Ask[str]):
    """Asks for a code; a code that is not in room.toml can be typed and may do what a pupil may."""

    CSS_PATH = "ask.tcss"
    HELP = "People are known by a code of two or three characters, never by a name. Press the key beside yours."
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", "leave")]

    def __init__(self, question: str) -> None:
        super().__init__()
        self._question = question
        self._codes: list[str] = []
        self._choices = Choices()
        self._line = Input(placeholder="two or three characters", max_length=3, select_on_focus=False, id="code")
        self._note = Static(plain("Somebody else? Type the code and press enter.", "$muted"), id="hint")

    def compose(self) -> ComposeResult:
        """List the codes that have not ended, each with its role."""
        room, today = self.app.opened.room, self.app.opened.today()
        people = {code: one for code, one in room.people.items() if one.until is None or one.until >= today}
        self._codes = list(people)[:9]
        yield Static(plain(self._question, "bold"), id="asked")
        self._choices.show([Row(code, words_for(people[code].role)) for code in self._codes])
        yield self._choices
        yield self._note
        yield self._line
        yield KeyLine((Key(f"1-{len(self._codes)}", "choose", ""), Key("esc", "leave", "screen.leave")))

    def on_mount(self) -> None:
        """Leave the digits to the list; the first letter typed goes to the line below."""
        self._line.display = not self._codes
        if not self._codes:
            self.set_focus(self._line)

    def on_key(self, event: events.Key) -> None:
        """A digit chooses; arrows and enter do too; a letter begins a code, and what comes after it belongs to it."""
        line, choices, character = self._line, self._choices, event.character or ""
        if line.has_focus or line.value:
            if not goes_into(line, event) and event.key == "enter" and not line.has_focus:
                self._take(line.value)
            return
        if character.isdigit() and character.isascii() and 1 <= int(character) <= len(self._codes):
            self.dismiss(self._codes[int(character) - 1])
        elif event.key in ("up", "down"):
            choices.point(1 if event.key == "down" else -1)
        elif event.key == "enter" and choices.pointed >= 0:
            self.dismiss(self._codes[choices.pointed])
        elif character.isalnum() and character.isascii():
            line.display = True
            goes_into(line, event)
        else:
            return
        event.stop()

    def on_choices_picked(self, event: Choices.Picked) -> None:
        """Choose with the mouse."""
        self.dismiss(self._codes[event.index])

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take a typed code."""
        self._take(event.value)

    def _take(self, typed: str) -> None:
        code = typed.strip().upper()
        if 2 <= len(code) <= 3 and code.isalnum() and code.isascii():
            self.dismiss(code)
        else:
            self._note.update(plain("A code is two or three letters or digits, never a name.", "$watch"))

    def action_leave(self) -> None:
        """Go back without choosing."""
        self.dismiss("")
