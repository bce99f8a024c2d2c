"""What plots gained a day, measured on several days: one number a plot, so that every plot counts once."""

from collections.abc import Sequence

import msgspec

from walkabout.records.model_measured import Measurement, Trial
from walkabout.round.trials import Sheet, days_of, on, sheet

ONCE = (
    "Each plot counts once, with the slope of the straight line through its own days: the same plot measured again is "
    "not a new plot."
)
"""Summary measures: Matthews, Altman, Campbell and Royston 1990, British Medical Journal 300:230-235."""


def gains(trial: Trial, measured: Sequence[Measurement]) -> Sheet | None:
    """Return the table of what each plot gained a day, in the trial's unit, or percentage points of a share.

    None where no plot was measured on two days. Values that are left out count for nothing.
    """
    days = days_of(measured)
    by_day = {day: on(measured, day) for day in days}
    made: list[Measurement] = []
    for plot in trial.plots:
        mine = [(day, one) for day in days if (one := by_day[day].get(plot.name)) and not one.excluded]
        if len(mine) < 2:
            continue
        x = [float((day - days[0]).days) for day, _ in mine]
        y = [100 * one.value / one.of if one.of else one.value for _, one in mine]
        value = _slope(x, y)
        made.append(msgspec.structs.replace(mine[-1][1], day=days[-1], value=value, of=None, replaces=""))
    if not made:
        return None
    unit = "%" if trial.counts == "share" else trial.unit
    what = f"{trial.response} gained a day"
    found = sheet(msgspec.structs.replace(trial, counts="number", unit=unit, response=what), made, days[-1])
    notes = [ONCE]
    if less := len(trial.plots) - len(made):
        notes.append(f"{less} of {len(trial.plots)} plots were not measured on two days.")
    return msgspec.structs.replace(found, notes=tuple(notes))


def _slope(x: Sequence[float], y: Sequence[float]) -> float:
    middle, high = sum(x) / len(x), sum(y) / len(y)
    along = sum((one - middle) ** 2 for one in x)
    return sum((one - middle) * (other - high) for one, other in zip(x, y, strict=True)) / along
