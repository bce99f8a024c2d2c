"""Plantings are sown, brought in, moved, split and ended; nothing is lost on the way."""

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from walkabout.growing.crops import load
from walkabout.jobs.findings import LOOK_AGAIN, due_again
from walkabout.jobs.newcomers import look_at_newcomers, reminders_after, reminds_of_newcomers
from walkabout.jobs.plantings import (
    as_of,
    bring_in,
    count_in,
    day_in,
    end,
    in_words,
    move,
    offered,
    sow,
)
from walkabout.records.model import Answer, Planting
from walkabout.round.follow import follows
from walkabout.round.judge import Judgement

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
TODAY = NOW.date()


def twelve(sown: date = date(2026, 11, 1)) -> Planting:
    return sow(crop="basil", station="shelf", count=12, sown=sown, by="AR", now=NOW, label=" B1 ")


def test_sowing_says_where_when_and_by_whom() -> None:
    """A sowing stands at its station from the day of sowing, with a first line of history."""
    made = twelve()
    assert (made.station, made.count, made.label, made.brought_in) == ("shelf", 12, "B1", False)
    assert [(one.day, one.by) for one in made.moves] == [(date(2026, 11, 1), "AR")]
    assert made.history[0].says == "sown: 12"


@pytest.mark.parametrize(
    ("crop", "count", "sown", "says"),
    [
        (" ", 1, TODAY, "Name the crop"),
        ("basil", 0, TODAY, "from 1 to 10000"),
        ("basil", 10_001, TODAY, "from 1 to 10000"),
        ("basil", 1, TODAY + timedelta(days=1), "still to come"),
        ("basil", 1, date(1926, 1, 1), "50 years"),
    ],
)
def test_what_cannot_be_sown_is_said_in_one_sentence(crop: str, count: int, sown: date, says: str) -> None:
    """No crop, no plants, too many, or a day that cannot be: a ValueError that says which."""
    with pytest.raises(ValueError, match=says):
        sow(crop=crop, station="shelf", count=count, sown=sown, by="AR", now=NOW)


def test_what_is_brought_in_stands_apart_and_is_looked_at_each_week() -> None:
    """Plants from outside stand apart for 28 days; a look by a pupil falls due after a week."""
    planting, reminder = bring_in(
        crop="basil", station="shelf", count=3, sown=date(2026, 9, 1), by="AR", now=NOW, label="new"
    )
    assert planting.apart_until == date(2026, 12, 23)
    assert planting.moves[0].day == TODAY
    assert reminds_of_newcomers(reminder)
    assert (reminder.who, reminder.planting, reminder.station) == ("pupil", planting.key, "shelf")
    assert due_again([reminder], TODAY + timedelta(days=6)) == []
    assert due_again([reminder], TODAY + timedelta(days=7)) == [reminder]


def test_clean_looks_end_the_reminder_when_the_time_is_over() -> None:
    """Three clean looks leave it open for another week each; the one on day 28 closes it."""
    planting, reminder = bring_in(crop="basil", station="shelf", count=3, sown=TODAY, by="AR", now=NOW)
    states = []
    for week in range(1, 5):
        moment = NOW + timedelta(days=7 * week)
        question = look_at_newcomers(reminder, LOOK_AGAIN + reminder.key)
        clean = question.choices[0]
        judged = Judgement(clean.verdict, (clean,) if clean.verdict != "good" else ())
        answer = _answer(question.id, moment, planting.station)
        then = follows(answer, question, judged, "pupil", {reminder.key: reminder}, {}, moment)
        (reminder,) = then.findings
        states.append(reminder.closed is None)
    assert states == [True, True, True, False]
    assert reminder.closed == NOW + timedelta(days=28)


def test_pests_on_new_plants_ask_for_an_adult_and_never_for_a_spray() -> None:
    """A look that finds pests is for today, tells an adult, and forbids spraying."""
    _, reminder = bring_in(crop="basil", station="shelf", count=3, sown=TODAY, by="AR", now=NOW)
    found = look_at_newcomers(reminder, "x").choices[1]
    assert found.verdict == "today"
    assert "tell an adult" in found.do
    assert "Nothing is sprayed" in found.caution


@given(count=st.integers(1, 12))
def test_moving_a_part_splits_and_loses_no_plant(count: int) -> None:
    """What stays and what goes add up, both keep their past, and only the part stands elsewhere."""
    before = twelve()
    after = move(before, "tub", count, "K7", NOW)
    assert sum(one.count for one in after) == 12
    assert after[-1].station == "tub"
    assert after[-1].moves[: len(before.moves)] == before.moves
    assert all(one.history[0] == before.history[0] for one in after)
    assert after[0].key == before.key
    if count < 12:
        assert (after[0].station, len({one.key for one in after})) == ("shelf", 2)


@given(count=st.integers(1, 12))
def test_ending_a_part_keeps_both(count: int) -> None:
    """What ended stays on record with how and why; the rest grows on under its own key."""
    before = twelve()
    after = end(before, "harvested", "310 g", count, "K7", NOW)
    assert sum(one.count for one in after) == 12
    assert (after[-1].ended, after[-1].reason, after[-1].count) == (TODAY, "harvested: 310 g", count)
    assert after[0].key == before.key
    if count < 12:
        assert after[0].ended is None
        assert f"{count} of 12" in after[0].history[-1].says


def test_what_cannot_be_moved_or_ended_is_refused() -> None:
    """A count that is not there, the same station, an ended planting, an end without a word for 'other'."""
    here = twelve()
    (gone,) = end(here, "died", "", 12, "AR", NOW)
    assert gone.reason == "died"
    for wrong, says in (
        (lambda: move(here, "tub", 13, "AR", NOW), "from 1 to 12"),
        (lambda: move(here, "shelf", 1, "AR", NOW), "already"),
        (lambda: move(gone, "tub", 1, "AR", NOW), "has ended"),
        (lambda: end(here, "other", " ", 1, "AR", NOW), "few words"),
        (lambda: end(here, "eaten", "", 1, "AR", NOW), "one of these ways"),
    ):
        with pytest.raises(ValueError, match=says):
            wrong()


def test_the_reminder_follows_its_plants() -> None:
    """It moves with the whole, is doubled when a part moves, and closes when the planting ends."""
    planting, reminder = bring_in(crop="basil", station="shelf", count=3, sown=TODAY, by="AR", now=NOW)
    (whole,) = reminders_after(reminder, move(planting, "tub", 3, "AR", NOW), "AR", NOW)
    assert (whole.key, whole.station) == (reminder.key, "tub")
    parts = move(planting, "tub", 1, "AR", NOW)
    (part,) = reminders_after(reminder, parts, "AR", NOW)
    assert (part.planting, part.station) == (parts[1].key, "tub")
    assert reminds_of_newcomers(part)
    (closed,) = reminders_after(reminder, end(planting, "died", "", 3, "AR", NOW), "AR", NOW)
    assert (closed.closed, closed.recheck) == (NOW, None)


def test_looking_back_shows_each_planting_where_it_stood() -> None:
    """On a day between sowing and moving the whole stands at the first station; before it there is nothing."""
    halves = move(twelve(), "tub", 5, "AR", NOW)
    assert as_of(halves, date(2026, 10, 31)) == []
    then = as_of(halves, date(2026, 11, 10))
    assert {one.station for one in then} == {"shelf"}
    assert sum(one.count for one in then) == 12
    (ended,) = end(halves[1], "died", "", 5, "AR", NOW)
    assert as_of([ended], TODAY) == []
    assert as_of([ended], TODAY - timedelta(days=1))[0].ended is None


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("", TODAY),
        ("Yesterday", date(2026, 11, 24)),
        ("3 days ago", date(2026, 11, 22)),
        ("2 weeks ago", date(2026, 11, 11)),
        ("2026-11-20", date(2026, 11, 20)),
    ],
)
def test_days_as_people_type_them(typed: str, day: date) -> None:
    """Nothing is today; words and dates are both read."""
    assert day_in(typed, TODAY) == day


@pytest.mark.parametrize("typed", ["2026-11-26", "2026-13-01", "soon", "[/b]", "999999 days ago", "3", "-1 days ago"])
def test_days_that_cannot_be(typed: str) -> None:
    """Each is refused with a sentence."""
    with pytest.raises(ValueError, match=r"\.$"):
        day_in(typed, TODAY)


@pytest.mark.parametrize("typed", ["0", "13", "", "-1", "1.5", "1e3", "٣", "99999999999"])
def test_counts_that_cannot_be(typed: str) -> None:
    """Only a whole number within what is there is a count."""
    with pytest.raises(ValueError, match="whole number from 1 to 12"):
        count_in(typed, 12)


@pytest.mark.parametrize(
    ("typed", "first"), [("toms", "tomato"), ("cuke", "cucumber"), ("Cilantro", "coriander"), ("ba", "basil")]
)
def test_the_crop_that_is_meant_is_offered_first(typed: str, first: str) -> None:
    """Short and other names, and two letters, lead to the crop."""
    assert offered(load(), typed)[0].key == first


def test_nothing_typed_offers_every_crop() -> None:
    """The whole table, by name."""
    names = [one.name.casefold() for one in offered(load(), "  ")]
    assert len(names) == len(load())
    assert names == sorted(names)


def test_a_planting_in_words() -> None:
    """Count, crop, variety and age; a crop that is not in the table keeps its typed name."""
    assert in_words(twelve(TODAY - timedelta(days=1)), load(), TODAY) == "12 basil, 1 day"
    odd = sow(crop="[/b] plant", station="x", count=2, sown=TODAY, by="", now=NOW, variety="red")
    assert in_words(odd, load(), TODAY) == "2 [/b] plant 'red', 0 days"


def _answer(question: str, at: datetime, station: str) -> Answer:
    return Answer(key="a1", round="r1", at=at, walker="K7", station=station, question=question, choices=("clean",))
