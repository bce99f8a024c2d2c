"""The reckonings with salts: mix, grams, recipe, recipes, stock."""

import shlex

import pytest

from walkabout.reckon import mixing, one_salt, read, recipes, stocks
from walkabout.reckon.model import Reckoned

KNOWN = {one.name: one for module in (mixing, one_salt, recipes, stocks) for one in module.RECKONINGS}


def work(typed: str) -> Reckoned:
    name, *words = shlex.split(typed)
    return read.reckon(KNOWN[name], read.take(KNOWN[name], read.split(words)))


@pytest.mark.parametrize("name", KNOWN)
def test_the_example_works(name: str) -> None:
    """Each reckoning's own example gives results, working and a source, in lines that fit a board."""
    found = work(f"{name} {KNOWN[name].example}")
    assert found.results
    assert found.working
    assert found.source
    assert all(len(line) <= 100 for line in found.working), [line for line in found.working if len(line) > 100]
    assert len(set(found.working)) == len(found.working)


CALLS = [
    "recipe volume=60 name=tomato",
    "recipe volume=60 name=hoagland-1 strength=0.5 water_Ca=40 water_alkalinity=100",
    "recipe volume=10 N=150 P=31 K=210 Ca=90 Mg=24",
    "grams of=N target=150 salt=calcium-nitrate percent=15.5 Ca=19 volume=60",
    "stock recipe=steiner factor=100 volume=10 parts=3",
    "stock recipe=lettuce factor=100 volume=10 parts=1",
    "mix volume=60 potassium-nitrate=30 potassium-nitrate:N=13 water_SO4=30 water_Mg=7.6",
]


@pytest.mark.parametrize("typed", CALLS)
def test_weighing_salts_is_an_adults_work(typed: str) -> None:
    """There is a caution for salts and for oxidisers, and what is to be done is an adult's job."""
    found = work(typed)
    assert "adult" in found.cautions[0]
    assert any(line.startswith("Oxidisers") for line in found.cautions)
    assert found.do is None or found.do.who == "adult"
    assert not any("!" in line for line in (*found.says, *found.cautions))


@pytest.mark.parametrize("typed", CALLS)
def test_sums_of_the_working_add_up(typed: str) -> None:
    """Where the working adds contributions, what is shown adds up within the last digit shown."""
    for line in work(typed).working:
        left, _, right = line.partition(" = ")
        parts, _, total = right.partition(" = ")
        if " + " in parts and total.endswith("mg/L") and " " not in left:
            shown = [float(part) for part in parts.split(" + ")]
            assert float(total.removesuffix(" mg/L")) == pytest.approx(sum(shown), rel=1e-3)


def test_mix_counts_the_water() -> None:
    """Sulfate, alkalinity and magnesium of a water report are counted as S, hydrogen carbonate and Mg."""
    found = work("mix volume=10 potassium-nitrate=5 water_SO4=96.06 water_Mg=24.305 water_alkalinity=50.04 water_na=23")
    assert found.results["s"].value == pytest.approx(32.06, abs=0.01)
    assert found.results["mg"].value == pytest.approx(24.305)
    assert found.results["balance"].value == pytest.approx(0, abs=0.1)


def test_mix_says_when_a_water_report_is_not_complete() -> None:
    """Calcium without anything negative does not balance, and that is said."""
    found = work("mix volume=10 potassium-nitrate=5 water_Ca=100")
    assert any("do not balance" in line for line in found.says)


def test_mix_takes_a_label() -> None:
    """SALT:ELEMENT is the label's percentage, also counted as an oxide."""
    assert work("mix volume=1 potassium-nitrate=1 potassium-nitrate:K2O=46").results["k"].value == pytest.approx(
        381.9, abs=0.1
    )


def test_recipe_says_what_cannot_be_met_and_what_comes_along() -> None:
    """From potassium sulfate alone nitrogen is not met; sulfur comes along."""
    found = work('recipe volume=10 N=100 K=200 salts="potassium sulfate"')
    assert found.results["worst"].value == pytest.approx(100)
    assert any("N (−100.0 %)" in line for line in found.says)
    assert any(line.startswith("What comes along") and "S " in line for line in found.says)


def test_recipe_says_when_the_water_has_too_much() -> None:
    """Water with more calcium than wanted is named."""
    assert any("more than wanted of Ca" in line for line in work("recipe volume=10 name=lettuce water_Ca=150").says)


def test_recipe_uses_only_the_salts_that_are_there() -> None:
    """Salts with commas, or formulas with spaces, are the only ones used."""
    for salts in ('"calcium nitrate, potassium nitrate"', '"calcium-nitrate KNO3"'):
        found = work(f"recipe volume=10 N=150 K=200 salts={salts}")
        assert [key for key, one in found.results.items() if one.unit == "g"] == [
            "calcium-nitrate",
            "potassium-nitrate",
        ]


def test_recipe_says_which_calcium_nitrate_was_taken() -> None:
    """Without a choice the double salt is taken and the working says so; a choice changes the grams."""
    taken = work("recipe volume=10 N=150 K=210 Ca=90")
    asked = work("recipe volume=10 N=150 K=210 Ca=90 calcium_nitrate=tetrahydrate")
    assert any(line == "taken: calcium nitrate = double-salt" for line in taken.working)
    assert "calcium-nitrate-double" in taken.results
    assert "calcium-nitrate" in asked.results


def test_small_amounts_are_not_for_a_kitchen_scale() -> None:
    """Micronutrients of 60 L are too little for a kitchen scale; the calcium nitrate is not."""
    line = next(one for one in work("recipe volume=60 name=lettuce").says if "kitchen scale" in one)
    assert "boric acid" in line
    assert "calcium nitrate" not in line


def test_much_ammonium_is_said() -> None:
    """More than a fifth of the nitrogen as ammonium gets a warning."""
    assert any("ammonium" in line for line in work("mix volume=10 ammonium-nitrate=4").says)
    assert not any("ammonium" in line for line in work("mix volume=10 potassium-nitrate=4").says)


def test_grams_takes_the_double_salt_for_a_bag_of_calcium_nitrate() -> None:
    """A label of 15.5 % N is the double salt's: what comes along is its calcium, and some ammonium."""
    found = work('grams of=N target=100 salt="calcium nitrate" percent=15.5')
    assert found.results["gives_ca"].value == pytest.approx(119.2, abs=0.5)
    assert found.results["gives_ammonium_n"].value > 0
    assert any("double salt" in line for line in found.says)


def test_recipes_lists_all_of_them_and_shows_one() -> None:
    """The list has every recipe in one line; one of them shows its mg/L and its salts."""
    assert {"hoagland-1", "hoagland-2", "steiner", "lettuce", "tomato"} <= set(work("recipes").results)
    one = work("recipes name=hoagland-1 strength=0.5").results
    assert one["n"].value == pytest.approx(105.05)
    assert one["calcium-nitrate"].value == pytest.approx(0.5904, abs=0.0005)


def test_stock_parts_the_salts_and_says_the_dose() -> None:
    """Two tanks: calcium and iron in A, sulfate, phosphate and micronutrients in B, 10 mL of each for a litre."""
    found = work("stock recipe=lettuce factor=100 volume=10").results
    assert "calcium-nitrate-double" in str(found["tank_a"].value)
    assert "magnesium-sulfate" in str(found["tank_b"].value)
    assert found["dose"].value == 10
    assert found["makes"].value == 1000


def test_a_stock_that_would_drop_out_is_no_job() -> None:
    """One tank at 100 times is refused as a job, with gypsum as the reason; in two tanks it is a job."""
    bad, good = (work(f"stock recipe=lettuce factor=100 volume=10 parts={parts}") for parts in (1, 2))
    assert bad.do is None
    assert "gypsum" in bad.says[0]
    assert good.do is not None


def test_a_stock_above_the_solubility_says_which_salt() -> None:
    """Hoagland at 400 times would need 202 g/L of potassium nitrate."""
    found = work("stock recipe=hoagland-1 factor=400 volume=1")
    assert found.results["verdict"].value == "too strong"
    assert "potassium nitrate" in found.says[0]
    assert found.results["highest_factor"].value == pytest.approx(200 / 0.5055, rel=0.001)


REFUSALS = [
    ("recipe volume=10", "needs a name"),
    ("recipe volume=10 name=hogland", "did you mean hoagland"),
    ("recipe volume=10 name=lettuce N=100", "not both"),
    ("recipe volume=10 P2O5=20", "P = P2O5 × 0.4364"),
    ("recipe volume=10 Zz=20", "no element"),
    ("recipe volume=10 N=100 salts=sugar", "no salt is called 'sugar'"),
    ("mix volume=10 potasium-nitrate=3", "did you mean potassium-nitrate"),
    ("mix volume=10 water_Ca=3", "at least one salt"),
    ("mix volume=10 potassium-nitrate=3 boric-acid:B=17", "no amount of boric-acid"),
    ("grams target=100 salt=KNO3", "needs its element"),
    ("grams of=N salt=KNO3", "give one of"),
    ("grams of=N target=5 mass=3 salt=KNO3", "give one of"),
    ("grams of=Fe target=5 salt=KNO3", "holds no iron: it holds N, K"),
    ("grams of=P target=31 salt=KH2PO4 percent=52", "written P2O5=52"),
    ("grams of=N target=31", "say which salt"),
    ("grams salt=KNO3 stock=10", "needs both"),
    ("grams salt=KNO3 percent=10 mass=3", "percent needs its element"),
    ("stock factor=100 volume=10", "needs a recipe"),
    ("stock recipe=lettuce factor=100 volume=10 parts=2.5", "1, 2 or 3 tanks"),
    ("stock potassium-hydroxide=1 factor=100 volume=10", "no stock"),
]


@pytest.mark.parametrize(("typed", "words"), REFUSALS, ids=[row[0] for row in REFUSALS])
def test_refusals_say_what_would_be_right(typed: str, words: str) -> None:
    """What cannot be worked out is refused with one sentence."""
    with pytest.raises(ValueError, match=r"^[^\n]+$") as caught:
        work(typed)
    assert words in str(caught.value)
