"""The round: one question at a time, the biggest thing on the screen."""

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, Static

from walkabout.checklist.check import COUNTED
from walkabout.growing.units import shown, stored
from walkabout.round.slips import Doubt
from walkabout.round.trend import running_towards, strip
from walkabout.round.walk import Outcome, Step, Walk, begin
from walkabout.round.words import answer_words, clock_words, day_words
from walkabout.screens.app import Walkabout
from walkabout.screens.text import GLYPHS, STYLES, plain
from walkabout.screens.widgets.choices import Choices, Row
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.number import NumberLine, number_in
from walkabout.screens.widgets.stations import Stations

BACK = Key("←", "back", "screen.back")
NOT_LOOKED = Key("n", "not looked", "screen.not_looked")
REST = (
    Key("f", "finding", "app.flag"),
    Key("s", "skip station", "screen.skip_station"),
    Key("x", "does not apply", "screen.does_not_apply"),
    Key("p", "pause", "screen.pause"),
    Key("?", "all keys", "app.help"),
)


class WalkingScreen(Screen[None]):
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
        self._ticked: set[int] = set()
        self._doubt: Doubt | None = None
        self._said: Outcome | None = None
        self._unsaved = ""

    @property
    def app(self) -> Walkabout:  # type: ignore[override]
        """The program this screen belongs to."""
        return super().app  # type: ignore[return-value]

    @property
    def station_key(self) -> str:
        """The station of the question, for a finding flagged from here."""
        return self.walk.step.here.key if self.walk.step else ""

    def compose(self) -> ComposeResult:
        """Stations on the left, the question on the right, the keys below."""
        yield HeadLine(self.walk.opened.room.name)
        with Horizontal(id="walk"):
            yield Stations()
            with VerticalScroll(id="question", can_focus=False):
                yield Static(id="where")
                yield Static(id="ask")
                yield Static(id="how")
                yield Choices()
                yield NumberLine()
                yield Input(placeholder="type a note, or leave it empty", id="note")
                yield Static(id="doubt")
                yield Static(id="why")
                yield Static(id="said")
        yield KeyLine()

    def on_mount(self) -> None:
        """Show the first question, and the time from then on."""
        self._note = self.query_one("#note", Input)
        self._texts = {
            name: self.query_one(f"#{name}", Static) for name in ("where", "ask", "how", "doubt", "why", "said")
        }
        self._choices, self._number = self.query_one(Choices), self.query_one(NumberLine)
        self._keys, self._head, self._stations = (
            self.query_one(KeyLine),
            self.query_one(HeadLine),
            self.query_one(Stations),
        )
        self.show_step()
        self.set_interval(1.0, self._tell_time)

    def on_screen_resume(self) -> None:
        """Come back from a finding, an alarm or the help: only looking counts as time."""
        self.walk.resume_clock()

    # showing

    def show_step(self) -> None:
        """Show the question that the walk is at, or its end."""
        step = self.walk.step
        if step is None:
            from walkabout.screens.end import EndScreen  # noqa: PLC0415 - only at the end

            self.app.switch_screen(EndScreen(self.walk))
            return
        self._ticked.clear()
        self._doubt = None
        kind = step.question.kind
        with self.app.batch_update():
            self._texts["where"].update(_where(step))
            self._texts["ask"].update(plain(step.question.ask, "bold"))
            self._texts["how"].update(plain(step.question.how, "$muted"))
            self._texts["how"].display = bool(step.question.how)
            self._choices.display = bool(step.question.choices)
            self._number.display = kind in COUNTED
            self._note.display = kind == "note"
            if step.question.choices:
                self._choices.show(self._rows(step))
            elif kind in COUNTED:
                self._ask_number(step)
            else:
                self._note.value = ""
            self._show_doubt()
            self._texts["why"].update(self._why(step))
            self._show_said()
            self._stations.show(self.walk.stations())
            self._keys.keys = self._key_row(step)
            self._tell_time()
        if kind == "note":
            self._note.focus()
        elif self.focused is not None:
            self.set_focus(None)

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

    def _ask_number(self, step: Step) -> None:
        reading = step.question.reading
        if reading is None:
            return
        opened = self.app.opened
        self._number.text = ""
        self._number.unit = shown(0, reading.unit, opened.us)[1]
        remarks = []
        if (last := self.walk.before()) is not None:
            remarks.append(
                f"{day_words(last.at.date(), opened.today())} {answer_words(step.question, last, us=opened.us)}"
            )
        good = self.walk.wanted()
        low, high = (good.low, good.high) if good else reading.good or (None, None)
        if low is not None and high is not None and (low, high) != reading.possible:
            ends = [f"{shown(end, reading.unit, opened.us)[0]:.{reading.decimals}f}" for end in (low, high)]
            if high >= reading.possible[1]:
                remarks.append(f"good from {ends[0]}")
            elif low <= reading.possible[0]:
                remarks.append(f"good up to {ends[1]}")
            else:
                remarks.append(f"good {ends[0]} to {ends[1]}")
        self._number.remark = " · ".join(remarks)

    def _why(self, step: Step) -> Content:
        opened = self.app.opened
        towards = running_towards(step.question, step.here.key, opened.history, opened.today())
        rows = [plain(towards or step.why, "$muted")]
        days = strip(step.question, step.here.key, opened.history, opened.today(), us=opened.us)
        if days is not None:
            rows.append(Content("").join([plain("last 14 days  ", "$muted"), plain(days.bars(), "$muted")]))
        return Content("\n\n").join(rows)

    def _show_doubt(self) -> None:
        text = self._texts["doubt"]
        text.display = self._doubt is not None
        if self._doubt is not None:
            keys = " Press y to take that." if self._doubt.perhaps is not None else ""
            keys += "" if self._doubt.impossible else " Enter once more keeps it as typed."
            text.update(plain(self._doubt.says + keys, "$watch"))

    def _show_said(self) -> None:
        """Say what the answer before this one meant, and what could not be saved, and that it is late."""
        rows = []
        if self._said is not None and self._said.judgement.verdict in ("watch", "today"):
            rows.append(_said(self._said, self.app.opened.name_of(self._said.answer.station)))
        if self._unsaved:
            rows.append(plain(f"Not on disk yet: {self._unsaved} Your answers are kept here meanwhile.", "$act bold"))
        if self.walk.late:
            waiting = len(self.walk.can_wait())
            rows.append(
                plain(
                    f"Late: {waiting} question{'s' if waiting != 1 else ''} can wait; w leaves them for next time.",
                    "$watch",
                )
            )
        self._texts["said"].display = bool(rows)
        self._texts["said"].update(Content("\n").join(rows))

    def _key_row(self, step: Step) -> tuple[Key, ...]:
        kind, count = step.question.kind, len(step.question.choices)
        if kind == "note":
            return (
                Key("enter", "keep", "screen.keep_note"),
                Key("esc", "pause", "screen.pause"),
                Key("F1", "help", "app.help"),
            )
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
        """Digits answer, in every kind of question but a note."""
        step = self.walk.step
        if step is None or self._note.has_focus:
            return
        character = event.character or ""
        if step.question.kind in COUNTED:
            handled = self._number_key(event.key, character)
        else:
            handled = self._choice_key(event.key, character, step)
        if handled:
            event.stop()
            event.prevent_default()

    def _choice_key(self, key: str, character: str, step: Step) -> bool:
        if key == "space":
            self.action_healthy()
        elif key in ("up", "down"):
            self._choices.point(1 if key == "down" else -1)
        elif key == "enter":
            self.action_hand_in()
        elif character.isdigit() and character.isascii() and 1 <= int(character) <= len(step.question.choices):
            self._pick(int(character) - 1)
        else:
            return False
        return True

    def _number_key(self, key: str, character: str) -> bool:
        if key == "enter":
            self.action_hand_in()
        elif key == "backspace":
            self._number.rub_out()
            self._forget_doubt()
        elif character == "y" and self._doubt is not None and self._doubt.perhaps is not None:
            self._take(self._doubt.perhaps)
        elif character and self._number.type(character):
            self._forget_doubt()
        else:
            return False
        return True

    def _forget_doubt(self) -> None:
        if self._doubt is not None:
            self._doubt = None
            self._show_doubt()

    def on_choices_picked(self, event: Choices.Picked) -> None:
        """Take a click as the key of that row."""
        self._pick(event.index)

    def on_number_line_entered(self, event: NumberLine.Entered) -> None:
        """Take a click on enter as the key."""
        event.stop()
        self.action_hand_in()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Keep the note."""
        event.stop()
        self._after(self.walk.note(event.value))

    def _pick(self, index: int) -> None:
        step = self.walk.step
        if step is None:
            return
        if step.question.kind == "signs" and index > 0:
            self._ticked ^= {index}
            self._choices.show(self._rows(step), index)
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
        elif self._choices.pointed >= 0:
            self._pick(self._choices.pointed)

    def action_keep_note(self) -> None:
        """Keep the note that was typed."""
        self._after(self.walk.note(self._note.value))

    def _hand_in_number(self, step: Step) -> None:
        reading, typed = step.question.reading, number_in(self._number.text)
        if reading is None:
            return
        if typed is None:
            self.app.say("Type the number first, or press n if nobody could look.")
            return
        insisted = self._doubt is not None and not self._doubt.impossible
        doubt = None if insisted else self.walk.question_number(typed)
        if doubt is not None:
            self._doubt = doubt
            self._show_doubt()
            return
        self._take(stored(typed, reading.unit, self.app.opened.us))

    def _take(self, value: float) -> None:
        self._after(self.walk.number(value))

    def _after(self, outcome: Outcome) -> None:
        """Go on: at once when all is good, past an alarm when not."""
        self._said = outcome
        self._unsaved = outcome.unsaved
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
            left = self.walk.skip_station()
            self._said, self._unsaved = None, left[-1].unsaved if left else ""
            self.app.say(f"{step.here.name}: not looked at. It comes first next time.")
            self.show_step()

    def action_leave_what_can_wait(self) -> None:
        """Leave what can wait, when the round is late."""
        if not self.walk.late:
            self.app.say("The round is in time: nothing needs to be left.")
            return
        left = self.walk.leave_what_can_wait()
        self.app.say(f"{left} left for next time. What cannot wait stays.")
        self.show_step()

    def action_pause(self) -> None:
        """Stop here; the round is taken up at this question."""
        self.app.say("Paused. The round goes on at this question.")
        self.dismiss()

    def renew(self) -> None:
        """Somebody else has answered: go past it."""
        self._stations.show(self.walk.stations())


def start_walk(app: Walkabout) -> None:
    """Ask who walks, if it is not known, and begin or take up today's round."""

    def go(code: str | None) -> None:
        if code:
            app.walker = code
            walk = begin(app.opened, code)
            app.push_screen(WalkingScreen(walk), lambda _: _renew(app))

    if app.walker:
        go(app.walker)
    else:
        from walkabout.screens.who import WhoScreen  # noqa: PLC0415 - once a day

        app.push_screen(WhoScreen("Who walks the round?"), go)


def _renew(app: Walkabout) -> None:
    if hasattr(app.screen, "renew"):
        app.screen.renew()


def _where(step: Step) -> Content:
    return Content("").join(
        [plain(step.here.name.upper(), "$accent-text bold"), plain(f"   {step.number} of {step.of}", "$muted")]
    )


def _said(outcome: Outcome, station: str) -> Content:
    """Say what an answer meant, in one or two lines."""
    verdict = outcome.judgement.verdict
    meaning = outcome.judgement.meanings[0]
    act = f" {meaning.do}" if meaning.do and verdict != "watch" else ""
    head = plain(f"{GLYPHS[verdict]} {station}, {verdict}: ", STYLES[verdict])
    return Content("").join([head, plain(f"{outcome.judgement.why}{act}")])
