"""What plots gained a day, and why a trial cannot be judged yet."""

from collections.abc import Sequence
from datetime import timedelta
from typing import Any

import pytest

from tests.rooms import NOW
from walkabout.jobs.trials import exclude, measure, set_up
from walkabout.records.model_measured import Counts, Measurement, Plot, Trial
from walkabout.round.gain import ONCE, gains
from walkabout.round.trials import judged, sheet, why_not_yet

TODAY = NOW.date()


def trial(each: int = 3, counts: Counts = "number", **more: Any) -> Trial:
    plots = [
        Plot(name=f"{treatment} {number}", kind="plant", treatment=treatment, **more)
        for treatment in ("as usual", "mat")
        for number in range(1, each + 1)
    ]
    return set_up(
        question="Do they grow faster?", treatments=("as usual", "mat"), control="as usual", plots=plots,
        response="height", unit="cm" if counts == "number" else "", seed=1, by="AR", now=NOW, counts=counts,
    )  # fmt: skip


def high(one: Trial, plot: str, *values: float | None, of: int | None = None) -> list[Measurement]:
    """Measure a plot today, two days ago, four days ago: the last value is today's."""
    days = range(2 * (len(values) - 1), -1, -2)
    return [
        measure(one, plot, value, of=of, day=TODAY - timedelta(days=day), by="AR", now=NOW)
        for day, value in zip(days, values, strict=True)
        if value is not None
    ]


def test_each_plot_counts_once_with_its_own_slope() -> None:
    """Least squares through the days of each plot; the unit is that of the trial, a day."""
    one = trial()
    measured = high(one, "mat 1", 1, 3, 5) + high(one, "mat 2", 1, 4, 6) + high(one, "mat 3", 2, None, 6)
    measured += [m for number in (1, 2, 3) for m in high(one, f"as usual {number}", 1, 2, 2.5 + number / 4)]
    found = gains(one, measured)
    assert found is not None
    slopes = {row[0]: float(row[3]) for row in found.rows}
    assert (slopes["mat 1"], slopes["mat 2"], slopes["mat 3"]) == (1, 1.25, 1)
    assert found.response == "height gained a day (cm)"
    assert found.notes == (ONCE,)
    facts = judged(found).facts()
    assert [group["n"] for group in facts["groups"]] == [3, 3]
    assert facts["difference"]["of"] == "mat - as usual"


def test_plots_without_two_days_are_told_of() -> None:
    """A plant that died, or a value left out, leaves one day: no slope, and the note says how many."""
    one = trial(2)
    measured = high(one, "mat 1", 1, 3) + high(one, "mat 2", 1, None) + high(one, "as usual 1", 1, 2)
    gone = high(one, "as usual 2", 1, 9)
    measured += [gone[0], exclude(one, gone[1], "fell over", "AR", NOW)]
    found = gains(one, measured)
    assert found is not None
    assert sorted(row[0] for row in found.rows) == ["as usual 1", "mat 1"]
    assert found.notes[-1] == "2 of 4 plots were not measured on two days."
    assert gains(one, high(one, "mat 1", 3)) is None


def test_shares_gain_percentage_points() -> None:
    """2 of 10, then 6 of 10, over two days: 20 points a day."""
    one = trial(2, "share")
    found = gains(one, high(one, "mat 1", 2, 6, of=10))
    assert found is not None
    assert [row[3] for row in found.rows] == ["20"]
    assert found.response == "height gained a day (%)"


def values(one: Trial, given: dict[str, Sequence[float]]) -> list[Measurement]:
    return [
        measure(one, f"{name} {number}", value, day=TODAY, by="AR", now=NOW)
        for name, many in given.items()
        for number, value in enumerate(many, 1)
    ]


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"mat": (1, 2)}, "as usual is not measured here yet"),
        ({"mat": (1,), "as usual": (2,)}, "One plot of each treatment"),
        ({"mat": (1,), "as usual": (2, 3)}, "Only one plot of mat is measured"),
        ({"mat": (4, 4), "as usual": (4, 4)}, "Every value is 4"),
        ({"mat": (4, 5), "as usual": (4, 4)}, ""),
    ],
)
def test_why_a_trial_cannot_be_judged_yet(given: dict[str, Sequence[float]], says: str) -> None:
    """In the class's words, without a test; '' where there is something to judge."""
    one = trial()
    found = why_not_yet(one, sheet(one, values(one, given), TODAY))
    assert found.startswith(says) if says else found == ""


def test_dead_plants_are_not_passed_over() -> None:
    """An empty cell is no 0; the note says how many are missing and that the dead are a result too."""
    one = trial()
    found = sheet(one, values(one, {"mat": (1, 2), "as usual": (2, 3, 4)}), TODAY)
    assert len(found.rows) == 5
    (note,) = found.notes
    assert note.startswith("1 of 6 plots was not measured on this day.")
    assert "count the dead of each treatment" in note


def test_everything_left_out() -> None:
    """Nothing is left to judge."""
    one = trial()
    measured = [exclude(one, each, "wrong scale", "AR", NOW) for each in values(one, {"mat": (1, 2), "as usual": (2,)})]
    assert why_not_yet(one, sheet(one, measured, TODAY)) == "Nothing counts here: every value is left out."
