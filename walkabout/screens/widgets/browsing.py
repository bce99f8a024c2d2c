"""A long list that is narrowed down by typing, with what is known of the one pointed at beside it."""

from collections.abc import Sequence
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static

from walkabout.screens.base import Page
from walkabout.screens.text import plain
from walkabout.screens.widgets.blocks import Block, Blocks
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.missedkeys import goes_into

EVERY = ""
"""No class chosen: the whole list."""
BESIDE = 72
"""From so many columns on, what is known of the one pointed at stands beside the list."""


class BrowsingScreen(Page):
    """Typing narrows the list down, tab goes from class to class, arrows point, enter takes."""

    AUTO_FOCUS = "#filter"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "point(-1)", "up", tooltip="The one above"),
        Binding("down", "point(1)", "down", tooltip="The one below"),
        Binding("pageup", "point(-10)", "page up", tooltip="Ten up"),
        Binding("pagedown", "point(10)", "page down", tooltip="Ten down"),
        Binding("enter", "take", "take", tooltip="Take the one pointed at"),
        Binding("tab", "turn(1)", "next class", tooltip="Only the next class, at the end all", priority=True),
        Binding("shift+tab", "turn(-1)", "class before", tooltip="Only the class before", priority=True),
        Binding("f1", "app.help", "help", tooltip="This page"),
        Binding("escape", "back", "back", tooltip="Back; first what was typed is cleared"),
    ]
    TITLE_OF = ""
    HINT = ""

    def __init__(self) -> None:
        super().__init__()
        self.chosen = EVERY
        # made at once: a key may come before the screen is put together
        self._head, self._keys = HeadLine(self.TITLE_OF), KeyLine()
        self._filter = Input(placeholder=self.HINT, max_length=60, select_on_focus=False, id="filter")
        self._which, self._list, self._full = Static(id="which"), Blocks(id="list"), Static(id="full")
        self._page = VerticalScroll(self._full, id="page", can_focus=False)

    def compose(self) -> ComposeResult:
        """The line, the class that is shown, the list and beside it the one pointed at."""
        yield self._head
        yield self._filter
        yield self._which
        yield Horizontal(self._list, self._page, id="browse")
        yield self._keys

    def on_mount(self) -> None:
        """Show the whole list."""
        self.renew()

    def on_screen_resume(self) -> None:
        """Show what is true now."""
        self.renew()

    def on_resize(self, event: events.Resize) -> None:
        """Leave the page out where there is no room beside the list."""
        self._page.display = event.size.width >= BESIDE

    # what each list says itself

    def classes_of(self) -> Sequence[str]:
        """Return the classes in their order."""
        raise NotImplementedError

    def entries(self, text: str, chosen: str) -> Sequence[tuple[str, str, Content]]:
        """Return (class, key, line) of what the typed text and the chosen class leave."""
        raise NotImplementedError

    def full(self, key: str) -> Content:
        """Return what is known of one."""
        raise NotImplementedError

    def take(self, key: str) -> None:
        """Take one."""
        raise NotImplementedError

    def key_row(self) -> tuple[Key, ...]:
        """Return the keys that work now."""
        raise NotImplementedError

    # showing

    def renew(self) -> None:
        """Show what the typed text and the chosen class leave."""
        if not self._list.is_mounted:
            return
        blocks: list[Block] = []
        of, entries = EVERY, self.entries(self._filter.value, self.chosen)
        for kind, key, line in entries:
            if kind != of:
                blocks.append(Block((*([plain("")] if blocks else []), plain(kind, "$accent-text"))))
                of = kind
            blocks.append(Block((line,), key, 2))
        self._list.show(blocks or [Block((plain("Nothing of that name. Type less of it.", "$muted"),))])
        which = f"only: {self.chosen}" if self.chosen else "all"
        self._which.update(plain(f"{which}, {len(entries)} shown; tab shows one class after the other", "$muted"))
        self._show_pointed()

    def _show_pointed(self) -> None:
        self._full.update(self.full(self._list.key) if self._list.key else plain(""))
        self._page.scroll_home(animate=False)
        self._keys.keys = self.key_row()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Narrow the list down."""
        event.stop()
        self.renew()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take the one pointed at."""
        event.stop()
        self.action_take()

    def on_blocks_moved(self, event: Blocks.Moved) -> None:
        """Show the one pointed at."""
        event.stop()
        self._show_pointed()

    def on_blocks_picked(self, event: Blocks.Picked) -> None:
        """Take the one that was clicked once more."""
        event.stop()
        self.action_take()

    def on_key(self, event: events.Key) -> None:
        """A letter goes into the line wherever a click has left the focus."""
        goes_into(self._filter, event)

    # keys

    def action_point(self, step: int) -> None:
        """Move the pointer."""
        self._list.point(step)

    def action_take(self) -> None:
        """Take the one pointed at."""
        if self._list.key:
            self.take(self._list.key)

    def action_turn(self, step: int) -> None:
        """Show the next class only; all of them come between the last and the first."""
        every = (EVERY, *self.classes_of())
        self.chosen = every[(every.index(self.chosen) + step) % len(every)]
        self.renew()

    def action_back(self) -> None:
        """Clear what was typed, then go back."""
        if self._filter.value:
            self._filter.value = ""
        elif self.is_current:
            self.app.go_back()
