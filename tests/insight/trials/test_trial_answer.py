"""The answer in a line: what was seen and whether chance could make it; it claims no more than the words do."""

from typing import Any

import pytest

from walkabout.insight.trials.result import analyse, analyse_fit
from walkabout.insight.trials.table import Table, read_table


def table(text: str) -> Table:
    return read_table(text.encode(), "t.csv")


def grown(groups: dict[str, list[float]], unit: str = " (cm)") -> Table:
    rows = [f"{at},{name},{one}" for name, values in groups.items() for at, one in enumerate(values)]
    return table("\n".join([f"tray,lamp,height{unit}", *rows]))


def answered(groups: dict[str, list[float]], **more: Any) -> str:
    return analyse(grown(groups), "height (cm)", "lamp", **more).answer


FAR = {"bar": [7.0, 7.2, 6.9, 7.1, 7.3, 7.0], "tube": [5.0, 5.2, 4.9, 5.3, 5.1, 5.0]}
NEAR = {"bar": [5.0, 6.2, 5.1, 6.9, 5.3, 6.0], "tube": [5.5, 5.2, 6.9, 5.3, 6.1, 6.0]}


def test_two_groups() -> None:
    """Which lies above which, by how much in its unit, and what chance has to do with it."""
    assert answered(FAR) == "Height: bar is 2 cm above tube on average. That is more than chance makes."
    turned = answered({"tube": FAR["tube"], "bar": FAR["bar"]}, pair="tray")
    assert turned == "Height: tube is 2 cm below bar on average. That is more than chance makes."
    shift = answered(FAR, test="mann-whitney")
    assert shift == "Height: bar is 2 cm above tube typically. That is more than chance makes."
    assert answered(NEAR).endswith("below tube on average. Chance alone could make that, so nothing is shown.")


def test_no_difference_seen() -> None:
    """Two means that are the same differ by nothing, which shows nothing."""
    assert answered({"bar": [4.0, 6.0, 5.0], "tube": [5.0, 4.0, 6.0]}) == (
        "Height: no difference was seen between bar and tube. Chance alone could make that, so nothing is shown."
    )


def test_several_groups() -> None:
    """The two that lie farthest apart are named; a test without pairs names none."""
    groups = FAR | {"window": [5.1, 5.0, 5.2, 4.9, 5.0, 5.3]}
    assert answered(groups) == ("Height: tube is 2 cm below bar, the widest of all. That is more than chance makes.")
    assert answered(groups, test="kruskal").startswith("Height: the groups are not all alike.")


def test_shares_are_told_in_points() -> None:
    """Of words and of plates alike, never as per cent of per cent."""
    words = table("by,o\n" + "mat,up\n" * 18 + "mat,no\n" * 2 + "none,up\n" * 8 + "none,no\n" * 12)
    found = analyse(words, "o", "by").answer
    assert found == "Share of up: mat is 50 percentage points above none as counted. That is more than chance makes."
    plates = "by,block,up,of\n" + "".join(f"{name},{at},{up},20\n" for name, ups in
        {"mat": (18, 17, 19, 18), "none": (9, 8, 10, 8)}.items() for at, up in enumerate(ups))  # fmt: skip
    found = analyse(table(plates), "up", "by", block="block", of="of").answer
    assert "percentage points above none on average" in found


@pytest.mark.parametrize(
    ("counts", "says"),
    [
        ((87, 27), "Green : pale came 87 : 27. That goes with 3:1."),
        ((60, 60), "Green : pale came 60 : 60. That does not go with 3:1."),
        ((66, 33), "Green : pale came 66 : 33. That just goes with 3:1."),
        ((67, 34), "Green : pale came 67 : 34. That does not quite go with 3:1."),
    ],
)
def test_a_ratio(counts: tuple[int, int], says: str) -> None:
    """The counts and whether they go with the ratio; close to the line of custom it is not said flatly."""
    green, pale = counts
    assert analyse(table(f"kind,many\ngreen,{green}\npale,{pale}\n"), "kind", ratio="3:1", count="many").answer == says


def test_trays_that_disagree_are_told_at_once() -> None:
    """A sum that goes with a ratio says little where its trays do not go together."""
    rows = "".join(f"{tray},{kind},{many}\n" for tray, seen in {"a": (50, 2), "b": (25, 23)}.items()
                   for kind, many in zip(("green", "pale"), seen, strict=True))  # fmt: skip
    result = analyse(table(f"tray,kind,many\n{rows}"), "kind", "tray", ratio="3:1", count="many")
    assert result.answer == "Green : pale came 75 : 25. That goes with 3:1. But the groups disagree: read on."


def test_where_two_tests_disagree_nothing_is_decided() -> None:
    """The line that is read first must not claim what the words take back."""
    result = analyse(grown({"bar": [3.0, 3.1], "tube": [5.0, 5.3]}), "height (cm)", "lamp")
    assert "hint" in result.words
    assert result.answer.endswith("Whether that is more than chance is in doubt: two tests read it differently.")


def test_a_line_answers_with_its_slope() -> None:
    """Up or down by how much a step, and whether chance could make it; a curve says where it heads."""
    rising = table("day,height (cm)\n1,2\n2,3\n3,5\n4,6\n")
    assert analyse_fit(rising, "height (cm)", "day", "line").answer == (
        "Height (cm) rises by 1.4 cm for each 1 of day. That is more than chance makes."
    )
    flat = table("x,y\n1,2\n2,1\n3,2\n4,1.5\n")
    assert analyse_fit(flat, "y", "x", "line").answer.endswith("Chance alone could make that, so no slope is shown.")
    bent = analyse_fit(table("x,y\n1,5\n2,6.6\n3,7.6\n5,8.3\n9,9.1\n"), "y", "x", "saturation")
    assert "heads for" in bent.answer
    assert "from the curve" in bent.words
    assert "line" not in bent.words
