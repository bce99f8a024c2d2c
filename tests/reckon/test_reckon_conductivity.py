"""The reckoning of EC from ions, from typed words to results."""

import pytest

from walkabout.reckon.conductivity import RECKONINGS
from walkabout.reckon.model import Reckoned
from walkabout.reckon.read import reckon, split, take

(CONDUCTIVITY,) = RECKONINGS
HOAGLAND = "K=6 Ca=5 Mg=2 NO3=15 H2PO4=1 SO4=2"
LETTUCE = "NH4=0.925 K=5.371 Ca=2.249 Mg=0.998 NO3=9.797 H2PO4=1 SO4=0.998"


def work(typed: str) -> Reckoned:
    return reckon(CONDUCTIVITY, take(CONDUCTIVITY, split(typed.split())))


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("cations=20", {"rule_tenth": 2.0, "rule_sonneveld": 2.09}),
        ("cations=12.79", {"rule_tenth": 1.279, "rule_sonneveld": 1.405}),
        ("K=6 Ca=5 Mg=2 NH4=0", {"cations": 20, "rule_tenth": 2.0}),
        ("K=7 Ca=4.5 Mg=2 NH4=0", {"rule_tenth": 2.0}),
        ("unit=mg/L K=234.6 Ca=200.4 Mg=48.6", {"rule_sonneveld": 2.09}),
        ("unit=meq/L K=7 Ca=9 Mg=4", {"cations": 20}),
        ("NO3=15 H2PO4=1 SO4=2", {"anions": 20, "rule_tenth": 2.0}),
        ("unit=mg/L NO3-N=210.1 P=30.97 S=64.1", {"anions": 20}),
        (HOAGLAND, {"ec": 2.16, "cations": 20, "anions": 20, "balance": 0}),
        (LETTUCE, {"ec": 1.49}),
        ("cations=20 anions=18", {"balance": 100 * 2 / 38}),
        ("K=1 PO4=1", {"anions": 1}),
    ],
)
def test_results(typed: str, expected: dict[str, float]) -> None:
    """Sums in meq/L, two rules of thumb, and the estimate ion by ion where both sides are known."""
    found = work(typed).results
    assert {key: found[key].value for key in expected} == pytest.approx(expected, abs=0.01)


def test_an_estimate_needs_both_sides() -> None:
    """Cations alone give the rules, and say what would give a better estimate."""
    alone = work("K=6 Ca=5 Mg=2")
    assert "ec" not in alone.results
    assert any("all cations and anions" in line for line in alone.says)
    assert next(iter(work(HOAGLAND).results)) == "ec"
    assert "15 %" in work(HOAGLAND).says[0]


@pytest.mark.parametrize(
    ("typed", "verdict"), [(HOAGLAND, "balanced"), ("K=6 Ca=5 NO3=10", "not balanced"), ("K=10 Cl=9.2", "balanced")]
)
def test_charges_that_do_not_match_are_said(typed: str, verdict: str) -> None:
    """More than 5 % between cations and anions is 'not balanced'."""
    found = work(typed)
    assert found.results["verdict"].value == verdict
    assert any("do not match" in line for line in found.says) == (verdict == "not balanced")


def test_the_rule_of_sonneveld_is_not_for_rain() -> None:
    """Outside of 1 to 5 mS/cm it says so."""
    assert any("misleads" in line for line in work("cations=0.5").says)
    assert not any("misleads" in line for line in work("cations=20").says)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "write the ions"),
        ("K=6 cations=20", "not both"),
        ("N=15", "NO3 and NH4"),
        ("NO3=1 NO3-N=2", "same ion"),
        ("P=1 H2PO4=1", "same ion"),
        ("K=1 K+=1", "given twice"),
        ("Fe=1", "leave it out"),
        ("alkalinity=2", "HCO3"),
        ("unit=meq/L PO4=3", "H2PO4"),
        ("xyz=3", "not known here"),
        ("K=-1", "at least 0"),
        ("K=400 NO3=900 Ca=250", "ionic strength"),
        ("cations=501", "at most 500"),
    ],
)
def test_refusals(typed: str, says: str) -> None:
    """What cannot be summed is refused with what would be right."""
    with pytest.raises(ValueError, match=says):
        work(typed)


def test_the_working_shows_both_sums() -> None:
    """Charges times amounts, then each rule with its numbers; mg/L are turned first."""
    assert work("K=6 Ca=5 Mg=2").working == (
        "cations: 6.00 + 2 × 5.00 + 2 × 2.00 = 20.00 meq/L",
        "a tenth of the cations: 20 ÷ 10 = 2.000 mS/cm",
        "Sonneveld: 0.095 × 20 + 0.19 = 2.090 mS/cm",
    )
    assert work("unit=mg/L Ca=200.4 K=1").working[0] == "Ca: 200.4 mg/L ÷ 40.08 = 5.00 mmol/L"


def test_the_example_works_and_its_lines_fit() -> None:
    """The example is worked out, with lines a class can read."""
    assert all(len(line) <= 76 for line in work(CONDUCTIVITY.example).working)
