"""The screen for working things out: by keys, by mouse, from the station that is open, and into a job."""

from pathlib import Path

import pytest
from textual.pilot import Pilot

from tests.rooms import write_small_room
from tests.screens.driving import app_for, shown
from walkabout.records.model import Answer
from walkabout.screens.app import Walkabout
from walkabout.screens.widgets.fields import Fields
from walkabout.screens.widgets.pointed import Pointed
from walkabout.screens.workout import WorkOutScreen


def room(folder: Path, more: str = "") -> Path:
    """Return a small room whose tap water is known."""
    folder = folder / "room"
    write_small_room(folder)
    file = folder / "room.toml"
    file.write_text(file.read_text(encoding="utf-8") + "\n[water]\nec = 0.4\n" + more, encoding="utf-8")
    return folder


async def begin(app: Walkabout, pilot: Pilot[int], name: str = "bring", station: str = "tub") -> WorkOutScreen:
    """Open it at one reckoning, for one station."""
    screen = WorkOutScreen(station, name)
    await app.push_screen(screen)
    await pilot.pause()
    return screen


async def test_a_tank_is_brought_right_with_keys_alone(tmp_path: Path) -> None:
    """= opens it; the fields start from the station; what is to be done changes with each key; f2 makes the job."""
    app = app_for(room(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(app, pilot)
        assert "Bring the tank right" in shown(app)
        assert "Still needed: EC now" in shown(app)
        await pilot.press("enter")  # to the first field that is needed and empty
        assert app.screen.query_one(Fields).pointed.key == "ec"
        await pilot.press(*"2.4", "enter", *"1.6")
        text = shown(app)
        assert "Take out 24 L" in text  # 60 × (2.4 − 1.6) ÷ (2.4 − 0.4) = 24, formula 3 of the mass balance
        before = set(app.opened.jobs)
        await pilot.press("f2")
        made = [job for key, job in app.opened.jobs.items() if key not in before]
        assert [(job.station, job.who) for job in made] == [("tub", "pupil")]
        assert "24 L" in made[0].what
        assert made[0].caution
        await pilot.press("f2")
        assert len(app.opened.jobs) == len(before) + 1, "the same job is not made twice"
        await pilot.press("escape", "escape")
        assert not isinstance(app.screen, WorkOutScreen)


async def test_it_starts_from_the_last_readings_of_the_station(tmp_path: Path) -> None:
    """EC of this morning, the tank's litres and the water's EC stand in the fields already."""
    app = app_for(room(tmp_path))
    now = app.opened.clock()
    app.opened.save(
        Answer(key="a1", round="r", at=now, walker="K7", station="tub", question="ec", value=1.83, unit="mS/cm")
    )
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(app, pilot)
        typed = screen.form.typed
        assert (typed["ec"], typed["capacity"], typed["water_ec"]) == ("1.83", "60", "0.4")
        assert "Raft tub · 60 L" in shown(app)


async def test_with_the_mouse_alone(tmp_path: Path) -> None:
    """A click points at a subject, a click at a field, a click turns words, clicks on the bottom line act."""
    app = app_for(room(tmp_path))
    async with app.run_test(size=(100, 30)) as pilot:
        await begin(app, pilot, "drift")
        fields = app.screen.query_one(Fields)
        await pilot.click(fields, offset=(2, 0))
        assert fields.has_focus
        for row in range(3):
            await pilot.click(fields, offset=(2, row))
            await pilot.click(fields, offset=(2, row))
        await pilot.pause()
        form = app.screen.form  # type: ignore[attr-defined]
        assert all(form.typed.get(key) for key in ("ec", "ph", "level"))
        listed = app.screen.query_one(Pointed)
        await pilot.click(listed, offset=(4, 4))
        assert listed.key != "drift"


async def test_units_and_station_can_be_changed(tmp_path: Path) -> None:
    """U shows US units and keeps what was meant; s starts from another station's values."""
    app = app_for(room(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(app, pilot)
        await pilot.press("u")
        assert screen.form.typed["capacity"] == "15.9"
        assert "US gal" in shown(app)
        await pilot.press("u", "s")
        await pilot.pause()
        await pilot.press("3")
        await pilot.pause()
        assert screen.station_key == "channels"
        assert screen.form.typed["capacity"] == "40"


async def test_salts_are_added_by_name(tmp_path: Path) -> None:
    """The line with a plus takes a name; an unknown one is answered with the nearest."""
    app = app_for(room(tmp_path))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        screen = await begin(app, pilot, "mix")
        await pilot.press("enter")
        fields = app.screen.query_one(Fields)
        while fields.pointed.key:
            await pilot.press("down")
        await pilot.press(*"KNO3", "enter", *"30")
        await pilot.pause()
        assert list(screen.form.more.values()) == ["30"]
        await pilot.press("down", *"unobtainium", "enter")
        await pilot.pause()
        assert "unobtainium" in shown(app)
        assert len(screen.form.more) == 1


@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
async def test_every_reckoning_can_be_shown(tmp_path: Path, size: tuple[int, int]) -> None:
    """Down through the whole list: each has its form, filled in or not, on any window."""
    app = app_for(room(tmp_path))
    async with app.run_test(size=size) as pilot:
        screen = await begin(app, pilot, "")
        listed, seen = app.screen.query_one(Pointed), set()
        while listed.key not in seen:
            seen.add(listed.key)
            assert screen.form.reckoning.name == listed.key
            listed.point(1)
            await pilot.pause()
        assert len(seen) >= 60
