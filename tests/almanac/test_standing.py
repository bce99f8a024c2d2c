"""Standing jobs on their days: where somebody comes, where there is time, never later than their interval asks."""

from collections import Counter, defaultdict
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from typing import Any

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.almanac.duties import tasks
from walkabout.almanac.model import Basis, Course, Expected, Span, Standing, TankSeen
from walkabout.almanac.standing import standing, standing_job
from walkabout.checklist.model import Checklist, Duty, Meaning, Needs, Question, Reading
from walkabout.checklist.read import read_checklists
from walkabout.growing.crops import Crops, load
from walkabout.records.model import Job, Loss, Move, Planting, Reached
from walkabout.room.calendar import closure_on, is_walked, next_day
from walkabout.room.model import WEEKDAYS, Closure, Lamp, Pump, Room, Station, Tank

TODAY = date(2026, 11, 25)
"""A Wednesday."""
NO_CROPS = Crops(of={}, sources={}, names={})
CROPS = load()
SHIPPED = read_checklists().of


def duty(says: str = "Sweep", days: int = 7, minutes: float = 10, **more: Any) -> Duty:
    return msgspec.convert({"says": says, "days": days, "minutes": minutes, "source": "assumed", **more}, Duty)


def checklist(kind: str, *questions: Question, **duties: Duty) -> Checklist:
    return Checklist(kind=kind, title=kind, duty=duties, question=questions)


def done(key: str, day: date, **more: Any) -> Job:
    """Return a standing job that was done on this day."""
    at = datetime(day.year, day.month, day.day, 9, tzinfo=UTC)
    given: dict[str, Any] = {
        "what": "it",
        "station": "a",
        "who": "pupil",
        "due": day,
        "made": at,
        "by": "K7",
        "closed": at,
        "reason": "done",
    }
    return Job(key=f"j{key}{day}", standing=key, **{**given, **more})


def basis(*lists: Checklist, room: Room | None = None, **more: Any) -> Basis:
    stations = tuple(Station(key=one.kind, name=one.kind.title(), kind=one.kind) for one in lists if one.kind != "room")
    given: dict[str, Any] = {"crops": NO_CROPS, "today": TODAY, "checklists": {one.kind: one for one in lists}, **more}
    return Basis(room=room or Room(name="Room", stations=stations), **given)


def days_of(found: tuple[Standing, ...], key: str) -> list[date]:
    return [one.day for one in found if one.key == key]


def until(days: int) -> date:
    return TODAY + timedelta(days=days)


def in_room(room: Room, **more: Any) -> Room:
    return msgspec.structs.replace(room, **more)


# its days


def test_a_weekly_job_keeps_its_day() -> None:
    """Done on a Friday, it comes on every Friday; what has passed is not listed."""
    known = basis(checklist("pots", sweep=duty()), jobs=(done("sweep/pots", date(2026, 11, 20)),))
    found = standing(known, until(28), {})
    assert days_of(found, "sweep/pots") == [date(2026, 11, 27) + timedelta(days=7 * week) for week in range(4)]
    assert {one.moved for one in found} == {""}
    assert [one.due for one in found] == [one.day for one in found]


def test_a_day_on_which_nobody_comes_moves_it_earlier() -> None:
    """Ten days from a Wednesday are a Saturday: it is done on Friday, and the next one is reckoned from then."""
    known = basis(checklist("pots", sweep=duty(days=10)), jobs=(done("sweep/pots", TODAY),))
    first, second, *_ = standing(known, until(30), {})
    assert (first.due, first.day, first.moved) == (date(2026, 12, 5), date(2026, 12, 4), "nobody comes on Saturday")
    assert second.due == date(2026, 12, 14)


def test_what_is_over_comes_on_the_next_open_day() -> None:
    """On a Saturday that is Monday, and it says so."""
    known = basis(
        checklist("pots", sweep=duty()), today=date(2026, 11, 28), jobs=(done("sweep/pots", date(2026, 11, 2)),)
    )
    found = standing(known, date(2026, 12, 1), {})[0]
    assert (found.due, found.day, found.moved) == (date(2026, 11, 9), date(2026, 11, 30), "overdue")


def test_a_closure_moves_it_before() -> None:
    """And what falls due a second time within it waits for the first day back."""
    room = Room(
        stations=(Station(key="pots", name="Pots", kind="pots"),),
        closures=(Closure(first=date(2026, 12, 5), last=date(2026, 12, 20), name="midwinter"),),
    )
    known = basis(checklist("pots", sweep=duty()), room=room, jobs=(done("sweep/pots", date(2026, 11, 23)),))
    found = standing(known, until(40), {})
    assert [(one.day, one.moved) for one in found[:3]] == [
        (date(2026, 11, 30), ""),
        (date(2026, 12, 4), "before midwinter"),
        (date(2026, 12, 21), "nobody comes before"),
    ]


def test_nothing_is_done_twice_in_short_order_for_a_closure_that_is_too_long_anyway() -> None:
    """Swept on Thursday before a fortnight's closure, a weekly job is not swept again on Friday."""
    room = Room(
        stations=(Station(key="pots", name="Pots", kind="pots"),),
        closures=(Closure(first=date(2026, 12, 5), last=date(2026, 12, 20)),),
    )
    known = basis(checklist("pots", sweep=duty()), room=room, jobs=(done("sweep/pots", date(2026, 11, 26)),))
    assert days_of(standing(known, until(30), {}), "sweep/pots") == [date(2026, 12, 3), date(2026, 12, 21)]


def test_no_day_carries_more_than_its_minutes() -> None:
    """Three jobs of 12 minutes due on one Friday are spread over days of 30 minutes; the fullest day says why."""
    lists = [checklist(kind, sweep=duty(minutes=12)) for kind in ("pots", "shelf", "raft")]
    jobs = tuple(done(f"sweep/{one.kind}", date(2026, 11, 20)) for one in lists)
    found = standing(basis(*lists, jobs=jobs), until(3), {})
    assert Counter(one.day for one in found) == {date(2026, 11, 27): 2, date(2026, 11, 26): 1}
    assert [one.moved for one in found if one.day == date(2026, 11, 26)] == ["that day is full"]


def test_a_single_longer_job_stands_alone() -> None:
    """An hour's work has its day for itself where a day has 30 minutes."""
    lists = [checklist("pots", long=duty(minutes=60)), checklist("shelf", sweep=duty(minutes=1))]
    jobs = (done("long/pots", date(2026, 11, 20)), done("sweep/shelf", date(2026, 11, 20)))
    found = standing(basis(*lists, jobs=jobs), until(3), {})
    assert {one.key: one.day for one in found} == {"long/pots": date(2026, 11, 27), "sweep/shelf": date(2026, 11, 26)}


def test_too_much_work_is_late_and_says_so() -> None:
    """Where even today is full, the next day with room takes it."""
    lists = [checklist(kind, sweep=duty(minutes=20)) for kind in ("pots", "shelf")]
    jobs = tuple(done(f"sweep/{one.kind}", date(2026, 11, 18)) for one in lists)
    first, second = standing(basis(*lists, jobs=jobs), until(1), {})
    assert (first.day, first.moved) == (TODAY, "")
    assert (second.due, second.day, second.moved) == (TODAY, until(1), "the days before are full")


# what counts as done


@pytest.mark.parametrize("reason", ["done", "the bench was empty"])
def test_a_closed_job_counts_from_its_day(reason: str) -> None:
    """Done, or given up for this time: its next turn is an interval later. An open one changes nothing."""
    known = basis(checklist("pots", sweep=duty()), jobs=(done("sweep/pots", TODAY, reason=reason),))
    assert standing(known, until(10), {})[0].due == until(7)
    still_open = done("sweep/pots", TODAY, closed=None, reason="")
    before = done("sweep/pots", date(2026, 11, 19))
    known = basis(checklist("pots", sweep=duty()), jobs=(before, still_open))
    assert standing(known, until(10), {})[0].due == date(2026, 11, 26)


def test_a_job_that_was_put_off_waits_until_then() -> None:
    """Its next time is the day to which it was put off, and not before."""
    put_off = done("sweep/pots", until(9), closed=None, reason="")
    known = basis(checklist("pots", sweep=duty()), jobs=(done("sweep/pots", date(2026, 11, 18)), put_off))
    found = standing(known, until(16), {})
    assert [one.day for one in found] == [until(9), until(16)]


COUNT = Question(id="supplies", ask="Enough?", kind="note", seconds=5, should=30, must=45)


def test_what_the_round_asks_is_settled_by_the_answer() -> None:
    """It only shows as a date, counted from the last answer; without that question it is a job like others."""
    count = duty("Count seed", days=30, minutes=2, settled_by="supplies")
    looked = {("shelf", "supplies"): date(2026, 11, 10)}
    one = standing(basis(checklist("shelf", COUNT, count=count), looked=looked), until(30), {})[0]
    assert (one.asked, one.due) == (True, date(2026, 12, 10))
    assert not standing(basis(checklist("shelf", count=count), looked=looked), until(40), {})[0].asked


def test_what_nobody_ever_wrote_down_has_its_turn() -> None:
    """It is neither due at once nor put off for ever: within its interval, and it waits for a week at most."""
    for back in range(60):
        today = TODAY + timedelta(days=back)
        for days in (3, 7, 28, 365):
            known = basis(checklist("pots", sweep=duty(days=days)), today=today)
            (task,) = tasks(known, {})
            assert today - timedelta(days=6) <= task.due <= today + timedelta(days=days)
    seen = {tasks(basis(checklist("pots", sweep=duty(days=28)), today=until(day)), {})[0].due for day in range(28)}
    assert len(seen) == 2


# solution

TUB = Tank(litres=60, change_days=10)
CHANGE = duty("Renew the solution", days=99, minutes=20, who="adult", needs={"tank": True}, settled_by="change-due")
AGE = Question(
    id="change-due",
    ask="How old?",
    kind="number",
    seconds=3,
    should=7,
    must=10,
    reading=Reading(quantity="time", possible=(0, 365), likely=(0, 60), high=Meaning(job="Renew it")),
)


def with_tank(
    changed: date | None, *closures: Closure, jobs: tuple[Job, ...] = (), looked: date | None = None
) -> Basis:
    room = Room(
        tanks={"tub": TUB},
        stations=tuple(Station(key=key, name=key.title(), kind="raft", tank="tub") for key in ("north", "south")),
        closures=closures,
    )
    return basis(
        checklist("raft", AGE, change=CHANGE),
        room=room,
        tanks={"tub": TankSeen(changed=changed)},
        jobs=jobs,
        looked={("north", "change-due"): looked} if looked else {},
    )


def test_a_shared_tank_is_changed_once_by_its_own_days() -> None:
    """Its days are those of room.toml; to know how old the solution is does not renew it."""
    found = standing(with_tank(date(2026, 11, 17), looked=TODAY), until(15), {})
    assert [(one.key, one.station, one.due) for one in found] == [
        ("change/tub", "north", date(2026, 11, 27)),
        ("change/tub", "north", date(2026, 12, 7)),
    ]
    assert found[0].why == "It is shared by North and South."
    assert not found[0].asked


def test_the_rounds_own_job_is_not_doubled() -> None:
    """Where an answer has already made the job of it, the almanac only shows the date."""
    ordered = done("", TODAY, station="south", what="Renew it", closed=None, reason="")
    assert standing(with_tank(date(2026, 11, 17), jobs=(ordered,)), until(5), {})[0].asked


@pytest.mark.parametrize(
    ("changed", "day", "moved"),
    [
        (date(2026, 12, 1), date(2026, 12, 10), "before midwinter, to be seen running"),  # due on the last open day
        (date(2026, 12, 4), date(2026, 12, 10), "before midwinter, to be seen running"),  # due within it
        (date(2026, 11, 30), date(2026, 12, 10), ""),  # due two days before
    ],
)
def test_a_change_before_a_closure_is_seen_to_run(changed: date, day: date, moved: str) -> None:
    """It is done on the last open days before it, though never on the very last."""
    closure = Closure(first=date(2026, 12, 12), last=date(2026, 12, 27), name="midwinter")
    room = with_tank(changed, closure)
    found = standing(msgspec.structs.replace(room, today=date(2026, 12, 5)), date(2026, 12, 26), {})
    assert [(one.day, one.moved) for one in found] == [(day, moved)]


def test_a_change_that_nobody_would_see_run_waits() -> None:
    """On the very last day before a closure the solution is left as it is."""
    closure = Closure(first=date(2026, 11, 26), last=date(2026, 12, 6), name="midwinter")
    found = standing(with_tank(date(2026, 11, 15), closure), until(20), {})[0]
    assert (found.due, found.day) == (TODAY, date(2026, 12, 7))
    assert found.moved == "after midwinter: nobody would see it run"


# what comes with plants and lamps


def planted(key: str, station: str, crop: str, sown: date, **more: Any) -> Planting:
    return Planting(key=key, crop=crop, sown=sown, count=12, moves=(Move(day=sown, station=station),), **more)


def course(planting: Planting, *, ends: date | None = None, **stages: date) -> Course:
    return Course(
        planting=planting,
        name=planting.crop,
        stages=tuple(Expected(stage=name, span=Span(day, day, day)) for name, day in stages.items()),  # type: ignore[arg-type]
        until=ends,
    )


THIN = duty("Thin", days=0, minutes=5, at="thin")
MOVE = duty("Move on", days=0, minutes=5, at="move on")


def test_seedlings_are_thinned_and_moved_on_by_their_dates() -> None:
    """Thinned a week after they show, moved on at the likely day; once recorded, neither comes again."""
    one = planted("p1", "shelf", "lettuce", date(2026, 11, 18))
    its = course(one, emergence=date(2026, 11, 23), move_on=date(2026, 12, 9))
    shelf = checklist("shelf", thin=THIN, move=MOVE)
    found = standing(basis(shelf, plantings=(one,), crops=CROPS), until(60), {"p1": its})
    assert [(task.key, task.day) for task in found] == [
        ("thin/p1", date(2026, 11, 30)),
        ("move/p1", date(2026, 12, 9)),
    ]
    assert found[1].says == f"Move on: {CROPS.of['lettuce'].name}"
    thinned = msgspec.structs.replace(one, reached=(Reached(day=TODAY, stage="thinned"),))
    left = standing(basis(shelf, plantings=(thinned,), crops=CROPS), until(60), {"p1": its})
    assert [task.key for task in left] == ["move/p1"]
    jobs = (done("move/p1", TODAY), done("thin/p1", TODAY))
    assert standing(basis(shelf, plantings=(one,), crops=CROPS, jobs=jobs), until(60), {"p1": its}) == ()


def test_a_crop_that_stays_is_thinned_rather_than_moved() -> None:
    """Radishes are thinned on the day of the crop table, and never moved on."""
    one = planted("p1", "pots", "radish", date(2026, 11, 18))
    its = course(one, emergence=date(2026, 11, 22), move_on=date(2026, 12, 2))
    found = standing(
        basis(checklist("pots", thin=THIN, move=MOVE), plantings=(one,), crops=CROPS), until(60), {"p1": its}
    )
    assert [(task.key, task.day) for task in found] == [("thin/p1", date(2026, 12, 2))]


def test_a_vine_is_led_from_its_moving_on_to_its_end() -> None:
    """Weekly, one job for all vines of the station, by the group of the crop."""
    train = duty("Tie in", minutes=10, at="train", needs={"groups": ["fruiting"]})
    one, other = (planted(key, "vine", "tomato", date(2026, 10, 1)) for key in ("p1", "p2"))
    ends = date(2026, 12, 20)
    all_courses = {p.key: course(p, ends=ends, move_on=date(2026, 11, 30)) for p in (one, other)}
    known = basis(
        checklist("vine", train=train), plantings=(one, other), crops=CROPS, jobs=(done("train/vine", TODAY),)
    )
    assert days_of(standing(known, until(90), all_courses), "train/vine") == [
        date(2026, 12, 2),
        date(2026, 12, 9),
        date(2026, 12, 16),
    ]
    leafy = planted("p1", "vine", "lettuce", date(2026, 10, 1))
    assert standing(basis(checklist("vine", train=train), plantings=(leafy,), crops=CROPS), until(90), {}) == ()


def test_a_place_is_cleared_after_its_last_plants() -> None:
    """Never before the crop has ended, by no date while something stays, and no more once it was done."""
    clear = duty("Scrub", days=0, minutes=25, at="end of crop")
    one = planted("p1", "raft", "lettuce", date(2026, 10, 1))
    known = basis(checklist("raft", clear=clear), plantings=(one,), crops=CROPS)
    (found,) = standing(known, until(60), {"p1": course(one, ends=date(2026, 12, 4))})
    assert date(2026, 12, 6) <= found.day <= date(2026, 12, 13)
    assert standing(known, until(60), {"p1": course(one)}) == ()
    ended = msgspec.structs.replace(one, ended=date(2026, 11, 20), losses=(Loss(day=TODAY, count=1),))
    gone = basis(checklist("raft", clear=clear), plantings=(ended,), crops=CROPS)
    assert [task.key for task in standing(gone, until(20), {})] == ["clear/raft"]
    after = msgspec.structs.replace(gone, jobs=(done("clear/raft", date(2026, 11, 23)),))
    assert standing(after, until(60), {}) == ()


def test_a_lamp_is_replaced_when_its_hours_are_used_up() -> None:
    """By its maker's hours or those of its kind, from the day it was put in or the job was done; else by no date."""
    lamp = duty("Replace the lamp", days=0, minutes=15, who="adult", at="lamp hours", needs={"lamps": ["led", "tube"]})
    room = Room(
        stations=(Station(key="shelf", name="Shelf", kind="shelf", lamps=("bar", "tube", "old")),),
        lamps={
            "bar": Lamp(hours=16, rated_hours=16_000, since=date(2024, 3, 20)),
            "tube": Lamp(kind="tube", hours=16),
            "old": Lamp(kind="metal halide", since=date(2020, 1, 1)),
        },
    )
    known = basis(checklist("room", lamp=lamp), room=room)
    (found,) = standing(known, until(60), {})
    assert (found.key, found.station, found.who) == ("lamp/bar", "shelf", "adult")
    assert found.due == date(2024, 3, 20) + timedelta(days=1000)
    assert "16 000 lit hours, the maker's hours in room.toml" in found.why
    put_in = msgspec.structs.replace(known, jobs=(done("lamp/tube", date(2024, 1, 1)),))
    due = {task.key: task.due for task in tasks(put_in, {})}
    assert due["lamp/tube"] == date(2024, 1, 1) + timedelta(days=1250)


def test_jobs_only_where_their_things_and_plants_are() -> None:
    """Kit of the station or the room, pumps, lamps, plants of a group and of an age."""
    room = Room(
        kit=("scales",),
        pumps={"air": Pump(moves="air")},
        stations=(Station(key="raft", name="Raft", kind="raft", pumps=("air",), kit=("net",)),),
    )
    needs = {
        "kit": Needs(kit=("net", "scales")),
        "no-kit": Needs(kit=("mat",)),
        "air": Needs(pump="air"),
        "water": Needs(pump="water"),
        "tank": Needs(tank=True),
        "lamp": Needs(lamp=True),
        "leafy": Needs(groups=("leafy",)),
        "vines": Needs(groups=("fruiting",)),
        "young": Needs(younger_than=10),
        "old": Needs(older_than=10),
        "plants": Needs(plants=True),
        "lettuce": Needs(crops=("lettuce",)),
    }
    asked = checklist("raft", **{name: msgspec.structs.replace(duty(), needs=one) for name, one in needs.items()})
    known = basis(asked, room=room, crops=CROPS, plantings=(planted("p1", "raft", "lettuce", date(2026, 11, 1)),))
    assert {task.key.split("/")[0] for task in tasks(known, {})} == {"kit", "air", "leafy", "old", "plants", "lettuce"}


# the job of it


def test_the_job_of_it_is_the_same_whenever_it_is_made() -> None:
    """Its key comes from the standing job and the day on which it is due; it carries who, minutes and caution."""
    known = basis(checklist("pots", sweep=duty(days=10, caution="Wet floor.")), jobs=(done("sweep/pots", TODAY),))
    one = standing(known, until(20), {})[0]
    job = standing_job(one, known)
    assert job == standing_job(one, known)
    assert (job.key, job.standing, job.due) == ("s-sweep-pots-2026-12-05", "sweep/pots", date(2026, 12, 4))
    assert (job.what, job.who, job.minutes, job.caution) == ("Sweep", "pupil", 10, "Wet floor.")
    assert job.made.tzinfo is not None
    closed = msgspec.structs.replace(job, closed=job.made, reason="done")
    assert standing(basis(checklist("pots", sweep=duty(days=10)), jobs=(closed,)), until(20), {})[0].due == until(10)


# any room

KINDS = ("pots", "shelf", "raft", "room")


@st.composite
def rooms(draw: st.DrawFn) -> Basis:
    """Draw a room with a few jobs of any interval and length, closures anywhere, and some of them done before."""
    lists = []
    jobs = []
    for kind in KINDS[: draw(st.integers(1, len(KINDS)))]:
        duties = {}
        for number in range(draw(st.integers(1, 3))):
            minutes = draw(st.sampled_from([0.5, 3, 7.3, 10, 15, 20, 45]))
            duties[f"d{number}"] = duty(days=draw(st.integers(1, 40)), minutes=minutes)
            if draw(st.booleans()):
                jobs.append(done(f"d{number}/{kind}", TODAY - timedelta(days=draw(st.integers(0, 60)))))
        if kind != "room" and draw(st.booleans()):
            duties["change"] = CHANGE
        lists.append(checklist(kind, AGE, **duties))
    starts = draw(st.lists(st.tuples(st.integers(-5, 120), st.integers(0, 30)), max_size=4))
    room = Room(
        work_minutes=draw(st.sampled_from([1, 10, 25, 30, 60, 600])),
        days=tuple(draw(st.lists(st.sampled_from(WEEKDAYS), min_size=1, max_size=7, unique=True))),
        tanks={"tub": Tank(litres=60, change_days=draw(st.integers(1, 30)))},
        stations=tuple(
            Station(key=one.kind, name=one.kind, kind=one.kind, tank="tub") for one in lists if one.kind != "room"
        ),
        closures=tuple(Closure(first=until(first), last=until(first + days)) for first, days in starts),
    )
    changed = {"tub": TankSeen(changed=TODAY - timedelta(days=draw(st.integers(0, 40))))}
    return basis(*lists, room=room, jobs=tuple(jobs), tanks=changed)


@settings(max_examples=120)
@given(known=rooms(), days=st.integers(0, 150))
def test_in_any_room(known: Basis, days: int) -> None:
    """No job on a closed day or beyond a day's minutes; each interval kept unless nobody comes or all days are full."""
    room, last = known.room, until(days)
    found = standing(known, last, {})
    load: dict[date, float] = defaultdict(float)
    jobs: Counter[date] = Counter()
    for one in found:
        assert is_walked(room, one.day)
        assert TODAY <= one.day <= last
        load[one.day] += one.minutes
        jobs[one.day] += 1
    assert all(load[day] <= room.work_minutes + 1e-6 or jobs[day] == 1 for day in load)
    for one in found:
        assert not one.key.startswith("change/") or closure_after(room, one.day) is None
    assert [one.day for one in found] == sorted(one.day for one in found)
    assert standing(known, last, {}) == found
    assert all((one.moved == "") == (one.day == one.due) for one in found)
    interval = {task.key: task.days for task in tasks(known, {})}
    for key, days_between in interval.items():
        times = [one for one in found if one.key == key]
        assert all(before.day < after.day for before, after in pairwise(times))
        for before, after in pairwise(times):
            assert after.due == before.day + timedelta(days=days_between)
            if after.day > after.due:
                assert_could_not(known, load, before.day, after)
        if times and times[0].due >= TODAY and times[0].day > times[0].due:
            assert_could_not(known, load, TODAY - timedelta(days=1), times[0])


def closure_after(room: Room, day: date) -> Closure | None:
    """Return the closure that takes a round between this open day and the next one, if one does."""
    ahead = next_day(room, day)
    days = [day + timedelta(days=count) for count in range(1, (ahead - day).days)]
    return next(
        (found for one in days if WEEKDAYS[one.weekday()] in room.days and (found := closure_on(room, one))), None
    )


def assert_could_not(known: Basis, load: dict[date, float], before: date, late: Standing) -> None:
    """Between the last time and the due day, no open day had room; else a closed time was too long in any case."""
    room = known.room
    between = [before + timedelta(days=count) for count in range(1, (late.due - before).days + 1)]
    could = [day for day in between if is_walked(room, day) and load[day] + late.minutes <= room.work_minutes]
    if not could or late.moved.startswith("the days before are full"):
        assert not could or late.key.startswith("change/")
        return
    reopens = next(day for day in (late.due + timedelta(days=count) for count in range(1, 400)) if is_walked(room, day))
    closed = (reopens - could[-1]).days
    assert late.key.startswith("change/") or closed > (late.due - before).days


@given(known=rooms(), near=st.integers(0, 60), far=st.integers(61, 150))
@settings(max_examples=40)
def test_how_far_one_looks_changes_nothing_near(known: Basis, near: int, far: int) -> None:
    """The days of the next weeks are the same whether one looks a week or a year ahead."""
    close = standing(known, until(near), {})
    assert [one for one in standing(known, until(far), {}) if one.day <= until(near)] == list(close)


# the shipped jobs


def test_the_shipped_jobs_of_a_school_room() -> None:
    """Every kind of station side by side: all jobs find a day, and a pupil is never given an adult's."""
    tanks = {key: Tank(litres=40) for key in ("raft", "film", "drip", "ebb", "drum", "vine")}
    room = Room(
        kit=("pH meter", "EC meter", "sticky card", "filter", "trellis", "misting bottle", "marked plant"),
        lamps={"bar": Lamp(since=date(2019, 1, 1))},
        pumps={"air": Pump(moves="air"), "water": Pump()},
        tanks=tanks,
        stations=tuple(
            Station(
                key=kind,
                name=kind,
                kind=kind,
                lamps=("bar",),
                tank=kind if kind in tanks else "",
                pumps=("air", "water"),
            )
            for kind in SHIPPED
            if kind != "room"
        ),
    )
    crops = {"vine": "tomato", "pots": "basil", "drum": "lettuce"}
    plantings = tuple(
        planted(f"p-{kind}", kind, crops.get(kind, "lettuce"), date(2026, 9, 20)) for kind in SHIPPED if kind != "room"
    )
    known = basis(*SHIPPED.values(), room=room, plantings=plantings, crops=CROPS)
    found = standing(known, until(365), {})
    by_key = {one.key for one in found}
    assert {f"change/{key}" for key in tanks} <= by_key
    assert {
        "rcd-test/room",
        "meters/room",
        "train/vine",
        "lamp/bar",
        "drive/drum",
        "turn/pots",
        "mist/cuttings",
    } <= by_key
    assert {one.who for one in found if one.key.split("/")[0] in ("change", "lamp", "rcd-test", "intake")} == {"adult"}
    assert {one.asked for one in found if one.key == "meters/room"} == {True}


def test_what_was_renewed_a_short_while_ago_is_not_renewed_before_a_closure() -> None:
    """A solution two days old that falls due in a closure waits until after it; one of half its age does not."""
    closed = Closure(first=date(2026, 12, 5), last=date(2026, 12, 20))
    room = Room(
        stations=(Station(key="raft", name="Raft", kind="raft", tank="tub"),),
        tanks={"tub": Tank(litres=60, change_days=21)},
        closures=(closed,),
    )
    for changed, before in ((date(2026, 11, 23), False), (date(2026, 11, 16), True)):
        known = basis(
            checklist("raft", change=duty("Renew", 14, needs={"tank": True})),
            room=room,
            tanks={"tub": TankSeen(changed=changed)},
        )
        first = days_of(standing(known, date(2027, 1, 15), {}), "change/tub")[0]
        assert (first < closed.first) is before
        assert first >= changed + timedelta(days=11)


def test_a_tank_from_which_nothing_will_drink_is_not_renewed() -> None:
    """After the last of its plants is over no solution is mixed for it; what stays drinks on."""
    room = Room(
        stations=(Station(key="raft", name="Raft", kind="raft", tank="tub"),),
        tanks={"tub": Tank(litres=60, change_days=7)},
    )
    one = Planting(key="p", crop="x", sown=TODAY, count=3, moves=(Move(day=TODAY, station="raft"),))
    known = basis(
        checklist("raft", change=duty("Renew", 14, needs={"tank": True})),
        room=room,
        plantings=(one,),
        tanks={"tub": TankSeen(changed=TODAY)},
    )
    over = TODAY + timedelta(days=16)
    for until, last in ((over, over), (None, TODAY + timedelta(days=60))):
        course = Course(planting=one, name="x", stages=(), until=until)
        found = days_of(standing(known, TODAY + timedelta(days=60), {"p": course}), "change/tub")
        assert found
        assert max(found) <= last
        assert until is not None or max(found) > over
