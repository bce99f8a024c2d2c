"""The reckonings of water: what they say, the working they show, what they refuse."""

import math
import re
import shlex

import pytest

from walkabout.reckon import alkalinity, source_water, tank, tank_level, water, water_use
from walkabout.reckon.read import reckon, split, take

EVERY = {
    one.name: one
    for module in (water, alkalinity, source_water, tank, tank_level, water_use)
    for one in module.RECKONINGS
}


def came_out(typed):
    """Work out what was typed, as the command does."""
    name, *words = shlex.split(typed)
    return reckon(EVERY[name], take(EVERY[name], split(words)))


MANY = [
    *(f"{one.name} {one.example}" for one in EVERY.values()),
    "oxygen temperature=30 altitude=2000 reading=2 follow=Cornell",
    "oxygen temperature=20 percent=130 follow=Goto",
    "oxygen temperature=0 pressure=60",
    "pressure altitude=-400 formula=FAO",
    "alkalinity amount=0",
    "alkalinity amount=10dKH",
    "hardness ca=80",
    "source-water ec=2 ph=4 alkalinity=10 na=90 cl=200 ca=200 mg=80 so4=150 b=1 chlorine=3",
    "source-water chlorine=1 use=pot alkalinity=20",
    "chlorine chlorine=0",
    "chlorine chlorine=9 volume=1000",
    "chlorine chlorine=5 crop=petunia",
    "tank-days volume=10 full=60 used=3",
    "tank-days volume=60 crop=tomato plants=2 stage=60% vpd=3 dli=40",
    "tank-size used=4 days=3",
    "tank-fall levels='60 55 50' days='0 2 3'",
    "mean-use litres=100 days=7 plants=12",
    "water-use crop=basil stage=seedling plants=40",
    "water-for-growth fresh=200 heads=10 days=40",
    "water-by-light radiation=0",
]


@pytest.mark.parametrize("typed", MANY)
def test_every_outcome_is_fit_to_be_shown(typed):
    """Results are finite, named in lower case; the working fits a page; a source and a sentence stand there."""
    got = came_out(typed)
    assert got.source
    assert got.says
    assert all(re.fullmatch(r"[a-z0-9_]+", name) for name in got.results)
    assert all(isinstance(one.value, str) or math.isfinite(one.value) for one in got.results.values())
    assert [line for line in got.working if len(line) > 90] == []
    assert not any("!" in text for text in (*got.says, *got.working, *got.cautions))
    assert len(set(got.working)) == len(got.working)


def test_names_are_used_once():
    """No two reckonings share a name or an other name, and no field a key."""
    names = [name for one in EVERY.values() for name in (one.name, *one.others)]
    assert len(names) == len(set(names))
    for one in EVERY.values():
        keys = [key for field in one.fields for key in (field.key, *field.others)]
        assert len(keys) == len(set(keys)), one.name


def test_low_oxygen_asks_somebody_to_look():
    """Low oxygen makes a pupil's job of looking, and the mains are an adult's."""
    got = came_out("oxygen temperature=22 reading=4.5")
    assert got.results["verdict"].value == "low"
    assert got.do is not None
    assert got.do.who == "pupil"
    assert any("adult" in caution for caution in got.cautions)


def test_oxygen_shows_whose_word_is_followed():
    """All three sources stand in the working; the one asked for is marked and makes the verdict."""
    got = came_out("oxygen temperature=24 reading=4.2 follow=goto")
    assert got.results["verdict"].value == "enough"
    assert "Goto: enough (followed)" in got.working
    assert "common practice: low" in got.working


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("oxygen temperature=20 reading=12", "check the meter"),
        ("oxygen temperature=35 altitude=2000 reading=5", "cannot hold the 6 mg/L"),
        ("oxygen temperature=28", "Warm water holds less"),
        ("alkalinity amount=20", "hardly holds its pH"),
        ("hardness ca=80 mg=15", "not alkalinity"),
        ("chlorine chlorine=0.2", "a guess"),
        ("chlorine chlorine=1 crop=basil", "Measured on lettuce"),
        ("chlorine chlorine=2 crop=potato", "Measured on lettuce"),
        ("chlorine chlorine=1", "not chloramine"),
        ("source-water ec=0.8 use=seedlings", "too high for plugs"),
        ("tank-days volume=12 full=60 used=3", "top it up now"),
        ("tank-days volume=600 used=3", "changing before that"),
    ],
)
def test_what_is_said(typed, words):
    """The sentence that somebody in the room needs is there."""
    assert words in " ".join(came_out(typed).says)


@pytest.mark.parametrize(
    ("typed", "line"),
    [
        ("oxygen temperature=20", "taken: pressure of the air at sea level = 101.325 kPa"),
        ("alkalinity amount=150", "taken: the unit = mg/L CaCO3"),
        ("hardness ca=80", "taken: magnesium = 0 mg/L"),
        ("tank-days volume=60 crop=lettuce plants=36", "taken: stage = mature"),
        ("tank-days volume=60 used=3", "taken: stays in the tank: 25 % of 60 L = 15 L"),
        ("tank-days volume=30 full=60 used=3", "taken: stays in the tank: 25 % of 60 L = 15 L"),
        ("tank-days volume=60 used=3 margin=40", "given: the use may be off by ± 40 %"),
        ("tank-size used=3 days=4", "taken: of the tank 75 % may be drunk"),
        ("water-use crop=lettuce vpd=1.2", "taken: VPD of the estimate = 0.8 kPa (assumed)"),
        ("water-use crop=lettuce vpd=8", "kept between 0.5 and 2: 2"),
        ("water-for-growth fresh=150", "taken: dry matter = 5 %"),
        ("water-by-light radiation=1500", "taken: 175 mL/m² for 100 J/cm², the middle of 150 to 200"),
        ("tank-fall levels='60 55'", "taken: one level a day"),
        ("source-water cl=100", "   Oklahoma has 140 mg/L for all water"),
        ("source-water ph=6", "   Purdue has pH 5.0 to 7.0"),
    ],
)
def test_working_says_what_was_taken(typed, line):
    """What nobody gave, and what another source holds, stands in the working."""
    assert line in came_out(typed).working


def test_an_estimate_has_two_ends():
    """A tank is given the fewest and the most days it may last, and the likely figure lies between."""
    got = came_out("tank-days volume=60 crop=lettuce plants=36").results
    assert got["low"].value < got["days"].value < got["high"].value
    assert got["low"].value == pytest.approx(45 / 3.6 / 1.3)
    assert got["high"].value == pytest.approx(45 / 3.6 / 0.7)


def test_a_measured_use_is_surer_than_an_estimate():
    """The same use, measured, leaves a narrower span of days."""
    guessed = came_out("tank-days volume=60 each=0.1 plants=36").results
    measured = came_out("tank-days volume=60 used=3.6").results
    assert measured["days"].value == pytest.approx(guessed["days"].value)
    assert guessed["low"].value < measured["low"].value < measured["high"].value < guessed["high"].value


@pytest.mark.parametrize(
    ("typed", "what"),
    [
        ("tank-days volume=16 used=3", "by tomorrow"),
        ("tank-days volume=4 used=3 full=60 keep=2", "with 56 L today"),
        ("tank-days volume=4 used=3 full=60", "now"),
    ],
)
def test_a_short_tank_becomes_a_job(typed, what):
    """A tank that may be down within three days makes a job with its day and, where known, its litres."""
    if "volume=16" in typed:
        typed += " reserve=60%"
    do = came_out(typed).do
    assert do is not None
    assert what in do.what


def test_a_full_tank_is_no_job():
    """A tank that lasts makes none."""
    assert came_out("tank-days volume=60 used=3").do is None


@pytest.mark.parametrize(
    "typed", ["chlorine chlorine=1 volume=60", "source-water chlorine=2", "source-water alkalinity=200"]
)
def test_chemicals_are_an_adults(typed):
    """Where thiosulfate or acid is meant, the caution says that an adult does it."""
    assert any("adult" in caution for caution in came_out(typed).cautions)


def test_seen_levels_are_blended_with_the_table():
    """Three falls weigh as much as the table: the blend lies half way."""
    got = came_out("tank-fall levels='60 55 50 60 55' crop=lettuce plants=36").results
    assert got["per_day"].value == pytest.approx(5)
    assert got["blended"].value == pytest.approx((5 + 3.6) / 2)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("oxygen temperature=45", "at most 40"),
        ("oxygen temperature=20 altitude=500 pressure=95", "not both"),
        ("oxygen temperature=20 reading=5 percent=50", "not both"),
        ("oxygen temperature=20 follow=nobody", "common practice, Cornell, Goto"),
        ("oxygen", "needs temperature"),
        ("pressure altitude=9000", "at most 5000"),
        ("alkalinity amount=much", "is no amount"),
        ("alkalinity amount=-3", "at least 0"),
        ("alkalinity amount=1 from=bucket", "one of mg/L CaCO3, meq/L"),
        ("alkalinity amount='1 meq/L' from=dH", "give one of them"),
        ("alkalinity amount=99999", "at most 5000"),
        ("hardness", "give the hardness"),
        ("hardness amount=3 ca=80", "not both"),
        ("hardness ca=80 from=dH", "goes with amount="),
        ("hardness amount='100 mg/L HCO3'", "no unit for this"),
        ("source-water", "at least one figure"),
        ("source-water ec=500ppm", "ppm500"),
        ("chlorine", "needs chlorine"),
        ("tank-days volume=60", "give used="),
        ("tank-days volume=60 each=0.1", "give plants="),
        ("tank-days volume=60 used=3 each=0.1 plants=3", "leave out each"),
        ("tank-days volume=60 each=0.1 plants=3 vpd=1", "leave out vpd"),
        ("tank-days volume=60 used=0", "more than 0"),
        ("tank-days volume=70 full=60 used=3", "do not go into a tank"),
        ("tank-days volume=50 full=60 keep=70 used=3", "cannot stay"),
        ("tank-days volume=60 crop=letuce plants=3", "did you mean lettuce"),
        ("tank-days volume=60 crop=cress plants=3", "no water figure"),
        ("tank-days volume=60 crop=lettuce plants=3 stage=huge", "is no stage"),
        ("tank-days volume=60 crop=lettuce plants=3 stage=300%", "no share"),
        ("tank-size days=7 usable=0 used=3", "at least 0.01"),
        ("tank-fall levels='50 60'", "does not fall"),
        ("tank-fall levels='60 50' days='0 1 2'", "each level needs its day"),
        ("tank-fall levels='60 50' days='3 1'", "go up"),
        ("tank-fall levels='60 50' crop=lettuce", "go together"),
        ("tank-fall levels='60 50' stage=young", "goes with crop"),
        ("mean-use litres=5 days=0", "at least 0.01"),
        ("mean-use litres=5 days=2 plants=0", "at least 1"),
        ("water-use", "give crop="),
        ("water-use canopy=1.77", "give plants_m2="),
        ("water-use crop=basil plants_m2=20", "give canopy="),
        ("water-use plants_m2=20", "give canopy="),
        ("water-use each=0.1 stage=young", "leave out stage"),
        ("water-use crop=lettuce vpd_ref=1", "goes with vpd="),
        ("water-for-growth dry=5%", "needs fresh"),
        ("water-by-light radiation=9999", "at most 5000"),
    ],
)
def test_what_cannot_be_is_refused(typed, words):
    """One clear sentence says what would be right."""
    with pytest.raises(ValueError, match=re.escape(words)) as refused:
        came_out(typed)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    ("typed", "each"),
    [
        ("water-use each=100mL", 0.1),
        ("water-use crop=tomato stage=flowering", 1.0),
        ("water-use crop=cucumber stage=flowering", 1.0),
        ("water-use crop=tomato stage=fruiting", 1.9),
        ("water-use crop=lettuce stage=vegetative", 0.03 + 0.25 * 0.07),
        ("water-use crop=strawberry stage=Flowering", None),
    ],
)
def test_stages_in_the_trades_words(typed, each):
    """A vine at flowering has a figure of its own; else the share of full growth that was taken is said."""
    found = came_out(typed)
    assert each is None or found.results["each"].value == pytest.approx(each)
    assert any(line.startswith("taken:") for line in found.working) == (each is None or "vegetative" in typed)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("tank-days volume=60 plants=3.5 each=0.1", "plants is 3.5: count whole plants"),
        ("tank-days volume=60 plants=1e-300 each=0.1", "1e-300 is too low: it must be at least 1"),
        ("tank-size days=7 plants=0 each=0.1", "at least 1"),
        ("water-use crop=lettuce plants=2.5", "count whole plants"),
        ("mean-use litres=3 days=35 plants=1.5", "count whole plants"),
        ("water-for-growth fresh=150 heads=0.5", "at least 1"),
        ("tank-days volume=60 plants=3 crop=microgreens", "no water figure for radish microgreens: give each="),
    ],
)
def test_plants_are_whole(typed, says):
    """No part of a plant drinks."""
    with pytest.raises(ValueError, match=r".") as refused:
        came_out(typed)
    assert says in str(refused.value)


@pytest.mark.parametrize("tool", ["tank-days volume=60", "tank-size days=7", "water-use"])
@pytest.mark.parametrize("given", ["vpd=0.82", "vpd=1.1 dli=13", "stage=33%", "stage=seedling"])
def test_the_printed_digits_multiply(tool, given):
    """What the board shows for plants times litres comes to what it shows behind the equals sign."""
    found = came_out(f"{tool} crop=lettuce plants=24 {given}")
    line = next(line for line in found.working if " plants × " in line)
    count, each, total = (float(one) for one in re.findall(r"\d+(?:\.\d+)?", line))
    assert count * each == pytest.approx(total, rel=5e-5)


def test_alkalinity_in_meq_comes_back_as_calcium_carbonate():
    """The unit that limits are written in is a result, and not only a line of the working."""
    results = came_out("source-water alkalinity=1meq/L").results
    assert results["alkalinity_caco3"].value == pytest.approx(50.04)
    assert results["alkalinity_meq"].value == pytest.approx(1)


def test_millimoles_say_of_what_they_are():
    """Of hydrogen carbonate there are twice as many as of calcium carbonate; no division is written twice."""
    alkalinity, hardness = came_out("alkalinity amount=150"), came_out("hardness amount=150")
    assert alkalinity.results["mmol"].value == pytest.approx(2 * hardness.results["mmol"].value, rel=1e-3)
    assert alkalinity.results["mmol"].says == "as millimoles of HCO3"
    assert hardness.results["mmol"].says == "as millimoles of CaCO3"
    divided = [line.partition(" = ")[0] for line in alkalinity.working if " ÷ " in line]
    assert len(set(divided)) == len(divided)


@pytest.mark.parametrize("typed", MANY)
def test_every_result_has_words(typed):
    """Nothing is shown by its raw key."""
    assert all(one.says for one in came_out(typed).results.values())
