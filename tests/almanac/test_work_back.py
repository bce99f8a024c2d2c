"""From a promised day back to the sowing, and forward again."""

from collections.abc import Mapping
from datetime import date, timedelta

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from walkabout.almanac.course import course
from walkabout.almanac.model import Basis, Conditions
from walkabout.almanac.pace import Learned
from walkabout.almanac.work_back import need, smaller, to_sow, work_back
from walkabout.growing import harvest
from walkabout.growing.crops import Crop, load
from walkabout.growing.limits import OutOfRange
from walkabout.records.model import Amount, Move, Planting
from walkabout.room.calendar import day_before, is_walked
from walkabout.room.model import Closure, Room, Station

TODAY = date(2026, 11, 25)
"""A Wednesday."""
CROPS = load()
BREAK = Closure(first=date(2026, 12, 19), last=date(2027, 1, 3), name="winter break")
ROOM = Room(stations=(Station(key="tub", name="Raft tub", kind="raft"),), closures=(BREAK,))
EATEN = [one for one in CROPS if one.eaten and one.harvest is not None]
WEIGHED = [one for one in EATEN if one.key in harvest.load().plant]


def crop(key: str) -> Crop:
    found = CROPS.find(key)
    assert found is not None
    return found


def basis(conditions: Conditions | None = None, room: Room = ROOM) -> Basis:
    known = {"tub": conditions} if conditions else {}
    return Basis(room=room, crops=CROPS, checklists={}, today=TODAY, conditions=known)


def open_day(day: date) -> date:
    return day if is_walked(ROOM, day) else day_before(ROOM, day)


measured = st.builds(
    Conditions,
    air=st.one_of(st.none(), st.floats(12, 32)),
    light=st.one_of(st.none(), st.floats(2, 30)),
)
known = st.one_of(
    st.just({}),
    st.builds(
        Learned,
        st.floats(0.6, 1.8),
        st.floats(0, 0.3),
        st.integers(1, 9),
    ),
)


@settings(max_examples=80, deadline=None)
@given(
    which=st.sampled_from(EATEN),
    ahead=st.integers(0, 500),
    conditions=measured,
    own=known,
    count=st.integers(1, 60),
)
def test_back_and_forward_give_the_promised_day(
    which: Crop, ahead: int, conditions: Conditions, own: Learned | Mapping[str, Learned], count: int
) -> None:
    """Sown on the day found, before it is moved to an open one, nine in ten are ready on the promised day itself."""
    learned = {which.key: own} if isinstance(own, Learned) else {}
    day = open_day(TODAY + timedelta(days=ahead))
    here = basis(conditions)
    plan = work_back(which, count, "heads", day, "tub", here, learned)
    sown = Planting(
        key="p-1", crop=which.key, sown=plan.exact, count=plan.count, moves=(Move(day=plan.exact, station="tub"),)
    )
    # as somebody reckons on the day of sowing, to whom nothing else is known
    then = Basis(room=ROOM, crops=CROPS, checklists={}, today=plan.exact, conditions=here.conditions)
    forward = course(sown, then, learned).stage("harvest")
    assert forward is not None
    assert forward.span.late == day
    assert plan.sow_by <= plan.exact
    assert is_walked(ROOM, plan.sow_by)
    assert plan.sow_by == plan.exact or not is_walked(ROOM, plan.exact)


@settings(max_examples=50, deadline=None)
@given(
    which=st.sampled_from(WEIGHED),
    unit=st.sampled_from(["heads", "portions", "g"]),
    amount=st.integers(1, 40),
)
def test_what_is_sown_is_enough_nine_times_in_ten(which: Crop, unit: Amount, amount: int) -> None:
    """Ready and enough, both together, with more than eight chances in ten; never fewer sown than are needed."""
    assume(which.group != "microgreen" or unit == "heads")
    plan = work_back(which, amount, unit, date(2027, 2, 10), None, basis(), {})
    assert plan.count >= plan.plants >= 1
    assert plan.chance >= 0.8
    assert plan.ready.early <= plan.ready.likely <= plan.ready.late <= date(2027, 2, 10)
    assert plan.working


def test_a_tray_must_be_weighed_before_portions_of_it_are_promised() -> None:
    """Microgreens are counted in trays; what a tray gives is not in any table."""
    cress = next(one for one in WEIGHED if one.group == "microgreen")
    with pytest.raises(ValueError, match="counted in trays"):
        work_back(cress, 10, "portions", date(2027, 2, 10), None, basis(), {})
    assert work_back(cress, 2, "heads", date(2027, 2, 10), None, basis(), {}).plants == 2


def test_the_lettuce_of_the_handbook_on_paper() -> None:
    """35 days known by one figure may miss it by a tenth: with air and light as it asks, 39 days before the day."""
    here = basis(Conditions(air=21.5, light=17))
    plan = work_back(crop("raft-lettuce"), 20, "heads", date(2027, 3, 5), "tub", here, {})
    assert plan.exact == date(2027, 1, 25)
    assert plan.sow_by == date(2027, 1, 25)
    assert plan.plants == 20


def test_a_closed_day_is_refused_and_a_sowing_never_falls_on_one() -> None:
    """Nobody can be promised a harvest on a day on which nobody comes; the sowing is moved before the closure."""
    with pytest.raises(ValueError, match="Tuesday 22 Dec is no open day"):
        work_back(crop("lettuce"), 5, "heads", date(2026, 12, 22), None, basis(), {})
    plans = [
        work_back(crop("radish"), 5, "heads", open_day(date(2027, 1, 4) + timedelta(days=more)), None, basis(), {})
        for more in range(40)
    ]
    moved = [one for one in plans if BREAK.first <= one.exact <= BREAK.last]
    assert moved
    assert {one.sow_by for one in moved} == {date(2026, 12, 18)}


def test_the_rooms_own_survival_and_grams_are_used() -> None:
    """Where more survive, fewer are sown; where a plant gives less, more plants are needed."""
    day = date(2027, 3, 5)
    usual = work_back(crop("lettuce"), 20, "portions", day, None, basis(), {})
    sure = {"lettuce": Learned(survival=0.97, lost_spread=0.03, seen=8)}
    light = {"lettuce": Learned(grams=75.0, grams_seen=8)}
    assert work_back(crop("lettuce"), 20, "portions", day, None, basis(), sure).count < usual.count
    small = work_back(crop("lettuce"), 20, "portions", day, None, basis(), light)
    assert usual.plants == 11
    assert small.plants == 22
    assert small.count > usual.count
    assert any("as weighed in this room" in line for line in small.working)


def test_the_margin_on_paper() -> None:
    """Of plants that live with 0.8 each for itself, 13 must be sown so that 9 are left nine times in ten.

    The binomial law: of 13 sown 9 or more are left with 0.9009, of 12 with 0.7946.
    """
    nine = need(crop("lettuce"), 9, "heads", {})
    assert to_sow(nine, 0.8, 0.0) == 13
    assert to_sow(nine, 1.0, 0.0) == 9
    assert to_sow(nine, 0.8, 0.14) > 13


@pytest.mark.parametrize(
    ("key", "unit", "why"),
    [("maidenhair-fern", "heads", "not food"), ("geranium", "g", "")],
)
def test_what_cannot_be_promised_says_why(key: str, unit: Amount, why: str) -> None:
    """A fern is not food, and where no mass is known none can be promised: one clear sentence."""
    with pytest.raises(ValueError, match=why or "known"):
        work_back(crop(key), 5, unit, date(2027, 3, 5), None, basis(), {})


def test_a_plant_cut_early_is_smaller() -> None:
    """Threefold in the last third: at its start a third, in its middle the root of that, at the end all of it."""
    lettuce = crop("lettuce")
    assert smaller(lettuce, 60, 20) == pytest.approx(1 / 3, rel=1e-3)
    assert smaller(lettuce, 60, 10) == pytest.approx(3**-0.5, rel=1e-3)
    assert smaller(lettuce, 60, 0) == 1
    with pytest.raises(OutOfRange, match="at most 20 days"):
        smaller(lettuce, 60, 21)
