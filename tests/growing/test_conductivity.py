"""EC from ions: physics that any estimate has to keep."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import conductivity as of
from walkabout.growing.limits import OutOfRange

HOAGLAND = {"K+": 6.0, "Ca+2": 5.0, "Mg+2": 2.0, "NO3-": 15.0, "H2PO4-": 1.0, "SO4-2": 2.0}
FACTOR = st.floats(0.01, 4)


@settings(max_examples=40)
@given(FACTOR)
def test_stronger_conducts_more_but_less_than_in_proportion(factor: float) -> None:
    """Half strength has more than half of the EC: ions hinder each other."""
    strong = of.estimate({ion: amount * factor for ion, amount in HOAGLAND.items()})
    weak = of.estimate({ion: amount * factor / 2 for ion, amount in HOAGLAND.items()})
    assert weak < strong < 2 * weak


def test_half_and_quarter_strength_are_not_half_and_quarter() -> None:
    """A half-strength feed has about 53 %, a quarter-strength one about 28 % of the EC (PHREEQC)."""
    full, half, quarter = (of.estimate({ion: c * part for ion, c in HOAGLAND.items()}) for part in (1, 0.5, 0.25))
    assert half / full == pytest.approx(0.53, abs=0.01)
    assert quarter / full == pytest.approx(0.28, abs=0.01)


@settings(max_examples=60)
@given(
    st.dictionaries(st.sampled_from(sorted(of.LIMITING)), st.floats(0, 15), max_size=8),
    st.sampled_from(["K+", "NO3-", "Na+", "Cl-"]),
)
def test_an_estimate_is_never_below_zero_nor_above_free_ions(ions: dict[str, float], more: str) -> None:
    """Between nothing and the sum of the limiting conductivities."""
    ions = {**ions, more: 1.0}
    most = sum(amount / 1000 * abs(of.charge(ion)) * of.LIMITING[ion] for ion, amount in ions.items())
    assert 0 < of.estimate(ions) <= most


@settings(max_examples=60)
@given(st.dictionaries(st.sampled_from(["Ca+2", "Mg+2", "K+", "SO4-2", "HCO3-"]), st.floats(0.01, 50), min_size=2))
def test_pairs_close_the_mass_balance(ions: dict[str, float]) -> None:
    """Of every ion, what is free and what is in pairs make up what was put in."""
    free = of._free(ions)
    strength = of.ionic_strength(free)
    whole = dict(free)
    for (plus, minus), stability in of._PAIRS.items():
        if plus in ions and minus in ions:
            left = abs(of.charge(plus) + of.charge(minus))
            gain = of._log_activity(2, strength) + of._log_activity(abs(of.charge(minus)), strength)
            gain -= of._log_activity(left, strength) if left else 0.0
            paired = stability * 10**gain * free[plus] * free[minus] / 1000
            assert paired > 0
            whole[plus] += paired
            whole[minus] += paired
    assert whole == pytest.approx(ions, rel=1e-5)


def test_nothing_conducts_nothing() -> None:
    """No ions: no conductivity, no charge, balanced."""
    assert of.estimate({}) == of.cations({}) == of.anions({}) == of.imbalance({}) == 0


def test_charges_are_summed_on_both_sides() -> None:
    """Hoagland's solution has 20 meq/L on each side."""
    assert of.cations(HOAGLAND) == of.anions(HOAGLAND) == 20
    assert of.imbalance({"K+": 3, "Cl-": 1}) == 50


@pytest.mark.parametrize(
    ("ions", "error", "names"),
    [
        ({"K+": 300.0, "SO4-2": 150.0, "Ca+2": 60.0}, OutOfRange, "ionic strength"),
        ({"K+": -1.0}, OutOfRange, "at least 0"),
        ({"Xe+": 1.0}, ValueError, "Xe"),
    ],
    ids=["brine", "negative", "unknown"],
)
def test_what_it_does_not_hold_for_is_refused(ions: dict[str, float], error: type[Exception], names: str) -> None:
    """The message names the limit or the ion."""
    with pytest.raises(error, match=names):
        of.estimate(ions)


@pytest.mark.parametrize("rule", [of.rule_tenth, of.rule_sonneveld])
def test_rules_refuse_what_is_no_sum(rule: object) -> None:
    """Negative sums and brines are out of range."""
    for wrong in (-1.0, 501.0):
        with pytest.raises(OutOfRange, match="sum of the cations"):
            rule(wrong)  # type: ignore[operator]
