"""How long a crop takes to a stage, in the air and light of one station, and how sure that is.

Days are reckoned from sowing. They follow a lognormal law (assumed: times to grow cannot be below nothing, and
miss by a share rather than by days): the low and the high end of the crop table are its 10th and 90th percentile.
"""

from collections.abc import Mapping
from functools import cache
from math import exp, log, sqrt
from typing import TYPE_CHECKING

from msgspec import Struct

from walkabout.almanac.model import Conditions, StageName
from walkabout.almanac.normal import Z_TENTH, above, below, with_above, with_below
from walkabout.growing.crops import Crop, Range
from walkabout.growing.harvest import LOSSES
from walkabout.growing.limits import OutOfRange
from walkabout.growing.stages import EMERGES_AT, MARGIN, SLOWEST, pace

if TYPE_CHECKING:
    from walkabout.growing.emergence import Row

AIR_UNKNOWN = 0.10
"""Spread (of the logarithm of the days) where nobody measured the air: two degrees of the twenty or so above a
cool crop's base. Assumed."""

LIGHT_UNKNOWN = 0.12
"""Spread where nobody knows the light, as under a window. Assumed."""

COLD = 0.30
"""Spread where the air is so cold that the days become SLOWEST times as many, or more. Assumed."""

UNSURE = 1.25
"""Between a temperature at which nothing came up and one at which it did: times the days of the latter. Assumed."""

LOST_SPREAD = 0.15
"""By how much the share that survives differs from planting to planting (standard deviation). Assumed."""


class Learned(Struct, frozen=True):
    """What this room has seen of one crop, shrunk towards the tables as long as that is little."""

    factor: float = 1.0
    """The room's days over those reckoned."""
    spread: float = 0.0
    """How unsure that factor is: of its logarithm."""
    seen: int = 0
    """From how many plantings."""
    survival: float = 1 - LOSSES
    """Plants picked for each one started."""
    lost_spread: float = LOST_SPREAD
    """By how much that share differs from planting to planting (standard deviation)."""
    grams: float | None = None
    """From one plant at one picking; None where nobody weighed: the harvest table holds then."""
    grams_seen: int = 0
    """From how many plantings weighed."""
    kept: int = 0
    """From how many plantings the survival is."""


class Wait(Struct, frozen=True):
    """Days from sowing to a stage, as a lognormal law."""

    median: float
    """Days, as often fewer as more."""
    sigma: float
    """Spread of the logarithm of the days; above 0."""
    working: tuple[str, ...] = ()
    """How it came about, with sources."""

    def by(self, days: float) -> float:
        """Return the chance that it takes at most so many days."""
        return below(log(days / self.median) / self.sigma) if days > 0 else 0.0

    def within(self, p: float) -> float:
        """Return the days within which it comes with chance `p`, more than 0 and less than 1."""
        return self.median * exp(self.sigma * with_below(p))

    def after(self, passed: float) -> "Awaited":
        """Return what is left of it once it is known that so many days were not enough."""
        return Awaited(self, max(passed, 0.0))


class Awaited(Struct, frozen=True):
    """A stage that has not come after `passed` days. All days are still counted from sowing."""

    wait: Wait
    passed: float

    @property
    def _open(self) -> float:
        """The chance, before anything was known, that it takes longer than what has passed."""
        return above(log(self.passed / self.wait.median) / self.wait.sigma) if self.passed > 0 else 1.0

    def by(self, days: float) -> float:
        """Return the chance that it takes at most so many days, all told."""
        if days <= self.passed:
            return 0.0
        still = self._open
        if still < _OVERDUE:
            return 1.0
        return 1 - above(log(days / self.wait.median) / self.wait.sigma) / still

    def within(self, p: float) -> float:
        """Return the days, all told, within which it comes with chance `p`; what has passed where it is long due."""
        if not 0 < p < 1:
            raise ValueError(f"a chance lies between 0 and 1, not at {p}")
        if self.passed <= 0:
            return self.wait.within(p)
        still = self._open * (1 - p)
        if still < _OVERDUE:
            return self.passed
        return max(self.wait.median * exp(self.wait.sigma * with_above(still)), self.passed)


_OVERDUE = 1e-280
"""Chances smaller than this cannot be divided by: the stage is long due."""


class Speed(Struct, frozen=True):
    """What one station's air and light make of a crop's days."""

    factor: float
    """The median of the days is multiplied by it."""
    stretch: float
    """Added to the spread of the table."""
    spread: float
    """A spread of its own, independent of the table's."""
    says: tuple[str, ...]


def wait(
    crop: Crop, conditions: Conditions | None, stage: StageName, learned: Mapping[str, Learned] | None = None
) -> Wait | None:
    """Return the days from sowing to a stage for a crop that stands in these conditions all the time.

    `conditions` None: nothing is known of them. None when the table does not know the stage of this crop, and for
    emergence where nothing comes up in this air.
    """
    if stage == "emergence":
        return emerges(crop, conditions)
    table = of_table(crop, stage)
    if table is None:
        return None
    here = speed(crop, conditions, stage)
    own = own_factor(crop, learned)
    return Wait(
        table.median * here.factor * own.factor,
        sigma_of(table.sigma, here, own),
        (*table.working, *here.says, *own_says(own)),
    )


def own_factor(crop: Crop, learned: Mapping[str, Learned] | None) -> Learned:
    """Return what the room has learned of a crop, or that it has learned nothing."""
    return (learned or {}).get(crop.key, _NOTHING)


_NOTHING = Learned()


def sigma_of(table: float, here: Speed, own: Learned) -> float:
    """Return the spread of the days: the parts add up as variances of the logarithm."""
    return sqrt((table + here.stretch) ** 2 + here.spread**2 + own.spread**2)


def of_table(crop: Crop, stage: StageName) -> Wait | None:
    """Return the days of the crop table as a law, or None. A flower's days to harvest are those to flowering."""
    span = span_of(crop, stage)
    if span is None:
        return None
    days = f"{span.low:g}" if span.low == span.high else f"{span.low:g} to {span.high:g}"
    return Wait(*_law(span.low, span.high), (f"crop table: {days} days from sowing ({span.source})",))


def span_of(crop: Crop, stage: StageName) -> Range | None:
    """Return what the crop table says of a stage, in days from sowing, or None."""
    if stage == "flowering":
        return crop.harvest if crop.group == "flower" else None
    if stage == "emergence":
        return crop.emerge
    return crop.move_on if stage == "move_on" else crop.harvest if stage == "harvest" else crop.seed


def _law(low: float, high: float) -> tuple[float, float]:
    """Return median and spread of the law with one in ten below `low` and one in ten above `high` days."""
    if low == high:
        return low, log(1 + MARGIN) / Z_TENTH
    return sqrt(low * high), log(high / low) / (2 * Z_TENTH)


def speed(crop: Crop, conditions: Conditions | None, stage: StageName) -> Speed:
    """Return what air and light make of the days to a stage, emergence apart.

    Air: degree days as in growing.stages. Warmer than usual shortens the early end alone, as growing.stages.corrected
    has it: so the median shortens by the root, and the spread grows. Light below the low end of the crop's range
    slows in proportion, SLOWEST times at most (assumed); above it nothing is gained.
    """
    factor, stretch, spread, says = _of_air(crop, conditions.air if conditions else None)
    if stage == "move_on" and crop.group == "microgreen":
        return Speed(factor, stretch, spread, says)
    light = conditions.light if conditions else None
    if light is None:
        says = (*says, f"light not known: as the crop table, spread {LIGHT_UNKNOWN:g} (assumed)")
        return Speed(factor, stretch, sqrt(spread**2 + LIGHT_UNKNOWN**2), says)
    low = crop.light.low
    if light < low:
        slower = min(SLOWEST, low / light) if light > 0 else SLOWEST
        says = (*says, f"light {light:.3g} of at least {low:g} mol/m²/d: days × {slower:.3g} (assumed)")
        factor *= slower
    return Speed(factor, stretch, spread, says)


def _of_air(crop: Crop, air: float | None) -> tuple[float, float, float, tuple[str, ...]]:
    """Return factor, stretch, spread and words."""
    if air is None:
        return 1.0, 0.0, AIR_UNKNOWN, (f"air not measured: as the crop table, spread {AIR_UNKNOWN:g} (assumed)",)
    try:
        found = pace(crop, air)
    except OutOfRange:
        return SLOWEST, 0.0, COLD, (f"air {air:.3g} °C, too cold to promise: days × {SLOWEST:g} (assumed)",)
    if found.factor > SLOWEST:
        return SLOWEST, 0.0, COLD, (f"air {air:.3g} °C, too cold to promise: days × {SLOWEST:g} (assumed)",)
    above_base = f"({found.usual:.3g} − {found.base.value:g}) ÷ ({found.counted:.3g} − {found.base.value:g})"
    says = f"air {air:.3g} °C: days × {above_base} = {found.factor:.3g} (degree days, McMaster and Wilhelm 1997)"
    if found.factor >= 1:
        return found.factor, 0.0, 0.0, (says,)
    return sqrt(found.factor), -log(found.factor) / (2 * Z_TENTH), 0.0, (f"{says}, early end alone",)


def own_says(own: Learned) -> tuple[str, ...]:
    """Say what the room's own past makes of the days."""
    if not own.seen:
        return ()
    return (f"this room's own {own.seen} planting{'s' if own.seen != 1 else ''}: days × {own.factor:.3g}",)


# emergence


def emerges(crop: Crop, conditions: Conditions | None) -> Wait | None:
    """Return the days until seedlings show: by the emergence table where it knows the crop, else by degree days.

    The mean of the air stands for the temperature of soil or plugs (assumed). None where nothing comes up, where
    the table was not tested at such a temperature, and where nothing is known of the crop.
    """
    air = conditions.air if conditions else None
    row = _row(crop.key) if air is not None else None
    if air is not None and row is not None:
        return _by_row(row, air)
    if crop.emerge is None:
        return None
    median, sigma = _law(crop.emerge.low, crop.emerge.high)
    says = f"crop table, at 20 to 25 °C: {crop.emerge.low:g} to {crop.emerge.high:g} days ({crop.emerge.source})"
    if air is None:
        unknown = f"air not measured: spread {AIR_UNKNOWN:g} (assumed)"
        return Wait(median, sqrt(sigma**2 + AIR_UNKNOWN**2), (says, unknown))
    try:
        factor = pace(crop, air, at=EMERGES_AT).factor
    except OutOfRange:
        return None
    cold = factor > SLOWEST
    factor = SLOWEST if cold else factor
    words = f"air {air:.3g} °C: days × {factor:.3g} (degree days, McMaster and Wilhelm 1997)"
    return Wait(median * factor, sqrt(sigma**2 + COLD**2) if cold else sigma, (says, words))


@cache
def _row(key: str) -> "Row | None":
    from walkabout.growing import emergence  # noqa: PLC0415 - Today does without it: the program starts sooner

    return emergence.load().find(key)


def _by_row(row: "Row", air: float) -> Wait | None:
    from walkabout.growing import emergence  # noqa: PLC0415

    try:
        found = emergence.emergence(row, air)
    except OutOfRange:
        return None
    days, spread = found.days, 0.0
    if days is None and found.slower_than is not None:
        days, spread = found.slower_than * UNSURE, COLD
    if days is None:
        return None
    source = emergence.load().days_source.split(",", 1)[0]
    says = f"{row.name} at {air:.3g} °C: seedlings in {days:.3g} days, printed or read between ({source})"
    # Days are printed whole, and seedlings show over a day or two: a day either way, 15 % for the slow ones (assumed).
    return Wait(days, sqrt((log(1 + max(1 / days, 0.15)) / Z_TENTH) ** 2 + spread**2), (says,))
