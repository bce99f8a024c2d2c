"""Whether a comparison is fair, and how treatments are dealt out."""

from collections import Counter
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from walkabout.insight.trials.assign import assign
from walkabout.insight.trials.fair import Plot, unfair
from walkabout.insight.trials.table import BadTrial


def plot(name: str, treatment: str, **more: object) -> Plot:
    alike: dict[str, object] = {"station": "shelf", "lamp": "led", "gap_cm": 30.0, "hours": 16.0, "tank": "one"}
    alike |= {"crop": "lettuce", "variety": "green", "sown": date(2027, 1, 4)}
    return Plot(name=name, treatment=treatment, **(alike | more))  # type: ignore[arg-type]


def four(**of_b: object) -> list[Plot]:
    return [plot("1", "a"), plot("2", "a"), plot("3", "b", **of_b), plot("4", "b", **of_b)]


def test_plots_alike_in_all_but_the_treatment_are_fair() -> None:
    """Nothing is complained about."""
    assert unfair(four()) == ()


@pytest.mark.parametrize(
    ("differs", "name", "says"),
    [
        ({"gap_cm": 45.0}, "gap_cm", "different distances from the leaves (a 30 cm, b 45 cm)"),
        ({"hours": 12.0}, "hours", "different hours a day (a 16 hours, b 12 hours)"),
        ({"sown": date(2027, 1, 18)}, "sown", "not of the same age (sown a 2027-01-04, b 2027-01-18)"),
        ({"variety": "red"}, "variety", "The variety is not the same in all treatments (a green, b red)"),
        ({"crop": "basil"}, "crop", "The crop is not the same"),
        ({"lamp": "tube"}, "lamp", "The kind of lamp is not the same"),
        ({"tank": "two"}, "tank", "The tank is not the same"),
        ({"station": "tub"}, "station", "All plots of one treatment stand at one station (a at shelf; b at tub)"),
    ],
)
def test_what_differs_is_said_unless_it_is_under_test(differs: dict[str, object], name: str, says: str) -> None:
    """One sentence with the values of each treatment; none when that is what is compared."""
    found = unfair(four(**differs))
    assert len(found) == 1
    assert says in found[0]
    assert unfair(four(**differs), name) == ()


def test_small_differences_are_let_pass() -> None:
    """A finger's width of distance, a day of age, one unknown."""
    assert unfair(four(gap_cm=31.5, sown=date(2027, 1, 5))) == ()
    assert unfair(four(gap_cm=None, variety="", sown=None, station="")) == ()


def test_one_plot_is_no_replicate() -> None:
    """A treatment with one plot cannot be told from its plot; one treatment alone compares nothing."""
    assert "b has one plot only" in unfair(four()[:3])[0]
    assert "only one treatment" in unfair(four()[:2])[0]


def test_shared_stations_are_fair() -> None:
    """Each treatment at each station is what is wanted; no station shared by two is told of."""
    crossed = [plot("1", "a"), plot("2", "a", station="tub"), plot("3", "b"), plot("4", "b", station="tub")]
    assert unfair(crossed) == ()
    apart = [plot(str(at), "ab"[at // 2], station=f"s{at}") for at in range(4)]
    assert "No station has more than one" in unfair(apart)[0]


@given(st.integers(2, 30), st.integers(2, 5), st.integers(0, 10_000))
def test_treatments_are_dealt_out_evenly(many: int, kinds: int, seed: int) -> None:
    """No treatment has more than one plot more than another, and the same number deals the same again."""
    if many < kinds:
        return
    units, treatments = [f"p{at}" for at in range(many)], [f"t{at}" for at in range(kinds)]
    drawn = assign(units, treatments, seed=seed)
    counts = Counter(treatment for _, treatment in drawn.plots)
    assert max(counts.values()) - min(counts[one] for one in treatments) <= 1
    assert [one for one, _ in drawn.plots] == units
    assert drawn == assign(units, treatments, seed=seed)


@given(st.integers(0, 10_000))
def test_each_block_is_even_by_itself(seed: int) -> None:
    """Within blocks and over all of them, even where a block does not divide evenly."""
    units = [f"p{at}" for at in range(15)]
    blocks = ["x"] * 5 + ["y"] * 5 + ["z"] * 5
    drawn = assign(units, ["a", "b"], blocks, seed)
    for block in "xyz":
        counts = Counter(treatment for one, treatment in drawn.plots if drawn.block_of[one] == block)
        assert sorted(counts.values()) == [2, 3]
    assert sorted(Counter(treatment for _, treatment in drawn.plots).values()) == [7, 8]


def test_every_plot_may_get_every_treatment() -> None:
    """Over many numbers each plot gets each treatment about as often: no place is favoured."""
    seen = Counter(assign(["p", "q", "r", "s"], ["a", "b"], seed=seed).plots[0][1] for seed in range(400))
    assert 160 < seen["a"] < 240


def test_the_list_begins_with_its_number() -> None:
    """What is printed can be drawn again by anybody."""
    lines = assign(["p", "q"], ["a", "b"], ["x", "x"], 7).lines()
    assert "from the number 7" in lines[0]
    assert lines[1].startswith("p: ")
    assert lines[1].endswith("(block x)")


@pytest.mark.parametrize(
    ("units", "treatments", "blocks"),
    [
        (["p", "q"], ["a"], None),
        (["p", "p"], ["a", "b"], None),
        (["p"], ["a", "b"], None),
        (["p", "q"], ["a", "b"], ["x"]),
    ],
)
def test_deals_that_cannot_be(units: list[str], treatments: list[str], blocks: list[str] | None) -> None:
    """Too few treatments or plots, names that come twice, a plot without a block."""
    with pytest.raises(BadTrial):
        assign(units, treatments, blocks)
