"""Typing by a slow hand and by a quick one: no letter is lost, whatever the line did when it was called up."""

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from tests.rooms import NOW, write_small_room
from tests.screens.driving import _causes, _signs, app_for, press
from walkabout.round.begin import begin
from walkabout.screens.app import Walkabout
from walkabout.screens.finding import FindingScreen
from walkabout.screens.planting_picking import adult_of
from walkabout.screens.taking_in import TakeInScreen
from walkabout.screens.walking import WalkingScreen
from walkabout.screens.who import WhoScreen
from walkabout.screens.widgets.asking import LineScreen
from walkabout.screens.widgets.browsing import BrowsingScreen
from walkabout.screens.widgets.cropasking import CropScreen
from walkabout.screens.widgets.jobasking import ask_code

SLOWLY = 0.06
"""Seconds between two keys: long enough for everything that follows from one."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_small_room(tmp_path / "room")


REACH = {"signs": _signs, "causes": _causes}


async def slowly(pilot: Pilot[Any], text: str) -> None:
    """Type letter by letter, with a pause after each."""
    for letter in text:
        await press(pilot, letter)
        await pilot.pause(SLOWLY)


async def _at_the_start(pilot: Pilot[Any], app: Walkabout) -> None:
    app.walker = ""
    await press(pilot, "r")


async def _changed(pilot: Pilot[Any], _app: Walkabout) -> None:
    await press(pilot, "u")


async def _at_the_jobs(pilot: Pilot[Any], _app: Walkabout) -> None:
    await press(pilot, "j", "u")


async def _for_a_job(_pilot: Pilot[Any], app: Walkabout) -> None:
    ask_code(app, "Who is it?", lambda _code: None)


async def _an_adult(_pilot: Pilot[Any], app: Walkabout) -> None:
    app.walker = "K7"
    app.run_worker(adult_of(app, "Whose code?"))


ASKING = (_at_the_start, _changed, _at_the_jobs, _for_a_job, _an_adult)


@pytest.mark.parametrize("asking", ASKING, ids=lambda one: one.__name__.strip("_"))
@pytest.mark.parametrize("code", ["HM", "e4x"])
async def test_a_code_typed_slowly(folder: Path, asking: Any, code: str) -> None:
    """Wherever a code is asked for, every letter of it stays in the line, the first one too, and enter takes it."""
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await asking(pilot, app)
        await pilot.pause(SLOWLY)
        assert isinstance(app.screen, WhoScreen)
        screen = app.screen
        await slowly(pilot, code)
        assert screen.query_one("#code", Input).value.upper() == code.upper()
        await press(pilot, "enter")
        await pilot.pause(SLOWLY)
        assert app.screen is not screen


@pytest.mark.parametrize("typed", ["HM", "e4x", "b29"])
async def test_a_code_typed_at_once(folder: Path, typed: str) -> None:
    """Letters and digits that come faster than the line is called up stay in it: no digit picks somebody."""
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "u")
        await press(pilot, typed)
        assert isinstance(app.screen, WhoScreen)
        assert app.screen.query_one("#code", Input).value.upper() == typed.upper()
        await press(pilot, "enter")
        await pilot.pause()
        assert app.walker == typed.upper()


async def test_a_code_is_gone_on_with_after_a_click_beside_it(folder: Path) -> None:
    """When a click has taken the focus away, the next letter goes on with the code; a wrong one can be put right."""
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "u")
        await slowly(pilot, "H")
        await press(pilot, "enter")
        app.screen.set_focus(None)
        await slowly(pilot, "M7")
        assert app.screen.query_one("#code", Input).value.upper() == "HM7"
        await press(pilot, "backspace", "enter")
        await pilot.pause()
        assert app.walker == "HM"


@pytest.mark.parametrize("paused", [True, False])
async def test_the_code_of_whoever_saw_it(folder: Path, *, paused: bool) -> None:
    """Flagging a finding, somebody else's code is taken whole, typed slowly or at once, also after a click beside."""
    app = app_for(folder, walker="")
    async with app.run_test(size=(80, 24)) as pilot:
        app.push_screen(FindingScreen())
        await press(pilot, "1")
        await slowly(pilot, "wilted")
        await press(pilot, "enter", "1")
        if paused:
            await press(pilot, "3")
            await slowly(pilot, "E")
            app.screen.set_focus(None)
            await slowly(pilot, "1M")
        else:
            await press(pilot, "3e1m")
        assert isinstance(app.screen, FindingScreen)
        assert app.screen.query_one("#code", Input).value.upper() == "E1M"
        await press(pilot, "enter")
        await pilot.pause()
    (finding,) = app.opened.findings.values()
    assert (finding.by, finding.seen) == ("E1M", "wilted")


async def test_what_is_seen_after_a_click_beside_it(folder: Path) -> None:
    """The few words of a finding go on where a click beside the line broke them off, the first letter too."""
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        app.push_screen(FindingScreen())
        await press(pilot, "1")
        await slowly(pilot, "dry")
        app.screen.set_focus(None)
        await slowly(pilot, " mix")
        assert app.screen.query_one("#seen", Input).value == "dry mix"


@pytest.mark.parametrize("screen", ["signs", "causes"])
async def test_a_list_that_is_narrowed_down_after_a_click(folder: Path, screen: str) -> None:
    """In a long list the letters go on in the line, wherever a click has left the focus."""
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await REACH[screen](pilot)
        await pilot.pause(SLOWLY)
        assert isinstance(app.screen, BrowsingScreen)
        app.screen.set_focus(None)
        await slowly(pilot, "mil")
        app.screen.set_focus(None)
        await slowly(pilot, "dew")
        assert app.screen.query_one("#filter", Input).value == "mildew"


async def test_a_path_that_is_put_right(folder: Path) -> None:
    """A file that cannot be read keeps its path in the line; what is typed next goes on at its end."""
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        broken = folder / "readings"
        broken.write_bytes(b"\x00\x01\x02")
        app.push_screen(TakeInScreen())
        await pilot.pause(SLOWLY)
        await press(pilot, str(broken), "enter")
        for _ in range(100):
            await pilot.pause(0.02)
            if isinstance(app.screen, TakeInScreen) and app.screen.phase == "path":
                break
        await slowly(pilot, ".csv")
        assert app.screen.query_one("#line", Input).value == f"{broken}.csv"


@pytest.mark.parametrize("screen", [LineScreen, CropScreen])
async def test_a_line_that_is_asked_for(folder: Path, screen: type[LineScreen | CropScreen]) -> None:
    """A line takes what is typed before it is drawn, slowly, and after a click beside it."""
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        app.push_screen(screen("Which?"))
        await press(pilot, "ba")
        await slowly(pilot, "s")
        app.screen.set_focus(None)
        await slowly(pilot, "il")
        assert app.screen.query_one("#line", Input).value == "basil"


async def test_a_text_that_stands_in_a_line(folder: Path) -> None:
    """What is typed takes the place of a proposal, once: the letters after it follow it."""
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        app.push_screen(LineScreen("Why?", text="a slip of the hand"))
        await pilot.pause(SLOWLY)
        await slowly(pilot, "dry")
        assert app.screen.query_one("#line", Input).value == "dry"


async def test_a_round_begins_with_a_typed_code(folder: Path) -> None:
    """A walk that is begun takes the code that was typed for it."""
    app = app_for(folder, walker="")
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "r")
        await slowly(pilot, "hm")
        await press(pilot, "enter")
        await pilot.pause(SLOWLY)
        assert isinstance(app.screen, WalkingScreen)
        assert app.walker == "HM"
        assert begin(app.opened, "HM").walker == "HM"
        assert app.opened.today() == NOW.date()
