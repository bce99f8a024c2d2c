"""What all screens share: the program behind them, and leaving only once.

Keys come faster than screens go: a second enter may reach a screen that is on its way out.
"""

from typing import TYPE_CHECKING, TypeVar

from textual.await_complete import AwaitComplete
from textual.screen import ModalScreen, Screen

if TYPE_CHECKING:
    from walkabout.screens.app import Walkabout

Result = TypeVar("Result")


class Page(Screen[None]):
    """A screen for a task."""

    @property
    def app(self) -> "Walkabout":  # type: ignore[override]
        """The program this screen belongs to."""
        return super().app  # type: ignore[return-value]


class Ask(ModalScreen[Result]):
    """A screen for one question."""

    _answered = False

    @property
    def app(self) -> "Walkabout":  # type: ignore[override]
        """The program this screen belongs to."""
        return super().app  # type: ignore[return-value]

    def dismiss(self, result: Result | None = None) -> AwaitComplete:
        """Answer and leave; what comes after the first answer is left alone."""
        if self._answered or not self.is_current:
            return AwaitComplete()
        self._answered = True
        return super().dismiss(result)
