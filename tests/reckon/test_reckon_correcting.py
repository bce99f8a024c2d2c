"""The face of correcting a tank: what is asked, what comes out, who may do it."""

import re

import pytest

from walkabout.reckon import balance, bands, bring, correcting, drifting, upkeep
from walkabout.reckon.read import reckon, split, take

FOUND = {one.name: one for module in (balance, bands, bring, correcting, drifting, upkeep) for one in module.RECKONINGS}

CALLS = [
    "dilute volume=60 ec=2.4 to=1.8",
    "dilute volume=60 ec=2.4 to=1.8 water_ec=0.3 capacity=70",
    "dilute volume=60 ec=1.2 to=1.2 water_ec=0.4 capacity=70",
    "strengthen volume=60 ec=1.2 to=1.8 stock_ec=180 capacity=80",
    "strengthen volume=60 ec=1.2 to=1.8 rise=0.18",
    "strengthen volume=60 ec=1.8 to=1.8 rise=0.18",
    "swap volume=60 ec=2.4 to=1.8",
    "swap volume=60 ec=1.4 to=1.8 stock_ec=100",
    "swap volume=60 ec=1.4 to=1.4",
    "top-up volume=45 capacity=60 ec=2.0 to=1.8 stock_ec=180",
    "top-up volume=45 capacity=60 ec=2.0 to=1.8 rise=0.18 water_ec=0.3",
    "top-up volume=45 capacity=60 ec=2.0 to=1.8 water_ec=0.3",
    "top-up volume=55 capacity=60 ec=3.0 to=1.8 water_ec=0.3",
    "top-up volume=60 capacity=60 ec=1.4 to=1.8 stock_ec=50",
    "top-up volume=60 capacity=60 ec=1.8 to=1.8",
    "bring volume=70 capacity=80 ec=2.4 to=1.8",
    "bring volume=40 capacity=80 ec=2.4 to=1.8 water_ec=0.3 rise=0.2",
    "bring volume=40 capacity=80 ec=1.4 to=1.8 water_ec=0.3 rise=0.2",
    "bring volume=80 capacity=80 ec=1.4 to=1.8 water_ec=0.3 stock_ec=200",
    "bring volume=40 capacity=80 ec=1.4 to=1.8 water_ec=0.3",
    "bring volume=40 capacity=80 ec=1.8 to=1.8 water_ec=0.3 rise=0.2",
    "blend volume=30 ec=2.4 other_volume=10 other_ec=0.4",
    "fill water=0.7 other_water=0.05 to=0.3 volume=100",
    "after-loss volume=60 ec=1.8 lost=15",
    "after-loss volume=60 ec=1.8 lost=15 uptake_ec=1.2 topup_ec=1.2",
    "build-up volume=100 start=20 water=40 topped=50,25 limit=60 ion=chloride",
    "build-up volume=100 start=20 water=0 limit=60",
    "build-up volume=100 start=70 water=10 limit=60",
    "drift ec=up ph=up level=down",
    "drift ec=up ph=erratic level=erratic",
]


def run(call):
    """Work out a call as it is typed on the command line."""
    name, *words = call.split()
    return reckon(FOUND[name], take(FOUND[name], split(words)))


def values(call):
    """Only the values of the results."""
    return {key: one.value for key, one in run(call).results.items()}


@pytest.mark.parametrize("call", [*CALLS, *(f"{one.name} {one.example}" for one in FOUND.values())])
def test_the_working_reads_well(call):
    """Lines fit a board, none is said twice, nothing is -0, a sentence ends and does not shout."""
    found = run(call)
    assert found.results
    assert found.working
    assert found.says
    assert len(set(found.working)) == len(found.working)
    assert max(map(len, found.working)) <= 100
    assert not any(re.search(r"[-−]0(\.0*)?(?![.\d])", line) for line in found.working)
    for text in (*found.says, *found.cautions):
        assert text.endswith(".")
        assert "!" not in text


@pytest.mark.parametrize("call", CALLS)
def test_a_pupil_is_never_sent_to_the_concentrates(call):
    """What takes stock or concentrate is an adult's; what takes solution out says where it may go."""
    do = run(call).do
    if do is None:
        return
    assert do.caution or "meter" in run(call).results["verdict"].value
    if "concentrate" in do.what or "stock" in do.what:
        assert do.who == "adult"
    elif "ake" in do.what and "out" in do.what:
        assert "drain or a pond" in do.caution


@pytest.mark.parametrize(
    ("call", "line"),
    [
        ("dilute volume=60 ec=2.4 to=1.8 water_ec=0.3", "= 60 × (2.4 − 1.8) ÷ (1.8 − 0.3) = 24.00 L"),
        ("dilute volume=60 ec=2.4 to=1.8 water_ec=0.3", "check: (60 × 2.4 + 24 × 0.3) ÷ 84 = 1.80 mS/cm"),
        ("dilute volume=60 ec=2.4 to=1.8", "taken: water_ec = 0 mS/cm"),
        ("strengthen volume=60 ec=1.2 to=1.8 stock_ec=180", "= 60 × (1.8 − 1.2) ÷ (180 − 1.8) = 0.202 L"),
        ("strengthen volume=60 ec=1.2 to=1.8 rise=0.18", "= 60 × (1.8 − 1.2) ÷ 0.18 = 200 mL"),
        ("swap volume=60 ec=2.4 to=1.8 water_ec=0.3", "= 60 × (2.4 − 1.8) ÷ (2.4 − 0.3) = 17.14 L"),
        ("bring volume=70 capacity=80 ec=2.4 to=1.8 water_ec=0.3", "take out = 70 − 57.14 L = 12.86 L"),
        ("after-loss volume=60 ec=1.8 lost=15 uptake_ec=1.2", "= (1.8 × 60 − 1.2 × 15) ÷ 45 = 2.00 mS/cm"),
        ("build-up volume=100 start=20 water=40 limit=60", "= (60 − 20) × 100 ÷ 40 = 100.0 L"),
    ],
)
def test_the_working_puts_the_values_in(call, line):
    """A class finds its own numbers in the working."""
    assert line in run(call).working


@pytest.mark.parametrize(
    ("call", "found"),
    [
        ("dilute volume=60 ec=2.4 to=1.8 water_ec=0.3 capacity=84", {"water": 24.0, "verdict": "fits"}),
        (
            "dilute volume=60 ec=2.4 to=1.8 water_ec=0.3 capacity=70",
            {"water": 24.0, "verdict": "does not fit", "take_out": 10.0, "fill": 20.0},
        ),
        ("dilute volume=60000mL ec=2400µS/cm to=18cf water_ec=0.3", {"water": 24.0, "volume": 84.0}),
        (
            "top-up volume=45 capacity=60 ec=2.0 to=1.8 rise=0.18 water_ec=0.3",
            {"water": 15.0, "concentrate": 75.0, "take_out": 0.0, "topup_ec": 1.2},
        ),
        ("top-up volume=45 capacity=60 ec=2.0 to=1.8 water_ec=0.3", {"water": 15.0, "ec": 1.575, "topup_ec": 1.2}),
        ("top-up volume=55 capacity=60 ec=3 to=1.8 water_ec=0.3", {"take_out": 21.667, "water": 26.667, "ec": 1.8}),
        ("bring volume=40 capacity=80 ec=2.4 to=1.8 water_ec=0.3", {"plan": "add water", "water": 16.0, "volume": 56}),
        (
            "bring volume=70 capacity=80 ec=2.4 to=1.8 water_ec=0.3",
            {"plan": "take out, then fill", "take_out": 12.857, "water": 22.857, "ec": 1.8, "volume": 80},
        ),
        (
            "bring volume=40 capacity=80 ec=1.4 to=1.8 water_ec=0.3 rise=0.2",
            {"plan": "fill up and feed", "water": 40.0, "concentrate": 380.0},
        ),
        (
            "bring volume=40 capacity=80 ec=1.4 to=1.8 water_ec=0.3",
            {"plan": "concentrate needed", "missing": 0.4},
        ),
        ("fill water=0.7 other_water=0.05 to=0.3 volume=100", {"share": 0.385, "litres": 38.462}),
        ("build-up volume=100 start=20 water=40 topped=50,75 limit=60", {"verdict": "over the limit"}),
        ("build-up volume=100 start=20 water=0 limit=60", {"topup_to_limit": "never"}),
    ],
)
def test_what_comes_out(call, found):
    """The results are there by name, whatever unit was typed."""
    out = values(call)
    for key, value in found.items():
        assert out[key] == (value if isinstance(value, str) else pytest.approx(value, abs=0.001))


@pytest.mark.parametrize(
    ("call", "says"),
    [
        ("dilute volume=60 ec=1.2 to=1.8", "use strengthen, not dilute"),
        ("dilute volume=60 ec=1.2 to=0.3 water_ec=0.4", "the water must be weaker than what is wanted"),
        ("dilute volume=60 ec=1.2 to=1 capacity=50", "60 L are more than the 50 L that the tank holds"),
        ("dilute volume=0 ec=1.2 to=1", "it must be more than 0 L"),
        ("dilute volume=60 ec=1200ppm to=1", "ppm500, ppm640 or ppm700"),
        ("strengthen volume=60 ec=1.8 to=1.2 rise=0.2", "use dilute, not strengthen"),
        ("strengthen volume=60 ec=1.2 to=1.8", "needs stock_ec"),
        ("strengthen volume=60 ec=1.2 to=1.8 stock_ec=100 rise=0.1", "give one of them"),
        ("strengthen volume=60 ec=1.2 to=1.8 stock_ec=3 capacity=60", "do not fit"),
        ("swap volume=60 ec=1.2 to=1.8", "give stock_ec"),
        ("swap volume=60 ec=1.2 to=0.3 water_ec=0.4", "impossible"),
        ("top-up volume=61 capacity=60 ec=1.2 to=1.8", "more than the 60 L"),
        ("top-up volume=30 capacity=60 ec=1.2 to=0.3 water_ec=0.4", "impossible"),
        ("bring volume=40 capacity=80 ec=1.4 to=0.3 water_ec=0.4", "^impossible"),
        ("fill water=0.7 other_water=0.05 to=0.8", "must lie between the two"),
        ("after-loss volume=60 ec=1.8 lost=60", "something has to be left"),
        ("after-loss volume=60 ec=1.8 lost=55 uptake_ec=2.2", "more salt"),
        ("build-up volume=100 start=20 water=40", "needs topped"),
        ("drift ec=rising ph=up level=up", "it is one of up, down, steady, erratic"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(call, says):
    """A combination that cannot be says what would be right."""
    with pytest.raises(ValueError, match=says) as caught:
        run(call)
    assert "\n" not in str(caught.value)


def test_a_plan_is_told_step_by_step():
    """Each step says what the tank then has; what will not do is told with its reason."""
    says = run("bring volume=70 capacity=80 ec=2.4 to=1.8 water_ec=0.3").says
    assert says[0] == "1. Take out 12.9 L: the EC is then 2.40 mS/cm and the tank holds 57.1 L."
    assert says[1] == "2. Add 22.9 L of water: the EC is then 1.80 mS/cm and the tank holds 80 L."
    assert says[-1].startswith(
        "Not possible: water alone: 10 L up to the mark bring the EC to 2.14 mS/cm, not there yet"
    )


def test_acid_comes_with_its_caution():
    """Where the pH rises an adult's acid is named, and so is its danger; nowhere else."""
    assert any("never the other way round" in one for one in run("drift ec=down ph=up level=down").cautions)
    assert not any("cid" in one for one in run("drift ec=down ph=down level=down").cautions)


def test_names_and_keys_are_clear():
    """No two reckonings here share a name, and no key means two fields."""
    names = [name for one in FOUND.values() for name in (one.name, *one.others)]
    assert len(set(names)) == len(names)
    for one in FOUND.values():
        keys = [key for field in one.fields for key in (field.key, *field.others)]
        assert len(set(keys)) == len(keys), one.name


@pytest.mark.parametrize(
    "call",
    [
        "strengthen volume=60 ec=1.2 to=1.8 stock_ec=180",
        "bring volume=60 capacity=80 ec=1.7 to=1.8 stock_ec=180 water_ec=1.7",
        "top-up volume=45 capacity=60 ec=2.0 to=1.8 stock_ec=180",
        "swap volume=60 ec=1.4 to=1.8 stock_ec=100",
    ],
)
def test_the_two_parts_of_a_stock_go_in_one_after_the_other(call):
    """Half of it A, stirred in, then as much B; the job says so as well, for undiluted they make a paste."""
    found = run(call)
    half = re.compile(r"(\S+ m?L) of stock A, stir it in well, then (\S+ m?L) of stock B")
    for text in (" ".join(found.says), found.do.what):
        parts = half.search(text)
        assert parts, text
        assert parts[1] == parts[2]
        litres = float(parts[1].split()[0]) / (1000 if parts[1].endswith("mL") else 1)
        assert 2 * litres == pytest.approx(found.results["stock"].value, rel=0.01)
    assert "both parts" not in " ".join(found.says)


def test_what_concentrates_do_to_the_level_is_said():
    """Two parts of 200 mL each are 400 mL that the volume leaves out."""
    said = run("strengthen volume=60 ec=1.2 to=1.8 rise=180uS/cm").says
    assert "A and B together raise the level by 400 mL, which this sum leaves out." in said


@pytest.mark.parametrize(
    ("call", "verdict", "missing"),
    [
        ("top-up volume=15 capacity=60 ec=2 to=2", "too weak", 1.5),
        ("top-up volume=60 capacity=60 ec=1 to=2", "too weak", 1.0),
        ("top-up volume=15 capacity=60 ec=2 to=2 stock_ec=200", "right", None),
        ("top-up volume=45 capacity=60 ec=2.4 to=1.8", "right", None),
    ],
)
def test_a_top_up_without_feed_has_a_verdict(call, verdict, missing):
    """What water alone leaves missing is a result, the first thing said, and a line of the working."""
    found = run(call)
    assert found.results["verdict"].value == verdict
    if missing is None:
        assert "missing" not in found.results
    else:
        assert found.results["missing"].value == pytest.approx(missing)
        assert found.says[0].startswith("Water alone leaves it too weak")
        assert any(line.startswith("missing = ") for line in found.working)


def test_ec_in_ppm_needs_its_scale_once():
    """One scale counts for all of them."""
    found = values("dilute volume=60 ec=1200ppm to=900ppm scale=500")
    assert found == pytest.approx(values("dilute volume=60 ec=2.4 to=1.8"))


@pytest.mark.parametrize("call", CALLS)
def test_every_result_has_words(call):
    """Nothing is shown by its raw key."""
    assert all(one.says for one in run(call).results.values())
