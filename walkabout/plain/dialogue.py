"""One line out, one line in: all that plain mode needs of a terminal."""

import sys
import unicodedata
from typing import TextIO

MARKS = frozenset("\u200c\u200d")
"""Joiners that belong to the spelling of some scripts and of many pictures; they move nothing."""


class Ended(Exception):
    """Nothing more will be typed: the end of the input, Ctrl-C, or somebody pauses."""


def leaves(typed: str) -> bool:
    """Say whether somebody wants to leave: q, or the escape key, which a terminal passes on as what it is."""
    return typed.lower() == "q" or (typed.startswith("\x1b") and not typed.strip("\x1b"))


def visible(text: str) -> str:
    """Return text as typed, with everything that could steer a terminal written out."""
    if text.isprintable():
        return text
    return "".join(_seen(one) for one in text)


def _seen(one: str) -> str:
    if one.isprintable() or one in MARKS or unicodedata.category(one) == "Zs":
        return one
    return one.encode("unicode_escape").decode("ascii")


class Dialogue:
    """Says lines and asks for lines; it never moves the cursor, colours, or waits for a clock."""

    def __init__(self, says: TextIO | None = None, typed: TextIO | None = None) -> None:
        self._says = says if says is not None else sys.stdout
        self._typed = typed if typed is not None else sys.stdin

    def say(self, *lines: str) -> None:
        """Write each on a line of its own; what is empty is left out."""
        for line in lines:
            if line:
                self._says.write(visible(line) + "\n")
        self._says.flush()

    def ask(self, *lines: str) -> str:
        """Say the lines and return what is typed then, without the blanks around it; Ended at the end."""
        self.say(*lines)
        self._says.write("> ")
        self._says.flush()
        try:
            line = self._typed.readline()
        except KeyboardInterrupt as interrupt:
            self._says.write("\n")
            raise Ended from interrupt
        if not line:
            self._says.write("\n")
            raise Ended
        if not self._typed.isatty():
            self._says.write("\n")  # nobody saw an Enter being typed
        return line.strip()

    def yes(self, question: str, usual: bool | None = None) -> bool:  # noqa: FBT001
        """Ask for y or n until it is one of them; Enter takes what is usual, where there is one."""
        enter = "" if usual is None else f", Enter for {'y' if usual else 'n'}"
        while True:
            typed = self.ask(f"{question} y or n{enter}.").lower()
            if typed in ("y", "yes", "n", "no"):
                return typed.startswith("y")
            if not typed and usual is not None:
                return usual
            self.say("Type y for yes or n for no.")
