"""The bottom line: the keys that work now, which can be clicked too."""

from collections.abc import Sequence

from msgspec import Struct
from textual import events
from textual.content import Content
from textual.reactive import reactive

from walkabout.screens.text import plain
from walkabout.screens.widgets.drawn import Drawn


class Key(Struct, frozen=True):
    """A key as it is shown, what it does in a word or two, and the action behind it."""

    shown: str
    does: str
    action: str


class KeyLine(Drawn):
    """Shows the keys that fit, in their order; what does not fit stands in the help screen (?)."""

    DEFAULT_CSS = """
    KeyLine { dock: bottom; height: 1; background: $raised; color: $muted; padding: 0 1; }
    """

    keys: reactive[tuple[Key, ...]] = reactive((), layout=False)
    """The keys that work now, the most needed first."""

    def __init__(self, keys: Sequence[Key] = (), *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self.set_reactive(KeyLine.keys, tuple(keys))
        self._spans: list[tuple[int, int, str]] = []

    def render(self) -> Content:
        """Lay the keys out from the left, closer when they are many; esc and the last one, help, always stand."""
        room, chosen, gap = self.size.width, list(self.keys), 3
        if _width(chosen, gap) > room:
            gap = 2
        while _width(chosen, gap) > room:
            spare = [at for at, key in enumerate(chosen[:-1]) if key.shown != "esc"]
            if not spare:
                break
            chosen.pop(spare[-1])
        self._spans = []
        at, parts = 0, []
        for key in chosen:
            width = Content(f"{key.shown} {key.does}").cell_length
            self._spans.append((at, at + width, key.action))
            parts += [plain(key.shown, "$accent-text bold"), plain(f" {key.does}{' ' * gap}")]
            at += width + gap
        return Content("").join(parts).truncate(max(at - gap, 0))  # a blank after the last may be one too many

    async def on_click(self, event: events.Click) -> None:
        """Run the action under the pointer."""
        at = event.get_content_offset(self)
        if at is None:
            return
        for start, end, action in self._spans:
            if start <= at.x < end:
                event.stop()
                await self.screen.run_action(action)
                return


def _width(keys: Sequence[Key], gap: int) -> int:
    return sum(Content(f"{key.shown} {key.does}").cell_length + gap for key in keys) - gap
