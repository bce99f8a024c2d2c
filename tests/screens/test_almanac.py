"""The almanac on the screen: leafing, looking closer, promising, closing, planning, with keys or the mouse alone."""

import asyncio
import time
import tomllib
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from textual.geometry import Region
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Input

from tests.rooms import NOW, write_small_room
from tests.screens.driving import app_for, press, shown
from tests.screens.made_up import CLOSED, TODAY, almanac, foreseen
from walkabout.almanac.model import Almanac
from walkabout.records.model import Promise
from walkabout.round.almanac import basis_of
from walkabout.round.opened import OpenRoom
from walkabout.screens import almanac as almanac_screen
from walkabout.screens.almanac import AlmanacScreen
from walkabout.screens.app import Walkabout
from walkabout.screens.closer import CourseScreen, PromiseScreen, StandingScreen
from walkabout.screens.closure import ClosureScreen
from walkabout.screens.succession import SuccessionScreen
from walkabout.screens.whatif import WhatIfScreen
from walkabout.screens.widgets.asking import PickScreen
from walkabout.screens.widgets.cropasking import CropScreen
from walkabout.screens.widgets.formpage import FormPage, day_meant
from walkabout.screens.widgets.keyline import KeyLine
from walkabout.screens.widgets.reckoned import Reckoned, beside
from walkabout.screens.widgets.weeks import Weeks

SIZES = [(80, 24), (120, 40), (60, 20)]
HOSTILE = "[@click=app.quit]x[/] [/b] $act"


@pytest.fixture
def made_up(monkeypatch: pytest.MonkeyPatch) -> list[Almanac]:
    """Let the screen show a made-up almanac; the list holds the one that is shown next."""
    held = [almanac()]

    async def reckoned(opened: OpenRoom) -> Reckoned:
        return Reckoned(basis_of(opened), held[-1])

    monkeypatch.setattr(almanac_screen, "reckoned", reckoned)
    return held


def small(tmp_path: Path, **names: str) -> Path:
    """Return the small room."""
    return write_small_room(tmp_path / "room", **names)


async def opened_at(pilot: Pilot[Any]) -> AlmanacScreen:
    """Open the almanac from Today and wait until it is reckoned."""
    await press(pilot, "a")
    return await ready(pilot)


async def ready(pilot: Pilot[Any]) -> AlmanacScreen:
    """Wait until the almanac that is open is reckoned."""
    for _ in range(300):
        await pilot.pause(0.01)
        screen = pilot.app.screen
        if isinstance(screen, AlmanacScreen) and screen.almanac is not None:
            break
    assert isinstance(pilot.app.screen, AlmanacScreen)
    await pilot.pause()
    return pilot.app.screen


async def until(pilot: Pilot[Any], holds: Callable[[], bool]) -> None:
    """Wait for something that is reckoned beside the screen."""
    for _ in range(500):
        await pilot.pause(0.02)
        if holds():
            return
    raise AssertionError(shown(pilot.app))  # type: ignore[arg-type]


async def click_key(pilot: Pilot[Any], word: str) -> None:
    """Click a key of the bottom line by what it says."""
    keys = pilot.app.screen.query_one(KeyLine)
    row = keys.render_lines(Region(0, 0, keys.size.width, 1))[0].text
    await pilot.click(keys, offset=(row.index(word) + 1, 0))
    await pilot.pause()


async def type_in(pilot: Pilot[Any], text: str) -> None:
    """Put text into the open line and hand it in."""
    await pilot.pause()
    pilot.app.screen.query_one(Input).value = text
    await pilot.pause()
    await press(pilot, "enter")


def row_of(widget: Widget, text: str) -> int:
    """Return the line of a widget on which a text stands."""
    lines = widget.render_lines(Region(0, 0, widget.size.width, widget.size.height))
    return next(at for at, line in enumerate(lines) if text in line.text)


# looking


@pytest.mark.parametrize("size", SIZES)
async def test_it_shows_the_term_and_what_the_week_brings(
    size: tuple[int, int], tmp_path: Path, made_up: list[Almanac]
) -> None:
    """Stations, bars, promises with their words, and this week's work with its minutes, on every size."""
    app = app_for(small(tmp_path))
    async with app.run_test(size=size) as pilot:
        screen = await opened_at(pilot)
        text = shown(app)
        assert "▸ Sprout" in text
        assert "lettuce, moves on 4 Dec" in text
        assert "at risk" in text
        assert "on course" in text
        assert "The week from Mon 23 Nov   1 thing, 40 min" in text
        assert "Raft tub: Renew the solution" in text
        assert "adult" in text
        assert "? help" in text
        if size >= (80, 24):
            assert "Almanac · autumn term · Small room" in text
            assert "esc back" in text
        assert ("Will it live through end of term?" in text) == (size == (120, 40))
        assert screen.query_one(Weeks).size.height + 8 <= size[1]


async def test_keys_choose_the_week_and_the_station(tmp_path: Path, made_up: list[Almanac]) -> None:
    """Arrows move by one, page keys by four weeks, home comes back; nothing leaves what was reckoned."""
    app = app_for(small(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened_at(pilot)
        weeks = screen.query_one(Weeks)
        await press(pilot, "right", "right")
        assert weeks.week == date(2026, 12, 7)
        assert "24 portions pak choi for class 8b: at risk" in shown(app)
        await press(pilot, "pagedown", "left")
        assert weeks.week == date(2026, 12, 28)
        await press(pilot, "home", "down", "down")
        assert (weeks.week, weeks.station) == (date(2026, 11, 23), "channels")
        await press(pilot, *["up"] * 5, *["pageup"] * 9)
        assert (weeks.week, weeks.station) == (date(2026, 10, 5), "shelf")
        await press(pilot, *["pagedown"] * 20)
        assert weeks.week == date(2027, 4, 26)
        assert "nothing is due" in shown(app)
        await press(pilot, "tab")
        assert "nothing is due" in shown(app)
        await press(pilot, "escape")
        assert type(app.screen).__name__ == "TodayScreen"


async def test_enter_lists_the_station_and_looks_closer(tmp_path: Path, made_up: list[Almanac]) -> None:
    """Enter lists what is ahead at a station, enter again opens one; escape goes back step by step."""
    app = app_for(small(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await opened_at(pilot)
        await press(pilot, "enter")
        text = shown(app)
        assert "Sprout rack, from Mon 23 Nov on" in text
        assert "▸ Fri 4 Dec" in text
        assert "Move on 12 lettuce" in text
        await press(pilot, "enter")
        assert isinstance(app.screen, CourseScreen)
        text = shown(app)
        assert "about Fri 4 Dec" in text
        assert "2 Dec to 7 Dec" in text
        assert "45 days × 1.1 = 50 days" in text
        await press(pilot, "escape")
        await ready(pilot)
        assert "from Mon 23 Nov on" in shown(app)
        await press(pilot, "escape")
        assert "The week from" in shown(app)


async def test_a_closure_is_told_from_the_answer_down_to_the_working(tmp_path: Path, made_up: list[Almanac]) -> None:
    """What lasts, what first, minutes and who, the visit, the first morning, and how the numbers came about."""
    app = app_for(small(tmp_path))
    async with app.run_test(size=(80, 50)) as pilot:
        screen = await opened_at(pilot)
        screen.query_one(Weeks).to(CLOSED[0])
        await press(pilot, "tab", "enter")
        assert isinstance(app.screen, ClosureScreen)
        text = " ".join(shown(app).split())
        for says in (
            "Will it live through end of term?", "17 days", "■ harvest first 2 to 3 days",
            "■ needs a visit 6 to 8 days", "✓ lasts long enough", "adult 5 min",
            "Before leaving, by Fri 18 Dec: 30 min in all, 5 an adult's",
            "Caution: Dry hands; local codes decide.", "Thu 24 Dec", "Basil for the kitchen",
            "1 Film channels: the pump has stopped", "40 L ÷ 9 L a day = 4.4 days",
        ):  # fmt: skip
            assert says in text


async def test_a_standing_job_says_when_and_why(tmp_path: Path, made_up: list[Almanac]) -> None:
    """The day it is planned for, the day it is due, the reason it was moved, who may do it, the caution."""
    app = app_for(small(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await opened_at(pilot)
        await press(pilot, "tab", "enter")
        assert isinstance(app.screen, StandingScreen)
        text = shown(app)
        assert "Planned for Fri 27 Nov." in text
        assert "due Sun 29 Nov (not on a Sunday)." in text
        assert "Raft tub · adult · 40 min" in text
        assert "Caution: Gloves." in text


async def test_the_mouse_alone_does_it_all(tmp_path: Path, made_up: list[Almanac]) -> None:
    """A click chooses week and station, again goes to what is ahead; a click points in the list, again opens."""
    app = app_for(small(tmp_path))
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        await click_key(pilot, "almanac")
        screen = await ready(pilot)
        weeks, rows = screen.query_one(Weeks), screen.query_one("#entries")
        view = weeks._view
        assert view is not None
        line = row_of(weeks, "Raft tub")
        await pilot.click(weeks, offset=(view.names + view.at(date(2026, 12, 9)), line))
        await pilot.pause()
        assert (weeks.week, weeks.station) == (date(2026, 12, 7), "tub")
        await pilot.click(weeks, offset=(3, line))
        await pilot.pause()
        assert "Raft tub, from Mon 7 Dec on" in shown(app)
        await pilot.click(rows, offset=(20, 0))
        await pilot.pause()
        assert isinstance(app.screen, PromiseScreen)
        await click_key(pilot, "back")
        screen = await ready(pilot)
        await click_key(pilot, "weeks")
        await pilot.click("#ahead-closure", offset=(5, 2))
        await pilot.pause()
        assert isinstance(app.screen, ClosureScreen)
        await click_key(pilot, "back")
        await ready(pilot)
        for word, page in (("what if", WhatIfScreen), ("steady supply", SuccessionScreen)):
            await click_key(pilot, word)
            assert isinstance(app.screen, page)
            await click_key(pilot, "back")
            await ready(pilot)
        await click_key(pilot, "week")
        assert screen.query_one(Weeks).week == date(2026, 12, 14)
        await click_key(pilot, "sow")
        assert isinstance(app.screen, CropScreen)


async def test_hostile_names_are_shown_as_typed(tmp_path: Path, made_up: list[Almanac]) -> None:
    """Names of rooms, people and crops are text on every page of the almanac, never markup."""
    bad = foreseen("pr-1", "pak-choi", outlook="at risk", name=HOSTILE, says=HOSTILE)
    made_up.append(almanac(promises=(bad,)))
    app = app_for(small(tmp_path, name=HOSTILE))
    async with app.run_test(size=(120, 40)) as pilot:
        await opened_at(pilot)
        assert HOSTILE in shown(app)
        await press(pilot, "right", "right", "tab", "enter")
        assert isinstance(app.screen, PromiseScreen)
        assert f"24 portions of {HOSTILE} for class 8b" in shown(app)
        assert app.is_running


async def test_moving_only_repaints(tmp_path: Path, made_up: list[Almanac]) -> None:
    """Between a key and the repaint nothing is reckoned, and it takes well under a tenth of a second."""
    app = app_for(small(tmp_path))
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await opened_at(pilot)
        known = screen.almanac
        begun = time.perf_counter()
        for _ in range(20):
            screen.action_week(1)
            screen.action_point(1)
            screen.query_one(Weeks).render()
        spent = (time.perf_counter() - begun) / 20
        await pilot.pause()

        assert screen.almanac is known
        assert spent < 0.05


# promising


async def test_a_promise_is_made_with_keys_alone(tmp_path: Path, made_up: list[Almanac]) -> None:
    """Crop, unit, amount, an open day, for whom: on disk at the last step, with what to sow told before."""
    app = app_for(small(tmp_path))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await opened_at(pilot)
        await press(pilot, "p")
        await type_in(pilot, "basil")
        await press(pilot, "1")
        await press(pilot, "2", "4", "enter")
        await type_in(pilot, "2027-02-13")
        says = "Sat 13 Feb is a Saturday, on which nobody comes. The next open day is Mon 15 Feb."
        assert says in " ".join(shown(app).split())
        await type_in(pilot, "2027-02-15")
        await until(pilot, lambda: "For whom is it?" in shown(app))
        assert "From seed it takes" in shown(app)
        assert "A promise: 24 portions of basil, Mon 15 Feb" in shown(app)
        await type_in(pilot, "class 8b")
        await pilot.pause(0.1)
        made = next(iter(app.opened.promises.values()))

        assert (made.crop, made.amount, made.unit, made.day) == ("basil", 24, "portions", date(2027, 2, 15))
        assert (made.people, made.by) == ("class 8b", "AR")
        assert "Written down." in shown(app)
        await ready(pilot)


async def test_only_what_is_eaten_is_promised(tmp_path: Path, made_up: list[Almanac]) -> None:
    """A cactus is refused by its name, and enter takes nothing in its place; none stands among the crops offered."""
    app = app_for(small(tmp_path))
    async with app.run_test(size=(100, 60), notifications=True) as pilot:
        await opened_at(pilot)
        await press(pilot, "p")
        assert "barrel cactus" not in shown(app)
        await type_in(pilot, "barrel cactus")
        await pilot.pause()
        assert "Barrel cactus is not grown to be eaten, so it is not promised." in " ".join(shown(app).split())
        assert "What is promised?" in shown(app)
        await press(pilot, "escape")
        await ready(pilot)
        assert app.opened.promises == {}


async def test_a_crop_that_the_table_does_not_know_is_promised_with_a_remark(
    tmp_path: Path, made_up: list[Almanac]
) -> None:
    """It is taken as typed, and it is said that nothing can be reckoned for it."""
    app = app_for(small(tmp_path))
    async with app.run_test(size=(100, 40), notifications=True) as pilot:
        await opened_at(pilot)
        await press(pilot, "p")
        await type_in(pilot, "moon grass")
        await until(pilot, lambda: "In what is it counted?" in shown(app))
        said = " ".join(shown(app).split())
        assert "moon grass is not in the crop table: nothing can be reckoned for it" in said
        await press(pilot, "1")
        await press(pilot, "8", "enter")
        await type_in(pilot, "2027-02-15")
        await type_in(pilot, "class 8b")
        await pilot.pause(0.1)
        made = next(iter(app.opened.promises.values()))
        assert (made.crop, made.amount) == ("moon grass", 8)
        await ready(pilot)


async def test_small_greens_are_promised_in_trays(tmp_path: Path, made_up: list[Almanac]) -> None:
    """Whole trays stand where other crops have heads, and the count to sow says on what it rests."""
    app = app_for(small(tmp_path))
    async with app.run_test(size=(100, 40), notifications=True) as pilot:
        await opened_at(pilot)
        await press(pilot, "p")
        await type_in(pilot, "cress")
        await until(pilot, lambda: "In what is it counted?" in shown(app))
        assert "trays" in shown(app)
        assert "heads" not in shown(app)
        await press(pilot, "2")
        await press(pilot, "2", "enter")
        await type_in(pilot, "2027-02-15")
        await until(pilot, lambda: "For whom is it?" in shown(app))
        said = " ".join(shown(app).split())
        assert "A promise: 2 trays of cress, Mon 15 Feb" in said
        assert "lost as a rule (assumed; no planting here so far)." in said
        await press(pilot, "escape")


async def _with_promise(app: Walkabout, made_up: list[Almanac]) -> Promise:
    kept = made_up[-1].promises[0].promise
    app.opened.save(kept)
    return kept


async def test_a_way_out_moves_the_promise_after_asking(tmp_path: Path, made_up: list[Almanac]) -> None:
    """The ways out stand with their chance; the number of one that is another day moves the promise there."""
    app = app_for(small(tmp_path))
    kept = await _with_promise(app, made_up)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await opened_at(pilot)
        await press(pilot, "right", "right", "tab", "enter")
        text = shown(app)
        assert "◇ at risk: about 4 times in 10" in text
        assert "1  Cut on Friday 18 Dec instead: about 9 times in 10" in text
        assert "2  Light the lamp for 16 hours (adult): about 7 times in 10" in text
        await press(pilot, "2")
        await pilot.pause(0.1)
        assert "Only another day can be taken" in " ".join(shown(app).split())
        await press(pilot, "1")
        assert isinstance(app.screen, PickScreen)
        await press(pilot, "2")
        await ready(pilot)
        changed = app.opened.promises[kept.key]

        assert changed.day == date(2026, 12, 18)
        assert "Cut on Friday 18 Dec instead" in changed.history[-1].says


async def test_a_promise_is_changed_and_called_off_with_a_reason(tmp_path: Path, made_up: list[Almanac]) -> None:
    """A change keeps what is left alone and says why; calling off needs a reason and closes it."""
    app = app_for(small(tmp_path))
    kept = await _with_promise(app, made_up)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await opened_at(pilot)
        await press(pilot, "right", "right", "tab", "enter")
        await press(pilot, "e")
        await press(pilot, "1")
        await press(pilot, "2", "0", "enter")
        await type_in(pilot, "")
        await until(pilot, lambda: "For whom is it?" in shown(app))
        await press(pilot, "enter")
        await type_in(pilot, "no")
        assert "A few words" in shown(app)
        await type_in(pilot, "four fewer eat")
        screen = await ready(pilot)
        changed = app.opened.promises[kept.key]
        assert (changed.amount, changed.day, changed.people) == (20, kept.day, kept.people)
        assert "four fewer eat" in changed.history[-1].says

        made_up.append(almanac(promises=(foreseen("pr-1", "pak-choi", outlook="at risk"),)))
        app.opened.save(made_up[-1].promises[0].promise)
        screen.renew()
        await pilot.pause(0.1)
        await press(pilot, "enter")
        await press(pilot, "x")
        await type_in(pilot, "mildew took it")
        await ready(pilot)
        gone = app.opened.promises[kept.key]
        assert gone.closed is not None
        assert "mildew took it" in gone.reason


# closing


async def test_a_closure_is_written_into_room_toml(tmp_path: Path, made_up: list[Almanac]) -> None:
    """First and last day and a name: at the end of the file, the rest of it untouched; the room knows it at once."""
    folder = small(tmp_path)
    before = (folder / "room.toml").read_text(encoding="utf-8")
    app = app_for(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await opened_at(pilot)
        await press(pilot, "c")
        await press(pilot, "1")
        await type_in(pilot, "2026-12-19")
        await type_in(pilot, "2026-12-18")
        assert "before its first day" in shown(app)
        await type_in(pilot, "2027-01-03")
        assert "10 rounds fall out" in shown(app)
        await type_in(pilot, "end of term")
        await pilot.pause(0.1)
        text = (folder / "room.toml").read_text(encoding="utf-8")
        found = tomllib.loads(text)["closure"]

        assert text.startswith(before)
        assert found == [{"from": CLOSED[0], "to": CLOSED[1], "name": "end of term"}]
        assert [(one.first, one.last) for one in app.opened.room.closures] == [CLOSED]
        assert "Written into room.toml" in shown(app)


async def test_a_broken_room_toml_is_left_alone(tmp_path: Path, made_up: list[Almanac]) -> None:
    """What cannot be read is not written to: one sentence says so."""
    folder = small(tmp_path)
    app = app_for(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await opened_at(pilot)
        broken = "name = [\n" + (folder / "room.toml").read_text(encoding="utf-8")
        (folder / "room.toml").write_text(broken, encoding="utf-8")
        await press(pilot, "c")
        await press(pilot, "2")
        await type_in(pilot, "2027-01-04")
        await type_in(pilot, "2027-03-26")
        await type_in(pilot, "spring term")
        await pilot.pause(0.2)

        assert (folder / "room.toml").read_text(encoding="utf-8") == broken
        assert app.opened.room.terms == ()
        assert "must be put right first" in " ".join(shown(app).split())


# planning, reckoned for real


def fill(app: Walkabout, **typed: str) -> None:
    """Fill in fields of the form that is open, as if they had been typed."""
    assert isinstance(app.screen, FormPage)
    app.screen.typed |= typed
    app.screen.changed()


async def _type(pilot: Pilot[Any], text: str) -> None:
    await press(pilot, text)


async def test_what_if_shows_three_sowings_while_one_types(tmp_path: Path, made_up: list[Almanac]) -> None:
    """Today, in a week and in two stand beside each other; letters typed at once are all taken."""
    app = app_for(small(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await opened_at(pilot)
        await press(pilot, "w")
        await _type(pilot, "lett")
        await until(pilot, lambda: "seedlings show" in shown(app) and "lettuce" in shown(app))
        text = shown(app)
        assert "lettuce" in text
        for day in ("Wed 25 Nov", "Wed 2 Dec", "Wed 9 Dec"):
            assert day in text
        await press(pilot, "down", "right", "f3")
        await until(pilot, lambda: "Wed 16 Dec" in shown(app))
        assert "Raft tub" in shown(app)
        await press(pilot, "down")
        await _type(pilot, "0")
        await until(pilot, lambda: "Type a whole number" in shown(app))
        await press(pilot, "escape")
        await ready(pilot)


async def test_a_steady_supply_is_planned_beside_the_screen(tmp_path: Path, made_up: list[Almanac]) -> None:
    """The form says what is missing; the plan has its sowings or says what falls short; nothing is written down."""
    folder = small(tmp_path)
    text = (folder / "room.toml").read_text(encoding="utf-8")
    for key in ("shelf", "tub"):
        text = text.replace(f'key = "{key}"', f'key = "{key}"\nplaces = 120')
    (folder / "room.toml").write_text(text, encoding="utf-8")
    app = app_for(folder)
    async with app.run_test(size=(80, 40)) as pilot:
        await opened_at(pilot)
        await press(pilot, "v")
        await press(pilot, "f3")
        await until(pilot, lambda: "Name the crop." in shown(app))
        fill(app, crop="lettuce", amount="4 heads")
        before = dict(app.opened.plantings)
        await press(pilot, "f3")
        screen = app.screen
        assert isinstance(screen, SuccessionScreen)
        await until(pilot, lambda: screen._plan is not None)
        await pilot.pause()
        text = shown(app)

        assert "nothing has been written down" in text or "The sowings" in text
        assert ("Every week has what it wants" in text) != ("fall short" in text or "No sowing" in text)
        assert app.opened.plantings == before


async def test_a_plan_that_is_searched_does_not_keep_a_key_waiting(
    tmp_path: Path, made_up: list[Almanac], monkeypatch: pytest.MonkeyPatch
) -> None:
    """While it is searched, the way is told, escape leaves at once, and what is found later is nobody's."""
    from walkabout.screens import succession

    def slowly(_typed: object, _stations: object, _known: object, progress: Callable[[str], None]) -> None:
        progress("Looking for few sowing days")
        time.sleep(0.4)
        raise ValueError("nothing")

    monkeypatch.setattr(succession, "_planned", slowly)
    app = app_for(small(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await opened_at(pilot)
        await press(pilot, "v")
        fill(app, crop="lettuce", amount="4 heads")
        await press(pilot, "f3")
        await until(pilot, lambda: "Looking for few sowing days …" in shown(app))
        begun = time.perf_counter()
        await press(pilot, "escape")
        assert time.perf_counter() - begun < 0.3
        await ready(pilot)
        await pilot.pause(0.5)
        assert isinstance(app.screen, AlmanacScreen)


async def test_the_real_almanac_opens_on_the_small_room(tmp_path: Path) -> None:
    """Nothing made up: the screen opens, leafs and looks closer on what the dates really say."""
    app = app_for(small(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened_at(pilot)
        assert screen.almanac is not None
        assert [row.station for row in screen.almanac.rows] == [one.key for one in app.opened.room.stations]
        assert "Sprout rack" in shown(app)
        await press(pilot, "down", "enter", "enter")
        assert isinstance(app.screen, Screen)
        assert app.is_running


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("", TODAY), ("today", TODAY), ("in a week", TODAY + timedelta(days=7)), ("in 10 days", date(2026, 12, 5)),
        ("in two weeks", date(2026, 12, 9)), ("3 Dec", date(2026, 12, 3)), ("friday", date(2026, 11, 27)),
        ("2027-01-11", date(2027, 1, 11)),
    ],
)  # fmt: skip
def test_days_as_people_type_them(typed: str, day: date) -> None:
    """A day to come is read as it is said."""
    assert day_meant(typed, TODAY) == day


@pytest.mark.parametrize("typed", ["yesterday", "2026-11-01", "in 900 weeks", "in x weeks", "[/b]"])
def test_days_that_cannot_be_are_one_sentence(typed: str) -> None:
    """What is past, too far or no day is said in a sentence that names no job."""
    with pytest.raises(ValueError, match=r"^[A-Z].*\.$") as told:
        day_meant(typed, TODAY)
    assert "job" not in str(told.value)


async def test_work_beside_the_screen_hands_on_what_it_raises() -> None:
    """An error in the thread is raised where its result is waited for."""

    def fails() -> None:
        raise ValueError("no such day")

    with pytest.raises(ValueError, match="no such day"):
        await beside(fails)
    assert await asyncio.wait_for(beside(lambda: NOW), 2) == NOW
