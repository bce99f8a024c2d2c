"""Amounts in water: round trips, names, refusals."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing.concentration import (
    UNITS,
    amount,
    counted_as,
    every,
    mass_ratio,
    millimoles,
    oxide_of,
    species,
)
from walkabout.growing.limits import OutOfRange

CHARGED = sorted(name for name, one in every().items() if one.charge)


@settings(max_examples=100)
@given(st.sampled_from(CHARGED), st.sampled_from(sorted(UNITS)), st.floats(0, 1e5))
def test_there_and_back_is_the_same(name: str, unit: str, value: float) -> None:
    """An amount turned into mmol/L and back into its unit is what it was."""
    one = species(name)
    assert amount(millimoles(value, one, unit), one, unit) == pytest.approx(value)


@pytest.mark.parametrize("element", ["P", "K", "Ca", "Mg", "S", "Na", "Si", "B", "Fe", "Mn", "Zn", "Cu", "Mo"])
def test_oxide_and_element_are_each_others_inverse(element: str) -> None:
    """To the oxide and back is 1, and an oxide weighs more than its element."""
    one, oxide = species(element), species(oxide_of(element))
    assert mass_ratio(one, oxide) * mass_ratio(oxide, one) == pytest.approx(1)
    assert mass_ratio(one, oxide) > 1


@pytest.mark.parametrize(
    ("typed", "name", "ion"),
    [
        ("K", "K", "K+"),
        ("potassium", "K", "K+"),
        ("nitrate", "NO3", "NO3-"),
        ("NO3-", "NO3", "NO3-"),
        ("NO3-N", "NO3-N", "NO3-"),
        ("no3_n", "NO3-N", "NO3-"),
        ("N-NH4", "NH4-N", "NH4+"),
        ("SO4-2", "SO4", "SO4-2"),
        ("so4--", "SO4", "SO4-2"),
        ("Ca2+", "Ca", "Ca+2"),
        ("alkalinity", "CaCO3", ""),
        ("hardness", "CaCO3", ""),
        ("potash", "K2O", ""),
        ("Co", "Co", ""),
        ("CO3", "CO3", "CO3-2"),
    ],
)
def test_a_species_is_found_as_people_write_it(typed: str, name: str, ion: str) -> None:
    """Elements, ions, oxides and hardness by symbol, name, with or without a charge."""
    assert (species(typed).name, species(typed).ion) == (name, ion)


@pytest.mark.parametrize(("typed", "says"), [("calcum", "did you mean Ca"), ("zz", "write an element"), ("", "write")])
def test_an_unknown_species_is_refused(typed: str, says: str) -> None:
    """The message names the nearest, or what would be right."""
    with pytest.raises(ValueError, match=says):
        species(typed)


@pytest.mark.parametrize(
    ("this", "other"), [("NO3", "NH4"), ("NO3-N", "NH4-N"), ("Ca", "Mg"), ("P2O5", "K"), ("HCO3", "NO3")]
)
def test_different_things_are_not_counted_as_each_other(this: str, other: str) -> None:
    """Nitrate is not ammonium, calcium not magnesium."""
    with pytest.raises(ValueError, match="not the same thing"):
        counted_as(1, species(this), species(other))


def test_hardness_and_alkalinity_go_by_charge() -> None:
    """1 mmol/L of HCO3 is half a mmol/L of CaCO3; calcium and magnesium are one each."""
    lime = species("CaCO3")
    assert counted_as(1, species("HCO3"), lime) == 0.5
    assert counted_as(1, species("Mg"), lime) == counted_as(1, species("Ca"), lime) == 1


def test_nitrogen_alone_has_no_charge() -> None:
    """meq/L of N are refused with what to write, and a negative amount with its limit."""
    with pytest.raises(ValueError, match="NO3 or NH4"):
        amount(1, species("N"), "meq/L")
    with pytest.raises(ValueError, match="use mg/L"):
        millimoles(1, species("Fe"), "meq/L")
    with pytest.raises(OutOfRange, match="at least 0"):
        millimoles(-1, species("K"), "mg/L")
