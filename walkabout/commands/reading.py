"""What only reads: today, the jobs, and what can be worked out."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

from typing import TYPE_CHECKING

import click

from walkabout.commands.options import (
    Options,
    has_room,
    json_option,
    must_have_room,
    opened_room,
    print_json,
    room_option,
    visible,
)
from walkabout.exits import DONE

if TYPE_CHECKING:
    from collections.abc import Sequence


@click.command()
@json_option
@room_option
@click.pass_obj
def today(options: Options, *, as_json: bool) -> int:
    """Say what today asks.

    The round, the jobs that are due and the findings that are open.
    """
    from walkabout.plain.dialogue import Dialogue
    from walkabout.plain.today import today_facts, today_lines
    from walkabout.round.today import today_page

    with opened_room(must_have_room(options)) as opened:
        page = today_page(opened)
        if as_json:
            print_json(today_facts(opened, page))
        else:
            Dialogue().say(*today_lines(opened, page))
    return DONE


@click.command()
@json_option
@room_option
@click.pass_obj
def jobs(options: Options, *, as_json: bool) -> int:
    """List the open jobs, and who may do them.

    They stand by hours to loss: what would be lost first is done first.
    """
    from walkabout.jobs.life import ordered
    from walkabout.plain.dialogue import Dialogue
    from walkabout.plain.outcome import job_lines

    with opened_room(must_have_room(options)) as opened:
        rows = ordered(opened.jobs.values())
        if as_json:
            import msgspec

            print_json({"jobs": [msgspec.to_builtins(one) | {"name": opened.name_of(one.station)} for one in rows]})
        else:
            Dialogue().say(*job_lines(opened, rows, "Open jobs"))
    return DONE


@click.command(context_settings={"ignore_unknown_options": True})
@click.argument("name", metavar="[NAME]", required=False)
@click.argument("given", metavar="[KEY=VALUE]…", nargs=-1)
@json_option
@room_option
@click.pass_obj
def reckon(options: Options, name: str | None, given: tuple[str, ...], *, as_json: bool) -> int:
    """Work something out, with the working.

    Without a NAME all that can be worked out is listed; with a NAME alone, what it takes. Values may have
    units: air=75F, volume=20gal, ec=1400uS/cm. Where there is a room, its own recipes are known too.
    """
    from walkabout.plain import reckon as face
    from walkabout.reckon.catalogue import find
    from walkabout.reckon.read import reckon as work_out
    from walkabout.reckon.read import split, take

    try:
        if not name:
            facts, lines = {"reckonings": face.all_facts()} if as_json else {}, [] if as_json else face.all_lines()
        elif not given and (one := find(name)).example:
            facts, lines = face.takes_facts(one), face.takes_lines(one)
        else:
            one = find(name)
            taken = take(one, split(given))
            reckoned = work_out(one, taken, own_recipes(options) if one.own_recipes else ())
            facts, lines = face.facts(one, taken, reckoned), face.lines(one, reckoned)
    except ValueError as error:
        raise click.UsageError(visible(str(error))) from error
    if as_json:
        print_json(facts)
    else:
        for line in lines:
            click.echo(visible(line))
    return DONE


def own_recipes(options: Options) -> "Sequence[object]":
    """Return the recipes of the room, if there is one that can be read."""
    from walkabout.checklist.read import kinds
    from walkabout.room.read import read_room
    from walkabout.round.own import own_recipes

    folder = options.folder
    room = read_room(folder, kinds(folder)).room if has_room(folder) else None
    return own_recipes(room.recipes) if room is not None else ()
