"""Values without any spread: the chances are counted in place of the usual test, and nothing is claimed beyond them."""

import json
import math
from typing import Any

import pytest

from walkabout.insight.trials.result import analyse
from walkabout.insight.trials.table import BadTrial, Table, read_table
from walkabout.insight.trials.tests import EVEN
from walkabout.insight.trials.two_groups import NoSpread

PAIRS = [(5.0, 4.0), (7.0, 6.0), (6.5, 5.5), (4.0, 3.0), (5.0, 4.0), (8.0, 7.0), (7.3, 6.3)]


def rows(pairs: list[tuple[float, ...]]) -> Table:
    """Write a table: one tray a pair, lamp and height."""
    lines = [f"{at},{name},{one}" for at, pair in enumerate(pairs) for name, one in zip("abc", pair, strict=False)]
    return read_table("\n".join(["tray,lamp,height", *lines]).encode(), "t.csv")


def facts(pairs: list[tuple[float, ...]], **more: Any) -> dict[str, Any]:
    return analyse(rows(pairs), "height", "lamp", **more).facts()


@pytest.mark.parametrize("more", [{"pair": "tray"}, {"block": "tray"}])
def test_pairs_that_all_differ_alike_are_counted(more: dict[str, str]) -> None:
    """Two of the 2⁷ patterns of signs are as far: p = 2/128; the difference stands, without an interval."""
    found = facts(PAIRS, **more)
    assert (found["test"]["key"], found["test"]["p"]) == ("permutation", 2 / 2**7)
    gap = found["difference"]
    assert gap["value"] == found["test"]["statistic"] == pytest.approx(1)
    assert (gap["low"], gap["high"], found["effect"]) == (None, None, None)
    assert EVEN in found["notes"]
    assert "more than chance" in found["words"]
    json.dumps(found, allow_nan=False)


def test_what_was_said_of_it_comes_first() -> None:
    """The first sentence tells how even the values are."""
    assert facts(PAIRS, pair="tray")["words"].startswith("Every pair differs by the same amount. Height: the mean")
    even = [(5.0, 4.0)] * 4
    assert facts(even)["words"].startswith("Within each group every value is the same. ")
    assert facts(even, pair="tray")["words"].startswith("Every pair differs by the same amount. ")
    same = [(5.0, 5.0)] * 4
    assert facts(same)["words"].startswith("Every value is the same. ")
    assert facts(same, pair="tray")["words"].startswith("No pair differs. ")


def test_groups_without_spread_are_counted() -> None:
    """Of all ways to choose 6 of 12, and of 12 values in three groups of 4, only the names changed about are as far."""
    two = facts([(5.0, 4.0)] * 6)
    assert two["test"]["p"] == pytest.approx(2 / math.comb(12, 6))
    assert [one["mean_low"] for one in two["groups"]] == [None, None]
    three = facts([(5.0, 4.0, 3.0)] * 4)
    assert three["test"]["p"] == pytest.approx(6 / (math.factorial(12) / math.factorial(4) ** 3))
    assert (three["difference"], three["test"]["statistic"]) == (None, None)


@pytest.mark.parametrize("more", [{}, {"pair": "tray"}, {"block": "tray"}])
@pytest.mark.parametrize("value", [5.0, 0.0])
def test_where_every_value_is_the_same_chance_says_nothing(more: dict[str, str], value: float) -> None:
    """Every way of dealing out gives the same: p = 1, and that is not called no difference."""
    found = facts([(value, value)] * 5, **more)
    assert found["test"]["p"] == 1
    assert found["difference"]["value"] == 0
    assert "That is not the same as no difference" in found["words"]


def test_rounding_is_no_difference() -> None:
    """0.1 + 0.2 and 0.3 are the same value, whichever group they stand in and however they are dealt."""
    for more in ({}, {"pair": "tray"}, {"block": "tray"}):
        found = facts([(0.1 + 0.2, 0.3), (0.1 + 0.2, 0.3), (0.1 + 0.2, 0.3)], **more)
        assert (found["test"]["p"], found["difference"]["value"]) == (1, 0)


def test_too_few_to_show_anything_say_so() -> None:
    """Four pairs cannot give less than 2/16 by counting, however even they are."""
    found = facts([(5.0, 4.0), (7.0, 6.0), (6.0, 5.0), (4.0, 3.0)], pair="tray")
    assert found["test"]["p"] == 2 / 16
    assert "cannot give a p below 0.12" in found["words"]


@pytest.mark.parametrize(("test", "more"), [("welch", {}), ("anova", {}), ("paired", {"pair": "tray"})])
def test_a_test_asked_for_by_name_is_never_put_aside(test: str, more: dict[str, str]) -> None:
    """It says that it has nothing to go by, and which test needs no spread."""
    with pytest.raises(NoSpread, match=r"no spread to judge by\. The permutation test needs none"):
        facts([(5.0, 4.0)] * 6, test=test, **more)


def test_one_value_a_group_is_still_no_trial() -> None:
    """One plot of each cannot be told from its place: that is said, not counted."""
    for test in (None, "permutation", "anova"):
        with pytest.raises(BadTrial, match="1 value"):
            facts([(5.0, 4.0)], test=test)
