"""What plants reach, lose and give is written down from the room and from a station's page, with keys alone."""

from datetime import date, timedelta
from pathlib import Path

import msgspec
import pytest
from textual.pilot import Pilot

from tests.screens.driving import press, shown
from tests.screens.test_room import NOW, begin, lines_of, open_room, type_in
from walkabout.jobs.findings import flag
from walkabout.jobs.promises import promise
from walkabout.jobs.treatments import treat
from walkabout.records.model import Job, Treatment
from walkabout.records.sums import lost, thinned_out
from walkabout.round.opened import OpenRoom
from walkabout.screens.app import Walkabout

TODAY = NOW.date()


async def keys(pilot: Pilot[int], *pressed: str) -> None:
    """Press each key once the screen before has come."""
    for key in pressed:
        await press(pilot, key)


def words(app: Walkabout) -> str:
    """Return what is painted, the page of the station to its end, and what was said, without line breaks."""
    pages = [lines_of(one) for one in app.screen.query("#station")]
    said = [one.message for one in app._notifications]
    return " ".join(" ".join([shown(app), *pages, *said]).split())


def put_on(wait_days: int | None = 7, **more: object) -> Treatment:
    given = {"station": "film", "what": "soap", "entry_hours": None, "by": "AR", "role": "adult", "now": NOW}
    return treat(wait_days=wait_days, **(given | more))  # type: ignore[arg-type]


async def eat(pilot: Pilot[int], checks: int) -> None:
    """Choose to eat, and answer every check with yes."""
    await keys(pilot, "w", "1", "1", *["1"] * checks)


async def test_stages_and_losses_are_written_down_one_after_the_other(tmp_path: Path) -> None:
    """Came up, thinned, flowers and lost, each with its day; the station's page tells them and where plants went."""
    opened = open_room(tmp_path)
    app = Walkabout(opened, "room", "K7")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 1)
        await keys(pilot, "w", "4", "1", "1", "enter")
        assert "from 0 to 10" in words(app)
        await keys(pilot, "backspace", "backspace", "9", "enter")
        await type_in(app, pilot, "2 weeks ago")
        await keys(pilot, "w", "3", "6", "enter")
        await type_in(app, pilot, "")
        await keys(pilot, "w", "5")
        await type_in(app, pilot, "2026-10-01")
        assert "sown only on 2026-11-01" in words(app)
        await type_in(app, pilot, "yesterday")
        await keys(pilot, "w", "2", "2", "enter", "1")
        await type_in(app, pilot, "")
        text = words(app)
        assert "began with 10 · came up 11 Nov (9) · thinned today (6) · flowers yesterday" in text
        assert "1 did not come up · 2 dried out" in text
    basil = opened.plantings["p1"]
    assert (basil.count, basil.started, lost(basil), thinned_out(basil)) == (4, 10, 3, 3)
    assert {one.by for one in (*basil.reached, *basil.losses)} == {"K7"}


async def test_the_same_keys_work_on_the_page_of_a_station(tmp_path: Path) -> None:
    """The menu opens there too, and a reason of one's own is typed."""
    opened = open_room(tmp_path)
    app = Walkabout(opened, "room", "K7")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 1)
        await keys(pilot, "enter", "w", "2", "1", "enter", "7")
        await type_in(app, pilot, "[red]sat on[/]")
        await type_in(app, pilot, "")
        assert "1 lost, [red]sat on[/]" in words(app)
    assert opened.plantings["p1"].losses[0].why == "[red]sat on[/]"


async def test_an_adult_answers_before_anybody_eats(tmp_path: Path) -> None:
    """Every check with yes, then plants, grams, portions, promise; who answered is on record."""
    opened = open_room(tmp_path)
    meal = promise(crop="basil", amount=8, unit="portions", day=TODAY, people="8B", by="AR", now=NOW)
    opened.save(meal)
    app = Walkabout(opened, "room", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 1)
        await eat(pilot, 7)
        assert "What was picked?" in words(app)
        await keys(pilot, "1", "4", "enter", "1", "2", "0", "enter", "5", "enter")
        assert "8B, Wednesday 25 Nov 8 portions of basil" in words(app)
        await keys(pilot, "1")
        assert "4 plants, 120 g, 5 portions, to be eaten" in words(app)
    basil = opened.plantings["p1"]
    (picking,) = basil.pickings
    assert (basil.count, picking.count, picking.grams, picking.portions) == (6, 4, 120, 5)
    assert (picking.promise, picking.by) == (meal.key, "AR")
    assert basil.history[-1].says.endswith("an adult answered before it is eaten: AR")


async def test_a_pupil_is_told_to_fetch_an_adult(tmp_path: Path) -> None:
    """Under a pupil's code an adult's is asked for; another pupil's is not taken; nothing is written down."""
    opened = open_room(tmp_path)
    app = Walkabout(opened, "room", "K7")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 1)
        await keys(pilot, "w", "1", "1")
        assert "An adult answers before anybody eats. Whose code is it?" in words(app)
        await keys(pilot, "2")
        assert "Fetch an adult" in words(app)
        await keys(pilot, "1", "1", *["1"] * 7, "2", "3", "0", "enter", "enter")
        assert "cut, grows on, 30 g" in words(app)
    (picking,) = opened.plantings["p1"].pickings
    assert picking.by == "K7"
    assert "it is eaten: AR" in opened.plantings["p1"].history[-1].says


async def test_one_no_leaves_it_uneaten(tmp_path: Path) -> None:
    """The screen goes back to what it is picked for; composting it then is written down without portions."""
    opened = open_room(tmp_path)
    app = Walkabout(opened, "room", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 1)
        await eat(pilot, 3)
        await keys(pilot, "2")
        assert "not eaten yet" in words(app)
        assert "What is it picked for?" in words(app)
        await keys(pilot, "2", "1", "enter", "enter")
        assert "10 plants, composted. None are left: it has ended." in words(app)
    basil = opened.plantings["p1"]
    assert (basil.count, basil.ended, basil.reason, basil.pickings[0].portions) == (0, TODAY, "composted", None)


@pytest.mark.parametrize("begins", [("w", "1"), ("e", "1")])
async def test_what_blocks_is_shown_and_eating_is_not_offered(tmp_path: Path, begins: tuple[str, str]) -> None:
    """A waiting time and a finding: neither 'picked' nor 'ended as harvested' leads past them."""
    opened = open_room(tmp_path)
    opened.save(put_on(), flag(station="film", seen="grey fur", verdict="today", by="K7", now=NOW))
    app = Walkabout(opened, "room", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 1)
        await keys(pilot, *begins)
        text = words(app)
        assert "It may not be eaten now. What becomes of it?" in text
        assert "not to be eaten before Wed 2 Dec" in text
        assert "grey fur. It is not decided yet." in text
        assert "to be eaten an adult" not in text
        await keys(pilot, "2", "1", "1", "enter", "enter")
        assert "kept as a specimen" in words(app)
    assert opened.plantings["p1"].count == 9
    assert "specimen" in opened.plantings["p1"].history[-1].says


async def test_an_adult_writes_down_a_treatment_and_later_its_wait(tmp_path: Path) -> None:
    """Into the shared solution it reaches both stations; not known blocks; filled in, it ends on its day."""
    opened = open_room(tmp_path)
    app = Walkabout(opened, "room", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 1)
        await keys(pilot, "w", "6")
        assert "into the solution it reaches Beans too" in words(app)
        await keys(pilot, "3")
        await type_in(app, pilot, "[/b] granules")
        await keys(pilot, "enter", "2", "4", "enter")
        await type_in(app, pilot, "yesterday")
        assert "until the waiting time is filled in" in words(app)
        await keys(pilot, "w", "7")
        assert "[/b] granules" in words(app)
        await keys(pilot, "enter")
        assert "Type the days that stand on the label" in words(app)
        await keys(pilot, "1", "0", "enter")
        assert "before Friday 4 Dec" in words(app)
    got = sorted(opened.treatments.values(), key=lambda one: one.station)
    assert [(one.station, one.wait_days, one.entry_hours, one.day) for one in got] == [
        ("film", 10, 24, date(2026, 11, 24)),
        ("vine", None, 24, date(2026, 11, 24)),
    ]


async def test_a_pupils_code_writes_down_no_treatment(tmp_path: Path) -> None:
    """A pupil's second code is refused too, and nothing is on record."""
    opened = open_room(tmp_path)
    app = Walkabout(opened, "room", "K7")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 1)
        await keys(pilot, "w", "6", "2")
        assert "Fetch an adult" in words(app)
    assert opened.treatments == {}


async def test_a_job_that_treats_asks_for_the_waiting_time(tmp_path: Path) -> None:
    """Escape leaves the job open; enter alone leaves the wait unknown, and a treatment stands on record."""
    opened = open_room(tmp_path)
    opened.save(_spraying(opened))
    app = Walkabout(opened, "jobs", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.pause()
        await keys(pilot, "d", "escape")
        assert opened.jobs["j1"].closed is None
        await keys(pilot, "d", "enter", "6", "enter")
        assert "until the waiting time is filled in" in words(app)
    (made,) = opened.treatments.values()
    assert (opened.jobs["j1"].reason, made.station, made.wait_days, made.entry_hours) == ("done", "film", None, 6)


async def test_a_pupil_ends_no_job_that_treats(tmp_path: Path) -> None:
    """Nothing is asked, and it says who may."""
    opened = open_room(tmp_path)
    opened.save(_spraying(opened))
    app = Walkabout(opened, "jobs", "K7")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.pause()
        await keys(pilot, "d")
        assert "Only an adult may close this" in words(app)
    assert (opened.jobs["j1"].closed, opened.treatments) == (None, {})


def _spraying(opened: OpenRoom) -> Job:
    return Job(
        key="j1", what="Put on the product", station="film", who="adult", due=TODAY, made=NOW - timedelta(days=1),
        by="AR", treats=True,
    )  # fmt: skip


async def test_what_changed_meanwhile_is_not_written_over(tmp_path: Path) -> None:
    """The gate is asked once more at the end: what was put on in between blocks."""
    opened = open_room(tmp_path)
    app = Walkabout(opened, "room", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot, 1)
        await eat(pilot, 7)
        opened.save(msgspec.structs.replace(put_on(), key="t9"))
        await keys(pilot, "1", "enter", "enter", "enter")
        assert "Nothing was written down. Basil: not to be eaten" in words(app)
    assert opened.plantings["p1"].pickings == ()
