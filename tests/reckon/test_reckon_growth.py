"""The reckonings of growing up and of room, as they are typed; and what all of growth must keep to."""

import re
import time

import pytest

from walkabout.reckon import degree_days, growth, sowing, spacing, yields
from walkabout.reckon.model import Reckoned
from walkabout.reckon.read import reckon, split, take

ALL = (
    *degree_days.RECKONINGS,
    *growth.RECKONINGS,
    *sowing.RECKONINGS,
    *spacing.RECKONINGS,
    *yields.RECKONINGS,
)
OF = {one.name: one for one in ALL}


def worked(name: str, *words: str) -> Reckoned:
    """Work out a reckoning as it is typed."""
    return reckon(OF[name], take(OF[name], split(words)))


@pytest.mark.parametrize("one", ALL, ids=[one.name for one in ALL])
def test_examples_work_and_fit(one: object) -> None:
    """Each example works, is quick when warm, has a source, a sentence, and lines that fit a board."""
    name, example = one.name, one.example.split()  # type: ignore[attr-defined]
    found = worked(name, *example)
    taken = take(OF[name], split(example))
    start = time.perf_counter()
    for _ in range(20):
        reckon(OF[name], taken)
    assert (time.perf_counter() - start) / 20 < 0.01
    assert found.source
    assert found.says
    assert found.working
    assert all(len(line) <= 100 for line in found.working)
    assert not any("-0" in line and "2026" not in line for line in found.working)
    assert OF[name].subject == "growth"


def test_names_and_keys_are_their_own() -> None:
    """No name, and within a reckoning no key, stands for two things."""
    names = [name for one in ALL for name in (one.name, *one.others)]
    assert len(names) == len(set(names))
    for one in ALL:
        keys = [key for field in one.fields for key in (field.key, *field.others)]
        assert len(keys) == len(set(keys)), one.name


@pytest.mark.parametrize(
    ("crop", "temperature", "days", "verdict"),
    [
        ("lettuce", "20", 3, "printed"),
        ("lettuce", "59F", 4.2, "between"),
        ("Tomato", "20", 8.4, "between"),
        ("snap_bean", "30", 6, "printed"),
        ("bean", "35", 6, "printed"),
        ("dwarf tomato", "15", 14, "printed"),
        ("carrot", "20", 7, "printed"),
    ],
)
def test_emergence(crop: str, temperature: str, days: float, verdict: str) -> None:
    """Days until seedlings show, printed or read between, with how they were found."""
    found = worked("emergence", f"crop={crop}", f"temperature={temperature}")
    assert float(found.results["days"].value) == pytest.approx(days, abs=0.05)
    assert found.results["verdict"].value == verdict
    assert "Harrington and Minges" in found.source
    assert f"{days:.1f}".rstrip("0").rstrip(".") in found.working[-2] + found.working[-1]


def test_where_nothing_came_up() -> None:
    """None is said as none, and next to it nothing is promised but a bound."""
    none = worked("emergence", "crop=lettuce", "temperature=35")
    assert none.results["days"].value == "none"
    assert any("no lettuce came up" in line for line in none.says)
    unsure = worked("emergence", "crop=lettuce", "temperature=33")
    assert unsure.results["days"].value == "not known"
    assert float(unsure.results["at_least"].value) == pytest.approx(3)
    assert any("a little warmer than this none came up" in line for line in unsure.says)


def test_few_sound_seedlings_are_pointed_out() -> None:
    """Lettuce at 30 °C shows in 3 days, but only 12 seeds in 100 come up right."""
    hot = worked("emergence", "crop=lettuce", "temperature=30")
    assert hot.results["sound_low"].value == hot.results["sound_high"].value == 12
    assert any("12 in 100" in line for line in hot.says)
    assert not any("Few come up" in line for line in worked("emergence", "crop=lettuce", "temperature=20").says)


def test_two_printings_of_one_table() -> None:
    """Whose figure is followed for hot beans is said, and the other can be chosen."""
    assert any("another none" in line for line in worked("emergence", "crop=bean", "temperature=35").says)
    other = worked("emergence", "crop=bean", "temperature=35", "printing=none")
    assert other.results["days"].value == "none"
    assert "sound_low" not in other.results
    assert not any("another none" in line for line in worked("emergence", "crop=bean", "temperature=20").says)


def test_emergence_from_the_crop_table() -> None:
    """A crop that the table of temperatures lacks has its days from the crop table, at 20 to 25 °C alone."""
    found = worked("emergence", "crop=basil", "temperature=22")
    assert [float(found.results[name].value) for name in ("days", "days_low", "days_high")] == [7.5, 5, 10]
    with pytest.raises(ValueError, match="20 to 25 °C only"):
        worked("emergence", "crop=basil", "temperature=15")


def test_stages_in_days_and_dates() -> None:
    """From sowing day to harvest days, as numbers and as dates across a leap day."""
    found = worked("stages", "crop=raft-lettuce", "sown=2024-02-20")
    assert next(iter(found.results)) == "harvest_from"
    assert found.results["harvest_from"].value == found.results["harvest_to"].value == "2024-03-26"
    assert found.results["move_on_from"].value == "2024-03-02"
    assert found.results["harvest_low"].value == 35
    assert any("Tue 26 Mar 2024" in line for line in found.says)
    days = worked("stages", "crop=raft-lettuce")
    assert next(iter(days.results)) == "harvest_low"
    assert "harvest_from" not in days.results
    assert any("allergies" in line for line in found.cautions)


def test_stages_by_warmth() -> None:
    """Warm air brings the earliest day down by the degrees above the base, and the working shows the factor."""
    found = worked("stages", "crop=lettuce", "air=20")
    assert float(found.results["harvest_low"].value) == pytest.approx(41 * 17.25 / 20)
    assert float(found.results["harvest_high"].value) == 60
    assert float(found.results["emergence_low"].value) == pytest.approx(3)
    assert "factor = (17.25 − 0) ÷ (20 − 0) = 0.863" in found.working
    assert any("rule of thumb" in line for line in found.says)
    assert any("Perhaps faster" in line for line in found.says)
    cool = worked("stages", "crop=lettuce", "air=10")
    assert float(cool.results["harvest_high"].value) == pytest.approx(60 * 17.25 / 10)
    assert any("Slower" in line for line in cool.says)
    assert any("Too warm" in line for line in worked("stages", "crop=lettuce", "air=30").says)
    hot = worked("stages", "crop=lettuce", "air=35")
    assert any("not known; sown at 20 to 25 °C" in line for line in hot.working)
    basil = worked("stages", "crop=basil", "air=20")
    assert float(basil.results["emergence_low"].value) == pytest.approx(5 * (22.5 - 10.9) / (20 - 10.9))


def test_flowers_are_not_a_harvest() -> None:
    """What is not eaten flowers, and carries its own caution alone."""
    found = worked("stages", "crop=rapid-brassica", "sown=2026-01-12")
    assert found.results["harvest_from"].says == "flowers, from"
    assert found.results["seed_from"].value == "2026-02-16"
    assert found.cautions == ("Grown for the life cycle, not for eating.",)


@pytest.mark.parametrize(
    ("name", "words", "says"),
    [
        ("emergence", "crop=lettuce temperature=45", "tested from 0 to 40 °C"),
        ("emergence", "crop=raddish temperature=20", "did you mean radish"),
        ("emergence", "crop=zzz temperature=20", "the crop table has no 'zzz'"),
        ("emergence", "crop=pothos temperature=20", "no days to emergence"),
        ("stages", "crop=pothos", "no days from sowing"),
        ("stages", "crop=tomato air=10", "hardly develops"),
        ("stages", "crop=lettuce air=4", "harmed by the cold"),
        ("spacing", "spacing=20 plants=3.5", "whole ones: write 4"),
        ("stages", "crop=tomato sown=2026-02-30", "is no day"),
        ("stages", "crop=tomato sown=9999-12-01", "outside the calendar"),
        ("spacing", "plants=3", "area= and plants="),
        ("spacing", "spacing=20 density=30", "not both"),
        ("spacing", "spacing=20 rows=30 pattern=triangle", "leave rows= out"),
        ("spacing", "spacing=20 length=60", "both length= and width="),
        ("spacing", "spacing=20 length=60 width=30 area=1", "not both"),
    ],
)
def test_refusals(name: str, words: str, says: str) -> None:
    """What cannot be worked out is refused in one sentence that says what would be right."""
    with pytest.raises(ValueError, match=says) as caught:
        worked(name, *words.split())
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("words", "result", "value"),
    [
        ("spacing=20", "density", 25),
        ("spacing=20 pattern=triangle", "density", 28.8675),
        ("spacing=20 pattern=staggered", "rows", 17.3205),
        ("spacing=15 rows=30", "density", 22.2222),
        ("spacing=8in", "density", 24.2188),
        ("crop=lettuce area=1.2", "plants", 30),
        ("spacing=20 length=120 width=60", "plants", 18),
        ("spacing=20 length=120 width=60 pattern=triangle", "plants", 17),
        ("spacing=20 plants=30", "area_needed", 1.2),
        ("density=38", "spacing", 16.2221),
        ("area=1 plants=38", "spacing", 16.2221),
        ("area=1 plants=38 pattern=triangle", "spacing", 17.4319),
    ],
)
def test_spacing(words: str, result: str, value: float) -> None:
    """Plants for a room, room for plants, and the spacing between."""
    found = worked("spacing", *words.split()).results[result]
    assert float(found.value) == pytest.approx(value, abs=1e-3)


def test_too_many_plants() -> None:
    """A verdict says whether so many plants fit."""
    assert worked("spacing", "crop=lettuce", "area=1", "plants=25").results["verdict"].value == "fits"
    crowded = worked("spacing", "crop=lettuce", "area=1", "plants=26")
    assert crowded.results["verdict"].value == "too many"
    assert any("25 fit" in line for line in crowded.says)
    assert next(iter(crowded.results)) == "plants"


@pytest.mark.parametrize(
    ("words", "results"),
    [
        ("dli=17 days=35", {"photons": 595, "efficiency": 28.0486, "mass": 16.689}),
        ("ppfd=200 hours=16 days=29 efficiency=29", {"mass": 9.688, "photons": 334.08}),
        ("ppfd=200 photoperiod=16 days=29", {"mass": 9.688}),
        ("ppfd=750 hours=16 days=29", {"mass": 26.309}),
        ("crop=romaine ppfd=400 days=10", {"mass": 6.2208, "efficiency": 27}),
        ("dli=10 days=20 efficiency=25 area=2", {"mass": 5, "total": 10}),
        ("dli=10 days=20 efficiency=25 area=2 plants=50", {"per_plant": 200}),
        ("dli=10 days=20 efficiency=25 density=25", {"per_plant": 200}),
        ("crop=basil dli=12 days=30", {"photons": 360}),
        ("crop=basil dli=12 days=30 efficiency=20", {"mass": 7.2}),
        ("dli=11.52 ppfd=200 hours=16 days=29", {"mass": 9.688}),
    ],
)
def test_yield(words: str, results: dict[str, float]) -> None:
    """Light in all, and the fresh mass of a closed canopy."""
    found = worked("yield", *words.split())
    for name, value in results.items():
        assert float(found.results[name].value) == pytest.approx(value, abs=2e-3)
    assert any("allergies" in line for line in found.cautions)
    if "mass" in found.results:
        assert next(iter(found.results)) == "mass"
        assert any("cover the whole area" in line for line in found.says)


def test_yield_says_where_it_guesses() -> None:
    """Outside the trial's light, for other crops and for impossible heads it says so."""
    assert any("a guess" in line for line in worked("yield", "ppfd=100", "days=20").says)
    assert "mass" not in worked("yield", "crop=basil", "dli=12", "days=30").results
    assert any("150 g a head" in line for line in worked("yield", "dli=17", "days=20").says)


def test_no_head_heavier_than_heads_are() -> None:
    """Counted from sowing, 439 g a head would come out: it is not given, and the warning comes first."""
    found = worked("yield", "dli=17", "days=35", "plants=38", "area=1")
    assert "per_plant" not in found.results
    assert "150 g a head in 35 days" in found.says[0]
    assert "Too much to be true" in found.says[1]
    assert "one plant = 16689 g/m² ÷ 38 plants/m² = 439 g" in found.working


def test_light_given_twice_is_joined_by_its_hours() -> None:
    """Daily light and light on the leaves need so many hours a day; more than 24 there are not."""
    found = worked("yield", "dli=17", "ppfd=300", "days=20", "efficiency=20")
    assert "hours = 17 ÷ (300 × 0.0036) = 15.7 h" in found.working


@pytest.mark.parametrize("tenths", range(105, 350, 7))
def test_printed_rates_give_the_printed_days(tenths: int) -> None:
    """Whoever divides the rate on the board gets the days on the board."""
    for line in worked("emergence", "crop=tomato", f"temperature={tenths / 10}").working:
        found = re.fullmatch(r"days = 1 ÷ ([\d.]+) = ([\d.]+) days", line)
        if found:
            assert abs(1 / float(found[1]) - float(found[2])) < 0.0501
            break
    else:
        assert tenths % 50 == 0, "a temperature between two rows has its line"


@pytest.mark.parametrize(
    ("words", "gain"),
    [("", 16.0), ("crop=mizuna", 18.7), ("hours=20 to=10", -13.793), ("crop=mizuna hours=12 to=16", 7.2103)],
)
def test_longer_day(words: str, gain: float) -> None:
    """The published gain from 10 to 20 h, and a straight line between."""
    found = worked("longer-day", *words.split())
    assert float(found.results["gain"].value) == pytest.approx(gain, abs=1e-3)
    assert "Palmer" in found.source
    assert f"× 100 = {gain:.1f} %".replace("-", "−") in found.working[-1]
    assert found.results["gain"].says == "change of shoot mass"


@pytest.mark.parametrize(
    ("name", "words", "says"),
    [
        ("yield", "days=20", "give dli="),
        ("yield", "dli=17 ppfd=200 hours=16 days=20", "does not fit"),
        ("yield", "dli=17 ppfd=100 days=20", "at most 8.64"),
        ("yield", "dli=17 days=20 plants=3.5 area=1", "whole ones: write 4"),
        ("yield", "dli=17 days=20 plants=20", "give area= too"),
        ("yield", "dli=17 hours=0 days=20", "no light"),
        ("longer-day", "crop=basil", "lettuce and mizuna only"),
        ("longer-day", "to=22", "at most 20 h"),
    ],
)
def test_light_refusals(name: str, words: str, says: str) -> None:
    """Light that does not add up is refused in words."""
    with pytest.raises(ValueError, match=says):
        worked(name, *words.split())
