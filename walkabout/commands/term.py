"""The term in numbers."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

from datetime import date

import click

from walkabout.commands.options import (
    Options,
    json_option,
    must_have_room,
    opened_room,
    print_json,
    room_option,
    visible,
)
from walkabout.exits import DONE


@click.command()
@click.option("--from", "since", metavar="DAY", default="", help="The first day; that of the term when not given.")
@click.option("--to", "until", metavar="DAY", default="", help="The last day; that of the term when not given.")
@click.option(
    "--closed-light",
    metavar="PERCENT",
    type=click.FloatRange(0, 100),
    default=100,
    help="How much of their hours the lamps were lit on closed days; 100 when not given.",
)
@click.option("--codes", is_flag=True, help="Rounds by code too. For the teacher alone.")
@json_option
@room_option
@click.pass_obj
def term(options: Options, since: str, until: str, closed_light: float, *, codes: bool, as_json: bool) -> int:
    """Say the term in numbers.

    Electricity by lamp, water, supplies, harvest, what a portion cost, losses, time, rounds, findings, and what to
    buy. Without days it is the term in room.toml, else the last 12 weeks. Each number has its working.
    """
    from walkabout.insight.term_time import without_codes
    from walkabout.plain.dialogue import Dialogue
    from walkabout.plain.term import term_facts, term_lines
    from walkabout.round.term import term_of

    with opened_room(must_have_room(options)) as opened:
        first, last = _day(since, "--from"), _day(until, "--to")
        if closed_light != closed_light:  # noqa: PLR0124 - "nan" is a number to the option
            raise click.UsageError("--closed-light is a number from 0 to 100.")
        try:
            found = term_of(opened, first, last, closed_light=closed_light / 100)
        except ValueError as error:
            raise click.UsageError(visible(str(error))) from error
        if as_json:
            print_json(term_facts(found, lambda text: without_codes(text, opened.room), codes=codes))
        else:
            Dialogue().say(*term_lines(found, codes=codes))
    return DONE


def _day(typed: str, option: str) -> date | None:
    if not typed:
        return None
    from walkabout.reckon.typed_day import day

    try:
        return day(typed)
    except ValueError as error:
        raise click.UsageError(visible(f"{option}: {error}.")) from error
