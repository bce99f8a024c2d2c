"""The fields of a form under each other: what is asked, what was typed, its unit."""

from collections.abc import Callable, Sequence

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget

from walkabout.round.workout import Row
from walkabout.screens.text import plain
from walkabout.screens.widgets.pointed import cells

SAYS, BOX = 30, 14
NOTES = 64
"""From so many columns on, what one should know about a field stands beside it."""
LONGEST = 60
NEW = Row("", "", "", "", must=False)


class Fields(Widget, can_focus=True):
    """One line a field. Typing goes into the field pointed at; a field of words turns with left and right."""

    DEFAULT_CSS = """
    Fields { height: auto; width: 1fr; }
    """

    class Changed(Message):
        """A field is changed: `change` makes its new text of what it holds when this is taken in.

        Keys may come faster than a form takes them in; a text made of what is shown would lose those between.
        """

        def __init__(self, fields: "Fields", key: str, change: Callable[[str], str]) -> None:
            super().__init__()
            self.fields = fields
            self.key = key
            self.change = change

        @property
        def control(self) -> "Fields":
            """The form it happened in."""
            return self.fields

    class Added(Message):
        """A name was typed into the line for one more field."""

        def __init__(self, fields: "Fields", typed: str) -> None:
            super().__init__()
            self.fields = fields
            self.typed = typed

        @property
        def control(self) -> "Fields":
            """The form it happened in."""
            return self.fields

    class Moved(Message):
        """Another field is pointed at."""

        def __init__(self, fields: "Fields") -> None:
            super().__init__()
            self.fields = fields

        @property
        def control(self) -> "Fields":
            """The form it happened in."""
            return self.fields

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._rows: tuple[Row, ...] = ()
        self._more = ""
        self._typed = ""
        self._at = 0
        self._first = 0
        self._fresh = True
        """Nothing has been typed into this field since the pointer came: typing begins it anew."""

    def show(self, rows: Sequence[Row], more: str = "") -> None:
        """Show other rows; `more` says what one more field would be, '' when there can be none."""
        grown = (len(rows), bool(more)) != (len(self._rows), bool(self._more))
        self._rows, self._more = tuple(rows), more
        self._at = min(self._at, self._last)
        self.refresh(layout=grown)

    def restart(self) -> None:
        """Begin at the top of another form."""
        self._at, self._typed, self._fresh = 0, "", True

    def begin(self) -> None:
        """Point at the first field that is needed and empty, else at the first."""
        empty = (index for index, row in enumerate(self._rows) if row.must and not row.text)
        self._go(next(empty, 0))

    @property
    def _last(self) -> int:
        return max(len(self._rows) - (0 if self._more else 1), 0)

    @property
    def pointed(self) -> Row:
        """The field pointed at; one without a key when it is the line for one more."""
        return self._rows[self._at] if self._at < len(self._rows) else NEW

    def _go(self, at: int) -> None:
        self._at = min(max(at, 0), self._last)
        self._typed, self._fresh = "", True
        self.refresh()
        self.post_message(self.Moved(self))

    def point(self, step: int) -> bool:
        """Point at the next field; say whether there was one."""
        there = 0 <= self._at + step <= self._last
        if there:
            self._go(self._at + step)
        return there

    def point_at(self, key: str) -> None:
        """Point at the field with this key."""
        self._go(next((index for index, row in enumerate(self._rows) if row.key == key), self._at))

    # keys

    def on_paste(self, event: events.Paste) -> None:
        """Type what was pasted, its first line, where text can be typed."""
        event.stop()
        line = next(iter(event.text.splitlines()), "").strip()
        if line and not self.pointed.words:
            self._add(line)

    def on_key(self, event: events.Key) -> None:
        """Type, rub out, turn words."""
        row, character = self.pointed, event.character or ""
        if event.key in ("left", "right") and row.words:
            event.stop()
            self._turn(row, 1 if event.key == "right" else -1)
        elif event.key in ("backspace", "ctrl+h"):
            event.stop()
            empty = self._fresh or bool(row.words)
            self._change(lambda before: "" if empty else before[:-1])
        elif event.key == "delete":
            event.stop()
            self._change(lambda _: "")
        elif len(character) == 1 and character.isprintable() and character != "?":
            event.stop()
            if row.words and character != " ":
                self._turn_to(row, character)
            else:
                self._add(character)

    def _add(self, text: str) -> None:
        anew = self._fresh
        self._change(lambda before: (text if anew else before + text)[:LONGEST])

    def _change(self, change: Callable[[str], str]) -> None:
        self._fresh = False
        row = self.pointed
        if not row.key:
            self._typed = change(self._typed)
            self.refresh()
        else:
            self.post_message(self.Changed(self, row.key, change))

    def hand_in(self) -> bool:
        """Add the field whose name was typed; say whether there was one."""
        if self.pointed.key or not self._typed.strip():
            return False
        typed, self._typed = self._typed, ""
        self.post_message(self.Added(self, typed))
        return True

    def _turn(self, row: Row, step: int) -> None:
        def turned(before: str) -> str:
            text = before if before in row.words else row.text
            at = row.words.index(text) + step if text in row.words else (0 if step > 0 else -1)
            return row.words[at % len(row.words)]

        self.post_message(self.Changed(self, row.key, turned))

    def _turn_to(self, row: Row, letter: str) -> None:
        at = row.words.index(row.text) + 1 if row.text in row.words else 0
        turned = [*row.words[at:], *row.words[:at]]
        found = next((word for word in turned if word.casefold().startswith(letter.casefold())), None)
        if found is not None:
            self.post_message(self.Changed(self, row.key, lambda _: found))

    # drawing

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """One line a field."""
        return len(self._rows) + bool(self._more)

    def render(self) -> Content:
        """Draw each field with its unit and what one should know about it; a long form round the pointer."""
        width, height = self.size.width, max(self.size.height, 1)
        says = max(min(SAYS, width - BOX - 9), 10)
        rows = [self._drawn(index, row, says, width) for index, row in enumerate(self._rows)]
        if self._more:
            here = self._at == len(self._rows) and self.has_focus
            text = f"{self._typed}▏" if here else self._typed
            hint = plain("" if self._typed else f" {self._more}", "$muted")
            rows.append(Content("").join([plain("+ ", "$accent-text"), plain(text), hint]).truncate(max(width, 1)))
        self._first = min(max(self._at - height // 2, 0), max(len(rows) - height, 0))
        drawn = rows[self._first : self._first + height]
        if self._first and self._at > self._first:
            drawn[0] = plain(f"↑ {self._first + 1} more", "$muted")
        below = len(rows) - self._first - height
        if below > 0 and self._at < self._first + height - 1:
            drawn[-1] = plain(f"↓ {below + 1} more", "$muted")
        return Content("\n").join(drawn)

    def _drawn(self, index: int, row: Row, says: int, width: int) -> Content:
        here = index == self._at and self.has_focus
        missing = row.must and not row.text
        text = f"‹ {row.text or '…'} ›" if row.words and here else row.text
        room = BOX - 1 if not row.words else max(BOX - 1, min(len(text) + 1, width - says - 1))
        # the end of a long text is where one types; the start of a word is what tells it from others
        typing = here and not row.words
        shown = f"…{text[-(room - 2) :]}" if typing and Content(text).cell_length >= room else text
        box = cells(f"{shown}▏" if here and not row.words else shown or ("needed" if missing else ""), room)
        style = "bold on $raised" if here else "$muted" if missing else "$watch" if row.wrong else ""
        mark = plain("▴" if row.wrong else " ", "$watch")
        parts = [plain(cells(row.says, says - 1), "bold" if here else "$muted"), mark, plain(box, style)]
        parts += [
            plain(f" {row.unit}" if row.unit else " ", ""),
            plain(f"  {row.note}" if row.note and width >= NOTES else "", "$muted"),
        ]
        return Content("").join(parts).truncate(max(width, 1), ellipsis=True)

    def on_click(self, event: events.Click) -> None:
        """Point at the field that was clicked; a click on the words of one turns them."""
        at = event.get_content_offset(self)
        row = self._first + at.y if at is not None else self._last + 1
        if row > self._last:
            return
        event.stop()
        self.focus()
        again = row == self._at
        self._go(row)
        if again and self.pointed.words:
            self._turn(self.pointed, 1)

    def watch_has_focus(self, _has_focus: bool) -> None:  # noqa: FBT001
        """Draw the cursor, or take it away."""
        super().watch_has_focus(_has_focus)
        self.refresh()
