"""What was answered at a station, newest first; an answer can be put right here."""

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.widgets import Static

from walkabout.checklist.model import COUNTED, NOT_LOOKED, Question
from walkabout.growing.units import shown, stored
from walkabout.records.model import Answer
from walkabout.round.correct import Right, asked, correction, question_number
from walkabout.round.walk import Outcome
from walkabout.screens.app import Walkabout
from walkabout.screens.planting import walker_of
from walkabout.screens.text import plain
from walkabout.screens.widgets.answerlines import answer_line, answer_page, asked_words, given_words
from walkabout.screens.widgets.asking import AskingPage, Checked, LineScreen, NumberScreen, PickScreen, Step, through
from walkabout.screens.widgets.atstation import standing_at
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.number import number_in
from walkabout.screens.widgets.pointlist import PointList

MOST = 40
"""How many answers are listed."""


class StationScreen(AskingPage):
    """A list of answers with a pointer, and all that is known of the one pointed at."""

    CSS_PATH = "station.tcss"
    HELP = (
        "What was answered at this station, the newest first. Point at an answer to see what it meant, how the last "
        "fourteen days went, and what it was before somebody put it right. Press c to put an answer right: the old "
        "one stays on record, with who changed it and why. A doubtful reading came from a meter that failed its check."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "point(-1)", "up", tooltip="Point at a newer answer"),
        Binding("down", "point(1)", "down", tooltip="Point at an older answer"),
        Binding("pageup", "point(-10)", "page up", tooltip="Ten answers up"),
        Binding("pagedown", "point(10)", "page down", tooltip="Ten answers down"),
        Binding("c,enter", "correct", "put right", tooltip="Put the answer right that is pointed at"),
        Binding("w", "write_down", "write down", tooltip="Picked, lost, thinned, came up, flowers, treated"),
        Binding("f", "app.flag", "finding", tooltip="Flag something that looks wrong at this station"),
        Binding("escape,q,left", "back", "back", tooltip="Go back to the room"),
    ]

    def __init__(self, station_key: str) -> None:
        super().__init__()
        self.station_key = station_key
        self._answers: list[Answer] = []
        # made at once: a key may come before the screen is put together
        self._head, self._rows = HeadLine(), PointList(id="rows")
        self._page = VerticalScroll(id="answer", can_focus=False)
        self._title, self._full = Static(id="title"), Static(id="full")

    def compose(self) -> ComposeResult:
        """The list, the answer in full, the keys."""
        yield self._head
        with Container(id="answers"):
            yield self._title
            yield self._rows
            with self._page:
                yield self._full
        yield KeyLine((
            Key("c", "put right", "screen.correct"), Key("↑↓", "older", "screen.point(1)"),
            Key("w", "write down", "screen.write_down"), Key("f", "finding", "app.flag"),
            Key("esc", "back", "screen.back"), Key("?", "help", "app.help"),
        ))  # fmt: skip

    def on_mount(self) -> None:
        """Point at the newest answer."""
        self._show(0)

    def on_screen_resume(self) -> None:
        """Fill it afresh when it comes back."""
        self.renew()

    def on_resize(self, event: events.Resize) -> None:
        """Fit the columns to the width."""
        self.call_after_refresh(self.renew)

    def renew(self) -> None:
        """Show what is true now."""
        if self.is_mounted:
            self._show(self._rows.pointed)

    def _show(self, pointed: int) -> None:
        opened, now = self.app.opened, self.app.opened.clock()
        self._head.left = opened.room.name
        self._head.right = f"{now:%A} {now.day} {now:%B}{f' · {self.app.walker}' if self.app.walker else ''}"
        self._answers = opened.history.at_station(self.station_key)[::-1][:MOST]
        of = (
            f"the last {len(self._answers)} answers, newest first" if self._answers else "nothing was answered here yet"
        )
        name = plain(opened.name_of(self.station_key).upper(), "$accent-text bold")
        self._title.update(name.append(plain(f"   {of}", "$muted")))
        width = (self._rows.size.width or self.size.width - 2) - 2
        self._rows.show([answer_line(opened, one, width) for one in self._answers], max(pointed, 0))
        self._show_answer()

    def _pointed(self) -> Answer | None:
        at = self._rows.pointed
        return self._answers[at] if 0 <= at < len(self._answers) else None

    def _show_answer(self) -> None:
        answer = self._pointed()
        self._full.update(answer_page(self.app.opened, answer) if answer else "")

    def on_point_list_pointed(self, event: PointList.Pointed) -> None:
        """Show the answer that is pointed at now."""
        event.stop()
        self._show_answer()
        self._page.scroll_home(animate=False)

    def on_point_list_picked(self, event: PointList.Picked) -> None:
        """Put right the answer that was clicked once more."""
        event.stop()
        self.action_correct()

    def action_point(self, step: int) -> None:
        """Move the pointer."""
        self._rows.point(step)

    def action_write_down(self) -> None:
        """Write down what has happened to the plants here."""
        if standing_at(self.app.opened, self.station_key):
            from walkabout.screens.planting_stages import write_down  # noqa: PLC0415 - loaded when it is first used

            self.ask_through(write_down(self.app, self.station_key))
        else:
            self.app.say("Nothing grows here to write about.")

    def action_back(self) -> None:
        """Go back to the room."""
        self.leave()

    def action_correct(self) -> None:
        """Put the answer right that is pointed at."""
        if (answer := self._pointed()) is None:
            self.app.say("There is no answer to put right.")
            return
        try:
            question, _ = asked(self.app.opened, answer)
        except ValueError as error:
            self.app.say(str(error))
            return
        self.ask_through(_Correcting(self.app, answer, question).run())


class _Correcting:
    """An answer that is being put right: the right answer, then the reason."""

    def __init__(self, app: Walkabout, old: Answer, question: Question) -> None:
        self.app = app
        self.old = old
        self.question = question
        self.right = Right()
        opened = app.opened
        self.about = (
            f"{opened.name_of(old.station)}: {asked_words(opened, old)} Now it says: {given_words(opened, old)}."
        )

    async def run(self) -> None:
        """Ask for the right answer and the reason."""
        kind = self.question.kind
        ask: Step = self._number if kind in COUNTED else self._note if kind == "note" else self._pick
        await through([ask, self._reason])

    async def _pick(self) -> bool:
        ticks = self.question.kind == "signs"
        rows = [Row(choice.says) for choice in self.question.choices]
        if not ticks:
            rows.append(Row("nobody looked"))
        asking = PickScreen("What should it say?", rows, about=self.about, ticks=ticks)
        got = await self.app.push_screen_wait(asking)
        if got is None:
            return False
        if got == (len(self.question.choices),):
            self.right = Right(state=NOT_LOOKED)
        else:
            self.right = Right(choices=tuple(self.question.choices[index].id for index in got))
        return True

    async def _number(self) -> bool:
        opened, reading = self.app.opened, self.question.reading
        if reading is None:
            return False
        unit = reading.unit

        def check(text: str) -> Checked:
            typed = number_in(text)
            if typed is None:
                raise ValueError("Type the number first.")
            doubt = question_number(opened, self.old, typed)
            value = stored(typed, unit, opened.scales)
            return Checked(value, doubt.says, doubt.perhaps, doubt.impossible) if doubt else Checked(value)

        asking = NumberScreen("What should it say?", check, about=self.about, unit=shown(0, unit, opened.scales)[1])
        got = await self.app.push_screen_wait(asking)
        if got is not None:
            self.right = Right(value=got)
        return got is not None

    async def _note(self) -> bool:
        asking = LineScreen("What should it say?", about=self.about, text=self.old.note, most=300)
        got = await self.app.push_screen_wait(asking)
        if got is not None:
            self.right = Right(note=got)
        return got is not None

    async def _reason(self) -> bool:
        def check(text: str) -> None:
            if not text:
                raise ValueError("Say in a few words why it is put right.")

        asking = LineScreen(
            "Why is it put right?", check, about=self.about, hint="A slip of the keys, a second look, another unit.",
            done="put it right",
        )  # fmt: skip
        got = await self.app.push_screen_wait(asking)
        if got is None:
            return False
        if by := await walker_of(self.app):
            await self._save(got, by)
        return True

    async def _save(self, reason: str, by: str) -> None:
        opened = self.app.opened
        try:
            made = correction(opened, self.old, self.right, by, reason)
        except ValueError as error:
            self.app.say(str(error), grave=True)
            return
        unsaved = opened.save(*made.records)
        jobs = tuple(job for job in made.jobs if job.closed is None and job.made == opened.jobs[job.key].made)
        if made.judgement.alarm and made.newest:
            from walkabout.screens.alarm import AlarmScreen  # noqa: PLC0415 - rare

            outcome = Outcome(made.answer, made.judgement, jobs, unsaved)
            await self.app.push_screen_wait(AlarmScreen(outcome, by))
        says = f"Put right: {given_words(opened, made.answer)}. The old answer stays on record."
        self.app.say(
            f"Not on disk yet: {unsaved}" if unsaved else says, grave=bool(unsaved), seconds=20 if unsaved else 3
        )
        if isinstance(self.app.screen, StationScreen):
            self.app.screen.renew()
