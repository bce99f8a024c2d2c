"""The round: one question at a time, the biggest thing on the screen."""

from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.content import Content

from walkabout.checklist.model import COUNTED
from walkabout.growing.units import stored
from walkabout.round.begin import begin
from walkabout.round.course import Step
from walkabout.round.slips import Doubt
from walkabout.round.trend import running_towards, strip
from walkabout.round.walk import Outcome, Walk
from walkabout.round.words import answer_words, clock_words, day_words, good_words, unit_words
from walkabout.screens.base import Page
from walkabout.screens.text import GLYPHS, STYLES, plain
from walkabout.screens.widgets.choices import NOBODY, Row
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.number import Number
from walkabout.screens.widgets.question import QuestionView, Shown
from walkabout.screens.widgets.stations import Stations

if TYPE_CHECKING:
    from walkabout.screens.app import Walkabout

BACK = Key("←", "back", "screen.back")
NOT_LOOKED = Key("n", "not looked", "screen.not_looked")
REST = (
    Key("f", "finding", "app.flag"),
    Key("l", "lookup", "app.lookup"),
    Key("s", "skip station", "screen.skip_station"),
    Key("x", "does not apply", "screen.does_not_apply"),
    Key("p", "pause", "screen.pause"),
    Key("?", "help", "app.help"),
)


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
        self._ticked: set[int] = set()
        self._number: Number | None = None
        self._doubt: Doubt | None = None
        self._said: Outcome | None = None
        self._remarked = ""

    @property
    def station_key(self) -> str:
        """The station of the question, for a finding flagged from here."""
        return self.walk.step.here.key if self.walk.step else ""

    def compose(self) -> ComposeResult:
        """Stations on the left, the question on the right, the keys below."""
        yield self._head
        yield Horizontal(self._stations, self._view, id="walk")
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
        self._ticked.clear()
        self._doubt = None
        self._number = Number() if step is not None and step.question.kind in COUNTED else None
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
        self._keys.keys = self._key_row(step)
        self._tell_time()
        if step.question.kind == "note":
            from walkabout.screens.widgets.asking import LineScreen  # noqa: PLC0415 - few questions are notes

            self.app.push_screen(LineScreen(step.question.ask, hint=step.question.how, most=160), self._take_note)

    def _draw(self, step: Step, pointed: int = NOBODY) -> None:
        """Draw the question as it stands: what is ticked or typed, and what is doubted."""
        opened = self.app.opened
        reading = step.question.reading
        towards = running_towards(step.question, step.here.key, opened.history, opened.today())
        days = strip(step.question, step.here.key, opened.history, opened.today(), scales=opened.scales)
        shown = Shown(
            where=_where(step),
            ask=step.question.ask,
            how=step.question.how,
            rows=tuple(self._rows(step)),
            number=self._number,
            unit=unit_words(reading.unit, scales=opened.scales) if reading else "",
            remark=self._remark(step),
            doubt=self._doubt_words(),
            why=towards or step.why,
            strip=plain(f"last 14 days  {days.bars()}", "$muted") if days else None,
            said=tuple(self._said_lines()),
        )
        self._view.show(shown, pointed)

    def _rows(self, step: Step) -> list[Row]:
        last, given, today = self.walk.before(), self.walk.given(), self.app.opened.today()
        rows = []
        for index, choice in enumerate(step.question.choices):
            remark = ""
            if given is not None and choice.id in given.choices:
                remark = "answered just now"
            elif last is not None and choice.id in last.choices:
                remark = day_words(last.at.date(), today)
            mark = ("[x] " if index in self._ticked else "[ ] ") if step.question.kind == "signs" and index else ""
            rows.append(Row(choice.says, remark, mark))
        return rows

    def _remark(self, step: Step) -> str:
        """Say the last reading and the good range beside a number."""
        opened, reading = self.app.opened, step.question.reading
        if reading is None:
            return ""
        remarks = []
        if (last := self.walk.before()) is not None:
            was = answer_words(step.question, last, scales=opened.scales)
            doubt = ", doubtful" if opened.doubt_of(last) else ""
            remarks.append(f"{day_words(last.at.date(), opened.today())} {was}{doubt}")
        remarks.append(good_words(reading, self.walk.wanted(), scales=opened.scales))
        return " · ".join(one for one in remarks if one)

    def _doubt_words(self) -> str:
        if self._doubt is None:
            return ""
        take = " Press y to take that." if self._doubt.perhaps is not None else ""
        keep = "" if self._doubt.impossible else " Enter once more keeps it as typed."
        return f"{self._doubt.says}{take}{keep}"

    def _said_lines(self) -> list[Content]:
        """Say what the answer before this one meant, what could not be saved, and that it is late."""
        rows = []
        if self._said is not None and self._said.judgement.verdict in ("watch", "today"):
            rows.append(said_words(self._said, self.app.opened.name_of(self._said.answer.station)))
        if self._remarked:
            rows.append(plain(self._remarked, "$muted"))
        if self.walk.unsaved:
            rows.append(
                plain(f"Not on disk yet: {self.walk.unsaved} Your answers are kept here meanwhile.", "$act bold")
            )
        if self.walk.late:
            waiting = len(self.walk.can_wait())
            what = "1 question" if waiting == 1 else f"{waiting} questions"
            rows.append(plain(f"Late: {what} can wait; w leaves them for next time.", "$watch"))
        return rows

    def _key_row(self, step: Step) -> tuple[Key, ...]:
        kind, count = step.question.kind, len(step.question.choices)
        if kind in COUNTED:
            first: tuple[Key, ...] = (Key("enter", "hand in", "screen.hand_in"),)
        elif kind == "signs":
            first = (
                Key("space", "as it should be", "screen.healthy"),
                Key(f"2-{count}", "tick", ""),
                Key("enter", "these", "screen.hand_in"),
            )
        else:
            first = (Key("space", "as it should be", "screen.healthy"), Key(f"1-{count}", "answer", ""))
        return (*first, NOT_LOOKED, BACK, *REST)

    def _tell_time(self) -> None:
        opened = self.app.opened
        now = opened.clock()
        time = f"{clock_words(self.walk.elapsed())} of {clock_words(opened.room.minutes * 60)}"
        self._head.right = f"{now:%a} {now.day} {now:%b} · {self.walk.walker} · {time}"

    # answering

    def on_key(self, event: events.Key) -> None:
        """Digits answer; what belongs to no answer is left to the keys of the screen."""
        step = self.walk.step
        if step is None:
            return
        character = event.character or ""
        if self._number is not None:
            handled = self._number_key(event.key, character, self._number)
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
        if character == "y" and self._doubt is not None and self._doubt.perhaps is not None:
            self._take(self._doubt.perhaps)
            return True
        if key in ("backspace", "delete"):
            number.rub_out()
        elif not number.type(character):
            return False
        self._doubt = None
        if (step := self.walk.step) is not None:
            self._draw(step)
        return True

    def on_question_view_picked(self, event: QuestionView.Picked) -> None:
        """Take a click as the key of that row."""
        self._pick(event.index)

    def on_question_view_pressed(self, event: QuestionView.Pressed) -> None:
        """Take a click on a digit as its key."""
        if self._number is not None:
            key = {"⌫": "backspace", "enter": "enter"}.get(event.key, "")
            self._number_key(key, "" if key else event.key, self._number)

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
            self._ticked ^= {index}
            self._draw(step, index)
            return
        self._after(self.walk.pick([step.question.choices[index].id]))

    def action_healthy(self) -> None:
        """Answer that it is as it should be."""
        step = self.walk.step
        if step is None or not step.question.choices:
            return
        if self._ticked:
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
        elif self._ticked:
            self._after(self.walk.pick([step.question.choices[index].id for index in sorted(self._ticked)]))
        elif self._view.pointed != NOBODY:
            self._pick(self._view.pointed)

    def _hand_in_number(self, step: Step) -> None:
        reading, typed = step.question.reading, self._number.value if self._number else None
        if reading is None:
            return
        if typed is None:
            self.app.say("Type the number first, or press n if nobody could look.")
            return
        insisted = self._doubt is not None and not self._doubt.impossible
        doubt = None if insisted else self.walk.question_number(typed)
        if doubt is not None:
            self._doubt = doubt
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


def _where(step: Step) -> Content:
    return Content("").join(
        [plain(step.here.name.upper(), "$accent-text bold"), plain(f"   {step.number} of {step.of}", "$muted")]
    )


def said_words(outcome: Outcome, station: str) -> Content:
    """Say what an answer meant, in one or two lines."""
    verdict = outcome.judgement.verdict
    meaning = outcome.judgement.meanings[0]
    act = f" {meaning.do}" if meaning.do and verdict != "watch" else ""
    head = plain(f"{GLYPHS[verdict]} {station}, {verdict}: ", STYLES[verdict])
    caution = plain(f" {meaning.caution}" if act and meaning.caution else "", "$watch")
    return Content("").join([head, plain(f"{outcome.judgement.why}{act}"), caution])
