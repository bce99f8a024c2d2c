"""Tables out on the screen: what is chosen, what is written where, and stopping it."""

import json
import threading
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from tests.rooms import write_small_room
from tests.screens.driving import app_for, press, shown
from walkabout.screens import exporting
from walkabout.screens.exporting import ExportScreen
from walkabout.screens.widgets import longjobs


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_small_room(tmp_path / "a room")


@pytest.fixture(autouse=True)
def documents(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Let the user's documents lie in a folder of the test."""
    path = tmp_path / "docs"
    path.mkdir()
    monkeypatch.setattr(exporting, "usual_folder", lambda: path)
    return path


async def opened(pilot: Pilot[Any]) -> ExportScreen:
    screen = ExportScreen()
    await pilot.app.push_screen(screen)
    await pilot.pause()
    return screen


async def until(pilot: Pilot[Any], screen: ExportScreen) -> None:
    for _ in range(500):
        await pilot.pause(0.01)
        if screen._work is None:
            break
    assert screen._work is None
    await pilot.pause()


def plainly(text: str) -> str:
    return " ".join(text.split())


async def test_enter_writes(folder: Path, documents: Path) -> None:
    """The folder is shown whole before; afterwards stands what lies where, and the caution about names."""
    app = app_for(folder)
    async with app.run_test(size=(100, 40)) as pilot:
        screen = await opened(pilot)
        assert screen.folder is not None
        assert screen.folder.parent == documents
        assert str(screen.folder).replace(" ", "") in "".join(shown(app).split())
        assert "An adult does this" in shown(app)
        await press(pilot, "enter")
        await until(pilot, screen)
        text = plainly(shown(app))
        assert "People's codes are replaced by pseudonyms." in text
        assert "a name may stand there" in text
        assert "plantings.csv 8 rows" in text
        assert (screen.folder / "datapackage.json").is_file()
        # an earlier export is replaced, and that is said before
        await press(pilot, "f", "f", "f")
        assert "An earlier export lies there and will be replaced." in shown(app)


async def test_what_is_chosen_is_written(folder: Path, documents: Path, tmp_path: Path) -> None:
    """Form, codes as they are under an adult's code, the loggers' own files, another folder."""
    (folder / "logger").mkdir()
    (folder / "logger" / "a.csv").write_text("x" * 2000)
    app = app_for(folder)
    async with app.run_test(size=(100, 40)) as pilot:
        screen = await opened(pilot)
        await press(pilot, "f", "c", "o")
        assert "spreadsheet: one file" in shown(app)
        assert "Codes as they are: whoever knows a pupil's code" in shown(app)
        assert "copied too: 1 file, 2.0 kB" in shown(app)
        assert "own files are copied as they are: their names, and every word in them." in plainly(shown(app))
        await press(pilot, "w")
        app.screen.query_one(Input).value = f"'{tmp_path / 'out'}'"
        await press(pilot, "enter")
        assert screen.folder == tmp_path / "out"
        await press(pilot, "enter")
        await until(pilot, screen)
    package = json.loads((tmp_path / "out" / "datapackage.json").read_text(encoding="utf-8"))
    assert package["walkabout"]["codes"] == "as they are"
    assert (tmp_path / "out" / "tables.xlsx").is_file()
    assert (tmp_path / "out" / "logger" / "a.csv").is_file()
    assert list(documents.iterdir()) == []


async def test_codes_as_they_are_are_for_an_adult(folder: Path, documents: Path) -> None:
    """A pupil's code is not enough: nothing is written."""
    app = app_for(folder, walker="K7")
    async with app.run_test(size=(100, 40), notifications=True) as pilot:
        screen = await opened(pilot)
        await press(pilot, "c", "enter")
        assert "for an adult. Whose code?" in shown(app)
        await press(pilot, "2")
        assert any("Fetch an adult" in one.message for one in app._notifications)
        assert screen._work is None
    assert list(documents.iterdir()) == []


async def test_an_adult_is_asked_for_once_whatever_is_written(folder: Path, documents: Path) -> None:
    """Tables with pseudonyms are for an adult too; whoever said so once is not asked for every form."""
    app = app_for(folder, walker="K7")
    async with app.run_test(size=(100, 40)) as pilot:
        screen = await opened(pilot)
        await press(pilot, "enter")
        assert "for an adult. Whose code?" in shown(app)
        await press(pilot, "escape")
        assert list(documents.iterdir()) == []
        await press(pilot, "enter", "1")
        await until(pilot, screen)
        assert "People's codes are replaced by pseudonyms." in plainly(shown(app))
        await press(pilot, "c", "enter")
        await until(pilot, screen)
        assert "People's codes stand as they are." in plainly(shown(app))


async def test_what_is_no_export_is_never_written_over(folder: Path, documents: Path) -> None:
    """The line is refused, and where the folder fills meanwhile, so is the writing."""
    (documents / "mine").mkdir()
    (documents / "mine" / "essay.txt").write_text("mine")
    app = app_for(folder)
    async with app.run_test(size=(100, 40)) as pilot:
        screen = await opened(pilot)
        await press(pilot, "w")
        app.screen.query_one(Input).value = str(documents / "mine")
        await press(pilot, "enter")
        assert "Something else lies there and stays as it is" in shown(app)
        await press(pilot, "escape")
        screen.folder = documents / "mine"
        await press(pilot, "enter")
        await until(pilot, screen)
        assert "Nothing was written." in shown(app)
    assert [path.name for path in (documents / "mine").iterdir()] == ["essay.txt"]


@pytest.mark.parametrize("leave", ["escape", "ctrl+q"])
async def test_left_while_it_writes(folder: Path, documents: Path, monkeypatch: pytest.MonkeyPatch, leave: str) -> None:
    """Escape stops it and stays; leaving the program stops it too; nothing half is left either way."""
    goes, began = threading.Event(), threading.Event()
    real = longjobs.export

    def slow(*args: Any, **more: Any) -> Any:
        began.set()
        goes.wait(10)
        return real(*args, **more)

    monkeypatch.setattr(longjobs, "export", slow)
    app = app_for(folder)
    async with app.run_test(size=(100, 40)) as pilot:
        screen = await opened(pilot)
        await press(pilot, "enter")
        assert began.wait(10)
        await pilot.pause(0.2)
        assert "Writing tables" in shown(app)
        await press(pilot, "f", "c", "enter")
        assert (screen.form, screen.codes) == ("csv", False)
        await press(pilot, leave)
        if leave == "escape":
            goes.set()
            await until(pilot, screen)
            assert "Stopped. Nothing was written." in shown(app)
            assert app.screen is screen
            await press(pilot, "escape")
            assert app.screen is not screen
    goes.set()
    for thread in threading.enumerate():
        if thread.name == "long job":
            thread.join(10)
    assert list(documents.iterdir()) == []


async def test_a_click_chooses(folder: Path) -> None:
    """A click on a line does what its key does."""
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot)
        await pilot.click("#options", offset=(4, 1))
        await pilot.pause()
        assert screen.codes
        await pilot.click("#options", offset=(4, 0))
        await pilot.pause()
        assert screen.form == "xlsx"
