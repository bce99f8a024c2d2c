"""Help: what the screen beneath is for, and every key that works there."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from walkabout.screens.base import Ask
from walkabout.screens.text import GLYPHS, STYLES, fitted, plain
from walkabout.screens.widgets.keyline import Key, KeyLine

KEYS = {
    "question_mark": "?",
    "pageup": "pgup",
    "pagedown": "pgdn",
    "left": "←",
    "right": "→",
    "up": "↑",
    "down": "↓",
    "escape": "esc",
    "slash": "/",
}
EVERYWHERE = (
    ("?", "help"),
    ("=", "work something out"),
    ("l", "look up what may be wrong, from what is seen"),
    ("^p", "everything there is to do, by name"),
    ("^q", "leave the program"),
)
VERDICTS = (
    ("good", "as it should be"),
    ("watch", "look again next round"),
    ("today", "do something today"),
    ("now", "do it before leaving the room"),
    ("stop", "people first: hands off, fetch an adult"),
    ("not looked", "nobody looked; it comes first next time"),
)
DEFERS = (
    "The program informs, it does not certify. Local codes, the employer's risk assessment and licensed people "
    "decide. Pupils do not mix acid, spray, open lamps or touch wiring."
)


class HelpScreen(Ask[None]):
    """Explains the screen that it was called from."""

    CSS_PATH = "help.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,enter,q,question_mark", "close", "close")]

    def __init__(self, beneath: Screen[object]) -> None:
        super().__init__()
        self._beneath = beneath

    def compose(self) -> ComposeResult:
        """What it is for, its keys, the verdicts, who decides."""
        rows = [plain(getattr(self._beneath, "HELP", "")), plain("")]
        for shown, does in (*_keys_of(self._beneath), *EVERYWHERE):
            rows.append(Content("").join([plain(fitted(shown, 12), "$accent-text bold"), plain(does)]))
        rows += [plain(""), plain("What the marks mean", "$accent-text")]
        for verdict, means in VERDICTS:
            mark = plain(f"{fitted(GLYPHS[verdict], 3)}{fitted(verdict, 12)}", STYLES[verdict])
            rows.append(Content("").join([mark, plain(means)]))
        rows += [plain(""), plain(DEFERS, "$muted")]
        with VerticalScroll(id="help"):
            yield Static(Content("\n").join(rows))
        yield KeyLine((Key("esc", "close", "screen.close"),))

    def on_mount(self) -> None:
        """Let the arrows scroll."""
        self.query_one("#help").focus()

    def action_close(self) -> None:
        """Go back."""
        self.dismiss()


def _keys_of(screen: Screen[object]) -> list[tuple[str, str]]:
    """Return (keys, what they do) from the screen's own bindings."""
    found = []
    for binding in type(screen).BINDINGS:
        if isinstance(binding, Binding):
            keys = " ".join(KEYS.get(key.strip(), key.strip()) for key in binding.key.split(","))
            found.append((keys, binding.tooltip or binding.description))
    return found
