"""What was taken in before, and taking it back."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.paper.logger_back import Back, Before, take_back, taken_before
from walkabout.paper.logger_words import NONE_YET, hours, line_of_before, lines_of_back
from walkabout.records.book import Records
from walkabout.records.disk import NotSaved, plainly
from walkabout.screens.text import fitted, lines, plain
from walkabout.screens.widgets.asking import AskingPage, PickScreen
from walkabout.screens.widgets.beside import Work
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.pointlist import PointList
from walkabout.screens.widgets.reading import wrapped

WIDEST = 104
NAME, WHEN = 26, 18


class TakenBeforeScreen(AskingPage):
    """The files, the last one first; below what is known of the one pointed at."""

    CSS_PATH = "taken_before.tcss"
    HELP = (
        "The loggers' files that were taken in. x takes one back: the hours that it alone gave are emptied, those that "
        "other files have readings of too are reckoned anew. An adult does that, since everybody's trends change. The "
        "file itself is kept, and can be taken in again. The same from a command: walkabout take-in --list and --back."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "point(-1)", "up", tooltip="The file above"),
        Binding("down", "point(1)", "down", tooltip="The file below"),
        Binding("x", "back_it", "take back", tooltip="Take this file's readings back"),
        Binding("escape,q,left", "back", "back", tooltip="Back to where you came from"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.found: list[Before] | None = None
        self._said: list[Content] = []
        self._work: Work | None = None
        # made at once: a key may come before the screen is put together
        self._head, self._keys, self._text = HeadLine(), KeyLine(), Static(id="text")
        self._list = PointList(id="files")
        self._below = VerticalScroll(self._text, id="below", can_focus=False)

    def compose(self) -> ComposeResult:
        """The list, and what is known of one."""
        yield self._head
        with Container(id="before"):
            yield self._list
            yield self._below
        yield self._keys

    def on_mount(self) -> None:
        """Read the list beside the screen: there may be ten years of hours."""
        self.renew()
        self.run_worker(self._gather(), exclusive=True, group="before")

    def on_screen_resume(self) -> None:
        """Show it afresh when it comes back."""
        self.renew()

    def on_resize(self) -> None:
        """Fit it to the width."""
        self.call_after_refresh(self.renew)

    async def _gather(self) -> None:
        opened = self.app.opened
        self._work = Work("Reading what is on record")

        def job() -> list[Before]:
            records = Records.open(opened.folder, opened.today())
            try:
                return taken_before(records, opened.folder)
            finally:
                records.close()

        try:
            self.found = await self._work.run(job)
        except (NotSaved, OSError) as error:
            self._said = [plain(f"The list cannot be read: {error}", "$watch")]
            self.found = []
        self._work = None
        self.renew()

    def renew(self) -> None:
        """Show what is true now."""
        if not self.is_mounted:
            return
        self._head.left = f"Taken in before · {self.app.opened.room.name}"
        self._head.right = self.dated
        found = self.found or []
        self._list.show([_row(one) for one in found], max(self._list.pointed, 0))
        takes = (Key("x", "take back", "screen.back_it"),) if found else ()
        self._keys.keys = (
            Key("↑↓", "choose", "screen.point(1)"), *takes, Key("esc", "back", "screen.back"),
            Key("?", "help", "app.help"),
        )  # fmt: skip
        width = max(min(self._below.scrollable_content_region.width or self.size.width - 6, WIDEST), 20)
        rows = [row for one in self._said for row in one.wrap(width)]
        if self._work is not None or self.found is None:
            rows = [self._work.drawn() if self._work else plain("")]
        elif not found:
            rows += wrapped(NONE_YET, width, "$muted")
        elif not rows and (one := self._pointed()) is not None:
            rows = wrapped(line_of_before(one, self.app.opened.name_of), width, "" if one.whole else "$watch")
        self._text.update(lines(rows))

    def _pointed(self) -> Before | None:
        at = max(self._list.pointed, 0)
        return self.found[at] if self.found and at < len(self.found) else None

    def on_point_list_pointed(self, event: PointList.Pointed) -> None:
        """Say what is known of the file pointed at."""
        event.stop()
        self._said = []
        self.renew()

    def on_point_list_picked(self, event: PointList.Picked) -> None:
        """A click only points: nothing is taken back by it."""
        event.stop()

    def action_point(self, step: int) -> None:
        """Move the pointer."""
        self._list.point(step)

    def action_back_it(self) -> None:
        """Take the file pointed at back, after a question."""
        one = self._pointed()
        if one is not None and self._work is None:
            self.ask_through(self._take_back(one))

    async def _take_back(self, one: Before) -> None:
        from walkabout.screens.adult import decided_by  # noqa: PLC0415 - seldom asked

        if await decided_by(self.app, "Taking back is for an adult. Whose code?") is None:
            return
        rows = [Row("no, keep them"), Row("yes, take them back", "the file can be taken in again")]
        says = f"Take back the readings of {one.name}, {hours(one.total)}?"
        if await self.app.push_screen_wait(PickScreen(says, rows)) != (1,):
            return
        # once begun it is not stopped: half a file on record is what it is to put right
        self.run_worker(self._to_the_end(one), exclusive=True, group="before")

    async def _to_the_end(self, one: Before) -> None:
        opened = self.app.opened
        work = self._work = Work(f"Taking back {one.name}")
        self.renew()

        def job() -> tuple[Back, list[Before]]:
            records = Records.open(opened.folder, opened.today())
            try:
                back = take_back(one, records, opened.folder)
                return back, taken_before(records, opened.folder)
            finally:
                records.close()

        try:
            back, self.found = await work.run(job)
            self._said = [plain(says) for says in lines_of_back(back, opened.folder)]
            opened.refresh()
        except NotSaved as error:
            self._said = [plain(f"It is not wholly taken back: take it back once more. {error}", "$watch")]
        except OSError as error:
            says = plainly(error, opened.folder)
            self._said = [plain(f"It is not wholly taken back: take it back once more. {says}", "$watch")]
        self._work = None
        self.renew()

    def action_back(self) -> None:
        """Go back; what is being taken back is finished meanwhile."""
        self.leave()


def _row(one: Before) -> Content:
    when = f"{one.at:%Y-%m-%d %H:%M}" if one.at else "day not known"
    parts = [plain(fitted(when, WHEN), "$muted"), plain(fitted(one.name, NAME)), plain(f"  {hours(one.total)}")]
    return Content("").join([*parts, plain("" if one.whole else "  ▴ cut short, or its copy is gone", "$watch")])
