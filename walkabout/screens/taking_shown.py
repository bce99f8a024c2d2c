"""What the taking in of a logger's file shows: the first rows, what is asked, the line, what there is to know."""

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static

from walkabout.paper.logger import Taken
from walkabout.paper.logger_asking import Question
from walkabout.paper.logger_kept import Taking
from walkabout.paper.logger_words import WHO_TAKES_IN, lines_of_taking
from walkabout.screens.text import lines
from walkabout.screens.widgets.asking import AskingPage
from walkabout.screens.widgets.beside import Work
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.reading import wrapped
from walkabout.screens.widgets.rowtable import row_table
from walkabout.screens.widgets.takingfill import Filling
from walkabout.screens.widgets.takinglines import KEYS, Phase, about

WIDEST = 104
EACH = 0.1
"""Seconds between two looks at how far it has come."""


class TakingShown(AskingPage):
    """Shows how far the taking in has come; what is typed and done is up to the screen made of it."""

    def __init__(self, path: str = "") -> None:
        super().__init__()
        self.phase: Phase = "path"
        self.taken: Taken | None = None
        self._typed = path
        self._filling: Filling | None = None
        self._taking: Taking | None = None
        self._found: list[Content] = []
        self._wrong = self._put = ""
        self._work: Work | None = None
        # made at once: a key may come before the screen is put together
        self._head, self._keys = HeadLine(), KeyLine()
        self._table, self._asked, self._said = Static(id="table"), Static(id="asked"), Static(id="said")
        self._line = Input(path, select_on_focus=False, id="line")
        self._below = VerticalScroll(self._said, id="below", can_focus=False)

    def compose(self) -> ComposeResult:
        """The file, the question, the line, what there is to know."""
        yield self._head
        with Vertical(id="taking"):
            yield self._table
            yield self._asked
            yield self._line
            yield self._below
        yield self._keys

    def on_mount(self) -> None:
        """Type at once."""
        self.set_interval(EACH, self._look)
        self._go("path")

    def on_unmount(self) -> None:
        """Whoever leaves the program does not wait for a file."""
        if self._work is not None:
            self._work.stop()

    def on_screen_resume(self) -> None:
        """Show it afresh when it comes back."""
        self.renew()

    def on_resize(self) -> None:
        """Fit it to the width."""
        self.call_after_refresh(self.renew)

    # showing it

    def _go(self, phase: Phase, text: str = "") -> None:
        """Go on to another phase, with this in the line."""
        self.phase, self._wrong = phase, ""
        typing = phase in ("path", "asking")
        self._line.display = typing
        self._line.value = self._put = text if phase == "asking" else self._typed
        self._line.cursor_position = len(self._line.value)
        if typing:
            self.set_focus(self._line)
            if phase == "asking":
                self._line.action_select_all()  # typing takes the place of a proposal
        else:
            self.set_focus(None)
        self._below.scroll_home(animate=False)
        self.renew()

    @property
    def question(self) -> Question | None:
        """What is asked now."""
        return self._filling.question if self._filling is not None and self.phase == "asking" else None

    def renew(self) -> None:
        """Show what is true now."""
        if not self.is_mounted:
            return
        file = self._filling.what.file if self._filling is not None and self.phase != "path" else None
        self._head.left = f"Taking in{f' · {file.path.name}' if file else ''} · {self.app.opened.room.name}"
        self._head.right = self.dated
        width = max(min(self._below.scrollable_content_region.width or self.size.width - 6, WIDEST), 20)
        question = self.question
        self._table.display = file is not None and self.phase in ("asking", "ready")
        if file is not None and self._table.display:
            rows = [cells for _, cells in file.rows[:4]]
            self._table.update(lines(row_table(file.names, rows, width, pointed=question.column if question else "")))
        self._asked.update(lines(self._asked_lines(question, width)))
        self._said.update(lines(self._said_lines(question, width)))
        self._keys.keys = (*KEYS[self.phase], Key("?", "help", "app.help"))
        self._look()

    def _asked_lines(self, question: Question | None, width: int) -> list[Content]:
        if self.phase == "path":
            return wrapped("Which file? Type its path, or paste it.", width, "bold")
        if question is not None:
            return wrapped(question.says, width, "bold")
        if self.phase == "ready":
            return wrapped("Take it in like this?", width, "bold")
        return wrapped("", width)

    def _said_lines(self, question: Question | None, width: int) -> list[Content]:
        found = wrapped(self._wrong, width, "$watch") if self._wrong else []
        if self.phase == "path":
            found += self._found or wrapped(WHO_TAKES_IN, width, "$muted")
        elif question is not None:
            found += about(question, width, self._wrong)
        elif self.phase == "ready" and self._taking is not None:
            told = self._filling.told if self._filling is not None else ""
            for one in lines_of_taking(self._taking, self.app.opened.name_of, told):
                found += wrapped(one, width)
        elif self.phase == "done":
            found += [row for one in self._found for row in one.wrap(width)]
        return found

    def _look(self) -> None:
        if self._work is not None:
            self._asked.update(self._work.drawn())
