"""What a lookup leaves behind: a finding with its signs, jobs with who and caution, and the look that comes back."""

from pathlib import Path

import msgspec
import pytest

from tests.round.school import School, open_jobs
from walkabout.jobs.findings import look_again
from walkabout.jobs.life import due
from walkabout.records.book import NotSaved
from walkabout.round.endings import finish
from walkabout.round.lookup import Lookup
from walkabout.round.lookup_jobs import for_today, keep_finding, make_jobs, offered, seen_words, why
from walkabout.round.lookup_start import at_station


@pytest.fixture
def school(tmp_path: Path) -> School:
    return School(tmp_path / "room", ["tub", "pots"])


def mildew(school: School, walker: str = "K7") -> Lookup:
    lookup = at_station(school.room, "pots", walker)
    lookup.say("white powder on the leaves that rubs off")
    assert lookup.answer().causes[0].key == "powdery-mildew"
    return lookup


def test_a_finding_has_the_signs_and_their_words(school: School) -> None:
    """Keys of what is there, not of what is not; the words of the signs; grave ones get the job that asks an adult."""
    lookup = mildew(school)
    lookup.say("fine webs", deny=True)
    kept = keep_finding(school.room, lookup, "pots", "K7", "today")
    assert kept.finding.signs == ("white-powder",)
    assert kept.finding.seen == "white powder that rubs off"
    assert (kept.finding.station, kept.finding.by, kept.unsaved) == ("pots", "K7", "")
    assert kept.job is not None
    assert kept.job.who == "adult"
    assert school.again().findings[kept.finding.key] == kept.finding


def test_many_signs_are_said_in_short(school: School) -> None:
    """A question that looks again must fit: three signs are named, the others counted."""
    lookup = at_station(school.room, "pots", "K7")
    for key in list(lookup.ready.known.signs)[:5]:
        lookup.set_sign(key, present=True)
    assert seen_words(lookup).endswith(", and 2 more")
    assert len(keep_finding(school.room, lookup, "", "K7", "watch").finding.signs) == 5


def test_nothing_seen_leaves_nothing_behind(school: School) -> None:
    """Readings alone are no finding."""
    lookup = at_station(school.room, "pots", "K7")
    with pytest.raises(ValueError, match="Say what is seen first"):
        keep_finding(school.room, lookup, "pots", "K7", "watch")
    with pytest.raises(ValueError, match="Say what is seen first"):
        make_jobs(school.room, lookup, lookup.answer().do, "pots", "K7")
    assert school.room.findings == {}


def test_steps_become_jobs_together_with_their_finding(school: School) -> None:
    """Each has who, caution and days to the next look; all are on disk, with the finding they belong to."""
    lookup = mildew(school)
    steps = lookup.answer().do
    made = make_jobs(school.room, lookup, steps, "pots", "AR")
    assert [job.what for job in made.jobs] == [one.step for one in steps]
    assert [job.who for job in made.jobs] == [one.who for one in steps]
    assert made.finding is not None
    assert {job.finding for job in made.jobs} == {made.finding.key}
    assert all(job.recheck == one.recheck for job, one in zip(made.jobs, steps, strict=True))
    again = school.again()
    assert {job.key for job in open_jobs(again)} == {job.key for job in made.jobs}
    assert again.findings[made.finding.key] == made.finding
    assert made.says == f"{len(steps)} jobs written down."


def test_a_list_keeps_the_order_of_the_plan(school: School) -> None:
    """Among jobs that are due the same day the first step stands first."""
    lookup = mildew(school)
    steps = [one for one in lookup.answer().do if one.when == "now"]
    assert len(steps) > 2
    make_jobs(school.room, lookup, steps, "pots", "AR")
    assert [job.what for job in due(school.again().jobs.values(), school.now.date())] == [one.step for one in steps]


def test_a_pupil_asks_for_no_licensed_step(school: School) -> None:
    """What kills, what is licensed and what waits is offered to adults only, and refused from anybody else."""
    do = mildew(school).answer().do
    step = do[0]
    waits = msgspec.structs.replace(step, when="if it stays")
    kills = msgspec.structs.replace(step, who="adult", pesticide=True)
    licensed = msgspec.structs.replace(step, who="licensed")
    every = (step, waits, kills, licensed)
    assert offered(every, "pupil") == (step,)
    assert offered(every, "adult") == offered(every, "licensed") == every
    assert for_today(every, "licensed") == (step, licensed)
    assert for_today(every, "adult") == (step,)
    assert for_today((msgspec.structs.replace(step, who="adult"),), "pupil") == ()
    for one in (waits, kills, licensed):
        with pytest.raises(ValueError, match="an adult's to ask for"):
            make_jobs(school.room, mildew(school), [step, one], "pots", "K7")
    assert (school.room.jobs, school.room.findings) == ({}, {})


def test_a_photograph_is_asked_for_once(school: School) -> None:
    """Done already for this finding, it is not asked for again; another step is."""
    lookup = mildew(school)
    photograph = next(one for one in lookup.answer().do if one.use == "photograph")
    other = next(one for one in lookup.answer().do if one.use not in ("photograph", "wash-hands"))
    made = make_jobs(school.room, lookup, [photograph, other], "pots", "AR")
    for job in made.jobs:
        school.room.save(*finish(school.room, job, "AR", school.now).records)
    again = make_jobs(school.room, lookup, [photograph, other], "pots", "AR", finding=made.finding)
    assert [job.what for job in again.jobs] == [other.step]
    assert [job.what for job in again.before] == [photograph.step]


def test_done_jobs_bring_the_finding_back_in_the_round(school: School) -> None:
    """After the recheck days of the step, the round asks for the signs again."""
    lookup = mildew(school)
    step = next(one for one in lookup.answer().do if one.who == "pupil")
    made = make_jobs(school.room, lookup, [step], "pots", "K7")
    ending = finish(school.room, made.jobs[0], "K7", school.now)
    school.room.save(*ending.records)
    assert made.finding is not None
    finding = school.room.findings[made.finding.key]
    assert finding.recheck is not None
    assert (finding.recheck - school.now.date()).days == step.recheck
    school.go_to(finding.recheck)
    asked = [one.question.id for one in school.plan("AR").asked]
    assert look_again(finding).id in asked


def test_the_same_is_not_asked_twice(school: School) -> None:
    """An open job with the same words at the station is kept, and no second finding is opened for the same signs."""
    lookup = mildew(school)
    first, second = lookup.answer().do[:2]
    make_jobs(school.room, lookup, [first], "pots", "K7")
    made = make_jobs(school.room, lookup, [first, second, second], "pots", "AR")
    assert [job.what for job in made.jobs] == [second.step]
    assert [job.what for job in made.before] == [first.step]
    assert made.says == "One job written down. One was asked for already."
    assert len(school.room.findings) == 1
    none = make_jobs(school.room, lookup, [first], "pots", "AR")
    assert (none.jobs, none.finding, none.says) == ((), None, "No new job. One was asked for already.")
    elsewhere = make_jobs(school.room, lookup, [first], "tub", "AR")
    assert len(elsewhere.jobs) == 1


def test_jobs_belong_to_the_finding_that_was_looked_up(school: School) -> None:
    """A finding that is given is taken; one that was closed meanwhile is not."""
    lookup = mildew(school)
    kept = keep_finding(school.room, lookup, "pots", "K7", "watch").finding
    other = at_station(school.room, "pots", "K7")
    other.say("sticky leaves")
    made = make_jobs(school.room, other, other.answer().do[:1], "pots", "K7", finding=kept)
    assert made.finding == kept
    assert len(school.room.findings) == 1


def test_what_a_job_is_for_is_said_with_how_likely_it_is(school: School) -> None:
    """Never as certain: each cause stands with its word."""
    lookup = mildew(school)
    step = next(one for one in lookup.answer().do if one.causes[0] == "powdery-mildew" and len(one.causes) == 1)
    word = lookup.answer().causes[0].word
    assert word in ("likely", "possible")
    assert why(lookup, step) == f"From a lookup: {word} powdery mildew."


def test_a_disk_that_is_full_is_said(school: School, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is only in memory is kept there and said."""

    def full(_: object) -> None:
        raise NotSaved("the disk is full")

    monkeypatch.setattr(school.room.records, "save", full)
    lookup = mildew(school)
    made = make_jobs(school.room, lookup, lookup.answer().do[:1], "pots", "K7")
    assert made.unsaved == "the disk is full"
    assert made.jobs[0].key in school.room.jobs


def test_no_pupil_is_ever_given_a_pesticide(school: School) -> None:
    """Of every cause in the knowledge, no step that kills becomes a pupil's job."""
    lookup = mildew(school)
    known = lookup.ready.known
    steps = [known.step(step) for cause in (*known.causes.values(), *known.reasons.values()) for step in cause.do]
    assert [step.step for step in steps if step.pesticide and step.who == "pupil"] == []
    assert any(step.pesticide for step in steps)
