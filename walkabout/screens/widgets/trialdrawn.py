"""What is drawn of a trial: a day with every plot, kinds against their ratio, or growth by day, with its legend."""

from collections.abc import Sequence
from datetime import date

from textual.content import Content
from textual.geometry import Size

from walkabout.jobs.trials import ratio_of
from walkabout.records.model_measured import Measurement, Trial
from walkabout.round.trials import growth, left_out
from walkabout.screens.widgets.plot import Picture
from walkabout.screens.widgets.trialjudged import CURVE_WORDS, Shown
from walkabout.screens.widgets.trialpicture import growth as growing
from walkabout.screens.widgets.trialpicture import growth_legend, legend, points, ratio_legend, shares


def growth_drawn(
    trial: Trial, measured: Sequence[Measurement], shown: Shown, curve: str, unit: str
) -> tuple[Picture, Content]:
    """Return growth by day with its curves."""
    series = growth(trial, measured)
    line = CURVE_WORDS[curve if shown.curves else "means"]
    if 0 < len(shown.curves) < len(series):
        line += ", or the means"
    return growing(series, shown.curves, unit), growth_legend(list(series), line)


def day_drawn(
    trial: Trial, measured: Sequence[Measurement], shown: Shown, day: date, unit: str, size: Size
) -> tuple[Picture, Content]:
    """Return every plot of a day beside the means, or the shares of kinds beside their ratio. It must be reckoned."""
    assert shown.facts is not None
    groups = shown.facts["groups"]
    if trial.kinds:
        whole = sum(one.part for one in trial.kinds)
        picture = shares(groups, shown.trays, [one.part / whole for one in trial.kinds], size)
        return picture, ratio_legend(trial.plots[0].kind, ratio_of(trial), several=len(shown.trays) > 1)
    assert shown.sheet is not None
    values: dict[str, list[float]] = {}
    for row in shown.sheet.rows:
        if row[3] not in ("yes", "no"):
            values.setdefault(row[2], []).append(float(row[3]))
    far: dict[str, list[float]] = {}
    for one in shown.facts["outliers"]:
        far.setdefault(one["group"], []).append(one["value"])
    out = left_out(trial, measured, day)
    return points(groups, values, out, far, unit, size), legend(far=bool(far), out=bool(out))
