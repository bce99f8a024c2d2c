"""Counts: shares, tables, ratios, and intervals of shares."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from walkabout.insight.trials.counted import Counted
from walkabout.insight.trials.counts import chi_squared, fisher, sparse
from walkabout.insight.trials.intervals import clopper_pearson, newcombe, wilson
from walkabout.insight.trials.plates import plates, plates_note
from walkabout.insight.trials.ratio import agreement, agreement_note, ratio, read_ratio
from walkabout.insight.trials.result import analyse
from walkabout.insight.trials.table import BadTrial, Table, read_table

cells = st.integers(0, 30)


@given(cells, cells, cells, cells)
def test_two_shares_as_scipy_has_them(a: int, b: int, c: int, d: int) -> None:
    """Fisher's p on both sides, and an odds ratio that is None in the facts where it is beyond any number."""
    if not (a + b and c + d and a + c and b + d):
        return
    counted = Counted(("x", "y"), ("alive", "dead"), ((a, b), (c, d)))
    found = fisher(counted)
    expected = stats.fisher_exact([[a, b], [c, d]])
    assert found.test.p == pytest.approx(min(1, expected.pvalue))
    assert found.difference is not None
    assert found.difference.value == pytest.approx(a / (a + b) - c / (c + d))
    plain = chi_squared(counted)
    expected = stats.chi2_contingency([[a, b], [c, d]], correction=False)
    assert (plain.test.statistic, plain.test.p) == pytest.approx((expected.statistic, expected.pvalue), abs=1e-12)


@given(st.integers(1, 60), st.data())
def test_intervals_of_a_share_hold_the_share(n: int, data: st.DataObject) -> None:
    """Wilson's and the exact interval stay between 0 and 1 and hold the share; scipy gives the same."""
    x = data.draw(st.integers(0, n))
    for run, method in ((wilson, "wilson"), (clopper_pearson, "exact")):
        low, high = run(x, n)
        expected = stats.binomtest(x, n).proportion_ci(method=method)
        assert 0 <= low <= x / n <= high <= 1
        assert (low, high) == pytest.approx((expected.low, expected.high), abs=1e-9)
    value, low, high = newcombe(x, n, n - x, n)
    assert -1 <= low <= value <= high <= 1


def test_the_share_told_is_that_of_going_well() -> None:
    """Whichever outcome comes first in the table, the share of what went well is told."""
    table = read_table(b"lamp,came\nred,dead\nred,alive\nred,alive\nblue,dead\nblue,dead\n", "t.csv")
    facts = analyse(table, "came", "lamp").facts()
    assert facts["design"] == "counts"
    assert facts["test"]["name"] == "Fisher's exact test"
    assert facts["groups"][0]["share_of"] == "alive"
    assert facts["groups"][0]["counts"] == {"dead": 1, "alive": 2}
    assert facts["groups"][0]["mean"] is None
    assert facts["difference"]["value"] == pytest.approx(2 / 3)
    assert facts["effect"] == {"name": "odds ratio", "value": None, "low": None, "high": None}


def test_nought_and_one_are_counted() -> None:
    """A column of 0 and 1 is a yes or no; a test of means is run only when asked for."""
    table = read_table(b"g,up\na,0\na,1\na,1\nb,0\nb,0\nb,1\n", "t.csv")
    assert analyse(table, "up", "g").design == "counts"
    assert analyse(table, "up", "g", test="welch").design == "two groups"


def test_nought_and_one_have_a_mean() -> None:
    """Of 0 and 1 the mean is the share, and the sd that of the numbers; of words there is neither."""
    facts = analyse(read_table(b"g,up\na,1\na,0\na,1\na,1\nb,0\nb,0\nb,1\nb,0\n", "t.csv"), "up", "g").facts()
    assert [(one["mean"], one["sd"]) for one in facts["groups"]] == [(0.75, 0.5), (0.25, 0.5)]
    assert facts["groups"][0]["share_of"] == "1"
    words = analyse(read_table(b"g,up\na,yes\na,no\nb,no\n", "t.csv"), "up", "g").facts()
    assert [(one["mean"], one["sd"]) for one in words["groups"]] == [(None, None), (None, None)]


def test_both_odds_ratios_are_told() -> None:
    """The lady's tea: 9 in the sample; 6.408309 with the totals held, whose ends leave 2.5 % on either side."""
    content = b"said,poured,n\nm,m,3\nm,t,1\nt,m,1\nt,t,3\n"
    facts = analyse(read_table(content, "t.csv"), "poured", "said", count="n").facts()
    assert facts["effect"]["value"] == pytest.approx(9)
    held = facts["odds_ratio_conditional"]
    assert held["value"] == pytest.approx(6.408309, rel=1e-5)
    assert stats.nchypergeom_fisher(8, 4, 4, held["low"]).sf(2) == pytest.approx(0.025, rel=1e-4)
    assert stats.nchypergeom_fisher(8, 4, 4, held["high"]).cdf(3) == pytest.approx(0.025, rel=1e-4)


def test_chi_squared_of_two_by_two_with_and_without_the_correction() -> None:
    """Admissions at Berkeley (Bickel 1975), six departments: 92.21 without, 91.61 with Yates' correction."""
    content = b"sex,got,n\nmale,in,1198\nmale,out,1493\nfemale,in,557\nfemale,out,1278\n"
    facts = analyse(read_table(content, "t.csv"), "got", "sex", count="n", test="chi-squared").facts()
    assert facts["test"]["statistic"] == pytest.approx(92.205, abs=5e-4)
    assert facts["yates"]["statistic"] == pytest.approx(91.610, abs=5e-4)


def test_a_ratio_over_all_groups() -> None:
    """One row a plant and a column of families: the outcomes are set against the ratio all together."""
    rows = "".join(f"{family},{colour}\n" * n for family, colour, n in (("A", "red", 30), ("B", "red", 27)))
    content = f"family,colour\n{rows}{'A,white' + chr(10)}{('B,white' + chr(10)) * 18}".encode()
    facts = analyse(read_table(content, "t.csv"), "colour", "family", test="chi-squared 3:1").facts()
    assert {one["name"]: one["n"] for one in facts["groups"]} == {"red": 57, "white": 19}
    assert facts["test"]["statistic"] == pytest.approx(0)
    assert any("family" in one for one in facts["notes"])


def test_counts_without_a_ratio_are_held_to_be_even() -> None:
    """Chi-squared of one count for each outcome: equal parts, as scipy has it."""
    facts = analyse(read_table(b"side,n\nleft,12\nmiddle,20\nright,28\n", "t.csv"), "n", "side", test="chi2").facts()
    expected = stats.chisquare([12, 20, 28])
    assert facts["design"] == "ratio"
    assert (facts["test"]["statistic"], facts["test"]["p"]) == pytest.approx((expected.statistic, expected.pvalue))


def of_counts(counts: dict[str, tuple[int, int]]) -> Table:
    """Return a table of one plant a row."""
    rows = "".join(f"{g},up\n" * up + f"{g},no\n" * no for g, (up, no) in counts.items())
    return read_table(f"g,o\n{rows}".encode(), "t.csv")


def test_small_counts_in_larger_tables_go_by_fisher() -> None:
    """Three groups with few plants: exact, chi-squared beside it, and a word why; on request it is the other way."""
    table = of_counts({"a": (4, 1), "b": (1, 4), "c": (3, 2)})
    expected = stats.chi2_contingency([[4, 1], [1, 4], [3, 2]], correction=False)
    facts = analyse(table, "o", "g").facts()
    assert facts["test"]["key"] == "fisher"
    assert not facts["test"]["dealt"]
    assert facts["test"]["statistic"] is None
    assert facts["chi_squared"]["p"] == pytest.approx(expected.pvalue)
    assert any("Cochran" in note for note in facts["notes"])
    assert any("6 of 6 expected counts are below 5" in note for note in facts["notes"])
    asked = analyse(table, "o", "g", test="chi-squared").facts()
    assert asked["test"]["statistic"] == pytest.approx(expected.statistic)
    assert asked["test"]["df"] == 2
    assert any("rough because" in note and "Fisher's exact test gives" in note for note in asked["notes"])
    assert not any("Cochran" in note for note in asked["notes"])


def test_large_counts_in_larger_tables_go_by_chi_squared() -> None:
    """Where every expected count is large nothing is said against chi-squared; Fisher's test is there if asked."""
    table = of_counts({"a": (40, 12), "b": (31, 24), "c": (33, 20)})
    facts = analyse(table, "o", "g").facts()
    assert (facts["test"]["key"], facts["notes"]) == ("chi-squared", [])
    assert analyse(table, "o", "g", test="fisher").outcome.test.p == pytest.approx(facts["test"]["p"], rel=0.1)  # type: ignore[union-attr]


def test_one_small_expected_count_in_many_is_borne() -> None:
    """Cochran lets a fifth of the expected counts be below 5, but none below 1."""
    assert not sparse(Counted(("a", "b", "c"), ("x", "y"), ((40, 30), (40, 30), (6, 3))))
    assert sparse(Counted(("a", "b", "c"), ("x", "y"), ((40, 3), (40, 3), (6, 3))))
    assert sparse(Counted(("a", "b"), ("v", "w", "x", "y", "z"), ((9, 90, 90, 90, 1), (0, 90, 90, 90, 0))))


def test_trays_that_agree_and_trays_that_do_not() -> None:
    """Heterogeneity is what is left of the trays' chi-squared when that of all together is taken away."""
    alike = agreement({"1": (30, 10), "2": (27, 9), "3": (45, 15)}, (3, 1))
    assert alike is not None
    assert (alike.between, alike.between_df, alike.p) == (pytest.approx(0), 2, pytest.approx(1))
    apart = agreement({"1": (40, 0), "2": (20, 20), "none": (0, 0)}, (3, 1))
    assert apart is not None
    # each 40/3 on 1; together 60:20 is 3:1 to the plant, so all of it lies between the trays
    assert (apart.total, apart.pooled) == (pytest.approx(80 / 3), pytest.approx(0))
    assert apart.between == pytest.approx(80 / 3)
    assert (apart.total_df, apart.between_df) == (2, 1)
    assert "disagree by more than chance" in agreement_note(apart)
    assert "do not disagree" in agreement_note(alike)
    assert agreement({"1": (3, 1)}, (3, 1)) is None


def test_mendels_ten_plants_agree() -> None:
    """Round and wrinkled peas of ten plants (Mendel 1866; from memory, they add up to his 336 and 101)."""
    peas = ((45, 12), (27, 8), (24, 7), (19, 10), (32, 11), (26, 6), (88, 24), (22, 10), (28, 6), (25, 7))
    found = agreement({str(number): one for number, one in enumerate(peas, 1)}, (3, 1))
    assert found is not None
    each = [stats.chisquare(one, [0.75 * sum(one), 0.25 * sum(one)]).statistic for one in peas]
    assert found.total == pytest.approx(sum(each))
    assert found.pooled == pytest.approx(stats.chisquare([336, 101], [327.75, 109.25]).statistic)
    assert (found.total_df, found.between_df) == (10, 9)
    assert found.p == pytest.approx(stats.chi2.sf(found.total - found.pooled, 9))
    assert found.p > 0.05


def test_a_ratio_by_family_says_whether_the_families_agree() -> None:
    """Such as --by tray beside a ratio: heterogeneity in the facts, and a conclusion that does not hide it."""
    content = b"tray,kind,n\n1,green,40\n1,pale,0\n2,green,20\n2,pale,20\n"
    facts = analyse(read_table(content, "t.csv"), "kind", "tray", ratio="green=3, pale=1", count="n").facts()
    assert facts["heterogeneity"]["statistic"] == pytest.approx(80 / 3)
    assert facts["heterogeneity"]["df"] == 1
    assert "the groups disagree by more than chance" in facts["words"]
    assert (facts["groups"][0]["share_low"], facts["groups"][0]["share_high"]) == pytest.approx(wilson(60, 80))


def test_a_ratio_is_never_proven() -> None:
    """What goes with 3:1 goes with a span of shares, which is told."""
    words = analyse(read_table(b"kind,n\ngreen,75\npale,25\n", "t.csv"), "kind", count="n", ratio="3:1").words
    assert "proves nothing" in words
    assert "any share from 65.7 % to 82.5 % goes with the counts" in words
    assert "prove" not in words.replace("proves nothing", "")


def test_a_ratio_may_name_its_parts() -> None:
    """Named parts are matched by name; parts without names by the order of the table."""
    content = b"flower,n\nwhite,20\npurple,80\n"
    named = analyse(read_table(content, "t.csv"), "flower", count="n", ratio="purple=3, white=1").facts()
    bare = analyse(read_table(content, "t.csv"), "flower", count="n", ratio="1:3").facts()
    assert named["test"]["statistic"] == pytest.approx(4 / 3)
    assert bare["test"]["statistic"] == pytest.approx(4 / 3)
    assert named["design"] == "ratio"


def test_mixed_rows_have_no_order_of_their_own() -> None:
    """One row a plant, not sorted: the larger part goes to the more frequent outcome, and the note says so."""
    content = b"flower\nwhite\npurple\npurple\nwhite\npurple\npurple\npurple\npurple\n"
    facts = analyse(read_table(content, "t.csv"), "flower", ratio="3:1").facts()
    assert [one["name"] for one in facts["groups"]] == ["purple", "white"]
    assert facts["test"]["statistic"] == pytest.approx(0)
    assert any("purple 3, white 1" in note for note in facts["notes"])
    assert "proves nothing" in facts["words"]


@pytest.mark.parametrize(
    ("ask", "says"),
    [
        ({"ratio": "x"}, "is no ratio"),
        ({"ratio": "3:0"}, "above 0"),
        ({"ratio": "1:2:1"}, "3 parts, but there are 2 outcomes: a, b"),
        ({"ratio": "a=1, c=3"}, 'holds "c"'),
        ({"test": "ratio"}, "Give the ratio itself"),
        ({"test": "fisher"}, "--by COL"),
    ],
)
def test_ratios_that_cannot_be(ask: dict[str, str], says: str) -> None:
    """One line that says what would be right."""
    with pytest.raises(BadTrial, match=says):
        analyse(read_table(b"o\na\nb\na\n", "t.csv"), "o", **ask)  # type: ignore[arg-type]


def test_a_ratio_as_scipy_has_it() -> None:
    """Chi-squared of three parts; two parts are counted exactly too."""
    found = ratio(["a", "b", "c"], [22, 51, 27], [1, 2, 1])
    expected = stats.chisquare([22, 51, 27], [25, 50, 25])
    assert (found.test.statistic, found.test.p) == pytest.approx((expected.statistic, expected.pvalue))
    assert "binomial" in ratio(["a", "b"], [8, 1], [3, 1]).notes[-1]
    assert read_ratio("welch") is None


def test_plates_are_compared_not_seeds() -> None:
    """Plates that vary more than coin tosses are told of; shares of plates are compared."""
    rows = [("a", 2, 20), ("a", 15, 20), ("a", 9, 20), ("b", 3, 20), ("b", 18, 20), ("b", 10, 20)]
    content = "g,up,of\n" + "".join(f"{g},{up},{of}\n" for g, up, of in rows)
    facts = analyse(read_table(content.encode(), "t.csv"), "up", "g", of="of").facts()
    assert facts["groups"][0]["mean"] == pytest.approx((0.1 + 0.75 + 0.45) / 3)
    assert any("vary more than coin tosses" in note for note in facts["notes"])
    even = plates([("a", 10, 20), ("a", 11, 20), ("b", 4, 20), ("b", 4, 20)])
    assert even.spread < 1
    assert "no more than seeds do by chance" in plates_note(even)
    assert plates_note(plates([("a", 1, 2), ("b", 1, 2)])) == ""
