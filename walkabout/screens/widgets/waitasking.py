"""The two questions about a label: days until anybody eats, hours until anybody touches."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from walkabout.jobs.treatments import CAUTION, hours_in, wait_in
from walkabout.screens.widgets.asking import Checked, NumberScreen

if TYPE_CHECKING:
    from walkabout.screens.app import Walkabout

NOT_KNOWN = -1.0
"""What stands for a waiting time that nobody knows while it is handed on; no waiting time is below 0."""


def wait_screen(about: str, *, needed: bool = False) -> NumberScreen:
    """Return the question for the days until anything may be eaten; `needed` takes no 'not known'."""

    def check(text: str) -> Checked:
        days = wait_in(text)
        if days is None and needed:
            raise ValueError("Type the days that stand on the label.")
        return Checked(NOT_KNOWN if days is None else days)

    remark = "" if needed else "enter alone: not known"
    ask = "How many days until anything from there may be eaten?"
    return NumberScreen(ask, check, about=about, caution=CAUTION, unit="days", remark=remark)


def hours_screen(about: str) -> NumberScreen:
    """Return the question for the hours until people may touch the plants."""

    def check(text: str) -> Checked:
        hours = hours_in(text)
        return Checked(NOT_KNOWN if hours is None else hours)

    ask = "How many hours until people may touch the plants?"
    return NumberScreen(ask, check, about=about, unit="hours", remark="enter alone: not known")


def known(typed: float | None) -> float | None:
    """Return the number that was typed, None where nobody knows it."""
    return None if typed is None or typed == NOT_KNOWN else typed


def ask_waits(app: "Walkabout", about: str, then: Callable[[int | None, float | None], None]) -> None:
    """Ask both, one after the other; escape at either leaves everything as it is."""

    def hours(wait: float | None) -> None:
        if wait is None:
            return
        days = known(wait)

        def go(typed: float | None) -> None:
            if typed is not None:
                then(None if days is None else round(days), known(typed))

        app.push_screen(hours_screen(about), go)

    app.push_screen(wait_screen(about), hours)
