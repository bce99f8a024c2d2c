"""What a sowing would come to, while somebody still chooses."""

import time
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.almanac.course import courses
from walkabout.almanac.learned import learned
from walkabout.almanac.model import Basis, Conditions
from walkabout.almanac.what_if import WhatIf, what_if
from walkabout.growing.crops import load
from walkabout.records.model import Move, Planting, Promise
from walkabout.room.model import Closure, Room, Station

TODAY = date(2026, 11, 25)
"""A Wednesday."""
NOW = datetime(2026, 11, 1, 9, tzinfo=UTC)
CROPS = load()
BREAK = Closure(first=date(2026, 12, 19), last=date(2027, 1, 3), name="winter break")
ROOM = Room(
    closures=(BREAK,),
    stations=(
        Station(key="shelf", name="Sprout rack", kind="shelf", places=40),
        Station(key="tub", name="Raft tub", kind="raft", places=24),
        Station(key="pots", name="Window pots", kind="pots"),
    ),
)
GOOD = {key: Conditions(air=18.5, light=14) for key in ("shelf", "tub", "pots")}


def planting(key: str, crop: str, ago: int, count: int, station: str = "tub") -> Planting:
    sown = TODAY - timedelta(days=ago)
    moves = (Move(day=sown, station="shelf"), Move(day=sown + timedelta(days=ago // 2), station=station))
    return Planting(key=key, crop=crop, sown=sown, count=count, moves=moves)


def promised(amount: float, day: date, crop: str = "lettuce") -> Promise:
    return Promise(key="pr-1", crop=crop, amount=amount, unit="heads", day=day, people="class 8b", made=NOW, by="AR")


def basis(*plantings: Planting, promises: tuple[Promise, ...] = (), room: Room = ROOM) -> Basis:
    return Basis(
        room=room, crops=CROPS, checklists={}, today=TODAY, plantings=plantings, promises=promises, conditions=GOOD
    )


def asked(here: Basis, crop: str, station: str, count: int, day: date = TODAY) -> WhatIf:
    known = learned(here)
    return what_if(crop, station, count, day, here, courses(here), known)


def test_the_days_are_those_of_a_real_sowing() -> None:
    """What is shown before sowing is what the course says once it is sown and nothing is known of it yet."""
    found = asked(basis(), "lettuce", "tub", 12)
    sown = Planting(key="p-1", crop="lettuce", sown=TODAY, count=12, moves=(Move(day=TODAY, station="tub"),))
    assert found.stages == courses(basis(sown))["p-1"].stages
    harvest = next(one for one in found.stages if one.stage == "harvest")
    assert harvest.span.early < harvest.span.likely < harvest.span.late
    likely = harvest.span.likely
    assert found.says[0].startswith(f"Lettuce: ready about {likely:%A} {likely.day} {likely:%b} (")


def test_a_harvest_in_a_closure_clashes() -> None:
    """Radishes sown now are ready in the winter break: that is said, and a sowing after it has no such clash."""
    found = asked(basis(), "radish", "tub", 12)
    assert any(says.startswith("The harvest falls into winter break (") for says in found.clashes)
    assert "The harvest falls into winter break (19 Dec to 3 Jan), when nobody comes." in found.says
    later = asked(basis(), "radish", "tub", 12, date(2027, 1, 11))
    assert later.clashes == ()


def test_small_greens_are_sown_in_trays() -> None:
    """What is said of cress begins with its trays; too many of them are refused as trays."""
    assert asked(basis(), "cress", "tub", 2).says[0].startswith("2 trays of cress: ready about ")
    with pytest.raises(ValueError, match=r"100,000 trays"):
        asked(basis(), "cress", "tub", 1_000_000)


def test_a_sowing_on_a_closed_day_is_pointed_out() -> None:
    """Nobody is there to sow on a Sunday."""
    found = asked(basis(), "radish", "tub", 12, date(2026, 11, 29))
    assert "Nobody is there to sow on Sunday 29 Nov." in found.clashes


def test_places_are_counted_on_the_shelf_and_at_the_station() -> None:
    """Lettuce stands on the shelf first, then on the raft, where others still stand: too few places are said."""
    here = basis(planting("p-1", "raft-lettuce", 12, 14), planting("p-2", "tomato", 60, 10))
    found = asked(here, "lettuce", "tub", 30)
    shelf, tub = found.places
    assert (shelf.station, shelf.free, shelf.needed) == ("shelf", 40, 30)
    assert tub.station == "tub"
    assert tub.first > TODAY
    assert tub.free is not None
    assert tub.free < 24
    short = 30 - tub.free
    assert f"Raft tub: {short} places too few ({tub.free} free, 30 needed)." in found.says


def test_the_fullest_day_decides() -> None:
    """Places that come free only later are not free for a sowing that needs them before: the fullest day counts."""
    going = planting("p-1", "raft-lettuce", 30, 14)
    found = asked(basis(going), "radish", "tub", 12)
    (tub,) = found.places
    until = courses(basis(going))["p-1"].until
    assert until is not None
    assert tub.first < until < tub.last
    assert tub.free == 10


def test_what_is_sown_in_place_needs_no_shelf() -> None:
    """Microgreens stay where they are sown; a station without written places says so."""
    found = asked(basis(), "cress", "pots", 40)
    assert [one.station for one in found.places] == ["pots"]
    assert "Window pots: how many places it has is not written down." in found.says


def test_a_promise_is_helped() -> None:
    """A sowing in time for a promise raises its chance; one too late, or of another crop, does not."""
    promise = promised(20, date(2027, 1, 27))
    found = asked(basis(promises=(promise,)), "lettuce", "tub", 40)
    (helped,) = found.helps
    assert helped.promise == promise
    assert helped.before == 0
    assert helped.after > 0.8
    assert found.says[-1].startswith("Helps class 8b, Wednesday 27 Jan: from under 1 to ")
    assert asked(basis(promises=(promise,)), "basil", "tub", 40).helps == ()
    assert asked(basis(promises=(promise,)), "lettuce", "tub", 40, date(2027, 1, 11)).helps == ()


@settings(max_examples=40, deadline=None)
@given(
    crop=st.sampled_from([one.key for one in CROPS]),
    station=st.sampled_from(["shelf", "tub", "pots"]),
    count=st.integers(1, 500),
    ahead=st.integers(0, 200),
)
def test_every_crop_can_be_asked_for(crop: str, station: str, count: int, ahead: int) -> None:
    """For every crop, place and day there are sentences, and no stage lies before the sowing."""
    day = TODAY + timedelta(days=ahead)
    found = asked(basis(), crop, station, count, day)
    assert found.says
    assert all(says.endswith(".") and "!" not in says for says in found.says)
    assert all(one.span.early >= day for one in found.stages)
    assert all(one.first <= one.last and one.needed == count for one in found.places)


@pytest.mark.parametrize(
    ("crop", "station", "count", "why"),
    [
        ("moon grass", "tub", 5, "no crop is called 'moon grass'"),
        ("lettuce", "attic", 5, "no station is called 'attic'"),
        ("lettuce", "tub", 0, "sow 1 to 100,000 plants, not 0"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(crop: str, station: str, count: int, why: str) -> None:
    """An unknown crop or place and a number that cannot be: one clear sentence."""
    with pytest.raises(ValueError, match=why):
        asked(basis(), crop, station, count)


def test_it_is_shown_at_once() -> None:
    """With two hundred plantings and twenty promises it takes about as long as a key stroke."""
    crops = ("lettuce", "basil", "mizuna", "radish", "pak-choi")
    rows = tuple(planting(f"p-{n}", crops[n % 5], n * 7 % 71 + 2, 4 + n % 30) for n in range(200))
    promises = tuple(
        Promise(
            key=f"pr-{n}", crop=crops[n % 5], amount=8 + n, unit="heads", day=TODAY + timedelta(days=2 + 3 * n),
            people="class 8b", made=NOW, by="AR",
        )
        for n in range(20)
    )  # fmt: skip
    here = basis(*rows, promises=promises)
    known, ways = learned(here), courses(here)
    took = []
    for n in range(7):
        begun = time.perf_counter()
        what_if(crops[n % 5], "tub", 20, TODAY + timedelta(days=n), here, ways, known)
        took.append(time.perf_counter() - begun)
    assert sorted(took)[3] < 0.05
