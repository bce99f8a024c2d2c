"""A list whose rows may take several lines each: signs in full, causes with their reasons under them."""

from collections.abc import Sequence

from msgspec import Struct
from textual import events
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive

from walkabout.screens.text import plain
from walkabout.screens.widgets.pointing import KeyPointing

GUTTER = 2
"""Cells left of the rows, for the pointer and for the marks that say there is more."""


class Block(Struct, frozen=True):
    """Some lines that belong together; one without a key is a heading or a remark and is not pointed at."""

    rows: tuple[Content, ...]
    key: str = ""
    hang: int = 0
    """Cells by which a row that goes on in the next line is set in there."""


class Blocks(KeyPointing):
    """A click points, a click where it points already picks; so do arrows and enter."""

    DEFAULT_CSS = """
    Blocks { height: 1fr; width: 1fr; }
    """

    active: reactive[bool] = reactive(default=True, layout=False)
    """Whether the arrows move this list: then what is pointed at has the pointer and stands on a raised ground."""

    class Moved(KeyPointing.Moved):
        """Another block is pointed at."""

    class Picked(Message):
        """The block that was pointed at was clicked once more."""

        def __init__(self, blocks: "Blocks", key: str) -> None:
            super().__init__()
            self.blocks = blocks
            self.key = key

        @property
        def control(self) -> "Blocks":
            """The list from which it was picked."""
            return self.blocks

    def __init__(self, *, id: str | None = None, whole: bool = False) -> None:  # noqa: A002
        """`whole`: a block that does not fit is left out, not cut."""
        super().__init__(id=id)
        self._blocks: tuple[Block, ...] = ()
        self._whole = whole
        self._first = 0
        self._owners: list[int] = []

    @property
    def keys(self) -> list[str]:
        """The keys that can be pointed at, from the top."""
        return [one.key for one in self._blocks if one.key]

    def show(self, blocks: Sequence[Block], key: str = "") -> None:
        """Show others. The pointer goes to `key`, or stays; when its block is gone it keeps its place."""
        before = self.keys
        self._blocks = tuple(blocks)
        self.keep(before, key)
        self.refresh()

    def render(self) -> Content:
        """Draw the part around the pointer; marks in the margin say that there is more."""
        width, height = max(self.size.width - GUTTER, 1), max(self.size.height, 1)
        drawn: list[Content] = []
        owners: list[int] = []
        for index, block in enumerate(self._blocks):
            for row in block.rows:
                wrapped = row.wrap(max(width - block.hang, 1)) if row.cell_length > width else [row]
                drawn += [wrapped[0], *(plain(" " * block.hang).append(one) for one in wrapped[1:])]
                owners += [index] * len(wrapped)
        first, last = self._window(owners, height)
        rows = []
        for y in range(first, last):
            block = self._blocks[owners[y]]
            here = bool(block.key) and block.key == self.key
            opens = y == 0 or owners[y - 1] != owners[y]
            mark = (
                "▸"
                if here and opens and self.active
                else "↑"
                if y == first and first
                else "↓"
                if self._cut(y, last, owners)
                else ""
            )
            style = "$accent-text bold" if mark == "▸" else "$muted"
            row = Content("").join([plain(f"{mark:{GUTTER}}", style), drawn[y].truncate(width, ellipsis=True)])
            if here and self.active:
                row = row.pad_right(max(self.size.width - row.cell_length, 0)).stylize("on $raised")
            rows.append(row)
        self._owners = owners[first:last]
        return Content("\n").join(rows)

    @staticmethod
    def _cut(y: int, last: int, owners: list[int]) -> bool:
        return y == last - 1 and last < len(owners)

    def _window(self, owners: list[int], height: int) -> tuple[int, int]:
        """Return which lines are shown: those of the pointer with what fits around, moved as little as can be."""
        at = next((index for index, one in enumerate(self._blocks) if one.key and one.key == self.key), 0)
        mine = [y for y, owner in enumerate(owners) if owner == at] or [0]
        pointable = [index for index, one in enumerate(self._blocks) if one.key] or [0]
        top = 0 if at == pointable[0] else mine[0]  # a heading above the first, a remark below the last are seen too
        bottom = max(min(len(owners) - 1, mine[0] + height - 1) if at == pointable[-1] else 0, mine[-1])
        first = min(max(self._first, bottom - height + 1), top)
        first = max(min(first, len(owners) - height), 0)
        while self._whole and 0 < first < len(owners) and owners[first] == owners[first - 1] and first < mine[0]:
            first += 1
        self._first, last = first, min(first + height, len(owners))
        while self._whole and first + 1 < last < len(owners) and owners[last] == owners[last - 1] != owners[first]:
            last -= 1
        return first, last

    def on_click(self, event: events.Click) -> None:
        """Point, or pick where it points already."""
        at = event.get_content_offset(self)
        if at is None or at.y >= len(self._owners):
            return
        key = self._blocks[self._owners[at.y]].key
        if key:
            event.stop()
            picks = key == self.key and self.active
            self.key = key
            self.post_message(self.Picked(self, key) if picks else self.Moved(self, key, clicked=True))
