"""What is wrong in a file that a person edits, and the words to say it in."""

from collections.abc import Iterable
from difflib import get_close_matches
from pathlib import Path

from msgspec import Struct


class Mistake(Struct, frozen=True, order=True):
    """One mistake: the file, its line (from 1), what is wrong, and what would be right."""

    file: Path
    line: int
    says: str
    right: str = ""

    def __str__(self) -> str:
        """Return the one line a person reads."""
        return f"{self.file}:{self.line}: {self.says}{'. ' + self.right if self.right else ''}"


def nearest(word: str, words: Iterable[str]) -> str:
    """Return 'Did you mean "…"?' with the nearest of `words`, else all of them when they are few, else ''."""
    known = sorted(set(words))
    close = get_close_matches(word.lower(), [one.lower() for one in known], n=1, cutoff=0.55)
    if close:
        match = next(one for one in known if one.lower() == close[0])
        return f'Did you mean "{match}"?'
    return f"It can be: {', '.join(known)}" if 0 < len(known) <= 14 else ""
