"""Treatments in blocks: adjusted differences, what cells show, and regrouping within blocks."""

import itertools
import random
from typing import Any

import numpy as np
import pytest
from scipy import stats

from walkabout.insight.trials import dealing, permute
from walkabout.insight.trials.blocks import blocked
from walkabout.insight.trials.outcome import Group
from walkabout.insight.trials.result import analyse
from walkabout.insight.trials.table import BadTrial, Table, read_table

Rows = list[tuple[str, str, float]]
"""Treatment, block, value."""

GAPS: Rows = [
    *[("a", "1", 3.0), ("b", "1", 4.1), ("a", "2", 3.4), ("c", "2", 6.0)],
    *[("b", "3", 4.9), ("c", "3", 6.2), ("a", "4", 3.9), ("b", "4", 5.4)],
]


def table(rows: Rows) -> Table:
    lines = [f"{treat},{block},{value}" for treat, block, value in rows]
    return read_table("\n".join(["treat,block,w", *lines]).encode(), "t.csv")


def facts(rows: Rows, **more: Any) -> dict[str, Any]:
    return analyse(table(rows), "w", "treat", block="block", **more).facts()


def left_over(columns: list[list[float]], y: list[float]) -> float:
    """Return what a regression leaves over, by numpy alone."""
    design = np.array(columns).T
    fitted = np.linalg.lstsq(design, np.array(y), rcond=None)[0]
    return float(np.sum((np.array(y) - design @ fitted) ** 2))


def f_of(rows: Rows) -> float:
    """Return F of the treatments after blocks: two regressions set against each other."""
    treats, blocks = sorted({one[0] for one in rows}), sorted({one[1] for one in rows})
    y = [one[2] for one in rows]
    of_blocks = [[float(one[1] == block) for one in rows] for block in blocks]
    both = of_blocks + [[float(one[0] == treat) for one in rows] for treat in treats[1:]]
    without, within = left_over(of_blocks, y), left_over(both, y)
    df1, df2 = len(treats) - 1, len(rows) - len(blocks) - len(treats) + 1
    return (without - within) / df1 / (within / df2)


def test_differences_in_uneven_blocks_say_that_they_are_adjusted() -> None:
    """Two treatments, one missing in a block: the difference is that within blocks, and says so wherever it is told."""
    rows: Rows = [("a", "1", 1.0), ("b", "1", 2.1), ("a", "2", 5.0), ("b", "2", 6.0), ("a", "3", 9.0)]
    found = facts(rows)
    # The third block says nothing of the treatments: −(1.1 + 1)/2, and not 5 − 4.05, the plain means.
    assert found["difference"]["value"] == pytest.approx(-1.05)
    assert found["difference"]["kind"] == "means, adjusted for blocks"
    assert "the mean difference, adjusted for blocks, a − b, may be anything" in found["words"]
    assert any("not those of the plain means" in note for note in found["notes"])
    assert "above a, adjusted for blocks by least squares (value = block + treatment): b 1.05" in found["working"]


def test_differences_in_even_blocks_are_those_of_the_means() -> None:
    """Whole blocks need no word about it."""
    found = facts([("a", "1", 1.0), ("b", "1", 2.1), ("a", "2", 5.0), ("b", "2", 6.0)])
    assert found["difference"]["kind"] == "means"
    assert "adjusted" not in str(found)


def test_shares_are_called_shares() -> None:
    """With a column of totals the difference is of shares, in words and facts."""
    text = "g,up,n\na,7,10\na,8,10\na,6,10\nb,3,10\nb,5,10\nb,4,10\n"
    found = analyse(read_table(text.encode(), "t.csv"), "up", "g", of="n").facts()
    assert found["difference"]["kind"] == "mean shares"
    assert found["difference"]["value"] == pytest.approx(0.3)
    assert found["words"].startswith("Share up of n: the mean difference, a − b,")


def test_cells_of_several_values_show_the_interaction() -> None:
    """Two plots a cell: the interaction, and the treatments against the spread within cells, by two regressions."""
    dice = random.Random(11)
    rows: Rows = [
        (treat, block, dice.gauss(3 + (treat == "b") * (block == "y") * 4, 1))
        for treat, block in itertools.product("abc", "xy")
        for _ in range(3)
    ]
    found = facts(rows)["interaction"]
    y = [one[2] for one in rows]
    cells = [[float(one[:2] == cell) for one in rows] for cell in itertools.product("abc", "xy")]
    blocks = [[float(one[1] == block) for one in rows] for block in "xy"]
    both = blocks + [[float(one[0] == treat) for one in rows] for treat in "bc"]
    pure, additive, without = (left_over(one, y) for one in (cells, both, blocks))
    f, treated = (additive - pure) / 2 / (pure / 12), (without - additive) / 2 / (pure / 12)
    assert found["statistic"] == pytest.approx(f)
    assert found["df"] == [2, 12]
    assert found["p"] == pytest.approx(stats.f.sf(f, 2, 12))
    assert (found["treatments_statistic"], found["treatments_df"]) == (pytest.approx(treated), [2, 12])


def test_one_value_a_cell_shows_no_interaction() -> None:
    """Nothing is told that cannot be known."""
    assert "interaction" not in facts(GAPS)


def test_regrouping_within_blocks_goes_with_the_blocked_f() -> None:
    """Four whole blocks in one order: 6 of 1296 regroupings, beside F and effect of the blocked table."""
    values = [[2.1, 2.9, 4.3], [3.2, 4.2, 5.5], [4.0, 4.9, 6.7], [5.1, 6.2, 7.1]]
    rows: Rows = [(t, str(b), v) for b, row in enumerate(values) for t, v in zip("abc", row, strict=True)]
    found, usual = facts(rows, test="permutation"), facts(rows)
    assert (found["test"]["as_far"], found["test"]["arrangements"]) == (6, 1296)
    assert found["test"]["statistic"] == pytest.approx(f_of(rows)) == pytest.approx(usual["test"]["statistic"])
    assert found["effect"] == usual["effect"]


def test_regrouping_in_blocks_with_gaps_is_adjusted_for_them() -> None:
    """Every order within each block, each judged by its own F after the blocks."""
    found = facts(GAPS, test="permutation")
    blocks = [[one for one in GAPS if one[1] == block] for block in "1234"]
    every = []
    for turned in itertools.product(*(itertools.permutations(one[0] for one in block) for block in blocks)):
        names = [name for block in turned for name in block]
        values = [one for block in blocks for one in block]
        every.append(f_of([(name, one[1], one[2]) for name, one in zip(names, values, strict=True)]))
    seen = f_of(GAPS)
    assert found["test"]["statistic"] == pytest.approx(seen)
    assert found["test"]["arrangements"] == len(every) == 16
    assert found["test"]["as_far"] == sum(one >= seen * (1 - 1e-9) for one in every)


def test_two_groups_in_blocks_have_their_difference_when_regrouped() -> None:
    """The difference and interval of the blocked table, and p as turning the signs of the pairs gives it."""
    x, y = [5.1, 6.3, 7.2, 6.6, 8.0], [4.8, 6.0, 6.1, 6.2, 7.9]
    rows: Rows = [(t, str(b), v) for t, values in (("a", x), ("b", y)) for b, v in enumerate(values)]
    found, usual = facts(rows, test="permutation"), facts(rows)
    assert found["difference"] == usual["difference"]
    turned = dealing.flipped([one - other for one, other in zip(x, y, strict=True)])
    assert found["test"]["p"] == pytest.approx(turned.p)
    assert any("regrouping gives none by itself" in note for note in found["notes"])


def test_blocks_that_are_the_treatments_cannot_be_regrouped() -> None:
    """One line, as in the analysis of variance."""
    groups = [Group("a", (1.0, 2.0)), Group("b", (2.0, 4.0))]
    for run in (blocked, permute.several):
        with pytest.raises(BadTrial, match="cannot be told apart"):
            run(groups, [["x", "x"], ["y", "y"]])


def test_pairs_by_name_of_the_test() -> None:
    """A paired test takes blocks of two as its pairs, and Friedman's takes pairs of three as its blocks."""
    two: Rows = [one for one in GAPS if one[0] != "c" and one[1] in "14"]
    in_pairs = analyse(table(two), "w", "treat", pair="block").facts()
    assert facts(two, test="paired") == in_pairs
    three: Rows = [(t, str(b), float(b * 3 + at)) for b in range(4) for at, t in enumerate("abc")]
    by_pair = analyse(table(three), "w", "treat", pair="block", test="friedman").facts()
    assert by_pair == facts(three, test="friedman")
    # Friedman 1937: in four blocks of three all in one order, Q = 8 has p = 0.0046 (from memory of his table).
    assert by_pair["test"]["p_counted"] == pytest.approx(0.0046, abs=5e-5)
