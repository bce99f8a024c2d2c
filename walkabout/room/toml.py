"""Reading TOML so that a mistake can name its line.

The standard library parses the text. The lines are looked for only when there is a mistake to report.
"""

import re
import tomllib
from contextlib import suppress
from pathlib import Path
from typing import Any

from walkabout.room.mistakes import Mistake, shortened
from walkabout.room.toml_lines import DEEPEST, Place, Scanner

_AT_LINE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)$")
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
            scanner = Scanner(self.text)
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
        line = Scanner(text).last_begun()
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
