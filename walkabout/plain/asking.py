"""Asking until the answer can be used: each wrong one is said with what would be right."""

from collections.abc import Callable, Sequence
from datetime import date, time
from typing import TypeVar

from walkabout.plain.dialogue import Dialogue, Ended, leaves
from walkabout.room.fit import USUAL_YEARS
from walkabout.room.mistakes import nearest
from walkabout.room.model import WEEKDAYS, Weekday

Value = TypeVar("Value")


def until(
    dialogue: Dialogue, question: str, read: Callable[[str], Value], usual: str = "", *, leave: bool = False
) -> Value:
    """Ask until `read` takes what is typed; it raises ValueError with what would be right. Enter takes `usual`.

    With `leave`, q and escape leave, which is said; Ended then.
    """
    enter = f" Enter for {usual}." if usual else ""
    out = " q leaves." if leave else ""
    while True:
        typed = dialogue.ask(question + enter + out)
        if leave and leaves(typed):
            raise Ended
        try:
            return read(typed or usual)
        except ValueError as error:
            dialogue.say(str(error))


def pick(dialogue: Dialogue, question: str, rows: Sequence[str], none: str = "", enter: str = "") -> int | None:
    """Return the place in `rows` that was picked, None for 0 (where `none` says what that means).

    With `enter`, Enter alone means the same as 0. A row itself may be typed instead of its number.
    """
    lines = [question, *(f"{place}. {row}" for place, row in enumerate(rows, 1)), f"0. {none}" if none else ""]
    while True:
        typed = dialogue.ask(*lines, f"Type a number{f', {enter}' if enter else ''}.")
        if (typed == "0" and none) or (not typed and enter):
            return None
        if typed.isascii() and typed.isdigit() and 1 <= int(typed) <= len(rows):
            return int(typed) - 1
        alike = [place for place, row in enumerate(rows) if row.casefold() == typed.casefold()]
        if len(alike) == 1:
            return alike[0]
        dialogue.say(f"Type a number from {0 if none else 1} to {len(rows)}.")


def several(dialogue: Dialogue, question: str, rows: Sequence[str]) -> tuple[str, ...]:
    """Return the rows that were picked, in their order; Enter alone picks none."""
    lines = [question, *(f"{place}. {row}" for place, row in enumerate(rows, 1))]

    def read(typed: str) -> tuple[str, ...]:
        parts = typed.replace(",", " ").split()
        if not all(part.isascii() and part.isdigit() and 1 <= int(part) <= len(rows) for part in parts):
            raise ValueError(f"Type numbers from 1 to {len(rows)} with commas between them.")
        return tuple(rows[place] for place in sorted({int(part) - 1 for part in parts}))

    dialogue.say(*lines)
    return until(dialogue, "Type the numbers with commas between them. Enter alone for none of them.", read)


def read_text(typed: str) -> str:
    """Take any text that is not empty."""
    if not typed:
        raise ValueError("Type a few letters.")
    return typed


def read_number(low: float, high: float, unit: str = "") -> Callable[[str], float]:
    """Return a reader of numbers from `low` to `high`."""
    right = f"Type a number from {low:g} to {high:g}{f', in {unit}' if unit else ''}."

    def read(typed: str) -> float:
        try:
            value = float(typed.replace(",", "."))
        except ValueError as error:
            raise ValueError(right) from error
        if not low <= value <= high:
            raise ValueError(right)
        return value

    return read


def read_word(words: Sequence[str]) -> Callable[[str], str]:
    """Return a reader of one of these words, small or capital letters alike."""

    def read(typed: str) -> str:
        for word in words:
            if word.lower() == typed.lower():
                return word
        raise ValueError(f'"{typed}" is not one of them. {nearest(typed, words)}')

    return read


def read_days(typed: str) -> tuple[Weekday, ...]:
    """Read weekdays such as 'mon tue wed', in any order."""
    words = typed.lower().replace(",", " ").split()
    short = [word[:3] for word in words]
    for word, day in zip(words, short, strict=True):
        if day not in WEEKDAYS:
            raise ValueError(f'"{word}" is not a day. It can be: {" ".join(WEEKDAYS)}')
    if not short:
        raise ValueError(f"Type at least one day of: {' '.join(WEEKDAYS)}")
    return tuple(day for day in WEEKDAYS if day in short)


def read_time(typed: str) -> str:
    """Read a time of day such as 08:00."""
    try:
        hour, _, minute = typed.partition(":")
        return f"{time(int(hour), int(minute)):%H:%M}"
    except ValueError as error:
        raise ValueError("Type the time as hours and minutes, such as 08:00.") from error


def read_day(typed: str) -> date:
    """Read a day such as 2027-02-15."""
    try:
        day = date.fromisoformat(typed)
    except ValueError as error:
        raise ValueError(f'"{typed}" is not a day. Type it as 2027-02-15.') from error
    first, last = USUAL_YEARS
    if not first <= day.year <= last:
        raise ValueError(f"The year {day.year} cannot be meant. Type a day from {first} to {last}.")
    return day
