"""Trials on the screen: set up, measured, corrected, judged and closed, with keys or the mouse alone."""

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from tests.rooms import write_small_room
from tests.screens.driving import app_for, press, reckoned_there, result_ready, shown, some_trial, trials_ready
from walkabout.jobs.trials import standing
from walkabout.records.book import Records
from walkabout.records.model_measured import Measurement, Trial
from walkabout.screens.app import Walkabout
from walkabout.screens.trial import TrialScreen
from walkabout.screens.trial_grid import TrialGridScreen
from walkabout.screens.trial_result import TrialResultScreen
from walkabout.screens.trials import TrialsScreen, open_trials
from walkabout.screens.widgets import trialcode
from walkabout.screens.widgets.asking import LineScreen, NumberScreen, PickScreen
from walkabout.screens.widgets.keyline import KeyLine
from walkabout.screens.widgets.measuregrid import PAD, MeasureGrid, PadLine


@pytest.fixture
def app(tmp_path: Path) -> Walkabout:
    """Open the small room; AR is walking."""
    return app_for(write_small_room(tmp_path / "room"))


def on_disk(app: Walkabout) -> tuple[list[Trial], list[Measurement]]:
    """Read the trials, and what was measured in the first of them, as another program does."""
    records = Records.open(app.opened.folder, app.opened.today())
    trials = records.trials()
    return trials, records.measurements(trials[0].key) if trials else []


async def at_grid(pilot: Pilot[Any], days: int = 1) -> tuple[Trial, TrialGridScreen]:
    """Open the grid of a trial that was measured on so many days before today."""
    app = pilot.app
    assert isinstance(app, Walkabout)
    trial = some_trial(app, days)
    await app.push_screen(TrialGridScreen(trial.key))
    await pilot.pause()
    assert isinstance(app.screen, TrialGridScreen)
    return trial, app.screen


async def answer(pilot: Pilot[Any], *texts: str) -> None:
    """Answer the open questions: text for a line, keys for anything else."""
    for text in texts:
        await pilot.pause()
        if isinstance(pilot.app.screen, LineScreen):
            pilot.app.screen.query_one(Input).value = text or pilot.app.screen.query_one(Input).value
            await press(pilot, "enter")
        else:
            await press(pilot, *text.split())
    await pilot.pause()


async def click_key(pilot: Pilot[Any], does: str) -> None:
    """Click a key in the bottom line by what it does."""
    line = pilot.app.screen.query_one(KeyLine)
    place = next(at for at in line._spans if at[2] == next(key.action for key in line.keys if key.does == does))
    await pilot.click(KeyLine, offset=(place[0] + 1, place[3]))
    await pilot.pause()


async def click_digits(pilot: Pilot[Any], typed: list[str]) -> None:
    """Click the digits below the grid."""
    for wanted in typed:
        at = PAD.index(wanted)
        await pilot.click(PadLine, offset=(sum(len(key) + 2 for key in PAD[:at]), 0))
    await pilot.pause()


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_a_trial_is_set_up_with_keys_alone(app: Walkabout, size: tuple[int, int]) -> None:
    """Question, control, response, plots, how many, the draw: written down at the last step and not before."""
    async with app.run_test(size=size) as pilot:
        open_trials(app)
        await pilot.pause()
        assert "There is no trial yet" in shown(app)
        await press(pilot, "n")
        await answer(pilot, "1", "Is a heat mat better?", "9", "as usual", "heat mat", "weight", "1", "g", "", "3")
        await answer(pilot, "2 enter", "enter", "enter")
        for _ in range(300):
            await pilot.pause(0.01)
            if (isinstance(app.screen, NumberScreen) and "plots need" in shown(app)) or "you need" in shown(app):
                break
        assert "26 plots a treatment" in " ".join(shown(app).split())
        await press(pilot, "6", "enter")
        assert "26 are needed for 20 %" in " ".join(shown(app).split())
        await press(pilot, "enter", "1")
        assert "drawn at random from the number" in " ".join(shown(app).split())
        assert on_disk(app)[0] == []
        await press(pilot, "1")

        (trial,), _ = on_disk(app)
        assert (trial.question, trial.control, trial.treatments) == (
            "Is a heat mat better?", "as usual", ("as usual", "heat mat"),
        )  # fmt: skip
        assert (trial.unit, trial.blind, trial.planned, trial.by, len(trial.plots)) == ("g", True, 26, "AR", 6)
        assert isinstance(app.screen, TrialsScreen)
        assert "Is a heat mat better?" in shown(app)


async def test_escape_goes_back_one_question_at_a_time(app: Walkabout) -> None:
    """From the control back to what is changed, to the question as it was typed, to the kind of trial, to the list."""
    async with app.run_test(size=(80, 24)) as pilot:
        open_trials(app)
        await pilot.pause()
        await press(pilot, "n")
        await answer(pilot, "1", "Is a heat mat better?", "9")
        assert "What is the control" in shown(app)
        await press(pilot, "escape")
        assert isinstance(app.screen, PickScreen)
        await press(pilot, "escape")
        assert isinstance(app.screen, LineScreen)
        assert "Is a heat mat better?" in shown(app)
        await press(pilot, "escape")
        assert "What kind of trial is it?" in shown(app)
        await press(pilot, "escape")
        assert isinstance(app.screen, TrialsScreen)
        assert on_disk(app)[0] == []


async def test_the_place_may_have_its_treatment_already(app: Walkabout) -> None:
    """Lamps that hang where they hang are not drawn, and the program says what that costs."""
    async with app.run_test(size=(120, 40)) as pilot:
        open_trials(app)
        await pilot.pause()
        await press(pilot, "n")
        await answer(
            pilot, "1", "Which lamp is better?", "1", "bar", "window", "weight", "1", "g", "", "1", "2 3 enter"
        )
        await answer(pilot, "2", "1", "2", "enter", "enter")
        for _ in range(300):
            await pilot.pause(0.01)
            if "hidden while measuring" in shown(app):
                break
        await press(pilot, "2")
        assert "one plot only" in " ".join(shown(app).split())
        await press(pilot, "1")
        (trial,), _ = on_disk(app)
        assert (trial.seed, [(one.station, one.treatment) for one in trial.plots]) == (
            0, [("shelf", "bar"), ("tub", "window")],
        )  # fmt: skip


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_measuring_is_number_and_enter(app: Walkabout, size: tuple[int, int]) -> None:
    """Each value is on disk when it is shown, and the pointer goes on; what is not measured stays empty."""
    async with app.run_test(size=size) as pilot:
        trial, screen = await at_grid(pilot)
        await press(pilot, "24.5", "enter", "31", "down", "down", "28,25", "enter")
        today = app.opened.today()
        found = {one.plot: one.value for one in on_disk(app)[1] if one.day == today}
        names = [one.name for one in trial.plots]
        assert found == {names[0]: 24.5, names[1]: 31, names[3]: 28.25}
        assert "24.5" in shown(app)
        assert screen._row == 4
        assert {one.by for one in on_disk(app)[1]} == {"AR"}


async def test_measuring_with_the_mouse_alone(app: Walkabout) -> None:
    """Point at a cell, click digits and enter."""
    async with app.run_test(size=(120, 40)) as pilot:
        trial, screen = await at_grid(pilot)
        await pilot.click(MeasureGrid, offset=(4, 4))
        await pilot.pause()
        assert (screen._row, screen._column) == (3, 1)
        await click_digits(pilot, ["2", "7", ".", "5", "1", "⌫", "enter"])
        today = app.opened.today()
        assert [(one.plot, one.value) for one in on_disk(app)[1] if one.day == today] == [(trial.plots[3].name, 27.5)]
        await click_key(pilot, "back")
        assert not isinstance(app.screen, TrialGridScreen)


async def test_a_slip_is_questioned_before_it_is_written_down(app: Walkabout) -> None:
    """Y takes what may have been meant; enter once more keeps it as typed."""
    async with app.run_test(size=(80, 24)) as pilot:
        trial, _ = await at_grid(pilot)
        today = app.opened.today()
        await press(pilot, "250", "enter")
        assert "times the others" in shown(app)
        assert not [one for one in on_disk(app)[1] if one.day == today]
        await press(pilot, "y", "250", "enter", "enter")
        found = {one.plot: one.value for one in on_disk(app)[1] if one.day == today}
        assert found == {trial.plots[0].name: 25, trial.plots[1].name: 250}


async def test_typing_over_a_value_is_a_correction_with_its_reason(app: Walkabout) -> None:
    """The first value stays on record; escape at the reason writes nothing down."""
    async with app.run_test(size=(80, 24)) as pilot:
        trial, _ = await at_grid(pilot)
        await press(pilot, "24", "enter", "up", "25", "enter")
        assert "24 becomes 25" in shown(app)
        await press(pilot, "escape")
        today = app.opened.today()
        assert [one.value for one in on_disk(app)[1] if one.day == today] == [24]
        await press(pilot, "enter")
        await press(pilot, "enter")
        mine = [one for one in on_disk(app)[1] if one.day == today]
        assert [(one.value, one.reason) for one in mine] == [(24, ""), (25, "a slip of the hand")]
        assert [one.value for one in standing(mine)] == [25]
        assert mine[0].plot == trial.plots[0].name


async def test_a_value_is_left_out_with_a_reason_and_counted_again(app: Walkabout) -> None:
    """Its number stays in the grid, in brackets."""
    async with app.run_test(size=(80, 24)) as pilot:
        await at_grid(pilot)
        await press(pilot, "24", "enter", "up", "x")
        await answer(pilot, "fell over")
        assert "(24)" in shown(app)
        assert "fell over" in [one.excluded for one in on_disk(app)[1]]
        await press(pilot, "x")
        assert "(24)" not in shown(app)
        assert "fell over" not in [one.excluded for one in on_disk(app)[1]]


async def test_what_is_no_number_is_said_and_not_written_down(app: Walkabout) -> None:
    """Escape takes back what is being typed; a second one leaves."""
    async with app.run_test(size=(80, 24)) as pilot:
        _, screen = await at_grid(pilot)
        before = len(on_disk(app)[1])
        await press(pilot, "2.4.1", "enter")
        assert "Type a number" in shown(app)
        await press(pilot, "escape")
        assert app.screen is screen
        assert len(on_disk(app)[1]) == before
        await press(pilot, "escape")
        assert app.screen is not screen


async def test_a_code_is_asked_for_once(app: Walkabout, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a code nothing is written down; with one it is."""
    monkeypatch.setattr(trialcode, "REST", 0)
    app.walker = ""
    async with app.run_test(size=(80, 24)) as pilot:
        await at_grid(pilot)
        before = len(on_disk(app)[1])
        await press(pilot, "24", "enter")
        await press(pilot, "escape")
        assert len(on_disk(app)[1]) == before
        await press(pilot, "enter")
        await press(pilot, "1")
        await press(pilot, "25", "enter")
        assert len(on_disk(app)[1]) == before + 2


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_the_result_is_a_picture_and_the_same_in_words(app: Walkabout, size: tuple[int, int]) -> None:
    """Points, mean and interval; the difference with its interval; an outlier is named and kept; t leaves the words."""
    async with app.run_test(size=size) as pilot:
        await result_ready(pilot)
        screen = app.screen
        assert isinstance(screen, TrialResultScreen)
        seen = shown(app)
        assert all(glyph in seen for glyph in "•◆○×")
        assert screen.shown is not None
        assert screen.shown.facts is not None
        assert screen.shown.facts["design"] == "blocked"
        assert [one["value"] for one in screen.shown.facts["outliers"]] == [60]
        text = screen._full.content.plain if hasattr(screen._full.content, "plain") else str(screen._full.content)
        words = " ".join(text.split())
        plot = screen._trial.plots[2].name if screen._trial else "?"
        assert "95 % interval" in words
        assert f"({plot}) lies" in words
        assert "knocked over" in words
        await press(pilot, "t")
        assert "◆" not in shown(app)


async def test_what_is_typed_is_never_lost_on_the_way_to_something_else(app: Walkabout) -> None:
    """With a number typed and not written down, d, x and r say so and leave it; esc takes it back."""
    async with app.run_test(size=(80, 24)) as pilot:
        _, screen = await at_grid(pilot)
        before = len(on_disk(app)[1])
        await press(pilot, "24")
        assert "esc take back" in shown(app)
        for key in ("d", "x", "r"):
            await press(pilot, key)
            assert app.screen is screen
            assert "Enter writes 24 down first" in shown(app)
        assert screen._typed == "24"
        await press(pilot, "escape")
        assert "esc back" in shown(app)
        assert len(on_disk(app)[1]) == before


async def test_the_bottom_line_of_a_result_names_what_works(app: Walkabout) -> None:
    """One day can be judged by another test; growth has a curve instead, and neither a day nor a working."""
    async with app.run_test(size=(120, 40)) as pilot:
        await result_ready(pilot)
        last = shown(app).splitlines()[-1]
        assert all(word in last for word in ("day", "growth", "s test", "working"))
        await press(pilot, "w")
        assert "w no working" in shown(app).splitlines()[-1]
        await press(pilot, "g")
        await reckoned_there(pilot)
        last = shown(app).splitlines()[-1]
        assert "c curve" in last
        assert not any(word in last for word in ("←→", "s test", "working"))


async def test_every_day_can_be_reached_with_the_mouse(app: Walkabout) -> None:
    """A click on the days goes back one, and from the first to the last."""
    async with app.run_test(size=(80, 24)) as pilot:
        await result_ready(pilot)
        screen = app.screen
        assert isinstance(screen, TrialResultScreen)
        seen = []
        for _ in range(4):
            seen.append(next(f"day {at}" for at in (1, 2, 3) if f"(day {at} of 3)" in str(screen._full.content)))
            await click_key(pilot, "day")
            await reckoned_there(pilot)
        assert seen == ["day 3", "day 2", "day 1", "day 3"]


async def test_a_curve_that_cannot_be_laid_is_not_named_below_the_picture(app: Walkabout) -> None:
    """Two days are too few for a logistic curve: the line is that of the means, and why is said."""
    async with app.run_test(size=(120, 40)) as pilot:
        trial = some_trial(app, 2)
        screen = TrialResultScreen(trial.key)
        await app.push_screen(screen)
        await reckoned_there(pilot)
        for key in ("g", "c", "c"):
            await press(pilot, key)
            await reckoned_there(pilot)
        assert "line: the means" in shown(app)
        said = " ".join(str(screen._full.content).split())
        assert "Logistic growth curve" in said
        assert "at least 4 values" in said
        assert "A curve that fits" not in said


async def test_the_answer_stands_below_the_question(app: Walkabout) -> None:
    """What was seen and whether chance could make it is read before day, interval and test; of growth too."""
    async with app.run_test(size=(80, 24)) as pilot:
        await result_ready(pilot)
        screen = app.screen
        assert isinstance(screen, TrialResultScreen)
        for asked in ("Weight: ", "Weight gained a day: "):
            said = " ".join(str(screen._full.content).split())
            assert f"do lettuces grow heavier? {asked}warm mat is " in said
            assert " g above as usual on average. " in said
            await press(pilot, "g")
            await reckoned_there(pilot)


async def test_working_growth_and_another_test(app: Walkabout) -> None:
    """W shows the formulas, g growth by day, c a curve through it, s a test that fits the design as well."""
    async with app.run_test(size=(120, 40)) as pilot:
        await result_ready(pilot)
        screen = app.screen
        assert isinstance(screen, TrialResultScreen)
        await press(pilot, "w")
        await pilot.pause(0.1)  # the page scrolls once it is drawn
        assert "partial eta squared" in " ".join(shown(app).split())
        await press(pilot, "g")
        await reckoned_there(pilot)
        await press(pilot, "c")
        await reckoned_there(pilot)
        await pilot.pause(0.2)
        assert "straight line" in shown(app)
        assert "day 4" in shown(app)
        said = " ".join(str(screen._full.content).split())
        assert "Weight gained a day (g): the mean difference" in said
        assert "Each plot counts once" in said
        await press(pilot, "g")
        await reckoned_there(pilot)
        await press(pilot, "s")
        await press(pilot, "4")
        await reckoned_there(pilot)
        assert screen.shown is not None
        assert screen.shown.facts is not None
        assert "permutation" in screen.shown.facts["test"]["name"].casefold()


async def test_an_unmeasured_trial_shows_nothing(app: Walkabout) -> None:
    """It says so, and draws no picture."""
    async with app.run_test(size=(80, 24)) as pilot:
        trial = some_trial(app, 0)
        await app.push_screen(TrialResultScreen(trial.key))
        await reckoned_there(pilot)
        assert "Nothing is measured yet" in shown(app)
        assert "◆" not in shown(app)


async def test_a_trial_is_closed_with_what_came_out(app: Walkabout) -> None:
    """From then on nothing is measured; the reason stands on its page."""
    async with app.run_test(size=(80, 24)) as pilot:
        await trials_ready(pilot)
        await press(pilot, "enter", "x")
        await answer(pilot, "no difference shown")
        assert isinstance(app.screen, TrialScreen)
        assert "Closed: no difference shown" in shown(app)
        (trial,), measured = on_disk(app)
        assert trial.reason == "no difference shown"
        await app.push_screen(TrialGridScreen(trial.key))
        await pilot.pause()
        await press(pilot, "24", "enter")
        assert "This trial is closed" in shown(app)
        assert len(on_disk(app)[1]) == len(measured)


async def test_the_mouse_opens_and_judges_a_trial(app: Walkabout) -> None:
    """Every key of the bottom line can be clicked."""
    async with app.run_test(size=(120, 40)) as pilot:
        await trials_ready(pilot)
        await click_key(pilot, "open")
        assert isinstance(app.screen, TrialScreen)
        await click_key(pilot, "result")
        assert isinstance(app.screen, TrialResultScreen)
        await click_key(pilot, "back")
        await click_key(pilot, "measure")
        assert isinstance(app.screen, TrialGridScreen)
        await click_key(pilot, "back")
        await click_key(pilot, "back")
        assert isinstance(app.screen, TrialsScreen)
