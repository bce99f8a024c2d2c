from datetime import UTC, date, datetime, timedelta
from itertools import permutations

import msgspec
import pytest

from walkabout.jobs.life import NotAllowed, after, done, due, give_up, least_role, ordered, put_off, words_for
from walkabout.records.model import Finding, Job
from walkabout.room.model import WHO, Who

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
TODAY = NOW.date()


def job(key: str = "j1", **changes: object) -> Job:
    plain = Job(key=key, what="Top up the tub", station="tub", who="pupil", due=TODAY, made=NOW, by="K7", hours=48)
    return msgspec.structs.replace(plain, **changes)


def test_the_order_is_hours_to_loss_then_day_then_verdict() -> None:
    """What is lost soonest comes first, however late or grave the others are; no fault comes last."""
    wanted = [
        job("j5", hours=0, due=TODAY + timedelta(days=2)),
        job("j2", hours=4),
        job("j4", hours=24, due=TODAY - timedelta(days=1), verdict="watch"),
        job("j3", hours=24, verdict="now"),
        job("j1", hours=24, verdict="today"),
        job("j0", hours=None, due=TODAY - timedelta(days=9), verdict="stop"),
    ]
    for mixed in list(permutations(wanted))[::37]:
        assert [one.key for one in ordered(mixed)] == [one.key for one in wanted]


def test_jobs_alike_stand_in_the_order_they_were_made() -> None:
    """With all else equal the older job comes first, whatever its key."""
    older, newer = job("jz", made=NOW - timedelta(hours=1)), job("ja")
    assert ordered([newer, older]) == [older, newer]


def test_what_is_closed_or_not_due_is_left_out() -> None:
    """Due is what is open and due by the day, in order."""
    closed, later, now, late = (
        job("j1", closed=NOW),
        job("j2", due=TODAY + timedelta(days=1)),
        job("j3"),
        job("j4", due=TODAY - timedelta(days=3), hours=500),
    )
    assert due([closed, later, late, now], TODAY) == [now, late]
    assert due([closed, later, late, now], TODAY + timedelta(days=1)) == [now, later, late]


@pytest.mark.parametrize("least", WHO)
@pytest.mark.parametrize("role", WHO)
def test_only_who_may_do_it_can_end_or_move_a_job(least: Who, role: Who) -> None:
    """Done, given up and put off all ask for the role that the job asks for; the refusal says whose it is."""
    one = job(who=least)
    for what in (
        lambda: done(one, "AR", role, NOW),
        lambda: give_up(one, "AR", role, NOW, "no longer there"),
        lambda: put_off(one, TODAY + timedelta(days=1), "AR", role, NOW),
    ):
        if WHO.index(role) >= WHO.index(least):
            assert what().history[-1].by == "AR"
        else:
            with pytest.raises(NotAllowed, match="an adult" if least == "adult" else "a licensed person"):
                what()


def test_a_job_keeps_all_that_happened_to_it() -> None:
    """Every step adds a line to the history and takes none away; what the job was stays as it was."""
    first = put_off(job(), TODAY + timedelta(days=2), "K7", "pupil", NOW)
    second = put_off(first, TODAY + timedelta(days=5), "K7", "pupil", NOW + timedelta(days=2))
    last = done(second, "AR", "adult", NOW + timedelta(days=5))
    assert second.due == TODAY + timedelta(days=5)
    assert last.history[: len(second.history)] == second.history
    assert [one.says for one in last.history] == [
        "put off from 2026-11-25 to 2026-11-27",
        "put off from 2026-11-27 to 2026-11-30",
        "done",
    ]
    assert (last.closed, last.closed_by, last.reason) == (NOW + timedelta(days=5), "AR", "done")
    assert (last.what, last.by, last.made, last.hours) == (job().what, "K7", NOW, 48)


@pytest.mark.parametrize("reason", ["", "   ", "\n\t"])
def test_giving_up_needs_a_reason(reason: str) -> None:
    """A job is not closed undone without a word."""
    with pytest.raises(ValueError, match="reason"):
        give_up(job(), "AR", "adult", NOW, reason)


def test_the_reason_is_kept_as_typed() -> None:
    """Brackets are letters like others; blanks around the reason are not part of it."""
    closed = give_up(job(), "AR", "adult", NOW, "  half [/b] of it was [red]dry[/red] ")
    assert closed.reason == closed.history[-1].says == "half [/b] of it was [red]dry[/red]"


@pytest.mark.parametrize(("job_days", "finding_days", "wanted"), [(None, 3, 3), (1, 3, 1), (10, 1, 10)])
def test_after_a_job_its_finding_is_looked_at_again(job_days: int | None, finding_days: int, wanted: int) -> None:
    """The job's own days count, else the finding's; the finding stays open."""
    finding = Finding(
        key="f1", station="tub", seen="white spots", verdict="today", by="K7", at=NOW, recheck_days=finding_days
    )
    again = after(job(recheck=job_days), finding, date(2026, 12, 30))
    assert again.recheck == date(2026, 12, 30) + timedelta(days=wanted)
    assert again.closed is None
    assert again.history == finding.history


def test_roles_in_words_and_together() -> None:
    """A role is said in the words that stand beside a job; parts together ask for the highest."""
    assert [words_for(who) for who in WHO] == ["pupil", "adult", "licensed person"]
    assert least_role() == "pupil"
    assert least_role("pupil", "licensed", "adult") == "licensed"
