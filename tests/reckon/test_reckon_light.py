"""The reckonings of light: what comes out, the working, whose figure it is, and what they refuse."""

import shlex

import pytest

from walkabout.growing.light_kinds import KINDS, SPECTRA
from walkabout.reckon import colour, daily_light, distance, light, light_days
from walkabout.reckon.model import Reckoned
from walkabout.reckon.read import reckon, split, take
from walkabout.reckon.which_lamp import which_face
from walkabout.reckon.which_light import CHIEF, which_key

EVERY = {one.name: one for module in (light, daily_light, light_days, distance, colour) for one in module.RECKONINGS}


def work(line: str) -> Reckoned:
    """Work out what is typed behind the command."""
    name, *words = shlex.split(line)
    return reckon(EVERY[name], take(EVERY[name], split(words)))


MANY = [
    *(f"{one.name} {one.example}" for one in EVERY.values()),
    *(f"ppfd lux=8000 lamp={key}" for key in KINDS),
    "ppfd lux=8000 lamp='CIE HP1'",
    "ppfd lux=0 lamp=sun",
    "ppfd lux=500fc factor=60",
    "lux ppfd=1000 lamp=hps follow=CIE",
    "dli lux=11100 lamp=tube hours=16 crop=lettuce",
    "dli ppfd=10 hours=24 crop=tomato",
    "dli ppfd=2000 hours=20 crop=lettuce",
    "dli ppfd=0 hours=0 crop=lettuce",
    "dli ppfd=100 lux=2000 lamp=red-blue hours=12",
    "light-hours dli=0 ppfd=100",
    "light-hours dli=30 lux=4000 lamp=led",
    "ppfd-for dli=16 hours=24 lamp=red-blue",
    "ppfd-for dli=16 hours=12 factor=60",
    "supplement dli=10 daylight=12 ppfd=100",
    "supplement dli=15 daylight=5 ppfd=100 hours=10",
    "supplement dli=15 daylight=5 ppfd=300 hours=0",
    "daylight-sum lux=1000;5000;10000 every=240min",
    "mean-light dli=8 wanted=10",
    "distance ppfd=0 from=30 to=60 width=20",
    "distance lux=600fc from=12in to=24in width=8in length=48in",
    "distance ppfd=100 from=500 to=60 diameter=30",
    "distance ppfd=1234.5 from=37.5 to=21.3 shape=tube length=119.9 width=4",
    "distance-for lux=4000 from=30 wanted_lux=100fc width=40",
    "distance-for ppfd=400 from=30 wanted=100",
    "five-times shape=disc width=10 distance=80",
    "meter-sees wavelength=555",
    "meter-sees wavelength=450,550,660",
    "radiation ppfd=200 lamp='CIE FL3.12'",
    "radiation ppfd=200 lamp=violet-led",
]


@pytest.mark.parametrize("line", MANY)
def test_whatever_is_asked_is_explained(line):
    """Results, a source, full sentences, and working that fits a narrow screen with no line twice."""
    done = work(line)
    assert done.results
    assert done.source
    assert all(one[-1] in ".)" for one in (*done.says, *done.cautions))
    assert max(map(len, done.working)) <= 76
    assert len(set(done.working)) == len(done.working)
    assert not any("-0" in one or "nan" in one for one in done.working)


@pytest.mark.parametrize(
    ("line", "name", "value"),
    [
        ("ppfd lux=5400 lamp=sunlight", "ppfd", 100),
        ("ppfd lux=687fc lamp='cool-white fluorescent'", "ppfd", 99.93),
        ("ppfd lux=500fc lamp=tube follow=2001", "ppfd", 68.5),
        ("ppfd lux=10klx lamp=D65", "ppfd", 180.2),
        ("ppfd lux=10000 lamp=incandescent follow=CIE", "ppfd", 199.0),
        ("ppfd lux=6000 factor=60", "ppfd", 100),
        ("lux ppfd=100 lamp=led", "lux", 7000),
        ("footcandles lux=1fc", "lux", 10.7639),
        ("footcandles lux=1076.39", "footcandles", 100.0),
        ("dli ppfd=200 hours=16", "dli", 11.52),
        ("dli lux=11100 lamp=tube hours=16", "dli", 8.64),
        ("dli ppfd=100 lux=99999 lamp=sun hours=10", "dli", 3.6),
        ("light-hours dli=17 ppfd=250", "hours", 18.889),
        ("light-hours dli=17 ppfd=150", "hours", 31.481),
        ("light-hours dli=17 ppfd=150", "most", 12.96),
        ("light-hours dli=8.64 lux=11100 lamp=tube", "hours", 16),
        ("ppfd-for dli=16 hours=10", "ppfd", 444.44),
        ("ppfd-for dli=16 hours=20 lamp=cool-white", "lux", 16444.4),
        ("mean-light dli=22.5,12.5,12.5,12.5", "dli", 15),
        ("mean-light dli=10,10 wanted=12", "tomorrow", 16),
        ("supplement dli=15 daylight=7.5 hours=16", "ppfd", 130.21),
        ("supplement dli=15 daylight=7.5 ppfd=100", "hours", 20.833),
        ("supplement dli=15 daylight=7.5 ppfd=100 hours=10", "dli", 11.1),
        ("supplement dli=15 daylight=16 hours=10", "ppfd", 0),
        ("daylight-sum readings=100,200,300 every=4", "dli", 8.64),
        ("daylight-sum lux=5400,10800,0 every=2", "dli", 2.16),
        ("distance ppfd=400 from=30 to=45", "ppfd", 177.78),
        ("distance lux=600fc from=12in to=6in width=48in length=8in", "lux", 11742.7),
        ("distance ppfd=400 from=30 to=60 shape=panel width=30", "ppfd", 122.73),
        ("distance ppfd=400 from=30 to=60 width=30", "as_point", 100),
        ("distance ppfd=100 from=500 to=50 shape=disc width=100", "short_to", -50),
        ("distance ppfd=100 from=30 to=60 shape=tube length=60", "short_to", -13.64),
        ("distance-for ppfd=400 from=30 wanted=100", "distance", 60),
        ("five-times shape=square width=1m distance=5m", "difference", -1.3149),
        ("five-times shape=tube length=120 distance=600", "enough_at", 600),
        ("meter-sees wavelength=660", "factor", 7.552),
        ("meter-sees wavelength=660,450 share=80,20 lux=1000", "ppfd", 134.76),
        ("meter-sees wavelength=660,450 share=80,20 lux=1000", "as_white_led", 14.286),
        ("radiation radiation=100 lamp=sun", "ppfd", 457),
        ("radiation ppfd=498 lamp=hps", "radiation", 100),
    ],
)
def test_results(line, name, value):
    """The number that was asked for, to four digits."""
    assert work(line).results[name].value == pytest.approx(value, rel=1e-3, abs=1e-9)


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("dli ppfd=200 hours=20 crop=lettuce", "in range"),
        ("dli ppfd=100 hours=16 crop=lettuce", "low"),
        ("dli ppfd=600 hours=16 crop=lettuce", "high"),
        ("light-hours dli=17 ppfd=250", "can be reached"),
        ("light-hours dli=17 ppfd=150", "cannot be reached"),
        ("supplement dli=15 daylight=7.5 ppfd=50", "cannot be reached"),
        ("supplement dli=15 daylight=7.5 ppfd=100 hours=10", "not enough"),
        ("supplement dli=15 daylight=7.5 ppfd=100 hours=21", "enough"),
        ("supplement dli=15 daylight=16 hours=8", "enough daylight"),
        ("distance ppfd=100 from=200 to=300 width=20", "like a point"),
        ("distance ppfd=100 from=30 to=300 width=20", "too near for a point"),
        ("five-times shape=square width=1m distance=5m", "too near for a point"),
        ("five-times shape=disc width=100 distance=500", "like a point"),
    ],
)
def test_verdicts_of_light(line, word):
    """The verdict is a word, and the working or a sentence says against what."""
    done = work(line)
    assert done.results["verdict"].value == word
    assert done.working


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        *((key, key) for key in CHIEF),
        ("Sun and sky", "sun"),
        ("window", "sun"),
        ("blue sky only", "sky"),
        ("tube", "cool-white"),
        ("T5 fluorescent lamp", "cool-white"),
        ("cool_white", "cool-white"),
        ("HPS", "high-pressure-sodium"),
        ("high-pressure sodium (single-ended)", "high-pressure-sodium"),
        ("mogul-base (single-ended) high-pressure sodium", "high-pressure-sodium"),
        ("high-pressure sodium, double-ended", "double-ended"),
        ("DE HPS", "double-ended"),
        ("metal halide", "metal-halide"),
        ("ceramic metal halide, 4200 K", "ceramic-4200"),
        ("CMH 3100K", "ceramic-3100"),
        ("ceramic metal halide, 3100 K red-shifted", "ceramic-3100"),
        ("tungsten halogen", "incandescent"),
        ("led", "white-led"),
        ("white LED, blue-pumped phosphor", "white-led"),
        ("violet-pumped high-CRI LED", "violet-led"),
        ("white LED, violet-pumped, high colour rendering", "violet-led"),
        ("LPS", "low-pressure-sodium"),
        ("red and blue LED", "red-blue"),
        ("purple LED", "red-blue"),
        ("pink LED", "red-blue"),
        ("red LED", "red-blue"),
        ("red-green-blue white LED", "cie-led-rgb1"),
        ("warm white tube", "cie-fl4"),
        ("three-band fluorescent", "cie-fl11"),
        ("illuminant A", "cie-a"),
        ("CIE FL2 cool-white fluorescent 4230 K", "cie-fl2"),
        ("led-b3", "cie-led-b3"),
        ("FL3.12", "cie-fl3.12"),
    ],
)
def test_names_of_lamps(typed, key):
    """A lamp is known by its trade names, in any spelling and order."""
    assert which_key(typed) == key


@pytest.mark.parametrize("name", sorted(SPECTRA))
def test_every_cie_lamp_has_a_name(name):
    """Each is found with 'CIE' before it."""
    assert which_key(f"CIE {name}") == f"cie-{name.casefold()}"


@pytest.mark.parametrize(
    ("typed", "shape", "width", "length"),
    [
        ((None, None, None), "point", 0, 0),
        ((None, 30, None), "panel", 30, 30),
        ((None, None, 40), "panel", 40, 40),
        ((None, 30, 60), "panel", 30, 60),
        (("square panel", 30, None), "panel", 30, 30),
        (("bank of tubes", 20, 120), "panel", 20, 120),
        (("tube", 120, None), "tube", 0, 120),
        (("tube", 4, 120), "tube", 0, 120),
        (("round", 30, None), "disc", 30, 0),
        (("disc", 30, 30), "disc", 30, 0),
        (("point", 30, None), "point", 0, 0),
    ],
)
def test_shapes_of_lamps(typed, shape, width, length):
    """No shape and no size is a point; one size alone a square, which is said; both a rectangle."""
    face, _ = which_face(*typed)
    assert (face.shape, face.width, face.length) == (shape, width, length)
    assert which_face(None, 30, None)[1] == "taken: a square panel, 30 cm each side"


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("ppfd lux=1000 lamp=red-blue", "quantum sensor, or the PPFD that the maker gives"),
        ("lux ppfd=100 lamp='red and blue'", "hardly sees red and blue"),
        ("dli lux=1000 lamp=purple hours=12", "hardly sees red and blue"),
        ("daylight-sum lux=1000,2000 lamp=red-blue", "hardly sees red and blue"),
        ("ppfd lux=1000", "give lamp=, the kind of light"),
        ("ppfd lux=1000 lamp=cmh", "ceramic-4200 or ceramic-3100"),
        ("ppfd lux=1000 lamp='full-spectrum LED'", "white-led if its light looks white"),
        ("ppfd lux=1000 lamp='plant-growth fluorescent'", "give factor="),
        ("ppfd lux=1000 lamp=wite-led", "did you mean white-led"),
        ("ppfd lux=1000 lamp=candle", "it is one of sun, sky"),
        ("ppfd lux=1000 lamp=sky follow=2001", "the list of 2001 has no factor for blue sky"),
        ("ppfd lux=-5 lamp=sun", "at least 0 lx"),
        ("ppfd lux=2000000 lamp=sun", "at most"),
        ("dli hours=12", "give ppfd=, or lux= and lamp="),
        ("dli ppfd=100 hours=25", "at most 24 h"),
        ("dli ppfd=100 hours=12 crop=letuce", "did you mean lettuce"),
        ("light-hours dli=17 ppfd=0", "more than 0"),
        ("ppfd-for dli=17 hours=0", "hours is 0"),
        ("supplement dli=15 daylight=7", "give hours="),
        ("supplement dli=15 daylight=7 hours=0", "hours is 0"),
        ("supplement dli=15 daylight=7 ppfd=0", "ppfd is 0"),
        ("daylight-sum every=1", "give readings="),
        ("daylight-sum readings=1,2,3 every=10", "more than a day"),
        ("distance from=30 to=60", "either ppfd="),
        ("distance ppfd=100 lux=100 from=30 to=60", "either ppfd="),
        ("distance ppfd=100 from=0 to=60", "at least 0.1 cm"),
        ("distance ppfd=100 from=30 to=60 shape=tube", "give length= of the tube"),
        ("distance ppfd=100 from=30 to=60 shape=panel", "give width= and length="),
        ("distance ppfd=100 from=30 to=60 shape=disc width=30 length=40", "a disc has one width"),
        ("distance ppfd=100 from=30 to=60 diameter=30 width=4", "round lamp"),
        ("distance ppfd=100 from=30 to=60 shape=cubic", "shape: there is no 'cubic'"),
        ("distance-for ppfd=400 from=30 wanted=4000 width=40", "at most 1120"),
        ("distance-for ppfd=400 from=30", "give wanted="),
        ("distance-for ppfd=0 from=30 wanted=10", "more than nothing"),
        ("distance-for lux=400 from=30 wanted=100", "give wanted="),
        ("five-times distance=30", "give the lamp's shape"),
        ("meter-sees wavelength=660,450 share=80", "one share for each"),
        ("meter-sees wavelength=730", "at most 700 nm"),
        ("radiation lamp=sun", "give radiation="),
        ("radiation ppfd=100 lamp=double-ended", "no figure was found"),
    ],
)
def test_refusals_of_light(line, says):
    """One clear sentence that says what would be right."""
    with pytest.raises(ValueError, match=says.replace(".", r"\.").replace("(", r"\(")) as caught:
        work(line)
    assert "\n" not in str(caught.value)


def test_whose_factor_it_is_stands_in_the_source():
    """The source changes with the list that is followed, and the others are named beside it."""
    sources = {one: work(f"ppfd lux=7400 lamp=tube follow={one}").source for one in ("1983", "CIE", "2001")}
    assert "Thimijan and Heins 1983" in sources["1983"]
    assert "CIE FL2" in sources["CIE"]
    assert "October 2001" in sources["2001"]
    assert any("a list of 2001" in line for line in work("ppfd lux=7400 lamp=tube").says)


def test_a_metal_halide_reading_is_less_sure():
    """Its factor depends on the filling: 15 % instead of 10."""
    for lamp, percent in (("metal-halide", 15), ("sun", 10)):
        done = work(f"ppfd lux=7100 lamp={lamp}").results
        assert done["most"].value == pytest.approx(done["ppfd"].value * (1 + percent / 100))
        assert done["least"].value == pytest.approx(done["ppfd"].value * (1 - percent / 100))


def test_cautions_only_where_due():
    """Hot and ultraviolet lamps have one, the blue sky and LEDs none; a timer is for an adult."""
    assert not work("ppfd lux=5000 lamp=sky").cautions
    assert not work("ppfd lux=5000 lamp=led").cautions
    assert "ultraviolet" in work("ppfd lux=5000 lamp=metal-halide").cautions[0]
    assert "Hot glass" in work("ppfd lux=5000 lamp=incandescent").cautions[0]
    timer = work("light-hours dli=12 ppfd=250").do
    assert timer is not None
    assert timer.who == "adult"
    assert work("light-hours dli=0 ppfd=250").do is None
    hang = work("distance-for ppfd=400 from=30 wanted=200").do
    assert hang is not None
    assert (hang.who, hang.what) == ("adult", "Hang the lamp 42 cm above the leaves")


def test_what_was_taken_is_said():
    """A default that was not given stands in the working."""
    assert "taken: a lamp so small that it is a point" in work("distance ppfd=400 from=30 to=60").working
    assert "taken: light = sun and sky" in work("daylight-sum lux=1000,2000,1000").working
    assert "taken: as many photons of each colour" in work("meter-sees wavelength=450,660").working
