"""Supplies: how fast they go, when they are used up, by when to order, and that no day is counted twice."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from walkabout.insight.shelf import add, change, count, end
from walkabout.insight.shelf_words import shelf_row
from walkabout.insight.supplies import stock, to_buy
from walkabout.insight.supply_rate import Uses, of, rate_of
from walkabout.insight.supply_used import used_within
from walkabout.records.book import Records
from walkabout.records.model import Move, Planting
from walkabout.records.model_supplies import Counted, Supply
from walkabout.room.model import Closure, Lamp, Room, Tank

TODAY = date(2026, 11, 25)
"""A Wednesday."""
NOW = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)
ROOM = Room(
    tanks={"tub": Tank(litres=60, change_days=14), "arch": Tank(litres=30, change_days=7)},
    lamps={"bar": Lamp(watts=60, hours=10, since=TODAY - timedelta(days=400), rated_hours=5_000)},
    closures=(Closure(first=date(2026, 12, 19), last=date(2027, 1, 3), name="midwinter"),),
)
USES = Uses(room=ROOM, today=TODAY)


def supply(**more: object) -> Supply:
    fields: dict[str, object] = {"key": "s", "name": "Grow mix", "unit": "mL", "amount": 100.0, "counted": TODAY}
    fields |= {"counts": (Counted(day=TODAY, amount=100.0),)} | more
    return Supply(**fields)  # type: ignore[arg-type]


def counted(*rows: tuple[int, float, float]) -> dict[str, object]:
    """Return the fields of counts (days ago, amount, bought), the oldest first."""
    counts = tuple(Counted(day=TODAY - timedelta(days=ago), amount=amount, bought=new) for ago, amount, new in rows)
    return {"counts": counts, "amount": counts[-1].amount, "counted": counts[-1].day}


def test_a_plain_rate_says_when_it_is_used_up() -> None:
    """100 mL at 35 a week last 20 days; with four days to come it is ordered on the open day before those."""
    found = stock(supply(used=35.0, lead_days=4, pack=250.0, price=6.0), USES)

    assert (found.weekly, found.now, found.out) == (35.0, 100.0, date(2026, 12, 15))
    assert (found.empty_by, found.order_by) == (date(2026, 12, 15), date(2026, 12, 11))
    assert (found.packs, found.cost, found.state) == (2, 12.0, "enough")
    assert any("÷ the rate" in line for line in found.working)


def test_what_runs_out_in_a_closure_is_needed_before_it() -> None:
    """The last open day before the closure counts, and the order is counted back from there."""
    found = stock(supply(amount=150.0, used=35.0, lead_days=7), USES)

    assert found.out == date(2026, 12, 25)
    assert (found.empty_by, found.order_by) == (date(2026, 12, 18), date(2026, 12, 11))
    assert any("midwinter" in line for line in found.working)


@pytest.mark.parametrize(
    ("fields", "weekly"),
    [
        ({"per": "change", "used": 40.0}, 60.0),
        ({"per": "change", "used": 40.0, "of": "arch"}, 40.0),
        ({"per": "litre", "used": 2.0}, 120.0),
        ({"per": "litre", "used": 2.0, "of": "tub"}, 60.0),
        ({"per": "check", "used": 5.0}, 2.5),
        ({"per": "sown", "used": 1.0, "of": "basil"}, 2.0),
        ({"per": "lamp"}, 7 / 500),
    ],
)
def test_the_rate_follows_what_the_supply_goes_with(fields: dict[str, object], weekly: float) -> None:
    """Changes and litres go by the tanks, checks and seed by the last twelve weeks, lamps by their hours."""
    basil = Planting(key="p", crop="basil", sown=TODAY - timedelta(days=9), count=20, started=24, moves=(Move(
        day=TODAY, station="shelf"),))  # fmt: skip
    old = msgspec.structs.replace(basil, key="q", sown=TODAY - timedelta(days=200))
    checks = tuple(TODAY - timedelta(days=14 * one) for one in range(9))
    uses = Uses(room=ROOM, today=TODAY, plantings=(basil, old), checks=checks)

    assert rate_of(supply(**fields), uses).weekly == pytest.approx(weekly)


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"used": None}, "Count it once more"),
        ({"per": "change", "used": 4.0, "of": "gone"}, "There is no tank 'gone'"),
        ({"per": "sown", "used": 1.0}, "No sowing"),
        ({"per": "check", "used": 1.0}, "No check"),
        ({"per": "lamp", "of": "gone"}, "not in room.toml"),
        (counted((9, 50.0, 0.0), (0, 80.0, 0.0)), "no purchase is on record"),
    ],
)
def test_what_is_not_known_is_said(fields: dict[str, object], says: str) -> None:
    """No rate is invented: a sentence says what is missing, and no day is given."""
    found = stock(supply(**fields), USES)

    assert (found.state, found.weekly, found.out, found.order_by) == ("not known", None, None, None)
    assert says in found.says


def test_counts_far_apart_say_more_than_what_was_said() -> None:
    """Two counts eight weeks apart give the rate; two counts nine days apart do not while somebody has said one."""
    long = supply(used=99.0, **counted((56, 200.0, 0.0), (0, 100.0, 60.0)))
    short = supply(used=99.0, **counted((9, 200.0, 0.0), (0, 100.0, 60.0)))

    assert rate_of(long, USES).weekly == pytest.approx(20.0)
    assert rate_of(short, USES).weekly == 99.0
    assert rate_of(msgspec.structs.replace(short, used=None), USES).weekly == pytest.approx(160 * 7 / 9)


def test_spare_lamps_go_one_by_one() -> None:
    """The shelf is empty on the day on which the last spare is put in."""
    found = stock(supply(unit="pieces", amount=2.0, per="lamp", of="bar"), USES)

    assert found.out == TODAY - timedelta(days=400) + timedelta(days=1000)


def test_packs_are_for_what_is_missing() -> None:
    """12 weeks less what is there, rounded up; none where that is enough, but one where the order cannot wait."""
    some = stock(supply(amount=100.0, used=50.0, pack=250.0, price=7.0), USES)
    assert (some.packs, some.cost) == (2, 14.0)
    assert any("600 mL − 100 mL on the shelf = 500 mL; ÷ 250 mL a pack = 2: 2 packs" in one for one in some.working)
    enough = stock(supply(amount=1000.0, used=50.0, pack=250.0, price=7.0), USES)
    assert (enough.state, enough.packs, enough.cost) == ("enough", 0, 0.0)
    slow = stock(supply(amount=1000.0, used=50.0, pack=250.0, lead_days=200), USES)
    assert (slow.state, slow.packs) == ("order now", 1)
    assert any("1 pack is ordered all the same" in one for one in slow.working)
    assert shelf_row(
        stock(supply(amount=100.0, used=50.0, pack=250.0, price=7.0, lead_days=2), USES), "EUR"
    ).remark == ("2 weeks, order by 7 Dec: 2 packs for 12 weeks, besides what is left, EUR 14.00")


def test_an_order_moved_to_an_open_day_says_so() -> None:
    """13 days before the end is a Sunday: the working names it and the Friday that counts."""
    found = stock(supply(amount=100.0, used=35.0, lead_days=9), USES)
    assert (found.empty_by, found.order_by) == (date(2026, 12, 15), date(2026, 12, 4))
    assert "9 days to come = 2026-12-06, on a day on which nobody comes: 2026-12-04 counts" in " ".join(found.working)


def test_far_days_and_single_pieces_on_the_shelf() -> None:
    """A day of another year has its year; one piece is a piece."""
    row = shelf_row(stock(supply(unit="pieces", amount=1.0, used=0.01), USES), "")
    assert row.value == "1 piece"
    assert row.remark == "100 weeks, until 25 Oct 2028"
    assert of(supply(unit="pieces"), 2.0) == "2 pieces"
    assert of(supply(unit="mL"), 1.0) == "1 mL"


def test_a_us_room_counts_solution_in_gallons() -> None:
    """What is kept for each litre is said for each gallon; the rate is the same."""
    one = supply(used=2.0, per="litre", of="tub")
    us = msgspec.structs.replace(USES, room=msgspec.structs.replace(ROOM, units="US"))
    assert rate_of(one, us).weekly == rate_of(one, USES).weekly == 60.0
    assert "7.5708 mL each US gallon of solution renewed × 7.9 US gal renewed a week" in rate_of(one, us).working[0]


def test_the_most_pressing_stands_first() -> None:
    """Only what has to be ordered now or soon is to buy, by its day."""
    late = stock(supply(key="a", name="A", used=60.0, lead_days=2), USES)
    later = stock(supply(key="b", name="B", used=1.0, lead_days=2), USES)
    first = stock(supply(key="c", name="C", used=60.0, lead_days=10), USES)
    unknown = stock(supply(key="d", name="D"), USES)

    assert [one.supply.name for one in to_buy([late, later, first, unknown])] == ["C", "A"]
    assert first.state == "order now"


def test_what_went_within_a_span() -> None:
    """Between two counts each day has its share; since the last one the rate stands in; money goes by the pack."""
    one = supply(used=7.0, pack=50.0, price=5.0, **counted((20, 100.0, 0.0), (10, 80.0, 30.0)))
    found = used_within(one, TODAY - timedelta(days=14), TODAY, USES)

    assert found.measured == pytest.approx(5 * 50 / 10)
    assert found.amount == pytest.approx(25 + 10.0)
    assert found.money == pytest.approx(3.5)


def test_nothing_is_made_up_before_the_first_count() -> None:
    """A span before the first count is not known."""
    found = used_within(supply(used=7.0), TODAY - timedelta(days=30), TODAY - timedelta(days=1), USES)

    assert found.amount is None
    assert "not known" in found.says


COUNT = st.tuples(st.integers(0, 90), st.floats(0, 500), st.floats(0, 100))
COUNTS = st.lists(COUNT, min_size=1, max_size=5, unique_by=lambda one: one[0])


@given(COUNTS, st.one_of(st.none(), st.floats(0, 50)), st.integers(1, 100), st.integers(0, 99))
def test_two_spans_that_meet_add_up(
    counts: list[tuple[int, float, float]], used: float | None, days: int, half: int
) -> None:
    """What went in two spans that meet is what went in both together."""
    one = supply(used=used, **counted(*sorted(counts, reverse=True)))
    first, middle = TODAY - timedelta(days=days), TODAY - timedelta(days=min(half, days))
    whole = used_within(one, first, TODAY, USES).amount or 0.0
    parts = [used_within(one, first, middle - timedelta(days=1), USES), used_within(one, middle, TODAY, USES)]

    assert sum(part.amount or 0.0 for part in parts if part is not None) == pytest.approx(whole, abs=1e-6)


@given(st.floats(0, 1e6), st.floats(0, 1e6), st.integers(0, 365), st.integers(0, 400))
def test_any_supply_can_be_reckoned(amount: float, used: float, lead: int, ago: int) -> None:
    """Whatever the amounts, no more is left than was counted, and the order comes before the end."""
    day = TODAY - timedelta(days=ago)
    one = supply(amount=amount, used=used, lead_days=lead, counted=day, counts=(Counted(day=day, amount=amount),))
    found = stock(one, USES)

    assert 0 <= found.now <= amount
    if found.out is not None:
        assert found.empty_by is not None
        assert found.order_by is not None
        assert found.order_by <= found.empty_by <= found.out


# the life of a supply


def test_a_supply_is_added_counted_changed_and_taken_off() -> None:
    """Each step adds a line to its history; a second count of a day takes the place of the first."""
    made = add(name=" Grow mix ", unit="mL", amount=500.0, by="AR", now=NOW - timedelta(days=10), used=20.0)
    once = count(made, 300.0, 100.0, "AR", NOW)
    twice = count(once, 290.0, 50.0, "AR", NOW)
    later = change(twice, "AR", NOW, name="Grow mix A", used=30.0, per="litre", of="tub", pack=1000.0, price=9.0,
                   lead_days=7)  # fmt: skip
    gone = end(later, "AR", NOW)

    assert (made.name, made.counts[0].amount) == ("Grow mix", 500.0)
    assert [(one.amount, one.bought) for one in twice.counts] == [(500.0, 0.0), (290.0, 150.0)]
    assert (twice.amount, twice.counted) == (290.0, TODAY)
    assert (later.per, later.of, later.amount) == ("litre", "tub", 290.0)
    assert gone.ended == TODAY
    assert len(gone.history) == 5


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"name": " "}, "Give it a name"),
        ({"name": "x" * 41}, "at most 40"),
        ({"unit": ""}, "in which unit"),
        ({"amount": -1.0}, "from 0 to"),
        ({"amount": float("nan")}, "from 0 to"),
        ({"used": float("inf")}, "from 0 to"),
        ({"pack": 0.0}, "more than 0"),
        ({"lead_days": 366}, "from 0 to 365"),
        ({"per": "moon"}, "It goes with"),
    ],
)
def test_what_cannot_be_is_one_sentence(wrong: dict[str, object], says: str) -> None:
    """A supply that makes no sense is refused with what would be right."""
    fields: dict[str, object] = {"name": "A", "unit": "mL", "amount": 1.0, "by": "AR", "now": NOW}
    with pytest.raises(ValueError, match=says):
        add(**(fields | wrong))  # type: ignore[arg-type]


def test_what_is_over_is_left_alone() -> None:
    """What is no longer kept is not counted, and no count comes before the last one."""
    made = add(name="A", unit="mL", amount=1.0, by="AR", now=NOW)
    with pytest.raises(ValueError, match="no longer kept"):
        count(end(made, "AR", NOW), 1.0, 0.0, "AR", NOW)
    with pytest.raises(ValueError, match="that is later"):
        count(made, 1.0, 0.0, "AR", NOW - timedelta(days=1))
    with pytest.raises(ValueError, match="Nothing about it would change"):
        change(made, "AR", NOW, name="A", used=None, per="week", of="", pack=None, price=None, lead_days=None)


# on disk


def test_supplies_are_kept_in_a_file_of_their_own(tmp_path: Path) -> None:
    """They come back equal, are read only when asked for, and a code is purged from every count and line."""
    made = count(add(name="A", unit="mL", amount=9.0, by="AR", now=NOW - timedelta(days=1)), 4.0, 0.0, "AR", NOW)
    with_one = Records.open(tmp_path, TODAY)
    with_one.save(made)
    with_one.close()
    again = Records.open(tmp_path, TODAY)

    assert "supplies" not in again._files
    assert again.supplies() == [made]
    again.purge("AR")
    (purged,) = again.supplies()
    assert {purged.by, *(one.by for one in purged.counts), *(one.by for one in purged.history)} == {"--"}
    again.close()
    assert b"AR" not in (tmp_path / "records" / "supplies.json").read_bytes()
