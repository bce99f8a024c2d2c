"""Light on the leaves: what holds whatever the numbers, and what is refused."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import light, light_kinds
from walkabout.growing.limits import OutOfRange

levels = st.floats(min_value=0, max_value=5000)
lit = st.floats(min_value=1, max_value=5000)
hours = st.floats(min_value=0.01, max_value=24)
days = st.lists(st.floats(min_value=0, max_value=60), min_size=1, max_size=30)
few = settings(max_examples=60)


@few
@given(ppfd=levels, kind=st.sampled_from(sorted(light_kinds.KINDS)))
def test_lux_and_back(ppfd, kind):
    """Turning photons into lux and back changes nothing, whatever the lamp."""
    factor = light_kinds.KINDS[kind].lux
    assert light.ppfd_from_lux(light.lux_from_ppfd(ppfd, factor), factor) == pytest.approx(ppfd)


@few
@given(ppfd=lit, time=hours)
def test_light_of_a_day_and_back(ppfd, time):
    """From the light of a day both the level and the hours come back."""
    day = light.dli(ppfd, time)
    if day <= light.MOST_DLI:
        assert light.ppfd_for(day, time) == pytest.approx(ppfd)
        assert light.hours_for(day, ppfd) == pytest.approx(time)


@few
@given(one=levels, other=levels, time=hours)
def test_light_adds_up(one, other, time):
    """Two lamps together bring what each brings alone, and two halves of the time what the whole brings."""
    assert light.dli(one + other, time) == pytest.approx(light.dli(one, time) + light.dli(other, time))
    assert 2 * light.dli(one, time / 2) == pytest.approx(light.dli(one, time))


@few
@given(ppfd=levels, many=st.integers(1, 48))
def test_a_steady_reading_is_a_steady_lamp(ppfd, many):
    """Readings that never change sum up to the light of a lamp that never changes."""
    every = 24 / many
    assert light.dli_of_readings([ppfd] * many, every) == pytest.approx(light.dli(ppfd, 24), abs=1e-9)


@few
@given(run=days)
def test_mean_lies_between_the_days(run):
    """The mean of several days is no darker than the darkest and no brighter than the brightest."""
    assert min(run) - 1e-9 <= light.mean(run) <= max(run) + 1e-9


@few
@given(run=days, wanted=st.floats(min_value=0, max_value=60))
def test_the_next_day_makes_the_mean(run, wanted):
    """With what the next day needs the mean is as wanted; where nothing is needed it is no lower."""
    need = light.tomorrow(run, wanted)
    if 0 < need <= light.MOST_DLI:
        assert light.mean([*run, need]) == pytest.approx(wanted)
    elif need == 0:
        assert light.mean([*run, 0]) >= wanted - 1e-9


@few
@given(wanted=st.floats(0, 60), daylight=st.floats(0, 60))
def test_lamps_never_take_away(wanted, daylight):
    """Lamps fill what is missing and no more."""
    added = light.missing(wanted, daylight)
    assert added >= 0
    assert added + daylight == pytest.approx(max(wanted, daylight))


@pytest.mark.parametrize(
    ("work", "named"),
    [
        (lambda: light.dli(100, 24.5), "hours of light is 24.5 h: it must be at most 24 h"),
        (lambda: light.dli(-1, 12), "PPFD is -1"),
        (lambda: light.dli(float("nan"), 12), "no number"),
        (lambda: light.ppfd_for(10, 0), "more than 0 h"),
        (lambda: light.ppfd_for(101, 12), "at most 100 mol/m²/d"),
        (lambda: light.hours_for(10, 0), "more than 0 µmol"),
        (lambda: light.ppfd_from_lux(2e6, 54), "illuminance"),
        (lambda: light.ppfd_from_lux(100, 0), "factor"),
        (lambda: light.lux_from_ppfd(100, -1), "factor"),
        (lambda: light.mean([]), "at least one day"),
        (lambda: light.mean([10, 200]), "daily light is 200"),
        (lambda: light.dli_of_readings([100] * 25, 1), "readings stand for is 25 h"),
        (lambda: light.dli_of_readings([100], 0), "between readings"),
        (lambda: light.missing(10, -1), "daily light is -1"),
    ],
)
def test_what_is_refused(work, named):
    """A value out of range is refused with the limit."""
    with pytest.raises(OutOfRange, match=named.replace(".", r"\.").replace("(", r"\(")):
        work()


def test_every_kind_of_light_says_whose_factor_it_is():
    """Each has a source, a plausible factor, and a nearest spectrum that exists."""
    for key, kind in light_kinds.KINDS.items():
        assert kind.key == key
        assert kind.source
        assert 45 < kind.lux < 110
        assert kind.cie == "" or kind.cie in light_kinds.SPECTRA


@pytest.mark.parametrize("key", [key for key, one in light_kinds.KINDS.items() if one.cie])
def test_published_factors_stand_near_the_spectra(key):
    """A factor that has a spectrum beside it differs from it by no more than the error it is given."""
    kind = light_kinds.KINDS[key]
    assert light_kinds.factor(kind, "CIE")[0] == pytest.approx(kind.lux, rel=kind.error / 100)


@pytest.mark.parametrize(
    ("key", "follow"), [("sky", "CIE"), ("double-ended", "CIE"), ("sun", "2001"), ("white-led", "1983")]
)
def test_a_list_without_the_lamp_is_refused(key, follow):
    """A list that has no factor for a light says so, and does not lend another's."""
    with pytest.raises(ValueError, match="no "):
        light_kinds.factor(light_kinds.KINDS[key], follow)


def test_whose_factor_is_said():
    """Each list gives its own factor for the same lamp, with its own source."""
    tube = light_kinds.KINDS["cool-white"]
    found = {follow: light_kinds.factor(tube, follow) for follow in light_kinds.FOLLOWS}
    assert [round(found[one][0], 1) for one in ("1983", "CIE", "2001")] == [74.0, 76.5, 78.6]
    assert len({source for _, source in found.values()}) == 3
