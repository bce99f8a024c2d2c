"""The reckonings of amounts in water and of labels, from typed words to results."""

import pytest

from walkabout.reckon import alkalinity, concentration, oxide
from walkabout.reckon.model import Reckoned
from walkabout.reckon.read import reckon, split, take

BY_NAME = {one.name: one for one in (*concentration.RECKONINGS, *oxide.RECKONINGS)}


def work(name: str, *typed: str) -> Reckoned:
    return reckon(BY_NAME[name], take(BY_NAME[name], split(typed)))


@pytest.mark.parametrize(
    ("typed", "expected", "tolerance"),
    [
        ("of=N amount=15 from=mmol/L", 210.1, 0.1),
        ("of=K amount=6 from=mmol/L to=mg/L", 234.6, 0.1),
        ("of=Ca amount=5 from=mmol/L to=meq/L", 10, 1e-12),
        ("of=Ca amount=200 to=mmol/L", 4.99, 0.003),
        ("of=SO4 amount=7 from=meq/L as=S", 112.2, 0.1),
        ("of=NO3 amount=50 as=NO3-N", 11.29, 0.02),
        ("of=NO3 amount=50 to=N", 11.29, 0.02),
        ("of=PO4 amount=5 as=P", 1.631, 0.005),
        ("of=alkalinity amount=150 to=meq/L", 2.997, 0.003),
        ("of=HCO3 amount=244 to=meq/L", 3.999, 0.003),
        ("of=hardness amount=10 from=dH to=mg/L", 178.5, 0.5),
        ("of=hardness amount=10°dH", 178.5, 0.5),
        ("of=HCO3 amount=3meq/L as=CaCO3", 150.1, 0.1),
        ("of=Fe amount=0,5 from=mg/L to=umol/L", 8.953, 0.001),
    ],
)
def test_amounts_in_every_unit(typed: str, expected: float, tolerance: float) -> None:
    """The value that was asked for stands first."""
    found = work("concentration", *typed.split()).results
    assert next(iter(found)) == "value"
    assert found["value"].value == pytest.approx(expected, abs=tolerance)


def test_all_forms_come_at_once() -> None:
    """mg/L, mmol/L, meq/L, and what else it may be counted as."""
    found = work("concentration", "of=NO3", "amount=62.004").results
    assert {key: found[key].value for key in ("mg_l", "mmol_l", "meq_l", "n_mg_l")} == pytest.approx(
        {"mg_l": 62.004, "mmol_l": 1, "meq_l": 1, "n_mg_l": 14.007}
    )
    hard = work("concentration", "of=hardness", "amount=100").results
    assert hard["fh"].value == pytest.approx(10)
    assert hard["dh"].value == pytest.approx(5.603, abs=0.001)
    assert hard["hco3_mg_l"].value == pytest.approx(121.9, abs=0.1)


def test_the_working_goes_over_moles() -> None:
    """mg/L to mmol/L to what is wanted; the unit taken is said."""
    assert work("concentration", "of=NO3", "amount=50", "as=N").working == (
        "taken: unit of the amount = mg/L",
        "50 mg/L ÷ 62.004 = 0.8064 mmol/L NO3",
        "0.8064 mmol/L NO3 hold as much as 0.8064 mmol/L N",
        "0.8064 mmol/L × 14.007 = 11.30 mg/L N",
    )


def test_charges_of_phosphate_are_explained() -> None:
    """PO4 counts three charges, though it has one near pH 6: that is said."""
    found = work("concentration", "of=PO4", "amount=95", "to=meq/L")
    assert found.results["value"].value == pytest.approx(3.0, abs=0.01)
    assert any("near pH 6" in line for line in found.says)


def test_mmol_of_alkalinity_agrees_with_the_reckoning_of_alkalinity() -> None:
    """mmol/L of CaCO3 and of hydrogen carbonate stand side by side, and it is said that one is twice the other."""
    found = work("concentration", "of=alkalinity", "amount=150")
    other = reckon(alkalinity.RECKONINGS[0], take(alkalinity.RECKONINGS[0], {"amount": "150"})).results
    assert found.results["hco3_mmol_l"].value == pytest.approx(other["mmol"].value, rel=1e-3)
    assert found.results["mmol_l"].value == pytest.approx(float(other["mmol"].value) / 2, rel=1e-3)
    assert any("twice" in line for line in found.says)
    assert not any("twice" in line for line in work("concentration", "of=hardness", "amount=150").says)


@pytest.mark.parametrize("of", ["alkalinity", "NO3", "K"])
def test_every_row_has_a_name_of_its_own(of: str) -> None:
    """No two results are called the same."""
    said = [one.says for one in work("concentration", f"of={of}", "amount=150", "to=mmol/L").results.values()]
    assert len(set(said)) == len(said)


@pytest.mark.parametrize(
    ("typed", "key", "expected", "tolerance"),
    [
        ("from=P2O5 percent=20 to=P", "p", 8.73, 0.01),
        ("from=K2O percent=46 to=K", "k", 38.19, 0.02),
        ("from=P percent=22.76 to=P2O5", "p2o5", 52.15, 0.05),
        ("from=P percent=22.76", "p2o5", 52.15, 0.05),
        ("from=MgO percent=16 to=Mg", "mg", 9.65, 0.02),
        ("from=SO3 percent=32 to=S", "s", 12.82, 0.02),
        ("from=P2O5 percent=12 to=P", "p", 5.24, 0.01),
        ("from=CaO", "factor", 0.7147, 0.0001),
        ("label=13-0-46", "k", 38.2, 0.05),
        ("label=0-52-34", "p", 22.7, 0.05),
        ("label=0-52-34", "k", 28.2, 0.05),
        ("label=12-61-0", "p", 26.6, 0.05),
        ("label=15.5-0-0+19Ca", "ca", 19, 1e-9),
        ("label=16-9-26+2MgO+TE", "mg", 1.206, 0.001),
        ("label=7-3-10 written=elements", "p", 3, 1e-9),
        ("label=7-3-10 written=elements", "p2o5", 6.87, 0.01),
    ],
)
def test_oxides_and_labels(typed: str, key: str, expected: float, tolerance: float) -> None:
    """Mass ratios, both ways, and whole labels."""
    assert work("oxide", *typed.split()).results[key].value == pytest.approx(expected, abs=tolerance)


def test_the_working_of_a_label() -> None:
    """Each number with its factor, and that oxides were taken."""
    assert work("oxide", "label=13-0-46").working == (
        "taken: P and K are written as oxides",
        "13 % N",
        "0 % P2O5 × 0.4364 = 0.00 % P",
        "46 % K2O × 0.8302 = 38.19 % K",
    )


@pytest.mark.parametrize(
    ("name", "typed", "says"),
    [
        ("concentration", "of=N amount=5 to=meq/L", "NO3 or NH4"),
        ("concentration", "of=NO3 amount=5 as=NH4", "not the same thing"),
        ("concentration", "of=K amount=abc", "no amount"),
        ("concentration", "of=K amount=1,500", "read in two ways"),
        ("concentration", "of=K amount=5mg/L from=mmol/L", "says otherwise"),
        ("concentration", "of=K amount=5 from=stone", "no unit"),
        ("concentration", "of=K amount=-5", "at least 0"),
        ("concentration", "of=K amount=5 to=xx", "not known here"),
        ("concentration", "of=potasium amount=5", "did you mean K"),
        ("oxide", "label=90-90-90", "more than 100 %"),
        ("oxide", "label=0-0-0", "holds nothing"),
        ("oxide", "label=x", "13-0-46"),
        ("oxide", "label=1-1-1+2", r"\+2MgO"),
        ("oxide", "label=1-1-1+2P2O5", "twice"),
        ("oxide", "label=13-0-46 from=K", "not both"),
        ("oxide", "", "label=13-0-46"),
        ("oxide", "from=N", "write to="),
        ("oxide", "from=P2O5 to=K", "not the same thing"),
        ("oxide", "from=P2O5 percent=101", "at most 100 %"),
    ],
)
def test_refusals(name: str, typed: str, says: str) -> None:
    """What cannot be is refused with what would be right."""
    with pytest.raises(ValueError, match=says):
        work(name, *typed.split())


@pytest.mark.parametrize("name", sorted(BY_NAME))
def test_the_example_works_and_its_lines_fit(name: str) -> None:
    """Each example is worked out, with lines a class can read."""
    found = work(name, *BY_NAME[name].example.split())
    assert found.says
    assert all(len(line) <= 76 for line in found.working)
