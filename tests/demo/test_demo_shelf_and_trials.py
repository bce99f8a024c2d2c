"""What the demo's class keeps on the shelf, measures and compares."""

from datetime import timedelta
from itertools import pairwise

from walkabout.demo.trials import COMPARED, COUNTED, COUNTED_KEY, EACH, KINDS, SOWN_EACH, TO_COUNT, TRAYS
from walkabout.insight.supplies import to_buy
from walkabout.round.almanac import basis_of
from walkabout.round.ratio_trials import counted, judged_ratio, needed
from walkabout.round.term import shelf_of
from walkabout.round.trials import unfair_says


def test_some_stations_have_a_known_daily_light(opened):
    """Shelf, rafts and trays were measured with the lux meter; each has what suits its crops, more or less."""
    light = {key: one.light for key, one in basis_of(opened).conditions.items() if one.light is not None}
    assert {"shelf", "raft"} <= set(light)
    assert all(3 < one < 30 for one in light.values())


def test_two_lamps_hang_since_a_known_day(made, opened):
    """From it their life is counted."""
    since = {key: one.since for key, one in opened.room.lamps.items() if one.since is not None}
    assert set(since) == {"shelf-tubes", "arch"}
    assert all(one < made.today - timedelta(days=365) for one in since.values())


def test_one_supply_runs_out_soon(opened):
    """Salts, test liquid, seed and tubes are kept and counted; exactly one has to be ordered soon."""
    stocks = {one.supply.key: one for one in shelf_of(opened)}
    assert set(stocks) == {"su-salts-a", "su-salts-b", "su-ph-7", "su-lettuce", "su-tubes"}
    assert all(one.weekly is not None for one in stocks.values())
    (pressing,) = to_buy(tuple(stocks.values()))
    assert pressing.supply.key == "su-ph-7"
    for one in stocks.values():
        days = [each.day for each in one.supply.counts]
        assert all(before < after for before, after in pairwise(days))
        assert one.supply.amount == one.supply.counts[-1].amount


def test_one_trial_is_over_and_one_under_way(made, opened):
    """Two groups of six seedlings each, drawn by lot; the one that is over was measured, and says what came out."""
    trials = {one.key: one for one in opened.records.trials() if not one.kinds}
    assert set(trials) == {one.key for one in COMPARED}
    for trial in trials.values():
        assert [sum(plot.treatment == one for plot in trial.plots) for one in trial.treatments] == [EACH, EACH]
        assert {opened.plantings[plot.planting].label for plot in trial.plots} == {trial.plots[0].name.split()[0]}
    over, running = trials["tr-shade"], trials["tr-brush"]
    drawn = [[trial.treatments.index(plot.treatment) for plot in trial.plots] for trial in (over, running)]
    assert over.seed != running.seed
    assert drawn[0] != drawn[1]
    assert over.closed is not None
    assert "taller" in over.reason
    assert running.closed is None
    for trial, times in ((over, 2), (running, 1)):
        measured = opened.records.measurements(trial.key)
        assert len(measured) == times * 2 * EACH
        assert all(trial.made.date() <= one.day < made.today for one in measured)
        assert unfair_says(opened, trial) == ()


def test_the_shaded_seedlings_were_taller(opened):
    """What the trial says is what was measured: every mean of the last day lies as the reason tells."""
    trial = next(one for one in opened.records.trials() if one.key == "tr-shade")
    measured = opened.records.measurements(trial.key)
    last = max(one.day for one in measured)
    group = {plot.name: plot.treatment for plot in trial.plots}
    heights = {
        name: [one.value for one in measured if one.day == last and group[one.plot] == name]
        for name in trial.treatments
    }
    means = {name: sum(each) / len(each) for name, each in heights.items()}
    assert means["shaded"] > 1.2 * means["full light"]


def test_kinds_are_counted_against_a_ratio(made, opened):
    """Three trays, counted twice: more come up, none goes away; the counts go with 3:1 and not with 1:1."""
    (trial,) = [one for one in opened.records.trials() if one.kinds]
    assert (trial.key, trial.closed, len(trial.plots)) == (COUNTED_KEY, None, TRAYS)
    measured = opened.records.measurements(trial.key)
    first, last = sorted({one.day for one in measured})
    assert trial.made.date() < first < last < made.today
    assert len(measured) == len(COUNTED) * len(KINDS) * TRAYS
    before, now = counted(trial, measured, first).plots, counted(trial, measured, last).plots
    for tray, seen in now.items():
        assert all(one <= later for one, later in zip(before[tray], seen, strict=True))
        assert sum(before[tray]) < sum(seen) <= SOWN_EACH
    result = judged_ratio(trial, measured, last)
    assert "The counts go with 3:1" in result.words
    assert any("Against 1:1" in note and "do not go well" in note for note in result.notes)


def test_how_many_to_count_is_as_the_program_reckons():
    """The number written down with the trial is the one that it would have shown."""
    assert needed(KINDS) == TO_COUNT
