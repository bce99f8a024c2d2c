"""What stands on the list of a trial's plots, before anything is drawn."""

from msgspec import Struct

from walkabout.jobs.trials import in_order, is_blind
from walkabout.paper.labels import ASK_FIRST
from walkabout.records.model_measured import Trial
from walkabout.round.opened import OpenRoom
from walkabout.round.ratio_trials import kinds_say

OFFERED = 5
"""So many trials are named where somebody has to choose one."""
DRAWN = "Drawn at random from the number {seed}; the same number draws the same again."
NOT_DRAWN = "Nothing was drawn: each place had its treatment already."
COUNTED = {"number": "", "count": "how many", "share": "… of …"}


class PlotRow(Struct, frozen=True):
    """A plot as it stands in the list: its number from 1, its name, where it is, its block and its treatment."""

    number: int
    name: str
    where: str
    block: str
    treatment: str
    code: str
    """Its treatment's code in a blind trial, else ''."""


class PlotList(Struct, frozen=True):
    """A trial as it is printed."""

    key: str
    question: str
    treatments: tuple[tuple[str, str], ...]
    """Each treatment with its code, '' where the names are open; the control comes last."""
    control: str
    response: str
    how: str
    drawn: str
    """How the treatments came to their plots; where kinds are counted, which and against what ratio."""
    rows: tuple[PlotRow, ...]
    column: str
    """What is written into a column: the unit, or what is counted."""
    kinds: tuple[str, ...]
    """The kinds that are counted against a ratio, each in a column of its own; empty where treatments are compared."""
    cautions: tuple[str, ...]
    blind: bool


def find_trial(opened: OpenRoom, typed: str) -> Trial:
    """Return a trial by its key, or by its number in the list of trials: the open ones first, the newest first.

    Where nothing was typed and there is one trial, that. ValueError, in one sentence, says what there is.
    """
    trials = in_order(opened.records.trials())
    if not trials:
        raise ValueError("There is no trial in this room yet.")
    typed = typed.strip()
    if not typed and len(trials) == 1:
        return trials[0]
    if typed.isascii() and typed.isdigit() and 1 <= int(typed) <= len(trials):
        return trials[int(typed) - 1]
    found = next((one for one in trials if typed and one.key == typed), None)
    if found is None:
        named = "; ".join(f"{number} {one.question}" for number, one in enumerate(trials[:OFFERED], 1))
        more = f"; and {len(trials) - OFFERED} more" if len(trials) > OFFERED else ""
        wrong = f'There is no trial "{typed}". ' if typed else ""
        raise ValueError(f"{wrong}Say which trial, by its number: {named}{more}")
    return found


def list_of(opened: OpenRoom, trial: Trial) -> PlotList:
    """Return what stands on the list of a trial."""
    blind = is_blind(trial)
    codes = dict(zip(trial.treatments, trial.codes, strict=False)) if blind else {}
    rows = [
        PlotRow(
            number, one.name, opened.name_of(one.station) if one.station else "", one.block, one.treatment,
            codes.get(one.treatment, ""),
        )
        for number, one in enumerate(trial.plots, 1)
    ]  # fmt: skip
    treatments = sorted(trial.treatments, key=lambda one: one == trial.control)
    unit = f", in {trial.unit}" if trial.unit else ""
    sown = f" {trial.sown_each} seeds are sown in each plot." if trial.sown_each else ""
    return PlotList(
        key=trial.key,
        question=trial.question,
        treatments=tuple((one, codes.get(one, "")) for one in treatments),
        control=trial.control,
        response=f"{trial.response}{unit}",
        how=f"{trial.how}{sown}".strip(),
        drawn=f"Counted: {kinds_say(trial)}."
        if trial.kinds
        else DRAWN.format(seed=trial.seed)
        if trial.seed
        else NOT_DRAWN,
        rows=tuple(rows),
        column=COUNTED[trial.counts] or trial.unit,
        kinds=tuple(one.name for one in trial.kinds),
        cautions=_cautions(opened, trial),
        blind=blind,
    )


def _cautions(opened: OpenRoom, trial: Trial) -> tuple[str, ...]:
    """Return what the crops on the plots need, each once: before tasting, and what their sap or spines do."""
    crops = {}
    for plot in trial.plots:
        planting = opened.plantings.get(plot.planting)
        crop = opened.crops.find(planting.crop) if planting is not None else None
        if crop is not None:
            crops[crop.name] = crop
    found = [f"{name[:1].upper()}{name[1:]}: {one.caution}" for name, one in crops.items() if one.caution]
    return (*((ASK_FIRST,) if any(one.eaten for one in crops.values()) else ()), *found)
