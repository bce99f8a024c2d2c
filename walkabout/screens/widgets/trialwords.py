"""A trial in words: its page, step by step, and one line of it for the list."""

from collections.abc import Sequence

from textual.content import Content

from walkabout.jobs.trials import is_blind, name_of, standing
from walkabout.records.model_measured import Measurement, Trial
from walkabout.round.ratio_trials import kinds_say
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
    done = "counted" if trial.kinds else "measured"
    of = f"{len(last)} of {len(trial.plots)} {plots_say(trial)}"
    return f"{done} on {often}; last {days[-1].day} {days[-1]:%b}, {of}"


def plots_say(trial: Trial) -> str:
    """Return what the plots of a trial are called: a count of kinds has trays, for nothing is done to them."""
    return f"{trial.plots[0].kind}s" if trial.kinds else "plots"


def capital(text: str) -> str:
    """Return a sentence with a capital at its beginning."""
    return text[:1].upper() + text[1:]


def versus(trial: Trial) -> str:
    """Say what is compared with what."""
    if trial.kinds:
        return kinds_say(trial)
    others = [one for one in trial.treatments if one != trial.control]
    return f"{', '.join(others)} against {trial.control}"


def page(
    trial: Trial, measured: Sequence[Measurement], unfair: Sequence[str], power: Sequence[str], width: int
) -> list[Content]:
    """Return the page of a trial in lines of `width` cells."""
    rows = wrapped(trial.question, width, "bold")
    rows += wrapped(capital(f"{progress(trial, measured)}."), width, "$muted")
    if trial.reason:
        rows += wrapped(f"Closed: {trial.reason}", width)
    rows += _counted(trial, width) if trial.kinds else _compared(trial, width)
    rows += head("Is it fair?")
    if unfair:
        for says in unfair:
            rows += wrapped(says, width, first=plain("▴ ", "$watch"), hang=2)
    else:
        rows += wrapped("As far as the room knows, the treatments differ in nothing else.", width)
    rows += head("How many to count" if trial.kinds else "How many plots")
    for says in power:
        rows += wrapped(says, width)
    if not trial.kinds:
        rows += head("Hidden names")
        rows += wrapped(_blind(trial), width)
    rows += head("The plots")
    rows += _plots(trial, width)
    if left := [one for one in standing(measured) if one.excluded]:
        rows += head("Left out, with the reason")
        for one in left:
            place = f"{one.plot}, {one.kind}" if one.kind else one.plot
            unit = f" {trial.unit}" if trial.unit else ""
            rows += wrapped(f"{place}, {day_long(one.day)}: {one.value:g}{unit}. {one.excluded}", width)
    rows += head("What happened")
    for happened in trial.history:
        rows += wrapped(f"{happened.at.day} {happened.at:%b}, {happened.by}: {happened.says}", width, hang=2)
    return rows


def _compared(trial: Trial, width: int) -> list[Content]:
    unit = f", in {trial.unit}" if trial.unit else ""
    rows = head("What is changed, and the control")
    what = dict(UNDER_TEST).get(trial.under_test, "") if trial.under_test else "something that is done to the plants"
    differs = f" They differ in {what}; all else stays alike." if what else ""
    rows += wrapped(f"{capital(versus(trial))}, the control.{differs}", width)
    rows += head("What is measured")
    rows += wrapped(f"{capital(trial.response)}: {COUNTS[trial.counts]}{unit}.", width)
    return [*rows, *(wrapped(trial.how, width) if trial.how else [])]


def _counted(trial: Trial, width: int) -> list[Content]:
    rows = head("What is counted, and the ratio")
    rows += wrapped(f"{capital(versus(trial))}. Nothing is changed, so there is no treatment and no control.", width)
    if trial.sown_each:
        many = trial.sown_each * len(trial.plots)
        rows += wrapped(f"{trial.sown_each} seeds sown in each, {many} in all.", width)
    return [*rows, *(wrapped(f"Told apart: {trial.how}", width) if trial.how else [])]


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
    if trial.kinds:
        return [plain(f"  {one.name}").truncate(width, ellipsis=True) for one in trial.plots]
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
