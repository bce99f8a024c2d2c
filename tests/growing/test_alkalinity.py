"""Alkalinity and hardness: units that turn back into each other, and the names of classes."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import alkalinity as of
from walkabout.growing.limits import OutOfRange


@given(st.floats(0, 5000), st.sampled_from(list(of.ALKALINITY)))
@settings(max_examples=100)
def test_units_turn_back(caco3, unit):
    """What goes out in a unit comes back as the same alkalinity."""
    assert of.as_caco3(of.in_units(caco3)[unit], unit) == pytest.approx(caco3, abs=1e-9)


def test_a_millimole_is_not_the_same_thing():
    """For hardness a millimole is twice a milliequivalent; for alkalinity laboratories mean the same."""
    assert of.HARDNESS["mmol/L"] / of.HARDNESS["meq/L"] == pytest.approx(2, rel=2e-4)
    assert of.ALKALINITY["mmol/L"] == of.ALKALINITY["meq/L"]
    assert "mg/L HCO3" not in of.HARDNESS


@pytest.mark.parametrize(
    ("caco3", "word"),
    [(39.9, "low"), (40, "in range"), (50.04, "in range"), (65, "in range"), (65.1, "high"), (0, "low")],
)
def test_alkalinity_band(caco3, word):
    """40 to 65 mg/L is the band, both ends inside."""
    assert of.alkalinity_verdict(caco3) == word


@pytest.mark.parametrize(
    ("caco3", "name"), [(0, "soft"), (60, "soft"), (61, "moderately hard"), (180, "hard"), (181, "very hard")]
)
def test_hardness_classes(caco3, name):
    """Each class ends with its highest figure."""
    assert of.hardness_class(caco3) == name


@given(st.floats(0, 1000), st.floats(0, 1000))
@settings(max_examples=50)
def test_calcium_and_magnesium_add_up(calcium, magnesium):
    """Hardness is the sum of its two parts, and magnesium counts for more."""
    both = of.hardness(calcium, magnesium)
    assert both == pytest.approx(of.hardness(calcium, 0) + of.hardness(0, magnesium))
    assert of.hardness(0, magnesium) >= of.hardness(magnesium, 0)


@pytest.mark.parametrize(
    ("call", "limit"),
    [
        (lambda: of.as_caco3(-1, "meq/L"), "at least 0"),
        (lambda: of.as_caco3(200, "meq/L"), "at most 5000"),
        (lambda: of.hardness(2000, 0), "at most 1000 mg/L"),
        (lambda: of.hardness(0, -1), "at least 0 mg/L"),
    ],
)
def test_out_of_range_names_the_limit(call, limit):
    """What no water has is refused, and the text names the limit."""
    with pytest.raises(OutOfRange, match=limit):
        call()
