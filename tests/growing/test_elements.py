"""Formulas: atoms, masses, charges."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing.elements import NAMES, WEIGHTS, charge, counts, fractions, molar_mass


@pytest.mark.parametrize(
    ("formula", "atoms"),
    [
        ("KNO3", {"K": 1, "N": 1, "O": 3}),
        ("Ca(NO3)2·4H2O", {"Ca": 1, "N": 2, "O": 10, "H": 8}),
        ("Ca(NO3)2.4H2O", {"Ca": 1, "N": 2, "O": 10, "H": 8}),
        ("Ca(NO3)2 * 4 H2O", {"Ca": 1, "N": 2, "O": 10, "H": 8}),
        ("Ca(NO₃)₂·4H₂O", {"Ca": 1, "N": 2, "O": 10, "H": 8}),
        ("5Ca(NO3)2.NH4NO3.10H2O", {"Ca": 5, "N": 12, "O": 43, "H": 24}),
        ("CaSO4.0.5H2O", {"Ca": 1, "S": 1, "O": 4.5, "H": 1}),
        ("(NH4)6Mo7O24·4H2O", {"N": 6, "H": 32, "Mo": 7, "O": 28}),
        ("K[Al(OH)4]", {"K": 1, "Al": 1, "O": 4, "H": 4}),
        ("CO(NH2)2", {"C": 1, "O": 1, "N": 2, "H": 4}),
    ],
)
def test_a_formula_counts_up_to_its_atoms(formula: str, atoms: dict[str, float]) -> None:
    """Brackets, multiples and water behind any kind of dot are counted."""
    assert counts(formula) == atoms
    assert charge(formula) == 0


@pytest.mark.parametrize(
    ("ion", "size", "atoms"),
    [
        ("K+", 1, {"K": 1}),
        ("Ca+2", 2, {"Ca": 1}),
        ("Ca2+", 2, {"Ca": 1}),
        ("Ca++", 2, {"Ca": 1}),
        ("Ca²⁺", 2, {"Ca": 1}),
        ("NH4+", 1, {"N": 1, "H": 4}),
        ("NO3-", -1, {"N": 1, "O": 3}),
        ("SO4-2", -2, {"S": 1, "O": 4}),
        ("SO4--", -2, {"S": 1, "O": 4}),
        ("SO4^2-", -2, {"S": 1, "O": 4}),
        ("SO42-", -2, {"S": 1, "O": 4}),
        ("H2PO4−", -1, {"H": 2, "P": 1, "O": 4}),
        ("B(OH)4-", -1, {"B": 1, "O": 4, "H": 4}),
    ],
)
def test_an_ion_has_its_charge_however_it_is_written(ion: str, size: int, atoms: dict[str, float]) -> None:
    """The charge behind an ion is no part of its atoms."""
    assert charge(ion) == size
    assert counts(ion) == atoms


@pytest.mark.parametrize(
    ("wrong", "names"),
    [
        ("", "no chemical formula"),
        ("Xx", "'Xx'"),
        ("Ca(NO3", "not closed"),
        ("CaNO3)2", "never opened"),
        ("KNO3..H2O", "empty"),
        ("2", "empty"),
        ("kno3", "'k'"),
        ("K0", "counts nothing"),
        ("()2", "counts nothing"),
        ("K NO3!", "'!'"),
    ],
)
def test_what_is_no_formula_is_refused_with_the_reason(wrong: str, names: str) -> None:
    """The message names what cannot be read."""
    with pytest.raises(ValueError, match=names.replace("(", r"\(").replace(")", r"\)")):
        counts(wrong)


@settings(max_examples=50)
@given(st.lists(st.tuples(st.sampled_from(sorted(WEIGHTS)), st.integers(1, 40)), min_size=1, max_size=6))
def test_fractions_make_up_the_whole(parts: list[tuple[str, int]]) -> None:
    """The mass fractions of any formula add up to 1, and its mass is the sum over its atoms."""
    formula = "".join(f"{symbol}{count}" for symbol, count in parts)
    assert sum(fractions(formula).values()) == pytest.approx(1)
    assert molar_mass(formula) == pytest.approx(sum(WEIGHTS[symbol] * count for symbol, count in parts))


def test_every_element_has_a_name() -> None:
    """Names and weights are of the same elements."""
    assert set(NAMES) == set(WEIGHTS)
