"""The grid of a trial's measurements: what stands in it, where the pointer is, and what is being typed."""

from datetime import date

from textual.app import ComposeResult
from textual.containers import Container
from textual.widgets import Static

from walkabout.records.model_measured import Measurement, Trial
from walkabout.round.ratio_trials import cells
from walkabout.round.trials import days_of
from walkabout.screens.text import plain
from walkabout.screens.widgets.asking import AskingPage
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.measureasking import value_words
from walkabout.screens.widgets.measuregrid import GridRow, MeasureGrid, PadLine
from walkabout.screens.widgets.trialwords import capital

LONGEST = 16
"""Characters of a number."""

CLOSED = "This trial is closed: nothing is measured any more."


class MeasuringPage(AskingPage):
    """Rows are plots, columns are days, or kinds on days. What is not measured stays empty."""

    CSS_PATH = "trial_grid.tcss"

    def __init__(self, key: str) -> None:
        """`key`: of the trial."""
        super().__init__()
        self._key = key
        self._trial: Trial | None = None
        self._measured: list[Measurement] = []
        self._columns: list[tuple[date, str]] = []
        """Day and kind of each column; '' where no kinds are counted."""
        self._more: set[date] = set()
        self._row, self._column = 0, -1
        self._typed = ""
        self._kept = ""
        """What was typed and questioned: the same once more is kept."""
        self._perhaps: float | None = None
        self._anew = False
        """What is typed was questioned or refused: the next character begins another number."""
        # made at once: a key may come before the screen is put together
        self._head, self._grid, self._hint = HeadLine(), MeasureGrid(id="grid"), Static(id="hint")
        self._what, self._keys, self._pad = Static(id="what"), KeyLine(), PadLine(id="pad")

    def compose(self) -> ComposeResult:
        """The grid, the digits, what stands at the pointer, a hint, the keys."""
        yield self._head
        with Container(id="measuring"):
            yield self._what
            yield self._grid
            yield self._hint
            yield self._pad
        yield self._keys

    def on_mount(self) -> None:
        """Offer today."""
        self._more.add(self.app.opened.today())
        self.renew()

    def on_screen_resume(self) -> None:
        """Show it afresh when it comes back."""
        self.renew()

    def renew(self) -> None:
        """Take in what is on record now."""
        if not self.is_mounted:
            return
        opened = self.app.opened
        self._trial = next((one for one in opened.records.trials() if one.key == self._key), None)
        self._measured = opened.records.measurements(self._key)
        pointed = self._columns[self._column] if 0 <= self._column < len(self._columns) else None
        kinds = [one.name for one in self._trial.kinds] if self._trial and self._trial.kinds else [""]
        self._columns = [(day, kind) for day in sorted({*days_of(self._measured), *self._more}) for kind in kinds]
        if pointed is None and self._trial is not None:
            self._row, self._column = self._first_empty(self._trial, opened.today())
        elif pointed is not None:
            self._column = self._columns.index(pointed) if pointed in self._columns else len(self._columns) - len(kinds)
        self._head.left = f"Measuring · {self._trial.question if self._trial else ''}"
        self._head.right = self.dated
        self._show()

    def _first_empty(self, trial: Trial, day: date) -> tuple[int, int]:
        """Return the first cell of a day in which nothing stands; its first cell where none is empty."""
        at = [place for place, column in enumerate(self._columns) if column[0] == day]
        found = cells(self._measured, day)
        empty = (
            (row, place)
            for row, one in enumerate(trial.plots)
            for place in at
            if (one.name, self._columns[place][1]) not in found
        )
        return next(empty, (0, at[0]))

    def _show(self) -> None:
        trial = self._trial
        if trial is None:
            self._what.update(plain("This trial is not on record."))
            return
        by_day = {day: cells(self._measured, day) for day, _ in self._columns}
        rows = []
        for one in trial.plots:
            found = [by_day[day].get((one.name, kind)) for day, kind in self._columns]
            values = tuple(value_words(each) for each in found)
            out = tuple(each is not None and bool(each.excluded) for each in found)
            rows.append(GridRow(one.name, "" if trial.blind else one.treatment, values, out))
        days = [f"{day.day} {day:%b}" for day, _ in self._columns]
        kinds = [kind for _, kind in self._columns] if trial.kinds else []
        over = [says if at % len(trial.kinds) == 0 else "" for at, says in enumerate(days)] if kinds else ()
        self._grid.show(kinds or days, rows, (self._row, self._column), self._typed, over)
        self._what.update(plain(self._what_says(trial, len(by_day[self._day])), "$muted"))
        self._pad.display = trial.closed is None
        if trial.closed is not None:
            self._typed = ""
            self._hint.update(plain(CLOSED, "$watch"))
            self._keys.keys = (
                Key("←→", "kind" if trial.kinds else "day", "screen.across(-1)"), Key("r", "result", "screen.result"),
                Key("esc", "back", "screen.back"), Key("?", "help", "app.help"),
            )  # fmt: skip
            return
        meant = (Key("y", "take that", "screen.perhaps"),) if self._perhaps is not None else ()
        here, side = self._standing, "kind" if trial.kinds else "day"
        self._keys.keys = (
            *meant, Key("enter", "next", "screen.next"), Key("←→", side, "screen.across(-1)"),
            Key("x", "count again" if here is not None and here.excluded else "leave out", "screen.leave_out"),
            Key("esc", "take back" if self._typed else "back", "screen.back"),
            Key("r", "result", "screen.result"), Key("d", "other day", "screen.day"), Key("?", "help", "app.help"),
        )  # fmt: skip

    def _what_says(self, trial: Trial, done: int) -> str:
        """Say what is measured, in what unit, and how many are done on the day pointed at."""
        if trial.kinds:
            kinds = " : ".join(one.name for one in trial.kinds)
            says = f"How many of each kind: {kinds}. {done} of {len(trial.plots) * len(trial.kinds)} counts."
            return f"{says} {trial.how}".strip()
        unit = f" in {trial.unit}" if trial.unit else ""
        unit = " out of how many, such as 7/10" if trial.counts == "share" else unit
        return f"{capital(trial.response)}{unit}. {done} of {len(trial.plots)} plots. {trial.how}".strip()

    @property
    def _plot(self) -> str:
        return self._trial.plots[self._row].name if self._trial else ""

    @property
    def _day(self) -> date:
        return self._columns[self._column][0]

    @property
    def _kind(self) -> str:
        return self._columns[self._column][1]

    @property
    def _standing(self) -> Measurement | None:
        """What stands in the cell pointed at."""
        return cells(self._measured, self._day).get((self._plot, self._kind)) if self._columns else None

    # typing

    def press(self, key: str) -> bool:
        """Add a character to what is typed, or take the last away (⌫); say whether it can stand there."""
        share = self._trial is not None and self._trial.counts == "share"
        if key == "⌫":
            self._anew, self._typed = False, self._typed[:-1]
            self._quiet()
            self._show()
        elif len(key) == 1 and (key in "0123456789.,-" or (share and key in "/yn")):
            self._type(key.replace(",", "."))
        else:
            return False
        return True

    def press_other(self, name: str, character: str) -> bool:
        """Take what stands in no number into what is typed, so that it is seen and refused whole, not left out.

        `name` and `character` of the key. What is a key of this screen, or of the program, stays one. Say whether it
        was taken.
        """
        wanted = {*self._bindings.key_to_bindings, *self.app._bindings.key_to_bindings}
        if len(character) != 1 or not character.isprintable() or character.isspace() or wanted & {name, character}:
            return False
        self._type(character)
        return True

    def _type(self, character: str) -> None:
        if self._anew:
            self._anew, self._typed = False, ""
        if len(self._typed) < LONGEST:
            self._typed += character
            self._quiet()
        else:
            self._quiet("No number is that long: esc takes it back.", "$watch")
        self._show()

    def _quiet(self, says: str = "", style: str = "$muted") -> None:
        self._kept, self._perhaps = "", None
        self._hint.update(plain(says, style))
