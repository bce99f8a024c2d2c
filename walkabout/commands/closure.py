"""What a closure would do to the room."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

from datetime import date, timedelta

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
from walkabout.exits import ATTEND, DONE

LONGEST = timedelta(days=366)
"""What is longer than a year is a slip."""


@click.command()
@click.argument("first", metavar="FROM")
@click.argument("last", metavar="TO")
@json_option
@room_option
@click.pass_obj
def closure(options: Options, first: str, last: str, *, as_json: bool) -> int:
    """Say which stations live through days on which nobody comes.

    FROM and TO are the first and the last of them: 2026-12-18, or "18 Dec" for the next one. They need not be in
    room.toml. Exit status 1 when a station would not survive, or when somebody must come meanwhile.
    """
    from walkabout.plain.closure import closure_facts, closure_lines
    from walkabout.plain.dialogue import Dialogue
    from walkabout.round.returning import forecast_of

    folder = must_have_room(options)
    with opened_room(folder) as opened:
        today = opened.today()
        begins, ends = _days(first, last, today)
        found = forecast_of(opened, begins, ends)
        if as_json:
            print_json(closure_facts(found))
        else:
            Dialogue().say(*closure_lines(found, today))
    return ATTEND if any(one.fate in ("visit", "lost") for one in found.stations) else DONE


def _days(first: str, last: str, today: date) -> tuple[date, date]:
    """Return the two days that were typed; wrong use for what is no day, is over, or goes backwards."""
    try:
        begins = _day(first, today)
        ends = _day(last, max(begins, today))
    except ValueError as error:
        raise click.UsageError(visible(str(error))) from error
    if ends < begins:
        raise click.UsageError(f"The closure would end on {ends} before it begins on {begins}.")
    if ends < today:
        raise click.UsageError(f"The closure ended on {ends}: only one that lies ahead can be reckoned.")
    if ends - begins >= LONGEST or begins - today >= LONGEST:
        raise click.UsageError(f"From {begins} to {ends} is more than a year: check the two days.")
    return begins, ends


def _day(typed: str, since: date) -> date:
    """Return a day; where no year was typed, its next time from `since` on. Raises ValueError."""
    import re

    from walkabout.reckon.typed_day import day

    if re.search(r"\d{4}", typed) or not re.search(r"\d", typed):
        return day(typed)
    try:
        found = day(f"{typed} {since.year}")
        return found if found >= since else day(f"{typed} {since.year + 1}")
    except ValueError as error:
        says = str(error).replace(f"{typed} {since.year}", typed).replace(f"{typed} {since.year + 1}", typed)
        raise ValueError(says) from None
