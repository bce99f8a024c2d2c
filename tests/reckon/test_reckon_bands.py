"""The face of what crops want: whose figures, the range for all, the verdict on a reading."""

import shlex

import pytest

from walkabout.growing.bands_published import load
from walkabout.reckon.bands import RECKONINGS, SETS
from walkabout.reckon.read import reckon, split, take

(BANDS,) = RECKONINGS


def run(call):
    """Work out a call as it is typed on the command line."""
    return reckon(BANDS, take(BANDS, split(shlex.split(call))))


def values(call):
    """Only the values of the results."""
    return {key: one.value for key, one in run(call).results.items()}


@pytest.mark.parametrize(
    ("call", "found"),
    [
        ("crop=lettuce,basil ec=1.5", {"ec_verdict": "in range", "ec_low": 1.2, "ec_high": 1.6}),
        ("crop=lettuce,basil ec=1.7", {"ec_verdict": "high"}),
        ("crop=basil ec=1.8", {"ec_verdict": "high"}),
        ("crop=basil ec=1.8 follow=trade", {"ec_verdict": "in range", "ec_low": 1.6, "ec_high": 2.2}),
        ("crop=basil ec=1.8 source=osu", {"ec_verdict": "high"}),
        (
            "crop=lettuce ec=1.6 follow=Cornell water_ec=0.4",
            {"ec_verdict": "in range", "ec_low": 1.55, "ec_high": 1.65},
        ),
        ("crop='lettuce raft' ec=1.2", {"ec_verdict": "in range"}),
        ("crop=lettuce ec=1800µS/cm", {"ec_verdict": "in range"}),
        ("crop=lettuce ec=3cf", {"ec_verdict": "low"}),
        ("crop=dill ec=3.5 follow=research", {"ec_verdict": "in range"}),
        (
            "crop=pak-choi,mint ph=6.5",
            {"ph_verdict": "suits neither", "ph_least": 7.0, "ph_most": 6.0, "ph_compromise": 6.5},
        ),
        ("crop=pak-choi,mint ph=7", {"ph_verdict": "high"}),
        ("crop=pak-choi,mint ph=6", {"ph_verdict": "low"}),
        ("crop=spinach solution=23 air=64F rh=60", {"solution_verdict": "high", "air_verdict": "in range"}),
        ("crop=basil dli=8 hours=15", {"dli_verdict": "low", "hours_verdict": "in range"}),
        ("crop=strawberry ph=6.1", {"ph_verdict": "high"}),
        ("crop=lettuce,lettuce ec=1.5", {"ec_low": 1.2, "ec_high": 1.8}),
    ],
)
def test_verdicts(call, found):
    """A reading is judged against the range of all that drink together, by the figures that are followed."""
    out = values(call)
    assert {key: out[key] for key in found} == found


def test_only_what_was_read_is_answered():
    """With readings only those are answered; with none, all that the crop wants is shown without a verdict."""
    assert set(values("crop=lettuce ec=1.5")) == {"ec_verdict", "ec_low", "ec_high"}
    everything = values("crop=lettuce")
    assert not any(key.endswith("verdict") for key in everything)
    assert {"ec_low", "ph_low", "solution_low", "air_low", "night_low", "rh_low", "dli_low", "hours_low"} <= set(
        everything
    )


def test_the_other_source_is_said():
    """Where sources conflict the verdict names whose figure it follows, and what the other would say."""
    says = run("crop=basil ec=1.8").says
    assert says[0].startswith("EC 1.8 mS/cm is high; for basil: 1.0 to 1.6 mS/cm (OSU HLA-6722).")
    assert "By charts of the trade, basil: 1.6 to 2.2 mS/cm (follow=trade), so 1.8 mS/cm is in range." in says
    assert any("trial at pH 7.0" in one for one in run("crop=lettuce ph=6.8").says)
    assert any("above the water" in one for one in run("crop=lettuce ec=1.5").says)
    assert any("soft target" in one for one in run("crop=dill ec=3").says)


def test_a_set_without_the_figure_says_what_it_took():
    """A set that has nothing for a crop gives way to the crop table, and says so."""
    assert "Cornell has no EC for rose: OSU HLA-6722 is followed instead." in run("crop=rose ec=2 follow=Cornell").says


def test_one_figure_is_not_held_against_a_pen():
    """A table that prints one pH calls 6.1 high, yet says that it is as near as a pen can tell; no job, no acid."""
    found = run("crop=strawberry ph=6.1")
    assert "as near as a pen can tell" in found.says[0]
    assert (found.do, found.cautions) == (None, ())
    assert "acid" in run("crop=strawberry ph=6.3").cautions[0]


@pytest.mark.parametrize(
    ("call", "who", "what"),
    [
        ("crop=lettuce ec=2.1 ph=6.5", "pupil", "Bring the EC down to 1.8 mS/cm with water"),
        ("crop=lettuce ec=0.9", "adult", "Bring the EC up to 1.2 mS/cm"),
        ("crop=lettuce ph=7.4", "adult", "Bring the solution to pH 7.0"),
    ],
)
def test_what_is_out_of_range_becomes_a_job(call, who, what):
    """Water is a pupil's, concentrate and acid are an adult's, each with its caution."""
    found = run(call)
    assert (found.do.who, found.do.what) == (who, what)
    assert found.do.caution in found.cautions


def test_in_range_needs_nobody():
    """A reading that is right asks for nothing and warns of nothing."""
    found = run("crop=lettuce ec=1.5 ph=6.2")
    assert (found.do, found.cautions) == (None, ())


@pytest.mark.parametrize(
    ("call", "says"),
    [
        ("crop=lettuse ec=1", "no crop is called 'lettuse': did you mean lettuce"),
        ("crop=coleus ec=1", "no figure is known for coleus: EC"),
        ("crop=basil lux=9000", "bands takes no 'lux': it takes crop"),
        ("crop=basil dli=9000lx", "is not in mol/m²/d"),
        ("crop=basil ec=900ppm", "ppm500, ppm640 or ppm700"),
        ("crop=basil ph=15", "it must be at most pH 14"),
        ("crop=, ec=1", "needs the name of a crop"),
        ("crop=basil follow=nobody", "there is no 'nobody' here"),
    ],
)
def test_what_cannot_be_is_refused(call, says):
    """One sentence says what would be right; lux is never taken for daily light."""
    with pytest.raises(ValueError, match=says):
        run(call)


def test_what_is_not_known_of_one_quantity_is_said_beside_the_rest():
    """Bedding plants have a pH and no EC: the pH is judged, the EC is said to be unknown."""
    found = run("crop=petunia ec=1 ph=6")
    assert set(found.results) == {"ph_verdict", "ph_low", "ph_high"}
    assert found.says[-1] == "No figure is known for the EC."


def test_every_set_can_be_followed():
    """The words of the field are the sets of the file, and the crop table."""
    assert set(SETS) == {"table", *load().sets}
    assert values("crop=basil follow=table") == values("crop=basil")


@pytest.mark.parametrize(
    "call", ["crop=lettuce,basil", "crop=pak-choi,mint ph=6.5", "crop='raft lettuce' ec=1.2 ph=5.8"]
)
def test_the_working_fits_the_board(call):
    """Lines of the working are short; sentences end and do not shout."""
    found = run(call)
    assert max(map(len, found.working)) <= 100
    assert all(text.endswith(".") and "!" not in text for text in found.says)


@pytest.mark.parametrize(
    ("call", "names"),
    [
        ('crop="lettuce, floating raft" ec=1.2', ("lettuce on rafts",)),
        ('crop="lettuce, floating raft, basil" ec=1.2', ("lettuce on rafts", "basil")),
        ('crop="basil, lettuce, floating raft" ec=1.2', ("basil", "lettuce on rafts")),
        ('crop="lettuce, basil" ec=1.2', ("lettuce", "basil")),
    ],
)
def test_a_comma_may_belong_to_a_name(call, names):
    """Tables write the kind of a crop behind a comma."""
    assert tuple(line.partition(":")[0] for line in run(call).working if "(" in line) == names
