"""The page for whoever takes over, on the screen."""

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.almanac.handover import Handover
from walkabout.round.handover import handover_of
from walkabout.screens.base import Page
from walkabout.screens.text import lines, plain
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine


class HandoverScreen(Page):
    """Everything that somebody needs who has never seen the room; it names nobody."""

    CSS_PATH = "handover.tcss"
    HELP = (
        "One page for a substitute or a new helper: today and the days to come, every station with what good looks "
        "like and what to do when it does not, what is open, what is promised, who may do what, and whom to ask. It "
        "names nobody: whom to ask is filled in by hand. "
        "As text: walkabout handover. On paper: walkabout sheet handover."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "read(-1)", "up", tooltip="A line up"),
        Binding("down", "read(1)", "down", tooltip="A line down"),
        Binding("pageup", "page(-1)", "page up", tooltip="A page up"),
        Binding("pagedown,space", "page(1)", "page down", tooltip="A page down"),
        Binding("home", "part(-1)", "part before", tooltip="The part before"),
        Binding("end,tab", "part(1)", "next part", tooltip="The next part"),
        Binding("escape,q,left", "back", "back", tooltip="Back to where you came from"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._text = Static(id="full")
        self._page = VerticalScroll(self._text, id="handover", can_focus=False)
        self._shown: Handover | None = None
        self._heads: list[int] = []

    def compose(self) -> ComposeResult:
        """The page and the keys."""
        yield HeadLine("Handing over")
        yield self._page
        yield KeyLine((
            Key("pgdn", "read on", "screen.page(1)"), Key("tab", "next part", "screen.part(1)"),
            Key("esc", "back", "screen.back"), Key("?", "help", "app.help"),
        ))  # fmt: skip

    def on_mount(self) -> None:
        """Fill the page."""
        self.renew()

    def on_resize(self, _event: events.Resize) -> None:
        """Find the parts again: lines have broken elsewhere."""
        self.call_after_refresh(self._find_parts)

    def renew(self) -> None:
        """Show what is true now."""
        self._shown = page = handover_of(self.app.opened)
        self._text.update(_full(page))
        self.call_after_refresh(self._find_parts)

    def _find_parts(self) -> None:
        """Note on which line of the screen each part begins."""
        width = max(self._text.size.width, 20)
        self._heads, row = [], 1 + (len(Content(_head(self._shown)).wrap(width)) if self._shown is not None else 1)
        for section in self._shown.sections if self._shown is not None else ():
            self._heads.append(row)
            texts = [section.title, *(text for line in section.lines for text in _texts(line.says, line.under))]
            row += sum(max(1, len(Content(text).wrap(width))) for text in texts) + 1

    def action_part(self, step: int) -> None:
        """Go to the next part, or the one before."""
        at = round(self._page.scroll_y)
        after = [row for row in self._heads if row > at]
        before = [row for row in self._heads if row < at]
        row = (min(after) if after else at) if step > 0 else (max(before) if before else 0)
        self._page.scroll_to(y=row, animate=False)

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


def _head(page: Handover) -> str:
    return f"{page.room}, for whoever looks after it from {page.day:%A} {page.day.day} {page.day:%B} on"


def _texts(says: str, under: tuple[str, ...]) -> list[str]:
    return [f"  {says}", *(f"      {one}" for one in under)]


def _full(page: Handover) -> Content:
    """Return the page, headed part by part; what needs doing before stands in the colour of a warning, with a mark."""
    rows = [plain(_head(page), "bold")]
    for section in page.sections:
        rows += [plain(""), plain(section.title, "$accent-text")]
        for one in section.lines:
            head, *under = _texts(one.says, one.under)
            rows.append(plain(f"▴ {head.strip()}", "$watch") if one.warns else plain(head))
            rows += [plain(text, "$muted") for text in under]
    return lines(rows)
