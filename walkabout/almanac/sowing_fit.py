"""How many to sow in each batch so that every station holds them: whole numbers, found by a linear programme.

The unknowns are the plants of each batch. On no day may a station hold more of them than it has places free;
each week wants its number. Three solutions, one on the other: the fewest missing plants; then, with no more missing
than that, the fewest too many, the fewest sowing days and the fewest batches; and, where something is missing, the
largest number that every week could have. HiGHS does the solving (Huangfu and Hall 2018, Mathematical Programming
Computation 10:119).
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date
from itertools import pairwise
from time import monotonic
from typing import Any

import msgspec
from msgspec import Struct

from walkabout.almanac.sowing_batches import Batch

SECONDS = 4.0
"""How long the three solutions together may search."""
SHARES = (0.35, 0.75, 1.0)
"""Until which share of that time each of them may search; what one does not need is left for the next."""
GAP = 0.05
"""The search for few sowing days ends when none can be better by more than this share. Missing plants are exact."""
TOO_MANY, DAY, BATCH = 3.0, 1.0, 0.3
"""What one plant too many, one more day of sowing and one more batch count. Assumed: in this order of weight."""

Free = Mapping[str, Sequence[int | None]]
"""Station -> places free on each day from the first day on; None where nobody wrote down how many there are."""


class Fit(Struct, frozen=True, kw_only=True):
    """What was found. `counts` belong to the batches, `missing` to the weeks, in sown plants."""

    counts: tuple[int, ...]
    missing: tuple[int, ...]
    fewest_missing: bool = True
    """Fewer missing plants are not possible; False when the time was over before that was known."""
    fewest_days: bool = True
    """Nor are fewer sowing days, within GAP; False when the time was over first."""
    found: bool = True
    """False when the time was over before any whole-numbered plan was found; all counts are 0 then."""


class Fitting:
    """The programme of one plan: its batches, its weeks and its limits, laid out once and solved several times."""

    def __init__(self, batches: Sequence[Batch], needed: Sequence[int], free: Free, first: date) -> None:
        """`needed` is what each week wants, in sown plants; `free` begins on `first`."""
        self._batches = batches
        self._needed = tuple(needed)
        self._until = monotonic() + SECONDS
        self._begun = monotonic()
        self._ceilings = [self._ceiling(one, free, first) for one in batches]
        self._limits = list(_limits(batches, self._ceilings, free, first))

    def fit(self, progress: Callable[[str], None]) -> Fit:
        """Return the best plan: fewest missing, then fewest too many, sowing days and batches."""
        progress("looking for the fewest missing plants")
        least = self._solve(SHARES[0], tidy=False)
        if not least.found or not any(least.counts):
            return least
        progress("looking for few sowing days")
        tidy = self._solve(SHARES[1], tidy=True, most_missing=sum(least.missing))
        if not tidy.found:
            return msgspec.structs.replace(least, fewest_days=False)
        return msgspec.structs.replace(tidy, fewest_missing=least.fewest_missing)

    def most_each_week(self, weeks: Iterable[int], progress: Callable[[str], None]) -> Fit:
        """Return the plan that gives each of these weeks the same number, as large as it can be.

        The weeks that are not named get nothing. `missing` is what each lacks of what it wants.
        """
        progress("looking for the amount that every week can have")
        wanted = set(weeks)
        return self._solve(SHARES[2], tidy=False, same_for=wanted) if wanted else self._nothing()

    @property
    def within_reach(self) -> tuple[int, ...]:
        """The weeks that want something and can have at least one plant."""
        pairs = zip(self._batches, self._ceilings, strict=True)
        return tuple(sorted({week for batch, most in pairs if most > 0 for week in batch.weeks if self._needed[week]}))

    def _ceiling(self, batch: Batch, free: Free, first: date) -> int:
        """Return how many this batch can have at most: what its places hold, and no more than its weeks want."""
        most = max((self._needed[week] for week in batch.weeks), default=0)
        held = [most]
        for stay in batch.stays:
            days = free[stay.station][(stay.first - first).days : (stay.last - first).days + 1]
            held += [max(one, 0) for one in days if one is not None]
        return min(held)

    def _nothing(self, *, found: bool = True) -> Fit:
        none = (0,) * len(self._batches)
        return Fit(counts=none, missing=self._needed, fewest_missing=found, fewest_days=found, found=found)

    def _solve(
        self, share: float, *, tidy: bool, most_missing: int | None = None, same_for: set[int] | None = None
    ) -> Fit:
        """Solve once. Columns: the batches, what each week lacks, has too many, then sowing days and batches used."""
        from scipy.optimize import Bounds, milp  # type: ignore[import-untyped]  # noqa: PLC0415 - slow to load, and only a sowing plan needs it

        used = [at for at, ceiling in enumerate(self._ceilings) if ceiling > 0]
        if not used:
            return self._nothing()
        rows = _Rows()
        columns, weeks = len(used), len(self._needed)
        place = {at: column for column, at in enumerate(used)}
        days = sorted({self._batches[at].sown for at in used}) if tidy else []
        pairs = sorted({self._pair(at) for at in used}) if tidy else []
        lacks, over = columns, columns + weeks
        day_at = {day: over + weeks + number for number, day in enumerate(days)}
        pair_at = {pair: over + weeks + len(days) + number for number, pair in enumerate(pairs)}
        each = over + weeks + len(days) + len(pairs)
        total = each + 1
        cost, top, whole = [0.0] * total, [0.0] * total, [0] * total
        for at, column in place.items():
            top[column], whole[column] = self._ceilings[at], 1
            cost[column] = 1e-4 * self._batches[at].place_days if tidy else 0.0
        for members, most in self._limits:
            rows.add([(place[at], 1.0) for at in members if at in place], high=most)
        supply: list[list[int]] = [[] for _ in range(weeks)]
        for at in used:
            for week in self._batches[at].weeks:
                supply[week].append(place[at])
        if same_for is not None:
            top[each], whole[each], cost[each] = max(self._needed[week] for week in same_for), 1, -1000.0
            for week in same_for:
                rows.add([*((column, 1.0) for column in supply[week]), (each, -1.0)], low=0.0)
            for at, column in place.items():
                cost[column] = 1e-3 * (1 + 1e-3 * self._batches[at].place_days)
        else:
            for week, needed in enumerate(self._needed):
                top[lacks + week], cost[lacks + week] = needed, 0.0 if tidy else 1.0
                top[over + week], cost[over + week] = float("inf"), TOO_MANY if tidy else 0.0
                terms = [*((column, 1.0) for column in supply[week]), (lacks + week, 1.0), (over + week, -1.0)]
                rows.add(terms, low=needed, high=needed)
        if most_missing is not None:
            rows.add([(lacks + week, 1.0) for week in range(weeks)], high=most_missing + 1e-6)
        for day, column in day_at.items():
            top[column], whole[column], cost[column] = 1, 1, DAY
            for pair in pairs:
                if pair[0] == day:
                    rows.add([(pair_at[pair], 1.0), (column, -1.0)], high=0.0)
        for column in pair_at.values():
            top[column], whole[column], cost[column] = 1, 1, BATCH
        for at, column in place.items() if tidy else ():
            rows.add([(column, 1.0), (pair_at[self._pair(at)], -float(self._ceilings[at]))], high=0.0)
        left = self._begun + share * (self._until - self._begun) - monotonic()
        options = {"time_limit": max(left, 0.1), "mip_rel_gap": GAP if tidy else 0.0}
        found = milp(
            cost, integrality=whole, bounds=Bounds([0.0] * total, top), constraints=rows.built(total), options=options
        )
        if found.x is None:
            return self._nothing(found=False)
        counts = [0] * len(self._batches)
        for at, column in place.items():
            counts[at] = round(found.x[column])
        # all costs of the first solution are whole plants: less than one away from its bound is the best
        proven = found.status == 0 or (not tidy and found.fun - found.mip_dual_bound < 1 - 1e-6)
        return Fit(counts=tuple(counts), missing=self._missing(counts), fewest_missing=proven, fewest_days=proven)

    def _pair(self, at: int) -> tuple[date, str, str]:
        return self._batches[at].sown, self._batches[at].station, self._batches[at].shelf

    def _missing(self, counts: Sequence[int]) -> tuple[int, ...]:
        """Return what each week lacks, counted again from the whole numbers."""
        got = [0] * len(self._needed)
        for batch, count in zip(self._batches, counts, strict=True):
            for week in batch.weeks:
                got[week] += count
        return tuple(max(needed - one, 0) for needed, one in zip(self._needed, got, strict=True))


class _Rows:
    """The rows of a programme as they are gathered: low <= terms <= high."""

    def __init__(self) -> None:
        self._at: list[int] = []
        self._columns: list[int] = []
        self._factors: list[float] = []
        self._low: list[float] = []
        self._high: list[float] = []

    def add(self, terms: Sequence[tuple[int, float]], low: float = -float("inf"), high: float = float("inf")) -> None:
        for column, factor in terms:
            self._at.append(len(self._low))
            self._columns.append(column)
            self._factors.append(factor)
        self._low.append(low)
        self._high.append(high)

    def built(self, columns: int) -> Any:
        from scipy.optimize import LinearConstraint  # noqa: PLC0415 - as above
        from scipy.sparse import csr_array  # type: ignore[import-untyped]  # noqa: PLC0415 - as above

        shape = (len(self._low), columns)
        return LinearConstraint(csr_array((self._factors, (self._at, self._columns)), shape), self._low, self._high)


def _limits(
    batches: Sequence[Batch], ceilings: Sequence[int], free: Free, first: date
) -> Iterator[tuple[list[int], int]]:
    """Yield (batches, how many plants they may have together) for every stretch of days at every station.

    Between two days on which something comes or goes the same batches stand there: the fullest day counts.
    """
    stays: dict[str, list[tuple[int, int, int]]] = {}
    for at, batch in enumerate(batches):
        for stay in batch.stays if ceilings[at] > 0 else ():
            stays.setdefault(stay.station, []).append(((stay.first - first).days, (stay.last - first).days + 1, at))
    for station, there in stays.items():
        edges = sorted({edge for begins, ends, _ in there for edge in (begins, ends)})
        for begins, ends in pairwise(edges):
            known = [one for one in free[station][begins:ends] if one is not None]
            members = [at for begun, ended, at in there if begun <= begins and ended >= ends]
            if known and members and sum(ceilings[at] for at in members) > min(known):
                yield members, max(min(known), 0)
