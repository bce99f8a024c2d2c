"""What a trial and a measurement must be: each rule a ValueError with one sentence that says what would be right."""

import math
from collections.abc import Sequence
from typing import get_args

from walkabout.records.model_measured import Counts, PlotKind, Trial

LONGEST = 120
"""The longest question, in characters."""
SHORT = 40
"""The longest name of a treatment, plot, response or unit, in characters."""
MOST_TREATMENTS, MOST_PLOTS = 8, 200
"""More than these in one trial is a slip of the hand, and nobody could measure it. Assumed."""
NO_NAMES = frozenset(("na", "n/a", "nan"))
"""In a table these mean that nothing was written."""
MOST_KINDS, LARGEST_PART, MOST_SOWN = 5, 100, 10_000
"""Kinds that one eye tells apart, the largest part of a ratio, and seeds in one plot. Assumed."""
LARGEST = 1e9
"""A measurement beyond this is a slip of the hand. Assumed."""


def must_be_measured(trial: Trial, value: float, of: int | None, kind: str = "") -> None:
    """Raise ValueError for what cannot be measured in a trial; `of` and `kind` as of a measurement."""
    if kind not in ({one.name for one in trial.kinds} or {""}):
        raise ValueError("This trial counts no such kind.")
    if not (math.isfinite(value) and abs(value) <= LARGEST):
        raise ValueError("Type a number, such as 4.2.")
    if trial.counts == "number":
        if of is not None:
            raise ValueError("This trial measures a number, not a share.")
        return
    if value < 0 or value != int(value):
        raise ValueError("What is counted is a whole number from 0 on.")
    if trial.counts == "count" and of is not None:
        raise ValueError("This trial counts things: type how many.")
    if trial.counts == "share":
        if of is None or of < 1:
            raise ValueError("Type how many out of how many, such as 7/10.")
        if value > of:
            raise ValueError(f"{value:g} out of {of} cannot be.")


def must_be_open(trial: Trial) -> None:
    """Raise ValueError where a trial is closed."""
    if trial.closed is not None:
        raise ValueError("This trial is closed.")


def must_be(trial: Trial) -> None:
    """Raise ValueError for what cannot be a trial."""
    if not trial.question:
        raise ValueError("Write the question that the trial answers.")
    if len(trial.question) > LONGEST:
        raise ValueError(f"Write the question in at most {LONGEST} characters.")
    if trial.kinds:
        _kinds(trial)
    else:
        _treatments(trial.treatments, trial.control)
    if not trial.response:
        raise ValueError("Say what is measured.")
    for text in (trial.response, trial.unit):
        if len(text) > SHORT:
            raise ValueError(f"Name what is measured and its unit in at most {SHORT} characters each.")
    if trial.counts not in get_args(Counts):
        raise ValueError(f"What is measured is one of: {', '.join(get_args(Counts))}.")
    names = [one.name for one in trial.plots]
    if len(names) > MOST_PLOTS:
        raise ValueError(f"A trial has at most {MOST_PLOTS} plots.")
    if len(set(names)) < len(names) or not all(names):
        raise ValueError("Each plot needs a name of its own.")
    if any(one.kind not in get_args(PlotKind) for one in trial.plots):
        raise ValueError(f"A plot is one of: {', '.join(get_args(PlotKind))}.")
    if not trial.plots:
        raise ValueError("A trial needs at least one plot.")
    if {one.treatment for one in trial.plots} != (set(trial.treatments) or {""}):
        raise ValueError("Each treatment needs at least one plot, and each plot one of the treatments.")
    for says, value in (("difference worth finding", trial.worth), ("spread", trial.spread)):
        if value is not None and not (math.isfinite(value) and 0 < value <= 1000):
            raise ValueError(f"The {says} is more than 0 % and at most 1000 %.")


def _treatments(treatments: Sequence[str], control: str) -> None:
    if len(treatments) < 2:
        raise ValueError("A trial compares at least 2 treatments; one of them is the control.")
    if len(treatments) > MOST_TREATMENTS:
        raise ValueError(f"A trial compares at most {MOST_TREATMENTS} treatments.")
    if not all(treatments) or len({one.casefold() for one in treatments}) < len(treatments):
        raise ValueError("Each treatment needs a name of its own.")
    if any(one.casefold() in NO_NAMES for one in treatments):
        raise ValueError("A treatment cannot be called NA: in a table that means that nothing was written.")
    if any(len(one) > SHORT for one in treatments):
        raise ValueError(f"Name each treatment in at most {SHORT} characters.")
    if control not in treatments:
        raise ValueError("The control is one of the treatments.")


def _kinds(trial: Trial) -> None:
    kinds = trial.kinds
    if trial.treatments or trial.control:
        raise ValueError("A trial compares treatments or counts kinds, not both.")
    if not 2 <= len(kinds) <= MOST_KINDS:
        raise ValueError(f"A ratio is of 2 to {MOST_KINDS} kinds.")
    names = [one.name for one in kinds]
    if not all(names) or len({one.casefold() for one in names}) < len(names):
        raise ValueError("Each kind needs a name of its own.")
    if any(one.casefold() in NO_NAMES for one in names):
        raise ValueError("A kind cannot be called NA: in a table that means that nothing was written.")
    if any(len(one) > SHORT for one in names):
        raise ValueError(f"Name each kind in at most {SHORT} characters.")
    every = [one.part for one in kinds] + [one.other for one in kinds if one.other is not None]
    if len(every) not in (len(kinds), 2 * len(kinds)):
        raise ValueError("The other ratio needs a part for each kind too.")
    if not all(math.isfinite(one) and 0 < one <= LARGEST_PART for one in every):
        raise ValueError(f"Each part of a ratio is more than 0 and at most {LARGEST_PART}.")
    if trial.sown_each is not None and not 1 <= trial.sown_each <= MOST_SOWN:
        raise ValueError(f"From 1 to {MOST_SOWN} seeds are sown in each.")
