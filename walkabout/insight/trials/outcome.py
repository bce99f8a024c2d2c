"""What a trial is made of, and what one test of it gives: groups, test, difference, effect, pairs, outliers."""

import math
from typing import Any

from msgspec import Struct, field

LEVEL = 0.95
"""Of every interval, unless said otherwise. Common practice."""
ALPHA = 0.05
"""A p below this is called more than chance. Common practice."""
LAST_DIGITS = 4
"""Steps between neighbouring numbers of a computer within which two values are the same but for rounding. Assumed."""


class Group(Struct, frozen=True):
    """One treatment and its values, in the order of the file, with the line of each."""

    name: str
    values: tuple[float, ...]
    lines: tuple[int, ...] = ()

    @property
    def n(self) -> int:
        """Return how many values there are."""
        return len(self.values)

    @property
    def mean(self) -> float:
        """Return the mean."""
        return math.fsum(self.values) / self.n

    @property
    def flat(self) -> bool:
        """Say whether all values are the same, or differ only in the last digits that a number of their size holds."""
        largest = max(abs(one) for one in self.values)
        return max(self.values) - min(self.values) <= LAST_DIGITS * math.ulp(largest)

    @property
    def squares(self) -> float:
        """Return the sum of squares about the mean; values that differ only by rounding count as the same."""
        if self.flat:
            return 0.0
        middle = self.mean
        gaps = [one - middle for one in self.values]
        # The mean itself is rounded: of values far from 0 that shows, and is taken off again.
        return math.fsum(one * one for one in gaps) - math.fsum(gaps) ** 2 / self.n

    def mean_above(self, base: float) -> float:
        """Return the mean less a number near the values: far from 0 it keeps the digits that the mean loses."""
        return math.fsum(one - base for one in self.values) / self.n

    @property
    def sd(self) -> float | None:
        """Return the standard deviation, None for a single value."""
        return math.sqrt(self.squares / (self.n - 1)) if self.n > 1 else None


class Tested(Struct, frozen=True, kw_only=True):
    """A test: its key on the command line, its name, statistic, degrees of freedom and two-sided p."""

    key: str
    name: str
    statistic: float | None
    df: float | tuple[float, float] | None = None
    p: float
    p_greater: float | None = None
    """One-sided: the first group is the larger."""
    p_less: float | None = None
    more: dict[str, Any] = field(default_factory=dict)
    """Beside these: `p_counted` where the chances were counted, though the usual p goes by a curve."""

    @property
    def judged(self) -> float:
        """Return the p by which the words go: the counted one where there is one, else the usual one."""
        counted = self.more.get("p_counted")
        return self.p if counted is None else float(counted)


class Difference(Struct, frozen=True):
    """A difference with its interval: the group `first` minus the group `second`; `of` says both, `kind` of what."""

    value: float
    low: float | None
    high: float | None
    of: str
    kind: str = "means"
    level: float = LEVEL
    first: str = ""
    second: str = ""


class Effect(Struct, frozen=True):
    """The size of an effect without a unit."""

    name: str
    value: float | None
    low: float | None = None
    high: float | None = None


class Pair(Struct, frozen=True):
    """One of all the comparisons of two groups among several, with p and interval for all of them at once.

    It is the group `first` minus the group `second`; `first` is the later of the two in the table.
    """

    of: str
    value: float
    low: float
    high: float
    p: float
    first: str = ""
    second: str = ""


class Outlier(Struct, frozen=True):
    """A value far from its group. It stays in the analysis."""

    group: str
    value: float
    line: int
    statistic: float
    limit: float


class Outcome(Struct, frozen=True, kw_only=True):
    """What one test of one trial gives."""

    test: Tested
    difference: Difference | None = None
    effect: Effect | None = None
    pairs: tuple[Pair, ...] = ()
    working: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    more: dict[str, Any] = field(default_factory=dict)


def plain(struct: Struct) -> dict[str, Any]:
    """Return the fields of a struct by name."""
    return {name: getattr(struct, name) for name in struct.__struct_fields__}


def finite(value: Any) -> Any:
    """Return the same with None for every number that is not finite: other programs cannot read those."""
    if isinstance(value, dict):
        return {key: finite(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [finite(one) for one in value]
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    return value
