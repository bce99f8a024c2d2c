"""Printing from the screen: each kind with the keys alone, what can be changed, and where the file goes."""

import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from tests.paper.made import a_trial
from tests.paper.printed import reader, sizes, text
from tests.rooms import NOW, write_small_room
from tests.screens.driving import app_for, press, shown
from walkabout.paper.making import KINDS, WHAT
from walkabout.screens import typing_in
from walkabout.screens.app import Walkabout
from walkabout.screens.paper import PaperScreen
from walkabout.screens.widgets.pointlist import PointList

SIZES = [(80, 24), (120, 40), (60, 20)]
TODAY = NOW.date()


@pytest.fixture
def documents(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the folder of a user's documents, made for the test."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "none"))
    monkeypatch.delenv("XDG_DOCUMENTS_DIR", raising=False)
    (tmp_path / "Documents").mkdir()
    return tmp_path / "Documents"


@pytest.fixture
def app(tmp_path: Path, documents: Path) -> Walkabout:
    assert documents.is_dir()
    return app_for(write_small_room(tmp_path / "room", name="Room [b]x[/b]"))


async def opened(app: Walkabout, pilot: Pilot[Any], what: str = "", trial: str = "") -> PaperScreen:
    screen = PaperScreen(what, trial)
    await app.push_screen(screen)
    await pilot.pause()
    return screen


async def written(app: Walkabout, pilot: Pilot[Any]) -> str:
    """Press enter, wait until it says what came of it, and return that on one line."""
    await pilot.press("enter")
    for _ in range(500):
        await pilot.pause(0.02)
        if "Written:" in shown(app) or "▴" in shown(app):
            break
    return " ".join(shown(app).split())


def joined(seen: str) -> str:
    """Return a text without its blanks: a long path goes on over several lines."""
    return "".join(seen.split())


@pytest.mark.parametrize("size", SIZES)
async def test_all_that_can_be_printed_is_there(app: Walkabout, size: tuple[int, int]) -> None:
    """Each kind has its line with what it is for; below stands what can be changed, with its keys, and the file."""
    async with app.run_test(size=size) as pilot:
        screen = await opened(app, pilot)
        for number, kind in enumerate(KINDS):
            seen = shown(app)
            assert all(one.title in seen for one in KINDS)
            assert screen.chosen.kind == kind
            assert all(one.about[:20] in seen for one in KINDS)
            lines = [line.split()[:2] for line in seen.splitlines()]
            for key, name, _, _ in screen.chosen.options(app.opened):
                assert [key, name] in lines
            assert "Enter writes" in seen
            await press(pilot, "pagedown", "pagedown")
            assert ("i types in" in shown(app)) == (kind.name == "round")
            if number + 1 < len(KINDS):
                await pilot.press("down")
                await pilot.pause()


@pytest.mark.parametrize("what", [one for one in WHAT if one != "certificate"])
async def test_each_kind_is_written(app: Walkabout, documents: Path, what: str) -> None:
    """Enter writes the file into the documents and says where it lies and how many pages it has."""
    app.opened.save(a_trial(app.opened, "warm"))
    async with app.run_test(size=(120, 40)) as pilot:
        await opened(app, pilot, what)
        says = await written(app, pilot)
        files = list(documents.iterdir())
        assert len(files) == 1
        pages = len(reader(files[0].read_bytes()).pages)
        assert joined(f"✓ Written: {files[0]}, {pages} page{'s' if pages > 1 else ''} of A4.") in joined(says)
        assert files[0].name.startswith(what)
        assert files[0].name.endswith("2026-11-25.pdf")
        assert "Room [b]x[/b]" in text(files[0].read_bytes())


async def test_the_screen_goes_on_while_it_is_written(
    app: Walkabout, documents: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Keys work meanwhile, a second enter does nothing, and what came of it is told on whatever screen is open."""
    import threading

    from walkabout.screens import paper

    go, times = threading.Event(), []

    def slow(path: Path, data: bytes) -> int:
        times.append(path)
        assert go.wait(20)
        path.write_bytes(data)
        return 7

    monkeypatch.setattr(paper, "write_pdf", slow)
    async with app.run_test(size=(100, 30), notifications=True) as pilot:
        screen = await opened(app, pilot, "cards")
        await pilot.press("enter", "enter")
        for _ in range(500):
            await pilot.pause(0.02)
            if times:
                break
        assert "Writing …" in shown(app)
        await pilot.press("enter", "down", "s", "enter")
        await pilot.pause()
        assert screen.chosen.kind.name == "labels"
        assert screen.chosen.size(app.opened) == "Letter"
        await pilot.press("escape")
        await pilot.pause()
        assert app.screen is not screen
        go.set()
        said: list[str] = []
        for _ in range(500):
            await pilot.pause(0.02)
            if said := [one.message for one in app._notifications]:
                break
        assert any(one.endswith("7 pages of A4.") for one in said), said
        assert times == [documents / "cards-2026-11-25.pdf"]


async def test_what_can_be_changed_for_the_round(app: Walkabout, documents: Path) -> None:
    """Another day, a walker and the other paper stand on the sheet and in the name of the file."""
    on = TODAY + timedelta(days=2)
    async with app.run_test(size=(100, 30)) as pilot:
        await opened(app, pilot)
        await press(pilot, "s", "d", "in 2 days", "enter", "a")
        assert "Whose round is it?" in shown(app)
        await press(pilot, "3")
        await pilot.pause()
        await written(app, pilot)
        data = (documents / f"round-{on}.pdf").read_bytes()
        assert sizes(data) == {(215.9, 279.4)}
        assert f"{on:%A} {on.day} {on:%B %Y}" in text(data)
        assert "K7" in text(data).split()


async def test_what_can_be_changed_for_a_certificate(app: Walkabout, documents: Path) -> None:
    """A class and days; days that end before they begin are refused where they are typed."""
    async with app.run_test(size=(100, 30)) as pilot:
        screen = await opened(app, pilot, "certificate")
        await press(pilot, "c", "class 8b", "enter", "d", "2026-10-01", "enter", "2026-09-01", "enter")
        assert "It ends before it begins" in shown(app)
        await press(pilot, "escape", "escape")
        assert (screen.chosen.since, screen.chosen.until) == (None, None)
        await press(pilot, "d", "2026-10-01", "enter", "enter")
        await pilot.pause()
        says = await written(app, pilot)
        assert "▴ Nothing was harvested in these days." in says
        assert "certificate-class-8b-2026-10-01-to-2026-11-25.pdf" in joined(says)
        assert list(documents.iterdir()) == []


async def test_a_blind_trial_warns_whoever_measures(app: Walkabout, documents: Path) -> None:
    """The trial is chosen from the list; of a blind one it says that there are two lists, and who sees which."""
    app.opened.save(a_trial(app.opened, "warm", blind=True))
    async with app.run_test(size=(100, 30)) as pilot:
        await opened(app, pilot, "plots", "tr-1")
        assert "Whoever measures neither prints nor sees the key." in " ".join(shown(app).split())
        await pilot.press("t")
        await pilot.pause()
        assert "Which trial?" in shown(app)
        await pilot.press("1")
        await pilot.pause()
        await written(app, pilot)
        assert "For whoever marks the plots" in text((documents / "plots-does-warm-help-2026-11-25.pdf").read_bytes())


async def test_a_room_without_a_trial(app: Walkabout, documents: Path) -> None:
    """The line says so, and so does enter; nothing is written."""
    async with app.run_test(size=(100, 30)) as pilot:
        await opened(app, pilot, "plots")
        assert "there is none yet" in shown(app)
        assert "▴ There is no trial in this room yet." in await written(app, pilot)
        assert list(documents.iterdir()) == []


async def test_another_file_and_folder(app: Walkabout, documents: Path, tmp_path: Path) -> None:
    """A name holds for its kind, a folder for all; a folder that is not there and an empty line are refused."""
    other = tmp_path / "for class"
    other.mkdir()
    async with app.run_test(size=(120, 30)) as pilot:
        screen = await opened(app, pilot, "cards")
        await press(pilot, "w")
        assert joined(f"Now: {documents / 'cards-2026-11-25.pdf'}") in joined(shown(app))
        await press(pilot, "ctrl+u", str(tmp_path / "gone" / "x.pdf"), "enter")
        assert "There is no folder" in shown(app)
        await press(pilot, "ctrl+u", "enter")
        assert "Type a file" in shown(app)
        await press(pilot, str(other / "my cards"), "enter")
        await pilot.pause()
        assert screen.chosen.path(app.opened) == other / "my cards.pdf"
        assert joined(f"Enter writes {other / 'my cards.pdf'}") in joined(shown(app))
        await written(app, pilot)
        assert (other / "my cards.pdf").is_file()
        await pilot.press("down")
        await pilot.pause()
        assert screen.chosen.path(app.opened) == other / "labels-2026-11-25.pdf"
        await press(pilot, "up", "w", "ctrl+u", str(documents), "enter")
        await pilot.pause()
        assert screen.chosen.path(app.opened) == documents / "cards-2026-11-25.pdf"


async def test_what_is_not_ours_is_left(app: Walkabout, documents: Path) -> None:
    """A file of somebody else stays as it is, and one line says so."""
    file = documents / "cards-2026-11-25.pdf"
    file.write_bytes(b"marks of a class")
    async with app.run_test(size=(120, 30)) as pilot:
        await opened(app, pilot, "cards")
        assert "It was left as it is" in await written(app, pilot)
        assert file.read_bytes() == b"marks of a class"


async def test_with_the_mouse(app: Walkabout, documents: Path) -> None:
    """A click points, a second one writes; a click on what can be changed changes it."""
    async with app.run_test(size=(100, 30)) as pilot:
        screen = await opened(app, pilot)
        kinds, options = screen.query_one("#kinds", PointList), screen.query_one("#options", PointList)
        await pilot.click(kinds, offset=(4, 2))
        await pilot.pause()
        assert screen.chosen.kind.name == "labels"
        await pilot.click(options, offset=(6, 0))
        await pilot.pause()
        assert screen.chosen.size(app.opened) == "Letter"
        await pilot.click(options, offset=(6, 0))
        await pilot.pause()
        assert screen.chosen.size(app.opened) == "A4"
        await pilot.click(options, offset=(6, 1))
        await pilot.pause()
        assert "Write it to which file?" in shown(app)
        await pilot.press("escape")
        await pilot.pause()
        await pilot.click(kinds, offset=(4, 2))
        for _ in range(500):
            await pilot.pause(0.02)
            if "Written:" in shown(app):
                break
        assert [one.name for one in documents.iterdir()] == ["labels-2026-11-25.pdf"]


async def test_typing_in_leaves_the_screen(app: Walkabout, documents: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The dialogue is run for the day that was typed, with the screen out of the way, and then the screen is back."""
    assert documents.is_dir()
    called: list[list[str]] = []
    out: list[bool] = []

    @contextmanager
    def away() -> Iterator[None]:
        out.append(True)
        yield
        out.append(False)

    def runs(words: list[str], **_: object) -> subprocess.CompletedProcess[bytes]:
        assert out == [True]
        called.append(words)
        return subprocess.CompletedProcess(words, 0)

    monkeypatch.setattr(app, "suspend", away)
    monkeypatch.setattr(typing_in.subprocess, "run", runs)
    monkeypatch.setattr("builtins.input", lambda _: "")
    async with app.run_test(size=(100, 30)) as pilot:
        screen = await opened(app, pilot)
        await press(pilot, "i", "2026-11-26", "enter")
        assert "still to come" in shown(app)
        await press(pilot, "ctrl+u", "2025-01-01", "enter")
        assert "days ago" in shown(app)
        await press(pilot, "ctrl+u", "2026-11-24", "enter")
        await pilot.pause()
        room = str(app.opened.folder)
        assert [one[1:] for one in called] == [
            ["-m", "walkabout", "--room", room, "sheet", "--type-in", "--day", "2026-11-24"]
        ]
        assert out == [True, False]
        assert app.screen is screen


async def test_a_window_that_cannot_be_left(app: Walkabout) -> None:
    """Where the screen cannot step aside, the command is said instead."""
    async with app.run_test(size=(100, 30), notifications=True) as pilot:
        await opened(app, pilot)
        await press(pilot, "i", "enter")
        await pilot.pause(0.1)
        assert "walkabout sheet --type-in --day 2026-11-25" in " ".join(shown(app).split())


async def test_without_colour(app: Walkabout, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """What came of it has a sign besides its colour."""
    monkeypatch.setenv("NO_COLOR", "1")
    app = app_for(tmp_path / "room")
    async with app.run_test(size=(100, 30)) as pilot:
        await opened(app, pilot, "cards")
        assert "✓ Written:" in await written(app, pilot)
