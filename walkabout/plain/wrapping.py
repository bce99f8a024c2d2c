"""Lines no wider than a terminal."""

import textwrap
from collections.abc import Iterable, Iterator

WIDE = 78
"""Columns of a line, with two to spare at eighty."""


def wrapped(lines: Iterable[str], width: int = WIDE) -> Iterator[str]:
    """Yield lines no wider than `width`; what goes on stands a little further in than where it began."""
    for line in lines:
        inside = " " * (len(line) - len(line.lstrip(" ")))
        yield from textwrap.wrap(line, width, subsequent_indent=f"{inside}  ", break_on_hyphens=False) or [""]
