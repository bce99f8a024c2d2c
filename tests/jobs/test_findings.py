from datetime import UTC, datetime, timedelta

import pytest

from walkabout.jobs.findings import (
    LOOK_AGAIN,
    RECHECK_DAYS,
    cause_words,
    clear,
    close,
    confirm_cause,
    due_again,
    flag,
    look_again,
    open_at,
    seen_again,
    still_open,
    take_back_cause,
)
from walkabout.jobs.life import NotAllowed
from walkabout.records.model import Finding, Verdict

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
LATER = NOW + timedelta(days=3)


def flagged(verdict: Verdict = "watch", seen: str = "white spots", at: datetime = NOW) -> Finding:
    return flag(station="tub", seen=seen, verdict=verdict, by="K7", now=at)


@pytest.mark.parametrize(
    ("verdict", "who", "days"),
    [("watch", "pupil", 3), ("today", "pupil", 1), ("now", "adult", 1), ("stop", "adult", 1)],
)
def test_a_flagged_finding(verdict: Verdict, who: str, days: int) -> None:
    """The graver, the sooner it is looked at again; what is grave can only be closed by an adult."""
    one = flagged(verdict)
    assert (one.who, one.recheck, one.recheck_days) == (who, NOW.date() + timedelta(days=days), days)
    assert RECHECK_DAYS[verdict] == days
    assert (one.closed, one.by, one.history[0].by) == (None, "K7", "K7")


@pytest.mark.parametrize("seen", ["", "  ", "\n"])
def test_nothing_seen_is_no_finding(seen: str) -> None:
    """A finding says what is seen."""
    with pytest.raises(ValueError, match="what is seen"):
        flagged(seen=seen)


def test_what_was_typed_is_kept_as_typed() -> None:
    """Brackets are letters like others."""
    one = flagged(seen=" [/ half [/b] open ")
    assert one.seen == "[/ half [/b] open"
    assert one.history[0].says == "flagged: [/ half [/b] open"


def test_open_findings_stand_oldest_first_without_the_closed_ones() -> None:
    """Closed findings are left out, never taken away."""
    old, new = flagged(at=NOW - timedelta(days=5)), flagged()
    shut = close(flagged(), "AR", "adult", LATER, "dust")
    assert still_open([new, shut, old]) == [old, new]
    assert due_again([new, shut, old], NOW.date()) == [old]
    assert due_again([new, shut, old], LATER.date()) == [old, new]


def test_the_open_finding_of_a_question() -> None:
    """A question finds what it raised at its station, and nothing that is closed or stands elsewhere."""
    raised = Finding(key="f1", station="tub", seen="low", verdict="today", by="K7", at=NOW, question="level")
    assert open_at([flagged(), raised], "tub", "level") == raised
    assert open_at([raised], "film", "level") is None
    assert open_at([close(raised, "AR", "adult", NOW, "topped up")], "tub", "level") is None


def test_seen_again_moves_the_next_look_on() -> None:
    """It stays open, with one more line and a new day."""
    again = seen_again(flagged("today"), "AR", LATER, "still there")
    assert (again.closed, again.recheck) == (None, LATER.date() + timedelta(days=1))
    assert [one.says for one in again.history] == ["flagged: white spots", "still there"]


@pytest.mark.parametrize("verdict", ["watch", "today"])
def test_a_pupil_clears_what_a_pupil_may_close(verdict: Verdict) -> None:
    """Gone means closed, with the look as its reason."""
    gone = clear(flagged(verdict), "K7", "pupil", LATER, "looked at again: gone")
    assert (gone.closed, gone.recheck, gone.reason) == (LATER, None, "looked at again: gone")


@pytest.mark.parametrize("verdict", ["now", "stop"])
def test_what_is_grave_waits_for_an_adult(verdict: Verdict) -> None:
    """A pupil's look is written down, but the finding stays open and is due at once; an adult closes it."""
    waits = clear(flagged(verdict), "K7", "pupil", LATER, "gone")
    assert (waits.closed, waits.recheck) == (None, LATER.date())
    assert "waits for an adult" in waits.history[-1].says
    with pytest.raises(NotAllowed, match="adult"):
        close(waits, "K7", "pupil", LATER, "gone")
    shut = clear(waits, "AR", "adult", LATER, "gone")
    assert shut.closed == LATER
    assert len(shut.history) == 3


@pytest.mark.parametrize("reason", ["", " \n"])
def test_closing_needs_a_reason(reason: str) -> None:
    """A finding is not closed without a word."""
    with pytest.raises(ValueError, match="reason"):
        close(flagged(), "AR", "adult", NOW, reason)


def test_the_question_that_looks_again() -> None:
    """It leads back to the finding, asks no more of the walker than to look, and never raises a new alarm."""
    for verdict in ("watch", "today", "now", "stop"):
        one = flagged(verdict)
        question = look_again(one)
        assert question.id == LOOK_AGAIN + one.key
        assert one.seen in question.ask
        assert question.choices[0].verdict == "good"
        assert {choice.verdict for choice in question.choices} <= {"good", "watch", "today"}
        assert next(choice for choice in question.choices if choice.id == "worse").job


def test_an_adult_confirms_what_a_finding_was_and_takes_it_back() -> None:
    """The cause, who confirmed it and a line in the history are written down, open or closed; and taken back."""
    for one in (flagged(), close(flagged(), "AR", "adult", NOW, "gone")):
        named = confirm_cause(one, "powdery-mildew", "powdery mildew", "AR", "adult", LATER)
        assert (named.cause, named.cause_by, named.closed) == ("powdery-mildew", "AR", one.closed)
        assert named.history[-1].says == "cause confirmed: powdery mildew"
        assert cause_words(named) == "powdery mildew"
        without = take_back_cause(named, "AR", "licensed", LATER)
        assert (without.cause, without.cause_by, cause_words(without)) == ("", "", "")
        assert without.history[-1].says == "cause taken back: powdery mildew"
        with pytest.raises(ValueError, match="No cause is confirmed"):
            take_back_cause(without, "AR", "adult", LATER)


def test_the_last_confirmed_cause_counts() -> None:
    """A second cause takes the place of the first; both lines stay in the history."""
    first = confirm_cause(flagged(), "rust", "rust", "AR", "adult", NOW)
    second = confirm_cause(first, "aphids", "aphids, greenfly", "BO", "adult", LATER)
    assert (second.cause, second.cause_by, cause_words(second)) == ("aphids", "BO", "aphids, greenfly")
    assert [one.says for one in second.history[-2:]] == ["cause confirmed: rust", "cause confirmed: aphids, greenfly"]


def test_a_pupil_confirms_no_cause() -> None:
    """What the lookup learns from is an adult's to say."""
    with pytest.raises(NotAllowed, match="Only an adult"):
        confirm_cause(flagged(), "rust", "rust", "K7", "pupil", NOW)
    with pytest.raises(NotAllowed, match="Only an adult"):
        take_back_cause(confirm_cause(flagged(), "rust", "rust", "AR", "adult", NOW), "K7", "pupil", NOW)
