"""The chance of enough on a day, against what happens when the same is played many times."""

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.almanac.chances import (
    Mass,
    Part,
    enough,
    heavy,
    heavy_enough,
    left,
    mean,
    nothing,
    plants_told,
    with_parts,
    without,
)

TIMES = 120_000
"""So many plays miss a chance by more than 0.006 hardly ever."""


def parts_of(rng: random.Random, most: int) -> list[Part]:
    return [
        Part(
            plants=rng.randint(1, most),
            ready=rng.choice([1.0, 0.97, 0.9, 0.7, 0.5, 0.2]),
            survival=rng.choice([1.0, 0.95, 0.9, 0.8, 0.6]),
            doubt=rng.choice([0.0, 0.02, 0.14, 0.3]),
        )
        for _ in range(rng.randint(1, 5))
    ]


def played(parts: list[Part], dice: np.random.Generator) -> np.ndarray:
    """Play what the parts say: each planting is ready or not, has its own share of survivors, and so many are left."""
    total = np.zeros(TIMES)
    for one in parts:
        share = np.full(TIMES, one.survival)
        if one.doubt > 0 and one.survival < 1:
            weight = 1 / one.doubt - 1
            share = dice.beta(one.survival * weight, (1 - one.survival) * weight, TIMES)
        ready = dice.random(TIMES) < one.ready
        total += ready * dice.binomial(one.plants, share)
    return total


@pytest.mark.parametrize("seed", range(12))
def test_the_chance_of_enough_heads_is_that_of_many_plays(seed: int) -> None:
    """Up to 120 heads are added up exactly: a simulation of the same plantings agrees within 0.01."""
    rng = random.Random(seed)
    parts = parts_of(rng, 30)
    wanted = rng.randint(1, max(sum(one.plants for one in parts), 1))
    total = played(parts, np.random.default_rng(seed))
    found = with_parts(nothing(wanted), parts)
    assert enough(found, wanted) == pytest.approx((total >= wanted).mean(), abs=0.01)


@pytest.mark.parametrize("seed", range(12))
def test_the_chance_of_enough_grams_is_that_of_many_plays(seed: int) -> None:
    """With a mass that all plants share an error in, and that differs from plant to plant, within 0.01 too."""
    rng, dice = random.Random(100 + seed), np.random.default_rng(seed)
    parts = parts_of(rng, 25)
    mass = Mass(grams=rng.choice([10.0, 150.0]), doubt=rng.choice([0.0, 0.1, 0.2]), scatter=rng.choice([0.1, 0.25]))
    likely = sum(one.plants * one.survival * one.ready for one in parts) * mass.grams
    wanted = likely * rng.uniform(0.3, 1.2)
    total = played(parts, dice)
    grams = mass.grams * total * (1 + mass.doubt * dice.standard_normal(TIMES))
    grams += mass.grams * mass.scatter * np.sqrt(total) * dice.standard_normal(TIMES)
    found = with_parts(nothing(plants_told(wanted, mass)), parts)
    assert heavy_enough(found, wanted, mass) == pytest.approx((grams >= wanted).mean(), abs=0.01)


@pytest.mark.parametrize("seed", range(8))
def test_large_sowings_are_counted_in_bundles(seed: int) -> None:
    """Of hundreds and thousands of small plants the chance stays within 0.02 of the simulation."""
    rng = random.Random(200 + seed)
    parts = parts_of(rng, rng.choice([400, 8000]))
    wanted = max(int(sum(one.plants * one.survival * one.ready for one in parts) * rng.uniform(0.5, 1.1)), 1)
    total = played(parts, np.random.default_rng(seed))
    found = with_parts(nothing(wanted), parts)
    assert enough(found, wanted) == pytest.approx((total >= wanted).mean(), abs=0.02)


@pytest.mark.parametrize("seed", range(6))
def test_what_others_take_first_is_gone(seed: int) -> None:
    """After somebody took so many, or all there were, the rest and what comes later make the chance."""
    rng = random.Random(300 + seed)
    first, later = parts_of(rng, 20), parts_of(rng, 20)
    gone, wanted = rng.randint(1, 30), rng.randint(1, 30)
    dice = np.random.default_rng(seed)
    rest = np.maximum(played(first, dice) - gone, 0) + played(later, dice)
    found = with_parts(without(with_parts(nothing(wanted + gone), first), gone), later)
    assert enough(found, wanted) == pytest.approx((rest >= wanted).mean(), abs=0.01)


def test_a_sum_on_paper() -> None:
    """Two plants that each live with 0.9: both 0.81, at least one 0.99; of a planting that may be late, half of it."""
    two = Part(plants=2, ready=1.0, survival=0.9)
    late = Part(plants=2, ready=0.5, survival=0.9)
    assert enough(with_parts(nothing(2), [two]), 2) == pytest.approx(0.81)
    assert enough(with_parts(nothing(2), [two]), 1) == pytest.approx(0.99)
    assert enough(with_parts(nothing(2), [late]), 2) == pytest.approx(0.405)
    assert mean(with_parts(nothing(4), [two])) == pytest.approx(1.8)


def test_nothing_in_hand_is_never_enough() -> None:
    """Without plantings the chance is 0, and 1 of nothing wanted; all taken leaves nothing."""
    assert enough(nothing(5), 5) == 0
    assert enough(nothing(5), 0) == 1
    sure = with_parts(nothing(9), [Part(5, 1.0, 1.0)])
    assert enough(sure, 5) == 1
    assert enough(without(sure, 5), 1) == 0
    assert without(sure, 0) == sure


@settings(max_examples=60, deadline=None)
@given(
    plants=st.integers(1, 400),
    survival=st.floats(0.01, 0.99),
    doubt=st.one_of(st.just(0.0), st.floats(0.001, 0.9)),
)
def test_the_numbers_left_add_up(plants: int, survival: float, doubt: float) -> None:
    """The chances of all numbers left are a law with the mean and the variance that the parts are defined by."""
    first, chances = left(plants, survival, doubt)
    numbers = range(first, first + len(chances))
    average = sum(k * chance for k, chance in zip(numbers, chances, strict=True))
    varies = sum((k - average) ** 2 * chance for k, chance in zip(numbers, chances, strict=True))
    usual = survival * (1 - survival) * plants * (1 + (plants - 1) * doubt)
    assert sum(chances) == pytest.approx(1)
    assert first >= 0
    assert first + len(chances) <= plants + 1
    assert average == pytest.approx(plants * survival, rel=1e-6, abs=1e-6)
    assert varies == pytest.approx(usual, rel=1e-4, abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10**6), wanted=st.integers(1, 40))
def test_more_plants_never_make_it_less_sure(seed: int, wanted: int) -> None:
    """Another planting, or a smaller amount, never lowers the chance."""
    parts = parts_of(random.Random(seed), 20)
    some, all_of_them = with_parts(nothing(wanted), parts[:-1]), with_parts(nothing(wanted), parts)
    assert enough(all_of_them, wanted) >= enough(some, wanted) - 1e-9
    assert enough(all_of_them, wanted - 1) >= enough(all_of_them, wanted) - 1e-9


def test_a_mass_without_doubt_is_counted() -> None:
    """Where every plant weighs the same, ten of 100 g are 1000 g for certain, and never more."""
    mass = Mass(100.0)
    assert heavy(10, 1000, mass) == 1
    assert heavy(10, 1001, mass) == 0
    assert heavy(10, 1000, Mass(100.0, doubt=0.2)) == pytest.approx(0.5)
