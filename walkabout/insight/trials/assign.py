"""Which plot gets which treatment: drawn at random, evenly, and drawn again alike from the same number."""

import random
from collections.abc import Sequence

from msgspec import Struct

from walkabout.insight.trials.table import BadTrial


class Assignment(Struct, frozen=True):
    """What was drawn: each plot with its treatment, in the order given, and the number it was drawn from."""

    seed: int
    plots: tuple[tuple[str, str], ...]
    block_of: dict[str, str] = {}

    def lines(self) -> list[str]:
        """Return the list to print: the number first, so that anybody can draw the same again."""
        rows = [
            f"{plot}: {treatment}" + (f" (block {self.block_of[plot]})" if plot in self.block_of else "")
            for plot, treatment in self.plots
        ]
        return [f"Drawn at random from the number {self.seed}; the same number draws the same again.", *rows]


def assign(
    units: Sequence[str], treatments: Sequence[str], blocks: Sequence[str] | None = None, seed: int = 1
) -> Assignment:
    """Deal treatments out to plots at random, as evenly as the numbers allow, within each block where there are blocks.

    `blocks` names the block of each unit. Where a block does not divide evenly, the treatments that come up short
    there are drawn too, and are served first in the next block. BadTrial for fewer than two treatments, fewer units
    than treatments, or a name that comes twice.
    """
    if len(set(treatments)) < 2 or len(set(treatments)) < len(treatments):
        raise BadTrial("A trial needs at least 2 treatments, each with a name of its own; one may be the control")
    if len(set(units)) < len(units):
        raise BadTrial("Each plot needs a name of its own")
    if len(units) < len(treatments):
        raise BadTrial(
            f"There are {len(units)} plots for {len(treatments)} treatments: each treatment needs at least one"
        )
    if blocks is not None and len(blocks) != len(units):
        raise BadTrial("Each plot stands in one block: name a block for each")
    dice = random.Random(seed)
    where = dict(zip(units, blocks, strict=True)) if blocks is not None else {}
    given: dict[str, str] = {}
    served = dict.fromkeys(treatments, 0)
    for block in dict.fromkeys(where.values()) if where else (None,):
        mine = [one for one in units if block is None or where[one] == block]
        dealt = _dealt(len(mine), treatments, served, dice)
        given |= dict(zip(mine, dealt, strict=True))
        for one in dealt:
            served[one] += 1
    return Assignment(seed, tuple((one, given[one]) for one in units), where)


def _dealt(many: int, treatments: Sequence[str], served: dict[str, int], dice: random.Random) -> list[str]:
    whole, over = divmod(many, len(treatments))
    queue = list(treatments)
    dice.shuffle(queue)
    queue.sort(key=lambda one: served[one])
    dealt = list(treatments) * whole + queue[:over]
    dice.shuffle(dealt)
    return dealt
