"""What follows from answers over the days: findings that stay, are seen again and are cleared; jobs in order."""

from datetime import timedelta
from pathlib import Path

import pytest

from tests.round.school import MONDAY, School, choice, fault, healthy, open_jobs, to
from walkabout.checklist.model import Choice
from walkabout.jobs.findings import LOOK_AGAIN, close, flag
from walkabout.records.model import Answer, Finding
from walkabout.round.due import in_one_line
from walkabout.round.follow import follows, reopened, withdrawn
from walkabout.round.judge import Judgement

SORRY = Choice(
    id="sorry", says="a sorry sight", verdict="today", why="It droops.", do="Prop it up.", job="Find out why",
    recheck=2, shows=("slow",),
)  # fmt: skip
DIRE = Choice(
    id="dire", says="dire", verdict="now", why="It is dying.", do="Save it.", job="Save the rest", recheck=1,
    shows=("quick",), who="pupil",
)  # fmt: skip
CLEAN = Choice(id="clean", says="could be cleaner", verdict="watch", why="Dust.", job="Dust the shelf", days=3)
WHOLE = "A sentence of some length that stands first and is whole in itself, as one can see here and now."
FAULTS = {"slow": fault(200), "quick": fault(6)}


@pytest.fixture
def school(tmp_path: Path) -> School:
    school = School(tmp_path / "room", ["pots"])
    look = choice("look", must=10, should=7, choices=(Choice(id="good", says="good"), SORRY, DIRE, CLEAN))
    school.only("pots", look, choice("other"), faults=FAULTS)
    school.written("pots", "look", days_ago=7)
    return school


def answer_with(school: School, picked: str, walker: str = "AR") -> Finding | None:
    walk = to(school.begin(walker), "pots", "look")
    walk.pick([picked])
    return next(iter(school.room.findings.values()), None)


def test_a_grave_answer_opens_a_finding_and_its_job(school: School) -> None:
    """The finding says what was seen and when to look again; the job what to do, with the hours to loss."""
    finding = answer_with(school, "sorry")
    assert finding is not None
    assert finding.seen == "How is look: a sorry sight"
    assert (finding.verdict, finding.who, finding.recheck) == ("today", "pupil", MONDAY + timedelta(days=2))
    (job,) = open_jobs(school.room)
    assert (job.what, job.finding, job.hours, job.due) == ("Find out why", finding.key, 200, MONDAY)


def test_seen_again_moves_the_recheck_and_opens_nothing(school: School) -> None:
    """Two days later still the same: one finding, one job, the next look two days on."""
    answer_with(school, "sorry")
    school.go_to(MONDAY + timedelta(days=2))
    finding = answer_with(school, "sorry", "K7")
    assert finding is not None
    assert finding.recheck == MONDAY + timedelta(days=4)
    assert [line.by for line in finding.history] == ["AR", "K7"]
    assert len(school.room.findings) == 1
    assert len(open_jobs(school.room)) == 1


def test_what_has_grown_worse_is_no_longer_a_pupils(school: School) -> None:
    """A finding that was for today and is dire now: as grave, looked at daily, closed by an adult only."""
    answer_with(school, "sorry")
    school.go_to(MONDAY + timedelta(days=2))
    finding = answer_with(school, "dire", "K7")
    assert finding is not None
    assert len(school.room.findings) == 1
    assert (finding.verdict, finding.who, finding.recheck_days) == ("now", "adult", 1)
    assert finding.seen == "How is look: dire"
    assert finding.signs == ("sorry", "dire")
    assert [job.what for job in school.room.jobs_due()] == ["Save the rest", "Find out why"]


def test_good_again_closes_the_finding_and_its_jobs(school: School) -> None:
    """A look that finds all well closes the finding with a reason, and the jobs that it had made."""
    answer_with(school, "sorry")
    school.go_to(MONDAY + timedelta(days=2))
    finding = answer_with(school, "good", "K7")
    assert finding is not None
    assert finding.closed == school.now
    assert finding.reason == "looked at again: as it should be"
    assert open_jobs(school.room) == []


def test_a_pupils_all_clear_waits_for_an_adult(school: School) -> None:
    """What needs an adult is not closed by a pupil's look; it is asked again until an adult has looked."""
    answer_with(school, "dire")
    school.tomorrow()
    finding = answer_with(school, "good", "K7")
    assert finding is not None
    assert finding.closed is None
    assert finding.history[-1].says.endswith("waits for an adult to confirm")
    assert [job.what for job in open_jobs(school.room)] == ["Save the rest"]
    school.tomorrow()
    finding = answer_with(school, "good", "AR")
    assert finding is not None
    assert finding.closed is not None
    assert open_jobs(school.room) == []


def test_what_is_only_watched_may_ask_for_a_job(school: School) -> None:
    """'Watch' opens no finding, but a choice that names a job has it made, once."""
    answer_with(school, "clean")
    assert school.room.findings == {}
    (job,) = open_jobs(school.room)
    assert (job.what, job.due, job.verdict) == ("Dust the shelf", MONDAY + timedelta(days=3), "watch")
    school.tomorrow()
    answer_with(school, "clean")
    assert len(open_jobs(school.room)) == 1


def test_a_flagged_finding_is_looked_at_until_it_is_gone(school: School) -> None:
    """'Better' is looked at again; 'gone' closes it."""
    flagged = flag(station="pots", seen="a hole", verdict="today", by="K7", now=school.now)
    school.room.save(flagged)
    for picked, closed in (("better", False), ("gone", True)):
        school.tomorrow()
        to(school.begin(), "pots", LOOK_AGAIN + flagged.key).pick([picked])
        assert (school.room.findings[flagged.key].closed is not None) == closed
    school.tomorrow()
    assert LOOK_AGAIN + flagged.key not in [one.question.id for one in school.plan().asked]


def test_worse_than_it_was_flagged(school: School) -> None:
    """A flagged finding that is worse keeps what was flagged as its words, and an alarm's gravity where it has one."""
    flagged = flag(station="pots", seen="a hole", verdict="watch", by="K7", now=school.now)
    school.room.save(flagged)
    school.go_to(MONDAY + timedelta(days=3))
    to(school.begin(), "pots", LOOK_AGAIN + flagged.key).pick(["worse"])
    finding = school.room.findings[flagged.key]
    assert (finding.seen, finding.verdict, finding.signs) == ("a hole", "today", ())
    assert len(school.room.findings) == 1


def test_a_second_look_at_what_was_closed_is_a_new_finding(school: School) -> None:
    """Somebody closed it while it was still to be looked at: 'worse' opens one that is looked at again."""
    flagged = flag(station="pots", seen="a hole", verdict="today", by="K7", now=school.now)
    question = school.room.question("pots", LOOK_AGAIN + flagged.key)
    school.room.save(flagged)
    question = school.room.question("pots", LOOK_AGAIN + flagged.key)
    assert question is not None
    closed = close(flagged, "AR", "adult", school.now, "cut off")
    answer = Answer(
        key="a-1", round="r", at=school.now, walker="AR", station="pots", question=question.id, choices=("worse",)
    )
    worse = Judgement("today", (question.choices[3],))
    then = follows(answer, question, worse, "adult", {closed.key: closed}, {}, school.now)
    (new,) = then.findings
    assert new.key == "f-a-1"
    assert new.question == ""
    school.room.save(new)
    school.tomorrow()
    assert LOOK_AGAIN + new.key in [one.question.id for one in school.plan().asked]


def test_taking_back_touches_only_what_the_answer_made(school: School) -> None:
    """Other findings and their jobs stay as they are when an answer is put right."""
    answer_with(school, "sorry")
    other = flag(station="pots", seen="a hole", verdict="today", by="K7", now=school.now)
    school.room.save(other)
    last = school.room.history.last("pots", "look")
    assert last is not None
    undone = withdrawn(last, "AR", school.room.findings, school.room.jobs, school.now, "a slip")
    assert [one.key for one in undone.findings] == [f"f-{last.key}"]
    assert [job.what for job in undone.jobs] == ["Find out why"]
    assert all(one.reason == "a slip" and one.closed for one in (*undone.findings, *undone.jobs))
    assert reopened(last, "AR", school.room.findings, school.room.jobs, school.now, "a slip").findings == ()


def test_jobs_stand_by_hours_to_loss(tmp_path: Path) -> None:
    """Over a whole bad round the jobs due come with the fewest hours to loss first, jobs without any last."""
    school = School(tmp_path / "bad")
    walk = school.begin()
    while (step := walk.step) is not None:
        school.tick(2)
        if step.question.choices:
            walk.pick([step.question.choices[-1].id])
        else:
            healthy(walk)
    jobs = walk.finish().jobs
    hours = [job.hours if job.hours is not None else 24 * 365 for job in jobs]
    assert len(jobs) > 15
    assert hours == sorted(hours)
    assert [(job.station, job.what) for job in jobs] == list(dict.fromkeys((job.station, job.what) for job in jobs))


def test_a_round_in_which_everything_is_bad_ends(tmp_path: Path) -> None:
    """Follow-ups on follow-ups come to an end: no question is asked twice, and each finding is one question's."""
    school = School(tmp_path / "bad")
    walk = school.begin()
    count = 0
    while (step := walk.step) is not None:
        school.tick(1)
        count += 1
        assert count < 400
        if step.question.choices:
            bad = max(range(len(step.question.choices)), key=lambda one: len(step.question.choices[one].ask))
            walk.pick([step.question.choices[bad].id])
        elif step.question.reading is not None:
            walk.number(step.question.reading.possible[1])
        else:
            walk.note("")
    asked = [(one.station, one.question) for one in walk.record.asked]
    assert len(asked) == len(set(asked))
    assert max(len(one.why) for one in walk.record.asked) <= 120
    findings = [(one.station, one.question) for one in school.room.findings.values() if one.closed is None]
    assert len(findings) == len(set(findings))
    assert len(findings) > 10


@pytest.mark.parametrize(
    ("why", "line"),
    [
        ("Short.", "Short."),
        ("Two\n lines  here.", "Two lines here."),
        (f"{WHOLE} {'More ' * 9}", WHOLE),
        ("word " * 40, ("word " * 23).strip() + " …"),
    ],
)  # fmt: skip
def test_a_reason_is_cut_where_it_may_be(why: str, line: str) -> None:
    """After a whole sentence, else after a whole word with an ellipsis; never beyond 120 characters."""
    assert in_one_line(why) == line
    assert len(in_one_line(why)) <= 120
