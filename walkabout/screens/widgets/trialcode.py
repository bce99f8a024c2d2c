"""Whose code is written down at a trial: asked calmly, so that no number typed ahead signs for anybody."""

import math
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widget import Widget

from walkabout.records.model_measured import Trial
from walkabout.screens.app import Walkabout
from walkabout.screens.text import plain
from walkabout.screens.who import WhoScreen
from walkabout.screens.widgets.asking import LineScreen

if TYPE_CHECKING:
    from textual.screen import Screen

    Base = Screen[Any]
else:
    # a screen takes the styles of its first base that is one: that is to be the question, not what calms it
    Base = object

REST = 0.5
"""Seconds without a key after which a digit is meant for the question: a hand that types on pauses less. Assumed."""
NUMBERS = frozenset("0123456789.,-/")
EARLY = "What was typed on was not taken. Press the key once more."


class Calm(Base):
    """A question that opens while somebody types numbers: what is typed on was not meant for it.

    No key counts that was pressed before it was painted, and no digit or enter before a hand has rested.
    """

    AUTO_FOCUS = ""
    _painted = _last = math.inf
    _rested = _dropped = False

    def on_mount(self) -> None:
        """Take keys from the first painting on."""
        self.call_after_refresh(self._paint)

    def _paint(self) -> None:
        # the clock that keys are stamped with
        self._painted = self._last = Message().time

    def set_focus(self, widget: Widget | None, *more: Any, **named: Any) -> None:
        """Give nothing the focus before a key was meant for it: a line would take the others past this screen."""
        if widget is None or self._rested:
            super().set_focus(widget, *more, **named)

    def on_key(self, event: events.Key) -> None:
        """Drop what was not meant for this question."""
        digit = event.character in NUMBERS or (event.key == "enter" and self._dropped)
        hurried = digit and not self._rested and event.time - self._last < REST
        if event.time < self._painted or hurried:
            self._last, self._dropped = max(event.time, self._painted), True
            event.stop()
            event.prevent_default()
            self.early()
        elif event.is_printable:
            self._rested = True

    def early(self) -> None:
        """Say that something was dropped."""


class CodeScreen(Calm, WhoScreen):
    """Asks for a code."""

    CSS_PATH = "../ask.tcss"

    def early(self) -> None:
        """Say it below the list."""
        self._note.update(plain(EARLY, "$watch"))


class ReasonScreen(Calm, LineScreen):
    """Asks for a line that nobody should answer with the next number."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "take", "go on", tooltip="Hand the line in")]

    def early(self) -> None:
        """Say it below the line."""
        self.wrong(EARLY)


async def code_of(app: Walkabout) -> str:
    """Return whose code is written down; ask when it is not known yet, '' where nobody gives one."""
    if not app.walker:
        app.walker = await app.push_screen_wait(CodeScreen("Whose code is written down?")) or ""
    return app.walker


async def adult_code(app: Walkabout, ask: str) -> str:
    """Return an adult's code, '' where none is given; in a room without adults anybody's."""
    from walkabout.screens.adult import decided_by  # noqa: PLC0415 - seldom asked

    by = await decided_by(app, ask)
    return await code_of(app) if by == "" else by or ""


async def open_grid(app: Walkabout, key: str) -> None:
    """Open the measurements of the trial `key` once it is known who measures."""
    if not await code_of(app):
        app.hint("Measuring needs somebody's code.")
        return
    from walkabout.screens.trial_grid import TrialGridScreen  # noqa: PLC0415 - loaded when it is first opened

    app.push_screen(TrialGridScreen(key))


def keep(app: Walkabout, trial: Trial) -> None:
    """Write a trial down and show it; only what is not on disk is told in a message, for the screen shows the rest."""
    if unsaved := app.opened.save(trial):
        app.say(f"Not on disk yet: {unsaved}", grave=True)
    if hasattr(app.screen, "renew"):
        app.screen.renew()
