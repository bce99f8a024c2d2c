"""The bottom line: the keys that work now, which can be clicked too."""

from collections.abc import Sequence

from msgspec import Struct
from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.reactive import reactive

from walkabout.screens.text import plain
from walkabout.screens.widgets.drawn import Drawn

APART, CLOSE = 3, 2
"""Cells between two keys, and where they are many."""
MOST_LINES = 2
LEAST_HEIGHT, TIGHT_HEIGHT = 18, 30
"""With fewer lines on the screen, the keys have one of them; the second for a page that is full at 24."""


class Key(Struct, frozen=True):
    """A key as it is shown, what it does in a word or two, and the action behind it."""

    shown: str
    does: str
    action: str


class KeyLine(Drawn):
    """Shows the keys in their order, in a second line where one is too short; the rest stands in the help (?).

    Once it takes two lines it keeps them until the width changes, so that a screen does not jump from key to key.
    """

    DEFAULT_CSS = """
    KeyLine { dock: bottom; height: auto; background: $raised; color: $muted; padding: 0 1; }
    """

    keys: reactive[tuple[Key, ...]] = reactive((), layout=False)
    """The keys that work now, the most needed first."""

    def __init__(self, keys: Sequence[Key] = (), *, id: str | None = None, tight: bool = False) -> None:  # noqa: A002
        super().__init__(id=id)
        self._least = TIGHT_HEIGHT if tight else LEAST_HEIGHT
        self.set_reactive(KeyLine.keys, tuple(keys))
        self._spans: list[tuple[int, int, str, int]] = []
        self._kept = 0, 1

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Return the lines that the keys need, two at most; one where a screen is too low to spare a second."""
        most = MOST_LINES if viewport.height >= self._least else 1
        needed = min(len(_lines(self.keys, width, CLOSE)), most)
        wide, had = self._kept
        self._kept = width, max(needed, min(had, most)) if width == wide else needed
        return self._kept[1]

    def watch_keys(self) -> None:
        """Take a second line as soon as the keys need it."""
        if self.size.height == 1 and len(_lines(self.keys, self.size.width, CLOSE)) > 1:
            self.refresh(layout=True)

    def render(self) -> Content:
        """Lay the keys out from the left, closer when they are many; esc and the last one, help, always stand."""
        room, most, chosen = self.size.width, max(self.size.height, 1), list(self.keys)
        gap = APART if len(_lines(chosen, room, APART)) <= most else CLOSE
        while len(rows := _lines(chosen, room, gap)) > most:
            spare = [at for at, key in enumerate(chosen[:-1]) if key.shown != "esc"]
            if not spare:
                break
            chosen.pop(spare[-1])
        self._spans = []
        drawn = []
        for y, row in enumerate(rows):
            at, parts = 0, []
            for key in row:
                width = _cells(key)
                self._spans.append((at, at + width, key.action, y))
                parts += [plain(key.shown, "$accent-text bold"), plain(f" {key.does}{' ' * gap}")]
                at += width + gap
            # a blank after the last may be one too many
            drawn.append(Content("").join(parts).truncate(max(at - gap, 0)))
        return Content("\n").join(drawn)

    async def on_click(self, event: events.Click) -> None:
        """Run the action under the pointer."""
        at = event.get_content_offset(self)
        if at is None:
            return
        for start, end, action, y in self._spans:
            if y == at.y and start <= at.x < end:
                event.stop()
                await self.screen.run_action(action)
                return


def _cells(key: Key) -> int:
    return Content(f"{key.shown} {key.does}").cell_length


def _lines(keys: Sequence[Key], room: int, gap: int) -> list[list[Key]]:
    """Return the keys in lines of so many cells, with a gap between two."""
    rows: list[list[Key]] = [[]]
    used = 0
    for key in keys:
        width = _cells(key)
        if rows[-1] and used + gap + width > room:
            rows.append([])
            used = 0
        used += width + (gap if rows[-1] else 0)
        rows[-1].append(key)
    return rows
