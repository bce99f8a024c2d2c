"""Today: what opens first, and nothing that can wait."""

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.round.today import TodayPage, today_page
from walkabout.round.words import day_words
from walkabout.screens.base import Page
from walkabout.screens.text import STRIP_GLYPHS, STYLES, fitted, plain
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.joblines import job_line
from walkabout.screens.widgets.keyline import Key, KeyLine

WIDE = 116
"""From so many columns on, the jobs and what is ahead stand side by side."""
LOW = 30
"""Under so many lines everything stands closer."""
NAME = 20


class TodayScreen(Page):
    """Has the round been walked, what is due, what comes, how the days went."""

    CSS_PATH = "today.tcss"
    HELP = (
        "What opens first. It says whether the round has been walked, how long it will take and where to look most "
        "closely; which jobs are due, the most urgent first, and who may do them; what the dates bring; and how each "
        "station has been for fourteen days. Press r to walk."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("r,enter", "walk", "walk the round", tooltip="Walk the round, or take it up where it stopped"),
        Binding("j", "app.go('jobs')", "jobs", tooltip="Jobs and findings: do, close, look at their history"),
        Binding("o", "app.go('room')", "room", tooltip="Stations and plantings: add, move, end, correct an answer"),
        Binding("a", "app.go('almanac')", "almanac", tooltip="What the dates say: plantings, promises, closures"),
        Binding("b", "app.go('logbook')", "logbook", tooltip="The logbook: what is on record, what has shifted"),
        Binding("f", "app.flag", "finding", tooltip="Flag something that looks wrong"),
        Binding("u", "who", "who", tooltip="Change whose code is written down"),
        Binding("q", "app.leave", "leave", tooltip="Leave; everything is on disk"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._head = HeadLine()
        self._parts = {name: Static(id=name) for name in ("headline", "detail", "due", "ahead", "days")}
        self._lists = Container(self._parts["due"], self._parts["ahead"], id="lists")

    def compose(self) -> ComposeResult:
        """The sentence first, then jobs and dates, then the strips."""
        yield self._head
        with VerticalScroll(id="today", can_focus=False):
            yield self._parts["headline"]
            yield self._parts["detail"]
            yield self._lists
            yield self._parts["days"]
        yield KeyLine((
            Key("r", "round", "screen.walk"), Key("j", "jobs", "app.go('jobs')"), Key("o", "room", "app.go('room')"),
            Key("a", "almanac", "app.go('almanac')"), Key("b", "logbook", "app.go('logbook')"),
            Key("l", "lookup", "app.lookup"), Key("f", "finding", "app.flag"),
            Key("=", "work out", "app.work_out"), Key("u", "who", "screen.who"), Key("q", "leave", "app.leave"),
            Key("^p", "everything", "app.command_palette"), Key("?", "help", "app.help"),
        ), tight=True)  # fmt: skip

    def on_mount(self) -> None:
        """Fill the screen."""
        self.renew()

    def on_screen_resume(self) -> None:
        """Fill it afresh when it comes back."""
        self.renew()

    def on_resize(self, event: events.Resize) -> None:
        """Lay the lists out for the width."""
        self._lists.set_class(event.size.width >= WIDE, "-wide")
        self._lists.set_class(event.size.height < LOW, "-low")
        self.renew()

    def renew(self) -> None:
        """Show what is true now."""
        if not self.is_mounted:
            return
        opened = self.app.opened
        page, now = today_page(opened, self.app.walker), opened.clock()
        head = self._head
        head.left = opened.room.name
        who = f" · {self.app.walker}" if self.app.walker else ""
        head.right = f"{now:%A} {now.day} {now:%B}{who}"
        self._parts["headline"].update(plain(page.headline, "bold"))
        self._parts["detail"].update(plain(page.detail, "$muted"))
        width = self.size.width - 4
        wide = self.size.width >= WIDE
        self._parts["due"].update(self._due(page, width * 3 // 5 - 2 if wide else width))
        self._parts["ahead"].update(self._ahead(page, width * 2 // 5 if wide else width))
        self._parts["days"].update(self._days(page))

    @property
    def _low(self) -> bool:
        return self.size.height < LOW

    def _due(self, page: TodayPage, width: int) -> Content:
        most = 3 if self._low else 10
        rows = [Content("").join([plain("Jobs due", "$accent-text"), plain(self._findings(page), "$muted")])]
        shown = page.jobs if len(page.jobs) <= most else page.jobs[: most - 1]
        rows += [job_line(job, self.app.opened, width) for job in shown]
        if len(shown) < len(page.jobs):
            rows.append(plain(f"  and {len(page.jobs) - len(shown)} more: j", "$muted"))
        if not page.jobs:
            rows.append(plain("None.", "$muted"))
        return Content("\n").join(rows)

    def _findings(self, page: TodayPage) -> str:
        """Say beside the jobs how many findings are open."""
        if not page.findings:
            return ""
        again = sum(1 for one in page.findings if one.recheck and one.recheck <= self.app.opened.today())
        found = f"{len(page.findings)} open finding{'s' if len(page.findings) != 1 else ''}"
        return f"   {found}" + (f", {again} to look at again today" if again else "")

    def _ahead(self, page: TodayPage, width: int) -> Content:
        """Say what comes; on a low screen only the next thing that somebody must prepare for."""
        today = self.app.opened.today()
        if self._low:
            first = next((one for one in page.ahead if one.warns), page.ahead[0] if page.ahead else None)
            says = f"{day_words(first.day, today)}: {first.says}" if first else "nothing within three weeks"
            return Content("").join(
                [plain("Ahead   ", "$accent-text"), plain(fitted(says, max(width - 8, 10)).rstrip())]
            )
        rows = [plain("Ahead", "$accent-text")]
        for one in page.ahead[:10]:
            what = plain(fitted(one.says, max(width - 10, 10)).rstrip(), "$watch" if one.warns else "")
            rows.append(Content("").join([plain(fitted(day_words(one.day, today), 10), "$muted"), what]))
        if not page.ahead:
            rows.append(plain("Nothing within three weeks.", "$muted"))
        return Content("\n").join(rows)

    def _days(self, page: TodayPage) -> Content:
        letters = " ".join(f"{day:%a}"[0] for day in page.dates)
        rows = [Content("").join([plain(fitted("Fourteen days", NAME), "$accent-text"), plain(letters, "$muted")])]
        for one in page.days:
            cells = [plain(f"{STRIP_GLYPHS[verdict]} ", STYLES[verdict]) for verdict in one.verdicts]
            rows.append(Content("").join([plain(fitted(one.name, NAME - 2)), plain("  "), *cells]))
        if self._low:
            return Content("\n").join(rows)
        legend = [plain(fitted("", NAME))]
        for verdict, words in (("good", "good"), ("watch", "watch"), ("today", "act"), ("not looked", "not looked")):
            legend += [plain(f"{STRIP_GLYPHS[verdict]} ", STYLES[verdict]), plain(f"{words}   ", "$muted")]
        return Content("\n").join([*rows, Content("").join(legend)])

    def action_walk(self) -> None:
        """Walk the round."""
        from walkabout.screens.walking import start_walk  # noqa: PLC0415 - loaded when the round begins

        start_walk(self.app)

    def action_who(self) -> None:
        """Change the code."""
        from walkabout.screens.who import WhoScreen  # noqa: PLC0415

        def take(code: str | None) -> None:
            if code:
                self.app.walker = code
                self.renew()

        self.app.push_screen(WhoScreen("Whose code is written down from now on?"), take)
