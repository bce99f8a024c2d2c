"""A list with a moving pointer: headings, quiet remarks, and the things that can be pointed at."""

from collections.abc import Sequence
from typing import Literal

from msgspec import Struct
from textual import events
from textual.content import Content
from textual.geometry import Size

from walkabout.screens.text import GLYPHS, STYLES, fitted, plain
from walkabout.screens.widgets.pointing import KeyPointing

MARK, WHO, WHEN = 3, 10, 10
"""Cells of the columns beside what an entry says."""


class Entry(Struct, frozen=True):
    """One row. Only an item has a key and can be pointed at."""

    says: str
    kind: Literal["item", "head", "remark"] = "item"
    key: str = ""
    verdict: str = ""
    who: str = ""
    stands_out: bool = False
    """Not everybody may do it: who may is shown in another colour, besides the word."""
    when: str = ""
    late: bool = False


class Pointed(KeyPointing):
    """Rows in columns; it shows the part of a long list that the pointer is in."""

    DEFAULT_CSS = """
    Pointed { height: auto; width: 1fr; }
    """

    class Moved(KeyPointing.Moved):
        """The pointer stands on another item."""

    def __init__(self, *, id: str | None = None, bare: bool = False) -> None:  # noqa: A002
        """`bare`: rows without the columns for verdict, who and when."""
        super().__init__(id=id)
        self._bare = bare
        self._entries: tuple[Entry, ...] = ()
        self._first = 0

    def show(self, entries: Sequence[Entry]) -> None:
        """Show other rows. The pointer stays on its item; when that is gone, it takes the place it stood at."""
        before, grown = self.keys, len(entries) != len(self._entries)
        self._entries = tuple(entries)
        self.keep(before)
        self.refresh(layout=grown)

    @property
    def keys(self) -> list[str]:
        """The keys of the items, from the top."""
        return [one.key for one in self._entries if one.key]

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """One line a row, and a blank line above every heading but the first."""
        return max(len(self._rows()), 1)

    def _rows(self) -> list[Entry | None]:
        """Return the rows as they stand under each other; None is a blank line."""
        rows: list[Entry | None] = []
        for one in self._entries:
            if one.kind == "head" and rows:
                rows.append(None)
            rows.append(one)
        return rows

    def render(self) -> Content:
        """Draw what fits around the pointer, and say how many items are left out."""
        rows, width, height = self._rows(), self.size.width, max(self.size.height, 1)
        at = next((index for index, one in enumerate(rows) if one and one.key and one.key == self.key), 0)
        self._first = min(max(at - height // 2, 0), max(len(rows) - height, 0))
        shown = rows[self._first : self._first + height]
        drawn = [self._drawn(one, width) if one else plain("") for one in shown]
        above = sum(1 for one in rows[: self._first + 1] if one and one.key)
        below = sum(1 for one in rows[self._first + height - 1 :] if one and one.key)
        if self._first and above and at > self._first:
            drawn[0] = plain(f"  ↑ {above} more", "$muted")
        if self._first + height < len(rows) and below and at < self._first + height - 1:
            drawn[-1] = plain(f"  ↓ {below} more", "$muted")
        return Content("\n").join(drawn)

    def _drawn(self, one: Entry, width: int) -> Content:
        if one.kind == "head":
            return plain(fitted(one.says, width), "$accent-text")
        if one.kind == "remark":
            return plain(fitted(f"  {one.says}", width), "$muted")
        here = one.key == self.key
        if self._bare:
            style = "bold" if here else "$accent-text" if one.stands_out else "$muted"
            line = Content("").join([
                plain("▸ " if here else "  ", "$accent-text bold"), plain(cells(one.says, max(width - 2, 1)), style),
            ])  # fmt: skip
            return line.stylize("on $raised") if here else line
        room = max(width - 2 - MARK - WHO - WHEN, 8)
        line = Content("").join([
            plain("▸ " if here else "  ", "$accent-text bold"),
            plain(fitted(GLYPHS.get(one.verdict, " "), MARK), STYLES.get(one.verdict, "")),
            plain(cells(one.says, room - 1), "bold" if here else ""), plain(" "),
            plain(cells(one.who, WHO), "$watch" if one.stands_out else "$muted"),
            plain(cells(one.when, WHEN), "$act" if one.late else "$muted"),
        ])  # fmt: skip
        return line.stylize("on $raised") if here else line

    def on_click(self, event: events.Click) -> None:
        """Point at what was clicked."""
        at = event.get_content_offset(self)
        rows = self._rows()
        row = self._first + at.y if at is not None else len(rows)
        if row < len(rows) and (one := rows[row]) is not None and one.key:
            event.stop()
            self.key = one.key


def cells(text: str, width: int) -> str:
    """Return text in exactly so many cells; a wide character cut in two leaves a blank."""
    text = fitted(text, width)
    return text + " " * (width - Content(text).cell_length)
