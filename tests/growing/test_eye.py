"""What an eye makes of one colour: the curve, the energy of photons, and what is refused."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import eye
from walkabout.growing.lamps import photon_limit
from walkabout.growing.limits import OutOfRange

colours = st.floats(min_value=400, max_value=700)
few = settings(max_examples=60)


@few
@given(nm=st.floats(min_value=380, max_value=779.9))
def test_the_curve_has_one_peak_at_555(nm):
    """The eye sees best at 555 nm, and less the further a colour is from it."""
    nearer, further = (nm, nm + 0.1) if nm >= 555 else (nm + 0.1, nm)
    assert 0 < eye.sensitivity(further) <= eye.sensitivity(nearer) + 1e-12 <= 1 + 1e-12


@few
@given(one=colours, other=colours)
def test_longer_waves_cost_less(one, other):
    """A photon of a longer wave has less energy; the limit of a lamp is one over it."""
    short, long = sorted((one, other))
    assert eye.photon_energy(long) <= eye.photon_energy(short)
    assert photon_limit(one) * eye.photon_energy(one) == pytest.approx(1)


@few
@given(one=colours, other=colours, share=st.floats(0, 100))
def test_a_mix_lies_between_its_colours(one, other, share):
    """A mix is seen no better than the better of its colours and no worse than the other."""
    low, high = sorted((eye.lux_per_micromole(one), eye.lux_per_micromole(other)))
    mixed = eye.lux_of_mix([one, other], [share, 100 - share])
    assert low * (1 - 1e-9) <= mixed <= high * (1 + 1e-9)


def test_energy_of_photons_is_from_the_constants():
    """They make the product of h, c and N, in J nm for each µmol; the values of the SI of 2019."""
    planck, light_speed, avogadro = 6.62607015e-34, 299_792_458, 6.02214076e23
    assert pytest.approx(planck * light_speed * avogadro * 1e9 / 1e6, rel=1e-7) == eye.JOULE_NANOMETRES


@pytest.mark.parametrize(
    ("work", "named"),
    [
        (lambda: eye.sensitivity(379), "at least 380 nm"),
        (lambda: eye.lux_per_micromole(781), "at most 780 nm"),
        (lambda: eye.lux_of_mix([730], [1]), "at most 700 nm"),
        (lambda: eye.lux_of_mix([], []), "one share for each"),
        (lambda: eye.lux_of_mix([450, 660], [1]), "one share for each"),
        (lambda: eye.lux_of_mix([450], [0]), "sum of the shares"),
        (lambda: eye.lux_of_mix([450, 660], [-1, 2]), "at least 0"),
        (lambda: eye.photon_energy(0), "more than 0 nm"),
    ],
)
def test_what_an_eye_refuses(work, named):
    """A colour that does not count, and shares that do not fit, are refused with the limit."""
    with pytest.raises(OutOfRange, match=named):
        work()
