"""Kinds counted against a ratio in the room: the plan, the counts that stand, what they show, what is unfair."""

from collections.abc import Mapping, Sequence
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.rooms import NOW, write_small_room
from walkabout.jobs.trials import exclude, measure, set_up_ratio
from walkabout.records.model_measured import Kind, Measurement, Plot, Trial
from walkabout.round.opened import OpenRoom
from walkabout.round.ratio_trials import (
    counted,
    judged_ratio,
    kinds_say,
    needed,
    needed_says,
    plan_says,
    rarest,
    too_many,
)
from walkabout.round.trials import unfair_says

TODAY = NOW.date()
KINDS = (Kind(name="green", part=3, other=1), Kind(name="pale", part=1, other=1))


def trial(trays: int = 3, **more: Any) -> Trial:
    plots = [Plot(name=f"Tray {number}", kind="tray", treatment="") for number in range(1, trays + 1)]
    given: dict[str, Any] = {"question": "Do they come 3 to 1?", "kinds": KINDS, "by": "AR", "now": NOW}
    return set_up_ratio(plots=plots, **(given | more))


def count(one: Trial, trays: Mapping[str, Sequence[int | None]], days: int = 0) -> list[Measurement]:
    """Count trays, the kinds in their order; None for what is not counted."""
    return [
        measure(one, tray, value, kind=kind.name, day=TODAY - timedelta(days=days), by="AR", now=NOW)
        for tray, values in trays.items()
        for kind, value in zip(one.kinds, values, strict=True)
        if value is not None
    ]


def test_how_many_must_be_counted() -> None:
    """24 tell 3:1 from 1:1; from 2:1 it takes 212; without another ratio it is only said what chi-squared needs."""
    assert needed(KINDS) == 24
    nearer = (Kind(name="green", part=3, other=2), Kind(name="pale", part=1, other=1))
    assert needed(nearer) == 212
    assert plan_says(trial(kinds=nearer))[0] == "To tell 3:1 from 2:1, 212 must be counted in all."
    alone = (Kind(name="green", part=3), Kind(name="pale", part=1))
    assert needed(alone) is None
    assert needed_says(alone, None) == [
        "Below about 20 in all, fewer than 5 of the rarest kind are expected: chi-squared is rough."
    ]
    four = [Kind(name=name, part=part) for name, part in zip("abcd", (9, 3, 3, 1), strict=True)]
    assert rarest(four) == 80
    assert kinds_say(trial()) == "green : pale against 3:1"


def test_all_trays_together_and_each_by_itself() -> None:
    """Chi-squared of all, heterogeneity of the trays, the other ratio, and a span of shares; 3:1 is never proven."""
    one = trial(sown_each=20)
    facts = judged_ratio(one, count(one, {"Tray 1": (15, 4), "Tray 2": (14, 5), "Tray 3": (13, 6)}), TODAY).facts()
    assert facts["design"] == "ratio"
    assert [group["n"] for group in facts["groups"]] == [42, 15]
    assert facts["test"]["statistic"] == pytest.approx((42 - 42.75) ** 2 / 42.75 + (15 - 14.25) ** 2 / 14.25)
    assert facts["heterogeneity"]["df"] == 2
    assert "proves nothing" in facts["words"]
    notes = " ".join(facts["notes"])
    assert "3 of 60 seeds sown are not among the counts" in notes
    assert "Against 1:1" in notes
    assert "do not go well with that" in notes
    assert "trays do not disagree" in notes


def test_few_counts_cannot_tell_the_two_ratios_apart() -> None:
    """Which is said, with how many were thought to be needed."""
    one = trial(planned=24)
    notes = " ".join(judged_ratio(one, count(one, {"Tray 1": (8, 4)}), TODAY).notes)
    assert "cannot tell the two apart. At the start 24 were thought to be needed." in notes
    assert "2 of 3 not counted yet" in notes


def test_trays_that_disagree_are_not_hidden() -> None:
    """Together they are 3:1 to the seedling; one tray has no pale ones at all."""
    one = trial(2)
    result = judged_ratio(one, count(one, {"Tray 1": (40, 0), "Tray 2": (20, 20)}), TODAY)
    assert "But the trays disagree by more than chance" in result.words


def test_half_counted_and_left_out_trays_are_not_reckoned_with() -> None:
    """What is lacking is never taken as 0; a tray with a count left out is left out with its reason."""
    one = trial()
    measured = count(one, {"Tray 1": (15, 4), "Tray 2": (14, None), "Tray 3": (1, 9)})
    measured[-1] = exclude(one, measured[-1], "a mouse ate the green ones", "AR", NOW)
    found = counted(one, measured, TODAY)
    assert found.plots == {"Tray 1": (15, 4)}
    assert found.sums == (15, 4)
    assert found.notes == (
        "Left out with a reason: Tray 3: a mouse ate the green ones.",
        "Not counted to the end, so left out: Tray 2 (pale). Where there is none, type 0.",
    )
    with pytest.raises(ValueError, match="Nothing is counted to the end"):
        judged_ratio(one, count(one, {"Tray 1": (15, None)}), TODAY)
    with pytest.raises(ValueError, match="Nothing is counted to the end"):
        judged_ratio(one, count(one, {"Tray 1": (0, 0)}), TODAY)


def test_of_each_tray_the_last_count_is_taken() -> None:
    """Trays counted on several days: the last up to the day that is looked at, and nothing later."""
    one = trial(2)
    measured = [*count(one, {"Tray 1": (10, 2), "Tray 2": (9, 3)}, days=3), *count(one, {"Tray 1": (15, 4)})]
    assert counted(one, measured, TODAY).plots == {"Tray 1": (15, 4), "Tray 2": (9, 3)}
    assert "several days" in counted(one, measured, TODAY).notes[-1]
    assert counted(one, measured, TODAY - timedelta(days=1)).plots == {"Tray 1": (10, 2), "Tray 2": (9, 3)}


def test_more_than_were_sown_is_questioned() -> None:
    """13 of 10 seeds; without the number sown nothing can be said."""
    one = trial(sown_each=10)
    measured = count(one, {"Tray 1": (8, None)})
    assert too_many(one, measured, TODAY, "Tray 1", "pale", 5) == "That makes 13 in Tray 1, but 10 were sown."
    assert too_many(one, measured, TODAY, "Tray 1", "pale", 2) == ""
    assert too_many(one, measured, TODAY, "Tray 1", "green", 10) == ""
    assert too_many(trial(), [], TODAY, "Tray 1", "pale", 500) == ""


def test_what_makes_a_count_unfair(tmp_path: Path) -> None:
    """Seeds that stay below, kinds told apart too early, several parents; and what the room knows: several crops."""
    opened = OpenRoom(write_small_room(tmp_path / "room"), lambda: NOW)
    says = " ".join(unfair_says(opened, trial()))
    for part in ("do not come up", "how many were sown is not written down", "some age on", "several parents"):
        assert part in says
    assert "not written down" not in " ".join(unfair_says(opened, trial(sown_each=20)))
    crops = {one.crop: one.key for one in opened.plantings.values()}
    assert len(crops) > 1
    plots = [Plot(name=crop, kind="tray", treatment="", planting=key) for crop, key in crops.items()]
    assert "several crops" in unfair_says(opened, _with(plots))[0]


def _with(plots: Sequence[Plot]) -> Trial:
    return set_up_ratio(question="Do they come 3 to 1?", kinds=KINDS, plots=plots, by="AR", now=NOW)
