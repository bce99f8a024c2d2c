"""A trial in words: its page, step by step, and one line of it for the list."""

from collections.abc import Sequence

from textual.content import Content

from walkabout.jobs.trials import is_blind, name_of, standing
from walkabout.records.model import Measurement, Trial
from walkabout.round.trial_plan import UNDER_TEST
from walkabout.round.trials import days_of, on
from walkabout.screens.text import plain
from walkabout.screens.widgets.reading import head, wrapped
from walkabout.screens.widgets.stagewords import day_long

COUNTS = {"number": "a number", "count": "a count", "share": "so many out of so many"}


def progress(trial: Trial, measured: Sequence[Measurement]) -> str:
    """Say how far a trial is, in a few words."""
    if trial.closed is not None:
        return f"closed {trial.closed.day} {trial.closed:%b}"
    days = days_of(measured)
    if not days:
        return "not measured yet"
    last = on(measured, days[-1])
    often = f"{len(days)} days" if len(days) > 1 else "1 day"
    return f"measured on {often}; last {days[-1].day} {days[-1]:%b}, {len(last)} of {len(trial.plots)} plots"


def versus(trial: Trial) -> str:
    """Say what is compared with what."""
    others = [one for one in trial.treatments if one != trial.control]
    return f"{', '.join(others)} against {trial.control}"


def page(
    trial: Trial, measured: Sequence[Measurement], unfair: Sequence[str], power: Sequence[str], width: int
) -> list[Content]:
    """Return the page of a trial in lines of `width` cells."""
    unit = f", in {trial.unit}" if trial.unit else ""
    rows = wrapped(trial.question, width, "bold")
    rows += wrapped(progress(trial, measured), width, "$muted")
    if trial.reason:
        rows += wrapped(f"Closed: {trial.reason}", width)
    rows += head("What is changed, and the control")
    what = dict(UNDER_TEST).get(trial.under_test, "")
    rows += wrapped(f"{versus(trial)}. Changed is {what}; all else stays alike." if what else versus(trial), width)
    rows += head("What is measured")
    rows += wrapped(f"{trial.response}: {COUNTS[trial.counts]}{unit}.", width)
    rows += wrapped(trial.how, width) if trial.how else []
    rows += head("Is it fair?")
    if unfair:
        for says in unfair:
            rows += wrapped(says, width, first=plain("▴ ", "$watch"), hang=2)
    else:
        rows += wrapped("As far as the room knows, the treatments differ in nothing else.", width)
    rows += head("How many plots")
    for says in power:
        rows += wrapped(says, width)
    rows += head("Hidden names")
    rows += wrapped(_blind(trial), width)
    rows += head("The plots")
    rows += _plots(trial, width)
    if left := [one for one in standing(measured) if one.excluded]:
        rows += head("Left out, with the reason")
        for one in left:
            rows += wrapped(f"{one.plot}, {day_long(one.day)}: {one.value:g} {trial.unit}. {one.excluded}", width)
    rows += head("What happened")
    for happened in trial.history:
        rows += wrapped(f"{happened.at.day} {happened.at:%b}, {happened.by}: {happened.says}", width, hang=2)
    return rows


def _blind(trial: Trial) -> str:
    if not trial.blind:
        return (
            "Who measures sees the treatments. Where that can be helped, hide them: one marks the plots, another "
            "measures them."
        )
    if is_blind(trial):
        return (
            "Treatments go by codes until somebody opens the names, which is written down. Let those measure who do "
            "not know which code is which, and hide this page from them: the plots show the treatment on the spot."
        )
    when = f" on {trial.opened.day} {trial.opened:%b}" if trial.opened else ""
    return f"The names were hidden until they were opened{when}."


def _plots(trial: Trial, width: int) -> list[Content]:
    drawn = (
        f"Drawn at random from the number {trial.seed}; the same number draws the same again."
        if trial.seed
        else "Nothing was drawn: each place had its treatment already. What the place does cannot be told from it."
    )
    rows = wrapped(drawn, width)
    wide = min(max((Content(one.name).cell_length for one in trial.plots), default=4), 34)
    for one in trial.plots:
        name = Content(one.name).truncate(wide, ellipsis=True).pad_right(max(wide - Content(one.name).cell_length, 0))
        rest = name_of(trial, one.treatment)
        rows.append(Content("").join([plain("  "), name, plain(f"  {rest}", "$muted")]).truncate(width, ellipsis=True))
    return rows


def plot_lines(trial: Trial) -> list[str]:
    """Return the list of plots as plain text, to print or copy."""
    return [f"{one.name}: {name_of(trial, one.treatment)}" for one in trial.plots]
