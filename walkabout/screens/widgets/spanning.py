"""What the pages of the logbook share: a top line, a span of days, and gathering anew without a key waiting for it."""

from datetime import datetime
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.worker import Worker

from walkabout.round.logbook import Chosen, spans
from walkabout.screens.base import Page, once
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import KeyLine

TERM = 1
"""The place of the term among the spans: what is shown first."""


class SpanPage(Page):
    """Shows what is on record over a span of days; a subclass says what, in `headline` and `gather`."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "span(-1)", "shorter", tooltip="A shorter span"),
        Binding("right", "span(1)", "longer", tooltip="A longer span"),
    ]

    def __init__(self, span: int = TERM) -> None:
        super().__init__()
        self._span = span
        # made at once: a key may come before the screen is put together
        self._head, self._keys = HeadLine(), KeyLine()

    def headline(self) -> str:
        """Return what stands on the left of the top line."""
        raise NotImplementedError

    def gather(self) -> Worker[None]:
        """Begin to gather what is shown, in a worker that ends the one before."""
        raise NotImplementedError

    @property
    def span(self) -> Chosen:
        """The span that is looked at."""
        return self._spans()[self._span]

    def _spans(self) -> tuple[Chosen, ...]:
        return spans(self.app.opened.room, self.app.opened.today())

    def on_screen_resume(self) -> None:
        """Gather anew: another screen may have changed what is on record."""
        self.renew()

    def renew(self) -> None:
        """Gather anew; what stands on the screen stays until it is there."""
        if self.is_mounted:
            self.gather()

    def tell(self) -> datetime:
        """Say in the top line what is shown, and on which day; return the moment."""
        now = self.app.opened.clock()
        self._head.left = self.headline()
        self._head.right = self.dated
        return now

    def action_span(self, step: int) -> None:
        """Choose another span."""
        self._look_at(min(max(self._span + step, 0), len(self._spans()) - 1))

    def action_next_span(self) -> None:
        """Choose the next longer span, after the longest the shortest: so a mouse comes to all of them."""
        self._look_at((self._span + 1) % len(self._spans()))

    def _look_at(self, span: int) -> None:
        if span != self._span:
            self._span = span
            self.tell()
            self.renew()

    def action_leave(self) -> None:
        """Go back to where one came from."""
        if once(self):
            self.app.go_back()
