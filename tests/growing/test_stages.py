"""Stages of a crop, and what warmth makes of them."""

from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import crops
from walkabout.growing import stages as of
from walkabout.growing.limits import OutOfRange

GROWN = [crop for crop in crops.load() if crop.harvest is not None]
EACH = pytest.mark.parametrize("crop", GROWN, ids=[crop.key for crop in GROWN])


@EACH
def test_usual_air_changes_nothing(crop: crops.Crop) -> None:
    """At the temperature that the table's days are taken for, the factor is 1."""
    found = of.pace(crop, of.usual(crop))
    assert found.factor == pytest.approx(1)
    assert of.usual(crop) - found.base.value >= 2


@EACH
def test_warmer_is_never_slower(crop: crops.Crop) -> None:
    """From just above the base to far too hot the factor falls and then stays where the day range ends."""
    start = of.base(crop).value + 1
    factors = [of.pace(crop, start + step).factor for step in range(30)]
    assert factors == sorted(factors, reverse=True)
    assert factors[-1] == factors[-2] > 0.3


@EACH
def test_stages_come_one_after_the_other(crop: crops.Crop) -> None:
    """Seedlings show before they are moved on, and that is before the harvest."""
    found = of.of(crop)
    assert [stage.name for stage in found] == [name for name in of.STAGES if name in {s.name for s in found}]
    assert all(one.low < two.high for one, two in pairwise(found))


@pytest.mark.parametrize(("key", "base", "air", "days"), [("lettuce", 0, 22, 41), ("pea", 4.4, 18, 60)])
def test_heat_is_conserved(key: str, base: float, air: float, days: float) -> None:
    """Corrected days times the degrees above the base are the heat that the usual days held."""
    crop = crops.load().of[key]
    found = of.pace(crop, air)
    assert found.base.value == base
    assert days * found.factor * (air - base) == pytest.approx(days * (of.usual(crop) - base))


def test_a_base_too_near_is_not_used() -> None:
    """Sweet pepper's 18.3 °C lies 2 °C under its usual temperature: 10 °C is taken, marked as assumed."""
    pepper = crops.load().of["pepper"]
    assert of.base(pepper) == of.Base(10.0, "assumed")
    assert of.base(crops.load().of["kale"]) == of.Base(4.4, "assumed")
    assert of.base(crops.load().of["basil"]).value == 10.9


@EACH
def test_no_day_is_promised_in_the_cold(crop: crops.Crop) -> None:
    """Below the harm of cold, and where the days would be over 2.5 times as many, it is refused; in usual air not."""
    assert of.promised(crop, of.usual(crop)).factor == pytest.approx(1)
    own = of.base(crop).value
    slow = own + (of.usual(crop) - own) / of.SLOWEST
    with pytest.raises(OutOfRange, match=r"hardly develops|harmed by the cold"):
        of.promised(crop, slow - 0.1)
    if crop.chill is not None:
        with pytest.raises(OutOfRange, match="needs at least"):
            of.promised(crop, crop.chill.value - 0.1)


@given(st.floats(1, 300), st.floats(0, 100), st.floats(0.3, 2.5))
@settings(max_examples=60)
def test_warmth_moves_the_early_end_alone(low: float, more: float, factor: float) -> None:
    """A corrected late end is never before the table's; the early end follows the factor."""
    found = of.corrected(of.Stage("harvest", low, low + more, "assumed"), factor)
    assert found.low == low * factor
    assert found.high == max(low + more, (low + more) * factor)


def test_a_single_figure_has_a_margin() -> None:
    """A tenth of 35 days, rounded up, is 4; a span has none."""
    assert of.margin(of.Stage("harvest", 35, 35, "assumed")) == 4
    assert of.margin(of.Stage("harvest", 20, 20, "assumed")) == 2
    assert of.margin(of.Stage("harvest", 41, 60, "assumed")) == 0


def test_air_too_near_the_base_is_refused() -> None:
    """Where hardly anything develops, no day is named."""
    with pytest.raises(OutOfRange, match="hardly develops"):
        of.pace(crops.load().of["tomato"], 10.5)


@given(st.dates(date(2000, 1, 1), date(2100, 1, 1)), st.integers(0, 900))
@settings(max_examples=60)
def test_days_forward_and_back_meet(day: date, days: int) -> None:
    """So many days back from the day so many days ahead is the day itself."""
    assert of.moved(of.moved(day, days), -days) == day


def test_parts_of_days_widen_a_span() -> None:
    """2.4 to 4.2 days after sowing is from day 2 to day 5; a hundredth does not count."""
    assert of.whole(of.Stage("harvest", 2.4, 4.2, "assumed")) == (2, 5)
    assert of.whole(of.Stage("harvest", 28.99, 30.01, "assumed")) == (29, 30)
    assert of.dates(of.Stage("harvest", 2.4, 4.2, "assumed"), date(2024, 2, 27)) == (
        date(2024, 2, 29),
        date(2024, 3, 3),
    )


def test_the_calendar_has_an_end() -> None:
    """A day before the first one is refused in words."""
    with pytest.raises(ValueError, match="outside the calendar"):
        of.moved(date(1, 1, 5), -10)
