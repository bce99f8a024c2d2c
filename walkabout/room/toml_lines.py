"""On which line of a TOML text each key and each list item begins.

The scanner is no parser: it trusts that the text is TOML, which the standard library has read before.
"""

import re
import tomllib
from contextlib import suppress

Place = tuple[str | int, ...]
"""The way to a value: ('station', 2, 'kind')."""

DEEPEST = 32
"""Steps from the file to a value; no file of a room needs half as many."""

_BARE = re.compile(r"[A-Za-z0-9_-]+")


class Scanner:
    """Walks through valid TOML and notes in `lines` where each value begins, as deep as a file may go."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[Place, int] = {}
        self.items: dict[Place, int] = {}
        self._counted_to = 0
        self._line = 1
        self._began = 1

    def scan(self) -> dict[Place, int]:
        """Return the line of every place, from 1; IndexError or ValueError where the text is not TOML."""
        table: Place = ()
        while self._skip(" \t\n"):
            self._began = self._here()
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)
        return self.lines

    def last_begun(self) -> int:
        """Return the line of the last statement in a text that ends too early."""
        with suppress(IndexError, ValueError, RecursionError):
            self.scan()
        return self._began

    def _note(self, place: Place, line: int) -> None:
        if len(place) <= DEEPEST + 1:  # long dotted keys would fill the memory
            self.lines.setdefault(place, line)

    def _here(self) -> int:
        self._line += self.text.count("\n", self._counted_to, self.at)
        self._counted_to = self.at
        return self._line

    def _skip(self, blanks: str) -> bool:
        """Go past blanks and comments; say whether anything is left."""
        while self.at < len(self.text):
            if self.text[self.at] == "#":
                end = self.text.find("\n", self.at)
                self.at = len(self.text) if end < 0 else end
            elif self.text[self.at] in blanks:
                self.at += 1
            else:
                return True
        return False

    def _header(self) -> Place:
        line, of_list = self._here(), self.text.startswith("[[", self.at)
        self.at += 2 if of_list else 1
        keys = self._keys()
        self.at += 2 if of_list else 1
        place: Place = ()
        for depth, key in enumerate(keys):
            place = (*place, key)
            self._note(place, line)
            if of_list and depth == len(keys) - 1:
                self.items[place] = self.items.get(place, -1) + 1
            if place in self.items:
                place = (*place, self.items[place])
                self._note(place, line)
        return place

    def _pair(self, table: Place) -> None:
        line, place = self._here(), table
        for key in self._keys():
            place = (*place, key)
            self._note(place, line)
        self.at += 1  # the equals sign
        self._skip(" \t")
        self._value(place)

    def _keys(self) -> list[str]:
        keys = []
        while True:
            self._skip(" \t")
            if self.text[self.at] in "\"'":
                keys.append(self._string())
            else:
                bare = _BARE.match(self.text, self.at)
                if bare is None:
                    raise ValueError("not a key")
                keys.append(bare[0])
                self.at = bare.end()
            self._skip(" \t")
            if self.text[self.at] != ".":
                return keys
            self.at += 1

    def _string(self) -> str:
        mark = self.text[self.at]
        fence = mark * 3 if self.text.startswith(mark * 3, self.at) else mark
        start = self.at + len(fence)
        end = start
        while not self.text.startswith(fence, end):
            if end >= len(self.text):
                raise ValueError("not closed")
            end += 2 if mark == '"' and self.text[end] == "\\" else 1
        while len(fence) == 3 and self.text.startswith(mark, end + 3):
            end += 1  # a fence may stand right behind one or two quotation marks
        self.at = end + len(fence)
        raw = self.text[start:end]
        return str(tomllib.loads(f"k={mark}{raw}{mark}")["k"]) if "\\" in raw and len(fence) == 1 else raw

    def _value(self, place: Place) -> None:
        first = self.text[self.at]
        if first in "\"'":
            self._string()
        elif first == "[":
            self.at += 1
            index = 0
            while self._skip(" \t\n,") and self.text[self.at] != "]":
                self._note((*place, index), self._here())
                self._value((*place, index))
                index += 1
            self.at += 1
        elif first == "{":
            self.at += 1
            while self._skip(" \t\n,") and self.text[self.at] != "}":
                self._pair(place)
            self.at += 1
        else:
            end = re.compile(r"[,\]}#\n]|$").search(self.text, self.at)
            self.at = end.start() if end else len(self.text)
