"""Groups in blocks: a two-way analysis of variance, adjusted where blocks are not whole, and what cells show."""

import math
from collections.abc import Sequence
from typing import Any

from msgspec import Struct

from walkabout.insight.trials.chances import f_above
from walkabout.insight.trials.outcome import ALPHA, LAST_DIGITS, Effect, Group, Outcome, Tested
from walkabout.insight.trials.say import chance, number
from walkabout.insight.trials.several import just_two, pair_lines, too_many, tukey
from walkabout.insight.trials.table import BadTrial
from walkabout.insight.trials.two_groups import NoSpread

APART = "Treatments and blocks cannot be told apart: some blocks must hold more than one treatment"
ADJUSTED = "adjusted for blocks"
NOT_EVEN = (
    "The blocks do not all hold the treatments in the same proportion, so differences are adjusted for blocks: they "
    "are not those of the plain means."
)


def blocked(groups: Sequence[Group], blocks: Sequence[Sequence[str]]) -> Outcome:
    """Compare treatments within blocks (tray, shelf, day): a two-way analysis of variance without interaction.

    `blocks` names the block of each value of each group. Each treatment is set against the residual after both;
    gaps are borne (the treatments are then adjusted for the blocks). Fisher 1935, The Design of Experiments. Where a
    cell holds several values the other analysis, with the interaction, is told beside it. BadTrial where treatments
    and blocks cannot be told apart, or no value is left over; NoSpread where those left over leave no spread.
    """
    import numpy as np  # noqa: PLC0415 - slow to load, only trials need it

    k = len(groups)
    raw = np.array([value for one in groups for value in one.values])
    y = raw - raw[0]
    which = np.array([place for place, one in enumerate(groups) for _ in one.values])
    index = {name: place for place, name in enumerate(dict.fromkeys(block for one in blocks for block in one))}
    b = len(index)
    where = np.array([index[block] for one in blocks for block in one])
    sizes = np.bincount(where)
    # With the mean of its block taken from every column, what is left is the regression on treatments alone.
    apart = np.array([_less_block(one, where, sizes, np) for one in np.eye(k)[which].T[1:]]).T
    rest_of_y = _less_block(y, where, sizes, np)
    df1, df2 = k - 1, len(y) - (b + k - 1)
    if np.linalg.matrix_rank(apart, tol=1e-9 * math.sqrt(len(y))) < k - 1:
        raise BadTrial(APART)
    if df2 < 1:
        raise BadTrial("There are no values left over to judge by: more blocks, or more values in each, are needed")
    fitted = np.linalg.lstsq(apart, rest_of_y, rcond=None)[0]
    rest = float(np.sum(rest_of_y**2))
    within = float(np.sum((rest_of_y - apart @ fitted) ** 2))
    if within <= len(y) * max(LAST_DIGITS * math.ulp(float(np.abs(raw).max())), 1e-10 * float(np.abs(y).max())) ** 2:
        raise NoSpread("Treatments and blocks account for every value exactly")
    treated = max(0.0, rest - within)
    all_blocks = max(0.0, float(np.sum((y - y.mean()) ** 2)) - rest)
    mean_within = within / df2
    f = treated / df1 / mean_within
    p = f_above(f, df1, df2)
    eta = treated / (treated + within)
    cover = np.linalg.inv(apart.T @ apart)
    levels = [0.0, *map(float, fitted)]

    def error(one: int, other: int) -> float:
        line = np.zeros(k - 1)
        for place, sign in ((one, -1), (other, 1)):
            if place:
                line[place - 1] = sign
        return float(np.sqrt(mean_within * (line @ cover @ line)))

    pairs = tukey([one.name for one in groups], levels, error, df2)
    adjusted = not _even(which, where, k, b, np)
    cells = _interaction(y, where * k + which, treated / df1, (within, df1, df2), np)
    return Outcome(
        test=Tested(key="blocked", name="blocked two-way ANOVA", statistic=f, df=(df1, df2), p=p),
        difference=just_two(pairs, groups, error, df2, f"means, {ADJUSTED}" if adjusted else "means"),
        effect=Effect("partial eta squared", eta),
        pairs=pairs,
        working=(
            f"left over after the blocks alone: {number(rest)}; after blocks and treatments: {number(within)}",
            f"treatments: {number(treated)} on k − 1 = {df1}; blocks before them: {number(all_blocks)} on {b - 1}",
            f"residual: {number(within)} on n − b − k + 1 = {df2}",
            f"F = ({number(treated)}/{df1})/({number(within)}/{df2}) = {number(f)}",
            f"p = chance of a larger F on {df1} and {df2} degrees of freedom = {number(p)}",
            f"partial eta squared = treatments/(treatments + residual) = {number(eta)}",
            *(_adjusted_lines(groups, levels) if adjusted else ()),
            *(cells.working if cells else ()),
            *pair_lines(pairs, df2, k),
        ),
        notes=(*((NOT_EVEN,) if adjusted else ()), *((cells.note,) if cells else ()), *too_many(k)),
        more={"blocks": b, "sum_of_squares": {"treatments": treated, "blocks": all_blocks, "residual": within}}
        | ({"interaction": cells.facts} if cells else {}),
    )


class _Cells(Struct, frozen=True):
    """What several values in a cell of block and treatment show besides."""

    facts: dict[str, float | list[int]]
    note: str
    working: tuple[str, ...]


def _interaction(y: Any, cell: Any, treated: float, left: tuple[float, int, int], np: Any) -> _Cells | None:
    """Return the interaction of treatments and blocks, set against the spread within cells; None where none can be had.

    `treated` is the mean square of the treatments; `left` the residual of the analysis without interaction, the degrees
    of freedom of the treatments and its own.
    """
    within, df1, df2 = left
    _, cell, sizes = np.unique(cell, return_inverse=True, return_counts=True)
    inside = len(y) - len(sizes)
    between = df2 - inside
    if inside < 1 or between < 1:
        return None
    pure = float(np.sum(_less_block(y, cell, sizes, np) ** 2))
    if pure <= 1e-20 * float(np.sum(y * y)):
        return None
    more = max(0.0, within - pure)
    f, f_treated = more / between / (pure / inside), treated / (pure / inside)
    p, p_treated = f_above(f, between, inside), f_above(f_treated, df1, inside)
    acts = "the treatments do not act alike in every block" if p < ALPHA else "no sign of that is shown"
    return _Cells(
        facts={
            "statistic": f,
            "df": [between, inside],
            "p": p,
            "treatments_statistic": f_treated,
            "treatments_df": [df1, inside],
            "treatments_p": p_treated,
        },
        note=(
            f"Some cells hold several values, so it can be seen whether the treatments act differently from block to "
            f"block: {acts} (interaction F = {number(f)} on {between} and {inside}, {chance(p)}). Set against the "
            f"spread within the cells, treatments have F = {number(f_treated)} on {df1} and {inside}, "
            f"{chance(p_treated)}."
        ),
        working=(
            (
                f"within the cells of block and treatment: {number(pure)} on {inside}; interaction = residual − that = "
                f"{number(more)} on {between}"
            ),
            f"interaction F = ({number(more)}/{between})/({number(pure)}/{inside}) = {number(f)}, p = {number(p)}",
        ),
    )


def _even(which: Any, where: Any, k: int, b: int, np: Any) -> bool:
    """Say whether each block holds the treatments in the same proportion: plain means are fair then."""
    cells = np.zeros((k, b))
    np.add.at(cells, (which, where), 1)
    return bool(np.allclose(cells * len(which), np.outer(cells.sum(axis=1), cells.sum(axis=0))))


def _adjusted_lines(groups: Sequence[Group], levels: Sequence[float]) -> list[str]:
    first = groups[0].name
    said = ", ".join(f"{one.name} {number(level)}" for one, level in zip(groups[1:], levels[1:], strict=True))
    return [f"above {first}, {ADJUSTED} by least squares (value = block + treatment): {said}"]


def _less_block(column: Any, where: Any, sizes: Any, np: Any) -> Any:
    """Return a column with the mean of its block taken from each value."""
    return column - (np.bincount(where, weights=column) / sizes)[where]
