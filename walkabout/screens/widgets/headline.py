"""The top line: the room on the left, day, code and time on the right."""

from textual.content import Content
from textual.geometry import Size
from textual.reactive import reactive

from walkabout.screens.text import fitted, plain
from walkabout.screens.widgets.drawn import Drawn

LEAST = Size(80, 24)
"""On a window smaller than this something is left out, and this line says so."""


class HeadLine(Drawn):
    """One quiet line; the right side never gives way to a long name."""

    DEFAULT_CSS = """
    HeadLine { dock: top; height: 2; color: $muted; padding: 1 1 0 1; }
    """

    left: reactive[str] = reactive("", layout=False)
    """What stands on the left, as typed."""
    right: reactive[str] = reactive("", layout=False)
    """What stands on the right."""

    def __init__(self, left: str = "", right: str = "") -> None:
        super().__init__()
        self.set_reactive(HeadLine.left, left)
        self.set_reactive(HeadLine.right, right)

    def render(self) -> Content:
        """Lay both sides out on one line."""
        right = Content(self.right)
        room = max(self.size.width - right.cell_length - 2, 0)
        window = self.app.size
        small = window.width < LEAST.width or window.height < LEAST.height
        left = f"small window: {LEAST.width} by {LEAST.height} shows all" if small else self.left
        return Content("").join([plain(fitted(left, room)), plain("  "), right])
