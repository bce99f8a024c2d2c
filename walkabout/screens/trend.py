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
from walkabout.insight.trend_words import span_words
from walkabout.round.logbook import recorded, title_of
from walkabout.round.values import Valued
from walkabout.screens.text import lines, plain
from walkabout.screens.widgets.keyline import Key
from walkabout.screens.widgets.plot import Plot
from walkabout.screens.widgets.reading import wrapped
from walkabout.screens.widgets.spanning import TERM, SpanPage
from walkabout.screens.widgets.trending import gathered, trend_of, valued
from walkabout.screens.widgets.trendlines import WORKING, first_day, legend_lines, meaning_lines, shown
from walkabout.screens.widgets.valuelines import value_lines

WIDEST = 104
LOW = 30
"""Under so many lines the picture leaves less room to the words."""


class TrendScreen(SpanPage):
    """The picture comes first, the words a moment later where there are years of readings."""

    CSS_PATH = "trend.tcss"
    HELP = (
        "One reading of a station over a span of days. The shaded band is what suits what grows here now; dashes are "
        "the limits of what is usual. Glyphs below the line say what was done. Then comes "
        "what it means: whether something has moved by more than chance, how fast it goes, and when it leaves the good "
        "range. Left and right choose the span, tab the next reading of the station; v lists the values instead of the "
        "picture, with what was put right; w shows the working. The same in lines: walkabout logbook --station KEY."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        *SpanPage.BINDINGS,
        Binding("tab", "turn(1)", "next reading", tooltip="The next reading of this station", priority=True),
        Binding("shift+tab", "turn(-1)", "reading before", tooltip="The reading before", priority=True),
        Binding("v", "values", "values", tooltip="The values in lines instead of the picture, the newest first"),
        Binding("w", "working", "working", tooltip="The numbers behind the words, with their source"),
        Binding("up", "read(-1)", "up", tooltip="A line up in the words or values"),
        Binding("down", "read(1)", "down", tooltip="A line down in the words or values"),
        Binding("pageup", "page(-1)", "page up", tooltip="A page up"),
        Binding("pagedown,space", "page(1)", "page down", tooltip="A page down"),
        Binding("home", "home", "top", show=False, tooltip="To the top"),
        Binding("f", "app.flag", "finding", tooltip="Flag something that looks wrong at this station"),
        Binding("escape,q", "leave", "back", tooltip="Back to where you came from"),
    ]

    def __init__(self, station: str, question: str, span: int = TERM) -> None:
        super().__init__(span)
        self.station_key, self.question_id = station, question
        self.series: Series | None = None
        self.trend: Trend | None = None
        self._wrong = ""
        self._with_working = self._as_values = False
        self._working_at: int | None = None
        self._values: tuple[Valued, ...] | None = None
        self._title, self._plot = Static(id="trend-title"), Plot(id="plot")
        self._legend, self._full = Static(id="legend"), Static(id="trend-words")
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

    def on_resize(self, event: events.Resize) -> None:
        """Lay the picture out for the size."""
        self._lay_out(event.size.height)
        self.call_after_refresh(self._show)

    def _lay_out(self, height: int) -> None:
        """Give the words a part of the height, and values all that the picture would have had."""
        most = height if self._as_values else max(height // (4 if height < LOW else 3), 3)
        self._page.styles.max_height = most
        self._page.styles.height = "1fr" if self._as_values else "auto"

    @work(group="trend", exclusive=True)
    async def gather(self) -> None:
        """Gather the readings, then what they mean, or the values where those are shown."""
        opened, since = self.app.opened, self.span.since
        try:
            series = await gathered(opened, self.station_key, self.question_id, since)
        except ValueError as error:
            self.series, self.trend, self._values, self._wrong = None, None, None, str(error)
            self._show()
            return
        self.series, self.trend, self._values, self._wrong = series, None, None, ""
        if self._as_values:
            self._values = await valued(opened, series, self.station_key, self.question_id, since)
        if len(series.points) > 1:
            self._show()
        self.trend = await trend_of(series)
        self._show()

    # showing

    def headline(self) -> str:
        """Return what stands on the left of the top line."""
        return f"{self.app.opened.name_of(self.station_key)} · {self.span.name}"

    def _show(self) -> None:
        if not self.is_mounted:
            return
        today = self.tell().date()
        drawing = self.series is not None and not self._as_values
        self._plot.display = self._legend.display = drawing
        self._show_title()
        width = min((self._page.scrollable_content_region.width or self.size.width - 3) - 1, WIDEST)
        self._full.update(lines(self._rows(width)))
        if self.series is not None and drawing:
            first = first_day(self.series, self.span.since, today)
            drawn = shown(self.series, self.trend, first, today, self.size.width - 2, self._plot.size.height)
            self._legend.update(lines(legend_lines(drawn.legend, self.size.width - 4)))
            self._plot.show(drawn.picture)
        self._keys.keys = (
            Key("←→", "span", "screen.next_span"), Key("tab", "next reading", "screen.turn(1)"),
            Key("v", "picture" if self._as_values else "values", "screen.values"),
            Key("w", "no working" if self._with_working else "working", "screen.working"),
            Key("pgdn", "read on", "screen.page(1)"), Key("esc", "back", "screen.leave"),
            Key("f", "finding", "app.flag"), Key("l", "lookup", "app.lookup"), Key("?", "help", "app.help"),
        )  # fmt: skip

    def _show_title(self) -> None:
        name = title_of(self.app.opened, self.station_key, self.question_id)
        unit = self.series.unit if self.series is not None and self.series.unit not in ("", "pH") else ""
        many = span_words(self.series) if self.series is not None else ""
        says = f"{f', {unit}' if unit else ''}   {many}"
        self._title.update(plain(name, "bold").append(plain(says, "$muted")))

    def _rows(self, width: int) -> list[Content]:
        """Return what stands below the picture, or in its place."""
        if self.series is None:
            return wrapped(self._wrong or "The records are being read.", width, "" if self._wrong else "$muted")
        if self._as_values and self._values is None:
            return [plain("The values are being read.", "$muted")]
        if self._as_values:
            return value_lines(self._values or (), width)
        if self.trend is None:
            return [plain("The readings are being looked at.", "$muted")]
        rows = meaning_lines(self.series, self.trend, width, working=self._with_working)
        self._working_at = next((at for at, row in enumerate(rows) if row.plain == WORKING), None)
        return rows

    # keys

    def action_turn(self, step: int) -> None:
        """Show the next reading of the station."""
        names = [one.question for one in recorded(self.app.opened, self.station_key)]
        if not names:
            return
        at = names.index(self.question_id) if self.question_id in names else 0
        self.question_id = names[(at + step) % len(names)]
        self._page.scroll_home(animate=False)
        self.renew()

    def action_values(self) -> None:
        """Show the values in lines, or the picture again."""
        self._as_values, self._with_working = not self._as_values, False
        self._lay_out(self.size.height)
        self._page.scroll_home(animate=False)
        self._show()
        if self._as_values and self._values is None:
            self.renew()

    def action_working(self) -> None:
        """Show the working, or put it away."""
        self._with_working, self._as_values = not self._with_working, False
        self._lay_out(self.size.height)
        self._page.scroll_home(animate=False)
        self._show()
        if self._with_working:
            # the words are as long as they will be only once they are drawn
            self.call_after_refresh(self._to_working)

    def _to_working(self) -> None:
        """Scroll to the working: below the words it would be out of sight on a low screen."""
        row = self._working_at
        if self._with_working and row is not None:
            self._page.scroll_to(y=row, animate=False)

    def action_home(self) -> None:
        """Go back to the top."""
        self._page.scroll_home(animate=False)

    def action_read(self, step: int) -> None:
        """Scroll by lines."""
        self._page.scroll_relative(y=step, animate=False)

    def action_page(self, step: int) -> None:
        """Scroll by almost a page."""
        self._page.scroll_relative(y=step * max(self._page.size.height - 2, 1), animate=False)
