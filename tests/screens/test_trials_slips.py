"""Slips at the trials: keys that come too early, a code that nobody gives, what is no number, who may close."""

from pathlib import Path
from typing import Any

import msgspec
import pytest
from textual import events
from textual.keys import _character_to_key
from textual.pilot import Pilot

from tests.rooms import write_small_room
from tests.screens.driving import app_for, press, reckoned_there, shown, some_trial, trials_ready
from tests.screens.test_trials import answer, at_grid, on_disk
from tests.screens.test_trials_of_kinds import line
from walkabout.jobs.trials import close, is_blind, measure
from walkabout.screens.app import Walkabout
from walkabout.screens.trial import TrialScreen
from walkabout.screens.trial_grid import TrialGridScreen
from walkabout.screens.trial_result import TrialResultScreen
from walkabout.screens.trials import TrialsScreen, open_trials
from walkabout.screens.who import WhoScreen
from walkabout.screens.widgets.asking import LineScreen, NumberScreen, PickScreen
from walkabout.screens.widgets.measuregrid import PadLine


@pytest.fixture
def app(tmp_path: Path) -> Walkabout:
    """Open the small room; AR, an adult, is walking."""
    return app_for(write_small_room(tmp_path / "room"))


def at(app: Walkabout, kind: type) -> bool:
    """Say whether a screen of this kind is open."""
    return isinstance(app.screen, kind)


def told(app: Walkabout) -> str:
    """Return the messages that stand at the side."""
    return " ".join(one.message for one in app._notifications)


async def at_once(pilot: Pilot[Any], *parts: str, later: float = 0) -> None:
    """Press keys without any wait, as a hand that does not look at the screen; `later` are seconds of rest before."""
    for part in parts:
        for key in (part,) if part in ("enter", "escape") else part:
            event = events.Key(key if part == key or key.isalnum() else _character_to_key(key),
                               None if len(key) > 1 else key)  # fmt: skip
            event.time += later
            event.set_sender(pilot.app)
            assert pilot.app._driver is not None
            pilot.app._driver.send_message(event)
    for _ in range(5):
        await pilot.pause()


@pytest.mark.parametrize("typed", [("3.4", "2.9"), ("5,2", "1"), ("12", "21")])
async def test_a_number_typed_ahead_signs_as_nobody(app: Walkabout, typed: tuple[str, str]) -> None:
    """The code is asked for before the grid opens, and takes no key that was pressed before it stood there."""
    app.walker = ""
    async with app.run_test(size=(80, 24)) as pilot:
        await trials_ready(pilot)
        before = len(on_disk(app)[1])
        await at_once(pilot, "m", typed[0], "enter", typed[1], "enter")
        assert at(app, WhoScreen)
        assert app.walker == ""
        assert len(on_disk(app)[1]) == before
        await press(pilot, "2")
        assert at(app, WhoScreen)
        assert "once more" in shown(app)
        await at_once(pilot, "2", later=1)
        assert at(app, TrialGridScreen)
        assert app.walker == "K7"
        await press(pilot, "24.5", "enter")
        assert [(one.value, one.by) for one in on_disk(app)[1][before:]] == [(24.5, "K7")]


async def test_a_number_typed_ahead_in_an_open_grid_signs_as_nobody(app: Walkabout) -> None:
    """The value before it is written under the code that is given with eyes on the question."""
    app.walker = ""
    async with app.run_test(size=(80, 24)) as pilot:
        await at_grid(pilot)
        before = len(on_disk(app)[1])
        await at_once(pilot, "24", "enter", "2", ".", "9", "enter")
        assert at(app, WhoScreen)
        assert (app.walker, len(on_disk(app)[1])) == ("", before)
        await at_once(pilot, "2", later=1)
        assert [(one.value, one.by) for one in on_disk(app)[1][before:]] == [(24, "K7")]


async def test_a_number_typed_ahead_is_no_reason(app: Walkabout) -> None:
    """Why a value is corrected is answered by what is typed once the question is seen."""
    async with app.run_test(size=(80, 24)) as pilot:
        await at_grid(pilot)
        before = len(on_disk(app)[1])
        await press(pilot, "24", "enter", "up")
        await at_once(pilot, "25", "enter", "26.5", "enter")
        assert at(app, LineScreen)
        assert len(on_disk(app)[1]) == before + 1
        await press(pilot, "read wrongly", "enter")
        await pilot.pause()
        assert [(one.value, one.reason) for one in on_disk(app)[1][before:]] == [(24, ""), (25, "read wrongly")]


async def test_no_code_opens_no_grid(app: Walkabout) -> None:
    """Escape at the code goes back to the trials."""
    app.walker = ""
    async with app.run_test(size=(80, 24)) as pilot:
        await trials_ready(pilot)
        await press(pilot, "m")
        await pilot.pause()
        assert at(app, WhoScreen)
        await press(pilot, "escape")
        assert at(app, TrialsScreen)


async def test_a_trial_that_is_set_up_is_not_lost_without_a_code(app: Walkabout) -> None:
    """Escape at the code goes back to the last step; a code then writes down all that was answered."""
    app.walker = ""
    async with app.run_test(size=(80, 24)) as pilot:
        open_trials(app)
        await pilot.pause()
        await press(pilot, "n")
        await answer(pilot, "1", "Is a heat mat better?", "9", "as usual", "heat mat", "weight", "1", "g", "", "3")
        await answer(pilot, "2 enter", "enter", "enter")
        for _ in range(300):
            await pilot.pause(0.01)
            if isinstance(app.screen, NumberScreen) and "you need" in " ".join(shown(app).split()):
                break
        await press(pilot, "6", "enter", "enter", "1", "1")
        await pilot.pause()
        assert at(app, WhoScreen)
        await press(pilot, "escape")
        await pilot.pause()
        assert at(app, PickScreen)
        assert "12  Is this the trial?" in shown(app)
        assert on_disk(app)[0] == []
        await press(pilot, "1")
        await at_once(pilot, "2", later=1)
        (trial,), _ = on_disk(app)
        assert (trial.question, trial.by, len(trial.plots)) == ("Is a heat mat better?", "K7", 6)


async def test_a_count_that_is_set_up_is_not_lost_without_a_code(app: Walkabout) -> None:
    """The same for kinds against a ratio."""
    app.walker = ""
    async with app.run_test(size=(80, 24)) as pilot:
        open_trials(app)
        await pilot.pause()
        await press(pilot, "n", "2")
        for text in ("Do green and pale come 3 to 1?", "green; pale", "3:1", "1:1", "both leaves open"):
            await line(pilot, text)
        await press(pilot, "2", "enter")
        for _ in range(300):
            await pilot.pause(0.01)
            if isinstance(app.screen, NumberScreen):
                break
        await press(pilot, "4", "enter", "3", "0", "enter", "1")
        await pilot.pause()
        assert at(app, WhoScreen)
        await press(pilot, "escape")
        await pilot.pause()
        assert "9  Is this the trial?" in shown(app)
        await press(pilot, "1")
        await at_once(pilot, "1", later=1)
        assert [(one.by, one.sown_each) for one in on_disk(app)[0]] == [("AR", 30)]


async def test_numbers_typed_without_a_pause_each_go_into_their_plot(app: Walkabout) -> None:
    """Enter ends a number even where the next one is typed already."""
    async with app.run_test(size=(80, 24)) as pilot:
        await at_grid(pilot)
        before = len(on_disk(app)[1])
        await at_once(pilot, "24", "enter", "25.5", "enter", "26", "enter")
        assert [one.value for one in on_disk(app)[1][before:]] == [24, 25.5, 26]


@pytest.mark.parametrize(("typed", "seen"), [("1e5", "1e5"), ("abc", "abc"), ("7/10", "7/10"), ("24%", "24%")])
async def test_what_stands_in_no_number_is_seen_and_refused(app: Walkabout, typed: str, seen: str) -> None:
    """Nothing is left out of what was typed and no plot is passed over; the next number begins anew."""
    async with app.run_test(size=(80, 24)) as pilot:
        _, screen = await at_grid(pilot)
        before = len(on_disk(app)[1])
        await press(pilot, typed)
        assert seen in shown(app)
        await press(pilot, "enter")
        assert "Type a number, such as 4.2" in shown(app)
        assert (screen._row, len(on_disk(app)[1])) == (0, before)
        await press(pilot, "24", "enter")
        assert [one.value for one in on_disk(app)[1][before:]] == [24]


async def test_the_first_value_is_questioned(app: Walkabout) -> None:
    """A number below 0 and more than a plant comes to are asked about once; what is typed then is another number."""
    async with app.run_test(size=(80, 24)) as pilot:
        await at_grid(pilot, 0)
        await press(pilot, "-4", "enter")
        assert "is below 0" in shown(app)
        await press(pilot, "999999", "enter")
        assert "very much for a plant" in " ".join(shown(app).split())
        assert on_disk(app)[1] == []
        await press(pilot, "4", "enter")
        assert [one.value for one in on_disk(app)[1]] == [4]


async def test_an_adult_closes_a_trial(app: Walkabout) -> None:
    """A pupil is asked for an adult's code, and their own does not do."""
    app.walker = "K7"
    async with app.run_test(size=(80, 24)) as pilot:
        await trials_ready(pilot)
        await press(pilot, "enter", "x")
        assert "An adult closes a trial" in shown(app)
        await press(pilot, "2")
        assert at(app, TrialScreen)
        assert "not the code of an adult" in told(app)
        await press(pilot, "x", "1")
        await answer(pilot, "no difference shown")
        (trial,), _ = on_disk(app)
        assert (trial.reason, trial.history[-1].by, app.walker) == ("no difference shown", "AR", "K7")


async def test_an_adult_opens_the_names(app: Walkabout) -> None:
    """Escape at the code leaves them hidden."""
    app.walker = "K7"
    async with app.run_test(size=(80, 24)) as pilot:
        await blind_trial(pilot)
        await press(pilot, "o")
        assert "An adult opens the names" in shown(app)
        await press(pilot, "escape")
        assert is_blind(on_disk(app)[0][0])
        await press(pilot, "o", "1", "2")
        assert not is_blind(on_disk(app)[0][0])


async def blind_trial(pilot: Pilot[Any]) -> None:
    """Open the page of a trial whose treatments go by codes."""
    app = pilot.app
    assert isinstance(app, Walkabout)
    trial = msgspec.structs.replace(some_trial(app, 1), blind=True, codes=("A", "B"))
    app.opened.save(trial)
    await app.push_screen(TrialScreen(trial.key))
    await pilot.pause()


async def test_a_room_without_adults_is_not_locked_out(tmp_path: Path) -> None:
    """Whoever has a code there opens the names."""
    folder = write_small_room(tmp_path / "room")
    told = (folder / "room.toml").read_text()
    (folder / "room.toml").write_text(told.replace('role = "adult"', 'role = "pupil"'))
    app = app_for(folder, walker="K7")
    async with app.run_test(size=(80, 24)) as pilot:
        await blind_trial(pilot)
        await press(pilot, "o", "2")
        (trial,), _ = on_disk(app)
        assert (is_blind(trial), trial.history[-1].by) == (False, "K7")


async def test_nothing_is_measured_in_a_closed_trial(app: Walkabout) -> None:
    """Neither the list nor its page offers m, and m says why; an open grid takes no number."""
    async with app.run_test(size=(80, 24)) as pilot:
        trial = some_trial(app)
        app.opened.save(close(trial, "done", "AR", app.opened.clock()))
        before = len(on_disk(app)[1])
        open_trials(app)
        await pilot.pause()
        for kind in (TrialsScreen, TrialScreen):
            assert "measure" not in shown(app).splitlines()[-1]
            await press(pilot, "m")
            assert at(app, kind)
            assert "nothing is measured any more" in told(app)
            await press(pilot, "enter")
        await app.push_screen(TrialGridScreen(trial.key))
        await press(pilot, "24", "enter")
        assert not app.screen.query_one(PadLine).display
        assert "This trial is closed" in shown(app)
        assert len(on_disk(app)[1]) == before


async def test_a_day_that_has_just_begun_is_not_judged_first(app: Walkabout) -> None:
    """The result opens on the last day that can be judged and says that there is another."""
    async with app.run_test(size=(120, 40)) as pilot:
        trial = some_trial(app)
        now = app.opened.clock()
        app.opened.save(measure(trial, trial.plots[0].name, 30, day=now.date(), by="AR", now=now))
        screen = TrialResultScreen(trial.key)
        await app.push_screen(screen)
        await reckoned_there(pilot)
        said = " ".join(str(screen._full.content).split())
        assert "(day 3 of 4)" in said
        assert "A later day is not measured far enough yet" in said
        assert screen.shown is not None
        assert screen.shown.facts is not None
        await press(pilot, "right")
        await reckoned_there(pilot)
        assert "(day 4 of 4)" in " ".join(str(screen._full.content).split())
        await press(pilot, "left")
        await reckoned_there(pilot)
        assert "(day 3 of 4)" in " ".join(str(screen._full.content).split())


async def test_a_curve_through_plots_measured_again_has_no_interval(app: Walkabout) -> None:
    """Points of one plot go together: the terms stand alone, and why is said beside them."""
    async with app.run_test(size=(120, 40)) as pilot:
        trial = some_trial(app)
        screen = TrialResultScreen(trial.key)
        await app.push_screen(screen)
        await reckoned_there(pilot)
        for key in ("g", "c"):
            await press(pilot, key)
            await reckoned_there(pilot)
        said = " ".join(str(screen._full.content).split())
        curve = said[said.index("Straight line") :]
        assert "plots measured again and again" in curve
        assert "No interval and no p stand here" in curve
        assert "95 % interval" not in curve
        assert "p = chance" not in curve
