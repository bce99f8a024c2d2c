"""What is known of a station, and the texts that the fields of a reckoning start from."""

from datetime import timedelta
from pathlib import Path

import msgspec
import pytest

from tests.round.school import MONDAY, School
from walkabout.growing.units import METRIC, Scales
from walkabout.reckon.catalogue import every
from walkabout.reckon.model import Field
from walkabout.room.model import Lamp
from walkabout.round.known import FRESH_DAYS, Known, known_at
from walkabout.round.starts import STARTS, about, starts
from walkabout.round.workout import Form

SOLUTION = """\
[water]
ec = 0.4
ph = 7.6
alkalinity = 100
calcium = 40
magnesium = 8
sodium = 12
chloride = 20
[feed]
rise = 0.1
recipe = "hoagland"
[acid]
kind = "nitric"
strength = 1
[base]
strength = 0.5
[prices]
per_kwh = 0.31
"""
READ = {
    "solution-temperature": 21.0, "ph": 6.2, "ec": 1.4, "oxygen": 8.0, "topped-up": 6.0, "change-due": 9.0, "gap": 28.0,
    "light": 14000.0,
}  # fmt: skip


def known(school: School, station: str = "tub") -> Known:
    found = known_at(school.room, station)
    assert found is not None
    return found


def lit(school: School, **more: object) -> None:
    """Give the tub a lamp of which everything is known."""
    lamp = Lamp(watts=60, gap_cm=30, width_cm=60, length_cm=40, efficacy=2.1)
    room = school.room.room
    school.room.room = msgspec.structs.replace(room, lamps=room.lamps | {"bar": msgspec.structs.replace(lamp, **more)})


def full(tmp_path: Path, head: str = "altitude_m = 300", more: str = SOLUTION) -> School:
    """Return a school of which everything is written down and measured."""
    school = School(tmp_path / "room", head=head, more=more)
    lit(school)
    school.written("tub", "topped-up", days_ago=2, value=5.0)
    for question, value in READ.items():
        assert school.room.question("tub", question) is not None, question
        school.written("tub", question, value=value)
    school.written("room", "air-temperature", value=23.0)
    school.written("room", "humidity", value=55)
    school.written("room", "lowest-air-temperature", value=18.0)
    school.written("room", "highest-air-temperature", value=26.0)
    return school


def fields() -> list[tuple[str, Field]]:
    return [(one.name, field) for one in every() for field in one.fields if field.starts]


def test_some_room_produces_every_name(tmp_path: Path) -> None:
    """Nothing stands in STARTS that no station can give, and nothing is given that does not stand there."""
    school = full(tmp_path)
    given = {name for key in ("tub", "room") for name in starts(known(school, key), METRIC)}
    assert given == STARTS


def test_every_field_starts_from_a_name_that_there_is() -> None:
    """A slip in a field's `starts` would leave it empty for ever."""
    named = fields()
    assert len(named) > 60
    assert [(name, one.key) for name, one in named if one.starts not in STARTS] == []


@pytest.mark.parametrize("scales", [METRIC, Scales(us=True, ec="ppm 500")], ids=["metric", "us"])
def test_what_fields_start_from_is_in_their_range(tmp_path: Path, scales: Scales) -> None:
    """Every field takes what the station gives it: never a mistake before anybody has typed."""
    given = starts(known(full(tmp_path)), scales)
    wrong = []
    for one in every():
        form = Form(one, lambda _: given, scales)
        try:
            form.work()
        except ValueError as error:
            # what is missing may be said; a value that came from the station may not be wrong
            wrong += [(one.name, str(error)) for key in form.taken_over if str(error).startswith(f"{key}:")]
    assert wrong == []


def test_a_station_that_is_gone_and_the_room_as_a_whole(tmp_path: Path) -> None:
    """Of a station that is not there nothing is known; the room has air, and no tank."""
    school = full(tmp_path)
    assert known_at(school.room, "gone") is None
    given = starts(known(school, "room"), METRIC)
    assert (given["air temperature"], given["humidity"]) == ("23", "55")
    assert not {"litres", "pH", "EC", "litres a day"} & given.keys()


def test_a_station_without_anything_gives_what_the_room_gives(tmp_path: Path) -> None:
    """Nothing measured, no tank: the readings and the litres are left out, and nothing is made up."""
    school = School(tmp_path / "room")
    given = starts(known(school, "drum"), METRIC)
    assert given.keys() <= {"crop", "crops", "plants", "wanted EC", "wanted pH", "wanted DLI"}


def test_the_newest_reading_counts(tmp_path: Path) -> None:
    """Of several looks the last is what is there; older than a week it is not."""
    school = School(tmp_path / "room")
    school.written("tub", "ph", days_ago=3, value=6.8)
    school.written("tub", "ph", days_ago=1, value=6.1)
    school.written("tub", "ec", days_ago=FRESH_DAYS, value=1.1)
    school.written("tub", "solution-temperature", days_ago=FRESH_DAYS + 1, value=20.0)
    found = known(school)
    assert (found.value("pH"), found.value("EC"), found.value("solution temperature")) == (6.1, 1.1, None)
    assert found.readings["pH"].day == MONDAY - timedelta(days=1)


def test_not_looked_and_doubtful_do_not_count(tmp_path: Path) -> None:
    """A look that was left out hides nothing; a reading that is not to be trusted gives nothing."""
    school = School(tmp_path / "room")
    school.written("tub", "ph", days_ago=2, value=6.1)
    school.written("tub", "ph", days_ago=1, state="not looked")
    school.written("tub", "ec", value=1.9, doubtful="The probe was dry.")
    school.written("tub", "topped-up", days_ago=2, value=4.0)
    school.written("tub", "topped-up", value=400.0, doubtful="Somebody guessed.")
    found = known(school)
    assert found.value("pH") == 6.1
    assert "EC" not in starts(found, METRIC)
    assert found.used is None


def test_a_failed_check_of_the_meter_takes_its_readings_back(tmp_path: Path) -> None:
    """When the meter fails, no working starts from what it showed."""
    school = School(tmp_path / "room")
    school.written("tub", "ph", value=6.1)
    check = next(one for one in school.room.checklists["room"].question if any(c.doubts for c in one.choices))
    failing = next(one for one in check.choices if "pH" in one.doubts)
    assert known(school).value("pH") == 6.1
    school.tick(60)
    school.written("room", check.id, choices=[failing.id], verdict="today")
    assert known(school).value("pH") is None


def test_stations_on_one_tank_share_what_is_in_it(tmp_path: Path) -> None:
    """The channels and the vine drink the same water, but stand in their own light; the tub has its own."""
    school = School(tmp_path / "room")
    school.written("film", "ph", value=6.3)
    school.written("film", "gap", value=25.0)
    vine, film = known(school, "vine"), known(school, "film")
    assert (vine.value("pH"), vine.value("gap")) == (6.3, None)
    assert known(school).value("pH") is None
    assert dict(vine.drinking) == dict(film.drinking) == {"basil": 10, "rocket": 10, "tomato": 2}
    assert starts(vine, METRIC)["plants"] == "22"
    assert starts(vine, METRIC)["litres"] == "40"


@pytest.mark.parametrize("here", ["film", "vine"])
def test_of_yesterday_and_today_at_two_stations_today_counts(tmp_path: Path, here: str) -> None:
    """Whichever of the two one stands at."""
    school = School(tmp_path / "room")
    school.written("film", "ph", value=6.3)
    school.written("vine", "ph", days_ago=1, value=5.4)
    assert known(school, here).value("pH") == 6.3


def test_of_two_readings_today_the_later_counts(tmp_path: Path) -> None:
    """Read at eight at the vine and at nine at the channels: nine is what is there, wherever one stands."""
    school = School(tmp_path / "room")
    school.written("vine", "ph", value=5.4)
    school.tick(3600)
    school.written("film", "ph", value=6.3)
    assert [known(school, one).value("pH") for one in ("film", "vine")] == [6.3, 6.3]


def test_litres_a_day_are_the_middle_of_what_was_topped_up(tmp_path: Path) -> None:
    """4 L in two days, 9 in three and 5 in one are 2, 3 and 5 L a day: 3. One day of heat changes little."""
    school = School(tmp_path / "room")
    for days_ago, value in ((8, 7.0), (6, 4.0), (3, 9.0), (2, 5.0)):
        school.written("tub", "topped-up", days_ago=days_ago, value=value)
    assert known(school).used == pytest.approx(3.0)
    assert starts(known(school), METRIC)["litres a day"] == "3.00"


def test_the_day_of_the_change_and_what_went_in_since(tmp_path: Path) -> None:
    """Renewed five days before a look of two days ago: a week; only what was topped up after it counts."""
    school = School(tmp_path / "room")
    school.written("tub", "change-due", days_ago=2, value=5)
    for days_ago, value in ((9, 6.0), (7, 5.0), (4, 4.5), (1, 4.0)):
        school.written("tub", "topped-up", days_ago=days_ago, value=value)
    given = starts(known(school), METRIC)
    assert known(school).changed == MONDAY - timedelta(days=7)
    assert given["days since the change"] == "7"
    assert given["topped since the change"] == "4.5;4"
    assert given["change days"] == "14"
    assert "days since the change" not in starts(known(school, "film"), METRIC)


def test_the_change_of_a_shared_tank_is_the_one_asked_about_last(tmp_path: Path) -> None:
    """Somebody at the vine said two days, later than somebody at the channels said nine."""
    school = School(tmp_path / "room")
    school.written("film", "change-due", days_ago=3, value=9)
    school.written("vine", "change-due", value=2)
    assert known(school, "film").changed == known(school, "vine").changed == MONDAY - timedelta(days=2)


@pytest.mark.parametrize("value", [0.0, 3.5, 10.5, 14.0])
def test_a_ph_beyond_all_reckoning_leaves_the_alkalinity_out(tmp_path: Path, value: float) -> None:
    """The form opens all the same, with the pH as it was read."""
    school = School(tmp_path / "room")
    school.written("tub", "ph", value=value)
    given = starts(known(school), METRIC)
    assert float(given["pH"]) == value
    assert "alkalinity" not in given


def test_a_us_room_starts_from_its_own_units(tmp_path: Path) -> None:
    """Gallons, °F, foot-candles and the ppm of its meter."""
    given = starts(known(full(tmp_path)), Scales(us=True, ec="ppm 500"))
    assert (given["litres"], given["EC"], given["solution temperature"]) == ("15.9", "700", "69.8")
    assert float(given["lux"]) == pytest.approx(14000 / 10.764, abs=1)
    assert given["water EC"] == "200"


def test_a_us_room_starts_from_inches(tmp_path: Path) -> None:
    """A lit face of 60 by 40 cm is 23.6 by 15.7 in."""
    school = School(tmp_path / "room")
    lit(school)
    given = starts(known(school), Scales(us=True))
    assert float(given["width"]) == pytest.approx(23.6, abs=0.1)
    assert float(given["length"]) == pytest.approx(15.7, abs=0.1)


def test_the_gap_that_was_measured_goes_before_the_one_written_down(tmp_path: Path) -> None:
    """Plants grow: 28 cm read today are 28, whatever room.toml says."""
    assert starts(known(full(tmp_path)), METRIC)["gap"] == "28"


def test_a_station_in_one_line(tmp_path: Path) -> None:
    """Its name, its tank in the room's units, and what grows there."""
    school = full(tmp_path, head='units = "US"')
    assert about(school.room, "tub") == "The tub · 15.9 US gal · lettuce on rafts"
    assert about(school.room, "room") == "The room"
