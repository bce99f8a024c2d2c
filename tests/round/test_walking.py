"""The walk: answering, going back, what follows, being interrupted, coming to the end."""

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import msgspec
import pytest

from tests.round.school import MONDAY, School, choice, fault, healthy, number, open_jobs, to
from walkabout.checklist.model import Case, Choice, Question, Reading, When
from walkabout.jobs.findings import LOOK_AGAIN, close, flag, open_at
from walkabout.records.book import NotSaved, Records
from walkabout.records.model import Asked
from walkabout.round.begin import begin, measure, take_up
from walkabout.round.opened import OpenRoom
from walkabout.round.walk import Walk

WARMTH = Reading(quantity="solution temperature", unit="°C", possible=(0, 45), likely=(8, 32), good=(17, 23))
BAD = Choice(
    id="bad", says="bad", verdict="now", why="It is bad.", do="Mend it.", job="Have it mended", ask=("more", "warm"),
    shows=("gone",), recheck=1,
)  # fmt: skip
FIRST = choice("first", choices=(Choice(id="good", says="good"), BAD, Choice(id="odd", says="odd", verdict="watch")))
MORE = choice("more", should=30, must=60)
WARM = number("warm", WARMTH, should=30, must=60)
LAST = choice("last")


@pytest.fixture
def school(tmp_path: Path) -> School:
    """A room with one station whose first question asks for two more when it is answered badly."""
    school = School(tmp_path / "room", ["pots", "greens"])
    school.only("pots", FIRST, LAST, MORE, WARM, faults={"gone": fault(5)})
    for name in ("more", "warm"):
        school.written("pots", name, days_ago=3)
    return school


def names(walk: Walk) -> list[str]:
    return [one.question for one in walk.record.asked]


# answers and what follows


def test_an_answer_is_on_disk_before_the_next_question(school: School) -> None:
    """What was answered can be read by another program as soon as the next question is shown."""
    walk = school.begin()
    outcome = walk.pick(["good"])
    assert outcome.unsaved == ""
    assert school.open().history.last("pots", "first") == outcome.answer


def test_an_alarm_asks_what_follows_right_behind(school: School) -> None:
    """The questions that a bad answer asks for come next, in their order, each saying why."""
    walk = school.begin()
    assert names(walk) == ["first", "last"]
    outcome = walk.pick(["bad"])
    assert outcome.judgement.alarm
    assert names(walk) == ["first", "more", "warm", "last"]
    step = walk.step
    assert step is not None
    assert step.question.id == "more"
    assert step.why == "Asked because of the answer before: It is bad."
    assert step.vital


def test_what_follows_survives_the_end_of_the_program(school: School) -> None:
    """After a kill the round goes on at the question that had been put in."""
    school.begin().pick(["bad"])
    walk = begin(school.again(), "AR")
    assert names(walk) == ["first", "more", "warm", "last"]
    assert walk.step is not None
    assert walk.step.question.id == "more"
    assert [job.what for job in open_jobs(school.room)] == ["Have it mended"]


def test_a_question_that_is_ahead_is_brought_forward_and_stays_there(school: School) -> None:
    """What follows and is in the plan already is asked next and once, also after a kill."""
    after = choice("after")
    school.only("pots", FIRST, after, LAST, choice("more"), number("warm", WARMTH), faults={"gone": fault(5)})
    walk = school.begin()
    assert names(walk) == ["first", "after", "last", "more", "warm"]
    walk.pick(["bad"])
    assert names(walk) == ["first", "more", "warm", "after", "last"]
    assert names(begin(school.again(), "AR")) == ["first", "more", "warm", "after", "last"]


def test_what_follows_is_for_the_right_eyes(school: School) -> None:
    """A follow-up that asks for an adult is no question for a pupil but a job for an adult."""
    school.only("pots", FIRST, LAST, choice("more", who="adult", should=30, must=60), faults={"gone": fault(5)})
    school.written("pots", "more", days_ago=3)
    walk = school.begin("K7")
    outcome = walk.pick(["bad"])
    assert names(walk) == ["first", "last"]
    (job,) = [job for job in outcome.jobs if job.questions]
    assert (job.who, job.questions, job.hours) == ("adult", ("more",), 5)
    assert len(open_jobs(school.again())) == 2


def test_a_later_answer_shows_what_an_earlier_one_meant(tmp_path: Path) -> None:
    """Still water is for today; once the tub turns out to be warm and full it is an alarm, with its job and finding."""
    school = School(tmp_path / "room", ["tub"])
    walk = to(school.begin(), "tub", "bubbles")
    first = walk.pick(["none"])
    assert first.judgement.verdict == "today"
    assert walk.step is not None
    assert walk.step.question.id == "solution-temperature"
    late = walk.number(25.5)
    assert late.judgement.verdict == "now"
    assert late.judgement.meanings[0].why == "A full, warm tub runs short of oxygen within hours."
    bubbles = school.room.history.last("tub", "bubbles")
    assert bubbles is not None
    assert (bubbles.key, bubbles.verdict) == (first.answer.key, "now")
    finding = open_at(school.room.findings.values(), "tub", "bubbles")
    assert finding is not None
    assert (finding.verdict, finding.who) == ("now", "adult")
    again = school.again()
    assert again.history.last("tub", "bubbles") == bubbles
    assert again.findings[finding.key] == finding


def test_limp_leaves_are_judged_anew_when_the_mix_is_felt(school: School) -> None:
    """Asked about the mix after limp leaves, a walker who finds it wet is told not to water."""
    wet = Case(when=When(answers={"mix": ("wet",)}), verdict="today", why="The roots drown.", do="Give no water.")
    limp = Choice(id="limp", says="limp", verdict="watch", why="Dry or wet?", ask=("mix",), cases=(wet,))
    mix = choice("mix", choices=(Choice(id="dry", says="dry"), Choice(id="wet", says="wet", verdict="watch")))
    school.only("pots", choice("leaves", choices=(Choice(id="firm", says="firm"), limp)), mix)
    walk = school.begin()
    assert walk.pick(["limp"]).judgement.verdict == "watch"
    outcome = walk.pick(["wet"])
    assert outcome.judgement.verdict == "today"
    assert outcome.judgement.meanings[0].do == "Give no water."
    assert outcome.answer.verdict == "watch"
    assert open_at(school.room.findings.values(), "pots", "leaves") is not None
    assert open_at(school.room.findings.values(), "pots", "mix") is None


def test_signs_take_several_answers_and_choices_one(school: School) -> None:
    """Several signs may be picked, 'none' beside a sign counts as the sign; a choice takes one answer."""
    two = (Choice(id="none", says="none"), Choice(id="a", says="a", verdict="watch"), Choice(id="b", says="b"))
    school.only("pots", choice("signs", kind="signs", choices=two), LAST)
    walk = school.begin()
    assert walk.pick(["b", "none", "a"]).answer.choices == ("a", "b")
    walk.back()
    assert walk.pick(["none", "none"]).answer.choices == ("none",)
    with pytest.raises(ValueError, match="takes one answer"):
        walk.pick(["good", "bad"])


@pytest.mark.parametrize("picked", [[], ["nonsense"], ["good", "nonsense"]])
def test_an_unknown_choice_is_refused(school: School, picked: list[str]) -> None:
    """What is not among the answers is refused in words, and nothing is written down."""
    walk = school.begin()
    with pytest.raises(ValueError, match="is not among the answers"):
        walk.pick(picked)
    assert school.room.history.last("pots", "first") is None


@pytest.mark.parametrize("value", [-1, 46, float("nan"), float("inf")])
def test_a_number_that_cannot_be_is_refused(school: School, value: float) -> None:
    """Outside of what an instrument can read nothing is saved."""
    school.only("pots", number("warm", WARMTH, must=1))
    walk = school.begin()
    with pytest.raises(ValueError, match="cannot be"):
        walk.number(value)
    assert walk.given() is None


def test_a_question_that_always_applies(school: School) -> None:
    """'Does not apply' is refused where the question always applies, and taken elsewhere."""
    school.only("pots", choice("always", may_not_apply=False), LAST)
    walk = school.begin()
    with pytest.raises(ValueError, match="always applies"):
        walk.does_not_apply()
    walk.pick(["good"])
    assert walk.does_not_apply().answer.state == "does not apply"


# going back


def test_a_wrong_answer_is_taken_back_with_all_that_it_opened(school: School) -> None:
    """Back and 'good': the finding and the job are closed, the follow-ups gone, the new answer replaces the old."""
    walk = school.begin()
    wrong = walk.pick(["bad"]).answer
    assert walk.back()
    assert walk.given() == wrong
    right = walk.pick(["good"]).answer
    assert (right.replaces, right.reason) == (wrong.key, "put right in the same round")
    assert names(walk) == ["first", "last"]
    room = school.again()
    assert open_jobs(room) == []
    assert [one.closed is not None for one in room.findings.values()] == [True]
    assert [one.key for one in room.history.all("pots", "first")] == [right.key]
    resumed = begin(room, "AR")
    assert resumed.step is not None
    assert resumed.step.question.id == "last"


def test_follow_ups_that_were_answered_stay(school: School) -> None:
    """Taking an answer back leaves what was seen because of it: a look is a look."""
    walk = school.begin()
    walk.pick(["bad"])
    walk.pick(["bad"])
    assert walk.back()
    assert walk.back()
    walk.pick(["good"])
    assert names(walk) == ["first", "more", "last"]
    assert walk.step is not None
    assert walk.step.question.id == "last"
    assert open_at(school.room.findings.values(), "pots", "more") is not None


def test_from_good_to_bad_asks_what_follows(school: School) -> None:
    """Back from later questions, a bad answer opens its finding and asks for more before the round ends."""
    walk = school.begin()
    walk.pick(["good"])
    walk.pick(["good"])
    assert walk.step is None
    assert walk.back()
    assert walk.back()
    walk.pick(["bad"])
    assert [one.question for one in walk.record.asked] == ["first", "more", "warm", "last"]
    assert walk.step is not None
    assert walk.step.question.id == "more"
    walk.pick(["good"])
    walk.number(20)
    assert walk.step is None
    assert [job.what for job in open_jobs(school.room)] == ["Have it mended"]


def test_from_bad_to_bad_leaves_one_of_each(school: School) -> None:
    """The same bad answer given twice leaves one open finding and one open job."""
    walk = school.begin()
    walk.pick(["bad"])
    walk.back()
    walk.pick(["bad"])
    assert len(open_jobs(school.room)) == 1
    assert sum(one.closed is None for one in school.room.findings.values()) == 1
    assert names(walk) == ["first", "more", "warm", "last"]


def test_a_wrong_all_is_well_opens_again_what_it_closed(school: School) -> None:
    """'Good' by mistake closes a finding of yesterday and its job; put right, both are open again as they were."""
    school.begin().pick(["bad"])
    school.tomorrow()
    walk = school.begin()
    walk.pick(["good"])
    (finding,) = school.room.findings.values()
    assert finding.closed is not None
    walk.back()
    walk.pick(["bad"])
    (finding,) = school.room.findings.values()
    assert finding.closed is None
    assert finding.recheck == school.room.today() + timedelta(days=1)
    assert len(open_jobs(school.room)) == 1
    walk.back()
    walk.pick(["good"])
    walk.back()
    walk.not_looked()
    (finding,) = school.room.findings.values()
    assert finding.closed is None


def test_back_goes_past_what_others_have_answered(school: School) -> None:
    """Going back leads to one's own answers; before the first there is nothing."""
    walk = school.begin()
    assert not walk.back()
    walk.pick(["good"])
    walk.pick(["good"])
    assert walk.back()
    assert walk.step is not None
    assert walk.step.question.id == "last"
    assert walk.forward()
    assert walk.step is None
    assert not walk.forward()


# interrupted


def test_the_round_is_taken_up_at_the_same_question(tmp_path: Path) -> None:
    """After ten answers and a kill the eleventh question is shown, with the same plan, ten times over."""
    school = School(tmp_path / "room")
    walk = school.begin()
    while walk.step is not None:
        for _ in range(5):
            if walk.step is not None:
                school.tick(3)
                healthy(walk)
        here = walk.step and (walk.step.here.key, walk.step.question.id, walk.step.why, walk.step.number, walk.step.of)
        plan, elapsed = names(walk), walk.elapsed()
        walk = take_up(school.again(), school.room.rounds_today()[0], "AR")
        step = walk.step
        assert (step and (step.here.key, step.question.id, step.why, step.number, step.of)) == here
        assert names(walk) == plan
        assert walk.elapsed() == pytest.approx(elapsed)
    assert len(school.room.rounds_today()) == 1


def test_a_finished_round_is_not_begun_again(school: School) -> None:
    """After the end nothing is asked twice on the same day."""
    walk = school.begin()
    while walk.step is not None:
        healthy(walk)
    summary = walk.finish()
    assert summary.answered == 2
    assert school.room.rounds_today()[0].ended is not None
    assert begin(school.again(), "AR").step is None


def test_a_measuring_walk_is_not_the_round(school: School) -> None:
    """Who left a measuring job half done and then begins the round gets the round."""
    slow = [number(f"n{n}", WARMTH, slow=True, seconds=200, must=4) for n in range(3)]
    school.only("pots", FIRST, *slow, faults={"gone": fault(5)})
    walk = school.begin("BO")
    walk.write_plan()
    (job,) = open_jobs(school.room)
    measuring = measure(school.room, job, "AR")
    assert [one.question for one in measuring.record.asked] == ["n1", "n2"]
    assert begin(school.room, "AR").record.key != measuring.record.key
    assert school.room.last_walked() is None
    school.tomorrow()
    assert school.room.last_walked() == MONDAY


def test_a_measuring_job_closes_with_its_last_answer(school: School) -> None:
    """One of two readings leaves the job with the other; the second closes it as measured."""
    slow = [number(f"n{n}", WARMTH, slow=True, seconds=200, must=4) for n in range(3)]
    school.only("pots", *slow)
    school.begin().write_plan()
    (job,) = open_jobs(school.room)
    walk = measure(school.room, job, "K7")
    walk.number(20)
    assert school.room.jobs[job.key].questions == ("n2",)
    walk.number(20)
    closed = school.room.jobs[job.key]
    assert (closed.closed_by, closed.reason) == ("K7", "measured")


def test_a_station_that_is_gone_is_not_asked_about(school: School) -> None:
    """Questions of a station that was taken out of room.toml fall out of a round that is taken up."""
    walk = school.begin()
    gone = Asked(station="gone", question="first", why="?", seconds=3)
    room_note = Asked(station="gone", question="doorway", why="?", seconds=3)
    record = msgspec.structs.replace(walk.record, asked=(gone, room_note, *walk.record.asked))
    walk = Walk(school.room, record, "AR")
    steps = [walk.step_at(index) for index in range(len(walk))]
    assert [step.question.id for step in steps if step is not None] == ["first", "last"]


def test_the_clock_may_be_set_back(school: School) -> None:
    """A clock that jumps back makes no negative time."""
    walk = school.begin()
    school.tick(-500)
    assert walk.elapsed() == 0
    assert walk.pick(["good"]).answer.seconds == 0


# late, skipped, left


def test_when_late_the_vital_stays(school: School) -> None:
    """What can wait holds nothing vital; what is left is written down as not looked and is asked first next time."""
    school.only("pots", FIRST, *[choice(f"q{n}", seconds=100) for n in range(2)], LAST)
    school.checklist("pots", choice("a"), choice("v", reveals={"gone": 0.9}), choice("b"), faults={"gone": fault(5)})
    walk = school.begin()
    assert [one.question for one in walk.can_wait()] == ["a", "b"]
    assert walk.leave_what_can_wait() == 2
    assert walk.step is not None
    assert walk.step.question.id == "v"
    walk.pick(["good"])
    assert walk.step is None
    assert walk.finish().not_looked == 2
    school.tomorrow()
    whys = {one.question.id: one.why for one in school.plan().asked}
    assert whys["a"] == whys["b"] == "Not looked at on Monday."


def test_leaving_from_a_vital_question_does_not_skip_it(school: School) -> None:
    """The question that is open when the rest is left is still asked, if it cannot wait."""
    school.checklist("pots", choice("v", reveals={"gone": 0.9}), choice("a"), faults={"gone": fault(5)})
    walk = school.begin()
    walk.leave_what_can_wait()
    assert walk.step is not None
    assert walk.step.question.id == "v"
    assert school.room.history.last("pots", "v") is None


def test_late_is_said_when_the_minutes_are_over(school: School) -> None:
    """Six minutes over two quick questions of a five-minute round: it is late, as long as something can wait."""
    walk = school.begin()
    assert not walk.late
    school.tick(290)
    walk.pick(["good"])
    school.tick(290)
    assert walk.elapsed() == 580
    assert walk.late
    walk.pick(["good"])
    assert not walk.late


def test_a_station_is_skipped_without_losing_what_was_seen(school: School) -> None:
    """Skipping writes the rest down as not looked at; answers already given stay as they are."""
    school.checklist("greens", choice("green"))
    walk = school.begin()
    walk.pick(["bad"])
    walk.back()
    left = walk.skip_station()
    assert [one.answer.question for one in left] == ["more", "warm", "last"]
    first = school.room.history.last("pots", "first")
    assert first is not None
    assert first.choices == ("bad",)
    assert walk.step is not None
    assert walk.step.here.key == "greens"
    assert {key: state for key, _, state in walk.stations()} == {"pots": "act", "greens": "here"}


def test_the_end_in_figures(school: School) -> None:
    """The summary counts what was answered and what was not, the seconds on foot, and the jobs by hours to loss."""
    walk = school.begin()
    school.tick(7)
    walk.pick(["bad"])
    school.tick(4)
    walk.not_looked()
    school.tick(4)
    walk.number(20)
    school.tick(2)
    walk.pick(["good"])
    summary = walk.finish()
    assert (summary.answered, summary.not_looked, summary.seconds) == (3, 1, 17)
    assert [job.what for job in summary.jobs] == ["Have it mended"]
    assert walk.record.ended == school.now
    assert school.again().rounds_today()[0].walked_seconds == 17


def test_something_to_be_glad_of(school: School) -> None:
    """After three good days on end the summary names the station."""
    for _ in range(3):
        walk = school.begin()
        while walk.step is not None:
            healthy(walk)
        glad = walk.finish().glad
        school.tomorrow()
    assert glad == "The pots: 4 days running with nothing wrong."


# two walkers


def test_two_walkers_ask_nothing_twice(tmp_path: Path) -> None:
    """Two programs walk the same round in turns: every question is answered once, by one of them."""
    school = School(tmp_path / "room", ["tub", "pots", "greens"])
    rooms = [school.room, school.open()]
    walks = [begin(rooms[0], "AR"), begin(rooms[1], "K7")]
    for walk in walks:
        walk.write_plan()
    plan = {(one.station, one.question) for one in walks[0].record.asked}
    answered: list[tuple[str, str]] = []
    turn = 0
    while any(walk.step is not None for walk in walks):
        walk = walks[turn % 2]
        turn += 1
        walk.pass_by()
        if walk.step is not None:
            school.tick(3)
            _, outcome = healthy(walk)
            answered.append((outcome.answer.station, outcome.answer.question))
    assert sorted(answered) == sorted(plan)
    assert {state for walk in walks for _, _, state in walk.stations()} == {"done"}
    rooms[1].close()


def test_who_comes_later_is_asked_what_is_left(school: School) -> None:
    """A second walker who begins when the first is half through is asked the other half."""
    school.begin("AR").pick(["good"])
    school.tick(60)
    assert names(begin(school.beside(), "K7")) == ["last"]


def test_what_another_has_answered_cannot_be_left_or_counted(school: School) -> None:
    """Late and leaving: what somebody else answered meanwhile keeps that answer and takes no more time."""
    school.only("pots", choice("a"), choice("b"))
    walk = school.begin("AR")
    walk.write_plan()
    other = begin(school.beside(), "K7")
    school.tick(5)
    other.pick(["good"])
    other.pick(["good"])
    school.room.refresh()
    assert walk.can_wait() == []
    assert walk.remaining() == 0
    assert walk.leave_what_can_wait() == 0
    assert walk.step is None
    assert walk.stations() == [("pots", "The pots", "done")]
    last = school.room.history.last("pots", "b")
    assert last is not None
    assert last.state == "answered"


def test_a_finding_closed_meanwhile_is_not_looked_at(school: School) -> None:
    """A second look that is still ahead is passed by once somebody has closed the finding."""
    finding = flag(station="pots", seen="a hole", verdict="today", by="K7", now=school.now)
    school.room.save(finding)
    school.tomorrow()
    walk = school.begin()
    assert names(walk)[-1] == LOOK_AGAIN + finding.key
    walk.pick(["good"])
    other = school.beside()
    other.save(close(other.findings[finding.key], "AR", "adult", school.now, "cut off"))
    walk.pick(["good"])
    assert walk.step is None


# trouble with the disk


def failing(monkeypatch: pytest.MonkeyPatch) -> Callable[[], None]:
    """Let every write fail until the returned function is called."""
    real = Records._write_out

    def full(self: Records, must: list[object]) -> None:
        raise NotSaved("This answer is in memory only: the disk is full.")

    monkeypatch.setattr(Records, "_write_out", full)
    return lambda: monkeypatch.setattr(Records, "_write_out", real)


def test_nothing_is_lost_while_the_disk_is_full(school: School, monkeypatch: pytest.MonkeyPatch) -> None:
    """Answers, findings, jobs and the plan wait in memory, each said to be unsaved, and are written by the retry."""
    walk = school.begin()
    mended = failing(monkeypatch)
    unsaved = [walk.pick(["bad"]).unsaved, walk.pick(["good"]).unsaved, walk.number(20).unsaved]
    assert unsaved == ["This answer is in memory only: the disk is full."] * 3
    assert walk.step is not None
    assert walk.step.question.id == "last"
    assert school.open().history.last("pots", "first") is None
    mended()
    assert school.room.retry() == ""
    room = school.again()
    last = room.history.last("pots", "first")
    assert last is not None
    assert last.choices == ("bad",)
    assert [job.what for job in open_jobs(room)] == ["Have it mended"]
    resumed = begin(room, "AR")
    assert names(resumed) == ["first", "more", "warm", "last"]
    assert resumed.step is not None
    assert resumed.step.question.id == "last"


def test_the_next_answer_takes_the_waiting_ones_along(school: School, monkeypatch: pytest.MonkeyPatch) -> None:
    """Once the disk has room again, the next answer writes all that waited, in order."""
    walk = school.begin()
    mended = failing(monkeypatch)
    assert walk.pick(["good"]).unsaved
    mended()
    assert walk.pick(["good"]).unsaved == ""
    room = school.again()
    assert [one.question for one in room.history.everything() if one.round == walk.record.key] == ["first", "last"]


def test_why_something_is_unsaved_is_kept_until_it_is_saved(school: School, monkeypatch: pytest.MonkeyPatch) -> None:
    """The plan, what is left for next time and the end of a round on a full disk: the walk knows why, until a retry."""
    walk = school.begin()
    assert walk.unsaved == ""
    mended = failing(monkeypatch)
    why = "This answer is in memory only: the disk is full."
    assert walk.write_plan() == walk.unsaved == why
    mended()
    assert school.room.retry() == walk.unsaved == ""
    failing(monkeypatch)
    assert walk.leave_what_can_wait() > 0
    assert walk.unsaved == why
    mended()
    assert school.room.retry() == walk.unsaved == ""
    failing(monkeypatch)
    walk.finish()
    assert walk.unsaved == why


def test_a_retry_that_fails_says_so(school: School, monkeypatch: pytest.MonkeyPatch) -> None:
    """As long as the disk is full, the retry says why nothing is on it."""
    walk = school.begin()
    failing(monkeypatch)
    walk.pick(["good"])
    assert "disk is full" in school.room.retry()


def test_every_question_can_be_shown(tmp_path: Path) -> None:
    """Each step of a real round has a place, a number among its station's, seconds and a reason."""
    school = School(tmp_path / "room")
    walk = school.begin()
    for index in range(len(walk)):
        step = walk.step_at(index)
        assert step is not None
        assert 1 <= step.number <= step.of
        assert step.seconds > 0
        assert isinstance(step.question, Question)
        assert step.why
    assert walk.step_at(len(walk)) is None
    assert walk.step_at(-1) is None
    assert isinstance(walk.opened, OpenRoom)
