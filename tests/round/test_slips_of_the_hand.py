"""Numbers that are questioned before they are saved."""

from datetime import UTC, datetime

import pytest

from walkabout.checklist.model import Reading
from walkabout.checklist.read import read_checklists
from walkabout.growing.units import METRIC, US, Scales, shown
from walkabout.records.model import Answer
from walkabout.round.slips import Doubt, doubt

SHIPPED = read_checklists(None).of
READINGS = [
    (f"{kind} {question.id}", question.reading)
    for kind, checklist in SHIPPED.items()
    for question in checklist.question
    if question.reading is not None
]


def reading(kind: str, question: str) -> Reading:
    found = SHIPPED[kind].find(question)
    assert found is not None
    assert found.reading is not None
    return found.reading


PH, EC, WARM = reading("raft", "ph"), reading("raft", "ec"), reading("raft", "solution-temperature")
AIR, HUMID, LITRES, GAP = (
    reading("room", "air-temperature"),
    reading("room", "humidity"),
    reading("raft", "topped-up"),
    reading("raft", "gap"),
)


def questioned(
    typed: float, of: Reading, last: float | None = None, *, scales: Scales = METRIC, days: float = 1
) -> Doubt:
    found = doubt(typed, of, before(last), days if last is not None else None, scales=scales)
    assert found is not None
    return found


def before(value: float | None) -> Answer | None:
    if value is None:
        return None
    at = datetime(2026, 9, 13, 8, 0, tzinfo=UTC)
    return Answer(key="a", round="r", at=at, walker="AR", station="tub", question="q", value=value)


@pytest.mark.parametrize(
    ("typed", "of", "scales", "perhaps", "says"),
    [
        (58, PH, METRIC, 5.8, "Did you mean pH 5.8 (a decimal point left out)?"),
        (582, PH, METRIC, 5.82, "Did you mean pH 5.8 (a decimal point left out)?"),
        (1400, EC, METRIC, 1.4, "Did you mean 1.40 mS/cm (read in µS/cm)?"),
        (14, EC, METRIC, 1.4, "Did you mean 1.40 mS/cm (a decimal point left out)?"),
        (700, EC, Scales(ec="CF"), 0.7, "Did you mean 7.0 CF (read in µS/cm)?"),
        (1.4, EC, Scales(ec="ppm 500"), 1.4, "Did you mean 700 ppm (500) (read in mS/cm)?"),
        (72, AIR, METRIC, 22.22, "Did you mean 22.2 °C (read in °F)?"),
        (68, WARM, METRIC, 20.0, "Did you mean 20.0 °C (read in °F)?"),
        (215, AIR, METRIC, 21.5, "Did you mean 21.5 °C (a decimal point left out)?"),
        (22, AIR, US, 22.0, "Did you mean 71.6 °F (read in °C)?"),
        (716, AIR, US, 22.0, "Did you mean 71.6 °F (a decimal point left out)?"),
        (0.6, HUMID, METRIC, 60.0, "Did you mean 60 % (written as a fraction)?"),
        (350, GAP, METRIC, 35.0, "Did you mean 35 cm (read in mm)?"),
        (4000, LITRES, METRIC, 4.0, "Did you mean 4.0 L (read in mL)?"),
    ],
)
def test_slips_of_unit_and_point(typed: float, of: Reading, scales: Scales, perhaps: float, says: str) -> None:
    """What was meant is offered in the stored unit, and said in the room's unit with what the slip was."""
    found = questioned(typed, of, scales=scales)
    assert found.perhaps == pytest.approx(perhaps, abs=0.01)
    assert found.says.endswith(says)


def test_what_cannot_be_cannot_be_kept() -> None:
    """A pH of 58 lies outside 0 to 14: it cannot be insisted on."""
    found = questioned(58, PH)
    assert found.impossible
    assert found.says.startswith("pH 58.0 cannot be: it lies outside pH 0 to pH 14.")


def test_what_is_unusual_may_be_kept() -> None:
    """An EC of 5 is unusual but possible: the walker may insist."""
    found = questioned(5, EC)
    assert not found.impossible
    assert "5.00 mS/cm is unusual" in found.says


def test_without_a_likely_slip_one_is_asked_to_look_again() -> None:
    """Where no slip explains the number nothing is offered."""
    found = questioned(-15, AIR)
    assert found.perhaps is None
    assert found.says.endswith("Please look once more.")


def test_the_last_reading_decides_between_slips() -> None:
    """60 in a metric room is 15.6 °C read in °F, unless it was 6 °C last time: then a point is missing."""
    cold = reading("room", "lowest-air-temperature")
    assert questioned(60, cold, last=15.0).perhaps == pytest.approx(15.56, abs=0.01)
    assert questioned(60, cold, last=6.0).perhaps == pytest.approx(6.0)


def test_a_jump_is_questioned_for_three_days() -> None:
    """A pH 0.7 above yesterday's is questioned; after four days it is not; 0.5 is no jump."""
    assert "is a jump: it was pH 5.6 last time" in questioned(6.3, PH, last=5.6).says
    assert not questioned(6.3, PH, last=5.6).impossible
    assert doubt(6.3, PH, before(5.6), 4, scales=METRIC) is None
    assert doubt(6.1, PH, before(5.6), 1, scales=METRIC) is None


@pytest.mark.parametrize(("name", "of"), READINGS, ids=[name for name, _ in READINGS])
@pytest.mark.parametrize("scales", [METRIC, US, Scales(ec="ppm 640")], ids=str)
def test_usual_readings_pass(name: str, of: Reading, scales: Scales) -> None:
    """The middle of what is likely is never questioned, and what is impossible always is, in both kinds of unit."""
    middle = sum(of.likely) / 2
    assert doubt(shown(middle, of.unit, scales)[0], of, None, None, scales=scales) is None, name
    beyond = of.possible[1] + max(1.0, of.possible[1] / 10)
    found = doubt(shown(beyond, of.unit, scales)[0], of, None, None, scales=scales)
    assert found is not None
    assert found.impossible
    assert found.perhaps is None or of.likely[0] <= found.perhaps <= of.likely[1]


def test_what_is_offered_would_pass() -> None:
    """What is offered in place of a slip is itself not questioned."""
    for _, of in READINGS:
        for typed in (0.5, 3, 25, 58, 140, 720, 1400, 9000):
            for scales in (METRIC, US):
                found = doubt(typed, of, None, None, scales=scales)
                if found is not None and found.perhaps is not None:
                    assert doubt(shown(found.perhaps, of.unit, scales)[0], of, None, None, scales=scales) is None
