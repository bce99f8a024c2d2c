"""Picking which steps of a lookup become jobs: each with who may do it, the one pointed at with its caution."""

from collections.abc import Sequence
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from walkabout.diagnosis.plan import ToDo
from walkabout.jobs.make import caution_of
from walkabout.round.lookup_pages import closed
from walkabout.screens.text import plain
from walkabout.screens.widgets.asking import HELP_KEY, LEAVE, Asking
from walkabout.screens.widgets.blocks import GUTTER, Block, Blocks
from walkabout.screens.widgets.keyline import Key, KeyLine

WHO = 10
"""Cells of the column that says who."""
ALL = "all"
WHEN = {"now": "today", "next": "next", "if it stays": "if it stays"}


class StepScreen(Asking[tuple[ToDo, ...]]):
    """Tick steps and hand them in, or take all of today's at once."""

    HELP = (
        "Each step that is ticked becomes a job. A digit or space ticks, enter hands in: what is ticked, else the row "
        "pointed at. The first row takes all of today's steps that you may do yourself; anything else is picked one by "
        "one. Nothing is written down before the last step."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "point(-1)", "up", tooltip="The one above"),
        Binding("down", "point(1)", "down", tooltip="The one below"),
        Binding("space", "tick", "tick", tooltip="Tick the one pointed at, or take the tick away"),
        Binding("enter", "take", "these", tooltip="Take the ticked ones, or the one pointed at"),
    ]

    def __init__(self, steps: Sequence[ToDo], today: Sequence[ToDo], about: str) -> None:
        """`steps`: that may be picked; `today`: those of them that the first row takes together."""
        super().__init__("Which become jobs?", about=about)
        self._steps, self._today = tuple(steps), tuple(today)
        self._ticked: set[int] = set()
        self._list = Blocks(id="steps")

    def compose(self) -> ComposeResult:
        """The question, the steps, the keys."""
        yield Static(self.head(), id="asked")
        yield self._list
        yield self._hint
        count = min(len(self._rows), 9)
        number = Key(f"1-{count}" if count > 1 else "1", "tick", "")
        yield KeyLine((
            number, Key("space", "tick", "screen.tick"), Key("enter", "these", "screen.take"), LEAVE, HELP_KEY
        ))  # fmt: skip

    def on_mount(self) -> None:
        """Show the steps, once it is known how wide the window is."""
        self._show()
        self.call_after_refresh(self._show)

    def on_resize(self) -> None:
        """Wrap them anew."""
        self.call_after_refresh(self._show)

    @property
    def _rows(self) -> list[str]:
        return [*([ALL] if self._today else []), *(str(index) for index in range(len(self._steps)))]

    def _show(self) -> None:
        if self._list.is_mounted:
            width = max(self._list.size.width - GUTTER, 30)
            pointed = self._list.key or self._rows[0]
            self._list.show([self._block(at, key, pointed, width) for at, key in enumerate(self._rows, 1)], pointed)

    def _block(self, number: int, key: str, pointed: str, width: int) -> Block:
        before = plain(f"{number:>2}  ", "$accent-text bold")
        if key == ALL:
            count = len(self._today)
            says = f"all of today's that you may do ({count})" if count > 1 else "today's that you may do (1)"
            return Block((before.append(plain(says)),), key)
        step = self._steps[int(key)]
        tick = plain("[x] " if int(key) in self._ticked else "[ ] ", "$accent-text")
        room = max(width - 8 - WHO, 16)
        words = plain(f"{closed(step.step)}{'' if step.when == 'now' else f' ({WHEN[step.when]})'}").wrap(room)
        who = plain("anybody" if step.who == "pupil" else step.who, "$muted" if step.who == "pupil" else "$watch")
        first = words[0].pad_right(max(room - words[0].cell_length, 0))
        rows = [Content("").join([before, tick, first, plain(" "), who])]
        rows += [plain(" " * 8).append(row) for row in words[1:]]
        if key == pointed and (caution := caution_of(step)):
            rows += [plain(" " * 8).append(row) for row in plain(f"Caution: {closed(caution)}", "$watch").wrap(room)]
        return Block(tuple(rows), key)

    # keys

    def on_key(self, event: events.Key) -> None:
        """A digit ticks its row; the first row of all is taken at once."""
        character = event.character or ""
        if character.isascii() and character.isdigit() and 1 <= int(character) <= len(self._rows):
            event.stop()
            self._press(self._rows[int(character) - 1])

    def _press(self, key: str) -> None:
        self._list.key = key
        if key == ALL:
            self.dismiss(self._today)
        else:
            self._ticked ^= {int(key)}
            self._show()

    def action_point(self, step: int) -> None:
        """Move the pointer."""
        self._list.point(step)

    def action_tick(self) -> None:
        """Tick the step pointed at."""
        self._press(self._list.key)

    def action_take(self) -> None:
        """Take the ticked steps in their order, else the one pointed at."""
        if not self._ticked and self._list.key == ALL:
            self.dismiss(self._today)
        else:
            self.dismiss(tuple(self._steps[at] for at in sorted(self._ticked or {int(self._list.key)})))

    def on_blocks_moved(self, event: Blocks.Moved) -> None:
        """Show the caution of the one pointed at; a click ticks as well."""
        event.stop()
        if event.clicked and event.key != ALL:
            self._press(event.key)
        self._show()

    def on_blocks_picked(self, event: Blocks.Picked) -> None:
        """A click on the one pointed at ticks it, or takes all."""
        event.stop()
        self._press(event.key)
