"""Stronger and weaker tanks: the salt that goes in is the salt that is there."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing.correcting import (
    after_loss,
    after_topup,
    blend,
    built_up,
    concentrate_needed,
    dilution,
    litres_to_limit,
    share_of_water,
    stock_needed,
    swap_for_stock,
    swap_for_water,
)
from walkabout.growing.limits import OutOfRange

volumes = st.floats(min_value=0.5, max_value=5000)
waters = st.floats(min_value=0, max_value=1)
shares = st.floats(min_value=0.05, max_value=0.95)
gaps = st.floats(min_value=0.05, max_value=4)


@settings(max_examples=60)
@given(volume=volumes, water_ec=waters, gap=gaps, share=shares)
def test_a_diluted_tank_has_the_ec_wanted(volume, water_ec, gap, share):
    """Mixed with the water that the sum gives, the tank has the EC wanted."""
    ec = water_ec + gap
    to = water_ec + gap * share
    added = dilution(volume, ec, to, water_ec)
    assert blend(((volume, ec), (added, water_ec))) == pytest.approx(to)


@settings(max_examples=60)
@given(volume=volumes, ec=waters, gap=gaps, stock=st.floats(min_value=50, max_value=300))
def test_a_strengthened_tank_has_the_ec_wanted(volume, ec, gap, stock):
    """Mixed with the stock that the sum gives, the tank has the EC wanted."""
    added = stock_needed(volume, ec, ec + gap, stock)
    assert blend(((volume, ec), (added, stock))) == pytest.approx(ec + gap)


@settings(max_examples=60)
@given(volume=volumes, ec=waters, gap=gaps, stock=st.floats(min_value=100, max_value=300))
def test_a_stock_and_its_rise_agree(volume, ec, gap, stock):
    """A stock of Es raises a litre by close to Es ÷ 1000 for each mL: both sums agree within 6 %."""
    by_litre = stock_needed(volume, ec, ec + gap, stock)
    by_rise = concentrate_needed(volume, ec, ec + gap, stock / 1000) / 1000
    assert by_rise == pytest.approx(by_litre, rel=0.06)


@settings(max_examples=60)
@given(volume=volumes, water_ec=waters, gap=gaps, share=shares)
def test_a_swap_keeps_the_volume_and_gives_the_ec(volume, water_ec, gap, share):
    """What is left and what goes in make the old volume at the EC wanted; no more is swapped than there is."""
    ec = water_ec + gap
    to = water_ec + gap * share
    swapped = swap_for_water(volume, ec, to, water_ec)
    assert 0 <= swapped <= volume
    assert blend(((volume - swapped, ec), (swapped, water_ec))) == pytest.approx(to)
    swapped = swap_for_stock(volume, to, ec, 200)
    assert blend(((volume - swapped, to), (swapped, 200))) == pytest.approx(ec)


@settings(max_examples=60)
@given(volume=volumes, water_ec=waters, gap=gaps, share=shares)
def test_a_swap_takes_less_water_than_adding_would(volume, water_ec, gap, share):
    """Taking strong solution out saves water: a swap never needs more than dilution does."""
    ec, to = water_ec + gap, water_ec + gap * share
    assert swap_for_water(volume, ec, to, water_ec) <= dilution(volume, ec, to, water_ec) * (1 + 1e-9)


@settings(max_examples=60)
@given(volume=volumes, ec=st.floats(min_value=0.5, max_value=4), part=shares, uptake=shares, topup=waters)
def test_losses_and_topups_close(volume, ec, part, uptake, topup):
    """Salt before = salt left + salt carried off; a top-up as strong as the uptake leaves the tank as it was."""
    lost = volume * part
    left = after_loss(volume, ec, lost, uptake * ec)
    assert left * (volume - lost) + uptake * ec * lost == pytest.approx(ec * volume)
    after = after_topup(volume, ec, lost, uptake * ec, topup)
    assert after * volume == pytest.approx(left * (volume - lost) + topup * lost)
    assert after == pytest.approx(ec + (topup - uptake * ec) * lost / volume)
    assert after_topup(volume, ec, lost, uptake * ec, uptake * ec) == pytest.approx(ec)


@settings(max_examples=60)
@given(one=waters, gap=gaps, share=shares)
def test_the_share_of_two_waters_turns_round(one, gap, share):
    """The share found gives the EC wanted when it is mixed; either way round the shares make 1."""
    to = one + gap * share
    first = share_of_water(one, one + gap, to)
    assert blend(((first, one), (1 - first, one + gap))) == pytest.approx(to)
    assert first + share_of_water(one + gap, one, to) == pytest.approx(1)


@settings(max_examples=60)
@given(volume=volumes, start=waters, water=gaps, more=gaps)
def test_build_up_turns_round(volume, start, water, more):
    """After the litres to a limit the ion is at the limit."""
    until = litres_to_limit(volume, start, water, start + more)
    assert built_up(volume, start, water, until) == pytest.approx(start + more)


def test_nothing_to_do_is_nothing():
    """A tank that has the EC wanted needs nothing, by any way; a limit that is reached leaves no litre."""
    assert dilution(60, 1.2, 1.2, 0.4) == stock_needed(60, 1.2, 1.2, 100) == concentrate_needed(60, 1.2, 1.2, 0.2) == 0
    assert swap_for_water(60, 1.2, 1.2) == swap_for_stock(60, 1.2, 1.2, 100) == 0
    assert litres_to_limit(100, 60, 40, 60) == 0
    assert litres_to_limit(100, 20, 0, 60) is None


@pytest.mark.parametrize(
    ("sum_", "values", "says"),
    [
        (dilution, (60, 1.2, 0.3, 0.4), "impossible: water at 0.4 mS/cm cannot bring a tank down to 0.3"),
        (dilution, (60, 1.2, 0.4, 0.4), "the water must be weaker than what is wanted"),
        (dilution, (60, 1.2, 1.3, 0.4), "water cannot make it stronger"),
        (dilution, (0, 1.2, 1.1, 0.4), "the volume is 0 L: it must be more than 0 L"),
        (dilution, (60, -1, -2, 0), "the EC of the tank is -1 mS/cm: it must be at least 0"),
        (dilution, (60, float("nan"), 1, 0), "no number"),
        (stock_needed, (60, 1.8, 1.2, 100), "it needs water, not stock"),
        (stock_needed, (60, 1.2, 1.8, 1.8), "a stock of 1.8 mS/cm cannot bring a tank to 1.8"),
        (concentrate_needed, (60, 1.2, 1.8, 0), "the rise is 0"),
        (swap_for_water, (60, 1.2, 0.3, 0.4), "itself stronger than the 0.3 mS/cm"),
        (swap_for_water, (60, 1.2, 1.4, 0.4), "water cannot make it stronger"),
        (swap_for_stock, (60, 1.2, 1.8, 1.0), "impossible"),
        (share_of_water, (0.7, 0.05, 0.8), "must lie between the two"),
        (share_of_water, (0.5, 0.5, 0.5), "both waters have 0.5"),
        (after_loss, (60, 1.8, 60), "what is left is 0 L"),
        (after_loss, (60, 1.8, 61), "what was lost is 61 L: it must be at most 60 L"),
        (after_loss, (60, 1.8, 55, 2.2), "more salt than 60 L at 1.8 mS/cm hold"),
        (built_up, (100, -1, 40, 5), "the start is -1 mg/L"),
        (litres_to_limit, (0, 20, 40, 60), "the volume is 0 L"),
        (blend, (((0, 1), (0, 2)),), "the volume together is 0 L"),
        (blend, (((-1, 1), (3, 2)),), "a volume is -1 L"),
    ],
    ids=lambda value: getattr(value, "__name__", None) or str(value)[:40],
)
def test_what_cannot_be_is_refused(sum_, values, says):
    """What has no solution is refused with the limit it hits."""
    with pytest.raises(OutOfRange, match=says):
        sum_(*values)


def test_water_as_weak_as_what_is_wanted_takes_the_whole_tank():
    """A swap for water that has the EC wanted is a full change, which adding water never reaches."""
    assert swap_for_water(60, 1.2, 0.4, 0.4) == pytest.approx(60)
