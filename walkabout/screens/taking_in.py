"""Taking in a logger's file: its path, its first rows, one question after the other, then what came of it."""

from pathlib import Path
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widgets import Input

from walkabout.paper.belonging import belongs
from walkabout.paper.logger_asking import Question
from walkabout.paper.logger_columns import BadLogger
from walkabout.paper.logger_kept import Taking, earlier
from walkabout.paper.logger_words import asks_instead
from walkabout.paper.take_in import package_of
from walkabout.paper.typed_paths import completed, path_typed
from walkabout.screens.taking_shown import TakingShown
from walkabout.screens.text import plain
from walkabout.screens.widgets.asking import PickScreen
from walkabout.screens.widgets.beside import Work
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.longjobs import Opened, read_file, take_in
from walkabout.screens.widgets.takingfill import Filling
from walkabout.screens.widgets.takinglines import a_room, choices

SAMPLES = 12
"""Names of entries that are shown beside a half-typed path."""


class TakeInScreen(TakingShown):
    """One line to type into at a time; the file's first rows stand above it."""

    CSS_PATH = "taking_in.tcss"
    HELP = (
        "Takes in what a logger read. Type or paste the path of its file; tab completes it. Then say of each column "
        "what it holds: what stands in the line is a proposal, enter confirms it, f2 lists what there is, a dash "
        "leaves the column out. Escape goes one question back. Nothing is written before the last enter. What was said "
        "is remembered for the next file of this logger. f3 lists what was taken in before, and takes it back. The "
        "same from a command: walkabout take-in PATH."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "enter", "go on", tooltip="Open the file, confirm an answer, take it in"),
        Binding("tab", "complete", "complete", tooltip="Complete the path as far as can be", priority=True),
        Binding("f2", "pick", "list", tooltip="Pick an answer from a list"),
        Binding("f3", "before", "taken in before", tooltip="What was taken in before; taking it back"),
        Binding("e", "anew", "ask anew", tooltip="Ask anew what the columns are"),
        Binding("up,pageup", "read(-1)", "read back", show=False, tooltip="Read back in what stands below"),
        Binding("down,pagedown", "read(1)", "read on", show=False, tooltip="Read on in what stands below"),
        Binding("escape", "back", "back", tooltip="One question back; back to where you came from; stop"),
    ]

    # typing

    def on_input_changed(self, event: Input.Changed) -> None:
        """What was wrong is forgotten as soon as something else is typed."""
        event.stop()
        if self.phase == "path":
            self._typed = event.value
        if self._wrong and event.value not in ("", self._put):
            self._wrong = ""
            self.renew()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Go on with what was typed."""
        event.stop()
        self.action_enter()

    def action_complete(self) -> None:
        """Complete the path as far as the entries of the folder agree."""
        if self.phase != "path":
            return
        text, names = completed(self._line.value)
        self._line.value = self._typed = text
        self._line.cursor_position = len(text)
        more = f", and {len(names) - SAMPLES} more" if len(names) > SAMPLES else ""
        says = f"{', '.join(names[:SAMPLES])}{more}" if len(names) > 1 else "" if names else "Nothing begins like that."
        self._found = [plain(says, "$muted")] if says else []
        self.renew()

    def action_pick(self) -> None:
        """Pick an answer from a list."""
        question = self.question
        if question is not None:
            self.ask_through(self._pick(question))

    async def _pick(self, question: Question) -> None:
        rows = choices(question)
        got = await self.app.push_screen_wait(
            PickScreen(question.says, [Row(says, remark) for _, says, remark in rows], about=question.column)
        )
        if got is not None:
            self._line.value = rows[got[0]][0]
            self._line.cursor_position = len(self._line.value)
            self._line.focus()

    # going on

    def action_enter(self) -> None:
        """Open the file, take an answer, take the file in."""
        if self.phase == "path":
            self._open(self._line.value)
        elif self.phase == "asking" and self._filling is not None:
            self._answer(self._filling, self._line.value)
        elif self.phase == "ready":
            self.ask_through(self._instead())
        elif self.phase == "done":
            self._typed, self._found = "", []
            self._go("path")

    def action_anew(self) -> None:
        """Ask anew what the columns are."""
        if self.phase == "ready" and self._filling is not None:
            self._begin(self._filling.what, again=True)

    def _open(self, text: str) -> None:
        self._found = []
        if not text.strip():
            self._say_wrong("Type the path of a file first.")
            return
        path = path_typed(text)
        try:
            package = package_of(path)
            says = "" if package or path.is_file() else (
                f"{path} is a folder: go on to a file in it." if path.is_dir() else f"There is no file {path}."
            )  # fmt: skip
        except OSError as error:
            package, says = None, f"{path} cannot be opened: {error.strerror or error}."
        if package is not None:
            self._found = a_room(package.parent)
        elif not (says := says or belongs(path)):
            self._read(path)
            return
        self._say_wrong(says)

    def _say_wrong(self, says: str) -> None:
        self._wrong = says
        self.renew()

    def _read(self, path: Path) -> None:
        work = self._work = Work("Reading the file")
        self._filling = None
        self._go("working")

        async def to_the_end() -> None:
            got = await read_file(work, path)
            self._work = None
            if isinstance(got, str):
                self._go("path")
                self._say_wrong(got)
            else:
                self._begin(got, again=False)

        self.run_worker(to_the_end(), exclusive=True, group="taking in")

    def _begin(self, what: Opened, *, again: bool) -> None:
        try:
            self._filling = Filling(what, self.app.opened, again=again)
        except BadLogger as error:
            self._go("path")
            self._say_wrong(str(error))
            return
        self._on(self._filling)

    def _on(self, filling: Filling) -> None:
        """Go on to the next question, or to the last look at all the answers."""
        if filling.question is not None:
            self._go("asking", filling.proposal)
            return
        try:
            self._taking = filling.taking()
        except BadLogger as error:
            self._go("asking", filling.undo())
            self._say_wrong(str(error))
            return
        self._go("ready")

    def _answer(self, filling: Filling, text: str) -> None:
        try:
            filling.answer(text)
        except ValueError as error:
            self._say_wrong(str(error))
            return
        self._on(filling)

    # taking it in

    async def _instead(self) -> None:
        assert self._filling is not None
        assert self._taking is not None
        opened, what, instead = self.app.opened, self._filling.what, False
        old = earlier(opened.folder, what.content, self._taking)
        if old is not None:
            rows = [Row("yes, take it back", "it was wrong"), Row("no, keep both")]
            says = asks_instead(old, self._taking, opened.name_of)
            got = await self.app.push_screen_wait(PickScreen(says, rows))
            if got is None:
                return
            instead = got == (0,)
        self._work = Work("Taking it in")
        self._go("working")
        self.run_worker(
            self._to_the_end(self._work, what, self._taking, instead=instead), exclusive=True, group="taking in"
        )

    async def _to_the_end(self, work: Work, what: Opened, taking: Taking, *, instead: bool) -> None:
        self.taken, self._found = await take_in(work, self.app.opened, what, taking, instead=instead)
        if self.taken is not None:
            self.app.opened.refresh()
        self._work = None
        self._go("done")

    # going

    def action_before(self) -> None:
        """Show what was taken in before."""
        if self.phase in ("path", "done") and self.is_current:
            from walkabout.screens.taken_before import TakenBeforeScreen  # noqa: PLC0415 - seldom wanted

            self.app.push_screen(TakenBeforeScreen())

    def action_read(self, step: int) -> None:
        """Scroll what stands below."""
        self._below.scroll_relative(y=step * max(self._below.size.height - 1, 1), animate=False)

    def action_back(self) -> None:
        """Go one question back, stop what is being done, or leave."""
        if self._work is not None:
            self._work.stop()
            self._work.says = "Stopping"
        elif self.phase in ("asking", "ready") and self._filling is not None and self._filling.begun:
            self._go("asking", self._filling.undo())
        elif self.phase in ("asking", "ready"):
            self._go("path")
        else:
            self.leave()
