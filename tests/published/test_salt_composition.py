"""What is in a salt, and oxide factors, against molmass (frozen) and published tables."""

import json
from pathlib import Path

import pytest

from walkabout.growing.concentration import mass_ratio, species
from walkabout.growing.elements import fractions, molar_mass
from walkabout.growing.salts import load

FROZEN = json.loads((Path(__file__).with_name("frozen") / "molar_masses.json").read_text(encoding="utf-8"))["formulas"]


@pytest.mark.parametrize("formula", sorted(FROZEN))
def test_masses_and_fractions_agree_with_molmass(formula: str) -> None:
    """Within 0.01 % of the mass and 0.004 % of the whole: tables of atomic weights differ by that much."""
    assert molar_mass(formula) == pytest.approx(FROZEN[formula]["mass"], rel=1e-4)
    assert fractions(formula) == pytest.approx(FROZEN[formula]["fractions"], abs=4e-5)


def test_every_salt_of_the_table_is_checked() -> None:
    """No formula of the table is without a reference."""
    assert {salt.formula for salt in load()} <= set(FROZEN)


@pytest.mark.parametrize(
    ("salt", "mass", "percents"),
    [
        ("Ca(NO3)2.4H2O", 236.15, {"Ca": 16.97, "N": 11.86}),
        ("5Ca(NO3)2.NH4NO3.10H2O", 1080.64, {"Ca": 18.54, "N": 15.55}),
        ("KNO3", 101.10, {"K": 38.67, "N": 13.85}),
        ("KH2PO4", 136.09, {"K": 28.73, "P": 22.76}),
        ("MgSO4.7H2O", 246.47, {"Mg": 9.86, "S": 13.01}),
        ("K2SO4", 174.26, {"K": 44.87, "S": 18.40}),
        ("KCl", 74.55, {"Cl": 47.56, "K": 52.44}),
        ("CaCl2.2H2O", 147.01, {"Ca": 27.26, "Cl": 48.23}),
        ("NH4NO3", 80.04, {"N": 35.00}),
        ("NH4H2PO4", 115.03, {"N": 12.18, "P": 26.93}),
        ("CO(NH2)2", 60.06, {"N": 46.65}),
        ("FeSO4.7H2O", 278.01, {"Fe": 20.09, "S": 11.53}),
        ("NaFeC10H12N2O8.3H2O", 421.09, {"Fe": 13.26, "N": 6.65, "Na": 5.46}),
        ("NaHFeC14H18N3O10", 468.15, {"Fe": 11.93, "N": 8.98, "Na": 4.91}),
        ("NaFeC18H16N2O6", 435.16, {"Fe": 12.83, "N": 6.44, "Na": 5.28}),
        ("H3BO3", 61.83, {"B": 17.48}),
        ("MnSO4.H2O", 169.02, {"Mn": 32.50, "S": 18.97}),
        ("MnCl2.4H2O", 197.90, {"Cl": 35.83, "Mn": 27.76}),
        ("ZnSO4.7H2O", 287.55, {"S": 11.15, "Zn": 22.74}),
        ("CuSO4.5H2O", 249.68, {"Cu": 25.45, "S": 12.84}),
        ("Na2MoO4.2H2O", 241.96, {"Mo": 39.66, "Na": 19.00}),
        ("KOH", 56.11, {"K": 69.69}),
        ("KHCO3", 100.12, {"K": 39.05}),
        ("CaCO3", 100.09, {"Ca": 40.04}),
    ],
)
def test_salts_hold_what_tables_print(salt: str, mass: float, percents: dict[str, float]) -> None:
    """Tables made with molmass and periodictable: 0.02 g/mol, 0.02 %, the rounding and the spread of weights."""
    found = load().known(salt)
    assert found.molar_mass == pytest.approx(mass, abs=0.02)
    assert {symbol: part * 100 for symbol, part in found.elements.items()} == pytest.approx(percents, abs=0.02)


@pytest.mark.parametrize(
    ("this", "other", "factor"),
    [
        ("P2O5", "P", 0.4364),
        ("K2O", "K", 0.8302),
        ("CaO", "Ca", 0.7147),
        ("MgO", "Mg", 0.6030),
        ("SO3", "S", 0.4005),
        ("SO4", "S", 0.3338),
        ("NO3", "N", 0.2259),
        ("NH4", "N", 0.7765),
        ("PO4", "P", 0.3261),
        ("P", "P2O5", 2.2915),
        ("K", "K2O", 1.2046),
    ],
)
def test_oxide_factors(this: str, other: str, factor: float) -> None:
    """The factors that fertiliser bulletins print, to their fourth digit (0.01 %)."""
    assert mass_ratio(species(this), species(other)) == pytest.approx(factor, rel=1.5e-4)


@pytest.mark.parametrize(
    ("this", "percent", "other", "expected", "tolerance"),
    [
        ("P2O5", 20, "P", 8.73, 0.01),
        ("K2O", 46, "K", 38.19, 0.02),
        ("P", 22.76, "P2O5", 52.15, 0.05),
        ("MgO", 16, "Mg", 9.65, 0.02),
        ("SO3", 32, "S", 12.82, 0.02),
        ("P2O5", 12, "P", 5.24, 0.01),
        ("P2O5", 52, "P", 22.7, 0.05),
        ("K2O", 34, "K", 28.2, 0.05),
        ("P2O5", 61, "P", 26.6, 0.05),
    ],
)
def test_labels_read_as_elements(this: str, percent: float, other: str, expected: float, tolerance: float) -> None:
    """P2O5 12 % as in the worked example of Mattson 2018, e-GRO Edible Alert 3(5); the rest mass ratios."""
    assert percent * mass_ratio(species(this), species(other)) == pytest.approx(expected, abs=tolerance)
