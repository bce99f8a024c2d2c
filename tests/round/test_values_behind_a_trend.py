"""The answers behind a trend as rows: all of them, the newest first, with what is to be known of each."""

from datetime import timedelta
from pathlib import Path

import msgspec
import pytest

from tests.round.school import School
from walkabout.records.model_measured import Hour
from walkabout.round.logged import logged_id
from walkabout.round.trends import series_of
from walkabout.round.values import Valued, values_of


@pytest.fixture
def school(tmp_path: Path) -> School:
    return School(tmp_path / "room", ("tub", "film", "vine"))


def values(school: School, station: str, question: str, days: int = 60) -> tuple[Valued, ...]:
    """Return the values of the last days."""
    since = school.room.today() - timedelta(days=days)
    return values_of(school.room, series_of(school.room, station, question, since), station, question, since)


def test_the_newest_comes_first_and_none_from_before_the_span(school: School) -> None:
    """Each look is a row with its number, unit and verdict; what is older than the span is not listed."""
    for back, value in ((70, 5.0), (3, 5.7), (2, 6.8), (1, 5.9)):
        school.written("tub", "ph", back, value=value, unit="pH", verdict="good" if value < 6.5 else "today",
                       why="It is above 6.2.")  # fmt: skip
    rows = values(school, "tub", "ph")

    assert [(one.says, one.verdict) for one in rows] == [("pH 5.9", "good"), ("pH 6.8", "today"), ("pH 5.7", "good")]
    assert [one.notes for one in rows] == [(), ("It is above 6.2.",), ()]
    assert rows[0].at > rows[1].at > rows[2].at


def test_a_correction_stands_in_the_place_of_what_it_put_right(school: School) -> None:
    """One row, not two: the right value, with who put it right, why, and what it was, the newest change first."""
    old = school.written("tub", "ph", 2, value=8.5, unit="pH")
    first = msgspec.structs.replace(old, key="a-x1", value=5.8, walker="BO", replaces=old.key, reason="a slip")
    school.room.save(first)
    school.room.save(
        msgspec.structs.replace(first, key="a-x2", value=5.6, walker="K7", replaces=first.key, reason="read again.")
    )
    (row,) = values(school, "tub", "ph")

    assert row.says == "pH 5.6"
    assert row.notes == ("Put right by K7: read again. It was pH 5.8.", "Put right by BO: a slip. It was pH 8.5.")


def test_a_reading_that_the_line_leaves_out_is_listed_as_doubtful(school: School) -> None:
    """What a meter that failed its check has read is not on the line; here it stands, and says why it is not."""
    school.written("tub", "ph", 3, value=5.8, unit="pH")
    school.written("tub", "ph", 2, value=4.1, unit="pH", doubtful="The meter had failed its check.")
    doubtful, trusted = values(school, "tub", "ph")

    assert doubtful.says == "pH 4.1"
    assert doubtful.notes == ("Doubtful, left out of the line: The meter had failed its check.",)
    assert trusted.notes == ()


def test_what_was_read_at_another_station_on_the_tank_says_where(school: School) -> None:
    """Stations on one tank share its readings; a row that was read elsewhere names the place."""
    school.written("film", "ph", 2, value=5.8, unit="pH")
    school.written("vine", "ph", 1, value=5.9, unit="pH")
    rows = values(school, "vine", "ph")

    assert [one.notes for one in rows] == [(), ("Read at The film.",)]


def test_picked_answers_and_looks_that_did_not_happen_are_rows(school: School) -> None:
    """A scored answer is in its words; 'not looked' is a row of its own, with no verdict that would be good."""
    question = school.room.question("tub", "level")
    assert question is not None
    school.written("tub", "level", 2, choices=[question.choices[0].id], note="by torchlight")
    school.written("tub", "level", 1, state="not looked", verdict="")
    missed, seen = values(school, "tub", "level")

    assert (missed.says, missed.verdict) == ("not looked", "not looked")
    assert (seen.says, seen.verdict, seen.notes) == (question.choices[0].says, "good", ('Note: "by torchlight"',))


def test_years_ago_is_read_from_the_files(school: School) -> None:
    """A span longer than what is kept at hand lists the answers of then too, corrections in their place."""
    old = school.written("tub", "ph", 800, value=5.5, unit="pH")
    school.room.save(msgspec.structs.replace(old, key="a-x", value=5.6, replaces=old.key, reason="a slip"))
    school.written("tub", "ph", 1, value=5.9, unit="pH")
    school.again()

    assert [one.says for one in values(school, "tub", "ph", 3000)] == ["pH 5.9", "pH 5.6"]
    assert [one.says for one in values(school, "tub", "ph")] == ["pH 5.9"]


def test_of_a_logger_the_hours_are_rows(school: School) -> None:
    """Where nobody answered anything the points are listed: the mean of the hour, its lowest and its highest."""
    start = school.now.replace(minute=0) - timedelta(days=2)
    for at in range(3):
        school.room.records.save(
            Hour(key=f"h{at}", station="tub", quantity="air temperature", start=start + timedelta(hours=at), n=6,
                 mean=20.0 + at, low=19.5 + at, high=21.0 + at, unit="°C")
        )  # fmt: skip
    rows = values(school, "tub", logged_id("air temperature"))

    assert [one.says for one in rows] == ["22.0 °C", "21.0 °C", "20.0 °C"]
    assert rows[0].notes == ("Lowest 21.5 °C, highest 23.0 °C.",)
    assert {one.verdict for one in rows} == {""}
