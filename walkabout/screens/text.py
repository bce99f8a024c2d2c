"""Putting text on the screen, so that what people typed is shown as typed.

Textual reads square brackets in a plain string as markup. Nothing here ever parses a string: text
from a file or a person only travels inside Content.
"""

from collections.abc import Iterable

from textual.content import Content

from walkabout.checklist.model import VERDICTS

GLYPHS = {"good": "✓", "watch": "▴", "today": "■", "now": "‼", "stop": "✋", "not looked": "○", "": "·"}
"""A state is a word or a shape as well as a colour. Each is one cell wide but the hand, which stands alone."""

STRIP_GLYPHS = {"good": "·", "watch": "▴", "today": "■", "now": "■", "stop": "■", "not looked": "○", "": " "}

STYLES = {
    "good": "$good",
    "watch": "$watch",
    "today": "$act",
    "now": "$act bold",
    "stop": "$act bold",
    "not looked": "$muted",
    "": "$muted",
}
"""Theme colours by verdict; each stands on every background of each theme with 4.5:1."""


def plain(text: str, style: str = "") -> Content:
    """Return text that is shown as it stands, in one style."""
    return Content.styled(text, style) if style else Content(text)


def line(*parts: str | tuple[str, str]) -> Content:
    """Return one line of parts, each a text or a (text, style)."""
    return Content.assemble(*(part if isinstance(part, str) else (part[0], part[1]) for part in parts))


def lines(rows: Iterable[Content]) -> Content:
    """Return the rows under each other."""
    return Content("\n").join(rows)


def fitted(text: str, width: int) -> str:
    """Return text in exactly so many cells: cut with an ellipsis, or filled up with blanks."""
    content = Content(text.replace("\n", " "))
    if content.cell_length > width:
        return content.truncate(width, ellipsis=True).plain
    return text.replace("\n", " ") + " " * (width - content.cell_length)


def verdict_words(verdict: str) -> str:
    """Say a verdict the way it stands on a screen."""
    return {
        "good": "good",
        "watch": "watch: look again next round",
        "today": "today",
        "now": "now, before leaving the room",
        "stop": "stop: people first, hands off, fetch an adult",
    }.get(verdict, verdict)


def gravest_of(verdicts: Iterable[str]) -> str:
    """Return the gravest verdict, '' when there is none."""
    order = ["", *VERDICTS]
    return max(verdicts, key=order.index, default="")
