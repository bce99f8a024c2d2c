"""What a trial shows: a picture of every plot, the difference with its interval, the test in words, and the working."""

import asyncio
from collections.abc import Iterator
from datetime import date
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.jobs.trials import is_blind
from walkabout.records.model_measured import Measurement, Trial
from walkabout.round.trials import days_of, unfair_says
from walkabout.screens.text import lines, plain
from walkabout.screens.widgets.asking import AskingPage, PickScreen
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.plot import Plot
from walkabout.screens.widgets.reading import wrapped
from walkabout.screens.widgets.stagewords import day_long
from walkabout.screens.widgets.trialdrawn import day_drawn, growth_drawn
from walkabout.screens.widgets.trialjudged import (
    CURVES,
    TESTS,
    Shown,
    day_to_judge,
    growth_rows,
    reckoned,
    reckoned_growth,
    result_rows,
)

WIDE, WIDEST = 116, 104


class TrialResultScreen(AskingPage):
    """The picture above or beside, the words to scroll. All reckoning is done beside the screen."""

    CSS_PATH = "trial_result.tcss"
    HELP = (
        "Every plot of a day is a point; beside it the mean of its treatment, with an interval that holds the true "
        "mean lies 95 times in 100. Below: the difference with its interval, what the test that fits the design says, "
        "and values far from the others, which are never dropped by themselves. g shows growth by day and what each "
        "plot gained a day; c lays a curve through it. s chooses another test, w shows the working. No difference "
        "shown is not the same as none. Of kinds counted against a ratio each tray is a point, + is what is expected."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "day(-1)", "day before", tooltip="The day of measuring before"),
        Binding("right", "day(1)", "next day", tooltip="The next day of measuring"),
        Binding("g", "growth", "growth", tooltip="Growth by day, or one day again"),
        Binding("c", "curve", "curve", tooltip="Lay another curve through the growth"),
        Binding("s", "test", "other test", tooltip="Choose another test of this design"),
        Binding("w", "working", "working", tooltip="The formulas with their numbers"),
        Binding("t", "text", "text", tooltip="Words in place of the picture, or the picture again"),
        Binding("up", "read(-1)", "up", tooltip="A line up"),
        Binding("down", "read(1)", "down", tooltip="A line down"),
        Binding("pageup", "page(-1)", "page up", tooltip="A page up"),
        Binding("pagedown,space", "page(1)", "page down", tooltip="A page down"),
        Binding("escape,q", "back", "back", tooltip="Back to where you came from"),
    ]

    def __init__(self, key: str) -> None:
        """`key`: of the trial."""
        super().__init__()
        self._key = key
        self._at: int | None = None
        """Which day is judged, from 0; None for the last that can be."""
        self._test: str | None = None
        self._growth, self._working, self._picture = False, False, True
        self._curve = 0
        self._trial: Trial | None = None
        self._measured: list[Measurement] = []
        self.shown: Shown | None = None
        """What was reckoned; None as long as it is not."""
        # made at once: a key may come before the screen is put together
        self._head, self._plot, self._legend = HeadLine(), Plot(id="plot"), Static(id="legend")
        self._full, self._keys = Static(id="full"), KeyLine()
        self._page = VerticalScroll(self._full, id="page", can_focus=False)

    def compose(self) -> ComposeResult:
        """The picture, what its glyphs mean, the words, the keys."""
        yield self._head
        with Container(id="result"):
            with Container(id="picture"):
                yield self._plot
                yield self._legend
            yield self._page
        yield self._keys

    def on_screen_resume(self) -> None:
        """Reckon, beside the screen, whenever it comes up."""
        self.renew()

    def on_resize(self) -> None:
        """Fit it to the width."""
        self.call_after_refresh(self._show)

    def renew(self) -> None:
        """Take in what is on record now, and reckon anew."""
        if not self.is_mounted:
            return
        records = self.app.opened.records
        self._trial = next((one for one in records.trials() if one.key == self._key), None)
        self._measured = records.measurements(self._key)
        self.shown = None
        self._show()
        self._reckon()

    @work(exclusive=True, group="reckon")
    async def _reckon(self) -> None:
        trial, measured = self._trial, list(self._measured)
        if trial is None or not measured:
            self.shown = Shown(None, "Nothing is measured yet: an empty trial shows nothing.")
        elif self._growth:
            self.shown = await asyncio.to_thread(reckoned_growth, trial, measured, CURVES[self._curve])
        else:
            self.shown = await asyncio.to_thread(reckoned, trial, measured, self._day, self._test)
        self._show()
        # how much room the picture has is known only once it stands there
        self.call_after_refresh(self._show)

    @property
    def _day(self) -> date:
        """The day that is judged: the one chosen, else the last that can be."""
        days = days_of(self._measured)
        if self._at is not None and self._at < len(days):
            return days[self._at]
        assert self._trial is not None
        return day_to_judge(self._trial, self._measured)

    @property
    def _of_kinds(self) -> bool:
        return self._trial is not None and bool(self._trial.kinds)

    def _show(self) -> None:
        if not self.is_mounted:
            return
        self._head.left = f"Result · {self._trial.question if self._trial else ''}"
        self._head.right = self.dated
        self.query_one("#result").set_class(self.size.width >= WIDE, "-wide")
        drawn = self._picture and self.shown is not None and (self._growth or self.shown.facts is not None)
        self.query_one("#picture").display = drawn
        if drawn:
            assert self._trial is not None
            assert self.shown is not None
            if self._growth:
                picture, says = growth_drawn(self._trial, self._measured, self.shown, CURVES[self._curve], self._unit)
            else:
                picture, says = day_drawn(
                    self._trial, self._measured, self.shown, self._day, self._unit, self._plot.size
                )
            self._plot.show(picture)
            self._legend.update(says)
        width = min(self._page.scrollable_content_region.width or self.size.width - 6, WIDEST)
        self._full.update(lines(self._rows(width)))
        self._keys.keys = tuple(self._keys_now())

    def _keys_now(self) -> Iterator[Key]:
        """Yield the keys that do something now."""
        judged = self.shown is not None and self.shown.facts is not None
        many = len(days_of(self._measured)) > 1
        working = Key("w", "no working" if self._working else "working", "screen.working")
        if self._growth:
            yield from (Key("g", "one day", "screen.growth"), Key("c", "curve", "screen.curve"))
        else:
            if many:
                yield Key("←→", "day", "screen.day_round")
            if many and not self._of_kinds:
                yield Key("g", "growth", "screen.growth")
            if judged and not self._of_kinds:
                yield Key("s", "test", "screen.test")
            if judged:
                yield working
        yield Key("esc", "back", "screen.back")
        if judged or self._growth:
            yield Key("t", "text" if self._picture else "picture", "screen.text")
        yield from (Key("pgdn", "read on", "screen.page(1)"), Key("?", "help", "app.help"))

    @property
    def _unit(self) -> str:
        if self._trial is None:
            return ""
        return "%" if self._trial.counts == "share" else self._trial.unit

    def _rows(self, width: int) -> list[Content]:
        trial, shown = self._trial, self.shown
        if trial is None:
            return [plain("This trial is not on record.")]
        rows = wrapped(trial.question, width, "bold")
        if shown is None:
            return [*rows, plain("Reckoning …", "$muted")]
        if shown.facts is not None:
            rows += wrapped(shown.facts["answer"], width, "$accent-text bold")
        days = days_of(self._measured)
        if days and not self._growth:
            day = self._day
            which = f" (day {days.index(day) + 1} of {len(days)})" if len(days) > 1 else ""
            alone = ". This day alone is judged; g shows growth over all days." if which and not trial.kinds else ""
            if self._at is None and day != days[-1]:
                alone += " A later day is not measured far enough yet: → shows it."
            head = "Counted up to" if trial.kinds else "Measured on"
            rows += wrapped(f"{head} {day_long(day)}{which}{alone}", width, "$muted")
        if is_blind(trial):
            rows += wrapped("The names are hidden: treatments go by their codes.", width, "$muted")
        if self._growth:
            curve = CURVES[self._curve]
            return [*rows, *growth_rows(trial, self._measured, shown, curve, self._unit, width)]
        if shown.facts is None:
            return [*rows, *wrapped(shown.why_not, width, "$watch")]
        unfair = unfair_says(self.app.opened, trial)
        return [*rows, *result_rows(shown, shown.facts, unfair, self._unit, width, working=self._working)]

    # keys

    def action_day(self, step: int) -> None:
        """Judge another day."""
        days = days_of(self._measured)
        if len(days) > 1:
            self._at = min(max(days.index(self._day) + step, 0), len(days) - 1)
            self.renew()

    def action_day_round(self) -> None:
        """Judge the day before, from the first the last: a click knows one way only."""
        days = days_of(self._measured)
        if days:
            self.action_day(len(days) if self._day == days[0] else -1)

    def action_growth(self) -> None:
        """Show growth by day, or one day again."""
        if self._of_kinds:
            self.app.hint("Kinds are counted, they do not grow: ← and → show the days.")
        elif len(days_of(self._measured)) > 1:
            self._growth = not self._growth
            self._page.scroll_home(animate=False)
            self.renew()
        else:
            self.app.hint("Growth is seen when a trial is measured on several days.")

    def action_curve(self) -> None:
        """Lay another curve through the growth."""
        if self._growth:
            self._curve = (self._curve + 1) % len(CURVES)
            self.renew()

    def action_test(self) -> None:
        """Choose another test."""
        if self.shown is not None and self.shown.facts is not None and not self._growth and not self._of_kinds:
            self.ask_through(self._ask_test(self.shown.facts["design"]))

    async def _ask_test(self, design: str) -> None:
        from walkabout.insight.trials.names import FITS  # noqa: PLC0415 - only when it is asked for

        keys = FITS.get(design, ())
        rows = [Row("the one that fits the design"), *(Row(TESTS.get(one, one)) for one in keys)]
        about = "Which test is used is decided before one sees what it says. A second one is a check, not a second try."
        got = await self.app.push_screen_wait(PickScreen("Which test?", rows, about=about))
        if got is not None:
            self._test = keys[got[0] - 1] if got[0] else None
            self.renew()

    def action_working(self) -> None:
        """Show the working, or hide it."""
        self._working = not self._working
        self._show()
        if self._working:
            self.call_after_refresh(self._page.scroll_end, animate=False)

    def action_text(self) -> None:
        """Show words in place of the picture, or the picture again."""
        self._picture = not self._picture
        self._show()

    def action_read(self, step: int) -> None:
        """Scroll by lines."""
        self._page.scroll_relative(y=step, animate=False)

    def action_page(self, step: int) -> None:
        """Scroll by almost a page."""
        self._page.scroll_relative(y=step * max(self._page.size.height - 2, 1), animate=False)

    def action_back(self) -> None:
        """Go back."""
        self.leave()
