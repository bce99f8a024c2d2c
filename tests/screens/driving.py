"""Opening the full screen on a small room, and going to each of its screens."""

from collections.abc import Awaitable, Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from textual import events
from textual.color import Color
from textual.keys import _character_to_key
from textual.pilot import Pilot

from tests.rooms import NOW
from walkabout.jobs.trials import exclude, measure, set_up
from walkabout.records.model import Answer
from walkabout.records.model_measured import Measurement, Trial
from walkabout.round.opened import OpenRoom
from walkabout.round.trial_plan import drawn, laid_out, places
from walkabout.screens.app import Walkabout
from walkabout.screens.trials import open_trials


def app_for(folder: Path, start: str = "today", walker: str = "AR", now: datetime = NOW) -> Walkabout:
    """Return the program on a room, on a Wednesday morning unless told otherwise."""
    return Walkabout(OpenRoom(folder, lambda: now), start, walker)


def shown(app: Walkabout) -> str:
    """Return what is painted, as text."""
    screen = app.screen
    rows = screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in row) for row in rows)


def painted_cells(app: Walkabout) -> Iterator[tuple[str, Color, Color]]:
    """Yield (text, colour, ground) of everything painted that is not blank."""
    for row in app.screen._compositor.render_strips():
        for segment in row:
            style = segment.style
            letters = "".join(one for one in segment.text if one.isalnum() or one in "✓▴■‼✋○·▸←‹◆◈◇░━─═│▾")
            if letters and style is not None and style.color and style.bgcolor and not style.conceal:
                front, back = Color.from_rich_color(style.color), Color.from_rich_color(style.bgcolor)
                if style.dim:
                    front = front.blend(back, 0.5)
                if style.reverse:
                    front, back = back, front
                yield segment.text, front, back


NAMED = frozenset((
    "enter", "escape", "tab", "space", "backspace", "up", "down", "left", "right", "home", "end", "pageup", "pagedown",
    "question_mark", "equals_sign", *(f"f{number}" for number in range(1, 13)),
))  # fmt: skip
"""Keys that are not written as what they type."""


async def press(pilot: Pilot[Any], *parts: str) -> None:
    """Press keys and type texts as a quick hand does: a text in one go, and one wait after each part.

    A part is a key by its name, also with "shift+" or "ctrl+" before it, or else a text to be typed. Pilot.press
    waits twice after every letter, which took most of the time of these tests.
    """
    for part in parts:
        named = part in NAMED or (len(part) > 1 and part.startswith(("shift+", "ctrl+")))
        for key in (part,) if named else part:
            name = key if named or key.isalnum() else _character_to_key(key)
            typed = {"space": " "}.get(key) if named else key
            event = events.Key(name, typed)
            event.set_sender(pilot.app)
            assert pilot.app._driver is not None
            pilot.app._driver.send_message(event)
        await pilot.pause()


async def _today(pilot: Pilot[Any]) -> None:
    await pilot.pause()


async def _question(pilot: Pilot[Any]) -> None:
    await pilot.press("r")


async def _number(pilot: Pilot[Any]) -> None:
    await pilot.press("r", "space", "space", "9", "9", "enter")


async def _alarm(pilot: Pilot[Any]) -> None:
    await pilot.press("r", "2")


async def _help(pilot: Pilot[Any]) -> None:
    await pilot.press("question_mark")


async def _jobs(pilot: Pilot[Any]) -> None:
    await pilot.press("r", "2", "enter", "p", "j")


async def _room(pilot: Pilot[Any]) -> None:
    await pilot.press("o")


async def _station(pilot: Pilot[Any]) -> None:
    await pilot.press("r", "space", "p", "o", "down", "enter")


async def _finding(pilot: Pilot[Any]) -> None:
    await pilot.press("f")


async def _planting(pilot: Pilot[Any]) -> None:
    await pilot.press("o", "down", "a")


async def _who(pilot: Pilot[Any]) -> None:
    await pilot.press("u")


async def _workout(pilot: Pilot[Any]) -> None:
    await pilot.press("equals_sign")
    await pilot.pause()


async def _workout_typing(pilot: Pilot[Any]) -> None:
    await pilot.app.run_action("app.work_out('bring')")
    await pilot.pause()
    await press(pilot, "enter", "50", "enter", "enter", "2.4", "enter", "1.6", "enter", "0.4")


async def lookup_ready(pilot: Pilot[Any]) -> None:
    """Wait until the lookup that is open has read its knowledge."""
    for _ in range(300):
        await pilot.pause(0.02)
        if getattr(pilot.app.screen, "lookup", None) is not None:
            break
    await pilot.pause()


async def _lookup(pilot: Pilot[Any]) -> None:
    await pilot.press("l")
    await lookup_ready(pilot)


async def _lookup_said(pilot: Pilot[Any]) -> None:
    await _lookup(pilot)
    await press(pilot, "white dust on old leaves, no webs, raggedy bits", "enter", "down", "a", "roots brown, zork")


async def _signs(pilot: Pilot[Any]) -> None:
    await _lookup(pilot)
    await pilot.press("tab", "enter", "down", "f2")
    await pilot.pause()


async def _causes(pilot: Pilot[Any]) -> None:
    await _lookup(pilot)
    await pilot.press("escape", "b")
    await pilot.pause()


async def _cause(pilot: Pilot[Any]) -> None:
    await _lookup_said(pilot)
    await pilot.press("escape", "right", "c")
    await pilot.pause()


async def almanac_ready(pilot: Pilot[Any]) -> None:
    """Open the almanac from Today and wait until its dates are reckoned."""
    await pilot.press("a")
    for _ in range(300):
        await pilot.pause(0.01)
        if getattr(pilot.app.screen, "almanac", None) is not None:
            break
    await pilot.pause()


async def _almanac_list(pilot: Pilot[Any]) -> None:
    await almanac_ready(pilot)
    await pilot.press("down", "enter", "down")
    await pilot.pause()


async def _closer(pilot: Pilot[Any]) -> None:
    await _almanac_list(pilot)
    await pilot.press("home", "enter")
    await pilot.pause()


async def _what_if(pilot: Pilot[Any]) -> None:
    await almanac_ready(pilot)
    await press(pilot, "w", "lettuce")
    for _ in range(200):
        await pilot.pause(0.02)
        if getattr(pilot.app.screen, "_found", None):
            break
    await pilot.pause()


async def _supply(pilot: Pilot[Any]) -> None:
    await almanac_ready(pilot)
    await pilot.press("v", "f3")
    await pilot.pause(0.1)


async def _promising(pilot: Pilot[Any]) -> None:
    await almanac_ready(pilot)
    await pilot.press("p")
    await pilot.pause()


def creeping(now: datetime, *, days: int = 40, station: str = "tub", question: str = "ph") -> list[Answer]:
    """Return a reading for every morning before `now`: level at first, creeping up for the last half."""
    found = []
    for back in range(days, 0, -1):
        at = now - timedelta(days=back)
        value = 5.8 + (0.05, -0.05)[back % 2] + max(0, days // 2 - back) * 0.02
        found.append(
            Answer(
                key=f"a-{station}-{question}-{days - back:03}",
                round="r-before",
                at=at,
                walker="AR",
                station=station,
                question=question,
                value=round(value, 2),
                unit="pH",
                verdict="good",
            )
        )
    return found


async def logbook_ready(pilot: Pilot[Any]) -> None:
    """Open the logbook of a room whose pH creeps up, and wait until its shifts are found."""
    opened = pilot.app.opened  # type: ignore[attr-defined]
    opened.save(*creeping(opened.clock()))
    await pilot.press("b")
    for _ in range(300):
        await pilot.pause(0.01)
        if getattr(pilot.app.screen, "moved", None) is not None:
            break
    await pilot.pause()


async def _logbook_shift(pilot: Pilot[Any]) -> None:
    await logbook_ready(pilot)
    await pilot.press("up")


async def _logbook_readings(pilot: Pilot[Any]) -> None:
    await logbook_ready(pilot)
    await pilot.press("down", "down", "enter")


async def trend_ready(pilot: Pilot[Any]) -> None:
    """Open the trend of what has shifted."""
    await _logbook_shift(pilot)
    await pilot.press("enter")
    await trend_there(pilot)


async def trend_there(pilot: Pilot[Any]) -> None:
    """Wait until a trend stands on the screen."""
    for _ in range(300):
        await pilot.pause(0.01)
        if getattr(pilot.app.screen, "trend", None) is not None:
            break
    await pilot.pause()


async def _trend_working(pilot: Pilot[Any]) -> None:
    await trend_ready(pilot)
    await pilot.press("w")


async def _trend_values(pilot: Pilot[Any]) -> None:
    await trend_ready(pilot)
    await pilot.press("v")
    await trend_there(pilot)


async def _term(pilot: Pilot[Any]) -> None:
    await pilot.press("b", "n")
    await pilot.pause()


async def _term_working(pilot: Pilot[Any]) -> None:
    await _term(pilot)
    await pilot.press("w")


async def _handover(pilot: Pilot[Any]) -> None:
    await almanac_ready(pilot)
    await pilot.press("h")
    await pilot.pause()


def some_trial(app: Walkabout, days: int = 3) -> Trial:
    """Write down a trial of lettuces with its measurements; one value is far off and one is left out."""
    opened = app.opened
    now = opened.clock()
    at = [one for one in places(opened, "plant") if one.station in ("shelf", "tub")]
    plots = drawn(laid_out("plant", at, 7), ("as usual", "warm mat"), 4)
    trial = set_up(
        question=f"{opened.room.name}: do lettuces grow heavier?", treatments=("as usual", "warm mat"),
        control="as usual", plots=plots, response="weight", unit="g", seed=4, by="AR", now=now, worth=20, spread=25,
    )  # fmt: skip
    records: list[Trial | Measurement] = [trial]
    for day in range(days):
        for at_plot, plot in enumerate(trial.plots):
            value = 20.0 + 4 * day + at_plot % 5 + (6 if plot.treatment == "warm mat" else 0)
            value = 60.0 if (at_plot, day) == (2, days - 1) else value
            one = measure(
                trial, plot.name, value, day=(now - timedelta(days=2 * (days - day))).date(), by="AR", now=now
            )
            records.append(exclude(trial, one, "knocked over", "AR", now) if at_plot == 5 else one)
    opened.save(*records)
    return trial


async def trials_ready(pilot: Pilot[Any]) -> None:
    """Write a trial down and open the trials."""
    app = pilot.app
    assert isinstance(app, Walkabout)
    some_trial(app)
    open_trials(app)
    await pilot.pause()


async def _trial(pilot: Pilot[Any]) -> None:
    await trials_ready(pilot)
    await pilot.press("enter")
    await pilot.pause(0.2)


async def _trial_grid(pilot: Pilot[Any]) -> None:
    await trials_ready(pilot)
    await pilot.press("m", "2", "4", "enter", "2", "4", "0", "enter")
    await pilot.pause()


async def result_ready(pilot: Pilot[Any]) -> None:
    """Open what a trial shows and wait until it is reckoned."""
    await trials_ready(pilot)
    await pilot.press("r")
    await reckoned_there(pilot)


async def reckoned_there(pilot: Pilot[Any]) -> None:
    """Wait until what a trial shows stands on the screen."""
    for _ in range(500):
        await pilot.pause(0.01)
        if getattr(pilot.app.screen, "shown", None) is not None:
            break
    await pilot.pause()


async def _growth(pilot: Pilot[Any]) -> None:
    await result_ready(pilot)
    await pilot.press("g", "c")
    await reckoned_there(pilot)


async def _trial_new(pilot: Pilot[Any]) -> None:
    await trials_ready(pilot)
    await press(pilot, "n", "1", "Is a mat better?", "enter")


async def _palette(pilot: Pilot[Any]) -> None:
    await pilot.press("ctrl+p")
    await pilot.pause(0.3)


async def _message(pilot: Pilot[Any]) -> None:
    pilot.app.say("A message [b]as typed[/b]", grave=True)  # type: ignore[attr-defined]
    await pilot.pause(0.2)


LOOKS: dict[str, Callable[[Pilot[Any]], Awaitable[None]]] = {
    "today": _today,
    "question": _question,
    "number": _number,
    "alarm": _alarm,
    "help": _help,
    "jobs": _jobs,
    "room": _room,
    "station": _station,
    "finding": _finding,
    "planting": _planting,
    "who": _who,
    "workout": _workout,
    "workout-typing": _workout_typing,
    "lookup": _lookup,
    "lookup-said": _lookup_said,
    "signs": _signs,
    "causes": _causes,
    "cause": _cause,
    "almanac": almanac_ready,
    "almanac-list": _almanac_list,
    "almanac-closer": _closer,
    "what-if": _what_if,
    "supply": _supply,
    "promising": _promising,
    "handover": _handover,
    "logbook": logbook_ready,
    "logbook-shift": _logbook_shift,
    "logbook-readings": _logbook_readings,
    "trend": trend_ready,
    "trend-working": _trend_working,
    "trend-values": _trend_values,
    "term": _term,
    "term-working": _term_working,
    "trials": trials_ready,
    "trial": _trial,
    "trial-grid": _trial_grid,
    "trial-result": result_ready,
    "trial-growth": _growth,
    "trial-new": _trial_new,
    "palette": _palette,
    "message": _message,
}
"""Every screen, and how to get there from Today."""
