"""What all screens share: the program behind them, and leaving only once.

Keys come faster than screens go: a second enter may reach a screen that is on its way out.
"""

from contextlib import suppress
from typing import TYPE_CHECKING, Any, TypeVar

from textual.await_complete import AwaitComplete
from textual.command import CommandPalette
from textual.screen import ModalScreen, Screen
from textual.worker import Worker

if TYPE_CHECKING:
    from walkabout.screens.app import Walkabout

Result = TypeVar("Result")


def once(screen: Screen[Any]) -> bool:
    """Say whether the screen may leave now, and remember that it has."""
    free = screen.is_current and not getattr(screen, "_has_left", False)
    screen._has_left = True if free else getattr(screen, "_has_left", False)  # type: ignore[attr-defined]
    return free


class Page(Screen[None]):
    """A screen for a task."""

    @property
    def app(self) -> "Walkabout":  # type: ignore[override]
        """The program this screen belongs to."""
        return super().app  # type: ignore[return-value]

    @property
    def dated(self) -> str:
        """The day, and who walks where that is known: what stands on the right of the top line."""
        now, walker = self.app.opened.clock(), self.app.walker
        return f"{now:%a} {now.day} {now:%b}{f' · {walker}' if walker else ''}"


class Ask(ModalScreen[Result]):
    """A screen for one question."""

    @property
    def app(self) -> "Walkabout":  # type: ignore[override]
        """The program this screen belongs to."""
        return super().app  # type: ignore[return-value]

    def dismiss(self, result: Result | None = None) -> AwaitComplete:
        """Answer and leave; what comes after the first answer is left alone."""
        return super().dismiss(result) if once(self) else AwaitComplete()


class Palette(CommandPalette):
    """Everything there is to do, by name; it leaves once, like any other question."""

    def run_worker(self, work: Any, *args: Any, **more: Any) -> Worker[Any]:
        """Search for commands; a search that outlives the palette finds no list, and that is no failure."""
        return super().run_worker(work, *args, **(more | {"exit_on_error": False}))

    def _action_command_list(self, action: str) -> None:
        """Move in the list; textual's own page keys fail on a list that is not laid out yet."""
        with suppress(KeyError):
            super()._action_command_list(action)

    def dismiss(self, result: Any = None) -> AwaitComplete:
        """Run what was chosen and leave."""
        return super().dismiss(result) if once(self) else AwaitComplete()
