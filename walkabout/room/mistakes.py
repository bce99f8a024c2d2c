"""What is wrong in a file that a person edits, and the words to say it in."""

from collections.abc import Iterable
from pathlib import Path

import msgspec
from msgspec import Struct

LONGEST = 300
"""Characters of a message; a line that fills the screen is not read."""


class Mistake(Struct, frozen=True, order=True):
    """One mistake: the file, its line (from 1), what is wrong, and what would be right.

    The words may quote what stands in the file, so both texts are put on one line here.
    """

    file: Path
    line: int
    says: str
    right: str = ""

    def __post_init__(self) -> None:
        for name in ("says", "right"):
            msgspec.structs.force_setattr(self, name, shortened(one_line(getattr(self, name)), LONGEST))

    def __str__(self) -> str:
        """Return the one line a person reads."""
        return f"{one_line(str(self.file))}:{self.line}: {self.says}{'. ' + self.right if self.right else ''}"


def one_line(text: str) -> str:
    """Return the text on one line: blanks of every kind become spaces, other unprintable characters their escapes."""
    return "".join(
        one if one.isprintable() else " " if one.isspace() else one.encode("unicode_escape").decode() for one in text
    )


def shortened(text: str, longest: int) -> str:
    """Return the text, cut to `longest` characters with a mark where it was cut."""
    return text if len(text) <= longest else text[: longest - 1] + "…"


def nearest(word: str, words: Iterable[str]) -> str:
    """Return 'Did you mean "…"?' with the nearest of `words`, else all of them when they are few, else ''."""
    from difflib import get_close_matches  # noqa: PLC0415 - only needed when there is a mistake

    known = sorted(set(words))
    close = get_close_matches(word.lower(), [one.lower() for one in known], n=1, cutoff=0.55)
    if close:
        match = next(one for one in known if one.lower() == close[0])
        return f'Did you mean "{match}"?'
    return f"It can be: {', '.join(known)}" if 0 < len(known) <= 14 else ""
