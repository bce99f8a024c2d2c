"""A column of a table as control charts: what has shifted, how fast it moves, when it leaves its range."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

import math
from pathlib import Path
from typing import TYPE_CHECKING

import click

from walkabout.commands.options import json_option, print_json, visible
from walkabout.exits import DONE

if TYPE_CHECKING:
    from walkabout.insight.written_days import Order

LARGEST = 200_000_000
"""Bytes of a table; a larger file belongs to a logger, and its summaries are what a trend is made of."""
MOST = 2000
"""The pace of a longer table is that of its last rows: more pairs would take seconds."""


@click.command()
@click.argument("file", metavar="FILE.csv", type=click.Path(path_type=Path))
@click.option("--value", metavar="COL", required=True, help="The column with the readings.")
@click.option("--time", metavar="COL", default="", help="Their times: dates or date-times. Else rows are counted.")
@click.option("--only", "row", metavar="COL=WORD", default="", help="Only rows with this word, such as tank=A.")
@click.option("--order", type=click.Choice(["dmy", "mdy"]), help="Of days such as 3/4/2026: day or month first.")
@click.option(
    "--out-of", "--counts-of", "sizes", metavar="COL", default="", help="The value is a count out of this column."
)
@click.option("--low", type=float, metavar="X", help="The low end of the good range; --high goes with it.")
@click.option("--high", type=float, metavar="X", help="The high end.")
@click.option("--target", type=float, metavar="X", help="Target of EWMA and CUSUM; else what was usual.")
@click.option(
    "--sigma", type=float, metavar="X", help="Standard deviation of one reading, for both; k and h follow it."
)
@click.option(
    "--lambda", "lam", type=float, metavar="X", default=0.3, show_default=True, help="Weight of a new reading."
)
@click.option("--k", type=float, metavar="X", help="Slack of the CUSUM, in the data's unit; else half a sigma.")
@click.option("--exact", is_flag=True, help="Limits of the EWMA that are narrower for its first readings.")
@click.option("--h", type=float, metavar="X", help="Limit of the CUSUM, in the data's unit; else five sigmas.")
@json_option
def trend(
    file: Path,
    value: str,
    time: str,
    row: str,
    order: "Order | None",
    sizes: str,
    low: float | None,
    high: float | None,
    target: float | None,
    sigma: float | None,
    lam: float,
    k: float | None,
    h: float | None,
    *,
    exact: bool,
    as_json: bool,
) -> int:
    """Say whether the readings of a table have shifted, and which of them stand out.

    Such as: walkabout trend tank.csv --value ph --time day --low 5.5 --high 6.5

    Of a count: walkabout trend trays.csv --value failed --out-of sown

    Readings are put in order of time and numbered from 1; without --time a row keeps its number, empty rows counted.
    Dates are read as 2026-11-12 or 12 Nov 2026, and as 12/11/2026 where the column shows which is the day. A chart with
    a --target, --sigma, --k or --h of your own decides by its signal. Nothing is written down.
    """
    from walkabout.insight.control import c_chart, p_chart
    from walkabout.insight.of_table import column_of, only
    from walkabout.insight.trend import Chosen
    from walkabout.insight.trend import trend as trend_of
    from walkabout.insight.trials.table import read_table
    from walkabout.plain.trend import rough, trend_facts, trend_lines

    try:
        _must_be_finite(low, high, target, sigma, lam, k, h)
        _must_scatter(sigma)
        good = _range(low, high)
        table = read_table(_content(file), file.name)
        column = column_of(only(table, row) if row else table, value, time, sizes, good, order)
        chosen = Chosen(lam=lam, k=k, h=h, target=target, sigma=sigma, most=MOST, exact=exact, shares=bool(sizes))
        found = trend_of(column.series, chosen=chosen)
        shares = p_chart(column.counts, column.sizes) if sizes else None
    except ValueError as error:
        raise click.UsageError(visible(str(error))) from error
    if shares is not None and (says := rough(column.sizes, shares)):
        found = found.with_says(says)
    values = column.series.values
    counted = None if sizes or any(one < 0 or one % 1 for one in values) else c_chart(values)
    if as_json:
        print_json(trend_facts(column.series, found, shares, counted) | {"value": value})
    else:
        from walkabout.plain.wrapping import wrapped

        for line in wrapped(trend_lines(column.series, found, shares, counted)):
            click.echo(visible(line))
    return DONE


def _range(low: float | None, high: float | None) -> tuple[float, float] | None:
    if low is None and high is None:
        return None
    if low is None or high is None:
        raise ValueError("A range has two ends: give both --low and --high.")
    if not low < high:
        raise ValueError(f"--low {low:g} is not below --high {high:g}.")
    return low, high


def _must_be_finite(*given: float | None) -> None:
    odd = next((one for one in given if one is not None and not math.isfinite(one)), None)
    if odd is not None:
        raise ValueError(f"{odd} is no number to reckon with.")


def _must_scatter(sigma: float | None) -> None:
    if sigma is not None and sigma <= 0:
        raise ValueError(f"--sigma {sigma:g} cannot be: readings scatter, so it is above 0.")


def _content(file: Path) -> bytes:
    try:
        if file.stat().st_size > LARGEST:
            raise ValueError(f"{file} is too large for a trend: more than {LARGEST // 1_000_000} million bytes.")
        return file.read_bytes()
    except OSError as error:
        raise ValueError(f"{file} cannot be read: {error.strerror or error}.") from error
