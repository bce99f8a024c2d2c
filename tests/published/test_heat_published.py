"""Degree days against published definitions and worked examples.

McMaster and Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300, defines methods 1 and 2; the values
are worked out from the definitions, so the tolerance is that of two decimals. The 86/50 examples come from
extension pages in whole °F, and are exact.
"""

import pytest

from walkabout.growing import crops
from walkabout.growing import degree_days as of

EXACT = 0.01


def c(fahrenheit: float) -> float:
    """°F to °C, as the definition of the scale has it."""
    return (fahrenheit - 32) * 5 / 9


@pytest.mark.parametrize(
    ("high", "low", "base", "one", "two"),
    [
        (25, 15, 10, 10.0, 10.0),
        (20, 2, 10, 1.0, 5.0),
        (16, 0, 10, 0.0, 3.0),
        (9, 3, 10, 0.0, 0.0),
        (12, -4, 0, 4.0, 6.0),
        (8, -2, 0, 3.0, 4.0),
        (30, 18, 15.5, 8.5, 8.5),
    ],
)
def test_the_two_methods(high: float, low: float, base: float, one: float, two: float) -> None:
    """One day, two readings of one equation."""
    assert of.mean_method(high, low, base) == pytest.approx(one, abs=EXACT)
    assert of.raised_method(high, low, base) == pytest.approx(two, abs=EXACT)


@pytest.mark.parametrize(
    ("high", "low", "found"),
    [
        pytest.param(90, 65, 25.5, id="Wisconsin county extension office, newspaper column of 25 April 2018: warm"),
        pytest.param(72, 46, 11, id="Wisconsin county extension office, newspaper column of 25 April 2018: cool"),
        pytest.param(70, 50, 10, id="Iowa State University, Agronomy 541, lesson 2b"),
    ],
)
def test_corn_degree_days(high: float, low: float, found: float) -> None:
    """The 86/50 degree days of corn, in °F d."""
    assert of.raised_method(c(high), c(low), c(50), c(86)) * 1.8 == pytest.approx(found, abs=EXACT)
    assert (c(50), c(86)) == pytest.approx((of.CORN_BASE, of.CORN_UPPER))


def test_plain_mean_less_base() -> None:
    """83 and 61 °F above 50 °F are 22 °F d (an article of a farm adviser)."""
    assert of.mean_method(c(83), c(61), c(50)) * 1.8 == pytest.approx(22, abs=EXACT)


@pytest.mark.parametrize(("high", "found"), [(28, 12.5), (32, 16.5), (35, 13.5), (14, 0), (24, 8.5)])
def test_cucumber_heat_units(high: float, found: float) -> None:
    """Perry and Wehner 1996, HortTechnology 6(1):27: highest less 15.5 °C, turned down above 32 °C.

    That it never falls below 0 is common practice.
    """
    assert of.maximum_method(high) == pytest.approx(found, abs=EXACT)


@pytest.mark.parametrize(("high", "low", "found"), [(20, 12, 6), (20, 2, 3), (16, 0, 1.5), (9, 2, 0)])
def test_four_cases(high: float, low: float, found: float) -> None:
    """The four-case formula of the Irish meteorological service, base 10 °C."""
    assert of.four_case(high, low, 10) == pytest.approx(found, abs=EXACT)


def test_one_day_three_answers() -> None:
    """20 and 2 °C over a base of 10 °C are 1, 5 or 3 °C d: why the method must always be named."""
    assert (of.mean_method(20, 2, 10), of.raised_method(20, 2, 10), of.four_case(20, 2, 10)) == (1, 5, 3)


def test_the_wheat_example_differs_as_far_as_reported() -> None:
    """The paper reports differences of up to 83 % between the methods: such days exist above 0 °C."""
    one, two = of.mean_method(6, -5, 0), of.raised_method(6, -5, 0)
    assert (two - one) / two == pytest.approx(0.83, abs=0.01)


def test_days_to_a_heat_sum() -> None:
    """300 °C d at 22 °C above a base of 4 °C: 300 ÷ 18 = 16.67 days (worked out here)."""
    assert of.days_to_sum(300, 22, 4) == pytest.approx(16.67, abs=EXACT)


def test_a_base_belongs_to_its_sum() -> None:
    """Lettuce, bases of 0 and 4 °C (Wurr; Kristensen 1987, from memory), at 18 °C.

    A sum fitted with a base and used with it forecasts the same day; used with the other, the forecast is
    wrong by more than a fifth.
    """
    days = 40
    sums = {base: days * (18 - base) for base in (0, 4)}
    assert of.days_to_sum(sums[0], 18, 0) == of.days_to_sum(sums[4], 18, 4) == days
    assert of.days_to_sum(sums[0], 18, 4) / days > 1.2
    assert of.days_to_sum(sums[4], 18, 0) / days < 1 / 1.2


@pytest.mark.parametrize(
    ("crop", "base"),
    [
        pytest.param("bean", c(50), id="Peet, North Carolina State University, appendix 2: bean"),
        pytest.param("pea", c(40), id="Peet: pea"),
        pytest.param("cabbage", c(40), id="Peet: cabbage"),
        pytest.param("turnip", c(40), id="Peet: turnip"),
        pytest.param("pepper", c(65), id="Peet: pepper, high"),
        pytest.param("cucumber", 15.5, id="Perry and Wehner 1996"),
        pytest.param("lettuce", 0, id="Wurr and colleagues, crisp lettuce"),
        pytest.param("tomato", 10, id="Perry and colleagues 1997; the figure from memory"),
        pytest.param("basil", 10.9, id="leaf appearance, from memory"),
    ],
)
def test_bases_of_crops(crop: str, base: float) -> None:
    """The base of each crop is the published one, to a tenth of a degree."""
    found = crops.load().of[crop].base
    assert found is not None
    assert found.value == pytest.approx(base, abs=0.06)
