"""Pictures of the screens on the demo room, as the README shows them.

After a change that is meant: `pytest tests/screens/test_pictures.py --snapshot-update`, and look at them.
"""

import shutil
from collections.abc import Awaitable, Callable
from datetime import date, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from tests.screens.driving import almanac_ready, lookup_ready
from walkabout.demo.make import make
from walkabout.round.opened import OpenRoom
from walkabout.screens.app import Walkabout
from walkabout.screens.lookup import LookupScreen

DAY = date(2026, 11, 25)
NOW = datetime(2026, 11, 25, 8, 0, tzinfo=timezone(timedelta(hours=1)))
SIZES = {"wide": (120, 40), "narrow": (80, 24)}

Steps = Callable[[Pilot[Any]], Awaitable[None]]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Make the demo room once."""
    folder = tmp_path_factory.mktemp("demo") / "room"
    make(folder, DAY)
    return folder


@pytest.fixture
def app(demo: Path, tmp_path: Path) -> Walkabout:
    """Open a copy of it on one morning."""
    return opened_copy(demo, tmp_path)


def opened_copy(demo: Path, tmp_path: Path) -> Walkabout:
    """Return the program on a copy of a room."""
    folder = tmp_path / "room"
    shutil.copytree(demo, folder)
    return Walkabout(OpenRoom(folder, lambda: NOW), walker="HM")


def pressing(*keys: str) -> Steps:
    """Return what presses these keys."""

    async def press(pilot: Pilot[Any]) -> None:
        await pilot.press(*keys)
        await pilot.pause()

    return press


async def working_out(pilot: Pilot[Any]) -> None:
    """Bring the lettuce bath, too strong and not full, to its strength."""
    await pilot.app.run_action("app.work_out('bring')")
    await pilot.pause()
    await pilot.press("enter", "up", "up", *"78", "enter", "enter", *"2.3")
    await pilot.pause()


async def looking_up(pilot: Pilot[Any]) -> None:
    """Look up what stands on the sill, with the words of somebody who has never seen it."""
    await pilot.app.push_screen(LookupScreen("sill", "HM"))
    await lookup_ready(pilot)
    await pilot.press(*"white dust on old leaves, no webs", "enter")
    await pilot.pause()


async def reading_of_a_cause(pilot: Pilot[Any]) -> None:
    """Open the page of the likeliest cause."""
    await looking_up(pilot)
    await pilot.press("escape", "c")
    await pilot.pause()


async def reading_of_a_closure(pilot: Pilot[Any]) -> None:
    """Open the forecast of the next closure."""
    await almanac_ready(pilot)
    await pilot.app.screen.run_action("screen.forecast")
    await pilot.pause()


async def logbook(pilot: Pilot[Any]) -> None:
    """Open the logbook and wait until its shifts are found."""
    await pilot.press("b")
    await until(pilot, "moved")


async def trend_of_a_shift(pilot: Pilot[Any]) -> None:
    """Open the line of what has shifted last."""
    await logbook(pilot)
    assert pilot.app.screen.moved, "nothing has shifted in the demo room"  # type: ignore[attr-defined]
    await pilot.press("up", "enter")
    await until(pilot, "trend")


async def trials(pilot: Pilot[Any]) -> None:
    """Open the trials."""
    await pilot.app.run_action("app.go('trials')")
    await pilot.pause()


async def trial(pilot: Pilot[Any]) -> None:
    """Open how the first trial was set up."""
    await trials(pilot)
    await pilot.press("enter")
    await pilot.pause(0.2)


async def trial_result(pilot: Pilot[Any]) -> None:
    """Open what the first trial shows."""
    await trials(pilot)
    await pilot.press("r")
    await until(pilot, "shown")


async def until(pilot: Pilot[Any], name: str) -> None:
    """Wait until the screen that is open has found what it gathers."""
    for _ in range(500):
        await pilot.pause(0.01)
        if getattr(pilot.app.screen, name, None) is not None:
            break
    await pilot.pause()


PICTURES: dict[str, Steps] = {
    "today": pressing(),
    "round": pressing("r", "space", "space"),
    "alarm": pressing("r", "2"),
    "jobs": pressing("j"),
    "room": pressing("o", "down", "down"),
    "workout": working_out,
    "lookup": looking_up,
    "cause": reading_of_a_cause,
    "almanac": almanac_ready,
    "closure": reading_of_a_closure,
    "logbook": logbook,
    "trend": trend_of_a_shift,
    "trials": trials,
    "trial": trial,
    "trial-result": trial_result,
    "term": pressing("b", "n"),
}
WITHOUT_COLOUR = ("logbook", "trend", "trials", "trial", "trial-result", "term")
"""What is also looked at without colour, narrow: what is told by colour elsewhere has to be told by a shape here."""


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("picture", PICTURES)
def test_picture(picture: str, size: str, app: Walkabout, snap_compare: Any) -> None:
    """The screen looks as it did when somebody last looked at it."""
    assert snap_compare(app, run_before=PICTURES[picture], terminal_size=SIZES[size])


@pytest.mark.parametrize("picture", WITHOUT_COLOUR)
def test_picture_without_colour(
    picture: str, demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, snap_compare: Any
) -> None:
    """Under NO_COLOR the screen looks as it did when somebody last looked at it."""
    monkeypatch.setenv("NO_COLOR", "1")
    grey = opened_copy(demo, tmp_path)
    assert snap_compare(grey, run_before=PICTURES[picture], terminal_size=SIZES["narrow"])
