"""Control charts, smoothing, slopes and steps against published examples; `data/control_charts.json` names each."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from walkabout.cli import cli
from walkabout.insight.control import c_chart, cusum, ewma, individuals, p_chart
from walkabout.insight.series import Point, Series
from walkabout.insight.shift import change
from walkabout.insight.slope import slope
from walkabout.insight.trend import Chosen, trend

PUBLISHED: dict[str, Any] = json.loads((Path(__file__).parent / "data" / "control_charts.json").read_text("utf-8"))


def series(values: list[float], step: float = 0.1) -> Series:
    points = tuple(Point(float(place), value) for place, value in enumerate(values, 1))
    return Series(points, "", "reading", step=step, per="reading")


def test_every_example_names_its_source_and_how_it_is_known() -> None:
    """A figure without a source is worth nothing."""
    assert all(one["source"] and one["known"] for one in PUBLISHED.values())


def test_individuals_chart_of_the_handbook() -> None:
    """Mean, mean moving range, both limits and the range limit are the printed ones, and nothing is outside."""
    known = PUBLISHED["individuals"]
    found = individuals(known["values"])

    assert found.mean == pytest.approx(known["mean"], abs=1e-9)
    for name in ("moving_range", "low", "high"):
        assert getattr(found, name) == pytest.approx(known[name], abs=5e-5), name
    # the handbook's own constant has more digits than 3.267
    assert found.range_limit == pytest.approx(known["range_limit"], abs=3e-4)
    assert found.out == found.ranges_out == ()


def test_ewma_of_the_handbook_never_signals() -> None:
    """Twenty smoothed values and the limits are the printed ones; although it creeps up at the end, none is outside."""
    known = PUBLISHED["ewma"]
    found = ewma(known["values"], known["target"], known["sigma"], known["lambda"])

    assert found.values == pytest.approx(known["smoothed"], abs=0.0051)
    assert found.low[-1] == pytest.approx(known["low"], abs=1e-4)
    assert found.high[-1] == pytest.approx(known["high"], abs=1e-4)
    assert found.signals == ()


def test_a_trend_of_the_ewma_example_cries_no_wolf() -> None:
    """The last four values are above the target, and no chart signals: nothing has shifted or leaves, nor is flagged.

    So it is with the limits that are exact for the first readings.
    """
    known = PUBLISHED["ewma"]
    for exact in (False, True):
        found = trend(series(known["values"]), chosen=Chosen(target=50, sigma=2.0539, exact=exact))

        assert found.shifts == ()
        assert found.leaves is None
        assert found.says == ("No shift shown in these 20 readings.",)


def test_cusum_of_the_handbook_signals_first_at_14() -> None:
    """Both sums are the printed ones; the upper one passes h at the fourteenth reading and stays above."""
    known = PUBLISHED["cusum"]
    found = cusum(known["values"], known["target"], known["k"], known["h"])

    assert found.upper == pytest.approx(known["upper"], abs=0.0051)
    assert found.lower == pytest.approx(known["lower"], abs=0.0051)
    assert found.signals == tuple(range(known["first_signal"], 21))


def test_the_step_in_the_cusum_example_is_found_where_it_begins() -> None:
    """The thirteenth reading is the first of the new level: the trend says so, and both charts see it."""
    found = trend(series(PUBLISHED["cusum"]["values"], step=0.025))

    (shift,) = found.shifts
    assert (shift.since, shift.direction, shift.change.kind) == (13.0, "up", "step")
    assert shift.rule == "step test, EWMA, CUSUM"


def test_a_chart_that_somebody_has_set_up_decides() -> None:
    """The CUSUM with the handbook's own target, k and h is said to signal at the fourteenth reading, before all else.

    On its first fourteen readings the test for a shift waits for one more, and the chart does not.
    """
    known = PUBLISHED["cusum"]
    chosen = Chosen(target=known["target"], k=known["k"], h=known["h"])
    found, early = (trend(series(known["values"][:many], step=0.025), chosen=chosen) for many in (20, 14))

    signals = "The CUSUM signals at reading 14: the level has moved up from 325."
    assert signals in found.says[:2]
    assert found.says[-1] == "Reading has been 2.9 higher since reading 13: more than chance."
    assert early.shifts == ()
    assert signals in early.says
    assert any(one.startswith("The test for a shift, ") for one in early.says)
    assert not any(one.startswith("No shift shown") for one in (*found.says, *early.says))


def test_counts_chart_of_the_handbook() -> None:
    """Mean 16, limits 4 and 28; sample 24 is outside, sample 3 lies on the line and is inside."""
    known = PUBLISHED["counts"]
    found = c_chart(known["values"])

    assert (found.mean, found.low, found.high) == pytest.approx((known["mean"], known["low"], known["high"]), abs=1e-9)
    assert list(found.out) == known["out"]
    assert known["values"][2] == found.high


def test_proportions_chart_of_the_handbook() -> None:
    """Thirty wafers of fifty: mean share and limits are the printed ones, wafers 15 and 23 are outside."""
    known = PUBLISHED["shares"]
    found = p_chart(known["counts"], [known["size"]] * len(known["counts"]))

    assert found.mean == pytest.approx(known["mean"], abs=5e-5)
    assert found.low[0] == pytest.approx(known["low"], abs=1e-4)
    assert found.high[0] == pytest.approx(known["high"], abs=1e-4)
    assert list(found.out) == known["out"]


def test_exponential_smoothing_of_the_handbook() -> None:
    """A smoothed line that starts from the first value gives the printed forecasts and their mean square of error."""
    known = PUBLISHED["smoothing"]
    first, *rest = known["values"]
    line = (first, *ewma(rest[:-1], first, 0.0, known["alpha"]).values)

    assert line == pytest.approx(known["smoothed"], abs=0.0051)
    errors = [(real - said) ** 2 for real, said in zip(rest, line, strict=True)]
    assert sum(errors) / len(errors) == pytest.approx(known["mean_square"], abs=0.05)


def test_theil_sen_slope_of_the_cloud_seeding() -> None:
    """The median of the ten slopes is -0.05625, and two pairs rise where eight fall."""
    known = PUBLISHED["cloud_seeding"]
    found = slope(known["times"], known["values"])

    assert found is not None
    assert found.value == pytest.approx(known["slope"], abs=1e-9)
    assert found.kendall == known["kendall"]


def test_one_step_in_the_flow_of_the_nile() -> None:
    """The one shift of a hundred years is the step after 1898, with the two means; nothing else is made up."""
    known = PUBLISHED["nile"]
    years = [float(known["first_year"] + place) for place in range(len(known["values"]))]
    found = change(years, known["values"])

    assert found is not None
    assert (found.kind, years[found.at]) == ("step", known["last_year_before"] + 1)
    assert found.before == pytest.approx(known["mean_before"], abs=0.005)
    assert found.after == pytest.approx(known["mean_after"], abs=0.005)
    assert len(trend(series(known["values"], step=1)).shifts) == 1


def test_the_command_gives_the_printed_figures(tmp_path: Path) -> None:
    """With the handbook's own settings, `walkabout trend --json` gives its limits and its first signal."""
    smooth, sums = PUBLISHED["ewma"], PUBLISHED["cusum"]
    first = told(tmp_path, smooth["values"], "--lambda", "0.3", "--target", "50", "--sigma", "2.0539")
    second = told(tmp_path, sums["values"], "--target", "325", "--k", "0.3175", "--h", "4.1959")

    assert (first["ewma"]["low"], first["ewma"]["high"]) == pytest.approx((smooth["low"], smooth["high"]), abs=1e-4)
    assert (first["ewma"]["signals"], first["shifts"]) == ([], [])
    assert second["cusum"]["signals"][0] == sums["first_signal"]
    assert [one["since"] for one in second["shifts"]] == [13.0]
    assert first["decided"] == []
    assert [(one["reading"], one["direction"]) for one in second["decided"] if one["chart"] == "CUSUM"] == [(14, "up")]


def told(folder: Path, values: list[float], *more: str) -> dict[str, Any]:
    file = folder / "table.csv"
    file.write_text("x\n" + "".join(f"{value}\n" for value in values), encoding="utf-8")
    result = CliRunner().invoke(cli, ["trend", str(file), "--value", "x", "--json", *more])
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    return found
