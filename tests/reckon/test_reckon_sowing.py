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
        ("crop=rapid-brassica day=2024-03-10 until=flowers", "2024-02-23"),
        ("crop=rapid-brassica day=2024-03-10 days=14", "2024-02-25"),
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
    assert found.results["sow_latest"].value == "2025-05-09"
    assert "taken: 60 days, the slow end of 41 to 60, so that it is ready on the day" in found.working
    assert any("only if all goes fast" in line for line in found.says)
    assert found.results["move_on_from"].value == "2025-05-05"
    exact = sow()
    assert exact.results["sow_latest"].value == exact.results["sow"].value


def test_warm_air_moves_the_latest_day_alone() -> None:
    """At 20 °C lettuce may need 41 × 17.25 ÷ 20 = 35.4 days, but the promise still takes the table's 60."""
    found = worked("sow-for", "crop=lettuce", "day=2025-06-20", "air=20")
    assert found.results["sow"].value == (date(2025, 6, 20) - timedelta(days=60)).isoformat()
    assert found.results["sow_latest"].value == (date(2025, 6, 20) - timedelta(days=35)).isoformat()
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
    assert found.do.what == "Sow 38 seeds of lettuce for Fri 20 Jun 2025"
    assert found.do.due == date(2025, 5, 16)
    assert found.do.why == "The latest day that still works is Fri 16 May 2025."
    assert found.do.why in found.says
    assert found.do.who == "pupil"


def test_a_weekend_is_pointed_out() -> None:
    """2025-05-18 is a Sunday: days that were given are kept, and the job falls on the Friday before."""
    sunday = worked("sow-for", "crop=lettuce", "day=2025-06-22", "days=35")
    assert sunday.results["sow"].value == "2025-05-18"
    assert "That is at a weekend: sow on Fri 16 May 2025 instead." in sunday.says
    assert sunday.do is not None
    assert sunday.do.due == date(2025, 5, 16)
    assert not any("weekend" in line for line in sow().says)


@pytest.mark.parametrize(
    ("crop", "day", "sow", "days"),
    [("cress", "2026-06-19", "2026-06-08", 11), ("lettuce", "2026-06-18", "2026-04-17", 62)],
)
def test_days_of_the_table_keep_off_the_weekend(crop: str, day: str, sow: str, days: int) -> None:
    """What spoils soon is sown on the Monday after, within its days; what can wait on the Friday before."""
    found = worked("sow-for", f"crop={crop}", f"day={day}")
    assert found.results["sow"].value == sow
    assert found.results["days"].value == days
    assert any("is at a weekend: moved to" in line for line in found.working)
    assert found.do is not None
    assert found.do.due == date.fromisoformat(sow)


@given(st.sampled_from(["cress", "lettuce", "raft-lettuce", "tomato"]), st.dates(date(2026, 1, 1), date(2027, 1, 1)))
@settings(max_examples=40)
def test_the_job_is_on_a_school_day(crop: str, day: date) -> None:
    """Whatever the promised day, the job and the latest day are from Monday to Friday, one not past the other."""
    found = worked("sow-for", f"crop={crop}", f"day={day.isoformat()}")
    assert found.do is not None
    assert found.do.due is not None
    latest = date.fromisoformat(str(found.results["sow_latest"].value))
    assert found.do.due.weekday() < 5
    assert latest.weekday() < 5
    assert found.results["sow_earliest"].value <= found.results["sow"].value <= found.results["sow_latest"].value  # type: ignore[operator]


@pytest.mark.parametrize(
    ("crop", "air", "share", "count", "better"),
    [("lettuce", 30, 12, 313, 25), ("spinach", 22, 28, 134, 15), ("lettuce", 20, 99, 38, None)],
)
def test_seeds_that_do_not_come_up_in_the_warmth(
    crop: str, air: int, share: int, count: int, better: int | None
) -> None:
    """With the air given, the emergence table says how many seeds come up right, and more are sown."""
    found = worked("sow-for", f"crop={crop}", "day=2026-06-19", f"air={air}", "amount=30")
    assert found.results["count"].value == count
    assert any(line.startswith(f"taken: {share} in 100 seeds") for line in found.working)
    assert "sound seedlings" in found.source
    assert any("start the seed at about" in line for line in found.says) == (better is not None)
    if better is not None:
        assert any(f"only {share} in 100" in line and f"about {better} °C" in line for line in found.says)
    packet = worked("sow-for", f"crop={crop}", "day=2026-06-19", f"air={air}", "amount=30", "germination=50")
    assert packet.results["count"].value == 75


@pytest.mark.parametrize(("crop", "air", "days"), [("lettuce", 24, 60), ("basil", 30, 42), ("strawberry", 25, 210)])
def test_warmth_does_not_shorten_the_promise(crop: str, air: int, days: int) -> None:
    """The days never become fewer than the slow end of the table: light holds the crop back too."""
    found = worked("sow-for", f"crop={crop}", "day=2026-12-31", f"air={air}")
    assert float(found.results["days"].value) >= days
    assert any("with little light it takes as long as ever" in line for line in found.says)


def test_seedlings_are_no_harvest() -> None:
    """For seedlings there is no mass, no room at the last spacing, no harvest and no rule for eating."""
    found = worked("sow-for", "crop=lettuce", "day=2026-06-19", "until=seedlings", "amount=30")
    assert "mass" not in found.results
    assert "area" not in found.results
    assert found.cautions == ()
    assert found.results["plants"].says == "seedlings needed then"
    assert "taken: losses = 20 % from seed to seedling (assumed)" in found.working
    with pytest.raises(ValueError, match="counted, not weighed"):
        worked("sow-for", "crop=lettuce", "day=2026-06-19", "until=seedlings", "amount=2kg")


@pytest.mark.parametrize(
    ("words", "condition", "spare"),
    [
        ("crop=raft-lettuce", "17 mol/m²/d", 4),
        ("crop=rapid-brassica until=flowers", "light day and night", 2),
        ("crop=rapid-brassica until=flowers air=16", "light day and night", 4),
    ],
)
def test_a_single_figure_has_a_condition_and_a_margin(words: str, condition: str, spare: int) -> None:
    """Days that were counted under one set of conditions are promised under them alone, with a margin that is said."""
    found = worked("sow-for", *words.split(), "day=2026-06-19")
    said = next(line for line in found.says if line.startswith("Only if"))
    assert condition in said
    assert f"up to {spare} days sooner (margin assumed)" in said
    assert str(found.results["sow_earliest"].value) < str(found.results["sow"].value)
    assert found.results["sow_latest"].value == found.results["sow"].value
    assert any(line.startswith("margin = 10 %") for line in found.working)


def test_small_room_and_the_mass_have_their_lines() -> None:
    """The room is divided by 10000 or told in cm², and what the plants weigh is multiplied out."""
    small = worked("sow-for", "crop=cress", "day=2026-06-19", "amount=100")
    assert "room = 100 plants × (0.4 cm)² = 16 cm² = 0.0016 m²" in small.working
    assert small.results["area"].decimals == 4
    assert small.results["mass"].decimals == 1
    large = sow("amount=30")
    assert "room = 30 plants × (20 cm)² ÷ 10000 = 1.20 m²" in large.working
    assert "they may weigh 30 × 150 g = 4500 g" in large.working


def test_the_aim_may_stand_in_brackets() -> None:
    """'(seed harvest)' behind the crop is what must be reached; 'quantity' is an amount."""
    name = "crop=rapid-cycling Brassica rapa (seed harvest)"
    found = worked("sow-for", name, "day=2024-03-10", "quantity=20")
    assert found.results["sow"].value == "2024-01-25"
    assert found.results["count"].value == 25
    assert worked("sow-for", name, "day=2024-03-10", "days=40").results["sow"].value == "2024-01-30"


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
        ("crop=lettuce day=2025-06-20 until=flowers", "no days until flowers for lettuce"),
        ("crop=tomato day=2025-06-20 air=11", "hardly develops: for a day to promise it needs at least 14.1"),
        ("crop=lettuce day=2025-06-20 air=2", "harmed by the cold: for a day to promise it needs at least 6.9"),
        ("crop=pepper day=2025-06-20 air=14", "at least 14.1"),
        ("crop=lettuce day=2025-06-20 air=35 amount=3", "no seed comes up right.*give germination="),
        ("crop=lettuce day=2025-06-20 amount=3.5", "whole ones: write 4"),
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
