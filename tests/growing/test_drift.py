"""Reading EC, pH and level together."""

from itertools import product

import pytest

from walkabout.growing.drift import TRENDS, read
from walkabout.growing.limits import OutOfRange

STEADY = [word for word in TRENDS if word != "erratic"]


@pytest.mark.parametrize(("ec", "ph", "level"), list(product(STEADY, STEADY, STEADY)))
def test_each_of_the_27_ways_means_something(ec, ph, level):
    """Every combination says what lies behind EC and pH and what to do about it, in whole sentences."""
    found = read(ec, ph, level)
    for text in (found.strength.means, found.strength.do, found.ph.means, found.ph.do):
        assert text[0].isupper() or text.startswith("pH")
        assert text.endswith(".")
    assert found.together == "" or found.together.endswith(".")


def test_no_two_ways_say_the_same():
    """27 combinations give 27 different readings."""
    assert len({read(*ways) for ways in product(STEADY, STEADY, STEADY)}) == 27


@pytest.mark.parametrize(("ec", "ph", "level"), [ways for ways in product(TRENDS, TRENDS, TRENDS) if "erratic" in ways])
def test_a_reading_that_jumps_sends_to_the_meter(ec, ph, level):
    """Whatever else, a jumping EC or pH is the meter's or the mixing's; a jumping level is the level's."""
    found = read(ec, ph, level)
    assert found.strength.verdict == ("check the meter" if "erratic" in (ec, ph) else "check the level")
    assert found.together == ""


def test_both_jumping_may_be_a_tank_that_is_badly_mixed():
    """EC and pH erratic together: calibrate, or stir."""
    assert "badly mixed" in read("erratic", "erratic", "down").strength.means
    assert "badly mixed" not in read("erratic", "up", "down").strength.means


def test_a_stopped_pump_is_thought_of():
    """A level that rises at a steady EC is what pipes that drain back look like."""
    assert "pump" in read("steady", "steady", "up").strength.do


@pytest.mark.parametrize("words", [("rising", "up", "up"), ("up", "", "up"), ("up", "up", "gone")])
def test_other_words_are_refused(words):
    """A word that is no trend is refused and the trends are named."""
    with pytest.raises(OutOfRange, match="it must be one of up, down, steady, erratic"):
        read(*words)
