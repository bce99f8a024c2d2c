"""A trial that counts kinds against a ratio: its plan, what would make it unfair, its counts, and what they show."""

from collections.abc import Sequence
from datetime import date

from msgspec import Struct

from walkabout.insight.trials.report import Result
from walkabout.jobs.trials import ratio_of, standing
from walkabout.records.model_measured import Kind, Measurement, Trial
from walkabout.round.opened import OpenRoom


class Counted(Struct, frozen=True):
    """The counts of each plot by kind, in the order of the kinds, and a sentence for each thing to know about them."""

    plots: dict[str, tuple[int, ...]]
    notes: tuple[str, ...]

    @property
    def sums(self) -> tuple[int, ...]:
        """All plots together."""
        return tuple(sum(column) for column in zip(*self.plots.values(), strict=True))


def cells(measured: Sequence[Measurement], day: date) -> dict[tuple[str, str], Measurement]:
    """Return what stands for each plot and kind on a day: the last that was written down."""
    found = sorted((one for one in standing(measured) if one.day == day), key=lambda one: one.at.timestamp())
    return {(one.plot, one.kind): one for one in found}


def counted(trial: Trial, measured: Sequence[Measurement], day: date) -> Counted:
    """Return the counts up to a day: of each plot those of the last day on which it was counted.

    A plot that lacks a kind, or of which a count is left out, is not reckoned with, and a note says so.
    """
    kinds = [one.name for one in trial.kinds]
    by_day = {each: cells(measured, each) for each in sorted({one.day for one in standing(measured)}) if each <= day}
    whole: dict[str, tuple[int, ...]] = {}
    left, half, none, days = [], [], [], set()
    for plot in trial.plots:
        mine = [(each, found) for each, found in by_day.items() if any(name == plot.name for name, _ in found)]
        if not mine:
            none.append(plot.name)
            continue
        last, found = mine[-1]
        here = [found.get((plot.name, kind)) for kind in kinds]
        if out := [one for one in here if one is not None and one.excluded]:
            left.append(f"{plot.name}: {out[0].excluded}")
        elif lacking := [kind for kind, one in zip(kinds, here, strict=True) if one is None]:
            half.append(f"{plot.name} ({', '.join(lacking)})")
        else:
            whole[plot.name] = tuple(int(one.value) for one in here if one is not None)
            days.add(last)
    notes = [f"Left out with a reason: {'; '.join(left)}."] if left else []
    if half:
        notes.append(f"Not counted to the end, so left out: {', '.join(half)}. Where there is none, type 0.")
    if none:
        notes.append(f"{len(none)} of {len(trial.plots)} not counted yet.")
    if len(days) > 1:
        notes.append("Of each the last count is taken; they are of several days.")
    return Counted(whole, tuple(notes))


def judged_ratio(trial: Trial, measured: Sequence[Measurement], day: date) -> Result:
    """Return what the counts up to a day show; ValueError, in one line, where nothing can be said yet. Slow."""
    from walkabout.insight.trials.counting import of_ratio  # noqa: PLC0415 - it loads the tests

    found = counted(trial, measured, day)
    if not found.plots or not sum(found.sums):
        raise ValueError(" ".join(["Nothing is counted to the end yet.", *found.notes]))
    notes = [*found.notes, *_missing(trial, found), *_other(trial, found)]
    names = [one.name for one in trial.kinds]
    parts = [one.part for one in trial.kinds]
    return of_ratio(names, found.sums, parts, trial.response, found.plots, trial.plots[0].kind, notes)


def unfair_ratio(opened: OpenRoom, trial: Trial) -> list[str]:
    """Return what would make the counting unfair: what the room knows of it, then what it cannot know."""
    own = [opened.plantings[one.planting] for one in trial.plots if one.planting in opened.plantings]
    says = []
    crops = {one.crop for one in own}
    varieties = {one.variety for one in own if one.variety}
    if len(crops) > 1:
        says.append(f"The plots hold several crops ({', '.join(sorted(crops))}): a ratio is of one cross only.")
    elif len(varieties) > 1:
        says.append(f"The plots hold several varieties ({', '.join(sorted(varieties))}): a ratio is of one cross only.")
    if len({one.sown for one in own}) > 1:
        says.append("Not all were sown on one day: count each when its kinds can be told apart.")
    lacking = "; how many were sown is not written down" if trial.sown_each is None else ""
    return [
        *says,
        f"Seeds that do not come up, and seedlings that die early, may be mostly of one kind: count them too{lacking}.",
        "Kinds can be told apart only from some age on: do not count before, and let nobody guess.",
        "A ratio is of one cross: seed from several parents may mix several ratios.",
    ]


def needed(kinds: Sequence[Kind]) -> int | None:
    """Return how many plants must be counted in all to tell the ratio from the other one; None without another. Slow.

    ValueError where the two are the same.
    """
    from walkabout.insight.trials.power import n_for_ratio, plants  # noqa: PLC0415 - it loads scipy

    other = [one.other for one in kinds if one.other is not None]
    return plants(n_for_ratio([one.part for one in kinds], other)) if other else None


def plan_says(trial: Trial) -> list[str]:
    """Say how many plants must be counted. Slow."""
    return needed_says(trial.kinds, needed(trial.kinds))


def needed_says(kinds: Sequence[Kind], many: int | None) -> list[str]:
    """Say how many plants must be counted to tell a ratio from another; `many` as `needed` gives it."""
    least = rarest(kinds)
    says = []
    if many is not None:
        says.append(f"To tell {_ratio(kinds)} from {_other_ratio(kinds)}, {many} must be counted in all.")
        says.append("That other ratio is then found out 8 times in 10; one nearer by mostly stays hidden.")
    if many is None or many < least:
        says.append(f"Below about {least} in all, fewer than 5 of the rarest kind are expected: chi-squared is rough.")
    return says


def rarest(kinds: Sequence[Kind]) -> int:
    """Return how many must be counted to expect 5 of the rarest kind: Cochran 1954, Biometrics 10:417-451."""
    whole = sum(one.part for one in kinds)
    return -int(-5 * whole // min(one.part for one in kinds))


def too_many(trial: Trial, measured: Sequence[Measurement], day: date, plot: str, kind: str, value: float) -> str:
    """Say that more are counted in a plot than were sown; '' where that is not so."""
    if trial.sown_each is None:
        return ""
    others = [one.value for (name, each), one in cells(measured, day).items() if name == plot and each != kind]
    every = value + sum(others)
    return f"That makes {every:g} in {plot}, but {trial.sown_each} were sown." if every > trial.sown_each else ""


def _missing(trial: Trial, found: Counted) -> list[str]:
    if trial.sown_each is None:
        return []
    sown, seen = trial.sown_each * len(found.plots), sum(found.sums)
    if seen >= sown:
        return []
    head = f"{sown - seen} of {sown} seeds sown {'is' if sown - seen == 1 else 'are'} not among the counts."
    return [f"{head} If what is missing was mostly of one kind, the ratio of the living says little about the seeds."]


def _other(trial: Trial, found: Counted) -> list[str]:
    """Say how the counts go with the other ratio, where there is one."""
    from walkabout.insight.trials.outcome import ALPHA  # noqa: PLC0415 - as below
    from walkabout.insight.trials.ratio import ratio  # noqa: PLC0415 - it loads the tests
    from walkabout.insight.trials.say import chance  # noqa: PLC0415 - as above

    parts = [one.other for one in trial.kinds if one.other is not None]
    if not parts:
        return []
    p = ratio([one.name for one in trial.kinds], found.sums, parts).test.p
    said = _other_ratio(trial.kinds)
    if p < ALPHA:
        return [f"Against {said}, {chance(p)}: the counts do not go well with that."]
    few = f" At the start {trial.planned} were thought to be needed." if sum(found.sums) < (trial.planned or 0) else ""
    return [f"Against {said}, {chance(p)}: the counts go with that too, and cannot tell the two apart.{few}"]


def _ratio(kinds: Sequence[Kind]) -> str:
    return ":".join(f"{one.part:g}" for one in kinds)


def _other_ratio(kinds: Sequence[Kind]) -> str:
    return ":".join(f"{one.other or 0:g}" for one in kinds)


def kinds_say(trial: Trial) -> str:
    """Say what is counted against what: 'green : pale against 3:1'."""
    return f"{' : '.join(one.name for one in trial.kinds)} against {ratio_of(trial)}"
