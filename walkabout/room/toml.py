"""Reading TOML so that a mistake can name its line.

The standard library parses the text; the scanner here only finds on which line each key and each
list item begins. It is run when there is a mistake to report, on text already known to be valid.
"""

import re
import tomllib
from pathlib import Path
from typing import Any

from walkabout.room.mistakes import Mistake

Place = tuple[str | int, ...]
"""The way to a value: ('station', 2, 'kind')."""

_AT_LINE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)$")
_BARE = re.compile(r"[A-Za-z0-9_-]+")


class Document:
    """A parsed file: `data`, and the line on which each value begins."""

    def __init__(self, file: Path, text: str, data: dict[str, Any]) -> None:
        self.file = file
        self.text = text
        self.data = data
        self._lines: dict[Place, int] | None = None

    def line(self, place: Place) -> int:
        """Return the line of the value at `place`, or of the nearest thing around it."""
        if self._lines is None:
            self._lines = _Scanner(self.text).scan()
        while place and place not in self._lines:
            place = place[:-1]
        return self._lines.get(place, 1)

    def mistake(self, place: Place, says: str, right: str = "") -> Mistake:
        """Return the mistake at `place` with its file and line."""
        return Mistake(self.file, self.line(place), says, right)


def read(file: Path) -> Document | Mistake:
    """Return the parsed file, or the one mistake that keeps it from being read."""
    try:
        text = file.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        return Mistake(file, 1, "the file is not there")
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        return Mistake(file, line, "a character here is not UTF-8", "Save the file as UTF-8 text")
    except OSError as error:
        return Mistake(file, 1, f"the file cannot be read ({error.strerror or error})")
    text = text.replace("\r\n", "\n")
    try:
        return Document(file, text, tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        says = str(error)
        found = _AT_LINE.search(says)
        last = text.count("\n") + 1
        line = int(found[1]) if found and found[1] else last
        says = _AT_LINE.sub("", says)
        return Mistake(file, line, f"this is not TOML: {says[:1].lower()}{says[1:]}", _usual_slip(text, line))
    except RecursionError:
        return Mistake(file, 1, "lists or tables are nested too deeply")
    except ValueError as error:  # a date or a number that TOML's grammar allows and no calendar does
        return Mistake(file, 1, f"a value cannot be read: {error}")


def _usual_slip(text: str, line: int) -> str:
    """Say what people most often get wrong on such a line."""
    lines = text.split("\n")
    written = lines[min(line, len(lines)) - 1].strip()
    key, equals, value = (part.strip() for part in written.partition("="))
    if equals and value and not re.match(r"[\"'\[{+\-\d]|true|false|inf|nan", value):
        return f'Text goes between quotation marks: {key} = "{value}"'
    if equals and value.count('"') % 2:
        return "A quotation mark is missing"
    if not equals and ":" in written and not written.startswith("["):
        return "A key and its value are joined by ="
    return ""


class _Scanner:
    """Walks through valid TOML and notes where each value begins."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[Place, int] = {}
        self.items: dict[Place, int] = {}
        self._counted_to = 0
        self._line = 1

    def scan(self) -> dict[Place, int]:
        table: Place = ()
        while self._skip(" \t\n"):
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)
        return self.lines

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
            self.lines.setdefault(place, line)
            if of_list and depth == len(keys) - 1:
                self.items[place] = self.items.get(place, -1) + 1
            if place in self.items:
                place = (*place, self.items[place])
                self.lines.setdefault(place, line)
        return place

    def _pair(self, table: Place) -> None:
        line, place = self._here(), table
        for key in self._keys():
            place = (*place, key)
            self.lines.setdefault(place, line)
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
                    msg = "not a key"
                    raise ValueError(msg)
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
                self.lines.setdefault((*place, index), self._here())
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
