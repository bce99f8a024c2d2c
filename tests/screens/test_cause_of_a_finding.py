"""On the jobs screen an adult says what a finding turned out to be, and takes it back."""

from pathlib import Path

import pytest
from textual.pilot import Pilot

from tests.rooms import NOW, write_small_room
from tests.screens.driving import shown
from walkabout.diagnosis.evidence import UNLISTED
from walkabout.jobs.findings import close, confirm_cause, flag
from walkabout.records.model import Finding
from walkabout.round.lookup import ready
from walkabout.round.opened import OpenRoom
from walkabout.screens.app import Walkabout
from walkabout.screens.cause import CauseScreen
from walkabout.screens.causes import PickCauseScreen
from walkabout.screens.jobs import JobsScreen
from walkabout.screens.widgets.asking import PickScreen
from walkabout.screens.widgets.blocks import Blocks


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_small_room(tmp_path / "room")


def a_finding(seen: str = "white powder on the leaves") -> Finding:
    return flag(station="pots", seen=seen, verdict="watch", by="K7", now=NOW)


def app_with(folder: Path, finding: Finding, walker: str = "AR") -> Walkabout:
    opened = OpenRoom(folder, lambda: NOW)
    opened.save(finding)
    return Walkabout(opened, "jobs", walker)


async def settled(pilot: Pilot[int], app: Walkabout) -> None:
    """Wait for what is loaded beside the screen."""
    await app.workers.wait_for_complete()
    await pilot.pause()


def on_disk(folder: Path, finding: Finding) -> Finding:
    return OpenRoom(folder, lambda: NOW).findings[finding.key]


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_an_adult_picks_from_what_the_lookup_ranks(folder: Path, size: tuple[int, int]) -> None:
    """The key n offers the ranked causes with their words; one key writes the first down, and what it moves is said."""
    finding = a_finding()
    app = app_with(folder, finding)
    async with app.run_test(size=size, notifications=True) as pilot:
        await pilot.press("n")
        await settled(pilot, app)
        assert "What did it turn out to be?" in shown(app)
        assert "powdery mildew" in shown(app)
        await pilot.press("1")
        await settled(pilot, app)
        assert isinstance(app.screen, JobsScreen)
        assert "Cause, confirmed by AR: powdery mildew" in str(app.screen.query_one("#known").render())
        said = "".join(str(one.render()) for one in app.screen.query("Toast"))
        assert "confirmed once in this room, so it is thought of sooner here" in " ".join(said.split())
    named = on_disk(folder, finding)
    assert (named.cause, named.cause_by, named.closed) == ("powdery-mildew", "AR", None)


async def test_the_list_of_all_is_one_row_away(folder: Path) -> None:
    """The last row of the ranked ones opens every cause; typing finds one, enter writes it down."""
    finding = a_finding()
    app = app_with(folder, finding)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("n")
        await settled(pilot, app)
        assert isinstance(app.screen, PickScreen)
        await pilot.press(*["down"] * 10, "enter")
        await settled(pilot, app)
        assert isinstance(app.screen, PickCauseScreen)
        keys = app.screen.query_one(Blocks).keys
        assert set(keys) == {*ready().known.causes, UNLISTED}
        assert keys[-1] == UNLISTED
        await pilot.press(*"spider mi", "f2")
        await pilot.pause()
        assert isinstance(app.screen, CauseScreen)
        await pilot.press("escape", "enter")
        await settled(pilot, app)
        assert isinstance(app.screen, JobsScreen)
    assert on_disk(folder, finding).cause == "spider-mite"


async def test_what_is_on_no_list_is_found_by_its_words(folder: Path) -> None:
    """It stands at the end of the list of all; escape writes nothing down."""
    finding = a_finding()
    app = app_with(folder, finding)
    async with app.run_test(size=(80, 24)) as pilot:
        for keys in (("escape",), (*"not on", "enter")):
            await pilot.press("n")
            await settled(pilot, app)
            await pilot.press(*["down"] * 10, "enter")
            await settled(pilot, app)
            assert app.opened.findings[finding.key].cause == ""
            await pilot.press(*keys)
            await settled(pilot, app)
    assert on_disk(folder, finding).cause == "not-listed"


async def test_a_wrong_key_leaves_one_message(folder: Path) -> None:
    """Pressed again and again, it says the last one only."""
    app = app_with(folder, a_finding())
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("d", "d", "o", "m", "d")
        await settled(pilot, app)
        assert len(app.screen.query("Toast")) == 1


async def test_a_confirmed_cause_is_taken_back(folder: Path) -> None:
    """The key n on a named finding asks whether it stands; 2 takes it back, escape leaves it."""
    finding = confirm_cause(a_finding(), "rust", "rust", "BO", "adult", NOW)
    app = app_with(folder, finding)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("n")
        await settled(pilot, app)
        assert "Confirmed: rust. Does it stand?" in shown(app)
        await pilot.press("escape")
        assert app.opened.findings[finding.key].cause == "rust"
        await pilot.press("n")
        await settled(pilot, app)
        await pilot.press("2")
        await settled(pilot, app)
    assert (on_disk(folder, finding).cause, on_disk(folder, finding).cause_by) == ("", "")


async def test_a_closed_finding_can_still_be_named(folder: Path) -> None:
    """Among the closed ones n works as well."""
    finding = close(a_finding(), "AR", "adult", NOW, "wiped off")
    app = app_with(folder, finding)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("h")
        await pilot.pause()
        assert "n cause" in shown(app)
        await pilot.press("n")
        await settled(pilot, app)
        await pilot.press("1")
        await settled(pilot, app)
    assert on_disk(folder, finding).cause == "powdery-mildew"


async def test_a_pupil_names_no_cause(folder: Path) -> None:
    """It is said who may, nothing is asked and nothing changes."""
    finding = a_finding()
    app = app_with(folder, finding, walker="K7")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("n")
        await settled(pilot, app)
        assert isinstance(app.screen, JobsScreen)
        assert "Only an adult may confirm a cause" in "".join(str(one.render()) for one in app.screen.query("Toast"))
    assert on_disk(folder, finding) == finding
