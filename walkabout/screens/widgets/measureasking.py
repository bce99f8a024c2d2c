"""What is asked while a trial is measured: why a value is corrected or left out, and for which other day."""

from datetime import date

from walkabout.jobs.plantings import day_in
from walkabout.records.model_measured import Measurement
from walkabout.screens.app import Walkabout
from walkabout.screens.planting import DAY_HINT
from walkabout.screens.widgets.asking import LineScreen
from walkabout.screens.widgets.trialcode import ReasonScreen

SLIP = "a slip of the hand"


def value_words(one: Measurement | None) -> str:
    """Return a value as it stands in the grid, '' for none."""
    if one is None:
        return ""
    return f"{one.value:g}/{one.of}" if one.of else f"{one.value:.10g}"


def place_words(one: Measurement) -> str:
    """Return where a value stands: its plot, and its kind where kinds are counted."""
    return f"{one.plot}, {one.kind}" if one.kind else one.plot


async def why_corrected(app: Walkabout, before: Measurement, value: float, of: int | None) -> str | None:
    """Ask why a value is corrected; None when one goes back."""
    return await app.push_screen_wait(ReasonScreen(
        "Why is it corrected?", _reason, text=SLIP, done="write it down", most=120,
        about=f"{place_words(before)}: {value_words(before)} becomes {value:g}{f'/{of}' if of else ''}",
        hint="Enter alone: a slip of the hand. The first value stays on record.",
    ))  # fmt: skip


async def why_left_out(app: Walkabout, one: Measurement) -> str | None:
    """Ask why a value is left out; None when one goes back."""
    return await app.push_screen_wait(LineScreen(
        "Why is it left out?", _reason, about=f"{place_words(one)}: {value_words(one)}", done="leave it out",
        hint="A reason that is not the value itself, such as: the plant was knocked over. It stays on record.",
    ))  # fmt: skip


async def other_day(app: Walkabout) -> date | None:
    """Ask for which other day one measures; None when one goes back."""
    today = app.opened.today()
    asking = LineScreen("For which day?", lambda text: day_in(text, today), hint=DAY_HINT)
    got = await app.push_screen_wait(asking)
    return day_in(got, today) if got is not None else None


def _reason(typed: str) -> None:
    if len(typed) < 3:
        raise ValueError("A few words, so that others understand it later.")
