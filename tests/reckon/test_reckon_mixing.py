"""The reckonings with salts: mix, grams, recipe, recipes, stock."""

import re
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
    assert float(found.results["gives_ammonium_n"].value) > 0
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
    ("recipe volume=10 P2O5=20 P=9", "leave one out"),
    ("recipe volume=10 name=lettuce strength=strong", "0.5, 50 % or half"),
    ("recipe volume=10 name=lettuce strength=9", "at most 4"),
    ("recipe volume=10 K=200 salts=KOH,KNO3", "for the pH, not for a recipe"),
    ("recipe volume=10 N=100000", "no feed"),
    ("grams of=N target=1e6 salt=KNO3", "no more than 209 g dissolves"),
    ("mix volume=60 KNO3=1e9", "no more than 209 g dissolves"),
    ("stock KNO3=0.5 factor=some volume=1", "no number"),
    ("stock KNO3=0.5 factor=1:2000 volume=1", "at most 1000"),
    *[
        (call, "is an acid")
        for call in (
            "stock HNO3=0.3 factor=100 volume=10",
            "recipe volume=60 N=100 salts=HNO3",
            "mix volume=60 H2SO4=50",
            "grams salt=H2SO4 mass=5",
        )
    ],
    ("mix volume=60 NaClO=5 KNO3=1", "is bleach"),
    ("mix volume=60 NaOH=5", "is a strong base"),
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


def test_each_salt_brings_its_own_caution() -> None:
    """Boric acid and ammonium nitrate keep their own lines beside the general one, in the job as well."""
    lines = work("mix volume=60 boric-acid=0.1 NH4NO3=3").cautions
    assert any("Boric acid: may harm fertility" in line for line in lines)
    assert any("restricted in many places" in line for line in lines)
    lye = work("mix volume=60 KOH=5")
    assert any("burns skin and eyes" in line for line in lye.cautions)
    assert any("for the pH" in line for line in lye.says)
    job = work("grams of=K target=20 salt=KOH volume=10").do
    assert job is not None
    assert job.who == "adult"
    assert "burns" in job.caution


@pytest.mark.parametrize(
    "typed", ["stock recipe=lettuce factor=100 volume=10 parts=1", "stock recipe=hoagland-1 factor=400 volume=1"]
)
def test_a_stock_that_cannot_be_made_is_no_recipe(typed: str) -> None:
    """No grams, no dose and no job: only why not, and how strong it may be."""
    found = work(typed)
    assert next(iter(found.results)) == "verdict"
    assert not [key for key, one in found.results.items() if one.unit in ("g", "mL", "L")]
    assert not any("dissolve in" in line or " mL" in line for line in found.says)
    assert any("times as strong, no more" in line for line in found.says)
    assert found.do is None


def test_the_factor_that_is_offered_instead_can_be_made() -> None:
    """Asking again with it gives a stock that is not refused."""
    highest = int(float(work("stock recipe=hoagland-1 factor=400 volume=1").results["highest_factor"].value))
    assert work(f"stock recipe=hoagland-1 factor={highest} volume=1").results["verdict"].value == "close"


def test_a_stock_is_dissolved_in_less_and_filled_up() -> None:
    """Salts take room: 10 L of stock are dissolved in about 8 L and filled up."""
    says = work("stock recipe=lettuce factor=100 volume=10").says
    assert all("about 8 L of water, then fill up to 10 L" in line for line in says if line.startswith("Tank "))


@pytest.mark.parametrize("typed", ["1:100", "1/100", "'1 in 100'", "100x", "'100 times'", "1%", "100"])
def test_a_factor_is_read_as_people_write_it(typed: str) -> None:
    """An injector's ratio, a multiple and a percentage mean the same stock."""
    assert work(f"stock KNO3=0.5 factor={typed} volume=1").results["potassium-nitrate"].value == pytest.approx(50)


@pytest.mark.parametrize("typed", ["0.5", "50%", "'50 %'", "half", "'half strength'", "1/2"])
def test_a_strength_is_read_as_people_write_it(typed: str) -> None:
    """Half strength is half strength in all ways of writing it."""
    assert work(f"recipe volume=1 name=hoagland1 strength={typed}").results["gives_n"].value == pytest.approx(
        105, abs=0.1
    )
    assert work(f"recipes name=hoagland1 strength={typed}").results["n"].value == pytest.approx(105, abs=0.1)


def test_a_target_may_be_an_oxide() -> None:
    """70 mg/L of P2O5 are 30.5 mg/L of P, and the working says so."""
    found = work("recipe volume=10 P2O5=70")
    assert found.results["gives_p"].value == pytest.approx(30.55, abs=0.01)
    assert "P2O5: 70 mg/L × 0.4364 = 30.55 mg/L P" in found.working


@pytest.mark.parametrize(
    "typed", ["water_Ca=60mg/L", "'water_Ca=60 mg/L'", "water_Ca=0.06g/L", "water_Ca=60", "water_alkalinity=3meq/L"]
)
def test_what_the_water_holds_has_its_own_unit(typed: str) -> None:
    """Salts are in g, the water in mg/L, alkalinity also in meq/L; a label is in %."""
    found = work(f"mix volume=10 KNO3=5g KNO3:N=13% {typed}").results
    assert found["n"].value == pytest.approx(65)
    if "Ca" in typed:
        assert found["ca"].value == pytest.approx(60)


def test_alkalinity_of_the_water_is_taken_in_meq() -> None:
    """3 meq/L and 150.1 mg/L of CaCO3 are the same hydrogen carbonate."""
    one, other = (work(f"mix volume=10 KNO3=5 water_alkalinity={typed}").results for typed in ("3meq/L", "150.12"))
    assert one["anions"].value == pytest.approx(other["anions"].value)


def test_salts_without_water_of_crystallisation_carry_charges() -> None:
    """Ions of salts that stand in no table follow from their formulas: the charges balance and there is an EC."""
    found = work("mix volume=60 Ca(NO3)2=30 MgSO4=10 CaCl2=2").results
    assert found["cations"].value == pytest.approx(9.46, abs=0.01)
    assert found["balance"].value == pytest.approx(0, abs=1e-9)
    same = work("mix volume=60 calcium-nitrate=43.174").results
    dry = work("mix volume=60 Ca(NO3)2=30").results
    assert dry["ec"].value == pytest.approx(same["ec"].value, rel=1e-3)


def test_unknown_ions_are_said() -> None:
    """A salt whose ions are not understood is left out of the EC, and that is said."""
    assert any("Which ions" in line for line in work("mix volume=60 K4P2O7=3").says)


@pytest.mark.parametrize(
    "typed",
    [
        "mix volume=60 calcium-nitrate=30",
        "grams of=N target=100 salt='calcium nitrate'",
        "stock calcium-nitrate=0.5 factor=100 volume=1",
        "recipe volume=60 N=150 K=200 salts='calcium nitrate, KNO3'",
        "recipe volume=60 name=hoagland-1",
    ],
)
def test_which_calcium_nitrate_was_taken_is_said(typed: str) -> None:
    """Calcium nitrate is the laboratory's; a bag is the double salt: said in the working and in the sentences."""
    found = work(typed)
    assert "taken: calcium nitrate = tetrahydrate, as in a laboratory" in found.working
    assert any("calcium-nitrate-double" in line for line in found.says)


@pytest.mark.parametrize(
    "typed",
    [
        "mix volume=60 calcium-nitrate-double=30",
        "grams of=N target=100 salt='calcium nitrate' percent=15.5",
        "grams of=N target=100 salt=Ca(NO3)2.4H2O",
        "recipe volume=60 name=lettuce",
    ],
)
def test_a_calcium_nitrate_that_is_clear_needs_no_word(typed: str) -> None:
    """Where the double salt, a label or the formula was given, nothing was taken."""
    assert not any("tetrahydrate, as in a laboratory" in line for line in work(typed).working)


def test_a_mix_far_too_strong_is_named() -> None:
    """21 mg/L of copper is a hundred times what recipes hold: it stands in the summary, with a warning before it."""
    says = work("mix volume=60 CuSO4.5H2O=5").says
    assert says[0].startswith("Far stronger than any recipe here")
    assert "Cu 21.2" in says[0]
    assert any(line.startswith("A litre holds") and "Cu 21.2" in line for line in says)
    assert not any("Far stronger" in line for line in work("mix volume=60 KNO3=26").says)


def test_a_recipe_far_too_strong_is_no_job() -> None:
    """2000 mg/L of nitrogen are worked out with a warning, and nobody is told to weigh them."""
    found = work("recipe volume=10 N=2000")
    assert found.says[0].startswith("Far stronger")
    assert found.do is None


def test_a_mass_without_litres_is_not_judged() -> None:
    """500 g of potassium nitrate, litres not said, are weighed out for the ounces: no word of its solubility."""
    assert work("grams salt=KNO3 mass=500").results["ounces"].value == pytest.approx(17.64, abs=0.01)


def test_what_no_salt_brings_is_said() -> None:
    """Sodium is in no salt of recipes: that is said, instead of praising the water."""
    says = work("recipe volume=60 Na=50").says
    assert says[0].startswith("No salt was found for Na")
    assert not any("already has" in line for line in says)
    assert work("recipe volume=60 N=5 water_N=6").says[0] == "The water alone already has what is wanted."


SHOWN = [
    "grams of=N target=150 salt=calcium-nitrate volume=60",
    "grams of=P target=31.7 salt=KH2PO4 volume=7.3",
    "grams of=Mg salt=epsom mass=1.06 volume=13",
    "mix volume=61 KNO3=15.17 calcium-nitrate-double=29.2 epsom=7.77",
    "recipe volume=60 name=lettuce",
    "recipe volume=37 N=150 K=210 Ca=90 Mg=24 P=31",
    "stock recipe=lettuce factor=130 volume=7",
]


STEP = re.compile(r"([×÷+]?) ?([\d.]+) ?(%?)[^×÷+]*")


def by_calculator(step: str) -> float:
    """Work out '4.2 g × 13.85 % × 1000 ÷ 60 L', or a sum, as a pupil would."""
    value = 0.0
    for sign, number, percent in STEP.findall(step):
        one = float(number) / (100 if percent else 1)
        value = value * one if sign == "×" else value / one if sign == "÷" else value + one
    return value


@pytest.mark.parametrize("typed", SHOWN)
def test_the_working_computes_with_the_digits_it_shows(typed: str) -> None:
    """Whoever takes a calculator to a line of the working gets the number behind its last '='."""
    checked = 0
    for line in work(typed).working:
        *_, step, result = ["", *line.rpartition(": ")[2].split(" = ")]
        shown = re.match(r"[\d.]+", result)
        if shown is None or not re.search("[×÷+]", step) or re.search("[(−]|SO4|target", step):
            continue
        decimals = len(shown.group().partition(".")[2])
        assert abs(by_calculator(step) - float(shown.group())) <= 0.5000001 * 10**-decimals, line
        checked += 1
    assert checked >= 4
