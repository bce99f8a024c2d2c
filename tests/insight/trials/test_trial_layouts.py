"""Counts as people lay them out: each layout gives the published figure, or one line that names the option."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from walkabout.insight.trials.counted import Counted
from walkabout.insight.trials.result import analyse
from walkabout.insight.trials.table import BadTrial, read_table

TEA = "poured,guess,n\nmilk,milk,3\nmilk,tea,1\ntea,milk,1\ntea,tea,3\n"
PEAS = "type,n\nround yellow,315\nwrinkled yellow,101\nround green,108\nwrinkled green,32\n"
ROUND = "form,count\nround,5474\nwrinkled,1850\n"
SMOKERS = "group,smokers,patients\ng0,83,86\ng1,90,93\ng2,129,136\ng3,70,82\n"
ALIVE = "lamp,alive,dead\nred,3,1\nblue,1,3\n"
PARTY = "gender,party,n\nF,Dem,762\nF,Ind,327\nF,Rep,468\nM,Dem,484\nM,Ind,239\nM,Rep,477\n"
EXPECTED = "type,observed,expected\nround yellow,315,312.75\nwrinkled yellow,101,104.25\nround green,108,104.25\n"
EXPECTED += "wrinkled green,32,34.75\n"
DIE = "face,n\n1,22\n2,24\n3,38\n4,30\n5,46\n6,44\n"
FAMILIES = "family,kind,n\nA,round,45\nA,wrinkled,12\nB,round,27\nB,wrinkled,8\n"
BOTH = "family,round,wrinkled\nA,45,12\nB,27,8\n"


def one_a_row(**many: int) -> str:
    """Return a table of one plant a row, each kind together."""
    return "seed\n" + "".join(f"{kind}\n" * n for kind, n in many.items())


SERVED = {
    # Fisher 1935, The Design of Experiments, chapter 2: 17 in 35
    "tea, count not named": (TEA, "guess", "poured", {"test": "fisher"}, None, 17 / 35),
    "tea, usual test": (TEA, "guess", "poured", {}, None, 17 / 35),
    "tea, the count as response": (TEA, "n", "poured", {"test": "fisher"}, None, 17 / 35),
    "tea, of a total": (
        "p,milk,total\nmilk,3,4\ntea,1,4\n",
        "milk",
        "p",
        {"of": "total", "test": "fisher"},
        None,
        17 / 35,
    ),
    "tea, of a total, usual": ("p,milk,total\nmilk,3,4\ntea,1,4\n", "milk", "p", {"of": "total"}, None, 17 / 35),
    "tea, totals beside": ("p,milk,total\nmilk,3,4\ntea,1,4\n", "milk", "p", {"test": "fisher"}, None, 17 / 35),
    "tea, of a sum": (ALIVE, "alive", "lamp", {"of": "alive+dead", "test": "fisher"}, None, 17 / 35),
    "tea, of a sum with blanks": (ALIVE, "alive", "lamp", {"of": "alive + dead"}, None, 17 / 35),
    "tea, 0 and 1 with counts": (
        "p,right,n\nm,1,3\nm,0,1\nt,1,1\nt,0,3\n",
        *("right", "p", {"test": "fisher"}, None, 17 / 35),
    ),
    # Mendel 1866, with Pearson's chi-squared: 0.47 on 3 and 0.263 on 1
    "peas, count as response": (PEAS, "n", "type", {"test": "9:3:3:1"}, 0.470024, 0.925426),
    "peas, count as treatment": (PEAS, "type", "n", {"test": "9:3:3:1"}, 0.470024, 0.925426),
    "peas, no treatment": (PEAS, "type", None, {"test": "9:3:3:1"}, 0.470024, 0.925426),
    "peas, only the count": (PEAS, "n", None, {"test": "9:3:3:1"}, 0.470024, 0.925426),
    "peas, named twice": (PEAS, "type", "type", {"ratio": "9:3:3:1"}, 0.470024, 0.925426),
    "peas, count named": (PEAS, "type", "type", {"ratio": "9:3:3:1", "count": "n"}, 0.470024, 0.925426),
    "round, named twice": (ROUND, "form", "form", {"test": "3:1"}, 0.262881, None),
    "round, count as treatment": (ROUND, "form", "count", {"test": "chi-squared 3:1"}, 0.262881, None),
    # the same peas with what is expected beside them
    "expected beside": (EXPECTED, "observed", "type", {"test": "chisquare"}, 0.470024, 0.925426),
    "expected beside, outcome as response": (EXPECTED, "type", "type", {"test": "chi2"}, 0.470024, 0.925426),
    "expected beside and a ratio": (EXPECTED, "observed", "type", {"test": "9:3:3:1"}, 0.470024, 0.925426),
    "expected as the ratio": (EXPECTED, "observed", "type", {"ratio": "expected"}, 0.470024, 0.925426),
    "ratio beside": (
        "type,n,ratio\nround,5474,3\nwrinkled,1850,1\n",
        *("n", "type", {"test": "chi-squared"}, 0.262881, None),
    ),
    # equal parts by hand: mean 34, squares of the distances 144+100+16+16+144+100 = 520
    "die": (DIE, "n", "face", {"test": "chisquare"}, 520 / 34, None),
    "die, count as treatment": (DIE, "face", "n", {"test": "chisquare"}, 520 / 34, None),
    "die, named twice": (DIE, "face", "face", {"test": "chisquare"}, 520 / 34, None),
    # four hospitals (Fleiss 1981), as R's documentation of its test of proportions prints them
    "smokers of patients": (SMOKERS, "smokers", "group", {"of": "patients", "test": "chi-squared"}, 12.6004, 0.005585),
    "smokers of patients, usual": (SMOKERS, "smokers", "group", {"of": "patients", "test": "chi2"}, 12.6004, 0.005585),
    # Agresti 2007, An Introduction to Categorical Data Analysis, table 2.5: 30.07 on 2
    "party, count not named": (PARTY, "party", "gender", {"test": "chi2"}, 30.0701, None),
    "party, count as response": (PARTY, "n", "gender", {"test": "chi2"}, 30.0701, None),
    "party, usual": (PARTY, "party", "gender", {}, 30.0701, None),
    # both families together: 72 and 20 of 92 against 69 and 23
    "families, long": (FAMILIES, "kind", "family", {"test": "3:1"}, 9 / 69 + 9 / 23, None),
    "families, no treatment": (FAMILIES, "kind", None, {"test": "3:1"}, 9 / 69 + 9 / 23, None),
    "families, count as response": (FAMILIES, "n", "kind", {"test": "3:1"}, 9 / 69 + 9 / 23, None),
    "families, side by side": (BOTH, "round", "family", {"of": "round+wrinkled", "test": "3:1"}, 9 / 69 + 9 / 23, None),
    "families, totals": (
        "family,round,all\nA,45,57\nB,27,35\n",
        *("round", "family", {"of": "all", "ratio": "3:1"}, 9 / 69 + 9 / 23, None),
    ),
    # one row a plant, however the rows are sorted
    "green first": (one_a_row(green=25, yellow=75), "seed", "seed", {"test": "3:1"}, 0, 1),
    "yellow first": (one_a_row(yellow=75, green=25), "seed", None, {"test": "3:1"}, 0, 1),
    "pink first": (one_a_row(pink=52, red=24, white=24), "seed", "seed", {"test": "1:2:1"}, 0.16, None),
    "white first": (one_a_row(white=24, pink=52, red=24), "seed", None, {"test": "1:2:1"}, 0.16, None),
    "three parts": (one_a_row(albino=24, pale=24, green=52), "seed", None, {"test": "2:1:1"}, 0.16, None),
    "0 and 1": ("up\n" + "0\n" * 25 + "1\n" * 75, "up", None, {"test": "3:1"}, 0, 1),
}


@pytest.mark.parametrize("case", SERVED.values(), ids=SERVED)
def test_each_layout_gives_the_published_figure(
    case: tuple[str, str, str | None, dict[str, str], float | None, float | None],
) -> None:
    """Whichever way the counts are laid out, the statistic and p are those of the counts."""
    content, response, by, ask, statistic, p = case
    facts = analyse(read_table(content.encode(), "t.csv"), response, by, **ask).facts()  # type: ignore[arg-type]
    if statistic is not None:
        assert facts["test"]["statistic"] == pytest.approx(statistic, rel=2e-4, abs=1e-9)
    if p is not None:
        assert facts["test"]["p"] == pytest.approx(p, rel=2e-4)


REFUSED = {
    "totals or the others": (ALIVE, "alive", "lamp", {"test": "fisher"}, "--of alive[+]dead"),
    "chi-squared is not of equal parts": (ALIVE, "alive", "lamp", {"test": "chi-squared"}, "--of alive[+]dead"),
    "nor are totals": (SMOKERS, "smokers", "group", {"test": "chisquare"}, "--of patients"),
    "a ratio of one kind": (BOTH, "round", "family", {"test": "3:1"}, "--of round[+]wrinkled"),
    "the usual test of one row a group": (ALIVE, "alive", "lamp", {}, "--of"),
    "the others named as totals": (ALIVE, "alive", "lamp", {"of": "dead", "test": "fisher"}, "--of alive[+]dead"),
    "totals as the count": (SMOKERS, "smokers", "group", {"count": "patients"}, "--of patients"),
    "fisher of outcomes alone": (PEAS, "n", "type", {"test": "fisher"}, "--ratio"),
    "fisher of outcomes alone, turned": (PEAS, "type", "n", {"test": "fisher"}, "--ratio"),
    "the count as the treatment": (TEA, "guess", "n", {"test": "fisher"}, "--count n"),
    "two columns of counts": (
        "p,g,seen,before\na,x,3,1\na,y,1,5\nb,x,1,6\nb,y,3,2\n",
        *("g", "p", {"test": "fisher"}, "--count"),
    ),
    "numbers that may be either": ("x,y\n12,40\n14,41\n", "x", "y", {"test": "3:1"}, "--count"),
    "counts without outcomes": ("n\n315\n101\n108\n32\n", "n", None, {"test": "9:3:3:1"}, "--count"),
    "rows of one kind come again": ("kind,n\nr,40\nw,10\nr,30\nw,12\n", "kind", None, {"test": "3:1"}, "--count n"),
    "amounts": ("lamp,g\nred,4.2\nred,5.1\nblue,3.3\nblue,3.9\n", "g", "lamp", {"test": "fisher"}, "words"),
    "totals and counts": (ALIVE, "alive", "lamp", {"of": "dead", "count": "dead"}, "--count"),
    "a ratio in blocks": (TEA, "guess", None, {"test": "3:1", "block": "poured"}, "--by"),
    "percentages": ("type,percent\nr,75\nw,25\n", "percent", "type", {"test": "3:1"}, "how many there were"),
    "percentages beside": ("type,percent\nr,75\nw,25\n", "type", "type", {"test": "3:1"}, "how many there were"),
    "shares by treatment": ("lamp,% alive\nr,75\nb,25\n", "% alive", "lamp", {"test": "chi2"}, "how many there were"),
    "parts of plants": ("type,n\nr,3.5\nw,5\n", "n", "type", {"test": "3:1"}, "whole numbers"),
    "a row of sums": ("type,n\nr,75\nw,25\ntotal,100\n", "n", "type", {"test": "chi2"}, "leave it out"),
    "a group of sums": (ALIVE + "all,4,4\n", "alive", "lamp", {"of": "alive+dead"}, "leave it out"),
    "an outcome of sums": (
        "g,o,n\na,x,3\na,y,1\na,all,4\nb,x,1\nb,y,3\nb,all,4\n",
        *("o", "g", {"test": "chi2"}, "leave it out"),
    ),
    "amounts by lamp": ("lamp,g\nr,4\nr,5\nr,6\nb,2\nb,3\n", "g", "lamp", {"test": "3:1"}, "--count g"),
    "0 and 1 with counts, by means": (
        "p,up,n\nm,1,3\nm,0,1\nt,1,1\nt,0,3\n",
        *("up", "p", {"test": "welch"}, "fisher"),
    ),
    "counts as amounts": (TEA, "n", "poured", {}, "--count n"),
    "no outcome": ("kind,x\n,1\n,2\n", "kind", "kind", {"test": "3:1"}, "no row holds a word"),
    "one outcome": ("kind,n,ratio\nr,6,3\n", "kind", "kind", {"ratio": "ratio", "count": "n"}, "one outcome only"),
    "a part of nought": ("kind,n,expected\nr,40,0\nw,10,3\n", "n", "kind", {"test": "chi2"}, "above 0"),
}


@pytest.mark.parametrize("case", REFUSED.values(), ids=REFUSED)
def test_a_layout_that_cannot_be_read_names_the_option(
    case: tuple[str, str, str | None, dict[str, str], str],
) -> None:
    """Never a wrong number in silence: one line with the option that would do it."""
    content, response, by, ask, says = case
    with pytest.raises(BadTrial, match=says):
        analyse(read_table(content.encode(), "t.csv"), response, by, **ask)  # type: ignore[arg-type]


def test_a_column_that_was_taken_for_the_count_is_named() -> None:
    """What was read without being asked for is said, and how to say otherwise."""
    notes = analyse(read_table(TEA.encode(), "t.csv"), "guess", "poured").notes
    assert 'as many plants as "n" says' in notes[0]
    assert "--count 1" in notes[0]
    one = analyse(read_table(TEA.encode(), "t.csv"), "guess", "poured", count="1").facts()
    assert [sum(group["counts"].values()) for group in one["groups"]] == [2, 2]


def test_counts_compared_as_amounts_are_told_of() -> None:
    """Plates with totals beside them: without --of the counts are compared, and the note names the option."""
    table = read_table(b"g,up,total\na,8,10\na,9,10\nb,4,10\nb,6,10\n", "t.csv")
    assert any("--of total" in note for note in analyse(table, "up", "g").notes)
    assert not any("--of total" in note for note in analyse(table, "up", "g", of="total").notes)


def test_measurements_beside_the_outcome_are_no_counts() -> None:
    """One row a plant with its number and its leaves: the plants are counted, not the leaves."""
    rows = [("red", 1, "up", 4), ("red", 2, "no", 6), ("red", 3, "up", 5), ("blue", 1, "up", 3), ("blue", 2, "no", 7)]
    content = "lamp,plant,came,leaves\n" + "".join(f"{a},{b},{c},{d}\n" for a, b, c, d in rows)
    facts = analyse(read_table(content.encode(), "t.csv"), "came", "lamp").facts()
    assert [group["n"] for group in facts["groups"]] == [3, 2]
    assert facts["notes"] == []


def test_parts_of_a_table_in_an_order_that_does_not_fit_are_told_first() -> None:
    """White before red: the parts go in the writer's order, and the words begin with what would fit far better."""
    table = read_table(b"form,count\nwhite,224\nred,705\n", "t.csv")
    found = analyse(table, "form", "count", test="3:1")
    assert found.outcome is not None
    assert found.outcome.test.statistic == pytest.approx((224 - 696.75) ** 2 / 696.75 + (705 - 232.25) ** 2 / 232.25)
    assert found.words.startswith("The parts were taken in the order of the table: white 3, red 1.")
    assert "red 3, white 1" in found.words.split("929 counted")[0]
    assert "0.39" in found.words
    named = analyse(table, "form", "count", ratio="white=3, red=1")
    assert named.words.startswith("929 counted")
    fits = analyse(read_table(b"form,count\nred,705\nwhite,224\n", "t.csv"), "form", "count", test="3:1")
    assert fits.words.startswith("929 counted")


def test_each_row_a_group_of_its_own_is_no_tray() -> None:
    """Plants with a number each are set against the ratio together, without a test of whether plants agree."""
    rows = "".join(f"{at},{'white' if at % 4 == 0 else 'red'}\n" for at in range(1, 41))
    facts = analyse(read_table(f"plant,colour\n{rows}".encode(), "t.csv"), "colour", "plant", test="3:1").facts()
    assert facts["test"]["statistic"] == pytest.approx(0)
    assert "heterogeneity" not in facts


def test_plates_added_up_on_request_say_what_that_hides() -> None:
    """Fisher's test of several plates a treatment adds them up; the usual test goes on comparing plates."""
    table = read_table(b"g,up,of\na,2,20\na,15,20\nb,3,20\nb,18,20\n", "t.csv")
    assert analyse(table, "up", "g", of="of").design == "two groups"
    asked = analyse(table, "up", "g", of="of", test="fisher").facts()
    assert [group["counts"] for group in asked["groups"]] == [{"up": 17, "not up": 23}, {"up": 21, "not up": 19}]
    assert any("added up" in note and "more than coin tosses" in note for note in asked["notes"])


def test_an_odds_ratio_beyond_numbers_is_explained() -> None:
    """With an empty cell there is no number: why, and the estimate with a half added to each count."""
    facts = analyse(read_table(b"g,came,n\na,alive,5\na,dead,0\nb,alive,2\nb,dead,3\n", "t.csv"), "came", "g").facts()
    assert facts["effect"]["value"] is None
    note = next(one for one in facts["notes"] if "odds ratio" in one)
    assert "0 dead in a" in note
    # (5.5·3.5)/(0.5·2.5)
    assert "15.4" in note


@pytest.mark.parametrize(
    ("words", "told"), [(("absent", "present"), 1), (("recessive", "dominant"), 1), (("wilted", "fine"), 1)]
)
def test_the_outcome_that_is_told(words: tuple[str, str], told: int) -> None:
    """Presence, the dominant form, what did not go badly."""
    assert Counted(("a", "b"), words, ((1, 2), (3, 4))).told == told


some = st.integers(1, 12)


@given(some, some, some, some, st.booleans())
def test_every_layout_of_the_same_plants_gives_the_same(a: int, b: int, c: int, d: int, mixed: bool) -> None:
    """One row a plant, one an outcome, one a treatment with totals or with the others: one p and one difference."""
    singly = [*["r,up"] * a, *["r,no"] * b, *["w,up"] * c, *["w,no"] * d]
    if mixed:
        random.Random(a).shuffle(singly)
    layouts = [
        analyse(read_table(("g,o\n" + "\n".join(singly)).encode(), "t.csv"), "o", "g"),
        analyse(read_table(f"g,o,n\nr,up,{a}\nr,no,{b}\nw,up,{c}\nw,no,{d}\n".encode(), "t.csv"), "o", "g", count="n"),
        analyse(read_table(f"g,up,all\nr,{a},{a + b}\nw,{c},{c + d}\n".encode(), "t.csv"), "up", "g", of="all"),
        analyse(read_table(f"g,up,no\nr,{a},{b}\nw,{c},{d}\n".encode(), "t.csv"), "up", "g", of="up+no"),
    ]
    found = [one.facts() for one in layouts]
    assert {one["test"]["key"] for one in found} == {"fisher"}
    assert [one["test"]["p"] for one in found] == pytest.approx([found[0]["test"]["p"]] * 4)
    # of rows in any order the first group may be the second
    gaps = [abs(one["difference"]["value"]) for one in found]
    assert gaps == pytest.approx([abs(a / (a + b) - c / (c + d))] * 4)


@given(st.integers(1, 60), st.integers(1, 60), st.integers(1, 60), st.randoms(use_true_random=False))
def test_the_order_of_rows_does_not_change_a_ratio(a: int, b: int, c: int, dice: random.Random) -> None:
    """One row a plant against 1:2:1: the largest part goes to the most frequent, however the rows stand."""
    rows = [*["x"] * a, *["y"] * b, *["z"] * c]
    dice.shuffle(rows)
    found = analyse(read_table(("kind\n" + "\n".join(rows)).encode(), "t.csv"), "kind", test="1:2:1").facts()
    n, most = a + b + c, max(a, b, c)
    rest = sorted((a, b, c))[:2]
    chi = (most - n / 2) ** 2 / (n / 2) + sum((one - n / 4) ** 2 / (n / 4) for one in rest)
    assert found["test"]["statistic"] == pytest.approx(chi, abs=1e-9)
