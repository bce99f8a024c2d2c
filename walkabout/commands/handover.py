"""The page for whoever takes over."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

import click

from walkabout.commands.options import Options, json_option, must_have_room, opened_room, print_json, room_option
from walkabout.exits import DONE


@click.command()
@json_option
@room_option
@click.pass_obj
def handover(options: Options, *, as_json: bool) -> int:
    """Print the page for a substitute or a new helper.

    Today and the days to come, station by station, what good looks like and what to do when it does not.
    It names nobody. Print it, and fill in by hand whom to ask.
    """
    from walkabout.plain.dialogue import Dialogue
    from walkabout.plain.handover import handover_facts, handover_lines
    from walkabout.round.handover import handover_of

    with opened_room(must_have_room(options)) as opened:
        page = handover_of(opened)
        if as_json:
            print_json(handover_facts(page))
        else:
            Dialogue().say(*handover_lines(page))
    return DONE
