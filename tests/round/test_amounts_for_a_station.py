"""A reading that is not as it should be says what to add, drain or change, for that station's tank."""

import math
import re
from datetime import timedelta
from pathlib import Path

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.round.amounts import ACID, BASE, FEED, WATER, found, judged, with_room, with_tank
from tests.round.school import MONDAY, School, number, open_jobs, to
from walkabout.checklist.model import VERDICTS, Checklist, Meaning, Reading
from walkabout.room.solution import Acid, Base, Feed, Water
from walkabout.round.judge import Judgement

AIM = 1.2
"""mS/cm, the middle of what lettuce on rafts wants (1.15 to 1.25)."""
LITRES = 60


def school(tmp_path: Path, more: str = WATER + FEED + ACID + BASE, head: str = "", *stations: str) -> School:
    return School(tmp_path / "room", stations or ("tub",), head=head, more=more)


@pytest.fixture(scope="module")
def tub(tmp_path_factory: pytest.TempPathFactory) -> School:
    """Return a school whose tub had 1.4 mS/cm today; its bottles are set by each test."""
    ours = School(tmp_path_factory.mktemp("tub") / "room", ("tub",), more=WATER)
    ours.written("tub", "ec", value=1.4)
    return ours


@pytest.fixture(scope="module")
def bottled(tmp_path_factory: pytest.TempPathFactory) -> School:
    """Return a school with all its bottles, in which nothing has been read."""
    return school(tmp_path_factory.mktemp("bottled"))


def asked_for(judgement: Judgement) -> Meaning:
    return judgement.meanings[0]


# EC


@pytest.mark.parametrize("value", [1.6, 2.0, 3.0])
def test_too_strong_takes_out_what_the_mass_balance_says(bottled: School, value: float) -> None:
    """What is left of the solution and the water that comes in (0.4 mS/cm) have the EC in the middle of the range."""
    meaning = asked_for(judged(bottled, "tub", "ec", value)[1])
    out = found(r"Take out ([\d.]+) L,", meaning.job)
    assert ((LITRES - out) * value + out * 0.4) / LITRES == pytest.approx(AIM, abs=0.03)
    assert f"take out {out:g} L" in meaning.do.replace(".0 L", " L")
    assert meaning.who == "pupil"
    assert "local rules" in meaning.caution


def test_too_strong_with_water_nobody_measured_says_at_least(tmp_path: Path) -> None:
    """Water without any salt takes the fewest litres: that is said as the least."""
    meaning = asked_for(judged(school(tmp_path, FEED), "tub", "ec", 2.0)[1])
    out = found(r"at least ([\d.]+) L", meaning.job)
    assert (LITRES - out) * 2.0 / LITRES == pytest.approx(AIM, abs=0.03)
    assert "at least" in meaning.do


def test_water_stronger_than_what_is_wanted_gives_no_amount(tmp_path: Path) -> None:
    """Nothing is reckoned with water that cannot thin the tank: the checklist's words stand."""
    plain, told = judged(school(tmp_path, "[water]\nec = 1.5\n"), "tub", "ec", 2.0)
    assert told == plain


def test_taking_out_leaves_what_the_pump_needs(bottled: School) -> None:
    """However strong the solution, a pupil is not told to take out more than three quarters at once."""
    meaning = asked_for(judged(bottled, "tub", "ec", 15.0)[1])
    assert "take out" not in meaning.do or found(r"take out ([\d.]+) L", meaning.do) <= LITRES * 0.75


@pytest.mark.parametrize(("parts", "says"), [(1, "of the concentrate"), (3, "of each of the 3 concentrates")])
def test_too_weak_adds_the_feed_by_its_rise(tmp_path: Path, parts: int, says: str) -> None:
    """V (E* - E) ÷ rise: 60 L from 0.5 to 1.2 with 0.1 mS/cm for each mL in a litre take 420 mL, 336 of it first."""
    told = judged(school(tmp_path, f"{FEED}parts = {parts}\n"), "tub", "ec", 0.5)[1]
    meaning = asked_for(told)
    assert meaning.job.startswith(f"Add 420 mL {says}")
    pupil, adult = meaning.do.split("For an adult: ")
    assert found(r"Put in ([\d.]+) mL first", adult) == 336
    assert "mL" not in pupil
    assert "tell an adult" in pupil
    assert meaning.who == "adult"
    assert "goggles and gloves" in meaning.caution.lower().replace("gloves and goggles", "goggles and gloves")


def test_too_weak_without_a_known_feed_gives_no_amount(tmp_path: Path) -> None:
    """How much concentrate it takes cannot be said without its rise."""
    plain, told = judged(school(tmp_path, WATER), "tub", "ec", 0.5)
    assert told == plain


def test_one_tank_asks_for_one_amount(tmp_path: Path) -> None:
    """Two stations on 40 L get the same amount, for what all that drinks there wants (1.4 to 2.0)."""
    both = school(tmp_path, FEED, "", "film", "vine")
    jobs = {asked_for(judged(both, station, "ec", 1.0)[1]).job for station in ("film", "vine")}
    assert len(jobs) == 1
    assert found(r"Add (\d+) mL", jobs.pop()) == pytest.approx(40 * (1.7 - 1.0) / 0.1)


def test_a_us_room_with_a_ppm_meter(tmp_path: Path) -> None:
    """Litres are US gallons, the EC is in the ppm of the meter; what is dosed is in mL, as its cylinder says."""
    ours = school(tmp_path, WATER + FEED + '[meters]\nec = "ppm 500"\n', 'units = "US"')
    strong, weak = (asked_for(judged(ours, "tub", "ec", value)[1]) for value in (2.0, 0.5))
    assert found(r"Take out ([\d.]+) US gal", strong.job) == pytest.approx(30 / 3.785, abs=0.06)
    assert found(r"Add ([\d.]+) mL", weak.job) == 420
    for meaning in (strong, weak):
        assert "600 ppm (500)" in meaning.do
        assert not re.search(r"\d (L|mS/cm)\b", f"{meaning.do} {meaning.job} {meaning.why}")


def test_what_is_only_watched_asks_for_no_amount(bottled: School) -> None:
    """Just outside the range one looks again: the act stays as it was, and there is no job."""
    plain, told = judged(bottled, "tub", "ec", 1.35)
    assert told.verdict == "watch"
    assert (asked_for(told).do, asked_for(told).job) == (asked_for(plain).do, "")


def test_where_nothing_is_wanted_no_amount_is_given(tmp_path: Path) -> None:
    """Where nothing grows there is no EC to bring the tank to."""
    empty = school(tmp_path)
    for one in list(empty.room.plantings.values()):
        empty.room.save(msgspec.structs.replace(one, ended=MONDAY))
    for question, value in (("ec", 3.0), ("ec", 0.2), ("ph", 7.4)):
        plain, told = judged(empty, "tub", question, value)
        assert plain.verdict in ("today", "now")
        assert told == plain


def test_the_round_makes_a_job_of_the_amount(tmp_path: Path) -> None:
    """On the round itself the job that comes of a reading names the amount, the person and the caution."""
    ours = school(tmp_path, WATER + FEED)
    asked = ours.room.question("tub", "ec")
    assert asked is not None
    ours.only("raft", msgspec.structs.replace(asked, should=1, must=1, reveals={}))
    outcome = to(ours.begin(), "tub", "ec").number(0.5)
    job = next(one for one in open_jobs(ours.room) if "concentrates" in one.what)
    assert job.what.startswith("Add 420 mL")
    assert (job.who, job.station) == ("adult", "tub")
    assert job in outcome.jobs
    assert "undiluted" in job.caution


# pH, against a tank that holds what was assumed of it, every ion counted fully


K1, K2, KW = 10**-6.382, 10**-10.377, 10**-14.167
"""Carbonic acid and water at 20 °C; Plummer and Busenberg 1982, Harned and Owen, from memory."""
P1, P2, P3 = 10**-2.15, 10**-7.2, 10**-12.35


def carbonate_charge(h: float) -> float:
    whole = h * h + h * K1 + K1 * K2
    return (h * K1 + 2 * K1 * K2) / whole


def phosphate_charge(h: float) -> float:
    forms = (h**3, h * h * P1, h * P1 * P2, P1 * P2 * P3)
    return sum(count * form for count, form in enumerate(forms)) / sum(forms)


def charge(ph: float, carbon: float, phosphorus: float) -> float:
    """Return the strong ions, meq/L, that hold this pH with so much carbon and phosphorus, mmol/L."""
    h = 10**-ph
    return carbon * carbonate_charge(h) + phosphorus * phosphate_charge(h) + 1000 * (KW / h - h)


def ph_after(ph: float, bicarbonate: float, phosphorus: float, millimoles: float, kind: str) -> float:
    """Return the pH after so many mmol/L of a reagent, the tank being closed."""
    carbon = bicarbonate / carbonate_charge(10**-ph)
    ions = charge(ph, carbon, phosphorus)
    strong = {"nitric": -1, "sulfuric": -2, "phosphoric": 0, "potassium carbonate": 2}.get(kind, 1)
    ions += strong * millimoles
    phosphorus += millimoles if kind == "phosphoric" else 0
    carbon += millimoles if kind in ("potassium bicarbonate", "potassium carbonate") else 0
    low, high = 1.0, 13.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if charge(middle, carbon, phosphorus) > ions else (middle, high)
    return low


def bicarbonate_in_air(ph: float, most: float) -> float:
    """meq/L of bicarbonate that 0.02 mmol/L of carbon dioxide leaves, never more than the water brought."""
    return min(0.02 * 10 ** (ph + math.log10(K1)), most)


@pytest.mark.parametrize("kind", ["nitric", "phosphoric", "sulfuric"])
@pytest.mark.parametrize(("value", "most"), [(6.6, 0.5), (7.2, 0.5), (7.8, 0.5)])
def test_acid_moves_the_ph_by_half_a_unit_at_most(tub: School, kind: str, value: float, most: float) -> None:
    """In a tank that holds the buffer assumed, the first dose lowers the pH a good deal, and never more than 0.5."""
    with_room(tub, acid=Acid(kind=kind, strength=0.5))  # type: ignore[arg-type]
    meaning = asked_for(judged(tub, "tub", "ph", value)[1])
    dose = found(r"Lower the pH: ([\d.]+) mL", meaning.job) * 0.5 / LITRES
    moved = value - ph_after(value, bicarbonate_in_air(value, 100 / 50.04), 0.35 * 1.4, dose, kind)
    assert 0.2 < moved <= most


@pytest.mark.parametrize("kind", ["potassium hydroxide", "potassium bicarbonate", "potassium carbonate"])
@pytest.mark.parametrize("value", [4.3, 4.8, 5.0])
def test_a_base_moves_the_ph_by_half_a_unit_at_most(tub: School, kind: str, value: float) -> None:
    """The same for what raises the pH."""
    with_room(tub, base=Base(kind=kind, strength=0.1))  # type: ignore[arg-type]
    meaning = asked_for(judged(tub, "tub", "ph", value)[1])
    dose = found(r"Raise the pH: ([\d.]+) mL", meaning.job) * 0.1 / LITRES
    moved = ph_after(value, bicarbonate_in_air(value, 100 / 50.04), 0.35 * 1.4, dose, kind) - value
    assert 0.2 < moved <= 0.5


def test_acid_for_water_nobody_measured_is_reckoned_for_soft_water(tmp_path: Path) -> None:
    """Where the alkalinity is not known, the dose at pH 7.9 moves soft water (25 mg/L of CaCO3) by 0.5 at most."""
    meaning = asked_for(judged(school(tmp_path, ACID), "tub", "ph", 7.9)[1])
    dose = found(r"Lower the pH: ([\d.]+) mL", meaning.job) * 0.5 / LITRES
    assert 7.9 - ph_after(7.9, 0.5, 0.35, dose, "nitric") <= 0.5


@pytest.mark.parametrize("value", [7.2, 4.6])
def test_acid_and_base_are_an_adults_and_never_a_pupils_act(bottled: School, value: float) -> None:
    """The walker reads again and tells an adult; the dose stands behind 'For an adult', with its caution."""
    meaning = asked_for(judged(bottled, "tub", "ph", value)[1])
    pupil, adult = meaning.do.split("For an adult: ")
    assert "pupils add nothing" in pupil
    assert not re.search(r"\bmL\b|mol/L|acid|hydroxide", pupil)
    assert "mol/L" in adult
    assert "wait" in adult.lower()
    assert meaning.who == "adult"
    assert "goggles" in meaning.caution
    assert "risk assessment" in meaning.caution


def test_a_corrosive_bottle_is_never_poured_into_a_tank(tmp_path: Path) -> None:
    """60 % nitric acid (13 mol/L): make it weaker first, with no amount of it anywhere."""
    meaning = asked_for(
        judged(school(tmp_path, WATER + '[acid]\nkind = "nitric"\nstrength = 13\n'), "tub", "ph", 7.2)[1]
    )
    assert "make it weaker first" in meaning.do
    assert " mL" not in f"{meaning.do} {meaning.job}"
    assert meaning.who == "adult"


@pytest.mark.parametrize(
    ("more", "value"), [(WATER + BASE, 7.2), (WATER + ACID, 4.6), (WATER + ACID + BASE, 10.4), (WATER + ACID, 8.4)]
)
def test_without_the_right_bottle_there_is_no_dose(tmp_path: Path, more: str, value: float) -> None:
    """No acid written down, no base, or a pH beyond all reckoning: the checklist's words stand."""
    plain, told = judged(school(tmp_path, more), "tub", "ph", value)
    assert plain.verdict in ("today", "now")
    assert told == plain


def test_a_dose_in_a_us_room_is_the_dose(tmp_path: Path) -> None:
    """What is written to be poured is within a fifth of what was reckoned, in any units."""
    doses = []
    for name, head in (("metric", ""), ("us", 'units = "US"')):
        meaning = asked_for(judged(school(tmp_path / name, WATER + ACID, head), "tub", "ph", 6.7)[1])
        value, unit = re.findall(r"Lower the pH: ([\d.]+) (mL|US fl oz)", meaning.job)[0]
        doses.append(float(value) * (29.5735 if unit != "mL" else 1))
    assert doses[1] == pytest.approx(doses[0], rel=0.2)


# warmth, oxygen, air


def test_ice_for_a_warm_tank_by_energy_balance(bottled: School) -> None:
    """With the bottles named the tank comes to 24 °C or less; with one bottle fewer it does not."""
    meaning = asked_for(judged(bottled, "tub", "solution-temperature", 29.0)[1])
    bottles = found(r"float (\d+) closed bottles of ice", meaning.do)

    def mixed(kilograms: float) -> float:
        return (LITRES * 4.186 * 29.0 - kilograms * 334) / ((LITRES + kilograms) * 4.186)

    assert mixed(bottles) <= 24 < mixed(bottles - 1)
    assert "holds 7.7 mg/L of oxygen at most" in meaning.why  # 7.69 at 29 °C, Benson and Krause 1984


def test_more_ice_than_anybody_has_is_not_asked_for(tmp_path: Path) -> None:
    """A thousand litres are cooled by shade and air, not with bottles."""
    ours = school(tmp_path)
    with_tank(ours, 1000)
    plain, told = judged(ours, "tub", "solution-temperature", 29.0)
    assert asked_for(told).do == asked_for(plain).do


def test_cold_water_wants_no_ice(bottled: School) -> None:
    """A cold tank is told what the checklist says."""
    plain, told = judged(bottled, "tub", "solution-temperature", 9.0)
    assert plain.verdict in ("today", "now")
    assert told == plain


@pytest.mark.parametrize(("height", "most"), [(0, "9.1"), (1500, "7.6")])
def test_oxygen_is_held_against_what_the_water_can_hold(tmp_path: Path, height: int, most: str) -> None:
    """At 20 °C water holds 9.09 mg/L at the sea, and about 7.6 at 1500 m (Benson and Krause 1984)."""
    ours = school(tmp_path, "", f"altitude_m = {height}")
    plain, told = judged(ours, "tub", "oxygen", 2.5)
    assert told == plain, "nothing is said without a temperature"
    ours.written("tub", "solution-temperature", value=20.0)
    told = judged(ours, "tub", "oxygen", 2.5)[1]
    assert f"can hold {most} mg/L" in told.why
    assert f"this is {250 / float(most):.0f} %" in told.why


def test_humidity_of_the_room_says_how_hard_the_air_pulls(tmp_path: Path) -> None:
    """At 24 °C and 20 % the deficit is 2.39 kPa (Tetens); without a temperature nothing is added."""
    ours = school(tmp_path)
    plain, told = judged(ours, "room", "humidity", 20)
    assert told == plain
    ours.written("room", "air-temperature", value=24.0)
    told = judged(ours, "room", "humidity", 20)[1]
    deficit = 0.6108 * math.exp(17.27 * 24 / (24 + 237.3)) * 0.8
    assert found(r"pulls with ([\d.]+) kPa", told.why) == pytest.approx(deficit, abs=0.02)


def test_humidity_at_a_station_says_where_to_stop(tmp_path: Path) -> None:
    """A room's own question about the air among the plants is told how far to go: lettuce on rafts, 50 to 70 %."""
    ours = school(tmp_path)
    air = Reading(
        quantity="humidity", unit="%", possible=(0, 100), likely=(10, 99), of_crops=True, margin=5, decimals=0
    )
    ours.room.checklists["raft"] = Checklist(kind="raft", title="raft", question=(number("air", air),))
    ours.written("room", "air-temperature", value=22.0)
    assert "70 % or less" in asked_for(judged(ours, "tub", "air", 90)[1]).do
    assert "shows 50 %" in asked_for(judged(ours, "tub", "air", 30)[1]).do


# how long it lasts

FRIDAY = MONDAY + timedelta(days=4)


def thirsty(tmp_path: Path, litres_a_day: float) -> School:
    """Return a school on Friday whose tub was topped up on Wednesday."""
    ours = school(tmp_path)
    ours.go_to(FRIDAY)
    ours.written("tub", "topped-up", days_ago=2, value=5.0)
    told = judged(ours, "tub", "topped-up", litres_a_day * 2)
    assert told[0] == Judgement("good")
    return ours


@pytest.mark.parametrize(("litres_a_day", "verdict"), [(11.0, "good"), (12.0, "today"), (30.0, "today")])
def test_a_tank_that_does_not_outlast_the_weekend_is_a_job_for_today(
    tmp_path: Path, litres_a_day: float, verdict: str
) -> None:
    """60 L down to a quarter at 12 L a day last 3.75 days: less than three days alone with a third to spare."""
    told = judged(thirsty(tmp_path, litres_a_day), "tub", "topped-up", litres_a_day * 2)[1]
    assert told.verdict == verdict
    assert [meaning.job for meaning in told.meanings] == (
        [f"See that the tank lasts: it loses {litres_a_day:.1f} L a day"] if verdict == "today" else []
    )


def test_the_same_thirst_is_well_on_a_school_day(tmp_path: Path) -> None:
    """On a Thursday somebody comes tomorrow; before a closure of two weeks much less is too much."""
    ours = thirsty(tmp_path, 12)
    ours.go_to(MONDAY + timedelta(days=3))
    assert judged(ours, "tub", "topped-up", 12)[1].verdict == "good"
    shut = school(tmp_path / "shut", '[[closure]]\nfrom = 2026-09-19\nto = 2026-10-02\nname = "autumn"\n')
    shut.go_to(FRIDAY)
    shut.written("tub", "topped-up", days_ago=2, value=5.0)
    assert judged(shut, "tub", "topped-up", 8)[1].verdict == "today"


def test_the_first_litres_say_nothing(tmp_path: Path) -> None:
    """Without an earlier top-up nobody knows in how many days they went."""
    ours = school(tmp_path)
    ours.go_to(FRIDAY)
    assert judged(ours, "tub", "topped-up", 300)[1] == Judgement("good")


def test_a_thirsty_tank_is_a_job_of_the_round(tmp_path: Path) -> None:
    """On the round the finding and the job are made, for an adult."""
    ours = school(tmp_path)
    ours.go_to(FRIDAY)
    ours.written("tub", "topped-up", days_ago=5, value=5.0)
    outcome = to(ours.begin("K7"), "tub", "topped-up").number(60.0)
    assert outcome.judgement.verdict == "today"
    assert [(job.who, job.due) for job in outcome.jobs] == [("adult", FRIDAY)]


def test_litres_put_right_in_the_same_round_do_not_count(tmp_path: Path) -> None:
    """Two litres typed as 400 and put right at once: the tank lasts."""
    ours = school(tmp_path)
    ours.go_to(FRIDAY)
    ours.written("tub", "topped-up", days_ago=7, value=2.0)
    walk = to(ours.begin(), "tub", "topped-up")
    assert walk.number(400.0).judgement.verdict == "today"
    walk.back()
    assert walk.number(2.0).judgement.verdict == "good"


# whatever is read


@pytest.fixture(scope="module")
def any_school(tmp_path_factory: pytest.TempPathFactory) -> School:
    ours = School(tmp_path_factory.mktemp("any") / "room", ("tub", "film", "vine"))
    ours.written("room", "air-temperature", value=24.0)
    ours.written("film", "topped-up", days_ago=2, value=7.0)
    return ours


MEASURED = [
    ("tub", "ec"), ("film", "ec"), ("vine", "ph"), ("tub", "ph"), ("tub", "solution-temperature"), ("tub", "oxygen"),
    ("film", "topped-up"), ("room", "humidity"), ("tub", "light"),
]  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(
    where=st.sampled_from(MEASURED),
    share=st.floats(0, 1),
    litres=st.floats(0.01, 1e6),
    water=st.builds(Water, ec=st.none() | st.floats(0, 5), alkalinity=st.none() | st.floats(0, 1000)),
    acid=st.builds(
        Acid, kind=st.sampled_from(["nitric", "phosphoric", "sulfuric", "citric"]), strength=st.floats(0.001, 20)
    ),
    base=st.builds(Base, strength=st.floats(0.001, 20)),
    feed=st.builds(Feed, rise=st.none() | st.floats(0.001, 10), parts=st.integers(1, 3)),
    us=st.booleans(),
)
def test_no_reading_is_too_odd(
    any_school: School, where: tuple[str, str], share: float, litres: float, water: Water, acid: Acid, base: Base,
    feed: Feed, us: bool,
) -> None:  # fmt: skip
    """Any value that can be typed, for any tank: no crash, never a milder verdict, and adults' work is marked."""
    units = "US" if us else "metric"
    with_room(any_school, water=water, acid=acid, base=base, feed=feed, units=units)
    for tank in ("tub", "channels"):
        with_tank(any_school, litres, tank)
    asked = any_school.room.question(*where)
    assert asked is not None
    assert asked.reading is not None
    low, high = asked.reading.possible
    plain, told = judged(any_school, *where, low + share * (high - low))
    assert VERDICTS.index(told.verdict) >= VERDICTS.index(plain.verdict)
    assert told.why.startswith(plain.why)
    for meaning in told.meanings:
        pupil, _, adult = meaning.do.partition("For an adult:")
        assert "mol/L" not in pupil
        assert "concentrate" not in pupil
        assert not re.search(r"\b(nan|inf)\b", f"{meaning.do} {meaning.job} {meaning.why}")
        assert not adult or meaning.who == "adult"
