"""Groups near the ends of what a number holds, intervals of an effect, names of tests, and what may be concluded."""

import math
import random
from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from walkabout.insight.trials import several, two_groups
from walkabout.insight.trials.intervals import FAR, shifts_of_t
from walkabout.insight.trials.names import test_key as key_of
from walkabout.insight.trials.outcome import Group
from walkabout.insight.trials.result import analyse
from walkabout.insight.trials.table import BadTrial, Table, read_table
from walkabout.insight.trials.words import BY_LOT, ELSE, SHARED_OUT


def table(text: str) -> Table:
    return read_table(text.encode(), "t.csv")


def long(groups: dict[str, Sequence[float]]) -> Table:
    rows = [f"{at},{name},{one}" for name, values in groups.items() for at, one in enumerate(values)]
    return table("\n".join(["plant,lamp,weight", *rows]))


def facts(groups: dict[str, Sequence[float]], **more: Any) -> dict[str, Any]:
    return analyse(long(groups), "weight", "lamp", **more).facts()


def test_only_the_last_digits_count_as_rounding() -> None:
    """0.1 + 0.2 and 0.3 are the same; a billionth of a billion's tenth is not, nor are values of 1e-60."""
    assert Group("a", (0.1 + 0.2, 0.3)).flat
    assert Group("a", (0.1 + 0.2, 0.3)).squares == 0
    assert not Group("a", (1e12 + 0.3, 1e12 + 0.4)).flat
    assert Group("a", (1e-60, 3e-60)).squares == pytest.approx(2e-120)


def test_pairs_far_from_nothing_keep_their_steps() -> None:
    """Steps of a tenth at a billion are steps; equal ones are equal, so that nothing is left to judge by."""
    high = 1e9
    gaps = two_groups.differences(Group("a", (high + 0.3, high + 0.5)), Group("b", (high + 0.1, high + 0.2)))
    assert gaps.values == pytest.approx((0.2, 0.3), abs=1e-6)
    with pytest.raises(BadTrial, match="differs by the same amount"):
        two_groups.paired(Group("a", (high + 0.3, high + 0.9)), Group("b", (high + 0.1, high + 0.7)))


@pytest.mark.parametrize(("value", "says"), [("1e99", "too large to reckon with"), ("1e-200", "too small to reckon")])
def test_numbers_that_cannot_be_squared(value: str, says: str) -> None:
    """One line that names the cell, never an overflow or a false sentence about the spread."""
    with pytest.raises(BadTrial, match=says):
        analyse(table(f"g,w\na,{value}\na,2\nb,3\nb,4\n"), "w", "g")


@pytest.mark.parametrize("by", [1e-69, 1e69])
def test_numbers_just_within_reach_are_reckoned(by: float) -> None:
    """Every usual test gives the same p in one unit as in another."""
    groups: dict[str, Sequence[float]] = {"a": [1.0, 2.0, 3.5, 2.5], "b": [2.0, 5.0, 4.0, 4.5]}
    for test in ("welch", "pooled", "anova", "permutation", "mann-whitney"):
        far = facts({name: [one * by for one in values] for name, values in groups.items()}, test=test)
        assert far["test"]["p"] == pytest.approx(facts(groups, test=test)["test"]["p"]), test


@settings(max_examples=40)
@given(st.floats(-12, 12), st.integers(1, 60))
def test_shifts_of_t_as_a_second_library_has_them(t: float, df: int) -> None:
    """At either end the noncentral t puts the table's t at 2.5 in 100 (scipy, turned about)."""
    t = t if abs(t) > 1e-9 else 0.0
    low, high = shifts_of_t(t, df)
    # Mirrored, so that the same routine is not asked the same question.
    assert stats.nct.cdf(-t, df, -low) == pytest.approx(0.025, abs=1e-6)
    assert stats.nct.sf(-t, df, -high) == pytest.approx(0.025, abs=1e-6)


def test_shifts_far_out_join_those_that_can_be_summed() -> None:
    """Where the series of the noncentral t gives out, the simple parts carry on without a step, and past it."""
    for df in (3, 40, 4000):
        near, far = shifts_of_t(FAR, df), shifts_of_t(FAR * (1 + 1e-9), df)
        assert far == pytest.approx(near, rel=1e-3)
    assert shifts_of_t(1e-130, 1) == pytest.approx((-1.959964, 1.959964), abs=1e-5)
    low, high = shifts_of_t(1e8, 5)
    assert low / 1e8 == pytest.approx(math.sqrt(stats.chi2.ppf(0.025, 5) / 5))
    assert high / 1e8 == pytest.approx(math.sqrt(stats.chi2.ppf(0.975, 5) / 5))


@given(
    st.lists(st.integers(-40, 40), min_size=2, max_size=6),
    st.lists(st.integers(-40, 40), min_size=2, max_size=6),
)
def test_the_interval_of_g_never_contradicts_the_test(x: list[int], y: list[int]) -> None:
    """It leaves 0 out just where the interval of the difference does, for Welch's t and the pooled one."""
    if len(set(x)) < 2 or len(set(y)) < 2:
        return
    for run in (two_groups.welch, two_groups.pooled):
        found = run(Group("a", tuple(map(float, x))), Group("b", tuple(map(float, y))))
        gap, size = found.difference, found.effect
        assert gap is not None
        assert size is not None
        assert gap.low is not None
        assert gap.high is not None
        assert size.low is not None
        assert size.high is not None
        assert (size.low <= 0 <= size.high) == (gap.low <= 0 <= gap.high)


def test_the_interval_of_g_for_equal_spreads() -> None:
    """Three against three: the shifts of the pooled t, in sd and made smaller by J = 1 − 3/15."""
    x, y = (1.5, 2.5, 3.1), (3.2, 4.4, 5.0)
    size = two_groups.pooled(Group("a", x), Group("b", y)).effect
    t = stats.ttest_ind(x, y).statistic
    assert size is not None
    for end, below in ((size.low, 0.975), (size.high, 0.025)):
        assert end is not None
        assert stats.nct.cdf(t, 4, end / 0.8 / math.sqrt(2 / 3)) == pytest.approx(below, abs=1e-6)


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        *(
            ("ttest_ind", "two-sample"),
            ("ttest_rel", "paired"),
            ("ranksum", "mann-whitney"),
            ("ranksums", "mann-whitney"),
        ),
        *(("f_oneway", "anova"), ("friedmanchisquare", "friedman"), ("chi2_contingency", "chi-squared")),
        *(("chisquare", "chi-squared"), ("tukey-kramer", "anova"), ("anova+tukey", "anova"), ("twoway", "blocked")),
        *(("2-way", "blocked"), ("aov", "anova"), ("exact-permutation", "permutation"), ("signedrank", "wilcoxon")),
        *(("fishers", "fisher"), ("gof", "ratio"), ("equal-var", "pooled"), ("auto", None), ("Default", None)),
    ],
)
def test_what_else_tests_are_called(typed: str, key: str | None) -> None:
    """The names that common libraries give them, and words for the usual one."""
    assert key_of(typed) == key


def test_any_word_for_the_usual_test_gives_it() -> None:
    """As if none had been asked for."""
    groups = {"a": [1.0, 2, 3, 5], "b": [3.0, 5, 4, 8]}
    assert facts(groups, test="auto") == facts(groups)


def test_what_is_more_than_chance_is_not_yet_the_treatment() -> None:
    """Of a table nobody knows how the plants were shared out; of a trial drawn by lot it is known, and said."""
    groups = {"girl": [150.0, 152, 151, 149, 155, 153], "boy": [160.0, 165, 159, 166, 161, 168]}
    assert ELSE.format("lamp") in facts(groups)["words"]
    assert SHARED_OUT in facts(groups, lot=False)["words"]
    drawn = facts(groups, lot=True)["words"]
    assert BY_LOT in drawn
    assert SHARED_OUT not in drawn
    third = groups | {"man": [170.0, 175, 169, 176, 171, 178]}
    assert SHARED_OUT in facts(third, lot=False)["words"]
    assert BY_LOT in facts(third, lot=True)["words"]


def test_nothing_shown_needs_no_word_about_sharing_out() -> None:
    """There is nothing yet that the treatment could have done."""
    assert SHARED_OUT not in facts({"a": [1.0, 2, 3], "b": [1.5, 2.5, 2.0]})["words"]


def test_each_difference_says_which_group_is_taken_from_which() -> None:
    """Two groups are the first minus the second, pairs the later minus the earlier; names may hold a minus."""
    two = facts({"red - 1": [1.0, 2, 3, 5], "blue": [3.0, 5, 4, 8]})
    assert (two["difference"]["first"], two["difference"]["second"]) == ("red - 1", "blue")
    assert "red - 1 − blue" in two["words"]
    for test in ("pooled", "anova", "permutation", "mann-whitney"):
        found = facts({"red - 1": [1.0, 2, 3, 5], "blue": [3.0, 5, 4, 8]}, test=test)["difference"]
        assert (found["first"], found["second"], found["value"] < 0) == ("red - 1", "blue", True), test
    for test in ("paired", "wilcoxon", "permutation"):
        found = facts({"red - 1": [1.0, 2, 3, 5], "blue": [3.0, 5, 4, 8]}, pair="plant", test=test)["difference"]
        assert (found["first"], found["second"]) == ("red - 1", "blue"), test
    counted = analyse(table("g,o\na,up\na,no\nb,up\nb,up\n"), "o", "g").facts()["difference"]
    assert (counted["first"], counted["second"]) == ("a", "b")
    pairs = facts({"a": [1.0, 2], "b": [3.0, 5], "c": [7.0, 8]})["pairs"]
    assert [(one["first"], one["second"]) for one in pairs] == [("b", "a"), ("c", "a"), ("c", "b")]
    assert pairs[0]["value"] == pytest.approx(2.5)


def test_more_groups_than_are_compared_in_pairs_are_told() -> None:
    """Thirteen groups: no pairs, and a note why."""
    dice = random.Random(12)
    found = facts({f"g{at:02}": [dice.gauss(at, 1) for _ in range(3)] for at in range(13)})
    assert "pairs" not in found
    assert f"Of more than {several.MOST_GROUPS} groups no pairs are compared; here are 13." in found["notes"]


def test_power_is_told_only_of_tests_by_means() -> None:
    """What a t test could have found is no figure of ranks or regroupings."""
    groups = {"a": [1.0, 2, 3, 5, 2.5], "b": [2.0, 1.5, 4, 3, 2.2]}
    for test, told in (("welch", True), ("mann-whitney", False), ("permutation", False), ("kruskal", False)):
        words = facts(groups, test=test)["words"]
        assert ("4 times in 5" in words) is told, test
        assert "No difference" in words or "no difference" in words
        assert ("More plots would show smaller differences." in words) is not told, test


def test_an_interval_that_is_one_number_is_called_so() -> None:
    """Nine pairs that all differ by 1 by ranks: never 'anything from 1 to 1'."""
    x = [float(one) for one in range(9)]
    words = facts({"a": [one + 1 for one in x], "b": x}, pair="plant", test="wilcoxon")["words"]
    assert "anything from" not in words
    assert "is 1; the values that settle it agree so closely that its interval is that one number." in words


def test_a_wide_table_is_told_apart() -> None:
    """Two columns of values, one for each treatment: the line says how the table must be turned."""
    wide = "drug1_hours,drug2_hours\n0.7,1.9\n-1.6,0.8\n-0.2,1.1\n-1.2,0.1\n"
    with pytest.raises(BadTrial, match="one value a row"):
        analyse(table(wide), "drug1_hours", "drug2_hours")
