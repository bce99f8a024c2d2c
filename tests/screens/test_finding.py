import errno
import os
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from walkabout.records.model import Finding, Job
from walkabout.round.opened import OpenRoom
from walkabout.screens.app import Walkabout
from walkabout.screens.finding import FindingScreen
from walkabout.screens.jobs import JobsScreen
from walkabout.screens.widgets.advice import AdviceScreen
from walkabout.screens.widgets.keyline import KeyLine

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
"""A Wednesday."""
ROOM = """
name = "Glass room"
[people.AR]
role = "adult"
[people.K7]
role = "pupil"
[people.Z9]
role = "pupil"
until = 2026-07-31
[[station]]
key = "tub"
name = "Raft tub"
kind = "raft"
[[station]]
key = "pots"
name = "Window [/b] pots"
kind = "pots"
"""
HOSTILE = ("half [/b] open", "[/ x", "[red]x[/red]", "[@click=app.quit]x[/]", "[bold]x[/]", "白い粉 [/b]", "long " * 31)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "room.toml").write_text(ROOM, encoding="utf-8")
    return tmp_path


@pytest.fixture
def start(folder: Path) -> Callable[..., Walkabout]:
    def make(walker: str = "K7") -> Walkabout:
        return Walkabout(OpenRoom(folder, clock=lambda: NOW), "jobs", walker)

    return make


def painted(app: Walkabout) -> str:
    strips = app.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in strip) for strip in strips)


def squeezed(text: str) -> str:
    """Leave out what wrapping and the edges of a message put between the letters."""
    return "".join(text.split()).replace("▌", "")


def written(folder: Path) -> tuple[list[Finding], list[Job]]:
    """Read the records as another program would find them."""
    other = OpenRoom(folder, clock=lambda: NOW)
    return list(other.findings.values()), list(other.jobs.values())


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_four_short_steps(start: Callable[..., Walkabout], folder: Path, size: tuple[int, int]) -> None:
    """Where, what, how bad: the steps stand under each other, and the last answer writes it down."""
    app = start()
    async with app.run_test(size=size, notifications=True) as pilot:
        await pilot.press("f")
        seen = painted(app)
        places = [seen.index(one) for one in ("Where is it?", "What is seen?", "How bad is it?", "Who saw it? K7")]
        assert places == sorted(places)
        assert "▸ Where is it?" in seen
        assert "2  Window [/b] pots" in seen
        await pilot.press("2")
        assert "✓ Where is it? Window [/b] pots" in painted(app)
        assert "▸ What is seen?" in painted(app)
        await pilot.press(*"3 spots 12", "enter")
        assert "✓ What is seen? 3 spots 12" in painted(app)
        assert "4  stop: people first" in painted(app)
        await pilot.press("1")
        await pilot.pause()
        assert isinstance(app.screen, JobsScreen)
        assert squeezed("Written down. Look again on Saturday 28 Nov.") in squeezed(painted(app))
    findings, jobs = written(folder)
    assert jobs == []
    one = findings[0]
    assert (one.station, one.seen, one.verdict, one.by, one.at) == ("pots", "3 spots 12", "watch", "K7", NOW)
    assert (one.recheck, one.who, len(findings)) == (date(2026, 11, 28), "pupil", 1)


async def test_enter_keeps_the_station_one_comes_from(start: Callable[..., Walkabout], folder: Path) -> None:
    """A finding flagged at a station begins there; for today it makes a job, and that is said."""
    app = start("AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        app.push_screen(FindingScreen(station="pots", walker="AR"))
        await pilot.press("enter", *"wilted", "enter", "2")
        await pilot.pause()
        words = squeezed("Written down. There is a job for an adult. Look again tomorrow, Thursday 26 Nov.")
        assert words in squeezed(painted(app))
        assert "Decide what to do: wilted" in painted(app)
    findings, jobs = written(folder)
    assert findings[0].station == "pots"
    assert (jobs[0].finding, jobs[0].who, jobs[0].verdict) == (findings[0].key, "adult", "today")


async def test_nothing_is_chosen_by_enter_without_a_station(start: Callable[..., Walkabout], folder: Path) -> None:
    """From nowhere in particular, enter does not choose a place; how bad it is is never chosen for anybody."""
    app = start()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("f", "enter", "9")
        assert "▸ Where is it?" in painted(app)
        await pilot.press("3", *"smell", "enter", "enter", "5")
        assert "✓ Where is it? The room as a whole" in painted(app)
        assert "▸ How bad is it?" in painted(app)
    assert written(folder) == ([], [])


@pytest.mark.parametrize(
    ("walker", "key", "says"),
    [
        ("K7", "3", ("NOW. Before anybody leaves the room.", "Fetch an adult, before anybody leaves")),
        ("K7", "4", ("STOP. People first, hands off", "Step back, and take the others with you.", "Fetch an adult.")),
        ("AR", "4", ("STOP. People first, hands off", "Take everybody away from it")),
    ],
)
async def test_what_cannot_wait_fills_the_screen(
    start: Callable[..., Walkabout], folder: Path, walker: str, key: str, says: tuple[str, ...]
) -> None:
    """It is on disk before it is said what to do, by whom, and what not to touch; a pupil is only told to fetch."""
    app = start(walker)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("f", "1", *"wet [/] plug", "enter", key)
        await pilot.pause()
        assert isinstance(app.screen, AdviceScreen)
        findings, jobs = written(folder)
        seen = squeezed(painted(app))
        for one in (*says, "Raft tub. wet [/] plug", "Hands off: plugs, leads, lamps", "There is a job for an adult."):
            assert squeezed(one) in seen
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, JobsScreen)
    assert (findings[0].who, jobs[0].who, jobs[0].finding) == ("adult", "adult", findings[0].key)


async def test_who_is_asked_when_nobody_is_known(start: Callable[..., Walkabout], folder: Path) -> None:
    """The codes that have not ended can be chosen, or one is typed; it counts for this finding only."""
    app = start("")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("f", "1", *"spots", "enter", "1")
        assert "▸ Who saw it?" in painted(app)
        assert "K7" in painted(app)
        assert "Z9" not in painted(app)
        await pilot.press("3", "b", "enter")
        assert "never a name" in painted(app)
        await pilot.press("5", "enter")
        await pilot.pause()
        assert app.walker == ""
        await pilot.press("f", "1", *"mould", "enter", "1", "2")
        await pilot.pause()
    assert [one.by for one in written(folder)[0]] == ["B5", "K7"]


async def test_somebody_else_saw_it(start: Callable[..., Walkabout], folder: Path) -> None:
    """With a walker known, u asks for another code, and the steps left come after it."""
    app = start("AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("f", "1", *"spots", "enter", "u", "2")
        assert "✓ Who saw it? K7" in painted(app)
        assert "▸ How bad is it?" in painted(app)
        await pilot.press("1")
        await pilot.pause()
    assert (written(folder)[0][0].by, app.walker) == ("K7", "AR")


async def test_escape_leaves_without_writing(start: Callable[..., Walkabout], folder: Path) -> None:
    """Nothing is written down; that is only worth a word when something was typed."""
    app = start()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("f", "1", "escape")
        await pilot.pause()
        assert isinstance(app.screen, JobsScreen)
        assert "Nothing was written down" not in painted(app)
        await pilot.press("f", "1", "x", "escape")
        await pilot.pause()
        assert isinstance(app.screen, JobsScreen)
        assert "Left. Nothing was written down." in painted(app)
    assert written(folder) == ([], [])


async def test_too_short_a_text(start: Callable[..., Walkabout], folder: Path) -> None:
    """Less than three letters say nothing; more than 160 do not fit."""
    app = start()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("f", "1", "x", "space", "enter")
        assert "Write in a few words what is seen." in painted(app)
        assert "▸ What is seen?" in painted(app)
        line = app.screen.query_one("#seen")
        assert line.max_length == 160  # type: ignore[attr-defined]
        line.value = "y" * 160  # type: ignore[attr-defined]
        await pilot.press("z", "enter", "1")
        await pilot.pause()
    assert written(folder)[0][0].seen == "y" * 160


async def test_going_back(start: Callable[..., Walkabout], folder: Path) -> None:
    """Back from how bad to the text and from the text to the place; what was typed is still there."""
    app = start()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("f", "1", *"spots", "enter", "left")
        assert "▸ What is seen?" in painted(app)
        await pilot.press("up")
        assert "▸ Where is it?" in painted(app)
        await pilot.press("2", "s", "enter", "1")
        await pilot.pause()
    one = written(folder)[0][0]
    assert (one.station, one.seen) == ("pots", "spotss")


async def test_the_mouse_does_all_but_typing(start: Callable[..., Walkabout], folder: Path) -> None:
    """Rows, steps and the keys in the bottom line can be clicked."""
    app = start("")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("f")
        await pilot.click("#pick-where", offset=(6, 0))
        await pilot.press(*"spots")
        await pilot.click(KeyLine, offset=(2, 0))
        assert "▸ How bad is it?" in painted(app)
        await pilot.click("#step-where", offset=(4, 0))
        assert "▸ Where is it?" in painted(app)
        await pilot.click("#pick-where", offset=(6, 1))
        await pilot.click("#pick-bad", offset=(6, 0))
        await pilot.click("#pick-who", offset=(6, 1))
        await pilot.pause()
        assert isinstance(app.screen, JobsScreen)
    one = written(folder)[0][0]
    assert (one.station, one.seen, one.verdict, one.by) == ("pots", "spots", "watch", "K7")


@pytest.mark.parametrize("text", HOSTILE)
@pytest.mark.parametrize("key", ["1", "4"])
async def test_text_stands_as_typed(start: Callable[..., Walkabout], folder: Path, text: str, key: str) -> None:
    """Whatever was typed is shown as typed, and kept so, on every step and in the advice."""
    app = start()
    async with app.run_test(size=(100, 30), notifications=True) as pilot:
        await pilot.press("f", "1")
        app.screen.query_one("#seen").value = text  # type: ignore[attr-defined]
        await pilot.press("enter")
        await pilot.pause()
        assert squeezed(text) in squeezed(painted(app))
        await pilot.press(key)
        await pilot.pause()
        assert squeezed(text)[:30] in squeezed(painted(app))
        assert app.is_running
    assert written(folder)[0][0].seen == text.strip()


async def test_more_places_than_digits(tmp_path: Path) -> None:
    """In a large room the arrows reach what has no digit, also on a low screen."""
    stations = "".join(f'[[station]]\nkey = "s{n}"\nname = "Shelf {n}"\nkind = "shelf"\n' for n in range(1, 16))
    (tmp_path / "room.toml").write_text(f'name = "Large"\n[people.K7]\n{stations}', encoding="utf-8")
    app = Walkabout(OpenRoom(tmp_path, clock=lambda: NOW), "jobs", "K7")
    async with app.run_test(size=(60, 20), notifications=True) as pilot:
        await pilot.press("f", "up", "up")
        await pilot.pause()
        assert "Shelf 15" in painted(app)
        await pilot.press("enter")
        assert "✓ Where is it? Shelf 15" in painted(app)


async def test_a_full_disk_is_told(
    start: Callable[..., Walkabout], folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is only in memory is said, in the advice too."""
    app = start()

    def full(*_: object) -> int:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("f", "1", *"smoke", "enter")
        with monkeypatch.context() as patch:
            patch.setattr(os, "write", full)
            await pilot.press("4")
            await pilot.pause()
            assert "Not on disk yet:" in painted(app)
            assert len(app.opened.findings) == 1
        assert app.opened.retry() == ""
    assert written(folder)[0][0].seen == "smoke"
