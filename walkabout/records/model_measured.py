"""What was measured, as it is written down: by loggers hour by hour, by people in a trial."""

from datetime import date, datetime
from typing import Literal, get_args

from msgspec import Struct

from walkabout.records.model import Happening


class Hour(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """What a logger read within one hour: the mean of `n` readings, the lowest and the highest.

    The key is made of station, quantity and hour (in UTC), so that the same hour is never on record twice. An hour
    whose readings were all taken back has `n` 0 and no files, and counts for nothing.
    """

    key: str
    station: str
    quantity: str
    start: datetime
    """The hour by the clock where it was read, with its offset."""
    n: int
    mean: float
    low: float
    high: float
    unit: str = ""
    source: str = ""
    """The name of the file that was taken in last for this hour."""
    files: tuple[str, ...] = ()
    """The names, in the room's folder logger/, of the files that hold its readings."""


PlotKind = Literal["station", "tray", "plant"]
PLOT_KINDS: tuple[PlotKind, ...] = get_args(PlotKind)
Counts = Literal["number", "count", "share"]
"""What a measurement is: a number with a unit, so many things counted, or so many out of so many."""
COUNTS: tuple[Counts, ...] = get_args(Counts)


class Plot(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """The smallest thing that gets one treatment for itself: a station, a tray or a plant."""

    name: str
    kind: PlotKind
    treatment: str
    station: str = ""
    planting: str = ""
    """The key of the planting that grows there, where it is one."""
    block: str = ""
    """Plots of a block stand alike: same shelf, same tray."""
    replicate: int = 1
    """The how many-th plot of its treatment it is."""


class Kind(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """A kind of plant that is counted against a ratio: green seedlings among green and pale ones."""

    name: str
    part: float
    """Its part in the ratio that is expected: 3 of 3:1."""
    other: float | None = None
    """Its part in another ratio that would be worth telling from it."""


class Trial(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """A comparison: question, treatments, plots, and what is measured on them.

    `worth` and `spread` are in per cent of the mean; `planned` is the number of plots that a treatment needs by them.
    Where kinds are counted against a ratio (3:1) there are `kinds` instead of treatments and a control, and `planned`
    is how many plants must be counted in all to tell that ratio from the other one.
    """

    key: str
    question: str
    treatments: tuple[str, ...]
    control: str
    """The treatment that the others are compared with; one of `treatments`."""
    plots: tuple[Plot, ...]
    response: str
    """What is measured: 'fresh weight of the head'."""
    seed: int
    """The number that the treatments were drawn from; 0 where each place had its treatment already."""
    made: datetime
    by: str
    unit: str = ""
    how: str = ""
    """How it is measured, so that everybody does it alike."""
    counts: Counts = "number"
    under_test: str = ""
    """Which condition of the room is meant to differ ('lamp', 'variety' ...); empty for something else."""
    blind: bool = False
    """Treatments go by their codes until the names are opened."""
    codes: tuple[str, ...] = ()
    """The codes, in the order of `treatments`."""
    opened: datetime | None = None
    """When the names behind the codes were opened."""
    worth: float | None = None
    """The difference worth finding."""
    spread: float | None = None
    """How far plots that are treated alike lie apart (the standard deviation), as it was thought at the start."""
    planned: int | None = None
    power: float = 0.8
    """The chance of finding a difference of `worth`, with `planned` plots a treatment."""
    kinds: tuple[Kind, ...] = ()
    """The kinds that are counted against a ratio; empty where treatments are compared."""
    sown_each: int | None = None
    """Seeds sown in each plot: those that did not come up are known by it."""
    history: tuple[Happening, ...] = ()
    closed: datetime | None = None
    reason: str = ""


class Measurement(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """What was measured on one plot. A correction is a new measurement that names the one it `replaces`."""

    key: str
    trial: str
    plot: str
    """The name of the plot."""
    day: date
    at: datetime
    by: str
    value: float
    of: int | None = None
    """Out of how many, where it is a share."""
    kind: str = ""
    """Which of the trial's kinds was counted, where it has kinds."""
    note: str = ""
    replaces: str = ""
    reason: str = ""
    """Why it was corrected."""
    excluded: str = ""
    """Why it is left out of the reckoning; it stays on record."""
    history: tuple[Happening, ...] = ()
