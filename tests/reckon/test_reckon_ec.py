"""The reckonings of an EC meter, from typed words to results."""

import pytest

from walkabout.reckon import ec
from walkabout.reckon.model import Reckoned
from walkabout.reckon.read import reckon, split, take

BY_NAME = {one.name: one for one in ec.RECKONINGS}


def work(name: str, typed: str) -> Reckoned:
    return reckon(BY_NAME[name], take(BY_NAME[name], split(typed.split())))


@pytest.mark.parametrize(
    ("name", "typed", "key", "expected"),
    [
        ("ec", "ec=1.8 scale=0.5", "ppm", 900),
        ("ec", "ec=1.8 scale=0.64", "ppm", 1152),
        ("ec", "ec=1.8 scale=700", "ppm", 1260),
        ("ec", "ec=4000 from=uS/cm scale=0.7", "ppm", 2800),
        ("ec", "ec=1000 from=ppm scale=0.5", "ec", 2.0),
        ("ec", "ec=1000 from=ppm700", "ec", 1000 / 700),
        ("ec", "ec=1.25", "us_cm", 1250),
        ("ec", "ec=1.25 to=uS/cm", "value", 1250),
        ("ec", "ec=2.1 from=dS/m", "ec", 2.1),
        ("ec", "ec=18 from=CF", "ec", 1.8),
        ("ec", "ec=18CF", "ec", 1.8),
        ("ec", "ec=150 from=mS/m", "ec", 1.5),
        ("ec", "ec=1400uS/cm", "ec", 1.4),
        ("ec", "ec=1.8 temperature=20", "ec", 1.99),
        ("ec", "ec=1.8 temperature=68F coefficient=2", "ec", 2.0),
        ("ec", "ec=1.8 temperature=15 coefficient=0.02", "ec", 2.25),
        ("ec", "ec=1800 from=uS/cm temperature=15 coefficient=0.02", "ec", 2.25),
        ("ec", "ec=840 from=ppm500 to=ppm700", "ppm", 1176),
        ("ppm", "ppm=840 scale=500 to=700", "ppm", 1176),
        ("ppm", "ppm=1000 scale=0.7", "ec", 1.4286),
        ("ppm", "ppm=500 scale=500", "ppm_640", 640),
        ("ppm", "ppm=700 from=500", "ec", 1.4),
        ("ppm", "ppm=700 scale=ppm500 to=ppm700", "ppm", 980),
        ("ec", "ec=700ppm scale=500", "ec", 1.4),
        ("ec", "ec=900ppm scale=0.5", "ec", 1.8),
        ("ec", "ec=700ppm scale=700ppm", "ec", 1.0),
        ("ec", "ec=700ppm scale=ppm500", "ec", 1.4),
        ("ec", "ec=1400us", "ec", 1.4),
        ("ec", "ec=1.4mS", "ec", 1.4),
        ("ec", "ec=1413uS", "ec", 1.413),
        ("ec", "ec=1413 from=us", "ec", 1.413),
        ("ec", "ec=1413 from=µS", "ec", 1.413),
        ("ec", "ec=700 from=TDS scale=500", "ec", 1.4),
        ("ec", "ec=1.8 temperature=20 coefficient=2%", "ec", 2.0),
    ],
)
def test_results(name: str, typed: str, key: str, expected: float) -> None:
    """Every unit and scale comes out as the identities have it."""
    assert work(name, typed).results[key].value == pytest.approx(expected, abs=1e-4)


def test_the_unit_that_was_asked_for_stands_first() -> None:
    """The chief result is EC, unless another unit or scale was wanted."""
    assert next(iter(work("ec", "ec=1").results)) == "ec"
    assert next(iter(work("ec", "ec=1 to=CF").results)) == "value"
    assert next(iter(work("ppm", "ppm=840 scale=500 to=700").results)) == "ppm"


@pytest.mark.parametrize(
    ("name", "typed", "says"),
    [
        ("ec", "ec=1000 from=ppm", r"2\.00 mS/cm with scale=500, 1\.56 .*, 1\.43 "),
        ("ppm", "ppm=1000", r"2\.00 mS/cm with scale=500, 1\.56 .*, 1\.43 "),
        ("ec", "ec=1 to=ppm", "without the meter's scale"),
        ("ec", "ec=1000 from=ppm500 scale=700", "says otherwise"),
        ("ec", "ec=1 scale=7", "500, 640 or 700"),
        ("ppm", "ppm=1 scale=300", "500, 640 or 700"),
        ("ec", "ec=1400", "is it µS/cm"),
        ("ec", "ec=1400uS/cm from=uS/cm", "leave from= out"),
        ("ec", "ec=1 coefficient=0.02", "needs the temperature"),
        ("ec", "ec=1 temperature=51", "at most 50 °C"),
        ("ec", "ec=1 temperature=20 coefficient=0.5", "at most 0.03"),
        ("ec", "ec=-1", "at least 0"),
        ("ec", "ec=1000ppm", "ppm500, ppm640 or ppm700"),
    ],
)
def test_refusals(name: str, typed: str, says: str) -> None:
    """What cannot be worked out is refused with what would be right."""
    with pytest.raises(ValueError, match=says):
        work(name, typed)


def test_the_working_puts_the_values_in() -> None:
    """Formula, values, result; what was not given is said to be taken."""
    assert work("ec", "ec=1.8 temperature=20").working == (
        "taken: a = 0.0191 for each °C (ISO 7888; many meters use 0.02)",
        "EC at 25 °C = EC ÷ (1 + a × (T − 25)) = 1.8 ÷ (1 + 0.0191 × (20 − 25))",
        "            = 1.8 ÷ 0.9045 = 1.9900 mS/cm",
    )
    assert work("ppm", "ppm=840 scale=500 to=700").working == (
        "EC = ppm ÷ scale = 840 ÷ 500 = 1.6800 mS/cm",
        "on the 700 scale: 1.6800 mS/cm × 700 = 1176 ppm",
    )


def test_nobody_is_invited_to_compensate_twice() -> None:
    """With a temperature and without one it says when not to correct; below 10 °C that it is approximate."""
    assert any("second time" in line for line in work("ec", "ec=1.8").says)
    assert any("twice" in line for line in work("ec", "ec=1.8 temperature=20").says)
    assert not any("approximate" in line for line in work("ec", "ec=1.8 temperature=10").says)
    assert any("approximate" in line for line in work("ec", "ec=1.8 temperature=9").says)


def test_an_ec_that_no_feed_has_is_doubted() -> None:
    """More than 20 mS/cm is worked out, with the hint to look at the unit."""
    assert "look at the unit" in work("ec", "ec=25").says[0]


@pytest.mark.parametrize("one", ec.RECKONINGS, ids=lambda one: one.name)
def test_the_example_works_and_its_lines_fit(one: object) -> None:
    """Each example is worked out, with lines a class can read."""
    name = one.name  # type: ignore[attr-defined]
    found = work(name, BY_NAME[name].example)
    assert found.working
    assert found.says
    assert found.source
    assert all(len(line) <= 76 for line in found.working)


def test_only_a_temperature_makes_it_an_ec_at_25_degrees() -> None:
    """Without one nobody knows what the meter did, and the result is named as it was read."""
    assert work("ec", "ec=1.8").results["ec"].says == "EC as read"
    assert work("ec", "ec=1.8 temperature=20").results["ec"].says == "EC at 25 °C"


@pytest.mark.parametrize("name", BY_NAME)
def test_every_result_has_words_of_its_own(name: str) -> None:
    """No raw key such as 'us_cm' is shown, and no two results have the same words."""
    said = [one.says for one in work(name, BY_NAME[name].example).results.values()]
    assert all(said)
    assert len(set(said)) == len(said)
