"""One reading or scored answer of a station over a span: the line, what was done beside it, and what it means."""

from typing import ClassVar

from textual import events, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.insight.series import Series
from walkabout.insight.trend import Trend
from walkabout.insight.trend_words import mark_line, span_words
from walkabout.round.logbook import Chosen, good_says, in_order, name_of, pace_says, spans
from walkabout.screens.base import Page, once
from walkabout.screens.text import lines, plain
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.plot import Plot
from walkabout.screens.widgets.reading import head, wrapped
from walkabout.screens.widgets.trending import gathered, trend_of
from walkabout.screens.widgets.trendlines import first_day, legend_lines, shown

MOST_MARKS = 60
"""Lines of what was done that are listed."""
WIDEST = 104
LOW = 30
"""Under so many lines the picture leaves less room to the words."""


class TrendScreen(Page):
    """The picture comes first, the words a moment later where there are years of readings."""

    CSS_PATH = "trend.tcss"
    HELP = (
        "One reading of a station over a span of days. The shaded band is what suits what grows here now; dashes are "
        "the limits of what is usual. Glyphs below the line say what was done. Then comes "
        "what it means: whether something has moved by more than chance, how fast it goes, and when it leaves the good "
        "range. Left and right choose the span, tab the next reading of the station; w shows the working. The same in "
        "lines: walkabout logbook --station KEY."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "span(-1)", "shorter", tooltip="A shorter span"),
        Binding("right", "span(1)", "longer", tooltip="A longer span"),
        Binding("tab", "turn(1)", "next reading", tooltip="The next reading of this station", priority=True),
        Binding("shift+tab", "turn(-1)", "reading before", tooltip="The reading before", priority=True),
        Binding("w", "working", "working", tooltip="The numbers behind the words, with their source"),
        Binding("up", "read(-1)", "up", tooltip="A line up in the words"),
        Binding("down", "read(1)", "down", tooltip="A line down in the words"),
        Binding("pageup", "page(-1)", "page up", tooltip="A page up in the words"),
        Binding("pagedown,space", "page(1)", "page down", tooltip="A page down in the words"),
        Binding("f", "app.flag", "finding", tooltip="Flag something that looks wrong at this station"),
        Binding("escape,q", "back", "back", tooltip="Back to where you came from"),
    ]

    def __init__(self, station: str, question: str, span: int = 1) -> None:
        super().__init__()
        self.station_key, self.question_id, self._span = station, question, span
        self.series: Series | None = None
        self.trend: Trend | None = None
        self._wrong = ""
        self._with_working = False
        # made at once: a key may come before the screen is put together
        self._head, self._title, self._plot = HeadLine(), Static(id="trend-title"), Plot(id="plot")
        self._legend, self._full, self._keys = Static(id="legend"), Static(id="trend-words"), KeyLine()
        self._page = VerticalScroll(self._full, id="trend-page", can_focus=False)

    def compose(self) -> ComposeResult:
        """The picture, its legend, the words, the keys."""
        yield self._head
        with Container(id="trend"):
            yield self._title
            yield self._plot
            yield self._legend
            yield self._page
        yield self._keys

    def on_screen_resume(self) -> None:
        """Gather the readings, anew where another screen may have changed them."""
        self.renew()

    def on_resize(self, event: events.Resize) -> None:
        """Lay the picture out for the size."""
        self._page.styles.max_height = max(event.size.height // (4 if event.size.height < LOW else 3), 3)
        self.call_after_refresh(self._show)

    def renew(self) -> None:
        """Gather the readings anew; what stands on the screen stays until they are there."""
        if self.is_mounted:
            self._gather()

    @property
    def span(self) -> Chosen:
        """The span that is looked at."""
        return spans(self.app.opened.room, self.app.opened.today())[self._span]

    @work(group="trend", exclusive=True)
    async def _gather(self) -> None:
        opened, since = self.app.opened, self.span.since
        try:
            series = await gathered(opened, self.station_key, self.question_id, since)
        except ValueError as error:
            self.series, self.trend, self._wrong = None, None, str(error)
            self._show()
            return
        self.series, self.trend, self._wrong = series, None, ""
        if len(series.points) > 1:
            self._show()
        self.trend = await trend_of(series)
        self._show()

    # showing

    def _show(self) -> None:
        if not self.is_mounted:
            return
        opened, now = self.app.opened, self.app.opened.clock()
        self._head.left = f"{opened.name_of(self.station_key)} · {self.span.name}"
        self._head.right = f"{now:%a} {now.day} {now:%b}{f' · {self.app.walker}' if self.app.walker else ''}"
        self._show_title()
        width = min(self._page.scrollable_content_region.width or self.size.width - 4, WIDEST)
        self._full.update(lines(self._words(width)))
        if self.series is not None:
            first = first_day(self.series, self.span.since, now.date())
            drawn = shown(self.series, self.trend, first, now.date(), self.size.width - 2, self._plot.size.height)
            self._legend.update(lines(legend_lines(drawn.legend, self.size.width - 4)))
            self._plot.show(drawn.picture)
        self._plot.display = self._legend.display = self.series is not None
        self._keys.keys = (
            Key("←→", "span", "screen.span(1)"), Key("tab", "next reading", "screen.turn(1)"),
            Key("w", "no working" if self._with_working else "working", "screen.working"),
            Key("↓", "read on", "screen.read(1)"), Key("esc", "back", "screen.back"),
            Key("f", "finding", "app.flag"), Key("l", "lookup", "app.lookup"), Key("?", "help", "app.help"),
        )  # fmt: skip

    def _show_title(self) -> None:
        opened = self.app.opened
        question = opened.question(self.station_key, self.question_id)
        name = name_of(question) if question is not None else self.question_id
        unit = self.series.unit if self.series is not None and self.series.unit not in ("", "pH") else ""
        many = span_words(self.series) if self.series is not None else ""
        says = f"{f', {unit}' if unit else ''}   {many}"
        self._title.update(plain(f"{name[:1].upper() if name[1:2].islower() else name[:1]}{name[1:]}", "bold").append(
            plain(says, "$muted")
        ))  # fmt: skip

    def _words(self, width: int) -> list[Content]:
        series, trend = self.series, self.trend
        if series is None:
            return wrapped(self._wrong or "The records are being read.", width, "" if self._wrong else "$muted")
        if trend is None:
            return [plain("The readings are being looked at.", "$muted")]
        rows = [row for says in trend.says for row in wrapped(says, width)]
        for says in (pace_says(series, trend), good_says(series)):
            rows += wrapped(says, width, "$muted") if says else []
        if self._with_working:
            rows += head("Working")
            rows += [row for says in trend.working for row in wrapped(says, width, "$muted", hang=2)]
        if series.marks and series.points:
            rows += head("What was done, the newest first")
            done = [mark_line(series, one) for one in series.marks[::-1]]
            rows += [row for says in done[:MOST_MARKS] for row in wrapped(says, width, hang=2)]
            if len(done) > MOST_MARKS:
                rows.append(plain(f"and {len(done) - MOST_MARKS} before that", "$muted"))
        return rows

    # keys

    def action_span(self, step: int) -> None:
        """Choose another span."""
        count = len(spans(self.app.opened.room, self.app.opened.today()))
        to = min(max(self._span + step, 0), count - 1)
        if to != self._span:
            self._span = to
            self._head.left = f"{self.app.opened.name_of(self.station_key)} · {self.span.name}"
            self.renew()

    def action_turn(self, step: int) -> None:
        """Show the next reading of the station."""
        names = [one.id for one in in_order(self.app.opened, self.station_key)]
        if not names:
            return
        at = names.index(self.question_id) if self.question_id in names else 0
        self.question_id = names[(at + step) % len(names)]
        self._page.scroll_home(animate=False)
        self.renew()

    def action_working(self) -> None:
        """Show the working, or put it away."""
        self._with_working = not self._with_working
        self._page.scroll_home(animate=False)
        self._show()

    def action_read(self, step: int) -> None:
        """Scroll by lines."""
        self._page.scroll_relative(y=step, animate=False)

    def action_page(self, step: int) -> None:
        """Scroll by almost a page."""
        self._page.scroll_relative(y=step * max(self._page.size.height - 2, 1), animate=False)

    def action_back(self) -> None:
        """Go back."""
        if once(self):
            self.app.go_back()
