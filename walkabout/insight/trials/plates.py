"""Seeds on plates: whether plates of one treatment differ by more than chance lets seeds differ."""

import math
from collections.abc import Sequence

from msgspec import Struct

from walkabout.insight.trials.say import number

MORE = 1.3
"""Spread among plates, against that of coin tosses, from which seeds should not be counted singly. Assumed."""


class Plates(Struct, frozen=True):
    """What the plates of several treatments show, each treatment with a share of its own.

    `shares`: treatment -> share of all its seeds; `logits` with their standard errors as if every seed stood alone;
    `pearson` and `deviance` on `df` measure how far plates stray from their treatment's share.
    """

    shares: dict[str, float]
    logits: dict[str, tuple[float, float]]
    pearson: float
    deviance: float
    df: int

    @property
    def spread(self) -> float:
        """Return Pearson's statistic over its degrees of freedom: 1 where seeds behave as coin tosses."""
        return self.pearson / self.df if self.df else math.nan


def plates(counts: Sequence[tuple[str, int, int]]) -> Plates:
    """Return how plates vary: each is its treatment, how many seeds came up, and of how many.

    McCullagh and Nelder 1989, Generalized Linear Models, chapter 4: with one share a treatment the binomial fit is
    the share of all its seeds. A treatment of which none or all came up has no logit and adds nothing.
    """
    sums: dict[str, tuple[int, int]] = {}
    for treatment, up, of in counts:
        so_far = sums.get(treatment, (0, 0))
        sums[treatment] = (so_far[0] + up, so_far[1] + of)
    shares = {treatment: up / of for treatment, (up, of) in sums.items() if of}
    logits = {
        treatment: (math.log(share / (1 - share)), 1 / math.sqrt(sums[treatment][1] * share * (1 - share)))
        for treatment, share in shares.items()
        if 0 < share < 1
    }
    mixed = [one for one in counts if one[0] in logits and one[2]]
    pearson = math.fsum(
        (up - of * shares[name]) ** 2 / (of * shares[name] * (1 - shares[name])) for name, up, of in mixed
    )
    deviance = 2 * math.fsum(
        _part(up, of * shares[name]) + _part(of - up, of * (1 - shares[name])) for name, up, of in mixed
    )
    return Plates(shares, logits, pearson, deviance, len(mixed) - len(logits))


def plates_note(found: Plates) -> str:
    """Say whether plates or seeds should be compared; '' where nothing can be told."""
    if found.df < 1:
        return ""
    how = f"Pearson's {number(found.pearson, 4)} on {found.df} = {number(found.spread, 3)}"
    if found.spread > MORE:
        return (
            f"Plates of one treatment vary more than coin tosses ({how}; 1 would be chance): counting all seeds "
            f"together would make the result look {number(math.sqrt(found.spread), 3)} times as sure as it is. "
            "The plates are compared."
        )
    return f"Plates of one treatment vary no more than seeds do by chance ({how}); still the plates are compared."


def added_note(found: Plates) -> str:
    """Say what adding up the plates of a treatment takes for granted."""
    said = "The rows of each treatment were added up, as if each seed went its own way."
    if found.df >= 1 and found.spread > MORE:
        times = number(math.sqrt(found.spread), 3)
        return (
            f"{said} But they vary more than coin tosses: the result looks {times} times as sure as it is. Without "
            "--test the plates are compared."
        )
    return said


def _part(seen: float, expected: float) -> float:
    return seen * math.log(seen / expected) if seen else 0.0
