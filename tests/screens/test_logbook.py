"""The logbook and the trend of one reading."""

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from tests.rooms import NOW, write_small_room
from tests.screens.driving import (
    app_for,
    creeping,
    logbook_ready,
    painted_cells,
    press,
    shown,
    trend_ready,
    trend_there,
)
from walkabout.records.book import Records
from walkabout.records.model import Answer, Job
from walkabout.screens.app import Walkabout
from walkabout.screens.logbook import LogbookScreen

SIZES = [(60, 20), (80, 24), (120, 40), (200, 60)]


def small(folder: Path, walker: str = "AR") -> Walkabout:
    """Return the program on the small room."""
    return app_for(write_small_room(folder / "room"), walker=walker)


@pytest.mark.parametrize("size", SIZES)
async def test_what_has_shifted_stands_first_in_words(tmp_path: Path, size: tuple[int, int]) -> None:
    """The logbook says first what has shifted, and below it has every station, at every size."""
    app = small(tmp_path)
    async with app.run_test(size=size) as pilot:
        await logbook_ready(pilot)
        rows = shown(app).splitlines()

        said = next(at for at, row in enumerate(rows) if "Raft tub: pH has crept up" in row)
        assert "What has shifted" in rows[said - 1]
        assert any(row.startswith(" ▸ The room") for row in rows[said:])


async def test_a_quiet_room_says_that_nothing_has_shifted(tmp_path: Path) -> None:
    """Without a shift the logbook says so, and a station without answers says that too."""
    app = small(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "b")
        await pilot.pause(0.3)
        assert "nothing by more than chance" in shown(app)
        assert "nothing is on record yet" in shown(app)
        await press(pilot, "enter", "tab", "up", "left", "right", "right", "right", "right")
        await pilot.pause(0.2)
        assert "Logbook · all there is" in shown(app)
        await press(pilot, "escape")
        assert type(app.screen).__name__ == "TodayScreen"


async def test_keys_lead_from_the_stations_to_a_trend_and_back(tmp_path: Path) -> None:
    """Up and down choose the station, enter its readings, enter the trend; escape goes back step by step."""
    app = small(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await logbook_ready(pilot)
        await press(pilot, "down", "down")
        assert app.screen.station_key == "tub"  # type: ignore[attr-defined]
        assert "1 on record" in shown(app)
        await press(pilot, "enter", "enter")
        await trend_there(pilot)
        assert "pH   40 readings" in shown(app)
        await press(pilot, "escape")
        await pilot.pause(0.2)
        assert type(app.screen).__name__ == "LogbookScreen"
        assert "▸ ✓ pH" in shown(app)
        await press(pilot, "escape")
        assert "▸ Raft tub" in shown(app)
        await press(pilot, "escape")
        assert type(app.screen).__name__ == "TodayScreen"


async def test_the_whole_question_stands_above_its_reading(tmp_path: Path) -> None:
    """A list has room for the beginning of a question; that of the reading pointed at is shown in full."""
    app = small(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await logbook_ready(pilot)
        await press(pilot, "down", "down", "enter")
        screen = app.screen
        assert isinstance(screen, LogbookScreen)
        for _ in range(min(len(screen._rows), 4)):
            row = screen._rows[screen._list.pointed]
            asked = app.opened.question(row.station, row.question)
            assert asked is not None
            assert asked.ask[:70] in shown(app)
            await press(pilot, "down")
        await press(pilot, "escape")
        assert "on record" in shown(app)


async def test_the_term_opens_from_here_and_goes_back_here(tmp_path: Path) -> None:
    """N opens the term in numbers, from the key and from its name in the bottom line; esc comes back."""
    app = small(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await logbook_ready(pilot)
        await press(pilot, "n")
        assert type(app.screen).__name__ == "TermScreen"
        assert "a puts the first supply on the list" not in shown(app)
        await press(pilot, "b")
        assert "a puts the first supply on the list" in shown(app)
        assert "c count" not in shown(app)
        await press(pilot, "escape")
        await click_on(app, pilot, "n the term")
        await pilot.pause()
        assert type(app.screen).__name__ == "TermScreen"
        await press(pilot, "escape")
        assert type(app.screen).__name__ == "LogbookScreen"


async def test_the_mouse_alone_leads_to_a_trend(tmp_path: Path) -> None:
    """A click on a station, on a reading and once more on it opens its trend; a click on a key goes back."""
    app = small(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await logbook_ready(pilot)
        await click_on(app, pilot, "  Raft tub  ")
        await click_on(app, pilot, "✓ pH")
        await click_on(app, pilot, "✓ pH")
        await trend_there(pilot)
        assert type(app.screen).__name__ == "TrendScreen"
        await click_on(app, pilot, "esc back")
        await pilot.pause(0.2)
        assert type(app.screen).__name__ == "LogbookScreen"


async def test_a_shift_is_opened_where_it_is_told(tmp_path: Path) -> None:
    """Up from the first station goes to what has shifted; enter opens its trend, which says the same sentence."""
    app = small(tmp_path)
    async with app.run_test(size=(120, 40)) as pilot:
        await trend_ready(pilot)
        trend = app.screen.trend  # type: ignore[attr-defined]

        assert trend.shifts[-1].direction == "up"
        assert trend.says[0] in " ".join(shown(app).split())
        assert "It rises by" in shown(app)
        assert "Good for what grows here now: 5.6 to 6.0." in shown(app)


@pytest.mark.parametrize("size", SIZES)
async def test_the_picture_has_a_line_a_scale_and_a_legend(tmp_path: Path, size: tuple[int, int]) -> None:
    """At every size the line, the days, the words of every glyph and the meaning are there."""
    app = small(tmp_path)
    async with app.run_test(size=size) as pilot:
        await trend_ready(pilot)
        text = shown(app)

        assert any("⠀" < letter <= "⣿" for letter in text)
        assert "Nov" in text
        assert "⠤ reading" in text or "• reading" in text
        for words in ("▴ outside the good", "▒ good 5.6 to 6.0", "╌ usual", "↗ shifts up"):
            assert words in text
        assert "pH has crept up" in text


async def test_without_colour_from_the_start(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """NO_COLOR shows the logbook and the picture in greys, from their first paint on."""
    monkeypatch.setenv("NO_COLOR", "1")
    app = small(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await trend_ready(pilot)
        colours = {colour for _, *both in painted_cells(app) for colour in both}

        assert len(colours) > 1
        assert all(colour.r == colour.g == colour.b for colour in colours)


async def test_what_was_done_stands_below_the_line_and_in_words(tmp_path: Path) -> None:
    """A change of the solution is a mark with its word in the legend, and a sentence with its day."""
    app = small(tmp_path)
    done = NOW - timedelta(days=9)
    app.opened.save(
        Job(key="j-1", what="Renew the solution", station="tub", who="adult", due=done.date(), made=done, by="AR",
            standing="change/tub", closed=done, closed_by="AR", reason="done")
    )  # fmt: skip
    async with app.run_test(size=(120, 40)) as pilot:
        await trend_ready(pilot)

        assert "◆ solution changed" in shown(app)
        assert "Mon 16 Nov: the solution was changed" in shown(app)


async def test_spans_readings_and_working_turn(tmp_path: Path) -> None:
    """Left and right choose the span, tab the next reading of the station, w the working."""
    app = small(tmp_path)
    app.opened.save(*creeping(NOW, question="ec", days=30))
    async with app.run_test(size=(120, 40)) as pilot:
        await trend_ready(pilot)
        await press(pilot, "left")
        await pilot.pause(0.1)
        assert "the last two weeks" in shown(app)
        assert "13 readings" in shown(app)
        await press(pilot, "left", "right", "right", "right", "right")
        await pilot.pause(0.3)
        assert "all there is" in shown(app)
        assert "pH   40 readings" in shown(app)
        await press(pilot, "w")
        assert "individuals chart: mean" in shown(app)
        await press(pilot, "tab")
        await pilot.pause(0.2)
        assert "EC, mS/cm   30 readings" in shown(app)
        await press(pilot, "shift+tab")
        await pilot.pause(0.2)
        assert "pH   40 readings" in shown(app)


async def test_scored_answers_are_on_a_line_with_their_words(tmp_path: Path) -> None:
    """Answers that are picked stand on a line too; the scale says what they were, the healthy one on top."""
    app = small(tmp_path)
    question = app.opened.question("tub", "level")
    assert question is not None
    worse = [question.choices[2 * (at // 12)] for at in range(24)]
    for at, choice in enumerate(worse):
        app.opened.save(
            Answer(key=f"a-l{at:02}", round="r", at=NOW - timedelta(days=24 - at), walker="AR", station="tub",
                   question="level", choices=(choice.id,), verdict=choice.verdict)
        )  # fmt: skip
    async with app.run_test(size=(120, 40)) as pilot:
        await logbook_ready(pilot)
        await press(pilot, "down", "down", "enter", "down", "enter")
        await trend_there(pilot)
        rows = shown(app).splitlines()
        first = next(at for at, row in enumerate(rows) if question.choices[0].says[:17] in row)
        third = next(at for at, row in enumerate(rows) if question.choices[2].says[:17] in row)

        assert first < third
        assert "has been worse since" in shown(app)


async def test_a_correction_and_a_new_answer_are_taken_in(tmp_path: Path) -> None:
    """What another screen has saved stands in the trend when one comes back to it."""
    app = small(tmp_path)
    async with app.run_test(size=(120, 40)) as pilot:
        await trend_ready(pilot)
        await press(pilot, "question_mark")
        app.opened.save(*[one for one in creeping(NOW + timedelta(days=1), days=41) if one.at.date() == NOW.date()])
        await press(pilot, "escape")
        await pilot.pause(0.2)

        assert "pH   41 readings" in shown(app)


async def test_a_question_that_is_gone_says_so(tmp_path: Path) -> None:
    """A question that is no longer asked has no trend; the screen says it in a sentence and lets one go back."""
    from walkabout.screens.trend import TrendScreen

    app = small(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        app.push_screen(TrendScreen("tub", "no-such-thing"))
        await pilot.pause(0.2)
        assert "no longer asked" in shown(app)
        await press(pilot, "w", "tab", "right", "escape")
        assert type(app.screen).__name__ == "TodayScreen"


async def test_ten_years_are_read_back_for_all_there_is(tmp_path: Path) -> None:
    """Readings of years ago are on the line when the span asks for them, and not before."""
    folder = write_small_room(tmp_path / "room")
    records = Records.open(folder, NOW.date())
    with records.together():
        for year in range(1, 11):
            for one in creeping(NOW - timedelta(days=365 * year), days=20):
                records.save(one.__class__(**{field: getattr(one, field) for field in one.__struct_fields__}
                                           | {"key": f"{one.key}-{year}"}))  # fmt: skip
    records.close()
    app = app_for(folder)
    async with app.run_test(size=(120, 40)) as pilot:
        await trend_ready(pilot)
        assert "pH   40 readings" in shown(app)
        await press(pilot, "right", "right")
        for _ in range(200):
            await pilot.pause(0.02)
            if "240 readings" in shown(app):
                break
        assert "pH   240 readings from" in shown(app)
        assert "2020" in shown(app)


async def click_on(app: Walkabout, pilot: Pilot[Any], text: str) -> None:
    """Click on the first place where a text is painted."""
    for y, row in enumerate(shown(app).splitlines()):
        if text in row:
            await pilot.click(offset=(row.index(text) + 3, y))
            await pilot.pause(0.05)
            return
    raise AssertionError(f"{text} is not on the screen")
