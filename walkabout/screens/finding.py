"""Flagging a finding: where, what is seen, how bad, and who saw it."""

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static

from walkabout.records.model import Verdict
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.endings import FOR, look_again_words
from walkabout.round.flagged import flag_finding
from walkabout.round.walkers import ROLES, walkers
from walkabout.screens.base import Ask
from walkabout.screens.text import plain
from walkabout.screens.widgets.advice import AdviceScreen
from walkabout.screens.widgets.choices import Choices, Row
from walkabout.screens.widgets.findingsteps import BAD, STEPS, step_keys, step_line
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.missedkeys import goes_into

SHORTEST, LONGEST = 3, 160
LOW = 22
"""Below so many lines the steps stand without blank lines between them."""


class FindingScreen(Ask[None]):
    """Four short steps under each other; the last answer writes it down."""

    CSS_PATH = "finding.tcss"
    AUTO_FOCUS = ""
    HELP = (
        "Flag something that looks wrong. Say where it is, what is seen in a few words, and how bad it is; the last "
        "answer writes it down. Write what the eye sees, not what may be behind it: 'white spots on old leaves'. When "
        "in doubt how bad, take the graver one: it can be closed again with a reason."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "leave", tooltip="Leave; nothing is written down"),
        Binding("shift+tab,left", "back", "back", tooltip="Go back one step"),
        Binding("enter", "hand_in", "keep", tooltip="Take the answer pointed at, or the text"),
        Binding("u", "another", "another code", tooltip="Somebody else saw it"),
    ]

    def __init__(self, station: str = "", walker: str = "") -> None:
        super().__init__()
        self._written = False
        self._station, self._seen, self._walker = station, "", walker
        self._verdict: Verdict | None = None
        self._open = {"where", "seen", "bad"} | (set() if walker else {"who"})
        self._step = "where"
        self._places: list[tuple[str, str]] = []
        self._people: list[str] = []

    def compose(self) -> ComposeResult:
        """Each step: a line that says it, and what answers it."""
        opened = self.app.opened
        now = opened.clock()
        self._places = [*((one.key, one.name) for one in opened.room.stations), (WHOLE_ROOM, "The room as a whole")]
        people = walkers(opened.room, opened.today())
        self._people = [code for code, _ in people]
        yield HeadLine("Flag a finding", f"{now:%a} {now.day} {now:%b}")
        with VerticalScroll(id="steps", can_focus=False):
            yield Static(classes="step", id="step-where")
            yield Choices([Row(name) for _, name in self._places], id="pick-where")
            yield Static(classes="step", id="step-seen")
            yield Input(
                placeholder="what the eye sees, and on what", max_length=LONGEST, select_on_focus=False, id="seen"
            )
            yield Static(classes="hint", id="hint-seen")
            yield Static(classes="step", id="step-bad")
            yield Choices([Row(says) for _, says, _ in BAD], id="pick-bad")
            yield Static(classes="step", id="step-who")
            yield Choices([*(Row(code, ROLES[role]) for code, role in people), Row("somebody else")], id="pick-who")
            yield Input(placeholder="two or three characters", max_length=3, select_on_focus=False, id="code")
            yield Static(classes="hint", id="hint-who")
        yield KeyLine()

    def on_mount(self) -> None:
        """Begin with where, pointing at the station one comes from."""
        keys = [key for key, _ in self._places]
        if self._station in keys:
            where = self.query_one("#pick-where", Choices)
            where.pointed = keys.index(self._station)
        self._show()

    def on_resize(self, event: events.Resize) -> None:
        """Stand close where the screen is low."""
        self.set_class(event.size.height < LOW, "-low")

    # showing

    def _show(self) -> None:
        """Open the step that is asked now; the others are one line each."""
        with self.app.batch_update():
            for step in STEPS:
                self.query_one(f"#step-{step}", Static).update(self._line_of(step))
            for step in ("where", "bad", "who"):
                self.query_one(f"#pick-{step}").display = step == self._step
            self.query_one("#seen").display = self.query_one("#hint-seen").display = self._step == "seen"
            self.query_one("#code").display = self.query_one("#hint-who").display = False
            self.query_one(KeyLine).keys = self._key_row()
        if self._step == "seen":
            self._hint("seen", self._how_long())
            self.set_focus(self.query_one("#seen", Input))
        else:
            self.set_focus(None)
        self.query_one("#steps", VerticalScroll).scroll_home(animate=False)

    def _line_of(self, step: str) -> Content:
        given = {
            "where": dict(self._places).get(self._station, self._station),
            "seen": self._seen,
            "bad": next((short for verdict, _, short in BAD if verdict == self._verdict), ""),
            "who": self._walker,
        }[step]
        return step_line(step, given, here=step == self._step, answered=step not in self._open)

    def _key_row(self) -> tuple[Key, ...]:
        rows = {"where": len(self._places), "bad": len(BAD), "who": len(self._people) + 1}.get(self._step, 0)
        return step_keys(self._step, rows=rows, has_station=bool(self._station), has_code=bool(self._walker))

    def _hint(self, step: str, says: str, *, wrong: bool = False) -> None:
        hint = self.query_one(f"#hint-{step}", Static)
        hint.display = True
        hint.update(plain(says, "$watch" if wrong else "$muted"))

    def _how_long(self) -> str:
        return f"A few words. {len(self.query_one('#seen', Input).value)} of {LONGEST} characters."

    # answering

    def on_key(self, event: events.Key) -> None:
        """Digits choose, but in a text they are text; the arrows point, and lead back out of the text."""
        line = self._open_line()
        if line is not None:
            if event.key == "up" and line is self.focused:
                self.action_back()
            elif not goes_into(line, event):
                return
        elif event.key in ("up", "down"):
            self._point(1 if event.key == "down" else -1)
        elif (event.character or "").isdigit() and (event.character or "").isascii():
            self._choose(int(event.character or "0") - 1)
        else:
            return
        event.stop()
        event.prevent_default()

    def _open_line(self) -> Input | None:
        """Return the line in which one types now."""
        if self._step == "seen":
            return self.query_one("#seen", Input)
        if self._step != "who":
            return None
        code = self.query_one("#code", Input)
        return code if code.display else None

    def _point(self, step: int) -> None:
        choices = self.query_one(f"#pick-{self._step}", Choices)
        choices.point(step)
        scroll = self.query_one("#steps", VerticalScroll)
        top = choices.virtual_region.y + choices.pointed
        if not scroll.scroll_offset.y <= top < scroll.scroll_offset.y + scroll.size.height:
            scroll.scroll_to(y=max(top - scroll.size.height // 2, 0), animate=False)

    def on_choices_picked(self, event: Choices.Picked) -> None:
        """Take a click as the key of that row."""
        event.stop()
        self._choose(event.index)

    def on_click(self, event: events.Click) -> None:
        """A click on a step goes back to it."""
        for step in STEPS:
            line = self.query_one(f"#step-{step}", Static)
            if step != self._step and step not in self._open and event.widget is line:
                self._go_to(step)
                return

    def on_input_changed(self, event: Input.Changed) -> None:
        """Say how much room is left."""
        event.stop()
        if event.input.id == "seen" and self._step == "seen":
            self._hint("seen", self._how_long())

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take what was typed."""
        event.stop()
        self.action_hand_in()

    def _choose(self, index: int) -> None:
        if self._step == "where" and 0 <= index < len(self._places):
            self._station = self._places[index][0]
            self._answered()
        elif self._step == "bad" and 0 <= index < len(BAD):
            self._verdict = BAD[index][0]
            self._answered()
        elif self._step == "who" and 0 <= index < len(self._people):
            self._walker = self._people[index]
            self._answered()
        elif self._step == "who" and index == len(self._people):
            line = self.query_one("#code", Input)
            line.display = True
            self.set_focus(line)

    def action_hand_in(self) -> None:
        """Take the answer pointed at, or the text."""
        code = self.query_one("#code", Input)
        if self._step == "seen":
            self._take_text()
        elif self._step == "who" and code.display:
            self._take_code(code.value.strip().upper())
        elif (pointed := self.query_one(f"#pick-{self._step}", Choices).pointed) >= 0:
            self._choose(pointed)
        elif self._step == "where" and self._station:
            self._answered()

    def _take_text(self) -> None:
        seen = self.query_one("#seen", Input).value.strip()
        if len(seen) < SHORTEST:
            self._hint("seen", "Write in a few words what is seen.", wrong=True)
            return
        self._seen = seen
        self._answered()

    def _take_code(self, code: str) -> None:
        if 2 <= len(code) <= 3 and code.isalnum() and code.isascii():
            self._walker = code
            self._answered()
        else:
            self._hint("who", "A code is two or three letters or digits, never a name.", wrong=True)

    def _answered(self) -> None:
        """Go to the first step that is still open; after the last one, write it down."""
        self._open.discard(self._step)
        left = [step for step in STEPS if step in self._open]
        if left:
            self._step = left[0]
            self._show()
        else:
            self._write_down()

    def _write_down(self) -> None:
        if self._verdict is None or self._written:
            return
        self._written = True
        app = self.app
        flagged = flag_finding(app.opened, self._station, self._seen, self._verdict, self._walker)
        again = look_again_words(flagged.finding, app.opened.today())
        job = f" There is a job for {FOR[flagged.job.who]}." if flagged.job else ""
        self.dismiss()
        if flagged.finding.verdict in ("now", "stop"):
            app.push_screen(AdviceScreen(flagged, again))
            return
        app.say(f"Written down.{job} {again}")
        if flagged.unsaved:
            app.say(f"Not on disk yet: {flagged.unsaved} It is kept here meanwhile.", grave=True, seconds=15)

    # moving

    def _go_to(self, step: str) -> None:
        self._open.add(step)
        self._step = step
        self._show()

    def action_back(self) -> None:
        """Go back one step."""
        at = STEPS.index(self._step)
        if at:
            self._go_to(STEPS[at - 1])

    def action_another(self) -> None:
        """Somebody else saw it."""
        if self._step != "who":
            self._walker = ""
            self._go_to("who")

    def action_leave(self) -> None:
        """Leave; nothing is written down, and that is said if something was typed."""
        if self._seen or self.query_one("#seen", Input).value.strip():
            self.app.say("Left. Nothing was written down.")
        self.dismiss()
