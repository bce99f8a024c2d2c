"""The walk as a column: the stations in their order, and how each stands."""

from collections.abc import Sequence

from textual.content import Content

from walkabout.screens.text import fitted, plain
from walkabout.screens.widgets.drawn import Drawn

MARKS = {
    "done": ("✓", "$good"),
    "here": ("▸", "$accent-text bold"),
    "act": ("■", "$act"),
    "watch": ("▴", "$watch"),
    "skipped": ("○", "$muted"),
    "ahead": (" ", "$muted"),
}


class Stations(Drawn):
    """Read only; where the room is low the stations stand close."""

    DEFAULT_CSS = """
    Stations { width: 25; height: 1fr; padding: 0 1; }
    """

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._stations: tuple[tuple[str, str, str], ...] = ()

    def show(self, stations: Sequence[tuple[str, str, str]]) -> None:
        """Show other stations: (key, name, state)."""
        if tuple(stations) != self._stations:
            self._stations = tuple(stations)
            self.refresh()

    def render(self) -> Content:
        """Draw one station a line, with a blank between when there is room for it."""
        apart = len(self._stations) * 2 <= self.size.height
        rows, width = list(self._stations), max(self.size.width - 2, 4)
        room = max(self.size.height // (2 if apart else 1), 1)
        here = next((index for index, one in enumerate(rows) if one[2] == "here"), 0)
        first = min(max(here - room // 2, 0), max(len(rows) - room, 0))
        drawn = []
        for _, name, state in rows[first : first + room]:
            mark, style = MARKS[state]
            words = "$accent-text bold" if state == "here" else "$muted" if state == "ahead" else ""
            drawn.append(Content("").join([plain(mark, style), plain(" "), plain(fitted(name, width).rstrip(), words)]))
        return Content("\n\n" if apart else "\n").join(drawn)
