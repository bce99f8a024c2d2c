"""What is known of a row of readings: its charts, its shifts, its pace, and what somebody sets about them."""

from datetime import datetime
from typing import Literal

import msgspec
from msgspec import Struct

from walkabout.insight.control import Cusum, Ewma, Limits
from walkabout.insight.series import EXPLAINS, Mark, Point
from walkabout.insight.shift import Change
from walkabout.insight.slope import MOST, Leaves, Slope


class Chosen(Struct, frozen=True, kw_only=True):
    """What somebody sets about the charts; None for what the readings say themselves."""

    lam: float = 0.3
    k: float | None = None
    h: float | None = None
    target: float | None = None
    sigma: float | None = None
    most: int = MOST
    """The pace is that of so many last readings."""
    exact: bool = False
    """Limits of the EWMA that are narrower at its beginning."""
    shares: bool = False
    """The readings are counts out of counts: which of them stand out is for a p chart to say."""

    @property
    def own_ewma(self) -> bool:
        """Whether somebody has set up the EWMA, so that its signal decides."""
        return self.target is not None or self.sigma is not None

    @property
    def own_cusum(self) -> bool:
        """Whether somebody has set up the CUSUM."""
        return self.own_ewma or self.k is not None or self.h is not None


class Shift(Struct, frozen=True):
    """Something has moved, by the test for a shift. `marks` are what was done within a day of a step."""

    since: datetime | float
    before: datetime | float | None
    """The last reading before it, None where the readings begin with it."""
    direction: Literal["up", "down"]
    rule: str
    """What found it: the test, and the charts that see it too."""
    change: Change
    marks: tuple[Mark, ...] = ()
    last: bool = True
    """Nothing has moved after it."""

    @property
    def explained(self) -> bool:
        """Whether something that was done explains it."""
        return self.change.kind == "step" and any(mark.kind in EXPLAINS for mark in self.marks)


class Trend(Struct, frozen=True):
    """All that is known of a row of readings; a part is None where there are too few for it."""

    count: int
    limits: Limits | None
    ewma: Ewma | None
    cusum: Cusum | None
    shifts: tuple[Shift, ...]
    """The oldest first."""
    lone: tuple[Point, ...]
    """Readings far from both their neighbours: no part in the shifts and the pace."""
    slope: Slope | None
    """The pace of all readings."""
    pace: Slope | None
    """The pace since a drift set in that goes on; None without one."""
    leaves: Leaves | None
    chosen: Chosen = Chosen()
    says: tuple[str, ...] = ()
    working: tuple[str, ...] = ()

    def with_says(self, sentence: str) -> "Trend":
        """Return the trend with one more sentence at its end."""
        return msgspec.structs.replace(self, says=(*self.says, sentence))
