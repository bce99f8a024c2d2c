"""Jobs and findings: what is open, what is known of it, and the keys that end it."""

from collections.abc import Callable
from datetime import date, datetime
from typing import ClassVar, TypeVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.widgets import Static

from walkabout.jobs.life import NotAllowed
from walkabout.records.model import Finding, Job
from walkabout.room.model import may
from walkabout.round.endings import (
    FOR,
    Ending,
    close,
    finish,
    give_up,
    gone,
    put_off,
    still_there,
)
from walkabout.round.opened import OpenRoom
from walkabout.screens.base import Page
from walkabout.screens.text import plain
from walkabout.screens.widgets.causeasking import ask_cause
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.jobasking import ask_code, ask_day, ask_look, ask_reason
from walkabout.screens.widgets.jobkeys import key_row, why_not
from walkabout.screens.widgets.jobwords import closed_entries, finding_in_full, job_in_full, open_entries
from walkabout.screens.widgets.keyline import KeyLine
from walkabout.screens.widgets.pointed import Pointed

One = TypeVar("One", Job, Finding)

WIDE = 116
"""From so many columns on, what is pointed at stands beside the lists."""


class JobsScreen(Page):
    """Two lists and a pointer. Every change is on disk when it is said."""

    CSS_PATH = "jobs.tcss"
    AUTO_FOCUS = ""
    HELP = (
        "What is to be done, the most urgent first, and what was seen and is not clear yet. Point with the arrows or "
        "the mouse; what is known stands below or beside. A job is done, put off, or closed with a reason. After a job "
        "that a finding stands behind, the finding is looked at again. Nothing is deleted: h shows what was closed. An "
        "adult says with n what a finding turned out to be, open or closed: the lookup learns from it."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "point(-1)", "up", tooltip="Point at the one above"),
        Binding("down", "point(1)", "down", tooltip="Point at the one below"),
        Binding("enter", "next_step", "next step", tooltip="The next step: measure, done, or look again"),
        Binding("d", "done", "done", tooltip="The job is done"),
        Binding("m", "measure", "measure", tooltip="Answer the questions of a measuring job"),
        Binding("o", "put_off", "put off", tooltip="Put the job off to a later day"),
        Binding("g", "gone", "gone", tooltip="Looked at the finding again: it is gone"),
        Binding("s", "still", "still there", tooltip="Looked at the finding again: it is still there"),
        Binding("c", "close", "close", tooltip="Close a job or a finding with a reason"),
        Binding("n", "cause", "cause", tooltip="Say what a finding turned out to be, or take that back (an adult)"),
        Binding("f", "app.flag", "finding", tooltip="Flag something that looks wrong"),
        Binding("h", "history", "closed ones", tooltip="Show what was closed in the last thirty days"),
        Binding("u", "who", "who", tooltip="Change whose code is written down"),
        Binding("pagedown", "read(1)", "read on", tooltip="Read on in what is known"),
        Binding("pageup", "read(-1)", "read back", tooltip="Read back"),
        Binding("escape,q", "back", "back", tooltip="Go back"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._past = False
        self._unsaved = ""

    @property
    def station_key(self) -> str:
        """The station of what is pointed at, for a finding flagged from here."""
        one = self._pointed()
        return one.station if one else ""

    def compose(self) -> ComposeResult:
        """The lists, what is known of the one pointed at, the keys."""
        yield HeadLine()
        yield Static(id="unsaved")
        with Container(id="work"):
            yield Pointed(id="list")
            with VerticalScroll(id="full", can_focus=False):
                yield Static(id="known")
        yield KeyLine()

    def on_mount(self) -> None:
        """Fill the screen."""
        self.renew()

    def on_screen_resume(self) -> None:
        """Fill it afresh when it comes back."""
        self.renew()

    def on_resize(self, event: events.Resize) -> None:
        """Lay it out for the width."""
        self.query_one("#work").set_class(event.size.width >= WIDE, "-wide")

    # showing

    def renew(self) -> None:
        """Show what is true now."""
        if not self.query(KeyLine):
            return  # it is just being opened or closed
        opened = self.app.opened
        now, who = opened.clock(), f" · {self.app.walker}" if self.app.walker else ""
        head = self.query_one(HeadLine)
        head.left = opened.room.name
        head.right = f"{'closed ones' if self._past else 'jobs'} · {now:%a} {now.day} {now:%b}{who}"
        self.query_one(Pointed).show(closed_entries(opened) if self._past else open_entries(opened))
        line, waiting = self.query_one("#unsaved", Static), opened.records.waiting
        line.display = bool(waiting)
        self._unsaved = self._unsaved if waiting else ""
        line.update(
            plain(f"Not on disk yet: {self._unsaved or 'an earlier change.'} It is kept here meanwhile.", "$act bold")
        )
        self._show_known()

    def on_pointed_moved(self, event: Pointed.Moved) -> None:
        """Show what the pointer came to."""
        event.stop()
        self._show_known()

    def _show_known(self) -> None:
        one, opened = self._pointed(), self.app.opened
        known = self.query_one("#known", Static)
        if isinstance(one, Job):
            known.update(job_in_full(one, opened))
        elif isinstance(one, Finding):
            known.update(finding_in_full(one, opened))
        else:
            known.update(plain(""))
        self.query_one("#full", VerticalScroll).scroll_home(animate=False)
        self.query_one(KeyLine).keys = key_row(one, past=self._past)

    def _pointed(self) -> Job | Finding | None:
        key, opened = self.query_one(Pointed).key, self.app.opened
        return opened.jobs.get(key) or opened.findings.get(key)

    def _open_job(self) -> Job | None:
        """Return the job pointed at if something can be done with it; else say why not."""
        one = self._pointed()
        if isinstance(one, Job) and one.closed is None:
            return one
        self.app.hint(why_not(one, "That is for a job. This is a finding: g gone, s still there, c close it."))
        return None

    def _open_finding(self) -> Finding | None:
        one = self._pointed()
        if isinstance(one, Finding) and one.closed is None:
            return one
        self.app.hint(why_not(one, "That is for a finding: point at one below the jobs."))
        return None

    # writing down

    def _with_code(self, act: Callable[[str], None]) -> None:
        """Do it under the code of this walker; ask for one if there is none yet."""
        if self.app.walker:
            act(self.app.walker)
        else:
            ask_code(self.app, "Who is it? The code is written beside it.", act)

    def _change(self, one: One, end: Callable[[OpenRoom, One, str, datetime], Ending]) -> None:
        """Write down under a code what ends it or moves it on."""
        self._with_code(lambda code: self._write(one, code, end))

    def _write(self, one: One, code: str, end: Callable[[OpenRoom, One, str, datetime], Ending]) -> None:
        opened = self.app.opened
        opened.refresh()
        now_so = opened.jobs.get(one.key) or opened.findings.get(one.key)
        if not isinstance(now_so, type(one)) or now_so.closed is not None:
            self.app.say("Somebody has closed this meanwhile. Nothing has changed.", grave=True)
            self.renew()
            return
        try:
            ending = end(opened, now_so, code, opened.clock())
        except NotAllowed as error:
            self.app.say(f"{error} Nothing has changed. u takes another code.", grave=True)
            return
        self.keep(ending)

    def keep(self, ending: Ending) -> None:
        """Write down what follows, and say it."""
        self._unsaved = self.app.opened.save(*ending.records)
        self.app.say(ending.says)
        self.renew()

    # actions

    def action_point(self, step: int) -> None:
        """Move the pointer."""
        self.query_one(Pointed).point(step)

    def action_read(self, way: int) -> None:
        """Scroll what is known."""
        full = self.query_one("#full", VerticalScroll)
        full.scroll_relative(y=way * max(full.size.height - 2, 1), animate=False)

    def action_next_step(self) -> None:
        """Do what comes next: measure, done, or look again."""
        one = self._pointed()
        if isinstance(one, Finding) and one.closed is None:
            ask_look(self.app, one, lambda is_gone: self._change(one, gone if is_gone else still_there))
        elif isinstance(one, Job) and one.questions and one.closed is None:
            self.action_measure()
        else:
            self.action_done()

    def action_done(self) -> None:
        """Write the job down as done."""
        if (job := self._open_job()) is None:
            return
        if job.questions:
            self.app.hint("Its readings end this job: m opens the questions, c closes it without.")
        elif job.treats:
            self._with_code(lambda code: self._done_treating(job, code))
        else:
            self._change(job, finish)

    def _done_treating(self, job: Job, code: str) -> None:
        """Ask for the waiting times of what was put on plants; nothing is eaten while they are not known."""
        from walkabout.screens.widgets.waitasking import ask_waits  # noqa: PLC0415 - seldom asked

        if not may(self.app.opened.room.role(code), job.who):
            self.app.say(f"Only {FOR[job.who]} may close this. u takes another code.", grave=True)
            return

        def go(wait: int | None, hours: float | None) -> None:
            self._write(
                job,
                code,
                lambda opened, one, by, now: finish(opened, one, by, now, wait_days=wait, entry_hours=hours),
            )

        ask_waits(self.app, f"{self.app.opened.name_of(job.station)}: {job.what}", go)

    def action_measure(self) -> None:
        """Open the questions of a measuring job."""
        if (job := self._open_job()) is None:
            return
        opened = self.app.opened
        if not job.questions:
            self.app.hint("There is nothing to measure for this job; d says that it is done.")
        elif all(opened.question(job.station, name) is None for name in job.questions):
            self.app.hint("The checklist no longer has these questions; c closes the job with a reason.")
        else:
            self._with_code(lambda code: self._measure(job, code))

    def _measure(self, job: Job, code: str) -> None:
        from walkabout.round.begin import measure  # noqa: PLC0415 - only when something is measured
        from walkabout.screens.walking import WalkingScreen  # noqa: PLC0415

        if may(self.app.opened.room.role(code), job.who):
            self.app.push_screen(WalkingScreen(measure(self.app.opened, job, code)), lambda _: self.renew())
        else:
            self.app.say(f"Only {FOR[job.who]} may measure this. u takes another code.", grave=True)

    def action_close(self) -> None:
        """Close what is pointed at, with a reason."""
        one = self._pointed()
        if one is None or one.closed is not None:
            self.app.hint(why_not(one))
            return

        def go(reason: str) -> None:
            if isinstance(one, Job):
                self._change(one, lambda opened, job, code, now: give_up(opened, job, code, now, reason))
            else:
                self._change(one, lambda opened, finding, code, now: close(opened, finding, code, now, reason))

        ask_reason(self.app, one, go)

    def action_put_off(self) -> None:
        """Put the job off to a later day."""
        if (job := self._open_job()) is None:
            return

        def put(until: date) -> None:
            self._change(job, lambda opened, one, code, now: put_off(opened, one, code, now, until))

        ask_day(self.app, job, put)

    def action_gone(self) -> None:
        """The finding was looked at again and is gone."""
        if (finding := self._open_finding()) is not None:
            self._change(finding, gone)

    def action_still(self) -> None:
        """The finding was looked at again and is still there."""
        if (finding := self._open_finding()) is not None:
            self._change(finding, still_there)

    def action_cause(self) -> None:
        """Say what a finding turned out to be, or take that back."""
        one = self._pointed()
        if isinstance(one, Finding):
            self._with_code(lambda code: ask_cause(self, one, code))
        else:
            belongs = "A cause belongs to a finding: point at one below the jobs."
            self.app.hint(why_not(one) if one is None else belongs)

    def action_history(self) -> None:
        """Show what was closed, or what is open again."""
        self._past = not self._past
        self.renew()

    def action_who(self) -> None:
        """Change the code."""
        ask_code(self.app, "Whose code is written down from now on?", lambda code: self.renew())

    def action_back(self) -> None:
        """Go back from the closed ones to the open ones, and from there to where one came from."""
        if self._past:
            self.action_history()
        else:
            self.app.go_back()
