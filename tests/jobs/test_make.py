from datetime import UTC, datetime, timedelta

import msgspec
import pytest

from walkabout.checklist.model import Meaning, Question, Reading
from walkabout.diagnosis.model import Moment, Who
from walkabout.diagnosis.plan import ToDo
from walkabout.jobs.findings import flag
from walkabout.jobs.life import done, ordered
from walkabout.jobs.make import HOURS, already_asked, caution_of, from_finding, from_meaning, from_step, to_measure
from walkabout.records.model import Verdict

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
LOW = Meaning(
    verdict="today",
    why="The roots hang dry.",
    do="Top it up by a litre.",
    job="Top up the tub",
    who="adult",
    days=2,
    caution="Wet floor beside mains.",
    recheck=5,
)


def test_a_meaning_becomes_a_job() -> None:
    """What the checklist says carries over: who, why, caution, days; the finding is named."""
    job = from_meaning(LOW, station="tub", by="K7", now=NOW, hours=30, finding="f1")
    assert job is not None
    assert (job.what, job.station, job.who, job.due) == (
        "Top up the tub",
        "tub",
        "adult",
        NOW.date() + timedelta(days=2),
    )
    assert (job.hours, job.why, job.caution, job.finding, job.recheck) == (30, LOW.why, LOW.caution, "f1", 5)
    assert (job.closed, job.history[0].by) == (None, "K7")


def test_a_first_act_that_ends_the_matter_makes_no_job() -> None:
    """Without the name of a job there is none."""
    assert from_meaning(msgspec.structs.replace(LOW, job=""), station="tub", by="K7", now=NOW, hours=1) is None


@pytest.mark.parametrize(("verdict", "hours"), [("stop", 0), ("now", 4), ("today", 24), ("watch", None)])
def test_hours_of_a_verdict_without_a_fault(verdict: Verdict, hours: float | None) -> None:
    """Where no fault names its hours, the verdict does; a watch is in no hurry."""
    job = from_meaning(msgspec.structs.replace(LOW, verdict=verdict), station="tub", by="K7", now=NOW, hours=None)
    assert job is not None
    assert job.hours == hours == HOURS.get(verdict)


def test_hours_of_a_fault_outrank_those_of_the_verdict() -> None:
    """Nought hours are hours: a fault that kills at once is not taken for one without hours."""
    job = from_meaning(LOW, station="tub", by="K7", now=NOW, hours=0)
    assert job is not None
    assert job.hours == 0


@pytest.mark.parametrize("verdict", ["today", "now", "stop"])
def test_a_flagged_finding_asks_an_adult_to_decide(verdict: Verdict) -> None:
    """Whoever flags it, an adult decides, today; the job leads back to the finding."""
    finding = flag(station="tub", seen="smell of burning", verdict=verdict, by="K7", now=NOW)
    job = from_finding(finding)
    assert job is not None
    assert (job.who, job.due, job.finding, job.verdict) == ("adult", NOW.date(), finding.key, verdict)
    assert job.what == "Decide what to do: smell of burning"
    assert job.recheck == finding.recheck_days


def test_a_finding_to_watch_makes_no_job() -> None:
    """It is only looked at again."""
    assert from_finding(flag(station="tub", seen="pale leaf", verdict="watch", by="K7", now=NOW)) is None


def test_graver_findings_are_handled_first() -> None:
    """Their jobs stand in the order of their verdicts."""
    jobs = [
        from_finding(flag(station="tub", seen=verdict, verdict=verdict, by="K7", now=NOW))
        for verdict in ("today", "stop", "now")
    ]
    assert [job.verdict for job in ordered(job for job in jobs if job)] == ["stop", "now", "today"]


def reading(key: str, quantity: str) -> Question:
    return Question(
        id=key,
        ask="How much?",
        kind="number",
        seconds=60,
        should=3,
        must=7,
        reading=Reading(quantity=quantity, possible=(0, 14), likely=(4, 9)),  # type: ignore[arg-type]
    )


def test_slow_questions_become_one_job() -> None:
    """It names what is measured, holds the questions, and is due today."""
    questions = [reading("ph", "pH"), reading("root-mass", "mass")]
    job = to_measure(questions, station="tub", who="pupil", by="AR", now=NOW, hours=None, why="It did not fit.")
    assert job.what == "Measure and write down: pH, root mass"
    assert (job.questions, job.due, job.why) == (("ph", "root-mass"), NOW.date(), "It did not fit.")


def test_the_same_is_not_asked_twice() -> None:
    """An open job of the same words at the same station stands for the new one; a closed one does not."""
    first = from_meaning(LOW, station="tub", by="K7", now=NOW, hours=30)
    assert first is not None
    second = msgspec.structs.replace(first, key="j2")
    elsewhere = msgspec.structs.replace(first, key="j3", station="film")
    assert already_asked([elsewhere, first], second) == first
    assert already_asked([elsewhere], second) is None
    assert already_asked([done(first, "AR", "adult", NOW)], second) is None


def a_step(when: Moment = "now", who: Who = "pupil", **more: object) -> ToDo:
    given: dict[str, object] = {"caution": "", "useful": 0.8, "causes": ("rust",), "recheck": 5}
    return ToDo(step="Take off the worst leaves", who=who, when=when, **(given | more))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("when", "days", "verdict"), [("now", 0, "today"), ("next", 1, "watch"), ("if it stays", 5, "watch")]
)
def test_a_step_of_a_lookup_becomes_a_job(when: Moment, days: int, verdict: str) -> None:
    """It is due today, tomorrow, or once it could have gone by itself; who, caution and recheck carry over."""
    step = a_step(when, "adult", caution="Cover cuts.")
    job = from_step(step, station="tub", by="K7", now=NOW, why="From a lookup.", finding="f1")
    assert (job.due - NOW.date()).days == days
    assert (job.verdict, job.who, job.caution, job.recheck) == (verdict, "adult", "Cover cuts.", 5)
    assert (job.what, job.station, job.by, job.why, job.finding) == (step.step, "tub", "K7", "From a lookup.", "f1")


def test_steps_stand_in_the_order_of_doing() -> None:
    """What is to be done now stands before what comes next, and that before what waits."""
    jobs = [from_step(a_step(when), station="tub", by="K7", now=NOW, why="") for when in ("if it stays", "next", "now")]
    assert [job.due for job in ordered(jobs)] == sorted(job.due for job in jobs)


def test_waiting_before_eating_stands_in_the_caution() -> None:
    """The days on which nothing is eaten stand beside the step, behind its own danger."""
    assert (
        caution_of(a_step(caution="Gloves.", wait_days=7))
        == "Gloves. Nothing from the plant is eaten for 7 days after this."
    )
    assert caution_of(a_step(wait_days=1)) == "Nothing from the plant is eaten for 1 day after this."
    assert caution_of(a_step(wait_days=0)) == caution_of(a_step()) == ""


def test_a_pesticide_is_never_a_pupils_job() -> None:
    """Even a step that was written down wrongly becomes an adult's job."""
    assert from_step(a_step(pesticide=True), station="tub", by="K7", now=NOW, why="").who == "adult"
    assert from_step(a_step(who="licensed", pesticide=True), station="tub", by="K7", now=NOW, why="").who == "licensed"


@pytest.mark.parametrize(("more", "treats"), [({"pesticide": True}, True), ({"wait_days": 0}, True), ({}, False)])
def test_a_step_that_puts_something_on_plants_makes_a_job_that_asks_for_the_wait(
    more: dict[str, object], treats: bool
) -> None:
    """Only such a job is marked, and it is never a pupil's."""
    job = from_step(a_step("now", "pupil", **more), station="tub", by="AR", now=NOW, why="From a lookup.")
    assert job.treats is treats
    assert job.who == ("adult" if treats else "pupil")
