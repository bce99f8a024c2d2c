"""What can be printed: choose it, change the few things that matter, and write the PDF."""

import asyncio
from collections.abc import Awaitable, Callable
from datetime import datetime
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.jobs.trials import is_blind
from walkabout.paper.making import KINDS, NotWritten, Wanted, printed, write_pdf
from walkabout.records.disk import NotSaved
from walkabout.round.opened import CannotOpen
from walkabout.screens.text import fitted, lines, plain
from walkabout.screens.typing_in import type_in
from walkabout.screens.widgets import printasking
from walkabout.screens.widgets.asking import AskingPage
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.pointlist import NOBODY, PointList
from walkabout.screens.widgets.printchoice import Chosen
from walkabout.screens.widgets.reading import wrapped

TITLE, OPTION = 18, 11
"""Cells of a title, and of an option's name."""
WIDEST = 100
TWO_LISTS = (
    "The names of this trial are hidden, so two lists are written: first the key, for whoever marks the plots, then "
    "the list to measure by. Whoever measures neither prints nor sees the key."
)
TYPE_IN = "i types in a round that was filled in by hand."


class PaperScreen(AskingPage):
    """A list of what can be printed; below it what can be changed, and the file that enter writes."""

    CSS_PATH = "paper.tcss"
    HELP = (
        "What can be printed, each as a PDF to print from any viewer. Up and down choose; the lines below say what can "
        "be changed, each by its key. w names another file or folder. Enter writes the file and says where it lies; a "
        "file that this program did not write is never written over. i types in a round that was filled in by hand. "
        "The same from a command: walkabout sheet."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "point(-1)", "up", tooltip="The one above"),
        Binding("down", "point(1)", "down", tooltip="The one below"),
        Binding("enter", "write", "write", tooltip="Write the file"),
        Binding("s", "size", "size", tooltip="A4 or Letter"),
        Binding("d", "days", "days", tooltip="The day of the round; the days of a report or a certificate"),
        Binding("a", "walker", "who walks", tooltip="Whose round it is, by code"),
        Binding("c", "people", "class", tooltip="The class or group that a certificate is for"),
        Binding("t", "trial", "trial", tooltip="Which trial"),
        Binding("w", "where", "file", tooltip="Another file or folder"),
        Binding("i", "type_in", "type in", tooltip="Type in a round that was filled in by hand"),
        Binding("pageup", "read(-1)", "read back", show=False, tooltip="Read back in what stands below"),
        Binding("pagedown", "read(1)", "read on", show=False, tooltip="Read on in what stands below"),
        Binding("escape,q,left", "back", "back", tooltip="Back to where you came from"),
    ]

    def __init__(self, what: str = "", trial: str = "") -> None:
        """`what`: to point at, as `walkabout sheet` names it; `trial`: the key of the trial whose plots are wanted."""
        super().__init__()
        self.chosen = Chosen(what, trial)
        self._said = plain("")
        self._writing = False
        # made at once: a key may come before the screen is put together
        self._head, self._keys, self._said_line = HeadLine(), KeyLine(), Static(id="said")
        self._kinds, self._options = PointList(id="kinds"), PointList(id="options", at_once=True)
        self._below = VerticalScroll(self._said_line, id="below", can_focus=False)

    def compose(self) -> ComposeResult:
        """What there is, what can be changed, where it goes."""
        yield self._head
        with Container(id="paper"):
            yield self._kinds
            yield self._options
            yield self._below
        yield self._keys

    def on_mount(self) -> None:
        """Show it."""
        self.renew()

    def on_screen_resume(self) -> None:
        """Show it afresh when it comes back."""
        self.renew()

    def on_resize(self) -> None:
        """Fit it to the width."""
        self.call_after_refresh(self.renew)

    # showing it

    def renew(self) -> None:
        """Show what is true now."""
        if not self.is_mounted:
            return
        self._head.left = f"Paper · {self.app.opened.room.name}"
        self._head.right = self.dated
        rows = [plain(fitted(one.title, TITLE), "bold").append(plain(one.about, "$muted")) for one in KINDS]
        self._kinds.show(rows, self.chosen.at)
        self._show_options()
        self._show_below()

    def _show_options(self) -> None:
        options = self.chosen.options(self.app.opened)
        rows = [
            plain(f"{key}  ", "$accent-text bold").append(plain(fitted(name, OPTION), "$muted")).append(plain(says))
            for key, name, says, _ in options
        ]
        self._options.styles.height = len(rows)
        self._options.show(rows, NOBODY)
        keys = [Key(key, name, f"screen.{action}") for key, name, _, action in options]
        if self.chosen.kind.name == "round":
            keys.append(Key("i", "type one in", "screen.type_in"))
        self._keys.keys = (
            Key("enter", "write", "screen.write"), Key("↑↓", "choose", "screen.point(1)"), *keys,
            Key("esc", "back", "screen.back"), Key("?", "help", "app.help"),
        )  # fmt: skip

    def _show_below(self) -> None:
        chosen, opened = self.chosen, self.app.opened
        width = max(min(self._below.scrollable_content_region.width or self.size.width - 6, WIDEST), 20)
        rows: list[Content] = [*self._said.wrap(width), plain("")] if self._said.plain else []
        rows += wrapped(f"Enter writes {chosen.path(opened)}", width, "$muted")
        if chosen.kind.name == "round":
            rows += wrapped(TYPE_IN, width, "$muted")
        trial = chosen.trial_in(opened) if chosen.kind.name == "plots" else None
        if trial is not None and is_blind(trial):
            rows += wrapped(TWO_LISTS, width, "$watch")
        self._said_line.update(lines(rows))

    def _say(self, text: str, style: str = "") -> None:
        self._said = plain(text, style)
        self._show_below()
        self._below.scroll_home(animate=False)

    # choosing

    def on_point_list_pointed(self, event: PointList.Pointed) -> None:
        """Show what belongs to the kind pointed at."""
        event.stop()
        if event.rows is self._kinds and event.index != self.chosen.at:
            self.chosen.at = event.index
            self._changed()

    async def on_point_list_picked(self, event: PointList.Picked) -> None:
        """Write what was clicked once more; change the option that was clicked."""
        event.stop()
        if event.rows is self._kinds:
            self.action_write()
            return
        options = self.chosen.options(self.app.opened)
        self._show_options()  # none of them stays pointed at
        if event.index < len(options):
            await self.run_action(f"screen.{options[event.index][3]}")

    def action_point(self, step: int) -> None:
        """Move the pointer."""
        self._kinds.point(step)

    def action_read(self, step: int) -> None:
        """Scroll what stands below."""
        self._below.scroll_relative(y=step * max(self._below.size.height - 1, 1), animate=False)

    def _changed(self) -> None:
        self._said = self._said if self._writing else plain("")
        self.renew()

    def _ask(self, asks: Callable[..., Awaitable[bool]]) -> None:
        async def ask() -> None:
            if await asks(self.app, self.chosen):
                self._changed()

        self.ask_through(ask())

    def action_size(self) -> None:
        """Take the other size of paper."""
        self.chosen.other_size(self.app.opened)
        self._changed()

    def action_days(self) -> None:
        """Ask for the day, or for the days."""
        takes = self.chosen.kind.takes
        if "day" in takes or "since" in takes:
            self._ask(printasking.ask_day if "day" in takes else printasking.ask_days)

    def action_walker(self) -> None:
        """Ask who walks."""
        if "walker" in self.chosen.kind.takes:
            self._ask(printasking.ask_walker)

    def action_people(self) -> None:
        """Ask for whom a certificate is."""
        if "people" in self.chosen.kind.takes:
            self._ask(printasking.ask_people)

    def action_trial(self) -> None:
        """Ask which trial."""
        if "trial" in self.chosen.kind.takes:
            self._ask(printasking.ask_trial)

    def action_where(self) -> None:
        """Ask for another file or folder."""
        self._ask(printasking.ask_where)

    # doing it

    def action_write(self) -> None:
        """Write the file in a thread: the screen goes on."""
        if self._writing or self._asking or not self.is_current:
            return
        self._writing = True
        self._say("Writing …", "$muted")
        chosen, opened = self.chosen, self.app.opened
        self.app.run_worker(self._write(chosen.wanted(opened), chosen.path(opened)), group="paper")

    async def _write(self, wanted: Wanted, path: Path) -> None:
        opened = self.app.opened
        try:
            pages, size = await asyncio.to_thread(_written, opened.folder, opened.clock(), wanted, path)
        except (ValueError, OSError, NotWritten, NotSaved, CannotOpen) as error:
            self._tell(" ".join(str(error).split()), grave=True)
        else:
            self._tell(f"Written: {path}, {pages} page{'s' if pages != 1 else ''} of {size}.")

    def _tell(self, says: str, *, grave: bool = False) -> None:
        """Say what came of it: here, or in passing where this screen has gone."""
        self._writing = False
        if self in self.app.screen_stack:
            self._say(f"{'▴' if grave else '✓'} {says}", "$watch" if grave else "$good")
        else:
            self.app.say(says, grave=grave)

    def action_type_in(self) -> None:
        """Type in a round that was filled in by hand."""
        self.ask_through(type_in(self.app))

    def action_back(self) -> None:
        """Go back."""
        self.leave()


def _written(folder: Path, now: datetime, wanted: Wanted, path: Path) -> tuple[int, str]:
    """Print and write it, in a room opened for that alone: what is open on the screen is not shared between threads."""
    data, paper = printed(folder, lambda: now, wanted)
    return write_pdf(path, data), paper.name
