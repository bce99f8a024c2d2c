"""The plan for one tank: it never overflows, and it ends where it should."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing.bringing import Stock, bring, filling, topup_strength
from walkabout.growing.correcting import blend
from walkabout.growing.limits import OutOfRange

capacities = st.floats(min_value=5, max_value=1000)
parts = st.floats(min_value=0.1, max_value=1)
strengths = st.floats(min_value=0.1, max_value=4)
waters = st.floats(min_value=0, max_value=0.6)
stocks = st.one_of(
    st.none(),
    st.floats(min_value=20, max_value=300).map(lambda ec: Stock(stock_ec=ec)),
    st.floats(min_value=0.05, max_value=0.4).map(lambda rise: Stock(rise=rise)),
)


def walked(way, volume, ec, water_ec, stock):
    """Do the steps one by one and return what the tank then holds and has."""
    for step in way.steps:
        if step.do == "take out":
            volume -= step.amount
        elif step.do == "concentrate":
            ec += stock.rise * step.amount / volume
        else:
            its = water_ec if step.do == "water" else stock.stock_ec
            ec, volume = blend(((volume, ec), (step.amount, its))), volume + step.amount
        assert (volume, ec) == (pytest.approx(step.volume, abs=1e-6), pytest.approx(step.ec, abs=1e-6))
    return volume, ec


@settings(max_examples=100)
@given(capacity=capacities, part=parts, ec=strengths, to=strengths, water_ec=waters, stock=stocks)
def test_every_way_ends_at_the_ec_wanted_without_overflowing(capacity, part, ec, to, water_ec, stock):
    """Each step says truly what the tank then has; nothing negative is added, and it never overflows."""
    volume = capacity * part
    plan = bring(volume, capacity, ec, to, water_ec, stock)
    assert plan.ways or plan.left_out
    for way in plan.ways:
        assert all(step.amount >= 0 and 0 <= step.volume <= capacity * (1 + 1e-9) for step in way.steps)
        if way.name != "nothing":
            held, has = walked(way, volume, ec, water_ec, stock)
            assert has == pytest.approx(to, abs=1e-6)
            assert held <= capacity * (1 + 1e-9)


@settings(max_examples=60)
@given(capacity=capacities, part=parts, ec=strengths, to=strengths, water_ec=waters)
def test_a_strong_tank_gets_water_first_and_none_of_it_is_wasted(capacity, part, ec, to, water_ec):
    """Too strong and weaker water at hand: one way, water alone when it fits, else as little out as can be."""
    if not ec > to > water_ec + 1e-6:
        return
    plan = bring(capacity * part, capacity, ec, to, water_ec)
    (way,) = plan.ways
    assert way.name in ("water", "swap")
    if way.name == "swap":
        assert way.steps[-1].volume == pytest.approx(capacity)
        assert "take some out first" in plan.left_out[0]


@settings(max_examples=60)
@given(capacity=capacities, part=st.floats(min_value=0.1, max_value=0.9), ec=strengths, to=strengths)
def test_one_top_up_alone_makes_it_right(capacity, part, ec, to):
    """The tank filled with the one liquid has the EC wanted; None where that liquid would be below nothing."""
    volume = capacity * part
    alone = topup_strength(volume, capacity, ec, to)
    if alone is None:
        assert capacity * to < volume * ec
    else:
        assert blend(((volume, ec), (capacity - volume, alone))) == pytest.approx(to)


def test_water_up_to_the_mark_is_not_there_yet():
    """70 of 80 L at 2.4: 10 L of water at 0.3 give 2.14, so 12.86 L go out before 22.86 L go in."""
    plan = bring(70, 80, 2.4, 1.8, 0.3)
    (way,) = plan.ways
    assert [(one.do, round(one.amount, 2)) for one in way.steps] == [("take out", 12.86), ("water", 22.86)]
    assert plan.left_out == (
        "water alone: 10 L up to the mark bring the EC to 2.14 mS/cm, not there yet, so take some out first",
    )


def test_a_weak_tank_is_filled_and_fed_or_fed_as_it_stands():
    """Half full and weak: filled and fed comes first, fed as it stands is the other way."""
    plan = bring(40, 80, 1.4, 1.8, 0.3, Stock(rise=0.2))
    assert [(way.name, [(s.do, round(s.amount, 3)) for s in way.steps]) for way in plan.ways] == [
        ("fill and feed", [("water", 40.0), ("concentrate", 380.0)]),
        ("feed", [("concentrate", 80.0)]),
    ]


def test_a_weak_full_tank_loses_a_little_for_the_stock():
    """A full tank makes room for the litres of stock; a concentrate measured in mL is let in as it is."""
    (way,) = bring(80, 80, 1.4, 1.8, 0.3, Stock(stock_ec=200)).ways
    assert [one.do for one in way.steps] == ["take out", "stock"]
    (way,) = bring(80, 80, 1.4, 1.8, 0.3, Stock(rise=0.2)).ways
    assert [one.do for one in way.steps] == ["concentrate"]


def test_what_has_no_way_says_why():
    """Water too strong, no stock known, a stock too weak: no way, and the reason."""
    assert "the water must be weaker" in bring(40, 80, 1.4, 0.3, 0.4).left_out[0]
    weak = bring(40, 80, 1.4, 1.8, 0.3)
    assert (weak.ways, round(weak.short, 9)) == ((), 0.4)
    assert "stock_ec or rise" in weak.left_out[0]
    assert "a stock of 1.5 mS/cm cannot" in bring(40, 80, 1.4, 1.8, 0.3, Stock(stock_ec=1.5)).left_out[0]


def test_a_tank_that_is_right_may_be_left_or_filled():
    """Nothing is the first way; filling it up with feed is offered where a stock is known."""
    assert [one.name for one in bring(40, 80, 1.8, 1.8, 0.3, Stock(rise=0.2)).ways] == ["nothing", "fill and feed"]
    assert [one.name for one in bring(80, 80, 1.8, 1.8, 0.3).ways] == ["nothing"]


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: bring(90, 80, 1.8, 1.6, 0.3), "what is in the tank is 90 L: it must be at most 80 L"),
        (lambda: bring(0, 80, 1.8, 1.6, 0.3), "the volume is 0 L"),
        (lambda: bring(40, 80, -1, 1.6, 0.3), "the EC of the tank is -1"),
        (lambda: filling(40, 0, 1, 1, 0, None), "the capacity is 0 L"),
        (lambda: filling(40, 80, 2, 0.2, 0.3, None), "the water must be weaker"),
        (lambda: filling(40, 80, 1, 2, 0.3, Stock(stock_ec=1.5)), "a stock of 1.5"),
    ],
)
def test_a_tank_that_cannot_be_is_refused(call, says):
    """More than the tank holds, or nothing at all, is refused with the limit."""
    with pytest.raises(OutOfRange, match=says):
        call()
