"""What the demo's class compares: one trial that is over, one under way, and kinds that are counted against a ratio."""

from collections.abc import Callable, Iterable, Iterator
from datetime import date, datetime, time, timedelta
from random import Random

import msgspec
from msgspec import Struct

from walkabout.demo.clock import moment
from walkabout.jobs.trials import close, measure, set_up, set_up_ratio
from walkabout.records.model import Planting
from walkabout.records.model_measured import Kind, Measurement, Plot, Trial
from walkabout.round.trial_plan import drawn

EACH = 6
"""Plants in each group."""


class Compared(Struct, frozen=True, kw_only=True):
    """A trial, told in days before the day on which the demo is made. Heights in cm."""

    key: str
    question: str
    treatments: tuple[str, str]
    """The control stands first."""
    label: str
    """What is written on the planting that the seedlings belong to."""
    begun: int
    seed: int
    """The number that the treatments are drawn from: each trial has its own, or both would be drawn alike."""
    measured: tuple[tuple[int, float, float], ...]
    """(days ago, mean height of the control, mean height of the others)."""
    ended: tuple[int, str] | None = None
    """(days ago, what came out)."""


COMPARED: tuple[Compared, ...] = (
    Compared(
        key="tr-shade",
        question="Do mizuna seedlings stretch under a piece of net?",
        treatments=("full light", "shaded"),
        label="D2",
        begun=35,
        seed=41,
        measured=((32, 2.2, 2.6), (27, 3.9, 5.8)),
        ended=(26, "the shaded ones were taller, thin and pale: seedlings get no net from now on"),
    ),
    Compared(
        key="tr-brush",
        question="Do lettuce seedlings stay shorter when they are stroked every morning?",
        treatments=("left alone", "stroked"),
        label="D3",
        begun=6,
        seed=58,
        measured=((2, 3.1, 2.8),),
    ),
)
SPREAD = 0.09
"""How far seedlings that are treated alike lie apart, as a share of their mean. Assumed."""

KINDS = (Kind(name="green", part=3, other=1), Kind(name="pale", part=1, other=1))
"""What is counted: 3:1, as of one parent that carries what makes seedlings pale, to be told from 1:1."""
TO_COUNT = 24
"""Seedlings that tell 3:1 from 1:1 four times in five, as the program reckons it."""
TRAYS, SOWN_EACH = 3, 40
COUNTED_FROM = 15
"""Days ago on which the seeds to be counted were sown."""
COUNTED: tuple[tuple[int, float], ...] = ((8, 0.6), (4, 0.95))
"""(days ago, share of the seeds that had come up)."""
COUNTED_KEY = "tr-pale"


class Trials:
    """The trials as they are set up, measured and closed, day by day."""

    def __init__(self, day_of: Callable[[int], date], by: str, seed: int) -> None:
        """`day_of` gives the school day that lies so many days ago."""
        self._by = by
        self._seed = seed
        self._day_of = day_of
        self._under_way: dict[str, Trial] = {}

    def on(self, day: date, plantings: Iterable[Planting]) -> list[Trial | Measurement]:
        """Return what is written down about trials on this day."""
        found: list[Trial | Measurement] = []
        for one in COMPARED:
            if self._day_of(one.begun) == day:
                here = next(each for each in plantings if each.label == one.label)
                self._under_way[one.key] = _begun(one, here, self._by, moment(day, time(14, 40)))
                found.append(self._under_way[one.key])
            for number, (ago, *means) in enumerate(one.measured):
                if self._day_of(ago) == day:
                    rng = Random(f"{self._seed} {one.key} {number}")
                    found += _measured(one, self._under_way[one.key], means, self._by, moment(day, time(14, 45)), rng)
            if one.ended is not None and self._day_of(one.ended[0]) == day:
                found.append(close(self._under_way[one.key], one.ended[1], self._by, moment(day, time(15, 20))))
        return [*found, *self._counting(day)]

    def _counting(self, day: date) -> Iterator[Trial | Measurement]:
        """Yield what is written down about the count of kinds on this day."""
        if self._day_of(COUNTED_FROM) == day:
            self._under_way[COUNTED_KEY] = _sown_to_count(self._by, moment(day, time(14, 40)))
            yield self._under_way[COUNTED_KEY]
        for ago, up in COUNTED:
            if self._day_of(ago) == day:
                yield from _counted(
                    self._under_way[COUNTED_KEY], up, self._by, moment(day, time(14, 50)), Random(self._seed)
                )


def _begun(one: Compared, planting: Planting, by: str, now: datetime) -> Trial:
    plots = [
        Plot(name=f"{one.label} {number}", kind="plant", treatment="", station=planting.station, planting=planting.key)
        for number in range(1, 2 * EACH + 1)
    ]
    made = set_up(
        question=one.question, treatments=one.treatments, control=one.treatments[0],
        plots=drawn(plots, one.treatments, one.seed), response="height", unit="cm", seed=one.seed, by=by, now=now,
        how="From the mix to the tip, with the ruler's zero at the mix.", worth=20, spread=10,
    )  # fmt: skip
    return msgspec.structs.replace(made, key=one.key)


def _measured(
    one: Compared, trial: Trial, means: Iterable[float], by: str, now: datetime, rng: Random
) -> list[Measurement]:
    mean = dict(zip(one.treatments, means, strict=True))
    found = []
    for number, plot in enumerate(trial.plots):
        height = round(max(mean[plot.treatment] * rng.gauss(1, SPREAD), 0.5), 1)
        at = now + timedelta(seconds=20 * number)
        made = measure(trial, plot.name, height, day=now.date(), by=by, now=at)
        found.append(msgspec.structs.replace(made, key=f"me-{one.key}-{now.date().isoformat()}-{number:02}"))
    return found


def _sown_to_count(by: str, now: datetime) -> Trial:
    made = set_up_ratio(
        question="Do the seedlings of one parent come green and pale, 3 to 1?", kinds=KINDS,
        plots=[Plot(name=f"tray {one}", kind="tray", treatment="", station="shelf") for one in range(1, TRAYS + 1)],
        how="When both seed leaves are open, held beside white paper.", sown_each=SOWN_EACH, planned=TO_COUNT,
        by=by, now=now,
    )  # fmt: skip
    return msgspec.structs.replace(made, key=COUNTED_KEY)


def _counted(trial: Trial, up: float, by: str, now: datetime, rng: Random) -> Iterator[Measurement]:
    """Yield how many of each kind have come up; each seed has its kind and its turn from the dice, at every count."""
    for number, plot in enumerate(trial.plots):
        seeds = [(rng.random() < 3 / 4, rng.random() < up) for _ in range(SOWN_EACH)]
        for kind, green in (("green", True), ("pale", False)):
            at = now + timedelta(seconds=60 * number + (0 if green else 25))
            many = sum(is_up and is_green is green for is_green, is_up in seeds)
            made = measure(trial, plot.name, many, kind=kind, day=now.date(), by=by, now=at)
            key = f"me-{trial.key}-{now.date().isoformat()}-{number:02}-{kind}"
            yield msgspec.structs.replace(made, key=key)
