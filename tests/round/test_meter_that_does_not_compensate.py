"""An EC meter that shows the conductivity as it is: its reading is turned to 25 °C, or is doubtful."""

from pathlib import Path

import pytest

from tests.round.amounts import FEED
from tests.round.school import School, number, to
from walkabout.checklist.model import Reading
from walkabout.growing.units import METRIC
from walkabout.records.model import Answer
from walkabout.round.correct import Right, correction
from walkabout.round.known import known_at
from walkabout.round.meter import Meant, meant, meant_at
from walkabout.round.walk import Outcome

EC = Reading(quantity="EC", unit="mS/cm", possible=(0, 20), likely=(0.2, 4), of_crops=True, good=(1, 2), decimals=2)
PLAIN = "[meters]\ncompensates = false\n"


def school(tmp_path: Path, more: str = PLAIN, stations: tuple[str, ...] = ("tub",), head: str = "") -> School:
    return School(tmp_path / "room", stations, head=head, more=more)


def walked(school: School, value: float) -> Outcome:
    """Answer the one question on the round: what the meter shows in the tub."""
    school.only("raft", number("ec", EC), number("warm", Reading(quantity="solution temperature", unit="°C",
                possible=(0, 45), likely=(8, 32))))  # fmt: skip
    return to(school.begin(), "tub", "ec").number(value)


def test_a_meter_that_compensates_is_taken_at_its_word(tmp_path: Path) -> None:
    """As most meters do: nothing changes, whatever the temperature."""
    ours = school(tmp_path, "")
    ours.written("tub", "solution-temperature", value=15.0)
    assert meant_at(ours.room, "tub", 1.2, EC) == Meant(1.2)


@pytest.mark.parametrize(("warm", "factor"), [(15.0, 0.809), (18.0, 0.8663), (25.0, 1.0), (28.0, 1.0573)])
def test_a_reading_is_turned_to_25_degrees(tmp_path: Path, warm: float, factor: float) -> None:
    """By 1.91 % for each °C (ISO 7888, linear form), and the note says what was read and how warm it was."""
    ours = school(tmp_path)
    ours.written("tub", "solution-temperature", value=warm)
    found = meant_at(ours.room, "tub", 1.2, EC)
    assert found.value == pytest.approx(1.2 / factor, rel=1e-3)
    assert found.note == f"read 1.20 mS/cm at {warm:.1f} °C, turned to 25 °C"
    assert found.doubtful == ""


@pytest.mark.parametrize("days_ago", [None, 1])
def test_without_todays_temperature_it_is_doubtful(tmp_path: Path, days_ago: int | None) -> None:
    """It is kept as it was read, and marked: yesterday's water may have been warmer."""
    ours = school(tmp_path)
    if days_ago is not None:
        ours.written("tub", "solution-temperature", days_ago=days_ago, value=18.0)
    found = meant_at(ours.room, "tub", 1.2, EC)
    assert (found.value, found.note) == (1.2, "")
    assert "not known today" in found.doubtful


def test_the_temperature_of_the_same_tank_will_do(tmp_path: Path) -> None:
    """The vine drinks from the channels' tank: what was measured there counts here."""
    ours = school(tmp_path, stations=("film", "vine", "tub"))
    ours.written("film", "solution-temperature", value=15.0)
    assert meant_at(ours.room, "vine", 1.2, EC).value == pytest.approx(1.483, rel=1e-3)
    assert meant_at(ours.room, "tub", 1.2, EC).doubtful, "another tank is another water"


def test_only_ec_is_turned(tmp_path: Path) -> None:
    """Other readings, and a station that is gone, stay as they are."""
    ours = school(tmp_path)
    ours.written("tub", "solution-temperature", value=15.0)
    ph = Reading(quantity="pH", unit="pH", possible=(0, 14), likely=(4, 9))
    assert meant_at(ours.room, "tub", 6.1, ph) == Meant(6.1)
    assert meant_at(ours.room, "gone", 1.2, EC) == Meant(1.2)


def test_a_temperature_beyond_the_formula_leaves_it_doubtful(tmp_path: Path) -> None:
    """What cannot be turned is kept as read, with the reason."""
    ours = school(tmp_path)
    ours.written("tub", "solution-temperature", value=55.0)
    found = meant(1.2, EC, known_at(ours.room, "tub"), ours.room.today(), METRIC)
    assert found.value == 1.2
    assert "could not be turned" in found.doubtful


def test_the_note_is_in_the_rooms_own_units(tmp_path: Path) -> None:
    """A US room with a ppm meter reads its own figures back."""
    ours = school(tmp_path, PLAIN + 'ec = "ppm 500"\n', head='units = "US"')
    ours.written("tub", "solution-temperature", value=15.0)
    assert meant_at(ours.room, "tub", 1.2, EC).note == "read 600 ppm (500) at 59.0 °F, turned to 25 °C"


def test_on_the_round_the_turned_value_is_judged_and_kept(tmp_path: Path) -> None:
    """1.0 mS/cm in water of 15 °C is 1.24 at 25 °C: right for lettuce on rafts, and written down so."""
    ours = school(tmp_path)
    ours.written("tub", "warm", value=15.0)
    outcome = walked(ours, 1.0)
    assert outcome.judgement.verdict == "good"
    assert outcome.answer.value == pytest.approx(1.236, abs=1e-3)
    assert outcome.answer.note == "read 1.00 mS/cm at 15.0 °C, turned to 25 °C"
    assert known_at(ours.room, "tub").value("EC") == outcome.answer.value  # type: ignore[union-attr]


def test_on_the_round_a_doubtful_reading_starts_nothing(tmp_path: Path) -> None:
    """It is on record with its reason, and no working starts from it."""
    ours = school(tmp_path)
    outcome = walked(ours, 1.0)
    assert "not known today" in outcome.answer.doubtful
    assert known_at(ours.room, "tub").value("EC") is None  # type: ignore[union-attr]


def test_a_doubtful_reading_gives_no_amounts(tmp_path: Path) -> None:
    """Nobody is told how many mL to add by a reading that is not to be trusted."""
    outcome = walked(school(tmp_path, FEED + PLAIN), 0.5)
    assert outcome.answer.doubtful
    assert "mL" not in outcome.judgement.meanings[0].job


def test_a_reading_put_right_is_turned_too(tmp_path: Path) -> None:
    """The correction is read off the same meter: 1.1 at 15 °C is 1.36, or is marked as doubtful."""
    ours = school(tmp_path)
    ours.written("tub", "solution-temperature", value=15.0)
    old: Answer = ours.written("tub", "ec", value=1.236, unit="mS/cm")
    right = correction(ours.room, old, Right(value=1.1), "AR", "typed wrongly").answer
    assert right.doubtful or right.value == pytest.approx(1.36, abs=0.01)
