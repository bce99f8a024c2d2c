"""Work the same trials out with statsmodels, and keep what it says: run by hand, with statsmodels installed.

Designs of which no printed example is at hand: blocks with gaps, unequal groups, Welch's several groups, power.
"""

import json
from pathlib import Path

import numpy as np
import statsmodels
import statsmodels.api as sm
from statsmodels.stats.multicomp import pairwise_tukeyhsd
from statsmodels.stats.oneway import anova_oneway
from statsmodels.stats.power import FTestAnovaPower, TTestIndPower, TTestPower

SEED = 20_241


def fitted(columns, y):
    return sm.OLS(y, np.column_stack(columns)).fit()


def blocks(rows):
    """Return the F of treatments after blocks, and each later treatment less the first with its standard error."""
    treatments = list(dict.fromkeys(row[0] for row in rows))
    names = list(dict.fromkeys(row[1] for row in rows))
    y = np.array([row[2] for row in rows])
    block = [np.array([float(row[1] == name) for row in rows]) for name in names]
    treated = [np.array([float(row[0] == name) for row in rows]) for name in treatments[1:]]
    whole, small = fitted([*block, *treated], y), fitted(block, y)
    f, p, df1 = whole.compare_f_test(small)
    return {
        "rows": [[*row] for row in rows],
        "f": f,
        "df": [df1, whole.df_resid],
        "p": p,
        "less_first": list(whole.params[len(names) :]),
        "se": list(whole.bse[len(names) :]),
    }


def one_way(groups):
    values = np.concatenate(groups)
    names = np.concatenate([[f"g{at}"] * len(one) for at, one in enumerate(groups)])
    tukey = pairwise_tukeyhsd(values, names)
    welch = anova_oneway(groups, use_var="unequal", welch_correction=True)
    usual = anova_oneway(groups, use_var="equal")
    return {
        "groups": [list(one) for one in groups],
        "f": usual.statistic,
        "p": usual.pvalue,
        "welch": {"f": welch.statistic, "df": [welch.df_num, welch.df_denom], "p": welch.pvalue},
        "tukey": [
            {"value": gap, "low": low, "high": high, "p": p}
            for gap, (low, high), p in zip(tukey.meandiffs, tukey.confint, tukey.pvalues, strict=True)
        ],
    }


def main():
    dice = np.random.default_rng(SEED)
    full = [
        (t, b, round(float(dice.normal(5 + i + j / 2, 1)), 2))
        for i, t in enumerate("ABC")
        for j, b in enumerate("wxyz")
    ]
    gaps = [row for at, row in enumerate(full) if at not in (1, 7)]
    twice = [
        (t, b, round(float(dice.normal(5 + i, 1)), 2)) for i, t in enumerate("AB") for b in "xyz" for _ in range(2)
    ]
    uneven = [
        [round(float(one), 2) for one in dice.normal(4 + at, 1 + at, size)] for at, size in enumerate((5, 9, 7, 6))
    ]
    found = {
        "made_with": f"statsmodels {statsmodels.__version__}",
        "blocks": [blocks(full), blocks(gaps), blocks(twice)],
        "one_way": one_way(uneven),
        "power_two": [
            [d, n1, n2, TTestIndPower().power(d, n1, 0.05, n2 / n1)]
            for d, n1, n2 in ((0.5, 12, 20), (1.8, 6, 6), (0.1, 4, 9))
        ],
        "power_pairs": [[d, n, TTestPower().power(d, n, 0.05)] for d, n in ((0.5, 12), (1.2, 6))],
        "power_groups": [
            [f, k, n, FTestAnovaPower().power(f, k * n, 0.05, k)] for f, k, n in ((0.4, 4, 10), (0.8, 3, 5))
        ],
    }
    (Path(__file__).parent / "trials_second.json").write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
