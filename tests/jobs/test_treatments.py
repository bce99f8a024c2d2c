"""What is put on plants is written down by an adult, with the waiting times of its label."""

from datetime import UTC, date, datetime, timedelta

import pytest

from walkabout.jobs.life import NotAllowed
from walkabout.jobs.treatments import LONGEST, fill_in, hours_in, treat, treated, wait_in, waits_words
from walkabout.records.model import Job, Treatment
from walkabout.records.sums import edible_from

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
TODAY = NOW.date()


def soap(wait_days: int | None = 3, **more: object) -> Treatment:
    given: dict[str, object] = {"station": "shelf", "what": " potassium soap ", "entry_hours": 4, "role": "adult"}
    return treat(wait_days=wait_days, by="AR", now=NOW, **(given | more))  # type: ignore[arg-type]


def test_an_adult_writes_down_what_was_put_on() -> None:
    """With the day, the waiting times and a first line of history."""
    made = soap()
    assert (made.what, made.day, made.wait_days, made.entry_hours) == ("potassium soap", TODAY, 3, 4)
    assert edible_from(made) == date(2026, 11, 28)
    assert made.history[0].says == (
        "put on: potassium soap; 3 days until it may be eaten, 4 hours until it may be touched"
    )


def test_a_pupils_code_writes_down_no_treatment() -> None:
    """Neither the treatment nor its waiting time."""
    with pytest.raises(NotAllowed, match="Only an adult"):
        soap(role="pupil")
    with pytest.raises(NotAllowed, match="Only an adult"):
        fill_in(soap(None), 3, None, "K7", "pupil", NOW)


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"what": " "}, "Say what was put"),
        ({"what": "x" * 121}, "at most 120"),
        ({"wait_days": -1}, "from 0 to 730 days"),
        ({"wait_days": 731}, "from 0 to 730 days"),
        ({"entry_hours": float("inf")}, "from 0 to 720 hours"),
        ({"entry_hours": -1}, "from 0 to 720 hours"),
        ({"day": TODAY + timedelta(days=1)}, "still to come"),
    ],
)
def test_what_cannot_be_is_said_in_one_sentence(more: dict[str, object], says: str) -> None:
    """A ValueError that says what would be right."""
    with pytest.raises(ValueError, match=says):
        soap(**more)  # type: ignore[arg-type]


def test_a_waiting_time_that_nobody_knows_stays_open_until_it_is_filled_in() -> None:
    """None is kept; filling in gives it an end, and is told."""
    unknown = soap(None, entry_hours=None)
    assert edible_from(unknown) is None
    known = fill_in(unknown, 7, None, "AR", "adult", NOW)
    assert edible_from(known) == date(2026, 12, 2)
    assert known.history[-1].says == "filled in: 7 days until it may be eaten"


def test_a_waiting_time_on_record_is_never_shortened() -> None:
    """Longer is taken, shorter and the same are refused."""
    assert fill_in(soap(), 5, 6, "AR", "adult", NOW).wait_days == 5
    for days, hours, says in ((2, None, "never shortened"), (None, 1, "never shortened"), (3, 4, "Nothing about it")):
        with pytest.raises(ValueError, match=says):
            fill_in(soap(), days, hours, "AR", "adult", NOW)


def test_a_job_that_treats_leaves_a_treatment_of_its_station() -> None:
    """Its words are the name, cut where they are too long."""
    job = Job(key="j", what="w" * 300, station="tub", who="adult", due=TODAY, made=NOW, by="AR", treats=True)
    made = treated(job, None, None, "AR", "adult", NOW)
    assert (made.station, made.planting, made.wait_days, len(made.what)) == ("tub", "", None, LONGEST)


def test_waiting_times_as_typed() -> None:
    """Nothing is not known; whole days, hours with a point or comma; everything else is refused in a sentence."""
    assert (wait_in(""), wait_in(" 14 "), hours_in(""), hours_in("1,5")) == (None, 14, None, 1.5)
    for read, typed in ((wait_in, "1.5"), (wait_in, "-1"), (wait_in, "9999999999999"), (wait_in, "٣")):
        with pytest.raises(ValueError, match=r"^Type whole days from 0 to 730, or nothing"):
            read(typed)
    for typed in ("soon", "-1", "nan", "1e9"):
        with pytest.raises(ValueError, match=r"^Type hours from 0 to 720"):
            hours_in(typed)
    assert waits_words(1, 1) == "1 day until it may be eaten, 1 hour until it may be touched"
