"""What plants drink, how long a tank lasts, and what is learned from its level."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import crops
from walkabout.growing import water_use as of
from walkabout.growing.limits import OutOfRange

VOLUME = st.floats(1, 1000)
USE = st.floats(0.05, 50)


@given(VOLUME, st.floats(0, 0.9), USE)
@settings(max_examples=100)
def test_the_balance_closes(volume, share, use):
    """What is left after the days reckoned is what was to stay."""
    keep = share * volume
    days = of.days_left(volume, keep, use)
    assert volume - days * use == pytest.approx(keep, abs=1e-6)


@given(USE, st.floats(0.1, 60), st.floats(0.1, 1))
@settings(max_examples=100)
def test_size_and_days_are_inverse(use, days, usable):
    """A tank of the size reckoned lasts as long as was asked."""
    volume = of.tank_size(use, days, usable)
    assert of.days_left(volume, (1 - usable) * volume, use) == pytest.approx(days)


def test_below_the_reserve_no_days_are_left():
    """A tank under its reserve lasts 0 days, never less."""
    assert of.days_left(10, 15, 3) == 0


@given(st.floats(0, 1), st.floats(0, 1))
@settings(max_examples=50)
def test_a_plant_drinks_more_as_it_grows(early, late):
    """The share of full growth moves the use from young to mature, never back."""
    early, late = sorted((early, late))
    assert of.each_plant(0.03, 0.1, early) <= of.each_plant(0.03, 0.1, late)
    assert of.each_plant(0.03, 0.1, 0) == 0.03
    assert of.each_plant(0.03, 0.1, 1) == pytest.approx(0.1)


@pytest.mark.parametrize("crop", [crop for crop in crops.load() if crop.water_mature], ids=lambda crop: crop.key)
def test_every_crop_drinks_more_when_it_is_grown(crop):
    """A seedling drinks no more than a young plant, and that no more than a mature one."""
    mature = crop.water_mature.value
    young = crop.water_young.value if crop.water_young else None
    assert 0 < of.seedling(young, mature) <= of.each_plant(young, mature, 0) <= mature


def test_canopy_figures_are_of_known_crops():
    """Each crop of the leaf-cover table stands in the crop table."""
    assert set(of.CANOPY) <= set(crops.load().of)


@pytest.mark.parametrize(
    ("dli", "vpd", "factor"),
    [
        (None, None, 1),
        ((18, 12), None, 1.5),
        (None, (0.4, 0.8), 0.5),
        ((18, 12), (0.4, 0.8), 1.0),
        ((60, 12), None, 2),
        (None, (0, 0.8), 0.5),
    ],
)
def test_light_and_dryness_move_an_estimate(dli, vpd, factor):
    """In proportion, as the mean of both, and never beyond half or double."""
    assert of.factor(dli, vpd) == pytest.approx(factor)


@given(st.floats(0.5, 20), st.integers(3, 12), st.integers(0, 10))
@settings(max_examples=100)
def test_a_steady_use_is_found_exactly(use, days, refill_on):
    """A tank that loses the same each day, refilled once, shows just that use and no spread."""
    levels, litres = [], 300.0
    for day in range(days):
        litres = 400.0 if day == refill_on else litres
        levels.append((float(day), litres))
        litres -= use
    seen = of.learned(levels, same=0)
    assert seen is not None
    assert seen.per_day == pytest.approx(use)
    assert seen.spread == pytest.approx(0, abs=1e-9)


def test_a_refill_is_no_use():
    """A rise starts anew: litres poured in are never counted as drunk, nor taken off."""
    seen = of.learned([(0, 60), (1, 55), (2, 50), (3, 60), (4, 55)])
    assert seen == of.Learned(5, 0, 3)


def test_one_wrong_level_hardly_moves_it():
    """A level misread by 10 L in two weeks does not move the use by more than a tenth of a litre."""
    levels = [(float(day), 100 - 3.0 * day) for day in range(14)]
    levels[6] = (6.0, levels[6][1] - 10)
    seen = of.learned(levels, same=0.2)
    assert seen is not None
    assert seen.per_day == pytest.approx(3, abs=0.1)


def test_days_left_out_count():
    """A weekend without a reading is three days of drinking, not one."""
    seen = of.learned([(0, 60), (3, 48), (4, 44)])
    assert seen is not None
    assert seen.per_day == pytest.approx(4)


def test_a_small_rise_is_the_eye():
    """A rise within a fiftieth of the full tank is a reading error, not a refill, and counts as it stands."""
    seen = of.learned([(0, 60), (1, 57), (2, 57.5), (3, 54)])
    assert seen is not None
    assert seen.falls == 3
    assert seen.per_day == pytest.approx(2, abs=0.5)


@pytest.mark.parametrize("levels", [[], [(0, 60)], [(0, 50), (1, 60)]])
def test_without_a_fall_nothing_is_learned(levels):
    """No level, one level, or nothing but refills: nothing is known."""
    assert of.learned(levels) is None


def test_noise_is_seen_as_spread():
    """Falls that differ from day to day give a spread near theirs."""
    chance = random.Random(5)
    levels, litres = [], 500.0
    for day in range(60):
        levels.append((float(day), litres))
        litres -= max(0.0, chance.gauss(4, 1))
    seen = of.learned(levels, same=0)
    assert seen is not None
    assert seen.per_day == pytest.approx(4, abs=0.4)
    assert 0.6 < seen.spread < 1.5


@given(st.floats(0.1, 20), st.floats(0.1, 20), st.integers(1, 60))
@settings(max_examples=100)
def test_what_is_seen_takes_over(estimate, use, falls):
    """The blend lies between both, comes nearer to what was seen with each fall, and is surer."""
    blended, margin = of.blend(estimate, of.Learned(use, 0, falls))
    more, surer = of.blend(estimate, of.Learned(use, 0, falls + 1))
    assert min(estimate, use) - 1e-9 <= blended <= max(estimate, use) + 1e-9
    assert abs(more - use) <= abs(blended - use) + 1e-9
    assert of.MEASURED_MARGIN <= surer <= margin <= of.ESTIMATE_MARGIN


def test_nothing_seen_leaves_the_estimate():
    """Without a fall the estimate stands with its own margin."""
    assert of.blend(3, None) == (3, of.ESTIMATE_MARGIN)


@pytest.mark.parametrize(
    ("call", "limit"),
    [
        (lambda: of.days_left(60, 15, 0), "more than 0 L/day"),
        (lambda: of.days_left(-1, 0, 1), "at least 0 L"),
        (lambda: of.tank_size(1, 7, 0), "more than 0"),
        (lambda: of.tank_size(1, 7, 1.5), "at most 1"),
        (lambda: of.each_plant(0.03, 0.1, 1.2), "at most 1"),
        (lambda: of.by_canopy(2, 0), "more than 0"),
        (lambda: of.by_light(-1, 150), "at least 0 J/cm²"),
        (lambda: of.for_growth(100, 0.05, 0), "more than 0 g/L"),
        (lambda: of.factor((10, 0), None), "more than 0 mol/m²/d"),
        (lambda: of.learned([(1, 5), (1, 4)]), "days of the levels"),
        (lambda: of.learned([(0, -5)]), "at least 0 L"),
    ],
)
def test_out_of_range_names_the_limit(call, limit):
    """What cannot be is refused, and the text names the limit."""
    with pytest.raises((OutOfRange, ValueError), match=limit):
        call()
