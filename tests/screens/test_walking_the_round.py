"""The round on the full screen: with keys alone, with the mouse alone, past an alarm, interrupted and taken up."""

import errno
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from tests.records.test_disk_trouble import failing
from tests.rooms import write_small_room
from tests.screens.driving import app_for, shown
from walkabout.checklist.model import COUNTED
from walkabout.round.opened import OpenRoom
from walkabout.screens.end import EndScreen
from walkabout.screens.today import TodayScreen
from walkabout.screens.walking import WalkingScreen
from walkabout.screens.widgets.keyline import KeyLine
from walkabout.screens.widgets.number import PAD
from walkabout.screens.widgets.question import QuestionView

SIZES = [(80, 24), (120, 40)]


@pytest.fixture
def room(tmp_path: Path) -> Path:
    """A small room without history."""
    return write_small_room(tmp_path / "room")


def middle(screen: WalkingScreen) -> str:
    """Return a number that is likely and good for the question that is open, whole where that is good too."""
    step = screen.walk.step
    assert step is not None
    assert step.question.reading is not None
    wanted, reading = screen.walk.wanted(), step.question.reading
    low, high = (wanted.low, wanted.high) if wanted else reading.good or reading.likely
    low, high = max(low, reading.likely[0]), min(high, reading.likely[1])
    whole = round((low + high) / 2)
    return f"{whole}" if low <= whole <= high else f"{(low + high) / 2:.{reading.decimals}f}"


@pytest.mark.parametrize("size", SIZES)
async def test_keys_alone(room: Path, size: tuple[int, int]) -> None:
    """The space bar and typed numbers walk a healthy round in at most sixty presses; all of it is on disk."""
    app = app_for(room)
    async with app.run_test(size=size, notifications=True) as pilot:
        await pilot.press("r")
        presses = 1
        while isinstance(screen := app.screen, WalkingScreen):
            step = screen.walk.step
            assert step is not None
            assert step.question.ask.split()[-1] in shown(app)
            keys = [*middle(screen), "enter"] if step.question.kind in COUNTED else ["space"]
            await pilot.press(*keys)
            presses += len(keys)
        assert isinstance(app.screen, EndScreen)
        assert "The round is walked." in shown(app)
        await pilot.press("enter")

        assert presses + 1 <= 60
        assert isinstance(app.screen, TodayScreen)
    again = OpenRoom(room, app.opened.clock)
    asked = again.rounds_today()[0].asked
    assert {(one.station, one.question) for one in again.history.everything()} == {
        (one.station, one.question) for one in asked
    }
    assert {one.verdict for one in again.history.everything()} == {"good"}


async def click_key(pilot: Pilot[Any], action: str) -> None:
    """Click a key of the bottom line by its action."""
    line = pilot.app.screen.query_one(KeyLine)
    start, y = next((start, y) for start, _, does, y in line._spans if does == action)
    await pilot.click(KeyLine, offset=(line.styles.padding.left + start, y))


@pytest.mark.parametrize("size", SIZES)
async def test_mouse_alone(room: Path, size: tuple[int, int]) -> None:
    """Clicks alone walk the whole round, numbers included."""
    app = app_for(room)
    async with app.run_test(size=size, notifications=True) as pilot:
        await click_key(pilot, "screen.walk")
        while isinstance(screen := app.screen, WalkingScreen):
            view = screen.query_one(QuestionView)
            step = screen.walk.step
            assert step is not None
            left = view.styles.padding.left
            if step.question.kind in COUNTED:
                for key in [*middle(screen), "enter"]:
                    column = 1 + sum(len(one) + 2 for one in PAD[: PAD.index(key)])
                    await pilot.click(QuestionView, offset=(left + column, view._pad_line))
            else:
                await pilot.click(QuestionView, offset=(left + 5, view._first_row))
        assert isinstance(app.screen, EndScreen)
        await click_key(pilot, "screen.done")

        assert isinstance(app.screen, TodayScreen)
    assert OpenRoom(room, app.opened.clock).rounds_today()[0].ended is not None


async def test_an_alarm_fills_the_screen_and_waits(room: Path) -> None:
    """Water at the door stops the round: what to do, who may, the caution; only enter goes on."""
    app = app_for(room, walker="K7")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("r", "2")
        text = shown(app)
        await pilot.press("space", "1")
        still = shown(app)
        await pilot.press("enter")

        assert "STOP" in text
        assert "Fetch" in text
        assert "Caution:" in text
        assert "STOP" in still
        assert isinstance(app.screen, WalkingScreen)
        assert app.screen.walk.position == 1
    assert [job.who for job in OpenRoom(room, app.opened.clock).jobs_due()] != []


async def test_an_impossible_number_is_questioned_and_not_saved(room: Path) -> None:
    """A temperature of 200 is not saved; 68 in a metric room is asked back as 20 °C, and y takes it."""
    app = app_for(room)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("r")
        while app.screen.walk.step.question.id != "lowest-air-temperature":
            await pilot.press("space")
        before = len(app.opened.history.everything())
        await pilot.press(*"200", "enter")
        refused = shown(app)
        await pilot.press("backspace", "backspace", "backspace", *"68", "enter")
        asked = shown(app)
        saved = len(app.opened.history.everything())
        await pilot.press("y")
        last = app.opened.history.last("room", "lowest-air-temperature")

        assert "cannot be" in refused
        assert "Did you mean 20.0 °C" in asked
        assert saved == before
        assert last is not None
        assert last.value == pytest.approx(20.0)


async def test_a_pause_is_taken_up_at_the_same_question(room: Path) -> None:
    """Paused, closed and opened again, the round asks the question it was left at."""
    app = app_for(room)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("r", "space", "space")
        left_at = app.screen.walk.step.question.id
        await pilot.press("p")
        assert isinstance(app.screen, TodayScreen)
        assert "not finished" in shown(app)
    app.opened.close()

    again = app_for(room)
    async with again.run_test(size=(80, 24)) as pilot:
        await pilot.press("r")

        assert again.screen.walk.step.question.id == left_at
        assert len(again.opened.rounds_today()) == 1


async def test_back_puts_an_answer_right(room: Path) -> None:
    """Going back and answering again keeps the first answer behind the second, and closes what it opened."""
    app = app_for(room)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("r", "2", "enter")
        assert len(app.opened.jobs_due()) > 0
        await pilot.press("left", "1")

        rows = app.opened.records.answers(app.opened.today())
        assert len(rows) == 2
        assert rows[1].replaces == rows[0].key
        assert [job for job in app.opened.jobs_due() if job.finding] == []


async def test_skip_not_looked_and_help(room: Path) -> None:
    """S leaves the station as not looked at, n a question; help explains and goes away."""
    app = app_for(room)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("r", "n", "question_mark")
        assert "first next time" in shown(app)
        await pilot.press("escape", "s")

        states = {one.state for one in app.opened.history.at_station("room")}
        assert states == {"not looked"}
        assert app.screen.walk.step.here.key != "room"


async def test_a_low_screen_still_takes_answers(room: Path) -> None:
    """At 50 by 12 the question and its answers are there and can be answered."""
    app = app_for(room)
    async with app.run_test(size=(50, 12)) as pilot:
        await pilot.press("r")
        assert "doorway" in shown(app)
        assert "small window" in shown(app)
        await pilot.press("space")

        assert app.opened.history.last("room", "doorway") is not None


async def test_a_full_disk_is_said_and_nothing_is_lost(room: Path) -> None:
    """While the disk is full the screen says so and keeps the answers; once there is room they are written."""
    app = app_for(room)
    async with app.run_test(size=(100, 30), notifications=True) as pilot:
        await pilot.press("r", "space")
        with failing("write", errno.ENOSPC):
            await pilot.press("space")
            text = shown(app)
            waiting = app.opened.records.waiting
        await pilot.press("n")

        assert "Not on disk yet" in text
        assert "full" in text
        assert waiting > 0
        assert app.opened.records.waiting == 0
        assert "Not on disk" not in shown(app)
    assert len(OpenRoom(room, app.opened.clock).history.everything()) == 3


async def test_a_read_only_folder_is_said(room: Path) -> None:
    """A folder that may not be written to is named in plain words, and the round goes on."""
    app = app_for(room)
    async with app.run_test(size=(100, 30), notifications=True) as pilot:
        with failing("open", errno.EROFS):
            await pilot.press("r", "space")

            assert "Not on disk yet" in shown(app)
            assert app.screen.walk.position == 1
        await pilot.press("space")

        assert app.opened.records.waiting == 0
