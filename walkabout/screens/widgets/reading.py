"""A page to read: headed lines that fit the width, scrolled with the keys or the mouse."""

from collections.abc import Iterable, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.screens.text import lines, plain
from walkabout.screens.widgets.asking import AskingPage
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.pointed import cells

WIDEST = 104


class ReadingPage(AskingPage):
    """Shows what `rows` returns; a subclass says what that is."""

    CSS_PATH = "reading.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "read(-1)", "up", tooltip="A line up"),
        Binding("down", "read(1)", "down", tooltip="A line down"),
        Binding("pageup", "page(-1)", "page up", tooltip="A page up"),
        Binding("pagedown,space", "page(1)", "page down", tooltip="A page down"),
        Binding("escape,q,left", "back", "back", tooltip="Back to where you came from"),
    ]

    def __init__(self) -> None:
        super().__init__()
        # made at once: a key may come before the screen is put together
        self._head, self._full, self._keys = HeadLine(), Static(id="full"), KeyLine()
        self._page = VerticalScroll(self._full, id="page", can_focus=False)

    def compose(self) -> ComposeResult:
        """The page and the keys."""
        yield self._head
        yield self._page
        yield self._keys

    def headline(self) -> str:
        """Return what stands in the top line."""
        raise NotImplementedError

    def rows(self, width: int) -> Sequence[Content]:
        """Return the lines, for so many columns."""
        raise NotImplementedError

    def keys(self) -> Iterable[Key]:
        """Return the keys of this page, besides those of every page."""
        return ()

    def on_mount(self) -> None:
        """Show it."""
        self.renew()

    def on_screen_resume(self) -> None:
        """Show it afresh when it comes back."""
        self.renew()

    def on_resize(self) -> None:
        """Fit it to the width."""
        self.call_after_refresh(self.renew)

    def renew(self) -> None:
        """Show what is true now."""
        if not self.is_mounted:
            return
        self._head.left = self.headline()
        self._head.right = self.dated
        width = min(self._page.scrollable_content_region.width or self.size.width - 6, WIDEST)
        self._full.update(lines(self.rows(width)))
        self._keys.keys = (
            *self.keys(), Key("pgdn", "read on", "screen.page(1)"), Key("esc", "back", "screen.back"),
            Key("?", "help", "app.help"),
        )  # fmt: skip

    def action_read(self, step: int) -> None:
        """Scroll by lines."""
        self._page.scroll_relative(y=step, animate=False)

    def action_page(self, step: int) -> None:
        """Scroll by almost a page."""
        self._page.scroll_relative(y=step * max(self._page.size.height - 2, 1), animate=False)

    def action_back(self) -> None:
        """Go back."""
        self.leave()


def head(says: str) -> list[Content]:
    """Return a heading with a blank line above."""
    return [plain(""), plain(says, "$accent-text")]


def wrapped(says: str, width: int, style: str = "", *, first: Content | None = None, hang: int = 0) -> list[Content]:
    """Return a text in lines of `width` cells; `first` stands before it, and later lines are set in by `hang`."""
    before = first or plain(" " * hang)
    rows = plain(says.replace("\n", " "), style).wrap(max(width - max(hang, before.cell_length), 8)) or [plain("")]
    return [before.append(rows[0]), *(plain(" " * hang).append(one) for one in rows[1:])]


def columns(parts: Sequence[tuple[str, int, str]]) -> Content:
    """Return (text, cells, style) beside each other, each in exactly its cells."""
    return Content("").join([plain(cells(text, max(room, 0)), style) for text, room, style in parts])
