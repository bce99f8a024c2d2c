import errno
import os
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import msgspec
import pytest

from walkabout.jobs.findings import flag
from walkabout.jobs.make import from_finding
from walkabout.records.model import Finding, Happening, Job, Verdict
from walkabout.round.opened import OpenRoom
from walkabout.screens.app import Walkabout
from walkabout.screens.jobs import JobsScreen
from walkabout.screens.walking import WalkingScreen
from walkabout.screens.widgets.days import day_to_come
from walkabout.screens.widgets.jobwords import hours_words
from walkabout.screens.widgets.keyline import KeyLine
from walkabout.screens.widgets.pointed import Pointed

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
"""A Wednesday."""
TODAY = NOW.date()
ROOM = """
name = "Old [b]glass[/b] room"
[people.AR]
role = "adult"
[people.K7]
role = "pupil"
[tanks.tub]
litres = 60
[[station]]
key = "tub"
name = "Raft tub"
kind = "raft"
tank = "tub"
[[station]]
key = "pots"
name = "Window [/] pots"
kind = "pots"
"""
HOSTILE = (
    "half [/b] open",
    "[/",
    "[red]x[/red]",
    "[@click=app.quit]x[/]",
    "[bold]x[/]",
    "trailing \\",
    "白い粉が葉の上に [/b] ある",
    "two\nlines [/]",
    "very long " * 30,
)


def a_job(key: str, **changes: object) -> Job:
    made = (Happening(at=NOW, by="K7", says="made"),)
    plain = Job(
        key=key, what=f"Task {key}", station="tub", who="pupil", due=TODAY, made=NOW, by="K7", hours=48, history=made
    )
    return msgspec.structs.replace(plain, **changes)


def a_finding(verdict: Verdict = "watch", seen: str = "white spots", days_ago: int = 4) -> Finding:
    return flag(station="pots", seen=seen, verdict=verdict, by="K7", now=NOW - timedelta(days=days_ago))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "room.toml").write_text(ROOM, encoding="utf-8")
    return tmp_path


@pytest.fixture
def start(folder: Path) -> Callable[..., Walkabout]:
    def make(*records: Job | Finding, walker: str = "AR") -> Walkabout:
        opened = OpenRoom(folder, clock=lambda: NOW)
        assert opened.save(*records) == "" if records else True
        return Walkabout(opened, "jobs", walker)

    return make


def painted(app: Walkabout) -> str:
    strips = app.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in strip) for strip in strips)


def squeezed(text: str) -> str:
    """Leave out what wrapping and the edges of a message put between the letters."""
    return "".join(text.split()).replace("▌", "")


def known(app: Walkabout) -> str:
    return str(app.screen.query_one("#known").render())


def messages(app: Walkabout) -> str:
    """Return what the messages say: where two columns meet, a wide letter of theirs may not be painted."""
    return "".join(str(one.render()) for one in app.screen.query("Toast"))


def kept(folder: Path, key: str) -> Job | Finding:
    """Read a record as another program would find it."""
    other = OpenRoom(folder, clock=lambda: NOW)
    return other.jobs.get(key) or other.findings[key]


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_two_lists_and_what_is_known(start: Callable[..., Walkabout], size: tuple[int, int]) -> None:
    """Due jobs by hours to loss, later ones after them, then findings; the first is told in full."""
    finding = a_finding()
    urgent = a_job(
        "urgent",
        hours=4,
        who="adult",
        due=TODAY - timedelta(days=1),
        verdict="now",
        why="The pump hums but moves nothing.",
        caution="Unplug it first.",
    )
    app = start(
        a_job("slow", hours=300),
        finding,
        a_job("sooner", hours=2, due=TODAY + timedelta(days=2)),
        urgent,
        a_job("shut", closed=NOW, closed_by="AR", reason="done"),
    )
    async with app.run_test(size=size, notifications=True) as pilot:
        await pilot.pause()
        seen = painted(app)
        places = [
            seen.index(one) for one in ("Task urgent", "Task slow", "Later", "Task sooner", "Findings still open")
        ]
        assert places == sorted(places)
        assert "white spots" in seen
        assert "Task shut" not in seen
        assert ("Old [b]glass[/b] room" if size >= (80, 24) else "small window") in seen
        row = next(line for line in seen.splitlines() if "▸" in line)
        assert "Task urgent" in row
        assert "adult" in row
        assert "late" in row
        for one in ("within about 4 hours", "Wed 25 Nov, 08:00", "for an adult", "late since yesterday"):
            assert one in known(app)
        if size[0] >= 80:
            assert "Why: The pump hums" in seen
            assert "Caution: Unplug it first." in seen
        app.screen.query_one(Pointed).point(3)
        await pilot.pause()
        assert "anybody may close it" in known(app)
        assert "s still there" in painted(app)


async def test_nothing_to_do(start: Callable[..., Walkabout]) -> None:
    """An empty room says so kindly, and no key does harm."""
    app = start()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.pause()
        assert "Nothing is due. All that was asked for is done." in painted(app)
        assert "None. f flags something that looks wrong." in painted(app)
        await pilot.press("d", "down", "c")
        assert "Nothing is open here." in painted(app)
        assert isinstance(app.screen, JobsScreen)


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_done_sets_the_next_look(start: Callable[..., Walkabout], folder: Path, size: tuple[int, int]) -> None:
    """A job that is done sets the day on which its finding is looked at again, and says it; both are on disk."""
    finding = a_finding("today", "wilted [/b] leaf", 2)
    app = start(finding, a_job("j1", finding=finding.key, recheck=2))
    async with app.run_test(size=size, notifications=True) as pilot:
        await pilot.press("d")
        await pilot.pause()
        assert squeezed("Done: Task j1. Look again on Friday 27 Nov.") in squeezed(painted(app))
    job, again = kept(folder, "j1"), kept(folder, finding.key)
    assert isinstance(job, Job)
    assert isinstance(again, Finding)
    assert (job.closed, job.closed_by, job.history[-1].says) == (NOW, "AR", "done")
    assert (again.closed, again.recheck) == (None, date(2026, 11, 27))


async def test_enter_is_done_and_asks_for_the_code(start: Callable[..., Walkabout], folder: Path) -> None:
    """Without a code one is asked for, once; leaving that question changes nothing."""
    app = start(a_job("j1"), a_job("j2", hours=50), walker="")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("enter", "escape")
        assert app.opened.jobs["j1"].closed is None
        await pilot.press("enter", "2", "enter")
        await pilot.pause()
        assert app.walker == "K7"
        assert "Nothing is due" in painted(app)
    assert [kept(folder, key).closed_by for key in ("j1", "j2")] == ["K7", "K7"]  # type: ignore[union-attr]


async def test_a_pupil_may_not_do_an_adults_job(start: Callable[..., Walkabout], folder: Path) -> None:
    """Done, close, put off and measure all say who may, and nothing changes."""
    job = a_job("j1", who="adult")
    measuring = a_job("j2", who="licensed", questions=("ph",), hours=60)
    app = start(job, measuring, walker="K7")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("d")
        assert "Only an adult may close this. Nothing has changed." in painted(app)
        await pilot.press("o", "1")
        await pilot.pause()
        assert "Only an adult may put off this." in painted(app)
        await pilot.press("c", *"dust", "enter", "down", "m")
        await pilot.pause()
        assert isinstance(app.screen, JobsScreen)
        assert "Only a licensed person may measure this." in painted(app)
    assert [kept(folder, "j1"), kept(folder, "j2")] == [job, measuring]


async def test_closing_takes_a_reason(start: Callable[..., Walkabout], folder: Path) -> None:
    """No reason, no closing; digits and question marks belong to the line."""
    app = start(a_job("j1"))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("c", "enter")
        assert "A few words are needed" in painted(app)
        await pilot.press("d", "1", "question_mark", "enter")
        await pilot.pause()
        assert "Closed without being done: Task j1" in painted(app)
    job = kept(folder, "j1")
    assert (job.reason, job.closed) == ("d1?", NOW)


@pytest.mark.parametrize(
    ("keys", "until"),
    [(("1",), date(2026, 11, 26)), (("2",), date(2026, 11, 26)), (("3", *"monday", "enter"), date(2026, 11, 30))],
)
async def test_putting_off(start: Callable[..., Walkabout], folder: Path, keys: tuple[str, ...], until: date) -> None:
    """To tomorrow, to the next round day, or to a typed day; it is told when the plants do not last so long."""
    app = start(a_job("j1", hours=30))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("o")
        assert "Put off to which day?" in painted(app)
        await pilot.press(*keys)
        await pilot.pause()
        seen = squeezed(painted(app))
        assert squeezed(f"Put off to {until:%A} {until.day} {until:%b}: Task j1") in seen
        assert (squeezed("Plants may be lost before that day.") in seen) == (until > date(2026, 11, 26))
    job = kept(folder, "j1")
    assert isinstance(job, Job)
    assert (job.due, job.closed) == (until, None)


async def test_a_day_that_cannot_be_taken(start: Callable[..., Walkabout], folder: Path) -> None:
    """A slip in a typed day is told at once, and escape changes nothing."""
    app = start(a_job("j1"))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("o", "3", *"[/]", "enter")
        assert "Type a day, such as 2026-12-02, 3 Dec or Friday." in painted(app)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, JobsScreen)
    assert kept(folder, "j1") == a_job("j1")


async def test_a_measuring_job_opens_its_questions(start: Callable[..., Walkabout]) -> None:
    """Enter and m measure; d does not close what only readings end."""
    app = start(a_job("j1", questions=("ph",)))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("d")
        assert "Its readings end this job" in painted(app)
        assert app.opened.jobs["j1"].closed is None
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, WalkingScreen)
        assert app.screen.walk.step is not None
        assert app.screen.walk.step.question.id == "ph"


async def test_questions_that_are_gone(start: Callable[..., Walkabout]) -> None:
    """A measuring job whose questions left the checklist says so instead of opening nothing."""
    app = start(a_job("j1", questions=("no-such-question",)))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("m")
        assert squeezed("The checklist no longer has these questions") in squeezed(painted(app))
        assert isinstance(app.screen, JobsScreen)


async def test_gone_closes_a_finding_and_its_job(start: Callable[..., Walkabout], folder: Path) -> None:
    """An adult's second look closes a grave finding with the job behind it."""
    finding = a_finding("now", "smell of burning", 1)
    job = from_finding(finding)
    assert job is not None
    app = start(finding, job)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("down", "g")
        await pilot.pause()
        assert "Gone, and closed: smell of burning" in painted(app)
    assert kept(folder, finding.key).closed == kept(folder, job.key).closed == NOW


async def test_a_pupils_second_look(start: Callable[..., Walkabout], folder: Path) -> None:
    """What is grave waits for an adult, and cannot be closed; still there moves the next look on."""
    grave, light = a_finding("stop", "smell of burning", 5), a_finding("watch", "white spots", 4)
    app = start(grave, light, walker="K7")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("g")
        assert "It waits for an adult to confirm." in painted(app)
        await pilot.press("c", *"all well", "enter")
        await pilot.pause()
        assert "Only an adult may close this finding." in painted(app)
        await pilot.press("down", "enter", "2")
        await pilot.pause()
        assert "Look again on Saturday 28 Nov." in painted(app)
    one, other = kept(folder, grave.key), kept(folder, light.key)
    assert isinstance(one, Finding)
    assert isinstance(other, Finding)
    assert (one.closed, one.recheck, one.history[-1].by) == (None, TODAY, "K7")
    assert (other.closed, other.recheck) == (None, date(2026, 11, 28))


async def test_an_adults_job_outlives_a_finding_closed_by_a_pupil(
    start: Callable[..., Walkabout], folder: Path
) -> None:
    """A pupil may close the finding; the job that asks an adult stays open, and that is said."""
    finding = a_finding("today", "wilted", 1)
    job = from_finding(finding)
    assert job is not None
    app = start(finding, job, walker="K7")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("down", "c", *"was only dry", "enter")
        await pilot.pause()
        assert squeezed("Its job stays open for an adult.") in squeezed(painted(app))
    assert kept(folder, finding.key).reason == "was only dry"
    assert kept(folder, job.key).closed is None


async def test_closed_ones_can_be_read_and_not_changed(start: Callable[..., Walkabout], folder: Path) -> None:
    """History goes back thirty days and is read only; escape leads back to what is open."""
    shut = {"closed_by": "K7", "reason": "done"}
    old = a_job("old", closed=NOW - timedelta(days=31), **shut)
    new = a_job("new", closed=NOW - timedelta(days=30), **shut)
    app = start(old, new, a_job("open"))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("h")
        await pilot.pause()
        seen = painted(app)
        assert "Task new" in seen
        assert "Closed by K7 on Mon 26 Oct, 08:00: done" in seen
        assert "Task old" not in seen
        assert "Task open" not in seen
        await pilot.press("d", "c", "o")
        assert isinstance(app.screen, JobsScreen)
        assert squeezed("This is closed and can only be read.") in squeezed(painted(app))
        await pilot.press("escape")
        await pilot.pause()
        assert "Task open" in painted(app)
    assert kept(folder, "new") == new


@pytest.mark.parametrize("text", HOSTILE)
async def test_text_stands_as_typed(start: Callable[..., Walkabout], text: str) -> None:
    """Whatever was typed is shown as typed: in the list, in full, in questions and in messages."""
    finding = a_finding("watch", text)
    told = (Happening(at=NOW, by="K7", says=text),)
    job = a_job("j1", what=text, why=text, caution=text, finding=finding.key, history=told)
    shut = a_job("j2", what=text, closed=NOW, closed_by="AR", reason=text)
    app = start(finding, job, shut)
    short = squeezed(text)[:40]
    async with app.run_test(size=(120, 50), notifications=True) as pilot:
        await pilot.pause()
        full = squeezed(known(app))
        assert full.count(squeezed(text)) == 5
        assert squeezed(text)[:14] in squeezed(painted(app).split("Findings still")[0])
        await pilot.press("c")
        assert short in squeezed(painted(app))
        await pilot.press("escape", "d")
        await pilot.pause()
        assert "Done:" + short in squeezed(messages(app))
        await pilot.press("h")
        await pilot.pause()
        assert squeezed(text) in squeezed(known(app))
        assert app.is_running


async def test_the_mouse_alone(start: Callable[..., Walkabout], folder: Path) -> None:
    """A click points; a click on a key in the bottom line presses it."""
    app = start(a_job("j1"), a_job("j2", hours=90))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.pause()
        await pilot.click(Pointed, offset=(10, 2))
        assert app.screen.query_one(Pointed).key == "j2"
        assert "Task j2" in known(app)
        await pilot.click(Pointed, offset=(10, 0))
        assert app.screen.query_one(Pointed).key == "j2"
        await pilot.click(KeyLine, offset=(3, 0))
        await pilot.pause()
    assert (kept(folder, "j1").closed, kept(folder, "j2").closed) == (None, NOW)


async def test_a_long_list_follows_the_pointer(start: Callable[..., Walkabout]) -> None:
    """The pointer is always in sight, and how much is out of sight is said."""
    app = start(*(a_job(f"j{number:02}", hours=number + 1) for number in range(60)))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.pause()
        listed = app.screen.query_one(Pointed)
        for step in (0, 1, 30, 28, 5):
            listed.point(step)
            await pilot.pause()
            shown = painted(app).splitlines()
            assert any("▸" in line and f"Task {listed.key}" in line for line in shown)
            rows = [line for line in shown if "Raft tub: Task" in line]
            more = sum(int(line.split()[1]) for line in shown if line.strip().endswith("more"))
            assert len(rows) + more == 60
        assert listed.key == "j59"


async def test_the_pointer_stays_where_it_was(start: Callable[..., Walkabout], folder: Path) -> None:
    """What another program adds does not move the pointer; what it closed is not closed again."""
    app = start(a_job("j1"), a_job("j2", hours=90))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("down", "c", *"dust")
        other = OpenRoom(folder, clock=lambda: NOW)
        shut = msgspec.structs.replace(other.jobs["j2"], closed=NOW, closed_by="K7", reason="done")
        assert other.save(shut, a_job("j0", hours=1)) == ""
        await pilot.press("enter")
        await pilot.pause()
        assert squeezed("Somebody has closed this meanwhile.") in squeezed(painted(app))
        assert "Task j0" in painted(app)
    assert kept(folder, "j2") == shut


async def test_a_full_disk_is_told(
    start: Callable[..., Walkabout], folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is only in memory is said as long as it is so; nothing is lost once there is room again."""
    app = start(a_job("j1"))

    def full(*_: object) -> int:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        with monkeypatch.context() as patch:
            patch.setattr(os, "write", full)
            await pilot.press("d")
            await pilot.pause()
            assert "Not on disk yet:" in painted(app)
            assert app.opened.records.waiting == 1
        assert app.opened.retry() == ""
        app.screen.renew()  # type: ignore[attr-defined]
        await pilot.pause()
        assert "Not on disk yet:" not in painted(app)
    assert kept(folder, "j1").closed == NOW


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("tomorrow", date(2026, 11, 26)),
        ("Fri", date(2026, 11, 27)),
        ("wednesday", date(2026, 12, 2)),
        ("3 Dec", date(2026, 12, 3)),
        ("3. december", date(2026, 12, 3)),
        ("Jan 7", date(2027, 1, 7)),
        ("29 feb", None),
        ("2026-12-24", date(2026, 12, 24)),
        ("2026-11-25", None),
        ("2028-01-01", None),
        ("", None),
        ("soon", None),
        ("th", None),
        ("32 Dec", None),
        ("٣ Dec", None),
        ("1 2 3 4", None),
    ],
)
def test_days_as_typed(typed: str, day: date | None) -> None:
    """A day is taken as people write it, always the next one to come; anything else is told in a sentence."""
    if day is None:
        with pytest.raises(ValueError, match=r"\.$"):
            day_to_come(typed, TODAY)
    else:
        assert day_to_come(typed, TODAY) == day


def test_hours_in_words() -> None:
    """Hours to loss are said in the unit that fits, and never as nought of it."""
    said = [hours_words(hours) for hours in (0, 0.5, 1, 4, 35, 36, 48, 24 * 20, 24 * 21, 24 * 60)]
    assert said == [
        "at once",
        "within the hour",
        "within about 1 hour",
        "within about 4 hours",
        "within about 35 hours",
        "within about 2 days",
        "within about 2 days",
        "within about 20 days",
        "within about 3 weeks",
        "within about 9 weeks",
    ]
