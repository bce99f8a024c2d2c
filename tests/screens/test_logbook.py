"""The logbook and the trend of one reading."""

from datetime import timedelta
from pathlib import Path
from typing import Any

import msgspec
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
from walkabout.records.model import Answer, Finding, Job
from walkabout.records.model_measured import Hour
from walkabout.screens.app import MAIN, Walkabout
from walkabout.screens.logbook import LogbookScreen
from walkabout.screens.trend import TrendScreen
from walkabout.screens.widgets.logbooklines import keys_in

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
        assert "no shift shown" in shown(app)
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
        await click_on(app, pilot, "n term")
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


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_the_working_comes_into_sight(tmp_path: Path, size: tuple[int, int]) -> None:
    """On a low screen w scrolls to the working, the words that name readings by their numbers; w again leads back."""
    app = small(tmp_path)
    async with app.run_test(size=size) as pilot:
        await trend_ready(pilot)
        assert "individuals chart" not in shown(app)
        await press(pilot, "w")
        await pilot.pause(0.1)
        assert "Working" in shown(app)
        assert "individuals chart" in shown(app)
        assert "pgdn read on" in shown(app)
        await press(pilot, "w")
        await pilot.pause(0.1)
        assert "pH has crept up" in shown(app)


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


@pytest.mark.parametrize("size", SIZES)
async def test_values_stand_in_lines_the_newest_first(tmp_path: Path, size: tuple[int, int]) -> None:
    """V lists day, value and verdict in the place of the picture, whatever the size; v once more brings it back."""
    app = small(tmp_path)
    async with app.run_test(size=size) as pilot:
        await trend_ready(pilot)
        await press(pilot, "v")
        await trend_there(pilot)
        rows = [row.strip() for row in shown(app).splitlines()]
        first = next(at for at, row in enumerate(rows) if "Tue 24 Nov  pH" in row)

        assert isinstance(app.screen, TrendScreen)
        assert app.screen.series is not None
        count = len(app.screen.series.points)
        assert rows[first].split() == [str(count), "Tue", "24", "Nov", "pH", "6.1", "✓", "good"]
        assert rows[first + 1].startswith(f"{count - 1}  Mon 23 Nov")
        assert "pH has crept up" not in shown(app)
        assert not any("⠀" < letter <= "⣿" for letter in shown(app))
        await press(pilot, *["pagedown"] * 5)
        assert "1  Fri 16 Oct  pH" in shown(app)
        await press(pilot, "v")
        assert "pH has crept up" in shown(app)


async def test_a_value_that_was_put_right_says_so(tmp_path: Path) -> None:
    """Beside the value that counts stand who put it right, why, and what it was; a long note is wrapped, not cut."""
    app = small(tmp_path)
    note = "the electrode was dry and had to stand in its liquid for an hour before it read anything sensible at all"
    async with app.run_test(size=(80, 24)) as pilot:
        await trend_ready(pilot)
        old = app.opened.history.all("tub", "ph")[-1]
        app.opened.save(
            msgspec.structs.replace(
                old, key="a-zz", value=6.44, walker="K7", replaces=old.key, reason="read upside down", note=note
            )
        )
        await press(pilot, "v")
        app.screen.renew()  # type: ignore[attr-defined]
        await trend_there(pilot)
        text = " ".join(shown(app).split())

        assert "pH 6.4 " in text
        assert "Put right by K7: read upside down. It was pH 6.1." in text
        assert note in text
        await press(pilot, "w")
        assert "w no working" in shown(app)
        assert any("⠀" < letter <= "⣿" for letter in shown(app))


async def test_a_scored_answer_is_listed_in_its_words(tmp_path: Path) -> None:
    """Of picked answers the list says what was picked, and why it was judged as it was; nobody looked is said too."""
    app = small(tmp_path)
    question = app.opened.question("tub", "level")
    assert question is not None
    for at, choice in enumerate(question.choices):
        app.opened.save(
            Answer(key=f"a-l{at:02}", round="r", at=NOW - timedelta(days=9 - at), walker="AR", station="tub",
                   question="level", choices=(choice.id,), verdict=choice.verdict, why=f"Reason {at}.")
        )  # fmt: skip
    app.opened.save(
        Answer(key="a-l90", round="r", at=NOW - timedelta(days=1), walker="AR", station="tub", question="level",
               state="not looked")
    )  # fmt: skip
    async with app.run_test(size=(120, 40)) as pilot:
        await app.push_screen(TrendScreen("tub", "level"))
        await trend_there(pilot)
        await press(pilot, "v")
        await trend_there(pilot)
        text = shown(app)

        assert all(choice.says in text for choice in question.choices)
        assert all(f"Reason {at}." in text for at, one in enumerate(question.choices) if one.verdict != "good")
        assert "○ not looked" in text


async def test_a_long_finding_is_told_to_its_end(tmp_path: Path) -> None:
    """What somebody noticed stands below the picture whole, over as many lines as it needs."""
    app = small(tmp_path)
    seen = "white threads between the leaves of the lowest three plants beside the door, none on the others, seen twice"
    app.opened.save(Finding(key="f-1", station="tub", at=NOW - timedelta(days=3), by="AR", seen=seen, verdict="watch"))
    async with app.run_test(size=(120, 40)) as pilot:
        await trend_ready(pilot)

        assert f'somebody noticed: "{seen}"' in " ".join(shown(app).split())


async def test_the_keys_that_matter_are_seen_on_a_narrow_screen(tmp_path: Path) -> None:
    """At 80 columns the two bottom lines name every key of the logbook."""
    app = small(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await logbook_ready(pilot)
        for keys in ((), ("down", "down", "enter")):
            await press(pilot, *keys)
            last = " ".join(shown(app).splitlines()[-2:])
            assert all(f"{key.shown} {key.does}" in last for key in keys_in("stations")[1:])


@pytest.mark.parametrize(
    ("key", "screen"),
    [("t", "TrialsScreen"), ("n", "TermScreen"), ("p", "PaperScreen"), ("x", "ExportScreen"), ("i", "TakeInScreen"),
     ("h", "HandoverScreen")],
)  # fmt: skip
async def test_each_way_out_opens_its_screen_once(tmp_path: Path, key: str, screen: str) -> None:
    """A key that is hit twice opens one screen; escape comes back to the logbook."""
    app = small(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await logbook_ready(pilot)
        app.simulate_key(key)
        app.action_go(next(name for name, (_, kind) in MAIN.items() if kind == screen))
        await pilot.pause(0.1)
        assert [type(one).__name__ for one in app.screen_stack].count(screen) == 1
        await press(pilot, "escape")
        await pilot.pause(0.1)
        assert type(app.screen).__name__ == "LogbookScreen"


async def test_paper_and_tables_are_found_by_name(tmp_path: Path) -> None:
    """The palette offers what is printed, put out and taken in, each with a line that says what it is."""
    app = small(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        offered = {one.title: one for one in app.get_system_commands(app.screen)}
        for title, screen in (("Paper", "PaperScreen"), ("Tables out", "ExportScreen"), ("Take in", "TakeInScreen")):
            assert offered[title].help
            offered[title].callback()
            await pilot.pause(0.1)
            assert type(app.screen).__name__ == screen
            await press(pilot, "escape")


async def test_a_mouse_comes_to_every_span(tmp_path: Path) -> None:
    """A click on the span in the bottom line goes on to the next one, and from the longest back to the shortest."""
    app = small(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await logbook_ready(pilot)
        seen = []
        for _ in range(4):
            await click_on(app, pilot, "←→ span")
            seen.append(shown(app).splitlines()[1].split(" · ")[1])

        assert seen == ["the last year", "all there is", "the last two weeks", "the last 12 weeks"]


async def test_a_shift_makes_its_station_stand_out(tmp_path: Path) -> None:
    """While a shift is pointed at, its own station is the one in bold, and its readings are listed below."""
    app = small(tmp_path)
    async with app.run_test(size=(120, 40)) as pilot:
        await logbook_ready(pilot)
        await press(pilot, "up")
        bold = [
            segment.text.strip()
            for row in app.screen._compositor.render_strips()
            for segment in row
            if segment.style is not None and segment.style.bold
        ]

        assert "Raft tub" in bold
        assert "The room" not in bold
        assert "Raft tub   1 on record" in shown(app)


async def test_what_a_logger_read_has_its_days_its_line_and_its_hours(tmp_path: Path) -> None:
    """A logger's quantity stands among the readings with bars of its days; its trend has a line, and v its hours."""
    app = small(tmp_path)
    first = NOW.replace(hour=0) - timedelta(days=5)
    for at in range(5 * 24):
        mean = 20.0 + at // 24 + (0.0, 1.5)[6 < at % 24 < 20]
        app.opened.records.save(
            Hour(key=f"h{at:03}", station="case", quantity="air temperature", start=first + timedelta(hours=at), n=6,
                 mean=mean, low=mean - 0.3, high=mean + 0.4, unit="°C")
        )  # fmt: skip
    async with app.run_test(size=(120, 40)) as pilot:
        await logbook_ready(pilot)
        await press(pilot, *["down"] * 7, "enter")
        row = next(row for row in shown(app).splitlines() if "Air temperature, by logger" in row)
        assert row.split()[-1] == "·········▁▃▄▅▇"
        await press(pilot, "enter")
        await trend_there(pilot)
        assert "mean of an hour" in shown(app)
        assert any("⠀" < letter <= "⣿" for letter in shown(app))
        await press(pilot, "v")
        await trend_there(pilot)
        assert "Tue 24 Nov 23:00  24.0 °C  Lowest 23.7 °C, highest 24.4 °C." in shown(app)


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
