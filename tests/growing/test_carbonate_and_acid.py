"""Carbonate, titration, bottles and hazard classes: what must hold for any value."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import acid, carbonate, hazard, titration
from walkabout.growing.limits import OutOfRange

ALKALINITY = st.floats(0, 6)
TEMPERATURE = st.floats(5, 35)
PH = st.floats(5, 8.5)
FEW = settings(max_examples=60, deadline=None)


@FEW
@given(st.floats(4, 10), TEMPERATURE)
def test_the_shares_of_carbon_are_one(ph: float, warm: float) -> None:
    """Carbon dioxide, bicarbonate and carbonate make all of it, and at pH = pK1 the first two are equal."""
    one = carbonate.shares(ph, warm)
    assert one.dioxide + one.bicarbonate + one.carbonate == pytest.approx(1)
    at_pk = carbonate.shares(carbonate.pk1(warm), warm)
    assert at_pk.dioxide == pytest.approx(at_pk.bicarbonate)


@FEW
@given(st.floats(0.1, 6), PH, TEMPERATURE)
def test_alkalinity_and_carbon_are_each_other_turned_round(alk: float, ph: float, warm: float) -> None:
    """The carbon that was worked out from an alkalinity gives that alkalinity."""
    assert carbonate.alkalinity(carbonate.carbon(alk, ph, warm), ph, warm) == pytest.approx(alk)


@FEW
@given(ALKALINITY, PH, PH, TEMPERATURE)
def test_acid_down_and_base_up_are_the_same_way(alk: float, one: float, two: float, warm: float) -> None:
    """Going down takes acid, and as much base brings the same closed water up again."""
    high, low = max(one, two), min(one, two)
    down = carbonate.strong_acid(alk, high, low, warm)
    assert down >= 0
    closed = carbonate.carbon(alk, high, warm)
    back = carbonate.alkalinity(closed, low, warm) - carbonate.alkalinity(closed, high, warm)
    assert back == pytest.approx(-down, abs=1e-9)


@FEW
@given(ALKALINITY, PH, PH, TEMPERATURE, st.sampled_from(sorted(titration.ACIDS)))
def test_a_dose_grows_with_the_way_and_is_never_negative(
    alk: float, one: float, two: float, warm: float, name: str
) -> None:
    """To a lower pH it takes more acid, and no acid at all to stay."""
    high, low = max(one, two), min(one, two)
    start, reagent = titration.water(alk, high, warm), titration.ACIDS[name]
    assert titration.dose(start, high, reagent).amount == 0
    whole = titration.dose(start, low, reagent).amount
    assert whole >= titration.dose(start, (low + high) / 2, reagent).amount - 1e-6 >= -1e-6


@FEW
@given(st.floats(0.2, 6), TEMPERATURE)
def test_with_hardly_any_salt_both_ways_agree(alk: float, warm: float) -> None:
    """Where ions are few the activities are 1, and the full reckoning comes to the formula."""
    thin = alk / 1000
    full = titration.dose(titration.water(thin, 7.2, warm), 5.5, titration.ACIDS["nitric"]).amount
    assert full == pytest.approx(carbonate.strong_acid(thin, 7.2, 5.5, warm), rel=0.01)


@FEW
@given(ALKALINITY, PH, PH, st.sampled_from(sorted(titration.ACIDS)))
def test_portions_make_the_dose_and_move_half_a_ph_at_most(alk: float, one: float, two: float, name: str) -> None:
    """They sum to the whole, the last of them is at most a fifth, and none goes further than 0.5."""
    high, low = max(one, two), min(one, two)
    start, reagent = titration.water(alk, high, 25), titration.ACIDS[name]
    whole = titration.dose(start, low, reagent).amount
    parts = acid.portions(start, high, low, reagent)
    assert sum(part.amount for part in parts) == pytest.approx(whole, abs=1e-12)
    assert all(part.amount >= 0 for part in parts)
    if parts:
        assert parts[-1].amount <= 0.2 * whole + 1e-9
        assert parts[-1].reached == low
        reached = [high, *(part.reached for part in parts if part.reached is not None)]
        assert max(before - after for before, after in pairwise(reached)) <= 0.5 + 1e-9


def test_water_without_alkalinity_needs_only_its_hydrogen_ions() -> None:
    """Pure water from pH 7 to 5 takes 0.01 meq/L: 10^-5 mol/L."""
    start = titration.water(0, 7, 25)
    assert titration.dose(start, 5, titration.ACIDS["nitric"]).amount == pytest.approx(0.01, rel=0.01)


def test_sulfuric_acid_counts_twice_and_phosphoric_once() -> None:
    """At pH 5.8 one mol counts for 2, and for a little over 1."""
    start = titration.water(3, 8, 25)
    assert titration.dose(start, 5.8, titration.ACIDS["sulfuric"]).counts == 2
    assert 1.03 < titration.dose(start, 5.8, titration.ACIDS["phosphoric"]).counts < 1.1


def test_citric_acid_counts_more_in_hard_water() -> None:
    """By pK alone it is 2.1 at pH 5.8; calcium holds citrate, and it comes nearer to 3."""
    soft = titration.dose(titration.water(0.2, 7.5, 25), 5.8, titration.ACIDS["citric"]).counts
    hard = titration.dose(titration.water(5, 7.5, 25), 5.8, titration.ACIDS["citric"]).counts
    assert 2.1 < soft < hard < 3


def test_calcium_that_is_known_takes_the_place_of_the_usual() -> None:
    """Half the alkalinity is what is taken; without any, thin water comes to what the pK alone gives."""
    for name in titration.ACIDS:
        taken = titration.dose(titration.water(2, 7.5, 25), 5.8, titration.ACIDS[name])
        given = titration.dose(titration.water(2, 7.5, 25, 0, 1.0), 5.8, titration.ACIDS[name])
        assert given.amount == pytest.approx(taken.amount, rel=1e-6)
    thin = titration.dose(titration.water(0.01, 7.2, 25, 0, 0), 5.8, titration.ACIDS["citric"])
    assert thin.counts == pytest.approx(carbonate.mean_charge(5.8, carbonate.CITRIC_PK), rel=0.01)


@FEW
@given(st.floats(0.5, 6), st.floats(0, 5), st.floats(0.1, 5))
def test_more_calcium_makes_citric_acid_count_for_more(alk: float, calcium: float, more: float) -> None:
    """It holds citrate, which then gives off more hydrogen; never more than its three."""
    reagent = titration.ACIDS["citric"]
    less = titration.dose(titration.water(alk, 7.5, 25, 0, calcium), 5.8, reagent).counts
    assert less < titration.dose(titration.water(alk, 7.5, 25, 0, calcium + more), 5.8, reagent).counts < 3


@pytest.mark.parametrize(("base", "to"), [("potassium bicarbonate", 8.5), ("potassium bicarbonate", 8.3)])
def test_a_base_that_is_too_weak_is_refused(base: str, to: float) -> None:
    """Bicarbonate cannot bring water above its own pH."""
    with pytest.raises(OutOfRange, match="too weak"):
        titration.dose(titration.water(0.4, 7, 25), to, titration.BASES[base])


def test_an_acid_cannot_raise_the_ph() -> None:
    """The wrong way round is refused in words."""
    with pytest.raises(OutOfRange, match="moves the pH away from 7"):
        titration.dose(titration.water(2, 6, 25), 7, titration.ACIDS["nitric"])


@pytest.mark.parametrize(
    ("work", "says"),
    [
        (lambda: carbonate.pk1(60), "at most 50 °C"),
        (lambda: carbonate.pkw(float("nan")), "no number"),
        (lambda: carbonate.shares(3, 25), "at least 4"),
        (lambda: carbonate.carbon(30, 7, 25), "at most 20 meq/L"),
        (lambda: carbonate.strong_acid(2, 7, 11, 25), "at most 10"),
        (lambda: carbonate.mean_ph((6, 15)), "at most 14"),
        (lambda: titration.water(-1, 7, 25), "at least 0 meq/L"),
        (lambda: titration.dose(titration.water(1, 7, 25), 3, titration.ACIDS["nitric"]), "at least 4"),
        (lambda: titration.water(1, 7, 25, 0, 30), "at most 25 mmol/L"),
        (lambda: acid.percent("sulfuric", 40), "at most 18.7 mol/L, pure"),
        (lambda: acid.density("citric", 80), "at most 50 %"),
        (lambda: acid.percent("citric", 8), "at most"),
        (lambda: acid.strength("nitric", 10, 5), "at most 2 g/mL"),
        (lambda: acid.to_pour(1, 0, 1), "more than 0 L"),
        (lambda: acid.to_pour(1, 1, 0), "more than 0 eq/L"),
        (lambda: acid.to_neutralise(40, 60), "at most 40"),
        (lambda: acid.concentrate(1, 2, 100), "the weaker one"),
        (lambda: hazard.danger("nitric", 101), "at most 100 %"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_values_out_of_range_are_refused_with_the_limit(work: object, says: str) -> None:
    """The error names the limit."""
    with pytest.raises(OutOfRange, match=says):
        work()  # type: ignore[operator]


def test_no_reading_has_no_mean() -> None:
    """A mean of nothing is refused."""
    with pytest.raises(ValueError, match="at least one"):
        carbonate.mean_ph(())


@pytest.mark.parametrize("substance", list(acid.FORMULAS))
def test_percent_and_strength_are_each_other_turned_round(substance: acid.Substance) -> None:
    """Every table rises, so that each strength has one percentage."""
    top = acid.DENSITIES[substance][-1][0]
    strengths = [acid.strength(substance, top * part / 40) for part in range(41)]
    assert strengths == sorted(strengths)
    for part in (1, 7, 20, 33, 40):
        assert acid.percent(substance, strengths[part]) == pytest.approx(top * part / 40, abs=1e-6)


@pytest.mark.parametrize("substance", list(hazard.LIMITS))
def test_the_class_changes_at_its_limit(substance: acid.Substance) -> None:
    """Just below it is the milder class, at the limit the graver."""
    limits = hazard.LIMITS[substance]
    assert hazard.danger(substance, 0) == "no hazard label"
    for limit, name in ((limits.irritant, "irritant"), (limits.corrosive, "corrosive")):
        if limit is not None:
            assert hazard.danger(substance, limit) == name
            assert hazard.danger(substance, limit - 0.01) != name
            assert hazard.danger_of(substance, acid.strength(substance, limit)) == name


@pytest.mark.parametrize(
    ("typed", "found"),
    [("HNO3", "nitric"), ("Nitric acid", "nitric"), ("sulphuric-acid", "sulfuric"), ("H₂SO₄", "sulfuric"),
     ("KOH", "potassium hydroxide"), ("potassium hydrogen carbonate", "potassium bicarbonate"),
     ("HCl", "hydrochloric"), ("orthophosphoric", "phosphoric"), ("ortho-phosphoric acid", "phosphoric"),
     ("potassium hydrogencarbonate", "potassium bicarbonate"), ("citric acid monohydrate", "citric")],
)  # fmt: skip
def test_a_substance_is_found_by_name_and_formula(typed: str, found: str) -> None:
    """As people type it."""
    assert acid.find(typed, tuple(acid.FORMULAS)) == found


def test_an_unknown_substance_names_the_nearest() -> None:
    """A slip gets a hint, anything else the list."""
    with pytest.raises(ValueError, match="did you mean phosphoric"):
        acid.find("phosforic", ("nitric", "phosphoric"))
    with pytest.raises(ValueError, match="one of nitric, phosphoric"):
        acid.find("soap", ("nitric", "phosphoric"))
    with pytest.raises(ValueError, match="hydrochloric acid is not meant here"):
        acid.find("HCl", ("nitric", "phosphoric"))


@FEW
@given(st.floats(0.01, 20), st.floats(0.01, 1), st.floats(1, 5000))
def test_diluting_keeps_what_is_dissolved(strong: float, part: float, volume: float) -> None:
    """Before and after it is as many moles, and it never takes more than is made."""
    poured = acid.concentrate(strong, strong * part, volume)
    assert poured * strong == pytest.approx(strong * part * volume)
    assert poured <= volume * (1 + 1e-9)


@FEW
@given(st.floats(0, 400), st.floats(0.05, 20), st.floats(1, 5000))
def test_what_is_poured_takes_out_what_was_asked(removed: float, strength: float, litres: float) -> None:
    """Pouring and its effect are each other turned round."""
    meq = acid.to_neutralise(removed, 0)
    assert acid.neutralised(acid.to_pour(meq, litres, strength), strength, litres) == pytest.approx(removed, abs=1e-9)


@FEW
@given(st.lists(st.floats(4, 9), min_size=1, max_size=6))
def test_the_mean_of_ph_lies_between_and_not_above_the_plain_mean(readings: list[float]) -> None:
    """By hydrogen ions the mixture is at least as acid as the plain mean says."""
    mixture = carbonate.mean_ph(tuple(readings))
    assert min(readings) - 1e-9 <= mixture <= sum(readings) / len(readings) + 1e-9
