"""What people type or write into files is shown as typed, on every screen, and never obeyed."""

from pathlib import Path

import pytest

from tests.rooms import write_small_room
from tests.screens.driving import LOOKS, app_for, shown
from walkabout.jobs.findings import flag

HOSTILE = (
    "[bold]x[/]",
    "half [/b] open",
    "[/",
    "[red]alert[/red]",
    "[@click=app.quit]x[/]",
    "a \\[b] back\\slash\\",
    "$words $ground [$act]",
)

WITHOUT_NAMES = ("alarm", "help", "who", "palette", "planting", "signs", "causes", "cause", "promising", "trial-new")
"""Screens on which neither a room's nor a station's name stands."""


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("text", HOSTILE)
async def test_hostile_text_is_shown_as_typed(text: str, look: str, tmp_path: Path) -> None:
    """A hostile name of room and station, label and finding break no screen and run nothing."""
    folder = write_small_room(tmp_path / "room", name=text, station=text, label=text)
    app = app_for(folder)
    app.opened.save(flag(station="tub", seen=text, verdict="today", by="K7", now=app.opened.clock()))
    async with app.run_test(size=(110, 40), notifications=True) as pilot:
        await LOOKS[look](pilot)
        await pilot.pause()
        alone = shown(app)
        app.say(text)
        await pilot.pause(0.1)

        assert app.is_running
        assert app.return_code in (None, 0)
        assert look in WITHOUT_NAMES or text in alone
        assert text in shown(app)
        await pilot.click(offset=(4, 1))
        assert app.is_running
