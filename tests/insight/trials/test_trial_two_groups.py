"""Two groups and several against scipy on invented values, and the values that cannot be compared."""

import itertools
import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from walkabout.insight.trials import dealing, permute, ranks, several, two_groups
from walkabout.insight.trials.blocks import blocked
from walkabout.insight.trials.outcome import Group
from walkabout.insight.trials.table import BadTrial

amounts = st.lists(st.integers(-500, 500).map(lambda one: one / 8), min_size=3, max_size=12)


def group(values: list[float], name: str = "a") -> Group:
    return Group(name, tuple(values), tuple(range(2, len(values) + 2)))


def spreads(*groups: list[float]) -> bool:
    return all(len(set(one)) > 1 for one in groups)


@given(amounts, amounts)
def test_welch_and_pooled_as_scipy_has_them(x: list[float], y: list[float]) -> None:
    """Statistic, degrees of freedom, p and interval of both t tests; one-sided p too."""
    if not spreads(x, y):
        return
    for run, equal in ((two_groups.welch, False), (two_groups.pooled, True)):
        found = run(group(x), group(y, "b"))
        expected = stats.ttest_ind(x, y, equal_var=equal)
        low, high = expected.confidence_interval(0.95)
        assert found.test.statistic == pytest.approx(expected.statistic, rel=1e-9, abs=1e-12)
        assert found.test.df == pytest.approx(expected.df, rel=1e-9)
        assert found.test.p == pytest.approx(expected.pvalue, rel=1e-8)
        assert found.test.p_greater == pytest.approx(
            stats.ttest_ind(x, y, equal_var=equal, alternative="greater").pvalue, rel=1e-8
        )
        assert found.difference is not None
        assert (found.difference.low, found.difference.high) == pytest.approx((low, high), rel=1e-8, abs=1e-9)


@settings(max_examples=40)
@given(st.lists(st.tuples(st.integers(-99, 99), st.integers(-99, 99)), min_size=3, max_size=30))
def test_pairs_as_scipy_has_them(pairs: list[tuple[int, int]]) -> None:
    """Paired t and Wilcoxon's signed ranks: exact where nothing ties and none is 0, else with continuity."""
    x, y = [one / 4 for one, _ in pairs], [other / 4 for _, other in pairs]
    gaps = [one - other for one, other in zip(x, y, strict=True)]
    if not spreads(gaps):
        return
    found = two_groups.paired(group(x), group(y, "b"))
    expected = stats.ttest_rel(x, y)
    assert found.test.statistic == pytest.approx(expected.statistic, rel=1e-9, abs=1e-12)
    assert found.test.p == pytest.approx(expected.pvalue, rel=1e-8)
    sizes = [abs(one) for one in gaps if one]
    signed = ranks.wilcoxon(group(x), group(y, "b"))
    plain = len(set(sizes)) == len(sizes) == len(gaps)
    moved = [one for one in gaps if one]
    expected = stats.wilcoxon(moved, method="exact" if plain else "asymptotic", correction=not plain)
    assert signed.test.more["smaller_sum"] == pytest.approx(expected.statistic)
    assert signed.test.p == pytest.approx(min(1.0, expected.pvalue))
    order = stats.rankdata([abs(one) for one in moved])
    assert signed.test.statistic == sum(rank for rank, one in zip(order, moved, strict=True) if one > 0)
    if len(moved) <= 13:
        assert signed.test.more["p_counted"] == pytest.approx(stats.wilcoxon(moved).pvalue)


@given(amounts, amounts)
def test_mann_whitney_as_scipy_has_it(x: list[float], y: list[float]) -> None:
    """U counts for the first group; exact without ties."""
    if len(set(x + y)) < 2:
        return
    found = ranks.mann_whitney(group(x), group(y, "b"))
    method = "exact" if len(set(x + y)) == len(x + y) else "asymptotic"
    expected = stats.mannwhitneyu(x, y, method=method)
    assert (found.test.statistic, found.test.p) == pytest.approx((expected.statistic, min(1, expected.pvalue)))


def test_the_interval_of_a_shift_holds_what_the_ranks_do_not_rule_out() -> None:
    """Moved to either end of the interval the groups do not differ at 5 %; moved past it they do."""
    dice = random.Random(4)
    x, y = [dice.gauss(6, 1) for _ in range(9)], [dice.gauss(5, 1) for _ in range(8)]
    shift = ranks.mann_whitney(group(x), group(y, "b")).difference
    assert shift is not None
    assert shift.low is not None
    assert shift.high is not None
    assert shift.low < shift.value < shift.high
    for end, inward in ((shift.low, 1e-6), (shift.high, -1e-6)):
        kept = stats.mannwhitneyu(x, [one + end + inward for one in y], method="exact").pvalue
        lost = stats.mannwhitneyu(x, [one + end - inward for one in y], method="exact").pvalue
        assert kept > 0.05 >= lost


def test_the_interval_of_paired_shifts_holds_what_the_ranks_do_not_rule_out() -> None:
    """The same for the ranks of differences."""
    dice = random.Random(5)
    x = [dice.gauss(1, 1) for _ in range(10)]
    shift = ranks.wilcoxon(group(x), group([0.0] * 10, "b")).difference
    assert shift is not None
    for end, inward in ((shift.low, 1e-6), (shift.high, -1e-6)):
        assert end is not None
        assert stats.wilcoxon([one - end - inward for one in x]).pvalue > 0.05
        assert stats.wilcoxon([one - end + inward for one in x]).pvalue <= 0.05


@settings(max_examples=12)
@given(amounts, amounts, amounts)
def test_several_groups_as_scipy_has_them(x: list[float], y: list[float], z: list[float]) -> None:
    """One-way F, Welch's F, Tukey's pairs and Kruskal-Wallis."""
    if not spreads(x, y, z):
        return
    groups = [group(x, "a"), group(y, "b"), group(z, "c")]
    usual = several.anova(groups)
    expected = stats.f_oneway(x, y, z)
    assert (usual.test.statistic, usual.test.p) == pytest.approx(
        (expected.statistic, expected.pvalue), rel=1e-8, abs=1e-12
    )
    welch = several.welch_anova(groups)
    expected = stats.f_oneway(x, y, z, equal_var=False)
    assert (welch.test.statistic, welch.test.p) == pytest.approx(
        (expected.statistic, expected.pvalue), rel=1e-8, abs=1e-12
    )
    by_ranks = ranks.kruskal(groups)
    expected = stats.kruskal(x, y, z)
    assert (by_ranks.test.statistic, by_ranks.test.p) == pytest.approx((expected.statistic, expected.pvalue))


def test_tukey_as_scipy_has_it() -> None:
    """Unequal groups: every pair with its interval, later minus earlier."""
    dice = random.Random(8)
    values = [[dice.gauss(at, 1) for _ in range(n)] for at, n in enumerate((4, 7, 5, 9))]
    pairs = several.anova([group(one, f"g{at}") for at, one in enumerate(values)]).pairs
    expected = stats.tukey_hsd(*values)
    span = expected.confidence_interval(0.95)
    at = [(i, j) for i in range(4) for j in range(i + 1, 4)]
    for (i, j), one in zip(at, pairs, strict=True):
        assert one.of == f"g{j} - g{i}"
        assert one.value == pytest.approx(expected.statistic[j, i])
        assert one.p == pytest.approx(expected.pvalue[j, i], abs=1e-6)
        assert (one.low, one.high) == pytest.approx((span.low[j, i], span.high[j, i]), abs=1e-5)


def test_two_groups_in_blocks_are_pairs() -> None:
    """One value of each of two treatments in each block: F is the square of the paired t, the interval the same."""
    x, y = [5.1, 6.3, 7.2, 6.6, 8.0], [4.8, 6.0, 6.1, 6.2, 7.9]
    where = [list("vwxyz"), list("vwxyz")]
    in_blocks = blocked([group(x), group(y, "b")], where)
    in_pairs = two_groups.paired(group(x), group(y, "b"))
    assert in_pairs.test.statistic is not None
    assert in_blocks.test.statistic == pytest.approx(in_pairs.test.statistic**2)
    assert in_blocks.test.p == pytest.approx(in_pairs.test.p)
    assert in_blocks.difference is not None
    assert in_pairs.difference is not None
    for end in ("value", "low", "high"):
        assert getattr(in_blocks.difference, end) == pytest.approx(getattr(in_pairs.difference, end))


def test_friedman_as_scipy_has_it() -> None:
    """Three treatments in whole blocks."""
    rows = [[5.1, 6.3, 7.2, 6.6], [4.8, 6.0, 7.3, 6.2], [5.5, 6.1, 8.0, 7.7]]
    found = ranks.friedman([group(one, str(at)) for at, one in enumerate(rows)])
    expected = stats.friedmanchisquare(*rows)
    assert (found.test.statistic, found.test.p) == pytest.approx((expected.statistic, expected.pvalue))


@given(st.lists(st.integers(0, 20), min_size=2, max_size=6), st.lists(st.integers(0, 20), min_size=2, max_size=5))
def test_every_regrouping_is_counted(x: list[int], y: list[int]) -> None:
    """As many as there are, and on each side those that a plain loop over whole numbers finds."""
    if len(set(x + y)) < 2:
        return
    dealt = dealing.regrouped([one / 10 for one in x], [one / 10 for one in y])
    assert dealt.ways == math.comb(len(x) + len(y), len(x))
    every = x + y
    # Whole numbers, so that adding them up in another order changes nothing.
    gaps = [len(every) * sum(one) - len(x) * sum(every) for one in itertools.combinations(every, len(x))]
    seen = len(every) * sum(x) - len(x) * sum(every)
    assert dealt.as_far == sum(abs(one) >= abs(seen) for one in gaps)
    assert dealt.above == sum(one >= seen for one in gaps)
    assert dealt.below == sum(one <= seen for one in gaps)


def test_many_values_are_dealt_out_at_random_and_alike_each_time() -> None:
    """Where there are too many regroupings, some are drawn from a number that is told; the p is the same again."""
    dice = random.Random(2)
    x, y = [dice.gauss(0, 1) for _ in range(40)], [dice.gauss(0.3, 1) for _ in range(40)]
    first, again = (permute.two_groups(group(x), group(y, "b")) for _ in range(2))
    assert first.test.more["exact"] is False
    assert first.test.more["seed"] == dealing.SEED
    assert first.test.p == again.test.p
    assert first.test.p == pytest.approx(stats.ttest_ind(x, y).pvalue, abs=0.02)


def test_several_groups_are_regrouped_too() -> None:
    """Three groups of two: 90 regroupings, and within blocks each block by itself."""
    groups = [group([1, 2], "a"), group([5, 6], "b"), group([11, 13], "c")]
    found = permute.several(groups)
    assert found.test.more["arrangements"] == 90
    assert found.test.more["as_far"] == 6
    in_blocks = permute.several(groups, [["x", "y"]] * 3)
    assert in_blocks.test.more["arrangements"] == 36


def test_nothing_to_compare_is_said() -> None:
    """A single value, no spread, equal steps in pairs, blocks that are the treatments."""
    one, flat = group([1.0]), group([2.0, 2.0, 2.0])
    for run, x, y, says in (
        (two_groups.welch, one, flat, '"a" has 1 value'),
        (two_groups.welch, flat, group([3.0, 3.0], "b"), "every value is the same"),
        (two_groups.pooled, group([0.1 + 0.2, 0.3]), group([0.3, 0.3], "b"), "Every value is the same"),
        (two_groups.paired, group([0.3, 0.4]), group([0.1, 0.2], "b"), "differs by the same amount"),
        (ranks.mann_whitney, flat, flat, "nothing to rank"),
        (ranks.wilcoxon, flat, flat, "No pair differs"),
    ):
        with pytest.raises(BadTrial, match=says):
            run(x, y)
    with pytest.raises(BadTrial, match="cannot be told apart"):
        blocked([group([1.0, 2.0]), group([2.0, 4.0], "b")], [["x", "x"], ["y", "y"]])
