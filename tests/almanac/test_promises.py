"""How promises stand: what is in hand, what is missing, what to sow by when, what would help."""

import time
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from walkabout.almanac.course import courses
from walkabout.almanac.learned import learned
from walkabout.almanac.model import Basis, Conditions, Foreseen
from walkabout.almanac.promise_case import case
from walkabout.almanac.promises import ON_COURSE, SOON_DAYS, foresee
from walkabout.almanac.way import Paces, toward
from walkabout.growing.crops import load
from walkabout.records.model import Amount, Move, Picking, Planting, Promise, Treatment
from walkabout.room.calendar import is_walked
from walkabout.room.model import Closure, Lamp, Room, Station

TODAY = date(2026, 11, 25)
"""A Wednesday."""
NOW = datetime(2026, 11, 1, 9, tzinfo=UTC)
CROPS = load()
BREAK = Closure(first=date(2026, 12, 18), last=date(2027, 1, 3), name="winter break")
ROOM = Room(
    closures=(BREAK,),
    lamps={"bar": Lamp(watts=60, hours=10)},
    stations=(
        Station(key="shelf", name="Sprout rack", kind="shelf", lamps=("bar",)),
        Station(key="tub", name="Raft tub", kind="raft", lamps=("bar",)),
    ),
)
GOOD = {"shelf": Conditions(air=18.5, light=14), "tub": Conditions(air=18.5, light=14)}
"""As lettuce likes it."""


def planting(key: str, crop: str, ago: int, count: int, *pickings: Picking, **more: object) -> Planting:
    sown = TODAY - timedelta(days=ago)
    return Planting(
        key=key, crop=crop, sown=sown, count=count, moves=(Move(day=sown, station="tub"),), pickings=pickings, **more
    )  # type: ignore[arg-type]


def promise(
    amount: float, day: date, crop: str = "lettuce", unit: Amount = "heads", key: str = "pr-1", **more: object
) -> Promise:
    given = {"made": NOW, **more}
    return Promise(key=key, crop=crop, amount=amount, unit=unit, day=day, people="class 8b", by="AR", **given)  # type: ignore[arg-type]


def basis(plantings: tuple[Planting, ...], *promises: Promise, **more: object) -> Basis:
    given = {"room": ROOM, "conditions": GOOD, "today": TODAY, **more}
    return Basis(crops=CROPS, checklists={}, plantings=plantings, promises=promises, **given)  # type: ignore[arg-type]


def seen(here: Basis) -> list[Foreseen]:
    known, ways = learned(here), courses(here)
    return [foresee(one, here, ways, known) for one in here.promises]


FRIDAY = date(2026, 12, 11)


def test_enough_that_is_surely_ready_is_on_course() -> None:
    """Forty heads that are ready stand for 28: it is on course, and nothing is to be sown or done."""
    (one,) = seen(basis((planting("p-1", "lettuce", 48, 40),), promise(28, FRIDAY)))
    assert one.outlook == "on course"
    assert one.chance > 0.9
    assert (one.sow_by, one.sow_count, one.ways) == (None, 0, ())
    assert one.says.endswith("heads are likely, for 28 promised.")
    assert one.expected == pytest.approx(38, abs=0.5)


def test_too_few_says_how_many_are_missing() -> None:
    """24 of 28 stand: four are missing, and promising fewer is a way out with its chance."""
    (one,) = seen(basis((planting("p-1", "lettuce", 51, 25),), promise(28, FRIDAY)))
    assert one.outlook == "at risk"
    assert one.chance < 0.01
    assert one.says == "24 of 28 heads are likely; four are missing."
    fewer = next(way for way in one.ways if way.says.startswith("Promise"))
    assert fewer.who == "adult"
    assert fewer.chance >= ON_COURSE
    assert fewer.says == "Promise 25 heads in place of 28"


def test_the_chance_is_that_of_many_plays() -> None:
    """Two plantings on their way: the chance agrees with playing their days and their losses, within 0.01."""
    both = (planting("p-1", "lettuce", 38, 20), planting("p-2", "lettuce", 31, 22))
    here = basis(both, promise(24, FRIDAY))
    (one,) = seen(here)
    dice, times = np.random.default_rng(5), 200_000
    total = np.zeros(times)
    for plants in both:
        crop = CROPS.find("lettuce")
        assert crop is not None
        way = toward(plants, crop, "harvest", Paces(GOOD, {}))
        assert way is not None
        days = way.law.median * np.exp(way.law.sigma * dice.standard_normal(times))
        age = (TODAY - plants.sown).days
        survives = 0.8 ** (1 - way.usual(age) / way.law.median)
        weight = 0.16 / 0.15**2 - 1
        share = dice.beta(survives * weight, (1 - survives) * weight, times)
        total += (days <= way.usual((FRIDAY - plants.sown).days)) * dice.binomial(plants.count, share)
    assert one.chance == pytest.approx((total >= 24).mean(), abs=0.01)
    assert one.expected == pytest.approx(total.mean(), abs=0.3)


def test_nothing_sown_yet_says_by_when() -> None:
    """While there is time nothing sown is no danger: how many by which open day, and the chance of that plan."""
    (one,) = seen(basis((), promise(28, date(2027, 3, 5))))
    assert one.outlook == "on course"
    assert one.sow_by is not None
    assert is_walked(ROOM, one.sow_by)
    assert one.sow_by > TODAY + timedelta(days=SOON_DAYS)
    assert one.says == f"Nothing is sown yet: sow {one.sow_count} by {one.sow_by:%A} {one.sow_by.day} {one.sow_by:%b}."
    assert one.chance >= ON_COURSE
    assert one.expected == 0


def test_what_must_be_sown_within_the_week_is_tight() -> None:
    """The nearer the last day, the plainer: from a week before it is tight, and sowing stands among the ways out."""
    (far,) = seen(basis((), promise(28, date(2027, 3, 5))))
    assert far.sow_by is not None
    (near,) = seen(basis((), promise(28, date(2027, 3, 5)), today=far.sow_by - timedelta(days=2)))
    assert (near.outlook, near.sow_by, near.sow_count) == ("tight", far.sow_by, far.sow_count)
    assert near.ways[0].says.startswith(f"Sow {far.sow_count} lettuce by ")
    (over,) = seen(basis((), promise(28, date(2027, 3, 5)), today=far.sow_by + timedelta(days=1)))
    assert over.sow_by is None
    assert over.sow_count == 0
    assert over.chance < far.chance
    assert any("it is late for them" in way.says for way in over.ways)
    assert over.says == "Nothing is sown yet, and it is late: what is sown now may not be ready by Friday 5 Mar."


def test_what_is_missing_is_sown_as_long_as_there_is_time() -> None:
    """A few stand already: only the rest is sown, and the plan makes it as sure as a whole sowing would."""
    (alone,) = seen(basis((), promise(28, date(2027, 3, 5))))
    (one,) = seen(basis((planting("p-1", "kale", 40, 20),), promise(28, date(2027, 1, 29), "kale")))
    assert 0 < one.sow_count < alone.sow_count
    assert one.sow_by is not None
    assert "missing; sow" in one.says
    assert one.chance >= 0.75


def test_too_late_for_anything_cannot() -> None:
    """Nothing grows and nothing sown now can be ready: it cannot be kept, and that is said plainly."""
    (one,) = seen(basis((), promise(5, date(2026, 12, 9))))
    assert (one.outlook, one.chance, one.sow_by, one.ways) == ("cannot", pytest.approx(0, abs=0.01), None, ())
    assert one.says == "Nothing is sown, and it is too late for Wednesday 9 Dec."


def test_a_closed_day_offers_the_open_days_around_it() -> None:
    """Nobody can eat in the winter break: the last open day before it and the first after it are offered."""
    (one,) = seen(basis((planting("p-1", "lettuce", 45, 40),), promise(28, date(2026, 12, 22))))
    assert one.outlook == "cannot"
    assert one.says == "Tuesday 22 Dec falls into winter break: choose Thursday 17 Dec or Monday 4 Jan."
    assert {way.day for way in one.ways} == {date(2026, 12, 17), date(2027, 1, 4)}
    assert [way.chance for way in one.ways] == sorted((way.chance for way in one.ways), reverse=True)
    assert max(way.chance for way in one.ways) > 0.5
    (weekend,) = seen(basis((), promise(28, date(2026, 12, 12))))
    assert weekend.says.startswith("Saturday 12 Dec is no day on which anybody comes: choose Friday 11 Dec or Monday")


def test_the_earlier_promise_is_served_first() -> None:
    """Two promises from the same heads: the earlier keeps its chance, the later has what is left."""
    heads = (planting("p-1", "lettuce", 50, 40),)
    first, second = promise(28, FRIDAY), promise(20, date(2026, 12, 14), key="pr-2")
    (alone,) = seen(basis(heads, first))
    (second_alone,) = seen(basis(heads, second))
    early, late = seen(basis(heads, first, second))
    assert early == alone
    assert second_alone.outlook == "on course"
    assert late.outlook == "at risk"
    assert late.expected == pytest.approx(second_alone.expected - 28, abs=1)
    assert any("first come 28 plants promised for Friday 11 Dec" in line for line in late.working)
    (later_first, earlier) = seen(basis(heads, second, first))
    assert (earlier, later_first) == (early, late)


def test_of_two_on_the_same_day_the_one_made_first_comes_first() -> None:
    """Thirty heads for two promises of 20 on one day: the one that was made first is served first."""
    rows = (planting("p-1", "lettuce", 50, 32),)
    younger = promise(20, FRIDAY, key="pr-1", made=NOW + timedelta(days=3))
    older = promise(20, FRIDAY, key="pr-2", made=NOW)
    late, early = seen(basis(rows, younger, older))
    assert early.outlook == "on course"
    assert late.chance < 0.1


def test_putting_it_off_does_not_take_what_is_promised_next() -> None:
    """Put off beyond the next promise, it comes after that one: no way out is surer than what is left then."""
    rows = (planting("p-1", "lettuce", 40, 40),)
    first, second = promise(28, date(2026, 12, 2)), promise(28, date(2026, 12, 4), key="pr-2")
    (alone,) = seen(basis(rows, first))
    early, _ = seen(basis(rows, first, second))
    off = [way for way in alone.ways if way.day is not None]
    assert off
    assert off[0].day is not None
    assert off[0].day > second.day
    assert off[0].chance > 0.5
    assert all(way.chance < 0.2 for way in early.ways if way.day is not None and way.day > second.day)


@pytest.mark.parametrize(
    ("ages", "days"),
    [((44, 34), (4, 14)), ((40, 40, 30), (8, 20)), ((50, 38), (2, 16)), ((38, 36, 33, 30), (9, 13))],
)
def test_what_an_earlier_promise_leaves_is_that_of_many_plays(ages: tuple[int, ...], days: tuple[int, int]) -> None:
    """Served first by the earlier promise from what is ready then, the later chance agrees with a simulation."""
    rows = tuple(planting(f"p-{n}", "lettuce", ago, 14 + 3 * n) for n, ago in enumerate(ages))
    room = Room(stations=ROOM.stations, days=("mon", "tue", "wed", "thu", "fri", "sat", "sun"))
    on = [TODAY + timedelta(days=ahead) for ahead in days]
    here = basis(rows, promise(12, on[0]), promise(15, on[1], key="pr-2"), room=room)
    _, late = seen(here)
    dice, times = np.random.default_rng(11), 200_000
    soon, then = np.zeros(times), np.zeros(times)
    crop = CROPS.find("lettuce")
    assert crop is not None
    for plants in rows:
        way = toward(plants, crop, "harvest", Paces(GOOD, {}))
        assert way is not None
        needed = way.law.median * np.exp(way.law.sigma * dice.standard_normal(times))
        survives = 0.8 ** max(1 - way.usual((TODAY - plants.sown).days) / way.law.median, 0.0)
        weight = 0.16 / 0.15**2 - 1
        share = dice.beta(survives * weight, (1 - survives) * weight, times) if survives < 1 else 1.0
        left = dice.binomial(plants.count, share)
        first, second = (needed <= way.usual((day - plants.sown).days) for day in on)
        soon += first * left
        then += (second & ~first) * left
    chance = (np.maximum(soon - 12, 0) + then >= 15).mean()
    in_hand = case(here.promises[1], crop, here, {}).chance(on[1])
    assert in_hand == pytest.approx(chance, abs=0.012)
    assert late.chance >= in_hand


def test_a_shortage_of_one_promise_is_not_charged_twice() -> None:
    """The first promise takes what is there; that it was short does not burden the later one, which has its own."""
    plantings = (planting("p-1", "lettuce", 55, 18), planting("p-2", "lettuce", 44, 32))
    first, second = promise(20, date(2026, 11, 27)), promise(20, date(2026, 12, 17), key="pr-2")
    _, late = seen(basis(plantings, first, second))
    assert late.chance > 0.75


def test_promises_from_their_own_plantings_do_not_touch_each_other() -> None:
    """Two promises that name different plantings stand as if each were alone."""
    plantings = (planting("p-1", "lettuce", 55, 25), planting("p-2", "lettuce", 52, 25))
    first = promise(20, FRIDAY, plantings=("p-1",))
    second = promise(20, date(2026, 12, 14), key="pr-2", plantings=("p-2",))
    assert seen(basis(plantings, first, second)) == [*seen(basis(plantings, first)), *seen(basis(plantings, second))]


def test_herbs_grow_back() -> None:
    """Grams of basil taken two weeks before are there again; heads of lettuce are not."""
    herbs = (planting("p-1", "basil", 60, 12),)
    first = promise(200, date(2026, 11, 27), "basil", "g")
    near = promise(200, date(2026, 12, 2), "basil", "g", key="pr-2")
    far = promise(200, date(2026, 12, 16), "basil", "g", key="pr-2")
    assert seen(basis(herbs, first, near))[1].chance < 0.1
    assert seen(basis(herbs, first, far))[1].chance > 0.8


def test_what_was_picked_for_it_counts() -> None:
    """Ten of 28 heads are picked already: 18 are still to come; with all of it picked nothing is missing."""
    ten = Picking(day=TODAY, count=10, grams=1500, promise="pr-1")
    (one,) = seen(basis((planting("p-1", "lettuce", 55, 20, ten),), promise(28, date(2026, 11, 27))))
    assert one.expected == pytest.approx(30)
    assert one.outlook == "on course"
    every = Picking(day=TODAY, count=28, promise="pr-1")
    (done,) = seen(basis((planting("p-1", "lettuce", 55, 2, every),), promise(28, date(2026, 11, 27))))
    assert (done.outlook, done.chance) == ("on course", 1.0)
    assert done.says == "All of it is picked: 28 heads of 28 heads."


def test_heads_that_bolt_are_not_counted() -> None:
    """What was ready long before the day is past its best by then, and the working says so."""
    (one,) = seen(basis((planting("p-1", "lettuce", 90, 40),), promise(28, FRIDAY)))
    assert one.chance < 0.01
    assert any("past its best" in line for line in one.working)
    assert one.says == "What stands of it will be past its best by Friday 11 Dec."


def test_what_would_bolt_is_brought_forward() -> None:
    """The last open day on which it is still on course is offered; the open day after that would be too late."""
    rows = (planting("p-1", "lettuce", 58, 40),)
    (one,) = seen(basis(rows, promise(28, FRIDAY)))
    sooner = next(way for way in one.ways if way.says.startswith("Bring it forward"))
    assert sooner.day is not None
    assert TODAY <= sooner.day < FRIDAY
    (then,) = seen(basis(rows, promise(28, sooner.day)))
    assert then.outlook == "on course"


def test_a_planting_that_stands_apart_waits_its_turn() -> None:
    """Plants in quarantine on the day bring nothing, and the gate says why."""
    apart = planting("p-1", "lettuce", 50, 40, apart_until=date(2026, 12, 20))
    (one,) = seen(basis((apart,), promise(28, FRIDAY)))
    assert one.chance < 0.01
    assert any("stands apart" in line for line in one.blocked)


def test_a_waiting_time_stands_beside_the_chance() -> None:
    """Enough heads are ready, but a label's waiting time runs beyond the day: that is said."""
    wait = Treatment(key="t-1", day=TODAY, station="tub", what="soap", by="AR", at=NOW.replace(day=25), wait_days=30)
    here = basis((planting("p-1", "lettuce", 48, 40),), promise(28, FRIDAY), treatments=(wait,))
    (one,) = seen(here)
    assert any("not to be eaten before" in line for line in one.blocked)


def test_more_light_is_offered_within_the_crops_own_limit() -> None:
    """At 8 mol/m²/d, lettuce is brought up to the low end of its range, 12, by an adult; no way asks for more."""
    dim = {"tub": Conditions(air=18.5, light=8)}
    (one,) = seen(basis((planting("p-1", "lettuce", 52, 34),), promise(28, FRIDAY), conditions=dim))
    light = next(way for way in one.ways if "mol/m²/d" in way.says)
    assert light.says == "Light Raft tub for 15 h a day in place of 10: from 8 to 12 mol/m²/d"
    assert light.who == "adult"
    assert light.chance > one.chance
    (bright,) = seen(basis((planting("p-1", "lettuce", 34, 34),), promise(28, FRIDAY)))
    assert bright.outlook != "on course"
    assert not any("mol/m²/d" in way.says for way in bright.ways)


def test_ways_out_are_few_sure_first_and_really_help() -> None:
    """Over many promises: at most four ways, the surest first, each surer than as it stands, never on a closed day."""
    slipped = 0
    for ago in range(20, 60, 5):
        for amount, unit in ((28, "heads"), (30, "portions"), (2500, "g")):
            here = basis((planting("p-1", "lettuce", ago, 26),), promise(amount, FRIDAY, unit=unit))
            (one,) = seen(here)
            slipped += bool(one.ways)
            chances = [way.chance for way in one.ways]
            assert len(chances) <= 4
            assert chances == sorted(chances, reverse=True)
            assert all(chance > one.chance for chance in chances if one.sow_by is None)
            assert all(is_walked(ROOM, way.day) for way in one.ways if way.day is not None)
            assert all(way.says[0].isupper() and not way.says.endswith(".") for way in one.ways)
    assert slipped > 10


def test_putting_it_off_gives_the_first_day_that_is_on_course() -> None:
    """The day before the one that is offered would not be on course yet."""
    room = Room(stations=ROOM.stations, lamps=ROOM.lamps)
    plants = (planting("p-1", "lettuce", 35, 45),)
    (one,) = seen(basis(plants, promise(28, FRIDAY), room=room))
    later = next(way for way in one.ways if way.day is not None)
    assert later.day is not None
    assert later.chance >= ON_COURSE
    (then,) = seen(basis(plants, promise(28, later.day), room=room))
    assert then.chance == pytest.approx(later.chance)
    before = later.day - timedelta(days=3 if later.day.weekday() == 0 else 1)
    (earlier,) = seen(basis(plants, promise(28, before), room=room))
    assert earlier.chance < ON_COURSE


def test_smaller_portions_and_an_earlier_cut() -> None:
    """Portions may be made smaller, down to three fifths; an earlier cut says how small the heads are then."""
    (few,) = seen(basis((planting("p-1", "lettuce", 52, 18),), promise(30, FRIDAY, unit="portions")))
    smaller = next(way for way in few.ways if way.says.startswith("Serve"))
    assert smaller.says.endswith("g in place of 80 g")
    assert 48 <= int(smaller.says.split()[3]) < 80
    (young,) = seen(basis((planting("p-1", "lettuce", 32, 36),), promise(28, FRIDAY)))
    cut = next(way for way in young.ways if way.says.startswith("Cut"))
    assert "g each in place of 150 g (an estimate)" in cut.says
    assert 90 <= int(cut.says.split("about ")[1].split()[0]) < 150


def test_closed_promises_are_as_they_were_closed() -> None:
    """Kept and called off stay what they are, whatever grows."""
    kept = promise(28, TODAY, closed=NOW, reason="kept: all ate")
    off = promise(28, TODAY, closed=NOW, reason="called off: mildew", key="pr-2")
    first, second = seen(basis((), kept, off))
    assert (first.outlook, first.chance) == ("kept", 1.0)
    assert (second.outlook, second.says) == ("called off", "called off: mildew.")


@pytest.mark.parametrize(
    ("crop", "unit", "says"),
    [
        ("moon grass", "heads", "moon grass is in no crop table: nothing can be reckoned for it."),
        ("maidenhair-fern", "heads", "maidenhair fern is not food."),
    ],
)
def test_what_cannot_be_reckoned_says_so(crop: str, unit: Amount, says: str) -> None:
    """An unknown crop and one that is not food: one clear sentence."""
    (one,) = seen(basis((), promise(5, FRIDAY, crop, unit)))
    assert (one.outlook, one.says) == ("cannot", says)


def test_a_day_that_is_over_asks_for_the_answer() -> None:
    """A promise whose day has passed is not foreseen any more."""
    (one,) = seen(basis((planting("p-1", "lettuce", 60, 40),), promise(28, date(2026, 11, 20))))
    assert (one.outlook, one.says) == ("cannot", "Friday 20 Nov is over: write down whether it was kept.")


def test_every_eaten_crop_can_be_promised() -> None:
    """For every crop that is food, in every unit that has figures, the answer is a chance and one sentence or two."""
    for crop in CROPS:
        for unit in ("heads", "portions", "g"):
            rows = tuple(planting(f"p-{ago}", crop.key, ago, 10) for ago in (5, 30, 80))
            (one,) = seen(basis(rows, promise(12, date(2027, 2, 12), crop.key, unit)))  # type: ignore[arg-type]
            assert 0 <= one.chance <= 1
            assert one.says.endswith(".")
            assert "!" not in one.says
            assert one.sow_by is None or (one.sow_by >= TODAY and one.sow_count > 0)
            assert (one.outlook == "on course") <= (one.chance >= ON_COURSE)


def test_twenty_promises_with_two_hundred_plantings_are_quick() -> None:
    """The median of five runs stays well under what anybody would notice; about 40 ms on a slow machine."""
    crops = ("lettuce", "basil", "mizuna", "radish", "pak-choi")
    rows = tuple(planting(f"p-{n}", crops[n % 5], n * 7 % 71, 4 + n % 30) for n in range(200))
    wanted = tuple(
        promise(8 + n % 20, TODAY + timedelta(days=2 + 3 * n), crops[n % 5], key=f"pr-{n}") for n in range(20)
    )
    here = basis(rows, *wanted)
    known, ways = learned(here), courses(here)
    took = []
    for _ in range(5):
        begun = time.perf_counter()
        for one in wanted:
            foresee(one, here, ways, known)
        took.append(time.perf_counter() - begun)
    assert sorted(took)[2] < 0.25
