"""Mixing: mass and charge are kept, and grams worked out give the target back."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import mixing, recipes
from walkabout.growing.limits import OutOfRange
from walkabout.growing.salts import load

WITH_IONS = tuple(salt.key for salt in load() if salt.ions and not salt.label)
MACRO = (
    "calcium-nitrate-double",
    "potassium-nitrate",
    "monopotassium-phosphate",
    "magnesium-sulfate",
    "potassium-sulfate",
)
MICRO = ("iron-dtpa", "manganese-sulfate", "zinc-sulfate", "boric-acid", "copper-sulfate", "sodium-molybdate")

masses = st.dictionaries(st.sampled_from(WITH_IONS), st.floats(0.01, 500), min_size=1, max_size=6)


@settings(max_examples=60, deadline=None)
@given(masses, st.floats(0.1, 1000))
def test_charges_balance(grams: dict[str, float], volume: float) -> None:
    """Every salt of the table sets free as many positive as negative charges, in any mix."""
    assert mixing.mix(grams, volume).balance == pytest.approx(0, abs=1e-6)


@settings(max_examples=60, deadline=None)
@given(masses, st.floats(0.1, 1000))
def test_mass_is_kept(grams: dict[str, float], volume: float) -> None:
    """What is in the solution is what was in the salts: litres × mg/L is grams × share, for each element."""
    contents = mixing.mix(grams, volume).contents
    for name in ("P", "K", "Ca", "Mg", "S", "Cl", "Na", "Fe"):
        in_salts = sum(mass * load().known(key).elements.get(name, 0.0) for key, mass in grams.items())
        assert contents[name] * volume / 1000 == pytest.approx(in_salts, rel=1e-9)
    assert contents["N"] == pytest.approx(sum(contents[form] for form in mixing.FORMS))


@settings(max_examples=60, deadline=None)
@given(masses, st.floats(0.1, 100), st.floats(1.1, 10))
def test_more_water_thins_in_proportion(grams: dict[str, float], volume: float, times: float) -> None:
    """The same salts in more water give as much less of everything."""
    strong, weak = mixing.mix(grams, volume).contents, mixing.mix(grams, volume * times).contents
    for name, amount in strong.items():
        assert weak[name] * times == pytest.approx(amount)


@st.composite
def made_targets(draw: st.DrawFn) -> dict[str, float]:
    each = {key: draw(st.floats(50, 900)) for key in MACRO}
    for key in draw(st.sets(st.sampled_from(MACRO), max_size=2)):
        del each[key]
    each |= {key: draw(st.floats(0.1, 20)) for key in draw(st.sets(st.sampled_from(MICRO)))}
    contents = mixing.mix({key: mg / 1000 for key, mg in each.items()}, 1.0).contents
    return {name: contents[name] for name in (*mixing.MAJOR, *mixing.MINOR) if contents[name] > 0.001}


@settings(max_examples=60, deadline=None)
@given(made_targets(), st.floats(1, 500))
def test_grams_found_give_the_target_back(target: dict[str, float], volume: float) -> None:
    """A target that the ordinary salts can make is met within 1 %, with nothing negative."""
    found = recipes.worked_out(target, volume)
    assert all(mass > 0 for mass in found.grams.values())
    given_back = mixing.mix(found.grams, volume).contents
    for name, wanted in target.items():
        assert given_back[name] == pytest.approx(wanted, rel=0.01)


@settings(max_examples=30, deadline=None)
@given(made_targets(), st.floats(0.05, 0.9), st.sampled_from(("Ca", "Mg", "K")))
def test_what_the_water_holds_is_taken_off(target: dict[str, float], part: float, name: str) -> None:
    """Water and grams together give what was wanted of an element that the water holds part of."""
    if name not in target:
        return
    water = {name: target[name] * part}
    found = recipes.worked_out(target, 10.0, water=water)
    assert found.mixed.contents[name] == pytest.approx(
        water[name] + mixing.mix(found.grams, 10.0).contents[name], rel=1e-9
    )
    assert found.water_has == ()


def test_water_with_more_than_wanted_is_named() -> None:
    """Calcium above its target in the water is named, given as off, and no calcium salt is added."""
    found = recipes.worked_out({"N": 150, "K": 210, "Ca": 90}, 10, water={"Ca": 120})
    assert found.water_has == ("Ca",)
    assert found.off["Ca"] == pytest.approx(100 / 3)
    assert "calcium-nitrate-double" not in found.grams


def test_nitrogen_of_water_without_a_form_is_nitrate() -> None:
    """10 mg/L of N in the water, 2 of it ammonium, are 8 of nitrate, and both are counted as ions."""
    mixed = mixing.mix({}, 1.0, {"N": 10.0, "ammonium_n": 2.0})
    assert mixed.contents["nitrate_n"] == 8.0
    assert mixed.contents["N"] == 10.0
    assert mixed.ions["NH4+"] == pytest.approx(2 / 14.007)


def test_a_label_wins_and_its_nitrogen_keeps_its_forms() -> None:
    """15.5 % N on the bag counts instead of 15.55 %, parted into nitrate and ammonium as in the pure salt."""
    salt = mixing.of("calcium-nitrate-double")
    pure, bag = mixing.shares(salt), mixing.shares(salt, {"N": 15.5, "Ca": 19.0})
    assert (bag["N"], bag["Ca"]) == (0.155, 0.19)
    assert bag["nitrate_n"] / bag["ammonium_n"] == pytest.approx(pure["nitrate_n"] / pure["ammonium_n"])
    assert bag["nitrate_n"] + bag["ammonium_n"] == pytest.approx(0.155)


def test_nitrogen_inside_a_chelate_is_not_counted() -> None:
    """Iron chelate gives iron and sodium, but none of the nitrogen that plants take."""
    held = mixing.shares(mixing.of("iron-edta-pure"))
    assert "N" not in held
    assert held["Fe"] == pytest.approx(0.1326, abs=0.0005)


def test_a_split_of_the_nitrogen_is_a_target_too() -> None:
    """Nitrate and ammonium wanted separately come out separately."""
    target = {"nitrate_n": 140.0, "ammonium_n": 10.0, "P": 31.0, "K": 210.0, "Ca": 150.0, "Mg": 24.0}
    found = recipes.worked_out(target, 1.0, calcium="tetrahydrate")
    assert found.mixed.contents["nitrate_n"] == pytest.approx(140, rel=0.01)
    assert found.mixed.contents["ammonium_n"] == pytest.approx(10, rel=0.01)


def test_reserves_come_in_only_where_they_are_needed() -> None:
    """The tomato target is met without ammonium nitrate; the lettuce target needs one reserve salt."""
    tomato, lettuce = (recipes.find(name)[0].target for name in ("tomato", "lettuce"))
    assert not set(recipes.worked_out(tomato, 1.0).grams) & set(recipes.RESERVE)
    assert len(set(recipes.worked_out(lettuce, 1.0).grams) & set(recipes.RESERVE)) == 1


def test_no_micronutrient_comes_in_for_its_sulfate() -> None:
    """Sulfur alone is made up of potassium and magnesium sulfate, never of copper or zinc sulfate."""
    found = recipes.worked_out({"K": 100, "Mg": 30, "S": 500}, 1.0)
    assert not set(found.grams) & set(MICRO)


def test_a_target_of_nought_is_avoided() -> None:
    """Chloride wanted at nought keeps calcium chloride out, at the cost of calcium."""
    target = {"N": 70.0, "P": 50.0, "K": 120.0, "Ca": 150.0}
    assert recipes.worked_out(target, 1.0).mixed.contents["Cl"] > 50
    assert recipes.worked_out({**target, "Cl": 0.0}, 1.0).mixed.contents["Cl"] < 20


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: mixing.mix({"potassium-nitrate": 1}, 0), "the volume is 0 L: it must be more than 0 L"),
        (lambda: mixing.mix({"potassium-nitrate": -1}, 1), "at least 0 g"),
        (lambda: mixing.mix({"potassium-nitrat": 1}, 1), "potassium-nitrate"),
        (lambda: mixing.nearest({"N": 0}, 1, ["KNO3"]), "at least one element above 0"),
        (lambda: mixing.nearest({"Xx": 5}, 1, ["KNO3"]), "'Xx' is no element"),
        (lambda: mixing.shares(mixing.of("KNO3"), {"N": 120}), "at most 100 %"),
        (lambda: recipes.scaled({"N": 1}, 9), "at most 4"),
        (lambda: mixing.of("HNO3"), "HNO3 is an acid"),
        (lambda: mixing.undissolved({"potassium-nitrate": 500}, 1), "500 g in a litre .* no more than 209"),
        (lambda: mixing.undissolved({"CoCl2": 2500}, 1), "no more than 2000 g dissolves"),
        (lambda: recipes.worked_out({"K": 100}, 1, salts=["potassium-hydroxide"]), "for the pH, not for a recipe"),
        (lambda: recipes.worked_out({"K": 100}, 1, salts=["KHCO3", "KNO3"]), "for the pH, not for a recipe"),
        (lambda: recipes.as_published(recipes.find("tomato")[0], 1), "published without salts"),
    ],
    ids=["no volume", "negative", "unknown salt", "no target", "unknown element", "label", "strength", "acid",
         "too much", "too much of any", "base", "carbonate", "no salts"],
)  # fmt: skip
def test_refusals_name_the_limit(call: object, words: str) -> None:
    """What cannot be is refused with one sentence that says what would be right."""
    assert callable(call)
    with pytest.raises((OutOfRange, ValueError), match=words):
        call()


@pytest.mark.parametrize(
    ("typed", "key", "strength"),
    [
        ("Hoagland 1", "hoagland-1", 1),
        ("half-strength Hoagland 1", "hoagland-1", 0.5),
        ("quarter strength hoagland-2", "hoagland-2", 0.25),
        ("Cornell lettuce", "lettuce", 1),
        ("HS796 stage 3", "tomato-florida-3", 1),
        ("steiner", "steiner", 1),
        ("hoagland1", "hoagland-1", 1),
        ("Hoagland No. 1", "hoagland-1", 1),
        ("Hoagland no.2", "hoagland-2", 1),
        ("50 % Hoagland 1", "hoagland-1", 0.5),
        ("HS796", "tomato-florida-1", 1),
    ],
)
def test_recipes_are_found_as_people_write_them(typed: str, key: str, strength: float) -> None:
    """A recipe is found by its key, its name or another name, with the strength said beside it."""
    found, times = recipes.find(typed)
    assert (found.key, times) == (key, strength)


def test_own_recipes_are_found_too() -> None:
    """A recipe of one's own, handed over, is found like a shipped one, and only among those handed over."""
    own = recipes.Recipe(key="ours", name="Our basil", target={"N": 100.0}, source="our trial", known="our trial")
    assert recipes.find("our basil", [own])[0] is own
    with pytest.raises(ValueError, match="no recipe 'steiner': known are ours"):
        recipes.find("steiner", [own])


def test_grams_follow_volume_and_strength() -> None:
    """Twice the water or twice the strength needs twice of each salt."""
    one = recipes.grams_for(recipes.find("lettuce")[0], 10).grams
    for twice in (
        recipes.grams_for(recipes.find("lettuce")[0], 20).grams,
        recipes.grams_for(recipes.find("lettuce")[0], 10, strength=2).grams,
    ):
        assert twice == pytest.approx({key: 2 * mass for key, mass in one.items()})


def test_a_salt_a_little_above_its_solubility_is_named_only() -> None:
    """Sources part on potassium nitrate: 250 g/L is doubtful, 200 g/L is not, and 500 g/L is refused (above)."""
    assert mixing.undissolved({"potassium-nitrate": 250}, 1) == ("potassium-nitrate",)
    assert mixing.undissolved({"potassium-nitrate": 200}, 1) == ()


def test_far_too_strong_is_measured_by_the_recipes() -> None:
    """No shipped recipe is too strong by itself; 21 mg/L of copper is."""
    assert not any(recipes.too_strong(one.target) for one in recipes.known())
    assert recipes.too_strong({"Cu": 21.2, "S": 10.7}) == {"Cu": 21.2}


@pytest.mark.parametrize(
    ("target", "words"),
    [({"Zz": 3.0}, "'Zz'"), ({"n": 3.0}, "'n'"), ({"N": -1.0}, "at least 0 mg/L"), ({"N": float("nan")}, "no number")],
    ids=["no element", "small letter", "negative", "no number"],
)
def test_a_recipe_that_is_not_sound_is_refused_by_name(target: dict[str, float], words: str) -> None:
    """A recipe of one's own with what is no element, or no amount, is named in one line when it is asked for."""
    own = recipes.Recipe(key="ours", name="Our basil", target=target, source="our trial", known="assumed")
    with pytest.raises(ValueError, match=r"^[^\n]*'Our basil'[^\n]*$") as caught:
        recipes.find("our basil", [own])
    assert words in str(caught.value)


def test_of_two_recipes_with_one_name_the_first_counts() -> None:
    """A recipe of one's own goes before a shipped one of the same name."""
    own = recipes.Recipe(key="lettuce", name="Lettuce", target={"N": 90.0}, source="our trial", known="assumed")
    assert recipes.find("lettuce", (own, *recipes.known()))[0] is own
