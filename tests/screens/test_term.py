"""The term in numbers on the screen: calm numbers, the working on a key, and supplies kept with the keys alone."""

from datetime import date, timedelta
from pathlib import Path
from typing import Any

import msgspec
import pytest
from textual.containers import VerticalScroll
from textual.pilot import Pilot
from textual.widgets import Input

from tests.rooms import NOW, write_small_room
from tests.screens.driving import app_for, press, shown
from walkabout.records.model import Picking, Round
from walkabout.records.model_supplies import Supply
from walkabout.screens.app import Walkabout
from walkabout.screens.shelf_amounts import amount_in
from walkabout.screens.term import TermScreen

PRICES = (
    '\n[prices]\ncurrency = "EUR"\nper_kwh = 0.5\n\n[[term]]\nfrom = 2026-09-07\nto = 2026-12-18\nname = "Autumn"\n'
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    room = write_small_room(tmp_path / "a room", station="Raft [b]tub[/b]")
    text = (room / "room.toml").read_text(encoding="utf-8")
    text = text.replace("watts = 60", "watts = 60\nsince = 2020-01-06")
    (room / "room.toml").write_text(text + PRICES, encoding="utf-8")
    return room


def app_with(folder: Path) -> Walkabout:
    """Return the program on the room, with a round by K7 and a picking of lettuce on record."""
    app = app_for(folder)
    day = NOW - timedelta(days=1)
    lettuce = app.opened.plantings["p-1"]
    app.opened.save(
        Round(key="r", day=day.date(), started=day, walker="K7", ended=day, walked_seconds=240),
        msgspec.structs.replace(lettuce, pickings=(Picking(day=day.date(), grams=400, portions=5),)),
    )
    return app


def app_for_pupil(folder: Path) -> Walkabout:
    """Return the program on the room with a round on record, while a pupil uses it."""
    app = app_with(folder)
    app.walker = "K7"
    return app


async def opened(app: Walkabout, pilot: Pilot[int]) -> TermScreen:
    await pilot.pause()
    screen = TermScreen()
    app.push_screen(screen)
    await pilot.pause()
    await pilot.pause()
    return screen


async def typed(pilot: Pilot[int], *keys: str) -> None:
    """Press keys one after the other; a text after a quote is put into the line, or typed as a number."""
    for key in keys:
        line = pilot.app.screen.query(Input)
        if key.startswith("'") and line:
            line.first().value = key[1:]
        else:
            await press(pilot, key.removeprefix("'"))


def supplies(app: Walkabout) -> list[Supply]:
    return app.opened.records.supplies()


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_the_numbers_stand_with_their_units(folder: Path, size: tuple[int, int]) -> None:
    """The term of room.toml is shown up to today; text from a file is shown as typed; no line runs over."""
    app = app_with(folder)
    async with app.run_test(size=size) as pilot:
        screen = await opened(app, pilot)
        first = shown(app)
        await typed(pilot, "tab", "tab")
        second = shown(app)

        assert "Autumn: 7 Sep to 18 Dec 2026, counted up to 25 Nov" in first
        assert "a portion" in first
        assert "EUR" in first
        assert "76.8 kWh" in second
        assert "[b]tub[/b]" in second
        assert screen.found is not None
        assert screen.found.harvest.portions == 5
        assert all(len(row) <= size[0] for row in shown(app).splitlines())


async def test_tab_goes_from_part_to_part(folder: Path) -> None:
    """Tab brings the next part to the top, shift and tab the one before; b goes to the shelf."""
    app = app_with(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(app, pilot)
        page = screen.query_one("#page", VerticalScroll)
        tops = []
        for key in ("tab", "tab", "shift+tab", "b"):
            await typed(pilot, key)
            tops.append(round(page.scroll_y))

        assert tops[0] < tops[1]
        assert tops[2] == tops[0]
        assert tops[3] > tops[1]
        assert "On the shelf, and what to buy" in shown(app)


async def test_the_working_is_shown_and_hidden(folder: Path) -> None:
    """The key w shows how each number came about and what is left out, and hides it again."""
    app = app_with(folder)
    async with app.run_test(size=(100, 120)) as pilot:
        await opened(app, pilot)
        plain = shown(app)
        await typed(pilot, "w")
        full = shown(app)
        await typed(pilot, "w")

        assert "÷ 1000" not in plain
        assert "60 W × 16 h" in full
        assert "Left out" in full
        assert shown(app) == plain


async def test_rounds_by_code_are_shown_to_an_adult(folder: Path) -> None:
    """A pupil's code does not show them; under an adult's they stand at the end, and k hides them again."""
    app = app_for_pupil(folder)
    async with app.run_test(size=(100, 120)) as pilot:
        await opened(app, pilot)
        assert "K7" not in shown(app).partition("Rounds by code")[2]
        await typed(pilot, "k", "2")
        assert any("Fetch an adult" in one.message for one in app._notifications)
        app.clear_notifications()
        assert "K7" not in shown(app).partition("Rounds by code")[2]
        await typed(pilot, "k", "1")
        text = shown(app)

        assert text.index("Rounds by code") > text.index("On the shelf")
        assert "For the teacher alone" in text
        assert "K7" in text.partition("Rounds by code")[2]
        await typed(pilot, "k")
        assert "K7" not in shown(app).partition("Rounds by code")[2]


async def test_a_room_without_adults_locks_nobody_out(folder: Path) -> None:
    """Where no adult has a code, nobody is asked for one."""
    text = (folder / "room.toml").read_text(encoding="utf-8")
    (folder / "room.toml").write_text(text.replace('role = "adult"', 'role = "pupil"'), encoding="utf-8")
    app = app_for_pupil(folder)
    async with app.run_test(size=(100, 120)) as pilot:
        await opened(app, pilot)
        await typed(pilot, "k")
        assert "K7" in shown(app).partition("Rounds by code")[2]


async def test_taking_a_supply_off_is_for_an_adult(folder: Path) -> None:
    """A pupil's code takes nothing off; an adult's does, and stands beside it."""
    app = app_for_pupil(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, pilot)
        await typed(pilot, "a", "'Seed", "enter", "6", "'90", "enter", "1", "'5", "enter", "enter", "enter")
        assert [one.by for one in supplies(app)] == ["K7"]
        await typed(pilot, "x", "1", "2", "2")
        assert any("Fetch an adult" in one.message for one in app._notifications)
        await typed(pilot, "escape")
        assert [one.ended for one in supplies(app)] == [None]
        await typed(pilot, "x", "1", "2", "1")
        (gone,) = supplies(app)
        assert gone.ended == NOW.date()
        assert any(one.message == "Written down. Seed is off the list." for one in app._notifications)


async def test_a_supply_is_added_counted_and_taken_off(folder: Path) -> None:
    """Everything is asked one by one and written down at the last step under the walker's code."""
    app = app_with(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, pilot)
        await typed(pilot, "a", "'Grow [b]mix", "enter", "1", "'1500", "enter", "3", "1", "'2", "enter")
        await typed(pilot, "'1000", "enter", "'14.5", "enter")
        assert supplies(app) == []
        await typed(pilot, "'10", "enter")
        (made,) = supplies(app)

        assert (made.name, made.unit, made.amount, made.per, made.used) == ("Grow [b]mix", "mL", 1500, "litre", 2)
        assert (made.pack, made.price, made.lead_days, made.by) == (1000, 14.5, 10, "AR")

        await typed(pilot, "c", "1", "'900", "enter", "'500", "enter")
        (counted,) = supplies(app)
        assert (counted.amount, counted.counted) == (900, NOW.date())

        await typed(pilot, "b")
        assert "Grow [b]mix" in shown(app)
        assert "900 mL" in shown(app)

        await typed(pilot, "x", "1", "2")
        (gone,) = supplies(app)
        assert gone.ended == NOW.date()
        assert "nothing is on the list" in shown(app)


async def test_a_supply_is_changed(folder: Path) -> None:
    """Enter alone leaves what was known; escape goes one step back; nothing is written before the last step."""
    app = app_with(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, pilot)
        await typed(pilot, "a", "'Seed", "enter", "6", "'90", "enter", "1", "'5", "enter", "enter", "enter")
        (made,) = supplies(app)
        assert (made.pack, made.price, made.lead_days) == (None, None, None)

        await typed(pilot, "e", "1", "enter", "escape", "enter", "1", "enter", "'40", "enter", "'3.5", "enter")
        assert supplies(app) == [made]
        await typed(pilot, "'7", "enter")
        (later,) = supplies(app)

        assert (later.name, later.used, later.pack, later.price, later.lead_days) == ("Seed", 5, 40, 3.5, 7)


async def test_a_us_room_is_asked_for_its_own_units(folder: Path) -> None:
    """US units are offered; what goes with each US gallon is kept for each litre, and shown by the gallon again."""
    toml = folder / "room.toml"
    toml.write_text(f'units = "US"\n{toml.read_text(encoding="utf-8")}', encoding="utf-8")
    app = app_with(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, pilot)
        await typed(pilot, "a", "'Grow mix", "enter")
        assert "US fl oz" in shown(app)
        await typed(pilot, "5", "'900", "enter", "3", "1")
        assert "each US gallon of solution renewed" in shown(app)
        await typed(pilot, "'7.570823568", "enter", "enter", "enter")
        (made,) = supplies(app)
        assert (made.unit, made.used) == ("mL", pytest.approx(2.0))
        await typed(pilot, "e", "1", "enter", "3", "1")
        assert "enter alone: 7.5708" in shown(app)


async def test_a_name_is_needed(folder: Path) -> None:
    """A supply without a name is one clear line, and the question stays; escape leaves it unwritten."""
    app = app_with(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(app, pilot)
        await typed(pilot, "a", "enter")
        assert "Type a word or two" in shown(app)
        await typed(pilot, "escape")

        assert app.screen is screen
        assert supplies(app) == []


@pytest.mark.parametrize(
    ("text", "more", "says"),
    [
        ("", {}, "Type a number from 0 to 1,000,000"),
        ("-1", {}, "from 0"),
        ("0", {"above": True}, "above 0"),
        ("2.5", {"whole": True}, "whole number"),
        ("366", {"most": 365}, "to 365"),
        (".", {}, "from 0"),
    ],
)
def test_a_number_that_cannot_be_is_refused(text: str, more: dict[str, Any], says: str) -> None:
    """What was typed is refused with what would be right."""
    with pytest.raises(ValueError, match=says):
        amount_in(None, **more)(text)


def test_enter_alone_takes_what_was_known() -> None:
    """Nothing typed means what was known before; a number is taken as typed."""
    assert amount_in(7.0)("").value == 7.0
    assert amount_in(7.0)("0").value == 0.0


async def test_without_supplies_there_is_nothing_to_count(folder: Path) -> None:
    """Counting, changing and taking off say that nothing is on the list yet."""
    app = app_with(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        screen = await opened(app, pilot)
        for key in ("c", "e", "x"):
            await typed(pilot, key)
            await pilot.pause(0.1)
            assert app.screen is screen
            assert "Nothing is on the list yet" in shown(app)


async def test_other_days(folder: Path) -> None:
    """A span is picked or typed; a day to come is one clear line."""
    app = app_with(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(app, pilot)
        await typed(pilot, "s", "2")
        assert screen.found is not None
        assert (screen.found.first, screen.found.last) == (NOW.date() - timedelta(days=27), NOW.date())

        await typed(pilot, "s", "5", "'2027-01-01", "enter")
        assert "still to come" in shown(app)
        await typed(pilot, "'2026-11-01", "enter", "'2026-10-01", "enter")
        assert "before it begins" in shown(app)
        await typed(pilot, "'9 Nov 2026", "enter")
        assert (screen.found.first, screen.found.last) == (date(2026, 11, 1), date(2026, 11, 9))


async def test_light_on_closed_days(folder: Path) -> None:
    """The key d takes a share of the hours; it is used for the closed days at once."""
    with (folder / "room.toml").open("a", encoding="utf-8") as file:
        file.write("\n[[closure]]\nfrom = 2026-10-24\nto = 2026-11-02\n")
    app = app_with(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(app, pilot)
        assert screen.found is not None
        before = screen.found.energy.kwh
        await typed(pilot, "d", "'50", "enter")

        assert screen.found.energy.kwh == pytest.approx(before - 60 * 8 * 10 / 1000)


async def test_escape_goes_back(folder: Path) -> None:
    """Escape leaves the screen for the one beneath it."""
    app = app_with(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(app, pilot)
        await typed(pilot, "escape")

        assert app.screen is not screen
