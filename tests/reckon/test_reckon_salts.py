"""The reckonings of the salts, from typed words to results."""

import pytest

from walkabout.growing.salts import load
from walkabout.reckon import salts
from walkabout.reckon.model import Reckoned
from walkabout.reckon.read import reckon, split, take

BY_NAME = {one.name: one for one in salts.RECKONINGS}


def work(name: str, *typed: str) -> Reckoned:
    return reckon(BY_NAME[name], take(BY_NAME[name], split(typed)))


@pytest.mark.parametrize(
    ("salt", "key", "expected", "tolerance"),
    [
        ("KNO3", "molar_mass", 101.1, 0.02),
        ("Ca(NO3)2.4H2O", "ca", 16.97, 0.02),
        ("Ca(NO3)2.4H2O", "n", 11.86, 0.02),
        ("MgSO4.7H2O", "mg", 9.86, 0.02),
        ("KH2PO4", "p", 22.76, 0.02),
        ("H3BO3", "b", 17.48, 0.05),
        ("CuSO4.5H2O", "cu", 25.45, 0.03),
        ("Na2MoO4.2H2O", "mo", 39.66, 0.05),
        ("5Ca(NO3)2.NH4NO3.10H2O", "molar_mass", 1080.64, 0.05),
        ("5Ca(NO3)2.NH4NO3.10H2O", "n_nitrate", 14.26, 0.01),
        ("5Ca(NO3)2.NH4NO3.10H2O", "n_ammonium", 1.30, 0.01),
        ("15.5-0-0", "ca", 19.0, 1e-9),
        ("Fe-DTPA", "fe", 10.0, 1e-9),
        ("urea", "n_urea", 46.65, 0.02),
        ("MKP", "p2o5", 52.15, 0.05),
        ("potassium nitrate", "k2o", 46.6, 0.05),
        ("MnSO4.4H2O", "mn", 24.63, 0.02),
        ("potassium sulfate", "solubility", 111, 0),
    ],
)
def test_what_is_in_a_salt(salt: str, key: str, expected: float, tolerance: float) -> None:
    """Per cents by mass as tables made with molmass and periodictable have them; labels as they say."""
    assert work("salt", f"name={salt}").results[key].value == pytest.approx(expected, abs=tolerance)


def test_the_element_that_was_asked_for_stands_first() -> None:
    """Molar mass first, or the element that was asked for."""
    assert next(iter(work("salt", "name=KNO3").results)) == "molar_mass"
    assert next(iter(work("salt", "name=KNO3", "element=potassium").results)) == "k"


@pytest.mark.parametrize(
    ("salt", "tank"),
    [
        ("calcium nitrate", "tank with calcium"),
        ("Epsom salt", "tank without calcium"),
        ("MKP", "tank without calcium"),
        ("Fe-EDTA", "tank with calcium"),
        ("KNO3", "either tank"),
        ("KOH", "no stock tank"),
    ],
)
def test_which_stock_tank(salt: str, tank: str) -> None:
    """Calcium never with sulfate or phosphate; bases in no stock."""
    assert work("salt", f"name={salt}").results["tank"].value == tank


def test_calcium_nitrate_warns_of_the_double_salt() -> None:
    """Whoever asks for calcium nitrate hears that bags usually hold another salt."""
    assert any("double salt" in line for line in work("salt", "name=calcium nitrate").says)


def test_dangers_are_said_with_who_may_do_it() -> None:
    """Oxidisers and unknown salts are an adult's; table salt has no caution."""
    assert "Oxidiser" in work("salt", "name=KNO3").cautions[0]
    assert "adult" in work("salt", "name=MnSO4.4H2O").cautions[0]
    assert work("salt", "name=NaCl").cautions == ()


def test_the_working_of_a_formula_and_of_a_label() -> None:
    """Atoms times weights over the molar mass; a label beside the pure salt."""
    assert work("salt", "name=KNO3").working == (
        "KNO3: 1 K, 1 N, 3 O",
        "M = 39.10 + 14.01 + 3 × 16.00 = 101.10 g/mol",
        "% K = 100 × 1 × 39.098 ÷ 101.10 = 38.67 %",
        "% N = 100 × 1 × 14.007 ÷ 101.10 = 13.85 %",
    )
    assert work("salt", "name=Fe-DTPA").working == (
        "taken: label = 10 % Fe",
        "the pure salt NaHFeC14H18N3O10 would hold 11.93 % Fe",
    )


def test_the_list_has_every_salt_and_orders_by_an_element() -> None:
    """All keys, or those that bring an element, the richest first."""
    assert list(work("salts").results) == [salt.key for salt in load()]
    found = work("salts", "element=Mg").results
    values = [float(one.value) for one in found.values()]
    assert values == sorted(values, reverse=True)
    assert {"magnesium-sulfate", "magnesium-nitrate"} <= set(found)
    assert work("salts", "element=iron").results["iron-dtpa"].value == pytest.approx(10)


@pytest.mark.parametrize(
    ("name", "typed", "says"),
    [
        ("salt", ("name=calcium nitrat",), "did you mean calcium-nitrate"),
        ("salt", ("name=xq",), "name or its formula"),
        ("salt", ("name=NO3-",), "no salt is called"),
        ("salt", ("name=KNO3", "element=Ca"), "holds no Ca"),
        ("salt", ("name=KNO3", "element=zz"), "not known here"),
        ("salt", (), "needs name"),
        ("salts", ("element=Se",), "brings Se"),
    ],
)
def test_refusals(name: str, typed: tuple[str, ...], says: str) -> None:
    """What is unknown is refused with what is nearest."""
    with pytest.raises(ValueError, match=says):
        work(name, *typed)


@pytest.mark.parametrize("salt", [one.key for one in load()])
def test_every_salt_can_be_asked_for(salt: str) -> None:
    """Each has results, working with lines that fit, a sentence and a source."""
    found = work("salt", f"name={salt}")
    assert found.says
    assert "solubility" not in found.results or "solubility:" in found.source
    assert all(len(line) <= 100 for line in found.working), found.working
