"""What is asked before a job or a finding changes: whose code, what a second look shows, the reason, the day."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import TYPE_CHECKING

from walkabout.records.model import Finding, Job
from walkabout.room.calendar import next_day
from walkabout.round.endings import long_day
from walkabout.screens.widgets.asking import LineScreen, PickScreen
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.days import day_to_come

if TYPE_CHECKING:
    from walkabout.screens.app import Walkabout


def ask_code(app: "Walkabout", question: str, then: Callable[[str], None]) -> None:
    """Ask whose code is written down from now on."""
    from walkabout.screens.who import WhoScreen  # noqa: PLC0415 - once a day

    def take(code: str | None) -> None:
        if code:
            app.walker = code
            then(code)

    app.push_screen(WhoScreen(question), take)


def ask_look(app: "Walkabout", finding: Finding, then: Callable[[bool], None]) -> None:
    """Ask what is seen now; `then` is told whether it is gone."""

    def go(picked: tuple[int, ...] | None) -> None:
        if picked is not None:
            then(picked == (0,))

    rows = (Row("it is gone"), Row("it is still there"))
    app.push_screen(PickScreen("Look again. What is seen now?", rows, about=_about(app, finding)), go)


def ask_reason(app: "Walkabout", one: Job | Finding, then: Callable[[str], None]) -> None:
    """Ask why it is closed."""

    def go(reason: str | None) -> None:
        if reason:
            then(reason)

    asks = "Why is it closed without being done?" if isinstance(one, Job) else "Why is it closed?"
    hint = "A few words, so that others understand it later."
    app.push_screen(LineScreen(asks, _reason, about=_about(app, one), hint=hint, most=160), go)


def ask_day(app: "Walkabout", job: Job, then: Callable[[date], None]) -> None:
    """Ask for the day to which a job is put off: one of the next two that make sense, or any, typed."""
    today, asks, about = app.opened.today(), "Put off to which day?", _about(app, job)
    days = (today + timedelta(days=1), next_day(app.opened.room, today))

    def typed(text: str | None) -> None:
        if text:
            then(day_to_come(text, today))

    def picked(place: tuple[int, ...] | None) -> None:
        if place is not None and place[0] < len(days):
            then(days[place[0]])
        elif place is not None:
            hint = "A day such as Friday, 3 Dec or 2026-12-03."
            app.push_screen(LineScreen(asks, lambda text: day_to_come(text, today), about=about, hint=hint), typed)

    rows = (Row("tomorrow", long_day(days[0])), Row("the next round day", long_day(days[1])), Row("another day, typed"))
    app.push_screen(PickScreen(asks, rows, about=about), picked)


def _about(app: "Walkabout", one: Job | Finding) -> str:
    says = one.what if isinstance(one, Job) else one.seen
    return f"{app.opened.name_of(one.station)}: {says}"


def _reason(typed: str) -> str:
    if len(typed) < 3:
        raise ValueError("A few words are needed, so that others understand it later.")
    return typed
