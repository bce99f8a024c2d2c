"""The page for whoever takes over, on the screen: there from the almanac and the palette, read with keys alone."""

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from tests.rooms import write_small_room
from tests.screens.driving import almanac_ready, app_for, shown
from walkabout.jobs.findings import flag
from walkabout.screens.almanac import AlmanacScreen
from walkabout.screens.app import Walkabout
from walkabout.screens.handover import HandoverScreen

SIZES = [(80, 24), (120, 40), (60, 20)]


def small(tmp_path: Path, **names: str) -> Walkabout:
    return app_for(write_small_room(tmp_path / "room", **names))


async def at_the_page(pilot: Pilot[Any]) -> None:
    await almanac_ready(pilot)
    await pilot.press("h")
    await pilot.pause()


async def all_of_it(app: Walkabout, pilot: Pilot[Any]) -> str:
    """Return all that comes by while one reads to the end, with its lines joined."""
    seen: list[str] = []
    for _ in range(60):
        seen.append(shown(app))
        await pilot.press("pagedown")
        await pilot.pause()
        if shown(app) == seen[-1]:
            break
    return " ".join(" ".join(seen).split())


@pytest.mark.parametrize("size", SIZES)
async def test_the_page_opens_and_is_read_to_its_end(size: tuple[int, int], tmp_path: Path) -> None:
    """Every part comes by with the page key; escape goes back to the almanac."""
    app = small(tmp_path)
    async with app.run_test(size=size) as pilot:
        await at_the_page(pilot)
        assert isinstance(app.screen, HandoverScreen)
        read = await all_of_it(app, pilot)
        for title in ("Today", "The days to come", "Station by station", "Open findings", "Promised", "Whom to ask"):
            assert title in read
        assert "First aid: ____" in read
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, AlmanacScreen)


@pytest.mark.parametrize("size", SIZES)
async def test_parts_are_gone_through(size: tuple[int, int], tmp_path: Path) -> None:
    """Tab puts the next part at the top of the page, and back again."""
    app = small(tmp_path)
    async with app.run_test(size=size) as pilot:
        await at_the_page(pilot)
        await pilot.press("tab", "tab", "tab")
        await pilot.pause()
        assert "Station by station" in "\n".join(shown(app).splitlines()[:4])
        await pilot.press("home")
        await pilot.pause()
        assert "The days to come" in "\n".join(shown(app).splitlines()[:6])


async def test_the_keys_that_work_stand_below(tmp_path: Path) -> None:
    """At 80x24 the last line names reading on, the next part and the way back."""
    app = small(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await at_the_page(pilot)
        last = shown(app).splitlines()[-1]
        assert all(word in last for word in ("read on", "next part", "back"))
        assert all(len(row) <= 80 for row in shown(app).splitlines())


async def test_it_opens_from_the_palette(tmp_path: Path) -> None:
    """The palette of Today offers it by name."""
    app = small(tmp_path)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("ctrl+p")
        await pilot.pause(0.3)
        await pilot.press(*"hand over")
        await pilot.pause(0.5)
        await pilot.press("enter")
        for _ in range(100):
            await pilot.pause(0.02)
            if isinstance(app.screen, HandoverScreen):
                break
        assert isinstance(app.screen, HandoverScreen)


async def test_it_names_nobody(tmp_path: Path) -> None:
    """Who saw a finding stands nowhere, not even where it was typed."""
    app = small(tmp_path)
    app.opened.save(flag(station="tub", seen="K7 saw a wet plug", verdict="today", by="K7", now=app.opened.clock()))
    async with app.run_test(size=(80, 24)) as pilot:
        await at_the_page(pilot)
        # the top line says whose code is set on this machine; the page below it says nothing of anybody
        read = await all_of_it(app, pilot)
        assert "somebody saw a wet plug" in read
        assert "K7" not in read
        assert "AR" not in read.split()


@pytest.mark.parametrize("text", ["[@click=app.quit]x[/] [/b]", "[red]a[/red]", "a\\nb"])
async def test_hostile_text_is_shown_as_typed(text: str, tmp_path: Path) -> None:
    """Names and findings are neither markup nor commands."""
    app = small(tmp_path, name=text, station=text)
    app.opened.save(flag(station="tub", seen=text, verdict="today", by="K7", now=app.opened.clock()))
    async with app.run_test(size=(110, 40)) as pilot:
        await at_the_page(pilot)
        read = await all_of_it(app, pilot)
        assert read.count(" ".join(text.split())) >= 3
        assert app.is_running


async def test_what_changed_meanwhile_is_shown(tmp_path: Path) -> None:
    """A finding that another program wrote stands there after the next look."""
    app = small(tmp_path)
    async with app.run_test(size=(110, 40)) as pilot:
        await at_the_page(pilot)
        app.opened.save(flag(station="tub", seen="brown roots", verdict="today", by="K7", now=app.opened.clock()))
        app.screen.renew()  # type: ignore[attr-defined]
        await pilot.pause()
        assert "brown roots" in await all_of_it(app, pilot)
