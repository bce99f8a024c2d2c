"""Water in the air: what physics says whatever the numbers, and what is refused."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

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
)
from walkabout.growing.day_air import from_both, from_highest, from_mean, mean_svp, mean_vpd
from walkabout.growing.limits import OutOfRange
from walkabout.growing.psychrometer import MOVING, vapour_pressure_from_wet, wet_bulb

degrees = st.floats(min_value=0, max_value=50)
percents = st.floats(min_value=5, max_value=100)
few = settings(max_examples=60)


@few
@given(one=degrees, other=degrees)
def test_warmer_air_holds_more(one, other):
    """The saturation curve never falls."""
    cold, warm = sorted((one, other))
    assert svp(cold) <= svp(warm)


@few
@given(air=st.floats(min_value=0.1, max_value=49.9))
def test_slope_is_that_of_the_curve(air):
    """Equation 13 gives what a small step along equation 11 gives."""
    step = (svp(air + 0.01) - svp(air - 0.01)) / 0.02
    assert slope(air) == pytest.approx(step, rel=1e-3)


@few
@given(air=degrees, rh=percents)
def test_dew_point_and_back(air, rh):
    """Full air of the dew point has just the vapour pressure; the dew point is never above the air."""
    inside = vapour_pressure(air, rh)
    dew = dew_point(inside)
    assert dew <= air + 1e-9
    if dew >= 0:
        assert svp(dew) == pytest.approx(inside, rel=1e-9)
        assert vpd(air, rh, dew) == pytest.approx(0, abs=1e-9)


@few
@given(air=degrees, rh=percents, kind=st.sampled_from(sorted(MOVING)), pressure=st.floats(60, 105))
def test_wet_bulb_and_back(air, rh, kind, pressure):
    """The wet bulb put into the psychrometer's equation gives the humidity that it came from."""
    a = MOVING[kind]
    assume(vapour_pressure(air, rh) > svp(0) - a * pressure * air)
    wet = wet_bulb(air, rh, pressure, a)
    assert dew_point(vapour_pressure(air, rh)) - 1e-6 <= wet <= air
    assert rh_from(vapour_pressure_from_wet(air, wet, pressure, a), svp(air)) == pytest.approx(rh, abs=1e-4)


@few
@given(air=degrees, rh=percents)
def test_humidity_at_a_deficit_and_back(air, rh):
    """The humidity asked for a deficit gives that deficit."""
    assert rh_at_vpd(air, vpd(air, rh)) == pytest.approx(rh, abs=1e-6)


@few
@given(air=degrees, one=percents, other=percents)
def test_damper_air_pulls_less_and_carries_more(air, one, other):
    """With the humidity the deficit falls, and the grams of water rise."""
    dry, damp = sorted((one, other))
    assert vpd(air, dry) >= vpd(air, damp)
    assert absolute_humidity(air, dry) <= absolute_humidity(air, damp)
    assert mixing_ratio(air, dry, 101.325) <= mixing_ratio(air, damp, 101.325)


@few
@given(high=degrees, low=degrees, rh=percents)
def test_a_steady_day_is_as_its_air(high, low, rh):
    """With equal extremes all equations of a day agree; else the mean of the curve is above that of the mean."""
    assert from_both(high, high, rh, rh) == pytest.approx(from_mean(high, high, rh))
    assert from_highest(high, rh) == pytest.approx(vapour_pressure(high, rh))
    cold, warm = sorted((high, low))
    assert mean_svp(warm, cold) >= svp((warm + cold) / 2) - 1e-12


@few
@given(air=st.lists(degrees, min_size=1, max_size=8), rh=percents)
def test_at_one_humidity_the_mean_deficit_is_above_that_of_the_mean(air, rh):
    """The curve bends upwards, so taking the means first loses dryness."""
    mean, of_means = mean_vpd(air, [rh] * len(air))
    assert mean >= of_means - 1e-9


def test_ends_of_the_band_are_inside():
    """0.2 and 1.0 kPa are in the band; below zero it is wet; a band of one's own is held to."""
    assert [verdict(one) for one in (-0.01, 0, 0.19, 0.2, 1.0, 1.01)] == [
        "wet",
        "too damp",
        "too damp",
        "in the band",
        "in the band",
        "too dry",
    ]
    assert verdict(0.4, 0.5, 0.9) == "too damp"


def test_a_leaf_at_the_dew_point_is_wet():
    """In full air a leaf as warm as the air is wet; a tenth of a degree warmer it is dry."""
    dew = dew_point(vapour_pressure(24, 100))
    assert condenses(24, dew)
    assert not condenses(24.1, dew)


@pytest.mark.parametrize(
    ("work", "says"),
    [
        (lambda: svp(-1), "at least 0 °C"),
        (lambda: svp(51), "at most 50 °C"),
        (lambda: svp(float("nan")), "no number"),
        (lambda: vapour_pressure(20, 101), "at most 100 %"),
        (lambda: dew_point(0), "no dew point"),
        (lambda: dew_point(1e-4), "at least -40 °C"),
        (lambda: rh_from(2.4, 2.3), "at most 2.3 kPa"),
        (lambda: rh_from(1, 0), "more than 0 kPa"),
        (lambda: rh_at_vpd(20, 3), "only 2.34 kPa"),
        (lambda: rh_at_vpd(20, 0.1, 22), "deficit of 0.31 kPa"),
        (lambda: vapour_pressure_from_wet(20, 21), "can only be as warm"),
        (lambda: vapour_pressure_from_wet(40, 10), "drier than the driest air"),
        (lambda: vapour_pressure_from_wet(20, 18, 40), "at least 50 kPa"),
        (lambda: vapour_pressure_from_wet(20, 18, 100, 0.1), "coefficient"),
        (lambda: wet_bulb(2, 30), "would freeze"),
        (lambda: mixing_ratio(20, 50, 120), "at most 110 kPa"),
        (lambda: mean_svp(10, 20), "below the lowest"),
        (lambda: from_both(20, 10, 50, 60), "below the lowest"),
    ],
)
def test_what_cannot_be_is_refused(work, says):
    """A value outside names its limit; a pair that cannot be says why."""
    with pytest.raises(OutOfRange, match=says):
        work()


def test_uneven_lists_are_refused():
    """As many humidities as temperatures, and at least one of each."""
    with pytest.raises(ValueError, match="zip"):
        mean_vpd([20, 21], [50])
    with pytest.raises(ValueError, match="no reading"):
        mean_vpd([], [])
