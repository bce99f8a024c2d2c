"""Which questions today asks, in which order and why."""

from datetime import timedelta
from pathlib import Path

import msgspec
import pytest

from tests.round.school import MONDAY, PLANTED, School, asked, choice, due, fault, healthy, number, open_jobs, to
from walkabout.checklist.model import Choice, Needs, Reading
from walkabout.jobs.findings import LOOK_AGAIN, flag
from walkabout.records.model import Move, Planting
from walkabout.round.due import age_of
from walkabout.round.here import measured_elsewhere
from walkabout.round.level import presses

CLOSURE = '[[closure]]\nfrom = 2026-09-21\nto = 2026-09-25\nname = "a closed week"\n'
PLAIN = Reading(quantity="count", possible=(0, 100), likely=(0, 50), good=(0, 10), decimals=0)


@pytest.fixture
def school(tmp_path: Path) -> School:
    return School(tmp_path / "room")


def test_the_doorway_comes_first_and_stations_in_walking_order(school: School) -> None:
    """The room as a whole opens the round, its doorway first; then the stations as room.toml has them."""
    order = list(dict.fromkeys(station for station, _ in asked(school.plan())))
    assert asked(school.plan())[0] == ("room", "doorway")
    assert order == ["room", *(one for one in ("shelf", "tub", "film", "vine", "drum", "pots", "case", "greens"))]


def test_questions_of_a_station_keep_the_order_of_looking(school: School) -> None:
    """Within a station the checklist's order holds."""
    ids = [question for station, question in asked(school.plan()) if station == "tub"]
    written = [one.id for one in school.room.checklists["raft"].question]
    assert ids == sorted(ids, key=written.index)


def test_the_same_records_give_the_same_plan(school: School) -> None:
    """Two programs that open the same folder at the same time ask the same, in the same order, for the same reasons."""
    walk = school.begin()
    for _ in range(20):
        school.tick(4)
        healthy(walk)
    school.tomorrow()
    here, there = school.plan(), school.open().plan("AR")
    assert [(one.here.key, one.question.id, one.why, one.worth, one.seconds) for one in here.asked] == [
        (one.here.key, one.question.id, one.why, one.worth, one.seconds) for one in there.asked
    ]


def test_vital_is_what_would_be_lost_before_the_next_round(school: School) -> None:
    """A fault that takes 20 hours is asked about every day, one of 60 hours before a weekend, one of 100 never so."""
    slow_to_kill = {"quick": fault(20), "weekend": fault(60), "patient": fault(100)}
    school.only(
        "pots",
        choice("q", reveals={"quick": 0.9}, must=5, should=3),
        choice("w", reveals={"weekend": 0.9}, must=5, should=3),
        choice("p", reveals={"patient": 0.9}, must=5, should=3),
        faults=slow_to_kill,
    )
    for name in "qwp":
        school.written("pots", name, days_ago=1)
    assert [one.question.id for one in school.plan().asked if one.vital] == ["q"]
    school.go_to(MONDAY + timedelta(days=4))
    for name in "qwp":
        school.written("pots", name, days_ago=1)
    plan = school.plan()
    assert [one.question.id for one in plan.asked if one.vital] == ["q", "w"]
    assert due(plan, "pots", "w").why == "Before 3 days alone: once it has gone, plants last about 2 days."


def test_one_surest_quick_look_is_vital_for_a_fault(school: School) -> None:
    """Of several looks for a fault the surest quick one is vital; a slow one only where no quick one is sure enough."""
    dry = {"dry": fault(5)}
    school.only(
        "pots",
        choice("glance", reveals={"dry": 0.7}),
        choice("feel", reveals={"dry": 0.9}),
        number("weigh", PLAIN, reveals={"dry": 0.99}, slow=True),
        faults=dry,
    )
    assert [one.question.id for one in school.plan().asked if one.vital] == ["feel"]
    school.only(
        "pots",
        choice("glance", reveals={"dry": 0.3}),
        number("weigh", PLAIN, reveals={"dry": 0.99}, slow=True),
        faults=dry,
    )
    assert [one.question.id for one in school.plan().asked if one.vital] == ["weigh"]


def test_a_pupil_has_a_vital_look_of_his_own(school: School) -> None:
    """Where only an adult may take the surest look, a pupil's round holds the surest that a pupil may take."""
    questions = (choice("open", reveals={"dry": 0.99}, who="adult"), choice("look", reveals={"dry": 0.7}))
    school.only("pots", *questions, faults={"dry": fault(5)})
    assert [one.question.id for one in school.plan("K7").asked if one.vital] == ["look"]
    assert [one.question.id for one in school.plan("AR").asked if one.vital] == ["open"]


def test_a_danger_to_people_comes_before_plants(school: School) -> None:
    """A quick daily look for what can hurt somebody is vital, however long the plants would last."""
    school.only("pots", choice("plug", reveals={"wet": 0.8}), faults={"wet": fault(500, people=True, lost=0)})
    (one,) = school.plan().asked
    assert one.vital
    assert one.why == "Every round, people first: in case it has gone."


def test_what_was_not_looked_at_is_asked_next_time(school: School) -> None:
    """'Not looked' is due the next day whatever its interval, and says so."""
    school.only("pots", choice("weekly", should=7, must=10))
    school.written("pots", "weekly", days_ago=2)
    school.written("pots", "weekly", days_ago=1, state="not looked", verdict="")
    assert due(school.plan(), "pots", "weekly").why == "Not looked at on Sunday."


def test_what_does_not_apply_rests_for_its_interval(school: School) -> None:
    """'Does not apply' counts as seen to: the question comes back after its interval, not every day."""
    school.only("pots", choice("weekly", should=7, must=10), choice("daily"))
    school.written("pots", "daily", days_ago=30)
    school.written("pots", "weekly", days_ago=3, state="does not apply", verdict="")
    assert ("pots", "weekly") not in asked(school.plan())
    school.go_to(MONDAY + timedelta(days=4))
    assert ("pots", "weekly") in asked(school.plan())


def test_a_watched_answer_is_looked_at_again(school: School) -> None:
    """'Watch' is asked again after the days its meaning says, with its reason."""
    watching = Choice(id="odd", says="odd", verdict="watch", why="It looks odd.", recheck=2)
    school.only("pots", choice("weekly", should=7, must=10, choices=(Choice(id="good", says="good"), watching)))
    school.written("pots", "weekly", days_ago=1, choices=["odd"], verdict="watch", why="It looks odd.")
    assert asked(school.plan()) == []
    school.tomorrow()
    assert due(school.plan(), "pots", "weekly").why == "Look again: it looks odd."


def test_a_finding_is_looked_at_on_its_day(school: School) -> None:
    """A grave answer brings its question back on the day of the recheck, though it is asked weekly."""
    school.only("pots", choice("weekly", should=7, must=10), choice("daily"))
    school.written("pots", "weekly", days_ago=7)
    walk = to(school.begin(), "pots", "weekly")
    walk.pick(["bad"])
    school.tomorrow()
    assert due(school.plan(), "pots", "weekly").why == "Look again: this was noticed on Monday."


def test_a_flagged_finding_becomes_a_question(school: School) -> None:
    """What somebody flagged is looked at again at its station, after the questions of the checklist."""
    school.only("pots", choice("daily"))
    finding = flag(station="pots", seen="a hole in a leaf", verdict="today", by="K7", now=school.now)
    school.room.save(finding)
    school.tomorrow()
    plan = school.plan()
    assert asked(plan) == [("pots", "daily"), ("pots", LOOK_AGAIN + finding.key)]
    assert plan.asked[-1].why == "Flagged by K7 on Monday."


def test_a_finding_outlives_its_question(school: School) -> None:
    """A finding whose question cannot be asked any more (the plants are gone) is looked at like a flagged one."""
    school.only("pots", choice("rot", needs=Needs(plants=True)), choice("daily"))
    to(school.begin(), "pots", "rot").pick(["bad"])
    pots = next(one for one in school.room.plantings.values() if one.station == "pots")
    school.room.save(msgspec.structs.replace(pots, ended=school.room.today()))
    school.tomorrow()
    (finding,) = school.room.findings.values()
    assert ("pots", LOOK_AGAIN + finding.key) in asked(school.plan())


def test_worth_decides_what_fits(school: School) -> None:
    """Within the minutes left the questions come that avoid the most expected loss per second."""
    faults = {"dear": fault(200, 0.1), "cheap": fault(200, 0.001)}
    dear = [choice(f"dear-{n}", reveals={"dear": 0.9}, seconds=30, should=1, must=30) for n in range(4)]
    cheap = [choice(f"cheap-{n}", reveals={"cheap": 0.9}, seconds=30, should=1, must=30) for n in range(4)]
    school.only("pots", *cheap, *dear, faults=faults)
    school.room.room = msgspec.structs.replace(school.room.room, minutes=3)
    plan = school.plan()
    assert {one.question.id for one in plan.asked} == {"dear-0", "dear-1", "dear-2", "dear-3", "cheap-0"}
    assert {one.question.id for one in plan.left} == {"cheap-1", "cheap-2", "cheap-3"}
    assert plan.seconds <= 180


def test_worth_by_hand(school: School) -> None:
    """0.07 faults a week for two days, caught 9 times in 10, half of it lost, a third by tomorrow, in 10 s."""
    school.only("pots", choice("q", reveals={"f": 0.9}, seconds=10, must=30), faults={"f": fault(72, 0.07, lost=0.5)})
    school.go_to(MONDAY, 8, 0)
    school.written("pots", "q", days_ago=2)
    weeks = 2 / 7
    rate = 0.07 * 26 / (26 + weeks)
    upkeep = 0.0005 * 10 * 2
    (one,) = school.plan().asked
    assert one.worth == pytest.approx((rate * 2 / 7 * 0.9 * 0.5 * 24 / 72 + upkeep) / 10)


def test_never_longer_than_the_longest_interval(school: School) -> None:
    """A question is bound on the last round that can keep its longest interval: four days are up before Tuesday."""
    school.only("pots", choice("q", should=2, must=4))
    school.written("pots", "q", days_ago=3)
    assert not due(school.plan(), "pots", "q").bound
    school.tomorrow()
    one = due(school.plan(), "pots", "q")
    assert one.bound
    assert one.why == "Never longer than 4 days without this look."


def test_slow_looks_that_do_not_fit_become_one_job_a_station(school: School) -> None:
    """Three slow readings at one station that do not fit the minutes are one job, due today, for a pupil."""
    slow = [number(f"n{n}", PLAIN, slow=True, seconds=200, must=4) for n in range(3)]
    school.only("pots", *slow, choice("daily"))
    plan = school.plan()
    assert asked(plan) == [("pots", "n0"), ("pots", "daily")]
    walk = school.begin()
    walk.write_plan()
    (job,) = open_jobs(school.room)
    assert job.questions == ("n1", "n2")
    assert (job.station, job.due, job.who) == ("pots", school.room.today(), "pupil")
    assert job.what == "Measure and write down: n1, n2"


def test_a_slow_look_is_not_made_a_job_twice(school: School) -> None:
    """While a job asks for a reading, the next rounds make no second one for it."""
    school.only("pots", *[number(f"n{n}", PLAIN, slow=True, seconds=200, must=4) for n in range(3)])
    school.begin().write_plan()
    school.tomorrow()
    school.begin("BO").write_plan()
    names = [name for job in open_jobs(school.room) for name in job.questions]
    assert sorted(names) == sorted(set(names))


def test_a_pupil_is_never_asked_what_is_an_adults(school: School) -> None:
    """What only an adult may look at is not asked of a pupil but becomes a job for an adult once it must be done."""
    school.only("pots", choice("inside", who="adult", must=1), choice("daily"))
    assert asked(school.plan("K7")) == [("pots", "daily")]
    school.begin("K7").write_plan()
    (job,) = open_jobs(school.room)
    assert (job.who, job.questions) == ("adult", ("inside",))
    assert job.why == "It asks for an adult: it is a job of the day."
    assert ("pots", "inside") in asked(school.plan("AR"))


def test_no_shipped_question_of_an_adult_reaches_a_pupil(school: School) -> None:
    """In ten school days a pupil's plan holds no question of any shipped checklist that asks for an adult."""
    for _ in range(14):
        plan = school.plan("K7")
        assert [one.question.id for one in plan.asked if one.question.who != "pupil"] == []
        for one in plan.asked:
            school.written(one.here.key, one.question.id)
        school.tomorrow()


def test_one_tank_is_measured_once(school: School) -> None:
    """Of two stations on one tank only the first in walking order is asked what the tank alone decides."""
    elsewhere = measured_elsewhere(school.room.places(), school.room.today())
    assert elsewhere == {("vine", "topped-up"), ("vine", "change-due"), ("vine", "ph"), ("vine", "ec")}
    for _ in range(5):
        plan = school.plan()
        assert not elsewhere & set(asked(plan))
        for one in plan.asked:
            school.written(one.here.key, one.question.id)
        school.tomorrow()


def test_the_first_round_back(tmp_path: Path) -> None:
    """After a closure: the room, what has run dry by the forecast, what a pump or motor keeps by hours, the others."""
    school = School(tmp_path / "back", more=CLOSURE)
    school.go_to(MONDAY + timedelta(days=4))
    walk = school.begin()
    while walk.step is not None:
        healthy(walk)
    walk.finish()
    school.go_to(MONDAY + timedelta(days=14))
    plan = school.plan()
    order = list(dict.fromkeys(station for station, _ in asked(plan)))
    assert school.room.today_for("AR").returning
    assert asked(plan)[0] == ("room", "doorway")
    assert order[:5] == ["room", "greens", "shelf", "drum", "pots"]
    assert order[5:7] == ["film", "tub"]
    assert set(order[7:]) == {"vine", "case"}
    assert school.begin().record.returning


def test_the_first_question_of_a_station_opens_it_after_a_closure(tmp_path: Path) -> None:
    """On the first day back a station begins with the question that its checklist names."""
    school = School(tmp_path / "back", more=CLOSURE)
    school.only("pots")
    school.checklist("pots", choice("other", after_closure=True), choice("opens", after_closure=True), first="opens")
    school.go_to(MONDAY + timedelta(days=4))
    school.begin().write_plan()
    assert asked(school.plan()) == [("pots", "other"), ("pots", "opens")]
    school.go_to(MONDAY + timedelta(days=14))
    plan = school.plan()
    assert asked(plan) == [("pots", "opens"), ("pots", "other")]


def test_after_closure_questions_are_asked_however_young(tmp_path: Path) -> None:
    """A weekly question that belongs to the first day back is asked then, and a closed week does not age the others."""
    school = School(tmp_path / "back", more=CLOSURE)
    school.only("pots", choice("cover", should=7, must=10, after_closure=True), choice("label", should=7, must=10))
    school.go_to(MONDAY + timedelta(days=4))
    school.begin().write_plan()
    for name in ("cover", "label"):
        school.written("pots", name)
    school.go_to(MONDAY + timedelta(days=14))
    plan = school.plan()
    assert asked(plan) == [("pots", "cover")]
    assert plan.asked[0].why == "Asked on the first day back."


def test_a_new_room_does_not_ask_everything_at_once(school: School) -> None:
    """On its first day a room asks what is daily or vital; the rest is spread over the questions' intervals."""
    plan = school.plan()
    assert len(plan.asked) < 45
    assert all(one.question.should == 1 or one.vital for one in plan.asked)


def test_new_plants_bring_their_questions_gently(school: School) -> None:
    """Questions about plants count from the day the plants came, not from the station's first day."""
    school.only("pots", choice("tip", should=7, must=10, needs=Needs(plants=True)), choice("daily"))
    for planting in list(school.room.plantings.values()):
        school.room.save(msgspec.structs.replace(planting, ended=MONDAY))
    school.written("pots", "daily", days_ago=60)
    new = Planting(key="p-new", crop="basil", sown=MONDAY, count=3, moves=(Move(day=MONDAY, station="pots"),))
    school.room.save(new)
    here = next(here for here, _ in school.room.places() if here.key == "pots")
    question = school.room.question("pots", "tip")
    assert question is not None
    assert age_of(here, question, school.room.today_for("AR")) < 7


def test_what_the_round_leaves_is_named(school: School) -> None:
    """What is due and does not fit is on the round's record, with its reason, and is asked on a later day."""
    school.room.room = msgspec.structs.replace(school.room.room, minutes=3)
    for _ in range(3):
        walk = school.begin()
        while walk.step is not None:
            school.tick(walk.step.question.seconds)
            healthy(walk)
        school.tomorrow()
    walk = school.begin()
    assert walk.record.left
    assert all(one.why for one in walk.record.left)
    assert not {(one.station, one.question) for one in walk.record.left} & {
        (one.station, one.question) for one in walk.record.asked
    }


def test_keys_of_an_answer_are_counted() -> None:
    """One key for a choice; a number takes a key for each digit and one to hand it in."""
    reading = Reading(quantity="pH", unit="pH", possible=(0, 14), likely=(4, 9), good=(5.8, 6.4), decimals=1)
    assert presses(choice("q")) == 1
    assert presses(number("ph", reading)) == 3
    assert presses(number("n", PLAIN)) == 2


def test_the_planted_crops_are_known(school: School) -> None:
    """The test room grows crops of the table, so that what they want counts."""
    assert [crop for crop, _, _ in PLANTED if school.room.crops.find(crop) is None] == []
