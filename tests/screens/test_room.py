"""The room screen: what stands where, and plantings added, moved and ended with keys or the mouse alone."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from textual.geometry import Region
from textual.pilot import Pilot
from textual.widget import Widget
from textual.widgets import Input

from tests.screens.driving import shown
from walkabout.jobs.findings import flag
from walkabout.records.model import Move, Planting
from walkabout.round.opened import OpenRoom
from walkabout.screens.app import Walkabout
from walkabout.screens.room import RoomScreen
from walkabout.screens.widgets.keyline import KeyLine
from walkabout.screens.widgets.number import NumberLine
from walkabout.screens.widgets.pointlist import PointList

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
HOSTILE = ("half [/b] open", "[/", "[red]x[/red]", "[@click=app.quit]x[/]", "[bold]x[/]")
ROOM = """
name = "Test [b]room[/b]"
kit = ["pH meter", "EC meter"]
people = { AR = { role = "adult" }, K7 = { role = "pupil" } }
lamps = { bar = { kind = "led", watts = 60 } }
tanks = { chan = { litres = 40 } }
pumps = { w1 = {} }
[[station]]
key = "shelf"
name = "Sprout rack"
kind = "shelf"
lamps = ["bar"]
[[station]]
key = "film"
name = "Film channels"
kind = "film"
tank = "chan"
pumps = ["w1"]
[[station]]
key = "vine"
name = "Beans"
kind = "vine"
tank = "chan"
"""


def open_room(folder: Path, text: str = ROOM) -> OpenRoom:
    """Return a small room with basil on the film channels and tomatoes on the same tank."""
    (folder / "room.toml").write_text(text, encoding="utf-8")
    opened = OpenRoom(folder, clock=lambda: NOW)
    for key, crop, station, count in (("p1", "basil", "film", 10), ("p2", "tomato", "vine", 2)):
        sown = NOW.date() - timedelta(days=24)
        moves = (Move(day=sown, station="shelf"), Move(day=sown + timedelta(days=11), station=station))
        opened.save(Planting(key=key, crop=crop, sown=sown, count=count, moves=moves))
    return opened


def lines_of(widget: Widget) -> str:
    """Return a widget as it stands on the screen."""
    height, width = widget.size.height, widget.size.width
    return "\n".join(strip.text.rstrip() for strip in widget.render_lines(Region(0, 0, width, height)))


async def begin(app: Walkabout, pilot: Pilot[int], station: int) -> None:
    """Wait for the room screen and point at a station, counted from 0; the room as a whole is none."""
    await pilot.pause()
    assert isinstance(app.screen, RoomScreen)
    app.screen.query_one(PointList).pointed = station + 1
    await pilot.pause()


async def click_key(app: Walkabout, pilot: Pilot[int], word: str) -> None:
    """Click a key of the bottom line by what it says."""
    await pilot.pause()
    keys = app.screen.query_one(KeyLine)
    await pilot.click(keys, offset=(lines_of(keys).index(word) + 1, 0))
    await pilot.pause()


async def type_in(app: Walkabout, pilot: Pilot[int], text: str) -> None:
    """Put text into the open line at once, and hand it in."""
    await pilot.pause()
    app.screen.query_one(Input).value = text
    await pilot.pause()
    await pilot.press("enter")
    await pilot.pause()


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_the_room_shows_what_grows_where_and_what_it_wants(tmp_path: Path, size: tuple[int, int]) -> None:
    """Every station has its line; the one pointed at has its moves, its kit and the conflict on its tank."""
    opened = open_room(tmp_path)
    opened.save(flag(station="vine", seen=HOSTILE[0], verdict="today", by="K7", now=NOW))
    app = Walkabout(opened, "room", "AR")
    async with app.run_test(size=size, notifications=True) as pilot:
        await begin(app, pilot, 2)
        text = shown(app)
        assert ("Test [b]room[/b]" if size >= (80, 24) else "small window") in text
        assert "Sprout rack" in text
        assert "nothing grows" in text
        assert "10 basil" in text
        assert "▸ Beans" in text
        page = app.screen.query_one("#station")
        whole = " ".join(lines_of(page).split())
        assert "■ today: half [/b] open" in whole
        assert "sown 1 Nov at Sprout rack → Beans 12 Nov" in whole
        assert "Conflict: tomato wants at least 2 mS/cm" in whole
        assert "Tank chan: 40 L, changed every 14 days, shared with Film channels" in whole
        assert "esc back" in text or "? help" in text
        await pilot.press("up")
        assert "10 basil, 24 days" in lines_of(page)


async def test_mistakes_in_the_files_stand_at_the_end_as_they_were_typed(tmp_path: Path) -> None:
    """A word that the program does not know is listed with its line, brackets and all."""
    app = Walkabout(open_room(tmp_path, ROOM.replace('kit = ["pH', '"[/b]" = 1\nkit = ["pH')), "room", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 0)
        listed = lines_of(app.screen.query_one("#mistakes"))
        assert "Mistakes in the room's files" in listed
        assert "room.toml, line 3" in listed
        assert "[/b]" in listed


async def test_plants_from_outside_are_added_with_keys_alone(tmp_path: Path) -> None:
    """Crop by a short name, its caution once, then origin, variety, count, day and label, all as typed."""
    opened = open_room(tmp_path)
    app = Walkabout(opened, "room", "AR")
    async with app.run_test(size=(60, 20), notifications=True) as pilot:
        await begin(app, pilot, 0)
        await pilot.press("a")
        await pilot.pause()
        app.screen.query_one(Input).value = "toms"
        await pilot.pause()
        assert "▸ tomato" in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        assert "Caution: Only ripe fruit is food" in shown(app)
        await pilot.press("2")
        await type_in(app, pilot, HOSTILE[2])
        assert "Caution" not in shown(app)
        await pilot.press("3", "enter")
        await type_in(app, pilot, "soon")
        assert "'3 days ago'" in shown(app)
        await type_in(app, pilot, "2 weeks ago")
        await type_in(app, pilot, HOSTILE[3])
        text = " ".join(shown(app).split())
        assert "Written down. Sprout rack: 3 tomato '[red]x[/red]'" in text
    (made,) = [one for one in opened.plantings.values() if one.brought_in]
    assert (made.crop, made.count, made.station, made.variety) == ("tomato", 3, "shelf", HOSTILE[2])
    assert (made.label, made.sown) == (HOSTILE[3], date(2026, 11, 11))
    assert made.apart_until == date(2026, 12, 23)
    (reminder,) = opened.findings.values()
    assert (reminder.planting, reminder.recheck) == (made.key, date(2026, 12, 2))


async def test_a_sowing_is_added_with_the_mouse_alone(tmp_path: Path) -> None:
    """Station, crop, origin, digits and every 'go on' can be clicked; what is left open stays empty."""
    opened = open_room(tmp_path)
    app = Walkabout(opened, "room", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.pause()
        await pilot.click("#stations", offset=(5, 2))
        await click_key(app, pilot, "add a planting")
        rows = app.screen.query_one(PointList)
        at = lines_of(rows).splitlines().index(next(x for x in lines_of(rows).splitlines() if "  basil" in x))
        await pilot.click(PointList, offset=(4, at))
        await pilot.pause()
        await pilot.click(PointList, offset=(8, 0))
        await click_key(app, pilot, "go on")
        line = app.screen.query_one(NumberLine)
        for digit in ("1", "2"):
            await pilot.click(line, offset=(lines_of(line).splitlines()[2].index(digit), 2))
        await click_key(app, pilot, "go on")
        await click_key(app, pilot, "go on")
        await click_key(app, pilot, "write it down")
    made = [one for one in opened.plantings.values() if one.key not in ("p1", "p2")]
    assert [(one.crop, one.count, one.station, one.sown, one.label) for one in made] == [
        ("basil", 12, "film", NOW.date(), "")
    ]


async def test_a_part_is_moved_and_the_rest_stays(tmp_path: Path) -> None:
    """m, a count and the number of the station; a count that is not there is refused first."""
    opened = open_room(tmp_path)
    app = Walkabout(opened, "room", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 1)
        await pilot.press("m", "9", "9", "enter")
        await pilot.pause()
        assert "from 1 to 10" in shown(app)
        await pilot.press("backspace", "backspace", "4", "enter")
        await pilot.pause()
        assert "2  Beans   2 tomato, 24 days" in shown(app)
        await pilot.press("2")
        await pilot.pause()
        assert "4 moved to Beans" in shown(app)
    basil = {one.station: one.count for one in opened.plantings.values() if one.crop == "basil"}
    assert basil == {"film": 6, "vine": 4}


async def test_plants_that_stand_apart_do_not_join_others_by_mistake(tmp_path: Path) -> None:
    """Moving them among others asks once more; 'no' leads back to the stations."""
    opened = open_room(tmp_path)
    apart = Planting(key="p3", crop="mint", sown=NOW.date(), count=1, brought_in=True,
                     moves=(Move(day=NOW.date(), station="shelf"),), apart_until=date(2026, 12, 23))  # fmt: skip
    opened.save(apart)
    app = Walkabout(opened, "room", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 0)
        await pilot.press("m", "enter")
        await pilot.pause()
        await pilot.press("1")
        await pilot.pause()
        assert "stand apart until 23 Dec" in shown(app)
        await pilot.press("1")
        await pilot.pause()
        assert "To which station?" in shown(app)
        assert opened.plantings["p3"].station == "shelf"


async def test_a_planting_ends_with_its_reason_and_stays_on_record(tmp_path: Path) -> None:
    """e, how, how many, and what to remember; escape goes one step back and loses nothing."""
    opened = open_room(tmp_path)
    app = Walkabout(opened, "room", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 2)
        await pilot.press("e", "2")
        await pilot.pause()
        await pilot.press("escape")
        await pilot.pause()
        assert "How did it end?" in shown(app)
        await pilot.press("3")
        await pilot.pause()
        await pilot.press("enter")
        await type_in(app, pilot, HOSTILE[1])
        assert "Nothing grows here" in lines_of(app.screen.query_one("#station"))
    ended = opened.plantings["p2"]
    assert (ended.ended, ended.reason, ended.count) == (NOW.date(), f"composted: {HOSTILE[1]}", 2)


async def test_typed_text_is_never_markup(tmp_path: Path) -> None:
    """Hostile, long, wide and broken texts in every field stand on the screen as they are."""
    opened = open_room(tmp_path)
    texts = (*HOSTILE, "宽" * 60, "x" * 300, "two\nlines")
    for index, text in enumerate(texts):
        moves = (Move(day=NOW.date(), station="shelf"),)
        opened.save(
            Planting(key=f"h{index}", crop=text, sown=NOW.date(), count=1, moves=moves, variety=text, label=text),
            flag(station="shelf", seen=text, verdict="now", by="K7", now=NOW),
        )
    app = Walkabout(opened, "room", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 0)
        page = " ".join(lines_of(app.screen.query_one("#station")).split())
        for text in HOSTILE:
            assert f"label {text}" in page
            assert f"now: {text}" in page
        await pilot.press("m")
        await pilot.pause()
        assert "1 [@click=app.quit]x[/] '[@click=app.quit]x[/]', 0 days" in shown(app)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, RoomScreen)


async def test_keys_that_come_in_a_burst_do_not_leave_the_questions(tmp_path: Path) -> None:
    """A second e, and a 'left' that arrives after its question was answered, change nothing."""
    app = Walkabout(open_room(tmp_path), "room", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 2)
        for key in ("e", "e", "left", "1"):
            app.simulate_key(key)
        await pilot.pause(0.3)
        assert [type(one) for one in app.screen_stack].count(RoomScreen) == 1
        assert len(app.screen_stack) == 3
        for _ in range(2):
            if not isinstance(app.screen, RoomScreen):
                await pilot.press("escape")
                await pilot.pause()
        assert isinstance(app.screen, RoomScreen)
        await pilot.press("escape")
        await pilot.pause()
        assert not isinstance(app.screen, RoomScreen)
