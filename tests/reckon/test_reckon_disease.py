"""The reckonings of disease: verdicts, whose figures they follow, and what they refuse."""

import shlex

import pytest

from walkabout.reckon import disease, disease_weather, roots
from walkabout.reckon.model import Reckoned
from walkabout.reckon.read import reckon, split, take

KNOWN = {one.name: one for module in (disease, disease_weather, roots) for one in module.RECKONINGS}
FULL_DAY = "air=" + ",".join(["18"] * 8 + ["24"] * 16) + " rh=" + ",".join(["95"] * 8 + ["60"] * 16)


def work(line: str) -> Reckoned:
    """Work out what is typed behind the command."""
    name, *words = shlex.split(line)
    return reckon(KNOWN[name], take(KNOWN[name], split(words)))


@pytest.mark.parametrize("name", KNOWN)
def test_every_example_works(name):
    """The example gives results with a source, sentences, and working that fits a narrow screen."""
    done = work(f"{name} {KNOWN[name].example}")
    assert done.results
    assert done.source
    assert all(line[-1] in ".?" for line in done.says)
    assert max(map(len, done.working)) <= 76


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("infection disease='downy mildew' air=20 wet=1 crop=cucumber", "no infection expected"),
        ("infection disease=downy-mildew air=20 wet=2", "possible"),
        ("infection disease=downy-mildew air=18 wet=6h", "high"),
        ("infection disease=downy-mildew air=31 wet=12", "no infection expected"),
        ("infection disease='grey mould' air=20 wet=24", "high"),
        ("infection disease=botrytis air=28 wet=24 crop=strawberry", "much reduced"),
        ("infection disease='gray mold' air=18 wet=10 rh=92", "conditions met"),
        ("infection disease='grey mould' air=18 wet=2 rh=70", "conditions not met"),
        ("infection disease='grey mould' air=18 wet=10 rh=90 follow=greenhouse-93", "conditions not met"),
        ("infection disease='grey mould' air=18 wet=24 rh=92 follow=flowers", "high"),
        ("infection disease='powdery mildew' air=25 rh=96", "favourable"),
        ("infection disease='powdery mildew' air=53.6F rh=96", "unfavourable"),
        ("infection disease='powdery mildew' air=22 rh=60 follow=podosphaera", "unfavourable"),
        ("infection disease='powdery mildew' air=12 rh=95 crop=tomato", "favourable"),
        ("infection disease=any air=20 rh=92", "favourable"),
        ("damping-off temperature=31 crop=tomato", "high"),
        ("damping-off temperature=15 crop=rye", "no damage in the study"),
        ("damping-off soil=20 crop=basil", "low"),
        ("root-zone temperature=19 crop=spinach", "in range"),
        ("root-zone temperature=22 crop=spinach", "warm"),
        ("root-zone temperature=25 crop=basil", "too warm"),
        ("root-zone temperature=25 follow=cornell", "in range"),
    ],
)
def test_verdicts(line, word):
    """The chief result is the verdict, and the working ends in it."""
    done = work(line)
    assert next(iter(done.results)) == "verdict"
    assert done.results["verdict"].value == word
    assert any(word in step for step in done.working)


@pytest.mark.parametrize(
    ("temperature", "risk"), [(20, "low"), (20.5, "raised"), (23, "raised"), (23.5, "high")], ids=str
)
def test_risk_at_the_roots(temperature, risk):
    """To 20 °C low, to 23 °C raised, above high."""
    assert work(f"root-zone temperature={temperature}").results["pythium_risk"].value == risk


def test_the_crop_has_its_own_say_at_the_roots():
    """What the crop table gives for the solution stands beside the risk; a crop it lacks is said, not refused."""
    assert work("root-zone temperature=22 crop=spinach").results["crop_verdict"].value == "too warm"
    assert "crop_verdict" not in work("root-zone temperature=22 crop=nonesuch").results
    assert any("did you mean spinach" in line for line in work("root-zone temperature=22 crop=spinich").says)


def test_whose_figures_is_shown():
    """With a humidity the greenhouse text leads on grey mould and the study on flowers stands beside it."""
    done = work("infection disease=botrytis air=18 wet=10 rh=92")
    assert "Massachusetts" in done.source
    assert done.results["flowers"].value == "possible"
    assert "Bulger" in work("infection disease=botrytis air=18 wet=10 rh=92 follow=flowers").source
    assert any("taken: the flower study" in line for line in work("infection disease=botrytis air=18 wet=10").working)


def test_figures_of_another_crop_are_called_rough():
    """Downy mildew was measured on cucumber: for lettuce the sentence says so, for cucumber it does not."""
    assert any("rough guide" in line for line in work("infection disease=downy-mildew air=18 wet=6 crop=lettuce").says)
    assert not any("rough" in line for line in work("infection disease=downy-mildew air=18 wet=6 crop=cucumber").says)
    assert any("No figures for basil" in line for line in work("damping-off temperature=30 crop=basil").says)


def test_alarming_verdicts_bring_a_job_and_a_caution():
    """A high risk asks a pupil only to air the leaves; the caution gives mouldy parts to an adult."""
    done = work("infection disease=downy-mildew air=18 wet=6")
    assert done.do is not None
    assert done.do.who == "pupil"
    assert "open the vents" in done.do.what
    assert any("adult" in line and "asthma" in line for line in done.cautions)
    calm = work("infection disease=downy-mildew air=18 wet=1")
    assert (calm.do, calm.cautions) == (None, ())


@pytest.mark.parametrize(
    ("line", "results"),
    [
        (
            f"disease-weather {FULL_DAY}",
            {
                "wet_hours": 8,
                "longest_wet": 8,
                "wet_when": "0:00 to 8:00",
                "powdery_mildew": "favourable",
                "powdery_mildew_when": "0:00 to 8:00",
                "grey_mould": "conditions met",
                "downy_mildew": "high",
            },
        ),
        (
            "disease-weather air=18 rh=95,95,80 step=1h",
            {"wet_hours": 2, "wet_when": "0:00 to 2:00", "grey_mould": "conditions not met"},
        ),
        (
            "disease-weather air=18 rh=95,60,60,60,60,95 start=20",
            {"wet_hours": 8, "wet_when": "20:00 to 24:00, 16:00 to 20:00"},
        ),
        (
            "disease-weather air=22,22 rh=85 leaf=18,22",
            {"wet_hours": 12, "wet_when": "0:00 to 12:00", "powdery_mildew": "possible"},
        ),
        ("disease-weather air=20 rh=96", {"wet_hours": 24, "wet_when": "all day", "grey_mould_hours": 24}),
        ("disease-weather air=10 rh=50", {"wet_hours": 0, "wet_when": "none", "powdery_mildew": "unfavourable"}),
        (
            "disease-weather air=17.5 rh=94 step=30min",
            {"wet_hours": 0.5, "wet_when": "0:00 to 0:30", "downy_mildew": "no infection expected"},
        ),
    ],
    ids=["a damp night", "three hours", "from 20:00", "cold leaf", "one reading", "dry", "half an hour"],
)
def test_a_day_of_readings(line, results):
    """Hours, spells and verdicts come out of a day's readings."""
    done = work(line)
    found = {name: done.results[name].value for name in results}
    assert found == {name: pytest.approx(one) if not isinstance(one, str) else one for name, one in results.items()}


def test_what_was_taken_for_a_day_is_said():
    """The step and the first hour, where nobody gave them."""
    said = work("disease-weather air=20,21,22 rh=60").working
    assert "taken: step = 24 h ÷ 3 = 8.00 h" in said
    assert "taken: first reading at midnight" in said
    assert not any("taken" in line for line in work("disease-weather air=20,21 rh=60 step=1 start=0").working)


def test_a_night_cut_in_two_is_said():
    """Wet at both ends of the readings: begin them at noon."""
    assert any("noon" in line for line in work("disease-weather air=18 rh=95,60,60,95").says)
    assert not any("noon" in line for line in work("disease-weather air=18 rh=60,95,95,60").says)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("infection disease=downy-mildew air=20", "downy mildew needs wet"),
        ("infection disease=botrytis air=20 rh=90", "grey mould needs wet"),
        ("infection disease=botrytis air=20 wet=9 follow=greenhouse", "needs rh"),
        ("infection disease=botrytis air=20 wet=9 follow=tomato", "for grey mould there is no 'tomato'"),
        ("infection disease=downy-mildew air=20 wet=9 follow=flowers", "there is no other source"),
        ("infection disease=any air=20", "humidity or the hours"),
        ("infection disease=rust air=20", "there is no 'rust' here"),
        ("disease-weather air=20,21 rh=50,60,70", "air has 2 values and rh has 3"),
        ("disease-weather air=20 rh=50,60,70 step=12", "more than a day: give at most 2"),
        ("damping-off temperature=60", "at most 50 °C"),
        ("root-zone temperature=60", "at most 45 °C"),
    ],
)
def test_what_cannot_be_is_refused(line, says):
    """One clear sentence says what is wrong."""
    with pytest.raises(ValueError, match=says):
        work(line)


@pytest.mark.parametrize(
    ("line", "joined"),
    [
        ("root-zone temperature=25 crop=basil", "Two things to weigh: basil likes this warmth"),
        ("root-zone temperature=15 crop=basil", "Two things to weigh: root rot is held off, but basil wants another"),
        ("root-zone temperature=19 crop=basil", "Cool enough"),
        ("root-zone temperature=30 crop=lettuce", "Too warm"),
        ("infection disease=grey-mould air=20 wet=2 rh=70", "Two sources disagree: go by the stricter one"),
        ("infection disease=grey-mould air=20 wet=10 rh=95", "The conditions are met"),
    ],
)
def test_two_verdicts_that_part_are_joined_first(line, joined):
    """Where they do not agree, the first sentence says which counts; where they do, there is no such sentence."""
    assert work(line).says[0].startswith(joined)


def test_the_stricter_source_makes_the_job():
    """When flowers are at high risk, airing is asked for although the greenhouse text does not."""
    found = work("infection disease=grey-mould air=20 wet=20 rh=70")
    assert (found.results["verdict"].value, found.results["flowers"].value) == ("conditions not met", "high")
    assert found.do is not None
    assert found.cautions
