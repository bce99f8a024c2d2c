"""Trials: which are running, how far each is, and setting up a new one."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.jobs.trials import in_order
from walkabout.records.model_measured import Trial
from walkabout.screens.app import Walkabout
from walkabout.screens.text import fitted, lines, plain
from walkabout.screens.widgets.asking import AskingPage
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.pointlist import PointList
from walkabout.screens.widgets.reading import wrapped
from walkabout.screens.widgets.trialwords import capital, plots_say, progress, versus

NONE_YET = (
    "There is no trial yet. A trial answers one question by comparing: some plants get something new, others (the "
    "control) get what they get now, and chance decides which. Or it counts kinds of seedlings against a ratio such as "
    "3:1. n sets one up, one step at a time."
)

CLOSED = "This trial is closed: nothing is measured any more. r shows its result."
MEASURE_NEXT = "Next: print or copy the list of its plots, mark them, then m writes down what is measured."
COUNT_NEXT = "Next: wait until the kinds can be told apart, then m writes the counts down."


def open_trials(app: Walkabout) -> None:
    """Open the trials, unless they are open already."""
    if not any(isinstance(one, TrialsScreen) for one in app.screen_stack):
        app.push_screen(TrialsScreen())


class TrialsScreen(AskingPage):
    """A list with a pointer; below it, what is known of the trial pointed at."""

    CSS_PATH = "trials.tcss"
    HELP = (
        "The comparisons that are running, the newest first, and below them those that are closed. Enter opens one: "
        "how it was set up, and whether it is fair. m goes to its measurements, r to what it shows. n sets up a new "
        "one, one question at a time; nothing is written down before the last step."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "point(-1)", "up", tooltip="Point at the one above"),
        Binding("down", "point(1)", "down", tooltip="Point at the one below"),
        Binding("enter", "open", "open", tooltip="Open the trial: how it was set up, and whether it is fair"),
        Binding("m", "measure", "measure", tooltip="Write measurements down"),
        Binding("r", "result", "result", tooltip="What the trial shows so far"),
        Binding("n", "new", "new", tooltip="Set up a new trial"),
        Binding("escape,q,left", "back", "back", tooltip="Go back"),
    ]

    def __init__(self) -> None:
        super().__init__()
        # made at once: a key may come before the screen is put together
        self._head, self._list, self._full = HeadLine(), PointList(id="list"), Static(id="full")
        self._keys = KeyLine()
        self._trials: list[Trial] = []

    def compose(self) -> ComposeResult:
        """The list, the trial pointed at, the keys."""
        yield self._head
        with Container(id="trials"):
            yield self._list
            with VerticalScroll(id="page", can_focus=False):
                yield self._full
        yield self._keys

    def on_mount(self) -> None:
        """Show them."""
        self.renew()

    def on_screen_resume(self) -> None:
        """Show them afresh when the screen comes back."""
        self.renew()

    def on_resize(self) -> None:
        """Fit them to the width."""
        self.call_after_refresh(self.renew)

    def renew(self) -> None:
        """Show what is true now."""
        if not self.is_mounted:
            return
        opened = self.app.opened
        self._head.left = f"Trials · {opened.room.name}"
        self._head.right = self.dated
        before = self.pointed
        self._trials = in_order(opened.records.trials())
        keys = [one.key for one in self._trials]
        at = keys.index(before.key) if before and before.key in keys else 0
        width = (self._list.size.width or self.size.width - 4) - 2
        self._list.styles.height = min(max(len(keys), 1), max(self.size.height // 2 - 2, 3))
        self._list.display = bool(keys)
        self._list.show([self._row(one, width) for one in self._trials], at)
        self._show_page()

    def _show_keys(self) -> None:
        one = self.pointed
        measure = (Key("m", "measure", "screen.measure"),) if one is not None and one.closed is None else ()
        some = (Key("enter", "open", "screen.open"), *measure, Key("r", "result", "screen.result")) if one else ()
        self._keys.keys = (
            *some, Key("n", "new trial", "screen.new"), Key("esc", "back", "screen.back"), Key("?", "help", "app.help"),
        )  # fmt: skip

    @property
    def free(self) -> bool:
        """Whether the screen is open and asks nothing: a key meant for a question may come before it does."""
        return self.is_current and not self._asking

    @property
    def pointed(self) -> Trial | None:
        """The trial pointed at."""
        at = max(self._list.pointed, 0)
        return self._trials[at] if at < len(self._trials) else None

    def _row(self, one: Trial, width: int) -> Content:
        made = f"{one.made.day} {one.made:%b %Y}"
        state = "closed" if one.closed else "open"
        room = max(width - 22, 16)
        return Content("").join(
            [plain(fitted(one.question, room)), plain(f"  {made:<12}", "$muted"), plain(fitted(state, 7), "$muted")]
        )

    def _show_page(self) -> None:
        self._show_keys()
        width = min(self._full.size.width or self.size.width - 6, 90)
        one = self.pointed
        if one is None:
            self._full.update(lines(wrapped(NONE_YET, width)))
            return
        measured = self.app.opened.records.measurements(one.key)
        rows, in_unit = wrapped(one.question, width, "bold"), f" in {one.unit}" if one.unit else ""
        what = "Counted: how many of each kind." if one.kinds else f"Measured: {one.response}{in_unit}."
        rows += wrapped(f"{capital(versus(one))}. {what}", width)
        rows += wrapped(f"{len(one.plots)} {plots_say(one)}; {progress(one, measured)}.", width, "$muted")
        rows += wrapped(one.reason, width) if one.reason else []
        if not measured and one.closed is None:
            rows += wrapped(COUNT_NEXT if one.kinds else MEASURE_NEXT, width, "$accent-text")
        self._full.update(lines(rows))

    def on_point_list_pointed(self, event: PointList.Pointed) -> None:
        """Show the one pointed at."""
        event.stop()
        self._show_page()

    def on_point_list_picked(self, event: PointList.Picked) -> None:
        """Open the one that was clicked once more."""
        event.stop()
        self.action_open()

    def action_point(self, step: int) -> None:
        """Move the pointer."""
        self._list.point(step)

    def action_open(self) -> None:
        """Open the trial pointed at."""
        from walkabout.screens.trial import TrialScreen  # noqa: PLC0415 - loaded when it is first opened

        if (one := self.pointed) and self.free:
            self.app.push_screen(TrialScreen(one.key))

    def action_measure(self) -> None:
        """Write measurements of the trial pointed at down."""
        from walkabout.screens.widgets.trialcode import open_grid  # noqa: PLC0415 - as above

        one = self.pointed
        if one is not None and one.closed is not None:
            self.app.hint(CLOSED)
        elif one is not None:
            self.ask_through(open_grid(self.app, one.key))

    def action_result(self) -> None:
        """Show what the trial pointed at shows."""
        from walkabout.screens.trial_result import TrialResultScreen  # noqa: PLC0415 - it loads the picture

        if (one := self.pointed) and self.free:
            self.app.push_screen(TrialResultScreen(one.key))

    def action_new(self) -> None:
        """Set up a new trial."""
        self.ask_through(self._new())

    async def _new(self) -> None:
        from walkabout.screens.widgets.trialasking import set_up_trial  # noqa: PLC0415 - only for a new one

        before = {one.key for one in self._trials}
        await set_up_trial(self.app)
        self.renew()
        fresh = next((at for at, one in enumerate(self._trials) if one.key not in before), None)
        if fresh is not None:
            self._list.pointed = fresh

    def action_back(self) -> None:
        """Go back."""
        self.leave()
