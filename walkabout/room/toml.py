"""Reading TOML so that a mistake can name its line.

The standard library parses the text; the scanner here only finds on which line each key and each
list item begins. It is run when there is a mistake to report, on text already known to be valid.
"""

import re
import tomllib
from contextlib import suppress
from pathlib import Path
from typing import Any

from walkabout.room.mistakes import Mistake, shortened

Place = tuple[str | int, ...]
"""The way to a value: ('station', 2, 'kind')."""

DEEPEST = 32
"""Steps from the file to a value; no file of a room needs half as many."""

_AT_LINE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)$")
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_LONG_NUMBER = re.compile(r"\d[\d_]{4000,}")
_WORDS = (
    (r"Cannot overwrite a value|Duplicate inline table key.*", "this key is written down twice"),
    (r"Cannot declare .* twice", "this table is written down twice"),
    (r"Cannot mutate immutable namespace .*", "this is written down already, and in another way"),
    (r"Unclosed array", "a list is not closed: ] is missing"),
    (r"Unclosed inline table.*", "a table on one line is not closed: } is missing"),
    (r"Unterminated string", "a text is not closed: a quotation mark is missing"),
    (r"Illegal character '\\n'", "a text is not closed: a quotation mark is missing"),
    (r"Illegal character (.*)", r"the character \1 cannot stand here"),
    (r"Invalid value", "there is no value that can be read behind the key"),
    (r"Invalid statement", "this line is neither a key with its value nor a [table]"),
    (r"Expected '=' after a key.*", "a key and its value must be joined by ="),
    (r"Expected '\]{1,2}' at the end.*", "a [table] line is not closed: a bracket is missing"),
    (r"Invalid date or datetime", "there is no such day or time"),
    (
        r"Escaped character is not.*|Unescaped '\\' in a string|Invalid hex value",
        "a \\\\ in a text must be written twice",
    ),
    (r"Invalid initial character for a key part", "a key has a character that needs quotation marks around it"),
    (r"Expected newline or end of document.*", "more stands on this line than one key and its value"),
)
"""What the parser says, and how a teacher would."""
_TOO_DEEP = "lists or tables are nested too deeply"


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
            scanner = _Scanner(self.text)
            with suppress(RecursionError):
                scanner.scan()
            self._lines = scanner.lines
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
    except ValueError:  # a path with a character that no file system takes
        return Mistake(file, 1, "no file can be called so")
    text = text.replace("\r\n", "\n")
    try:
        document = Document(file, text, tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        return _not_toml(file, text, str(error))
    except RecursionError:
        return Mistake(file, 1, _TOO_DEEP)
    except ValueError:  # TOML's grammar allows more digits than Python reads
        found = _LONG_NUMBER.search(text)
        line = text.count("\n", 0, found.start()) + 1 if found else 1
        return Mistake(file, line, "a value cannot be read: a number has too many digits")
    deep = _too_deep(document.data)
    return document.mistake(deep, _TOO_DEEP) if deep else document


def _too_deep(data: dict[str, Any]) -> Place:
    """Return the place at which the nesting goes too deep, or () when it does not."""
    ahead: list[tuple[Place, Any]] = [((), data)]
    while ahead:
        place, value = ahead.pop()
        if len(place) > DEEPEST:
            return place
        inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
        ahead += [((*place, step), one) for step, one in inner]
    return ()


def _not_toml(file: Path, text: str, says: str) -> Mistake:
    """Return the parser's message in plain words, at the line it names or where the last statement began."""
    found = _AT_LINE.search(says)
    says = _AT_LINE.sub("", says)
    if found and found[1]:
        line = int(found[1])
    else:
        line = _Scanner(text).last_begun()
        says = says.replace("Invalid value", "The file ends before the value does")
    plain = next((found.expand(words) for usual, words in _WORDS if (found := re.fullmatch(usual, says))), "")
    right = _usual_slip(text, line) if "twice" not in plain else ""
    return Mistake(file, line, f"this is not TOML: {plain or says[:1].lower() + says[1:]}", right)


def _usual_slip(text: str, line: int) -> str:
    """Say what people most often get wrong on such a line."""
    lines = text.split("\n")
    written = lines[min(line, len(lines)) - 1].strip()
    key, equals, value = (part.strip() for part in written.partition("="))
    if equals and re.match(r"\d{4}-\d", value):
        return "A day is written as 2027-02-15, and it must be in the calendar"
    if equals and re.match(r"\d+:", value):
        return f'Times go between quotation marks: {key} = "08:00"'
    if equals and value and not re.match(r"[\"'\[{+\-\d]|true|false|inf|nan|#", value):
        word = shortened(value.split(" #")[0].strip().strip('“”„‘’"'), 40)
        return f'Text goes between straight quotation marks: {key} = "{word}"'
    if equals and value.count('"') % 2:
        return "A quotation mark is missing"
    if not equals and ":" in written and not written.startswith("["):
        return "A key and its value are joined by ="
    return ""


class _Scanner:
    """Walks through valid TOML and notes where each value begins, as deep as a file may go."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[Place, int] = {}
        self.items: dict[Place, int] = {}
        self._counted_to = 0
        self._line = 1
        self._began = 1

    def scan(self) -> dict[Place, int]:
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
