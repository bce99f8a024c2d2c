"""The least squares against what scipy.optimize.nnls answers to the same tables."""

import json
from math import sqrt
from pathlib import Path
from typing import Any

import pytest

from walkabout.growing import nnls

FROZEN = json.loads(Path(__file__).with_name("frozen").joinpath("nnls.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("case", FROZEN["cases"], ids=lambda case: f"{len(case['target'])}x{len(case['columns'])}")
def test_is_as_near_as_scipy(case: dict[str, Any]) -> None:
    """The remainder is scipy's within 1e-7 of the target's length, and so is the answer where only one is best."""
    answer = nnls.solve(case["columns"], case["target"])
    given = [
        sum(column[row] * x for column, x in zip(case["columns"], answer, strict=True))
        for row in range(len(case["target"]))
    ]
    left = sqrt(sum((wanted - got) ** 2 for wanted, got in zip(case["target"], given, strict=True)))
    size = sqrt(sum(wanted * wanted for wanted in case["target"]))
    assert left == pytest.approx(case["remainder"], abs=1e-7 * size)
    if case["unique"]:
        assert answer == pytest.approx(case["answer"], rel=1e-5, abs=1e-5)
