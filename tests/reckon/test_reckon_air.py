"""The reckonings of the air: results, working, and what they refuse."""

import pytest

from walkabout.reckon import air, day_air, psychrometer
from walkabout.reckon.model import Reckoned
from walkabout.reckon.read import reckon, split, take

KNOWN = {one.name: one for module in (air, psychrometer, day_air) for one in module.RECKONINGS}


def work(line: str) -> Reckoned:
    """Work out what is typed behind the command: 'vpd air=24 rh=60'."""
    name, *words = line.split()
    return reckon(KNOWN[name], take(KNOWN[name], split(words)))


def value(line: str, result: str) -> float | str:
    """Return one result."""
    return work(line).results[result].value


@pytest.mark.parametrize("name", KNOWN)
def test_every_example_works(name):
    """The example gives results with a source, a sentence, and working that fits a narrow screen."""
    done = work(f"{name} {KNOWN[name].example}")
    assert done.results
    assert done.source
    assert all(line.endswith(".") for line in done.says)
    assert done.working
    assert max(map(len, done.working)) <= 76


@pytest.mark.parametrize(
    ("line", "result", "expected", "tolerance"),
    [
        ("svp air=24.5", "svp", 3.075, 0.002),
        ("svp temperature=16.9", "slope", 0.122, 0.001),
        ("svp air=77F", "svp", 3.168, 0.002),
        ("vpd air=24 rh=60", "vpd", 1.194, 0.01),
        ("vpd air=25 rh=60 leaf=23", "vpd", 0.909, 0.01),
        ("dew-point air=26 rh=85", "dew_point", 23.28, 0.1),
        ("dew-point air=60F rh=85", "dew_point", 13.06, 0.17),
        ("dew-point air=22 rh=85 leaf=18", "margin", -1.37, 0.05),
        ("wet-bulb air=30 rh=40", "wet_bulb", 20.06, 0.35),
        ("wet-bulb air=24 rh=60 altitude=1800", "wet_bulb", 18.3, 0.35),
        ("humidity air=40 wet=20", "rh", 14, 1),
        ("humidity air=40 wet=20", "dew_point", 7, 0.5),
        ("humidity dry=25.6 wet=19.5 pressure=87.9", "vapour_pressure", 1.91, 0.01),
        ("humidity air=25.6 wet=19.5 altitude=1200", "vapour_pressure", 1.91, 0.01),
        ("humidity air=25.6 wet=19.5 pressure=879hPa", "vapour_pressure", 1.91, 0.01),
        ("humidity air=22 wet=18 coefficient=0.000662 pressure=101.3", "rh", 67.9, 0.5),
        ("humidity-for air=20 vpd=1", "rh", 57.2, 0.2),
        ("rh ea=1.91 es=2.39", "rh", 79.9, 0.1),
        ("absolute-humidity air=20 rh=100", "absolute_humidity", 17.3, 0.1),
        ("absolute-humidity air=20 rh=50", "mixing_ratio", 7.26, 0.05),
        ("day-svp high=24.5 low=15", "mean_svp", 2.39, 0.01),
        ("day-svp tmax=24.5 tmin=15", "svp_of_mean", 2.30, 0.01),
        ("day-vapour-pressure high=25 low=18 rh_high=82 rh_low=54", "vapour_pressure", 1.70, 0.01),
        ("day-vapour-pressure high=25 low=18 rh=68", "vapour_pressure", 1.78, 0.01),
        ("day-vapour-pressure high=25 low=18 rhmax=82", "vapour_pressure", 1.692, 0.01),
        ("mean-vpd air=18,30 rh=90,50", "vpd", 1.164, 0.01),
        ("mean-vpd air=20 rh=50,60", "vpd", 1.052, 0.01),
        ("mean-vpd air=25,25 rh=60 leaf=23,27", "vpd", (0.909 + 1.665) / 2, 0.01),
    ],
)
def test_results(line, result, expected, tolerance):
    """Worked examples come out, whatever the unit or the other name they were typed with."""
    assert value(line, result) == pytest.approx(expected, abs=tolerance)


@pytest.mark.parametrize(
    ("line", "result", "word"),
    [
        ("vpd air=20 rh=70", "verdict", "in the band"),
        ("vpd air=18 rh=95", "verdict", "too damp"),
        ("vpd air=30 rh=40", "verdict", "too dry"),
        ("vpd air=22 rh=85 leaf=18", "verdict", "wet"),
        ("vpd air=20 rh=70 stage=rooting", "stage_verdict", "too dry"),
        ("vpd air=20 rh=70 stage=seedlings", "stage_verdict", "too dry"),
        ("vpd air=20 rh=70 stage=leafy", "stage_verdict", "in the band"),
        ("vpd air=20 rh=75 stage=fruiting", "stage_verdict", "too damp"),
        ("dew-point air=24 rh=90 leaf=21.5", "verdict", "wet"),
        ("dew-point air=24 rh=60 leaf=21.5", "verdict", "dry"),
        ("humidity-for air=20 vpd=0.1", "verdict", "too damp"),
        ("mean-vpd air=20,22 rh=98,97", "verdict", "too damp"),
    ],
)
def test_verdicts(line, result, word):
    """A verdict is a word, and the band that it is held against stands beside it."""
    assert value(line, result) == word


@pytest.mark.parametrize(
    ("line", "step"),
    [
        ("vpd air=24 rh=60", "e°(24) = 0.6108 × exp(17.27 × 24 ÷ (24 + 237.3)) = 2.984 kPa"),
        ("vpd air=24 rh=60", "VPD = 2.984 − 1.790 = 1.19 kPa"),
        ("vpd air=24 rh=60", "taken: leaf as warm as the air"),
        ("vpd air=20 rh=70", "sensor out by ±3 % RH: ±3 ÷ 100 × 2.338 = ±0.07 kPa"),
        ("dew-point air=22 rh=85", "dew point = 237.3 × x ÷ (17.27 − x) = 19.4 °C"),
        ("humidity air=22 wet=18", "taken: P = 101.325 kPa, the sea level's"),
        ("humidity air=22 wet=18", "taken: a = 0.000662 per °C (a fan blows on the wick)"),
        ("humidity air=22 wet=18 altitude=1200", "P = 101.3 × ((293 − 0.0065 × 1200) ÷ 293)^5.26 = 87.9 kPa"),
        ("humidity air=22 wet=18 moving=still", "a = 0.001200 per °C (the air is still, from memory)"),
        ("rh vapour_pressure=1.91 svp=2.39", "RH = 100 × e ÷ e° = 100 × 1.91 ÷ 2.39 = 79.9 %"),
        ("day-svp high=24.5 low=15", "not: e°(mean) = e°(19.75) = 2.30 kPa"),
        ("mean-vpd air=18,30 rh=90,50", "not: VPD of the means = 0.90 kPa"),
        ("mean-vpd air=20 rh=50,51,52,53,54,55,56,57,58,59", "… and 3 more"),
    ],
)
def test_working(line, step):
    """The steps stand there with their values and units, and say what was taken."""
    assert step in work(line).working


def test_a_sensor_that_may_be_wrong_is_said():
    """Near the end of the band the sentence says that a sensor 3 % out could as well mean the other side."""
    assert any("it may as well be too damp" in line for line in work("vpd air=20 rh=90").says)
    assert not any("may as well" in line for line in work("vpd air=20 rh=70").says)
    assert work("vpd air=20 rh=70").results["vpd"].decimals == 2


def test_the_lower_line_for_moulds_is_named():
    """Between 0.20 and 0.43 kPa the other published line is named with how it is known."""
    assert any("0.43 kPa" in line and "from memory" in line for line in work("vpd air=20 rh=85").says)


def test_dew_point_is_kept_apart_from_the_wet_bulb():
    """Each says that it is not the other, and the numbers differ."""
    assert any("wet bulb" in line for line in work("dew-point air=24 rh=60").says)
    assert any("not the dew point: that is 15.8 °C" in line for line in work("wet-bulb air=24 rh=60").says)
    assert value("wet-bulb air=24 rh=60", "dew_point") < value("wet-bulb air=24 rh=60", "wet_bulb") - 2


def test_frost_is_said():
    """A dew point below freezing says that frost forms."""
    assert any("frost" in line for line in work("dew-point air=20 rh=10").says)


def test_still_air_makes_the_wick_read_damper():
    """The same two readings mean drier air where nothing blows on the wick."""
    assert value("humidity air=22 wet=18 moving=still", "rh") < value("humidity air=22 wet=18 moving=natural", "rh")
    assert value("humidity air=22 wet=18 moving=natural", "rh") < value("humidity air=22 wet=18", "rh")


def test_dry_air_has_a_wet_bulb_and_no_dew_point():
    """Without any water there is still evaporation."""
    assert "dew_point" not in work("wet-bulb air=40 rh=0").results


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("humidity air=20 wet=22", "can only be as warm"),
        ("humidity air=40 wet=10", "drier than the driest air"),
        ("humidity air=22 wet=18 pressure=90 altitude=1000", "not both"),
        ("humidity air=22 wet=18 moving=fan coefficient=0.0007", "not both"),
        ("wet-bulb air=2 rh=30", "would freeze"),
        ("dew-point air=20 rh=0", "no dew point"),
        ("humidity-for air=20 vpd=3", "only 2.34 kPa"),
        ("rh vapour_pressure=3 svp=2", "at most 2 kPa"),
        ("day-svp high=10 low=20", "below the lowest"),
        ("day-vapour-pressure high=25 low=18", "give rh_high and rh_low"),
        ("day-vapour-pressure high=25 low=18 rh_low=50", "give rh_high and rh_low"),
        ("day-vapour-pressure high=25 low=18 rh=60 rh_high=80", "not both"),
        ("day-vapour-pressure high=25 low=18 rh_high=50 rh_low=80", "below the lowest"),
        ("mean-vpd air=20,21 rh=50,60,70", "air has 2 values and rh has 3"),
        ("vpd air=60 rh=50", "at most 50 °C"),
        ("vpd air=20 rh=120", "at most 100 %"),
    ],
)
def test_what_cannot_be_is_refused(line, says):
    """One clear sentence says what is wrong."""
    with pytest.raises(ValueError, match=says):
        work(line)


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("dew-point air=60F rh=85", "dew_point"),
        ("humidity air=22 wet=18", "dew_point"),
        ("wet-bulb air=75F rh=60", "wet_bulb"),
        ("day-vapour-pressure high=25 low=18 rh_high=82 rh_low=54", "dew_point"),
    ],
)
def test_temperatures_come_in_fahrenheit_too(line, name):
    """Who types °F can read the answer on the same thermometer."""
    results = work(line).results
    assert results[f"{name}_f"].value == pytest.approx(results[name].value * 1.8 + 32)
    assert results[f"{name}_f"].unit == "°F"


@pytest.mark.parametrize(
    "line", ["vpd air=24 rh=0.65", "dew-point air=24 humidity=0.65", "mean-vpd air=20,22 rh=0.7,0.8"]
)
def test_a_share_for_a_humidity_is_asked_about(line):
    """65 % and 0.65 are told apart before anything is worked out."""
    with pytest.raises(ValueError, match=r"write (65|70), not 0\.(65|7) "):
        work(line)


def test_a_pressure_in_hectopascals_is_asked_about():
    """1013 is no pressure in kPa, and nothing is guessed."""
    with pytest.raises(ValueError, match="write 1013hPa"):
        work("wet-bulb air=24 rh=60 pressure=1013")
    same = value("wet-bulb air=24 rh=60 pressure=101.3", "wet_bulb")
    assert value("wet-bulb air=24 rh=60 pressure=1013hPa", "wet_bulb") == pytest.approx(same)
