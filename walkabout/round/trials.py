"""A trial with what the room knows of it: its plots' conditions, its table by day, what it shows, its growth."""

from collections.abc import Sequence
from datetime import date

from msgspec import Struct

from walkabout.insight.trials.fair import Plot as Conditions
from walkabout.insight.trials.fair import unfair
from walkabout.insight.trials.report import Result
from walkabout.insight.trials.result import analyse
from walkabout.insight.trials.table import Row, Table
from walkabout.jobs.trials import name_of, standing
from walkabout.records.model_measured import Measurement, Plot, Trial
from walkabout.round.here import stand_at
from walkabout.round.opened import OpenRoom
from walkabout.round.ratio_trials import unfair_ratio

WHAT = {
    "lamp": "the kind of lamp",
    "hours": "the light's length of day",
    "gap_cm": "the distance of the lamp",
    "watts": "the power of the lamp",
    "tank": "the solution",
    "variety": "the variety",
    "crop": "the crop",
    "sown": "the day of sowing",
    "station": "the place",
}
"""What a trial may compare, as it stands in a sentence."""
OF_A_PLACE = {
    "lamp": "kind of lamp",
    "hours": "length of day",
    "gap_cm": "distance of the lamp",
    "tank": "solution",
}
"""What a place has once, for all that stands there."""


class Sheet(Struct, frozen=True):
    """A trial's measurements of one day as a table of text; `plots` names the plot of each row."""

    names: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    plots: tuple[str, ...]
    response: str
    block: str | None
    pair: str | None
    notes: tuple[str, ...]
    lot: bool = False
    """The treatments were drawn by lot when the trial was set up."""


def unfair_says(opened: OpenRoom, trial: Trial) -> tuple[str, ...]:
    """Return a sentence for each thing in the room that differs between the treatments besides the treatment.

    Of a trial that counts kinds: what would make its counts unfair.
    """
    if trial.kinds:
        return tuple(unfair_ratio(opened, trial))
    met = [_conditions(opened, trial, plot) for plot in trial.plots]
    return (*unfair(met, trial.under_test), *_untold(met, trial.under_test), *_troubled(opened, trial))


def _untold(met: Sequence[Conditions], under_test: str) -> list[str]:
    """Say where the room knows of no difference in what is meant to differ."""
    if not under_test:
        return []
    sets: dict[str, set[object]] = {}
    for one in met:
        sets.setdefault(one.treatment, set()).add(getattr(one, under_test))
    if len({frozenset(one) for one in sets.values()}) > 1:
        return []
    what = WHAT[under_test]
    if under_test in OF_A_PLACE and (shared := _shared(met, under_test)):
        once = f"As far as the room knows, {shared} has one {OF_A_PLACE[under_test]} for all plots there"
        mend = "Give each place one treatment, or write down what differs there, if it does."
        return [f"{once}: {what} cannot differ between them. {mend}"]
    return [f"As far as the room knows, {what} is the same in all treatments: write down where it differs, if it does."]


def _shared(met: Sequence[Conditions], under_test: str) -> str:
    """Return where several treatments stand side by side and `under_test` is known; '' for nowhere.

    Where several kinds of lamp hang nothing is said: plots may stand below one or the other.
    """
    of: dict[str, set[str]] = {}
    for one in met:
        if one.station and getattr(one, under_test) not in ("", None) and " and " not in one.lamp:
            of.setdefault(one.station, set()).add(one.treatment)
    shared = [station for station, treatments in of.items() if len(treatments) > 1]
    return f"each of {', '.join(shared)}" if len(shared) > 1 else "".join(shared)


def _conditions(opened: OpenRoom, trial: Trial, plot: Plot) -> Conditions:
    station = opened.room.station(plot.station)
    lamps = [opened.room.lamps[key] for key in station.lamps if key in opened.room.lamps] if station else []
    gaps = [one.gap_cm for one in lamps if one.gap_cm is not None]
    planting = opened.plantings.get(plot.planting)
    if planting is None and station is not None:
        here = stand_at(opened.room, station, list(opened.plantings.values()), opened.crops).plantings
        planting = here[0] if len(here) == 1 else None
    return Conditions(
        name=plot.name,
        treatment=name_of(trial, plot.treatment),
        station=opened.name_of(plot.station) if plot.station else "",
        lamp=" and ".join(sorted({one.kind for one in lamps})),
        gap_cm=sum(gaps) / len(gaps) if gaps else None,
        hours=max(one.hours for one in lamps) if lamps else None,
        watts=sum(one.watts for one in lamps) or None,
        tank=station.tank if station else "",
        crop=planting.crop.replace("-", " ") if planting else "",
        variety=planting.variety if planting else "",
        sown=planting.sown if planting else None,
    )


def _troubled(opened: OpenRoom, trial: Trial) -> list[str]:
    """Say where something is wrong with the plants of some treatments only."""
    ill = {one.station for one in opened.findings.values() if one.closed is None}
    of: dict[str, set[str]] = {}
    for plot in trial.plots:
        of.setdefault(name_of(trial, plot.treatment), set()).add(plot.station)
    touched = {name for name, stations in of.items() if stations & ill}
    if not touched or touched == set(of):
        return []
    where = sorted({opened.name_of(key) for name in touched for key in of[name] & ill})
    return [f"A finding is open at {', '.join(where)}, where not every treatment stands: it may make the difference."]


def days_of(measured: Sequence[Measurement]) -> list[date]:
    """Return the days on which something was measured, the oldest first."""
    return sorted({one.day for one in standing(measured)})


def on(measured: Sequence[Measurement], day: date) -> dict[str, Measurement]:
    """Return what stands for each plot on a day: the last that was measured."""
    found = sorted((one for one in standing(measured) if one.day == day), key=lambda one: one.at.timestamp())
    return {one.plot: one for one in found}


def sheet(trial: Trial, measured: Sequence[Measurement], day: date) -> Sheet:
    """Return the table of one day: plot, block, treatment, response; what is left out or missing has no row.

    The control comes last, so that what a treatment gains stands above 0.
    A share is one row a seed or plant where each plot is one, or a treatment has one plot only; else it is the
    share of each plot in per cent, for plots are what was treated.
    """
    found = on(measured, day)
    kept = {name: one for name, one in found.items() if not one.excluded}
    plots = sorted((one for one in trial.plots if one.name in kept), key=lambda one: one.treatment == trial.control)
    notes = _notes(trial, found, len(plots))
    blocks, pairs = _blocks(trial, plots)
    rows: list[tuple[str, ...]] = []
    names: list[str] = []
    unit = trial.unit
    each = trial.counts == "share" and _each_counts(plots, kept)
    for plot in plots:
        one, treatment = kept[plot.name], name_of(trial, plot.treatment)
        if each:
            yes = int(one.value)
            rows += [(plot.name, plot.block, treatment, "yes")] * yes
            rows += [(plot.name, plot.block, treatment, "no")] * ((one.of or yes) - yes)
            names += [plot.name] * (one.of or yes)
            continue
        value = 100 * one.value / one.of if trial.counts == "share" and one.of else one.value
        rows.append((plot.name, plot.block, treatment, f"{value:.12g}"))
        names.append(plot.name)
    if each and any((kept[one.name].of or 1) > 1 for one in plots):
        notes.append(
            "Each seed or plant is counted by itself, although those of a plot share its place: the difference may "
            "look surer than it is. More plots a treatment would mend that."
        )
    if trial.counts == "share" and not each and plots:
        notes.append("Each plot is one share in per cent, however many were in it: plots were treated, not seeds.")
    response = trial.response.replace("(", " ").replace(")", " ").strip()
    unit = "%" if trial.counts == "share" and not each else "" if each else unit
    if unit and len(unit) <= 12 and not set("()[]") & set(unit):
        response = f"{response} ({unit})"
    if response.casefold() in ("plot", "block", "treatment"):
        response = f"{response} measured"
    block = "block" if blocks and not each else None
    return Sheet(
        names=("plot", "block", "treatment", response),
        rows=tuple(rows),
        plots=tuple(names),
        response=response,
        block=None if pairs else block,
        pair="block" if pairs and not each else None,
        notes=tuple(notes),
        lot=trial.seed != 0,
    )


def judged(of: Sheet, test: str | None = None) -> Result:
    """Return what a sheet shows; BadTrial, a ValueError in one line, where it cannot be compared yet.

    Slow: it loads scipy. The line of an outlier is its row in the sheet, from 1.
    """
    table = Table("The trial", of.names, tuple(Row(line, row) for line, row in enumerate(of.rows, 1)))
    return analyse(table, of.response, by="treatment", pair=of.pair, block=of.block, test=test, lot=of.lot)


def why_not_yet(trial: Trial, of: Sheet) -> str:
    """Say why a sheet cannot be compared yet; '' where it can, or where only the test can tell."""
    many = {name_of(trial, one): 0 for one in trial.treatments}
    for row in of.rows:
        many[row[2]] += 1
    if not of.rows:
        return "Nothing counts here: every value is left out."
    if none := [name for name, n in many.items() if not n]:
        one = len(none) == 1
        return f"{' and '.join(none)} {'is' if one else 'are'} not measured here yet: there is nothing to compare with."
    if max(many.values()) == 1:
        return "One plot of each treatment is measured: nobody can tell the treatment from the plot. It takes several."
    if alone := [name for name, n in many.items() if n == 1 and of.pair is None and of.block is None]:
        return f"Only one plot of {' and '.join(alone)} is measured: one shows no spread. It takes 2, better 6 or more."
    if len({row[3] for row in of.rows}) == 1:
        same = of.rows[0][3]
        return f"Every value is {same}: no difference is seen, and without any spread no test can say how sure that is."
    return ""


def left_out(trial: Trial, measured: Sequence[Measurement], day: date) -> dict[str, list[float]]:
    """Return the values of a day that are left out of the reckoning, by treatment as it is called now; shares in %."""
    treatment = {one.name: one.treatment for one in trial.plots}
    found: dict[str, list[float]] = {}
    for name, one in on(measured, day).items():
        if one.excluded and name in treatment:
            value = 100 * one.value / one.of if one.of else one.value
            found.setdefault(name_of(trial, treatment[name]), []).append(value)
    return found


def growth(trial: Trial, measured: Sequence[Measurement]) -> dict[str, list[tuple[float, float]]]:
    """Return (days since the first measurement, value) of every plot, by treatment as it is called now."""
    days = days_of(measured)
    found: dict[str, list[tuple[float, float]]] = {}
    of = {plot.name: plot.treatment for plot in trial.plots}
    for day in days:
        for name, one in on(measured, day).items():
            if name in of and not one.excluded:
                value = 100 * one.value / one.of if one.of else one.value
                found.setdefault(name_of(trial, of[name]), []).append((float((day - days[0]).days), value))
    return found


def _notes(trial: Trial, found: dict[str, Measurement], kept: int) -> list[str]:
    notes = []
    if left := [one for one in found.values() if one.excluded]:
        each = "; ".join(f"{one.plot} ({one.value:g}): {one.excluded}" for one in left)
        notes.append(f"Left out with a reason: {each}.")
    if missing := len(trial.plots) - kept - len(left):
        lacking = f"{missing} of {len(trial.plots)} plots {'was' if missing == 1 else 'were'} not measured on this day."
        notes.append(f"{lacking} If plants died there, that is a result too: count the dead of each treatment.")
    return notes


def _blocks(trial: Trial, plots: Sequence[Plot]) -> tuple[bool, bool]:
    """Return whether the plots stand in blocks, and whether each block is a pair."""
    blocks: dict[str, list[str]] = {}
    for plot in plots:
        blocks.setdefault(plot.block, []).append(plot.treatment)
    if "" in blocks or len(blocks) < 2:
        return False, False
    pairs = len(trial.treatments) == 2 and all(len(one) == len(set(one)) for one in blocks.values())
    return any(len(set(one)) > 1 for one in blocks.values()), pairs


def _each_counts(plots: Sequence[Plot], kept: dict[str, Measurement]) -> bool:
    if all(kept[one.name].of == 1 for one in plots):
        return True
    many: dict[str, int] = {}
    for plot in plots:
        many[plot.treatment] = many.get(plot.treatment, 0) + 1
    return min(many.values(), default=0) < 2
