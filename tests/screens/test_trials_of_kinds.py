"""Kinds counted against a ratio on the screen: set up, counted, corrected and judged with keys alone."""

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from tests.rooms import write_small_room
from tests.screens.driving import app_for, press, reckoned_there, shown
from walkabout.jobs.trials import measure, set_up_ratio, standing
from walkabout.records.book import Records
from walkabout.records.model_measured import Kind, Measurement, Plot, Trial
from walkabout.screens.app import Walkabout
from walkabout.screens.trial import TrialScreen
from walkabout.screens.trial_grid import TrialGridScreen
from walkabout.screens.trial_result import TrialResultScreen
from walkabout.screens.trials import TrialsScreen, open_trials
from walkabout.screens.widgets.asking import LineScreen, NumberScreen
from walkabout.screens.widgets.measuregrid import MeasureGrid

SIZES = pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])


@pytest.fixture
def app(tmp_path: Path) -> Walkabout:
    """Open the small room; AR is walking."""
    return app_for(write_small_room(tmp_path / "room"))


def on_disk(app: Walkabout) -> tuple[list[Trial], list[Measurement]]:
    """Read the trials, and what was counted in the first of them, as another program does."""
    records = Records.open(app.opened.folder, app.opened.today())
    trials = records.trials()
    return trials, records.measurements(trials[0].key) if trials else []


def some_ratio(app: Walkabout, trays: int = 3, *, sown: int | None = 20) -> Trial:
    """Write down a count of green and pale seedlings that has not begun."""
    kinds = (Kind(name="green", part=3, other=1), Kind(name="pale", part=1, other=1))
    plots = [Plot(name=f"Tray {number}", kind="tray", treatment="", station="shelf") for number in range(1, trays + 1)]
    trial = set_up_ratio(
        question="Do they come 3 to 1?", kinds=kinds, plots=plots, by="AR", now=app.opened.clock(), sown_each=sown
    )
    app.opened.save(trial)
    return trial


async def at_grid(pilot: Pilot[Any], trial: Trial) -> TrialGridScreen:
    """Open its grid."""
    screen = TrialGridScreen(trial.key)
    await pilot.app.push_screen(screen)
    await pilot.pause()
    return screen


async def line(pilot: Pilot[Any], text: str) -> None:
    """Type into the open line, or take what stands there, and go on."""
    await pilot.pause()
    assert isinstance(pilot.app.screen, LineScreen)
    if text:
        pilot.app.screen.query_one(Input).value = text
    await press(pilot, "enter")
    await pilot.pause()


def words(app: Walkabout) -> str:
    return " ".join(shown(app).split())


@SIZES
async def test_a_ratio_is_set_up_with_keys_alone(app: Walkabout, size: tuple[int, int]) -> None:
    """Kinds, ratio, the other one, how they are told apart, the trays, the seeds; nothing on disk before the end."""
    async with app.run_test(size=size) as pilot:
        open_trials(app)
        await pilot.pause()
        await press(pilot, "n", "2")
        await line(pilot, "Do green and pale come 3 to 1?")
        await line(pilot, "green")
        assert "Name 2 to 5 kinds" in words(app)
        await line(pilot, "green; pale")
        assert "3:1" in words(app)
        await line(pilot, "1:2:1")
        assert "the ratio has 2 parts" in words(app)
        await line(pilot, "3:1")
        await line(pilot, "6:2")
        assert "That is the same ratio" in words(app)
        await line(pilot, "2:1")
        await line(pilot, "both leaves open, against white paper")
        await press(pilot, "2", "enter")
        for _ in range(300):
            await pilot.pause(0.01)
            if isinstance(app.screen, NumberScreen) and "must be counted" in words(app):
                break
        assert "To tell 3:1 from 2:1, 212 must be counted in all." in words(app)
        await press(pilot, "4", "enter", "3", "0", "enter")
        assert "That is 120 seeds in all; 212 must be counted." in words(app)
        await press(pilot, "enter")
        assert "Seeds that do not come up" in words(app)
        assert on_disk(app)[0] == []
        await press(pilot, "1")

        (trial,), _ = on_disk(app)
        assert [(one.name, one.part, one.other) for one in trial.kinds] == [("green", 3, 2), ("pale", 1, 1)]
        assert (trial.treatments, trial.control, trial.planned, trial.sown_each) == ((), "", 212, 30)
        assert (len(trial.plots), trial.how, trial.by) == (4, "both leaves open, against white paper", "AR")
        assert isinstance(app.screen, TrialsScreen)
        assert "Green : pale against 3:1" in words(app)


@SIZES
async def test_enter_goes_from_kind_to_kind_then_to_the_next_tray(app: Walkabout, size: tuple[int, int]) -> None:
    """One column a kind; each count is on disk when it is shown; the grid begins where nothing stands yet."""
    async with app.run_test(size=size) as pilot:
        trial = some_ratio(app)
        await at_grid(pilot, trial)
        assert "green" in shown(app)
        assert "pale" in shown(app)
        await press(pilot, *"15", "enter", *"4", "enter", *"14", "enter")
        found = [(one.plot, one.kind, one.value) for one in on_disk(app)[1]]
        assert found == [("Tray 1", "green", 15), ("Tray 1", "pale", 4), ("Tray 2", "green", 14)]
        await press(pilot, "escape")
        screen = await at_grid(pilot, trial)
        assert (screen._row, screen._column) == (1, 1)
        await press(pilot, *"5", "enter", *"13", "enter", *"0", "enter")
        assert "All are done: r shows the result." in words(app)


async def test_more_than_were_sown_is_questioned_and_a_slip_corrected(app: Walkabout) -> None:
    """Twenty seeds cannot give 25; typing over a count asks why, and only that kind of that tray changes."""
    async with app.run_test(size=(80, 24)) as pilot:
        trial = some_ratio(app)
        screen = await at_grid(pilot, trial)
        await press(pilot, *"15", "enter", *"10", "enter")
        assert "That makes 25 in Tray 1, but 20 were sown." in words(app)
        await press(pilot, "escape", *"4", "enter")
        await press(pilot, "up", "16", "enter")
        assert "Tray 1, green: 15 becomes 16" in words(app)
        await press(pilot, "enter")
        await pilot.pause()
        now = {(one.plot, one.kind): one.value for one in standing(on_disk(app)[1])}
        assert now == {("Tray 1", "green"): 16, ("Tray 1", "pale"): 4}
        assert (screen._row, screen._column) == (0, 1)


async def test_a_click_points_below_both_heads(app: Walkabout) -> None:
    """The day stands above the kinds: the third line is the first tray."""
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await at_grid(pilot, some_ratio(app))
        await pilot.click(MeasureGrid, offset=(4, 4))
        await pilot.pause()
        assert screen._row == 2
        await pilot.click(MeasureGrid, offset=(4, 1))
        await pilot.pause()
        assert screen._row == 2


@SIZES
async def test_the_result_never_says_that_a_ratio_is_proven(app: Walkabout, size: tuple[int, int]) -> None:
    """Picture, chi-squared in words, the trays by themselves, what was sown; neither growth nor another test."""
    async with app.run_test(size=size) as pilot:
        trial = some_ratio(app)
        now = app.opened.clock()
        counts = {"Tray 1": (15, 4), "Tray 2": (14, 5), "Tray 3": (13, 6)}
        app.opened.save(*(
            measure(trial, tray, value, kind=kind.name, day=now.date(), by="AR", now=now)
            for tray, values in counts.items()
            for kind, value in zip(trial.kinds, values, strict=True)
        ))  # fmt: skip
        screen = TrialResultScreen(trial.key)
        await app.push_screen(screen)
        await reckoned_there(pilot)
        assert all(glyph in shown(app) for glyph in "•◆+")
        last = shown(app).splitlines()[-1]
        assert "working" in last
        assert not any(word in last for word in ("growth", "s test"))
        said = " ".join(str(screen._full.content).split())
        for part in (
            "57 counted", "proves nothing", "green: 42, 73.7 % of all", "Tray 3: 13 : 6", "trays do not disagree",
            "3 of 60 seeds sown are not among the counts",
        ):  # fmt: skip
            assert part in said, part
        assert "% of 42" not in said
        await press(pilot, "g", "s")
        assert app.screen is screen
        await press(pilot, "w")
        assert "heterogeneity" in " ".join(str(screen._full.content).split())


async def test_nothing_counted_to_the_end_shows_nothing(app: Walkabout) -> None:
    """One kind alone is no ratio: it says what is lacking."""
    async with app.run_test(size=(80, 24)) as pilot:
        trial = some_ratio(app)
        now = app.opened.clock()
        app.opened.save(measure(trial, "Tray 1", 9, kind="green", day=now.date(), by="AR", now=now))
        await app.push_screen(TrialResultScreen(trial.key))
        await reckoned_there(pilot)
        assert "Nothing is counted to the end yet" in words(app)
        assert "Tray 1 (pale)" in words(app)


async def test_its_page_says_what_would_make_it_unfair(app: Walkabout) -> None:
    """And how many must be counted; there is no control, nothing to draw anew and nothing hidden."""
    async with app.run_test(size=(120, 40)) as pilot:
        screen = TrialScreen(some_ratio(app).key)
        await app.push_screen(screen)
        for _ in range(300):
            await pilot.pause(0.01)
            if "24 must be counted" in words(app):
                break
        said = words(app)
        for part in (
            "no treatment and no control",
            "20 seeds sown in each, 60 in all",
            "several parents",
            "24 must be",
        ):
            assert part in said
        assert "draw anew" not in said
        assert "Hidden names" not in said
