"""The end of the round: what came of it, and the jobs of the day."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.round.walk import Walk
from walkabout.round.words import clock_words
from walkabout.screens.base import Page
from walkabout.screens.text import plain
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.joblines import job_lines
from walkabout.screens.widgets.keyline import Key, KeyLine


class EndScreen(Page):
    """Says that it is done, and hands the jobs out."""

    CSS_PATH = "end.tcss"
    HELP = (
        "The round is walked and everything is on disk. Read the jobs out in this order: the most urgent stands first."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,escape", "done", "done", tooltip="Go to Today"),
        Binding("j", "jobs", "jobs", tooltip="Open the jobs"),
        Binding("left,b", "back", "back", tooltip="Go back to the last question"),
        Binding("f", "app.flag", "finding", tooltip="Flag something that looks wrong"),
    ]

    def __init__(self, walk: Walk, last: Content | None = None) -> None:
        """`last` says what the last answer meant, where that was not all well."""
        super().__init__()
        self._last = last
        self.walk = walk
        self._summary = walk.finish()

    def compose(self) -> ComposeResult:
        """Figures first, then the jobs by hours to loss."""
        opened, found = self.app.opened, self._summary
        yield HeadLine(opened.room.name, f"{opened.clock():%A} {opened.clock().day} {opened.clock():%B}")
        rows = [plain("The round is walked.", "bold")]
        if self._last is not None:
            rows[:0] = [self._last, plain("")]
        looked = f"{found.answered} question{'s' if found.answered != 1 else ''} in {clock_words(found.seconds)}"
        missed = f"; {found.not_looked} not looked at, first next time" if found.not_looked else ""
        rows.append(plain(f"{looked}{missed}.", "$muted"))
        if found.glad:
            rows.append(Content("").join([plain("✓ ", "$good"), plain(found.glad)]))
        if opened.records.waiting:
            rows.append(plain(f"{opened.records.waiting} records are not on disk yet: {opened.retry()}", "$act bold"))
        with VerticalScroll(id="end", can_focus=False):
            yield Static(Content("\n").join(rows))
            yield Static(plain("Jobs of the day", "$accent-text"), classes="gap")
            if found.jobs:
                yield Static(job_lines(found.jobs, opened, self.app.size.width - 6), id="jobs")
            else:
                yield Static(plain("None. Nothing needs doing today.", "$muted"))
        yield KeyLine((
            Key("enter", "done", "screen.done"), Key("j", "jobs", "screen.jobs"), Key("←", "back", "screen.back"),
            Key("f", "finding", "app.flag"), Key("?", "help", "app.help"),
        ))  # fmt: skip

    def action_done(self) -> None:
        """Leave the round."""
        self.app.go_back()

    def action_jobs(self) -> None:
        """Go to the jobs."""
        self.app.go_back("jobs")

    def action_back(self) -> None:
        """Go back to the last question."""
        from walkabout.screens.walking import WalkingScreen  # noqa: PLC0415 - the two lead to each other

        if self.walk.back():
            self.app.switch_screen(WalkingScreen(self.walk))
