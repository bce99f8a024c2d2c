"""Naming a crop: the nearest names stand below while it is typed."""

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Input, Static

from walkabout.jobs.plantings import offered
from walkabout.jobs.promises import not_eaten
from walkabout.screens.text import plain
from walkabout.screens.widgets.asking import LEAVE, Asking
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.missedkeys import goes_into
from walkabout.screens.widgets.pointlist import NOBODY, PointList

LONGEST = 40
"""The longest name, variety and label, in characters."""


class CropScreen(Asking[str]):
    """Which crop: type a part of its name and take one of the nearest, or pick it from the list."""

    HELP = "Type the beginning of a name, or what you call the plant; the nearest names stand below. Enter takes one."
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "point(-1)", "up", show=False, tooltip="Up"),
        Binding("down", "point(1)", "down", show=False, tooltip="Down"),
    ]

    def __init__(self, ask: str, *, about: str = "", eaten: bool = False) -> None:
        """`eaten`: only crops that are eaten are offered and taken, and what the table does not know."""
        super().__init__(ask, about=about)
        self._eaten = eaten
        self._keys: list[str] = []
        self._line = Input(placeholder="type a name", max_length=LONGEST, select_on_focus=False, id="line")
        self._list = PointList(at_once=True)

    def compose(self) -> ComposeResult:
        """The question, the line, the names, the keys."""
        yield Static(self.head(), id="asked")
        yield self._line
        yield self._list
        yield self._hint
        yield KeyLine((Key("enter", "take", "screen.take"), Key("↑↓", "choose", "screen.point(1)"), LEAVE))

    def on_mount(self) -> None:
        """Type at once; the whole table stands below."""
        self.set_focus(self._line)
        self._offer("")

    def on_key(self, event: events.Key) -> None:
        """A letter goes into the line wherever the focus is."""
        goes_into(self._line, event)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Offer what is nearest to what was typed so far."""
        event.stop()
        self._offer(event.value.strip())

    def _offer(self, typed: str) -> None:
        crops = self.app.opened.crops
        found = offered(crops, typed, eaten=self._eaten)
        meant = crops.find(typed) if typed else None
        if self._eaten and meant is not None and not meant.eaten:
            # what was named is not taken for another crop that is written much like it
            self._keys = []
            self._list.show([], NOBODY)
            self.wrong(not_eaten(meant))
            return
        rows = [Content("").join([plain(one.name), plain(f"   {one.botanical}", "$muted")]) for one in found]
        self._keys = [one.key for one in found]
        if typed and crops.find(typed) is None:
            unknown = "nothing can be reckoned for it" if self._eaten else "it is not known what it wants"
            rows.append(Content("").join([plain(typed), plain(f"   as typed; {unknown}", "$muted")]))
            self._keys.append(typed)
        self._list.show(rows, 0 if typed else NOBODY)
        self._hint.update("")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take the name pointed at."""
        event.stop()
        self.action_take()

    def on_point_list_picked(self, event: PointList.Picked) -> None:
        """Take a click."""
        event.stop()
        self.dismiss(self._keys[event.index])

    def action_point(self, step: int) -> None:
        """Move the pointer."""
        self._list.point(step)

    def action_take(self) -> None:
        """Take the name pointed at."""
        at = self._list.pointed
        if at == NOBODY and not self._keys:
            self._offer(self._line.value.strip())
        elif at == NOBODY:
            self.wrong("Type a name, or point at one with the arrows.")
        else:
            self.dismiss(self._keys[at])
