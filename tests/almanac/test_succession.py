"""Sowing plans: they fit the places free, keep to open days, and say honestly what they cannot do."""

from collections import Counter
from collections.abc import Sequence
from datetime import date, timedelta
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.almanac import sowing_fit
from walkabout.almanac.course import courses
from walkabout.almanac.learned import learned
from walkabout.almanac.model import Basis, Conditions
from walkabout.almanac.sowing_batches import Batch, Stay
from walkabout.almanac.sowing_fit import Fitting
from walkabout.almanac.succession import SuccessionPlan, plan
from walkabout.almanac.wanted import Wanted, counted, read_wanted
from walkabout.growing.crops import load
from walkabout.records.model import Move, Planting
from walkabout.room.calendar import is_walked
from walkabout.room.model import Closure, Lamp, Room, Station

TODAY = date(2026, 11, 25)
CROPS = load()
WINTER = Closure(first=date(2026, 12, 19), last=date(2027, 1, 3), name="winter")
HALF_TERM = Closure(first=date(2027, 2, 15), last=date(2027, 2, 21), name="half-term")


def station(key: str, kind: str, places: int | None, lamps: tuple[str, ...] = ("bar",)) -> Station:
    return Station(key=key, name=key.capitalize(), kind=kind, places=places, lamps=lamps)


def basis(
    shelf: int | None = 90,
    raft: int | None = 30,
    drum: int | None = 60,
    closures: tuple[Closure, ...] = (),
    plantings: tuple[Planting, ...] = (),
) -> Basis:
    stations = (
        station("shelf", "shelf", shelf),
        station("raft", "raft", raft),
        station("drum", "drum", drum),
        station("trays", "greens", 12),
        station("sill", "pots", 40, lamps=()),
    )
    room = Room(name="Small room", lamps={"bar": Lamp()}, closures=closures, stations=stations)
    conditions = {one.key: Conditions(air=21.0, light=15.0) for one in stations}
    return Basis(room=room, crops=CROPS, checklists={}, today=TODAY, plantings=plantings, conditions=conditions)


def stays(key: str, crop: str, count: int, at: str) -> Planting:
    """Return plants that stand there and never leave."""
    sown = TODAY - timedelta(days=400)
    return Planting(key=key, crop=crop, sown=sown, count=count, moves=(Move(day=sown, station=at),))


def planned(on: Basis, **given_: object) -> SuccessionPlan:
    usual = {"crop": "lettuce", "amount": 6.0, "unit": "heads", "first": date(2027, 2, 1), "last": date(2027, 3, 12)}
    wanted = Wanted(**{**usual, **given_})  # type: ignore[arg-type]
    known = learned(on)
    return plan(wanted, on, courses(on, known), known)


def most_standing(found: SuccessionPlan) -> dict[str, Counter[date]]:
    """Count again, from the sowings alone, how many plants of the plan stand where on which day."""
    there: dict[str, Counter[date]] = {}
    for one in found.sowings:
        day = one.day
        while day <= one.until:
            where = one.shelf if one.moves_on is not None and day < one.moves_on else one.station
            there.setdefault(where, Counter())[day] += one.count
            day += timedelta(days=1)
    return there


def must_hold(found: SuccessionPlan, on: Basis, taken: dict[str, int]) -> None:
    """Hold a plan against what no plan may break; `taken` places are never free."""
    for where, days in most_standing(found).items():
        place = on.room.station(where)
        assert place is not None
        assert place.places is None or max(days.values()) + taken.get(where, 0) <= place.places
    for one in found.sowings:
        assert one.count > 0
        assert one.day >= on.today
        assert is_walked(on.room, one.day)
        assert one.moves_on is None or (one.day < one.moves_on <= one.ready and is_walked(on.room, one.moves_on))
        assert one.likely <= one.ready <= one.until
    open_in = {week.day: week for week in found.weeks}
    for one in found.sowings:
        for first in one.weeks:
            assert open_in[first].wanted > 0
            week = [first + timedelta(days=ahead) for ahead in range(7 - first.weekday())]
            assert any(is_walked(on.room, day) and one.ready <= day <= one.until for day in week)


# what every plan keeps to


@settings(max_examples=15, deadline=None)
@given(
    shelf=st.integers(0, 40),
    raft=st.integers(0, 20),
    drum=st.integers(0, 25),
    taken=st.fixed_dictionaries({"raft": st.integers(0, 8), "drum": st.integers(0, 8)}),
    amount=st.integers(1, 12),
    unit=st.sampled_from(["heads", "portions"]),
    crop=st.sampled_from(["lettuce", "basil", "radish", "pak-choi"]),
    begins=st.integers(40, 90),
    weeks=st.integers(1, 3),
    closed=st.tuples(st.integers(0, 90), st.integers(0, 20)),
)
def test_no_station_ever_holds_more_than_it_has_places(
    shelf: int,
    raft: int,
    drum: int,
    taken: dict[str, int],
    amount: int,
    unit: str,
    crop: str,
    begins: int,
    weeks: int,
    closed: tuple[int, int],
) -> None:
    """Whole numbers, open days, ready and still good in the week, and never more plants than places."""
    closure = Closure(first=TODAY + timedelta(days=closed[0]), last=TODAY + timedelta(days=sum(closed)))
    standing = tuple(stays(f"p-{key}", "ficus", count, key) for key, count in taken.items() if count)
    on = basis(shelf, raft, drum, (closure,), standing)
    first = TODAY + timedelta(days=begins)
    last = first + timedelta(days=7 * weeks)
    where = ("raft", "drum")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sowing_fit, "SECONDS", 0.8)
        found = planned(on, crop=crop, amount=float(amount), unit=unit, first=first, last=last, stations=where)

    must_hold(found, on, taken)
    needed = counted(found.wanted, CROPS.of[crop], learned(on)).sow
    for week in found.weeks:
        got = sum(one.count for one in found.sowings if week.day in one.weeks)
        assert (week.short == 0) == (not week.wanted or got >= needed)
        assert week.short == 0 or week.expected + week.short == week.wanted
    assert bool(found.conflicts) == found.short


def bare(days: Sequence[tuple[int, int, int, tuple[int, ...]]]) -> list[Batch]:
    """Return batches at one station from (sown, from, to, weeks), in days."""
    at = [TODAY + timedelta(days=one) for one in range(20)]
    return [
        Batch(
            sown=at[sown],
            shelf="",
            moves_on=None,
            station="raft",
            likely=at[last],
            ready=at[last],
            stays=(Stay("raft", at[first], at[last]),),
            weeks=weeks,
        )
        for sown, first, last, weeks in days
    ]


@settings(max_examples=30, deadline=None)
@given(
    batches=st.lists(
        st.tuples(st.integers(0, 3), st.integers(0, 4), st.integers(4, 9), st.sampled_from([(0,), (1,), (0, 1)])),
        min_size=1,
        max_size=4,
    ),
    free=st.lists(st.integers(0, 3), min_size=10, max_size=10),
    needed=st.tuples(st.integers(1, 3), st.integers(1, 3)),
)
def test_no_other_plan_brings_more(
    batches: list[tuple[int, int, int, tuple[int, ...]]], free: list[int], needed: tuple[int, int]
) -> None:
    """Of all plans there are, tried one by one, none misses fewer plants, and none gives both weeks more alike."""
    fitting = Fitting(bare(batches), needed, {"raft": free}, TODAY)
    least, alike = sum(needed), 0
    for counts in product(range(4), repeat=len(batches)):
        standing = [0] * 10
        for count, (_, first, last, _) in zip(counts, batches, strict=True):
            for day in range(first, last + 1):
                standing[day] += count
        if any(one > room for one, room in zip(standing, free, strict=True)):
            continue
        got = [sum(n for n, one in zip(counts, batches, strict=True) if week in one[3]) for week in (0, 1)]
        least = min(least, sum(max(want - one, 0) for want, one in zip(needed, got, strict=True)))
        alike = max(alike, min(*got, *needed))
    found = fitting.fit(lambda _: None)
    each = fitting.most_each_week((0, 1), lambda _: None)

    assert found.fewest_missing
    assert sum(found.missing) == least
    assert min(want - one for want, one in zip(needed, each.missing, strict=True)) == alike


# what is wanted, and when


def test_enough_room_means_nothing_is_short() -> None:
    """With places to spare every week gets what it wants, and one may begin to eat."""
    found = planned(basis())

    assert not found.short
    assert found.nearest == ""
    assert all(week.expected >= 6 for week in found.weeks)


def test_closed_weeks_want_nothing() -> None:
    """A week without an open day has no demand, which is said with the name of the closure."""
    found = planned(basis(closures=(HALF_TERM,)))

    closed = [week for week in found.weeks if week.day == HALF_TERM.first]
    assert [(week.wanted, week.short) for week in closed] == [(0, 0)]
    assert any("week of 15 Feb 2027 (half-term)" in one for one in found.notes)


def test_too_soon_is_said_with_the_first_day_that_can_be() -> None:
    """A week before anything sown today is ready is short, and the sentence says when it could begin."""
    found = planned(basis(), first=TODAY, last=TODAY + timedelta(days=100))

    assert found.short
    assert found.conflicts[0].startswith("Too soon for the weeks of 25 Nov 2026 to ")
    assert "what is sown on 25 Nov 2026 is ready by" in found.conflicts[0]


def test_what_is_full_is_named_with_its_weeks() -> None:
    """A raft that is too small is named with its places, and so are the weeks that get less."""
    found = planned(basis(raft=12), amount=12.0, stations=("raft",))

    assert found.short
    assert any("Raft (12 places) is full with this plan" in one and "in the weeks of" in one for one in found.conflicts)


def test_what_others_take_is_not_free() -> None:
    """Plants that stay where they are leave no place, and the raft is full even without this plan."""
    full = (stays("p-1", "ficus", 30, "raft"),)
    found = planned(basis(plantings=full), stations=("raft",))

    assert found.sowings == ()
    assert any("Raft (30 places) is full between" in one for one in found.conflicts)
    assert found.nearest == "Nothing fits: begin later, name more stations, or free places first."


def test_the_nearest_offer_fits_and_one_more_does_not() -> None:
    """Asked for instead, the amount that is offered leaves nothing short; one head more does."""
    on = basis(raft=25)
    offer = planned(on, amount=12.0, stations=("raft",)).nearest_amount

    assert 0 < offer < 12
    assert not planned(on, amount=offer, stations=("raft",)).short
    assert planned(on, amount=offer + 1, stations=("raft",)).short


def test_a_full_shelf_holds_everything_back() -> None:
    """Where the shelf is the bottleneck it is the shelf that is named."""
    found = planned(basis(shelf=4), last=date(2027, 2, 12), stations=("drum",))

    assert found.short
    assert any("Shelf (4 places) is full with this plan" in one for one in found.conflicts)


def test_herbs_are_picked_again() -> None:
    """One sowing of basil serves several weeks where it is picked, but not where whole plants are taken."""
    picked = planned(basis(), crop="basil", unit="portions", amount=20.0, stations=("drum",))
    taken = planned(basis(), crop="basil", unit="heads", amount=5.0, stations=("drum",))

    assert not picked.short
    assert max(len(one.weeks) for one in picked.sowings) >= 3
    assert {len(one.weeks) for one in taken.sowings} == {1}


def test_small_greens_are_sown_where_they_stay() -> None:
    """Trays of cress go to the station for small greens without a stop on the shelf."""
    found = planned(basis(), crop="cress", amount=2.0)

    assert {(one.shelf, one.station, one.moves_on) for one in found.sowings} == {("trays", "trays", None)}


def test_without_a_shelf_it_is_sown_in_place() -> None:
    """A room without a sowing shelf sows where the crop is to grow, and says so."""
    on = basis()
    room = Room(name="No shelf", lamps=on.room.lamps, stations=on.room.stations[1:])
    found = planned(Basis(room=room, crops=CROPS, checklists={}, today=TODAY))

    assert all(one.moves_on is None and one.shelf == one.station for one in found.sowings)
    assert "There is no sowing shelf: everything is sown where it is to grow." in found.notes


def test_where_such_crops_grow_or_where_there_is_light() -> None:
    """Stations of a kind where the group grows are taken; without any, those with places and a lamp."""
    grows = planned(basis(plantings=(stays("p-1", "mizuna", 2, "drum"),)))
    nobody = planned(basis())

    assert {one.station for one in grows.sowings} == {"drum"}
    assert {one.station for one in nobody.sowings} <= {"raft", "drum"}
    assert any("they have places and a lamp" in one for one in nobody.notes)


def test_places_that_nobody_wrote_down_are_said() -> None:
    """A named station without a number of places is taken to have room, which is said."""
    found = planned(basis(raft=None), amount=40.0, stations=("raft",), unit="heads")

    assert any("does not say how many places Raft has" in one for one in found.notes)


def test_a_search_that_is_stopped_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """With hardly any time the plan still holds, and calls itself good but perhaps not the best."""
    monkeypatch.setattr(sowing_fit, "SECONDS", 0.0)
    on = basis(raft=24, drum=24, closures=(WINTER, HALF_TERM))
    found = planned(on, amount=12.0, last=date(2027, 12, 20), stations=("raft", "drum"))

    must_hold(found, on, {})
    if found.sowings:
        assert any("perhaps not the best" in one for one in found.notes)
    else:
        assert any("stopped before it found any plan" in one for one in found.conflicts)


def test_progress_is_told() -> None:
    """Whoever waits hears how many weeks are laid out and what is being looked for."""
    heard: list[str] = []
    on = basis()
    wanted = read_wanted("lettuce", "6 heads", "week", "2027-02-01", "2027-03-12", (), on)
    plan(wanted, on, courses(on), learned(on), heard.append)

    assert heard[0] == "Laying out 6 weeks"
    assert heard[1].startswith("6 weeks laid out, ")
    assert "6 weeks laid out; looking for the fewest missing plants" in heard


# what is typed


def typed(**given_: str) -> Wanted:
    usual = {"crop": "lettuce", "amount": "12 heads", "every": "week", "first": "2027-01-11", "last": "2027-03-26"}
    return read_wanted(**{**usual, **given_}, stations=(), basis=basis())  # type: ignore[arg-type]


@pytest.mark.parametrize(("every", "weeks"), [("week", 1), ("2 weeks", 2), ("fortnight", 2), ("every third week", 3)])
def test_how_often(every: str, weeks: int) -> None:
    """Every week, or every so many, as people say it."""
    assert typed(every=every).every == weeks


def test_trays_are_whole_small_greens() -> None:
    """Two trays of cress are two of what its plantings count."""
    wanted = typed(crop="cress", amount="2 trays")
    assert (wanted.amount, wanted.unit) == (2, "heads")


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"crop": "letuce"}, "did you mean lettuce?"),
        ({"crop": "ficus"}, "nothing of"),
        ({"amount": "some"}, "the amount 'some' is not clear"),
        ({"amount": "0 heads"}, "more than nothing"),
        ({"every": "day"}, "--every takes"),
        ({"every": "60 weeks"}, "--every takes"),
        ({"first": "tomorrow"}, "is no day"),
        ({"last": "2026-12-01"}, "is before the first"),
        ({"first": "2026-01-01", "last": "2026-02-01"}, "is over"),
        ({"last": "2040-01-01"}, "two years ahead at most"),
    ],
)
def test_what_cannot_be_is_one_sentence(wrong: dict[str, str], says: str) -> None:
    """Whatever is mistyped is said in one line that names it."""
    with pytest.raises(ValueError, match=r".") as caught:
        typed(**wrong)
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)


def test_grams_of_small_greens_need_a_tray_that_was_weighed() -> None:
    """Nobody knows what a tray gives before one was weighed here."""
    with pytest.raises(ValueError, match="counted in trays"):
        planned(basis(), crop="cress", unit="g", amount=200.0)


def test_an_unknown_station_is_named_with_those_there_are() -> None:
    """A key that is in no room.toml is answered with the keys that are."""
    with pytest.raises(ValueError, match="there is no station 'rafft'; there are: shelf, raft, drum"):
        planned(basis(), stations=("rafft",))


def test_what_few_plants_weigh_is_told_in_small_steps() -> None:
    """Asked for far more than there is room for, the plan still says what it brings, and offers what fits."""
    found = planned(basis(raft=12), unit="g", amount=200_000.0, stations=("raft",), last=date(2027, 2, 5))

    assert [week.expected > 300 for week in found.weeks] == [True]
    assert 300 < found.nearest_amount < 1800
    assert not planned(
        basis(raft=12), unit="g", amount=found.nearest_amount, stations=("raft",), last=date(2027, 2, 5)
    ).short


def test_a_long_plan_does_not_claim_more_than_was_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where not every day of sowing was tried, the plan does not call itself the best of all."""
    monkeypatch.setattr(sowing_fit, "SECONDS", 1.0)
    found = planned(basis(raft=90), amount=3.0, last=date(2028, 2, 1), stations=("raft", "drum"))

    assert found.sowings
    assert not any(one.startswith("No plan brings more") for one in found.notes)
    assert any(one.startswith("No plan brings more") for one in planned(basis()).notes)
