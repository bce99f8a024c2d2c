"""Counts of outcomes by treatment: which outcome's share is told, and the groups for other programs."""

import math

from msgspec import Struct

from walkabout.insight.trials.intervals import wilson
from walkabout.insight.trials.table import as_number

GOOD = frozenset(
    (
        *("yes", "y", "true", "right", "correct", "success", "pass"),
        *("alive", "survived", "healthy", "germinated", "sprouted", "emerged", "up"),
        *("grown", "rooted", "flowered", "ripe", "present", "dominant"),
    )
)
"""Words for the outcome whose share is told, where one of two is such."""
BAD = frozenset(
    (
        *("no", "n", "false", "wrong", "incorrect", "failure", "failed", "fail", "none", "absent", "recessive"),
        *("dead", "died", "sick", "diseased", "wilted", "rotten", "mouldy", "infected"),
    )
)
"""Words for an outcome whose share is not told, where the other of two has no such word."""


class Counted(Struct, frozen=True):
    """How many of each group had each outcome: one row a group, one column an outcome."""

    groups: tuple[str, ...]
    outcomes: tuple[str, ...]
    table: tuple[tuple[int, ...], ...]

    @property
    def told(self) -> int:
        """Return the place of the outcome whose share is told: a word for going well, else the first.

        'not …' is never told: it is the rest of a total of which the writer named the other part.
        """
        words = [one.casefold() for one in self.outcomes]
        good = GOOD | {"t"} if set(words) == {"t", "f"} else GOOD
        well = next((at for at, one in enumerate(words) if one in good or as_number(one) == 1), None)
        if well is None and len(words) == 2 and words[0] in BAD and words[1] not in BAD | {f"not {words[0]}"}:
            return 1
        return well or 0


def share_facts(counted: Counted) -> tuple[dict[str, object], ...]:
    """Return each group with its counts, and the share that is told with its Wilson interval.

    Of 0 and 1 the share is the mean too; words have none.
    """
    told = counted.told
    yes_no = len(counted.outcomes) == 2 and {as_number(one) for one in counted.outcomes} == {0.0, 1.0}
    facts = []
    for name, row in zip(counted.groups, counted.table, strict=True):
        n = sum(row)
        low, high = wilson(row[told], n)
        facts.append(
            {"name": name, "n": n, "mean": None, "sd": None}
            | (_yes_no(row[told], n) if yes_no else {})
            | {"counts": dict(zip(counted.outcomes, row, strict=True))}
            | {"share_of": counted.outcomes[told], "share": row[told] / n, "share_low": low, "share_high": high}
        )
    return tuple(facts)


def _yes_no(many: int, n: int) -> dict[str, float | None]:
    mean = many / n
    return {"mean": mean, "sd": math.sqrt(n * mean * (1 - mean) / (n - 1)) if n > 1 else None}


def table_facts(counted: Counted) -> dict[str, object]:
    """Return the outcomes and how many of each group had them."""
    return {"outcomes": list(counted.outcomes), "counts": [list(row) for row in counted.table]}
