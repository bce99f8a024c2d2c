"""One question at a time: pick from a list, type a line, type a number."""

from collections.abc import Awaitable, Callable, Coroutine, Sequence
from typing import ClassVar, TypeVar

from msgspec import Struct
from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Input, Static

from walkabout.screens.base import Ask, Page
from walkabout.screens.text import lines, plain
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.missedkeys import goes_into
from walkabout.screens.widgets.number import NumberLine
from walkabout.screens.widgets.pointlist import NOBODY, PointList

A = TypeVar("A")
LEAVE = Key("esc", "back", "screen.leave")
HELP_KEY = Key("?", "help", "app.help")


class Checked(Struct, frozen=True):
    """A typed number: its value, why it is questioned, what may have been meant instead."""

    value: float
    says: str = ""
    perhaps: float | None = None
    impossible: bool = False
    """It cannot be kept as typed."""


class Asking(Ask[A | None]):
    """A question with what is known so far above it. Escape answers None: one step back."""

    CSS_PATH = "asking.tcss"
    HELP = (
        "One thing at a time. Enter goes on, escape goes one step back. Nothing is written down before the last step."
    )
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", "back", tooltip="One step back")]

    def __init__(self, ask: str, *, about: str = "", caution: str = "") -> None:
        super().__init__()
        self._ask = ask
        self._about = about
        self._caution = caution
        # made at once: a key may come before the screen is put together
        self._hint = Static(id="hint")

    def head(self) -> Content:
        """What is known so far, the caution if there is one, the question."""
        rows = [plain(self._about, "$muted")] if self._about else []
        if self._caution:
            rows.append(plain(f"Caution: {self._caution}", "$watch"))
        return lines([*rows, plain(self._ask, "bold")])

    def wrong(self, says: str) -> None:
        """Say in one line why an answer is not taken."""
        self._hint.update(plain(says, "$watch"))

    def action_leave(self) -> None:
        """Go one step back."""
        self.dismiss(None)


class PickScreen(Asking[tuple[int, ...]]):
    """Pick one row by its number, the arrows or the mouse; or tick several and hand them in."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "point(-1)", "up", show=False, tooltip="Up"),
        Binding("down", "point(1)", "down", show=False, tooltip="Down"),
        Binding("enter", "take", "take", tooltip="Take the row pointed at, or the ticked ones"),
    ]

    def __init__(
        self, ask: str, rows: Sequence[Row], *, about: str = "", caution: str = "", ticks: bool = False
    ) -> None:
        super().__init__(ask, about=about, caution=caution)
        self._rows = tuple(rows)
        self._ticks = ticks
        self._ticked: set[int] = set()
        self._typed = ""
        self._list = PointList(at_once=True)

    def compose(self) -> ComposeResult:
        """The question, the rows, the keys."""
        yield Static(self.head(), id="asked")
        yield self._list
        yield self._hint
        number = Key(f"1-{len(self._rows)}", "tick" if self._ticks else "choose", "")
        yield KeyLine((number, Key("enter", "these" if self._ticks else "choose", "screen.take"), LEAVE, HELP_KEY))

    def on_mount(self) -> None:
        """Show the rows; nothing is pointed at until somebody points."""
        self._show(NOBODY)

    def _show(self, pointed: int) -> None:
        drawn, wide = [], len(str(len(self._rows)))
        for index, row in enumerate(self._rows):
            tick = ("[x] " if index in self._ticked else "[ ] ") if self._ticks and index else ""
            parts = [plain(f"{index + 1:>{wide}}  ", "$accent-text bold"), plain(tick, "$accent-text")]
            parts.append(plain(row.says.replace("\n", " ")))
            if row.remark:
                parts.append(plain(f"   {row.remark}".replace("\n", " "), "$muted"))
            drawn.append(Content("").join(parts))
        self._list.show(drawn, pointed)

    def on_key(self, event: events.Key) -> None:
        """A digit chooses as soon as no longer number can be meant."""
        character = event.character or ""
        if not (character.isdigit() and character.isascii()):
            return
        event.stop()
        number = int(self._typed + character)
        if not 1 <= number <= len(self._rows):
            self._typed = ""
        elif number * 10 <= len(self._rows):
            self._typed = str(number)
            self._list.pointed = number - 1
        else:
            self._typed = ""
            self._take(number - 1)

    def on_point_list_picked(self, event: PointList.Picked) -> None:
        """Take a click."""
        event.stop()
        self._take(event.index)

    def _take(self, index: int) -> None:
        if not self._ticks:
            self.dismiss((index,))
        elif index == 0:
            self.dismiss((0,))
        else:
            self._ticked ^= {index}
            self._show(index)

    def action_point(self, step: int) -> None:
        """Move the pointer."""
        self._list.point(step)

    def action_take(self) -> None:
        """Take the ticked rows, or the one pointed at."""
        if self._ticked:
            self.dismiss(tuple(sorted(self._ticked)))
        elif self._list.pointed == NOBODY:
            self.wrong("Press the number of a row, or point at one first.")
        else:
            self._take(self._list.pointed)


class LineScreen(Asking[str]):
    """Type one line; `check` raises ValueError, in one sentence, for what cannot be taken."""

    def __init__(
        self,
        ask: str,
        check: Callable[[str], object] | None = None,
        *,
        about: str = "",
        caution: str = "",
        hint: str = "",
        text: str = "",
        done: str = "go on",
        most: int = 120,
    ) -> None:
        super().__init__(ask, about=about, caution=caution)
        self._check = check
        self._hint.update(plain(hint, "$muted"))
        self._line = Input(text, max_length=most, select_on_focus=False, id="line")
        self._done = done

    def compose(self) -> ComposeResult:
        """The question, the line, a hint, the keys."""
        yield Static(self.head(), id="asked")
        yield self._line
        yield self._hint
        yield KeyLine((Key("enter", self._done, "screen.take"), LEAVE))

    def on_mount(self) -> None:
        """Type at once; typing takes the place of a text that stands there already."""
        self.set_focus(self._line)
        self._line.action_select_all()

    def on_key(self, event: events.Key) -> None:
        """A letter goes into the line wherever the focus is."""
        goes_into(self._line, event)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Go on, if the line can be taken."""
        event.stop()
        self.action_take()

    def action_take(self) -> None:
        """Go on, if the line can be taken."""
        text = self._line.value.strip()
        try:
            if self._check is not None:
                self._check(text)
        except ValueError as error:
            self.wrong(str(error))
            return
        self.dismiss(text)


class NumberScreen(Asking[float]):
    """Type a number, or click its digits.

    `check` reads the typed text, and raises ValueError for what is no number that can be used. A
    second enter keeps a number that was questioned.
    """

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "take", "go on", tooltip="Hand the number in")]

    def __init__(
        self,
        ask: str,
        check: Callable[[str], Checked],
        *,
        about: str = "",
        caution: str = "",
        unit: str = "",
        remark: str = "",
        done: str = "go on",
    ) -> None:
        super().__init__(ask, about=about, caution=caution)
        self._check = check
        self._unit = unit
        self._remark = remark
        self._done = done
        self._perhaps: float | None = None
        self._questioned = False
        self._number = NumberLine()
        self._keys = KeyLine((Key("enter", done, "screen.take"), LEAVE, HELP_KEY))

    def compose(self) -> ComposeResult:
        """The question, the number with its digits, a hint, the keys."""
        yield Static(self.head(), id="asked")
        yield self._number
        yield self._hint
        yield self._keys

    def on_mount(self) -> None:
        """Show what the number stands for."""
        self._number.unit, self._number.remark = self._unit, self._remark

    def on_key(self, event: events.Key) -> None:
        """Digits make the number; y takes what may have been meant."""
        line, character = self._number, event.character or ""
        if event.key == "backspace":
            line.rub_out()
            self._forget()
        elif character == "y":
            self.action_perhaps()
        elif character and line.type(character):
            self._forget()
        else:
            return
        event.stop()

    def _forget(self) -> None:
        self._perhaps, self._questioned = None, False
        self._hint.update("")
        self._offer(meant=False)

    def on_number_line_entered(self, event: NumberLine.Entered) -> None:
        """Take a click on enter."""
        event.stop()
        self.action_take()

    def action_take(self) -> None:
        """Hand the number in; what is questioned is asked once more."""
        try:
            read = self._check(self._number.text)
        except ValueError as error:
            self._forget()
            self.wrong(str(error))
            return
        if read.says and (read.impossible or not self._questioned):
            self._perhaps, self._questioned = read.perhaps, True
            meant = " Press y to take that." if read.perhaps is not None else ""
            keep = "" if read.impossible else " Enter once more keeps it as typed."
            self.wrong(f"{read.says}{meant}{keep}")
            self._offer(read.perhaps is not None)
            return
        self.dismiss(read.value)

    def action_perhaps(self) -> None:
        """Take what may have been meant."""
        if self._perhaps is not None:
            self.dismiss(self._perhaps)

    def _offer(self, meant: bool) -> None:  # noqa: FBT001
        first = (Key("y", "take that", "screen.perhaps"),) if meant else ()
        self._keys.keys = (*first, Key("enter", self._done, "screen.take"), LEAVE, HELP_KEY)


Step = Callable[[], Awaitable[bool]]
"""Asks one thing; False goes one step back."""


async def through(asks: Sequence[Step]) -> bool:
    """Ask one after the other, one step back where somebody goes back; say whether the end was reached."""
    at = 0
    while 0 <= at < len(asks):
        at += 1 if await asks[at]() else -1
    return at >= 0


class AskingPage(Page):
    """A screen that asks through one set of questions at a time."""

    _asking = False

    def ask_through(self, questions: Coroutine[None, None, None]) -> None:
        """Begin to ask, unless it is asking already or on its way out."""
        if self._asking or not self.is_current:
            questions.close()
            return
        self._asking = True
        self.run_worker(self._ask_to_the_end(questions))

    def leave(self) -> None:
        """Go back, unless questions are open: a key that was meant for one may arrive after its answer."""
        if self.is_current and not self._asking:
            self.app.go_back()

    async def _ask_to_the_end(self, questions: Coroutine[None, None, None]) -> None:
        try:
            await questions
        finally:
            self._asking = False
