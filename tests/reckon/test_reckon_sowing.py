"""Sowing for a promised day, as it is typed."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import crops
from walkabout.reckon import sowing
from walkabout.reckon.amounts import promised
from walkabout.reckon.model import Reckoned
from walkabout.reckon.read import reckon, split, take

OF = {one.name: one for one in sowing.RECKONINGS}
LETTUCE = crops.load().of["lettuce"]


def worked(name: str, *words: str) -> Reckoned:
    """Work out a reckoning as it is typed."""
    return reckon(OF[name], take(OF[name], split(words)))


def sow(*words: str) -> Reckoned:
    """Work out when to sow lettuce, 35 days before 20 June 2025, with these words more."""
    return worked("sow-for", "crop=lettuce", "day=2025-06-20", "days=35", *words)


@pytest.mark.parametrize(
    ("words", "day"),
    [
        ("crop=lettuce day=2025-06-20 days=35", "2025-05-16"),
        ("crop=rapid-brassica day=2024-03-10 days=40", "2024-01-30"),
        ("crop=lettuce harvest=2025-06-20 amount=30 days=5weeks", "2025-05-16"),
        ("crop=raft-lettuce day=2025-06-20", "2025-05-16"),
        ("crop=pothos day=2025-06-20 days=35", "2025-05-16"),
        ("crop=lettuce day=2025-06-20", "2025-04-21"),
        ("crop=rapid-brassica day=2024-03-10 until=seed", "2024-01-25"),
        ("crop=rapid-brassica day=2024-03-10 until=flowers", "2024-02-25"),
        ("crop=tomato day=2025-06-20 until=move-on", "2025-05-09"),
    ],
)
def test_the_sowing_day(words: str, day: str) -> None:
    """Given days are counted back to the day; without them the slow end of the crop table is."""
    found = worked("sow-for", *words.split())
    assert next(iter(found.results)) == "sow"
    assert found.results["sow"].value == day
    assert day in "".join(found.working)


def test_plain_counting_back() -> None:
    """Days before a day, with its weekday."""
    found = worked("sowing-day", "day=2024-03-10", "days=40")
    assert found.results["sow"].value == "2024-01-30"
    assert found.results["weekday"].value == "Tue"


def test_the_span_is_said() -> None:
    """From the crop table the day at the latest stands beside the day that is safe, and which was taken."""
    found = worked("sow-for", "crop=lettuce", "day=2025-06-20")
    assert found.results["sow_latest"].value == "2025-05-10"
    assert "taken: 60 days, the slow end of 41 to 60, so that it is ready on the day" in found.working
    assert any("only if all goes fast" in line for line in found.says)
    assert found.results["move_on_from"].value == "2025-05-05"
    exact = sow()
    assert exact.results["sow_latest"].value == exact.results["sow"].value


def test_warm_air_allows_later_sowing() -> None:
    """At 20 °C lettuce needs 60 × 17.25 ÷ 20 = 51.75 days: sown on the 52nd day before."""
    found = worked("sow-for", "crop=lettuce", "day=2025-06-20", "air=20")
    assert found.results["sow"].value == (date(2025, 6, 20) - timedelta(days=52)).isoformat()
    assert any("degree days" in part for part in found.source.split(";"))


@pytest.mark.parametrize(
    ("words", "plants", "places", "count"),
    [
        ("amount=30", 30, 38, 38),
        ("amount=30 losses=0", 30, 30, 30),
        ("amount=30 losses=25", 30, 40, 40),
        ("plants=30 losses=10 germination=80", 30, 42, 42),
        ("amount=30 losses=10 germination=80 seeds=2", 30, 35, 70),
        ("amount=30 losses=0 seeds=3", 30, 30, 90),
        ("amount=3kg losses=0", 20, 20, 20),
        ("amount=1500g losses=0", 10, 10, 10),
        ("amount=1501g losses=0", 11, 11, 11),
        ("amount=1,5kg losses=0", 10, 10, 10),
        ("amount=30_portions losses=0", 16, 16, 16),
        ("amount=30_portions losses=0 portion=50 grams=100", 15, 15, 15),
    ],
)
def test_how_much_to_sow(words: str, plants: int, places: int, count: int) -> None:
    """From plants, a mass or portions to plants at harvest, to places, to seeds."""
    found = sow(*(word.replace("_portions", " portions") for word in words.split())).results
    assert [found[name].value for name in ("plants", "places", "count")] == [plants, places, count]
    assert float(found["area"].value) == pytest.approx(plants * 0.04)


@given(st.integers(1, 500), st.integers(0, 90), st.integers(10, 100), st.integers(1, 3))
@settings(max_examples=40)
def test_enough_is_sown(plants: int, losses: int, germination: int, seeds: int) -> None:
    """Whatever is lost on average, the plants promised are left."""
    words = (f"amount={plants}", f"losses={losses}", f"germination={germination}", f"seeds={seeds}")
    found = sow(*words).results
    filled = 1 - (1 - germination / 100) ** seeds
    assert float(found["places"].value) * filled * (1 - losses / 100) >= plants * (1 - 1e-9)
    assert float(found["count"].value) == float(found["places"].value) * seeds


@pytest.mark.parametrize(
    ("text", "count", "kind"),
    [
        ("30", 30, "plants"),
        ("30 heads", 30, "plants"),
        ("30 heads of lettuce", 30, "plants"),
        ("30 lettuces", 30, "plants"),
        ("12 bunches", 12, "plants"),
        ("2 kg", 2000, "grams"),
        ("1500 g", 1500, "grams"),
        ("0.5kg", 500, "grams"),
        ("8 oz", 226.796, "grams"),
        ("2 lb", 907.185, "grams"),
        ("30 portions", 30, "portions"),
        ("30 people", 30, "portions"),
        ("1 plate", 1, "portions"),
    ],
)
def test_amounts_as_people_say_them(text: str, count: float, kind: str) -> None:
    """Plants, masses and portions, in the singular or the plural, with the crop's own name or without."""
    found = promised(text, LETTUCE)
    assert found.kind == kind
    assert found.count == pytest.approx(count, abs=1e-3)


def test_what_was_taken_is_said() -> None:
    """Masses and losses that nobody gave stand in the working with how they are known."""
    found = sow("amount=30 portions")
    assert "taken: 150 g from one plant (Cornell lettuce)" in found.working
    assert "taken: 80 g for one person (from memory)" in found.working
    assert "taken: losses = 20 % from seed to harvest (assumed)" in found.working
    assert "Cornell" in found.source


def test_the_harvest_is_food() -> None:
    """What is eaten carries the rules for eating at school, and the crop's own caution; other plants do not."""
    bean = worked("sow-for", "crop=bean", "day=2025-06-20", "amount=30")
    assert "adult decides" in bean.cautions[0]
    assert "allergies" in bean.cautions[0]
    assert "raw" in bean.cautions[1]
    assert all("\n" not in line for line in bean.cautions)
    flower = worked("sow-for", "crop=marigold", "day=2025-06-20", "amount=30")
    assert not any("adult decides" in line for line in flower.cautions)


def test_it_becomes_a_job() -> None:
    """A pupil can sow; the job says what, how many and when."""
    found = sow("amount=30")
    assert found.do is not None
    assert found.do.what == "Sow 38 lettuce seeds on 2025-05-16, for 2025-06-20"
    assert found.do.who == "pupil"


def test_a_weekend_is_pointed_out() -> None:
    """2025-05-18 is a Sunday: sow on the Friday before."""
    assert any("weekend" in line for line in worked("sow-for", "crop=lettuce", "day=2025-06-22", "days=35").says)
    assert not any("weekend" in line for line in sow().says)


def test_seedlings_by_the_thousand_are_weighed() -> None:
    """Nobody counts 5000 cress seeds."""
    found = worked("sow-for", "crop=cress", "day=2025-06-20", "amount=100g")
    assert float(found.results["count"].value) == 5000
    assert any("Weigh 100 seeds" in line for line in found.says)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("amount=3~trays", "not clear"),
        ("amount=some", "not clear"),
        ("amount=0", "more than nothing"),
        ("amount=-3", "more than nothing"),
        ("losses=10", "give amount= too"),
        ("amount=30 air=20", "leave air= out"),
        ("amount=30 losses=100", "at most 99"),
        ("amount=30 germination=0", "at least 1"),
        ("amount=30 seeds=1.5", "whole number"),
    ],
)
def test_refusals(words: str, says: str) -> None:
    """What cannot be worked out is refused in one sentence that says what would be right."""
    with pytest.raises(ValueError, match=says) as caught:
        sow(*(word.replace("~", " ") for word in words.split()))
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("crop=pothos day=2025-06-20", "no days from sowing for pothos"),
        ("crop=coleus day=2025-06-20", "no days to harvest for coleus: give days="),
        ("crop=lettuce day=2025-06-20 until=seed", "no days until seed for lettuce"),
        ("crop=marigold day=2025-06-20 amount=2kg", "no mass of one plant is known"),
        ("crop=tomato day=2025-06-20 amount=30tomatoes", "may mean plants or fruit"),
        ("crop=foliage day=2025-06-20", "the crop table has no 'foliage'"),
        ("crop=lettuce day=0001-01-10", "outside the calendar"),
        ("crop=lettuce day=31.6.2025", "is no day"),
        ("crop=lettuce day=05/06/2025", "write 2025-05-06 or 2025-06-05"),
        ("crop=lettuce", "needs day"),
    ],
)
def test_refusals_by_crop_and_day(words: str, says: str) -> None:
    """A crop without days, or a day that is none, is refused with what to give instead."""
    with pytest.raises(ValueError, match=says):
        worked("sow-for", *words.split())


def test_microgreens_are_one_of_them_and_that_is_said() -> None:
    """The name stands for many crops: which one was taken is in the working and in the sentence."""
    found = worked("sow-for", "crop=microgreens", "day=19 June 2026")
    same = worked("sow-for", "crop=radish-microgreens", "day=2026-06-19")
    assert found.results["sow"].value == same.results["sow"].value
    assert found.working[0] == "taken: crop = radish microgreens, for microgreens"
    assert "radish microgreens" in found.says[0]
