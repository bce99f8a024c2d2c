"""One group by itself: its mean, its shares, their intervals, and no test."""

import pytest

from walkabout.insight.trials.result import analyse
from walkabout.insight.trials.table import BadTrial, Table, read_table

# Uranium by eight laboratories: Grubbs' example in the NIST/SEMATECH e-Handbook 1.3.5.17.1, G = 2.4687, limit 2.1266
URANIUM = (199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57)


def table(text: str) -> Table:
    return read_table(text.encode(), "t.csv")


def test_numbers_have_a_mean_with_its_interval() -> None:
    """Mean, sd, the interval by t, the value far out; nothing that compares."""
    facts = analyse(table("lab,value\n" + "".join(f"{at},{one}\n" for at, one in enumerate(URANIUM))), "value").facts()
    assert facts["design"] == "one group"
    assert (facts["test"], facts["difference"], facts["effect"]) == (None, None, None)
    (group,) = facts["groups"]
    assert group["mean"] == pytest.approx(sum(URANIUM) / 8)
    # t of 7 degrees of freedom, 2.3646
    assert group["mean_high"] - group["mean"] == pytest.approx(2.3646 * group["sd"] / 8**0.5, rel=1e-4)
    (far,) = facts["outliers"]
    assert (far["statistic"], far["limit"]) == (pytest.approx(2.4687, abs=1e-4), pytest.approx(2.1266, abs=1e-4))
    assert "Nothing was compared" in facts["answer"]
    assert any("--by COL" in note and "--ratio" in note and "--fit line" in note for note in facts["notes"])


# Newcombe 1998, Statistics in Medicine 17:857-872, table I
@pytest.mark.parametrize(("many", "of", "low", "high"), [(81, 263, 0.2553, 0.3662), (0, 20, 0.0, 0.1611)])
def test_shares_have_wilsons_interval(many: int, of: int, low: float, high: float) -> None:
    """The same share as a part of a total, as counts, and one row a plant."""
    counts = f"kind,n\nyes,{many}\nno,{of - many}\n"
    found = [
        analyse(table(f"g,x,n\na,{many},{of}\n"), "x", "g", of="n"),
        analyse(table(f"g,x,n\na,{many},{of}\n"), "x", of="n"),
        analyse(table(counts), "kind", count="n"),
        analyse(table(counts), "kind"),
        analyse(table("up,plant\n" + "1,\n" * many + "0,\n" * (of - many)), "up", count="1"),
    ]
    for one in found if many else found[:4]:
        (group,) = one.facts()["groups"]
        assert (group["n"], group["share"]) == (of, pytest.approx(many / of))
        assert (group["share_low"], group["share_high"]) == pytest.approx((low, high), abs=5e-5)
        assert one.outcome is None


def test_noughts_alone_are_a_share() -> None:
    """None of twenty came up: 0 % with Wilson's interval, told of the word that stands there."""
    (group,) = analyse(table("up\n" + "0\n" * 20), "up").facts()["groups"]
    assert (group["share_of"], group["share"]) == ("0", 1.0)
    assert group["share_low"] == pytest.approx(1 - 0.1611, abs=5e-5)


def test_every_outcome_has_its_share() -> None:
    """Three kinds, one row a plant: counts and intervals of each."""
    facts = analyse(table("kind\n" + "a\n" * 5 + "b\n" * 3 + "c\n" * 2), "kind").facts()
    found = [(one["outcome"], one["n"], one["share"]) for one in facts["shares"]]
    assert found == [("a", 5, 0.5), ("b", 3, 0.3), ("c", 2, 0.2)]


def test_a_column_with_one_group_is_one_group() -> None:
    """--by with one word: its name is kept, and a row without the word is left out."""
    facts = analyse(table("g,w\na,1\na,3\n,9\n"), "w", "g").facts()
    assert [(one["name"], one["n"], one["mean"]) for one in facts["groups"]] == [("a", 2, 2.0)]


@pytest.mark.parametrize("ask", [{"test": "welch"}, {"pair": "g"}, {"block": "g"}, {"lot": False}])
def test_what_compares_still_takes_two_groups(ask: dict[str, str]) -> None:
    """A test, pairs, blocks, or a trial of a room: one line."""
    with pytest.raises(BadTrial, match="--by COL"):
        analyse(table("g,w\na,1\na,3\n"), "w", **ask)  # type: ignore[arg-type]


def test_what_cannot_be_looked_at() -> None:
    """One value, no count, or amounts counted singly: one line."""
    for text, ask, says in (
        ("w\n3\n", {}, "holds 1 value"),
        ("n,g,o\n3,a,x\n1,a,y\n4,b,x\n5,b,y\n", {}, "--response OUTCOME --count n"),
        ("k,n\na,0\nb,0\n", {"count": "n"}, "counts no plant"),
        ("w\n3.1\n2.2\n", {"count": "1"}, "leave it out"),
    ):
        with pytest.raises(BadTrial, match=says):
            analyse(table(text), text[0], **ask)  # type: ignore[arg-type]
