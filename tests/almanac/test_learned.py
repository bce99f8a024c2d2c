"""What a room sees of its crops."""

from datetime import date, timedelta
from math import exp, log

import pytest

from walkabout.almanac.learned import DRAWN, learned
from walkabout.almanac.model import Basis, Conditions
from walkabout.almanac.pace import LOST_SPREAD, Learned
from walkabout.growing.crops import load
from walkabout.growing.harvest import LOSSES
from walkabout.growing.stages import usual
from walkabout.records.model import Loss, Move, Picking, Planting
from walkabout.room.model import Room

TODAY = date(2026, 11, 25)
SOWN = date(2026, 6, 1)
CROPS = load()
RAFT = CROPS.of["raft-lettuce"]
USUAL = Conditions(air=usual(RAFT), light=16)


def of(*plantings: Planting, **conditions: Conditions) -> Learned | None:
    basis = Basis(
        room=Room(),
        crops=CROPS,
        checklists={},
        today=TODAY,
        plantings=plantings,
        conditions={"raft": USUAL, **conditions},
    )
    return learned(basis).get("raft-lettuce")


def planting(key: str, *, station: str = "raft", **more: object) -> Planting:
    fields = {"crop": "raft-lettuce", "sown": SOWN, "count": 12, "moves": (Move(day=SOWN, station=station),)} | more
    return Planting(key=key, **fields)  # type: ignore[arg-type]


def picked(key: str, days: int, **more: object) -> Planting:
    """A planting first picked so many days after sowing."""
    return planting(key, **{"pickings": (Picking(day=SOWN + timedelta(days=days), count=1),), **more})


def test_nothing_seen_is_nothing_learned() -> None:
    """Without a harvest the crop is missing: the tables hold."""
    assert of() is None
    assert of(planting("p-1")) is None
    assert of(planting("p-1", ended=TODAY, reason="died")) is None


@pytest.mark.parametrize("n", [1, 2, 6])
def test_shrunk_by_what_was_seen(n: int) -> None:
    """Plantings that took 42 days for 35: the factor is 1.2 to the power n ÷ (n + 2)."""
    found = of(*(picked(f"p-{number}", 42) for number in range(n)))
    assert found is not None
    assert found.seen == n
    assert found.factor == pytest.approx(exp(n / (n + DRAWN) * log(42 / 35)))


def test_as_the_table_says_leaves_nothing_unsure() -> None:
    """Ready on the table's day the factor is 1 and adds no spread; scatter and departure add some."""
    same, apart, away = (
        of(picked("p-1", 35), picked("p-2", 35)),
        of(picked("p-1", 30), picked("p-2", 41)),
        of(picked("p-1", 45), picked("p-2", 45)),
    )
    assert same is not None
    assert apart is not None
    assert away is not None
    assert (same.factor, same.spread) == (pytest.approx(1), pytest.approx(0, abs=1e-9))
    assert apart.spread > 0.02
    assert away.spread > 0.02


def test_temperature_is_taken_out_first() -> None:
    """In air where degree days make 35 days into 40.5, a harvest on day 40 or 41 says that the room is as reckoned."""
    cool = Conditions(air=17.5, light=16)
    found = of(picked("p-1", 40, station="cool"), picked("p-2", 41, station="cool"), cool=cool)
    assert found is not None
    assert found.factor == pytest.approx(1, abs=0.005)


def test_cleared_is_an_upper_bound_with_half_the_weight() -> None:
    """Known only by the day it was cleared, a planting counts half."""
    cleared = planting("p-1", ended=SOWN + timedelta(days=42), reason="harvested: 12 heads")
    found = of(cleared)
    assert found is not None
    assert found.factor == pytest.approx(exp(0.5 / 2.5 * log(42 / 35)))


def test_the_first_picking_is_what_counts() -> None:
    """Cleared late, after a closure, but first picked in time: the first picking is the day."""
    found = of(picked("p-1", 35, ended=SOWN + timedelta(days=60), reason="harvested"))
    assert found is not None
    assert found.factor == pytest.approx(1)


def test_parts_of_one_sowing_are_seen_once() -> None:
    """A sowing that was parted is one planting, known by its earliest picking."""
    found = of(picked("p-1", 42), picked("p-2", 49, parted_from="p-1"), picked("p-3", 56, parted_from="p-2"))
    assert found is not None
    assert found.seen == 1
    assert found.factor == pytest.approx(exp(1 / 3 * log(42 / 35)))


def test_parts_that_name_each_other_do_not_hang() -> None:
    """Records edited into a ring are still read."""
    found = of(picked("p-1", 42, parted_from="p-2"), picked("p-2", 42, parted_from="p-1"))
    assert found is not None


@pytest.mark.parametrize("days", [3, 300])
def test_a_slip_of_the_pen_is_left_out(days: int) -> None:
    """A lettuce of 3 or of 300 days says nothing of the room."""
    found = of(picked("p-1", days))
    assert found is None or found.seen == 0


def test_what_came_from_outside_says_nothing() -> None:
    """Plants brought in did not grow up here."""
    assert of(picked("p-1", 42, brought_in=True)) is None


def test_survival_is_what_came_to_the_table() -> None:
    """Of 20 started 5 were lost, 12 picked and 3 cleared as harvested: 0.75, drawn towards 1 - LOSSES."""
    one = planting(
        "p-1", count=3, started=20, losses=(Loss(day=SOWN, count=5, why="damping off"),),
        pickings=(Picking(day=SOWN + timedelta(days=35), count=12),), ended=TODAY, reason="harvested",
    )  # fmt: skip
    found = of(one)
    assert found is not None
    assert found.survival == pytest.approx((0.75 + DRAWN * (1 - LOSSES)) / (1 + DRAWN))
    assert 0 < found.lost_spread < LOST_SPREAD


def test_thinned_on_purpose_is_no_loss() -> None:
    """Of 20 started 8 were thinned out and 12 picked: all that was meant to grow survived."""
    one = planting(
        "p-1", count=0, started=20, losses=(Loss(day=SOWN, count=8, why="thinned"),),
        pickings=(Picking(day=SOWN + timedelta(days=35), count=12),), ended=TODAY, reason="harvested",
    )  # fmt: skip
    found = of(one)
    assert found is not None
    assert found.survival == pytest.approx((1 + DRAWN * (1 - LOSSES)) / (1 + DRAWN))


def test_a_crop_that_died_counts_as_lost() -> None:
    """Died as a whole: nothing survived. What was given away, and what was never counted, say nothing."""
    found = of(planting("p-1", started=12, ended=TODAY, reason="died"))
    assert found is not None
    assert found.survival == pytest.approx(DRAWN * (1 - LOSSES) / (1 + DRAWN))
    assert of(planting("p-1", started=12, ended=TODAY, reason="given away")) is None
    legacy = of(picked("p-1", 35))
    assert legacy is not None
    assert legacy.survival == pytest.approx(1 - LOSSES)


def test_composted_at_the_end_after_cutting_again_is_no_loss() -> None:
    """Plants that were cut again and again and then composted came to the table; heads left over did not."""
    day = SOWN + timedelta(days=35)
    cut = of(planting("p-1", started=12, pickings=(Picking(day=day, grams=90),), ended=TODAY, reason="composted"))
    heads = of(
        planting("p-1", count=4, started=12, pickings=(Picking(day=day, count=8),), ended=TODAY, reason="composted")
    )
    assert cut is not None
    assert heads is not None
    assert cut.survival == pytest.approx((1 + DRAWN * (1 - LOSSES)) / (1 + DRAWN))
    assert heads.survival == pytest.approx((8 / 12 + DRAWN * (1 - LOSSES)) / (1 + DRAWN))


def test_grams_are_drawn_towards_the_harvest_table() -> None:
    """Six heads of 720 g are 120 g each; the table's 150 g weigh as much as two plantings."""
    found = of(picked("p-1", 35, pickings=(Picking(day=SOWN + timedelta(days=35), count=6, grams=720),)))
    assert found is not None
    assert found.grams == pytest.approx((120 + DRAWN * 150) / (1 + DRAWN))
    assert found.grams_seen == 1
    none = of(picked("p-1", 35))
    assert none is not None
    assert (none.grams, none.grams_seen) == (None, 0)


def test_microgreens_weigh_what_they_weighed() -> None:
    """Trays are not seedlings: the grams of a tray are the room's own, not drawn towards those of a seedling."""
    sown = TODAY - timedelta(days=9)
    tray = Planting(
        key="p-1", crop="cress", sown=sown, count=2, moves=(Move(day=sown, station="trays"),),
        pickings=(Picking(day=TODAY, grams=300),),
    )  # fmt: skip
    basis = Basis(room=Room(), crops=CROPS, checklists={}, today=TODAY, plantings=(tray,))
    assert learned(basis)["cress"].grams == 150
