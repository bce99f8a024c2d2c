"""The reckonings of acid, base and pH as they are typed."""

import re

import pytest

from walkabout.reckon import acid, acid_bottle, acid_handling, acid_strength, carbonate, neutralise
from walkabout.reckon.model import Reckoned, Reckoning
from walkabout.reckon.read import reckon, split, take

MODULES = (acid, neutralise, acid_strength, acid_handling, carbonate)
ALL: dict[str, Reckoning] = {one.name: one for module in MODULES for one in module.RECKONINGS}


def worked(typed: str) -> Reckoned:
    name, *words = split_name(typed)
    return reckon(ALL[name], take(ALL[name], split(words)))


def split_name(typed: str) -> list[str]:
    """Words, where an amount and its unit may stand apart inside quotes."""
    return [word.replace('"', "") for word in re.findall(r'(?:[^\s"]|"[^"]*")+', typed)]


TWO = 'acid volume=60 ph=7.8 to=6.0 alkalinity="2 meq/L"'
THREE = 'acid volume=60 ph=8.0 to=5.8 alkalinity="3 meq/L"'
ROWS = [
    # typed, result, expected, tolerance
    (f"{TWO} acid=nitric strength=0.5", "equivalents", 1.339, 0.005),
    (f"{TWO} acid=nitric strength=0.5", "ideal", 1.365, 0.002),
    (f"{TWO} acid=nitric strength=0.5", "volume", 160.7, 0.5),
    (f"{TWO} acid=HNO3 strength=0.5N", "volume", 160.7, 0.5),
    (f"{TWO} acid=sulfuric strength=0.5", "volume", 80.3, 0.4),
    (f"{TWO} acid=sulphuric normality=1", "volume", 80.3, 0.4),
    (
        'acid volume=60 ph=8.0 to=5.8 alkalinity="3 meq/L" acid=phosphoric strength=1 temperature=20',
        "acid",
        2.199,
        0.03,
    ),
    (f"{THREE} acid=phosphoric strength=85%", "phosphorus", 66.9, 1),
    (
        'acid volume=60 ph=8.0 to=5.8 alkalinity="3 meq/L" acid=phosphoric strength=1',
        "equivalents_per_mol",
        1.04,
        0.005,
    ),
    (f"{THREE} acid=citric", "equivalents_per_mol", 2.12, 0.01),
    ("acid volume=60 ph=7 to=5 alkalinity=0 acid=nitric strength=0.01", "volume", 60, 1),
    ("base volume=60 ph=5.2 to=5.8 alkalinity=5 base=KOH strength=0.1", "potassium", 9.92, 0.05),
    ("neutralise volume=100 alkalinity=180 to=40 normality=14.9", "volume", 18.78, 0.1),
    ("neutralise volume=60 alkalinity=100 to=30 strength=1N", "volume", 83.9, 0.3),
    ('neutralise volume=60 alkalinity="3 meq/L" share=80% normality=0.5', "volume", 288, 0.5),
    ('neutralise volume=60 alkalinity="3 meq/L" share=0.8 normality=0.5', "volume", 288, 0.5),
    ("neutralise volume=100gal alkalinity=250 to=150 rate=0.23", "volume", 23, 0.01),
    ('neutralise volume=1000gal alkalinity="1 meq/L" to=0 acid=nitric percent=67', "fluid_ounces", 8.6, 0.1),
    ("acid-effect dose=1floz volume=100gal acid=sulfuric percent=93", "removed", 135.5, 2),
    ("acid-effect dose=1floz volume=100gal acid=sulfuric percent=93", "sulfur", 43.4, 0.5),
    ("acid-strength acid=H3PO4 percent=85 density=1.685", "strength", 14.62, 0.03),
    ("acid-strength acid=nitric percent=67", "strength", 14.89, 0.03),
    ("acid-strength acid=sulfuric percent=93", "normality", 34.7, 0.1),
    ("acid-strength acid=nitric percent=67", "fluid_ounces", 8.6, 0.1),
    ("acid-strength acid=nitric strength=14.886", "percent", 67, 0.01),
    ("dilute-acid from=14.6 to=1.0 volume=500", "concentrate", 34.2, 0.1),
    ("dilute-acid acid=phosphoric percent=85 to=1.0 volume=500", "concentrate", 34.2, 0.1),
    ("acid-feeds acid=nitric equivalents=2.3", "nitrogen", 32.2, 0.2),
    ("acid-feeds acid=phosphoric millimoles=1.0", "phosphorus", 31.0, 0.1),
    ("acid-feeds acid=sulfuric equivalents=2", "sulfur", 32.06, 0.1),
    ("carbonate temperature=25", "pk1", 6.352, 0.001),
    ("carbonate temperature=20", "pk1", 6.382, 0.001),
    ("carbonate temperature=15", "pk2", 10.428, 0.001),
    ("carbonate temperature=25 ph=6.0", "bicarbonate", 0.308, 0.001),
    ("phosphate ph=6.5", "dihydrogen", 0.834, 0.001),
    ("ph-change from=6.8 to=5.8", "factor", 10.0, 1e-9),
    ("ph-change from=5.8 to=6.8", "factor", 0.1, 1e-9),
    ("mean-ph ph=6.0,7.0", "mixture", 6.26, 0.001),
    ("mean-ph ph=6.0,7.0", "mean", 6.5, 1e-9),
]


@pytest.mark.parametrize(("typed", "name", "expected", "near"), ROWS, ids=[f"{row[0]} {row[1]}" for row in ROWS])
def test_results(typed: str, name: str, expected: float, near: float) -> None:
    """What is typed gives the published or worked-out figure."""
    assert worked(typed).results[name].value == pytest.approx(expected, abs=near)


@pytest.mark.parametrize(
    ("typed", "label", "who"),
    [
        ("label substance=sulfuric strength=1.0", "irritant", "adult"),
        ("label substance=sulfuric strength=2.0", "corrosive", "adult"),
        ("label substance=phosphoric strength=0.5", "no hazard label", "pupil"),
        ("label substance=nitric strength=1.0", "corrosive", "adult"),
        ("label substance=nitric strength=0.1", "no hazard label", "pupil"),
        ("label substance=KOH strength=0.2", "irritant", "adult"),
        ("label substance=KOH strength=0.1", "irritant", "pupil"),
        ("label substance=HCl strength=30%", "corrosive", "adult"),
        ("label substance=citric percent=10", "irritant", "pupil"),
        ("label substance=citric percent=60", "irritant", "adult"),
    ],
)
def test_labels(typed: str, label: str, who: str) -> None:
    """The class and who may handle it; whatever is too strong for pupils carries a caution."""
    found = worked(typed)
    assert (found.results["label"].value, found.results["who"].value) == (label, who)
    assert found.cautions
    assert ("An adult" in " ".join(found.cautions)) == (who == "adult")


REFUSED = [
    ("acid volume=60 ph=6 to=6.8 alkalinity=50 acid=nitric strength=1", "use 'base'"),
    ("base volume=60 ph=6 to=5.8 alkalinity=50 base=KOH strength=1", "use 'acid'"),
    ("base volume=60 ph=7 to=8.5 alkalinity=20 base=KHCO3 strength=0.5", "too weak"),
    ("acid volume=60 ph=7 to=6 alkalinity=50 acid=nitric", "how strong is the nitric acid"),
    ("acid volume=60 ph=7 to=6 alkalinity=50 acid=nitrik strength=1", "did you mean nitric"),
    ("acid volume=60 ph=7 to=6 alkalinity=50 acid=hydrochloric strength=1", "one of nitric, phosphoric"),
    ("acid volume=60 ph=7 to=6 alkalinity=50 acid=nitric strength=1 percent=5", "strength once"),
    ("acid volume=60 ph=7 to=6 alkalinity=50 acid=nitric strength=1 density=1.1", "goes with percent"),
    ("acid volume=60 ph=7 to=3 alkalinity=50 acid=nitric strength=1", "at least pH 4"),
    ("neutralise volume=60 alkalinity=50 to=60 normality=1", "only takes alkalinity out"),
    ("neutralise volume=60 alkalinity=50 to=20 share=80 normality=1", "not both"),
    ("neutralise volume=60 alkalinity=50 normality=1", "how much is to go"),
    ("neutralise volume=60 alkalinity=50 to=20 strength=1", "which acid"),
    ("neutralise volume=60 alkalinity=50 to=20 rate=0.2 normality=1", "not both"),
    ("neutralise volume=60 alkalinity=50 to=20 acid=nitric", "how strong"),
    ("acid volume=60 ph=7 to=6 alkalinity=50 acid=sulfuric strength=40", "at most 18.7 mol/L, pure"),
    ("acid volume=60 ph=7 to=6 alkalinity=50 acid=phosphoric normality=30", "no phosphoric acid is as strong as"),
    ("base volume=60 ph=6 to=6.5 alkalinity=50 base=KHCO3 strength=40", "20 %, where the density table ends"),
    ("acid-effect dose=1 volume=60 acid=nitric strength=30", "as strong as 30 mol/L"),
    ("dilute-acid acid=sulfuric from=30 to=1 volume=500", "as strong as 30 mol/L"),
    ("dilute-acid from=2 volume=500", "how strong shall it become"),
    ("dilute-acid acid=nitric from=2 to=1 to_percent=5 volume=500", "how strong shall it become"),
    ("dilute-acid from=2 to=5% volume=500", "needs the name"),
    ("dilute-acid acid=nitric percent=4 to=5% volume=500", "only makes it weaker"),
    ("acid-strength acid=nitric", "percentage on the bottle"),
    ("acid-strength acid=citric percent=70", "at most 50 %"),
    ("acid-strength acid=nitric strength=30", "as strong as 30 mol/L"),
    ("dilute-acid from=1 to=2 volume=500", "only makes it weaker"),
    ("dilute-acid percent=65 to=2 volume=500", "needs the name"),
    ("dilute-acid to=2 volume=500", "how strong is it now"),
    ("acid-feeds acid=nitric", "either in meq/L"),
    ("acid-feeds acid=nitric equivalents=1 millimoles=1", "either in meq/L"),
    ("label substance=nitric", "strength once"),
    ("label substance=nitric strength=30", "as strong as 30"),
    ("mean-ph ph=6", "two readings"),
]


@pytest.mark.parametrize(("typed", "says"), REFUSED, ids=[row[0] for row in REFUSED])
def test_refusals(typed: str, says: str) -> None:
    """What cannot be is refused with a sentence that says what would be right."""
    with pytest.raises(ValueError, match=re.escape(says)):
        worked(typed)


@pytest.mark.parametrize("name", list(ALL))
def test_every_example_works_and_fits_the_board(name: str) -> None:
    """The example in the help works; working, source and sentences are there, and the lines fit a screen."""
    found = worked(f"{name} {ALL[name].example}")
    assert found.results
    assert found.source
    assert found.says
    assert max(len(line) for line in found.working) <= 80
    assert "-0" not in " ".join(found.working)


@pytest.mark.parametrize(
    "typed",
    [
        'acid volume=60 ph=7.8 to=6.0 alkalinity="2 meq/L" acid=nitric strength=0.05',
        "acid volume=60 ph=7.8 to=6.0 alkalinity=100 acid=citric percent=5",
        "base volume=60 ph=5.2 to=5.8 alkalinity=5 base=KOH strength=0.05",
        "neutralise volume=60 alkalinity=100 to=30 acid=nitric strength=0.05",
        "dilute-acid acid=phosphoric from=0.5 to=0.1 volume=500",
    ],
)
def test_acid_and_base_are_an_adults_work(typed: str) -> None:
    """However weak the solution, the job is an adult's, and says what protects and who decides."""
    found = worked(typed)
    assert found.do is not None
    assert found.do.who == "adult"
    assert "Adult only" in found.do.caution
    assert "local codes" in found.do.caution
    assert any("goggles" in line for line in found.cautions)
    assert any("bleach" in line for line in found.cautions)


DILUTED = [
    # typed, mol/L or eq/L made, what one mmol of it counts for, the word for it
    ("acid volume=60 ph=7.8 to=6.0 alkalinity=100 acid=nitric percent=60", 0.5, "nitric acid (60 %)"),
    ("acid volume=60 ph=7.8 to=6.0 alkalinity=100 acid=phosphoric percent=85", 1.0, "phosphoric acid (85 %)"),
    ("acid volume=60 ph=7.8 to=6.0 alkalinity=100 acid=sulfuric strength=5", 0.5, "sulfuric acid (5 mol/L)"),
    ("base volume=60 ph=5.2 to=5.8 alkalinity=5 base=KOH strength=50%", 0.1, "potassium hydroxide (50 %)"),
    ("neutralise volume=100 alkalinity=180 to=40 acid=nitric percent=67", 0.5, "nitric acid (67 %)"),
    ("neutralise volume=100 alkalinity=180 to=40 normality=14.9", 0.5, "acid (14.9 N)"),
]


@pytest.mark.parametrize(("typed", "mild", "strong"), DILUTED, ids=[row[0] for row in DILUTED])
def test_a_corrosive_one_has_one_order_the_weaker_solution_and_its_dose(typed: str, mild: float, strong: str) -> None:
    """First what is made of it, then the dose of that; nobody is told to add the corrosive one to a tank."""
    found = worked(typed)
    values = {name: float(one.value) for name, one in found.results.items()}
    assert found.says[0].startswith("First make ")
    assert strong in found.says[0]
    assert found.says[1].startswith("Then add ")
    assert not any(strong in line for line in found.says[1:])
    assert not any("work it out again" in line or "dilute-acid" in line for line in found.says)
    assert found.do is not None
    assert found.do.what.startswith("Make ")
    assert ", then add " in found.do.what
    # What is in the dose of the weak one is what is in the volume of the strong one.
    assert values["dose"] / values["made"] == pytest.approx(values["volume"] / values["concentrate"])
    assert values["concentrate"] + values["water"] == pytest.approx(values["made"])
    assert values["dose"] <= values["made"]
    assert 0 < values["first_dose"] <= 0.8 * values["dose"] + 1e-9
    assert f"{mild:g} " in found.results["made"].says
    assert next(iter(found.results)) == "volume"


def test_the_volume_of_what_was_given_stays_the_chief_result() -> None:
    """As a script reads it: 1.338 meq/L for 60 L from acid of 13.02 mol/L."""
    found = worked(DILUTED[0][0]).results
    assert float(found["volume"].value) == pytest.approx(float(found["acid"].value) * 60 / 13.017, rel=1e-3)


def test_a_great_dose_is_made_in_batches() -> None:
    """Ten litres of weaker acid at most at a time."""
    assert (
        "in batches of 10000 mL" in worked("neutralise volume=9000 alkalinity=150 to=30 acid=nitric percent=67").says[0]
    )


@pytest.mark.parametrize(("strength", "told"), [(12, True), (1, False)])
def test_a_strong_acid_without_a_name_is_to_be_found_out(strength: float, told: bool) -> None:
    """It may be the one that gets hot, or one of those that fume."""
    for typed in (f"dilute-acid from={strength} to=0.1 volume=500",
                  f"neutralise volume=60 alkalinity=100 to=30 normality={strength}"):  # fmt: skip
        cautions = worked(typed).cautions
        assert (acid_bottle.UNNAMED in cautions) == told
        assert acid_bottle.CORROSIVE in cautions


def test_a_tiny_dose_of_the_weaker_acid_asks_for_a_syringe() -> None:
    """A litre takes less than a cylinder measures."""
    typed = "acid ph=7.8 to=6.0 alkalinity=100 acid=nitric percent=67 volume="
    assert any("syringe" in line for line in worked(f"{typed}1").says)
    assert not any("syringe" in line for line in worked(f"{typed}60").says)


def test_the_acid_of_a_table_is_thinned_first() -> None:
    """A rate from a table is for strong acid: it goes into twenty parts of water first."""
    found = worked("neutralise volume=100gal alkalinity=250 to=150 rate=0.23")
    assert found.says[0].startswith("First stir 23 mL of the acid, a little at a time, into 460 mL of cold water")
    assert acid_bottle.CORROSIVE in found.cautions


@pytest.mark.parametrize(
    ("typed", "begins", "caution"),
    [
        ("base volume=60 ph=5.2 to=5.8 alkalinity=5 base=KOH", "First dissolve 0.854 g of potassium hydroxide in about",
         "Solid potassium hydroxide burns"),
        ("base volume=60 ph=5.2 to=5.8 alkalinity=5 base=K2CO3", "First dissolve", "Dry potassium carbonate irritates"),
        ("acid volume=60 ph=7.8 to=6 alkalinity=100 acid=citric", "First dissolve 5.31 g of citric acid in about 80 mL",
         "Dry citric acid irritates"),
    ],
)  # fmt: skip
def test_what_is_weighed_is_dissolved_first(typed: str, begins: str, caution: str) -> None:
    """In cold water in a vessel of its own; what goes into the tank is measured in mL of that solution."""
    found = worked(typed)
    assert found.says[0].startswith(begins)
    assert "cold water" in found.says[0]
    assert found.says[1].startswith("Then add ")
    assert found.results["mass"].unit == "g"
    assert found.results["first_dose"].unit == "mL"
    assert found.cautions[0].startswith(caution)
    assert ("it gets hot" in found.says[0]) == ("KOH" in typed)


@pytest.mark.parametrize(
    ("percent", "fume", "fire"), [(10, False, False), (20, True, False), (60, True, False), (67, True, True)]
)
def test_fumes_and_fire_have_limits_of_their_own(percent: float, fume: bool, fire: bool) -> None:
    """Nitric acid asks for a fume cupboard well below the strength at which it feeds a fire."""
    doses = ("acid volume=60 ph=7.8 to=6.0 alkalinity=100", "dilute-acid to=0.1 volume=500", "acid-strength")
    for typed in (*(f"{dose} acid=nitric" for dose in doses), "label substance=nitric"):
        cautions = " ".join(worked(f"{typed} percent={percent}").cautions)
        assert ("fume cupboard" in cautions) == fume
        assert ("feeds fire" in cautions) == fire


@pytest.mark.parametrize(("percent", "hot"), [(98, True), (10, False)])
def test_strong_sulfuric_acid_is_said_to_get_hot(percent: float, hot: bool) -> None:
    """Little by little into heatproof glass that stands in cold water."""
    found = worked(f"dilute-acid acid=sulfuric percent={percent} to=0.5 volume=500")
    assert any("gets very hot" in line and "heatproof" in line for line in found.cautions) == hot
    assert ("a little at a time" in found.says[0] and "cold water" in found.says[0]) == hot


@pytest.mark.parametrize(
    "typed",
    [
        "acid volume=60 ph=7.8 to=6.0 alkalinity=100 acid=nitric percent=",
        "neutralise volume=60 alkalinity=100 to=30 acid=nitric percent=",
        "acid-effect dose=10 volume=60 acid=nitric percent=",
        "acid-strength acid=nitric percent=",
        "dilute-acid acid=nitric to=0.01 volume=500 percent=",
        "label substance=nitric percent=",
    ],
)
def test_a_percentage_below_one_is_asked_about(typed: str) -> None:
    """It is taken as typed, and one line asks whether a share of 1 was meant; from 1 % on nothing is asked."""
    line = "Taken as 0.6 of 100: is 0.6 % meant? If the bottle says 60 %, write percent=60."
    assert line in worked(f"{typed}0.6").says
    assert not any("meant?" in one for one in worked(f"{typed}1").says)


@pytest.mark.parametrize(("to", "asks"), [(9, True), (6.8, True), (6.5, False), (5.8, False)])
def test_a_base_that_goes_too_far_is_asked_about(to: float, asks: bool) -> None:
    """Above pH 6.5 trace elements get scarce."""
    says = worked(f"base volume=60 ph=5.2 to={to} alkalinity=5 base=KOH strength=0.1").says
    assert says[0].startswith(f"Is pH {to:g} meant?") == asks


@pytest.mark.parametrize(("ph", "to", "warned"), [(6, 4.8, True), (4.8, 4.5, True), (6, 5.5, False)])
def test_an_acid_that_goes_too_far_is_warned_of(ph: float, to: float, warned: bool) -> None:
    """Below pH 5 roots suffer, wherever it starts from."""
    says = worked(f"acid volume=60 ph={ph} to={to} alkalinity=1 acid=nitric strength=0.1").says
    assert says[0].startswith("Below pH 5") == warned


@pytest.mark.parametrize(
    ("typed", "label"),
    [
        ("label substance=NaOH strength=0.5", "corrosive"),
        ("label substance=NaOH strength=0.49", "irritant"),
        ("label substance=NaOH percent=2", "corrosive"),
        ("label substance=phosphoric strength=2.9", "corrosive"),
        ("label substance=HCl strength=2.9", "irritant"),
    ],
)
def test_the_label_goes_by_the_stricter_limit(typed: str, label: str) -> None:
    """By percent and by the rounded mol/L of the lists for schools."""
    assert worked(typed).results["label"].value == label


def test_a_weaker_acid_may_be_wanted_in_percent() -> None:
    """From 93 % to 5 %: 0.526 mol/L; typed with % behind it or as to_percent it is the same."""
    one = worked("dilute-acid acid=sulfuric percent=93 to=5% volume=500")
    two = worked("dilute-acid acid=sulfuric percent=93 to_percent=5 volume=500")
    assert one == two
    # by mass: 500 mL × 1.032 g/mL × 5 % = 25.8 g of H2SO4, in 93 % acid of 1.828 g/mL
    assert float(one.results["concentrate"].value) == pytest.approx(25.8 / 0.93 / 1.828, rel=1e-3)


def test_the_calcium_that_was_taken_is_said_and_the_number_used_is_shown() -> None:
    """Citric acid counts for nearly 3 where calcium holds it; in softened water for 2.3, and more is needed."""
    typed = "acid volume=60 ph=7.8 to=6.0 alkalinity=100 acid=citric"
    hard, soft = worked(typed), worked(f"{typed} calcium=0")
    assert any(line.startswith("taken: calcium = alkalinity ÷ 2") for line in hard.working)
    assert not any("taken: calcium" in line for line in soft.working)
    used = float(hard.results["equivalents_used"].value)
    assert used == pytest.approx(2.918, abs=0.002)
    assert any(f"÷ {used:.3f} = " in line for line in hard.working)
    assert float(soft.results["equivalents_used"].value) == pytest.approx(2.31, abs=0.01)
    more = float(soft.results["mass"].value) / float(hard.results["mass"].value) - 1
    assert any(f"up to {100 * more:.0f} % more of citric acid" in line for line in hard.says)
    assert not any("softened" in line for line in soft.says)
    assert "Bates and Pinching" in hard.source


def test_the_salts_are_a_factor_on_the_board() -> None:
    """Between the formula and what is poured stands one factor, with a sentence that says what it is for."""
    lines = worked("acid volume=60 ph=7.8 to=6.0 alkalinity=100 acid=nitric strength=0.1").working
    at = next(number for number, line in enumerate(lines) if line.startswith("factor for that"))
    factor = re.findall(r"[\d.]+", lines[at])[0]
    assert "salty water" in lines[at - 1]
    assert f" × {factor} = " in lines[at + 1]


def test_a_base_is_worked_out_without_a_change_of_sign() -> None:
    """What is wanted less what is there is what is added."""
    lines = worked("base volume=60 ph=5.2 to=5.8 alkalinity=5 base=KOH strength=0.1").working
    assert "formula: 0.3519 − 0.09992 = 0.2520 meq/L" in lines
    assert any(line.startswith("wanted = ") for line in lines)
    assert not any(line.startswith("left = ") for line in lines)


def test_orthophosphoric_is_phosphoric() -> None:
    """As the bottle may call it."""
    typed = "acid-strength percent=85 acid="
    assert worked(f"{typed}orthophosphoric") == worked(f"{typed}phosphoric")


def test_the_first_dose_is_four_fifths_or_half_a_ph() -> None:
    """Near the target it is 80 % of the whole; far from it what moves the pH by 0.5."""
    near = worked("acid volume=60 ph=6.2 to=5.9 alkalinity=50 acid=nitric strength=0.1").results
    assert float(near["first_dose"].value) == pytest.approx(0.8 * float(near["volume"].value))
    assert near["steps"].value == 2
    far = worked("acid volume=60 ph=7.8 to=6.0 alkalinity=100 acid=nitric strength=0.1")
    half = worked("acid volume=60 ph=7.8 to=7.3 alkalinity=100 acid=nitric strength=0.1").results
    assert float(far.results["first_dose"].value) == pytest.approx(float(half["volume"].value))
    assert far.results["steps"].value == 5
    assert sum(line.startswith("portion") for line in far.working) == 5
    assert any("next morning" in line for line in far.says)


def test_much_phosphoric_acid_is_advised_against() -> None:
    """Above 1 meq/L it brings more phosphorus than a recipe holds; below it nothing is said."""
    much = worked("acid volume=60 ph=8 to=5.8 alkalinity=150 acid=phosphoric strength=1")
    assert any("nitric or sulfuric" in line for line in much.says)
    little = worked("acid volume=60 ph=7 to=5.8 alkalinity=40 acid=phosphoric strength=1")
    assert not any("nitric or sulfuric" in line for line in little.says)


def test_a_tank_that_cannot_be_as_described_is_to_be_measured() -> None:
    """The alkalinity of tap water is not that of an acid tank: then the job is to measure, not to add."""
    found = worked("base volume=60 ph=5 to=6 alkalinity=200 base=KOH strength=0.1")
    assert found.says[0].startswith("Measure the alkalinity of the tank itself")
    assert found.do is not None
    assert found.do.what.startswith("Measure the alkalinity")


def test_nothing_is_added_where_the_ph_is_right() -> None:
    """No dose, no job."""
    found = worked("acid volume=60 ph=6 to=6 alkalinity=50 acid=nitric strength=0.1")
    assert found.results["volume"].value == 0
    assert found.says == ("It is at pH 6 already: add nothing.",)
    assert found.do is None


def test_what_was_taken_for_granted_is_said() -> None:
    """The temperature, the density and what one mol counts for, where they were not given."""
    lines = worked("acid volume=60 ph=7.8 to=6.0 alkalinity=100 acid=nitric percent=3").working
    assert "taken: temperature = 25 °C" in lines
    assert any(line.startswith("taken: density") for line in lines)
    given = "acid volume=60 ph=7.8 to=6.0 alkalinity=100 acid=nitric percent=3 density=1.015 temperature=20 calcium=40"
    assert not any("taken" in line for line in worked(given).working)
    assert any("= 1 eq, as near pH 6" in line for line in worked("acid-feeds acid=phosphoric equivalents=1").working)


SUM = re.compile(r"([\d.]+ (?:[÷×−+] [\d.]+ ?)+)= ([\d.]+)")


def _value(left: str) -> float:
    """Work out '2.00 × 3 − 1' with × and ÷ first, as on a board."""
    total = 0.0
    for sign, term in re.findall(r"([+−]?) ?((?:[\d.]+ ?[×÷]? ?)+)", left):
        first, *rest = re.findall(r"[×÷]?[\d.]+", term.replace(" ", ""))
        product = float(first)
        for factor in rest:
            product = product * float(factor[1:]) if factor[0] == "×" else product / float(factor[1:])
        total += -product if sign == "−" else product
    return total


@pytest.mark.parametrize("ph", [6.4, 7.3, 7.8, 8.4])
@pytest.mark.parametrize("acid_used", ["nitric strength=0.5", "phosphoric percent=10", "sulfuric strength=0.1N",
                                       "nitric percent=67"])  # fmt: skip
def test_the_board_comes_to_the_result(ph: float, acid_used: str) -> None:
    """Each line that ends in '= x' follows from the numbers in it, to the digits shown."""
    assert _checked(worked(f"acid volume=60 ph={ph} to=5.7 alkalinity=130 acid={acid_used}")) >= 5


@pytest.mark.parametrize(
    "typed",
    [
        "acid volume=60 ph=7.8 to=6 alkalinity=100 acid=citric",
        "base volume=60 ph=5.2 to=5.8 alkalinity=5 base=KOH",
        "base volume=60 ph=5.2 to=5.8 alkalinity=5 base=K2CO3 strength=0.5",
        "neutralise volume=100 alkalinity=180 to=40 acid=nitric percent=67",
        "neutralise volume=37 alkalinity=133 share=80% normality=14.9",
        "neutralise volume=90gal alkalinity=250 to=141 rate=0.23",
        "acid-effect dose=1floz volume=100gal acid=sulfuric percent=93",
        "dilute-acid acid=sulfuric percent=93 to=5% volume=500",
    ],
)
def test_the_printed_digits_are_enough_to_work_it_out_again(typed: str) -> None:
    """Whoever types the line into a calculator gets what it says."""
    assert _checked(worked(typed)) >= 2


def _checked(found: Reckoned) -> int:
    checked = 0
    for line in found.working:
        for left, right in SUM.findall(
            re.sub(r" (?:%|g/mL|g/mol|eq/mol|N|mL|mmol|eq/L|(?:mg|meq|mmol|mol)?/?L)(?= )", "", line)
        ):
            near = 0.8 * 10 ** -len(right.partition(".")[2])
            assert _value(left) == pytest.approx(float(right), abs=near, rel=3e-4), line
            checked += 1
    return checked


def test_feed_in_the_tank_asks_for_more_acid() -> None:
    """Phosphate holds the pH too."""
    plain = worked("acid volume=60 ph=7 to=5.8 alkalinity=50 acid=nitric strength=0.1").results["volume"].value
    fed = (
        worked("acid volume=60 ph=7 to=5.8 alkalinity=50 acid=nitric strength=0.1 phosphorus=31")
        .results["volume"]
        .value
    )
    assert float(fed) > float(plain)


def test_too_much_acid_is_not_to_be_added() -> None:
    """More than the alkalinity holds is said first."""
    found = worked("acid-effect dose=100 volume=60 alkalinity=50 normality=1")
    assert found.says[0].startswith("Too much")
    assert found.results["left"].value == 0


def test_every_name_and_key_is_given_once() -> None:
    """No key of a reckoning means two things."""
    for one in ALL.values():
        keys = [key for field in one.fields for key in (field.key, *field.others)]
        assert len(keys) == len(set(keys)), one.name
    names = [name for one in ALL.values() for name in (one.name, *one.others)]
    assert len(names) == len(set(names))
