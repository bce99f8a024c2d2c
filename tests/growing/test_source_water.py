"""Limits of source water, and its chlorine."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import source_water as of
from walkabout.growing.limits import OutOfRange

ITEMS = ("ec", "ph", "alkalinity", "cl", "na", "ca", "mg", "so4", "b", "chlorine")


@pytest.mark.parametrize(
    ("key", "value", "use", "word"),
    [
        ("ec", 0.5, "closed", "in range"),
        ("ec", 0.51, "closed", "usable"),
        ("ec", 0.74, "plugs", "usable"),
        ("ec", 0.75, "plugs", "high"),
        ("ec", 0.75, "pot", "usable"),
        ("ec", 1.5, "open", "high"),
        ("cl", 69.9, "closed", "in range"),
        ("cl", 100, "closed", "high"),
        ("cl", 100, "open", "in range"),
        ("cl", 140, "open", "high"),
        ("alkalinity", 39, "pot", "low"),
        ("alkalinity", 66, "closed", "high"),
        ("alkalinity", 75, "plugs", "usable"),
        ("alkalinity", 76, "plugs", "high"),
        ("alkalinity", 100, "small", "high"),
        ("alkalinity", 120, "pot", "usable"),
        ("alkalinity", 140, "large", "usable"),
        ("alkalinity", 150, "large", "high"),
        ("b", 0.4, "closed", "in range"),
        ("b", 0.5, "closed", "high"),
        ("so4", 99, "closed", "in range"),
        ("ca", 150, "closed", "high"),
        ("mg", 49, "closed", "in range"),
        ("chlorine", 0, "closed", "in range"),
        ("chlorine", 0.4, "closed", "usable"),
        ("chlorine", 0.5, "open", "high"),
        ("chlorine", 2, "pot", "usable"),
        ("chlorine", 4, "pot", "high"),
    ],
)
def test_each_limit(key, value, use, word):
    """A figure is judged for the use it is meant for; a figure that stands at a limit is too high."""
    assert of.judge(key, value, use).word == word


@pytest.mark.parametrize(
    ("value", "whose", "word"),
    [
        (7.0, "Dole", "high"),
        (7.0, "Purdue", "in range"),
        (5.2, "Dole", "low"),
        (5.2, "Purdue", "in range"),
        (4.9, "Purdue", "low"),
        (6.8, "Dole", "in range"),
    ],
)
def test_two_bands_of_ph(value, whose, word):
    """Two sources disagree about the pH of water: the one asked for decides, and the other is named."""
    judged = of.judge("ph", value, "closed", whose)
    assert judged.word == word
    assert judged.sources == (whose,)
    assert ("Purdue" if whose == "Dole" else "Dole") in judged.other


@pytest.mark.parametrize("use", of.USES)
@pytest.mark.parametrize("key", ITEMS)
def test_every_judgement_names_its_source(key, use):
    """Each judgement says against what, and its sources are written out."""
    judged = of.judge(key, 1, use)
    assert judged.band
    assert judged.sources
    assert set(judged.sources) <= set(of.SOURCES)


@pytest.mark.parametrize("key", [key for key in ITEMS if key != "ph"])
def test_more_is_never_better(key):
    """Of salts, alkalinity and chlorine, more never turns 'high' into something better."""
    words = [of.judge(key, value / 20, "pot").word for value in range(0, 6000, 7)]
    assert "high" in words
    assert set(words[words.index("high") :]) == {"high"}


@given(st.floats(0, 3.99))
@settings(max_examples=100)
def test_more_chlorine_costs_more(chlorine):
    """Between the doses tried the loss rises steadily."""
    assert of.raft_loss(chlorine) < of.raft_loss(min(4.0, chlorine + 0.01))


@given(st.floats(0, 100))
@settings(max_examples=50)
def test_thiosulfate_closes_the_balance(chlorine):
    """One mole of thiosulfate for four of chlorine, as salt or as crystals; acid water takes eight times as much."""
    moles = of.thiosulfate(chlorine) / of.THIOSULFATE_MASS
    assert 4 * moles * of.CHLORINE_MASS == pytest.approx(chlorine)
    assert of.pentahydrate(chlorine) / of.PENTAHYDRATE_MASS == pytest.approx(moles)
    assert of.thiosulfate_in_acid_water(chlorine) == pytest.approx(
        2 * chlorine / of.CHLORINE_MASS * of.THIOSULFATE_MASS
    )


@pytest.mark.parametrize(
    ("call", "limit"),
    [
        (lambda: of.raft_loss(4.1), "at most 4 mg/L"),
        (lambda: of.raft_loss(-1), "at least 0 mg/L"),
        (lambda: of.thiosulfate(101), "at most 100 mg/L"),
        (lambda: of.judge("na", -1), "at least 0"),
        (lambda: of.judge("ph", 15), "at most 14"),
    ],
)
def test_out_of_range_names_the_limit(call, limit):
    """What was never measured is refused, and the text names the limit."""
    with pytest.raises(OutOfRange, match=limit):
        call()
