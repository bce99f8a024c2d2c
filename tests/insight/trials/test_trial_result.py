"""A whole trial: its design, its facts, its words, and what it will not do."""

import json
import random
from typing import Any

import pytest

from walkabout.insight.trials.result import analyse, analyse_fit
from walkabout.insight.trials.table import BadTrial, Table, read_table

KEYS = {"design", "groups", "test", "difference", "effect", "words", "working"}


def table(text: str) -> Table:
    return read_table(text.encode(), "t.csv")


def long(groups: dict[str, list[float]]) -> Table:
    rows = [f"{at},{name},{one}" for name, values in groups.items() for at, one in enumerate(values)]
    return table("\n".join(["plant,lamp,weight", *rows]))


def two(n: int, gap: float, seed: int = 1) -> Table:
    dice = random.Random(seed)
    return long({"red": [dice.gauss(5 + gap, 1) for _ in range(n)], "blue": [dice.gauss(5, 1) for _ in range(n)]})


def test_the_facts_have_their_shape() -> None:
    """Every design gives the same keys, and JSON without anything that is not a number."""
    found = [
        analyse(two(8, 1), "weight", "lamp"),
        analyse(two(8, 1), "weight", "lamp", pair="plant"),
        analyse(two(8, 1), "weight", "lamp", block="plant"),
        analyse(long({"a": [1, 2, 3], "b": [2, 3, 5], "c": [4, 4, 6]}), "weight", "lamp"),
        analyse(table("g,o\na,up\na,no\nb,up\nb,up\n"), "o", "g"),
        analyse(table("o\na\na\na\nb\n"), "o", ratio="3:1"),
        analyse_fit(table("x,y\n1,2\n2,3\n3,5\n4,6\n"), "y", "x", "line"),
    ]
    assert [one.design for one in found] == [
        *("two groups", "paired", "blocked", "several groups", "counts", "ratio", "line"),
    ]
    for one in found:
        facts = one.facts()
        assert set(facts) >= KEYS
        assert set(facts["test"]) >= {"name", "statistic", "df", "p"}
        assert all({"name", "n", "mean", "sd"} <= set(group) for group in facts["groups"])
        assert facts["difference"] is None or set(facts["difference"]) >= {"value", "low", "high", "level"}
        assert isinstance(facts["words"], str)
        assert facts["working"]
        assert all("=" in line or "Σ" in line or ":" in line for line in facts["working"])
        json.dumps(facts, allow_nan=False)


def test_groups_stand_in_the_order_of_the_table() -> None:
    """The difference is the first group of the table less the second."""
    facts = analyse(table("g,w\nz,5\na,1\nz,6\na,2\n"), "w", "g").facts()
    assert [one["name"] for one in facts["groups"]] == ["z", "a"]
    assert facts["difference"]["value"] == pytest.approx(4)
    assert facts["difference"]["of"] == "z - a"


def test_groups_that_are_numbers_stand_by_their_size() -> None:
    """Doses and codes: 0 before 1, 0,5 before 10, whatever the order of the rows."""
    facts = analyse(table("g;w\n10;5\n0,5;1\n10;6\n0,5;2\n2;3\n2;4\n"), "w", "g").facts()
    assert [one["name"] for one in facts["groups"]] == ["0,5", "2", "10"]
    assert [one["of"] for one in facts["pairs"]] == ["2 - 0,5", "10 - 0,5", "10 - 2"]
    codes = analyse(table("am,w\n1,5\n1,6\n0,1\n0,2\n"), "w", "am").facts()
    assert codes["difference"]["value"] == pytest.approx(-4)
    assert '"0" − "1"' in codes["words"]


def test_two_spellings_of_a_group_are_pointed_out() -> None:
    """Capitals and blanks make two groups, and the note says so."""
    facts = analyse(table("g,w\nRed,5\nred,1\nRed,6\nred,2\n"), "w", "g").facts()
    assert any('"Red" and "red"' in one for one in facts["notes"])


def test_a_few_values_alone_are_a_hint() -> None:
    """Two against two cannot be shown by regrouping, and the conclusion says that it leans on the spread."""
    facts = analyse(long({"a": [1, 2], "b": [5, 6]}), "weight", "lamp").facts()
    assert facts["test"]["p"] < 0.05
    assert "a hint to be borne out" in facts["words"]
    assert any("cannot give less than 0.33" in one for one in facts["notes"])


def test_a_test_that_does_not_bear_it_out_is_in_the_words() -> None:
    """Where one far value makes the t test and the ranks part, the words say which is the safer."""
    far = [1.0, 1.1, 0.9, 1.05, 0.95, 1.02, 0.98, 9.0]
    facts = analyse(long({"a": far, "b": [0.5, 0.6, 0.4, 0.55, 0.45, 0.52, 0.48, 0.51]}), "weight", "lamp").facts()
    assert facts["test"]["p"] > 0.05 > facts["second_look"]["p"]
    assert "does find a difference" in facts["words"]


def test_a_small_effect_of_many_values_is_called_small() -> None:
    """With thousands of values even a difference that matters to nobody is more than chance."""
    facts = analyse(two(20_000, 0.06), "weight", "lamp").facts()
    assert facts["test"]["p"] < 0.05
    assert "small beside the spread" in facts["words"]


def test_a_p_near_the_line_is_called_near() -> None:
    """Darwin's maize has p 0.0497: never written as 0.05, and no more than a near thing."""
    crossed = [23.5, 12, 21, 22, 19.125, 21.5, 22.125, 20.375, 18.25, 21.625, 23.25, 21, 22.125, 23, 12]
    selfed = [17.375, 20.375, 20, 20, 18.375, 18.625, 18.625, 15.25, 16.5, 18, 16.25, 18, 12.75, 15.5, 18]
    facts = analyse(long({"crossed": crossed, "selfed": selfed}), "weight", "lamp", pair="plant").facts()
    assert "just under 5 times in 100 (paired t test, p = 0.0497)" in facts["words"]
    assert "a line drawn by custom" in facts["words"]
    assert any("together with the next one" in one for one in facts["notes"])


def test_words_never_say_no_difference() -> None:
    """What was not shown is called so, with what could have been shown, and the interval first."""
    words = analyse(two(6, 0), "weight", "lamp", lot=False).words
    assert words.startswith("Weight: the mean difference, red − blue, may be anything from")
    assert "No difference shown" in words
    assert "That is not the same as no difference." in words
    assert "would be found 4 times in 5" in words
    assert words.endswith("This was one room and one time: it counts as a rule only when it comes out again.")


def test_words_of_a_difference_that_is_shown() -> None:
    """Interval first, then the chance; nothing about what could have been found."""
    words = analyse(two(20, 3), "weight", "lamp").words
    assert "This is more than chance" in words
    assert "4 times in 5" not in words
    assert "proves" not in words


def test_words_of_several_groups_that_are_not_shown_to_differ() -> None:
    """The widest pair with its interval, the chance over all groups, and how far apart they would have to lie."""
    words = analyse(long({"a": [1, 3, 5], "b": [2, 3, 4], "c": [1, 4, 6]}), "weight", "lamp").words
    assert words.startswith("The widest difference in weight,")
    assert "Over all groups no difference is shown: if lamp made no difference" in words
    assert "groups would have to lie about" in words


def test_few_plants_are_called_few() -> None:
    """Three values a group are few, and the smallest p that regrouping can give is told by the second look."""
    result = analyse(long({"a": [1, 2, 3], "b": [4, 5, 6]}), "weight", "lamp")
    assert "Only 3 values in a group" in result.words
    assert any("few values" in note and "permutation test" in note for note in result.notes)


def test_units_in_brackets_are_carried() -> None:
    """A unit that stands behind the name of a column is said with every number of it."""
    words = analyse(table("g,height (cm)\na,4\na,5\nb,6\nb,8\n"), "height (cm)", "g").words
    assert "best guess −2.5 cm" in words


def test_an_outlier_is_named_and_kept() -> None:
    """The value far out stays in the mean, its line is told, and a test that leans less on it is run beside."""
    values = [5.0, 5.1, 4.9, 5.2, 5.0, 5.1, 4.8, 15.0]
    facts = analyse(long({"a": values, "b": [4.9, 5.0, 5.2, 5.1, 4.7, 5.0, 5.1, 4.9]}), "weight", "lamp").facts()
    assert facts["groups"][0]["n"] == 8
    assert facts["groups"][0]["mean"] == pytest.approx(sum(values) / 8)
    assert [(one["value"], one["line"]) for one in facts["outliers"]] == [(15.0, 9)]
    assert any("It was kept" in note for note in facts["notes"])
    assert facts["second_look"]["name"] == "permutation test"


def test_pairs_that_may_be_overlooked_are_pointed_out() -> None:
    """A column that names each of its values once in both groups may be the pairs; one of all different keys is not."""
    assert any("--pair plant" in note for note in analyse(two(5, 1), "weight", "lamp").notes)
    single = table("id,g,w\n1,a,1\n2,a,2\n3,b,3\n4,b,5\n")
    assert not any("--pair" in note for note in analyse(single, "w", "g").notes)


def test_gaps_are_left_out_and_told() -> None:
    """Rows without a value, and pairs without a partner."""
    gaps = table("p,g,w\n1,a,1\n2,a,NA\n3,a,4\n1,b,2\n2,b,3\n3,b,7\n4,b,1\n")
    result = analyse(gaps, "w", "g", pair="p")
    assert result.groups[0]["n"] == 2
    assert any("1 row with something missing left out: line 3." in note for note in result.notes)
    assert any("2 values without a partner left out: 2, 4." in note for note in result.notes)


def test_groups_that_spread_differently_get_a_second_look() -> None:
    """Where equal spread is taken for granted but not there, Welch's test is run beside."""
    uneven = long({"a": [4.9, 5.0, 5.1, 5.05, 4.95], "b": [1, 9, 4, 12, 3], "c": [5, 5.2, 5.1, 4.9, 5]})
    note = next(one for one in analyse(uneven, "weight", "lamp").notes if "spread very differently" in one)
    assert "Welch's one-way ANOVA" in note


@pytest.mark.parametrize(
    ("name", "statistic"),
    [
        ("t", "Welch"),
        ("Student", "pooled"),
        ("Mann Whitney U", "Mann"),
        ("RANK_SUM", "Mann"),
        ("one-way", "one-way"),
        ("tukey", "one-way"),
        ("Tukey HSD", "one-way"),
        ("Welch's t-test", "Welch"),
        ("Student's t", "pooled"),
        ("Mann–Whitney U", "Mann"),
        ("unpaired t test", "Welch"),
        ("ANOVA (one-way)", "one-way"),
    ],
)
def test_tests_have_other_names(name: str, statistic: str) -> None:
    """Capitals, blanks, hyphens and the usual other words."""
    found = analyse(two(6, 1), "weight", "lamp", test=name).outcome
    assert found is not None
    assert found.test.name.startswith(statistic)


@pytest.mark.parametrize(
    ("ask", "says"),
    [
        ({"by": None, "test": "welch"}, "--by COL"),
        ({"by": None, "pair": "plant"}, "does not say which value belongs"),
        ({"by": "lmp"}, 'Did you mean "lamp"'),
        ({"by": "weight"}, "each takes a column of its own"),
        ({"test": "welsh"}, 'Did you mean "welch"'),
        ({"test": "paired"}, "--pair COL"),
        ({"test": "friedman"}, "--block COL"),
        ({"test": "fisher"}, "counts words, or 0 and 1"),
        ({"pair": "plant", "test": "welch"}, "leave --pair out"),
        ({"pair": "plant", "block": "plant"}, "Name either"),
        ({"count": "plant", "pair": "plant"}, "without pairs or blocks"),
        ({"of": "plant"}, "is no count"),
        ({"block": "plant", "test": "t"}, "It compares two groups"),
    ],
)
def test_what_cannot_be_asked(ask: dict[str, Any], says: str) -> None:
    """One line, with what would be right."""
    with pytest.raises(BadTrial, match=says):
        analyse(two(4, 1), "weight", **({"by": "lamp"} | ask))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("g,w\na,1\nb,2\nb,3\n", '"a" has 1 value'),
        ("g,w\na,NA\n,2\n", "no row holds"),
        ("g,w\na,3\n,2\n", "holds 1 value. A mean"),
        ("g,w\na,\nb,\n", "holds no number|no row has both"),
        ("g,w\na,up\nb,up\n", "every plant has the same word"),
        ("g,w\na,1 cm\na,2 mm\nb,3 cm\n", '2: column "w" holds "1 cm". Write the number alone'),
        ("g;w\na;1.234,5\nb;1.300,0\n", "without marks between thousands"),
        ("g,w\nround,315\ngreen,108\n", "set them against a ratio"),
        ("g,w\n" + "".join(f"{at},{at / 2}\n" for at in range(99)), "99 different words: is it the treatment"),
    ],
)
def test_tables_with_nothing_to_compare(text: str, says: str) -> None:
    """One line, never a result."""
    with pytest.raises(BadTrial, match=says):
        analyse(table(text), "w", "g")


def test_names_stay_text() -> None:
    """A group that looks like a formula or markup is a name like any other."""
    facts = analyse(table("g,w\n=1+1,1\n=1+1,2\n[red]b[/],3\n[red]b[/],5\n"), "w", "g").facts()
    assert [one["name"] for one in facts["groups"]] == ["=1+1", "[red]b[/]"]


def test_curves_for_each_treatment() -> None:
    """A line for each lamp, with what it says beyond what was measured: nothing."""
    rows = "".join(f"{g},{x},{x * s + (x % 2) * 0.1}\n" for g, s in (("a", 1), ("b", 2)) for x in range(1, 7))
    result = analyse_fit(table(f"g,day,height (cm)\n{rows}"), "height (cm)", "day", "line", "g")
    facts = result.facts()
    slopes = {one["group"]: one["terms"][1]["value"] for one in facts["fits"]}
    assert slopes == pytest.approx({"a": 1, "b": 2}, abs=0.02)
    assert facts["test"] is None
    assert "Nothing is known outside day 1 to 6." in result.words


@pytest.mark.parametrize(
    ("text", "curve", "says"),
    [
        ("x,y\n1,2\n2,3\n", "line", "needs at least 3"),
        ("x,y\n1,2\n2,2\n3,2\n", "line", "every value is the same|Every value is the same"),
        ("x,y\n1,2\n1,3\n1,5\n1,6\n", "line", "different points"),
        ("x,y\n1,2\n2,3\n3,5\n", "wave", 'no curve "wave"'),
        ("x,y\n1,\n2,\n", "line", "no row has a number"),
    ],
)
def test_curves_that_cannot_be(text: str, curve: str, says: str) -> None:
    """One line, with what is needed."""
    with pytest.raises(BadTrial, match=says):
        analyse_fit(table(text), "y", "x", curve)
