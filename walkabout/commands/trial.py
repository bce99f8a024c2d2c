"""A comparison from a table: the test that fits its design, the interval, and what may be said."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

from pathlib import Path
from typing import TYPE_CHECKING

import click

from walkabout.commands.options import json_option, print_json, visible
from walkabout.exits import DONE

if TYPE_CHECKING:
    from walkabout.insight.trials.report import Result
    from walkabout.insight.trials.table import Table

LARGEST = 200_000_000
"""Bytes of a table; a larger file is no table of a trial."""
CURVES = "line, logistic, richards or saturation"


@click.command()
@click.argument("file", metavar="FILE.csv", type=click.Path(path_type=Path))
@click.option("--response", metavar="COL", required=True, help="The column that was measured, counted or named.")
@click.option("--by", metavar="COL", help="The column that says which treatment.")
@click.option("--pair", metavar="COL", help="The column that says which two values belong together.")
@click.option("--block", metavar="COL", help="The column of the blocks: trays, shelves, days.")
@click.option("--test", metavar="NAME", help="Another test than the usual one of the design, or a ratio such as 3:1.")
@click.option("--ratio", metavar="PARTS", help="A ratio to go by: 9:3:3:1, 'purple=3, white=1', or its column.")
@click.option("--count", metavar="COL", help="For how many plants each row stands; 1: each is one plant.")
@click.option("--of", metavar="COL", help="Totals, of which the response is a part; or a sum: alive+dead.")
@click.option("--fit", "curve", metavar="CURVE", help=f"Draw a curve along --over: {CURVES}.")
@click.option("--over", metavar="COL", help="The numbers along which it is drawn: days, light.")
@json_option
def trial(
    file: Path,
    response: str,
    by: str | None,
    pair: str | None,
    block: str | None,
    test: str | None,
    ratio: str | None,
    count: str | None,
    of: str | None,
    curve: str | None,
    over: str | None,
    *,
    as_json: bool,
) -> int:
    """Compare the groups of a table, with the working.

    Such as: walkabout trial lettuce.csv --response weight --by lamp

    The usual tests: Welch for two groups, paired t with --pair, one-way with Tukey's pairs for several, two-way
    with --block, Fisher's exact test or chi-squared for words. On request: pooled, mann-whitney, wilcoxon,
    permutation, kruskal, friedman. The difference of two groups is the first in the table minus the second; groups
    whose names are numbers stand by their size.

    Counts: one row a plant, or one row for each outcome with a column of how many (--count COL), or one row a
    treatment with so many of a total (--of COL, or --of alive+dead). Against a ratio: --test 3:1; one row a plant
    takes the largest part for the most frequent outcome, a table of counts the parts in its own order.

    Without --by one group is looked at by itself: the mean of numbers, or the shares of words, with their intervals.
    """
    from walkabout.plain.trial import trial_lines
    from walkabout.plain.wrapping import wrapped

    try:
        if curve is not None or over is not None:
            other = {"--pair": pair, "--block": block, "--test": test, "--ratio": ratio, "--count": count, "--of": of}
            result = _fitted(file, response, by, curve, over, other)
        else:
            from walkabout.insight.trials.result import analyse

            result = analyse(_table(file), response, by, pair, block, test, ratio=ratio, count=count, of=of)
    except ValueError as error:
        raise click.UsageError(visible(str(error))) from error
    if as_json:
        print_json(result.facts())
    else:
        for line in wrapped(trial_lines(result)):
            click.echo(visible(line))
    return DONE


def _fitted(
    file: Path, response: str, by: str | None, curve: str | None, over: str | None, other: dict[str, str | None]
) -> "Result":
    from walkabout.insight.trials.result import analyse_fit

    if curve is None or over is None:
        raise ValueError(f"A curve takes both: --fit ({CURVES}) and --over COL, the numbers along which it is drawn")
    if given := next((name for name, value in other.items() if value is not None), None):
        raise ValueError(f"{given} does not go with --fit: a curve takes --response, --over and, for treatments, --by")
    return analyse_fit(_table(file), response, over, curve.strip().lower(), by)


def _table(file: Path) -> "Table":
    from walkabout.insight.trials.table import read_table

    try:
        if file.stat().st_size > LARGEST:
            raise ValueError(f"{file} is too large for a trial: more than {LARGEST // 1_000_000} million bytes")
        content = file.read_bytes()
    except OSError as error:
        raise ValueError(f"{file} cannot be read: {error.strerror or error}") from error
    return read_table(content, file.name)
