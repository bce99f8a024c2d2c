"""Free places, day by day."""

from datetime import date, timedelta

from walkabout.almanac.course import courses
from walkabout.almanac.model import Basis, Conditions
from walkabout.almanac.places import free, leaves
from walkabout.growing.crops import load
from walkabout.records.model import Loss, Move, Picking, Planting
from walkabout.room.model import Room, Station

TODAY = date(2026, 11, 25)
CROPS = load()
ROOM = Room(
    stations=(
        Station(key="rack", name="Sprout rack", kind="shelf", places=60),
        Station(key="raft", name="Raft tub", kind="raft", places=30),
        Station(key="sill", name="Window", kind="pots"),
    )
)


def day(ahead: int) -> date:
    return TODAY + timedelta(days=ahead)


def planting(key: str, crop: str, count: int, *stays: tuple[int, str], **more: object) -> Planting:
    """A planting; each stay is (days from today, station), the first on its day of sowing."""
    path = tuple(Move(day=day(ahead), station=station) for ahead, station in stays)
    return Planting(key=key, crop=crop, sown=path[0].day, count=count, moves=path, **more)  # type: ignore[arg-type]


def rows(*plantings: Planting, first: int = 0, last: int = 90) -> dict[str, list[int | None]]:
    basis = Basis(
        room=ROOM, crops=CROPS, checklists={}, today=TODAY, plantings=plantings,
        conditions={"raft": Conditions(air=20.25, light=16), "rack": Conditions(air=20.25, light=16)},
    )  # fmt: skip
    return free(basis, courses(basis, {}), day(first), day(last))


def test_an_empty_room_is_free() -> None:
    """Every place is free on every day, and a station without a number of places stays unknown."""
    found = rows(last=4)
    assert found == {"rack": [60] * 5, "raft": [30] * 5, "sill": [None] * 5}
    assert rows(first=3, last=2) == {"rack": [], "raft": [], "sill": []}


def test_a_planting_takes_its_places_until_the_end_of_picking() -> None:
    """Twelve heads take twelve places until the day after the course ends."""
    one = planting("p-1", "raft-lettuce", 12, (-15, "rack"), (-4, "raft"))
    basis = Basis(room=ROOM, crops=CROPS, checklists={}, today=TODAY, plantings=(one,))
    until = courses(basis, {})["p-1"].until
    assert until is not None
    found = free(basis, courses(basis, {}), TODAY, until + timedelta(days=3))
    assert found["raft"] == [18] * ((until - TODAY).days + 1) + [30] * 3
    assert set(found["rack"]) == {60}


def test_the_past_shows_where_it_stood() -> None:
    """Before it moved it took the places of the rack, with those that were lost since."""
    one = planting("p-1", "raft-lettuce", 12, (-15, "rack"), (-4, "raft"), losses=(Loss(day=day(-6), count=3),))
    found = rows(one, first=-20, last=0)
    assert found["rack"] == [60] * 5 + [45] * 11 + [60] * 5
    assert found["raft"] == [30] * 16 + [18] * 5


def test_seedlings_leave_the_shelf() -> None:
    """Seedlings are gone from a shelf after the late day of moving on, long before they are picked."""
    one = planting("p-1", "lettuce", 40, (0, "rack"))
    found = rows(one)["rack"]
    assert found[0] == 20
    assert found[30] == 60
    assert found.index(60) >= 14


def test_microgreens_and_radishes_stay_on_the_shelf() -> None:
    """What is cut on the shelf, or thinned there, keeps its places until the end of picking."""
    for crop in ("cress", "radish"):
        one = planting("p-1", crop, 5, (0, "rack"))
        basis = Basis(room=ROOM, crops=CROPS, checklists={}, today=TODAY, plantings=(one,))
        course = courses(basis, {})["p-1"]
        assert course.until is not None
        assert leaves(course, basis) == course.until + timedelta(days=1)


def test_what_has_ended_and_what_stays_for_ever() -> None:
    """Ended plants are gone from that day; a fern takes its place for good; picked plants have left."""
    ended = planting("p-1", "lettuce", 4, (-50, "raft"), ended=day(-3), reason="harvested")
    fern = planting("p-2", "boston-fern", 2, (-100, "raft"))
    part = planting("p-3", "basil", 5, (-40, "raft"), pickings=(Picking(day=day(-1), count=3),))
    assert rows(ended, fern, part, first=-4, last=0)["raft"] == [19, 23, 23, 23, 23]
    assert set(rows(fern, last=300)["raft"]) == {28}


def test_never_below_nothing() -> None:
    """More plants than places leave none free, not fewer than none."""
    assert set(rows(planting("p-1", "boston-fern", 99, (-5, "raft")), last=5)["raft"]) == {0}
