"""What the dates say about the days to come."""

from datetime import date, timedelta

import pytest

from walkabout.almanac.ahead import Ahead, ahead
from walkabout.almanac.model import Conditions
from walkabout.growing.crops import Crop, Figure, Range, load
from walkabout.growing.stages import usual
from walkabout.records.model import Move, Picking, Planting, Reached
from walkabout.room.model import Closure, Room

TODAY = date(2026, 11, 25)
"""A Wednesday."""
CROPS = load()
HALF_TERM = Closure(first=date(2026, 11, 30), last=date(2026, 12, 4), name="inspection week")
ROOM = Room(name="A room", closures=(HALF_TERM,))


def crop(key: str) -> Crop:
    found = CROPS.find(key)
    assert found is not None
    return found


def planting(key: str, days_ago: float, *, count: int = 12, moves: int = 1, **more: object) -> Planting:
    sown = TODAY - timedelta(days=round(days_ago))
    path = tuple(Move(day=sown, station=f"place-{number}") for number in range(moves))
    return Planting(key=f"p-{key}", crop=key, sown=sown, count=count, moves=path, **more)  # type: ignore[arg-type]


def says(
    *plantings: Planting, room: Room | None = None, days: int = 21, today: date = TODAY, known: str = ""
) -> list[Ahead]:
    """What is ahead; `known` is the crop whose usual air and light every station has."""
    offers = Conditions(air=usual(crop(known)), light=crop(known).light.high) if known else Conditions()
    conditions = {move.station: offers for one in plantings for move in one.moves}
    return ahead(room or Room(name="A room"), plantings, CROPS, today, days, conditions=conditions)


def test_a_closure_warns_of_its_last_round() -> None:
    """A closure within three weeks says when it begins and which round is the last before it."""
    assert says(room=ROOM) == [
        Ahead(date(2026, 11, 30), "inspection week begins; last round on Friday 27 Nov", warns=True)
    ]


def test_a_closure_far_off_is_not_said() -> None:
    """A closure beyond the days asked for is left out, and so is one that is over."""
    assert says(room=ROOM, days=4) == []
    assert says(room=ROOM, today=date(2026, 12, 7)) == []


def test_within_a_closure_the_first_round_back_is_said() -> None:
    """While it lasts the almanac says when somebody comes again."""
    (one,) = says(room=ROOM, today=date(2026, 12, 1))
    assert (one.day, one.says) == (date(2026, 12, 7), "inspection week is over; first round on Monday 7 Dec")


def test_a_closure_without_a_name_is_a_closure() -> None:
    """A closure that nobody named is called what it is."""
    nameless = Room(closures=(Closure(first=date(2026, 11, 30), last=date(2026, 12, 4)),))
    assert says(room=nameless)[0].says.startswith("closure begins")


def test_young_plants_are_moved_on() -> None:
    """Seedlings that still stand where they were sown are moved on from the crop's first day for it."""
    lettuce = crop("lettuce")
    assert lettuce.move_on is not None
    early = planting("lettuce", lettuce.move_on.low - 3, count=40)
    found = [one for one in says(early, known="lettuce") if one.says.startswith("Move on")]
    assert [(one.day, one.says) for one in found] == [(TODAY + timedelta(days=3), "Move on 40 lettuce")]


def test_moving_on_that_is_overdue_is_for_today() -> None:
    """Past its first day it stands at today until it is done, or plainly too late."""
    lettuce = crop("lettuce")
    assert lettuce.move_on is not None
    late = planting("lettuce", lettuce.move_on.high + 2)
    assert [one.day for one in says(late) if one.says.startswith("Move on")] == [TODAY]
    much_too_late = planting("lettuce", lettuce.move_on.high + 30)
    assert [one for one in says(much_too_late) if one.says.startswith("Move on")] == []


@pytest.mark.parametrize("more", [{"moves": 2}, {"brought_in": True}, {"ended": TODAY}])
def test_what_has_moved_came_from_outside_or_ended_is_not_moved_on(more: dict[str, object]) -> None:
    """Only seedlings sown here that still stand there are moved on."""
    lettuce = crop("lettuce")
    assert lettuce.move_on is not None
    moved = planting("lettuce", lettuce.move_on.low - 1, **more)  # type: ignore[arg-type]
    assert [one for one in says(moved) if one.says.startswith("Move on")] == []


def test_the_first_harvest_is_said_with_its_plants() -> None:
    """The first day of harvest, counted from sowing, with how many plants; one plant is singular."""
    basil = crop("basil")
    assert basil.harvest is not None
    many, one = (planting("basil", basil.harvest.low - 5, count=count, moves=2) for count in (6, 1))
    assert [(row.day, row.says) for row in says(many, known="basil")] == [
        (TODAY + timedelta(days=5), "basil: first harvest from about this day (6 plants)")
    ]
    assert says(one)[0].says.endswith("(1 plant)")
    late = planting("basil", basil.harvest.low + 2, count=6, moves=2)
    assert [(row.day, row.says) for row in says(late, known="basil")] == [
        (TODAY, "basil: first harvest from about now (6 plants)")
    ]


def test_small_greens_are_counted_in_trays() -> None:
    """Two trays of cress, not two plants, are ready and leave the dark."""
    cress = crop("cress")
    assert cress.harvest is not None
    tray = planting("cress", cress.harvest.low - 5, count=2)
    told = [row.says for row in says(tray, known="cress")]
    assert told[-1] == "cress: first harvest from about this day (2 trays)"
    assert not [one for one in told if "plant" in one]


def test_what_is_not_eaten_has_no_harvest() -> None:
    """A fern is looked at, not harvested."""
    fern = crop("maidenhair fern")
    assert not fern.eaten
    assert says(planting("maidenhair fern", 30, moves=2)) == []


def test_the_end_of_a_quarantine() -> None:
    """On the last day apart the plants may join the others, if clean; after it nothing is said."""
    apart = planting("basil", 10, moves=2, apart_until=TODAY + timedelta(days=4))
    assert (TODAY + timedelta(days=4), "basil: may join the others, if clean") in [
        (one.day, one.says) for one in says(apart)
    ]
    over = planting("basil", 10, moves=2, apart_until=TODAY - timedelta(days=1))
    assert not any("may join" in one.says for one in says(over))


def test_a_crop_that_nobody_knows_still_has_its_quarantine() -> None:
    """A crop that is in no table has no dates of its own, but its quarantine ends."""
    odd = planting("moon grass", 10, apart_until=TODAY)
    assert [(one.day, one.says) for one in says(odd)] == [(TODAY, "moon grass: may join the others, if clean")]


def test_the_nearest_comes_first_and_nothing_beyond() -> None:
    """The days are in order and none lies beyond those asked for."""
    basil = crop("basil")
    assert basil.harvest is not None
    rows = [planting("basil", basil.harvest.low - days, moves=2, count=days) for days in (20, 3, 22, 9)]
    found = says(*rows, room=ROOM, known="basil")
    assert [one.day for one in found] == sorted(one.day for one in found)
    assert len(found) == 4
    assert max(one.day for one in found) == TODAY + timedelta(days=20)


def test_every_crop_of_the_table_can_be_looked_ahead_for() -> None:
    """From sowing to long past the harvest no crop of the table says anything before today."""
    rows = [planting(one.key, age) for one in CROPS for age in (0, 10, 25, 60, 200)]
    found = says(*rows)
    assert min(one.day for one in found) >= TODAY
    assert all(isinstance(one.harvest, Range | None) and isinstance(one.chill, Figure | None) for one in CROPS)


def test_where_nothing_is_measured_the_days_are_wider() -> None:
    """In air and light that nobody knows the first harvest may come sooner than in the usual ones."""
    young = planting("basil", 20, moves=2)
    (known,), (unknown,) = says(young, known="basil"), says(young)
    assert TODAY < unknown.day < known.day


def test_seen_seedlings_move_the_harvest() -> None:
    """Seedlings that came up six days late are harvested about as much later."""
    basil = crop("basil")
    assert basil.emerge is not None
    sown = TODAY - timedelta(days=20)
    up = Reached(day=sown + timedelta(days=round(basil.emerge.high) + 6), stage="germinated")
    (late,), (usual_one,) = says(planting("basil", 20, moves=2, reached=(up,))), says(planting("basil", 20, moves=2))
    assert timedelta(days=3) <= late.day - usual_one.day <= timedelta(days=12)


def test_a_harvest_that_is_due_stands_at_today() -> None:
    """Ready and not picked: it is said for today, and no longer once it was picked or is long past."""
    ripe = planting("basil", 40, moves=2)
    assert [one.day for one in says(ripe, known="basil")] == [TODAY]
    picked = planting("basil", 40, moves=2, pickings=(Picking(day=TODAY, grams=100),))
    assert says(picked, known="basil") == []
    assert says(planting("basil", 200, moves=2), known="basil") == []


def test_radishes_are_thinned_not_moved() -> None:
    """A crop that is thinned where it stands says so, until it was."""
    row = planting("radish", 4)
    assert any(one.says == "Thin 12 radish" for one in says(row))
    done = planting("radish", 4, reached=(Reached(day=TODAY, stage="thinned"),))
    assert not any("Thin" in one.says for one in says(done))


def test_the_day_of_a_harvest_stays_where_it_is() -> None:
    """From one day to the next the first harvest stays on its day, and then at today: it never runs ahead."""
    one = planting("basil", 20, moves=2)
    days = [
        found[0].day
        for ahead_by in range(20)
        if (found := says(one, today=TODAY + timedelta(days=ahead_by), known="basil"))
    ]
    assert len(days) == 20
    first = TODAY + timedelta(days=15)
    assert days == [max(first, TODAY + timedelta(days=ahead_by)) for ahead_by in range(20)]
