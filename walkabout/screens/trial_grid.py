"""Writing measurements down: type a number, enter goes on to the next plot; each is on disk before it is shown."""

from datetime import date
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.widgets import Static

from walkabout.jobs.trials import exclude, measure, take_back
from walkabout.records.model import Measurement, Trial
from walkabout.round.trial_typed import slip, typed
from walkabout.round.trials import days_of, on
from walkabout.screens.planting import walker_of
from walkabout.screens.text import plain
from walkabout.screens.widgets.asking import AskingPage
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.measureasking import other_day, value_words, why_corrected, why_left_out
from walkabout.screens.widgets.measuregrid import GridRow, MeasureGrid, PadLine

LONGEST = 9


class TrialGridScreen(AskingPage):
    """Rows are plots, columns are days. What is not measured stays empty."""

    CSS_PATH = "trial_grid.tcss"
    HELP = (
        "Type what you measured; enter or the arrow down writes it down and goes on to the next plot. A plot that is "
        "not measured stays empty: it is never counted as 0. A number far from the others is asked about once. Typing "
        "over a value is a correction: the reason is asked for, and the first value stays on record. x leaves a value "
        "out of the reckoning, with a reason, or counts it again. d adds a day."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take(1)", "next", tooltip="Write it down and go on to the next plot"),
        Binding("down", "take(1)", "down", tooltip="Write it down and go down"),
        Binding("up", "take(-1)", "up", tooltip="Write it down and go up"),
        Binding("left", "across(-1)", "left", tooltip="Write it down and go to the day before"),
        Binding("right,tab", "across(1)", "right", tooltip="Write it down and go to the day after"),
        Binding("x", "leave_out", "leave out", tooltip="Leave this value out, with a reason, or count it again"),
        Binding("d", "day", "day", tooltip="Measure for another day"),
        Binding("r", "result", "result", tooltip="What the trial shows so far"),
        Binding("escape", "back", "back", tooltip="Take back what is being typed; else go back"),
    ]

    def __init__(self, key: str) -> None:
        """`key`: of the trial."""
        super().__init__()
        self._key = key
        self._trial: Trial | None = None
        self._measured: list[Measurement] = []
        self._days: list[date] = []
        self._more: set[date] = set()
        self._row, self._column = 0, -1
        self._typed = ""
        self._kept = ""
        """What was typed and questioned: the same once more is kept."""
        self._perhaps: float | None = None
        # made at once: a key may come before the screen is put together
        self._head, self._grid, self._hint = HeadLine(), MeasureGrid(id="grid"), Static(id="hint")
        self._what, self._keys = Static(id="what"), KeyLine()

    def compose(self) -> ComposeResult:
        """The grid, the digits, what stands at the pointer, a hint, the keys."""
        yield self._head
        with Container(id="measuring"):
            yield self._what
            yield self._grid
            yield self._hint
            yield PadLine(id="pad")
        yield self._keys

    def on_mount(self) -> None:
        """Begin with today, at the first plot that is not measured."""
        self._more.add(self.app.opened.today())
        self.renew()
        if self._trial is not None and self._days:
            self._column = self._days.index(self.app.opened.today())
            found = on(self._measured, self._days[self._column])
            empty = (at for at, one in enumerate(self._trial.plots) if one.name not in found)
            self._row = next(empty, 0)
        self._show()

    def on_screen_resume(self) -> None:
        """Show it afresh when it comes back."""
        self.renew()

    def renew(self) -> None:
        """Take in what is on record now."""
        if not self.is_mounted:
            return
        opened, now = self.app.opened, self.app.opened.clock()
        self._trial = next((one for one in opened.records.trials() if one.key == self._key), None)
        self._measured = opened.records.measurements(self._key)
        pointed = self._days[self._column] if 0 <= self._column < len(self._days) else None
        self._days = sorted({*days_of(self._measured), *self._more})
        self._column = self._days.index(pointed) if pointed in self._days else len(self._days) - 1
        self._head.left = f"Measuring · {self._trial.question if self._trial else ''}"
        self._head.right = f"{now:%a} {now.day} {now:%b}{f' · {self.app.walker}' if self.app.walker else ''}"
        self._show()

    def _show(self) -> None:
        trial = self._trial
        if trial is None:
            self._what.update(plain("This trial is not on record."))
            return
        by_day = [on(self._measured, day) for day in self._days]
        rows = [
            GridRow(
                one.name,
                "" if trial.blind else one.treatment,
                tuple(value_words(found.get(one.name)) for found in by_day),
                tuple(bool(found[one.name].excluded) if one.name in found else False for found in by_day),
            )
            for one in trial.plots
        ]
        self._grid.show([f"{day.day} {day:%b}" for day in self._days], rows, (self._row, self._column), self._typed)
        done = len(by_day[self._column])
        unit = (
            f" in {trial.unit}" if trial.unit else " out of how many, such as 7/10" if trial.counts == "share" else ""
        )
        what = f"{trial.response}{unit}. {done} of {len(trial.plots)} plots. {trial.how}"
        self._what.update(plain(what.strip(), "$muted"))
        meant = (Key("y", "take that", "screen.perhaps"),) if self._perhaps is not None else ()
        out = self._standing is not None and bool(self._standing.excluded)
        self._keys.keys = (
            *meant, Key("enter", "next", "screen.take(1)"), Key("←→", "day", "screen.across(-1)"),
            Key("x", "count again" if out else "leave out", "screen.leave_out"),
            Key("esc", "take back" if self._typed else "back", "screen.back"),
            Key("r", "result", "screen.result"), Key("d", "other day", "screen.day"), Key("?", "help", "app.help"),
        )  # fmt: skip

    @property
    def _plot(self) -> str:
        return self._trial.plots[self._row].name if self._trial else ""

    @property
    def _day(self) -> date:
        return self._days[self._column]

    @property
    def _standing(self) -> Measurement | None:
        """What stands in the cell pointed at."""
        return on(self._measured, self._day).get(self._plot) if self._days else None

    # typing

    def on_key(self, event: events.Key) -> None:
        """Digits make the number."""
        key = "⌫" if event.key == "backspace" else event.character or ""
        if key == "y" and self._perhaps is not None:
            event.stop()
            self.action_perhaps()
        elif self._press(key):
            event.stop()

    def on_pad_line_pressed(self, event: PadLine.Pressed) -> None:
        """Take a click on a digit."""
        event.stop()
        if event.key == "enter":
            self.action_take(1)
        else:
            self._press(event.key)

    def on_measure_grid_clicked(self, event: MeasureGrid.Clicked) -> None:
        """Write down what was typed, then point at the cell that was clicked."""
        event.stop()
        self._take(event.row, event.column)

    def _press(self, key: str) -> bool:
        share = self._trial is not None and self._trial.counts == "share"
        if key == "⌫":
            self._typed = self._typed[:-1]
        elif len(key) == 1 and (key in "0123456789.,-" or (share and key in "/yn")):
            self._typed = (self._typed + key.replace(",", "."))[:LONGEST]
        else:
            return False
        self._quiet()
        self._show()
        return True

    def _quiet(self, says: str = "", style: str = "$muted") -> None:
        self._kept, self._perhaps = "", None
        self._hint.update(plain(says, style))

    # writing down

    def action_take(self, step: int) -> None:
        """Write down what was typed, and go on in this column."""
        if self._trial is not None:
            self._take(min(max(self._row + step, 0), len(self._trial.plots) - 1), self._column)

    def action_across(self, step: int) -> None:
        """Write down what was typed, and go to another day."""
        self._take(self._row, min(max(self._column + step, 0), len(self._days) - 1))

    def action_perhaps(self) -> None:
        """Take what may have been meant."""
        if self._perhaps is not None and self._trial is not None:
            self._typed = self._kept = f"{self._perhaps:g}"
            self.action_take(1)

    def _take(self, row: int, column: int) -> None:
        """Write down what was typed; only then go to (row, column)."""
        trial, before = self._trial, self._standing
        if trial is None:
            return
        if not self._typed:
            self._go(row, column)
            return
        try:
            value, of = typed(trial, self._typed, before or self._last())
            measure(trial, self._plot, value, of=of, day=self._day, by="", now=self.app.opened.clock())
        except ValueError as error:
            self._quiet(str(error), "$watch")
            self._show()
            return
        doubt = slip(trial, value, of, self._plot, self._measured, self._day)
        if doubt and self._kept != self._typed:
            self._kept, self._perhaps = self._typed, doubt.perhaps
            meant = " y takes that." if doubt.perhaps is not None else ""
            self._hint.update(plain(f"{doubt.says}{meant} Enter once more keeps it as typed.", "$watch"))
            self._show()
            return
        if before is not None and (before.value, before.of) == (value, of):
            self._go(row, column)
        elif before is None and self.app.walker:
            if self._write(self._plot, self._day, value, of, None, ""):
                self._go(row, column)
        else:
            self.ask_through(self._ask(self._plot, self._day, value, of, before, (row, column)))

    def _go(self, row: int, column: int) -> None:
        self._row, self._column, self._typed, self._kept, self._perhaps = row, column, "", "", None
        one = self._standing
        if one is not None and one.excluded:
            self._hint.update(plain(f"Left out: {one.excluded}", "$muted"))
        self._show()

    async def _ask(
        self, plot: str, day: date, value: float, of: int | None, before: Measurement | None, then: tuple[int, int]
    ) -> None:
        """Ask for what is missing: a code, and for a correction its reason."""
        reason = ""
        if before is not None:
            got = await why_corrected(self.app, before, value, of)
            if got is None:
                return
            reason = got
        if not await walker_of(self.app):
            self._quiet("Nothing was written down: it needs somebody's code.", "$watch")
            return
        if self._write(plot, day, value, of, before, reason):
            self._go(*then)

    def _write(
        self, plot: str, day: date, value: float, of: int | None, before: Measurement | None, reason: str
    ) -> bool:
        opened = self.app.opened
        trial = next((one for one in opened.records.trials() if one.key == self._key), None)
        if trial is None:
            return False
        try:
            made = measure(
                trial, plot, value, of=of, day=day, by=self.app.walker, now=opened.clock(), before=before, reason=reason
            )
        except ValueError as error:
            self._quiet(str(error), "$watch")
            return False
        self._saved(made, f"{plot}: {value_words(made)}{f' {trial.unit}' if trial.unit else ''} is written down.")
        return True

    def _saved(self, made: Measurement, says: str) -> None:
        unsaved = self.app.opened.save(made)
        self._measured = self.app.opened.records.measurements(self._key)
        self._quiet(f"Not on disk yet: {unsaved}" if unsaved else says, "$watch" if unsaved else "$muted")

    def _last(self) -> Measurement | None:
        """Return what was measured last, for the total of a share: of this plot, else of any."""
        every = sorted(self._measured, key=lambda one: one.at.timestamp())
        same = [one for one in every if one.plot == self._plot]
        return same[-1] if same else every[-1] if every else None

    # leaving out, another day

    def action_leave_out(self) -> None:
        """Leave the value pointed at out of the reckoning, or count it again."""
        one = self._standing
        if self._open():
            return
        if one is None:
            self._quiet("There is no value here to leave out.", "$watch")
            return
        self.ask_through(self._ask_out(one))

    async def _ask_out(self, one: Measurement) -> None:
        trial, reason = self._trial, ""
        if trial is None:
            return
        if not one.excluded:
            got = await why_left_out(self.app, one)
            if got is None:
                return
            reason = got
        by = await walker_of(self.app)
        if not by:
            return
        now = self.app.opened.clock()
        try:
            made = take_back(trial, one, by, now) if one.excluded else exclude(trial, one, reason, by, now)
        except ValueError as error:
            self._quiet(str(error), "$watch")
            return
        self._saved(
            made, f"{one.plot} is {'left out' if made.excluded else 'counted again'}. The value stays on record."
        )
        self._show()

    def action_day(self) -> None:
        """Measure for another day."""
        if not self._open():
            self.ask_through(self._ask_day())

    def _open(self) -> bool:
        """Say whether something is typed that is not written down yet, and tell so."""
        if self._typed:
            self._quiet(f"Enter writes {self._typed} down first; esc takes it back.", "$watch")
        return bool(self._typed)

    async def _ask_day(self) -> None:
        day = await other_day(self.app)
        if day is not None:
            self._more.add(day)
            self.renew()
            self._go(0, self._days.index(day))

    def action_result(self) -> None:
        """Go to what it shows."""
        from walkabout.screens.trial_result import TrialResultScreen  # noqa: PLC0415 - it loads the picture

        if self.is_current and not self._open():
            self.app.push_screen(TrialResultScreen(self._key))

    def action_back(self) -> None:
        """Take back what is being typed; else go back."""
        if self._typed:
            self._typed = ""
            self._quiet("What was typed is taken back; nothing was written down.")
            self._show()
        else:
            self.leave()
