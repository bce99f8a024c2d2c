"""Lamps and electricity: what holds whatever the numbers, and what is refused."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import lamps, light
from walkabout.growing.limits import OutOfRange

watts = st.floats(min_value=1, max_value=2000)
efficacies = st.floats(min_value=0.1, max_value=5.5)
shares = st.floats(min_value=0.05, max_value=1)
areas = st.floats(min_value=0.05, max_value=50)
hours = st.floats(min_value=0.1, max_value=24)
few = settings(max_examples=60)


@few
@given(power=watts, efficacy=efficacies, share=shares, area=areas)
def test_watts_for_a_light_give_that_light(power, efficacy, share, area):
    """From watts to the mean light on an area and back."""
    ppfd = lamps.mean_ppfd(lamps.output(power, efficacy), area, share)
    if ppfd <= 10_000:
        assert lamps.watts_per_m2(ppfd, efficacy, share) * area == pytest.approx(power)


@few
@given(power=watts, efficacy=efficacies, share=shares, area=areas, time=hours)
def test_two_ways_to_the_electricity_of_a_day(power, efficacy, share, area, time):
    """By watts and hours, and by the light of the day: the same kWh."""
    ppfd = lamps.mean_ppfd(lamps.output(power, efficacy), area, share)
    day = light.MOLES_PER_HOUR * ppfd * time
    if day <= 100:
        assert lamps.kwh_for_dli(day, efficacy, share) * area == pytest.approx(lamps.kwh(power, time))


@few
@given(one=efficacies, other=efficacies, power=watts)
def test_a_saving_is_what_the_watts_say(one, other, power):
    """The other lamp with so much less electricity gives as many photons; against itself a lamp saves nothing."""
    left = power * (1 - lamps.saving(one, other) / 100)
    assert lamps.output(left, other) == pytest.approx(lamps.output(power, one))
    assert lamps.saving(one, one) == pytest.approx(0)


@few
@given(efficacy=efficacies, power=watts, time=hours)
def test_photons_of_a_kwh(efficacy, power, time):
    """A kWh buys what the lamp gives in the time that it takes to draw a kWh."""
    moles = lamps.output(power, efficacy) * time * 3600 / 1e6
    assert lamps.moles_per_kwh(efficacy) * lamps.kwh(power, time) == pytest.approx(moles)


@few
@given(efficacy=efficacies, loss=st.floats(0, 100))
def test_a_cover_only_takes_away(efficacy, loss):
    """After a loss there is never more light than before, and never less than none."""
    assert 0 <= lamps.after_loss(efficacy, loss) <= efficacy


def test_no_lamp_in_the_table_passes_the_limit():
    """Every efficacy is below that of faultless light of 700 nm, and names its source."""
    for one in lamps.EFFICACIES.values():
        assert 0 < one.value < lamps.photon_limit(700)
        assert one.source
        assert one.says


@pytest.mark.parametrize(
    ("work", "named"),
    [
        (lambda: lamps.kwh(-1, 10), "power is -1 W"),
        (lambda: lamps.kwh(100, 25), "at most 24 h"),
        (lambda: lamps.kwh(100, 10, -1), "days"),
        (lambda: lamps.output(100, 0), "efficacy"),
        (lambda: lamps.output(100, 7), "at most 6 µmol/J"),
        (lambda: lamps.mean_ppfd(100, 0), "area is 0 m²"),
        (lambda: lamps.mean_ppfd(100, 1, 1.2), "reaches the crop"),
        (lambda: lamps.mean_ppfd(-1, 1), "photons"),
        (lambda: lamps.kwh_for_dli(10, 2, 0), "reaches the crop"),
        (lambda: lamps.watts_per_m2(-1, 2), "PPFD"),
        (lambda: lamps.saving(1, 0), "efficacy"),
        (lambda: lamps.after_loss(2, 101), "at most 100 %"),
        (lambda: lamps.photon_limit(0), "wavelength"),
        (lambda: lamps.photon_limit(660, 120), "at most 100 %"),
    ],
)
def test_what_a_lamp_refuses(work, named):
    """A value that no lamp can have is refused with the limit."""
    with pytest.raises(OutOfRange, match=named):
        work()
