"""Typing in a round that was filled in by hand: the dialogue in lines, with the screen out of the way meanwhile."""

import signal
import subprocess
import sys
from datetime import date
from typing import TYPE_CHECKING

from textual.app import SuspendNotSupported

from walkabout.round.history import KEPT_DAYS
from walkabout.screens.widgets.asking import LineScreen
from walkabout.screens.widgets.stagewords import day_long

if TYPE_CHECKING:
    from walkabout.screens.app import Walkabout


async def type_in(app: "Walkabout") -> None:
    """Ask for the day of the sheet, leave the screen for the dialogue, and take in what was written down."""
    today = app.opened.today()
    got = await app.push_screen_wait(
        LineScreen(
            "Of which day is the sheet?", lambda typed: _day(typed, today),
            about="It is typed in line by line, by the code beside each question. Enter alone ends.",
            hint="enter alone: today; else the day that stands at the foot of the sheet, such as 2026-11-24",
        )
    )  # fmt: skip
    if got is None:
        return
    day = _day(got, today)
    words = ["sheet", "--type-in", "--day", day.isoformat()]
    try:
        with app.suspend():
            _dialogue(["--room", str(app.opened.folder), *words])
    except SuspendNotSupported:
        app.say(f"This window cannot leave the screen. In another one: walkabout {' '.join(words)}", seconds=20)
        return
    app.look_for_news()


def _dialogue(words: list[str]) -> None:
    """Run the command in a program of its own, so that what stops it does not stop the screen."""
    before = signal.signal(signal.SIGINT, lambda *_: None)
    try:
        subprocess.run([sys.executable, "-m", "walkabout", *words], check=False)
        input("Enter goes back to the screen. ")
    except EOFError:
        pass
    finally:
        signal.signal(signal.SIGINT, before)


def _day(typed: str, today: date) -> date:
    """Return the day that was typed, today for none; ValueError for one that no sheet can be of."""
    from walkabout.reckon.typed_day import day  # noqa: PLC0415 - seldom typed

    if not typed:
        return today
    try:
        found = day(typed)
    except ValueError as error:
        raise ValueError(f"{error}.") from None
    if found > today:
        raise ValueError("That day is still to come.")
    if (today - found).days > KEPT_DAYS:
        raise ValueError(f"{day_long(found)} is more than {KEPT_DAYS} days ago: too long to judge what stood there.")
    return found
