from datetime import UTC, datetime, timedelta

import msgspec
import pytest

from walkabout.checklist.model import Meaning, Question, Reading
from walkabout.jobs.findings import flag
from walkabout.jobs.life import done, ordered
from walkabout.jobs.make import HOURS, already_asked, from_finding, from_meaning, to_measure
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
