"""The reckonings of lamps and their electricity: what comes out, the working, and what they refuse."""

import shlex

import pytest

from walkabout.growing.lamps import EFFICACIES
from walkabout.reckon import lamp_money, lamps
from walkabout.reckon.model import Reckoned
from walkabout.reckon.read import reckon, split, take

EVERY = {one.name: one for module in (lamps, lamp_money) for one in module.RECKONINGS}


def work(line: str) -> Reckoned:
    """Work out what is typed behind the command."""
    name, *words = shlex.split(line)
    return reckon(EVERY[name], take(EVERY[name], split(words)))


@pytest.mark.parametrize(
    "line",
    [
        *(f"{one.name} {one.example}" for one in EVERY.values()),
        *(f"lamp-efficacy lamp={key}" for key in EFFICACIES),
        "lamp watts=0 area=1 efficacy=2 hours=0",
        "lamp watts=54 lamp=tube",
        "lamp watts=54 area=0.5 lamp=tube hours=14",
        "lamp-watts ppfd=0 efficacy=2",
        "light-energy dli=17 lamp=led area=2 price=0.3",
        "light-energy dli=0 efficacy=2 price=0.3",
        "lamp-cost watts=18 hours=24 days=7",
        "lamp-cost watts=0 hours=0 price=0",
        "lamp-against-lamp watts=400 efficacy=1.02 other_watts=300 other_efficacy=1.7 hours=16 price=0.25",
        "lamp-against-lamp watts=0 lamp=hps other_watts=100 other_lamp=tube hours=16 days=30",
        "lamp-against-lamp efficacy=2 other_efficacy=2",
        "photon-limit wavelength=730 efficiency=55",
    ],
)
def test_whatever_is_asked_of_a_lamp_is_explained(line):
    """Results, a source, full sentences, and working that fits a narrow screen with no line twice."""
    done = work(line)
    assert done.results
    assert done.source
    assert all(one[-1] == "." for one in (*done.says, *done.cautions))
    assert max(map(len, done.working)) <= 76
    assert len(set(done.working)) == len(done.working)


@pytest.mark.parametrize(
    ("line", "name", "value"),
    [
        ("lamp watts=1000 efficacy=1.7", "output", 1700),
        ("lamp watts=100 efficacy=2 area=1", "ppfd", 160),
        ("lamp watts=54 efficacy=0.95 area=0.5 reaching=0.7", "ppfd", 71.82),
        ("lamp watts=100 efficacy=2 area=1 hours=16", "dli", 9.216),
        ("lamp watts=100 efficacy=2 area=1 hours=16", "energy", 1.6),
        ("lamp watts=100 lamp=hps", "per_kwh", 3.672),
        ("lamp watts=100 efficacy=3 lamp=hps", "output", 300),
        ("lamp-watts ppfd=200 efficacy=2.5 reaching=0.9", "watts_per_m2", 88.889),
        ("lamp-watts ppfd=200 efficacy=2.5 reaching=0.9 area=2", "watts", 177.78),
        ("light-energy dli=17 efficacy=1.7 reaching=1", "energy", 2.7778),
        ("light-energy dli=17 efficacy=1.7 reaching=1 area=2", "energy_day", 5.5556),
        ("light-energy dli=17 efficacy=1.7 reaching=1 area=2 price=0.25", "cost", 1.3889),
        ("light-energy dli=17 efficacy=1.7 reaching=1 price=0.25", "cost", 0.69444),
        ("lamp-cost watts=400 hours=16 days=30", "energy", 192),
        ("lamp-cost watts=400 hours=16 days=30 price=0.25", "cost", 48),
        ("lamp-cost watts=400 hours=16 price=0.25", "cost_day", 1.6),
        ("lamp-cost watts=400 hours=16 price=0.25", "cost_week", 11.2),
        ("lamp-cost watts=400 hours=16 price=0.25", "cost_term", 145.6),
        ("lamp-cost watts=18 hours=24 days=7", "energy", 3.024),
        ("lamp-cost watts=0.4kW hours=16", "energy_day", 6.4),
        ("lamp-against-lamp efficacy=1.02 other_efficacy=1.7", "saving", 40),
        ("lamp-against-lamp lamp=hps other_lamp=led", "saving", 40),
        ("lamp-against-lamp watts=400 efficacy=1.02 other_efficacy=1.7", "same_watts", 240),
        ("lamp-against-lamp watts=400 efficacy=1 other_watts=250 other_efficacy=2", "light_share", 125),
        ("lamp-against-lamp watts=400 efficacy=1.02 other_efficacy=1.7 hours=16 price=0.25", "cost_saved", 58.24),
        ("lamp-against-lamp watts=400 efficacy=1 other_efficacy=2 hours=10 days=10", "energy_saved", 20),
        ("lamp-efficacy efficacy=1.7", "per_kwh", 6.12),
        ("lamp-efficacy efficacy=3.4 loss=10", "efficacy", 3.06),
        ("lamp-efficacy watts=600 output=1020", "efficacy", 1.7),
        ("photon-limit wavelength=450", "efficacy", 3.7617),
        ("photon-limit wavelength=660 efficiency=50", "efficacy", 2.7586),
        ("photon-limit wavelength=0.66µm", "efficacy", 5.5172),
    ],
)
def test_results_of_lamps(line, name, value):
    """The number that was asked for, to four digits."""
    assert work(line).results[name].value == pytest.approx(value, rel=1e-4)


@pytest.mark.parametrize(
    ("line", "first"),
    [
        ("lamp watts=100 efficacy=2 area=1", "ppfd"),
        ("lamp watts=100 efficacy=2", "output"),
        ("lamp-watts ppfd=200 efficacy=2", "watts_per_m2"),
        ("lamp-watts ppfd=200 efficacy=2 area=3", "watts"),
        ("lamp-cost watts=400 hours=16 price=0.25", "cost_day"),
        ("lamp-cost watts=400 hours=16 days=30", "energy"),
        ("lamp-cost watts=400 hours=16 days=30 price=0.25", "cost"),
    ],
)
def test_the_chief_result_comes_first(line, first):
    """What was asked for stands on top, whatever else was given."""
    assert next(iter(work(line).results)) == first


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("lamp-against-lamp efficacy=1 other_efficacy=2", "the other saves"),
        ("lamp-against-lamp efficacy=2 other_efficacy=1", "the first saves"),
        ("lamp-against-lamp efficacy=2 other_efficacy=2", "no difference"),
        ("photon-limit wavelength=700", "counts"),
        ("photon-limit wavelength=701", "does not count"),
    ],
)
def test_verdicts_on_lamps(line, word):
    """Which lamp saves, and whether a colour counts."""
    assert work(line).results["verdict"].value == word


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("lamp watts=100", "give efficacy= in µmol/J"),
        ("lamp watts=100 lamp=incandescent", "no published efficacy was found for 'incandescent'"),
        ("lamp watts=100 lamp=metal-halide", "no published efficacy"),
        ("lamp watts=100 lamp=sun", "no published efficacy"),
        ("lamp watts=100 efficacy=7", "at most 6 µmol/J"),
        ("lamp watts=-100 efficacy=2", "at least 0 W"),
        ("lamp watts=100 efficacy=2 area=0", "at least 0.0001 m²"),
        ("lamp watts=100 efficacy=2 area=1 reaching=80", "at most 1"),
        ("lamp area=1 efficacy=2", "needs watts"),
        ("lamp-cost watts=100 hours=30", "at most 24 h"),
        ("lamp-cost watts=100 hours=10 price=-1", "at least 0"),
        ("lamp-against-lamp efficacy=1", "give other_efficacy="),
        ("lamp-against-lamp efficacy=1 other_efficacy=2 other_watts=100", "give watts= of the first"),
        ("lamp-efficacy output=100", "give watts="),
        ("lamp-efficacy output=100 watts=0", "watts is 0"),
        ("lamp-efficacy efficacy=2 loss=100", "nothing is left"),
        ("photon-limit wavelength=100", "at least 280 nm"),
        ("photon-limit wavelength=660 efficiency=120", "at most 100 %"),
    ],
)
def test_refusals_of_lamps(line, says):
    """One clear sentence that says what would be right."""
    with pytest.raises(ValueError, match=says) as caught:
        work(line)
    assert "\n" not in str(caught.value)


def test_what_was_taken_of_a_lamp_is_said():
    """A default stands in the working, and a figure for a kind of lamp with its year; a given one does not."""
    taken = "taken: share that reaches the crop = 0.8"
    assert taken in work("lamp-watts ppfd=200 efficacy=2").working
    assert taken not in work("lamp-watts ppfd=200 efficacy=2 reaching=0.7").working
    named = work("lamp watts=54 lamp=tube")
    assert named.working[0] == "taken: 0.95 µmol/J, best fluorescent lamp of 2014"
    assert "Nelson and Bugbee 2014" in named.source
    assert any("a term = 13 weeks = 91 days" in line for line in work("lamp-cost watts=10 hours=10").working)


def test_money_has_no_unit():
    """It is the room's own currency."""
    done = work("lamp-cost watts=400 hours=16 price=0.25 days=30")
    assert {one.unit for name, one in done.results.items() if name.startswith("cost")} == {""}
    assert {one.unit for name, one in done.results.items() if name.startswith("energy")} == {"kWh"}


def test_installing_is_for_an_adult():
    """Where another lamp is asked for, mains beside water is named; a lamp that is off has no danger."""
    assert "adult" in work("lamp-watts ppfd=200 efficacy=2").cautions[0]
    assert work("lamp-against-lamp efficacy=1 other_efficacy=2").cautions
    assert not work("lamp-against-lamp efficacy=2 other_efficacy=1").cautions
    assert not work("lamp-cost watts=400 hours=0 price=0.25").cautions
