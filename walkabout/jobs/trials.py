"""The life of a trial: set up, drawn, measured, corrected, closed. Nothing is deleted.

Every function returns the record anew and saves nothing. What cannot be is a ValueError with one sentence.
"""

import random
from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta

import msgspec

from walkabout.jobs.trial_rules import must_be, must_be_measured, must_be_open
from walkabout.records.keys import new_key
from walkabout.records.model import Happening
from walkabout.records.model_measured import Counts, Kind, Measurement, Plot, Trial


def set_up(
    *,
    question: str,
    treatments: Sequence[str],
    control: str,
    plots: Sequence[Plot],
    response: str,
    seed: int,
    by: str,
    now: datetime,
    unit: str = "",
    how: str = "",
    counts: Counts = "number",
    under_test: str = "",
    blind: bool = False,
    worth: float | None = None,
    spread: float | None = None,
    planned: int | None = None,
) -> Trial:
    """Return a new trial with its plots as they were drawn from `seed`; `worth` and `spread` in per cent."""
    made = Trial(
        key=new_key("tr-", now),
        question=_one_line(question),
        treatments=tuple(_one_line(one) for one in treatments),
        control=_one_line(control),
        plots=numbered(plots),
        response=_one_line(response),
        seed=seed,
        made=now,
        by=by,
        unit=_one_line(unit),
        how=_one_line(how),
        counts=counts,
        under_test=under_test,
        blind=blind,
        codes=codes_for(len(treatments), seed) if blind else (),
        worth=worth,
        spread=spread,
        planned=planned,
    )
    must_be(made)
    drawn = f"drawn from the number {seed}" if seed else "each place with the treatment it had"
    says = f"set up with {len(made.plots)} plots, {drawn}"
    return msgspec.structs.replace(made, history=(Happening(at=now, by=by, says=says),))


def set_up_ratio(
    *,
    question: str,
    kinds: Sequence[Kind],
    plots: Sequence[Plot],
    by: str,
    now: datetime,
    how: str = "",
    sown_each: int | None = None,
    planned: int | None = None,
) -> Trial:
    """Return a new trial that counts kinds against a ratio: no treatments, no control, and nothing is drawn."""
    named = tuple(msgspec.structs.replace(one, name=_one_line(one.name)) for one in kinds)
    made = Trial(
        key=new_key("tr-", now),
        question=_one_line(question),
        treatments=(),
        control="",
        plots=numbered(plots),
        response="kind",
        seed=0,
        made=now,
        by=by,
        how=_one_line(how),
        counts="count",
        kinds=named,
        sown_each=sown_each,
        planned=planned,
    )
    must_be(made)
    says = f"set up to count {' and '.join(one.name for one in named)} against {ratio_of(made)}"
    return msgspec.structs.replace(made, history=(Happening(at=now, by=by, says=says),))


def ratio_of(trial: Trial) -> str:
    """Return the ratio that is expected: '3:1'."""
    return ":".join(f"{one.part:g}" for one in trial.kinds)


def numbered(plots: Sequence[Plot]) -> tuple[Plot, ...]:
    """Return the plots with the how many-th of its treatment each is."""
    seen: dict[str, int] = {}
    found = []
    for plot in plots:
        seen[plot.treatment] = seen.get(plot.treatment, 0) + 1
        found.append(msgspec.structs.replace(plot, replicate=seen[plot.treatment]))
    return tuple(found)


def codes_for(many: int, seed: int) -> tuple[str, ...]:
    """Return a letter for each treatment, shuffled so that the control is not always A."""
    letters = [chr(ord("A") + place) for place in range(many)]
    random.Random(f"codes {seed}").shuffle(letters)
    return tuple(letters)


def draw_anew(
    trial: Trial, plots: Sequence[Plot], seed: int, measured: Iterable[Measurement], by: str, now: datetime
) -> Trial:
    """Return the trial with its plots drawn from another number; only as long as nothing is measured."""
    must_be_open(trial)
    if any(True for _ in measured):
        raise ValueError("Something is measured already: plots keep their treatment from then on.")
    if not trial.seed:
        raise ValueError("Nothing was drawn in this trial: each place had its treatment already.")
    says = f"drawn anew from the number {seed}, before it from {trial.seed}"
    codes = codes_for(len(trial.treatments), seed) if trial.blind else ()
    later = msgspec.structs.replace(
        trial, plots=numbered(plots), seed=seed, codes=codes, history=_told(trial, by, now, says)
    )
    must_be(later)
    return later


def measure(
    trial: Trial,
    plot: str,
    value: float,
    *,
    day: date,
    by: str,
    now: datetime,
    of: int | None = None,
    kind: str = "",
    note: str = "",
    before: Measurement | None = None,
    reason: str = "",
) -> Measurement:
    """Return what was measured on a plot; with `before` it is a correction of that, and needs a reason.

    `kind` is which one was counted, where the trial counts kinds.
    """
    must_be_open(trial)
    if all(one.name != plot for one in trial.plots):
        raise ValueError("This trial has no such plot.")
    must_be_measured(trial, value, of, kind)
    if day > now.date():
        raise ValueError("That day is still to come.")
    if day < trial.made.date() - timedelta(days=366):
        raise ValueError("That day is more than a year before the trial was set up.")
    if before is not None and not reason.strip():
        raise ValueError("Say in a few words why it is corrected.")
    return Measurement(
        key=new_key("me-", now),
        trial=trial.key,
        plot=plot,
        day=day,
        at=now,
        by=by,
        value=float(value),
        of=of,
        kind=kind,
        note=note.strip(),
        replaces=before.key if before else "",
        reason=reason.strip() if before else "",
        excluded=before.excluded if before else "",
        history=before.history if before else (),
    )


def exclude(trial: Trial, one: Measurement, reason: str, by: str, now: datetime) -> Measurement:
    """Return the measurement as left out of the reckoning, for a reason that must be given; it stays on record."""
    must_be_open(trial)
    if one.excluded:
        raise ValueError("This measurement is left out already.")
    if not reason.strip():
        raise ValueError("A measurement is left out with a reason, such as: the plant was knocked over.")
    happened = Happening(at=now, by=by, says=f"left out: {reason.strip()}")
    return msgspec.structs.replace(one, excluded=reason.strip(), history=(*one.history, happened))


def take_back(trial: Trial, one: Measurement, by: str, now: datetime) -> Measurement:
    """Return the measurement as counted again."""
    must_be_open(trial)
    if not one.excluded:
        raise ValueError("This measurement is counted already.")
    happened = Happening(at=now, by=by, says="counted again")
    return msgspec.structs.replace(one, excluded="", history=(*one.history, happened))


def open_names(trial: Trial, by: str, now: datetime) -> Trial:
    """Return the trial with the names behind its codes opened, which is written down."""
    if not is_blind(trial):
        raise ValueError("The names of this trial are open.")
    return msgspec.structs.replace(
        trial, opened=now, history=_told(trial, by, now, "the names behind the codes were opened")
    )


def close(trial: Trial, reason: str, by: str, now: datetime) -> Trial:
    """Return the trial as closed, for a reason that must be given; its names are open then."""
    must_be_open(trial)
    if not reason.strip():
        raise ValueError("A trial is closed with a reason: what came out, or why it was given up.")
    opened = trial.opened or (now if trial.blind else None)
    return msgspec.structs.replace(
        trial,
        closed=now,
        opened=opened,
        reason=reason.strip(),
        history=_told(trial, by, now, f"closed: {reason.strip()}"),
    )


def is_blind(trial: Trial) -> bool:
    """Say whether treatments go by their codes for now."""
    return trial.blind and trial.opened is None and trial.closed is None


def name_of(trial: Trial, treatment: str) -> str:
    """Return the name of a treatment, or its code as long as the trial is blind."""
    if not is_blind(trial):
        return treatment
    codes = dict(zip(trial.treatments, trial.codes, strict=False))
    return f"treatment {codes.get(treatment, '?')}"


def standing(measured: Iterable[Measurement]) -> tuple[Measurement, ...]:
    """Return the measurements that no correction has replaced, those that are left out among them."""
    every = list(measured)
    replaced = {one.replaces for one in every if one.replaces}
    return tuple(one for one in every if one.key not in replaced)


def in_order(trials: Iterable[Trial]) -> list[Trial]:
    """Return the open trials, then the closed ones; the newest first."""
    return sorted(trials, key=lambda one: (one.closed is None, one.made, one.key), reverse=True)


def _told(trial: Trial, by: str, now: datetime, says: str) -> tuple[Happening, ...]:
    return (*trial.history, Happening(at=now, by=by, says=says))


def _one_line(text: str) -> str:
    return " ".join(text.split())
