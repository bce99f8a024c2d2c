"""How long a crop takes, and how sure that is."""

from math import log, sqrt

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.almanac.model import Conditions, StageName
from walkabout.almanac.normal import Z_TENTH
from walkabout.almanac.pace import AIR_UNKNOWN, COLD, LIGHT_UNKNOWN, Learned, Wait, emerges, speed, wait
from walkabout.growing import emergence
from walkabout.growing.crops import Crop, load
from walkabout.growing.stages import MARGIN, SLOWEST, usual

CROPS = load()
STAGES: tuple[StageName, ...] = ("emergence", "move_on", "flowering", "harvest", "seed")
LAWS = st.builds(Wait, st.floats(1, 400), st.floats(0.03, 1.0))
SHARES = st.floats(0.01, 0.99)


def crop(key: str) -> Crop:
    found = CROPS.find(key)
    assert found is not None
    return found


def at_usual(one: Crop) -> Conditions:
    return Conditions(air=usual(one), light=one.light.high)


def days(key: str, stage: StageName = "harvest", **offers: float) -> Wait:
    found = wait(crop(key), Conditions(**offers), stage)
    assert found is not None
    return found


@pytest.mark.parametrize("key", [one.key for one in CROPS if one.harvest])
def test_the_table_at_usual_conditions(key: str) -> None:
    """At a crop's usual temperature one in ten is ready by the table's low day, nine in ten by its high day."""
    one = crop(key)
    assert one.harvest is not None
    found = wait(one, at_usual(one), "harvest")
    assert found is not None
    if one.harvest.low < one.harvest.high:
        assert (found.within(0.1), found.within(0.9)) == pytest.approx((one.harvest.low, one.harvest.high))
    else:
        assert found.median == one.harvest.low
        assert found.within(0.9) == pytest.approx(one.harvest.low * (1 + MARGIN))


@settings(max_examples=40, deadline=None)
@given(LAWS, SHARES, SHARES)
def test_quantiles_rise_and_lead_back(law: Wait, one: float, other: float) -> None:
    """More certain takes longer, and the chance within the days of a chance is that chance."""
    assert law.by(law.within(one)) == pytest.approx(one)
    if one < other:
        assert law.within(one) <= law.within(other)


@settings(max_examples=60, deadline=None)
@given(LAWS, SHARES, st.floats(0, 3))
def test_what_has_not_come_yet(law: Wait, p: float, times: float) -> None:
    """Known not to have come, a stage comes after today; its chances rise with the days and lead back."""
    passed = times * law.median
    left = law.after(passed)
    assert left.by(passed) == 0
    assert left.within(p) >= max(passed, 0)
    chances = [left.by(passed + ahead) for ahead in (0, 1, 3, 10, 40, 400)]
    assert chances == sorted(chances)
    assert left.within(p) >= law.within(p) * (1 - 1e-12)
    if left.within(p) > passed * (1 + 1e-9):
        assert left.by(left.within(p)) == pytest.approx(p, abs=1e-6)


def test_long_due_is_due_now() -> None:
    """A stage that is ten times past its days comes at once, and no chance is divided by nothing."""
    left = Wait(10.0, 0.05).after(100.0)
    assert left.within(0.9) == 100
    assert left.by(100.5) == 1


@pytest.mark.parametrize("p", [0.0, 1.0, 1.5])
def test_a_chance_is_between_nothing_and_one(p: float) -> None:
    """Certainty has no day."""
    with pytest.raises(ValueError, match="between 0 and 1"):
        Wait(10.0, 0.1).after(3).within(p)
    with pytest.raises(ValueError, match="between 0 and 1"):
        Wait(10.0, 0.1).within(p)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(list(CROPS.of)), st.sampled_from(STAGES), SHARES.filter(lambda p: 0.1 <= p <= 0.9), st.data())
def test_warmer_is_never_later(key: str, stage: StageName, p: float, data: st.DataObject) -> None:
    """Within the range of a crop's day, warmer air brings no stage later, seedlings up to where they come fastest.

    Celery comes fastest at 20 °C and has days of 21 °C (Harrington and Minges 1954, through the emergence table).
    """
    one = crop(key)
    row = emergence.load().find(key) if stage == "emergence" else None
    high = min(one.day.high, emergence.fastest(row)[0]) if row is not None else one.day.high
    cool, warm = sorted(data.draw(st.floats(one.day.low, max(one.day.low, high))) for _ in range(2))
    first, second = (wait(one, Conditions(air=air, light=10), stage) for air in (cool, warm))
    if first is not None and second is not None:
        assert second.within(p) <= first.within(p) * (1 + 1e-9)


def test_every_crop_comes_up_within_its_range() -> None:
    """For every crop that is sown, seedlings are expected over the whole range of its day."""
    for one in CROPS:
        for air in (one.day.low, usual(one), one.day.high):
            assert (emerges(one, Conditions(air=air)) is None) == (one.emerge is None), (one.key, air)


def test_cold_slows_by_degree_days() -> None:
    """Lettuce, base 0 °C, usual 17.25 °C: at 13.8 °C all days become 1.25 times as many."""
    assert days("lettuce", air=13.8, light=15).median == pytest.approx(sqrt(41 * 60) * 1.25)
    assert days("lettuce", air=13.8, light=15).sigma == pytest.approx(days("lettuce", air=17.25, light=15).sigma)


def test_warmth_shortens_the_early_end_alone() -> None:
    """Raft lettuce, usual 20.25 °C: at 24 °C the early end shortens by 20.25 ÷ 24, the late end stays."""
    usually, warm = days("raft-lettuce", air=20.25, light=16), days("raft-lettuce", air=24, light=16)
    assert warm.within(0.1) == pytest.approx(usually.within(0.1) * 20.25 / 24)
    assert warm.within(0.9) == pytest.approx(usually.within(0.9))


@pytest.mark.parametrize("air", [-3, 0.5, 3])
def test_too_cold_to_promise(air: float) -> None:
    """Where hardly anything grows the days are SLOWEST times as many and wide, and the working says so."""
    found = days("lettuce", air=air, light=15)
    assert found.median == pytest.approx(sqrt(41 * 60) * SLOWEST)
    assert found.sigma == pytest.approx(sqrt((log(60 / 41) / 2 / Z_TENTH) ** 2 + COLD**2))
    assert any("too cold" in line for line in found.working)


@pytest.mark.parametrize(
    ("light", "factor"), [(12, 1), (18, 1), (30, 1), (8, 1.5), (6, 2), (4, 2.5), (1, 2.5), (0, 2.5)]
)
def test_light_below_the_range_slows(light: float, factor: float) -> None:
    """Lettuce wants 12 mol/m²/d at least: less slows in proportion, 2.5 times at most; more gains nothing."""
    assert days("lettuce", air=17.25, light=light).median == pytest.approx(sqrt(41 * 60) * factor)


def test_what_is_not_known_widens_and_does_not_move() -> None:
    """Unknown air or light leaves the median and adds its spread; emergence has no part in light."""
    known = days("lettuce", air=17.25, light=15)
    for offers, more in (({"air": 17.25}, LIGHT_UNKNOWN), ({"light": 15.0}, AIR_UNKNOWN)):
        found = days("lettuce", **offers)
        assert found.median == pytest.approx(known.median)
        assert found.sigma == pytest.approx(sqrt(known.sigma**2 + more**2))
    nothing = wait(crop("lettuce"), None, "harvest")
    assert nothing is not None
    assert nothing.sigma == pytest.approx(sqrt(known.sigma**2 + AIR_UNKNOWN**2 + LIGHT_UNKNOWN**2))
    assert days("lettuce", "emergence", air=20, light=1) == days("lettuce", "emergence", air=20, light=15)


def test_microgreens_need_no_light_in_the_dark() -> None:
    """The days that microgreens spend in the dark are no longer under a dim lamp; those to harvest are."""
    assert days("cress", "move_on", air=17.75, light=1).median == days("cress", "move_on", air=17.75, light=9).median
    assert days("cress", air=17.75, light=1).median > days("cress", air=17.75, light=9).median


def test_the_rooms_own_factor() -> None:
    """What the room has learned multiplies the days, adds its spread, and is told; emergence is not touched."""
    one, own = crop("lettuce"), {"lettuce": Learned(factor=1.2, spread=0.1, seen=3)}
    plain, found = wait(one, at_usual(one), "harvest"), wait(one, at_usual(one), "harvest", own)
    assert plain is not None
    assert found is not None
    assert found.median == pytest.approx(plain.median * 1.2)
    assert found.sigma == pytest.approx(sqrt(plain.sigma**2 + 0.1**2))
    assert any("own 3 plantings" in line for line in found.working)
    assert wait(one, at_usual(one), "emergence", own) == wait(one, at_usual(one), "emergence")


def test_where_nothing_comes_up_nothing_is_expected() -> None:
    """Lettuce at 35 °C, and colder or hotter than the table was tested: no day. Near that edge: wide."""
    for air in (35.0, 45.0, -5.0):
        assert emerges(crop("lettuce"), Conditions(air=air)) is None
    edge, sure = emerges(crop("tomato"), Conditions(air=8)), emerges(crop("tomato"), Conditions(air=10))
    assert edge is not None
    assert sure is not None
    assert edge.median > sure.median
    assert edge.sigma > sure.sigma


def test_emergence_without_a_row() -> None:
    """A crop that the emergence table does not know comes up by degree days from 22.5 °C; basil has base 10.9 °C."""
    basil = crop("basil")
    assert basil.emerge is not None
    at_table, cool = emerges(basil, Conditions(air=22.5)), emerges(basil, Conditions(air=16.7))
    assert at_table is not None
    assert cool is not None
    assert (at_table.within(0.1), at_table.within(0.9)) == pytest.approx((basil.emerge.low, basil.emerge.high))
    assert cool.median == pytest.approx(at_table.median * 2)
    freezing = emerges(basil, Conditions(air=12))
    assert freezing is not None
    assert freezing.sigma > at_table.sigma
    assert emerges(basil, Conditions(air=11)) is None


def test_a_stage_that_the_table_does_not_know() -> None:
    """A fern has no days, a tomato no day of flowering, a marigold flowers by its days to 'harvest'."""
    for key, stage in (("maidenhair-fern", "harvest"), ("tomato", "flowering"), ("lettuce", "seed")):
        assert wait(crop(key), None, stage) is None  # type: ignore[arg-type]
    assert wait(crop("maidenhair-fern"), None, "emergence") is None
    flowers = wait(crop("marigold"), None, "flowering")
    assert flowers == wait(crop("marigold"), None, "harvest")
    assert flowers is not None


def test_the_working_names_its_sources() -> None:
    """Table, temperature and light each say what they made of the days."""
    lines = days("raft-lettuce", air=18, light=10).working
    assert "35 days from sowing (Cornell lettuce)" in lines[0]
    assert "McMaster and Wilhelm 1997" in lines[1]
    assert "assumed" in lines[2]


def test_a_crop_without_chill_or_light_is_no_special_case() -> None:
    """A speed in usual conditions is 1 whatever the crop."""
    for one in CROPS:
        found = speed(
            msgspec.structs.replace(one, chill=None), Conditions(air=usual(one), light=one.light.low), "harvest"
        )
        assert (found.factor, found.stretch, found.spread) == (pytest.approx(1.0), pytest.approx(0.0), 0.0)
