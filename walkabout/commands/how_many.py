"""How many plots a comparison takes, and what so many could show."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

import click

from walkabout.commands.options import json_option, print_json, visible
from walkabout.exits import DONE

MOST = 1_000_000_000


@click.command()
@click.option("--difference", type=float, metavar="X", help="The difference worth finding.")
@click.option("--spread", type=float, metavar="X", help="Standard deviation of values treated alike, in the same unit.")
@click.option("--effect", type=float, metavar="X", help="Instead of both: Cohen's d, or f for three groups or more.")
@click.option(
    "--groups", type=click.IntRange(2, 1000), metavar="K", help="Treatments, the control one of them: else 2."
)
@click.option("--power", type=float, metavar="X", help="Chance of finding it: 0.8 unless given.")
@click.option(
    "--level", type=float, metavar="X", default=0.05, show_default=True, help="Called more than chance below."
)
@click.option("--n", "n", type=click.IntRange(2, MOST), metavar="N", help="You have so many in each group.")
@click.option("--ratio", metavar="PARTS", help="Counts against a ratio such as 3:1; --n is how many in all.")
@click.option("--other", metavar="PARTS", help="The ratio that it is to be told from, such as 1:1.")
@json_option
def how_many(
    difference: float | None,
    spread: float | None,
    effect: float | None,
    groups: int | None,
    power: float | None,
    level: float,
    n: int | None,
    ratio: str | None,
    other: str | None,
    *,
    as_json: bool,
) -> int:
    """Say how many plots a comparison takes, before it is set up.

    Such as: walkabout how-many --difference 3 --spread 4

    What is not given is worked out: of a difference, how many in each group; of --n, the smallest difference that
    so many would find; of both, the chance of finding it. Without --spread a difference is in standard deviations.

    Of counts against a ratio: walkabout how-many --ratio 3:1 --other 1:1
    """
    from walkabout.insight.how_many import Asked, worked_out
    from walkabout.plain.how_many import facts, lines

    asked = Asked(difference, spread, effect, groups, power, level, n, ratio, other)
    try:
        found = worked_out(asked)
    except ValueError as error:
        raise click.UsageError(visible(f"{str(error).rstrip('.')}.")) from error
    if as_json:
        print_json(facts(found))
    else:
        from walkabout.plain.wrapping import wrapped

        for line in wrapped(lines(found)):
            click.echo(visible(line))
    return DONE
