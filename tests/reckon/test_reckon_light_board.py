"""What a class can check: the sums on the board, warnings where light can hurt, and names people use for light."""

import itertools
import math
import re
import shlex

import pytest

from walkabout.reckon import colour, daily_light, distance, lamp_money, lamps, light, light_days
from walkabout.reckon.model import Reckoned
from walkabout.reckon.read import reckon, split, take
from walkabout.reckon.which_light import which_key

MODULES = (light, daily_light, light_days, distance, colour, lamps, lamp_money)
EVERY = {one.name: one for module in MODULES for one in module.RECKONINGS}

UNITS = re.compile(
    r" ?(?:µmol/m²/s|mol/m²/d|kWh/m²/d|mol/kWh|µmol/J|µmol/s|mol/m²|W/m²|kWh|cm|m²|lx|fc|nm|W|h|J|%|a day)"
)
SUM = re.compile(r"[\d.()×÷+−²√ ]+")


def work(line: str) -> Reckoned:
    """Work out what is typed behind the command."""
    name, *words = shlex.split(line)
    return reckon(EVERY[name], take(EVERY[name], split(words)))


def sums(line: str) -> list[tuple[str, float, str]]:
    """Return the sums of a line that are all numbers: (as written, worked out anew, result as written)."""
    found = []
    for left, right in itertools.pairwise(line.split(" = ")):
        written = UNITS.sub("", left.rpartition(": ")[2])
        result = re.match(r"−?\d+(?:\.\d+)?", right.rpartition(": ")[0] or right)
        if result and SUM.fullmatch(written) and re.search(r"[×÷+−√]", written):
            plain = written.translate({ord("×"): "*", ord("÷"): "/", ord("−"): "-", ord("²"): "**2"})
            value = eval(plain.replace("√", "sqrt"), {"sqrt": math.sqrt})
            found.append((written, float(value), result.group().replace("−", "-")))
    return found


BOARDS = [
    *(f"{one.name} {one.example}" for one in EVERY.values()),
    "ppfd fc=687.3 lamp='CIE FL2'",
    "ppfd lux=12345.6 lamp=lps",
    "lux ppfd=123.456 lamp=hps follow=CIE",
    "footcandles fc=37.3",
    "footcandles lux=37.3",
    "dli fc=613 lamp=tube hours=15.7 crop=lettuce",
    "light-hours dli=17.3 lux=11111 lamp=tube",
    "light-hours dli=30 lux=4321 lamp=led",
    "ppfd-for dli=16 hours=11.8 lamp=hps",
    "supplement dli=17.3 daylight=8.54 ppfd=144.64",
    "supplement dli=17.37 daylight=8.543 hours=13.7",
    "supplement dli=15 daylight=5 ppfd=133.7 hours=10.3",
    "daylight-sum fc=13,271,333 every=2.5",
    "mean-light dli=12.345,11.117,9.003 wanted=13.7",
    "distance ppfd=1234.5 from=37.5 to=21.3 shape=tube length=119.9",
    "distance fc=613 from=12in to=7in width=48in length=8in",
    "distance-for ppfd=300 from=87.3 wanted=246.4 shape=tube length=58",
    "distance-for ppfd=300 from=87.3 wanted=246.4 shape=panel width=30.5 length=61",
    "distance-for ppfd=300 from=87.3 wanted=246.4 shape=disc width=33.3",
    "distance-for fc=613 from=11in wanted_fc=271",
    "five-times shape=tube length=117 distance=83.3",
    "meter-sees wavelength=658,447,533 share=71,18,11 lux=1234",
    "meter-sees wavelength=658,447 share=71,18",
    "radiation ppfd=217.3 lamp='CIE FL3.12'",
    "lamp watts=57.3 lamp=tube area=0.47 reaching=0.73 hours=13.7",
    "lamp-watts ppfd=217.3 efficacy=2.37 reaching=0.73 area=1.37",
    "light-energy dli=17.3 efficacy=1.37 reaching=0.73 area=2.37 price=0.2837",
    "lamp-cost watts=130.87 hours=16 days=226 price=0.2837",
    "lamp-against-lamp watts=413 lamp=hps other_watts=287 other_efficacy=2.37 hours=13.7 price=0.2837 days=187",
    "lamp-efficacy watts=613 output=1337 loss=9.7",
    "photon-limit wavelength=657 efficiency=53.7",
]


@pytest.mark.parametrize("line", BOARDS)
def test_the_sums_on_the_board_come_out(line):
    """Each sum, worked out from the numbers that stand there, gives the result that stands there, and fits a line."""
    done = work(line)
    for one in done.working:
        assert len(one) <= 76, one
        for written, value, result in sums(one):
            decimals = len(result.partition(".")[2])
            assert abs(value - float(result)) <= 0.5001 * 10**-decimals + 1e-6 * abs(value), (
                f"{written} = {value}: {one}"
            )


def test_the_board_is_read():
    """The check above finds the sums, also those with a label, a unit, a root or a square."""
    assert sums("limit = 657 ÷ 119.6266 = 5.492 µmol/J") == [
        ("657 ÷ 119.6266", pytest.approx(5.4921, rel=1e-4), "5.492")
    ]
    assert sums("in 7 days: 2.5 kWh × 7 = 17.5 kWh")[0][1:] == (17.5, "17.5")
    assert sums("d₂ = d₁ × √(E₁ ÷ E₂) = 30 × √(400 ÷ 100) = 60.0 cm")[0][1:] == (60, "60.0")
    assert sum(len(sums(line)) for line in work("lamp-cost watts=130.87 hours=16 days=226 price=0.28").working) == 4


@pytest.mark.parametrize(
    "line",
    ["dli lux=10000 lamp=sun hours=12", "dli ppfd=300 lamp=sky hours=12", "dli lux=10000 lamp='CIE D65' hours=12"],
)
def test_one_reading_of_daylight_is_no_day(line):
    """The first sentence says so, and the result is marked; a lamp's is not."""
    done = work(line)
    assert "no light of a day" in done.says[0]
    assert done.results["dli"].says == "if it stayed like this all day"
    assert work("dli lux=10000 lamp=led hours=12").results["dli"].says == "light in a day"


def test_nobody_sets_daylight_on_a_timer():
    """Hours of daylight are no order to an adult, and no lamp shines."""
    done = work("light-hours dli=10 lux=20000 lamp=sun")
    assert done.do is None
    assert "If daylight stayed like this" in done.says[0]


@pytest.mark.parametrize("line", ["daylight-sum readings=100", "daylight-sum lux=100,200", "daylight-sum fc=1,2"])
def test_a_day_needs_three_readings(line):
    """One or two say nothing about the day."""
    with pytest.raises(ValueError, match="at least 3 readings"):
        work(line)


@pytest.mark.parametrize("crop", ["tomato", "eggplant", "pepper", "chilli"])
def test_long_days_hurt_tomato_and_its_kin(crop):
    """Above 18 h a warning comes first, and no remedy has more hours; up to 18 h, and for lettuce, there is none."""
    for ppfd in (100, 300, 600):
        done = work(f"dli ppfd={ppfd} hours=24 crop={crop}")
        assert "at most 18 h" in done.says[0]
        assert not any("these hours" in one for one in done.says)
    assert not any("at most 18 h" in one for one in work(f"dli ppfd=300 hours=18 crop={crop}").says)
    assert not any("at most 18 h" in one for one in work("dli ppfd=100 hours=24 crop=lettuce").says)


def test_more_light_than_was_tried_is_not_too_much():
    """The published ranges are no ceilings; whose they are is written out, and who holds otherwise is named."""
    done = work("dli ppfd=300 hours=24 crop=tomato")
    assert done.says[1].startswith("More than the range looked at for tomato")
    assert any("20 to 30" in one for one in done.says)
    assert "University of Florida advice" in done.source
    assert any(
        "handbook of Cornell University: 15 to 17" in one for one in work("dli ppfd=310 hours=16 crop=lettuce").says
    )


@pytest.mark.parametrize(
    ("crop", "dli", "verdict"),
    [
        ("'seedling plugs'", 6, "low"),
        ("seedlings", 11, "in range"),
        ("plugs", 13, "high"),
        ("'tomato (fruiting)'", 12, "low"),
        ("microgreens", 2, "low"),
        ("'leafy greens'", 11, "low"),
        ("herbs", 13, "in range"),
    ],
)
def test_crops_as_bands_finds_them(crop, dli, verdict):
    """The same names as for bands are known, and names for many crops."""
    assert work(f"dli ppfd={dli / 0.0036 / 20} hours=20 crop={crop}").results["verdict"].value == verdict


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("distance ppfd=400 from=30 to=20", ["Hanging"]),
        ("distance ppfd=400 from=30 to=3", ["scorch", "Hanging"]),
        ("distance lux=60000 from=30 to=20", ["scorch", "Hanging"]),
        ("distance-for ppfd=400 from=30 wanted=4000", ["scorch", "Hanging"]),
        ("distance-for ppfd=400 from=30 wanted=200", ["Hanging"]),
        ("lamp watts=1000 lamp=hps", ["Mains", "ultraviolet"]),
        ("lamp watts=1000 lamp=red-blue-limit", ["Mains"]),
        ("lamp-cost watts=1000 hours=12", ["Mains"]),
        ("supplement dli=15 daylight=7 hours=12", ["mains"]),
        ("supplement dli=15 daylight=7 ppfd=100 hours=12", ["mains"]),
        ("ppfd-for dli=15 hours=12 lamp=hps", ["ultraviolet"]),
        ("ppfd lux=5000 lamp=T8", ["mercury"]),
        ("ppfd lux=5000 lamp='CIE FL11'", ["mercury"]),
        ("ppfd lux=5000 lamp=sun", ["blinds"]),
        ("ppfd lux=5000 lamp=lps", ["sodium"]),
        ("photon-limit wavelength=300", ["Ultraviolet"]),
    ],
)
def test_cautions_of_light(line, words):
    """Heat, mains, mercury, sodium, ultraviolet and the sun: one line each that names who may do it."""
    cautions = work(line).cautions
    assert len(cautions) == len(words)
    for caution, word in zip(cautions, words, strict=True):
        assert word in caution
        assert "adult" in caution


def test_more_than_full_sun_is_said_first():
    """And nobody is asked to hang a lamp so near."""
    done = work("distance-for ppfd=400 from=30 wanted=4000")
    assert "more than full sun" in done.says[0]
    assert done.do is None
    assert "more than full sun" in work("distance ppfd=400 from=30 to=3").says[0]


def test_no_day_brings_everything_back():
    """What no day can bring is not asked of one."""
    assert "One day cannot" in work("mean-light dli=2,2,2 wanted=30").says[1]
    assert "the next day needs" in work("mean-light dli=2,2,2 wanted=10").says[1]


@pytest.mark.parametrize(
    ("typed", "key"), [("blurple", "red-blue"), ("blurple LED grow light", "red-blue"), ("whiteled", "white-led")]
)
def test_more_names_of_lamps(typed, key):
    """Names that shops and forums use."""
    assert which_key(typed) == key


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("ppfd lux=1000 lamp='grow light'", "white-led if its light looks white.*pink tube"),
        ("ppfd lux=1000 lamp=LEC", "ceramic-4200 or ceramic-3100"),
        ("ppfd lux=1000 lamp=blurple", "hardly sees red and blue"),
        ("ppfd lamp=sun", "give lux=.*or fc="),
        ("ppfd lux=100 fc=10 lamp=sun", "give the reading once"),
        ("ppfd fc=100000 lamp=sun", "at most 92903 fc"),
        ("distance fc=10 lux=10 from=10 to=20", "either ppfd="),
        ("radiation radiation=100 lamp=red-blue", "no µmol in a joule is known.*photon-limit"),
        ("dli ppfd=200 hours=24.0001", "24.0001 is too high: it must be at most 24 h"),
        ("dli ppfd=200 hours=16 lamp=unicorn", "there is no 'unicorn'"),
    ],
)
def test_refusals_name_what_would_be_right(line, says):
    """One clear sentence about the very thing that is wrong."""
    with pytest.raises(ValueError, match=says):
        work(line)


@pytest.mark.parametrize(
    ("line", "name", "value"),
    [
        ("ppfd fc=687 lamp=tube", "ppfd", 99.93),
        ("ppfd footcandles=687 lamp=tube", "ppfd", 99.93),
        ("footcandles fc=1", "lux", 10.7639),
        ("dli fc=687 lamp=tube hours=16", "dli", 5.756),
        ("light-hours fc=687 lamp=tube dli=5.756", "hours", 16),
        ("daylight-sum fc=100,200,300 every=4", "dli", 1.7222),
        ("distance fc=600 from=30 to=60", "footcandles", 150),
        ("distance lux=600fc from=12in to=6in width=48in length=8in", "footcandles", 1090.9),
        ("distance-for fc=600 from=30 wanted_fc=150", "distance", 60),
    ],
)
def test_foot_candles_have_a_key(line, name, value):
    """What is given as fc is in foot-candles."""
    assert work(line).results[name].value == pytest.approx(value, rel=1e-3)


def test_what_was_asked_for_leads():
    """Photons for a kWh of an efficacy that was put in; foot-candles where the reading was in them."""
    assert next(iter(work("lamp-efficacy efficacy=1.7").results)) == "per_kwh"
    assert next(iter(work("lamp-efficacy efficacy=3.4 loss=10").results)) == "efficacy"
    assert next(iter(work("lamp-efficacy watts=600 output=1020").results)) == "efficacy"
    assert next(iter(work("distance fc=600 from=30 to=60").results)) == "footcandles"
    assert next(iter(work("distance lux=600 from=30 to=60").results)) == "lux"


@pytest.mark.parametrize(
    "line",
    [
        "lamp-cost watts=400 hours=16 price=25",
        "light-energy dli=17 efficacy=1.7 price=25",
        "lamp-against-lamp watts=400 efficacy=1 other_efficacy=2 hours=12 price=25",
    ],
)
def test_a_price_in_pence_is_asked_about(line):
    """25 for a kWh is asked about, 0.25 is not."""
    assert "pence or cents?" in work(line).says[0]
    assert "price=0.25" in work(line).says[0]
    assert not any("pence" in one for one in work(line.replace("price=25", "price=0.25")).says)


def test_the_days_that_were_asked_for_are_answered():
    """The sentence names them, before the term."""
    assert work("lamp-cost watts=400 hours=16 price=0.25 days=30").says[0].startswith("It costs 48.00 in 30 days.")
    assert work("lamp-cost watts=400 hours=16 days=7").says[0].startswith("In 7 days it takes 44.80 kWh.")


def test_words_on_the_distance_screen():
    """No title ends like a question, and the labels say what they hold against what."""
    assert not any(one.title.endswith("?") for one in EVERY.values())
    says = [one.says for one in work("distance ppfd=400 from=30 to=60 shape=tube length=60").results.values()]
    assert "against a point, at 30 cm" in says
    assert not any("five-times rule" in one or "far lamp" in one for one in says)
