"""The air, held against published worked examples and against a general library of moist air.

FAO 56: Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56; equation and example
beside each row. ASHRAE: Handbook of Fundamentals 2017, chapter 1, as PsychroLib's test files carry it.
Where no tolerance is explained, it is half of the last printed digit, or a little more where the printed
figure went through rounded steps.
"""

import json
from pathlib import Path

import pytest

from walkabout.growing.air import (
    absolute_humidity,
    condenses,
    dew_point,
    mixing_ratio,
    rh_at_vpd,
    rh_from,
    slope,
    svp,
    vapour_pressure,
    verdict,
    vpd,
    vpd_error,
)
from walkabout.growing.day_air import from_both, from_mean, mean_svp, mean_vpd
from walkabout.growing.pressure import at_altitude, at_altitude_fao
from walkabout.growing.psychrometer import vapour_pressure_from_wet, wet_bulb

FROZEN = json.loads((Path(__file__).with_name("frozen") / "psychrolib.json").read_text(encoding="utf-8"))
GRID = FROZEN["cases"]

SATURATION = [
    # °C, kPa, tolerance, source
    (15, 1.705, 0.002, "FAO 56 example 3"),
    (24.5, 3.075, 0.002, "FAO 56 example 3"),
    (18, 2.064, 0.002, "FAO 56 example 5"),
    (25, 3.168, 0.002, "FAO 56 example 5"),
    (19.5, 2.267, 0.002, "FAO 56 example 4"),
    # the tolerance of the next lets MetPy 1.7.1 in, up to 0.4 % lower
    (0, 0.611, 0.004, "FAO 56 equation 11"),
    (5, 0.872, 0.004, "FAO 56 equation 11"),
    (12, 1.403, 0.004, "FAO 56 equation 11"),
    (20, 2.338, 0.004, "FAO 56 equation 11"),
    (22, 2.644, 0.004, "FAO 56 equation 11"),
    (28, 3.78, 0.004, "FAO 56 equation 11"),
    (35, 5.623, 0.02, "FAO 56 equation 11"),
    (40, 7.376, 0.02, "FAO 56 equation 11"),
    (45, 9.582, 0.02, "FAO 56 equation 11"),
    (5, 0.8726, 0.0017, "ASHRAE table 3, 0.2 % for the other formula"),
    (25, 3.1697, 0.0063, "ASHRAE table 3, 0.2 % for the other formula"),
]

AIRS = [
    # °C, %, VPD kPa, dew point °C, wet bulb °C: FAO 56 equations 11, 14, 19; wet bulb of PsychroLib 2.5.0.
    # 0.35 °C for the wet bulb covers MetPy's, which is up to 0.33 °C lower.
    (10, 80, 0.246, 6.71, 8.29),
    (15, 60, 0.682, 7.31, 10.82),
    (18, 70, 0.619, 12.45, 14.63),
    (20, 50, 1.169, 9.27, 13.78),
    (20, 75, 0.585, 15.44, 17.07),
    (24, 60, 1.194, 15.76, 18.61),
    (25, 50, 1.584, 13.86, 17.89),
    (26, 85, 0.504, 23.28, 24.02),
    (30, 40, 2.546, 14.93, 20.06),
    (30, 70, 1.273, 23.92, 25.5),
    (35, 30, 3.936, 14.83, 21.52),
]

LEAVES = [
    # air °C, %, leaf °C, VPD kPa: e°(leaf) - e(air) by FAO 56 equation 11
    (25, 60, 23, 0.909),
    (25, 60, 27, 1.665),
    (28, 55, 26, 1.282),
    (20, 80, 20.5, 0.541),
    (24, 65, 22, 0.704),
    (18, 75, 17, 0.39),
]


@pytest.mark.parametrize(
    ("air", "full", "tolerance"), [row[:3] for row in SATURATION], ids=[f"{row[0]}C {row[3]}" for row in SATURATION]
)
def test_saturation_is_as_printed(air, full, tolerance):
    """Full air has the vapour pressure that the examples and tables print."""
    assert svp(air) == pytest.approx(full, abs=tolerance)


def test_slope_is_that_of_example_18():
    """At 16.9 °C the curve rises by 0.122 kPa for each degree (FAO 56 equation 13, example 18)."""
    assert slope(16.9) == pytest.approx(0.122, abs=0.001)


def test_warm_air_holds_double():
    """From 60 to 80 °F the air's hold nearly doubles: the textbook rule of 20 °F, 1.98 by FAO 56 equation 11."""
    assert svp((80 - 32) / 1.8) / svp((60 - 32) / 1.8) == pytest.approx(1.98, abs=0.005)


def test_day_of_example_3():
    """24.5 and 15 °C make 2.39 kPa (FAO 56 equation 12); the mean temperature alone would give 2.30."""
    assert mean_svp(24.5, 15) == pytest.approx(2.39, abs=0.01)
    assert svp((24.5 + 15) / 2) == pytest.approx(2.30, abs=0.005)


def test_wet_and_dry_bulb_of_example_4():
    """25.6 and 19.5 °C, aspirated, at 87.9 kPa (1200 m): 1.91 kPa (FAO 56 equations 7, 15 and 16)."""
    assert vapour_pressure_from_wet(25.6, 19.5, 87.9) == pytest.approx(1.91, abs=0.01)
    assert vapour_pressure_from_wet(25.6, 19.5, at_altitude_fao(1200)) == pytest.approx(1.91, abs=0.01)


def test_day_of_example_5():
    """18 to 25 °C with 82 and 54 %: 1.70 kPa (FAO 56 equation 17); with the mean of 68 %: 1.78 (equation 19)."""
    assert from_both(25, 18, 82, 54) == pytest.approx(1.70, abs=0.01)
    assert from_mean(25, 18, 68) == pytest.approx(1.78, abs=0.01)


def test_humidity_from_two_pressures():
    """1.91 of 2.39 kPa are 79.9 % (FAO 56 equation 10)."""
    assert rh_from(1.91, 2.39) == pytest.approx(79.9, abs=0.1)


def test_pressure_at_heights():
    """81.8 kPa at 1800 m (FAO 56 example 2); 95.46 at 500 m (ASHRAE table 1), where FAO's 95.53 is 0.07 off."""
    assert at_altitude_fao(1800) == pytest.approx(81.8, abs=0.1)
    assert at_altitude(500) == pytest.approx(95.461, abs=0.01)
    assert at_altitude_fao(500) == pytest.approx(95.461, abs=0.12)


def test_wet_and_dry_bulb_of_ashrae():
    """40 and 20 °C at sea level: dew point 7 °C, 14 % (ASHRAE example 1, read off a chart: ±0.5 °C, ±1 %)."""
    inside = vapour_pressure_from_wet(40, 20)
    assert dew_point(inside) == pytest.approx(7, abs=0.5)
    assert rh_from(inside, svp(40)) == pytest.approx(14, abs=1)


def test_wet_and_dry_bulb_in_a_room():
    """22 and 18 °C at 101.3 kPa, aspirated: 67.9 % (FAO 56 equations 15 and 16, worked out by hand)."""
    assert rh_from(vapour_pressure_from_wet(22, 18, 101.3), svp(22)) == pytest.approx(67.9, abs=0.5)


@pytest.mark.parametrize(("air", "rh", "deficit", "dew", "wet"), AIRS, ids=[f"{row[0]}C {row[1]}%" for row in AIRS])
def test_deficit_dew_point_and_wet_bulb(air, rh, deficit, dew, wet):
    """The three agree with the table: ±0.01 kPa, ±0.1 °C, ±0.35 °C; the dew point is never the wet bulb."""
    assert vpd(air, rh) == pytest.approx(deficit, abs=0.01)
    assert dew_point(vapour_pressure(air, rh)) == pytest.approx(dew, abs=0.1)
    assert wet_bulb(air, rh) == pytest.approx(wet, abs=0.35)
    assert dew_point(vapour_pressure(air, rh)) < wet_bulb(air, rh) - 0.5


@pytest.mark.parametrize(("air", "rh", "leaf", "deficit"), LEAVES, ids=[f"{r[0]}C {r[1]}% leaf {r[2]}" for r in LEAVES])
def test_deficit_at_a_leaf(air, rh, leaf, deficit):
    """A warmer leaf loses more, a cooler one less, by the saturation curve."""
    assert vpd(air, rh, leaf) == pytest.approx(deficit, abs=0.01)


def test_humidity_at_a_deficit():
    """1.0 kPa at 20 °C is 57.2 %; Grange and Hand 1987 round it to 55 %."""
    assert rh_at_vpd(20, 1.0) == pytest.approx(57.2, abs=0.2)


def test_deficit_of_an_experiment_with_strawberries():
    """25.7 °C and 73 % are 0.89 kPa: Applied Sciences 2020, 10(3):1044 logged a mean of 0.95, which is not that."""
    assert vpd(25.7, 73) == pytest.approx(0.89, abs=0.01)


def test_mean_of_deficits_is_not_the_deficit_of_means():
    """A warm dry noon and a cool damp night: the deficits' mean is 0.27 kPa above what the means give."""
    mean, of_means = mean_vpd([18, 30], [90, 50])
    assert mean == pytest.approx((0.2064 + 2.1215) / 2, abs=0.001)
    assert of_means == pytest.approx(svp(24) * 0.30, abs=1e-9)
    assert mean - of_means == pytest.approx(0.27, abs=0.01)


def test_leaf_at_which_water_condenses():
    """Air of 60 °F and 85 %: a leaf of 55.5 °F gets wet (a trade article rounds to 55)."""
    dew = dew_point(vapour_pressure((60 - 32) / 1.8, 85))
    assert dew * 1.8 + 32 == pytest.approx(55.5, abs=0.3)


@pytest.mark.parametrize(
    ("air", "rh", "expected", "word"),
    [(20, 70, 0.70, "in the band"), (18, 95, 0.10, "too damp"), (24, 75, 0.75, "in the band")],
    ids=["20C 70%", "18C 95%", "24C 75%"],
)
def test_band_of_grange_and_hand(air, rh, expected, word):
    """0.2 to 1.0 kPa does little to crops, below is too damp, above too dry: Grange and Hand 1987."""
    assert vpd(air, rh) == pytest.approx(expected, abs=0.01)
    assert verdict(vpd(air, rh)) == word


@pytest.mark.parametrize(
    ("air", "rh", "leaf", "dew"), [(22, 85, 18, 19.4), (24, 90, 21.5, 22.3)], ids=["leaf 18C", "leaf 21.5C"]
)
def test_a_cool_leaf_gets_wet(air, rh, leaf, dew):
    """A leaf colder than the dew point is wet (FAO 56 equations 11 and 14)."""
    found = dew_point(vapour_pressure(air, rh))
    assert found == pytest.approx(dew, abs=0.1)
    assert condenses(leaf, found)
    assert not condenses(found + 0.1, found)


def test_a_sensor_moves_the_deficit():
    """3 % of humidity at 20 °C are 0.07 kPa."""
    assert vpd_error(20) == pytest.approx(0.07, abs=0.001)
    assert vpd(20, 67) - vpd(20, 70) == pytest.approx(vpd_error(20), abs=1e-12)


def test_saturation_and_deficit_over_the_grid():
    """FAO 56 stays within 0.15 % of ASHRAE's saturation and, where there is one, within 0.5 % of its deficit."""
    for one in GRID:
        assert svp(one["air"]) == pytest.approx(one["svp"], rel=0.0015), one
        if one["rh"] < 100:
            assert vpd(one["air"], one["rh"]) == pytest.approx(one["vpd"], rel=0.005), one


def test_dew_point_over_the_grid():
    """Within 0.1 °C of PsychroLib, where it does not freeze: below 0 °C that library goes by ice."""
    compared = [one for one in GRID if one["dew_point"] >= 0]
    assert len(compared) > 100
    for one in compared:
        assert dew_point(vapour_pressure(one["air"], one["rh"])) == pytest.approx(one["dew_point"], abs=0.1), one


def test_wet_bulb_over_the_grid():
    """Within 0.35 °C of PsychroLib's thermodynamic wet bulb, at sea level and at 85 kPa, above freezing."""
    compared = [one for one in GRID if one["wet_bulb"] > 0.2]
    assert len(compared) > 150
    for one in compared:
        assert wet_bulb(one["air"], one["rh"], one["pressure"]) == pytest.approx(one["wet_bulb"], abs=0.35), one


def test_water_over_the_grid():
    """Grams to a cubic metre and to a kilogram of dry air: within 0.5 % of PsychroLib."""
    for one in GRID:
        assert absolute_humidity(one["air"], one["rh"]) == pytest.approx(one["grams"], rel=0.005), one
        assert mixing_ratio(one["air"], one["rh"], one["pressure"]) == pytest.approx(one["mixing_ratio"], rel=0.005)
