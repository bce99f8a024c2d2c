"""The round: one question at a time, the biggest thing on the screen."""

from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from walkabout.checklist.model import COUNTED
from walkabout.growing.units import stored
from walkabout.round.begin import begin
from walkabout.round.course import Step
from walkabout.round.walk import Outcome, Walk
from walkabout.screens.base import Page
from walkabout.screens.walking_shown import Draft, draft_for, keys_for, said_lines, said_words, shown_of, time_line
from walkabout.screens.widgets.choices import NOBODY
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import KeyLine
from walkabout.screens.widgets.number import Number
from walkabout.screens.widgets.question import QuestionView
from walkabout.screens.widgets.stations import Stations

if TYPE_CHECKING:
    from walkabout.screens.app import Walkabout


class WalkingScreen(Page):
    """Walks through a round; every answer is on disk before the next question is shown."""

    CSS_PATH = "walking.tcss"
    HELP = (
        "One question at a time, in walking order. Look first, then press the key of what you see: 1 to 9, or the "
        "space bar when all is as it should be. A number is typed and handed in with enter. If you cannot look, press "
        "n: it is written down as not looked at and comes first next time. Nothing is ever filled in for you."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left,b", "back", "back", tooltip="Go back one question and answer it again"),
        Binding("right", "forward", "forward", tooltip="Go on past a question that has its answer"),
        Binding("n", "not_looked", "not looked", tooltip="Write down that nobody looked; it comes first next time"),
        Binding("x", "does_not_apply", "does not apply", tooltip="The question has no meaning here today"),
        Binding("s", "skip_station", "skip station", tooltip="Write the rest of this station down as not looked at"),
        Binding("w", "leave_what_can_wait", "leave what can wait", tooltip="When late: leave what can wait"),
        Binding("f", "app.flag", "finding", tooltip="Flag something that looks wrong"),
        Binding("p,escape", "pause", "pause", tooltip="Stop here; the round is taken up at this question"),
    ]

    def __init__(self, walk: Walk) -> None:
        super().__init__()
        self.walk = walk
        self._head, self._keys = HeadLine(walk.opened.room.name), KeyLine()
        self._stations, self._view = Stations(), QuestionView()
        self._draft = Draft()
        self._said: Outcome | None = None
        self._remarked = ""

    @property
    def station_key(self) -> str:
        """The station of the question, for a finding flagged from here."""
        return self.walk.step.here.key if self.walk.step else ""

    def compose(self) -> ComposeResult:
        """Stations on the left, the question on the right, the keys below."""
        yield self._head
        yield self._stations
        yield self._view
        yield self._keys

    def on_mount(self) -> None:
        """Show the first question, and the time from then on."""
        self.show_step()
        self.call_after_refresh(self._begun)
        self.set_interval(1.0, self._tell_time)

    def on_screen_resume(self) -> None:
        """Come back from a finding, an alarm or the help: only looking counts as time."""
        self.walk.resume_clock()

    def _begun(self) -> None:
        """Write the plan down, once the first question is on the screen."""
        self.walk.write_plan()

    # showing

    def show_step(self) -> None:
        """Show the question that the walk is at, or its end."""
        step = self.walk.step
        self._draft = draft_for(step)
        if step is None:
            from walkabout.screens.end import EndScreen  # noqa: PLC0415 - only at the end

            said = self._said
            last = None
            if said is not None and said.judgement.meanings and not said.judgement.alarm:
                last = said_words(said, self.app.opened.name_of(said.answer.station))
            self.app.switch_screen(EndScreen(self.walk, last))
            return
        self._draw(step)
        self._stations.show(self.walk.stations())
        self._keys.keys = keys_for(step)
        self._tell_time()
        if step.question.kind == "note":
            from walkabout.screens.widgets.asking import LineScreen  # noqa: PLC0415 - few questions are notes

            self.app.push_screen(LineScreen(step.question.ask, hint=step.question.how, most=160), self._take_note)

    def _draw(self, step: Step, pointed: int = NOBODY) -> None:
        said = said_lines(self.walk, self._said, self._remarked)
        self._view.show(shown_of(self.walk, step, self._draft, said), pointed)

    def _tell_time(self) -> None:
        self._head.right = time_line(self.walk)

    # answering

    def on_key(self, event: events.Key) -> None:
        """Digits answer; what belongs to no answer is left to the keys of the screen."""
        step = self.walk.step
        if step is None:
            return
        character = event.character or ""
        if self._draft.number is not None:
            handled = self._number_key(event.key, character, self._draft.number)
        else:
            handled = self._choice_key(event.key, character, step)
        if handled:
            event.stop()
            event.prevent_default()

    def _choice_key(self, key: str, character: str, step: Step) -> bool:
        if key == "space":
            self.action_healthy()
        elif key in ("up", "down"):
            self._view.point(1 if key == "down" else -1)
        elif key == "enter":
            self.action_hand_in()
        elif character.isdigit() and character.isascii() and 1 <= int(character) <= len(step.question.choices):
            self._pick(int(character) - 1)
        else:
            return False
        return True

    def _number_key(self, key: str, character: str, number: Number) -> bool:
        if key == "enter":
            self.action_hand_in()
            return True
        if character == "y" and self._draft.doubt is not None and self._draft.doubt.perhaps is not None:
            self._take(self._draft.doubt.perhaps)
            return True
        if key in ("backspace", "delete"):
            number.rub_out()
        elif not number.type(character):
            return False
        self._draft.doubt = None
        if (step := self.walk.step) is not None:
            self._draw(step)
        return True

    def on_question_view_picked(self, event: QuestionView.Picked) -> None:
        """Take a click as the key of that row."""
        self._pick(event.index)

    def on_question_view_pressed(self, event: QuestionView.Pressed) -> None:
        """Take a click on a digit as its key."""
        if self._draft.number is not None:
            key = {"⌫": "backspace", "enter": "enter"}.get(event.key, "")
            self._number_key(key, "" if key else event.key, self._draft.number)

    def _take_note(self, text: str | None) -> None:
        """Keep the note; leaving the line leaves the question open."""
        if text is None:
            self.action_pause()
        else:
            self._after(self.walk.note(text) if text.strip() else self.walk.not_looked())

    def _pick(self, index: int) -> None:
        step = self.walk.step
        if step is None:
            return
        if step.question.kind == "signs" and index > 0:
            self._draft.ticked ^= {index}
            self._draw(step, index)
            return
        self._after(self.walk.pick([step.question.choices[index].id]))

    def action_healthy(self) -> None:
        """Answer that it is as it should be."""
        step = self.walk.step
        if step is None or not step.question.choices:
            return
        if self._draft.ticked:
            self.app.say("Signs are ticked: enter hands them in, or untick them first.")
            return
        self._pick(0)

    def action_hand_in(self) -> None:
        """Hand in the number or the ticked signs."""
        step = self.walk.step
        if step is None:
            return
        if step.question.kind in COUNTED:
            self._hand_in_number(step)
        elif self._draft.ticked:
            self._after(self.walk.pick([step.question.choices[index].id for index in sorted(self._draft.ticked)]))
        elif self._view.pointed != NOBODY:
            self._pick(self._view.pointed)

    def _hand_in_number(self, step: Step) -> None:
        reading, typed = step.question.reading, self._draft.number.value if self._draft.number else None
        if reading is None:
            return
        if typed is None:
            self.app.say("Type the number first, or press n if nobody could look.")
            return
        insisted = self._draft.doubt is not None and not self._draft.doubt.impossible
        doubt = None if insisted else self.walk.question_number(typed)
        if doubt is not None:
            self._draft.doubt = doubt
            self._draw(step)
            return
        self._take(stored(typed, reading.unit, self.app.opened.scales))

    def _take(self, value: float) -> None:
        self._after(self.walk.number(value))

    def _after(self, outcome: Outcome) -> None:
        """Go on: at once when all is good, past an alarm when not."""
        self._said, self._remarked = outcome, ""
        if outcome.judgement.alarm:
            from walkabout.screens.alarm import AlarmScreen  # noqa: PLC0415 - rare

            self.app.push_screen(AlarmScreen(outcome, self.walk.walker), lambda _: self.show_step())
            return
        self.show_step()

    # moving

    def action_back(self) -> None:
        """Go back one question."""
        if self.walk.back():
            self._said = None
            self.show_step()

    def action_forward(self) -> None:
        """Go on past an answered question."""
        if self.walk.forward():
            self.show_step()

    def action_not_looked(self) -> None:
        """Write down that nobody looked."""
        if self.walk.step is not None:
            self._after(self.walk.not_looked())

    def action_does_not_apply(self) -> None:
        """Write down that the question does not apply."""
        if (step := self.walk.step) is None:
            return
        if step.question.may_not_apply:
            self._after(self.walk.does_not_apply())
        else:
            self.app.say("This question always applies; n says that nobody looked.")

    def action_skip_station(self) -> None:
        """Leave the rest of this station."""
        if (step := self.walk.step) is not None:
            self.walk.skip_station()
            self._said = None
            self._remarked = f"{step.here.name}: not looked at. It comes first next time."
            self.show_step()

    def action_leave_what_can_wait(self) -> None:
        """Leave what can wait, when the round is late."""
        if not self.walk.late:
            self.app.say("The round is in time: nothing needs to be left.")
            return
        left = self.walk.leave_what_can_wait()
        self._remarked = f"{left} left for next time. What cannot wait stays."
        self.show_step()

    def action_pause(self) -> None:
        """Stop here; the round is taken up at this question."""
        self.walk.write_plan()
        self.app.say("Paused. The round goes on at this question.")
        self.app.go_back()

    def renew(self) -> None:
        """Go past the question if somebody else has answered it."""
        if self.walk.pass_by():
            self.show_step()
        self._stations.show(self.walk.stations())


def start_walk(app: "Walkabout") -> None:
    """Ask who walks, if it is not known, and begin or take up today's round."""

    def go(code: str | None) -> None:
        if code:
            app.walker = code
            app.push_screen(WalkingScreen(begin(app.opened, code)))

    if app.walker:
        go(app.walker)
    else:
        from walkabout.screens.who import WhoScreen  # noqa: PLC0415 - once a day

        app.push_screen(WhoScreen("Who walks the round?"), go)
