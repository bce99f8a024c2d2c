"""The command line: the group, and every command in it."""

import sys

import click

from walkabout import __version__
from walkabout.commands.almanac import almanac, dates
from walkabout.commands.closure import closure
from walkabout.commands.export import export
from walkabout.commands.handover import handover
from walkabout.commands.logbook import logbook
from walkabout.commands.lookup import causes, lookup, signs
from walkabout.commands.opening import demo, open_room, round_, without_room
from walkabout.commands.options import Options, has_room, must_have_room, plain_option, room_option
from walkabout.commands.reading import jobs, reckon, today
from walkabout.commands.rooms import check, new, purge
from walkabout.commands.sheet import sheet
from walkabout.commands.succession import succession
from walkabout.commands.take_in import take_in
from walkabout.commands.term import term
from walkabout.commands.trend import trend
from walkabout.commands.trial import trial
from walkabout.ends import Commands
from walkabout.exits import DONE


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


for command in (
    round_,
    demo,
    new,
    check,
    today,
    jobs,
    almanac,
    dates,
    closure,
    lookup,
    signs,
    causes,
    reckon,
    handover,
    logbook,
    succession,
    sheet,
    trend,
    trial,
    term,
    export,
    take_in,
    purge,
):
    cli.add_command(command)


def main() -> None:
    """Run the commands; text that a terminal cannot show, or that is no text, stops nothing."""
    for stream, instead in ((sys.stdin, "replace"), (sys.stdout, "backslashreplace"), (sys.stderr, "backslashreplace")):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors=instead)
    cli()
