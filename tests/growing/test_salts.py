"""The table of salts: whole, consistent, found by every name."""

import pytest

from walkabout.growing.elements import charge, counts, molar_mass
from walkabout.growing.salts import Salt, from_formula, load, names_of

TABLE = tuple(load())
WITHOUT_IONS = ("chelate",)


@pytest.mark.parametrize("salt", TABLE, ids=lambda salt: salt.key)
def test_each_salt_is_whole(salt: Salt) -> None:
    """Fractions are parts of one, forms of nitrogen parts of the nitrogen, and figures have sources."""
    assert 0 < sum(salt.elements.values()) <= 1
    assert 0 <= salt.nitrate_n + salt.ammonium_n + salt.urea_n <= salt.elements.get("N", 0) + 1e-12
    assert salt.molar_mass == pytest.approx(molar_mass(salt.formula))
    assert salt.source
    assert (salt.solubility is None) == (not salt.solubility_source)
    assert salt.with_ in ("calcium", "sulfate", "phosphate", "chelate", "either", "alone")


@pytest.mark.parametrize("salt", [one for one in TABLE if one.ions], ids=lambda salt: salt.key)
def test_ions_of_a_salt_balance_and_carry_its_elements(salt: Salt) -> None:
    """Charges cancel (a label's within 1 %), and no ion carries more of an element than the salt holds."""
    plus = sum(amount * charge(ion) for ion, amount in salt.ions.items() if charge(ion) > 0)
    minus = -sum(amount * charge(ion) for ion, amount in salt.ions.items() if charge(ion) < 0)
    assert plus == pytest.approx(minus, rel=0.01 if salt.label else 1e-12)
    for symbol in set(salt.elements) - {"B", "Si"}:
        carried = sum(amount * counts(ion).get(symbol, 0) for ion, amount in salt.ions.items())
        held = salt.elements[symbol] * salt.molar_mass / molar_mass(symbol)
        assert carried == pytest.approx(held, rel=1e-9), symbol


def test_salts_without_ions_are_those_that_do_not_split() -> None:
    """Only chelates, urea and weak acids set no ion free."""
    bare = {salt.key for salt in TABLE if not salt.ions and salt.with_ not in WITHOUT_IONS}
    assert bare == {"urea", "boric-acid", "molybdic-acid"}


def test_every_name_finds_its_own_salt() -> None:
    """No two salts share a name, and each is found by all of its names in capitals, with dots or dashes."""
    salts = load()
    for salt in TABLE:
        for name in names_of(salt):
            assert salts.find(name) is salt, name
            assert salts.find(name.upper().replace(" ", "_")) is salt, name


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ("KNO3", "potassium-nitrate"),
        ("Ca(NO3)2.4H2O", "calcium-nitrate"),
        ("Ca(NO3)2·4H2O", "calcium-nitrate"),
        ("Epsom salt", "magnesium-sulfate"),
        ("MKP", "monopotassium-phosphate"),
        ("0-52-34", "monopotassium-phosphate"),
        ("15.5-0-0", "calcium-nitrate-label"),
        ("5Ca(NO3)2.NH4NO3.10H2O", "calcium-nitrate-double"),
        ("Fe-DTPA", "iron-dtpa"),
        ("NaHFeC14H18N3O10", "iron-dtpa-pure"),
        ("epsom", "magnesium-sulfate"),
        ("copper sulphate pentahydrate", "copper-sulfate"),
        ("Manganese Sulphate monohydrate", "manganese-sulfate"),
        ("iron(II) sulphate heptahydrate", "iron-sulfate"),
    ],
)
def test_a_salt_is_found_as_people_write_it(typed: str, key: str) -> None:
    """By formula, trade name and the numbers of a label; a pure formula is never a label product."""
    found = load().find(typed)
    assert found is not None
    assert found.key == key


def test_the_double_salt_is_not_the_tetrahydrate() -> None:
    """Growers' calcium nitrate has more calcium and some ammonium; a label has what it says."""
    salts = load()
    pure, double, label = (
        salts.known(key) for key in ("calcium-nitrate", "calcium-nitrate-double", "calcium-nitrate-label")
    )
    assert pure.elements["Ca"] == pytest.approx(0.1697, abs=2e-4)
    assert pure.ammonium_n == 0
    assert double.elements["Ca"] == pytest.approx(0.1854, abs=2e-4)
    assert (double.nitrate_n, double.ammonium_n) == pytest.approx((0.1426, 0.0130), abs=1e-4)
    assert (label.elements["N"], label.elements["Ca"]) == (0.155, 0.19)
    assert label.nitrate_n + label.ammonium_n == pytest.approx(0.155)


@pytest.mark.parametrize(
    ("key", "iron"), [("iron-edta", 0.13), ("iron-dtpa", 0.10), ("iron-dtpa-11", 0.11), ("iron-eddha", 0.06)]
)
def test_chelates_are_counted_by_their_label(key: str, iron: float) -> None:
    """A chelate product holds the iron of its label, not of the pure salt."""
    salt = load().known(key)
    assert salt.label
    assert salt.elements == {"Fe": iron}


def test_a_salt_that_is_in_no_table_is_known_by_its_formula() -> None:
    """Any neutral formula is weighed, and its nitrogen told apart."""
    salt = load().known("NaNO3.NH4Cl")
    assert salt.nitrate_n == salt.ammonium_n == pytest.approx(14.007 / molar_mass("NaNO3.NH4Cl"))
    assert salt.solubility is None


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("calcium nitrat", "calcium-nitrate"),
        ("xq", "name or its formula"),
        ("NO3-", "no salt is called"),
        ("", "name or its formula"),
    ],
)
def test_an_unknown_salt_is_refused_with_the_nearest(typed: str, says: str) -> None:
    """The message names what is nearest, or what would be right."""
    with pytest.raises(ValueError, match=says):
        load().known(typed)


@pytest.mark.parametrize(("formula", "says"), [("NH4+", "an ion"), ("K", "an element"), ("K(", "not closed")])
def test_no_salt_comes_of_an_ion_or_an_element(formula: str, says: str) -> None:
    """Only neutral compounds are salts."""
    with pytest.raises(ValueError, match=says):
        from_formula(formula)


def test_what_hurts_carries_a_caution_with_who_may_do_it() -> None:
    """Oxidisers, caustic and harmful salts are an adult's; only the harmless have no caution."""
    for salt in TABLE:
        if "NO3" in salt.formula or salt.key in ("potassium-hydroxide", "copper-sulfate", "boric-acid"):
            assert "adult" in salt.caution, salt.key
    assert {salt.key for salt in TABLE if not salt.caution} == {
        "sodium-chloride",
        "sodium-bicarbonate",
        "calcium-carbonate",
    }
