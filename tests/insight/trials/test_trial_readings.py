"""Tables as people bring them: columns are never swapped on a guess, and what is in doubt is said or asked."""

import pytest

from walkabout.insight.trials.result import analyse
from walkabout.insight.trials.table import BadTrial, Table, read_table

# Efron and Tibshirani 1993, An Introduction to the Bootstrap, table 2.1: means 86.86 and 56.22
MICE = {"treatment": (94, 197, 16, 38, 99, 141, 23), "control": (52, 104, 146, 10, 51, 30, 40, 27, 46)}
# Beall 1942, Biometrika 32:243-262, insects by spray, as R's documentation prints them: F = 34.70 on 5 and 66
INSECTS = {
    "A": (10, 7, 20, 14, 14, 12, 10, 23, 17, 20, 14, 13),
    "B": (11, 17, 21, 11, 16, 14, 17, 17, 19, 21, 7, 13),
    "C": (0, 1, 7, 2, 3, 1, 2, 1, 3, 0, 1, 4),
    "D": (3, 5, 12, 6, 4, 3, 5, 5, 5, 5, 2, 4),
    "E": (3, 5, 3, 5, 3, 6, 1, 1, 3, 2, 6, 4),
    "F": (11, 9, 15, 22, 15, 16, 13, 10, 26, 26, 24, 13),
}
# Dawson 1995, Journal of Statistics Education 3(3): those aboard the Titanic; chi-squared of class 190.40 on 3
ABOARD = (
    *(("1st", "Male", 62, 118), ("1st", "Female", 141, 4), ("2nd", "Male", 25, 154), ("2nd", "Female", 93, 13)),
    *(("3rd", "Male", 88, 422), ("3rd", "Female", 90, 106), ("Crew", "Male", 192, 670), ("Crew", "Female", 20, 3)),
)
# Bickel 1975, Science 187:398-404, as R's documentation prints it: 92.21 on 1 over all departments
ADMITTED = (
    *(("A", "Male", 512, 313), ("A", "Female", 89, 19), ("B", "Male", 353, 207), ("B", "Female", 17, 8)),
    *(("C", "Male", 120, 205), ("C", "Female", 202, 391), ("D", "Male", 138, 279), ("D", "Female", 131, 244)),
    *(("E", "Male", 53, 138), ("E", "Female", 94, 299), ("F", "Male", 22, 351), ("F", "Female", 24, 317)),
)
PLATES = (("wet", 1, 7, 3), ("wet", 2, 7, 3), ("wet", 3, 9, 1), ("dry", 1, 2, 8), ("dry", 2, 3, 7), ("dry", 3, 6, 4))
STATES = ("alive",) * 5 + ("dead",) + ("alive",) * 2 + ("dead",) * 4
"""Twelve plants, six wet and six dry: Fisher's p is 8/33."""


def table(head: str, rows: object) -> Table:
    """Return a table from rows of cells."""
    lines = [",".join(map(str, row)) for row in rows]  # type: ignore[attr-defined]
    return read_table("\n".join([head, *lines]).encode(), "t.csv")


def mice() -> Table:
    return table("mouse,group,days,notes", [(at, g, n, "") for g, all_ in MICE.items() for at, n in enumerate(all_, 1)])


def insects(name: str) -> Table:
    return table(f"{name},spray,count", [(at, g, n) for g, all_ in INSECTS.items() for at, n in enumerate(all_, 1)])


def aboard() -> Table:
    rows = [(c, s, w, n) for c, s, yes, no in ABOARD for w, n in (("Yes", yes), ("No", no))]
    return table("Class,Sex,Survived,Freq", rows)


def admitted() -> Table:
    rows = [(w, s, d, n) for d, s, yes, no in ADMITTED for w, n in (("Admitted", yes), ("Rejected", no))]
    return table("Admit,Gender,Dept,Freq", rows)


def twelve(name: str, cells: object, labels: object = None) -> Table:
    """Return twelve plants with a column of this name, and one that tells them apart within a treatment."""
    groups = ["wet"] * 6 + ["dry"] * 6
    first = labels or range(1, 13)
    return table(f"pot,{name},treatment,state", zip(first, cells, groups, STATES, strict=True))  # type: ignore[call-overload]


def test_an_exact_test_of_amounts_deals_them_out() -> None:
    """The sixteen mice: "exact" is the permutation test of their days, and never of their numbers."""
    facts = analyse(mice(), "days", "group", test="exact").facts()
    assert facts["test"]["key"] == "permutation"
    assert facts["test"]["exact"]
    assert [one["mean"] for one in facts["groups"]] == pytest.approx([86.857, 56.222], abs=1e-3)
    # 16 over 7
    assert facts["test"]["arrangements"] == 11_440


@pytest.mark.parametrize("test", ["fisher", "fishers", "chi2", "chi2_contingency"])
def test_a_test_of_counts_never_takes_another_column_for_the_amounts(test: str) -> None:
    """Days of mice, insects on plots: one line, whatever stands beside."""
    with pytest.raises(BadTrial, match="holds amounts"):
        analyse(mice(), "days", "group", test=test)
    with pytest.raises(BadTrial, match="holds amounts"):
        analyse(insects("plot"), "count", "spray", test=test)


def test_an_exact_test_of_counts_is_fishers() -> None:
    """The lady's tea, however the count is named: 17/35."""
    tea = table("poured,guess,n", [("m", "m", 3), ("m", "t", 1), ("t", "m", 1), ("t", "t", 3)])
    for count in ("n", None):
        assert analyse(tea, "guess", "poured", test="exact", count=count).facts()["test"]["p"] == pytest.approx(17 / 35)
    assert analyse(tea, "n", "poured", test="exact").facts()["test"]["p"] == pytest.approx(17 / 35)


@pytest.mark.parametrize("by", ["Class", "Sex"])
def test_counts_in_three_ways_are_not_amounts(by: str) -> None:
    """Freq beside words: the outcome is asked for, never a mean of counts."""
    with pytest.raises(BadTrial, match=f"--by {by} --count Freq"):
        analyse(aboard(), "Freq", by)
    with pytest.raises(BadTrial, match="--response OUTCOME"):
        analyse(admitted(), "Freq", "Gender")
    found = analyse(aboard(), "Survived", "Class", count="Freq").facts()["test"]
    assert (found["statistic"], found["df"]) == (pytest.approx(190.40, abs=5e-3), 3)


@pytest.mark.parametrize("name", ["plot", "quadrat", "student", "field", "trap", "colonies", "anything"])
def test_numbers_of_plots_are_labels(name: str) -> None:
    """Insects by spray with a numbered column of any name: 34.70, as published."""
    facts = analyse(insects(name), "count", "spray").facts()
    assert facts["test"]["statistic"] == pytest.approx(34.70, abs=5e-3)


def test_words_that_name_plots_are_labels() -> None:
    """Students who counted are no outcomes."""
    rows = [
        ("ABCDEF"[at % 6], "red" if at < 6 else "blue", n) for at, n in enumerate((5, 6, 7, 5, 6, 8, 8, 9, 7, 9, 10, 8))
    ]
    assert analyse(table("student,lamp,number", rows), "number", "lamp").design == "two groups"


@pytest.mark.parametrize("name", ["number", "n", "count", "no", "total"])
def test_a_column_that_runs_from_one_numbers_the_plants(name: str) -> None:
    """One row a plant: 8/33 whatever the numbers are called, over all plants or in each treatment."""
    for cells in (range(1, 13), [*range(1, 7)] * 2):
        facts = analyse(twelve(name, cells), "state", "treatment").facts()
        assert facts["test"]["p"] == pytest.approx(8 / 33)


def test_counts_beside_plants_that_have_a_number_are_told_of_first() -> None:
    """Leaves called a count, one row a pot: each row is a plant, and the words begin with the other reading."""
    found = analyse(twelve("count", (8, 9, 3, 4, 9, 7, 3, 5, 9, 3, 9, 9)), "state", "treatment")
    assert found.facts()["test"]["p"] == pytest.approx(8 / 33)
    assert found.words.startswith("Each row was taken for one plant.")
    assert "--count count" in found.words


def test_a_height_is_no_count() -> None:
    """Four rows and a whole number: it is asked whether they are four plants or forty-two."""
    rows = [("red", "alive", 12), ("red", "dead", 8), ("blue", "alive", 15), ("blue", "dead", 7)]
    with pytest.raises(BadTrial, match=r"--count COL .*height.*--count 1"):
        analyse(table("lamp,state,height", rows), "state", "lamp")
    amounts = analyse(table("lamp,state,height", rows), "height", "lamp")
    assert amounts.design == "two groups"


def test_one_layout_of_plates_gives_what_another_gives() -> None:
    """Side by side, one row an outcome, one row a seed: plates are compared in all of them."""
    wide = table("treatment,plate,alive,dead", PLATES)
    long = [(t, at, w, n) for t, at, up, no in PLATES for w, n in (("alive", up), ("dead", no))]
    seeds = [(t, at, k, w) for t, at, w, n in long for k in range(n)]
    found = [
        analyse(wide, "alive", "treatment", of="alive+dead"),
        analyse(table("treatment,plate,outcome,count", long), "outcome", "treatment"),
        analyse(table("treatment,plate,seed,outcome", seeds), "outcome", "treatment"),
    ]
    # shares 0.7, 0.7, 0.9 and 0.2, 0.3, 0.6 by Welch, reckoned with scipy
    assert [one.facts()["test"]["p"] for one in found] == pytest.approx([0.0589877] * 3, rel=1e-4)
    assert found[1].words.startswith('Compared by "plate"')
    asked = analyse(table("treatment,plate,outcome,count", long), "outcome", "treatment", test="fisher")
    assert asked.facts()["test"]["p"] == pytest.approx(0.0038, abs=5e-5)
    assert asked.words.startswith('Compared by "plate", as they stood, Welch\'s t test gives p = 0.059')
    assert "0.059" in asked.answer


def test_trays_that_hold_both_treatments_are_no_plates() -> None:
    """Tray 1 with wet and dry plants: seeds are counted, for the tray was not treated."""
    rows = [(t, tray, w) for t in ("wet", "dry") for tray in (1, 2) for w in ("up", "up", "no", "up")]
    assert analyse(table("treatment,tray,outcome", rows), "outcome", "treatment").design == "counts"
    apart = [(t, f"{t}{tray}", w) for t, tray, w in rows]
    assert analyse(table("treatment,tray,outcome", apart), "outcome", "treatment").design != "counts"


def test_a_column_that_was_not_asked_about_is_named() -> None:
    """Admissions differ over all departments and hardly within them: the words name what was not looked at."""
    found = analyse(admitted(), "Admit", "Gender", count="Freq", test="chi-squared")
    assert found.facts()["test"]["statistic"] == pytest.approx(92.205, abs=5e-4)
    assert 'The table also has "Dept"; what holds over all may not hold within each.' in found.words
    assert any("Dept" in note for note in found.notes)


def test_two_tests_that_disagree_leave_the_words_in_doubt() -> None:
    """The words claim no more than the answer where the second test reads otherwise."""
    found = analyse(table("g,w", [("a", 1), ("a", 2), ("b", 5), ("b", 6)]), "w", "g")
    assert "in doubt" in found.answer
    assert "in doubt" in found.words
    assert "is more than chance" not in found.words


def test_an_only_total_is_taken_and_told() -> None:
    """One row a treatment: 14 and 5 of 20 each, Fisher's p as scipy has it; a patient is no total."""
    rows = [("wet", 14, 20, "2026-11-01", ""), ("dry", 5, 20, "2026-11-01", "mould")]
    found = analyse(table("treatment,alive,total,date,notes", rows), "alive", "treatment")
    assert found.facts()["test"]["p"] == pytest.approx(0.0103867, rel=1e-4)
    assert any("--of total" in note for note in found.notes)
    small = [("wet", 14, 10, "", ""), ("dry", 5, 20, "", "")]
    with pytest.raises(BadTrial):
        analyse(table("treatment,alive,total,date,notes", small), "alive", "treatment")


def test_amounts_are_not_counted_singly() -> None:
    """--count 1 makes no shares of amounts."""
    with pytest.raises(BadTrial, match="leave it out"):
        analyse(insects("plot"), "count", "spray", count="1")


def test_the_words_name_the_column() -> None:
    """A class or a sex does nothing: the words say what would make no difference, and speak of no room."""
    words = analyse(admitted(), "Admit", "Gender", count="Freq").words
    assert "if Gender made no difference" in words
    assert "44.5 % and 30.4 %" in words
    assert "room" not in words
    assert "one room" in analyse(admitted(), "Admit", "Gender", count="Freq", lot=False).words


@pytest.mark.parametrize("unit", [" g", "g", "%", " %"])
def test_numbers_with_one_unit_are_read(unit: str) -> None:
    """The same behind every number is read and told; two units are not."""
    values = (("wet", 5.1), ("wet", 5.3), ("wet", 4.9), ("dry", 4.1), ("dry", 3.9), ("dry", 4.4))
    plain = analyse(table("treatment,weight", values), "weight", "treatment").facts()
    found = analyse(table("treatment,weight", [(g, f"{n}{unit}") for g, n in values]), "weight", "treatment").facts()
    assert found["test"] == plain["test"]
    assert f'"weight" was read in {unit.strip()}' in found["notes"][0]
    two = [(g, f"{n} {'g' if g == 'wet' else 'kg'}") for g, n in values]
    with pytest.raises(BadTrial, match=r"no number|Write the number alone"):
        analyse(table("treatment,weight", two), "weight", "treatment")


def test_means_are_no_values() -> None:
    """A table of n, mean and sd asks for the single values."""
    with pytest.raises(BadTrial, match="needs the single values"):
        analyse(table("group,n,mean,sd", [("t", 50, 103, 5.5), ("c", 50, 100, 4.5)]), "mean", "group")


def test_a_group_written_in_two_ways_is_pointed_out() -> None:
    """Capitals that leave a group with one value."""
    rows = [("wet", 5.1), ("Wet", 5.3), ("wet", 4.9), ("dry", 4.1), ("dry", 3.9)]
    with pytest.raises(BadTrial, match='"wet" and "Wet" were taken for two groups'):
        analyse(table("treatment,weight", rows), "weight", "treatment")


@pytest.mark.parametrize("test", ["ttest_ind", "two-sample t test", "unpaired", "Welch's t-test"])
def test_a_test_of_two_samples_stops_at_three(test: str) -> None:
    """Named as a test of two, it is not made into one of several."""
    with pytest.raises(BadTrial, match="compares two groups"):
        analyse(insects("plot"), "count", "spray", test=test)
    with pytest.raises(BadTrial, match="mann-whitney for two groups"):
        analyse(insects("plot"), "count", "spray", test="median")
