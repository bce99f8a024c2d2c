"""The command line: the group, and every command in it."""

import sys

import click

from walkabout import __version__
from walkabout.commands.opening import open_room, without_room
from walkabout.commands.options import Options, has_room, must_have_room, plain_option, room_option
from walkabout.ends import Commands
from walkabout.exits import DONE

COMMANDS = {
    "round": "opening:round_",
    "demo": "opening:demo",
    "new": "rooms:new",
    "check": "rooms:check",
    "today": "reading:today",
    "jobs": "reading:jobs",
    "almanac": "almanac:almanac",
    "dates": "almanac:dates",
    "closure": "closure:closure",
    "lookup": "lookup:lookup",
    "signs": "lookup:signs",
    "causes": "lookup:causes",
    "reckon": "reading:reckon",
    "handover": "handover:handover",
    "logbook": "logbook:logbook",
    "succession": "succession:succession",
    "sheet": "sheet:sheet",
    "trend": "trend:trend",
    "trial": "trial:trial",
    "how-many": "how_many:how_many",
    "term": "term:term",
    "export": "export:export",
    "take-in": "take_in:take_in",
    "purge": "rooms:purge",
}
"""Name -> where it stands among the commands; each is loaded when it is called, so that none slows the others."""


@click.group(cls=Commands, invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@room_option
@plain_option
@click.version_option(__version__, message="walkabout %(version)s")
@click.pass_context
def cli(ctx: click.Context) -> int:
    """Walk the morning round of a school growing room: what to look at, what it means, who does what.

    Without a command the room opens. Exit status: 0 done, 1 something to attend to, 2 wrong use.
    """
    if ctx.invoked_subcommand is not None:
        return DONE
    options = ctx.ensure_object(Options)
    if options.room is None and not has_room(options.folder):
        return without_room(options)
    return open_room(must_have_room(options), options, "today")


cli.places = {name: f"walkabout.commands.{place}" for name, place in COMMANDS.items()}


def main() -> None:
    """Run the commands; text that a terminal cannot show, or that is no text, stops nothing."""
    for stream, instead in ((sys.stdin, "replace"), (sys.stdout, "backslashreplace"), (sys.stderr, "backslashreplace")):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors=instead)
    cli()
