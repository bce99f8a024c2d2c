"""What a formula alone tells: ions for the usual groups, and what is no salt to feed with."""

import pytest

from walkabout.growing import formulas, salts

TABLE = tuple(salt for salt in salts.load() if not salt.label)
OTHER_THAN_FORMULA = {
    # chelates, urea and weak acids set no ion free; silicate and molybdate react with water
    *("urea", "boric-acid", "molybdic-acid", "potassium-silicate", "ammonium-molybdate"),
    *("iron-edta-pure", "iron-dtpa-pure", "iron-eddha-pure"),
    # bases are known by the table alone
    *("potassium-hydroxide", "calcium-hydroxide"),
}


@pytest.mark.parametrize("salt", [one for one in TABLE if one.key not in OTHER_THAN_FORMULA], ids=lambda salt: salt.key)
def test_ions_read_from_a_formula_are_those_of_the_table(salt: salts.Salt) -> None:
    """For every salt of the table made of the usual groups, the formula gives the ions that stand in the table."""
    assert formulas.ions(formulas.written(salt.formula)) == pytest.approx(dict(salt.ions))


@pytest.mark.parametrize(
    ("formula", "ions"),
    [
        ("Ca(NO3)2", {"Ca+2": 1, "NO3-": 2}),
        ("Ca(NO₃)₂", {"Ca+2": 1, "NO3-": 2}),
        ("MgSO4", {"Mg+2": 1, "SO4-2": 1}),
        ("CaCl2", {"Ca+2": 1, "Cl-": 2}),
        ("CaSO4.0.5H2O", {"Ca+2": 1, "SO4-2": 1}),
        ("Fe2(SO4)3", {"Fe+3": 2, "SO4-2": 3}),
        ("K2Mg2(SO4)3", {"K+": 2, "Mg+2": 2, "SO4-2": 3}),
        ("K4P2O7", {}),
        ("CaNO3", {}),
        ("not a formula", {}),
    ],
)
def test_ions_of_salts_in_no_table(formula: str, ions: dict[str, float]) -> None:
    """Salts without their water of crystallisation split like those with it; what is not understood gives none."""
    assert formulas.ions(formulas.written(formula)) == ions


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        *[
            (one, "acid")
            for one in ("HNO3", "H2SO4", "H3PO4", "HCl", "C6H8O7", "hno3", "nitric acid", "Sulphuric-acid")
        ],
        *[(one, "acid") for one in ("KHSO4", "CO(NH2)2.H3PO4", "CH3COOH")],
        *[(one, "base") for one in ("NaOH", "Mg(OH)2", "NH4OH", "lye", "Na2SiO3")],
        *[(one, "bleach") for one in ("NaClO", "NaOCl", "Ca(ClO)2", "bleach", "sodium hypochlorite")],
        *[(one, "leave it out") for one in ("KClO3", "KMnO4", "KCN", "NaF", "NaNO2", "NaN3", "Na2S")],
        *[(one, "oxide") for one in ("CaO", "K2O", "quicklime")],
        *[(one, "neither") for one in ("H2O2", "C6H12O6", "P2O5")],
    ],
)
def test_what_is_no_salt_to_feed_with_is_refused(typed: str, why: str) -> None:
    """Acids, bases, bleach, poisons and oxides are refused by formula and by name, with what is right instead."""
    assert why in formulas.no_feed(typed)
    with pytest.raises(ValueError, match=r"^[^\n]+$") as caught:
        salts.load().feed(typed)
    assert why in str(caught.value)


@pytest.mark.parametrize("salt", [one.key for one in salts.load()])
def test_salts_of_the_table_are_never_refused(salt: str) -> None:
    """What stands in the table may be weighed, boric acid too; the table says how."""
    assert salts.load().feed(salt).key == salt


@pytest.mark.parametrize("typed", ["Ca(NO3)2", "MgSO4", "NaNO3.NH4Cl", "MnSO4.4H2O", "K2S2O3", "Fe(NO3)3.9H2O"])
def test_salts_in_no_table_may_be_weighed_with_a_caution(typed: str) -> None:
    """An ordinary salt is taken by its formula, and an adult is told to read its safety data sheet."""
    found = salts.load().feed(typed)
    assert found.danger == "stranger"
    assert "safety data sheet" in found.caution


@pytest.mark.parametrize(
    ("formula", "kind"),
    [
        ("Ca(NO3)2", "calcium"),
        ("MgSO4", "sulfate"),
        ("NH4H2PO4.H2O", "phosphate"),
        ("Mg(NO3)2", "either"),
        ("NaHCO3.H2O", "alone"),
        ("CaSO4", "alone"),
    ],
)
def test_the_tank_follows_from_the_ions(formula: str, kind: str) -> None:
    """Calcium and sulfate from no table are kept apart in stocks like those of the table."""
    assert salts.from_formula(formula).with_ == kind
