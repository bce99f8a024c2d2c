"""Conditions for disease: how verdicts move, how a day is read, and what is refused."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import disease_weather as weather
from walkabout.growing.disease import (
    any_leaf_disease,
    damping_off,
    downy_mildew,
    grey_mould_in_the_house,
    grey_mould_on_flowers,
    leaf_is_wet,
    powdery_mildew,
    root_zone,
)
from walkabout.growing.disease_weather import Spell
from walkabout.growing.limits import OutOfRange

RANK = ("no infection expected", "unlikely", "possible", "high")
airs = st.floats(min_value=0, max_value=50)
hours = st.floats(min_value=0, max_value=48)
few = settings(max_examples=100)


@few
@given(air=airs, one=hours, other=hours)
def test_longer_wetness_is_never_safer(air, one, other):
    """At one temperature more hours of wetness never lower the verdict on downy mildew."""
    short, long = sorted((one, other))
    assert RANK.index(downy_mildew(air, short).verdict) <= RANK.index(downy_mildew(air, long).verdict)


@few
@given(air=airs, wet=hours, rh=st.floats(0, 100))
def test_every_judgement_has_a_reason_and_a_source(air, wet, rh):
    """Nothing is judged without a sentence and a source."""
    for judged in (
        downy_mildew(air, wet),
        grey_mould_on_flowers(air, wet),
        grey_mould_in_the_house(air, wet, rh),
        powdery_mildew(air, rh),
        any_leaf_disease(rh, wet),
        damping_off(air, "tomato"),
        damping_off(air, "rye"),
        root_zone(min(air, 45)),
    ):
        assert judged.verdict
        assert judged.why.endswith(".")
        assert judged.source


def test_limits_between_the_tested_hours_are_straight():
    """Half way between 2 h (20 °C) and 6 h (10 °C) it takes 15 °C."""
    assert downy_mildew(15.1, 4).verdict == "possible"
    assert downy_mildew(14.9, 4).verdict == "no infection expected"


def test_a_leaf_is_wet_at_the_dew_point_or_in_damp_air():
    """At 90 % every leaf counts as wet; below, only one that is cold enough; in air with no water, none."""
    assert leaf_is_wet(20, 90)
    assert not leaf_is_wet(20, 89)
    assert leaf_is_wet(22, 85, 18)
    assert not leaf_is_wet(22, 85, 20)
    assert not leaf_is_wet(22, 0, 0)


@pytest.mark.parametrize(
    ("temperature", "word"),
    [(10, "low"), (15, "low"), (23, "low"), (24, "possible"), (27, "high"), (36, "possible"), (44, "low")],
)
def test_damping_off_where_no_crop_was_tested(temperature, word):
    """Without a crop the fungus itself and the tomato decide."""
    assert damping_off(temperature).verdict == word


@pytest.mark.parametrize(
    ("rh", "wet", "word"),
    [(90, None, "favourable"), (89, None, "unfavourable"), (50, 1, "favourable"), (None, 0, "unfavourable")],
)
def test_leaf_diseases_in_general(rh, wet, word):
    """90 % or a wet leaf helps them: University of Kentucky PPFS-GH-1."""
    assert any_leaf_disease(rh, wet).verdict == word


@pytest.mark.parametrize(
    ("air", "rh", "of", "word"),
    [
        (25, None, "both", "possible"),
        (12, None, "both", "unfavourable"),
        (22, 30, "both", "unlikely"),
        (12, 95, "tomato", "favourable"),
        (33, 60, "tomato", "possible"),
        (27, 96, "golovinomyces", "unfavourable"),
    ],
)
def test_powdery_mildew_by_whose_figures(air, rh, of, word):
    """Each set of figures has its own limits; without a humidity only warmth is judged."""
    assert powdery_mildew(air, rh, of).verdict == word


@few
@given(flags=st.lists(st.booleans(), max_size=30))
def test_spells_cover_what_was_flagged(flags):
    """The runs together are the readings flagged, each once, in order, with a gap between two runs."""
    found = weather.spells(flags)
    assert [at for one in found for at in range(one.first, one.end)] == [at for at, flag in enumerate(flags) if flag]
    assert all(left.end < right.first for left, right in pairwise(found))


def test_a_damp_night():
    """Ten hours at 95 % and 18 °C: wet, good for grey mould and downy mildew; the dry day is good for neither."""
    day = weather.judge([18] * 10 + [24] * 14, [95] * 10 + [60] * 14, None, 1)
    assert day.wet == (Spell(0, 10),)
    assert day.grey_mould.verdict == "conditions met"
    assert day.downy_mildew.verdict == "high"
    assert day.powdery_mildew.verdict == "favourable"
    assert day.powdery_mildew.spells == (Spell(0, 10),)


def test_short_spells_do_not_add_up():
    """Two wet spells of five hours are not one of ten: grey mould needs eight without a break."""
    day = weather.judge([18] * 12, [95] * 5 + [60] * 2 + [95] * 5, None, 1)
    assert len(day.wet) == 2
    assert day.grey_mould.verdict == "conditions not met"


def test_a_dry_day():
    """A dry cold day favours none."""
    day = weather.judge([10] * 24, [60] * 24, None, 1)
    assert day.wet == ()
    assert (day.powdery_mildew.verdict, day.grey_mould.verdict, day.downy_mildew.verdict) == (
        "unfavourable",
        "conditions not met",
        "no infection expected",
    )


def test_cold_leaves_are_wet_in_air_that_is_not_damp():
    """At 85 % a leaf 4 °C below the air is wet, one as warm as the air is not."""
    assert weather.judge([22] * 3, [85] * 3, [18, 22, 18], 1).wet == (Spell(0, 1), Spell(2, 3))


@pytest.mark.parametrize(
    ("work", "says"),
    [
        (lambda: downy_mildew(20, -1), "at least 0 h"),
        (lambda: downy_mildew(60, 5), "at most 50 °C"),
        (lambda: grey_mould_in_the_house(20, 5, 120), "at most 100 %"),
        (lambda: damping_off(60), "at most 50 °C"),
        (lambda: root_zone(60), "at most 45 °C"),
    ],
)
def test_values_outside_are_refused(work, says):
    """The refusal names the limit."""
    with pytest.raises(OutOfRange, match=says):
        work()


def test_nothing_to_judge_is_refused():
    """Without a humidity and without wetness there is nothing to go by; whose figures must be known."""
    with pytest.raises(ValueError, match="humidity or the hours"):
        any_leaf_disease(None, None)
    with pytest.raises(KeyError):
        root_zone(20, "nobody")
    with pytest.raises(KeyError):
        powdery_mildew(20, 50, "nobody")
