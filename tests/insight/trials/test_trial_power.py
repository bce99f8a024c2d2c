"""How many plants, forwards and backwards, and the limits of outliers."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from walkabout.insight.trials import power
from walkabout.insight.trials.outcome import Group
from walkabout.insight.trials.outliers import esd, grubbs, outliers


@given(st.floats(0.2, 2.0))
def test_what_is_enough_is_just_enough(d: float) -> None:
    """With so many plants, rounded up, the power is reached; with one fewer it is not."""
    n = power.plants(power.n_for_difference(d))
    assert power.power_of_difference(d, n, n) >= power.POWER - 1e-9
    if n > 2:
        assert power.power_of_difference(d, n - 1, n - 1) < power.POWER


def test_six_plants_find_only_a_large_difference() -> None:
    """With six a group about 1.8 sd; and that difference asks for six."""
    least = power.smallest_difference(6, 6)
    assert least == pytest.approx(1.8, abs=0.05)
    assert power.n_for_difference(least) == pytest.approx(6, abs=1e-4)


def test_far_out_the_power_is_certain() -> None:
    """Where the chances leave the numbers a machine has, the power is 1 or the level, never nothing."""
    assert power.power_of_difference(1000, 10, 10) == 1
    assert power.power_of_groups(1000, 3, 6) == 1
    assert power.n_for_difference(1000) == 2


@pytest.mark.parametrize("d", [0, math.nan, math.inf, 1e-9])
def test_no_difference_needs_no_number(d: float) -> None:
    """A difference of nothing, or of no number, cannot be planned for."""
    with pytest.raises(ValueError, match="worth finding"):
        power.n_for_difference(d)


def test_shares_outside_0_to_1() -> None:
    """A share of more than all is no share; equal shares are no difference."""
    with pytest.raises(ValueError, match="from 0 to 1"):
        power.n_for_shares(1.2, 0.5)
    with pytest.raises(ValueError, match="worth finding"):
        power.n_for_shares(0.5, 0.5)


def test_more_than_anybody_counts() -> None:
    """A number without end is no number of plants."""
    assert power.plants(2.2) == 3
    with pytest.raises(ValueError, match="more than anybody counts"):
        power.plants(math.inf)


def test_far_apart_ratios_are_told_for_certain() -> None:
    """Where chi-squared leaves the numbers a machine has, the power is 1; with hardly a difference it is the level."""
    assert power.power_of_w(1e6, 1, 100) == 1
    assert power.power_of_w(1e-6, 1, 10) == pytest.approx(0.05, abs=1e-6)


def test_outliers_hide_each_other_from_one_look() -> None:
    """Three alike far out: Grubbs looks at one and sees none, the search for several finds all three."""
    usual = [10.0, 10.2, 9.9, 10.1, 9.8, 10.0, 10.3, 9.7, 10.1, 9.9, 10.0, 10.2, 9.8, 10.1, 9.95]
    values = [*usual, 14.0, 14.1, 14.2]
    one = grubbs(values)
    assert one is not None
    assert not one.out
    many, steps = esd(values, 4)
    assert many == 3
    assert [(step.value, step.place) for step in steps[:3]] == [(14.2, 17), (14.1, 16), (14.0, 15)]


def test_few_or_equal_values_have_no_outliers() -> None:
    """Below six values nothing is called far out, and nothing is where nothing spreads."""
    assert outliers([Group("a", (1.0, 1.1, 1.0, 50.0), (2, 3, 4, 5)), Group("b", (3.0,) * 9, tuple(range(9)))]) == ()
    assert grubbs([1.0, 2.0]) is None
    assert esd([2.0] * 20, 3) == (0, ())
