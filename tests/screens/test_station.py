"""The station screen: what was answered, in words, and an answer put right with its reason."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

from textual.geometry import Region
from textual.pilot import Pilot
from textual.widget import Widget
from textual.widgets import Input

from tests.screens.driving import shown
from walkabout.records.model import Answer, Move, Planting
from walkabout.round.opened import OpenRoom
from walkabout.screens.app import Walkabout
from walkabout.screens.station import MOST, StationScreen
from walkabout.screens.widgets.pointlist import PointList

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
HOSTILE = ("half [/b] open", "[/", "[red]x[/red]", "[@click=app.quit]x[/]", "two\nlines", "宽" * 90)
ROOM = """
name = "Test room"
kit = ["pH meter", "EC meter"]
people = { AR = { role = "adult" }, K7 = { role = "pupil" } }
tanks = { tub = { litres = 60 } }
pumps = { air = { moves = "air" } }
[[station]]
key = "tub"
name = "Raft [b]tub[/b]"
kind = "raft"
tank = "tub"
pumps = ["air"]
"""


def open_room(folder: Path) -> OpenRoom:
    """Return a room with a raft of lettuce, and EC readings of three days and today: 1.2, 1.2, 1.2, 14."""
    (folder / "room.toml").write_text(ROOM, encoding="utf-8")
    opened = OpenRoom(folder, clock=lambda: NOW)
    sown = NOW.date() - timedelta(days=24)
    move = Move(day=sown, station="tub")
    opened.save(Planting(key="p1", crop="raft-lettuce", sown=sown, count=12, moves=(move,)))
    ec = ec_of(opened)
    for back, value in ((3, 1.2), (2, 1.2), (1, 1.2), (0, 14.0)):
        verdict = "good" if value < 2 else "now"
        opened.save(given(f"a{9 - back}", back, ec, value=value, unit="mS/cm", verdict=verdict))
    return opened


def given(key: str, back: int, question: str, station: str = "tub", **more: object) -> Answer:
    """Return an answer of so many days ago."""
    at = NOW - timedelta(days=back, minutes=5)
    return Answer(key=key, round="r", at=at, walker="K7", station=station, question=question, **more)  # type: ignore[arg-type]


def ec_of(opened: OpenRoom) -> str:
    """Return the id of the raft's question for EC."""
    return next(one.id for one in opened.checklists["raft"].question if one.reading and one.reading.quantity == "EC")


def lines_of(widget: Widget) -> str:
    """Return a widget as it stands on the screen."""
    height, width = widget.size.height, widget.size.width
    return "\n".join(strip.text.rstrip() for strip in widget.render_lines(Region(0, 0, width, height)))


async def begin(app: Walkabout, pilot: Pilot[int], station: str = "tub") -> None:
    """Open the station's screen."""
    await app.push_screen(StationScreen(station))
    await pilot.pause()


async def test_a_wrong_number_is_put_right_with_keys(tmp_path: Path) -> None:
    """c, the number (questioned as on the round, y takes what was meant), a reason: both values stay to be seen."""
    opened = open_room(tmp_path)
    app = Walkabout(opened, "today", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot)
        assert "RAFT [B]TUB[/B]" in shown(app)
        assert "14.00 mS/cm" in lines_of(app.screen.query_one("#rows"))
        await pilot.press("c", "1", "4", "enter")
        await pilot.pause()
        assert "Did you mean 1.40 mS/cm" in " ".join(shown(app).split())
        await pilot.press("y")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert "Say in a few words why" in shown(app)
        app.screen.query_one(Input).value = HOSTILE[0]
        await pilot.press("enter")
        await pilot.pause()
        assert "was 14.00 mS/cm, put right by AR: half [/b] open" in lines_of(app.screen.query_one("#full"))
        assert "put right" in lines_of(app.screen.query_one("#rows"))
    row = opened.history.all("tub", ec_of(opened))
    assert (row[-1].value, row[-1].replaces, row[-1].reason, row[-1].walker) == (1.4, "a9", HOSTILE[0], "AR")
    assert len(opened.records.answers(NOW.date())) == 2


async def test_the_strip_and_the_verdict_are_words_too(tmp_path: Path) -> None:
    """The answer pointed at has its verdict as glyph and word, and its fourteen days as bars and words."""
    app = Walkabout(open_room(tmp_path), "today", "AR")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await begin(app, pilot)
        await pilot.press("down")
        full = lines_of(app.screen.query_one("#full"))
        assert "1.20 mS/cm   ✓ good" in full
        assert "last 14 days" in full
        assert "from 1.20 mS/cm to 1.20 mS/cm, last 1.20 mS/cm" in full
        assert "‼ now" in lines_of(app.screen.query_one("#rows"))


async def test_a_failed_meter_check_makes_readings_doubtful(tmp_path: Path) -> None:
    """Readings since the last good check are marked with a word, and say why; older ones are not."""
    opened = open_room(tmp_path)
    opened.save(
        given("c1", 2, "meters", "room", choices=("right",)), given("c2", 0, "meters", "room", choices=("out",))
    )
    app = Walkabout(opened, "today", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot)
        rows = lines_of(app.screen.query_one("#rows")).splitlines()
        assert ["doubtful" in one for one in rows[:4]] == [True, True, True, False]
        await pilot.press("down")
        assert "Doubtful. The meter failed its check on 25 Nov" in lines_of(app.screen.query_one("#full"))


async def test_a_choice_is_put_right_with_the_mouse_at_60_columns(tmp_path: Path) -> None:
    """A click on the row pointed at, a click on the right answer; only the reason is typed."""
    opened = open_room(tmp_path)
    question = next(
        one
        for one in opened.checklists["raft"].question
        if one.kind == "choice" and opened.checklists["room"].find(one.id) is None
    )
    good, bad = question.choices[0].id, question.choices[1].id
    old = Answer(key="b1", round="r", at=NOW, walker="K7", station="tub", question=question.id, choices=(bad,))
    opened.save(old)
    app = Walkabout(opened, "today", "AR")
    async with app.run_test(size=(60, 20), notifications=True) as pilot:
        await begin(app, pilot)
        await pilot.click("#rows", offset=(5, 0))
        await pilot.pause()
        await pilot.click(PointList, offset=(8, 0))
        await pilot.pause()
        app.screen.query_one(Input).value = HOSTILE[2]
        await pilot.press("enter")
        await pilot.pause()
        full = " ".join(lines_of(app.screen.query_one("#full")).split())
        assert f"put right by AR: {HOSTILE[2]}" in full
    (now,) = opened.history.all("tub", question.id)
    assert (now.choices, now.replaces, now.at) == ((good,), "b1", old.at)


async def test_a_long_and_hostile_past_is_shown_as_typed(tmp_path: Path) -> None:
    """No more than the last forty are listed; notes of any kind stand as they are; a lost question keeps its answer."""
    opened = open_room(tmp_path)
    opened.save(*(given(f"n{n:02}", n, "lost-question", note=HOSTILE[n % len(HOSTILE)]) for n in range(50)))
    app = Walkabout(opened, "today", "AR")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(app, pilot)
        rows = app.screen.query_one("#rows", PointList)
        assert len(rows) == MOST
        notes = []
        for index in range(len(HOSTILE) * 2):
            rows.pointed = index
            await pilot.pause()
            notes.append(lines_of(app.screen.query_one("#full")))
        for text in HOSTILE[:5]:
            assert any(text in one for one in notes)
        rows.pointed = 10
        await pilot.press("c")
        await pilot.pause()
        assert "no longer asked" in shown(app)
        await pilot.press("escape")
        await pilot.pause()
        assert not isinstance(app.screen, StationScreen)
