"""A trial in the room: laid out and drawn, judged for fairness, measured, tabled and put to the test."""

from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path
from typing import Any

import msgspec
import pytest

from tests.rooms import NOW, write_small_room
from walkabout.jobs.findings import flag
from walkabout.jobs.trials import exclude, measure, set_up
from walkabout.records.book import Records
from walkabout.records.model_measured import Measurement, Plot, Trial
from walkabout.round.opened import OpenRoom
from walkabout.round.trial_plan import Place, drawn, laid_out, places, power_says
from walkabout.round.trial_typed import slip, typed
from walkabout.round.trials import days_of, growth, judged, on, sheet, unfair_says

TODAY = NOW.date()


@pytest.fixture
def opened(tmp_path: Path) -> OpenRoom:
    """Open the small room."""
    return OpenRoom(write_small_room(tmp_path / "room"), lambda: NOW)


def at(many: int) -> list[Place]:
    return [Place(f"p{one}", f"s{one}", "", f"Tub {one}", f"Tub {one}") for one in range(many)]


def trial(plots: Sequence[Plot], **more: Any) -> Trial:
    given: dict[str, Any] = {
        "question": "Do lettuces grow heavier on a mat?", "treatments": ("as usual", "mat"), "control": "as usual",
        "response": "weight", "unit": "g", "seed": 3, "by": "AR", "now": NOW,
    }  # fmt: skip
    return set_up(plots=plots, **(given | more))


def in_tubs(tubs: int = 2, each: int = 6, **more: Any) -> Trial:
    treatments = more.get("treatments", ("as usual", "mat"))
    return trial(drawn(laid_out("plant", at(tubs), each), treatments, 3), **more)


def weighed(one: Trial, *, gain: float = 8, days: int = 0) -> list[Measurement]:
    """Weigh every plot: 40 to 44 g by its place in the list, and `gain` more where it is not the control."""
    return [
        measure(
            one, plot.name, 40 + number % 5 + (gain if plot.treatment != "as usual" else 0),
            day=TODAY - timedelta(days=days), by="AR", now=NOW,
        )
        for number, plot in enumerate(one.plots)
    ]  # fmt: skip


def test_plots_have_names_of_their_own_and_stand_in_blocks() -> None:
    """Several places with several plots are blocks; one place or one plot each is none; names never come twice."""
    two = laid_out("plant", [*at(1), *at(1)], 2)
    assert [one.name for one in two] == ["Tub 0 1", "Tub 0 2", "Tub 0 (2) 1", "Tub 0 (2) 2"]
    assert [one.block for one in two] == ["Tub 0", "Tub 0", "Tub 0 (2)", "Tub 0 (2)"]
    assert {one.block for one in laid_out("plant", at(1), 4)} == {""}
    stations = laid_out("station", at(3), 9)
    assert [(one.name, one.block) for one in stations] == [("Tub 0", ""), ("Tub 1", ""), ("Tub 2", "")]


def test_the_draw_is_even_in_each_block_and_comes_again_from_its_number() -> None:
    """Half of each tub gets each treatment; another number gives another draw."""
    plots = laid_out("plant", at(3), 6)
    first = drawn(plots, ("as usual", "mat"), 3)
    assert first == drawn(plots, ("as usual", "mat"), 3)
    assert any(first != drawn(plots, ("as usual", "mat"), seed) for seed in (4, 5))
    for tub in ("Tub 0", "Tub 1", "Tub 2"):
        assert sorted(one.treatment for one in first if one.block == tub) == ["as usual"] * 3 + ["mat"] * 3
    with pytest.raises(ValueError, match="at least one"):
        drawn(plots[:1], ("as usual", "mat"), 3)


def test_places_follow_the_walk(opened: OpenRoom) -> None:
    """Stations for whole stations, plantings for trays and plants, each with what grows there."""
    assert [one.key for one in places(opened, "station")][:2] == ["shelf", "tub"]
    plantings = places(opened, "plant")
    assert (plantings[0].station, plantings[0].planting) == ("shelf", "p-0")
    assert "40 lettuce" in plantings[0].says


def test_the_room_says_what_would_make_it_unfair(opened: OpenRoom) -> None:
    """Another crop under another lamp with another tank is no comparison; half of each tray is one."""
    stations = [one for one in places(opened, "station") if one.key in ("tub", "channels")]
    plots = laid_out("station", stations, 1)
    apart = trial(
        [msgspec.structs.replace(one, treatment=of) for one, of in zip(plots, ("as usual", "mat"), strict=True)]
    )
    said = " ".join(unfair_says(opened, apart))
    assert all(word in said for word in ("one plot only", "crop", "tank"))
    tub = [one for one in places(opened, "plant") if one.station == "tub"]
    fair = trial(drawn(laid_out("plant", tub, 12), ("as usual", "mat"), 3))
    assert unfair_says(opened, fair) == ()
    lamps = " ".join(unfair_says(opened, msgspec.structs.replace(fair, under_test="lamp")))
    assert "Raft tub has one kind of lamp for all plots there: the kind of lamp cannot differ between them." in lamps
    ages = " ".join(unfair_says(opened, msgspec.structs.replace(fair, under_test="sown")))
    assert "day of sowing is the same" in ages


def test_a_finding_at_some_of_the_plots_is_told(opened: OpenRoom) -> None:
    """What ails the plants of one treatment may make the difference."""
    stations = [one for one in places(opened, "station") if one.key in ("tub", "channels")]
    plots = laid_out("station", stations, 1)
    one = trial(
        [msgspec.structs.replace(plot, treatment=of) for plot, of in zip(plots, ("as usual", "mat"), strict=True)]
    )
    opened.save(flag(station="tub", seen="spots", verdict="today", by="AR", now=NOW))
    assert any("finding is open at Raft tub" in says for says in unfair_says(opened, one))


def test_a_trial_and_what_was_measured_are_on_disk_and_purged(opened: OpenRoom) -> None:
    """Another program reads them; a code is taken out of all of them, and the numbers stay."""
    one = in_tubs()
    out = exclude(one, weighed(one)[0], "knocked over by a ball", "AR", NOW)
    assert opened.save(one, out) == ""
    other = Records.open(opened.folder, TODAY)
    assert other.trials() == [one]
    assert other.measurements(one.key) == [out]
    assert other.measurements("another") == []
    assert other.purge("AR") >= 2
    purged, left = other.trials()[0], other.measurements(one.key)[0]
    assert (purged.by, purged.history[0].by, left.by, left.history[0].by) == ("--",) * 4
    assert (left.value, left.excluded) == (out.value, "knocked over by a ball")


def test_the_sheet_leaves_out_what_is_left_out_and_says_so() -> None:
    """What was not measured has no row and is never 0; the control comes last."""
    one = in_tubs()
    measured = weighed(one)[:-1]
    measured[0] = exclude(one, measured[0], "knocked over", "AR", NOW)
    found = sheet(one, measured, TODAY)
    assert len(found.rows) == 10
    assert one.plots[0].name not in found.plots
    assert found.notes[0].endswith(f"{one.plots[0].name} ({measured[0].value:g}): knocked over.")
    assert "1 of 12 plots" in found.notes[1]
    order = [row[2] for row in found.rows]
    assert order == sorted(order, key=lambda name: name == "as usual")


def test_the_design_of_the_sheet_follows_the_plots() -> None:
    """Tubs of several are blocks, tubs of two are pairs, one tub is two groups."""
    for tubs, each, design in ((2, 6, "blocked"), (6, 2, "paired"), (1, 12, "two groups")):
        one = in_tubs(tubs, each)
        result = judged(sheet(one, weighed(one), TODAY))
        facts = result.facts()
        assert facts["design"] == design
        assert 4 < facts["difference"]["value"] < 12
        assert facts["difference"]["low"] < facts["difference"]["value"] < facts["difference"]["high"]


def test_the_words_say_whether_it_was_drawn_by_lot() -> None:
    """Drawn by lot, what is more than chance speaks for the treatment; else that depends on the sharing out."""
    for seed, says in ((5, "drawn by lot"), (0, "how the plants were shared out")):
        one = in_tubs(seed=seed)
        assert says in judged(sheet(one, weighed(one), TODAY)).words


def test_a_correction_counts_instead_of_what_it_replaces() -> None:
    """Only the last value of a plot on a day is judged."""
    one = in_tubs()
    measured = weighed(one)
    again = measure(
        one, measured[2].plot, 47, day=TODAY, by="AR", now=NOW, before=measured[2], reason="read wrong"
    )  # fmt: skip
    found = sheet(one, [*measured, again], TODAY)
    assert dict(zip(found.plots, (row[3] for row in found.rows), strict=True))[again.plot] == "47"
    assert on([*measured, again], TODAY)[again.plot] is again


def test_shares_are_of_plots_where_plots_were_treated() -> None:
    """Several plots a treatment: the share of each. One plot a treatment: seed by seed, and a warning."""
    many = in_tubs(1, 8, counts="share", unit="")
    seeds = [
        measure(many, one.name, 3 + at_ % 4, of=10, day=TODAY, by="AR", now=NOW) for at_, one in enumerate(many.plots)
    ]
    found = sheet(many, seeds, TODAY)
    assert (len(found.rows), found.response) == (8, "weight (%)")
    assert {row[3] for row in found.rows} == {"30", "40", "50", "60"}
    few = in_tubs(1, 2, counts="share", unit="")
    trays = [measure(few, one.name, 7, of=10, day=TODAY, by="AR", now=NOW) for one in few.plots]
    found = sheet(few, trays, TODAY)
    assert [row[3] for row in found.rows].count("yes") == 14
    assert "surer than it is" in found.notes[-1]


def test_codes_stand_in_the_sheet_of_a_blind_trial() -> None:
    """Nobody reads a treatment's name out of the result."""
    one = in_tubs(blind=True)
    assert {row[2] for row in sheet(one, weighed(one), TODAY).rows} == {"treatment A", "treatment B"}


def test_growth_counts_days_from_the_first_measurement() -> None:
    """Every plot of every day, by treatment."""
    one = in_tubs()
    found = growth(one, [*weighed(one, days=4), *weighed(one)])
    assert {day for day, _ in found["mat"]} == {0.0, 4.0}
    assert len(found["mat"]) == len(found["as usual"]) == 12
    assert days_of(weighed(one)) == [TODAY]


def test_power_is_told_in_plots() -> None:
    """With 6 plots 1.8 sd, in everyday words; for 20 % at a spread of 25 % 26 (d = 0.8: Cohen 1992, table 2)."""
    says, needed = power_says("number", 2, 6, 20, 25)
    assert needed == 26
    assert "1.8 times as much as plots treated alike" in power_says("number", 2, 6, 20, None)[0][0]
    assert "45 % of the mean" in says[0]
    assert "26 plots" in says[1]
    assert "nothing can be found" in power_says("number", 2, 1, None, None)[0][0]
    assert power_says("share", 2, 6, 20, None)[1] == pytest.approx(98, abs=1)


@pytest.mark.parametrize(
    ("value", "perhaps"), [(420.0, 42.0), (4.2, 42.0), (42000.0, 42.0), (41.0, None), (90.0, None)]
)
def test_ten_times_the_others_is_questioned(value: float, perhaps: float | None) -> None:
    """A point left out or typed too much is offered; twice the others is left alone."""
    one = in_tubs()
    found = slip(one, value, None, one.plots[0].name, weighed(one)[1:], TODAY)
    assert (found.perhaps if found else None) == perhaps
    assert slip(one, value, None, one.plots[0].name, weighed(one)[1:3], TODAY) is None


@pytest.mark.parametrize(
    ("unit", "value", "perhaps"),
    [("cm", 999999.0, None), ("cm", -4.0, 4.0), ("g", 60000.0, None), ("", 50000.0, None)],
)
def test_the_first_value_of_a_trial_is_questioned_too(unit: str, value: float, perhaps: float | None) -> None:
    """What no plant comes to, and what is below 0; once such a value is kept, the next is not asked about."""
    one = in_tubs(unit=unit)
    found = slip(one, value, None, one.plots[0].name, [], TODAY)
    assert found is not None
    assert found.perhaps == perhaps
    assert slip(one, 42, None, one.plots[0].name, [], TODAY) is None
    kept = measure(one, one.plots[1].name, value, day=TODAY, by="AR", now=NOW)
    assert slip(one, value, None, one.plots[0].name, [kept], TODAY) is None


def test_another_total_than_the_others_is_questioned() -> None:
    """A share out of 100 among shares out of 10."""
    one = in_tubs(counts="share", unit="")
    seeds = [measure(one, plot.name, 5, of=10, day=TODAY, by="AR", now=NOW) for plot in one.plots[1:]]
    found = slip(one, 50, 100, one.plots[0].name, seeds, TODAY)
    assert found is not None
    assert "out of 10, this one is out of 100" in found.says
    assert slip(one, 5, 10, one.plots[0].name, seeds, TODAY) is None


def test_what_is_typed_is_read() -> None:
    """Decimal commas, shares, and yes or no; anything else says what would be right."""
    number, share = in_tubs(), in_tubs(counts="share", unit="")
    assert typed(number, "4,2", None) == (4.2, None)
    assert typed(share, "7/10", None) == typed(share, "7 of 10", None) == (7, 10)
    assert typed(share, "n", None) == (0, 1)
    before = measure(share, share.plots[0].name, 5, of=20, day=TODAY, by="AR", now=NOW)
    assert typed(share, "7", before) == (7, 20)
    for one, text in ((number, "4.2 g"), (number, "."), (share, "7"), (share, "7/"), (share, "-1/5"), (share, "٣/٥")):
        with pytest.raises(ValueError, match="Type"):
            typed(one, text, None)
    for text in ("1e5", "abc", "nan", "inf", "1_0", "--4", "4-"):
        with pytest.raises(ValueError, match="Type a number"):
            typed(number, text, None)
