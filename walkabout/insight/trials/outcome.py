"""What a trial is made of, and what one test of it gives: groups, test, difference, effect, pairs, outliers."""

import math
from typing import Any

from msgspec import Struct, field

LEVEL = 0.95
"""Of every interval, unless said otherwise. Common practice."""
ALPHA = 0.05
"""A p below this is called more than chance. Common practice."""


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
    def squares(self) -> float:
        """Return the sum of squares about the mean; values that differ only by rounding count as the same."""
        middle = self.mean
        total = math.fsum((one - middle) ** 2 for one in self.values)
        largest = max(abs(one) for one in self.values)
        return total if total > self.n * (1e-13 * largest) ** 2 else 0.0

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


class Difference(Struct, frozen=True):
    """A difference with its interval; `of` says which way round it was taken, `kind` of what."""

    value: float
    low: float | None
    high: float | None
    of: str
    kind: str = "means"
    level: float = LEVEL


class Effect(Struct, frozen=True):
    """The size of an effect without a unit."""

    name: str
    value: float | None
    low: float | None = None
    high: float | None = None


class Pair(Struct, frozen=True):
    """One of all the comparisons of two groups among several, with p and interval for all of them at once."""

    of: str
    value: float
    low: float
    high: float
    p: float


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
