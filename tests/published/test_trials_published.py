"""Trials against printed examples and certified fits; each with its source and how it is known in data/trials.json.

What has no printed example is set against a second library: data/trials_second.json.
"""

import json
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from walkabout.insight.how_many import Asked, worked_out
from walkabout.insight.trials import intervals, power
from walkabout.insight.trials.blocks import blocked
from walkabout.insight.trials.fits import fit
from walkabout.insight.trials.outcome import Group
from walkabout.insight.trials.outliers import esd, grubbs
from walkabout.insight.trials.plates import plates
from walkabout.insight.trials.result import analyse
from walkabout.insight.trials.several import anova, welch_anova
from walkabout.insight.trials.table import Table, read_table

DATA = Path(__file__).parent / "data"
EXAMPLES = {one["id"]: one for one in json.loads((DATA / "trials.json").read_text(encoding="utf-8"))}
SECOND = json.loads((DATA / "trials_second.json").read_text(encoding="utf-8"))


def near(key: str, name: str) -> Any:
    """Return a printed value as pytest compares it, within the tolerance of its printed places."""
    one = EXAMPLES[key]
    tolerance = one["tolerance"]
    if "relative" in tolerance:
        return pytest.approx(one["expected"][name], rel=tolerance["relative"])
    return pytest.approx(one["expected"][name], abs=tolerance.get(name, tolerance.get("all")) or 1e-12)


def inputs(key: str) -> dict[str, Any]:
    found: dict[str, Any] = EXAMPLES[key]["inputs"]
    return found


def long_table(groups: dict[str, Sequence[float]]) -> Table:
    """Return a table of one value a row, with the how-many-th value of its group as its pair."""
    rows = [f"{name},{at},{value}" for name, values in groups.items() for at, value in enumerate(values)]
    return read_table("\n".join(["group,pair,value", *rows]).encode(), "example.csv")


def found(groups: dict[str, Sequence[float]], **more: Any) -> dict[str, Any]:
    return analyse(long_table(groups), "value", "group", **more).facts()


def of_file(name: str) -> Table:
    return read_table((DATA / name).read_bytes(), name)


def column(table: Table, name: str) -> list[float]:
    return [one for one in table.numbers(name) if one is not None]


def sleep() -> dict[str, Sequence[float]]:
    table = of_file("sleep_student1908.csv")
    return {"one": column(table, "drug1_hours"), "two": column(table, "drug2_hours")}


def test_sleep_welch() -> None:
    """Student's sleep data, unpaired: the difference is the first drug minus the second."""
    facts = found(sleep())
    assert facts["design"] == "two groups"
    assert facts["test"]["name"] == "Welch's t test"
    assert facts["difference"]["value"] == near("sleep-welch", "diff")
    assert facts["difference"]["of"] == "one - two"
    assert facts["test"]["statistic"] == near("sleep-welch", "t")
    assert facts["test"]["df"] == near("sleep-welch", "df")
    assert facts["test"]["p"] == near("sleep-welch", "p_two_sided")
    assert [facts["difference"]["low"], facts["difference"]["high"]] == near("sleep-welch", "ci")


def test_sleep_pooled() -> None:
    """The same, taking for granted that both groups spread alike."""
    facts = found(sleep(), test="pooled")
    assert facts["test"]["statistic"] == near("sleep-pooled", "t")
    assert facts["test"]["df"] == EXAMPLES["sleep-pooled"]["expected"]["df"]
    assert facts["test"]["p"] == near("sleep-pooled", "p_two_sided")


def test_sleep_paired() -> None:
    """The same twenty numbers as ten pairs show what they did not show unpaired."""
    facts = found(sleep(), pair="pair")
    assert facts["design"] == "paired"
    assert facts["difference"]["value"] == near("sleep-paired", "mean_diff")
    assert facts["test"]["statistic"] == near("sleep-paired", "t")
    assert facts["test"]["df"] == EXAMPLES["sleep-paired"]["expected"]["df"]
    assert facts["test"]["p"] == near("sleep-paired", "p_two_sided")
    assert [facts["difference"]["low"], facts["difference"]["high"]] == near("sleep-paired", "ci")


def test_sleep_every_pattern_of_signs() -> None:
    """Of 1024 patterns of signs 4 come out as far."""
    test = found(sleep(), pair="pair", test="permutation")["test"]
    expected = EXAMPLES["sleep-signflip"]["expected"]
    assert (test["as_far"], test["arrangements"]) == (expected["count_two_sided"], expected["permutations"])
    assert test["exact"] is True
    assert test["p"] == near("sleep-signflip", "p_two_sided")


def test_sleep_by_ranks() -> None:
    """Ties and a pair without a difference: V = 0, p = 0.009091, shift −1.4 (−2.95 to −1.05), as printed by R."""
    facts = found(sleep(), pair="pair", test="wilcoxon")
    assert facts["test"]["statistic"] == 0
    assert facts["test"]["p"] == pytest.approx(0.009091, abs=5e-7)
    assert facts["test"]["p_counted"] == pytest.approx(2 / 2**9)
    shift = facts["difference"]
    assert [shift["value"], shift["low"], shift["high"]] == pytest.approx([-1.400031, -2.949921, -1.050018], abs=1e-4)
    ranks = found(sleep(), test="mann-whitney")["test"]
    assert (ranks["statistic"], ranks["p"]) == pytest.approx((25.5, 0.06933), abs=5e-6)


def test_depression_by_ranks() -> None:
    """Hollander and Wolfe 1973, p. 29: nine patients before and after; V = 40, one-sided p = 0.01953 (from memory)."""
    before = [1.83, 0.50, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.30]
    after = [0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29]
    test = found({"before": before, "after": after}, pair="pair", test="wilcoxon")["test"]
    assert (test["statistic"], test["smaller_sum"]) == (40, 5)
    assert (test["p_greater"], test["p"]) == pytest.approx((0.01953, 0.03906), abs=5e-6)
    assert test["exact"] is True


def test_mice_every_regrouping() -> None:
    """All 11 440 regroupings of Efron and Tibshirani's sixteen mice."""
    given = inputs("mouse-permutation")
    facts = found({"treated": given["treated"], "control": given["control"]}, test="permutation")
    expected = EXAMPLES["mouse-permutation"]["expected"]
    assert facts["difference"]["value"] == near("mouse-permutation", "diff")
    assert (facts["test"]["as_far"], facts["test"]["arrangements"]) == (
        expected["count_two_sided"],
        expected["permutations"],
    )
    assert facts["test"]["p"] == near("mouse-permutation", "p_two_sided")
    assert facts["test"]["p_greater"] == near("mouse-permutation", "p_one_sided")
    pooled = found({"treated": given["treated"], "control": given["control"]}, test="pooled")
    assert pooled["test"]["statistic"] == near("mouse-permutation", "t_pooled")


def test_permeability_mann_whitney() -> None:
    """Ten against five, exact; the book prints the one-sided chance."""
    given = inputs("permeability-mannwhitney")
    test = found({"x": given["x"], "y": given["y"]}, test="mann-whitney")["test"]
    assert test["statistic"] == near("permeability-mannwhitney", "U")
    assert test["p_greater"] == near("permeability-mannwhitney", "p_greater")
    assert test["exact"] is True


def test_hedges_from_summaries() -> None:
    """D, J and g with their variances, as the book works them out."""
    given = inputs("hedges-borenstein")
    size = intervals.hedges(*(given[name] for name in ("mean1", "sd1", "n1", "mean2", "sd2", "n2")))
    names = {
        "sd_pooled": size.sd,
        "d": size.d,
        "var_d": size.d_variance,
        "se_d": math.sqrt(size.d_variance),
        "J_approx": size.j,
        "g": size.g,
        "var_g": size.g_variance,
        "se_g": math.sqrt(size.g_variance),
    }
    for name, value in names.items():
        assert value == near("hedges-borenstein", name), name


def plant_growth(**more: Any) -> dict[str, Any]:
    return analyse(of_file("plantgrowth_dobson1983.csv"), "weight", "group", **more).facts()


def test_plant_growth_one_way() -> None:
    """F on 2 and 27."""
    test = plant_growth()["test"]
    assert test["statistic"] == near("plantgrowth-anova", "F")
    assert test["df"] == EXAMPLES["plantgrowth-anova"]["expected"]["df"]
    assert test["p"] == near("plantgrowth-anova", "p")


def test_plant_growth_all_pairs() -> None:
    """Tukey's pairs, later minus earlier: only the two treatments differ from each other."""
    facts = plant_growth()
    pairs = {one["of"].replace(" - ", "-"): one for one in facts["pairs"]}
    assert set(pairs) == set(EXAMPLES["plantgrowth-tukey"]["expected"])
    for name, one in pairs.items():
        assert [one[key] for key in ("value", "low", "high", "p")] == near("plantgrowth-tukey", name)
    assert "trt2 − trt1 by 0.174 to 1.56" in facts["words"]
    assert "Not shown to differ, which is not the same as alike: trt1 − ctrl and trt2 − ctrl." in facts["words"]


def test_plant_growth_by_ranks() -> None:
    """Kruskal and Wallis' H on 2."""
    test = plant_growth(test="kruskal")["test"]
    assert test["statistic"] == near("plantgrowth-kruskal", "H")
    assert test["df"] == 2
    assert test["p"] == near("plantgrowth-kruskal", "p")


def test_how_many_plants() -> None:
    """Cohen's table 2 for two groups, several groups and shares; rounded up, as a planner should."""
    exact = [power.n_for_difference(d) for d in inputs("cohen-n-t05")["d"]]
    assert exact == near("cohen-n-t05", "n_exact")
    assert [power.plants(n) for n in exact] == [394, 64, 26]
    exact = [power.n_for_groups(f, 3) for f in inputs("cohen-n-anova3")["f"]]
    assert exact == near("cohen-n-anova3", "n_exact")
    assert [power.plants(n) for n in exact] == [323, 53, 22]
    assert [power.n_for_h(h) for h in inputs("cohen-n-shares")["h"]] == near("cohen-n-shares", "n")


def tea(table: list[list[int]]) -> dict[str, Any]:
    rows = [f"{said},{poured},{table[i][j]}" for i, said in enumerate("mt") for j, poured in enumerate("mt")]
    content = "\n".join(["said,poured,cups", *rows]).encode()
    return analyse(read_table(content, "tea.csv"), "poured", "said", count="cups").facts()


def test_tea() -> None:
    """Fisher's tea: three of four right is 17 of 70, all right 1 of 70."""
    facts = tea(inputs("lady-tea")["table"])
    assert facts["test"]["p_greater"] == near("lady-tea", "p_greater")
    assert facts["test"]["p"] == near("lady-tea", "p_two_sided")
    all_right = tea(inputs("lady-tea")["table_all_right"])
    assert all_right["test"]["p_greater"] == near("lady-tea", "p_all_right")
    assert all_right["effect"]["value"] is None


def exact_of(key: str) -> dict[str, Any]:
    table = inputs(key)["table"]
    rows = [f"r{i},c{j},{n}" for i, row in enumerate(table) for j, n in enumerate(row)]
    content = "\n".join(["group,outcome,n", *rows]).encode()
    return analyse(read_table(content, "t.csv"), "outcome", "group", count="n", test="fisher").facts()


def test_job_satisfaction() -> None:
    """Agresti's four by four: every one of the ninety million tables with these totals."""
    test = exact_of("job-satisfaction")["test"]
    assert test["p"] == near("job-satisfaction", "p")
    assert not test["dealt"]


def test_a_wide_table_is_dealt_by_chance() -> None:
    """Mehta and Patel's five by seven: within what dealing leaves open, and the working says that it was dealt."""
    facts = exact_of("mehta-patel-6")
    assert facts["test"]["dealt"]
    p, many = EXAMPLES["mehta-patel-6"]["expected"]["p"], facts["test"]["tables"]
    assert facts["test"]["p"] == pytest.approx(p, abs=3 * math.sqrt(p * (1 - p) / many))
    assert "dealt by chance" in facts["working"][0]


def test_plants_for_a_ratio() -> None:
    """Cohen's table for chi-squared; and 3:1 against 1:1 is his w of 0.577."""
    found = [[power.n_for_w(w, df) for w in inputs("cohen-n-chi2")["w"]] for df in inputs("cohen-n-chi2")["df"]]
    for line, printed in zip(found, EXAMPLES["cohen-n-chi2"]["expected"]["n"], strict=True):
        assert line == pytest.approx(printed, abs=EXAMPLES["cohen-n-chi2"]["tolerance"]["n"])
    assert power.n_for_ratio((3, 1), (1, 1)) == pytest.approx(power.n_for_w(math.sqrt(1 / 3), 1))
    with pytest.raises(ValueError, match="larger than nothing"):
        power.n_for_ratio((3, 1), (6, 2))
    with pytest.raises(ValueError, match="a part above 0"):
        power.n_for_ratio((3, 1), (1, 1, 1))


def test_plants_by_the_command() -> None:
    """The command's figures are Cohen's: d, f of three groups, each before it is rounded and after."""
    for key, groups in (("cohen-n-t05", 2), ("cohen-n-anova3", 3)):
        sizes = next(iter(inputs(key).values()))
        found = [worked_out(Asked(effect=size, groups=groups)) for size in sizes]
        assert [one.exact for one in found] == near(key, "n_exact")
        assert [one.n for one in found] == near(key, "n")
        assert [one.n for one in found] == [math.ceil(n) for n in EXAMPLES[key]["expected"]["n_exact"]]


def test_power_of_a_ratio() -> None:
    """With Cohen's printed number of plants chi-squared has the power that the table is made for."""
    for df, printed in zip(inputs("cohen-n-chi2")["df"], EXAMPLES["cohen-n-chi2"]["expected"]["n"], strict=True):
        for w, n in zip(inputs("cohen-n-chi2")["w"], printed, strict=True):
            assert power.power_of_w(w, df, n) == pytest.approx(0.8, abs=0.012), (w, df)


@pytest.mark.parametrize("key", ["wilson-81-263", "wilson-0-20"])
def test_one_share(key: str) -> None:
    """Newcombe's table I: Wilson's interval and the exact one."""
    x, n = inputs(key)["x"], inputs(key)["n"]
    assert list(intervals.wilson(x, n)) == near(key, "wilson")
    assert list(intervals.clopper_pearson(x, n)) == near(key, "clopper_pearson")


def test_two_shares() -> None:
    """Newcombe's table II: 56 of 70 against 48 of 80."""
    value, *ends = intervals.newcombe(56, 70, 48, 80)
    assert value == near("newcombe-diff-56-70", "diff")
    assert ends == near("newcombe-diff-56-70", "ci")


def test_seeds_on_plates() -> None:
    """Crowder's plates: terms of the logit and their errors, deviance and Pearson's statistic, each cell by itself."""
    table = of_file("seeds_crowder1978.csv")
    cells = [f"{seed}-{extract}" for seed, extract in zip(table.words("seed"), table.words("extract"), strict=True)]
    ups, totals = (list(map(int, column(table, name))) for name in ("germinated", "n"))
    seen = plates(list(zip(cells, ups, totals, strict=True)))
    for cell, (up, of) in EXAMPLES["seeds-crowder"]["expected"]["pooled"].items():
        assert seen.shares[cell] == pytest.approx(up / of)
    (b75, e75), (c75, f75), (b73, e73), (c73, f73) = (
        seen.logits[one] for one in ("O75-BEAN", "O75-CUCUMBER", "O73-BEAN", "O73-CUCUMBER")
    )
    terms = [b75, b73 - b75, c75 - b75, c73 - c75 - b73 + b75]
    errors = [e75, math.hypot(e73, e75), math.hypot(f75, e75), math.hypot(e75, f75, e73, f73)]
    assert terms == near("seeds-crowder", "coef")
    assert errors == near("seeds-crowder", "se")
    assert seen.deviance == near("seeds-crowder", "deviance")
    assert seen.pearson == near("seeds-crowder", "pearson_chi2")
    assert seen.df == EXAMPLES["seeds-crowder"]["expected"]["df"]


def test_mendel() -> None:
    """Mendel's peas against 9:3:3:1, from counts and from one row a pea."""
    given = inputs("mendel-9331")
    names = ("round yellow", "wrinkled yellow", "round green", "wrinkled green")
    counts = [f"{name},{n}" for name, n in zip(names, given["observed"], strict=True)]
    tables = [
        analyse(read_table("\n".join(["pea,n", *counts]).encode(), "m.csv"), "pea", count="n", ratio="9:3:3:1"),
        analyse(read_table("\n".join(["pea,n", *counts]).encode(), "m.csv"), "n", "pea", test="9:3:3:1"),
        analyse(
            read_table(
                "\n".join(
                    ["pea", *(name for name, n in zip(names, given["observed"], strict=True) for _ in range(n))]
                ).encode(),
                "m.csv",
            ),
            "pea",
            ratio="9:3:3:1",
        ),
    ]
    for result in tables:
        test = result.facts()["test"]
        assert test["statistic"] == near("mendel-9331", "chi2")
        assert test["df"] == 3
        assert test["p"] == near("mendel-9331", "p")


def test_anscombe() -> None:
    """Anscombe's first line."""
    line = fit("line", inputs("anscombe-1")["x"], inputs("anscombe-1")["y"])
    assert line.terms[0].value == near("anscombe-1", "intercept")
    assert line.terms[1].value == near("anscombe-1", "slope")
    assert line.terms[1].se == near("anscombe-1", "se_slope")
    assert line.t == near("anscombe-1", "t_slope")
    assert line.r_squared == near("anscombe-1", "r2")


@pytest.mark.parametrize(
    ("key", "curve"), [("strd-rat42", "logistic"), ("strd-rat43", "richards"), ("strd-misra1a", "saturation")]
)
def test_certified_curves(key: str, curve: str) -> None:
    """NIST's certified terms, their errors and what is left over, to six digits, from starts of our own."""
    table = of_file(inputs(key)["file"])
    found_fit = fit(curve, column(table, "x"), column(table, "y"))
    assert [one.value for one in found_fit.terms] == near(key, "b")
    assert [one.se for one in found_fit.terms] == near(key, "se_b")
    assert found_fit.rss == near(key, "rss")
    assert found_fit.sd == near(key, "resid_sd")
    assert found_fit.df == EXAMPLES[key]["expected"]["df"]


def test_grubbs() -> None:
    """NIST's uranium: one reading far out, beyond either limit."""
    far = grubbs(inputs("grubbs-uranium")["x"])
    assert far is not None
    assert far.statistic == near("grubbs-uranium", "G")
    assert far.limit == near("grubbs-uranium", "critical_two_sided")
    assert far.limit_one_sided == near("grubbs-uranium", "critical_one_sided")
    assert far.value == EXAMPLES["grubbs-uranium"]["expected"]["outlier"]
    assert far.out


def test_several_outliers() -> None:
    """Rosner's 54 values: the third step passes its limit, so three are outliers though the first two do not pass."""
    many, steps = esd(inputs("rosner-esd")["x"], inputs("rosner-esd")["most"])
    assert many == EXAMPLES["rosner-esd"]["expected"]["outliers"]
    assert [one.statistic for one in steps] == near("rosner-esd", "R")
    assert [one.limit for one in steps] == near("rosner-esd", "limit")


@pytest.mark.parametrize("case", SECOND["blocks"], ids=["whole", "gaps", "twice"])
def test_blocks_against_a_second_library(case: dict[str, Any]) -> None:
    """Treatments within blocks, whole, with gaps, and with two plots of each treatment in each block."""
    names = list(dict.fromkeys(row[0] for row in case["rows"]))
    groups = [Group(name, tuple(row[2] for row in case["rows"] if row[0] == name)) for name in names]
    where = [[row[1] for row in case["rows"] if row[0] == name] for name in names]
    seen = blocked(groups, where)
    assert seen.test.statistic == pytest.approx(case["f"], rel=1e-9)
    assert seen.test.df == tuple(case["df"])
    assert seen.test.p == pytest.approx(case["p"], rel=1e-9)
    assert [one.value for one in seen.pairs][: len(names) - 1] == pytest.approx(case["less_first"], rel=1e-9)
    if seen.difference is not None and seen.difference.high is not None:
        assert seen.difference.value == pytest.approx(-case["less_first"][0], rel=1e-9)


def test_one_way_against_a_second_library() -> None:
    """Groups of unequal size and spread: F, Welch's F, and every pair after Tukey and Kramer."""
    case = SECOND["one_way"]
    groups = [Group(f"g{at}", tuple(one)) for at, one in enumerate(case["groups"])]
    usual, welch = anova(groups), welch_anova(groups)
    assert (usual.test.statistic, usual.test.p) == pytest.approx((case["f"], case["p"]), rel=1e-9)
    assert welch.test.statistic == pytest.approx(case["welch"]["f"], rel=1e-9)
    assert welch.test.df == pytest.approx(tuple(case["welch"]["df"]), rel=1e-9)
    assert welch.test.p == pytest.approx(case["welch"]["p"], rel=1e-9)
    for one, other in zip(usual.pairs, case["tukey"], strict=True):
        assert (one.value, one.low, one.high) == pytest.approx(
            tuple(other[k] for k in ("value", "low", "high")), abs=1e-3
        )
        assert one.p == pytest.approx(other["p"], abs=1e-3)


def test_power_against_a_second_library() -> None:
    """Power of two groups of unequal size, of pairs, and of several groups."""
    for d, n1, n2, expected in SECOND["power_two"]:
        assert power.power_of_difference(d, n1, n2) == pytest.approx(expected, rel=1e-6)
    for d, n, expected in SECOND["power_pairs"]:
        assert power.power_of_pairs(d, n) == pytest.approx(expected, rel=1e-6)
    for f, k, n, expected in SECOND["power_groups"]:
        assert power.power_of_groups(f, k, n) == pytest.approx(expected, rel=1e-6)


def test_warp_breaks() -> None:
    """Nine looms a cell: the interaction, and the tensions against the spread within cells, beside the plain F."""
    cells = inputs("warpbreaks")["cells"]
    rows = [f"{cell[0]},{cell[1]},{one}" for cell, values in cells.items() for one in values]
    table = read_table("\n".join(["wool,tension,breaks", *rows]).encode(), "warp.csv")
    facts = analyse(table, "breaks", "tension", block="wool").facts()
    seen, one = facts["interaction"], EXAMPLES["warpbreaks"]
    for head, name in (("", "interaction"), ("treatments_", "treatments")):
        for what, tolerance in one["tolerance"].items():
            assert seen[head + what] == pytest.approx(one["expected"][name][what], abs=tolerance), (name, what)
    assert seen["df"] == seen["treatments_df"] == [2, 48]
    assert facts["test"]["df"] == [2, 50]
    assert "do not act alike in every block (p = 0.021)" in facts["words"]
    assert any("F = 8.498 on 2 and 48" in note for note in facts["notes"])


def test_kruskal_of_six() -> None:
    """The smallest table of Kruskal and Wallis: the counted chance stands in it, chi-squared's is the usual p."""
    test = found(inputs("kruskal-2-2-2")["groups"], test="kruskal")["test"]
    assert test["statistic"] == near("kruskal-2-2-2", "H")
    assert test["p_counted"] == near("kruskal-2-2-2", "p")
    assert test["p"] == pytest.approx(math.exp(-test["statistic"] / 2))


def test_values_far_from_nothing() -> None:
    """Thirteen digits before the last: the spread of a tenth is neither lost nor called none."""
    given = inputs("strd-smls07")
    groups: dict[str, Sequence[float]] = {
        f"g{at}": [given["base"] + middle + step for step in (0.0, *(-0.1, 0.1) * (given["n"] // 2))]
        for at, middle in enumerate(given["middles"])
    }
    facts = found(groups)
    assert facts["test"]["statistic"] == near("strd-smls07", "F")
    assert facts["test"]["df"] == EXAMPLES["strd-smls07"]["expected"]["df"]
