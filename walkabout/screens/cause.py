"""The page of one cause."""

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.diagnosis.model import Cause
from walkabout.round.lookup import ready
from walkabout.round.lookup_pages import ALIKE, KINDS, page
from walkabout.screens.base import Page
from walkabout.screens.text import lines, plain
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine

CAUTION = " Caution: "


class CauseScreen(Page):
    """All that is known of a cause, to read; digits open what looks the same."""

    CSS_PATH = "cause.tcss"
    HELP = (
        "All that is known of one cause: what it is, what to look for, how it comes about, the usual reasons, how to "
        "confirm it, what looks like it and how to tell, what to do with who may do it and the cautions, and where "
        "each comes from. A digit opens a cause that looks like it; escape comes back."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "read(-1)", "up", tooltip="A line up"),
        Binding("down", "read(1)", "down", tooltip="A line down"),
        Binding("pageup", "page(-1)", "page up", tooltip="A page up"),
        Binding("pagedown,space", "page(1)", "page down", tooltip="A page down"),
        Binding("escape,q,left", "back", "back", tooltip="Back to where you came from"),
    ]

    def __init__(self, key: str) -> None:
        """`key`: of a cause or a reason; KeyError for one that is not known."""
        super().__init__()
        cause = ready().known.cause(key)
        if cause is None:
            raise KeyError(key)
        self._cause = cause
        # made at once: a key may come before the screen is put together
        self._page = VerticalScroll(Static(_full(cause), id="full"), id="cause", can_focus=False)

    def compose(self) -> ComposeResult:
        """The page and the keys."""
        yield HeadLine(f"Lookup · {KINDS[self._cause.kind]} · {self._cause.name}")
        yield self._page
        count = len(self._cause.alike)
        digits = f"1-{count}" if count > 1 else "1"
        same = (Key(digits, "what looks like it", "screen.alike(1)"),) if count else ()
        yield KeyLine((
            Key("pgdn", "read on", "screen.page(1)"), *same, Key("esc", "back", "screen.back"),
            Key("?", "help", "app.help"),
        ))  # fmt: skip

    def on_key(self, event: events.Key) -> None:
        """A digit opens what looks the same."""
        character = event.character or ""
        if character.isdigit() and character.isascii():
            event.stop()
            self.action_alike(int(character))

    def action_alike(self, number: int) -> None:
        """Open the look-alike with this number; going back comes back here."""
        if 1 <= number <= len(self._cause.alike) and self.is_current:
            self.app.push_screen(CauseScreen(self._cause.alike[number - 1].cause))

    def action_read(self, step: int) -> None:
        """Scroll by lines."""
        self._page.scroll_relative(y=step, animate=False)

    def action_page(self, step: int) -> None:
        """Scroll by almost a page."""
        self._page.scroll_relative(y=step * max(self._page.size.height - 2, 1), animate=False)

    def action_back(self) -> None:
        """Go back."""
        if self.is_current:
            self.app.go_back()


def _full(cause: Cause) -> Content:
    """Return the page, headed section by section; what looks like it is numbered."""
    rows = [plain(cause.name, "bold")]
    for section in page(cause):
        rows += [plain(""), plain(section.title, "$accent-text")]
        for number, says in enumerate(section.lines, 1):
            before, caution, after = says.partition(CAUTION)
            rows.append(Content("").join([
                plain(f"{number}  " if section.title == ALIKE else "", "$accent-text bold"),
                plain(before), plain(f"{caution}{after}", "$watch"),
            ]))  # fmt: skip
    return lines(rows)
