"""How the entries of the almanac are worded."""

from datetime import UTC, date, datetime, timedelta

from walkabout.almanac.model import Basis, Entry
from walkabout.almanac.whole import almanac
from walkabout.growing.crops import load
from walkabout.records.model import Amount, Move, Planting, Promise
from walkabout.room.model import Closure, Room, Station

TODAY = date(2026, 11, 25)
"""A Wednesday."""
NOW = datetime(2026, 11, 1, 9, tzinfo=UTC)
ROOM = Room(
    closures=(Closure(first=date(2026, 12, 19), last=date(2027, 1, 3), name="winter break"),),
    stations=(
        Station(key="shelf", name="Sprout rack", kind="shelf", places=40),
        Station(key="trays", name="Green trays", kind="greens", places=4),
    ),
)


def planting(key: str, crop: str, ago: int, count: int, station: str) -> Planting:
    sown = TODAY - timedelta(days=ago)
    return Planting(key=key, crop=crop, sown=sown, count=count, moves=(Move(day=sown, station=station),))


def promised(key: str, crop: str, amount: float, unit: Amount, day: date) -> Promise:
    return Promise(key=key, crop=crop, amount=amount, unit=unit, day=day, people="class 8b", made=NOW, by="AR")


def entries(*plantings: Planting, promises: tuple[Promise, ...] = ()) -> dict[str, Entry]:
    basis = Basis(
        room=ROOM, crops=load(), checklists={}, today=TODAY, plantings=plantings, promises=promises
    )  # fmt: skip
    return {one.uid: one for one in almanac(basis, TODAY, TODAY + timedelta(weeks=12)).entries}


def test_a_day_to_come_is_called_this_day() -> None:
    """The entry stands under its own day, so it never speaks of now; one plant is singular."""
    found = entries(planting("p-1", "lettuce", 30, 12, "shelf"), planting("p-2", "lettuce", 80, 1, "shelf"))
    later, sooner = found["harvest/p-1"], found["harvest/p-2"]
    assert later.day > sooner.day > TODAY
    assert later.says == "lettuce ready from about this day (12 plants)"
    assert sooner.says == "lettuce ready from about this day (1 plant)"


def test_small_greens_are_trays_in_every_entry() -> None:
    """Two trays of cress are ready, promised and to be sown; never two plants or heads."""
    far = promised("pr-1", "cress", 2, "heads", date(2027, 1, 20))
    found = entries(planting("p-1", "cress", 3, 2, "trays"), promises=(far,))
    assert found["harvest/p-1"].says.endswith("(2 trays)")
    assert found["promise/pr-1"].says.startswith("2 trays of cress for class 8b: ")
    assert " trays of cress for class 8b" in found["sow/pr-1"].says
    assert not [one for one in found.values() if "heads" in one.says + one.detail or "plants" in one.says]


def test_a_promise_that_cannot_be_met_says_so_in_words() -> None:
    """The line ends in words, not in the bare outlook; the others keep theirs."""
    lost = promised("pr-1", "lettuce", 20, "heads", TODAY + timedelta(days=2))
    shut = promised("pr-2", "lettuce", 20, "heads", date(2026, 12, 25))
    found = entries(promises=(lost, shut))
    for key in ("promise/pr-1", "promise/pr-2"):
        assert found[key].says == "20 heads of lettuce for class 8b: cannot be met as it stands"
        assert found[key].warns
    ready = entries(
        planting("p-1", "lettuce", 70, 40, "shelf"),
        promises=(promised("pr-1", "lettuce", 4, "heads", TODAY + timedelta(days=1)),),
    )
    assert ready["promise/pr-1"].says == "4 heads of lettuce for class 8b: on course"
