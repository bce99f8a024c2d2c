"""Ranks counted out, against plain loops over every order and scipy's own; and what so few values can show at best."""

import itertools
import math
import random
import statistics
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from walkabout.insight.trials import orders, ranks, shifts
from walkabout.insight.trials.design import Trial
from walkabout.insight.trials.least import least_p
from walkabout.insight.trials.outcome import Group
from walkabout.insight.trials.result import analyse
from walkabout.insight.trials.table import Table, read_table


def group(values: Sequence[float], name: str = "a") -> Group:
    return Group(name, tuple(values), tuple(range(2, len(values) + 2)))


def table(text: str) -> Table:
    return read_table(text.encode(), "t.csv")


def long(groups: dict[str, Sequence[float]]) -> Table:
    rows = [f"{at},{name},{one}" for name, values in groups.items() for at, one in enumerate(values)]
    return table("\n".join(["plant,lamp,weight", *rows]))


few = st.lists(st.integers(0, 4), min_size=2, max_size=4)


@given(few, few)
def test_tied_values_of_two_groups_are_counted(x: list[int], y: list[int]) -> None:
    """Every choice of the first group from all ranks, ties and all: twice the smaller side."""
    every = x + y
    if len(set(every)) < 2:
        return
    order = stats.rankdata(every)
    sums = [sum(one) for one in itertools.combinations(order, len(x))]
    seen = sum(order[: len(x)])
    sides = sum(one >= seen for one in sums) / len(sums), sum(one <= seen for one in sums) / len(sums)
    found = ranks.mann_whitney(group(x), group(y, "b")).test
    assert found.more["p_counted"] == pytest.approx(min(1.0, 2 * min(sides)))
    assert found.judged == found.more["p_counted"]


def test_tied_values_as_a_second_library_counts_them() -> None:
    """Seven against eight with ties, as scipy's own exhaustive permutation of U has it."""
    x, y = [1, 2, 2, 3, 5, 5, 6], [2, 4, 5, 6, 7, 7, 8, 9]
    expected = stats.mannwhitneyu(x, y, method=stats.PermutationMethod(n_resamples=10_000)).pvalue
    found = ranks.mann_whitney(group(x), group(y, "b")).test
    assert found.more["p_counted"] == pytest.approx(expected)
    assert found.p == pytest.approx(stats.mannwhitneyu(x, y, method="asymptotic").pvalue)


@settings(max_examples=25)
@given(few, few, few)
def test_several_groups_are_counted(x: list[int], y: list[int], z: list[int]) -> None:
    """Every way of dealing all ranks out to three groups, by a plain loop."""
    every = x + y + z
    if len(every) > 9 or len(set(every)) < 2:
        return
    order = [round(2 * one) for one in stats.rankdata(every)]
    n1, n2, n3 = len(x), len(y), len(z)
    total, far, many = sum(order), 0, 0

    def apart(first: int, second: int) -> int:
        rest = total - first - second
        return first * first * n2 * n3 + second * second * n1 * n3 + rest * rest * n1 * n2

    seen = apart(sum(order[:n1]), sum(order[n1 : n1 + n2]))
    places = range(len(every))
    for one in itertools.combinations(places, n1):
        left = [at for at in places if at not in one]
        for other in itertools.combinations(left, n2):
            many += 1
            far += apart(sum(order[at] for at in one), sum(order[at] for at in other)) >= seen
    found = ranks.kruskal([group(x, "x"), group(y, "y"), group(z, "z")]).test
    assert found.more["p_counted"] == pytest.approx(far / many)


@given(st.lists(st.tuples(*[st.integers(0, 3)] * 3), min_size=2, max_size=4))
def test_whole_blocks_are_counted(rows: list[tuple[int, int, int]]) -> None:
    """Every order of three treatments in each block, by a plain loop."""
    if all(len(set(row)) == 1 for row in rows):
        return
    order = [[round(2 * one) for one in stats.rankdata(row)] for row in rows]
    apart = [
        sum(sum(column) ** 2 for column in zip(*turned, strict=True))
        for turned in itertools.product(*(itertools.permutations(row) for row in order))
    ]
    seen = sum(sum(column) ** 2 for column in zip(*order, strict=True))
    found = ranks.friedman([group(one, str(at)) for at, one in enumerate(zip(*rows, strict=True))]).test
    assert found.more["p_counted"] == pytest.approx(sum(one >= seen for one in apart) / len(apart))


def test_what_is_too_much_to_count_is_left_to_the_curve() -> None:
    """Many values without ties, and blocks of many treatments: no counted p, and the words go by the usual one."""
    dice = random.Random(3)
    groups = [group([dice.gauss(0, 1) for _ in range(30)], name) for name in "abc"]
    test = ranks.kruskal(groups).test
    assert test.more["p_counted"] is None
    assert test.judged == test.p
    assert orders.in_blocks([list(range(8))] * 3, [0.0] * 8) is None


def test_three_against_three_cannot_be_more_than_chance_in_words() -> None:
    """Three alike against three alike: the curve says 0.047, but 2 of 20 orders come out so; words go by those."""
    facts = analyse(long({"a": [1, 1, 1], "b": [2, 2, 2]}), "weight", "lamp", test="mann-whitney").facts()
    assert facts["test"]["p"] == pytest.approx(0.0469, abs=5e-5)
    assert facts["test"]["p_counted"] == pytest.approx(0.1)
    assert "No difference shown" in facts["words"]
    assert "by counting, p = 0.10" in facts["words"]
    assert "cannot give a p below 0.1," in facts["words"]
    assert "4 times in 5" not in facts["words"]
    assert any("the words go by the count" in note for note in facts["notes"])


def test_five_tied_pairs_cannot_be_more_than_chance_in_words() -> None:
    """Five pairs: the curve says 0.048, but all of one sign come out twice in 32."""
    facts = analyse(
        long({"a": [1, 2.5, 5, 5.5, 7], "b": [0, 1.5, 3, 4.5, 6]}), "weight", "lamp", pair="plant", test="wilcoxon"
    ).facts()
    assert facts["test"]["p"] == pytest.approx(0.0477, abs=5e-5)
    assert facts["test"]["p_counted"] == pytest.approx(2 / 2**5)
    assert "No difference shown" in facts["words"]
    assert "cannot give a p below 0.062," in facts["words"]


def test_a_second_look_goes_by_the_count_too() -> None:
    """Three pairs with a tie: the ranks cannot give less than 0.25, and no smaller p is told of them."""
    facts = analyse(long({"a": [5.5, 6.5, 5], "b": [4, 5, 4.2]}), "weight", "lamp", pair="plant").facts()
    assert facts["second_look"]["p"] == pytest.approx(0.25)
    assert any("It gives p = 0.25; with so few values it cannot give less than 0.25" in one for one in facts["notes"])


def test_few_values_of_several_groups_are_looked_at_by_regrouping() -> None:
    """Two in each of three groups: 6 of 90 regroupings lie as far apart, which no ranks' curve may better."""
    facts = analyse(long({"a": [1, 2], "b": [3, 4], "c": [5, 6.5]}), "weight", "lamp").facts()
    assert facts["second_look"] == {"name": "permutation test", "p": pytest.approx(6 / 90)}
    assert any("cannot give less than 0.067" in note for note in facts["notes"])
    assert "a hint to be borne out" in facts["words"]


@pytest.mark.parametrize(
    ("sizes", "key", "least"),
    [
        ((3, 3), "mann-whitney", 2 / 20),
        ((3, 4), "mann-whitney", 2 / 35),
        ((3, 3), "permutation", 2 / 20),
        ((3, 4), "permutation", 1 / 35),
        ((2, 2, 2), "kruskal", 6 / 90),
        ((2, 2, 3), "kruskal", 2 / 210),
        ((2, 2, 2), "permutation", 6 / 90),
        ((5, 5), "welch", 0.0),
    ],
)
def test_the_least_p_of_a_size(sizes: tuple[int, ...], key: str, least: float) -> None:
    """Of how many orders the clearest one is how many; a t test has none."""
    groups = tuple(group([float(10 * at + one) for one in range(n)], str(at)) for at, n in enumerate(sizes))
    trial = Trial(design="two groups" if len(sizes) == 2 else "several groups", groups=groups)
    assert least_p(trial, key) == pytest.approx(least)


def test_the_least_p_in_blocks() -> None:
    """Three treatments in two whole blocks: 6 of 36; with a gap in one, 1 of 12."""
    groups = tuple(group([1.0, 2.0], name) for name in "abc")
    whole = Trial(design="blocked", groups=groups, blocks=(("x", "y"),) * 3)
    assert least_p(whole, "friedman") == pytest.approx(6 / 36)
    gap = Trial(design="blocked", groups=(*groups[:2], group([1.0], "c")), blocks=(("x", "y"), ("x", "y"), ("x",)))
    assert least_p(gap, "permutation") == pytest.approx(1 / 12)


def test_a_shift_of_very_many_pairs_is_closed_in_upon(monkeypatch: pytest.MonkeyPatch) -> None:
    """The halving gives the same median and ends as listing every pair does."""
    dice = random.Random(6)
    x, y = group([dice.gauss(1, 1) for _ in range(70)]), group([round(dice.gauss(0, 1), 1) for _ in range(60)], "b")
    gaps = [dice.gauss(0.2, 1) for _ in range(64)]
    listed = shifts.shift(x, y), shifts.paired_shift(x, y, gaps)
    monkeypatch.setattr(shifts, "MOST_PAIRS", 100)
    halved = shifts.shift(x, y), shifts.paired_shift(x, y, gaps)
    for one, other in zip(listed, halved, strict=True):
        assert [one.value, one.low, one.high] == pytest.approx([other.value, other.low, other.high], abs=1e-12)
    every = [one - other for one, other in itertools.product(x.values, y.values)]
    assert halved[0].value == pytest.approx(statistics.median(every), abs=1e-12)


def test_more_pairs_than_can_be_listed_have_their_shift() -> None:
    """2100 against 2000: shifted by a half, and the interval is as narrow as the normal curve has it."""
    dice = random.Random(9)
    x, y = [dice.gauss(0.5, 1) for _ in range(2100)], [dice.gauss(0, 1) for _ in range(2000)]
    gap = ranks.mann_whitney(group(x), group(y, "b")).difference
    assert gap is not None
    assert gap.low is not None
    assert gap.high is not None
    assert gap.low < gap.value < gap.high
    assert gap.value == pytest.approx(0.5, abs=4 * math.sqrt(math.pi / 3 / 2050 * 2))
    assert stats.mannwhitneyu(x, [one + gap.low for one in y]).pvalue == pytest.approx(0.05, abs=0.002)


def test_the_working_of_ranks_can_be_redone() -> None:
    """Rank sums stand in the working: those of 1, 2, 4 and 3, 5, 6 are 7 and 14; U, H and Q follow from them."""
    facts = analyse(long({"a": [1, 2, 4], "b": [3, 5, 6]}), "weight", "lamp", test="mann-whitney").facts()
    assert "rank sums R, ties sharing their ranks: a 7 (n = 3), b 14 (n = 3)" in facts["working"]
    assert "U = R₁ − n₁(n₁+1)/2 = 7 − 6 = 1" in facts["working"]
    groups = {"a": [1, 1, 4], "b": [3, 5, 6], "c": [4, 8, 9]}
    h = analyse(long(groups), "weight", "lamp", test="kruskal").facts()
    # Ranks 1.5 1.5 4.5, 3 6 7, 4.5 8 9: 12/90·(7.5² + 16² + 21.5²)/3 − 30 = 4.4222; two pairs tied: 1 − 12/720.
    assert any("a 7.5 (n = 3), b 16 (n = 3), c 21.5 (n = 3)" in line for line in h["working"])
    assert any(line.endswith(": 4.4222") for line in h["working"])
    assert any("4.4222/0.98333 = 4.4972" in line for line in h["working"])
    assert h["test"]["statistic"] == pytest.approx(stats.kruskal(*groups.values()).statistic)
    q = analyse(long(groups), "weight", "lamp", block="plant", test="friedman").facts()
    assert any("a 3 (n = 3), b 6 (n = 3), c 9 (n = 3)" in line for line in q["working"])
    assert q["test"]["statistic"] == pytest.approx(stats.friedmanchisquare(*groups.values()).statistic)


def test_the_working_of_tukey_can_be_redone() -> None:
    """Each pair has its standard error and its q: 4, 5, 6 against 1, 2, 3 with mean square 1 is q = 3/√(1/3)."""
    facts = analyse(long({"a": [1, 2, 3], "b": [4, 5, 6], "c": [1, 2, 3]}), "weight", "lamp").facts()
    line = next(one for one in facts["working"] if one.startswith("b - a"))
    assert "standard error/√2 = 0.57735, q = 5.1962" in line
