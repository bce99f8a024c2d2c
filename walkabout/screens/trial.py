"""One trial: how it was set up, whether it is fair, which plot got what, and what happened to it."""

import asyncio
import random
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from typing import ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.content import Content

from walkabout.jobs.trials import close, draw_anew, is_blind, open_names
from walkabout.records.model_measured import Measurement, Trial
from walkabout.round.ratio_trials import plan_says
from walkabout.round.trial_plan import drawn, power_says
from walkabout.round.trials import unfair_says
from walkabout.screens.text import plain
from walkabout.screens.widgets.asking import LineScreen, PickScreen
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.keyline import Key
from walkabout.screens.widgets.reading import ReadingPage
from walkabout.screens.widgets.trialcode import adult_code, code_of, keep, open_grid
from walkabout.screens.widgets.trialwords import page, progress

LAST_SEED = 9999


class TrialScreen(ReadingPage):
    """Shows the trial as a page to read; what changes it is written down at once."""

    HELP = (
        "How the trial was set up: question, control, what is measured, the plots and what each got, drawn at random. "
        "The program looks at the room and says what would make it unfair. m writes measurements down, r shows what "
        "came out. d draws the plots anew, as long as nothing is measured. o opens the names behind the codes, x "
        "closes the trial: both are for an adult. Everything stays on record."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("m", "measure", "measure", tooltip="Write measurements down"),
        Binding("r", "result", "result", tooltip="What the trial shows so far"),
        Binding("d", "draw", "draw anew", tooltip="Draw the plots from another number, as long as nothing is measured"),
        Binding("o", "names", "open names", tooltip="Open the names behind the codes (an adult)"),
        Binding("x", "close", "close", tooltip="Close the trial, with what came out (an adult)"),
    ]

    def __init__(self, key: str) -> None:
        """`key`: of the trial."""
        super().__init__()
        self._key = key
        self._power: tuple[str, ...] = ("Reckoning …",)

    @property
    def trial(self) -> Trial | None:
        """The trial as it is on record now."""
        return next((one for one in self.app.opened.records.trials() if one.key == self._key), None)

    @property
    def measured(self) -> list[Measurement]:
        """What is measured in it."""
        return self.app.opened.records.measurements(self._key)

    def on_mount(self) -> None:
        """Reckon beside the screen what the plots can find."""
        super().on_mount()
        self._reckon()

    @work
    async def _reckon(self) -> None:
        if (trial := self.trial) and trial.kinds:
            self._power = tuple(await asyncio.to_thread(plan_says, trial))
            self.renew()
        elif trial:
            each = len(trial.plots) // len(trial.treatments)
            says, _ = await asyncio.to_thread(
                power_says, trial.counts, len(trial.treatments), each, trial.worth, trial.spread
            )
            self._power = tuple(says)
            self.renew()

    def headline(self) -> str:
        """The room and where one is."""
        return f"Trial · {self.app.opened.room.name}"

    def rows(self, width: int) -> Sequence[Content]:
        """The page."""
        trial = self.trial
        if trial is None:
            return [plain("This trial is not on record.")]
        return page(trial, self.measured, unfair_says(self.app.opened, trial), self._power, width)

    def keys(self) -> Iterable[Key]:
        """What can be done with it now."""
        trial = self.trial
        found = [Key("r", "result", "screen.result")]
        if trial and trial.closed is None:
            found.insert(0, Key("m", "measure", "screen.measure"))
            if trial.seed and not self.measured:
                found.append(Key("d", "draw anew", "screen.draw"))
            if is_blind(trial):
                found.append(Key("o", "open names", "screen.names"))
            found.append(Key("x", "close", "screen.close"))
        return found

    def action_measure(self) -> None:
        """Go to the measurements."""
        trial = self.trial
        if trial is not None and trial.closed is not None:
            self.app.hint("This trial is closed: nothing is measured any more. r shows its result.")
        elif trial is not None:
            self.ask_through(open_grid(self.app, self._key))

    def action_result(self) -> None:
        """Go to what it shows."""
        from walkabout.screens.trial_result import TrialResultScreen  # noqa: PLC0415 - it loads the picture

        if self.is_current and not self._asking:
            self.app.push_screen(TrialResultScreen(self._key))

    def action_draw(self) -> None:
        """Draw the plots anew."""
        self.ask_through(self._draw())

    async def _draw(self) -> None:
        trial = self.trial
        if trial is None:
            return
        if not trial.seed or self.measured or trial.closed:
            self.app.hint("Plots keep their treatment now: something is measured, or nothing was drawn.")
            return
        rows = [Row("no, leave it"), Row("yes, draw anew")]
        ask = PickScreen("Draw the plots from another number?", rows, about=trial.question)
        if await self.app.push_screen_wait(ask) == (1,):
            seed = random.randint(1, LAST_SEED)
            plots = drawn(trial.plots, trial.treatments, seed)
            by = await code_of(self.app)
            self._change(by, lambda one, now: draw_anew(one, plots, seed, self.measured, by, now))

    def action_names(self) -> None:
        """Open the names behind the codes."""
        self.ask_through(self._names())

    async def _names(self) -> None:
        trial = self.trial
        if trial is None or not is_blind(trial):
            self.app.hint("The names of this trial are open.")
            return
        if not (by := await adult_code(self.app, "An adult opens the names. Whose code is it?")):
            return
        rows = [Row("no, leave them hidden"), Row("yes, open the names")]
        about = f"{trial.question}\n{progress(trial, self.measured)}. Whoever still measures should not know them."
        if await self.app.push_screen_wait(PickScreen("Open the names?", rows, about=about)) == (1,):
            self._change(by, lambda one, now: open_names(one, by, now))

    def action_close(self) -> None:
        """Close the trial."""
        self.ask_through(self._close())

    async def _close(self) -> None:
        trial = self.trial
        if trial is None or trial.closed is not None:
            self.app.hint("This trial is closed.")
            return
        if not (by := await adult_code(self.app, "An adult closes a trial. Whose code is it?")):
            return
        got = await self.app.push_screen_wait(LineScreen(
            "What came out, or why is it given up?", _reason, about=trial.question, done="close it", most=160,
            hint="A sentence for those who read it later. Nothing is deleted.",
        ))  # fmt: skip
        if got:
            self._change(by, lambda one, now: close(one, got, by, now))

    def _change(self, by: str, change: Callable[[Trial, datetime], Trial]) -> None:
        """Write a change of the trial down under the code `by`, from what is on record by then."""
        trial = self.trial
        if not by or trial is None:
            self.app.say("Nothing was written down: it needs somebody's code.", grave=True)
            return
        try:
            later = change(trial, self.app.opened.clock())
        except ValueError as error:
            self.app.say(f"Nothing was written down. {error}", grave=True)
            return
        keep(self.app, later)


def _reason(typed: str) -> None:
    if len(typed) < 3:
        raise ValueError("A few words, so that others understand it later.")
