"""How much to sow and how much light makes how much lettuce."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import crops
from walkabout.growing import harvest as of
from walkabout.growing.limits import OutOfRange

SHARE = st.floats(0.05, 1)


@given(st.integers(1, 10_000), st.floats(0, 0.95), SHARE, st.integers(1, 4))
@settings(max_examples=100)
def test_enough_is_left_and_no_more_than_one_place_too_many(
    plants: int, losses: float, germination: float, seeds: int
) -> None:
    """After all losses the places sown leave the plants wanted; one place fewer would not."""
    share = of.filled(germination, seeds)
    found = of.places(plants, losses, share)
    assert found * share * (1 - losses) >= plants - 1e-6 * plants
    assert (found - 1) * share * (1 - losses) < plants + 1e-6 * plants


@given(SHARE, st.integers(1, 5))
@settings(max_examples=60)
def test_more_seeds_fill_more_places(germination: float, seeds: int) -> None:
    """The empty places are those in which every seed failed."""
    assert 1 - of.filled(germination, seeds) == pytest.approx((1 - germination) ** seeds)
    assert of.filled(germination, seeds + 1) >= of.filled(germination, seeds)


def test_exact_numbers_are_not_rounded_up() -> None:
    """36 plants with a tenth lost are 40 places, not 41; 2.4 kg of 150 g heads are 16."""
    assert of.places(36, 0.1) == 40
    assert of.places(30, 0.2) == 38
    assert of.plants_for(2400, 150) == 16
    assert of.plants_for(2401, 150) == 17


@given(st.floats(0, 2000))
@settings(max_examples=60)
def test_efficiency_falls_with_light(ppfd: float) -> None:
    """More light never makes more lettuce for each mole, and the figure stays between the published ends."""
    assert of.efficiency(ppfd) >= of.efficiency(min(ppfd + 50, 3000))
    assert 21 <= of.efficiency(ppfd) <= 29


@given(st.floats(0, 1000), st.floats(0, 24), st.floats(0, 100), st.floats(0, 60))
@settings(max_examples=60)
def test_mass_follows_light_and_days(ppfd: float, hours: float, days: float, grams: float) -> None:
    """Twice the days are twice the mass; light in all is light × seconds."""
    daily = of.daily_light(ppfd, hours)
    assert daily == pytest.approx(ppfd * hours * 3600 / 1e6)
    once = of.fresh_mass(of.photons(min(daily, 100), days), grams)
    assert of.fresh_mass(of.photons(min(daily, 100), 2 * days), grams) == pytest.approx(2 * once)


@given(st.sampled_from(sorted(of.LONGER_DAY)), st.floats(10, 20), st.floats(10, 20))
@settings(max_examples=60)
def test_a_longer_day_and_back_cancel(crop: str, hours: float, to: float) -> None:
    """Going to a longer day and back again leaves the mass as it was."""
    there, back = of.longer_day_gain(crop, hours, to), of.longer_day_gain(crop, to, hours)
    assert (1 + there) * (1 + back) == pytest.approx(1)
    if abs(to - hours) > 1e-6:
        assert (there > 0) == (to > hours)


def test_every_edible_crop_has_a_mass_and_a_portion() -> None:
    """What is eaten has grams a plant and grams a person, each with a source that is listed; others have none."""
    table = of.load()
    for crop in crops.load():
        assert (crop.key in table.plant) == bool(crop.eaten), crop.key
        if crop.eaten:
            assert crop.group in table.portion
    for figure in (*table.plant.values(), *table.portion.values()):
        assert figure.source in table.sources
        assert figure.value > 0


def test_seedlings_weigh_what_a_square_metre_gives() -> None:
    """Thickly sown seedlings come to 1.2 to 2.2 kg/m² at their spacing, as their source says."""
    for crop in crops.load():
        if crop.group == "microgreen":
            per_m2 = of.load().plant[crop.key].value / 1000 / (crop.spacing.value / 100) ** 2
            assert 1.2 <= per_m2 <= 2.2, crop.key


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: of.places(10, 1), "at most 0.99"),
        (lambda: of.filled(1.2), "at most 1"),
        (lambda: of.plants_for(100, 0), "more than 0 g"),
        (lambda: of.daily_light(100, 25), "at most 24 h"),
        (lambda: of.photons(101, 1), "at most 100"),
        (lambda: of.fresh_mass(1, 80), "at most 60 g/mol"),
        (lambda: of.longer_day_gain("lettuce", 8, 16), "at least 10 h"),
    ],
    ids=["all-lost", "share", "massless", "hours", "light", "efficiency", "short-day"],
)
def test_limits_are_named(call: object, says: str) -> None:
    """What is out of range is refused with the limit."""
    with pytest.raises(OutOfRange, match=says):
        call()  # type: ignore[operator]
