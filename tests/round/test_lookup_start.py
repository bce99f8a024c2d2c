"""What a lookup knows before anybody types: crop, age and readings of a station, and what was confirmed in the room."""

from datetime import timedelta
from pathlib import Path

import pytest

from tests.round.school import MONDAY, School
from walkabout.jobs.findings import close, confirm_cause, flag
from walkabout.jobs.life import done
from walkabout.records.model import Job, Move, Planting
from walkabout.round.lookup_start import at_station, crops_here, filled_in, recent


@pytest.fixture
def school(tmp_path: Path) -> School:
    return School(tmp_path / "room", ["tub", "pots", "shelf"])


def test_crop_and_age_are_filled_in(school: School) -> None:
    """A young planting gives its crop, the days since sowing, and counts as a seedling; no move is made up."""
    lookup = at_station(school.room, "tub", "K7")
    assert (lookup.crop, lookup.also, lookup.by) == ("raft-lettuce", ("seedling",), "pupil")
    assert lookup.readings == {"month": 9, "sown": 14}


def test_an_older_plant_is_no_seedling(school: School) -> None:
    """From three weeks on it counts as grown."""
    school.go_to(MONDAY + timedelta(days=7))
    assert at_station(school.room, "tub", "K7").also == ()


def test_the_last_move_and_bringing_in_are_known(school: School) -> None:
    """Days since the last move count from the move, for plants that were brought in from the first day here."""
    sown = MONDAY - timedelta(days=90)
    moves = (Move(day=sown, station="shelf"), Move(day=MONDAY - timedelta(days=4), station="tub"))
    school.room.save(Planting(key="p-m", crop="basil", sown=sown, count=90, moves=moves))
    lookup = at_station(school.room, "tub", "K7")
    assert (lookup.crop, lookup.also, lookup.readings["moved"], lookup.readings["sown"]) == ("basil", (), 4, 90)
    brought = Planting(key="p-b", crop="geranium", sown=sown, count=99, moves=(moves[1],), brought_in=True)
    school.room.save(brought)
    assert at_station(school.room, "tub", "K7", crop="geranium").readings["moved"] == 4


def test_with_several_crops_the_largest_is_taken_or_the_one_that_is_named(school: School) -> None:
    """Plants are added up by crop; another crop can be chosen; one that stands elsewhere has no age here."""
    for key, crop, count in (("p-x", "basil", 8), ("p-y", "basil", 7), ("p-z", "our own weed", 1)):
        moves = (Move(day=MONDAY, station="tub"),)
        school.room.save(Planting(key=key, crop=crop, sown=MONDAY, count=count, moves=moves))
    assert [(one.key, one.plants) for one in crops_here(school.room, "tub")] == [
        ("basil", 15),
        ("raft-lettuce", 12),
        ("", 1),
    ]
    assert at_station(school.room, "tub", "K7").crop == "basil"
    assert at_station(school.room, "tub", "K7", crop="raft-lettuce").readings["sown"] == 14
    unknown = at_station(school.room, "tub", "K7", crop="our own weed")
    assert (unknown.crop, unknown.readings["sown"]) == ("", 0)
    elsewhere = at_station(school.room, "tub", "K7", crop="tomato")
    assert (elsewhere.crop, "sown" in elsewhere.readings) == ("tomato", False)


def test_readings_of_the_last_week_are_filled_in(school: School) -> None:
    """pH, EC, temperatures, humidity and the day of the last change; what is older than a week is not there."""
    school.written("tub", "ph", 1, value=6.9)
    school.written("tub", "ec", 8, value=1.4)
    school.written("tub", "change-due", 3, value=9)
    school.written("room", "air-temperature", 0, value=23.5)
    school.written("room", "lowest-air-temperature", 2, value=13.0)
    school.written("room", "humidity", 2, value=44)
    lookup = at_station(school.room, "tub", "AR")
    given = {key: value for key, value in lookup.readings.items() if key not in ("month", "sown")}
    assert given == {"ph": 6.9, "change": 12, "air": 23.5, "night": 13.0, "humidity": 44}
    assert lookup.by == "adult"
    said = filled_in(school.room, "tub")
    assert "pH 6.9, yesterday" in said
    assert any(line.startswith("lowest air temperature 13.0 °C") for line in said)


def test_a_reading_that_cannot_be_is_left_out(school: School) -> None:
    """What no instrument can show does not stand in a lookup."""
    school.written("tub", "ph", 1, value=15.0)
    assert "ph" not in at_station(school.room, "tub", "K7").readings


def test_without_a_station_only_the_room_is_known(school: School) -> None:
    """The month and what was confirmed here, for the room as a whole too."""
    finding = flag(station="tub", seen="white dust", verdict="watch", by="K7", now=school.now)
    school.room.save(confirm_cause(finding, "powdery-mildew", "powdery mildew", "AR", "adult", school.now))
    for station in ("", "room"):
        lookup = at_station(school.room, station, "K7")
        assert (lookup.crop, lookup.readings) == ("", {"month": 9})
        assert lookup.situation().confirmed == {"powdery-mildew": 1}


def test_what_happened_here_lately_is_told(school: School) -> None:
    """Open findings, confirmed causes, verdicts that were not good and jobs done; nothing of other stations."""
    at = school.now - timedelta(days=2)
    first = flag(station="tub", seen="brown roots", verdict="watch", by="K7", now=at)
    gone = close(flag(station="tub", seen="white dust", verdict="watch", by="K7", now=at), "AR", "adult", at, "gone")
    gone = confirm_cause(gone, "powdery-mildew", "powdery mildew", "AR", "adult", at)
    job = Job(key="j1", what="Wipe the rim", station="tub", who="pupil", due=at.date(), made=at, by="K7")
    other = flag(station="pots", seen="flies", verdict="watch", by="K7", now=at)
    school.room.save(first, gone, other, done(job, "K7", "pupil", school.now))
    school.written("tub", "ph", 1, value=7.9, verdict="today")
    school.written("tub", "ec", 1, value=1.2, verdict="good")
    lines = recent(school.room, "tub")
    assert lines == (
        "Open since Saturday: brown roots",
        "Cause confirmed for 'white dust': powdery mildew",
        "Yesterday: What is the pH of the solution? pH 7.9 (act today)",
        "Done today: Wipe the rim",
    )
    assert recent(school.room, "shelf") == ()


def test_no_look_asks_for_a_mix_where_there_is_none(school: School) -> None:
    """At a raft the signs of a potting mix are never asked for; at pots they can be."""

    def organs_asked(station: str) -> set[str]:
        lookup = at_station(school.room, station, "AR")
        lookup.say("leaves wilting and yellow")
        found = set()
        while (check := lookup.answer().next_check) is not None and len(found) < 40:
            if not check.reading and check.key in lookup.ready.known.signs:
                found.add(lookup.ready.known.signs[check.key].organ)
            lookup.cannot_tell(check.key)
        return found

    assert "mix" in organs_asked("pots")
    assert "mix" not in organs_asked("tub")
