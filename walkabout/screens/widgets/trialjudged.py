"""What a trial shows: reckoned apart from the screen, then said in lines."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from msgspec import Struct
from textual.content import Content

from walkabout.insight.trials.fits import Fit
from walkabout.insight.trials.say import number
from walkabout.jobs.trials import name_of
from walkabout.records.model_measured import Measurement, Trial
from walkabout.round.gain import gains
from walkabout.round.ratio_trials import counted, judged_ratio
from walkabout.round.trials import Sheet, days_of, growth, judged, sheet, why_not_yet
from walkabout.screens.text import plain
from walkabout.screens.widgets.reading import head, wrapped
from walkabout.screens.widgets.trialpicture import group_says, growth_says
from walkabout.screens.widgets.trialwords import capital

TESTS = {
    "welch": "Welch's test: spreads may differ",
    "pooled": "pooled t test: spreads are alike",
    "paired": "paired t test",
    "wilcoxon": "Wilcoxon signed ranks, for pairs",
    "mann-whitney": "Mann-Whitney: ranks only",
    "anova": "one-way analysis of variance, with Tukey's pairs",
    "kruskal": "Kruskal-Wallis: ranks only",
    "blocked": "two-way with blocks",
    "friedman": "Friedman: ranks within blocks",
    "permutation": "permutation: deals the values out anew",
    "fisher": "Fisher's exact test",
    "chi-squared": "chi-squared",
}
"""The tests by what they do, for whoever picks another one."""
CURVES = ("means", "line", "logistic", "richards", "saturation")
CURVE_WORDS = {
    "means": "the means",
    "line": "straight line",
    "logistic": "logistic growth curve",
    "richards": "Richards growth curve",
    "saturation": "curve that levels off",
}

NO_INTERVAL = (
    "No interval and no p stand here: they would take each point for a plot of its own. What the treatments do to the "
    "pace is judged above, under Gained a day."
)


class Shown(Struct, frozen=True):
    """What was reckoned: the facts of a result or why there is none; of growth the curves and what was gained."""

    facts: dict[str, Any] | None
    why_not: str = ""
    sheet: Sheet | None = None
    curves: dict[str, tuple[tuple[float, float], ...]] = {}
    curve_says: tuple[str, ...] = ()
    trays: dict[str, tuple[int, ...]] = {}
    """Of kinds counted against a ratio: the counts of each plot."""


def day_to_judge(trial: Trial, measured: Sequence[Measurement]) -> date:
    """Return the last day that can be judged, else the last; there must be a day.

    A day that has just begun would say that nothing can be told yet.
    """
    days = days_of(measured)
    for day in reversed(days):
        if trial.kinds:
            judges = any(sum(one) for one in counted(trial, measured, day).plots.values())
        else:
            judges = not why_not_yet(trial, sheet(trial, measured, day))
        if judges:
            return day
    return days[-1]


def reckoned(trial: Trial, measured: Sequence[Measurement], day: date, test: str | None) -> Shown:
    """Judge a day by a test, None for the one that fits the design. Slow."""
    if trial.kinds:
        try:
            facts = judged_ratio(trial, measured, day).facts()
        except ValueError as error:
            return Shown(None, str(error))
        return Shown(facts, trays=counted(trial, measured, day).plots)
    return _judged(trial, sheet(trial, measured, day), test)


def reckoned_growth(trial: Trial, measured: Sequence[Measurement], curve: str) -> Shown:
    """Judge what each plot gained a day, and lay curves through the growth. Slow."""
    curves, says = _fitted(trial, measured, curve)
    of = gains(trial, measured)
    if of is None:
        return Shown(None, "No plot was measured on two days yet.", None, curves, says)
    found = _judged(trial, of, None)
    return Shown(found.facts, found.why_not, of, curves, says)


def _judged(trial: Trial, of: Sheet, test: str | None) -> Shown:
    if why := why_not_yet(trial, of):
        return Shown(None, why, of)
    try:
        facts = judged(of, test).facts()
    except ValueError as error:
        return Shown(None, f"{error}.".replace("..", "."), of)
    for one in facts["outliers"]:
        if 1 <= one["line"] <= len(of.plots):
            where = f"(line {one['line']})"
            facts["notes"] = [note.replace(where, f"({of.plots[one['line'] - 1]})") for note in facts["notes"]]
    return Shown(facts, "", of)


def _fitted(
    trial: Trial, measured: Sequence[Measurement], curve: str
) -> tuple[dict[str, tuple[tuple[float, float], ...]], tuple[str, ...]]:
    """Return the fitted curve of each treatment as points, and its terms in words, or why it could not be fitted."""
    if curve == "means":
        return {}, ()
    from walkabout.insight.trials.fits import fit, fit_lines  # noqa: PLC0415 - only for growth

    curves, says = {}, []
    for name, pairs in growth(trial, measured).items():
        try:
            found = fit(curve, [day for day, _ in pairs], [value for _, value in pairs])
        except ValueError as error:
            says.append(f"{name}: {error}.")
            continue
        curves[name] = found.points
        says.append(f"{name}:")
        plots = len({one.plot for one in measured if not one.excluded} & {
            plot.name for plot in trial.plots if name_of(trial, plot.treatment) == name
        })  # fmt: skip
        if len(pairs) > plots:
            says += _terms(found, plots, trial.response)
        else:
            says += fit_lines(found, "days since the first measurement", trial.response)
        says += found.notes
    return curves, tuple(says)


def _terms(found: Fit, plots: int, response: str) -> list[str]:
    """Return the terms of a curve through plots that were measured again and again, without interval, t and p.

    These take every point for one of its own, which it is not: points of one plot go together.
    """
    times = f"{found.n} points of {plots} plot{'s' if plots != 1 else ''} measured again and again"
    return [
        f"{found.formula}, y = {response}, x = days since the first measurement, {times}",
        *(f"{one.name} = {number(one.value)}: {one.says}" for one in found.terms),
        NO_INTERVAL,
    ]


def growth_rows(
    trial: Trial, measured: Sequence[Measurement], shown: Shown, curve: str, unit: str, width: int
) -> list[Content]:
    """Return growth in words: what was gained a day and what that shows, the means by day, and what a curve says."""
    rows = head("Gained a day")
    rows += wrapped(shown.facts["words"], width) if shown.facts else wrapped(shown.why_not, width, "$watch")
    for one in (*(shown.sheet.notes if shown.sheet else ()), *(shown.facts["notes"] if shown.facts else ())):
        rows += wrapped(one, width, "$muted", hang=2)
    rows += head("By day")
    for name, pairs in growth(trial, measured).items():
        rows += wrapped(growth_says(name, pairs, unit), width)
    if shown.curve_says:
        rows += head(capital(CURVE_WORDS[curve]))
        for one in shown.curve_says:
            rows += wrapped(one, width, hang=2)
    if shown.curves:
        rows += wrapped("A curve that fits shows how it grew, not why.", width, "$muted")
    return rows


def result_rows(
    shown: Shown, facts: dict[str, Any], unfair: Sequence[str], unit: str, width: int, *, working: bool
) -> list[Content]:
    """Return what was found in words: the difference, what makes it doubtful, the treatments, notes, working."""
    rows = [plain(""), *wrapped(facts["words"], width)]
    notes = [*(shown.sheet.notes if shown.sheet else ()), *facts["notes"]]
    if unfair:
        rows += head("Before you believe it")
        for one in unfair:
            rows += wrapped(one, width, first=plain("▴ ", "$watch"), hang=2)
    rows += head("The kinds" if shown.trays else "The treatments")
    for group in facts["groups"]:
        rows += wrapped(group_says(group, unit), width, hang=2)
    if len(shown.trays) > 1:
        rows += head("Each by itself")
        for name, seen in shown.trays.items():
            rows += wrapped(f"{name}: {' : '.join(map(str, seen))}", width, hang=2)
    if notes:
        rows += head("To know")
        for one in notes:
            rows += wrapped(one, width, hang=2)
    if working:
        rows += head("Working")
        for one in facts["working"]:
            rows += wrapped(one, width, "$muted", hang=2)
    else:
        rows += [plain(""), plain("w shows the working.", "$muted")]
    return rows
