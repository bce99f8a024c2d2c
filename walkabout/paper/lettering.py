"""What people typed as it can stand on paper: every letter has a shape, and none of it steers anything.

What the bundled type holds is printed as it was typed, right-to-left writing in its own direction. What it does not
hold (Chinese, Devanagari) is spelled in Latin letters; of most pictures their name stands in brackets.
"""

import unicodedata
from collections.abc import Callable, Container

MOST_MARKS = 2
"""So many marks may sit on one letter: a tower of them would leave its line."""
SPLIT_WIDE = 1
"""A word that is wider than its line is cut, but never into nothing."""

Measure = Callable[[str], float]
"""Tells how wide a text is, mm."""


def on_paper(text: str, shapes: Container[int]) -> str:
    """Return a text on one line, with nothing but letters that have a shape.

    `shapes`: the code points that the type holds. Control characters, line ends and marks of direction become spaces
    or nothing; half of a surrogate pair becomes a question mark.
    """
    sound = unicodedata.normalize("NFC", text.encode("utf-8", "replace").decode("utf-8"))
    return " ".join("".join(_shaped(sound, shapes)).split())


def needs_shaping(text: str) -> bool:
    """Say whether letters of this text join, stack or run from right to left."""
    return not text.isascii() and any(
        unicodedata.bidirectional(one) in ("R", "AL", "AN") or unicodedata.combining(one) for one in text
    )


def runs_from_left(text: str) -> bool:
    """Say whether a line runs from left to right as a whole: it does as soon as it has one letter that does.

    What a page says around a name in Hebrew or Arabic then stays in its order, and the name in its own.
    """
    return any(unicodedata.bidirectional(one) == "L" for one in text)


def wrapped(text: str, width: float, measure: Measure, most: int = 0) -> list[str]:
    """Return the lines of a text, none wider than `width`; at most `most` of them, the last ending in '…' then."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if measure(longer) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        while measure(word) > width and len(word) > SPLIT_WIDE:
            head = _fits(word, width, measure)
            lines.append(word[:head])
            word = word[head:]  # noqa: PLW2901 - what is left of it
        line = word
    if line:
        lines.append(line)
    if most and len(lines) > most:
        lines = lines[:most]
        lines[-1] = _shortened(lines[-1], width, measure)
    return lines or [""]


def _shaped(text: str, shapes: Container[int]) -> list[str]:
    found: list[str] = []
    marks = 0
    named = False
    for one in text:
        kind = unicodedata.category(one)
        if named and one.isalnum():
            found.append(" ")
        named = named and kind in ("Mn", "Me", "Cf")
        marks = marks + 1 if kind in ("Mn", "Me") else 0
        if kind in ("Cc", "Zl", "Zp", "Zs"):
            found.append(" ")
        elif kind == "Cf" or marks > MOST_MARKS:
            continue
        elif ord(one) in shapes:
            found.append(one)
        elif not marks:
            found.append(_spelled(one, shapes))
            named = found[-1].endswith(")")
    return found


def _spelled(one: str, shapes: Container[int]) -> str:
    from anyascii import anyascii  # noqa: PLC0415 - few texts need it

    spelled = str(anyascii(one))
    if len(spelled) > 2 and spelled.startswith(":") and spelled.endswith(":"):
        spelled = f" ({spelled.strip(':').replace('_', ' ')})"  # a picture
    return spelled if spelled and all(ord(letter) in shapes for letter in spelled) else "?"


def _fits(word: str, width: float, measure: Measure) -> int:
    """Return how many letters of a word fit, one at least."""
    low, high = 1, len(word)
    while low < high:
        middle = (low + high + 1) // 2
        if measure(word[:middle]) <= width:
            low = middle
        else:
            high = middle - 1
    return low


def _shortened(line: str, width: float, measure: Measure) -> str:
    while line and measure(f"{line}…") > width:
        line = line[:-1]
    return f"{line.rstrip()}…"
