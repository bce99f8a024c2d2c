"""The styles of one screen leave every other screen alone, and the bottom line keeps the way back."""

import re
from pathlib import Path

import pytest

import walkabout.screens
from tests.rooms import write_small_room
from tests.screens.driving import almanac_ready, app_for, press, shown
from walkabout.screens.widgets.keyline import Key, KeyLine

SCREENS = Path(walkabout.screens.__file__).parent
STYLES = sorted(one for one in SCREENS.rglob("*.tcss") if one.name != "app.tcss")


@pytest.mark.parametrize("path", STYLES, ids=lambda one: str(one.relative_to(SCREENS)))
def test_every_rule_names_the_screen_it_is_for(path: Path) -> None:
    """A rule begins with a class: all styles that were ever loaded hold for all screens."""
    text = re.sub(r"/\*.*?\*/", "", path.read_text(encoding="utf-8"), flags=re.DOTALL)
    selectors = [one.strip() for rule in re.findall(r"([^{}]+)\{", text) for one in rule.split(",")]
    assert selectors
    assert [one for one in selectors if not re.match(r"[A-Z]\w+", one)] == []


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_today_looks_the_same_after_every_main_screen(tmp_path: Path, size: tuple[int, int]) -> None:
    """Going to the almanac, the logbook, the room, the jobs and a working-out, and back, moves nothing."""
    app = app_for(write_small_room(tmp_path / "room"))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        before = shown(app)
        await almanac_ready(pilot)
        await press(pilot, "escape")
        for key in ("b", "o", "j", "equals_sign"):
            await press(pilot, key, "escape")
        assert len(app.screen_stack) == 1
        assert shown(app) == before


@pytest.mark.parametrize("width", [20, 40, 60, 80, 100])
async def test_the_way_back_and_help_stand_on_every_width(tmp_path: Path, width: int) -> None:
    """Of more keys than two lines hold those in the middle go first; esc and help stay."""
    app = app_for(write_small_room(tmp_path / "room"))
    keys = (*(Key(one, "something", "bell") for one in "abcdefghij"), Key("esc", "back", "bell"), Key("?", "help", ""))
    async with app.run_test(size=(width, 24)) as pilot:
        await press(pilot, "o")  # Today, which is full at 24 lines, spares no second one
        app.screen.query_one(KeyLine).keys = keys
        await pilot.pause()
        last = " ".join(shown(app).splitlines()[-2:])
        assert "esc back" in last
        assert "? help" in last
        assert "a something" in last
        assert ("b something" in last) == (width >= 40)
        assert ("j something" in last) == (width >= 80)


async def test_today_has_one_line_of_keys_where_it_is_full(tmp_path: Path) -> None:
    """At 24 lines the days of the stations go before a second line of keys; help stands all the same."""
    app = app_for(write_small_room(tmp_path / "room"))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert app.screen.query_one(KeyLine).size.height == 1
        assert "? help" in shown(app).splitlines()[-1]
        await pilot.resize_terminal(80, 30)
        await pilot.pause()
        assert app.screen.query_one(KeyLine).size.height == 2


async def test_keys_take_a_second_line_only_where_they_need_it(tmp_path: Path) -> None:
    """All keys that two lines hold stand there and can be clicked; fewer keys keep the height: nothing jumps."""
    app = app_for(write_small_room(tmp_path / "room"))
    few = (Key("a", "one", "bell"), Key("?", "help", "app.help"))
    many = (*(Key(one, "something", "bell") for one in "abcdefg"), Key("esc", "back", "bell"), few[1])
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "o")
        line = app.screen.query_one(KeyLine)
        line.keys = many
        await pilot.pause()
        rows = shown(app).splitlines()[-2:]
        assert all(f"{one} something" in " ".join(rows) for one in "abcdefg")
        assert "? help" in rows[1]
        line.keys = few
        await pilot.pause()
        assert line.size.height == 2
        line.keys = many
        await pilot.pause()
        await pilot.click(line, offset=(rows[1].index("?"), 1))
        await pilot.pause()
        assert type(app.screen).__name__ == "HelpScreen"
        await pilot.press("escape")
        await pilot.resize_terminal(140, 40)
        await pilot.pause()
        assert line.size.height == 1
