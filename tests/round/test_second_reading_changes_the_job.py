"""A second reading of the same fault asks for another amount: the open job changes, no second one is made."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import msgspec

from tests.round.amounts import FEED, WATER
from tests.round.school import School, number, open_jobs, to
from walkabout.checklist.model import Meaning, Question, Reading, Verdict
from walkabout.records.model import Answer, Finding, Job
from walkabout.room.model import Who
from walkabout.round.follow import follows
from walkabout.round.judge import Judgement

MONDAY = datetime(2026, 9, 14, 8, 0, tzinfo=UTC)
EC = Reading(quantity="EC", unit="mS/cm", possible=(0, 20), likely=(0.2, 4), of_crops=True, good=(1, 2), decimals=2)


class Tub:
    """One station with what is open there."""

    def __init__(self) -> None:
        self.findings: dict[str, Finding] = {}
        self.jobs: dict[str, Job] = {}
        self.now = MONDAY

    def looks(
        self, *jobs: str, who: Who = "adult", verdict: Verdict = "today", value: float | None = 0.5, days: int = 0,
        station: str = "tub", role: Who = "adult",
    ) -> list[Job]:  # fmt: skip
        """Answer a quarter of an hour later; return the jobs that were made or changed."""
        self.now += timedelta(minutes=15)
        answer = Answer(
            key=f"a-{self.now:%H%M}", round="r", at=self.now, walker="AR", station=station, question="ec", value=value
        )
        meanings = tuple(Meaning(verdict=verdict, why=f"{job}!", job=job, who=who, days=days) for job in jobs)
        asked = Question(id="ec", ask="What is the EC?", seconds=1, should=1, must=1)
        judged = Judgement(verdict, meanings)
        then = follows(answer, asked, judged, role, self.findings, self.jobs, self.now)
        self.findings |= {one.key: one for one in then.findings}
        self.jobs |= {one.key: one for one in then.jobs}
        return list(then.jobs)

    def open(self) -> list[str]:
        return [job.what for job in self.jobs.values() if job.closed is None]


def test_the_open_job_takes_the_new_amount() -> None:
    """Its key, maker and day stay; what, why and verdict are the new reading's, and its history says so."""
    tub = Tub()
    first = tub.looks("Add 420 mL")[0]
    second = tub.looks("Add 300 mL", verdict="now")[0]
    assert (second.key, second.made, second.by) == (first.key, first.made, first.by)
    assert (second.what, second.why, second.verdict) == ("Add 300 mL", "Add 300 mL!", "now")
    assert [one.says for one in second.history] == ["made", "reckoned anew: Add 300 mL"]
    assert len(tub.findings) == 1
    assert tub.open() == ["Add 300 mL"]


def test_the_same_amount_changes_nothing() -> None:
    """Reading the same once more adds no line to the history."""
    tub = Tub()
    tub.looks("Add 420 mL")
    assert tub.looks("Add 420 mL") == []
    assert tub.open() == ["Add 420 mL"]


def test_a_job_that_was_done_is_not_reckoned_anew() -> None:
    """After the dose the next reading makes a job of its own."""
    tub = Tub()
    first = tub.looks("Add 420 mL")[0]
    tub.jobs[first.key] = msgspec.structs.replace(first, closed=tub.now, closed_by="AR")
    second = tub.looks("Add 80 mL")[0]
    assert second.key != first.key
    assert tub.open() == ["Add 80 mL"]


def test_another_station_and_a_job_to_measure_stay() -> None:
    """Only the job behind the same finding changes."""
    tub = Tub()
    other = tub.looks("Add 100 mL", station="film")[0]
    measure = msgspec.structs.replace(other, key="j-measure", finding="", questions=("ph",), what="Measure: pH")
    tub.jobs[measure.key] = measure
    tub.looks("Add 420 mL")
    tub.looks("Add 300 mL")
    assert tub.open() == ["Add 100 mL", "Measure: pH", "Add 300 mL"]


def test_what_was_picked_and_not_measured_makes_a_second_job() -> None:
    """Two choices ask for two things; there is no amount to put right."""
    tub = Tub()
    tub.looks("Wipe the leaves", value=None)
    tub.looks("Open the lid", value=None)
    assert tub.open() == ["Wipe the leaves", "Open the lid"]


def test_all_well_by_an_adult_ends_the_job() -> None:
    """A reading that is as it should be leaves no old amount to be poured."""
    tub = Tub()
    tub.looks("Add 420 mL")
    tub.looks(verdict="good")
    assert tub.open() == []


def test_too_strong_after_too_weak_leaves_one_job() -> None:
    """'Add 420 mL' for an adult is not left open when the tank is now to be thinned by a pupil."""
    tub = Tub()
    tub.looks("Add 420 mL", who="adult")
    tub.looks("Take out 30 L", who="pupil")
    assert tub.open() == ["Take out 30 L"]


def test_a_graver_reading_is_due_sooner() -> None:
    """What was for Thursday and is an alarm now is due today, and comes before the rest."""
    tub = Tub()
    first = tub.looks("Bring more light", days=3)[0]
    second = tub.looks("Bring much more light", verdict="now")[0]
    assert first.due > MONDAY.date()
    assert second.due == MONDAY.date()
    assert second.hours is not None
    assert first.hours is not None
    assert second.hours < first.hours


def test_on_the_round_the_next_day(tmp_path: Path) -> None:
    """The tank read weak on two days running: one finding, one job, with Tuesday's amount."""
    ours = School(tmp_path / "room", ("tub",), more=WATER + FEED)
    ours.only("raft", number("ec", EC, should=1, must=1))
    to(ours.begin(), "tub", "ec").number(0.5)
    ours.tomorrow()
    to(ours.begin(), "tub", "ec").number(0.7)
    jobs = open_jobs(ours.room)
    assert [job.what[:10] for job in jobs] == ["Add 300 mL"]
    assert [one.says[:12] for one in jobs[0].history] == ["made", "reckoned ane"]
    assert len(ours.again().jobs) == 1, "on disk as well"
