"""Writing measurements down: type a number, enter goes on to the next plot; each is on disk before it is shown."""

from collections.abc import Callable
from datetime import date
from functools import partial
from typing import ClassVar

from msgspec import Struct
from textual import events
from textual.binding import Binding, BindingType

from walkabout.jobs.trials import exclude, measure, take_back
from walkabout.records.model_measured import Measurement
from walkabout.round.ratio_trials import cells, too_many
from walkabout.round.trial_typed import Slip, slip, typed
from walkabout.screens.text import plain
from walkabout.screens.trial_typing import MeasuringPage
from walkabout.screens.widgets.measureasking import other_day, place_words, value_words, why_corrected, why_left_out
from walkabout.screens.widgets.measuregrid import MeasureGrid, PadLine
from walkabout.screens.widgets.trialcode import code_of


class Cell(Struct, frozen=True):
    """A cell of the grid, with what is to be written down there."""

    plot: str
    day: date
    kind: str
    value: float
    of: int | None


class TrialGridScreen(MeasuringPage):
    """The grid, and what writes into it."""

    HELP = (
        "Type what you measured; enter or the arrow down writes it down and goes on to the next plot. A plot that is "
        "not measured stays empty: it is never counted as 0. A number far from the others is asked about once. Typing "
        "over a value is a correction: the reason is asked for, and the first value stays on record. x leaves a value "
        "out of the reckoning, with a reason, or counts it again. d adds a day. Where kinds are counted, enter goes "
        "from kind to kind, then to the next plot; of a kind that is not there, type 0."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "next", "next", tooltip="Write it down and go on to the next plot, or to its next kind"),
        Binding("down", "take(1)", "down", tooltip="Write it down and go down"),
        Binding("up", "take(-1)", "up", tooltip="Write it down and go up"),
        Binding("left", "across(-1)", "left", tooltip="Write it down and go to the day before"),
        Binding("right,tab", "across(1)", "right", tooltip="Write it down and go to the day after"),
        Binding("x", "leave_out", "leave out", tooltip="Leave this value out, with a reason, or count it again"),
        Binding("d", "day", "day", tooltip="Measure for another day"),
        Binding("r", "result", "result", tooltip="What the trial shows so far"),
        Binding("escape", "back", "back", tooltip="Take back what is being typed; else go back"),
    ]

    # keys and clicks

    def on_key(self, event: events.Key) -> None:
        """Digits make the number; what ends it acts at once, for a binding waits behind digits typed after it."""
        if self._asking:
            # meant for a question that does not stand there yet, or for nothing
            event.stop()
            return
        ends: dict[str, Callable[[], None]] = {
            "enter": self.action_next, "escape": self.action_back, "tab": partial(self.action_across, 1),
            "down": partial(self.action_take, 1), "up": partial(self.action_take, -1),
            "left": partial(self.action_across, -1), "right": partial(self.action_across, 1),
        }  # fmt: skip
        if event.key in ends:
            event.stop()
            event.prevent_default()
            ends[event.key]()
            return
        key = "⌫" if event.key == "backspace" else event.character or ""
        if key == "y" and self._perhaps is not None:
            event.stop()
            self.action_perhaps()
        elif self.press(key) or self.press_other(event.key, event.character or ""):
            event.stop()

    def on_pad_line_pressed(self, event: PadLine.Pressed) -> None:
        """Take a click on a digit."""
        event.stop()
        if event.key == "enter":
            self.action_next()
        else:
            self.press(event.key)

    def on_measure_grid_clicked(self, event: MeasureGrid.Clicked) -> None:
        """Write down what was typed, then point at the cell that was clicked."""
        event.stop()
        self._take(event.row, event.column)

    # writing down

    def action_next(self) -> None:
        """Write down what was typed, and go on: to the next kind of this plot, else to the next plot."""
        trial = self._trial
        if trial is None:
            return
        many = max(len(trial.kinds), 1)
        last = self._column % many == many - 1
        if not last:
            self._take(self._row, self._column + 1)
        elif self._row < len(trial.plots) - 1:
            self._take(self._row + 1, self._column - many + 1)
        else:
            self._take(self._row, self._column)

    def action_take(self, step: int) -> None:
        """Write down what was typed, and go on in this column."""
        if self._trial is not None:
            self._take(min(max(self._row + step, 0), len(self._trial.plots) - 1), self._column)

    def action_across(self, step: int) -> None:
        """Write down what was typed, and go to another day."""
        self._take(self._row, min(max(self._column + step, 0), len(self._columns) - 1))

    def action_perhaps(self) -> None:
        """Take what may have been meant."""
        if self._perhaps is not None and self._trial is not None:
            self._typed = self._kept = f"{self._perhaps:g}"
            self.action_next()

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
            measure(trial, self._plot, value, of=of, kind=self._kind, day=self._day, by="", now=self.app.opened.clock())
        except ValueError as error:
            self._quiet(str(error), "$watch")
            self._anew = True
            self._show()
            return
        cell = Cell(self._plot, self._day, self._kind, value, of)
        doubt = self._doubt(cell)
        if doubt and self._kept != self._typed:
            self._kept, self._perhaps, self._anew = self._typed, doubt.perhaps, True
            meant = " y takes that." if doubt.perhaps is not None else ""
            self._hint.update(plain(f"{doubt.says}{meant} Enter once more keeps it as typed.", "$watch"))
            self._show()
            return
        if before is not None and (before.value, before.of) == (value, of):
            self._go(row, column)
        elif before is None and self.app.walker:
            if self._write(cell, None, ""):
                self._go(row, column)
        else:
            self.ask_through(self._ask(cell, before, (row, column)))

    def _doubt(self, cell: Cell) -> Slip | None:
        """Return why a typed number is questioned."""
        trial = self._trial
        if trial is None:
            return None
        if trial.kinds:
            says = too_many(trial, self._measured, cell.day, cell.plot, cell.kind, cell.value)
            return Slip(says) if says else None
        return slip(trial, cell.value, cell.of, cell.plot, self._measured, cell.day)

    def _go(self, row: int, column: int) -> None:
        self._row, self._column, self._typed, self._kept, self._perhaps = row, column, "", "", None
        self._anew = False
        one = self._standing
        if one is not None and one.excluded:
            self._hint.update(plain(f"Left out: {one.excluded}", "$muted"))
        self._show()

    async def _ask(self, cell: Cell, before: Measurement | None, then: tuple[int, int]) -> None:
        """Ask for what is missing: a code, and for a correction its reason."""
        reason = ""
        if before is not None:
            got = await why_corrected(self.app, before, cell.value, cell.of)
            if got is None:
                return
            reason = got
        if not await code_of(self.app):
            self._quiet("Nothing was written down: it needs somebody's code.", "$watch")
            return
        if self._write(cell, before, reason):
            self._go(*then)

    def _write(self, cell: Cell, before: Measurement | None, reason: str) -> bool:
        opened = self.app.opened
        trial = next((one for one in opened.records.trials() if one.key == self._key), None)
        if trial is None:
            return False
        try:
            made = measure(
                trial, cell.plot, cell.value, of=cell.of, kind=cell.kind, day=cell.day, by=self.app.walker,
                now=opened.clock(), before=before, reason=reason,
            )  # fmt: skip
        except ValueError as error:
            self._quiet(str(error), "$watch")
            return False
        unit = f" {trial.unit}" if trial.unit else ""
        says = f"{place_words(made)}: {value_words(made)}{unit} is written down."
        every = len(cells(opened.records.measurements(self._key), cell.day)) + (before is None)
        all_done = every >= len(trial.plots) * max(len(trial.kinds), 1)
        self._saved(made, f"{says} All are done: r shows the result." if all_done else says)
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
        by = await code_of(self.app)
        if not by:
            return
        now = self.app.opened.clock()
        try:
            made = take_back(trial, one, by, now) if one.excluded else exclude(trial, one, reason, by, now)
        except ValueError as error:
            self._quiet(str(error), "$watch")
            return
        self._saved(
            made,
            f"{place_words(one)} is {'left out' if made.excluded else 'counted again'}. The value stays on record.",
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
            self._go(0, next(at for at, column in enumerate(self._columns) if column[0] == day))

    def action_result(self) -> None:
        """Go to what it shows."""
        from walkabout.screens.trial_result import TrialResultScreen  # noqa: PLC0415 - it loads the picture

        if self.is_current and not self._open():
            self.app.push_screen(TrialResultScreen(self._key))

    def action_back(self) -> None:
        """Take back what is being typed; else go back."""
        if self._typed:
            self._typed, self._anew = "", False
            self._quiet("What was typed is taken back; nothing was written down.")
            self._show()
        else:
            self.leave()
