"""Judging choices and readings with the shipped checklists and with small ones."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import msgspec
import pytest

from tests.round.school import MONDAY, SOWN, School, choice, fault, number
from walkabout.checklist.model import VERDICTS, Checklist, Choice, Limits, Meaning, Question, Reading, When
from walkabout.checklist.read import read_checklists
from walkabout.growing.units import METRIC, US
from walkabout.records.model import Answer, Move, Planting
from walkabout.round.anew import hangs_on, together
from walkabout.round.here import Here, holds
from walkabout.round.history import History
from walkabout.round.judge import Judgement, judge_choices, judge_number
from walkabout.round.wants import Wanted, wanted_at

SHIPPED = read_checklists(None).of
NOW = datetime(2026, 9, 14, 8, 0, tzinfo=UTC)
COUNT = Reading(
    quantity="count", possible=(0, 999), likely=(0, 200), good=(0, 10), margin=10, decimals=0, doubling=True,
    high=Meaning(verdict="watch", why="Gnats breed in wet mix.", do="Let the pots dry.", job="Find the wettest pots"),
)  # fmt: skip
PH = Reading(quantity="pH", unit="pH", possible=(0, 14), likely=(4, 9), good=(5.8, 6.4), margin=0.5, alarm=(5.0, 7.5))


@pytest.fixture
def school(tmp_path: Path) -> School:
    return School(tmp_path / "room")


def place(school: School, key: str) -> tuple[Here, Checklist]:
    return next((here, checklist) for here, checklist in school.room.places() if here.key == key)


def judged(school: School, station: str, question: str, *picked: str) -> Judgement:
    here, checklist = place(school, station)
    asked = checklist.find(question)
    assert asked is not None
    return judge_choices(asked, picked, checklist, here, school.room.history, school.now)


def read(school: School, station: str, question: str, value: float, last: float | None = None) -> Judgement:
    here, checklist = place(school, station)
    asked = checklist.find(question)
    assert asked is not None
    assert asked.reading is not None
    neighbours = [one for one, _ in school.room.places() if one.station is not None]
    before = school.written(station, question, days_ago=1, value=last) if last is not None else None
    wanted = wanted_at(here, neighbours, asked.reading, scales=school.room.scales)
    return judge_number(asked, value, checklist, wanted, before, scales=school.room.scales)


def wanted(school: School, station: str, question: str) -> Wanted | None:
    here, checklist = place(school, station)
    asked = checklist.find(question)
    assert asked is not None
    assert asked.reading is not None
    neighbours = [one for one, _ in school.room.places() if one.station is not None]
    return wanted_at(here, neighbours, asked.reading, scales=school.room.scales)


# choices


def test_limp_over_dry_mix_wants_water(school: School) -> None:
    """Limp leaves over a mix that was felt dry mean: water, now."""
    school.written("pots", "moisture", choices=["dry"])
    judgement = judged(school, "pots", "leaves", "limp")
    assert judgement.verdict == "now"
    assert judgement.meanings[0].do.startswith("Water until it runs out")


def test_limp_over_wet_mix_must_not_be_watered(school: School) -> None:
    """Limp leaves over a wet mix mean: no water, look at the roots."""
    school.written("pots", "moisture", choices=["wet"])
    judgement = judged(school, "pots", "leaves", "limp")
    assert judgement.verdict == "today"
    assert "no water" in judgement.meanings[0].do.lower()
    assert judgement.ask == ("pot-roots",)


def test_limp_alone_asks_to_feel_the_mix(school: School) -> None:
    """Without a look at the mix limp leaves are only watched, and the mix is asked about."""
    assert judged(school, "pots", "leaves", "limp").ask == ("moisture",)


def test_no_bubbles_in_a_full_warm_tub_is_an_alarm(school: School) -> None:
    """Twelve heads in water of 25 °C without bubbles: now."""
    school.written("tub", "solution-temperature", value=25.0)
    assert judged(school, "tub", "bubbles", "none").alarm


def test_no_bubbles_in_a_cool_sparse_tub_is_no_alarm(school: School) -> None:
    """Four heads in water of 17 °C without bubbles: today, with a job due in two days."""
    planting = next(one for one in school.room.plantings.values() if one.station == "tub")
    school.room.save(msgspec.structs.replace(planting, count=4))
    school.written("tub", "solution-temperature", value=17.0)
    judgement = judged(school, "tub", "bubbles", "none")
    assert judgement.verdict == "today"
    assert judgement.meanings[0].days == 2


def test_an_old_reading_decides_nothing(school: School) -> None:
    """A temperature of four days ago does not make an alarm of today's still water."""
    school.written("tub", "solution-temperature", days_ago=4, value=25.0)
    assert judged(school, "tub", "bubbles", "none").verdict == "today"


def test_a_reading_of_the_same_tank_counts(school: School) -> None:
    """What was measured at the neighbour on the same tank counts here too."""
    here, _ = place(school, "vine")
    when = When(readings={"solution-temperature": Limits(at_least=24)})
    school.written("film", "solution-temperature", value=26.0)
    assert holds(when, here, school.room.history, school.now)
    school.written("vine", "solution-temperature", value=20.0, key="later")
    school.tick(60)
    assert not holds(When(readings={"solution-temperature": Limits(at_most=19)}), here, school.room.history, school.now)


def test_signs_are_judged_by_the_gravest(school: School) -> None:
    """Of several signs the gravest gives the verdict and comes first; all their faults count."""
    judgement = judged(school, "tub", "covers", "open", "larvae")
    assert judgement.verdict == "now"
    assert judgement.meanings[0].shows == ("larvae",)
    assert set(judgement.shows) == {"open-hole", "larvae"}
    assert judgement.hours == 96


def test_all_is_well_means_nothing(school: School) -> None:
    """The healthy choice has no meaning to show, no hours and no alarm."""
    assert judged(school, "tub", "bubbles", "all") == Judgement("good", (), None)


def every_meaning() -> Iterator[tuple[str, Meaning]]:
    for kind, checklist in SHIPPED.items():
        for question in checklist.question:
            for one in question.choices:
                yield f"{kind} {question.id} {one.id}", one
                for case in one.cases:
                    yield f"{kind} {question.id} {one.id} case", case


def test_what_is_grave_says_why_and_what_to_do() -> None:
    """In every shipped checklist a verdict of today or graver has a reason and a first act."""
    grave = [(name, one) for name, one in every_meaning() if VERDICTS.index(one.verdict) >= 2]
    assert len(grave) > 300
    assert [name for name, one in grave if not one.why.strip() or not one.do.strip()] == []


def test_every_grave_reading_says_why_and_what_to_do(school: School) -> None:
    """Far outside on either side, every shipped reading has verdict, reason and act, in both kinds of unit."""
    seen = 0
    for checklist in SHIPPED.values():
        for question in checklist.question:
            reading = question.reading
            for value in reading.possible if reading else ():
                for scales in (METRIC, US):
                    judgement = judge_number(question, value, checklist, None, None, scales=scales)
                    if VERDICTS.index(judgement.verdict) >= 2:
                        seen += 1
                        assert judgement.why
                        assert all(meaning.do for meaning in judgement.meanings), question.id
    assert seen > 150


# readings


@pytest.mark.parametrize(
    ("value", "verdict"),
    [(5.6, "good"), (6.0, "good"), (6.04, "good"), (6.3, "watch"), (6.5, "watch"), (6.6, "today"), (7.6, "now"),
     (5.2, "watch"), (5.05, "today"), (4.9, "now")],
)  # fmt: skip
def test_ph_is_judged_by_what_grows_there(school: School, value: float, verdict: str) -> None:
    """Raft lettuce wants 5.6 to 6.0 (Cornell): half a unit beyond is watched, more is for today, 5.0 and 7.5 alarm."""
    assert read(school, "tub", "ph", value).verdict == verdict


def test_a_reading_says_the_range_and_whose_it_is(school: School) -> None:
    """The reason names the reading, the range, the crop and the source."""
    says = read(school, "tub", "ph", 6.8).why
    assert says.startswith("pH 6.8 is above pH 5.6 to 6.0, what lettuce on rafts wants (Cornell lettuce, from memory).")


def test_what_reads_like_the_end_of_the_range_is_inside(school: School) -> None:
    """Nobody is told that 6.0 is above 6.0: a value that rounds to the end is good; the alarm is exact."""
    checklist = Checklist(kind="x", title="x")
    asked = number("ph", PH)
    assert judge_number(asked, 6.44, checklist, None, None, scales=METRIC).verdict == "good"
    assert judge_number(asked, 6.45, checklist, None, None, scales=METRIC).verdict == "watch"
    assert judge_number(asked, 7.5, checklist, None, None, scales=METRIC).verdict == "today"
    assert judge_number(asked, 7.51, checklist, None, None, scales=METRIC).verdict == "now"


def test_a_us_reading_at_the_end_of_the_range_is_good() -> None:
    """64.4 °F is 18 °C: turning units to and fro makes no verdict."""
    warm = Reading(quantity="solution temperature", unit="°C", possible=(0, 45), likely=(8, 32), good=(18, 24))
    value = (64.4 - 32) / 1.8
    judgement = judge_number(number("t", warm), value, Checklist(kind="x", title="x"), None, None, scales=US)
    assert judgement.verdict == "good"
    below = judge_number(number("t", warm), 12.0, Checklist(kind="x", title="x"), None, None, scales=US)
    assert below.why.startswith("53.6 °F is below 64.4 to 75.2 °F, the usual range.")


def test_two_crops_at_one_station_share_a_range(school: School) -> None:
    """Basil (5.5 to 6.0) and rocket (6.0 to 6.8) meet at 6.0, widened by what a meter can tell."""
    planting = next(one for one in school.room.plantings.values() if one.station == "vine")
    school.room.save(msgspec.structs.replace(planting, ended=MONDAY))
    found = wanted(school, "film", "ph")
    assert found is not None
    assert (found.low, found.high) == pytest.approx((5.8, 6.2))
    assert "rocket and basil" in found.says


def test_crops_on_one_tank_that_do_not_agree(school: School) -> None:
    """Tomato wants an EC of 2.0 at least, rocket 1.4 at most: the conflict is said, between them is the least harm."""
    found = wanted(school, "film", "ec")
    assert found is not None
    assert (found.low, found.high) == (1.4, 2.0)
    assert "Nothing suits both" in found.says
    assert "tomato wants at least 2 mS/cm" in found.says
    assert "rocket wants at most 1.4 mS/cm" in found.says
    assert read(school, "film", "ec", 1.7).verdict == "good"
    high = read(school, "film", "ec", 3.0)
    assert high.verdict == "today"
    assert "Nothing suits both" in high.why


def test_a_ph_conflict_by_a_hair_leaves_room_for_the_meter(school: School) -> None:
    """Where two crops miss each other by less than a meter can tell, the band between is as wide as any."""
    found = wanted(school, "film", "ph")
    assert found is not None
    assert found.high - found.low >= 0.2


def test_the_most_tender_plant_sets_the_night(school: School) -> None:
    """The lowest air temperature of the room is held against the plant that is hurt first: basil at 13 °C."""
    found = wanted(school, "room", "lowest-air-temperature")
    assert found is not None
    assert found.low == 13
    assert "basil at 13 °C (UMass 2021)" in found.says
    says = read(school, "room", "lowest-air-temperature", 9.0).why
    assert says.startswith("9.0 °C is below 13.0 °C, the limit of the most tender plant here")
    assert "60" not in says


def test_what_plants_want_is_never_an_alarm() -> None:
    """A room of cacti at 34 °C is no alarm, though the checklist's own alarm is at 32."""
    hot = Reading(
        quantity="highest air temperature", unit="°C", possible=(-20, 60), likely=(12, 40), alarm=(5, 32), of_crops=True
    )
    cacti = Wanted(-20, 38, "the limit of the most tender plant here")
    checklist = Checklist(kind="x", title="x")
    assert judge_number(number("t", hot), 34, checklist, cacti, None, scales=METRIC).verdict == "good"
    assert judge_number(number("t", hot), 39, checklist, cacti, None, scales=METRIC).verdict == "now"
    assert judge_number(number("t", hot), 4, checklist, cacti, None, scales=METRIC).verdict == "now"


def test_hardy_plants_lower_the_alarm() -> None:
    """Plants that bear 2 °C make no alarm of a night at 4 °C, though the checklist's own alarm is below 6."""
    cold = Reading(
        quantity="lowest air temperature", unit="°C", possible=(-20, 60), likely=(2, 30), alarm=(6, 40), of_crops=True
    )
    hardy = Wanted(2, 60, "the limit of the most tender plant here")
    checklist = Checklist(kind="x", title="x")
    assert judge_number(number("t", cold), 4, checklist, hardy, None, scales=METRIC).verdict == "good"
    assert judge_number(number("t", cold), 1, checklist, hardy, None, scales=METRIC).verdict == "now"
    assert judge_number(number("t", cold), 41, checklist, hardy, None, scales=METRIC).verdict == "now"


def test_nothing_planted_leaves_the_usual_range(school: School) -> None:
    """Where nothing grows, or the crop is in no table, the checklist's own range counts."""
    for one in list(school.room.plantings.values()):
        school.room.save(msgspec.structs.replace(one, ended=MONDAY))
    odd = Planting(key="p-odd", crop="moon grass", sown=SOWN, count=3, moves=(Move(day=SOWN, station="tub"),))
    school.room.save(odd)
    assert wanted(school, "tub", "ph") is None
    assert "the usual range" in read(school, "tub", "ph", 7.2).why


def test_a_count_that_doubles_is_for_today() -> None:
    """More than twice the last count, and more than two, is for today even inside the good range."""
    asked, checklist = number("gnats", COUNT), Checklist(kind="x", title="x")
    last = msgspec.convert(
        {"key": "a", "round": "r", "at": "2026-09-13T08:00:00Z", "walker": "AR", "station": "room",
         "question": "gnats", "value": 4}, type=Answer,
    )  # fmt: skip
    assert judge_number(asked, 8, checklist, None, last, scales=METRIC).verdict == "good"
    grown = judge_number(asked, 9, checklist, None, last, scales=METRIC)
    assert grown.verdict == "today"
    assert grown.why == "More than twice the last count (4): they are breeding. Gnats breed in wet mix."
    none = msgspec.structs.replace(last, value=0)
    assert judge_number(asked, 2, checklist, None, none, scales=METRIC).verdict == "good"
    assert judge_number(asked, 3, checklist, None, none, scales=METRIC).verdict == "today"


def test_a_count_above_the_range_that_doubles_says_its_reason_once() -> None:
    """High and doubling: both are said, the checklist's own reason once."""
    last = msgspec.convert(
        {"key": "a", "round": "r", "at": "2026-09-13T08:00:00Z", "walker": "AR", "station": "room",
         "question": "gnats", "value": 5}, type=Answer,
    )  # fmt: skip
    judgement = judge_number(number("gnats", COUNT), 18, Checklist(kind="x", title="x"), None, last, scales=METRIC)
    assert judgement.verdict == "today"
    assert judgement.why.count("Gnats breed in wet mix.") == 1
    assert "More than twice the last count" in judgement.why


def test_what_is_only_watched_asks_for_no_job(school: School) -> None:
    """A reading just outside is watched: its reason is said, but no job is made of it."""
    judgement = read(school, "tub", "ph", 6.3)
    assert judgement.meanings[0].job == ""
    assert judgement.meanings[0].why


def test_readings_without_a_range_are_not_judged() -> None:
    """A mass is recorded for the harvest, not judged."""
    mass = Reading(quantity="mass", unit="g", possible=(0, 2000), likely=(5, 500))
    assert (
        judge_number(number("m", mass), 1999, Checklist(kind="x", title="x"), None, None, scales=METRIC).verdict
        == "good"
    )


# together


def test_a_meaning_hangs_on_a_later_answer() -> None:
    """Limp leaves hang on the mix; firm ones do not."""
    leaves = SHIPPED["pots"].find("leaves")
    assert leaves is not None
    assert hangs_on(leaves, ["limp"], "moisture")
    assert not hangs_on(leaves, ["firm"], "moisture")
    assert not hangs_on(leaves, ["limp"], "label")


def test_two_judgements_together_take_the_gravest() -> None:
    """The gravest verdict, the gravest meaning first, the fewest hours."""
    mild = Judgement("watch", (Meaning(verdict="watch", why="mild"),), 90)
    grave = Judgement("now", (Meaning(verdict="now", why="grave"),), 4)
    both = together(mild, [grave])
    assert (both.verdict, both.hours, both.why) == ("now", 4, "grave mild")
    assert together(mild, []) == mild


def test_hours_are_those_of_the_quickest_fault() -> None:
    """A sign that shows two faults has the hours of the one that kills first."""
    both = Choice(id="bad", says="bad", verdict="today", why="Bad.", do="Mend it.", shows=("slow", "quick"))
    asked = choice("q", choices=(Choice(id="good", says="good"), both))
    checklist = Checklist(kind="x", title="x", fault={"slow": fault(90), "quick": fault(5)}, question=(asked,))
    judgement = judge_choices(asked, ["bad"], checklist, _nowhere(), History([]), NOW)
    assert judgement.hours == 5


def _nowhere() -> Here:
    return Here("x", "X", "x", None, (), (), frozenset(), frozenset(), frozenset())


def test_unknown_questions_have_no_reading() -> None:
    """A question without a reading takes no number as a fault."""
    asked = Question(id="q", ask="?", seconds=1, should=1, must=1)
    assert judge_number(asked, 5, Checklist(kind="x", title="x"), None, None, scales=METRIC) == Judgement("good")
